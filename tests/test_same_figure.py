"""The same quantity reads the same wherever it is written: terminal, CSV, JSON, workbook, SVG, PDF.

Every output is read back on its own terms into rows of a name and its printed figures. What is compared are the
strings that a reader sees; a figure that a table does not print is left out of the comparison.
"""

from __future__ import annotations

import csv
import io
import json
import re
import subprocess
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from schematic import cli, verbs
from schematic.checks.evaluate import Evaluation
from schematic.outcome import Figure
from schematic.units import System, number
from tests.drawing.svg_reader import THIN, read
from tests.program.programs import coarse_pictures

Rows = dict[tuple[str, str, int], tuple[str, ...]]  # title of the table, first cell, its count there: figures
WELLS = ("brindlewick-4.yaml", "sollivane-a7.yaml", "haldry-2.yaml", "tarnvale-h3.yaml")
ON_THE_SHEET = {  # table: columns that the sheet shows
    "Laps": ("length",),
    "Top of cement": ("MD", "TVD"),
    "Cement by section": ("top MD", "bottom MD", "without excess", "excess", "with excess"),
    "Cement": ("volume", "mix water"),
    "Displacement": ("at MD", "volume", "strokes"),
}
KEY = {  # what a rig is told by: it must be among what is compared
    ("Laps", "liner top to host shoe"),
    ("Displacement", "plug bumps"),
    ("Cement", "total"),
    ("Top of cement", "as planned"),
}


class Rowing:
    """Rows with their count, since a name may come twice in a table."""

    def __init__(self) -> None:
        self.rows: Rows = {}

    def add(self, title: str, name: str, figures: tuple[str, ...]) -> None:
        """One more row of a table."""
        count = sum(key[:2] == (title, name) for key in self.rows)
        self.rows[title, name, count] = tuple(text.replace(THIN, "") for text in figures)


def expected(evaluation: Evaluation, system: System) -> Rows:
    """The figures of all tables as they are printed for a kind: the one place where a figure becomes a text."""
    made = Rowing()
    for table in verbs.tables(evaluation):
        for row in table.rows:
            figures = tuple(number(c.si, c.kind, system) for c in row if isinstance(c, Figure))
            made.add(table.title, str(row[0]), figures)
    return made.rows


def run(*arguments: str) -> str:
    done = CliRunner().invoke(cli.commands, list(arguments))
    assert done.exit_code == 0, done.output
    return done.stdout


def from_text(file: Path, system: System, _folder: Path) -> Rows:
    """The terminal: a title, heads, then a row a line; columns stand two spaces apart."""
    made = Rowing()
    for block in run("volumes", str(file), "--units", system).split("\n\n")[1:]:
        title, *lines = block.splitlines()
        for line in lines[1:]:
            cells = re.split(r" {2,}", line.strip())
            made.add(title, cells[0], tuple(cell for cell in cells[1:] if is_figure(cell)))
    return made.rows


def from_csv(file: Path, system: System, _folder: Path) -> Rows:
    made = Rowing()
    rows = list(csv.reader(io.StringIO(run("volumes", str(file), "--units", system, "--format", "csv"))))
    title, at = "", 0
    for row in rows:
        at = 0 if not row else at + 1
        if at == 1:
            title = row[0]
        elif at > 2:
            made.add(title, row[0], tuple(cell for cell in row[1:] if is_figure(cell)))
    return made.rows


def from_json(file: Path, system: System, _folder: Path) -> Rows:
    made = Rowing()
    for table in json.loads(run("volumes", str(file), "--units", system, "--format", "json"))["tables"]:
        for row in table["rows"]:
            name, *cells = row.values()
            figures = tuple(cell["printed"].split(" ")[0] for cell in cells if isinstance(cell, dict))
            made.add(table["title"], name, figures)
    return made.rows


