"""Laps, excess, bands of the hole, and what does not fit."""

import pytest

from schematic.engineering.volumes import (
    BELOW_LINER,
    OPEN_HOLE,
    RATHOLE,
    annulus_m3_per_m,
    capacity_m3_per_m,
    laps,
)
from schematic.units import BARREL_M3
from schematic.verbs import demos
from tests.depth.wells import BRINDLEWICK, TEXTS, evaluated
from tests.engineering.independent import Well


@pytest.fixture(params=TEXTS.values(), ids=TEXTS)
def both(request):
    """The tool's evaluation and the independent working of one well."""
    return evaluated(request.param), Well(request.param)


def test_excess_stands_on_open_hole_alone(both):
    evaluation, _well = both

    assert {s.name for s in evaluation.cement.sections if s.excess_m3 > 0.0} == {OPEN_HOLE}


def test_a_band_of_the_hole_becomes_a_band_of_its_volume():
    start, end = BRINDLEWICK.index("    caliper:\n"), BRINDLEWICK.index("\nstrings:")
    band = "    washout: {diameter: {low: 1 %, likely: 3 %, high: 6 %}}\n"
    volumes = evaluated(BRINDLEWICK[:start] + band + BRINDLEWICK[end:]).volumes
    bit, body = 8.5 * 0.0254, 7.0 * 0.0254

    (space,) = [space for space in volumes.spaces if space.name == OPEN_HOLE]

    collars = (7.656**2 - 7.0**2) * 0.0254**2 * 0.7853981633974483 * 4.9 * 0.3048  # shoe and two collars
    for value, factor in ((space.low_m3, 1.01), (space.m3, 1.03), (space.high_m3, 1.06)):
        body_only = annulus_m3_per_m(bit * factor, body) * 2740.0 * 0.3048
        assert value == pytest.approx(body_only - collars, rel=1e-9)


def test_laps_are_counted_from_three_parts_to_one_shoe(both):
    evaluation, well = both
    three = laps(evaluation.plan)
    base = {
        kind: bottom for (_top, bottom, *_areas), kind in zip(well.liner.stretches, well.kinds, strict=True)
    }

    assert three.liner_top_m == pytest.approx(well.host_shoe - well.top, abs=1e-9)
    assert three.packer_base_m == pytest.approx(well.host_shoe - base["liner top packer"], abs=1e-9)
    assert three.hanger_base_m == pytest.approx(well.host_shoe - base["liner hanger"], abs=1e-9)
    assert three.cemented_m == three.hanger_base_m  # cement is planned to above the liner top


def test_the_cemented_lap_begins_where_cement_does():
    """Host shoe 9850 ft, cement planned to 9700 ft: 150 ft of lap is cemented, not the 342.1 ft to the hanger."""
    evaluation = evaluated(BRINDLEWICK, ("planned top: 9280 ft", "planned top: 9700 ft"))

    assert evaluation.laps.cemented_m == pytest.approx(150 * 0.3048, abs=1e-9)


def test_an_inner_string_without_a_plug_still_ends_where_it_ends():
    """The fluid leaves the string at its foot, 20 ft inside the liner, whether a plug hangs there or not."""
    with_plug = evaluated(BRINDLEWICK).displacement
    without = evaluated(BRINDLEWICK, ("    - {part: wiper plug}\n", "")).displacement

    assert with_plug is not None
    assert without is not None
    assert without.to_bump_m3 == pytest.approx(with_plug.to_bump_m3, rel=1e-12)
    assert without.to_plug_m3 is None


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_a_wider_hole_takes_more(text):
    """Low, likely and high stand in their order, whichever volume."""
    for space in evaluated(text).volumes.spaces:
        assert 0.0 < space.low_m3 <= space.m3 <= space.high_m3


def test_a_liner_that_ends_in_its_host_has_the_hosts_bore_below_it():
    """Shoe at 9 600 ft, host shoe at 9 850 ft: 250 ft of 8.681 in bore, then hole of 9.30 and 8.80 in."""
    spaces = evaluated(
        BRINDLEWICK, ("off bottom: 10 ft", "shoe: 9600 ft"), ("lap: 370 ft", "lap: 3000 ft")
    ).volumes.spaces
    below = [space for space in spaces if space.name == BELOW_LINER]
    cased, upper, lower = (
        capacity_m3_per_m(diameter * 0.0254) * feet * 0.3048
        for diameter, feet in ((8.681, 250.0), (9.30, 1450.0), (8.80, 1300.0))
    )

    assert [space.name for space in spaces if space.name in (OPEN_HOLE, RATHOLE)] == []
    assert sum(space.m3 for space in below) == pytest.approx(cased + upper + lower, rel=1e-12)


