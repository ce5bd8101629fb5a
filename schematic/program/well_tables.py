"""The well in tables: which it is, its strings and hole, its path, what passes what."""

from __future__ import annotations

from pathlib import PurePath

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import CasingString, Datum
from schematic.export.around import around_shoe
from schematic.export.passage import smallest
from schematic.export.tables import Cell, Column, Table
from schematic.outcome import Figure
from schematic.units import System, show, unit_of

NOT_GIVEN = "not given"
_KICK_OFF_RAD = 0.0175  # a degree
_VERTICAL_RAD = 0.09  # five degrees: a well that leans less has no kick-off
_SHOWN_KINDS = ("depth", "diameter", "volume", "pressure", "density", "force")


def figure(si: float | None, kind: str) -> Figure | None:
    """A figure, or None where there is no value."""
    return None if si is None else Figure(si, kind)


def identity_table(evaluation: Evaluation, system: System) -> Table:
    """Which well and revision this is, from where depths are counted, in which units."""
    identity = evaluation.plan.identity
    revision = identity.revision
    units = dict.fromkeys(unit_of(kind, system) for kind in _SHOWN_KINDS)
    rows = (
        ("well", identity.name),
        ("field", identity.field),
        ("rig", identity.rig),
        ("section", identity.purpose),
        ("state", identity.standing),
        ("revision", revision.named if revision else ""),
        ("depths", f"measured depths (MD) below {identity.datum.name} in {unit_of('depth', system)}"),
        *_levels(identity.datum, system),
        ("units", ", ".join(units)),
        ("well file", f"{PurePath(identity.file).name}, fingerprint {identity.file_hash}"),
    )
    filled = tuple((name, value or None) for name, value in rows)
    return Table("Well", (Column("what"), Column("value")), filled, blank=NOT_GIVEN)


def revisions_table(evaluation: Evaluation) -> Table:
    """All revisions with who prepared, checked and approved them, the latest first."""
    identity = evaluation.plan.identity
    revisions = (*((identity.revision,) if identity.revision else ()), *identity.earlier)
    rows = tuple(
        (
            one.named,
            one.date or None,
            one.by or None,
            one.checked_by or None,
            one.approved_by or None,
            one.note or None,
        )
        for one in revisions
    )
    names = ("revision", "date", "prepared by", "checked by", "approved by", "what changed")
    return Table("Revisions", tuple(Column(name) for name in names), rows, blank=NOT_GIVEN)


def _levels(datum: Datum, system: System) -> tuple[tuple[str, str], ...]:
    """The heights that fix the datum, each with its unit."""

    def told(si: float | None) -> str:
        return "" if si is None else show(si, "depth", system)

    ground = "seabed" if datum.water_depth_m is not None else "ground"
    rows: tuple[tuple[str, str], ...] = ((f"{datum.name} above {datum.above}", told(datum.height_m)),)
    rows += ((f"{ground} below {datum.name}", told(datum.ground_md_m)),)
    if datum.water_depth_m is not None:
        rows += (("water depth", told(datum.water_depth_m)),)
    return rows


def strings_table(evaluation: Evaluation, system: System) -> Table:
    """Every string with the liner last: pipe, connection, top and shoe, the hole or string it ends in."""
    depth = evaluation.plan.depth
    liner, tvd = depth.liner, depth.path.tvd_m
    ends = [
        *((s.name, s.label, s.connection, s.top_md_m, s.shoe_md_m, s.driven) for s in depth.strings),
        (liner.name, liner.label, liner.connection, liner.top_md_m, liner.shoe_md_m, False),
    ]
    rows = tuple(
        (
            name,
            label or None,
            connection or None,
            Figure(top, "tally"),
            Figure(shoe, "tally"),
            Figure(tvd(shoe), "tvd"),
            "driven" if driven else around_shoe(evaluation, name, shoe, system),
        )
        for name, label, connection, top, shoe, driven in ends
    )
    columns = (
        Column("string"),
        Column("pipe"),
        Column("connection"),
        Column("top MD", "tally"),
        Column("shoe MD", "tally"),
        Column("shoe TVD", "tvd"),
        Column("shoe in"),
    )
    return Table("Strings", columns, rows, blank=NOT_GIVEN)


