"""The chart of the setting pressures: bands, how far each is taken, what is never exceeded, and limits."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import THIN, wrap
from schematic.drawing.fills import Rect, hatch
from schematic.drawing.page import MEDIUM_PT, fit, unit_text
from schematic.drawing.palette import BLACK, BLUE, FINE_MM, GREY, LIGHT_GREY, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.job.bounds import Bound, PressureChart, Row, pressure_chart
from schematic.job.setting import BALL_BRANCH, DART_BRANCH
from schematic.outcome import MissingInput
from schematic.units import System, in_system, number, sentence_case, show

_NAMES_MM, _SAYS_MM = 54.0, 54.0  # the columns left and right of the bars
_BAR_MM, _AT_TOOL_MM, _NEVER_MM = 4.0, 1.8, 1.2
_PT, _LINE_MM = 7.5, 3.3
_LEFT_LINES, _RIGHT_LINES = 4, 3
_ROW_MM = _LEFT_LINES * _LINE_MM + 2.0
_HATCH_MM = 1.2
_MORE = 1.04  # the axis ends so much beyond the highest that stands on it
_BRANCHES = {BALL_BRANCH: "before the dart", DART_BRANCH: "after the dart"}


def setting_chart(evaluation: Evaluation, box: Rect, system: System) -> Group:
    """All bands of a plan, a row each, and below them the limits that stay the same through the job.

    Raises
    ------
    MissingInput
        When the file gives no setting pressure at all.
    """
    data = pressure_chart(evaluation.plan, evaluation.job.setting)
    if not data.rows:
        raise MissingInput(*dict.fromkeys(need for one in data.missing for need in one.needs))
    left, right = box.left_mm + _NAMES_MM, box.right_mm - _SAYS_MM
    per_pa = (right - left) / (_MORE * data.most_pa)

    def x(pressure_pa: float) -> float:
        return left + pressure_pa * per_pa

    title = f"Setting pressures at surface, at rest, {unit_text('pressure', system)}"
    shapes: list[Shape] = [Text(box.left_mm, box.top_mm + 2.6, title, MEDIUM_PT, bold=True)]
    top = box.top_mm + 14.0
    y = top + 1.0
    if data.circulate_pa is not None:
        shapes += _circulate(data.circulate_pa, x, box, y, system)
        y += _BAR_MM + 3.0
    words = box.right_mm - box.left_mm
    below = [
        part for line in (*_limits(data, system), *_notes(data)) for part in wrap(line, words, size_pt=_PT)
    ]
    count = max(1, int((box.bottom_mm - y - _LINE_MM * (len(below) + 2)) / _ROW_MM))
    shown = data.rows if len(data.rows) <= count else data.rows[:count]
    for row in shown:
        shapes += _row(row, x, box, right + 2.0, y, system)
        y += _ROW_MM
    shapes = [*_grid(data, x, top, y, system), *shapes]
    left_out = len(data.rows) - len(shown)
    y += 1.0
    for line in (*([f"and {left_out} more in the tables"] if left_out else []), *below):
        y += _LINE_MM
        if y > box.bottom_mm:
            break
        shapes.append(Text(box.left_mm, y, line, _PT))
    return Group("installation", "Setting pressures", tuple(shapes))


def _figures(system: System, *pressures_pa: float) -> str:
    return " to ".join(dict.fromkeys(number(value, "pressure", system, THIN) for value in pressures_pa))


def _circulate(
    pressure_pa: float, x: Callable[[float], float], box: Rect, y: float, system: System
) -> list[Shape]:
    bar = ((x(0.0), y), (x(pressure_pa), y), (x(pressure_pa), y + _BAR_MM), (x(0.0), y + _BAR_MM))
    return [
        Text(box.left_mm, y + 2.8, "Circulate", _PT, bold=True),
        Text(box.left_mm + 18.0, y + 2.8, f"up to {_figures(system, pressure_pa)}", _PT),
        Path(hatch(bar, _HATCH_MM, rising=True), Style(stroke=GREY, width_mm=FINE_MM)),
        Path((bar,), Style(stroke=BLACK, width_mm=FINE_MM), closed=True),
    ]


def _row(
    row: Row, x: Callable[[float], float], box: Rect, says_mm: float, y: float, system: System
) -> list[Shape]:
    """A band: its name and figures on the left, its bar, and on the right what must not be exceeded."""
    band = row.band.surface
    name = _BRANCHES.get(band.branch, "whenever it is reached")
    words = _figures(system, band.low_pa, band.high_pa)
    if band.counts_to_pa > band.high_pa:
        words += f", taken to {_figures(system, band.counts_to_pa)}"
    lines = [words, name]
    title = fit(sentence_case(band.name), _NAMES_MM - 2.0, _PT, bold=True)
    shapes: list[Shape] = [Text(box.left_mm, y + 2.8, title, _PT, bold=True)]
    bar_foot = y + _BAR_MM
    low, high = x(band.low_pa), max(x(band.high_pa), x(band.low_pa) + 0.7)
    bar = ((low, y), (high, y), (high, bar_foot), (low, bar_foot))
    shapes.append(Path((bar,), Style(fill=BLUE), closed=True))
    if band.counts_to_pa > band.high_pa:
        at, middle = x(band.counts_to_pa), y + 0.5 * _BAR_MM
        held = (((high, middle), (at, middle)), ((at, y), (at, bar_foot)))
        shapes.append(Path(held, Style(stroke=BLACK, width_mm=OUTLINE_MM)))
    if band.columns_pa:
        ends = [
            min(max(x(end + band.columns_pa), x(0.0)), says_mm - 2.0) for end in (band.low_pa, band.high_pa)
        ]
        if ends[1] - ends[0] > 0.1:
            y0, y1 = bar_foot + 0.5, bar_foot + 0.5 + _AT_TOOL_MM
            at_tool = ((ends[0], y0), (ends[1], y0), (ends[1], y1), (ends[0], y1))
            shapes.append(Path((at_tool,), Style(stroke=BLACK, width_mm=FINE_MM), closed=True))
        sign = "more" if band.columns_pa > 0.0 else "less"
        lines.append(f"{show(abs(band.columns_pa), 'pressure', system, THIN)} {sign} at the plug")
    parts = [line for text in lines for line in wrap(text, _NAMES_MM - 2.0, size_pt=_PT)]
    shapes += [
        Text(box.left_mm, y + 2.8 + _LINE_MM * n, part, _PT)
        for n, part in enumerate(parts[: _LEFT_LINES - 1], 1)
    ]
    return [*shapes, *_never(row.never, x, says_mm, box.right_mm, y, system)]


def _never(
    bound: Bound | None,
    x: Callable[[float], float],
    says_mm: float,
    right_mm: float,
    y: float,
    system: System,
) -> list[Shape]:
    """The heavy bar, where it is on the axis, and what it is."""
    if bound is None:
        return [Text(says_mm, y + 2.8, "never beyond: not computed", _PT, colour=GREY)]
    shapes: list[Shape] = []
    at = x(bound.pressure_pa)
    if at < says_mm - 2.0:
        run = ((at, y - 1.0), (at, y + _BAR_MM + 1.0))
        shapes.append(Path((run,), Style(stroke=BLACK, width_mm=_NEVER_MM)))
    told = f"never beyond {_figures(system, bound.pressure_pa)}"
    lines = wrap(sentence_case(bound.why), right_mm - says_mm, size_pt=_PT)[:_RIGHT_LINES]
    shapes.append(Text(says_mm, y + 2.8, told, _PT, bold=True))
    return shapes + [Text(says_mm, y + 2.8 + _LINE_MM * n, line, _PT) for n, line in enumerate(lines, 1)]


def _grid(
    data: PressureChart, x: Callable[[float], float], top: float, foot: float, system: System
) -> list[Shape]:
    """Light uprights with their figures at the head, dashed ones where a limit stands, named by a letter."""
    most = in_system(_MORE * data.most_pa, "pressure", system)
    per_unit = _MORE * data.most_pa / most
    step = next(s * 10.0**n for n in range(-3, 12) for s in (1.0, 2.0, 5.0) if most / (s * 10.0**n) <= 8.0)
    shapes: list[Shape] = []
    uprights = []
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    for n in range(int(most / step + 1e-9) + 1):
        at = x(n * step * per_unit)
        uprights.append(((at, top), (at, foot)))
        shapes.append(
            Text(
                at,
                top - 1.2,
                f"{n * step:,.{decimals}f}".replace(",", THIN),
                _PT,
                colour=GREY,
                anchor="middle",
            )
        )
    shapes.insert(0, Path(tuple(uprights), Style(stroke=LIGHT_GREY, width_mm=FINE_MM)))
    reached = [-1.0, -1.0]
    for letter, bound in _lettered(data.limits):
        if bound.pressure_pa > data.most_pa:
            continue
        at = x(bound.pressure_pa)
        half = 0.5 * width_mm(letter, _PT, True)
        row = 0 if at - half > reached[0] + 0.8 else 1
        reached[row] = at + half
        run = ((at, top), (at, foot))
        shapes.append(Path((run,), Style(stroke=BLACK, width_mm=FINE_MM, dash=(1.2, 0.6))))
        shapes.append(Text(at, top - 4.6 - _LINE_MM * row, letter, _PT, bold=True, anchor="middle"))
    return shapes


def _lettered(limits: Sequence[Bound]) -> list[tuple[str, Bound]]:
    return [(chr(ord("a") + n), bound) for n, bound in enumerate(limits[:26])]


def _limits(data: PressureChart, system: System) -> list[str]:
    return [
        f"{letter}: {show(bound.pressure_pa, 'pressure', system, THIN)}, {bound.why}"
        + ("; beyond the axis" if bound.pressure_pa > data.most_pa else "")
        for letter, bound in _lettered(data.limits)
    ]


def _notes(data: PressureChart) -> list[str]:
    shown = ["bar: the band"]
    if any(row.band.counts_to_pa > row.band.high_pa for row in data.rows):
        shown.append("line to a tick: taken to and held")
    if any(row.never for row in data.rows):
        shown.append("heavy bar: never beyond")
    if any(row.band.columns_pa for row in data.rows):
        shown.append("open bar: the difference at the plug with the columns at rest")
    said = [f"{sentence_case('; '.join(shown))}. Friction of flow is not computed."]
    unknown = dict.fromkeys(name for row in data.rows if row.never for name in row.never.unknown)
    needs = [f"{one.what} needs {', '.join(one.needs)}" for one in data.missing]
    said += [f"Of no known rating, may bear less: {', '.join(unknown)}."] if unknown else []
    return [*said, *([f"Not computed: {'; '.join(needs)}."] if needs else [])]
