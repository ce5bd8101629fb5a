"""The tables of a well as a workbook: one sheet a table, numbers as numbers; tally and sums are live.

Texts that came from a file are data: every text is written as a text, whatever it begins with.
"""

from __future__ import annotations

import io
import re
import textwrap
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from schematic.checks.evaluate import Evaluation
from schematic.export import CAUTION
from schematic.export.package import day_of, steady
from schematic.export.tables import CEMENT, SECTIONS, VOLUMES, Cell, Column, Table, heads, printed
from schematic.export.tally import TALLY
from schematic.outcome import Figure
from schematic.units import System, in_system, number, unit_of

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_LONGEST_TITLE = 31  # characters of a sheet's name
_WIDEST = 46  # characters
_ROW_PT = 13.5  # height of a row of one line
_A4 = 9  # as the format numbers paper
_FORMULA = re.compile(rb'(<c r="([A-Z]+[0-9]+)"[^>]*><f>[^<]*</f>)(?:<v ?/>|<v></v>)')
_DIGITS = 12  # significant, of a figure: more are noise of floats


class NoLibrary(Exception):
    """The library that writes a kind of document is not installed; says what to install."""


def workbook(evaluation: Evaluation, made: tuple[Table, ...], system: System) -> bytes:
    """Tables of a plan as the content of an .xlsx file; the same tables give the same bytes.

    Every sheet prints on the width of a page, the well above it, its heads on every page.

    Raises
    ------
    NoLibrary
        When openpyxl is not installed.
    """
    try:
        from openpyxl import Workbook
    except ImportError:
        raise NoLibrary("a workbook needs openpyxl: pip install 'lapline[documents]'") from None
    book: Any = Workbook()
    book.remove(book.active)
    identity = evaluation.plan.identity
    book.properties.title = _plain(f"{identity.name}, {identity.standing}")
    book.properties.creator = "lapline"
    taken: set[str] = set()
    known: dict[str, dict[str, float]] = {}
    for number_, table in enumerate(made, 1):
        sheet = book.create_sheet(_title(table.title, taken))
        _fill(sheet, table, system)
        if table.title in _LIVE:
            formulas = _LIVE[table.title](sheet, len(table.rows))
            known[f"xl/worksheets/sheet{number_}.xml"] = {
                where: _live(sheet, where, formula) for where, formula in formulas.items()
            }
        _page(sheet, f"{identity.name}, {identity.standing}, file {identity.file_hash}", table.title)
    out = io.BytesIO()
    book.save(out)
    return steady(_with_values(out.getvalue(), known), day_of(evaluation.plan))


def cover(evaluation: Evaluation, system: System) -> Table:
    """Which well and revision it is, its datum, units and the caution: the first sheet."""
    identity = evaluation.plan.identity
    datum, revision = identity.datum, identity.revision
    height = None if datum.height_m is None else Figure(datum.height_m, "depth")
    rows: list[tuple[Cell, ...]] = [
        ("well", identity.name),
        ("purpose", identity.purpose),
        ("state", identity.standing),
        ("revision", f"{revision.issue}, {revision.note}" if revision else ""),
        ("prepared by", revision.by if revision else ""),
        ("depths", f"{unit_of('depth', system)}, measured from {datum.name}"),
        (f"{datum.name} above {datum.above}, {unit_of('depth', system)}", height),
        ("file", f"{Path(identity.file).name}, {identity.file_hash}"),
        ("caution", CAUTION),
    ]
    return Table("Well", (Column("what"), Column("value")), tuple(rows))


def _title(text: str, taken: set[str]) -> str:
    """A sheet name that the format allows, and that no other sheet has."""
    plain = re.sub(r"[\\/*?:\[\]]", " ", _plain(text)).strip(" '")
    if len(plain) > _LONGEST_TITLE:  # at the end of a word, where there is one
        plain = plain[: _LONGEST_TITLE + 1].rpartition(" ")[0] or plain[:_LONGEST_TITLE]
        plain = re.sub(r"(?: (?:and|at|for|in|of|on|the|to|with))+$", "", plain)
    plain = plain.strip(" '") or "table"
    name, count = plain, 1
    while name.casefold() in taken:
        count += 1
        name = f"{plain[: _LONGEST_TITLE - 3]} {count}"
    taken.add(name.casefold())
    return name


