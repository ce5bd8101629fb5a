"""How much cement, of which slurry, and where its top stands.

Excess counts on open hole only unless the file says otherwise; stretches of their own have their own share.
On a basis of gauge the open hole is taken at bit size, since the excess then stands for the washout. Slurries
are split at the depths the file gives; what is inside the shoe track and below the shoe is the last slurry.
Below a liner that ends inside its host no cement is counted.
The mass balance closes: the slurries add up to the sections.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.depth.by_depth import ByDepth, DepthError
from schematic.depth.nest import Nest, State, circle_m2
from schematic.depth.plan import Fluid, Plan
from schematic.engineering.volumes import (
    ABOVE,
    LAP,
    LINER,
    LINER_FROM_TOP,
    OPEN_HOLE,
    RATHOLE,
    RUNNING,
    RUNNING_TO_TOP,
    SHOE_TRACK,
    JobVolumes,
)
from schematic.outcome import MissingInput, meets
from schematic.units import PSI_PA, SACK_KG


class CementSection(NamedTuple):
    """A space that cement is to fill, of one slurry."""

    name: str
    slurry: str
    top_md_m: float
    bottom_md_m: float
    volume_m3: float
    excess_m3: float


class SlurryQuantity(NamedTuple):
    """One slurry's volume and what it is mixed of; None where the yield, or that itself, is not given."""

    name: str
    volume_m3: float
    cement_kg: float | None
    sacks: float | None
    mix_water_m3: float | None
    silica_kg: float | None
    additives_kg: float | None


class Cement(NamedTuple):
    """The cement job in quantities.

    *top_string_in_md_m* is where the cement stands when the hole is exactly as given and nothing is lost,
    with the running string in; *top_string_out_md_m* the same after it was pulled, not circulated. Nought: it
    reaches the surface. None: it cannot be computed.
    """

    sections: tuple[CementSection, ...]
    slurries: tuple[SlurryQuantity, ...]
    total_m3: float
    excess_m3: float
    above_liner_top_m3: float  # to be reversed out when nothing is lost
    top_string_in_md_m: float | None
    top_string_out_md_m: float | None


class Displacement(NamedTuple):
    """What is pumped behind the dart: to the plug, and to the bump; strokes where the pump is known.

    *least_m3* and *most_m3* are the band of the volume that the strokes have to count: pump efficiency where
    the file gives a band of it, and what the fluid behind the dart is compressed by the final pressure.
    """

    to_plug_m3: float | None
    to_bump_m3: float
    to_plug_strokes: float | None
    to_bump_strokes: float | None
    shoe_track_m3: float
    over_displacement_limit_m3: float
    least_m3: float
    most_m3: float
    compressed: bool  # whether the compressibility of the fluid behind the dart is known, and in the band


def displacement(plan: Plan, volumes: JobVolumes) -> Displacement:
    """Volume of running string and liner down to where the plug stops.

    The most that may be over-displaced is a share of the shoe track, half by common practice.

    Raises
    ------
    MissingInput
        When the running string or the landing collar is not given, or a tally does not meet the liner top.
    """
    to_plug = volumes.total_m3(RUNNING)
    string = to_plug if to_plug is not None else volumes.total_m3(RUNNING_TO_TOP)
    liner = volumes.total_m3(LINER if to_plug is not None else LINER_FROM_TOP)
    track = volumes.total_m3(SHOE_TRACK)
    running, stop = plan.depth.running, plan.depth.liner.shoe_track_top_md_m
    if stop is not None and running is not None and running.foot_md_m >= stop:
        raise MissingInput("a running string that ends above the landing collar")
    if string is None or liner is None or track is None:
        raise MissingInput(*(volumes.needs or ("running string", "landing collar")))
    _must_close(plan)
    if running is None or running.plug_md_m is None:
        to_plug = None
    bump = string + liner
    stroke = plan.cement.stroke_m3
    least, most, compressed = _band(plan, bump)
    return Displacement(
        to_plug,
        bump,
        to_plug / stroke if stroke and to_plug is not None else None,
        bump / stroke if stroke else None,
        track,
        plan.limits["over-displacement share"].si * track,
        least,
        most,
        compressed,
    )


