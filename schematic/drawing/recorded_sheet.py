"""The record beside the plan as pages, across the paper: a row has many columns."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.drawing.comparison_page import page_scene
from schematic.drawing.grid import A4, Paper, turned
from schematic.drawing.scene import Sheet
from schematic.drawing.table_pages import table_pages
from schematic.export.recorded import record_tables
from schematic.units import System, size


def recorded_pages(evaluation: Evaluation, system: System, paper: Paper = A4) -> Sheet:
    """The pages of a well's record; none where nothing was recorded."""
    subject = f"{size(evaluation.plan.depth.liner.od_m, system)} liner: planned and recorded"
    across = turned(paper)
    made = record_tables(evaluation, system)
    pages = table_pages(made, system, across, ruled=5) if made else []
    return Sheet(
        tuple(
            page_scene(
                evaluation,
                groups,
                subject,
                None,
                system,
                across,
                (number, len(pages), "planned and recorded"),
                "What was read on the job, in the order of its steps.",
                scaled=False,
            )
            for number, groups in enumerate(pages, 1)
        )
    )
