"""The examples of the rules' manual pages as edits of well files: the text that a reader sees is what runs.

A line is ``outcome[, in well]: step; step``. A step is ``path = value``, ``without path``, ``list + {item}``
or ``list + {item} before name``; "as it stands" changes nothing. The well is brindlewick-4 where none is
named.
"""

from __future__ import annotations

import re
from typing import NamedTuple

import yaml

from schematic.verbs import demos, rules
from schematic.wellfile import edit

OUTCOMES = {
    "wrong": "Found",
    "at the limit": "Passed",
    "right": "Passed",
    "does not apply": "DoesNotApply",
    "not checked": "NotChecked",
}
_PLACE = "here"
_LINE = re.compile(rf"({'|'.join(OUTCOMES)})(?:, in ([\w-]+))?: (.*)")


class Example(NamedTuple):
    """One line of a page: the rule, what it must answer, the well, the steps."""

    rule: str
    outcome: str
    well: str
    steps: tuple[str, ...]


def examples(code: str, page: str) -> list[Example]:
    """The examples of one page, continuation lines joined."""
    lines: list[str] = []
    for line in page.partition("\nExample\n")[2].splitlines():
        if _LINE.match(line.strip()):
            lines.append(line.strip())
        elif lines and line.strip():
            lines[-1] += f" {line.strip()}"
    made = []
    for line in lines:
        match = _LINE.fullmatch(line)
        assert match, line
        steps = tuple(step.strip() for step in match[3].split(";"))
        made.append(Example(code, match[1], match[2] or "brindlewick-4", steps))
    return made


def all_examples() -> list[Example]:
    """The examples of all pages."""
    return [example for page in rules() for example in examples(page.code, page.page)]


def text_of(example: Example, text: str = "") -> str:
    """The well's text, or another, without its options after the steps, each made in place."""
    text = text or demos()[f"{example.well}.yaml"]
    if "\noptions:\n" in text and "without options" not in example.steps:
        text = edit.remove(text, "options")  # other plans, whose paths a step may take away
    for step in example.steps:
        if step == "as it stands":
            continue
        if step.startswith("without "):
            text = edit.remove(text, step.removeprefix("without "))
        elif match := re.fullmatch(r"(.+?) \+ (.+?)(?: before (.+))?", step):
            item = yaml.load(match[2], Loader=yaml.BaseLoader)
            text = edit.insert(text, match[1], item, match[3])
        else:
            path, _sign, value = step.partition(" = ")
            assert value, step
            if value.startswith("{"):  # several values at once: in the place of one
                text = edit.set(text, path, _PLACE).replace(_PLACE, value)
            else:
                text = edit.set(text, path, value)
    return text
