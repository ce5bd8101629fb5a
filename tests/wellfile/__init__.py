"""Tests of what a person writes."""
