"""What stands around a hanging string: the bore on which it rubs, and the fluids in which it floats."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from typing import NamedTuple

from schematic.depth.plan import Plan
from schematic.engineering.columns import Layer
from schematic.engineering.drag import Span
from schematic.engineering.hanging import Piece
from schematic.engineering.stretch import STEEL_KG_PER_M3
from schematic.outcome import MissingInput
from schematic.units import STANDARD_GRAVITY_M_PER_S2

_STEPS = 16  # of hole that are taken one by one; a caliper log has ten thousand


class Wall(NamedTuple):
    """A stretch of bore: of casing or of open hole; its diameter None where nothing is known to stand."""

    top_md_m: float
    bottom_md_m: float
    diameter_m: float | None
    open_hole: bool


class Around(NamedTuple):
    """The walls from the datum to the bottom, and the fluids inside the string and outside of it."""

    walls: tuple[Wall, ...]
    inside: tuple[Layer, ...]
    outside: tuple[Layer, ...]


def around(
    plan: Plan, inside: tuple[Layer, ...] | None = None, outside: tuple[Layer, ...] | None = None
) -> Around:
    """What stands around a string in a plan, without the liner; mud inside and outside unless given.

    Raises
    ------
    MissingInput
        When there is no mud and the fluids are not given.
    """
    if inside is None or outside is None:
        mud = plan.fluid("mud")
        if mud is None:
            raise MissingInput("a fluid of kind mud")
        bottom = max(plan.depth.td_md_m, plan.depth.liner.shoe_md_m)
        all_mud = (Layer(mud.name, 0.0, bottom, mud.density_kg_per_m3),)
        inside, outside = inside or all_mud, outside or all_mud
    return Around((*_cased(plan), *_open(plan)), inside, outside)


def _cased(plan: Plan) -> list[Wall]:
    """The innermost bore down to the shoe of the host; above the strings, as in a riser, it is not known."""
    strings, shoe = plan.depth.strings, plan.depth.host.shoe_md_m
    edges = sorted({0.0, shoe, *(md for s in strings for md in (s.top_md_m, s.shoe_md_m) if 0.0 < md < shoe)})
    made = []
    for top, bottom in zip(edges, edges[1:], strict=False):
        bores = [s.id_m for s in strings if s.top_md_m <= top and bottom <= s.shoe_md_m]
        made.append(Wall(top, bottom, min(bores, default=None), open_hole=False))
    return made


def _open(plan: Plan) -> list[Wall]:
    """The hole below the host: as it is stepped, or where a log has many steps each section's mean."""
    depth = plan.depth
    hole, low = depth.hole.diameter_m, depth.host.shoe_md_m
    if not hole.depths_m or hole.bottom_m <= low:
        return []
    few = bisect_right(hole.depths_m, low) + _STEPS >= len(hole.depths_m)
    if few:
        return [Wall(max(top, low), end, size, True) for top, end, size in hole.steps() if end > low]
    made = []
    for section in depth.hole.sections:
        top, end = max(section.top_md_m, low), section.bottom_md_m
        if end > top:
            made.append(Wall(top, end, hole.integral(top, end) / (end - top), open_hole=True))
    return made


def spans(
    hung: Sequence[Piece], surroundings: Around, friction: tuple[float, float] = (0.0, 0.0)
) -> tuple[Span, ...]:
    """The string as spans of one weight against one wall; friction factors in casing and in open hole.

    Weight in the fluids is in pressure-area form, ``w + Ai rho_i - Ao rho_o`` per metre, where Ao is the bore
    and the steel by its weight: with one fluid inside and outside it is ``w (1 - rho / 7850)``. The clearance
    is that of the body: tool joints, which hold it off the wall, would let it bear more before it snakes.

    Raises
    ------
    MissingInput
        When a bore is not given where different fluids stand inside and outside.
    """
    walls, inside, outside = surroundings
    edges = sorted({md for rows in surroundings for row in rows for md in (row.top_md_m, row.bottom_md_m)})
    made = []
    for piece in hung:
        cuts = [md for md in edges if piece.top_md_m + 1e-9 < md < piece.bottom_md_m - 1e-9]
        ends = [piece.top_md_m, *cuts, piece.bottom_md_m]
        radius = 0.5 * piece.contact_m if piece.contact_m is not None else math.nan
        stiffness = piece.stiffness_n_m2
        for top, bottom in zip(ends, ends[1:], strict=False):
            middle = 0.5 * (top + bottom)
            wall = next((w for w in walls if w.top_md_m <= middle < w.bottom_md_m), None)
            rock = wall is not None and wall.open_hole
            clearance = None  # nor where it would not fit: the checks tell that
            if wall is not None and wall.diameter_m is not None and piece.od_m is not None:
                gap = 0.5 * (wall.diameter_m - piece.od_m)
                clearance = gap if gap > 0.0 else None
            made.append(
                Span(
                    top,
                    bottom,
                    _weight_n_per_m(piece, _density(inside, middle), _density(outside, middle)),
                    friction[1] if rock else friction[0],
                    radius,
                    stiffness if clearance is not None else None,
                    clearance,
                )
            )
    return tuple(made)


def _density(layers: Sequence[Layer], md_m: float) -> float:
    """Of the fluid at a depth; below the last that of the last, where there is none nought (air)."""
    for layer in layers:
        if layer.top_md_m <= md_m < layer.bottom_md_m:
            return layer.density_kg_per_m3
    return layers[-1].density_kg_per_m3 if layers and md_m >= layers[-1].bottom_md_m else 0.0


def _weight_n_per_m(piece: Piece, inside_kg_per_m3: float, outside_kg_per_m3: float) -> float:
    weight = piece.weight_kg_per_m * (1.0 - outside_kg_per_m3 / STEEL_KG_PER_M3)
    if inside_kg_per_m3 != outside_kg_per_m3:
        if piece.bore_m2 is None:
            raise MissingInput(f"bore of {piece.name}")
        weight += piece.bore_m2 * (inside_kg_per_m3 - outside_kg_per_m3)
    return weight * STANDARD_GRAVITY_M_PER_S2
