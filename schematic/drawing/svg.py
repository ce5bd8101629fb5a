"""A scene as an SVG file that reads the same everywhere: no script, nothing from outside.

Presentation attributes, so that the drawing survives a viewer that strips styles; it then loses
only the switch that turns kerning and ligatures off: letters inside a run shift a little, its ends
stay. User units are millimetres.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any, NamedTuple
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
    make = _Makers(drawing.g, drawing.path, drawing.text, drawing.rect)
    for number, group in enumerate(scene.groups, 1):
        element = make.group(id=f"{mark}-{number}")
        if group.part:
            element.attribs["data-part"] = printable(group.part)
        if group.title:
            element.attribs["aria-label"] = printable(group.title)
        _name(element, group.title, group.description)
        for shape in group.shapes:
            element.elements += _elements(shape, make)
        drawing.add(element)
    text = ElementTree.tostring(drawing.get_xml(), encoding="unicode")
    return b'<?xml version="1.0" encoding="utf-8"?>\n' + text.encode() + b"\n"


class _Makers(NamedTuple):
    """What makes the elements of a drawing: asked for once, since asking costs as much as making one."""

    group: Callable[..., BaseElement]
    path: Callable[..., BaseElement]
    text: Callable[..., BaseElement]
    rect: Callable[..., BaseElement]


def _name(element: BaseElement, title: str, description: str) -> None:
    element.set_desc(printable(title) or None, printable(description) or None)


def _elements(shape: Path | Dots | Text, make: _Makers) -> Iterable[BaseElement]:
    if isinstance(shape, Text):
        return _text(shape, make)
    if isinstance(shape, Path):
        data, paint = _path_data(shape), _paint(shape.style, "evenodd")
    elif shape.style.stroke:
        data, paint = _rings_data(shape), _paint(shape.style, "nonzero")
    else:
        data, paint = _dots_data(shape), _paint(_round_stroke(shape), "nonzero")
    if not data:
        return []
    element = make.path(d=data)
    element.attribs.update(paint)  # as arguments their names would be gone through once more
    return [element]


def _text(shape: Text, make: _Makers) -> Iterable[BaseElement]:
    shown = printable(shape.text)
    if not shown:
        return
    if shape.backed:
        left, top, right, bottom = ground_mm(shape)
        yield make.rect(
            insert=(_number(left), _number(top)),
            size=(_number(right - left), _number(bottom - top)),
            fill="#ffffff",
        )
    x, y = map(_number, start_mm(shape))
    element = make.text(shown)
    attributes = element.attribs  # as arguments, x and y would be lists with a place for each letter
    attributes.update(x=x, y=y, fill=shape.colour)
    attributes["font-size"] = _number(shape.size_pt * POINT_MM)
    if shape.bold:
        attributes["font-weight"] = "bold"
    if len(shown) > 1:  # holds the width whatever font the reader has; one glyph cannot be spaced
        attributes["textLength"] = _number(width_mm(shown, shape.size_pt, shape.bold))
        attributes["lengthAdjust"] = "spacing"
    if shape.upward:
        attributes["transform"] = f"rotate(-90 {x} {y})"
    yield element


def _paint(style: Style, rule: str) -> dict[str, Any]:
    attributes = {"fill": style.fill or "none"}
    if style.fill:
        attributes["fill-rule"] = rule
    if style.stroke:
        attributes["stroke"] = style.stroke
        attributes["stroke-width"] = _number(style.width_mm)
        if style.dash:
            attributes["stroke-dasharray"] = " ".join(map(_number, style.dash))
        if style.cap != "butt":
            attributes["stroke-linecap"] = style.cap
        if style.join != "miter":
            attributes["stroke-linejoin"] = style.join
    return attributes


def _path_data(shape: Path) -> str:
    close = "z" if shape.closed else ""
    return "".join(
        "M" + "L".join([f"{_number(x)} {_number(y)}" for x, y in run]) + close for run in shape.runs if run
    )


def _round_stroke(shape: Dots) -> Style:
    """The stroke whose round ends make the dots: a third of the length of circles, and quicker to draw."""
    fill = shape.style.fill
    return Style(stroke=fill, width_mm=2.0 * shape.radius_mm, cap="round") if fill else Style()


def _dots_data(shape: Dots) -> str:
    # not quite of no length: some readers leave out a stroke of none
    return "".join([f"M{_number(x)} {_number(y)}h{_SPECK_MM}" for x, y in shape.centres])


def _rings_data(shape: Dots) -> str:
    # Two half circles; all but the place of the first point is common to the rings.
    r, d = _number(shape.radius_mm), _number(2.0 * shape.radius_mm)
    circle = f"a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0 -{d} 0z"
    radius = shape.radius_mm
    return "".join([f"M{_number(x - radius)} {_number(y)}{circle}" for x, y in shape.centres])


def _number(value: float) -> str:
    """Three decimals without trailing zeros, and no minus before zero."""
    text = f"{value:.3f}"
    if text[-1] == "0":
        text = text.rstrip("0").rstrip(".")
        return "0" if text == "-0" else text
    return text
