"""Lengths of the liner's joints from a tally beside the well file, from the bottom up."""

from __future__ import annotations

import re
from pathlib import PurePath
from typing import NamedTuple

from schematic.units import FOOT_M
from schematic.wellfile.columns import Column, Options, Row, Table, table
from schematic.wellfile.problem import InputError, Problem

# Range 3, the longest of API 5CT, ends at 48 ft; a longer "joint" is a total, or feet taken for metres.
_LONGEST_JOINT_M = 60.0 * FOOT_M

_COLUMNS = (
    Column(
        "length",
        frozenset(
            {"length", "len", "jointlength", "effectivelength", "effective", "netlength", "measuredlength"}
        ),
        "length",
        True,
    ),
    Column(
        "number",
        frozenset({"#", "no", "nr", "num", "number", "joint", "jointno", "jointnumber", "jt", "jtno"}),
        "text",
        False,
    ),
    Column(
        "cumulative",
        frozenset(
            {"cumulative", "cum", "cumlength", "cumulativelength", "runningtotal", "total", "totallength"}
        ),
        "length",
        False,
    ),
    Column(
        "description",
        frozenset({"description", "item", "type", "remark", "remarks", "comment"}),
        "text",
        False,
    ),
)


class Joint(NamedTuple):
    """One joint as the tally lists it."""

    number: str
    length_m: float


class Tally(NamedTuple):
    """Joints from the bottom up, and what was taken for granted in putting them so."""

    joints: tuple[Joint, ...]
    said: tuple[str, ...]

    @property
    def total_m(self) -> float:
        """The sum of the lengths."""
        return sum(joint.length_m for joint in self.joints)


def tally(data: bytes, file: str, options: Options = Options()) -> Tally:  # noqa: B008
    """Read the joints of a liner: by rising number where they are numbered, else as listed.

    A running total that falls down the list tells that it is listed from the top.

    Raises
    ------
    InputError
        With each defect's row and column.
    """
    read = table(data, file, _COLUMNS, options)
    problems: list[Problem] = []
    for row in read.rows:
        length = row.cells["length"]
        if not 0.0 < length.si <= _LONGEST_JOINT_M:
            problems.append(
                read.problem(
                    row.line,
                    "length",
                    length.text,
                    "the length of one joint: above nought, at most 60 ft",
                    "check the unit; take rows with totals out",
                )
            )
    rows, said = _from_bottom(read, problems)
    problems += _sums(read)
    if problems:
        raise InputError(problems[:20])
    joints = tuple(
        Joint(row.cells["number"].text if "number" in row.cells else "", row.cells["length"].si)
        for row in rows
    )
    return Tally(joints, tuple(f"tally from {PurePath(file).name}: {text}" for text in said))


def _from_bottom(read: Table, problems: list[Problem]) -> tuple[list[Row], list[str]]:
    rows = list(read.rows)
    numbers = [
        re.fullmatch(r"\d{1,6}", row.cells["number"].text) if "number" in row.cells else None for row in rows
    ]
    if all(numbers):
        lines: dict[int, int] = {}
        for row, match in zip(rows, numbers, strict=True):
            assert match is not None
            joint = int(match[0])
            if joint in lines:
                problems.append(
                    read.problem(
                        row.line,
                        "number",
                        f"joint {joint} again: it stands in row {lines[joint]} already",
                        "each joint once",
                        "take one of the two out, or mend its number",
                    )
                )
            lines.setdefault(joint, row.line)
        absent = sorted(set(range(min(lines), max(lines) + 1)) - set(lines))
        said = ["joints taken from the bottom up by their numbers"]
        if absent:
            told = ", ".join(map(str, absent[:5])) + (" ..." if len(absent) > 5 else "")
            said.append(f"numbers not in it: {told}")
        return sorted(rows, key=lambda row: int(row.cells["number"].text)), said
    sums = [row.cells["cumulative"].si for row in rows if "cumulative" in row.cells]
    if len(sums) > 1 and sums[0] > sums[-1]:
        return rows[::-1], ["joints taken from the bottom up, as their running total rises"]
    return rows, ["joints taken from the bottom up, as listed"]


def _decimals(text: str) -> int:
    match = re.match(r"[^.,]*[.,](\d+)(?!.*[.,])", text)
    return len(match[1]) if match else 0


def _sums(read: Table) -> list[Problem]:
    """Rows whose length is not what their running total grew by, within the rounding of both."""
    rows = [row for row in read.rows if "cumulative" in row.cells]
    if len(rows) < 2:
        return []
    falling = rows[0].cells["cumulative"].si > rows[-1].cells["cumulative"].si
    finest = {key: max(_decimals(row.cells[key].text) for row in rows) for key in ("length", "cumulative")}
    unit_m = FOOT_M if "ft" in rows[0].cells["cumulative"].text else 1.0
    slack_m = unit_m * (0.5 * 10.0 ** -finest["length"] + 10.0 ** -finest["cumulative"]) + 1e-9
    problems = []
    for above, row in zip(rows, rows[1:], strict=False):
        grew = abs(row.cells["cumulative"].si - above.cells["cumulative"].si)
        length = (above if falling else row).cells["length"]
        if abs(grew - length.si) > slack_m:
            problems.append(
                read.problem(
                    row.line,
                    "cumulative",
                    f"{above.cells['cumulative'].text}, then {row.cells['cumulative'].text}: "
                    f"a joint of {length.text}",
                    "a running total that grows by the length of each joint",
                    "mend the length or the total; a row may be missing",
                )
            )
    return problems
