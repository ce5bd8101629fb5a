"""Hydrostatic pressure, leak-off, U-tube, slugs, floats, buoyancy, strokes and time against worked examples.

The trade multiplies ppg and ft by 0.052 for psi; g of 9.80665 m/s2 makes it 0.051948, 0.1 % less. A printed
pressure is held at the trade's factor: ours times ROUNDED meets it to half its last digit, and the test of the
factor itself says what the difference is. Sources, as named beside each value:

  Lapeyrouse      N. J. Lapeyrouse, Formulas and Calculations for Drilling, Production and Workover, 2nd ed. (2002);
                  from memory where it says so, else read on public formula pages that follow it
                  (docs.kws.tn/formulas, netwasgroup.us/formulas-calculations-2)
  formula pages   public worked examples of drilling formulas (drillingformulas.com), read
  course text     Heriot-Watt University drilling engineering course text as republished (oilngasdrilling.com), read
  practice paper  IWCF practice problems, February 2019 (scribd.com/document/722636657), read
  sheet           training sheet "Drilling Formulae", T. Lambert (scribd.com/document/199663697), read
  examination     public petroleum examination, pumping 2021 no. 29 (pepetroexam.blogspot.com), answer A, read
  Devereux        Practical Well Planning and Drilling Manual, p. 66, read
  liner job       7 in liner cement job, see test_cement_job.py
"""

from __future__ import annotations

import pytest

from schematic import check
from schematic.depth.by_depth import by_depth
from schematic.depth.nest import circle_m2
from schematic.depth.survey import SurveyPath
from schematic.engineering.at_rest import difference_pa, held_at_bump, pressure_pa
from schematic.engineering.columns import Layer, emw_kg_per_m3
from schematic.engineering.train import Place
from schematic.engineering.volumes import annulus_m3_per_m, capacity_m3_per_m
from schematic.engineering.weights import liner_weight
from schematic.outcome import Found, Passed
from schematic.units import STANDARD_GRAVITY_M_PER_S2, parse
from schematic.verbs import load_text
from tests.published.test_cement_job import LINER_JOB

FT, IN, BBL, G = 0.3048, 0.0254, 0.158987294928, 9.80665
PPG, PSI, LBF = 119.826427, 6894.757, 4.4482216
ROUNDED = 0.052 / (PPG * G * FT / PSI)
VERTICAL = SurveyPath()


def column(*fluids: tuple[float, float]) -> tuple[Layer, ...]:
    """Layers from the surface down: feet and ppg of each."""
    layers, top = [], 0.0
    for n, (feet, ppg) in enumerate(fluids):
        layers.append(Layer(str(n), top * FT, (top + feet) * FT, ppg * PPG))
        top += feet
    return tuple(layers)


def psi(layers: tuple[Layer, ...], feet: float) -> float:
    """Pressure at a depth in psi, at the trade's factor."""
    return pressure_pa(layers, VERTICAL, feet * FT) / PSI * ROUNDED


def between_columns(outside: tuple[Layer, ...], inside: tuple[Layer, ...], feet: float) -> float:
    """How much more stands outside than inside at a depth, in psi at the trade's factor."""
    place = Place(0.0, inside, outside, None, None, False, {}, {}, {})
    return difference_pa(place, VERTICAL, feet * FT) / PSI * ROUNDED


def test_the_factor_of_the_trade_is_a_tenth_of_a_percent_high():
    """0.052 against 0.0519481 (1 ppg of 119.826 kg/m3, g 9.80665 m/s2, 1 ft of 0.3048 m, 1 psi of 6894.757 Pa)."""
    ours = pressure_pa((Layer("one", 0.0, FT, PPG),), VERTICAL, FT) / PSI

    assert ours == pytest.approx(0.0519481, abs=5e-8)
    assert pytest.approx(1.001, abs=1e-5) == ROUNDED


