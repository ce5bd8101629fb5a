"""Rock textures stay in their rectangle and differ in form, since all are one light grey."""

import pytest

from schematic.drawing import rock_track
from schematic.drawing.fills import Rect
from schematic.drawing.palette import LIGHT_GREY
from schematic.drawing.rock import coal, dolomite, limestone, marl, salt, sand, shale
from schematic.drawing.scene import Dots, Path
from schematic.verbs import demos, load_text
from schematic.wellfile.problem import InputError

BED = Rect(189.2, 60.3, 202.0, 91.7)
TEXTURES = [shale, marl, limestone, dolomite, sand, salt, coal]


@pytest.mark.parametrize("texture", TEXTURES)
@pytest.mark.parametrize("bed", [BED, Rect(0.0, 0.0, 12.8, 0.9), Rect(5.0, 10.0, 5.4, 30.0)])
def test_texture_stays_inside_its_bed(texture, bed):
    shape = texture(bed)
    points = shape.centres if isinstance(shape, Dots) else [p for run in shape.runs for p in run]
    grow = shape.radius_mm if isinstance(shape, Dots) else 0.0

    assert all(bed.left_mm - 1e-9 <= x - grow and x + grow <= bed.right_mm + 1e-9 for x, _ in points)
    assert all(bed.top_mm - 1e-9 <= y - grow and y + grow <= bed.bottom_mm + 1e-9 for _, y in points)


def test_each_rock_has_a_form_of_its_own():
    def slants(shape):
        return {round(abs((a[0] - b[0]) / max(abs(a[1] - b[1]), 1e-9)), 2) for a, b in shape.runs}

    assert isinstance(sand(BED), Dots)
    assert all(a[1] == b[1] for a, b in shale(BED).runs)
    assert max(b[0] - a[0] for a, b in shale(BED).runs) == pytest.approx(1.4)
    assert 0.0 in slants(limestone(BED))
    assert 0.0 not in slants(dolomite(BED))
    assert any(0.0 < s < 5.0 for s in slants(dolomite(BED)))
    lengths = {round(b[0] - a[0], 1) for a, b in marl(BED).runs}
    assert {0.0, 1.4, round(BED.right_mm - BED.left_mm, 1)} <= lengths  # joints, dashes, courses
    assert max(abs(b[0] - a[0]) for a, b in salt(BED).runs) == pytest.approx(0.9)
    assert coal(BED).closed


def test_each_rock_that_a_file_may_name_has_a_texture_but_other():
    text = demos()["ossmere-9.yaml"].replace("rock: salt", "rock: granite")
    with pytest.raises(InputError) as refused:
        load_text(text)
    [problem] = refused.value.problems
    named = problem.accepted.removeprefix("one of: ").split(", ")

    assert {*rock_track._TEXTURES, "other"} == set(named)


@pytest.mark.parametrize("texture", TEXTURES)
def test_all_are_one_light_grey_that_carries_no_meaning(texture):
    style = texture(BED).style
    assert LIGHT_GREY in (style.stroke, style.fill)
    assert isinstance(texture(BED), Path | Dots)
