"""What a cut across the well is made of: circles, steel between two of them, dots and hatch between them."""

from __future__ import annotations

import math

from schematic.drawing.fills import JITTER, ROW, Line, hatch, noise
from schematic.drawing.palette import FINE_MM, GREY
from schematic.drawing.scene import Path, Point, Style

_CORNERS = 120  # a radius of 15 mm then is true within 0.005 mm
_ROCK_SPACING_MM = 1.15
_WAVE_MM, _AMPLITUDE_MM = 3.0, 0.15


def circle(centre: Point, radius_mm: float, *, wavy: bool = False) -> Line:
    """A circle as a closed run, from the right through the foot; a wavy one swings about its radius."""
    x, y = centre
    waves = max(round(math.tau * radius_mm / _WAVE_MM), 3) if wavy else 0
    found = []
    for n in range(_CORNERS):
        angle = math.tau * n / _CORNERS
        r = radius_mm + (_AMPLITUDE_MM * math.sin(waves * angle) if wavy else 0.0)
        found.append((x + r * math.cos(angle), y + r * math.sin(angle)))
    return tuple(found)


def rock(centre: Point, inner_mm: float, width_mm: float) -> Path:
    """Rock round a hole: hatch in a ring, its halves mirrored as beside the column."""
    runs: list[Line] = []
    for side in (1.0, -1.0):
        angles = [math.pi * (n / 60.0 - 0.5) for n in range(61)]
        outline = [_on(centre, inner_mm + width_mm, angle, side) for angle in angles]
        outline += [_on(centre, inner_mm + 0.2, angle, side) for angle in reversed(angles)]
        runs += hatch(outline, _ROCK_SPACING_MM, rising=side < 0.0)
    return Path(tuple(runs), Style(stroke=GREY, width_mm=FINE_MM))


def _on(centre: Point, radius_mm: float, angle: float, side: float) -> Point:
    return centre[0] + side * radius_mm * math.cos(angle), centre[1] + radius_mm * math.sin(angle)


def dots_between(
    outer: tuple[Point, float], inner: tuple[Point, float], pitch_mm: float, radius_mm: float, clear_mm: float
) -> tuple[Point, ...]:
    """Centres of dots inside one circle and outside another, each wholly clear of both."""
    (cx, cy), r_out = outer
    reach = radius_mm + clear_mm
    row_mm, wobble = ROW * pitch_mm, 0.5 * JITTER * pitch_mm
    found = []
    for row in range(math.ceil((cy - r_out) / row_mm), math.floor((cy + r_out) / row_mm) + 1):
        shift = 0.5 * (row % 2)
        first, last = (cx - r_out) / pitch_mm - shift, (cx + r_out) / pitch_mm - shift
        for column in range(math.ceil(first), math.floor(last) + 1):
            a, b = noise(row, column)
            spot = (
                (column + shift) * pitch_mm + a * wobble,
                row * row_mm + b * wobble,
            )
            if math.dist(spot, outer[0]) + reach <= r_out and math.dist(spot, inner[0]) - reach >= inner[1]:
                found.append(spot)
    return tuple(found)
