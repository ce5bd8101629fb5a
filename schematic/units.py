"""The one door for units: text a person wrote becomes SI floats, SI floats become text a person reads.

Inside, a value is a plain float in SI. Pint, with the project's own small definitions (`units.txt`), reads
the units; out of the box it takes ``9 5/8 in`` for 5.6 in and ``bbl`` for 31.5 gallons. It is loaded at the
first unit that is not in the short table of those that nearly every well file uses.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple

if TYPE_CHECKING:
    import pint

System = Literal["field", "metric"]

# Exact by definition: SI brochure; international yard and pound agreement of 1959.
STANDARD_GRAVITY_M_PER_S2 = 9.80665
INCH_M = 0.0254
FOOT_M = 0.3048
POUND_KG = 0.45359237
US_GALLON_M3 = 231 * INCH_M**3
PPG_KG_PER_M3 = POUND_KG / US_GALLON_M3
BARREL_M3 = 42 * US_GALLON_M3
POUND_FORCE_N = POUND_KG * STANDARD_GRAVITY_M_PER_S2
PSI_PA = POUND_FORCE_N / INCH_M**2
SACK_KG = 94 * POUND_KG  # US sack of cement, API
DEGREE_RAD = 0.017453292519943295

DIMENSIONS = {
    # dimension: (pint unit of the SI value, what a person may write)
    "length": ("m", "a length such as '2500 m', '8200 ft', '9 5/8 in'"),
    "angle": ("rad", "an angle such as '1.5 deg'"),
    "density": ("kg/m**3", "a density such as '12.6 ppg', '1.38 sg', '1510 kg/m3'"),
    "pressure": ("Pa", "a pressure such as '1500 psi', '100 bar', '6.5 MPa'"),
    "force": ("N", "a force such as '45 klbf', '200 kN'"),
    "mass": ("kg", "a mass such as '1200 lb', '540 kg'"),
    "mass per length": ("kg/m", "a weight per length such as '29 lb/ft', '43.2 kg/m'"),
    "area": ("m**2", "an area such as '9.62 in2', '62 cm2'"),
    "volume": ("m**3", "a volume such as '30 bbl', '10 m3'"),
    "volume per mass": (
        "m**3/kg",
        "a volume per mass such as '1.15 ft3/sk', '5 gal/sk', '0.76 m3/t'",
    ),
    "flow": ("m**3/s", "a rate such as '6 bbl/min', '1.2 m3/min'"),
    "time": ("s", "a time such as '6 h', '45 min'"),
    "temperature": ("K", "a temperature such as '246 degF', '104 degC'"),
    "temperature gradient": ("K/m", "a gradient such as '0.03 K/m'"),
    "viscosity": ("Pa*s", "a viscosity such as '24 cP', '30 mPa*s'"),
    "stress": ("Pa", "a yield point such as '16 lbf/100ft2', '6 Pa'"),
    "dogleg": ("rad/m", "a dogleg severity such as '2.5 deg/30 m', '3 deg/100 ft'"),
    "ratio": ("", "a share such as '20 %', '0.25'"),
    "pressure gradient": ("Pa/m", "a gradient such as '0.10 psi/ft'"),
    "volume per stroke": ("m**3", "a pump output such as '0.1010 bbl/stroke'"),
    "torque": ("N*m", "a torque such as '12000 ft*lbf', '16 kN*m'"),
    "compressibility": ("1/Pa", "a compressibility such as '3e-6 1/psi'"),
    "speed": ("m/s", "a speed such as '200 ft/min'"),
    "permeability": ("m**2", "a permeability such as '5 mD'"),
}

# The units of nearly every well file, so that reading one does not load pint and with it numpy (three
# times the start-up of the whole command). Each is exact; a test holds every row against units.txt.
_TABLE: dict[str, tuple[str, float, float]] = {
    "m": ("m", 1.0, 0.0),
    "ft": ("m", FOOT_M, 0.0),
    "in": ("m", INCH_M, 0.0),
    "mm": ("m", 0.001, 0.0),
    "deg": ("rad", DEGREE_RAD, 0.0),
    "ppg": ("kg/m**3", POUND_KG / US_GALLON_M3, 0.0),
    "sg": ("kg/m**3", 1000.0, 0.0),
    "kg/m3": ("kg/m**3", 1.0, 0.0),
    "psi": ("Pa", PSI_PA, 0.0),
    "bar": ("Pa", 1e5, 0.0),
    "klbf": ("N", 1000 * POUND_FORCE_N, 0.0),
    "kN": ("N", 1000.0, 0.0),
    "lb": ("kg", POUND_KG, 0.0),
    "lb/ft": ("kg/m", POUND_KG / FOOT_M, 0.0),
    "kg/m": ("kg/m", 1.0, 0.0),
    "in2": ("m**2", INCH_M**2, 0.0),
    "cm2": ("m**2", 1e-4, 0.0),
    "bbl": ("m**3", BARREL_M3, 0.0),
    "m3": ("m**3", 1.0, 0.0),
    "ft3/sk": ("m**3/kg", FOOT_M**3 / SACK_KG, 0.0),
    "gal/sk": ("m**3/kg", US_GALLON_M3 / SACK_KG, 0.0),
    "bbl/min": ("m**3/s", BARREL_M3 / 60.0, 0.0),
    "m3/min": ("m**3/s", 1.0 / 60.0, 0.0),
    "h": ("s", 3600.0, 0.0),
    "min": ("s", 60.0, 0.0),
    "cP": ("Pa*s", 0.001, 0.0),
    "lbf/100ft2": ("Pa", POUND_FORCE_N / (100 * FOOT_M**2), 0.0),
    "Pa": ("Pa", 1.0, 0.0),
    "%": ("", 0.01, 0.0),
    "": ("", 1.0, 0.0),
    "bbl/stroke": ("m**3", BARREL_M3, 0.0),
    "m3/stroke": ("m**3", 1.0, 0.0),
    "psi/ft": ("Pa/m", PSI_PA / FOOT_M, 0.0),
    "bar/m": ("Pa/m", 1e5, 0.0),
    "MPa": ("Pa", 1e6, 0.0),
    "deg/m": ("rad/m", DEGREE_RAD, 0.0),
    "deg/ft": ("rad/m", DEGREE_RAD / FOOT_M, 0.0),
    "degC": ("K", 1.0, 273.15),
    "degF": ("K", 5 / 9, 233.15 + 200 / 9),
}


class UnitError(ValueError):
    """A text is not a quantity of the wanted dimension; says what was found, accepted and how to mend."""

    def __init__(self, found: str, accepted: str, mend: str) -> None:
        super().__init__(f"{found!r}: expected {accepted}; {mend}")
        self.found, self.accepted, self.mend = found, accepted, mend


@dataclass(frozen=True, slots=True)
class Written:
    """A physical value as it was written, beside its SI value and, where given, its low and high."""

    text: str
    si: float
    low: float | None = None
    high: float | None = None

    @property
    def band(self) -> tuple[float, float]:
        """Low and high; the value itself where no band was written."""
        return (
            self.si if self.low is None else self.low,
            self.si if self.high is None else self.high,
        )


@cache
def registry() -> pint.UnitRegistry[float]:
    """The project's only registry, made of its own definitions."""
    import pint

    lines = Path(__file__).with_name("units.txt").read_text(encoding="utf-8").splitlines()
    unit_registry: pint.UnitRegistry[float] = pint.UnitRegistry(None, autoconvert_offset_to_baseunit=True)
    unit_registry.load_definitions(lines)
    return unit_registry


