"""Looks up casing and drill pipe by what people write.

A pipe that is not listed is answered with the nearest that are, one that is listed more than once
with the choices; nothing is picked in silence.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from schematic.catalogue.grades import (
    minimum_yield_pa,
    slip_of_grade,
    take_connection,
    take_grade,
)
from schematic.catalogue.rows import (
    POUND_PER_FOOT_KG_PER_M,
    CasingRow,
    DrillPipeRow,
    casing_rows,
    drill_pipe_rows,
    size_name,
)
from schematic.catalogue.written import (
    LookUpError,
    Measure,
    WrittenPipe,
    in_a_row,
    take_apart,
    tidy,
    without_unit,
)
from schematic.units import INCH_M, inch_name

__all__ = [
    "CasingChoice",
    "CasingRow",
    "DrillPipeChoice",
    "DrillPipeRow",
    "LookUpError",
    "casing",
    "drill_pipe",
]

Row = TypeVar("Row", CasingRow, DrillPipeRow)

_KIND = re.compile(
    r"(?<!\w)(?:(?P<heavy>HWDP|heavy[- ]?weight(?:\ drill\ ?pipe)?)|drill\ ?pipe|DP)(?!\w)",
    re.IGNORECASE,
)
_TOOL_JOINT = re.compile(
    r"(?<![\w/.-])(?:NC[- ]?(?P<number>[0-9]{2})"
    r"|(?P<size>[0-9]+(?:[ -][0-9]/[0-9])?)\ ?(?:in|\")?\ ?FH)(?!\w)",
    re.IGNORECASE,
)

# Inches carry three decimals and nominal weights two in the standards' tables; half of the last.
_SAME_IN, _SAME_LB_PER_FT = 0.00051, 0.0051
# A metric size is a rounding of the inch size, to 0.1 mm or, after that, to the whole millimetre.
_SAME_MM, _SAME_WHOLE_MM = 0.06, 0.56
_NEAR = 0.1  # a size within this share of a listed one may be a slip of it


@dataclass(frozen=True, slots=True)
class CasingChoice:
    """A casing row and what else was written: grade, connection and the words left over."""

    row: CasingRow
    grade: str | None
    connection: str | None
    rest: str

    @property
    def yield_pa(self) -> float | None:
        """Minimum yield strength, None where the grade is unknown."""
        return minimum_yield_pa(self.grade)


@dataclass(frozen=True, slots=True)
class DrillPipeChoice:
    """A drill pipe row, the grade and tool joint it has, and the words left over."""

    row: DrillPipeRow
    grade: str | None
    tool_joint: str | None
    rest: str

    @property
    def yield_pa(self) -> float | None:
        """Minimum yield strength, None where the grade is unknown."""
        return minimum_yield_pa(self.grade)


def casing(text: str) -> CasingChoice:
    """Casing that a text names, by size and nominal weight or wall.

    Raises
    ------
    LookUpError
        When no row or more than one fits.

    Examples
    --------
    >>> casing('9-5/8" 47# L80 BTC').row.name
    '9 5/8 in 47 lb/ft'
    >>> casing("178 mm x 10.36").row.name
    '7 in 29 lb/ft'
    """
    written = take_apart(text)
    row = _only(written, _of_weight_and_wall(written, _of_size(written, casing_rows())), "")
    connection, words = take_connection(written.rest)
    grade, words = take_grade(words)
    _no_slip(text, grade, words)
    return CasingChoice(row, grade, connection, words)


def drill_pipe(text: str) -> DrillPipeChoice:
    """Drill pipe that a text names, by kind, size, nominal weight, grade and tool joint.

    Raises
    ------
    LookUpError
        When no row or more than one fits.

    Examples
    --------
    >>> drill_pipe("5 in 19.5 lb/ft S-135 NC50").row.name
    '5 in 19.5 lb/ft S-135 NC50'
    >>> drill_pipe('5" 49.3# HWDP').tool_joint
    'NC50'
    """
    kind, remaining = _take_kind(tidy(text))
    tool_joint, remaining = _take_tool_joint(remaining)
    written = take_apart(text, remaining)
    grade, words = take_grade(written.rest)
    _no_slip(text, grade, words)
    of_kind = tuple(row for row in drill_pipe_rows() if kind in (None, row.kind))
    rows = _of_weight_and_wall(written, _of_size(written, of_kind))
    fitting = tuple(
        row
        for row in rows
        if (grade is None or row.grade in (None, grade))
        and (tool_joint is None or row.tool_joint in (None, tool_joint))
    )
    if not fitting:
        wanted = " ".join(part for part in (grade, tool_joint) if part)
        raise LookUpError(
            text,
            f"one of {_called_all(written, rows)}",
            f"{wanted} is not listed for this pipe: give its dimensions by hand",
        )
    row = _only(written, fitting, "; add the grade and the tool joint")
    return DrillPipeChoice(row, grade or row.grade, tool_joint or row.tool_joint, words)


def _no_slip(text: str, grade: str | None, words: str) -> None:
    """Refuse a word that was meant as the grade and is none: left out, nothing is known of strength."""
    slip = slip_of_grade(words) if grade is None else None
    if slip is not None:
        word, near = slip
        did_you = f"did you mean {' or '.join(near)}? " if near else ""
        raise LookUpError(
            text,
            "a grade as the standards spell it, such as L-80 or P-110, or none",
            f"{word!r} is no grade: {did_you}Letters O, I and l are no digits",
        )


def _take_kind(text: str) -> tuple[str | None, str]:
    match = _KIND.search(text)
    if match is None:
        return None, text
    kind = "heavy-weight drill pipe" if match["heavy"] else "drill pipe"
    return kind, f"{text[: match.start()]} {text[match.end() :]}"


def _take_tool_joint(text: str) -> tuple[str | None, str]:
    match = _TOOL_JOINT.search(text)
    if match is None:
        return None, text
    name = f"NC{match['number']}" if match["number"] else f"{match['size'].replace('-', ' ')} FH"
    return name, f"{text[: match.start()]} {text[match.end() :]}"


def _of_size(written: WrittenPipe, rows: Sequence[Row]) -> tuple[Row, ...]:
    """Rows of the written outside diameter."""
    same = tuple(row for row in rows if _is_size(written.od, row.od_m))
    if same:
        return same
    sizes = sorted({row.od_m for row in rows})
    nearest = _meant(written.od, sizes)
    raise LookUpError(
        written.text,
        f"a listed size: {in_a_row(_size(od_m, written) for od_m in sizes)}",
        f"{written.od} is none of them: "
        + (
            f"did you mean {_size(nearest, written)}? Or give od and id by hand"
            if abs(nearest - written.od.si) < _NEAR * nearest
            else f"the nearest is {_size(nearest, written)}; give the dimensions by hand"
        ),
    )


def _is_size(od: Measure, od_m: float) -> bool:
    if od.unit == "in":
        return abs(od.value - od_m / INCH_M) < _SAME_IN
    return abs(od.value - od_m * 1000) < (_SAME_MM if od.decimals else _SAME_WHOLE_MM)


def _meant(od: Measure, sizes: Sequence[float]) -> float:
    """Size that was meant: a fraction typed as decimals (9.58 for 9 5/8), else the nearest."""
    for od_m in sizes:
        typed = (inch_name(od_m) or "").replace("/", "").replace(" ", ".")
        if od.unit == "in" and od.text == typed:
            return od_m
    return min(sizes, key=lambda od_m: abs(od_m - od.si))


def _of_weight_and_wall(written: WrittenPipe, rows: Sequence[Row]) -> tuple[Row, ...]:
    """Rows of one size that have the written nominal weight, the written wall, or both."""
    weight, wall = written.weight, written.wall
    choices = f"one of {_called_all(written, rows)}"
    if weight is None and wall is None:
        bare = without_unit(written.rest)
        unit = "lb/ft" if written.od.unit == "in" else "kg/m"
        raise LookUpError(
            written.text,
            choices,
            f"{bare} has no unit: write '{bare} {unit}' (in a well file ' #' begins a remark)"
            if bare
            else "write the nominal weight (lb/ft, kg/m) or the wall as well",
        )
    by_weight = tuple(row for row in rows if _is_weight(weight, row.nominal_weight_kg_per_m))
    by_wall = tuple(row for row in rows if _is_wall(wall, row.wall_m))
    for figure, fitting in ((weight, by_weight), (wall, by_wall)):
        if figure is not None and not fitting:
            nearest = min(
                rows,
                key=lambda row: abs(
                    (row.nominal_weight_kg_per_m if figure is weight else row.wall_m) - figure.si
                ),
            )
            raise LookUpError(
                written.text,
                choices,
                f"{figure} is not listed for {_size(nearest.od_m, written)}: "
                f"did you mean {_called(written, nearest)}? Or give od and id by hand, without 'pipe'",
            )
    both = tuple(row for row in by_weight if row in by_wall)
    if not both:
        raise LookUpError(
            written.text,
            choices,
            f"{weight} and a wall of {wall} are two different pipes: leave one out",
        )
    return both


def _is_weight(weight: Measure | None, nominal_weight_kg_per_m: float) -> bool:
    """Whether a weight is the written one; any is, when none was written."""
    if weight is None:
        return True
    same = _SAME_LB_PER_FT if weight.unit == "lb/ft" else weight.half_digit * (1 + 1e-9)
    return abs(weight.value - weight.same_unit(nominal_weight_kg_per_m)) <= same


def _is_wall(wall: Measure | None, wall_m: float) -> bool:
    """Whether a wall is the written one; any is, when none was written."""
    if wall is None:
        return True
    same = _SAME_IN if wall.unit == "in" else wall.half_digit * (1 + 1e-9)
    return abs(wall.value - wall.same_unit(wall_m)) <= same


def _only(written: WrittenPipe, rows: Sequence[Row], how: str) -> Row:
    if len(rows) == 1:
        return rows[0]
    raise LookUpError(written.text, f"one of {_called_all(written, rows)}", f"say which of them it is{how}")


def _size(od_m: float, written: WrittenPipe) -> str:
    return f"{od_m * 1000:.1f} mm" if written.od.unit == "mm" else size_name(od_m)


def _called(written: WrittenPipe, row: CasingRow | DrillPipeRow) -> str:
    """One row as a text that names it, in the units of the text it answers."""
    metric = written.od.unit == "mm" or (written.weight is not None and written.weight.unit == "kg/m")
    if written.wall is None and not metric:
        return row.name
    parts = [_size(row.od_m, written)]
    if written.wall is None or written.weight is not None:
        parts.append(
            f"{row.nominal_weight_kg_per_m:.2f} kg/m"
            if metric
            else f"{row.nominal_weight_kg_per_m / POUND_PER_FOOT_KG_PER_M:.5g} lb/ft"
        )
    if written.wall is not None:
        parts.append(
            f"x {row.wall_m * 1000:.2f} mm"
            if written.wall.unit == "mm"
            else f"x {row.wall_m / INCH_M:.3f} in"
        )
    if isinstance(row, DrillPipeRow):
        parts += [part for part in (row.grade, row.tool_joint) if part]
    return " ".join(parts)


def _called_all(written: WrittenPipe, rows: Sequence[Row]) -> str:
    return in_a_row(_called(written, row) for row in rows)