@pytest.mark.parametrize(
    ("ppg", "feet", "printed", "half"),
    [
        (13.5, 12_000.0, 8_424.0, 0.5),
        (
            12.2,
            3_700.0 * 3.281,
            7_701.0,
            0.6,
        ),  # 3 700 m: the page takes 3.281 ft a metre; 7 701.3 to its own digits
    ],
)
def test_hydrostatic_pressure(ppg, feet, printed, half):
    """Source: Lapeyrouse, read. Ours exactly: 8 416 and 7 694 psi."""
    assert psi(column((feet, ppg)), feet) == pytest.approx(printed, abs=half)


def test_hydrostatic_pressure_of_a_gradient():
    """Source: Lapeyrouse, read. 0.624 psi/ft over 8 500 ft: 5 304 psi; no factor comes into it."""
    density = parse("0.624 psi/ft", "pressure gradient").si / STANDARD_GRAVITY_M_PER_S2
    layers = (Layer("mud", 0.0, 8_500 * FT, density),)

    assert pressure_pa(layers, VERTICAL, 8_500 * FT) / PSI == pytest.approx(5_304.0, abs=0.5)


def test_pressure_at_the_top_of_a_gas_leg():
    """Source: practice paper, question 1.2. Water of 0.464 psi/ft to 3 950 ft, 480 ft of gas of 0.1 above: 1 785 psi."""
    water, gas = (
        parse(f"{g} psi/ft", "pressure gradient").si / STANDARD_GRAVITY_M_PER_S2 for g in (0.464, 0.1)
    )
    at_contact = pressure_pa((Layer("water", 0.0, 3_950 * FT, water),), VERTICAL, 3_950 * FT)
    leg = pressure_pa((Layer("gas", 3_470 * FT, 3_950 * FT, gas),), VERTICAL, 3_950 * FT)

    assert (at_contact - leg) / PSI == pytest.approx(1_785.0, abs=1.0)


SHOE = """
lapline: 1
well: {{name: Shoe, datum: {{from: rotary table, above: mean sea level, height: 30 ft}}, show: field}}
hole:
  - {{bit: 12 1/4 in, to: {shoe} ft}}
  - {{bit: 8 1/2 in, to: {td} ft}}
strings:
  - {{name: casing, od: 9 5/8 in, id: 8.681 in, shoe: {shoe} ft}}
liner: {{od: 7 in, id: 6.184 in, host: casing, top: {top} ft, shoe: {td} ft}}
fluids: {{mud: {{kind: mud, density: {mud} ppg}}}}
formation:
  pressures: [{{tvd: {shoe} ft, pore: 8.5 ppg, fracture: {fracture} ppg}}, {{tvd: {td} ft, pore: 8.5 ppg, fracture: 20 ppg}}]
  leak off: [{{at: casing, {test}}}]
limits: {{profile: common practice, least fracture margin: {margin} ppg}}
"""


def answer(rule, shoe, test, mud=10.0, fracture=18.0, margin=0.2):
    """What a rule says of a well with a shoe at so many feet, its test, a mud and a table."""
    text = SHOE.format(
        shoe=shoe, td=shoe + 500, top=shoe - 200, test=test, mud=mud, fracture=fracture, margin=margin
    )
    (found,) = [one.answer for one in check(load_text(text)).outcomes if one.rule == rule]
    return found


@pytest.mark.parametrize(
    ("shoe", "pressure", "mud", "printed"),
    [
        (
            4_000,
            1_140,
            10.0,
            15.48,
        ),  # greatest mud from a leak-off; source: Lapeyrouse, chapter 1, from memory
        (7_000, 1_620, 9.5, 13.95),  # surface pressure allowed on 9.5 ppg for 13.95 ppg; source: course text
    ],
)
def test_a_leak_off_as_mud_weight(shoe, pressure, mud, printed):
    """Ours at the exact factor: 15.486 and 13.955 ppg, 0.1 % more of what the pressure adds."""
    said = answer("leak-off-disagrees", shoe, f"surface pressure: {pressure} psi, mud: {mud} ppg")

    assert isinstance(said, Passed)
    assert said.value.si / PPG == pytest.approx(mud + (printed - mud) * ROUNDED, abs=0.005)
    assert said.value.si / PPG == pytest.approx(printed, abs=0.01)


