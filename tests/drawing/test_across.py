"""The cuts across the well: true both ways, pipe where it lies, gaps and areas as worked by hand."""

from __future__ import annotations

import math
import re
from functools import cache

import pytest

from schematic import check
from schematic.drawing.across_view import across_hanger, across_hole
from schematic.drawing.caliper_track import caliper_track
from schematic.drawing.fills import Rect
from schematic.drawing.grid import PAPERS
from schematic.drawing.overlap import problems
from schematic.drawing.scene import Dots, Path, Scene, Text
from schematic.drawing.sheet import wells_of
from schematic.verbs import demos, load_text
from tests.drawing.generated import text_of
from tests.drawing.torture import BRINDLEWICK, SOLLIVANE, WELLS, changed

CENTRED = changed(
    SOLLIVANE,
    (
        "    - {part: joint, fill: true",
        "    - {part: centralizer, count: 40, od: 210 mm}\n    - {part: joint, fill: true",
    ),
)
UNKNOWN = changed(
    SOLLIVANE, ("  pipe: 7 in 29 lb/ft L-80 13Cr\n  connection: buttress", "  od: 177.8 mm\n  id: 157.1 mm")
)
MADE = {"centred": CENTRED, "unknown": UNKNOWN, "corrick": demos()["corrick-5.yaml"]}
SIZES = [(30.0, 60.0), (44.0, 52.0), (62.0, 52.0), (95.0, 45.0), (95.0, 95.0)]


@cache
def evaluated(name):
    text = MADE.get(name) or (WELLS[name] if isinstance(name, str) else text_of(name))
    return check(load_text(text, str(name)))


def drawn(view, name, size=(62.0, 52.0)):
    evaluation = evaluated(name)
    rect = Rect(5.0, 5.0, 5.0 + size[0], 5.0 + size[1])
    return view(evaluation, rect, evaluation.plan.identity.system, "D")


def said(groups):
    return " ".join(shape.text for group in groups for shape in group.shapes if isinstance(shape, Text))


def circles(groups, title):
    """Centre, width and height of the closed runs of a group, the largest first."""
    group = next(group for group in groups if group.title == title)
    found = []
    for shape in group.shapes:
        if isinstance(shape, Path) and shape.closed:
            for run in shape.runs:
                xs, ys = [x for x, _ in run], [y for _, y in run]
                centre = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
                found.append((centre, max(xs) - min(xs), max(ys) - min(ys)))
    return sorted(found, key=lambda one: -one[1])


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("view", [across_hole, across_hanger])
@pytest.mark.parametrize("name", [*WELLS, *MADE, *range(2, 200, 14)])
def test_nothing_overlaps_and_all_stays_in_the_rectangle(name, view, size):
    groups = drawn(view, name, size)

    assert problems(Scene(10.0 + size[0], 10.0 + size[1], "", "", tuple(groups))) == []
    for shape in (shape for group in groups for shape in group.shapes):
        points = shape.centres if isinstance(shape, Dots) else ()
        points = [p for run in shape.runs for p in run] if isinstance(shape, Path) else points
        for x, y in points:
            assert 4.8 <= x <= 5.2 + size[0]
            assert 4.8 <= y <= 5.2 + size[1]


def test_pipe_lies_on_the_low_side_with_its_couplings():
    """By hand: 7 in buttress couplings are 7.656 in (API 5CT), 194.46 mm: (194.46 - 177.8) / 2 = 8.33 below,
    224 - 177.8 - 8.33 = 37.87 above.
    """
    groups = drawn(across_hole, "sollivane")
    words = said(groups)

    assert "gap above 37.9" in words
    assert "gap below 8.3" in words
    assert "No centralizers given: couplings on low side" in words
    ratio = float(re.search(r"1:(\d+)", words).group(1))
    (hole,) = circles(groups, "Hole across")
    coupling, pipe, bore = circles(groups, "Liner across")
    for (_centre, wide, high), size_mm in ((hole, 224.0), (coupling, 194.46), (pipe, 177.8), (bore, 157.08)):
        wavy = 0.31 if size_mm == 224.0 else 0.1
        assert wide == pytest.approx(size_mm / ratio, abs=wavy)
        assert high == pytest.approx(size_mm / ratio, abs=wavy)
    assert hole[0][0] == pytest.approx(pipe[0][0], abs=0.1)
    low = hole[0][1] + 0.5 * 224.0 / ratio
    assert coupling[0][1] + 0.5 * coupling[2] == pytest.approx(low, abs=0.2)
    assert pipe[0][1] - hole[0][1] == pytest.approx((37.87 - 8.33) / 2.0 / ratio, abs=0.2)


