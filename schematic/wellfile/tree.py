"""The guarded reader: text to a tree of texts, bounded while it is read, with every problem told.

Built on the parser's events, so that nothing is expanded, typed or built before it is judged.
Anchors, aliases, tags, merge keys, directives and a second document are refused; so are two keys
that differ only in space, ``-`` or ``_``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

import yaml

from schematic.wellfile import mends
from schematic.wellfile.decode import decoded
from schematic.wellfile.mends import Trouble, position
from schematic.wellfile.nodes import (
    Entry,
    Mapping,
    Node,
    Plain,
    Scalar,
    Sequence,
    normalised,
    plain,
)
from schematic.wellfile.path import Loc, spell
from schematic.wellfile.problem import InputError, Problem

__all__ = [
    "Entry",
    "Mapping",
    "Node",
    "Plain",
    "Scalar",
    "Sequence",
    "normalised",
    "parse",
    "plain",
]

MOST_NODES = 200_000
LONGEST_SCALAR = 100_000  # characters
MOST_PROBLEMS = 100

# The same grammar, written in C where the wheel carries it (about twenty times faster).
_LOADER: type = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class _Enough(Exception):
    """Reading stops here."""


def parse(text: str | bytes, file: str) -> Mapping:
    """Read the tree of a file.

    Raises
    ------
    InputError
        With every problem found, in the order of the file.
    """
    root, troubles = _read(text)
    if troubles:
        raise InputError(
            _problem(file, trouble, spell(root, loc) if root else "") for loc, trouble in troubles
        )
    assert isinstance(root, Mapping)
    return root


@lru_cache(maxsize=8)  # an edit reads the text before it, its value and the text after it
def _read(text: str | bytes) -> tuple[Node | None, tuple[tuple[Loc, Trouble], ...]]:
    """The tree of a text, and what is wrong with it and where; trees never change."""
    characters, unreadable = decoded(text)
    if unreadable:
        return None, tuple(((), trouble) for trouble in unreadable)
    reader = _Reader(characters)
    try:
        for event in yaml.parse(characters, Loader=_LOADER):
            reader.take(event)
    except _Enough:
        pass
    except yaml.YAMLError as error:
        reader.report(mends.not_yaml(characters, error, reader.bracket))
    root = reader.finish()
    if not reader.troubles and (trouble := mends.not_keys(root)):
        reader.report(trouble)
    return root, tuple(reader.troubles)


def _problem(file: str, trouble: Trouble, path: str = "") -> Problem:
    return Problem(file=file, path=path, **trouble._asdict())


class _Place(NamedTuple):
    """Where an event of the parser starts and ends: offsets from 0, line and column from 1."""

    start: int
    end: int
    line: int
    column: int


def _place(event: yaml.Event) -> _Place:
    start, end = event.start_mark, event.end_mark
    assert start is not None
    assert end is not None
    return _Place(start.index, end.index, start.line + 1, start.column + 1)


@dataclass(slots=True)
class _Open:
    """A list or mapping whose end has not been reached."""

    event: yaml.CollectionStartEvent
    items: list[Node] = field(default_factory=list)
    entries: list[Entry] = field(default_factory=list)
    lines: dict[str, int] = field(default_factory=dict)  # of the keys, normalised
    key: Scalar | None = None  # waits for its value

    @property
    def is_mapping(self) -> bool:
        return isinstance(self.event, yaml.MappingStartEvent)

    def closed(self, bracket: _Place | None) -> Node:
        """The finished node; *bracket* is where a closing bracket stands, if one does."""
        start, _, line, column = _place(self.event)
        content = [entry.value for entry in self.entries] if self.is_mapping else self.items
        end = bracket.end if bracket else content[-1].end if content else start
        place = (start, end, line, column, bool(self.event.flow_style))
        if self.is_mapping:
            return Mapping(tuple(self.entries), *place)
        return Sequence(tuple(self.items), *place)


class _Reader:
    """Takes the parser's events one by one; holds the tree so far and the troubles met."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.troubles: list[tuple[Loc, Trouble]] = []
        self._root: Node | None = None
        self._open: list[_Open] = []
        self._nodes = 0
        self._documents = 0
        self._behind = 0  # offset behind the last event

    @property
    def bracket(self) -> tuple[int, int] | None:
        """Where the innermost bracket still open stands: line and column from 0."""
        for each in reversed(self._open):
            last = _place(each.event).end - 1  # a tag may stand before it; [a: b] opens no brace
            if each.event.flow_style and self.text[last] in "[{":
                line, column = position(self.text, last)
                return line - 1, column - 1
        return None

    def report(self, trouble: Trouble, *more: str) -> None:
        """Note a trouble at the present place (and *more* steps)."""
        loc: list[str | int] = []
        for each in self._open:
            if not each.is_mapping:
                loc.append(len(each.items))
            elif each.key is not None:
                loc.append(normalised(each.key.value or ""))
        self.troubles.append(((*loc, *more), trouble))

    def finish(self) -> Node | None:
        """Give the root, whatever is still open closed as far as it was read."""
        while self._open:
            unfinished = self._open.pop()
            node = unfinished.closed(None)
            if not self._open:
                self._root = node
            elif self._open[-1].is_mapping and (key := self._open[-1].key):
                self._open[-1].entries.append(Entry(key, node))
            elif not self._open[-1].is_mapping:
                self._open[-1].items.append(node)
        return self._root

    def take(self, event: yaml.Event) -> None:
        """Take the parser's next event."""
        if isinstance(event, yaml.DocumentStartEvent):
            self._start_document(event)
        elif isinstance(event, yaml.NodeEvent):
            self._take_node(event)
        elif isinstance(event, yaml.CollectionEndEvent):
            place = _place(event)  # a block ends without a character of its own
            self._deliver(self._open.pop().closed(place if place.end > place.start else None))
        self._behind = _place(event).end
        if len(self.troubles) >= MOST_PROBLEMS:
            found = f"{len(self.troubles)} problems before this line, where reading stopped"
            self._refuse(event, found, "none", "mend these first; there may be more below")
            raise _Enough

    def _refuse(self, event: yaml.Event, found: str, accepted: str, mend: str) -> None:
        place = _place(event)
        self.report(Trouble(place.line, place.column, found, accepted, mend))

    def _start_document(self, event: yaml.DocumentStartEvent) -> None:
        self._documents += 1
        if self._documents > 1:
            mend = "take out the '---' and what follows it, or make it a file of its own"
            self._refuse(event, "a second document", "one document in a file", mend)
            raise _Enough
        if event.version or event.tags:
            mend = "take out the lines that start with %"
            self._refuse(event, "a YAML directive", "no directives", mend)

    def _take_node(self, event: yaml.NodeEvent) -> None:
        self._nodes += 1
        if self._nodes > MOST_NODES:
            accepted = f"at most {MOST_NODES} values, keys and lists"
            self._refuse(event, f"more than {MOST_NODES}", accepted, "shorten the file")
            raise _Enough
        quote = "if it belongs to a text, quote the text"
        if isinstance(event, yaml.AliasEvent):
            mend = f"write the value again; {quote}"
            self._refuse(event, f"the alias '*{event.anchor}'", "no aliases", mend)
            self._deliver(self._nothing(event))
            return
        if event.anchor is not None:
            mend = f"take out '&{event.anchor}'; {quote}"
            self._refuse(event, f"the anchor '&{event.anchor}'", "no anchors", mend)
        if isinstance(event, yaml.ScalarEvent):
            self._refuse_tag(event, event.tag)
            self._deliver(self._scalar(event))
        elif isinstance(event, yaml.CollectionStartEvent):
            self._refuse_tag(event, event.tag)
            self._open.append(_Open(event))
            if len(self._open) > mends.MOST_LEVELS:
                self._refuse(event, *mends.TOO_DEEP)
                raise _Enough

    def _refuse_tag(self, event: yaml.Event, tag: str | None) -> None:
        if tag is not None:
            mend = "take out the word that starts with '!'; if it belongs to a text, quote the text"
            self._refuse(event, f"the tag '{tag}'", "values without tags", mend)

    def _nothing(self, event: yaml.Event) -> Scalar:
        place = _place(event)
        return Scalar(None, place.start, place.start, place.line, place.column)

    def _scalar(self, event: yaml.ScalarEvent) -> Scalar:
        start, end, line, column = _place(event)
        if len(event.value) > LONGEST_SCALAR:
            found, accepted = (
                f"{len(event.value)} characters",
                f"at most {LONGEST_SCALAR} in a text",
            )
            self._refuse(event, found, accepted, "shorten it; look for a quote that is not closed")
        style = event.style or None
        if style is None and not event.value:
            return self._nothing(event)
        if style in ("|", ">"):
            header = re.compile(r"[|>][-+0-9]*").match(self.text, start)
            if header and "+" not in header[0]:
                end = start + len(self.text[start:end].rstrip(" \t\r\n"))
                line_end = self.text.find("\n", end)
                end = len(self.text) if line_end < 0 else line_end
                end -= self.text[end - 1] == "\r"
        return Scalar(event.value, start, end, line, column, style)

    def _deliver(self, node: Node) -> None:
        """Put a finished node where it belongs: root, item, key or value."""
        if not self._open:
            self._root = node
            return
        parent = self._open[-1]
        if not parent.is_mapping:
            before = parent.items[-1] if parent.items else None
            if isinstance(node, Scalar):
                self._doubt(mends.dropped_by_hash(self.text, node))
                if parent.event.flow_style:
                    self._doubt(mends.split_by_comma(self.text, before, node))
            parent.items.append(node)
        elif parent.key is None:
            self._take_key(parent, node)
        else:
            self._take_value(parent, parent.key, node)
            parent.key = None

    def _doubt(self, trouble: Trouble | None) -> None:
        if trouble is not None:
            self.report(trouble)

    def _take_key(self, parent: _Open, node: Node) -> None:
        place = (node.line, node.column)
        accepted = "a word or a few as a key"
        between = self.text[self._behind : node.start]
        gap = re.sub(r"#[^\n]*", "", between) if "?" in between else ""
        key = node if isinstance(node, Scalar) else Scalar("", node.start, node.start, *place)
        if not isinstance(node, Scalar) or "?" in gap:
            mend = "write 'key: value' with a plain word as the key; quote a text that starts with ?"
            self.report(Trouble(*place, "a key that is not one text", accepted, mend))
        elif not node.value:
            self.report(Trouble(*place, "a colon without a key", accepted, "write the key before it"))
        elif node.value == "<<" and node.style is None:
            self.report(Trouble(*place, "the merge key '<<'", "no merge keys", "write the keys out"))
        else:
            name = normalised(node.value)
            if name in parent.lines:
                found = f"'{node.value}' again: it stands on line {parent.lines[name]} already"
                mend = f"take out one of the two (lines {parent.lines[name]} and {node.line})"
                trouble = Trouble(*place, found, "each key once; space, - and _ are equal", mend)
                self.report(trouble, name)
            parent.lines.setdefault(name, node.line)
        parent.key = key

    def _take_value(self, parent: _Open, key: Scalar, node: Node) -> None:
        if isinstance(node, Scalar):
            if node.value is None:
                colon = re.compile(r"[ \t]*:").match(self.text, key.end)
                end = colon.end() if colon else key.end
                node = Scalar(None, end, end, key.line, key.column + end - key.start)
                if colon is None and parent.event.flow_style and key.value:
                    before = parent.entries[-1].value if parent.entries else None
                    self.report(mends.no_colon(self.text, before, key))
            self._doubt(mends.dropped_by_hash(self.text, node))
            self._doubt(mends.no_space(self.text, key, node))
        parent.entries.append(Entry(key, node))
