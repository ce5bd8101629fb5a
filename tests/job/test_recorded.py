"""The record beside the plan: bands from the file's own figures, and what the plan says nothing of."""

from __future__ import annotations

import re

import pytest

import schematic.job.recorded as recorded_module
from app.answers import typed
from app.hand_over import in_short
from app.run import line_of
from schematic import verbs
from schematic.depth.plan import Measured
from schematic.export.recorded import recorded_table, verdict
from schematic.job.recorded import as_written, beside_plan, box_unit, recorded
from schematic.job.step_texts import step_texts
from schematic.units import UnitError, half_digit
from schematic.wellfile import edit

DEMOS = verbs.demos()
BRINDLEWICK, SOLLIVANE = "brindlewick-4.yaml", "sollivane-a7.yaml"
PSI, KLBF, BBL, PPG = 6894.757293168, 4448.2216152605, 0.158987294928, 119.826427


def last(well: str, *changes: tuple[str, str], **line: str):
    """What is said of one more line of the record, of a well with passages changed."""
    text = DEMOS[well]
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    evaluation = verbs.check(verbs.load_text(edit.insert(text, "record", line)))
    return recorded(evaluation.job)[-1]


@pytest.mark.parametrize(
    ("value", "inside"), [("1425 psi", True), ("1575 psi", True), ("1424 psi", False), ("1576 psi", False)]
)
def test_pins_are_compared_with_the_band_of_the_file(value, inside):
    """The file says 1500 psi +/- 5 %: 1425 to 1575 psi by hand."""
    one = last(BRINDLEWICK, step="Set the hanger", what="pins at", value=value)

    assert one.planned.si / PSI == pytest.approx(1500, abs=1e-6)
    assert (one.least.si / PSI, one.most.si / PSI) == pytest.approx((1425, 1575), abs=1e-6)
    assert one.inside is inside
    assert verdict(one, "field") == ("inside" if inside else "outside")


@pytest.mark.parametrize(("value", "above"), [("1860 psi", False), ("1861 psi", True)])
def test_a_reading_above_what_must_never_be_exceeded_says_so(value, above):
    """The tool lets go from 2400 psi less 10 %, 2160 psi; 300 psi short of it is 1860."""
    one = last(BRINDLEWICK, step="Set the hanger", what="held at", value=value)

    assert (one.limit is not None) is above
    assert verdict(one, "field") == (
        "above what must never be exceeded, 1860 psi" if above else "the plan has no band"
    )


@pytest.mark.parametrize(("value", "above"), [("685.8 klbf", False), ("686 klbf", True)])
def test_a_pull_above_its_limit_says_so(value, above):
    """5 in 19.5 lb/ft S-135 yields at 712.1 klbf (`test_hook_loads`): 90 % of it and the block's 45 klbf, 685.9."""
    one = last(BRINDLEWICK, step="Run to depth", what="pick up", at="12590 ft", value=value)

    assert (one.limit is not None) is above


_BLOCK = "  block weight: 45 klbf\n"
LIMITS = (_BLOCK, f"{_BLOCK}  slack off limit: 60 klbf\n  hook load limit: 300 klbf\n")


@pytest.mark.parametrize(
    ("step", "what", "value", "above"),
    [
        # an amount that is slacked off, 60 klbf; the hook load is that of the string, block included
        ("Set weight on the tool", "hook load", "176.6 klbf", False),
        ("Set weight on the tool", "set down", "60 klbf", False),
        ("Set weight on the tool", "set down", "61 klbf", True),
        ("Set the liner top packer", "slacked off", "61 klbf", True),
        # what the indicator may show, 300 klbf; the liner is weighed without the block
        ("Run the liner", "hook load", "301 klbf", True),
        ("Pick up hanger and tool", "pick up", "301 klbf", True),
        ("Pick up hanger and tool", "liner weight", "301 klbf", False),
        # the annulus bears no more than the leak off, 1639 psi in mud: a fall of the gauge is no pressure
        ("Try the packer from above", "pressure", "1700 psi", True),
        ("Try the packer from above", "drop", "1700 psi", False),
        ("Test the lap from above", "drop", "2619 psi", False),
        ("Inflow test of the liner top", "differential", "9000 psi", True),
        ("Inflow test of the liner top", "built", "9000 psi", False),
        # the slick joint's travel, 7 ft
        ("Prove the release", "picked up", "7.2 ft", True),
    ],
)
def test_what_must_never_be_exceeded_is_held_against_what_it_is_about(step, what, value, above):
    one = last(BRINDLEWICK, LIMITS, step=step, what=what, value=value)

    assert (one.limit is not None) is above


