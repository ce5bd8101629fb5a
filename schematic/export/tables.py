"""Tables of an evaluation: depths, volumes, cement, findings; one shape for text, CSV and JSON.

A cell is a text or a figure with its kind, so that the same quantity reads the same everywhere. Texts that
came from a file are data: in CSV they cannot become formulas.
"""

from __future__ import annotations

import csv
import io
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import JOINTED, Liner, LinerPart, RunningPart
from schematic.depth.survey import SurveyPath
from schematic.engineering.cement import SlurryQuantity
from schematic.engineering.columns import annulus_at_end, between, emw_kg_per_m3, u_tube_pa
from schematic.engineering.volumes import SHOE_TRACK
from schematic.job.facts import top_left_md_m
from schematic.outcome import Figure, Found, MissingInput, sentence
from schematic.units import System, in_system, number, sentence_case, show, size, unit_of

Cell = str | Figure | None
VOLUMES, SECTIONS, CEMENT = "Volumes", "Cement by section", "Cement"  # titles
RUNNING = "Running string, from the top down"
_TO_PLUG = "dart meets plug"
_LEFT = "reversed out down to"  # what stands below it is left


class Column(NamedTuple):
    """A column: its head and, for figures, the kind whose unit stands in the head."""

    head: str
    kind: str = ""


