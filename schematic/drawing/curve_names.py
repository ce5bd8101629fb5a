"""Where names stand round a curve on paper: near what they name, on nothing else, leaders clear of all.

The curve is kept as a grid of bits, one row of them as one integer, so that a place is tried in a few steps.
Places are taken the nearest first.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from schematic.drawing.captions import PITCH_MM, SMALL_PT, X_HEIGHT_MM
from schematic.drawing.fills import Rect
from schematic.drawing.labels import cross, meets
from schematic.drawing.scene import Point
from schematic.drawing.text import Box, width_mm

BASE_MM = 2.1  # from the top of a line's place to its baseline
_CELL_MM = 0.5
_CLEAR_MM = 0.8  # from a name to the curve
_APART_MM = 0.35  # from a name to another
_FROM_TEXT_MM = 0.6  # to the start of the leader
_STEEP, _STRAY_MM = 2.2, 0.8  # a leader leaves what is drawn of the curve within so many halves and this
_WALK_MM = 0.4
_ROUNDS = 2  # with what found no place put first
_ACROSS_MM = (1.8, 2.6, 3.6, 5.0, 7.0, 9.5, 12.5, 16.0, 20.0, 25.0, 31.0)
_DOWN_MM = (0.0, 1.4, 2.8, 4.2, 5.8, 7.8, 10.0, 13.0, 16.0, 20.0, 24.0, 29.0, 34.0)


def _ways() -> tuple[tuple[float, float, float], ...]:
    """How far across and down a name may be led from what it names, and what that costs; the least first."""
    found = [
        (math.hypot(across, down) + 0.35 * abs(down), sign * across, down)
        for across in _ACROSS_MM
        for depth in _DOWN_MM
        for down in {depth, -depth}
        for sign in (1.0, -1.0)
        if math.hypot(across, depth) < 40.0
    ]
    return tuple(sorted(found, key=lambda way: (way[0], -way[1], way[2])))


_WAYS = _ways()


class Line(NamedTuple):
    """One line of a name."""

    text: str
    bold: bool
    part: str
    point: Point  # what it names


class Name(NamedTuple):
    """Lines of one block; its leader goes to the first point. *far_mm*: the longest way it may be led."""

    lines: tuple[Line, ...]
    half_mm: float  # of the curve at the point
    far_mm: float


class Placed(NamedTuple):
    """Where a name stands: its box, the end of the text that its leader leaves, the leader."""

    name: Name
    box: Box
    rightward: bool  # the text begins at the leader, else it ends there
    leader: tuple[Point, Point]


class Ground:
    """What of a rectangle is taken by a curve: twice, as drawn and with the clearance of names round it."""

    def __init__(self, rect: Rect) -> None:
        self.rect = rect
        count = max(math.ceil((rect.bottom_mm - rect.top_mm) / _CELL_MM), 1)
        self._drawn, self._kept = [0] * count, [0] * count

    def draw(self, points: Sequence[Point], halves_mm: Sequence[float]) -> None:
        """Take a curve of some half width at each point."""
        for ((x0, y0), (x1, y1)), half in zip(pairwise(points), halves_mm, strict=False):
            steps = max(math.ceil(math.hypot(x1 - x0, y1 - y0) / 0.7), 1)
            for n in range(steps + 1):
                x, y = x0 + (x1 - x0) * n / steps, y0 + (y1 - y0) * n / steps
                self._mark(self._drawn, x, y, half)
                self._mark(self._kept, x, y, half + _CLEAR_MM)

    def _mark(self, rows: list[int], x: float, y: float, half: float) -> None:
        bits = self._bits(x - half, x + half)
        for row in range(*self._rows(y - half, y + half)):
            rows[row] |= bits

    def _rows(self, top: float, bottom: float) -> tuple[int, int]:
        first = max(int((top - self.rect.top_mm) / _CELL_MM), 0)
        return first, min(int((bottom - self.rect.top_mm) / _CELL_MM) + 1, len(self._drawn))

    def _bits(self, left: float, right: float) -> int:
        low = max(int((left - self.rect.left_mm) / _CELL_MM), 0)
        high = max(int((right - self.rect.left_mm) / _CELL_MM), -1) + 1
        return (1 << high) - (1 << low) if high > low else 0

    def free(self, box: Box) -> bool:
        """Whether a box lies within the rectangle and off the curve."""
        left, top, right, bottom = box
        rect = self.rect
        if left < rect.left_mm or right > rect.right_mm or top < rect.top_mm or bottom > rect.bottom_mm:
            return False
        bits = self._bits(left, right)
        return not any(self._kept[row] & bits for row in range(*self._rows(top, bottom)))

    def reached(self, leader: tuple[Point, Point], half_mm: float) -> bool:
        """Whether a leader comes to its end on the curve without running along it or over it elsewhere.

        From its end outward it leaves what is drawn of the curve soon, and does not come back to it.
        """
        (x0, y0), (x1, y1) = leader
        length = math.hypot(x1 - x0, y1 - y0)
        left = False
        for n in range(1, math.floor(length / _WALK_MM) + 1):
            share = n * _WALK_MM / length
            x, y = x1 + (x0 - x1) * share, y1 + (y0 - y1) * share
            row = int((y - self.rect.top_mm) / _CELL_MM)
            inside = 0 <= row < len(self._drawn) and bool(self._drawn[row] & self._bits(x, x))
            if inside and (left or n * _WALK_MM > _STEEP * half_mm + _STRAY_MM):
                return False
            left = left or not inside
        return True


def place_names(names: Sequence[Name], ground: Ground, taken: Sequence[Box] = ()) -> list[Placed | None]:
    """A place for each name; None where none is left. Names given first choose first.

    Where that leaves one over, they choose from the lowest up and from the highest down as well.
    """
    given = list(range(len(names)))
    upward = sorted(given, key=lambda index: -names[index].lines[0].point[1])
    best: dict[int, Placed] = {}
    for order in (given, upward, upward[::-1]):
        for _ in range(_ROUNDS):
            made: dict[int, Placed] = {}
            for index in order:
                spot = _spot(names[index], ground, taken, list(made.values()))
                if spot is not None:
                    made[index] = spot
            best = max(best, made, key=len)
            failed = [index for index in order if index not in made]
            if not failed:
                return [best[index] for index in given]
            order = [*failed, *(index for index in order if index in made)]
    return [best.get(index) for index in given]


def place_more(
    names: Sequence[Name], ground: Ground, taken: Sequence[Box], placed: Sequence[Placed]
) -> list[Placed]:
    """Places of further names round those that have theirs; a name without a place is left out."""
    made = list(placed)
    for name in names:
        spot = _spot(name, ground, taken, made)
        if spot is not None:
            made.append(spot)
    return made[len(placed) :]


def _spot(name: Name, ground: Ground, taken: Sequence[Box], others: list[Placed]) -> Placed | None:
    x, y = name.lines[0].point
    width = max(width_mm(line.text, SMALL_PT, line.bold) for line in name.lines)
    height = PITCH_MM * len(name.lines)
    for cost, across, down in _WAYS:
        if cost > name.far_mm:
            return None
        across += math.copysign(name.half_mm, across)
        rightward = across > 0.0
        left = x + across if rightward else x + across - width
        top = y + down - BASE_MM + X_HEIGHT_MM
        box = (left, top, left + width, top + height)
        if not ground.free(box):
            continue
        wide = (left - _APART_MM, top - 0.05, left + width + _APART_MM, top + height + 0.05)
        if any(_touch(wide, other) for other in taken) or any(_touch(wide, o.box) for o in others):
            continue
        start = left - _FROM_TEXT_MM if rightward else left + width + _FROM_TEXT_MM
        leader = ((start, y + down), (x, y))
        if not ground.reached(leader, name.half_mm) or any(meets(*o.leader, wide) for o in others):
            continue
        if any(meets(*leader, box) for box in (*taken, *(o.box for o in others))):
            continue
        if not any(cross(leader, o.leader) for o in others):
            return Placed(name, box, rightward, leader)
    return None


def _touch(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
