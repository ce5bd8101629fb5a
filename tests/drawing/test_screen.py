"""What a screen shows of a well: readable in the narrowest column that a view gets, with nothing left out."""

from __future__ import annotations

import random
from collections.abc import Iterable
from functools import cache

import pytest

from schematic import check
from schematic.checks.evaluate import Evaluation
from schematic.drawing import overlap
from schematic.drawing.scene import Dots, Group, Path, Scene, Text
from schematic.drawing.screen import screen
from schematic.drawing.text import box_mm
from schematic.verbs import demos, load_text
from tests.drawing.generated import COUNT, text_of

NARROW_PX = 563.0  # of the paper in a window of 1024 px
LETTERS_PX = 9.5
EM_MM = 6.5 * 25.4 / 72.0  # of the smallest letters
VIEWS = ("fitted", "true", "liner top", "shoe track")


@cache
def evaluated(name: str) -> Evaluation:
    return check(load_text(demos()[name]))


def beside(group: Group) -> bool:
    """Whether a narrow screen leaves it out."""
    return group.part.startswith("volumes.") or (group.part, group.title) == ("", "volumes")


def edges_mm(groups: Iterable[Group]) -> tuple[float, float]:
    """Left and right of all that is printed."""
    across: list[float] = []
    for shape in (shape for group in groups for shape in group.shapes):
        if isinstance(shape, Text):
            left, _top, right, _bottom = box_mm(shape)
            across += [left, right]
        elif isinstance(shape, Dots):
            across += [x for x, _y in shape.centres]
        else:
            across += [x for run in shape.runs for x, _y in run]
    return min(across), max(across)


def labelled(scene: Scene) -> set[str]:
    return {g.part for g in scene.groups if any(isinstance(shape, Text) for shape in g.shapes)}


@pytest.mark.parametrize("name", demos())
@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("system", ["field", "metric"])
def test_nothing_overlaps_or_is_struck_through(name, view, system):
    scene = screen(evaluated(name), view, system)

    assert overlap.problems(scene) == []


@pytest.mark.parametrize("seed", range(COUNT))
def test_a_generated_well_is_readable_and_all_its_parts_are_named(seed):
    dice = random.Random(seed * 104729 + 3)
    evaluation = check(load_text(text_of(seed), f"seed {seed}"))
    view = dice.choice(VIEWS)

    scene = screen(evaluation, view, dice.choice(("field", "metric")))

    assert overlap.problems(scene) == []
    if view in ("fitted", "true"):
        assert {part.path for part in evaluation.plan.depth.liner.parts} <= labelled(scene)


@pytest.mark.parametrize("name", demos())
@pytest.mark.parametrize("view", VIEWS)
def test_its_letters_are_large_enough_in_a_narrow_column(name, view):
    scene = screen(evaluated(name), view, "field")
    left, right = edges_mm(group for group in scene.groups if not beside(group))

    around = 1.0  # the white about it
    assert EM_MM * NARROW_PX / (right - left + around) > LETTERS_PX


@pytest.mark.parametrize("name", demos())
def test_volumes_stand_right_of_all_else_and_the_scales_are_stated(name):
    scene = screen(evaluated(name), "fitted", "field")
    volumes = [group for group in scene.groups if beside(group)]

    assert len(volumes) > 2
    assert min(edges_mm(volumes)) > max(edges_mm(group for group in scene.groups if not beside(group)))
    words = [s.text for g in scene.groups for s in g.shapes if isinstance(s, Text)]
    assert any("diameters 1:" in text for text in words)
    assert not any(text.startswith("Findings") for text in words)  # they stand beside the drawing


def test_a_crowded_well_makes_the_drawing_higher_and_loses_no_part():
    text = demos()["brindlewick-4.yaml"]
    pup = "    - {part: pup joint, length: 12.0 ft}\n"
    assert text.count(pup) == 1
    crowded = check(load_text(text.replace(pup, pup * 22)))

    scene = screen(crowded, "fitted", "field")

    assert scene.height_mm > screen(evaluated("brindlewick-4.yaml"), "fitted", "field").height_mm
    assert overlap.problems(scene) == []
    assert {part.path for part in crowded.plan.depth.liner.parts} <= labelled(scene)
    assert not any(isinstance(s, Path) and not s.runs for g in scene.groups for s in g.shapes)
