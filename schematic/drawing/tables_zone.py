"""Small tables on a sheet: laps, cement, displacement, columns at rest; and the levels of the datum."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, SMALL_PT, wrap
from schematic.drawing.datum_sketch import datum_sketch
from schematic.drawing.fills import Rect
from schematic.drawing.findings import FLAG_MM, flag, letters
from schematic.drawing.grid import Paper
from schematic.drawing.page import LEFT_MM, fit, unit_text
from schematic.drawing.palette import FINE_MM, GREY, LIGHT_GREY
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.table_pages import printed
from schematic.drawing.text import width_mm
from schematic.export.report import in_words
from schematic.export.tables import (
    SECTIONS,
    Table,
    cement_table,
    displacement_table,
    fluids_in_short,
    laps_table,
    running_string_table,
    slurry_table,
    static_table,
    tops_table,
    u_tube_table,
)
from schematic.outcome import Figure, Found
from schematic.units import System, sentence_case

_BETWEEN_MM = 2.6  # between columns of figures
_MOST_WIDER = 1.2  # a table than on A4: a name then is not far from its figures
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
    figures = [
        i
        for i in columns
        if any(isinstance(row[i], Figure) or (row[i] and table.columns[i].kind) for row in table.rows)
    ]
    words = [i for i in columns if i not in figures and any(row[i] for row in table.rows)]

    def heading(i: int) -> str:
        return table.columns[i].head.replace(" MD", "").replace("sacks, 94 lb", "sacks")

    rows = [[printed(cell, system) for cell in row] for row in table.rows[:most_rows]]

    def heads(whole: bool) -> dict[int, tuple[str, ...]]:
        whole_or_not = {i: whole or "," in heading(i) for i in columns}  # a comma comes before a unit
        return {i: (heading(i),) if whole_or_not[i] else tuple(heading(i).rsplit(" ", 1)) for i in columns}

    def right_edges(heads: dict[int, tuple[str, ...]]) -> tuple[dict[int, float], float]:
        found, edge = {}, x_mm + width_mm_
        for i in reversed(figures):
            found[i] = edge
            edge -= max(width_mm(text, SMALL_PT) for text in (*heads[i], *(row[i] for row in rows)))
            edge -= _BETWEEN_MM
        return found, edge

    beside = [row for row in rows if any(row[j] for j in figures)]
    names = max((width_mm(row[i], SMALL_PT) for i in words[:1] for row in beside), default=0.0)
    above = heads(whole=True)
    edges, edge = right_edges(above)
    if edge - x_mm < names:  # heads of two words in two lines leave the names more room
        above = heads(whole=False)
        edges, edge = right_edges(above)
    slot = (edge - x_mm) / max(len(words), 1)
    deep = max(len(above[i]) for i in figures) if figures else 1
    y = y_mm + PITCH_MM * deep + 0.5
    for i, right in edges.items():
        shapes += [
            Text(right, y - PITCH_MM * n, line, colour=GREY, anchor="end")
            for n, line in enumerate(reversed(above[i]))
        ]
    if len(words) > 1:
        shapes += [Text(x_mm + slot * n, y, heading(i), colour=GREY) for n, i in enumerate(words)]
    for row in rows:
        y += PITCH_MM + 0.1
        for n, i in enumerate(words):
            free = slot
            if len(words) == 1:  # a name may run on under empty columns
                first = next((j for j in figures if row[j]), None)
                free = width_mm_
                if first is not None:
                    free = edges[first] - width_mm(row[first], SMALL_PT) - 1.2 - x_mm
            if row[i]:
                shapes.append(Text(x_mm + slot * n, y, fit(row[i], free)))
        for i in figures:
            if row[i]:
                shapes.append(Text(edges[i], y, row[i], anchor="end"))
    if len(table.rows) > most_rows:
        y += PITCH_MM + 0.1
        shapes.append(
            Text(x_mm, y, f"and {len(table.rows) - most_rows} more in 'lapline volumes'", colour=GREY)
        )
    return shapes


def _wider(paper: Paper) -> tuple[float, float]:
    """By how much more room there is across than on A4, and by how much wider a table is."""
    wider = (paper.right_mm - LEFT_MM) / 194.0
    return wider, min(wider, _MOST_WIDER)


def job_tables(evaluation: Evaluation, system: System, paper: Paper, top_mm: float) -> list[Group]:
    """A zone of tables in three stacks: laps and tops; cement by section; slurries and displacement."""
    wider, wide = _wider(paper)
    second, third = LEFT_MM + 57.0 * wider, LEFT_MM + 138.0 * wider
    columns: tuple[tuple[float, float, tuple[tuple[Table | None, tuple[int, ...], int], ...]], ...] = (
        (
            LEFT_MM,
            50.0 * wide,
            ((laps_table(evaluation), (0, 1), 4), (tops_table(evaluation), (0, 1, 2), 4)),
        ),
        (second, 74.0 * wide, ((cement_table(evaluation), (0, 2, 3, 4, 5, 6), 13),)),
        (
            third,
            56.0 * wide,
            ((slurry_table(evaluation), (0, 1, 2, 3), 7), (displacement_table(evaluation), (0, 1, 2, 3), 4)),
        ),
    )
    groups: list[Group] = []
    for x, width, stack in columns:
        y = top_mm + 3.6
        for table, shown, most in stack:
            if table is None:
                continue
            shapes = table_block(table, system, x, y, width, shown, most)
            if table.title == SECTIONS:
                foot = max(shape.y_mm for shape in shapes if isinstance(shape, Text)) + PITCH_MM + 0.1
                shapes += [
                    Text(x, foot + PITCH_MM * n, line, colour=GREY)
                    for n, line in enumerate(wrap(f"{sentence_case(table.note)}.", width))
                ]
            groups.append(Group(_CONCERNS.get(table.title, "cement"), table.title, tuple(shapes)))
            y = max(shape.y_mm for shape in shapes if isinstance(shape, Text)) + 2 * PITCH_MM
    if evaluation.cement is None:
        needs = next((one.needs for one in evaluation.missing if one.what == "cement"), ())
        lines = wrap(f"not computed, needs {in_words(evaluation, needs)}", 64.0 * wide)
        y = top_mm + 3.6
        texts = [
            Text(second, y + PITCH_MM * (n + 1) + 0.5, line, colour=GREY) for n, line in enumerate(lines)
        ]
        groups.append(Group("cement", "Cement", (Text(second, y, "Cement by section", bold=True), *texts)))
    foot = max(shape.y_mm for group in groups for shape in group.shapes if isinstance(shape, Text)) + 1.0
    uprights = tuple(((x, top_mm + 1.0), (x, foot)) for x in (second - 3.5, third - 3.5))
    groups.append(Group("", "details", (Path(uprights, Style(stroke=LIGHT_GREY, width_mm=FINE_MM)),)))
    return groups


def more_tables(
    evaluation: Evaluation, system: System, paper: Paper, top_mm: float
) -> tuple[list[Group], float]:
    """Datum, columns at rest and U-tube side by side; and how far down they reach."""
    wider, wide = _wider(paper)
    second, third = LEFT_MM + 63.0 * wider, LEFT_MM + 140.0 * wider
    sketch = Rect(LEFT_MM, top_mm, second - 4.0, top_mm + 24.0)
    groups = datum_sketch(evaluation, sketch, system)
    bottom = sketch.bottom_mm
    for table, x, width, columns in (
        (_not_given(static_table(evaluation)), second, 73.0 * wide, (0, 1, 2, 3, 4, 5)),
        (u_tube_table(evaluation), third, 54.0 * wide, (0, 1)),
    ):
        if table is None:
            continue
        shown = columns[: len(table.columns)]
        shapes = table_block(table, system, x, top_mm + 2.4, width, shown, 8)
        groups.append(Group("formation.pressures", table.title, tuple(shapes)))
        bottom = max(bottom, *(shape.y_mm for shape in shapes if isinstance(shape, Text)))
    return groups, bottom


def _not_given(table: Table | None) -> Table | None:
    """A table in which what the file does not give is a question mark."""
    if table is None:
        return None
    return table._replace(
        rows=tuple(tuple("?" if cell is None else cell for cell in row) for row in table.rows)
    )


def _flagged(evaluation: Evaluation, shapes: list[Shape], right_mm: float) -> list[Group]:
    """The letters of findings about a fluid, behind its row in the table, which ends at *right_mm*."""
    names = {s.text: s for s in shapes[1:] if isinstance(s, Text) and s.x_mm == LEFT_MM}
    x = right_mm + FLAG_MM + 1.0
    groups = []
    for letter, outcome in letters(evaluation):
        name = names.get(outcome.subject.name) if outcome.subject.path.startswith("fluids.") else None
        if name is not None and isinstance(outcome.answer, Found):
            shown = tuple(flag(x, name.y_mm - 0.78, letter, outcome.answer))
            groups.append(Group(outcome.subject.path, f"Finding {letter}", shown))
    return groups


def _with_length(table: Table | None) -> Table | None:
    """The running string without what has no length of its own, as a wiper plug; shorter headed."""
    if table is None:
        return None
    rows = (row for row in table.rows if isinstance(row[2], Figure))
    return table._replace(title="Running string", rows=tuple(rows))


def fluids_and_string(
    evaluation: Evaluation, system: System, paper: Paper, top_mm: float
) -> tuple[list[Group], float]:
    """The fluids and the running string side by side; and how far down they reach."""
    wider, wide = _wider(paper)
    groups: list[Group] = []
    bottom = top_mm
    for part, table, x, width, columns in (
        ("fluids", fluids_in_short(evaluation), LEFT_MM, 85.0 * wide, (0, 1, 2, 3)),
        (
            "running string",
            _with_length(running_string_table(evaluation)),
            LEFT_MM + 98.0 * wider,
            96.0 * wide,
            (0, 2, 4, 5, 7, 8, 9),
        ),
    ):
        if table is None or not table.rows:
            continue
        shapes = table_block(table, system, x, top_mm + 2.4, width, columns, 10)
        groups.append(Group(part, table.title, tuple(shapes)))
        if part == "fluids":
            groups += _flagged(evaluation, shapes, x + width)
        bottom = max(bottom, *(shape.y_mm for shape in shapes if isinstance(shape, Text)))
    return groups, bottom
