"""Weights in different fluids, lifting forces and free pipe against published worked figures."""

from __future__ import annotations

import math

import pytest

from schematic import check, resolve
from schematic.depth.nest import circle_m2
from schematic.engineering.columns import Layer
from schematic.engineering.drag import Point
from schematic.engineering.hanging import Piece, elongation_m, liner_pieces
from schematic.engineering.stretch import STEEL_KG_PER_M3
from schematic.engineering.wall import Around, around, spans
from schematic.engineering.weights import HeldDown, held_down, weigh, weights
from schematic.units import FOOT_M, INCH_M, POUND_FORCE_N, POUND_KG, PPG_KG_PER_M3, PSI_PA
from schematic.verbs import demos, load_text
from tests.depth.wells import WELLS

KLBF = 1000.0 * POUND_FORCE_N
BRINDLEWICK = WELLS / "brindlewick-4.yaml"


def pipe(length_ft: float, lb_ft: float, od_in: float, id_in: float) -> Piece:
    bore = circle_m2(id_in * INCH_M)
    return Piece(
        "casing", 0.0, length_ft * FOOT_M, lb_ft * POUND_KG / FOOT_M, od_in * INCH_M, id_in * INCH_M,
        bore, od_in * INCH_M, of_liner=False, is_pipe=True, as_pipe=False,
    )  # fmt: skip


def hangs(piece: Piece, inside_ppg: float, outside_ppg: float) -> float:
    """Weight in lbf with a fluid inside and another outside."""
    bottom = piece.bottom_md_m
    inside, outside = (
        (Layer(name, 0.0, bottom, ppg * PPG_KG_PER_M3),)
        for name, ppg in (("in", inside_ppg), ("out", outside_ppg))
    )
    (span,) = spans([piece], Around((), inside, outside))
    return span.weight_n_per_m * bottom / POUND_FORCE_N


@pytest.mark.parametrize(("ppg", "printed"), [(10.0, 0.8473), (15.0, 0.77099), (20.0, 0.6947)])
def test_the_buoyancy_factor(ppg, printed):
    """1 - MW / 65.5: a worked page on ton-miles (10 ppg), one on overpull (20 ppg), a formula book from memory (15).

    Steel of 7850 kg/m3 is 65.51 ppg, which gives 0.84736, 0.77103 and 0.69471: within 1e-4 of the printed.
    """
    assert hangs(pipe(1.0, 1.0, 5.0, 4.276), ppg, ppg) == pytest.approx(printed, abs=1e-4)


def test_the_factor_by_specific_gravity():
    """10 ppg: 0.847, with steel of 7870 kg/m3. Source: Devereux, Practical Well Planning and Drilling Manual, p. 66."""
    assert hangs(pipe(1.0, 1.0, 5.0, 4.276), 10.0, 10.0) == pytest.approx(0.847, abs=0.001)


def test_hook_load_of_drill_pipe():
    """10 000 ft of 25 lb/ft in 20 ppg: 173 675 lbf; 450 675 of yield leave 277 000 (the page prints 276 325, a slip of its
    own subtraction). Source: a public worked page on overpull; its steel is 65.5 ppg, ours 65.51: 6 lbf of 173 675.
    """
    found = hangs(pipe(10_000.0, 25.0, 5.0, 4.276), 20.0, 20.0)

    assert found == pytest.approx(173_675, abs=15)
    assert 450_675 - found == pytest.approx(277_000, abs=15)


