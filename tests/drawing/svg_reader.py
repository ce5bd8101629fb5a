"""A sheet read back from its SVG with nothing but the file: groups, levels of lines, texts, and the ruler.

The ruler is read as a reader does: the depth of a tick is the figure beside it, blocks between two ticks are
counted, and within a block depth runs evenly.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from itertools import pairwise
from statistics import median_high
from typing import NamedTuple
from xml.etree import ElementTree

NS = "{http://www.w3.org/2000/svg}"
THIN = "\u2009"
_NUMBER = r"-?\d+(?:\.\d+)?"
_FIGURE = re.compile(rf"^\d{{1,3}}(?:{THIN}\d{{3}})*(?:\.\d+)?$")
MIDDLE_MM = 0.82  # from the level of a tick down to the baseline of its figure
AFTER_DETAILS = ("details", "rule", "legend", "title block")
SAME_MM = 0.003  # two levels of the file, each rounded to a thousandth

Point = tuple[float, float]


class Line(NamedTuple):
    """One path of the file: its runs, and how it is painted; circles are runs of their bare centre."""

    runs: tuple[tuple[Point, ...], ...]
    fill: str
    stroke: str
    width_mm: float
    circles: bool

    @property
    def points(self) -> list[Point]:
        """The points of all its runs."""
        return [point for run in self.runs for point in run]


class Words(NamedTuple):
    """One text of the file, and where it begins."""

    x: float
    y: float
    text: str
    fill: str
    upward: bool


class Part(NamedTuple):
    """One group of the file."""

    part: str
    title: str
    lines: tuple[Line, ...]
    words: tuple[Words, ...]

    @property
    def text(self) -> str:
        """All its words, wrapped lines joined."""
        return " ".join(words.text for words in self.words)


def read(svg: bytes) -> tuple[Part, ...]:
    """The groups of a page."""
    root = ElementTree.fromstring(svg)
    return tuple(
        Part(
            group.get("data-part", ""),
            group.get("aria-label", ""),
            tuple(_line(path) for path in group.iter(f"{NS}path")),
            tuple(_words(text) for text in group.iter(f"{NS}text")),
        )
        for group in root.iter(f"{NS}g")
    )


def drawings(parts: tuple[Part, ...]) -> dict[str, tuple[Part, ...]]:
    """The groups of a page by drawing: "" is the well beside its ruler, then each detail by its letter."""
    found: dict[str, list[Part]] = {"": []}
    letter = ""
    for part in parts:
        head = re.match(r"Detail (\w+): ", part.title)
        letter = head.group(1) if head else letter
        if letter and part.title in AFTER_DETAILS:
            break
        found.setdefault(letter, []).append(part)
    return {name: tuple(groups) for name, groups in found.items()}


def _words(text: ElementTree.Element) -> Words:
    upward = "rotate" in text.get("transform", "")
    return Words(float(text.get("x")), float(text.get("y")), text.text or "", text.get("fill", ""), upward)


def _line(path: ElementTree.Element) -> Line:
    data = path.get("d", "")
    dots = "h" in data  # strokes of next to no length with round ends
    circles = "a" in data
    runs = []
    for piece in data.split("M")[1:]:
        if dots:
            x, y = map(float, re.match(rf"({_NUMBER}) ({_NUMBER})h", piece).groups())
            runs.append(((x, y),))
        elif circles:  # "x ya r r 0 1 0 d 0 ...": begins at the left end of the circle
            x, y, radius = map(float, re.match(rf"({_NUMBER}) ({_NUMBER})a({_NUMBER})", piece).groups())
            runs.append(((x + radius, y),))
        else:
            places = re.findall(rf"({_NUMBER}) ({_NUMBER})", piece)
            runs.append(tuple((float(x), float(y)) for x, y in places))
    if dots:
        return Line(tuple(runs), path.get("stroke"), "none", 0.0, True)
    stroke = path.get("stroke", "none")
    width = float(path.get("stroke-width", 0.0)) if stroke != "none" else 0.0
    return Line(tuple(runs), path.get("fill", "none"), stroke, width, circles)


def figure(text: str) -> float | None:
    """The value of a printed figure, or None."""
    return float(text.replace(THIN, "")) if _FIGURE.match(text) else None


class Ruler(NamedTuple):
    """Levels with their depths in the unit of the sheet, from the top down.

    Within the grey panels each part has a scale of its own; elsewhere depth runs evenly between two marks.
    """

    levels: tuple[float, ...]
    depths: tuple[float, ...]
    ticks: tuple[tuple[float, float], ...]  # level, depth
    panels: tuple[tuple[float, float], ...]  # from level, to level

    def depth(self, y: float) -> float:
        """The depth at a level, evenly between two marks."""
        at = self._between(y)
        return self.depths[at] + (y - self.levels[at]) * self.per_mm(y)

    def per_mm(self, y: float) -> float:
        """How much depth one millimetre is, at a level."""
        at = self._between(y)
        return (self.depths[at + 1] - self.depths[at]) / (self.levels[at + 1] - self.levels[at])

    def block(self, y: float) -> float:
        """The length of the block at a level: what can be told there at least."""
        at = self._between(y)
        return self.depths[at + 1] - self.depths[at]

    def stretched(self, y: float) -> bool:
        """Whether a level is within a grey panel."""
        return any(top - SAME_MM < y < foot + SAME_MM for top, foot in self.panels)

    def _between(self, y: float) -> int:
        return min(max(bisect_right(self.levels, y) - 1, 0), len(self.levels) - 2)


def ruler(parts: tuple[Part, ...], title: str = "depth") -> Ruler:
    """The ruler of a page: its ticks with their figures, the edges of blocks between them, the ends of its fan."""
    [group] = [part for part in parts if part.title == title]
    black = [words for words in group.words if words.fill == "#000000" and figure(words.text) is not None]
    lines = [line for line in group.lines if not line.circles]
    short = [run for line in lines if line.stroke == "#000000" for run in line.runs if _level(run)]
    ticks = sorted(
        (run[0][1], figure(words.text))
        for words in black
        for run in short
        if abs(words.y - MIDDLE_MM - run[0][1]) < SAME_MM
    )
    marks = _fan(lines, ticks)
    right = max(
        x for run in short for x, _ in run
    )  # the ruler stands right of its ticks, the true strip left
    dark = [run for line in lines if line.fill == "#000000" for run in line.runs]
    for frame in (line.points for line in lines if line.fill == "none" and len(line.points) == 4):
        (x0, y0), (x1, y1) = frame[0], frame[2]
        blocks = [run for run in dark if run[0][0] == x0 and run[2][0] == x1]
        if x0 >= right:
            marks |= _counted(sorted({y for run in blocks for _x, y in run if y0 <= y <= y1}), ticks)
    marks |= dict(ticks)
    levels = sorted(marks)
    grounds = [line.points for line in lines if line.fill == "#ececec"]
    panels = [sorted({y for x, y in points if x == max(points)[0]}) for points in grounds]
    return Ruler(
        tuple(levels),
        tuple(marks[level] for level in levels),
        tuple(ticks),
        tuple((low, high) for low, high in panels),
    )


def _level(run: tuple[Point, ...]) -> bool:
    return len(run) == 2 and run[0][1] == run[1][1]


def _fan(lines: list[Line], ticks: list[tuple[float, float]]) -> dict[float, float]:
    """Levels where the scale changes, with their depths: the fan leads each to the true strip, which runs evenly."""
    runs = [run for line in lines if line.stroke == "#595959" for run in line.runs if len(run) == 3]
    (top, least), (foot, most) = ticks[0], ticks[-1]
    ends = {run[-1][1]: least + (most - least) * (run[0][1] - top) / (foot - top) for run in runs}
    near = {y: d for y, d in ends.items() if all(abs(y - level) > SAME_MM for level, _ in ticks)}
    return near if ends and {top, foot} <= ends.keys() else {}


def _counted(edges: list[float], ticks: list[tuple[float, float]]) -> dict[float, float]:
    """Depths of the edges of blocks between two ticks that stand at edges: all blocks are equally long.

    Blocks cut short, at the limits of a stretched interval, are told by not being so.
    """
    at = [(n, depth) for level, depth in ticks for n, edge in enumerate(edges) if abs(edge - level) < SAME_MM]
    pairs = list(pairwise(sorted(at)))
    steps = [(d1 - d0) / (n1 - n0) for (n0, d0), (n1, d1) in pairs]
    usual = median_high(steps) if steps else 0.0
    found = {}
    for ((n0, d0), (n1, _)), step in zip(pairs, steps, strict=True):
        if abs(step - usual) < 1e-6:
            found |= {edges[n]: d0 + step * (n - n0) for n in range(n0 + 1, n1)}
    return found
