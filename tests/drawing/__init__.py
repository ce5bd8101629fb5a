"""Tests of the drawing room."""
