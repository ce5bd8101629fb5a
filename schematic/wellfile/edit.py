"""Edits in place: the text is spliced at the parser's marks, so that all else stays as it was typed.

Comments, order, spelling, indentation, line ends and quoting stay. Every result is read back: unless
exactly the asked change happened, an EditError is raised and nothing is returned. Texts are well
files as one string with their line ends as they are; paths are those of `schematic.wellfile.path`.
All verbs raise InputError when the text has problems already, and PathError when a path leads
nowhere.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from schematic.wellfile import splices
from schematic.wellfile.nodes import Mapping, Node, Plain, Scalar, Sequence, normalised, plain
from schematic.wellfile.path import Loc, PathError, at, locate, next_step, spell, split
from schematic.wellfile.problem import InputError
from schematic.wellfile.quoting import EditError, Value, as_read, flow_form
from schematic.wellfile.tree import parse

__all__ = ["EditError", "Value", "exchange", "insert", "put", "remove", "set"]


def set(text: str, path: str, value: str) -> str:  # noqa: A001 - the word of the trade for this edit
    """The text with the value at *path* replaced.

    A missing last key is added to its mapping, behind the last entry. The value is written plain
    where it can be; an existing one keeps its quotes. A value made of several parts is not replaced
    as a whole: EditError.
    """
    root = parse(text, "the text")
    steps = split(path)
    parent = locate(root, steps[:-1])
    found = next_step(root, parent, steps[-1])
    holder, _ = at(root, parent)
    if found is not None:
        target, _ = at(root, (*parent, found))
        if not isinstance(target, Scalar):
            place = spell(root, (*parent, found))
            raise EditError(f"'{place}' holds several values: set one of them")
        results = splices.replaced(text, target, value, flow=_flow(holder))
    elif isinstance(holder, Mapping):
        results = splices.with_entry(text, holder, steps[-1], value)
    elif isinstance(holder, Scalar) and holder.value is None:
        results = splices.filled(text, holder, [flow_form({steps[-1]: value})])
    else:
        place = spell(root, parent)
        raise EditError(f"'{place}' is not made of keys: '{steps[-1]}' cannot be added to it")
    step = normalised(steps[-1]) if found is None else found
    return _verified(root, results, lambda tree: _put(tree, parent, step, value))


def put(text: str, path: str, value: Value) -> str:
    """The text with *value*, of any shape, at *path*: it takes the place of what stands there.

    One text is set as by `set`. What has several parts becomes the last entry of its mapping, in braces or
    brackets. An item of a list is not replaced by several parts: EditError.
    """
    if isinstance(value, str):
        return set(text, path, value)
    root = parse(text, "the text")
    steps = split(path)
    parent = locate(root, steps[:-1])
    found = next_step(root, parent, steps[-1])
    holder, _ = at(root, parent)
    if not isinstance(holder, Mapping):
        raise EditError(
            f"'{spell(root, parent)}' is not made of keys: '{steps[-1]}' cannot hold several values"
        )
    if found is not None:
        text = remove(text, path)
        root = parse(text, "the text")
        holder, _ = at(root, parent)
        assert isinstance(holder, Mapping)  # the last one out leaves braces
    step = normalised(steps[-1]) if found is None else found
    results = splices.with_entry(text, holder, str(step), value)
    return _verified(root, results, lambda tree: _put(tree, parent, step, as_read(value)))


def insert(text: str, path: str, value: Value, before: int | str | None = None) -> str:
    """The text with *value* added to the list at *path*: at its end, or before one of its items.

    *before* is an item's number, name or part. A mapping is written like the list's other items:
    one key a line, or in braces; what is nested in it is written in braces. A list that is missing
    or empty is begun.
    """
    root = parse(text, "the text")
    steps = split(path)
    parent = locate(root, steps[:-1])
    found = next_step(root, parent, steps[-1])
    holder, _ = at(root, parent)
    step = normalised(steps[-1]) if found is None else found
    node = None if found is None else at(root, (*parent, found))[0]
    if isinstance(node, Sequence):
        number = _number(root, (*parent, step), node, before)
        results = splices.with_item(text, node, number, value)
        inside = (*parent, step)
        return _verified(root, results, lambda tree: _inner(tree, inside).insert(number, as_read(value)))
    if before is not None:
        raise EditError(f"'{path}' has no items: nothing to put one before")
    if node is None and isinstance(holder, Mapping):
        results = [splices.with_list(text, holder, steps[-1], value)]
    elif isinstance(node, Scalar) and node.value is None:
        results = splices.filled(text, node, [flow_form([value])])
    else:
        raise EditError(f"'{path}' is not a list: items can be added to lists only")
    return _verified(root, results, lambda tree: _put(tree, parent, step, [as_read(value)]))


def exchange(text: str, path: str, other: str) -> str:
    """The text with two items of a list in each other's place; comments stay where they stand.

    Done twice it gives the text again. What is not two items of one list is not exchanged: EditError.
    """
    root = parse(text, "the text")
    one, two = locate(root, split(path)), locate(root, split(other))
    holder, _ = at(root, one[:-1])
    if one[:-1] != two[:-1] or one == two or not isinstance(holder, Sequence):
        raise EditError(f"'{path}' and '{other}' are not two items of one list")
    upper, lower = sorted((at(root, loc)[0] for loc in (one, two)), key=lambda node: node.start)
    written, below = text[upper.start : upper.end], text[lower.start : lower.end]
    result = text[: upper.start] + below + text[upper.end : lower.start] + written + text[lower.end :]

    def change(tree: Plain) -> None:
        items, first, second = _inner(tree, one[:-1]), one[-1], two[-1]
        items[first], items[second] = items[second], items[first]

    return _verified(root, [result], change)


def remove(text: str, path: str) -> str:
    """The text without the entry or item at *path*.

    Its lines go, with the comment on them and the comment lines right above it; comments of its
    neighbours stay. The last one out leaves ``{}`` or ``[]``.
    """
    root = parse(text, "the text")
    loc = locate(root, split(path))
    holder, key = at(root, loc[:-1])
    assert isinstance(holder, Mapping | Sequence)  # something was found in it
    inside = plain(holder)
    step = loc[-1]
    number = step if isinstance(step, int) else list(inside or ()).index(step)

    def change(tree: Plain) -> None:
        del _inner(tree, loc[:-1])[step]

    return _verified(root, splices.without(text, holder, key, number), change)


def _flow(node: Node) -> bool:
    return not isinstance(node, Scalar) and node.flow


def _number(root: Node, loc: Loc, sequence: Sequence, before: int | str | None) -> int:
    """The number that a new item of the list at *loc* gets."""
    if before is None:
        return len(sequence.items)
    number = next_step(root, loc, before) if isinstance(before, str) else before
    if not isinstance(number, int) or not 0 <= number < len(sequence.items):
        raise PathError(f"'{spell(root, loc)}' has no item '{before}' to put one before")
    return number


def _inner(tree: Plain, loc: Loc) -> Any:  # noqa: ANN401 - a dict or a list, as the steps say
    inner: Any = tree
    for step in loc:
        inner = inner[step]
    return inner


def _put(tree: Plain, parent: Loc, step: str | int, value: Plain) -> None:
    """Put a value into the plain tree; what was empty becomes a mapping for it."""
    holder = _inner(tree, parent)
    if holder is None:
        _put(tree, parent[:-1], parent[-1], {str(step): value})
    else:
        holder[step] = value


def _verified(root: Mapping, results: list[str], change: Callable[[Plain], None]) -> str:
    """The first of the *results* in which *change* happened to the tree of *root*, and nothing else."""
    expected = plain(root)
    change(expected)
    reason = "something else would change as well"
    for result in results:
        try:
            after = plain(parse(result, "the edited text"))
        except InputError as error:
            reason = f"the file could not be read afterwards:\n{error.problems[0]}"
            continue
        if json.dumps(after) == json.dumps(expected):  # unlike ==, this minds the order of keys
            return result
    raise EditError(f"the change was not made: {reason}")
