"""The same figures in every format, real structure in each, and texts that stay texts."""

from __future__ import annotations

import json
import re
import sys
import zipfile
from decimal import ROUND_HALF_UP, Decimal
from io import BytesIO
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner
from docx import Document
from pypdf import PdfReader

from schematic import cli, verbs
from schematic.export.tables import as_data, heads, printed
from schematic.export.workbook import NoLibrary
from schematic.outcome import Figure
from schematic.program import write
from schematic.program.content import Heading, NumberedTable
from schematic.units import number
from schematic.wellfile.problem import InputError
from tests.program.programs import (
    HOSTILE,
    PLACES,
    THIN,
    coarse_docx,
    coarse_pictures,
    content_of,
    csv_rows,
    docx_of,
    hostile_text,
    pdf_of,
    pdf_words,
    plain,
    program_of,
    text_of,
    xlsx_of,
)

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
FORMULA = re.compile(
    r"=E\d+\+F\d+|=SUM\(([BCEFG])\$?2:\1\d+\)|=F\d+|=E\d+-C\d+|=SUMIF\(B2:B\d+,\"(in|out)side\",E2:E\d+\)"
)
THREE = ("brindlewick-4", "tarnvale-h3", "sketch")


def numbered(text: str) -> list[NumberedTable]:
    """The tables of a program with their numbers."""
    return [block for block in program_of(text).blocks if isinstance(block, NumberedTable)]


@pytest.mark.parametrize("name", THREE)
def test_docx_tables_hold_what_the_tables_print(name):
    text = text_of(name)
    program = program_of(text)
    for block, table in zip(numbered(text), docx_of(text).tables, strict=True):
        body = [
            [printed(cell, block.table.blank, program.system) for cell in row] for row in block.table.rows
        ]
        kept = [i for i in range(len(block.table.columns)) if any(row[i] for row in body)]
        read = [[plain(cell.text) for cell in row.cells] for row in table.rows]

        assert read[1:] == [[plain(row[i]) for i in kept] for row in body]
        wanted = [re.sub("[23]$", "", heads(block.table, program.system)[i]) for i in kept]
        assert [re.sub("[23\u00b2\u00b3]$", "", head) for head in read[0]] == wanted


@pytest.mark.parametrize("name", THREE)
def test_pdf_text_holds_every_figure_of_every_table_row_by_row(name):
    text = text_of(name)
    system = program_of(text).system
    words = pdf_words(text)
    for block in numbered(text):
        for row in block.table.rows:
            figures = [number(cell.si, cell.kind, system) for cell in row if isinstance(cell, Figure)]
            if len(figures) > 1 and all(isinstance(cell, Figure) for cell in row[-len(figures) :]):
                assert " ".join(figures) in words, (block.table.title, row)
            else:
                assert all(figure in words for figure in figures), (block.table.title, row)


@pytest.mark.parametrize("name", THREE)
def test_csv_and_json_hold_every_table(name):
    text = text_of(name)
    program = program_of(text)
    data = json.loads(content_of(text, ".json"))
    rows = csv_rows(text)

    assert [one["number"] for one in data["tables"]] == [block.number for block in numbered(text)]
    for block, read in zip(numbered(text), data["tables"], strict=True):
        assert read == {"number": block.number, **as_data(block.table, program.system)}
        at = rows.index([block.table.title])
        assert rows[at + 1] == heads(block.table, program.system)
        for line, cells in zip(rows[at + 2 :], block.table.rows, strict=False):
            assert [one.removeprefix("'") for one in line] == [
                printed(cell, block.table.blank, program.system).removeprefix("'") for cell in cells
            ]
    assert "verify every figure" in data["caution"]


@pytest.mark.parametrize("name", THREE)
def test_a_workbook_shows_the_figures_that_the_tables_print(name):
    text = text_of(name)
    program = program_of(text)
    for block, sheet in zip(numbered(text), xlsx_of(text).worksheets, strict=True):
        for row, cells in enumerate(block.table.rows, 2):
            for column, cell in enumerate(cells, 1):
                read = sheet.cell(row, column)
                if isinstance(cell, Figure) and read.data_type != "f":
                    decimals = len(read.number_format.partition(".")[2])
                    # what a spreadsheet shows: fifteen digits, halves up
                    exact = Decimal(f"{read.value:.15g}").quantize(
                        Decimal(1).scaleb(-decimals), ROUND_HALF_UP
                    )
                    shown = f"{exact:f}".removeprefix("-")
                    assert shown == number(cell.si, cell.kind, program.system).removeprefix("-")
                elif not isinstance(cell, Figure):
                    assert (read.value or "") == printed(cell, block.table.blank, program.system)


