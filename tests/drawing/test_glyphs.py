"""Glyphs: true diameters, mirrored, within their place, printable lines, marks that do not stretch.

Diameters in inches of a 7 in liner in 9 5/8 in casing, drawn 1:16. Both nominal sizes, the casing
bores and coupling diameters are those of API 5CT / ISO 11960 (from memory).
"""

import math
from collections import Counter

import pytest

from schematic.drawing import palette
from schematic.drawing.fills import hatch
from schematic.drawing.glyphs_liner import (
    ball_on_seat,
    float_collar,
    float_shoe,
    joints,
    landing_collar,
    pup_joint,
    wiper_plug,
)
from schematic.drawing.glyphs_top import hanger, packer, receptacle
from schematic.drawing.glyphs_well import (
    ROCK_WIDTH_MM,
    HoleStep,
    casing,
    casing_coupling,
    casing_shoe,
    cement_top,
    hole,
)
from schematic.drawing.scene import Dots
from schematic.drawing.section import OVERLAP_MM, Place


def radius(inches, ratio=16.0):
    return inches * 25.4 / 2.0 / ratio


BODY, BORE, COUPLING = radius(7.0), radius(6.184), radius(7.656)
HANGER, HANGER_BORE, PACKER_BORE = radius(8.312), radius(6.160), radius(6.200)
HOST_BORE, HOST = radius(8.681), radius(9.625)
BLUE, BLACK = palette.BLUE, palette.BLACK

LINER_PARTS = {
    "joints": (lambda p: joints(p, BODY, BORE, COUPLING, (p.at(0.5),)), COUPLING, BORE),
    "pup": (lambda p: pup_joint(p, BODY, BORE, COUPLING), COUPLING, BORE),
    "float shoe": (lambda p: float_shoe(p, COUPLING, radius(2.5), 2), COUPLING, radius(2.5)),
    "reamer shoe": (lambda p: float_shoe(p, COUPLING, radius(2.5), reamer=True), COUPLING, radius(2.5)),
    "float collar": (lambda p: float_collar(p, COUPLING, radius(2.5)), COUPLING, radius(2.5)),
    "ball seat": (
        lambda p: landing_collar(p, COUPLING, BORE, radius(1.5), ball_seat=True),
        COUPLING,
        radius(1.5),
    ),
    "latch": (
        lambda p: landing_collar(p, COUPLING, BORE, radius(2.0), ball_seat=False),
        COUPLING,
        radius(2.0),
    ),
    "hanger": (lambda p: hanger(p, HANGER, BODY, HANGER_BORE, HOST_BORE, is_set=True), HANGER, HANGER_BORE),
    "hanger not set": (
        lambda p: hanger(p, HANGER, BODY, HANGER_BORE, HOST_BORE, is_set=False),
        HANGER,
        HANGER_BORE,
    ),
    "packer": (lambda p: packer(p, HANGER, BODY, PACKER_BORE, HOST_BORE, is_set=True), HANGER, PACKER_BORE),
    "packer not set": (
        lambda p: packer(p, HANGER, BODY, PACKER_BORE, HOST_BORE, is_set=False),
        HANGER,
        PACKER_BORE,
    ),
    "hold-down": (
        lambda p: packer(p, HANGER, BODY, PACKER_BORE, HOST_BORE, is_set=True, hold_down=True),
        HANGER,
        PACKER_BORE,
    ),
    "receptacle": (
        lambda p: receptacle(p, radius(8.25), radius(7.375), PACKER_BORE),
        radius(8.25),
        PACKER_BORE,
    ),
}
OTHERS = {
    "casing": lambda p: casing(p, HOST, HOST_BORE),
    "shoe": lambda p: casing_shoe(p.axis_mm, p.bottom_mm, HOST, 2.0, p.height_mm),
    "coupling": lambda p: casing_coupling(p.axis_mm, p.at(0.5), HOST, radius(10.625), 0.3),
    "plug": lambda p: wiper_plug(p, BORE),
    "top known": lambda p: cement_top(p.axis_mm, p.at(0.4), BODY, HOST_BORE, known=True),
    "top estimated": lambda p: cement_top(p.axis_mm, p.at(0.4), BODY, HOST_BORE, known=False),
    "top in bore": lambda p: cement_top(p.axis_mm, p.at(0.4), 0.0, HOST_BORE, known=False),
}
ALL = {name: draw for name, (draw, _, _) in LINER_PARTS.items()} | OTHERS
HEIGHTS = [0.4, 1.2, 3.3, 5.0, 6.8, 30.0]
AXIS = 88.5
PAINTS = {palette.BLACK, palette.WHITE, palette.BLUE, palette.GREEN, palette.GREY}


