"""Paths by name: ``strings.intermediate casing.shoe``, ``strings[0].shoe``, ``liner.lap``.

Steps are joined by dots; a name that holds a dot, a bracket or a quote is written in double quotes,
a quote inside it doubled. Space, ``-`` and ``_`` are equal, and case does not matter unless only
case tells two names apart. An item of a list goes by its number (from 0), by its ``name:``, or by
its ``part:``, alone where the part occurs once, else followed by its count from 1 among its kind
(``liner.assembly.joint 2``).
"""

from __future__ import annotations

import difflib
import re

from schematic.wellfile.nodes import (
    Mapping,
    Node,
    Scalar,
    Sequence,
    entry_of,
    key_text,
    normalised,
)

Loc = tuple[str | int, ...]

_MOST_CHOICES = 12  # listed in a message

_STEP = re.compile(
    r"""\s*(?:
        \[\s*(?P<number>\d+)\s*\]          # [0]
      | "(?P<quoted>(?:[^"]|"")*)"         # "a.b"
      | (?P<bare>[^."\[\]]+)
    )\s*""",
    re.VERBOSE,
)


class PathError(ValueError):
    """A path leads nowhere, or to several things; ``choices`` holds paths that would do."""

    def __init__(self, message: str, choices: tuple[str, ...] = ()) -> None:
        super().__init__(message)
        self.choices = choices


def split(path: str) -> tuple[str, ...]:
    """The steps of a path. Raises PathError when it cannot be read.

    >>> split('strings[0].shoe'), split('strings."a.b".shoe')
    (('strings', '0', 'shoe'), ('strings', 'a.b', 'shoe'))
    """
    steps: list[str] = []
    position = 0
    while position < len(path) or not steps:
        match = _STEP.match(path, position)
        if match is None or not match[0].strip():
            raise PathError(
                f"cannot read the path '{path}' from character {position + 1} on: join steps by "
                'dots, such as liner.lap or strings[0].shoe; put a name that holds . [ ] or " in '
                "double quotes"
            )
        if match["number"] is not None:
            steps.append(match["number"])
        elif match["quoted"] is not None:
            steps.append(match["quoted"].replace('""', '"'))
        else:
            steps.append(match["bare"].strip())
        position = match.end()
        if position < len(path) and path[position] == ".":
            position += 1
            if position == len(path):
                raise PathError(f"the path '{path}' ends in a dot: a name is missing behind it")
        elif position < len(path) and path[position] != "[":
            raise PathError(f"the path '{path}' lacks a dot before character {position + 1}")
    return tuple(steps)


def find(root: Node, path: str) -> Node:
    """The node at *path*. Raises PathError with near misses or, when ambiguous, the choices."""
    return at(root, locate(root, split(path)))[0]


def locate(root: Node, steps: tuple[str, ...]) -> Loc:
    """Where *steps* lead: normalised keys and item numbers. Raises PathError like `find`."""
    node: Node = root
    loc: Loc = ()
    for step in steps:
        here = next_step(root, loc, step)
        if here is None:
            raise _nothing_there(root, loc, node, step)
        loc = (*loc, here)
        node = at(root, loc)[0]
    return loc


def next_step(root: Node, loc: Loc, step: str) -> str | int | None:
    """The key or number that *step* means in the node at *loc*; None: nothing of that name there.

    Raises PathError when several things answer to the name.
    """
    node = at(root, loc)[0]
    found = _matches(node, step)
    if len(found) > 1:
        choices = tuple(spell(root, (*loc, one)) for one in found)
        raise PathError(f"'{step}' could be any of {_listed(choices)}", choices)
    return found[0] if found else None


def spell(root: Node, loc: Loc) -> str:
    """A readable path for *loc*; `find` leads back to the same node.

    *loc* is a tuple of keys and item numbers, as pydantic gives them. Steps that the file does not
    hold (a missing key) are spelled as they are given.
    """
    parts: list[str] = []
    for count, step in enumerate(loc):
        node, _ = at(root, loc[:count])
        if isinstance(step, str):
            parts.append(_quoted(normalised(step)))
        else:
            parts.append(_item_label(node, step))
    return re.sub(r"\.(?=\[\d)", "", ".".join(parts))


