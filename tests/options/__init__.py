"""Tests of alternatives compared."""
