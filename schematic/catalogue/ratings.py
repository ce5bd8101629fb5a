"""What a pipe body bears by the historical API formulas: burst, collapse, tension.

For new pipe of nominal size and of the least yield strength of its grade. Wear, corrosion, bending and heat
are not in it. The strength of couplings and connections is not known here: it may be less than that of the
body, and the maker's data sheet rules. Nothing is rounded; the standard prints burst and collapse to 10 psi
and body yield to 1000 lbf.

Source: API Bulletin 5C3 / API TR 5C3 (ISO/TR 10400), historical formulas. The factors and the limits by D/t
were read in a public reproduction of the tables; the polynomials behind them are from memory and give every
printed digit.
"""

from __future__ import annotations

from math import isfinite, pi, sqrt
from typing import Literal, NamedTuple

from schematic.units import PSI_PA

Regime = Literal["yield", "plastic", "transition", "elastic"]

# The thinnest wall that API 5CT accepts over the nominal wall; from memory.
LEAST_WALL_FRACTION = 0.875
# Elastic collapse of long pipe, in psi: 5C3's own constant.
_ELASTIC_PSI = 46.95e6
# Polynomials stop being true somewhere: under 20 ksi the regimes fall out of their order, above 160 ksi there
# are pipes that a stronger steel would make collapse sooner. Nothing is answered outside these two.
LEAST_YIELD_PA, GREATEST_YIELD_PA = 20_000 * PSI_PA, 155_000 * PSI_PA


class CollapseFactors(NamedTuple):
    """Factors of the collapse formulas for one yield strength, and the D/t at which the regimes meet.

    *a*, *b*, *f*, *g* have no unit; *c_pa* is a pressure in Pa. Yield collapse holds up to
    *yield_to_plastic*, plastic up to *plastic_to_transition*, transition up to *transition_to_elastic*.
    """

    a: float
    b: float
    c_pa: float
    f: float
    g: float
    yield_to_plastic: float
    plastic_to_transition: float
    transition_to_elastic: float


class Collapse(NamedTuple):
    """Collapse pressure in Pa, the regime by its word, D/t, and the yield in Pa that was reckoned with."""

    pressure_pa: float
    regime: Regime
    od_over_wall: float
    yield_pa: float


class Ratings(NamedTuple):
    """Ratings of a pipe body: burst in Pa, collapse with its regime, body yield in N."""

    burst_pa: float
    collapse: Collapse
    body_yield_n: float


def ratings(od_m: float, wall_m: float, yield_pa: float) -> Ratings:
    """Burst, collapse without axial load, and body yield of one pipe.

    Parameters
    ----------
    od_m : float
        Outside diameter. [m]
    wall_m : float
        Nominal wall. [m]
    yield_pa : float
        Minimum yield strength of the grade, 20 to 155 ksi. [Pa]

    Raises
    ------
    ValueError
        When the wall does not fit in the pipe, or the yield strength is outside the range.
    """
    return Ratings(
        burst_pa(od_m, wall_m, yield_pa),
        collapse(od_m, wall_m, yield_pa),
        body_yield_n(od_m, wall_m, yield_pa),
    )


def burst_pa(
    od_m: float, wall_m: float, yield_pa: float, wall_fraction: float = LEAST_WALL_FRACTION
) -> float:
    r"""Internal pressure at which the thinnest accepted wall begins to yield, in Pa.

    .. math:: p = 2 f Y t / D

    Parameters
    ----------
    od_m : float
        Outside diameter. [m]
    wall_m : float
        Nominal wall. [m]
    yield_pa : float
        Minimum yield strength. [Pa]
    wall_fraction : float
        Least wall over nominal wall, above 0 and at most 1. [-]

    Raises
    ------
    ValueError
        When the wall does not fit in the pipe, or a figure is not above nought.

    Notes
    -----
    Barlow's thin-wall form. Pipe body only: a coupling may leak or burst sooner.
    Source: API Bulletin 5C3 / API TR 5C3 (historical form); printed there to 10 psi.

    Examples
    --------
    >>> round(burst_pa(7 * 0.0254, 0.408 * 0.0254, 80_000 * PSI_PA) / PSI_PA)
    8160
    """
    if not 0.0 < wall_fraction <= 1.0:
        raise ValueError(f"a least wall of {wall_fraction} of the nominal wall is not above 0 and at most 1")
    return 2.0 * wall_fraction * _strength(yield_pa) / _od_over_wall(od_m, wall_m)


def body_yield_n(od_m: float, wall_m: float, yield_pa: float) -> float:
    """Tension at which the pipe body begins to yield, in N: steel area times yield strength.

    Parameters
    ----------
    od_m : float
        Outside diameter. [m]
    wall_m : float
        Nominal wall. [m]
    yield_pa : float
        Minimum yield strength. [Pa]

    Raises
    ------
    ValueError
        When the wall does not fit in the pipe, or a figure is not above nought.

    Notes
    -----
    Pipe body only: the strength of the connection is not known here.
    Source: API Bulletin 5C3 / API TR 5C3, 0.7854 (D^2 - d^2) Yp; printed there to 1000 lbf.
    """
    _od_over_wall(od_m, wall_m)
    return pi * (od_m - wall_m) * wall_m * _strength(yield_pa)


