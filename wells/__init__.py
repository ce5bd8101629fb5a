"""Invented wells that run out of the box."""
