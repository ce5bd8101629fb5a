"""The detail of the shoe track: from the landing collar to the bottom of the hole, at true scale."""

from __future__ import annotations

from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.drawing import dimension
from schematic.drawing.captions import ASSUMED, THIN
from schematic.drawing.detail import Cut, Detail, Stage, stage, stages, well
from schematic.drawing.detail_parts import (
    Manner,
    PartWords,
    first_that_fits,
    heads_of,
    length_words,
    name_parts,
    part_words,
    short_kind,
    signs,
)
from schematic.drawing.detail_rows import Row, most_rows, rows_column
from schematic.drawing.fills import Rect
from schematic.drawing.page import unit_text
from schematic.drawing.scene import Group
from schematic.engineering.volumes import RATHOLE, SHOE_TRACK
from schematic.units import System, number, sentence_case, show, size

_ABOVE = 0.12  # of the shoe track, drawn above it
_LEAST_ABOVE_M = 3.0
_WITHOUT_COLLAR_M = 30.0  # of liner above the shoe, where no collar says where the shoe track begins
_FLOOR_MM = 3.2  # rock below the hole
_NARROW_MM = 80.0
_TRIES = 6
_SAME_M = 0.05
_MANNERS = (
    (Manner(("top", "length", "OD", "ID"), short=False), Manner(("top", "length"), short=False)),
    (Manner(("top", "length")),),
    (Manner(("top",)),),
    (Manner(behind="top"),),
    (Manner(behind="top", fewer=True),),
)


class _Length(NamedTuple):
    """A length with a dimension line: on the first lane the whole, on the second what it is made of."""

    part: str
    lane: int
    name: str
    top_md_m: float
    bottom_md_m: float
    texts: tuple[str, ...]  # the longest first
    least: int = 1  # so many of the texts tell all that has to be told


class _Shown(NamedTuple):
    top_md_m: float
    bottom_md_m: float
    lengths: tuple[_Length, ...]
    lane_mm: float
    plug_md_m: float | None
    missing: tuple[str, ...]
    words: tuple[PartWords, ...]

    @property
    def lanes_mm(self) -> float:
        """Width of all dimension lines."""
        return self.lane_mm * 2


def shoe_track_detail(evaluation: Evaluation, rect: Rect, system: System, letter: str = "B") -> Detail:
    """The shoe track in a rectangle, from 60 x 52 mm up; what gives way where is as in the liner top.

    Raises
    ------
    ValueError
        When the rectangle has no room for any drawing.
    """
    shown = _shown(evaluation, rect, system)
    ratios = stages(evaluation, rect, shown.top_md_m, shown.bottom_md_m, shown.lanes_mm)

    def draw(ratio: int, manner: Manner) -> Detail | None:
        return _detail(evaluation, shown, rect, system, letter, ratio, manner)

    return first_that_fits(_MANNERS, ratios, draw, f"no detail of the shoe track fits into {rect}")