@pytest.mark.parametrize(
    ("inside", "outside", "printed", "ours"),
    [(9.5, 9.5, 232_489, 232_557), (14.0, 9.5, 332_664, 330_010), (9.5, 14.0, 113_599, 116_420)],
)
def test_casing_with_cement_inside_or_outside(inside, outside, printed, ours):
    """6 800 ft of 9 5/8 in 40 lb/ft, bore 8.835 in, mud 9.5 ppg, cement 14 ppg, steel 65.4 ppg: BF = [Ao (1 - ro/rs) - Ai (1 -
    ri/rs)] / (Ao - Ai) on 272 000 lbf. Source: a public page on buoyancy with two fluids; its answers are worked from it.

    The page scales the fluid inside, too, by 40 lb/ft over the 38.9 lb/ft of the plain pipe. Ours weighs it by the bore,
    61.306 in2 or 3.1847 gal/ft: 272 000 (1 - ro / 65.51) +/- 4.5 x 3.1847 x 6 800, by hand in the last column. With the plain
    pipe's weight, scaled, both are one but for the steel: 7850 kg/m3 is 65.51 ppg.
    """
    area = math.pi / 4.0 * (9.625**2 - 8.835**2) * INCH_M**2
    plain = area * STEEL_KG_PER_M3 * FOOT_M / POUND_KG
    floats = 272_000 - hangs(pipe(6800.0, plain, 9.625, 8.835), inside, outside) * 40.0 / plain

    assert 272_000 - floats * (STEEL_KG_PER_M3 / PPG_KG_PER_M3) / 65.4 == pytest.approx(printed, abs=20)
    assert hangs(pipe(6800.0, 40.0, 9.625, 8.835), inside, outside) == pytest.approx(ours, abs=20)


LIFT = """
lapline: 1
well: {name: Lift, datum: {from: rotary table, above: mean sea level, height: 100 ft}, show: field}
survey: [{md: 0 ft, inc: 0 deg, azi: 0 deg}, {md: 500 ft, inc: 0 deg, azi: 0 deg}, {md: 4000 ft, inc: INC deg, azi: 0 deg}]
hole: [{bit: 17 1/2 in, to: 1000 ft}, {bit: 12 1/4 in, to: 3210 ft}]
strings: [{name: casing, pipe: 13 3/8 in 68 lb/ft K-55, shoe: 1000 ft}]
liner:
  {od: 9.625 in, id: 8.835 in, weight: 40 lb/ft, host: casing, top: 0.1 ft, shoe: 3200 ft,
   assembly: [{part: joint, count: 1, length: 40 ft}, {part: landing collar, length: 0.1 ft}, {part: joint, fill: true, each: 40 ft}]}
running string: {stick up: 0 ft, assembly: [{part: drill pipe, length: 0.1 ft, od: 5 in, id: 4.276 in, weight: 22 lb/ft}]}
fluids:
  mud: {kind: mud, density: 9.5 ppg}
  cement: {kind: slurry, density: 14 ppg}
  brine: {kind: displacement, density: 8.4 ppg}
cement: {planned top: 600 ft, excess: {open hole: 0 %, basis: gauge}, slurries: [{fluid: cement}]}
"""


def test_the_forces_on_casing_in_a_vertical_hole():
    """The published balance, net = Wc + Wfluid - P_annulus x A(OD), lift when P x A(ID) passes it (a public page on casing
    pumped out of the hole), worked by hand in a vertical hole: 3 200 ft of 40 lb/ft, bore 8.835 in; outside mud of 9.5
    ppg to 600 ft and cement of 14 ppg; inside 8.4 ppg to 3 160 ft and cement.

    128 000 + (8.4 x 3 159.9 + 14 x 40.1) x 0.0519481 x 61.305 in2 - (9.5 x 600 + 14 x 2 600) x 0.0519481 x A, the outer
    area being bore and steel by weight: 61.305 + 40 / (0.0519481 x 65.51 ppg) = 73.059 in2, 0.4 % over pi/4 9.625^2 for
    the couplings in 40 lb/ft. 128 000 + 86 318 - 159 781 = 54 537 lbf, 890 psi on the bore. The top 0.1 ft counts as
    liner's own.
    """
    plan = check(load_text(LIFT.replace("INC", "0")))
    found = held_down(plan.plan, plan.volumes, plan.job.cement)

    # by the volume mixed without excess the cement stands at the planned top
    assert found.net_n / POUND_FORCE_N == pytest.approx(54_537, rel=0.003)
    assert found.lifts_pa / PSI_PA == pytest.approx(890, rel=0.003)


