"""How much may be pulled: what each part that carries bears, and what bounds the pull at surface."""

from __future__ import annotations

from typing import NamedTuple

from schematic.depth.plan import JOINTED, Plan, RunningPart
from schematic.engineering.hanging import pieces
from schematic.engineering.strength import liner_strength, pipe_strength
from schematic.engineering.wall import around
from schematic.engineering.weights import weigh
from schematic.outcome import MissingInput

RIG = "installation"  # the path of the rig's own limit


class Bearing(NamedTuple):
    """What a part bears in tension, as a hook load without the block, and its load at rest there."""

    path: str
    name: str
    bears: str  # "body yield", "load rating" or "hook load limit"
    hook_n: float  # the pull at surface that brings the part to the share of it that the limits allow
    full_n: float  # what the part itself bears, whole
    static_n: float  # what hangs on it at rest


class Unknown(NamedTuple):
    """A part that carries, of which the file does not say what it bears, and what it would need."""

    path: str
    name: str
    needs: tuple[str, ...]


class Overpull(NamedTuple):
    """What each part bears, from the top down, and those of which it is not known."""

    bearings: tuple[Bearing, ...]
    unknown: tuple[Unknown, ...]

    @property
    def least(self) -> Bearing:
        """What bounds the pull of those that are known."""
        return min(self.bearings, key=lambda one: one.hook_n)


def overpull(plan: Plan) -> Overpull:
    """What every part bears with the liner on depth.

    Body yield of new pipe where the grade is known (the class of used pipe is not, connections are not in
    it), at the limits' share; a load rating, whole; the rig's limit less the block. Pipe further down carries
    less by the weight above it; drag, which would take more, is left out.

    Raises
    ------
    MissingInput
        When running string, mud or a weight is not given.
    """
    hung, surroundings, liner = pieces(plan), around(plan), plan.depth.liner
    share = plan.limits["greatest share of rating"].si
    whole = weigh(plan, hung, surroundings).along_n
    found: list[Bearing] = []
    unknown: list[Unknown] = []

    def bearing(path: str, name: str, bears: str, full: float, counted: float, top_md_m: float) -> None:
        above = [piece for piece in hung if piece.bottom_md_m <= top_md_m + 1e-6]
        over = weigh(plan, above, surroundings).along_n
        found.append(Bearing(path, name, bears, counted * full + over, full, whole - over))

    for part in carrying(plan):
        before = len(found)
        if part.load_rating_n is not None:
            bearing(part.path, part.name, "load rating", part.load_rating_n, 1.0, part.top_md_m)
        try:
            yields = pipe_strength(part).body_yield_n
            bearing(part.path, part.name, "body yield", yields, share, part.top_md_m)
        except MissingInput as error:
            needs = error.missing if part.kind in JOINTED else (f"{part.path}.load rating",)
            if len(found) == before:
                unknown.append(Unknown(part.path, part.name, needs))
    try:
        yields = liner_strength(liner).body_yield_n
        bearing("liner", liner.name, "body yield", yields, share, liner.top_md_m)
    except MissingInput as error:
        unknown.append(Unknown("liner", liner.name, error.missing))
    limit, block = plan.job.hook_load_limit_n, plan.job.block_weight_n
    if limit is not None and block is not None:
        found.append(Bearing(RIG, "the rig", "hook load limit", limit - block, limit, whole + block))
    else:
        given = {"installation.hook load limit": limit, "installation.block weight": block}
        lacks = tuple(name for name, value in given.items() if value is None)
        unknown.append(Unknown(RIG, "the rig", lacks))
    return Overpull(tuple(found), tuple(unknown))


def carrying(plan: Plan) -> tuple[RunningPart, ...]:
    """The parts of the running string on which the liner hangs."""
    parts = plan.depth.running.parts if plan.depth.running else ()
    return tuple(p for p in parts if p.bottom_md_m <= plan.depth.liner.top_md_m + 1e-6 and p.length_m > 0.0)


class PullLimit(NamedTuple):
    """The most that may be pulled at surface without the block, and what bounds it, in words."""

    limit_n: float
    why: str


def overpull_limit(plan: Plan) -> PullLimit:
    """The least of what each part bears; the words say of how many it is not known.

    Raises
    ------
    MissingInput
        When it is not known of a drill pipe, on which all hangs, and as `overpull`.
    """
    found = overpull(plan)
    pipes = {part.path for part in carrying(plan) if part.kind == "drill pipe"}
    lacks = [need for one in found.unknown if one.path in pipes for need in one.needs]
    if lacks or not found.bearings:
        raise MissingInput(*(lacks or [need for one in found.unknown for need in one.needs]))
    least = found.least
    others = f"; {len(found.unknown)} others not known" if found.unknown else ""
    return PullLimit(least.hook_n, f"{least.bears} of {least.name}{others}")
