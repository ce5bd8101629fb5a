"""What lines and dots do to texts on a page: run through them, or lose a wall to their white ground."""

from __future__ import annotations

from schematic.drawing.findings import FLAG_MM
from schematic.drawing.palette import OUTLINE_MM
from schematic.drawing.scene import Dots, Path, Scene, Shape, Text
from schematic.drawing.text import Box, box_mm, ground_mm


def shapes(scene: Scene) -> list[Shape]:
    return [shape for group in scene.groups for shape in group.shapes]


def legs(path: Path) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    closing = [(run[-1], run[0]) for run in path.runs] if path.closed else []
    return [leg for run in path.runs for leg in zip(run, run[1:], strict=False)] + closing


def meets(leg: tuple[tuple[float, float], tuple[float, float]], box: Box) -> bool:
    """Whether a segment meets a box: it is clipped to the box side by side, and something is left."""
    (x0, y0), (x1, y1) = leg
    low, high = 0.0, 1.0
    for start, step, least, most in ((x0, x1 - x0, box[0], box[2]), (y0, y1 - y0, box[1], box[3])):
        if abs(step) < 1e-12:
            if not least < start < most:
                return False
            continue
        a, b = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, a), min(high, b)
    return low < high


def ink(text: Text) -> Box:
    """Where a text without tails blackens the paper, 0.1 mm taken off: lines may pass closer than its box."""
    left, top, right, bottom = box_mm(text)
    em = text.size_pt * 25.4 / 72.0
    if text.upward:
        return left + 0.1, top + 0.1, right - 0.24 * em - 0.1, bottom - 0.1
    return left + 0.1, top + 0.1, right - 0.1, bottom - 0.24 * em - 0.1


def struck(scene: Scene) -> list[str]:
    """Texts that a line or dot runs through: after the text, or before it where it stands on no ground.

    The letter of a flag stands on the disc that is painted just before it.
    """
    found = []
    drawn = shapes(scene)
    texts = [(n, shape) for n, shape in enumerate(drawn) if isinstance(shape, Text)]
    for n, text in texts:
        box = ink(text)
        for m, shape in enumerate(drawn):
            if m < n and (text.backed or _is_flag(drawn[n - 1])):
                continue
            if isinstance(shape, Path) and shape.style.stroke:
                if any(meets(leg, box) for leg in legs(shape)):
                    found.append(f"{text.text!r} is struck by a line of {shape.style}")
            elif isinstance(shape, Dots) and shape.radius_mm != FLAG_MM:
                r = shape.radius_mm
                if any(box[0] - r < x < box[2] + r and box[1] - r < y < box[3] + r for x, y in shape.centres):
                    found.append(f"{text.text!r} has dots of {shape.style} in it")
    return found


def cut(scene: Scene) -> list[str]:
    """Texts whose white ground cuts a wall, a frame or a curve: solid, and as thick as an outline."""
    found = []
    drawn = shapes(scene)
    for n, text in enumerate(drawn):
        if isinstance(text, Text) and text.backed:
            left, top, right, bottom = ground_mm(text)
            box = (left + 0.05, top + 0.05, right - 0.05, bottom - 0.05)
            for shape in drawn[:n]:
                solid = isinstance(shape, Path) and shape.style.stroke and not shape.style.dash
                if (
                    solid
                    and shape.style.width_mm >= OUTLINE_MM
                    and any(meets(leg, box) for leg in legs(shape))
                ):
                    found.append(f"{text.text!r} cuts a line of {shape.style}")
    return found


def _is_flag(shape: Shape) -> bool:
    return isinstance(shape, Dots) and shape.radius_mm == FLAG_MM and shape.style.fill is not None
