"""Setting pressures, pump-out, hanger load and tests of the two worked wells of the trade reference, section 5.

Its figures are typed from it; its tolerances are half its last printed digit, weights 2 %. Its liner weighs
73.2 klbf in mud, ours 72.8: it weighs hanger, packer and receptacle by themselves, whose weights it does not
give; ours weigh what the liner's pipe weighs.
"""

from __future__ import annotations

import pytest

from schematic.catalogue.ratings import burst_pa
from schematic.engineering.strength import casing_strength, liner_strength
from schematic.job.bounds import never
from schematic.job.hanger_load import allowed_n
from schematic.job.setting import HANGER, PLUG, SEAT, TOOL, pump_out_n
from schematic.outcome import MissingInput
from schematic.units import PPG_KG_PER_M3, PSI_PA
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated

KLBF = 4448.2216152605
BAR = 1e5


@pytest.fixture(scope="module")
def vertical():
    return evaluated(BRINDLEWICK)


@pytest.fixture(scope="module")
def deviated():
    return evaluated(SOLLIVANE)


@pytest.mark.parametrize(
    ("name", "low", "high", "counts_to"),
    [
        (HANGER, 1425, 1575, 1700),
        (TOOL, 2160, 2640, 2640),
        (SEAT, 3060, 3740, 3740),
        (PLUG, 1260, 1540, 1540),
    ],
)
def test_the_bands_of_the_vertical_well(vertical, name, low, high, counts_to):
    band = vertical.job.setting.band(name)

    found = [value / PSI_PA for value in (band.low_pa, band.high_pa, band.counts_to_pa)]
    assert found == pytest.approx([low, high, counts_to], abs=0.5)


def test_the_gaps_between_the_bands_of_the_vertical_well(vertical):
    """425 psi from circulating to the hanger, 460 from its held pressure to the tool, 420 on to the seat."""
    its = vertical.job.setting
    hanger, tool, seat = (its.band(name) for name in (HANGER, TOOL, SEAT))

    assert (hanger.low_pa - its.circulate_pa) / PSI_PA == pytest.approx(425, abs=0.5)
    assert (tool.low_pa - hanger.counts_to_pa) / PSI_PA == pytest.approx(460, abs=0.5)
    assert (seat.low_pa - tool.counts_to_pa) / PSI_PA == pytest.approx(420, abs=0.5)
    assert its.after(HANGER) == tool
    assert its.after(TOOL) == seat
    assert its.after(SEAT) is None


def test_no_step_goes_nearer_to_the_next_band_than_the_limits_keep(vertical):
    """By hand: 2 160 less 300 and 3 060 less 300 psi."""
    plan, its = vertical.plan, vertical.job.setting

    assert never(plan, its, HANGER).pressure_pa / PSI_PA == pytest.approx(1860, abs=0.5)
    assert never(plan, its, TOOL).pressure_pa / PSI_PA == pytest.approx(2760, abs=0.5)


def test_what_is_not_known_bounds_nothing_and_is_named(vertical):
    bound = never(vertical.plan, vertical.job.setting, HANGER)

    assert {"surface equipment", "tool and spacer", "hydraulic hanger"} <= set(bound.unknown)


def test_the_seat_may_not_lift_the_tool(vertical):
    """50 klbf less 10 over 9.62 in2, the area of the 3.50 in slick joint: 4 158 psi."""
    bound = never(vertical.plan, vertical.job.setting, SEAT)

    assert bound.pressure_pa / PSI_PA == pytest.approx(40_000 / 9.6211, abs=1.0)


def test_pump_out_forces(vertical, deviated):
    """36.0 klbf at 3 740 psi on 3.50 in; 153 kN at 247 bar on 88.9 mm (its 153 rounds 153.6 of 247.5 bar)."""
    assert pump_out_n(vertical.plan, 3740 * PSI_PA) / KLBF == pytest.approx(36.0, abs=0.05)
    assert pump_out_n(deviated.plan, 247 * BAR) / 1000 == pytest.approx(153, abs=0.5)


def test_a_missing_pressure_bounds_no_step(vertical):
    del vertical
    without = evaluated(BRINDLEWICK, ("  tool releases at: 2400 psi +/- 10 %\n", ""))

    with pytest.raises(MissingInput) as caught:
        never(without.plan, without.job.setting, HANGER)
    assert caught.value.missing == ("installation.tool releases at",)


