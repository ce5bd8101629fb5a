"""The tables of a well as a workbook: one sheet a table, numbers as numbers, live sums in the tally.

Texts that came from a file are data: a cell that begins like a formula is written as text.
"""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from schematic.checks.evaluate import Evaluation
from schematic.export import CAUTION
from schematic.export.report import open_points
from schematic.export.tables import Cell, Column, Table, findings_table, liner_table, tables
from schematic.outcome import Figure
from schematic.units import System, in_system, number, unit_of

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_LONGEST_TITLE = 31  # characters of a sheet's name
_WIDEST = 60


class NoLibrary(Exception):
    """The library that writes workbooks is not installed; says what to install."""


def workbook(evaluation: Evaluation, system: System) -> bytes:
    """The workbook of a plan as the content of an .xlsx file.

    The first sheet says which well and revision it is, its datum, units and the caution; then come the tables
    of quantities, what was found, and what is not checked, not computed or assumed.

    Raises
    ------
    NoLibrary
        When openpyxl is not installed.
    """
    tally = liner_table(evaluation).title
    parts = (*tables(evaluation), findings_table(evaluation, system), *open_points(evaluation))
    return workbook_of(evaluation, parts, system, summed=tally)


def workbook_of(evaluation: Evaluation, parts: Sequence[Table], system: System, *, summed: str = "") -> bytes:
    """A workbook of any tables behind the first sheet of a well; *summed* is the table that gets live sums.

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
    book.properties.title = f"{identity.name}, {identity.state}"
    taken: set[str] = set()
    for table in (_cover(evaluation, system), *parts):
        sheet = book.create_sheet(_title(table.title, taken))
        _fill(sheet, table, system)
        if table.title == summed:
            _sums(sheet, len(table.rows))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _cover(evaluation: Evaluation, system: System) -> Table:
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
    plain = re.sub(r"[\\/*?:\[\]]", " ", text).strip(" '")[:_LONGEST_TITLE] or "table"
    name, number = plain, 1
    while name.casefold() in taken:
        number += 1
        name = f"{plain[: _LONGEST_TITLE - 3]} {number}"
    taken.add(name.casefold())
    return name


def _fill(sheet: Worksheet, table: Table, system: System) -> None:
    """Heads with units, then the rows; a figure keeps all its digits and shows those that are printed."""
    from openpyxl.styles import Alignment, Font

    for number, column in enumerate(table.columns, 1):
        unit = f", {unit_of(column.kind, system)}" if column.kind else ""
        head = _put(sheet, 1, number, f"{column.head}{unit}")
        head.font = Font(bold=True)
        head.alignment = Alignment(wrap_text=True, vertical="top")
        widest = len(f"{column.head}{unit}")
        for row, cells in enumerate(table.rows, 2):
            cell = cells[number - 1]
            if isinstance(cell, Figure):
                made = sheet.cell(row, number, in_system(cell.si, cell.kind, system))
                made.number_format = _format(cell, system)
                widest = max(widest, 10)
            elif cell is not None:
                _put(sheet, row, number, cell).alignment = Alignment(wrap_text=True, vertical="top")
                widest = max(widest, len(cell))
        sheet.column_dimensions[sheet.cell(1, number).column_letter].width = min(widest, _WIDEST) + 2
    sheet.freeze_panes = "A2"
    if table.note:
        _put(sheet, len(table.rows) + 3, 1, table.note)


def _put(sheet: Worksheet, row: int, column: int, text: str) -> Any:  # noqa: ANN401
    """A text as text, whatever it begins with."""
    cell = sheet.cell(row, column)
    cell.value = re.sub(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", "", text)
    cell.data_type = "s"
    return cell


def _format(figure: Figure, system: System) -> str:
    """As many decimals as are printed elsewhere."""
    decimals = len(number(figure.si, figure.kind, system).partition(".")[2])
    return "0" if decimals == 0 else "0." + "0" * decimals


def _sums(sheet: Worksheet, count: int) -> None:
    """Below the tally the sum of its lengths, and beside each part the length from the shoe up: both live."""
    from openpyxl.styles import Font

    length, cumulative = "D", sheet.max_column + 1
    last = count + 1
    head = sheet.cell(1, cumulative, "from the shoe up, " + str(sheet.cell(1, 4).value).rpartition(", ")[2])
    head.font = Font(bold=True)
    for row in range(2, last + 1):
        cell = sheet.cell(row, cumulative, f"=SUM({length}{row}:{length}${last})")
        cell.number_format = sheet.cell(row, 4).number_format
    total = sheet.cell(last + 1, 4, f"=SUM({length}2:{length}{last})")
    total.number_format, total.font = sheet.cell(2, 4).number_format, Font(bold=True)
    sheet.cell(last + 1, 1, "sum of the parts").font = Font(bold=True)
