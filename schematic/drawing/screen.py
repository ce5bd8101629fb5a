"""The well as a screen shows it: one view at a time, no wider than its columns, its letters large enough."""

from __future__ import annotations

from typing import Literal

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, SMALL_PT
from schematic.drawing.fills import Rect
from schematic.drawing.frame import ScaleKind, scale_words
from schematic.drawing.grid import MARGIN_MM, WELL_TOP_MM, Paper
from schematic.drawing.liner_top_detail import liner_top_detail
from schematic.drawing.page import fit
from schematic.drawing.palette import GREY
from schematic.drawing.ruler_track import FAN_TO_MM
from schematic.drawing.scene import Group, Scene, Text
from schematic.drawing.shoe_track_detail import shoe_track_detail
from schematic.drawing.text import width_mm
from schematic.drawing.title_block import CAUTION
from schematic.drawing.well_zone import EVERYWHERE, well_zone
from schematic.drawing.zones import Track, Zones
from schematic.units import System

View = Literal["fitted", "true", "liner top", "shoe track"]

_RIGHT_MM = 167.0  # ruler, strings, well, parts and volumes in their least widths
_TRACKS: frozenset[Track] = frozenset(("volumes",))
_WELL_MM = 124.0  # from the heads of the columns to the bottom; more where the labels need it
_GAP_MM = 2.4  # from the well's name to the scales
_DETAIL_MM = (131.0, 134.0)


def screen(evaluation: Evaluation, view: View, system: System) -> Scene:
    """One view of a well: the whole, or liner top or shoe track at true scale.

    The volumes stand to the right of all else: a narrow screen leaves them out, and nothing moves.
    """
    identity = evaluation.plan.identity
    if view in ("fitted", "true"):
        groups, paper = _whole(evaluation, "true" if view == "true" else "fitted", system)
    else:
        groups, paper = _detail(evaluation, view, system)
    words = f"{view} of {identity.name}, file {identity.file_hash}. {CAUTION}"
    return Scene(paper.width_mm, paper.height_mm, identity.name, words, tuple(g for g in groups if g.shapes))


def _whole(evaluation: Evaluation, scale: ScaleKind, system: System) -> tuple[list[Group], Paper]:
    high = _WELL_MM
    while True:
        paper = Paper("screen", _RIGHT_MM + MARGIN_MM, WELL_TOP_MM + high + MARGIN_MM)
        zones = Zones(_RIGHT_MM, WELL_TOP_MM + high, (), None, None, _TRACKS)
        well = well_zone(evaluation, scale, system, paper, zones, EVERYWHERE)
        if well.needs_mm <= 0.0:
            name, foot = evaluation.plan.identity.name, zones.bottom_mm + PITCH_MM
            words = " ".join((*scale_words(well.frame), f"diameters 1:{well.frame.ratio}"))
            room = well.grid.parts_mm[1] - FAN_TO_MM - width_mm(words, SMALL_PT) - _GAP_MM
            said = fit(name, room, bold=True)
            at = FAN_TO_MM + width_mm(said, SMALL_PT, bold=True) + _GAP_MM
            texts = (Text(FAN_TO_MM, foot, said, bold=True), Text(at, foot, words, colour=GREY))
            return [Group("well", name, texts), *well.groups], paper
        high += well.needs_mm + 1e-6


def _detail(evaluation: Evaluation, view: View, system: System) -> tuple[list[Group], Paper]:
    width, height = _DETAIL_MM
    rect = Rect(MARGIN_MM, MARGIN_MM, MARGIN_MM + width, MARGIN_MM + height)
    draw = liner_top_detail if view == "liner top" else shoe_track_detail
    detail = draw(evaluation, rect, system, "A" if view == "liner top" else "B")
    return list(detail.groups), Paper("screen", width + 2 * MARGIN_MM, height + 2 * MARGIN_MM)
