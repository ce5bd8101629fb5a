"""The paper of the main column: its depth scale, the one ratio of its diameters, its axis."""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import Depths
from schematic.drawing.fit import ShortPart
from schematic.drawing.grid import WELL_TOP_MM, Grid
from schematic.drawing.scale import DepthScale, fitted_scale, interpolated, true_scale
from schematic.units import FOOT_M, System

ScaleKind = Literal["fitted", "true"]

# Least heights on paper at which a part can still be told from its neighbours.
LEAST_MM = {
    "float shoe": 3.9,
    "reamer shoe": 3.9,
    "guide shoe": 3.3,
    "float collar": 3.3,
    "landing collar": 3.3,
    "stage collar": 3.3,
    "crossover": 3.3,
    "swivel": 3.3,
    "setting sleeve": 3.3,
    "debris barrier": 3.3,
    "external packer": 5.6,
    "liner top packer": 5.6,
    "tie-back receptacle": 6.4,
    "liner hanger": 6.8,
    "pup joint": 4.4,
    "joint": 4.6,
}
_RATHOLE_MM = 2.5  # so that the shoe and the bottom of the hole are both labelled
_BELOW_MM = 9.0  # rock named below the hole
_CONDUCTOR_MM = 5.6
_BELOW_CONDUCTOR = 0.25  # of its length, in the same stretched interval: the shoe stands clear of the mark
_SHALLOW = 1000.0  # feet or metres
_BEYOND_MM = 200.0  # paper that nobody sees, for what lies beyond the ends of a part of a well
_ABOVE_LINER_M = 600 * FOOT_M  # of host drawn at the scale of the liner, above it

_RATIOS = (8, 10, 12, 16, 20, 25, 32, 40, 50)
_WIDEST_CONDUCTOR_MM = 52.0  # the conductor may stick out over empty label space
_OVER_FROM = 12  # a well is not drawn larger than 1:12 at the cost of its labels


class Frame(NamedTuple):
    """Where the main column stands and how it is scaled."""

    scale: DepthScale
    kind: ScaleKind
    ratio: int  # diameters are drawn 1:ratio
    axis_mm: float
    system: System

    def y(self, md_m: float) -> float:
        """Level of a depth; what lies outside the range is drawn at its end."""
        depths, levels = self.scale.depths_md_m, self.scale.levels_mm
        if md_m <= depths[0]:
            return levels[0]
        return levels[-1] if md_m >= depths[-1] else interpolated(md_m, depths, levels)

    def r(self, diameter_m: float) -> float:
        """Radius on paper of a diameter in the well."""
        return diameter_m * 500.0 / self.ratio


def block_m(system: System, depth_m: float) -> float:
    """The equal block of the ruler: 100 ft or 100 m, in a shallow well 10."""
    unit = FOOT_M if system == "field" else 1.0
    return unit * (100.0 if depth_m >= _SHALLOW * unit else 10.0)


def round_step_m(system: System, depth_m: float) -> float:
    """The small step of depth that readers count in: 10 ft or 5 m, in a shallow well 1."""
    block = block_m(system, depth_m)
    return block / 10.0 if system == "field" or depth_m < _SHALLOW else block / 20.0


def strip_block_m(system: System, depth_m: float) -> float:
    """The equal block of the true strip: 1 000 ft or 500 m, in a shallow well 100 or 50."""
    return block_m(system, depth_m) * (10.0 if system == "field" else 5.0)


def ratio_of(depth: Depths, hatch_mm: float, widest_mm: float) -> int:
    """The largest ratio that keeps the well within its width."""
    outer = max(string.od_m for string in depth.strings)
    conductors = [s for s in depth.strings if s.od_m == outer] if len(depth.strings) > 1 else []
    conductor_end = max((s.shoe_md_m for s in conductors), default=0.0)
    below = [
        d
        for top, bottom, d in zip(
            depth.hole.diameter_m.depths_m,
            depth.hole.diameter_m.depths_m[1:],
            depth.hole.diameter_m.values,
            strict=False,
        )
        if bottom > conductor_end + 1.0 and (top >= conductor_end - 30.0)
    ]
    inner = [s.od_m for s in depth.strings if s not in conductors]
    width = max([*below, *inner])
    widest = max([*depth.hole.diameter_m.values, outer])
    for ratio in _RATIOS:
        conductor_mm = max(widest_mm, _WIDEST_CONDUCTOR_MM) if ratio >= _OVER_FROM else widest_mm
        if (
            width * 1000.0 / ratio + 2 * hatch_mm <= widest_mm
            and widest * 1000.0 / ratio + 2 * hatch_mm <= conductor_mm
        ):
            return ratio
    return _RATIOS[-1]


