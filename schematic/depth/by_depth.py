"""A quantity that is constant between measured depths: bores, hole sizes, areas, densities.

n + 1 rising depths, n values. Every volume of the project is an integral of one of these.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from operator import mul, sub

_FEW = 32  # stretches that are sooner added up than looked up


class DepthError(ValueError):
    """A depth, an interval or a pair of quantities does not fit the depths at hand."""


@dataclass(frozen=True)
class ByDepth:
    """Values between depths: ``values[i]`` holds from ``depths_m[i]`` to ``depths_m[i + 1]``.

    Make one with :func:`by_depth`, which checks it. Empty (no depths, no values) is allowed and means
    "nowhere".
    """

    depths_m: tuple[float, ...]
    values: tuple[float, ...]

    @property
    def top_m(self) -> float:
        """Where it begins; raises DepthError when it is nowhere."""
        if not self.depths_m:
            raise DepthError("nowhere: no depths")
        return self.depths_m[0]

    @property
    def bottom_m(self) -> float:
        """Where it ends; raises DepthError when it is nowhere."""
        if not self.depths_m:
            raise DepthError("nowhere: no depths")
        return self.depths_m[-1]

    def steps(self) -> Iterable[tuple[float, float, float]]:
        """Top, bottom and value of each stretch, from the top down."""
        return zip(self.depths_m, self.depths_m[1:], self.values, strict=False)

    def within(self, top_m: float, bottom_m: float) -> Iterable[tuple[float, float, float]]:
        """The stretches that may touch an interval, whole: a caliper log has ten thousand of them."""
        first = max(bisect_right(self.depths_m, top_m) - 1, 0)
        last = bisect_left(self.depths_m, bottom_m)
        depths, values = self.depths_m, self.values
        return ((depths[i], depths[i + 1], values[i]) for i in range(first, min(last, len(values))))

    def at(self, md_m: float) -> float:
        """The value at a depth; at a step, the value below it; at the very bottom, the last."""
        depths = self.depths_m
        if not depths or not depths[0] <= md_m <= depths[-1]:
            raise DepthError(f"{md_m} m is outside {depths[:1]} to {depths[-1:]} m")
        return self.values[min(bisect_right(depths, md_m) - 1, len(self.values) - 1)]

    def clip(self, top_m: float, bottom_m: float) -> ByDepth:
        """The part between two depths; what lies outside is left out."""
        pieces = [
            (max(top, top_m), min(bottom, bottom_m), value)
            for top, bottom, value in self.within(top_m, bottom_m)
            if max(top, top_m) < min(bottom, bottom_m)
        ]
        if not pieces:
            return NOWHERE
        return ByDepth((pieces[0][0], *(p[1] for p in pieces)), tuple(p[2] for p in pieces))

    def map(self, function: Callable[[float], float]) -> ByDepth:
        """The same depths with each value changed."""
        return ByDepth(self.depths_m, tuple(map(function, self.values)))

    def combine(self, other: ByDepth, function: Callable[[float, float], float]) -> ByDepth:
        """Both quantities where both exist, breakpoints merged."""
        if not self.depths_m or not other.depths_m:
            return NOWHERE
        top = max(self.depths_m[0], other.depths_m[0])
        bottom = min(self.depths_m[-1], other.depths_m[-1])
        if top >= bottom:
            return NOWHERE
        depths = sorted({top, bottom, *(d for d in (*self.depths_m, *other.depths_m) if top < d < bottom)})
        return ByDepth(tuple(depths), tuple(function(self.at(d), other.at(d)) for d in depths[:-1]))

    def integral(self, top_m: float | None = None, bottom_m: float | None = None) -> float:
        """Integral over depth, by default over all of it; zero outside. Never negative for top > bottom."""
        if not self.depths_m:
            return 0.0
        low = self.depths_m[0] if top_m is None else top_m
        high = self.depths_m[-1] if bottom_m is None else bottom_m
        first = max(bisect_right(self.depths_m, low) - 1, 0)
        last = min(bisect_left(self.depths_m, high), len(self.values))
        if last - first > _FEW:
            return self._up_to(high) - self._up_to(low)
        total = 0.0
        for index in range(first, last):
            above, below = max(self.depths_m[index], low), min(self.depths_m[index + 1], high)
            if above < below:
                total += self.values[index] * (below - above)
        return total

    @cached_property
    def _sums(self) -> tuple[float, ...]:
        """The integral from the top down to each depth but the first."""
        return tuple(accumulate(map(mul, self.values, map(sub, self.depths_m[1:], self.depths_m))))

    def _up_to(self, md_m: float) -> float:
        """The integral from the top down to a depth."""
        if md_m <= self.depths_m[0]:
            return 0.0
        if md_m >= self.depths_m[-1]:
            return self._sums[-1]
        index = bisect_right(self.depths_m, md_m) - 1
        above = self._sums[index - 1] if index else 0.0
        return above + self.values[index] * (md_m - self.depths_m[index])

    def reach_up(self, amount: float, from_md_m: float) -> float:
        """The depth up to which *amount* fills, starting at *from_md_m* and going up.

        Inverse of :meth:`integral` over its upper limit. Raises DepthError when there is not so much room.
        """
        return min(self._reach(amount, -amount, from_md_m, bisect_right), from_md_m)

    def reach_down(self, amount: float, from_md_m: float) -> float:
        """The depth down to which *amount* fills, starting at *from_md_m* and going down.

        Inverse of :meth:`integral` over its lower limit. Raises DepthError when there is not so much room.
        """
        return max(self._reach(amount, amount, from_md_m, bisect_left), from_md_m)

    def _reach(
        self, amount: float, step: float, from_md_m: float, find: Callable[[tuple[float, ...], float], int]
    ) -> float:
        """Where the integral from the top differs by *step* from what it is at a depth; of a stretch without
        room, the end that *find* finds.
        """
        if amount < 0:
            raise DepthError("a negative amount reaches nowhere")
        if amount == 0.0 or not self.depths_m:
            if amount > 0.0:
                raise DepthError(f"{amount} finds no room from {from_md_m} m: there is none")
            return from_md_m
        wanted, most = self._up_to(from_md_m) + step, self._sums[-1]
        grace = max(1e-9 * amount, 1e-14 * most, 1e-21)  # the sums are rounded
        if not -grace <= wanted <= most + grace:
            lacks = max(-wanted, wanted - most)
            raise DepthError(f"{lacks} of {amount} finds no room from {from_md_m} m")
        index = min(find(self._sums, min(max(wanted, 0.0), most)), len(self.values) - 1)
        above = self._sums[index - 1] if index else 0.0
        value = self.values[index]
        return self.depths_m[index] + (max(wanted - above, 0.0) / value if value > 0.0 else 0.0)


NOWHERE = ByDepth((), ())


def by_depth(depths_m: Iterable[float], values: Iterable[float]) -> ByDepth:
    """A :class:`ByDepth` after a check: rising depths, one value fewer than depths."""
    depths, held = tuple(depths_m), tuple(values)
    if len(depths) != len(held) + 1 and (depths or held):
        raise DepthError(f"{len(depths)} depths need {len(depths) - 1} values, not {len(held)}")
    for above, below in zip(depths, depths[1:], strict=False):
        if not above < below:
            raise DepthError(f"depths must rise: {above} m is followed by {below} m")
    return ByDepth(depths, held)
