"""Two hundred generated wells, each drawn at a scale, in units and on paper chosen by its seed."""

from __future__ import annotations

import math
import random
from functools import cache
from itertools import pairwise
from typing import NamedTuple
from unittest.mock import patch

import pytest

from schematic import check
from schematic.checks.evaluate import Evaluation
from schematic.drawing import overlap, sheet
from schematic.drawing.grid import PAPERS, Paper, turned
from schematic.drawing.scene import Path, Scene, Sheet, Text
from schematic.drawing.sheet import wells_of
from schematic.drawing.well_zone import WellZone
from schematic.drawing.zones import Zones
from schematic.verbs import load_text
from tests.drawing.generated import COUNT, text_of
from tests.drawing.test_backends import NEAR_MM, show

LEAST_PART_MM = 1.2
SEEDS = range(COUNT)


class Drawn(NamedTuple):
    """A generated well, how it was drawn, and its pages."""

    evaluation: Evaluation
    scale: str
    system: str
    pages: Sheet
    wells: list[WellZone]  # one for each page on which the well stands


def manner(seed: int) -> tuple[str, str, Paper]:
    """Scale, unit system and paper of a seed's drawing."""
    dice = random.Random(seed * 7919 + 1)
    scale, system = dice.choice(("fitted", "true")), dice.choice(("field", "metric"))
    paper = PAPERS[dice.choice(("a4", "a4", "a3", "letter", "tabloid"))]
    return scale, system, turned(paper) if dice.random() < 0.3 else paper


@cache
def drawn(seed: int) -> Drawn:
    scale, system, paper = manner(seed)
    evaluation = check(load_text(text_of(seed), f"seed {seed}"))
    laid: list[tuple[Zones, list[WellZone]]] = []
    with patch.object(sheet, "wells_of", lambda *asked: laid.append(wells_of(*asked)) or laid[0]):
        pages = sheet.well_sheet(evaluation, scale=scale, system=system, paper=paper)
    [(_zones, wells)] = laid
    return Drawn(evaluation, scale, system, pages, wells)


def bodies_mm(evaluation: Evaluation, scene: Scene, well: WellZone) -> list[tuple[float, float]]:
    """Top and foot of the body of each liner part that is whole on the page: of its group that has no words."""
    found = {}
    top, bottom = well.frame.scale.top_md_m - 1e-6, well.frame.scale.bottom_md_m + 1e-6
    for group in scene.groups:
        levels = [y for s in group.shapes if isinstance(s, Path) for run in s.runs for _x, y in run]
        if levels and not any(isinstance(shape, Text) for shape in group.shapes):
            found.setdefault(group.part, (min(levels), max(levels)))
    parts = evaluation.plan.depth.liner.parts
    return [
        found[p.path] for p in parts if p.length_m > 0.0 and top <= p.top_md_m and p.bottom_md_m <= bottom
    ]


@pytest.mark.parametrize("seed", SEEDS)
def test_no_two_texts_overlap_no_line_strikes_one_and_nothing_leaves_the_page(seed):
    for scene in drawn(seed).pages.scenes:
        assert overlap.problems(scene) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_deeper_is_lower_on_the_paper(seed):
    evaluation, _scale, _system, pages, wells = drawn(seed)
    depth = evaluation.plan.depth
    marks = {0.0, depth.td_md_m, *(p.top_md_m for p in depth.liner.parts), *(s.shoe_md_m for s in depth.strings)}  # fmt: skip

    told = set()
    for scene, well in zip(pages.scenes, wells, strict=False):
        low, high = well.frame.scale.top_md_m, well.frame.scale.bottom_md_m
        here = {md for md in marks if low <= md <= high}
        told |= here
        levels = [well.frame.y(md) for md in sorted(here)]
        assert all(above < below for above, below in pairwise(levels))
        tops = [top for top, _foot in bodies_mm(evaluation, scene, well)]
        assert all(above < below for above, below in pairwise(tops))
    assert told == marks  # the pages leave no depth out


@pytest.mark.parametrize("seed", SEEDS)
def test_pages_of_one_well_follow_one_another_without_gap(seed):
    wells = drawn(seed).wells

    assert wells[0].frame.scale.top_md_m == 0.0
    for above, below in pairwise(wells):
        assert above.frame.scale.bottom_md_m == below.frame.scale.top_md_m


@pytest.mark.parametrize("seed", SEEDS)
def test_every_part_has_its_label_on_some_page(seed):
    evaluation, _scale, _system, pages, wells = drawn(seed)
    labelled = {
        group.part
        for scene in pages.scenes[: len(wells)]
        for group in scene.groups
        if any(isinstance(shape, Text) for shape in group.shapes)
    }

    assert {part.path for part in evaluation.plan.depth.liner.parts} <= labelled


