"""What is told of a liner elsewhere: what is laid down, what got worse, what is left to settle by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schematic.comparison.replan_report import tables_of
from schematic.export.steps import as_text
from schematic.export.tables import as_text as table_text
from schematic.outcome import Found, NotChecked, Passed
from schematic.verbs import demos, steps
from schematic.wellfile import edit
from schematic.wellfile.problem import InputError
from tests.comparison.replanning import LEFT, WORDS, WORSE, lines, moved, plan_of, table
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, edited


@pytest.fixture(scope="module")
def vertical():
    """Shoe at 12 090 instead of 12 590 ft."""
    return moved(BRINDLEWICK, "shoe", "12090 ft")


def told(text, shoe, title=WORDS):
    return " | ".join(lines(moved(text, "shoe", shoe), title))


def near_coupling(made):
    outcomes = made.both.new.outcomes
    return next(o.answer for o in outcomes if o.rule == "slips-near-coupling" and o.subject.path == "liner")


def test_what_is_said_first(vertical):
    said = lines(vertical, WORDS)

    assert said[0] == (
        "Liner 500.0 ft up, as long as before (3110.0 ft): shoe 12090 ft (was 12590 ft), top 8980 ft "
        "(was 9480 ft)"
    )
    assert said[1] == "Lap 870.0 ft (was 370.0 ft), hole below the shoe 510.0 ft (was 10.0 ft)"
    assert said[2] == "Hole from 12090 to 12590 ft is no longer covered by the liner"
    # 16 joints are 504.0 ft
    assert said[3] == (
        "Drill pipe 500.0 ft less: lay down 16 joints of 31.5 ft (5 stands and 1 joint), add 4.0 ft of pups; "
        "stick-up 6.0 ft as before"
    )
    assert said[4].startswith("Slips 8999.0 to 9007.0 ft: the file lists host couplings at 9396.5 to 9561.7")
    assert said[5] == "Planned top of cement 8780 ft (was 9280 ft), 200.0 ft above the liner top as before"


def test_what_got_worse_comes_first(vertical):
    rows = [(row[0], row[2]) for row in table(vertical, WORSE)]
    order = ["new", "not checked now", "changed", "gone"]

    assert ("new", "rathole-unusual") in rows
    assert ("new", "test-pressure-disagrees") in rows  # 16.6 ppg at a higher shoe is less pressure
    assert ("not checked now", "slips-near-coupling") in rows  # it passed: no couplings are listed there
    assert ("not checked now", "slip-depth-not-proved") in rows  # it was found
    assert ("changed", "inflow-over-routine") in rows
    assert rows == sorted(rows, key=lambda row: order.index(row[0]))
    needed = next(row[3] for row in table(vertical, WORSE) if row[2] == "slips-near-coupling")
    assert (
        needed == "distance of the slips from couplings: needs couplings on both sides of the slips of "
        "intermediate casing; it passed before"
    )


def test_what_is_left_to_settle(vertical):
    left = lines(vertical, LEFT)

    # 149.7 less 8.59; 249.8 are written before the last line, of 269.8 and of 261.2
    schedule = next(text for text in left if "schedule" in text)
    assert all(part in schedule for part in ("149.7 bbl", "141.1 bbl", "11.4 bbl (was 20.0 bbl)"))
    assert any("33.8 bbl" in text and "on location" in text for text in left)
    assert any(text.startswith("Option 'lap of 150 ft'") and "liner.lap" in text for text in left)
    assert any("revision 2" in text for text in left)


def test_what_is_told_of_the_deviated_well():
    made = moved(SOLLIVANE, "shoe", "3832 m")
    words, left = " | ".join(lines(made, WORDS)), " | ".join(lines(made, LEFT))

    assert "3832 to 3982 m is no longer covered by the liner: Perrivel sand, shale below" in words
    assert "lay down 16 joints of 9.60 m (5 stands and 1 joint), add 3.60 m of pups" in words
    assert "light fluid to 3040 m would stand in the liner, whose top is at 2905 m" in left
    assert "23.96 m3" in left  # 25.3 less 1.344
    assert {"rathole-unusual", "inflow-over-routine"} <= {row[2] for row in table(made, WORSE)}


@pytest.mark.parametrize(
    ("shoe", "said"),
    [
        ("12558.5 ft", "lay down 1 joint of 31.5 ft; stick-up"),
        ("12495.5 ft", "lay down 3 joints of 31.5 ft (1 stand); stick-up"),
        ("12580 ft", "lay down 1 joint of 31.5 ft, add 21.5 ft of pups; stick-up"),
        ("12600 ft", "Drill pipe 10.0 ft more: add 10.0 ft of pups; stick-up"),
    ],
)
def test_joints_stands_and_pups(shoe, said):
    assert said in told(BRINDLEWICK, shoe)


def test_pipe_is_picked_up_where_the_liner_goes_deeper():
    said = told(moved(BRINDLEWICK, "shoe", "12090 ft").text, "12190 ft")

    assert "Liner 100.0 ft down" in said
    assert "Hole from 12090 to 12190 ft comes behind the liner" in said
    assert "Drill pipe 100.0 ft more: pick up 3 joints of 31.5 ft (1 stand), add 5.5 ft of pups" in said


def test_without_the_length_of_a_joint_no_joints_are_told():
    bare = edited(
        BRINDLEWICK,
        ("      joint length: 31.5 ft\n      tool joint: {od: 6 5/8 in, id: 2 3/4 in, length: 21 in}\n", ""),
    )

    assert "Drill pipe 500.0 ft less; stick-up" in told(bare, "12090 ft")


def test_a_string_without_drill_pipe_and_a_file_without_a_string_are_told():
    plain = edit.remove(BRINDLEWICK, "options")
    pups = edited(
        plain,
        ("part: drill pipe\n", "part: pup joint\n"),
        (
            "part: heavy-weight drill pipe, pipe: 5 in 49.3 lb/ft HWDP",
            "part: pup joint, od: 5 in",
        ),
    )

    assert "The file has no running string" in told(edit.remove(plain, "running string"), "12090 ft", LEFT)
    assert "no drill pipe in the file: make it 500.0 ft shorter" in told(pups, "12090 ft", LEFT)


def test_a_shoe_in_the_host_is_told_not_refused():
    made = moved(BRINDLEWICK, "shoe", "9800 ft")
    said = " | ".join(lines(made, WORDS))

    assert "The shoe stands in the intermediate casing: no open hole is behind the liner" in said
    assert (
        "9850 to 12590 ft is no longer covered by the liner: Ostrel shale, Ambrick marl, Corvane shale, gas sand"
        in said
    )
    assert not [s for s in made.both.new.cement.sections if s.name in ("open hole", "rathole")]


def test_slips_between_listed_couplings_are_told_with_the_way_out():
    """41.35 ft up is one joint of the host: 13.4 ft clear as before; 98.4 ft up is 4.1 ft below a coupling."""
    clear = moved(BRINDLEWICK, "shoe", "12548.65 ft")
    near = moved(BRINDLEWICK, "shoe", "12491.6 ft")

    assert isinstance(near_coupling(clear), Passed)
    assert any("13.4 ft clear of the nearest host coupling" in text for text in lines(clear, WORDS))
    assert isinstance(near_coupling(near), Found)
    assert (
        "Host coupling 9396.5 ft 4.1 ft from slips 9400.6 ft to 9408.6 ft: move the hanger up 17.1 ft or down "
        "0.9 ft, by pups"
    ) in lines(near, WORDS)


def test_slips_beside_no_listed_coupling_are_told(vertical):
    none = edit.remove(BRINDLEWICK, "strings.intermediate casing.couplings")

    assert isinstance(near_coupling(vertical), NotChecked)
    assert "the file has no couplings of the intermediate casing" in told(none, "12490 ft")


def test_a_schedule_written_by_hand_is_named_where_it_no_longer_fits():
    cement = edited(
        BRINDLEWICK, ("{fluid: cement, rate: 5 bbl/min", "{fluid: cement, volume: 130.3 bbl, rate: 5 bbl/min")
    )

    assert (
        "The schedule pumps 130.3 bbl of cement, as written; the plan asks for 164.1 bbl (was 130.2 bbl)"
    ) in told(cement, "12090 ft", LEFT)
    # 249.8 bbl are written; 2 730 ft less of 0.01718 bbl/ft leave 222.9 to the bump
    assert "pump 26.9 bbl too much" in told(BRINDLEWICK, "9860 ft", LEFT)
    assert "schedule" not in told(edit.remove(BRINDLEWICK, "cement.schedule"), "12090 ft", LEFT)


def test_a_slurry_without_a_place_is_named():
    assert "No tail is left outside the liner" in told(SOLLIVANE, "3500 m", LEFT)


def test_what_was_accepted_of_the_old_place_is_taken_out_and_named():
    waived = """waived:  # agreed in town
  - {rule: inflow-over-routine, by: A. Boss, reason: 2329 psi is good}
  - {rule: dead-hole, subject: liner, by: A. Planner, reason: rathole}
