"""Volumes of the bores and annuli that the job fills, each an integral of an area over depth.

Lengths are along hole. Real ODs and bores of every part count; pipe bores count tool joints; couplings of
liner joints and centralizers are not counted. A part whose OD or bore the file does not give counts as pipe
body, and the result says so.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from schematic.depth.by_depth import NOWHERE, ByDepth
from schematic.depth.nest import RUNNING_STRING, Nest, circle_m2, running_tube
from schematic.depth.plan import Depths, Hole, Plan
from schematic.outcome import MissingInput, Uncomputed

_LOGGED = 200  # a section of more steps than a person writes: its volume is told as one


def capacity_m3_per_m(id_m: float) -> float:
    """Volume inside a pipe or hole per metre along hole, in m3/m.

    Area of a circle; the field's ``D^2 / 1029.4`` bbl/ft is a rounding of it.
    """
    return circle_m2(id_m)


def annulus_m3_per_m(outer_id_m: float, inner_od_m: float) -> float:
    """Volume between a pipe and the bore around it, per metre along hole, in m3/m.

    Raises
    ------
    ValueError
        When the pipe does not fit in the bore.
    """
    if not inner_od_m < outer_id_m:
        raise ValueError(f"an OD of {inner_od_m} m does not fit in a bore of {outer_id_m} m")
    return circle_m2(outer_id_m) - circle_m2(inner_od_m)


class Volume(NamedTuple):
    """One space of the job: its name, side, ends, likely volume, and the band from the hole's size."""

    name: str
    side: str  # "inside" or "outside"
    top_md_m: float
    bottom_md_m: float
    m3: float
    low_m3: float
    high_m3: float


class Laps(NamedTuple):
    """Lengths that are called lap; all end at the host shoe, or at the shoe of a liner that ends inside its
    host. None: there is no such part, or no planned top.

    *cemented_m* begins at the hanger's base or at the planned top of cement, whichever is deeper.
    """

    end: str  # "host shoe", or "liner shoe" where the liner ends inside its host
    liner_top_m: float
    packer_base_m: float | None
    hanger_base_m: float | None
    cemented_m: float | None


class JobVolumes(NamedTuple):
    """The spaces of the job and, for those that cannot be computed, what is missing."""

    spaces: tuple[Volume, ...]
    missing: tuple[Uncomputed, ...]
    notes: tuple[str, ...]
    beside_m2: ByDepth  # annulus outside the liner
    above_m2: ByDepth  # annulus outside the running string, down to the liner top; nowhere: not known

    @property
    def needs(self) -> tuple[str, ...]:
        """All missing inputs, each once."""
        return tuple(dict.fromkeys(name for one in self.missing for name in one.needs))

    def total_m3(self, *names: str) -> float | None:
        """Sum of the spaces of these names; None when one of them is not there."""
        found = [space.m3 for space in self.spaces if space.name in names]
        have = {space.name for space in self.spaces}
        return math.fsum(found) if set(names) <= have else None


RUNNING = "running string to its foot"
RUNNING_TO_TOP = "running string to liner top"
LINER = "liner, foot of string to collar"
LINER_FROM_TOP = "liner, top to collar"
SHOE_TRACK = "shoe track"
ABOVE = "above liner top"
LAP = "lap"
OPEN_HOLE = "open hole"
RATHOLE = "rathole"
BELOW_LINER = "well below the liner"  # that ends inside its host: casing, then hole


def laps(plan: Plan) -> Laps:
    """The laps: from liner top, packer base, hanger base and top of cement to the host shoe."""
    depth, cement = plan.depth, plan.cement.planned_top_md_m
    liner = depth.liner
    inside = liner.shoe_md_m < depth.host.shoe_md_m
    shoe = liner.shoe_md_m if inside else depth.host.shoe_md_m
    packer, hanger = liner.find("liner top packer"), liner.find("liner hanger")
    return Laps(
        "liner shoe" if inside else "host shoe",
        shoe - liner.top_md_m,
        shoe - packer.bottom_md_m if packer else None,
        shoe - hanger.bottom_md_m if hanger else None,
        max(0.0, shoe - max(hanger.bottom_md_m, cement)) if hanger and cement is not None else None,
    )


def not_given(depth: Depths) -> tuple[str, ...]:
    """Liner parts whose OD or bore the file does not give and that count as pipe body in volumes."""
    unknown_od = [p.name for p in depth.liner.parts if p.od_m is None and p.length_m > 0]
    unknown_id = [
        p.name if p.seat_m is None else f"{p.name} but for its ball seat"
        for p in depth.liner.parts
        if p.id_m is None and p.length_m > 0
    ]
    return tuple(
        f"{word} not given, counted as pipe body in volumes: {', '.join(dict.fromkeys(names))}"
        for word, names in (("OD", unknown_od), ("bore", unknown_id))
        if names
    )


def _changes_md_m(hole: Hole) -> list[float]:
    """Where the hole changes its diameter; of a section by a caliper log, which changes with every reading,
    where it begins and ends, and where the log is silent.
    """
    depths = hole.diameter_m.depths_m
    logged = [
        s for s in hole.sections if len(hole.diameter_m.clip(s.top_md_m, s.bottom_md_m).values) > _LOGGED
    ]
    kept = {d for d in depths if not any(s.top_md_m < d < s.bottom_md_m for s in logged)}
    return sorted(kept | {d for gap in hole.gaps_md_m for d in gap})