@pytest.mark.parametrize(
    ("changes", "missing"),
    [
        ((("  planned top: 9280 ft\n", ""),), "cement.planned top"),
        ((("  excess: {open hole: 20 %, basis: caliper}\n", ""),), "cement.excess.open hole"),
        ((("length: 30 ft, od: 5 in, id: 3.00 in", "length: 30 ft, id: 3.00 in"),), "OD of running tool"),
        ((("length: 30 ft, od: 5 in, id: 3.00 in", "length: 30 ft, od: 5 in"),), "bore of running tool"),
        (
            (("{part: inner string, length: 20 ft", "{part: inner string, length: 2990 ft"),),
            "a running string that ends above the landing collar",
        ),
    ],
)
def test_what_cannot_be_computed_is_none_and_names_what_is_missing(changes, missing):
    evaluation = evaluated(BRINDLEWICK, *changes)

    assert missing in {name for one in evaluation.missing for name in one.needs}
    assert None in (evaluation.cement, evaluation.displacement)


def test_a_pipe_that_does_not_fit_has_no_annulus():
    with pytest.raises(ValueError, match="does not fit"):
        annulus_m3_per_m(0.1, 0.2)

    assert annulus_m3_per_m(0.3, 0.2) == pytest.approx(capacity_m3_per_m(0.3) - capacity_m3_per_m(0.2))


def test_excess_on_gauge_stands_for_the_washout():
    """61.9 bbl of gauge annulus is the figure of the trade reference; the excess counts on it alone."""
    text = BRINDLEWICK.replace("open hole: 20 %, basis: caliper", "open hole: 50 %, basis: gauge")
    cement = evaluated(text).cement
    hole = [section for section in cement.sections if section.name == OPEN_HOLE]

    assert sum(section.volume_m3 for section in hole) / BARREL_M3 == pytest.approx(61.9, rel=0.005)
    assert cement.excess_m3 / BARREL_M3 == pytest.approx(0.5 * 61.9, rel=0.005)


@pytest.mark.parametrize(
    "change",
    [
        ("length: 9076 ft", "length: 9040 ft"),
        ("fill: true, each: 40.334 ft", "count: 74, length: 2984.734 ft"),
    ],
)
def test_no_displacement_is_printed_from_a_tally_that_does_not_close(change):
    evaluation = evaluated(BRINDLEWICK, change)

    assert evaluation.displacement is None
    assert any(one.what == "displacement" for one in evaluation.missing)


def test_height_above_ground_tells_where_the_ground_is():
    """26 ft of air below the rotary table are no hole: the surface hole begins at ground."""
    evaluation = evaluated(
        BRINDLEWICK,
        (
            "above: mean sea level, height: 1240 ft, ground height: 1214 ft",
            "above: ground level, height: 26 ft",
        ),
        ("    shoe: 90 ft\n    driven: yes\n", "    shoe: 20 ft\n"),
    )

    assert evaluation.plan.identity.datum.ground_md_m == pytest.approx(26 * 0.3048)
    assert evaluation.plan.depth.hole.diameter_m.top_m == pytest.approx(26 * 0.3048)


def test_a_stretch_of_its_own_excess_counts_at_its_own_share():
    """9850 to 11300 ft is 52.8 bbl by the trade reference, the rest 35.6: 50 % of the one and 20 % of the other."""
    evaluation = evaluated(
        BRINDLEWICK,
        (
            "open hole: 20 %, basis: caliper",
            "open hole: 20 %, basis: caliper, intervals: [{from: 9850 ft, to: 11300 ft, share: 50 %}]",
        ),
    )

    assert evaluation.cement is not None
    assert evaluation.cement.excess_m3 / BARREL_M3 == pytest.approx(0.5 * 52.8 + 0.2 * 35.6, rel=0.005)


def test_an_interval_across_no_boundary_counts_where_it_stands():
    """100 ft of the 9.30 by 7.00 in annulus at 100 % more."""
    plain = evaluated(BRINDLEWICK).cement
    more = evaluated(
        BRINDLEWICK,
        (
            "open hole: 20 %, basis: caliper",
            "open hole: 20 %, basis: caliper, intervals: [{from: 10000 ft, to: 10100 ft, share: 120 %}]",
        ),
    ).cement

    annulus = annulus_m3_per_m(9.30 * 0.0254, 7.0 * 0.0254) * 100 * 0.3048
    assert more.excess_m3 - plain.excess_m3 == pytest.approx(annulus, rel=1e-9)


def test_no_cement_is_counted_below_a_scab_liner():
    """Fallow 6: 260 m of 7 in 26 lb/ft (ID 159.4 mm) in 9 5/8 in 40 lb/ft (ID 224.4 mm) take some 4 m3, not the 51 m3 of
    the well below; its laps end at its own shoe.
    """
    evaluation = evaluated(demos()["fallow-6.yaml"])

    assert evaluation.cement is not None
    assert [s.name for s in evaluation.cement.sections] == ["shoe track", "lap"]
    assert evaluation.cement.total_m3 < 5.0
    assert evaluation.laps.end == "liner shoe"
    assert evaluation.laps.liner_top_m == pytest.approx(260.0)
