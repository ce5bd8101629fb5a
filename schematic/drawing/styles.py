"""The sheet in other inks: the same shapes at the same places, only their colours differ."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from schematic.drawing.palette import BLACK, BLUE, GREEN, GREY, VERMILION
from schematic.drawing.scene import Scene, Shape, Sheet, Text

Inks = Literal["colour", "grey"]

# More ink than the colours' own luminance gives: the liner is dark and black grips still show on it (3:1),
# dots of 0.3 mm print, and a letter reads on the disc of an error as that disc does on paper (4.5:1).
_CHOSEN = {BLUE: "#606060", GREEN: GREY, VERMILION: "#767676"}
_LETTERS = {BLUE: BLACK}  # names of liner parts are bold; in grey they would look like remarks


def luminance(colour: str) -> float:
    """Relative luminance of "#rrggbb" from 0 to 1, by the formula of WCAG 2 (W3C)."""
    parts = [int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def grey_of(colour: str) -> str:
    """The grey that a colour is printed in: a chosen ink, else its own luminance, so that contrasts stay."""
    if colour in _CHOSEN:
        return _CHOSEN[colour]
    light = luminance(colour)
    part = 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return "#" + 3 * f"{round(255.0 * part):02x}"


def in_grey(sheet: Sheet) -> Sheet:
    """The pages in greys, for paper without colour."""
    return Sheet(tuple(_scene(scene) for scene in sheet.scenes))


def _scene(scene: Scene) -> Scene:
    groups = (replace(group, shapes=tuple(map(_shape, group.shapes))) for group in scene.groups)
    return replace(scene, groups=tuple(groups))


def _shape(shape: Shape) -> Shape:
    if isinstance(shape, Text):
        return shape._replace(colour=_LETTERS.get(shape.colour) or grey_of(shape.colour))
    stroke, fill = (colour and grey_of(colour) for colour in (shape.style.stroke, shape.style.fill))
    return shape._replace(style=shape.style._replace(stroke=stroke, fill=fill))
