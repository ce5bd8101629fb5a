"""The tubes that stand one in another at every depth, from the axis to the rock, in a state of the well.

No other code assumes which string is outside which: ask the nest what a string faces. Areas, not
diameters, are kept, so that drill pipe can count its tool joints by their share of the length.
"""

from __future__ import annotations

import math
from contextlib import suppress
from enum import Enum
from typing import NamedTuple

from schematic.depth.by_depth import NOWHERE, ByDepth, by_depth
from schematic.depth.plan import Depths, Liner, RunningPart, RunningString
from schematic.outcome import MissingInput

HOLE = "hole"
RUNNING_STRING = "running string"


class State(Enum):
    """Where the running string is."""

    STRING_OUT = "running string out"
    STRING_IN = "running string in, liner at depth"


def circle_m2(diameter_m: float) -> float:
    """Area of a circle, in m2."""
    return math.pi / 4.0 * diameter_m * diameter_m


class Stretch(NamedTuple):
    """A stretch of a tube; an area that the file does not fix is None."""

    name: str
    top_m: float
    bottom_m: float
    outside_m2: float | None
    inside_m2: float | None


class Tube(NamedTuple):
    """One string as stretches of equal cross-section, from the top down."""

    name: str
    stretches: tuple[Stretch, ...]

    @property
    def top_m(self) -> float:
        """Where it begins."""
        return self.stretches[0].top_m

    @property
    def bottom_m(self) -> float:
        """Where it ends."""
        return self.stretches[-1].bottom_m

    def _areas(self, top_m: float, bottom_m: float, inside: bool) -> ByDepth:
        depths: list[float] = []
        areas: list[float] = []
        for stretch in self.stretches:
            top, bottom = max(stretch.top_m, top_m), min(stretch.bottom_m, bottom_m)
            if top >= bottom:
                continue
            area = stretch.inside_m2 if inside else stretch.outside_m2
            if area is None:
                raise MissingInput(f"{'bore' if inside else 'OD'} of {stretch.name}")
            if not depths:
                depths.append(top)
            depths.append(bottom)
            areas.append(area)
        return ByDepth(tuple(depths), tuple(areas)) if depths else NOWHERE

    def inside_m2(self, top_m: float, bottom_m: float) -> ByDepth:
        """Bore area between two depths; raises MissingInput where it is not known."""
        return self._areas(top_m, bottom_m, inside=True)

    def outside_m2(self, top_m: float, bottom_m: float) -> ByDepth:
        """Area of the outer circle between two depths; raises MissingInput where it is not known."""
        return self._areas(top_m, bottom_m, inside=False)


class Space(NamedTuple):
    """A space of the well: what bounds it inside ("" for a bore) and outside, and its area by depth."""

    inner: str
    outer: str
    area_m2: ByDepth


def liner_tube(liner: Liner) -> Tube:
    """The liner part by part. A part whose OD or bore is not given counts as pipe body: see *not_given*."""
    body_out, body_in = circle_m2(liner.od_m), circle_m2(liner.id_m)
    return Tube(
        liner.name,
        tuple(
            Stretch(
                part.name,
                part.top_md_m,
                part.bottom_md_m,
                circle_m2(part.od_m) if part.od_m is not None else body_out,
                circle_m2(part.id_m) if part.id_m is not None else body_in,
            )
            for part in liner.parts
            if part.bottom_md_m > part.top_md_m
        ),
    )


def _with_tool_joints(body_m: float | None, joint_m: float | None, share: float) -> float | None:
    if body_m is None:
        return None
    if joint_m is None or share == 0.0:
        return circle_m2(body_m)
    return (1.0 - share) * circle_m2(body_m) + share * circle_m2(joint_m)


def running_stretch(part: RunningPart) -> Stretch:
    """A part of the running string, tool joints counted by their share of the length."""
    return Stretch(
        part.name,
        part.top_md_m,
        part.bottom_md_m,
        _with_tool_joints(part.od_m, part.tool_joint_od_m, part.tool_joint_share),
        _with_tool_joints(part.id_m, part.tool_joint_id_m, part.tool_joint_share),
    )


def running_tube(running: RunningString) -> Tube:
    """The running string at depth, tool joints counted by their share of the length."""
    return Tube(
        RUNNING_STRING,
        tuple(running_stretch(part) for part in running.parts if part.bottom_md_m > part.top_md_m),
    )


