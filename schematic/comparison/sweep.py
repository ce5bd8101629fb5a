"""A plan with one depth of its liner at another value, as an option of the file has it.

What says the same depth otherwise is taken out. The running string becomes longer or shorter by its
uppermost drill pipe, so that it still ends at the liner top; all else stays as it is written.
"""

from __future__ import annotations

from typing import Any

from schematic.comparison.options import adopted, made
from schematic.comparison.replan import lengthened, with_longer_string
from schematic.comparison.written import written
from schematic.depth.resolve import resolve
from schematic.wellfile import edit
from schematic.wellfile.path import PathError
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import Document, read_text
from schematic.wellfile.tree import parse

SWEPT = {  # what can be swept: its path, and the path that says the same otherwise
    "lap": ("liner.lap", "liner.top"),
    "liner top": ("liner.top", "liner.lap"),
    "shoe": ("liner.shoe", "liner.off bottom"),
}


def option_at(document: Document, what: str, value: str) -> dict[str, Any]:
    """The option in which *what* is *value*, such as a lap of "400 ft": its name, what goes, what changes.

    Raises
    ------
    InputError
        When the liner or the running string cannot be so.
    EditError
        When the file does not let itself be changed so.
    """
    path, twin = SWEPT[what]
    text, without = document.text, [twin]
    try:
        text = edit.remove(text, twin)
    except PathError:
        without = []
    text = edit.set(text, path, value)
    before = resolve(document)
    after = resolve(read_text(text, document.file, document.folder))
    down_m = after.depth.liner.top_md_m - before.depth.liner.top_md_m
    change = {path: value, **lengthened(document, before, down_m, value)}
    return {"name": f"{what} {value}", **({"without": without} if without else {}), "change": change}


def string_along(document: Document, text: str, wanted: str) -> str:
    """A changed text of a document, its running string longer or shorter by what the liner top has moved.

    *wanted* has the unit for what would take many digits. Where the changed plan cannot be, the text is as it
    came: reading it then says why.
    """
    try:
        before = resolve(document)
        changed = read_text(text, document.file, document.folder)
        after = resolve(changed)
        down_m = after.depth.liner.top_md_m - before.depth.liner.top_md_m
        return with_longer_string(changed, after, down_m, wanted)
    except InputError:
        return text


_MOVES = ("liner.lap", "liner.top", "liner.shoe", "liner.off bottom")  # the liner top


def option_made(document: Document, name: str, path: str, value: str, like: int | None) -> str:
    """The text with an option more; one that moves the liner top takes the running string along.

    Raises as `options.made` and the edits.
    """
    text = made(document.text, name, path, value, like)
    if path not in _MOVES:
        return text
    base = document if like is None else read_text(adopted(document, like), document.file, document.folder)
    moved = edit.set(base.text, path, value)
    along = string_along(base, moved, value)
    for one in written(parse(moved, document.file), parse(along, document.file)):
        text = made(text, name, one.path, one.new)
    return text


def text_at(document: Document, what: str, value: str) -> str:
    """The text in which the option of a value is adopted; raises as `option_at`."""
    text = edit.insert(document.text, "options", option_at(document, what, value))
    with_it = read_text(text, document.file, document.folder)
    return adopted(with_it, len(with_it.content.options or ()) - 1)