def test_no_slack_off_limit_is_held_against_the_hook_load_of_a_liner_without_a_hanger():
    text = edit.remove(DEMOS[BRINDLEWICK], "liner.assembly.liner hanger").replace(*LIMITS)
    line = {"step": "Set the liner on bottom", "what": "hook load", "value": "176.6 klbf"}
    (one,) = recorded(verbs.check(verbs.load_text(edit.insert(text, "record", line))).job)[-1:]

    assert one.read.si / KLBF == pytest.approx(176.6)
    assert one.limit is None


PLUG = ("    - {part: wiper plug}\n", "")


@pytest.mark.parametrize(
    ("changes", "step", "what", "value", "holds"),
    [
        # 72.8 klbf off 9 070 ft of 5.275 in2 and 380 ft of 12.57 in2, E 30 million psi: 4.25 ft, printed 4.3
        ((), "Set the hanger", "travel", "4.3 ft", True),
        ((), "Set the hanger", "travel", "4.4 ft", False),
        # a tenth of 2619 psi is 261.9, printed 262
        ((), "Test the lap from above", "drop", "262 psi", True),
        ((), "Test the lap from above", "drop", "263 psi", False),
        # 269.83 bbl and half the shoe track, 2.33, are 272.17, printed 272.2; 0.1010 bbl a stroke, 2694.7: 2695
        ((PLUG,), "Displace by volume", "tanks", "272.2 bbl", True),
        ((PLUG,), "Displace by volume", "tanks", "272.3 bbl", False),
        ((PLUG,), "Displace by volume", "strokes", "2695", True),
        ((PLUG,), "Displace by volume", "strokes", "2696", False),
        # 2160 less 300 psi
        ((), "Set the hanger", "held at", "1860 psi", True),
        ((), "Set the hanger", "held at", "1861 psi", False),
    ],
)
def test_a_reading_that_equals_the_printed_figure_is_not_beyond_it(changes, step, what, value, holds):
    one = last(BRINDLEWICK, *changes, step=step, what=what, value=value)

    assert (one.limit is None and one.inside is not False) is holds


def test_half_a_digit_is_that_of_the_figure_as_it_is_printed():
    """Barrels have one decimal, under 10 bbl two; cubic metres have two."""
    assert half_digit("volume", "field", 42.0) / BBL == pytest.approx(0.05)
    assert half_digit("volume", "field", 0.5) / BBL == pytest.approx(0.005)  # 3.1 bbl
    assert half_digit("volume", "metric", 0.5) == pytest.approx(0.005)


@pytest.mark.parametrize(
    ("value", "planned", "fluid", "far"),
    [("13.4", 13.6, "spacer", False), ("15.9", 15.8, "cement", False), ("158", 15.8, "cement", True)],
)
def test_a_density_is_that_of_the_fluid_before_the_dart_that_is_nearest(value, planned, fluid, far):
    """The file pumps a spacer of 13.6 ppg and cement of 15.8; mud of 12.6 goes behind the dart."""
    one = last(BRINDLEWICK, step="Pump spacer and cement", what="density", value=f"{value} ppg")

    assert one.planned.si / PPG == pytest.approx(planned, abs=1e-3)
    assert one.over.si / PPG == pytest.approx(float(value) - planned, abs=1e-3)
    assert f"planned is that of {fluid}" in verdict(one, "field")
    assert one.far is far


