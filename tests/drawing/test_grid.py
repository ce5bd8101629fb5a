"""Papers and the columns that stand on them."""

from __future__ import annotations

from itertools import pairwise, product

import pytest

from schematic.drawing.grid import MARGIN_MM, PAPERS, grid, turned
from schematic.drawing.zones import ways

EVERY = [paper for one in PAPERS.values() for paper in (one, turned(one))]
TRACKS = list(product((False, True), repeat=5))


@pytest.mark.parametrize(
    ("name", "width_mm", "height_mm"),
    [  # ISO 216; ANSI/ASME Y14.1: 8.5 x 11 in and 11 x 17 in
        ("a4", 210.0, 297.0),
        ("a3", 297.0, 420.0),
        ("letter", 8.5 * 25.4, 11.0 * 25.4),
        ("tabloid", 11.0 * 25.4, 17.0 * 25.4),
    ],
)
def test_papers_have_their_standard_sizes(name, width_mm, height_mm):
    assert PAPERS[name][1:] == pytest.approx((width_mm, height_mm), abs=1e-9)
    assert turned(PAPERS[name])[1:] == pytest.approx((height_mm, width_mm), abs=1e-9)


@pytest.mark.parametrize("paper", EVERY, ids=lambda paper: f"{paper.name} {paper.width_mm:.0f}")
@pytest.mark.parametrize(("leaning", "pressure", "path", "caliper", "rock"), TRACKS)
def test_columns_follow_one_another_and_fill_the_page(paper, leaning, pressure, path, caliper, rock):
    made = grid(
        paper,
        strip=True,
        leaning=leaning,
        volumes=True,
        pressure=pressure,
        path=path,
        caliper=caliper,
        rock=rock,
    )
    spans = [
        span
        for span in (made.labels_mm, made.well_mm, made.parts_mm, made.volumes_mm, made.pressure_mm)
        if span
    ]
    spans += sorted(span for span in (made.path_mm, made.caliper_mm, made.rock_mm) if span)

    assert all(left[1] == pytest.approx(right[0]) for left, right in pairwise(spans))
    assert spans[-1][1] == pytest.approx(paper.width_mm - MARGIN_MM)
    assert made.well_mm[0] < made.axis_mm < made.well_mm[1]
    assert (made.pressure_mm is not None, made.rock_mm is not None) == (pressure, rock)


def test_wide_paper_has_room_for_all_tracks_and_a4_for_one_where_pressures_are_missing():
    everything = {
        "strip": True,
        "volumes": True,
        "leaning": True,
        "path": True,
        "caliper": True,
        "rock": True,
    }

    assert grid(PAPERS["a3"], pressure=True, **everything).caliper_mm is not None
    assert grid(PAPERS["a4"], pressure=True, **everything).path_mm is None
    assert grid(PAPERS["a4"], pressure=False, **everything).caliper_mm is not None


@pytest.mark.parametrize("paper", EVERY, ids=lambda paper: f"{paper.name} {paper.width_mm:.0f}")
@pytest.mark.parametrize("details", [2, 3])
def test_zones_do_not_overlap_and_stay_on_the_page(paper, details):
    for zones in ways(paper, details):
        assert zones.right_mm <= paper.right_mm
        for place in zones.details:
            assert place.right_mm <= paper.right_mm + 1e-9
            assert place.bottom_mm <= paper.title_mm
            below, beside = place.top_mm >= zones.bottom_mm, place.left_mm >= zones.right_mm
            assert below or beside
        for one, other in pairwise(zones.details):
            assert other.left_mm > one.right_mm or other.top_mm > one.bottom_mm
        if zones.job_mm is not None:
            assert zones.bottom_mm < zones.job_mm < paper.title_mm
