"""The ball's way to its seat: where that is, how long it falls, how much has to be pumped behind it."""

from __future__ import annotations

from typing import NamedTuple

from schematic.depth.nest import running_tube
from schematic.depth.plan import Plan
from schematic.engineering.volumes import LINER, LINER_FROM_TOP, RUNNING, RUNNING_TO_TOP, JobVolumes
from schematic.outcome import MissingInput
from schematic.units import DEGREE_RAD, FOOT_M

# Common practice: a ball is taken to fall 150 to 250 ft/min in a vertical well, in mud; it does not arrive by
# itself where the hole leans more than 40 to 50 degrees.
FALL_M_PER_S = 200.0 * FOOT_M / 60.0
FALL_BAND_M_PER_S = 150.0 * FOOT_M / 60.0, 250.0 * FOOT_M / 60.0
FALLS_TO_RAD = 40.0 * DEGREE_RAD


class BallTrip(NamedTuple):
    """Where the ball stops, how long it falls (None: the hole leans too much), what is pumped behind it."""

    seat_md_m: float
    fall_s: float | None
    pumped_m3: float | None  # None: a bore is not known
    under_pressure_m: float  # length of liner that the setting pressure reaches
    seat_bore_m: float | None


def ball_trip(plan: Plan, volumes: JobVolumes) -> BallTrip:
    """The ball's way from the cement head to its seat.

    Raises
    ------
    MissingInput
        When the file does not say where the seat is, or has no running string or no landing collar there.
    """
    depth, place = plan.depth, plan.job.seat
    running, liner = depth.running, depth.liner
    if place is None:
        raise MissingInput("installation.seat")
    if running is None:
        raise MissingInput("running string")
    if place == "landing collar":
        collar = liner.find("landing collar")
        if collar is None:
            raise MissingInput("landing collar")
        seat = collar.top_md_m
        inside = volumes.total_m3(RUNNING, LINER)
        pumped = volumes.total_m3(RUNNING_TO_TOP, LINER_FROM_TOP) if inside is None else inside
    else:
        tool = next((part for part in running.parts if part.kind == "running tool"), None)
        if tool is None:
            raise MissingInput("running string.assembly.running tool")
        seat = tool.bottom_md_m
        tube = running_tube(running)
        try:
            pumped = tube.inside_m2(tube.top_m, seat).integral()
        except MissingInput:
            pumped = None
    path = depth.path
    leans = max(
        path.inclination_rad(md) for md in (0.0, *(row[0] for row in path.stations if row[0] < seat), seat)
    )
    return BallTrip(
        seat,
        seat / FALL_M_PER_S if leans <= FALLS_TO_RAD else None,
        pumped,
        max(0.0, seat - liner.top_md_m),
        plan.job.seat_m,
    )
