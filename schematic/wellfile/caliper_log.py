"""Hole diameters from a caliper log beside the well file; what is left out is counted and said.

Volumes integrate by the trapezoid of the area over depth, so the hole between two readings counts as one of
the equal-area diameter sqrt((d1^2 + d2^2)/2). The mean of diameters would read low.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from pathlib import PurePath
from statistics import median
from typing import NamedTuple

from schematic.units import System, UnitError, parse, show
from schematic.wellfile.grid import refuse
from schematic.wellfile.las import Curve, Las, read_las
from schematic.wellfile.unit_words import factor, unit_word

# Names under which calipers are met; a differential caliper (DCAL) is none.
_NAMES = {
    "CALI",
    "CAL",
    "CALIPER",
    "CAL1",
    "CAL2",
    "HCAL",
    "LCAL",
    "C1",
    "C2",
    "C13",
    "C24",
    "DLCL",
    "ACCL1",
    "CALX",
    "CALY",
}

# Values that loggers write where there is no reading, whatever the header says.
_FILLERS = {
    -999.0,
    -999.25,
    -999.2500,
    -9999.0,
    -9999.25,
    -99999.0,
    -999999.0,
    9999.0,
    99999.0,
    999999.0,
    999.25,
    9999.25,
}
_NO_NUMBER = {
    "nan",
    "-nan",
    "null",
    "(null)",
    "none",
    "n/a",
    "-",
    "inf",
    "-inf",
    "-1.#ind",
    "1.#qnan",
    "absent",
}

# Ours, from the logs in tests/data: a closed tool reads one and the same figure far under the bit size.
_CLOSED_UNDER = 0.75  # of the bit size
_CLOSED_READINGS = 5
_CLOSED_SPREAD = 0.01
_BRIDGED_M = (
    2.0  # a longer silence between readings is a gap (or three steps of the log, if those are longer)
)
_STRAY_SHARE = 0.05  # more depths than this out of order: not a depth
_PLAUSIBLE = (0.75, 3.0)  # the median reading, in bit sizes; else the unit is wrong


class Wanted(NamedTuple):
    """What the well file says about a caliper, and the hole section that it stands in."""

    bit_m: float
    top_m: float
    bottom_m: float
    curve: str | None = None
    unit: str | None = None  # of the readings, where the log names none
    depth_unit: str | None = None
    closed_below_m: float | None = None
    leave_out_under_m: float | None = None


class Reading(NamedTuple):
    """One reading of the caliper."""

    md_m: float
    diameter_m: float


class Stretch(NamedTuple):
    """Hole between two readings: *diameter_m* has the mean of their areas, *least_m* is the smaller one."""

    top_md_m: float
    bottom_md_m: float
    diameter_m: float
    least_m: float


class CaliperLog(NamedTuple):
    """Hole by stretches from the top down, with gaps where the log is silent, and what was left out."""

    stretches: tuple[Stretch, ...]
    said: tuple[str, ...]


class _Counts:
    """How many readings were left out, by reason."""

    def __init__(self) -> None:
        self.by_reason: dict[str, int] = {}

    def one(self, reason: str) -> None:
        self.by_reason[reason] = self.by_reason.get(reason, 0) + 1

    def text(self) -> str:
        return ", ".join(f"{count} {reason}" for reason, count in self.by_reason.items())


def caliper_log(data: bytes, file: str, wanted: Wanted, system: System = "metric") -> CaliperLog:
    """Read the caliper of a hole section from a log in LAS.

    Depths are taken as they stand, from the datum of the well file. The nearest reading is carried on to
    either end of the section where that lies within one step.

    Raises
    ------
    InputError
        When the caliper or its unit is not certain, a record is broken, or no reading is left.
    """
    las = read_las(data, file)
    index = _caliper(las, wanted.curve)
    curve = las.curves[index]
    depth_factor = _unit(las, las.curves[0], wanted.depth_unit, "depth unit", "m")
    size_factor = _unit(las, curve, wanted.unit, "unit", "in")
    counts = _Counts()
    readings = _readings(las, index, depth_factor, size_factor, wanted, counts)
    readings, closed = _open(readings, wanted)
    where = (
        f"{curve.name} from {show(wanted.top_m, 'depth', system)} to {show(wanted.bottom_m, 'depth', system)}"
    )
    if len(readings) < 2:
        left_out = counts.text() or "none in that interval"
        raise refuse(
            file,
            curve.line,
            0,
            curve.name,
            f"no readings left of {where} ({left_out}{'; tool closed' if closed else ''})",
            "at least two readings in the hole section",
            "check 'from', 'to', 'closed below' (a depth) and the depth unit",
        )
    _plausible(las, curve, readings, wanted, system)
    said = _said(counts, closed, readings, wanted, system)
    said += _header_bit(las, wanted, system)
    stretches = tuple(_stretches(readings, wanted))
    return CaliperLog(stretches, tuple(f"caliper log {PurePath(file).name}: {text}" for text in said))


def _caliper(las: Las, name: str | None) -> int:
    """Which curve is the caliper."""
    curves = [f"{curve.name} ({curve.unit})" if curve.unit else curve.name for curve in las.curves[1:]]
    known = ", ".join(curves[:30]) + (", ..." if len(curves) > 30 else "")
    if name is not None:
        found = [i for i, curve in enumerate(las.curves) if i and curve.name.casefold() == name.casefold()]
        wrong = f"no curve '{name}'" if not found else f"{len(found)} curves '{name}'"
        mend = "mend 'curve' in the well file"
    else:
        found = [i for i, curve in enumerate(las.curves) if i and _is_caliper(curve)]
        several = " and ".join(las.curves[i].name for i in found)
        wrong = f"the calipers {several}" if found else "no curve that is known as a caliper"
        mend = "name one in the well file: 'curve: ...'"
    if len(found) != 1:
        raise refuse(las.file, las.curves[0].line, 0, "", wrong, f"one of: {known}", mend)
    return found[0]


def _is_caliper(curve: Curve) -> bool:
    words = curve.description.casefold()
    called_so = "caliper" in words and "diff" not in words and unit_word(curve.unit, "length") is not None
    return curve.name.upper() in _NAMES or called_so


def _unit(las: Las, curve: Curve, given: str | None, key: str, example: str) -> float:
    """Metres in a unit of a curve."""
    unit = unit_word(curve.unit, "length") if curve.unit else None
    if unit and given and unit != given:
        raise refuse(
            las.file,
            curve.line,
            0,
            curve.name,
            f"'{curve.unit}', but '{key}: {given}' in the well file",
            "one unit",
            f"take '{key}' out of the well file, or mend the log's header",
        )
    if not unit and (curve.unit or not given):
        found = f"the unit '{curve.unit}'" if curve.unit else "no unit"
        mend = (
            "mend the log's header" if curve.unit else f"give it in the well file, such as '{key}: {example}'"
        )
        raise refuse(las.file, curve.line, 0, curve.name, found, "a unit of length: m, ft, in, mm, cm", mend)
    return factor(unit or given or "", "length")


def _value(text: str, extra: str) -> tuple[float | None, str]:
    """A figure of the data, and a unit written behind it; None where nothing was read."""
    if text.casefold() in _NO_NUMBER or not text:
        return None, ""
    try:
        return float(text), ""
    except ValueError:
        match = re.fullmatch(r"([+-]?\d+(?:[.,]\d+)?)\s*([A-Za-z'\"]*)", text)
        if match is None or (match[2] and unit_word(match[2], "length") is None):
            raise ValueError(extra) from None
        return float(match[1].replace(",", ".")), match[2]


def _readings(
    las: Las, index: int, depth_factor: float, size_factor: float, wanted: Wanted, counts: _Counts
) -> list[Reading]:
    """Readings inside the section, from the top down; what is none is counted."""
    null = las.number("NULL")
    rows: list[tuple[int, float, float | None]] = []
    for line, depth_text, text in las.beside_depth(index):
        values: list[float | None] = []
        for curve, raw, scale in (
            (las.curves[0], depth_text, depth_factor),
            (las.curves[index], text, size_factor),
        ):
            try:
                value, named = _value(raw, curve.name)
            except ValueError:
                raise refuse(
                    las.file, line, 0, curve.name, f"'{raw}'", "a number", "mend the record, or take it out"
                ) from None
            if value is not None and (value == null or value in _FILLERS or not math.isfinite(value)):
                value = None
            unit = unit_word(named, "length") if named else None
            values.append(None if value is None else value * (factor(unit, "length") if unit else scale))
        if values[0] is None:
            counts.one("without a depth")
        else:
            rows.append((line, values[0], values[1]))
    upward = len(rows) > 1 and rows[-1][1] < rows[0][1]
    ordered: list[Reading] = []
    stray = 0
    last = -math.inf
    for _line, depth, size in reversed(rows) if upward else rows:
        inside = wanted.top_m - 1e-9 <= depth <= wanted.bottom_m + 1e-9
        if not depth > last:
            stray += 1
            if inside:
                counts.one("at a depth not below the one before")
            continue
        last = depth
        if not inside:
            continue
        if size is None:
            counts.one("null")
        elif size <= 0.0:
            counts.one("negative" if size < 0.0 else "nought")
        elif wanted.leave_out_under_m is not None and size < wanted.leave_out_under_m:
            counts.one("under the size to leave out")
        else:
            ordered.append(Reading(depth, size))
    if stray > max(10, _STRAY_SHARE * len(rows)):
        name = las.curves[0].name
        found = f"{stray} of {len(rows)} depths not in order"
        raise refuse(
            las.file, las.curves[0].line, 0, name, found, "depths that rise or fall", "sort the log by depth"
        )
    return ordered


def _open(readings: list[Reading], wanted: Wanted) -> tuple[list[Reading], list[tuple[float, float]]]:
    """Readings of the open tool, and where it was closed: below the depth given, and where it is stuck."""
    closed: list[tuple[float, float]] = []
    if wanted.closed_below_m is not None:
        below = [one for one in readings if one.md_m > wanted.closed_below_m]
        if below:
            closed.append((wanted.closed_below_m, below[-1].md_m))
        readings = readings[: len(readings) - len(below)]
    kept: list[Reading] = []
    run: list[Reading] = []

    def settle() -> None:
        if len(run) >= _CLOSED_READINGS:
            middle = median(one.diameter_m for one in run)
            stuck = sum(abs(one.diameter_m - middle) <= _CLOSED_SPREAD * middle for one in run)
            if stuck >= max(_CLOSED_READINGS, len(run) / 2):
                closed.append((run[0].md_m, run[-1].md_m))
                run.clear()
        kept.extend(run)
        run.clear()

    for one in readings:
        if one.diameter_m < _CLOSED_UNDER * wanted.bit_m:
            run.append(one)
        else:
            settle()
            kept.append(one)
    settle()
    return kept, sorted(closed)


def _plausible(las: Las, curve: Curve, kept: list[Reading], wanted: Wanted, system: System) -> None:
    middle = median(one.diameter_m for one in kept)
    low, high = (share * wanted.bit_m for share in _PLAUSIBLE)
    if not low <= middle <= high:
        raise refuse(
            las.file,
            curve.line,
            0,
            curve.name,
            f"half of the readings under {show(middle, 'diameter', system)}, "
            f"with a bit of {show(wanted.bit_m, 'diameter', system)}",
            f"a median of {show(low, 'diameter', system)} to {show(high, 'diameter', system)}",
            "check the unit of the curve, the bit size and the interval",
        )


def _said(
    counts: _Counts, closed: list[tuple[float, float]], kept: list[Reading], wanted: Wanted, system: System
) -> list[str]:
    parts: list[str] = []
    if counts.by_reason:
        parts.append(f"{counts.text()} readings left out")
    for top, bottom in closed:
        if bottom >= kept[-1].md_m:
            parts.append(f"closed below {show(top, 'depth', system)}")
        else:
            parts.append(f"closed from {show(top, 'depth', system)} to {show(bottom, 'depth', system)}")
    said = ["; ".join(parts)] if parts else []
    narrow = [one for one in kept if one.diameter_m < _CLOSED_UNDER * wanted.bit_m]
    if narrow:
        least = min(narrow, key=lambda one: one.diameter_m)
        said.append(
            f"{len(narrow)} {'readings' if len(narrow) > 1 else 'reading'} "
            "under three quarters of the bit size kept, "
            f"the least {show(least.diameter_m, 'diameter', system)} at {show(least.md_m, 'depth', system)}"
        )
    return said


def _header_bit(las: Las, wanted: Wanted, system: System) -> list[str]:
    """The bit size in the log's header where it is not the hole section's: the log of another section?"""
    entry = las.header.get("BS")
    if entry is None or not re.search(r"[1-9]", entry.text):
        return []
    unit = unit_word(entry.unit, "length") if entry.unit else None
    text = entry.text if unit is None or re.search(r"[A-Za-z\"]", entry.text) else f"{entry.text} {unit}"
    try:
        bit = parse(text, "length").si  # 216 mm, 8 5/8
    except UnitError:
        return []
    if abs(bit - wanted.bit_m) <= 0.01 * wanted.bit_m:
        return []
    sizes = show(bit, "diameter", system), show(wanted.bit_m, "diameter", system)
    return [f"its header names a bit of {sizes[0]}, the hole section one of {sizes[1]}"]


def _stretches(readings: list[Reading], wanted: Wanted) -> Iterable[Stretch]:
    """The hole between readings that are not too far apart; the ends carried on by up to a step."""
    steps = [below.md_m - above.md_m for above, below in zip(readings, readings[1:], strict=False)]
    usual = median(steps)
    bridged = max(_BRIDGED_M, 3.0 * usual)
    first, last = readings[0], readings[-1]
    if 0.0 < first.md_m - wanted.top_m <= usual:
        yield Stretch(wanted.top_m, first.md_m, first.diameter_m, first.diameter_m)
    for above, below in zip(readings, readings[1:], strict=False):
        if below.md_m - above.md_m <= bridged:
            one, two = above.diameter_m, below.diameter_m
            yield Stretch(above.md_m, below.md_m, math.sqrt((one * one + two * two) / 2.0), min(one, two))
    if 0.0 < wanted.bottom_m - last.md_m <= usual:
        yield Stretch(last.md_m, wanted.bottom_m, last.diameter_m, last.diameter_m)