"""
    made = moved(BRINDLEWICK + waived, "shoe", "12090 ft")
    left = lines(made, LEFT)

    assert [o.rule for o in made.both.old.findings if o.waived] == ["inflow-over-routine"]
    assert not [o.rule for o in made.both.new.findings if o.waived]
    assert made.both.new.plan.waived == plan_of(made.text).waived == ()
    assert (
        "Inflow-over-routine was accepted by A. Boss for the old place (2329 psi is good): no longer waived, "
        "ask again"
    ) in left
    assert any("Dead-hole of liner was accepted by A. Planner" in text for text in left)
    assert moved(BRINDLEWICK + waived, "shoe", "12590 ft").text == BRINDLEWICK + waived
    assert "accepted" not in told(BRINDLEWICK, "12090 ft", LEFT)


def test_where_the_liner_is_there_already_nothing_is_said_to_change():
    same = moved(BRINDLEWICK, "shoe", "12590 ft")

    assert lines(same, WORDS) == ["The shoe of the liner is there already: nothing changes"]
    assert lines(same, LEFT) == []
    assert table(same, WORSE) == ()


def test_figures_of_the_installation_that_differ_are_those_of_the_two_evaluations():
    made = moved(SOLLIVANE, "shoe", "3832 m")
    rows = {row[:2]: row[2:] for row in table(made, "Installation, what is otherwise")}
    unit, before, now, change = rows["Hook loads, block included", "liner on depth, picking up"]

    block = made.both.old.plan.job.block_weight_n
    assert before.si == made.both.old.job.hook_loads.on_depth.up_n + block
    assert now.si == made.both.new.job.hook_loads.on_depth.up_n + block
    assert (unit, change) == ("kN", f"-{(before.si - now.si) / 1000:.0f}")
    assert not [
        key for key in rows if key[1].startswith("hanger sets, from")
    ]  # what does not move is left out


def test_what_is_counted_says_from_where():
    """The bump is counted from the dart, what comes to the liner shoe before it from the first fluid."""
    made = moved(BRINDLEWICK, "shoe", "12400 ft")
    rows = {row[1]: row[3:5] for row in table(made, "Installation, what is otherwise") if "pumping" in row[0]}
    events = [{event.name: event for event in one.job.events} for one in (made.both.old, made.both.new)]

    for name, counter in (("bump", "the dart"), ("spacer at liner shoe", "the first fluid")):
        assert [figure.si for figure in rows[f"{name}, volume from {counter}"]] == pytest.approx(
            [one[name].m3 for one in events]
        )
    assert all(" from the " in name for name in rows)


def test_plans_are_compared_as_planned_whatever_was_recorded():
    """A dart seen late in the old plan moves its events to the dart's counter: no row is of two counters."""
    line = {"step": "dart meets plug", "what": "volume pumped", "value": "163 bbl"}
    title = "Installation, what is otherwise"
    plain = table(moved(BRINDLEWICK, "shoe", "12400 ft"), title)
    seen = table(moved(edit.insert(BRINDLEWICK, "record", line), "shoe", "12400 ft"), title)

    assert seen == plain
    assert any("pumping" in row[0] for row in plain)


