"""Plane, turn and bends of a path, against a published survey and geometry worked by hand.

Source of the survey: tests/data/well_1515_directional.csv, see tests/data/SOURCES.md; its column DLS is the dogleg
of the leg above each station in degrees a 100 ft, printed to 0.01.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

from schematic.depth.section import bends_over, departure_m, greatest_bend, section_plane, turn_rad
from schematic.depth.survey import SurveyPath
from schematic.units import FOOT_M

DATA = Path(__file__).parents[1] / "data"


def path_of(*rows):
    """A path from rows of depth in m, inclination and azimuth in degrees."""
    return SurveyPath([(md, math.radians(inc), math.radians(azi)) for md, inc, azi in rows])


def published():
    lines = (DATA / "well_1515_directional.csv").read_text(encoding="utf-8").splitlines()
    rows = [{key: float(value) for key, value in row.items()} for row in csv.DictReader(lines[1:])]
    return rows, path_of(*((row["MD"] * FOOT_M, row["Incl"], row["Azim"]) for row in rows))


@pytest.mark.parametrize("limit", [1.005, 2.005, 4.005, 8.005])  # half way between two printed figures
def test_bends_over_a_limit_are_the_legs_that_the_file_prints_over_it(limit):
    rows, path = published()
    bottom = rows[-1]["MD"] * FOOT_M
    over = {row["MD"] for row in rows if row["DLS"] > limit}

    found = bends_over(path, bottom, math.radians(limit) / (100.0 * FOOT_M))

    inside = {
        row["MD"]
        for row in rows
        if any(bend.top_md_m < row["MD"] * FOOT_M <= bend.bottom_md_m + 1e-6 for bend in found)
    }
    assert inside == over
    for above, below in zip(found, found[1:], strict=False):
        assert above.bottom_md_m < below.top_md_m


def test_the_greatest_bend_has_the_greatest_printed_dogleg():
    rows, path = published()
    most = max(rows, key=lambda row: row["DLS"])

    bend = greatest_bend(path, rows[-1]["MD"] * FOOT_M)

    assert bend.top_md_m < most["MD"] * FOOT_M <= bend.bottom_md_m + 1e-6
    assert math.degrees(bend.dogleg_rad_per_m) * 100.0 * FOOT_M == pytest.approx(most["DLS"], abs=0.006)


def test_legs_of_one_build_are_one_bend_and_what_is_below_the_bottom_does_not_count():
    path = path_of((0, 0, 0), (300, 0, 0), (330, 3, 0), (360, 6, 0), (390, 9, 0), (900, 9, 0), (930, 19, 0))

    bend = greatest_bend(path, 800.0)

    assert (bend.top_md_m, bend.bottom_md_m) == (300.0, 390.0)
    assert math.degrees(bend.dogleg_rad_per_m) * 30.0 == pytest.approx(3.0)
    assert greatest_bend(path, 1000.0).top_md_m == 900.0
    assert greatest_bend(SurveyPath(), 1000.0) is None
    assert (
        bends_over(path, 1000.0, math.radians(3.0) / 30.0)[0].top_md_m == 900.0
    )  # at the limit is not over it


def test_turn_counts_through_north_and_only_where_the_path_leans():
    """By hand: 350 to 20 degrees is 30 through north; what the azimuth says at 2 degrees lean is left out."""
    path = path_of((0, 0, 0), (300, 2, 120), (400, 20, 350), (500, 40, 5), (600, 40, 20), (700, 40, 15))

    assert math.degrees(turn_rad(path, 700.0)) == pytest.approx(30.0)
    assert math.degrees(turn_rad(path, 550.0)) == pytest.approx(15.0)
    assert turn_rad(path_of((0, 0, 0), (500, 4, 10), (600, 4, 90)), 600.0) == 0.0


def test_the_plane_goes_through_the_bottom():
    path = path_of((0, 30, 60), (1000, 30, 60))

    plane = section_plane(path, 1000.0)

    assert math.degrees(plane.azimuth_rad) == pytest.approx(60.0)
    assert plane.through == "bottom"
    assert departure_m(path, 1000.0, plane.azimuth_rad) == pytest.approx(500.0)  # 1000 sin 30


def test_of_a_well_that_comes_back_the_plane_goes_through_its_farthest_point():
    """By hand: out along azimuth 90, then back beside it to near the wellhead."""
    path = path_of((0, 45, 90), (1000, 45, 90), (1300, 45, 269), (2200, 45, 269))

    plane = section_plane(path, 2200.0)

    assert plane.through == "farthest point"
    assert 1000.0 < plane.md_m < 1300.0
    out = departure_m(path, plane.md_m, plane.azimuth_rad)
    north, east, _tvd = path.position_m(plane.md_m)
    assert out == pytest.approx(math.hypot(north, east))
    assert out > departure_m(path, 2200.0, plane.azimuth_rad)
