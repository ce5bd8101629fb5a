"""SVG, PDF and PNG of both sheets place the same texts within 0.3 mm."""

from __future__ import annotations

import subprocess
from xml.etree import ElementTree

import pytest

from schematic.drawing import pdf, png
from schematic.drawing.scene import POINT_MM, Scene, Sheet, Text
from schematic.drawing.text import start_mm, width_mm
from schematic.verbs import demos, load_text, sheet
from tests.drawing.test_backends import NEAR_MM, assert_alike, picture, show

BOTH = ("brindlewick-4.yaml", "sollivane-a7.yaml")


@pytest.fixture(scope="module", params=BOTH)
def scene(request) -> Scene:
    return sheet(load_text(demos()[request.param])).scenes[0]


def placed(scene: Scene) -> list[tuple[Text, float, float, float]]:
    """Each text with where its run starts and how long it is."""
    texts = [shape for group in scene.groups for shape in group.shapes if isinstance(shape, Text)]
    return [(text, *start_mm(text), width_mm(text.text, text.size_pt, text.bold)) for text in texts]


def test_a_pdf_reader_finds_every_text_where_the_scene_has_it(scene, program, tmp_path):
    file = tmp_path / "sheet.pdf"
    file.write_bytes(pdf.render(Sheet((scene,))))
    found = subprocess.run(
        [program("pdftotext"), "-bbox", str(file), "-"], check=True, capture_output=True
    ).stdout
    words = [
        tuple(float(word.get(side)) * POINT_MM for side in ("xMin", "yMin", "xMax", "yMax"))
        for word in ElementTree.fromstring(found).iter("{http://www.w3.org/1999/xhtml}word")
    ]

    assert len(words) > 150
    for text, x, y, width in placed(scene):
        if text.upward:
            assert any(
                abs(bottom - y) < NEAR_MM and left < x < right for left, _top, right, bottom in words
            ), text
            continue
        on_line = [box for box in words if box[1] < y < box[3]]
        assert min(abs(box[0] - x) for box in on_line) < NEAR_MM, text
        assert min(abs(box[2] - (x + width)) for box in on_line) < NEAR_MM, text


@pytest.mark.browser
def test_a_browser_puts_every_text_where_the_scene_has_it(scene, browser_page):
    show(browser_page, scene)
    seen = browser_page.evaluate(
        "[...document.querySelectorAll('text')].map(text => {"
        "  const m = text.transform.baseVal.consolidate()?.matrix;"
        "  const place = p => { const q = m ? p.matrixTransform(m) : p; return [q.x, q.y]; };"
        "  return [place(text.getStartPositionOfChar(0)),"
        "          place(text.getEndPositionOfChar(text.getNumberOfChars() - 1))]; })"
    )
    expected = placed(scene)

    assert len(seen) == len(expected)
    for (start, end), (text, x, y, width) in zip(seen, expected, strict=True):
        assert start == pytest.approx([x, y], abs=NEAR_MM), text
        assert end == pytest.approx([x, y - width] if text.upward else [x + width, y], abs=NEAR_MM), text


def test_the_png_looks_like_the_pdf(scene, program, tmp_path):
    file = tmp_path / "sheet.pdf"
    file.write_bytes(pdf.render(Sheet((scene,))))
    printed = subprocess.run(
        [program("pdftoppm"), "-r", "508", str(file)], check=True, capture_output=True
    ).stdout

    ours = picture(png.render(scene, 254))
    theirs = picture(printed)
    assert_alike(theirs.crop((0, 0, 2 * ours.width, 2 * ours.height)).reduce(2), ours)