_MARKS = str.maketrans({"²": "2", "³": "3", "·": "*", "\u2033": '"', "\u2032": "'", "\u2212": "-"})
_SIGNS = str.maketrans(
    {
        "½": " 1/2",
        "¼": " 1/4",
        "¾": " 3/4",
        "⅛": " 1/8",
        "⅜": " 3/8",
        "⅝": " 5/8",
        "⅞": " 7/8",
        "\u2212": "-",
        "\u00a0": " ",
        "\u2009": " ",
        "\u202f": " ",
    }
)
_NUMBER = re.compile(
    r"""(?P<sign>[+-]?)(?:
        (?:(?P<whole>\d+)(?:[ ]+|-))?(?P<top>\d+)/(?P<bottom>\d+)        # 9 5/8, 9-5/8, 5/8
      | (?P<plain>\d{1,3}(?:[ ]\d{3})+(?:[.,]\d+)?                       # 12 590.0, 12 590,5
                |\d+(?:[.,]\d*)?(?:[eE][+-]?\d+)?|\.\d+)                 # 12590, 9.625, 12,6
    )""",
    re.VERBOSE | re.ASCII,
)
_COUNTED = re.compile(r"^(.*)/\s*(\d+(?:\.\d+)?)\s*([A-Za-z].*)$", re.ASCII)  # deg/30 m, lbf/100ft2
_BAND = re.compile(r"\s*(?:\+/-|±|\+-)\s*")
# Words joined by signs, each with a power of one digit: pint works out whatever arithmetic it is given,
# and 9**9**9 does not end.
_WORDS = re.compile(r"(?:1/)?[A-Za-zµ_]+(?:\*\*-?[1-9])?(?:[*/ ][A-Za-zµ_]+(?:\*\*-?[1-9])?){0,7}")
_LONGEST_UNIT = 60  # characters
_LONGEST_QUANTITY = 100  # the same; more digits than any depth needs


