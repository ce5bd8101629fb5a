"""Where an edit cuts into the text of a well file, and what it puts there.

Each function takes the text and nodes of its tree, and gives the whole new text, or several to try in
order. None of them judges: whoever calls reads the result back.
"""

from __future__ import annotations

import re

from schematic.wellfile.nodes import Mapping, Scalar, Sequence
from schematic.wellfile.quoting import Value, flow_form, forms, key_form, line_form

_REST_OF_LINE = re.compile(r"[ \t]*(?:#[^\r\n]*)?(?=\r?\n|\Z)")  # nothing, or a comment
_COMMA = re.compile(r"(?:\s|#[^\n]*\n)*,")  # a comma within a comment is none
_HEADER = re.compile(r"[|>][-+0-9]*([^\r\n]*)")


def replaced(text: str, scalar: Scalar, value: str, *, flow: bool) -> list[str]:
    """A scalar replaced by *value*; the comment beside the mark of a block text stays."""
    if scalar.value is None:
        return filled(text, scalar, forms(value, flow=flow))
    behind = ""
    if scalar.style in ("|", ">"):
        written = text[scalar.start : scalar.end]
        header = _HEADER.match(written)
        behind = header[1] if header else ""
        if written.endswith("\n"):
            behind += line_break(text, scalar.start)
    style = scalar.style if scalar.style in ("'", '"') else None
    return [
        f"{text[: scalar.start]}{form}{behind}{text[scalar.end :]}"
        for form in forms(value, flow=flow, style=style)
    ]


def filled(text: str, empty: Scalar, written: list[str]) -> list[str]:
    """An empty place, right behind its colon or dash, filled with what is written."""
    return [f"{text[: empty.start]} {form}{text[empty.start :]}" for form in written]


def with_entry(text: str, mapping: Mapping, key: str, value: Value) -> list[str]:
    """A new last entry; what has several parts is written in braces or brackets."""
    written = forms(value, flow=mapping.flow) if isinstance(value, str) else [flow_form(value)]
    lines = [f"{key_form(key)}: {form}" for form in written]
    if mapping.flow:
        return [_last_pair(text, mapping, line) for line in lines]
    indent = " " * (mapping.column - 1)
    return [_line_below(text, mapping.end, indent + line) for line in lines]


def with_list(text: str, mapping: Mapping, key: str, item: Value) -> str:
    """A new last entry that is a list of one item; in block style the item has its own line."""
    if mapping.flow:
        return _last_pair(text, mapping, f"{key_form(key)}: {flow_form([item])}")
    indent = " " * (mapping.column - 1)
    lines = f"{indent}{key_form(key)}:", f"{indent}  - {line_form(item)}"
    return _line_below(text, mapping.end, line_break(text, mapping.end).join(lines))


def with_item(text: str, sequence: Sequence, number: int, value: Value) -> list[str]:
    """A new item in front of item *number*, or at the end."""
    last = number == len(sequence.items)
    if sequence.flow:
        written = forms(value, flow=True) if isinstance(value, str) else [flow_form(value)]
        if last:
            return [_last_in_brackets(text, sequence, form) for form in written]
        start = sequence.items[number].start
        return [f"{text[:start]}{form}, {text[start:]}" for form in written]
    indent = " " * (sequence.column - 1)
    results = []
    for item in _block_items(text, sequence, value):
        if last:
            results.append(_line_below(text, sequence.end, indent + item))
        elif number == 0:
            # Behind what stands before the first dash: another dash, or comments on the whole list.
            start = sequence.start
            results.append(f"{text[:start]}{item}{line_break(text, start)}{indent}{text[start:]}")
        else:
            start = _with_comments_above(text, _spans(text, sequence), number)
            results.append(f"{text[:start]}{indent}{item}{line_break(text, start)}{text[start:]}")
    return results


