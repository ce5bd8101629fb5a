"""The path seen from the side: its vertical section, the plane of it, and where the path bends.

Departure in a vertical plane of azimuth A is N cos A + E sin A, what lies across it E cos A - N sin A: the
usual vertical section of directional drilling, a rotation of the horizontal axes.
"""

from __future__ import annotations

import math
from itertools import pairwise

from schematic.depth.survey import SurveyPath

_STEP_M = 10.0


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


def sampled_md_m(path: SurveyPath, top_md_m: float, bottom_md_m: float) -> tuple[float, ...]:
    """Depths by which a curve of the path can be drawn: the ends, stations, and steps of 10 m between."""
    marks = {top_md_m, bottom_md_m, *(row[0] for row in path.stations if top_md_m < row[0] < bottom_md_m)}
    steps: list[float] = []
    for above, below in pairwise(sorted(marks)):
        count = max(math.ceil((below - above) / _STEP_M), 1) if path.dogleg_rad_per_m(above) > 0.0 else 1
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
        if above[1] > math.radians(5.0) and abs(below[1] - above[1]) < math.radians(0.05)
    )
    return next(held, None)


def greatest_dogleg(path: SurveyPath, bottom_md_m: float) -> tuple[float, float]:
    """Where the path bends most, in the middle of the leg, and how much, in rad/m."""
    legs = [
        (path.dogleg_rad_per_m(above[0]), 0.5 * (above[0] + below[0]))
        for above, below in pairwise(path.stations)
        if above[0] < bottom_md_m
    ]
    most, md = max(legs, default=(0.0, 0.0), key=lambda leg: leg[0])
    return md, most
