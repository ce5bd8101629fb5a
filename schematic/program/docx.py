"""The program as an editable DOCX: real headings, captions, tables whose heads repeat, pictures."""

from __future__ import annotations

from datetime import date, datetime, time
from io import BytesIO
from typing import Any

from schematic.drawing import png
from schematic.export.package import steady
from schematic.export.workbook import NoLibrary
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

_FONT = "Arial"
_TEXT_PT, _TABLE_PT, _SMALL_PT = 10.0, 8.0, 7.0
_MEASURED_PT = 7.5  # DejaVu at this size is as wide as the table's font at its own
_SIDE_MM, _TOP_MM, _BOTTOM_MM = 18.0, 22.0, 24.0
_PAD_MM = 3.0  # clear in a cell, left and right together
_INDENT_MM = 2.4  # of a line of workings, for each two spaces
_A4_MM = (210.0, 297.0)
_SHORT_ROWS = 16  # a longer table may run over pages
_DPI = 300.0
# What is cut from a page of the schematic so that it stands at its own scale inside the margins of its
# section: it keeps 8 mm clear on every side, and a caption and a running head have to find room there.
_CUT_SIDE_MM, _CUT_TOP_MM, _CUT_BOTTOM_MM = 7.0, 7.6, 7.4


def render(program: Program, page_mm: tuple[float, float] = _A4_MM) -> bytes:
    """Write the program as the content of a .docx file; the same program gives the same bytes.

    Raises
    ------
    NoLibrary
        When python-docx is not installed.
    """
    try:
        from docx import Document
    except ImportError:
        raise NoLibrary("a DOCX needs python-docx: pip install 'lapline[documents]'") from None
    document: Any = Document()
    _styles(document)
    _properties(document, program)
    section = document.sections[0]
    _page(section, page_mm)
    _head_and_foot(section, program)
    document.add_paragraph(program.title, style="Title")
    document.add_paragraph(program.subtitle, style="Subtitle")
    text_page = True
    for block in program.blocks:
        if isinstance(block, NumberedPicture):
            _picture(document, program, block)
            text_page = False
            continue
        if not text_page:
            section = document.add_section()
            _page(section, page_mm)
            _head_and_foot(section, program)
            text_page = True
        _block(document, block, program, page_mm[0] - 2 * _SIDE_MM)
    out = BytesIO()
    document.save(out)
    return steady(out.getvalue(), program.day)


def _properties(document: Any, program: Program) -> None:  # noqa: ANN401
    """Core properties; the format keeps at most 255 characters of each."""
    core = document.core_properties
    core.title, core.subject, core.author = program.title[:255], program.subject[:255], program.author[:255]
    core.last_modified_by, core.comments, core.keywords = "lapline", "", ""
    core.created = core.modified = datetime.combine(
        program.day or date.min, time()
    )  # no day: `steady` drops it
    core.revision = 1


def _styles(document: Any) -> None:  # noqa: ANN401
    """The library's own styles in one black font; those of tables and workings beside them."""
    from docx.enum.style import WD_STYLE_TYPE
    from docx.shared import Pt, RGBColor

    sizes = (
        ("Normal", _TEXT_PT, False, 0.0, 4.0),
        ("Title", 18.0, True, 0.0, 4.0),
        ("Subtitle", 12.0, False, 0.0, 10.0),
        ("Heading 1", 14.0, True, 18.0, 6.0),
        ("Heading 2", 11.0, True, 12.0, 4.0),
        ("Caption", 9.0, True, 10.0, 3.0),
        ("Header", 8.0, False, 0.0, 0.0),
        ("Footer", _SMALL_PT, False, 0.0, 0.0),
        ("Table Text", _TABLE_PT, False, 0.0, 0.0),
        ("Workings", _TABLE_PT, False, 0.0, 0.0),
        ("Table Note", _SMALL_PT, False, 2.0, 4.0),
        ("Picture", 1.0, False, 0.0, 0.0),
    )
    for name, size, bold, before, after in sizes:
        if name in [style.name for style in document.styles]:
            style = document.styles[name]
        else:
            style = document.styles.add_style(name, WD_STYLE_TYPE.PARAGRAPH)
            style.base_style = document.styles["Normal"]
        _font(style)
        style.font.size, style.font.bold, style.font.italic = Pt(size), bold, False
        style.font.color.rgb = RGBColor(0, 0, 0)
        style.paragraph_format.space_before, style.paragraph_format.space_after = Pt(before), Pt(after)
        style.paragraph_format.line_spacing = 1.0
    for spacing in list(document.styles["Subtitle"].element.iter(_w("spacing"))):
        if spacing.getparent().tag == _w("rPr"):  # letters set apart
            spacing.getparent().remove(spacing)
    document.styles["Caption"].paragraph_format.keep_with_next = True
    for border in list(document.styles["Title"].element.iter(_w("pBdr"))):
        border.getparent().remove(border)


