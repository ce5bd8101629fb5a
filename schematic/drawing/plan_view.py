"""The path seen from above, north up, at the scale of the section beside it."""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.depth.survey import SurveyPath
from schematic.drawing.captions import PITCH_MM, SMALL_PT
from schematic.drawing.curve_names import Ground
from schematic.drawing.fills import Rect
from schematic.drawing.palette import BLACK, BLUE, ESTIMATED_DASH_MM, FINE_MM, GREY, OUTLINE_MM, WHITE
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Style, Text
from schematic.drawing.text import width_mm

_WORDS = "Seen from above, N up"
_MARGIN_MM = 1.6
_LINER_MM = 0.7
_NORTH_MM = 5.0
_BESIDE_MM = 27.0  # off the end of the section: names stand between
_STEP_MM = 2.0  # between the places that are tried
_WELLHEAD_MM = 0.6


class PlanView(NamedTuple):
    """Where the view stands: its box, the wellhead in it, metres a millimetre."""

    box: Rect
    wellhead: Point
    m_per_mm: float

    def at(self, path: SurveyPath, md_m: float) -> Point:
        """The place of a depth on paper."""
        north, east, _tvd = path.position_m(md_m)
        return self.wellhead[0] + east / self.m_per_mm, self.wellhead[1] - north / self.m_per_mm


def find_place(
    path: SurveyPath, marks_md_m: tuple[float, ...], ratio: int, ground: Ground, beside_mm: float
) -> PlanView | None:
    """Room for the view at the upper right of the section, which ends at *beside_mm*; None: none."""
    m_per_mm = ratio / 1000.0
    places = [path.position_m(md) for md in marks_md_m]
    easts, norths = (
        [east / m_per_mm for _n, east, _t in places],
        [north / m_per_mm for north, _e, _t in places],
    )
    width = max(max(easts) - min(easts) + 2.0 * _MARGIN_MM + 3.0, width_mm(_WORDS, SMALL_PT) + 0.4)
    height = max(max(norths) - min(norths), _NORTH_MM) + 2.0 * _MARGIN_MM + PITCH_MM
    rect = ground.rect
    y = rect.top_mm
    while y + height <= rect.bottom_mm:
        x = min(rect.right_mm - width, beside_mm + _BESIDE_MM)
        while x >= rect.left_mm:
            if ground.free((x, y, x + width, y + height)):
                left = x + 0.5 * (width - 3.0 - max(easts) + min(easts))
                foot = y + height - _MARGIN_MM
                wellhead = (left - min(easts), foot + min(norths))
                return PlanView(Rect(x, y, x + width, y + height), wellhead, m_per_mm)
            x -= _STEP_MM
        y += _STEP_MM
    return None


def plan_view(
    view: PlanView,
    path: SurveyPath,
    marks_md_m: tuple[float, ...],
    liner_md_m: tuple[float, float],
    azimuth_rad: float,
) -> Group:
    """The path, the liner on it, the plane of the section as a dashed line through the wellhead."""
    box = view.box
    whole = tuple(view.at(path, md) for md in marks_md_m)
    low, high = liner_md_m
    inside = (low, *(md for md in marks_md_m if low < md < high), high)
    liner = tuple(view.at(path, md) for md in inside)
    x, y = view.wellhead
    north = box.right_mm - 1.6
    top = box.top_mm + PITCH_MM + 0.8
    corners = (
        (box.left_mm, box.top_mm),
        (box.right_mm, box.top_mm),
        (box.right_mm, box.bottom_mm),
        (box.left_mm, box.bottom_mm),
    )
    shapes: list[Shape] = [
        Path((corners,), Style(fill=WHITE), closed=True),  # the lines of the section mean nothing here
        Text(box.left_mm + 0.2, box.top_mm + 2.1, _WORDS, colour=GREY),
        Path(
            (_plane(view, whole, azimuth_rad),),
            Style(stroke=GREY, width_mm=FINE_MM, dash=ESTIMATED_DASH_MM),
        ),
        Path((whole,), Style(stroke=BLACK, width_mm=OUTLINE_MM, join="round")),
        Path((liner,), Style(stroke=BLUE, width_mm=_LINER_MM, join="round")),
        Dots(((x, y),), _WELLHEAD_MM, Style(stroke=BLACK, width_mm=FINE_MM, fill=WHITE)),
        Path((((north, top + _NORTH_MM), (north, top + 1.4)),), Style(stroke=BLACK, width_mm=FINE_MM)),
        Path(
            (((north, top), (north - 0.6, top + 1.7), (north + 0.6, top + 1.7)),),
            Style(fill=BLACK),
            closed=True,
        ),
    ]
    return Group("survey", "The path seen from above", tuple(shapes))


def _plane(view: PlanView, whole: tuple[Point, ...], azimuth_rad: float) -> tuple[Point, Point]:
    """The trace of the section's plane, as long as the path is along it."""
    across, up = math.sin(azimuth_rad), math.cos(azimuth_rad)
    x, y = view.wellhead
    along = [(px - x) * across - (py - y) * up for px, py in whole]
    return (
        (x + min(along) * across, y - min(along) * up),
        (x + max(along) * across, y - max(along) * up),
    )
