"""Columns of printed tables: no word and no figure is broken, on the width that A4 leaves."""

from __future__ import annotations

import pytest

from schematic import verbs
from schematic.drawing.text import width_mm
from schematic.export.installation import SETTING, installation_tables
from schematic.export.tables import Table
from schematic.program.columns import Printed, lay_out
from schematic.units import System

ROOM_MM, SIZE_PT, PAD_MM = 174.0, 7.5, 2.6
LONGEST_MM = 34.0  # a longer word is broken


def laid(table: Table, system: System) -> Printed:
    return lay_out(table, system, ROOM_MM, SIZE_PT, PAD_MM)


@pytest.mark.parametrize("system", ["field", "metric"])
@pytest.mark.parametrize("name", verbs.demos())
def test_no_word_of_the_installation_is_broken(name, system):
    for table in installation_tables(verbs.check(verbs.load_text(verbs.demos()[name]))):
        its = laid(table, system)

        assert sum(its.widths_mm) <= ROOM_MM + 1e-6, table.title
        for column, width in enumerate(its.widths_mm):
            words = [word for row in its.rows for word in row[column].split(" ")]
            longest = max(width_mm(word, SIZE_PT) for word in words)
            head = max(width_mm(word, SIZE_PT, True) for word in its.heads[column].split(" "))
            assert width + 1e-6 >= max(min(longest, LONGEST_MM), head) + PAD_MM, (table.title, column)


def test_words_have_what_the_figures_of_a_wide_table_leave():
    made = installation_tables(verbs.check(verbs.load_text(verbs.demos()["brindlewick-4.yaml"])))
    its = laid(next(table for table in made if table.title == SETTING), "field")

    why = its.heads.index("why")
    assert sum(its.widths_mm) == pytest.approx(ROOM_MM)
    assert its.widths_mm[why] == max(its.widths_mm)