def test_half_a_ppg_is_kept_under_a_leak_off():
    """Source: course text. Of a leak-off of 14.0 ppg 13.5 is used, 0.026 psi/ft less."""
    (kept, used) = (
        answer("mud-outside-window", 5_000, "emw: 14.0 ppg", mud=mud, margin=0.5) for mud in (13.5, 13.51)
    )

    assert isinstance(kept, Passed)
    assert isinstance(used, Found)
    assert psi(column((1.0, 0.5)), 1.0) == pytest.approx(0.026, abs=5e-4)


def test_the_differential_at_the_float_of_a_casing_job():
    """Source: Lapeyrouse, chapter 2; annulus and mud inside read, the last two lines from memory. 9 5/8 in at 8 000 ft,
    5 000 ft of mud of 10.0 ppg, 2 000 of lead of 13.8, 1 000 of tail of 15.8; float collar 44 ft up.
    """
    outside = column((5_000, 10.0), (2_000, 13.8), (1_000, 15.8))
    inside = column((7_956, 10.0), (44, 15.8))

    assert psi(outside, 5_000) == pytest.approx(2_600, abs=0.5)
    assert psi(outside, 7_000) - psi(outside, 5_000) == pytest.approx(1_435, abs=0.5)
    assert psi(outside, 8_000) - psi(outside, 7_000) == pytest.approx(822, abs=0.5)
    assert psi(outside, 8_000) == pytest.approx(4_857, abs=0.5)
    assert psi(inside, 7_956) == pytest.approx(4_137, abs=0.5)
    assert psi(inside, 8_000) - psi(inside, 7_956) == pytest.approx(36, abs=0.5)
    # the book takes 684 of its rounded lines; they sum to 683.6
    assert between_columns(outside, inside, 8_000) == pytest.approx(684, abs=0.5)


def test_the_pump_pressure_that_finishes_a_displacement():
    """Source: examination. Outside 7 000 ft of mud, 500 of flush, 1 500 of filler, 1 000 of tail; brine of 9 ppg inside:
    5 681, 4 680 and 1 001 psi.
    """
    outside = column((7_000, 10.0), (500, 8.0), (1_500, 12.5), (1_000, 16.5))
    inside = column((10_000, 9.0))

    assert psi(outside, 10_000) == pytest.approx(5_681, abs=0.5)
    assert psi(inside, 10_000) == pytest.approx(4_680, abs=0.5)
    assert between_columns(outside, inside, 10_000) == pytest.approx(1_001, abs=0.5)


def test_the_differential_at_the_bump_of_the_worked_liner_job():
    """Source: liner job. 0.052 x (15.8 - 10.5) x (3 500 - 80) ft: 943 psi on collar and floats."""
    evaluation = check(load_text(LINER_JOB))
    held = held_at_bump(evaluation.plan, evaluation.volumes, evaluation.cement, evaluation.job.train)

    assert [one.part.kind for one in held] == ["landing collar", "float collar", "float shoe"]
    for one in held:
        assert one.planned_pa / PSI * ROUNDED == pytest.approx(943, abs=0.5)


def test_casing_that_is_pumped_out_of_the_hole():
    """Source: formula pages; inputs and formula read, the figures computed by them. 9 5/8 in 40 lb/ft to 3 200 ft, 3 000
    TVD, cement of 14.0 ppg to 550 ft TVD under mud of 9.5, 8.4 ppg inside: the string stays down by 64 063 lbf and
    1 045 psi of pump pressure would lift it. Depths in TVD; the weights by length, as on the page.
    """
    annulus = psi(column((550, 9.5), (2_450, 14.0)), 3_000)
    fluid = capacity_m3_per_m(8.835 * IN) * 3_200 * FT * 8.4 * PPG * G / LBF
    up = annulus * circle_m2(9.625 * IN) / IN**2
    down = 40 * 3_200 + fluid - up

    assert annulus == pytest.approx(2_055, abs=0.5)
    assert fluid == pytest.approx(85_607, abs=10)
    assert up == pytest.approx(149_543, abs=30)  # the page carries its rounded 2 055
    assert down == pytest.approx(64_063, abs=30)
    assert down / (circle_m2(8.835 * IN) / IN**2) == pytest.approx(1_045, abs=1)