def from_workbook(file: Path, system: System, folder: Path) -> Rows:
    """The workbook: a figure keeps all its digits, and shows those that its format says."""
    from openpyxl import load_workbook

    out = folder / "tables.xlsx"
    run("volumes", str(file), "--units", system, "-o", str(out))
    made = Rowing()
    for sheet in load_workbook(out):
        for row in sheet.iter_rows(min_row=2):
            name, *cells = row
            figures = [(summed(sheet, cell.value), cell.number_format) for cell in cells]
            told = tuple(shown(value, form) for value, form in figures if isinstance(value, int | float))
            made.add(sheet.title, str(name.value), told)
    return made.rows


def summed(sheet: Any, value: Any) -> Any:
    """What a sum of figures comes to; anything else as it is."""
    found = re.fullmatch(r"=SUM\((([BEFG])\d+:\2\d+)\)", str(value))
    if found:
        return sum(summed(sheet, cell.value) for (cell,) in sheet[found.group(1)])
    both = re.fullmatch(r"=(E\d+)\+(F\d+)", str(value))
    return sheet[both.group(1)].value + sheet[both.group(2)].value if both else value


def shown(value: float, form: str) -> str:
    """A number as a spreadsheet shows it in a format of digits, "0" or "0.00": a half goes up."""
    assert re.fullmatch(r"0(\.0+)?", form)
    places = Decimal(1).scaleb(-len(form.partition(".")[2]))
    return str(Decimal(f"{value:.15g}").quantize(places, ROUND_HALF_UP))


@cache
def drawn(file: Path, system: System, folder: Path) -> list[Path]:
    """The pages of the sheet as files, the first one first."""
    run("draw", str(file), "--units", system, "-o", str(folder / "sheet.svg"))
    return [folder / "sheet.svg", *sorted(folder.glob("sheet-*.svg"))]


def from_svg(file: Path, system: System, folder: Path) -> Rows:
    """The sheet: a table is a group of its title; a row is what stands on one line, from left to right."""
    made = Rowing()
    for page in drawn(file, system, folder):
        for group in read(page.read_bytes()):
            title = group.title
            lines: dict[float, list[tuple[float, str]]] = {}
            for words in group.words:
                lines.setdefault(words.y, []).append((words.x, words.text))
            for _y, cells in sorted(lines.items()):
                name, *rest = (text for _x, text in sorted(cells))
                figures = tuple(text for text in rest if is_figure(text.replace(THIN, "")))
                if figures:
                    made.add(title, name, figures)
    return made.rows


def is_figure(text: str) -> bool:
    return bool(re.fullmatch(r"-?\d+(\.\d+)?", text))


@pytest.fixture(
    scope="module", params=[(well, system) for well in WELLS for system in ("field", "metric")], ids=" ".join
)
def well(request, tmp_path_factory) -> tuple[Path, System, Rows, Path]:
    name, system = request.param
    folder = tmp_path_factory.mktemp("same")
    file = folder / name
    file.write_text(verbs.demos()[name], encoding="utf-8")
    return file, system, expected(verbs.check(file), system), folder


def differing(wanted: Rows, found: Rows) -> dict[object, object]:
    """Rows that one has otherwise than the other."""
    return {key: (row, found.get(key)) for key, row in wanted.items() if found.get(key) != row}


@pytest.mark.parametrize("reader", [from_text, from_csv, from_json])
def test_every_table_reads_the_same(well, reader):
    file, system, wanted, folder = well

    assert {key[:2] for key in wanted} >= KEY
    assert len(wanted) > 30
    assert differing(wanted, reader(file, system, folder)) == {}


def test_the_workbook_reads_the_same(well):
    """Its sheets have names without a colon, cut to 31 letters; the tally has one column more, a live sum."""
    file, system, wanted, folder = well
    found = from_workbook(file, system, folder)
    titles = {title for title, _name, _count in found}

    compared = 0
    for (title, name, count), figures in wanted.items():
        sheet = re.sub(r"[\\/*?:\[\]]", " ", title)[:31].strip()
        if sheet in titles:
            assert found[sheet, name, count] == figures, (title, name)
            compared += 1
    assert compared > 25


