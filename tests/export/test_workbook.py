"""The workbook: every table, figures as numbers of twelve digits, live sums, texts that stay texts."""

from __future__ import annotations

import io
import re
import sys
import zipfile

import openpyxl
import pytest

from schematic import check, tabulate
from schematic.export.report import open_points
from schematic.export.tables import findings_table, tables
from schematic.export.tally import TALLY, tally_table
from schematic.export.workbook import NoLibrary, cover, workbook
from schematic.outcome import Figure
from schematic.units import in_system
from schematic.verbs import demos, load_text
from schematic.wellfile import edit

BRINDLEWICK = demos()["brindlewick-4.yaml"]


def made(text: str = BRINDLEWICK, system="field") -> bytes:
    """The workbook of a well with all its tables."""
    evaluation = check(load_text(text, "well.yaml"))
    quantities = (tally_table(evaluation), *tables(evaluation))
    whole = (
        cover(evaluation, system),
        *quantities,
        findings_table(evaluation, system),
        *open_points(evaluation),
    )
    return workbook(evaluation, whole, system)


def opened(text: str = BRINDLEWICK, system="field"):
    """The workbook of a well, read back by the library."""
    return openpyxl.load_workbook(io.BytesIO(made(text, system)))


@pytest.mark.parametrize("name", demos())
@pytest.mark.parametrize("system", ["field", "metric"])
def test_every_figure_of_every_table_is_a_number_with_all_its_digits(name, system):
    evaluation = check(load_text(demos()[name], name))
    book = openpyxl.load_workbook(io.BytesIO(workbook(evaluation, tables(evaluation), system)))

    for table, sheet in zip(tables(evaluation), book.worksheets, strict=True):
        for row, cells in enumerate(table.rows, 2):
            for column, cell in enumerate(cells, 1):
                value = sheet.cell(row, column).value
                if isinstance(value, str) and re.match(r"=SUM\([BEFG]2:|=E\d+\+F", value):
                    continue  # of slurries and sections of cement: see the live sums
                if isinstance(cell, Figure):
                    assert value == pytest.approx(in_system(cell.si, cell.kind, system), rel=1e-11)
                else:
                    assert (value or "") == (table.blank if cell is None else cell)


def test_heads_carry_their_units():
    assert opened()["Volumes"]["E1"].value == "volume, bbl"
    assert opened(system="metric")["Volumes"]["E1"].value == "volume, m3"


def test_lengths_of_the_tally_are_numbers_and_all_else_follows_live():
    # a spreadsheet of one column of lengths and one depth, worked out by hand: see the formulas' texts
    sheet = opened()[TALLY]
    count = len(tally_table(check(load_text(BRINDLEWICK))).rows)
    last = count + 1

    lengths = [sheet[f"C{row}"].value for row in range(2, last + 1)]
    written = [
        1.8,
        80.6,
        1.6,
        40.2,
        1.5,
        None,
        12.0,
        9.6,
        7.9,
        10.4,
    ]  # from the shoe up, as the file lists them
    filled = 3110.0 - sum(
        one for one in written if one is not None
    )  # 12600 - 10 - (9850 - 370), less the rest
    assert lengths == pytest.approx([filled if one is None else one for one in written], abs=1e-6)
    assert sheet["E2"].value == pytest.approx(12590.0, abs=1e-6)  # hole depth 12600 ft less 10 ft off bottom
    assert sheet[f"C{last + 1}"].value == f"=SUM(C2:C{last})"
    for row in range(2, last + 1):
        assert sheet[f"D{row}"].value == f"=SUM(C$2:C{row})"
        assert sheet[f"F{row}"].value == f"=E{row}-C{row}"
        assert row == 2 or sheet[f"E{row}"].value == f"=F{row - 1}"


def below(sheet, letter: str, row: int) -> list[float]:
    """The figures of a column above a row, from the first below the head."""
    return [sheet[f"{letter}{one}"].value for one in range(2, row)]


def row_of(sheet, words: str) -> int:
    return next(row for row in range(1, sheet.max_row + 1) if sheet.cell(row, 1).value == words)


