"""All that is known of one pipe that somebody names: dimensions, weights, volumes, ratings, sources.

What is not known says so in its line; nothing is picked or filled in silently.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

from schematic.catalogue.grades import take_grade
from schematic.catalogue.pipe import CasingChoice, DrillPipeChoice, casing, drill_pipe
from schematic.catalogue.ratings import ratings
from schematic.catalogue.written import LookUpError, take_apart, tidy
from schematic.engineering.volumes import capacity_m3_per_m
from schematic.export.tables import Cell, Column, Table, figure_data
from schematic.outcome import Figure
from schematic.units import BARREL_M3, FOOT_M, INCH_M, System, unit_of

_KIND = re.compile(
    r"(?<!\w)(?:HWDP|heavy[- ]?weight(?:\ drill\ ?pipe)?|drill\ ?pipe|DP|(?P<casing>casing))(?!\w)",
    re.IGNORECASE,
)
# Grades and tool joints that only a drill string has, grades that only casing has.
_DRILL_STRING = re.compile(
    r"(?<![\w/.-])(?:NC[- ]?[0-9]{2}|FH|(?:E[- ]?75|X[- ]?95|G[- ]?105|S[- ]?135))(?!\w)", re.IGNORECASE
)
_BARE_WEIGHT = re.compile(r"(?P<number>[0-9]+(?:\.[0-9]+)?)(?=[\s,;]|$)")
_WEIGHT_UNIT = re.compile(r"lb|ppf|#|kg", re.IGNORECASE)
# What a look-up advises to the writer of a well file, of no use to one who asks for a pipe.
_FOR_WELL_FILES = re.compile(r"(?:[:;]| Or) give (?:the|its|od) [^;]*by hand.*$| \(in a well file .*\)$")

_RATINGS = (
    "pipe body, new, nominal dimensions, least yield of the grade; collapse without axial load; API Bulletin "
    "5C3 / API TR 5C3, historical formulas; not rounded: the standard prints to 10 psi and 1000 lbf"
)
_CONNECTION = "strength not known here, and it may be less than the body's; the maker's data sheet rules"
_STATUS = {"read": "dimensions read in the source", "memory": "from memory; look at the page before use"}


class Fact(NamedTuple):
    """One line: what it is, its SI value or None where it is not known, the kind of figure, a remark."""

    what: str
    si: float | None
    kind: str
    remark: str = ""


class Pipe(NamedTuple):
    """A pipe as the tables know it.

    *kind* is casing, drill pipe or heavy-weight drill pipe; *system* the units in which it was written.
    *facts* hold SI values. *notes* tell, each with the word it is about, what was understood and what is left
    out. *source* and *status*, "read" or "memory", are those of the row.
    """

    written: str
    kind: str
    name: str
    system: System
    facts: tuple[Fact, ...]
    notes: tuple[tuple[str, str], ...]
    source: str
    status: str


class _Own(NamedTuple):
    """How a kind of figure is printed that the units do not list: unit, its SI value, decimals."""

    unit: str
    si: float
    decimals: int


_OWN: dict[tuple[str, System], _Own] = {
    ("wall", "field"): _Own("in", INCH_M, 3),
    ("wall", "metric"): _Own("mm", 0.001, 2),  # 10.36 mm, as the standards print it
    ("volume per length", "field"): _Own("bbl/ft", BARREL_M3 / FOOT_M, 5),
    ("volume per length", "metric"): _Own("L/m", 0.001, 2),
}


def find(text: str) -> Pipe:
    """The pipe that a text names, casing or drill pipe.

    A bare weight after a size in inches is read as lb/ft, and a note says so.

    Raises
    ------
    LookUpError
        When no listed pipe fits, or more than one; with the choices.

    Examples
    --------
    >>> find("7 in 29").name
    '7 in 29 lb/ft'
    """
    plain = tidy(text)
    kind = _KIND.search(plain)
    bare = f"{plain[: kind.start()]} {plain[kind.end() :]}".strip() if kind else plain
    completed, weight_note = _with_weight_unit(text, bare)
    if kind and not kind["casing"]:
        choice = _choice(text, f"{completed} {kind[0]}", ("drill pipe",))
    elif kind or _is_casing_grade(completed):
        choice = _choice(text, completed, ("casing",))
    elif _DRILL_STRING.search(completed):
        choice = _choice(text, completed, ("drill pipe",))
    else:
        choice = _choice(text, completed, ("casing", "drill pipe"))
    row = choice.row
    facts, left_out = _casing(choice) if isinstance(choice, CasingChoice) else _drill_pipe(choice)
    notes = [
        ("weight", weight_note),
        ("not used", f"{choice.rest}: not understood" if choice.rest else ""),
        ("this row", row.note),
        *left_out,
    ]
    return Pipe(
        written=text,
        kind="casing" if isinstance(choice, CasingChoice) else choice.row.kind,
        name=row.name,
        system="metric" if take_apart(completed).od.unit == "mm" else "field",
        facts=facts,
        notes=tuple((about, note) for about, note in notes if note),
        source=row.source,
        status=row.status,
    )


def _with_weight_unit(text: str, bare: str) -> tuple[str, str]:
    """The pipe's text with lb/ft at a weight without a unit after a size in inches, and the note on it."""
    written = take_apart(text, bare)
    if written.od.unit != "in" or written.wall is not None:
        return bare, ""
    if written.weight is not None:
        understood = "" if _WEIGHT_UNIT.search(bare) else f"{written.weight.text} is read as {written.weight}"
        return bare, understood
    grade, words = take_grade(written.rest)
    match = _BARE_WEIGHT.match(words)
    if match is None:
        return bare, ""
    weight = f"{match['number']} lb/ft"
    parts = (str(written.od), weight, grade or "", words[match.end() :].strip(" ,;"))
    return " ".join(part for part in parts if part), f"{match['number']} is read as {weight}"


