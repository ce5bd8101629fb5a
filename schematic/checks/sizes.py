"""Rules about figures that look like slips of the pen: sizes, weights, densities."""

from __future__ import annotations

import math
from functools import cache

from schematic.catalogue.rows import casing_rows
from schematic.checks.case import Case, Rule, each_fluid, each_section, section_of
from schematic.outcome import Answer, DoesNotApply, Figure, Found, Passed, Severity, Subject, meets

_SAME_M = 0.002 * 0.0254  # a size typed as decimals; API 5CT sizes, from memory
_NEAR_M = 0.1 * 0.0254  # a size this close to a listed one was meant to be that
_STEEL_KG_PER_M3 = 7850.0
_WEIGHT_SHARE = 0.15  # threads and couplings make up less than this of a casing's nominal weight


def _pipes(case: Case) -> tuple[Subject, ...]:
    depth = case.plan.depth
    return (*(Subject(s.path, s.name) for s in depth.strings), Subject("liner", depth.liner.name))


def _pipe(case: Case, subject: Subject) -> tuple[float, float, float | None]:
    """OD, ID and weight of a string or of the liner."""
    depth = case.plan.depth
    if subject.path == "liner":
        return depth.liner.od_m, depth.liner.id_m, depth.liner.weight_kg_per_m
    string = depth.string(subject.name)
    return string.od_m, string.id_m, string.weight_kg_per_m


@cache
def _sizes() -> tuple[float, ...]:
    return tuple(sorted({row.od_m for row in casing_rows()}))


def size_not_listed(case: Case, subject: Subject) -> Answer:
    """An OD typed by hand is close to a listed casing size, but is not that size.

    What it checks
        OD of each string and of the liner against the sizes of the casing table.
    Why it matters
        9.6 or 9.58 typed for 9 5/8 in goes into every volume and every clearance.
    Limit
        Within 0.002 in of the listed size it is that size; up to 0.1 in off it is a slip.
    Source
        Sizes: API Spec 5CT, from memory. The limits are common practice.
    Example
        wrong: strings.intermediate casing.od = 9.6 in
        at the limit: strings.intermediate casing.od = 9.627 in
        right: as it stands
        does not apply: strings.intermediate casing.od = 10 in
    """
    od = _pipe(case, subject)[0]
    nearest = min(_sizes(), key=lambda size: abs(size - od))
    if meets(abs(nearest - od), _SAME_M, at_least=False):
        return Passed(Figure(od, "diameter"))
    if abs(nearest - od) > _NEAR_M:
        return DoesNotApply("no size of the casing table is near it")
    return Found(
        Severity.WARNING,
        "{name} OD {od}: is it {size}?",
        "The OD of the {name} is {od}; the nearest listed size is {size}, {listed}.",
        "Write the customary size, such as '9 5/8 in', or say under 'name' why it differs.",
        {
            "name": subject.name,
            "od": Figure(od, "diameter"),
            "size": Figure(nearest, "size"),
            "listed": Figure(nearest, "diameter"),
        },
    )


def weight_disagrees(case: Case, subject: Subject) -> Answer:
    """A pipe's weight per length does not belong to its OD and bore.

    What it checks
        Weight of each string and of the liner against the steel between OD and bore, 7850 kg/m3.
    Why it matters
        kg/m in an lb/ft column halves or doubles every hook load.
    Limit
        15 %: common practice; threads and couplings make up less.
    Source
        Geometry; density of steel 7850 kg/m3, 490 lb/ft3.
    Example
        wrong: liner.weight = 29 kg/m
        right: as it stands
        does not apply: without liner.pipe; liner.od = 7 in; liner.id = 6.184 in
    """
    od, bore, weight = _pipe(case, subject)
    if weight is None:
        return DoesNotApply("no weight is written")
    steel = math.pi / 4.0 * (od * od - bore * bore) * _STEEL_KG_PER_M3
    if meets(abs(weight / steel - 1.0), _WEIGHT_SHARE, at_least=False):
        return Passed(Figure(weight, "weight"))
    return Found(
        Severity.ERROR,
        "{name} weight {weight}, its steel {steel}",
        "The {name} is written with {weight}; steel of {od} by {bore} weighs {steel}.",
        "Check the unit of the weight (lb/ft or kg/m), the OD and the bore.",
        {
            "name": subject.name,
            "weight": Figure(weight, "weight"),
            "steel": Figure(steel, "weight"),
            "od": Figure(od, "diameter"),
            "bore": Figure(bore, "diameter"),
        },
    )