# units that people write in capitals or by another name; only a whole unit is taken for one of them
_SPELLED = {
    **{
        unit.upper(): unit
        for unit in ("ft", "in", "m", "mm", "ppg", "psi", "bar", "sg", "bbl", "klbf", "lb/ft")
    },
    "g/cc": "g/cm3",
    "kg/m^3": "kg/m3",
    "meters": "m",
    "metres": "m",
    "lbs/ft": "lb/ft",
}


def _tidy(unit_text: str) -> str:
    """One spelling for the many ways a unit is typed."""
    unit = unit_text.strip().translate(_MARKS)
    unit = _SPELLED.get(unit, unit)
    if unit in ('"', "in.", "inch", "inches"):
        return "in"
    if unit in ("'", "feet", "ft."):
        return "ft"
    if unit in ("%", ""):
        return unit
    unit = unit.replace("°C", "degC").replace("°F", "degF").replace("°", "deg")
    return re.sub(r"\s*([*/])\s*", r"\1", unit)


@cache
def _factor(unit_text: str, dimension: str) -> tuple[float, float] | str:
    """Scale and offset from a unit to SI, or the reason why there is none."""
    si_unit = DIMENSIONS[dimension][0]
    unit = _tidy(unit_text)
    share = 1.0
    if unit not in _TABLE and (counted := _COUNTED.match(unit)) and float(counted[2]) > 0.0:
        share, unit = 1.0 / float(counted[2]), f"{counted[1]}/{counted[3]}"
    if unit in _TABLE and _TABLE[unit][0] == si_unit:
        return _TABLE[unit][1] * share, _TABLE[unit][2] * share
    expression = re.sub(r"([A-Za-z])([23])\b", r"\1**\2", unit.replace("%", "percent").replace("^", "**"))
    if len(unit) > _LONGEST_UNIT or not _WORDS.fullmatch(expression):
        return f"{unit_text.strip()[:_LONGEST_UNIT]!r} is not a unit"
    import pint

    try:
        quantity = registry().Quantity
        zero = float(quantity(0.0, expression).m_as(si_unit))
        one = float(quantity(1.0, expression).m_as(si_unit))
    except pint.DimensionalityError:
        return f"{unit_text.strip()!r} measures something else"
    except Exception:
        # pint's parser has many ways to fail on text that is no unit; all mean the same to the writer
        return f"{unit_text.strip()!r} is not a unit known here"
    return (one - zero) * share, zero * share


