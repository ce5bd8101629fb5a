"""The chart of the setting pressures: bars to one scale, nothing over another, its own page behind the cards."""

from __future__ import annotations

import pytest

from schematic import check
from schematic.drawing.fills import Rect
from schematic.drawing.grid import A4
from schematic.drawing.job_charts import charts_page
from schematic.drawing.overlap import problems
from schematic.drawing.palette import BLACK, BLUE
from schematic.drawing.scene import Path, Scene, Text
from schematic.drawing.setting_chart import setting_chart
from schematic.outcome import MissingInput
from schematic.verbs import load_text
from tests.drawing.torture import TOP, WELLS, changed

BOX = Rect(8.0, 34.0, 202.0, 250.0)
WITH = sorted(name for name in WELLS if check(load_text(WELLS[name])).job.setting.bands)


def chart(text, system="field"):
    return setting_chart(check(load_text(text)), BOX, system)


def words(group):
    return [shape.text for shape in group.shapes if isinstance(shape, Text)]


def bars(group):
    """From and to of the blue bars, in millimetres, from the first row down."""
    rows = [s.runs[0] for s in group.shapes if isinstance(s, Path) and s.style.fill == BLUE]
    return [(min(x for x, _y in run), max(x for x, _y in run)) for run in rows]


@pytest.mark.parametrize("system", ["field", "metric"])
@pytest.mark.parametrize("name", WITH)
def test_nothing_stands_over_another_and_nothing_leaves_the_box(name, system):
    group = chart(WELLS[name], system)

    assert problems(Scene(210.0, 297.0, "", "", (group,))) == []
    assert all(34.0 <= shape.y_mm <= 251.0 for shape in group.shapes if isinstance(shape, Text))


def test_bars_and_limits_stand_on_one_scale():
    """1 425 to 1 575 and 2 160 to 2 640 psi; never beyond 1 860, by the tool's band less 300."""
    group = chart(WELLS["brindlewick"])
    hanger, tool = bars(group)[:2]
    per_psi = (tool[1] - tool[0]) / 480.0
    heavy = [
        s for s in group.shapes if isinstance(s, Path) and s.style.stroke == BLACK and s.style.width_mm > 1.0
    ]
    never = heavy[0].runs[0][0][0]

    assert (hanger[1] - hanger[0]) / per_psi == pytest.approx(150.0, rel=1e-6)
    assert (tool[0] - hanger[0]) / per_psi == pytest.approx(2160.0 - 1425.0, rel=1e-6)
    assert (never - hanger[0]) / per_psi == pytest.approx(1860.0 - 1425.0, rel=1e-6)
    assert "never beyond 1\u2009860" in words(group)


def test_what_is_taken_further_and_what_the_columns_add_is_told():
    said = words(chart(WELLS["brindlewick"]))

    assert "1\u2009425 to 1\u2009575, taken to 1\u2009700" in said
    assert any("373 psi more at the plug" in line.replace("\u2009", " ") for line in said)
    assert any(line.startswith("a: 1\u2009637 psi, the rock at the host shoe breaks") for line in said)


def test_a_limit_beyond_the_axis_is_told_all_the_same():
    said = words(chart(WELLS["brindlewick"]))

    assert any("90 % of the burst of the liner; beyond the axis" in line for line in said)


def test_what_is_not_known_says_what_it_needs():
    text = changed(WELLS["brindlewick"], ("  tool releases at: 2400 psi +/- 10 %\n", ""))
    said = words(chart(text))

    assert "never beyond: not computed" in said
    assert any("tool releases needs installation.tool releases at" in line for line in said)


def test_more_bands_than_the_page_has_room_for_are_counted():
    collars = "".join(
        f"    - {{part: stage collar, name: collar {n}, length: 2 ft, od: 8.2 in, opens at: {n}50 psi}}\n"
        for n in range(40, 70)
    )
    group = chart(changed(WELLS["brindlewick"], (TOP, TOP + collars)))
    shown = len(bars(group))

    assert any(line == f"and {35 - shown} more in the tables" for line in words(group))
    assert all(shape.y_mm <= 251.0 for shape in group.shapes if isinstance(shape, Text))


def test_without_a_pressure_there_is_no_chart_and_no_page():
    with pytest.raises(MissingInput):
        chart(WELLS["sketch"])
    pages = charts_page(check(load_text(WELLS["sketch"])), "metric", A4).scenes
    assert not any(group.title == "Setting pressures" for page in pages for group in page.groups)


def test_the_chart_has_a_page_of_its_own():
    pages = charts_page(check(load_text(WELLS["brindlewick"])), "field", A4).scenes

    assert [any(group.title == "Setting pressures" for group in page.groups) for page in pages] == [
        False,
        True,
    ]
    assert pages[1].title.endswith("charts, sheet 2 of 2")