def _fill(sheet: Worksheet, table: Table, system: System) -> None:
    """Heads with units, then the rows; a figure keeps all its digits and shows those that are printed."""
    from openpyxl.styles import Alignment, Border, Side
    from openpyxl.utils import get_column_letter

    lines: dict[int, int] = {}  # of each row, by its text that takes most
    laid: list[tuple[int, Any, dict[str, Any]]] = []
    for column, name in enumerate(heads(table, system), 1):
        texts = {row: _shown(cells[column - 1], table, system) for row, cells in enumerate(table.rows, 2)}
        figures = any(isinstance(cells[column - 1], Figure) for cells in table.rows)
        across: dict[str, Any] = {
            "horizontal": "right" if figures else "left",
            "wrap_text": True,
            "indent": int(not figures),
        }
        words = name.split() if figures else [name]
        width = min(max(map(len, (*words, *texts.values()))), _WIDEST) + 3
        if width - 3 < len(name) < width + 3:
            width = len(name) + 3  # or a head that just fits touches its neighbour
        sheet.column_dimensions[get_column_letter(column)].width = width
        head = _put(sheet, 1, column, name)
        head.font, head.border = _font(bold=True), Border(bottom=Side("thin"))
        head.alignment = Alignment(vertical="bottom", **across)
        for row, text in ((1, name), *texts.items()):
            lines[row] = max(lines.get(row, 1), _lines(text, width))
        for row, cells in enumerate(table.rows, 2):
            cell = cells[column - 1]
            if isinstance(cell, Figure):
                made = sheet.cell(row, column, _value(cell, system))
                made.number_format, made.font = _format(cell, system), _font()
            elif texts[row]:
                made = _put(sheet, row, column, texts[row])
            else:
                continue
            laid.append((row, made, across))
    for row, made, across in laid:
        made.alignment = Alignment(vertical="top" if lines[row] > 1 else "center", **across)
    for row, count in lines.items():
        if count > 1:
            sheet.row_dimensions[row].height = _ROW_PT * count
    sheet.freeze_panes = "A2"
    if table.note:
        _note(sheet, len(table.rows) + 4, len(table.columns), table.note)


def _note(sheet: Worksheet, row: int, columns: int, text: str) -> None:
    """A note below the table, as wide as the table; a merged row does not find its height by itself."""
    from openpyxl.styles import Alignment

    letters = [sheet.cell(1, column).column_letter for column in range(1, columns + 1)]
    room = sum(sheet.column_dimensions[letter].width for letter in letters)
    if columns > 1:
        sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=columns)
    _put(sheet, row, 1, text).alignment = Alignment(wrap_text=True, vertical="top")
    sheet.row_dimensions[row].height = _ROW_PT * _lines(text, room)


def _lines(text: str, width: float) -> int:
    """How many lines a text takes in a width of so many digits; letters are narrower on the whole."""
    return len(textwrap.wrap(text, max(int(width) - 1, 1)))


def _shown(cell: Cell, table: Table, system: System) -> str:
    """What a cell shows, to tell its width."""
    return _plain(printed(cell, table.blank, system))


def _page(sheet: Worksheet, running: str, title: str) -> None:
    """Landscape, all columns on one page's width, heads on every page, the well and the caution around."""
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = _A4
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    assert sheet.sheet_properties.pageSetUpPr is not None
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = "1:1"
    sheet.oddHeader.left.text, sheet.oddHeader.right.text = _in_header(running, 140), _in_header(title, 60)
    sheet.oddFooter.left.text = "Planning aid: competent people verify every figure. See the first sheet."
    sheet.oddFooter.right.text = "page &P of &N"


def _in_header(text: str, most: int) -> str:
    """A text for a header, which holds 255 characters in all and where an ampersand begins a field."""
    cut = _plain(text)
    while len(cut.replace("&", "&&")) > most:
        cut = cut[:-1]
    return cut.replace("&", "&&")


def _plain(text: str) -> str:
    """A text without the characters that the format cannot hold."""
    return re.sub(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]", "", text)


def _put(sheet: Worksheet, row: int, column: int, text: str) -> Any:  # noqa: ANN401
    """A text as text, whatever it begins with."""
    cell = sheet.cell(row, column)
    cell.value = _plain(text)
    cell.data_type = "s"
    cell.font = _font()
    return cell


