"""Colours against their printed source; contrast of all that is drawn; what colour-blind readers tell apart.

Sources: B. Wong, "Color blindness", Nature Methods 8, 441 (2011), RGB values of the figure (from
memory); W3C, Web Content Accessibility Guidelines 2.1, "relative luminance" and "contrast ratio", success
criteria 1.4.3 (text 4.5:1) and 1.4.11 (shapes that carry meaning 3:1). Colour-blindness as the library
colorspacious simulates it, after G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, IEEE Trans. Vis. Comput.
Graph. 15, 1291 (2009), in full severity; distances are those of CIELAB 1976, of which 2.3 are just noticed by
M. Mahy, L. Van Eycken, A. Oosterlinck, Color Res. Appl. 19, 105 (1994).
"""

from __future__ import annotations

import math
from functools import cache
from itertools import combinations
from pathlib import Path as File

import pytest

from schematic.drawing import palette
from schematic.drawing.scene import Dots, Path, Scene, Shape, Text
from schematic.drawing.strikes import ink_mm
from schematic.drawing.text import Box
from schematic.verbs import check, demos, load_text, sheet
from tests.drawing.strokes import legs, meets, shapes

WONG_RGB = {"BLUE": (0, 114, 178), "GREEN": (0, 158, 115), "VERMILION": (213, 94, 0)}
MEANING = ("BLACK", "BLUE", "GREEN", "VERMILION", "GREY", "RETRIEVED_GREY")
OF_TEXT, OF_SHAPES = 4.5, 3.0
KINDS = ("protanomaly", "deuteranomaly", "tritanomaly")
APART = 10 * 2.3  # ten just noticeable differences
BY_FORM = {  # nearer than that for somebody: told apart by form alone
    ("BLUE", "GREEN"): "solid steel against dots",
    ("GREEN", "GREY"): "dots against fine lines",
    ("GREEN", "RETRIEVED_GREY"): "dots against outlined steel",
    ("GREY", "RETRIEVED_GREY"): "fine lines against outlined steel",
}
OF_THE_WELL = ("liner", "strings", "hole", "cement", "running string", "fluids")
GROUND_MM = 0.5  # smaller dots are texture, not a ground


def rgb(colour: str) -> tuple[int, ...]:
    return tuple(int(colour[i : i + 2], 16) for i in (1, 3, 5))


