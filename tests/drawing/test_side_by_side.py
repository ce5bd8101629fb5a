"""Options and issues side by side: one scale for all, every way has its column, nothing on top of another."""

from __future__ import annotations

from itertools import pairwise

import pytest

from schematic import diff, options
from schematic.drawing.common_scale import common_frame
from schematic.drawing.grid import PAPERS, turned
from schematic.drawing.overlap import problems
from schematic.drawing.palette import GREEN, VERMILION
from schematic.drawing.scene import Path, Text
from schematic.drawing.shared_findings import findings_table, shared_letters
from schematic.drawing.side_by_side import options_sheet
from schematic.drawing.small_options import small_options
from schematic.drawing.two_positions import difference_sheet
from schematic.verbs import demos, load_text
from schematic.wellfile import edit
from schematic.wellfile.read import AS_WRITTEN

TRADE_OFFS = ["brindlewick-4.yaml", "sollivane-a7.yaml"]
BRINDLEWICK = demos()["brindlewick-4.yaml"]


def compared(well: str):
    return options(load_text(demos()[well]))


def sheet_of(well: str, paper=None):
    made = compared(well)
    return options_sheet(made, made[0].evaluation.plan.identity.system, paper)


def texts(scene):
    return [shape for group in scene.groups for shape in group.shapes if isinstance(shape, Text)]


def laps_of(count: int) -> str:
    """Brindlewick with so many options, and one that cannot be."""
    start, end = BRINDLEWICK.index("options:\n"), BRINDLEWICK.index("record:\n")
    rows = "".join(
        f"  - {{name: lap {110 + 20 * n} ft, change: {{liner.lap: {110 + 20 * n} ft, "
        f"running string.assembly.drill pipe.length: {9336 - 20 * n} ft}}}}\n"
        for n in range(count)
    )
    refused = "  - {name: no such lap, change: {liner.lap: 99999 ft}}\n"
    return f"{BRINDLEWICK[:start]}options:\n{rows}{refused}{BRINDLEWICK[end:]}"


PAPERS_TRIED = [
    None,
    PAPERS["a4"],
    turned(PAPERS["a4"]),
    PAPERS["a3"],
    turned(PAPERS["tabloid"]),
    PAPERS["letter"],
]


@pytest.mark.parametrize(
    "paper", PAPERS_TRIED, ids=lambda paper: f"{paper.name} {paper.landscape}" if paper else "own choice"
)
@pytest.mark.parametrize("well", TRADE_OFFS)
def test_nothing_stands_on_another_on_any_paper(well, paper):
    for scene in sheet_of(well, paper).scenes:
        assert problems(scene) == []


@pytest.mark.parametrize("well", TRADE_OFFS)
def test_every_option_has_its_name_and_every_row_that_differs_a_place(well):
    from schematic.comparison.compare import what_differs

    made = compared(well)
    system = made[0].evaluation.plan.identity.system
    written = {text.text for scene in sheet_of(well).scenes for text in texts(scene)}

    assert {one.name[:1].upper() + one.name[1:] for one in made} <= written
    assert {row[0] for row in what_differs(made, system).rows} <= written


def test_one_scale_holds_for_all_wells():
    """The liner shoe, the same in all, is drawn at one level in all; a shorter lap begins lower."""
    made = compared("brindlewick-4.yaml")
    scene = options_sheet(made, "field").scenes[0]

    def tops(title: str) -> list[float]:
        return [
            min(y for shape in group.shapes if isinstance(shape, Path) for run in shape.runs for _x, y in run)
            for group in scene.groups
            if group.title.startswith(title)
        ]

    for one in made:
        assert len(tops(f"{one.name}: Float shoe")) == 1
    shoes = [tops(f"{one.name}: Float shoe")[0] for one in made]
    hangers = [tops(f"{one.name}: Hydraulic hanger")[0] for one in made]
    assert shoes == pytest.approx([shoes[0]] * 3, abs=1e-6)
    assert hangers[0] == pytest.approx(hangers[2], abs=1e-6)
    assert hangers[1] > hangers[0] + 10.0  # 220 ft deeper


def test_depths_read_back_from_the_common_scale():
    evaluations = [one.evaluation for one in compared("sollivane-a7.yaml")]
    frame = common_frame(evaluations, "metric", top_mm=40.0, bottom_mm=170.0, widest_mm=37.0, hatch_mm=2.3)

    for evaluation in evaluations:
        for part in evaluation.plan.depth.liner.parts:
            assert frame.scale.md_m(frame.y(part.top_md_m)) == pytest.approx(part.top_md_m, abs=0.01)
            assert frame.y(part.bottom_md_m) > frame.y(part.top_md_m)


def test_twenty_options_run_over_pages_with_the_well_as_written_on_each():
    made = options(load_text(laps_of(20)))
    scenes = options_sheet(made, "field").scenes

    drawn = [
        scene for scene in scenes if any(group.title.startswith(f"{AS_WRITTEN}: ") for group in scene.groups)
    ]
    names = [text.text for scene in drawn for text in texts(scene) if text.bold]
    assert len(drawn) >= 3
    assert all(names.count(f"Lap {110 + 20 * n} ft") == 1 for n in range(20))
    assert names.count("As written") == len(drawn)
    assert not [problem for scene in scenes for problem in problems(scene)]


