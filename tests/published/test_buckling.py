"""Buckling loads, contact and bending of a wound pipe against worked figures and against beam theory."""

from __future__ import annotations

import math

import pytest

from schematic import check
from schematic.engineering.buckling import (
    HELICAL_FACTORS,
    Critical,
    bending_stress_pa,
    critical,
    helix_push_per_n2,
)
from schematic.engineering.stretch import STEEL_KG_PER_M3, STEEL_PA
from schematic.job.set_down import buckled, set_down
from schematic.units import FOOT_M, INCH_M, POUND_FORCE_N
from tests.depth.wells import WELLS

KLBF, KN = 1000.0 * POUND_FORCE_N, 1000.0
BRINDLEWICK, SOLLIVANE = WELLS / "brindlewick-4.yaml", WELLS / "sollivane-a7.yaml"


def stiffness(od_m: float, id_m: float) -> float:
    return STEEL_PA * math.pi / 64.0 * (od_m**4 - id_m**4)


def test_a_level_liner_snakes_at_34_7_klbf():
    """4 1/2 in 13.5 lb/ft in a level 6 1/8 in hole, mud 1180 kg/m3: 34.7 klbf, 154 kN. Source: trade reference, its
    appendix of test vectors, by Dawson and Paslay, JPT, October 1984.
    """
    weight = 13.5 * POUND_FORCE_N / FOOT_M * (1.0 - 1180.0 / STEEL_KG_PER_M3)
    found = critical(stiffness(4.5 * INCH_M, 3.92 * INCH_M), weight, 1.0, 0.5 * (6.125 - 4.5) * INCH_M)

    assert found.sinusoidal_n / KLBF == pytest.approx(34.7, abs=0.05)
    assert found.sinusoidal_n / KN == pytest.approx(154.0, abs=0.5)
    assert found.helical_n / found.sinusoidal_n == pytest.approx(HELICAL_FACTORS[0])
    assert found.helical_most_n / found.sinusoidal_n == pytest.approx(HELICAL_FACTORS[1])


def test_a_vertical_pipe_by_hand():
    """5 in 19.5 lb/ft (22.6 lb/ft with tool joints, bore 4.276 in) in 12.6 ppg: E I = 30e6 psi x 14.269 in4, w = 22.6 x
    0.8076 / 12 = 1.5210 lb/in: (E I w2)^(1/3) = 996.8 lbf, times 1.94 and 5.55 (from memory) 1 934 and 5 532 lbf.
    """
    weight = 22.6 * 0.8076 * POUND_FORCE_N / FOOT_M
    found = critical(stiffness(5 * INCH_M, 4.276 * INCH_M), weight, 0.0, 1.84 * INCH_M)

    assert found.sinusoidal_n / POUND_FORCE_N == pytest.approx(1934, abs=1)
    assert found.helical_n / POUND_FORCE_N == pytest.approx(5532, abs=2)
    assert found.helical_most_n == found.helical_n


def test_the_states():
    bears = Critical(100.0, 141.0, 183.0)

    assert [bears.state(push) for push in (99.9, 100.0, 140.9, 141.0)] == [
        "straight", "sinusoidal", "sinusoidal", "helical",
    ]  # fmt: skip


def test_the_push_of_a_helix_is_that_of_a_bent_beam():
    """A beam-column on a cylinder: y = r sin kz wants F r k2 - E I r k4 of the wall (Timoshenko's beam, from memory).

    At the pitch 2 pi / k with F = 2 E I k2, that of Lubinski's helix, this is r F2 / (4 E I).
    """
    beam, clearance, push = 1.2e6, 0.045, 200e3
    k = math.sqrt(push / (2.0 * beam))

    assert helix_push_per_n2(beam, clearance) * push**2 == pytest.approx(
        push * clearance * k**2 - beam * clearance * k**4
    )


def test_the_bending_of_a_helix_is_that_of_its_curvature():
    """Curvature of a helix of radius r and pitch p: 4 pi2 r / (p2 + 4 pi2 r2); p2 = 8 pi2 E I / F. The form in use drops
    the second term of the sum, (2 pi r / p)2 of the first: 0.01 % here.
    """
    od, bore, clearance, push = 0.127, 0.1086, 0.0449, 200e3
    beam = stiffness(od, bore)
    pitch2 = 8.0 * math.pi**2 * beam / push
    curvature = 4.0 * math.pi**2 * clearance / (pitch2 + 4.0 * math.pi**2 * clearance**2)

    assert bending_stress_pa(od, beam, clearance, push) == pytest.approx(
        STEEL_PA * 0.5 * od * curvature, rel=2e-4
    )


def test_the_deviated_scenario_snakes():
    """220 kN on the packer: drill pipe above the HWDP carries about 193 kN and snakes from 156. Source: trade reference,
    5.2; weights 2 %.
    """
    found = {pipe.name: pipe for pipe in set_down(check(SOLLIVANE).plan, 220 * KN).buckled}
    pipe = found["drill pipe"]

    assert pipe.compression_n / KN == pytest.approx(193.0, rel=0.02)
    assert pipe.critical.sinusoidal_n / KN == pytest.approx(156.0, rel=0.02)
    assert pipe.state == "sinusoidal"
    assert pipe.bending_pa == 0.0
    assert found["heavy-weight drill pipe"].state == "straight"


def test_the_vertical_scenario_winds():
    """50 klbf set down: drill pipe above the HWDP, which weighs about 15 klbf in mud, winds. Source: trade reference, 5.1.

    By hand the pipe carries 50 - 40 lb/ft x 30 ft x 0.8076 - 49.3 lb/ft x 380 ft x 0.8076 = 33.9 klbf; it leans 0.99 deg at
    9 070 ft. So does the HWDP by the same formulas, which the reference does not say.
    """
    found = {pipe.name: pipe for pipe in buckled(check(BRINDLEWICK).plan, 50 * KLBF)}

    assert found["drill pipe"].compression_n / KLBF == pytest.approx(33.9, rel=0.002)
    assert found["drill pipe"].state == "helical"
    assert found["heavy-weight drill pipe"].state == "helical"
    lost = found["heavy-weight drill pipe"].compression_n - found["drill pipe"].compression_n
    assert lost / KLBF == pytest.approx(15.0, rel=0.02)


def test_what_winds_is_bent():
    """The curvature r F / (2 E I) by hand for 33.9 klbf: 1.8405 in x 33 900 / (2 x 4.281e8 lbf in2) = 7.288e-5 per in,
    times 30e6 psi and 2.5 in: 5 466 psi.
    """
    found = {pipe.name: pipe for pipe in buckled(check(BRINDLEWICK).plan, 50 * KLBF)}

    assert found["drill pipe"].bending_pa / 6894.757 == pytest.approx(5466, rel=0.005)
