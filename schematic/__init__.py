"""Lapline: draws and checks the depth plan of a well that gets a liner."""