def test_the_tally_of_the_workbook_adds_up_from_the_lengths_that_the_file_lists():
    sheet = xlsx_of(text_of("brindlewick-4"))["Liner tally, from the shoe up"]
    # from the shoe up, as the file lists them; the joints fill what is left of 9480 to 12590 ft
    lengths = [1.8, 80.6, 1.6, 40.2, 1.5, 2944.4, 12.0, 9.6, 7.9, 10.4]

    bottom = sheet["E2"].value
    for row, length in enumerate(lengths, 2):
        assert sheet[f"C{row}"].value == pytest.approx(length, abs=1e-6)
        assert sheet[f"F{row}"].value == f"=E{row}-C{row}"
        bottom -= sheet[f"C{row}"].value
    assert sum(lengths) == pytest.approx(3110.0)
    assert bottom == pytest.approx(9480.0)


def test_a_pdf_has_metadata_an_outline_and_a_running_head_and_the_caution_on_every_page():
    text = text_of("brindlewick-4")
    program, reader = program_of(text), pdf_of(text)

    assert reader.metadata.title == "Brindlewick 4: liner section of the drilling program"
    assert reader.metadata.author == "R. Planner"
    assert "revision 2 of 2026-11-20" in reader.metadata.subject
    count = len(reader.pages)
    for index, page in enumerate(reader.pages, 1):
        words = plain(page.extract_text())
        assert f"page {index} of {count}" in words
        assert program.running in words
        assert "Not a basis for well-control, pressure-testing or lifting decisions" in words
    entries = [one.title for one in _flat(reader.outline)]
    for block in program.blocks:
        if isinstance(block, Heading):
            assert block.text in entries
        if isinstance(block, NumberedTable):
            assert f"Table {block.number}. {block.table.title}" in entries
    assert any(entry.startswith("Figure 1. ") for entry in entries)


def test_an_entry_of_the_outline_leads_to_the_page_of_its_heading():
    reader = pdf_of(text_of("brindlewick-4"))
    for entry in _flat(reader.outline):
        page = reader.pages[reader.get_destination_page_number(entry)]
        words = plain(page.extract_text())
        assert plain(entry.title).partition(", at the scales")[0].partition(". Depth")[0] in words


def _flat(outline):
    for one in outline:
        if isinstance(one, list):
            yield from _flat(one)
        else:
            yield one


def test_the_schematic_keeps_its_own_size_in_both_documents():
    text = text_of("brindlewick-4")
    scene = program_of(text).pictures[0].scene
    page = next(p for p in pdf_of(text).pages if "Shows the well after the job" in p.extract_text())
    document = Document(BytesIO(content_of(text, ".docx")))
    section = document.sections[1]
    picture = document.inline_shapes[0]

    millimetre = 72.0 / 25.4
    assert float(page.mediabox.width) == pytest.approx(scene.width_mm * millimetre, abs=0.01)
    assert float(page.mediabox.height) == pytest.approx(scene.height_mm * millimetre, abs=0.01)
    assert section.page_width.mm == pytest.approx(scene.width_mm, abs=0.02)
    with zipfile.ZipFile(BytesIO(content_of(text, ".docx"))) as archive:
        from PIL import Image

        name = next(part for part in archive.namelist() if part.startswith("word/media/"))
        with Image.open(BytesIO(archive.read(name))) as image:
            assert image.width / picture.width.inches == pytest.approx(300.0, abs=0.3)
            assert image.height / picture.height.inches == pytest.approx(300.0, abs=0.3)
    assert picture._inline.docPr.get("descr").startswith("Scaled schematic")


def test_table_heads_repeat_over_pages_in_the_pdf():
    text = text_of("brindlewick-4")
    pages = [plain(page.extract_text()) for page in pdf_of(text).pages]
    [limits] = [
        one.table
        for one in program_of(text).blocks
        if isinstance(one, NumberedTable) and one.table.columns[-1].head == "where it stands, or why"
    ]
    rows = [plain(f"{row[0]} {row[1]}") for row in limits.rows]
    on = [number for number, page in enumerate(pages) if any(row in page for row in rows)]

    assert len(on) > 1  # more limits than a page holds
    assert on == [number for number, page in enumerate(pages) if "where it stands, or why" in page]


