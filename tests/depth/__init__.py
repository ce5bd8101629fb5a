"""Tests of depths: steps, path, nest, resolution."""