def _font(bold: bool = False) -> Any:  # noqa: ANN401
    """The one font: a font without a name is another one in each program."""
    from openpyxl.styles import Font

    return Font(name="Arial", size=10, bold=bold)


def _value(figure: Figure, system: System) -> float:
    """Twelve digits; of a kind that is printed in hundreds, which no format shows, the printed ones."""
    value, printed = in_system(figure.si, figure.kind, system), number(figure.si, figure.kind, system)
    hundreds = "." not in printed and printed.endswith("00") and f"{value:.0f}" != printed
    return float(printed) if hundreds else float(f"{value:.{_DIGITS}g}")


def _format(figure: Figure, system: System) -> str:
    """As many decimals as the figure is printed with elsewhere."""
    _whole, _point, decimals = number(figure.si, figure.kind, system).partition(".")
    return f"0.{'0' * len(decimals)}" if decimals else "0"


Formulas = dict[str, str]  # by cell


def _live_tally(sheet: Worksheet, count: int) -> Formulas:
    """Lengths and the depth of the shoe are numbers; sums and all other depths follow from them."""
    last = count + 1
    found: Formulas = {}
    for row in range(2, last + 1):
        found[f"D{row}"] = f"=SUM(C$2:C{row})"
        if row > 2:
            found[f"E{row}"] = f"=F{row - 1}"
        found[f"F{row}"] = f"=E{row}-C{row}"
    _put(sheet, last + 1, 2, "sum of the parts").font = _font(bold=True)
    return found | _sum(sheet, "C", range(2, last + 1), last + 1)


def _live_volumes(sheet: Worksheet, count: int) -> Formulas:
    """Below the spaces what they add up to inside and outside."""
    last = count + 1
    found: Formulas = {}
    for row, side in enumerate(("inside", "outside"), last + 1):
        _put(sheet, row, 1, f"sum {side}").font = _font(bold=True)
        _sum(sheet, "E", [one for one in range(2, last + 1) if sheet[f"B{one}"].value == side], row)
        found[f"E{row}"] = f'=SUMIF(B2:B{last},"{side}",E2:E{last})'
    return found


def _live_sections(sheet: Worksheet, count: int) -> Formulas:
    """Each section of cement with its excess; in the last row what they add up to."""
    last = count + 1
    found = {f"G{row}": f"=E{row}+F{row}" for row in range(2, last)}
    sheet[f"A{last}"].font = _font(bold=True)
    for column in "EFG":
        found |= _sum(sheet, column, range(2, last), last)
    return found


def _live_cement(_sheet: Worksheet, count: int) -> Formulas:
    """The total is the sum of the slurries above it; two lines that are parts of it follow."""
    row = count - 1
    return {f"B{row}": f"=SUM(B2:B{row - 1})"}


def _sum(sheet: Worksheet, column: str, rows: Sequence[int], at: int) -> Formulas:
    """A sum in bold under its column, printed as the figures that it adds up where the table has none."""
    cell = sheet[f"{column}{at}"]
    if cell.value is None:
        cell.value = sum(sheet[f"{column}{row}"].value for row in rows)
        cell.number_format = sheet[f"{column}2"].number_format
    cell.font = _font(bold=True)
    return {f"{column}{at}": f"=SUM({column}{rows[0]}:{column}{rows[-1]})"} if rows else {}


def _live(sheet: Worksheet, where: str, formula: str) -> float:
    """Put a formula in the place of the number that it gives; returns that number."""
    value = float(f"{sheet[where].value:.{_DIGITS}g}")
    sheet[where].value = formula
    return value


def _with_values(content: bytes, known: dict[str, dict[str, float]]) -> bytes:
    """The archive with what each formula gives beside it, for what shows a workbook and does not compute."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.infolist():
            data, values = old.read(part), known.get(part.filename, {})

            def given(found: re.Match[bytes], values: dict[str, float] = values) -> bytes:
                return b"%b<v>%b</v>" % (found[1], repr(values[found[2].decode()]).encode())

            new.writestr(part, _FORMULA.sub(given, data) if values else data)
    return out.getvalue()


_LIVE = {
    TALLY: _live_tally,
    VOLUMES: _live_volumes,
    SECTIONS: _live_sections,
    CEMENT: _live_cement,
}
