"""Tests of the liner section of a drilling program."""