class Table(NamedTuple):
    """A titled table; a row has one cell per column, None is "not known" and prints as *blank*."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    note: str = ""
    blank: str = ""


def liner_table(evaluation: Evaluation) -> Table:
    """The liner part by part, from the top down."""
    liner = evaluation.plan.depth.liner
    rows: list[tuple[Cell, ...]] = [
        (
            part_name(part.kind, part.name, part.joints, part.rest_m, evaluation.plan.identity.system),
            Figure(part.top_md_m, "tally"),
            Figure(part.bottom_md_m, "tally"),
            Figure(part.length_m, "tally"),
            None if part.od_m is None else Figure(part.od_m, "diameter"),
            None if bore is None else Figure(bore, "diameter"),
        )
        for part in liner.parts
        for bore in (part.seat_m if part.id_m is None else part.id_m,)  # a ball seat is the bore there
    ]
    columns = (
        Column("part"),
        Column("top MD", "tally"),
        Column("bottom MD", "tally"),
        Column("length", "tally"),
        Column("OD", "diameter"),
        Column("ID", "diameter"),
    )
    return Table(f"{sentence_case(liner.name)}: {liner.label}", columns, tuple(rows))


def part_name(kind: str, name: str, joints: int, rest_m: float, system: System) -> str:
    """What a line of the tally is called: joints with their number, all else by name."""
    if kind != "joint":
        return sentence_case(name)
    text = f"{joints} joint" if joints == 1 else f"{joints} joints"
    return f"{text} and {show(rest_m, 'length', system)} of pups" if rest_m else text


def laps_table(evaluation: Evaluation) -> Table:
    """The three laps, each from its own part to the host shoe."""
    laps = evaluation.laps
    liner = evaluation.plan.depth.liner
    packer, hanger = (
        part is not None and stands_assumed(liner, part)
        for part in (liner.find("liner top packer"), liner.find("liner hanger"))
    )
    named = (
        (f"liner top to {laps.end}", laps.liner_top_m, False),
        (f"packer base to {laps.end}", laps.packer_base_m, packer),
        (f"hanger base to {laps.end}", laps.hanger_base_m, hanger),
        ("cemented below hanger base", laps.cemented_m, hanger),
    )
    rows = tuple(
        (name, Figure(value, "tally", assumed)) for name, value, assumed in named if value is not None
    )
    note = "packer and hanger stand where assumed lengths put them" if packer or hanger else ""
    return Table("Laps", (Column("from and to"), Column("length", "tally")), rows, note)


def stands_assumed(liner: Liner, part: LinerPart) -> bool:
    """Whether the base of a part stands where lengths put it that are assumed."""
    above = liner.parts[: liner.parts.index(part) + 1]
    return liner.assembly_assumed or any(one.length_assumed for one in above)


def _track_assumed(liner: Liner) -> bool:
    """Whether the shoe track begins where lengths put it that are assumed."""
    top = liner.shoe_track_top_md_m
    below = [part for part in liner.parts if top is not None and part.bottom_md_m > top]
    return bool(below) and (liner.assembly_assumed or any(part.length_assumed for part in below))


def volumes_table(evaluation: Evaluation) -> Table:
    """The spaces of the job with their ends, and what is displaced."""
    rows: list[tuple[Cell, ...]] = []
    for space in evaluation.volumes.spaces:
        banded = space.low_m3 != space.high_m3
        rows.append(
            (
                space.name,
                space.side,
                Figure(space.top_md_m, "tally"),
                Figure(space.bottom_md_m, "tally"),
                Figure(space.m3, "volume"),
                Figure(space.low_m3, "volume") if banded else None,
                Figure(space.high_m3, "volume") if banded else None,
            )
        )
    columns = (
        Column("space"),
        Column("side"),
        Column("top MD", "tally"),
        Column("bottom MD", "tally"),
        Column("volume", "volume"),
        Column("least", "volume"),
        Column("most", "volume"),
    )
    return Table(VOLUMES, columns, tuple(rows), "; ".join(evaluation.volumes.notes))


def spaces_table(evaluation: Evaluation) -> Table:
    """Every space of the well with the running string in, from the axis outward."""
    rows = tuple(
        (
            "bore" if not space.inner else f"outside {space.inner}",
            f"in {space.outer}",
            Figure(space.area_m2.top_m, "tally"),
            Figure(space.area_m2.bottom_m, "tally"),
            Figure(space.area_m2.integral(), "volume"),
        )
        for space in evaluation.nest.spaces()
        if space.area_m2.bottom_m > space.area_m2.top_m
    )
    columns = (
        Column("space"),
        Column("of"),
        Column("top MD", "tally"),
        Column("bottom MD", "tally"),
        Column("volume", "volume"),
    )
    state = ", running string in" if evaluation.plan.depth.running else ""
    return Table(f"Every space{state}", columns, rows)


def displacement_table(evaluation: Evaluation) -> Table | None:
    """What is pumped behind the dart; None when it cannot be computed."""
    displaced = evaluation.displacement
    if displaced is None:
        return None
    assumed = _track_assumed(evaluation.plan.depth.liner)
    rows: list[tuple[Cell, ...]] = []

    def row(
        name: str,
        md_m: float | None,
        volume: float | None,
        strokes: float | None,
        band: tuple[float, float],
    ) -> None:
        if volume is not None:
            least, most = (Figure(one, "volume") for one in band)
            banded = band[0] < band[1]
            rows.append(
                (
                    name,
                    None if md_m is None else Figure(md_m, "tally", assumed and name != _TO_PLUG),
                    Figure(volume, "volume", assumed and name != _TO_PLUG),
                    None if strokes is None else Figure(strokes, "count", assumed and name != _TO_PLUG),
                    least if banded else None,
                    most if banded else None,
                )
            )

    liner, running = evaluation.plan.depth.liner, evaluation.plan.depth.running
    hangs = running.plug_md_m if running else None
    row(_TO_PLUG, hangs, displaced.to_plug_m3, displaced.to_plug_strokes, (0.0, 0.0))
    band = displaced.least_m3, displaced.most_m3
    row("plug bumps", liner.shoe_track_top_md_m, displaced.to_bump_m3, displaced.to_bump_strokes, band)
    row("over-displace at most", None, displaced.over_displacement_limit_m3, None, (0.0, 0.0))
    share = evaluation.plan.limits["over-displacement share"]
    return Table(
        "Displacement",
        (
            Column("event"),
            Column("at MD", "tally"),
            Column("volume", "volume"),
            Column("strokes"),
            Column("least", "volume"),
            Column("most", "volume"),
        ),
        tuple(rows),
        f"over-displacement at most {share.text} of the shoe track, {share.owner}; least and most by pump "
        "efficiency and compressibility",
    )


def cement_table(evaluation: Evaluation) -> Table | None:
    """Cement section by section and in all, without, of, and with excess; None when it cannot be computed."""
    cement = evaluation.cement
    if cement is None:
        return None

    def volumes(bare_m3: float, excess_m3: float, assumed: bool) -> tuple[Cell, ...]:
        return tuple(Figure(one, "volume", assumed) for one in (bare_m3, excess_m3, bare_m3 + excess_m3))

    track = _track_assumed(evaluation.plan.depth.liner)
    rows: list[tuple[Cell, ...]] = [
        (
            section.name,
            section.slurry,
            Figure(section.top_md_m, "tally", assumed),
            Figure(section.bottom_md_m, "tally"),
            *volumes(section.volume_m3, section.excess_m3, assumed),
        )
        for section in cement.sections
        for assumed in (track and section.name == SHOE_TRACK,)
    ]
    bare = cement.total_m3 - cement.excess_m3
    rows.append(("sum of the sections", None, None, None, *volumes(bare, cement.excess_m3, track)))
    columns = (
        Column("cement in"),
        Column("slurry"),
        Column("top MD", "tally"),
        Column("bottom MD", "tally"),
        Column("without excess", "volume"),
        Column("excess", "volume"),
        Column("with excess", "volume"),
    )
    return Table(SECTIONS, columns, tuple(rows), "sums are of the figures before they are rounded")


def slurry_table(evaluation: Evaluation) -> Table | None:
    """Each slurry with its cement, mix water, silica and additives where the file gives them, and the total;
    None when it cannot be computed.
    """
    cement = evaluation.cement
    if cement is None:
        return None
    field = evaluation.plan.identity.system == "field"
    rows: list[tuple[Cell, ...]] = []

    def solids(slurry: SlurryQuantity) -> dict[str, float | None]:
        return {"silica": slurry.silica_kg, "additives": slurry.additives_kg}

    given = [name for name in ("silica", "additives") if any(solids(one)[name] for one in cement.slurries)]
    for slurry in cement.slurries:
        amount = slurry.sacks if field else slurry.cement_kg and slurry.cement_kg / 1000.0
        rows.append(
            (
                slurry.name,
                Figure(slurry.volume_m3, "volume"),
                None if amount is None else Figure(amount, "count" if field else "tonnes"),
                None if slurry.mix_water_m3 is None else Figure(slurry.mix_water_m3, "volume"),
                *(None if (kg := solids(slurry)[name]) is None else Figure(kg, "mass") for name in given),
            )
        )
    blank = (None,) * (2 + len(given))
    rows.append(("total", Figure(cement.total_m3, "volume"), *blank))
    rows.append(("of which excess", Figure(cement.excess_m3, "volume"), *blank))
    rows.append(("above liner, no loss", Figure(cement.above_liner_top_m3, "volume"), *blank))
    columns = (
        Column("slurry"),
        Column("volume", "volume"),
        Column("sacks, 94 lb" if field else "cement, t"),
        Column("mix water", "volume"),
        *(Column(name, "mass") for name in given),
    )
    return Table(CEMENT, columns, tuple(rows))


def tops_table(evaluation: Evaluation) -> Table | None:
    """Where cement stands: as planned, with no loss, string in and out, and what reversing out leaves."""
    cement, plan = evaluation.cement, evaluation.plan
    rows: list[tuple[Cell, ...]] = []
    needs: tuple[str, ...] = ()
    left = None
    try:
        left = top_left_md_m(evaluation.job)
    except MissingInput as error:
        needs = error.missing
    named = (
        ("as planned", plan.cement.planned_top_md_m),
        ("no loss, string in", cement.top_string_in_md_m if cement else None),
        ("no loss, string out", cement.top_string_out_md_m if cement else None),
        (_LEFT, left),
    )
    for name, depth in named:
        if depth is not None and depth <= 0.0:
            rows.append((name, "at surface", None))
        elif depth is not None:
            rows.append((name, Figure(depth, "tally"), Figure(plan.depth.path.tvd_m(depth), "tvd")))
    if needs:
        lacking = ", ".join(name.rpartition(".")[2] for name in needs)
        rows.append((f"reversed out: needs {lacking}", None, None))
    columns = (Column("top of cement"), Column("MD", "tally"), Column("TVD", "tvd"))
    note = "" if left is None else "reversing out reaches down to the running string, pulled up by one stand"
    return Table("Top of cement", columns, tuple(rows), note) if rows else None


def static_table(evaluation: Evaluation) -> Table | None:
    """What the columns outside weigh at the end of displacement, at rest, against pore and fracture."""
    plan, cement = evaluation.plan, evaluation.cement
    if cement is None:
        return None
    path, host, shoe = plan.depth.path, plan.depth.host.shoe_md_m, plan.depth.liner.shoe_md_m
    try:
        planned = annulus_at_end(plan, evaluation.volumes, cement)
        highest = annulus_at_end(plan, evaluation.volumes, cement, nothing_lost=True)
    except MissingInput as error:
        note = f"not computed, needs {', '.join(error.missing)}"
        return Table(_STATIC, (Column("at"),), ((note,),))
    points = [p for p in plan.formation.pressures if host + 1.0 < p.md_m < shoe - 1.0]
    pore = [(p.tvd_m, p.pore_kg_per_m3) for p in plan.formation.pressures if p.pore_kg_per_m3 is not None]
    fracture = [
        (p.tvd_m, p.fracture_kg_per_m3) for p in plan.formation.pressures if p.fracture_kg_per_m3 is not None
    ]
    places = [("host shoe", host), *(("open hole", p.md_m) for p in points), ("liner shoe", shoe)]
    places.sort(key=lambda place: place[1])  # a liner may end inside its host
    tests = [t.emw_kg_per_m3 for t in plan.formation.leak_off if t.string == plan.depth.liner.host]

    def cell(value: float | None) -> Cell:
        return None if value is None else Figure(value, "emw")

    rows: list[tuple[Cell, ...]] = [
        (
            name,
            Figure(md, "tally"),
            cell(emw_kg_per_m3(planned, path, md)),
            cell(emw_kg_per_m3(highest, path, md)),
            cell(between(path, md, pore)),
            cell(_fracture(path, md, fracture, tests if name == "host shoe" else [])),
        )
        for name, md in places
    ]
    columns = (
        Column("at"),
        Column("MD", "tally"),
        Column("as planned", "emw"),
        Column("no loss", "emw"),
        Column("pore", "emw"),
        Column("fracture", "emw"),
    )
    return Table(_STATIC, columns, tuple(rows), "at rest: friction of flow is not computed")


def _fracture(
    path: SurveyPath, md_m: float, rows: list[tuple[float, float]], tests: list[float | None]
) -> float | None:
    """What the pressures of the rock give at a depth, else the last test made there."""
    given = between(path, md_m, rows)
    return given if given is not None or not tests else tests[-1]


_STATIC = "Static EMW at the end of displacement"


def u_tube_table(evaluation: Evaluation) -> Table | None:
    """By how much the columns outside outweigh those inside at the end of displacement."""
    plan, cement = evaluation.plan, evaluation.cement
    if cement is None:
        return None
    try:
        rows: list[tuple[Cell, ...]] = []
        for name, nothing_lost in (("as planned", False), ("no loss", True)):
            layers = annulus_at_end(plan, evaluation.volumes, cement, nothing_lost=nothing_lost)
            rows.append((name, Figure(u_tube_pa(plan, layers), "pressure")))
    except MissingInput:
        return None  # the table of the columns says what is missing
    columns = (Column("top of cement"), Column("outside over inside", "pressure"))
    return Table("U-tube at the end of displacement", columns, tuple(rows))


def fluids_in_short(evaluation: Evaluation) -> Table:
    """The fluids of the job: kind, density and the volume that the file gives or that was computed."""
    plan, cement = evaluation.plan, evaluation.cement
    mixed = {slurry.name: slurry.volume_m3 for slurry in cement.slurries} if cement else {}
    rows: list[tuple[Cell, ...]] = []
    for fluid in plan.fluids:
        volume = mixed.get(fluid.name, fluid.volume_m3)
        density = Figure(fluid.density_kg_per_m3, "density")
        rows.append((fluid.name, fluid.kind, density, None if volume is None else Figure(volume, "volume")))
    columns = (Column("fluid"), Column("kind"), Column("density", "density"), Column("volume", "volume"))
    return Table("Fluids", columns, tuple(rows))


def running_string_table(evaluation: Evaluation) -> Table | None:
    """The running string with the liner at depth, from the top down, and its stick-up; None where the file
    gives none.

    A tool joint is asked for where there is one. *Tool joints total* is what of the length stands at their
    OD and ID in volumes.
    """
    depth = evaluation.plan.depth
    running = depth.running
    if running is None:
        return None

    def figure(si: float | None, kind: str) -> Figure | None:
        return None if si is None else Figure(si, kind)

    def row(part: RunningPart) -> tuple[Cell, ...]:
        jointed = part.kind in JOINTED or part.tool_joint_od_m is not None
        thick_m = part.tool_joint_share * part.length_m or None
        return (
            part.name,
            "" if part.label == part.name else part.label,
            figure(part.length_m or None, "tally"),
            Figure(part.bottom_md_m, "tally"),
            figure(part.od_m, "diameter"),
            figure(part.id_m, "diameter"),
            figure(part.weight_kg_per_m, "weight"),
            figure(part.tool_joint_od_m, "diameter") if jointed else "",
            figure(part.tool_joint_id_m, "diameter") if jointed else "",
            figure(thick_m, "tally") if jointed else "",
        )

    above = f"of which above {evaluation.plan.identity.datum.name}"
    stick_up: tuple[Cell, ...] = (above, "stick-up", Figure(running.stick_up_m, "tally"), *("",) * 7)
    rows = (*map(row, running.parts), stick_up)
    columns = (
        Column("part"),
        Column("pipe"),
        Column("length", "tally"),
        Column("bottom MD", "tally"),
        Column("OD", "diameter"),
        Column("ID", "diameter"),
        Column("weight", "weight"),
        Column("tool joint OD", "diameter"),
        Column("tool joint ID", "diameter"),
        Column("tool joints total", "tally"),
    )
    notes = ["weight in air, tool joints counted in"]
    if any(part.bottom_md_m > depth.liner.top_md_m + 1e-6 for part in running.parts):
        notes.append("what ends below the liner top hangs inside the liner")
    return Table(RUNNING, columns, rows, "; ".join(notes), "not given")


def tables(evaluation: Evaluation) -> tuple[Table, ...]:
    """All tables of quantities that this plan allows."""
    made = (
        liner_table(evaluation),
        laps_table(evaluation),
        running_string_table(evaluation),
        volumes_table(evaluation),
        displacement_table(evaluation),
        cement_table(evaluation),
        slurry_table(evaluation),
        tops_table(evaluation),
        static_table(evaluation),
        u_tube_table(evaluation),
        spaces_table(evaluation),
    )
    return tuple(table for table in made if table is not None and table.rows)


def heads(table: Table, system: System) -> list[str]:
    """The heads of the columns, each with the unit of its figures."""
    return [
        f"{column.head}, {unit}" if column.kind and (unit := unit_of(column.kind, system)) else column.head
        for column in table.columns
    ]


def printed(cell: Cell, blank: str, system: System, thousands: str = "") -> str:
    """A cell as text; *blank* stands for what is not known."""
    if cell is None:
        return blank
    return cell if isinstance(cell, str) else number(cell.si, cell.kind, system, thousands)


def as_text(table: Table, system: System) -> str:
    """A table for a terminal: columns aligned, figures to the right, units in the heads."""
    names = heads(table, system)
    body = [[printed(cell, table.blank, system) for cell in row] for row in table.rows]
    kept = [i for i in range(len(names)) if any(row[i] for row in body)]
    right = {i for i in kept if any(isinstance(row[i], Figure) for row in table.rows)}
    widths = {i: max(len(names[i]), *(len(row[i]) for row in body)) for i in kept}
    lines = [table.title]
    for row in (names, *body):
        cells = [row[i].rjust(widths[i]) if i in right else row[i].ljust(widths[i]) for i in kept]
        lines.append("  " + "  ".join(cells).rstrip())
    if table.note:
        lines.append(f"  {table.note}")
    return "\n".join(lines)


def safe_cell(text: str) -> str:
    """A text that a spreadsheet shows and never computes."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text


