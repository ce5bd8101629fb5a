"""Rules about the pressure tests of lap and liner top: what they load, and whether they prove anything."""

from __future__ import annotations

import math

from schematic.checks.case import Case, Rule
from schematic.depth.nest import circle_m2
from schematic.job.proof import Inflow, Positive, emw_surface_pa
from schematic.job.under_test import ABOVE, HANGER, HOST, LEAK, LINER, PACKER, Sees, under_test
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


def _tests(case: Case, *kinds: str) -> tuple[Subject, ...]:
    return tuple(
        Subject(f"installation.tests.{index}", test.name)
        for index, test in enumerate(case.plan.job.tests)
        if test.kind in kinds
    )


def _all_tests(case: Case) -> tuple[Subject, ...]:
    return _tests(case, "positive", "inflow", "")


def _positive_tests(case: Case) -> tuple[Subject, ...]:
    return _tests(case, "positive")


def _inflow_tests(case: Case) -> tuple[Subject, ...]:
    return _tests(case, "inflow")


def _lacks(case: Case, subject: Subject) -> MissingInput:
    its = case.job.proofs
    needs = next((one.needs for one in its.missing if one.what == f"test {subject.name}"), ())
    return MissingInput(*needs)


def _positive(case: Case, subject: Subject) -> Positive:
    found = next((test for test in case.job.proofs.positive if test.name == subject.name), None)
    if found is None:
        raise _lacks(case, subject)
    return found


def _sees(case: Case, subject: Subject, *parts: str) -> list[Sees]:
    """What some parts see in a test, those that are in the well."""
    test = _positive(case, subject)
    return [row for row in under_test(case.plan, test) if row.part in parts]


def _known(row: Sees) -> tuple[float, float]:
    """Load and what bears it; raises MissingInput."""
    if row.sees is None or row.bears is None:
        raise MissingInput(*row.needs)
    return row.sees, row.bears


def _inflow(case: Case, subject: Subject) -> Inflow:
    found = next((test for test in case.job.proofs.inflow if test.name == subject.name), None)
    if found is None:
        raise _lacks(case, subject)
    return found


def _test_to(subject: Subject, most_pa: float | None) -> tuple[Fix, ...]:
    """A test to no more than that at surface; nothing where no pressure would do."""
    if most_pa is None or most_pa <= 0.0:
        return ()
    return (Fix(f"{subject.path}.surface pressure", most_pa, -1, "pressure"),)


