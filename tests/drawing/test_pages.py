"""The whole sheet: nothing overlaps, nothing leaves the page, nothing is dropped, on tame wells and on odd ones."""

from __future__ import annotations

from functools import cache
from itertools import combinations, pairwise
from typing import Any

import pytest

from schematic import check
from schematic.checks.evaluate import Evaluation
from schematic.drawing import overlap, svg
from schematic.drawing.findings import letters
from schematic.drawing.grid import PAPERS
from schematic.drawing.labels import cross
from schematic.drawing.scene import Dots, Path, Scene, Sheet, Text
from schematic.drawing.table_pages import table_pages
from schematic.drawing.text import box_mm
from schematic.export.tables import Column, Table
from schematic.verbs import load_text, sheet
from tests.drawing.torture import WELLS

ALL = [
    (name, scale, system) for name in WELLS for scale in ("fitted", "true") for system in ("field", "metric")
]


@cache
def evaluated(name: str) -> Evaluation:
    return check(load_text(WELLS[name], name))


@cache
def drawn(name: str, *manner: Any, **paper: Any) -> Sheet:
    """The pages of a well: drawn once in each manner."""
    return sheet(evaluated(name), *manner, **paper)


def texts(scene: Scene) -> list[Text]:
    return [shape for group in scene.groups for shape in group.shapes if isinstance(shape, Text)]


@pytest.mark.parametrize(("name", "scale", "system"), ALL)
def test_no_text_overlaps_leaves_the_page_or_is_too_small_and_no_line_too_thin(name, scale, system):
    for scene in drawn(name, scale, system).scenes:
        assert overlap.problems(scene) == []


@pytest.mark.parametrize(("name", "scale", "system"), ALL)
def test_texts_keep_within_the_margins(name, scale, system):
    for scene in drawn(name, scale, system).scenes:
        for text in texts(scene):
            left, top, right, bottom = box_mm(text)
            assert left >= 7.0
            assert right <= scene.width_mm - 7.0, text
            assert top >= 7.0
            assert bottom <= scene.height_mm - 6.0, text


@pytest.mark.parametrize("name", WELLS)
def test_leaders_do_not_cross_and_run_through_no_text(name):
    """A leader is the grey path of a group that also has one dot at its end."""
    for scale in ("fitted", "true"):
        scene = drawn(name, scale).scenes[0]
        found = []
        for group in scene.groups:
            dots = [shape for shape in group.shapes if isinstance(shape, Dots) and len(shape.centres) == 1]
            paths = [shape for shape in group.shapes if isinstance(shape, Path) and len(shape.runs) == 1]
            found += [path.runs[0] for path in paths for dot in dots if path.runs[0][-1] == dot.centres[0]]
        left = [run for run in found if run[0][0] < 88.5]
        right = [run for run in found if run[0][0] > 88.5]

        assert left
        assert right
        for column in (left, right):
            for first, second in combinations(column, 2):
                assert not cross(first, second), (first, second)


@pytest.mark.parametrize("name", WELLS)
def test_every_part_string_and_finding_has_its_words_on_the_sheet(name):
    evaluation = evaluated(name)
    scenes = drawn(name).scenes
    named = {
        group.part
        for scene in scenes
        for group in scene.groups
        if any(isinstance(s, Text) for s in group.shapes)
    }
    written = {text.text for scene in scenes for text in texts(scene)}

    for part in evaluation.plan.depth.liner.parts:
        assert part.path in named
    for string in evaluation.plan.depth.strings:
        assert string.path in named
    words = {" ".join(text.text for text in texts(scene)) for scene in scenes}
    name = evaluation.plan.identity.name
    assert any(all(word in page for word in name.split()) for page in words)
    for index in range(len(evaluation.findings)):
        assert chr(ord("a") + index) in written


def test_more_findings_than_fit_go_on_on_a_second_page():
    scenes = drawn("many findings").scenes

    assert len(evaluated("many findings").findings) > 10
    assert any("more in the notes" in text.text for text in texts(scenes[0]))
    told = {s.text for scene in scenes[1:] for s in texts(scene)}
    assert {letter for letter, _ in letters(evaluated("many findings"))} <= told


def test_more_labels_than_fit_go_on_behind_a_match_line():
    first, second, *_ = drawn("forty parts").scenes
    matches = [
        text.text for scene in (first, second) for text in texts(scene) if text.text.startswith("match line")
    ]

    assert len(matches) == 2
    assert matches[0].partition(",")[0] == matches[1].partition(",")[0]  # the same depth on both
    assert not any("match" in text.text for text in texts(drawn("brindlewick").scenes[0]))


