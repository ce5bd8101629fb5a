"""The pages of the PDF as scenes, to be looked at where no PDF can be shown.

The document is set once more on a canvas that is read page by page: texts and rules from the operators of the
page (there are no others on pages of text), pages of the schematic from their scene.
"""

from __future__ import annotations

import re
from io import BytesIO
from typing import TYPE_CHECKING, Any

from schematic.drawing.pdf import FONTS, register_fonts
from schematic.drawing.scene import POINT_MM, Group, Path, Point, Scene, Shape, Sheet, Style, Text
from schematic.program.content import Program
from schematic.program.pdf import A4_MM, lay

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_TOKEN = re.compile(r"\((?:[^()\\]|\\.)*\)|[^\s()]+", re.DOTALL)
_ESCAPE = re.compile(r"\\(\d{3}|.)", re.DOTALL)


def pages(program: Program, page_mm: tuple[float, float] = A4_MM) -> Sheet:
    """Every page of the document in its order."""
    from reportlab.pdfgen.canvas import Canvas

    register_fonts()
    count = lay(program, page_mm, 0, BytesIO())
    made: list[Scene] = []

    class Read(Canvas):  # type: ignore[misc]
        """A canvas that is read before each page is closed."""

        shown: Scene | None = None

        def showPage(self) -> None:  # noqa: N802 - named by the library
            """Read the page, and close it."""
            width, height = (one * POINT_MM for one in self._pagesize)
            groups = self.shown.groups if self.shown else ()
            texts = Group("", f"page {len(made) + 1}", tuple(_shapes(self, height)))
            title = f"{program.title}, page {len(made) + 1} of {count}"
            made.append(Scene(width, height, title, "", (*groups, texts)))
            self.shown = None
            super().showPage()

    def shown(canvas: Any, scene: Scene) -> None:  # noqa: ANN401
        canvas.shown = scene

    lay(program, page_mm, count, BytesIO(), Read, shown)
    return Sheet(tuple(made))


def _shapes(canvas: Canvas, height_mm: float) -> list[Shape]:
    """The texts and rules of a page of a canvas, in millimetres from its top left."""
    made: list[Shape] = []
    values: list[str] = []
    kept: list[Point] = []
    x = y = width = leading = size = 0.0
    font = ""
    at: Point = (0.0, 0.0)
    start: Point = (0.0, 0.0)

    def on_paper(dx: float, dy: float) -> Point:
        return POINT_MM * (x + dx), height_mm - POINT_MM * (y + dy)

    for token in _TOKEN.findall("\n".join(canvas._code)):
        if token[0] == "(" or token[0] == "/" or token[0] in "+-.0123456789":
            values.append(token)
            continue
        numbers = [float(one) for one in values if one[0] not in "(/"]
        match token:
            case "q":
                kept.append((x, y))
            case "Q":
                x, y = kept.pop()
            case "cm":
                x, y = x + numbers[4], y + numbers[5]
            case "Tm":
                at = numbers[4], numbers[5]
            case "Td":
                at = at[0] + numbers[0], at[1] + numbers[1]
            case "T*":
                at = at[0], at[1] - leading
            case "TL":
                leading = numbers[0]
            case "Tf":
                font, size = values[0], numbers[0]
            case "Tj":
                text, bold = _read(canvas, font, values[-1])
                made.append(Text(*on_paper(*at), text, size, bold))
            case "w":
                width = numbers[0]
            case "m":
                start = on_paper(*numbers)
            case "l":
                style = Style(stroke="#000000", width_mm=round(POINT_MM * width, 4))
                made.append(Path(((start, on_paper(*numbers)),), style))
        values = []
    return made


def _read(canvas: Canvas, font: str, written: str) -> tuple[str, bool]:
    """A text as it was before its characters became those of a part of a font, and whether it is bold."""
    from reportlab.pdfbase import pdfmetrics

    codes = _ESCAPE.sub(lambda one: chr(int(one[1], 8)) if one[1].isdigit() else one[1], written[1:-1])
    for bold, name in FONTS.items():
        state = pdfmetrics.getFont(name).state.get(canvas._doc)
        internal, _plus, subset = font[1:].partition("+")
        if state is not None and state.internalName == internal:
            characters = state.subsets[int(subset)]
            return "".join(chr(characters[ord(code)]) for code in codes), bold
    return codes, False
