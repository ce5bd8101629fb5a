"""The tables hold together: sizes in order, every value with a status and a source."""

from itertools import pairwise

import pytest

from schematic.catalogue.rows import SPECIAL_CLEARANCE, casing_rows, drill_pipe_rows

CASING = casing_rows()
DRILL_PIPE = drill_pipe_rows()


def test_names_are_unique():
    for rows in (CASING, DRILL_PIPE):
        names = [row.name for row in rows]
        assert len(set(names)) == len(names)


def test_every_row_says_where_it_comes_from():
    for row in (*CASING, *DRILL_PIPE):
        assert row.status in ("read", "memory"), row.name
        assert row.source, row.name
        if row.status == "memory":
            assert "from memory" in row.source, row.name


def test_a_drill_pipe_whose_body_was_read_says_that_its_tool_joint_was_not():
    for row in DRILL_PIPE:
        if row.status == "read":
            assert row.note.startswith("tool joint"), row.name
            assert "from memory" in row.note, row.name


def test_casing_grows_in_size_and_weight():
    for lighter, heavier in pairwise(CASING):
        assert (lighter.od_m, lighter.nominal_weight_kg_per_m) < (
            heavier.od_m,
            heavier.nominal_weight_kg_per_m,
        )
        if lighter.od_m == heavier.od_m:
            assert lighter.id_m > heavier.id_m
            assert lighter.wall_m < heavier.wall_m


@pytest.mark.parametrize("row", CASING, ids=lambda row: row.name)
def test_diameters_nest(row):
    """Drift in bore in body in coupling; the special clearance coupling is the slimmer one."""
    if row.drift_m is not None:
        assert row.drift_m < row.id_m
    if row.alternative_drift_m is not None:
        assert row.drift_m < row.alternative_drift_m < row.id_m
    for od_m in row.coupling_od_m.values():
        if od_m is not None:
            assert od_m > row.od_m
    slim, usual = row.coupling_od_m[SPECIAL_CLEARANCE], row.coupling_od_m["buttress"]
    if slim is not None:
        assert slim < usual


@pytest.mark.parametrize("row", CASING, ids=lambda row: row.name)
def test_the_nominal_weight_is_near_that_of_the_body(row):
    """Within 5 %: a wall or a weight in the wrong row would stand out. Conductors: a rounding."""
    tolerance = 0.05 if row.drift_m is not None else 0.002

    ratio = row.plain_end_weight_kg_per_m / row.nominal_weight_kg_per_m

    assert ratio == pytest.approx(1.0, abs=tolerance)


@pytest.mark.parametrize("row", DRILL_PIPE, ids=lambda row: row.name)
def test_tool_joints_are_heavier_wider_and_tighter_than_the_body(row):
    if row.tool_joint is None:
        assert row.tool_joint_od_m is row.tool_joint_id_m is row.adjusted_weight_kg_per_m is None
        assert row.metal_displacement_m3_per_m is None
        return
    assert row.tool_joint_od_m > row.od_m
    assert row.adjusted_weight_kg_per_m >= row.nominal_weight_kg_per_m
    if row.kind == "drill pipe":
        assert row.tool_joint_id_m < row.id_m
    else:  # heavy-weight pipe has its joints bored a little wider than the body
        assert row.tool_joint_id_m < 1.1 * row.id_m


def test_a_row_cannot_be_changed():
    with pytest.raises(TypeError):
        CASING[0].coupling_od_m["buttress"] = 1.0
    with pytest.raises(AttributeError):
        CASING[0].od_m = 1.0
    assert len({CASING[0], CASING[0]}) == 1