def test_what_the_file_does_not_give_is_said():
    assert "nor the coupling OD: pipe on low side" in said(drawn(across_hole, "unknown"))
    assert "gap below" not in said(drawn(across_hole, "unknown"))
    assert "Centralizers are given, their stand-off is not" in said(
        drawn(across_hole, "centred", (95.0, 95.0))
    )
    assert "slips not given" in said(drawn(across_hanger, "sollivane"))


def test_an_upright_hole_has_no_low_side():
    assert drawn(across_hole, "brindlewick") == []


def test_cement_lies_between_hole_and_pipe():
    groups = drawn(across_hole, "sollivane", (95.0, 95.0))
    (hole,) = circles(groups, "Hole across")
    _coupling, pipe, _bore = circles(groups, "Liner across")
    dots = next(shape for group in groups if group.part == "cement" for shape in group.shapes)

    assert len(dots.centres) > 100
    for spot in dots.centres:
        assert math.dist(spot, hole[0]) + dots.radius_mm < 0.5 * hole[1]
        assert math.dist(spot, pipe[0]) - dots.radius_mm > 0.5 * pipe[1]


def test_the_way_past_the_hanger():
    """By hand: host 9 5/8 in 47 lb/ft has 8.681 in, the hanger 8.312 in: 0.785398 (75.3598 - 69.0893) = 4.925 in2;
    beside 7 in pipe 0.785398 (75.3598 - 49) = 20.70 in2; the one is 23.8 % of the other.
    """
    assert "od: 8.312 in" in BRINDLEWICK
    words = said(drawn(across_hanger, "brindlewick"))

    assert "by-pass 4.92 in\u00b2" in words
    assert re.search(r"24 ?% of that beside the pipe", words)
    ratio = float(re.search(r"1:(\d+)", words).group(1))
    groups = drawn(across_hanger, "brindlewick")
    outer, inner = circles(groups, "intermediate casing across")
    body, bore = circles(groups, "Hanger across")
    for (_centre, wide, high), inches in ((outer, 9.625), (inner, 8.681), (body, 8.312)):
        assert wide == pytest.approx(inches * 25.4 / ratio, abs=0.1)
        assert high == pytest.approx(inches * 25.4 / ratio, abs=0.1)
    assert bore[1] < body[1]
    assert body[0] == pytest.approx(outer[0], abs=0.01)


def test_a_larger_drift_with_a_certificate_is_the_drift_of_the_host():
    words = said(drawn(across_hanger, "corrick"))

    assert "special drift 6.125" in words  # as the file certifies it; the table has 6.059
    assert "drift 8.525," not in said(drawn(across_hanger, "brindlewick"))


def test_the_caliper_track_leaves_out_hole_of_which_nothing_but_the_bit_is_known():
    """Tarnvale: 222.3 mm hole, of which no caliper is given, goes 10 m below the shoe at 1 870 m, to 1 880."""
    evaluation = evaluated("tarnvale-h3.yaml")
    frame = wells_of(evaluation, "fitted", "metric", PAPERS["a3"])[1][0].frame

    _axis, hole = caliper_track(evaluation, frame, (200.0, 220.0), "metric", 40.0)
    lines = [shape for shape in hole.shapes if isinstance(shape, Path)][-1]

    assert lines.runs[0][0][1] == pytest.approx(frame.y(1880.0), abs=0.01)
    assert (
        caliper_track(evaluated("tarnvale-h3.yaml"), frame._replace(), (200.0, 220.0), "metric", 40.0) != []
    )
