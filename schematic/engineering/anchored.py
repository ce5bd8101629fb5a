"""What pressure and fluids inside the running string do to the hook while its foot stands fast.

The pressure at the head pushes up on it, by pressure times bore; of that the wall takes on again what it
would shorten by, were it free to (Poisson's ratio 0.3 for steel). Between the two ends nothing moves: with
the bore a and the steel s of each length l, the hook load falls by (1 - 2 x 0.3) p sum(l a / s) / sum(l / s).
The wall's share is the ballooning of Lubinski, Althouse and Logan, "Helical buckling of tubing sealed in
packers", 1962. Straight pipe, without drag; tool joints are not counted.

A heavier fluid inside weighs on hook and foot: the hook gets some of it, at most all.
"""

from __future__ import annotations

import math

from schematic.depth.nest import circle_m2, running_stretch
from schematic.depth.plan import Plan, RunningPart
from schematic.engineering.train import Place
from schematic.outcome import MissingInput
from schematic.units import STANDARD_GRAVITY_M_PER_S2

POISSON = 0.3  # of steel


def hook_falls_n(plan: Plan, pressure_pa: float) -> float:
    """By how much the hook load falls, in N, as the closed running string is brought to a pressure inside and
    its tool stands fast at the liner top.

    Raises
    ------
    MissingInput
        When there is no running string above the liner, or an OD or a bore of it is not given.
    """
    soft, pushed = [], []
    for part, top, bottom in _above_the_liner(plan):
        if part.od_m is None or part.id_m is None:
            raise MissingInput(f"OD and bore of {part.name}")
        bore = circle_m2(part.id_m)
        steel = circle_m2(part.od_m) - bore
        soft.append((bottom - top) / steel)
        pushed.append((bottom - top) * bore / steel)
    return (1.0 - 2.0 * POISSON) * pressure_pa * math.fsum(pushed) / math.fsum(soft)


def fluids_add_n(plan: Plan, place: Place) -> float:
    """What the fluids in the running string weigh more than mud, down to the liner top, in N; negative: less.

    Raises
    ------
    MissingInput
        When there is no mud, no running string above the liner, or a bore of it is not given.
    """
    mud = plan.fluid("mud")
    if mud is None:
        raise MissingInput("a fluid of kind mud")
    tvd, total = plan.depth.path.tvd_m, []
    for part, top, bottom in _above_the_liner(plan):
        area = running_stretch(part).inside_m2
        if area is None:
            raise MissingInput(f"bore of {part.name}")
        for layer in place.inside:
            high, low = max(layer.top_md_m, top), min(layer.bottom_md_m, bottom)
            if low > high:
                heavier = layer.density_kg_per_m3 - mud.density_kg_per_m3
                total.append(heavier * area * (tvd(low) - tvd(high)))
    return STANDARD_GRAVITY_M_PER_S2 * math.fsum(total)


def _above_the_liner(plan: Plan) -> list[tuple[RunningPart, float, float]]:
    """The parts of the running string between surface and liner top, each with its ends there."""
    parts, liner_top = plan.depth.running.parts if plan.depth.running else (), plan.depth.liner.top_md_m
    ends = [(part, max(part.top_md_m, 0.0), min(part.bottom_md_m, liner_top)) for part in parts]
    found = [(part, top, bottom) for part, top, bottom in ends if bottom > top]
    if not found:
        raise MissingInput("running string")
    return found
