"""Laws of the pipe ratings that hold for every pipe; the printed numbers are in tests/published."""

from math import inf, nan, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schematic.catalogue.grades import MINIMUM_YIELD_KSI, minimum_yield_pa
from schematic.catalogue.ratings import (
    GREATEST_YIELD_PA,
    LEAST_YIELD_PA,
    body_yield_n,
    burst_pa,
    collapse,
    collapse_factors,
    ratings,
    reduced_yield_pa,
)
from schematic.catalogue.rows import casing_rows
from schematic.units import INCH_M, PSI_PA

yields_pa = st.floats(LEAST_YIELD_PA, GREATEST_YIELD_PA)
ratios = st.floats(4.0, 80.0)  # D/t of anything that is run in a well
OD_M = 7 * INCH_M


def of_ratio(ratio, yield_pa, tension_pa=0.0):
    return collapse(OD_M, OD_M / ratio, yield_pa, tension_pa)


@given(ratios, yields_pa, yields_pa)
def test_a_stronger_steel_bears_no_less(ratio, one_pa, other_pa):
    low_pa, high_pa = sorted((one_pa, other_pa))
    wall_m = OD_M / ratio

    assert of_ratio(ratio, low_pa).pressure_pa <= of_ratio(ratio, high_pa).pressure_pa * (1 + 1e-9)
    assert burst_pa(OD_M, wall_m, low_pa) <= burst_pa(OD_M, wall_m, high_pa)
    assert body_yield_n(OD_M, wall_m, low_pa) <= body_yield_n(OD_M, wall_m, high_pa)


@given(ratios, ratios, yields_pa)
def test_a_thicker_wall_bears_no_less(one, other, yield_pa):
    thick, thin = sorted((one, other))

    assert of_ratio(thin, yield_pa).pressure_pa <= of_ratio(thick, yield_pa).pressure_pa * (1 + 1e-9)
    assert burst_pa(OD_M, OD_M / thin, yield_pa) <= burst_pa(OD_M, OD_M / thick, yield_pa)
    assert body_yield_n(OD_M, OD_M / thin, yield_pa) <= body_yield_n(OD_M, OD_M / thick, yield_pa) * (
        1 + 1e-9
    )


@given(yields_pa)
def test_the_regimes_stand_in_their_order_and_meet_without_a_step(yield_pa):
    factors = collapse_factors(yield_pa)
    limits = factors[-3:]

    assert list(limits) == sorted(limits)
    for limit, words in zip(
        limits, (("yield", "plastic"), ("plastic", "transition"), ("transition", "elastic")), strict=True
    ):
        before, after = of_ratio(limit * (1 - 1e-9), yield_pa), of_ratio(limit * (1 + 1e-9), yield_pa)
        assert (before.regime, after.regime) == words
        assert before.pressure_pa == pytest.approx(after.pressure_pa, rel=1e-7)


@given(ratios, yields_pa, st.floats(0.01, 10.0))
def test_pressures_go_by_shape_and_tension_by_area(ratio, yield_pa, scale):
    small, large = (ratings(od_m, od_m / ratio, yield_pa) for od_m in (OD_M, OD_M * scale))

    assert large.burst_pa == pytest.approx(small.burst_pa)
    assert large.collapse.pressure_pa == pytest.approx(small.collapse.pressure_pa, rel=1e-6)
    assert large.body_yield_n == pytest.approx(small.body_yield_n * scale**2)


@given(ratios, yields_pa)
def test_body_yield_is_the_area_of_the_ring_times_the_yield(ratio, yield_pa):
    wall_m = OD_M / ratio
    ring_m2 = pi / 4 * (OD_M**2 - (OD_M - 2 * wall_m) ** 2)

    assert body_yield_n(OD_M, wall_m, yield_pa) == pytest.approx(ring_m2 * yield_pa)


@given(ratios)
def test_elastic_collapse_does_not_know_the_grade(ratio):
    weak, strong = (of_ratio(ratio, grade_pa) for grade_pa in (80_000 * PSI_PA, 110_000 * PSI_PA))

    if weak.regime == strong.regime == "elastic":
        assert weak.pressure_pa == strong.pressure_pa


