"""Charts of the installation: hook load against depth of the shoe, pressure at rest against volume pumped."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN, wrap
from schematic.drawing.comparison_page import page_scene
from schematic.drawing.fills import Rect
from schematic.drawing.grid import A4, Paper
from schematic.drawing.page import LEFT_MM, MEDIUM_PT, unit_text
from schematic.drawing.palette import BLACK, BLUE, FINE_MM, GREY, LIGHT_GREY, OUTLINE_MM, VERMILION
from schematic.drawing.scene import Dots, Group, Path, Point, Scene, Shape, Sheet, Style, Text
from schematic.drawing.setting_chart import setting_chart
from schematic.drawing.text import width_mm
from schematic.engineering.at_rest import FREE_FALL, lift_curve
from schematic.engineering.drag import Motion
from schematic.job.load_chart import load_chart, stands
from schematic.outcome import MissingInput
from schematic.units import System, in_system, show, size

_TOP_MM = 34.0
_ALONE_MM = 98.0, 104.0  # width and height of a chart that stands by itself
_FIGURES_MM = 14.0  # left of an axis
_AS_ONE_MM = 2.0  # ends of curves closer than that cannot be told apart
_MOST_DEPTHS = 40  # of a curve over depth
_NAME_GAP_MM = 0.8
_NOT_DOTTED = " What was measured is not drawn: it has the block in it, whose weight is not given."
Chart = Callable[[Evaluation, Rect, System], Group]
_DASHES: tuple[tuple[float, ...], ...] = ((), (2.2, 0.6), (1.2, 0.6), (0.6, 0.6), (2.2, 0.6, 0.5, 0.6))


class Axis(NamedTuple):
    """One axis: SI values to paper, with the marks that stand on it."""

    low: float
    high: float
    from_mm: float
    to_mm: float
    marks: tuple[tuple[float, str], ...]  # SI value and what it reads

    def at(self, value: float) -> float:
        """Where a value lies on paper."""
        share = (value - self.low) / (self.high - self.low)
        return self.from_mm + share * (self.to_mm - self.from_mm)


def axis(low: float, high: float, kind: str, system: System, from_mm: float, to_mm: float) -> Axis:
    """An axis from SI *low* to *high* or a little beyond, marked in round figures of its unit."""
    first, last = (in_system(value, kind, system) for value in (low, high))
    per_unit = (high - low) / (last - first) if last != first else 1.0
    span = max(last - first, 1e-9)
    step = next(s * 10.0**n for n in range(-6, 12) for s in (1.0, 2.0, 5.0) if span / (s * 10.0**n) <= 8.0)
    begin, end = math.floor(first / step + 1e-9), math.ceil(last / step - 1e-9)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    marks = tuple(
        (low + (n * step - first) * per_unit, f"{n * step:,.{decimals}f}".replace(",", THIN))
        for n in range(begin, max(end, begin + 1) + 1)
    )
    return Axis(marks[0][0], marks[-1][0], from_mm, to_mm, marks)


def _frame(x: Axis, y: Axis, box: Rect, x_head: str, y_head: str) -> list[Shape]:
    """Grid, figures and heads of a chart; x runs along the top where y is a depth."""
    lines = [((x.at(v), box.top_mm), (x.at(v), box.bottom_mm)) for v, _w in x.marks]
    lines += [((box.left_mm, y.at(v)), (box.right_mm, y.at(v))) for v, _w in y.marks]
    corners = (
        (box.left_mm, box.top_mm),
        (box.right_mm, box.top_mm),
        (box.right_mm, box.bottom_mm),
        (box.left_mm, box.bottom_mm),
    )
    shapes: list[Shape] = [
        Path(tuple(lines), Style(stroke=LIGHT_GREY, width_mm=FINE_MM)),
        Path((corners,), Style(stroke=BLACK, width_mm=OUTLINE_MM), closed=True),
    ]
    for value, words in x.marks:
        shapes.append(Text(x.at(value), box.top_mm - 1.2, words, colour=GREY, anchor="middle"))
    for value, words in y.marks:
        shapes.append(Text(box.left_mm - 1.2, y.at(value) + 0.8, words, colour=GREY, anchor="end"))
    shapes.append(Text(box.right_mm, box.top_mm - 4.4, x_head, anchor="end"))
    shapes.append(Text(box.left_mm - _FIGURES_MM + 1.0, box.top_mm - 4.4, y_head))
    return shapes


def _curve(points: Sequence[Point], colour: str, dash: tuple[float, ...], width: float) -> Path:
    return Path((tuple(points),), Style(stroke=colour, width_mm=width, dash=dash))


def _goes_in(load_n: float) -> bool:
    """Whether a hook load is one: where it falls below nought the string no longer goes in by itself."""
    return math.isfinite(load_n) and load_n >= 0.0


def hook_load_chart(evaluation: Evaluation, box: Rect, system: System) -> Group:
    """Hook load against depth of the shoe: picking up, rotating, slacking off, for several friction factors.

    Raises
    ------
    MissingInput
        As `load_chart.load_chart`.
    """
    plan = evaluation.plan
    at = stands(plan)
    every = max(1, math.ceil(len(at) / _MOST_DEPTHS))
    data = load_chart(plan, (*at[:-1:every], at[-1]))
    loads = [load for curve in data.curves for load in (*curve.up_n, *curve.down_n) if _goes_in(load)]
    locks = any(not _goes_in(load) for curve in data.curves for load in curve.down_n)
    # what was read has the block in it: without its weight it has no place on the axis
    dotted = data.measured if data.block_n is not None else ()
    loads += [reading.hook_n for reading in dotted]
    inner = Rect(box.left_mm + _FIGURES_MM, box.top_mm + 12.0, box.right_mm - 20.0, box.bottom_mm - 2.0)
    x = axis(min(*loads, 0.0), max(loads), "force", system, inner.left_mm, inner.right_mm)
    y = axis(0.0, data.shoe_md_m[-1], "depth", system, inner.top_mm, inner.bottom_mm)
    block = ", block included" if data.block_n is not None else ", without block"
    shapes = _frame(
        x,
        y,
        inner,
        f"hook load, {unit_text('force', system)}{block}",
        f"shoe MD, {unit_text('depth', system)}",
    )

    def points(values: Sequence[float]) -> list[Point]:
        pairs = zip(values, data.shoe_md_m, strict=True)
        return [(x.at(value), y.at(md)) for value, md in pairs if _goes_in(value)]

    names: list[_Name] = []
    for index, curve in enumerate(data.curves):
        strong = curve.of_file
        dash = () if strong else _DASHES[1 + index % (len(_DASHES) - 1)]
        for values in (curve.up_n, curve.down_n):
            shapes.append(
                _curve(points(values), BLUE if strong else GREY, dash, OUTLINE_MM if strong else FINE_MM)
            )
        cased, rock = curve.friction
        told = f"{cased:.2f}" if cased == rock else f"{cased:.2f}, {rock:.2f}"
        ends = curve.up_n[-1], curve.down_n[-1]
        names += [_Name(x.at(end), told, strong) for end in ends if _goes_in(end)]
    shapes.append(_curve(points(data.rotating_n), BLACK, (), OUTLINE_MM))
    level = [one.at_mm for one in names]
    as_one = len(level) > 1 and max(level) - min(level) < _AS_ONE_MM
    if as_one:
        names.clear()
    names.append(_Name(x.at(data.rotating_n[-1]), "no drag", strong=True))
    shapes += _named(names, inner.bottom_mm)
    for motion, mark in ((Motion.PICKING_UP, 0), (Motion.SLACKING_OFF, 1), (Motion.ROTATING, 2)):
        its = [(x.at(one.hook_n), y.at(one.shoe_md_m)) for one in dotted if one.motion is motion]
        if its:
            style = Style(fill=VERMILION) if mark < 2 else Style(stroke=VERMILION, width_mm=OUTLINE_MM)
            shapes.append(Dots(tuple(its), 0.9, style))
    words = (
        "Picking up to the right, slacking off to the left of the load without drag. "
        "Below the curves: friction in casing, open hole."
        + (" Heavy and bold: the plan." if plan.job.friction else "")
        + (" All of them lie in one line here: the hole hardly leans." if as_one else "")
        + (" Where a curve ends the string goes in no further by its weight." if locks else "")
        + (" Dots: measured." if dotted else "")
        + (_NOT_DOTTED if data.measured and not dotted else "")
        + ("" if plan.job.friction else " The file gives no friction factors: none of the curves is a plan.")
    )
    title = Text(box.left_mm, box.top_mm + 2.6, "Hook load on the way in", MEDIUM_PT, bold=True)
    said = [
        Text(box.left_mm, inner.bottom_mm + 8.2 + PITCH_MM * row, line)
        for row, line in enumerate(wrap(words, box.right_mm - box.left_mm))
    ]
    return Group("running string", "Hook load on the way in", (title, *shapes, *said))


class _Name(NamedTuple):
    """The name of a curve below its end; that of the plan is strong."""

    at_mm: float
    words: str
    strong: bool = False


def _named(names: Sequence[_Name], level: float) -> list[Shape]:
    """Names below the ends of curves, in two rows, the strong ones first; what would stand on another is left
    out.
    """
    shapes: list[Shape] = []
    rows: tuple[list[tuple[float, float]], ...] = ([], [])
    for at, words, strong in sorted(names, key=lambda name: (not name.strong, name.at_mm)):
        half = 0.5 * width_mm(words, SMALL_PT, strong) + 0.5 * _NAME_GAP_MM
        for n, taken in enumerate(rows):
            if all(at + half <= low or high <= at - half for low, high in taken):
                taken.append((at - half, at + half))
                base = level + 2.6 + PITCH_MM * n
                shapes.append(Text(at, base, words, bold=strong, anchor="middle"))
                break
    return shapes


def lift_chart(evaluation: Evaluation, box: Rect, system: System) -> Group:
    """The pressure that balances the columns at rest against all that is pumped.

    Raises
    ------
    MissingInput
        As `train.train`.
    """
    its = evaluation.job.train
    curve = lift_curve(evaluation.plan, its)
    pressures = [lift.pressure_pa for lift in curve]
    inner = Rect(box.left_mm + _FIGURES_MM, box.top_mm + 12.0, box.right_mm - 20.0, box.bottom_mm - 2.0)
    x = axis(0.0, its.total_m3, "volume", system, inner.left_mm, inner.right_mm)
    y = axis(min(pressures), max(*pressures, 0.0), "pressure", system, inner.bottom_mm, inner.top_mm)
    shapes = _frame(
        x,
        y,
        inner,
        f"pumped in all, {unit_text('volume', system)}",
        f"pressure at surface, {unit_text('pressure', system)}",
    )
    zero = ((inner.left_mm, y.at(0.0)), (inner.right_mm, y.at(0.0)))
    shapes.append(Path((zero,), Style(stroke=BLACK, width_mm=FINE_MM)))
    points = [(x.at(lift.pumped_m3), y.at(lift.pressure_pa)) for lift in curve]
    shapes.append(_curve(points, BLUE, (), OUTLINE_MM))
    marks = [(its.dart_from_m3, "dart away")]
    if its.to_plug_m3 is not None:
        marks.append((its.dart_from_m3 + its.to_plug_m3, "dart meets plug"))
    marks.append((its.total_m3, "bump"))
    shapes += _named([_Name(x.at(m3), words) for m3, words in marks], inner.bottom_mm)
    for m3, _words in marks:
        run = ((x.at(m3), inner.top_mm), (x.at(m3), inner.bottom_mm))
        shapes.append(Path((run,), Style(stroke=BLACK, width_mm=FINE_MM, dash=(1.2, 0.6))))
    end = show(curve[-1].pressure_pa, "pressure", system)
    words = f"At the bump the columns hold {end} at rest (U-tube, cement at its highest)."
    if any(lift.free_fall for lift in curve):
        words += f" Below nought: {FREE_FALL}."
    title = Text(box.left_mm, box.top_mm + 2.6, "Pressure at rest while pumping", MEDIUM_PT, bold=True)
    said = [
        Text(box.left_mm, inner.bottom_mm + 8.2 + PITCH_MM * row, line)
        for row, line in enumerate(wrap(words, box.right_mm - box.left_mm))
    ]
    return Group("cement", "Pressure at rest while pumping", (title, *shapes, *said))


def charts_page(evaluation: Evaluation, system: System, paper: Paper = A4) -> Sheet:
    """The charts that can be drawn: loads and pressures of the job on one page, setting pressures on another.

    No page where none of its charts can be drawn.
    """
    top, bottom = _TOP_MM, paper.title_mm - 4.0
    half = 0.5 * (top + bottom)
    upper = Rect(LEFT_MM, top, paper.right_mm, half - 14.0)
    lower = Rect(LEFT_MM, half + 2.0, paper.right_mm, bottom - 14.0)
    whole = Rect(LEFT_MM, top, paper.right_mm, bottom)
    drawn = [
        (groups, words)
        for charts, words in (
            (((hook_load_chart, upper), (lift_chart, lower)), "At rest but for drag."),
            (((setting_chart, whole),), "At rest."),
        )
        if (groups := _drawn(evaluation, system, charts))
    ]
    subject = f"{size(evaluation.plan.depth.liner.od_m, system)} liner: charts of the installation"
    return Sheet(
        tuple(
            page_scene(
                evaluation,
                groups,
                subject,
                None,
                system,
                paper,
                (n, len(drawn), "charts"),
                words,
                scaled=False,
            )
            for n, (groups, words) in enumerate(drawn, 1)
        )
    )


def hook_loads_sheet(evaluation: Evaluation, system: System) -> Sheet:
    """The curve of hook load on the way in with what was measured, by itself.

    Raises
    ------
    MissingInput
        As `load_chart.load_chart`.
    """
    drawn = hook_load_chart(evaluation, Rect(3.0, 2.0, _ALONE_MM[0] - 3.0, _ALONE_MM[1] - 18.0), system)
    title = f"{evaluation.plan.identity.name}: {drawn.title}"
    return Sheet((Scene(*_ALONE_MM, title, "", (drawn,)),))


def _drawn(evaluation: Evaluation, system: System, charts: tuple[tuple[Chart, Rect], ...]) -> list[Group]:
    """Charts in their places; one that lacks an input says so, and where all do there is none."""
    groups: list[Group] = []
    for draw, box in charts:
        try:
            groups.append(draw(evaluation, box, system))
        except MissingInput as error:
            words = f"Not drawn: needs {', '.join(error.missing)}."
            lines = wrap(words, box.right_mm - box.left_mm)
            texts = tuple(
                Text(box.left_mm, box.top_mm + 4.0 + PITCH_MM * row, line) for row, line in enumerate(lines)
            )
            groups.append(Group("", "not drawn", texts))
    return [] if all(group.title == "not drawn" for group in groups) else groups
