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
    run = ((2, 2), (9, 9))

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


LINE = Style(stroke="#595959", width_mm=0.2)
INK = Style(fill="#000000")


@pytest.mark.parametrize(
    ("shape", "told"),
    [
        (Path((((0.05, 9), (20, 9)),), LINE), "path of liner leaves the page at the left"),
        (Path((((50, 49.95), (60, 49.95)),), LINE), "path of liner leaves the page at the bottom"),
        (Dots(((99.5, 10),), 0.6, INK), "dots of liner leaves the page at the right"),
        (Dots(((50, 0.5),), 0.45, LINE), "dots of liner leaves the page at the top"),
    ],
)
def test_shapes_off_the_page_are_found_with_their_stroke(shape, told):
    assert problems(page(shape)) == [told]


def test_shapes_up_to_the_edge_are_on_the_page():
    edge = Path((((0.1, 0.1), (99.9, 49.9)),), LINE)
    assert problems(page(edge, Path((((0, 0), (100, 0), (100, 50)),), INK, closed=True))) == []


def led(*run):
    """A leader with its dot."""
    return Path((run,), LINE), Dots((run[-1],), 0.38, INK)


def groups(*each):
    return Scene(100, 50, "", "", tuple(Group(f"part {n}", "", shapes) for n, shapes in enumerate(each)))


def test_leaders_that_cross_are_found_also_between_groups():
    down, up = led((10, 10), (30, 10), (60, 40)), led((10, 30), (30, 30), (60, 12))

    [problem] = problems(groups(down, up))
    assert problem == "leaders from 10.0, 10.0 mm and 10.0, 30.0 mm cross"


def test_leaders_that_meet_in_one_dot_or_run_side_by_side_do_not_cross():
    assert problems(groups(led((10, 10), (30, 10), (60, 20)), led((10, 30), (30, 30), (60, 20)))) == []
    assert problems(groups(led((10, 10), (60, 10)), led((10, 12), (60, 12)))) == []


def test_lines_without_a_dot_at_their_end_are_no_leaders():
    assert problems(groups((Path((((10, 10), (60, 40)),), LINE),), led((10, 40), (60, 10)))) == []


@pytest.mark.parametrize("first", [True, False])
def test_a_leader_through_a_text_is_found(first):
    shapes = (*led((5, 19.5), (60, 19.5)), Text(10, 20, "Liner hanger"))

    [problem] = problems(page(*(shapes if first else reversed(shapes))))
    assert problem == '"Liner hanger" is struck by a line of liner'


def test_a_text_on_a_ground_of_its_own_is_struck_only_by_what_comes_later():
    text, line = Text(10, 20, "Liner hanger", backed=True), Path((((5, 19.5), (60, 19.5)),), LINE)

    assert problems(page(line, text)) == []
    assert problems(page(text, line)) == ['"Liner hanger" is struck by a line of liner']


def test_a_letter_on_its_disc_is_free_of_the_lines_below_it():
    line, disc, letter = (
        Path((((5, 20), (60, 20)),), LINE),
        Dots(((20, 20),), 1.55, INK),
        Text(19.3, 20.8, "b"),
    )

    assert problems(page(line, disc, letter)) == []
    assert problems(page(disc, line, letter)) == ['"b" is struck by a line of liner']


def test_a_text_under_a_later_panel_is_found():
    panel = Path((((5, 10), (60, 10), (60, 30), (5, 30)),), INK, closed=True)

    assert problems(page(Text(10, 20, "Liner hanger"), panel)) == ['"Liner hanger" is covered by liner']
    assert problems(page(panel, Text(10, 20, "Liner hanger"))) == []


def test_the_edge_of_a_later_fill_strikes_a_text():
    wedge = Path((((12, 19), (60, 10), (60, 30)),), INK, closed=True)

    assert problems(page(Text(10, 20, "Liner hanger"), wedge)) == [
        '"Liner hanger" is struck by a line of liner'
    ]


def test_a_ground_that_cuts_a_wall_is_found():
    wall = Path((((15, 5), (15, 40)),), Style(stroke="#000000", width_mm=0.35))

    assert problems(page(wall, Text(10, 20, "Liner hanger", backed=True))) == [
        'the ground of "Liner hanger" cuts a wall of liner'
    ]
