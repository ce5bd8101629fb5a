"""From what is written to the plan: any sufficient set of depths, misfits, what is too little."""

import math
from itertools import combinations

import pytest

from schematic import resolve
from schematic.verbs import demos, load_text
from schematic.wellfile.problem import InputError
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, TEXTS, planned, without

FT = 0.3048
GIVEN = "  lap: 370 ft\n  off bottom: 10 ft\n"

# Brindlewick 4: host shoe 9 850 ft, hole 12 600 ft; each of these says the same in other words.
TOPS = {
    "lap": "  lap: 370 ft\n",
    "lap in metres": "  lap: 112.776 m\n",
    "top": "  top: 9480 ft\n",
    "top with a space": "  top: 9 480 ft\n",
}
SHOES = {
    "off bottom": "  off bottom: 10 ft\n",
    "off bottom in metres": "  off bottom: 3.048 m\n",
    "shoe": "  shoe: 12590 ft\n",
    "shoe in metres": "  shoe: 3837.432 m\n",
}
LENGTH = {"length": "  length: 3110 ft\n", "length in metres": "  length: 947.928 m\n"}


def depths_ft(plan):
    liner = plan.depth.liner
    return liner.top_md_m / FT, liner.shoe_md_m / FT


def every_pair():
    kinds = ((TOPS, SHOES), (TOPS, LENGTH), (SHOES, LENGTH))
    return [(one, other) for first, second in kinds for one in first.items() for other in second.items()]


@pytest.mark.parametrize("pair", every_pair(), ids=lambda pair: f"{pair[0][0]} and {pair[1][0]}")
def test_any_two_of_top_shoe_and_length_give_the_same_plan(pair):
    written = "".join(line for _name, line in pair)

    plan = planned(BRINDLEWICK, (GIVEN, written))

    assert depths_ft(plan) == pytest.approx((9480.0, 12590.0), abs=1e-9)
    assert plan.misfits == ()
    assert [part.bottom_md_m for part in plan.depth.liner.parts] == pytest.approx(
        [part.bottom_md_m for part in planned(BRINDLEWICK).depth.liner.parts], abs=1e-9
    )


@pytest.mark.parametrize("count", [3, 4, 5])
def test_more_than_enough_that_agrees_gives_the_same_plan_without_a_misfit(count):
    lines = [TOPS["lap"], TOPS["top"], SHOES["off bottom"], SHOES["shoe in metres"], LENGTH["length"]]

    for chosen in combinations(lines, count):
        plan = planned(BRINDLEWICK, (GIVEN, "".join(chosen)))
        assert depths_ft(plan) == pytest.approx((9480.0, 12590.0), abs=1e-9)
        assert plan.misfits == ()


TALLY = ("fill: true, each: 40.334 ft", "count: 73, length: 2944.4 ft")


@pytest.mark.parametrize("line", [*TOPS.values(), *SHOES.values()])
def test_an_assembly_with_all_lengths_takes_the_place_of_the_length(line):
    plan = planned(BRINDLEWICK, (GIVEN, line), TALLY)

    assert depths_ft(plan) == pytest.approx((9480.0, 12590.0), abs=1e-9)


# The same depths as true vertical depths, from the survey by an independent route: the well bends by
# arcs of constant curvature in a plane (azimuth nearly constant), so TVD = sum of R (sin b - sin a).
def test_a_stated_tvd_fixes_a_depth_in_a_deviated_well():
    """Sollivane A-7: tangent at 55 degrees from 1 260 m; TVD there is 600 + R sin 55, R = 30 m/2.5 deg."""
    radius = 30.0 / math.radians(2.5)
    at_1260 = 600.0 + radius * math.sin(math.radians(55.0))
    top_tvd = at_1260 + (3055.0 - 1260.0) * math.cos(math.radians(55.0))
    shoe_tvd = at_1260 + (3982.0 - 1260.0) * math.cos(math.radians(55.0))

    for written in (
        f"  top tvd: {top_tvd:.6f} m\n  shoe tvd: {shoe_tvd:.6f} m\n",
        f"  top below sea level: {top_tvd - 32:.6f} m\n  shoe below sea level: {shoe_tvd - 32:.6f} m\n",
        f"  top tvd: {top_tvd:.6f} m\n  length: 927 m\n",
        f"  lap: 125 m\n  shoe tvd: {shoe_tvd:.6f} m\n",
    ):
        plan = planned(SOLLIVANE, ("  lap: 125 m\n  off bottom: 3 m\n", written))
        liner = plan.depth.liner
        assert (liner.top_md_m, liner.shoe_md_m) == pytest.approx((3055.0, 3982.0), abs=1e-4)


