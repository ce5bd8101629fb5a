"""The draft of a well file: its text as it was changed and not yet saved, kept beside it whole or not at all.

Each tab keeps a draft of its own. A place that holds anything else than what the tab wrote there is never
written over: the next free one is taken.
"""

from __future__ import annotations

import contextlib
import errno
import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from schematic.wellfile.decode import MOST_BYTES
from schematic.wellfile.files import write_atomically

_MOST_PLACES = 100


class Kept(NamedTuple):
    """A draft that was found beside its file: where, its text, and when it was kept."""

    place: Path
    text: str
    at: datetime


def _places(file: Path) -> Iterator[Path]:
    """Where drafts of a file may lie, in the order in which they are taken."""
    for number in range(1, _MOST_PLACES + 1):
        yield file.with_name(f".{file.name}.draft{'' if number == 1 else f'-{number}'}")


def text_of(place: Path) -> str | None:
    """The text in an ordinary file; None where there is none, or it cannot be read."""
    try:
        handle = os.open(place, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
        with os.fdopen(handle, "rb") as opened:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                return None
            data = opened.read(MOST_BYTES + 1)
        return data.decode() if len(data) <= MOST_BYTES else None
    except (OSError, UnicodeDecodeError):
        return None


def found(file: Path) -> list[Kept]:
    """The drafts of a file, those of other tabs and of earlier days alike."""
    kept = []
    for place in _places(file):
        text = text_of(place)
        if text:  # an empty one was begun and never written
            with contextlib.suppress(OSError):
                kept.append(Kept(place, text, datetime.fromtimestamp(place.stat().st_mtime).astimezone()))
    return kept


@dataclass
class Draft:
    """What one tab keeps beside a file: nowhere yet, or at a place with the text it wrote there last; and the
    texts of the drafts that it went on with.
    """

    file: Path
    place: Path | None = None
    written: str = ""
    gone_on: set[str] = field(default_factory=set)

    def keep(self, text: str) -> None:
        """Keep a text.

        Raises
        ------
        OSError
            When it cannot be written; what was kept before is then still whole.
        """
        if self.place is None or text_of(self.place) != self.written:
            self.place = self._taken()
        write_atomically(self.place, text)
        self.written = text

    def take_over(self, kept: Kept) -> None:
        """Take over a draft that was found: the next text is kept in its place."""
        if self.place != kept.place:
            self.drop()
        self.place, self.written = kept.place, kept.text

    def mine(self) -> Kept | None:
        """What this tab keeps, as another would find it; None where it keeps nothing."""
        if self.place is None or text_of(self.place) != self.written:
            return None
        return Kept(self.place, self.written, datetime.now().astimezone())

    def let_be(self) -> None:
        """Leave what this tab keeps where it lies: the next text is kept in another place."""
        self.place, self.written = None, ""

    def drop(self) -> None:
        """Take away what this tab keeps; what somebody else wrote there meanwhile stays."""
        if self.place is not None and text_of(self.place) == self.written:
            with contextlib.suppress(OSError):
                self.place.unlink()
        self.let_be()

    def _taken(self) -> Path:
        """A place that was free, taken: nobody else can take it now."""
        for place in _places(self.file):
            with contextlib.suppress(FileExistsError):
                os.close(os.open(place, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
                return place
        raise FileExistsError(errno.EEXIST, f"there are {_MOST_PLACES} drafts already", str(self.file))
