"""A scene as an SVG file that reads the same everywhere: no script, nothing from outside.

Presentation attributes, so that the drawing survives a viewer that strips styles; it then loses
only the switch that turns kerning and ligatures off: letters inside a run shift a little, its ends
stay. User units are millimetres.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING
from xml.etree import ElementTree
from zlib import crc32

from schematic.drawing.scene import POINT_MM, Dots, Path, Scene, Style, Text
from schematic.drawing.text import ground_mm, printable, start_mm, width_mm

if TYPE_CHECKING:
    from svgwrite.base import BaseElement

_SPECK_MM = "0.001"
_FAMILY = "DejaVu Sans, Verdana, sans-serif"


def render(scene: Scene) -> bytes:
    """Draw the page as UTF-8 SVG; the same scene gives the same bytes.

    Each group of the scene becomes a ``<g>``, with its part, if it has one, in ``data-part``. Ids
    start with a mark made from the page's title, so that pages shown in one document keep apart.
    """
    from svgwrite import Drawing

    width, height = _number(scene.width_mm), _number(scene.height_mm)
    drawing = Drawing(
        size=(f"{width}mm", f"{height}mm"),
        viewBox=f"0 0 {width} {height}",
        role="img",
        font_family=_FAMILY,
        style="font-kerning:none;font-variant-ligatures:none",  # not to be had as attributes
        text_rendering="geometricPrecision",
        debug=False,
    )
    _name(drawing, scene.title, scene.description)
    drawing.add(drawing.rect(size=(width, height), fill="#ffffff"))  # paper is white
    mark = f"p{crc32(scene.title.encode('utf-8', 'replace')):08x}"
    for number, group in enumerate(scene.groups, 1):
        element = drawing.g(id=f"{mark}-{number}")
        if group.part:
            element.attribs["data-part"] = printable(group.part)
        if group.title:
            element.attribs["aria-label"] = printable(group.title)
        _name(element, group.title, group.description)
        for shape in group.shapes:
            element.elements += _elements(shape)
        drawing.add(element)
    text = ElementTree.tostring(drawing.get_xml(), encoding="unicode")
    return b'<?xml version="1.0" encoding="utf-8"?>\n' + text.encode() + b"\n"


class _Ready:
    """A primitive whose attributes are texts already, in the order of their names: the library would go
    through each of them once more.
    """

    def __init__(self, tag: str, attributes: dict[str, str], text: str | None = None) -> None:
        self._xml = ElementTree.Element(tag, attributes)
        self._xml.text = text

    def get_xml(self) -> ElementTree.Element:
        """What the library asks of each element."""
        return self._xml


def _name(element: BaseElement, title: str, description: str) -> None:
    element.set_desc(printable(title) or None, printable(description) or None)


def _elements(shape: Path | Dots | Text) -> Iterable[_Ready]:
    if isinstance(shape, Text):
        return _text(shape)
    if isinstance(shape, Path):
        data, paint = _path_data(shape), _paint(shape.style, "evenodd")
    elif shape.style.stroke:
        data, paint = _rings_data(shape), _paint(shape.style, "nonzero")
    else:
        data, paint = _dots_data(shape), _paint(_round_stroke(shape), "nonzero")
    if not data:
        return []
    return [_Ready("path", {"d": data, **paint})]


def _text(shape: Text) -> Iterable[_Ready]:
    shown = printable(shape.text)
    if not shown:
        return
    if shape.backed:
        left, top, right, bottom = ground_mm(shape)
        width, height = _number(right - left), _number(bottom - top)
        size = {"fill": "#ffffff", "height": height, "width": width}
        yield _Ready("rect", {**size, "x": _number(left), "y": _number(top)})
    x, y = map(_number, start_mm(shape))
    attributes = {"fill": shape.colour, "font-size": _number(shape.size_pt * POINT_MM)}
    if shape.bold:
        attributes["font-weight"] = "bold"
    if len(shown) > 1:  # holds the width whatever font the reader has; one glyph cannot be spaced
        attributes["lengthAdjust"] = "spacing"
        attributes["textLength"] = _number(width_mm(shown, shape.size_pt, shape.bold))
    if shape.upward:
        attributes["transform"] = f"rotate(-90 {x} {y})"
    yield _Ready("text", {**attributes, "x": x, "y": y}, shown)


def _paint(style: Style, rule: str) -> dict[str, str]:
    attributes = {"fill": style.fill or "none"}
    if style.fill:
        attributes["fill-rule"] = rule
    if style.stroke:
        attributes["stroke"] = style.stroke
        if style.dash:
            attributes["stroke-dasharray"] = " ".join(map(_number, style.dash))
        if style.cap != "butt":
            attributes["stroke-linecap"] = style.cap
        if style.join != "miter":
            attributes["stroke-linejoin"] = style.join
        attributes["stroke-width"] = _number(style.width_mm)
    return attributes


def _path_data(shape: Path) -> str:
    close = "z" if shape.closed else ""
    return "".join("M" + "L".join([f"{x:.3f} {y:.3f}" for x, y in run]) + close for run in shape.runs if run)


def _round_stroke(shape: Dots) -> Style:
    """The stroke whose round ends make the dots: a third of the length of circles, and quicker to draw."""
    fill = shape.style.fill
    return Style(stroke=fill, width_mm=2.0 * shape.radius_mm, cap="round") if fill else Style()


def _dots_data(shape: Dots) -> str:
    # not quite of no length: some readers leave out a stroke of none
    return "".join([f"M{x:.3f} {y:.3f}h{_SPECK_MM}" for x, y in shape.centres])


def _rings_data(shape: Dots) -> str:
    # Two half circles; all but the place of the first point is common to the rings.
    r, d = _number(shape.radius_mm), _number(2.0 * shape.radius_mm)
    circle = f"a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0 -{d} 0z"
    radius = shape.radius_mm
    return "".join([f"M{x - radius:.3f} {y:.3f}{circle}" for x, y in shape.centres])


def _number(value: float) -> str:
    """Three decimals without trailing zeros, and no minus before zero."""
    text = f"{value:.3f}"
    if text[-1] == "0":
        text = text.rstrip("0").rstrip(".")
        return "0" if text == "-0" else text
    return text
