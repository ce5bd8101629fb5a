"""The clock of a cement job: from the first slurry mixed until the string is clear, against thickening."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from schematic.depth.plan import Plan
from schematic.engineering.cement import Cement
from schematic.engineering.schedule import Batch
from schematic.engineering.train import Train
from schematic.engineering.volumes import bored_m3
from schematic.units import STANDARD_GRAVITY_M_PER_S2


class Stage(NamedTuple):
    """One stage of the job; *seconds* None: not given, for want of *needs*."""

    name: str
    seconds: float | None
    needs: tuple[str, ...] = ()


class InWater(NamedTuple):
    """How long a slurry is in water before the string is clear of it, with one stoppage and without.

    *seconds* and *undisturbed_s* are None where a stage is not given; *at_least_s* counts those that are.
    """

    slurry: str
    seconds: float | None
    undisturbed_s: float | None
    at_least_s: float
    thickening_s: float | None
    needs: tuple[str, ...]


class Clock(NamedTuple):
    """All stages in the order of the job, their sum, and each slurry's own time.

    *whole_s* is None where a stage is not given; *least_s* is the sum of those that are: "at least".
    """

    stages: tuple[Stage, ...]
    whole_s: float | None
    least_s: float
    slurries: tuple[InWater, ...]
    needs: tuple[str, ...]


DISPLACING, _STOPPAGE = "displacing", "one stoppage"


def clock(plan: Plan, cement: Cement, the_train: Train) -> Clock:
    """Mixing, pumping, dropping the dart, displacing, setting the packer, pulling clear, reversing out and
    one stoppage. What the file does not give is listed, nothing is put in its place.

    A packer that the liner has not, and cement above the liner that is not planned, take no time.
    """
    given, train = plan.cement.clock, the_train
    last = [batch for batch in train.batches if not batch.behind_dart][-1]
    mix = _given("mixing before pumping", given.mix_s, "cement.clock.mix before pumping")
    pumping = [
        (batch, stage)
        for batch in train.batches
        if not batch.behind_dart
        for stage in (_pumping(f"pumping {batch.fluid}", [batch], pauses=batch is not last),)
    ]
    first = next(i for i, (batch, _) in enumerate(pumping) if batch.slurry)
    after = [
        _given("dropping the dart", last.pause_s, f"{last.path}.pause"),
        _pumping(DISPLACING, [batch for batch in train.batches if batch.behind_dart], pauses=True),
    ]
    if plan.depth.liner.find("liner top packer") is not None:
        after.append(_given("setting the packer", given.set_packer_s, "cement.clock.set packer"))
    after.append(_given("pulling clear", given.pull_clear_s, "cement.clock.pull clear"))
    out = reverse_out_m3(cement, train)
    if out > 0.0:
        rate = given.reverse_m3_per_s
        after.append(_given("reversing out", out / rate if rate else None, "cement.clock.reverse out at"))
    after.append(_given(_STOPPAGE, given.stoppage_s, "cement.clock.stoppage"))
    stages = (mix, *(stage for _, stage in pumping[first:]), *after)
    times = {fluid.name: fluid.thickening_time_s for fluid in plan.fluids}
    slurries = {}
    for index, (batch, _) in enumerate(pumping):
        if batch.slurry and batch.fluid not in slurries:
            own = (mix, *(stage for _, stage in pumping[index:]), *after)
            slurries[batch.fluid] = _in_water(batch.fluid, own, times[batch.fluid])
    whole, least, needs = _sum(stages)
    return Clock(stages, whole, least, tuple(slurries.values()), needs)


def reverse_out_m3(cement: Cement, the_train: Train) -> float:
    """What is reversed until the cement above the liner is out: itself, and the string that it goes up.

    Nought where none stands above the liner when nothing is lost.
    """
    above = cement.above_liner_top_m3
    return above + the_train.down_to_m3(the_train.foot_md_m) if above > 0.0 else 0.0


class Reversed(NamedTuple):
    """What is reversed out above the liner: it comes up the string, the lowest first."""

    cement_m3: float
    other_m3: float  # spacer and the like above it
    string_m3: float  # which the first of it goes up before it is seen
    u_tube_pa: float  # by which it is heavier than mud when all of it has just gone into the string, at rest
    left_m3: float  # cement below the raised end of the string, which is not reached


def reversed_out(plan: Plan, the_train: Train, raised_m: float) -> Reversed:
    """What stands above the liner at the bump and is reversed out, and what it weighs in the string.

    The string is raised first: what stands in the host below its end stays in the well. The lowest of the
    rest goes into the string first, so that what stood highest ends at its foot.
    """
    top, foot, mud = plan.depth.liner.top_md_m, the_train.foot_md_m, the_train.first.density_kg_per_m3
    slurries = {slurry.fluid for slurry in plan.cement.slurries}
    bore = the_train.inside_m2.clip(the_train.inside_m2.top_m, foot)
    tvd, whole = plan.depth.path.tvd_m, bore.integral()
    cement = other = pressure = left = 0.0
    below = foot
    end = max(foot - raised_m, 0.0)
    stays = bored_m3(plan.depth, end, top) if end < top else 0.0
    held = []
    for layer in reversed(the_train.at(the_train.total_m3).outside):
        if layer.top_md_m >= top or layer.fluid == the_train.first.fluid:
            continue
        volume = the_train.outside_m2.integral(layer.top_md_m, min(layer.bottom_md_m, top))
        kept = min(volume, stays)
        stays -= kept
        left += kept if layer.fluid in slurries else 0.0
        held.append((layer, volume - kept))
    for layer, volume in reversed(held):
        cement, other = (cement + volume, other) if layer.fluid in slurries else (cement, other + volume)
        filled = cement + other
        above = bore.reach_up(filled, foot) if filled < whole else bore.top_m
        fall = tvd(max(below, 0.0)) - tvd(max(above, 0.0))
        pressure += (layer.density_kg_per_m3 - mud) * STANDARD_GRAVITY_M_PER_S2 * fall
        below = above
    return Reversed(cement, other, the_train.down_to_m3(foot), pressure, left)


def _given(name: str, seconds: float | None, needs: str) -> Stage:
    return Stage(name, seconds, () if seconds is not None else (needs,))


def _pumping(name: str, batches: Iterable[Batch], *, pauses: bool) -> Stage:
    """Volume over rate of some lines, with the pauses after them."""
    total, needs = 0.0, []
    for batch in batches:
        if batch.rate_m3_per_s is None:
            needs.append(f"{batch.path}.rate")
        else:
            total += batch.volume_m3 / batch.rate_m3_per_s
        total += (batch.pause_s or 0.0) if pauses else 0.0
    return Stage(name, None if needs else total, tuple(dict.fromkeys(needs)))


def _in_water(slurry: str, stages: tuple[Stage, ...], thickening_s: float | None) -> InWater:
    whole, least, needs = _sum(stages)
    undisturbed, _, _ = _sum(tuple(stage for stage in stages if stage.name != _STOPPAGE))
    needs = (*needs, *([f"fluids.{slurry}.thickening time"] if thickening_s is None else []))
    return InWater(slurry, whole, undisturbed, least, thickening_s, needs)


def _sum(stages: tuple[Stage, ...]) -> tuple[float | None, float, tuple[str, ...]]:
    """Sum of the stages, None where one is not given; sum of those that are; what the others need."""
    needs = tuple(dict.fromkeys(name for stage in stages for name in stage.needs))
    least = math.fsum(stage.seconds for stage in stages if stage.seconds is not None)
    return (None if needs else least), least, needs
