"""What passes what: worked wells, handbook drifts, seeded conflicts, and laws of first restrictions.

Sources: the two worked wells of the trade reference that are in `wells/`; drift of casing up to 8 5/8 in is its
bore less 1/8 in (API 5CT / ISO 11960, from memory), so that 7 in 32 lb/ft with 6.094 in of bore passes 5.969 in;
tool joints of 5 in drill pipe with NC50 are 6 5/8 in (API Spec 7-1, from memory).
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schematic import check
from schematic.job.meeting import Bore, Thing, Verdict, meet, way_of
from schematic.job.passage import passage
from schematic.outcome import DoesNotApply, Found, NotChecked, Passed
from schematic.verbs import demos, load_text
from tests.checks.wells import BRINDLEWICK, CLEAN, answers, changed

IN, MM = 0.0254, 0.001
CORRICK, HALDRY, SOLLIVANE = (demos()[f"{name}.yaml"] for name in ("corrick-5", "haldry-2", "sollivane-a7"))


def passing(text: str):
    return passage(check(load_text(text)).plan)


def way(text: str, thing: str):
    return next(way for way in passing(text).ways if way.thing.name == thing)


# thing, its first restriction, what passes there, what is clear: as the trade reference prints or subtracts them
VERTICAL_IN = [
    ("hydraulic hanger", "drift of intermediate casing", 8.525, 0.213),  # 8.525 - 8.312
    ("tie-back receptacle", "drift of intermediate casing", 8.525, 0.275),
    ("float shoe", "hole, bit or caliper", 8.500, 0.844),  # 8.50 - 7.656, under 1.0
    ("drill pipe", "drift of intermediate casing", 8.525, 1.900),  # 6 5/8 in tool joints
    ("ball", "bore of tool joint of drill pipe", 2.750, 1.000),  # 1 3/4 in in 2 3/4 in
    ("drift of the liner", "drift of pup joint", 6.059, 0.000),
]


@pytest.mark.parametrize(("thing", "where", "passes", "clear"), VERTICAL_IN)
def test_first_restrictions_of_the_vertical_worked_well(thing, where, passes, clear):
    first = way(BRINDLEWICK, thing).restriction

    assert first.bore.told == where
    assert first.bore.passes_m / IN == pytest.approx(passes, abs=0.0005)
    assert first.clear_m / IN == pytest.approx(clear, abs=0.0005)


DEVIATED_MM = [
    (
        "rotating hydraulic hanger",
        "drift of production casing",
        212.8,
        3.3,
    ),  # "just above the 3 mm comfort limit"
    ("reamer float shoe", "drift of production casing", 212.8, 18.3),
    ("ball", "bore of tool joint of drill pipe", 69.9, 28.6),  # 41.3 mm in 69.9 mm
]


@pytest.mark.parametrize(("thing", "where", "passes", "clear"), DEVIATED_MM)
def test_first_restrictions_of_the_deviated_worked_well(thing, where, passes, clear):
    """The drift is 212.8 mm by the API; the alternative of 215.9 mm has no certificate, and does not count."""
    first = way(SOLLIVANE, thing).restriction

    assert first.bore.told == where
    assert first.bore.passes_m / MM == pytest.approx(passes, abs=0.05)
    assert first.clear_m / MM == pytest.approx(clear, abs=0.1)  # two figures of one decimal subtracted


def test_the_ball_stops_on_its_seat_and_meets_nothing_below_it():
    in_collar, in_tool = passing(BRINDLEWICK), passing(SOLLIVANE)

    assert in_collar.verdict("ball", "landing collar") is Verdict.STOPS
    assert in_tool.verdict("ball", "running tool") is Verdict.PASSES  # its bore; the seat in it is the next
    assert way(SOLLIVANE, "ball").meetings[-1].verdict is Verdict.STOPS
    assert in_tool.verdict("ball", "inner string") is Verdict.APART
    assert in_tool.verdict("ball", "landing collar, plug latch") is Verdict.APART


def test_a_ball_sticks_in_the_tool_joint_of_the_seeded_fault():
    """The trade reference seeds a drill pipe tool joint of 1.75 in: the ball is 1 3/4 in."""
    stuck = way(changed(BRINDLEWICK, ("id: 2 3/4 in", "id: 1.75 in")), "ball")

    assert stuck.restriction is stuck.blocked
    assert stuck.blocked.bore.name == "tool joint of drill pipe"
    assert stuck.blocked.clear_m == pytest.approx(0.0, abs=1e-9)  # and 1/8 in is wanted


def test_a_ball_that_its_seat_does_not_hold_runs_through():
    text = changed(BRINDLEWICK, ("ball: 1 3/4 in\n", "ball: 1 1/2 in\n"))

    assert way(text, "ball").meetings[-1].verdict is Verdict.RUNS_THROUGH


def test_the_ball_for_the_collar_has_to_pass_the_seat_in_the_tool():
    """Two seats: the smaller ball goes first and has to pass the seat of the larger."""
    seat = "  running tool seat: {ball: 2 1/4 in, seat: SEAT, shears at: 2000 psi}\n"
    wide, narrow = (
        changed(
            BRINDLEWICK, ("  seat: landing collar\n", f"  seat: landing collar\n{seat}".replace("SEAT", bore))
        )
        for bore in ("2 in", "1.8 in")
    )

    assert passing(wide).verdict("ball", "seat in running tool") is Verdict.PASSES
    assert passing(narrow).verdict("ball", "seat in running tool") is Verdict.BLOCKED
    assert answers(check(load_text(narrow)), "ball-sticks") == ["Found"]


def test_a_tool_joint_of_6_5_8_does_not_enter_a_7_in_liner_of_6_094():
    """A spreadsheet does not see it: 5 in pipe in a bore of 6.094 in, but tool joints of 6.625 in on a drift of 5.969."""
    heavy = CORRICK.replace("7 in 29 lb/ft", "7 in 32 lb/ft").replace(
        "special drift: {diameter: 6.125 in, certificate: drifted on the rack before running}", "features: []"
    )
    wide = changed(
        heavy,
        (
            "      pipe: 3 1/2 in 13.3 lb/ft NC38\n      joint length: 31.4 ft\n"
            "      tool joint: {od: 4 3/4 in, id: 2 11/16 in, length: 19 in}\n",
            "      pipe: 5 in 19.5 lb/ft S-135 NC50\n",
        ),
    )

    stuck = way(wide, "drill pipe").restriction

    assert stuck.verdict is Verdict.BLOCKED
    assert stuck.bore.told == "drift of drilling liner"
    assert stuck.thing.size_m / IN == pytest.approx(6.625, abs=0.0005)
    assert stuck.bore.passes_m / IN == pytest.approx(5.969, abs=0.0005)
    assert stuck.clear_m / IN == pytest.approx(-0.656, abs=0.0011)
    assert answers(check(load_text(wide)), "running-string-does-not-pass") == ["Found"]


def test_a_tapered_string_is_right():
    """3 1/2 in pipe goes into the 7 in drilling liner; the 5 in pipe and its crossover end above its top at 2700 m."""
    ways = {one.thing.name: one for one in passing(HALDRY).running}

    assert all(one.blocked is None and not one.needs for one in ways.values())
    assert ways["3 1/2 in drill pipe"].restriction.bore.told == "drift of drilling liner"
    for above in ("5 in drill pipe", "crossover"):
        assert "drilling liner" not in {met.bore.name for met in ways[above].meetings}
        assert ways[above].thing.to_md_m <= 2700.0
    for rule in ("running-string-does-not-pass", "string-lands-on-upper-liner"):
        assert answers(check(load_text(HALDRY)), rule) == ["Passed"]


def test_a_taper_too_short_is_found_by_the_table_as_by_the_rule():
    """1 105 m of slim pipe made 1 000: the crossover of 168.3 mm comes to 2 775 m, in a drift of 153.9 mm."""
    short = changed(HALDRY, ("length: 1105 m", "length: 1000 m"), ("length: 2671 m", "length: 2776 m"))

    crossover = way(short, "crossover")

    assert crossover.blocked.bore.name == "drilling liner"
    assert crossover.blocked.clear_m / MM == pytest.approx(153.9 - 168.3, abs=0.1)
    assert answers(check(load_text(short)), "running-string-does-not-pass") == ["Found"]


def test_what_is_not_known_never_passes():
    no_tool_joint = changed(
        CORRICK,
        (
            "      pipe: 3 1/2 in 13.3 lb/ft NC38\n      joint length: 31.4 ft\n"
            "      tool joint: {od: 4 3/4 in, id: 2 11/16 in, length: 19 in}\n",
            "      od: 3 1/2 in\n      id: 2.764 in\n",
        ),
    )

    for text, thing, needs in (
        (no_tool_joint, "drill pipe", "tool joint of drill pipe"),
        (BRINDLEWICK, "ball", "bore of wiper plug"),
        (
            changed(CLEAN, ("length: 9.6 ft\n      od: 8.312 in\n", "length: 9.6 ft\n")),
            "hydraulic hanger",
            "liner.assembly.7.od",
        ),
    ):
        found = way(text, thing)
        assert needs in found.needs
        assert Verdict.NOT_CHECKED in {met.verdict for met in found.meetings}


def test_without_a_running_string_its_ways_are_told_missing():
    found = passing(demos()["fallow-6.yaml"])

    assert found.running == ()
    assert {("running string",)} == {one.needs for one in found.missing}


def test_the_core_of_the_plug_is_at_least_the_dart_in_it():
    """A dart of 41 mm in a plug of unknown core: in a collar of 40 mm it stops, whatever the plug's own core."""
    wider = changed(HALDRY, ("dart: {core: 28 mm,", "dart: {core: 41 mm,"))

    assert way(HALDRY, "wiper plug").meetings[-1].verdict is Verdict.NOT_CHECKED
    assert way(wider, "wiper plug").meetings[-1].verdict is Verdict.STOPS
    assert way(wider, "wiper plug").needs == ("core and fins of wiper plug",)