@pytest.mark.parametrize(
    ("when", "klbf"),
    [
        ("when the seat opens", 123),
        ("when the plug bumps", 123),
        ("when the packer sets", 98),
        ("in the test liner and lap", 228),
    ],
)
def test_the_hanger_of_the_vertical_well(vertical, when, klbf):
    loads, _missing = vertical.job.hanger_loads
    load = next(one for one in loads if one.name == when)

    assert load.total_n / KLBF == pytest.approx(klbf, rel=0.02)


def test_the_hanger_may_carry_its_rating_over_its_factor(vertical):
    """230 over 1.25 is 184 klbf."""
    assert allowed_n(vertical.plan) / KLBF == pytest.approx(184, abs=0.5)


def test_the_lap_test_of_the_vertical_well(vertical):
    """2 619 psi with 12.6 ppg; the same is 17.7 ppg at the host shoe."""
    [test] = vertical.job.proofs.positive

    assert test.surface_pa / PSI_PA == pytest.approx(2619, abs=0.5)
    assert test.host_emw_kg_per_m3 / PPG_KG_PER_M3 == pytest.approx(17.7, abs=0.05)
    assert test.host_limit_kg_per_m3 / PPG_KG_PER_M3 == pytest.approx(15.8, abs=0.05)


def test_the_lap_test_by_its_emw(vertical):
    """The pressure that gives 16.6 ppg below the shoe: 2 616 psi, where the reference prints 2 619.

    16.6 less 12.6 ppg over 12 588 ft of true depth is 2 615.8; over 12 600 ft, total depth, 2 618.2, and with
    the rounded 0.052 psi/ft/ppg 2 620.8: it took total depth.
    """
    del vertical
    by_emw = evaluated(BRINDLEWICK, ("surface pressure: 2619 psi, emw: 16.6 ppg", "emw: 16.6 ppg"))
    [test] = by_emw.job.proofs.positive

    assert test.surface_pa / PSI_PA == pytest.approx(2615.8, abs=0.5)


def test_the_lap_test_of_the_deviated_well(deviated):
    """34.5 bar over the fracture pressure at the host shoe, 66.6 bar of leak-off with 1.38 sg: 101 bar."""
    [test] = deviated.job.proofs.positive

    assert test.how == "over fracture at the host shoe"
    assert test.surface_pa / BAR == pytest.approx(101, abs=0.5)


def test_what_pushes_behind_the_laps(vertical, deviated):
    """2 210 to 2 330 psi of gas at 0.15 to 0.10 psi/ft up from 11 860 ft; 71 bar of oil up from 3 620 m."""
    [gas], [oil] = vertical.job.proofs.inflow, deviated.job.proofs.inflow

    assert [value / PSI_PA for value in gas.needed_pa] == pytest.approx([2210, 2330], abs=5)
    assert oil.needed_pa[1] / BAR == pytest.approx(71, abs=0.5)


def test_the_drop_in_hydrostatic_is_not_the_difference_across_the_lap(deviated):
    """Base oil of 0.80 sg to 3 040 m takes 124 bar off."""
    [test] = deviated.job.proofs.inflow

    assert test.light_drop_pa / BAR == pytest.approx(124, abs=0.5)
    assert test.reached_pa[0] == pytest.approx(
        test.behind_pa[0] - (test.mud_pa - test.light_drop_pa), rel=1e-12
    )


@pytest.mark.parametrize(("what", "burst", "collapse"), [("liner", 11_220, 8_530), ("host", 6_870, 4_750)])
def test_what_the_pipes_of_the_vertical_well_bear(vertical, what, burst, collapse):
    """API TR 5C3 tables, as casing tables print them, to 10 psi: 7 in 29 lb/ft P-110, 9 5/8 in 47 lb/ft L-80."""
    depth = vertical.plan.depth
    found = liner_strength(depth.liner) if what == "liner" else casing_strength(depth.host)

    assert found.burst_pa / PSI_PA == pytest.approx(burst, abs=6)
    assert found.collapse_pa / PSI_PA == pytest.approx(collapse, abs=15)


def test_tension_takes_collapse_away_and_wear_takes_burst(vertical):
    host = vertical.plan.depth.host
    worn = casing_strength(host._replace(wall_left=0.8))
    new = casing_strength(host)

    assert new.collapse_under_pa(2.0e6) < new.collapse_under_pa(1.0e6) < new.collapse_pa
    assert new.collapse_under_pa(-1.0e6) == pytest.approx(new.collapse_pa)
    assert worn.burst_pa == pytest.approx(burst_pa(host.od_m, 0.8 * new.wall_m, new.yield_pa))


def test_a_grade_that_is_not_known_has_no_strength(vertical):
    with pytest.raises(MissingInput):
        casing_strength(vertical.plan.depth.host._replace(grade=""))
