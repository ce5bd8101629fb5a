"""Laws of a quantity that is constant between depths."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from schematic.depth.by_depth import NOWHERE, ByDepth, DepthError, by_depth

DEPTHS = st.floats(-100.0, 12_000.0).map(lambda depth: round(depth, 4))
POSITIVE = st.floats(1e-4, 3.0)


@st.composite
def steps(draw, values=POSITIVE):
    depths = sorted(draw(st.sets(DEPTHS, min_size=2, max_size=9)))
    held = draw(st.lists(values, min_size=len(depths) - 1, max_size=len(depths) - 1))
    return by_depth(depths, held)


def close(one, other, scale=1.0):
    return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9 * max(scale, 1.0))


@given(steps(), DEPTHS, DEPTHS, DEPTHS)
def test_integrals_of_neighbours_add_up(quantity, one, two, three):
    top, middle, bottom = sorted((one, two, three))

    parts = quantity.integral(top, middle) + quantity.integral(middle, bottom)

    assert close(parts, quantity.integral(top, bottom), quantity.integral())


@given(steps(), DEPTHS, DEPTHS, DEPTHS)
def test_a_longer_interval_holds_no_less(quantity, one, two, three):
    top, middle, bottom = sorted((one, two, three))

    assert quantity.integral(top, middle) <= quantity.integral(top, bottom) + 1e-12


@given(steps(), DEPTHS, DEPTHS)
def test_the_integral_of_a_clip_is_the_integral_between_its_ends(quantity, one, two):
    top, bottom = sorted((one, two))

    clipped = quantity.clip(top, bottom)

    assert close(clipped.integral(), quantity.integral(top, bottom), quantity.integral())


@given(steps(), DEPTHS, DEPTHS)
def test_a_clip_lies_within_its_ends_and_keeps_its_values(quantity, one, two):
    top, bottom = sorted((one, two))
    assume(top < bottom)

    clipped = quantity.clip(top, bottom)

    assert all(top <= depth <= bottom for depth in clipped.depths_m)
    assert by_depth(clipped.depths_m, clipped.values) == clipped
    for above, below, value in clipped.steps():
        assert quantity.at(max(above, (above + below) / 2)) == value


@given(steps())
def test_clipping_outside_leaves_nothing(quantity):
    assert quantity.clip(quantity.bottom_m, quantity.bottom_m + 10.0) == NOWHERE
    assert quantity.clip(quantity.top_m - 10.0, quantity.top_m) == NOWHERE
    assert quantity.clip(quantity.bottom_m, quantity.top_m) == NOWHERE


@given(steps())
def test_clipping_wider_than_it_is_changes_nothing(quantity):
    assert quantity.clip(quantity.top_m - 1.0, quantity.bottom_m + 1.0) == quantity


@given(steps(), steps())
def test_combining_adds_integrals_where_both_are(one, other):
    both = one.combine(other, lambda a, b: a + b)
    top, bottom = max(one.top_m, other.top_m), min(one.bottom_m, other.bottom_m)

    assert close(both.integral(), one.integral(top, bottom) + other.integral(top, bottom), one.integral())


@given(steps(), steps())
def test_combining_is_the_function_of_both_at_every_depth(one, other):
    both = one.combine(other, lambda a, b: a - 2 * b)

    for above, below, value in both.steps():
        middle = max(above, (above + below) / 2)
        assert value == one.at(middle) - 2 * other.at(middle)


@given(steps(), steps())
def test_combining_does_not_depend_on_the_order(one, other):
    assert one.combine(other, lambda a, b: a * b) == other.combine(one, lambda a, b: b * a)


@given(steps(), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_reaching_up_inverts_the_integral(quantity, start, share):
    foot = quantity.top_m + start * (quantity.bottom_m - quantity.top_m)
    assume(foot <= quantity.bottom_m)
    amount = share * quantity.integral(quantity.top_m, foot)

    reached = quantity.reach_up(amount, foot)

    assert quantity.top_m - 1e-6 <= reached <= foot
    assert close(quantity.integral(reached, foot), amount, quantity.integral())


@given(steps(), st.floats(0.0, 0.49), st.floats(0.0, 0.49))
def test_more_reaches_no_less_high(quantity, one, more):
    total = quantity.integral()

    low = quantity.reach_up(one * total, quantity.bottom_m)
    high = quantity.reach_up((one + more) * total, quantity.bottom_m)

    assert high <= low + 1e-6


@given(steps())
def test_more_than_there_is_room_for_is_refused(quantity):
    with pytest.raises(DepthError, match="no room"):
        quantity.reach_up(1.001 * quantity.integral(), quantity.bottom_m)


def test_reaching_up_passes_a_stretch_without_room():
    quantity = by_depth((0.0, 10.0, 20.0, 30.0), (2.0, 0.0, 1.0))

    assert quantity.reach_up(14.0, 30.0) == pytest.approx(8.0)
    assert quantity.reach_up(10.0, 30.0) == pytest.approx(20.0)


@given(steps(), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_reaching_down_inverts_the_integral(quantity, start, share):
    head = quantity.top_m + start * (quantity.bottom_m - quantity.top_m)
    assume(head <= quantity.bottom_m)
    amount = share * quantity.integral(head, quantity.bottom_m)

    reached = quantity.reach_down(amount, head)

    assert head <= reached <= quantity.bottom_m + 1e-6
    assert close(quantity.integral(head, reached), amount, quantity.integral())


@given(steps(), st.floats(0.0, 1.0))
def test_reaching_up_and_down_meet(quantity, share):
    total = quantity.integral()

    down = quantity.reach_down(share * total, quantity.top_m)
    up = quantity.reach_up((1.0 - share) * total, quantity.bottom_m)

    assert close(quantity.integral(quantity.top_m, down), quantity.integral(quantity.top_m, up), total)


def test_reaching_down_passes_a_stretch_without_room():
    quantity = by_depth((0.0, 10.0, 20.0, 30.0), (2.0, 0.0, 1.0))

    assert quantity.reach_down(24.0, 0.0) == pytest.approx(24.0)
    assert quantity.reach_down(20.0, 0.0) == pytest.approx(10.0)
    with pytest.raises(DepthError, match="no room"):
        quantity.reach_down(30.1, 0.0)


def test_nowhere_has_no_room():
    with pytest.raises(DepthError, match="no room"):
        NOWHERE.reach_down(1.0, 0.0)

    assert NOWHERE.reach_up(0.0, 5.0) == 5.0


def test_a_negative_amount_is_refused():
    with pytest.raises(DepthError, match="negative"):
        by_depth((0.0, 1.0), (1.0,)).reach_up(-1.0, 1.0)


def test_at_a_step_the_value_below_holds_and_at_the_bottom_the_last():
    quantity = by_depth((0.0, 10.0, 20.0), (1.0, 2.0))

    assert [quantity.at(depth) for depth in (0.0, 9.999, 10.0, 20.0)] == [1.0, 1.0, 2.0, 2.0]


@pytest.mark.parametrize("depth", [-0.1, 20.1])
def test_outside_there_is_no_value_but_the_integral_is_nought(depth):
    quantity = by_depth((0.0, 20.0), (1.0,))

    with pytest.raises(DepthError, match="outside"):
        quantity.at(depth)
    assert quantity.integral(depth - 0.05, depth) == 0.0


@pytest.mark.parametrize(
    ("depths", "values"),
    [((0.0, 1.0), ()), ((0.0,), (1.0,)), ((0.0, 1.0, 1.0), (1.0, 2.0)), ((1.0, 0.0), (1.0,)), ((), (1.0,)),
     ((0.0, math.nan), (1.0,))],
)  # fmt: skip
def test_what_is_no_row_of_steps_is_refused(depths, values):
    with pytest.raises(DepthError):
        by_depth(depths, values)


def test_nowhere_holds_nothing():
    some = by_depth((0.0, 1.0), (1.0,))

    assert NOWHERE.integral() == 0.0
    assert some.combine(NOWHERE, max) == NOWHERE == NOWHERE.combine(some, max)
    assert NOWHERE.clip(0.0, 1.0) == NOWHERE == by_depth((), ())
    with pytest.raises(DepthError, match="nowhere"):
        _ = NOWHERE.top_m
    with pytest.raises(DepthError, match="nowhere"):
        _ = NOWHERE.bottom_m


@given(steps(), st.floats(0.1, 9.0))
def test_mapping_changes_values_alone(quantity, factor):
    changed = quantity.map(lambda value: factor * value)

    assert isinstance(changed, ByDepth)
    assert changed.depths_m == quantity.depths_m
    assert close(changed.integral(), factor * quantity.integral(), changed.integral())


def test_an_integral_over_many_steps_is_their_sum():
    """Long quantities are looked up, short ones added up: both are the sum of the pieces."""
    depths = [0.7 * n + (n % 3) / 10 for n in range(501)]
    values = [0.03 + (n * 37 % 101) / 1e3 for n in range(500)]
    quantity = by_depth(depths, values)

    for top, bottom in ((0.0, 350.2), (0.35, 300.1), (17.0, 18.0), (100.05, 330.9), (-5.0, 1000.0)):
        pieces = [
            value * (min(below, bottom) - max(above, top))
            for above, below, value in zip(depths, depths[1:], values, strict=False)
            if max(above, top) < min(below, bottom)
        ]
        assert quantity.integral(top, bottom) == pytest.approx(math.fsum(pieces), rel=1e-12)
