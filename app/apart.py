"""Pictures to learn from: the liner assembly taken apart, named or lettered, and the well at a step."""

from __future__ import annotations

import math

from app.practice import letter, sizes
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import LinerPart
from schematic.drawing import glyphs_liner
from schematic.drawing.captions import GAP_MM, THIN, wrap
from schematic.drawing.column import part_shapes
from schematic.drawing.fills import Rect, zigzag
from schematic.drawing.frame import Frame
from schematic.drawing.palette import BLACK, BLUE, CENTRE_DASH_MM, FINE_MM, GREY, WHITE
from schematic.drawing.scale import true_scale
from schematic.drawing.scene import Group, Path, Scene, Shape, Sheet, Style, Text
from schematic.drawing.section import Place
from schematic.drawing.step_well import well_at_step
from schematic.drawing.text import width_mm
from schematic.job.card import Card
from schematic.units import number, sentence_case, unit_of

NOT_THE_PLAN = "PRACTICE COPY, not the plan"

_WIDTH_MM = 158.0
_BODY_MM = 120.0  # all parts together, where they have room
_LEAST_ROW_MM, _MOST_ROW_MM = 9.6, 16.0
_BETWEEN_MM = 2.6  # of one part and the next
_HEAD_MM = 6.0
_AXIS_MM, _HALF_MM = 44.0, 15.5
_DEPTH_MM, _LEADER_MM, _WORDS_MM = 23.0, 63.0, 72.0
_NAME_PT, _LINE_PT, _PITCH_MM = 9.5, 8.5, 3.9
_CUT_MM = 1.6
_STEP_MM = (128.0, 116.0)
TALL_MM = (93.0, 149.0)  # a paper beside the figures of a step: its letters come to 10 px on a low screen


def apart(evaluation: Evaluation, lettered: bool = False) -> Scene:
    """The liner's parts from the top down, drawn apart, diameters true; lettered, no name is told."""
    liner, system = evaluation.plan.depth.liner, evaluation.plan.identity.system
    count = len(liner.parts)
    row = min(max(_BODY_MM / count, _LEAST_ROW_MM), _MOST_ROW_MM)
    widest = max([liner.od_m, *(max(part.od_m or 0.0, part.coupling_od_m or 0.0) for part in liner.parts)])
    ratio = math.ceil(500.0 * widest / _HALF_MM)
    head = Text(_DEPTH_MM, 3.6, f"top, {unit_of('tally', system)} MD", _LINE_PT, colour=GREY, anchor="end")
    foot = _HEAD_MM + row * count
    axis = Path((((_AXIS_MM, _HEAD_MM - 2.0), (_AXIS_MM, foot)),), Style(GREY, FINE_MM, dash=CENTRE_DASH_MM))
    groups = [Group("", "head and axis", (head, axis))]
    for place, part in enumerate(liner.parts):
        top = _HEAD_MM + row * place
        frame = Frame(
            true_scale(
                part.top_md_m, max(part.bottom_md_m, part.top_md_m + 0.01), top, top + row - _BETWEEN_MM
            ),
            "true",
            ratio,
            _AXIS_MM,
            system,
        )
        name = f"Part {letter(place)}" if lettered else _name(part)
        groups.append(Group(part.path, name, _body(part, evaluation, frame)))
        groups.append(Group("", f"top of {name}", _depth(part, frame)))
        groups.append(Group(part.path, f"{name}, in words", _label(part, evaluation, frame, name, lettered)))
    height = foot + 2.0
    if lettered:
        groups.append(_practice_band(_WIDTH_MM))
    title = NOT_THE_PLAN if lettered else "The liner taken apart"
    return Scene(_WIDTH_MM, height, title, "Diameters are to scale, heights are not", tuple(groups))


def _name(part: LinerPart) -> str:
    name = sentence_case(part.name)
    return f"{name}s, {part.joints}" if part.kind == "joint" and part.joints > 1 else name


