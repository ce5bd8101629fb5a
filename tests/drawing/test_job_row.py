"""Setting pressures, datum and revisions as they are drawn."""

from __future__ import annotations

import pytest

from schematic import check
from schematic.drawing.comparison_page import plain_grid
from schematic.drawing.datum_sketch import datum_sketch, level_lines
from schematic.drawing.fills import Rect
from schematic.drawing.frame import frame
from schematic.drawing.grid import A4
from schematic.drawing.overlap import problems
from schematic.drawing.palette import BLUE, GREEN
from schematic.drawing.pressure_bands import pressure_bands
from schematic.drawing.revision_table import revision_table
from schematic.drawing.scene import Path, Scene, Text
from schematic.drawing.text import box_mm
from schematic.verbs import demos, load_text, sheet
from tests.drawing.torture import TOP, WELLS, changed

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


@pytest.mark.parametrize("scale", ["fitted", "true"])
@pytest.mark.parametrize("name", ["brindlewick", "sollivane"])
def test_the_static_column_is_named_with_its_state_beside_its_curve(name, scale):
    groups = [g for scene in sheet(evaluated(WELLS[name]), scale).scenes for g in scene.groups]
    track = next(g for g in groups if g.title.startswith("Pressure window"))
    curve = next(s for s in track.shapes if isinstance(s, Path) and s.style.stroke == GREEN).runs[0]
    word = next(s for s in track.shapes if isinstance(s, Text) and s.text == "static at end")
    left, top, right, bottom = box_mm(word)
    beside = [x for x, y in curve if top <= y <= bottom]

    assert beside
    assert max(beside) < left < max(beside) + 1.0 or min(beside) - 1.0 < right < min(beside)


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


def test_a_bump_without_its_final_pressure_says_what_is_missing():
    """The deviated demo well holds 70 bar over a final pressure that nobody gives."""
    said = words(pressure_bands(evaluated(WELLS["sollivane"]), RECT, "metric"))

    assert "final + 70, final not given" in said
    assert "bump" in said


def test_what_the_equipment_asks_for_and_the_file_leaves_out_is_not_given():
    text = WELLS["brindlewick"]
    for line in (
        "circulate up to: 1000 psi",
        "tool releases at: 2400 psi +/- 10 %",
        "final pressure: 750 psi",
    ):
        text = changed(text, (f"  {line}\n", ""))
    said = words(pressure_bands(evaluated(text), RECT, "field"))

    assert said[said.index("circulate") + 1] == "limit not given"
    assert said[said.index("tool releases") + 1] == "not given"
    assert said[said.index("bump") + 1] == "final + 1\u2009000, final not given"


def test_what_the_well_does_not_have_has_no_row():
    """No wiper plug, no row of it; a mechanical hanger sets by no pressure."""
    text = changed(
        WELLS["brindlewick"],
        ("    - {part: wiper plug}\n", ""),
        ("  plug releases at: 1400 psi +/- 10 %\n", ""),
        ("  final pressure: 750 psi\n", ""),
        ("  bump over final: 1000 psi\n", ""),
        ("name: hydraulic hanger", "name: mechanical hanger"),
        ("      sets at: 1500 psi +/- 5 %\n      held at: 1700 psi\n", ""),
    )
    said = words(pressure_bands(evaluated(text), RECT, "field"))

    assert {"plug releases", "bump", "hanger sets", "after the dart:"}.isdisjoint(said)


def test_packers_and_collars_that_move_by_pressure_stand_with_the_hanger():
    """Their bands as the file writes them: 130 bar +/- 5 % are 123.5 to 136.5, 170 bar +/- 10 % are 153 to 187."""
    said = words(pressure_bands(evaluated(demos()["ossmere-9.yaml"]), RECT, "metric"))

    assert said[said.index("external packer sets") + 1] == "123.5 to 136.5"
    assert said[said.index("stage collar opens") + 1] == "153 to 187"


def test_more_rows_than_there_is_room_for_are_counted():
    text = changed(
        WELLS["brindlewick"],
        (
            TOP,
            TOP
            + "".join(
                f"    - {{part: stage collar, name: collar {n}, length: 2 ft, od: 8.2 in, opens at: {n}000 psi}}\n"
                for n in range(2, 8)
            ),
        ),
    )
    groups = pressure_bands(evaluated(text), RECT, "field")
    said = words(groups)
    shown = sum(f"collar {n} opens" in said for n in range(2, 8)) + sum(
        name in said for name in ("circulate", "hanger sets", "tool releases", "ball seat shears")
    )

    assert f"and {12 - shown} more in the well file" in said  # 4 before the dart, 6 collars, plug and bump
    assert problems(Scene(210.0, 60.0, "", "", tuple(groups))) == []
    assert max(s.y_mm for g in groups for s in g.shapes if isinstance(s, Text)) <= RECT.bottom_mm


