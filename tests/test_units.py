"""The door for units: what people write becomes SI, SI becomes what people read, nothing is evaluated.

Numbers are worked by hand from exact definitions (inch 25.4 mm, pound 0.45359237 kg, standard gravity
9.80665 m/s2, US gallon 231 cubic inches, barrel 42 gallons, sack 94 lb); printed factor sheets are held
against the same door in tests/published/test_units.py.
"""

import subprocess
import sys
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schematic import units
from schematic.units import (
    DIMENSIONS,
    KINDS,
    UnitError,
    in_system,
    inch_name,
    number,
    parse,
    registry,
    show,
    size,
    to_unit,
    unit_of,
)

HEAVY = ("matplotlib", "pint", "scipy", "pandas", "reportlab", "numpy")


def loaded_after(code):
    """Which heavy libraries a fresh interpreter holds after running *code*."""
    asked = f"{code}\nimport sys\nprint([name for name in {HEAVY!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    return done.stdout.strip()


@pytest.mark.parametrize("unit", units._TABLE)
def test_a_unit_of_the_short_table_is_what_the_definitions_file_says(unit):
    si_unit, factor, offset = units._TABLE[unit]
    spelled = {"lbf/100ft2": "lbf/ft**2/100", "": "", "%": "percent"}.get(unit, unit)
    for power in ("2", "3"):
        for word in ("ft", "m"):
            spelled = spelled.replace(f"{word}{power}", f"{word}**{power}")
    share = 1.0
    if spelled.endswith("/100"):
        spelled, share = spelled.removesuffix("/100"), 0.01
    quantity = registry().Quantity

    one, zero = (float(quantity(value, spelled).m_as(si_unit)) for value in (1.0, 0.0))

    assert (one - zero) * share == pytest.approx(factor, rel=1e-13)
    assert zero == pytest.approx(offset, rel=1e-13, abs=1e-13)


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_every_example_in_a_message_can_be_read(dimension):
    examples = DIMENSIONS[dimension][1].split("'")[1::2]

    assert examples
    for example in examples:
        assert parse(example, dimension).text == example


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("9 5/8 in", 9.625 * 0.0254),
        ("9-5/8 in", 9.625 * 0.0254),
        ('9 5/8"', 9.625 * 0.0254),
        ("9⅝ in", 9.625 * 0.0254),
        ("9 ⅝ in", 9.625 * 0.0254),
        ("9\u00a05/8 in", 9.625 * 0.0254),
        ("13⅜ inches", 13.375 * 0.0254),
        ("5/8 in", 0.625 * 0.0254),
        ("½ in", 0.5 * 0.0254),
        ("17 1/2in", 17.5 * 0.0254),
        ("12590 ft", 12590 * 0.3048),
        ("12 590 ft", 12590 * 0.3048),
        ("12\u2009590.5 ft", 12590.5 * 0.3048),
        ("12\u202f590,5 ft", 12590.5 * 0.3048),
        ("1 012 590 ft", 1012590 * 0.3048),
        ("12,6 m", 12.6),
        ("12,25 in", 12.25 * 0.0254),
        ("1234,567 m", 1234.567),
        ("2.5e3 m", 2500.0),
        (".5 m", 0.5),
        ("5. m", 5.0),
        ("-26 ft", -26 * 0.3048),
        ("\u221226 ft", -26 * 0.3048),
        ("+26 ft", 26 * 0.3048),
        ("100'", 100 * 0.3048),
        ("  7   in  ", 7 * 0.0254),
        ("3 km", 3000.0),
        ("70 cm", 0.7),
    ],
)
def test_lengths_as_people_write_them(text, metres):
    assert parse(text, "length").si == pytest.approx(metres, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "dimension", "si"),
    [
        ("212 °F", "temperature", 373.15),  # water boils: the definition of the scale
        ("-40 degF", "temperature", 233.15),  # -40 is the same in both scales
        ("-40 degC", "temperature", 233.15),
        ("104 °C", "temperature", 377.15),
        ("377.15 K", "temperature", 377.15),
        ("3 deg/100 ft", "dogleg", 3 * units.DEGREE_RAD / 30.48),
        ("3 deg/30 m", "dogleg", 3 * units.DEGREE_RAD / 30),
        ("3°/30m", "dogleg", 3 * units.DEGREE_RAD / 30),
        ("1 deg/10 m", "dogleg", units.DEGREE_RAD / 10),
        ("16 lbf/100ft2", "stress", 16 * 0.45359237 * 9.80665 / (100 * 0.3048**2)),
        ("16 lbf/100 ft²", "stress", 16 * 0.45359237 * 9.80665 / (100 * 0.3048**2)),
        ("1.38 sg", "density", 1380.0),
        ("1510 kg/m³", "density", 1510.0),
        ("1510 kg/m^3", "density", 1510.0),
        ("94 pcf", "density", 94 * 0.45359237 / 0.3048**3),
        ("20 %", "ratio", 0.2),
        ("0.25", "ratio", 0.25),
        ("1.8 degF/100 ft", "temperature gradient", 1.0 / 30.48),
        ("12000 ft*lbf", "torque", 12000 * 0.3048 * 0.45359237 * 9.80665),
        ("12000 ft·lbf", "torque", 12000 * 0.3048 * 0.45359237 * 9.80665),
        ("3e-6 1/psi", "compressibility", 3e-6 * 0.0254**2 / (0.45359237 * 9.80665)),
    ],
)
def test_units_as_people_write_them(text, dimension, si):
    assert parse(text, dimension).si == pytest.approx(si, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "phrase"),
    [
        ("1,250 m", "comma before three digits"),
        ("12,590 ft", "comma before three digits"),
        ("1,250.5 m", "comma before three digits"),
        ("370", "without a unit"),
        ("9 5/8", "without a unit"),
        ("7 in 29", "is not a unit"),
        ("about 7 in", "does not begin with a number"),
        ("", "does not begin with a number"),
        ("in", "does not begin with a number"),
        ("nan m", "does not begin with a number"),
        ("inf m", "does not begin with a number"),
        ("1e400 m", "too large"),
        ("9 5/0 in", "fraction of nought"),
        ("7 psi", "measures something else"),
        ("7 furlongs", "is not a unit known here"),
        ("0x10 m", "is not a unit"),
        ("1_000 m", "is not a unit"),
        ("7 in # P-110", "is not a unit"),
    ],
)
def test_what_is_no_length_is_refused_with_its_reason_and_an_example(text, phrase):
    with pytest.raises(UnitError) as caught:
        parse(text, "length")

    assert phrase in caught.value.mend
    assert caught.value.found == text
    assert "9 5/8 in" in caught.value.accepted


