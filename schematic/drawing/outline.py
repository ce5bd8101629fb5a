"""A scene as plain text, one line per shape: for tests and for reading a drawing in a terminal."""

from __future__ import annotations

import json

from schematic.drawing.scene import Dots, Path, Scene, Shape, Style, Text
from schematic.drawing.text import printable


def render(scene: Scene) -> bytes:
    """List the page as UTF-8 text: the page, then each group with its shapes below it [mm, pt]."""
    lines = [f"page {scene.width_mm:.2f} x {scene.height_mm:.2f} {_quoted(scene.title)}"]
    for group in scene.groups:
        lines.append(f"group {printable(group.part) or '-'} {_quoted(group.title)}")
        lines.extend(f"  {_line(shape)}" for shape in group.shapes)
    return ("\n".join(lines) + "\n").encode()


def _line(shape: Shape) -> str:
    if isinstance(shape, Text):
        flags = ("bold", shape.bold), ("upward", shape.upward), ("backed", shape.backed)
        words = [shape.anchor, shape.colour, *(word for word, on in flags if on)]
        place = f"{shape.x_mm:.2f},{shape.y_mm:.2f}"
        return f"text {place} {shape.size_pt:g} pt {' '.join(words)} {_quoted(shape.text)}"
    if isinstance(shape, Dots):
        where = _extent(shape.centres)
        return f"dots {len(shape.centres)} r {shape.radius_mm:.3f} {where} {_paint(shape.style)}"
    points = [point for run in shape.runs for point in run]
    kind = "closed" if shape.closed else "open"
    count = f"{kind} {len(shape.runs)} runs {len(points)} points"
    return f"path {count} {_extent(points)} {_paint(shape.style)}"


def _extent(points: Path | tuple[tuple[float, float], ...] | list[tuple[float, float]]) -> str:
    if not points:
        return "nowhere"
    xs, ys = zip(*points, strict=True)
    return f"{min(xs):.2f},{min(ys):.2f} to {max(xs):.2f},{max(ys):.2f}"


def _paint(style: Style) -> str:
    words = []
    if style.fill:
        words.append(f"fill {style.fill}")
    if style.stroke:
        words.append(f"stroke {style.stroke} {style.width_mm:g}")
        if style.dash:
            words.append("dash " + ",".join(f"{length:g}" for length in style.dash))
    return " ".join(words) or "unpainted"


def _quoted(text: str) -> str:
    return json.dumps(printable(text), ensure_ascii=False)
