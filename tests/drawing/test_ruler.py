"""Ticks keep their distance, limits are always told, blocks are equal and alternate."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schematic.drawing.fit import ShortPart
from schematic.drawing.ruler import blocks, ticks
from schematic.drawing.scale import fitted_scale, true_scale
from tests.drawing.test_scale import FT, drilling_liner, fitted


@given(fitted(), st.sampled_from([0.3048, 1.0, 3.048, 5.0]))
def test_labels_have_2_9_mm_except_between_limits_of_stretched_spans(made, unit_m):
    scale, _, _ = made
    limits = {md for s in scale.spans if s.kind == "stretched" for md in s[:2]}

    chosen = ticks(scale, unit_m)

    assert list(chosen) == sorted(chosen)
    assert limits <= set(chosen)
    for upper, lower in zip(chosen, chosen[1:], strict=False):
        if not {upper, lower} <= limits:
            assert scale.y_mm(lower) - scale.y_mm(upper) >= 2.9 - 1e-9
    assert all(md in limits or abs(md / unit_m - round(md / unit_m)) < 1e-6 for md in chosen)


def test_depths_of_one_scale_keep_one_round_step():
    chosen = [md / FT for md in ticks(drilling_liner(), 10 * FT)]

    assert [md for md in chosen if 90 < md < 8880] == pytest.approx([1000 * i for i in range(2, 9)])
    steps = {round(b - a) for a, b in zip(chosen, chosen[1:], strict=False) if 10_000 <= a < 12_000}
    assert steps == {200}


def test_where_two_do_not_fit_the_rounder_one_stays():
    """Six millimetres for 38 m: 1000 stays, and no other round depth has room beside it."""
    scale = fitted_scale(0.0, 2000.0, 0.0, 100.0, parts=[ShortPart(981.0, 1019.0, 6.0)], round_m=1)

    chosen = ticks(scale, 1.0)

    inside = [md for md in chosen if 985 < md < 1015]
    assert inside == [1000.0]


def test_a_true_scale_is_ticked_at_the_least_round_step_that_fits():
    """1:10 000, so 29 m are the least gap of 2.9 mm, and 50 the next of 1, 2, 5 above."""
    assert ticks(true_scale(0.0, 200.0, 0.0, 20.0), 1.0) == (0.0, 50.0, 100.0, 150.0, 200.0)


def test_blocks_are_equal_alternate_and_cover_the_range():
    made = blocks(true_scale(130.0, 560.0, 0.0, 50.0), 100.0)

    assert [(b.top_md_m, b.bottom_md_m) for b in made] == [
        (130.0, 200.0),
        (200.0, 300.0),
        (300.0, 400.0),
        (400.0, 500.0),
        (500.0, 560.0),
    ]
    assert [b.dark for b in made] == [False, True, False, True, False]  # 0 to 100 is dark


def test_a_ladder_of_blocks_can_be_cut_to_a_stretch():
    made = blocks(drilling_liner(), 10 * FT, 9470 * FT, 9530 * FT)

    assert len(made) == 6
    assert made[0].top_md_m == pytest.approx(9470 * FT)
    assert made[-1].bottom_md_m == pytest.approx(9530 * FT)
