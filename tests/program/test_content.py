"""What a program says: its sections, that nothing asked for is passed over in silence, that volumes add up."""

from __future__ import annotations

import math

import pytest

from schematic.export.installation import TESTS
from schematic.outcome import Figure
from schematic.program.content import Heading, NumberedTable, Paragraph, clean
from schematic.units import show
from schematic.verbs import check, demos, load_text
from tests.program.programs import program_of, text_of

WELLS = sorted(name.removesuffix(".yaml") for name in demos())
SECTIONS = [
    "Schematic and details",
    "Strings and hole",
    "Liner",
    "Volumes",
    "Cement",
    "Displacement",
    "Fluids and rock",
    "Pressures, weights and tests",
    "Installation",
    "Findings and waivers",
    "What is not checked or not given",
    "Assumptions",
    "Sources",
    "Caution",
]


def table(text: str, title: str):
    """A table of a program by its title."""
    return next(one for one in program_of(text).tables if one.title == title)


@pytest.mark.parametrize("name", WELLS)
def test_every_well_has_every_section_in_order_and_none_is_empty(name):
    blocks = program_of(text_of(name)).blocks
    heads = [block.text for block in blocks if isinstance(block, Heading) and block.level == 1]

    assert heads == SECTIONS
    for block, after in zip(blocks, [*blocks[1:], None], strict=True):
        if isinstance(block, Heading):
            assert after is not None
            assert not (isinstance(after, Heading) and after.level <= block.level), block.text


@pytest.mark.parametrize("name", WELLS)
def test_tables_are_numbered_from_one_and_have_rows_and_titles_of_their_own(name):
    program = program_of(text_of(name))
    numbered = [block for block in program.blocks if isinstance(block, NumberedTable)]

    assert [block.number for block in numbered] == list(range(1, len(numbered) + 1))
    assert all(block.table.rows for block in numbered)
    assert len({block.table.title for block in numbered}) == len(numbered)
    for one in program.tables:
        assert all(len(row) == len(one.columns) for row in one.rows), one.title


@pytest.mark.parametrize("name", WELLS)
def test_each_thing_asked_for_is_in_a_table_or_said_to_be_missing(name):
    # the list of TRADE 3.1 (casing diagram of 14 CCR 1724.7.1) and 3.3 (what a program's schematic carries)
    program = program_of(text_of(name))
    asked = table(text_of(name), "Asked for, and where it stands")
    count = len(program.tables)

    assert len(asked.rows) == 22
    for item, where in asked.rows:
        assert isinstance(where, str)
        assert where, item
        if where.startswith("table"):
            number = int(where.split()[1].strip(",;"))
            assert 1 <= number < count
        else:
            assert where == "none" or "table" in where or where.startswith(("not given", "not computed")), (
                item
            )


def test_a_sketch_says_what_is_not_given_and_what_would_be_needed():
    texts = [block.text for block in program_of(text_of("sketch")).blocks if isinstance(block, Paragraph)]

    assert "Cement: not computed, needs cement.planned top." in texts
    assert "Displacement: not computed, needs running string." in texts
    for title in ("Fluids", "Rock", "Planned tests", "Pressures of the installation"):
        assert f"{title}: not given." in texts
    asked = dict(table(text_of("sketch"), "Asked for, and where it stands").rows)
    assert asked["densities of mud, spacer and slurry"] == "not given"
    assert asked["log of revisions"] == "not given"


@pytest.mark.parametrize("name", WELLS)
def test_the_stretches_of_a_volume_add_up_to_it(name):
    text = text_of(name)
    evaluation = check(load_text(text))
    added: dict[str, list[float]] = {}
    for row in table(text, "How the volumes add up").rows:
        length, area, volume = (cell.si for cell in row[3:6] if isinstance(cell, Figure))
        assert volume == pytest.approx(area * length, rel=1e-12)
        added.setdefault(str(row[0]), []).append(volume)

    wanted: dict[str, float] = {}
    for space in evaluation.volumes.spaces:
        wanted[space.name] = wanted.get(space.name, 0.0) + space.m3
    assert set(added) == set(wanted)
    for space_name, pieces in added.items():
        assert math.fsum(pieces) == pytest.approx(wanted[space_name], rel=1e-9), space_name


