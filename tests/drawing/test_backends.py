"""What each backend must hold: the same bytes each time, text escaped and in its place."""

import re
import subprocess
import sys
from base64 import b64encode
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from hashlib import sha256
from io import BytesIO
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageDraw, ImageFilter, ImageFont

from schematic.drawing import outline, pdf, png, svg
from schematic.drawing.scene import POINT_MM, Dots, Group, Path, Scene, Sheet, Style, Text
from schematic.drawing.text import (
    font_path,
    glyph_starts_em,
    ground_mm,
    printable,
    start_mm,
    width_mm,
)
from tests.drawing.samples import HOSTILE, HOSTILE_PAGE, PAGE, SHEET, TEXTS

SVG = "{http://www.w3.org/2000/svg}"
NEAR_MM = 0.3

BACKENDS = {
    "svg": svg.render,
    "png": png.render,
    "pdf": lambda scene: pdf.render(Sheet((scene,))),
    "outline": outline.render,
}


@pytest.fixture(params=BACKENDS.values(), ids=BACKENDS.keys())
def render(request):
    return request.param


def page(*shapes, width_mm=60, height_mm=30):
    return Scene(width_mm, height_mm, "Page", "", (Group("liner", "Liner", shapes),))


def picture(data):
    return Image.open(BytesIO(data)).convert("RGB")


def elements(data, tag):
    return list(ElementTree.fromstring(data).iter(SVG + tag))


# every backend


def test_same_scene_gives_same_bytes(render):
    assert render(PAGE) == render(replace(PAGE))


def test_same_bytes_from_threads(render):
    with ThreadPoolExecutor(4) as pool:
        assert len(set(pool.map(render, [PAGE] * 8))) == 1


def test_same_bytes_in_another_process():
    code = (
        "from hashlib import sha256; from tests.drawing.samples import PAGE;"
        "from tests.drawing.test_backends import BACKENDS;"
        "print(*(sha256(render(PAGE)).hexdigest() for render in BACKENDS.values()))"
    )
    run = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)

    assert run.stdout.split() == [sha256(draw(PAGE)).hexdigest() for draw in BACKENDS.values()]


def test_nothing_to_draw_draws_nothing(render):
    ink = Style(stroke="#000000", fill="#000000")
    empty = (Path((), ink), Path(((),), ink), Dots((), 1.0, ink), Text(5, 5, " \n", backed=True))
    unpainted = (Path((((1, 1), (9, 9)),), Style()), Dots(((5, 5),), 1.0, Style()))

    assert render(page(*empty, *unpainted))
    assert not ImageChops.invert(picture(png.render(page(*empty, *unpainted)))).getbbox()


# SVG


def test_svg_escapes_hostile_text():
    data = svg.render(HOSTILE_PAGE)
    root = ElementTree.fromstring(data)

    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= {
        *("svg", "defs", "title", "desc", "rect", "g", "path", "text")
    }
    assert [element.text for element in root.iter(SVG + "text")] == [printable(HOSTILE)]
    [group] = root.iter(SVG + "g")
    assert group.get("data-part") == group.get("aria-label") == printable(HOSTILE)
    assert {element.text for element in root.iter(SVG + "title")} == {printable(HOSTILE)}
    assert not re.search(r"[\x00-\x09\x0b-\x1f\u202a-\u202e]", data.decode())


@given(st.text())
def test_svg_text_reads_back_as_printed(text):
    data = svg.render(page(Text(5, 5, text)))

    assert [element.text or "" for element in elements(data, "text")] == (
        [printable(text)] if printable(text) else []
    )


def test_svg_brings_nothing_in_and_runs_nothing():
    for scene in (PAGE, HOSTILE_PAGE):
        for element in ElementTree.fromstring(svg.render(scene)).iter():
            for name, value in element.attrib.items():
                assert not name.startswith("on")
                assert "href" not in name
                assert "url(" not in value


def test_svg_is_as_large_as_the_page_in_millimetres():
    root = ElementTree.fromstring(svg.render(PAGE))

    assert (root.get("width"), root.get("height")) == ("120mm", "100mm")
    assert root.get("viewBox") == "0 0 120 100"
    assert root.get("role") == "img"
    assert [child.text for child in root[:2]] == ["Sample page", "Every kind of shape, once"]


def test_svg_groups_say_what_they_show():
    furniture, body, label = elements(svg.render(PAGE), "g")

    assert furniture.get("data-part") is None
    assert furniture.get("aria-label") is None
    assert furniture.find(SVG + "title") is None
    for group in (body, label):
        assert group.get("data-part") == "liner.hanger"
        assert group.get("aria-label") == group.find(SVG + "title").text == "Liner hanger"
    assert body.find(SVG + "desc").text == "Dots & rings"
    assert len({group.get("id") for group in (furniture, body, label)}) == 3


