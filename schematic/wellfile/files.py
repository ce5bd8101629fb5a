"""Writing a file so that nobody ever finds half of it."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from pathlib import Path


def write_atomically(path: str | os.PathLike[str], content: str | bytes) -> None:
    """Replace the file at *path* by *content*: all of it or, on any error, nothing.

    Text is written as UTF-8 with its line ends as they are. The file is written beside its place,
    forced to disk and moved there; an existing file keeps its mode, a symbolic link stays a link.
    Raises OSError as the system gives it, but with *path* as it was given.
    """
    data = content.encode() if isinstance(content, str) else content
    try:
        _write(path, data)
    except OSError as error:
        if error.errno is None:
            raise
        raise OSError(error.errno, error.strerror, os.fspath(path)) from None


def _write(path: str | os.PathLike[str], data: bytes) -> None:
    target = Path(os.path.realpath(path))
    if target.is_dir():
        raise IsADirectoryError(errno.EISDIR, "it is a folder: write the name of a file")
    if not target.parent.is_dir():
        raise FileNotFoundError(errno.ENOENT, f"there is no such folder: {Path(path).parent}")
    beside = target.with_name(f".{secrets.token_hex(8)}.part")
    # Opened as any new file is, so that the process's umask holds where there is no mode to keep.
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            os.chmod(beside, stat.S_IMODE(target.stat().st_mode))
        os.replace(beside, target)
    except BaseException:
        with contextlib.suppress(FileNotFoundError):
            beside.unlink()
        raise
    if hasattr(os, "O_DIRECTORY"):  # the move itself lasts only once the folder is on disk
        folder = os.open(target.parent, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
