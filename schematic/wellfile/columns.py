"""A table beside the well file: columns known by name and unit, each defect named with its row and column."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal, NamedTuple

from schematic.wellfile.grid import GridRow, grid, refuse
from schematic.wellfile.problem import InputError, Problem
from schematic.wellfile.table_numbers import Comma, meaning_of_comma, number
from schematic.wellfile.unit_words import factor, unit_word

_HEAD_WITHIN = 60  # rows in which the head must stand
_MOST_TOLD = 20

_NUMBER_WITH_UNIT = re.compile(r"(.*?\d[\d.,]*)\s*([A-Za-z°'\"][\w .°]*)")


class Column(NamedTuple):
    """A column to look for: how heads call it (letters only, lower case), what it holds."""

    key: str
    names: frozenset[str]
    holds: Literal["length", "angle", "text"]
    needed: bool


class Options(NamedTuple):
    """What the well file says about a table beside it."""

    unit: str | None = None  # of lengths whose column names none
    decimal: str | None = None  # "point" or "comma"
    sheet: str | None = None


class Cell(NamedTuple):
    """One value: as it stands, with its unit, and in SI (text cells: nought)."""

    text: str
    si: float


class Row(NamedTuple):
    """A row by the keys of its columns; a cell left empty is not in it."""

    line: int
    cells: dict[str, Cell]


class Table(NamedTuple):
    """The rows of a table; *heads* and *places* say how each column is headed and which it is, from 1."""

    file: str
    rows: tuple[Row, ...]
    heads: dict[str, str]
    places: dict[str, int]
    said: tuple[str, ...]

    def problem(self, line: int, key: str, found: str, accepted: str, mend: str) -> Problem:
        """A problem in a row of this table."""
        return Problem(
            file=self.file,
            line=line,
            column=self.places.get(key, 0),
            path=self.heads.get(key, key),
            found=found,
            accepted=accepted,
            mend=mend,
        )


class _Known(NamedTuple):
    column: Column
    at: int  # which column, from 0
    head: str
    unit: str | None


def table(data: bytes, file: str, columns: Sequence[Column], options: Options = Options()) -> Table:  # noqa: B008
    """Read a table.

    Raises
    ------
    InputError
        With all defects of the table, the first twenty of them told.
    """
    rows = grid(data, file, options.sheet)
    at, known = _head(rows, file, columns)
    body = [row for row in rows[at + 1 :] if not row.remark]
    known, body, problems = _unit_row(file, known, body)
    known, said, missing = _units(file, rows[at].line, known, options)
    problems = [*problems, *missing]
    width = len(rows[at].cells)
    if not problems:
        read = _read(file, known, body, width, options)
        problems, result = read
        if not problems and not result:
            problems = [
                _problem(file, rows[at].line, None, "no rows below the head", "rows of figures", "add them")
            ]
    if problems:
        raise InputError(problems)
    return Table(
        file,
        tuple(result),
        {each.column.key: each.head for each in known},
        {each.column.key: each.at + 1 for each in known},
        tuple(said),
    )


def _problem(file: str, line: int, known: _Known | None, found: str, accepted: str, mend: str) -> Problem:
    return Problem(
        file=file,
        line=line,
        column=known.at + 1 if known else 0,
        path=known.head if known else "",
        found=found,
        accepted=accepted,
        mend=mend,
    )


def _plain(name: str) -> str:
    return "#" if name.strip() == "#" else re.sub(r"[^a-z]", "", name.casefold())


def _name_and_unit(head: str, dimension: str) -> tuple[str, str | None]:
    """A head parted into name and unit: ``MD (ft)``, ``Incl [deg]``, ``md_ft``, ``MD, ft``."""
    bracketed = re.fullmatch(r"(.*?)\s*[(\[{]\s*([^()\[\]{}]*)\s*[)\]}]\s*", head)
    if bracketed and (unit := unit_word(bracketed[2], dimension)):
        return bracketed[1], unit
    behind = re.fullmatch(r"(.*?\w)[\s_,/:-]+(\S+)", head)
    if behind and (unit := unit_word(behind[2], dimension)):
        return behind[1], unit
    return head, None


def _known_in(row: GridRow, columns: Sequence[Column]) -> list[_Known]:
    cells = row.cells
    if row.remark:
        cells = (cells[0].lstrip("#/").strip() or "#", *cells[1:])
    found: list[_Known] = []
    for index, head in enumerate(cells):
        for column in columns:
            name, unit = (head, None) if column.holds == "text" else _name_and_unit(head, column.holds)
            if _plain(name) in column.names:
                found.append(_Known(column, index, head, unit))
                break
    return found


def _head(rows: tuple[GridRow, ...], file: str, columns: Sequence[Column]) -> tuple[int, list[_Known]]:
    """Which row is the head, and the columns known in it."""
    needed = [column for column in columns if column.needed]
    best: tuple[int, list[_Known]] | None = None
    for index, row in enumerate(rows[:_HEAD_WITHIN]):
        known = _known_in(row, columns)
        keys = {each.column.key for each in known}
        if all(column.key in keys for column in needed):
            for each in known:
                twin = next((k for k in known if k.column is each.column and k.at < each.at), None)
                if twin:
                    raise refuse(
                        file,
                        row.line,
                        each.at + 1,
                        each.head,
                        f"'{each.head}' beside '{twin.head}'",
                        f"one column of {each.column.key}",
                        "take one of them out, or rename it",
                    )
            return index, known
        if keys and (best is None or len(known) > len(best[1])):
            best = index, known
    names = ", ".join(column.key for column in needed)
    if best is None:
        first = " | ".join(rows[0].cells) if rows else "an empty file"
        line = rows[0].line if rows else 0
        raise refuse(
            file,
            line,
            0,
            "",
            first,
            f"a row of heads with {names}",
            "write one above the figures: MD (ft), ...",
        )
    keys = {each.column.key for each in best[1]}
    lacking = ", ".join(column.key for column in needed if column.key not in keys)
    heads = " | ".join(rows[best[0]].cells)
    raise refuse(
        file, rows[best[0]].line, 0, "", f"no {lacking} in: {heads}", f"heads with {names}", "mend the heads"
    )


def _unit_row(
    file: str, known: list[_Known], body: list[GridRow]
) -> tuple[list[_Known], list[GridRow], list[Problem]]:
    """Units that stand in a row of their own below the head."""
    if not body:
        return known, body, []
    row = body[0]
    measured = [each for each in known if each.column.holds != "text"]
    texts = {each.at: row.cells[each.at] if each.at < len(row.cells) else "" for each in measured}
    units = {each.at: unit_word(texts[each.at].strip("()[]{} "), each.column.holds) for each in measured}
    if not any(units.values()) or any(texts[index] and not units[index] for index in texts):
        return known, body, []
    problems = [
        _problem(
            file, row.line, each, f"'{texts[each.at]}' below '{each.head}'", "one unit", "mend one of them"
        )
        for each in measured
        if each.unit and units[each.at] and units[each.at] != each.unit
    ]
    merged = [each._replace(unit=each.unit or units.get(each.at)) for each in known]
    return merged, body[1:], problems


def _units(
    file: str, line: int, known: list[_Known], options: Options
) -> tuple[list[_Known], list[str], list[Problem]]:
    """Each measured column with a unit; lengths by the well file's word, angles by degrees, which is said."""
    done: list[_Known] = []
    said: list[str] = []
    problems: list[Problem] = []
    for each in known:
        if each.column.holds == "angle" and each.unit is None:
            done.append(each._replace(unit="deg"))
            if not said:
                said.append("angles without a unit read as degrees")
        elif each.column.holds == "length" and options.unit and each.unit not in (None, options.unit):
            problems.append(
                _problem(
                    file,
                    line,
                    each,
                    f"'{each.head}', but 'unit: {options.unit}' in the well file",
                    "one unit",
                    "mend one of them; 'unit' is for columns that name none",
                )
            )
        elif each.column.holds == "length" and (each.unit or options.unit) is None:
            problems.append(
                _problem(
                    file,
                    line,
                    each,
                    f"'{each.head}', which names no unit",
                    "a head such as 'MD (ft)', 'MD [m]'",
                    "add it to the head, or give it in the well file: 'unit: ft' or 'unit: m'",
                )
            )
        else:
            done.append(each if each.unit else each._replace(unit=options.unit))
    return done, said, problems