def test_a_stated_tvd_beside_a_measured_depth_is_kept_for_the_check():
    plan = planned(SOLLIVANE, ("  lap: 125 m\n", "  lap: 125 m\n  top below sea level: 2160.8 m\n"))

    entered = plan.depth.entered_tvds

    assert [(one.path, one.md_m) for one in entered] == [("liner.top below sea level", 3055.0)]
    assert entered[0].entered_tvd_m == pytest.approx(2192.8)  # 2160.8 + 32: rotary over sea level
    assert entered[0].offset_m == 32.0


@pytest.mark.parametrize(
    ("written", "missing", "would_do"),
    [
        ("", "any of its depths", ["'lap'", "'top'", "'off bottom'", "'shoe'", "'length'"]),
        ("  lap: 370 ft\n", "the liner shoe", ["'off bottom'", "'shoe'", "'length'", "assembly"]),
        ("  top: 9480 ft\n", "the liner shoe", ["'off bottom'", "'shoe'", "'length'", "assembly"]),
        ("  off bottom: 10 ft\n", "the liner top", ["'lap'", "'top'", "'length'", "assembly"]),
        ("  shoe: 12590 ft\n", "the liner top", ["'lap'", "'top'", "'length'", "assembly"]),
        ("  length: 3110 ft\n", "any of its depths", ["'lap'", "'off bottom'"]),
    ],
)
def test_too_little_is_an_error_that_lists_what_would_do(written, missing, would_do):
    with pytest.raises(InputError) as caught:
        planned(BRINDLEWICK, (GIVEN, written))

    (problem,) = caught.value.problems
    assert problem.path == "liner"
    assert missing in problem.found
    assert all(word in problem.accepted for word in would_do)


@pytest.mark.parametrize(
    ("written", "path", "first", "second"),
    [
        # two ways to one depth, each sum worked by hand
        ("  lap: 370 ft\n  top: 9500 ft\n  off bottom: 10 ft\n", "liner.top", 9500.0, 9480.0),
        ("  lap: 370 ft\n  shoe: 12580 ft\n  off bottom: 10 ft\n", "liner.shoe", 12580.0, 12590.0),
        ("  lap: 370 ft\n  off bottom: 10 ft\n  length: 3100 ft\n", "liner.top", 9480.0, 9490.0),
        ("  lap: 112.776 m\n  off bottom: 10 ft\n  length: 944.88 m\n", "liner.top", 9480.0, 9490.0),
    ],
)
def test_what_is_fixed_twice_and_differs_is_a_misfit_with_both_sums(written, path, first, second):
    plan = planned(BRINDLEWICK, (GIVEN, written))

    (misfit,) = plan.misfits
    assert misfit.path == path
    assert misfit.first_md_m / FT == pytest.approx(first, abs=1e-9)
    assert misfit.second_md_m / FT == pytest.approx(second, abs=1e-9)
    assert misfit.first_how != misfit.second_how


def test_a_difference_of_exactly_a_tenth_of_a_foot_agrees():
    at_limit = planned(BRINDLEWICK, (GIVEN, "  top: 9480.1 ft\n" + GIVEN))
    beyond = planned(BRINDLEWICK, (GIVEN, "  top: 9480.11 ft\n" + GIVEN))

    assert at_limit.misfits == ()
    assert len(beyond.misfits) == 1


def derivation(plan, path):
    return next(one for one in plan.derivations if one.path == path)


def test_a_derived_depth_remembers_how_it_came_about():
    plan = planned(BRINDLEWICK)

    top, shoe, length = (derivation(plan, f"liner.{word}") for word in ("top", "shoe", "length"))

    assert top.how == "host shoe - lap"
    assert [(name, si / FT) for name, si, _kind in top.inputs] == [
        ("strings.intermediate casing.shoe", pytest.approx(9850.0)),
        ("liner.lap", pytest.approx(370.0)),
    ]
    assert shoe.how == "hole depth - off bottom"
    assert shoe.si / FT == pytest.approx(12590.0)
    assert length.si / FT == pytest.approx(3110.0)


def test_what_is_written_is_not_called_derived():
    plan = planned(BRINDLEWICK, (GIVEN, "  top: 9480 ft\n  shoe: 12590 ft\n"))

    paths = {one.path for one in plan.derivations}

    assert "liner.top" not in paths
    assert "liner.shoe" not in paths
    assert {"liner.lap", "liner.length"} <= paths


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_a_derivation_can_be_worked_again_from_its_inputs(text):
    plan = planned(text)

    for one in plan.derivations:
        values = [si for _name, si, _kind in one.inputs]
        if " - " in one.how and len(values) == 2:
            assert one.si == pytest.approx(values[0] - values[1], abs=1e-9), one.path
    assert len(plan.derivations) >= 3


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_parts_are_stacked_from_the_shoe_up_without_a_gap(text):
    liner = planned(text).depth.liner

    assert liner.parts[-1].bottom_md_m == liner.shoe_md_m
    assert liner.parts[0].top_md_m == pytest.approx(liner.top_md_m, abs=1e-9)
    for upper, lower in zip(liner.parts, liner.parts[1:], strict=False):
        assert upper.bottom_md_m == lower.top_md_m


