"""The string that hangs in the well, piece by piece: liner and running string at any depth, or one alone.

From the datum down; what stands above the rotary is not counted. What hangs inside the liner (inner string,
wiper plug) is light and left out. Parts of the liner without a weight of their own weigh what its pipe
weighs and have its bore: `Piece.as_pipe` says so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from schematic.depth.nest import circle_m2, running_stretch
from schematic.depth.plan import JOINTED, Liner, LinerPart, Plan, RunningPart
from schematic.engineering.drag import Point
from schematic.engineering.stretch import STEEL_PA
from schematic.outcome import MissingInput

_PIPE = (*JOINTED, "joint")  # long; all else is too short to buckle


class Piece(NamedTuple):
    """A stretch of one pipe or part at its depth; None: the file does not say."""

    name: str
    top_md_m: float
    bottom_md_m: float
    weight_kg_per_m: float  # in air
    od_m: float | None  # of the body
    id_m: float | None
    bore_m2: float | None  # tool joints counted by their share of the length
    contact_m: float | None  # diameter on which it lies: tool joint or coupling, else the body
    of_liner: bool
    is_pipe: bool  # long pipe, not one of the short parts
    as_pipe: bool  # its weight is not given: it weighs what the liner's pipe weighs

    @property
    def length_m(self) -> float:
        """Length along hole."""
        return self.bottom_md_m - self.top_md_m

    @property
    def steel_m2(self) -> float | None:
        """Steel area of the body."""
        if self.od_m is None or self.id_m is None:
            return None
        return circle_m2(self.od_m) - circle_m2(self.id_m)

    @property
    def inertia_m4(self) -> float | None:
        """Second moment of area of the body."""
        if self.od_m is None or self.id_m is None:
            return None
        return math.pi / 64.0 * (self.od_m**4 - self.id_m**4)

    @property
    def stiffness_n_m2(self) -> float | None:
        """Modulus times second moment of area; None for a part too short to buckle, too."""
        inertia = self.inertia_m4
        return STEEL_PA * inertia if inertia is not None and self.is_pipe else None


def pieces(plan: Plan, shoe_md_m: float | None = None) -> tuple[Piece, ...]:
    """The string from the top down with the liner's shoe at a depth, by default where it is to hang.

    Raises
    ------
    MissingInput
        When the weight of the liner's pipe or of a part of the running string, or the running string itself
        is not given; it is asked for only where it is in the well.
    """
    liner = plan.depth.liner
    carried = shoe_md_m is not None and liner.shoe_md_m - shoe_md_m >= liner.top_md_m
    above = () if carried else running_pieces(plan, shoe_md_m)
    return (*above, *liner_pieces(plan, shoe_md_m))


def running_pieces(plan: Plan, shoe_md_m: float | None = None) -> tuple[Piece, ...]:
    """The running string alone, from the top down, with the liner's shoe at a depth; raises MissingInput."""
    running, liner = plan.depth.running, plan.depth.liner
    if running is None:
        raise MissingInput("running string")
    up = 0.0 if shoe_md_m is None else liner.shoe_md_m - shoe_md_m
    there = [
        part
        for part in running.parts
        if part.bottom_md_m <= liner.top_md_m + 1e-6 and part.bottom_md_m - up > 0.0 and part.length_m > 0.0
    ]
    unknown = [f"weight of {part.name}" for part in there if part.weight_kg_per_m is None]
    if unknown:
        raise MissingInput(*unknown)
    return tuple(_running_piece(part, max(part.top_md_m - up, 0.0), part.bottom_md_m - up) for part in there)


def liner_pieces(plan: Plan, shoe_md_m: float | None = None) -> tuple[Piece, ...]:
    """The liner alone, from the top down, with its shoe at a depth; raises MissingInput."""
    liner = plan.depth.liner
    up = 0.0 if shoe_md_m is None else liner.shoe_md_m - shoe_md_m
    return tuple(
        _liner_piece(liner, part, max(part.top_md_m - up, 0.0), part.bottom_md_m - up)
        for part in liner.parts
        if part.bottom_md_m - up > 0.0 and part.length_m > 0.0
    )


def _running_piece(part: RunningPart, top: float, bottom: float) -> Piece:
    assert part.weight_kg_per_m is not None
    jointed = part.kind in JOINTED
    return Piece(
        part.name,
        top,
        bottom,
        part.weight_kg_per_m,
        part.od_m,
        part.id_m,
        running_stretch(part).inside_m2,
        part.tool_joint_od_m if part.tool_joint_od_m is not None or jointed else part.od_m,
        of_liner=False,
        is_pipe=jointed,
        as_pipe=False,
    )


def _liner_piece(liner: Liner, part: LinerPart, top: float, bottom: float) -> Piece:
    own = part.weight_kg_per_m
    if own is None and liner.weight_kg_per_m is None:
        raise MissingInput("liner.weight")
    pipe = part.kind in ("joint", "pup joint")
    od = part.od_m if part.od_m is not None else liner.od_m if pipe else None
    bore = liner.id_m if own is None or part.id_m is None else part.id_m
    coupling = part.coupling_od_m if part.coupling_od_m is not None else liner.coupling_od_m if pipe else None
    return Piece(
        liner.name if pipe else part.name,
        top,
        bottom,
        own if own is not None else liner.weight_kg_per_m or 0.0,
        od,
        bore if pipe else part.id_m,
        circle_m2(bore),
        coupling if coupling is not None else od,
        of_liner=True,
        is_pipe=part.kind in _PIPE,
        as_pipe=own is None and not pipe,
    )


def elongation_m(hung: Sequence[Piece], points: Sequence[Point]) -> float:
    """By how much the running string is longer under its tension than lying on the rack, in m.

    Hooke's law on the body of each pipe, tension linear between the points; those of `drag.loads` for the
    same string.

    Raises
    ------
    MissingInput
        When OD or bore of a part is not given.
    """
    rows = sorted(points)
    total = 0.0
    for piece in hung:
        if piece.of_liner:
            continue
        if piece.steel_m2 is None:
            raise MissingInput(f"OD and bore of {piece.name}")
        for upper, lower in zip(rows, rows[1:], strict=False):
            if piece.top_md_m - 1e-6 <= upper.md_m and lower.md_m <= piece.bottom_md_m + 1e-6:
                mean = 0.5 * (upper.tension_n + lower.tension_n)
                total += mean * (lower.md_m - upper.md_m) / (STEEL_PA * piece.steel_m2)
    return total
