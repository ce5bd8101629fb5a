"""What stands where on the sheet: nothing struck through, flags free, figures and dots where they belong."""

from __future__ import annotations

import pathlib
import re
from functools import cache
from itertools import combinations

import pytest

from schematic import check
from schematic.checks.evaluate import Evaluation
from schematic.drawing.findings import FLAG_MM
from schematic.drawing.flags import free
from schematic.drawing.frame import Frame
from schematic.drawing.grid import A4
from schematic.drawing.palette import BLACK, BLUE, GREEN, GREY, HEAVY_MM, VERMILION, WHITE
from schematic.drawing.scene import Dots, Group, Path, Scene, Style, Text
from schematic.drawing.sheet import wells_of
from schematic.drawing.text import Box, box_mm
from schematic.drawing.well_zone import WellZone
from schematic.export.tables import liner_table, volumes_table
from schematic.outcome import Figure
from schematic.units import number
from schematic.verbs import load_text, sheet
from tests.drawing.strokes import cut, legs, meets, shapes, struck
from tests.drawing.torture import WELLS

BOTH = ("brindlewick", "sollivane")
SCALES = ("fitted", "true")
THIN = "\u2009"


@cache
def evaluated(name: str) -> Evaluation:
    return check(load_text(WELLS[name], name))


@cache
def page(name: str, scale: str, system: str | None = None) -> Scene:
    return sheet(evaluated(name), scale, system).scenes[0]


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("name", WELLS)
def test_no_line_and_no_dot_runs_through_a_text(name, scale):
    assert struck(page(name, scale)) == []


def test_the_check_of_struck_texts_can_fail():
    """A text on a line, and a white ground that a later line crosses."""
    line = Path((((0.0, 9.5), (50.0, 9.5)),), Style(stroke=BLACK))
    for text in (Text(10.0, 10.0, "struck"), Text(10.0, 10.0, "struck", backed=True)):
        scene = Scene(60.0, 20.0, "", "", (Group("", "", (text, line)),))
        assert len(struck(scene)) == 1
    free = Scene(60.0, 20.0, "", "", (Group("", "", (line, Text(10.0, 10.0, "free", backed=True))),))
    assert struck(free) == []


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("name", WELLS)
def test_white_grounds_cut_texture_only(name, scale):
    assert cut(page(name, scale)) == []


def flags(scene: Scene) -> list[Dots]:
    return [s for s in shapes(scene) if isinstance(s, Dots) and s.radius_mm == FLAG_MM]


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("name", [n for n in WELLS if n != "many findings"])
def test_flags_touch_no_flag_no_leader_and_no_other_text(name, scale):
    scene = page(name, scale)
    placed = [dots.centres[0] for dots in flags(scene)]
    leaders = [
        leg
        for group in scene.groups
        if any(isinstance(s, Dots) and s.radius_mm == 0.38 for s in group.shapes)
        for shape in group.shapes
        if isinstance(shape, Path)
        for leg in legs(shape)
    ]

    assert (len(placed) > 0) == (len(evaluated(name).findings) > 0)
    for (x0, y0), (x1, y1) in combinations(placed, 2):
        assert (x1 - x0) ** 2 + (y1 - y0) ** 2 >= (2 * FLAG_MM) ** 2
    for x, y in placed:
        square = (x - FLAG_MM, y - FLAG_MM, x + FLAG_MM, y + FLAG_MM)
        assert not any(meets(leg, square) for leg in leaders)
        inside = [s.text for s in shapes(scene) if isinstance(s, Text) and _overlap(box_mm(s), square)]
        assert len(inside) == 1, inside  # its own letter


