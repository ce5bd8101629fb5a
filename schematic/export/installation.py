"""The installation as tables: pressures, weights, count of volume, clock, loads, tests, columns at rest.

A quantity that lacks an input has no table; `missing_table` says what it needs.
"""

from __future__ import annotations

from collections.abc import Callable

from schematic.checks.evaluate import Evaluation
from schematic.engineering.at_rest import AT_REST, windows
from schematic.export.report import readable
from schematic.export.tables import Cell, Column, Table
from schematic.export.weight_tables import (
    ARRIVES,
    BUCKLING,
    PULL,
    WEIGHTS,
    arrives_table,
    buckling_table,
    pull_table,
    weights_table,
)
from schematic.job.bounds import margins, never
from schematic.job.facts import below_shoe_m3, pump_band_known
from schematic.job.hanger_load import allowed_n
from schematic.job.hook_loads import HookLoad
from schematic.job.measured_loads import friction_says, readings
from schematic.job.set_down import set_down
from schematic.job.setting import BALL_BRANCH, pump_out_n
from schematic.job.under_test import under_test
from schematic.outcome import Figure, MissingInput
from schematic.units import show

SETTING = "Setting pressures at surface, at rest"
HOOK = "Hook loads, block included"
DOWN = "Weight set down on the liner top"
EVENTS = "Events of pumping"
CLOCK = "Clock of the cement job"
HANGER = "Load on the hanger"
TESTS = "Tests of lap and liner top"
PARTS = "What each part sees in the tests"
INFLOW = "Inflow tests"
COLUMNS = "Static columns over the whole job"
_MOTIONS = {"PICKING_UP": "picking up", "SLACKING_OFF": "slacking off", "ROTATING": "rotating"}


def installation_tables(evaluation: Evaluation) -> tuple[Table, ...]:
    """All tables of the installation that can be computed, and what the others need."""
    made: list[Table] = []
    missing: list[tuple[Cell, ...]] = []
    makers: tuple[tuple[str, Callable[[Evaluation], Table]], ...] = (
        (SETTING, setting_table),
        (WEIGHTS, weights_table),
        (HOOK, hook_table),
        (PULL, pull_table),
        (DOWN, set_down_table),
        (BUCKLING, buckling_table),
        (ARRIVES, arrives_table),
        (EVENTS, events_table),
        (CLOCK, clock_table),
        (HANGER, hanger_table),
        (TESTS, tests_table),
        (PARTS, parts_table),
        (INFLOW, inflow_table),
        (COLUMNS, columns_table),
    )
    for title, make in makers:
        try:
            table = make(evaluation)
        except MissingInput as error:
            missing.append((title, ", ".join(readable(evaluation, name) for name in error.missing)))
            continue
        if table.rows:
            made.append(table)
    missing += _missing(evaluation)
    if missing:
        rows = tuple(dict.fromkeys(missing))
        title = "Not computed of the installation"
        made.append(Table(title, (Column("quantity"), Column("needs")), rows))
    return tuple(made)


def _missing(evaluation: Evaluation) -> list[tuple[Cell, ...]]:
    job = evaluation.job
    lacks = [*job.setting.missing, *job.proofs.missing]
    try:
        lacks += job.hanger_loads[1]
    except MissingInput as error:
        return [(HANGER, ", ".join(error.missing))]
    return [(one.what, ", ".join(readable(evaluation, name) for name in one.needs)) for one in lacks]


def _or_none(value: float | None, kind: str) -> Figure | None:
    return None if value is None else Figure(value, kind)


