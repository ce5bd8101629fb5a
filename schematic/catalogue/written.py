"""A pipe as people write it, taken apart: size, weight, wall and the words that are left.

Nothing here knows which pipes exist. A number keeps the digits it was written with, since
``70 kg/m`` claims less than ``69.94 kg/m``.
"""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from schematic.catalogue.rows import POUND_PER_FOOT_KG_PER_M
from schematic.units import INCH_M

_LONGEST = 200  # characters; a pipe that needs more is something else

_NUMBER = r"(?:[0-9]+(?:\ +|-)[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+\.[0-9]*|\.?[0-9]+)"
_END = r"(?!(?!x\s*[.0-9])[A-Za-z])"  # no letter but the x of a wall
_LENGTH = rf"(?P<length>in(?:ch(?:es)?)?{_END}\.?|\"|mm{_END})"
_WEIGHT = rf"(?P<weight>(?:lb[ms]?\ ?/\ ?ft|lb\ per\ ft|ppf|kg\ ?/\ ?m){_END}|\#(?:\ ?/\ ?ft)?)"

_OD = re.compile(rf"\s*(?P<number>{_NUMBER})\s*{_LENGTH}", re.IGNORECASE)
_NOMINAL_WEIGHT = re.compile(rf"(?:\bx\s*)?(?<![\w./-])(?P<number>{_NUMBER})\s*{_WEIGHT}", re.IGNORECASE)
_NAMED_WALL = re.compile(
    rf"\b(?:x|wall|wt)\s*(?P<number>{_NUMBER})(?:\s*{_LENGTH}|(?![\w/.]))(?:\s*wall\b)?",
    re.IGNORECASE,
)
_PLAIN_WALL = re.compile(rf"(?<![\w./-])(?P<number>{_NUMBER})\s*{_LENGTH}(?:\s*wall\b)?", re.IGNORECASE)
_BARE = re.compile(rf"\s*(?P<number>{_NUMBER})(?![\w/])\s*(?=[A-Za-z])")

_MARKS = str.maketrans(
    dict.fromkeys("\u2033\u201c\u201d", '"')  # double prime, curly quotes
    | {"\u2044": "/", "\u00d7": "x"}  # fraction slash, multiplication sign
    | dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-")  # hyphens, dashes, minus
)


class LookUpError(ValueError):
    """A text names no listed pipe, or several; says what is accepted and how to mend it."""

    def __init__(self, found: str, accepted: str, mend: str) -> None:
        shown = found if len(found) <= _LONGEST else found[:_LONGEST] + "…"
        super().__init__(f"{shown!r}: expected {accepted}; {mend}")
        self.found, self.accepted, self.mend = shown, accepted, mend


@dataclass(frozen=True, slots=True)
class Measure:
    """A number and its unit as written; *decimals* is None for a whole number or a fraction."""

    value: float
    decimals: int | None
    unit: str  # in, mm, lb/ft, kg/m
    text: str

    def __str__(self) -> str:
        return f"{self.text} {self.unit}"

    @property
    def si(self) -> float:
        """The value in metres or kilograms per metre."""
        return self.value * _SI[self.unit]

    def same_unit(self, si: float) -> float:
        """Another SI value in the unit that was written."""
        return si / _SI[self.unit]

    @property
    def half_digit(self) -> float:
        """Half of the last digit that was written, in the written unit."""
        return 0.5 * 10.0 ** -(self.decimals or 0)


_SI = {"in": INCH_M, "mm": 0.001, "lb/ft": POUND_PER_FOOT_KG_PER_M, "kg/m": 1.0}


@dataclass(frozen=True, slots=True)
class WrittenPipe:
    """The parts of one pipe's text; *rest* is what is neither size, weight nor wall."""

    text: str
    od: Measure
    weight: Measure | None
    wall: Measure | None
    rest: str


