"""Rules about what is pumped: densities in order, excess, recipe, silica, pump, displacement."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, compression_needs, each_fluid, whole_liner
from schematic.depth.nest import circle_m2
from schematic.engineering.at_rest import FRESH_WATER_KG_PER_M3
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
from schematic.units import half_digit


def densities_out_of_order(case: Case, subject: Subject) -> Answer:
    """A fluid that pushes another is not clearly heavier than it.

    What it checks
        Mud, spacer, and the slurries in the order in which they stand behind the liner, from the top down.
    Why it matters
        The lighter fluid runs through the heavier one instead of pushing it; mud stays behind the liner.
    Limit
        Steps of 0.3 ppg, in metric wells 0.036 sg ('least density step'): common practice.
    Source
        Common practice.
    Example
        wrong: fluids.spacer.density = 12.8 ppg
        at the limit: fluids.spacer.density = 12.9 ppg
        right: as it stands
        not checked: without cement.schedule; without fluids.mud
    """
    plan = case.plan
    mud = plan.fluid("mud")
    if mud is None:
        raise MissingInput("fluids.mud")
    if not plan.cement.slurries:
        raise MissingInput("cement.slurries")
    named = {fluid.name: fluid for fluid in plan.fluids}
    spacer = named.get(plan.cement.spacer)
    slurries = [named[slurry.fluid] for slurry in plan.cement.slurries]
    train = [mud, *([spacer] if spacer else []), *slurries]
    limit = plan.limits["least density step"]
    steps = [
        (behind.density_kg_per_m3 - ahead.density_kg_per_m3, ahead, behind)
        for ahead, behind in zip(train, train[1:], strict=False)
    ]
    step, ahead, behind = min(steps, key=lambda entry: entry[0])
    if meets(step, limit.si, at_least=True):
        return Passed(Figure(step, "density"), limit)
    return Found(
        Severity.WARNING,
        "{behind} {heavy} behind {ahead} {light}",
        "{behind} of {heavy} pushes {ahead} of {light}; it should be {limit} heavier ({owner}).",
        "Change one of the densities, or count on mixing.",
        {
            "name": subject.name,
            "ahead": ahead.name,
            "behind": behind.name,
            "light": Figure(ahead.density_kg_per_m3, "density"),
            "heavy": Figure(behind.density_kg_per_m3, "density"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (),
        limit,
    )


_EXCESS = {
    "caliper": (0.10, 0.30),
    "stated hole": (0.10, 0.30),
    "gauge": (0.30, 1.00),
}  # usual shares by basis: common practice


def excess_without_basis(case: Case, subject: Subject) -> Answer:
    """The excess does not say on what it is counted, or counts on a caliper that is not there, or is unusual.

    What it checks
        'basis' of the excess; that a caliper covers the open hole where it is the basis; the usual shares.
    Why it matters
        20 % on gauge hole and 20 % on caliper are two different jobs; counted on both it is counted twice.
    Limit
        Usual: 10 to 30 % on a caliper, 30 to 100 % on gauge hole: common practice (advice).
    Source
        Common practice; Bowman and Sherer, World Oil 1988, quoted in a completion text: 100 % for liners up
        to 500 ft, 30 % or more from 3000 ft on.
    Example
        wrong: without cement.excess.basis
        wrong: cement.excess.open hole = 31 %
        at the limit: cement.excess.open hole = 30 %
        right: as it stands
        not checked: without cement.excess
        does not apply, in fallow-6: as it stands
    """
    plan = case.plan
    share, basis = plan.cement.open_hole_excess, plan.cement.excess_basis
    if plan.depth.liner.shoe_md_m <= plan.depth.host.shoe_md_m:
        return DoesNotApply("the liner does not go into open hole")
    if share is None:
        raise MissingInput("cement.excess.open hole")
    figures: dict[str, Figure | str] = {"name": subject.name, "share": Figure(share, "share"), "basis": basis}
    if not basis:
        return Found(
            Severity.WARNING,
            "excess of {share}: on what?",
            "The excess of {share} does not say whether it is counted on a caliper, on the stated hole or on "
            "gauge hole.",
            "Write 'basis: caliper', 'basis: stated hole' (a washout somebody states) or 'basis: gauge'.",
            figures,
        )
    agree = plan.limits[
        "depth agreement"
    ].si  # what is left of the host's own hole below its shoe is a pocket
    open_hole = [s for s in plan.depth.hole.sections if s.top_md_m >= plan.depth.host.shoe_md_m - agree]
    enough = {"caliper": ("caliper",), "stated hole": ("caliper", "washout")}.get(basis)
    bare = next((section for section in open_hole if enough and section.basis not in enough), None)
    if bare is not None:
        return Found(
            Severity.WARNING,
            "excess on {basis}, but none to {bottom}",
            "The excess is counted on {basis}; of the hole to {bottom} the file gives no such size.",
            "Give the caliper, or count the excess on 'stated hole' (a washout) or on 'gauge'.",
            {**figures, "bottom": Figure(bare.bottom_md_m, "depth")},
            (bare.bottom_md_m,),
        )
    low, high = _EXCESS[basis]
    if meets(share, low, at_least=True) and meets(share, high, at_least=False):
        return Passed(Figure(share, "share"))
    return Found(
        Severity.ADVICE,
        "excess {share} on {basis}, usual {low} to {high}",
        "An excess of {share} on {basis} is planned for the {name}; {low} to {high} is usual.",
        "Say why in the program: offset wells, losses, sand.",
        {**figures, "low": Figure(low, "share"), "high": Figure(high, "share")},
        fix=(
            Fix("cement.excess.open hole", low, 1, "ratio")
            if share < low
            else Fix("cement.excess.open hole", high, -1, "ratio"),
        ),
    )


def caliper_far_over_gauge(case: Case, subject: Subject) -> Answer:
    """The open hole annulus is much larger by caliper than by bit size.

    What it checks
        Annulus outside the liner below the host shoe, as the hole is taken to be, over the same at bit size.
    Why it matters
        Mud stays in washouts; cement volume, standoff and the seal of packers depend on them.
    Limit
        30 % ('greatest caliper over gauge'): common practice.
    Source
        Common practice.
    Example
        wrong: as it stands
        right: hole.2.caliper.0.diameter = 8.8 in
        right, in sollivane-a7: as it stands
        does not apply, in fallow-6: as it stands
        not checked, in sketch: as it stands
    """
    depth = case.plan.depth
    top, bottom = depth.host.shoe_md_m, min(depth.liner.shoe_md_m, depth.td_md_m)
    if top >= bottom:
        return DoesNotApply("the liner does not go into open hole")
    liner = case.nest.tube(depth.liner.name).outside_m2(top, bottom)

    open_hole = [s for s in depth.hole.sections if s.bottom_md_m > top and s.top_md_m < bottom]
    if all(section.basis == "gauge" for section in open_hole):
        raise MissingInput("hole.caliper")
    taken = depth.hole.diameter_m.map(circle_m2).combine(liner, lambda hole, pipe: hole - pipe).integral()
    gauge = depth.hole.gauge_m.map(circle_m2).combine(liner, lambda hole, pipe: hole - pipe).integral()
    if gauge <= 0.0:
        return DoesNotApply("the liner does not fit in the hole")
    over = taken / gauge - 1.0
    limit = case.plan.limits["greatest caliper over gauge"]
    if meets(over, limit.si, at_least=False):
        return Passed(Figure(over, "share"), limit)
    return Found(
        Severity.WARNING,
        "open hole annulus {over} over gauge: {taken}, up to {limit} is usual",
        "The annulus outside the {name} in open hole is {taken}, at bit size {gauge}: {over} more; up to "
        "{limit} is usual ({owner}).",
        "Look at the log for tool error and washouts; plan centralizers, rates and spacer for them.",
        {
            "name": subject.name,
            "taken": Figure(taken, "volume"),
            "gauge": Figure(gauge, "volume"),
            "over": Figure(over, "percent"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (top, bottom),
        limit,
    )


def slurry_wants_silica(case: Case, subject: Subject) -> Answer:
    """A slurry is to set where it is hot enough that neat cement loses its strength.

    What it checks
        Static temperature at the bottom, and 'silica' of each slurry by weight of cement.
    Why it matters
        Above about 230 degF neat cement weakens and lets fluid through within weeks.
    Limit
        230 degF, in metric wells 110 degC ('temperature that wants silica'); 35 % ('least silica'): common
        practice.
    Source
        Common practice; the slurry laboratory rules.
    Example
        wrong: as it stands
        at the limit: fluids.cement.silica = 35 %
        right, in sollivane-a7: as it stands
        does not apply: fluids.cement.kind = spacer
        not checked: without formation.temperature
    """
    plan = case.plan
    fluid = next(fluid for fluid in plan.fluids if fluid.name == subject.name)
    if fluid.kind != "slurry":
        return DoesNotApply("it is no slurry")
    static = plan.formation.static_temperature_k
    if static is None:
        raise MissingInput("formation.temperature.static")
    limits = plan.limits
    hot, least = limits["temperature that wants silica"], limits["least silica"]
    if meets(static, hot.si, at_least=False):
        return Passed(Figure(static, "temperature"), hot)
    if fluid.silica is not None and meets(fluid.silica, least.si, at_least=True):
        return Passed(Figure(fluid.silica, "share"), least)
    return Found(
        Severity.WARNING,
        "{name}: {temperature} wants silica, {least} by weight",
        "It is {temperature} at the bottom; above {hot} a slurry wants {least} of silica ({owner}); {name} "
        "has " + ("none stated." if fluid.silica is None else "{silica}."),
        "Have the slurry designed for the temperature, and write its 'silica'.",
        {
            "name": subject.name,
            "temperature": Figure(static, "temperature"),
            "hot": hot.text,
            "least": least.text,
            "silica": Figure(fluid.silica or 0.0, "share"),
            "owner": least.owner,
        },
        (),
        least,
    )


def density_not_by_recipe(case: Case, subject: Subject) -> Answer:
    """The stated density of a slurry is not what its cement, water and additives weigh.

    What it checks
        Cement, 'silica' and 'additives' by its weight, and 'mix water' as fresh water, 1000 kg/m3, over the
        'yield', against 'density'. Silica and additives that are not written can only make it heavier: what
        weighs too little is not checked without them. Written as 0 %, they are known.
    Why it matters
        Sacks, mix water and pressures are then worked out of two different slurries. It happens where silica
        is added and yield and water stay those of neat cement.
    Limit
        0.2 ppg, in metric wells 0.02 sg ('recipe agreement'): common practice. Half the last printed digit of
        density, yield and mix water comes on top.
    Source
        Mass balance. API class G with 44 % of water by weight of cement, 5.0 gal/sk: 1.15 ft3/sk, 15.8 ppg;
        API Spec 10A and handbooks, from memory.
    Example
        wrong: fluids.cement.silica = 35 %
        wrong: fluids.cement.density = 16.15 ppg; fluids.cement.silica = 0 %; fluids.cement.additives = 0 %
        right: as it stands
        right: fluids.cement.silica = 35 %; fluids.cement.yield = 1.52 ft3/sk; fluids.cement.mix water =
            6.3 gal/sk
        does not apply: fluids.cement.kind = spacer
        not checked: fluids.cement.density = 16.15 ppg
        not checked: without fluids.cement.mix water
    """
    fluid = next(fluid for fluid in case.plan.fluids if fluid.name == subject.name)
    if fluid.kind != "slurry":
        return DoesNotApply("it is no slurry")
    volume, water, stated = fluid.yield_m3_per_kg, fluid.mix_water_m3_per_kg, fluid.density_kg_per_m3
    if volume is None or water is None:
        given = (("yield", volume), ("mix water", water))
        raise MissingInput(*(f"{subject.path}.{name}" for name, value in given if value is None))
    solids = {"silica": fluid.silica, "additives": fluid.additives}
    parts = 1.0 + sum(share or 0.0 for share in solids.values())
    weighs = (parts + FRESH_WATER_KG_PER_M3 * water) / volume
    limit, system = case.plan.limits["recipe agreement"], case.plan.identity.system
    digits = (
        half_digit("density", system)
        + weighs * half_digit("yield", system) / volume
        + FRESH_WATER_KG_PER_M3 * half_digit("water", system) / volume
    )
    if meets(abs(weighs - stated), limit.si + digits, at_least=False):
        return Passed(Figure(weighs, "density"), limit)
    unknown = [f"{subject.path}.{name}" for name, share in solids.items() if share is None]
    if weighs < stated and unknown:
        raise MissingInput(*unknown)
    return Found(
        Severity.WARNING,
        "{name}: {weighs} by its recipe, {stated} stated",
        "Cement with {solids} of silica and additives and {water} of water weighs {weighs} at a yield of "
        "{yield}; {name} is stated with {stated}. They should agree to {limit} and their last digits "
        "({owner}).",
        "Take all of them from one design: yield and mix water count by sack or tonne of cement, to which "
        "silica and additives come.",
        {
            "name": subject.name,
            "solids": Figure(parts - 1.0, "share"),
            "water": Figure(water, "water"),
            "yield": Figure(volume, "yield"),
            "weighs": Figure(weighs, "density"),
            "stated": Figure(stated, "density"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (),
        limit,
    )


def much_cement_above_liner(case: Case, subject: Subject) -> Answer:
    """Cement is planned so far above the liner top that the running string may not come out of it.

    What it checks
        From the planned top of cement to the liner top (warning), and from where the excess stands when
        nothing is lost (advice).
    Why it matters
        The tool and its seal stand in setting cement while the excess is reversed out.
    Limit
        500 ft, in metric wells 150 m ('greatest cement above liner top'): common practice.
    Source
        Common practice; 200 to 500 ft is usual.
    Example
        wrong: cement.planned top = 8979.9 ft
        wrong: as it stands
        right: cement.excess.open hole = 10 %
        at the limit: cement.planned top = 8980 ft; cement.excess.open hole = 0 %
        does not apply: cement.planned top = 9480 ft
        not checked: without cement.planned top
    """
    planned, top = case.plan.cement.planned_top_md_m, case.plan.depth.liner.top_md_m
    if planned is None:
        raise MissingInput("cement.planned top")
    if planned >= top:
        return DoesNotApply("no cement is planned above the liner top")
    limit = case.plan.limits["greatest cement above liner top"]
    highest = case.cement.top_string_in_md_m if case.cement else None
    if meets(top - planned, limit.si, at_least=False):
        if highest is None:
            raise MissingInput(*(case.needs("cement") or ("running string",)))
        if meets(top - highest, limit.si, at_least=False):
            return Passed(Figure(top - highest, "length"), limit)
        return Found(
            Severity.ADVICE,
            "cement {height} above {name} top with no loss, {limit} is usual",
            "When nothing is lost, the excess stands {height} above the {name} top, at {highest}; up to "
            "{limit} is usual ({owner}).",
            "Hold the time to reverse it out against the thickening time; be ready to circulate it out.",
            {
                "name": subject.name,
                "height": Figure(top - highest, "length"),
                "highest": Figure(highest, "depth"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (highest,),
            limit,
        )
    return Found(
        Severity.WARNING,
        "cement {height} above {name} top, {limit} is usual",
        "Cement is planned to {planned}, {height} above the {name} top; up to {limit} is usual ({owner}).",
        "Plan it deeper, or hold the time to reverse it out against the thickening time.",
        {
            "name": subject.name,
            "height": Figure(top - planned, "length"),
            "planned": Figure(planned, "depth"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (planned,),
        limit,
        (Fix("cement.planned top", top - limit.si, 1),),
    )


def over_displacement_large(case: Case, subject: Subject) -> Answer:
    """More is to be pumped beyond the computed bump than the shoe track forgives.

    What it checks
        'over displacement' of the cement job against a share of the shoe track.
    Why it matters
        What is pumped beyond the shoe track leaves mud at the shoe instead of cement.
    Limit
        Half the shoe track ('over-displacement share'): common practice.
    Source
        Common practice.
    Example
        wrong: cement.over displacement = 2.34 bbl
        right: cement.over displacement = 2.33 bbl
        does not apply: as it stands
        not checked: cement.over displacement = 2 bbl; without liner.assembly.float collar;
            without liner.assembly.landing collar
    """
    planned = case.plan.cement.over_displacement_m3
    if planned is None:
        return DoesNotApply("the file plans no over-displacement")
    if case.displacement is None:
        raise MissingInput(*case.needs("displacement"))
    limit = case.plan.limits["over-displacement share"]
    most = limit.si * case.displacement.shoe_track_m3
    if meets(planned, most, at_least=False):
        return Passed(Figure(planned, "volume"), limit)
    return Found(
        Severity.WARNING,
        "over-displacement {planned}, at most {most}",
        "{planned} is to be pumped beyond the bump of the {name}; {limit} of the shoe track is {most} "
        "({owner}).",
        "Stop at the lesser volume; without a bump treat the shoe as wet.",
        {
            "name": subject.name,
            "planned": Figure(planned, "volume"),
            "most": Figure(most, "volume"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (),
        limit,
        (Fix("cement.over displacement", most, -1, "volume"),),
    )


def pump_efficiency_unusual(case: Case, subject: Subject) -> Answer:
    """The pump's efficiency is not stated, or not what pumps have.

    What it checks
        'efficiency' of the pump.
    Why it matters
        Strokes count volume only as well as the efficiency is known; 2 % of a displacement is a shoe track.
    Limit
        94 to 98 % ('least pump efficiency', 'greatest pump efficiency'): common practice; verify it by the
        dart's arrival.
    Source
        Common practice.
    Example
        wrong: cement.pump.efficiency = 93 %
        at the limit: cement.pump.efficiency = 94 %
        right: as it stands
        not checked: without cement.pump
    """
    efficiency = case.plan.cement.pump_efficiency
    if efficiency is None:
        raise MissingInput("cement.pump.efficiency")
    least, most = case.plan.limits["least pump efficiency"], case.plan.limits["greatest pump efficiency"]
    low, high = (
        meets(efficiency[0], least.si, at_least=True),
        meets(efficiency[0], most.si, at_least=False),
    )
    if low and high:
        return Passed(Figure(efficiency[0], "share"), least)
    limit = most if low else least
    return Found(
        Severity.WARNING,
        "pump efficiency {efficiency}",
        "The pump is to deliver {efficiency} of its strokes for the {name}; {least} to {most} is usual "
        "({owner}).",
        "Calibrate it on the pits, or by the volume at which the dart meets the plug.",
        {
            "name": subject.name,
            "efficiency": Figure(efficiency[0], "share"),
            "least": least.text,
            "most": most.text,
            "owner": limit.owner,
        },
        (),
        limit,
    )


def strokes_alone_miss_the_bump(case: Case, subject: Subject) -> Answer:
    """The displacement is known less well than the shoe track forgives.

    What it checks
        The band of the displacement to the bump (pump efficiency and compressibility of the fluid behind the
        dart) against half the shoe track. Where the file states no efficiency, the usual 94 to 98 % is taken
        for this question alone.
    Why it matters
        If strokes alone end the job, the shoe is left wet or the track full.
    Limit
        'over-displacement share' of the shoe track, half: common practice.
    Source
        Compressibility where the file gives none: 3e-6/psi for water base, 5e-6/psi for oil base, from the
        trade reference.
    Example
        wrong, in sollivane-a7: as it stands
        wrong: cement.pump.efficiency = {low: 94 %, likely: 96 %, high: 98 %}
        right: as it stands
        not checked: without running string; without options
        not checked: without fluids.mud.base
    """
    displaced = case.displacement
    if displaced is None:
        raise MissingInput(*case.needs("displacement"))
    limit = case.plan.limits["over-displacement share"]
    most = limit.si * displaced.shoe_track_m3
    low, high = displaced.least_m3, displaced.most_m3
    if case.plan.cement.pump_efficiency is None:
        least, greatest = (case.plan.limits[f"{word} pump efficiency"].si for word in ("least", "greatest"))
        half = 0.5 * displaced.to_bump_m3 * (greatest - least) / (0.5 * (greatest + least))
        low, high = low - half, high + half
    off = max(displaced.to_bump_m3 - low, high - displaced.to_bump_m3)
    if meets(off, most, at_least=False):
        if needs := compression_needs(case):
            raise MissingInput(*needs)
        return Passed(Figure(off, "volume"), limit)
    return Found(
        Severity.WARNING,
        "displacement doubtful by {off}, {limit} of the shoe track is {most}",
        "What is not known of pump and fluid leaves {off} of doubt in the {bump} to the bump of the {name}; "
        "{limit} of the shoe track is {most} ({owner}): strokes alone must not end the job.",
        "Calibrate by the dart's arrival, measure returns, watch lift pressure; stop by volume only within "
        "the band.",
        {
            "name": subject.name,
            "off": Figure(off, "volume"),
            "bump": Figure(displaced.to_bump_m3, "volume"),
            "most": Figure(most, "volume"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (case.plan.depth.liner.shoe_md_m,),
        limit,
    )


def cement_short_of_rule(case: Case, subject: Subject) -> Answer:
    """The planned cement is less than the chosen rule asks for.

    What it checks
        Planned cement above the liner shoe and into the host, against 'least cement above shoe' and 'least
        cement into host' of the profile or of the file.
    Why it matters
        It is the rule's barrier.
    Limit
        The profile's; common practice sets none. The local rule governs.
    Source
        The profile, for example Quebec M-13.1 r.1 s.27: 150 m above the shoe, 50 m into the casing above.
    Example
        wrong: limits.profile = quebec example; cement.planned top = 9686 ft
        right: limits.profile = quebec example
        does not apply: as it stands
        not checked: limits.profile = quebec example; without cement.planned top
        at the limit: limits.profile = quebec example; cement.planned top = 2952.28 m
    """
    plan = case.plan
    above, into = plan.limits.get("least cement above shoe"), plan.limits.get("least cement into host")
    if above is None and into is None:
        return DoesNotApply("the chosen limits ask for none")
    planned = plan.cement.planned_top_md_m
    if planned is None:
        raise MissingInput("cement.planned top")
    shoe, host_shoe = plan.depth.liner.shoe_md_m, plan.depth.host.shoe_md_m
    for limit, have, place in (
        (above, shoe - planned, "above the liner shoe"),
        (
            into,
            host_shoe - max(planned, plan.depth.liner.top_md_m),
            "into the host",
        ),  # the rest is reversed out
    ):
        if limit is not None and not meets(have, limit.si, at_least=True):
            return Found(
                Severity.ERROR,
                "cement {have} {place}, rule {limit}",
                "Cement is planned {have} {place}; {limit} is the least ({owner}).",
                "Plan the top of cement higher.",
                {
                    "name": subject.name,
                    "have": Figure(have, "length"),
                    "place": place,
                    "limit": limit.text,
                    "owner": limit.owner,
                },
                (planned,),
                limit,
                (Fix("cement.planned top", shoe - limit.si if limit is above else host_shoe - limit.si, -1),),
            )
    return Passed(Figure(shoe - planned, "length"), above or into)


RULES = (
    Rule("densities-out-of-order", "order of densities", whole_liner, densities_out_of_order, "no liner"),
    Rule("excess-without-basis", "basis of the excess", whole_liner, excess_without_basis, "no liner"),
    Rule(
        "caliper-far-over-gauge", "caliper against bit size", whole_liner, caliper_far_over_gauge, "no liner"
    ),
    Rule(
        "slurry-wants-silica",
        "silica in the slurry",
        each_fluid,
        slurry_wants_silica,
        "the file has no fluids",
    ),
    Rule(
        "density-not-by-recipe",
        "density of the slurry by its recipe",
        each_fluid,
        density_not_by_recipe,
        "the file has no fluids",
    ),
    Rule(
        "much-cement-above-liner",
        "cement above the liner top",
        whole_liner,
        much_cement_above_liner,
        "no liner",
    ),
    Rule("over-displacement-large", "over-displacement", whole_liner, over_displacement_large, "no liner"),
    Rule("pump-efficiency-unusual", "pump efficiency", whole_liner, pump_efficiency_unusual, "no liner"),
    Rule(
        "strokes-alone-miss-the-bump",
        "doubt in the displacement",
        whole_liner,
        strokes_alone_miss_the_bump,
        "no liner",
    ),
    Rule(
        "cement-short-of-rule",
        "planned cement against the chosen rule",
        whole_liner,
        cement_short_of_rule,
        "no liner",
    ),
)