def _font(style: Any) -> None:  # noqa: ANN401
    """One font for every script of a style, in place of the theme's."""
    style.font.name = _FONT
    fonts = style.element.get_or_add_rPr().get_or_add_rFonts()
    for key in list(fonts.attrib):
        del fonts.attrib[key]
    for script in ("ascii", "hAnsi", "cs", "eastAsia"):
        fonts.set(_w(script), _FONT)


def _w(name: str) -> str:
    from docx.oxml.ns import qn

    return str(qn(f"w:{name}"))


def _page(section: Any, page_mm: tuple[float, float]) -> None:  # noqa: ANN401
    from docx.enum.section import WD_ORIENT
    from docx.shared import Mm

    width, height = page_mm
    section.page_width, section.page_height = Mm(width), Mm(height)
    section.orientation = WD_ORIENT.LANDSCAPE if width > height else WD_ORIENT.PORTRAIT
    section.left_margin = section.right_margin = Mm(_SIDE_MM)
    section.top_margin, section.bottom_margin = Mm(_TOP_MM), Mm(_BOTTOM_MM)
    section.header_distance, section.footer_distance = Mm(11.0), Mm(9.0)


def _head_and_foot(section: Any, program: Program) -> None:  # noqa: ANN401
    """Running head with the number of the page; the caution at the foot."""
    section.header.is_linked_to_previous = section.footer.is_linked_to_previous = False
    right = section.page_width - section.left_margin - section.right_margin
    head = section.header.paragraphs[0]
    _running(head, program.running, right)
    _border(head, "bottom")
    foot = section.footer.paragraphs[0]
    foot.text = program.caution
    _border(foot, "top")


def _running(paragraph: Any, text: str, right: int) -> None:  # noqa: ANN401
    """The running head: text at the left, "page n of m" as fields at the right."""
    from docx.enum.text import WD_TAB_ALIGNMENT

    for old in list(paragraph.style.element.iter(_w("tabs"))):  # the style's own stops are those of Letter
        old.getparent().remove(old)
    paragraph.paragraph_format.tab_stops.add_tab_stop(right, WD_TAB_ALIGNMENT.RIGHT)
    paragraph.add_run(f"{text}\t")
    paragraph.add_run("page ")
    _field(paragraph, "PAGE", "1")
    paragraph.add_run(" of ")
    _field(paragraph, "NUMPAGES", "1")


def _field(paragraph: Any, code: str, shown: str) -> None:  # noqa: ANN401
    """A field of our own making; texts of the well file never come here."""
    from docx.oxml import OxmlElement

    for kind, text in (("begin", ""), ("", code), ("separate", ""), ("shown", shown), ("end", "")):
        run = paragraph.add_run(text if kind == "shown" else None)
        if kind == "shown":
            continue
        mark = OxmlElement("w:fldChar" if kind else "w:instrText")
        if kind:
            mark.set(_w("fldCharType"), kind)
        else:
            mark.text = f" {text} "
        run._r.append(mark)


