"""The running string in a table from the top down, and what the liner weighs."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import RunningPart
from schematic.engineering.hanging import JOINTED, liner_pieces
from schematic.engineering.weights import liner_weight
from schematic.export.report import readable
from schematic.export.tables import Cell, Column, Table
from schematic.outcome import Figure, MissingInput
from schematic.program.well_tables import NOT_GIVEN, figure

RUNNING = "Running string, from the top down"
WEIGHT = "Weight of the liner"


def running_string_table(evaluation: Evaluation) -> Table | None:
    """Every part of the running string with the liner at depth; None where the file gives none.

    What hangs below the liner top stands inside the liner. A tool joint is asked for where there is one.
    """
    running = evaluation.plan.depth.running
    if running is None:
        return None

    def row(part: RunningPart) -> tuple[Cell, ...]:
        joints = part.kind in JOINTED or part.tool_joint_od_m is not None
        return (
            part.name if not part.label or part.label == part.name else f"{part.name}, {part.label}",
            Figure(part.length_m, "tally") if part.length_m > 0.0 else None,
            Figure(part.bottom_md_m, "tally"),
            figure(part.od_m, "diameter"),
            figure(part.id_m, "diameter"),
            figure(part.weight_kg_per_m, "weight"),
            figure(part.tool_joint_od_m, "diameter") if joints else "",
            figure(part.tool_joint_id_m, "diameter") if joints else "",
        )

    columns = (
        Column("part"),
        Column("length", "tally"),
        Column("bottom MD", "tally"),
        Column("OD", "diameter"),
        Column("ID", "diameter"),
        Column("weight", "weight"),
        Column("tool joint OD", "diameter"),
        Column("tool joint ID", "diameter"),
    )
    return Table(RUNNING, columns, tuple(map(row, running.parts)), _note(evaluation), NOT_GIVEN)


def _note(evaluation: Evaluation) -> str:
    running = evaluation.plan.depth.running
    assert running is not None
    inside = any(part.bottom_md_m > evaluation.plan.depth.liner.top_md_m + 1e-6 for part in running.parts)
    notes = ["weight in air, tool joints counted in"]
    if inside:
        notes.append("what ends below the liner top hangs inside the liner")
    return "; ".join(notes)


def liner_weight_table(evaluation: Evaluation) -> Table:
    """The liner in air and in mud, and what of it pulls along the hole; or what that needs."""
    plan = evaluation.plan
    columns = (Column("liner at depth"), Column("force", "force"))
    try:
        hung = liner_weight(plan)
    except MissingInput as error:
        needs = ", ".join(readable(evaluation, name) for name in error.missing)
        return Table(WEIGHT, columns, (("in air and in mud", f"not computed, needs {needs}"),))
    rows = (
        ("in air", Figure(hung.air_n, "force")),
        ("in mud, inside and outside", Figure(hung.buoyed_n, "force")),
        ("of it along the hole", Figure(hung.along_n, "force")),
    )
    taken = dict.fromkeys(piece.name for piece in liner_pieces(plan) if piece.as_pipe)
    note = f"taken to weigh what the liner's pipe weighs: {', '.join(taken)}" if taken else ""
    return Table(WEIGHT, columns, rows, note)
