"""What passes what, as it is printed: first restrictions, matrices, one row a pair, and on the sheet."""

from __future__ import annotations

import pytest

from schematic import check
from schematic.drawing.scene import Text
from schematic.export.passage import (
    in_short,
    passage_table,
    restrictions_table,
    run_in_table,
    smallest,
    through_table,
)
from schematic.export.report import missing_inputs
from schematic.export.tables import as_data, as_text
from schematic.outcome import Figure
from schematic.verbs import demos, load_text, sheet
from tests.checks.wells import BRINDLEWICK, changed

STUCK = changed(BRINDLEWICK, ("id: 2 3/4 in", "id: 1.8 in"))


def printed(table) -> str:
    return as_text(table, "field")


def row(table, name: str):
    (found,) = [one for one in table.rows if one[0] == name]
    return found


@pytest.mark.parametrize("name", sorted(demos()))
def test_tables_go_out_whole(name):
    evaluation = check(load_text(demos()[name]))
    system = evaluation.plan.identity.system
    passage = evaluation.job.passage

    pairs, firsts = passage_table(evaluation, system), restrictions_table(evaluation, system)

    assert len(pairs.rows) == sum(len(way.meetings) for way in passage.ways)
    assert len(firsts.rows) == len(passage.ways) + len(passage.missing)
    for table in (pairs, firsts, run_in_table(evaluation, system), through_table(evaluation)):
        assert len({column.head for column in table.columns}) == len(table.columns)
        assert len(as_data(table, system)["rows"]) == len(table.rows)


def test_the_first_restriction_is_named_with_its_depth_and_what_is_clear():
    firsts = restrictions_table(check(load_text(BRINDLEWICK)), "field")

    assert row(firsts, "inner string")[2] == "bore of hydraulic hanger"
    assert row(firsts, "inner string")[3].si / 0.3048 == pytest.approx(9_498.3)
    assert row(firsts, "inner string")[5].si / 0.0254 == pytest.approx(6.160 - 3.5)
    assert row(firsts, "ball")[-1] == "not checked, needs bore of wiper plug"


def test_a_ball_that_would_pass_too_closely_is_told_with_what_is_wanted():
    """1.8 in of bore around 1 3/4 in: 0.050 in, and 1/8 in is wanted."""
    evaluation = check(load_text(STUCK))

    assert row(restrictions_table(evaluation, "field"), "ball")[-1] == "does not pass, 0.125 in is wanted"
    assert "does not pass" in printed(through_table(evaluation))
    assert (
        "Ball 1.750 in, bore of tool joint of drill pipe 1.800 in: does not pass, 0.125 in is wanted."
        in on_paper(evaluation)
    )


def test_a_drift_that_is_not_given_is_not_passed_in_the_matrix():
    text = changed(demos()["sollivane-a7.yaml"], ("    drift: 700 mm\n", ""))
    table = run_in_table(check(load_text(text)), "metric")
    column = [one.head for one in table.columns].index("30 in string")

    assert {one[column] for one in table.rows} == {"not checked"}


def test_of_two_strings_of_one_size_the_matrix_shows_the_tighter():
    """Corrick 5 goes through a tie-back and a liner of 7 in; with 6.125 in for one and 6.059 in for the other."""
    first = demos()["corrick-5.yaml"].replace(
        ", special drift: {diameter: 6.125 in, certificate: drifted on the rack before running}}", "}"
    )
    table = run_in_table(check(load_text(first)), "field")
    column = [one.head for one in table.columns].index("7 in string")

    assert row(table, "mechanical hanger")[column].si / 0.0254 == pytest.approx(6.059 - 5.875, abs=0.0005)


def on_paper(evaluation) -> str:
    lines = [
        shape.text
        for scene in sheet(evaluation).scenes
        for group in scene.groups
        for shape in group.shapes
        if isinstance(shape, Text) and (group.part in ("passage", "") or group.title == "job")
    ]
    return " ".join(lines)


def test_the_first_restrictions_stand_on_the_sheet():
    evaluation = check(load_text(BRINDLEWICK))
    told = on_paper(evaluation)

    for text in in_short(evaluation, "field"):
        assert text[1:] in told
    assert "clear around ball 1.000 in" in told


def test_the_drift_of_the_liner_is_told_only_where_something_else_is_tighter():
    """6.059 in through its own pipe says nothing; through a hanger of 6.0 in it does not pass."""
    plain = in_short(check(load_text(BRINDLEWICK)), "field")
    narrow = in_short(check(load_text(changed(BRINDLEWICK, ("id: 6.160 in", "id: 6.000 in")))), "field")

    assert not any(text.startswith("drift of the liner") for text in plain)
    assert any(
        text.startswith("drift of the liner 6.059 in, bore of hydraulic hanger 6.000 in") for text in narrow
    )
    assert isinstance(through_table(check(load_text(BRINDLEWICK))).rows[1][2], Figure)


def test_the_smallest_drift_of_the_way_through_names_its_part():
    """7 in 29 lb/ft: 6.184 in less 1/8 in, 6.059 (API 5CT); a hanger of 6.000 in is less, one without a bore is named."""
    least = [
        smallest(check(load_text(text)))
        for text in (
            BRINDLEWICK,
            changed(BRINDLEWICK, ("id: 6.160 in", "id: 6.000 in")),
            changed(BRINDLEWICK, ("      id: 6.160 in\n", "")),
        )
    ]

    assert [one.where for one in least] == ["liner pipe", "hydraulic hanger", "liner pipe"]
    assert [one.m / 0.0254 for one in least] == pytest.approx([6.059, 6.000, 6.059], abs=0.0005)
    assert [one.unknown for one in least] == [(), (), ("hydraulic hanger",)]


def test_the_bore_of_a_collar_is_told_from_its_ball_seat():
    """The seat of 1.500 in is given, what is left when it is gone is not: the plug stops in that."""
    evaluation = check(load_text(BRINDLEWICK))
    asked = [name for name, _count in missing_inputs(evaluation)]

    assert "bore of landing collar once its ball seat is gone" in asked
    assert any("landing collar but for its ball seat" in text for text in evaluation.volumes.notes)
