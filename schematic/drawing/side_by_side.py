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
    AS_WRITTEN,
    Alternative,
    findings_that_differ,
    in_words,
    not_computed_table,
    what_differs,
)
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN, wrap
from schematic.drawing.column import half_width
from schematic.drawing.common_scale import common_frame
from schematic.drawing.comparison_page import (
    RULER_TO_MM,
    Mark,
    below_what_sticks_out,
    labels,
    page_scene,
    plain_grid,
    well,
)
from schematic.drawing.findings import FLAG_MM, flag
from schematic.drawing.flags import free
from schematic.drawing.frame import Frame
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM
from schematic.drawing.grid import PAPERS, Paper, turned
from schematic.drawing.page import LEFT_MM, MEDIUM_PT, rule, unit_text
from schematic.drawing.palette import BLACK, FINE_MM, GREY, OUTLINE_MM
from schematic.drawing.ruler_track import depth_track, places
from schematic.drawing.scene import Group, Path, Shape, Sheet, Style, Text
from schematic.drawing.table_pages import FOOT_MM, printed, table_pages
from schematic.drawing.text import box_mm, width_mm
from schematic.export.report import counts
from schematic.export.tables import Column, Table
from schematic.outcome import Figure, Found, Severity, sentence
from schematic.units import System, number, sentence_case, size

_FROM_MM = RULER_TO_MM + 2.0
_COLUMN_MM = 52.0  # least width of a column
_WIDEST_MM = 37.0  # the well with its hatch
_LABELS_MM = 17.5  # beside it, leaders counted
_BEFORE_MM = 4.5  # for the lap to the left of it
_NAMES_MM = 29.2
_LEAST_WELL_MM = 95.0
_ROW_MM = 2.85
_VALUE_MM = 8.0  # right of the axis: where the figures of a row end
_TICK_MM = 0.8
_BORE_RULES = ("string-does-not-pass", "tally-does-not-close", "running-string-misses-liner-top")
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

Letters = dict[tuple[str, str], str]


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
    texts = [in_words(tuple(alternatives), system), findings_that_differ(tuple(alternatives), system)]
    texts.append(_findings(alternatives, names, system))
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


def shared_letters(evaluations: Sequence[Evaluation]) -> Letters:
    """One letter for each finding, the same in all wells; those of the first well come first."""
    letters: Letters = {}
    for evaluation in evaluations:
        for outcome in evaluation.findings:
            letters.setdefault((outcome.rule, outcome.subject.path), _letter(len(letters)))
    return letters


def _letter(count: int) -> str:
    first, second = divmod(count, 26)
    return ("" if first == 0 else chr(96 + first)) + chr(97 + second)


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
    marks = _marks(one, frame, system, base)
    beside = below_what_sticks_out(one.evaluation, frame, slot.labels_mm - slot.axis_mm - 1.0)
    between = beside, frame.scale.levels_mm[-1] + 3.0
    named = labels(marks, frame, slot.labels_mm, slot.right_mm, between)
    lap = _lap(one.evaluation, frame, system)
    return [*drawn, *named, lap, *_flags(one, frame, letters, (*named, lap))]


def _marks(one: Alternative, frame: Frame, system: System, base: Evaluation) -> list[Mark]:
    """The key depths of a well, with what they differ from those of the well as written."""
    evaluation = one.evaluation
    assert evaluation is not None
    plan = evaluation.plan
    depth, liner = plan.depth, plan.depth.liner
    old = base.plan
    made: list[Mark] = []

    def mark(part: str, name: str, md_m: float | None, was_m: float | None, end_r: float, ours: bool) -> None:
        if md_m is None:
            return
        figures = number(md_m, "depth", system, THIN)
        if was_m is not None and one.name != AS_WRITTEN:
            by = number(md_m - was_m, "depth", system, THIN)
            if by != "0":
                figures += f" ({by.replace('-', chr(0x2212)) if md_m < was_m else '+' + by})"
        made.append(Mark(part, name, figures, md_m, frame.axis_mm + end_r, ours))

    host_r = frame.r(depth.host.id_m)
    body = frame.r(liner.od_m)
    mark(
        "cement.planned top",
        "cement top",
        plan.cement.planned_top_md_m,
        old.cement.planned_top_md_m,
        host_r,
        False,
    )
    mark("liner", "liner top", liner.top_md_m, old.depth.liner.top_md_m, body, True)
    hanger = liner.find("liner hanger")
    if hanger is not None:
        middle = 0.5 * (hanger.top_md_m + hanger.bottom_md_m)
        figures = number(hanger.bottom_md_m, "depth", system, THIN)
        made.append(Mark(hanger.path, "hanger base", figures, middle, frame.axis_mm + body, True))
    mark(
        depth.host.path,
        "host shoe",
        depth.host.shoe_md_m,
        old.depth.host.shoe_md_m,
        frame.r(depth.host.od_m),
        False,
    )
    collar = liner.find("landing collar")
    if collar is not None:
        seat = "landing collar" + (", ball seat" if plan.job.seat == "landing collar" else "")
        was_collar = old.depth.liner.find("landing collar")
        mark(collar.path, seat, collar.top_md_m, was_collar.top_md_m if was_collar else None, body, True)
    mark("liner", "liner shoe", liner.shoe_md_m, old.depth.liner.shoe_md_m, body, True)
    if plan.job.seat == "running tool":
        made = [m._replace(name="liner top, ball seat in tool") if m.name == "liner top" else m for m in made]
    return made


