"""One depth scale and one ratio of diameters for several wells that are drawn beside one another."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.drawing.fit import ShortPart
from schematic.drawing.frame import Frame, coarse_to_m, range_bottom_m, ratio_of, round_step_m, short_parts
from schematic.drawing.scale import fitted_scale
from schematic.units import System

_LOWER = 0.7  # least heights of parts, which here are told apart by their neighbours in the next well as well
_THIN_M = 0.01  # ends of parts nearer than this are one level


def common_frame(
    evaluations: Sequence[Evaluation],
    system: System,
    *,
    top_mm: float,
    bottom_mm: float,
    widest_mm: float,
    hatch_mm: float,
) -> Frame:
    """The frame that all wells share; its axis is at nought and is put where each well stands.

    Parts of all wells get their least heights on it: where a part of one well stands beside the middle of
    another's, the taller share counts.
    """
    bottom = max(range_bottom_m(one, system) for one in evaluations)
    step = round_step_m(system, bottom)
    coarse_to = min(coarse_to_m(one, step) for one in evaluations)
    scale = fitted_scale(
        0.0,
        bottom,
        top_mm,
        bottom_mm,
        parts=shared_parts(evaluations, 0.0, bottom, step, _LOWER),
        coarse_to_md_m=coarse_to if 0.0 < coarse_to < bottom else None,
        round_m=step,
    )
    ratio = max(ratio_of(one.plan.depth, hatch_mm, widest_mm) for one in evaluations)
    return Frame(scale, "fitted", ratio, 0.0, system)


def shared_parts(
    evaluations: Sequence[Evaluation], top_m: float, bottom_m: float, step_m: float, lower: float
) -> list[ShortPart]:
    """The short parts of all wells cut at all their ends, each piece as high as the highest share of it.

    Their least heights are *lower* by that factor.
    """
    every = [part for one in evaluations for part in short_parts(one.plan.depth, top_m, bottom_m, step_m)]
    ends: list[float] = []
    for end in sorted({end for part in every for end in part[:2]}):
        if not ends or end - ends[-1] > _THIN_M:
            ends.append(end)
    pieces: list[ShortPart] = []
    for top, bottom in zip(ends, ends[1:], strict=False):
        shares = [
            lower * part.least_mm * (bottom - top) / (part.bottom_md_m - part.top_md_m)
            for part in every
            if part.top_md_m <= top + _THIN_M and part.bottom_md_m >= bottom - _THIN_M
        ]
        if shares:
            pieces.append(ShortPart(top, bottom, max(shares)))
    return pieces
