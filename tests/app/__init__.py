"""Tests of the app: its logic without a browser, and the page in a real one."""