@given(yields_pa, st.floats(0.0, 0.999))
def test_the_reduced_yield_lies_on_the_ellipse_of_two_stresses(yield_pa, share):
    """With hoop stress -Ya and axial stress s, s^2 + s Ya + Ya^2 = Y^2: the ellipse of which 5C3's form is the root."""
    axial_pa = share * yield_pa
    left_pa = reduced_yield_pa(yield_pa, axial_pa)

    assert axial_pa**2 + axial_pa * left_pa + left_pa**2 == pytest.approx(yield_pa**2)
    assert 0.0 < left_pa <= yield_pa


def test_tension_takes_from_collapse_and_none_takes_nothing():
    yield_pa = 80_000 * PSI_PA
    pressures = [of_ratio(17.0, yield_pa, share * yield_pa).pressure_pa for share in (0.0, 0.2, 0.4, 0.6)]

    assert reduced_yield_pa(yield_pa, 0.0) == yield_pa
    assert pressures[0] == of_ratio(17.0, yield_pa).pressure_pa
    assert pressures == sorted(pressures, reverse=True)
    assert len(set(pressures)) == 4


def test_collapse_says_with_which_yield_it_was_reckoned():
    loaded = of_ratio(17.0, 80_000 * PSI_PA, 20_000 * PSI_PA)

    assert loaded.yield_pa == reduced_yield_pa(80_000 * PSI_PA, 20_000 * PSI_PA)
    assert loaded.od_over_wall == pytest.approx(17.0)


@pytest.mark.parametrize("grade", MINIMUM_YIELD_KSI)
def test_every_listed_casing_is_rated_in_every_listed_grade(grade):
    for row in casing_rows():
        rated = ratings(row.od_m, row.wall_m, minimum_yield_pa(grade))
        assert min(rated.burst_pa, rated.collapse.pressure_pa, rated.body_yield_n) > 0.0


@pytest.mark.parametrize(
    ("od_m", "wall_m"),
    [(0.0, 0.0), (0.2, 0.0), (0.2, -0.01), (0.2, 0.1), (nan, 0.01), (0.2, nan), (inf, 0.01)],
)
@pytest.mark.parametrize("formula", [burst_pa, body_yield_n, collapse, ratings])
def test_a_wall_that_does_not_fit_is_refused(formula, od_m, wall_m):
    with pytest.raises(ValueError, match="does not fit in an OD"):
        formula(od_m, wall_m, 80_000 * PSI_PA)


@pytest.mark.parametrize("yield_pa", [0.0, -1.0, nan, inf])
@pytest.mark.parametrize("formula", [burst_pa, body_yield_n, collapse, ratings])
def test_a_yield_that_is_none_is_refused(formula, yield_pa):
    with pytest.raises(ValueError, match="yield strength"):
        formula(0.1778, 0.0104, yield_pa)


@pytest.mark.parametrize("yield_psi", [19_000, 156_000])
def test_the_collapse_factors_are_not_carried_out_of_their_range(yield_psi):
    with pytest.raises(ValueError, match="outside 20000 to 155000 psi"):
        collapse_factors(yield_psi * PSI_PA)


@pytest.mark.parametrize("share", [-0.1, 1.0, 1.2, nan])
def test_compression_and_tension_beyond_yield_are_refused(share):
    with pytest.raises(ValueError, match="outside 0 up to the yield strength"):
        collapse(0.1778, 0.0104, 80_000 * PSI_PA, share * 80_000 * PSI_PA)


def test_tension_that_leaves_too_little_is_refused_not_answered():
    with pytest.raises(ValueError, match="for which the collapse factors hold"):
        collapse(0.1778, 0.0104, 80_000 * PSI_PA, 0.95 * 80_000 * PSI_PA)


@pytest.mark.parametrize("fraction", [0.0, -0.5, 1.01, nan])
def test_a_least_wall_beyond_the_nominal_is_refused(fraction):
    with pytest.raises(ValueError, match="of the nominal wall"):
        burst_pa(0.1778, 0.0104, 80_000 * PSI_PA, fraction)
