"""The kinds of value a well file holds, each read from text: quantities, words, counts, plain text."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from pydantic_core import PydanticCustomError, core_schema

from schematic.catalogue.pipe import (
    CasingChoice,
    DrillPipeChoice,
    LookUpError,
    casing,
    drill_pipe,
)
from schematic.units import DIMENSIONS, UnitError, Written, parse
from schematic.wellfile.problem import visible

_LONGEST_TEXT = 300


class Reader:
    """How a field is read, as an annotation; pydantic builds no schema of its own for the value."""

    def __init__(self, read: Callable[[object], object], schema: dict[str, object]) -> None:
        self.read, self.schema = read, schema

    def __get_pydantic_core_schema__(self, _source: object, _handler: object) -> core_schema.CoreSchema:
        """The one function that reads and refuses."""
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, _core: object, _handler: object) -> dict[str, object]:
        """What 'lapline schema' prints for the field."""
        return dict(self.schema)


def refuse(found: object, accepted: str, mend: str) -> PydanticCustomError:
    """An error that pydantic collects and the reader turns into a problem with its three lines."""
    return PydanticCustomError("field", "{found}", {"found": str(found), "accepted": accepted, "mend": mend})


def _scalar(value: object, accepted: str) -> str:
    if isinstance(value, str):
        if not value.strip():
            raise refuse("an empty text", accepted, "write a value, or take the key out")
        return value
    if value is None:
        raise refuse("nothing", accepted, "write a value, or take the key out")
    kind = "a list" if isinstance(value, list) else "several keys"
    raise refuse(kind, accepted, "write one value")


def quantity(value: object, dimension: str) -> Written:
    """A quantity from its text, or from ``{low: .., likely: .., high: ..}``."""
    accepted = DIMENSIONS[dimension][1]
    if isinstance(value, dict):
        if not {"likely"} <= set(value) <= {"low", "likely", "high"}:
            raise refuse(
                "keys " + ", ".join(map(str, value)),
                f"{accepted}; or low, likely and high of it",
                "write 'likely' and, if known, 'low' and 'high'",
            )
        likely, low, high = (
            quantity(value[key], dimension) if key in value else None for key in ("likely", "low", "high")
        )
        assert likely is not None
        if any(part and part.low is not None for part in (low, likely, high)):
            raise refuse(f"{value}", "a tolerance, or low, likely and high", "write one of the two")
        band = (low.si if low else likely.si, likely.si, high.si if high else likely.si)
        if sorted(band) != list(band):
            raise refuse(f"{value}", "low, likely, high in rising order", "exchange them")
        text = " / ".join(part.text for part in (low, likely, high) if part)
        return Written(text, likely.si, band[0], band[2])
    try:
        return parse(_scalar(value, accepted), dimension)
    except UnitError as error:
        raise refuse(error.found, error.accepted, error.mend) from None


def _quantity_type(
    dimension: str, *, least: float | None = None, above: float | None = None, most: float | None = None
) -> Any:  # noqa: ANN401
    def read(value: object) -> Written:
        written = quantity(value, dimension)
        low, high = written.band
        if most is not None and high > most * (1.0 + 1e-12):
            raise refuse(written.text, f"at most {most * 100:g} %", "check the decimal and the unit")
        if above is not None and not low > above:
            raise refuse(written.text, "a value above nought", "check the sign and the digits")
        if least is not None and low < least:
            raise refuse(written.text, "a value of nought or more", "check the sign")
        return written

    schema: dict[str, object] = {"type": "string", "description": DIMENSIONS[dimension][1]}
    return Annotated[Written, Reader(read, schema)]


@dataclass(frozen=True, slots=True)
class WrittenCasing:
    """A casing as it was written, beside its row of the catalogue."""

    text: str
    choice: CasingChoice


@dataclass(frozen=True, slots=True)
class WrittenDrillPipe:
    """A drill pipe as it was written, beside its row of the catalogue."""

    text: str
    choice: DrillPipeChoice


def _casing(value: object) -> WrittenCasing:
    text = _text(value)
    try:
        return WrittenCasing(text, casing(text))
    except LookUpError as error:
        raise refuse(text, error.accepted, error.mend) from None


def _drill_pipe(value: object) -> WrittenDrillPipe:
    text = _text(value)
    try:
        return WrittenDrillPipe(text, drill_pipe(text))
    except LookUpError as error:
        raise refuse(text, error.accepted, error.mend) from None


def word(*choices: str) -> Any:  # noqa: ANN401
    """One of a few words; space, hyphen and underscore are equal, case does not matter."""

    def read(value: object) -> str:
        accepted = "one of: " + ", ".join(choices)
        text = re.sub(r"[\s_-]+", " ", _scalar(value, accepted).strip()).lower()
        plain = {re.sub(r"[\s_-]+", " ", choice).lower(): choice for choice in choices}
        if text in plain:
            return plain[text]
        near = difflib.get_close_matches(text, plain, 1)
        raise refuse(value, accepted, f"did you mean '{plain[near[0]]}'?" if near else "choose one of them")

    return Annotated[str, Reader(read, {"enum": list(choices)})]


def _text(value: object) -> str:
    accepted = f"a text of one line, at most {_LONGEST_TEXT} characters"
    text = _scalar(value, accepted).strip()
    if len(text) > _LONGEST_TEXT:
        raise refuse(f"{len(text)} characters", accepted, "shorten it")
    if visible(text) != text:
        raise refuse(text, accepted, "write it on one line without control or unseen characters")
    return text


def _count(value: object) -> int:
    accepted = "a whole number, without a unit"
    text = _scalar(value, accepted).strip()
    if not re.fullmatch(r"\d{1,6}", text):
        raise refuse(text, accepted, "write digits only, like '73'")
    return int(text)


def _yes(value: object) -> bool:
    text = _scalar(value, "yes or no").strip().lower()
    if text in ("yes", "true", "on"):
        return True
    if text in ("no", "false", "off"):
        return False
    raise refuse(value, "yes or no", "write 'yes' or 'no'")


def _day(value: object) -> date:
    accepted = "a date such as 2026-11-20"
    text = _scalar(value, accepted).strip()
    try:
        if not re.fullmatch(r"\d{4}-\d\d-\d\d", text, re.ASCII):  # later Pythons read more forms than this
            raise ValueError
        return date.fromisoformat(text)
    except ValueError:
        raise refuse(text, accepted, "write year-month-day") from None


def limit_type(dimension: str) -> Any:  # noqa: ANN401
    """The type of a limit of a dimension: nought or more."""
    return _quantity_type(dimension, least=0.0)


Depth = _quantity_type("length", least=0.0)
Height = _quantity_type("length")
Length = _quantity_type("length", above=0.0)
Distance = _quantity_type("length", least=0.0)
Angle = _quantity_type("angle", least=0.0)
Density = _quantity_type("density", above=0.0)
Pressure = _quantity_type("pressure", least=0.0)
Force = _quantity_type("force", least=0.0)
Mass = _quantity_type("mass", least=0.0)
LinearWeight = _quantity_type("mass per length", above=0.0)
Volume = _quantity_type("volume", least=0.0)
MassVolume = _quantity_type("volume per mass", above=0.0)
Flow = _quantity_type("flow", above=0.0)
Speed = _quantity_type("speed", above=0.0)
Duration = _quantity_type("time", least=0.0)
Temperature = _quantity_type("temperature", above=0.0)
Viscosity = _quantity_type("viscosity", least=0.0)
Stress = _quantity_type("stress", least=0.0)
Dogleg = _quantity_type("dogleg", least=0.0)
Ratio = _quantity_type("ratio", least=0.0)
Share = _quantity_type("ratio", least=0.0, most=1.0)  # of a whole
Extra = _quantity_type("ratio", least=0.0, most=5.0)  # beyond a whole: excess, washout
PressureGradient = _quantity_type("pressure gradient", above=0.0)
StrokeVolume = _quantity_type("volume per stroke", above=0.0)
Torque = _quantity_type("torque", least=0.0)
Compressibility = _quantity_type("compressibility", least=0.0)

Text = Annotated[str, Reader(_text, {"type": "string"})]
Count = Annotated[int, Reader(_count, {"type": "string", "pattern": "^[0-9]+$"})]
YesNo = Annotated[bool, Reader(_yes, {"enum": ["yes", "no"]})]
Day = Annotated[date, Reader(_day, {"type": "string", "format": "date"})]
CasingPipe = Annotated[
    WrittenCasing,
    Reader(_casing, {"type": "string", "description": "casing"}),
]
DrillPipe = Annotated[
    WrittenDrillPipe,
    Reader(_drill_pipe, {"type": "string", "description": "drill pipe"}),
]
