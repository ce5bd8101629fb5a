"""Label columns: in order, apart, inside, nearest to where they want to be; leaders never cross."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import LinearConstraint, minimize

from schematic.drawing.labels import ColumnTooFullError, Wanted, cross, leader, leaders, place

LEVEL = st.floats(0.0, 140.0)


@st.composite
def columns(draw, most=12):
    """Targets in order (points or intervals), heights, and a column they fit in."""
    count = draw(st.integers(1, most))
    heights = draw(st.lists(st.floats(2.0, 9.0), min_size=count, max_size=count))
    edges = sorted(draw(st.lists(LEVEL, min_size=2 * count, max_size=2 * count)))
    targets = [
        Wanted(low, high) if draw(st.booleans()) else low
        for low, high in zip(edges[::2], edges[1::2], strict=True)
    ]
    gap = draw(st.floats(0.0, 1.0))
    top = draw(st.floats(0.0, 50.0))
    spare = draw(st.floats(0.0, 100.0))
    return targets, heights, top, top + sum(heights) + gap * (count - 1) + spare, gap


def cost(tops, targets):
    total = 0.0
    for top, target in zip(tops, targets, strict=True):
        low, high = target if isinstance(target, Wanted) else (target, target)
        total += max(low - top, top - high, 0.0) ** 2
    return total


@given(columns())
def test_labels_keep_order_and_gap_and_stay_inside(column):
    _, heights, top, bottom, gap = column

    tops = place(*column)

    assert tops[0] >= top - 1e-9
    assert tops[-1] + heights[-1] <= bottom + 1e-9
    for upper, height, lower in zip(tops, heights, tops[1:], strict=False):
        assert lower >= upper + height + gap - 1e-9


@settings(max_examples=60)  # each runs an optimiser twice
@given(columns(most=5))
def test_no_general_optimiser_finds_a_better_column(column):
    """Against SLSQP of scipy, started from packed columns."""
    targets, heights, top, bottom, gap = column
    count = len(heights)
    shifts = np.concatenate([[0.0], np.cumsum(np.array(heights[:-1]) + gap)])
    steps = np.diff(shifts)
    apart = LinearConstraint(np.eye(count)[1:] - np.eye(count)[:-1], steps) if count > 1 else ()
    bounds = [(top, max(top, bottom - heights[-1]))] * count  # equal but for rounding when full
    ours = cost(place(*column), targets)

    for start in (top + shifts, bottom - heights[-1] - shifts[-1] + shifts):
        found = minimize(
            cost,
            start,
            args=(targets,),
            method="SLSQP",
            bounds=bounds,
            constraints=apart,
            options={"ftol": 1e-12, "maxiter": 300},
        )
        legal = np.maximum.accumulate(found.x - shifts) + shifts  # repair rounding of the optimiser
        if legal[-1] <= bottom - heights[-1] + 1e-9 and legal[0] >= top - 1e-9:
            assert ours <= cost(legal, targets) + 1e-3 + 1e-4 * ours


@given(columns())
def test_labels_that_fit_at_their_targets_stay_there(column):
    targets, heights, top, bottom, gap = column
    wanted = [t.low_mm if isinstance(t, Wanted) else t for t in targets]
    free = all(
        lower >= upper + height + gap
        for upper, height, lower in zip(wanted, heights, wanted[1:], strict=False)
    )

    if free and wanted[0] >= top and wanted[-1] + heights[-1] <= bottom:
        assert place(wanted, heights, top, bottom, gap) == pytest.approx(wanted)


def test_two_that_want_the_same_level_share_the_way():
    assert place([50.0, 50.0], [6.0, 6.0], 0.0, 100.0, 1.0) == pytest.approx((46.5, 53.5))


def test_a_label_of_a_long_run_makes_room_without_cost():
    """It stands in the middle of its run when alone and gives way when another needs the place."""
    assert place([Wanted(10.0, 90.0)], [5.0], 0.0, 100.0, 1.0) == pytest.approx((50.0,))

    tops = place([Wanted(10.0, 30.0), 27.0], [8.0, 5.0], 0.0, 100.0, 1.0)

    assert tops[1] == pytest.approx(27.0, abs=1e-4)
    assert 10.0 <= tops[0] <= 18.0 + 1e-4


def test_a_pool_at_the_foot_of_the_column_moves_up_whole():
    tops = place([96.0, 97.0, 98.0], [4.0, 4.0, 4.0], 0.0, 100.0, 1.0)

    assert tops == pytest.approx((86.0, 91.0, 96.0))


def test_a_column_that_is_too_full_says_what_it_needs():
    with pytest.raises(ColumnTooFullError) as caught:
        place([1.0, 2.0, 3.0], [5.0, 5.0, 5.0], 0.0, 16.0, 1.0)

    assert caught.value.needed_mm == pytest.approx(17.0)


def test_an_empty_column_is_empty():
    assert place([], [], 0.0, 10.0, 1.0) == ()


@st.composite
def fans(draw):
    """Starts of a solved column and ends in order, at unequal distances, on either side."""
    count = draw(st.integers(1, 10))
    side = draw(st.sampled_from([1.0, -1.0]))
    starts = sorted(draw(st.lists(LEVEL, min_size=count, max_size=count, unique=True)))
    ends = sorted(draw(st.lists(LEVEL, min_size=count, max_size=count)))
    texts = draw(st.lists(st.floats(0.0, 20.0), min_size=count, max_size=count))
    reach = draw(st.lists(st.floats(0.1, 25.0), min_size=count, max_size=count))
    return (
        [(50.0 - side * t, y) for t, y in zip(texts, starts, strict=True)],
        50.0,
        [(50.0 + side * r, y) for r, y in zip(reach, ends, strict=True)],
    )


def meet_inside(first, second):
    """Whether two segments meet strictly inside both, by solving for the point (numpy)."""
    (a, b), (c, d) = np.array(first), np.array(second)
    matrix = np.column_stack([b - a, c - d])
    if abs(np.linalg.det(matrix)) < 1e-9:
        return False
    s, t = np.linalg.solve(matrix, c - a)
    return 1e-6 < s < 1 - 1e-6 and 1e-6 < t < 1 - 1e-6


@given(fans())
def test_no_two_leaders_of_a_column_cross(fan):
    starts, knee, ends = fan

    lines = leaders(starts, knee, ends)

    assert [line[0] for line in lines] == starts
    assert [line[-1] for line in lines] == ends
    for i, first in enumerate(lines):
        for second in lines[i + 1 :]:
            for p in zip(first, first[1:], strict=False):
                for q in zip(second, second[1:], strict=False):
                    assert not meet_inside(p, q)


def test_leaders_to_one_distance_have_one_knee():
    lines = leaders([(0.0, 1.0), (0.0, 8.0)], 5.0, [(15.0, 4.0), (15.0, 5.0)])

    assert lines == (((0.0, 1.0), (5.0, 1.0), (15.0, 4.0)), ((0.0, 8.0), (5.0, 8.0), (15.0, 5.0)))


def test_order_alone_does_not_keep_straight_leaders_apart():
    """The far end lies higher, yet its straight leader would pass below the near one."""
    starts, ends = [(0.0, 10.0), (0.0, 12.0)], [(20.0, 5.0), (6.0, 5.5)]
    straight = [leader(s, 5.0, e) for s, e in zip(starts, ends, strict=True)]
    assert cross(*straight)

    lines = leaders(starts, 5.0, ends)

    assert not cross(*lines)


def test_a_leader_whose_text_reaches_the_knee_slants_at_once():
    assert leader((5.0, 1.0), 5.0, (15.0, 4.0)) == ((5.0, 1.0), (15.0, 4.0))


@pytest.mark.parametrize(
    ("starts", "ends", "why"),
    [
        ([(0.0, 2.0), (0.0, 1.0)], [(9.0, 1.0), (9.0, 2.0)], "in order"),
        ([(0.0, 1.0), (0.0, 2.0)], [(9.0, 2.0), (9.0, 1.0)], "in order"),
        ([(6.0, 1.0)], [(9.0, 2.0)], "passes the knee"),
        ([(0.0, 1.0), (0.0, 2.0)], [(9.0, 2.0), (3.0, 3.0)], "one side"),
    ],
)
def test_leaders_that_could_not_be_kept_apart_are_refused(starts, ends, why):
    with pytest.raises(ValueError, match=why):
        leaders(starts, 5.0, ends)
