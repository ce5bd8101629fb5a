"""Widths of text against other readers of the same font file, and where texts stand."""

import re
import string
import subprocess
import sys
from itertools import pairwise
from xml.etree import ElementTree
from xml.sax.saxutils import escape

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont
from reportlab.pdfbase.pdfmetrics import registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont

from schematic.drawing.captions import wrap
from schematic.drawing.scene import POINT_MM, Text
from schematic.drawing.text import (
    ASCENT_EM,
    DESCENT_EM,
    box_mm,
    font_path,
    glyph_starts_em,
    ground_mm,
    printable,
    start_mm,
    width_mm,
)
from tests.drawing.samples import HOSTILE

UNITS_PER_EM = 2048  # of DejaVu Sans: at this size in pixels Pillow's advances are design units

LINES = [
    '9 5/8" shoe @ 10,250 ft MD',
    "AVATAR Tools, To VAM",
    "Landing collar, ball seat",
    "12\u2009590.0",
    "Ø 8 1/2 in, 60 °C, ± 5 %, ½ \u2013 µ",
    "ffi fl difficult",
]


def test_known_width():
    # Sum of the advances at 10 pt, read with fontTools 4.68 and with freetype-py 2.5.1, which agree
    # on 138.7061 pt; tolerance: half of the last digit.
    width_pt = width_mm('9 5/8" shoe @ 10,250 ft MD', 10.0) / POINT_MM

    assert width_pt == pytest.approx(138.7061, abs=0.00005)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("line", LINES)
def test_width_agrees_with_reportlab(line, bold):
    registerFont(TTFont(f"sample-{bold}", str(font_path(bold))))

    # Both add up the same table without kerning: only float round-off is left.
    assert width_mm(line, 9.0, bold) == pytest.approx(
        stringWidth(line, f"sample-{bold}", 9.0) * POINT_MM, rel=1e-9
    )


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("line", LINES)
def test_width_agrees_with_pillow(line, bold):
    font = ImageFont.truetype(font_path(bold), UNITS_PER_EM, layout_engine=ImageFont.Layout.BASIC)
    # Glyph by glyph, so that Pillow does not kern; it rounds each advance to whole design units.
    units = sum(font.getlength(char) for char in line)

    assert width_mm(line, 9.0, bold) == pytest.approx(
        units / UNITS_PER_EM * 9.0 * POINT_MM, abs=len(line) * 0.5 / UNITS_PER_EM * 9.0 * POINT_MM
    )


def test_character_the_font_lacks_is_as_wide_as_its_missing_glyph():
    font = ImageFont.truetype(font_path(), UNITS_PER_EM, layout_engine=ImageFont.Layout.BASIC)
    lacking = "\U0001f6e2"  # oil drum; Pillow shows .notdef for it too

    assert width_mm(lacking, 10.0) == pytest.approx(
        font.getlength(lacking) / UNITS_PER_EM * 10.0 * POINT_MM, abs=0.001
    )


def test_nothing_is_no_wide():
    assert width_mm("", 9.0) == 0.0
    assert width_mm(" \n\t", 9.0) == 0.0


@given(st.text(string.ascii_letters), st.text(string.ascii_letters), st.booleans())
def test_width_adds_up(one, other, bold):
    together = width_mm(one + other, 6.5, bold)

    assert together == pytest.approx(width_mm(one, 6.5, bold) + width_mm(other, 6.5, bold))


@given(st.text(), st.booleans())
def test_last_glyph_ends_where_the_width_says(line, bold):
    starts = glyph_starts_em(line, bold)

    assert "".join(char for char, _ in starts) == printable(line)
    if starts and starts[-1][0] != " ":
        last, reached_em = starts[-1]
        assert width_mm(line, 6.5, bold) == pytest.approx(
            reached_em * 6.5 * POINT_MM + width_mm(last, 6.5, bold)
        )


def test_measuring_does_not_load_matplotlib():
    code = (
        "import sys; from schematic.drawing.text import width_mm; "
        "assert 'fontTools' not in sys.modules; assert width_mm('x', 6.5) > 0; "
        "assert 'matplotlib' not in sys.modules"
    )

    subprocess.run([sys.executable, "-c", code], check=True)


