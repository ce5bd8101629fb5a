"""The rock beside the well: a strip of textures on the depth scale, name and top of each unit next to it.

Names stand on white beside the strip, not on it, so that no texture or bed is cut by words; a line ties
each to the top it tells, and a unit too thin for its words is still named.
"""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import Top
from schematic.drawing import rock
from schematic.drawing.captions import PITCH_MM, THIN, X_HEIGHT_MM, wrap
from schematic.drawing.fills import Rect
from schematic.drawing.frame import Frame
from schematic.drawing.grid import Span
from schematic.drawing.labels import Wanted, place
from schematic.drawing.palette import BLACK, FINE_MM, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.units import System, number

_STRIP_AT = (0.35, 3.05)  # from the left of the column [mm]
_NAMES_AT = 4.2
GAP_MM = 0.3
_UP = "\u2191\u2009"
_THIN_BED_MM = 0.9  # least height on paper
_FIRST_ROW_MM = 2.1  # from the top of a label to its first baseline
_HEAD_MM = PITCH_MM + 1.0  # from the track's head to where the strip may begin
_FOOT_MM = 6.4  # below the scale, down to which names may run
_LINE = Style(stroke=BLACK, width_mm=FINE_MM)
_TEXTURES = {
    "coal": rock.coal,
    "dolomite": rock.dolomite,
    "limestone": rock.limestone,
    "marl": rock.marl,
    "salt": rock.salt,
    "sand": rock.sand,
    "shale": rock.shale,
}


def _shown(evaluation: Evaluation, frame: Frame) -> tuple[Top, ...]:
    """The units of which something lies in the drawn range."""
    tops = evaluation.plan.formation.tops
    ends = (*(top.md_m for top in tops[1:]), float("inf"))
    return tuple(
        top
        for top, end in zip(tops, ends, strict=bool(tops))
        if top.md_m < frame.scale.bottom_md_m and end > frame.scale.top_md_m
    )


def _lines(top: Top, column_mm: Span, system: System, *, above: bool = False) -> tuple[str, ...]:
    """Its top, with an arrow where that lies *above* the track, and its name."""
    fluid = f", {top.fluid}" if top.fluid not in ("", "none") and top.fluid not in top.name else ""
    words = wrap(top.name + fluid, column_mm[1] - column_mm[0] - _NAMES_AT)
    return (f"{_UP if above else ''}{number(top.md_m, 'depth', system, THIN)}", *words)


def rock_height(evaluation: Evaluation, frame: Frame, column_mm: Span, system: System) -> float:
    """Height below the track's head, down to the foot of the well zone, that all names need."""
    labels = [_lines(top, column_mm, system) for top in _shown(evaluation, frame)]
    names = sum(len(lines) * PITCH_MM + GAP_MM for lines in labels)
    return names + _HEAD_MM if labels else 0.0


def _unit(
    frame: Frame, strip_mm: Span, rock_name: str, top_md_m: float, base_md_m: float, limit_mm: float
) -> list[Shape]:
    """One stretch of rock in its texture, at least 0.9 mm high; nothing above the track's head."""
    left, right = strip_mm
    y0, y1 = max(frame.y(top_md_m), limit_mm), max(frame.y(base_md_m), limit_mm)
    if y1 <= y0:
        return []
    thin = y1 - y0 < 1.5
    y1 = max(y1, y0 + _THIN_BED_MM)
    shapes: list[Shape] = []
    if texture := _TEXTURES.get(rock_name):
        shapes.append(texture(Rect(left, y0, right, y1)))
    level = (((left, y0), (right, y0)), ((left, y1), (right, y1)))
    upright = (((left, y0), (left, y1)), ((right, y0), (right, y1)))
    shapes.append(Path(level, Style(stroke=BLACK, width_mm=OUTLINE_MM if thin else FINE_MM)))
    shapes.append(Path(upright, _LINE))
    return shapes


def rock_track(
    evaluation: Evaluation, frame: Frame, column_mm: Span, system: System, head_mm: float
) -> list[Group]:
    """Rock units with name and top; nothing where the file names no tops."""
    tops = _shown(evaluation, frame)
    if not tops:
        return []
    strip = (column_mm[0] + _STRIP_AT[0], column_mm[0] + _STRIP_AT[1])
    names = column_mm[0] + _NAMES_AT
    limit = head_mm + _HEAD_MM
    labels = [_lines(top, column_mm, system, above=frame.y(top.md_m) < limit) for top in tops]
    starts = [max(frame.y(top.md_m), limit) for top in tops]
    wanted: list[float | Wanted] = [y - _FIRST_ROW_MM + X_HEIGHT_MM for y in starts]
    heights = [len(lines) * PITCH_MM for lines in labels]
    levels = place(wanted, heights, limit - 0.8, frame.scale.levels_mm[-1] + _FOOT_MM, GAP_MM)
    groups = [Group("formation", "Rock", (Text(strip[0], head_mm, "Rock", bold=True),))]
    for index, (top, lines, level) in enumerate(zip(tops, labels, levels, strict=True)):
        end = tops[index + 1].md_m if index + 1 < len(tops) else frame.scale.bottom_md_m
        base = min(end, top.base_md_m) if top.base_md_m is not None else end
        shapes = _unit(frame, strip, top.rock, top.md_m, base, limit)
        if base < end and index:  # a bed inside a unit: the unit goes on below it
            shapes += _unit(frame, strip, tops[index - 1].rock, base, end, limit)
        row = level + _FIRST_ROW_MM - X_HEIGHT_MM
        tie = ((strip[1], starts[index]), (names - 0.4, row))
        shapes.append(Path((tie,), _LINE))
        shapes += [Text(names, level + _FIRST_ROW_MM + PITCH_MM * n, line) for n, line in enumerate(lines)]
        groups.append(Group("formation", top.name, tuple(shapes)))
    return groups
