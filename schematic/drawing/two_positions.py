"""Two issues of a well on one depth scale: the old one as a grey outline, the new one solid, and what moved.

Between them each key depth has its name and by how much it moved, with a line to its place in both wells.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.comparison.differences import Differences, found, in_sentences, tables_of
from schematic.comparison.words import difference
from schematic.depth.plan import CHANGED
from schematic.drawing.captions import DOT_MM, GAP_MM, PITCH_MM, THIN, wrap
from schematic.drawing.common_scale import common_frame
from schematic.drawing.comparison_page import (
    RULER_TO_MM,
    below_what_sticks_out,
    page_scene,
    plain_grid,
    reach_mm,
    well,
)
from schematic.drawing.frame import Frame
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM
from schematic.drawing.grid import A4, Paper
from schematic.drawing.labels import ColumnTooFullError, cross, place
from schematic.drawing.page import LEFT_MM, MEDIUM_PT, fit, fit_before, raised, rule, unit_text
from schematic.drawing.palette import BLACK, BLUE, ESTIMATED_DASH_MM, FINE_MM, GREY, WHITE
from schematic.drawing.ruler_track import depth_track, places
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Sheet, Style, Text
from schematic.drawing.table_pages import FOOT_MM, table_pages
from schematic.export.report import path_in_words
from schematic.export.tables import Table
from schematic.outcome import Figure
from schematic.units import System, number, sentence_case, size

_TOP_MM = 38.0
_WELL_MM = 31.0  # width of a well with its hatch
_MIDDLE_MM = 33.0  # between the wells, for what moved
_NAMES_MM = 29.2
_LEADER_MM = 3.0
_DOWN_MM = 2.0  # from the top of a block to its first baseline


class _Moved(NamedTuple):
    """A key depth in both issues; None where it is not in one of them."""

    part: str
    name: str
    old_md_m: float | None
    new_md_m: float | None
    old_mm: float  # radius on paper at which its line ends
    new_mm: float
    liner: bool


def difference_sheet(both: Differences, system: System, paper: Paper = A4) -> Sheet:
    """The pages of a comparison: both positions with what changed in words, then the tables."""
    bottom = paper.title_mm - FOOT_MM - ROCK_WIDTH_MM
    frame = common_frame(
        (both.old, both.new),
        system,
        top_mm=_TOP_MM,
        bottom_mm=bottom,
        widest_mm=_WELL_MM,
        hatch_mm=ROCK_WIDTH_MM,
    )
    left = RULER_TO_MM + max(0.5 * _WELL_MM + 3.0, reach_mm(both.old, frame) + 0.6)
    right = left + _WELL_MM + _MIDDLE_MM
    words_left = right + max(0.5 * _WELL_MM + 4.0, reach_mm(both.new, frame) + 2.0)
    room = paper.right_mm - words_left
    old, new = frame._replace(axis_mm=left), frame._replace(axis_mm=right)
    grid = plain_grid(paper)
    depth = both.new.plan.depth
    at = places(grid)
    heads: list[Shape] = [
        Text(LEFT_MM, _NAMES_MM, "Depth", bold=True),
        Text(at.md_mm, _NAMES_MM, f"MD, {unit_text('depth', system)}", bold=True, anchor="end"),
        Text(at.tvd_mm, _NAMES_MM, "TVD", bold=True),
        *_issue("before", both.old, left - 0.5 * _WELL_MM, both.other_well),
        *_issue("now", both.new, right - 0.5 * _WELL_MM, both.other_well),
        Text(0.5 * (left + right), _NAMES_MM, "What moved", bold=True, anchor="middle"),
        Text(words_left, _NAMES_MM, "What changed", bold=True),
        rule(_TOP_MM - 3.4, FINE_MM, right=paper.right_mm),
    ]
    groups = [
        Group("", "column heads", tuple(heads)),
        depth_track(frame, grid, depth.path, (depth.host.shoe_md_m, depth.liner.shoe_md_m)),
        *_ghost(well(both.old, old, system, "before")),
        *well(both.new, new, system, "now"),
        *_between(_key_depths(both, frame), old, new, _labels_from(both, frame), system),
    ]
    said, left_over = _words(_beside(both, system), words_left, room, paper)
    groups.append(said)
    words, *tables = tables_of(both, system)
    if left_over:
        tables.insert(0, words)
    pages: list[tuple[str, list[Group], Frame | None]] = [("both positions", groups, frame)]
    if any(table.rows for table in tables):
        pages += [("what changed", made, None) for made in table_pages(_nothing(tables), system, paper)]
    subject = f"{size(depth.liner.od_m, system)} {both.new.plan.identity.purpose or 'liner'}: what changed"
    return Sheet(
        tuple(
            page_scene(both.new, made, subject, drawn, system, paper, (count, len(pages), what))
            for count, (what, made, drawn) in enumerate(pages, 1)
        )
    )


def _labels_from(both: Differences, frame: Frame) -> float:
    """Where the names between the wells may begin: below conductors that stick out over them."""
    reach = 0.5 * _WELL_MM + _LEADER_MM
    return max(below_what_sticks_out(one, frame, reach) for one in (both.old, both.new))


def _issue(word: str, evaluation: Evaluation, left_mm: float, named: bool) -> list[Shape]:
    """Which issue stands below: its revision and file; its well where the two are not of one."""
    identity = evaluation.plan.identity
    revision, room = identity.revision, _WELL_MM + 6.0
    which = f"revision {revision.number}" if revision else "no revision"
    file = "" if named else f", file {identity.file_hash}"
    below = fit(f"{identity.name}, {which}" if named else which + file, room)
    if revision and revision.changed:  # without the words that leave it no room
        tail = f", {CHANGED}" if named else f", {CHANGED}, {identity.file_hash}"
        below = fit_before(f"{identity.name}, {revision.number}" if named else revision.number, tail, room)
    return [
        Text(left_mm, _NAMES_MM, word.capitalize(), MEDIUM_PT, bold=True),
        Text(left_mm, _NAMES_MM + 3.4, below),
    ]


def _nothing(tables: Sequence[Table]) -> list[Table]:
    """Tables without rows say so."""
    return [
        table if table.rows else Table(table.title, table.columns[:1], (("nothing",),)) for table in tables
    ]


def _ghost(groups: Sequence[Group]) -> list[Group]:
    """A well as a grey outline: faces dashed and hollow, texture thin, no cement."""
    made = []
    for group in groups:
        shapes: list[Shape] = []
        for shape in group.shapes:
            if not isinstance(shape, Path):
                continue
            solid = shape.closed and shape.style.fill not in (None, WHITE)
            style = Style(stroke=GREY, width_mm=FINE_MM, fill=WHITE if shape.style.fill else None)
            shapes.append(
                Path(shape.runs, style._replace(dash=ESTIMATED_DASH_MM) if solid else style, shape.closed)
            )
        if shapes:
            made.append(Group(group.part, group.title, tuple(shapes), group.description))
    return made


def _key_depths(both: Differences, frame: Frame) -> list[_Moved]:
    """The depths by which readers know a plan, from the top down."""
    old, new = both.old.plan, both.new.plan

    def r(diameter_m: float) -> float:
        return frame.r(diameter_m)

    hosts = r(old.depth.host.od_m), r(new.depth.host.od_m)
    bores = r(old.depth.host.id_m), r(new.depth.host.id_m)
    bodies = r(old.depth.liner.od_m), r(new.depth.liner.od_m)
    made = [
        _Moved(
            "cement.planned top",
            "cement top",
            old.cement.planned_top_md_m,
            new.cement.planned_top_md_m,
            *bores,
            False,
        ),
        _Moved("liner", "liner top", old.depth.liner.top_md_m, new.depth.liner.top_md_m, *bodies, True),
        _Moved(
            new.depth.host.path,
            "host shoe",
            old.depth.host.shoe_md_m,
            new.depth.host.shoe_md_m,
            *hosts,
            False,
        ),
        _Moved("liner", "liner shoe", old.depth.liner.shoe_md_m, new.depth.liner.shoe_md_m, *bodies, True),
    ]
    for kind, name in (("liner hanger", "hanger base"), ("landing collar", "landing collar")):
        pair = [plan.depth.liner.find(kind) for plan in (old, new)]
        depths = [
            (part.bottom_md_m if kind == "liner hanger" else part.top_md_m) if part else None for part in pair
        ]
        path = next((part.path for part in reversed(pair) if part), "liner")
        made.append(_Moved(path, name, depths[0], depths[1], *bodies, True))
    holes = [0.5 * 1000.0 * plan.depth.hole.diameter_m.values[-1] / frame.ratio for plan in (old, new)]
    made.append(
        _Moved("hole", "bottom of hole", old.depth.td_md_m, new.depth.td_md_m, holes[0], holes[1], False)
    )
    here = [one for one in made if one.old_md_m is not None or one.new_md_m is not None]
    return sorted(here, key=lambda one: one.new_md_m if one.new_md_m is not None else one.old_md_m or 0.0)


def _said(one: _Moved, system: System) -> str:
    """By how much a depth moved, and where it is now."""
    if one.old_md_m is None or one.new_md_m is None:
        md = one.new_md_m if one.new_md_m is not None else one.old_md_m
        assert md is not None
        return f"{'new' if one.old_md_m is None else 'gone'}, {number(md, 'depth', system, THIN)}"
    by = difference(Figure(one.old_md_m, "tally"), Figure(one.new_md_m, "tally"), system)
    now = number(one.new_md_m, "depth", system, THIN)
    if by is None:
        return f"{now}, as before"
    return f"{'down' if one.new_md_m > one.old_md_m else 'up'} {by} to {now}"


def _between(marks: Sequence[_Moved], old: Frame, new: Frame, top_mm: float, system: System) -> list[Group]:
    """Names and moves between the wells, each with a line to both; what stands where it stood in grey."""
    left, right = old.axis_mm + 0.5 * _WELL_MM + _LEADER_MM, new.axis_mm - 0.5 * _WELL_MM - _LEADER_MM
    middle = 0.5 * (left + right)
    texts = [
        [*wrap(one.name, right - left, bold=True), *wrap(_said(one, system), right - left)] for one in marks
    ]
    heights = [PITCH_MM * len(lines) for lines in texts]

    def level(one: _Moved) -> float:
        ends = [frame.y(md) for frame, md in ((old, one.old_md_m), (new, one.new_md_m)) if md is not None]
        return sum(ends) / len(ends)

    targets = [level(one) - 0.5 * height for one, height in zip(marks, heights, strict=True)]
    span = top_mm, old.scale.levels_mm[-1] + 3.0
    try:
        tops = place(targets, heights, *span, GAP_MM)
    except ColumnTooFullError:
        return []
    levels = [top + 0.5 * height for top, height in zip(tops, heights, strict=True)]
    legs = _legs(marks, levels, (old, left), (new, right))
    groups = []
    for index, (one, top, lines) in enumerate(zip(marks, tops, texts, strict=True)):
        bold = len(wrap(one.name, right - left, bold=True))
        ink = GREY if lines[-1].endswith("as before") else BLACK
        shapes: list[Shape] = [
            Text(
                middle,
                top + _DOWN_MM + PITCH_MM * row,
                line,
                bold=row < bold,
                colour=(BLUE if one.liner else BLACK) if row < bold else ink,
                anchor="middle",
            )
            for row, line in enumerate(lines)
        ]
        mine = [leg for of, leg in legs if of == index]
        shapes.append(Path(tuple(mine), Style(stroke=GREY, width_mm=FINE_MM)))
        shapes.append(Dots(tuple(leg[-1] for leg in mine), DOT_MM, Style(fill=BLACK)))
        groups.append(Group(one.part, f"{one.name}, {_said(one, system)}", tuple(shapes)))
    return groups


_Leg = tuple[int, tuple[Point, Point]]  # of which mark, from its text to the well


def _legs(
    marks: Sequence[_Moved], levels_mm: Sequence[float], old: tuple[Frame, float], new: tuple[Frame, float]
) -> list[_Leg]:
    """The lines from the texts to both wells. Where one thing moved past another their lines would cross:
    those that cross most are left out, of equals those of what did not move.
    """
    kept: list[_Leg] = []
    for (frame, start), side in ((old, 1.0), (new, -1.0)):
        legs: list[_Leg] = []
        for index, one in enumerate(marks):
            md, radius = (one.old_md_m, one.old_mm) if side > 0.0 else (one.new_md_m, one.new_mm)
            if md is not None:
                end = (frame.axis_mm + side * radius, frame.y(md))
                legs.append((index, ((start, levels_mm[index]), end)))
        while True:
            crossings = [
                (sum(cross(leg, other) for _o, other in legs), leg_) for leg_ in legs for leg in (leg_[1],)
            ]
            most = max(
                crossings,
                key=lambda entry: (entry[0], marks[entry[1][0]].old_md_m == marks[entry[1][0]].new_md_m),
                default=None,
            )
            if most is None or most[0] == 0:
                break
            legs.remove(most[1])
        kept += legs
    return kept


def _beside(both: Differences, system: System) -> list[tuple[str, bool]]:
    """What changed, in phrases: each with whether it is a heading."""
    made = [
        (raised(phrase[:1].upper() + phrase[1:]), False)
        for sentence in in_sentences(both, system)
        for phrase in sentence.split("; ")
    ]
    listed = found(both, system).rows
    if listed:
        made.append(("Findings", True))
        made += [(f"{sentence_case(str(how))}: {what}", False) for how, _severity, _rule, what in listed]
    if both.written:
        made.append(("Written otherwise", True))
        made += [
            (f"{path_in_words(one.path)}: {one.new or 'not written'} (was {one.old or 'not written'})", False)
            for one in both.written
        ]
    return made


def _words(
    phrases: Sequence[tuple[str, bool]], left_mm: float, room_mm: float, paper: Paper
) -> tuple[Group, bool]:
    """The phrases one under another beside the wells; whether some had to be left to the tables."""
    shapes: list[Shape] = []
    y = _TOP_MM + 1.0
    for phrase, heading in phrases:
        lines = wrap(phrase, room_mm, bold=heading)
        if heading:
            y += 2.0
        if y + PITCH_MM * len(lines) > paper.title_mm - FOOT_MM - PITCH_MM:
            shapes.append(Text(left_mm, y, "and more on the next sheet", colour=GREY))
            return Group("", "What changed", tuple(shapes)), True
        shapes += [Text(left_mm, y + PITCH_MM * row, line, bold=heading) for row, line in enumerate(lines)]
        y += PITCH_MM * len(lines) + 1.0
    return Group("", "What changed", tuple(shapes)), False