def without(text: str, holder: Mapping | Sequence, key: Scalar | None, number: int) -> list[str]:
    """Entry or item *number* of *holder* taken out; *key* is the holder's own key, if it has one."""
    if holder.flow:
        return [_without_in_brackets(text, holder, number)]
    spans = _spans(text, holder)
    start, end = spans[number]
    if len(spans) == 1:
        return [_emptied(text, holder, key)]
    if text[_line_start(text, start) : start].strip():  # behind the dash of a list around it
        rest = re.compile(r"\s*").match(text, _next_line(text, end))
        return [text[:start] + text[rest.end() if rest else end :]]
    column = start - _line_start(text, start)
    head = text[: _with_comments_above(text, spans, number)]
    # What is left below would go into a block text above: then comments below a blank line go too,
    # and the blank lines themselves where that text keeps them.
    blank = r"(?:[ \t]*\r?\n)*"
    deeper = _below(text, end, column, blank)
    empty = re.compile(blank).match(text, deeper)
    belows = (_below(text, end, column), deeper, empty.end() if empty else deeper)
    return [head + text[below:] for below in belows]


def line_break(text: str, offset: int) -> str:
    """The line break at the end of the line at *offset*; on a last line, that of the file."""
    end = text.find("\n", offset)
    end = end if end >= 0 else text.find("\n")
    return "\r\n" if text[max(end - 1, 0) : end + 1] == "\r\n" else "\n"


def _block_items(text: str, sequence: Sequence, value: Value) -> list[str]:
    """An item from its dash on, written like the mappings of the list; without line break behind."""
    if isinstance(value, str):
        return [f"- {form}" for form in forms(value, flow=False)]
    like = next((item for item in sequence.items if isinstance(item, Mapping)), None)
    if not isinstance(value, dict) or not value or like is None or like.flow:
        return [f"- {line_form(value)}"]
    dash, _ = _spans(text, sequence)[sequence.items.index(like)]
    beside = "\n" not in text[dash : like.start]
    deep = like.column - sequence.column if beside else 2
    lines = [f"{key_form(key)}: {line_form(inner)}" for key, inner in value.items()]
    between = line_break(text, sequence.start) + " " * (sequence.column - 1 + deep)
    return [f"-{' ' * (deep - 1)}{between.join(lines)}"]


def _spans(text: str, holder: Mapping | Sequence) -> list[tuple[int, int]]:
    """Start and end of each entry or item; an item of a block list starts at its dash."""
    if isinstance(holder, Mapping):
        return [(entry.key.start, entry.value.end) for entry in holder.entries]
    if holder.flow:
        return [(item.start, item.end) for item in holder.items]
    return [(_dash(text, item.start, holder.column - 1), item.end) for item in holder.items]


def _dash(text: str, offset: int, column: int) -> int:
    """The dash of an item that starts at *offset*: alone with other dashes at the head of a line."""
    start = _line_start(text, offset)
    while not re.match(rf"[ \t-]{{{column}}}-(?=\s|\Z)", text[start : start + column + 2]):
        start = _line_start(text, start - 1)
    return start + column


def _line_start(text: str, offset: int) -> int:
    return text.rfind("\n", 0, offset) + 1


def _line_end(text: str, offset: int) -> int:
    """Where the line at *offset* ends, before its break."""
    end = text.find("\n", offset)
    if end < 0:
        return len(text)
    return end - 1 if text[end - 1 : end] == "\r" and end - 1 >= offset else end


def _next_line(text: str, end: int) -> int:
    """Where the line below starts; *end* itself behind a block text that keeps its blank lines."""
    if text[end - 1 : end] == "\n":
        return end
    line_end = text.find("\n", end)
    return len(text) if line_end < 0 else line_end + 1


def _line_below(text: str, end: int, line: str) -> str:
    """The text with *line* below the line on which something ends."""
    if text[end - 1 : end] == "\n":
        return f"{text[:end]}{line}{line_break(text, end - 1)}{text[end:]}"
    stop = _line_end(text, end)
    return f"{text[:stop]}{line_break(text, stop)}{line}{text[stop:]}"


