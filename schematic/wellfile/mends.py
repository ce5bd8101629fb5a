"""What usually went wrong where the text is not YAML, or is YAML that means something else.

Each function answers with a Trouble: where, what was found, what is accepted, and the remedy in
plain words. Grade names are those of API 5CT and API 5DP: a letter or a few, a dash or none, and
the yield strength in ksi.
"""

from __future__ import annotations

import re
from typing import NamedTuple

import yaml

from schematic.wellfile.nodes import Mapping, Node, Scalar


class Trouble(NamedTuple):
    """A problem of the text, before it knows its file and path; line and column count from 1."""

    line: int
    column: int
    found: str
    accepted: str
    mend: str


_GRADE = re.compile(r"(?<![A-Za-z])[A-Z]{1,3}[ -]?(?:[4-9][05]|1[0-9][05])(?![0-9.,/%])")
_SIZE = re.compile(r"[0-9]+[ -][0-9]+/[0-9]+\b|[0-9]+(?:\.[0-9]+)? ?(?:in\b|\")")
_ENDS_LIKE_PIPE = re.compile(r"""(?:[0-9]|["″]|\b(?:in|lb/ft|lbm/ft|ppf|kg/m))$""")

MOST_LEVELS = 24
TOO_DEEP = (  # found, accepted, mend
    "brackets, lists or keys too deep",
    f"at most {MOST_LEVELS} levels",
    "close the brackets, or write it flatter",
)

_ONE_KEY_A_LINE = "one 'key: value' a line, keys that belong together at the same indentation"


def position(text: str, offset: int) -> tuple[int, int]:
    """Line and column, from 1, of a character offset."""
    return text.count("\n", 0, offset) + 1, offset - text.rfind("\n", 0, offset)


def dropped_by_hash(text: str, scalar: Scalar) -> Trouble | None:
    """Plain text cut short by a ' #' although what follows reads as part of it.

    An ordinary remark behind a value stays legal. It is doubted in two cases only: a grade behind
    what ends like a pipe without one ('7 in 29 # P-110', where # was to mean pounds per foot), and
    a size behind a name, one space away ('production # 9 5/8').
    """
    if scalar.style is not None or not scalar.value:
        return None
    comment = re.compile(r"([ \t]+)#[# \t]*([^\r\n]*)").match(text, scalar.end)
    if comment is None:
        return None
    value = scalar.value
    remark = re.split(r"[,\]}]", comment[2])[0].strip()  # a bracket it swallowed is not part of it
    grade = _GRADE.match(remark) and not _GRADE.search(value) and _ENDS_LIKE_PIPE.search(value)
    size = _SIZE.match(remark) and len(comment[1]) == 1 and not re.search(r"[0-9]", value)
    if not grade and not size:
        return None
    return Trouble(
        *position(text, comment.end(1)),
        f"'{value}', because ' #' starts a comment: '{remark}' was dropped",
        "a comment that cannot be taken for a part of the value",
        f'quote the text: "{value} # {remark}", or move the comment to its own line',
    )


def split_by_comma(text: str, before: Node | None, after: Scalar) -> Trouble | None:
    """A decimal comma in brackets or braces, where a comma parts items: '12,2 ppg'."""
    if not isinstance(before, Scalar) or before.style is not None or after.style is not None:
        return None
    whole = re.search(r"[0-9]+$", before.value or "")
    decimals = re.match(r"([0-9]+)\s*[^\s0-9]", after.value or "")
    if not whole or not decimals or text[before.end : after.start] != ",":
        return None
    written = f"{before.value},{after.value}"
    mend = f"write '{before.value}.{after.value}'"
    if "." in (before.value or "") or "." in (after.value or ""):  # one mark is of thousands
        comma_is_point = "." in (before.value or "")
        plain = written.replace(".", "").replace(",", ".") if comma_is_point else written.replace(",", "")
        mend = f"write '{plain}'"
    elif len(decimals[1]) == 3:
        plain = f"{before.value}{after.value}"
        mend = f"write '{plain}' if the comma parts thousands, or '{before.value}.{after.value}'"
    return Trouble(
        after.line,
        after.column,
        f"'{written}', which a comma splits in two here",
        "a point before the decimals",
        f"{mend}; or quote the text",
    )