def place(height_mm):
    return Place(AXIS, 50.0, 50.0 + height_mm)


def points(shapes, fill=None):
    """Points of all paths, or of those with one fill, as (radius from the axis, level)."""
    return [
        (x - AXIS, y)
        for shape in shapes
        if not isinstance(shape, Dots) and fill in (None, shape.style.fill)
        for run in shape.runs
        for x, y in run
    ]


@pytest.mark.parametrize("height_mm", HEIGHTS)
@pytest.mark.parametrize("name", ALL)
def test_a_section_is_the_same_on_both_sides_of_the_axis(name, height_mm):
    for shape in ALL[name](place(height_mm)):
        mirrored = Counter((round(r, 6), round(y, 6)) for r, y in points([shape]))
        assert mirrored == Counter((-r or 0.0, y) for r, y in mirrored.elements())


@pytest.mark.parametrize("height_mm", HEIGHTS)
@pytest.mark.parametrize("name", ALL)
def test_a_part_keeps_to_its_own_depths(name, height_mm):
    where = place(height_mm)
    levels = [y for _, y in points(ALL[name](where))]

    assert min(levels) >= where.top_mm - 1e-9
    assert max(levels) <= where.bottom_mm + OVERLAP_MM + 1e-9


@pytest.mark.parametrize("height_mm", HEIGHTS)
@pytest.mark.parametrize("name", ALL)
def test_no_line_is_thinner_than_prints_and_no_paint_is_foreign(name, height_mm):
    for shape in ALL[name](place(height_mm)):
        assert shape.style.stroke is None or shape.style.width_mm >= 0.18
        assert {shape.style.stroke, shape.style.fill} - {None} <= PAINTS


@pytest.mark.parametrize("height_mm", HEIGHTS)
@pytest.mark.parametrize("name", LINER_PARTS)
def test_steel_is_as_wide_and_as_open_as_the_part(name, height_mm):
    """The widest blue is the outside diameter and the narrowest the bore (teeth may be the widest)."""
    draw, outer, bore = LINER_PARTS[name]
    shapes = draw(place(height_mm))
    steel = [abs(r) for r, _ in points(shapes, BLUE)]
    if name == "reamer shoe":
        steel += [abs(r) for r, _ in points(shapes, BLACK) if abs(r) > bore]  # its teeth
    if name == "pup" and height_mm < 1.2:
        outer = BODY  # a bar has no coupling
    if name == "receptacle" and height_mm < 1.2:
        bore = radius(7.375)  # and no foot

    assert max(steel) == pytest.approx(outer)
    assert min(steel) == pytest.approx(bore) or max(steel) - min(steel) == pytest.approx(0.35)


@pytest.mark.parametrize("name", LINER_PARTS)
def test_a_part_too_low_to_read_is_a_bar_with_its_bore(name):
    shapes = LINER_PARTS[name][0](place(1.1))

    assert len(shapes) == 1
    assert len(shapes[0].runs) == 2
    assert shapes[0].style.fill == BLUE


@pytest.mark.parametrize("name", ["hanger", "hold-down"])
def test_more_is_shown_as_there_is_more_height(name):
    counts = [len(LINER_PARTS[name][0](place(h))) for h in (1.1, 3.3, 6.8)]

    assert counts == sorted(set(counts))


def test_a_thin_wall_is_drawn_0_35_inward():
    """5 1/2 in 17 lb/ft, wall 0.304 in, at 1:25 is 0.31 mm on paper."""
    outer, bore = radius(5.5, 25.0), radius(4.892, 25.0)
    assert outer - bore < 0.35

    steel = [abs(r) for r, _ in points(joints(place(20.0), outer, bore, radius(6.05, 25.0)), BLUE)]

    assert (max(steel), min(steel)) == pytest.approx((outer, outer - 0.35))


def test_lines_of_old_steel_lie_within_the_steel():
    outer, inner = casing(place(20.0), HOST, HOST_BORE)

    assert (outer.style.width_mm, inner.style.width_mm) == (0.35, 0.18)
    assert max(r for r, _ in points([outer])) + 0.175 == pytest.approx(HOST)
    assert max(r for r, _ in points([inner])) - 0.09 == pytest.approx(HOST_BORE)


