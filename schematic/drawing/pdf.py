"""A sheet as a PDF: a page per scene at its exact size, its text selectable and searchable."""

from __future__ import annotations

from io import BytesIO
from threading import Lock
from typing import TYPE_CHECKING

from schematic.drawing.scene import POINT_MM, Dots, Path, Scene, Sheet, Style, Text
from schematic.drawing.text import font_path, ground_mm, printable, start_mm
from schematic.export.package import dated

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_POINTS_PER_MM = 1.0 / POINT_MM
_MITER_LIMIT = 4.0  # what SVG takes when nothing is said; PDF would take 10
_BEZIER_CIRCLE = 0.5523  # (4/3)(sqrt 2 - 1): handle of the cubic that stands for a quarter circle
FONTS = {False: "DejaVuSans", True: "DejaVuSans-Bold"}
_registering = Lock()


def render(sheet: Sheet) -> bytes:
    """Draw the sheet as PDF; the same sheet gives the same bytes.

    Raises ``ValueError`` for a sheet without pages, which no PDF can be.
    """
    from reportlab.pdfgen.canvas import Canvas

    if not sheet.scenes:
        raise ValueError("a sheet without pages cannot be a PDF")
    register_fonts()
    file = BytesIO()
    canvas = Canvas(file, pageCompression=1, invariant=1, initialFontName=FONTS[False])
    canvas.setTitle(printable(sheet.scenes[0].title))
    canvas.setSubject(printable(sheet.scenes[0].description))
    canvas.setAuthor("lapline")
    canvas.setCreator("lapline")
    for number, scene in enumerate(sheet.scenes, 1):
        key = f"page-{number}"
        canvas.setPageSize((scene.width_mm * _POINTS_PER_MM, scene.height_mm * _POINTS_PER_MM))
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(printable(scene.title) or f"Page {number}", key)
        draw_scene(canvas, scene)
        canvas.showPage()
    canvas.save()
    return dated(file.getvalue(), None)  # a drawing says its revision on its face


def draw_scene(canvas: Canvas, scene: Scene) -> None:
    """Draw a page at its own size, its lower left corner at the origin; the fonts must be registered."""
    canvas.setMiterLimit(_MITER_LIMIT)
    for group in scene.groups:
        for shape in group.shapes:
            _draw(canvas, scene, shape)


def register_fonts() -> None:
    """Make the one font family known to the library, under the names of :data:`FONTS`."""
    from reportlab.pdfbase.pdfmetrics import getRegisteredFontNames, registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    # A font object holds the subsets of the documents being written, so it must never be replaced.
    with _registering:
        for bold, name in FONTS.items():
            if name not in getRegisteredFontNames():
                registerFont(TTFont(name, str(font_path(bold))))


def _draw(canvas: Canvas, scene: Scene, shape: Path | Dots | Text) -> None:
    from reportlab.pdfgen.canvas import FILL_EVEN_ODD, FILL_NON_ZERO

    if isinstance(shape, Text):
        _draw_text(canvas, scene, shape)
    elif isinstance(shape, Dots):
        _draw_code(canvas, _dots_code(scene, shape), shape.style, FILL_NON_ZERO)
    else:
        _draw_code(canvas, _path_code(scene, shape), shape.style, FILL_EVEN_ODD)


def _draw_text(canvas: Canvas, scene: Scene, shape: Text) -> None:
    shown = printable(shape.text)
    if not shown:
        return
    if shape.backed:
        left, top, right, bottom = ground_mm(shape)
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        _draw(canvas, scene, Path((corners,), Style(fill="#ffffff"), closed=True))
    x_mm, y_mm = start_mm(shape)
    x, y = x_mm * _POINTS_PER_MM, (scene.height_mm - y_mm) * _POINTS_PER_MM
    line = canvas.beginText()
    turn = (0, 1, -1, 0) if shape.upward else (1, 0, 0, 1)
    line.setTextTransform(*turn, x, y)
    line.setFont(FONTS[shape.bold], shape.size_pt)
    line.setFillColorRGB(*_rgb(shape.colour))
    line.textOut(shown)
    canvas.drawText(line)


def _draw_code(canvas: Canvas, code: list[str], style: Style, fill_mode: int) -> None:
    from reportlab.pdfgen.pathobject import PDFPathObject

    if not code:
        return
    if style.fill:
        canvas.setFillColorRGB(*_rgb(style.fill))
    if style.stroke:
        canvas.setStrokeColorRGB(*_rgb(style.stroke))
        canvas.setLineWidth(style.width_mm * _POINTS_PER_MM)
        canvas.setDash([length * _POINTS_PER_MM for length in style.dash])
        canvas.setLineCap({"butt": 0, "round": 1}[style.cap])
        canvas.setLineJoin({"miter": 0, "round": 1}[style.join])
    canvas.drawPath(
        PDFPathObject(["n", *code]),
        stroke=int(style.stroke is not None),
        fill=int(style.fill is not None),
        fillMode=fill_mode,
    )


def _path_code(scene: Scene, shape: Path) -> list[str]:
    code = []
    for run in filter(None, shape.runs):
        places = [f"{x * _POINTS_PER_MM:.3f} {(scene.height_mm - y) * _POINTS_PER_MM:.3f}" for x, y in run]
        code.append(f"{places[0]} m")
        code.extend([f"{place} l" for place in places[1:]])
        if shape.closed:
            code.append("h")
    return code


def _dots_code(scene: Scene, shape: Dots) -> list[str]:
    r = shape.radius_mm * _POINTS_PER_MM
    k = r * _BEZIER_CIRCLE
    code = []
    for x_mm, y_mm in shape.centres:
        x, y = x_mm * _POINTS_PER_MM, (scene.height_mm - y_mm) * _POINTS_PER_MM
        left, x_less, x_mid, x_more, right = [f"{x + away:.3f}" for away in (-r, -k, 0.0, k, r)]
        low, y_less, y_mid, y_more, high = [f"{y + away:.3f}" for away in (-r, -k, 0.0, k, r)]
        code.append(
            f"{right} {y_mid} m {right} {y_more} {x_more} {high} {x_mid} {high} c "
            f"{x_less} {high} {left} {y_more} {left} {y_mid} c "
            f"{left} {y_less} {x_less} {low} {x_mid} {low} c "
            f"{x_more} {low} {right} {y_less} {right} {y_mid} c h"
        )
    return code


def _rgb(colour: str) -> tuple[float, float, float]:
    red, green, blue = bytes.fromhex(colour.removeprefix("#"))
    return red / 255.0, green / 255.0, blue / 255.0