def _is_casing_grade(text: str) -> bool:
    """Whether a grade is written that only casing has."""
    grade, _words = take_grade(text)
    return grade is not None and not _DRILL_STRING.search(text)


def _choice(text: str, completed: str, kinds: tuple[str, ...]) -> CasingChoice | DrillPipeChoice:
    """The one pipe of these kinds that a text names."""
    look_ups: dict[str, Callable[[str], CasingChoice | DrillPipeChoice]] = {
        "casing": casing,
        "drill pipe": drill_pipe,
    }
    found: dict[str, CasingChoice | DrillPipeChoice] = {}
    refused: dict[str, LookUpError] = {}
    for kind in kinds:
        try:
            found[kind] = look_ups[kind](completed)
        except LookUpError as error:
            refused[kind] = error
    # a text that fits two rows of one kind fits, too: it is no reason to take the other kind
    undecided = {kind: error for kind, error in refused.items() if error.mend.startswith("say which")}
    if len(found) == 1 and not undecided:
        return next(iter(found.values()))
    if found:
        names = {kind: choice.row.name for kind, choice in found.items()}
        names |= {kind: error.accepted for kind, error in undecided.items()}
        listed = "; or ".join(f"{kind}, {name}" for kind, name in names.items())
        raise LookUpError(text, listed, "say 'casing' or 'drill pipe', or write the weight")
    of_size = {kind: one for kind, one in refused.items() if not one.accepted.startswith("a listed size")}
    errors = undecided or of_size or {kinds[0]: refused[kinds[0]]}
    mends = {kind: _FOR_WELL_FILES.sub("", error.mend) for kind, error in errors.items()}
    if len(set(mends.values())) == 1:
        mend = next(iter(mends.values()))
    else:
        mend = "; ".join(f"as {kind}: {one}" for kind, one in mends.items())
    accepted = {error.accepted: kind for kind, error in errors.items()}
    if len(accepted) == 1:
        raise LookUpError(text, next(iter(accepted)), mend)
    raise LookUpError(text, "; or ".join(f"{kind}, {one}" for one, kind in accepted.items()), mend)


def _casing(choice: CasingChoice) -> tuple[tuple[Fact, ...], tuple[tuple[str, str], ...]]:
    row = choice.row
    larger = "only if ordered and drifted so" if row.alternative_drift_m else "none listed"
    facts = [
        Fact("OD", row.od_m, "diameter"),
        Fact("wall", row.wall_m, "wall"),
        Fact("ID", row.id_m, "diameter"),
        Fact("drift", row.drift_m, "diameter", "" if row.drift_m else "not known: no standard gives one"),
        Fact("alternative drift", row.alternative_drift_m, "diameter", larger),
    ]
    for connection, od_m in row.coupling_od_m.items():
        remark = "as written" if connection == choice.connection else ""
        facts.append(
            Fact(f"coupling OD, {connection}", od_m, "diameter", remark if od_m else "not known: none listed")
        )
    facts += [
        Fact("nominal weight", row.nominal_weight_kg_per_m, "weight"),
        Fact("plain-end weight", row.plain_end_weight_kg_per_m, "weight"),
        *_volumes(row.id_m, row.od_m, "couplings not counted"),
    ]
    yield_pa = choice.yield_pa
    if yield_pa is None:
        return (*facts, _no_grade(choice.grade)), (("connections", _CONNECTION),)
    rated = ratings(row.od_m, row.wall_m, yield_pa)
    facts += [
        Fact("minimum yield", yield_pa, "pressure", choice.grade or ""),
        Fact("burst", rated.burst_pa, "pressure", "87.5 % of the nominal wall"),
        Fact(
            "collapse",
            rated.collapse.pressure_pa,
            "pressure",
            f"{rated.collapse.regime} regime, D/t {rated.collapse.od_over_wall:.2f}",
        ),
        Fact("body yield", rated.body_yield_n, "force", "tension of the pipe body"),
    ]
    return tuple(facts), (("ratings", _RATINGS), ("connections", _CONNECTION))


