"""Diameters measured on the SVG against those that the well file says, through the ratio in the title block.

The file is read here by a plain YAML reader, its sizes by the few lines below: neither is the tool's own. The
drawn size is that of the outer edge of the ink: a stroked face lies with its stroke inside the diameter.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any, NamedTuple

import pytest
import yaml

from schematic.verbs import demos
from tests.drawing.svg_reader import Line, Part, drawings
from tests.drawing.test_read_back import page

BLUE, WITHIN_MM = "#0072b2", 0.1
BLACK = "#000000"
SET = "external packer"  # drawn as it is after the job: against the hole, wider than it was run
SIZE = re.compile(r"^(?:(\d+) )?(\d+/\d+|[\d.]+) (in|mm)\b")
# nominal weight to bore of casing, API Specification 5CT, table of sizes and masses, d in inches
BORES_IN = {"20 in 94 lb/ft": 19.124, "13 3/8 in 68 lb/ft": 12.415, "9 5/8 in 47 lb/ft": 8.681}


def size_mm(text: str) -> float:
    """A size as the file writes it: "9 5/8 in", "8.312 in", "187.3 mm"; of pipe the size that its name begins with."""
    whole, rest, unit = SIZE.match(text).groups()
    return float(Fraction(whole or 0) + Fraction(rest)) * (25.4 if unit == "in" else 1.0)


class Sheet(NamedTuple):
    """A page, its axis and its ratio, and the well file as plain data."""

    parts: tuple[Part, ...]
    axis_mm: float
    ratio: int
    file: dict[str, Any]

    def diameters_mm(self, line: Line) -> set[float]:
        """Real diameters of the faces of a path: outer edge of the ink for what lies within its stroke."""
        return {2.0 * (abs(x - self.axis_mm) + 0.5 * line.width_mm) * self.ratio for x, _y in line.points}


@pytest.fixture(
    scope="module", params=[(name, scale) for name in demos() for scale in ("fitted", "true")], ids=" ".join
)
def drawn(request) -> Sheet:
    name, scale = request.param
    whole = page(name, scale)
    parts = drawings(whole)[""]
    steel = [
        x
        for part in parts
        for line in part.lines
        if line.fill == BLUE
        for x, _y in line.points
        if part.part.startswith("liner.assembly.")
    ]
    [title] = [part for part in whole if part.title == "title block"]
    ratio = int(re.search(r"1:(\d+) in the column", title.text).group(1))
    return Sheet(parts, 0.5 * (min(steel) + max(steel)), ratio, yaml.safe_load(demos()[name]))


def test_every_liner_part_is_as_wide_as_the_file_says(drawn):
    """Outer diameters of the blue walls, within a tenth of a millimetre of paper."""
    liner = drawn.file["liner"]
    body = size_mm(liner.get("od") or liner["pipe"])
    measured = 0
    for index, written in enumerate(liner.get("assembly", [])):
        faces = [
            line
            for part in drawn.parts
            if part.part == f"liner.assembly.{index}" and not part.words
            for line in part.lines
            if line.fill == BLUE or (line.fill == BLACK and written["part"] == "reamer shoe")  # its teeth
        ]
        found = {diameter for line in faces for diameter in drawn.diameters_mm(line)}
        if not found:
            continue
        wanted = size_mm(written["od"]) if "od" in written else body
        if written["part"] == SET and max(found) < wanted - 1.0:
            wanted = body  # its steel; the rubber is white
        assert min(abs(one - wanted) for one in found) <= WITHIN_MM * drawn.ratio, (written, wanted, found)
        if written["part"] not in ("joint", "pup joint"):  # a coupling is wider than the pipe
            assert max(found) <= wanted + WITHIN_MM * drawn.ratio, (written, wanted, found)
        measured += 1
    assert measured == len(liner.get("assembly", [])) or drawn.file["liner"].get("tally")


def test_every_string_in_place_is_as_wide_as_the_file_says(drawn):
    for written in drawn.file["strings"]:
        wanted = size_mm(written.get("od") or written["pipe"])
        faces = [
            line
            for part in drawn.parts
            if part.part == f"strings.{written['name']}" and not part.words
            for line in part.lines
            if line.stroke == "#000000" and line.fill == "none"
        ]
        found = {diameter for line in faces for diameter in drawn.diameters_mm(line)}
        assert min(abs(one - wanted) for one in found) <= WITHIN_MM * drawn.ratio, (written, wanted, found)


def test_bores_of_listed_casing_are_those_of_its_table(drawn):
    """The inner face is a fine line whose ink lies outside the bore."""
    for written in drawn.file["strings"]:
        listed = [bore for name, bore in BORES_IN.items() if str(written.get("pipe", "")).startswith(name)]
        if not listed:
            continue
        faces = [
            line
            for part in drawn.parts
            if part.part == f"strings.{written['name']}" and not part.words
            for line in part.lines
            if line.stroke == "#000000" and line.fill == "none"
        ]
        inner = {
            2.0 * (abs(x - drawn.axis_mm) - 0.5 * line.width_mm) * drawn.ratio
            for line in faces
            for x, _y in line.points
        }
        outer = size_mm(written["pipe"])
        if (
            outer - listed[0] * 25.4
        ) / 2.0 / drawn.ratio >= 0.35:  # thinner walls are drawn 0.35 mm, and say so
            assert min(abs(one - listed[0] * 25.4) for one in inner) <= WITHIN_MM * drawn.ratio, written
