"""A well cut at depths into pages, each with as much of it as fits, joined by match lines."""

from __future__ import annotations

import math
from itertools import pairwise

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import THIN
from schematic.drawing.frame import ScaleKind
from schematic.drawing.grid import WELL_TOP_MM, Paper
from schematic.drawing.page import LEFT_MM
from schematic.drawing.palette import BLACK, CENTRE_DASH_MM, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Style, Text
from schematic.drawing.well_zone import Range, WellZone, well_zone
from schematic.drawing.zones import Zones
from schematic.units import System, number

_LINE_MM = 9.2  # below the last depth of a page
_LONG_M = 30.0  # longer parts may be cut within


def well_pages(
    evaluation: Evaluation, scale: ScaleKind, system: System, paper: Paper, zones: Zones
) -> list[WellZone]:
    """The well from the top down, page by page."""
    pages: list[WellZone] = []
    ends: list[float] = []
    low, cuts = -math.inf, [*_cuts(evaluation), math.inf]
    while not ends or not math.isinf(ends[-1]):
        made, low = _longest(evaluation, scale, system, paper, zones, low, [md for md in cuts if md > low])
        pages.append(made)
        ends.append(low)
    for sheet, ((above, below), md_m) in enumerate(zip(pairwise(pages), ends, strict=False), 1):
        md = number(md_m, "depth", system, THIN)
        foot = above.frame.scale.levels_mm[-1] + _LINE_MM
        above.groups.append(_match(foot, f"match line {md}, goes on on sheet {sheet + 1}", zones))
        below.groups.append(_match(WELL_TOP_MM - 2.0, f"match line {md}, from sheet {sheet}", zones))
    return pages


def _longest(
    evaluation: Evaluation,
    scale: ScaleKind,
    system: System,
    paper: Paper,
    zones: Zones,
    low_md_m: float,
    ends: list[float],
) -> tuple[WellZone, float]:
    """The page that reaches deepest; the first cut where not even that fits."""

    def made(end: float) -> WellZone:
        reach: Range = (low_md_m, end)
        return well_zone(evaluation, scale, system, paper, zones, reach)

    first, last = 0, len(ends) - 1
    best = made(ends[0])
    while first < last:
        middle = (first + last + 1) // 2
        trial = made(ends[middle])
        if trial.needs_mm <= 0.0:
            first, best = middle, trial
        else:
            last = middle - 1
    return best, ends[first]


def _cuts(evaluation: Evaluation) -> list[float]:
    """Where a well may be cut: between parts, within long ones, above shoes and hole sections."""
    depth = evaluation.plan.depth
    cuts = {part.top_md_m for part in depth.liner.parts}
    cuts |= {0.5 * (p.top_md_m + p.bottom_md_m) for p in depth.liner.parts if p.length_m > _LONG_M}
    marks = sorted({0.0, *(s.shoe_md_m for s in depth.strings), depth.liner.parts[0].top_md_m})
    cuts |= {0.5 * (above + below) for above, below in pairwise(marks) if below - above > _LONG_M}
    deepest = max(depth.td_md_m, depth.liner.shoe_md_m)
    return sorted(md for md in cuts if 1.0 < md < deepest - 1.0)


def _match(y_mm: float, words: str, zones: Zones) -> Group:
    line = Path(
        (((LEFT_MM, y_mm), (zones.right_mm, y_mm)),),
        Style(stroke=BLACK, width_mm=OUTLINE_MM, dash=CENTRE_DASH_MM),
    )
    text = Text(zones.right_mm, y_mm + 2.4, words, bold=True, anchor="end")
    return Group("", "match line", (line, text))
