"""The tree of a well file: every text with its place in the file.

Offsets count characters of the decoded text, from 0; lines and columns count from 1. Every scalar
is text: typing it is the models' work.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

Plain: TypeAlias = "dict[str, Plain] | list[Plain] | str | None"


@dataclass(frozen=True, slots=True)
class Scalar:
    """One text; *value* is None only where nothing at all is written.

    *style* is None for plain text, else the character that opens it: ``'``, ``"``, ``|`` or ``>``.
    An empty one stands right behind its colon or dash (*start* equals *end*). A block text (``|``,
    ``>``) ends with its last line that is not blank, before the line break; with ``+`` (blank lines
    kept) it ends behind the last of them.
    """

    value: str | None
    start: int
    end: int
    line: int
    column: int
    style: str | None = None


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list. *flow*: in brackets; otherwise *start* and *column* are those of its first dash."""

    items: tuple[Node, ...]
    start: int
    end: int
    line: int
    column: int
    flow: bool


@dataclass(frozen=True, slots=True)
class Entry:
    """A key with its value."""

    key: Scalar
    value: Node


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys with values. *flow*: in braces; otherwise it starts at its first key."""

    entries: tuple[Entry, ...]
    start: int
    end: int
    line: int
    column: int
    flow: bool


Node: TypeAlias = Scalar | Sequence | Mapping


@lru_cache(maxsize=512)  # a file has the same few keys over and over
def normalised(name: str) -> str:
    """A key or name as it is compared: space, ``-`` and ``_`` are equal, case is kept.

    >>> normalised("off-bottom") == normalised(" off_bottom ") == "off bottom"
    True
    """
    return re.sub(r"[\s_-]+", " ", name).strip() or name


def key_text(entry: Entry) -> str:
    """The normalised key of an entry."""
    return normalised(entry.key.value or "")


def entry_of(mapping: Mapping, key: str) -> Entry | None:
    """The entry whose key equals *key* once both are normalised, or None."""
    wanted = normalised(key)
    return next((entry for entry in mapping.entries if key_text(entry) == wanted), None)


def plain(node: Node) -> Plain:
    """The tree as dicts (keys normalised, in the order of the file), lists, text and None."""
    if isinstance(node, Mapping):
        return {key_text(entry): plain(entry.value) for entry in node.entries}
    if isinstance(node, Sequence):
        return [plain(item) for item in node.items]
    return node.value