def test_svg_ids_of_two_pages_differ():
    ids = [
        {group.get("id") for group in elements(svg.render(scene), "g")}
        for scene in (PAGE, replace(PAGE, title="Another page"))
    ]

    assert not ids[0] & ids[1]


def test_svg_has_one_path_per_shape():
    furniture, body, _ = elements(svg.render(PAGE), "g")

    assert len(furniture.findall(SVG + "path")) == 6
    assert len(body.findall(SVG + "path")) == 3


def test_svg_numbers_say_a_thousandth_of_a_millimetre_and_attributes_no_trailing_noughts():
    line = Path((((1.0, -0.6), (2.5, 1 / 3)),), Style(stroke="#000000", width_mm=0.2500001))
    (path,) = elements(svg.render(page(line)), "path")

    assert path.get("d") == "M1.000 -0.600L2.500 0.333"
    assert path.get("stroke-width") == "0.25"


# outline


def test_outline_has_one_line_per_shape():
    lines = outline.render(PAGE).decode().splitlines()

    assert sum(line.startswith("  ") for line in lines) == 18
    assert [line for line in lines if not line.startswith("  ")] == [
        'page 120.00 x 100.00 "Sample page"',
        'group - ""',
        'group liner.hanger "Liner hanger"',
        'group liner.hanger "Liner hanger"',
    ]
    assert '  text 110.00,35.00 6.5 pt end #595959 "AVATAR Tools"' in lines
    assert "  dots 32 r 0.155 36.00,70.00 to 44.75,73.75 fill #009e73" in lines


def test_outline_stays_in_its_lines_with_hostile_text():
    lines = outline.render(HOSTILE_PAGE).decode().splitlines()

    assert len(lines) == 4
    assert not any(re.search(r"[\x00-\x1f\x7f-\x9f\u202a-\u202e]", line) for line in lines)


# PNG


@pytest.mark.parametrize(("dpi", "size"), [(200, (1654, 2339)), (150, (1240, 1754)), (72, (595, 842))])
def test_png_has_the_size_of_the_page(dpi, size):
    a4 = Scene(210, 297, "", "", ())

    image = Image.open(BytesIO(png.render(a4, dpi)))

    assert image.size == size  # 210 / 25.4 * dpi, rounded
    assert image.info["dpi"] == pytest.approx((dpi, dpi), abs=0.02)  # kept in whole pixels per metre
    assert set(image.info) == {"dpi", "Software"}  # no date


def test_png_refuses_a_page_without_pixels():
    with pytest.raises(ValueError, match="pixels"):
        png.render(Scene(0.01, 297, "", "", ()))


@pytest.mark.parametrize(
    ("x_mm", "y_mm", "colour"),
    [
        (36.5, 55, (0, 114, 178)),  # between two squares, one in the other, of the same sense
        (45, 55, (255, 255, 255)),  # in both
        (82, 42, (213, 94, 0)),
        (87, 47, (255, 255, 255)),  # where two squares lap
        (92, 52, (213, 94, 0)),
        (105, 44, (166, 166, 166)),
        (105, 50, (255, 255, 255)),  # the middle of the star, which its line goes round twice
    ],
)
def test_png_fills_even_odd(x_mm, y_mm, colour):
    image = picture(png.render(PAGE))

    assert image.getpixel((round(x_mm / 25.4 * 200), round(y_mm / 25.4 * 200))) == colour


def test_png_fill_has_the_area_of_the_shape_and_no_seams():
    # A slanted quadrilateral with a slanted hole; its area by the shoelace formula.
    outer, inner = ((5, 3), (50, 7), (41, 27), (9, 22)), ((15, 9), (35, 11), (30, 20), (17, 18))
    shape = Path((outer, inner), Style(fill="#000000"), closed=True)

    image = picture(png.render(page(shape), 254)).convert("L")

    def area_mm2(run):
        pairs = zip(run, run[1:] + run[:1], strict=True)
        return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)) / 2

    ink = sum(255 - value for value in image.tobytes()) / 255 / 100  # 100 pixels in a mm2
    assert ink == pytest.approx(area_mm2(outer) - area_mm2(inner), rel=0.001)
    # Between the outer flank and the hole, away from both: one flat black.
    assert image.crop((130, 60, 145, 210)).getextrema() == (0, 0)


def bearings_em(char, bold):
    """Return the white before and after the ink of a glyph in its advance, as Pillow draws it."""
    em_px = 500
    font = ImageFont.truetype(font_path(bold), em_px, layout_engine=ImageFont.Layout.BASIC)
    image = Image.new("L", (3 * em_px, 2 * em_px))
    ImageDraw.Draw(image).text((em_px, em_px), char, 255, font, anchor="ls")
    left, _, right, _ = image.getbbox()
    return (left - em_px) / em_px, (em_px + font.getlength(char) - right) / em_px