def _shown(evaluation: Evaluation, rect: Rect, system: System) -> _Shown:
    depth = evaluation.plan.depth
    liner, td = depth.liner, depth.td_md_m
    stop = liner.shoe_track_top_md_m
    start = stop if stop is not None else max(liner.shoe_md_m - _WITHOUT_COLLAR_M, liner.parts[0].top_md_m)
    top = max(start - max(_ABOVE * (liner.shoe_md_m - start), _LEAST_ABOVE_M), 0.0)
    inside = liner.shoe_md_m < depth.host.shoe_md_m  # casing goes on below the shoe
    bottom = liner.shoe_md_m + 0.15 * (liner.shoe_md_m - top) if inside else max(td, liner.shoe_md_m)
    lengths: list[_Length] = []
    missing: list[str] = []
    if stop is None:
        missing.append("no collar in the tally: shoe track not known")
    else:
        lengths.append(_whole(evaluation, stop, system))
        for part in liner.parts:
            if part.kind in ("joint", "pup joint") and part.top_md_m >= stop - 1e-6:
                figure = length_words(liner, part, system)
                texts = (f"{figure}, {part.joints} joints", figure) if part.joints > 1 else (figure,)
                ends = part.top_md_m, part.bottom_md_m
                lengths.append(_Length(part.path, 1, short_kind(part), *ends, texts, len(texts)))
    rathole = td - liner.shoe_md_m
    if rathole > _SAME_M and not inside:
        figure = number(rathole, "tally", system, THIN)
        space = next((s for s in evaluation.volumes.spaces if s.name == RATHOLE), None)
        more = () if space is None else (f"{figure}, {_volume(space.m3, system)}",)
        lengths.append(_Length("hole", 1, "rathole", liner.shoe_md_m, td, (*more, figure)))
    running = depth.running
    landed = (
        running is not None and running.plug_md_m is not None and liner.find("landing collar") is not None
    )
    lane = dimension.NARROW_LANE_MM if rect.right_mm - rect.left_mm < _NARROW_MM else dimension.LANE_MM
    plug = stop if landed else None
    return _Shown(top, bottom, tuple(lengths), lane, plug, tuple(missing), part_words(evaluation, system))


def _whole(evaluation: Evaluation, stop_md_m: float, system: System) -> _Length:
    """The shoe track from the plug's stop to the shoe, with its volume."""
    liner = evaluation.plan.depth.liner
    shoe, track = liner.shoe_md_m, [part for part in liner.parts if part.top_md_m >= stop_md_m - 1e-6]
    assumed = liner.assembly_assumed or any(part.length_assumed for part in track)
    figure = f"{ASSUMED if assumed else ''}{number(shoe - stop_md_m, 'tally', system, THIN)}"
    volume = evaluation.volumes.total_m3(SHOE_TRACK)
    if volume is None:
        texts = (f"shoe track {figure}, volume not known", f"{figure}, volume ?")
    else:
        words = _volume(volume, system)
        texts = (f"shoe track {figure}, {words}", f"{figure}, {words}")
    return _Length("volumes.shoe track", 0, "shoe track", stop_md_m, shoe, texts, len(texts))


def _volume(m3: float, system: System) -> str:
    return f"{number(m3, 'volume', system, THIN)} {unit_text('volume', system)}"


def _detail(
    evaluation: Evaluation,
    shown: _Shown,
    rect: Rect,
    system: System,
    letter: str,
    ratio: int,
    manner: Manner,
) -> Detail | None:
    untold: dict[str, str] = {}
    left_out = 0
    for _ in range(_TRIES):
        made = stage(
            evaluation,
            rect,
            letter=letter,
            words="Shoe track",
            top_md_m=shown.top_md_m,
            bottom_md_m=shown.bottom_md_m,
            floor_mm=_FLOOR_MM,
            spare="above",
            remarks=_remarks(evaluation, shown, system, manner, untold, left_out),
            lanes_mm=shown.lanes_mm,
            ratio=ratio,
            system=system,
        )
        if made is None:
            return None
        named = name_parts(evaluation, shown.words, made.cut, system, manner)
        rows = [*named.rows, *_other_rows(evaluation, shown, made.cut, system)]
        heads = heads_of(manner.fields, system)
        placed = rows_column(rows, heads, made.names)
        if placed is None and manner.fewer:
            placed, dropped = most_rows(rows, heads, made.names, left_out)
            if dropped != left_out:
                left_out = dropped
                continue
        if placed is None:
            return None
        lengths, missed = _lengths(shown, made, rect.left_mm)
        if missed.keys() <= untold.keys():
            cut = made.cut
            drawn = well(evaluation, cut, system)
            groups = (made.heading, *drawn, *lengths, *named.in_bore, *placed, made.remarks)
            return Detail(groups, cut.top_md_m, cut.bottom_md_m, letter, cut.ratios, cut.frame)
        untold |= missed
    return None