@pytest.mark.parametrize(("value", "planned"), [(30, 30.0), (130, 130.2), (160, 160.2)])
def test_of_several_figures_of_a_card_the_difference_is_to_the_nearest(value, planned):
    """30 bbl of spacer by the file, 130.2 of cement (TRADE 5.1), 160.2 in all."""
    one = last(BRINDLEWICK, step="Pump spacer and cement", what="volume", value=f"{value} bbl")
    row = recorded_table((one,), "field").rows[0]

    assert one.planned.si / BBL == pytest.approx(planned, abs=0.1)
    assert one.over.si / BBL == pytest.approx(value - planned, abs=0.1)
    assert row[4] == f"{planned:.1f} bbl"
    assert "the nearest of 160.2 bbl in all, spacer 30.0 bbl, cement 130.2 bbl" in row[8]


@pytest.mark.parametrize(
    ("value", "inside", "far", "said"),
    [
        ("800 psi", False, True, "below the least"),
        ("890 psi", True, False, "not below the least"),
        ("2000 psi", True, False, "not below the least"),
        ("2900 psi", True, True, "above what must never be exceeded"),
    ],
)
def test_a_plug_may_go_above_its_band_at_rest_but_not_below(value, inside, far, said):
    """1260 psi at the plug less 373 of columns are 887; friction comes on top. Never above 2800: 4158 psi lift
    the tool, and 1361 of them are the cement that is the heavier inside.
    """
    one = last(BRINDLEWICK, step="Dart meets the plug", what="pressure", value=value)

    assert one.least.si / PSI == pytest.approx(887, abs=3)
    assert (one.most, one.inside, one.far) == (None, inside, far)
    assert verdict(one, "field").startswith(said)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        # 1260 less 373 psi; 4158 less 1361
        ("500 psi", r"Pressure 500 psi, at least 88\d psi: keep it all the same\?"),
        ("2900 psi", r"Pressure 2900 psi, never above 2800 psi: keep it all the same\?"),
    ],
)
def test_a_slip_at_the_plug_is_asked_by_what_it_passes(value, said):
    one = last(BRINDLEWICK, step="Dart meets the plug", what="pressure", value=value)
    (slip,) = typed({}, {"pressure": one}, "field")

    assert re.fullmatch(said, slip["head"].translate({0xA0: " ", 0x202F: None}))


def test_what_is_below_the_least_is_told_in_short_without_an_end_above():
    one = last(BRINDLEWICK, step="Dart meets the plug", what="pressure", value="500 psi")
    slip = in_short((one,), recorded_table((one,), "field"))

    (line,) = slip["lines"]
    assert re.fullmatch(r"Dart meets the plug, pressure: read 500 psi, at least 88\d psi\.", line)


@pytest.mark.parametrize(
    ("step", "what", "least", "most"),
    [
        ("Release the running tool", "tool let go at", 2160, 2640),
        ("Open the ball seat", "opened at", 3060, 3740),
    ],
)
def test_tool_and_seat_have_their_bands(step, what, least, most):
    """2400 and 3400 psi, each +/- 10 %."""
    one = last(BRINDLEWICK, step=step, what=what, value="2500 psi")

    assert (one.least.si / PSI, one.most.si / PSI) == pytest.approx((least, most), abs=1e-6)
    assert one.inside is (least <= 2500 <= most)


def test_what_was_pumped_is_compared_with_the_plan_and_not_with_itself():
    """An event that was seen moves the events behind it, but never the plan that it is compared with."""
    one = last(BRINDLEWICK, step="bump", what="volume pumped", value="275 bbl")
    planned = next(
        event for event in verbs.check(verbs.load_text(DEMOS[BRINDLEWICK])).job.events if event.name == "bump"
    )

    assert one.planned.si == pytest.approx(planned.m3, rel=1e-12)
    assert one.over.si == pytest.approx(275 * 0.158987294928 - planned.m3, rel=1e-12)
    assert one.inside is False


def test_joints_run_are_those_of_the_assembly():
    """The file's record says 76, its assembly 73, 1 and 2 joints."""
    (one,) = recorded(verbs.check(verbs.load_text(DEMOS[BRINDLEWICK])).job)

    assert (one.read.si, one.planned.si, one.inside) == (76, 76, True)
    assert last(BRINDLEWICK, step="x", what="joints run", value="75").inside is False
    assert last(BRINDLEWICK, step="x", what="joints run", value="many").read is None


