"""Options of a well side by side: all wells on one depth scale, what differs under each, then in words.

The well as written stands first on every page, so that each option is seen beside it. An option that cannot
be has a column that says why.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.comparison import figures as told
from schematic.comparison.compare import (
    Alternative,
    changes,
    findings_that_differ,
    in_words,
    not_computed_table,
    what_differs,
)
from schematic.drawing.captions import PITCH_MM, SMALL_PT, wrap
from schematic.drawing.common_scale import common_frame
from schematic.drawing.comparison_page import (
    RULER_TO_MM,
    below_what_sticks_out,
    labels,
    page_scene,
    plain_grid,
    well,
)
from schematic.drawing.frame import Frame
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM
from schematic.drawing.grid import PAPERS, Paper, turned
from schematic.drawing.option_marks import key_depths, lap_dimension, option_flags
from schematic.drawing.page import LEFT_MM, MEDIUM_PT, fit, raised, rule, unit_text
from schematic.drawing.palette import FINE_MM, GREY, OUTLINE_MM
from schematic.drawing.ruler_track import depth_track, places
from schematic.drawing.scene import Group, Shape, Sheet, Text
from schematic.drawing.shared_findings import Letters, findings_table, shared_letters
from schematic.drawing.table_pages import FOOT_MM, printed, table_pages
from schematic.drawing.text import width_mm
from schematic.export.report import counts
from schematic.export.tables import Table
from schematic.outcome import Figure
from schematic.units import System, sentence_case, size

_FROM_MM = RULER_TO_MM + 2.0
_COLUMN_MM = 52.0  # least width of a column
_WIDEST_MM = 37.0  # the well with its hatch
_LABELS_MM = 17.5  # beside it, leaders counted
_BEFORE_MM = 4.5  # for the lap to the left of it
_NAMES_MM = 29.2
_LEAST_WELL_MM = 95.0
_ROW_MM = 2.85
_VALUE_MM = 8.0  # right of the axis: where the figures of a row end
# rows that are told under the wells where there is no room for all
_KEY_ROWS = (
    told.LINER_TOP,
    told.LENGTH,
    told.LAP,
    told.HANGER_LAP,
    told.BIT,
    told.DRIFT_GAP,
    told.HOLE_GAP,
    told.BUMP,
    told.CEMENT,
    told.REVERSED,
    told.SPARE,
    told.SEAT,
    told.FALL,
    told.PUMPED,
)


class _Slot(NamedTuple):
    """The column of an alternative on its page."""

    alternative: Alternative
    left_mm: float
    right_mm: float
    axis_mm: float
    labels_mm: float


def options_sheet(alternatives: Sequence[Alternative], system: System, paper: Paper | None = None) -> Sheet:
    """The pages of the options of a well, the well as written first.

    Without *paper* three ways stand on A4 portrait, four on A4 landscape, more on A3 landscape, page after
    page on the same scale.

    Raises
    ------
    ValueError
        When the first alternative, the well as written, has no evaluation.
    """
    base = alternatives[0].evaluation
    if base is None:
        raise ValueError("the well as written has to be drawn first, and cannot be")
    sheet = _paper(len(alternatives)) if paper is None else paper
    per_page = max(int((sheet.right_mm - _FROM_MM) / _COLUMN_MM), 2)
    others = list(alternatives[1:])
    shown = [
        [alternatives[0], *others[at : at + per_page - 1]]
        for at in range(0, max(len(others), 1), per_page - 1)
    ]
    able = [one.evaluation for one in alternatives if one.evaluation is not None]
    names = shared_letters(able)
    differs = what_differs(tuple(alternatives), system)
    slots = [_slots(page, sheet) for page in shown]
    top = max(_heads_end_mm(slot) for page in slots for slot in page) + 3.4
    rows, whole = _rows_that_fit(differs, sheet.title_mm - FOOT_MM - top - _LEAST_WELL_MM)
    whole = whole and all(_row_name(row, page[0]) == row[0] for row in rows for page in slots)
    bottom = sheet.title_mm - FOOT_MM - _rows_height(rows) - 3.6 - ROCK_WIDTH_MM
    frame = common_frame(
        able,
        system,
        top_mm=top,
        bottom_mm=bottom,
        widest_mm=_widest_mm(slots[0][0]),
        hatch_mm=ROCK_WIDTH_MM,
    )
    bodies: list[tuple[str, list[Group], Frame | None]] = [
        ("options", _wells(page, frame, system, sheet, rows, names, columns_of(differs, page)), frame)
        for page in slots
    ]
    texts = [_raised(in_words(tuple(alternatives), system)), changes(tuple(alternatives))]
    texts += [_raised(findings_that_differ(tuple(alternatives), system))]
    texts.append(findings_table(alternatives, names, system))
    texts.append(not_computed_table(tuple(alternatives), system))
    if not whole:
        texts += [_part(differs, page) for page in shown]
    bodies += [("options in words", groups, None) for groups in table_pages(texts, system, sheet)]
    subject = f"{_subject(base, system)}: options side by side"
    return Sheet(
        tuple(
            page_scene(base, groups, subject, drawn, system, sheet, (number_, len(bodies), what))
            for number_, (what, groups, drawn) in enumerate(bodies, 1)
        )
    )


def _paper(count: int) -> Paper:
    if count <= 3:
        return PAPERS["a4"]
    return turned(PAPERS["a4"] if count == 4 else PAPERS["a3"])


def _subject(base: Evaluation, system: System) -> str:
    return f"{size(base.plan.depth.liner.od_m, system)} {base.plan.identity.purpose or 'liner'}"


def _widest_mm(slot: _Slot) -> float:
    return min(_WIDEST_MM, slot.right_mm - slot.left_mm - _LABELS_MM - _BEFORE_MM)


def _slots(page: Sequence[Alternative], paper: Paper) -> list[_Slot]:
    width = (paper.right_mm - _FROM_MM) / max(len(page), 2)
    made = []
    for index, one in enumerate(page):
        left = _FROM_MM + index * width
        slot = _Slot(one, left, left + width - 1.5, 0.0, 0.0)
        axis = left + _BEFORE_MM + 0.5 * _widest_mm(slot)
        made.append(slot._replace(axis_mm=axis, labels_mm=axis + 0.5 * _widest_mm(slot) + 3.4))
    return made


def columns_of(differs: Table, page: Sequence[_Slot]) -> dict[str, int]:
    """Where the column of each alternative of a page stands in the table of what differs."""
    heads = [column.head for column in differs.columns]
    return {
        slot.alternative.name: heads.index(slot.alternative.name)
        for slot in page
        if slot.alternative.evaluation
    }


def _heads(slot: _Slot) -> list[Shape]:
    """The name of an alternative, and how many findings it has."""
    one, room = slot.alternative, slot.right_mm - slot.left_mm
    name = sentence_case(one.name)
    large = width_mm(name, MEDIUM_PT, True) <= room
    lines = (name,) if large else wrap(name, room, bold=True)
    shapes: list[Shape] = [
        Text(slot.left_mm, _NAMES_MM + PITCH_MM * row, line, MEDIUM_PT if large else SMALL_PT, bold=True)
        for row, line in enumerate(lines)
    ]
    y = _NAMES_MM + PITCH_MM * (len(lines) - 1) + 3.6
    words = "cannot be" if one.evaluation is None else counts(one.evaluation)
    shapes += [Text(slot.left_mm, y + PITCH_MM * row, line) for row, line in enumerate(wrap(words, room))]
    return shapes


def _heads_end_mm(slot: _Slot) -> float:
    return max(shape.y_mm for shape in _heads(slot) if isinstance(shape, Text)) + 1.2


def _rows_height(rows: Sequence[tuple[object, ...]]) -> float:
    return 4.4 + _ROW_MM * len(rows)


def _rows_that_fit(differs: Table, room_mm: float) -> tuple[list[tuple[object, ...]], bool]:
    """All rows that differ; where they leave the wells too low, the key rows alone."""
    rows: list[tuple[object, ...]] = list(differs.rows)
    if _rows_height(rows) <= room_mm:
        return rows, True
    most = max(int((room_mm - 4.4) / _ROW_MM), 3)
    return [row for row in rows if row[0] in _KEY_ROWS][:most], False


def _wells(
    page: list[_Slot],
    frame: Frame,
    system: System,
    paper: Paper,
    rows: Sequence[tuple[object, ...]],
    letters: Letters,
    columns: dict[str, int],
) -> list[Group]:
    base = page[0].alternative.evaluation
    assert base is not None
    grid = plain_grid(paper)
    depth = base.plan.depth
    key = (depth.host.shoe_md_m, depth.liner.shoe_md_m)
    at = places(grid)
    heads: list[Shape] = [
        Text(LEFT_MM, _NAMES_MM, "Depth", bold=True),
        Text(at.md_mm, _NAMES_MM, f"MD, {unit_text('depth', system)}", bold=True, anchor="end"),
        Text(at.tvd_mm, _NAMES_MM, "TVD", bold=True),
        rule(frame.scale.levels_mm[0] - 3.4, FINE_MM, right=paper.right_mm),
    ]
    groups = [Group("", "column heads", tuple(heads)), depth_track(frame, grid, depth.path, key)]
    for slot in page:
        groups.append(Group("", slot.alternative.name, tuple(_heads(slot))))
        groups += _column(slot, frame._replace(axis_mm=slot.axis_mm), system, base, letters)
    groups.append(_rows_under(page, rows, columns, paper, system))
    return groups


def _column(slot: _Slot, frame: Frame, system: System, base: Evaluation, letters: Letters) -> list[Group]:
    one = slot.alternative
    if one.evaluation is None:
        lines: list[tuple[str, bool]] = [("Cannot be:", True)]
        for problem in one.problems:
            for text in (problem.found, f"accepted: {problem.accepted}", f"mend: {problem.mend}"):
                lines += [
                    (line, False) for line in wrap(sentence_case(text), slot.right_mm - slot.left_mm - 1.0)
                ]
        y = frame.scale.levels_mm[0] + 4.0
        most = max(int((frame.scale.levels_mm[-1] - y) / PITCH_MM), 2)
        if len(lines) > most:
            lines = [*lines[: most - 1], ("more in words", False)]
        return [
            Group(
                "",
                f"{one.name}: cannot be",
                tuple(
                    Text(slot.left_mm, y + PITCH_MM * n, text, bold=bold)
                    for n, (text, bold) in enumerate(lines)
                ),
            )
        ]
    drawn = well(one.evaluation, frame, system, one.name)
    marks = key_depths(one, frame, system, base)
    beside = below_what_sticks_out(one.evaluation, frame, slot.labels_mm - slot.axis_mm - 1.0)
    between = beside, frame.scale.levels_mm[-1] + 3.0
    named = labels(marks, frame, slot.labels_mm, slot.right_mm, between)
    lap = lap_dimension(one.evaluation, frame, system)
    return [*drawn, *named, lap, *option_flags(one, frame, letters, (*named, lap))]


def _rows_under(
    page: list[_Slot],
    rows: Sequence[tuple[object, ...]],
    columns: dict[str, int],
    paper: Paper,
    system: System,
) -> Group:
    """The rows that differ, each figure under its well; bold where it is not that of the well as written."""
    y = paper.title_mm - FOOT_MM - _rows_height(rows) + 3.6
    shapes: list[Shape] = [
        rule(y - 3.8, OUTLINE_MM, right=paper.right_mm),
        Text(LEFT_MM, y, "What differs", bold=True),
    ]
    for row in rows:
        y += _ROW_MM
        shapes.append(Text(LEFT_MM, y, _row_name(row, page[0])))
        shapes.append(Text(_unit_mm(page[0]), y, _row_unit(row), colour=GREY, anchor="end"))
        first = ""
        for slot in page:
            if slot.alternative.name not in columns:
                continue
            cell = row[columns[slot.alternative.name]]
            assert cell is None or isinstance(cell, str | Figure)
            text = printed(cell, system)
            first = first or text
            shapes.append(Text(slot.axis_mm + _VALUE_MM, y, text, bold=text != first, anchor="end"))
    return Group("", "What differs", tuple(shapes))


def _raised(table: Table) -> Table:
    """A table of sentences behind the name of each option, its cubic metres as print writes them."""
    rows = ((name, *(raised(c) if isinstance(c, str) else c for c in cells)) for name, *cells in table.rows)
    return table._replace(rows=tuple(rows))


def _unit_mm(slot: _Slot) -> float:
    return slot.axis_mm + _VALUE_MM - 20.0


def _row_unit(row: tuple[object, ...]) -> str:
    return "m\u00b3" if row[1] == "m3" else str(row[1])


def _row_name(row: tuple[object, ...], slot: _Slot) -> str:
    """What a row tells, cut where a name from the file leaves no room for the unit."""
    return fit(str(row[0]), _unit_mm(slot) - width_mm(_row_unit(row), SMALL_PT) - 1.0 - LEFT_MM)


def _part(differs: Table, page: Sequence[Alternative]) -> Table:
    """The table of what differs for the alternatives of one page."""
    heads = [column.head for column in differs.columns]
    kept = [0, 1, *(heads.index(one.name) for one in page if one.evaluation is not None)]
    columns = tuple(differs.columns[i] for i in kept)
    return Table(differs.title, columns, tuple(tuple(row[i] for i in kept) for row in differs.rows))
