"""The running sheet on paper: every line on it, each page with its heads, nothing over anything else."""

from __future__ import annotations

import pytest

from schematic import check
from schematic.drawing.grid import PAPERS, turned
from schematic.drawing.overlap import problems
from schematic.drawing.running_sheet import running_sheet_pages
from schematic.drawing.scene import Text
from schematic.drawing.text import box_mm
from schematic.export.running_sheet import TITLE, running_sheet_tables
from schematic.export.tables import as_csv, as_data, as_text
from schematic.export.workbook import workbook
from schematic.outcome import Figure
from schematic.verbs import demos, load_text
from tests.drawing.torture import WELLS

SPEED = (
    "  block weight: 45 klbf\n",
    "  block weight: 45 klbf\n  running speed: {cased: 90 ft/min, open hole: 60 ft/min}\n",
)
FRICTION = (
    "  block weight: 45 klbf\n",
    "  block weight: 45 klbf\n  friction: {cased: 0.25, open hole: 0.35}\n",
)


def evaluated(text: str, *changes: tuple[str, str]):
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    return check(load_text(text))


def words(scene):
    return [shape for group in scene.groups for shape in group.shapes if isinstance(shape, Text)]


@pytest.mark.parametrize(
    "paper", [PAPERS["a4"], turned(PAPERS["a4"]), PAPERS["letter"], PAPERS["a3"]], ids=str
)
@pytest.mark.parametrize("name", sorted(demos()))
def test_nothing_overlaps_on_any_page_of_a_demo_well(name, paper):
    evaluation = evaluated(demos()[name])

    for scene in running_sheet_pages(evaluation, evaluation.plan.identity.system, paper).scenes:
        assert problems(scene) == []


@pytest.mark.parametrize("system", ["field", "metric"])
@pytest.mark.parametrize("name", sorted(WELLS))
def test_nothing_overlaps_with_hostile_names(name, system):
    for scene in running_sheet_pages(evaluated(WELLS[name]), system).scenes:
        assert problems(scene) == []


@pytest.mark.parametrize(
    "changes", [(SPEED,), (FRICTION,), (SPEED, FRICTION)], ids=["speed", "friction", "both"]
)
def test_nothing_overlaps_with_every_column_shown(changes):
    evaluation = evaluated(demos()["brindlewick-4.yaml"], *changes)

    for scene in running_sheet_pages(evaluation, "field").scenes:
        assert problems(scene) == []


@pytest.mark.parametrize("name", ["brindlewick-4.yaml", "sollivane-a7.yaml"])
def test_every_page_has_its_heads_the_well_its_issue_and_the_caution(name):
    evaluation = evaluated(demos()[name])
    identity = evaluation.plan.identity

    scenes = running_sheet_pages(evaluation, identity.system).scenes

    assert len(scenes) > 2
    for number, scene in enumerate(scenes, 1):
        texts = [shape.text for shape in words(scene)]
        assert identity.name in texts
        assert f"sheet {number} of {len(scenes)}: running sheet" in texts
        assert f"{identity.revision.number} of {identity.revision.date}" in texts
        assert {"no.", "what goes in", "remarks"} <= set(texts)
        assert any("verify every figure" in text for text in texts)
        assert "see sheet 1" not in texts  # there is no drawing and no scale
        assert any("trip tank gains the closed end" in text for text in texts)


def test_every_line_is_on_the_pages_in_order():
    evaluation = evaluated(demos()["brindlewick-4.yaml"])
    runs = evaluation.job.running_sheet.runs
    first = 8.0 + 6.5  # the column of numbers ends before

    numbers = [
        int(shape.text)
        for scene in running_sheet_pages(evaluation, "field").scenes
        for shape in words(scene)
        if shape.text.isdigit() and shape.anchor == "end" and box_mm(shape)[2] < first
    ]

    assert numbers == [run.number for run in runs]


def test_a_faint_line_follows_every_fifth_row():
    (scene, *_others) = running_sheet_pages(evaluated(demos()["brindlewick-4.yaml"]), "field").scenes
    group = next(group for group in scene.groups if group.title == TITLE)
    levels = [shape.runs[0][0][1] for shape in group.shapes if not isinstance(shape, Text)]
    rows = [shape.y_mm for shape in group.shapes if isinstance(shape, Text) and shape.text.isdigit()]

    assert len(levels) == len(rows) // 5
    for n, (above, below) in enumerate(zip([0.0, *levels], levels, strict=False)):
        assert [y for y in rows if above < y < below] == rows[5 * n : 5 * n + 5]


def test_an_open_end_prints_its_steel():
    text = demos()["brindlewick-4.yaml"]
    start, end = text.index("    - {part: float shoe"), text.index("    - {part: joint, count: 2")
    text = text[:start] + "    - {part: guide shoe, length: 1.8 ft, od: 7.656 in}\n" + text[end:]
    evaluation = evaluated(text, ("    - {part: float collar, length: 1.6 ft, od: 7.656 in}\n", ""))

    texts = " ".join(shape.text for shape in words(running_sheet_pages(evaluation, "field").scenes[0]))

    assert "steel" in texts
    assert "closed" not in texts
    assert "the trip tank gains the steel" in texts


@pytest.mark.parametrize("name", sorted(demos()))
def test_the_tables_go_out_in_every_shape(name):
    """Heads are unique, so that no column of the data is lost; figures keep their SI value."""
    evaluation = evaluated(demos()[name])
    system = evaluation.plan.identity.system

    made = running_sheet_tables(evaluation, system)
    sheet = made[0]
    data = as_data(sheet, system)

    assert len({column.head for column in sheet.columns}) == len(sheet.columns)
    assert len(data["rows"]) == len(evaluation.job.running_sheet.runs)
    assert data["rows"][-1]["shoe MD"]["si"] == evaluation.job.running_sheet.runs[-1].shoe_md_m
    assert sheet.title in as_text(sheet, system)
    assert len(as_csv((sheet,), system).splitlines()) == len(sheet.rows) + 2
    assert workbook(evaluation, made, system)[:2] == b"PK"


def test_where_the_string_does_not_slide_in_the_sheet_says_so():
    """A long liner at ninety degrees: its push is lost to the helix, and slacking off shows no weight at all."""
    sheet = running_sheet_tables(evaluated(WELLS["ninety degrees"]), "field")[0]
    column = [column.head for column in sheet.columns].index("slacking off")

    assert sheet.rows[-1][column] == "locks up"
    assert isinstance(sheet.rows[0][column], Figure)