def test_a_tally_too_long_shows_itself_above_the_liner_top():
    plan = planned(BRINDLEWICK, ("fill: true, each: 40.334 ft", "count: 74, length: 2984.7 ft"))

    liner = plan.depth.liner

    assert liner.closes_by == ""
    assert (liner.top_md_m - liner.parts[0].top_md_m) / FT == pytest.approx(40.3, abs=1e-9)


def test_an_assembly_that_is_left_out_is_assumed_and_says_so():
    whole = without(BRINDLEWICK, "options")  # options speak of parts
    text = whole[: whole.index("  assembly:  ")] + whole[whole.index("running string") :]

    plan = planned(text)

    assert plan.depth.liner.assembly_assumed
    assert any("assembly" in line and "assumed" in line for line in plan.assumptions)
    for part in plan.depth.liner.parts:
        assert part.slips_md_m is None
        assert part.ball_m is None
        if part.kind != "joint":
            assert (part.od_m, part.id_m) == (None, None)  # lengths may be assumed, diameters never


@pytest.mark.parametrize(
    ("changes", "stick_up_ft", "length_ft"),
    [
        ((), 6.0, 9076.0),
        ((("  stick up: 6 ft\n", ""),), 6.0, 9076.0),
        ((("      length: 9076 ft\n", ""),), 6.0, 9076.0),
        ((("      length: 9076 ft\n", ""), ("stick up: 6 ft", "stick up: 16 ft")), 16.0, 9086.0),
    ],
)
def test_stick_up_or_one_length_of_the_running_string_may_be_left_out(changes, stick_up_ft, length_ft):
    running = planned(BRINDLEWICK, *changes).depth.running

    assert running.stick_up_m / FT == pytest.approx(stick_up_ft, abs=1e-9)
    assert running.parts[0].length_m / FT == pytest.approx(length_ft, abs=1e-9)
    assert running.parts[0].top_md_m / FT == pytest.approx(-stick_up_ft, abs=1e-9)


def test_a_string_too_short_to_reach_is_not_closed_by_a_stick_up_of_nought():
    plan = planned(BRINDLEWICK, ("  stick up: 6 ft\n", ""), ("length: 9076 ft", "length: 9000 ft"))

    assert plan.depth.running.closes_by == ""
    assert plan.depth.running.stick_up_m == 0.0


def test_the_plug_hangs_below_the_inner_string():
    assert planned(BRINDLEWICK).depth.running.plug_md_m / FT == pytest.approx(9500.0)  # 9 480 + 20
    assert planned(SOLLIVANE).depth.running.plug_md_m == pytest.approx(3061.0)  # 3 055 + 6


