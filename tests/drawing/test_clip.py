"""Shapes cut at two levels."""

from __future__ import annotations

import pytest

from schematic.drawing.clip import clipped
from schematic.drawing.scene import Dots, Group, Path, Style, Text

LINE, SOLID = Style(stroke="#000000"), Style(fill="#000000")


def cut(*shapes):
    groups = clipped((Group("part", "title", shapes, "what it is"),), 10.0, 20.0)
    return groups[0].shapes if groups else ()


def test_a_line_is_cut_at_both_levels():
    (path,) = cut(Path((((0.0, 5.0), (10.0, 25.0)),), LINE))

    assert path.runs == (((2.5, 10.0), (7.5, 20.0)),)


def test_a_line_that_leaves_and_comes_back_is_two_lines():
    (path,) = cut(Path((((0.0, 15.0), (1.0, 25.0), (2.0, 15.0)),), LINE))

    assert path.runs == (((0.0, 15.0), (0.5, 20.0)), ((1.5, 20.0), (2.0, 15.0)))


def test_a_triangle_becomes_a_trapeze_of_the_right_area():
    """By hand: of a triangle 10 high and 8 wide, point up, the lower half is three quarters."""
    (path,) = cut(Path((((4.0, 15.0), (8.0, 25.0), (0.0, 25.0)),), SOLID, closed=True))
    (run,) = path.runs
    area = 0.5 * abs(
        sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(run, (*run[1:], run[0]), strict=True))
    )

    assert area == pytest.approx(0.5 * 8.0 * 10.0 * 0.25)


def test_what_is_inside_stays_as_it_is_and_what_is_outside_goes():
    inside = Path((((0.0, 11.0), (1.0, 19.0)),), LINE)

    assert cut(inside, Text(0.0, 15.0, "in")) == (inside, Text(0.0, 15.0, "in"))
    assert cut(Path((((0.0, 1.0), (1.0, 9.0)),), LINE), Text(0.0, 5.0, "out")) == ()


def test_a_dot_stays_whole_or_goes():
    (dots,) = cut(Dots(((0.0, 10.4), (0.0, 15.0), (0.0, 19.8)), 0.5, SOLID))

    assert dots.centres == ((0.0, 15.0),)


def test_a_group_keeps_its_name_and_description():
    (group,) = clipped((Group("part", "title", (Text(0.0, 15.0, "in"),), "what it is"),), 10.0, 20.0)

    assert (group.part, group.title, group.description) == ("part", "title", "what it is")
