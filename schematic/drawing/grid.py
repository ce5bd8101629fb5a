"""Paper, and where the columns of a sheet stand on it: wider where the paper has room."""

from __future__ import annotations

from typing import Literal, NamedTuple

Span = tuple[float, float]  # left and right on paper [mm]
PaperName = Literal["a4", "a3", "letter", "tabloid"]

MARGIN_MM = 8.0
WELL_TOP_MM = 34.4
TITLE_MM = 27.4  # the title block and the margin below it
_LEANING_MM = 3.8  # inclination beside the depths takes this much


class Paper(NamedTuple):
    """A sheet of paper as it lies on the table."""

    name: PaperName | Literal["screen"]
    width_mm: float
    height_mm: float

    @property
    def right_mm(self) -> float:
        """Where what is printed ends on the right."""
        return self.width_mm - MARGIN_MM

    @property
    def title_mm(self) -> float:
        """Where the title block begins."""
        return self.height_mm - TITLE_MM

    @property
    def landscape(self) -> bool:
        """Whether the long side lies level."""
        return self.width_mm > self.height_mm


# ISO 216 and ANSI/ASME Y14.1, portrait
PAPERS: dict[PaperName, Paper] = {
    "a4": Paper("a4", 210.0, 297.0),
    "a3": Paper("a3", 297.0, 420.0),
    "letter": Paper("letter", 215.9, 279.4),
    "tabloid": Paper("tabloid", 279.4, 431.8),
}
A4 = PAPERS["a4"]


def turned(paper: Paper) -> Paper:
    """The same paper in landscape."""
    return Paper(paper.name, paper.height_mm, paper.width_mm)


class Grid(NamedTuple):
    """The columns of the well zone, from left to right; a track that shows nothing is None."""

    paper: Paper
    strip: bool  # a strip of the whole depth at true scale stands left of the ruler
    leaning: bool  # inclination stands beside the depths
    labels_mm: Span
    well_mm: Span
    parts_mm: Span
    volumes_mm: Span | None
    pressure_mm: Span | None
    path_mm: Span | None
    caliper_mm: Span | None
    rock_mm: Span | None
    right_mm: float

    @property
    def axis_mm(self) -> float:
        """The axis of the well: a little left of the middle, since leaders to the right need their knee."""
        return self.well_mm[0] + 0.423 * (self.well_mm[1] - self.well_mm[0])

    @property
    def widest_mm(self) -> float:
        """How wide the well may be with its hatch."""
        return self.well_mm[1] - self.well_mm[0] - 0.6


class _Column(NamedTuple):
    name: str
    least_mm: float
    weight: float  # its share of what is left over
    most_mm: float


_PARTS = _Column("parts", 38.6, 0.8, 50.0)
_VOLUMES = _Column("volumes", 18.2, 0.4, 24.0)
_PRESSURE = _Column("pressure", 18.3, 0.9, 34.0)
_PATH = _Column("path", 24.0, 0.5, 32.0)
_CALIPER = _Column("caliper", 18.0, 0.5, 24.0)
_ROCK = _Column("rock", 16.7, 0.4, 26.0)


def grid(
    paper: Paper,
    *,
    strip: bool,
    leaning: bool,
    volumes: bool,
    pressure: bool,
    path: bool,
    caliper: bool,
    rock: bool,
    right_mm: float | None = None,
) -> Grid:
    """The columns of a paper for a well that has these tracks.

    Path and caliper tracks come where the paper has room for them beside all others.
    """
    right = paper.right_mm if right_mm is None else right_mm
    left = 43.4 + (_LEANING_MM if leaning else 0.0)
    well = _Column("well", 32.2 if leaning else 35.1, 1.5, 66.0)
    columns = [_Column("labels", 30.8 if leaning else 31.7, 1.0, 44.0), well, _PARTS]
    beside = ((_VOLUMES, volumes), (_PRESSURE, pressure), (_ROCK, rock))
    columns += [column for column, shown in beside if shown]
    for column, shown in ((_PATH, path), (_CALIPER, caliper)):
        if shown and sum(c.least_mm for c in columns) + column.least_mm <= right - left + 1e-6:
            columns.insert(len(columns) - int(rock), column)
    widths = _widths(columns, right - left)
    spans: dict[str, Span] = {}
    for column in columns:
        spans[column.name] = (left, left + widths[column.name])
        left += widths[column.name]
    return Grid(
        paper,
        strip,
        leaning,
        spans["labels"],
        spans["well"],
        spans["parts"],
        spans.get("volumes"),
        spans.get("pressure"),
        spans.get("path"),
        spans.get("caliper"),
        spans.get("rock"),
        right,
    )


def _widths(columns: list[_Column], room_mm: float) -> dict[str, float]:
    """Least widths, and what is left shared by weight up to the most; the rest goes to the well."""
    widths = {column.name: column.least_mm for column in columns}
    left = room_mm - sum(widths.values())
    open_columns = list(columns)
    while open_columns and left > 1e-9:
        per_weight = left / sum(column.weight for column in open_columns)
        full = [c for c in open_columns if widths[c.name] + per_weight * c.weight >= c.most_mm]
        if not full:
            for column in open_columns:
                widths[column.name] += per_weight * column.weight
            return widths
        for column in full:
            left -= column.most_mm - widths[column.name]
            widths[column.name] = column.most_mm
        open_columns = [column for column in open_columns if column not in full]
    widths["well"] += max(left, 0.0)
    return widths