def test_a_docx_has_real_headings_captions_with_fields_and_heads_that_repeat():
    text = text_of("brindlewick-4")
    program, document = program_of(text), docx_of(text)
    styled = [(p.style.name, p.text) for p in document.paragraphs]

    for block in program.blocks:
        if isinstance(block, Heading):
            assert (f"Heading {block.level}", block.text) in styled
    captions = [p for p in document.paragraphs if p.style.name == "Caption"]
    assert [p.text for p in captions if p.text.startswith("Table")] == [
        f"Table {block.number}. {block.table.title}" for block in numbered(text)
    ]
    for caption in captions:
        codes = [one.text.strip() for one in caption._p.iter(f"{W}instrText")]
        assert codes == [rf"SEQ {caption.text.split()[0]} \* ARABIC"]
    for table in document.tables:
        assert table.rows[0]._tr.find(f"{W}trPr/{W}tblHeader") is not None
        assert len(table._tbl.findall(f"{W}tr/{W}trPr/{W}tblHeader")) == 1
    assert document.core_properties.title == program.title
    assert document.core_properties.author == "R. Planner"
    codes = [one.text.strip() for one in document.sections[0].header._element.iter(f"{W}instrText")]
    assert codes == ["PAGE", "NUMPAGES"]
    assert "verify every figure" in document.sections[0].footer.paragraphs[0].text