def test_the_published_balance_itself():
    """The page's own figures: 128 000 + 85 607 lbf down, 2 055 psi x 72.76 in2 = 149 543 lbf up, net 64 063 lbf, lifted by
    1 045 psi on 61.305 in2. It takes weights by measured depth and pressure by true depth, buoyancy left out; ours takes
    both by true depth, so that only the last step is the same: net over bore.
    """
    found = HeldDown(64_063 * POUND_FORCE_N, circle_m2(8.835 * INCH_M))

    assert found.lifts_pa / PSI_PA == pytest.approx(1045, abs=6)


@pytest.mark.parametrize(
    ("od_in", "id_in", "free_ft", "pull_klbf", "stretch_in"),
    [
        # free-point constant of 4 1/2 in 16.6 lb/ft: 4.407 in2 x 2500 = 11 017.5 ft klbf per in: a page of formulas
        (4.5, 3.826, 11_017.5, 1.0, 1.0),
        # 3 1/2 in tubing, 20 in of stretch under 25 klbf: 5 180 ft free (6 475.5 x 20 / 25): a page on stuck depth
        (3.5, 2.992, 5180.0, 25.0, 20.0),
        # 5 in of 17.93 lb/ft, 24 in under 30 klbf: 735 294 e W / P = 10 547 ft: the page of formulas
        (5.0, 4.276, 10_547.0, 30.0, 24.0),
        # Hooke's law, from memory: 10 000 ft under 50 klbf, 37.9 in
        (5.0, 4.276, 10_000.0, 50.0, 37.9),
    ],
)
def test_stretch_of_free_pipe(od_in, id_in, free_ft, pull_klbf, stretch_in):
    """E of the pages is 30 million psi, ours 2.068e11 Pa is 0.02 % under; a constant rounded to 2500 or 735 294: 0.1 %."""
    piece = pipe(free_ft, 20.0, od_in, id_in)
    points = [Point(0.0, pull_klbf * KLBF, 0.0), Point(free_ft * FOOT_M, pull_klbf * KLBF, 0.0)]

    assert elongation_m([piece], points) / INCH_M == pytest.approx(stretch_in, rel=0.0015)


def test_the_vertical_liner_with_cement_outside_weighs_53_klbf():
    """Cement outside, mud inside: 53 klbf. Source: trade reference, 5.1; weights 2 %."""
    evaluation = check(BRINDLEWICK)
    end = evaluation.job.train.at(evaluation.job.train.total_m3)

    found = weights(evaluation.plan, end.inside, end.outside)

    assert found.liner.along_n / KLBF == pytest.approx(53.0, rel=0.02)


def test_real_ods_say_the_same_as_steel_by_weight():
    """The form W + Ai rho_i - Ao rho_o with the OD of the pipe, 7.000 in, against bore and steel by weight: the coupling's
    steel, 29 less 28.7 lb/ft, displaces a little more; 0.3 % of the liner's weight in cement.
    """
    plan = check(BRINDLEWICK).plan
    bottom = plan.depth.td_md_m
    mud = (Layer("mud", 0.0, bottom, 12.6 * PPG_KG_PER_M3),)
    cement = (Layer("cement", 0.0, bottom, 15.8 * PPG_KG_PER_M3),)
    joints = [p for p in liner_pieces(plan) if p.is_pipe]
    found = weigh(plan, joints, around(plan, mud, cement)).buoyed_n
    length = sum(p.length_m for p in joints)
    by_od = length / FOOT_M * (29.0 + (6.184**2 * 12.6 - 7.0**2 * 15.8) / 24.5096)  # lbf; in2 ft to gallons

    assert found / POUND_FORCE_N == pytest.approx(by_od, rel=0.015)


def test_parts_without_a_weight_are_told():
    found = weights(resolve(load_text(demos()["brindlewick-4.yaml"])))

    assert "hydraulic hanger" in found.as_pipe
    assert "liner" not in found.as_pipe