def test_the_step_cards_are_those_of_the_new_place(vertical):
    """Each figure of the old place that stood on a card stands there as that of the new one, as often."""
    old, new = (as_text(steps(one), "field") for one in (vertical.both.old, vertical.both.new))

    for was, now in (("269.8", "261.2"), ("159.7", "151.1"), ("12590", "12090"), ("130.2", "164.1")):
        assert old.count(was) == new.count(now) > 0
        assert new.count(was) == old.count(now) == 0


@settings(max_examples=25)
@given(st.sampled_from(sorted(demos())), st.floats(0.0, 1.02))
def test_any_shoe_is_told_or_refused_with_what_can_be(file, share):
    text = demos()[file]
    told_or_refused = []
    try:
        made = moved(text, "shoe", f"{share * plan_of(text).depth.td_md_m:.2f} m")
        told_or_refused += [*lines(made, WORDS), *lines(made, LEFT)]
    except InputError as error:
        told_or_refused += [error.problems[0].accepted, error.problems[0].mend]
    assert told_or_refused
    assert all(told_or_refused)


@pytest.mark.parametrize("file", sorted(demos()))
@pytest.mark.parametrize("system", ["field", "metric"])
def test_every_demo_well_30_m_up_is_told_in_both_units(file, system):
    shoe = plan_of(demos()[file]).depth.liner.shoe_md_m - 30.0
    made = moved(demos()[file], "shoe", f"{shoe!r} m")
    printed = "\n".join(table_text(one, system) for one in tables_of(made, system))

    length, unit = ("98.4", "ft") if system == "field" else ("30.00", "m")
    assert f"Liner {length} {unit} up" in printed
    assert "nan" not in printed
    assert "None" not in printed
