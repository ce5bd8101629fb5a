"""Alternatives of a well, compared."""