# Compressibility of drilling fluids by their base, from the trade reference (3e-6 and 5e-6 per psi).
_COMPRESSIBILITY_PER_PA = {"water": 3e-6 / PSI_PA, "oil": 5e-6 / PSI_PA, "synthetic": 5e-6 / PSI_PA}


def counted_over_pumped(plan: Plan) -> tuple[float, float]:
    """What the strokes count over what is pumped, least and most; 1 where no band of efficiency is given."""
    efficiency = plan.cement.pump_efficiency
    if efficiency is None:
        return 1.0, 1.0
    likely, low, high = efficiency
    return likely / high, likely / low


def compressed_share(plan: Plan) -> float | None:
    """By what share the fluid behind the dart shrinks under the final pressure; None: not known."""
    behind = plan.fluid("displacement") or plan.fluid("mud")
    if behind is None or plan.job.final_pressure_pa is None:
        return None
    share = compressibility_per_pa(behind)
    return None if share is None else share * plan.job.final_pressure_pa


def compressibility_per_pa(fluid: Fluid) -> float | None:
    """As the file gives it, else that of the fluid's base; None: neither is given."""
    given = fluid.compressibility_per_pa
    return given if given is not None else _COMPRESSIBILITY_PER_PA.get(fluid.base)


def _band(plan: Plan, bump_m3: float) -> tuple[float, float, bool]:
    """Least and most that has to be pumped to the bump, and whether compression is in it."""
    (least, most), share = counted_over_pumped(plan), compressed_share(plan)
    return bump_m3 * least, bump_m3 * most + bump_m3 * (share or 0.0), share is not None


def _must_close(plan: Plan) -> None:
    """Raises MissingInput where a tally does not end where the depths say: another string is measured."""
    running, liner = plan.depth.running, plan.depth.liner
    ends = running.above_liner_top_m - running.stick_up_m if running else liner.top_md_m
    limit = plan.limits["running string closure"].si
    if not meets(abs(ends - liner.top_md_m), limit, at_least=False):
        raise MissingInput("a running string that ends at the liner top")
    if not meets(abs(liner.parts[0].top_md_m - liner.top_md_m), limit, at_least=False):
        raise MissingInput("a liner tally that adds up to shoe less top")


def cement(plan: Plan, volumes: JobVolumes) -> Cement:
    """Quantities of the cement job.

    Raises
    ------
    MissingInput
        When the planned top, the open hole excess, the slurries or the running string in the way are not
        given.
    """
    job = plan.cement
    if job.planned_top_md_m is None:
        raise MissingInput("cement.planned top")
    if job.open_hole_excess is None:
        raise MissingInput("cement.excess.open hole")
    if not job.slurries:
        raise MissingInput("cement.slurries")
    if volumes.total_m3(SHOE_TRACK) is None:
        raise MissingInput("landing collar or float collar")
    if not volumes.beside_m2.depths_m:
        raise MissingInput(*volumes.needs)
    _must_close(plan)
    if job.planned_top_md_m < plan.depth.liner.top_md_m and volumes.total_m3(ABOVE) is None:
        raise MissingInput(*volumes.needs)
    sections = _sections(plan, volumes)
    slurries = _slurries(plan, sections)
    total = math.fsum(s.volume_m3 + s.excess_m3 for s in sections)
    inside = math.fsum(s.volume_m3 for s in sections if s.name in (SHOE_TRACK, RATHOLE))
    outside = total - inside
    above = max(0.0, outside - volumes.beside_m2.integral())
    return Cement(
        sections,
        slurries,
        total,
        math.fsum(s.excess_m3 for s in sections),
        above,
        _top(plan, volumes, outside, above),
        _top_out(plan, volumes, outside, above),
    )


def _split(plan: Plan, top: float, bottom: float) -> list[tuple[str, float, float]]:
    """The slurries between two depths, from the top down."""
    pieces = []
    for slurry in plan.cement.slurries:
        above = top if slurry.top_md_m is None else max(top, slurry.top_md_m)
        below = bottom if slurry.bottom_md_m is None else min(bottom, slurry.bottom_md_m)
        if above < below:
            pieces.append((slurry.fluid, above, below))
    return pieces


