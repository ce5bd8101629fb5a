"""The job in tables: cement as planned, fluids, rock, pressures and tests as given, how volumes add up."""

from __future__ import annotations

import math

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import Fluid, JobPlan, TestPlan
from schematic.export.explanation import VOLUME_FORMULA, Piece, pieces
from schematic.export.report import readable
from schematic.export.tables import Cell, Column, Table
from schematic.job.proof import LINER_SHOE, Inflow
from schematic.outcome import Figure
from schematic.program.well_tables import NOT_GIVEN, figure
from schematic.units import System, show

_MOST_PIECES = 40  # of one space; a caliper log has thousands, which are told as one

Band = tuple[float, float, float] | None


def summed_table(evaluation: Evaluation) -> Table:
    """How each volume adds up: stretches of one cross-section, area times length.

    Neighbours of the same area are told as one.
    """
    rows: list[tuple[Cell, ...]] = []
    for space in evaluation.volumes.spaces:
        parts = _joined(pieces(evaluation, space))
        told = parts if len(parts) <= _MOST_PIECES else _as_one(parts)
        for one in told:
            length = one.bottom_md_m - one.top_md_m
            rows.append(
                (
                    space.name,
                    one.where,
                    Figure(one.top_md_m, "tally"),
                    Figure(length, "tally"),
                    Figure(one.area_m2, "area"),
                    Figure(one.area_m2 * length, "volume"),
                )
            )
    columns = (
        Column("space"),
        Column("where"),
        Column("from MD", "tally"),
        Column("length", "tally"),
        Column("area", "area"),
        Column("area times length", "volume"),
    )
    return Table("How the volumes add up", columns, tuple(rows), VOLUME_FORMULA)


def _joined(parts: tuple[Piece, ...]) -> list[Piece]:
    """Stretches with those put together that follow each other in the same place with the same area."""
    made: list[Piece] = []
    for one in parts:
        last = made[-1] if made else None
        same = last and last.where == one.where and math.isclose(last.bottom_md_m, one.top_md_m, abs_tol=1e-6)
        if last and same and math.isclose(last.area_m2, one.area_m2, rel_tol=1e-9):
            made[-1] = last._replace(bottom_md_m=one.bottom_md_m)
        else:
            made.append(one)
    return made


def _as_one(parts: list[Piece]) -> list[Piece]:
    """Many stretches as one for each place, of their mean area."""
    made = []
    for where in dict.fromkeys(one.where for one in parts):
        here = [one for one in parts if one.where == where]
        volume = sum(one.area_m2 * (one.bottom_md_m - one.top_md_m) for one in here)
        length = sum(one.bottom_md_m - one.top_md_m for one in here)
        words = f"{where}, mean of {len(here)} stretches"
        made.append(Piece(words, here[0].top_md_m, here[0].top_md_m + length, volume / length))
    return made


def cement_plan_table(evaluation: Evaluation, system: System) -> Table:
    """The cement job as the file gives it."""
    job, liner = evaluation.plan.cement, evaluation.plan.depth.liner
    top = job.planned_top_md_m

    def told(si: float | None, kind: str) -> str | None:
        return None if si is None else show(si, kind, system)

    rows: list[tuple[Cell, ...]] = [
        ("planned top of cement, MD", told(top, "tally")),
        ("above the liner top", None if top is None else told(max(0.0, liner.top_md_m - top), "tally")),
        ("excess on open hole", told(job.open_hole_excess, "share")),
        ("excess is counted on", {"gauge": "bit size"}.get(job.excess_basis, job.excess_basis) or None),
        ("spacer", job.spacer or None),
        ("pump, each stroke", told(job.stroke_m3, "stroke")),
    ]
    if job.lap_excess:
        rows.append(("excess on the lap", told(job.lap_excess, "share")))
    for low, high, share in job.own_excess:
        where = f"{show(low, 'depth', system)} to {show(high, 'depth', system)}"
        rows.append((f"excess on open hole from {where}", told(share, "share")))
    return Table("Cement as planned", (Column("what"), Column("value")), tuple(rows), blank=NOT_GIVEN)


