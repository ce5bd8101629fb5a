"""Small pages on which every kind of shape and every way to paint it occurs."""

from math import cos, pi, sin

from schematic.drawing.scene import Dots, Group, Path, Scene, Sheet, Style, Text

HOSTILE = "<script>alert('x')</script> ]]> & \" \x00\x07\x1b \u202eevil\u202c \ud800 \ufffe"


def square(left, top, side):
    return ((left, top), (left + side, top), (left + side, top + side), (left, top + side))


def star(x, y, radius):
    """Return a star drawn in one go: its middle is inside twice, so even-odd leaves it open."""
    turns = [4 * pi * corner / 5 - pi / 2 for corner in range(5)]
    return tuple((x + radius * cos(turn), y + radius * sin(turn)) for turn in turns)


TEXTS = (
    Text(10, 15, "Quill 7, liner top", 16, bold=True),
    Text(10, 25, '9 5/8" shoe @ 10,250 ft MD', 9),
    Text(60, 35, "middle, 12\u2009590.0", 6.5, anchor="middle"),
    Text(110, 35, "AVATAR Tools", 6.5, anchor="end", colour="#595959"),
    Text(12, 95, "upward from here", 6.5, upward=True),
    Text(20, 70, "upward middle", 9, bold=True, anchor="middle", upward=True),
    Text(28, 45, "upward end", 6.5, anchor="end", upward=True),
    Text(75, 66.5, "on white", 6.5, bold=True, anchor="middle", backed=True),
    Text(50, 80, "TVD", 6.5, upward=True, backed=True),
)

PATHS = (
    Path((square(35, 45, 20), square(38, 48, 14)), Style(fill="#0072b2"), closed=True),
    Path((square(80, 40, 10), square(84, 44, 10)), Style(fill="#d55e00"), closed=True),
    Path((star(105, 50, 8),), Style(stroke="#000000", width_mm=0.35, fill="#a6a6a6"), closed=True),
    Path((((60, 60), (115, 75)), ((60, 63), (115, 78))), Style(stroke="#595959")),
    Path(
        (((35, 85), (73, 85), (73, 95)),),
        Style(stroke="#000000", width_mm=0.7, dash=(4, 0.7, 0.6, 0.7)),
    ),
    Path(
        (((80, 85), (95, 95), (110, 85)),),
        Style(stroke="#000000", width_mm=2.0, cap="round", join="round"),
    ),
)

DOTS = (
    Dots(
        tuple((36 + 1.25 * column, 70 + 1.25 * row) for column in range(8) for row in range(4)),
        0.155,
        Style(fill="#009e73"),
    ),
    Dots(((90, 65), (93, 65)), 1.0, Style(stroke="#000000", width_mm=0.18, fill="#ffffff")),
    Dots(((99, 65),), 1.0, Style(stroke="#d55e00", width_mm=0.35)),
)

PAGE = Scene(
    120,
    100,
    "Sample page",
    "Every kind of shape, once",
    (
        Group("", "", PATHS),
        Group("liner.hanger", "Liner hanger", DOTS, "Dots & rings"),
        Group("liner.hanger", "Liner hanger", TEXTS),
    ),
)

HOSTILE_PAGE = Scene(
    80,
    20,
    HOSTILE,
    HOSTILE,
    (Group(HOSTILE, HOSTILE, (Text(5, 10, HOSTILE), Text(5, 15, "\n \t")), HOSTILE),),
)

SHEET = Sheet((PAGE, HOSTILE_PAGE))


def heavy_page():
    """Return an A4 page as full as a real one: 150 texts, 150 paths, 6 000 dots."""
    texts = tuple(Text(10 + 40 * (n % 5), 10 + 9 * (n // 5), f"Landing collar {n}") for n in range(150))
    paths = tuple(
        Path((tuple((10 + k, 10 + n + k % 2) for k in range(20)),), Style(stroke="#595959"))
        for n in range(150)
    )
    dots = tuple((10 + 0.66 * (n % 100), 10 + 0.66 * (n // 100)) for n in range(6000))
    shapes = (*paths, Dots(dots, 0.155, Style(fill="#009e73")), *texts)
    return Scene(210, 297, "Full page", "As much as a sheet holds", (Group("liner", "L", shapes),))
