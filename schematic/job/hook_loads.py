"""What the weight indicator shows: on the way in, on depth, when the hanger takes the liner.

Static sums need mud and weights alone; what moves along the hole needs the friction factors of the file, and
is not computed without them. The weight of the block is in a hook load where it is said so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from schematic.depth.plan import Plan
from schematic.engineering.drag import Motion, loads
from schematic.engineering.hanging import Piece, elongation_m, pieces, running_pieces
from schematic.engineering.wall import Around, around, spans
from schematic.engineering.weights import weigh, weights
from schematic.outcome import MissingInput

Friction = tuple[float, float]  # in casing, in open hole


class HookLoad(NamedTuple):
    """Hook load without the block, with the shoe at a depth; None: friction is not given.

    Slacking off it is nought where drag takes up all of the weight: the string does not go down by itself.
    """

    shoe_md_m: float
    up_n: float | None
    rotating_n: float
    down_n: float | None
    torque_nm: float | None  # turning off bottom; None too where a tool joint or coupling is not known

    def of(self, motion: Motion) -> float:
        """The hook load of a motion; raises MissingInput without friction."""
        value = {
            Motion.PICKING_UP: self.up_n,
            Motion.SLACKING_OFF: self.down_n,
            Motion.ROTATING: self.rotating_n,
        }[motion]
        if value is None:
            raise MissingInput("installation.friction")
        return value


class HookLoads(NamedTuple):
    """The hook loads of a plan, without the block, whose weight stands beside."""

    block_n: float | None
    at_host_shoe: HookLoad | None  # None: the liner does not go below it
    on_depth: HookLoad
    alone: HookLoad  # the running string when the hanger has the liner
    liner_n: float  # weight of the liner along the hole in mud
    liner_whole_n: float  # the same as if it hung straight
    as_pipe: tuple[str, ...]  # parts of the liner that are taken to weigh what its pipe weighs

    def signal_n(self, motion: Motion) -> float:
        """By how much the hook load falls when the hanger takes the liner; raises MissingInput."""
        return self.on_depth.of(motion) - self.alone.of(motion)

    def signal_share(self, motion: Motion) -> float:
        """The same as a share of the hook load with the block, as the indicator shows it."""
        if self.block_n is None:
            raise MissingInput("installation.block weight")
        return self.signal_n(motion) / (self.on_depth.of(motion) + self.block_n)


def hook_loads(plan: Plan) -> HookLoads:
    """The hook loads at the places that matter.

    Raises
    ------
    MissingInput
        When running string, mud or a weight is not given.
    """
    depth = plan.depth
    weighed = weights(plan)
    below = depth.liner.shoe_md_m > depth.host.shoe_md_m
    return HookLoads(
        plan.job.block_weight_n,
        hook_load(plan, depth.host.shoe_md_m) if below else None,
        hook_load(plan, depth.liner.shoe_md_m),
        alone(plan),
        weighed.liner.along_n,
        weighed.liner.buoyed_n,
        weighed.as_pipe,
    )


def hook_load(
    plan: Plan, shoe_md_m: float, friction: Friction | None = None, surroundings: Around | None = None
) -> HookLoad:
    """Hook load with the liner's shoe at a depth on its way in.

    Friction of the file unless another is given; in mud, or in what stands around (`wall.around`), which need
    not be made anew for every depth.

    Raises
    ------
    MissingInput
        As `hook_loads`.
    """
    return moved(
        plan,
        shoe_md_m,
        pieces(plan, shoe_md_m),
        friction or plan.job.friction,
        surroundings or around(plan),
    )


def alone(plan: Plan, surroundings: Around | None = None) -> HookLoad:
    """Hook load of the running string at depth, the liner hung and released; raises MissingInput."""
    shoe, its = plan.depth.liner.shoe_md_m, running_pieces(plan)
    return moved(plan, shoe, its, plan.job.friction, surroundings or around(plan))


def moved(
    plan: Plan, shoe_md_m: float, hung: Sequence[Piece], friction: Friction | None, surroundings: Around
) -> HookLoad:
    """Hook load of a string, at rest and moving; raises MissingInput as `wall.spans`."""
    static = weigh(plan, hung, surroundings).along_n
    if friction is None:
        return HookLoad(shoe_md_m, None, static, None, None)
    along, path = spans(hung, surroundings, friction), plan.depth.path
    up = loads(path, along, Motion.PICKING_UP)[-1].tension_n
    down = max(loads(path, along, Motion.SLACKING_OFF)[-1].tension_n, 0.0)
    torque = loads(path, along, Motion.ROTATING)[-1].torque_nm
    return HookLoad(shoe_md_m, up, static, down, None if math.isnan(torque) else torque)


def torque_needs(plan: Plan) -> tuple[str, ...]:
    """The inputs for want of which torque is not computed."""
    lacks = [f"tool joint of {piece.name}" for piece in pieces(plan) if piece.contact_m is None]
    return tuple(lacks if plan.job.friction else ["installation.friction", *lacks])


class Taken(NamedTuple):
    """How much longer the running string hangs than it lies on the rack, by motion, in m."""

    up_m: float
    rotating_m: float
    down_m: float | None  # None: it does not go down by itself

    @property
    def between_m(self) -> float | None:
        """Travel at surface between slacking off and picking up, before the foot moves."""
        return None if self.down_m is None else self.up_m - self.down_m


def elongation(plan: Plan, *, liner: bool = True) -> Taken:
    """Elastic elongation of the running string at depth, with the liner on it or alone, for each motion.

    Heat and pressure are not in it.

    Raises
    ------
    MissingInput
        When friction, an OD or a bore is not given, and as `hook_loads`.
    """
    if plan.job.friction is None:
        raise MissingInput("installation.friction")
    hung = pieces(plan) if liner else running_pieces(plan)
    along = spans(hung, around(plan), plan.job.friction)
    up, rotating, down = (
        elongation_m(hung, loads(plan.depth.path, along, motion))
        for motion in (Motion.PICKING_UP, Motion.ROTATING, Motion.SLACKING_OFF)
    )
    return Taken(up, rotating, down if math.isfinite(down) else None)
