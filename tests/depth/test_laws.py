"""Laws that hold for every well: volumes add up, cement reaches what it fills, a unit changes nothing."""

from __future__ import annotations

import math
import random
import re
from functools import cache
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schematic import check, resolve
from schematic.catalogue.limits import DIMENSIONS as LIMITS
from schematic.depth.by_depth import by_depth
from schematic.export import tables
from schematic.outcome import meets, sentence
from schematic.units import DIMENSIONS, parse, to_unit
from schematic.verbs import demos, load_text
from tests.drawing.generated import COUNT, MANY_PARTS, text_of

FT = 0.3048
SHARE = st.floats(0.0, 1.0)
SEEDS = st.sampled_from([seed for seed in range(COUNT) if seed not in MANY_PARTS])


@cache
def generated(seed: int):
    return check(load_text(text_of(seed)))


# volumes


@st.composite
def long_profiles(draw):
    """Areas between hundreds of depths, as a caliper log has them; integrals of such are looked up."""
    lengths = draw(st.lists(st.floats(0.01, 5.0), min_size=40, max_size=300))
    areas = draw(st.lists(st.floats(1e-3, 0.3), min_size=len(lengths), max_size=len(lengths)))
    depths = [draw(st.floats(0.0, 6000.0))]
    for length in lengths:
        depths.append(depths[-1] + length)
    return by_depth(depths, areas)


@given(long_profiles(), SHARE, SHARE, SHARE)
def test_volumes_of_adjacent_intervals_of_a_long_profile_add_up_and_grow(area, one, two, three):
    top, middle, bottom = sorted(
        area.top_m + share * (area.bottom_m - area.top_m) for share in (one, two, three)
    )

    upper, lower, whole = (
        area.integral(top, middle),
        area.integral(middle, bottom),
        area.integral(top, bottom),
    )

    assert upper + lower == pytest.approx(whole, rel=1e-9, abs=1e-9)
    assert min(upper, lower) >= 0.0
    assert whole >= max(upper, lower) - 1e-9
    by_step = math.fsum(value * (low - high) for high, low, value in area.clip(top, bottom).steps())
    assert whole == pytest.approx(by_step, rel=1e-9, abs=1e-9)


@given(long_profiles(), SHARE, SHARE)
def test_what_fills_a_long_profile_up_to_a_depth_reaches_that_depth(area, one, other):
    top, foot = sorted(area.top_m + share * (area.bottom_m - area.top_m) for share in (one, other))

    assert area.reach_up(area.integral(top, foot), foot) == pytest.approx(top, abs=1e-6)


@given(SEEDS, SHARE, SHARE, SHARE)
def test_volumes_beside_a_liner_add_up_and_grow_whatever_stands_around_it(seed, one, two, three):
    beside = generated(seed).volumes.beside_m2
    length = beside.bottom_m - beside.top_m
    top, middle, bottom = sorted(beside.top_m + share * length for share in (one, two, three))

    upper, lower = beside.integral(top, middle), beside.integral(middle, bottom)

    assert upper >= 0.0
    assert lower >= 0.0
    assert upper + lower == pytest.approx(beside.integral(top, bottom), rel=1e-9, abs=1e-9)
    assert beside.reach_up(lower, bottom) == pytest.approx(middle, abs=1e-5)


@pytest.mark.parametrize("seed", [seed for seed in range(COUNT) if seed % 4 == 0])
def test_the_spaces_beside_a_liner_leave_nothing_out_and_count_nothing_twice(seed):
    evaluation = generated(seed)
    liner = evaluation.plan.depth.liner
    beside = [s for s in evaluation.volumes.spaces if s.name in ("lap", "open hole")]

    assert [beside[0].top_md_m, *(s.bottom_md_m for s in beside)] == [
        *(s.top_md_m for s in beside),
        liner.shoe_md_m,
    ]
    assert math.fsum(s.m3 for s in beside) == pytest.approx(
        evaluation.volumes.beside_m2.integral(liner.top_md_m, liner.shoe_md_m), rel=1e-9
    )


BRINDLEWICK = demos()["brindlewick-4.yaml"]
PLANNED = "planned top: 9280 ft"


