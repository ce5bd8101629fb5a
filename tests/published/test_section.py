"""Vertical section and closure of a survey against the columns of two published directional files.

Sources, both in tests/data with their licence: well_1515_directional.csv (columns VS, ClsD, ClsA; its section plane
lies at nought azimuth or at the closure of its last station, as the test finds out), printed to 0.01 ft; and
horsetail_08d_1701_plan.csv, whose section lies at the azimuth of its last station from the wellhead, 181.06 degrees.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

from schematic.depth.section import (
    aside_m,
    closure_rad,
    departure_m,
    end_of_build_md_m,
    greatest_bend,
    kick_off_md_m,
    sampled_md_m,
)
from schematic.depth.survey import SurveyPath
from schematic.units import FOOT_M

DATA = Path(__file__).parents[1] / "data"


def well_1515():
    lines = (DATA / "well_1515_directional.csv").read_text(encoding="utf-8").splitlines()
    rows = [{k: float(v) for k, v in row.items()} for row in csv.DictReader(lines[1:])]
    stations = [(r["MD"] * FOOT_M, math.radians(r["Incl"]), math.radians(r["Azim"])) for r in rows]
    return rows, SurveyPath(stations)


def test_closure_distance_and_azimuth_of_every_station():
    rows, path = well_1515()
    for row in rows:
        md = row["MD"] * FOOT_M
        north, east, _tvd = path.position_m(md)
        assert math.hypot(north, east) / FOOT_M == pytest.approx(row["ClsD"], abs=0.011)
        if row["ClsD"] > 5.0:
            off = (math.degrees(closure_rad(path, md)) - row["ClsA"] + 180.0) % 360.0 - 180.0
            assert abs(off) < 0.06


def test_the_section_in_the_plane_of_the_closure_is_the_closure_distance_and_the_rest_lies_aside():
    """Pythagoras: departure and what is aside make up the closure distance that the file prints."""
    rows, path = well_1515()
    azimuth = closure_rad(path, rows[-1]["MD"] * FOOT_M)
    for row in rows:
        md = row["MD"] * FOOT_M
        out, aside = departure_m(path, md, azimuth), aside_m(path, md, azimuth)
        assert math.hypot(out, aside) / FOOT_M == pytest.approx(row["ClsD"], abs=0.011)
    assert out / FOOT_M == pytest.approx(rows[-1]["ClsD"], abs=0.011)
    assert aside == pytest.approx(0.0, abs=1e-6)


def test_the_section_of_the_file_at_its_own_azimuth():
    """The file does not print the azimuth of its section: the one that fits its last station fits all."""
    rows, path = well_1515()
    last = rows[-1]
    share = max(min(last["VS"] / last["ClsD"], 1.0), -1.0)
    planes = [math.radians(last["ClsA"]) + sign * math.acos(share) for sign in (1.0, -1.0)]

    def worst(azimuth: float) -> float:
        return max(abs(departure_m(path, r["MD"] * FOOT_M, azimuth) / FOOT_M - r["VS"]) for r in rows)

    assert min(map(worst, planes)) < 0.25  # an azimuth to 0.01 degree moves 1 000 ft by 0.2


def plan_with_a_hold():
    """By hand: vertical to 300 m, 2 degrees a 30 m to 40 degrees at 900 m, held to 2 000 m, azimuth 90."""
    rows = [(0.0, 0.0, 0.0), (300.0, 0.0, math.pi / 2)]
    rows += [(300.0 + 30.0 * n, math.radians(2.0 * n), math.pi / 2) for n in range(1, 21)]
    rows.append((2000.0, math.radians(40.0), math.pi / 2))
    return SurveyPath(rows)


def test_kick_off_end_of_build_and_greatest_dogleg_of_a_plan_worked_by_hand():
    path = plan_with_a_hold()
    radius = 30.0 / math.radians(2.0)

    assert kick_off_md_m(path) == 300.0
    assert end_of_build_md_m(path) == 900.0
    top, bottom, dogleg = greatest_bend(path, 2000.0)
    assert (top, bottom) == (300.0, 900.0)
    assert math.degrees(dogleg) * 30.0 == pytest.approx(2.0)
    assert departure_m(path, 900.0, math.pi / 2) == pytest.approx(
        radius * (1.0 - math.cos(math.radians(40.0)))
    )
    held = radius * (1.0 - math.cos(math.radians(40.0))) + 1100.0 * math.sin(math.radians(40.0))
    assert departure_m(path, 2000.0, closure_rad(path, 2000.0)) == pytest.approx(held)


def test_a_vertical_well_has_no_kick_off_and_no_departure():
    path = SurveyPath()

    assert kick_off_md_m(path) is None
    assert end_of_build_md_m(path) is None
    assert departure_m(path, 3000.0, closure_rad(path, 3000.0)) == 0.0


def test_samples_follow_an_arc_within_a_centimetre():
    path = plan_with_a_hold()
    depths = sampled_md_m(path, 0.0, 2000.0)

    assert depths[0] == 0.0
    assert depths[-1] == 2000.0
    for above, below in zip(depths, depths[1:], strict=False):
        middle = 0.5 * (above + below)
        chord = 0.5 * (departure_m(path, above, math.pi / 2) + departure_m(path, below, math.pi / 2))
        assert departure_m(path, middle, math.pi / 2) == pytest.approx(chord, abs=0.02)