def _body(part: LinerPart, evaluation: Evaluation, frame: Frame) -> tuple[Shape, ...]:
    """A part as it is run in; of a run of joints the first and the last."""
    if part.kind == "joint":
        liner = evaluation.plan.depth.liner
        outer, inner = frame.r(part.od_m or liner.od_m), frame.r(part.id_m or liner.id_m)
        coupling = frame.r(part.coupling_od_m) if part.coupling_od_m else outer + 0.25
        top, bottom = frame.y(part.top_md_m), frame.y(part.bottom_md_m)
        middle = 0.5 * (top + bottom)
        ends = Place(_AXIS_MM, top, middle - 0.5 * _CUT_MM), Place(_AXIS_MM, middle + 0.5 * _CUT_MM, bottom)
        upper = glyphs_liner.pup_joint(ends[0], outer, inner, coupling)
        lower = glyphs_liner.joints(ends[1], outer, inner, coupling, (ends[1].at(0.5),))
        half = coupling + 1.5
        runs = tuple(
            zigzag(_AXIS_MM - half, _AXIS_MM + half, level, (_AXIS_MM - outer, _AXIS_MM + outer))
            for level in (ends[0].bottom_mm, ends[1].top_mm)
        )
        return (*upper, *lower, Path(runs, Style(stroke=BLACK, width_mm=FINE_MM)))
    host = frame.r(evaluation.plan.depth.host.id_m)
    return part_shapes(part, evaluation, frame, host, hanger_set=False, packer_set=False, external_set=False)


def _depth(part: LinerPart, frame: Frame) -> tuple[Shape, ...]:
    """Where the top of a part is, and the leader to its words."""
    middle = 0.5 * (frame.y(part.top_md_m) + frame.y(part.bottom_md_m))
    figure = number(part.top_md_m, "tally", frame.system, THIN)
    line = ((_LEADER_MM, middle), (_WORDS_MM - GAP_MM, middle))
    return (
        Text(_DEPTH_MM, middle + 0.9, figure, _LINE_PT, colour=GREY, anchor="end"),
        Path((line,), Style(stroke=GREY, width_mm=FINE_MM)),
    )


def _label(
    part: LinerPart, evaluation: Evaluation, frame: Frame, name: str, lettered: bool
) -> tuple[Shape, ...]:
    """The name of a part, and its sizes."""
    middle = 0.5 * (frame.y(part.top_md_m) + frame.y(part.bottom_md_m))
    room = _WIDTH_MM - _WORDS_MM
    names = wrap(name, room, bold=True, size_pt=_NAME_PT)
    called = names[0] if len(names) == 1 else f"{names[0]}\u2026"
    line = wrap(sizes(evaluation, part), room, size_pt=_LINE_PT)[0]
    base = middle - 0.4
    return (
        Text(_WORDS_MM, base, called, _NAME_PT, bold=True, colour=BLACK if lettered else BLUE),
        Text(_WORDS_MM, base + _PITCH_MM, line, _LINE_PT),
    )


def at_step(
    evaluation: Evaluation,
    card: Card,
    before: Card | None,
    paper_mm: tuple[float, float] = _STEP_MM,
    practised: bool = False,
) -> Scene:
    """The well at a step on a paper of a width and height; for practice it says that it is a copy."""
    width, height = paper_mm
    top = 8.0 if practised else 2.0
    drawn = well_at_step(
        evaluation,
        card.scene,
        Rect(2.0, top, width - 2.0, height - 2.0),
        evaluation.plan.identity.system,
        before.scene if before else None,
    )
    band = [_practice_band(width)] if practised else []
    return Scene(width, height, card.title, "The well at this step", (*drawn.groups, *band))


def _practice_band(right_mm: float) -> Group:
    """What a practice paper wears in its corner."""
    left = right_mm - width_mm(NOT_THE_PLAN, _LINE_PT, bold=True) - 4.0
    box = ((left, 0.4), (right_mm, 0.4), (right_mm, 5.4), (left, 5.4))
    words = Text(right_mm - 2.0, 3.8, NOT_THE_PLAN, _LINE_PT, bold=True, colour=WHITE, anchor="end")
    return Group("", NOT_THE_PLAN, (Path((box,), Style(fill=BLACK), closed=True), words))


def svg(scene: Scene) -> bytes:
    """A scene as the page shows it."""
    return verbs.render(Sheet((scene,)), ".svg")[0]