def tidy(text: str) -> str:
    """One spelling for inch marks, dashes, built fractions, decimal commas and spaces."""
    built = "".join(
        f" {unicodedata.normalize('NFKC', mark)} "
        if unicodedata.category(mark) == "No" and "VULGAR" in unicodedata.name(mark, "")
        else mark
        for mark in text
    )
    plain = built.translate(_MARKS).replace("''", '"')
    plain = re.sub(r"(?<=[0-9]),(?=[0-9])", ".", plain)  # no pipe has a thousand of anything
    return re.sub(r"\s+", " ", plain.translate(_MARKS)).strip()


def take_apart(text: str, remaining: str | None = None) -> WrittenPipe:
    """Size, nominal weight and wall of a pipe's text.

    *remaining* is the tidied text when words were already taken out of it; errors quote *text*.
    A bare number right after a size in inches is a weight in lb/ft, as the trade says it, when
    words follow (``7 in 29 P-110``). A wall after ``x`` takes the unit of the size.

    Raises
    ------
    LookUpError
        When the text does not begin with a size and its unit, or names two weights or walls.
    """
    accepted = "a pipe such as '9 5/8 in 47 lb/ft L-80'"
    if len(text) > _LONGEST:
        raise LookUpError(text, accepted, f"it is longer than {_LONGEST} characters")
    plain = tidy(text) if remaining is None else remaining
    size = _OD.match(plain)
    if size is None:
        number = re.match(rf"\s*({_NUMBER})", plain)
        reason = (
            f"the size has no unit: write '{number[1].strip()} in' or mm"
            if number
            else "begin with the outside diameter"
        )
        raise LookUpError(text, accepted, reason)
    od = _measure(text, size, size["length"])
    weight, rest = _take(text, _NOMINAL_WEIGHT, plain[size.end() :], "weight", None)
    wall, rest = _take(text, _NAMED_WALL, rest, "length", od.unit)
    if wall is None:
        wall, rest = _take(text, _PLAIN_WALL, rest, "length", None)
    bare = _BARE.match(rest)
    if weight is None and wall is None and bare and od.unit == "in":
        weight, rest = _measure(text, bare, "lb/ft"), rest[bare.end() :]
    for pattern in (_NOMINAL_WEIGHT, _PLAIN_WALL):
        if second := pattern.search(rest):
            raise LookUpError(text, accepted, f"{second[0].strip()!r} is one figure too many: leave it out")
    return WrittenPipe(text, od, weight, wall, re.sub(r"^[\s,;]+|[\s,;]+$", "", rest))


def without_unit(rest: str) -> str | None:
    """Bare number with which *rest* begins, if it does."""
    match = re.match(rf"({_NUMBER})(?![\w/])", rest)
    return match[1] if match else None


def in_a_row(names: Iterable[str]) -> str:
    """Choices in a row, each once, in the order given."""
    return ", ".join(dict.fromkeys(names))


def _take(
    text: str, pattern: re.Pattern[str], rest: str, group: str, default_unit: str | None
) -> tuple[Measure | None, str]:
    """First figure of a kind in *rest*, and *rest* without it."""
    match = pattern.search(rest)
    if match is None:
        return None, rest
    measure = _measure(text, match, match[group] or default_unit or "")
    return measure, f"{rest[: match.start()].rstrip()} {rest[match.end() :].lstrip()}".strip()


def _measure(text: str, match: re.Match[str], unit: str) -> Measure:
    number = re.sub(r"\ +|(?<=[0-9])-", " ", match["number"])
    *whole, last = number.split(" ")
    if "/" in last and int(last.split("/")[1]) == 0:
        raise LookUpError(text, "a size such as '9 5/8 in'", "a fraction of nought is no size")
    value = sum((Fraction(part) for part in whole), Fraction(last))
    decimals = len(last.partition(".")[2]) if "." in last else None
    return Measure(float(value), decimals, _unit(unit), number)


def _unit(written: str) -> str:
    unit = written.lower().replace(" ", "")
    if unit.startswith("in") or unit == '"':
        return "in"
    return unit if unit in ("mm", "kg/m") else "lb/ft"
