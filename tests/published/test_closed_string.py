"""Pressure in a closed string: what it takes off the hook, and what the pump puts in.

Sources: the ballooning of a tube held at both ends, Lubinski, Althouse and Logan, "Helical buckling of tubing
sealed in packers", Journal of Petroleum Technology, June 1962, with Poisson's ratio 0.3 for steel; pipe
capacities of the handbooks (bbl/ft = ID^2 / 1029.4); compressibility of water-based mud 3e-6 per psi, common
practice. The arithmetic stands beside each number.
"""

from __future__ import annotations

import math

import pytest
from scipy.optimize import brentq

from schematic.engineering.anchored import fluids_add_n, hook_falls_n
from schematic.job.pumped import (
    down_to_m3,
    into_the_string_m3,
    into_the_well_m3,
    pipe_bore_m3,
    pipe_steel_m3,
    well_m3,
)
from schematic.job.steps import cards
from schematic.outcome import MissingInput
from schematic.units import BARREL_M3, PSI_PA
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated

LBF_N = 4.4482216
BBL_PER_FT = 1.0 / 1029.4


@pytest.fixture(scope="module")
def brindlewick():
    return evaluated(BRINDLEWICK)


def test_a_string_held_at_both_ends_takes_off_the_hook_what_the_wall_leaves_of_pressure_times_bore(
    brindlewick,
):
    """Drill pipe 5 in, 4.276 in bore: 14.36 in2 and 5.275 in2 of steel over 9070 ft; heavy-weight pipe 5 in,
    3 in bore: 7.07 and 12.57 in2 over 380 ft; the tool is short. (9070 x 14.36 / 5.275 + 380 x 7.07 / 12.57)
    / (9070 / 5.275 + 380 / 12.57) = 14.23 in2; 0.4 x 14.23 in2 x 3740 psi = 21 290 lbf.
    """
    assert hook_falls_n(brindlewick.plan, 3740.0 * PSI_PA) / LBF_N == pytest.approx(21290.0, rel=0.005)


def test_the_same_by_solving_for_the_pull_at_which_nothing_moves():
    """Lame's strains of each pipe under end load and inner pressure, added up, by a root finder."""
    plan, pressure = evaluated(SOLLIVANE).plan, 170.5e5
    steel_pa, poisson, top = 2.068e11, 0.3, plan.depth.liner.top_md_m

    def moves_m(falls_n: float) -> float:
        total = 0.0
        for part in plan.depth.running.parts:
            long = min(part.bottom_md_m, top) - max(part.top_md_m, 0.0)
            if long > 0.0:
                inner, outer = part.id_m / 2.0, part.od_m / 2.0
                wall = math.pi * (outer**2 - inner**2)
                axial_pa = (pressure * math.pi * inner**2 - falls_n) / wall
                # radial and hoop stress add up to twice pressure x inner^2 / (outer^2 - inner^2) anywhere
                both_pa = 2.0 * pressure * inner**2 / (outer**2 - inner**2)
                total += long * (axial_pa - poisson * both_pa) / steel_pa
        return total

    assert hook_falls_n(plan, pressure) == pytest.approx(brentq(moves_m, 0.0, 1e6), rel=1e-9)


def test_what_goes_into_the_closed_string_is_what_the_mud_is_compressed_by(brindlewick):
    """269.8 bbl to the seat x 3e-6 per psi x 1700 psi = 1.376 bbl."""
    assert into_the_string_m3(brindlewick.job, 1700.0 * PSI_PA) / BARREL_M3 == pytest.approx(1.376, abs=0.001)


def test_what_the_cement_in_the_string_weighs_more_than_mud(brindlewick):
    """When the dart goes 130.2 bbl of cement and 29.5 bbl of spacer stand in the string's 159.7 bbl, 0.3 bbl of
    it below the liner top: 42 gal x (3.2 ppg x 129.9 bbl + 1.0 ppg x 29.5 bbl) = 18 700 lbf, nearly vertical.
    """
    train = brindlewick.job.train
    added = fluids_add_n(brindlewick.plan, train.at(train.dart_from_m3)) / LBF_N

    assert added == pytest.approx(18700.0, rel=0.01)
    assert fluids_add_n(brindlewick.plan, train.at(train.total_m3)) == pytest.approx(0.0, abs=1.0)


def test_what_goes_in_for_the_test_of_the_lap(brindlewick):
    """9480 ft of 8.681 in and the liner of 6.184 in down to 12464.3 ft: 694.0 + 110.9 = 804.9 bbl by the
    capacities; x 3e-6 x 2619 psi = 6.32 bbl. The parts of the liner top are wider, which is 0.1 bbl.
    """
    inside = (9480.0 * 8.681**2 + 2984.3 * 6.184**2) * BBL_PER_FT
    assert inside == pytest.approx(804.9, abs=0.2)
    assert well_m3(brindlewick.plan) / BARREL_M3 == pytest.approx(inside, abs=0.3)
    assert into_the_well_m3(brindlewick.job) / BARREL_M3 == pytest.approx(6.32, abs=0.02)


def test_a_light_fluid_that_stands_in_the_liner_fills_its_bore_there():
    """Sollivane with its light fluid down to 3155 m: 3055 m of 216.8 mm (36.915 l/m) and 100 m of 157.1 mm
    (19.384 l/m) are 112.78 + 1.94 m3.
    """
    its = evaluated(SOLLIVANE).plan

    assert down_to_m3(its, 3155.0) == pytest.approx(112.78 + 1.94, abs=0.05)


def test_the_pipe_of_both_ways_in_is_the_whole_string(brindlewick):
    """What is filled to the host shoe and from there on is the string's volume less that of its stick-up:
    6 ft of 4.276 in are 0.107 bbl.
    """
    plan = brindlewick.plan
    both = sum(pipe_bore_m3(plan, to_host_shoe=way) for way in (True, False))
    whole = sum(s.m3 for s in brindlewick.job.volumes.spaces if s.name == "running string to its foot")

    assert (whole - both) / BARREL_M3 == pytest.approx(0.107, rel=0.05)  # its tool joints are narrower
    # 2740 ft of the string go in below the host shoe, 4.276 in wide but for its tool joints
    assert pipe_bore_m3(plan, to_host_shoe=False) / BARREL_M3 == pytest.approx(
        2740.0 * 4.276**2 * BBL_PER_FT, rel=0.035
    )


def test_the_steel_of_the_string_by_its_weight():
    """Steel by weight over 7850 kg/m3: approximate weights of drill pipe count what is upset at its ends."""
    plan = evaluated(SOLLIVANE).plan
    by_weight = sum(
        part.weight_kg_per_m * (part.bottom_md_m - max(part.top_md_m, 0.0)) / 7850.0
        for part in plan.depth.running.parts
        if part.weight_kg_per_m is not None
    )
    assert pipe_steel_m3(plan) == pytest.approx(by_weight, rel=0.04)


def test_without_base_or_compressibility_of_the_mud_no_volume_is_told():
    bare = evaluated(BRINDLEWICK, ("base: water, plastic", "plastic"))

    with pytest.raises(MissingInput, match="mud"):
        into_the_string_m3(bare.job, 1700.0 * PSI_PA)
    card = next(one for one in cards(bare.job) if one.code == "set-the-hanger")
    assert any(one.what == "volume for hanger" for one in card.needs)
    assert [say for say in card.volume if "[not computed]" in str(say.figures)]
