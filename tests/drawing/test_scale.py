"""The depth scale: order, inverse and least heights always, shares as the look of the sheet asks."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from schematic.drawing.fit import LEAST_RUN_MM, ShortPart, fill
from schematic.drawing.scale import DepthScale, Span, fitted_scale, true_scale

FT = 0.3048
# Depths in feet of an invented vertical well and the least height of each part, mm.
DRILLING_LINER = [
    (0, 90, 4.2),
    (9480, 9490.4, 6.4),
    (9490.4, 9498.3, 5.6),
    (9498.3, 9507.9, 6.8),
    (9507.9, 9519.9, 4.4),
    (9519.9, 12464.3, 6.2),
    (12464.3, 12465.8, 3.3),
    (12465.8, 12506, 4.6),
    (12506, 12507.6, 3.3),
    (12507.6, 12588.2, 6.2),
    (12588.2, 12590, 3.9),
    (12590, 12600, 2.4),
]
PARTS = [ShortPart(top * FT, bottom * FT, least) for top, bottom, least in DRILLING_LINER]


def drilling_liner(height_mm=140.0):
    return fitted_scale(
        0.0, 12700 * FT, 34.4, 34.4 + height_mm, parts=PARTS, coarse_to_md_m=8880 * FT, round_m=10 * FT
    )


def height_mm(scale, part):
    return scale.y_mm(part.bottom_md_m) - scale.y_mm(part.top_md_m)


@st.composite
def fitted(draw):
    """A depth range, parts in it with gaps or none between, paper, and the scale made of them."""
    length = st.floats(0.2, 2000.0)
    top = draw(st.floats(0.0, 500.0))
    parts, reached = [], top + draw(st.floats(0.0, 3000.0))
    for _ in range(draw(st.integers(0, 9))):
        bottom = reached + draw(length)
        parts.append(ShortPart(reached, bottom, draw(st.floats(0.0, 8.0))))
        reached = bottom + draw(st.sampled_from([0.0, 0.0, 0.3, 5.0, 200.0]))
    bottom = reached + draw(st.floats(0.5, 400.0))
    paper = draw(st.floats(5.0, 400.0))
    coarse = draw(st.none() | st.floats(top, bottom))
    scale = fitted_scale(
        top,
        bottom,
        30.0,
        30.0 + paper,
        parts=parts,
        coarse_to_md_m=coarse,
        round_m=draw(st.sampled_from([1.0, 5.0, 3.048])),
    )
    return scale, parts, (top, bottom, 30.0, 30.0 + paper)


@given(fitted())
def test_ends_are_exact(made):
    scale, _, ends = made

    assert (scale.top_md_m, scale.bottom_md_m, *scale.levels_mm[:: len(scale.levels_mm) - 1]) == ends
    assert scale.y_mm(ends[0]) == ends[2]
    assert scale.y_mm(ends[1]) == ends[3]


@given(fitted(), st.lists(st.floats(0.0, 1.0), min_size=2, max_size=20))
def test_order_is_kept_and_levels_lead_back_to_depths(made, shares):
    scale, _, (top, bottom, _, _) = made
    depths = sorted({*(top + s * (bottom - top) for s in shares), *scale.depths_md_m})
    depths = [d for d in depths if d <= bottom]

    levels = [scale.y_mm(d) for d in depths]

    assert levels == sorted(levels)
    assert [scale.md_m(y) for y in levels] == pytest.approx(depths, abs=1e-6)


@given(fitted(), st.floats(0.0, 1.0))
def test_levels_agree_with_linear_interpolation_by_numpy(made, share):
    scale, _, (top, bottom, _, _) = made
    md_m = min(top + share * (bottom - top), bottom)

    assert scale.y_mm(md_m) == pytest.approx(np.interp(md_m, scale.depths_md_m, scale.levels_mm))


@given(fitted())
def test_every_part_gets_its_least_height_or_the_share_of_it_that_is_told(made):
    scale, parts, _ = made

    assert 0.0 < scale.least_fraction <= 1.0
    for part in parts:
        assert height_mm(scale, part) >= part.least_mm * scale.least_fraction - 1e-6


@given(fitted())
def test_spans_cover_the_range_and_change_kind_at_every_break(made):
    scale, _, (top, bottom, _, _) = made
    spans = scale.spans

    assert (spans[0].top_md_m, spans[-1].bottom_md_m) == (top, bottom)
    for upper, lower in zip(spans, spans[1:], strict=False):
        assert upper.bottom_md_m == lower.top_md_m
        assert upper.kind != lower.kind
    assert scale.breaks == tuple(s.top_md_m for s in spans[1:])


@given(fitted())
def test_all_of_the_medium_scale_is_one_ratio_and_none_is_more_stretched_than_a_stretched_part(made):
    scale, _, _ = made
    ratios = {
        kind: [
            scale.ratio(0.5 * (a + b))
            for a, b in zip(scale.depths_md_m, scale.depths_md_m[1:], strict=False)
            for span in scale.spans
            if span.kind == kind and span.top_md_m <= a and b <= span.bottom_md_m
        ]
        for kind in ("coarse", "medium")
    }

    for values in ratios.values():
        if values:
            assert max(values) == pytest.approx(min(values), rel=1e-6)
    if ratios["coarse"] and ratios["medium"] and scale.least_fraction == 1.0:
        assert ratios["coarse"][0] > ratios["medium"][0]


def test_shares_of_the_paper_are_as_the_look_asks():
    """Coarse 20 to 25 %, each stretched span of the liner 15 to 20 %, of a zone 140 mm high."""
    scale = drilling_liner()
    tall = {span: (scale.y_mm(span.bottom_md_m) - scale.y_mm(span.top_md_m)) / 140.0 for span in scale.spans}
    above = sum(share for span, share in tall.items() if span.bottom_md_m <= 8880 * FT + 1e-6)

    assert 0.20 <= above <= 0.25
    assert [0.15 <= tall[s] <= 0.20 + 1e-12 for s in scale.spans[3::2]] == [True, True]
    assert [s.kind for s in scale.spans] == [
        "stretched",
        "coarse",
        "medium",
        "stretched",
        "medium",
        "stretched",
    ]


def test_two_short_groups_are_stretched_with_round_limits_and_a_margin():
    scale = drilling_liner()
    upper, lower = scale.spans[3], scale.spans[5]

    assert [upper.top_md_m / FT, upper.bottom_md_m / FT] == pytest.approx([9470, 9530])
    assert [lower.top_md_m / FT, lower.bottom_md_m / FT] == pytest.approx([12440, 12700])
    for limit, edge in ((9470, 9480), (9519.9, 9530), (12440, 12464.3)):
        # the look asks for 2 mm; 2.4 lets the limit and the first part both be labelled
        assert scale.y_mm(edge * FT) - scale.y_mm(limit * FT) == pytest.approx(2.4)


def test_a_run_that_is_long_enough_is_not_stretched():
    scale = drilling_liner()

    assert scale.ratio(10_000 * FT) == pytest.approx(scale.ratio(9000 * FT), rel=1e-12)


@pytest.mark.parametrize("paper_mm", [90.0, 60.0, 30.0, 5.0])
def test_less_paper_shrinks_shares_first_and_least_heights_last(paper_mm):
    scale = drilling_liner(paper_mm)
    needed_mm = sum(p.least_mm for p in PARTS if p.bottom_md_m - p.top_md_m < 100 * FT)

    if needed_mm < 0.6 * paper_mm:
        assert scale.least_fraction == 1.0
    if needed_mm > paper_mm:
        assert scale.least_fraction < 1.0


def test_a_range_that_is_short_anyway_has_no_coarse_scale():
    scale = fitted_scale(0.0, 1000.0, 0.0, 100.0, parts=[], coarse_to_md_m=100.0)

    assert [s.kind for s in scale.spans] == ["medium"]
    assert scale.ratio(50.0) == pytest.approx(10_000.0)  # 1000 m on 100 mm


def test_without_margins_the_common_scale_is_the_root_of_its_defining_equation():
    """Heights max(least, k L) must sum to the paper; k by a general root finder."""
    cells = [
        ShortPart(0, 3, 4.0),
        ShortPart(3, 900, 6.0),
        ShortPart(900, 912, 5.0),
        ShortPart(912, 2000, 0.0),
        ShortPart(2000, 2002, 3.3),
    ]
    lengths = np.array([c.bottom_md_m - c.top_md_m for c in cells])
    least = np.array([c.least_mm for c in cells])
    k = brentq(lambda k: np.maximum(least, k * lengths).sum() - 120.0, 0.0, 1.0, xtol=1e-14)
    expected = np.maximum(least, k * lengths)
    assert (expected[[1, 3]] > LEAST_RUN_MM).all()

    filled = fill(cells, 120.0, 0.0, 0.0, 1.0)

    assert [p.height_mm for p in filled.pieces] == pytest.approx(expected, abs=1e-9)
    assert filled.fraction == 1.0


def test_a_true_scale_is_linear_with_one_ratio_and_no_break():
    scale = true_scale(1000.0, 1200.0, 10.0, 60.0)

    assert scale.y_mm(1100.0) == 35.0
    assert scale.ratio(1000.0) == scale.ratio(1200.0) == 4000.0  # 200 m on 50 mm
    assert scale.breaks == ()


@pytest.mark.parametrize("md_m", [-1.0, 1201.0])
def test_a_depth_off_the_paper_is_refused(md_m):
    with pytest.raises(ValueError, match="outside"):
        true_scale(0.0, 1200.0, 10.0, 60.0).y_mm(md_m)


@pytest.mark.parametrize(
    "parts",
    [
        [ShortPart(100, 200, 3), ShortPart(150, 300, 3)],
        [ShortPart(300, 400, 3), ShortPart(100, 200, 3)],
        [ShortPart(900, 1100, 3)],
        [ShortPart(-5, 10, 3)],
    ],
)
def test_parts_that_overlap_or_leave_the_range_are_refused(parts):
    with pytest.raises(ValueError, match="overlaps, or is outside"):
        fitted_scale(0.0, 1000.0, 0.0, 100.0, parts=parts)


@pytest.mark.parametrize(
    ("depths", "levels"), [((0.0, 0.0), (0.0, 1.0)), ((0.0, 1.0), (1.0, 0.0)), ((0.0,), (0.0,))]
)
def test_a_scale_that_turns_round_cannot_be_made(depths, levels):
    with pytest.raises(ValueError, match="depth scale"):
        DepthScale(depths, levels, (Span(0.0, 1.0, "true"),))
