"""The names beside the well at a step: what changed and what holds pressure in bold, each with its state."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import Label, with_leaders, wrap
from schematic.drawing.fills import Rect
from schematic.drawing.labels import ColumnTooFullError, place
from schematic.drawing.palette import GREY
from schematic.drawing.scene import POINT_MM, Group, Point, Shape, Text
from schematic.drawing.step_stands import Stands
from schematic.drawing.step_tell import Name, Teller
from schematic.drawing.step_view import View
from schematic.job.card import Scene
from schematic.units import System

# size of print and how much is named, the first that has room: 2 everything, 0 only what matters most
_MANNERS = ((8.0, 2), (7.5, 2), (7.0, 2), (6.5, 2), (7.0, 1), (6.5, 1), (6.5, 0))
_GAP_MM = 0.6
_TEXT_MM = 2.2  # from the knee to the names


def names_beside(
    evaluation: Evaluation,
    scene: Scene,
    before: Scene | None,
    its: Stands,
    seen: View,
    column: Rect,
    system: System,
) -> list[Group]:
    """The names with their leaders in a column; the knee of the leaders is its left edge.

    Where not all have room, those stay that matter most, and a remark counts the others.
    """
    teller = Teller(evaluation, scene, before, its, seen, system)
    found = [*teller.string(), *teller.liner(), *teller.well(), *teller.dropped(), *teller.fluids()]
    names = sorted((one for one in found if seen.window(one.y_mm) is not None), key=lambda one: one.y_mm)
    for points, rank in _MANNERS:
        kept = [one for one in names if one.strong or one.rank <= rank]
        placed = _placed(kept, points, column, len(names) - len(kept))
        if placed is not None:
            return placed
    while kept:
        kept.remove(max(reversed(kept), key=lambda one: (not one.strong, one.rank)))
        placed = _placed(kept, _MANNERS[-1][0], column, len(names) - len(kept))
        if placed is not None:
            return placed
    return []


def _placed(names: Sequence[Name], points: float, column: Rect, missing: int) -> list[Group] | None:
    """The names in their places with leaders, in one size of print; None where they have no room."""
    pitch = points * POINT_MM * 1.2
    left = column.left_mm + _TEXT_MM
    room = column.right_mm - left
    lines = [wrap(name.text, room, bold=name.strong, size_pt=points) for name in names]
    foot = column.bottom_mm - (pitch if missing else 0.0)
    targets = [name.y_mm - 0.5 * pitch for name in names]
    try:
        tops = place(targets, [pitch * len(text) for text in lines], column.top_mm, foot, _GAP_MM)
    except ColumnTooFullError:
        return None
    texts: list[list[Shape]] = []
    starts: list[Point] = []
    for name, top, text in zip(names, tops, lines, strict=True):
        base = top + 0.78 * pitch
        starts.append((left - 0.7, base - 0.26 * points * POINT_MM))
        texts.append(
            [
                Text(left, base + pitch * row, line, points, name.strong, name.colour)
                for row, line in enumerate(text)
            ]
        )
    ends = [(min(name.end_mm, column.left_mm), name.y_mm) for name in names]
    labels = [Label(n.part, (n.text,), 1, 0.0, 0.0, n.end_mm) for n in names]
    groups = with_leaders(labels, starts, ends, texts, column.left_mm)
    if missing:
        words = f"{missing} more not named: see the tally"
        groups.append(
            Group("", "not named", (Text(left, column.bottom_mm - 0.6, words, points, colour=GREY),))
        )
    return groups
