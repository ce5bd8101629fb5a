"""Setting pressures, datum and revisions as they are drawn."""

from __future__ import annotations

import pytest

from schematic import check
from schematic.drawing.datum_sketch import datum_sketch
from schematic.drawing.fills import Rect
from schematic.drawing.overlap import problems
from schematic.drawing.palette import BLUE
from schematic.drawing.pressure_bands import pressure_bands
from schematic.drawing.revision_table import revision_table
from schematic.drawing.scene import Path, Scene, Text
from schematic.verbs import load_text
from tests.drawing.torture import WELLS

RECT = Rect(8.0, 8.0, 74.0, 42.0)


def words(groups):
    return [shape.text for group in groups for shape in group.shapes if isinstance(shape, Text)]


def evaluated(text: str):
    return check(load_text(text))


@pytest.mark.parametrize("system", ["field", "metric"])
@pytest.mark.parametrize("name", WELLS)
def test_bands_datum_and_revisions_overlap_nothing(name, system):
    evaluation = evaluated(WELLS[name])
    for groups in (
        pressure_bands(evaluation, RECT, system),
        datum_sketch(evaluation, Rect(8.0, 8.0, 60.0, 34.0), system),
        revision_table(evaluation, Rect(8.0, 8.0, 202.0, 30.0)),
    ):
        assert problems(Scene(210.0, 60.0, "", "", tuple(groups))) == []


def test_bars_are_as_long_as_their_pressures():
    """The vertical demo well gives 1 425 to 1 575 psi for the hanger and 2 160 to 2 640 psi for the tool."""
    groups = pressure_bands(evaluated(WELLS["brindlewick"]), RECT, "field")
    bars = [s.runs[0] for g in groups for s in g.shapes if isinstance(s, Path) and s.style.fill == BLUE]
    widths = [max(x for x, _ in bar) - min(x for x, _ in bar) for bar in bars]
    starts = [min(x for x, _ in bar) for bar in bars]

    assert widths[1] / widths[0] == pytest.approx((2640 - 2160) / (1575 - 1425), rel=1e-6)
    assert (starts[1] - starts[0]) / widths[0] == pytest.approx((2160 - 1425) / 150, rel=1e-6)
    assert any("1\u2009425 to 1\u2009575, hold 1\u2009700" in word for word in words(groups))


def test_without_pressures_there_are_no_bands():
    assert pressure_bands(evaluated(WELLS["sketch"]), RECT, "metric") == []


def test_the_datum_tells_both_heights_onshore_and_offshore():
    onshore = words(datum_sketch(evaluated(WELLS["brindlewick"]), RECT, "field"))
    offshore = words(datum_sketch(evaluated(WELLS["sollivane"]), RECT, "metric"))

    assert {"Rotary table", "26 ft", "Ground", "1\u2009214 ft", "Mean sea level"} <= set(
        onshore
    )  # 1 240 less 1 214
    assert {"Rotary table", "32 m", "Mean sea level", "Seabed"} <= set(offshore)


def test_a_height_that_is_not_given_is_said_to_be_so():
    text = WELLS["brindlewick"].replace(", height: 1240 ft, ground height: 1214 ft", "")

    assert any("depth not given" in word for word in words(datum_sketch(evaluated(text), RECT, "field")))


def test_revisions_stand_newest_first_and_what_has_no_room_is_counted():
    one = "revision: {number: 9, date: 2026-11-20, by: R. Planner, note: lap lengthened}"
    many = (
        one
        + "\n  earlier revisions:\n"
        + "\n".join(
            f"    - {{number: {n}, date: 2026-10-{n:02d}, by: R. Planner, note: issue {n}}}"
            for n in range(1, 9)
        )
    )
    text = WELLS["brindlewick"]
    start, end = text.index("  revision:"), text.index("\nsurvey:")
    evaluation = evaluated(text[:start] + "  " + many + "\n" + text[end:])

    said = words(revision_table(evaluation, Rect(8.0, 8.0, 202.0, 30.0)))

    dates = [word for word in said if word.startswith("2026")]
    assert dates == sorted(dates, reverse=True)
    assert said[-1] == f"and {9 - len(dates)} earlier"
    assert len(evaluation.plan.identity.earlier) == 8


def test_no_revision_is_said_to_be_none():
    text = WELLS["brindlewick"]
    start, end = text.index("  revision:"), text.index("\nsurvey:")

    assert "no revision given" in words(revision_table(evaluated(text[:start] + text[end:]), RECT))
