"""Shapes of a page and their straight pieces, and what `strikes` finds of one kind."""

from __future__ import annotations

from schematic.drawing import labels
from schematic.drawing.scene import Path, Scene, Shape
from schematic.drawing.strikes import strikes
from schematic.drawing.text import Box


def shapes(scene: Scene) -> list[Shape]:
    return [shape for group in scene.groups for shape in group.shapes]


def legs(path: Path) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    closing = [(run[-1], run[0]) for run in path.runs] if path.closed else []
    return [leg for run in path.runs for leg in zip(run, run[1:], strict=False)] + closing


def meets(leg: tuple[tuple[float, float], tuple[float, float]], box: Box) -> bool:
    """Whether a segment meets a box."""
    return labels.meets(*leg, box)


def struck(scene: Scene) -> list[str]:
    """Texts that a line or dot runs through: after the text, or before it where it stands on no ground."""
    return [told for told in strikes(scene) if "struck by a line" in told or "has dots" in told]


def cut(scene: Scene) -> list[str]:
    """Texts whose white ground cuts a wall, a frame or a curve: solid, and as thick as an outline."""
    return [told for told in strikes(scene) if "cuts a wall" in told]
