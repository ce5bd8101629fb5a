"""What is written otherwise in one well file than in another, path by path."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from schematic.wellfile.nodes import Mapping as Keys
from schematic.wellfile.nodes import Node, Scalar, Sequence, entry_of, key_text, normalised
from schematic.wellfile.path import Loc, spell

_DEPTHS = ("md", "to", "at", "tvd")
# what tells the items of a list apart
_TELLING = ("name", "part", "rule", "md", "to", "at", "what", "step", "tvd", "number")


class Written(NamedTuple):
    """A value that is written otherwise: its path, what stood there and what stands there; "" for nothing."""

    path: str
    old: str
    new: str


class _At(NamedTuple):
    """A node and where it stands in its file."""

    root: Node
    node: Node
    loc: Loc

    def inner(self, node: Node, step: str | int) -> _At:
        return _At(self.root, node, (*self.loc, step))


def written(old: Node, new: Node) -> tuple[Written, ...]:
    """What is written otherwise, path by path in the order of the new file, what is gone behind it.

    Items of a list are told apart by name, part, rule or depth, so that one more item is one change. Where a
    depth itself is otherwise, the items that stand between the same neighbours are one and the same.
    """
    made = list(_between(_At(old, old, ()), _At(new, new, ())))
    return (*(one for one in made if one.new), *(one for one in made if not one.new))


def _between(old: _At | None, new: _At | None) -> Iterator[Written]:
    """What differs between two nodes; one of them may not be there."""
    if old is None or new is None:
        one = new or old
        assert one is not None
        for path, text in _texts(one):
            yield Written(path, "", text) if old is None else Written(path, text, "")
    elif isinstance(old.node, Scalar) and isinstance(new.node, Scalar):
        before, after = _tidy(old.node.value), _tidy(new.node.value)
        if before != after:
            yield Written(spell(new.root, new.loc), before, after)
    elif isinstance(old.node, Keys) and isinstance(new.node, Keys):
        words = dict.fromkeys(key_text(entry) for node in (new.node, old.node) for entry in node.entries)
        for word in words:
            before_, after_ = entry_of(old.node, word), entry_of(new.node, word)
            yield from _between(
                old.inner(before_.value, word) if before_ else None,
                new.inner(after_.value, word) if after_ else None,
            )
    elif isinstance(old.node, Sequence) and isinstance(new.node, Sequence):
        for was, now in _pairs(old.node, new.node):
            yield from _between(
                None if was is None else old.inner(old.node.items[was], was),
                None if now is None else new.inner(new.node.items[now], now),
            )
    else:
        yield from _between(None, new)
        yield from _between(old, None)


def _texts(one: _At) -> Iterator[tuple[str, str]]:
    """Every value of a node with its path."""
    if isinstance(one.node, Scalar):
        yield spell(one.root, one.loc), _tidy(one.node.value)
    elif isinstance(one.node, Keys):
        for entry in one.node.entries:
            yield from _texts(one.inner(entry.value, key_text(entry)))
    else:
        for index, item in enumerate(one.node.items):
            yield from _texts(one.inner(item, index))


def _pairs(old: Sequence, new: Sequence) -> list[tuple[int | None, int | None]]:
    """Which item of one list is which of the other, in the order of the new one; None: it is not there."""
    before, after = _labels(old), _labels(new)
    same = {now: before[label] for label, now in after.items() if label in before}
    found = set(same.values())
    # those that lack a twin, by the item of the old list that stands before them and has one
    gaps: dict[int, tuple[list[int], list[int]]] = {}
    words = {}
    last = -1
    for label, was in before.items():
        last = was if was in found else last
        if was not in found:
            gaps.setdefault(last, ([], []))[0].append(was)
            words[0, was] = label[0]
    last = -1
    for label, now in after.items():
        last = same.get(now, last)
        if now not in same:
            gaps.setdefault(last, ([], []))[1].append(now)
            words[1, now] = label[0]
    for was_, now_ in gaps.values():
        told_by = {words[0, at] for at in was_} | {words[1, at] for at in now_}
        if len(was_) == len(now_) and told_by <= set(_DEPTHS):
            same.update(zip(now_, was_, strict=True))
    found = set(same.values())
    gone = [was for was in before.values() if was not in found]
    return [*((same.get(now), now) for now in after.values()), *((was, None) for was in gone)]


def _labels(items: Sequence) -> dict[tuple[str, str, int], int]:
    """Where each item is, by what tells it in another file: the key, its text, its count."""
    seen: dict[tuple[str, str], int] = {}
    made: dict[tuple[str, str, int], int] = {}
    for index, item in enumerate(items.items):
        label = _label(item)
        seen[label] = seen.get(label, 0) + 1
        made[*label, seen[label]] = index
    return made


def _label(item: Node) -> tuple[str, str]:
    """The key and text that tell an item from its neighbours; nothing for bare values."""
    if isinstance(item, Keys):
        for word in _TELLING:
            entry = entry_of(item, word)
            if entry and isinstance(entry.value, Scalar) and entry.value.value:
                return word, normalised(entry.value.value)
    return ("list" if isinstance(item, Sequence) else "", "")


def _tidy(text: str | None) -> str:
    return " ".join((text or "").split())
