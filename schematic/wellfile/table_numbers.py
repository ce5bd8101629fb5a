"""Numbers of a table: whether its commas part decimals or thousands, and what each text amounts to."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Literal

Comma = Literal["decimal", "thousands", "unclear"]

_LIKE_SPACES = str.maketrans({"\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2212": "-"})
_POINT = re.compile(r"[+-]?(?:\d{1,3}(?:[ ,]\d{3})+|\d+)?(?:\.\d*)?(?:[eE][+-]?\d{1,3})?", re.ASCII)
_COMMA = re.compile(
    r"[+-]?(?:\d{1,3}(?: \d{3})+|\d+)?(?:,\d*)?(?:[eE][+-]?\d{1,3})?"
    r"|[+-]?\d{1,3}(?:\.\d{3})+,\d+|[+-]?\d{1,3}(?:\.\d{3}){2,}",
    re.ASCII,
)
_NOT_THOUSANDS = re.compile(r"(?<!\d)0\d*,|,(?!\d{3}(?:\D|$))", re.ASCII)
_LONGEST = 40  # characters of a number


def meaning_of_comma(texts: Iterable[str]) -> Comma:
    """What a comma means in these numbers, taken together.

    >>> meaning_of_comma(["1,250", "12,5"]), meaning_of_comma(["1,250", "12.5"]), meaning_of_comma(["1,250"])
    ('decimal', 'thousands', 'unclear')
    """
    with_comma = False
    with_point = False
    for text in texts:
        point, comma = text.rfind("."), text.rfind(",")
        with_point = with_point or point >= 0
        if comma < 0:
            continue
        with_comma = True
        if point >= 0:
            return "decimal" if comma > point else "thousands"
        if _NOT_THOUSANDS.search(text):
            return "decimal"
    return "thousands" if with_point or not with_comma else "unclear"


def number(text: str, comma: Comma) -> float | None:
    """The number that a text is, or None when it is none, or when its comma is unclear.

    >>> number("12 590,5", "decimal"), number("12,590.5", "thousands"), number("12.590,5 m", "decimal")
    (12590.5, 12590.5, None)
    """
    clean = text.translate(_LIKE_SPACES).strip()
    pattern = _COMMA if comma == "decimal" else _POINT
    begins = re.match(r"[+-]?[.,]?\d", clean, re.ASCII)
    if len(clean) > _LONGEST or not begins or not pattern.fullmatch(clean):
        return None
    if comma == "unclear" and "," in clean:
        return None
    clean = clean.replace(" ", "")
    clean = clean.replace(".", "").replace(",", ".") if comma == "decimal" else clean.replace(",", "")
    value = float(clean)
    return value if abs(value) < 1e15 else None