@pytest.mark.parametrize("text", [text for text in TEXTS if not text.backed])
def test_png_puts_text_in_its_place(text):
    dpi = 600
    left, top, right, bottom = (
        edge / dpi * 25.4
        for edge in ImageChops.invert(
            picture(png.render(page(text, width_mm=120, height_mm=100), dpi))
        ).getbbox()
    )
    em_mm = text.size_pt * POINT_MM
    before = bearings_em(text.text[0], text.bold)[0] * em_mm
    after = bearings_em(text.text[-1], text.bold)[1] * em_mm
    width = width_mm(text.text, text.size_pt, text.bold)
    x, y = start_mm(text)

    if text.upward:
        assert bottom == pytest.approx(y - before, abs=0.1)
        assert top == pytest.approx(y - width + after, abs=0.1)
        assert left < x
    else:
        assert left == pytest.approx(x + before, abs=0.1)
        assert right == pytest.approx(x + width - after, abs=0.1)
        assert top < y


def test_png_ground_clears_what_lies_under_a_text():
    black = Path((((-1, -1), (61, -1), (61, 31), (-1, 31)),), Style(fill="#000000"), closed=True)
    text = Text(30, 15, "on white", anchor="middle", backed=True, colour="#ffffff")
    dpi = 600

    box = picture(png.render(page(black, text), dpi)).convert("L").point(lambda v: 255 * (v > 127))
    box = box.getbbox()

    assert [edge / dpi * 25.4 for edge in box] == pytest.approx(ground_mm(text), abs=25.4 / dpi)


# PDF


def test_pdf_has_a_page_per_scene_at_its_size_and_a_bookmark_each():
    data = pdf.render(SHEET)

    boxes = [
        [float(number) / 72 * 25.4 for number in box.split()]
        for box in re.findall(rb"/MediaBox \[([^\]]*)\]", data)
    ]
    assert boxes[0] == pytest.approx([0, 0, 120, 100], abs=0.001)
    assert boxes[1] == pytest.approx([0, 0, 80, 20], abs=0.001)
    assert len(re.findall(rb"/Dest \[", data)) == 2


def test_pdf_embeds_its_fonts():
    data = pdf.render(SHEET)

    names = set(re.findall(rb"/BaseFont /(\S+)", data))
    assert {name.rpartition(b"+")[2] for name in names} == {b"DejaVuSans", b"DejaVuSans-Bold"}
    assert data.count(b"/FontFile2 ") == 2


def test_pdf_of_no_pages_is_refused():
    with pytest.raises(ValueError, match="without pages"):
        pdf.render(Sheet(()))


def test_pdf_text_can_be_searched(program, tmp_path):
    file = tmp_path / "sheet.pdf"
    file.write_bytes(pdf.render(SHEET))

    command = [program("pdftotext"), "-layout", str(file), "-"]
    found = subprocess.run(command, check=True, capture_output=True, text=True).stdout

    assert '9 5/8" shoe @ 10,250 ft MD' in found
    assert "<script>alert('x')</script> ]]> & \"" in found
    assert "\u202e" not in found


def test_pdf_puts_text_in_its_place(program, tmp_path):
    file = tmp_path / "sheet.pdf"
    file.write_bytes(pdf.render(Sheet((PAGE,))))

    command = [program("pdftotext"), "-bbox", str(file), "-"]
    found = subprocess.run(command, check=True, capture_output=True).stdout
    words = [
        (
            word.text,
            {side: float(word.get(side)) * POINT_MM for side in ("xMin", "yMin", "xMax", "yMax")},
        )
        for word in ElementTree.fromstring(found).iter("{http://www.w3.org/1999/xhtml}word")
    ]

    for text in TEXTS:
        # A word of a sample page occurs once, but for "upward" and "middle": take the nearest.
        x, y = start_mm(text)
        width = width_mm(text.text, text.size_pt, text.bold)
        first, *_, last = [*text.text.split(), *text.text.split()]
        starts = [box for word, box in words if word == first]
        ends = [box for word, box in words if word == last]
        if text.upward:
            assert min(abs(box["yMax"] - y) for box in starts) < NEAR_MM
            assert min(abs(box["yMin"] - (y - width)) for box in ends) < NEAR_MM
            assert any(box["xMin"] < x < box["xMax"] for box in starts)
        else:
            assert min(abs(box["xMin"] - x) for box in starts) < NEAR_MM
            assert min(abs(box["xMax"] - (x + width)) for box in ends) < NEAR_MM
            assert any(box["yMin"] < y < box["yMax"] for box in starts)


# together


def largest_difference(one, other):
    """Return the largest difference, of 255, once edges are blurred [254 dpi]."""
    blurred = [image.filter(ImageFilter.GaussianBlur(2)) for image in (one, other)]
    return max(high for _, high in ImageChops.difference(*blurred).getextrema())


