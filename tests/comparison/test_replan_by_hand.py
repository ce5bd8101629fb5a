"""Two liners put higher, every figure against arithmetic from the two worked wells of the trade reference.

Their printed figures stand here, and with them what 500 ft, or 150 m, of each annulus and bore hold: circles of
the diameters in the files, 1029.4 as the field divides. Half the last digit of the reference is the tolerance
where it says no other.
"""

from __future__ import annotations

import math

import pytest

from schematic.units import BARREL_M3, FOOT_M, PPG_KG_PER_M3, PSI_PA
from tests.comparison.replanning import moved, table
from tests.depth.wells import BRINDLEWICK, SOLLIVANE

KLBF_N = 4448.2216
BAR_PA = 1e5


@pytest.fixture(scope="module")
def vertical():
    """Shoe at 12 090 instead of 12 590 ft."""
    return moved(BRINDLEWICK, "shoe", "12090 ft")


@pytest.fixture(scope="module")
def deviated():
    """Shoe at 3 832 instead of 3 982 m."""
    return moved(SOLLIVANE, "shoe", "3832 m")


def by_name(evaluation, name):
    return sum(s.volume_m3 for s in evaluation.cement.sections if s.name == name)


def per_ft(outer_in, inner_in=0.0):
    """Bbl per foot between two diameters in inches."""
    return (outer_in**2 - inner_in**2) / 1029.4


def test_everything_is_500_ft_higher_and_as_long(vertical):
    before, after = vertical.both.old.plan.depth, vertical.both.new.plan.depth

    assert after.liner.shoe_md_m == pytest.approx(12090 * FOOT_M, abs=1e-9)
    assert after.liner.top_md_m == pytest.approx(8980 * FOOT_M, abs=1e-9)
    for part, was in zip(after.liner.parts, before.liner.parts, strict=True):
        assert part.top_md_m == pytest.approx(was.top_md_m - 500 * FOOT_M, abs=1e-9), part.name
        assert part.joints == was.joints
    assert after.td_md_m == before.td_md_m
    assert after.hole == before.hole
    assert after.running.stick_up_m == before.running.stick_up_m
    assert after.running.plug_md_m == pytest.approx(9000 * FOOT_M, abs=1e-9)  # hung at 9 500 ft


def test_laps(vertical):
    laps = vertical.both.new.laps

    assert laps.liner_top_m == pytest.approx(870.0 * FOOT_M, abs=0.05 * FOOT_M)  # 370.0
    assert laps.packer_base_m == pytest.approx(851.7 * FOOT_M, abs=0.05 * FOOT_M)  # 351.7
    assert laps.hanger_base_m == pytest.approx(842.1 * FOOT_M, abs=0.05 * FOOT_M)  # 342.1


def test_displacement_is_500_ft_of_drill_pipe_less(vertical):
    """4.276 in of bore, 2.75 in over 21 in of each 31.5 ft joint: 8.59 bbl of 269.8 to the bump."""
    share = 21 / 12 / 31.5
    held = 500 * (per_ft(4.276) * (1 - share) + per_ft(2.75) * share)

    assert held == pytest.approx(8.59, abs=0.005)
    less = vertical.both.old.displacement.to_bump_m3 - vertical.both.new.displacement.to_bump_m3
    assert less / BARREL_M3 == pytest.approx(held, abs=0.005)
    assert vertical.both.new.displacement.to_bump_m3 / BARREL_M3 == pytest.approx(269.8 - held, abs=0.05)
    assert vertical.both.new.displacement.to_plug_m3 / BARREL_M3 == pytest.approx(159.7 - held, abs=0.05)
    # 0.1010 bbl a stroke, efficiency counted
    assert vertical.both.new.displacement.to_bump_strokes == pytest.approx((269.8 - held) / 0.1010, abs=0.6)


def test_cement(vertical):
    """Lap 8.94 and 500 ft more of 7 in pipe in 8.681 in; open hole 88.4 less 500 ft of 8.80 in hole;
    rathole 510 ft of 8.80 in; 9.78 above the liner top and 4.67 in the shoe track as before.
    """
    lap = 8.94 + 500 * per_ft(8.681, 7.0)
    hole = 88.4 - 500 * per_ft(8.80, 7.0)
    below = 510 * per_ft(8.80)
    total = lap + 1.2 * hole + below + 9.78 + 4.67

    assert by_name(vertical.both.new, "lap") / BARREL_M3 == pytest.approx(lap, abs=0.01)
    assert by_name(vertical.both.new, "open hole") / BARREL_M3 == pytest.approx(hole, abs=0.05)
    assert by_name(vertical.both.new, "rathole") / BARREL_M3 == pytest.approx(below, abs=0.005)
    assert by_name(vertical.both.new, "above liner top") / BARREL_M3 == pytest.approx(9.78, abs=0.005)
    assert by_name(vertical.both.new, "shoe track") / BARREL_M3 == pytest.approx(4.67, abs=0.005)
    # the reference's parts add up to 130.3, printed to a tenth; ours are 130.25 unrounded
    assert vertical.both.new.cement.total_m3 / BARREL_M3 == pytest.approx(total, abs=0.1)
    sacks = sum(slurry.sacks for slurry in vertical.both.new.cement.slurries)
    assert sacks == pytest.approx(total * 5.6146 / 1.15, abs=0.5)
    assert vertical.both.new.plan.cement.planned_top_md_m == pytest.approx(8780 * FOOT_M, abs=1e-9)