def test_a_hook_load_without_friction_is_not_compared():
    one = last(BRINDLEWICK, step="Run to depth", what="hook load picking up", at="12590 ft", value="310 klbf")

    assert (one.planned, one.inside) == (None, None)
    assert verdict(one, "field") == "not compared: needs installation.friction"


def test_a_hook_load_has_the_plan_beside_it_and_no_band():
    """The trade reference reads 1 472 kN picking up on depth, its 350 kN of block included."""
    one = last(SOLLIVANE, step="x", what="hook load picking up", at="3982 m", value="1500 kN")

    assert one.planned.si == pytest.approx(1472e3, rel=0.01)
    assert verdict(one, "field") == "the plan has no band"
    assert one.over.si == pytest.approx(1500e3 - one.planned.si)


def test_what_the_plan_does_not_know_is_said_and_stays_as_it_was_written():
    evaluation = verbs.check(
        verbs.load_text(
            edit.insert(DEMOS[BRINDLEWICK], "record", {"step": "x", "what": "colour", "value": "<b>grey</b>"})
        )
    )
    row = recorded_table(recorded(evaluation.job), "field").rows[-1]

    assert row[3] == "<b>grey</b>"
    assert row[8] == "the plan says nothing of it"
    assert set(row[4:8]) == {""}


@pytest.mark.parametrize(
    ("step", "what", "value", "planned"),
    [
        # as on the cards of the plan: the liner weighs 72.8 klbf in mud
        ("Pick up hanger and tool", "liner weight", "72 klbf", 72.8 * 4448.2216),
        ("Run to depth", "shoe depth", "3837.4 m", 12590 * 0.3048),
        ("Run to depth", "stick-up", "12 ft", 6.0 * 0.3048),
        ("Set the hanger", "held at", "11.7 MPa", 1700 * 6894.757293),
        ("Set weight on the tool", "set down", "50 klbf", 50 * 4448.2216),
        ("Bump the plug", "pressure", "120 bar", 1750 * 6894.757293),
    ],
)
def test_what_a_card_tells_stands_beside_the_reading(step, what, value, planned):
    one = last(BRINDLEWICK, step=step, what=what, value=value)

    assert one.planned.si == pytest.approx(planned, rel=0.001)
    assert one.over is not None
    assert one.inside is None  # no band is known


def test_a_figure_that_does_not_read_is_not_compared():
    one = last(BRINDLEWICK, step="Set the hanger", what="pins at", value="soon after 1500")

    assert one.inside is None
    assert verdict(one, "field") == "not compared: no figure was read"


@pytest.mark.parametrize(
    ("box", "typed", "system", "written"),
    [
        ("spike at", "155.2", "field", "155.2 bbl"),
        ("spike at", " 24.7 ", "metric", "24.7 m3"),
        ("spike at", "24.7 m3", "field", "24.7 m3"),
        ("pins at", "1500 +/- 50 psi", "field", None),
        ("pins at", "103", "metric", "103 bar"),
        ("hook load", "230", "field", "230 klbf"),
        ("rate", "6", "field", "6 bbl/min"),
        ("rate", "6 psi", "field", None),
        ("ball, in", "1 3/4", "metric", "1 3/4 in"),
        ("strokes", "1 540", "field", "1540"),
        ("strokes", "many", "field", None),
        ("bled back", "0", "field", "0 bbl"),
        ("volume pumped", "0", "field", None),
        ("gain", "-2", "field", None),
        ("returns", "full, then less", "field", "full, then less"),
    ],
)
def test_what_is_typed_into_a_box_gets_its_unit_or_is_refused(box, typed, system, written):
    if written is None:
        with pytest.raises(UnitError):
            as_written(box, typed, system)
    else:
        assert as_written(box, typed, system) == written


def test_every_box_of_a_figure_stands_on_a_card():
    boxes = {box for step in step_texts() for box in step.as_read}

    assert set(recorded_module._KIND_OF) - boxes == {"volume pumped"}
    assert box_unit("returns", "field") == ""