def fluids_table(evaluation: Evaluation) -> Table:
    """Every fluid of the job as the file gives it."""

    def row(fluid: Fluid) -> tuple[Cell, ...]:
        slurry = fluid.kind == "slurry"
        return (
            fluid.name,
            fluid.kind,
            Figure(fluid.density_kg_per_m3, "density"),
            figure(fluid.plastic_viscosity_pa_s, "viscosity"),
            figure(fluid.yield_point_pa, "yield point"),
            figure(fluid.volume_m3, "volume") if not slurry else "computed",
            figure(fluid.yield_m3_per_kg, "yield") if slurry else "",
            figure(fluid.mix_water_m3_per_kg, "water") if slurry else "",
            figure(fluid.thickening_time_s, "time") if slurry else "",
        )

    columns = (
        Column("fluid"),
        Column("kind"),
        Column("density", "density"),
        Column("plastic viscosity", "viscosity"),
        Column("yield point", "yield point"),
        Column("volume", "volume"),
        Column("yield", "yield"),
        Column("mix water", "water"),
        Column("thickening time", "time"),
    )
    return Table("Fluids", columns, tuple(map(row, evaluation.plan.fluids)), blank=NOT_GIVEN)


def rock_table(evaluation: Evaluation) -> Table:
    """Tops of rock units with their rock, fluid and pore pressure."""
    tvd = evaluation.plan.depth.path.tvd_m
    rows = tuple(
        (
            top.name,
            top.rock,
            Figure(top.md_m, "depth"),
            Figure(tvd(top.md_m), "tvd"),
            figure(top.base_md_m, "depth"),
            top.fluid or None,
            figure(top.pore_kg_per_m3, "emw"),
        )
        for top in evaluation.plan.formation.tops
    )
    columns = (
        Column("unit"),
        Column("rock"),
        Column("top MD", "depth"),
        Column("top TVD", "tvd"),
        Column("base MD", "depth"),
        Column("fluid"),
        Column("pore pressure, EMW", "emw"),
    )
    return Table("Rock", columns, rows, blank=NOT_GIVEN)


def window_table(evaluation: Evaluation) -> Table:
    """Pore and fracture pressure by depth, and the tests at shoes."""
    rows = tuple(
        (
            Figure(point.md_m, "tally"),
            Figure(point.tvd_m, "tvd"),
            figure(point.pore_kg_per_m3, "emw"),
            figure(point.fracture_kg_per_m3, "emw"),
        )
        for point in evaluation.plan.formation.pressures
    )
    columns = (
        Column("MD", "tally"),
        Column("TVD", "tvd"),
        Column("pore, EMW", "emw"),
        Column("fracture, EMW", "emw"),
    )
    return Table("Pore and fracture pressure", columns, rows, blank=NOT_GIVEN)


def leak_off_table(evaluation: Evaluation) -> Table:
    """Leak-off and integrity tests at shoes, as the file gives them."""
    rows = tuple(
        (
            test.string,
            test.kind,
            Figure(test.md_m, "depth"),
            figure(test.emw_kg_per_m3, "emw"),
            figure(test.surface_pressure_pa, "pressure"),
            figure(test.mud_kg_per_m3, "density"),
        )
        for test in evaluation.plan.formation.leak_off
    )
    columns = (
        Column("at the shoe of"),
        Column("test"),
        Column("MD", "depth"),
        Column("result, EMW", "emw"),
        Column("surface pressure", "pressure"),
        Column("mud", "density"),
    )
    return Table("Leak-off and integrity tests", columns, rows, blank=NOT_GIVEN)


def pressures_table(evaluation: Evaluation) -> Table:
    """The pressures of the installation in the order in which they come, each with its band."""
    job = evaluation.plan.job
    seat = f"ball seat lets go, at the {job.seat}" if job.seat else "ball seat lets go"

    def row(name: str, band: Band) -> tuple[Cell, ...]:
        if band is None:
            return (name, None, "", "")
        nominal, low, high = band
        ends = (Figure(low, "pressure"), Figure(high, "pressure")) if low < high else ("", "")
        return (name, Figure(nominal, "pressure"), *ends)

    def single(si: float | None) -> Band:
        return None if si is None else (si, si, si)

    rows = (
        row("circulate up to", single(job.circulate_up_to_pa)),
        row("hanger sets", job.hanger_sets_pa),
        row("hanger held at", single(job.hanger_held_pa)),
        row("running tool releases", job.tool_releases_pa),
        row(seat, job.seat_shears_pa),
        row("wiper plug releases", job.plug_releases_pa),
        row("final pump pressure", single(job.final_pressure_pa)),
        row("bump over final", single(job.bump_over_final_pa)),
        *(row(f"{part.name} {part.does}", part.pressure_pa) for part in job.parts),
    )
    columns = (
        Column("event"),
        Column("nominal", "pressure"),
        Column("least", "pressure"),
        Column("most", "pressure"),
    )
    note = "as the well file gives them; whether they keep clear of each other stands under Installation"
    return Table("Pressures of the installation", columns, rows, note, NOT_GIVEN)