def job_volumes(plan: Plan, nest: Nest) -> JobVolumes:
    """All spaces of the job, with the running string in and the liner at depth.

    Spaces that lack an input are left out; what they lack stands in ``missing``.
    """
    depth = plan.depth
    liner, hole = depth.liner, depth.hole
    spaces: list[Volume] = []
    missing: list[Uncomputed] = []

    def space(name: str, side: str, top: float, bottom: float, area: ByDepth) -> None:
        if bottom > top:
            value = area.integral(top, bottom)
            spaces.append(Volume(name, side, top, bottom, value, value, value))

    if depth.running is not None:
        tube = running_tube(depth.running)
        bottom = depth.running.foot_md_m
        hangs = bottom > liner.top_md_m
        name = RUNNING if hangs else RUNNING_TO_TOP
        try:
            space(name, "inside", tube.top_m, bottom, tube.inside_m2(tube.top_m, bottom))
        except MissingInput as error:
            missing.append(Uncomputed(name, error.missing))
    else:
        missing.append(Uncomputed(f"{RUNNING}, {ABOVE}", ("running string",)))
    bore = nest.tube(liner.name).inside_m2(liner.parts[0].top_md_m, liner.shoe_md_m)
    stop = liner.shoe_track_top_md_m
    foot = depth.running.foot_md_m if depth.running else liner.top_md_m
    if stop is None:
        missing.append(Uncomputed(f"{LINER_FROM_TOP}, {SHOE_TRACK}", ("landing collar",)))
    elif foot > liner.top_md_m:
        space(LINER, "inside", foot, stop, bore)
    else:
        space(LINER_FROM_TOP, "inside", liner.top_md_m, stop, bore)
    if stop is not None:
        space(SHOE_TRACK, "inside", stop, liner.shoe_md_m, bore)

    def fitting(name: str, top: float, bottom: float) -> ByDepth:
        """The annulus of a string, or a missing input where it is larger than what stands around it."""
        area = nest.annulus_m2(name, top, bottom)
        if any(value < 0.0 for value in area.values):
            raise MissingInput(f"a {name} that fits in what stands around it")
        return area

    above_m2 = NOWHERE
    if depth.running is not None:
        try:
            above_m2 = fitting(RUNNING_STRING, 0.0, liner.top_md_m)
        except MissingInput as error:
            missing.append(Uncomputed(ABOVE, error.missing))
    top_of_cement = plan.cement.planned_top_md_m
    if top_of_cement is not None and top_of_cement < liner.top_md_m and above_m2.depths_m:
        space(ABOVE, "outside", top_of_cement, liner.top_md_m, above_m2)
    shoe = depth.host.shoe_md_m
    top = max(liner.top_md_m, liner.parts[0].top_md_m)
    beside = NOWHERE
    try:
        beside = fitting(liner.name, liner.parts[0].top_md_m, liner.shoe_md_m)
        space(LAP, "outside", top, min(shoe, liner.shoe_md_m), beside)
    except MissingInput as error:
        missing.append(Uncomputed(f"{LAP}, {OPEN_HOLE}", error.missing))
    steps = [d for d in _changes_md_m(hole) if max(shoe, top) < d < liner.shoe_md_m]
    edges = [max(shoe, top), *steps, liner.shoe_md_m]
    slack = {
        "low": hole.least_m.map(circle_m2).combine(nest.hole_m2, lambda a, b: a - b),
        "high": hole.greatest_m.map(circle_m2).combine(nest.hole_m2, lambda a, b: a - b),
    }

    def in_hole(name: str, above: float, below: float, area: ByDepth) -> None:
        if below > above:
            value = area.integral(above, below)
            low, high = (slack[key].integral(max(above, shoe), below) for key in ("low", "high"))
            spaces.append(Volume(name, "outside", above, below, value, value + low, value + high))

    for above, below in zip(edges, edges[1:], strict=False):
        if beside.depths_m:
            in_hole(OPEN_HOLE, above, below, beside)
    name = BELOW_LINER if liner.shoe_md_m < shoe else RATHOLE
    in_hole(name, liner.shoe_md_m, depth.td_md_m, nest.open_bore_m2(liner.shoe_md_m, depth.td_md_m))
    return JobVolumes(tuple(spaces), tuple(missing), not_given(depth), beside, above_m2)


def bored_m3(depth: Depths, top_md_m: float, bottom_md_m: float) -> float:
    """Volume of the innermost bores of the strings in place between two depths, nothing standing in them.

    Raises
    ------
    MissingInput
        When no string stands around a part of it.
    """
    ends = {e for s in depth.strings for e in (s.top_md_m, s.shoe_md_m) if top_md_m < e < bottom_md_m}
    total = 0.0
    for top, bottom in pairwise(sorted({top_md_m, bottom_md_m} | ends)):
        bores = [s.id_m for s in depth.strings if s.top_md_m <= top and bottom <= s.shoe_md_m]
        if not bores:
            raise MissingInput(f"a string at {top:.0f} m")
        total += circle_m2(min(bores)) * (bottom - top)
    return total
