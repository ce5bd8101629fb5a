"""The path seen from the side: its vertical section, the plane of it, and where the path bends and turns.

Departure in a vertical plane of azimuth A is N cos A + E sin A, what lies across it E cos A - N sin A: the
usual vertical section of directional drilling, a rotation of the horizontal axes. Source: Bourgoyne and
others, Applied Drilling Engineering (SPE Textbook Series 2, 1986), chapter 8 (from memory).
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from schematic.depth.survey import SurveyPath

_STEP_M = 10.0
_SAME_BEND = 0.99  # of the greatest dogleg: legs of one build differ by what their azimuths were rounded to
_COMES_BACK = (
    0.5  # of the farthest departure: a well that ends nearer to its wellhead shows little in its closure
)
LEANS_RAD = math.radians(5.0)  # below it an azimuth says little, and a section shows nothing


class Plane(NamedTuple):
    """A vertical plane through the wellhead, and the depth through which it goes besides."""

    azimuth_rad: float
    md_m: float
    through: str  # "bottom" or "farthest point"


class Bend(NamedTuple):
    """A stretch of the path with the greatest dogleg severity in it."""

    top_md_m: float
    bottom_md_m: float
    dogleg_rad_per_m: float


def closure_rad(path: SurveyPath, md_m: float) -> float:
    """Azimuth from the wellhead to the path at a measured depth; nought above a vertical hole."""
    north, east, _tvd = path.position_m(md_m)
    return math.atan2(east, north) if math.hypot(north, east) > 0.0 else 0.0


def departure_m(path: SurveyPath, md_m: float, azimuth_rad: float) -> float:
    """How far the path is from the wellhead along a vertical plane."""
    north, east, _tvd = path.position_m(md_m)
    return north * math.cos(azimuth_rad) + east * math.sin(azimuth_rad)


def aside_m(path: SurveyPath, md_m: float, azimuth_rad: float) -> float:
    """How far the path is out of a vertical plane through the wellhead, to the right positive."""
    north, east, _tvd = path.position_m(md_m)
    return east * math.cos(azimuth_rad) - north * math.sin(azimuth_rad)


def section_plane(path: SurveyPath, bottom_md_m: float) -> Plane:
    """The plane from wellhead to bottom; of a well that comes back, to the point farthest out."""
    marks = sampled_md_m(path, 0.0, bottom_md_m, 30.0)
    far = [math.hypot(*path.position_m(md)[:2]) for md in marks]
    if far[-1] >= _COMES_BACK * max(far):
        return Plane(closure_rad(path, bottom_md_m), bottom_md_m, "bottom")
    farthest = marks[far.index(max(far))]
    return Plane(closure_rad(path, farthest), farthest, "farthest point")


def turn_rad(path: SurveyPath, bottom_md_m: float) -> float:
    """Between which azimuths the path swings where it leans over 5 degrees: the greatest less the least."""
    rows = [row for row in path.stations if row[1] > LEANS_RAD and row[0] <= bottom_md_m]
    total = 0.0
    swings = [0.0]
    for above, below in pairwise(rows):
        total += (below[2] - above[2] + math.pi) % math.tau - math.pi
        swings.append(total)
    return max(swings) - min(swings)


def sampled_md_m(
    path: SurveyPath, top_md_m: float, bottom_md_m: float, step_m: float = _STEP_M
) -> tuple[float, ...]:
    """Depths by which a curve of the path can be drawn: the ends, stations, and small steps between them."""
    marks = {top_md_m, bottom_md_m, *(row[0] for row in path.stations if top_md_m < row[0] < bottom_md_m)}
    steps: list[float] = []
    for above, below in pairwise(sorted(marks)):
        count = max(math.ceil((below - above) / step_m), 1) if path.dogleg_rad_per_m(above) > 0.0 else 1
        steps += [above + (below - above) * n / count for n in range(count)]
    return (*steps, bottom_md_m)


def kick_off_md_m(path: SurveyPath) -> float | None:
    """The last station within half a degree of vertical before the well leaves it; None: it does not."""
    rows = path.stations
    limit = math.radians(0.5)
    return max(
        (above[0] for above, below in pairwise(rows) if above[1] < limit <= below[1]),
        default=None,
    )


def end_of_build_md_m(path: SurveyPath) -> float | None:
    """The first station below which an inclination over 5 degrees is held; None where none is held."""
    held = (
        above[0]
        for above, below in pairwise(path.stations)
        if above[1] > LEANS_RAD and abs(below[1] - above[1]) < math.radians(0.05)
    )
    return next(held, None)


def greatest_bend(path: SurveyPath, bottom_md_m: float) -> Bend | None:
    """The stretch above the bottom that bends most; None of a straight path.

    Neighbouring legs within 1 % of the greatest dogleg belong to it: a build at one rate is one bend.
    """
    legs = _legs(path, bottom_md_m)
    most = max((leg.dogleg_rad_per_m for leg in legs), default=0.0)
    return next(iter(_together(legs, _SAME_BEND * most)), None) if most > 0.0 else None


def bends_over(path: SurveyPath, bottom_md_m: float, limit_rad_per_m: float) -> tuple[Bend, ...]:
    """The stretches above the bottom whose dogleg is over a limit, from the top down."""
    return _together(_legs(path, bottom_md_m), limit_rad_per_m * (1.0 + 1e-9))


def _legs(path: SurveyPath, bottom_md_m: float) -> list[Bend]:
    return [
        Bend(above[0], min(below[0], bottom_md_m), path.dogleg_rad_per_m(above[0]))
        for above, below in pairwise(path.stations)
        if above[0] < bottom_md_m
    ]


def _together(legs: list[Bend], least: float) -> tuple[Bend, ...]:
    """Neighbouring legs of at least so much dogleg as one."""
    found: list[Bend] = []
    for leg in legs:
        if leg.dogleg_rad_per_m <= 0.0 or leg.dogleg_rad_per_m < least:
            continue
        if found and found[-1].bottom_md_m == leg.top_md_m:
            most = max(found[-1].dogleg_rad_per_m, leg.dogleg_rad_per_m)
            found[-1] = Bend(found[-1].top_md_m, leg.bottom_md_m, most)
        else:
            found.append(leg)
    return tuple(found)
