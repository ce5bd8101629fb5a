"""The row of the job on a sheet: setting pressures, what was assumed, job numbers, legend."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import ASSUMED, PITCH_MM, SMALL_PT, THIN, wrap
from schematic.drawing.fills import Rect
from schematic.drawing.grid import Paper
from schematic.drawing.legend import legend
from schematic.drawing.page import LEFT_MM, fit, rule
from schematic.drawing.palette import GREY, OUTLINE_MM
from schematic.drawing.pressure_bands import pressure_bands
from schematic.drawing.scene import Group, Shape, Text
from schematic.drawing.section_view import leans
from schematic.drawing.text import width_mm
from schematic.export.passage import smallest, tightest
from schematic.export.report import assumed_texts
from schematic.units import System, sentence_case, show


def assumptions(evaluation: Evaluation) -> list[str]:
    """What was assumed, and what counts as something else, as the sheet says it."""
    texts = list(assumed_texts(evaluation))
    liner = evaluation.plan.depth.liner
    if liner.assembly_assumed or any(part.length_assumed for part in liner.parts):
        texts.append(f"a figure after {ASSUMED} is assumed")
    return [sentence_case(text) + "." for text in texts or ["nothing"]]


def remarks(evaluation: Evaluation, top_mm: float, left_mm: float, width: float, most: int) -> Group:
    """What was assumed, in so many lines; the notes tell all of it."""
    shapes: list[Shape] = [Text(left_mm, top_mm, "Assumed or not given", bold=True)]
    lines: list[str] = []
    for text in assumptions(evaluation):
        lines += wrap(text, width)
    if len(lines) > most:
        lines = [*lines[: most - 1], "and more in the notes"]
    shapes += [Text(left_mm, top_mm + 0.4 + PITCH_MM * (row + 1), line) for row, line in enumerate(lines)]
    return Group("", "assumed", tuple(shapes))


_MOST_ROWS, _TIGHT_MM = 12, 2.55


def job_numbers(
    evaluation: Evaluation, system: System, top_mm: float, left_mm: float, right_mm: float
) -> Group:
    """Job numbers that the plan states or that were computed, figure to the right."""
    plan, cement, displaced = evaluation.plan, evaluation.cement, evaluation.displacement
    rows: list[tuple[str, str]] = []

    def row(name: str, si: float | None, kind: str) -> None:
        if si is not None:
            rows.append((name, show(si, kind, system, THIN).replace("m3", "m\u00b3")))

    if displaced:
        row("displacement to bump", displaced.to_bump_m3, "volume")
    if cement:
        sacks = sum(s.sacks for s in cement.slurries if s.sacks is not None)
        row(
            f"cement, {sacks:.0f} sacks" if sacks and system == "field" else "cement",
            cement.total_m3,
            "volume",
        )
        excess = plan.cement.open_hole_excess
        row(
            f"incl. excess, {show(excess, 'percent', system)} of open hole" if excess else "of which excess",
            cement.excess_m3,
            "volume",
        )
        water = [s.mix_water_m3 for s in cement.slurries]
        if water and all(w is not None for w in water):
            row("mix water", sum(w for w in water if w is not None), "volume")
        row("silica", sum(s.silica_kg or 0.0 for s in cement.slurries) or None, "mass")
        row("additives", sum(s.additives_kg or 0.0 for s in cement.slurries) or None, "mass")
        row("above liner, no loss", cement.above_liner_top_m3, "volume")
    mud = plan.fluid("mud")
    row("mud", mud.density_kg_per_m3 if mud else None, "density")
    row("packer set down", plan.job.packer_set_down_n, "force")
    row("hanger rating", plan.job.hanger_rating_n, "force")
    liner = plan.depth.liner
    least = smallest(evaluation)
    if least is not None:
        known = " known" if least.unknown else ""
        row(f"smallest drift{known}: {least.where}", least.m, "diameter")
    passage = evaluation.job.passage
    for ways in (passage.liner, [way for way in passage.through if way.thing.name == "ball"]):
        way = tightest(ways)
        if way is not None:
            name = way.thing.name
            row(f"{name} does not pass" if way.blocked else f"clear around {name}", way.least_clear_m, "gap")
    hanger = liner.find("liner hanger")
    if hanger is not None and leans(evaluation):
        middle = 0.5 * (hanger.top_md_m + hanger.bottom_md_m)
        row("dogleg at the hanger", plan.depth.path.dogleg_rad_per_m(middle), "dogleg")
    for test in plan.job.tests:
        row(f"test: {test.name}", test.surface_pressure_pa, "pressure")
    shapes: list[Shape] = [Text(left_mm, top_mm, "Job", bold=True)]
    if not rows:
        shapes.append(Text(left_mm, top_mm + 0.4 + PITCH_MM, "nothing given or computed", colour=GREY))
    pitch = PITCH_MM if len(rows) < _MOST_ROWS else _TIGHT_MM
    for index, (name, figure) in enumerate(rows[:_MOST_ROWS]):
        y = top_mm + 0.4 + pitch * (index + 1)
        shapes.append(
            Text(left_mm, y, fit(name, right_mm - left_mm - width_mm(figure, SMALL_PT, True) - 1.5))
        )
        shapes.append(Text(right_mm, y, figure, bold=True, anchor="end"))
    return Group("", "job", tuple(shapes))


JOB_MM = 38.2  # from the rule above the job to the title block
_NUMBERS_MM, _LEGEND_MM, _REMARKS_MM, _SLOT_GAP_MM = 51.0, 65.0, 66.0, 7.0


def job_row(
    evaluation: Evaluation, system: System, paper: Paper, top_mm: float, *, fitted: bool
) -> list[Group]:
    """The row of the job above the title block: pressures, what was assumed, numbers, legend.

    Where the paper is narrow, pressures take the place of what was assumed: that stands in the notes.
    """
    groups = [Group("", "rule", (rule(top_mm, OUTLINE_MM, right=paper.right_mm),))]
    y, right = top_mm + 4.0, paper.right_mm
    legend_left = right - _LEGEND_MM
    job_right = legend_left - 5.0
    job_left = job_right - _NUMBERS_MM
    groups.append(legend(evaluation, y, legend_left, fitted=fitted))
    groups.append(job_numbers(evaluation, system, y, job_left, job_right))
    room = job_left - _SLOT_GAP_MM - LEFT_MM
    bands = pressure_bands(evaluation, Rect(LEFT_MM, y - 2.4, LEFT_MM + _REMARKS_MM, y + 31.6), system)
    groups += bands
    left = LEFT_MM + (_REMARKS_MM + _SLOT_GAP_MM if bands else 0.0)
    if room - (left - LEFT_MM) < 0.9 * _REMARKS_MM:
        return groups
    return [*groups, remarks(evaluation, y, left, min(job_left - _SLOT_GAP_MM - left, 90.0), 10)]
