"""Tests of the installation."""
