"""Every volume of both demo wells against an independent working by quadrature, to one in a million."""

import math

import pytest

from schematic.checks.evaluate import evaluate
from schematic.depth.nest import Nest, State
from schematic.engineering.volumes import (
    ABOVE,
    LAP,
    LINER,
    OPEN_HOLE,
    RATHOLE,
    RUNNING,
    SHOE_TRACK,
)
from tests.depth.wells import TEXTS, planned
from tests.engineering.independent import Well, si

MILLIONTH = 1e-6
WELLS = list(TEXTS)
RESULTS = {name: evaluate(planned(text)) for name, text in TEXTS.items()}
BY_HAND = {name: Well(text) for name, text in TEXTS.items()}


@pytest.fixture(params=WELLS)
def both(request):
    """The tool's evaluation and the independent working of one well."""
    return RESULTS[request.param], BY_HAND[request.param]


def test_depths_of_the_job_agree(both):
    result, well = both
    depth = result.plan.depth

    assert depth.liner.top_md_m == pytest.approx(well.top, abs=1e-9)
    assert depth.liner.shoe_md_m == pytest.approx(well.shoe, abs=1e-9)
    assert depth.liner.shoe_track_top_md_m == pytest.approx(well.collar_top, abs=1e-9)
    assert depth.running.plug_md_m == pytest.approx(well.plug, abs=1e-9)


def test_inside_volumes_agree(both):
    result, well = both
    total = result.volumes.total_m3

    assert total(RUNNING) == pytest.approx(
        well.bore_of(well.string, well.string.top, well.plug), rel=MILLIONTH
    )
    assert total(LINER) == pytest.approx(well.bore_of(well.liner, well.plug, well.collar_top), rel=MILLIONTH)
    assert total(SHOE_TRACK) == pytest.approx(
        well.bore_of(well.liner, well.collar_top, well.shoe), rel=MILLIONTH
    )


def test_every_outside_volume_agrees(both):
    result, well = both
    tube = {ABOVE: well.string, LAP: well.liner, OPEN_HOLE: well.liner}

    spaces = [space for space in result.volumes.spaces if space.side == "outside"]

    assert [space.name for space in spaces if space.name != OPEN_HOLE] == [ABOVE, LAP, RATHOLE]
    for space in spaces:
        if space.name == RATHOLE:
            expected = well.integral(well.hole, space.top_md_m, space.bottom_md_m)
        else:
            expected = well.outside_of(tube[space.name], space.top_md_m, space.bottom_md_m)
        assert space.m3 == pytest.approx(expected, rel=MILLIONTH), space


def test_outside_spaces_follow_one_another_from_the_top_of_cement_to_the_hole_bottom(both):
    result, well = both
    spaces = [space for space in result.volumes.spaces if space.side == "outside"]

    assert spaces[0].top_md_m == pytest.approx(si(well.file["cement"]["planned top"]), abs=1e-9)
    assert spaces[-1].bottom_md_m == pytest.approx(well.td, abs=1e-9)
    for upper, lower in zip(spaces, spaces[1:], strict=False):
        assert upper.bottom_md_m == lower.top_md_m


@pytest.mark.parametrize("state", State)
def test_every_space_of_the_nest_agrees(both, state):
    result, well = both
    string_in = state is State.STRING_IN
    spaces = Nest(result.plan.depth, state).spaces()

    for space in spaces:
        expected = well.between(
            space.inner, space.outer, space.area_m2.top_m, space.area_m2.bottom_m, string_in
        )
        assert space.area_m2.integral() == pytest.approx(expected, rel=MILLIONTH), space[:2]


@pytest.mark.parametrize("state", State)
def test_the_nest_has_every_space_there_is(both, state):
    result, well = both
    string_in = state is State.STRING_IN
    spaces = Nest(result.plan.depth, state).spaces()
    top = well.string.top if string_in else 0.0
    edges = well.edges(top, well.td)
    pairs = {
        face[:2]
        for above, below in zip(edges, edges[1:], strict=False)
        for face in well.faces((above + below) / 2, string_in)
        if below - above > 1e-6
    }

    assert {(space.inner, space.outer) for space in spaces} == pairs
    for inner, outer in pairs:
        ours = math.fsum(s.area_m2.integral() for s in spaces if (s.inner, s.outer) == (inner, outer))
        assert ours == pytest.approx(well.between(inner, outer, top, well.td, string_in), rel=MILLIONTH)