def test_columns(vertical):
    """500 ft more of 15.8 over 12.6 ppg above the host shoe; the liner's column is as long as it was, over
    less depth. TVD is MD within 3 ft.
    """
    rows = {row[0]: row for row in table(vertical, "What is computed otherwise")}
    host = rows["static EMW, host shoe, planned"][3].si / PPG_KG_PER_M3
    shoe = rows["static EMW, liner shoe, planned"][3].si / PPG_KG_PER_M3

    assert host == pytest.approx(12.85 + 3.2 * 500 / 9850, abs=0.005)
    assert shoe == pytest.approx(12.6 + (13.49 - 12.6) * 12590 / 12090, abs=0.005)


def test_what_pushes_behind_the_lap(vertical):
    """500 ft less of 9.8 ppg inside and 500 ft more of gas, 0.10 to 0.15 psi/ft, outside."""
    before, after = vertical.both.old.job.proofs.inflow[0], vertical.both.new.job.proofs.inflow[0]
    lighter = 500 * 9.8 * 0.051948

    for index, gradient in ((0, 0.15), (1, 0.10)):
        more = (after.needed_pa[index] - before.needed_pa[index]) / PSI_PA
        assert more == pytest.approx(lighter - 500 * gradient, abs=0.5)


def test_weights(vertical):
    """500 ft of pipe of 22.6 lb/ft, buoyed by 0.8076; the liner weighs what it weighed."""
    before, after = vertical.both.old.job.hook_loads, vertical.both.new.job.hook_loads
    less = 500 * 22.6 * 0.8076 / 1000

    assert (before.on_depth.rotating_n - after.on_depth.rotating_n) / KLBF_N == pytest.approx(less, abs=0.05)
    assert (before.alone.rotating_n - after.alone.rotating_n) / KLBF_N == pytest.approx(less, abs=0.05)
    assert after.liner_whole_n == pytest.approx(before.liner_whole_n, rel=1e-9)


def test_laps_and_displacement_of_the_deviated_well(deviated):
    """108.6 mm of bore, 69.9 mm over 0.533 m of each 9.6 m joint: 1.344 m3 of 44.04 to the bump; the
    reference's 44.04 is 44.03 here, its shoe track being 0.01 larger than ours.
    """
    share = 0.533 / 9.6
    held = 150 * math.pi / 4 * (0.1086**2 * (1 - share) + 0.0699**2 * share)
    laps = deviated.both.new.laps

    assert laps.liner_top_m == pytest.approx(275.0, abs=0.005)
    assert laps.packer_base_m == pytest.approx(268.0, abs=0.005)
    assert laps.hanger_base_m == pytest.approx(264.95, abs=0.005)
    less = deviated.both.old.displacement.to_bump_m3 - deviated.both.new.displacement.to_bump_m3
    assert less == pytest.approx(held, abs=1e-6)
    assert deviated.both.new.displacement.to_bump_m3 == pytest.approx(44.04 - held, abs=0.015)


def test_cement_of_the_deviated_well(deviated):
    lap = 1.415 + 150 * math.pi / 4 * (0.2168**2 - 0.1778**2)
    hole = 11.69 - 150 * math.pi / 4 * (0.224**2 - 0.1778**2)
    below = 153 * math.pi / 4 * 0.224**2

    # bores of the catalogue are 8.535 in and 6.184 in, 216.8 and 157.1 mm as the reference rounds them
    assert by_name(deviated.both.new, "lap") == pytest.approx(lap, abs=0.005)
    assert by_name(deviated.both.new, "open hole") == pytest.approx(hole, abs=0.01)
    assert by_name(deviated.both.new, "rathole") == pytest.approx(below, abs=0.005)
    # 1.45 above the liner top and 0.72 in the shoe track, as before
    assert deviated.both.new.cement.total_m3 == pytest.approx(
        lap + 1.15 * hole + below + 1.45 + 0.72, abs=0.02
    )
    lead, tail = (slurry.volume_m3 for slurry in deviated.both.new.cement.slurries)
    # what is more of the lead stands in the lap; what is more of the tail in the hole below the shoe
    assert lead - 9.07 == pytest.approx(lap - 1.415, abs=0.01)
    assert tail == pytest.approx(deviated.both.new.cement.total_m3 - lead, abs=1e-9)


def test_inflow_along_55_degrees(deviated):
    """86.04 m less of brine of 1.03 sg and more of oil, 0.07355 bar/m: 71 bar and 2.36 more."""
    tvd = 150 * math.cos(math.radians(55))
    more = tvd * (1030 * 9.80665 - 7355.0) / BAR_PA
    least = deviated.both.new.job.proofs.inflow[0].needed_pa[0] / BAR_PA

    assert more == pytest.approx(2.36, abs=0.005)
    assert least - deviated.both.old.job.proofs.inflow[0].needed_pa[0] / BAR_PA == pytest.approx(
        more, abs=0.01
    )
    assert least == pytest.approx(71 + more, abs=0.5)


def test_weight_along_55_degrees(deviated):
    """150 m of 33.6 kg/m in mud of 1.38 sg, steel of 7.85: 23.4 kN along the hole."""
    less = 150 * 33.6 * 9.80665 * (1 - 1.38 / 7.85) * math.cos(math.radians(55)) / 1000
    before, after = deviated.both.old.job.hook_loads, deviated.both.new.job.hook_loads

    assert (before.on_depth.rotating_n - after.on_depth.rotating_n) / 1000 == pytest.approx(less, abs=0.1)
    assert after.on_depth.up_n < before.on_depth.up_n
