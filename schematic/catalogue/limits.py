"""Limits as data: dated profiles, each figure with its owner, its source and the way its owner writes it.

Where an owner writes one figure in feet and another in metres, both stand here, each for the wells that show
those units: 100 ft is 30.48 m, not 30 m. What is written in one unit only keeps it; a sheet in others has
its own behind it in brackets. Local rules, the operator's procedures and the makers' data sheets
go before all of them.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from schematic.outcome import Limit
from schematic.units import System, parse, show, unit_of

_TWICE = ("length", "gap", "pressure", "force")  # kinds that are told in the units of the sheet as well
_GAP_M = 0.3  # a shorter length is one across the well
PRACTICE = "common practice"
DATED = "2026-11"


class Row(NamedTuple):
    """A limit: what it measures, its figure in field and in metric wells, whose it is and where it stands."""

    dimension: str
    field: str
    metric: str
    owner: str
    source: str


def _practice(dimension: str, field: str, metric: str, source: str) -> Row:
    return Row(dimension, field, metric, PRACTICE, source)


# Common practice of the trade has no single owner; each row is a setting, not a law.
COMMON_PRACTICE: Mapping[str, Row] = MappingProxyType(
    {
        "least lap": _practice("length", "100 ft", "30 m", "the least that several rules ask for"),
        "greatest lap": _practice("length", "300 m", "300 m", "usual laps are 200 to 500 ft, 60 to 150 m"),
        "least cemented lap": _practice("length", "100 ft", "30 m", "the length that seals"),
        "least coupling distance": _practice("length", "5 ft", "1.5 m", "slips need plain pipe body"),
        "tally closure": _practice("length", "0.1 ft", "0.03 m", "sum of the parts against shoe less top"),
        "running string closure": _practice("length", "1 ft", "0.3 m", "two ways to the liner top"),
        "depth agreement": _practice("length", "1 ft", "0.3 m", "depths that are meant to be one"),
        "tvd agreement": _practice("length", "0.5 m", "0.5 m", "or 0.1 % of the depth if that is more"),
        "greatest projection": _practice("length", "100 ft", "30 m", "the last station is behind the bit"),
        "station spacing in curves": _practice("length", "100 ft", "30 m", "wider hides doglegs"),
        "station spacing in tangents": _practice("length", "300 ft", "90 m", "wider hides doglegs"),
        "greatest bend": _practice("dogleg", "20 deg/100 ft", "20 deg/30 m", "more than tools build"),
        "least gap to drift": _practice("length", "1/8 in", "3 mm", "debris, ovality, wear"),
        "least gap in hole": _practice("length", "1.0 in", "1.0 in", "on diameter; 1.5 in or 38 mm is good"),
        "least gap in hole at all": _practice("length", "0.5 in", "0.5 in", "on diameter"),
        "greatest depth over permit": Row(
            "length", "100 ft", "100 ft", "30 CFR 250.428(b), older edition", f"of true depth; read {DATED}"
        ),
        "greatest rathole": _practice("length", "33 ft", "10 m", "usual is 3 to 16 ft, 1 to 5 m"),
        "least shoe track": _practice("length", "60 ft", "18 m", "room for contaminated cement"),
        "greatest shoe track": _practice("length", "200 ft", "60 m", "time to drill it out"),
        "shortest average joint": _practice("length", "36 ft", "11 m", "range 3; API 5CT, from memory"),
        "longest average joint": _practice("length", "48 ft", "14.6 m", "range 3; API 5CT, from memory"),
        "greatest dogleg at hanger": _practice(
            "dogleg", "3 deg/100 ft", "3 deg/30 m", "uneven load on slips, eccentric packer"
        ),
        "least wall left": _practice(
            "ratio", "87.5 %", "87.5 %", "the wall tolerance of API 5CT, from memory"
        ),
        "greatest caliper over gauge": _practice("ratio", "30 %", "30 %", "of annulus volume"),
        "temperature that wants silica": _practice(
            "temperature", "230 degF", "110 degC", "neat cement loses strength above it"
        ),
        "least silica": _practice("ratio", "35 %", "35 %", "of cement by weight"),
        "greatest cement above liner top": _practice("length", "500 ft", "150 m", "before the string sticks"),
        "over-displacement share": _practice("ratio", "50 %", "50 %", "of the shoe track"),
        "least pump efficiency": _practice("ratio", "94 %", "94 %", "usual is 94 to 98 %"),
        "greatest pump efficiency": _practice("ratio", "98 %", "98 %", "usual is 94 to 98 %"),
        "least ball clearance": _practice("length", "1/8 in", "3 mm", "to every bore above its seat"),
        "least seat overlap": _practice("length", "1/8 in", "3 mm", "ball less seat bore, on diameter"),
        "least seat ratio": _practice("ratio", "80 %", "80 %", "seat bore over ball"),
        "greatest seat ratio": _practice("ratio", "95 %", "95 %", "seat bore over ball"),
        "least bypass": _practice("ratio", "20 %", "20 %", "area past the hanger over area beside the body"),
        "least trip margin": _practice("density", "0.2 ppg", "0.02 sg", "mud over the highest pore pressure"),
        "least fracture margin": _practice(
            "density", "0.2 ppg", "0.03 sg", "mud at rest under the weakest point"
        ),
        "least density step": _practice("density", "0.3 ppg", "0.036 sg", "mud, spacer, lead, tail"),
        "least crossover distance": _practice("length", "50 ft", "15 m", "above an upper liner top"),
        "least slick joint travel": _practice(
            "length", "4 ft", "1.2 m", "to prove the release; 4 to 12 ft, 1.2 to 3.7 m"
        ),
        "least gap of bands": _practice("pressure", "300 psi", "20 bar", "between one event and the next"),
        "greatest circulating share": _practice("ratio", "80 %", "80 %", "of the least that sets the hanger"),
        "greatest share of rating": _practice("ratio", "90 %", "90 %", "of burst and of makers' ratings"),
        "greatest share at bump": _practice("ratio", "80 %", "80 %", "of burst and of makers' ratings"),
        "least set-down margin": _practice("force", "10 klbf", "10 klbf", "set-down over pump-out"),
        "least hanger factor": _practice("ratio", "125 %", "125 %", "rating over load"),
        "least thickening margin": _practice("time", "1 h", "1 h", "over the job; 1 to 2 h"),
        "greatest gelled shortfall": _practice(
            "density", "0 ppg", "0 sg", "of a gelled column under the pore pressure"
        ),
        "schedule agreement": _practice(
            "ratio", "1 %", "1 %", "of what a schedule pumps with what it should"
        ),
        "greatest slow rate": _practice("flow", "3 bbl/min", "0.5 m3/min", "2 to 3 bbl/min is usual"),
        "least slow before plug": _practice("volume", "5 bbl", "0.8 m3", "5 to 10 bbl is usual"),
        "least slow before bump": _practice("volume", "10 bbl", "1.6 m3", "10 to 20 bbl is usual"),
        "recipe agreement": _practice("density", "0.2 ppg", "0.02 sg", "to which a slurry is mixed"),
        "greatest pressure drop": Row(
            "ratio", "10 %", "10 %", "30 CFR 250.721(f)", f"of a test in 30 min; read {DATED}"
        ),
        "least test hold": Row("time", "30 min", "30 min", "30 CFR 250.721(f)", f"of a test; read {DATED}"),
        "least test over fracture": Row(
            "pressure", "500 psi", "500 psi", "30 CFR 250.721(c)", f"at the shoe lapped into; read {DATED}"
        ),
        "least inflow hold": _practice("time", "30 min", "30 min", "30 to 60 min, heat told apart"),
        "least collapse factor": _practice("ratio", "110 %", "110 %", "collapse over load"),
        "least empty collapse factor": _practice("ratio", "100 %", "100 %", "the same, the liner empty"),
        "routine inflow": _practice("pressure", "500 psi", "500 psi", "a usual drawdown"),
        "test agreement": _practice("ratio", "1 %", "1 %", "of the pressure"),
        "least overpull": _practice(
            "force",
            "50 klbf",
            "50 klbf",
            "over the pick-up load; 50 to 100 klbf, 220 to 440 kN; API RP 7G, from memory",
        ),
        "least tension factor": _practice("ratio", "160 %", "160 %", "body yield over the load at rest"),
        "least slack-off weight": _practice("force", "10 klbf", "50 kN", "left on the hook beside the block"),
        "greatest share of sinusoidal load": _practice(
            "ratio", "100 %", "100 %", "pipe in sinusoidal buckling still passes weight on"
        ),
        "greatest share of helical load": _practice(
            "ratio", "100 %", "100 %", "pipe in helical buckling passes on less"
        ),
        "least set-down factor": _practice("ratio", "120 %", "120 %", "what can arrive over what is wanted"),
        "greatest share of torque": _practice("ratio", "80 %", "80 %", "of the make-up torque"),
        "least weight signal": _practice("ratio", "10 %", "10 %", "of the hook load; less is easily missed"),
        "least isolation": _practice("length", "100 ft", "30 m", "between zones of different pressure"),
    }
)

# Two public rules as examples of profiles, read in a stored public copy in 2026; not legal advice. Each holds
# common practice for all that the rule does not set.
_CALIFORNIA = "California 14 CCR 1722.3(d), an example"
_QUEBEC = "Quebec M-13.1 r.1 s.27, an example"
PROFILES: Mapping[str, Mapping[str, Row]] = MappingProxyType(
    {
        PRACTICE: COMMON_PRACTICE,
        "california example": {
            **COMMON_PRACTICE,
            "least lap": Row("length", "100 ft", "100 ft", _CALIFORNIA, f"overlap of liners; read {DATED}"),
        },
        "quebec example": {
            **COMMON_PRACTICE,
            "least cement above shoe": Row(
                "length", "150 m", "150 m", _QUEBEC, f"cement above the shoe; read {DATED}"
            ),
            "least cement into host": Row(
                "length", "50 m", "50 m", _QUEBEC, f"cement into the previous casing; read {DATED}"
            ),
        },
    }
)
DIMENSIONS: Mapping[str, str] = MappingProxyType(
    {name: row.dimension for rows in PROFILES.values() for name, row in rows.items()}
)


# the lower and the upper limit of one quantity
PAIRS = (
    ("least lap", "greatest lap"),
    ("least shoe track", "greatest shoe track"),
    ("shortest average joint", "longest average joint"),
    ("least pump efficiency", "greatest pump efficiency"),
    ("least seat ratio", "greatest seat ratio"),
    ("least gap in hole at all", "least gap in hole"),
)


@cache
def profile(name: str, system: System) -> Mapping[str, Limit]:
    """The limits of a profile, each in the figure for wells that show these units."""
    limits = {}
    for limit, row in PROFILES[name].items():
        text = row.field if system == "field" else row.metric
        si = parse(text, row.dimension).si
        kind = "gap" if row.dimension == "length" and si < _GAP_M else row.dimension
        if row.field == row.metric and kind in _TWICE and not text.endswith(unit_of(kind, system)):
            text = f"{text} ({show(si, kind, system)})"
        limits[limit] = Limit(si, text, row.owner, row.source)
    return MappingProxyType(limits)
