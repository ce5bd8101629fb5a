"""Rules about the fluid train: what its columns do to the rock at rest, what floats hold, the time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from schematic.checks.case import Case, Rule, compression_needs, each_fluid, whole_liner
from schematic.depth.plan import PumpingStep
from schematic.engineering.at_rest import Window, gelled, held_at_bump, weak_points, windows
from schematic.engineering.columns import annulus_at_end, emw_kg_per_m3
from schematic.engineering.schedule import Batch
from schematic.job.events import BUMP, DART, Event
from schematic.outcome import (
    Answer,
    DoesNotApply,
    Figure,
    Fix,
    Found,
    Limit,
    MissingInput,
    Passed,
    Severity,
    Subject,
    meets,
)
from schematic.units import printed_within

_TABLE = "formation.pressures from host shoe to bottom"


def _windows(case: Case) -> tuple[Window, ...]:
    return windows(case.plan, case.volumes, case.job.cement, case.job.train)


def _mud_kg_per_m3(case: Case) -> float:
    mud = case.plan.fluid("mud")
    if mud is None:
        raise MissingInput("fluids.mud")
    return mud.density_kg_per_m3


def columns_break_the_rock(case: Case, subject: Subject) -> Answer:
    """While the cement is pumped, or at its end, the columns at rest are too heavy for the rock.

    What it checks
        The most that the columns outside weigh at any time of the job, as equivalent mud weight, against the
        fracture pressure at the same depth: at the host shoe by the lower of its test and the table, at
        every depth of the table, at both shoes and at the bottom. Nothing is lost, the cement stands highest.
    Why it matters
        Cement is lost into the rock and does not come to its top.
    Limit
        0.2 ppg, in metric wells 0.03 sg ('least fracture margin'), less than the fracture pressure: common
        practice.
    Source
        Hydrostatic pressure, g 9.80665 m/s2; at rest: the friction of flow is not computed and comes on top.
    Example
        wrong: formation.leak off.0.emw = 13.1 ppg; without formation.leak off.0.surface pressure
        wrong: formation.pressures.1.fracture = 13.2 ppg
        right: as it stands
        right: fluids.spacer.density = 12 ppg
        wrong, in haldry-2: formation.pressures.1.fracture = 1.46 sg
        does not apply: fluids.mud.density = 15.7 ppg
        does not apply, in fallow-6: without hole.2; strings.production casing.shoe = 2410 m
        not checked: without formation
        not checked: without formation.pressures.0; without formation.pressures.0; without
            formation.pressures.0
        not checked: without running string; without options
    """
    if not weak_points(case.plan):
        return DoesNotApply("there is no open hole")
    found, limit = _windows(case), case.plan.limits["least fracture margin"]
    system = case.plan.identity.system
    known = [(under, w) for w in found if (under := w.under_fracture_kg_per_m3) is not None]
    if not known:
        raise MissingInput(_TABLE)
    mud = _mud_kg_per_m3(case)
    heavier = [one for one in known if one[1].most_kg_per_m3 > mud * (1.0 + 1e-9)]  # elsewhere it is the mud
    margin, worst = min(heavier or known, key=lambda entry: entry[0])
    if heavier and not meets(margin, limit.si, at_least=True):
        fracture = worst.point.fracture_kg_per_m3 or 0.0
        mud_first = "" if meets(fracture - mud, limit.si, at_least=True) else "First the mud: {mud} at most. "
        return Found(
            Severity.ERROR,
            "{emw} at rest at {depth}, fracture {fracture}",
            "After {pumped} pumped the columns at rest outside the {name} weigh {emw} at {depth} ({place}); "
            f"the rock there holds {{fracture}}: they are {{margin}} {'over' if margin < 0.0 else 'under'} "
            "it, and {limit} under it is wanted ({owner}). Friction of flow comes on top, not computed.",
            f"{mud_first or 'The columns there are to weigh {excess} less. '}Lighten a slurry or the spacer, "
            "plan a lower top of cement ('planned top'), or less 'excess'.",
            {
                **_at(worst, subject, limit),
                "pumped": Figure(worst.most_at_m3, "volume"),
                "emw": Figure(worst.most_kg_per_m3, "emw"),
                "fracture": Figure(fracture, "emw"),
                "mud": Figure(printed_within(fracture - limit.si, "emw", system, -1), "emw"),
                "margin": Figure(abs(margin), "emw"),
                "excess": Figure(limit.si - margin, "emw"),
            },
            (worst.point.md_m,),
            limit,
        )
    if len(known) < len(found):
        raise MissingInput(_TABLE)
    if not all(meets(under, limit.si, at_least=True) for under, _window in known):
        return DoesNotApply("the mud alone is too heavy for the rock; what is heavier keeps clear of it")
    return Passed(Figure(min(known, key=lambda entry: entry[0])[0], "emw"), limit)


def _at(window: Window, subject: Subject, limit: Limit | None) -> dict[str, Figure | str]:
    words: dict[str, Figure | str] = {
        "name": subject.name,
        "depth": Figure(window.point.md_m, "depth"),
        "place": window.point.name,
    }
    return words if limit is None else {**words, "limit": limit.text, "owner": limit.owner}


def columns_let_the_well_flow(case: Case, subject: Subject) -> Answer:
    """While the cement is pumped, or at its end, the columns at rest are lighter than the pore pressure.

    What it checks
        The least that the columns outside weigh at any time of the job, as equivalent mud weight, against the
        pore pressure at the same depth: every depth of the table, tops with a pore pressure, both shoes, the
        bottom. At the end the cement stands at its planned top, no higher.
    Why it matters
        A long light spacer, or a light slurry, opposite or above a zone lets it flow: a kick in the cement
        job.
    Limit
        The pore pressure: physics.
    Source
        Hydrostatic pressure, g 9.80665 m/s2; at rest.
    Example
        wrong: fluids.spacer.density = 8.4 ppg; fluids.spacer.volume = 110 bbl
        wrong, in tarnvale-h3: fluids.spacer.density = 900 kg/m3; fluids.spacer.volume = 40 m3;
            fluids.cement.density = 1000 kg/m3
        right: as it stands
        right: fluids.spacer.density = 8.4 ppg
        at the limit: fluids.mud.density = 12 ppg
        does not apply: fluids.mud.density = 11.9 ppg
        does not apply, in fallow-6: without hole.2; strings.production casing.shoe = 2410 m
        not checked: without formation
        not checked: without formation.pressures.0.pore
    """
    if not weak_points(case.plan):
        return DoesNotApply("there is no open hole")
    found = _windows(case)
    known = [(over, w) for w in found if (over := w.over_pore_kg_per_m3) is not None]
    mud = _mud_kg_per_m3(case)
    if any(not meets(mud, w.point.pore_kg_per_m3 or 0.0, at_least=True) for _, w in known):
        return DoesNotApply("the mud alone is lighter than the pore pressure")
    if not known:
        raise MissingInput(_TABLE)
    over, worst = min(known, key=lambda entry: entry[0])
    if not meets(worst.least_kg_per_m3, worst.point.pore_kg_per_m3 or 0.0, at_least=True):
        return Found(
            Severity.ERROR,
            "{emw} at rest at {depth}, pore {pore}",
            "After {pumped} pumped the columns at rest outside the {name} weigh {emw} at {depth} ({place}); "
            "the pore pressure there is {pore}.",
            "Use less of the light fluid, or weigh it up; or hold pressure on the annulus.",
            {
                **_at(worst, subject, None),
                "pumped": Figure(worst.least_at_m3, "volume"),
                "emw": Figure(worst.least_kg_per_m3, "emw"),
                "pore": Figure(worst.point.pore_kg_per_m3 or 0.0, "emw"),
            },
            (worst.point.md_m,),
        )
    if len(known) < len(found):
        raise MissingInput(_TABLE)
    return Passed(Figure(over, "emw"))


def gelled_cement_under_pore(case: Case, subject: Subject) -> Answer:
    """When the slurry has gelled, its column no longer holds a zone back.

    What it checks
        The columns outside with the cement at its planned top, each slurry weighing what its mix water does,
        against the pore pressure at every depth of the table, at tops with a pore pressure and at the bottom.
        The mix water is taken as fresh water, 1000 kg/m3.
    Why it matters
        A gelling slurry hangs on the walls and passes on only the weight of its water, before it is strong
        enough to keep gas out: gas cuts a way up behind the liner.
    Limit
        No shortfall ('greatest gelled shortfall'): common practice.
    Source
        Common practice; textbooks on well cementing, from memory.
    Example
        wrong: as it stands
        right: limits.greatest gelled shortfall = 0.5 ppg
        right, in sollivane-a7: as it stands
        does not apply, in fallow-6: without hole.2; strings.production casing.shoe = 2410 m
        not checked: without formation
        not checked: without cement.planned top
    """
    plan = case.plan
    points = weak_points(plan)
    if not points:
        return DoesNotApply("there is no open hole")
    path, limit = plan.depth.path, plan.limits["greatest gelled shortfall"]
    columns = gelled(plan, annulus_at_end(plan, case.volumes, case.job.cement))
    short = [
        (point.pore_kg_per_m3 - emw, emw, point)
        for point in points
        if point.pore_kg_per_m3 is not None and (emw := emw_kg_per_m3(columns, path, point.md_m)) is not None
    ]
    if not short:
        raise MissingInput("formation.pressures in the open hole")
    most, emw, point = max(short, key=lambda entry: entry[0])
    if meets(most, limit.si, at_least=False):
        return Passed(Figure(-most, "emw"), limit)
    return Found(
        Severity.WARNING,
        "gelled cement {emw} at {depth}, pore {pore}",
        "When the cement outside the {name} has gelled and weighs no more than its water (taken as fresh "
        "water), the columns come to {emw} at {depth} ({place}), where the pore pressure is {pore}: {short} "
        "short.",
        "Set the packer before it gels, hold pressure on the annulus, or have a slurry that gels late and "
        "sets fast, or that holds gas.",
        {
            "name": subject.name,
            "emw": Figure(emw, "emw"),
            "pore": Figure(point.pore_kg_per_m3 or 0.0, "emw"),
            "short": Figure(most, "emw"),
            "depth": Figure(point.md_m, "depth"),
            "place": point.name,
        },
        (point.md_m,),
        limit,
    )


def float_overloaded_at_bump(case: Case, subject: Subject) -> Answer:
    """A float is to hold back more than it is rated for when the pressure is bled off after the bump.

    What it checks
        By how much the columns outside outweigh those inside at each float, the cement standing where it does
        when nothing is lost, against the float's 'back pressure rating'.
    Why it matters
        The cement flows back, and pressure has to be held until it sets: a gap between pipe and cement.
    Limit
        The maker's rating.
    Source
        U-tube of the columns at rest.
    Example
        wrong: liner.assembly.float shoe.back pressure rating = 600 psi
        right: liner.assembly.float shoe.back pressure rating = 3000 psi;
            liner.assembly.float collar.back pressure rating = 3000 psi
        does not apply: without liner.assembly.float collar; without liner.assembly.float shoe.valves
        not checked: as it stands
    """
    floats = [part for part in case.plan.depth.liner.parts if part.valves or part.kind == "float collar"]
    if not floats:
        return DoesNotApply("the liner has no float")
    held = held_at_bump(case.plan, case.volumes, case.job.cement, case.job.train)
    rated = [
        (one.part.back_pressure_rating_pa - one.highest_pa, one.part.back_pressure_rating_pa, one)
        for one in held
        if one.part in floats and one.part.back_pressure_rating_pa is not None
    ]
    for spare, rating, one in rated:
        if not meets(spare, 0.0, at_least=True):
            return Found(
                Severity.WARNING,
                "{part} holds {held}, rated {rating}",
                "After the bump the {part} of the {name} holds back {held} ({planned} with the cement at its "
                "planned top); it is rated for {rating}.",
                "Choose a float of a higher rating, a lighter slurry or a heavier displacement fluid.",
                {
                    "name": subject.name,
                    "part": one.part.name,
                    "held": Figure(one.highest_pa, "pressure"),
                    "planned": Figure(one.planned_pa, "pressure"),
                    "rating": Figure(rating, "pressure"),
                },
                (one.part.top_md_m,),
            )
    unknown = [f"{part.path}.back pressure rating" for part in floats if part.back_pressure_rating_pa is None]
    if unknown:
        raise MissingInput(*unknown)
    return Passed(Figure(min(spare for spare, *_ in rated), "pressure"))


def thickening_time_short(case: Case, subject: Subject) -> Answer:
    """A slurry may thicken before the string is clear of it.

    What it checks
        The time of each slurry from its mixing until the string is clear: pumping, dropping the dart,
        displacing, setting the packer, pulling clear, reversing out; with one stoppage, and without one but
        with a margin, whichever is longer, against its thickening time. Where a time is not given, those that
        are may already be too long.
    Why it matters
        A running string in set cement stays there.
    Limit
        1 h ('least thickening margin') without a stoppage, none with it: common practice.
    Source
        Common practice, 1 to 2 h; thickening times by API RP 10B-2, from memory.
    Example
        wrong: fluids.cement.thickening time = 3.8 h
        wrong: cement.clock.stoppage = 4 h
        wrong: fluids.cement.thickening time = 3 h; without cement.clock.pull clear
        wrong: limits.least thickening margin = 4 h
        right: as it stands
        does not apply: fluids.cement.kind = spacer; without cement
        not checked: without cement.clock
        not checked: without fluids.cement.thickening time
        not checked: without cement.schedule.1.rate
    """
    if not any(slurry.fluid == subject.name for slurry in case.plan.cement.slurries):
        return DoesNotApply("it is no slurry of the job")
    own = next((one for one in case.job.clock.slurries if one.slurry == subject.name), None)
    if own is None:
        raise MissingInput(f"a line of cement.schedule for {subject.name}")
    if own.thickening_s is None:
        raise MissingInput(*own.needs)
    limit = case.plan.limits["least thickening margin"]
    times = [own.at_least_s]
    times += [own.undisturbed_s + limit.si] if own.undisturbed_s is not None else []
    longest = max(times)
    if not meets(longest, own.thickening_s, at_least=False):
        what = "{name} is in water for {known} until the string is clear, one stoppage counted"
        if longest > own.at_least_s:
            what = "{name} is in water for {known} until the string is clear, and {limit} more is wanted"
        elif own.seconds is None:
            what = "{name} is in water for {known} and more: not all times of the job are given"
        return Found(
            Severity.ERROR,
            "{name}: {needed} wanted, thickens in {thickens}",
            what + " ({owner}). It thickens in {thickens}.",
            "Have it retarded, pump faster, or shorten what follows.",
            {
                "name": subject.name,
                "known": Figure(longest - (limit.si if longest > own.at_least_s else 0.0), "time"),
                "needed": Figure(longest, "time"),
                "thickens": Figure(own.thickening_s, "time"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (),
            limit,
        )
    if own.needs:
        raise MissingInput(*own.needs)
    return Passed(Figure(own.thickening_s - longest, "time"), limit)


def _last_line(lines: Sequence[PumpingStep], fluid: str | None, over_m3: float) -> tuple[Fix, ...]:
    """The last line of a fluid, or of all, with the volume at which the schedule adds up."""
    at = max((n for n, line in enumerate(lines) if fluid in (None, line.fluid)), default=None)
    if at is None:
        return ()
    volume = (lines[at].volume_m3 or 0.0) - over_m3
    return (Fix(f"cement.schedule.{at}.volume", volume, 0, "volume"),) if volume > 0.0 else ()


def schedule_does_not_add_up(case: Case, subject: Subject) -> Answer:
    """The pumping schedule pumps another volume than the job asks for.

    What it checks
        Lines of 'schedule' that state their volume: those of each slurry against the cement job, those behind
        the dart against the volume to the bump, which counts running string and liner down to where the plug
        lands, and no shoe track. A last line without a volume runs to the bump.
    Why it matters
        A volume that was changed in one place alone lands the plug early, late or never.
    Limit
        1 % ('schedule agreement'): common practice.
    Source
        Arithmetic.
    Example
        wrong: cement.schedule.1.volume = 110 bbl
        wrong: cement.schedule.5.volume = 30 bbl
        right: cement.schedule.1.volume = 130 bbl; cement.schedule.5.volume = 20 bbl
        right: as it stands
        does not apply: without cement.schedule
        not checked: cement.schedule.5.volume = 20 bbl; without liner.assembly.landing collar; without
            liner.assembly.float collar
    """
    lines = case.plan.cement.schedule
    if not lines:
        return DoesNotApply("the file has no pumping schedule")
    limit = case.plan.limits["schedule agreement"]
    wanted = {slurry.name: slurry.volume_m3 for slurry in case.job.cement.slurries}
    last = max((i for i, line in enumerate(lines) if line.fluid in wanted), default=len(lines))
    asked = {name: (f"of {name}", volume) for name, volume in wanted.items()}
    stated: dict[str, list[float | None]] = {name: [] for name in wanted}
    for line in lines[: last + 1]:
        stated.get(line.fluid, []).append(line.volume_m3)
    behind = "behind the dart"
    asked[behind], stated[behind] = (
        (behind, case.job.displacement.to_bump_m3),
        [line.volume_m3 for line in lines[last + 1 :]],
    )
    for key, (words, volume) in asked.items():
        total = math.fsum(v or 0.0 for v in stated[key])
        open_line = None in stated[key]
        off = total - volume
        if (open_line and off <= 0.0) or meets(abs(off), limit.si * volume, at_least=False):
            continue
        return Found(
            Severity.ERROR,
            "schedule: {total} {what}, job {volume}",
            "The schedule pumps {total} {what}; the job of the {name} asks for {volume}. They should agree "
            "to {limit} ({owner}).",
            "Mend the lines, or leave the last volume out: it is then the rest.",
            {
                "name": subject.name,
                "what": words,
                "total": Figure(total, "volume"),
                "volume": Figure(volume, "volume"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (),
            limit,
            () if open_line else _last_line(lines, key if key in wanted else None, off),
        )
    return Passed(None, limit)


class _Line(NamedTuple):
    """A line of the schedule behind the dart, on the counter that began with it; the last one goes on."""

    batch: Batch
    from_m3: float
    to_m3: float


def _slower(ahead: _Line, fast: _Line, most_m3: float, slow: Limit) -> tuple[Fix, ...]:
    """The line that is slower than the one ahead of it slowed enough, or the slow one ahead of it longer."""
    was, rate = ahead.batch.rate_m3_per_s or 0.0, fast.batch.rate_m3_per_s or 0.0
    if was > rate:
        return (Fix(f"{fast.batch.path}.rate", slow.si, -1, "flow"),)
    longer = Fix(f"{ahead.batch.path}.volume", most_m3 - ahead.from_m3, 1, "volume")
    return (longer,) if 0.0 < was <= slow.si else ()


def _arrives_slowly(case: Case, subject: Subject, event: Event, wanted: Limit, md_m: float) -> Answer:
    """Whether the schedule is slow from *wanted* before an event may first come until it must have come."""
    cement, slow = case.plan.cement, case.plan.limits["greatest slow rate"]
    if not cement.schedule:
        raise MissingInput("cement.schedule")
    begun, last = case.job.train.dart_from_m3, case.job.train.batches[-1]
    lines = [
        _Line(one, one.from_m3 - begun, math.inf if one is last else one.to_m3 - begun)
        for one in case.job.train.batches
        if one.behind_dart
    ]
    least, most = event.least_m3, event.most_m3
    before = min(wanted.si, least)
    figures: dict[str, Figure | str] = {
        "name": subject.name,
        "comes": "the dart meets the plug" if event.name == DART else "the plug bumps",
        "at": Figure(event.m3, "volume"),
        "least": Figure(least, "volume"),
        "most": Figure(most, "volume"),
        "from": Figure(least - before, "volume"),
        "slow": slow.text,
        "wanted": wanted.text,
        "owner": slow.owner,
    }
    when = "{comes} of the {name}, {at}" + ("" if least == most else " ({least} to {most})")
    when += " behind the dart"
    mend = "Pump {slow} or less from {from} to {most}, counted from the dart."
    there = [
        n
        for n, line in enumerate(lines)
        if meets(line.to_m3, least, at_least=True) and not meets(line.from_m3, most, at_least=True)
    ]
    fastest = max(there, key=lambda n: lines[n].batch.rate_m3_per_s or 0.0)
    rate = lines[fastest].batch.rate_m3_per_s or 0.0
    if not meets(rate, slow.si, at_least=False):
        ahead = lines[fastest - 1] if fastest else None
        fixes = () if ahead is None else _slower(ahead, lines[fastest], most, slow)
        return Found(
            Severity.WARNING,
            "{rate} when {comes}",
            "The schedule pumps {rate} when " + when + "; it should be {slow} or less, from {wanted} before "
            "({owner}).",
            mend,
            {**figures, "rate": Figure(rate, "rate")},
            (md_m,),
            slow,
            fixes,
        )
    start = least
    for line in lines[there[-1] :: -1]:
        path, pumped = line.batch.path, line.batch.rate_m3_per_s
        if pumped is None:
            raise MissingInput(f"{path}.rate")
        if not meets(pumped, slow.si, at_least=False):
            return Found(
                Severity.ADVICE,
                "slow for {short} before {comes}",
                "The schedule slows down {short} before " + when + "; {wanted} or more at {slow} or less is "
                "usual ({owner}).",
                mend,
                {**figures, "short": Figure(least - start, "volume")},
                (md_m,),
                wanted,
                (Fix(f"{path}.volume", line.batch.volume_m3 - (start - (least - before)), -1, "volume"),),
            )
        start = min(start, line.from_m3)
        if meets(least - start, before, at_least=True):
            break
    if not event.observed:
        needs = () if cement.pump_efficiency is not None else ("cement.pump.efficiency",)
        if needs := (*needs, *compression_needs(case)):
            raise MissingInput(*needs)
    return Passed(Figure(least - start, "volume"), wanted)


def dart_meets_plug_fast(case: Case, subject: Subject) -> Answer:
    """The schedule is not slow when the dart meets the plug, or only just before.

    What it checks
        The rates of 'schedule' from the least to the most that the counter may say when the dart meets the
        plug (pump efficiency and compressibility as the file gives them), and how much is pumped slowly
        before.
    Why it matters
        The plug's release is a step of pressure: where the rate changes, or at full rate, it is not seen.
        Then the pump is not calibrated, and whether the plug went at all is not known. A fast dart hits hard.
    Limit
        3 bbl/min, in metric wells 0.5 m3/min ('greatest slow rate'), a warning; from 5 bbl, in metric wells
        0.8 m3, before ('least slow before plug'), an advice: common practice.
    Source
        Common practice, 2 to 3 bbl/min from 5 to 10 bbl before.
    Example
        wrong: cement.schedule.3.rate = 4 bbl/min
        wrong: cement.schedule.3.volume = 10 bbl
        wrong: cement.schedule.2.volume = 154.8 bbl
        at the limit: cement.schedule.3.rate = 3 bbl/min
        right: cement.schedule.2.volume = 154.7 bbl
        right: as it stands
        does not apply: without running string.assembly.wiper plug
        not checked: without cement.schedule
        not checked: without cement.schedule.3.rate
        not checked: without cement.pump
        not checked: without installation.final pressure
    """
    event = next((one for one in case.job.events if one.name == DART), None)
    hangs = case.job.train.plug_md_m
    if event is None or hangs is None:
        return DoesNotApply("no plug waits for the dart")
    return _arrives_slowly(case, subject, event, case.plan.limits["least slow before plug"], hangs)


def plug_bumps_fast(case: Case, subject: Subject) -> Answer:
    """The schedule is not slow when the plug bumps, or only just before.

    What it checks
        The rates of 'schedule' from the least to the most that the counter may say at the bump, and how much
        is pumped slowly before; as for the dart at the plug.
    Why it matters
        A plug that lands at full rate hammers the collar and the pressure jumps before the pumps stop; the
        final pressure, which the bump is counted from, is read at the slow rate.
    Limit
        3 bbl/min, in metric wells 0.5 m3/min ('greatest slow rate'), a warning; from 10 bbl, in metric wells
        1.6 m3, before ('least slow before bump'), an advice: common practice.
    Source
        Common practice, slow for the last 10 to 20 bbl.
    Example
        wrong: cement.schedule.5.rate = 6 bbl/min
        wrong: cement.schedule.4.volume = 99.2 bbl
        at the limit: cement.schedule.5.rate = 3 bbl/min
        right: cement.schedule.4.volume = 99.1 bbl
        right: as it stands
        does not apply: without running string.assembly.wiper plug
        not checked: without cement.schedule
        not checked, in sollivane-a7: as it stands
    """
    event = next((one for one in case.job.events if one.name == BUMP), None)
    if event is None:
        return DoesNotApply("no plug lands")
    wanted = case.plan.limits["least slow before bump"]
    return _arrives_slowly(case, subject, event, wanted, case.job.train.collar_md_m)


RULES = (
    Rule(
        "columns-break-the-rock",
        "columns at rest against fracture pressure",
        whole_liner,
        columns_break_the_rock,
        "no liner",
    ),
    Rule(
        "columns-let-the-well-flow",
        "columns at rest against pore pressure",
        whole_liner,
        columns_let_the_well_flow,
        "no liner",
    ),
    Rule(
        "gelled-cement-under-pore",
        "gelled cement against pore pressure",
        whole_liner,
        gelled_cement_under_pore,
        "no liner",
    ),
    Rule(
        "float-overloaded-at-bump",
        "load on the floats after the bump",
        whole_liner,
        float_overloaded_at_bump,
        "no liner",
    ),
    Rule(
        "thickening-time-short",
        "thickening time",
        each_fluid,
        thickening_time_short,
        "the file has no fluids",
    ),
    Rule(
        "schedule-does-not-add-up",
        "sum of the pumping schedule",
        whole_liner,
        schedule_does_not_add_up,
        "no liner",
    ),
    Rule(
        "dart-meets-plug-fast",
        "rate when the dart meets the plug",
        whole_liner,
        dart_meets_plug_fast,
        "no liner",
    ),
    Rule("plug-bumps-fast", "rate when the plug bumps", whole_liner, plug_bumps_fast, "no liner"),
)