def luminance(colour: str) -> float:
    """WCAG 2.1, definition of relative luminance."""
    linear = [
        c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4
        for c in (part / 255 for part in rgb(colour))
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """WCAG 2.1, definition of contrast ratio."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@cache
def drawn(style: str) -> dict[str, Scene]:
    """All pages of all demo wells, at both scales."""
    pages = {}
    for name, text in demos().items():
        evaluation = check(load_text(text))
        for scale in ("fitted", "true"):
            for n, scene in enumerate(sheet(evaluation, scale, style=style).scenes):
                pages[f"{name}, {scale}, page {n + 1}"] = scene
    return pages


def inside(x: float, y: float, path: Path) -> bool:
    """Even-odd, over all runs."""
    odd = False
    for (x0, y0), (x1, y1) in legs(path):
        if (y0 > y) != (y1 > y) and x < x0 + (x1 - x0) * (y - y0) / (y1 - y0):
            odd = not odd
    return odd


def grounds(scene: Scene) -> list[tuple[Text, set[str]]]:
    """Each text with the colours that lie under its ink."""
    found = []
    drawn_before: list[tuple[Box, Shape]] = []
    for shape in shapes(scene):
        if isinstance(shape, Text):
            found.append(
                (shape, _under(ink_mm(shape), drawn_before) if not shape.backed else {palette.WHITE})
            )
        elif shape.style.fill and (isinstance(shape, Path) or shape.radius_mm > GROUND_MM):
            drawn_before.append((extent(shape), shape))
    return found


def extent(shape: Path | Dots) -> Box:
    """Left, top, right and bottom of all that a shape fills."""
    dots = isinstance(shape, Dots)
    points = shape.centres if dots else [point for run in shape.runs for point in run]
    reach = shape.radius_mm if dots else 0.0
    xs, ys = zip(*points, strict=True) if points else ((math.inf,), (math.inf,))
    return min(xs) - reach, min(ys) - reach, max(xs) + reach, max(ys) + reach


def _under(box: Box, before: list[tuple[Box, Shape]]) -> set[str]:
    left, top, right, bottom = box
    corners = [(x, y) for x in (left, right) for y in (top, bottom)]
    colours = {palette.WHITE}
    for (its_left, its_top, its_right, its_bottom), shape in before:
        if its_right < left or right < its_left or its_bottom < top or bottom < its_top:
            continue  # lies away from the text
        if isinstance(shape, Dots):
            r = shape.radius_mm
            hits = [[(x - cx) ** 2 + (y - cy) ** 2 < r * r for x, y in corners] for cx, cy in shape.centres]
            within = any(map(all, hits))
            met = within or any(
                left - r < cx < right + r and top - r < cy < bottom + r for cx, cy in shape.centres
            )
        else:
            edge = any(meets(leg, box) for leg in legs(shape))
            held = [inside(x, y, shape) for x, y in corners]
            within, met = all(held) and not edge, any(held) or edge
        if within:
            colours = set()
        if met:
            colours.add(shape.style.fill)
    return colours


@pytest.mark.parametrize("name", WONG_RGB)
def test_the_three_colours_are_those_of_the_published_set(name):
    assert rgb(getattr(palette, name)) == WONG_RGB[name]


def test_the_contrast_formula_has_its_published_ends():
    """WCAG 2.1: contrast runs from 1 to 21; #767676 is the lightest grey that text may have on white."""
    assert contrast("#ffffff", "#000000") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")


@pytest.mark.parametrize("style", ["colour", "grey"])
def test_every_text_has_the_contrast_of_text_on_all_that_lies_under_it(style):
    seen = set()
    for page, scene in drawn(style).items():
        for text, colours in grounds(scene):
            for ground in colours:
                seen.add((text.colour, ground))
                assert contrast(text.colour, ground) >= OF_TEXT, (page, text, ground)

    assert {palette.WHITE, palette.FLAT_GREY} < {ground for _colour, ground in seen}


@pytest.mark.parametrize("style", ["colour", "grey"])
def test_every_colour_that_carries_meaning_has_the_contrast_of_shapes(style):
    for page, scene in drawn(style).items():
        for shape in shapes(scene):
            if not isinstance(shape, Text):
                for colour in {shape.style.stroke, shape.style.fill} - {None, palette.WHITE, *palette.FAINT}:
                    assert contrast(colour, palette.WHITE) >= OF_SHAPES, (page, colour)


@pytest.mark.parametrize("style", ["colour", "grey"])
def test_black_grips_and_seals_show_on_the_steel_of_the_liner(style):
    steel = {
        shape.style.fill
        for scene in drawn(style).values()
        for group in scene.groups
        for shape in group.shapes
        if group.part.startswith("liner") and isinstance(shape, Path) and shape.style.stroke is None
    } - {palette.BLACK, palette.WHITE, None}

    assert steel
    assert all(contrast(colour, palette.BLACK) >= OF_SHAPES for colour in steel)


def test_nothing_is_drawn_in_a_colour_that_is_not_of_the_palette():
    known = {value for name, value in vars(palette).items() if name.isupper() and isinstance(value, str)}
    for page, scene in drawn("colour").items():
        for shape in shapes(scene):
            used = {shape.colour} if isinstance(shape, Text) else {shape.style.stroke, shape.style.fill}
            assert used - {None} <= known, page


def test_faint_colours_are_texture_light_rules_and_panels_that_lines_bound():
    """No text, no steel, no cement, no finding: what is under 3:1 is rock texture, grids, rules and panels."""
    for page, scene in drawn("colour").items():
        for group in scene.groups:
            for shape in group.shapes:
                if isinstance(shape, Text):
                    assert shape.colour not in palette.FAINT, page
                    continue
                faint = {shape.style.stroke, shape.style.fill} & set(palette.FAINT)
                if palette.LIGHT_GREY in faint:
                    assert group.part.partition(".")[0] not in OF_THE_WELL, (page, group.part)
                    assert shape.style.width_mm <= palette.FINE_MM
                    assert isinstance(shape, Dots) or shape.style.fill is None
                if palette.FLAT_GREY in faint:
                    lines = {
                        round(y, 6)
                        for other in group.shapes
                        if isinstance(other, Path) and other.style.stroke
                        for run in other.runs
                        for _x, y in run
                    }
                    assert {round(y, 6) for run in shape.runs for _x, y in run} <= lines, page


def simulated(colour: str, kind: str) -> object:
    """The colour as a reader without one kind of cones sees it, in CIELAB; "" for full colour vision."""
    import numpy as np
    from colorspacious import cspace_convert

    seen = np.asarray(rgb(colour)) / 255.0
    if kind:
        cones = {"name": "sRGB1+CVD", "cvd_type": kind, "severity": 100}
        seen = np.clip(cspace_convert(seen, cones, "sRGB1"), 0.0, 1.0)
    return cspace_convert(seen, "sRGB1", "CIELab")


def distance(one: str, other: str, kind: str = "") -> float:
    """CIE 1976 distance of two palette colours for a kind of reader."""
    first, second = (simulated(getattr(palette, name), kind) for name in (one, other))
    return float(sum((a - b) ** 2 for a, b in zip(first, second, strict=True)) ** 0.5)


def test_distances_are_those_of_the_definition():
    """CIELAB by its definition: black and white are 100 apart, whoever looks."""
    for kind in ("", *KINDS):
        assert distance("BLACK", "WHITE", kind) == pytest.approx(100.0, abs=0.1)


@pytest.mark.parametrize(("one", "other"), list(combinations(MEANING, 2)))
def test_colours_that_carry_meaning_stay_apart_for_every_reader_or_differ_in_form(one, other):
    least = min(distance(one, other, kind) for kind in ("", *KINDS))

    assert (least < APART) == ((one, other) in BY_FORM), f"{one} and {other}: {least:.1f}"


def test_what_is_told_apart_by_form_has_that_form_wherever_it_is_drawn():
    """Blue is the only solid; green is dots and lines, never solid; grey is lines."""
    for page, scene in drawn("colour").items():
        for shape in shapes(scene):
            if isinstance(shape, Text):
                assert shape.colour not in (palette.GREEN, palette.VERMILION, palette.RETRIEVED_GREY), page
                continue
            solid = isinstance(shape, Path) and shape.style.fill is not None
            if palette.BLUE in shape.style:
                assert solid, page
            if palette.GREEN in shape.style or palette.GREY in shape.style:
                assert not solid, page


def test_the_table_for_contributors_tells_these_distances():
    rows = [
        [cell.strip() for cell in line.strip("|").split("|")]
        for line in (File(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines()
        if line.startswith("|") and " and " in line.split("|")[1] and "#" not in line
    ]
    told = {row[0]: [float(cell) for cell in row[1:5]] for row in rows if len(row) == 6}
    pairs = [*BY_FORM, ("GREEN", "VERMILION"), ("BLUE", "VERMILION"), ("BLUE", "BLACK"), ("GREEN", "BLACK")]

    for one, other in pairs:
        words = f"{one} and {other}".lower().replace("_grey", " grey")
        measured = [distance(one, other, kind) for kind in ("", *KINDS)]
        assert told[words] == pytest.approx(measured, abs=0.51), words
    assert len(told) == len(pairs)
