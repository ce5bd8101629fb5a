"""The pressure tests of lap and liner top: from above with pressure, from below with less of it.

What behind the lap can push is the lightest fluid that can stand there: a column of gas or oil up from a zone
whose pore pressure is known. A drop in hydrostatic is not yet the difference across the lap: both are told.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.depth.plan import Fluid, Plan, TestPlan, Top
from schematic.engineering.columns import between
from schematic.outcome import MissingInput, Uncomputed
from schematic.units import PSI_PA, STANDARD_GRAVITY_M_PER_S2, System

LINER_SHOE, LINER_TOP = "liner shoe", "liner top"
_ROUND_PA: dict[System, float] = {"field": 100.0 * PSI_PA, "metric": 5.0e5}  # as a gauge is read


class Positive(NamedTuple):
    """A test from above: pressure at surface, with which fluid, and what it is at the shoes."""

    name: str
    surface_pa: float
    how: str  # "as written", "for the EMW at the liner shoe", "over fracture at the host shoe"
    fluid: str
    fluid_kg_per_m3: float
    shoe_emw_kg_per_m3: float  # at the liner shoe
    host_emw_kg_per_m3: float  # at the host shoe, should the lap leak
    host_limit_kg_per_m3: float | None  # what was measured there
    hold_s: float | None  # as planned
    drop_pa: float  # by how much it may fall in *over_s*
    over_s: float


class Inflow(NamedTuple):
    """A test from below: what pushes behind the lap, and what stands inside."""

    name: str
    zone: str
    zone_md_m: float
    behind_pa: tuple[float, float]  # at the liner top, least and most: the column's gradient has a band
    inside_next_pa: float  # at the liner top with the fluid that comes next
    next_fluid: str
    mud_pa: float  # at the liner top with the mud of today
    light_pa: float | None  # at the liner top with the light fluid of the test; None: none is planned
    light_drop_pa: float | None  # by how much the light fluid lowers the hydrostatic at the liner top
    differential_pa: float | None  # across the lap, where the file plans the test by it
    proves_pa: float  # a round pressure across the lap that would prove it
    hold_s: float | None
    unknown: tuple[str, ...]  # zones behind the liner of which pore pressure or gradient is not known

    @property
    def needed_pa(self) -> tuple[float, float]:
        """Difference across the lap that the next fluid leaves, least and most: what a test has to reach.

        Below nought the fluid inside is the stronger.
        """
        return self.behind_pa[0] - self.inside_next_pa, self.behind_pa[1] - self.inside_next_pa

    @property
    def reached_pa(self) -> tuple[float, float] | None:
        """Difference across the lap in the test as it is planned; None: it goes to the next fluid itself."""
        if self.differential_pa is not None:
            return self.differential_pa, self.differential_pa
        return self.bled_off_pa

    @property
    def bled_off_pa(self) -> tuple[float, float] | None:
        """Difference across the lap with the light fluid inside, all bled off; None: no light fluid."""
        if self.light_pa is None:
            return None
        return self.behind_pa[0] - self.light_pa, self.behind_pa[1] - self.light_pa

    @property
    def short_pa(self) -> float:
        """By how much the planned test is less than the most that the lap will have to hold, or nought.

        With a light fluid the same column stands behind the lap in the test and later.
        """
        if self.differential_pa is not None:
            return max(self.needed_pa[1] - self.differential_pa, 0.0)
        if self.light_pa is None:
            return 0.0
        return max(self.light_pa - self.inside_next_pa, 0.0)


class Proofs(NamedTuple):
    """All tests of a plan that can be computed, and what the others need."""

    positive: tuple[Positive, ...]
    inflow: tuple[Inflow, ...]
    missing: tuple[Uncomputed, ...]


def proofs(plan: Plan) -> Proofs:
    """The tests that the file plans."""
    positive: list[Positive] = []
    inflow: list[Inflow] = []
    missing: list[Uncomputed] = []
    for test in plan.job.tests:
        try:
            if test.kind == "inflow":
                inflow.append(_inflow(plan, test))
            elif test.kind == "positive":
                positive.append(_positive(plan, test))
            else:
                raise MissingInput(f"installation.tests.{test.name}.kind, positive or inflow")
        except MissingInput as error:
            missing.append(Uncomputed(f"test {test.name}", error.missing))
    return Proofs(tuple(positive), tuple(inflow), tuple(missing))


def _fluid(plan: Plan, name: str) -> Fluid:
    return next(fluid for fluid in plan.fluids if fluid.name == name)  # `resolve` has seen to it


def host_limit_kg_per_m3(plan: Plan) -> float | None:
    """The EMW that the host shoe is known to bear: its last leak-off test, else the table; None: neither."""
    depth, rock = plan.depth, plan.formation
    tests = [test.emw_kg_per_m3 for test in rock.leak_off if test.string == depth.liner.host]
    measured = next((emw for emw in reversed(tests) if emw is not None), None)
    if measured is not None:
        return measured
    rows = [(p.tvd_m, p.fracture_kg_per_m3) for p in rock.pressures if p.fracture_kg_per_m3 is not None]
    return between(depth.path, depth.host.shoe_md_m, rows)


def place_md_m(plan: Plan, test: TestPlan) -> float:
    """The measured depth at which a test asks for its EMW: the liner's shoe unless it names another place."""
    if test.at in ("", LINER_SHOE):
        return plan.depth.liner.shoe_md_m
    return plan.depth.liner.top_md_m if test.at == LINER_TOP else plan.depth.string(test.at).shoe_md_m


