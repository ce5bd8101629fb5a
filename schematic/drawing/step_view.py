"""What of the well a step shows: where its steel stands, which depths are drawn, what is left out between.

Around everything that matters a stretch of the well is drawn, each thing as high as it needs to be read;
the lengths between are cut out. Depth is not to scale, diameters are true to one another.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import THIN
from schematic.drawing.column import outer_radii
from schematic.drawing.detail import HATCH_MM, RATIOS
from schematic.drawing.fills import Rect
from schematic.drawing.frame import Frame
from schematic.drawing.scale import DepthScale, Span
from schematic.drawing.step_stands import HANGING, Stands
from schematic.engineering.columns import Layer
from schematic.job.card import Scene
from schematic.units import System, in_system

CUT_MM = 4.6  # paper of a length that is left out: two zig-zag lines and its words between them
_PART_MM = {
    "tie-back receptacle": 15.0,
    "liner top packer": 11.0,
    "liner hanger": 21.0,
    "setting sleeve": 7.0,
    "landing collar": 9.0,
    "float collar": 7.0,
    "float shoe": 10.0,
    "reamer shoe": 10.0,
    "guide shoe": 8.0,
    "external packer": 9.0,
    "stage collar": 8.0,
}
_FIRST = (
    "tie-back receptacle", "liner top packer", "liner hanger", "setting sleeve", "landing collar",
    "float collar", "float shoe", "reamer shoe", "guide shoe",
)  # fmt: skip
_OTHER_PART_MM, _JOINTS_MM, _BESIDE_MM, _PIPE_MM, _TOOL_MM = 5.0, 8.0, 7.0, 10.0, 16.0
_BESIDE_M, _PIPE_M = 8.0, 10.0  # of a run of joints beside another part; of the pipe above the tool
_FEW = 3  # joints that are drawn all
_NEAR_M = 10.0  # stretches closer than this are drawn as one
_PLAIN_MM = 2.5  # of the pipe between them
_SQUEEZE = {2: 0.62, 1: 0.45, 0: 0.0}  # at most, by rank: before that, what matters less is left out
_BEYOND_MM = 40.0  # paper above and below that nobody sees
_WIDEST = 0.48  # of the rectangle
_LEAST_M = 1e-3


class _Wanted(NamedTuple):
    """A stretch of the well that is to be seen, how high, and how much it matters: 0 always."""

    top_md_m: float
    bottom_md_m: float
    height_mm: float
    rank: int


class Window(NamedTuple):
    """A stretch of the well that is drawn, and where on paper."""

    top_md_m: float
    bottom_md_m: float
    top_mm: float
    bottom_mm: float


class View(NamedTuple):
    """The frame of the drawing, its windows from the top down, and how far from the axis it may reach."""

    frame: Frame
    windows: tuple[Window, ...]
    reach_mm: float  # radius of the widest steel and hole that has room, hatch not counted

    def window(self, y_mm: float) -> Window | None:
        """The window at a level."""
        return next((w for w in self.windows if w.top_mm - 1e-6 <= y_mm <= w.bottom_mm + 1e-6), None)

    def shown(self, top_md_m: float, bottom_md_m: float) -> list[tuple[float, float]]:
        """The levels between which an interval of depth is seen, from the top down; a line is not."""
        y, pieces = self.frame.y, []
        for w in self.windows:
            low, high = max(top_md_m, w.top_md_m), min(bottom_md_m, w.bottom_md_m)
            if high - low > _LEAST_M:
                pieces.append((y(low), y(high)))
        return pieces


def view(evaluation: Evaluation, scene: Scene, its: Stands, box: Rect, system: System) -> View:
    """The frame and the windows of a step in a rectangle, the well at its left edge."""
    depth = evaluation.plan.depth
    widest = _WIDEST * (box.right_mm - box.left_mm)
    around = 2000.0 * _around_m(evaluation)
    ratio = next((n for n in RATIOS if around / n + 2.0 * HATCH_MM <= widest), RATIOS[-1])
    reach = min(max(0.5 * widest - HATCH_MM, 0.5 * around / ratio), 0.5 * widest)
    axis = box.left_mm + 0.5 * around / ratio + HATCH_MM
    bottom = max(depth.td_md_m, depth.liner.shoe_md_m)
    scale, windows = _windows(
        _wanted(evaluation, scene, its, bottom), bottom, box.top_mm, box.bottom_mm - HATCH_MM
    )
    return View(Frame(scale, "fitted", ratio, axis, system), windows, reach)


def _around_m(evaluation: Evaluation) -> float:
    """The greatest radius of what must be seen: the host from the liner top down, and the hole below it."""
    depth = evaluation.plan.depth
    host, bottom = depth.host, max(depth.td_md_m, depth.liner.shoe_md_m)
    sizes = [host.od_m, host.coupling_od_m or 0.0, *(part.od_m or 0.0 for part in depth.liner.parts)]
    low = max(min(depth.liner.top_md_m, host.shoe_md_m - 1.0), host.top_md_m)
    for around, top, end in evaluation.nest.surrounds(host.name, low, host.shoe_md_m):
        if around in {string.name for string in depth.strings}:
            sizes.append(depth.string(around).od_m)
        else:
            sizes += [d for _a, _b, d in depth.hole.diameter_m.clip(top, end).steps()]
    sizes += [d for _a, _b, d in depth.hole.diameter_m.clip(host.shoe_md_m, bottom).steps()]
    return 0.5 * max(sizes)


def _wanted(evaluation: Evaluation, scene: Scene, its: Stands, bottom: float) -> list[_Wanted]:
    """All that is to be seen in a step."""
    depth = evaluation.plan.depth
    found = [*_of_liner(its), *_of_string(its)] if its.liner else []
    host = depth.host
    if its.liner:
        if bottom - its.shoe_md_m < 3.0 * _PIPE_M:
            found.append(_Wanted(its.shoe_md_m, bottom, 6.0, 0))
        else:
            found.append(_Wanted(bottom - 5.0, bottom, 5.0, 1))
        found.append(_Wanted(its.shoe_md_m, its.shoe_md_m + 2.0, 2.5, 0))
        slips = next((part.slips_md_m for part in its.liner if part.slips_md_m), None)
    else:
        planned = next((part.slips_md_m for part in depth.liner.parts if part.slips_md_m), None)
        slips = planned or (depth.liner.top_md_m, depth.liner.top_md_m + _PIPE_M)
        found.append(_Wanted(slips[0] - 12.0, slips[1] + 12.0, 30.0, 0))
        found.append(_Wanted(bottom - 12.0, bottom, 12.0, 0))
    found.append(_Wanted(host.shoe_md_m - 6.0, host.shoe_md_m + 6.0, 10.0, 1 if its.liner else 0))
    found += [
        _Wanted(s.shoe_md_m - 5.0, s.shoe_md_m + 5.0, 8.0, 2)
        for s in depth.strings
        if its.liner and s is not host and s.shoe_md_m > depth.liner.top_md_m
    ]
    if slips is not None:
        near = [md for md in host.couplings_md_m if slips[0] - 20.0 < md < slips[1] + 20.0]
        for coupling in (
            *[md for md in near if md < slips[0]][-1:],
            *[md for md in near if md > slips[1]][:1],
        ):
            found.append(_Wanted(coupling - 1.0, coupling + 1.0, 3.0, 0))
    for layers in (scene.inside, scene.outside):
        found += [_Wanted(md - 5.0, md + 5.0, 8.0, 1) for md in _meetings(layers) if 5.0 < md < bottom - 1.0]
    for md in (scene.ball_md_m, scene.dart_md_m, scene.plug_md_m if its.liner else None):
        if md is not None and its.shoe_md_m == depth.liner.shoe_md_m:
            found.append(_Wanted(md - 4.0, md + 2.0, 9.0, 0))
    dropped = scene.dart_md_m is not None and scene.dart_md_m < 20.0
    if not its.liner or its.top_md_m < 60.0 or dropped:
        found.append(_Wanted(0.0, 8.0, 8.0, 0))
    return found


def _meetings(layers: Sequence[Layer]) -> list[float]:
    """The depths at which two fluids meet."""
    return [low.top_md_m for high, low in pairwise(layers) if high.fluid != low.fluid]


def _of_liner(its: Stands) -> Iterable[_Wanted]:
    parts = its.liner
    for i, part in enumerate(parts):
        above, below = parts[i - 1] if i else None, parts[i + 1] if i + 1 < len(parts) else None
        if part.kind == "joint":
            if i == 0:
                yield _Wanted(part.top_md_m, min(part.top_md_m + _PIPE_M, part.bottom_md_m), _PIPE_MM, 0)
            elif part.joints <= _FEW and below is not None:
                yield _Wanted(part.top_md_m, part.bottom_md_m, _JOINTS_MM, 0)
            continue
        rank = 0 if part.kind in _FIRST else 2
        yield _Wanted(part.top_md_m, part.bottom_md_m, _PART_MM.get(part.kind, _OTHER_PART_MM), rank)
        if above is not None and above.kind == "joint" and above.joints > _FEW:
            top = max(part.top_md_m - _BESIDE_M, above.top_md_m)
            yield _Wanted(top, part.top_md_m, _BESIDE_MM, rank)
        if below is not None and below.kind == "joint" and below.joints > _FEW:
            end = min(part.bottom_md_m + _BESIDE_M, below.bottom_md_m)
            yield _Wanted(part.bottom_md_m, end, _BESIDE_MM, rank)


def _of_string(its: Stands) -> Iterable[_Wanted]:
    carrying = [part for part in its.running if part.kind not in HANGING]
    tool, foot = its.tool, its.tool_foot_md_m
    if tool is not None and foot is not None:
        yield _Wanted(tool.top_md_m, foot, _TOOL_MM + (0.0 if foot > its.top_md_m else 6.0), 0)
        carrying = [part for part in carrying if part.bottom_md_m <= tool.top_md_m + _LEAST_M]
    if carrying:
        pipe = carrying[-1]
        yield _Wanted(max(pipe.top_md_m, pipe.bottom_md_m - _PIPE_M), pipe.bottom_md_m, _PIPE_MM, 0)
    for part in its.running:
        if part.kind in HANGING:
            yield _Wanted(part.top_md_m, part.bottom_md_m, 12.0, 0)
    end = its.foot_md_m
    if end is not None:
        yield _Wanted(end, end + 1.5, 5.0, 0)


def _windows(
    wanted: Sequence[_Wanted], bottom_md_m: float, top_mm: float, bottom_mm: float
) -> tuple[DepthScale, tuple[Window, ...]]:
    """Stretches of the well, all that are wanted or those that matter most, from end to end of the paper."""
    for rank in (2, 1, 0):
        stretches = _merged([w for w in wanted if w.rank <= rank], bottom_md_m)
        cuts = sum(1 for one in stretches if one[0].top_md_m > _LEAST_M) + (
            stretches[-1][-1].bottom_md_m < bottom_md_m - _LEAST_M
        )
        room = bottom_mm - top_mm - CUT_MM * cuts
        need = sum(cell.height_mm for cells in stretches for cell in cells)
        if room >= _SQUEEZE[rank] * need:
            break
    factor = max(room, 0.2 * (bottom_mm - top_mm)) / need
    depths, levels, windows = [0.0], [top_mm], []
    for cells in stretches:
        if cells[0].top_md_m > _LEAST_M:
            if len(depths) == 1:
                levels[0] = top_mm + CUT_MM - _BEYOND_MM
                start = top_mm + CUT_MM
            else:
                start = levels[-1] + CUT_MM
            depths.append(cells[0].top_md_m)
            levels.append(start)
        first = levels[-1]
        for cell in cells:
            depths.append(cell.bottom_md_m)
            levels.append(levels[-1] + factor * cell.height_mm)
        windows.append(Window(cells[0].top_md_m, cells[-1].bottom_md_m, first, levels[-1]))
    if depths[-1] < bottom_md_m - _LEAST_M:
        depths.append(bottom_md_m)
        levels.append(levels[-1] + _BEYOND_MM)
    span = Span(0.0, depths[-1], "stretched")
    return DepthScale(tuple(depths), tuple(levels), (span,)), tuple(windows)


def _merged(wanted: Sequence[_Wanted], bottom_md_m: float) -> list[list[_Wanted]]:
    """The wanted stretches as cells without overlap; those that are close as one, pipe drawn between them."""
    kept = [
        w._replace(top_md_m=max(w.top_md_m, 0.0), bottom_md_m=min(w.bottom_md_m, bottom_md_m)) for w in wanted
    ]
    kept = sorted(w for w in kept if w.bottom_md_m - w.top_md_m > _LEAST_M)
    edges: list[float] = []
    for edge in sorted({md for w in kept for md in (w.top_md_m, w.bottom_md_m)}):
        if not edges or edge - edges[-1] > _LEAST_M:
            edges.append(edge)
    stretches: list[list[_Wanted]] = []
    for top, bottom in pairwise(edges):
        middle = 0.5 * (top + bottom)
        over = [w for w in kept if w.top_md_m < middle < w.bottom_md_m]
        share = max((w.height_mm / (w.bottom_md_m - w.top_md_m) for w in over), default=0.0)
        if not over and bottom - top > _NEAR_M:
            continue
        height = share * (bottom - top) if over else _PLAIN_MM
        cell = _Wanted(top, bottom, max(height, 0.3), 0)
        if stretches and abs(stretches[-1][-1].bottom_md_m - top) <= _LEAST_M:
            stretches[-1].append(cell._replace(top_md_m=stretches[-1][-1].bottom_md_m))
        else:
            stretches.append([cell])
    return stretches


def in_whole(metres: float, system: System) -> str:
    """A depth or length of the drawing in whole units, below ten with a decimal; without its unit."""
    value = in_system(metres, "depth", system)
    return f"{value:,.{0 if abs(value) >= 9.95 else 1}f}".replace(",", THIN)


def outside_mm(evaluation: Evaluation, its_view: View, name: str) -> float:
    """The widest that stands around a string where it is seen: radius on paper."""
    string = evaluation.plan.depth.string(name)
    found = [0.0]
    for w in its_view.windows:
        low, high = max(w.top_md_m, string.top_md_m), min(w.bottom_md_m, string.shoe_md_m)
        if high - low > _LEAST_M:
            found += [r for _a, _b, r in outer_radii(evaluation, its_view.frame, name, low, high)]
    return max(found)
