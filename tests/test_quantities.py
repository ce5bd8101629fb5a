"""The one door for units: what people write, what they read, and what must never happen between."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schematic.units import (
    _TABLE,
    BARREL_M3,
    DIMENSIONS,
    FOOT_M,
    INCH_M,
    KINDS,
    PSI_PA,
    UnitError,
    inch_name,
    number,
    parse,
    registry,
    show,
    size,
    to_unit,
    unit_of,
)

REPO = Path(__file__).parents[1]


@pytest.mark.parametrize("unit", [unit for unit in _TABLE if unit])
def test_every_short_cut_equals_the_definitions(unit):
    """The table of common units against pint and units.txt, two independent ways to a factor."""
    si_unit, factor, offset = _TABLE[unit]
    share = 100.0 if "/100ft" in unit else 1.0
    expression = re.sub(
        r"([A-Za-z])([23])\b", r"\1**\2", unit.replace("%", "percent").replace("/100ft", "/ft")
    )
    quantity = registry().Quantity

    zero, one = (quantity(value, expression).m_as(si_unit) / share for value in (0.0, 1.0))

    assert one - zero == pytest.approx(factor, rel=1e-12)
    assert zero == pytest.approx(offset, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("9 5/8 in", 9.625), ("9-5/8 in", 9.625), ('9 5/8"', 9.625), ('13 3/8"', 13.375), ("5/8 in", 0.625),
        ("9\u215d in", 9.625), ("9.625in", 9.625), ("7 inches", 7.0), ("9,625 mm", None), ("244.475 mm", 9.625),
    ],
)  # fmt: skip
def test_sizes_as_the_trade_writes_them(text, inches):
    if inches is None:
        with pytest.raises(UnitError, match="thousands"):
            parse(text, "length")
    else:
        assert parse(text, "length").si == pytest.approx(inches * INCH_M, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "dimension", "si"),
    [
        ("12 590.5 ft", "length", 12_590.5 * FOOT_M),
        ("12\u2009590.5 ft", "length", 12_590.5 * FOOT_M),
        ("12\u202f590,5 ft", "length", 12_590.5 * FOOT_M),  # after spaced thousands a comma is a decimal one
        ("9\u00a05/8 in", "length", 9.625 * INCH_M),
        ("\u221226 ft", "length", -26 * FOOT_M),
        ("1510 kg/m^3", "density", 1510.0),
        ("1.8 degF/100 ft", "temperature gradient", 1.0 / 30.48),
        ("12,6 ppg", "density", 12.6 * 0.45359237 / (231 * INCH_M**3)),
        ("12.6 lb/gal", "density", 12.6 * 0.45359237 / (231 * INCH_M**3)),
        ("1 bbl", "volume", 42 * 231 * INCH_M**3),
        ("90 degF", "temperature", 273.15 + (90 - 32) / 1.8),
        ("104 \u00b0C", "temperature", 377.15),
        ("2.5 deg/30 m", "dogleg", 2.5 * 0.017453292519943295 / 30),
        ("3 deg/100 ft", "dogleg", 3 * 0.017453292519943295 / 30.48),
        ("16 lbf/100ft2", "stress", 16 * 4.4482216152605 / (100 * FOOT_M**2)),
        ("5 mD", "permeability", 5 * 9.869233e-16),
        ("5 gal/sk", "volume per mass", 5 * 231 * INCH_M**3 / (94 * 0.45359237)),
        ("0.1010 bbl/stroke", "volume per stroke", 0.1010 * BARREL_M3),
        ("3e-6 1/psi", "compressibility", 3e-6 / PSI_PA),
    ],
)
def test_quantities_that_pint_misreads_out_of_the_box(text, dimension, si):
    assert parse(text, dimension).si == pytest.approx(si, rel=1e-12)


def test_a_tolerance_is_a_band_around_the_value():
    share, value = parse("3400 psi +/- 10 %", "pressure"), parse("1500 psi \u00b1 75 psi", "pressure")

    assert share.band == pytest.approx((3060 * PSI_PA, 3740 * PSI_PA))
    assert value.band == pytest.approx((1425 * PSI_PA, 1575 * PSI_PA))


@pytest.mark.parametrize(
    "text",
    ["", " ", "ft", "8900", "12 ppg", "1,250 m", "9 5/0 in", "1e400 m", "--5 m", "5 m m", "nan m", "inf ft", "5 ft; 3",
     "5 __import__('os').system('true')", "5 m**9**9**9", "5 lambda: 0", "5 (ft", "9 5/8/2 in", "5 ft +/- 1 bar",
     "5 ft +/- -1 ft", "0x10 m", "\u0665 m"],
)  # fmt: skip
def test_a_text_that_is_no_length_says_what_is_accepted(text):
    with pytest.raises(UnitError) as caught:
        parse(text, "length")

    assert caught.value.found == text
    assert "2500 m" in caught.value.accepted
    assert caught.value.mend


def test_a_share_without_a_percent_sign_is_at_most_one():
    assert parse("1", "ratio").si == 1.0
    with pytest.raises(UnitError, match="without a unit"):
        parse("20", "ratio")


@pytest.mark.parametrize(
    ("text", "dimension", "phrase"),
    [
        ("1500 psi +/-", "pressure", "tolerance"),
        ("1500 psi +/- 1e400 psi", "pressure", "endless"),
        ("1500 psi +/- 5 % +/- 2 %", "pressure", "tolerance"),
        ("20 % +/- 5 %", "ratio", "two ways"),  # of the 20 %, or percentage points?
        ("246 degF +/- 5 %", "temperature", "two ways"),  # of which zero?
    ],
)
def test_a_tolerance_that_cannot_be_read_one_way_is_refused(text, dimension, phrase):
    with pytest.raises(UnitError, match=phrase):
        parse(text, dimension)


HOSTILE = [
    "__import__('os').system('id')", "().__class__", "lambda: 0", "m.__class__", "m if 1 else 0", "deg/0 m",
    "m**9**9**9**9", "m**99999999999", "9**9**9**9*m", "m**-9**9", "m/0ft", "m//m", "m*1e3", "m" * 100_000,
    "(" * 30 + "m" + ")" * 30, "m*" * 30 + "m", "%s%n", "{0.__class__}", "m;m", "m\nm", "m\x00", "${PATH}",
    "\ud800", "\u00b5" * 60, "*m", "/m", "m^", "**", "^" * 40, "@import", "[length]", "m = 3 * meter",
]  # fmt: skip


@pytest.mark.parametrize("unit", HOSTILE, ids=range(len(HOSTILE)))
@pytest.mark.parametrize(
    "number_text", ["1", "9" * 400 + "/7", "9" * 5000], ids=["one", "fraction", "digits"]
)
def test_a_hostile_quantity_is_a_unit_error(unit, number_text):
    for dimension in ("length", "dogleg", "ratio"):
        with pytest.raises(UnitError):
            parse(f"{number_text} {unit}", dimension)


@given(
    st.from_regex(r"[0-9]{1,5}([.,][0-9]{1,2})?( [1-9]/(2|4|8|16))?(e[0-9]{1,3})?", fullmatch=True),
    st.text("mftinpsbarg/*^%'\"123 ()-", max_size=12),
    st.sampled_from(sorted(DIMENSIONS)),
)
def test_anything_like_a_quantity_is_finite_or_a_unit_error(digits, unit, dimension):
    try:
        written = parse(f"{digits} {unit}", dimension)
    except UnitError:
        return

    assert abs(written.si) < 1e15


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_every_example_in_a_message_can_be_read(dimension):
    examples = DIMENSIONS[dimension][1].split("'")[1::2]

    assert [parse(example, dimension).text for example in examples] == examples != []


@given(st.text(max_size=40), st.sampled_from(sorted(DIMENSIONS)))
def test_no_text_makes_anything_but_a_value_or_a_unit_error(text, dimension):
    try:
        written = parse(text, dimension)
    except UnitError:
        return

    assert written.text == text
    assert abs(written.si) < 1e15


PLAIN = [kind for kind in KINDS if kind not in ("temperature", "count", "tonnes", "percent")]


@given(st.floats(0.0, 9e5), st.sampled_from(PLAIN), st.sampled_from(["field", "metric"]))
def test_what_is_printed_reads_back_and_prints_the_same(value, kind, system):
    """Text out, text in, text out: the same text, in both unit systems."""
    dimension = KINDS[kind][0]
    si = value * abs(to_unit(1.0, unit_of(kind, system), dimension) ** -1)

    text = show(si, kind, system)
    again = show(parse(text, dimension).si, kind, system)

    assert again == text


@given(st.integers(1, 60), st.integers(0, 15))
def test_inch_names_name_sixteenths(whole, sixteenths):
    name = inch_name((whole + sixteenths / 16) * INCH_M)

    assert parse(f"{name} in", "length").si == pytest.approx((whole + sixteenths / 16) * INCH_M, rel=1e-12)


def test_a_size_without_an_inch_name_is_a_diameter():
    assert size(0.224, "metric") == "224.0 mm"
    assert size(8.55 * INCH_M, "field") == "8.550 in"
    assert size(0.244475, "metric") == "9 5/8 in"


def test_small_volumes_keep_their_second_decimal():
    assert number(4.67 * BARREL_M3, "volume", "field") == "4.67"
    assert number(88.4 * BARREL_M3, "volume", "field") == "88.4"
    assert number(9.996 * BARREL_M3, "volume", "field") == "10.0"


def test_a_half_is_rounded_up_as_a_spreadsheet_does():
    """8.25 in are 209.55 mm by the definition of the inch, and no float is exactly that."""
    assert number(8.25 * INCH_M, "diameter", "metric") == "209.6"
    assert number(-8.25 * INCH_M, "diameter", "metric") == "-209.6"


def test_no_minus_nought_is_printed():
    assert number(-1e-9, "length", "field") == "0.0"


def loaded(code: str) -> set[str]:
    """Modules that a fresh interpreter has loaded after some code."""
    script = f"{code}\nimport sys\nprint(' '.join(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=REPO
    )
    return set(done.stdout.splitlines()[-1].split())


HEAVY = {"matplotlib", "pint", "scipy", "pandas", "reportlab", "numpy", "svgwrite", "streamlit", "fontTools"}


@pytest.mark.parametrize(
    "code",
    [
        "import schematic",
        "from schematic import check, draw, volumes",
        "from schematic import check; check('wells/brindlewick-4.yaml'); check('wells/sollivane-a7.yaml')",
    ],
)
def test_reading_and_checking_load_no_heavy_library(code):
    assert loaded(code) & HEAVY == set()


def test_an_unusual_unit_loads_pint_when_it_is_needed():
    assert "pint" in loaded(
        "from schematic.units import parse; parse('1 furlong' if 0 else '1 kgf/cm2', 'pressure')"
    )


@pytest.mark.parametrize(
    ("text", "dimension", "same"),
    [
        ("1.18 SG", "density", "1.18 sg"),
        ("1.18 g/cc", "density", "1180 kg/m3"),
        ("12.6 PPG", "density", "12.6 ppg"),
        ("1500 PSI", "pressure", "1500 psi"),
        ("9850 FT", "length", "9850 ft"),
        ("2852 M", "length", "2852 m"),
        ("29 lbs/ft", "mass per length", "29 lb/ft"),
    ],
)
def test_units_in_capitals_are_the_same_units(text, dimension, same):
    assert parse(text, dimension).si == pytest.approx(parse(same, dimension).si, rel=1e-15)


def test_halves_are_rounded_up_as_spreadsheets_do():
    # 12.25 x 25.4 = 311.15 and 41.35 ft written, both exact; the last digit by the rule "half up"
    assert number(12.25 * 0.0254, "diameter", "metric") == "311.2"
    assert number(41.35 * 0.3048, "tally", "field") == "41.4"
    assert number(-41.35 * 0.3048, "tally", "field") == "-41.4"
