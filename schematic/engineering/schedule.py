"""The pumping schedule as it is pumped: every fluid, and between which readings of the counter it goes in."""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.depth.plan import Fluid, Plan, PumpingStep
from schematic.engineering.cement import Cement
from schematic.outcome import MissingInput

_FILLS = ("spacer", "wash")  # fluids whose own volume is what is pumped of them


class Batch(NamedTuple):
    """A fluid that is pumped at one rate: after *from_m3* of all that is pumped, up to *to_m3*."""

    path: str  # its line in the well file, "cement.schedule" where the file has none
    fluid: str
    density_kg_per_m3: float
    from_m3: float
    to_m3: float
    rate_m3_per_s: float | None
    pause_s: float | None  # after it
    slurry: bool
    behind_dart: bool

    @property
    def volume_m3(self) -> float:
        """How much of it."""
        return self.to_m3 - self.from_m3


def batches(plan: Plan, cement: Cement, to_bump_m3: float) -> tuple[Batch, ...]:
    """The schedule of a plan, or the order that the plan gives: spacer, slurries, lead first, displacement.

    A volume that is left out is the plan's: of a slurry what the cement job asks for, of a spacer what the
    fluid has, less what other lines say of it; of the last line the rest to the bump. The dart goes behind
    the last slurry. At the bump pumping ends, whatever the lines add up to: what they say beyond it is
    left out, what they lack is pumped as the last of them.

    Raises
    ------
    MissingInput
        When a volume is not given, no line is a slurry, or none displaces it.
    """
    fluids = {fluid.name: fluid for fluid in plan.fluids}
    lines = plan.cement.schedule or _of_plan(plan)
    wanted = {slurry.name: slurry.volume_m3 for slurry in cement.slurries}
    cements = [line.fluid in wanted or fluids[line.fluid].kind == "slurry" for line in lines]
    last = max((i for i, is_slurry in enumerate(cements) if is_slurry), default=None)
    if last is None:
        raise MissingInput("a slurry in cement.schedule")
    if last + 1 == len(lines):
        raise MissingInput("a line of cement.schedule behind the last slurry")
    made: list[Batch] = []
    pumped, end = 0.0, math.inf
    for index, line in enumerate(lines):
        behind = index > last
        if index == last + 1:
            end = pumped + to_bump_m3
        path = f"cement.schedule.{index}" if plan.cement.schedule else "cement.schedule"
        volume = line.volume_m3
        if index + 1 == len(lines):
            volume = end - pumped
        elif volume is None:
            fluid = fluids[line.fluid]
            volume = None if behind else _left(lines, index, fluid, wanted.get(fluid.name))
            if volume is None:
                own = fluid.kind in _FILLS and not behind
                raise MissingInput(f"fluids.{fluid.name}.volume" if own else f"{path}.volume")
        to = min(pumped + volume, end)
        if to > pumped:
            made.append(
                Batch(
                    path,
                    line.fluid,
                    fluids[line.fluid].density_kg_per_m3,
                    pumped,
                    to,
                    line.rate_m3_per_s,
                    line.pause_s,
                    cements[index],
                    behind,
                )
            )
            pumped = to
    return tuple(made)


def _left(lines: tuple[PumpingStep, ...], index: int, fluid: Fluid, wanted_m3: float | None) -> float | None:
    """What is left of a fluid's volume for the one line that does not say; None where it is not known."""
    whole = fluid.volume_m3 if fluid.kind in _FILLS else wanted_m3
    others = [line for i, line in enumerate(lines) if line.fluid == fluid.name and i != index]
    if whole is None or any(line.volume_m3 is None for line in others):
        return None
    return max(whole - math.fsum(line.volume_m3 or 0.0 for line in others), 0.0)


def _of_plan(plan: Plan) -> tuple[PumpingStep, ...]:
    behind = plan.fluid("displacement") or plan.fluid("mud")
    if behind is None:
        raise MissingInput("a fluid of kind mud")
    slurries = dict.fromkeys(slurry.fluid for slurry in plan.cement.slurries)
    names = (*([plan.cement.spacer] if plan.cement.spacer else []), *slurries, behind.name)
    return tuple(PumpingStep(name, None, None, None, "") for name in names)