def _split(text: str) -> tuple[float, str]:
    """Number and unit text of one quantity; raises ValueError with the reason."""
    clean = text.translate(_SIGNS).strip()
    if len(clean) > _LONGEST_QUANTITY:
        raise ValueError("it is too long for a number with its unit")
    match = _NUMBER.match(clean)
    if match is None:
        raise ValueError("it does not begin with a number")
    if match["plain"] is None:
        if int(match["bottom"]) == 0:
            raise ValueError("a fraction of nought")
        number = float(int(match["whole"] or 0) + Fraction(int(match["top"]), int(match["bottom"])))
    else:
        digits = match["plain"].replace(" ", "")
        if "," in digits:
            if re.fullmatch(r"\d{1,3},\d{3}", digits):
                raise ValueError("a comma before three digits reads as thousands here and as decimals there")
            digits = digits.replace(",", ".")
        number = float(digits)
    return (-number if match["sign"] == "-" else number), clean[match.end() :].strip()


def parse(text: str, dimension: str) -> Written:
    """Read a quantity as people write it: number, unit and, if given, a tolerance.

    Trade fractions (``9 5/8 in``, ``9-5/8"``, ``9⅝ in``), thin or plain spaces between thousands, a decimal
    comma where it cannot be taken for thousands, ``+/- 10 %`` or ``± 50 psi``. A number without a unit is
    refused except for a share of at most 1.

    Raises
    ------
    UnitError
        With what was found, what is accepted and how to mend it.

    Examples
    --------
    >>> parse("9 5/8 in", "length").si
    0.244475
    >>> round(parse("1 bbl", "volume").si, 9)
    0.158987295
    >>> parse("1500 psi +/- 5 %", "pressure").band[0] == 0.95 * parse("1500 psi", "pressure").si
    True
    """
    accepted = DIMENSIONS[dimension][1]
    example = accepted[accepted.index("'") :].split("'")[1]
    nominal_text, *band_text = _BAND.split(text, maxsplit=1)
    try:
        number, unit = _split(nominal_text)
    except ValueError as reason:
        raise UnitError(text, accepted, f"{reason}; write it like '{example}'") from None
    if not unit and (dimension != "ratio" or abs(number) > 1.0):
        raise UnitError(text, accepted, f"a number without a unit: write the unit, like '{example}'")
    scaled = _factor(unit, dimension)
    if isinstance(scaled, str):
        raise UnitError(text, accepted, f"{scaled}; write it like '{example}'")
    scale, offset = scaled
    value = number * scale + offset
    if not abs(value) < 1e15:
        raise UnitError(text, accepted, "the number is too large to mean anything")
    if not band_text:
        return Written(text, value)
    try:
        half, half_unit = _split(band_text[0])
        if half_unit == "%" and dimension in ("ratio", "temperature"):
            raise ValueError(
                f"of a {dimension} a percentage can be read two ways; write low, likely and high"
            )
        if half_unit == "%":
            spread = abs(value) * half / 100.0
        else:
            half_scaled = _factor(half_unit or unit, dimension)
            if isinstance(half_scaled, str):
                raise ValueError(half_scaled)
            spread = half * half_scaled[0]
        if not 0.0 <= spread < 1e15:
            raise ValueError("a tolerance is neither negative nor endless")
    except ValueError as reason:
        raise UnitError(text, accepted, f"the tolerance cannot be read: {reason}") from None
    return Written(text, value, value - spread, value + spread)


_LIKE = (  # examples of `DIMENSIONS` in field units, in metric ones
    ("8200 ft", "2500 m"),
    ("12.6 ppg", "1.38 sg"),
    ("1500 psi", "100 bar"),
    ("45 klbf", "200 kN"),
    ("1200 lb", "540 kg"),
    ("29 lb/ft", "43.2 kg/m"),
    ("30 bbl", "10 m3"),
    ("6 bbl/min", "1.2 m3/min"),
    ("246 degF", "104 degC"),
    ("3 deg/100 ft", "2.5 deg/30 m"),
)


def like_in(mend: str, system: System) -> str:
    """How a quantity is mended, with the example of `parse` in the units of a system.

    >>> like_in("write the unit, like '2500 m'", "field")
    "write the unit, like '8200 ft'"
    """
    for field, metric in _LIKE:
        other, own = (metric, field) if system == "field" else (field, metric)
        mend = mend.replace(f"like '{other}'", f"like '{own}'")
    return mend


