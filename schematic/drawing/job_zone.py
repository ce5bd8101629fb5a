"""The job on the sheet: tables of laps, cement and displacement, job numbers, what was assumed."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN, wrap
from schematic.drawing.page import LEFT_MM, fit, unit_text
from schematic.drawing.palette import FINE_MM, GREY, LIGHT_GREY
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.export.report import assumed_texts
from schematic.export.tables import (
    Cell,
    Table,
    cement_table,
    displacement_table,
    laps_table,
    slurry_table,
    tops_table,
)
from schematic.outcome import Figure
from schematic.units import System, number, sentence_case, show

_CONCERNS = {"Laps": "liner.lap", "Top of cement": "cement.planned top"}


def table_block(
    table: Table,
    system: System,
    x_mm: float,
    y_mm: float,
    width_mm_: float,
    columns: Sequence[int],
    most_rows: int,
) -> list[Shape]:
    """A small table without frames: title bold, heads grey, figures right-set."""
    units = dict.fromkeys(unit_text(table.columns[i].kind, system) for i in columns if table.columns[i].kind)
    shapes: list[Shape] = [Text(x_mm, y_mm, ", ".join([table.title, *units]), bold=True)]
    rows = table.rows[:most_rows]
    figures = [i for i in columns if any(isinstance(row[i], Figure) for row in table.rows)]
    words = [i for i in columns if any(isinstance(row[i], str) for row in table.rows)]

    def heading(i: int) -> str:
        return table.columns[i].head.replace(" MD", "").replace("sacks, 94 lb", "sacks")

    def printed(i: int, row: tuple[Cell, ...]) -> str:
        cell = row[i]
        return number(cell.si, cell.kind, system, THIN) if isinstance(cell, Figure) else cell or ""

    edges: dict[int, float] = {}
    edge = x_mm + width_mm_
    for i in reversed(figures):
        edges[i] = edge
        widest = max(width_mm(text, SMALL_PT) for text in (heading(i), *(printed(i, row) for row in rows)))
        edge -= widest + 2.6
    slot = (edge - x_mm) / max(len(words), 1)
    y = y_mm + PITCH_MM + 0.5
    for i, right in edges.items():
        shapes.append(Text(right, y, heading(i), colour=GREY, anchor="end"))
    for row in rows:
        y += PITCH_MM + 0.1
        for n, i in enumerate(words):
            free = slot
            if len(words) == 1:  # a name may run on under empty columns
                first = next((j for j in figures if row[j] is not None), None)
                if first is not None:
                    free = edges[first] - width_mm(printed(first, row), SMALL_PT) - 1.2 - x_mm
            if row[i] is not None:
                shapes.append(Text(x_mm + slot * n, y, fit(printed(i, row), free)))
        for i in figures:
            if row[i] is not None:
                shapes.append(Text(edges[i], y, printed(i, row), anchor="end"))
    if len(table.rows) > most_rows:
        y += PITCH_MM + 0.1
        shapes.append(
            Text(x_mm, y, f"and {len(table.rows) - most_rows} more in 'lapline volumes'", colour=GREY)
        )
    return shapes


def job_tables(evaluation: Evaluation, system: System, top_mm: float) -> list[Group]:
    """Zone of details in three stacks: laps and tops; cement by section; slurries and displacement."""
    columns: tuple[tuple[float, float, tuple[tuple[Table | None, tuple[int, ...], int], ...]], ...] = (
        (LEFT_MM, 56.0, ((laps_table(evaluation), (0, 1), 4), (tops_table(evaluation), (0, 1, 2), 3))),
        (71.0, 66.0, ((cement_table(evaluation), (0, 2, 3, 4, 5), 13),)),
        (
            144.0,
            58.0,
            ((slurry_table(evaluation), (0, 1, 2, 3), 7), (displacement_table(evaluation), (0, 1, 2), 4)),
        ),
    )
    groups: list[Group] = []
    for x, width, stack in columns:
        y = top_mm + 3.6
        for table, shown, most in stack:
            if table is None:
                continue
            shapes = table_block(table, system, x, y, width, shown, most)
            groups.append(Group(_CONCERNS.get(table.title, "cement"), table.title, tuple(shapes)))
            y = max(shape.y_mm for shape in shapes if isinstance(shape, Text)) + 2 * PITCH_MM
    if evaluation.cement is None:
        needs = next((one.needs for one in evaluation.missing if one.what == "cement"), ())
        lines = wrap(f"not computed, needs {', '.join(needs)}", 64.0)
        y = top_mm + 3.6
        texts = [Text(71.0, y + PITCH_MM * (n + 1) + 0.5, line, colour=GREY) for n, line in enumerate(lines)]
        groups.append(Group("cement", "Cement", (Text(71.0, y, "Cement by section", bold=True), *texts)))
    uprights = tuple(((x, top_mm + 1.0), (x, top_mm + 51.0)) for x in (67.5, 140.5))
    groups.append(Group("", "details", (Path(uprights, Style(stroke=LIGHT_GREY, width_mm=FINE_MM)),)))
    return groups


def remarks(evaluation: Evaluation, top_mm: float, left_mm: float, width: float, most: int) -> Group:
    """What was assumed, and what counts as something else: the sheet's honesty in words."""
    texts = list(assumed_texts(evaluation))
    liner = evaluation.plan.depth.liner
    if liner.assembly_assumed or any(part.length_assumed for part in liner.parts):
        texts.append("a length after \u2248 is assumed")
    shapes: list[Shape] = [Text(left_mm, top_mm, "Assumed or not given", bold=True)]
    lines: list[str] = []
    for text in texts or ["nothing"]:
        lines += wrap(sentence_case(text) + ".", width)
    if len(lines) > most:
        lines = [*lines[: most - 1], "more in 'lapline check'"]
    shapes += [Text(left_mm, top_mm + 0.4 + PITCH_MM * (row + 1), line) for row, line in enumerate(lines)]
    return Group("", "assumed", tuple(shapes))


