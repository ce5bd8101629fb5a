"""The setting pressures at surface as bands from zero, one row each, in the order in which they come."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN
from schematic.drawing.fills import Rect, hatch
from schematic.drawing.page import unit_text
from schematic.drawing.palette import BLACK, BLUE, FINE_MM, GREY, LIGHT_GREY, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.units import System, in_system, number

_NAMES_MM = 20.5
_BAR_MM = 1.9
_ROW_MM = 2.95
_SHARES = (0.96, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6, 0.55, 0.5)  # of the room, for the axis
_GAP_MM = 0.9  # from a bar to its figures
_HATCH_MM = 1.0
Band = tuple[float, float, float]


class _Row(NamedTuple):
    """One pressure: from *low* to *high*; from nought when it is only a limit."""

    name: str
    low_pa: float
    high_pa: float
    words: str
    up_to: bool = False
    held_pa: float | None = None


def pressure_bands(evaluation: Evaluation, rect: Rect, system: System) -> list[Group]:
    """Bands of the pressures that the file gives; nothing where it gives none."""
    before, after = _rows(evaluation, system)
    rows = [*before, *after]
    if not rows:
        return []
    left = rect.left_mm + _NAMES_MM
    most = max(row.held_pa or row.high_pa for row in rows)
    top = in_system(most, "pressure", system)
    step = next(s * 10.0**n for n in range(7) for s in (1.0, 2.0, 5.0) if top / (s * 10.0**n) <= 4.5)
    end = math.ceil(top / step) * step
    whole = rect.right_mm - left
    room = next(
        (share * whole for share in _SHARES if _fit(rows, left, share * whole / end, rect, system)), whole
    )

    def x(pressure_pa: float) -> float:
        return left + in_system(pressure_pa, "pressure", system) / end * room

    head = f"Setting pressures at surface, {unit_text('pressure', system)}"
    shapes: list[Shape] = [Text(rect.left_mm, rect.top_mm + 2.4, head, bold=True)]
    y = rect.top_mm + 2.4 + PITCH_MM + 1.0
    first = y - 2.0
    drawn: list[Shape] = []
    for row in before:
        drawn += _row(row, rect, x, y)
        y += _ROW_MM
    if after:
        drawn.append(Text(rect.left_mm, y, "after the dart:", colour=GREY))
        y += _ROW_MM
        for row in after:
            drawn += _row(row, rect, x, y)
            y += _ROW_MM
    lines, figures = [], []
    for n in range(round(end / step) + 1):
        at = left + n * step / end * room
        lines.append(((at, first), (at, y - 1.6)))
        word = f"{n * step:,.0f}".replace(",", THIN)
        figures.append(Text(at, y + 1.0, word, colour=GREY, anchor="middle"))
    shapes.append(Path(tuple(lines), Style(stroke=LIGHT_GREY, width_mm=FINE_MM)))
    return [Group("installation", "Setting pressures", (*shapes, *drawn, *figures))]


def _fit(rows: list[_Row], left_mm: float, mm_per_unit: float, rect: Rect, system: System) -> bool:
    """Whether the figures of all rows have room beside their bars."""

    def at(pressure_pa: float) -> float:
        return left_mm + in_system(pressure_pa, "pressure", system) * mm_per_unit

    return all(
        max(at(row.held_pa or 0.0), at(row.high_pa)) + _GAP_MM + width_mm(row.words, SMALL_PT)
        <= rect.right_mm
        or at(row.low_pa) - 2.0 * _GAP_MM - width_mm(row.words, SMALL_PT) >= left_mm
        for row in rows
    )


def _row(row: _Row, rect: Rect, x: Callable[[float], float], y: float) -> list[Shape]:
    """A name, its bar, and the figures on the side that has room for them."""
    low, high = x(row.low_pa), max(x(row.high_pa), x(row.low_pa) + 0.6)
    bar = ((low, y - _BAR_MM), (high, y - _BAR_MM), (high, y), (low, y))
    shapes: list[Shape] = [Text(rect.left_mm, y, row.name)]
    if row.up_to:
        shapes.append(Path(hatch(bar, _HATCH_MM, rising=True), Style(stroke=GREY, width_mm=FINE_MM)))
        shapes.append(Path((bar,), Style(stroke=BLACK, width_mm=FINE_MM), closed=True))
    else:
        shapes.append(Path((bar,), Style(fill=BLUE), closed=True))
    reach = high
    if row.held_pa is not None:
        at = x(row.held_pa)
        lines = (((high, y - 0.5 * _BAR_MM), (at, y - 0.5 * _BAR_MM)), ((at, y - _BAR_MM), (at, y)))
        shapes.append(Path(lines, Style(stroke=BLACK, width_mm=OUTLINE_MM)))
        reach = max(at, high)
    width = width_mm(row.words, SMALL_PT)
    if reach + _GAP_MM + width <= rect.right_mm:
        shapes.append(Text(reach + _GAP_MM, y, row.words, backed=True))
    else:
        shapes.append(Text(low - _GAP_MM, y, row.words, anchor="end", backed=True))
    return shapes


def _rows(evaluation: Evaluation, system: System) -> tuple[list[_Row], list[_Row]]:
    job = evaluation.plan.job

    def figure(pressure_pa: float) -> str:
        return number(pressure_pa, "pressure", system, THIN).removesuffix(".0")

    def band(name: str, given: Band | None, held_pa: float | None = None) -> list[_Row]:
        if given is None:
            return []
        _likely, low, high = given
        words = figure(low) if low == high else f"{figure(low)} to {figure(high)}"
        held = f", hold {figure(held_pa)}" if held_pa is not None else ""
        return [_Row(name, low, high, words + held, held_pa=held_pa)]

    before: list[_Row] = []
    if job.circulate_up_to_pa is not None:
        before.append(
            _Row(
                "circulate",
                0.0,
                job.circulate_up_to_pa,
                f"up to {figure(job.circulate_up_to_pa)}",
                up_to=True,
            )
        )
    before += band("hanger sets", job.hanger_sets_pa, job.hanger_held_pa)
    before += band("tool releases", job.tool_releases_pa)
    before += band("ball seat shears", job.seat_shears_pa)
    after = band("plug releases", job.plug_releases_pa)
    if job.final_pressure_pa is not None and job.bump_over_final_pa is not None:
        bump = job.final_pressure_pa + job.bump_over_final_pa
        after.append(_Row("bump, about", bump, bump, figure(bump)))
    return before, after
