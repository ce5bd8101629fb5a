"""What a step card's blocks are made of: heads, paragraphs with their marks, sentences in units."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from schematic.drawing.captions import THIN, wrap
from schematic.drawing.page import fit, rule
from schematic.drawing.palette import BLACK, FINE_MM, OUTLINE_MM
from schematic.drawing.scene import POINT_MM, Path, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.job.card import Say
from schematic.outcome import sentence
from schematic.units import System, sentence_case

HEAD_PT = 11.0
LEAD = 1.22
# white between things, by how tight it is set: height and baseline of a head, its print, below it, in a list
_HEAD_MM, _BASE_MM, _HEAD_PTS = (7.2, 6.5, 5.4), (4.9, 4.9, 4.3), (HEAD_PT, HEAD_PT, 10.0)
_AFTER_MM, _BETWEEN_MM, _LEADS = (2.0, 0.9, 0.6), (0.9, 0.4, 0.3), (LEAD, LEAD, 1.18)
INDENT_MM = 5.2
_MOST_LINES = 36  # of one item

Draw = Callable[[float, float], list[Shape]]  # at a left edge, from a level down


class Item(NamedTuple):
    """A piece of a block: its height, and what draws it."""

    height_mm: float
    draw: Draw


class Print(NamedTuple):
    """How a column is printed: how wide, in which size, how much white between."""

    width_mm: float
    points: float
    system: System
    tight: int = 0  # 0, 1, 2

    @property
    def pitch_mm(self) -> float:
        """From line to line."""
        return self.points * POINT_MM * self.lead

    @property
    def lead(self) -> float:
        """From line to line, as a multiple of the print."""
        return _LEADS[self.tight]

    @property
    def head_mm(self) -> float:
        """Height of the head of a block."""
        return _HEAD_MM[self.tight]

    @property
    def head_pt(self) -> float:
        """Size of the head of a block."""
        return _HEAD_PTS[self.tight]

    @property
    def base_mm(self) -> float:
        """From the top of a block to the baseline of its head."""
        return _BASE_MM[self.tight]

    @property
    def after_mm(self) -> float:
        """White below a block."""
        return _AFTER_MM[self.tight]

    @property
    def between_mm(self) -> float:
        """White between two items of a list."""
        return _BETWEEN_MM[self.tight]


class Block(NamedTuple):
    """A head and the items under it."""

    title: str
    items: tuple[Item, ...]

    def height_mm(self, style: Print) -> float:
        """The whole of it, head and white below included."""
        return style.head_mm + sum(item.height_mm for item in self.items) + style.after_mm


def text_of(say: Say, system: System) -> str:
    """A sentence in the reader's units."""
    return sentence_case(sentence(say.text, say.figures, system, THIN))


def head(title: str, left_mm: float, top_mm: float, style: Print) -> list[Shape]:
    """The rule and the head of a block."""
    sizes = [points for points in (HEAD_PT, 10.0, 9.0) if points <= style.head_pt]
    points = next((p for p in sizes if width_mm(title, p, True) <= style.width_mm), 8.0)
    words = fit(title, style.width_mm, points, True)
    return [
        rule(top_mm + 0.3, FINE_MM, left=left_mm, right=left_mm + style.width_mm),
        Text(left_mm, top_mm + style.base_mm, words, points, bold=True),
    ]


def pieces(text: str, room: float, style: Print, bold: bool = False) -> list[tuple[str, ...]]:
    """A text in lines, in pieces that no column is too short for."""
    lines = wrap(text, room, bold=bold, size_pt=style.points)
    return [lines[n : n + _MOST_LINES] for n in range(0, len(lines), _MOST_LINES)]


def paragraph(
    lines: Sequence[tuple[str, bool]], style: Print, mark: str = "", after_mm: float | None = None
) -> Item:
    """Lines, some bold, behind a mark: "tick", "ask", a number, or none."""
    pitch = style.pitch_mm

    def draw(left: float, top: float) -> list[Shape]:
        base = top + 0.8 * pitch
        shapes: list[Shape] = []
        if mark == "tick":
            size = (0.74 if style.tight else 0.82) * pitch
            y = base + 0.25
            run = ((left, y - size), (left + size, y - size), (left + size, y), (left, y))
            shapes.append(Path((run,), Style(stroke=BLACK, width_mm=OUTLINE_MM), closed=True))
        elif mark == "ask":
            tip = ((left, base - 2.4), (left + 3.0, base - 1.0), (left, base + 0.4))
            shapes.append(Path((tip,), Style(fill=BLACK), closed=True))
        elif mark:
            shapes.append(Text(left, base, mark, style.points, bold=True))
        x = left + (INDENT_MM if mark else 0.0)
        for row, (line, bold) in enumerate(lines):
            shapes.append(Text(x, base + pitch * row, line, style.points, bold=bold))
        return shapes

    return Item(pitch * len(lines) + (style.between_mm if after_mm is None else after_mm), draw)


def listed(title: str, texts: Sequence[str], style: Print, mark: str = "", *, bold: bool = False) -> Block:
    """Sentences under a head, each behind a box to tick, a number, or nothing."""
    room = style.width_mm - (INDENT_MM if mark else 0.0)
    items = []
    for index, text in enumerate(texts):
        shown = str(index + 1) if mark == "number" else mark
        for n, lines in enumerate(pieces(text, room, style, bold)):
            items.append(paragraph([(line, bold) for line in lines], style, shown if n == 0 else ""))
    return Block(title, tuple(items))
