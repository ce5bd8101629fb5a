"""What both label columns share: the label, wrapping, and leaders from texts to what they name."""

from __future__ import annotations

import math
import re
from itertools import combinations, pairwise
from typing import NamedTuple, get_args

from schematic.depth.plan import Datum
from schematic.drawing.labels import cross, leaders, meets
from schematic.drawing.palette import BLACK, FINE_MM, GREY
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Style, Text
from schematic.drawing.text import Box, box_mm, width_mm
from schematic.units import KINDS, System, show, unit_of

SMALL_PT = 6.5
PITCH_MM = 2.75
GAP_MM = 0.85
DOT_MM = 0.38
X_HEIGHT_MM = 0.62  # from the baseline up to where a leader leaves the text
THIN = "\u2009"
NO_BREAK = "\u00a0"
ASSUMED = "\u2248"  # before a figure that follows from assumed lengths
_UNITS = {unit_of(kind, system) for kind in KINDS for system in get_args(System)} - {""} | {"m\u00b3"}
_JOINS = re.compile(rf"(?<=\d) (?=\d+/\d|(?:{'|'.join(map(re.escape, sorted(_UNITS)))})(?!\w))")
_LANE_MM = 0.4
_SIDE_MM = 0.55  # from one steep leader to the next
_STEEP = 2.0  # so many times further up than across


def height_words(datum: Datum, system: System) -> str:
    """How high the datum is above its level; said where the file does not say."""
    if datum.height_m is None:
        return f"height above {datum.above} not given"
    return f"{show(datum.height_m, 'depth', system, THIN)} above {datum.above}"


def wrap(text: str, room_mm: float, bold: bool = False, size_pt: float = SMALL_PT) -> tuple[str, ...]:
    """A text in lines that fit; a word too long by itself is cut behind a hyphen, else between letters.

    A size, a figure with its unit ("4 1/2 in 13.5 lb/ft" has one place to break) and what a no-break space
    joins stay on one line, and are printed with plain spaces; only what is wider than a line is cut there.
    """
    if width_mm(text, size_pt, bold) <= room_mm:
        return (text.replace(NO_BREAK, " "),)
    lines: list[str] = []
    current = ""
    for word in _JOINS.sub(NO_BREAK, text).split(" "):
        trial = f"{current} {word}" if current else word
        if width_mm(trial, size_pt, bold) <= room_mm:
            current = trial
            continue
        if current:
            lines.append(current)
        while width_mm(word, size_pt, bold) > room_mm and len(word) > 1:
            cut = next(
                n
                for n in range(len(word) - 1, 0, -1)
                if n == 1 or width_mm(word[:n], size_pt, bold) <= room_mm
            )
            cut = max(word.rfind("-", 0, cut), word.rfind(NO_BREAK, 0, cut + 1)) + 1 or cut
            lines.append(word[:cut].removesuffix(NO_BREAK))
            word = word[cut:]
        current = word
    if current or not lines:
        lines.append(current)
    return tuple(line.replace(NO_BREAK, " ") for line in lines)


class Label(NamedTuple):
    """A block of lines that names something, the first few bold. *low* to *high* is where it may point to."""

    part: str
    lines: tuple[str, ...]
    bold: int
    low_md_m: float
    high_md_m: float
    end_mm: float  # where its leader ends


def with_leaders(
    labels: list[Label], starts: list[Point], ends: list[Point], texts: list[list[Shape]], knee: float
) -> list[Group]:
    """Labels with their leaders, each a group of its part."""
    boxes = [box_mm(shape) for shapes in texts for shape in shapes if isinstance(shape, Text)]
    lines = _side_by_side(_lines(starts, ends, knee, boxes), boxes)
    style = Style(stroke=GREY, width_mm=FINE_MM)
    drawn = [
        Group(
            label.part,
            label.lines[0],
            (Path((line,), style), Dots((line[-1],), DOT_MM, Style(fill=BLACK)), *shapes),
        )
        for label, line, shapes in zip(labels, lines, texts, strict=True)
    ]
    return drawn


