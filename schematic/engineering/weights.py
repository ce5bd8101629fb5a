"""What liner and running string weigh in the fluids that stand inside and outside.

Sums of weight by length, in pressure-area form (`wall.spans`); with mud inside and outside that is the factor
1 less mud density over that of steel, 7850 kg/m3. No drag, no pressure at surface. What pulls along the hole
is taken by true vertical depth.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from schematic.depth.nest import circle_m2
from schematic.depth.plan import Plan
from schematic.engineering.cement import Cement
from schematic.engineering.columns import Layer, annulus_at_end, inside_at_end
from schematic.engineering.hanging import Piece, liner_pieces, running_pieces
from schematic.engineering.volumes import JobVolumes
from schematic.engineering.wall import Around, around, spans
from schematic.units import STANDARD_GRAVITY_M_PER_S2


class Hanging(NamedTuple):
    """Weight of a string: all of it in air and in its fluids, and what of the latter pulls along the hole."""

    air_n: float
    buoyed_n: float
    along_n: float


class Weights(NamedTuple):
    """What hangs in the well at depth, in mud or in the fluids of a moment of the job."""

    liner: Hanging
    running: Hanging  # from the datum to the liner top
    as_pipe: tuple[str, ...]  # parts of the liner without a weight of their own, taken for its pipe


def weigh(plan: Plan, hung: Sequence[Piece], surroundings: Around) -> Hanging:
    """The weight of pieces where they stand; raises MissingInput as `wall.spans`."""
    tvd = plan.depth.path.tvd_m
    rows = spans(hung, surroundings)
    return Hanging(
        STANDARD_GRAVITY_M_PER_S2 * math.fsum(piece.weight_kg_per_m * piece.length_m for piece in hung),
        math.fsum(row.weight_n_per_m * (row.bottom_md_m - row.top_md_m) for row in rows),
        math.fsum(row.weight_n_per_m * (tvd(row.bottom_md_m) - tvd(row.top_md_m)) for row in rows),
    )


def weights(
    plan: Plan, inside: tuple[Layer, ...] | None = None, outside: tuple[Layer, ...] | None = None
) -> Weights:
    """Liner and running string at depth, in mud unless other fluids are given.

    Raises
    ------
    MissingInput
        When mud, running string or a weight is not given, or a bore between different fluids.
    """
    surroundings = around(plan, inside, outside)
    liner = liner_pieces(plan)
    return Weights(
        weigh(plan, liner, surroundings),
        weigh(plan, running_pieces(plan), surroundings),
        tuple(dict.fromkeys(piece.name for piece in liner if piece.as_pipe)),
    )


def liner_weight(plan: Plan) -> Hanging:
    """Weight of the liner at depth in mud; raises MissingInput for the mud or the weight of its pipe."""
    return weigh(plan, liner_pieces(plan), around(plan))


def string_weight(plan: Plan) -> Hanging:
    """Weight of the running string in mud between the datum and the liner top: what can push there.

    Raises
    ------
    MissingInput
        When the mud, the running string or the weight of one of its parts is not given.
    """
    return weigh(plan, running_pieces(plan), around(plan))


class HeldDown(NamedTuple):
    """What holds the liner down when the cement is in place, and the pump pressure that would lift it."""

    net_n: float  # along the hole; below nought the cement lifts it
    bore_m2: float  # of the liner: where the pump pushes when nothing goes past the shoe

    @property
    def lifts_pa(self) -> float:
        """Pressure at surface that lifts the liner when its annulus is bridged."""
        return self.net_n / self.bore_m2


def held_down(plan: Plan, volumes: JobVolumes, cement: Cement) -> HeldDown:
    """Weight of the liner, not hung, at the end of displacement with the cement as high as it stands.

    Weight of pipe and of what stands inside it less the pressure outside times its area (pressure-area form).

    Raises
    ------
    MissingInput
        As `columns.annulus_at_end` and `liner_weight`.
    """
    outside = annulus_at_end(plan, volumes, cement, nothing_lost=True)
    inside = inside_at_end(plan)
    last = next(fluid for fluid in plan.fluids if fluid.name == plan.cement.slurries[-1].fluid)
    foot, shoe = inside[-1].bottom_md_m, plan.depth.liner.shoe_md_m
    within = (*inside, Layer(last.name, foot, shoe, last.density_kg_per_m3))
    net = weigh(plan, liner_pieces(plan), around(plan, within, outside)).along_n
    return HeldDown(net, circle_m2(plan.depth.liner.id_m))