def _lap(evaluation: Evaluation, frame: Frame, system: System) -> Group:
    """The lap as a dimension line on the left of the well."""
    depth = evaluation.plan.depth
    top, bottom = frame.y(depth.liner.top_md_m), frame.y(min(depth.host.shoe_md_m, depth.liner.shoe_md_m))
    beside = [
        s.shoe_md_m for s in depth.strings if depth.liner.top_md_m <= s.shoe_md_m < depth.host.shoe_md_m
    ]
    beside += [depth.liner.top_md_m, depth.host.shoe_md_m - 1.0]
    widest = max(half_width(evaluation, frame, md) for md in beside)
    x = frame.axis_mm - widest - ROCK_WIDTH_MM - 1.2
    ends = tuple(((x - _TICK_MM, y), (x + _TICK_MM, y)) for y in (top, bottom))
    shapes: list[Shape] = [Path((((x, top), (x, bottom)), *ends), Style(stroke=BLACK, width_mm=FINE_MM))]
    words = f"lap {number(evaluation.laps.liner_top_m, 'depth', system, THIN)}"
    if width_mm(words, SMALL_PT, True) <= bottom - top - 0.6:
        shapes.append(Text(x - 0.9, 0.5 * (top + bottom), words, bold=True, anchor="middle", upward=True))
    return Group("liner.lap", f"Lap, {words}", tuple(shapes))


def _flags(one: Alternative, frame: Frame, letters: Letters, written: Sequence[Group]) -> list[Group]:
    """A flag for each finding of the well, with the letter that it has in all wells."""
    evaluation = one.evaluation
    assert evaluation is not None
    lines = [run for g in written for s in g.shapes if isinstance(s, Path) for run in s.runs]
    boxes = [box_mm(s) for g in written for s in g.shapes if isinstance(s, Text)]
    placed: list[tuple[float, float]] = []
    groups = []
    axis, levels = frame.axis_mm, (frame.scale.levels_mm[0], frame.scale.levels_mm[-1])
    for outcome in evaluation.findings:
        found = outcome.answer
        assert isinstance(found, Found)
        md = min(max(found.at_md_m[0], 0.0), frame.scale.bottom_md_m) if found.at_md_m else 0.0
        flank = half_width(evaluation, frame, md) + ROCK_WIDTH_MM + FLAG_MM + 0.5
        columns = [axis, axis - 2.4, axis + 2.4]
        if outcome.rule not in _BORE_RULES:
            columns = [axis + flank, axis - flank, *columns]
        spot = free(columns, frame.y(md), levels, placed, lines, boxes)
        placed.append(spot)
        letter = letters[outcome.rule, outcome.subject.path]
        groups.append(
            Group(outcome.subject.path, f"{one.name}: finding {letter}", tuple(flag(*spot, letter, found)))
        )
    return groups


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
    unit_at = page[0].axis_mm + _VALUE_MM - 20.0
    for row in rows:
        y += _ROW_MM
        shapes.append(Text(LEFT_MM, y, str(row[0])))
        shapes.append(
            Text(unit_at, y, "m\u00b3" if row[1] == "m3" else str(row[1]), colour=GREY, anchor="end")
        )
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


def _findings(alternatives: Sequence[Alternative], letters: Letters, system: System) -> Table:
    """Every finding with its letter, and in which wells it is."""
    able = [one for one in alternatives if one.evaluation is not None]
    order = list(Severity)
    rows = []
    for (rule_, path), letter in letters.items():
        having = []
        for one in able:
            assert one.evaluation is not None
            same = [o for o in one.evaluation.findings if (o.rule, o.subject.path) == (rule_, path)]
            if same:
                having.append((one.name, same[0]))
        found = min(
            (o.answer for _name, o in having if isinstance(o.answer, Found)),
            key=lambda f: order.index(f.severity),
        )
        names = "all" if len(having) == len(able) else ", ".join(name for name, _o in having)
        what = sentence_case(sentence(found.headline, found.figures, system))
        waived = having[0][1].waived
        what += f" (waived by {waived})" if waived else ""
        rows.append((letter, found.severity.value, names, what))
    heads = ("letter", "severity", "in", "what")
    return Table("Findings and their letters", tuple(Column(head) for head in heads), tuple(rows))


def _part(differs: Table, page: Sequence[Alternative]) -> Table:
    """The table of what differs for the alternatives of one page."""
    heads = [column.head for column in differs.columns]
    kept = [0, 1, *(heads.index(one.name) for one in page if one.evaluation is not None)]
    columns = tuple(differs.columns[i] for i in kept)
    return Table(differs.title, columns, tuple(tuple(row[i] for i in kept) for row in differs.rows))