@pytest.mark.parametrize("height_mm", [3.3, 6.8, 30.0])
@pytest.mark.parametrize("part", ["hanger", "hold-down"])
def test_slips_bite_the_host_and_are_black_only_when_set(part, height_mm):
    def reach(is_set, fill):
        shapes = (
            hanger(place(height_mm), HANGER, BODY, HANGER_BORE, HOST_BORE, is_set=is_set)
            if part == "hanger"
            else packer(place(height_mm), HANGER, BODY, PACKER_BORE, HOST_BORE, is_set=is_set, hold_down=True)
        )
        return max((r for r, _ in points(shapes, fill)), default=None)

    if part == "hold-down" and height_mm < 5.0:
        assert reach(True, BLACK) is None
        return
    assert reach(True, BLACK) > HOST_BORE
    assert reach(False, BLACK) is None
    assert reach(False, palette.WHITE) + 0.09 == pytest.approx(HANGER)  # half of its outline


@pytest.mark.parametrize("height_mm", [3.3, 5.6, 30.0])
def test_the_packing_touches_the_host_only_when_set(height_mm):
    def reach(is_set):
        shapes = packer(place(height_mm), HANGER, BODY, PACKER_BORE, HOST_BORE, is_set=is_set)
        return max(r for r, _ in points(shapes, palette.WHITE)) + 0.09  # half of its outline

    assert reach(True) == pytest.approx(HOST_BORE)
    assert reach(False) < HANGER


def test_teeth_of_a_hanger_stop_it_going_down_and_those_of_a_hold_down_going_up():
    """The flat side of a tooth: two points of one level, one at the tip."""

    def flats(shapes, tip):
        run = next(s for s in shapes if s.style.fill == BLACK).runs[0]
        right = [(x - AXIS, y) for x, y in run]
        pairs = list(zip(right, (*right[1:], right[0]), strict=True))
        below = sum(1 for a, b in pairs if a[0] < tip <= b[0] + 1e-9 and b[1] > a[1] + 0.1)
        above = sum(1 for a, b in pairs if a[0] + 1e-9 >= tip > b[0] and b[1] > a[1] + 0.1)
        return below, above  # sloping out to the tip downward; sloping in from the tip downward

    tip = HOST_BORE + 0.12
    down = flats(hanger(place(30.0), HANGER, BODY, HANGER_BORE, HOST_BORE, is_set=True), tip)
    up = flats(packer(place(30.0), HANGER, BODY, PACKER_BORE, HOST_BORE, is_set=True, hold_down=True), tip)

    assert down[0] > 5
    assert down[1] == 0
    assert up[0] == 0
    assert up[1] > 5


def test_slips_stand_where_they_are_said_to_bite():
    where = place(7.3)
    shapes = hanger(
        where, HANGER, BODY, HANGER_BORE, HOST_BORE, is_set=True, slips_mm=(where.at(0.07), where.at(0.9))
    )
    levels = [y for _, y in points(shapes, BLACK)]

    assert (min(levels), max(levels)) == pytest.approx((where.at(0.07), where.at(0.9)))


@pytest.mark.parametrize("height_mm", [1.2, 3.9, 30.0])
def test_a_shoe_ends_at_its_very_depth_with_a_nose_of_at_most_0_8_of_its_radius(height_mm):
    where = place(height_mm)
    steel = points(float_shoe(where, COUPLING, radius(2.5)), BLUE)
    full = [y for r, y in steel if r == pytest.approx(COUPLING)]

    assert max(y for _, y in steel) == pytest.approx(where.bottom_mm)
    assert 0.0 < where.bottom_mm - max(full) <= 0.8 * COUPLING + 1e-9


@pytest.mark.parametrize("height_mm", [6.8, 30.0])
@pytest.mark.parametrize("valves", [1, 2])
def test_valves_keep_their_shape_and_point_with_the_flow(height_mm, valves):
    (marks,) = [
        s for s in float_shoe(place(height_mm), COUPLING, radius(2.5), valves) if s.style.fill == BLACK
    ]
    triangles = [run for run in marks.runs if len(run) == 3]

    assert len(triangles) == valves
    for left, right, point in triangles:
        assert point[1] > left[1] == right[1]
        assert (point[1] - left[1]) / (right[0] - left[0]) == pytest.approx(0.72)
        assert abs(right[0] - AXIS) < radius(2.5)


@pytest.mark.parametrize("ball", [1.25, 1.75, 2.5, 5.0, 8.0])
@pytest.mark.parametrize("height_mm", [3.3, 12.0])
def test_a_ball_rests_on_its_seat_without_cutting_into_steel(ball, height_mm):
    """The nearest point of the funnel is one ball radius from the centre (funnel sampled finely)."""
    where, seat, r_ball = place(height_mm), radius(1.0), radius(ball)
    (mark,) = ball_on_seat(where, BORE, seat, r_ball)
    (_, y) = mark.centres[0]
    shares = [i / 20_000 for i in range(20_001)]
    funnel = [(BORE + s * (seat - BORE), where.at(0.5 * s)) for s in shares]

    nearest = min(math.dist((0.0, y), point) for point in funnel)

    assert mark.radius_mm == r_ball
    assert nearest == pytest.approx(r_ball, abs=2e-3)
    assert y < where.at(0.5)


