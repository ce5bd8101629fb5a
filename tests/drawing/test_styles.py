"""Colour and grey share one geometry; in grey, what means different things differs in pattern."""

from __future__ import annotations

import math
from itertools import combinations
from statistics import median

import pytest

from schematic.drawing import column, palette, styles
from schematic.drawing.scene import Dots, Path, Scene, Shape, Style, Text
from schematic.verbs import demos, load_text, render, sheet
from tests.drawing.strokes import shapes

DIFFERS = 1.25  # a pitch or a radius this many times another is another pattern


def bare(scene: Scene) -> list[object]:
    """Everything of a page but its colours; that something is painted at all still counts."""
    left = []
    for group in scene.groups:
        left.append((group.part, group.title, group.description))
        for shape in group.shapes:
            if isinstance(shape, Text):
                left.append(shape._replace(colour=""))
            else:
                paint = (bool(shape.style.stroke), bool(shape.style.fill))
                left.append((shape._replace(style=shape.style._replace(stroke=None, fill=None)), paint))
    return left


def colours(scene: Scene) -> set[str]:
    found = set()
    for shape in shapes(scene):
        found |= {shape.colour} if isinstance(shape, Text) else {shape.style.stroke, shape.style.fill}
    return found - {None}


@pytest.mark.parametrize("name", demos())
def test_grey_is_the_same_drawing_in_other_inks(name):
    document = load_text(demos()[name])
    for scale in ("fitted", "true"):
        colour, grey = (sheet(document, scale, style=style).scenes for style in ("colour", "grey"))

        assert [(s.width_mm, s.height_mm, s.title) for s in colour] == [
            (s.width_mm, s.height_mm, s.title) for s in grey
        ]
        for one, other in zip(colour, grey, strict=True):
            assert bare(one) == bare(other)
        assert [colours(one) for one in colour] != [colours(one) for one in grey]


@pytest.mark.parametrize("name", demos())
def test_in_grey_nothing_has_a_hue(name):
    for scene in sheet(load_text(demos()[name]), style="grey").scenes:
        for colour in colours(scene):
            assert colour[1:3] == colour[3:5] == colour[5:7]


@pytest.mark.parametrize("colour", ["#000000", "#ffffff", "#595959", "#a6a6a6", "#ececec"])
def test_greys_stay_what_they_are(colour):
    assert styles.grey_of(colour) == colour


@pytest.mark.parametrize("colour", [palette.PRESSURE_GREY, "#56b4e9", "#cc79a7"])
def test_a_colour_without_an_ink_of_its_own_keeps_its_luminance(colour):
    grey = styles.grey_of(colour)

    assert styles.luminance(grey) == pytest.approx(styles.luminance(colour), abs=0.004)


def test_all_formats_draw_the_grey_style():
    pages = sheet(load_text(demos()["sketch.yaml"]), style="grey")

    assert palette.BLUE.encode() not in render(pages, ".svg")[0]
    assert render(pages, ".pdf")[0].startswith(b"%PDF")


class Pattern:
    """What an eye without colour sees of some shapes: their forms, directions, spacings and radii."""

    def __init__(self, made: list[Shape]) -> None:
        self.solid = any(
            isinstance(s, Path) and s.style.fill not in (None, palette.WHITE) and s.style.stroke is None
            for s in made
        )
        self.dots = {
            (s.style.fill is None, bool(s.style.stroke), s.radius_mm, pitch(s.centres))
            for s in made
            if isinstance(s, Dots)
        }
        self.lines = {
            (s.style.width_mm, s.style.dash, len({len(run) for run in s.runs}), direction(s))
            for s in made
            if isinstance(s, Path) and s.style.stroke
        }

    def differs(self, other: Pattern) -> bool:
        """Whether one can be told from the other."""
        if self.solid != other.solid or self.lines != other.lines or bool(self.dots) != bool(other.dots):
            return True
        pairs = [(one, two) for one in self.dots for two in other.dots]
        return bool(pairs) and all(
            one[:2] != two[:2] or apart(one[2], two[2]) or apart(one[3], two[3]) for one, two in pairs
        )


def apart(one: float, other: float) -> bool:
    return max(one, other) >= DIFFERS * min(one, other)


def pitch(centres: tuple[tuple[float, float], ...]) -> float:
    """Typical distance from a dot to its nearest neighbour."""
    if len(centres) < 2:
        return math.inf
    return median(min(math.dist(a, b) for b in centres if b is not a) for a in centres)


def direction(path: Path) -> str:
    """Whether its first leg is level, upright, rising or falling to the right."""
    (x0, y0), (x1, y1) = path.runs[0][:2]
    across, down = abs(x1 - x0), abs(y1 - y0)
    if down < 0.01 * across:
        return "level"
    if across < 0.01 * down:
        return "upright"
    return "falling" if (x1 - x0) * (y1 - y0) > 0 else "rising"


def legend_of(scene: Scene) -> dict[str, list[Shape]]:
    """The samples of the legend by their words: what is drawn to the left of them, on their level."""
    groups = [group for group in scene.groups if group.title == "legend"]
    made = [shape for group in groups for shape in group.shapes]
    samples: dict[str, list[Shape]] = {}
    for words in (shape for shape in made[1:] if isinstance(shape, Text) and len(shape.text) > 1):
        samples[words.text] = [s for s in made if not isinstance(s, Text) and _beside(s, words)]
    return samples


def _beside(shape: Path | Dots, words: Text) -> bool:
    points = shape.centres if isinstance(shape, Dots) else [p for run in shape.runs for p in run]
    x, y = points[0]
    return words.x_mm - 9.0 < x < words.x_mm and words.y_mm - 3.5 < y < words.y_mm + 2.0


@pytest.mark.parametrize("name", demos())
def test_in_grey_no_two_samples_of_the_legend_are_alike(name):
    for scene in sheet(load_text(demos()[name]), style="grey").scenes:
        samples = legend_of(scene)
        assert all(samples.values())
        for one, other in combinations(samples, 2):
            assert Pattern(samples[one]).differs(Pattern(samples[other])), (one, other)


def textures() -> dict[str, tuple[float, float, bool]]:
    """Pitch, radius and openness of every fill of dots that the column uses."""
    found = {
        "cement in place": (*column.OLD_CEMENT, False),
        "to be reversed out": (column.REVERSED_PITCH_MM, column.RING_MM, True),
        "highest top": (column.HIGHEST_PITCH_MM, column.RING_MM, True),
    }
    for count, pitches in column.SLURRY_PITCH_MM.items():
        for n, each in enumerate(pitches):
            found[f"slurry {n + 1} of {count}"] = (each, column.JOB_DOT_MM, False)
    return found


def _in_one_well(one: str, other: str) -> bool:
    return not (one.startswith("slurry") and other.startswith("slurry")) or one[-1] == other[-1]


@pytest.mark.parametrize(
    ("one", "other"), [pair for pair in combinations(textures(), 2) if _in_one_well(*pair)]
)
def test_dots_that_mean_different_things_differ_without_colour(one, other):
    """Slurries of one job among one another, and each against the other cements."""
    first, second = textures()[one], textures()[other]

    assert first[2] != second[2] or apart(first[0], second[0]) or apart(first[1], second[1])


def test_alike_samples_are_found():
    """The comparison itself: the same dots, and dots of nearly the same pitch, are alike."""

    def dotted(step: float) -> Pattern:
        return Pattern([Dots(tuple((step * n, 0.0) for n in range(9)), 0.15, Style(fill=palette.GREY))])

    assert not dotted(1.0).differs(dotted(1.1))
    assert dotted(1.0).differs(dotted(1.3))
