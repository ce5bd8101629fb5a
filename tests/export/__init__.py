"""Tests of what leaves the tool beside drawings."""
