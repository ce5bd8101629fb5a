"""How wide a line of text is and where it stands, from the advances of the one font family.

Widths are sums of the font's own unhinted advances: no kerning, no ligatures, so that every
backend can put each glyph at the very same place. The font files are those that ship inside
matplotlib, which is found but not imported.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

from schematic.drawing.scene import POINT_MM, Point, Text

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

Box = tuple[float, float, float, float]  # left, top, right, bottom [mm]

ASCENT_EM = 0.76  # above the baseline: cap height 0.729, ascender of "b" 0.760
DESCENT_EM = 0.24  # below it: the tail of "g" reaches 0.208, in bold 0.216
GROUND_MM = 0.35  # the white ground of a backed text, beyond each end of the run

_BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}  # of the width, before the anchor
_MISSING = ""  # key of the advance of .notdef, drawn for a character that the font lacks
_SPACE = "[ \t\n\r\f\v\u2028\u2029]"
_SPACES = re.compile(f"{_SPACE}(?:{_SPACE}+|(?<! ))")  # a run of them, or one that is no plain space
UNPRINTABLE = re.compile(
    "[\x00-\x1f\x7f-\x9f"  # control characters; most are not allowed in XML 1.0 at all
    "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"  # would turn the reading direction of the rest
    "\ud800-\udfff\ufffe\uffff]"  # not characters
)


@lru_cache(maxsize=4096)  # each text of a page is measured and written several times
def printable(text: str) -> str:
    """Return *text* as all backends print it, on one line.

    White space shrinks to single spaces and goes at the ends, as a browser would do anyway; control
    characters, direction overrides and lone surrogates become U+FFFD.
    """
    return UNPRINTABLE.sub("\ufffd", _SPACES.sub(" ", text).strip(" "))


@cache
def font_path(bold: bool = False) -> Path:
    """Path of the TrueType file of DejaVu Sans or DejaVu Sans Bold.

    Raises ``ModuleNotFoundError`` where matplotlib, which brings the file, is not installed.
    """
    spec = find_spec("matplotlib")
    if spec is None or not spec.submodule_search_locations:
        raise ModuleNotFoundError("matplotlib is needed for its font files: pip install matplotlib")
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    return Path(spec.submodule_search_locations[0], "mpl-data", "fonts", "ttf", name)


def open_font(bold: bool = False) -> TTFont:
    """Read the font with fontTools; a fresh object, which threads must not share."""
    from fontTools.ttLib import TTFont

    return TTFont(font_path(bold))


@cache
def _advances_em(bold: bool) -> dict[str, float]:
    with open_font(bold) as font:
        metrics, units_per_em = font["hmtx"], font["head"].unitsPerEm
        advances = {chr(code): metrics[name][0] for code, name in font.getBestCmap().items()}
        advances[_MISSING] = metrics[".notdef"][0]
    return {char: units / units_per_em for char, units in advances.items()}


@lru_cache(maxsize=8192)  # layout measures each text of a page several times
def width_mm(text: str, size_pt: float, bold: bool = False) -> float:
    """Width of a line of text on paper, from the start of its first advance to the end of its last.

    A character that the font lacks counts as the font's box for missing glyphs.
    """
    advances = _advances_em(bold)
    missing = advances[_MISSING]
    return sum([advances.get(char, missing) for char in printable(text)]) * size_pt * POINT_MM


def glyph_starts_em(text: str, bold: bool = False) -> list[tuple[str, float]]:
    """Each printed character with the place along the run where its advance starts [em]."""
    advances = _advances_em(bold)
    starts, reached = [], 0.0
    for char in printable(text):
        starts.append((char, reached))
        reached += advances.get(char, advances[_MISSING])
    return starts


def start_mm(text: Text) -> Point:
    """Where the run starts on the baseline, whatever the anchor."""
    return _start_mm(text, width_mm(text.text, text.size_pt, text.bold))


def _start_mm(text: Text, width: float) -> Point:
    before = _BEFORE[text.anchor] * width
    return (text.x_mm, text.y_mm + before) if text.upward else (text.x_mm - before, text.y_mm)


def box_mm(text: Text, beyond_mm: float = 0.0) -> Box:
    """Left, top, right and bottom of the text on paper.

    As long as the run, lengthened by *beyond_mm* at both ends, and as high as the font's ascenders
    and descenders, whatever the letters. One em is less than a line pitch, so that lines of a block
    do not touch; for the same reason a ground grows at the ends only.
    """
    em = text.size_pt * POINT_MM
    width = width_mm(text.text, text.size_pt, text.bold)
    length = width + beyond_mm
    x, y = _start_mm(text, width)
    if text.upward:
        return x - ASCENT_EM * em, y - length, x + DESCENT_EM * em, y + beyond_mm
    return x - beyond_mm, y - ASCENT_EM * em, x + length, y + DESCENT_EM * em


def ground_mm(text: Text) -> Box:
    """Left, top, right and bottom of the white ground of a backed text."""
    return box_mm(text, GROUND_MM)
