"""The hook loads that were measured on the way in, and the friction factor that they say."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from schematic.depth.plan import Plan
from schematic.engineering.drag import Motion, loads
from schematic.engineering.hanging import pieces
from schematic.engineering.wall import Around, around, spans
from schematic.outcome import MissingInput
from schematic.units import parse
from schematic.wellfile.model_job import MEASURED_LOADS

MOTIONS = dict(zip(MEASURED_LOADS, (Motion.PICKING_UP, Motion.SLACKING_OFF, Motion.ROTATING), strict=True))


class Reading(NamedTuple):
    """A hook load that was measured, block included as the indicator shows it."""

    motion: Motion
    shoe_md_m: float
    hook_n: float


def readings(plan: Plan) -> tuple[Reading, ...]:
    """The measured hook loads of the record; reading the file has seen to it that they read."""
    made = []
    for line in plan.record:
        motion = MOTIONS.get(line.what.strip().lower())
        if motion is not None and line.at_md_m is not None and not plan.was_elsewhere(line):
            made.append(Reading(motion, line.at_md_m, parse(line.value, "force").si))
    return tuple(made)


class Says(NamedTuple):
    """The friction factors that a reading says, or all of them together."""

    cased: float
    open_hole: float
    same: bool  # the file gives no factors to keep the ratio of: one for casing and rock


_MOST = 1.0
_HALVINGS = 40


def friction_says(plan: Plan, reading: Reading) -> Says | None:
    """The friction factors that a reading says, casing to rock in the ratio of the file.

    None where it says nothing (rotating has no drag along the hole) or no factor up to 1 gives it: the
    reading, the weights or the block are off.

    Raises
    ------
    MissingInput
        When the block's weight is not given, and as `hook_loads.hook_load`.
    """
    return friction_of_all(plan, (reading,))


def friction_of_all(plan: Plan, measured: Sequence[Reading]) -> Says | None:
    """The one pair of factors with which the drag of all readings adds up to what was measured."""
    block = plan.job.block_weight_n
    if block is None:
        raise MissingInput("installation.block weight")
    given = plan.job.friction
    ratio = given[1] / given[0] if given is not None and given[0] > 0.0 else 1.0
    surroundings = around(plan)
    overs = [_over(plan, one, block, ratio, surroundings) for one in measured if one.motion.value]
    factor = _root(lambda mu: sum(over(mu) for over in overs)) if overs else None
    return None if factor is None else Says(factor, factor * ratio, given is None)


def _over(
    plan: Plan, reading: Reading, block_n: float, ratio: float, surroundings: Around
) -> Callable[[float], float]:
    """By how much the drag of a factor is over what was measured: it grows with the factor."""
    hung = pieces(plan, reading.shoe_md_m)

    def over(factor: float) -> float:
        along = spans(hung, surroundings, (factor, factor * ratio))
        hook = loads(plan.depth.path, along, reading.motion)[-1].tension_n + block_n
        return reading.motion.value * (hook - reading.hook_n)

    return over


def _root(over: Callable[[float], float]) -> float | None:
    """Where a growing function crosses nought between 0 and 1, by halving; None where it does not."""
    low, high = 0.0, _MOST
    if over(low) > 0.0 or over(high) < 0.0:
        return None
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if over(middle) < 0.0 else (low, middle)
    return 0.5 * (low + high)
