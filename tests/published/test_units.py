"""Unit factors against printed factor sheets and the definitions of the units.

Sources, as named beside each row:
  sheet     unit factor sheet, scribd.com/document/372231054
  EIA       U.S. Energy Information Administration, conversion appendix,
            docslib.org/doc/8936347
  SP 811    NIST Special Publication 811, appendix B; from memory
  booklet   drilling formula booklet, docsity.com
  defined   follows from the exact definitions: inch 25.4 mm and pound 0.45359237 kg (1959
            agreement), standard gravity 9.80665 m/s2 (SI brochure), US gallon 231 in3, barrel
            42 US gal, sack 94 lb; digits worked by hand from these, from memory
The tolerance is half of the last printed digit, or wider where the row says so.
"""

import pytest

from schematic.units import (
    STANDARD_GRAVITY_M_PER_S2,
    UnitError,
    parse,
    registry,
    to_unit,
)

FACTORS = [
    # one of these, dimension, is so many, of these, tolerance, source
    ("psi", "pressure", 6.894757293, "kPa", 5e-10, "sheet"),
    ("psi", "pressure", 0.06894757, "bar", 5e-9, "booklet prints .06895; more digits: defined"),
    ("lb", "mass", 0.45359237, "kg", 1e-12, "sheet; exact"),
    ("bbl", "volume", 0.1589873, "m3", 5e-8, "EIA"),
    ("ft3", "volume", 0.178107607, "bbl", 5e-10, "sheet"),
    ("ft3", "volume", 7.480519481, "gal", 5e-10, "sheet"),
    ("ft3", "volume", 0.028316847, "m3", 5e-10, "sheet"),
    ("lbf", "force", 4.448221615, "N", 5e-10, "sheet"),
    ("lb/gal", "density", 119.8264, "kg/m3", 5e-5, "SP 811"),
    ("ppg", "density", 119.8264, "kg/m3", 5e-5, "SP 811"),
    ("psi/ft", "pressure gradient", 22.62, "kPa/m", 0.005, "booklet"),
    ("ft3/sk", "volume per mass", 0.664124, "m3/t", 1e-5, "defined (0.664127), last digits off"),
    ("sk", "mass", 42.63768, "kg", 5e-6, "defined; 94 lb: drillingformulas.com"),
    ("gpm", "flow", 3.785412, "l/min", 5e-7, "defined"),
    ("bbl/min", "flow", 0.1589873, "m3/min", 5e-8, "defined"),
    ("in", "length", 25.4, "mm", 1e-12, "booklet; exact"),
]


@pytest.mark.parametrize(("unit", "dimension", "factor", "other", "tolerance", "source"), FACTORS)
def test_one_unit_is_so_many_of_the_other(unit, dimension, factor, other, tolerance, source):
    computed = to_unit(parse(f"1 {unit}", dimension).si, other, dimension)

    assert computed == pytest.approx(factor, abs=tolerance, rel=0), source


def test_lbf_per_ft_in_newtons_per_metre():
    computed = parse("1 lbf", "force").si / parse("1 ft", "length").si

    assert computed == pytest.approx(14.5939, abs=5e-5)  # SP 811


def test_bbl_per_ft_in_cubic_metres_per_metre():
    computed = parse("1 bbl", "volume").si / parse("1 ft", "length").si

    assert computed == pytest.approx(0.5216119, abs=5e-8)  # defined


def test_horsepower_is_that_of_550_foot_pounds_a_second():
    kilowatt_per_hp = registry().Quantity(1.0, "hp").m_as("kW")

    assert kilowatt_per_hp == pytest.approx(0.7456999, abs=5e-8)
    assert 1 / kilowatt_per_hp == pytest.approx(1.34102209, abs=5e-9)  # sheet


def test_a_gradient_of_one_psi_per_ft_is_a_mud_of_19_25_ppg():
    gradient = parse("1 psi/ft", "pressure gradient").si

    density = to_unit(gradient / STANDARD_GRAVITY_M_PER_S2, "lb/gal", "density")

    assert density == pytest.approx(19.25, rel=1e-12)  # defined: 231/12


def test_fresh_water_at_15_celsius():
    # sheet: 8.33719 lb/gal at 999.016 kg/m3. The field's 8.33 (drillingformulas.com) rounds it.
    density = to_unit(999.016, "lb/gal", "density")

    assert density == pytest.approx(8.33719, abs=5e-6)
    assert density == pytest.approx(8.33, abs=0.01)


def test_the_field_factor_0_052_reads_a_tenth_of_a_percent_high():
    density, depth = parse("15 ppg", "density").si, parse("15000 ft", "length").si

    exact_psi = to_unit(density * STANDARD_GRAVITY_M_PER_S2 * depth, "psi", "pressure")

    assert exact_psi == pytest.approx(11688.3, abs=0.05)  # defined: 12/231
    assert 0.052 * 15 * 15000 - exact_psi == pytest.approx(11.7, abs=0.05)


def test_dogleg_severity_per_100_ft_and_per_30_m():
    severity = parse("3 deg/100 ft", "dogleg").si

    computed = to_unit(severity, "deg/30 m", "dogleg")

    assert computed == pytest.approx(2.953, abs=5e-4)  # defined: 30/30.48


def test_a_foot_is_the_international_foot():
    assert parse("10000 ft", "length").si == pytest.approx(3048.0, abs=1e-9)  # x 0.3048


def test_the_us_survey_foot_must_be_asked_for_by_name():
    survey = parse("10000 us_survey_foot", "length").si

    assert survey == pytest.approx(3048.0061, abs=5e-5)  # x 1200/3937
    assert survey != parse("10000 ft", "length").si


def test_a_survey_foot_is_not_guessed_from_a_misspelling():
    with pytest.raises(UnitError):
        parse("10000 sft", "length")