@pytest.mark.parametrize(
    ("value", "far"), [("79 bbl", True), ("81 bbl", False), ("238 bbl", False), ("242 bbl", True)]
)
def test_far_is_under_half_and_over_one_and_a_half_of_the_plan(value, far):
    one = last(BRINDLEWICK, step="dart meets plug", what="volume pumped", value=value)

    assert one.planned.si / 0.158987294928 == pytest.approx(160, abs=1.0)
    assert one.far is far


@pytest.mark.parametrize(
    ("well", "system", "line", "told", "over"),
    [
        # 27.5 m3 / 0.158987 = 173.0 bbl; 173.0 - 159.7 = 13.3
        (
            BRINDLEWICK, "field", ("dart meets plug", "volume pumped", None, "27.5 m3"), "27.5 m3 (173.0 bbl)",
            "13.3 bbl",
        ),
        # 103.4 bar / 0.0689476 = 1499.7 psi
        (BRINDLEWICK, "field", ("Set the hanger", "pins at", None, "103.4 bar"), "103.4 bar (1500 psi)", "0 psi"),
        # 5 m3 / 0.158987 = 31.4 bbl, of which the plan says nothing
        (BRINDLEWICK, "field", ("Circulate on depth", "lost", None, "5 m3"), "5 m3 (31.4 bbl)", ""),
        # 1000 psi are 68.9 bar
        (SOLLIVANE, "metric", ("x", "pressure", None, "1000 psi"), "1000 psi (68.9 bar)", ""),
        (BRINDLEWICK, "field", ("x", "gain", None, "5 BBL"), "5 BBL", ""),
        (BRINDLEWICK, "field", ("x", "ball, in", None, "1 3/4 in"), "1 3/4 in", ""),
        (BRINDLEWICK, "field", ("x", "returns", None, "27.5 m3"), "27.5 m3", ""),
    ],
)  # fmt: skip
def test_a_reading_in_another_unit_is_told_in_both(well, system, line, told, over):
    step, what, at, value = line
    one = last(well, step=step, what=what, value=value, **({"at": at} if at else {}))
    row = recorded_table((one,), system).rows[0]

    assert (row[3], row[7].lstrip("-\u2212").strip()) == (told, over)


def after_dart(dart: str, **line: str):
    """What is said of a line behind one of the dart."""
    seen = {"step": "dart meets plug", "what": "volume pumped", "value": dart}
    text = edit.insert(edit.insert(DEMOS[BRINDLEWICK], "record", line), "record", seen)
    return next(
        one for one in recorded(verbs.check(verbs.load_text(text)).job) if one.line.step == line["step"]
    )


@pytest.mark.parametrize(
    ("bump", "verdict_"), [("275.5 bbl", "inside"), ("275.2 bbl", "outside"), ("270.0 bbl", "outside")]
)
def test_a_bump_is_compared_with_the_count_that_the_dart_led_to(bump, verdict_):
    """Dart seen at 163.0 where 159.71 were planned: 269.83 times 163.0 / 159.71 is 275.39, and 0.61 more are
    compressed. The plan stays at 269.8.
    """
    one = after_dart("163 bbl", step="bump", what="volume pumped", value=bump)
    barrel = 0.158987294928

    assert verdict(one, "field") == verdict_
    assert one.planned.si / barrel == pytest.approx(269.83, abs=0.01)
    assert one.least.si / barrel == pytest.approx(275.39, abs=0.02)
    assert one.most.si / barrel == pytest.approx(276.0, abs=0.02)
    assert one.over.si == pytest.approx(one.read.si - one.planned.si)


def test_a_dart_is_not_compared_with_what_the_bump_showed_after_it():
    """161.3 is what the bump at 272.5 would make of the dart; the plan alone says 159.7 to 160.1."""
    bump = {"step": "bump", "what": "volume pumped", "value": "272.5 bbl"}
    dart = {"step": "dart meets plug", "what": "volume pumped", "value": "160 bbl"}
    text = edit.insert(edit.insert(DEMOS[BRINDLEWICK], "record", dart), "record", bump)
    one = next(
        one for one in recorded(verbs.check(verbs.load_text(text)).job) if one.line.step == "dart meets plug"
    )

    assert verdict(one, "field") == "inside"
    assert one.least.si / 0.158987294928 == pytest.approx(159.71, abs=0.01)


