"""How a text or a small tree is written in YAML: as plainly as it reads back the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeAlias

from schematic.wellfile.nodes import Plain, normalised
from schematic.wellfile.problem import InputError, visible
from schematic.wellfile.tree import parse, plain

Value: TypeAlias = "str | Mapping[str, Value] | Sequence[Value]"


class EditError(ValueError):
    """A change that was not made: it cannot be, or would have changed something else as well."""


def forms(text: str, *, flow: bool, style: str | None = None) -> list[str]:
    """Ways to write a text on one line as a value, each read back: in *style* first, then plainest.

    *flow*: between brackets, where a comma ends a plain text. *style* is a quote or None. Raises
    EditError when there is no way: the text is too long, or holds half a character.
    """
    quoted = {"'": _single(text), '"': _double(text)}
    ways = dict.fromkeys((quoted.get(style or "", text), text, *quoted.values()))
    if flow:
        there = "{{k: {0}, y: [{0}, z]}}"
        same: Plain = {"k": text, "y": [text, "z"]}
    else:
        there = "k: {0}\ny:\n- {0}\n"
        same = {"k": text, "y": [text]}
    found = [form for form in ways if _on_one_line(form) and _read(there, form) == same]
    if not found:
        raise EditError(f"the text '{visible(text[:80])}' cannot be written into a well file")
    return found


def key_form(key: str) -> str:
    """The plainest way to write a key that holds in every place. Raises EditError like `forms`."""
    same: Plain = {normalised(key): "z"}
    for form in (key, _single(key), _double(key)):
        if _on_one_line(form) and _read("{0}: z", form) == _read("{{{0}: z}}", form) == same:
            return form
    raise EditError(f"'{visible(key[:80])}' cannot be written as a key")


def flow_form(value: Value) -> str:
    """A value on one line as it may stand anywhere. Raises EditError like `forms`."""
    if isinstance(value, str):
        return forms(value, flow=True)[0]
    if isinstance(value, Mapping):
        pairs = (f"{key_form(key)}: {flow_form(inner)}" for key, inner in value.items())
        return "{" + ", ".join(pairs) + "}"
    return "[" + ", ".join(flow_form(inner) for inner in value) + "]"


def line_form(value: Value) -> str:
    """A value on one line as it may stand behind 'key: ' or '- '. Raises EditError like `forms`."""
    return forms(value, flow=False)[0] if isinstance(value, str) else flow_form(value)


def as_read(value: Value) -> Plain:
    """A value as the reader gives it back: keys normalised."""
    if isinstance(value, str):
        return value
    if isinstance(value, Mapping):
        return {normalised(key): as_read(inner) for key, inner in value.items()}
    return [as_read(inner) for inner in value]


def _read(template: str, form: str) -> Plain:
    try:
        return plain(parse(template.format(form), "text to write"))
    except InputError:
        return None


def _on_one_line(form: str) -> bool:
    # A line break would be folded away in any form but the one that spells it out.
    return not set("\r\n\x85\u2028\u2029") & set(form)


def _single(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def _double(text: str) -> str:
    """Text in double quotes, all that cannot be seen spelled out as YAML spells it."""
    inner = text.replace("\\", "\\\\").replace('"', '\\"')
    shown = "".join(char if visible(char) == char else _escaped(char) for char in inner)
    return f'"{shown}"'


def _escaped(char: str) -> str:
    named = {"\n": "\\n", "\r": "\\r", "\t": "\\t", "\0": "\\0"}
    code = ord(char)
    wide = f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"
    return named.get(char) or (wide if code < 0x10000 else f"\\U{code:08x}")
