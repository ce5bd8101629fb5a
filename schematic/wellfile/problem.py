"""What is wrong with a file a person wrote: where, what was found, what is accepted, the mend.

The facts stay on the exception as data; sentences are made from them. Nothing here knows about
YAML or wells.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, fields

LONGEST_FOUND = 80  # characters of the file's own text repeated in a message
LONGEST_FIELD = 1000  # of the others, which may hold texts of the file too

# Control, format, surrogate, private and unassigned characters; line and paragraph separators.
_UNSEEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


def visible(text: str) -> str:
    r"""Text in which every character that would not show, or would move others, is spelled out.

    >>> visible("7 in" + chr(9) + "29" + chr(0))
    '7 in\\t29\\x00'
    """
    return "".join(
        char.encode("unicode_escape").decode() if unicodedata.category(char) in _UNSEEN else char
        for char in text
    )


@dataclass(frozen=True, kw_only=True)
class Problem:
    """One thing wrong in a file.

    *line* and *column* count from 1 (0: the file as a whole). *path* goes by name
    (``strings.intermediate casing.shoe``) and is empty for the file as a whole. Unseen characters
    are spelled out and long texts cut (*found* to 80 characters), whoever makes the problem: every
    field may repeat text of the file.
    """

    file: str
    line: int
    column: int
    path: str
    found: str
    accepted: str
    mend: str

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            if isinstance(value, str):
                longest = LONGEST_FOUND if field.name == "found" else LONGEST_FIELD
                # Cut before spelling out as well: a text of the file may be 100 000 characters long.
                shown = visible(value[: longest + 1])
                if len(shown) > longest:
                    shown = shown[: longest - 1] + "…"
                object.__setattr__(self, field.name, shown)

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file  # 0: the file as a whole
        return (
            f"{f'{place}  {self.path}'.rstrip()}\n"
            f"  found     {self.found}\n"
            f"  accepted  {self.accepted}\n"
            f"  mend      {self.mend}"
        )


class InputError(Exception):
    """A file cannot be used; ``problems`` holds all that is wrong with it, in the file's order."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        given = tuple(problems)
        files = list(dict.fromkeys(problem.file for problem in given))
        self.problems = tuple(
            sorted(given, key=lambda each: (files.index(each.file), each.line, each.column))
        )
        super().__init__(self.problems)

    def __str__(self) -> str:
        return "\n".join(str(problem) for problem in self.problems)