def test_whether_it_is_a_slip_of_the_pen_is_asked_by_what_the_events_before_led_to():
    """Dart at 180 where 159.71 were planned: bump at 304.1, and 1.5 of it 456.2; of the plan it were 404.7."""
    for bump, far in (("410 bbl", False), ("450 bbl", False), ("460 bbl", True), ("150 bbl", True)):
        assert after_dart("180 bbl", step="bump", what="volume pumped", value=bump).far is far
    assert last(BRINDLEWICK, step="bump", what="volume pumped", value="410 bbl").far is True


@pytest.mark.parametrize(
    ("bump", "beyond"), [("277.7 bbl", False), ("277.8 bbl", False), ("277.9 bbl", True), ("280 bbl", True)]
)
def test_a_bump_later_than_where_to_stop_is_told_as_beyond_that(bump, beyond):
    """The dart at 163.0 where 159.71 were planned: the stop, 272.17, is at 272.17 x 163.0 / 159.71 = 277.8."""
    one = after_dart("163 bbl", step="bump", what="volume pumped", value=bump)

    assert (one.limit is not None) is beyond
    assert verdict(one, "field") == (
        "beyond the maximum over-displacement, 277.8 bbl" if beyond else "outside"
    )


STROKE_BBL = 0.1010


@pytest.mark.parametrize(
    ("well", "step", "what", "value", "planned", "far"),
    [
        # what the file says, or by hand from it
        (BRINDLEWICK, "Check the parts", "ball, in", "1 3/4 in", 1.75 * 0.0254, False),
        (BRINDLEWICK, "Release the running tool", "bled to", "0 psi", 0.0, False),
        (BRINDLEWICK, "Set the liner top packer", "slacked off", "45 klbf", 45 * KLBF, False),
        (BRINDLEWICK, "Set the liner top packer", "slacked off", "4.5 klbf", 45 * KLBF, True),
        # 159.71 bbl at 0.1010 bbl a stroke
        (BRINDLEWICK, "Dart meets the plug", "strokes", "1600", 159.71 / STROKE_BBL, False),
        (BRINDLEWICK, "Dart meets the plug", "strokes", "160", 159.71 / STROKE_BBL, True),
        ("corrick-5.yaml", "Pump spacer and cement", "density", "16.2 ppg", 16.2 * 119.8264, False),
        ("corrick-5.yaml", "Pump spacer and cement", "density", "162 ppg", 16.2 * 119.8264, True),
        ("corrick-5.yaml", "Set the liner top packer", "slacked off", "45 klbf", 30 * KLBF, False),
        ("corrick-5.yaml", "Set the liner top packer", "slacked off", "46 klbf", 30 * KLBF, True),
    ],
)
def test_a_figure_of_the_card_stands_beside_its_reading(well, step, what, value, planned, far):
    one = last(well, step=step, what=what, value=value)

    assert one.planned.si == pytest.approx(planned, rel=0.001)
    assert one.far is far
    assert verdict(one, "field").startswith("the plan has no band")


def test_a_trip_tank_gains_by_where_the_fill_comes_from():
    """4 1/2 in closed at its end: 2170 ft at 0.01967 bbl/ft are 42.7 bbl, some more for its collars; the steel
    alone, 13.5 lb/ft over 489.5 lb/ft3, is 0.00491 bbl/ft or 10.7 bbl. Neither is a slip of the pen.
    """
    for value, planned, far in ((40, 43, False), (11, 10.5, False), (4, 10.5, True), (80, 43, True)):
        one = last("corrick-5.yaml", step="Run the liner", what="gain", value=f"{value} bbl")
        assert one.planned.si / BBL == pytest.approx(planned, abs=1)
        assert one.over.si / BBL == pytest.approx(value - planned, abs=1)
        assert one.far is far
        assert "10.5 bbl where the fill comes from the tank" in verdict(one, "field")