def fluid_of(plan: Plan, test: TestPlan) -> Fluid:
    """What a test from above is made with; raises MissingInput."""
    fluid = _fluid(plan, test.fluid) if test.fluid else plan.fluid("mud")
    if fluid is None:
        raise MissingInput("a fluid of kind mud")
    return fluid


def _surface_pa(plan: Plan, test: TestPlan, density: float) -> tuple[float, str]:
    """Pressure at surface, and what it is meant for; as written goes before what is computed."""
    tvd, gravity = plan.depth.path.tvd_m, STANDARD_GRAVITY_M_PER_S2
    path = f"installation.tests.{test.name}"
    if test.surface_pressure_pa is not None:
        return test.surface_pressure_pa, "as written"
    if test.emw_kg_per_m3 is not None:
        surface = emw_surface_pa(plan, test, density)
        if surface <= 0.0:
            raise MissingInput(f"{path}.emw above the density of its fluid")
        place = test.at or LINER_SHOE
        if place not in (LINER_SHOE, LINER_TOP):
            place = f"shoe of the {place}"
        return surface, f"for the EMW at the {place}"
    if test.above_fracture_pa is not None:
        limit = host_limit_kg_per_m3(plan)
        if limit is None:
            raise MissingInput("formation.leak off at the host shoe")
        at_shoe = (limit - density) * gravity * tvd(plan.depth.host.shoe_md_m)
        return max(at_shoe, 0.0) + test.above_fracture_pa, "over fracture at the host shoe"
    raise MissingInput(f"{path}.surface pressure")


def emw_surface_pa(plan: Plan, test: TestPlan, density: float) -> float:
    """The pressure at surface that gives a test's EMW where it is asked for, with a fluid of a density."""
    assert test.emw_kg_per_m3 is not None
    tvd = plan.depth.path.tvd_m(place_md_m(plan, test))
    return (test.emw_kg_per_m3 - density) * STANDARD_GRAVITY_M_PER_S2 * tvd


def _positive(plan: Plan, test: TestPlan) -> Positive:
    depth, fluid = plan.depth, fluid_of(plan, test)
    density = fluid.density_kg_per_m3
    surface, how = _surface_pa(plan, test, density)
    shoe, host = (depth.path.tvd_m(md) for md in (depth.liner.shoe_md_m, depth.host.shoe_md_m))
    return Positive(
        test.name,
        surface,
        how,
        fluid.name,
        density,
        density + surface / (STANDARD_GRAVITY_M_PER_S2 * shoe),
        density + surface / (STANDARD_GRAVITY_M_PER_S2 * host),
        host_limit_kg_per_m3(plan),
        test.hold_s,
        plan.limits["greatest pressure drop"].si * surface,
        plan.limits["least test hold"].si,
    )


