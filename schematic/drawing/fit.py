"""How a stretch of paper is shared among the parts of a depth range.

Parts that would be too short to read at the common scale are stretched to their least height, and
what is left is shared by length. Which parts these are depends on the common scale, and the common
scale on them, so the set is grown until it stands still; it only ever grows, so this ends.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

STRETCHED_SHARE = 0.15  # of the page height, at least, for each stretched span when there is room
COMMON_SHARE = 0.40  # of the zone, below which no stretched span grows beyond its least heights
COMMON_SHARE_WHEN_CROWDED = 0.15  # of the zone, below which the least heights themselves shrink
LEAST_RUN_MM = 3.0  # a shorter run at the common scale is not worth two marks of change


class ShortPart(NamedTuple):
    """A part of the depth range and the least height at which it can be read."""

    top_md_m: float
    bottom_md_m: float
    least_mm: float


Cell = ShortPart  # a part, or a gap between parts with no least height


class Piece(NamedTuple):
    """One linear piece of a scale."""

    top_md_m: float
    bottom_md_m: float
    height_mm: float
    stretched: bool


class Filled(NamedTuple):
    """Pieces that fill a zone, and the share of the least heights that there was room for."""

    pieces: tuple[Piece, ...]
    fraction: float


class _Try(NamedTuple):
    """One attempt with a given set of stretched cells."""

    pieces: tuple[Piece, ...]
    cell_mm: tuple[float, ...]
    run_mm: tuple[float, ...]
    mm_per_m: float
    fraction: float


class _Span(NamedTuple):
    """Neighbouring stretched cells; base_mm is their height with margins."""

    first: int
    last: int
    parts_mm: float
    base_mm: float


class _Shared(NamedTuple):
    """What all stretched heights are multiplied by, what each span grows by, what is left."""

    factor: float
    grown_mm: tuple[float, ...]
    common_mm: float


def fill(cells: Sequence[Cell], height_mm: float, page_mm: float, margin_mm: float, round_m: float) -> Filled:
    """Share *height_mm* among contiguous cells, in order, exactly, every piece of some height.

    Every cell gets its least height when all of them fit beside 15 % of the zone for the rest;
    otherwise all least heights and margins shrink by one factor. A stretched span grows to 15 % of
    *page_mm* as long as the rest keeps 40 % of the zone. Limits of stretched spans are moved
    outward to multiples of *round_m* where that leaves the margin stretched.
    """
    stretched: dict[int, float] = {}
    mm_per_m = height_mm / (cells[-1].bottom_md_m - cells[0].top_md_m)
    while True:
        attempt = _attempt(cells, stretched, height_mm, page_mm, margin_mm, round_m, mm_per_m)
        mm_per_m = min(mm_per_m, attempt.mm_per_m)
        more = {
            i: max(cell.least_mm, mm_per_m * (cell.bottom_md_m - cell.top_md_m))
            for i, cell in enumerate(cells)
            if i not in stretched and _too_short(i, cell, stretched, attempt)
        }
        if not more:
            return Filled(attempt.pieces, attempt.fraction)
        stretched |= more


def _too_short(i: int, cell: Cell, stretched: Mapping[int, float], attempt: _Try) -> bool:
    if attempt.cell_mm[i] < cell.least_mm * attempt.fraction * (1.0 - 1e-12):
        return True
    beside = i - 1 in stretched or i + 1 in stretched
    return beside and attempt.run_mm[i] < LEAST_RUN_MM


def _attempt(
    cells: Sequence[Cell],
    stretched: Mapping[int, float],
    height_mm: float,
    page_mm: float,
    margin_mm: float,
    round_m: float,
    mm_per_m: float,
) -> _Try:
    """Heights of all cells when exactly these are stretched to these heights."""
    spans = _spans(stretched, len(cells), margin_mm)
    shared = _share([span.base_mm for span in spans], len(stretched) == len(cells), height_mm, page_mm)
    stretch = {
        i: shared.factor * (1.0 + extra_mm / span.parts_mm)
        for span, extra_mm in zip(spans, shared.grown_mm, strict=True)
        for i in range(span.first, span.last + 1)
    }
    above_m, below_m = _margins_m(cells, spans, margin_mm, round_m, mm_per_m)
    run_m = [
        0.0 if i in stretched else _length_m(cell) - above_m.get(i, 0.0) - below_m.get(i, 0.0)
        for i, cell in enumerate(cells)
    ]
    scale = shared.common_mm / sum(run_m) if shared.common_mm > 0.0 else mm_per_m
    edge_mm = margin_mm * shared.factor
    by_cell: list[list[Piece]] = []
    for i, cell in enumerate(cells):
        if i in stretched:
            by_cell.append([Piece(*cell[:2], stretched[i] * stretch[i], True)])
            continue
        top = cell.top_md_m + above_m.get(i, 0.0)
        bottom = cell.bottom_md_m - below_m.get(i, 0.0)
        pieces = [
            Piece(cell.top_md_m, top, edge_mm, True),
            Piece(top, bottom, scale * run_m[i], False),
            Piece(bottom, cell.bottom_md_m, edge_mm, True),
        ]
        by_cell.append([piece for piece in pieces if piece.bottom_md_m > piece.top_md_m])
    return _Try(
        tuple(piece for pieces in by_cell for piece in pieces),
        tuple(sum(piece.height_mm for piece in pieces) for pieces in by_cell),
        tuple(scale * length_m for length_m in run_m),
        scale,
        min(shared.factor, 1.0),
    )


def _length_m(cell: Cell) -> float:
    return cell.bottom_md_m - cell.top_md_m


def _spans(stretched: Mapping[int, float], count: int, margin_mm: float) -> list[_Span]:
    """Neighbouring stretched cells as spans, each with a margin on the sides where it has any."""
    edges: list[tuple[int, int]] = []
    for i in sorted(stretched):
        if edges and edges[-1][1] == i - 1:
            edges[-1] = (edges[-1][0], i)
        else:
            edges.append((i, i))
    spans = []
    for first, last in edges:
        parts_mm = sum(stretched[i] for i in range(first, last + 1))
        margins = (first > 0) + (last < count - 1)
        spans.append(_Span(first, last, parts_mm, parts_mm + margins * margin_mm))
    return spans


def _share(base_mm: Sequence[float], alone: bool, height_mm: float, page_mm: float) -> _Shared:
    """Paper shared among the spans and the rest; *alone* when there is no rest."""
    none = (0.0,) * len(base_mm)
    if alone:
        return _Shared(height_mm / sum(base_mm), none, 0.0)
    room_mm = height_mm - sum(base_mm)
    least_mm = COMMON_SHARE_WHEN_CROWDED * height_mm
    if room_mm < least_mm:
        return _Shared((height_mm - least_mm) / sum(base_mm), none, least_mm)
    wanted_mm = [max(STRETCHED_SHARE * page_mm - base, 0.0) for base in base_mm]
    spare_mm = max(room_mm - COMMON_SHARE * height_mm, 0.0)
    grow = min(spare_mm / sum(wanted_mm), 1.0) if sum(wanted_mm) > 0.0 else 0.0
    grown_mm = tuple(grow * wanted for wanted in wanted_mm)
    return _Shared(1.0, grown_mm, room_mm - sum(grown_mm))


def _margins_m(
    cells: Sequence[Cell],
    spans: Sequence[_Span],
    margin_mm: float,
    round_m: float,
    mm_per_m: float,
) -> tuple[dict[int, float], dict[int, float]]:
    """The depth that margins take from the top and from the bottom of the cells they lie in."""
    above_m: dict[int, float] = {}
    below_m: dict[int, float] = {}
    for span in spans:
        top, bottom = cells[span.first].top_md_m, cells[span.last].bottom_md_m
        plain_m = margin_mm * (bottom - top) / span.parts_mm
        if span.first > 0:
            limit_m = _margin_limit_m(cells[span.first - 1], margin_mm, mm_per_m)
            snapped_m = top - math.floor((top - plain_m) / round_m) * round_m
            below_m[span.first - 1] = snapped_m if snapped_m <= limit_m else min(plain_m, limit_m)
        if span.last < len(cells) - 1:
            limit_m = _margin_limit_m(cells[span.last + 1], margin_mm, mm_per_m)
            snapped_m = math.ceil((bottom + plain_m) / round_m) * round_m - bottom
            above_m[span.last + 1] = snapped_m if snapped_m <= limit_m else min(plain_m, limit_m)
    return above_m, below_m


def _margin_limit_m(cell: Cell, margin_mm: float, mm_per_m: float) -> float:
    """The most depth that a margin may take from the cell it lies in and still be stretched."""
    return min(margin_mm / mm_per_m, 0.4 * _length_m(cell))