def test_what_cannot_be_has_a_column_that_says_why():
    scenes = options_sheet(options(load_text(laps_of(1))), "field").scenes

    written = " ".join(text.text for text in texts(scenes[0]))
    assert "Cannot be:" in written
    assert "above the datum" in written


def test_a_finding_has_one_letter_in_all_wells():
    made = compared("sollivane-a7.yaml")
    letters = shared_letters([one.evaluation for one in made])
    scene = options_sheet(made, "metric").scenes[0]

    assert len(set(letters.values())) == len(letters)
    for one in made:
        flagged = {
            g.title.rpartition(" ")[2] for g in scene.groups if g.title.startswith(f"{one.name}: finding ")
        }
        assert flagged == {letters[o.rule, o.subject.path] for o in one.evaluation.findings}


def test_a_finding_of_other_figures_is_told_for_each_well_as_it_is_there():
    """The word "all" stands only before what is said of all, in the words of each."""
    made = compared("sollivane-a7.yaml")
    letters = shared_letters([one.evaluation for one in made])
    rows = findings_table(made, letters, "metric").rows

    def said(rule: str) -> dict[str, str]:
        (letter,) = (letter for key, letter in letters.items() if key[0] == rule)
        return {row[2]: row[3] for row in rows if row[0] == letter}

    gap = said("gap-in-hole-small")
    assert "212.7 mm hole: gap 18.2 mm" in gap["8 3/8 in hole"]
    assert all(
        "215.9 mm hole: gap 21.4 mm" in text for wells, text in gap.items() if wells != "8 3/8 in hole"
    )
    strokes = said("strokes-alone-miss-the-bump")
    assert "1.46 m\u00b3" in strokes["hanger in the vertical"]
    assert "all" not in {*gap, *strokes}
    assert "all" in {row[2] for row in rows}


def test_the_pages_say_what_each_option_changes():
    texts_ = [text.text for scene in sheet_of("brindlewick-4.yaml").scenes for text in texts(scene)]

    assert "What the options change" in texts_
    assert "liner.lap" in texts_


def test_a_well_alone_is_drawn_alone():
    assert len(options_sheet(compared("sketch.yaml"), "metric").scenes) >= 1


def moved(well: str, *values: tuple[str, str]):
    text = demos()[well]
    new = text
    for path, value in values:
        new = edit.set(new, path, value)
    return diff(load_text(text), load_text(new))


UP = (("liner.lap", "376.1 ft"), ("running string.assembly.drill pipe.length", "9069.9 ft"))
FAR = (("liner.lap", "2630 m"), ("running string.assembly.drill pipe.length", "436 m"))
ISSUES = [
    ("brindlewick-4.yaml", UP),
    ("sollivane-a7.yaml", FAR),
    ("brindlewick-4.yaml", ()),
    *((well, (("well.purpose", "another"),)) for well in sorted(demos())),
]


@pytest.mark.parametrize(("well", "values"), ISSUES)
def test_two_issues_of_any_well_are_drawn_apart(well, values):
    both = moved(well, *values)

    for scene in difference_sheet(both, both.new.plan.identity.system).scenes:
        assert problems(scene) == []


@pytest.mark.parametrize(
    "paper", [PAPERS["letter"], PAPERS["a3"], turned(PAPERS["a3"])], ids=lambda p: p.name
)
def test_two_wells_are_drawn_on_other_papers(paper):
    both = diff(load_text(demos()["sollivane-a7.yaml"]), load_text(BRINDLEWICK))

    assert not [p for scene in difference_sheet(both, "field", paper).scenes for p in problems(scene)]


def test_the_old_position_is_an_outline_without_colour_and_the_new_one_solid():
    scene = difference_sheet(moved("brindlewick-4.yaml", *UP), "field").scenes[0]

    def colours(start: str) -> set[str | None]:
        return {
            colour
            for group in scene.groups
            if group.title.startswith(start)
            for shape in group.shapes
            if not isinstance(shape, Text)
            for colour in (shape.style.fill, shape.style.stroke)
        }

    assert colours("before: ") <= {None, "#ffffff", "#595959"}
    assert {"#0072b2", GREEN} <= colours("now: ")
    assert VERMILION not in colours("before: ")


def test_what_moved_says_by_how_much_and_what_did_not_says_so():
    scene = difference_sheet(moved("brindlewick-4.yaml", *UP), "field").scenes[0]

    titles = {group.title for group in scene.groups}
    assert "liner top, up 6.1 ft to 9\u2009473.9" in titles
    assert "liner shoe, 12\u2009590, as before" in titles


@pytest.mark.parametrize("well", sorted(demos()))
def test_small_drawings_are_on_one_scale_and_can_be_read(well):
    made = compared(well)
    scenes = small_options(made, made[0].evaluation.plan.identity.system)

    assert len(scenes) == len(made)
    for one, scene in zip(made, scenes, strict=True):
        assert problems(scene) == [], one.name
    tops = {one.name: one.evaluation.plan.depth.liner.top_md_m for one in made}
    ends = {scene.title: _lap_top_mm(scene) for scene in scenes}
    for one, other in pairwise(sorted(tops, key=tops.__getitem__)):
        assert (ends[one] < ends[other]) == (tops[one] < tops[other])


def _lap_top_mm(scene) -> float:
    """Where the dimension of the lap begins."""
    (lap,) = [group for group in scene.groups if group.part == "liner.lap"]
    return min(y for shape in lap.shapes if isinstance(shape, Path) for run in shape.runs for _x, y in run)
