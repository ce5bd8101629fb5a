"""The page itself: its margins, type, rules, and how it writes a unit or a text that must fit."""

from __future__ import annotations

import re

from schematic.drawing.captions import SMALL_PT
from schematic.drawing.palette import BLACK
from schematic.drawing.scene import Path, Style
from schematic.drawing.text import width_mm
from schematic.units import System, unit_of

LEFT_MM = 8.0
MEDIUM_PT, LARGE_PT = 9.0, 16.0


def rule(y_mm: float, width_mm_: float, *, right: float, left: float = LEFT_MM, colour: str = BLACK) -> Path:
    """A level rule."""
    return Path((((left, y_mm), (right, y_mm)),), Style(stroke=colour, width_mm=width_mm_))


def unit_text(kind: str, system: System) -> str:
    """The unit of a kind as print writes it."""
    return unit_of(kind, system).replace("m3", "m\u00b3")


def raised(text: str) -> str:
    """A sentence with its cubic metres as print writes them."""
    return re.sub(r"(?<=[0-9] )m3\b", "m\u00b3", text)


def fit(text: str, room_mm: float, size_pt: float = SMALL_PT, bold: bool = False) -> str:
    """A text, cut with an ellipsis where it does not fit; the whole of it stands elsewhere on the page."""
    if width_mm(text, size_pt, bold) <= room_mm:
        return text
    while text and width_mm(text + "\u2026", size_pt, bold) > room_mm:
        text = text[:-1]
    return text.rstrip() + "\u2026"


def fit_before(text: str, tail: str, room_mm: float) -> str:
    """A small text and what must stand behind it whole: the text alone is cut where both do not fit."""
    return fit(text, room_mm - width_mm(tail, SMALL_PT)) + tail