def bores_table(evaluation: Evaluation, system: System) -> Table:
    """Diameters of every string, its cement behind it and how that is known."""
    plan = evaluation.plan
    liner = plan.depth.liner
    rows: list[tuple[Cell, ...]] = [
        (
            s.name,
            Figure(s.od_m, "diameter"),
            Figure(s.id_m, "diameter"),
            figure(s.passes_m, "diameter"),
            figure(s.coupling_od_m, "diameter"),
            figure(s.cement_top_md_m, "depth"),
            _to_shoe(s),
            _basis(s),
        )
        for s in plan.depth.strings
    ]
    planned = plan.cement.planned_top_md_m
    rows.append(
        (
            liner.name,
            Figure(liner.od_m, "diameter"),
            Figure(liner.id_m, "diameter"),
            figure(liner.drift_m, "diameter"),
            figure(liner.coupling_od_m, "diameter"),
            None if planned is None else Figure(max(planned, liner.top_md_m), "depth"),
            Figure(liner.shoe_md_m, "depth"),
            _as_planned(planned, liner.top_md_m, system),
        )
    )
    columns = (
        Column("string"),
        Column("OD", "diameter"),
        Column("ID", "diameter"),
        Column("drift", "diameter"),
        Column("coupling OD", "diameter"),
        Column("cement from MD", "depth"),
        Column("to MD", "depth"),
        Column("known by"),
    )
    return Table("Bores, and cement behind pipe", columns, tuple(rows), blank=NOT_GIVEN)


def _as_planned(planned_md_m: float | None, liner_top_md_m: float, system: System) -> str | None:
    """On what grounds cement is told behind the liner; what is planned above it has no liner before it."""
    if planned_md_m is None:
        return None
    above = planned_md_m < liner_top_md_m
    return f"planned, and above it to {show(planned_md_m, 'depth', system)}" if above else "planned"


def _to_shoe(string: CasingString) -> Figure | None:
    return None if string.cement_top_md_m is None else Figure(string.shoe_md_m, "depth")


def _basis(string: CasingString) -> str | None:
    if string.cement_top_md_m is None:
        return "driven, no cement" if string.driven else None
    return string.cement_known_by or None


def features_table(evaluation: Evaluation) -> Table:
    """Perforations, windows, wear and the like of each string, or that the file does not say."""
    rows: list[tuple[Cell, ...]] = []
    for string in evaluation.plan.depth.strings:
        if not string.features:
            rows.append((string.name, NOT_GIVEN if string.features is None else "none", "", ""))
        for feature in string.features or ():
            ends = Figure(feature.top_md_m, "depth"), Figure(feature.bottom_md_m, "depth")
            rows.append((string.name, feature.what, *ends))
    columns = (Column("string"), Column("feature"), Column("from MD", "depth"), Column("to MD", "depth"))
    return Table("Perforations, wear, junk", columns, tuple(rows))


def hole_table(evaluation: Evaluation) -> Table:
    """Every drilled interval: bit, opened size, average diameter as it is taken, and on what grounds."""
    hole = evaluation.plan.depth.hole
    words = {"gauge": "taken as bit size", "caliper": "caliper"}
    rows: list[tuple[Cell, ...]] = []
    for section in hole.sections:
        taken = hole.diameter_m.clip(section.top_md_m, section.bottom_md_m)
        length = section.bottom_md_m - section.top_md_m
        mean = (taken.map(lambda d: d * d).integral() / length) ** 0.5 if length > 0.0 else section.size_m
        bit = None if section.size_m == section.bit_m else Figure(section.size_m, "diameter")
        rows.append(
            (
                Figure(section.top_md_m, "depth"),
                Figure(section.bottom_md_m, "depth"),
                Figure(evaluation.plan.depth.path.tvd_m(section.bottom_md_m), "tvd"),
                Figure(section.bit_m, "diameter"),
                bit or "no",
                Figure(mean, "diameter"),
                f"{section.washout}, as stated in the file" if section.washout else words[section.basis],
            )
        )
    columns = (
        Column("from MD", "depth"),
        Column("to MD", "depth"),
        Column("to TVD", "tvd"),
        Column("bit", "diameter"),
        Column("opened to", "diameter"),
        Column("mean by area", "diameter"),
        Column("basis"),
    )
    return Table("Hole", columns, tuple(rows))


