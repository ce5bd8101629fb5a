"""What a sheet says of a liner that ends in casing, of worn casing, of strings alike, of a well without survey."""

from __future__ import annotations

from functools import cache

import pytest

from schematic.drawing import overlap
from schematic.drawing.column import RING_MM
from schematic.drawing.grid import PAPERS, Paper, turned
from schematic.drawing.palette import GREEN
from schematic.drawing.scene import Dots, Path, Scene, Text
from schematic.drawing.sheet import well_sheet
from schematic.verbs import check, demos, load_text, sheet


@cache
def evaluated(name: str):
    return check(load_text(demos()[f"{name}.yaml"], name))


@cache
def first(name: str, scale: str = "fitted", paper: Paper = PAPERS["a4"]) -> Scene:
    evaluation = evaluated(name)
    return well_sheet(evaluation, scale=scale, system=evaluation.plan.identity.system, paper=paper).scenes[0]


def words(scene: Scene) -> list[str]:
    return [
        s.text.replace("\u2009", "").replace("\u00a0", " ")
        for g in scene.groups
        for s in g.shapes
        if isinstance(s, Text)
    ]


def test_a_liner_that_ends_in_casing_says_so_and_has_no_rathole():
    said = words(first("fallow-6"))

    assert "7 in liner inside 9 5/8 in casing" in said
    assert "TVD 2950; 1330 m below the liner" in said  # 2950 less 1620
    assert not any("rathole" in text.lower() for text in said)
    assert "7 in liner in 8 1/2 in hole" in words(first("brindlewick-4"))
    assert "TVD 12599; rathole 10 ft" in words(first("brindlewick-4"))


def test_the_well_below_such_a_liner_has_its_volume_under_its_own_name():
    """By hand: 780 m of 8.835 in casing and 550 m, of it 10 m of 12 1/4 in and 540 m of 8 1/2 in hole; 51.38 m3.

    Pi/4 (0.224409^2 x 780 + 0.31115^2 x 10 + 0.2159^2 x 540) = 30.851 + 0.760 + 19.769 = 51.380.
    """
    spaces = {space.name: space for space in evaluated("fallow-6").volumes.spaces}

    assert "rathole" not in spaces
    assert spaces["well below the liner"].m3 == pytest.approx(51.38, abs=0.005)
    assert "well below the liner" not in {s.name for s in evaluated("fallow-6").cement.sections}


def test_worn_casing_is_named_and_marked_between_its_depths():
    scene = first("fallow-6")
    said = words(scene)
    at = said.index("Wear 1412 to 1568")
    assert said[at + 1 : at + 3] == ["of 9 5/8 in production casing", "91% of the wall left"]

    (mark,) = [g for g in scene.groups if g.title == "Wear of production casing"]
    levels = [y for shape in mark.shapes if isinstance(shape, Path) for run in shape.runs for _x, y in run]
    ruler = {
        t.text.replace("\u2009", ""): t.y_mm
        for g in scene.groups
        if g.title == "depth"
        for t in g.shapes
        if isinstance(t, Text)
    }
    assert ruler["1370"] < min(levels) < max(levels) < ruler["1590"]
    assert max(levels) - min(levels) > 2.0


def test_two_strings_of_one_pipe_are_told_apart():
    said = words(first("corrick-5"))
    heads = [n for n, text in enumerate(said) if text == "7 in 29 lb/ft P-110"]

    assert sorted(said[n + 1].split(",")[0] for n in heads) == ["drilling liner", "tie-back"]
    assert "cement to top, bond log" in said  # of the one that has a top
    assert "9 5/8 in, temperature log" in said  # the only string of that size


def test_without_a_survey_every_page_says_that_tvd_is_taken():
    evaluation = evaluated("fallow-6")
    for scene in well_sheet(evaluation, scale="fitted", system="metric", paper=PAPERS["a4"]).scenes:
        assert "m, no survey: TVD taken as MD" in words(scene)
    assert "ft, MD and TVD" in words(first("brindlewick-4"))


def test_the_true_scale_is_parted_from_the_blocks():
    assert any(
        "throughout; blocks 100 ft" in text
        for text in words(first("brindlewick-4", "true", turned(PAPERS["a4"])))
    )


