"""What liner and running string weigh in mud: simple sums of weight by length, with buoyancy.

The same mud stands inside and outside: factor 1 less mud density over that of steel, 7850 kg/m3. No drag, no
pressure. What pulls along the hole is taken by true vertical depth. A part whose weight the file does not
give is left out of the sum and named.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.depth.nest import circle_m2
from schematic.depth.plan import Plan
from schematic.engineering.stretch import STEEL_KG_PER_M3
from schematic.outcome import MissingInput
from schematic.units import STANDARD_GRAVITY_M_PER_S2


class Hanging(NamedTuple):
    """Weight of a string: of all of it in air and in mud, and what of the latter pulls along the hole."""

    air_n: float
    buoyed_n: float
    along_n: float
    without: tuple[str, ...]  # parts whose weight is not given, not counted


def liner_weight(plan: Plan) -> Hanging:
    """Weight of the liner at depth; parts without a weight of their own weigh what its pipe weighs.

    Raises
    ------
    MissingInput
        When the mud or the weight of the liner's pipe is not given.
    """
    liner = plan.depth.liner
    if liner.weight_kg_per_m is None:
        raise MissingInput("liner.weight")
    pieces = [
        (part.weight_kg_per_m or liner.weight_kg_per_m, part.top_md_m, part.bottom_md_m)
        for part in liner.parts
        if part.length_m > 0.0
    ]
    return _hanging(plan, pieces, ())


def string_weight(plan: Plan) -> Hanging:
    """Weight of the running string between the datum and the liner top: what can push there.

    Raises
    ------
    MissingInput
        When the mud or the running string is not given.
    """
    running, top = plan.depth.running, plan.depth.liner.top_md_m
    if running is None:
        raise MissingInput("running string")
    above = [part for part in running.parts if 0.0 < part.bottom_md_m <= top + 1e-6 and part.length_m > 0.0]
    pieces = [
        (part.weight_kg_per_m, max(part.top_md_m, 0.0), part.bottom_md_m)
        for part in above
        if part.weight_kg_per_m is not None
    ]
    return _hanging(plan, pieces, tuple(part.name for part in above if part.weight_kg_per_m is None))


def _hanging(plan: Plan, pieces: list[tuple[float, float, float]], without: tuple[str, ...]) -> Hanging:
    mud = plan.fluid("mud")
    if mud is None:
        raise MissingInput("a fluid of kind mud")
    floats = 1.0 - mud.density_kg_per_m3 / STEEL_KG_PER_M3
    tvd = plan.depth.path.tvd_m
    air = STANDARD_GRAVITY_M_PER_S2 * math.fsum(weight * (bottom - top) for weight, top, bottom in pieces)
    along = STANDARD_GRAVITY_M_PER_S2 * math.fsum(
        weight * (tvd(bottom) - tvd(top)) for weight, top, bottom in pieces
    )
    return Hanging(air, air * floats, along * floats, without)


def pump_out_n(plan: Plan) -> float:
    """Force that lifts the tool when the ball's seat lets go at the most pressure of its band.

    Pressure times the area of the inner string, around which the pack-off seals (3.50 in: 9.62 in2).

    Raises
    ------
    MissingInput
        When the seat's pressure or the OD of the inner string or slick joint is not given.
    """
    seat, running = plan.job.seat_shears_pa, plan.depth.running
    if seat is None:
        raise MissingInput("ball seat.shears at")
    slick = [p for p in running.parts if p.kind in ("inner string", "slick joint")] if running else []
    sealed = min((p.od_m for p in slick if p.od_m is not None), default=None)
    if sealed is None:
        raise MissingInput("od of the inner string")
    return seat[2] * circle_m2(sealed)