def with_unit(text: str, unit: str, dimension: str) -> str:
    """A quantity as it was typed, a number alone with the unit behind it.

    Raises
    ------
    UnitError
        As `parse`, which reads what is given back.
    """
    try:
        bare = not _split(text)[1]
    except ValueError:
        bare = False
    written = f"{text.strip()} {unit}".rstrip() if bare else text.strip()
    parse(written, dimension)
    return written


def to_unit(value_si: float, unit: str, dimension: str) -> float:
    """An SI value in another unit of its dimension."""
    scale, offset = _scaled(unit, dimension)
    return (value_si - offset) / scale


def _scaled(unit: str, dimension: str) -> tuple[float, float]:
    """Scale and offset from a unit to SI; ValueError where it is none of the dimension."""
    scaled = _factor(unit, dimension)
    if isinstance(scaled, str):
        raise ValueError(scaled)
    return scaled


class Print(NamedTuple):
    """How one kind of figure is printed in one system: unit, decimals, trailing noughts dropped?"""

    unit: str
    decimals: int
    trim: bool = False


KINDS: dict[str, tuple[str, Print, Print]] = {
    # kind: (dimension, field, metric); precision as the trade prints it
    "depth": ("length", Print("ft", 1, True), Print("m", 2, True)),
    "tally": ("length", Print("ft", 1), Print("m", 2)),
    "tvd": ("length", Print("ft", 0), Print("m", 1)),
    "ruler": ("length", Print("ft", 0), Print("m", 0)),  # a scale beside a drawing, not a figure to use
    "length": ("length", Print("ft", 1), Print("m", 2)),
    "diameter": ("length", Print("in", 3), Print("mm", 1)),
    "gap": ("length", Print("in", 3), Print("mm", 1)),
    "area": ("area", Print("in2", 2), Print("cm2", 2)),
    "volume": ("volume", Print("bbl", 1), Print("m3", 2)),
    "rate": ("flow", Print("bbl/min", 1), Print("m3/min", 2)),
    "stroke": ("volume per stroke", Print("bbl/stroke", 4), Print("m3/stroke", 5)),
    "density": ("density", Print("ppg", 1), Print("sg", 2)),
    "emw": ("density", Print("ppg", 2), Print("sg", 3)),
    "pressure": ("pressure", Print("psi", 0), Print("bar", 1)),
    "stress": ("pressure", Print("psi", -2), Print("MPa", 0)),
    "force": ("force", Print("klbf", 1), Print("kN", 0)),
    "torque": ("torque", Print("ft*lbf", -2), Print("kN*m", 1)),
    "mass": ("mass", Print("lb", 0), Print("kg", 0)),
    "weight": ("mass per length", Print("lb/ft", 2, True), Print("kg/m", 1)),
    "angle": ("angle", Print("deg", 2, True), Print("deg", 2, True)),
    "inclination": ("angle", Print("deg", 1, True), Print("deg", 1, True)),  # beside the depths of a drawing
    "dogleg": ("dogleg", Print("deg/100 ft", 2, True), Print("deg/30 m", 2, True)),
    "temperature": ("temperature", Print("degF", 0), Print("degC", 0)),
    "percent": ("ratio", Print("%", 0), Print("%", 0)),
    "share": ("ratio", Print("%", 1, True), Print("%", 1, True)),
    "yield": ("volume per mass", Print("ft3/sk", 2), Print("m3/t", 3)),
    "water": ("volume per mass", Print("gal/sk", 2), Print("m3/t", 3)),
    "viscosity": ("viscosity", Print("cP", 0), Print("cP", 0)),
    "yield point": ("stress", Print("lbf/100ft2", 0), Print("Pa", 1)),
    "time": ("time", Print("h", 1), Print("h", 1)),
    "minutes": ("time", Print("min", 0), Print("min", 0)),
    "speed": ("speed", Print("ft/min", 0), Print("m/min", 0)),
    "count": ("ratio", Print("", 0), Print("", 0)),
    "tonnes": ("ratio", Print("", 1), Print("", 1)),
}


