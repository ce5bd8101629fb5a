"""The detail of the liner top: its parts at true scale, the slips between the host's couplings, the laps."""

from __future__ import annotations

from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import LinerPart
from schematic.drawing import dimension
from schematic.drawing.captions import ASSUMED, THIN
from schematic.drawing.detail import Cut, Detail, Stage, stage, stages, well
from schematic.drawing.detail_parts import (
    Manner,
    PartWords,
    first_that_fits,
    heads_of,
    name_parts,
    part_words,
    signs,
)
from schematic.drawing.detail_rows import Row, most_rows, rows_column
from schematic.drawing.fills import Rect
from schematic.drawing.palette import BLACK, HEAVY_MM
from schematic.drawing.scene import Group, Path, Shape, Style
from schematic.drawing.slip_zone import Coupling, SlipZone, slip_zone
from schematic.export.tables import stands_assumed
from schematic.units import System, number, sentence_case, show

_ABOVE, _BELOW = 0.18, 0.32  # of the length from liner top to hanger base, drawn beyond it
_LEAST_M = 3.0
_FAR_M = 15.0  # a coupling further from the liner top or the hanger base is not drawn
_NARROW_MM = 80.0
_BRACKET_MM = 2.3  # from the dimension line of the slips to the bracket of where they may be
_TRIES = 6  # each adds to the remarks what found no room along its line


class _Lap(NamedTuple):
    part: str
    name: str
    from_md_m: float
    length_m: float
    assumed: bool = False  # it begins where assumed lengths put its part


class _Shown(NamedTuple):
    """What the detail shows."""

    top_md_m: float
    bottom_md_m: float
    end: str  # "host shoe", or "liner shoe" where the liner ends inside its host
    end_md_m: float
    laps: tuple[_Lap, ...]
    slips: SlipZone
    words: tuple[PartWords, ...]
    lane_mm: float

    @property
    def lanes_mm(self) -> float:
        """Width of all dimension lines."""
        beside = self.lane_mm + _BRACKET_MM if self.slips.slips_md_m else 0.0
        return self.lane_mm * len(self.laps) + beside


_MANNERS = (  # of each group the first that fits, at the largest drawing at which one does
    (Manner(("top", "length", "OD", "ID"), short=False), Manner(("length", "OD", "ID"), short=False)),
    (Manner(("length", "OD", "ID")),),
    (Manner(sizes=True),),
    (Manner(),),
    (Manner(fewer=True),),
)


def liner_top_detail(evaluation: Evaluation, rect: Rect, system: System, letter: str = "A") -> Detail:
    """The liner top in a rectangle, from 60 x 52 mm up.

    Width is shared so that the drawing is as large as its names allow. Where names do not fit they get
    shorter, then fewer, and a remark says so.

    Raises
    ------
    ValueError
        When the rectangle has no room for any drawing.
    """
    shown = _shown(evaluation, rect, system)
    ratios = stages(evaluation, rect, shown.top_md_m, shown.bottom_md_m, shown.lanes_mm)

    def draw(ratio: int, manner: Manner) -> Detail | None:
        return _detail(evaluation, shown, rect, system, letter, ratio, manner)

    return first_that_fits(_MANNERS, ratios, draw, f"no detail of the liner top fits into {rect}")


def _shown(evaluation: Evaluation, rect: Rect, system: System) -> _Shown:
    depth, laps = evaluation.plan.depth, evaluation.laps
    liner = depth.liner
    top = min(liner.top_md_m, liner.parts[0].top_md_m)
    slips = slip_zone(evaluation, system)
    base = max(_base(liner.parts), top + _LEAST_M)
    length = base - top
    upper, lower = top - _ABOVE * length, base + _BELOW * length
    if slips.above and slips.above.md_m > top - _FAR_M:
        upper = min(upper, slips.above.md_m - 0.06 * length)
    if slips.below and slips.below.md_m < base + _FAR_M:
        lower = max(lower, slips.below.md_m + slips.couplings_deeper_m + 0.1 * length)
    if slips.slips_md_m:
        lower = max(lower, slips.slips_md_m[1] + slips.slips_deeper_m + 0.1 * length)
    upper, lower = max(upper, 0.0), min(lower, max(depth.td_md_m, liner.shoe_md_m))
    named = [_Lap("liner.top", "liner top", liner.top_md_m, laps.liner_top_m)]
    packer, hanger = liner.find("liner top packer"), liner.find("liner hanger")
    for part, name, length_m in (
        (packer, "packer base", laps.packer_base_m),
        (hanger, "hanger base", laps.hanger_base_m),
    ):
        if part is not None and length_m is not None:
            named.append(_Lap(part.path, name, part.bottom_md_m, length_m, stands_assumed(liner, part)))
    named.sort(key=lambda lap: lap.from_md_m)
    end = liner.shoe_md_m if laps.end == "liner shoe" else depth.host.shoe_md_m
    lane = dimension.NARROW_LANE_MM if rect.right_mm - rect.left_mm < _NARROW_MM else dimension.LANE_MM
    words = part_words(evaluation, system)
    return _Shown(upper, lower, laps.end, end, tuple(named), slips, words, lane)


