"""The legend: samples of what this page uses and no label names."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.drawing import glyphs_liner, glyphs_well
from schematic.drawing.column import JOB_DOT_MM, OLD_CEMENT, RING_MM, known_well
from schematic.drawing.fills import Rect, dots, hatch, zigzag
from schematic.drawing.findings import flag
from schematic.drawing.palette import (
    BLACK,
    ESTIMATED_DASH_MM,
    FINE_MM,
    GREEN,
    GREY,
    HEAVY_MM,
    OUTLINE_MM,
    PLANNED_DASH_MM,
)
from schematic.drawing.scene import Dots, Group, Path, Shape, Style, Text
from schematic.drawing.section import Place
from schematic.outcome import Found, Severity


def legend(evaluation: Evaluation, top_mm: float, left_mm: float, *, fitted: bool) -> Group:
    """Samples of what this page uses and no label names."""
    plan = evaluation.plan
    shapes: list[Shape] = [Text(left_mm, top_mm, "Legend", bold=True)]
    entries: list[tuple[str, list[Shape]]] = []
    w, h = 5.6, 3.4

    def sample(words: str, made: list[Shape]) -> None:
        entries.append((words, made))

    def at(index: int) -> tuple[float, float]:
        return left_mm + 32.0 * (index % 2), top_mm + 2.2 + 4.4 * (index // 2)

    def box() -> Rect:
        x, y = at(len(entries))
        return Rect(x, y, x + w, y + h)

    r = box()
    middle = 0.5 * (r.left_mm + r.right_mm)
    sample(
        "casing in place, shoe",
        [
            *glyphs_well.casing(Place(middle, r.top_mm, r.bottom_mm), 1.4, 0.8),
            *glyphs_well.casing_shoe(middle, r.bottom_mm, 1.4, 1.6, 3.0),
        ],
    )
    r = box()
    middle = 0.5 * (r.left_mm + r.right_mm)
    sample(
        "liner of this plan",
        list(glyphs_liner.joints(Place(middle, r.top_mm, r.bottom_mm), 1.4, 0.85, 1.7, (r.top_mm + 1.7,))),
    )
    if any(s.cement_top_md_m is not None for s in plan.depth.strings):
        r = box()
        sample("cement in place", [Dots(dots(r, *OLD_CEMENT), OLD_CEMENT[1], Style(fill=BLACK))])
    if evaluation.cement:
        r = box()
        words = "lead above tail" if len(plan.cement.slurries) == 2 else "cement of this job"
        sample(words, [Dots(dots(r, 0.66, JOB_DOT_MM), JOB_DOT_MM, Style(fill=GREEN))])
        planned = plan.cement.planned_top_md_m
        if planned is not None and planned < plan.depth.liner.top_md_m:
            r = box()
            ring = Style(stroke=GREEN, width_mm=FINE_MM)
            sample(
                "cement to reverse out",
                [Dots(dots(r, 1.0, RING_MM, clear_mm=0.0), RING_MM, ring)],
            )
    if any(
        abs(a - b) > 1e-6
        for a, b in zip(plan.depth.hole.diameter_m.values, plan.depth.hole.gauge_m.values, strict=True)
    ):
        r = box()
        wall = glyphs_well.hole_wall(
            r.left_mm + 2.2, (glyphs_well.HoleStep(r.top_mm, r.bottom_mm, 0.0, True),), 1
        )
        outline = (*wall, (r.left_mm + 4.6, r.bottom_mm), (r.left_mm + 4.6, r.top_mm))
        sample(
            "hole wider than bit",
            [
                Path(hatch(outline, 1.15, rising=True), Style(stroke=GREY, width_mm=FINE_MM)),
                Path((wall,), Style(stroke=BLACK, width_mm=OUTLINE_MM)),
            ],
        )
    seen: dict[Severity, Found] = {}
    for outcome in evaluation.findings:
        if isinstance(outcome.answer, Found):
            seen.setdefault(outcome.answer.severity, outcome.answer)
    for severity, answer in seen.items():
        r = box()
        sample(f"{severity.value} found", flag(r.left_mm + 2.8, r.top_mm + 1.7, "a", answer))
    if plan.cement.planned_top_md_m is not None:
        r = box()
        dash = Style(stroke=GREEN, width_mm=OUTLINE_MM, dash=PLANNED_DASH_MM)
        sample("planned top", [Path((((r.left_mm, r.top_mm + 1.7), (r.right_mm, r.top_mm + 1.7)),), dash)])
    if any(known_well(s.cement_known_by) for s in plan.depth.strings if s.cement_top_md_m is not None):
        r = box()
        heavy = Style(stroke=BLACK, width_mm=HEAVY_MM)
        sample(
            "cement top, known",
            [Path((((r.left_mm, r.top_mm + 1.7), (r.right_mm, r.top_mm + 1.7)),), heavy)],
        )
    if any(not known_well(s.cement_known_by) for s in plan.depth.strings if s.cement_top_md_m):
        r = box()
        dash = Style(stroke=BLACK, width_mm=OUTLINE_MM, dash=ESTIMATED_DASH_MM)
        sample("top, estimated", [Path((((r.left_mm, r.top_mm + 1.7), (r.right_mm, r.top_mm + 1.7)),), dash)])
    if fitted:
        r = box()
        mark = zigzag(r.left_mm + 0.6, r.right_mm - 0.6, r.top_mm + 1.7, (0.5 * (r.left_mm + r.right_mm),))
        sample("depth scale changes", [Path((mark,), Style(stroke=BLACK, width_mm=FINE_MM))])
    for index, (words, made) in enumerate(entries):
        x, y = at(index)
        shapes += made
        shapes.append(Text(x + w + 1.4, y + 2.5, words))
    return Group("", "legend", tuple(shapes))
