"""Every volume of both demo wells against an independent integration by quadrature, within 1e-6."""

from __future__ import annotations

from itertools import pairwise

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from schematic import check
from schematic.engineering.volumes import (
    ABOVE,
    LAP,
    LINER,
    OPEN_HOLE,
    RATHOLE,
    RUNNING,
    SHOE_TRACK,
    annulus_m3_per_m,
    capacity_m3_per_m,
    laps,
)
from schematic.verbs import load_text
from tests.engineering.by_hand import WELLS, Area, ByHand, area

BOTH = ("brindlewick-4.yaml", "sollivane-a7.yaml")


def integral(well: ByHand, function: Area, low: float, high: float) -> float:
    """Adaptive quadrature between the jumps, none of our own integration in it."""
    return sum(quad(function, a, b, epsabs=1e-13)[0] for a, b in pairwise(well.edges(low, high)))


@pytest.fixture(params=BOTH)
def pair(request):
    return ByHand(request.param), check(WELLS / request.param)


def expected(well: ByHand) -> dict[str, float]:
    def beside(md: float) -> float:
        return (area(well.host_id) if md < well.host_shoe else area(well.hole(md))) - well.liner_outside(md)

    def above(md: float) -> float:
        return area(well.host_id) - well.running_outside(md)

    return {
        RUNNING: integral(well, well.running_inside, well.running[-1][0], well.plug),
        LINER: integral(well, well.liner_inside, well.plug, well.collar_top),
        SHOE_TRACK: integral(well, well.liner_inside, well.collar_top, well.shoe),
        ABOVE: integral(well, above, well.planned_top, well.top),
        LAP: integral(well, beside, well.top, well.host_shoe),
        OPEN_HOLE: integral(well, beside, well.host_shoe, well.shoe),
        RATHOLE: integral(well, lambda md: area(well.hole(md)), well.shoe, well.td),
    }


def test_every_volume_of_the_job_equals_its_quadrature(pair):
    well, evaluation = pair

    for name, volume in expected(well).items():
        assert evaluation.volumes.total_m3(name) == pytest.approx(volume, rel=1e-6), name


def test_cement_and_displacement_are_sums_of_their_quadratures(pair):
    well, evaluation = pair
    parts = expected(well)
    outside = parts[ABOVE] + parts[LAP] + parts[OPEN_HOLE] * (1.0 + well.excess)

    assert evaluation.cement.total_m3 == pytest.approx(outside + parts[RATHOLE] + parts[SHOE_TRACK], rel=1e-6)
    assert evaluation.cement.excess_m3 == pytest.approx(parts[OPEN_HOLE] * well.excess, rel=1e-6)
    assert evaluation.displacement.to_plug_m3 == pytest.approx(parts[RUNNING], rel=1e-6)
    assert evaluation.displacement.to_bump_m3 == pytest.approx(parts[RUNNING] + parts[LINER], rel=1e-6)


def test_the_top_with_no_loss_solves_the_integral(pair):
    well, evaluation = pair
    parts = expected(well)
    over = parts[ABOVE] + parts[OPEN_HOLE] * well.excess

    def missing(top: float) -> float:
        return integral(well, lambda md: area(well.host_id) - well.running_outside(md), top, well.top) - over

    top_in = brentq(missing, 0.5 * well.top, well.top - 1.0, xtol=1e-9)
    top_out = well.top - over / area(well.host_id)

    assert evaluation.cement.top_string_in_md_m == pytest.approx(top_in, abs=1e-5)
    assert evaluation.cement.top_string_out_md_m == pytest.approx(top_out, abs=1e-5)


def test_spaces_and_steel_fill_the_hole(pair):
    """Bores, annuli and steel of all strings together are the drilled hole and the driven pipe."""
    _well, evaluation = pair
    depth = evaluation.plan.depth
    md = depth.host.shoe_md_m - 20.0  # in the lap
    inside = [s for s in evaluation.nest.spaces() if s.area_m2.top_m <= md <= s.area_m2.bottom_m]
    spaces = sum(space.area_m2.at(md) for space in inside)
    steel = sum(
        tube.outside_m2(md, md + 1e-3).values[0] - tube.inside_m2(md, md + 1e-3).values[0]
        for tube in evaluation.nest.at(md)
    )

    assert spaces + steel == pytest.approx(evaluation.nest.hole_m2.at(md), rel=1e-12)


def test_the_mass_balance_of_the_slurries_closes(pair):
    _well, evaluation = pair
    cement = evaluation.cement

    assert sum(s.volume_m3 for s in cement.slurries) == pytest.approx(cement.total_m3, rel=1e-12)
    assert sum(s.volume_m3 + s.excess_m3 for s in cement.sections) == pytest.approx(
        cement.total_m3, rel=1e-12
    )


def test_excess_stands_on_open_hole_alone(pair):
    _well, evaluation = pair

    assert {s.name for s in evaluation.cement.sections if s.excess_m3 > 0.0} == {OPEN_HOLE}


def test_a_band_of_the_hole_becomes_a_band_of_its_volume():
    text = (WELLS / "brindlewick-4.yaml").read_text(encoding="utf-8")
    start, end = text.index("    caliper:\n"), text.index("\nstrings:")
    band = "    washout: {diameter: {low: 1 %, likely: 3 %, high: 6 %}}\n"
    volumes = check(load_text(text[:start] + band + text[end:])).volumes
    bit, body = 8.5 * 0.0254, 7.0 * 0.0254

    (space,) = [space for space in volumes.spaces if space.name == OPEN_HOLE]

    collars = (7.656**2 - 7.0**2) * 0.0254**2 * 0.7853981633974483 * 4.9 * 0.3048  # shoe and two collars
    for value, factor in ((space.low_m3, 1.01), (space.m3, 1.03), (space.high_m3, 1.06)):
        body_only = annulus_m3_per_m(bit * factor, body) * 2740.0 * 0.3048
        assert value == pytest.approx(body_only - collars, rel=1e-9)


def test_laps_are_counted_from_three_parts_to_one_shoe(pair):
    well, evaluation = pair
    three = laps(evaluation.plan.depth)
    base = {kind: bottom for _top, bottom, _od, _bore, kind in well.parts}

    assert three.liner_top_m == pytest.approx(well.host_shoe - well.top, abs=1e-9)
    assert three.packer_base_m == pytest.approx(well.host_shoe - base["liner top packer"], abs=1e-9)
    assert three.hanger_base_m == pytest.approx(well.host_shoe - base["liner hanger"], abs=1e-9)


def test_a_pipe_that_does_not_fit_has_no_annulus():
    with pytest.raises(ValueError, match="does not fit"):
        annulus_m3_per_m(0.1, 0.2)

    assert annulus_m3_per_m(0.3, 0.2) == pytest.approx(capacity_m3_per_m(0.3) - capacity_m3_per_m(0.2))