def _base(parts: tuple[LinerPart, ...]) -> float:
    """Where the liner top ends: below hanger and packer, else below what is no joint."""
    gripping = [part.bottom_md_m for part in parts if part.kind in ("liner hanger", "liner top packer")]
    if gripping:
        return max(gripping)
    base = parts[0].top_md_m
    for part in parts:
        if part.kind == "joint" or part.bottom_md_m - parts[0].top_md_m > 2 * _FAR_M:
            break
        base = part.bottom_md_m
    return base


def _detail(
    evaluation: Evaluation,
    shown: _Shown,
    rect: Rect,
    system: System,
    letter: str,
    ratio: int,
    manner: Manner,
) -> Detail | None:
    untold: dict[str, str] = {}  # laps whose figure finds no room along its line
    left_out = 0
    for _ in range(_TRIES):
        made = stage(
            evaluation,
            rect,
            letter=letter,
            words="Liner top",
            top_md_m=shown.top_md_m,
            bottom_md_m=shown.bottom_md_m,
            floor_mm=0.0,
            spare="below",
            remarks=_remarks(evaluation, shown, system, manner, untold, left_out),
            lanes_mm=shown.lanes_mm,
            ratio=ratio,
            system=system,
        )
        if made is None:
            return None
        slips, clear = _slips(shown.slips, made, system)
        named = name_parts(evaluation, shown.words, made.cut, system, manner)
        rows = [*named.rows, *_host_rows(evaluation, shown, made.cut, clear, manner, system)]
        heads = heads_of(manner.fields, system)
        placed = rows_column(rows, heads, made.names)
        if placed is None and manner.fewer:
            placed, dropped = most_rows(rows, heads, made.names, left_out)
            if dropped != left_out:
                left_out = dropped
                continue
        if placed is None:
            return None
        laps, missed = _laps(shown, made, rect.left_mm, system)
        if missed.keys() <= untold.keys():
            drawn = well(evaluation, made.cut, system)
            groups = (made.heading, *drawn, *laps, *slips, *named.in_bore, *placed, made.remarks)
            cut = made.cut
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
    liner, laps = evaluation.plan.depth.liner, evaluation.laps
    end = number(shown.end_md_m, "tally", system, THIN)
    names = [f"{lap.name} {untold[lap.part]}" if lap.part in untold else lap.name for lap in shown.laps]
    if shown.laps[0].length_m <= 0.0:
        below = number(-shown.laps[0].length_m, "tally", system, THIN)
        texts = [f"no lap: liner top {below} below {shown.end} {end}"]
    else:
        texts = [f"Laps to {shown.end} {end}: {', '.join(names)}"]
        if laps.cemented_m is not None:
            texts[0] += f"; cemented {number(laps.cemented_m, 'tally', system, THIN)}"
    texts.append("; ".join(shown.slips.words))
    if liner.later.seal_od_m is not None:
        travel = liner.later.seal_travel_m
        more = f", travel {show(travel, 'length', system)}" if travel is not None else ""
        texts.append(f"Tie-back later: seal {show(liner.later.seal_od_m, 'diameter', system)}{more}")
    texts += manner.words
    texts += signs(shown.words, shown.top_md_m, shown.bottom_md_m, manner)
    if left_out:
        texts.append(f"{left_out} more without a name here: see the tally")
    return tuple(sentence_case(text) for text in texts if text)


def _laps(shown: _Shown, made: Stage, left_mm: float, system: System) -> tuple[list[Group], dict[str, str]]:
    """The laps side by side, and the figures that found no room along their lines."""
    groups: list[Group] = []
    missed: dict[str, str] = {}
    cut = made.cut
    free = cut.top_mm  # no extension line of a lap to the left passes below it
    for n, lap in enumerate(shown.laps):
        if lap.length_m <= 0.0:
            continue
        x = left_mm + shown.lane_mm * (n + 0.78)
        figure = (ASSUMED if lap.assumed else "") + number(lap.length_m, "tally", system, THIN)
        first = (f"{figure} to {shown.end}",) if n == 0 else ()
        texts = (f"{figure} {lap.name} to {shown.end}", *first, f"{figure} {lap.name}", figure)
        top = cut.frame.y(lap.from_md_m)
        ends_here = shown.end_md_m <= cut.bottom_md_m
        if not cut.top_md_m <= lap.from_md_m <= cut.bottom_md_m or (
            not ends_here and cut.bottom_mm - top < dimension.LEAST_RUN_MM
        ):
            missed[lap.part] = figure
            continue
        if ends_here:
            foot = cut.frame.y(shown.end_md_m)
            shapes, told = dimension.between(x, top, foot, texts, made.left_mm)
        else:
            shapes, told = dimension.running_off(x, top, cut.bottom_mm + 0.7, texts, made.left_mm, free)
        if told is None:
            missed[lap.part] = figure
            continue
        free = top
        groups.append(Group(lap.part, f"Lap, {lap.name} to {shown.end}: {figure}", shapes))
    return groups, missed


