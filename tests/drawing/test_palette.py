"""Colours against their printed source, and contrast by the formula of WCAG 2.

Sources: B. Wong, "Color blindness", Nature Methods 8, 441 (2011), RGB values of the figure (from
memory); W3C, Web Content Accessibility Guidelines 2.1, "relative luminance", success criteria 1.4.3
(text 4.5:1) and 1.4.11 (shapes that carry meaning 3:1).
"""

import pytest

from schematic.drawing import palette

WONG_RGB = {"BLUE": (0, 114, 178), "GREEN": (0, 158, 115), "VERMILION": (213, 94, 0)}


def rgb(colour):
    return tuple(int(colour[i : i + 2], 16) for i in (1, 3, 5))


def contrast_on_white(colour):
    linear = [
        c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4
        for c in (part / 255 for part in rgb(colour))
    ]
    return 1.05 / (0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2] + 0.05)


@pytest.mark.parametrize("name", WONG_RGB)
def test_the_three_colours_are_those_of_the_published_set(name):
    assert rgb(getattr(palette, name)) == WONG_RGB[name]


@pytest.mark.parametrize("colour", [palette.BLACK, palette.BLUE, palette.GREY])
def test_colours_used_for_text_reach_the_contrast_of_text(colour):
    assert contrast_on_white(colour) >= 4.5


@pytest.mark.parametrize("colour", [palette.GREEN, palette.VERMILION, palette.RETRIEVED_GREY])
def test_colours_used_for_shapes_reach_the_contrast_of_shapes(colour):
    assert contrast_on_white(colour) >= 3.0


@pytest.mark.parametrize("colour", [palette.GREEN, palette.VERMILION])
def test_green_and_vermilion_are_too_faint_for_text(colour):
    """Why they are never text: below 4.5:1."""
    assert contrast_on_white(colour) < 4.5
