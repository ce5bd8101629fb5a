"""Rules about the rock outside: pressures, tests, what is to be covered and kept apart."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, whole_liner
from schematic.depth.plan import LeakOff, Top
from schematic.engineering.columns import between
from schematic.outcome import (
    Answer,
    DoesNotApply,
    Figure,
    Fix,
    Found,
    MissingInput,
    Passed,
    Severity,
    Subject,
    meets,
)
from schematic.units import PPG_KG_PER_M3, STANDARD_GRAVITY_M_PER_S2, printed_within


def _pressures(_case: Case) -> tuple[Subject, ...]:
    return (Subject("formation.pressures", "formation pressures"),)


def pore_over_fracture(case: Case, subject: Subject) -> Answer:
    """Somewhere the pore pressure is not below the fracture pressure, or the table is not in order of depth.

    What it checks
        Each row of 'pressures', and that their true depths rise.
    Why it matters
        Exchanged columns or rows turn the window inside out.
    Limit
        Geometry of the window; none granted.
    Source
        Common practice.
    Example
        wrong: formation.pressures.1.pore = 15.9 ppg
        wrong: formation.pressures.1.tvd = 9000 ft
        right: as it stands
        not checked: without formation
    """
    points = case.plan.formation.pressures
    if not points:
        raise MissingInput("formation.pressures")
    for above, below in zip(points, points[1:], strict=False):
        if not above.tvd_m < below.tvd_m:
            return Found(
                Severity.ERROR,
                "{name}: {below} TVD after {above}",
                "The {name} list {below} TVD after {above}: their depths must rise.",
                "Sort the rows; check MD against TVD.",
                {
                    "name": subject.name,
                    "above": Figure(above.tvd_m, "tvd"),
                    "below": Figure(below.tvd_m, "tvd"),
                },
                (below.md_m,),
            )
    for point in points:
        pore, fracture = point.pore_kg_per_m3, point.fracture_kg_per_m3
        if pore is not None and fracture is not None and not pore < fracture:
            return Found(
                Severity.ERROR,
                "pore {pore} against fracture {fracture} at {depth}",
                "At {depth} TVD the {name} give a pore pressure of {pore} and a fracture pressure of "
                "{fracture}.",
                "Check the row: the columns may be exchanged.",
                {
                    "name": subject.name,
                    "depth": Figure(point.tvd_m, "tvd"),
                    "pore": Figure(pore, "emw"),
                    "fracture": Figure(fracture, "emw"),
                },
                (point.md_m,),
            )
    return Passed()


def mud_outside_window(case: Case, subject: Subject) -> Answer:
    """The mud at rest is not above the pore pressure of the open hole, or not below its fracture pressure.

    What it checks
        Density of the mud against the 'pressures' between host shoe and bottom of the hole, ends included,
        the 'pore' of each zone there, and the leak-off of the host's shoe.
    Why it matters
        The well flows, or loses mud, while the liner is run.
    Limit
        0.2 ppg, in metric wells 0.02 sg, over pore ('least trip margin'); 0.2 ppg or 0.03 sg under fracture
        ('least fracture margin'): common practice.
    Source
        Common practice.
    Example
        wrong: fluids.mud.density = 12.1 ppg
        wrong: fluids.mud.density = 15.7 ppg
        wrong: formation.tops.gas sand.pore = 13.5 ppg
        at the limit: fluids.mud.density = 12.2 ppg
        right: as it stands
        not checked: without formation.pressures
        does not apply, in fallow-6: without hole.2; strings.production casing.shoe = 2410 m
    """
    plan = case.plan
    mud = plan.fluid("mud")
    if mud is None:
        raise MissingInput("fluids.mud")
    depth = plan.depth
    top, bottom = depth.host.shoe_md_m, depth.td_md_m
    if top >= bottom:
        return DoesNotApply("there is no open hole")
    points = plan.formation.pressures
    pore = [(p.tvd_m, p.pore_kg_per_m3) for p in points if p.pore_kg_per_m3 is not None]
    fracture = [(p.tvd_m, p.fracture_kg_per_m3) for p in points if p.fracture_kg_per_m3 is not None]
    places = [top, bottom, *(p.md_m for p in points if top < p.md_m < bottom)]
    pores = [(value, md) for md in places if (value := between(depth.path, md, pore)) is not None]
    pores += [
        (zone.pore_kg_per_m3, zone.md_m)
        for zone in plan.formation.tops
        if zone.pore_kg_per_m3 is not None and top <= zone.md_m <= bottom
    ]
    fractures = [(value, md) for md in places if (value := between(depth.path, md, fracture)) is not None]
    fractures += [
        (test.emw_kg_per_m3, test.md_m)
        for test in plan.formation.leak_off
        if test.string == depth.liner.host and test.emw_kg_per_m3 is not None
    ]
    if not pores or not fractures:
        raise MissingInput("formation.pressures in the open hole")
    limit = plan.limits["least trip margin"]
    under = plan.limits["least fracture margin"]
    highest, at_pore = max(pores)
    weakest, at_fracture = min(fractures)
    least, most = highest + limit.si, weakest - under.si
    fits = meets(most, least, at_least=True)
    system = plan.identity.system
    margin = mud.density_kg_per_m3 - highest
    figures: dict[str, Figure | str] = {
        "name": subject.name,
        "mud": Figure(mud.density_kg_per_m3, "emw"),
        "pore": Figure(highest, "emw"),
        "fracture": Figure(weakest, "emw"),
        "margin": Figure(margin, "emw"),
        "at_pore": Figure(at_pore, "depth"),
        "at_fracture": Figure(at_fracture, "depth"),
        "limit": limit.text,
        "owner": limit.owner,
        "least": Figure(printed_within(least, "emw", system, 1), "emw"),
        "most": Figure(printed_within(most, "emw", system, -1), "emw"),
    }
    none_fits = (
        "No mud keeps clear of both: {least} at least over the pore pressure, {most} at most under the "
        "fracture pressure. Check both, or plan the job for a window that narrow."
    )
    if not meets(margin, limit.si, at_least=True):
        return Found(
            Severity.ERROR,
            "mud {mud}, pore {pore} at {at_pore}",
            f"The mud, {{mud}}, is {{margin}} {'over' if margin >= 0.0 else 'under'} the pore pressure of "
            "{pore} at {at_pore}; {limit} over it is wanted before the {name} is run ({owner}).",
            "Weigh the mud up to {least} at least, or check the pore pressure." if fits else none_fits,
            {**figures, "margin": Figure(abs(margin), "emw")},
            (at_pore,),
            limit,
            (Fix(f"fluids.{mud.name}.density", least, 1, "density"),) if fits else (),
        )
    room = weakest - mud.density_kg_per_m3
    if not meets(room, under.si, at_least=True):
        return Found(
            Severity.ERROR,
            "mud {mud}, fracture {fracture} at {at_fracture}",
            f"The mud at rest, {{mud}}, is {{margin}} {'under' if room >= 0.0 else 'over'} the fracture "
            "pressure of {fracture} at {at_fracture}; {under} under it is wanted ({owner}).",
            "Lighten the mud to {most} at most, or check the fracture pressure: else the {name} is not run "
            "and cemented without losses."
            if fits
            else none_fits,
            {
                **figures,
                "under": under.text,
                "owner": under.owner,
                "margin": Figure(abs(room), "emw"),
            },
            (at_fracture,),
            under,
            (Fix(f"fluids.{mud.name}.density", most, -1, "density"),) if fits else (),
        )
    if any(between(depth.path, md, rows) is None for md in (top, bottom) for rows in (pore, fracture)):
        raise MissingInput("formation.pressures from host shoe to bottom")
    return Passed(Figure(margin, "emw"), limit)


def _test(case: Case) -> LeakOff:
    found = [test for test in case.plan.formation.leak_off if test.string == case.plan.depth.liner.host]
    if not found:
        raise MissingInput("formation.leak off at the host shoe")
    return found[-1]


_EMW_AGREES = 0.1  # ppg; the last digit that is printed: common practice


def leak_off_disagrees(case: Case, subject: Subject) -> Answer:
    """The leak-off test of the host shoe lacks its mud, or its figures do not belong together.

    What it checks
        Surface pressure and mud density at the shoe's TVD against the stated equivalent mud weight; and that
        the result is above the pore pressure there.
    Why it matters
        A leak-off pressure without its mud is worth nothing; a wrong TVD makes a strong shoe of a weak one.
    Limit
        0.1 ppg (0.012 sg): common practice.
    Source
        EMW = mud + pressure / (g TVD), g 9.80665 m/s2.
    Example
        wrong: formation.leak off.0.emw = 16 ppg
        wrong: without formation.leak off.0.mud; without formation.leak off.0.emw
        wrong: without formation.leak off.0.mud; formation.leak off.0.emw = 10.5 ppg
        right: as it stands
        not checked: without formation.leak off
        at the limit: without survey; formation.leak off.0.emw = 15.7 ppg;
            formation.leak off.0.surface pressure = 10583.900156526 kPa
    """
    test, depth = _test(case), case.plan.depth
    tvd = depth.path.tvd_m(test.md_m)
    figures: dict[str, Figure | str] = {
        "name": depth.host.name,
        "pressure": Figure(test.surface_pressure_pa or 0.0, "pressure"),
        "mud": Figure(test.mud_kg_per_m3 or 0.0, "density"),
        "tvd": Figure(tvd, "tvd"),
        "stated": Figure(test.emw_kg_per_m3 or 0.0, "emw"),
    }
    if test.emw_kg_per_m3 is None and (test.surface_pressure_pa is None or test.mud_kg_per_m3 is None):
        return Found(
            Severity.WARNING,
            "leak-off of {name}: with which mud?",
            "The test at the shoe of the {name} gives neither an equivalent mud weight nor both surface "
            "pressure and mud.",
            "Write 'mud' and 'surface pressure' of the test, or its 'emw'.",
            figures,
            (test.md_m,),
        )
    emw = test.emw_kg_per_m3
    if test.surface_pressure_pa is not None and test.mud_kg_per_m3 is not None:
        computed = test.mud_kg_per_m3 + test.surface_pressure_pa / (STANDARD_GRAVITY_M_PER_S2 * tvd)
        apart = abs(computed - emw) if emw is not None else 0.0
        if not meets(apart, _EMW_AGREES * PPG_KG_PER_M3, at_least=False):
            return Found(
                Severity.WARNING,
                "leak-off {stated} stated, {computed} from its pressure",
                "At the shoe of the {name}, {tvd} TVD, {pressure} on {mud} mud is {computed}; the file "
                "states {stated}.",
                "Check pressure, mud and the depth of the shoe.",
                {**figures, "computed": Figure(computed, "emw")},
                (test.md_m,),
            )
        emw = emw if emw is not None else computed
    assert emw is not None
    points = case.plan.formation.pressures
    pore = between(depth.path, test.md_m, [(p.tvd_m, p.pore_kg_per_m3) for p in points if p.pore_kg_per_m3])
    if pore is not None and not emw > pore:
        return Found(
            Severity.WARNING,
            "leak-off {stated} under pore {pore}",
            "The test at the shoe of the {name} gives {stated}, the pore pressure there is {pore}.",
            "Check both.",
            {**figures, "stated": Figure(emw, "emw"), "pore": Figure(pore, "emw")},
            (test.md_m,),
        )
    return Passed(Figure(emw, "emw"))


def _tops(case: Case) -> tuple[Subject, ...]:
    return tuple(
        Subject(f"formation.tops.{top.name}", top.name) for top in case.plan.formation.tops if top.cover
    )


def _top(case: Case, subject: Subject) -> Top:
    return next(top for top in case.plan.formation.tops if top.name == subject.name)


def rock_left_open(case: Case, subject: Subject) -> Answer:
    """Rock that the liner is to cover stands beside it, or beside bare liner.

    What it checks
        Each top with 'cover: yes', from its top to its base, against planned top of cement and liner shoe.
    Why it matters
        It is the reason for the liner.
    Limit
        Geometry.
    Source
        Common practice.
    Example
        wrong: formation.tops.Corvane shale.cover = yes; formation.tops.Corvane shale.base md = 12595 ft
        at the limit: formation.tops.Corvane shale.cover = yes; formation.tops.Corvane shale.base md = 12590
            ft
        right: formation.tops.gas sand.cover = yes
        does not apply: as it stands
        not checked: formation.tops.Corvane shale.cover = yes
    """
    top, depth = _top(case, subject), case.plan.depth
    if top.base_md_m is None:
        raise MissingInput(f"formation.tops.{top.name}.base md")
    planned = case.plan.cement.planned_top_md_m
    if planned is None:
        raise MissingInput("cement.planned top")
    below = meets(top.base_md_m, depth.liner.shoe_md_m, at_least=False)
    from_m = max(top.md_m, depth.host.shoe_md_m)  # above its shoe the host covers
    if below and meets(from_m, max(planned, depth.liner.top_md_m), at_least=True):
        return Passed()
    return Found(
        Severity.ERROR,
        "{name} is not covered",
        "{name}, {top} to {base}, is to be covered; cemented liner stands from {from} to {shoe}.",
        "Move shoe or top of cement, or take 'cover' out.",
        {
            "name": top.name,
            "top": Figure(top.md_m, "depth"),
            "base": Figure(top.base_md_m, "depth"),
            "from": Figure(max(planned, depth.liner.top_md_m), "depth"),
            "shoe": Figure(depth.liner.shoe_md_m, "depth"),
        },
        (top.md_m, top.base_md_m),
    )


def _fresh(case: Case) -> tuple[Subject, ...]:
    return tuple(
        Subject(f"formation.tops.{top.name}", top.name)
        for top in case.plan.formation.tops
        if top.fluid == "fresh water"
    )


def fresh_water_not_covered(case: Case, subject: Subject) -> Answer:
    """A fresh water zone is not behind cemented casing.

    What it checks
        Each top with 'fluid: fresh water' against the cement behind every string, from top of cement to shoe.
    Why it matters
        Ground water; diagrams that go to a regulator have to show it.
    Limit
        Geometry; the local rule governs.
    Source
        California 14 CCR 1724.7.1 asks casing diagrams for the base of fresh water; read 2026.
    Example
        wrong: formation.tops + {name: lake sand, md: 4200 ft, base md: 4300 ft, rock: sand, fluid: fresh
            water}
        right: formation.tops + {name: lake sand, md: 200 ft, base md: 400 ft, rock: sand, fluid: fresh water}
        does not apply: as it stands
        not checked: formation.tops + {name: lake sand, md: 200 ft, rock: sand, fluid: fresh water}
    """
    top = _top(case, subject)
    if top.base_md_m is None:
        raise MissingInput(f"formation.tops.{top.name}.base md")
    for string in case.plan.depth.strings:
        cement = string.cement_top_md_m
        if cement is not None and cement <= top.md_m and top.base_md_m <= string.shoe_md_m:
            return Passed()
    return Found(
        Severity.WARNING,
        "fresh water {name} not behind cement",
        "{name}, fresh water from {top} to {base}, is not behind one cemented string.",
        "State the top of cement of the string that covers it, or cement it.",
        {"name": top.name, "top": Figure(top.md_m, "depth"), "base": Figure(top.base_md_m, "depth")},
        (top.md_m, top.base_md_m),
    )


def zones_not_kept_apart(case: Case, subject: Subject) -> Answer:
    """Two zones of different pressure behind the liner have too little cemented rock between them.

    What it checks
        Zones with a fluid and a 'pore' pressure between host shoe and liner shoe: from the base of one to the
        top of the next, where the pressures differ.
    Why it matters
        Fluid flows from the one to the other behind the liner.
    Limit
        100 ft, in metric wells 30 m ('least isolation'): common practice.
    Source
        Common practice; NORSOK D-010 asks for a length of its own, from memory.
    Example
        wrong: formation.tops + {name: oil sand, md: 11950 ft, base md: 12000 ft, rock: sand, fluid: oil,
            pore: 10 ppg} before Ruddavine sand
        at the limit: formation.tops + {name: oil sand, md: 11995 ft, base md: 12000 ft, rock: sand, fluid:
            oil,
            pore: 10 ppg} before Ruddavine sand
        right: formation.tops + {name: oil sand, md: 12100 ft, base md: 12200 ft, rock: sand, fluid: oil,
            pore: 10 ppg} before Ruddavine sand
        does not apply: as it stands
        not checked: without formation.tops.gas sand.base md; formation.tops + {name: oil sand, md: 12100 ft,
            base md: 12200 ft, rock: sand, fluid: oil, pore: 10 ppg} before Ruddavine sand
    """
    depth = case.plan.depth
    zones = [
        top
        for top in case.plan.formation.tops
        if top.fluid not in ("", "none")
        and top.pore_kg_per_m3 is not None
        and (top.base_md_m or top.md_m) > depth.host.shoe_md_m
        and top.md_m < depth.liner.shoe_md_m
    ]
    pairs = [
        (upper, lower)
        for upper, lower in zip(zones, zones[1:], strict=False)
        if upper.pore_kg_per_m3 != lower.pore_kg_per_m3
    ]
    if not pairs:
        return DoesNotApply("no two zones of different stated pressure stand behind the liner")
    limit = case.plan.limits["least isolation"]
    planned = case.plan.cement.planned_top_md_m
    if planned is None:
        raise MissingInput("cement.planned top")
    unknown = [f"formation.tops.{upper.name}.base md" for upper, _lower in pairs if upper.base_md_m is None]
    for upper, lower in pairs:
        if upper.base_md_m is None:
            continue
        apart = max(lower.md_m - max(upper.base_md_m, planned), 0.0)
        if not meets(apart, limit.si, at_least=True):
            return Found(
                Severity.WARNING,
                "{upper} and {lower} are {apart} apart",
                "{upper} and {lower} have different pressures and {apart} between them behind the {name}; "
                "{limit} is wanted ({owner}).",
                "Plan standoff and cement there with care, or a packer between them.",
                {
                    "name": subject.name,
                    "upper": upper.name,
                    "lower": lower.name,
                    "apart": Figure(apart, "length"),
                    "limit": limit.text,
                    "owner": limit.owner,
                },
                (upper.base_md_m, lower.md_m),
                limit,
            )
    if unknown:
        raise MissingInput(*unknown)
    return Passed(None, limit)


RULES = (
    Rule(
        "pore-over-fracture", "pore against fracture pressure", _pressures, pore_over_fracture, "no formation"
    ),
    Rule(
        "mud-outside-window", "mud against the pressure window", whole_liner, mud_outside_window, "no liner"
    ),
    Rule("leak-off-disagrees", "leak-off test of the host shoe", whole_liner, leak_off_disagrees, "no liner"),
    Rule(
        "rock-left-open", "cover of the rock", _tops, rock_left_open, "the file marks no rock to be covered"
    ),
    Rule(
        "fresh-water-not-covered",
        "cover of fresh water",
        _fresh,
        fresh_water_not_covered,
        "the file names no fresh water",
    ),
    Rule("zones-not-kept-apart", "cement between zones", whole_liner, zones_not_kept_apart, "no liner"),
)