def test_what_volumes_and_cement_add_up_to_is_live():
    """The sums as the worked well has them: 130.2 bbl of cement, of it 17.7 excess; inside 269.8 to the bump and
    4.67 in the shoe track; outside 9.78, 8.94, 52.8, 35.6 and 0.75.
    """
    book = opened()
    volumes, sections, cement = book["Volumes"], book["Cement by section"], book["Cement"]

    for side, wanted, half in (
        ("inside", 269.8 + 4.67, 0.06),
        ("outside", 9.78 + 8.94 + 52.8 + 35.6 + 0.75, 0.12),
    ):
        row = row_of(volumes, f"sum {side}")
        found = re.fullmatch(rf'=SUMIF\(B2:B(\d+),"{side}",E2:E\1\)', volumes[f"E{row}"].value)
        last = int(found.group(1))
        summed = sum(volumes[f"E{r}"].value for r in range(2, last + 1) if volumes[f"B{r}"].value == side)
        assert summed == pytest.approx(wanted, abs=half)
        assert volumes[f"A{last + 1}"].value == "sum inside"  # every space is in it
    row = row_of(sections, "sum of the sections")
    assert sections[f"E{row}"].value == f"=SUM(E2:E{row - 1})"
    assert sections[f"F{row}"].value == f"=SUM(F2:F{row - 1})"
    assert sections[f"G{row}"].value == f"=SUM(G2:G{row - 1})"
    assert below(sections, "G", row) == [f"=E{one}+F{one}" for one in range(2, row)]
    whole = sum(below(sections, "E", row)) + sum(below(sections, "F", row))
    assert whole == pytest.approx(130.2, abs=0.05)
    assert sum(below(sections, "F", row)) == pytest.approx(17.7, abs=0.05)
    row = row_of(cement, "total")
    assert cement[f"B{row}"].value == f"=SUM(B2:B{row - 1})"
    assert sum(below(cement, "B", row)) == pytest.approx(130.2, abs=0.05)


@pytest.mark.parametrize("name", demos())
def test_beside_each_formula_stands_what_it_gives(name):
    """What shows a workbook and does not compute shows these: each of the four forms is worked out here."""
    content = made(demos()[name])
    formulas, shown = (openpyxl.load_workbook(io.BytesIO(content), data_only=only) for only in (False, True))
    seen = set()

    def value(sheet, where: str) -> float:
        return shown[sheet.title][where.replace("$", "")].value

    for sheet in formulas:
        for cell in (cell for row in sheet.iter_rows() for cell in row if cell.data_type == "f"):
            form = re.sub(r"[A-Z][$]?[0-9]+", "x", cell.value)
            ends = re.findall(r"[A-Z][$]?[0-9]+", cell.value)
            first, last = (int(end.lstrip("ABCDEFG$")) for end in ends[:2]) if len(ends) > 1 else (0, 0)
            letter = ends[-1][0]
            down = [f"{letter}{row}" for row in range(first, last + 1)]
            if form == "=x":
                wanted = value(sheet, ends[0])
            elif form == "=SUM(x:x)":
                wanted = sum(value(sheet, one) for one in down)
            elif form.startswith("=SUMIF(x:x,"):
                side = form.split('"')[1]
                wanted = sum(value(sheet, one) for one in down if sheet[f"B{one[1:]}"].value == side)
            else:
                sign = {"=x+x": 1.0, "=x-x": -1.0}[form]
                wanted = value(sheet, ends[0]) + sign * value(sheet, ends[1])
            seen.add(form.split(",")[0])
            assert value(sheet, cell.coordinate) == pytest.approx(wanted, abs=1e-8, rel=1e-10)
    assert {"=x", "=SUM(x:x)", "=x-x", "=SUMIF(x:x"} <= seen


def test_no_cell_carries_the_noise_of_floats():
    for sheet in opened().worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                if isinstance(cell.value, float):
                    assert len(repr(abs(cell.value)).partition("e")[0].replace(".", "").strip("0")) <= 12, (
                        cell.value
                    )


def test_a_figure_shows_the_decimals_that_it_has_elsewhere():
    volumes = opened()["Volumes"]
    shown = {volumes.cell(row, 1).value: volumes.cell(row, 5).number_format for row in range(2, 10)}

    assert shown["shoe track"] == "0.00"  # 4.67 bbl is not 4.7
    assert shown["rathole"] == "0.00"
    assert shown["running string to its foot"] == "0.0"


