"""What has to pass what, in tables: the first restriction of each thing, and every bore on its way."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.export.report import readable
from schematic.export.tables import Cell, Column, Table
from schematic.job.meeting import HOLE, Bore, Meeting, Thing, Verdict, Way
from schematic.job.passage import drift_way
from schematic.job.run_in import PIPE
from schematic.outcome import Figure
from schematic.units import System, show, size

RESTRICTIONS = "First restriction of each moving thing"
RUN_IN = "What is run in, and what is clear around it"
THROUGH = "What goes through running string and liner, and what is clear around it"
PASSAGE = "Every moving thing in every bore on its way"
_HEAD = "the cement head is not in the well file: hold its bore against ball and dart"
_OF = "passage of the "  # before the name of what cannot be told
CLEAR = "clear on diameter, to the drift of pipe, else to the bore; straight and round bores without debris"


def restrictions_table(evaluation: Evaluation, system: System) -> Table:
    """One row a thing: the first bore that it does not pass, else the smallest on its way; what is clear."""
    rows: list[tuple[Cell, ...]] = []
    passage = evaluation.job.passage
    for way in passage.ways:
        first = way.restriction
        rows.append(
            (
                _named(evaluation, way.thing),
                _size(way.thing),
                first.bore.told if first else None,
                Figure(max(first.bore.top_md_m, 0.0), "depth") if first else None,
                None if first is None else Figure(first.bore.passes_m or 0.0, "diameter"),
                _clear(first),
                _whole(evaluation, way, system),
            )
        )
    rows += [
        (
            one.what.removeprefix(_OF),
            None,
            None,
            None,
            None,
            None,
            _lacks(evaluation, one.needs),
        )
        for one in passage.missing
    ]
    columns = (
        Column("thing"),
        Column("size", "diameter"),
        Column("first restriction"),
        Column("from MD", "depth"),
        Column("passes", "diameter"),
        Column("clear", "gap"),
        Column("result"),
    )
    return Table(RESTRICTIONS, columns, tuple(rows), f"{CLEAR}; {_HEAD}", "not given")


def run_in_table(evaluation: Evaluation, system: System) -> Table:
    """What is run into the well, and what is clear around it in each string, in the hole and in the liner.

    Strings are told by their size, since a name may be any text; of two of one size the tighter counts.
    """
    depth, passage = evaluation.plan.depth, evaluation.job.passage
    ways = (*passage.liner, *passage.running)
    sizes = {string.path: f"{size(string.od_m, system)} string" for string in depth.strings}
    sizes[HOLE] = HOLE
    outer = list(dict.fromkeys(sizes.values()))
    rows: list[tuple[Cell, ...]] = []
    for way in ways:
        cells = [_worst(way, [m for m in way.meetings if sizes.get(m.bore.path) == name]) for name in outer]
        inside = _worst(way, [m for m in way.meetings if m.bore.path not in sizes])
        rows.append((_named(evaluation, way.thing), _size(way.thing), *cells, inside))
    columns = (
        Column("run in"),
        Column("size", "diameter"),
        *(Column(name, "gap") for name in outer),
        Column("smallest bore in the liner", "gap"),
    )
    shown = [i for i in range(len(columns)) if i < 2 or any(row[i] is not None for row in rows)]
    return Table(
        RUN_IN,
        tuple(columns[i] for i in shown),
        tuple(tuple(row[i] for i in shown) for row in rows),
        f"{CLEAR}; in the hole to the bit or less where a caliper found less",
    )


def _worst(way: Way, met: Sequence[Meeting]) -> Cell:
    """Of several bores: that it does not pass one, that one is not known, else the least that is clear."""
    part = way._replace(meetings=tuple(met))
    unsure = next((m for m in met if m.verdict is Verdict.NOT_CHECKED), None)
    return _cell(part.blocked or unsure or part.restriction)


def through_table(evaluation: Evaluation) -> Table:
    """What goes through running string and liner: bores from the top down, what is clear for each thing."""
    ways = evaluation.job.passage.through
    bores: dict[tuple[str, float | None], Bore] = {}
    for way in ways:
        for met in way.meetings:
            bores.setdefault((met.bore.told, met.bore.passes_m), met.bore)
    rows: list[tuple[Cell, ...]] = []
    for key, bore in sorted(bores.items(), key=lambda entry: entry[1].top_md_m):
        cells = [
            _cell(next((m for m in way.meetings if (m.bore.told, m.bore.passes_m) == key), None))
            for way in ways
        ]
        passes = None if bore.passes_m is None else Figure(bore.passes_m, "diameter")
        rows.append((bore.told, Figure(max(bore.top_md_m, 0.0), "depth"), passes, *cells))
    rows.insert(0, ("size of what passes", None, None, *(_size(way.thing) for way in ways)))
    heads = (Column(way.thing.name, "gap") for way in ways)
    columns = (Column("bore"), Column("from MD", "depth"), Column("passes", "diameter"), *heads)
    return Table(THROUGH, columns, tuple(rows), f"{CLEAR}; {_HEAD}")


_SHORT = {
    Verdict.STOPS: "{stays}s",
    Verdict.RUNS_THROUGH: "does not {stays}",
    Verdict.BLOCKED: "does not pass",
    Verdict.NOT_CHECKED: "not checked",
}


def _cell(met: Meeting | None) -> Cell:
    """What is clear, or in two words what becomes of it."""
    if met is None:
        return None
    if met.verdict in _SHORT:
        return _SHORT[met.verdict].format(stays=met.thing.stays)
    return Figure(met.clear_m or 0.0, "gap")


def passage_table(evaluation: Evaluation, system: System) -> Table:
    """One row for each thing in each bore, things in the order of the job, bores in that of their way."""
    rows: list[tuple[Cell, ...]] = [
        (
            _named(evaluation, way.thing),
            _size(way.thing),
            met.bore.told,
            Figure(max(met.bore.top_md_m, 0.0), "depth"),
            None if met.bore.passes_m is None else Figure(met.bore.passes_m, "diameter"),
            _clear(met),
            _result(evaluation, met, system),
        )
        for way in evaluation.job.passage.ways
        for met in way.meetings
    ]
    columns = (
        Column("thing"),
        Column("size", "diameter"),
        Column("meets"),
        Column("from MD", "depth"),
        Column("passes", "diameter"),
        Column("clear", "gap"),
        Column("result"),
    )
    return Table(PASSAGE, columns, tuple(rows), f"{CLEAR}; {_HEAD}", "not given")


def _named(evaluation: Evaluation, thing: Thing) -> str:
    """A thing by its name, and what of it is widest; pipe and coupling are those of the liner."""
    liner = evaluation.plan.depth.liner.name
    if thing.widest:
        return f"{thing.widest} of {thing.name}"
    return f"{thing.name} of {liner}" if thing.name in ("pipe", "coupling") else thing.name


def _size(thing: Thing) -> Figure | None:
    return None if thing.size_m is None or thing.needs else Figure(thing.size_m, "diameter")


def _clear(met: Meeting | None) -> Figure | None:
    """What is clear; of a thing that may be larger than is known, only what is lacking."""
    if met is None or met.clear_m is None or (met.thing.needs and met.verdict is not Verdict.BLOCKED):
        return None
    return Figure(met.clear_m, "gap")


def _lacks(evaluation: Evaluation, needs: tuple[str, ...]) -> str:
    return f"not checked, needs {', '.join(readable(evaluation, name) for name in needs)}"


def _result(evaluation: Evaluation, met: Meeting, system: System) -> str:
    """What becomes of a thing in a bore, in words."""
    if met.verdict is Verdict.NOT_CHECKED:
        return _lacks(evaluation, met.needs)
    close = met.verdict is Verdict.BLOCKED and met.clear_m is not None and met.clear_m >= 0.0
    wants = f", {show(met.thing.wants_m, 'gap', system)} is wanted" if close else ""
    return f"{met.told}{wants}"


def _whole(evaluation: Evaluation, way: Way, system: System) -> str:
    """What becomes of a thing on its whole way, in words."""
    if way.blocked is not None:
        return _result(evaluation, way.blocked, system)
    last = way.meetings[-1] if way.meetings else None
    if last is not None and last.verdict is Verdict.RUNS_THROUGH:
        return f"{last.told}: {last.bore.told}"
    if way.needs:
        return _lacks(evaluation, way.needs)
    if last is not None and last.bore.stops:
        return f"passes, {last.thing.stays}s in {last.bore.name}"
    return "passes" if way.meetings else "meets nothing"


def tightest(ways: Sequence[Way]) -> Way | None:
    """Of several things the one that does not pass, else that around which least is clear."""
    stuck = next((way for way in ways if way.blocked), None)
    known = [way for way in ways if way.least_clear_m is not None]
    return stuck or min(known, key=lambda way: way.least_clear_m or 0.0, default=None)


class Smallest(NamedTuple):
    """The smallest diameter on the way through the liner, down to its shoe track."""

    m: float
    where: str  # "liner pipe" or the name of a part
    unknown: tuple[str, ...]  # parts on the way whose bore is not given


def smallest(evaluation: Evaluation) -> Smallest | None:
    """What the liner leaves to pass once its shoe track is drilled out: pipe by its drift, parts by their
    bore; None where neither is known.
    """
    way = drift_way(evaluation.plan)
    least, liner = way.smallest, evaluation.plan.depth.liner
    if least is None or least.bore.passes_m is None:
        return None
    part = next(part for part in liner.parts if part.path == least.bore.path)
    unknown = (met.bore.name for met in way.meetings if met.bore.passes_m is None)
    where = "liner pipe" if part.kind in PIPE else part.name
    return Smallest(least.bore.passes_m, where, tuple(dict.fromkeys(unknown)))


def in_short(evaluation: Evaluation, system: System, thousands: str = "") -> tuple[str, ...]:
    """The smallest drift of the liner, drilled out; then the first restriction of liner, running string,
    and each thing that goes through them: a line each.

    What cannot be told is left out; so is the drift of the liner where its own pipe is what it just passes.
    """
    passage = evaluation.job.passage
    told: list[str] = []
    least = smallest(evaluation)
    if least is not None:
        unknown = f"; bore not given: {', '.join(least.unknown)}" if least.unknown else ""
        drift = show(least.m, "diameter", system)
        told.append(f"smallest drift once the shoe track is drilled out, {least.where} {drift}{unknown}")
    for ways in (passage.liner, passage.running, *((way,) for way in passage.through)):
        way = tightest(ways)
        first = way.restriction if way else None
        clear = _clear(first)
        if way is None or first is None or clear is None or (clear.si == 0.0 and not way.blocked):
            continue
        passes = show(first.bore.passes_m or 0.0, "diameter", system)
        result = (
            _result(evaluation, first, system) if way.blocked else f"{show(clear.si, 'gap', system)} clear"
        )
        top = first.bore.top_md_m
        where = f" from {show(top, 'depth', system, thousands)}" if top > 0.0 else ""
        told.append(f"{_with_size(evaluation, way, system)}, {first.bore.told} {passes}{where}: {result}")
    return tuple(told)


def _with_size(evaluation: Evaluation, way: Way, system: System) -> str:
    known, name = _size(way.thing), _named(evaluation, way.thing)
    return f"{name} {show(known.si, 'diameter', system)}" if known else name
