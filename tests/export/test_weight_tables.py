"""The tables of weights and forces say what the trade reference says of its two wells, and what they need."""

from __future__ import annotations

import pytest

from schematic import check
from schematic.export.installation import installation_tables
from schematic.export.weight_tables import ARRIVES, BUCKLING, PULL, WEIGHTS, arrives_table
from schematic.outcome import Figure, MissingInput
from schematic.units import POUND_FORCE_N
from tests.depth.wells import WELLS

KLBF, KN = 1000.0 * POUND_FORCE_N, 1000.0
BRINDLEWICK, SOLLIVANE = check(WELLS / "brindlewick-4.yaml"), check(WELLS / "sollivane-a7.yaml")


def table(evaluation, title):
    return next(table for table in installation_tables(evaluation) if table.title == title)


def test_the_weights_of_the_vertical_scenario():
    """Liner 90.6 and 73.2, string 224.9 and 181.6, liner in cement 53 klbf; weights 2 %: trade reference, 5.1."""
    rows = {row[0]: [cell.si / KLBF for cell in row[1:]] for row in table(BRINDLEWICK, WEIGHTS).rows}

    assert rows["liner, in mud"][:2] == pytest.approx([90.6, 73.2], rel=0.02)
    assert rows["running string, in mud"][:2] == pytest.approx([224.9, 181.6], rel=0.02)
    assert rows["liner, cement in place"][1] == pytest.approx(53.0, rel=0.02)


def test_a_part_that_is_not_known_says_what_it_needs():
    rows = {row[0]: row for row in table(SOLLIVANE, PULL).rows}

    assert rows["drill pipe"][1].startswith("not known, needs")
    assert rows["drill pipe"][2:] == (None, None, None)
    assert isinstance(rows["liner"][2], Figure)


def test_buckling_is_told_without_friction_and_says_so():
    told = table(BRINDLEWICK, BUCKLING)

    assert "needs installation.friction" in told.note
    assert {(row[0], row[1], row[7]) for row in told.rows} >= {("tool", "drill pipe", "helical")}


def test_what_arrives_has_its_band():
    """220 kN on the packer of the deviated scenario for 199 kN slacked off (484 less 285): trade reference, 5.2."""
    rows = [[cell.si / KN for cell in row] for row in table(SOLLIVANE, ARRIVES).rows]

    below, above = next((a, b) for a, b in zip(rows, rows[1:], strict=False) if a[2] <= 220.0 <= b[2])
    assert below[0] <= 199.0 <= above[0]
    assert rows[-1][1] > rows[-1][2] > rows[-1][3]  # less friction brings more in the end
    with pytest.raises(MissingInput):
        arrives_table(BRINDLEWICK)


def test_what_arrives_beyond_what_is_slacked_off_is_drag_that_goes():
    """220 kN arrive for 199 slacked off (trade reference, 5.2): 21 kN less drag, and the finding says so."""
    (found,) = [one.answer for one in SOLLIVANE.findings if one.rule == "pipe-buckles"]

    assert found.figures["rest"].si / KN == pytest.approx(21.0, abs=1.0)
    assert "with less pull in the bends, drag holds {rest} less" in found.what