def _with_comments_above(text: str, spans: list[tuple[int, int]], number: int) -> int:
    """The start of the line of an entry or, above it, of the comments at the same indentation.

    Comments above a first entry may speak of all of them: they are left alone.
    """
    start = _line_start(text, spans[number][0])
    mark = text[start : spans[number][0]] + "#"
    while number > 0:
        above = _line_start(text, start - 1)
        if above < spans[number - 1][1] or not text.startswith(mark, above):
            break
        start = above
    return start


def _below(text: str, end: int, column: int, gap: str = "") -> int:
    """Where what follows an entry starts: behind its line and comments right below, set deeper.

    *gap* is a pattern of what may stand in front of such a comment.
    """
    below = _next_line(text, end)
    while comment := re.compile(rf"{gap}[ \t]{{{column + 1},}}#[^\n]*\n?").match(text, below):
        below = comment.end()
    return below


def _emptied(text: str, holder: Mapping | Sequence, key: Scalar | None) -> str:
    """A block of one entry replaced by {} or []: beside its key where it has one."""
    empty = "{}" if isinstance(holder, Mapping) else "[]"
    colon = re.compile(r"[ \t]*:").match(text, key.end) if key else None
    if colon is None:
        kept = line_break(text, holder.start) if text[holder.end - 1] == "\n" else ""
        return f"{text[: holder.start]}{empty}{kept}{text[holder.end :]}"
    first = _line_start(text, holder.start)
    below = _below(text, holder.end, holder.column - 1)
    return f"{text[: colon.end()]} {empty}{text[colon.end() : first]}{text[below:]}"


def _last_pair(text: str, mapping: Mapping, pair: str) -> str:
    """The text with a new pair at the end of what braces hold."""
    if text[mapping.start] != "{":  # [a: b], one pair without braces: a second one needs them
        inner = text[mapping.start : mapping.end]
        return f"{text[: mapping.start]}{{{inner}, {pair}}}{text[mapping.end :]}"
    return _last_in_brackets(text, mapping, pair)


def _last_in_brackets(text: str, holder: Mapping | Sequence, written: str) -> str:
    """The text with something new at the end of what brackets hold."""
    spans = _spans(text, holder)
    if not spans:
        return f"{text[: holder.start + 1]}{written}{text[holder.start + 1 :]}"
    start, end = spans[-1]
    indent = text[_line_start(text, start) : start]
    comma = _COMMA.match(text, end)
    behind = comma.end() if comma else end
    rest = _REST_OF_LINE.match(text, behind)
    if indent.strip() or rest is None or "\n" in text[end:behind]:
        return f"{text[:end]}, {written}{text[end:]}"
    # One a line: so is the new one, and a comment on the line of the last stays there.
    before = text[:end] + ("" if comma else ",") + text[end : rest.end()]
    line = f"{line_break(text, end)}{indent}{written}{',' if comma else ''}"
    return before + line + text[rest.end() :]


def _without_in_brackets(text: str, holder: Mapping | Sequence, number: int) -> str:
    spans = _spans(text, holder)
    start, end = spans[number]
    if text[holder.start] not in "[{":  # [a: b], one pair without braces
        return f"{text[: holder.start]}{{}}{text[holder.end :]}"
    comma = _COMMA.match(text, end)
    cut = comma.end() if comma else end
    if len(spans) == 1 and "#" not in text[holder.start : start] + text[cut : holder.end]:
        return text[: holder.start + 1] + text[holder.end - 1 :]
    rest = _REST_OF_LINE.match(text, cut)
    own_line = not text[_line_start(text, start) : start].strip()
    if own_line and rest is not None:
        return text[: _with_comments_above(text, spans, number)] + text[_next_line(text, rest.end()) :]
    if number > 0 and number == len(spans) - 1:
        before = spans[number - 1][1]
        return text[: before if "#" not in text[before:start] else start] + text[end:]
    blank = re.compile(r"[ \t]*").match(text, cut)
    head = text[:start] if rest is None else text[:start].rstrip(" \t")
    return head + text[blank.end() if blank and rest is None else cut :]