def lap_test_loads_hanger(case: Case, subject: Subject) -> Answer:
    """The test of the lap loads the hanger beyond its rating, unless set cement is credited.

    What it checks
        Liner in mud and the test's pressure on the bore of the host, against the rating over a factor. Until
        cement is credited hanger and packer carry all of it.
    Why it matters
        The test pushes the liner down: what holds it is the hanger, not the lap.
    Limit
        Rating over 1.25: common practice ('least hanger factor').
    Source
        Force is pressure times area; the maker's rating in the actual host rules.
    Example
        wrong: as it stands
        right: liner.assembly.liner hanger.load rating = 300 klbf
        at the limit: liner.assembly.liner hanger.load rating = 284.7982938929 klbf
        does not apply: without installation.tests.liner and lap
        not checked: without liner.assembly.liner hanger.load rating
    """
    test, rows = _positive(case, subject), _sees(case, subject, HANGER)
    if not rows:
        return DoesNotApply("the liner has no hanger")
    load, allowed = _known(rows[0])
    limit = case.plan.limits["least hanger factor"]
    if not meets(load, allowed, at_least=False):
        bore = circle_m2(case.plan.depth.host.id_m)
        return Found(
            Severity.WARNING,
            "test of {pressure} loads the hanger with {load}, {allowed} allowed",
            "In the test '{name}' {pressure} on the host's bore adds {added} to the liner: {load} on the "
            "hanger, allowed {allowed}, its rating divided by {limit} ({owner}), unless cement is credited.",
            "Credit cement that was proved, test with a plug above, or test to {most}.",
            {
                "name": subject.name,
                "pressure": Figure(test.surface_pa, "pressure"),
                "added": Figure(test.surface_pa * bore, "force"),
                "load": Figure(load, "force"),
                "allowed": Figure(allowed, "force"),
                "most": Figure(rows[0].most_surface_pa or 0.0, "pressure"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (case.plan.depth.liner.top_md_m,),
            limit,
            _test_to(subject, rows[0].most_surface_pa),
        )
    return Passed(Figure(load, "force"), limit)


def lap_leak_breaks_host_shoe(case: Case, subject: Subject) -> Answer:
    """Should the lap leak in its test, the host shoe would see more than it was tested to.

    What it checks
        The test's pressure as equivalent mud weight at the host shoe against its leak-off test, or where
        there is none against the table of fracture pressures.
    Why it matters
        A leak in the test then breaks the rock behind the lap that was to be proved.
    Limit
        What was measured there; none granted.
    Source
        Hydrostatics.
    Example
        wrong: as it stands
        right: installation.tests.liner and lap.surface pressure = 1600 psi
        at the limit: formation.leak off.0.emw = 17.718641690199 ppg
        does not apply: without installation.tests.liner and lap
        not checked: without formation
    """
    test, rows = _positive(case, subject), _sees(case, subject, LEAK)
    if not rows:
        return DoesNotApply("the liner ends inside its host")
    emw, bears = _known(rows[0])
    if not meets(emw, bears, at_least=False):
        return Found(
            Severity.WARNING,
            "host shoe sees {emw} if the lap leaks, it took {limit}",
            "{pressure} at surface is {emw} at the host shoe, should the lap leak; it took {limit}.",
            "Watch volume and stop at once when it leaks; or test in steps, packer proved first.",
            {
                "name": subject.name,
                "pressure": Figure(test.surface_pa, "pressure"),
                "emw": Figure(emw, "emw"),
                "limit": Figure(bears, "emw"),
            },
            (case.plan.depth.host.shoe_md_m,),
        )
    return Passed(Figure(emw, "emw"))


def test_bursts_host(case: Case, subject: Subject) -> Answer:
    """The test's pressure is beyond what the host casing bears.

    What it checks
        Pressure at surface and the fluid of the test at the liner top, less fresh water outside, against
        burst of the host's pipe body by the API formula, with the wall that is left; where the host hangs
        lower down, each string that stands open to it above as well, at its own depth.
    Why it matters
        The host is what holds the test.
    Limit
        90 % of burst: common practice ('greatest share of rating').
    Source
        API TR 5C3, historical formula (Barlow); water outside: common practice.
    Example
        wrong: installation.tests.liner and lap.surface pressure = 4100 psi
        right: as it stands
        at the limit: installation.tests.liner and lap.surface pressure = 4083.770815817 psi
        does not apply: without installation.tests.liner and lap
        not checked: strings.intermediate casing.pipe = 9 5/8 in 47 lb/ft
    """
    test = _positive(case, subject)
    rows = [row for row in under_test(case.plan, test) if row.part == HOST or row.part.endswith(ABOVE)]
    return _bursts(case, subject, rows, "or below a plug")


def test_bursts_liner(case: Case, subject: Subject) -> Answer:
    """The test's pressure is beyond what the liner or its packer bears.

    What it checks
        Pressure at surface and the fluid of the test, less fresh water outside: at the shoe against burst of
        the liner's pipe body by the API formula, at the packer against the rating that the file gives.
    Why it matters
        A test of the lap that breaks the liner proves nothing.
    Limit
        90 % of burst and rating: common practice ('greatest share of rating').
    Source
        API TR 5C3, historical formula (Barlow); water outside: common practice.
    Example
        wrong: installation.tests.liner and lap.surface pressure = 7400 psi
        wrong: liner.assembly.liner top packer.pressure rating = 5000 psi
        right: liner.assembly.liner top packer.pressure rating = 6000 psi
        at the limit: liner.assembly.liner top packer.pressure rating = 5242.424806545 psi
        not checked: as it stands
        not checked: liner.pipe = 7 in 29 lb/ft
        does not apply: without installation.tests.liner and lap
    """
    return _bursts(case, subject, _sees(case, subject, LINER, PACKER), "with a lighter fluid inside")


def _bursts(case: Case, subject: Subject, rows: list[Sees], other_way: str) -> Answer:
    limit = case.plan.limits["greatest share of rating"]
    for row in rows:
        if row.sees is None or row.bears is None or meets(row.sees, row.bears, at_least=False):
            continue
        return Found(
            Severity.ERROR,
            "test: {part} sees {sees}, bears {bears}",
            "In the test '{name}' the {part} sees {sees} over what stands outside; it bears {bears}, {limit} "
            "of its burst or rating ({owner}).",
            "Test to {most}, {way}.",
            {
                "name": subject.name,
                "part": row.part,
                "sees": Figure(row.sees, "pressure"),
                "bears": Figure(row.bears, "pressure"),
                "most": Figure(max(row.most_surface_pa or 0.0, 0.0), "pressure"),
                "way": other_way,
                "limit": limit.text,
                "owner": limit.owner,
            },
            (),
            limit,
            _test_to(subject, row.most_surface_pa),
        )
    loads = [_known(row) for row in rows]
    return Passed(Figure(max(sees / bears for sees, bears in loads), "share"), limit)


def host_not_tested(case: Case, subject: Subject) -> Answer:
    """The host casing was tested to less than the test of the lap puts on it.

    What it checks
        The test's pressure at surface against 'tested to' of the host.
    Why it matters
        The host may fail first, and whoever sees the pressure fall looks for the leak in the lap.
    Limit
        The pressure of the test; none granted.
    Source
        30 CFR 250.721 asks that each string be tested before what comes after relies on it; common practice.
    Example
        wrong: strings.intermediate casing.tested to = 2500 psi
        right: strings.intermediate casing.tested to = 3000 psi
        at the limit: strings.intermediate casing.tested to = 2619 psi
        not checked: as it stands
        does not apply: without installation.tests.liner and lap
    """
    test, host = _positive(case, subject), case.plan.depth.host
    if host.tested_pa is None:
        raise MissingInput(f"{host.path}.tested to")
    if not meets(host.tested_pa, test.surface_pa, at_least=True):
        return Found(
            Severity.WARNING,
            "host tested to {tested}, lap to {pressure}",
            "The {host} was tested to {tested}; the test '{name}' puts {pressure} on it.",
            "Test the host to it before, or the lap below a packer.",
            {
                "name": subject.name,
                "host": host.name,
                "tested": Figure(host.tested_pa, "pressure"),
                "pressure": Figure(test.surface_pa, "pressure"),
            },
        )
    return Passed(Figure(host.tested_pa, "pressure"))


def test_held_too_short(case: Case, subject: Subject) -> Answer:
    """A test is held for less time than it takes to accept it.

    What it checks
        'hold' of each test. A test from above is accepted when no more than 10 % is lost in 30 min.
    Why it matters
        A slow leak looks like a tight lap, and fluid that warms looks like a leak.
    Limit
        30 min: 30 CFR 250.721(f), read in a stored public copy ('least test hold'); from below 30 min, common
        practice ('least inflow hold').
    Source
        30 CFR 250.721(f), as an example of a rule; common practice.
    Example
        wrong: installation.tests.liner and lap.hold = 15 min
        wrong, in sollivane-a7: installation.tests.inflow.hold = 20 min
        right, in sollivane-a7: as it stands
        at the limit, in sollivane-a7: installation.tests.inflow.hold = 30 min
        not checked: as it stands
        does not apply: without installation.tests
    """
    plan = case.plan.job.tests[int(subject.path.rpartition(".")[2])]
    if plan.hold_s is None:
        raise MissingInput(f"installation.tests.{plan.name}.hold")
    limit = case.plan.limits["least inflow hold" if plan.kind == "inflow" else "least test hold"]
    if not meets(plan.hold_s, limit.si, at_least=True):
        return Found(
            Severity.WARNING,
            "test held {hold}",
            "The test '{name}' is held for {hold}; {limit} is the least by which it is accepted ({owner}).",
            "Hold it longer.",
            {
                "name": subject.name,
                "hold": Figure(plan.hold_s, "minutes"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (),
            limit,
            (Fix(f"{subject.path}.hold", limit.si, 1, "time"),),
        )
    return Passed(Figure(plan.hold_s, "minutes"), limit)


def test_little_over_fracture(case: Case, subject: Subject) -> Answer:
    """A test that is meant to go over the fracture pressure at the host shoe goes less over it than asked.

    What it checks
        'above fracture' of a test, as for a production liner.
    Why it matters
        The lap has to hold more than the rock behind it ever can.
    Limit
        500 psi: 30 CFR 250.721(c), read in a stored public copy ('least test over fracture').
    Source
        30 CFR 250.721(c), as an example of a rule.
    Example
        wrong, in sollivane-a7: installation.tests.liner and lap.above fracture = 34 bar
        right, in sollivane-a7: as it stands
        at the limit, in sollivane-a7: installation.tests.liner and lap.above fracture = 500 psi
        does not apply: as it stands
    """
    plan = case.plan.job.tests[int(subject.path.rpartition(".")[2])]
    if plan.above_fracture_pa is None:
        return DoesNotApply("the test is not meant to go over the fracture pressure")
    limit = case.plan.limits["least test over fracture"]
    if not meets(plan.above_fracture_pa, limit.si, at_least=True):
        return Found(
            Severity.WARNING,
            "test {over} over fracture at the host shoe",
            "The test '{name}' goes {over} over the fracture pressure at the host shoe; {limit} is asked for "
            "({owner}).",
            "Test higher, or take the limit of the rule that holds here.",
            {
                "name": subject.name,
                "over": Figure(plan.above_fracture_pa, "pressure"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (),
            limit,
            (Fix(f"{subject.path}.above fracture", limit.si, 1, "pressure"),),
        )
    return Passed(Figure(plan.above_fracture_pa, "pressure"), limit)


def test_pressure_disagrees(case: Case, subject: Subject) -> Answer:
    """The test's pressure and the EMW that it is to give do not belong together.

    What it checks
        Where both are written: the pressure at surface that gives the EMW with the test's fluid at the liner
        shoe, or at the place that the test names, against that written.
    Why it matters
        One of the two was changed later, or reckoned with another mud.
    Limit
        1 % of the pressure: common practice ('test agreement').
    Source
        Hydrostatics.
    Example
        wrong: installation.tests.liner and lap.emw = 16.8 ppg
        right: as it stands
        at the limit: limits.test agreement = 0.120258074826 %
        does not apply: without installation.tests.liner and lap.emw
        not checked: without cement.schedule; without fluids.mud
    """
    plan = case.plan.job.tests[int(subject.path.rpartition(".")[2])]
    if plan.surface_pressure_pa is None or plan.emw_kg_per_m3 is None:
        return DoesNotApply("not both a pressure and an EMW are written")
    test = _positive(case, subject)
    wanted = emw_surface_pa(case.plan, plan, test.fluid_kg_per_m3)
    limit = case.plan.limits["test agreement"]
    apart = abs(wanted - test.surface_pa)
    if not meets(apart, limit.si * test.surface_pa, at_least=False):
        return Found(
            Severity.WARNING,
            "test written as {pressure}, but its EMW at the {place} takes {wanted}",
            "The test '{name}' is written as {pressure} at surface and as {emw} at the {place}, which takes "
            "{wanted}.",
            "Mend the one that is old.",
            {
                "name": subject.name,
                "pressure": Figure(test.surface_pa, "pressure"),
                "emw": Figure(plan.emw_kg_per_m3, "emw"),
                "place": plan.at or "liner shoe",
                "wanted": Figure(wanted, "pressure"),
            },
            (),
            limit,
            (Fix(f"{subject.path}.surface pressure", wanted, 0, "pressure"),),
        )
    return Passed(Figure(apart, "pressure"), limit)


def inflow_over_routine(case: Case, subject: Subject) -> Answer:
    """What pushes behind the lap is more than a routine inflow test would prove.

    What it checks
        Pressure at the liner top behind the lap, of the lightest column that can stand there up from a zone,
        less that of the fluid that comes next inside: the difference that the lap must hold.
    Why it matters
        An inflow test of the usual size passes, and the lap leaks when the next mud is in.
    Limit
        500 psi: common practice ('routine inflow').
    Source
        Hydrostatics; common practice for the usual drawdown.
    Example
        wrong: as it stands
        right: fluids.next mud.density = 13.6 ppg
        at the limit: limits.routine inflow = 2328.752962083 psi
        does not apply: without installation.tests.inflow
        not checked: without formation
        not checked: without fluids.next mud
        not checked: fluids.next mud.density = 13.6 ppg; formation.tops.Ruddavine sand.md = 12500 ft;
            formation.tops.Ruddavine sand.fluid = gas
    """
    test = _inflow(case, subject)
    limit = case.plan.limits["routine inflow"]
    most = test.needed_pa[1]
    if not meets(most, limit.si, at_least=False):
        return Found(
            Severity.WARNING,
            "{most} across the lap from behind, routine test {limit}",
            "A column up from {zone} at {zone_md} puts "
            + ("{most}" if math.isclose(*test.needed_pa) else "{least} to {most}")
            + " across the lap with {fluid} inside, more than the routine {limit} ({owner}).",
            "Test the lap from below to {proves}, or keep a heavier fluid above it.",
            {
                "name": subject.name,
                "zone": test.zone,
                "zone_md": Figure(test.zone_md_m, "depth"),
                "least": Figure(test.needed_pa[0], "pressure"),
                "most": Figure(most, "pressure"),
                "fluid": test.next_fluid,
                "proves": Figure(test.proves_pa, "pressure"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (case.plan.depth.liner.top_md_m,),
            limit,
        )
    if test.unknown:
        raise MissingInput(*test.unknown)
    return Passed(Figure(most, "pressure"), limit)


def inflow_test_too_small(case: Case, subject: Subject) -> Answer:
    """The inflow test asks less of the lap than the fluid that comes next.

    What it checks
        The difference across the lap in the test, as 'differential' gives it or as the light fluid leaves it
        with the same column behind, against the most that the next fluid leaves. A drop in hydrostatic is not
        yet that difference.
    Why it matters
        A test that asks less than the well will ask proves nothing.
    Limit
        The difference itself; none granted.
    Source
        Hydrostatics.
    Example
        wrong: installation.tests.inflow.differential = 1200 psi
        wrong, in sollivane-a7: installation.tests.inflow.light fluid to = 1200 m
        right: installation.tests.inflow.differential = 2400 psi
        right, in sollivane-a7: as it stands
        at the limit, in sollivane-a7: installation.tests.inflow.light fluid = brine;
            installation.tests.inflow.light fluid to = 3055 m
        does not apply: as it stands
        not checked, in sollivane-a7: without formation
    """
    test = _inflow(case, subject)
    reached = test.reached_pa
    if reached is None:
        return DoesNotApply("the test goes to the next fluid itself")
    if not meets(test.short_pa, 1e-6 * abs(test.inside_next_pa), at_least=False):
        return Found(
            Severity.ERROR,
            "inflow test {reached}, the lap must hold {needed}",
            "The test '{name}' puts {reached} across the lap; {fluid} leaves up to {needed} there.",
            "Test to {proves} across the lap: lower the light fluid further, or take a lighter one.",
            {
                "name": subject.name,
                "reached": Figure(reached[1], "pressure"),
                "needed": Figure(test.needed_pa[1], "pressure"),
                "fluid": test.next_fluid,
                "proves": Figure(test.proves_pa, "pressure"),
            },
            (case.plan.depth.liner.top_md_m,),
        )
    if test.unknown:
        raise MissingInput(*test.unknown)
    return Passed(Figure(reached[1], "pressure"))


_NO_POSITIVE = "no positive test is planned"
_NO_INFLOW = "no inflow test is planned"
RULES: tuple[Rule, ...] = (
    Rule(
        "lap-test-loads-hanger",
        "load of the lap test on the hanger",
        _positive_tests,
        lap_test_loads_hanger,
        _NO_POSITIVE,
    ),
    Rule(
        "lap-leak-breaks-host-shoe",
        "pressure at the host shoe if the lap leaks",
        _positive_tests,
        lap_leak_breaks_host_shoe,
        _NO_POSITIVE,
    ),
    Rule(
        "test-bursts-host", "test pressure against the host", _positive_tests, test_bursts_host, _NO_POSITIVE
    ),
    Rule(
        "test-bursts-liner",
        "test pressure against liner and packer",
        _positive_tests,
        test_bursts_liner,
        _NO_POSITIVE,
    ),
    Rule("host-not-tested", "earlier test of the host", _positive_tests, host_not_tested, _NO_POSITIVE),
    Rule(
        "test-pressure-disagrees",
        "test pressure against its EMW",
        _positive_tests,
        test_pressure_disagrees,
        _NO_POSITIVE,
    ),
    Rule(
        "test-little-over-fracture",
        "test pressure against fracture pressure",
        _positive_tests,
        test_little_over_fracture,
        _NO_POSITIVE,
    ),
    Rule(
        "test-held-too-short",
        "time for which tests are held",
        _all_tests,
        test_held_too_short,
        "no test is planned",
    ),
    Rule("inflow-over-routine", "push from behind the lap", _inflow_tests, inflow_over_routine, _NO_INFLOW),
    Rule(
        "inflow-test-too-small",
        "inflow test against the next fluid",
        _inflow_tests,
        inflow_test_too_small,
        _NO_INFLOW,
    ),
)
