"""The path of the well: survey stations joined by minimum-curvature arcs.

Right-handed axes: north, east, down. Inclination from vertical, azimuth from north, clockwise. Without a
survey the well is vertical. Source: Taylor and Mason, "A Systematic Approach to Well Surveying
Calculations", SPE 3362 (1972); interpolation on the arc by turning the tangent in the plane of the arc.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable
from functools import cached_property

Vector = tuple[float, float, float]

# Below this bend the chord factor's series is exact to double precision and the closed form loses digits.
_STRAIGHT_RAD = 1e-4


def tangent(inclination_rad: float, azimuth_rad: float) -> Vector:
    """Unit vector along the hole: north, east, down."""
    sine = math.sin(inclination_rad)
    return (
        sine * math.cos(azimuth_rad),
        sine * math.sin(azimuth_rad),
        math.cos(inclination_rad),
    )


def bend_rad(start: Vector, end: Vector) -> float:
    """Angle between two unit tangents, exact for small and for straight-back bends alike."""
    cross = (
        start[1] * end[2] - start[2] * end[1],
        start[2] * end[0] - start[0] * end[2],
        start[0] * end[1] - start[1] * end[0],
    )
    dot = start[0] * end[0] + start[1] * end[1] + start[2] * end[2]
    return math.atan2(math.sqrt(cross[0] ** 2 + cross[1] ** 2 + cross[2] ** 2), dot)


def chord_factor(angle_rad: float) -> float:
    """Ratio of the chord-mean tangent step to the arc: 2/b tan(b/2)."""
    if angle_rad < _STRAIGHT_RAD:
        return 1.0 + angle_rad**2 / 12.0
    return 2.0 / angle_rad * math.tan(angle_rad / 2.0)


class SurveyPath:
    """Position, direction and curvature at any measured depth.

    Parameters
    ----------
    stations : iterable of (md, inclination, azimuth)
        Rising measured depths [m], inclination 0 to pi [rad], azimuth [rad]. None or one station at nought
        inclination: a vertical well. A first station below nought is joined to the datum by a vertical tie-in
        when it is vertical, and by a straight line at its own inclination otherwise. Below the last station
        the hole goes on straight.

    Raises
    ------
    ValueError
        When depths do not rise, an inclination is outside 0 to 180 degrees, or a bend turns straight back.
    """

    def __init__(self, stations: Iterable[tuple[float, float, float]] = ()) -> None:
        rows = [tuple(map(float, row)) for row in stations]
        if not rows:
            rows = [(0.0, 0.0, 0.0)]
        elif rows[0][0] > 0.0:
            rows.insert(0, (0.0, rows[0][1], rows[0][2]))
        for md_m, inclination, _azimuth in rows:
            if not (math.isfinite(md_m) and 0.0 <= inclination <= math.pi):
                raise ValueError(f"inclination {inclination} rad at {md_m} m is not 0 to pi")
        self.stations = tuple((row[0], row[1], row[2]) for row in rows)
        self._md = tuple(row[0] for row in rows)
        self._tangents = tuple(tangent(row[1], row[2]) for row in rows)
        places: list[Vector] = [(0.0, 0.0, 0.0)]
        bends: list[float] = []
        for index in range(len(rows) - 1):
            length = self._md[index + 1] - self._md[index]
            if length <= 0.0:
                raise ValueError(f"survey depths must rise: {self._md[index]} m, {self._md[index + 1]} m")
            start, end = self._tangents[index], self._tangents[index + 1]
            bend = bend_rad(start, end)
            if bend > math.pi - 1e-6:
                raise ValueError(f"the hole turns straight back below {self._md[index]} m")
            half = length / 2.0 * chord_factor(bend)
            north, east, down = places[-1]
            places.append(
                (
                    north + half * (start[0] + end[0]),
                    east + half * (start[1] + end[1]),
                    down + half * (start[2] + end[2]),
                )
            )
            bends.append(bend)
        self._places, self._bends = tuple(places), tuple(bends)

    @property
    def last_md_m(self) -> float:
        """Depth of the last station; below it the path is a straight projection."""
        return self._md[-1]

    @cached_property
    def is_vertical(self) -> bool:
        """True when every station is vertical."""
        return all(row[1] == 0.0 for row in self.stations)

    def _leg(self, md_m: float) -> int:
        return min(bisect_right(self._md, md_m) - 1, len(self._bends))

    def tangent(self, md_m: float) -> Vector:
        """Unit vector along the hole at a depth."""
        leg = max(self._leg(md_m), 0)
        if leg >= len(self._bends):
            return self._tangents[-1]
        bend = self._bends[leg]
        if bend == 0.0:
            return self._tangents[leg]
        share = (md_m - self._md[leg]) / (self._md[leg + 1] - self._md[leg])
        start, end = self._tangents[leg], self._tangents[leg + 1]
        first, second = (
            math.sin((1.0 - share) * bend) / math.sin(bend),
            math.sin(share * bend) / math.sin(bend),
        )
        return (
            first * start[0] + second * end[0],
            first * start[1] + second * end[1],
            first * start[2] + second * end[2],
        )

    def position_m(self, md_m: float) -> Vector:
        """North, east and true vertical depth at a measured depth, in m."""
        leg = max(self._leg(md_m), 0)
        start, place = self._tangents[leg], self._places[leg]
        length = md_m - self._md[leg]
        if length == 0.0:
            return place
        if leg >= len(self._bends):
            end, half = start, length / 2.0
        else:
            end = self.tangent(md_m)
            share = length / (self._md[leg + 1] - self._md[leg])
            half = length / 2.0 * chord_factor(self._bends[leg] * share)
        return (
            place[0] + half * (start[0] + end[0]),
            place[1] + half * (start[1] + end[1]),
            place[2] + half * (start[2] + end[2]),
        )

    def tvd_m(self, md_m: float) -> float:
        """True vertical depth below the datum, in m."""
        return self.position_m(md_m)[2]

    def inclination_rad(self, md_m: float) -> float:
        """Inclination from vertical."""
        north, east, down = self.tangent(md_m)
        return math.atan2(math.hypot(north, east), down)

    def azimuth_rad(self, md_m: float) -> float:
        """Azimuth from north, 0 to 2 pi; nought where the hole is vertical."""
        north, east, _down = self.tangent(md_m)
        return math.atan2(east, north) % (2.0 * math.pi) if north or east else 0.0

    def dogleg_rad_per_m(self, md_m: float) -> float:
        """Dogleg severity of the arc at a depth; at a station, of the arc below; nought beyond the last."""
        leg = max(self._leg(md_m), 0)
        if leg >= len(self._bends):
            return 0.0
        return self._bends[leg] / (self._md[leg + 1] - self._md[leg])

    def arcs(self, top_m: float, bottom_m: float) -> list[tuple[float, float, Vector, Vector, float]]:
        """The path between two depths as arcs from the top down: ends, tangents at the ends, and bend."""
        edges = [top_m, *(md for md in self._md if top_m < md < bottom_m), bottom_m]
        made = []
        for top, bottom in zip(edges, edges[1:], strict=False):
            bend = self.dogleg_rad_per_m(top) * (bottom - top)
            start = self.tangent(top)
            made.append((top, bottom, start, self.tangent(bottom) if bend else start, bend))
        return made

    def md_at_tvd_m(self, tvd_m: float) -> float:
        """The first measured depth at which the hole reaches a true vertical depth, in m.

        Raises ValueError when it never does.
        """
        for index in range(len(self._md)):
            above = self._places[index][2]
            if abs(above - tvd_m) <= 1e-12 * max(1.0, abs(tvd_m)):
                return self._md[index]
            if index == len(self._bends):
                break
            for low, high in self._rising(index):
                if self.tvd_m(low) <= tvd_m <= self.tvd_m(high):
                    return self._solve(tvd_m, low, high)
        down = self._tangents[-1][2]
        rest = tvd_m - self._places[-1][2]
        if rest > 0.0 and down > 1e-9:
            return self._md[-1] + rest / down
        raise ValueError(f"the well never reaches {tvd_m:.2f} m TVD")

    def _rising(self, leg: int) -> Iterable[tuple[float, float]]:
        """Stretches of one arc on which TVD only grows: up to where the hole lies level, if it does."""
        top, bottom = self._md[leg], self._md[leg + 1]
        start, end = self._tangents[leg][2], self._tangents[leg + 1][2]
        if start >= 0.0 >= end and start != end:
            low, high = top, bottom
            for _ in range(80):
                middle = (low + high) / 2.0
                low, high = (middle, high) if self.tangent(middle)[2] > 0.0 else (low, middle)
            yield top, low
        elif end >= 0.0 >= start and start != end:
            low, high = top, bottom
            for _ in range(80):
                middle = (low + high) / 2.0
                low, high = (low, middle) if self.tangent(middle)[2] > 0.0 else (middle, high)
            yield high, bottom
        else:
            yield top, bottom

    def _solve(self, tvd_m: float, low: float, high: float) -> float:
        """Newton's method on the slope of TVD, kept inside a bracket that halves where it would leave it."""
        above, below = self.tvd_m(low), self.tvd_m(high)
        at = low + (high - low) * (tvd_m - above) / (below - above) if below > above else low
        for _ in range(100):
            excess = self.tvd_m(at) - tvd_m
            if abs(excess) <= 1e-12 * max(1.0, abs(tvd_m)) or high - low <= 1e-11:
                break
            low, high = (low, at) if excess > 0.0 else (at, high)
            slope = self.tangent(at)[2]
            at = at - excess / slope if slope > 1e-6 else low
            if not low < at < high:
                at = (low + high) / 2.0
        return at
