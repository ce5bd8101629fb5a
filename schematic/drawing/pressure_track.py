"""The pressure window on the depth scale of the main column: pore, fracture, leak-off and mud, as EMW.

Lines are drawn only where the file gives points; outside the window is hatched.
"""

from __future__ import annotations

import math

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, THIN
from schematic.drawing.fills import hatch
from schematic.drawing.frame import Frame
from schematic.drawing.palette import (
    BLACK,
    ESTIMATED_DASH_MM,
    FINE_MM,
    GREY,
    LIGHT_GREY,
    OUTLINE_MM,
    VERMILION,
)
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Style, Text
from schematic.drawing.tracks import unit_text
from schematic.units import System, in_system, number

LEFT_MM, RIGHT_MM = 170.0, 186.6
_LEAK_OFF_MM = 0.7


_LEAST_TICK_MM = 4.3  # closer figures would touch


def _axis(least: float, most: float) -> tuple[float, float, list[float]]:
    """Ends of the axis at round figures just outside the values, and the round figures to mark on it."""
    fine = next(
        step for step in (0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0) if (most - least) / step <= 10.0
    )
    low, high = math.floor(least / fine) * fine, math.ceil(most / fine) * fine
    high = high if high > low else low + fine
    room = (RIGHT_MM - LEFT_MM) / (high - low)
    step = next((fine * n for n in (1, 2, 5, 10) if fine * n * room >= _LEAST_TICK_MM), high - low)
    first = math.ceil(low / step - 1e-9)
    return low, high, [step * n for n in range(first, math.floor(high / step + 1e-9) + 1)]


def _up_to(end_m: float, curve: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The curve down to the end of the drawn range, cut between two points."""
    kept = [point for point in curve if point[0] <= end_m]
    below = curve[len(kept) : len(kept) + 1]
    if kept and below and kept[-1][0] < end_m:
        (md0, v0), (md1, v1) = kept[-1], below[0]
        kept.append((end_m, v0 + (v1 - v0) * (end_m - md0) / (md1 - md0)))
    return kept


def pressure_track(evaluation: Evaluation, frame: Frame, system: System, head_mm: float) -> list[Group]:
    """The window; nothing where the file gives no pressures."""
    plan = evaluation.plan
    end_md = frame.scale.bottom_md_m
    points = sorted(plan.formation.pressures, key=lambda p: p.md_m)
    pore = _up_to(end_md, [(p.md_m, p.pore_kg_per_m3) for p in points if p.pore_kg_per_m3 is not None])
    fracture = _up_to(
        end_md, [(p.md_m, p.fracture_kg_per_m3) for p in points if p.fracture_kg_per_m3 is not None]
    )
    if len(pore) < 2 and len(fracture) < 2:
        return []
    mud = plan.fluid("mud")
    values = [value for _md, value in (*pore, *fracture)]
    values += [mud.density_kg_per_m3] if mud else []
    shown = [in_system(value, "density", system) for value in values]
    low, high, marks = _axis(min(shown), max(shown))
    limit = head_mm + PITCH_MM + 1.4

    def x(value: float) -> float:
        return LEFT_MM + (in_system(value, "density", system) - low) / (high - low) * (RIGHT_MM - LEFT_MM)

    def line(curve: list[tuple[float, float]]) -> tuple[Point, ...]:
        return tuple((x(value), max(frame.y(md), limit)) for md, value in curve)

    y0, y1 = limit, frame.scale.levels_mm[-1]
    unit = unit_text("density", system)
    shapes: list[Shape] = [Text(LEFT_MM - 1.0, head_mm, f"EMW, {unit}", bold=True)]
    decimals = next(n for n in (0, 1, 2) if n == 2 or all(abs(m - round(m, n)) < 1e-9 for m in marks))
    for value in marks:
        at = LEFT_MM + (value - low) / (high - low) * (RIGHT_MM - LEFT_MM)
        shapes.append(Path((((at, y0), (at, y1)),), Style(stroke=LIGHT_GREY, width_mm=FINE_MM)))
        digits = f"{value:.{decimals}f}"
        shapes.append(Text(at, head_mm + PITCH_MM, digits, colour=GREY, anchor="middle"))
    if len(pore) >= 2:
        curve = line(pore)
        outline = (*curve, (LEFT_MM, curve[-1][1]), (LEFT_MM, curve[0][1]))
        shapes.append(Path(hatch(outline, 1.5, rising=False), Style(stroke=GREY, width_mm=FINE_MM)))
        shapes.append(Path((curve,), Style(stroke=BLACK, width_mm=OUTLINE_MM)))
    if len(fracture) >= 2:
        curve = line(fracture)
        outline = (*curve, (RIGHT_MM, curve[-1][1]), (RIGHT_MM, curve[0][1]))
        shapes.append(Path(hatch(outline, 1.0, rising=True), Style(stroke=VERMILION, width_mm=FINE_MM)))
        shapes.append(Path((curve,), Style(stroke=VERMILION, width_mm=OUTLINE_MM)))
    if mud is not None:
        at = x(mud.density_kg_per_m3)
        run = ((at, y0), (at, frame.y(plan.depth.td_md_m)))
        shapes.append(Path((run,), Style(stroke=BLACK, width_mm=OUTLINE_MM, dash=ESTIMATED_DASH_MM)))
        figure = number(mud.density_kg_per_m3, "density", system, THIN)
        shapes.append(Text(at, y0 + 6.0, "mud", anchor="middle", backed=True))
        shapes.append(Text(at, y0 + 6.0 + PITCH_MM, figure, anchor="middle", backed=True))
    for test in plan.formation.leak_off:
        if (
            test.emw_kg_per_m3 is not None
            and test.md_m <= end_md
            and low <= in_system(test.emw_kg_per_m3, "density", system) <= high
        ):
            centre = (x(test.emw_kg_per_m3), max(frame.y(test.md_m), limit))
            shapes.append(Dots((centre,), _LEAK_OFF_MM, Style(fill=VERMILION)))
    for curve, word in ((line(pore), "pore"), (line(fracture), "frac.")):
        if len(curve) >= 2:
            level = 0.5 * (curve[0][1] + curve[-1][1]) + 0.8
            if word == "pore":
                shapes.append(Text(LEFT_MM - 0.4, level, word, backed=True))
            else:
                shapes.append(Text(RIGHT_MM + 0.4, level, word, anchor="end", backed=True))
    return [Group("formation.pressures", "Pressure window as equivalent mud weight", tuple(shapes))]
