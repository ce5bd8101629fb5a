"""The plate of parts, and each glyph on it high and low: true radii, mirrored, no mark stretched."""

from __future__ import annotations

import pytest

from schematic.drawing import parts_plate as plate
from schematic.drawing.grid import PAPERS
from schematic.drawing.overlap import problems
from schematic.drawing.scene import Dots, Path, Text
from schematic.drawing.section import Place

AXIS = 100.0
NAMES = [entry.name for entry in plate.ENTRIES]
TEXTURES = {
    "cement in place",
    "lead slurry",
    "tail slurry",
    "cement to reverse out",
    "spacer",
    "inner string, pack-off",
}
# the widest steel of each part as it is given to its glyph, a 7 in liner at 1:16
WIDEST = {
    "crossover": plate._BODY,
    "swivel": plate._COUPLING,
    "setting sleeve": plate._COUPLING,
    "debris barrier": 8.25 * plate._R,
    "stage collar, closed": 8.0 * plate._R,
    "drill pipe, tool joint": plate._TOOL_JOINT,
    "heavy-weight pipe": 6.5 * plate._R,
    "float collar": plate._COUPLING,
    "joint": plate._COUPLING,
    "perforations": plate._WALL,
    "centralizer": plate._WALL + 2.3,  # the hatch of the hole around it
    "external packer, set": plate._WALL + 2.3,
    "expandable, set": plate._HOST_OD,
    "mechanical hanger, set": plate._HOST_OD,
}


def drawn(name: str, height_mm: float):
    entry = next(entry for entry in plate.ENTRIES if entry.name == name)
    return entry.draw(Place(AXIS, 50.0, 50.0 + height_mm))


def reach(shapes):
    """Farthest from the axis on either side, lines to their edges."""
    radii = []
    for shape in shapes:
        if isinstance(shape, Dots):
            radii += [abs(x - AXIS) + shape.radius_mm for x, _y in shape.centres]
        elif isinstance(shape, Path):
            edge = 0.5 * shape.style.width_mm if shape.style.stroke else 0.0
            radii += [abs(x - AXIS) + edge for run in shape.runs for x, _y in run]
    return max(radii)


@pytest.mark.parametrize("height_mm", [3.0, 60.0])
@pytest.mark.parametrize("name", WIDEST)
def test_a_part_is_as_wide_as_it_is(name, height_mm):
    assert reach(drawn(name, height_mm)) == pytest.approx(
        WIDEST[name], abs=0.2 if "packer" in name or name in ("centralizer", "perforations") else 0.1
    )


@pytest.mark.parametrize("height_mm", [0.8, 3.0, 27.0, 60.0])
@pytest.mark.parametrize("name", NAMES)
def test_a_part_keeps_to_its_height_and_to_lines_that_print(name, height_mm):
    for shape in drawn(name, height_mm):
        if isinstance(shape, Dots):
            continue
        if shape.style.stroke:
            assert shape.style.width_mm >= 0.18
        for _x, y in (point for run in shape.runs for point in run):
            assert 50.0 - 0.35 <= y <= 50.0 + height_mm + 0.35


@pytest.mark.parametrize("height_mm", [3.0, 27.0, 60.0])
@pytest.mark.parametrize("name", [name for name in NAMES if name not in TEXTURES and "hole" not in name])
def test_a_part_is_the_same_on_both_sides(name, height_mm):
    for shape in drawn(name, height_mm):
        if isinstance(shape, Path) and len(shape.runs) < 60:
            xs = sorted(round(x - AXIS, 6) for run in shape.runs for x, _y in run)
            if "hatch" not in name and shape.style.stroke != "#595959":
                assert xs[0] == pytest.approx(-xs[-1], abs=0.4)


@pytest.mark.parametrize("name", ["crossover", "swivel", "stage collar, open", "external packer, run in", "centralizer", "dart in drill pipe", "running tool, dogs out", "debris barrier", "setting sleeve", "perforations"])  # fmt: skip
def test_a_low_part_shows_less_and_a_bar_shows_no_more_than_an_outline(name):
    def count(height_mm: float) -> int:
        return sum(len(s.centres) if isinstance(s, Dots) else len(s.runs) for s in drawn(name, height_mm))

    assert count(0.8) <= count(3.0) <= count(60.0)


@pytest.mark.parametrize("paper", PAPERS.values(), ids=list(PAPERS))
def test_the_plate_overlaps_nothing_and_shows_every_part_once(paper):
    scenes = plate.parts_plate(paper).scenes
    shown = [
        text.text
        for scene in scenes
        for g in scene.groups
        for text in g.shapes
        if isinstance(text, Text) and text.bold
    ]

    for scene in scenes:
        assert problems(scene) == []
    for name in NAMES:
        assert shown.count(name) == 1


def test_every_part_of_the_plate_is_explained_in_the_glossary():
    for entry in plate.ENTRIES:
        assert plate.meaning(entry.term), entry.name
