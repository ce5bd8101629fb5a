"""Tracks on the depth scale of the main column: volumes by space, and rock."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.drawing import rock
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN, wrap
from schematic.drawing.fills import Rect
from schematic.drawing.frame import Frame
from schematic.drawing.labels import ColumnTooFullError, Wanted, place
from schematic.drawing.palette import BLACK, FINE_MM, GREY, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.engineering.volumes import ABOVE, LAP, LINER, LINER_FROM_TOP, OPEN_HOLE, RATHOLE, SHOE_TRACK
from schematic.units import System, number, unit_of

INSIDE_MM, OUTSIDE_MM = 150.6, 159.0
ROCK_MM = (189.2, 202.0)
_LINE = Style(stroke=BLACK, width_mm=FINE_MM)
_HALF_TICK_MM = 0.7


def unit_text(kind: str, system: System) -> str:
    """The unit of a kind as print writes it."""
    return unit_of(kind, system).replace("m3", "m\u00b3")


def volumes_track(
    evaluation: Evaluation, frame: Frame, system: System, head_mm: float, bottom_mm: float
) -> list[Group]:
    """Two columns of brackets that end at the very depths between which each volume is taken."""
    groups = [
        Group(
            "",
            "volumes",
            (
                Text(INSIDE_MM - 1.0, head_mm, f"Volume, {unit_text('volume', system)}", bold=True),
                Text(INSIDE_MM - 1.0, head_mm + PITCH_MM, "inside", colour=GREY),
                Text(OUTSIDE_MM - 0.8, head_mm + PITCH_MM, "outside", colour=GREY),
            ),
        )
    ]
    for x, names in (
        (INSIDE_MM, (LINER, LINER_FROM_TOP, SHOE_TRACK)),
        (OUTSIDE_MM, (ABOVE, LAP, OPEN_HOLE, RATHOLE)),
    ):
        spaces = [space for space in evaluation.volumes.spaces if space.name in names]
        spaces = [space for space in spaces if frame.y(space.bottom_md_m) - frame.y(space.top_md_m) > 0.05]
        middles = [0.5 * (frame.y(s.top_md_m) + frame.y(s.bottom_md_m)) - 0.5 * PITCH_MM for s in spaces]
        try:
            tops = place(middles, [PITCH_MM] * len(spaces), head_mm + PITCH_MM + 1.2, bottom_mm, 0.1)
        except ColumnTooFullError:
            continue
        for space, top in zip(spaces, tops, strict=True):
            y0, y1 = frame.y(space.top_md_m), frame.y(space.bottom_md_m)
            head = head_mm + PITCH_MM + 1.2  # a bracket that begins above the track is left open there
            ticks = [y for y in (y0, y1) if y >= head]
            runs = (
                ((x, max(y0, head)), (x, max(y1, head))),
                *(((x - _HALF_TICK_MM, y), (x + _HALF_TICK_MM, y)) for y in ticks),
            )
            figure = number(space.m3, "volume", system, THIN)
            shapes: tuple[Shape, ...] = (Path(runs, _LINE), Text(x + 1.1, top + 2.1, figure, backed=True))
            groups.append(Group(f"volumes.{space.name}", f"Volume: {space.name}, {figure}", shapes))
    return groups


_TEXTURES = {"shale": rock.shale, "marl": rock.marl, "limestone": rock.limestone, "sand": rock.sand}


def _unit(frame: Frame, rock_name: str, top_md_m: float, base_md_m: float, limit_mm: float) -> list[Shape]:
    """One stretch of rock in its texture, at least 0.9 mm high; nothing above the track's head."""
    left, right = ROCK_MM
    y0, y1 = max(frame.y(top_md_m), limit_mm), max(frame.y(base_md_m), limit_mm)
    if y1 <= y0:
        return []
    thin = y1 - y0 < 1.5
    y1 = max(y1, y0 + 0.9)
    shapes: list[Shape] = []
    if texture := _TEXTURES.get(rock_name):
        shapes.append(texture(Rect(left, y0, right, y1)))
    level = (((left, y0), (right, y0)), ((left, y1), (right, y1)))
    upright = (((left, y0), (left, y1)), ((right, y0), (right, y1)))
    shapes.append(Path(level, Style(stroke=BLACK, width_mm=OUTLINE_MM if thin else FINE_MM)))
    shapes.append(Path(upright, _LINE))
    return shapes


def rock_track(evaluation: Evaluation, frame: Frame, system: System, head_mm: float) -> list[Group]:
    """Rock units with name and top on white; nothing where the file names no tops."""
    tops = evaluation.plan.formation.tops
    bottom_md = frame.scale.bottom_md_m
    tops = tuple(top for top in tops if top.md_m < bottom_md)
    if not tops:
        return []
    left, right = ROCK_MM
    groups = [Group("formation", "Rock", (Text(left, head_mm, "Rock", bold=True),))]
    limit = head_mm + PITCH_MM + 1.0
    texts: list[tuple[str, ...]] = []
    wanted: list[float | Wanted] = []
    for index, top in enumerate(tops):
        end = tops[index + 1].md_m if index + 1 < len(tops) else bottom_md
        base = min(end, top.base_md_m) if top.base_md_m is not None else end
        shapes = _unit(frame, top.rock, top.md_m, base, limit)
        if base < end and index:  # a bed inside a unit: the unit goes on below it
            shapes += _unit(frame, tops[index - 1].rock, base, end, limit)
        fluid = f", {top.fluid}" if top.fluid not in ("", "none") and top.fluid not in top.name else ""
        lines = (number(top.md_m, "depth", system, THIN), *wrap(top.name + fluid, right - left - 0.2))
        y0, y1 = max(frame.y(top.md_m), limit), max(frame.y(base), limit)
        texts.append(lines)
        wanted.append(Wanted(y0 + 0.4, max(y1 - len(lines) * PITCH_MM - 0.4, y0 + 0.4)))
        groups.append(Group("formation", top.name, tuple(shapes)))
    try:
        levels = place(
            wanted, [len(lines) * PITCH_MM for lines in texts], limit, frame.scale.levels_mm[-1] + 6.0, 0.3
        )
    except ColumnTooFullError:
        return groups
    for lines, level in zip(texts, levels, strict=True):
        middle = 0.5 * (left + right)
        groups.append(
            Group(
                "formation",
                lines[-1],
                tuple(
                    Text(middle, level + 2.1 + PITCH_MM * row, line, anchor="middle", backed=True)
                    for row, line in enumerate(lines)
                ),
            )
        )
    return groups


def text_width(text: str, bold: bool = False) -> float:
    """Width of a text at the small size."""
    return width_mm(text, SMALL_PT, bold)
