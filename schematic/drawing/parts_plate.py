"""The parts plate: every glyph at two heights with its name and what the part does."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from schematic.catalogue.glossary import meaning
from schematic.drawing import glyphs_liner, glyphs_special, glyphs_tool, glyphs_top, glyphs_well
from schematic.drawing.captions import PITCH_MM, wrap
from schematic.drawing.fills import Rect, dots, hatch
from schematic.drawing.grid import A4, MARGIN_MM, Paper
from schematic.drawing.page import LARGE_PT, MEDIUM_PT, rule
from schematic.drawing.palette import BLACK, FINE_MM, GREEN, GREY, HEAVY_MM, LIGHT_GREY
from schematic.drawing.scene import Dots, Group, Path, Scene, Shape, Sheet, Style, Text
from schematic.drawing.section import Place
from schematic.drawing.title_block import CAUTION, NOT_A_BASIS

_TALL_MM, _LOW_MM = 27.0, 3.2
_TALL_AT_MM, _LOW_AT_MM = 9.4, 27.9  # the axes, from the left of a cell
_CELL_MM, _COLUMNS = 50.0, 5
_TOP_MM = 27.0
# radii on paper: a 7 in liner in 9 5/8 in casing at 1:16, and drill pipe of 5 in
_R = 25.4 / 32.0
_BODY, _BORE, _COUPLING = 7.0 * _R, 6.184 * _R, 7.656 * _R
_HANGER, _HOST, _HOST_OD, _WALL = 8.312 * _R, 8.681 * _R, 9.625 * _R, 8.8 * _R
_PIPE, _PIPE_BORE, _TOOL_JOINT = 5.0 * _R, 4.276 * _R, 6.625 * _R

Draw = Callable[[Place], tuple[Shape, ...]]


class Entry(NamedTuple):
    """A name, the word of the glossary that explains it, and how it is drawn."""

    name: str
    term: str
    draw: Draw


def _in_host(draw: Draw) -> Draw:
    """The same inside the host casing, which is drawn as a thin pair outside."""
    return lambda p: (*glyphs_well.casing(p, _HOST_OD, _HOST), *draw(p))


def _beside_wall(draw: Draw) -> Draw:
    """The same in open hole."""
    return lambda p: (*_hole(p, wavy=False), *draw(p))


def _hole(place: Place, *, wavy: bool) -> tuple[Shape, ...]:
    step = glyphs_well.HoleStep(place.top_mm, place.bottom_mm, _WALL, wavy)
    return glyphs_well.hole(place.axis_mm, (step,), to_bottom=False)


def _opened(place: Place) -> tuple[Shape, ...]:
    middle = place.at(0.45)
    steps = (
        glyphs_well.HoleStep(place.top_mm, middle, 0.78 * _WALL, False),
        glyphs_well.HoleStep(middle, place.bottom_mm, _WALL, False),
    )
    return glyphs_well.hole(place.axis_mm, steps, to_bottom=False)


def _joint(place: Place) -> tuple[Shape, ...]:
    return glyphs_liner.joints(place, _BODY, _BORE, _COUPLING, (place.at(0.5),))


def _mechanical(place: Place) -> tuple[Shape, ...]:
    shapes = glyphs_top.hanger(place, _HANGER, _BODY, _BORE, _HOST, is_set=True, drag=True)
    return (*shapes, *glyphs_special.mechanical_hanger_drag(place, _BODY, _HOST))


def _dotted(pitch_mm: float, *, ring: bool = False) -> Draw:
    def draw(place: Place) -> tuple[Shape, ...]:
        rect = Rect(place.axis_mm - _HOST, place.top_mm, place.axis_mm + _HOST, place.bottom_mm)
        radius = 0.30 if ring else 0.155
        style = Style(stroke=GREEN, width_mm=FINE_MM) if ring else Style(fill=GREEN)
        return (Dots(dots(rect, pitch_mm, radius, clear_mm=0.06), radius, style),)

    return draw


def _old_cement(place: Place) -> tuple[Shape, ...]:
    rect = Rect(place.axis_mm - _HOST, place.top_mm, place.axis_mm + _HOST, place.bottom_mm)
    return (Dots(dots(rect, 1.25, 0.15), 0.15, Style(fill=BLACK)),)


def _spacer(place: Place) -> tuple[Shape, ...]:
    x0, x1 = place.axis_mm - _HOST, place.axis_mm + _HOST
    outline = ((x0, place.top_mm), (x1, place.top_mm), (x1, place.bottom_mm), (x0, place.bottom_mm))
    return (Path(hatch(outline, 1.6, rising=False), Style(stroke=GREY, width_mm=FINE_MM)),)


def _cement_top(known: bool, colour: str = BLACK) -> Draw:
    def draw(place: Place) -> tuple[Shape, ...]:
        top = glyphs_well.cement_top(place.axis_mm, place.at(0.4), _BODY, _HOST, known=known, colour=colour)
        return (*glyphs_well.casing(place, _HOST_OD, _HOST), *_joint(place), *top)

    return draw


def _ball(place: Place) -> tuple[Shape, ...]:
    collar = glyphs_liner.landing_collar(place, _COUPLING, _BORE, 1.6 * _R, ball_seat=True)
    return (*collar, *glyphs_liner.ball_on_seat(place, _BORE, 1.6 * _R, 2.2 * _R))


ENTRIES: tuple[Entry, ...] = (
    Entry("conductor, casing", "conductor", lambda p: glyphs_well.casing(p, _HOST_OD, _HOST)),
    Entry(
        "casing shoe",
        "casing shoe",
        lambda p: (
            *glyphs_well.casing(p, _HOST_OD, _HOST),
            *glyphs_well.casing_shoe(p.axis_mm, p.bottom_mm, _HOST_OD, 2.0, p.height_mm),
        ),
    ),
    Entry("hole at bit size", "open hole", lambda p: _hole(p, wavy=False)),
    Entry("hole opened below", "under-reaming", _opened),
    Entry("hole washed out", "washout", lambda p: _hole(p, wavy=True)),
    Entry("float shoe", "float shoe", lambda p: glyphs_liner.float_shoe(p, _COUPLING, 2.4 * _R)),
    Entry(
        "float shoe, two valves", "float shoe", lambda p: glyphs_liner.float_shoe(p, _COUPLING, 2.4 * _R, 2)
    ),
    Entry("guide shoe", "guide shoe", lambda p: glyphs_liner.float_shoe(p, _COUPLING, 2.4 * _R, 0)),
    Entry(
        "reamer shoe", "reamer shoe", lambda p: glyphs_liner.float_shoe(p, _COUPLING, 2.4 * _R, reamer=True)
    ),
    Entry("float collar", "float collar", lambda p: glyphs_liner.float_collar(p, _COUPLING, 2.4 * _R)),
    Entry(
        "landing collar, latch",
        "landing collar",
        lambda p: glyphs_liner.landing_collar(p, _COUPLING, _BORE, 2.4 * _R, ball_seat=False),
    ),
    Entry("ball on its seat", "ball seat", _ball),
    Entry("joint", "joint", _joint),
    Entry("pup joint", "pup joint", lambda p: glyphs_liner.pup_joint(p, _BODY, _BORE, _COUPLING)),
    Entry(
        "centralizer",
        "centralizer",
        _beside_wall(lambda p: (*_joint(p), *glyphs_special.centralizer(p, _BODY, _WALL))),
    ),
    Entry("crossover", "crossover", lambda p: glyphs_special.crossover(p, _BODY, _BORE, 5.5 * _R, 4.9 * _R)),
    Entry("swivel", "swivel", lambda p: glyphs_special.swivel(p, _COUPLING, _BORE)),
    Entry(
        "hydraulic hanger, run in",
        "hydraulic-set",
        _in_host(lambda p: glyphs_top.hanger(p, _HANGER, _BODY, _BORE, _HOST, is_set=False)),
    ),
    Entry(
        "hydraulic hanger, set",
        "liner hanger",
        _in_host(lambda p: glyphs_top.hanger(p, _HANGER, _BODY, _BORE, _HOST, is_set=True)),
    ),
    Entry("mechanical hanger, set", "mechanical-set", _in_host(_mechanical)),
    Entry(
        "expandable, run in",
        "expandable hanger",
        _in_host(lambda p: glyphs_special.expandable_hanger(p, _COUPLING, _BORE, _HOST, is_set=False)),
    ),
    Entry(
        "expandable, set",
        "expandable hanger",
        _in_host(lambda p: glyphs_special.expandable_hanger(p, _COUPLING, _BORE, _HOST, is_set=True)),
    ),
    Entry(
        "packer, run in",
        "liner top packer",
        _in_host(lambda p: glyphs_top.packer(p, _HANGER, _BODY, _BORE, _HOST, is_set=False)),
    ),
    Entry(
        "packer, set",
        "liner top packer",
        _in_host(lambda p: glyphs_top.packer(p, _HANGER, _BODY, _BORE, _HOST, is_set=True)),
    ),
    Entry(
        "packer with hold-down",
        "hold-down slips",
        _in_host(lambda p: glyphs_top.packer(p, _HANGER, _BODY, _BORE, _HOST, is_set=True, hold_down=True)),
    ),
    Entry("setting sleeve", "setting sleeve", lambda p: glyphs_special.setting_sleeve(p, _COUPLING, _BORE)),
    Entry(
        "tie-back receptacle",
        "tie-back receptacle",
        _in_host(lambda p: glyphs_top.receptacle(p, 8.25 * _R, 7.375 * _R, _BORE)),
    ),
    Entry("debris barrier", "debris barrier", lambda p: glyphs_special.debris_barrier(p, 8.25 * _R, _BORE)),
    Entry(
        "stage collar, closed",
        "stage collar",
        lambda p: glyphs_special.stage_collar(p, 8.0 * _R, _BORE, is_open=False),
    ),
    Entry(
        "stage collar, open",
        "stage collar",
        lambda p: glyphs_special.stage_collar(p, 8.0 * _R, _BORE, is_open=True),
    ),
    Entry(
        "external packer, run in",
        "external packer",
        _beside_wall(
            lambda p: glyphs_special.external_packer(p, 8.0 * _R, _BODY, _BORE, _WALL, is_set=False)
        ),
    ),
    Entry(
        "external packer, set",
        "external packer",
        _beside_wall(lambda p: glyphs_special.external_packer(p, 8.0 * _R, _BODY, _BORE, _WALL, is_set=True)),
    ),
    Entry(
        "tie-back, seal stem",
        "tie-back",
        lambda p: (
            *glyphs_top.receptacle(p._replace(top_mm=p.at(0.3)), 8.25 * _R, 7.375 * _R, _BORE),
            *glyphs_tool.seal_stem(p._replace(bottom_mm=p.at(0.92)), 6.6 * _R, 5.9 * _R, 7.375 * _R),
        ),
    ),
    Entry(
        "running tool, dogs folded",
        "running tool",
        lambda p: glyphs_tool.running_tool(p, 4.2 * _R, 2.4 * _R, _BORE, dogs_out=False),
    ),
    Entry(
        "running tool, dogs out",
        "dogs",
        lambda p: glyphs_tool.running_tool(p, 4.2 * _R, 2.4 * _R, _BORE, dogs_out=True),
    ),
    Entry(
        "inner string, pack-off",
        "pack-off",
        lambda p: (
            *glyphs_liner.joints(p, _BODY, _BORE, _BODY),
            *glyphs_tool.pack_off(p, 3.5 * _R, 2.6 * _R, _BORE),
        ),
    ),
    Entry(
        "drill pipe, tool joint",
        "drill pipe",
        lambda p: glyphs_tool.drill_pipe(p, _PIPE, _PIPE_BORE, _TOOL_JOINT, 2.75 * _R),
    ),
    Entry(
        "heavy-weight pipe",
        "heavy-weight drill pipe",
        lambda p: glyphs_tool.heavy_weight(p, _PIPE, 3.0 * _R, 6.5 * _R, 5.5 * _R),
    ),
    Entry(
        "ball", "ball", lambda p: glyphs_tool.ball(p.axis_mm, p.at(0.5), min(1.75 * _R, 0.5 * p.height_mm))
    ),
    Entry(
        "dart in drill pipe",
        "dart",
        lambda p: (
            *glyphs_tool.drill_pipe(p, _PIPE, _PIPE_BORE, _PIPE, _PIPE_BORE),
            *glyphs_tool.dart(p._replace(top_mm=p.at(0.1), bottom_mm=p.at(0.9)), _PIPE_BORE),
        ),
    ),
    Entry(
        "wiper plug",
        "wiper plug",
        lambda p: (
            *glyphs_liner.joints(p, _BODY, _BORE, _BODY),
            *glyphs_liner.wiper_plug(p._replace(top_mm=p.at(0.15), bottom_mm=p.at(0.85)), _BORE),
        ),
    ),
    Entry(
        "perforations",
        "perforations",
        lambda p: (
            *glyphs_liner.joints(p, _BODY, _BORE, _BODY),
            *glyphs_special.perforations(p, _BORE, _WALL),
        ),
    ),
    Entry("cement top known", "top of cement", _cement_top(True)),
    Entry("cement top estimated", "top of cement", _cement_top(False)),
    Entry("cement top planned", "top of cement", _cement_top(False, GREEN)),
    Entry("cement in place", "cement in place", _old_cement),
    Entry("lead slurry", "lead slurry", _dotted(0.95)),
    Entry("tail slurry", "tail slurry", _dotted(0.60)),
    Entry("cement to reverse out", "reverse circulation", _dotted(1.0, ring=True)),
    Entry("spacer", "spacer", _spacer),
)


def parts_plate(paper: Paper = A4) -> Sheet:
    """The plate on as many pages as it takes."""
    width = (paper.right_mm - MARGIN_MM) / _COLUMNS
    rows = int((paper.height_mm - 18.0 - _TOP_MM) / _CELL_MM)
    per_page = rows * _COLUMNS
    pages = [ENTRIES[i : i + per_page] for i in range(0, len(ENTRIES), per_page)]
    return Sheet(
        tuple(
            _page(entries, paper, width, f"sheet {number} of {len(pages)}")
            for number, entries in enumerate(pages, 1)
        )
    )


def _page(entries: tuple[Entry, ...], paper: Paper, width: float, place: str) -> Scene:
    head: list[Shape] = [
        Text(MARGIN_MM, 14.2, "Parts", LARGE_PT, bold=True),
        Text(34.0, 14.2, "as a sheet draws them, high and low on paper", MEDIUM_PT),
        Text(
            MARGIN_MM,
            20.0,
            "Blue solid stays in the well. Grey comes out. White with lines is soft or moves. "
            "Black grips, seals or stops. Section through the axis.",
        ),
        rule(22.4, HEAVY_MM, right=paper.right_mm),
        rule(paper.height_mm - 15.4, FINE_MM, right=paper.right_mm),
        *(
            Text(MARGIN_MM, paper.height_mm - 12.4 + PITCH_MM * row, text, bold=row == 0)
            for row, text in enumerate(
                (CAUTION, f"{NOT_A_BASIS} Every diameter is drawn to scale; heights are not.")
            )
        ),
        Text(paper.right_mm, paper.height_mm - 12.4 + PITCH_MM, place, anchor="end"),
    ]
    groups = [Group("", "head and caution", tuple(head))]
    for index, entry in enumerate(entries):
        left = MARGIN_MM + width * (index % _COLUMNS)
        top = _TOP_MM + _CELL_MM * (index // _COLUMNS)
        words = wrap(meaning(entry.term) or "", width - 2.4)
        shapes: list[Shape] = [Text(left, top + 2.2, entry.name, bold=True)]
        shapes += entry.draw(Place(left + _TALL_AT_MM, top + 4.6, top + 4.6 + _TALL_MM))
        low = top + 4.6 + 0.6 * _TALL_MM
        shapes += entry.draw(Place(left + _LOW_AT_MM, low, low + _LOW_MM))
        base = top + 8.4 + _TALL_MM
        shapes += [Text(left, base + PITCH_MM * row, word) for row, word in enumerate(words[:4])]
        if index % _COLUMNS:
            line = (((left - 1.4, top), (left - 1.4, top + _CELL_MM - 3.0)),)
            shapes.append(Path(line, Style(stroke=LIGHT_GREY, width_mm=FINE_MM)))
        groups.append(Group("", entry.name, tuple(shapes), meaning(entry.term) or ""))
    return Scene(
        paper.width_mm, paper.height_mm, f"Parts, {place}", "How a sheet draws the parts", tuple(groups)
    )