def path_table(evaluation: Evaluation) -> Table:
    """Depth, lean and bend of the well where something happens, in order of depth."""
    depth = evaluation.plan.depth
    path, liner = depth.path, depth.liner
    places = [(s.shoe_md_m, f"shoe of {s.name}") for s in depth.strings]
    places += [(liner.top_md_m, "liner top"), (liner.shoe_md_m, "liner shoe")]
    places.append((depth.td_md_m, "bottom of hole"))
    hanger = liner.find("liner hanger")
    if hanger:
        places.append((hanger.top_md_m, f"top of {hanger.name}"))
    steepest = max(path.stations, key=lambda one: one[1])
    if depth.survey_given:
        places.append((steepest[0], "greatest inclination"))
    if steepest[1] > _VERTICAL_RAD:
        upright = [one[0] for one in path.stations if one[0] < steepest[0] and one[1] <= _KICK_OFF_RAD]
        places.append((max(upright, default=0.0), "kick-off"))
    rows = tuple(
        (
            name,
            Figure(md, "tally"),
            Figure(path.tvd_m(md), "tvd"),
            Figure(path.inclination_rad(md), "angle"),
            Figure(path.azimuth_rad(md), "angle"),
            Figure(path.dogleg_rad_per_m(md), "dogleg"),
        )
        for md, name in sorted(places)
    )
    columns = (
        Column("place"),
        Column("MD", "tally"),
        Column("TVD", "tvd"),
        Column("inclination", "angle"),
        Column("azimuth", "angle"),
        Column("dogleg below", "dogleg"),
    )
    note = (
        f"minimum curvature through a survey of {len(path.stations)} stations; below the last it is straight"
    )
    if not depth.survey_given:
        note = "no survey given: the well is taken as vertical"
    return Table("Path", columns, rows, note)


def passage_table(evaluation: Evaluation) -> Table:
    """The tightest places and the widest things: what has to pass what."""
    depth = evaluation.plan.depth
    liner, running = depth.liner, depth.running
    passed = [s for s in depth.strings if s.top_md_m < liner.shoe_md_m]
    above = [(drift, s.name) for s in passed if (drift := s.passes_m) is not None]
    least = smallest(evaluation)
    named = [(p.id_m, p.name) for p in liner.parts]
    named += [(p.seat_m, f"ball seat of {p.name}") for p in liner.parts]
    bores = [(bore, name) for bore, name in named if bore is not None]
    widths = [(d, p.name) for p in liner.parts for d in (p.od_m, p.coupling_od_m) if d is not None]
    inside = [(p.tool_joint_id_m or p.id_m, p.name) for p in running.parts] if running else []

    def row(what: str, found: tuple[float, str] | None) -> tuple[Cell, ...]:
        return (what, Figure(found[0], "diameter"), found[1]) if found else (what, None, None)

    rows = (
        row("smallest drift of the strings it passes", min(above, default=None)),
        row("greatest OD of the liner", max(widths, default=None)),
        row("smallest drift once the shoe track is drilled out", (least.m, least.where) if least else None),
        row("smallest bore of the liner as run", min(bores, default=None)),
        row("smallest bore of the running string", min(((d, n) for d, n in inside if d), default=None)),
    )
    unsure = [s.name for s in passed if s.passes_m is None]
    notes = [f"drift not given: {', '.join(unsure)}"] if unsure else []
    unknown = [p.name for p in liner.parts if p.id_m is None and p.seat_m is None]
    unknown += [name for d, name in inside if d is None]
    if unknown:
        notes.append(f"bore not given: {', '.join(dict.fromkeys(unknown))}")
    columns = (Column("what"), Column("diameter", "diameter"), Column("where"))
    return Table("Smallest bores and greatest OD", columns, rows, "; ".join(notes), NOT_GIVEN)
