"""What slacking off at surface puts on the liner top, what it takes, and which pipes buckle under it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from schematic.depth.plan import Plan
from schematic.engineering.buckling import Critical, bending_stress_pa, critical
from schematic.engineering.drag import Motion, Point, Span, loads, loads_below
from schematic.engineering.hanging import Piece, pieces, running_pieces
from schematic.engineering.wall import around, spans
from schematic.job.hook_loads import Friction
from schematic.outcome import MissingInput


class Buckled(NamedTuple):
    """A pipe in compression: the most of it, and the loads at which it snakes and winds there."""

    name: str
    md_m: float
    compression_n: float
    critical: Critical
    bending_pa: float  # at its skin, of the helix; nought where it does not wind

    @property
    def share(self) -> float:
        """Compression over the load at which it snakes."""
        return self.compression_n / self.critical.sinusoidal_n

    @property
    def helical_share(self) -> float:
        """Compression over the least load at which it winds."""
        return self.compression_n / self.critical.helical_n

    @property
    def state(self) -> str:
        """What it does: "straight", "sinusoidal" or "helical"."""
        return self.critical.state(self.compression_n)


class SetDown(NamedTuple):
    """Weight set down at the liner top: what has to be slacked off at surface for it, and what buckles."""

    wanted_n: float
    at_top_n: float  # less than what is wanted where no more gets through
    slack_off_n: float  # the change of hook load from the string slacking off free
    hook_n: float  # hook load without the block while it is set down
    buckled: tuple[Buckled, ...]  # pipes in compression, from below

    @property
    def drag_less_n(self) -> float:
        """By how much less drag holds the string than before: what arrives beyond what is slacked off.

        The string's weight along the hole hangs on the hook, on drag and on the liner top. Negative: drag
        grows by so much.
        """
        return self.at_top_n - self.slack_off_n

    @property
    def short_n(self) -> float:
        """What is wanting."""
        return max(self.wanted_n - self.at_top_n, 0.0)


def set_down(plan: Plan, wanted_n: float) -> SetDown:
    """What has to be slacked off so that a weight stands on the liner top, helical contact counted.

    No more is slacked off than the string weighs, nor than the program's slack-off limit: where that does
    not bring the weight there, the result is what it does bring.

    Raises
    ------
    MissingInput
        When friction, running string or weights are not given.
    """
    if plan.job.friction is None:
        raise MissingInput("installation.friction")
    hung, path = running_pieces(plan), plan.depth.path
    along = spans(hung, around(plan), plan.job.friction)
    free = loads(path, along, Motion.SLACKING_OFF)[-1].tension_n
    least = _least_hook_n(plan, free)
    found = loads(path, along, Motion.SLACKING_OFF, -wanted_n)
    reached = wanted_n
    if found[-1].tension_n < least:
        found = loads_below(path, along, Motion.SLACKING_OFF, least)[::-1]
        reached = max(-found[0].tension_n, 0.0)
    hook = found[-1].tension_n
    return SetDown(wanted_n, reached, free - hook, hook, _buckled(plan, hung, along, found))


def _least_hook_n(plan: Plan, free_n: float) -> float:
    """How far the hook load may fall: to nought, or by the slack-off limit of the program."""
    limit = plan.job.slack_off_limit_n
    return max(0.0, free_n - limit) if limit is not None else 0.0


def available_n(plan: Plan) -> float:
    """The most that slacking off brings to the liner top: all of the string, or up to the slack-off limit.

    Raises
    ------
    MissingInput
        As `set_down`.
    """
    if plan.job.friction is None:
        raise MissingInput("installation.friction")
    (transfer,) = transfers(plan, (plan.job.friction,), 1)
    return transfer.points[-1][1]


def buckled(plan: Plan, at_top_n: float) -> tuple[Buckled, ...]:
    """Which pipes of the running string are in compression under a weight on the liner top, from below.

    With the friction of the file; without it drag is left out, and what is found is the least there is: drag
    holds the pipe above and lets more of the weight stand on the pipe below.

    Raises
    ------
    MissingInput
        When running string or weights are not given.
    """
    if plan.job.friction is not None:
        return set_down(plan, at_top_n).buckled
    hung = running_pieces(plan)
    along = spans(hung, around(plan))
    return _buckled(plan, hung, along, loads(plan.depth.path, along, Motion.ROTATING, -at_top_n))


def buckled_running_in(plan: Plan) -> tuple[Buckled, ...]:
    """Which pipes are in compression while the liner slacks off on depth; raises MissingInput."""
    if plan.job.friction is None:
        raise MissingInput("installation.friction")
    hung = pieces(plan)
    along = spans(hung, around(plan), plan.job.friction)
    return _buckled(plan, hung, along, loads(plan.depth.path, along, Motion.SLACKING_OFF))


def _buckled(
    plan: Plan, hung: Sequence[Piece], along: Sequence[Span], found: Sequence[Point]
) -> tuple[Buckled, ...]:
    """Each pipe in compression, at the end of a span or arc where it is nearest to its critical load."""
    worst: dict[str, Buckled] = {}
    for span in reversed(along):
        piece = next(one for one in hung if one.bottom_md_m > span.top_md_m + 1e-6)
        if span.stiffness_n_m2 is None or span.clearance_m is None or piece.od_m is None:
            continue
        for point in found:
            if not -math.inf < point.tension_n < 0.0 or not span.top_md_m <= point.md_m <= span.bottom_md_m:
                continue
            north, east, _down = plan.depth.path.tangent(point.md_m)
            lean, push = math.hypot(north, east), -point.tension_n
            bears = critical(span.stiffness_n_m2, span.weight_n_per_m, lean, span.clearance_m)
            bending = 0.0
            if bears.state(push) == "helical":
                bending = bending_stress_pa(piece.od_m, span.stiffness_n_m2, span.clearance_m, push)
            known = worst.get(piece.name)
            if known is None or push / bears.sinusoidal_n > known.share:
                worst[piece.name] = Buckled(piece.name, point.md_m, push, bears, bending)
    return tuple(worst.values())


class Transfer(NamedTuple):
    """Slack-off at surface against force at the liner top, for one pair of friction factors."""

    friction: Friction
    points: tuple[tuple[float, float], ...]  # slacked off, at the liner top; from nought to all there is

    def at(self, slack_n: float) -> float:
        """What arrives of a slack-off, linear between the points; of more than there is, what all brings."""
        for (low, first), (high, last) in zip(self.points, self.points[1:], strict=False):
            if low <= slack_n <= high and high > low:
                return first + (last - first) * (slack_n - low) / (high - low)
        return self.points[-1][1]


def transfers(plan: Plan, frictions: Sequence[Friction], steps: int = 20) -> tuple[Transfer, ...]:
    """The band of what slacking off brings to the liner top; raises MissingInput as `set_down`."""
    hung, path, surroundings = running_pieces(plan), plan.depth.path, around(plan)
    made = []
    for friction in frictions:
        along = spans(hung, surroundings, friction)
        free = loads(path, along, Motion.SLACKING_OFF)[-1].tension_n
        most = free - _least_hook_n(plan, free)
        points = []
        for n in range(steps + 1):
            slack = most * n / steps
            at_top = loads_below(path, along, Motion.SLACKING_OFF, free - slack)[-1].tension_n
            points.append((slack, max(-at_top, 0.0)))
        made.append(Transfer(friction, tuple(points)))
    return tuple(made)
