"""The page checker finds each kind of problem, and nothing on a good page."""

import pytest

from schematic.drawing.overlap import problems
from schematic.drawing.scene import Dots, Group, Path, Scene, Style, Text
from schematic.drawing.text import box_mm
from tests.drawing.samples import PAGE


def page(*shapes):
    return Scene(100, 50, "", "", (Group("liner", "Liner", shapes),))


def test_good_page_has_no_problems():
    assert problems(PAGE) == []


@pytest.mark.parametrize(
    "other",
    [
        Text(15, 20, "other"),
        Text(12, 21.5, "other"),
        Text(14, 25, "other words", upward=True),
        Text(15, 20, "."),
    ],
)
def test_texts_on_one_another_are_found(other):
    [problem] = problems(page(Text(10, 20, "Liner hanger"), other))

    assert "Liner hanger" in problem
    assert other.text in problem
    assert "overlaps" in problem


def test_texts_side_by_side_or_in_lines_do_not_overlap():
    first = Text(10, 20, "Liner hanger")
    left, top, right, bottom = box_mm(first)

    touching = (
        Text(right, 20, "a"),
        Text(10, 20 + bottom - top, "b"),
        Text(left, 20, "c", anchor="end"),
    )
    assert problems(page(first, *touching)) == []


def test_blank_text_overlaps_nothing():
    assert problems(page(Text(10, 20, "Liner hanger"), Text(15, 20, " "))) == []


@pytest.mark.parametrize(
    ("text", "side"),
    [
        (Text(10, 20, "Liner hanger", anchor="end"), "left"),
        (Text(10, 1, "Liner hanger"), "top"),
        (Text(90, 20, "Liner hanger"), "right"),
        (Text(10, 49.9, "Liner hanger"), "bottom"),
        (Text(50, 10, "Liner hanger", upward=True), "top"),
    ],
)
def test_text_off_the_page_is_found(text, side):
    assert problems(page(text)) == [f'"Liner hanger" leaves the page at the {side}']


def test_small_text_is_found():
    assert problems(page(Text(10, 20, "Liner", 6.4))) == ['"Liner" is 6.4 pt, under 6.5 pt']


def test_thin_strokes_are_found():
    thin, fine = Style(stroke="#000000", width_mm=0.17), Style(stroke="#000000", width_mm=0.18)
    unstroked = Style(fill="#000000", width_mm=0.0)
    run = ((1, 1), (9, 9))

    assert problems(page(Path((run,), thin))) == ["stroke of liner is 0.17 mm, under 0.18 mm"]
    assert problems(page(Dots(run, 1, thin))) == ["stroke of liner is 0.17 mm, under 0.18 mm"]
    assert problems(page(Path((run,), fine), Dots(run, 1, unstroked))) == []


@pytest.mark.parametrize(
    "shape",
    [
        Text(float("nan"), 20, "Liner"),
        Path((((1, 1), (float("inf"), 9)),), Style(stroke="#000000")),
        Dots(((1, float("nan")),), 1, Style(fill="#000000")),
    ],
)
def test_coordinates_that_are_no_number_are_found(shape):
    [problem] = problems(page(shape))

    assert "not finite" in problem
