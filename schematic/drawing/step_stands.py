"""Where the steel stands at a step, and what is around and inside it, in radii on paper."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import LinerPart, RunningPart
from schematic.drawing.frame import Frame
from schematic.job.card import Scene

HANGING = ("inner string", "slick joint", "wiper plug")  # what hangs inside the liner, below the tool
_INTO_M = 1.0  # how far a tool stands in a part that is no receptacle
_LEAST_M = 1e-3


class Stands(NamedTuple):
    """Where the steel stands in this step, parts shifted to the depth that the shoe has reached."""

    liner: tuple[LinerPart, ...]  # none: it is not in the well
    running: tuple[RunningPart, ...]
    top_md_m: float  # of the liner
    shoe_md_m: float
    into_m: float  # how far the tool stands in the liner when it carries it

    @property
    def tool(self) -> RunningPart | None:
        """The running tool."""
        return next((part for part in self.running if part.kind == "running tool"), None)

    @property
    def tool_foot_md_m(self) -> float | None:
        """Where the tool ends: the file counts it down to the liner top, in the well it stands in it."""
        return None if self.tool is None else self.tool.bottom_md_m + self.into_m

    @property
    def foot_md_m(self) -> float | None:
        """The lowest end of the running string."""
        return max((part.bottom_md_m for part in self.running), default=None)


def stands(evaluation: Evaluation, scene: Scene) -> Stands:
    """Liner and running string at the place that a scene gives them."""
    depth = evaluation.plan.depth
    liner = depth.liner
    first = liner.parts[0]
    into = (
        first.length_m
        if first.kind in ("tie-back receptacle", "setting sleeve")
        else min(first.length_m, _INTO_M)
    )
    hangs = depth.running.foot_md_m - liner.top_md_m if depth.running is not None else 0.0
    into = min(into, 0.5 * hangs) if hangs > 0.0 else into
    if scene.shoe_md_m is None:
        return Stands((), (), liner.top_md_m, liner.shoe_md_m, into)
    up = liner.shoe_md_m - scene.shoe_md_m
    parts = tuple(_moved_part(part, up) for part in liner.parts if part.bottom_md_m - up > _LEAST_M)
    lift = up + scene.raised_m
    running = depth.running.parts if depth.running is not None and not scene.string_out else ()
    pieces = tuple(
        part._replace(top_md_m=max(part.top_md_m - lift, 0.0), bottom_md_m=max(part.bottom_md_m - lift, 0.0))
        for part in running
        if part.bottom_md_m - lift + (into if part.kind == "running tool" else 0.0) > _LEAST_M
        and part.length_m > 0.0
    )
    return Stands(parts, pieces, max(liner.top_md_m - up, 0.0), scene.shoe_md_m, into)


def _moved_part(part: LinerPart, up_m: float) -> LinerPart:
    slips = part.slips_md_m
    return part._replace(
        top_md_m=max(part.top_md_m - up_m, 0.0),
        bottom_md_m=part.bottom_md_m - up_m,
        slips_md_m=None if slips is None else (slips[0] - up_m, slips[1] - up_m),
    )


def surrounds(
    evaluation: Evaluation, frame: Frame, top_md_m: float, bottom_md_m: float
) -> list[tuple[float, float, float]]:
    """What stands around liner and running string: the innermost string, else the hole; depths, radius."""
    depth = evaluation.plan.depth
    edges = {top_md_m, bottom_md_m}
    for string in depth.strings:
        edges |= {md for md in (string.top_md_m, string.shoe_md_m) if top_md_m < md < bottom_md_m}
    found: list[tuple[float, float, float]] = []
    for above, below in pairwise(sorted(edges)):
        bores = [s.id_m for s in depth.strings if s.top_md_m <= above + 1e-9 and below <= s.shoe_md_m + 1e-9]
        if bores:
            found.append((above, below, frame.r(min(bores))))
        else:
            found += [(a, b, frame.r(d)) for a, b, d in depth.hole.diameter_m.clip(above, below).steps()]
    return found


def bores(evaluation: Evaluation, its: Stands, frame: Frame) -> list[tuple[float, float, float]]:
    """The bore through string and liner from the top down: depths and radius on paper, where it is known."""
    body = evaluation.plan.depth.liner.id_m
    made = [(p.top_md_m, p.bottom_md_m, frame.r(p.id_m)) for p in its.running if p.id_m is not None]
    foot = its.foot_md_m if its.foot_md_m is not None else its.top_md_m
    made += [
        (max(part.top_md_m, foot), part.bottom_md_m, frame.r(min(part.id_m or body, body)))
        for part in its.liner
        if part.bottom_md_m > foot + _LEAST_M
    ]
    return made


def liner_bore(evaluation: Evaluation, its: Stands, frame: Frame, md_m: float) -> float:
    """The radius on paper of the liner's bore at a depth; of its pipe where no part is there."""
    body = evaluation.plan.depth.liner.id_m
    part = next((one for one in its.liner if one.top_md_m <= md_m <= one.bottom_md_m), None)
    return frame.r(part.id_m if part is not None and part.id_m is not None else body)