@settings(max_examples=30)
@given(st.floats(9485.0, 12500.0), st.floats(9485.0, 12500.0))
def test_a_higher_top_of_cement_takes_the_annulus_between_and_excess_on_its_open_hole(one_ft, other_ft):
    assert BRINDLEWICK.count(PLANNED) == 1
    high, low = sorted((round(one_ft, 2), round(other_ft, 2)))
    higher, lower = (
        check(load_text(BRINDLEWICK.replace(PLANNED, f"planned top: {ft} ft"))) for ft in (high, low)
    )

    more = higher.cement.total_m3 - lower.cement.total_m3

    beside, shoe_m = higher.volumes.beside_m2, higher.plan.depth.host.shoe_md_m
    in_open_hole = beside.integral(max(high * FT, shoe_m), max(low * FT, shoe_m))
    assert more == pytest.approx(beside.integral(high * FT, low * FT) + 0.2 * in_open_hole, abs=1e-7)
    assert more >= -1e-9


# depths

SKETCH = """\
lapline: 1
well: {{name: Any, datum: {{from: rotary table, above: mean sea level, height: 31 m}}}}
hole:
  - {{bit: 12 1/4 in, to: {host!r} m}}
  - {{bit: 8 1/2 in, to: {td!r} m}}
strings:
  - {{name: casing, pipe: 9 5/8 in 47 lb/ft L-80, shoe: {host!r} m}}
liner:
  pipe: 7 in 29 lb/ft P-110
  host: casing
"""
GROUPS = (("top", "lap"), ("shoe", "off bottom"), ("length",))
SUFFICIENT = [
    chosen
    for count in range(2, 6)
    for chosen in combinations([name for group in GROUPS for name in group], count)
    if sum(any(name in chosen for name in group) for group in GROUPS) >= 2
]
LENGTH_UNITS = {"m": 1.0, "ft": FT, "in": 0.0254, "km": 1000.0, "cm": 0.01}


@given(
    st.sampled_from(SUFFICIENT),
    st.lists(st.sampled_from(sorted(LENGTH_UNITS)), min_size=5, max_size=5),
    st.floats(800.0, 5000.0),
    st.floats(20.0, 500.0),
    st.floats(200.0, 3000.0),
    st.floats(0.5, 90.0),
)
def test_any_sufficient_set_of_depths_in_any_units_gives_one_plan(
    chosen, units, host, lap, below, off_bottom
):
    td = host + below
    top, shoe = host - lap, td - off_bottom
    metres = {"top": top, "lap": lap, "shoe": shoe, "length": shoe - top, "off bottom": off_bottom}
    lines = [
        f"  {name}: {metres[name] / LENGTH_UNITS[unit]!r} {unit}\n"
        for name, unit in zip(chosen, units, strict=False)
    ]

    plan = resolve(load_text(SKETCH.format(host=host, td=td) + "".join(lines)))

    assert plan.depth.liner.top_md_m == pytest.approx(top, abs=1e-6)
    assert plan.depth.liner.shoe_md_m == pytest.approx(shoe, abs=1e-6)
    assert plan.depth.liner.parts[0].top_md_m == pytest.approx(top, abs=1e-6)
    assert plan.misfits == ()


# units

UNITS = {
    "length": ("ft", "m", "in", "mm", "cm"),
    "density": ("ppg", "sg", "kg/m3"),
    "pressure": ("psi", "bar", "MPa"),
    "force": ("klbf", "kN"),
    "volume": ("bbl", "m3"),
    "flow": ("bbl/min", "m3/min"),
    "mass": ("lb", "kg"),
    "mass per length": ("lb/ft", "kg/m"),
    "ratio": ("%", ""),
    "time": ("h", "min"),
    "dogleg": ("deg/100 ft", "deg/30 m"),
    "angle": ("deg", "rad"),
    "temperature": ("degF", "degC"),
    "volume per mass": ("ft3/sk", "m3/t"),
}


def rewritten(number: str, unit: str, other: str, dimension: str) -> str:
    """The same quantity in another unit, with all its digits."""
    return f"{to_unit(parse(f'{number} {unit}', dimension).si, other, dimension)!r} {other}".rstrip()


