"""Units as the heads of tables and logs spell them: any case, in full or short."""

from __future__ import annotations

import re
from functools import cache

from schematic.units import parse

_SPELLINGS = {
    # unit as `schematic.units` reads it: (dimension, how heads spell it, without spaces and full stops)
    "m": ("length", "m meter meters metre metres mtr mtrs"),
    "ft": ("length", "ft f feet foot '"),
    "ftUS": ("length", "ftus usft usfeet ussurveyfeet ussurveyft surveyfeet"),
    "in": ("length", 'in inch inches ins "'),
    "mm": ("length", "mm millimeter millimeters millimetre millimetres"),
    "cm": ("length", "cm centimeter centimeters centimetre centimetres"),
    "deg": ("angle", "deg degree degrees dega degs °"),
    "rad": ("angle", "rad radian radians"),
}
_UNITS = {
    spelling: (dimension, unit)
    for unit, (dimension, spellings) in _SPELLINGS.items()
    for spelling in spellings.split()
}


def unit_word(text: str, dimension: str) -> str | None:
    """The unit that a head means, or None when it is none of that dimension.

    >>> unit_word("INCH", "length"), unit_word("US ft", "length"), unit_word("GAPI", "length")
    ('in', 'ftUS', None)
    """
    found = _UNITS.get(re.sub(r"[\s._]+", "", text).casefold())
    return found[1] if found and found[0] == dimension else None


@cache
def factor(unit: str, dimension: str) -> float:
    """SI value of one *unit*."""
    return parse(f"1 {unit}", dimension).si
