"""The options of a well file as text: the well that one of them is, and one made, dropped or adopted."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from schematic.wellfile import edit
from schematic.wellfile.nodes import Mapping, Node, Sequence, key_text
from schematic.wellfile.path import Loc, PathError, spell
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import Document, read_text

_NOT_OPTIONAL = ("lapline", "options", "record", "waivers")  # what no option may be about


def well_of(document: Document, index: int) -> str:
    """The text of the well that an option is: its changes made, without options of its own.

    Raises
    ------
    InputError
        At the option's line, when a change cannot be made.
    """
    return _changed(document, index, edit.remove(document.text, "options"))


def adopted(document: Document, index: int) -> str:
    """The text with the changes of an option made in the well as written; the option goes, the others stay.

    Raises
    ------
    InputError
        At the option's line, when a change cannot be made.
    """
    return dropped(_changed(document, index, document.text), index)


def dropped(text: str, index: int) -> str:
    """The text without an option; the last one takes the list along."""
    try:
        edit.remove(text, "options[1]")
    except PathError:
        return edit.remove(text, "options")
    return edit.remove(text, f"options[{index}]")


def made(text: str, name: str, path: str, value: str, like: int | None = None) -> str:
    """The text with an option more, which changes one value; one of that name gets the change as well.

    The new one begins as the option *like*; with None as the well as written.
    """
    options = read_text(text).content.options or []
    for index, option in enumerate(options):
        if option.name == name:
            return edit.put(text, f"options[{index}].change", {**(option.change or {}), path: value})
    its = None if like is None else options[like]
    change = {**((its and its.change) or {}), path: value}
    without = {"without": list(its.without)} if its and its.without else {}
    return edit.insert(text, "options", {"name": name, **without, "change": change})


def changeable(document: Document) -> tuple[str, ...]:
    """The paths of all single values that an option may change, in the order of the file."""
    return tuple(
        spell(document.root, loc) for loc in _scalars(document.root, ()) if loc[0] not in _NOT_OPTIONAL
    )


def _scalars(node: Node, loc: Loc) -> Iterator[Loc]:
    if isinstance(node, Mapping):
        for entry in node.entries:
            yield from _scalars(entry.value, (*loc, key_text(entry)))
    elif isinstance(node, Sequence):
        for index, item in enumerate(node.items):
            yield from _scalars(item, (*loc, index))
    else:
        yield loc


def _changed(document: Document, index: int, text: str) -> str:
    """The text with what an option takes out and changes."""
    option = (document.content.options or [])[index]
    for number, path in enumerate(option.without or ()):
        text = _edited(document, (index, "without", number), partial(edit.remove, text, path))
    for path, value in (option.change or {}).items():
        text = _edited(document, (index, "change", path), partial(edit.put, text, path, value))
    return text


def _edited(document: Document, place: tuple[str | int, ...], change: Callable[[], str]) -> str:
    """The text after one change of an option; a problem at the option's line where it cannot be made."""
    try:
        return change()
    except (edit.EditError, PathError) as error:
        raise InputError(
            (
                document.problem(
                    ("options", *place), str(error), "a path to a value of this file", "mend the path"
                ),
            )
        ) from None
