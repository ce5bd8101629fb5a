"""The running sheet as a table: one line for each joint and stand."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.export.report import readable
from schematic.export.tables import Cell, Column, Table
from schematic.job.running_sheet import Run, RunningSheet
from schematic.outcome import Figure, sentence
from schematic.units import System, sentence_case

TITLE = "Running sheet"


def running_sheet_tables(evaluation: Evaluation, system: System) -> tuple[Table, ...]:
    """The running sheet, and what of it is not computed; columns of which nothing is known are left out."""
    sheet = evaluation.job.running_sheet
    rows = [_row(run, sheet, system) for run in sheet.runs]
    shown = [i for i in range(len(_COLUMNS)) if any(row[i] is not None for row in rows)]
    made = [
        Table(
            TITLE,
            tuple(_COLUMNS[i] for i in shown),
            tuple(tuple(row[i] for i in shown) for row in rows),
            "; ".join(_notes(sheet)),
        )
    ]
    if sheet.missing:
        columns = Column("not computed"), Column("needs")
        lacks = tuple(
            (one.what, ", ".join(readable(evaluation, name) for name in one.needs)) for one in sheet.missing
        )
        made.append(Table("Not computed for the running sheet", columns, lacks))
    return tuple(made)


_COLUMNS = (
    Column("no."),
    Column("what goes in"),
    Column("length", "tally"),
    Column("string so far", "tally"),
    Column("shoe MD", "tally"),
    Column("closed end", "volume"),
    Column("closed end so far", "volume"),
    Column("steel", "volume"),
    Column("steel so far", "volume"),
    Column("fill", "volume"),
    Column("fill so far", "volume"),
    Column("slacking off", "force"),
    Column("rotating or at rest", "force"),
    Column("picking up", "force"),
    Column("speed at most", "speed"),
    Column("remarks"),
)


def _row(run: Run, sheet: RunningSheet, system: System) -> tuple[Cell, ...]:
    block, hook = sheet.block_n or 0.0, run.hook
    loads = (hook.down_n, hook.rotating_n, hook.up_n) if hook else (None, None, None)
    said = [sentence(one.text, one.figures, system) for one in run.remarks]
    volumes = (
        run.closed_m3,
        run.closed_so_far_m3,
        run.steel_m3,
        run.steel_so_far_m3,
        run.fill_m3,
        run.fill_so_far_m3,
    )
    return (
        Figure(run.number, "count"),
        sentence_case(run.pick.what),
        Figure(run.pick.length_m, "tally"),
        Figure(run.so_far_m, "tally"),
        Figure(run.shoe_md_m, "tally"),
        *(None if one is None else Figure(one, "volume") for one in volumes),
        *(None if one is None else _load(one, block) for one in loads),
        None if run.speed_m_per_s is None else Figure(run.speed_m_per_s, "speed"),
        sentence_case("; ".join(said)) or None,
    )


def _load(pull_n: float, block_n: float) -> Cell:
    """A hook load; where nothing of the string hangs on the hook it does not go down by itself."""
    return Figure(pull_n + block_n, "force") if pull_n > 0.0 else "locks up"


def _notes(sheet: RunningSheet) -> list[str]:
    """What a reader of the table has to know."""
    gain = (
        "float holding, the trip tank gains the closed end; the steel alone where the fill is taken from it"
        if sheet.closed_end
        else "no float: the trip tank gains the steel"
    )
    block = "hook loads with the block" if sheet.block_n is not None else "hook loads without the block"
    return [
        gain,
        f"{block}, mud at rest in and out",
        "each line with the top of what went in at the rotary",
        "couplings of the liner and centralizers are not counted",
        *sheet.notes,
    ]
