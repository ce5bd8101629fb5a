"""What the liner weighs, in a table."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.engineering.hanging import liner_pieces
from schematic.engineering.weights import liner_weight
from schematic.export.report import readable
from schematic.export.tables import Column, Table
from schematic.outcome import Figure, MissingInput

WEIGHT = "Weight of the liner"


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
        ("of which along the hole", Figure(hung.along_n, "force")),
    )
    taken = dict.fromkeys(piece.name for piece in liner_pieces(plan) if piece.as_pipe)
    note = f"taken to weigh what the liner's pipe weighs: {', '.join(taken)}" if taken else ""
    return Table(WEIGHT, columns, rows, note)