def _sections(plan: Plan, volumes: JobVolumes) -> tuple[CementSection, ...]:
    job = plan.cement
    assert job.planned_top_md_m is not None
    assert job.open_hole_excess is not None
    last = job.slurries[-1].fluid
    made: list[CementSection] = []
    # what is below a liner that ends in casing is a plug's or a pill's, not cement's
    for space in volumes.spaces:
        if space.name in (SHOE_TRACK, RATHOLE):
            made.append(CementSection(space.name, last, space.top_md_m, space.bottom_md_m, space.m3, 0.0))
            continue
        if space.name not in (ABOVE, LAP, OPEN_HOLE):
            continue
        area = volumes.above_m2 if space.name == ABOVE else volumes.beside_m2
        if space.name == OPEN_HOLE and job.excess_basis == "gauge":  # the excess stands for the washout
            area = area.combine(_washout_m2(plan), lambda annulus, washed: annulus - washed)
        share = {OPEN_HOLE: job.open_hole_excess, LAP: job.lap_excess}.get(space.name, 0.0)
        own = job.own_excess if space.name == OPEN_HOLE else ()
        top = max(space.top_md_m, job.planned_top_md_m)
        for fluid, above, below in _split(plan, top, space.bottom_md_m):
            volume = area.integral(above, below)
            excess = volume * share + math.fsum(
                (its - share) * area.integral(max(above, upper), min(below, lower))
                for upper, lower, its in own
            )
            made.append(CementSection(space.name, fluid, above, below, volume, excess))
    return tuple(made)


def _washout_m2(plan: Plan) -> ByDepth:
    """Area by which the hole is taken to be wider than its bit."""
    hole = plan.depth.hole
    return hole.diameter_m.map(circle_m2).combine(
        hole.gauge_m.map(circle_m2), lambda washed, bit: washed - bit
    )


def _slurries(plan: Plan, sections: tuple[CementSection, ...]) -> tuple[SlurryQuantity, ...]:
    made = []
    for name in dict.fromkeys(slurry.fluid for slurry in plan.cement.slurries):
        volume = math.fsum(s.volume_m3 + s.excess_m3 for s in sections if s.slurry == name)
        fluid = next(fluid for fluid in plan.fluids if fluid.name == name)
        mass = volume / fluid.yield_m3_per_kg if fluid.yield_m3_per_kg else None
        water = (
            mass * fluid.mix_water_m3_per_kg
            if mass is not None and fluid.mix_water_m3_per_kg is not None
            else None
        )
        sacks = None if mass is None else mass / SACK_KG
        shares = fluid.silica, fluid.additives
        solids = (None if mass is None or share is None else mass * share for share in shares)
        made.append(SlurryQuantity(name, volume, mass, sacks, water, *solids))
    return tuple(made)


def _top(plan: Plan, volumes: JobVolumes, outside: float, above: float) -> float | None:
    """Top of cement with the running string in, hole as given, nothing lost."""
    liner = plan.depth.liner
    if above == 0.0:
        return _reach(volumes.beside_m2, outside, liner.shoe_md_m)
    return _reach(volumes.above_m2, above, liner.top_md_m)


def _top_out(plan: Plan, volumes: JobVolumes, outside: float, above: float) -> float | None:
    """The same after the running string was pulled out of the cement above the liner."""
    depth = plan.depth
    if above == 0.0:
        return _reach(volumes.beside_m2, outside, depth.liner.shoe_md_m)
    bore = Nest(depth, State.STRING_OUT).open_bore_m2(0.0, depth.liner.top_md_m)
    return _reach(bore, above, depth.liner.top_md_m)


def _reach(area_m2: ByDepth, volume_m3: float, from_md_m: float) -> float | None:
    """Up to where a volume stands; nought where it runs out at the top, None where there is no area."""
    if not area_m2.depths_m:
        return None
    try:
        return area_m2.reach_up(volume_m3, from_md_m)
    except DepthError:
        return 0.0