def _read(
    file: str, known: list[_Known], body: list[GridRow], width: int, options: Options
) -> tuple[list[Problem], list[Row]]:
    measured = [each for each in known if each.column.holds != "text"]
    comma: Comma
    if options.decimal:
        comma = "decimal" if options.decimal == "comma" else "thousands"
    else:
        comma = meaning_of_comma(
            row.cells[each.at] for row in body for each in measured if each.at < len(row.cells)
        )
    problems: list[Problem] = []
    result: list[Row] = []
    for row in body:
        if len(problems) >= _MOST_TOLD:
            problems.append(
                _problem(
                    file, row.line, None, f"{len(problems)} defects above this row", "none", "mend them first"
                )
            )
            break
        if len(row.cells) > width:
            problems.append(
                _problem(
                    file,
                    row.line,
                    None,
                    f"{len(row.cells)} cells under {width} heads",
                    "a cell for each head",
                    "with decimal commas, part the cells by semicolons or quote them",
                )
            )
            continue
        cells: dict[str, Cell] = {}
        for each in known:
            text = row.cells[each.at] if each.at < len(row.cells) else ""
            found = _cell(file, row.line, each, text, comma)
            if isinstance(found, Problem):
                problems.append(found)
            elif found is not None:
                cells[each.column.key] = found
        result.append(Row(row.line, cells))
    return problems, result


def _cell(file: str, line: int, known: _Known, text: str, comma: Comma) -> Cell | Problem | None:
    column = known.column
    if not text:
        if not column.needed:
            return None
        mend = "fill it in, or take the row out; a formula is read as the value it was saved with"
        return _problem(file, line, known, "an empty cell", f"a figure in {known.unit or 'words'}", mend)
    if column.holds == "text":
        return Cell(text, 0.0)
    unit = known.unit or ""
    value = number(text, comma)
    if value is None and (inside := _NUMBER_WITH_UNIT.fullmatch(text)):
        named = unit_word(inside[2], column.holds)  # 216 mm, 12.5 deg
        value, unit = (number(inside[1], comma), named) if named else (None, unit)
    if value is None and comma == "unclear" and number(text, "thousands") is not None:
        return _problem(
            file,
            line,
            known,
            f"'{text}', whose comma parts thousands here and decimals there",
            "a comma that can be read one way",
            "say 'decimal: comma' or 'decimal: point' beside 'file' in the well file",
        )
    if value is None:
        return _problem(
            file, line, known, f"'{text}'", f"a number, in {unit}", "mend the cell, or take the row out"
        )
    return Cell(f"{text} {unit}" if unit == known.unit else text, value * factor(unit, column.holds))