@pytest.mark.parametrize("suffix", write.SUFFIXES)
def test_the_same_plan_gives_the_same_bytes(suffix):
    text = text_of("sketch")
    first = content_of(text, suffix)
    content_of.cache_clear()

    assert content_of(text, suffix) == first
    if suffix in (".docx", ".xlsx"):
        with zipfile.ZipFile(BytesIO(first)) as archive:
            assert {part.date_time for part in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_text_stays_a_text_in_the_pdf(name):
    text = hostile_text(name)
    reader = pdf_of(text)

    assert pdf_words(text).count(plain(name)) >= 9
    assert reader.metadata.title == f"{name}: liner section of the drilling program"
    assert reader.metadata.author == name
    catalog = reader.trailer["/Root"]
    assert "/OpenAction" not in catalog
    assert not any("/Annots" in page for page in reader.pages)  # no link of a file's making


@pytest.mark.parametrize("turn", [0, 4])
def test_a_text_stays_a_text_in_the_docx(turn):
    text = hostile_text(*HOSTILE[turn:], *HOSTILE[:turn])
    document = docx_of(text)
    words = "\n".join(
        [
            *(p.text for p in document.paragraphs),
            *(c.text for t in document.tables for r in t.rows for c in r.cells),
        ]
    )

    assert len(HOSTILE) <= len(PLACES)
    assert all(name in words for name in HOSTILE)
    with zipfile.ZipFile(BytesIO(coarse_docx(text))) as archive:
        for part in archive.namelist():
            if part.startswith("word/") and part.endswith(".xml"):
                root = ElementTree.fromstring(archive.read(part))
                codes = {(one.text or "").strip() for one in root.iter(f"{W}instrText")}
                assert codes <= {r"SEQ Table \* ARABIC", r"SEQ Figure \* ARABIC", "PAGE", "NUMPAGES"}
                assert not list(root.iter(f"{W}hyperlink"))


@pytest.mark.parametrize("name", HOSTILE)
def test_a_text_stays_a_text_in_workbook_and_csv(name):
    text = hostile_text(name)
    cells = [cell for sheet in xlsx_of(text).worksheets for row in sheet.iter_rows() for cell in row]

    assert sum(cell.value == name and cell.data_type == "s" for cell in cells) >= 9
    assert all(FORMULA.fullmatch(cell.value) for cell in cells if cell.data_type == "f")
    fields = [field for row in csv_rows(text) for field in row]
    wanted = f"'{name}" if name[0] in "=+@-" else name
    assert fields.count(wanted) >= 9
    assert not any(field.startswith(("=", "+", "@")) for field in fields)


@pytest.mark.parametrize("mark", ["\\u0007", "\u202e", "\u0000"])
def test_control_characters_are_refused_at_the_door(mark):
    with pytest.raises(InputError):
        verbs.load_text(text_of("sketch").replace("name: Sketch", f'name: "Ske{mark}tch"'))


def test_long_names_break_and_stay_whole():
    long = "a-very-long-name-" + "w" * 200
    text = text_of("brindlewick-4").replace("name: hydraulic hanger", f"name: {long}")
    words = pdf_words(text).replace(" ", "")

    assert long in words
    assert any(long in cell.text for t in docx_of(text).tables for r in t.rows for cell in r.cells)


@pytest.mark.parametrize("units", ["field", "metric"])
@pytest.mark.parametrize("suffix", write.SUFFIXES)
def test_the_command_writes_every_format_whole(tmp_path, suffix, units):
    well, out = tmp_path / "well.yaml", tmp_path / f"out{suffix}"
    well.write_text(text_of("sketch"), encoding="utf-8")
    done = CliRunner().invoke(cli.commands, ["program", str(well), "-o", str(out), "--units", units])

    assert done.exit_code == 0, done.output
    assert out.stat().st_size > 1000
    assert {path.name for path in tmp_path.iterdir()} == {"well.yaml", f"out{suffix}"}


@pytest.mark.parametrize(
    ("paper", "sheet", "text"),
    # ISO 216 and ANSI/ASME Y14.1, in mm
    [
        ("a3", (297, 420), (210, 297)),
        ("letter", (215.9, 279.4), (215.9, 279.4)),
        ("tabloid", (279.4, 431.8), (215.9, 279.4)),
    ],
)
def test_the_schematic_stands_on_the_paper_asked_for_and_text_on_what_a_binder_holds(
    tmp_path, paper, sheet, text
):
    well = tmp_path / "well.yaml"
    well.write_text(text_of("sketch"), encoding="utf-8")
    pages = PdfReader(verbs.program(well, tmp_path / "out.pdf", paper=paper)).pages
    with coarse_pictures():
        sections = Document(verbs.program(well, tmp_path / "out.docx", paper=paper)).sections

    def millimetres(page):
        return (float(page.mediabox.width) / 72 * 25.4, float(page.mediabox.height) / 72 * 25.4)

    assert millimetres(pages[0]) == pytest.approx(text, abs=0.01)
    assert millimetres(pages[1]) == pytest.approx(sheet, abs=0.01)
    assert (sections[0].page_width.mm, sections[0].page_height.mm) == pytest.approx(text, abs=0.05)
    assert (sections[1].page_width.mm, sections[1].page_height.mm) == pytest.approx(sheet, abs=0.05)


def test_the_command_names_the_formats_that_it_knows(tmp_path):
    well = tmp_path / "well.yaml"
    well.write_text(text_of("sketch"), encoding="utf-8")
    done = CliRunner().invoke(cli.commands, ["program", str(well), "-o", str(tmp_path / "out.odt")])

    assert done.exit_code == 2
    assert ".docx" in done.output
    assert not (tmp_path / "out.odt").exists()


@pytest.mark.parametrize(("suffix", "library"), [(".docx", "docx"), (".xlsx", "openpyxl")])
def test_without_the_library_it_says_what_to_install_and_writes_nothing(
    monkeypatch, tmp_path, suffix, library
):
    well, out = tmp_path / "well.yaml", tmp_path / f"out{suffix}"
    well.write_text(text_of("sketch"), encoding="utf-8")
    monkeypatch.setitem(sys.modules, library, None)

    with pytest.raises(NoLibrary, match=r"pip install 'lapline\[documents\]'"):
        verbs.program(well, out)
    done = CliRunner().invoke(cli.commands, ["program", str(well), "-o", str(out)])
    assert done.exit_code == 2
    assert "lapline[documents]" in done.output
    assert not out.exists()


def test_figures_have_thin_spaces_between_thousands_in_print():
    cells = [c.text for t in docx_of(text_of("brindlewick-4")).tables for r in t.rows for c in r.cells]

    assert f"12{THIN}590.0" in cells


def test_the_pdf_is_dated_by_the_revision_or_not_at_all():
    dated, bare = (pdf_of(text_of(name)).metadata for name in ("brindlewick-4", "sketch"))

    assert dated["/CreationDate"].startswith("D:20261120")  # the day of the file's revision
    assert "/CreationDate" not in bare
    assert "/ModDate" not in bare