def weights_table(evaluation: Evaluation) -> Table:
    """Weights as the file gives them."""
    job: JobPlan = evaluation.plan.job
    rows = (
        ("block weight", figure(job.block_weight_n, "force")),
        ("set down on the running tool", figure(job.set_down_on_tool_n, "force")),
        ("set down to set the packer", figure(job.packer_set_down_n, "force")),
        ("hanger rating, from its maker", figure(job.hanger_rating_n, "force")),
    )
    note = "as the well file gives them; hook loads stand under Installation"
    return Table("Weights", (Column("what"), Column("force", "force")), rows, note, NOT_GIVEN)


def tests_table(evaluation: Evaluation) -> Table:
    """Planned pressure tests: what the file gives, and what follows where it gives another measure."""
    proofs = evaluation.job.proofs
    positive = {one.name: one for one in proofs.positive}
    inflow = {one.name: one for one in proofs.inflow}
    needs = {one.what: one.needs for one in proofs.missing}
    rows: list[tuple[Cell, ...]] = []
    for test in evaluation.plan.job.tests:
        surface: Cell = figure(test.surface_pressure_pa, "pressure")
        emw: Cell = figure(test.emw_kg_per_m3, "emw") if test.at in ("", LINER_SHOE) else None
        fluid, basis = test.fluid, ""
        if its := positive.get(test.name):
            surface, emw = Figure(its.surface_pa, "pressure"), Figure(its.shoe_emw_kg_per_m3, "emw")
            fluid, basis = its.fluid, its.how + _asked(test, evaluation.plan.identity.system)
        elif test.kind == "inflow":
            surface = emw = "does not apply"
            fluid, basis = _from_below(test, inflow.get(test.name), evaluation.plan.identity.system)
        if lacks := needs.get(f"test {test.name}"):
            basis = f"not computed, needs {', '.join(readable(evaluation, one) for one in lacks)}"
        hold = figure(test.hold_s, "minutes")
        rows.append((test.name, test.kind or None, surface, basis, emw, fluid or None, hold, test.remark))
    columns = (
        Column("test"),
        Column("kind"),
        Column("surface pressure", "pressure"),
        Column("basis"),
        Column("EMW at the liner shoe", "emw"),
        Column("fluid"),
        Column("hold", "minutes"),
        Column("remark"),
    )
    return Table("Planned tests", columns, tuple(rows), blank=NOT_GIVEN)


def _from_below(test: TestPlan, its: Inflow | None, system: System) -> tuple[str, str]:
    """The fluid inside in an inflow test, and by what it is planned beside what it has to reach."""
    fluid = test.light_fluid or (its.next_fluid if its else test.fluid)
    if test.light_fluid and test.light_fluid_to_md_m is not None:
        fluid += f" to {show(test.light_fluid_to_md_m, 'depth', system)}"
    planned = test.differential_pa
    told = [f"{show(planned, 'pressure', system)} across the lap"] if planned is not None else []
    if its is not None:
        most = max(its.needed_pa[1], 0.0)
        told.append(f"has to reach {show(most, 'pressure', system)} across the lap" if most else "no inflow")
    return fluid, "; ".join(told)


def _asked(test: TestPlan, system: System) -> str:
    """What the file asks for beside or in place of a pressure at surface."""
    if test.emw_kg_per_m3 is not None:
        return f"; {show(test.emw_kg_per_m3, 'emw', system)} asked for at {test.at or LINER_SHOE}"
    if test.surface_pressure_pa is None and test.above_fracture_pa is not None:
        return f", by {show(test.above_fracture_pa, 'pressure', system)}"
    return ""


def temperatures_table(evaluation: Evaluation) -> Table:
    """Temperatures as the file gives them."""
    rock = evaluation.plan.formation
    rows = (
        ("bottom of the hole, static", figure(rock.static_temperature_k, "temperature")),
        ("bottom of the hole, circulating", figure(rock.circulating_temperature_k, "temperature")),
        ("surface", figure(rock.surface_temperature_k, "temperature")),
    )
    columns = (Column("where"), Column("temperature", "temperature"))
    return Table("Temperatures", columns, rows, blank=NOT_GIVEN)
