"""The liner's tally: part by part as it is made up, from the shoe to the top."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.export.tables import Cell, Column, Table, part_name
from schematic.outcome import Figure
from schematic.units import sentence_case

TALLY = "Liner tally, from the shoe up"


def tally_table(evaluation: Evaluation) -> Table:
    """The liner as it is made up: part by part from the shoe to the top, with the length so far."""
    liner = evaluation.plan.depth.liner
    rows: list[tuple[Cell, ...]] = []
    so_far = 0.0
    for index, part in enumerate(reversed(liner.parts), 1):
        so_far += part.length_m
        bore = part.seat_m if part.id_m is None else part.id_m  # a ball seat is the bore there
        rows.append(
            (
                Figure(index, "count"),
                part_name(part.kind, part.name, part.joints, part.rest_m, evaluation.plan.identity.system),
                Figure(part.length_m, "tally"),
                Figure(so_far, "tally"),
                Figure(part.bottom_md_m, "tally"),
                Figure(part.top_md_m, "tally"),
                None if part.od_m is None else Figure(part.od_m, "diameter"),
                None if bore is None else Figure(bore, "diameter"),
            )
        )
    columns = (
        Column("no."),
        Column("part"),
        Column("length", "tally"),
        Column("length so far", "tally"),
        Column("bottom MD", "tally"),
        Column("top MD", "tally"),
        Column("OD", "diameter"),
        Column("ID", "diameter"),
    )
    return Table(TALLY, columns, tuple(rows), blank="not given")


def closure_table(evaluation: Evaluation) -> Table:
    """The liner top from both ends: up from the shoe by the parts, down from the rotary by the string."""
    liner, running = evaluation.plan.depth.liner, evaluation.plan.depth.running
    up = liner.shoe_md_m - sum(part.length_m for part in liner.parts)
    down = None if running is None else running.above_liner_top_m - running.stick_up_m
    ways = [up, liner.top_md_m, *(() if down is None else (down,))]
    rows: tuple[tuple[Cell, ...], ...] = (
        ("up from the shoe, by the parts", Figure(up, "tally")),
        ("by lap or top, as written", Figure(liner.top_md_m, "tally")),
        (
            "down from the rotary, by the running string",
            "needs running string" if down is None else Figure(down, "tally"),
        ),
        ("furthest apart", Figure(max(ways) - min(ways), "tally")),
    )
    notes = [
        *(["some lengths of joints are assumed"] if any(part.length_assumed for part in liner.parts) else []),
        *([f"in the liner {liner.closes_by} closes it"] if liner.closes_by else []),
        *([f"in the running string {running.closes_by} closes it"] if running and running.closes_by else []),
    ]
    note = f"{sentence_case('; '.join(notes))}." if notes else ""
    return Table("Closure at the liner top", (Column("way"), Column("MD", "tally")), rows, note)
