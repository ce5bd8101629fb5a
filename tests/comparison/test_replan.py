"""The liner elsewhere: shoe and top move together, all else follows, and only what must is written anew."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schematic.comparison.replan import file_name, place_of, replan
from schematic.export.recorded import verdict
from schematic.job.measured_loads import readings
from schematic.job.recorded import recorded
from schematic.units import FOOT_M, UnitError, parse
from schematic.verbs import check, demos, diff, load, load_text
from schematic.wellfile import edit
from schematic.wellfile.path import find
from schematic.wellfile.problem import InputError
from schematic.wellfile.tree import parse as tree
from tests.comparison.replanning import LEFT, WORDS, lines, moved, plan_of, without_issue
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, edited

MAY_CHANGE = (
    "  lap: ", "  off bottom: ", "  top: ", "  shoe: ", "liner: {", "      length: ", "  planned top: ",
)  # fmt: skip


@settings(max_examples=40)
@given(st.sampled_from(sorted(demos())), st.floats(-60.0, 1.99), st.sampled_from(["m", "ft"]), st.booleans())
def test_the_liner_keeps_its_length_and_there_and_back_is_the_same_plan(file, down, unit, by_top):
    text = demos()[file]
    there = plan_of(text)
    before = there.depth
    place, was = ("top", before.liner.top_md_m) if by_top else ("shoe", before.liner.shoe_md_m)
    scale = FOOT_M if unit == "ft" else 1.0
    wanted = round((was + down) / scale, 2)
    made = moved(text, place, f"{wanted} {unit}")
    after = made.both.new.plan.depth
    shift = after.liner.shoe_md_m - before.liner.shoe_md_m

    reached = after.liner.top_md_m if by_top else after.liner.shoe_md_m
    assert reached == pytest.approx(wanted * scale, abs=1e-5)
    assert after.liner.top_md_m - before.liner.top_md_m == pytest.approx(shift, abs=2e-6)
    for part, old in zip(after.liner.parts, before.liner.parts, strict=True):
        assert part.length_m == pytest.approx(old.length_m, abs=2e-6)
        assert part.joints == old.joints
    both = zip(without_issue(made.text).splitlines(), text.splitlines(), strict=True)
    changed = [line for line, old in both if line != old]
    assert all(line.startswith(MAY_CHANGE) for line in changed)
    assert len(changed) <= 4
    if before.running:
        assert after.running.stick_up_m == pytest.approx(before.running.stick_up_m, abs=2e-6)
        string = before.running.above_liner_top_m + shift
        assert after.running.above_liner_top_m == pytest.approx(string, abs=2e-6)

    back = moved(made.text, place, f"{was!r} m").both.new.plan
    assert back.depth.liner.shoe_md_m == pytest.approx(before.liner.shoe_md_m, abs=2e-6)
    assert back.depth.liner.top_md_m == pytest.approx(before.liner.top_md_m, abs=2e-6)
    assert back.cement.planned_top_md_m == pytest.approx(there.cement.planned_top_md_m, abs=2e-6)
    if before.running:
        string = before.running.above_liner_top_m
        assert back.depth.running.above_liner_top_m == pytest.approx(string, abs=2e-6)


@pytest.mark.parametrize("file", sorted(demos()))
def test_every_demo_well_30_m_up_checks_by_itself(file):
    text = demos()[file]
    shoe = plan_of(text).depth.liner.shoe_md_m
    made = moved(text, "shoe", f"{shoe - 30.0!r} m")

    assert made.both.new.plan.depth.liner.shoe_md_m == pytest.approx(shoe - 30.0, abs=1e-6)
    assert check(load_text(made.text)).outcomes == made.both.new.outcomes
    written = diff(load_text(text), load_text(made.text)).written
    assert written == made.both.written
    assert {row.path.split(".")[0] for row in written} <= {"liner", "running string", "cement", "well"}
    its = {row.path for row in written if row.path.startswith("well")}
    assert its == {"well.state"} | ({"well.revision.content"} if "revision" in text else set())
    old = made.both.old.plan
    assert made.both.new.plan.record == old.record
    assert load_text(made.text).content.options == load_text(text).content.options


def test_only_the_lines_that_must_change_do():
    made = moved(BRINDLEWICK, "shoe", "12090 ft")
    both = zip(without_issue(made.text).splitlines(), BRINDLEWICK.splitlines(), strict=True)

    assert [new.strip() for new, old in both if new != old] == [
        "lap: 870 ft",
        "off bottom: 510 ft",
        "length: 8576 ft",
        "planned top: 8780 ft",
    ]


def test_there_and_back_is_the_same_text():
    back = moved(moved(BRINDLEWICK, "shoe", "12090 ft").text, "shoe", "12590 ft").text
    assert without_issue(back) == BRINDLEWICK
    its = plan_of(back).identity
    assert (its.state, its.revision.changed) == ("planned", False)  # what was issued, again
    assert moved(BRINDLEWICK, "shoe", "12590 ft").text == BRINDLEWICK
    assert moved(BRINDLEWICK, "top", "9480 ft").text == BRINDLEWICK


def test_a_depth_in_another_unit_is_written_where_it_has_an_end():
    """3 700 m are 12 139.107612... ft: 12 600 ft, 3 840.48 m, less 3 700 m are 140.48 m."""
    there = moved(BRINDLEWICK, "shoe", "3700 m").text

    assert "off bottom: 140.48 m" in there
    assert "lap: 250.208 m" in there
    back = plan_of(moved(there, "shoe", "12590 ft").text)
    assert back.depth.liner.top_md_m == pytest.approx(9480 * FOOT_M, abs=1e-6)


def test_by_its_top_is_the_same_as_by_its_shoe():
    assert moved(BRINDLEWICK, "top", "9300 ft").text == moved(BRINDLEWICK, "shoe", "12410 ft").text


FIXED = "  lap: 370 ft\n  off bottom: 10 ft\n"
EVERY_LENGTH = ("{part: joint, fill: true, each: 40.334 ft}", "{part: joint, count: 73, length: 2944.4 ft}")


@pytest.mark.parametrize(
    ("fixed", "lengths", "told"),
    [
        ("  top: 9480 ft\n  shoe: 12590 ft\n", (), {"liner.top": "8980 ft", "liner.shoe": "12090 ft"}),
        ("  lap: 370 ft\n  length: 3110 ft\n", (), {"liner.lap": "870 ft"}),
        ("  length: 3110 ft\n  off bottom: 10 ft\n", (), {"liner.off bottom": "510 ft"}),
        ("  shoe: 12590 ft\n", (EVERY_LENGTH,), {"liner.shoe": "12090 ft"}),
        ("  lap: 370 ft\n", (EVERY_LENGTH,), {"liner.lap": "870 ft"}),
        (
            "  lap: 112.776 m\n  shoe: 12 590 ft\n",
            (),
            {"liner.lap": "265.176 m", "liner.shoe": "12090 ft"},
        ),
        (
            "  lap: {low: 369 ft, likely: 370 ft, high: 372 ft}\n  off bottom: 10 ft +/- 2 ft\n",
            (),
            {
                "liner.lap.low": "869 ft",
                "liner.lap.likely": "870 ft",
                "liner.lap.high": "872 ft",
                "liner.off bottom": "510 ft +/- 2 ft",
            },
        ),
        (
            '  lap: "370 ft"  # agreed\n  off bottom: 10\'\n',
            (),
            {"liner.lap": "870 ft", "liner.off bottom": "510 '"},
        ),
    ],
)
def test_whatever_fixes_the_liner_moves_and_nothing_else(fixed, lengths, told):
    text = edited(BRINDLEWICK, (FIXED, fixed), *lengths)
    made = moved(text, "shoe", "12090 ft")

    liner = made.both.new.plan.depth.liner
    assert liner.top_md_m == pytest.approx(8980 * FOOT_M, abs=1e-6)
    assert liner.shoe_md_m == pytest.approx(12090 * FOOT_M, abs=1e-6)
    assert {row.path: row.new for row in made.both.written if row.path.startswith("liner.")} == told
    if "# agreed" in text:
        assert 'lap: "870 ft"  # agreed' in made.text


def test_what_is_written_twice_and_disagreed_still_does():
    text = edited(BRINDLEWICK, (FIXED, "  top: 9480 ft\n  lap: 371 ft\n  off bottom: 10 ft\n"))
    made = moved(text, "shoe", "12090 ft")
    before, after = made.both.old.plan.misfits, made.both.new.plan.misfits

    assert len(before) == len(after) == 1
    assert after[0].second_md_m - after[0].first_md_m == pytest.approx(-FOOT_M, abs=1e-9)


def test_a_tally_that_does_not_close_still_does_not():
    text = edited(BRINDLEWICK, ("count: 1, length: 40.2 ft", "count: 1, length: 41.2 ft"), EVERY_LENGTH)
    made = moved(text, "shoe", "12090 ft")
    before, after = made.both.old.plan.depth.liner, made.both.new.plan.depth.liner

    over = [one.parts[0].top_md_m - one.top_md_m for one in (before, after)]
    assert over[0] == pytest.approx(-FOOT_M, abs=1e-6)
    assert over[1] == pytest.approx(over[0], abs=1e-6)
    assert after.top_md_m == pytest.approx(8980 * FOOT_M, abs=1e-6)


def test_where_a_tvd_fixes_the_shoe_its_measured_depth_is_written_beside_it():
    """By the reference 3 982 m are 2 724.5 m TVD; 150 m along 55 degrees are 86.04 m of it."""
    made = moved(edited(SOLLIVANE, ("  off bottom: 3 m\n", "  shoe tvd: 2724.50 m\n")), "shoe", "3832 m")
    before, after = made.both.old.plan.depth.liner, made.both.new.plan.depth.liner

    assert before.shoe_md_m == pytest.approx(3982.0, abs=0.1)  # the TVD is rounded
    assert after.shoe_md_m == pytest.approx(3832.0, abs=1e-9)
    assert after.shoe_md_m - after.top_md_m == pytest.approx(before.shoe_md_m - before.top_md_m, abs=2e-6)
    tvd = find(tree(made.text, "text"), "liner.shoe tvd").value
    higher = (before.shoe_md_m - 3832.0) * math.cos(math.radians(55))
    assert float(tvd.removesuffix(" m")) == pytest.approx(2724.50 - higher, abs=0.0051)
    assert any("shoe tvd is" in text for text in lines(made, LEFT))
    assert not [o for o in made.both.new.findings if "tvd" in o.rule]


def test_a_stated_depth_below_the_sea_that_disagreed_still_does():
    text = edited(BRINDLEWICK, (FIXED, f"{FIXED}  top below sea level: 8214 ft\n"))  # 26 ft off
    made = moved(text, "top", "8980 ft")

    def off(depth):
        stated = next(one for one in depth.entered_tvds if one.path == "liner.top below sea level")
        return stated.entered_tvd_m - depth.path.tvd_m(stated.md_m)

    before, after = off(made.both.old.plan.depth), off(made.both.new.plan.depth)
    assert abs(before) > 20 * FOOT_M
    assert after == pytest.approx(before, abs=0.005 * FOOT_M + 1e-6)


def test_a_tally_beside_the_file_stays_as_it_is(tmp_path):
    joints = [40.3, 40.3, 40.2, *[40.334] * 73]
    listed = [f"{number},{length}" for number, length in enumerate(joints, 1)]
    (tmp_path / "joints.csv").write_text("\n".join(["joint,length", *listed, ""]))
    text = edited(
        BRINDLEWICK,
        ("{part: joint, count: 2, length: 80.6 ft}", "{part: joint, count: 2}"),
        ("{part: joint, count: 1, length: 40.2 ft}", "{part: joint, count: 1}"),
        ("{part: joint, fill: true, each: 40.334 ft}", "{part: joint, fill: true}"),
        (FIXED, f"{FIXED}  tally: {{file: joints.csv, unit: ft}}\n"),
    )
    (tmp_path / "well.yaml").write_text(text)
    made = replan(load(tmp_path / "well.yaml"), "shoe", parse("12090 ft", "length"))
    before, after = made.both.old.plan.depth.liner, made.both.new.plan.depth.liner

    assert [part.listed for part in after.parts] == [part.listed for part in before.parts]
    assert sum(len(part.listed) for part in after.parts) == 76
    assert after.top_md_m == pytest.approx(8980 * FOOT_M, abs=1e-6)


OPEN_LINE = ("      length: 9076 ft\n", "")
BEHIND = "length: 21 in}\n"
PUP = "    - {part: pup joint, length: 10 ft, od: 5 in, id: 4.276 in}\n"
HEAVY = "    - {part: heavy-weight drill pipe, name: upper, length: 900 ft, od: 5 in, id: 3 in}\n"


@pytest.mark.parametrize(
    ("changes", "said", "written"),
    [
        ((OPEN_LINE,), "Drill pipe 500.0 ft less: lay down 16 joints", {}),
        (
            (("  stick up: 6 ft\n", ""),),
            "Drill pipe 500.0 ft less: lay down 16 joints",
            {"drill pipe.length": "8576 ft"},
        ),
        (
            (("      length: 9076 ft\n", "      length: 9066 ft\n"), (BEHIND, BEHIND + PUP)),
            "Drill pipe 500.0 ft less",
            {"drill pipe.length": "8566 ft"},
        ),
        ((OPEN_LINE, (BEHIND, BEHIND + HEAVY)), "Upper 500.0 ft less; stick-up", {"upper.length": "400 ft"}),
    ],
)
def test_the_pipe_that_was_run_last_is_laid_down(changes, said, written):
    if OPEN_LINE in changes:
        changes = (*changes, ("      running string.assembly.drill pipe.length: 9296 ft\n", ""))
    made = moved(edited(BRINDLEWICK, *changes), "shoe", "12090 ft")
    before, after = made.both.old.plan.depth.running, made.both.new.plan.depth.running

    assert after.above_liner_top_m == pytest.approx(before.above_liner_top_m - 500 * FOOT_M, abs=1e-6)
    assert after.stick_up_m == pytest.approx(before.stick_up_m, abs=1e-6)
    assert any(said in text for text in lines(made, WORDS))
    strings = [row for row in made.both.written if row.path.startswith("running string")]
    assert {row.path.removeprefix("running string.assembly."): row.new for row in strings} == written


OWN_TOP = "      cement.planned top: 9500 ft      # 200 ft above the liner top, as in the well as written\n"


@pytest.mark.parametrize(
    ("top", "shoe", "planned_ft", "said"),
    [
        ("planned top: 9480 ft", "12090 ft", 8980, "at the liner top as before"),
        ("planned top: 9700 ft", "12090 ft", 9700, "720.0 ft (was 220.0 ft) below the liner top"),
        ("above liner top: 200 ft", "12090 ft", 8780, "200.0 ft above the liner top as before"),
        ("planned top: 900 ft", "11000 ft", 0, "7890.0 ft (was 8580.0 ft) above the liner top"),
    ],
)
def test_the_planned_top_of_cement(top, shoe, planned_ft, said):
    text = edited(BRINDLEWICK, ("  planned top: 9280 ft", f"  {top}"), (OWN_TOP, ""))
    made = moved(text, "shoe", shoe)

    assert made.both.new.plan.cement.planned_top_md_m == pytest.approx(planned_ft * FOOT_M, abs=1e-6)
    assert any(said in text for text in lines(made, WORDS))


@pytest.mark.parametrize(
    ("changes", "place", "depth", "found", "accepted"),
    [
        ((), "shoe", "12700 ft", "a liner shoe at 12700 ft", "the hole, which ends at 12600 ft"),
        ((), "top", "9900 ft", "a liner shoe at 13010 ft", "the hole, which ends at 12600 ft"),
        ((), "shoe", "3000 ft", "a liner top at -110 ft", "begins at the surface"),
        ((), "top", "300 ft", "9180.0 ft of pipe to lay down", "is long, 9076.0 ft"),
        (
            (("off bottom: 10 ft", "off bottom: 2700 ft"), ("lap: 370 ft", "lap: 300 ft")),
            "top",
            "9850 ft",
            "a liner top at 9850 ft",
            "above the shoe of its host, intermediate casing, at 9850 ft",
        ),
        (
            (("planned top: 9280 ft", "planned top: 12000 ft"),),
            "shoe",
            "11900 ft",
            "cement at 12000 ft",
            "the new liner shoe, 11900 ft",
        ),
    ],
)
def test_a_liner_that_cannot_be_there_is_refused_with_what_can_be(changes, place, depth, found, accepted):
    with pytest.raises(InputError) as caught:
        moved(edited(BRINDLEWICK, *changes), place, depth)

    (problem,) = caught.value.problems
    assert found in problem.found
    assert accepted in problem.accepted
    assert problem.line > 0
    assert problem.mend


def test_an_open_line_that_is_too_short_is_refused_too():
    text = edited(BRINDLEWICK, OPEN_LINE, ("      running string.assembly.drill pipe.length: 9296 ft\n", ""))
    with pytest.raises(InputError) as caught:
        moved(text, "top", "300 ft")
    assert "9180.0 ft of pipe to lay down" in caught.value.problems[0].found


def test_the_range_that_is_offered_can_be_had():
    haldry = demos()["haldry-2.yaml"]
    with pytest.raises(InputError) as caught:
        moved(BRINDLEWICK, "shoe", "12700 ft")
    assert caught.value.problems[0].mend.endswith("give a shoe between 3110 and 12600 ft")
    deepest = moved(BRINDLEWICK, "shoe", "12600 ft").both.new.plan.depth.liner
    assert deepest.shoe_md_m == pytest.approx(12600 * FOOT_M, abs=1e-6)

    with pytest.raises(InputError) as caught:
        moved(haldry, "top", "2600 m")
    assert "drilling liner, which begins at 2700 m" in caught.value.problems[0].accepted
    assert caught.value.problems[0].mend.endswith("give a top between 2700 and 3783 m")
    for end in ("2700 m", "3783 m"):
        assert moved(haldry, "top", end).both.new.plan.depth.liner.top_md_m == pytest.approx(
            parse(end, "length").si, abs=1e-6
        )


def test_cement_that_would_end_above_the_datum_is_refused():
    text = edited(demos()["corrick-5.yaml"], ("above liner top: 200 ft", "above liner top: 8000 ft"))
    with pytest.raises(InputError) as caught:
        moved(text, "top", "7700 ft")
    assert "cement 8000 ft above a liner top at 7700 ft" in caught.value.problems[0].found


def test_remarks_spelling_and_line_ends_stay():
    text = edited(BRINDLEWICK, ("  lap: 370 ft\n", "  lap: 370 FT   # agreed\n")).replace("\n", "\r\n")
    made = moved(text, "shoe", "12090 ft")

    assert "lap: 870 FT   # agreed\r\n" in made.text
    assert made.text.count("\r\n") == text.count("\r\n") + 1 == made.text.count("\n")  # and the state


@pytest.mark.parametrize(
    ("depth", "name"),
    [
        ("12090 ft", "b-shoe-12090-ft.yaml"),
        ("12 090,5 ft", "b-shoe-12-090-5-ft.yaml"),
        ("../../x 3 m", "b-shoe-x-3-m.yaml"),
        ("12090 1/2'", "b-shoe-12090-1-2.yaml"),
    ],
)
def test_the_name_of_the_new_file_is_one_name(depth, name):
    assert file_name("b.yaml", "shoe", depth) == name
    assert Path(file_name("folder/b.yaml", "shoe", depth)).name == name


def test_a_replanned_well_is_not_what_was_checked_and_approved():
    who = ", checked by: A. Checker, approved by: B. Boss"
    text = edited(BRINDLEWICK, (", note: lap lengthened", ", note: lap lengthened" + who))
    made = moved(text, "shoe", "12090 ft")
    its = made.both.new.plan.identity

    assert made.both.old.plan.identity.revision.approved_by == "B. Boss"
    assert (its.standing, its.revision.changed) == ("replanned, not approved", True)
    assert (its.revision.checked_by, its.revision.approved_by) == ("", "")
    assert plan_of(made.text).identity.standing == "replanned, not approved"
    approved = edit.set(made.text, "well.revision.content", its.content_hash)  # issued anew as it is
    assert plan_of(approved).identity.standing == "replanned"


def test_a_well_that_was_as_run_is_replanned_like_any_other():
    made = moved(
        edited(BRINDLEWICK, ("  show: field\n", "  show: field\n  state: as run\n")), "shoe", "12090 ft"
    )

    assert made.both.old.plan.identity.state == "as run"
    assert made.both.new.plan.identity.standing == "replanned, not approved"
    assert "as run" not in made.text


READ = (
    ("dart meets plug", "volume pumped", None, "155.2 bbl"),
    ("Run in", "hook load picking up", "12590 ft", "331 klbf"),
    ("Run in", "hook load picking up", "11000 ft", "300 klbf"),
)


def read(text):
    for step, what, at, value in READ:
        line = {"step": step, "what": what, **({"at": at} if at else {}), "value": value}
        text = edit.insert(text, "record", line)
    return text


def test_readings_of_the_old_place_stay_and_are_not_compared():
    """What was pumped, and a weight below the new shoe; a weight on the way in is as good as before."""
    made = moved(read(BRINDLEWICK), "shoe", "12090 ft")
    old, new = made.both.old, made.both.new

    assert [line.value for line in new.plan.record] == [line.value for line in old.plan.record]
    marked = [line.value for line in new.plan.record if new.plan.was_elsewhere(line)]
    assert marked == ["155.2 bbl", "331 klbf"]
    assert [one.elsewhere for one in recorded(new.job)] == [False, True, True, False]
    assert all(one.planned is None and one.inside is None for one in recorded(new.job) if one.elsewhere)
    assert [event.name for event in old.job.events if event.observed] == ["dart meets plug"]
    assert not any(event.observed for event in new.job.events)
    assert [one.shoe_md_m / FOOT_M for one in readings(new.plan)] == [pytest.approx(11000)]
    (said,) = [line for line in lines(made, LEFT) if "stay in the record" in line]
    assert "155.2 bbl" in said
    assert "331 klbf" in said
    assert "300 klbf" not in said

    back = moved(made.text, "shoe", "12590 ft").both.new
    assert not any(one.elsewhere for one in recorded(back.job))
    assert [event.name for event in back.job.events if event.observed] == ["dart meets plug"]


def test_all_that_was_read_where_the_liner_was_to_be_set_is_of_the_old_place():
    """What was read of the liner itself, or on the way in, is as good as before."""
    text = BRINDLEWICK
    lines = (
        ("Run the liner", "gain", "140 bbl", False),
        ("Pick up hanger and tool", "liner weight", "73 klbf", False),
        ("Run to depth", "shoe depth", "12589 ft", True),
        ("Set the hanger", "pins at", "1500 psi", True),
        ("Dart meets the plug", "strokes", "1600", True),
        ("Set the liner top packer", "slacked off", "45 klbf", True),
        ("liner landed", "returns", "full", True),
    )
    for step, what, value, _marked in reversed(lines):
        text = edit.insert(text, "record", {"step": step, "what": what, "value": value}, before=0)
    new = moved(text, "shoe", "12090 ft").both.new

    found = {one.line.value: one for one in recorded(new.job)}
    for _step, _what, value, marked in lines:
        assert found[value].elsewhere is marked, value
        assert not (marked and found[value].planned)
        if marked:
            assert verdict(found[value], "field") == "not compared: read for another place of the liner"


@pytest.mark.parametrize(
    ("words", "shoe", "top"),
    [
        # the hole ends at 12 600 ft; the liner is 3 110 ft long and planned from 9 480 to 12 590 ft
        ("12440 ft", 12440, 12440),
        ("12 440 ft MD", 12440, 12440),
        ("stuck at 12440 ft", 12440, 12440),
        ("150 ft off bottom", 12450, 9340),
        ("150ft off the bottom", 12450, 9340),
        ("off bottom by 150 ft", 12450, 9340),
        ("stopped 150 ft above TD", 12450, 9340),
        ("150 ft short of bottom", 12450, 9340),
        ("150 ft off", 12450, 9340),
        ("150 ft high", 12440, 9330),
        ("150 ft too high", 12440, 9330),
        ("150 ft higher than planned", 12440, 9330),
        ("5 ft deeper", 12595, 9485),
        ("45.72 m off bottom", 12450, 9340),
        ("150 ft", 150, 150),
    ],
)
def test_a_depth_is_said_as_a_hand_says_it(words, shoe, top):
    plan = plan_of(BRINDLEWICK)

    assert place_of(plan, "shoe", words).si / FOOT_M == pytest.approx(shoe, abs=1e-3)
    assert place_of(plan, "top", words).si / FOOT_M == pytest.approx(top, abs=1e-3)


def test_a_number_alone_has_the_unit_that_is_given_for_it():
    plan = plan_of(BRINDLEWICK)

    assert place_of(plan, "shoe", "150 off bottom", "ft").si / FOOT_M == pytest.approx(12450)
    assert place_of(plan, "shoe", "12440", "ft").text == "12440 ft"
    with pytest.raises(UnitError, match="without a unit"):
        place_of(plan, "shoe", "150 off bottom")


@pytest.mark.parametrize(
    "words", ["deep", "off bottom", "high", "12440 ft TVD", "12440 ft +/- 3 ft", "", "9 psi"]
)
def test_what_is_no_depth_is_refused(words):
    with pytest.raises(UnitError):
        place_of(plan_of(BRINDLEWICK), "shoe", words, "ft")


@pytest.mark.parametrize(
    ("place", "words", "depth"),
    [
        ("top", "liner top at 9340 ft", 9340),
        ("top", "the top of the liner is 150 ft high", 9330),
        ("shoe", "Shoe stuck at 12440 ft", 12440),
        ("shoe", "shoe 150 ft off bottom", 12450),
        ("shoe", "liner at 12440 ft", 12440),
    ],
)
def test_a_word_may_name_the_place_that_is_asked_for(place, words, depth):
    assert place_of(plan_of(BRINDLEWICK), place, words).si / FOOT_M == pytest.approx(depth, abs=1e-3)


@pytest.mark.parametrize(
    ("place", "words", "told"),
    [
        ("shoe", "liner top at 9340 ft", "give it as the top"),
        ("shoe", "TOP: 150 ft high", "give it as the top"),
        ("top", "shoe at 12440 ft", "give it as the shoe"),
        ("top", "liner shoe 150 ft off bottom", "give it as the shoe"),
        ("top", "liner top 150 ft off bottom", "off bottom is the shoe"),
        ("shoe", "-5 ft deeper", "not below 0"),
        ("shoe", "high by -5 ft", "not below 0"),
        ("top", "\u22125 ft off bottom", "not below 0"),
    ],
)
def test_a_word_that_names_the_other_place_and_a_minus_with_a_way_are_refused(place, words, told):
    with pytest.raises(UnitError) as caught:
        place_of(plan_of(BRINDLEWICK), place, words)
    assert told in str(caught.value)
