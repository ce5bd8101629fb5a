"""The pages that are looked at are those of the PDF: as many, each with the same words in the same places."""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PdfReader

from schematic.drawing.overlap import problems
from schematic.drawing.scene import POINT_MM, Text
from schematic.program.pages import pages
from tests.program.programs import content_of, hostile_text, program_of, text_of


def texts(scene):
    return [shape for group in scene.groups for shape in group.shapes if isinstance(shape, Text)]


@pytest.mark.parametrize(
    "text", [text_of("sketch"), text_of("sollivane-a7"), hostile_text("<b>bold</b>", "(a\\)")]
)
def test_the_pages_are_those_of_the_pdf(text):
    scenes = pages(program_of(text)).scenes
    reader = PdfReader(BytesIO(content_of(text, ".pdf")))

    assert len(scenes) == len(reader.pages)
    for scene, page in zip(scenes, reader.pages, strict=True):
        assert (scene.width_mm, scene.height_mm) == pytest.approx(
            (float(page.mediabox.width) * POINT_MM, float(page.mediabox.height) * POINT_MM), abs=0.01
        )
        its = scene.groups[-1].shapes[0].text
        if not its.startswith("Figure "):  # the schematic itself is read back elsewhere
            mine = "".join("".join(text.text for text in texts(scene)).split())
            theirs = "".join(page.extract_text().split())
            assert sorted(mine) == sorted(theirs)


def test_nothing_stands_on_another_and_all_is_on_the_page():
    for scene in pages(program_of(text_of("sketch"))).scenes:
        assert problems(scene) == [], scene.title