def assert_alike(one, other):
    """Fail where two pictures differ by more than rasterisers do at an edge."""
    assert largest_difference(one, other) < 40


def test_pdf_looks_like_png(program, tmp_path):
    file = tmp_path / "sheet.pdf"
    file.write_bytes(pdf.render(Sheet((PAGE,))))

    command = [program("pdftoppm"), "-r", "508", str(file)]
    printed = subprocess.run(command, check=True, capture_output=True).stdout

    # The other program puts large glyphs on whole pixels, so let it have small ones; and it rounds
    # the page up, by a pixel.
    printed = picture(printed).crop((0, 0, 2400, 2000)).reduce(2)
    assert_alike(printed, picture(png.render(PAGE, 254)))


@pytest.mark.parametrize("text", TEXTS)
def test_likeness_notices_a_text_out_of_place(text):
    one, other = (
        picture(png.render(page(shape, width_mm=120, height_mm=100), 254))
        for shape in (text, text._replace(x_mm=text.x_mm + NEAR_MM))
    )

    assert largest_difference(one, other) > 40


# in a browser


def show(browser_page, scene):
    """Open a page with the drawing alone, in our font whatever the machine has."""
    font = b64encode(font_path().read_bytes()).decode()
    bold = b64encode(font_path(bold=True).read_bytes()).decode()
    browser_page.set_content(
        "<!doctype html><meta charset='utf-8'><style>body{margin:0}svg{display:block}"
        f"@font-face{{font-family:'DejaVu Sans';src:url(data:font/ttf;base64,{font})}}"
        "@font-face{font-family:'DejaVu Sans';font-weight:bold;"
        f"src:url(data:font/ttf;base64,{bold})}}</style>" + svg.render(scene).decode().partition("?>")[2]
    )
    browser_page.evaluate("document.fonts.ready")


@pytest.mark.browser
def test_browser_puts_each_letter_in_its_place(browser_page):
    texts = (*TEXTS, Text(10, 5, "difficult waffle, WAVY To VA"))
    show(browser_page, page(*texts, width_mm=120, height_mm=100))

    seen = browser_page.evaluate(
        "[...document.querySelectorAll('text')].map(text => {"
        "  const count = text.getNumberOfChars(), m = text.transform.baseVal.consolidate()?.matrix;"
        "  const place = p => { const q = m ? p.matrixTransform(m) : p; return [q.x, q.y]; };"
        "  return [...Array(count).keys()].map(i => place(text.getStartPositionOfChar(i)))"
        "    .concat([place(text.getEndPositionOfChar(count - 1))]); })"
    )

    assert len(seen) == len(texts)
    for text, places in zip(texts, seen, strict=True):
        x, y = start_mm(text)
        em = text.size_pt * POINT_MM
        along = [start * em for _, start in glyph_starts_em(text.text, text.bold)]
        along.append(width_mm(text.text, text.size_pt, text.bold))
        for (seen_x, seen_y), distance in zip(places, along, strict=True):
            expected = (x, y - distance) if text.upward else (x + distance, y)
            assert (seen_x, seen_y) == pytest.approx(expected, abs=NEAR_MM)


@pytest.mark.browser
def test_browser_holds_the_width_of_a_text_in_any_font(browser_page):
    text = Text(10, 20, "Landing collar, ball seat")
    drawing = svg.render(page(text)).decode().partition("?>")[2]
    browser_page.set_content(drawing.replace("DejaVu Sans, Verdana, sans-serif", "monospace"))

    end = browser_page.evaluate("document.querySelector('text').getEndPositionOfChar(24).x")

    assert end == pytest.approx(10 + width_mm(text.text, 6.5), abs=NEAR_MM)


@pytest.mark.browser
def test_browser_runs_and_fetches_nothing(browser_page):
    dialogs, requests = [], []
    browser_page.on("dialog", lambda dialog: (dialogs.append(dialog.message), dialog.dismiss()))
    browser_page.on("request", lambda request: requests.append(request.url))
    browser_page.set_content(svg.render(HOSTILE_PAGE).decode().partition("?>")[2])

    assert browser_page.evaluate("document.querySelectorAll('script').length") == 0
    assert browser_page.evaluate("document.querySelector('text').textContent") == printable(HOSTILE)
    assert (dialogs, requests) == ([], [])


@pytest.mark.browser
def test_browser_looks_like_png(browser_page):
    browser_page.set_viewport_size({"width": 480, "height": 400})
    show(browser_page, PAGE)
    browser_page.evaluate(
        "document.querySelector('svg').setAttribute('width', '1200px');"
        "document.querySelector('svg').setAttribute('height', '1000px')"
    )
    shown = browser_page.locator("svg").screenshot()

    assert_alike(picture(shown), picture(png.render(PAGE, 254)))
