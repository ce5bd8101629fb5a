"""A page as plain shapes on paper, style already decided: what the layout makes and the backends draw.

Millimetres on paper, origin at the top left, y downward, painted in the order of the list. Three shapes
are enough: paths of straight segments (curves are sampled before they come here), dots, text.
Nothing here knows about wells.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

Point = tuple[float, float]

POINT_MM = 25.4 / 72.0  # one typographic point


class Style(NamedTuple):
    """How a path or dot is painted; ``None`` is "not painted", 0 is never "default"."""

    stroke: str | None = None  # "#rrggbb"
    width_mm: float = 0.18
    fill: str | None = None  # "#rrggbb", even-odd over all runs of the path
    dash: tuple[float, ...] = ()  # on, off, on, off ... [mm]
    cap: Literal["butt", "round"] = "butt"
    join: Literal["miter", "round"] = "miter"


class Path(NamedTuple):
    """One or many runs of straight segments that share a style."""

    runs: tuple[tuple[Point, ...], ...]
    style: Style
    closed: bool = False


class Dots(NamedTuple):
    """Many circles of one radius that share a style."""

    centres: tuple[Point, ...]
    radius_mm: float
    style: Style


class Text(NamedTuple):
    """One line of text; *x_mm*, *y_mm* is where the anchor meets the baseline."""

    x_mm: float
    y_mm: float
    text: str
    size_pt: float = 6.5
    bold: bool = False
    colour: str = "#000000"
    anchor: Literal["start", "middle", "end"] = "start"
    upward: bool = False  # turned 90 degrees anticlockwise, reading from bottom to top
    backed: bool = False  # on a white ground 0.35 mm wider than the text


Shape = Path | Dots | Text


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes that together show one thing of the well.

    *part* is the thing's path in the plan ("liner.hanger"); it is empty for furniture of the page. The
    same part may own several groups (its body and its label).
    """

    part: str
    title: str
    shapes: tuple[Shape, ...]
    description: str = ""


@dataclass(frozen=True, slots=True)
class Scene:
    """One page."""

    width_mm: float
    height_mm: float
    title: str
    description: str
    groups: tuple[Group, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The pages of one drawing, in order."""

    scenes: tuple[Scene, ...]
