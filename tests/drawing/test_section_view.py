"""The true path on paper: one scale both ways, every event at its place, nothing on anything else."""

from __future__ import annotations

import math
import re
from functools import cache

import pytest

from schematic import check
from schematic.depth.section import closure_rad, departure_m
from schematic.drawing.caliper_track import caliper_track
from schematic.drawing.captions import DOT_MM
from schematic.drawing.fills import Rect
from schematic.drawing.grid import PAPERS
from schematic.drawing.overlap import problems
from schematic.drawing.palette import BLUE
from schematic.drawing.path_track import path_track
from schematic.drawing.scene import Dots, Path, Scene, Text
from schematic.drawing.section_view import section_view
from schematic.drawing.sheet import wells_of
from schematic.verbs import load_text
from tests.drawing.generated import text_of
from tests.drawing.torture import WELLS

SIZES = [(62.0, 52.0), (95.0, 95.0), (125.0, 64.0), (180.0, 70.0)]
DEVIATED = ["sollivane", "tarnvale-h3.yaml", "ossmere-9.yaml", "ninety degrees"]
SEEDS = range(0, 200, 9)


@cache
def evaluated(name):
    return check(load_text(WELLS[name] if isinstance(name, str) else text_of(name), str(name)))


def drawn(name, size, system="metric"):
    return section_view(evaluated(name), Rect(10.0, 10.0, 10.0 + size[0], 10.0 + size[1]), system, "C")


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", [*DEVIATED, *SEEDS])
def test_nothing_overlaps_and_nothing_leaves_the_rectangle(name, size):
    groups = drawn(name, size)
    scene = Scene(20.0 + size[0], 20.0 + size[1], "", "", tuple(groups))

    assert problems(scene) == []
    for shape in (shape for group in groups for shape in group.shapes):
        if isinstance(shape, Path):
            for x, y in (point for run in shape.runs for point in run):
                assert 9.9 <= x <= 10.1 + size[0]
                assert 9.9 <= y <= 10.1 + size[1]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", DEVIATED)
def test_events_stand_where_they_are_at_the_scale_that_is_written(name, size):
    evaluation = evaluated(name)
    groups = drawn(name, size)
    said = " ".join(s.text for g in groups for s in g.shapes if isinstance(s, Text))
    ratio = float(re.search(r"1:([\d\u2009]+)", said).group(1).replace("\u2009", ""))
    depth = evaluation.plan.depth
    path, bottom = depth.path, max(depth.td_md_m, depth.liner.shoe_md_m)
    azimuth = closure_rad(path, bottom)
    at = {
        group.part: shape.centres[0]
        for group in groups
        for shape in group.shapes
        if isinstance(shape, Dots) and shape.radius_mm == DOT_MM and group.part in ("liner", "liner.shoe")
    }
    if not at:  # no room beside the path: the events are told below it
        assert "liner shoe" in said
        return
    top, shoe = at["liner"], at["liner.shoe"]
    md0, md1 = depth.liner.top_md_m, depth.liner.shoe_md_m

    across = (departure_m(path, md1, azimuth) - departure_m(path, md0, azimuth)) * 1000.0 / ratio
    down = (path.tvd_m(md1) - path.tvd_m(md0)) * 1000.0 / ratio
    assert shoe[0] - top[0] == pytest.approx(across, abs=0.01)
    assert shoe[1] - top[1] == pytest.approx(down, abs=0.01)


def test_the_liner_is_the_one_solid_band():
    for name in DEVIATED:
        solid = [
            g.part
            for g in drawn(name, (95.0, 95.0))
            for s in g.shapes
            if isinstance(s, Path) and s.style.fill == BLUE
        ]
        assert solid == ["liner"]


def test_a_vertical_well_has_no_section():
    assert drawn("brindlewick", (95.0, 95.0)) == []


def test_tracks_read_back_inclination_and_hole():
    """Sollivane holds 55 degrees below 1 260 m; its hole is calipered at 224 mm for a bit of 215.9 mm."""
    evaluation = evaluated("sollivane")
    frame = wells_of(evaluation, "fitted", "metric", PAPERS["a3"])[1][0].frame
    lean, *_ = path_track(evaluation, frame, (200.0, 224.0), "metric", 60.0)
    marks = {s.text: s.x_mm for s in lean.shapes if isinstance(s, Text) and s.text.isdigit()}
    (low, x0), (high, x1) = sorted((float(text), x) for text, x in marks.items())[:2]
    curve = [s for s in lean.shapes if isinstance(s, Path)][-1].runs[0]
    value = low + (curve[-1][0] - x0) / (x1 - x0) * (high - low)
    assert value == pytest.approx(55.0, abs=0.05)

    axis, hole = caliper_track(evaluation, frame, (230.0, 248.0), "metric", 60.0)
    marks = {
        float(s.text): s.x_mm for s in axis.shapes if isinstance(s, Text) and re.fullmatch(r"[\d.]+", s.text)
    }
    (low, x0), *_, (high, x1) = sorted(marks.items())
    lines = [s.runs[0] for s in hole.shapes if isinstance(s, Path)][-2:]
    bit, log = (low + (line[-1][0] - x0) / (x1 - x0) * (high - low) for line in lines)
    assert (bit, log) == pytest.approx((215.9, 224.0), abs=0.05)


def test_dogleg_stands_at_two_and_a_half_degrees_in_the_build():
    evaluation = evaluated("sollivane")
    path = evaluation.plan.depth.path
    assert math.degrees(path.dogleg_rad_per_m(900.0)) * 30.0 == pytest.approx(2.5, abs=1e-6)
    frame = wells_of(evaluation, "true", "metric", PAPERS["a3"])[1][0].frame
    _lean, bend = path_track(evaluation, frame, (200.0, 224.0), "metric", 60.0)
    marks = {
        float(s.text): s.x_mm for s in bend.shapes if isinstance(s, Text) and re.fullmatch(r"[\d.]+", s.text)
    }
    (low, x0), *_, (high, x1) = sorted(marks.items())
    steps = [s for s in bend.shapes if isinstance(s, Path)][-1].runs[0]
    most = max(low + (x - x0) / (x1 - x0) * (high - low) for x, _y in steps)
    assert most == pytest.approx(2.5, abs=0.02)