@pytest.mark.parametrize("scale", ["fitted", "true"])
@pytest.mark.parametrize("paper", [*PAPERS.values(), *map(turned, PAPERS.values())])
def test_cement_to_reverse_out_is_drawn_on_every_paper(scale, paper):
    groups = first("brindlewick-4", scale, paper).groups
    shapes = next(g.shapes for g in groups if g.part == "cement.planned top" and "reversed out" in g.title)
    rings = [s for s in shapes if isinstance(s, Dots)]

    assert len(rings) == 2  # planned, and as high as it stands with no loss
    for one in rings:
        assert (one.radius_mm, one.style.stroke) == (RING_MM, GREEN)
        assert len(one.centres) >= 10


def test_the_sheet_says_down_to_where_cement_is_reversed_out():
    """By hand: 9 076 + 380 + 30 + 20 ft of string less 6 ft of stick up end at 9 500; a stand of 94.5 higher."""
    assert {"out, down to 9405.5", "planned, then reversed"} <= set(words(first("brindlewick-4")))

    unknown = well_sheet(evaluated("haldry-2"), scale="fitted", system="metric").scenes
    said = [text for page in unknown for text in words(page)]
    assert "reversed out: needs stand length" in said  # the file gives none
    assert not any(text.startswith("out, down to") for text in said)


@pytest.mark.parametrize(
    ("name", "status"),
    [
        ("brindlewick-4", "PLANNED, 9 warnings, 1 advice"),
        ("sollivane-a7", "PLANNED, 1 error, 7 warnings, 2 advice"),
        ("sketch", "PLANNED, nothing found, 23 inputs missing"),
    ],
)
def test_the_title_block_counts_advice_as_well(name, status):
    evaluation = evaluated(name)

    assert status in words(first(name))
    listed = [one.answer.severity.value for one in evaluation.findings]
    for severity in ("error", "warning", "advice"):
        count = listed.count(severity)
        assert (f"{count} {severity}" in status) == (count > 0)


def test_a_finding_about_a_slurry_stands_beside_it_and_in_the_table_of_fluids():
    """It has no depth of its own: the list says where the letter is, the notes repeat it."""
    pages = well_sheet(evaluated("brindlewick-4"), scale="fitted", system="field").scenes
    flagged = [
        (number, group)
        for number, page in enumerate(pages)
        for group in page.groups
        if (group.part, group.title) == ("fluids.cement", "Finding a") and len(group.shapes) == 2
    ]

    assert [number for number, _group in flagged] == [0, 1]
    (ring, _letter) = flagged[0][1].shapes
    parts = [s for g in pages[0].groups if g.part == "cement" for s in g.shapes if isinstance(s, Dots)]
    levels = [y for dots in parts for _x, y in dots.centres]
    assert min(levels) < ring.centres[0][1] < max(levels)
    assert "flagged beside the cement and in the table of fluids" in " ".join(words(pages[0]))


def test_no_title_block_cuts_the_words_of_the_datum():
    assert "height not given" in words(first("sketch"))
    told = [text for name in demos() for text in words(first(name.removesuffix(".yaml")))]
    assert [text for text in told if text.endswith("\u2026")] == []


@pytest.mark.parametrize("hole", ["", "  - {bit: 12 1/4 in, from: 1500 m, to: 2852 m}\n"])
def test_a_top_of_cement_where_no_hole_is_given_points_at_its_own_string(hole):
    """Nothing is known to stand around the casing at 900 m: the hole begins below it."""
    text = demos()["sketch.yaml"].replace("  - {bit: 12 1/4 in, to: 2852 m}\n", hole)
    if not hole:
        text = text.replace("bit: 8 1/2 in, to", "bit: 8 1/2 in, from: 2840 m, to")
    text = text.replace("shoe: 2840 m}", "shoe: 2840 m, cement: {top: 900 m, known by: bond log}}")
    scenes = sheet(check(load_text(text))).scenes
    said = [t.text for group in scenes[0].groups for t in group.shapes if isinstance(t, Text)]

    assert "Top of cement 900" in said
    assert [problem for scene in scenes for problem in overlap.problems(scene)] == []