def test_the_pressure_that_pushes_a_string_out():
    """Source: formula pages. 45 000 lbf in 12 ppg on 8.5 in: 36 765 lbf on 56.77 in2, 647 psi. The page takes pi for
    22/7 and cuts its 647.6; by a circle it is 56.745 in2 and 648 psi.
    """
    buoyed = 45_000 * buoyancy(12.0)
    area = circle_m2(8.5 * IN) / IN**2

    assert buoyed == pytest.approx(36_765, abs=15)
    assert area == pytest.approx(56.745, abs=5e-4)
    assert 36_765 / (area * (22 / 7) / 3.14159265) == pytest.approx(647.6, abs=0.05)
    assert buoyed / area == pytest.approx(648, abs=0.5)


def buoyancy(ppg: float) -> float:
    """Weight in mud over weight in air of the liner of the worked job."""
    text = LINER_JOB.replace("density: 10.5 ppg", f"density: {ppg} ppg")
    plan = check(load_text(text.replace("  od: 7 in\n", "  od: 7 in\n  weight: 29 lb/ft\n"))).plan
    weight = liner_weight(plan)
    return weight.buoyed_n / weight.air_n


@pytest.mark.parametrize(
    ("ppg", "printed", "half"), [(10.0, 0.8473, 5e-5), (15.0, 0.77099, 5e-5), (20.0, 0.6947, 5e-5)]
)
def test_buoyancy(ppg, printed, half):
    """Source: formula pages (10 ppg), Lapeyrouse from memory (15 ppg), a public worked page on overpull (20 ppg). Steel
    of 65.5 ppg there, of 7 850 kg/m3, 65.51 ppg, here.
    """
    assert buoyancy(ppg) == pytest.approx(1.0 - (1.0 - printed) * 65.5 / 65.511, abs=half)
    assert buoyancy(ppg) == pytest.approx(printed, abs=1e-4)


def test_buoyancy_by_specific_gravity():
    """Source: Devereux. 1 - 0.0153 ppg: 0.847 in 10 ppg."""
    assert buoyancy(10.0) == pytest.approx(0.847, abs=5e-4)


def test_strokes_and_time_for_a_volume():
    """Source: sheet. 300 bbl at 0.117 bbl a stroke and 40 strokes a minute: 2 564.1 strokes, 64.1 min."""
    rates = "\n".join(
        f"    - {{fluid: {fluid}, rate: 4.68 bbl/min}}"  # 40 x 0.117
        for fluid in ("cement", "mud")
    )
    text = f"{LINER_JOB}  schedule:\n{rates}\n"
    train = check(load_text(text)).job.train

    assert train.seconds(300 * BBL) / 60.0 == pytest.approx(64.1, abs=0.05)


def test_velocity_in_an_annulus():
    """Source: Lapeyrouse, read. 12.6 bbl/min past 4 1/2 in pipe in 12 1/4 in hole: 99.92 ft/min, 1.6656 ft/s. The
    page divides by 0.1261 bbl/ft; unrounded, 0.126104 bbl/ft, it is 99.92, too. By gallons, 530 gal/min: 100 ft/min.
    """
    per_ft = annulus_m3_per_m(12.25 * IN, 4.5 * IN) * FT / BBL

    assert per_ft == pytest.approx(0.1261, abs=5e-5)
    assert 12.6 / per_ft == pytest.approx(99.92, abs=0.005)
    assert 12.6 / per_ft / 60.0 == pytest.approx(1.6656, abs=5e-4)  # printed 17.16 x 12.6 / 129.8125
    assert 530 / 42 / per_ft == pytest.approx(100, abs=0.5)


