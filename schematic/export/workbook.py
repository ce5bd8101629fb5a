"""The tables of a well as a workbook: one sheet a table, numbers as numbers, the tally live.

Texts that came from a file are data: every text is written as a text, whatever it begins with.
"""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

from schematic.checks.evaluate import Evaluation
from schematic.export import CAUTION
from schematic.export.package import steady
from schematic.export.tables import Cell, Column, Table, heads
from schematic.export.tally import TALLY
from schematic.outcome import Figure
from schematic.units import System, in_system, number, unit_of

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_LONGEST_TITLE = 31  # characters of a sheet's name
_WIDEST, _NARROWEST = 60, 9  # characters
_A4 = 9  # as the format numbers paper


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
    book.properties.title = _plain(f"{identity.name}, {identity.state}")
    book.properties.creator = "lapline"
    taken: set[str] = set()
    for table in made:
        sheet = book.create_sheet(_title(table.title, taken))
        _fill(sheet, table, system)
        if table.title == TALLY:
            _live(sheet, len(table.rows))
        _page(sheet, f"{identity.name}, {identity.state}, file {identity.file_hash}")
    out = io.BytesIO()
    book.save(out)
    return steady(out.getvalue())


def cover(evaluation: Evaluation, system: System) -> Table:
    """Which well and revision it is, its datum, units and the caution: the first sheet."""
    identity = evaluation.plan.identity
    datum, revision = identity.datum, identity.revision
    height = None if datum.height_m is None else Figure(datum.height_m, "depth")
    rows: list[tuple[Cell, ...]] = [
        ("well", identity.name),
        ("purpose", identity.purpose),
        ("state", identity.state),
        ("revision", f"{revision.number} of {revision.date}, {revision.note}" if revision else ""),
        ("prepared by", revision.by if revision else ""),
        ("depths", f"{unit_of('depth', system)}, measured from {datum.name}"),
        (f"{datum.name} above {datum.above}, {unit_of('depth', system)}", height),
        ("file", f"{Path(identity.file).name}, {identity.file_hash}"),
        ("caution", CAUTION),
    ]
    return Table("Well", (Column("what"), Column("value")), tuple(rows))


def _title(text: str, taken: set[str]) -> str:
    """A sheet name that the format allows, and that no other sheet has."""
    plain = re.sub(r"[\\/*?:\[\]]", " ", _plain(text)).strip(" '")[:_LONGEST_TITLE].strip(" '") or "table"
    name, count = plain, 1
    while name.casefold() in taken:
        count += 1
        name = f"{plain[: _LONGEST_TITLE - 3]} {count}"
    taken.add(name.casefold())
    return name


def _fill(sheet: Worksheet, table: Table, system: System) -> None:
    """Heads with units, then the rows; a figure keeps all its digits and shows those that are printed."""
    from openpyxl.styles import Alignment, Border, Font, Side

    for column, name in enumerate(heads(table, system), 1):
        figures = any(isinstance(cells[column - 1], Figure) for cells in table.rows)
        head = _put(sheet, 1, column, name)
        head.font = Font(bold=True)
        head.border = Border(bottom=Side("thin"))
        head.alignment = Alignment(wrap_text=True, vertical="bottom", horizontal="right" if figures else None)
        widest = max([_NARROWEST, *map(len, name.split())] if figures else [_NARROWEST, len(name)])
        for row, cells in enumerate(table.rows, 2):
            cell = cells[column - 1]
            if isinstance(cell, Figure):
                made = sheet.cell(row, column, in_system(cell.si, cell.kind, system))
                made.number_format = _format(cell, system)
                made.alignment = Alignment(vertical="top", horizontal="right" if figures else "left")
                continue
            text = table.blank if cell is None else cell
            if text:
                made = _put(sheet, row, column, text)
                made.alignment = Alignment(wrap_text=True, vertical="top")
                widest = max(widest, len(text))
        sheet.column_dimensions[sheet.cell(1, column).column_letter].width = min(widest, _WIDEST) + 2
    sheet.freeze_panes = "A2"
    if table.note:
        _put(sheet, len(table.rows) + 4, 1, table.note)


def _page(sheet: Worksheet, running: str) -> None:
    """Landscape, all columns on one page's width, heads on every page, the well and the caution around."""
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = _A4
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    assert sheet.sheet_properties.pageSetUpPr is not None
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = "1:1"
    text = _plain(running).replace("&", "&&")[:200]  # an ampersand begins a field there
    sheet.oddHeader.left.text = text
    sheet.oddHeader.right.text = "&A"
    sheet.oddFooter.left.text = "Planning aid: competent people verify every figure. See the first sheet."
    sheet.oddFooter.right.text = "page &P of &N"


def _plain(text: str) -> str:
    """A text without the characters that the format cannot hold."""
    return re.sub(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]", "", text)


def _put(sheet: Worksheet, row: int, column: int, text: str) -> Any:  # noqa: ANN401
    """A text as text, whatever it begins with."""
    cell = sheet.cell(row, column)
    cell.value = _plain(text)
    cell.data_type = "s"
    return cell


def _format(figure: Figure, system: System) -> str:
    """As many decimals as the figure is printed with elsewhere."""
    _whole, _point, decimals = number(figure.si, figure.kind, system).partition(".")
    return f"0.{'0' * len(decimals)}" if decimals else "0"


def _live(sheet: Worksheet, count: int) -> None:
    """Lengths and the depth of the shoe are numbers; sums and all other depths follow from them."""
    from openpyxl.styles import Font

    last = count + 1
    for row in range(2, last + 1):
        sheet[f"D{row}"] = f"=SUM(C$2:C{row})"
        if row > 2:
            sheet[f"E{row}"] = f"=F{row - 1}"
        sheet[f"F{row}"] = f"=E{row}-C{row}"
    total = sheet[f"C{last + 1}"]
    total.value, total.number_format = f"=SUM(C2:C{last})", sheet["C2"].number_format
    total.font = Font(bold=True)
    _put(sheet, last + 1, 2, "sum of the parts").font = Font(bold=True)