def test_a_seal_that_fits_stops_where_it_seals():
    """Seals of 4.745 in in 4.75 in; of 4.4 in they do not fill the bore; of 4.8 in they do not enter it."""
    for od, verdict in (
        ("4.745 in", Verdict.STOPS),
        ("4.4 in", Verdict.RUNS_THROUGH),
        ("4.8 in", Verdict.BLOCKED),
    ):
        text = changed(CORRICK, ("seal od: 4.745 in", f"seal od: {od}"))

        assert way(text, "tie-back seal").meetings[-1].verdict is verdict


RULES = {
    "running-string-does-not-pass": lambda found: found.running,
    "ball-sticks": lambda found: [one for one in found.through if one.thing.name == "ball"],
}


@pytest.mark.parametrize("name", sorted(demos()))
@pytest.mark.parametrize("rule", sorted(RULES))
def test_rule_and_table_say_the_same(name, rule):
    evaluation = check(load_text(demos()[name]))
    ways = RULES[rule](evaluation.job.passage)
    (answer,) = [one.answer for one in evaluation.outcomes if one.rule == rule]

    if isinstance(answer, Found):
        assert any(way.blocked for way in ways)
    elif isinstance(answer, Passed):
        assert all(met.verdict in (Verdict.PASSES, Verdict.STOPS) for way in ways for met in way.meetings)
    elif isinstance(answer, NotChecked):
        assert not any(way.blocked for way in ways)
    else:
        assert isinstance(answer, DoesNotApply)
        assert not ways