def _lines(starts: list[Point], ends: list[Point], knee: float, boxes: list[Box]) -> list[tuple[Point, ...]]:
    """The leaders of a column. What sticks out beyond the knee is met straight from the text."""
    beyond = [start[0] <= knee and end[0] < knee for start, end in zip(starts, ends, strict=True)]
    near = [index for index, far in enumerate(beyond) if not far]
    bent = iter(leaders([starts[i] for i in near], knee, [ends[i] for i in near]))
    lines = [
        _beside(start, (max(end[0], start[0] + 0.8), end[1]), boxes) if far else next(bent)
        for start, end, far in zip(starts, ends, beyond, strict=True)
    ]
    return _untangled(lines, ends, knee, boxes) if any(beyond) else lines


def _side_by_side(lines: list[tuple[Point, ...]], boxes: list[Box]) -> list[tuple[Point, ...]]:
    """Steep leaders up from one knee to the right of their texts, which would run up one line, side by side.

    The lowest keeps its knee; each above it has its own further left, as far as texts and leaders allow.
    """
    lines = list(lines)
    below: tuple[Point, ...] | None = None
    for index in range(len(lines) - 1, -1, -1):
        line = lines[index]
        if len(line) < 3 or not line[0][0] < line[1][0] <= line[2][0]:
            continue
        (start, knee, turn), rest = line[:3], line[3:]
        if knee[1] - turn[1] < _STEEP * (turn[0] - knee[0]) or knee[1] - turn[1] < PITCH_MM:
            continue
        if below is not None and below[2][1] < knee[1]:
            moved = (start, (below[1][0] - _SIDE_MM, knee[1]), turn, *rest)
            others = [line for other, line in enumerate(lines) if other != index]
            clear = not any(meets(moved[1], turn, box) for box in boxes)
            if moved[1][0] > start[0] and clear and not any(cross(moved, other) for other in others):
                lines[index] = moved
        below = lines[index]
    return lines


def _untangled(
    lines: list[tuple[Point, ...]], ends: list[Point], knee: float, boxes: list[Box]
) -> list[tuple[Point, ...]]:
    """Leaders that cross led another way, one by one: the shortest that is clear of texts and leaders."""
    for _ in range(4):
        pairs = [pair for pair in combinations(range(len(lines)), 2) if cross(*(lines[i] for i in pair))]
        if not pairs:
            break
        for index in sorted({index for pair in pairs for index in pair}):
            others = [line for other, line in enumerate(lines) if other != index]
            ways = [lines[index], *_ways(lines[index][0], ends[index], knee)]
            lines[index] = min(ways, key=lambda way: _trouble(way, others, boxes))
    return lines


def _ways(start: Point, end: Point, knee: float) -> list[tuple[Point, ...]]:
    """Ways from a text to an end above or below it: up a lane right of the text, then straight or level."""
    ways: list[tuple[Point, ...]] = [(start, end)]
    count = max(int((knee - start[0]) / _LANE_MM), 0)
    for lane in (start[0] + _LANE_MM * n for n in range(count + 1)):
        turn, last = (lane, start[1]), (max(end[0], lane), end[1])
        ways += [(start, turn, last), (start, turn, (lane, end[1]), last)]
    return ways


def _trouble(
    way: tuple[Point, ...], others: list[tuple[Point, ...]], boxes: list[Box]
) -> tuple[int, int, float]:
    """Texts that a leader runs through, leaders that it crosses, its length: the less the better."""
    struck = sum(any(meets(a, b, box) for a, b in pairwise(way)) for box in boxes)
    return struck, sum(cross(way, other) for other in others), sum(math.dist(a, b) for a, b in pairwise(way))


def _beside(start: Point, end: Point, boxes: list[Box]) -> tuple[Point, ...]:
    """A leader that goes up or down past the right ends of the texts that stand between its two levels."""
    low, high = sorted((start[1], end[1]))
    passed = [
        right
        for _left, top, right, bottom in boxes
        if top < high and bottom > low and not top <= start[1] <= bottom
    ]
    x = max(passed, default=0.0) + 0.6
    if x <= start[0]:
        return (start, end)
    turn = (x, start[1])
    return (start, turn, end) if x <= end[0] else (start, turn, (x, end[1]), end)