class Nest:
    """What stands in what, for one state of a well.

    *tubes* are ordered from the axis outward. Where two strings of equal size meet, the later one in the
    file is the inner.
    """

    def __init__(self, depths: Depths, state: State) -> None:
        self.state = state
        self.hole_m2 = depths.hole.diameter_m.map(circle_m2)
        tubes: list[tuple[float, int, Tube]] = []
        for index, string in enumerate(depths.strings):
            stretch = Stretch(
                string.name,
                string.top_md_m,
                string.shoe_md_m,
                circle_m2(string.od_m),
                circle_m2(string.id_m),
            )
            tubes.append((string.od_m, -index, Tube(string.name, (stretch,))))
        tubes.append((depths.liner.od_m, -len(tubes), liner_tube(depths.liner)))
        if state is State.STRING_IN and depths.running is not None:
            tubes.append((0.0, 0, running_tube(depths.running)))
        tubes.sort(key=lambda entry: entry[:2])
        self.tubes = tuple(tube for _od, _order, tube in tubes if tube.stretches)
        self.driven = frozenset(string.name for string in depths.strings if string.driven)

    def tube(self, name: str) -> Tube:
        """A tube by its name."""
        return next(tube for tube in self.tubes if tube.name == name)

    def at(self, md_m: float) -> tuple[Tube, ...]:
        """The tubes at a depth, from the axis outward; at an end, the tube below it counts."""
        return tuple(tube for tube in self.tubes if tube.top_m <= md_m < tube.bottom_m)

    def surrounds(self, name: str, top_m: float, bottom_m: float) -> tuple[tuple[str, float, float], ...]:
        """What stands around a tube: the next outer tube, else the hole, stretch by stretch."""
        rank = next(index for index, tube in enumerate(self.tubes) if tube.name == name)
        outer = self.tubes[rank + 1 :]
        edges = sorted(
            {
                top_m,
                bottom_m,
                *(edge for tube in outer for edge in (tube.top_m, tube.bottom_m) if top_m < edge < bottom_m),
            }
        )
        found: list[tuple[str, float, float]] = []
        for top, bottom in zip(edges, edges[1:], strict=False):
            around = next((t.name for t in outer if t.top_m <= top and bottom <= t.bottom_m), HOLE)
            if found and found[-1][0] == around:
                found[-1] = (around, found[-1][1], bottom)
            else:
                found.append((around, top, bottom))
        return tuple(found)

    def annulus_m2(self, name: str, top_m: float, bottom_m: float) -> ByDepth:
        """Area between a tube and what stands around it; raises MissingInput where a diameter is not known.

        Negative where the tube does not fit: an error of the plan, which the checks tell.
        """
        depths: list[float] = []
        areas: list[float] = []
        inner = self.tube(name).outside_m2(top_m, bottom_m)
        for around, top, bottom in self.surrounds(name, top_m, bottom_m):
            bore = (
                self.hole_m2.clip(top, bottom) if around == HOLE else self.tube(around).inside_m2(top, bottom)
            )
            ring = bore.combine(inner, lambda outer, core: outer - core)
            if not ring.depths_m:
                continue
            if not depths:
                depths.append(ring.depths_m[0])
            elif depths[-1] < ring.depths_m[0]:
                raise MissingInput(f"hole between {depths[-1]:.2f} and {ring.depths_m[0]:.2f} m")
            depths.extend(ring.depths_m[1:])
            areas.extend(ring.values)
        return by_depth(depths, areas)

    def open_bore_m2(self, top_m: float, bottom_m: float) -> ByDepth:
        """Area of the bore in which nothing stands, from the innermost string at each depth."""
        edges = sorted(
            {
                top_m,
                bottom_m,
                *(e for tube in self.tubes for e in (tube.top_m, tube.bottom_m) if top_m < e < bottom_m),
            }
        )
        depths: list[float] = []
        areas: list[float] = []
        for top, bottom in zip(edges, edges[1:], strict=False):
            inner = next((t for t in self.tubes if t.top_m <= top and bottom <= t.bottom_m), None)
            area = inner.inside_m2(top, bottom) if inner else self.hole_m2.clip(top, bottom)
            if not area.depths_m:
                continue
            depths = depths or [area.depths_m[0]]
            depths.extend(area.depths_m[1:])
            areas.extend(area.values)
        return by_depth(depths, areas)

    def spaces(self) -> tuple[Space, ...]:
        """Every space of the well: each bore and each annulus, from the axis outward, from the top down.

        A space bounded by a diameter that is not known is left out.
        """
        found: list[Space] = []
        for rank, tube in enumerate(self.tubes):
            inner = self.tubes[:rank]
            edges = sorted(
                {
                    tube.top_m,
                    tube.bottom_m,
                    *(e for t in inner for e in (t.top_m, t.bottom_m) if tube.top_m < e < tube.bottom_m),
                }
            )
            for top, bottom in zip(edges, edges[1:], strict=False):
                if not any(t.top_m <= top and bottom <= t.bottom_m for t in inner):
                    with suppress(MissingInput):
                        found.append(Space("", tube.name, tube.inside_m2(top, bottom)))
            if tube.name in self.driven:
                continue
            for around, top, bottom in self.surrounds(tube.name, tube.top_m, tube.bottom_m):
                with suppress(MissingInput):
                    area = self.annulus_m2(tube.name, top, bottom)
                    if area.depths_m:
                        found.append(Space(tube.name, around, area))
        bottom = max((tube.bottom_m for tube in self.tubes), default=0.0)
        below = self.hole_m2.clip(bottom, self.hole_m2.bottom_m)
        if below.depths_m:
            found.append(Space("", HOLE, below))
        return tuple(found)
