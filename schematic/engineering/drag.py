r"""Drag and torque of a string in the hole, as a soft string in three dimensions.

The string lies on the wall and bends with the path; its stiffness is not in it. With *t* the unit tangent
down the hole, *F* the effective tension and *w* the weight in the fluids, the wall pushes with
:math:`N = |F\,dt/ds + w\,z_\perp|` per length and friction takes :math:`\mu N` along the pipe when it moves
along the hole, across it when it turns:

.. math:: -dF/ds = w \cos\theta \pm \mu N, \qquad -dT/ds = \mu N r

Where a pipe in compression winds into a helix (`buckling`), N is larger by what the helix pushes.

Source: Johancsik, Friesen and Dawson, "Torque and Drag in Directional Wells", SPE 11380 (1984); continuous
form, by Runge-Kutta of fourth order over the arcs of the survey. In the plane of an arc the tangent and its
normal turn as sine and cosine, so that a step costs two of each.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum
from typing import NamedTuple

from schematic.depth.survey import SurveyPath, Vector
from schematic.engineering.buckling import critical, helix_push_per_n2

_STEP_RAD = 0.05  # of bend in one step; tests hold it within 0.01 % of a solver's answer
_STEP_PUSH = 0.1  # share of its compression that a helix may lose to friction in one step
_LEAST_STEP = 1e-3  # of an arc: where winding begins and ends at once
LOCKED_N = 1e9  # no string bears it: the push grows without end, nothing gets through


class Motion(Enum):
    """How the string moves; the value is the sign of friction along the hole."""

    PICKING_UP = 1.0
    SLACKING_OFF = -1.0
    ROTATING = 0.0


class Span(NamedTuple):
    """A stretch of string of one weight against one wall.

    *stiffness_n_m2* (E I) and *clearance_m* (radial) let it buckle; None where one is not known.
    """

    top_md_m: float
    bottom_md_m: float
    weight_n_per_m: float  # in its fluids, along the pipe
    friction: float
    contact_radius_m: float
    stiffness_n_m2: float | None = None
    clearance_m: float | None = None


class Point(NamedTuple):
    """Effective tension and torque at a depth; below nought the tension is compression."""

    md_m: float
    tension_n: float
    torque_nm: float


def loads(path: SurveyPath, spans: Sequence[Span], motion: Motion, foot_n: float = 0.0) -> tuple[Point, ...]:
    """Tension and torque at every end of a span or arc, from the foot up; the last is at the top.

    Parameters
    ----------
    path : SurveyPath
        The hole.
    spans : sequence of Span
        From the top down, each beginning where the last ends.
    motion : Motion
        What the whole string does.
    foot_n : float
        Tension at the foot; below nought where weight is set down. [N]

    Notes
    -----
    A set-down that no push from above can bring there gives a tension of minus infinity from where it locks
    up.
    """
    tension, torque = foot_n, 0.0
    found = [Point(spans[-1].bottom_md_m, tension, torque)] if spans else []
    for span in reversed(spans):
        for leg in reversed(path.arcs(span.top_md_m, span.bottom_md_m)):
            tension, torque = _along(span, _arc(leg), motion.value, tension, torque, 1.0)
            found.append(Point(leg[0], tension, torque))
    return tuple(found)


def loads_below(path: SurveyPath, spans: Sequence[Span], motion: Motion, top_n: float) -> tuple[Point, ...]:
    """The same from the top down, for a tension at the top; torque is not worked out (nought)."""
    tension = top_n
    found = [Point(spans[0].top_md_m, tension, 0.0)] if spans else []
    for span in spans:
        for leg in path.arcs(span.top_md_m, span.bottom_md_m):
            tension, _torque = _along(span, _arc(leg), motion.value, tension, 0.0, -1.0)
            found.append(Point(leg[1], tension, 0.0))
    return tuple(found)


class _Arc(NamedTuple):
    """An arc seen from its foot: what of the tangent there, of the normal in its plane and of the normal to
    its plane points down.
    """

    length_m: float
    per_m: float  # curvature
    tangent: float
    normal: float  # towards where the tangent turns on the way up
    aside: float


def _arc(leg: tuple[float, float, Vector, Vector, float]) -> _Arc:
    top, bottom, start, end, bend = leg
    if bend == 0.0:
        return _Arc(bottom - top, 0.0, end[2], math.hypot(end[0], end[1]), 0.0)
    normal = (start[2] - math.cos(bend) * end[2]) / math.sin(bend)
    aside = math.sqrt(max(1.0 - end[2] * end[2] - normal * normal, 0.0))
    return _Arc(bottom - top, bend / (bottom - top), end[2], normal, aside)


def _along(
    span: Span, arc: _Arc, sign: float, tension: float, torque: float, way: float
) -> tuple[float, float]:
    """Tension and torque at one end of an arc from those at the other; *way* is 1 for upward, -1 for down."""
    weight, friction = span.weight_n_per_m, span.friction
    tangent, normal, per_m = arc.tangent, arc.normal, arc.per_m
    across = weight * arc.aside
    helix = 0.0
    if span.stiffness_n_m2 and span.clearance_m:
        helix = helix_push_per_n2(span.stiffness_n_m2, span.clearance_m)

    def slope(at: float, pull: float, push_per_n2: float) -> tuple[float, float]:
        """Growth of tension per length upward, and the side force, at a distance above the arc's foot."""
        cosine, sine = math.cos(per_m * at), math.sin(per_m * at)
        side = math.hypot(weight * (normal * cosine - tangent * sine) - pull * per_m, across)
        side += push_per_n2 * pull * pull
        return weight * (tangent * cosine + normal * sine) + sign * friction * side, side

    def step(at: float, pull: float, h: float, push_per_n2: float) -> tuple[float, float]:
        """Tension after a step, and the mean side force on it."""
        one, first = slope(at, pull, push_per_n2)
        two, _second = slope(at + 0.5 * h, pull + 0.5 * h * one, push_per_n2)
        three, third = slope(at + 0.5 * h, pull + 0.5 * h * two, push_per_n2)
        four, last = slope(at + h, pull + h * three, push_per_n2)
        return pull + h / 6.0 * (one + 2.0 * two + 2.0 * three + four), (first + 4.0 * third + last) / 6.0

    def over(at: float, pull: float) -> float:
        """By how much the compression is over the helical load."""
        cosine = tangent * math.cos(per_m * at) + normal * math.sin(per_m * at)
        lean = math.sqrt(max(1.0 - cosine * cosine, 0.0))
        assert span.stiffness_n_m2 is not None
        assert span.clearance_m is not None
        return -pull - critical(span.stiffness_n_m2, weight, lean, span.clearance_m).helical_n

    def winds(at: float, pull: float) -> bool:
        return helix > 0.0 and pull < 0.0 and over(at, pull) > 0.0

    def upward(at: float, pull: float) -> float:
        """The force on the wall in the plane of the arc: where it changes side, its size has a kink."""
        return weight * (normal * math.cos(per_m * at) - tangent * math.sin(per_m * at)) - pull * per_m

    if not math.isfinite(tension):
        return tension, torque
    at = 0.0 if way > 0.0 else arc.length_m
    left, least = arc.length_m, _LEAST_STEP * arc.length_m
    winding = winds(at, tension)
    while left > 0.0:
        h = min(left, _STEP_RAD / per_m) if per_m else left
        if winding and friction > 0.0 and sign:
            h = max(min(h, _STEP_PUSH / (friction * helix * -tension)), min(least, h))
        push = helix if winding else 0.0
        ended, side = step(at, tension, way * h, push)
        turns = winding != winds(at + way * h, ended)
        share = 1.0
        if turns:
            share = _crosses(over(at, tension), over(at + way * h, ended), otherwise=0.0)
        if per_m and friction > 0.0:
            share = min(share, _crosses(upward(at, tension), upward(at + way * h, ended), otherwise=1.0))
        if share < 1.0 and h > least:
            h = max(h * share, least)
            ended, side = step(at, tension, way * h, push)
            turns = winding != winds(at + way * h, ended)
        if not abs(ended) < LOCKED_N:
            return -math.inf if tension < 0.0 else math.inf, torque
        torque += 0.0 if sign else friction * span.contact_radius_m * side * h
        at, left, tension = at + way * h, left - h, ended
        left = left if left > 1e-9 * arc.length_m else 0.0
        winding = winding != turns
    return tension, torque


def _crosses(first: float, last: float, otherwise: float) -> float:
    """Where on a step something crosses nought, by its values at both ends."""
    return first / (first - last) if first * last < 0.0 else otherwise
