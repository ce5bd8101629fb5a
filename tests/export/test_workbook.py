"""The workbook: every table, figures as numbers with all their digits, live sums, texts that stay texts."""

from __future__ import annotations

import io
import re
import sys

import openpyxl
import pytest

from schematic import check, tabulate
from schematic.export.tables import liner_table, tables
from schematic.export.workbook import NoLibrary, workbook
from schematic.outcome import Figure
from schematic.units import in_system
from schematic.verbs import demos, load_text

BRINDLEWICK = demos()["brindlewick-4.yaml"]


def opened(text: str = BRINDLEWICK, system="field"):
    """The workbook of a well, read back by the library."""
    return openpyxl.load_workbook(io.BytesIO(workbook(check(load_text(text, "well.yaml")), system)))


@pytest.mark.parametrize("name", demos())
@pytest.mark.parametrize("system", ["field", "metric"])
def test_every_figure_of_every_table_is_a_number_with_all_its_digits(name, system):
    evaluation = check(load_text(demos()[name], name))
    book = openpyxl.load_workbook(io.BytesIO(workbook(evaluation, system)))

    sheets = book.worksheets[1:]  # the first is the well's
    for table, sheet in zip(tables(evaluation), sheets, strict=False):
        for row, cells in enumerate(table.rows, 2):
            for column, cell in enumerate(cells, 1):
                value = sheet.cell(row, column).value
                if isinstance(cell, Figure):
                    assert value == pytest.approx(in_system(cell.si, cell.kind, system), rel=1e-15)
                else:
                    assert (value or None) == (cell or None)


def test_heads_carry_their_units():
    assert opened()["Volumes"]["E1"].value == "volume, bbl"
    assert opened(system="metric")["Volumes"]["E1"].value == "volume, m3"


def test_the_sums_of_the_tally_are_live_and_right():
    evaluation = check(load_text(BRINDLEWICK))
    sheet = next(s for s in opened().worksheets if s["A1"].value == "part")
    count = len(liner_table(evaluation).rows)

    lengths = [sheet.cell(row, 4).value for row in range(2, count + 2)]
    assert sheet.cell(count + 2, 4).value == f"=SUM(D2:D{count + 1})"
    assert sum(lengths) == pytest.approx(3110.0, abs=0.05)  # the trade reference's total
    for row in range(2, count + 2):
        first, last = map(int, re.fullmatch(r"=SUM\(D(\d+):D\$(\d+)\)", sheet.cell(row, 7).value).groups())
        shoe = 12590.0 - sum(lengths[first - 2 : last - 1])
        assert shoe == pytest.approx(sheet.cell(row, 2).value, abs=1e-6)  # each part's top, from the shoe up


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
    assert all(re.fullmatch(r"=SUM\(D\d+:D\$?\d+\)", formula) for formula in formulas)
    assert any(cell.value == name for row in book["Well"].iter_rows() for cell in row)


def test_sheet_names_are_allowed_and_differ():
    text = BRINDLEWICK.replace(
        "liner:\n  pipe", 'liner:\n  name: "a/b[c]*?: of a very very long name indeed"\n  pipe', 1
    )
    names = opened(text).sheetnames

    assert len({name.casefold() for name in names}) == len(names)
    assert all(len(name) <= 31 and not re.search(r"[\\/*?:\[\]]", name) for name in names)


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
        workbook(check(load_text(BRINDLEWICK)), "field")
