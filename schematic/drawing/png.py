"""A scene as a PNG picture, painted by matplotlib's rasteriser, letters as unhinted outlines.

matplotlib's own text is not used: each glyph is a filled outline, put where `text` measured it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from io import BytesIO
from itertools import combinations, pairwise
from threading import Lock
from typing import TYPE_CHECKING

from schematic.drawing.scene import POINT_MM, Dots, Path, Point, Scene, Style, Text
from schematic.drawing.text import (
    glyph_starts_em,
    ground_mm,
    open_font,
    start_mm,
)

if TYPE_CHECKING:
    import numpy as np
    from fontTools.ttLib import TTFont
    from matplotlib.backends.backend_agg import RendererAgg
    from matplotlib.path import Path as Outline
    from matplotlib.transforms import Affine2D, Transform
    from numpy.typing import NDArray

Run = tuple[Point, ...]

_MM_PER_INCH = 25.4
_MOST_PIXELS = 65535  # of the rasteriser, each way
_reading_font = Lock()


def render(scene: Scene, dpi: float = 200.0) -> bytes:
    """Draw the page on white; the same scene gives the same bytes. Raises ``ValueError`` as `painted`."""
    from matplotlib.image import imsave

    file = BytesIO()
    imsave(file, painted(scene, dpi), format="png", dpi=dpi, metadata={"Software": "lapline"})
    return file.getvalue()


def painted(scene: Scene, dpi: float) -> NDArray[np.uint8]:
    """The page on white as rows of pixels, red, green, blue and alpha a byte each.

    As large as the page times *dpi*, rounded to whole pixels. Raises ``ValueError`` where that is less
    than 1 or more than 65 535 either way.
    """
    import numpy as np
    from matplotlib.backends.backend_agg import RendererAgg
    from matplotlib.transforms import Affine2D

    pixels_per_mm = dpi / _MM_PER_INCH
    width, height = round(scene.width_mm * pixels_per_mm), round(scene.height_mm * pixels_per_mm)
    if not (1 <= width <= _MOST_PIXELS and 1 <= height <= _MOST_PIXELS):
        raise ValueError(f"a page of {width} x {height} pixels cannot be drawn")
    renderer = RendererAgg(width, height, dpi)
    renderer.clear()
    to_pixels = Affine2D().scale(pixels_per_mm, -pixels_per_mm).translate(0.0, height)
    page = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    _paint(renderer, Affine2D(), _outline([page], closed=True), Style(fill="#ffffff"))
    for group in scene.groups:
        for shape in group.shapes:
            _draw(renderer, to_pixels, shape)
    return np.asarray(renderer.buffer_rgba())


def _draw(renderer: RendererAgg, to_pixels: Affine2D, shape: Path | Dots | Text) -> None:
    if isinstance(shape, Text):
        _draw_text(renderer, to_pixels, shape)
    elif isinstance(shape, Dots):
        if shape.centres:
            _paint(renderer, to_pixels, _circles(shape), shape.style)
    else:
        runs = [run for run in shape.runs if run]
        if shape.style.fill and (parts := list(_even_odd(runs))):
            filling = Style(fill=shape.style.fill)
            _paint(renderer, to_pixels, _outline(parts, closed=True), filling)
        if shape.style.stroke and runs:
            line = shape.style._replace(fill=None)
            _paint(renderer, to_pixels, _outline(runs, shape.closed), line)


def _draw_text(renderer: RendererAgg, to_pixels: Affine2D, shape: Text) -> None:
    import numpy as np
    from matplotlib.path import Path as Outline
    from matplotlib.transforms import Affine2D

    if shape.backed:
        left, top, right, bottom = ground_mm(shape)
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        _draw(renderer, to_pixels, Path((corners,), Style(fill="#ffffff"), closed=True))
    vertices: list[Point] = []
    codes: list[np.uint8] = []
    for char, start_em in glyph_starts_em(shape.text, shape.bold):
        glyph_vertices, glyph_codes = _glyph(char, shape.bold)
        vertices.extend([(x + start_em, y) for x, y in glyph_vertices])
        codes.extend(glyph_codes)
    if not vertices:
        return
    em_mm = shape.size_pt * POINT_MM
    place = Affine2D().scale(em_mm, -em_mm)  # fonts count upward, paper downward
    if shape.upward:
        place = place.rotate_deg(-90.0)
    place = place.translate(*start_mm(shape))
    run = Outline(np.array(vertices), np.array(codes, dtype=Outline.code_type))
    _paint(renderer, place + to_pixels, run, Style(fill=shape.colour))


@cache
def _glyph(char: str, bold: bool) -> tuple[tuple[Point, ...], tuple[np.uint8, ...]]:
    """Vertices [em] and matplotlib path codes of a glyph, or of the box for a missing one."""
    from fontTools.pens.basePen import BasePen
    from matplotlib.path import Path as Outline

    vertices: list[Point] = []
    codes: list[np.uint8] = []

    class Pen(BasePen):  # type: ignore[misc]  # fontTools is not typed
        def _add(self, code: np.uint8, *points: Point) -> None:
            vertices.extend((x / units_per_em, y / units_per_em) for x, y in points)
            codes.extend([code] * len(points))

        def _moveTo(self, pt: Point) -> None:  # noqa: N802  # the names are fontTools'
            self._add(Outline.MOVETO, pt)

        def _lineTo(self, pt: Point) -> None:  # noqa: N802
            self._add(Outline.LINETO, pt)

        def _qCurveToOne(self, pt1: Point, pt2: Point) -> None:  # noqa: N802
            self._add(Outline.CURVE3, pt1, pt2)

        def _closePath(self) -> None:  # noqa: N802
            self._add(Outline.CLOSEPOLY, (0.0, 0.0))

    font = _font(bold)
    with _reading_font:  # fontTools unpacks tables and glyphs when they are first asked for
        units_per_em = font["head"].unitsPerEm
        glyphs = font.getGlyphSet()
        glyphs[font.getBestCmap().get(ord(char), ".notdef")].draw(Pen(glyphs))
    return tuple(vertices), tuple(codes)


@cache
def _font(bold: bool) -> TTFont:
    return open_font(bold)


def _paint(renderer: RendererAgg, transform: Transform, outline: Outline, style: Style) -> None:
    from matplotlib.colors import to_rgb

    context = renderer.new_gc()
    context.set_snap(False)  # lines stay where the layout put them, not on whole pixels
    context.set_linewidth(0.0)
    if style.stroke:
        context.set_foreground(style.stroke)
        context.set_linewidth(style.width_mm / POINT_MM)
        context.set_capstyle(style.cap)
        context.set_joinstyle(style.join)
        if style.dash:
            context.set_dashes(0.0, [length / POINT_MM for length in style.dash])
    fill = (*to_rgb(style.fill), 1.0) if style.fill else None
    renderer.draw_path(context, outline, transform, fill)
    context.restore()


def _outline(runs: Iterable[Iterable[Point]], closed: bool) -> Outline:
    import numpy as np
    from matplotlib.path import Path as Outline

    vertices: list[Point] = []
    codes: list[np.uint8] = []
    for run in runs:
        before = len(vertices)
        vertices.extend(run)
        codes.append(Outline.MOVETO)
        codes.extend([Outline.LINETO] * (len(vertices) - before - 1))
        if closed:
            vertices.append((0.0, 0.0))  # ignored, as matplotlib wants it
            codes.append(Outline.CLOSEPOLY)
    outline = Outline(np.array(vertices), np.array(codes, dtype=Outline.code_type))
    outline.should_simplify = False
    return outline


def _circles(shape: Dots) -> Outline:
    """All dots as one outline; matplotlib's markers would land on whole pixels."""
    import numpy as np
    from matplotlib.path import Path as Outline

    circle = Outline.unit_circle()
    centres = np.array(shape.centres)
    vertices = centres[:, None, :] + shape.radius_mm * np.asarray(circle.vertices)[None, :, :]
    return Outline(vertices.reshape(-1, 2), np.tile(np.asarray(circle.codes), len(centres)))