_LEAST_KG_PER_M3, _GREATEST_KG_PER_M3 = 700.0, 2600.0


def density_not_plausible(case: Case, subject: Subject) -> Answer:
    """The density of a fluid is outside what fluids of the trade have.

    What it checks
        Density of each fluid.
    Why it matters
        A slip of the decimal or of the unit moves every pressure.
    Limit
        0.7 to 2.6 sg, about 6 to 22 ppg: common practice.
    Source
        Common practice.
    Example
        wrong: fluids.mud.density = 1.26 ppg
        at the limit: fluids.mud.density = 700 kg/m3
        right: as it stands
        does not apply: without fluids; without cement; without options
    """
    fluid = next(fluid for fluid in case.plan.fluids if fluid.name == subject.name)
    density = fluid.density_kg_per_m3
    if meets(density, _LEAST_KG_PER_M3, at_least=True) and meets(
        density, _GREATEST_KG_PER_M3, at_least=False
    ):
        return Passed(Figure(density, "density"))
    return Found(
        Severity.ERROR,
        "{name}: density {density}",
        "The density of {name} is {density}; fluids of the trade have {least} to {most}.",
        "Check the decimal and the unit.",
        {
            "name": subject.name,
            "density": Figure(density, "density"),
            "least": Figure(_LEAST_KG_PER_M3, "density"),
            "most": Figure(_GREATEST_KG_PER_M3, "density"),
        },
    )


def hole_not_plausible(case: Case, subject: Subject) -> Answer:
    """A hole is wider than washout makes it, or deeper than anybody drills.

    What it checks
        Likely diameter of each hole section against twice its bit, and its bottom against 15 km.
    Why it matters
        A slip of the decimal or of the unit moves every volume.
    Limit
        Twice the bit; 15 km: common practice.
    Source
        Common practice.
    Example
        wrong: hole.2.caliper.0.diameter = 93 in
        at the limit: hole.2.caliper.0.diameter = 17 in
        right: as it stands
    """
    hole = case.plan.depth.hole
    section = section_of(case, subject)
    widest = max(hole.diameter_m.clip(section.top_md_m, section.bottom_md_m).values, default=section.size_m)
    wide = not meets(widest, 2.0 * section.size_m, at_least=False)
    deep = not meets(section.bottom_md_m, 15_000.0, at_least=False)
    if not (wide or deep):
        return Passed(Figure(widest, "diameter"))
    return Found(
        Severity.ERROR,
        "{bit} hole to {bottom}: {widest} wide",
        "The {bit} hole to {bottom} is taken as {widest} wide: "
        + ("more than twice its size." if wide else "nobody drills that deep."),
        "Check decimals and units of depth, caliper and washout.",
        {
            "name": subject.name,
            "bit": Figure(section.size_m, "size"),
            "bottom": Figure(section.bottom_md_m, "depth"),
            "widest": Figure(widest, "diameter"),
        },
        (section.bottom_md_m,),
    )


RULES = (
    Rule("size-not-listed", "sizes against the listed ones", _pipes, size_not_listed, "no pipe"),
    Rule("weight-disagrees", "weight of pipe against its size", _pipes, weight_disagrees, "no pipe"),
    Rule(
        "density-not-plausible",
        "densities of fluids",
        each_fluid,
        density_not_plausible,
        "the file has no fluids",
    ),
    Rule(
        "hole-not-plausible",
        "size and depth of the hole",
        each_section,
        hole_not_plausible,
        "the file has no hole",
    ),
)
