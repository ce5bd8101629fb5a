"""The words of each step, from `steps.yaml`, which says how they are to be read."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any, NamedTuple


class Line(NamedTuple):
    """One sentence and the words that must hold for it."""

    text: str
    when: tuple[str, ...]


class Remedy(NamedTuple):
    """A sign that does not show, what to do then, and the words that must hold for it."""

    question: str
    action: str
    when: tuple[str, ...]


class StepText(NamedTuple):
    """One step in words."""

    code: str
    title: str
    sub: tuple[Line, ...]  # the first that stands is told
    when: tuple[str, ...]
    do: tuple[Line, ...]
    pressure: tuple[Line, ...]
    volume: tuple[Line, ...]
    look_for: tuple[Line, ...]
    if_not: tuple[Remedy, ...]
    as_read: tuple[str, ...]
    caution: tuple[Line, ...]


def holds(when: tuple[str, ...], words: frozenset[str]) -> bool:
    """Whether all words of a condition hold; "no packer" holds where "packer" does not."""
    return all(word[3:] not in words if word.startswith("no ") else word in words for word in when)


@cache
def step_texts() -> tuple[StepText, ...]:
    """All steps in the order of the job."""
    import yaml

    text = Path(__file__).with_name("steps.yaml").read_text(encoding="utf-8")
    content = yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    return tuple(_step(written, content["cautions"]) for written in content["steps"])


def _step(written: dict[str, Any], cautions: dict[str, str]) -> StepText:
    return StepText(
        written["code"],
        written["title"],
        _some(written["sub"]),
        tuple(written.get("when", ())),
        tuple(_line(one) for one in written["do"]),
        _some(written["pressure"]),
        _some(written["volume"]),
        tuple(_line(one) for one in written["look for"]),
        tuple(
            Remedy(one["question"], one["action"], tuple(one.get("when", ()))) for one in written["if not"]
        ),
        tuple(written["as read"]),
        tuple(
            _line(cautions.get(one, one) if isinstance(one, str) else one)
            for one in written.get("caution", ())
        ),
    )


def _some(written: str | list[str | dict[str, Any]]) -> tuple[Line, ...]:
    return tuple(_line(one) for one in ([written] if isinstance(written, str) else written))


def _line(written: str | dict[str, Any]) -> Line:
    if isinstance(written, str):
        return Line(written, ())
    return Line(written["say"], tuple(written["when"]))