def no_colon(text: str, before: Node | None, key: Scalar) -> Trouble:
    """A key in braces without a colon behind it."""
    split = split_by_comma(text, before, key)
    if split is not None:
        return split
    name, colon, value = (key.value or "").partition(":")
    if colon and value:
        mend = f"put a space behind the colon: '{name}: {value}'; or quote the text"
    else:
        mend = f"write '{key.value}: value'; use [ ] for a list; quote a text that holds a comma"
    accepted = "'key: value' pairs between { and }"
    return Trouble(key.line, key.column, f"'{key.value}' without a value", accepted, mend)


def no_space(text: str, key: Scalar, value: Node) -> Trouble | None:
    """'key:value' alone below a key, which YAML takes for a text."""
    if not isinstance(value, Scalar) or value.style is not None or value.line == key.line:
        return None
    line = text[value.start : value.end].split("\n")[0].strip()
    mend = _space_behind_colon(line)
    if mend is None:
        return None
    mend += "; or quote the text"
    return Trouble(value.line, value.column, f"the text '{line}'", _ONE_KEY_A_LINE, mend)


def _space_behind_colon(line: str) -> str | None:
    pair = re.match(r"([A-Za-z][\w -]*):(?!//)(\S.*)", line)
    return f"put a space behind the colon: '{pair[1]}: {pair[2]}'" if pair else None


def not_keys(root: Node | None) -> Trouble | None:
    """A file that is empty, or whose top is not made of keys."""
    accepted = "keys with values, from the first line on"
    if isinstance(root, Mapping):
        return None
    if root is None or (isinstance(root, Scalar) and not root.value):
        return Trouble(1, 1, "nothing: the file is empty", accepted, "write 'lapline: 1' first")
    found = "a text" if isinstance(root, Scalar) else "a list"
    mend = "start each line with a key and a colon with a space behind it, such as 'lapline: 1'"
    return Trouble(root.line, root.column, found, accepted, mend)


def not_yaml(text: str, error: yaml.YAMLError, bracket: tuple[int, int] | None) -> Trouble:
    """What the YAML parser stumbled over, and what usually mends it.

    *bracket* is where the innermost bracket still open stands (line and column from 0).
    """
    problem = str(getattr(error, "problem", None) or error)
    context = str(getattr(error, "context", None))
    mark, opened = getattr(error, "problem_mark", None), getattr(error, "context_mark", None)
    lines = text.split("\n")
    here = (mark.line, mark.column) if mark else (0, 0)
    at_end = here[0] >= len(lines) or not "".join((lines[here[0]][here[1] :], *lines[here[0] + 1 :]))
    here = min(here, (len(lines) - 1, len(lines[-1])))
    began = (opened.line, opened.column) if opened else here
    line, behind = lines[here[0]], lines[here[0]][: here[1]].rstrip()

    if re.match(r"[ -]*\t", line) and re.search("cannot start|tab", problem):
        mend = "replace the tab at the start of the line by spaces"
        return _trouble(lines, here, "spaces for indentation", mend)
    if bracket and "nesting" not in problem and ("parsing a flow" in context or at_end):
        return _open_bracket(lines, bracket, here)
    if "parsing a block mapping" in context and line[here[1] : here[1] + 1] in ("]", "}"):
        return _trouble(lines, here, "brackets and braces in pairs", "take out the stray bracket")
    if "parsing a block mapping" in context and behind.endswith(("'", '"', "]", "}")):
        mend = "put the whole value in single quotes, and double a single quote inside it"
        return _trouble(lines, here, "nothing behind a closing quote or bracket", mend)
    for words, accepted, mend, at_its_beginning in _REMEDIES:
        if re.search(words, f"{context}: {problem}"):
            place = began if at_its_beginning else here
            if "expected ':'" in words:
                mend = _space_behind_colon(lines[place[0]].strip(" -\r")) or mend
            return _trouble(lines, place, accepted, mend)
    mend = f"look at this line and the one before it; quote texts in doubt ({problem})"
    return _trouble(lines, here, _ONE_KEY_A_LINE, mend)