def test_a_share_without_percent_is_at_most_one():
    assert parse("1", "ratio").si == 1.0

    with pytest.raises(UnitError, match="without a unit"):
        parse("20", "ratio")


@pytest.mark.parametrize(
    ("text", "dimension", "low", "high"),
    [
        ("1500 psi +/- 5 %", "pressure", "1425 psi", "1575 psi"),
        ("2400 psi ± 10 %", "pressure", "2160 psi", "2640 psi"),
        ("1500 psi +/- 50 psi", "pressure", "1450 psi", "1550 psi"),
        ("1500 psi +- 50", "pressure", "1450 psi", "1550 psi"),
        ("100 bar +/- 0.5 MPa", "pressure", "95 bar", "105 bar"),
        ("246 degF +/- 9 degF", "temperature", "237 degF", "255 degF"),
        ("-26 ft +/- 10 %", "length", "-28.6 ft", "-23.4 ft"),
    ],
)
def test_a_tolerance_gives_low_and_high(text, dimension, low, high):
    written = parse(text, dimension)

    assert written.band == pytest.approx((parse(low, dimension).si, parse(high, dimension).si), rel=1e-12)
    assert written.low <= written.si <= written.high


def test_without_a_tolerance_the_band_is_the_value():
    written = parse("1500 psi", "pressure")

    assert (written.low, written.high) == (None, None)
    assert written.band == (written.si, written.si)


@pytest.mark.parametrize(
    ("text", "dimension", "phrase"),
    [
        ("1500 psi +/- 5 ft", "pressure", "tolerance"),
        ("1500 psi +/- -5 psi", "pressure", "tolerance"),
        ("1500 psi +/-", "pressure", "tolerance"),
        ("1500 psi +/- 1e400 psi", "pressure", "tolerance"),
        ("1500 psi +/- 5 % +/- 2 %", "pressure", "tolerance"),
        ("20 % +/- 5 %", "ratio", "two ways"),  # of the 20 %, or percentage points?
        ("246 degF +/- 5 %", "temperature", "two ways"),  # of which zero?
    ],
)
def test_a_tolerance_that_cannot_be_read_is_refused(text, dimension, phrase):
    with pytest.raises(UnitError, match=phrase):
        parse(text, dimension)


HOSTILE = [
    "__import__('os').system('id')", "().__class__", "lambda: 0", "m.__class__", "m if 1 else 0", "exec",
    "m**9**9**9**9", "m**99999999999", "9**9**9**9*m", "m**-9**9", "deg/0 m", "m/0ft", "m//m", "m*1e3",
    "(" * 30 + "m" + ")" * 30, "m" * 100_000, "m*" * 30 + "m", "%s%n", "{0.__class__}", "m;m", "m\nm",
    "m\x00", "${PATH}", "`id`", "\ud800", "𝒎", "µ" * 60, "*m", "/m", "m^", "**", "^" * 40,
    "9" * 5000 + " m", "../../units.txt", "@import", "[length]", "=m", "m = 3 * meter", "delta_degC",
]  # fmt: skip


@pytest.mark.parametrize("unit", HOSTILE, ids=range(len(HOSTILE)))
@pytest.mark.parametrize("dimension", ["length", "dogleg", "ratio"])
def test_a_hostile_unit_is_an_error_at_once(unit, dimension):
    start = time.perf_counter()

    with pytest.raises(UnitError):
        parse(f"1 {unit}", dimension)

    assert time.perf_counter() - start < 1.0


