"""Rows of cells from a CSV text or a spreadsheet: bounded, each with the number of its line."""

from __future__ import annotations

import csv
import io
import warnings
import zipfile
from typing import NamedTuple

from schematic.wellfile.problem import InputError, Problem

MOST_ROWS = 20_000
MOST_COLUMNS = 200
_MOST_UNPACKED = 64 * 1024 * 1024  # bytes of a spreadsheet's parts, each packed perhaps a thousandfold


class GridRow(NamedTuple):
    """One row: its line (row of the sheet) from 1, the text of its cells, whether it is a remark."""

    line: int
    cells: tuple[str, ...]
    remark: bool


def refuse(file: str, line: int, column: int, path: str, found: str, accepted: str, mend: str) -> InputError:
    """One problem of a file beside the well file, ready to be raised."""
    return InputError(
        (Problem(file=file, line=line, column=column, path=path, found=found, accepted=accepted, mend=mend),)
    )


def text_of(data: bytes, file: str) -> str:
    """The text of a file that another program wrote: UTF-8, UTF-16 with its mark, else Western code page."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        text = data.decode("utf-16", errors="replace")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            text = data.decode("latin-1")
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        raise refuse(file, line, 0, "", "a NUL character", "a text file", "export the table as text again")
    return text


def grid(data: bytes, file: str, sheet: str | None = None) -> tuple[GridRow, ...]:
    """All rows that hold anything.

    Raises
    ------
    InputError
        When the file is no table, too large, or needs a package that is not installed.
    """
    if data.startswith(b"PK"):
        rows = _spreadsheet(data, file, sheet)
    elif data.startswith(b"\xd0\xcf\x11\xe0"):
        raise refuse(
            file, 0, 0, "", "an old spreadsheet format", "XLSX or CSV", "save it as XLSX or CSV and name that"
        )
    elif sheet is not None:
        raise refuse(
            file, 0, 0, "", f"a text, which has no sheet '{sheet}'", "CSV without 'sheet'", "take it out"
        )
    else:
        rows = _csv(text_of(data, file), file)
    if len(rows) > MOST_ROWS:
        raise refuse(
            file,
            rows[MOST_ROWS].line,
            0,
            "",
            f"more than {MOST_ROWS} rows",
            f"at most {MOST_ROWS}",
            "thin it out",
        )
    return rows


def _csv(text: str, file: str) -> tuple[GridRow, ...]:
    lines = [(number, line) for number, line in enumerate(text.splitlines(), start=1) if line.strip()]
    plain = [line for _number, line in lines if not _remark(line)] or [line for _number, line in lines]
    delimiter = _delimiter(plain)
    rows = []
    for number, line in lines[: MOST_ROWS + 1]:
        try:
            cells = next(csv.reader([line], delimiter=delimiter, strict=True, skipinitialspace=True))
        except csv.Error as error:
            if _remark(line):
                continue  # a remark may hold what it likes
            raise refuse(
                file, number, 1, "", str(error), "quotes in pairs", "close the quote, or take it out"
            ) from None
        if len(cells) > MOST_COLUMNS:
            raise refuse(
                file,
                number,
                MOST_COLUMNS,
                "",
                f"{len(cells)} cells",
                f"at most {MOST_COLUMNS} in a row",
                "cut it",
            )
        rows.append(GridRow(number, _trimmed(cells), _remark(line)))
    return tuple(row for row in rows if row.cells)


def _remark(line: str) -> bool:
    return line.lstrip().lstrip('"').startswith(("#", "//"))


def _delimiter(lines: list[str]) -> str:
    """Tab before semicolon before comma: whatever parts the most lines; a comma is also a decimal mark."""
    for mark in "\t;":
        if sum(mark in line for line in lines) * 2 > len(lines):
            return mark
    return ","


def _trimmed(cells: list[str]) -> tuple[str, ...]:
    texts = [cell.strip() for cell in cells]
    while texts and not texts[-1]:
        texts.pop()
    return tuple(texts)


def _spreadsheet(data: bytes, file: str, sheet: str | None) -> tuple[GridRow, ...]:
    try:
        import openpyxl
    except ImportError:
        raise refuse(
            file,
            0,
            0,
            "",
            "a spreadsheet, for which openpyxl is not installed",
            "XLSX with the extra 'documents', or CSV",
            "install it with: pip install 'lapline[documents]'",
        ) from None
    broken = "a spreadsheet that cannot be read"
    mend = "open it in a spreadsheet program and save it again, or save it as CSV"
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parts:
            size = sum(part.file_size for part in parts.infolist())
        if size > _MOST_UNPACKED:
            limit = f"at most {_MOST_UNPACKED // 2**20} MiB"
            raise refuse(file, 0, 0, "", f"{size} bytes once unpacked", limit, "save the sheet alone")
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of styles and extensions, which are not read
            book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
            names = [one.title for one in book.worksheets]
            if sheet is not None and sheet not in names:
                known = ", ".join(names)
                raise refuse(file, 0, 0, "", f"no sheet '{sheet}'", f"one of: {known}", "mend 'sheet'")
            chosen = book[sheet or names[0]]
            chosen.reset_dimensions()
            rows = []
            cells = chosen.iter_rows(max_row=MOST_ROWS + 2, max_col=MOST_COLUMNS, values_only=True)
            for number, values in enumerate(cells, start=1):
                texts = _trimmed([_cell(value) for value in values])
                if texts:
                    rows.append(
                        GridRow(number, texts, texts[0].startswith(("#", "//")) and len(texts[0]) > 1)
                    )
            book.close()
    except InputError:
        raise
    except Exception as error:  # a broken sheet fails in the ways of zip, XML and numbers alike
        raise refuse(file, 0, 0, "", f"{broken}: {error}", "XLSX or CSV", mend) from None
    return tuple(rows)


def _cell(value: object) -> str:
    if value is None:
        return ""
    return repr(value) if isinstance(value, float) and not value.is_integer() else str(value)
