"""Depths at which a ruler along a depth scale is ticked, and the equal blocks it is built of."""

from __future__ import annotations

import math
from bisect import bisect
from collections.abc import Sequence
from typing import NamedTuple

from schematic.drawing.scale import DepthScale, Span

TICK_GAP_MM = 2.9  # a line of figures at the small size needs this to the next
TOUCHING_MM = 2.35  # nearer than this two lines of figures touch
STEPS = (1, 2, 5)  # and their multiples of ten
ROUGH = 1e-9  # of a block: rounding of floats


class Block(NamedTuple):
    """One block of a ruler; dark and light alternate from depth zero."""

    top_md_m: float
    bottom_md_m: float
    dark: bool


def ticks(
    scale: DepthScale,
    unit_m: float,
    gap_mm: float = TICK_GAP_MM,
    marks: Sequence[float] = (),
    *,
    changes: bool = False,
) -> tuple[float, ...]:
    """Measured depths to label, at least *gap_mm* apart on paper, in metres.

    Marks are always among them, and so are limits of stretched spans, and with *changes* every depth at
    which the scale changes, even where two are closer than the gap; only a limit whose figures would touch
    those of a mark is left to its panel. All others are multiples of *unit_m*; where there is no room for
    all, the least round go first. On a span of one scale they keep one step.
    """
    kept = [(md, scale.y_mm(md)) for md in sorted(set(marks))]
    limits = {md for s in scale.spans if s.kind == "stretched" for md in s[:2]}
    limits |= set(scale.breaks) if changes else set()
    ends = [(md, scale.y_mm(md)) for md in sorted(limits.difference(marks))]
    kept += [end for end in ends if all(abs(end[1] - y) >= TOUCHING_MM for _, y in kept)]
    found, levels = [md for md, _ in kept], sorted(y for _, y in kept)
    counts = {n for span in scale.spans for n in _candidates(scale, span, unit_m, gap_mm)}
    for n in sorted(counts, key=lambda n: (-_roundness(n), n)):
        y = scale.y_mm(n * unit_m)
        place = bisect(levels, y)
        if all(abs(y - other) >= gap_mm for other in levels[max(place - 1, 0) : place + 1]):
            found.append(n * unit_m)
            levels.insert(place, y)
    return tuple(sorted(found))


def blocks(
    scale: DepthScale,
    block_m: float,
    top_md_m: float | None = None,
    bottom_md_m: float | None = None,
) -> tuple[Block, ...]:
    """Equal blocks of depth from *top* to *bottom* (the whole scale), cut at both ends."""
    top = scale.top_md_m if top_md_m is None else top_md_m
    bottom = scale.bottom_md_m if bottom_md_m is None else bottom_md_m
    first = math.floor(top / block_m + ROUGH)
    last = math.ceil(bottom / block_m - ROUGH)
    return tuple(
        Block(max(n * block_m, top), min((n + 1) * block_m, bottom), n % 2 == 0) for n in range(first, last)
    )


def _candidates(scale: DepthScale, span: Span, unit_m: float, gap_mm: float) -> range:
    """Counts of the unit that may be ticked on a span."""
    step = 1
    if span.kind != "stretched":
        mm_per_m = 1000.0 / scale.ratio(0.5 * (span.top_md_m + span.bottom_md_m))
        steps = (s * 10**power for power in range(12) for s in STEPS)
        step = next(s for s in steps if s * unit_m * mm_per_m >= gap_mm)
    first = math.ceil(span.top_md_m / (step * unit_m) - ROUGH)
    last = math.floor(span.bottom_md_m / (step * unit_m) + ROUGH)
    return range(first * step, last * step + 1, step)


def _roundness(n: int) -> int:
    """The largest of 1, 2, 5, 10, 20 ... that divides *n*; zero is the roundest of all."""
    if n == 0:
        return 10**12
    power = 1
    while n % (10 * power) == 0:
        power *= 10
    return power * max(s for s in STEPS if n % (s * power) == 0)