@given(st.text(max_size=40), st.sampled_from(sorted(DIMENSIONS)))
def test_any_text_is_a_finite_value_or_a_unit_error(text, dimension):
    try:
        written = parse(text, dimension)
    except UnitError:
        return

    assert abs(written.si) < 1e15
    assert written.band[0] <= written.si <= written.band[1]


NUMBERS = st.from_regex(r"[0-9]{1,5}([.,][0-9]{1,2})?( [1-9]/(2|4|8|16))?(e[0-9]{1,3})?", fullmatch=True)
WORDS = st.text("mftinpsbarg/*^%°'\"123 ()-", max_size=12)


@given(NUMBERS, WORDS, st.sampled_from(sorted(DIMENSIONS)))
def test_anything_like_a_quantity_is_a_finite_value_or_a_unit_error(digits, unit, dimension):
    try:
        written = parse(f"{digits} {unit}", dimension)
    except UnitError:
        return

    assert abs(written.si) < 1e15


@given(
    st.sampled_from(sorted(set(KINDS) - {"count", "tonnes"})),
    st.sampled_from(["field", "metric"]),
    st.floats(-20000, 20000),
)
def test_what_is_printed_reads_back_and_prints_the_same(kind, system, value):
    """Text in, SI, text out: stable in both systems, whatever the value."""
    dimension = KINDS[kind][0]
    si = parse(f"{value:.3f} {unit_of(kind, system)}", dimension).si if kind != "percent" else value / 1000
    printed = show(si, kind, system)

    again = parse(printed, dimension).si

    assert show(again, kind, system) == printed
    assert show(again, kind, system, " ") == show(si, kind, system, " ")


@given(st.sampled_from(sorted(KINDS)), st.sampled_from(["field", "metric"]), st.floats(-1e6, 1e6))
def test_a_printed_figure_is_within_half_of_the_last_digit_of_its_kind(kind, system, value):
    _dimension, field, metric = KINDS[kind]
    half_digit = 0.5 * 10.0 ** -(field if system == "field" else metric).decimals

    printed = float(number(value, kind, system))

    assert printed == pytest.approx(in_system(value, kind, system), abs=half_digit, rel=1e-12)


@given(st.floats(-1e5, 1e5), st.sampled_from(["degC", "degF", "K"]))
def test_a_value_goes_to_its_unit_and_back(value, unit):
    si = parse(f"{value:.6f} {unit}", "temperature").si

    assert to_unit(si, unit, "temperature") == pytest.approx(float(f"{value:.6f}"), abs=1e-6)


@pytest.mark.parametrize(
    ("feet", "kind", "system", "text"),
    [
        (9480, "depth", "field", "9480 ft"),
        (9480, "tally", "field", "9480.0 ft"),
        (12590.06, "depth", "field", "12590.1 ft"),
        (-0.001, "tally", "field", "0.0 ft"),  # no minus nought
        (100, "length", "metric", "30.48 m"),
        (10, "depth", "metric", "3.05 m"),  # 3.048
    ],
)
def test_depths_are_printed_as_the_trade_does(feet, kind, system, text):
    assert show(feet * 0.3048, kind, system) == text


def test_small_volumes_get_a_second_decimal():
    bbl = 0.158987294928  # exact: 9702 cubic inches

    assert show(4.67 * bbl, "volume", "field") == "4.67 bbl"
    assert show(130.26 * bbl, "volume", "field") == "130.3 bbl"


@pytest.mark.parametrize(
    ("inches", "name"),
    [
        (9.625, "9 5/8"),
        (7.0, "7"),
        (13.375, "13 3/8"),
        (0.5, "1/2"),
        (2.8125, "2 13/16"),
        (9.3, None),
        (0, None),
    ],
)
def test_customary_names_of_sizes(inches, name):
    assert inch_name(inches * 0.0254) == name


def test_a_size_without_a_customary_name_is_a_diameter():
    assert size(0.224, "metric") == "224.0 mm"
    assert size(8.5 * 0.0254, "metric") == "8 1/2 in"


def test_common_units_load_no_heavy_library():
    texts = [(f"1 {unit}", si) for unit, (si, _factor, _offset) in units._TABLE.items()]
    dimension = {si: name for name, (si, _text) in DIMENSIONS.items()}
    calls = "\n".join(f"parse({text!r}, {dimension[si]!r})" for text, si in texts)

    assert (
        loaded_after(f"from schematic.units import parse\n{calls}\nparse('3 deg/100 ft', 'dogleg')") == "[]"
    )


def test_an_uncommon_unit_still_works_and_only_then_loads_pint():
    assert "pint" in loaded_after("from schematic.units import parse\nparse('3 ksi', 'pressure')")


@pytest.mark.parametrize("well", ["brindlewick-4", "sollivane-a7"])
def test_reading_resolving_and_checking_a_well_load_no_heavy_library(well):
    code = (
        "from schematic.wellfile.read import read\n"
        "from schematic.depth.resolve import resolve\n"
        "from schematic.checks.evaluate import evaluate\n"
        f"assert evaluate(resolve(read('wells/{well}.yaml'))).cement is not None"
    )

    assert loaded_after(code) == "[]"