def _slips(zone: SlipZone, made: Stage, system: System) -> tuple[list[Group], dict[float, str]]:
    """The slip zone as a bar between the couplings, what is clear; and the distances that found no room."""
    if zone.hanger is None or zone.slips_md_m is None:
        return [], {}
    y, cut = made.cut.frame.y, made.cut
    x, edge = made.left_mm - _BRACKET_MM - 0.1, made.left_mm
    top, bottom = zone.slips_md_m
    bar = Path((((x, y(top)), (x, y(bottom))),), Style(stroke=BLACK, width_mm=HEAVY_MM))
    shapes: list[Shape] = [bar]
    if zone.slips_deeper_m > 0.0:
        shapes += dimension.bracket(edge - 1.2, y(top), y(bottom + zone.slips_deeper_m))
    groups = [Group(zone.hanger.path, "Slip zone", tuple(shapes))]
    gaps = [(zone.above, zone.above.md_m, top)] if zone.above is not None else []
    gaps += [(zone.below, bottom, zone.below.md_m)] if zone.below is not None else []
    clear = {coupling.md_m: number(coupling.clear_m, "length", system) for coupling, _high, _low in gaps}
    seen = [gap for gap in gaps if cut.top_md_m <= gap[0].md_m <= cut.bottom_md_m and gap[0].clear_m > 0.0]
    untold = {md: words for md, words in clear.items() if md not in [gap[0].md_m for gap in seen]}
    for coupling, high, low in seen:
        words = clear[coupling.md_m]
        line, told = dimension.between(x, y(high), y(low), (f"{words} clear", words), edge)
        if told is None:
            untold[coupling.md_m] = words
        if zone.couplings_deeper_m > 0.0:
            line += dimension.bracket(
                edge - 0.5, y(coupling.md_m), y(coupling.md_m + zone.couplings_deeper_m)
            )
        groups.append(Group(zone.hanger.path, f"Slips {words} clear of a host coupling", line))
    return groups, untold


def _host_rows(
    evaluation: Evaluation, shown: _Shown, cut: Cut, clear: dict[float, str], manner: Manner, system: System
) -> list[Row]:
    """Couplings of the host, the slips, and where nothing may grip."""
    host, zone, paper = evaluation.plan.depth.host, shown.slips, cut.frame
    outer = paper.axis_mm + paper.r(host.coupling_od_m or host.od_m)
    rows: list[Row] = []

    def add(part: str, top: float, bottom: float, end_mm: float, name: str, rank: int) -> None:
        low, high = max(top, cut.top_md_m), min(bottom, cut.bottom_md_m)
        if low <= high:
            rows.append(Row(part, paper.y(low), paper.y(high), end_mm, name, rank=rank))

    for coupling in (zone.above, zone.below):
        if isinstance(coupling, Coupling):
            words = (
                f"{'' if manner.short else 'host '}coupling {number(coupling.md_m, 'tally', system, THIN)}"
            )
            if coupling.md_m in clear:
                words += f", {clear[coupling.md_m]} clear" if coupling.clear_m > 0.0 else ", in the slips"
            add(host.path, coupling.md_m, coupling.md_m, outer, words, 2)
    if zone.slips_md_m is not None and zone.hanger is not None:
        top, bottom = zone.slips_md_m
        words = " to ".join(number(md, "tally", system, THIN) for md in (top, bottom))
        middle = 0.5 * (top + bottom)
        add(zone.hanger.path, middle, bottom, paper.axis_mm + paper.r(host.id_m), f"bar: slips {words}", 2)
    for feature in host.features or ():
        words = " to ".join(
            number(md, "tally", system, THIN) for md in (feature.top_md_m, feature.bottom_md_m)
        )
        add(host.path, feature.top_md_m, feature.bottom_md_m, outer, f"{feature.what} {words}", 3)
    if shown.end == "host shoe":
        end = shown.end_md_m
        add(host.path, end, end, outer, f"host shoe {number(end, 'tally', system, THIN)}", 2)
    return rows