def cement_by_hand(well):
    """Volumes of each slurry with excess, and the excess, from the planned top to the hole bottom."""
    job = well.file["cement"]
    excess = si(job["excess"]["open hole"])
    slurries = well.slurries()
    volumes, extra = {}, 0.0
    for (name, top), (_next, bottom) in zip(slurries, [*slurries[1:], ("", well.shoe)], strict=True):
        above = well.outside_of(well.string, top, min(bottom, well.top)) if top < well.top else 0.0
        lap = well.outside_of(well.liner, max(top, well.top), min(bottom, well.host_shoe))
        rock = well.outside_of(well.liner, max(top, well.host_shoe), bottom)
        lap = lap if max(top, well.top) < min(bottom, well.host_shoe) else 0.0
        volumes[name] = above + lap + (1.0 + excess) * rock
        extra += excess * rock
    inside = well.bore_of(well.liner, well.collar_top, well.shoe) + well.integral(
        well.hole, well.shoe, well.td
    )
    volumes[slurries[-1][0]] += inside
    return volumes, extra, inside


def test_cement_agrees_slurry_by_slurry(both):
    result, well = both
    volumes, extra, _inside = cement_by_hand(well)

    assert {s.name: s.volume_m3 for s in result.cement.slurries} == pytest.approx(volumes, rel=MILLIONTH)
    assert result.cement.total_m3 == pytest.approx(math.fsum(volumes.values()), rel=MILLIONTH)
    assert result.cement.excess_m3 == pytest.approx(extra, rel=MILLIONTH)


def test_sacks_and_mix_water_follow_from_the_volume():
    """1.15 ft3/sk and 5.0 gal/sk of Brindlewick 4: sacks are volume over yield, water so much a sack."""
    result, well = RESULTS["brindlewick"], BY_HAND["brindlewick"]
    volumes, _extra, _inside = cement_by_hand(well)
    (slurry,) = result.cement.slurries
    sacks = volumes["cement"] / (1.15 * 0.3048**3)

    assert slurry.sacks == pytest.approx(sacks, rel=MILLIONTH)
    assert slurry.cement_kg == pytest.approx(sacks * 94 * 0.45359237, rel=MILLIONTH)
    assert slurry.mix_water_m3 == pytest.approx(sacks * 5.0 * 231 * 0.0254**3, rel=MILLIONTH)


def test_displacement_agrees(both):
    result, well = both
    string = well.bore_of(well.string, well.string.top, well.plug)
    liner = well.bore_of(well.liner, well.plug, well.collar_top)
    track = well.bore_of(well.liner, well.collar_top, well.shoe)

    assert result.displacement.to_plug_m3 == pytest.approx(string, rel=MILLIONTH)
    assert result.displacement.to_bump_m3 == pytest.approx(string + liner, rel=MILLIONTH)
    assert result.displacement.over_displacement_limit_m3 == pytest.approx(track / 2, rel=MILLIONTH)


def test_strokes_are_volume_over_pump_output():
    """0.1010 bbl a stroke, efficiency already counted."""
    result, well = RESULTS["brindlewick"], BY_HAND["brindlewick"]
    to_plug = well.bore_of(well.string, well.string.top, well.plug)
    to_bump = to_plug + well.bore_of(well.liner, well.plug, well.collar_top)
    stroke = 0.1010 * 42 * 231 * 0.0254**3

    assert result.displacement.to_plug_strokes == pytest.approx(to_plug / stroke, rel=MILLIONTH)
    assert result.displacement.to_bump_strokes == pytest.approx(to_bump / stroke, rel=MILLIONTH)


def left_above_the_liner(well):
    """Slurry above the liner top when the hole is as given and nothing is lost."""
    volumes, _extra, inside = cement_by_hand(well)
    beside = well.outside_of(well.liner, well.top, well.shoe)
    return math.fsum(volumes.values()) - inside - beside


def test_the_top_of_cement_with_nothing_lost_agrees_with_the_string_in(both):
    result, well = both

    def area(z):
        return next(a for one, _other, a in well.faces(z) if one == "running string")

    expected = well.rise(left_above_the_liner(well), well.top, area)

    assert result.cement.above_liner_top_m3 == pytest.approx(left_above_the_liner(well), rel=MILLIONTH)
    assert result.cement.top_string_in_md_m == pytest.approx(expected, abs=1e-3)


def test_the_top_of_cement_with_nothing_lost_agrees_with_the_string_out(both):
    result, well = both

    expected = well.rise(left_above_the_liner(well), well.top, lambda z: well.faces(z, string_in=False)[0][2])

    assert result.cement.top_string_out_md_m == pytest.approx(expected, abs=1e-3)


def test_what_is_pumped_is_what_is_placed(both):
    """The mass balance closes: slurries are the sections, and stand up to the top with nothing lost."""
    result, well = both
    cement = result.cement
    around = well.outside_of(well.string, cement.top_string_in_md_m, well.top)
    beside = well.outside_of(well.liner, well.top, well.shoe)
    _volumes, _extra, inside = cement_by_hand(well)

    assert math.fsum(s.volume_m3 for s in cement.slurries) == pytest.approx(cement.total_m3, rel=1e-12)
    assert math.fsum(s.volume_m3 + s.excess_m3 for s in cement.sections) == pytest.approx(
        cement.total_m3, rel=1e-12
    )
    assert around + beside + inside == pytest.approx(cement.total_m3, rel=MILLIONTH)