def test_couplings_of_a_long_run_are_thinned_to_every_so_many_at_real_levels():
    where = place(40.0)
    levels = [where.top_mm + i * 0.55 for i in range(73)]

    steel = points(joints(where, BODY, BORE, COUPLING, levels), BLUE)
    tops = sorted({round(y, 6) for r, y in steel if r == pytest.approx(COUPLING)})
    middles = [(a + b) / 2 for a, b in zip(tops[2::2], tops[3::2], strict=True)]

    assert middles == pytest.approx(levels[11::11][: len(middles)])  # 11 x 0.55 is the first over 6 mm
    assert len(middles) == 6


def test_a_casing_shoe_shrinks_whole_in_a_narrow_hole():
    wide, narrow = (points(casing_shoe(AXIS, 60.0, HOST, room, 30.0)) for room in (5.0, 0.8))

    def size(shoe):
        return max(r for r, _ in shoe) - HOST, max(y for _, y in shoe) - min(y for _, y in shoe)

    assert size(wide) == pytest.approx((1.6, 2.0))
    assert size(narrow) == pytest.approx((0.8, 1.0))


def test_a_logged_top_of_cement_is_solid_and_an_estimated_one_dashed():
    (known,) = OTHERS["top known"](place(20.0))
    (estimated,) = OTHERS["top estimated"](place(20.0))

    assert (known.style.dash, known.style.width_mm) == ((), 0.70)
    assert (estimated.style.dash, estimated.style.width_mm) == ((1.2, 0.6), 0.35)
    assert sorted(abs(r) for r, _ in points([known])) == pytest.approx([BODY] * 2 + [HOST_BORE] * 2)


STEPS = (
    HoleStep(40.0, 60.0, radius(17.5), False),
    HoleStep(60.0, 90.0, radius(12.25), False),
    HoleStep(90.0, 130.0, radius(9.3), True),
)


def radius_at(y):
    return next(s.radius_mm for s in STEPS if s.top_mm <= y <= s.bottom_mm)


def test_rock_is_hatched_outside_the_hole_only_and_under_its_ledges():
    rock, _ = hole(AXIS, STEPS, to_bottom=True)
    middles = [((a[0] + b[0]) / 2 - AXIS, (a[1] + b[1]) / 2) for a, b in rock.runs]

    for r, y in middles:
        assert y > 130.0 or abs(r) > radius_at(y) - 0.16
    ledge = [r for r, y in middles if 60.0 < y < 60.0 + ROCK_WIDTH_MM]
    assert max(ledge) > radius(17.5)
    assert any(radius(12.25) < r < radius(17.5) - 1.0 for r in ledge)
    assert any(abs(r) < radius(9.3) and y > 130.0 for r, y in middles)


def test_hatch_leans_towards_the_well_on_both_sides():
    rock, _ = hole(AXIS, STEPS[1:2], to_bottom=False)

    for a, b in rock.runs:
        rising = (b[1] - a[1]) * (b[0] - a[0]) < 0
        assert rising == (a[0] > AXIS)


def test_only_a_callipered_hole_is_wavy():
    _, wall = hole(AXIS, STEPS, to_bottom=True)
    straight = {round(x - AXIS, 6) for run in wall.runs for x, y in run if y < 89.9}
    wavy = {round(x - AXIS, 6) for run in wall.runs for x, y in run if 90.1 < y < 129.9}

    assert len(straight) == 4  # two radii, two sides
    assert len(wavy) > 20


def test_the_bottom_of_the_hole_is_closed_and_the_top_is_not():
    _, wall = hole(AXIS, STEPS, to_bottom=True)

    assert len(wall.runs) == 1
    assert not wall.closed
    assert wall.runs[0][0][1] == wall.runs[0][-1][1] == 40.0


def test_a_ribbon_of_rock_is_as_dense_as_its_spacing_says():
    """Length times spacing is the area: two ribbons 2.3 mm wide beside 30 mm of straight hole."""
    rock, _ = hole(AXIS, STEPS[1:2], to_bottom=False)
    length = sum(math.dist(a, b) for a, b in rock.runs)

    assert length * 1.15 == pytest.approx(2 * 2.3 * 30.0, rel=0.05)
    assert hatch(((0.0, 0.0), (0.01, 0.0), (0.01, 0.01)), 1.15, rising=True) == ()
