"""A page with the detail of one depth range, as asked for: "9400 ft to 9560 ft"."""

from __future__ import annotations

import re

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, THIN, height_words, wrap
from schematic.drawing.fills import Rect
from schematic.drawing.page import MEDIUM_PT, fit
from schematic.drawing.palette import BLACK, OUTLINE_MM
from schematic.drawing.range_detail import range_detail
from schematic.drawing.scene import Group, Path, Scene, Shape, Style, Text
from schematic.drawing.title_block import CAUTION, NOT_A_BASIS
from schematic.units import System, UnitError, parse, show

FORM = '"9400 ft to 9560 ft"'
LEAST_M = 0.3
_MARGIN_MM = 8.0
_LONGEST = 60  # characters


class RangeError(ValueError):
    """A depth range that cannot be drawn; the message says what would be."""


def depth_range(text: str, evaluation: Evaluation) -> tuple[float, float]:
    """The two measured depths of a range such as "9400 ft to 9560 ft".

    Raises
    ------
    RangeError
        When it is none, upside down, too short, or not in the well.
    """
    shown = text if len(text) <= _LONGEST else text[:_LONGEST] + "\u2026"
    ends = re.split(r"\s+to\s+", text.strip()[: 3 * _LONGEST])
    if len(ends) != 2:
        raise RangeError(f"{shown!r} is no depth range; write it as {FORM}")
    try:
        top, bottom = (_depth_m(end) for end in ends)
    except UnitError as error:
        raise RangeError(f"{shown!r}: {error}; write a depth range as {FORM}") from None
    depth = evaluation.plan.depth
    deepest = max(depth.td_md_m, depth.liner.shoe_md_m)
    system = evaluation.plan.identity.system
    if not 0.0 <= top < bottom <= deepest + 0.005:
        well = f"0 to {show(deepest, 'depth', system)}"
        raise RangeError(f"{shown!r} does not lie in the well, {well} from the top down; write it as {FORM}")
    if bottom - top < LEAST_M:
        raise RangeError(f"{shown!r} is shorter than {show(LEAST_M, 'length', system)}; write it as {FORM}")
    return top, min(bottom, deepest)


def _depth_m(text: str) -> float:
    written = parse(text, "length")
    if written.low is not None:
        raise UnitError(text, "one depth", "leave out the tolerance")
    return written.si


def detail_page(
    evaluation: Evaluation,
    top_md_m: float,
    bottom_md_m: float,
    system: System,
    width_mm: float,
    height_mm: float,
) -> Scene:
    """The page of a range: which well, the detail, the caution."""
    identity = evaluation.plan.identity
    left, right = _MARGIN_MM, width_mm - _MARGIN_MM
    state = identity.state.upper()
    datum = f"{identity.datum.name}, {height_words(identity.datum, system)}"
    about = f"{state}. Depths: MD below {datum}. File {identity.file_hash}"
    lines = wrap(about, right - left)
    y = _MARGIN_MM + 3.4
    shapes: list[Shape] = [
        Text(left, y, fit(identity.name, right - left, MEDIUM_PT, True), MEDIUM_PT, bold=True)
    ]
    shapes += [Text(left, y + 3.6 + PITCH_MM * n, line) for n, line in enumerate(lines)]
    y += 3.6 + PITCH_MM * len(lines) - 0.9
    rule = Style(stroke=BLACK, width_mm=OUTLINE_MM)
    shapes.append(Path((((left, y), (right, y)),), rule))
    caution = (*wrap(CAUTION, right - left, bold=True), *wrap(NOT_A_BASIS, right - left))
    bold = len(wrap(CAUTION, right - left, bold=True))
    foot = height_mm - _MARGIN_MM - PITCH_MM * len(caution)
    shapes.append(Path((((left, foot - 0.6), (right, foot - 0.6)),), rule))
    shapes += [Text(left, foot + 2.1 + PITCH_MM * n, line, bold=n < bold) for n, line in enumerate(caution)]
    detail = range_detail(
        evaluation, top_md_m, bottom_md_m, Rect(left, y + 3.0, right, foot - 2.4), system, "A"
    )
    words = " to ".join(show(md, "depth", system, THIN) for md in (top_md_m, bottom_md_m))
    title = f"{identity.name}, detail {words}"
    description = f"Detail of {identity.name}, file {identity.file_hash}. {CAUTION} {NOT_A_BASIS}"
    groups = (Group("", "head and caution", tuple(shapes)), *detail.groups)
    return Scene(width_mm, height_mm, title, description, groups)