def at(root: Node, loc: Loc) -> tuple[Node, Scalar | None]:
    """The node at *loc* with its key, or the nearest one above it that exists.

    The key is None for an item of a list and for the root.
    """
    node: Node = root
    key: Scalar | None = None
    for step in loc:
        if isinstance(node, Mapping) and isinstance(step, str):
            entry = entry_of(node, step)
            if entry is None:
                break
            node, key = entry.value, entry.key
        elif isinstance(node, Sequence) and isinstance(step, int) and 0 <= step < len(node.items):
            node, key = node.items[step], None
        else:
            break
    return node, key


def _matches(node: Node, step: str) -> list[str | int]:
    """Keys or numbers in *node* that *step* may mean, by the strictest match that finds any."""
    if isinstance(node, Mapping):
        keys = [key_text(entry) for entry in node.entries]
        return [keys[number] for number in _equal(keys, step)]
    if not isinstance(node, Sequence):
        return []
    if re.fullmatch(r"[0-9]{1,6}", step) and int(step) < len(node.items):
        return [int(step)]
    parts = [_label(item, "part") for item in node.items]
    found = _equal([_label(item, "name") for item in node.items], step) or _equal(parts, step)
    counted = re.fullmatch(r"(.+?)[\s_-]+([1-9][0-9]{0,5})", step)
    if not found and counted:
        count = int(counted[2])
        found = _equal(parts, counted[1])[count - 1 : count]
    return list(found)


def _equal(names: list[str], step: str) -> list[int]:
    """Numbers of the *names* equal to *step* as they are or, where none is, whatever the case."""
    for same in (normalised, _folded):
        found = [number for number, name in enumerate(names) if name and same(name) == same(step)]
        if found:
            return found
    return []


def _folded(name: str) -> str:
    return normalised(name).casefold()


def _label(item: Node, word: str) -> str:
    """The normalised text an item carries under the key *word* (name, part), or an empty text."""
    entry = entry_of(item, word) if isinstance(item, Mapping) else None
    if entry is None or not isinstance(entry.value, Scalar) or not entry.value.value:
        return ""
    return normalised(entry.value.value)


def _item_label(node: Node, number: int) -> str:
    """The most readable step that leads from the list *node* to its item *number*."""
    if isinstance(node, Sequence) and 0 <= number < len(node.items):
        item = node.items[number]
        part = _label(item, "part")
        count = len(_equal([_label(other, "part") for other in node.items[: number + 1]], part))
        for label in (_label(item, "name"), part, f"{part} {count}"):
            if label and _matches(node, label) == [number]:
                return _quoted(label)
    return f"[{number}]"


def _quoted(name: str) -> str:
    if name and not re.search(r'[."\[\]]', name) and name == name.strip():
        return name
    return '"' + name.replace('"', '""') + '"'


def _nothing_there(root: Node, loc: Loc, node: Node, step: str) -> PathError:
    """The error for a step that leads nowhere, with what is near or what there is."""
    place = f"'{spell(root, loc)}'" if loc else "the file"
    if isinstance(node, Scalar):
        return PathError(f"{place} holds no parts, so there is no '{step}' in it")
    numbered = isinstance(node, Sequence)
    inner: list[str | int] = (
        list(range(len(node.items)))
        if isinstance(node, Sequence)
        else [key_text(entry) for entry in node.entries]
    )
    there = {
        (_item_label(node, one) if isinstance(one, int) else one): spell(root, (*loc, one)) for one in inner
    }
    near = {name.casefold(): path for name, path in there.items()}
    close = difflib.get_close_matches(_folded(step), list(near), n=3)
    if close:
        choices = tuple(near[name] for name in close)
        return PathError(f"{place} has no '{step}'; did you mean {_listed(choices, ' or ')}?", choices)
    if not there:
        return PathError(f"{place} has no '{step}': it is empty")
    choices = tuple(there.values())
    count = f" ({len(choices)} items, numbered from 0)" if numbered else ""
    return PathError(f"{place} has no '{step}'; it has {_listed(choices)}{count}", choices)


def _listed(paths: tuple[str, ...], between: str = ", ") -> str:
    shown = between.join(f"'{path}'" for path in paths[:_MOST_CHOICES])
    return shown + (" …" if len(paths) > _MOST_CHOICES else "")
