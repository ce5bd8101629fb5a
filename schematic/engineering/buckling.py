r"""When a pipe in compression snakes and winds in the hole, and what winding costs.

A pipe that is pushed first snakes along the low side (sinusoidal), then winds itself into a helix. It still
passes force on, but a helix presses on the wall all around: friction takes more of the push the more one
pushes, until nothing more gets through (lock-up). The formulas are for long pipe in a straight hole, tool
joints not counted; a hole that builds holds the pipe and lets it bear more.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.engineering.stretch import STEEL_PA

# published between these: 2.83 / 2 and 3.66 / 2 of the sinusoidal load; from memory, textbooks on drilling
HELICAL_FACTORS = (1.41, 1.83)
_VERTICAL_SINUSOIDAL, _VERTICAL_HELICAL = 1.94, 5.55


class Critical(NamedTuple):
    """Compressions in N at which a pipe snakes, and winds: least and most that is published."""

    sinusoidal_n: float
    helical_n: float
    helical_most_n: float

    def state(self, compression_n: float) -> str:
        """What it does: "straight", "sinusoidal" or "helical", the last from the least that is published."""
        if compression_n >= self.helical_n:
            return "helical"
        return "sinusoidal" if compression_n >= self.sinusoidal_n else "straight"


def critical(stiffness_n_m2: float, weight_n_per_m: float, lean: float, clearance_m: float) -> Critical:
    r"""The critical loads of a pipe of stiffness E I and weight in its fluids w, at a radial clearance r.

    .. math:: F_{sin} = 2 \sqrt{E I w \sin\theta / r}, \qquad F_{hel} = 1.41 \ldots 1.83\, F_{sin}

    In a vertical hole 1.94 and 5.55 times :math:`(E I w^2)^{1/3}`; the larger of the two forms counts, so
    that a hole that hardly leans is a vertical one. *lean* is the sine of the inclination.

    Source: inclined, Dawson and Paslay, "Drillpipe Buckling in Inclined Holes", JPT, October 1984; the
    factors of the helix and both vertical forms from memory, textbooks on drilling engineering.
    """
    weight = abs(weight_n_per_m)
    inclined = 2.0 * math.sqrt(stiffness_n_m2 * weight * lean / clearance_m)
    vertical = (stiffness_n_m2 * weight * weight) ** (1.0 / 3.0)
    least, most = HELICAL_FACTORS
    return Critical(
        max(inclined, _VERTICAL_SINUSOIDAL * vertical),
        max(least * inclined, _VERTICAL_HELICAL * vertical),
        max(most * inclined, _VERTICAL_HELICAL * vertical),
    )


def helix_push_per_n2(stiffness_n_m2: float, clearance_m: float) -> float:
    r"""What a helix adds to the force on the wall, per square of its compression, in N/m per N2.

    .. math:: w_c = \frac{r F^2}{4 E I}

    From memory, textbooks on drilling engineering.
    """
    return clearance_m / (4.0 * stiffness_n_m2)


def bending_stress_pa(od_m: float, stiffness_n_m2: float, clearance_m: float, compression_n: float) -> float:
    r"""Bending stress at the skin of a pipe wound into a helix, in Pa.

    The helix has a pitch p with :math:`p^2 = 8 \pi^2 E I / F`, thus a curvature :math:`r F / (2 E I)`; times
    E and half the OD. Lubinski, Althouse and Logan, "Helical Buckling of Tubing Sealed in Packers", JPT, June
    1962; from memory.
    """
    return STEEL_PA * 0.5 * od_m * clearance_m * compression_n / (2.0 * stiffness_n_m2)