@pytest.mark.parametrize(
    ("change", "path", "phrase"),
    [
        (("id: 6.160 in", "id: 9.160 in"), "liner.assembly.hydraulic hanger", "bore smaller than the od"),
        (("bore: 7.375 in", "bore: 9.375 in"), "liner.assembly.tie back receptacle", "bore smaller"),
        (("id: 2 3/4 in, length", "id: 7 3/4 in, length"), "running string.assembly.drill pipe.tool joint.id", "od"),
        (("planned top: 9280 ft", "planned top: 12600 ft"), "cement.planned top", "between"),
        (("planned top: 9280 ft", "above liner top: 9481 ft"), "cement.above liner top", "between"),
        (("name: surface casing", "name: hole"), "strings.hole.name", "name of its own"),
        (("name: surface casing", "name: Running-String"), "strings.Running String.name", "name of its own"),
        (("name: surface casing", "name: liner"), "strings.liner.name", "name of its own"),
        (("name: surface casing", "name: intermediate_casing"), "strings[2].name", "name of its own"),
        (("  - {bit: 17 1/2 in, to: 4120 ft}\n", "  - {bit: 17 1/2 in, from: 9900 ft, to: 9950 ft}\n"), "hole[1].to", "below"),
        (("{part: wiper plug}", "{part: pup joint, length: 5 ft}"), "running string.assembly", "from the bottom up"),
        (("fill: true, each: 40.334 ft", "fill: true, each: 40.334 ft}\n    - {part: joint, fill: true"), "liner.assembly", "one line that fills"),
        (("{part: float collar, length: 1.6 ft, od: 7.656 in}", "{part: float collar, od: 7.656 in}"), "liner.assembly.float collar", "'length'"),
        (("lap: 370 ft", "lap: 9900 ft"), "liner", "below the datum"),
        (("lap: 370 ft", "lap: 1 ft\n  shoe: 9849 ft"), "liner", "above the shoe"),
        (("length: 12.0 ft", "length: 3200 ft"), "liner", "room for the filled line"),
        (("tvd: 9850 ft, pore", "tvd: -9850 ft, pore"), "formation.pressures[0].tvd", "nought or more"),
        (("- {fluid: cement}", "- {fluid: cement, below: 9000 ft}"), "cement.slurries[0]", "from the top down"),
        (("at: intermediate casing, emw", "at: conducter, emw"), "formation.leak off[0].at", "name of a string"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_at_its_place(change, path, phrase):
    with pytest.raises(InputError) as caught:
        planned(BRINDLEWICK, change)

    problem = caught.value.problems[0]
    assert problem.path == path
    assert problem.line > 0
    assert phrase in f"{problem.accepted} {problem.mend}"


def test_hole_below_the_hosts_shoe_alone_is_refused():
    start, end = BRINDLEWICK.index("  - {bit: 17 1/2"), BRINDLEWICK.index("    to: 12600 ft")
    text = BRINDLEWICK[:start] + "  - bit: 8 1/2 in\n    from: 9851 ft\n" + BRINDLEWICK[end:]

    with pytest.raises(InputError) as caught:
        planned(text)

    assert "begins below the host's shoe" in caught.value.problems[0].found


def test_a_caliper_in_metres_covers_a_hole_in_feet():
    for feet in (12600, 12601.1, 12603.3, 12607.7, 12613.9):
        plan = planned(
            BRINDLEWICK,
            ("      - {to: 12600 ft, diameter", f"      - {{to: {feet * FT:.6f} m, diameter"),
            ("    to: 12600 ft\n", f"    to: {feet} ft\n"),
        )
        assert plan.depth.hole.gaps_md_m == ()


@pytest.mark.parametrize(
    ("washout", "low", "likely", "high"),
    [
        ("{diameter: 4 %}", 1.04, 1.04, 1.04),
        ("{volume: 21 %}", 1.1, 1.1, 1.1),  # 1.1 squared is 1.21
        ("{diameter: {low: 1 %, likely: 3 %, high: 6 %}}", 1.01, 1.03, 1.06),
        ("{volume: {low: 0 %, likely: 21 %, high: 44 %}}", 1.0, 1.1, 1.2),
    ],
)
def test_a_washout_widens_the_bit_on_diameter_or_volume(washout, low, likely, high):
    start, end = BRINDLEWICK.index("    caliper:\n"), BRINDLEWICK.index("\nstrings:")
    plan = planned(f"{BRINDLEWICK[:start]}    washout: {washout}\n{BRINDLEWICK[end:]}")
    hole, bit, md = plan.depth.hole, 8.5 * 0.0254, 12000 * FT

    found = [column.at(md) / bit for column in (hole.least_m, hole.diameter_m, hole.greatest_m, hole.gauge_m)]

    assert found == pytest.approx([low, likely, high, 1.0], rel=1e-12)


@pytest.mark.parametrize("key", ["survey", "running string", "fluids", "formation", "installation", "limits"])
def test_an_optional_section_may_be_left_out(key):
    text = without(without(BRINDLEWICK, "options"), key)  # options speak of other sections
    if key == "fluids":
        text = without(text, "cement")

    assert depths_ft(planned(text)) == pytest.approx((9480.0, 12590.0))


def test_depths_run_from_another_rigs_datum_are_brought_to_this_one():
    """The rig of the drilling liner stood 3 ft higher (25 ft against 22 ft above ground): its 11 520 ft are 11 517 ft
    here, and the lap of 350 ft counts from there.
    """
    plan = resolve(load_text(demos()["corrick-5.yaml"]))

    host = plan.depth.string("drilling liner")
    assert host.shoe_md_m / 0.3048 == pytest.approx(11517.0, abs=1e-9)
    assert host.top_md_m / 0.3048 == pytest.approx(7647.0, abs=1e-9)
    assert plan.depth.liner.top_md_m / 0.3048 == pytest.approx(11517.0 - 350.0, abs=1e-9)
    assert any(one.path == "strings.drilling liner.shoe below this datum" for one in plan.derivations)


def test_another_datum_needs_the_height_of_this_one():
    text = demos()["corrick-5.yaml"].replace(", height: 22 ft}", "}")

    with pytest.raises(InputError, match="add 'height"):
        resolve(load_text(text))
