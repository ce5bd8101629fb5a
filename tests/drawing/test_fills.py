"""Texture: hatch inside its outline, dots wholly inside their band, same points each run."""

import math
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.path import Path as Outline

from schematic.drawing.fills import Rect, dots, hatch, wavy, zigzag

L_SHAPE = ((0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (12.0, 10.0), (12.0, 40.0), (0.0, 40.0))
L_AREA = 30.0 * 10.0 + 12.0 * 30.0


@st.composite
def bands(draw):
    """The outline of a band between two stepped or slanted walls that do not cross."""
    levels = sorted(draw(st.lists(st.floats(0.0, 40.0), min_size=2, max_size=6, unique=True)))
    walls = []
    for low, high in ((0.0, 4.0), (4.5, 12.0)):
        line = []
        for y in levels:
            for x in draw(st.lists(st.floats(low, high), min_size=1, max_size=2)):
                line.append((x, y))
        walls.append(line)
    left, right = walls
    return (*left, *reversed(right))


@st.composite
def rects(draw):
    """Rectangles from a hair to 12 x 40 mm, anywhere on the page."""
    left, top = draw(st.floats(-20.0, 200.0)), draw(st.floats(-20.0, 250.0))
    return Rect(left, top, left + draw(st.floats(0.1, 12.0)), top + draw(st.floats(0.1, 40.0)))


def distances_to_outline(points, outline):
    """Least distance of each point to a closed polyline, by projection on every edge (numpy)."""
    a = np.array(outline)
    b = np.roll(a, -1, axis=0)
    edge = b - a
    p = np.array(points)[:, None, :]
    length = np.maximum((edge**2).sum(axis=1), 1e-30)
    t = np.clip(((p - a) * edge).sum(axis=2) / length, 0.0, 1.0)
    return np.linalg.norm(a + t[..., None] * edge - p, axis=2).min(axis=1)


@pytest.mark.parametrize("rising", [True, False])
def test_hatch_is_at_45_degrees_inside_and_as_dense_as_its_spacing(rising):
    """Length times spacing is the area; the ends of a line miss half a spacing at most."""
    segments = hatch(L_SHAPE, 0.5, rising=rising)
    inside = Outline([*L_SHAPE, L_SHAPE[0]])

    assert inside.contains_points([((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in segments]).all()
    slopes = {round((b[1] - a[1]) / (b[0] - a[0]), 6) for a, b in segments}
    assert slopes == {-1.0 if rising else 1.0}  # y grows downward
    length = sum(math.dist(a, b) for a, b in segments)
    assert length * 0.5 == pytest.approx(L_AREA, rel=0.02)


@pytest.mark.parametrize("rising", [True, False])
def test_hatch_of_two_halves_is_hatch_of_the_whole(rising):
    def length(left, right):
        outline = ((left, 0.0), (right, 0.0), (right, 20.0), (left, 20.0))
        return sum(math.dist(a, b) for a, b in hatch(outline, 1.15, rising=rising))

    assert length(0.0, 7.3) + length(7.3, 20.0) == pytest.approx(length(0.0, 20.0), abs=0.3)


@given(bands(), st.booleans())
def test_no_hatch_leaves_its_band(band, rising):
    outline = np.array(band)
    for a, b in hatch(band, 1.0, rising=rising):
        for x, y in (a, b):
            assert outline[:, 0].min() - 1e-6 <= x <= outline[:, 0].max() + 1e-6
            assert distances_to_outline([(x, y)], band)[0] < 1e-6


@given(rects(), st.sampled_from([(0.66, 0.155), (1.25, 0.15), (1.0, 0.30)]))
def test_every_dot_lies_wholly_inside_and_clear_of_the_edges(rect, size):
    pitch, radius = size
    for x, y in dots(rect, pitch, radius, clear_mm=0.05):
        assert rect.left_mm + radius + 0.05 <= x + 1e-9
        assert x - 1e-9 <= rect.right_mm - radius - 0.05
        assert rect.top_mm + radius + 0.05 <= y + 1e-9
        assert y - 1e-9 <= rect.bottom_mm - radius - 0.05


def test_dots_keep_out_of_what_is_kept_free():
    hole = Rect(4.0, 10.0, 7.0, 14.0)
    centres = dots(Rect(0.0, 0.0, 10.0, 40.0), 0.66, 0.155, keep_out=[hole])

    for x, y in centres:
        away = max(hole.left_mm - x, x - hole.right_mm, hole.top_mm - y, y - hole.bottom_mm)
        assert away >= 0.155
    assert any(4.0 < x < 7.0 for x, _ in centres)  # above and below it there are dots


@pytest.mark.parametrize(("pitch", "radius"), [(0.66, 0.155), (1.25, 0.15), (1.0, 0.30)])
def test_dots_are_as_dense_as_a_staggered_grid_and_none_touch(pitch, radius):
    """A staggered grid has one dot for each pitch times pitch times half the root of three."""
    centres = np.array(dots(Rect(0.0, 0.0, 60.0, 60.0), pitch, radius))

    room = (60.0 - 2 * radius) ** 2
    assert len(centres) == pytest.approx(room / (pitch**2 * math.sqrt(3) / 2), rel=0.04)
    apart = np.linalg.norm(centres[:300, None] - centres[None, :300], axis=2)
    assert apart[apart > 0].min() > 2 * radius


def test_an_annulus_narrower_than_0_45_mm_gets_few_or_no_dots_and_half_a_mm_some():
    def count(width):
        return len(dots(Rect(0.0, 0.0, width, 100.0), 0.66, 0.155))

    assert count(0.40) == 0
    assert count(0.60) > 10


def test_another_run_of_python_gives_the_same_points():
    code = (
        "from schematic.drawing.fills import *;"
        "print(dots(Rect(0, 0, 5, 5), 1.25, 0.15), wavy(3.0, 0.0, 20.0))"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", code], env={"PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("1", "2")
    }

    assert len(runs) == 1


@given(st.floats(0.0, 250.0), st.floats(0.2, 150.0))
def test_a_wavy_wall_starts_and_ends_on_its_line_and_swings_0_15_at_most(top, height):
    line = wavy(40.0, top, top + height)

    assert line[0] == (40.0, top)
    assert line[-1] == (40.0, top + height)
    assert max(abs(x - 40.0) for x, _ in line) <= 0.15 + 1e-9
    assert all(lower[1] > upper[1] for upper, lower in zip(line, line[1:], strict=False))


def test_a_wavy_wall_is_seen_to_wave():
    line = wavy(0.0, 0.0, 60.0)
    turns = sum(1 for (x0, _), (x1, _) in zip(line, line[1:], strict=False) if (x0 > 1e-9) != (x1 > 1e-9))

    assert 30 <= turns <= 50  # two in each wave of about 3 mm
    assert max(x for x, _ in line) > 0.09


def test_a_zigzag_is_level_but_at_its_marks():
    line = zigzag(0.0, 40.0, 5.0, (10.0, 30.0), width_mm=1.4, height_mm=0.75)

    assert line[0] == (0.0, 5.0)
    assert line[-1] == (40.0, 5.0)
    off = [x for x, y in line if y != 5.0]
    assert all(min(abs(x - 10.0), abs(x - 30.0)) <= 0.7 for x in off)
    assert max(y for _, y in line) - min(y for _, y in line) == pytest.approx(1.5)