def test_the_datum_tells_both_heights_onshore_and_offshore():
    onshore = words(datum_sketch(evaluated(WELLS["brindlewick"]), RECT, "field"))
    offshore = words(datum_sketch(evaluated(WELLS["sollivane"]), RECT, "metric"))

    assert {"Rotary table", "26 ft", "Ground", "1\u2009214 ft", "Mean sea level"} <= set(
        onshore
    )  # 1 240 less 1 214
    assert {"Rotary table", "32 m", "Mean sea level", "Seabed"} <= set(offshore)


def test_a_height_that_is_not_given_is_said_to_be_so():
    text = WELLS["brindlewick"].replace(", height: 1240 ft, ground height: 1214 ft", "")

    assert words(datum_sketch(evaluated(text), RECT, "field"))[1:] == [
        "Rotary table",
        "Ground",
        "not given",
        "Mean sea level",
        "not given",
    ]


@pytest.mark.parametrize("above", ["seabed", "mean sea level"])
def test_the_same_levels_stand_whichever_of_them_the_datum_is_counted_from(above):
    """32 m above the sea in 96 m of water is 128 m above the seabed."""
    height = 128 if above == "seabed" else 32
    text = changed(
        WELLS["sollivane"], ("above: mean sea level, height: 32 m", f"above: {above}, height: {height} m")
    )
    said = words(datum_sketch(evaluated(text), RECT, "metric"))

    assert [said[n] for n in (1, 3, 4, 5)] == ["Rotary table", "32 m", "Seabed", "96 m"]
    assert said[2].lower().endswith("sea level")


def test_a_level_of_unknown_depth_is_dashed():
    """31 m above the sea, nothing said of the ground: it may lie above or below the sea."""
    text = changed(WELLS["brindlewick"], ("height: 1240 ft, ground height: 1214 ft", "height: 31 m"))
    groups = datum_sketch(evaluated(text), RECT, "metric")
    dashed = [s for g in groups for s in g.shapes if isinstance(s, Path) and s.style.dash]

    assert {"31 m", "not given", "Ground"} <= set(words(groups))
    assert dashed
    assert len({y for shape in dashed for run in shape.runs for _x, y in run}) == 1  # the ground alone


def well_lines(text: str):
    evaluation = evaluated(text)
    made = frame(evaluation, "fitted", "metric", grid=plain_grid(A4), bottom_mm=170.0, hatch_mm=2.3)
    return made, level_lines(evaluation, made, 8.0, 202.0)


def test_ground_and_sea_stand_at_their_depths_beside_the_well():
    """Offshore: sea 32 m and seabed 128 m below the rotary; the 36 in hole begins at the seabed."""
    made, groups = well_lines(WELLS["sollivane"])
    runs = [run for g in groups for s in g.shapes if isinstance(s, Path) and not s.closed for run in s.runs]
    sea, seabed = made.y(32.0), made.y(128.0)

    assert {round(run[0][1], 6) for run in runs} == {round(sea, 6), round(seabed, 6)}
    ends = [x for run in runs if abs(run[0][1] - seabed) < 1e-6 for x, _y in run]
    assert max(x for x in ends if x < made.axis_mm) == pytest.approx(made.axis_mm - made.r(36 * 0.0254))
    pipe = [x for run in runs if abs(run[0][1] - sea) < 1e-6 for x, _y in run]
    assert max(x for x in pipe if x < made.axis_mm) == pytest.approx(made.axis_mm - made.r(30 * 0.0254))


def test_on_land_the_sea_has_no_line_and_unknown_ground_has_none():
    _made, groups = well_lines(WELLS["brindlewick"])
    unknown = changed(WELLS["brindlewick"], (", height: 1240 ft, ground height: 1214 ft", ""))

    assert [g.title for g in groups] == ["Ground 7.92 m below the datum"]
    assert well_lines(unknown)[1] == []


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


def test_revisions_without_dates_stand_by_number():
    text = changed(
        WELLS["brindlewick"],
        ("number: 2, date: 2026-11-20", "number: 11, date: 2026-11-20"),
        ("    - {number: 1, date: 2026-11-06,", "    - {number: 9}\n    - {number: 10}\n    - {number: 1,"),
    )

    assert [one.number for one in evaluated(text).plan.identity.earlier] == ["10", "9", "1"]


def test_no_revision_is_said_to_be_none():
    text = WELLS["brindlewick"]
    start, end = text.index("  revision:"), text.index("\nsurvey:")

    assert "no revision given" in words(revision_table(evaluated(text[:start] + text[end:]), RECT))