def as_csv(parts: tuple[Table, ...], system: System) -> str:
    """Tables one under another, each with its title and heads, an empty line between them."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    for index, table in enumerate(parts):
        if index:
            writer.writerow([])
        writer.writerow([safe_cell(table.title)])
        writer.writerow([safe_cell(head) for head in heads(table, system)])
        for row in table.rows:
            writer.writerow(
                [
                    safe_cell(cell) if isinstance(cell, str) else printed(cell, table.blank, system)
                    for cell in row
                ]
            )
    return out.getvalue()


def as_data(table: Table, system: System) -> dict[str, object]:
    """A table for JSON: per row a mapping; figures as value, unit and SI."""
    rows = []
    for row in table.rows:
        named: dict[str, object] = {}
        for column, cell in zip(table.columns, row, strict=True):
            named[column.head] = figure_data(cell, system) if isinstance(cell, Figure) else cell
        rows.append(named)
    return {"title": table.title, "rows": rows, **({"note": table.note} if table.note else {})}


def figure_data(figure: Figure, system: System) -> dict[str, object]:
    """A figure for JSON: as printed, in its printed unit unrounded, and in SI."""
    if figure.kind == "size":
        return {"printed": size(figure.si, system), "si": figure.si}
    return {
        "printed": show(figure.si, figure.kind, system),
        "value": in_system(figure.si, figure.kind, system),
        "unit": unit_of(figure.kind, system),
        "si": figure.si,
        **({"assumed": True} if figure.assumed else {}),
    }


def findings_table(evaluation: Evaluation, system: System) -> Table:
    """What was found, for CSV: one line each."""
    rows: list[tuple[Cell, ...]] = []
    for outcome in evaluation.findings:
        found = outcome.answer
        assert isinstance(found, Found)
        rows.append(
            (
                found.severity.value,
                outcome.rule,
                outcome.subject.name,
                sentence(found.what, found.figures, system),
                sentence(found.mend, found.figures, system),
                found.limit.owner if found.limit else "",
                outcome.waived,
            )
        )
    names = ("severity", "rule", "subject", "what", "mend", "whose limit", "waived")
    return Table("Findings", tuple(Column(name) for name in names), tuple(rows))