def _trouble(lines: list[str], place: tuple[int, int], accepted: str, mend: str) -> Trouble:
    """A trouble at *place* (line and column from 0, as the parser counts), found: its line."""
    shown = lines[place[0]].strip(" \r") or "the end of the text"
    return Trouble(place[0] + 1, place[1] + 1, shown, accepted, mend)


# (what the parser says, what is accepted, the remedy, whether to point at where the thing began)
_REMEDIES = (
    (
        "nesting depth",
        TOO_DEEP[1],
        TOO_DEEP[2],
        False,
    ),
    (
        "cannot start any token",
        "text that starts with a letter, a digit or a quote",
        "quote the text: @, `, % and tabs cannot start one",
        False,
    ),
    (
        "could not find expected ':'",
        _ONE_KEY_A_LINE,
        "put a colon and a space between key and value",
        True,
    ),
    (
        "mapping values are not allowed",
        _ONE_KEY_A_LINE,
        "quote the text if the colon belongs to it; if this is a key, give it its own line and the "
        "indentation of its neighbours, and see that the line above is indented as they are and has a "
        "space behind its colon",
        False,
    ),
    (
        "sequence entries are not allowed",
        "'- ' at the start of a line",
        "put the '- ' on a line of its own below the key, or quote the text",
        False,
    ),
    (
        "scanning a quoted scalar: .*(end of stream|document separator)",
        "a quote that is closed",
        "close the quote, or double a quote that belongs to the text ('driller''s'); 9 5/8 in needs none",
        True,
    ),
    (
        "escape character|escape sequence|hexadecimal",
        "text in double quotes with \\\\ for a backslash",
        "use single quotes, in which a backslash is itself",
        False,
    ),
    (
        "scanning (an anchor|an alias|a tag)|(parsing|scanning) a tag|tag handle",
        "text that starts with a letter, a digit or a quote",
        "quote the text: &, * and ! have a meaning of their own in YAML",
        True,
    ),
    (
        "directive",
        "no YAML directives",
        "take the line out, or quote a text that starts with %",
        True,
    ),
    (
        "scanning a block scalar",
        "| or > alone at the end of the line, its text indented by spaces below it",
        "quote a text that starts with | or >; indent by spaces, not tabs",
        False,
    ),
    (
        "parsing a block mapping",
        _ONE_KEY_A_LINE,
        "give the line the indentation of its neighbours; see that quotes above it are closed",
        False,
    ),
    (
        "parsing a block collection",
        "'- ' before each item of a list, all at the same indentation",
        "start the item with '- ', or move the key to the left, out of the list",
        False,
    ),
    (
        "node content",
        "a value",
        "take out the stray comma or bracket, or quote the text",
        False,
    ),
    (
        "document start",
        "one document",
        "take out what follows '...', or the stray bracket",
        False,
    ),
)


def _open_bracket(lines: list[str], opened: tuple[int, int], here: tuple[int, int]) -> Trouble:
    """A bracket or brace that is not closed, or a comma missing between its items."""
    text, column = lines[opened[0]], opened[1]
    accepted = "brackets and braces in pairs, a comma between their items"
    close = f"close the '{text[column]}' of line {opened[0] + 1} with '{_PAIR[text[column]]}'"
    if " #" in text[column:] and here[0] > opened[0]:
        # The commonest way to lose a bracket in this trade: 29 # for 29 lb/ft.
        return _trouble(
            lines, opened, accepted, f"{close}; a ' #' starts a comment: quote a text that holds it"
        )
    if lines[here[0]].startswith("?", here[1]):
        return _trouble(lines, here, accepted, "quote a text that starts with ?")
    # Open at the end of its line on purpose: then what is missing is a comma further down.
    meant_open = text.rstrip().endswith((text[column], ",")) or opened[0] == here[0]
    place = here if meant_open else opened
    return _trouble(lines, place, accepted, f"write a comma before this, or {close}" if meant_open else close)


_PAIR = {"{": "}", "[": "]"}
