"""What a sheet says in figures is what it shows: depths and diameters read back from its SVG alone.

A depth is read through the ruler of the page: ticks with their figures, and the equal blocks between them. The
resolution that the sheet states is one block of the ruler: within a block of a stretched interval each part has
its own scale. Where a block has one scale, a depth must read to the last printed digit.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import pytest

from schematic.verbs import check, demos, load_text, render, sheet, view
from tests.drawing.svg_reader import THIN, Part, Ruler, drawings, figure, read, ruler

BLUE = "#0072b2"
FILE_MM = 0.0006  # levels stand in the file to a thousandth
DIAMETER_MM = 0.1
SHOWN = re.compile(rf"(?:shoe|Top of cement|No-loss top|Kick-off|End of build) (\d[\d.{THIN}]*)")


class Told(NamedTuple):
    """A depth that the sheet prints, and the level at which it shows it."""

    what: str
    text: str
    level: float


class Drawing(NamedTuple):
    """A drawing with a ruler of its own."""

    name: str
    parts: tuple[Part, ...]
    ruler: Ruler
    told: tuple[Told, ...]


def page(name: str, scale: str, **manner: Any) -> tuple[Part, ...]:
    """The first page of a demo well, read from its SVG."""
    return read(render(sheet(load_text(demos()[name]), scale, **manner), ".svg")[0])


def bodies(parts: tuple[Part, ...], part: str) -> list[float]:
    """Levels of the steel of a liner part, or of all whose name begins so."""
    steel = [
        p
        for p in parts
        if not p.words and (p.part == part or (part.endswith(".") and p.part.startswith(part)))
    ]
    return [
        y
        for p in steel
        if any(line.fill == BLUE for line in p.lines)
        for line in p.lines
        for _x, y in line.points
    ]


def tops_of_liner_parts(parts: tuple[Part, ...]) -> Iterator[Told]:
    """The top of each part: the first of the figures beside its name, shown by the upper end of its body."""
    for label in parts:
        figures = [words.text for words in label.words if figure(words.text) is not None]
        if label.part.startswith("liner.assembly.") and len(label.words) >= 5:
            levels = bodies(parts, label.part)
            if levels:
                yield Told(f"top of {label.title}", figures[0], min(levels))


def shoe_of_the_liner(parts: tuple[Part, ...]) -> Iterator[Told]:
    """The shoe of the liner: printed below its parts, shown by the foot of the lowest body."""
    [shoe] = [part for part in parts if part.part == "liner.shoe"]
    printed = next(words.text for words in shoe.words if figure(words.text) is not None)
    yield Told("liner shoe", printed, max(bodies(parts, "liner.assembly.")))


def what_leaders_point_at(parts: tuple[Part, ...]) -> Iterator[Told]:
    """Shoes, tops of cement, ends of hole sections, kick-off: printed in the label, shown by the leader's dot."""
    for label in parts:
        dots = [line for line in label.lines if line.circles]
        found = SHOWN.search(label.text)
        if found and len(dots) == 1 and not label.part.startswith("liner.assembly."):
            yield Told(label.title, found.group(1), dots[0].points[0][1])


def tops_of_rock(parts: tuple[Part, ...]) -> Iterator[Told]:
    """Tops of rock units, all but the first, which may lie above the head of its track."""
    units = [part for part in parts if part.part == "formation" and len(part.words) > 1]
    for unit in units[1:]:
        flat = [run for line in unit.lines if line.stroke == "#000000" for run in line.runs]
        level = min(run[0][1] for run in flat if len(run) == 2 and run[0][1] == run[1][1])
        yield Told(f"top of {unit.title}", unit.words[0].text, level)


def on_screen(name: str, shows: str) -> tuple[Part, ...]:
    """The same well as a screen shows it."""
    return read(render(view(check(load_text(demos()[name])), shows), ".svg")[0])


def main_column(name: str, scale: str) -> Drawing:
    of, _, shows = scale.rpartition(" of ")
    parts = drawings(on_screen(name, shows) if of else page(name, scale))[""]
    kinds: tuple[Callable[[tuple[Part, ...]], Iterator[Told]], ...]
    kinds = (tops_of_liner_parts, shoe_of_the_liner, what_leaders_point_at, tops_of_rock)
    told = tuple(told for kind in kinds for told in kind(parts))
    return Drawing(f"{name}, {scale}", parts, ruler(parts), told)


