"""The running sheet as pages: the table with its head on each, the well's head above, the caution below."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.drawing.comparison_page import page_scene
from schematic.drawing.grid import A4, Paper
from schematic.drawing.scene import Sheet
from schematic.drawing.table_pages import table_pages
from schematic.export.running_sheet import running_sheet_tables
from schematic.units import System, size

# What paper has no room for: of the string so far the depth of the shoe tells; without floats steel counts.
_LEFT_OUT = {
    True: ("string so far", "steel", "fill so far"),
    False: ("string so far", "closed end", "closed end so far", "fill", "fill so far"),
}
_SHOWS = {
    True: "Floats hold: the trip tank gains the closed end, the steel if it gives the fill.",
    False: "No float: it fills by itself, and the trip tank gains the steel.",
}


def running_sheet_pages(evaluation: Evaluation, system: System, paper: Paper = A4) -> Sheet:
    """The pages of a well's running sheet."""
    liner = evaluation.plan.depth.liner
    subject = f"{size(liner.od_m, system)} liner: running sheet"
    sheet, *others = running_sheet_tables(evaluation, system)
    lacks = "; ".join(f"{row[0]} needs {row[1]}" for table in others for row in table.rows)
    closed = evaluation.job.running_sheet.closed_end
    kept = [i for i, column in enumerate(sheet.columns) if column.head not in _LEFT_OUT[closed]]
    printed = sheet._replace(
        columns=tuple(sheet.columns[i] for i in kept),
        rows=tuple(tuple(row[i] for i in kept) for row in sheet.rows),
        note=f"{sheet.note}; not computed: {lacks}" if lacks else sheet.note,
    )
    pages = table_pages([printed], system, paper, ruled=5)
    place = [(number, len(pages), "running sheet") for number in range(1, len(pages) + 1)]
    scenes = (
        page_scene(evaluation, groups, subject, None, system, paper, where, _SHOWS[closed], scaled=False)
        for groups, where in zip(pages, place, strict=True)
    )
    return Sheet(tuple(scenes))