def setting_table(evaluation: Evaluation) -> Table:
    """The bands in their order, what lifts the tool at each, and what must not be exceeded."""
    plan, its = evaluation.plan, evaluation.job.setting
    rows: list[tuple[Cell, ...]] = []
    if its.circulate_pa is not None:
        limit_only = Figure(its.circulate_pa, "pressure")
        first = min((b.low_pa for b in its.bands if b.branch == BALL_BRANCH), default=None)
        room = None if first is None else Figure(first - its.circulate_pa, "pressure")
        rows.append(("circulate up to", "", None, limit_only, None, room, None, None, None, None, ""))
    for band in its.bands:
        try:
            force: Cell = Figure(pump_out_n(plan, band.counts_to_pa), "force")
        except MissingInput:
            force = None
        limit: Cell
        try:
            bound = never(plan, its, band.name)
            limit, why = Figure(bound.pressure_pa, "pressure"), bound.why
        except MissingInput as error:
            limit, why = None, f"needs {', '.join(readable(evaluation, name) for name in error.missing)}"
        kept = margins(plan, its, band.name)
        rows.append(
            (
                band.name,
                {"ball": "before the dart", "dart": "after the dart"}.get(band.branch, "either"),
                Figure(band.surface.low_pa, "pressure"),
                Figure(band.surface.high_pa, "pressure"),
                Figure(band.surface.counts_to_pa, "pressure"),
                _or_none(kept.up_pa, "pressure"),
                _or_none(kept.rating_pa, "pressure"),
                _or_none(band.columns_pa, "pressure"),
                force,
                limit,
                why,
            )
        )
    columns = (
        Column("event"),
        Column("branch"),
        Column("from", "pressure"),
        Column("to", "pressure"),
        Column("taken to", "pressure"),
        Column("to the next", "pressure"),
        Column("to the lowest known rating", "pressure"),
        Column("columns at rest add, at the tool", "pressure"),
        Column("pump-out", "force"),
        Column("never exceed", "pressure"),
        Column("why"),
    )
    return Table(SETTING, columns, tuple(rows))


def hook_table(evaluation: Evaluation) -> Table:
    """Hook loads at the host shoe, on depth and of the string alone, and what falls when the hanger sets."""
    loads = evaluation.job.hook_loads
    if loads.block_n is None:
        raise MissingInput("installation.block weight")
    block = loads.block_n

    def row(name: str, load: HookLoad) -> tuple[Cell, ...]:
        return (
            name,
            _or_none(None if load.up_n is None else load.up_n + block, "force"),
            Figure(load.rotating_n + block, "force"),
            _or_none(None if load.down_n is None else load.down_n + block, "force"),
            _or_none(load.torque_nm, "torque"),
        )

    rows = [row("liner at the host shoe", loads.at_host_shoe)] if loads.at_host_shoe else []
    rows += [row("liner on depth", loads.on_depth), row("string alone, liner hung", loads.alone)]
    both = loads.on_depth, loads.alone
    rows.append(
        (
            "falls when the hanger takes the liner",
            _less(both[0].up_n, both[1].up_n),
            _less(both[0].rotating_n, both[1].rotating_n),
            _less(both[0].down_n, both[1].down_n),
            None,
        )
    )
    columns = (
        Column("state"),
        Column("picking up", "force"),
        Column("rotating or at rest", "force"),
        Column("slacking off", "force"),
        Column("torque", "torque"),
    )
    notes = [] if evaluation.plan.job.friction else ["picking up and slacking off need installation.friction"]
    for reading in readings(evaluation.plan):
        try:
            says = friction_says(evaluation.plan, reading)
        except MissingInput:
            continue
        if says is not None:
            notes.append(f"measured {_MOTIONS[reading.motion.name]}: friction {says.cased:.2f} in casing")
    return Table(HOOK, columns, tuple(rows), "; ".join(notes))


def _less(one: float | None, other: float | None) -> Figure | None:
    return None if one is None or other is None else Figure(one - other, "force")


def set_down_table(evaluation: Evaluation) -> Table:
    """What has to be slacked off for the weights that are set down, and which pipe buckles under them."""
    plan = evaluation.plan
    rows: list[tuple[Cell, ...]] = []
    block = plan.job.block_weight_n
    wanted = (
        ("on the tool", plan.job.set_down_on_tool_n),
        ("on the packer", plan.job.packer_set_down_n),
    )
    for name, force in wanted:
        if force is None:
            continue
        found = set_down(plan, force)
        bent = [f"{pipe.name} {pipe.state}" for pipe in found.buckled if pipe.state != "straight"]
        rows.append(
            (
                name,
                Figure(force, "force"),
                Figure(found.at_top_n, "force"),
                Figure(found.slack_off_n, "force"),
                _or_none(None if block is None else found.hook_n + block, "force"),
                ", ".join(bent) or "none",
            )
        )
    columns = (
        Column("weight"),
        Column("wanted on the liner top", "force"),
        Column("arrives", "force"),
        Column("slacked off", "force"),
        Column("hook load then", "force"),
        Column("buckles"),
    )
    return Table(DOWN, columns, tuple(rows))


