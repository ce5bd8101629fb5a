"""The tests of lap and liner top, against the worked wells of the trade reference, section 5, and by hand.

Hydrostatic by hand is 0.0519481 psi/ft per ppg, 0.0980665 bar/m per sg. Sources of the rest stand beside it.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schematic.job.proof import proofs
from schematic.job.under_test import HANGER, HOST, LEAK, LINER, PACKER, surface_bound, under_test
from schematic.outcome import MissingInput
from schematic.units import PPG_KG_PER_M3, PSI_PA
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated, planned

BAR, KLBF, PER_PPG, PER_SG = 1e5, 4448.2216152605, 0.0519481, 0.0980665
WRITTEN = "surface pressure: 2619 psi, emw: 16.6 ppg"
INFLOW = "kind: inflow, remark: to the next mud of 9.8 ppg"
GAS = "gradient: 0.125 psi/ft +/- 0.025 psi/ft"
TARGET = "{name: Ruddavine sand, md: 12640 ft, rock: sand, remark: prognosed}"


@pytest.fixture(scope="module")
def vertical():
    return evaluated(BRINDLEWICK)


@pytest.fixture(scope="module")
def deviated():
    return evaluated(SOLLIVANE)


def positive(evaluation):
    [test] = evaluation.job.proofs.positive
    return test


def inflow(evaluation):
    [test] = evaluation.job.proofs.inflow
    return test


def test_the_lap_test_of_the_vertical_well(vertical):
    """2 619 psi with 12.6 ppg; the same pressure is 17.7 ppg at the host shoe, good for 15.8."""
    test = positive(vertical)

    assert test.surface_pa / PSI_PA == pytest.approx(2619, abs=0.5)
    assert test.how == "as written"
    assert test.shoe_emw_kg_per_m3 / PPG_KG_PER_M3 == pytest.approx(16.6, abs=0.05)
    assert test.host_emw_kg_per_m3 / PPG_KG_PER_M3 == pytest.approx(17.7, abs=0.05)
    assert test.host_limit_kg_per_m3 / PPG_KG_PER_M3 == pytest.approx(15.8, abs=0.05)


def test_the_lap_test_by_its_emw():
    """The pressure that gives 16.6 ppg at the liner shoe: 2 616 psi, where the reference prints 2 619.

    16.6 less 12.6 ppg over 12 588 ft of true depth is 2 615.8; over 12 600 ft, total depth, 2 618.2, and with the
    rounded 0.052 psi/ft/ppg 2 620.8: it took total depth.
    """
    test = positive(evaluated(BRINDLEWICK, (WRITTEN, "emw: 16.6 ppg")))

    assert test.surface_pa / PSI_PA == pytest.approx(2615.8, abs=0.5)
    assert test.how == "for the EMW at the liner shoe"


@pytest.mark.parametrize(
    ("at", "how", "true_ft"),
    [
        ("intermediate casing", "for the EMW at the shoe of the intermediate casing", 9849.5),
        ("Intermediate_Casing", "for the EMW at the shoe of the intermediate casing", 9849.5),
        ("liner top", "for the EMW at the liner top", 9479.5),
        ("liner shoe", "for the EMW at the liner shoe", 12588.0),
        ("surface casing", "for the EMW at the shoe of the surface casing", 4119.9),
    ],
)
def test_the_lap_test_by_its_emw_elsewhere(at, how, true_ft):
    """4 ppg over each true depth, by hand."""
    test = positive(evaluated(BRINDLEWICK, (WRITTEN, f"emw: 16.6 ppg, at: {at}")))

    assert test.how == how
    assert test.surface_pa / PSI_PA == pytest.approx(4.0 * PER_PPG * true_ft, abs=0.2)


def test_another_fluid_asks_for_another_pressure():
    """16.6 less 9.8 ppg over 12 588 ft."""
    test = positive(evaluated(BRINDLEWICK, (WRITTEN, "emw: 16.6 ppg, fluid: next mud")))

    assert test.fluid == "next mud"
    assert test.surface_pa / PSI_PA == pytest.approx(6.8 * PER_PPG * 12588, abs=1.0)


def test_the_lap_test_of_the_deviated_well(deviated):
    """A production liner, 34.5 bar (500 psi) over the fracture pressure at the shoe lapped into: 66.6 bar of leak-off
    with 1.38 sg and 34.5 are 101 bar. The rule: 30 CFR 250.721(c), read.
    """
    test = positive(deviated)

    assert test.how == "over fracture at the host shoe"
    assert test.surface_pa / BAR == pytest.approx(101, abs=0.5)


def test_without_a_leak_off_the_table_stands_in_and_without_both_nothing():
    leak_off = (
        "  leak off:\n    - {at: production casing, emw: 1.68 sg, surface pressure: 66.6 bar, mud: 1.38 sg}\n"
    )
    by_table = evaluated(
        SOLLIVANE, (leak_off, ""), ("pore: 1.24 sg, fracture: 1.68 sg", "pore: 1.24 sg, fracture: 1.66 sg")
    )
    neither = evaluated(
        SOLLIVANE,
        (leak_off, ""),
        (", fracture: 1.68 sg}", "}"),
        (", fracture: 1.70 sg}", "}"),
        (", fracture: 1.72 sg}", "}"),
    )

    over = (1.66 - 1.38) * PER_SG * 2264.5
    assert positive(by_table).surface_pa / BAR == pytest.approx(over + 34.5, abs=0.1)
    assert neither.job.proofs.positive == ()
    assert neither.job.proofs.missing[0].needs == ("formation.leak off at the host shoe",)


def test_how_a_test_is_accepted(vertical):
    """No more than 10 % in 30 min: 30 CFR 250.721(f), read; NAC 534A.260 for laps of liners, read, has the same two."""
    test = positive(vertical)

    assert test.drop_pa / PSI_PA == pytest.approx(261.9, abs=0.05)
    assert test.over_s == 1800.0
    assert test.hold_s == 1800.0


@pytest.mark.parametrize(
    ("changes", "needs"),
    [
        (
            [(WRITTEN, "hold: 20 min"), (", hold: 30 min", "")],
            "installation.tests.liner and lap.surface pressure",
        ),
        ([(WRITTEN, "emw: 12.0 ppg")], "installation.tests.liner and lap.emw above the density of its fluid"),
        ([("kind: positive, ", "")], "installation.tests.liner and lap.kind, positive or inflow"),
    ],
)
def test_a_test_that_lacks_its_pressure_says_so(changes, needs):
    its = evaluated(BRINDLEWICK, *changes).job.proofs

    assert its.positive == ()
    assert next(one for one in its.missing if one.what == "test liner and lap").needs == (needs,)


def test_what_pushes_behind_the_laps(vertical, deviated):
    """2 210 to 2 330 psi of gas at 0.15 to 0.10 psi/ft up from 11 860 ft, 12.0 ppg, with 9.8 ppg inside; 71 bar of oil
    of 0.75 sg up from 3 620 m, 1.28 sg, with 1.03 inside: test to 75 bar or more.
    """
    gas, oil = inflow(vertical), inflow(deviated)

    assert [value / PSI_PA for value in gas.needed_pa] == pytest.approx([2210, 2330], abs=5)
    assert (gas.zone, gas.next_fluid) == ("gas sand", "next mud")
    assert oil.needed_pa[1] / BAR == pytest.approx(71, abs=0.5)
    assert oil.proves_pa / BAR == pytest.approx(75)
    assert gas.proves_pa / PSI_PA == pytest.approx(2400)


def test_the_zones_pressure_at_the_liner_top_would_say_half_of_it(vertical):
    """12.0 less 9.8 ppg at 9 480 ft is 1 083 psi: 2 210 and more are over twice that."""
    wrong = 2.2 * PER_PPG * 9479.5

    assert wrong == pytest.approx(1083, abs=1)
    assert inflow(vertical).needed_pa[0] / PSI_PA > 2.0 * wrong


def test_a_test_by_its_differential_may_be_too_small():
    """An inflow test of 1 200 psi would not prove it: 2 330 less 1 200."""
    small = inflow(evaluated(BRINDLEWICK, (INFLOW, INFLOW + ", differential: 1200 psi")))
    large = inflow(evaluated(BRINDLEWICK, (INFLOW, INFLOW + ", differential: 2400 psi")))

    assert small.reached_pa == pytest.approx((1200 * PSI_PA, 1200 * PSI_PA))
    assert small.short_pa / PSI_PA == pytest.approx(1130, abs=5)
    assert large.short_pa == 0.0


def test_the_drop_in_hydrostatic_is_not_the_difference_across_the_lap(deviated):
    """Base oil of 0.80 sg to 3 040 m, 2 184.2 m true, takes 124 bar of 1.38 sg off; across the lap it leaves 120, for
    what pushes behind is 5 bar less than the mud: 1.28 sg at 2 516.9 m less 0.75 sg of oil up to 2 192.8.
    """
    test = inflow(deviated)
    push = (1.28 * 2516.9 - 0.75 * (2516.9 - 2192.8)) * PER_SG
    mud = 1.38 * 2192.8 * PER_SG

    assert test.light_drop_pa / BAR == pytest.approx(124, abs=0.5)
    assert test.reached_pa[0] / BAR == pytest.approx(push - mud + 0.58 * 2184.2 * PER_SG, abs=0.2)
    assert test.reached_pa[0] / BAR == pytest.approx(119.6, abs=0.2)
    assert test.short_pa == 0.0


def test_a_light_fluid_that_does_not_go_deep_enough():
    """1 200 m, 1 126.9 true: 64 bar off; the brine takes 0.35 sg off 2 192.8 m, 75 bar: 11 short."""
    text = ("light fluid to: 3040 m", "light fluid to: 1200 m")
    test = inflow(evaluated(SOLLIVANE, text))

    off = 0.58 * PER_SG * 1126.9
    assert test.light_drop_pa / BAR == pytest.approx(off, abs=0.2)
    assert test.short_pa / BAR == pytest.approx(0.35 * 2192.8 * PER_SG - off, abs=0.2)


def test_a_light_fluid_below_the_liner_top_takes_no_more_off_there():
    deep, top = (
        inflow(evaluated(SOLLIVANE, ("light fluid to: 3040 m", f"light fluid to: {depth}")))
        for depth in ("3500 m", "3055 m")
    )

    assert deep.light_drop_pa == pytest.approx(top.light_drop_pa)


def test_a_heavier_fluid_inside_leaves_the_lap_pushed_outward():
    """15 ppg at 9 479.5 ft is 7 387 psi against 7 155 of gas behind: below nought, and nothing to prove."""
    test = inflow(evaluated(BRINDLEWICK, ("density: 9.8 ppg", "density: 15 ppg")))

    assert test.needed_pa[1] / PSI_PA == pytest.approx((12 * 11858.2 - 15 * 9479.5) * PER_PPG - 237.9, abs=2)
    assert test.needed_pa[1] < 0.0
    assert test.proves_pa == 0.0


def test_the_zone_that_pushes_most_counts():
    """Gas of 8.9 ppg at 12 500 ft pushes less than 12.0 at 11 860; of 14 ppg it pushes more."""

    def told(pore):
        zone = TARGET.replace("12640 ft", "12500 ft").replace(
            "remark: prognosed", f"fluid: gas, pore: {pore}, gradient: 0.1 psi/ft"
        )
        return inflow(evaluated(BRINDLEWICK, (TARGET, zone)))

    assert told("8.9 ppg").zone == "gas sand"
    more = told("14.0 ppg")
    assert more.zone == "Ruddavine sand"
    expected = 14.0 * PER_PPG * 12498.1 - 0.1 * (12498.1 - 9479.5) - 9.8 * PER_PPG * 9479.5
    assert more.needed_pa[1] / PSI_PA == pytest.approx(expected, abs=2)


def test_a_zone_of_which_too_little_is_known_is_named():
    """It may push more: what is known stands, and the other beside it."""
    zone = "{name: Ruddavine sand, md: 12500 ft, rock: sand, fluid: gas}"
    its = inflow(evaluated(BRINDLEWICK, (TARGET, zone)))
    none = evaluated(BRINDLEWICK, (TARGET, zone), (f", {GAS}", "")).job.proofs

    assert its.unknown == ("formation.tops.Ruddavine sand.gradient",)
    assert its.zone == "gas sand"
    assert none.inflow == ()
    assert none.missing[0].needs == (
        "formation.tops.gas sand.gradient",
        "formation.tops.Ruddavine sand.gradient",
    )


def test_a_zone_without_a_pore_pressure_takes_that_of_the_table():
    """Between 11.4 ppg at 10 300 ft and 12.0 at 11 900: 11.98 at 11 858 ft."""
    test = inflow(evaluated(BRINDLEWICK, ("pore: 12.0 ppg, gradient", "gradient")))
    pore = 11.4 + 0.6 * (11858.2 - 10300) / 1600
    expected = pore * PER_PPG * 11858.2 - 0.1 * (11858.2 - 9479.5) - 9.8 * PER_PPG * 9479.5

    assert test.needed_pa[1] / PSI_PA == pytest.approx(expected, abs=2)


def test_a_zone_behind_the_host_is_not_behind_the_lap():
    """Ostrel shale with gas in it would push at 9 200 ft, above the host shoe."""
    shale = "{name: Ostrel shale, md: 9200 ft, rock: shale}"
    gassy = "{name: Ostrel shale, md: 9200 ft, base md: %s, rock: shale, fluid: gas, pore: 15 ppg, gradient: 0.1 psi/ft}"
    above = inflow(evaluated(BRINDLEWICK, (shale, gassy % "9800 ft")))
    partly = inflow(evaluated(BRINDLEWICK, (shale, gassy % "9900 ft")))

    assert above.zone == "gas sand"
    assert partly.zone == "Ostrel shale"  # as far as it is open, from the host shoe down
    assert partly.zone_md_m / 0.3048 == pytest.approx(9850)


def test_without_a_fluid_that_comes_next_nothing_is_told():
    its = evaluated(BRINDLEWICK, ("  next mud: {kind: next mud, density: 9.8 ppg}\n", "")).job.proofs

    assert its.inflow == ()
    assert its.missing[0].needs == ("a fluid of kind next mud or completion brine",)


def test_what_each_part_sees_in_the_lap_test(vertical):
    """By hand: 12.6 ppg over fresh water, 8.345, is 2 096 psi at the liner top and 2 783 at the shoe: 4 715 and 5 402
    psi against 0.9 of 6 870 and of 11 220 (API TR 5C3 tables, from memory).
    """
    rows = {row.part: row for row in under_test(vertical.plan, positive(vertical))}
    over = (12.6 - 1000.0 / PPG_KG_PER_M3) * PER_PPG

    assert rows[HOST].sees / PSI_PA == pytest.approx(2619 + over * 9479.5, abs=1)
    assert rows[HOST].bears / PSI_PA == pytest.approx(0.9 * 6870, abs=0.9 * 5)
    assert rows[LINER].sees / PSI_PA == pytest.approx(2619 + over * 12588, abs=1)
    assert rows[LINER].bears / PSI_PA == pytest.approx(0.9 * 11220, abs=0.9 * 5)
    assert (rows[PACKER].bears, rows[PACKER].needs) == (None, ("liner top packer.pressure rating",))
    assert rows[HANGER].sees / KLBF == pytest.approx(228, abs=0.5)
    assert rows[HANGER].bears / KLBF == pytest.approx(184, abs=0.5)
    assert rows[LEAK].sees / PPG_KG_PER_M3 == pytest.approx(17.7, abs=0.05)
    assert [rows[part].holds for part in (HOST, LINER, PACKER, HANGER, LEAK)] == [
        True,
        True,
        None,
        False,
        False,
    ]


def test_the_weakest_of_what_holds_the_test(vertical):
    """The hanger: 184 less 72.8 klbf on 59.19 in2 is 1 879 psi. A leak that breaks the rock is not counted."""
    bound = surface_bound(vertical.plan, positive(vertical))

    assert bound.pressure_pa / PSI_PA == pytest.approx((184.0 - 72.83) * 1000 / 59.19, abs=1)
    assert bound.unknown == (PACKER, "surface equipment", "test of the intermediate casing")


def test_a_hanger_without_a_rating_lets_nobody_say_how_far(deviated):
    with pytest.raises(MissingInput, match=r"liner hanger\.load rating"):
        surface_bound(deviated.plan, positive(deviated))


def test_a_scab_liner_breaks_no_rock_below_its_host():
    text = BRINDLEWICK.replace("lap: 370 ft", "top: 6400 ft").replace("off bottom: 10 ft", "shoe: 9510 ft")
    text = text.replace("length: 9076 ft", "length: 5996 ft").replace(
        "planned top: 9280 ft", "planned top: 6400 ft"
    )
    its = evaluated(text[: text.index("options:")])

    assert LEAK not in [row.part for row in under_test(its.plan, positive(its))]


@given(st.floats(1.0, 100.0), st.floats(0.2, 2.2))
def test_more_pressure_loads_everything_more_and_the_bound_is_where_the_first_gives_way(mpa, sg):
    text = SOLLIVANE.replace("above fracture: 34.5 bar", f"surface pressure: {mpa:.6f} MPa, fluid: brine")
    text = text.replace(
        "kind: completion brine, density: 1.03 sg", f"kind: completion brine, density: {sg:.6f} sg"
    )
    plan = planned(text.replace("      rotating: yes\n", "      rotating: yes\n      load rating: 2000 kN\n"))
    test = proofs(plan).positive[0]
    bound = surface_bound(plan, test).pressure_pa
    rows = [row for row in under_test(plan, test) if row.part != LEAK and row.bears is not None]
    at_bound = under_test(plan, test._replace(surface_pa=bound))

    assert all(row.sees > 0.0 for row in rows)
    assert all(row.holds for row in rows) == (test.surface_pa <= bound * (1 + 1e-9))
    assert min(row.bears - row.sees for row in at_bound if row.part in [r.part for r in rows]) >= -1e-3