def _remarks(
    evaluation: Evaluation,
    shown: _Shown,
    system: System,
    manner: Manner,
    untold: dict[str, str],
    left_out: int,
) -> tuple[str, ...]:
    texts = [_hole_words(evaluation, system), *shown.missing, *untold.values(), *manner.words]
    texts += signs(shown.words, shown.top_md_m, shown.bottom_md_m, manner)
    if left_out:
        texts.append(f"{left_out} more without a name here: see the tally")
    return tuple(sentence_case(text) for text in texts if text)


def _hole_words(evaluation: Evaluation, system: System) -> str:
    """The hole around the shoe: size, bit and basis, how deep."""
    depth = evaluation.plan.depth
    shoe, hole = depth.liner.shoe_md_m, depth.hole
    if shoe < depth.host.shoe_md_m:
        host = f"{depth.host.name} {size(depth.host.od_m, system)}"
        return f"shoe inside {host}, bore {_diameter(depth.host.id_m, system)}"
    section = next((s for s in hole.sections if s.top_md_m <= shoe <= s.bottom_md_m), hole.sections[-1])
    at = hole.diameter_m.at(min(max(shoe, hole.diameter_m.top_m), hole.diameter_m.bottom_m))
    basis = {"gauge": "as the bit left it", "washout": "with washout", "caliper": "by caliper"}[section.basis]
    opened = f", opened to {size(section.size_m, system)}" if section.size_m != section.bit_m else ""
    return f"hole {_diameter(at, system)} {basis}, bit {size(section.bit_m, system)}{opened}"


def _diameter(diameter_m: float, system: System) -> str:
    return show(diameter_m, "diameter", system)


def _lengths(shown: _Shown, made: Stage, left_mm: float) -> tuple[list[Group], dict[str, str]]:
    """The dimension lines, and the words of those whose figure found no room along them."""
    groups: list[Group] = []
    missed: dict[str, str] = {}
    for length in shown.lengths:
        x = left_mm + shown.lane_mm * (length.lane + 0.78)
        y = made.cut.frame.y
        shapes, told = dimension.between(
            x, y(length.top_md_m), y(length.bottom_md_m), length.texts, made.left_mm
        )
        if told not in length.texts[: length.least]:
            text = length.texts[0]
            missed[f"{length.part} {length.name}"] = (
                text if text.startswith(length.name) else f"{length.name} {text}"
            )
        if told is None:
            continue
        groups.append(Group(length.part, f"Length: {length.name} {length.texts[-1]}", shapes))
    return groups, missed


def _other_rows(evaluation: Evaluation, shown: _Shown, cut: Cut, system: System) -> list[Row]:
    """The plug, the shoe, the bottom of the hole; the host where it goes on below the liner."""
    depth, paper = evaluation.plan.depth, cut.frame
    liner, axis = depth.liner, cut.frame.axis_mm
    rows: list[Row] = []

    def add(part: str, md_m: float, end_mm: float, name: str) -> None:
        if cut.top_md_m <= md_m <= cut.bottom_md_m:
            rows.append(Row(part, paper.y(md_m), paper.y(md_m), end_mm, name, rank=0))

    if shown.plug_md_m is not None:
        level = max(paper.y(shown.plug_md_m) - 1.0, cut.top_mm)
        end = axis + 0.32 * paper.r(liner.id_m)
        rows.append(Row("running string", level, level, end, "wiper plug, landed", rank=2))
    shoe_part = liner.parts[-1]
    shoe_mm = axis + 0.5 * paper.r(shoe_part.od_m if shoe_part.od_m is not None else liner.od_m)
    add(
        "liner.shoe", liner.shoe_md_m, shoe_mm, f"liner shoe {number(liner.shoe_md_m, 'tally', system, THIN)}"
    )
    if depth.td_md_m > liner.shoe_md_m + _SAME_M:
        end = axis + paper.r(depth.hole.diameter_m.values[-1])
        name = f"bottom of hole {number(depth.td_md_m, 'tally', system, THIN)}"
        add(depth.hole.sections[-1].path, depth.td_md_m, end, name)
    return rows
