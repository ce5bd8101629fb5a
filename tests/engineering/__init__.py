"""Tests of volumes and cement."""