def _style(kind: str, system: System) -> Print:
    _dimension, field, metric = KINDS[kind]
    return field if system == "field" else metric


def unit_of(kind: str, system: System) -> str:
    """The unit in which a kind of figure is printed."""
    return _style(kind, system).unit


def in_system(value_si: float, kind: str, system: System) -> float:
    """An SI value in the unit in which its kind is printed, not rounded."""
    return to_unit(value_si, unit_of(kind, system), KINDS[kind][0])


# A half is rounded up, as spreadsheets do, even where its float lies below: after a way to metres and back.
_HALVES_UP = 1.0 + 5e-12


def number(value_si: float, kind: str, system: System, thousands: str = "") -> str:
    """An SI value as printed digits without the unit.

    The same quantity reads the same wherever it is printed. Halves are rounded up, as the trade and every
    spreadsheet do: 12 1/4 in is 311.15 mm and prints as 311.2. Volumes under 10 bbl get a second decimal,
    since a shoe track of 4.67 bbl is not 4.7.
    """
    scale, offset, decimals, trim = _printing(kind, system)
    value = (value_si - offset) / scale * _HALVES_UP
    decimals = _decimals(value, kind, system, decimals)
    digits = f"{value:,.{decimals}f}" if decimals >= 0 else f"{round(value, decimals):,.0f}"
    if trim and "." in digits:
        digits = digits.rstrip("0").rstrip(".")
    if digits[0] == "-" and not digits.strip("-0.,"):
        digits = digits[1:]  # no minus nought
    return digits.replace(",", thousands)


def _decimals(value: float, kind: str, system: System, decimals: int) -> int:
    """The decimals of a figure in its printed unit: small volumes in barrels get a second one."""
    return 2 if kind == "volume" and system == "field" and abs(value) < 9.995 else decimals


@cache
def _printing(kind: str, system: System) -> tuple[float, float, int, bool]:
    """Scale and offset from the printed unit of a kind to SI, its decimals, trailing noughts dropped?"""
    style = _style(kind, system)
    return *_scaled(style.unit, KINDS[kind][0]), style.decimals, style.trim


def half_digit(kind: str, system: System, value_si: float = math.inf) -> float:
    """Half the last digit of a kind of figure as it is printed, in SI: what its rounding may hide. A small
    volume has a digit more, so that the figure itself is asked for too.
    """
    scale, offset, decimals, _trim = _printing(kind, system)
    decimals = _decimals((value_si - offset) / scale, kind, system, decimals)
    return float(0.5 * 10.0**-decimals * scale)


def printed_within(value_si: float, kind: str, system: System, way: int) -> float:
    """A bound at a digit that is printed, in SI: no less than the value where *way* is 1, no more where -1.

    Rounded to the nearest digit, what is printed as the most that may be would be too much at times.
    """
    digit = 2.0 * half_digit(kind, system)
    count = value_si / digit
    return digit * (math.ceil(count - 1e-6) if way > 0 else math.floor(count + 1e-6))


def show(value_si: float, kind: str, system: System, thousands: str = "") -> str:
    """An SI value as printed text with its unit."""
    unit = unit_of(kind, system)
    space = "" if unit == "%" else " "
    return f"{number(value_si, kind, system, thousands)}{space}{unit}".rstrip()


def inch_name(length_m: float) -> str | None:
    """The customary inch size ("9 5/8"), or None when the length is no eighth or sixteenth of an inch."""
    sixteenths = length_m / INCH_M * 16
    if abs(sixteenths - round(sixteenths)) > 0.016 or sixteenths < 0.5:
        return None
    whole, rest = divmod(round(sixteenths), 16)
    if not rest:
        return str(whole)
    part = Fraction(rest, 16)
    return f"{whole} {part}" if whole else str(part)


def size(length_m: float, system: System) -> str:
    """A pipe or bit size: the customary inch name where there is one, else a diameter."""
    name = inch_name(length_m)
    return f"{name} in" if name else show(length_m, "diameter", system)


def sentence_case(text: str) -> str:
    """A text with a capital at its beginning, the rest as it is."""
    return text[:1].upper() + text[1:]