def _even_odd(runs: list[Run]) -> Iterator[Run]:
    """Cut the even-odd inside of closed runs into trapezoids that nowhere overlap.

    The rasteriser only knows the non-zero rule, under which a ring inside a ring of the same sense
    would be filled. Trapezoids of one outline share their edges exactly, so no seam shows.
    """
    if len(runs) == 1 and len(runs[0]) < 5:  # too few corners to go round twice: the rules agree
        yield from runs
        return
    edges = [
        (*sorted((a, b), key=lambda point: point[1]),)
        for run in runs
        for a, b in pairwise([*run, run[0]])
        if a[1] != b[1]
    ]
    edges.sort(key=lambda edge: edge[0][1])
    levels = sorted({point[1] for edge in edges for point in edge})
    crossing: list[tuple[Point, ...]] = []
    waiting = 0
    for top, bottom in pairwise(levels):
        crossing = [edge for edge in crossing if edge[1][1] > top]
        while waiting < len(edges) and edges[waiting][0][1] <= top:
            crossing.append(edges[waiting])
            waiting += 1
        for upper, lower in pairwise(_cuts(crossing, top, bottom)):
            spans = sorted(
                (_x_at(edge, (upper + lower) / 2.0), _x_at(edge, upper), _x_at(edge, lower))
                for edge in crossing
            )
            for (_, left_up, left_low), (_, right_up, right_low) in zip(spans[::2], spans[1::2], strict=True):
                yield (
                    (left_up, upper),
                    (right_up, upper),
                    (right_low, lower),
                    (left_low, lower),
                )


def _cuts(edges: list[tuple[Point, ...]], top: float, bottom: float) -> list[float]:
    """Top, bottom and each height between them at which two of the edges cross."""
    cuts = {top, bottom}
    for one, other in combinations(edges, 2):
        above = _x_at(one, top) - _x_at(other, top)
        below = _x_at(one, bottom) - _x_at(other, bottom)
        if above * below < 0.0:
            cuts.add(top + (bottom - top) * above / (above - below))
    return sorted(cuts)


def _x_at(edge: tuple[Point, ...], y: float) -> float:
    (x0, y0), (x1, y1) = edge
    return x0 + (x1 - x0) * (y - y0) / (y1 - y0)