def test_a_slug_balances_dry_pipe():
    """Source: Lapeyrouse, read. 184 ft of dry pipe in mud of 12.2 ppg take 117 psi: 2 250 ft, 32.0 bbl of slug of 13.2.
    The page rounds 116.7 psi up, so that its slug is 5 ft and 0.27 psi too long.
    """
    outside = column((6_000, 12.2))
    slug = column((184, 0.0), (2_250, 13.2), (3_566, 12.2))

    assert psi(outside, 184) == pytest.approx(117, abs=0.5)
    assert between_columns(outside, slug, 6_000) == pytest.approx(-(117 - 116.73), abs=0.01)
    pipe = by_depth((0.0, 6_000 * FT), (0.01422 * BBL / FT,))
    assert pipe.integral(184 * FT, 2_434 * FT) / BBL == pytest.approx(32.0, abs=0.05)
    assert pipe.integral(0.0, 184 * FT) / BBL == pytest.approx(
        2.62, abs=0.005
    )  # what the dry pipe gives back
    exact = column((184, 0.0), (2_244.8, 13.2), (3_571.2, 12.2))
    assert between_columns(outside, exact, 6_000) == pytest.approx(0.0, abs=0.01)


def test_the_gain_that_a_slug_makes_in_the_annulus():
    """Source: Lapeyrouse, read. 32.4 bbl of slug of 13.2 ppg stand 641.5 ft high in an annulus of 19.8 ft a barrel and
    add 33.4 psi to mud of 12.2.
    """
    height = by_depth((0.0, 1_000 * FT), (BBL / (19.8 * FT),))
    top = height.reach_up(32.4 * BBL, 1_000 * FT) / FT
    plain, slugged = column((1_000, 12.2)), column((top, 12.2), (1_000 - top, 13.2))

    assert 1_000 - top == pytest.approx(641.5, abs=0.05)
    assert between_columns(slugged, plain, 1_000) == pytest.approx(33.4, abs=0.05)


def test_the_weight_of_a_slug_of_a_given_volume():
    """Source: formula pages. 200 ft of dry pipe in mud of 12.0 ppg, 20 bbl in pipe of 0.016 bbl/ft: 1 250 ft of 13.92
    ppg, 124.8 psi.
    """
    pipe = by_depth((0.0, 5_000 * FT), (0.016 * BBL / FT,))
    foot = pipe.reach_down(20 * BBL, 200 * FT) / FT
    slug = column((200, 0.0), (foot - 200, 13.92), (5_000 - foot, 12.0))

    assert foot - 200 == pytest.approx(1_250, abs=0.05)
    assert psi(column((200, 12.0)), 200) == pytest.approx(124.8, abs=0.05)
    assert between_columns(column((5_000, 12.0)), slug, 5_000) == pytest.approx(0.0, abs=0.05)


def test_a_balanced_plug_stands_higher_with_the_stinger_in():
    """Source: formula pages; capacities and volume read, the height computed. 37.9 bbl in 6.25 in hole from 9 600 ft up,
    past and in 2.875 in tubing of 2.441 in bore: 0.0379, 0.0058 and 0.030 bbl/ft, 8 537 ft. By the page's rounded
    capacities it would be 1 058.7 ft instead of 1 062.8.
    """
    hole = capacity_m3_per_m(6.25 * IN)
    bore, ring = capacity_m3_per_m(2.441 * IN), annulus_m3_per_m(6.25 * IN, 2.875 * IN)
    with_pipe = by_depth((0.0, 9_600 * FT), (bore + ring,))

    assert hole * FT / BBL == pytest.approx(0.0379, abs=1e-4)
    assert bore * FT / BBL == pytest.approx(0.0058, abs=5e-5)
    assert ring * FT / BBL == pytest.approx(0.030, abs=1e-4)
    assert with_pipe.reach_up(1_000 * FT * hole, 9_600 * FT) / FT == pytest.approx(8_537, abs=0.5)


def test_a_column_of_one_fluid_has_its_density_as_mud_weight():
    """EMW is pressure over g and TVD. Source: common practice."""
    assert emw_kg_per_m3(column((9_000, 11.3)), VERTICAL, 9_000 * FT) / PPG == pytest.approx(11.3)
