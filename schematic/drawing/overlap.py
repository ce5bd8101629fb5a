"""What is wrong with a page for its reader: print too small or off the page, texts on texts or struck."""

from __future__ import annotations

from math import isfinite

from schematic.drawing.scene import Dots, Path, Scene, Text
from schematic.drawing.strikes import strikes
from schematic.drawing.text import Box, box_mm, printable

LEAST_TEXT_PT = 6.5
LEAST_STROKE_MM = 0.18
_SHRINK_MM = 0.05  # boxes that merely touch do not overlap
_ROUND_OFF = 1e-9


def problems(scene: Scene) -> list[str]:
    """Sentences about what a reader of the page could not read; none when the page is good.

    Texts are compared by `box_mm`, with 0.05 mm taken off each side. A white ground does not count:
    it may cover texture. What lines do to texts and to each other is told by `strikes`.
    """
    found: list[str] = []
    texts: list[tuple[Box, Text]] = []
    for group in scene.groups:
        for shape in group.shapes:
            if not _is_finite(shape):
                found.append(f"{_kind(shape)} of {_owner(group.part)} has a coordinate that is not finite")
            elif not isinstance(shape, Text):
                found += _of_shape(shape, _owner(group.part), scene)
            elif printable(shape.text):  # else it prints nothing
                texts.append((box_mm(shape), shape))
    if any("not finite" in problem for problem in found):
        return found  # of which nothing else can be said
    for box, text in texts:
        if text.size_pt < LEAST_TEXT_PT - _ROUND_OFF:
            found.append(f"{_quoted(text)} is {text.size_pt:g} pt, under {LEAST_TEXT_PT:g} pt")
        if sides := _sides_left(box, scene):
            found.append(f"{_quoted(text)} leaves the page at the {' and the '.join(sides)}")
    return found + _overlaps(texts) + strikes(scene)


def _of_shape(shape: Path | Dots, owner: str, scene: Scene) -> list[str]:
    found = []
    width = shape.style.width_mm if shape.style.stroke else 0.0
    if shape.style.stroke and width < LEAST_STROKE_MM - _ROUND_OFF:
        found.append(f"stroke of {owner} is {width:g} mm, under {LEAST_STROKE_MM:g} mm")
    if sides := _sides_left(_extent(shape, 0.5 * width), scene):
        found.append(f"{_kind(shape)} of {owner} leaves the page at the {' and the '.join(sides)}")
    return found


def _extent(shape: Path | Dots, beyond_mm: float) -> Box:
    """What a shape covers with its stroke; a mitre may reach further."""
    points = shape.centres if isinstance(shape, Dots) else [p for run in shape.runs for p in run]
    reach = beyond_mm + (shape.radius_mm if isinstance(shape, Dots) else 0.0)
    if not points:
        return 0.0, 0.0, 0.0, 0.0
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs) - reach, min(ys) - reach, max(xs) + reach, max(ys) + reach


def _overlaps(texts: list[tuple[Box, Text]]) -> list[str]:
    found = []
    by_top = sorted(((_shrunk(box), text) for box, text in texts), key=lambda entry: entry[0][1])
    for index, ((left, _, right, bottom), text) in enumerate(by_top):
        for (other_left, other_top, other_right, _), other in by_top[index + 1 :]:
            if other_top >= bottom:
                break  # this one and all later ones start below
            if other_left < right and left < other_right:
                found.append(
                    f"{_quoted(text)} overlaps {_quoted(other)} "
                    f"at {max(left, other_left):.1f}, {other_top:.1f} mm"
                )
    return found


def _shrunk(box: Box) -> Box:
    left, top, right, bottom = box
    return left + _SHRINK_MM, top + _SHRINK_MM, right - _SHRINK_MM, bottom - _SHRINK_MM


def _sides_left(box: Box, scene: Scene) -> list[str]:
    left, top, right, bottom = box
    beyond = {
        "left": -left,
        "top": -top,
        "right": right - scene.width_mm,
        "bottom": bottom - scene.height_mm,
    }
    return [side for side, distance in beyond.items() if distance > _ROUND_OFF]


def _is_finite(shape: Path | Dots | Text) -> bool:
    if isinstance(shape, Text):
        return isfinite(shape.x_mm) and isfinite(shape.y_mm)
    points = shape.centres if isinstance(shape, Dots) else [p for run in shape.runs for p in run]
    return all(isfinite(x) and isfinite(y) for x, y in points)


def _kind(shape: Path | Dots | Text) -> str:
    return type(shape).__name__.lower()


def _owner(part: str) -> str:
    return printable(part) or "the page"


def _quoted(text: Text) -> str:
    return f'"{printable(text.text)}"'
