"""The setting pressures at surface as bands from zero, one row each, in the order in which they come."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN
from schematic.drawing.fills import Rect, hatch
from schematic.drawing.findings import SETTING, flag, letters
from schematic.drawing.page import fit, unit_text
from schematic.drawing.palette import BLACK, BLUE, FINE_MM, GREY, LIGHT_GREY, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.job.setting import BUMP, EITHER, HANGER, PLUG, SEAT, TOOL, Setting
from schematic.outcome import Found
from schematic.units import System, in_system, number

_NAMES_MM = 20.5  # at least
_BAR_MM = 1.9
_ROW_MM = 2.95
_AXIS_MM = 1.6  # from the last row to the foot of the axis figures
_LONGEST_NAME = 0.45  # of the room
_SHARES = tuple(0.05 * n for n in range(20, 3, -1))  # of the room, for the axis
_GAP_MM = 0.9  # from a bar to its figures
_HATCH_MM = 1.0
_NOT_GIVEN = "not given"
_ON_SHEET = {SEAT: "ball seat shears"}


class _Row(NamedTuple):
    """One pressure: from *low* to *high*; from nought when it is only a limit; words alone when not known."""

    name: str
    words: str
    low_pa: float | None = None
    high_pa: float = 0.0
    up_to: bool = False
    held_pa: float | None = None

    @property
    def most_pa(self) -> float:
        """The highest pressure of its bar and mark; nought where it has none."""
        return max(self.high_pa, self.held_pa or 0.0)


def pressure_bands(evaluation: Evaluation, rect: Rect, system: System) -> list[Group]:
    """Bands of the pressures that the file gives; nothing where it gives none.

    What the well's equipment asks for and the file does not give says so; rows that have no room are counted.
    """
    before, after = _before(evaluation, system), _after(evaluation, system)
    rows = [*before, *after]
    most = max((row.most_pa for row in rows), default=0.0)
    if most <= 0.0:
        return []
    axis = _axis(rows, most, rect, system)
    head = f"Setting pressures at surface, {unit_text('pressure', system)}"
    lines: list[_Row | str] = [*before, *(["after the dart:"] if after else []), *after]
    y = first = rect.top_mm + 2.4 + PITCH_MM + 1.0
    space = rect.bottom_mm - _AXIS_MM - first
    pitch = min(_ROW_MM, max(PITCH_MM, space / len(lines)))
    count = int((space + 1e-9) / pitch)
    if len(lines) > count:
        left_out = sum(isinstance(line, _Row) for line in lines[count - 1 :])
        lines = [*lines[: count - 1], f"and {left_out} more in the well file"]
    drawn: list[Shape] = []
    for line in lines:
        if isinstance(line, str):
            drawn.append(Text(rect.left_mm, y, line, colour=GREY, backed=True))
        else:
            drawn += _row(line, rect, axis.x, y)
        y += pitch
    return [
        Group(
            "installation",
            "Setting pressures",
            (Text(rect.left_mm, rect.top_mm + 2.4, head, bold=True), *_grid(axis, first, y), *drawn),
        ),
        *_flagged(evaluation, rect.left_mm + width_mm(head, SMALL_PT, bold=True), rect.top_mm + 1.6),
    ]


def _flagged(evaluation: Evaluation, left_mm: float, y_mm: float) -> list[Group]:
    """Behind the title the letters of findings about the pressures."""
    found = [one for one in letters(evaluation) if one[1].subject.path == SETTING]
    groups = []
    for place, (letter, outcome) in enumerate(found):
        if isinstance(outcome.answer, Found) and not outcome.answer.at_md_m:
            shapes = flag(left_mm + 3.0 + 4.6 * place, y_mm, letter, outcome.answer)
            groups.append(Group(outcome.subject.path, f"Finding {letter}", tuple(shapes)))
    return groups


class _Axis(NamedTuple):
    """From nought at *left_mm*; the figures to mark on it, one each *step* of the unit."""

    left_mm: float
    mm_per_unit: float
    step: float
    marks: tuple[str, ...]
    system: System

    def x(self, pressure_pa: float) -> float:
        """Where a pressure lies."""
        return self.left_mm + in_system(pressure_pa, "pressure", self.system) * self.mm_per_unit


def _axis(rows: list[_Row], most_pa: float, rect: Rect, system: System) -> _Axis:
    """The longest axis on which all figures have room beside their bars."""
    longest = max(width_mm(row.name, SMALL_PT) + 1.5 for row in rows)
    left = rect.left_mm + max(_NAMES_MM, min(longest, _LONGEST_NAME * (rect.right_mm - rect.left_mm)))
    top = in_system(most_pa, "pressure", system)
    step = next(s * 10.0**n for n in range(-3, 12) for s in (1.0, 2.0, 5.0) if top / (s * 10.0**n) <= 4.5)
    count = math.ceil(top / step - 1e-9)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    marks = tuple(f"{n * step:,.{decimals}f}".replace(",", THIN) for n in range(count + 1))
    whole = rect.right_mm - left - 0.5 * width_mm(marks[-1], SMALL_PT)
    axes = [_Axis(left, share * whole / (count * step), step, marks, system) for share in _SHARES]
    return next((axis for axis in axes if _fit(rows, axis, rect)), axes[-1])


def _grid(axis: _Axis, top_mm: float, foot_mm: float) -> list[Shape]:
    """Light uprights through the rows, and the figures at their feet that have room."""
    uprights, figures = [], []
    reached = -math.inf
    for n, mark in enumerate(axis.marks):
        at, half = axis.left_mm + n * axis.step * axis.mm_per_unit, 0.5 * width_mm(mark, SMALL_PT)
        uprights.append(((at, top_mm - 2.0), (at, foot_mm - 1.6)))
        if at - half > reached:
            figures.append(Text(at, foot_mm + 1.0, mark, colour=GREY, anchor="middle"))
            reached = at + half + 0.7
    return [Path(tuple(uprights), Style(stroke=LIGHT_GREY, width_mm=FINE_MM)), *figures]


def _fit(rows: list[_Row], axis: _Axis, rect: Rect) -> bool:
    """Whether the figures of all rows have room beside their bars."""
    return all(
        axis.x(row.most_pa) + _GAP_MM + width_mm(row.words, SMALL_PT) <= rect.right_mm
        or axis.x(row.low_pa) - 2.0 * _GAP_MM - width_mm(row.words, SMALL_PT) >= axis.left_mm
        for row in rows
        if row.low_pa is not None
    )


def _row(row: _Row, rect: Rect, x: Callable[[float], float], y: float) -> list[Shape]:
    """A name, its bar, and the figures on the side that has room for them."""
    name = Text(rect.left_mm, y, fit(row.name, x(0.0) - 1.0 - rect.left_mm))
    if row.low_pa is None:
        words = fit(row.words, rect.right_mm - x(0.0) - _GAP_MM)
        return [name, Text(x(0.0) + _GAP_MM, y, words, colour=GREY, backed=True)]
    low, high = x(row.low_pa), max(x(row.high_pa), x(row.low_pa) + 0.6)
    bar = ((low, y - _BAR_MM), (high, y - _BAR_MM), (high, y), (low, y))
    shapes: list[Shape] = [name]
    if row.up_to:
        shapes.append(Path(hatch(bar, _HATCH_MM, rising=True), Style(stroke=GREY, width_mm=FINE_MM)))
        shapes.append(Path((bar,), Style(stroke=BLACK, width_mm=FINE_MM), closed=True))
    else:
        shapes.append(Path((bar,), Style(fill=BLUE), closed=True))
    reach = high
    if row.held_pa is not None and row.held_pa > row.high_pa:
        at = x(row.held_pa)
        lines = (((high, y - 0.5 * _BAR_MM), (at, y - 0.5 * _BAR_MM)), ((at, y - _BAR_MM), (at, y)))
        shapes.append(Path(lines, Style(stroke=BLACK, width_mm=OUTLINE_MM)))
        reach = max(at, high)
    if low - 2.0 * _GAP_MM - width_mm(row.words, SMALL_PT) >= x(0.0) and (
        reach + _GAP_MM + width_mm(row.words, SMALL_PT) > rect.right_mm
    ):
        shapes.append(Text(low - _GAP_MM, y, row.words, anchor="end", backed=True))
    else:
        words = fit(row.words, rect.right_mm - reach - _GAP_MM)
        shapes.append(Text(reach + _GAP_MM, y, words, backed=True))
    return shapes


def _rows(its: Setting, system: System, *names: str) -> list[_Row]:
    """The rows of some bands; where one is expected and not given, a row that says so."""
    made = []
    for name in names:
        band = next((one.surface for one in its.bands if one.name == name), None)
        shown = _ON_SHEET.get(name, name)
        if band is not None and band.columns_pa is None:
            shown = f"{shown}, at the tool"  # how the columns stand is not known
        if band is not None:
            ends = _figures(system, band.low_pa, band.high_pa)
            words = ends[0] if band.low_pa == band.high_pa else " to ".join(ends)
            made.append(_Row(shown, words, band.low_pa, band.high_pa))
        elif any(one.what == name for one in its.missing):
            made.append(_Row(shown, _NOT_GIVEN))
    return made


def _figures(system: System, *pressures_pa: float) -> list[str]:
    """Figures of equal decimals: none where all are whole."""
    written = [number(pressure, "pressure", system, THIN) for pressure in pressures_pa]
    if all(word.endswith(".0") for word in written):
        return [word.removesuffix(".0") for word in written]
    return written


def _before(evaluation: Evaluation, system: System) -> list[_Row]:
    """What happens before the dart, and what else in the liner moves by pressure."""
    its, held = evaluation.job.setting, evaluation.plan.job.hanger_held_pa
    hanger = _rows(its, system, HANGER)
    if held is not None:
        words = f", hold {_figures(system, held)[0]}"
        hanger = [row._replace(words=f"{row.words}{words}", held_pa=held) for row in hanger]
    moved = [*hanger, *_rows(its, system, TOOL, SEAT)]
    if its.circulate_pa is not None:
        words = f"up to {_figures(system, its.circulate_pa)[0]}"
        moved.insert(0, _Row("circulate", words, 0.0, its.circulate_pa, up_to=True))
    elif any(row.low_pa is not None for row in moved):
        moved.insert(0, _Row("circulate", f"limit {_NOT_GIVEN}"))
    return [*moved, *_rows(its, system, *(band.name for band in its.bands if band.branch == EITHER))]


def _after(evaluation: Evaluation, system: System) -> list[_Row]:
    """What happens after the dart: a branch of its own."""
    its, job = evaluation.job.setting, evaluation.plan.job
    final, over = job.final_pressure_pa, job.bump_over_final_pa
    bump = _rows(its, system, BUMP)
    if final is not None and over is not None:
        at, above = _figures(system, final + over, over)
        bump = [row._replace(name="bump, about", words=f"{at}, final + {above}") for row in bump]
    elif over is not None:
        bump = [_Row(BUMP, f"final + {_figures(system, over)[0]}, final {_NOT_GIVEN}")]
    elif final is not None:
        bump = [_Row(BUMP, f"final {_figures(system, final)[0]}, over it {_NOT_GIVEN}")]
    return [*_rows(its, system, PLUG), *bump]