def _border(paragraph: Any, side: str) -> None:  # noqa: ANN401
    from docx.oxml import OxmlElement

    around, line = OxmlElement("w:pBdr"), OxmlElement(f"w:{side}")
    for key, value in (("val", "single"), ("sz", "4"), ("space", "3"), ("color", "000000")):
        line.set(_w(key), value)
    around.append(line)
    properties = paragraph._p.get_or_add_pPr()
    properties.insert_element_before(around, "w:shd", "w:tabs", "w:spacing", "w:ind", "w:jc", "w:rPr")


def _caption(document: Any, word: str, number: int, text: str) -> Any:  # noqa: ANN401
    """A caption whose number is a field, so that it follows when the document is merged into another."""
    paragraph = document.add_paragraph(style="Caption")
    paragraph.add_run(f"{word} ")
    _field(paragraph, f"SEQ {word} \\* ARABIC", str(number))
    paragraph.add_run(f". {text}")
    return paragraph


def _picture(document: Any, program: Program, picture: NumberedPicture) -> None:  # noqa: ANN401
    """A page of the schematic in a section of its own, at its own scale, described for who cannot see it."""
    from docx.shared import Mm, Pt

    scene = picture.scene
    section = document.add_section()
    _page(section, (scene.width_mm, scene.height_mm))
    section.left_margin = section.right_margin = Mm(_CUT_SIDE_MM)
    section.top_margin, section.bottom_margin = Mm(_CUT_TOP_MM), Mm(3.2)
    section.header_distance, section.footer_distance = Mm(4.3), Mm(1.0)
    section.header.is_linked_to_previous = section.footer.is_linked_to_previous = False
    head = section.header.paragraphs[0]
    _running(head, program.running, Mm(scene.width_mm - 2 * _CUT_SIDE_MM))
    for run in head.runs:
        run.font.size = Pt(6.5)
    head.paragraph_format.line_spacing = Pt(7.5)
    section.footer.paragraphs[0].style = document.styles["Picture"]
    paragraph = document.add_paragraph(style="Picture")
    paragraph.paragraph_format.keep_with_next = True
    width = scene.width_mm - 2 * _CUT_SIDE_MM
    shape = paragraph.add_run().add_picture(BytesIO(_cut(picture)), width=Mm(width))
    shape._inline.docPr.set("descr", picture.description)
    shape._inline.docPr.set("name", f"Figure {picture.number}")
    caption = _caption(document, "Figure", picture.number, picture.caption)
    caption.paragraph_format.space_before = caption.paragraph_format.space_after = Pt(0)
    caption.paragraph_format.line_spacing = Pt(8.5)
    caption.paragraph_format.keep_with_next = False
    for run in caption.runs:
        run.font.size = Pt(7.0)


def _cut(picture: NumberedPicture) -> bytes:
    """The page as PNG at 300 dpi without what its margins hold nothing in."""
    from PIL import Image

    scene = picture.scene
    pixels = _DPI / 25.4
    left, top = round(_CUT_SIDE_MM * pixels), round(_CUT_TOP_MM * pixels)
    out = BytesIO()
    whole = png.painted(scene, _DPI)
    bottom = round(_CUT_BOTTOM_MM * pixels)
    kept = Image.fromarray(whole[top:-bottom, left:-left, :3])
    kept.quantize(256, Image.Quantize.MAXCOVERAGE).save(out, "PNG", dpi=(_DPI, _DPI))
    return out.getvalue()


def _block(document: Any, block: Block, program: Program, room_mm: float) -> None:  # noqa: ANN401
    from docx.shared import Mm, Pt

    if isinstance(block, Heading):
        document.add_heading(block.text, level=min(block.level, 2))
    elif isinstance(block, Paragraph):
        document.add_paragraph().add_run(block.text).bold = block.weight == "strong"
    elif isinstance(block, Workings):
        for line in block.lines:
            text = line.lstrip(" ")
            paragraph = document.add_paragraph(text, style="Workings")
            paragraph.paragraph_format.left_indent = Mm(0.5 * _INDENT_MM * (len(line) - len(text)))
            paragraph.paragraph_format.keep_with_next = line is not block.lines[-1]
        paragraph.paragraph_format.space_after = Pt(6)
    elif isinstance(block, NumberedTable):
        _caption(document, "Table", block.number, block.table.title)
        _table(document, block, program, room_mm)
        document.add_paragraph(block.table.note, style="Table Note")