def test_what_a_card_wants_no_more_of_is_inside_up_to_there():
    """The slick joint travels 7 ft; the lap's test may fall by the limit's share of its pressure."""
    for value, inside in (("6.9 ft", True), ("7.1 ft", False)):
        one = last(BRINDLEWICK, step="Prove the release", what="picked up", value=value)
        assert (one.planned, one.inside) == (None, inside)
    drop = last(BRINDLEWICK, step="Test the lap from above", what="drop", value="0 psi")
    assert verdict(drop, "field") == "inside"
    assert drop.far is False


NO_CARD_FIGURE = {  # of friction of flow, of what the file does not plan, or words of the program
    ("condition-the-hole", box) for box in ("pick up", "slack off", "rotating")
} | {
    *(("make-up-the-shoe-track", "torque"), ("run-in-on-pipe", "lost"), ("circulate-at-the-host-shoe", "rate")),
    *(("circulate-at-the-host-shoe", "pressure"), ("circulate-on-depth", "rate"), ("circulate-on-depth", "pressure")),
    *(("circulate-on-depth", "lost"), ("ball-on-seat", "pressure"), ("shear-the-seat", "circulates at")),
    *(("circulate-hung", "rate"), ("circulate-hung", "pressure"), ("displace-the-liner", "pressure at slow-down")),
    *(("displace-the-liner", "lost"), ("bump-the-plug", "bled back"), ("test-the-packer", "pressure")),
    *(("test-the-packer", "held for"), ("wait-on-cement", "tagged at"), ("wait-on-cement", "waited")),
    *(("release-the-tool-by-turning", "turns"), ("release-the-tool-by-turning", "torque")),
    *(("release-the-tool-by-turning", "weight at tool"), ("set-the-hanger-by-turning", "turns")),
    *(("set-the-hanger-by-turning", "torque"), ("set-the-hanger-as-its-maker-says", "travel")),
    *(("set-on-bottom", "travel"), ("displace-by-volume", "pressure"), ("stages-not-covered", "pressure")),
    ("stages-not-covered", "volume"),
}  # fmt: skip


def test_of_no_box_with_a_figure_on_its_card_is_it_said_that_the_plan_says_nothing():
    """Every box of every card of the wells but those that are listed."""
    silent = set()
    for text in DEMOS.values():
        evaluation = verbs.check(verbs.load_text(text))
        for card in verbs.steps(evaluation):
            for box in card.as_read:
                if box not in recorded_module._KIND_OF:
                    continue  # words are written there
                line = line_of(evaluation, card, box, "1")
                at = 1000.0 if "at" in line else None
                its = Measured(line["step"], line["what"], at, line["value"], "", "", "")
                if verdict(beside_plan(evaluation.job, its), "field") == "the plan says nothing of it":
                    silent.add((card.code, box))

    assert silent - NO_CARD_FIGURE == {("run-the-liner", "joints left"), ("check-the-parts", "seat"),
                                       ("check-the-parts", "ball, in")}  # fmt: skip
    # of wells that have no ball, or whose file says nothing of the rack


def test_a_dart_that_was_not_read_leaves_the_bump_beside_the_plan():
    one = after_dart("about 160", step="bump", what="volume pumped", value="270 bbl")

    assert verdict(one, "field") == "inside"


def test_a_volume_outside_its_band_by_more_than_the_rounding_of_the_card_is_outside():
    """Half the last printed digit, 0.05 bbl or 0.005 m3, is all that a reading gains on its band."""
    for file, unit, half in (("brindlewick-4.yaml", 0.158987294928, 0.05), ("sollivane-a7.yaml", 1.0, 0.005)):
        plan = verbs.load_text(verbs.demos()[file])
        end = next(one for one in verbs.check(plan).job.events if one.name == "bump")
        for more, inside in ((0.8 * half, True), (1.2 * half, False)):
            value = f"{end.most_m3 / unit + more:.5f} {'bbl' if unit < 1.0 else 'm3'}"
            line = {"step": "bump", "what": "volume pumped", "value": value}
            its = verbs.check(verbs.load_text(edit.insert(verbs.demos()[file], "record", line)))
            assert recorded(its.job)[-1].inside is inside