def test_a_space_of_many_stretches_is_told_as_one_of_their_mean_area():
    # 60 steps of caliper, 10 ft each, from 9850 ft on, by turns 9.0 and 9.2 in; outside a 7 in liner
    steps = "\n".join(
        f"      - {{to: {9850 + 10 * (n + 1)} ft, diameter: {9.0 + 0.2 * (n % 2):.1f} in}}" for n in range(60)
    )
    text = text_of("brindlewick-4").replace("      - {to: 11300 ft, diameter: 9.30 in}", steps)
    evaluation = check(load_text(text))
    told = [row for row in table(text, "How the volumes add up").rows if row[0] == "open hole"]
    spaces = [space for space in evaluation.volumes.spaces if space.name == "open hole"]

    assert len(told) < len(spaces) + 20
    assert math.fsum(row[5].si for row in told) == pytest.approx(math.fsum(s.m3 for s in spaces), rel=1e-9)


def test_the_tally_runs_from_the_shoe_to_the_top():
    # 3110 ft: hole 12600 ft less 10 ft off bottom less (host shoe 9850 ft less lap 370 ft)
    tally = table(text_of("brindlewick-4"), "Liner tally, from the shoe up")
    foot = 0.3048

    first, last = tally.rows[0], tally.rows[-1]
    assert (first[1], last[1]) == ("Float shoe", "Tie-back receptacle")
    assert first[4].si / foot == pytest.approx(12590.0)
    assert last[5].si / foot == pytest.approx(9480.0)
    assert last[3].si / foot == pytest.approx(3110.0)
    for below, above in zip(tally.rows, tally.rows[1:], strict=False):
        assert above[4].si == pytest.approx(below[5].si)
        assert above[3].si == pytest.approx(below[3].si + above[2].si)


def test_findings_keep_the_letters_of_the_drawing_and_waivers_name_theirs():
    text = text_of("brindlewick-4") + (
        "\nwaived:\n  - {rule: gap-in-hole-small, by: A. Planner, reason: low rate}\n"
        "  - {rule: lap-outside-limits, by: A. Planner, reason: agreed}\n"
    )
    program = program_of(text)
    drawn = {
        group.title.removeprefix("Finding "): group
        for picture in program.pictures
        for group in picture.scene.groups
        if group.title.startswith("Finding ")
    }
    rows = {row[0]: row for row in table(text, "Findings").rows}
    waivers = {row[0]: row for row in table(text, "Waivers").rows}

    assert drawn
    assert set(drawn) <= set(rows)
    letter = next(one for one, row in rows.items() if "landing collar" in row[2])
    assert rows[letter][1] == "warning, waived"
    assert waivers["gap-in-hole-small"][2:] == ("A. Planner", "low rate", letter)
    assert waivers["lap-outside-limits"][4] == "none found"


def test_all_revisions_stand_in_a_table_the_latest_first():
    rows = table(text_of("brindlewick-4"), "Revisions").rows

    assert [row[0] for row in rows] == ["2", "1"]
    assert rows[0][5] == "lap lengthened"


def test_every_limit_stands_with_its_owner_and_a_changed_one_with_who_set_it():
    text = text_of("brindlewick-4").replace(
        "  profile: common practice",
        "  profile: california example\n  greatest lap: 500 ft\n  set by: the operator",
    )
    limits = table(text, "Limits")
    owners = {row[0]: row[1:3] for row in limits.rows}

    assert owners["greatest lap"] == ("500 ft", "the operator")
    assert owners["least lap"] == ("100 ft", "California 14 CCR 1722.3(d), an example")
    assert limits.note.startswith("profile california example, dated 20")
    assert all(row[2] for row in limits.rows)


def test_a_test_keeps_all_that_the_file_says_of_it():
    text = text_of("brindlewick-4").replace(
        "16.6 ppg, hold: 30 min}", "16.6 ppg, fluid: mud, at: intermediate casing, hold: 30 min}"
    )
    row = table(text, "Planned tests").rows[0]

    assert row[0] == "liner and lap"
    assert row[2].si == pytest.approx(2619 * 6894.757, rel=1e-6)
    assert row[3] == "as written; 16.60 ppg asked for at intermediate casing"
    assert row[5] == "mud"
    assert row[6].si == 1800.0


def test_a_pressure_that_follows_is_told_as_in_the_table_of_the_installation():
    text = text_of("sollivane-a7")
    row, inflow = table(text, "Planned tests").rows
    computed = next(one for one in program_of(text).tables if one.title == TESTS).rows[0]

    assert computed[0] == row[0] == "liner and lap"
    assert row[2] == computed[1]
    assert show(row[2].si, "pressure", "metric") == "101.1 bar"
    assert row[3] == "over fracture at the host shoe, by 34.5 bar"
    assert row[4] == computed[4]
    assert inflow[2] == inflow[4] == "does not apply"


