"""The bytes of a file that lies beside a well file, and of nothing outside its folder."""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path, PurePosixPath

MOST_BYTES = 32 * 1024 * 1024

_ACCEPTED = (
    "the name of a file in the well file's folder or below it, such as 'survey.csv', 'logs/caliper.las'"
)
_MOVE = "put the file beside the well file and write its name"


class Refused(ValueError):
    """A file beside the well file is not to be read; says what was found, what is accepted, the mend."""

    def __init__(self, found: str, accepted: str, mend: str) -> None:
        super().__init__(f"{found}: expected {accepted}; {mend}")
        self.found, self.accepted, self.mend = found, accepted, mend


def read_beside(folder: Path | None, name: str) -> bytes:
    """The content of the file *name* in *folder* or below it.

    Raises
    ------
    Refused
        When there is no folder, a name or link leads out of it, or the file cannot be read or is too large.
    """
    if folder is None:
        raise Refused(
            f"'{name}', beside a text that lies in no folder",
            "values in the text itself, or a well file on disk",
            "save the text as a file beside it and read that, or write the values into the text",
        )
    parts = PurePosixPath(name).parts
    if "\\" in name or re.match(r"[A-Za-z]:", name):
        raise Refused(f"'{name}'", _ACCEPTED, "join folder and file by '/', without a drive")
    if PurePosixPath(name).is_absolute() or name.startswith("~"):
        raise Refused(f"'{name}', a place of its own", _ACCEPTED, _MOVE)
    if ".." in parts or not parts:
        raise Refused(f"'{name}', which leads out of the folder", _ACCEPTED, _MOVE)
    inside = os.path.realpath(folder)
    target = os.path.realpath(os.path.join(inside, *parts))
    if os.path.commonpath((inside, target)) != inside:
        raise Refused(f"'{name}', a link that leads out of the folder", _ACCEPTED, _MOVE)
    try:
        return _bytes(target, name)
    except (OSError, ValueError) as error:
        if isinstance(error, Refused):
            raise
        reason = getattr(error, "strerror", None) or str(error)
        raise Refused(f"'{name}': {reason}", "a file that can be read", "check its name and folder") from None


def _bytes(target: str, name: str) -> bytes:
    # Links were followed above; a pipe or a device is not waited for.
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    handle = os.open(target, flags | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as file:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise Refused(f"'{name}', which is no file", _ACCEPTED, "name the file itself")
        data = file.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise Refused(
            f"'{name}' of more than {MOST_BYTES // 2**20} MiB",
            f"at most {MOST_BYTES // 2**20} MiB",
            "cut it to the curves and rows that are needed",
        )
    return data