def _overlap(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def test_a_flag_makes_way_for_a_text_a_leader_and_another_flag():
    box, leader, other = (9.0, 49.0, 11.0, 51.0), ((5.0, 54.0), (15.0, 54.0)), (10.0, 45.0)

    x, y = free([10.0], 50.0, (34.4, 174.0), [other], [leader], [box])

    assert not _overlap((x - FLAG_MM, y - FLAG_MM, x + FLAG_MM, y + FLAG_MM), box)
    assert abs(y - 54.0) > FLAG_MM
    assert ((x - 10.0) ** 2 + (y - 45.0) ** 2) ** 0.5 > 2 * FLAG_MM
    assert free([10.0], 50.0, (34.4, 174.0), [], [], []) == (10.0, 50.0)


def test_each_finding_with_a_depth_has_a_flag_in_the_well_and_one_in_the_list():
    for name in ("sollivane", "below host shoe", "tally too short"):
        evaluation = evaluated(name)
        at_depth = [o for o in evaluation.findings if o.answer.at_md_m]
        letters = [
            shape.text
            for group in page(name, "fitted").groups
            if any(isinstance(s, Dots) and s.radius_mm == FLAG_MM for s in group.shapes)
            and group.title != "legend"
            for shape in group.shapes
            if isinstance(shape, Text) and len(shape.text) == 1
        ]

        said = " ".join(s.text for g in page(name, "fitted").groups for s in g.shapes if isinstance(s, Text))
        more = re.search(r"and (\d+) more in the notes", said)
        listed = len(evaluation.findings) - (int(more.group(1)) if more else 0)
        assert len(letters) == listed + len(at_depth)


@pytest.mark.parametrize(
    "name", ["brindlewick", "sollivane", "liner in liner", "under-reamed", "many findings"]
)
def test_each_hole_section_is_told_with_its_bit(name):
    evaluation = evaluated(name)
    depth = evaluation.plan.depth
    owners = {string.path for string in depth.strings} | {section.path for section in depth.hole.sections}
    groups = [group for group in page(name, "fitted", "field").groups if group.part in owners]
    written = " ".join(s.text for group in groups for s in group.shapes if isinstance(s, Text))

    for section in depth.hole.sections:
        assert f"{_inches(section.bit_m)} in hole" in written


def _inches(metres: float) -> str:
    """Sixteenths as a trade fraction, worked out here."""
    sixteenths = round(metres / 0.0254 * 16)
    whole, part = divmod(sixteenths, 16)
    below = 16
    while part and part % 2 == 0:
        part, below = part // 2, below // 2
    return f"{whole} {part}/{below}" if part else f"{whole}"


@pytest.mark.parametrize("system", ["field", "metric"])
@pytest.mark.parametrize("name", BOTH)
def test_figures_of_volumes_and_parts_are_those_of_the_tables(name, system):
    evaluation = evaluated(name)
    scene = well(name, "fitted", system)

    def printed(cell: Figure) -> str:
        return number(cell.si, cell.kind, system, THIN)

    rows = [row for row in volumes_table(evaluation).rows if isinstance(row[4], Figure)]
    brackets = [group for group in scene.groups if group.part.startswith("volumes.")]
    assert len(brackets) >= 5
    table = {(row[0], printed(row[4])) for row in rows}
    for group in brackets:
        *_name, figure = (s.text for s in group.shapes if isinstance(s, Text))
        figure = figure.removeprefix("\u2191\u2009")  # a space above the track points up
        assert (group.part.removeprefix("volumes."), figure) in table
    texts = {
        group.part: [s.text for s in group.shapes if isinstance(s, Text)]
        for group in scene.groups
        if group.shapes and any(isinstance(s, Text) for s in group.shapes)
    }
    parts = evaluation.plan.depth.liner.parts
    table_rows = liner_table(evaluation).rows
    assert len(table_rows) >= len(parts) >= 10
    for part, row in zip(parts, table_rows, strict=False):
        figures = [printed(cell) for cell in row if isinstance(cell, Figure)]
        shown = [
            text for text in texts[part.path] if text[0].isdigit() and not text.endswith(("joints", "joint"))
        ]
        assert any(figure in shown for figure in figures)
        assert number(part.top_md_m, "tally", system, THIN) in shown
        assert number(part.length_m, "tally", system, THIN) in shown


def test_the_head_tells_the_four_depths_of_the_two_worked_wells():
    """The figures of the wells as they are written: top = host shoe - lap, shoe = hole depth - off bottom."""
    for name, figures in (
        ("brindlewick", ("9 480", "370", "9 850", "12 590")),  # 9850 - 370 ft, 12600 - 10 ft
        ("sollivane", ("3 055", "125", "3 180", "3 982")),  # 3180 - 125 m, 3985 - 3 m
    ):
        large = [
            s.text.replace(THIN, " ")
            for s in shapes(page(name, "fitted"))
            if isinstance(s, Text) and s.size_pt == 16.0
        ]
        assert set(figures) < set(large)


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize(
    "name", ["brindlewick", "sollivane", "crowded liner top", "liner in liner", "long lap", "under-reamed"]
)
def test_green_dots_stand_wholly_in_the_annulus_or_in_the_shoe_track(name, scale):
    """Each dot's circle lies between steel and wall: radii from the plan, at the depth of the dot."""
    evaluation = evaluated(name)
    scene = well(name, scale)
    paper = _frame(name, scale)
    depth = evaluation.plan.depth
    dots = [
        (centre, shape.radius_mm)
        for group in scene.groups
        if group.part == "cement" and group.title == "Cement of this job"
        for shape in group.shapes
        if isinstance(shape, Dots)
        for centre in shape.centres
    ]

    assert len(dots) >= 8
    for (x, y), radius in dots:
        md = paper.scale.md_m(y)
        off = abs(x - paper.axis_mm)
        wall = paper.r(depth.host.id_m if md < depth.host.shoe_md_m else depth.hole.diameter_m.at(md))
        assert off + radius <= wall + 1e-6
        part = next((p for p in depth.liner.parts if p.top_md_m <= md <= p.bottom_md_m), None)
        if part is None:
            assert md > depth.liner.shoe_md_m  # the rathole
            continue
        outer = paper.r(part.od_m if part.od_m is not None else depth.liner.od_m)
        bore = paper.r(part.id_m if part.id_m is not None else depth.liner.id_m)
        assert off - radius >= outer - 1e-6 or off + radius <= bore + 1e-6


def _frame(name: str, scale: str) -> Frame:
    return well(name, scale).frame


@cache
def well(name: str, scale: str, system: str | None = None) -> WellZone:
    """The well zone of the first page alone: its shapes without those of the details."""
    evaluation = evaluated(name)
    return wells_of(evaluation, scale, system or evaluation.plan.identity.system, A4)[1][0]


def test_old_cement_stands_outside_its_string():
    evaluation = evaluated("brindlewick")
    paper = _frame("brindlewick", "fitted")
    for string in evaluation.plan.depth.strings:
        black = [
            centre
            for group in well("brindlewick", "fitted").groups
            if group.part == string.path
            for shape in group.shapes
            if isinstance(shape, Dots) and shape.radius_mm == 0.15
            for centre in shape.centres
        ]
        assert (len(black) > 20) == (string.cement_top_md_m is not None)
        for x, y in black:
            assert abs(x - paper.axis_mm) - 0.15 >= paper.r(string.od_m) - 1e-6
            assert string.cement_top_md_m <= paper.scale.md_m(y) <= string.shoe_md_m


@pytest.mark.parametrize(
    "name", ["brindlewick", "sollivane", "liner in liner", "shallow", "long lap", "tally too long"]
)
def test_the_ruler_tells_liner_top_host_shoe_and_liner_shoe_in_bold(name):
    evaluation = evaluated(name)
    system = evaluation.plan.identity.system
    depth = evaluation.plan.depth
    track = next(group for group in page(name, "fitted").groups if group.title == "depth")
    bold = [s.text for s in track.shapes if isinstance(s, Text) and s.bold]

    for md in (depth.liner.top_md_m, depth.host.shoe_md_m, depth.liner.shoe_md_m):
        assert number(md, "depth", system, THIN) in bold


@pytest.mark.parametrize("name", BOTH)
def test_leaders_are_no_longer_than_40_mm(name):
    for group in page(name, "fitted").groups:
        if any(isinstance(s, Dots) and s.radius_mm == 0.38 for s in group.shapes):
            run = next(
                (s.runs[0] for s in group.shapes if isinstance(s, Path)), ()
            )  # one may share another's
            length = sum(
                ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
                for (x0, y0), (x1, y1) in zip(run, run[1:], strict=False)
            )
            assert length <= 40.0, group.title


@pytest.mark.parametrize("name", ["sollivane", "many findings", "crowded liner top"])
def test_colour_never_speaks_alone(name):
    """No text in green or vermilion; dots of two colours differ in size or in being filled; findings have a letter."""
    everything = shapes(page(name, "fitted"))
    dots: dict[tuple[float, bool], set[str]] = {}
    for shape in everything:
        if isinstance(shape, Text):
            on_black = shape.colour == WHITE and shape.text in "ABCD"  # the letter of a detail in its square
            assert on_black or shape.colour in (BLACK, BLUE, GREY)
        elif isinstance(shape, Dots) and shape.radius_mm != FLAG_MM:
            colour = shape.style.fill or shape.style.stroke
            dots.setdefault((shape.radius_mm, shape.style.fill is not None), set()).add(colour)
    assert {GREEN if evaluated(name).cement else VERMILION, BLACK} <= set().union(*dots.values())
    assert all(len(colours) == 1 for colours in dots.values()), dots
    solid = {s.style.fill for s in everything if isinstance(s, Path) and s.style.fill}
    assert GREEN not in solid
    assert VERMILION not in solid
    letters = sum(isinstance(s, Text) and len(s.text) == 1 and s.text.isalpha() for s in everything)
    assert letters >= len(flags(page(name, "fitted")))


def test_a_volume_above_the_track_says_so_and_a_log_is_one_bracket():
    [above] = [g for g in page("many findings", "fitted").groups if g.part == "volumes.above liner top"]
    assert [s.text[0] for s in above.shapes if isinstance(s, Text)] == [
        "a",
        "\u2191",
    ]  # named, and pointed at
    evaluation = evaluated("caliper log")
    spaces = [space for space in evaluation.volumes.spaces if space.name == "open hole"]
    shown = [g for g in page("caliper log", "fitted").groups if g.part == "volumes.open hole"]
    assert len(spaces) > 40
    assert len(shown) == 1
    total = number(sum(space.m3 for space in spaces), "volume", "field", THIN)
    assert total in [s.text for s in shown[0].shapes if isinstance(s, Text)]


@pytest.mark.parametrize("scale", SCALES)
def test_ten_tops_are_all_named_and_each_is_tied_to_its_depth(scale):
    scene, paper = page("ten tops", scale), _frame("ten tops", scale)
    tops = evaluated("ten tops").plan.formation.tops
    groups = {group.title: group for group in scene.groups if group.part == "formation"}

    assert len(tops) == 10
    for top in tops:
        texts = [s.text for s in groups[top.name].shapes if isinstance(s, Text)]
        assert texts[0] == number(top.md_m, "depth", "field", THIN)
        assert "".join(texts[1:]).replace(" ", "") == top.name.replace(" ", "")
        ties = [s for s in groups[top.name].shapes if isinstance(s, Path) and len(s.runs) == 1]
        assert ties[-1].runs[0][0][1] == pytest.approx(paper.y(top.md_m))


@pytest.mark.parametrize(
    ("known_by", "known"),
    [
        ("bond log", True),
        ("returns at surface", True),
        ("tagged with a bit", True),
        ("temperature logs, 2019", True),
        ("geologist's guess", False),
        ("volume out of the catalogue", False),
        ("no log run", False),
        ("not logged", False),
        ("estimated from returns", False),
        ("best guess", False),
        ("calculated, full returns", False),
        ("stage tool", False),
    ],
)
def test_a_top_of_cement_is_known_only_when_somebody_saw_it(known_by, known):
    """In the well it is a heavy line, else a dashed one; the label of one that is not known says "estimated"."""
    old = "known by: bond log"
    text = pathlib.Path("wells/fallow-6.yaml").read_text(encoding="utf-8")
    assert text.count(old) == 1
    pages = sheet(check(load_text(text.replace(old, f'known by: "{known_by}"')))).scenes
    groups = [group for scene in pages for group in scene.groups]
    of_casing = [s for g in groups if g.part == "strings.production casing" for s in g.shapes]
    heavy = [s for s in of_casing if isinstance(s, Path) and s.style.width_mm == HEAVY_MM]
    told = " ".join(s.text for s in of_casing if isinstance(s, Text))

    assert bool(heavy) is known
    assert re.search(r"\bestimated\b", told) is None if known else re.search(r"\bestimated\b", told)
