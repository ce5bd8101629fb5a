"""A section through the axis of the well: half profiles, mirrored, in the paints of the sheet.

A profile is given as radii and levels in mm on paper for the right half. Diameters are true to
scale, so radii come in already scaled; what a part shows depends on how high it is on the paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from schematic.drawing.palette import BLACK, BLUE, FINE_MM, OUTLINE_MM, WHITE
from schematic.drawing.scene import Path, Point, Style

Half = Sequence[Point]  # (radius, level)
Detail = Literal["bar", "outline", "full"]

BAR_BELOW_MM = 1.2
FULL_ABOVE_MM = 5.0
LEAST_WALL_MM = OUTLINE_MM  # thinner tubes are drawn this thick, inward
OVERLAP_MM = 0.05  # of one solid onto the next, or a white hair shows between them

LINER_STEEL = Style(fill=BLUE)
GRIP = Style(fill=BLACK)
SOFT = Style(stroke=BLACK, width_mm=FINE_MM, fill=WHITE)
FINE = Style(stroke=BLACK, width_mm=FINE_MM)


class Place(NamedTuple):
    """Where a part stands on paper: its axis, and the levels of its top and bottom."""

    axis_mm: float
    top_mm: float
    bottom_mm: float

    @property
    def height_mm(self) -> float:
        """Height on paper."""
        return self.bottom_mm - self.top_mm

    @property
    def detail(self) -> Detail:
        """How much of a part can be read at this height."""
        if self.height_mm < BAR_BELOW_MM:
            return "bar"
        return "full" if self.height_mm > FULL_ABOVE_MM else "outline"

    def at(self, share: float) -> float:
        """Level at a share of the height from the top."""
        return self.top_mm + share * self.height_mm


class Ring(NamedTuple):
    """Outer radius between two levels."""

    top_mm: float
    bottom_mm: float
    radius_mm: float


def both(axis_mm: float, halves: Iterable[Half], style: Style, *, closed: bool = True) -> Path:
    """Mirror right-half profiles about the axis, as one path."""
    runs = tuple(tuple((axis_mm + side * r, y) for r, y in half) for half in halves for side in (1.0, -1.0))
    return Path(runs, style, closed)


def block(top_mm: float, bottom_mm: float, inner_mm: float, outer_mm: float) -> Half:
    """The half profile of a plain ring."""
    return (
        (inner_mm, top_mm),
        (outer_mm, top_mm),
        (outer_mm, bottom_mm),
        (inner_mm, bottom_mm),
    )


def stepped(inner_mm: float, rings: Iterable[Ring]) -> Half:
    """The half profile of one bore and rings of different radius, one below the other."""
    outer = [(r.radius_mm, y) for r in rings for y in (r.top_mm, r.bottom_mm)]
    return ((inner_mm, outer[0][1]), *outer, (inner_mm, outer[-1][1]))


def drawn_bore(outer_mm: float, inner_mm: float) -> float:
    """The inner radius to draw: the real one, or that of the thinnest wall that prints."""
    return max(min(inner_mm, outer_mm - LEAST_WALL_MM), 0.0)


def toothed(inner: Half, tip_mm: float, depth_mm: float, pitch_mm: float, *, up: bool) -> Half:
    """The half profile of a slip: an inner face from the top down, teeth outside.

    The flat side of the teeth faces down, or up, and bites against movement that way. Teeth keep
    their pitch; there are at least two.
    """
    top, bottom = inner[0][1], inner[-1][1]
    count = max(round((bottom - top) / pitch_mm), 2)
    pitch = (bottom - top) / count
    teeth: list[Point] = []
    for i in range(count):
        low, high = top + i * pitch, top + (i + 1) * pitch
        root = min(max(tip_mm - depth_mm, _radius(inner, 0.5 * (low + high)) + 0.08), tip_mm)
        teeth += [(tip_mm, low), (root, high)] if up else [(root, low), (tip_mm, high)]
    return (*teeth, *reversed(inner))


def _radius(half: Half, y: float) -> float:
    """The radius of an inner face at a level; its levels grow."""
    for (r0, y0), (r1, y1) in pairwise(half):
        if y <= y1:
            return r0 + (r1 - r0) * (y - y0) / (y1 - y0)
    return half[-1][0]