def test_brackets_end_at_the_depths_between_which_the_volume_is_taken():
    scene = drawn("brindlewick").scenes[0]
    ends = {}
    for group in scene.groups:
        if group.part.startswith("volumes."):
            path = next((shape for shape in group.shapes if isinstance(shape, Path)), None)
            if path is None:  # an arrow to a space that lies above the track
                continue
            ends.setdefault(group.part.removeprefix("volumes."), []).append(
                (path.runs[0][0][1], path.runs[0][1][1])
            )
    lap, hole, rathole = ends["lap"][0], ends["open hole"], ends["rathole"][0]

    assert lap[1] == hole[0][0]  # host shoe
    assert hole[0][1] == hole[1][0]  # change of caliper
    assert hole[1][1] == rathole[0]  # liner shoe


def test_the_same_plan_draws_the_same_bytes():
    first, second = (svg.render(sheet(evaluated("sollivane")).scenes[0]) for _ in range(2))

    assert first == second


def test_assumed_lengths_say_so():
    written = " ".join(text.text for text in texts(drawn("sketch").scenes[0]))

    assert "\u224810.0" in written
    assert "is assumed" in written
    assert "typical one is drawn" in written.replace("  ", " ")


def test_markup_in_names_stays_text():
    written = svg.render(drawn("long names").scenes[0]).decode()

    assert "<b>" not in written
    assert "&lt;b&gt;" in written


@pytest.mark.browser
@pytest.mark.parametrize(
    "name", ["brindlewick", "sollivane", "crowded liner top", "ninety degrees", "long names"]
)
def test_in_a_real_browser_no_two_texts_overlap_and_none_leaves_the_page(name, browser_page):
    for scale in ("fitted", "true"):
        scene = drawn(name, scale).scenes[0]
        written = svg.render(scene).decode()
        body = written[written.index("<svg") :]
        browser_page.set_content(f"<body style='margin:0'>{body}</body>")
        page, boxes = browser_page.evaluate(
            """() => { const b = e => { const r = e.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom]; };
               return [b(document.querySelector('svg')), [...document.querySelectorAll('text')].map(e => [...b(e), e.textContent])]; }"""
        )
        millimetre = (page[2] - page[0]) / scene.width_mm
        # a browser's box is the font's full line, ascent and descent: the ink of a line without accents is less
        inked = [
            (x0, y0 + 0.55 * millimetre, x1, y1 - 0.45 * millimetre, text) for x0, y0, x1, y1, text in boxes
        ]

        assert len(inked) > 60
        for x0, y0, x1, y1, text in inked:
            assert x0 >= page[0] - 0.1, text
            assert x1 <= page[2] + 0.1, text
            assert y0 >= page[1] - 0.1, text
            assert y1 <= page[3] + 0.1, text
        inked.sort(key=lambda box: box[1])
        for index, (x0, y0, x1, y1, text) in enumerate(inked):
            for u0, v0, u1, _v1, other in inked[index + 1 :]:
                if v0 >= y1:
                    break
                assert u0 >= x1 - 0.2 or u1 <= x0 + 0.2, (
                    f"{text!r} and {other!r} in {name}, {scale}, at {y0}, {v0}"
                )


def test_depths_of_the_ruler_grow_downward():
    for name in WELLS:
        scene = drawn(name).scenes[0]
        track = next(group for group in scene.groups if group.title == "depth")
        ends = [shape for shape in track.shapes if isinstance(shape, Text) and shape.anchor == "end"]
        levels = [text.y_mm for text in ends if text.x_mm == min(one.x_mm for one in ends)]  # measured depths

        # a line of figures is 2.29 mm high, from ascent to descent
        assert all(lower - upper >= 2.3 for upper, lower in pairwise(levels))


@pytest.mark.parametrize("landscape", [False, True])
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("scale", ["fitted", "true"])
@pytest.mark.parametrize(
    "name", [name for name in WELLS if name.endswith(".yaml")] + ["brindlewick", "sollivane"]
)
def test_every_demo_well_is_readable_on_every_paper(name, scale, paper, landscape):
    for scene in drawn(name, scale, paper=paper, landscape=landscape).scenes:
        assert overlap.problems(scene) == []


def test_no_head_of_a_table_breaks_within_a_word_where_there_is_room():
    """A column as wide as its widest word must hold that word, to the last bit of a float."""
    words = ["most", "verdict", "least", "planned", "read", "value", "strokes", "time", "bears", "pore"]
    table = Table("Words", tuple(Column(word) for word in words), (("x",) * len(words),))
    (groups,) = table_pages([table], "field", PAPERS["a4"])
    told = [shape.text for group in groups for shape in group.shapes if isinstance(shape, Text)]

    assert set(words) <= set(told)
