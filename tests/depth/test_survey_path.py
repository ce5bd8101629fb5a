"""Laws of the path of the well; published surveys are in tests/published/test_survey.py."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from schematic.depth.survey import SurveyPath


@st.composite
def surveys(draw, steepest_deg=175.0):
    """Two to six stations below one at the datum, never turning straight back."""
    depth, rows = 0.0, [(0.0, draw(st.floats(0.0, min(60.0, steepest_deg))), draw(st.floats(0.0, 359.0)))]
    for _ in range(draw(st.integers(1, 5))):
        depth += round(draw(st.floats(5.0, 900.0)), 2)
        inc = min(max(rows[-1][1] + draw(st.floats(-60.0, 60.0)), 0.0), steepest_deg)
        rows.append((depth, inc, (rows[-1][2] + draw(st.floats(-60.0, 60.0))) % 360.0))
    return SurveyPath((md, math.radians(inc), math.radians(azi)) for md, inc, azi in rows)


SHARES = st.floats(0.0, 1.0)


@given(surveys(), st.floats(1e-6, 1.0))  # quadrature warns of an interval of 1e-308 m
@settings(max_examples=60)
def test_tvd_is_the_integral_of_the_cosine_of_the_inclination(path, share):
    """An independent route: quadrature of the direction along the hole."""
    md = share * path.last_md_m
    corners = [row[0] for row in path.stations if 0.0 < row[0] < md]

    by_quadrature, _error = quad(
        lambda s: math.cos(path.inclination_rad(s)), 0.0, md, points=corners or None, limit=200, epsabs=1e-9
    )

    assert path.tvd_m(md) == pytest.approx(by_quadrature, abs=1e-6)


@given(surveys(), SHARES)
def test_the_length_of_the_path_is_measured_depth(path, share):
    """Summed chords of short pieces; a chord is short of its arc by the square of its bend."""
    md = share * path.last_md_m
    pieces = 400
    spots = [path.position_m(md * n / pieces) for n in range(pieces + 1)]
    bend = sum(
        path.dogleg_rad_per_m(row[0]) * (after[0] - row[0])
        for row, after in zip(path.stations, path.stations[1:], strict=False)
    )

    chords = sum(math.dist(one, two) for one, two in zip(spots, spots[1:], strict=False))

    assert chords <= md * (1 + 1e-12) + 1e-9
    assert chords == pytest.approx(md, rel=max(bend**2 / 100.0, 1e-12), abs=1e-9)


@given(surveys(), SHARES)
def test_the_path_has_no_jump_in_place_or_direction(path, share):
    for md in (*(row[0] for row in path.stations[1:]), share * path.last_md_m):
        step = 1e-5
        before, after = path.position_m(md - step), path.position_m(md + step)

        assert math.dist(before, after) <= 2 * step * (1 + 1e-6) + 1e-9
        assert math.dist(path.tangent(md - step), path.tangent(md + step)) < 1e-3


@given(surveys(), SHARES)
def test_directions_are_of_unit_length(path, share):
    assert math.hypot(*path.tangent(share * 1.2 * path.last_md_m)) == pytest.approx(1.0, abs=1e-12)


@given(surveys(steepest_deg=85.0), SHARES)
def test_a_hole_that_only_falls_gives_its_measured_depth_back(path, share):
    md = share * 1.3 * path.last_md_m

    assert path.md_at_tvd_m(path.tvd_m(md)) == pytest.approx(md, abs=1e-6)


@given(surveys(), SHARES)
def test_past_level_the_first_depth_of_a_tvd_is_given(path, share):
    md = share * path.last_md_m
    tvd = path.tvd_m(md)
    assume(tvd >= 0.0)

    found = path.md_at_tvd_m(tvd)

    assert found <= md + 1e-6
    assert path.tvd_m(found) == pytest.approx(tvd, abs=1e-8)


@given(surveys(), SHARES)
def test_tvd_never_exceeds_measured_depth(path, share):
    md = share * 1.5 * path.last_md_m

    assert abs(path.tvd_m(md)) <= md + 1e-9


def test_a_well_past_level_rises_and_a_tvd_below_its_deepest_is_never_reached():
    """Quarter circle of radius 300 m to level, then on to 120 degrees: the deepest is the radius."""
    radius = 300.0
    path = SurveyPath(
        [
            (0.0, 0.0, 0.0),
            (radius * math.pi / 2, math.pi / 2, 0.0),
            (radius * math.pi * 2 / 3, math.pi * 2 / 3, 0.0),
        ]
    )

    assert path.tvd_m(radius * math.pi / 2) == pytest.approx(radius, abs=1e-9)
    assert path.tvd_m(path.last_md_m) == pytest.approx(radius * math.sin(math.pi * 2 / 3), abs=1e-9)
    assert path.tvd_m(path.last_md_m + 100.0) < path.tvd_m(path.last_md_m)
    with pytest.raises(ValueError, match="never reaches"):
        path.md_at_tvd_m(radius + 0.01)


def test_without_a_survey_the_well_is_vertical():
    path = SurveyPath()

    assert path.is_vertical
    assert path.position_m(2500.0) == (0.0, 0.0, 2500.0)
    assert path.md_at_tvd_m(2500.0) == pytest.approx(2500.0)
    assert path.dogleg_rad_per_m(100.0) == 0.0


def test_below_the_last_station_the_hole_goes_on_straight():
    path = SurveyPath([(0.0, 0.0, 0.0), (100.0, math.radians(60.0), 1.0)])

    assert path.tvd_m(140.0) - path.tvd_m(100.0) == pytest.approx(20.0)  # 40 m times cos 60
    assert path.inclination_rad(500.0) == pytest.approx(math.radians(60.0))
    assert path.dogleg_rad_per_m(500.0) == 0.0


@pytest.mark.parametrize(
    ("rows", "phrase"),
    [
        ([(0, 0, 0), (100, 0, 0), (100, 0, 0)], "must rise"),
        ([(0, 0, 0), (100, 0, 0), (90, 0, 0)], "must rise"),
        ([(0, -0.1, 0)], "not 0 to pi"),
        ([(0, 3.2, 0)], "not 0 to pi"),
        ([(math.nan, 0, 0)], "not 0 to pi"),
        ([(0, math.nan, 0)], "not 0 to pi"),
        ([(0, 0, 0), (100, math.pi, 0)], "straight back"),
    ],
)
def test_what_is_no_path_is_refused(rows, phrase):
    with pytest.raises(ValueError, match=phrase):
        SurveyPath(rows)