def job_numbers(
    evaluation: Evaluation, system: System, top_mm: float, left_mm: float, right_mm: float
) -> Group:
    """Job numbers that the plan states or that were computed, figure to the right."""
    plan, cement, displaced = evaluation.plan, evaluation.cement, evaluation.displacement
    rows: list[tuple[str, str]] = []

    def row(name: str, si: float | None, kind: str) -> None:
        if si is not None:
            rows.append((name, show(si, kind, system, THIN).replace("m3", "m\u00b3")))

    if displaced:
        row("displacement to bump", displaced.to_bump_m3, "volume")
    if cement:
        sacks = sum(s.sacks for s in cement.slurries if s.sacks is not None)
        row(
            f"cement, {sacks:.0f} sacks" if sacks and system == "field" else "cement",
            cement.total_m3,
            "volume",
        )
        excess = plan.cement.open_hole_excess
        row(
            f"of it excess, {show(excess, 'percent', system)} of open hole" if excess else "of it excess",
            cement.excess_m3,
            "volume",
        )
        water = [s.mix_water_m3 for s in cement.slurries]
        if water and all(w is not None for w in water):
            row("mix water", sum(w for w in water if w is not None), "volume")
        row("to reverse out, no loss", cement.above_liner_top_m3, "volume")
    mud = plan.fluid("mud")
    row("mud", mud.density_kg_per_m3 if mud else None, "density")
    row("packer set down", plan.job.packer_set_down_n, "force")
    row("hanger rating", plan.job.hanger_rating_n, "force")
    for test in plan.job.tests:
        row(f"test: {test.name}", test.surface_pressure_pa, "pressure")
    shapes: list[Shape] = [Text(left_mm, top_mm, "Job", bold=True)]
    if not rows:
        shapes.append(Text(left_mm, top_mm + 0.4 + PITCH_MM, "nothing given or computed", colour=GREY))
    for index, (name, figure) in enumerate(rows[:9]):
        y = top_mm + 0.4 + PITCH_MM * (index + 1)
        shapes.append(
            Text(left_mm, y, fit(name, right_mm - left_mm - width_mm(figure, SMALL_PT, True) - 1.5))
        )
        shapes.append(Text(right_mm, y, figure, bold=True, anchor="end"))
    return Group("", "job", tuple(shapes))