@given(
    st.sampled_from([(d, a, b) for d, units in UNITS.items() for a in units for b in units]),
    st.integers(1, 100_000),
)
def test_a_limit_in_one_unit_is_met_by_the_same_quantity_in_any_other(kind, thousandths):
    dimension, one, other = kind
    number = f"{thousandths / 1000 if dimension != 'ratio' else thousandths / 100_000}"

    limit = parse(f"{number} {one}", dimension).si
    value = parse(rewritten(number, one, other, dimension), dimension).si

    for at_least in (True, False):
        assert meets(value, limit, at_least=at_least)
        assert meets(limit, value, at_least=at_least)
    scale = max(abs(limit), 1e-9)
    assert not meets(limit - 1e-6 * scale, limit, at_least=True)
    assert not meets(limit + 1e-6 * scale, limit, at_least=False)


def test_every_limit_of_a_profile_is_of_a_dimension_tried_here():
    assert {dimension for dimension in LIMITS.values() if dimension in DIMENSIONS} <= set(UNITS)


@given(
    st.integers(3000, 50_000),
    st.sampled_from([(a, b) for a in ("ft", "m", "in") for b in ("ft", "m", "cm", "in")]),
    st.sampled_from(["exact", "short"]),
)
def test_a_lap_of_exactly_the_least_passes_in_whatever_units_both_are_written(hundredths_m, units, how):
    of_limit, of_lap = units
    metres = hundredths_m / 100
    lap = metres if how == "exact" else metres * (1 - 1e-6)
    text = SKETCH.format(host=2840.0, td=3964.0) + (
        f"  off bottom: 2 m\n  lap: {rewritten(repr(lap), 'm', of_lap, 'length')}\n"
        f"limits:\n  least lap: {rewritten(repr(metres), 'm', of_limit, 'length')}\n  greatest lap: 2000 m\n"
    )

    found = [o for o in check(load_text(text)).findings if o.rule == "lap-outside-limits"]

    assert len(found) == (how == "short")


DIMENSION_OF = {unit: d for d in ("length", "density", "pressure", "force", "volume", "mass", "mass per length") for unit in UNITS[d]}  # fmt: skip
TWIN = {"ft": "m", "m": "ft", "in": "mm", "mm": "in", "ppg": "kg/m3", "sg": "ppg", "kg/m3": "sg", "psi": "bar", "bar": "psi",
        "MPa": "psi", "klbf": "kN", "kN": "klbf", "bbl": "m3", "m3": "bbl", "lb/ft": "kg/m", "kg/m": "lb/ft", "lb": "kg"}  # fmt: skip
# a quantity that is all of a value, so that no name of a pipe and no remark is rewritten; a tolerance may follow;
# not 'each', an average whose decimals say in their unit how well it is known
QUANTITY = re.compile(
    rf"(?<!each: )(?<=: |, |.\[)(?P<number>\d+(?:\.\d+)?) (?P<unit>{'|'.join(map(re.escape, TWIN))})(?=[,}}\]\n]| \+/- \d+ %)"
)


def answers(evaluation) -> list[tuple[str, str, str]]:
    return [(o.rule, o.subject.path, type(o.answer).__name__) for o in evaluation.outcomes]


def printed(evaluation, system) -> str:
    """All tables and all findings, as they are printed."""
    made = (tables.as_text(table, system) for table in tables.tables(evaluation))
    found = (
        sentence(text, o.answer.figures, system)
        for o in evaluation.findings
        for text in (o.answer.headline, o.answer.what, o.answer.mend)
    )
    return "\n".join((*made, *found))


MIXTURES = [(file, share) for file in sorted(demos()) for share in (1.0, 0.5, 0.2)]


@pytest.mark.parametrize(("file", "share"), MIXTURES)
def test_what_is_computed_and_printed_does_not_depend_on_the_units_of_the_file(file, share):
    """All quantities of a file, half of them, a fifth of them in another unit; both unit systems out."""
    written, dice = demos()[file], random.Random(f"{file} {share}")

    def other(match: re.Match[str]) -> str:
        if dice.random() >= share:
            return match[0]
        unit = match["unit"]
        return rewritten(match["number"], unit, TWIN[unit], DIMENSION_OF[unit])

    text = QUANTITY.sub(other, written)
    ours, theirs = check(load_text(written, file)), check(load_text(text, file))

    assert text != written
    assert answers(theirs) == answers(ours)
    for system in ("field", "metric"):
        assert printed(theirs, system) == printed(ours, system)