SIZES = st.floats(0.01, 1.0)


def bore(number: int, passes: float | None, *, stops: bool = False) -> Bore:
    needs = f"bore {number}" if passes is None else ""
    return Bore(
        f"part {number}", "bore", f"liner.assembly.{number}", number, number + 1.0, passes, needs, stops
    )


@given(SIZES, st.lists(SIZES, min_size=1, max_size=8), st.floats(0.0, 0.01))
def test_the_first_restriction_is_the_first_that_stops_it_else_the_smallest_on_the_way(size, bores, wants):
    found = way_of(Thing("thing", size, wants_m=wants), [bore(n, one) for n, one in enumerate(bores)])
    too_small = [n for n, one in enumerate(bores) if one * (1.0 + 2e-9) < size + wants]

    first = found.restriction

    if too_small:
        assert first.verdict is Verdict.BLOCKED
        assert first.bore.top_md_m <= too_small[0]
        assert all(met.verdict is Verdict.PASSES for met in found.meetings[: int(first.bore.top_md_m)])
    elif found.blocked is None:
        assert first.bore.passes_m == min(bores)
        assert first.clear_m == found.least_clear_m == min(bores) - size
    assert found.needs == ()


@given(SIZES, st.lists(st.none() | SIZES, min_size=1, max_size=8))
def test_a_way_with_an_unknown_bore_is_never_all_passed(size, bores):
    found = way_of(Thing("thing", size), [bore(n, one) for n, one in enumerate(bores)])
    unknown = [f"bore {n}" for n, one in enumerate(bores) if one is None]

    assert list(found.needs) == unknown
    assert [met.verdict is Verdict.NOT_CHECKED for met in found.meetings] == [one is None for one in bores]


@given(SIZES, SIZES)
def test_what_may_be_larger_than_is_known_passes_nothing_but_may_be_known_to_stop(size, passes):
    unsure = Thing("thing", size, "its tool joint")

    through, seat = meet(unsure, bore(0, passes)), meet(unsure, bore(0, passes, stops=True))

    assert through.verdict in (Verdict.BLOCKED, Verdict.NOT_CHECKED)
    assert seat.verdict in (Verdict.STOPS, Verdict.NOT_CHECKED)
    assert (through.verdict is Verdict.BLOCKED) == (seat.verdict is Verdict.STOPS)
