"""What tests of the app must put back."""

import sys

import pytest


@pytest.fixture(autouse=True)
def _main_module_kept():
    """A page that is run in the test's process takes the place of the main module; spawned work would run it."""
    kept = sys.modules["__main__"]
    yield
    sys.modules["__main__"] = kept