READ = [(name, scale) for name in demos() for scale in ("fitted", "true")]
READ += [(name, f"screen of {scale}") for name in demos() for scale in ("fitted", "true")]
OVERLAP_MM = 0.05  # of one solid onto the next; the foot of the shoe reaches this far


def half_digit(text: str) -> float:
    """Half of the last printed digit."""
    return 0.5 * 10.0 ** -len(text.partition(".")[2])


@pytest.fixture(scope="module", params=READ, ids=lambda param: " ".join(param))
def drawing(request) -> Drawing:
    return main_column(*request.param)


def test_the_ruler_never_turns_round_and_its_figures_are_true(drawing):
    assert list(drawing.ruler.levels) == sorted(drawing.ruler.levels)
    assert list(drawing.ruler.depths) == sorted(set(drawing.ruler.depths))
    assert len(drawing.ruler.ticks) > 15


def test_every_depth_that_is_printed_is_shown_there(drawing):
    """To the last printed digit where a block has one scale, else within the block."""
    ruler = drawing.ruler
    assert len(drawing.told) > 10
    for what, text, level in drawing.told:
        least = half_digit(text) + min(half_digit(text), 0.05) + FILE_MM * 2.0 * ruler.per_mm(level)
        if what == "liner shoe":
            least += OVERLAP_MM * ruler.per_mm(level)
        within = max(ruler.block(level), least) if ruler.stretched(level) else least
        assert abs(ruler.depth(level) - figure(text)) <= within, (what, text, ruler.depth(level))


def test_both_scales_tell_the_same_depths():
    for name in demos():
        fitted, true = (main_column(name, scale) for scale in ("fitted", "true"))
        assert {(told.what, told.text) for told in fitted.told} == {
            (told.what, told.text) for told in true.told
        }


def test_a_shifted_part_is_found():
    """The reading itself can fail: a label moved by two millimetres tells another depth."""
    drawing = main_column("brindlewick-4.yaml", "true")
    told = next(told for told in drawing.told if told.what == "top of Hydraulic hanger")

    assert abs(drawing.ruler.depth(told.level + 2.0) - figure(told.text)) > 100.0


DETAILS = [(name, letter) for name in demos() for letter in "AB"]
CUT_MM = 1.5  # a body that begins or ends this near to the end of its detail is cut there
NAMED = re.compile(rf", (\d[\d.{THIN}]*) (ft|m)$")


def lengths_in_detail(parts: tuple[Part, ...]) -> list[tuple[str, str, float]]:
    """Each part of the liner that a detail does not cut: its name, its length as its group says, its height."""
    [axis] = [part for part in parts if part.title == "axis"]
    ends = [y for line in axis.lines for _x, y in line.points]
    found = []
    for part in parts:
        levels = bodies((part,), part.part)
        named = NAMED.search(part.title)
        whole = levels and min(levels) > min(ends) + CUT_MM and max(levels) < max(ends) - CUT_MM
        if part.part.startswith("liner.assembly.") and whole and named:
            found.append((part.title, named.group(1), max(levels) - min(levels)))
    return found


@pytest.mark.parametrize(("name", "letter"), DETAILS)
def test_a_detail_shows_every_length_at_the_one_scale_that_it_states(name, letter):
    """Depths of details are held against the plan in test_details; here lengths are read from the SVG alone."""
    every = [drawings(read(page)) for page in render(sheet(load_text(demos()[name])), ".svg")]
    [parts] = [found[letter] for found in every if letter in found]
    stated = figure(re.search(rf"depth 1:([\d{THIN}]+), dia", parts[0].text).group(1))
    lengths = lengths_in_detail(parts)
    unit_mm = 304.8 if lengths[0][0].endswith(" ft") else 1000.0

    assert len(lengths) >= 2
    longest, tallest = max((figure(text), height) for _title, text, height in lengths)
    per_mm = longest / (tallest - OVERLAP_MM)
    # stated to two figures; the tallest may be short, and its ends are known to the overlap
    assert per_mm * unit_mm == pytest.approx(stated, rel=0.05 + 2.0 * OVERLAP_MM / tallest)
    for title, text, height in lengths:
        reading = half_digit(text) + 2.0 * OVERLAP_MM * per_mm  # each reaches onto the next
        assert abs(height * per_mm - figure(text)) <= reading, (title, height * per_mm)