def _drill_pipe(choice: DrillPipeChoice) -> tuple[tuple[Fact, ...], tuple[tuple[str, str], ...]]:
    row = choice.row
    joint = choice.tool_joint or ""
    unknown = "not known: no usual tool joint is listed"
    adjusted = row.adjusted_weight_kg_per_m
    yield_pa = choice.yield_pa
    facts = (
        Fact("OD", row.od_m, "diameter"),
        Fact("wall", row.wall_m, "wall"),
        Fact("ID", row.id_m, "diameter"),
        Fact("tool joint OD", row.tool_joint_od_m, "diameter", joint if row.tool_joint_od_m else unknown),
        Fact("tool joint ID", row.tool_joint_id_m, "diameter", joint if row.tool_joint_id_m else unknown),
        Fact("nominal weight", row.nominal_weight_kg_per_m, "weight"),
        Fact("adjusted weight", adjusted, "weight", "approximate, tool joints in" if adjusted else unknown),
        *_volumes(row.id_m, row.od_m, "pipe body, tool joints not counted"),
        Fact(
            "metal displacement",
            row.metal_displacement_m3_per_m,
            "volume per length",
            "approximate, from the adjusted weight" if adjusted else unknown,
        ),
        _no_grade(choice.grade, "not known")
        if yield_pa is None
        else Fact("minimum yield", yield_pa, "pressure", choice.grade or ""),
    )
    return facts, (("ratings", "drill pipe is not rated here"),)


def _volumes(id_m: float, od_m: float, remark: str) -> tuple[Fact, Fact]:
    return (
        Fact("capacity", capacity_m3_per_m(id_m), "volume per length"),
        Fact("closed-end displacement", capacity_m3_per_m(od_m), "volume per length", remark),
    )


def _no_grade(grade: str | None, then: str = "no ratings") -> Fact:
    why = "grade not written" if grade is None else f"{grade} is not in the table of grades"
    return Fact("minimum yield", None, "pressure", f"{why}: {then}")


def tables_of(pipe: Pipe, system: System | None = None) -> tuple[Table, Table]:
    """The facts of a pipe, a unit to each line, and the notes with the source."""
    units = system or pipe.system
    rows = tuple((fact.what, *_cells(fact, units), fact.remark) for fact in pipe.facts)
    columns = (Column("what"), Column("figure"), Column("unit"), Column("remark"))
    about = (*pipe.notes, ("source", pipe.source), ("status", _STATUS.get(pipe.status, pipe.status)))
    return (
        Table(f"{pipe.name}, {pipe.kind}", columns, rows),
        Table("Notes and source", (Column("about"), Column("note")), about),
    )


def as_data(pipe: Pipe, system: System | None = None) -> dict[str, object]:
    """A pipe for JSON: each fact as printed, in its unit unrounded and in SI; null where it is not known."""
    units = system or pipe.system
    facts = [{"what": fact.what, **_data(fact, units), "remark": fact.remark} for fact in pipe.facts]
    return {
        "pipe": pipe.name,
        "kind": pipe.kind,
        "written": pipe.written,
        "units": units,
        "facts": facts,
        "notes": dict(pipe.notes),
        "source": pipe.source,
        "status": pipe.status,
    }


def _cells(fact: Fact, system: System) -> tuple[Cell, str]:
    """Figure and unit of a line; both empty where the figure is not known."""
    if fact.si is None:
        return None, ""
    own = _OWN.get((fact.kind, system))
    if own is None:
        return Figure(fact.si, fact.kind), unit_of(fact.kind, system)
    return f"{fact.si / own.si:.{own.decimals}f}", own.unit


def _data(fact: Fact, system: System) -> dict[str, object]:
    if fact.si is None:
        return {"printed": None, "value": None, "unit": None, "si": None}
    own = _OWN.get((fact.kind, system))
    if own is None:
        return figure_data(Figure(fact.si, fact.kind), system)
    value = fact.si / own.si
    return {
        "printed": f"{value:.{own.decimals}f} {own.unit}",
        "value": value,
        "unit": own.unit,
        "si": fact.si,
    }
