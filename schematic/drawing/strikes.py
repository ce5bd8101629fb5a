"""What lines do where they should not: run through words, cross as leaders, lose a wall to a ground.

A shape has its number in painting order; what is painted later lies on top. A text with a ground of its own,
or on a disc or rectangle that holds all its ink, is disturbed only by what is painted after that ground.
"""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import TYPE_CHECKING, Any, NamedTuple

from schematic.drawing.labels import cross, meets
from schematic.drawing.palette import OUTLINE_MM
from schematic.drawing.scene import POINT_MM, Dots, Path, Point, Scene, Shape, Text
from schematic.drawing.text import DESCENT_EM, Box, box_mm, ground_mm, printable

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[Any]

_SPARE_MM = 0.1  # lines may pass closer to a text than the box of its font
_TEXTURE_MM = 0.5  # smaller dots are texture; a larger disc may be the ground of a letter
_EDGE_MM = 0.05


class _Legs(NamedTuple):
    """All straight pieces of a page, as columns; a piece that is the edge of a fill has no stroke."""

    x0: Floats
    y0: Floats
    x1: Floats
    y1: Floats
    number: Floats
    stroked: Floats


def strikes(scene: Scene) -> list[str]:
    """Sentences about texts that something runs through, walls that a ground cuts, leaders that cross."""
    drawn = [shape for group in scene.groups for shape in group.shapes]
    owners = [printable(group.part) or "the page" for group in scene.groups for _ in group.shapes]
    legs, dots, grounds = _legs(drawn), _dots(drawn), _grounds(drawn)
    found = []
    for number, text in enumerate(drawn):
        if not isinstance(text, Text) or not printable(text.text):
            continue
        name, box = f'"{printable(text.text)}"', ink_mm(text)
        holding = [other for other, shape in grounds if _holds(shape, box)]
        ground = number if text.backed else max((n for n in holding if n < number), default=-1)
        later = legs.number > ground
        hits = _met(legs, box, later & (legs.stroked | (legs.number > number)))
        found += [f"{name} is struck by a line of {owners[hit]}" for hit in hits]
        found += [f"{name} has dots of {owners[hit]} in it" for hit in _dotted(dots, box, ground)]
        found += [f"{name} is covered by {owners[hit]}" for hit in holding if hit > number]
        if text.backed:
            left, top, right, bottom = ground_mm(text)
            inner = (left + _EDGE_MM, top + _EDGE_MM, right - _EDGE_MM, bottom - _EDGE_MM)
            hits = _met(legs, inner, legs.stroked & (legs.number < number))
            found += [
                f"the ground of {name} cuts a wall of {owners[hit]}" for hit in hits if _wall(drawn[hit])
            ]
    return found + _crossed(scene)


def ink_mm(text: Text) -> Box:
    """Where a text without tails blackens the paper, 0.1 mm taken off on each side."""
    left, top, right, bottom = box_mm(text)
    tail = DESCENT_EM * text.size_pt * POINT_MM
    right, bottom = (right - tail, bottom) if text.upward else (right, bottom - tail)
    return left + _SPARE_MM, top + _SPARE_MM, right - _SPARE_MM, bottom - _SPARE_MM


def leaders(scene: Scene) -> list[tuple[Point, ...]]:
    """The leaders of a page: open lines that end in a single dot of their own group."""
    found = []
    for group in scene.groups:
        ends = {s.centres[0] for s in group.shapes if isinstance(s, Dots) and len(s.centres) == 1}
        paths = (s for s in group.shapes if isinstance(s, Path) and not s.closed and s.style.stroke)
        found += [run for path in paths for run in path.runs if run and run[-1] in ends]
    return found


def _crossed(scene: Scene) -> list[str]:
    return [
        f"leaders from {one[0][0]:.1f}, {one[0][1]:.1f} mm and {other[0][0]:.1f}, {other[0][1]:.1f} mm cross"
        for one, other in combinations(leaders(scene), 2)
        if cross(one, other)
    ]


def _legs(drawn: list[Shape]) -> _Legs:
    import numpy as np

    rows = []
    for number, shape in enumerate(drawn):
        if isinstance(shape, Path) and (shape.style.stroke or shape.style.fill):
            stroked = bool(shape.style.stroke)
            for run in shape.runs:
                points = (*run, run[0]) if shape.closed and run else run
                rows += [(*a, *b, number, stroked) for a, b in pairwise(points)]
    x0, y0, x1, y1, numbers, strokes = np.array(rows, dtype=float).reshape(-1, 6).T
    return _Legs(x0, y0, x1, y1, numbers, strokes > 0.0)


def _dots(drawn: list[Shape]) -> Floats:
    """Columns: x, y, radius, number of shape."""
    import numpy as np

    rows = [
        (x, y, shape.radius_mm, number)
        for number, shape in enumerate(drawn)
        if isinstance(shape, Dots)
        for x, y in shape.centres
    ]
    return np.array(rows, dtype=float).reshape(-1, 4).T


def _met(legs: _Legs, box: Box, wanted: Floats) -> list[int]:
    """Numbers of the shapes of which a wanted piece runs through the box."""
    import numpy as np

    left, top, right, bottom = box
    near = wanted & (np.minimum(legs.x0, legs.x1) < right) & (np.maximum(legs.x0, legs.x1) > left)
    near &= (np.minimum(legs.y0, legs.y1) < bottom) & (np.maximum(legs.y0, legs.y1) > top)
    pieces = zip(*(column[near] for column in legs[:5]), strict=True)
    return sorted({int(number) for x0, y0, x1, y1, number in pieces if meets((x0, y0), (x1, y1), box)})


def _dotted(dots: Floats, box: Box, ground: int) -> list[int]:
    x, y, r, number = dots
    left, top, right, bottom = box
    inside = (x > left - r) & (x < right + r) & (y > top - r) & (y < bottom + r) & (number > ground)
    return sorted({int(each) for each in number[inside]})


def _grounds(drawn: list[Shape]) -> list[tuple[int, Dots | Box]]:
    """The shapes that may hold a text, with their numbers: filled discs, and filled rectangles as boxes."""
    found: list[tuple[int, Dots | Box]] = []
    for number, shape in enumerate(drawn):
        if isinstance(shape, Text) or not shape.style.fill:
            continue
        if isinstance(shape, Dots):
            if shape.radius_mm > _TEXTURE_MM:
                found.append((number, shape))
        elif shape.closed and len(shape.runs) == 1 and len(shape.runs[0]) == 4:
            xs, ys = ({point[at] for point in shape.runs[0]} for at in (0, 1))
            if len(xs) == len(ys) == 2:
                found.append((number, (min(xs), min(ys), max(xs), max(ys))))
    return found


def _holds(ground: Dots | Box, box: Box) -> bool:
    left, top, right, bottom = box
    if isinstance(ground, Dots):
        r2 = ground.radius_mm**2
        reach = ((max(right - x, x - left), max(bottom - y, y - top)) for x, y in ground.centres)
        return any(across * across + down * down <= r2 for across, down in reach)
    return ground[0] <= left and ground[1] <= top and right <= ground[2] and bottom <= ground[3]


def _wall(shape: Shape) -> bool:
    """Whether a shape is a wall, a frame or a curve: solid, and as thick as an outline."""
    return isinstance(shape, Path) and not shape.style.dash and shape.style.width_mm >= OUTLINE_MM
