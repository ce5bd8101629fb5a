"""Where the labels of a column stand, and the leaders from them to what they name.

A column is a least-squares problem with order kept: in coordinates shifted by the heights of the
labels above, "no overlap" becomes "not decreasing", which pools of adjacent violators solve
exactly. Source: Barlow, Bartholomew, Bremner and Brunk, Statistical Inference under Order
Restrictions (1972), chapter 1 (from memory): pooling, and that bounds may be applied to the
unbounded answer.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import combinations, pairwise
from typing import NamedTuple

from schematic.drawing.scene import Point
from schematic.drawing.text import Box

MIDDLE_PULL = 1e-6  # of the pull outside the interval: makes the answer one, moves it by nothing seen


class ColumnTooFullError(ValueError):
    """The labels need more height than the column has; ``needed_mm`` says how much."""

    def __init__(self, needed_mm: float, given_mm: float) -> None:
        super().__init__(f"labels need {needed_mm:.2f} mm of {given_mm:.2f} mm")
        self.needed_mm = needed_mm


class Wanted(NamedTuple):
    """Where a label would like its top to be: anywhere from *low* to *high*."""

    low_mm: float
    high_mm: float


class _Pool(NamedTuple):
    """Labels that stand against each other, and the shifted level of the first."""

    wanted: tuple[Wanted, ...]
    level_mm: float


def place(
    targets: Sequence[float | Wanted],
    heights_mm: Sequence[float],
    top_mm: float,
    bottom_mm: float,
    gap_mm: float,
) -> tuple[float, ...]:
    """Tops of the labels of a column, in the order given, *gap_mm* or more between them.

    The sum of squared distances from the targets is least; inside an interval the distance is zero,
    and the label stands as near to its middle as costs nothing.

    Parameters
    ----------
    targets : sequence of float or Wanted, n
        Wanted tops, or intervals of them, in the order of what they name. [mm]
    heights_mm : sequence of float, n
        Heights of the labels. [mm]
    top_mm, bottom_mm : float
        The column. [mm]
    gap_mm : float
        Least white between two labels. [mm]

    Raises
    ------
    ColumnTooFullError
        When labels and gaps together are higher than the column.
    """
    if not targets:
        return ()
    needed_mm = sum(heights_mm) + gap_mm * (len(heights_mm) - 1)
    slack_mm = bottom_mm - top_mm - needed_mm
    if slack_mm < -1e-9:
        raise ColumnTooFullError(needed_mm, bottom_mm - top_mm)
    shifts = [0.0]
    for height_mm in heights_mm[:-1]:
        shifts.append(shifts[-1] + height_mm + gap_mm)
    pools: list[_Pool] = []
    for target, shift in zip(targets, shifts, strict=True):
        low, high = target if isinstance(target, Wanted) else (target, target)
        alone = Wanted(low - shift, high - shift)
        pool = _Pool((alone,), 0.5 * (alone.low_mm + alone.high_mm))
        while pools and pools[-1].level_mm > pool.level_mm:
            pool = _pool(pools.pop().wanted + pool.wanted)
        pools.append(pool)
    levels = [
        min(max(pool.level_mm, top_mm), top_mm + max(slack_mm, 0.0)) for pool in pools for _ in pool.wanted
    ]
    return tuple(level + shift for level, shift in zip(levels, shifts, strict=True))


def _pool(wanted: tuple[Wanted, ...]) -> _Pool:
    """The level of least squared distance to all intervals.

    The derivative grows with the level, is not positive at the first end of an interval, not
    negative at the last, and straight between neighbouring ends: its zero is on one such piece.
    """
    ends = sorted({end for interval in wanted for end in interval})
    slopes = [_slope(wanted, end) for end in ends]
    falls, rises = bisect_right(slopes, 0.0), bisect_left(slopes, 0.0)  # so many ends have a slope up to 0
    low, high = ends[max(falls - 1, 0)], ends[min(rises, len(ends) - 1)]
    if high <= low:
        return _Pool(wanted, low)
    weight = total = 0.0
    for interval in wanted:
        weight += MIDDLE_PULL
        total += MIDDLE_PULL * 0.5 * (interval.low_mm + interval.high_mm)
        if interval.high_mm <= low:
            weight, total = weight + 1.0, total + interval.high_mm
        elif interval.low_mm >= high:
            weight, total = weight + 1.0, total + interval.low_mm
    return _Pool(wanted, min(max(total / weight, low), high))


def _slope(wanted: tuple[Wanted, ...], level: float) -> float:
    """Half the derivative of the sum of squares at a level."""
    outside = sum(min(level - w.low_mm, 0.0) + max(level - w.high_mm, 0.0) for w in wanted)
    middle = sum(level - 0.5 * (w.low_mm + w.high_mm) for w in wanted)
    return outside + MIDDLE_PULL * middle


def leader(start: Point, knee_mm: float, end: Point) -> tuple[Point, ...]:
    """One leader: level from the text to the knee, then straight to the part."""
    knee = (knee_mm, start[1])
    return (start, end) if knee == start else (start, knee, end)


def leaders(starts: Sequence[Point], knee_mm: float, ends: Sequence[Point]) -> tuple[tuple[Point, ...], ...]:
    """Leaders of a column, none crossing another, given starts and ends in one order downward.

    All have their knee at *knee_mm*, which no text passes. When parts end at unequal distances two
    straight leaders may cross although their order is kept; those become level again where the
    nearest part ends, a second knee, and then cannot cross.

    Raises
    ------
    ValueError
        When starts or ends are not in order downward, or a text passes the knee.
    """
    sign = 1.0 if not ends or ends[0][0] >= knee_mm else -1.0
    for points in (starts, ends):
        if any(lower[1] < upper[1] for upper, lower in pairwise(points)):
            raise ValueError("starts and ends of leaders must be in order downward")
    if any(sign * (start[0] - knee_mm) > 0.0 for start in starts):
        raise ValueError("a text passes the knee of its leader")
    if any(sign * (end[0] - knee_mm) < 0.0 for end in ends):
        raise ValueError("the parts must all be on one side of the knee")
    lines = [leader(start, knee_mm, end) for start, end in zip(starts, ends, strict=True)]
    nearest_mm = min((end[0] for end in ends), key=lambda x: sign * x, default=knee_mm)
    while bad := _crossing(lines, ends):
        for i in bad:
            lines[i] = (*lines[i][:-1], (nearest_mm, ends[i][1]), ends[i])
    return tuple(lines)


def _crossing(lines: Sequence[tuple[Point, ...]], ends: Sequence[Point]) -> set[int]:
    """Crossing leaders that do not arrive level yet."""
    found = {
        i
        for pair in combinations(range(len(lines)), 2)
        if cross(lines[pair[0]], lines[pair[1]])
        for i in pair
    }
    return {i for i in found if lines[i][-2][1] != ends[i][1]}


def cross(first: Sequence[Point], second: Sequence[Point]) -> bool:
    """Say whether two polylines cross: pass through one another, not merely touch."""
    levels, others = [y for _x, y in first], [y for _x, y in second]
    if max(levels) <= min(others) or max(others) <= min(levels):
        return False
    return any(
        _side(a, b, c) * _side(a, b, d) < 0.0 and _side(c, d, a) * _side(c, d, b) < 0.0
        for a, b in pairwise(first)
        for c, d in pairwise(second)
    )


def meets(a: Point, b: Point, box: Box) -> bool:
    """Say whether a straight piece runs through a box: clipped to it, something is left."""
    low, high = 0.0, 1.0
    for start, step, least, most in (
        (a[0], b[0] - a[0], box[0], box[2]),
        (a[1], b[1] - a[1], box[1], box[3]),
    ):
        if step:
            first, last = sorted(((least - start) / step, (most - start) / step))
            low, high = max(low, first), min(high, last)
        elif not least < start < most:
            return False
    return low < high


def _side(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