def events_table(evaluation: Evaluation) -> Table:
    """The events by volume with their bands, strokes and time."""
    rows: list[tuple[Cell, ...]] = []
    banded = pump_band_known(evaluation.plan)
    for event in evaluation.job.events:
        counted = event.counted
        band = (counted.least_m3, counted.most_m3) if banded or event.since != "dart" else (None, None)
        rows.append(
            (
                event.name + (", seen" if event.observed else ""),
                {"job": "the first fluid", "dart": "the dart", "ball": "the ball"}[event.since],
                Figure(counted.m3, "volume"),
                *(_or_none(one, "volume") for one in band),
                _or_none(event.strokes, "count"),
                _or_none(event.seconds, "minutes"),
            )
        )
    columns = (
        Column("event"),
        Column("counted from"),
        Column("volume", "volume"),
        Column("least", "volume"),
        Column("most", "volume"),
        Column("strokes", "count"),
        Column("time", "minutes"),
    )
    lacks = "" if banded else "; no band from the dart on: needs cement.pump.efficiency, low and high"
    swept = below_shoe_m3(evaluation.job)
    sooner = show(swept, "volume", evaluation.plan.identity.system)
    below = f"; if mud stays below the shoe, fronts come to host shoe and liner top {sooner} sooner"
    return Table(EVENTS, columns, tuple(rows), AT_REST + (below if swept else "") + lacks)


def clock_table(evaluation: Evaluation) -> Table:
    """The stages of the cement job and each slurry's time against its thickening time."""
    its = evaluation.job.clock
    rows: list[tuple[Cell, ...]] = [
        (stage.name, _or_none(stage.seconds, "minutes"), ", ".join(stage.needs)) for stage in its.stages
    ]
    whole = its.whole_s if its.whole_s is not None else its.least_s
    rows.append(("in all" if its.whole_s is not None else "at least", Figure(whole, "minutes"), ""))
    rows += [
        (f"{one.slurry} thickens in", _or_none(one.thickening_s, "minutes"), ", ".join(one.needs))
        for one in its.slurries
    ]
    return Table(CLOCK, (Column("stage"), Column("time", "minutes"), Column("needs")), tuple(rows))


def hanger_table(evaluation: Evaluation) -> Table:
    """What the hanger carries, against what it may."""
    found = evaluation.job.hanger_loads[0]
    try:
        allowed: Cell = Figure(allowed_n(evaluation.plan), "force")
        note = ""
    except MissingInput as error:
        allowed, note = None, f"rating not given: needs {', '.join(error.missing)}"
    rows = tuple(
        (
            load.name,
            Figure(load.liner_n, "force"),
            Figure(load.added_n, "force"),
            load.added_by,
            Figure(load.total_n, "force"),
            allowed,
        )
        for load in found
    )
    columns = (
        Column("when"),
        Column("liner", "force"),
        Column("added", "force"),
        Column("by"),
        Column("in all", "force"),
        Column("allowed", "force"),
    )
    return Table(HANGER, columns, rows, note)