def test_a_pressure_that_cannot_be_worked_out_says_what_it_needs():
    text = text_of("sollivane-a7").replace("above fracture: 34.5 bar, ", "")
    row = table(text, "Planned tests").rows[0]

    assert row[2] is None
    assert row[3] == "not computed, needs installation.tests.liner and lap.surface pressure"


def test_clean_keeps_one_line_of_what_can_be_read():
    assert clean("a\u0007b\u202ec\n\td  e\ufffe") == "abc d e"
    assert clean("<b> & 9 5/8\u2033") == "<b> & 9 5/8\u2033"


def test_a_liner_in_casing_and_a_tie_back_are_told_inside_which_string():
    assert (
        program_of(text_of("fallow-6")).subtitle == "7 in scab liner over worn casing inside 9 5/8 in casing"
    )
    assert program_of(text_of("brindlewick-4")).subtitle == "7 in drilling liner in 8 1/2 in hole"
    stands = {row[0]: row[-1] for row in table(text_of("corrick-5"), "Strings").rows}
    assert stands["tie-back"] == "9 5/8 in intermediate casing"
    assert stands["drilling liner"] == "8 1/2 in hole"
    assert {row[0]: row[-1] for row in table(text_of("fallow-6"), "Strings").rows}["scab liner"] == (
        "9 5/8 in production casing"
    )


def test_cement_behind_the_liner_begins_at_its_top_and_what_stands_above_is_said():
    row = table(text_of("brindlewick-4"), "Bores, and cement behind pipe").rows[-1]
    assert row[5].si == pytest.approx(9480 * 0.3048, abs=0.01)
    assert row[7] == "planned, and above it to 9280 ft"
    assert table(text_of("fallow-6"), "Bores, and cement behind pipe").rows[-1][7] == "planned"


def test_the_running_string_stands_from_the_top_down_as_the_file_has_it():
    rows = table(text_of("brindlewick-4"), "Running string, from the top down").rows
    in_, ft = 0.0254, 0.3048

    assert [row[0] for row in rows] == [
        "drill pipe",
        "heavy-weight drill pipe",
        "running tool",
        "inner string",
        "wiper plug",
        "of which above rotary table",
    ]
    pipe, heavy, tool, inner, plug, above = rows
    assert pipe[2].si == pytest.approx(9076 * ft, abs=0.01)
    assert [cell.si / in_ for cell in pipe[4:6]] == pytest.approx([5.0, 4.276], abs=0.0005)
    assert [cell.si / in_ for cell in pipe[7:9]] == pytest.approx([6.625, 2.75], abs=0.0005)
    assert pipe[9].si == pytest.approx(
        9076 / 31.5 * 21 / 12 * ft, abs=0.01
    )  # 21 in of each 31.5 ft: 504.2 ft
    assert above[2].si == pytest.approx(6 * ft, abs=0.01)  # 9076 + 380 + 30 is 9486, the liner top 9480
    assert heavy[6].si == pytest.approx(49.3 * 0.45359237 / ft, rel=1e-6)
    assert heavy[9] is None  # no length given
    assert heavy[7].si == pytest.approx(6.625 * in_, abs=1e-6)  # NC50: not written, known of the pipe
    assert tool[6].si == pytest.approx(40.0 * 0.45359237 / ft, rel=1e-6)  # 1200 lb on 30 ft
    assert tool[7:10] == ("", "", "")
    assert inner[3].si == pytest.approx(9500 * ft, abs=0.01)
    assert plug[2] is None
    assert "Running string: not given." in [
        block.text for block in program_of(text_of("fallow-6")).blocks if isinstance(block, Paragraph)
    ]


def test_the_liner_is_weighed_in_air_and_in_mud():
    """By hand: 3110 ft of 29 lb/ft are 90.19 klbf; steel of 7850 kg/m3 is 65.5 ppg, in 12.6 ppg of mud the factor is
    1 - 12.6/65.5 = 0.8077, which makes 72.8 klbf; the well is upright.
    """
    rows = dict(table(text_of("brindlewick-4"), "Weight of the liner").rows)
    klbf = 4448.2216

    assert rows["in air"].si / klbf == pytest.approx(90.19, abs=0.02)
    assert rows["in mud, inside and outside"].si / klbf == pytest.approx(72.8, abs=0.1)
    assert rows["of which along the hole"].si / klbf == pytest.approx(72.8, abs=0.1)
    without = text_of("sketch")
    assert "not computed, needs" in str(table(without, "Weight of the liner").rows[0][1])