def short_parts(depth: Depths, top_md_m: float, bottom_md_m: float, round_m: float) -> list[ShortPart]:
    """All that has a least height, in order of depth, without overlap."""
    wanted: list[ShortPart] = []
    outer = max(depth.strings, key=lambda string: string.od_m)
    if outer.top_md_m <= top_md_m + 1.0 and outer.shoe_md_m < depth.liner.top_md_m:
        end = outer.shoe_md_m + _BELOW_CONDUCTOR * (outer.shoe_md_m - top_md_m)
        end = min(
            math.ceil(end / round_m - 1e-9) * round_m, 0.5 * (outer.shoe_md_m + depth.liner.parts[0].top_md_m)
        )
        wanted.append(ShortPart(top_md_m, max(end, outer.shoe_md_m), _CONDUCTOR_MM))
    wanted += [
        ShortPart(part.top_md_m, part.bottom_md_m, LEAST_MM[part.kind] + (1.4 if part.joints == 2 else 0.0))
        for part in depth.liner.parts
        if part.kind in LEAST_MM
    ]
    wanted.append(ShortPart(depth.liner.shoe_md_m, depth.td_md_m, _RATHOLE_MM))
    wanted.append(ShortPart(max(depth.td_md_m, depth.liner.shoe_md_m), bottom_md_m, _BELOW_MM))
    kept: list[ShortPart] = []
    reached = top_md_m
    for part in wanted:
        top, bottom = max(part.top_md_m, reached), min(part.bottom_md_m, bottom_md_m)
        if bottom - top > 1e-6:
            kept.append(ShortPart(top, bottom, part.least_mm))
            reached = bottom
    return kept


def range_bottom_m(evaluation: Evaluation, system: System) -> float:
    """The end of the drawn range: below the hole where rock close under it has a name."""
    depth = evaluation.plan.depth
    deepest_m = max(depth.td_md_m, depth.liner.shoe_md_m)
    near = [top.md_m for top in evaluation.plan.formation.tops if deepest_m < top.md_m <= deepest_m + 61.0]
    if not near:
        return deepest_m
    block = block_m(system, deepest_m)
    return math.ceil((max(near) + 1.0) / block - 1e-9) * block


def coarse_to_m(evaluation: Evaluation, step_m: float) -> float:
    """Where the interesting depth begins: above the liner and all cement of the job, a round depth."""
    depth = evaluation.plan.depth
    tops = [min(depth.liner.top_md_m, depth.liner.parts[0].top_md_m) - _ABOVE_LINER_M]
    if evaluation.cement and evaluation.cement.top_string_in_md_m is not None:
        tops.append(evaluation.cement.top_string_in_md_m - step_m)
    if evaluation.plan.cement.planned_top_md_m is not None:
        tops.append(evaluation.plan.cement.planned_top_md_m - step_m)
    return math.floor(min(tops) / (5 * step_m)) * 5 * step_m


def frame(
    evaluation: Evaluation,
    kind: ScaleKind,
    system: System,
    *,
    grid: Grid,
    bottom_mm: float,
    hatch_mm: float,
    top_md_m: float = 0.0,
    bottom_md_m: float | None = None,
) -> Frame:
    """The frame of a well's main column, from the datum to the bottom, or of a part of it."""
    depth = evaluation.plan.depth
    bottom = range_bottom_m(evaluation, system) if bottom_md_m is None else bottom_md_m
    ratio, axis_mm, top_mm = ratio_of(depth, hatch_mm, grid.widest_mm), grid.axis_mm, WELL_TOP_MM
    if kind == "true":
        return Frame(true_scale(top_md_m, bottom, top_mm, bottom_mm), kind, ratio, axis_mm, system)
    step = round_step_m(system, bottom)
    coarse_to = coarse_to_m(evaluation, step)
    scale = fitted_scale(
        top_md_m,
        bottom,
        top_mm,
        bottom_mm,
        parts=short_parts(depth, top_md_m, bottom, step),
        coarse_to_md_m=coarse_to if top_md_m < coarse_to < bottom else None,
        round_m=step,
    )
    return Frame(scale, kind, ratio, axis_mm, system)


def carried_on(frame_: Frame, bottom_md_m: float) -> Frame:
    """The frame of a part of a well, carried on beyond both ends: what stands there is cut off."""
    scale = frame_.scale
    depths, levels, spans = list(scale.depths_md_m), list(scale.levels_mm), list(scale.spans)
    if scale.top_md_m > 0.0:
        depths.insert(0, 0.0)
        levels.insert(0, levels[0] - _BEYOND_MM)
        spans[0] = spans[0]._replace(top_md_m=0.0)
    if scale.bottom_md_m < bottom_md_m:
        depths.append(bottom_md_m)
        levels.append(levels[-1] + _BEYOND_MM)
        spans[-1] = spans[-1]._replace(bottom_md_m=bottom_md_m)
    return frame_._replace(scale=DepthScale(tuple(depths), tuple(levels), tuple(spans), scale.least_fraction))


def scale_words(frame_: Frame) -> tuple[str, ...]:
    """The scale statements: coarse and medium as ratios of two figures, what is stretched."""
    from schematic.units import number

    def ratio(md_m: float) -> str:
        value = frame_.scale.ratio(md_m)
        digits = max(0, math.floor(math.log10(value)) - 1)
        return f"1:{round(value / 10**digits) * 10**digits:,}".replace(",", "\u2009")

    spans = frame_.scale.spans
    if frame_.kind == "true":
        return (f"true: {ratio(spans[0].top_md_m)}", "throughout;")
    words = []
    coarse = [span for span in spans if span.kind == "coarse"]
    medium = [span for span in spans if span.kind == "medium"]
    if coarse:
        end = number(coarse[-1].bottom_md_m, "depth", frame_.system, "\u2009")
        words.append(f"fitted: {ratio(coarse[0].top_md_m)} to {end},")
    if medium:
        prefix = "then " if words else "fitted: "
        words.append(f"{prefix}{ratio(medium[0].top_md_m)};")
    words.append("parts stretched;")
    return tuple(words)