def tests_table(evaluation: Evaluation) -> Table:
    """The tests from above: pressure at surface and what it is at the shoes."""
    rows = tuple(
        (
            test.name,
            Figure(test.surface_pa, "pressure"),
            test.how,
            test.fluid,
            Figure(test.shoe_emw_kg_per_m3, "emw"),
            Figure(test.host_emw_kg_per_m3, "emw"),
            _or_none(test.host_limit_kg_per_m3, "emw"),
            _or_none(test.hold_s, "minutes"),
            Figure(test.drop_pa, "pressure"),
            Figure(test.over_s, "minutes"),
        )
        for test in evaluation.job.proofs.positive
    )
    columns = (
        Column("test"),
        Column("surface", "pressure"),
        Column("basis"),
        Column("fluid"),
        Column("EMW at shoe", "emw"),
        Column("at host shoe, should the lap leak", "emw"),
        Column("measured there", "emw"),
        Column("hold", "minutes"),
        Column("may fall by", "pressure"),
        Column("in", "minutes"),
    )
    return Table(TESTS, columns, rows)


def parts_table(evaluation: Evaluation) -> Table:
    """What each part sees in the tests from above against what it bears, and the most at surface for it."""
    rows: list[tuple[Cell, ...]] = []
    for test in evaluation.job.proofs.positive:
        for row in under_test(evaluation.plan, test):
            needs = ", ".join(readable(evaluation, name) for name in row.needs)
            rows.append(
                (
                    row.part,
                    test.name,
                    _or_none(row.sees if row.kind == "pressure" else None, "pressure"),
                    _or_none(row.bears if row.kind == "pressure" else None, "pressure"),
                    _or_none(row.most_surface_pa, "pressure"),
                    f"needs {needs}" if needs else row.why,
                )
            )
    columns = (
        Column("part"),
        Column("test"),
        Column("sees over outside", "pressure"),
        Column("bears", "pressure"),
        Column("at surface, at most", "pressure"),
        Column("why"),
    )
    note = (
        "inside the fluid of the test, outside fresh water; loads on the hanger and EMW stand in their tables"
    )
    return Table(PARTS, columns, tuple(rows), note)


def inflow_table(evaluation: Evaluation) -> Table:
    """The tests from below: the difference across the lap that the next fluid leaves, and that reached."""
    rows: list[tuple[Cell, ...]] = []
    for test in evaluation.job.proofs.inflow:
        reached = test.reached_pa
        rows.append(
            (
                test.name,
                test.zone,
                Figure(test.zone_md_m, "depth"),
                test.next_fluid,
                Figure(test.needed_pa[0], "pressure"),
                Figure(test.needed_pa[1], "pressure"),
                _or_none(test.light_drop_pa, "pressure"),
                _or_none(reached[0] if reached else None, "pressure"),
                Figure(test.proves_pa, "pressure"),
                Figure(test.short_pa, "pressure"),
                ", ".join(readable(evaluation, name) for name in test.unknown),
            )
        )
    columns = (
        Column("test"),
        Column("zone behind"),
        Column("its top MD", "depth"),
        Column("next fluid"),
        Column("across the lap, least", "pressure"),
        Column("most", "pressure"),
        Column("drop by the light fluid", "pressure"),
        Column("reached across the lap", "pressure"),
        Column("proves it", "pressure"),
        Column("planned too little by", "pressure"),
        Column("not known"),
    )
    return Table(
        INFLOW, columns, tuple(rows), "a drop in hydrostatic is not yet the difference across the lap"
    )


def columns_table(evaluation: Evaluation) -> Table:
    """Least and most static EMW at each weak point while the job is pumped, with the margins."""
    job = evaluation.job
    rows = tuple(
        (
            window.point.name,
            Figure(window.point.md_m, "depth"),
            Figure(window.least_kg_per_m3, "emw"),
            _or_none(window.point.pore_kg_per_m3, "emw"),
            _or_none(window.over_pore_kg_per_m3, "emw"),
            Figure(window.most_kg_per_m3, "emw"),
            _or_none(window.point.fracture_kg_per_m3, "emw"),
            _or_none(window.under_fracture_kg_per_m3, "emw"),
        )
        for window in windows(job.plan, job.volumes, job.cement, job.train)
    )
    columns = (
        Column("where"),
        Column("MD", "depth"),
        Column("least", "emw"),
        Column("pore", "emw"),
        Column("over it", "emw"),
        Column("most", "emw"),
        Column("fracture", "emw"),
        Column("under it", "emw"),
    )
    return Table(COLUMNS, columns, rows, AT_REST)
