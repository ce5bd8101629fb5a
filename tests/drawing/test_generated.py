"""Two hundred generated wells, each drawn at one scale and unit system chosen by its seed."""

from __future__ import annotations

import random

import pytest

from schematic import check
from schematic.drawing import overlap
from schematic.drawing import sheet as layout
from schematic.verbs import load_text, sheet
from tests.drawing.generated import COUNT, text_of
from tests.drawing.strokes import cut, struck
from tests.drawing.test_backends import NEAR_MM, show

LEAST_PART_MM = 1.2


def drawn(seed: int):
    """Evaluation, scale, system and the pages of a seed."""
    dice = random.Random(seed * 7919 + 1)
    scale, system = dice.choice(("fitted", "true")), dice.choice(("field", "metric"))
    evaluation = check(load_text(text_of(seed), f"seed {seed}"))
    return evaluation, scale, system, sheet(evaluation, scale, system)


@pytest.mark.parametrize("seed", range(COUNT))
def test_a_generated_well_is_drawn_with_nothing_on_top_of_anything(seed):
    evaluation, scale, system, pages = drawn(seed)

    few = len(evaluation.plan.depth.liner.parts) <= 60
    for scene in pages.scenes:
        assert overlap.problems(scene) == []
        if few and seed % 4 == 0:  # every line against every text: what takes the time
            assert struck(scene) == []
            assert cut(scene) == []
    grown = pages.scenes[0].height_mm - layout.HEIGHT_MM
    paper = layout._frame(evaluation, scale, system, grown)
    depths = sorted(
        {part.top_md_m for part in evaluation.plan.depth.liner.parts}
        | {string.shoe_md_m for string in evaluation.plan.depth.strings}
        | {0.0, evaluation.plan.depth.td_md_m}
    )
    levels = [paper.y(md) for md in depths]
    assert all(above < below for above, below in zip(levels, levels[1:], strict=False))
    if scale == "fitted":
        tall = [
            paper.y(part.bottom_md_m) - paper.y(part.top_md_m)
            for part in evaluation.plan.depth.liner.parts
            if part.length_m > 0.0
        ]
        assert min(tall) >= LEAST_PART_MM - 1e-6
    for space in evaluation.volumes.spaces:
        assert 0.0 <= space.low_m3 <= space.m3 <= space.high_m3


def test_a_seed_gives_the_same_well():
    assert text_of(17) == text_of(17)
    assert len({text_of(seed) for seed in range(COUNT)}) == COUNT


def test_the_generated_wells_are_as_different_as_asked():
    plans = [check(load_text(text_of(seed))).plan for seed in range(COUNT)]

    assert {min(len(plan.depth.strings), 5) for plan in plans} == {2, 3, 4, 5}
    parts = [len(plan.depth.liner.parts) for plan in plans]
    assert min(parts) <= 8
    assert max(parts) >= 390
    earlier = [sum(string.top_md_m > 0.0 for string in plan.depth.strings) for plan in plans]
    assert set(earlier) == {0, 1, 2, 3}
    steepest = [max(row[1] for row in plan.depth.path.stations) for plan in plans]
    assert min(steepest) == 0.0
    assert max(steepest) > 1.57
    assert {plan.identity.system for plan in plans} == {"field", "metric"}


@pytest.mark.browser
@pytest.mark.parametrize("seed", range(0, COUNT, COUNT // 10))
def test_a_browser_draws_a_generated_well_without_texts_on_texts(browser_page, seed):
    *_rest, pages = drawn(seed)

    for scene in pages.scenes:
        show(browser_page, scene)
        boxes = browser_page.evaluate(
            "[...document.querySelectorAll('text')].map(text => {"
            "  const box = text.getBoundingClientRect();"
            "  const size = parseFloat(getComputedStyle(text).fontSize);"
            "  return [text.textContent, box.left, box.top, box.right, box.bottom, size];"
            "})"
        )
        page = browser_page.evaluate(
            "(() => { const b = document.querySelector('svg').getBoundingClientRect();"
            " return [b.left, b.top, b.right, b.bottom, b.width]; })()"
        )
        mm = page[4] / scene.width_mm
        assert len(boxes) > 60
        for text, left, top, right, bottom, _size in boxes:
            assert page[0] - NEAR_MM * mm <= left, text
            assert right <= page[2] + NEAR_MM * mm, text
            assert page[1] - NEAR_MM * mm <= top, text
            assert bottom <= page[3] + NEAR_MM * mm, text
        # line boxes are taller than ink: the middle third of each must be free of every other
        cores = [
            (text, left, top + (bottom - top) / 3, right, bottom - (bottom - top) / 3)
            for text, left, top, right, bottom, _size in boxes
        ]
        for index, one in enumerate(cores):
            for other in cores[index + 1 :]:
                across = min(one[3], other[3]) - max(one[1], other[1])
                down = min(one[4], other[4]) - max(one[2], other[2])
                assert across <= NEAR_MM * mm or down <= 0.0, (one[0], other[0])
