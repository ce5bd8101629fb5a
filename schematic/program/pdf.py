"""The program as a PDF: real text, vector schematic at its own scale, an outline, heads over every page."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from typing import TYPE_CHECKING, Any
from xml.sax.saxutils import escape

from schematic.drawing.captions import SMALL_PT
from schematic.drawing.pdf import FONTS, draw_scene, register_fonts
from schematic.drawing.scene import POINT_MM, Scene
from schematic.drawing.text import width_mm
from schematic.export.package import dated
from schematic.program.columns import lay_out
from schematic.program.content import (
    Block,
    Heading,
    NumberedPicture,
    NumberedTable,
    Paragraph,
    Program,
    Workings,
)

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.platypus import Flowable

_MM = 1.0 / POINT_MM  # points in a millimetre
_SIDE_MM, _TOP_MM, _BOTTOM_MM = 18.0, 20.0, 21.0
_RUNNING_MM = 6.3  # baseline of the line above a page of the schematic, in its margin
_TABLE_PT, _TEXT_PT = 7.5, 9.0
_LONG_ROWS = 14  # a longer table may run over pages
_BEGINNING_MM = 42.0  # caption, head and a few rows of a table
_PAD_MM = 2.6  # clear in a cell, left and right together
A4_MM = (210.0, 297.0)


def render(program: Program, page_mm: tuple[float, float] = A4_MM) -> bytes:
    """Set the program on pages of *page_mm*; pages of the schematic keep their own size.

    The same program gives the same bytes.
    """
    register_fonts()
    count = lay(program, page_mm, 0, BytesIO())
    file = BytesIO()
    lay(program, page_mm, count, file)
    return dated(file.getvalue(), program.day)


def lay(
    program: Program,
    page_mm: tuple[float, float],
    of: int,
    file: BytesIO,
    canvas: type[Canvas] | None = None,
    draw: Callable[[Canvas, Scene], None] = draw_scene,
) -> int:
    """One pass over the document into *file*, which says "of" so many pages; how many there were.

    The first pass, of nought pages, only counts: the schematic is left out of it. The document is set on a
    *canvas* of another kind where one is given; *draw* draws a page of the schematic.
    """
    from reportlab.lib.pagesizes import portrait
    from reportlab.pdfgen.canvas import Canvas as Paper
    from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

    width, height = (one * _MM for one in page_mm)
    document = BaseDocTemplate(
        file,
        pagesize=portrait((width, height)) if height >= width else (width, height),
        title=program.title,
        author=program.author,
        subject=program.subject,
        creator="lapline",
        invariant=1,
        initialFontName=FONTS[False],
        pageCompression=1,
    )

    def around(canvas: Canvas, _document: object) -> None:
        _around(canvas, program, of, width, height)

    frame = Frame(
        _SIDE_MM * _MM,
        _BOTTOM_MM * _MM,
        width - 2 * _SIDE_MM * _MM,
        height - (_TOP_MM + _BOTTOM_MM) * _MM,
        0,
        0,
        0,
        0,
    )
    templates = [PageTemplate("text", [frame], onPage=around, pagesize=(width, height))]
    for picture in program.pictures:
        templates.append(_picture_template(program, picture, of, draw))
    document.addPageTemplates(templates)
    document.build(_story(program, page_mm[0] - 2 * _SIDE_MM), canvasmaker=canvas or Paper)
    return int(document.page)


def _picture_template(
    program: Program, picture: NumberedPicture, of: int, drawn: Callable[[Canvas, Scene], None]
) -> Any:  # noqa: ANN401
    """A page that is a page of the schematic, at its own size, with one line in its upper margin."""
    from reportlab.platypus import Frame, PageTemplate

    scene = picture.scene
    width, height = scene.width_mm * _MM, scene.height_mm * _MM

    def draw(canvas: Canvas, _document: object) -> None:
        if of:
            canvas.saveState()
            drawn(canvas, scene)
            canvas.restoreState()
        canvas.setFont(FONTS[False], SMALL_PT)
        y = height - _RUNNING_MM * _MM
        canvas.drawString(8.0 * _MM, y, f"Figure {picture.number}. {program.running}")
        canvas.drawRightString(width - 8.0 * _MM, y, f"page {canvas.getPageNumber()} of {of}")

    frame = Frame(0, 0, width, height, 0, 0, 0, 0)
    return PageTemplate(f"picture {picture.number}", [frame], onPage=draw, pagesize=(width, height))


def _around(canvas: Canvas, program: Program, of: int, width: float, height: float) -> None:
    """Running head and the caution at the foot."""
    from reportlab.lib.utils import simpleSplit

    left, right = _SIDE_MM * _MM, width - _SIDE_MM * _MM
    canvas.saveState()
    canvas.setFont(FONTS[False], 7.0)
    page = f"page {canvas.getPageNumber()} of {of}"
    canvas.drawRightString(right, height - 13.0 * _MM, page)
    room = right - left - canvas.stringWidth(page, FONTS[False], 7.0) - 4.0 * _MM
    canvas.drawString(left, height - 13.0 * _MM, _fitted(canvas, program.running, room))
    canvas.setLineWidth(0.35 * _MM)
    canvas.line(left, height - 14.6 * _MM, right, height - 14.6 * _MM)
    canvas.setLineWidth(0.18 * _MM)
    canvas.line(left, 16.6 * _MM, right, 16.6 * _MM)
    canvas.setFont(FONTS[False], SMALL_PT)
    for row, line in enumerate(simpleSplit(program.caution, FONTS[False], SMALL_PT, right - left)):
        canvas.drawString(left, (13.6 - 2.9 * row) * _MM, line)
    canvas.restoreState()


def _fitted(canvas: Canvas, text: str, room: float) -> str:
    """A text, its beginning cut where it does not fit: revision and file stand at its end."""
    if canvas.stringWidth(text, FONTS[False], 7.0) <= room:
        return text
    while text and canvas.stringWidth(f"\u2026{text}", FONTS[False], 7.0) > room:
        text = text[1:]
    return f"\u2026{text}"


def _styles() -> dict[str, Any]:
    from reportlab.lib.styles import ParagraphStyle

    def style(name: str, size: float, bold: bool = False, **more: Any) -> Any:  # noqa: ANN401
        return ParagraphStyle(name, fontName=FONTS[bold], fontSize=size, leading=1.3 * size, **more)

    return {
        "title": style("title", 16.0, True, spaceAfter=2.0 * _MM),
        "subtitle": style("subtitle", 11.0, spaceAfter=4.0 * _MM),
        "heading 1": style("heading 1", 13.0, True, spaceBefore=7.0 * _MM, spaceAfter=2.0 * _MM),
        "heading 2": style("heading 2", 10.0, True, spaceBefore=4.0 * _MM, spaceAfter=1.5 * _MM),
        "plain": style("plain", _TEXT_PT, spaceBefore=1.5 * _MM, spaceAfter=1.5 * _MM),
        "strong": style("strong", _TEXT_PT, True, spaceAfter=2.0 * _MM),
        "caption": style("caption", _TEXT_PT - 1.0, True, spaceBefore=4.0 * _MM, spaceAfter=1.0 * _MM),
        "note": style("note", SMALL_PT, spaceBefore=1.0 * _MM, spaceAfter=1.0 * _MM),
        "cell": style("cell", _TABLE_PT),
        "figure": style("figure", _TABLE_PT, alignment=2),
        "head": style("head", _TABLE_PT, True),
        "figure head": style("figure head", _TABLE_PT, True, alignment=2),
        "workings": style("workings", _TABLE_PT),
    }


def _story(program: Program, room_mm: float) -> list[Flowable]:
    styles = _styles()
    made: list[Any] = [
        _text(program.title, styles["title"], (program.title, 0)),
        _text(program.subtitle, styles["subtitle"]),
    ]
    text_page, above = True, list[Any]()  # headings wait for what they stand above
    for block in program.blocks:
        if isinstance(block, NumberedPicture):
            made += [*above, *_picture(block)]
            text_page, above = False, []
            continue
        if not text_page:
            made += _turn("text")
            text_page = True
        if isinstance(block, Heading):
            level = min(block.level, 2)
            above.append(_text(block.text, styles[f"heading {level}"], (block.text, level - 1)))
            continue
        made += _kept(above, block, program, room_mm, styles)
        above = []
    return [*made, *above]


def _kept(
    above: list[Any], block: Block, program: Program, room_mm: float, styles: dict[str, Any]
) -> list[Any]:
    """A block under its headings: on one page if it is short, else with room for its beginning."""
    from reportlab.platypus import CondPageBreak, KeepTogether

    flowables = [*above, *_flowables(block, program, room_mm, styles)]
    if isinstance(block, NumberedTable) and len(block.table.rows) > _LONG_ROWS:
        return [CondPageBreak((_BEGINNING_MM + 14.0 * len(above)) * _MM), *flowables]
    return [KeepTogether(flowables)]


def _turn(template: str) -> list[Any]:
    from reportlab.platypus import NextPageTemplate, PageBreak

    return [NextPageTemplate(template), PageBreak()]


def _picture(picture: NumberedPicture) -> list[Any]:
    """A page of the schematic: its template draws it, here it gets its place in the outline."""
    return [*_turn(f"picture {picture.number}"), _mark(f"Figure {picture.number}. {picture.caption}", 1)]


def _flowables(block: Block, program: Program, room_mm: float, styles: dict[str, Any]) -> list[Any]:
    if isinstance(block, Paragraph):
        return [_text(block.text, styles[block.weight])]
    if isinstance(block, Workings):
        return [_workings(line, styles["workings"], last=line is block.lines[-1]) for line in block.lines]
    if isinstance(block, NumberedTable):
        return _table(block, program, room_mm, styles)
    raise AssertionError(block)


def _workings(line: str, style: Any, last: bool) -> Any:  # noqa: ANN401
    from reportlab.lib.styles import ParagraphStyle

    text = line.lstrip(" ")
    indent = (len(line) - len(text)) * 1.2 * _MM
    own = ParagraphStyle(
        "line",
        parent=style,
        leftIndent=indent + 4.0 * _MM,
        firstLineIndent=-4.0 * _MM,
        spaceAfter=2.0 * _MM if last else 0.0,
    )
    return _text(text, own)


def _text(text: str, style: Any, entry: tuple[str, int] | None = None) -> Any:  # noqa: ANN401
    """A paragraph of plain text; nothing in it is markup. With an *entry* it stands in the outline."""
    from reportlab.platypus import Paragraph as Set

    class Marked(Set):  # type: ignore[misc]
        """A paragraph that enters itself in the outline where it comes to stand."""

        def draw(self) -> None:
            if entry is not None:
                key = f"entry-{self.canv.getPageNumber()}-{entry[0]}"
                self.canv.bookmarkHorizontal(key, 0, self.height)
                self.canv.addOutlineEntry(entry[0], key, entry[1])
            super().draw()

    return (Set if entry is None else Marked)(escape(text), style)


def _mark(title: str, level: int) -> Any:  # noqa: ANN401
    """An entry of the outline without anything to see."""
    from reportlab.platypus import Flowable

    class Mark(Flowable):  # type: ignore[misc]
        """Takes no room."""

        width = height = 0.0

        def draw(self) -> None:
            key = f"entry-{self.canv.getPageNumber()}"
            self.canv.bookmarkPage(key)
            self.canv.addOutlineEntry(title, key, level)

    return Mark()


def _cell(text: str, counted: bool, width: float, styles: dict[str, Any]) -> Any:  # noqa: ANN401
    """A cell: on one line as it is, a longer text as a paragraph that breaks."""
    if width_mm(text, _TABLE_PT) <= width - _PAD_MM + 0.01:
        return text
    return _text(text, styles["figure" if counted else "cell"])


def _table(block: NumberedTable, program: Program, room_mm: float, styles: dict[str, Any]) -> list[Any]:
    from reportlab.platypus import Table as Grid

    laid = lay_out(block.table, program.system, room_mm, _TABLE_PT, _PAD_MM)
    heads = [
        _text(head, styles["figure head" if counted else "head"])
        for head, counted in zip(laid.heads, laid.figures, strict=True)
    ]
    body = [
        [_cell(*one, styles) for one in zip(row, laid.figures, laid.widths_mm, strict=True)]
        for row in laid.rows
    ]
    half = 0.5 * (_PAD_MM - 0.2) * _MM  # rounding must not break a word
    grid = Grid(
        [heads, *body],
        colWidths=[width * _MM for width in laid.widths_mm],
        repeatRows=1,
        hAlign="LEFT",
        style=[
            ("LINEBELOW", (0, 0), (-1, 0), 0.35 * _MM, "black"),
            ("LINEBELOW", (0, -1), (-1, -1), 0.18 * _MM, "black"),
            ("FONT", (0, 1), (-1, -1), FONTS[False], _TABLE_PT, 1.3 * _TABLE_PT),
            *(("ALIGN", (i, 1), (i, -1), "RIGHT") for i, counted in enumerate(laid.figures) if counted),
            ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
            ("VALIGN", (0, 1), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), half),
            ("RIGHTPADDING", (0, 0), (-1, -1), half),
            ("TOPPADDING", (0, 0), (-1, -1), 1.0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.4),
        ],
    )
    title = f"Table {block.number}. {block.table.title}"
    made = [_text(title, styles["caption"], (title, 1)), grid]
    if block.table.note:
        made.append(_text(block.table.note, styles["note"]))
    return made
