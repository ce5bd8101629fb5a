"""Steel grades and casing connections: how people spell them, and what a grade yields at.

A grade outside the table is kept as it was written and its yield is unknown, never guessed.
"""

import difflib
import re

from schematic.catalogue.rows import BUTTRESS, ROUND_THREAD, SPECIAL_CLEARANCE
from schematic.units import PSI_PA

# Minimum yield strength in ksi. Casing: API Spec 5CT / ISO 11960, from memory; every type of a
# grade (L-80 1, 9Cr, 13Cr; N-80 1, Q) has the yield of its grade. Drill pipe: API Spec 5DP, from
# memory.
MINIMUM_YIELD_KSI = {
    "H-40": 40, "J-55": 55, "K-55": 55, "M-65": 65, "C-75": 75, "N-80": 80, "L-80": 80, "C-90": 90,
    "T-95": 95, "C-95": 95, "R-95": 95, "C-110": 110, "P-110": 110, "Q-125": 125,
    "E-75": 75, "X-95": 95, "G-105": 105, "S-135": 135,
}  # fmt: skip

# letters where a grade has digits: P-11O, L-8O, S-I35
_SLIP = re.compile(r"[A-Z][ -]?(?=[OIl]*[0-9])[0-9OIl]{2,4}", re.IGNORECASE)
_NEAR = 0.8  # how alike a word and a grade are, at least, for the one to be a slip of the other

# a grade with its type, then any steel named by letters and digits: X-52, 13Cr, 13Cr-110
_GRADE = re.compile(
    r"(?<![\w/-])(?P<letter>[A-Z])[ -]?(?P<number>[0-9]{2,3})"
    r"(?:(?:[ -]|\ type\ |(?=Q))(?P<type>1|Q|9Cr|13Cr))?(?![\w/]|\.[0-9])",
    re.IGNORECASE,
)
_OTHER_STEEL = re.compile(r"(?<![\w/-])(?:[0-9]{1,2}Cr(?:-?[0-9]{2,3})?)(?![\w/])", re.IGNORECASE)
_TYPES = {"1": "1", "q": "Q", "9cr": "9Cr", "13cr": "13Cr"}
_TYPED = re.compile(r"(?:L-80 (?:1|9Cr|13Cr)|N-80 (?:1|Q))")

_CONNECTIONS = (  # the first that is written wins: the longer words stand before those they contain
    (SPECIAL_CLEARANCE, r"special clearance(?: buttress| coupling)?|buttress special clearance|"
                        r"BTC[- ]?SC|SCBTC"),
    (BUTTRESS, r"buttress(?: thread)?|BTC"),
    (ROUND_THREAD, r"(?:short or long|short|long) round(?: thread)?|round thread|STC|LTC"),
)  # fmt: skip


def minimum_yield_pa(grade: str | None) -> float | None:
    """Minimum yield strength of a grade in Pa, or None when it is not in the table.

    Source: API Spec 5CT and API Spec 5DP, from memory.

    >>> round(minimum_yield_pa("L-80 13Cr") / 6894.757)
    80000
    >>> minimum_yield_pa("X-52") is None
    True
    """
    if grade is None:
        return None
    base = grade.split(" ")[0] if _TYPED.fullmatch(grade) else grade
    ksi = MINIMUM_YIELD_KSI.get(base)
    return None if ksi is None else ksi * 1000 * PSI_PA


def take_grade(text: str) -> tuple[str | None, str]:
    """Grade written in *text* in its canonical spelling, and the text without it.

    >>> take_grade("l80 13cr BTC")
    ('L-80 13Cr', 'BTC')
    """
    matches = list(_GRADE.finditer(text))
    for match in matches:
        spelled = f"{match['letter'].upper()}-{match['number']}"
        if spelled in MINIMUM_YIELD_KSI:
            steel = _TYPES[match["type"].lower()] if match["type"] else ""
            return f"{spelled} {steel}".strip(), _without(text, match)
    other = matches[0] if matches else _OTHER_STEEL.search(text)
    return (other[0], _without(text, other)) if other else (None, text.strip())


def slip_of_grade(words: str) -> tuple[str, tuple[str, ...]] | None:
    """A word that was meant as a grade and is none, with the grades that it is nearest to.

    A grade with more letters behind it (P-110HC) is somebody's own name of a steel, no slip.

    >>> slip_of_grade("P-11O")
    ('P-11O', ('P-110',))
    >>> slip_of_grade("P-110HC seamless") is None
    True
    """
    for word in re.split(r"[\s,;]+", words):
        if not word or re.match(r"(?:" + "|".join(MINIMUM_YIELD_KSI) + r")[A-Z]", word.upper()):
            continue
        meant = word.upper()
        if _SLIP.fullmatch(word):
            meant = meant[0] + meant[1:].translate(str.maketrans("OIL", "011"))
            meant = meant if "-" in meant else f"{meant[0]}-{meant[1:].strip()}"
        near = tuple(difflib.get_close_matches(meant, MINIMUM_YIELD_KSI, 3, _NEAR))
        if _SLIP.fullmatch(word) or near:
            return word, near[:1] if meant in near else near
    return None


def take_connection(text: str) -> tuple[str | None, str]:
    """Casing connection written in *text*, as the casing rows key it, and the text without it.

    >>> take_connection("BTC, tight")
    ('buttress', 'tight')
    """
    for connection, spellings in _CONNECTIONS:
        if match := re.search(rf"(?<!\w)(?:{spellings})(?!\w)", text, re.IGNORECASE):
            return connection, _without(text, match)
    return None, text.strip()


def _without(text: str, match: re.Match[str]) -> str:
    """Text without the match and without the commas that stood around it."""
    parts = (text[: match.start()].strip(" ,;"), text[match.end() :].strip(" ,;"))
    return " ".join(part for part in parts if part)
