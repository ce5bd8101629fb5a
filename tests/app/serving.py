"""The app as a server of its own, for tests with a browser."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

REPO = Path(__file__).parents[2]


def free_port() -> int:
    """A port of this machine that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def served(command: list[str], port: int) -> Iterator[subprocess.Popen[str]]:
    """A server that answers on a port, and is ended with the block."""
    environment = {**os.environ, "PYTHONPATH": str(REPO), "STREAMLIT_SERVER_HEADLESS": "true"}
    server = subprocess.Popen(
        command,
        env=environment,
        cwd="/",
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    try:
        for _ in range(300):
            if server.poll() is not None:
                pytest.fail(f"the app ended at once: {server.communicate()}")
            try:
                urllib.request.urlopen(f"http://127.0.0.1:{port}/_stcore/health", timeout=1).close()
                break
            except OSError:
                time.sleep(0.1)
        else:
            pytest.fail("the app does not answer")
        yield server
    finally:
        with suppress(ProcessLookupError):  # all of its session, so that no server outlives a failed test
            os.killpg(server.pid, signal.SIGKILL)
        server.communicate()


def lapline_app(port: int) -> list[str]:
    """The app as its users start it."""
    return [sys.executable, "-c", "from schematic.cli import main; main()", "app", f"--port={port}"]