def test_every_sheet_prints_on_the_width_of_a_page_with_its_heads_on_each():
    for sheet in opened().worksheets:
        assert sheet.page_setup.orientation == "landscape"
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.print_title_rows == "$1:$1"
        assert sheet.freeze_panes == "A2"


def test_an_ampersand_in_a_name_is_no_field_of_the_header():
    book = opened(BRINDLEWICK.replace("name: Brindlewick 4", 'name: "A&P &D"'))

    assert book.worksheets[0].oddHeader.left.text.startswith("A&&P &&D")


def test_the_same_plan_gives_the_same_bytes_whatever_the_hour():
    first = made()

    assert made() == first
    with zipfile.ZipFile(io.BytesIO(first)) as archive:
        # the day of the file's revision
        assert {part.date_time for part in archive.infolist()} == {(2026, 11, 20, 0, 0, 0)}
        assert archive.read("docProps/core.xml").count(b">2026-11-20T00:00:00Z</dcterms:") == 2
        assert b"<Application>lapline<" in archive.read("docProps/app.xml")


@pytest.mark.parametrize(
    "text",
    [
        edit.remove(edit.remove(BRINDLEWICK, "well.revision"), "well.earlier revisions"),
        edit.remove(BRINDLEWICK, "well.revision.date"),
        edit.set(edit.put(BRINDLEWICK, "well.revision.content", "0" * 12), "liner.lap", "371 ft"),
    ],
    ids=["no revision", "no day", "changed since"],
)
def test_where_the_plan_has_no_day_the_workbook_has_none(text):
    with zipfile.ZipFile(io.BytesIO(made(text))) as archive:
        assert b"dcterms:created" not in archive.read("docProps/core.xml")
        assert b"dcterms:modified" not in archive.read("docProps/core.xml")
    assert opened(text).worksheets


@pytest.mark.parametrize("name", ["=1+1", "@SUM(A1)", "+1", "-1", "=cmd|' /C calc'!A0"])
def test_a_name_that_begins_like_a_formula_stays_a_text(name):
    text = BRINDLEWICK.replace("name: Brindlewick 4", f'name: "{name}"').replace(
        "name: hydraulic hanger", f'name: "{name}"'
    )
    book = opened(text)

    formulas = [
        cell.value
        for sheet in book.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]
    assert formulas
    live = (
        r"=E\d+\+F\d+|=SUM\(([BCEFG])\$?2:\1\d+\)|=F\d+|=E\d+-C\d+|=SUMIF\(B2:B\d+,\"(in|out)side\",E2:E\d+\)"
    )
    assert all(re.fullmatch(live, formula) for formula in formulas)
    assert any(cell.value == name for row in book["Well"].iter_rows() for cell in row)


def test_sheet_names_are_allowed_and_differ():
    text = BRINDLEWICK.replace(
        "liner:\n  pipe", 'liner:\n  name: "a/b[c]*?: of a very very long name indeed"\n  pipe', 1
    )
    names = opened(text).sheetnames

    assert len({name.casefold() for name in names}) == len(names)
    assert all(len(name) <= 31 and not re.search(r"[\\/*?:\[\]]", name) for name in names)


def test_a_long_sheet_name_ends_with_a_word():
    names = opened().sheetnames
    assert "Static EMW at the end" in names  # "of displacement" would make it 37 characters; 31 are allowed
    assert "U-tube at the end" in names


def test_the_caution_and_what_is_open_go_with_it():
    book = opened()

    assert any("planning aid" in str(cell.value) for row in book["Well"].iter_rows() for cell in row)
    assert {"Findings", "Not checked", "Assumed or not given"} <= set(book.sheetnames)


def test_it_is_written_whole(tmp_path):
    file = tabulate(load_text(BRINDLEWICK), tmp_path / "well.xlsx")

    assert openpyxl.load_workbook(file).sheetnames[0] == "Well"
    assert [path.name for path in tmp_path.iterdir()] == ["well.xlsx"]


def test_without_the_library_it_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "openpyxl", None)

    with pytest.raises(NoLibrary, match=r"lapline\[documents\]"):
        made()
