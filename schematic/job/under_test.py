"""What each part sees in a test of lap and liner top from above, against what it bears.

Inside stands the fluid of the test under its pressure. Outside, at rest and long after the job, no more
than the water of set cement and old mud is credited: fresh water, common practice for burst. Should the lap
leak, the pressure is at the host's shoe.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from itertools import pairwise
from typing import NamedTuple

from schematic.depth.nest import circle_m2
from schematic.depth.plan import CasingString, Plan
from schematic.engineering.at_rest import FRESH_WATER_KG_PER_M3
from schematic.engineering.strength import casing_strength, liner_strength
from schematic.engineering.weights import liner_weight
from schematic.job.bounds import Bound, least
from schematic.job.hanger_load import allowed_n
from schematic.job.proof import Positive, host_limit_kg_per_m3
from schematic.outcome import MissingInput
from schematic.units import STANDARD_GRAVITY_M_PER_S2

HOST, LINER, PACKER, HANGER, LEAK = (
    "host casing",
    "liner",
    "liner top packer",
    "hanger",
    "host shoe, if the lap leaks",
)
ABOVE = ", above the host"  # behind the name of a string in the well


class Sees(NamedTuple):
    """A part in the test: its load and what it bears, in Pa, N or as EMW; None: not known, needs *needs*."""

    part: str
    kind: str  # "pressure", "force" or "emw"
    sees: float | None
    bears: float | None
    why: str  # what the second is
    most_surface_pa: float | None  # the pressure at surface at which it bears no more
    needs: tuple[str, ...] = ()

    @property
    def holds(self) -> bool | None:
        """Whether it bears the test; None: not known."""
        return None if self.sees is None or self.bears is None else self.sees <= self.bears * (1.0 + 1e-9)


def _deeper_pa(plan: Plan, density: float, md_m: float) -> float:
    """What the fluid of the test adds over water outside, down to a depth; nothing where it is lighter."""
    over = max(density - FRESH_WATER_KG_PER_M3, 0.0)
    return over * STANDARD_GRAVITY_M_PER_S2 * plan.depth.path.tvd_m(md_m)


def exposed_strings(plan: Plan) -> tuple[tuple[CasingString, float], ...]:
    """The strings that stand innermost somewhere above the liner top, each with how deep it does: the host
    first, then those above it, as where the host is itself a liner.
    """
    depth = plan.depth
    top = depth.liner.top_md_m
    ends = {end for one in depth.strings for end in (one.top_md_m, one.shoe_md_m) if 0.0 < end < top}
    deepest = {depth.host.path: (depth.host, top)}
    for above, below in pairwise(sorted({0.0, *ends, top})):
        around = [one for one in depth.strings if one.top_md_m <= above and below <= one.shoe_md_m]
        if around:
            inner = min(around, key=lambda one: one.id_m)
            deepest[inner.path] = (inner, max(below, deepest.get(inner.path, (inner, 0.0))[1]))
    return tuple(deepest.values())


def _burst_pa(string: CasingString) -> float:
    return casing_strength(string).burst_pa


def under_test(plan: Plan, test: Positive) -> tuple[Sees, ...]:
    """The parts that a test loads, the host first."""
    depth = plan.depth
    share = plan.limits["greatest share of rating"]
    made: list[Sees] = []

    def pressed(part: str, md_m: float, bears: Callable[[], float], why: str) -> None:
        deeper = _deeper_pa(plan, test.fluid_kg_per_m3, md_m)
        sees = test.surface_pa + deeper
        try:
            allowed = share.si * bears()
        except MissingInput as error:
            made.append(Sees(part, "pressure", sees, None, why, None, error.missing))
            return
        made.append(Sees(part, "pressure", sees, allowed, why, allowed - deeper))

    def packer_pa() -> float:
        rating = packer.pressure_rating_pa if packer else None
        if rating is None:
            raise MissingInput("liner top packer.pressure rating")
        return rating

    words = f"{share.text} of burst, pipe body"
    for string, md in exposed_strings(plan):
        part = HOST if string.path == depth.host.path else f"{string.name}{ABOVE}"
        pressed(part, md, partial(_burst_pa, string), words)
    pressed(LINER, depth.liner.shoe_md_m, lambda: liner_strength(depth.liner).burst_pa, words)
    packer = depth.liner.find("liner top packer")
    if packer is not None:
        pressed(PACKER, packer.bottom_md_m, packer_pa, f"{share.text} of its rating")
    if depth.liner.find("liner hanger") is not None:
        made.append(_hanger(plan, test))
    if depth.liner.shoe_md_m > depth.host.shoe_md_m:
        made.append(_leak(plan, test))
    return tuple(made)


def _hanger(plan: Plan, test: Positive) -> Sees:
    bore, factor = circle_m2(plan.depth.host.id_m), plan.limits["least hanger factor"]
    why = f"its rating divided by {factor.text}, no cement credited"
    try:
        hung = liner_weight(plan).along_n
    except MissingInput as error:
        return Sees(HANGER, "force", None, None, why, None, error.missing)
    sees = hung + test.surface_pa * bore
    try:
        allowed = allowed_n(plan)
    except MissingInput as error:
        return Sees(HANGER, "force", sees, None, why, None, error.missing)
    return Sees(HANGER, "force", sees, allowed, why, max(allowed - hung, 0.0) / bore)


def _leak(plan: Plan, test: Positive) -> Sees:
    limit, why = host_limit_kg_per_m3(plan), "measured there, or the table's fracture pressure"
    if limit is None:
        needs = ("formation.leak off at the host shoe",)
        return Sees(LEAK, "emw", test.host_emw_kg_per_m3, None, why, None, needs)
    tvd = plan.depth.path.tvd_m(plan.depth.host.shoe_md_m)
    room = (limit - test.fluid_kg_per_m3) * STANDARD_GRAVITY_M_PER_S2 * tvd
    return Sees(LEAK, "emw", test.host_emw_kg_per_m3, limit, why, room)


def surface_bound(plan: Plan, test: Positive) -> Bound:
    """The pressure at surface that the weakest of what holds the test bears, no more than the surface
    equipment and what the strings inside which it stands were tested to. A leak of the lap is not in it: it
    is what the test is to find.

    Raises
    ------
    MissingInput
        When it is not known what the hanger bears, most often the weakest, or of none of them.
    """
    rows = [row for row in under_test(plan, test) if row.part != LEAK]
    known = [
        Bound(row.most_surface_pa, f"{row.part}: {row.why}")
        for row in rows
        if row.most_surface_pa is not None
    ]
    lacks = [row for row in rows if row.most_surface_pa is None]
    if not known or any(row.part == HANGER for row in lacks):
        raise MissingInput(*dict.fromkeys(name for row in lacks for name in row.needs))
    unknown = [row.part for row in lacks]
    limit = plan.job.surface_pressure_limit_pa
    if limit is None:
        unknown.append("surface equipment")
    else:
        known.append(Bound(limit, "limit of the surface equipment"))
    for string, _md in exposed_strings(plan):
        if string.tested_pa is None:
            unknown.append(f"test of the {string.name}")
        else:
            known.append(Bound(string.tested_pa, f"the {string.name} was tested to it"))
    return least(known, tuple(unknown))