@pytest.mark.parametrize("seed", SEEDS)
def test_every_page_is_as_large_as_its_paper(seed):
    paper = manner(seed)[2]

    for scene in drawn(seed).pages.scenes:
        assert (scene.width_mm, scene.height_mm) == (paper.width_mm, paper.height_mm)


@pytest.mark.parametrize("seed", [seed for seed in SEEDS if manner(seed)[0] == "fitted"])
def test_every_part_is_tall_enough_to_be_seen_in_the_fitted_scale(seed):
    evaluation, _scale, _system, pages, wells = drawn(seed)

    bodies = [
        body
        for scene, well in zip(pages.scenes, wells, strict=False)
        for body in bodies_mm(evaluation, scene, well)
    ]
    assert min(foot - top for top, foot in bodies) >= LEAST_PART_MM


@pytest.mark.parametrize("seed", SEEDS)
def test_no_volume_is_negative_or_outside_its_band(seed):
    spaces = drawn(seed).evaluation.volumes.spaces

    assert spaces
    for space in spaces:
        assert 0.0 <= space.low_m3 <= space.m3 <= space.high_m3


def test_a_seed_gives_the_same_well_and_another_seed_another():
    assert text_of(17) == text_of(17)
    assert len({text_of(seed) for seed in SEEDS}) == COUNT


def test_the_generated_wells_are_as_different_as_asked():
    plans = [drawn(seed).evaluation.plan for seed in SEEDS]
    parts = [len(plan.depth.liner.parts) for plan in plans]
    steepest = [max((row[1] for row in plan.depth.path.stations), default=0.0) for plan in plans]

    assert {len(plan.depth.strings) for plan in plans} == {3, 4, 5, 6, 7, 8}
    assert {sum(s.top_md_m > 0.0 for s in plan.depth.strings) for plan in plans} == {0, 1, 2, 3}
    assert (min(parts), max(parts)) == (5, 400)
    assert min(steepest) == 0.0
    assert max(steepest) > math.radians(95.0)
    assert {section.basis for plan in plans for section in plan.depth.hole.sections[-1:]} == {
        "gauge",
        "washout",
        "caliper",
    }
    assert {plan.identity.system for plan in plans} == {"field", "metric"}
    for given in ("running", "cement", "formation"):
        assert len({_has(plan, given) for plan in plans}) == 2
    assert {manner(seed)[:2] for seed in SEEDS} == {
        (scale, system) for scale in ("fitted", "true") for system in ("field", "metric")
    }
    assert {(paper.name, paper.landscape) for paper in (manner(seed)[2] for seed in SEEDS)} == {
        (name, landscape) for name in PAPERS for landscape in (False, True)
    }


def _has(plan, what: str) -> bool:
    if what == "running":
        return plan.depth.running is not None
    return plan.cement.planned_top_md_m is not None if what == "cement" else bool(plan.formation.tops)


@pytest.mark.browser
@pytest.mark.parametrize("seed", range(0, COUNT, COUNT // 10))
def test_a_browser_draws_a_generated_well_without_texts_on_texts(browser_page, seed):
    for scene in drawn(seed).pages.scenes:
        show(browser_page, scene)
        boxes = browser_page.evaluate(
            "[...document.querySelectorAll('text')].map(text => {"
            "  const box = text.getBoundingClientRect();"
            "  return [text.textContent, box.left, box.top, box.right, box.bottom]; })"
        )
        page = browser_page.evaluate(
            "(() => { const b = document.querySelector('svg').getBoundingClientRect();"
            " return [b.left, b.top, b.right, b.bottom, b.width]; })()"
        )
        near = NEAR_MM * page[4] / scene.width_mm
        assert len(boxes) > 25  # the title block alone
        for text, left, top, right, bottom in boxes:
            assert page[0] - near <= left, text
            assert right <= page[2] + near, text
            assert page[1] - near <= top, text
            assert bottom <= page[3] + near, text
        # line boxes are taller than ink: the middle third of each must be free of every other
        cores = [
            (text, left, top + (bottom - top) / 3, right, bottom - (bottom - top) / 3)
            for text, left, top, right, bottom in boxes
        ]
        for index, one in enumerate(cores):
            for other in cores[index + 1 :]:
                across = min(one[3], other[3]) - max(one[1], other[1])
                down = min(one[4], other[4]) - max(one[2], other[2])
                assert across <= near or down <= 0.0, (one[0], other[0])