@pytest.mark.parametrize("bold", [False, True])
def test_box_is_as_high_as_the_letters(bold):
    font = ImageFont.truetype(font_path(bold), UNITS_PER_EM, layout_engine=ImageFont.Layout.BASIC)
    letters = string.ascii_letters + string.digits
    _, top, _, bottom = font.getbbox(letters, anchor="ls")

    # Pillow measures the ink; all of it is in the box, which has little room to spare.
    assert 0.0 <= ASCENT_EM + top / UNITS_PER_EM < 0.01
    assert 0.0 <= DESCENT_EM - bottom / UNITS_PER_EM < 0.04


@pytest.mark.parametrize(("anchor", "x_mm"), [("start", 50.0), ("middle", 55.0), ("end", 60.0)])
def test_anchors_move_the_run(anchor, x_mm):
    size_pt = 10.0 / width_mm("Liner", 1.0)  # 10 mm wide
    text = Text(x_mm, 20.0, "Liner", size_pt, anchor=anchor)
    em = size_pt * POINT_MM

    assert start_mm(text) == pytest.approx((50.0, 20.0))
    assert box_mm(text) == pytest.approx((50.0, 20 - ASCENT_EM * em, 60.0, 20 + DESCENT_EM * em))


@pytest.mark.parametrize(("anchor", "y_mm"), [("start", 60.0), ("middle", 55.0), ("end", 50.0)])
def test_upward_text_runs_from_bottom_to_top(anchor, y_mm):
    size_pt = 10.0 / width_mm("Liner", 1.0)
    text = Text(20.0, y_mm, "Liner", size_pt, anchor=anchor, upward=True)
    em = size_pt * POINT_MM

    assert start_mm(text) == pytest.approx((20.0, 60.0))
    assert box_mm(text) == pytest.approx((20 - ASCENT_EM * em, 50.0, 20 + DESCENT_EM * em, 60.0))


def test_ground_is_longer_than_the_text_and_as_high():
    level, upward = Text(50, 50, "Liner"), Text(50, 50, "Liner", upward=True)

    for text, changes in ((level, (-0.35, 0, 0.35, 0)), (upward, (0, -0.35, 0, 0.35))):
        box = box_mm(text)
        assert ground_mm(text) == pytest.approx([a + b for a, b in zip(box, changes, strict=True)])


@given(st.text() | st.just(HOSTILE))
def test_printable_is_one_line_that_xml_and_utf8_can_hold(text):
    shown = printable(text)

    assert printable(shown) == shown
    assert len(shown.splitlines()) <= 1
    assert ElementTree.fromstring(f"<a>{escape(shown)}</a>".encode()).text == (shown or None)


def test_printable_keeps_words_and_shows_what_it_replaced():
    assert printable("  9 5/8\tin\r\n47 lb/ft ") == "9 5/8 in 47 lb/ft"
    assert printable("12\u2009590") == "12\u2009590"
    assert printable("a\x00b\x1bc\u202ed\ud800e") == "a\ufffdb\ufffdc\ufffdd\ufffde"


@pytest.mark.parametrize(
    "control",  # all of Unicode's Bidi_Control property: Unicode Standard Annex 9, table 1
    "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069",
)
def test_printable_keeps_the_reading_direction(control):
    assert printable(f"a{control}b") == "a\ufffdb"


@pytest.mark.parametrize(
    "text", ["51 joints of 4 1/2 in 13.5 lb/ft P-110", "seal 4.745 in, 0.36 m\u00b3 of 12.6 ppg"]
)
def test_a_size_never_breaks_between_lines_and_is_printed_with_plain_spaces(text):
    for room in range(16, 80):
        lines = wrap(text, float(room))
        assert " ".join(lines) == text
        for above, below in pairwise(lines):
            assert not (above[-1].isdigit() and re.match(r"\d+/\d|in\b|lb/ft|m\u00b3|ppg", below))


def test_a_size_wider_than_the_line_is_cut_between_its_parts():
    assert wrap("4 1/2 in", 4.0) == ("4", "1/2", "in")
