"""What a sheet says of what is missing, not planned, opened or assumed; limits in the unit of their owner."""

import pytest

from schematic.catalogue.limits import profile
from schematic.export.around import liner_stands
from schematic.export.report import as_text, missing_inputs, not_computed, status
from schematic.export.tables import laps_table
from schematic.outcome import NotChecked
from schematic.verbs import check, demos, load_text


def well(name):
    return check(load_text(demos()[name], name))


def test_a_well_of_which_nothing_is_found_says_how_much_is_missing():
    sketch = well("sketch.yaml")

    assert status(sketch) == f"nothing found, {len(missing_inputs(sketch))} inputs missing"
    assert as_text(sketch, "metric").startswith(f"{status(sketch)}\n")


def test_what_parts_of_one_name_lack_is_asked_for_once():
    """The sketch has three joints without a length, in a string of joints and in the shoe track."""
    sketch = well("sketch.yaml")
    names = [name for name, _count in missing_inputs(sketch)]
    paths = {
        path for one in sketch.outcomes if isinstance(one.answer, NotChecked) for path in one.answer.missing
    }

    assert sum(path.startswith("liner.assembly.") and path.endswith(".length") for path in paths) == 3
    assert names.count("length of joint") == 1
    assert len(names) == len(paths) - 2


def test_stages_that_no_file_plans_are_not_computed():
    assert not_computed(well("ossmere-9.yaml")) == (
        "second stage through the stage collar: not planned in this file",
        "inflation volume of the external packer: not planned in this file",
    )


def test_opened_hole_is_told_with_its_size():
    assert (
        liner_stands(well("ossmere-9.yaml"), "metric") == "in 8 1/2 in hole, part opened to 9 7/8 in"
    )  # down to 3300 m of 3610


def test_laps_that_end_on_assumed_lengths_are_signed():
    assumed = [row[1].assumed for row in laps_table(well("sketch.yaml")).rows]

    assert assumed == [False, True, True]
    assert not any(row[1].assumed for row in laps_table(well("brindlewick-4.yaml")).rows)


@pytest.mark.parametrize(
    ("system", "name", "text"),
    [
        ("metric", "least test over fracture", "500 psi (34.5 bar)"),  # 500 x 0.0689476
        ("field", "least test over fracture", "500 psi"),
        ("metric", "routine inflow", "500 psi (34.5 bar)"),
        ("field", "greatest lap", "300 m (984.3 ft)"),  # 300 / 0.3048
        ("metric", "least gap in hole", "1.0 in (25.4 mm)"),
        ("metric", "least gap of bands", "20 bar"),
    ],
)
def test_a_limit_that_is_written_in_one_unit_keeps_it_and_is_told_in_that_of_the_sheet_too(
    system, name, text
):
    assert profile("common practice", system)[name].text == text
