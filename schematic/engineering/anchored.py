"""What pressure inside a closed string takes off the hook while its foot cannot move.

The pressure at the head pushes up on it, by pressure times bore; of that the wall takes on again what it
would shorten by, were it free to (Poisson's ratio 0.3 for steel). Between the two ends nothing moves: with
the bore a and the steel s of each length l, the hook load falls by (1 - 2 x 0.3) p sum(l a / s) / sum(l / s).
The wall's share is the ballooning of Lubinski, Althouse and Logan, "Helical buckling of tubing sealed in
packers", 1962. Straight pipe, without drag; tool joints are not counted.
"""

from __future__ import annotations

import math

from schematic.depth.nest import circle_m2
from schematic.depth.plan import Plan
from schematic.outcome import MissingInput

POISSON = 0.3  # of steel


def hook_falls_n(plan: Plan, pressure_pa: float) -> float:
    """By how much the hook load falls, in N, as the closed running string is brought to a pressure inside and
    its tool stands fast at the liner top.

    Raises
    ------
    MissingInput
        When there is no running string above the liner, or an OD or a bore of it is not given.
    """
    running, top = plan.depth.running, plan.depth.liner.top_md_m
    if running is None:
        raise MissingInput("running string")
    soft, pushed = [], []
    for part in running.parts:
        long = min(part.bottom_md_m, top) - max(part.top_md_m, 0.0)
        if long <= 0.0:
            continue
        if part.od_m is None or part.id_m is None:
            raise MissingInput(f"OD and bore of {part.name}")
        bore = circle_m2(part.id_m)
        steel = circle_m2(part.od_m) - bore
        soft.append(long / steel)
        pushed.append(long * bore / steel)
    if not soft:
        raise MissingInput("running string")
    return (1.0 - 2.0 * POISSON) * pressure_pa * math.fsum(pushed) / math.fsum(soft)
