"""The band of the liner in the true path; inclination, dogleg and caliper read back from their tracks."""

from __future__ import annotations

import math
import re
from functools import cache

import pytest

from schematic import check
from schematic.drawing.caliper_track import caliper_track
from schematic.drawing.fills import Rect
from schematic.drawing.grid import PAPERS
from schematic.drawing.palette import BLACK, BLUE
from schematic.drawing.path_track import path_track
from schematic.drawing.pressure_track import pressure_track
from schematic.drawing.scene import Path, Text
from schematic.drawing.section_view import section_view
from schematic.drawing.sheet import wells_of
from schematic.verbs import load_text
from tests.drawing.torture import WELLS

DEVIATED = ["sollivane", "tarnvale-h3.yaml", "ossmere-9.yaml", "ninety degrees"]


@cache
def evaluated(name):
    return check(load_text(WELLS[name], name))


def drawn(name, size, system="metric"):
    return section_view(evaluated(name), Rect(10.0, 10.0, 10.0 + size[0], 10.0 + size[1]), system, "C")


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


def test_the_pressure_window_goes_on_where_the_hole_comes_back_to_depths_that_are_given():
    """Tarnvale H-3: rows at 1 870 m, TVD 1 687.1, and at 3 230 m, TVD 1 722.3; the hole then rises to TVD 1 686.8
    at 4 600 m, within 5 m of the first row: its pore 1 050 kg/m3 again.
    """
    evaluation = evaluated("tarnvale-h3.yaml")
    _zones, [zone] = wells_of(evaluation, "true", "metric", PAPERS["a3"])
    [window] = pressure_track(evaluation, zone.frame, zone.grid.pressure_mm, "metric", 40.0)
    black = [s for s in window.shapes if isinstance(s, Path) and s.style.stroke == BLACK and not s.style.dash]
    [pore] = [s.runs[0] for s in black]

    assert pore[-1][1] == pytest.approx(zone.frame.y(4600.0), abs=0.01)
    given = max(pore)  # 1 060 kg/m3, at 3 230 m
    assert given[1] == pytest.approx(zone.frame.y(3230.0), abs=0.01)
    assert pore[-1][0] == pytest.approx(pore[0][0], abs=0.01)