class _Zone(NamedTuple):
    """A zone behind the liner: what pushes at the liner top from it, least and most."""

    name: str
    md_m: float
    least_pa: float
    most_pa: float


def _zones(plan: Plan) -> tuple[list[_Zone], list[str]]:
    """The zones behind the liner whose push is known, and what is not known of the others."""
    depth, tvd, gravity = plan.depth, plan.depth.path.tvd_m, STANDARD_GRAVITY_M_PER_S2
    rows = [(p.tvd_m, p.pore_kg_per_m3) for p in plan.formation.pressures if p.pore_kg_per_m3 is not None]
    top = tvd(depth.liner.top_md_m)
    known: list[_Zone] = []
    unknown: list[str] = []
    for rock in plan.formation.tops:
        md = max(rock.md_m, depth.host.shoe_md_m)  # what lies behind the host is its own
        if not md <= depth.liner.shoe_md_m or (rock.base_md_m or rock.md_m) < depth.host.shoe_md_m:
            continue
        pore = rock.pore_kg_per_m3 if rock.pore_kg_per_m3 is not None else between(depth.path, md, rows)
        if rock.gradient_pa_per_m is None or pore is None:
            unknown += _unknown(rock, pore)
            continue
        push = pore * gravity * tvd(md)
        _likely, low, high = rock.gradient_pa_per_m
        up = tvd(md) - top
        known.append(_Zone(rock.name, md, push - high * up, push - low * up))
    return known, unknown


def _unknown(rock: Top, pore: float | None) -> list[str]:
    """What a zone lacks; a rock of which the file names neither fluid nor pressure is none."""
    if rock.fluid in ("", "none") and rock.pore_kg_per_m3 is None and rock.gradient_pa_per_m is None:
        return []
    lacks = (("gradient", rock.gradient_pa_per_m), ("pore", pore))
    return [f"formation.tops.{rock.name}.{what}" for what, value in lacks if value is None]


def _inflow(plan: Plan, test: TestPlan) -> Inflow:
    depth, tvd, gravity = plan.depth, plan.depth.path.tvd_m, STANDARD_GRAVITY_M_PER_S2
    mud = plan.fluid("mud")
    if mud is None:
        raise MissingInput("a fluid of kind mud")
    after = _fluid(plan, test.fluid) if test.fluid else None
    after = after or plan.fluid("next mud") or plan.fluid("completion brine")
    if after is None:
        raise MissingInput("a fluid of kind next mud or completion brine")
    known, unknown = _zones(plan)
    if not known:
        raise MissingInput(*(unknown or ("formation.tops, a zone with pore pressure and gradient",)))
    zone = max(known, key=lambda one: one.most_pa)
    behind = max(one.least_pa for one in known), zone.most_pa
    top = tvd(depth.liner.top_md_m)
    mud_pa, next_pa = mud.density_kg_per_m3 * gravity * top, after.density_kg_per_m3 * gravity * top
    light = drop = None
    if test.light_fluid:
        oil = _fluid(plan, test.light_fluid)
        foot = depth.liner.top_md_m if test.light_fluid_to_md_m is None else test.light_fluid_to_md_m
        drop = (mud.density_kg_per_m3 - oil.density_kg_per_m3) * gravity * min(tvd(foot), top)
        light = mud_pa - drop
    step = _ROUND_PA[plan.identity.system]
    return Inflow(
        test.name,
        zone.name,
        zone.md_m,
        behind,
        next_pa,
        after.name,
        mud_pa,
        light,
        drop,
        test.differential_pa,
        step * math.ceil(max(zone.most_pa - next_pa, 0.0) / step - 1e-9),
        test.hold_s,
        tuple(unknown),
    )
