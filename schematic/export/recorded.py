"""The record beside the plan as a table: what was read, what was planned, by how much they differ."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.export.tables import Cell, Column, Table
from schematic.job.recorded import Compared, by_step, recorded, step_of
from schematic.outcome import Figure, sentence
from schematic.units import System, show


def record_tables(evaluation: Evaluation, system: System) -> tuple[Table, ...]:
    """The record beside the plan in the order of the steps, where there is a record."""
    made = by_step(recorded(evaluation.job))
    return (recorded_table(made, system),) if made else ()


def recorded_table(compared: tuple[Compared, ...], system: System) -> Table:
    """One row for each reading, units beside the figures: the kinds differ from row to row."""
    heads = ("step", "read", "at", "value", "planned", "least", "most", "read over planned", "verdict", "by")
    return Table(
        "Planned and recorded",
        tuple(Column(head) for head in heads),
        tuple(_row(o, system) for o in compared),
    )


def _row(one: Compared, system: System) -> tuple[Cell, ...]:
    line = one.line
    figures = (one.planned, one.least, one.most, one.over)
    at = Figure(line.at_md_m, "depth") if line.at_md_m is not None else None
    return (
        step_of(line),
        line.what,
        _told(at, system),
        value_told(one, system),
        *(_told(figure, system) for figure in figures),
        verdict(one, system),
        ", ".join(filter(None, (line.by, line.date))),
    )


def value_told(one: Compared, system: System) -> str:
    """A reading as it was written, and in the unit of the page where that is another."""
    written, told = one.line.value, _told(one.read, system)
    if not told or _unit_of(written) in (_unit_of(told), ""):
        return written
    return f"{written} ({told})"


def _unit_of(text: str) -> str:
    """The unit behind a number, however it is spelled."""
    return text.strip().lstrip("+-0123456789., /\u202f\u00a0").casefold().replace("\u00b3", "3")


def _told(figure: Figure | None, system: System) -> str:
    return "" if figure is None else show(figure.si, figure.kind, system)


def verdict(one: Compared, system: System) -> str:
    """Above what must never be exceeded; inside the plan's band or not; what is missing; or not planned; and
    what the plan's figure is of.
    """
    said = _verdict(one, system)
    return said if one.note is None else f"{said}; {sentence(one.note.text, one.note.figures, system)}"


def _verdict(one: Compared, system: System) -> str:
    if one.limit is not None and one.limit.kind in ("volume", "count"):
        return f"beyond the maximum over-displacement, {_told(one.limit, system)}"
    if one.limit is not None:
        return f"above what must never be exceeded, {_told(one.limit, system)}"
    if one.elsewhere:
        return "not compared: read for another place of the liner"
    if one.needs:
        return f"not compared: needs {', '.join(one.needs)}"
    if one.planned is None and one.most is None:
        return "the plan says nothing of it"
    if one.read is None:
        return "not compared: no figure was read"
    if one.inside is None:
        return "the plan has no band"
    if one.most is None:
        return "not below the least" if one.inside else "below the least"
    return "inside" if one.inside else "outside"