def _table(document: Any, block: NumberedTable, program: Program, room_mm: float) -> None:  # noqa: ANN401
    """A real table: a head row that repeats, figures to the right, rows that do not break over pages."""
    from docx.enum.table import WD_TABLE_ALIGNMENT
    from docx.oxml import OxmlElement
    from docx.shared import Mm

    laid = lay_out(block.table, program.system, room_mm, _MEASURED_PT, _PAD_MM)
    rows = (laid.heads, *laid.rows)
    table = document.add_table(len(rows), len(laid.heads))
    table.alignment, table.autofit = WD_TABLE_ALIGNMENT.LEFT, False
    _rules(table)
    for column, width in zip(table.columns, laid.widths_mm, strict=True):
        column.width = Mm(width)
    style = document.styles["Table Text"].style_id
    short = len(rows) <= _SHORT_ROWS
    for index, (row, texts) in enumerate(zip(table.rows, rows, strict=True)):
        properties = row._tr.get_or_add_trPr()
        properties.append(OxmlElement("w:cantSplit"))
        if index == 0:
            properties.append(OxmlElement("w:tblHeader"))
        for cell, text, counted, width in zip(row.cells, texts, laid.figures, laid.widths_mm, strict=True):
            cell.width = Mm(width)
            keep = (short and index < len(rows) - 1) or index < 3
            _cell(style, cell, text, counted, index == 0, keep)


def _cell(style: str, cell: Any, text: str, counted: bool, head: bool, keep: bool) -> None:  # noqa: ANN401
    from docx.enum.table import WD_CELL_VERTICAL_ALIGNMENT
    from docx.enum.text import WD_ALIGN_PARAGRAPH

    paragraph = cell.paragraphs[0]
    paragraph._p.style = style  # by its id: the library's own way looks all styles through each time
    paragraph.add_run(text).bold = head
    paragraph.paragraph_format.keep_with_next = keep
    if counted:
        paragraph.alignment = WD_ALIGN_PARAGRAPH.RIGHT
    if head:
        cell.vertical_alignment = WD_CELL_VERTICAL_ALIGNMENT.BOTTOM
        _cell_rule(cell)


def _rules(table: Any) -> None:  # noqa: ANN401
    """A thin rule under the table, none else, and little room around the texts."""
    from docx.oxml import OxmlElement

    properties = table._tbl.tblPr
    borders = OxmlElement("w:tblBorders")
    line = OxmlElement("w:bottom")
    for key, value in (("val", "single"), ("sz", "4"), ("space", "0"), ("color", "000000")):
        line.set(_w(key), value)
    borders.append(line)
    margins = OxmlElement("w:tblCellMar")
    for side, width in (("top", 20), ("left", 80), ("bottom", 25), ("right", 80)):  # twentieths of a point
        one = OxmlElement(f"w:{side}")
        one.set(_w("w"), str(width))
        one.set(_w("type"), "dxa")
        margins.append(one)
    layout = properties.find(_w("tblLayout"))
    for element in (borders, margins):
        look = properties.find(_w("tblLook"))
        if element is borders and layout is not None:
            layout.addprevious(element)
        elif look is not None:
            look.addprevious(element)
        else:
            properties.append(element)


def _cell_rule(cell: Any) -> None:  # noqa: ANN401
    from docx.oxml import OxmlElement

    borders, line = OxmlElement("w:tcBorders"), OxmlElement("w:bottom")
    for key, value in (("val", "single"), ("sz", "8"), ("space", "0"), ("color", "000000")):
        line.set(_w(key), value)
    borders.append(line)
    properties = cell._tc.get_or_add_tcPr()
    width = properties.find(_w("tcW"))
    if width is not None:
        width.addnext(borders)
    else:
        properties.insert(0, borders)