def reduced_yield_pa(yield_pa: float, axial_tension_pa: float) -> float:
    r"""Yield strength that is left for collapse under axial tension, in Pa.

    .. math:: Y_a = Y (\sqrt{1 - 0.75 (s/Y)^2} - 0.5 s/Y)

    Parameters
    ----------
    yield_pa : float
        Minimum yield strength. [Pa]
    axial_tension_pa : float
        Axial stress in the pipe body, 0 up to the yield strength. [Pa]

    Raises
    ------
    ValueError
        For compression, which the formula does not cover, and where nothing is left.

    Notes
    -----
    The ellipse of two stresses, without internal pressure.
    Source: API Bulletin 5C3 / API TR 5C3, collapse under axial tension; from memory.
    """
    share = axial_tension_pa / _strength(yield_pa)
    if not 0.0 <= share < 1.0:
        raise ValueError(
            f"an axial tension of {axial_tension_pa} Pa is outside 0 up to the yield strength, {yield_pa} Pa"
        )
    return yield_pa * (sqrt(1.0 - 0.75 * share**2) - 0.5 * share)


def collapse_factors(yield_pa: float) -> CollapseFactors:
    """Factors of the collapse formulas for a yield strength.

    Parameters
    ----------
    yield_pa : float
        Yield strength, 20 to 155 ksi. [Pa]

    Raises
    ------
    ValueError
        When the yield strength is outside the range.

    Notes
    -----
    Source: API Bulletin 5C3 / API TR 5C3 (ISO/TR 10400), historical; the polynomials, in psi, from memory.
    """
    grace = 1e-9 * GREATEST_YIELD_PA
    if not LEAST_YIELD_PA - grace <= yield_pa <= GREATEST_YIELD_PA + grace:
        raise ValueError(
            f"a yield strength of {yield_pa / PSI_PA:.0f} psi is outside {LEAST_YIELD_PA / PSI_PA:.0f} to "
            f"{GREATEST_YIELD_PA / PSI_PA:.0f} psi, for which the collapse factors hold"
        )
    y = yield_pa / PSI_PA
    a = 2.8762 + 0.10679e-5 * y + 0.21301e-10 * y**2 - 0.53132e-16 * y**3
    b = 0.026233 + 0.50609e-6 * y
    c = -465.93 + 0.030867 * y - 0.10483e-7 * y**2 + 0.36989e-13 * y**3
    ratio = b / a
    k = 3.0 * ratio / (2.0 + ratio)
    f = _ELASTIC_PSI * k**3 / (y * (k - ratio) * (1.0 - k) ** 2)
    g = f * ratio
    slope = b + c / y
    return CollapseFactors(
        a=a,
        b=b,
        c_pa=c * PSI_PA,
        f=f,
        g=g,
        yield_to_plastic=(sqrt((a - 2.0) ** 2 + 8.0 * slope) + (a - 2.0)) / (2.0 * slope),
        plastic_to_transition=y * (a - f) / (c + y * (b - g)),
        transition_to_elastic=(2.0 + ratio) / (3.0 * ratio),
    )


def collapse(od_m: float, wall_m: float, yield_pa: float, axial_tension_pa: float = 0.0) -> Collapse:
    """External pressure at which the pipe collapses, empty inside; D/t chooses the formula.

    ============  ============================
    yield         2 Y (D/t - 1) / (D/t)^2
    plastic       Y (A / (D/t) - B) - C
    transition    Y (F / (D/t) - G)
    elastic       46.95e6 / (D/t (D/t - 1)^2), in psi
    ============  ============================

    Parameters
    ----------
    od_m : float
        Outside diameter. [m]
    wall_m : float
        Nominal wall. [m]
    yield_pa : float
        Minimum yield strength of the grade. [Pa]
    axial_tension_pa : float
        Axial stress in the pipe body; the yield strength is then the reduced one. [Pa]

    Raises
    ------
    ValueError
        When the wall does not fit in the pipe, for compression, and when the yield strength that is
        reckoned with is outside 20 to 155 ksi.

    Notes
    -----
    The least of the four formulas is not the answer: each holds in its own range of D/t.
    Source: API Bulletin 5C3 / API TR 5C3 (ISO/TR 10400), historical; printed there to 10 psi.

    Examples
    --------
    >>> collapse(9.625 * 0.0254, 0.472 * 0.0254, 80_000 * PSI_PA).regime
    'plastic'
    """
    ratio = _od_over_wall(od_m, wall_m)
    y = reduced_yield_pa(yield_pa, axial_tension_pa)
    factors = collapse_factors(y)
    if ratio <= factors.yield_to_plastic:
        return Collapse(2.0 * y * (ratio - 1.0) / ratio**2, "yield", ratio, y)
    if ratio <= factors.plastic_to_transition:
        return Collapse(y * (factors.a / ratio - factors.b) - factors.c_pa, "plastic", ratio, y)
    if ratio <= factors.transition_to_elastic:
        return Collapse(y * (factors.f / ratio - factors.g), "transition", ratio, y)
    return Collapse(_ELASTIC_PSI * PSI_PA / (ratio * (ratio - 1.0) ** 2), "elastic", ratio, y)


def _od_over_wall(od_m: float, wall_m: float) -> float:
    """Diameter over wall, of a wall that fits in the pipe."""
    if not (isfinite(od_m) and 0.0 < wall_m < od_m / 2.0):
        raise ValueError(f"a wall of {wall_m} m does not fit in an OD of {od_m} m")
    return od_m / wall_m


def _strength(yield_pa: float) -> float:
    if not (isfinite(yield_pa) and yield_pa > 0.0):
        raise ValueError(f"a yield strength of {yield_pa} Pa is not above nought")
    return yield_pa
