"""Measured depth to paper: a piecewise linear scale, and the builders that make one.

Depths are measured depths in metres, paper is millimetres, both grow downward. A scale may compress
and stretch but never turns round and never leaves anything out.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

from schematic.drawing.fit import Cell, Piece, ShortPart, fill

Kind = Literal["true", "coarse", "medium", "stretched"]

COARSE_SHARE = 0.225  # of the paper: between 20 and 25 %
COARSE_SHARES_WHEN_CROWDED = (0.20, 0.175, 0.15, 0.125, 0.10)
MARGIN_MM = 2.4  # above and below a stretched span: its limit and its first part can both be labelled
ROUGH = 1e-9  # of the range: rounding of floats, not a tolerance of the trade
THIN_M = 1e-6  # a shorter gap or overlap of parts is rounding too


class Span(NamedTuple):
    """Part of the depth range that is drawn at one kind of scale."""

    top_md_m: float
    bottom_md_m: float
    kind: Kind


@dataclass(frozen=True, slots=True)
class DepthScale:
    """Measured depth to paper, piecewise linear, strictly growing.

    ``depths_md_m`` and ``levels_mm`` are the corners. ``spans`` cover the range in order; inside a
    stretched span the scale differs from part to part. ``least_fraction`` is 1 when every short
    part got its least height, otherwise the share of it that there was room for.
    """

    depths_md_m: tuple[float, ...]
    levels_mm: tuple[float, ...]
    spans: tuple[Span, ...]
    least_fraction: float = 1.0

    def __post_init__(self) -> None:
        if len(self.depths_md_m) != len(self.levels_mm) or len(self.depths_md_m) < 2:
            raise ValueError("a depth scale needs as many levels as depths, and at least two")
        for name, values in (("depth", self.depths_md_m), ("level", self.levels_mm)):
            if any(low >= high for low, high in pairwise(values)):
                raise ValueError(f"each {name} of a depth scale must be greater than the last")

    @property
    def top_md_m(self) -> float:
        """Shallowest measured depth on the paper."""
        return self.depths_md_m[0]

    @property
    def bottom_md_m(self) -> float:
        """Deepest measured depth on the paper."""
        return self.depths_md_m[-1]

    @property
    def breaks(self) -> tuple[float, ...]:
        """Measured depths where one kind of scale ends and the next begins, in metres."""
        return tuple(span.top_md_m for span in self.spans[1:])

    def y_mm(self, md_m: float) -> float:
        """Level of a measured depth; ValueError outside the range."""
        return _between(md_m, self.depths_md_m, self.levels_mm)

    def md_m(self, y_mm: float) -> float:
        """Measured depth at a level; ValueError outside the range."""
        return _between(y_mm, self.levels_mm, self.depths_md_m)

    def ratio(self, md_m: float) -> float:
        """N of the local scale 1:N; at a corner that of the stretch below it."""
        _between(md_m, self.depths_md_m, self.levels_mm)
        i = bisect_right(self.depths_md_m, md_m, 1, len(self.depths_md_m) - 1) - 1
        depth_m = self.depths_md_m[i + 1] - self.depths_md_m[i]
        return 1000.0 * depth_m / (self.levels_mm[i + 1] - self.levels_mm[i])


def _between(value: float, given: tuple[float, ...], wanted: tuple[float, ...]) -> float:
    if not given[0] <= value <= given[-1]:
        slack = ROUGH * (given[-1] - given[0])
        if not given[0] - slack <= value <= given[-1] + slack:
            raise ValueError(f"{value} is outside {given[0]} to {given[-1]}")
    return interpolated(value, given, wanted)


def interpolated(value: float, given: tuple[float, ...], wanted: tuple[float, ...]) -> float:
    """Between the corners of a scale; a value beyond its ends is not asked for."""
    i = bisect_right(given, value, 1, len(given) - 1) - 1
    share = (value - given[i]) / (given[i + 1] - given[i])
    if share >= 1.0:  # the corner itself, free of rounding
        return wanted[i + 1]
    return wanted[i] + max(share, 0.0) * (wanted[i + 1] - wanted[i])


def true_scale(top_md_m: float, bottom_md_m: float, top_mm: float, bottom_mm: float) -> DepthScale:
    """One linear scale over the whole range."""
    return DepthScale((top_md_m, bottom_md_m), (top_mm, bottom_mm), (Span(top_md_m, bottom_md_m, "true"),))


def fitted_scale(
    top_md_m: float,
    bottom_md_m: float,
    top_mm: float,
    bottom_mm: float,
    *,
    parts: Sequence[ShortPart],
    coarse_to_md_m: float | None = None,
    round_m: float = 1.0,
) -> DepthScale:
    """A scale that keeps order, gives each part its least height, and shares the rest by length.

    The range above *coarse_to_md_m* gets 20 to 25 % of the paper (down to 10 % when parts are
    many), unless it would take less at the scale of the rest: then there is no coarse range. Parts
    too short to read at the scale of the rest form stretched spans, each at least the sum of its
    least heights with a margin of 2.4 mm above and below, whose limits are multiples of *round_m*
    where they can be. What is left is one medium scale.

    Parameters
    ----------
    top_md_m, bottom_md_m, top_mm, bottom_mm : float
        Ends of the depth range [m] and of the paper [mm].
    parts : sequence of ShortPart
        Parts in order of depth, not overlapping, within the range; also long ones.
    coarse_to_md_m : float or None
        Where the interesting depth begins. [m]
    round_m : float
        Limits of stretched spans are multiples of this. [m]

    Raises
    ------
    ValueError
        Parts out of order, overlapping or outside the range.
    """
    height_mm = bottom_mm - top_mm
    cells = _cells(top_md_m, bottom_md_m, parts, coarse_to_md_m)
    cut = sum(cell.top_md_m < coarse_to_md_m for cell in cells) if coarse_to_md_m is not None else 0
    upper, lower = cells[:cut], cells[cut:]
    if upper and lower:
        for share in (COARSE_SHARE, *COARSE_SHARES_WHEN_CROWDED):
            below = fill(lower, (1.0 - share) * height_mm, height_mm, MARGIN_MM, round_m)
            if below.fraction >= 1.0:
                break
        # no margins up here: the upper third of the well gets the least paper
        above = fill(upper, share * height_mm, 0.0, 0.0, round_m)
        if _common_ratio(above.pieces) > _common_ratio(below.pieces):
            fraction = min(above.fraction, below.fraction)
            return _scale(above.pieces, below.pieces, top_mm, bottom_mm, fraction)
    whole = fill(cells, height_mm, height_mm, MARGIN_MM, round_m)
    return _scale((), whole.pieces, top_mm, bottom_mm, whole.fraction)


def _common_ratio(pieces: Sequence[Piece]) -> float:
    """Metres per millimetre of the pieces that are not stretched; 0 when all are."""
    common = (p for p in pieces if not p.stretched)
    return max(((p.bottom_md_m - p.top_md_m) / p.height_mm for p in common), default=0.0)


def _cells(
    top_md_m: float, bottom_md_m: float, parts: Sequence[ShortPart], cut_m: float | None
) -> list[Cell]:
    """The whole range as cells: the parts, and the gaps between them, a gap where coarse ends."""
    cells: list[Cell] = []
    reached = top_md_m
    for part in (*parts, ShortPart(bottom_md_m, bottom_md_m, 0.0)):
        if part.top_md_m < reached - THIN_M or part.bottom_md_m > bottom_md_m + THIN_M:
            raise ValueError(f"part at {part.top_md_m} m overlaps, or is outside the depth range")
        if part.top_md_m > reached + THIN_M:
            if cut_m is not None and reached + THIN_M < cut_m < part.top_md_m - THIN_M:
                cells.append(Cell(reached, cut_m, 0.0))
                reached = cut_m
            cells.append(Cell(reached, part.top_md_m, 0.0))
            reached = part.top_md_m
        if part.bottom_md_m > reached + THIN_M:
            cells.append(Cell(reached, part.bottom_md_m, part.least_mm))
            reached = part.bottom_md_m
    cells[-1] = cells[-1]._replace(bottom_md_m=bottom_md_m)
    return cells


def _scale(
    coarse: Sequence[Piece],
    medium: Sequence[Piece],
    top_mm: float,
    bottom_mm: float,
    fraction: float,
) -> DepthScale:
    """Pieces stacked from the top; neighbours of one kind are one span, the end is exact."""
    spans: list[Span] = []
    depths, levels = [(*coarse, *medium)[0].top_md_m], [top_mm]
    zones: tuple[tuple[Sequence[Piece], Kind], ...] = ((coarse, "coarse"), (medium, "medium"))
    for pieces, common in zones:
        for piece in pieces:
            kind: Kind = "stretched" if piece.stretched else common
            if spans and spans[-1].kind == kind:
                spans[-1] = spans[-1]._replace(bottom_md_m=piece.bottom_md_m)
            else:
                spans.append(Span(piece.top_md_m, piece.bottom_md_m, kind))
            depths.append(piece.bottom_md_m)
            levels.append(levels[-1] + piece.height_mm)
    levels[-1] = bottom_mm
    return DepthScale(tuple(depths), tuple(levels), tuple(spans), fraction)
