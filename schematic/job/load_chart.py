"""Hook load against depth of the shoe for several friction factors, with room for what was measured."""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.depth.plan import Plan, RunningPart
from schematic.engineering.drag import Motion
from schematic.engineering.wall import around
from schematic.job.hook_loads import Friction, hook_load
from schematic.job.measured_loads import Reading, readings
from schematic.outcome import MissingInput

_ASIDE = (-0.10, -0.05, 0.0, 0.05, 0.10)  # beside the factors of the file
_USUAL = (0.1, 0.2, 0.3, 0.4)  # where it gives none: to hold what is measured against, not assumed


class Curve(NamedTuple):
    """Hook load with the block for one pair of friction factors, at the depths of the chart."""

    friction: Friction
    of_file: bool
    up_n: tuple[float, ...]
    down_n: tuple[float, ...]  # minus infinity where it does not go down by itself


class LoadChart(NamedTuple):
    """The data of the chart; loads have the block in them where its weight is given."""

    block_n: float | None
    shoe_md_m: tuple[float, ...]
    rotating_n: tuple[float, ...]
    curves: tuple[Curve, ...]  # by rising friction
    measured: tuple[Reading, ...]


def frictions(plan: Plan) -> tuple[Friction, ...]:
    """The file's factors and 0.05 and 0.10 beside them; without them 0.1 to 0.4, the same for both."""
    given = plan.job.friction
    if given is None:
        return tuple((factor, factor) for factor in _USUAL)
    pairs = [(round(given[0] + aside, 6), round(given[1] + aside, 6)) for aside in _ASIDE]
    return tuple(pair for pair in pairs if min(pair) >= 0.0)


def stand_m(plan: Plan) -> float:
    """Length of a stand of running string: as the file says, else one joint of its uppermost pipe.

    Raises
    ------
    MissingInput
        When neither is given.
    """
    running = plan.depth.running
    if running is None:
        raise MissingInput("running string")
    if running.stand_m is not None:
        return running.stand_m
    jointed: list[RunningPart] = [part for part in running.parts if part.joint_length_m is not None]
    if not jointed or jointed[0].joint_length_m is None:
        raise MissingInput("running string.stand length")
    return jointed[0].joint_length_m


def stands(plan: Plan) -> tuple[float, ...]:
    """Depths of the shoe from where the liner is picked up on its running string, stand by stand, to depth.

    With the shoe of the host among them; raises MissingInput as `stand_m`.
    """
    depth, step = plan.depth, stand_m(plan)
    first, last = depth.liner.shoe_md_m - depth.liner.top_md_m, depth.liner.shoe_md_m
    at = {first + n * step for n in range(int((last - first) / step) + 1)}
    at |= {depth.host.shoe_md_m} if first < depth.host.shoe_md_m < last else set()
    return (*sorted(md for md in at if md < last - 1e-6), last)


def load_chart(plan: Plan, depths_md_m: tuple[float, ...] | None = None) -> LoadChart:
    """The chart at every stand, or at other depths of the shoe.

    Raises
    ------
    MissingInput
        When running string, stand or joint length, mud or a weight is not given.
    """
    at = stands(plan) if depths_md_m is None else depths_md_m
    surroundings = around(plan)
    block = plan.job.block_weight_n or 0.0
    curves = []
    rotating: tuple[float, ...] = ()
    for pair in frictions(plan):
        found = [hook_load(plan, md, pair, surroundings) for md in at]
        rotating = tuple(load.rotating_n + block for load in found)
        curves.append(
            Curve(
                pair,
                pair == plan.job.friction,
                tuple(load.of(Motion.PICKING_UP) + block for load in found),
                tuple(load.down_n + block if load.down_n else -math.inf for load in found),
            )
        )
    return LoadChart(plan.job.block_weight_n, at, rotating, tuple(curves), readings(plan))