def test_the_sheet_reads_the_same(well):
    """What of the tables stands on the sheet, by row and by column."""
    file, system, _wanted, folder = well
    found = from_svg(file, system, folder)
    evaluation = verbs.check(file)
    compared: set[tuple[str, str]] = set()
    for table in verbs.tables(evaluation):
        columns = ON_THE_SHEET.get(table.title, ())
        counts: dict[str, int] = {}
        for row in table.rows:
            name = str(row[0])
            cells = [c for c, column in zip(row, table.columns, strict=True) if column.head in columns]
            figures = tuple(number(c.si, c.kind, system) for c in cells if isinstance(c, Figure))
            key = (table.title, name, counts.get(name, 0))
            counts[name] = counts.get(name, 0) + 1
            if key in found and figures:
                sacks = len(found[key]) - len(figures)
                assert [text for text in figures if text not in found[key]] == [], (key, figures, found[key])
                assert 0 <= sacks <= 1
                compared.add((table.title, name))
    assert compared >= KEY


def test_the_pdf_says_what_the_svg_says(well, program, tmp_path):
    """All texts of the sheet, in both, as sets of lines without spaces: a PDF reader joins and parts as it likes."""
    file, system, _wanted, folder = well
    run("draw", str(file), "--units", system, "-o", str(tmp_path / "sheet.pdf"))
    told = subprocess.run(
        [program("pdftotext"), "-layout", str(tmp_path / "sheet.pdf"), "-"], check=True, capture_output=True
    ).stdout.decode()
    bare = re.sub(r"\s", "", told.replace(THIN, ""))
    texts = [
        words.text
        for page in drawn(file, system, folder)
        for group in read(page.read_bytes())
        for words in group.words
        if not words.upward  # those come out letter by letter
    ]

    assert len(texts) > 150
    assert [text for text in texts if re.sub(r"\s", "", text.replace(THIN, "")) not in bare] == []


@pytest.mark.parametrize(
    ("key", "path"),
    [("liner top", "liner.top"), ("liner shoe", "liner.shoe")],
)
def test_the_depths_in_the_head_are_those_that_are_explained(well, key, path):
    """The large figures of the head against the explanation and the first and last line of the tally."""
    file, system, wanted, folder = well
    first, *_others = drawn(file, system, folder)
    parts = [part for part in read(first.read_bytes()) if part.part == "well"]
    texts = [[words.text.replace(THIN, "") for words in part.words] for part in parts]
    [figures] = [words for words in texts if key in words]
    large = float(figures[figures.index(key) - 1])
    explained = run("explain", str(file), path, "--units", system)
    tally = next(table for table in verbs.tables(verbs.check(file)) if table.title == next(iter(wanted))[0])
    cell = tally.rows[0][1] if key == "liner top" else tally.rows[-1][2]

    printed = number(cell.si, "tally", system)
    assert abs(large - float(printed)) <= 0.5
    assert printed.removesuffix(".00").removesuffix(".0") in explained.replace(THIN, "").replace(",", "")


def _docx(path: Path) -> str:
    import zipfile
    from xml.etree import ElementTree

    body = ElementTree.fromstring(zipfile.ZipFile(path).read("word/document.xml"))
    words = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
    cells = ["".join(t.text or "" for t in p.iter(f"{words}t")) for p in body.iter(f"{words}p")]
    return "\n".join(cells)


@pytest.mark.skipif("program" not in cli.commands.commands, reason="there is no command 'program' yet")
def test_the_program_section_says_the_same_figures(well, tmp_path):
    """Every key figure stands in the document as it stands in the tables."""
    file, system, wanted, _folder = well
    out = tmp_path / "program.docx"
    with coarse_pictures():
        run("program", str(file), "--units", system, "-o", str(out))
    lines = {line.replace(THIN, "").strip() for line in _docx(out).splitlines()}

    for (title, name, _count), figures in wanted.items():
        if (title, name) in KEY:
            assert name in lines, name
            assert [figure for figure in figures if figure not in lines] == [], (title, name)
