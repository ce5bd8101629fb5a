"""The fluid train at rest: where every fluid of the job stands after any volume pumped.

By volume alone, as pumped: the string is full, what goes in at its head comes out at the shoe and in the end
at surface. Losses, gains, compression and the free fall of a column heavier than that outside are not in it;
where `at_rest.Lift.free_fall` holds, the real string may run ahead of the count. Bores count tool joints, the
dart and the plug take no room, the hole is as wide as the plan takes it to be. Mud between inner string and
liner, above the string's foot, is not swept.

Below the shoe: where the cement job fills the rathole, each fluid that leaves the shoe fills it first and
lifts what stood there ahead of it, as a heavier fluid does, so that at the bump it holds the last slurry.
Where the cement job does not fill it, mud stays there.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from schematic.depth.by_depth import ByDepth
from schematic.depth.nest import Nest, State, liner_tube, running_tube
from schematic.depth.plan import Plan
from schematic.engineering.cement import Cement, Displacement
from schematic.engineering.columns import Layer
from schematic.engineering.schedule import Batch, batches
from schematic.engineering.volumes import RATHOLE, JobVolumes
from schematic.outcome import MissingInput


class Place(NamedTuple):
    """Where everything stands at rest after a volume pumped. Layers run from the top down, from the datum.

    The volumes by fluid count from the cement head: those inside, outside down to the lowest that is
    swept, and out of the hole add up to what was there and what was pumped.
    """

    pumped_m3: float
    inside: tuple[Layer, ...]  # string and liner, down to the shoe
    outside: tuple[Layer, ...]  # from the datum to the bottom of the hole
    dart_md_m: float | None  # None: not away
    plug_md_m: float | None  # None: there is none
    landed: bool  # the plug, on its collar
    inside_m3: dict[str, float]
    outside_m3: dict[str, float]
    out_m3: dict[str, float]


@dataclass(frozen=True)
class Train:
    """The batches of a job and the two ways that they take, one behind the other."""

    batches: tuple[Batch, ...]
    inside_m2: ByDepth  # down, from the cement head to the shoe
    outside_m2: ByDepth  # up, from the lowest that is swept to the datum
    first: Layer  # the mud that stands everywhere before
    shoe_md_m: float
    foot_md_m: float  # of the running string
    plug_md_m: float | None  # where the plug hangs
    collar_md_m: float  # where it lands
    dart_from_m3: float  # pumped when the dart goes

    @cached_property
    def inside_m3(self) -> float:
        """Volume from the cement head to the shoe."""
        return self.inside_m2.integral()

    @cached_property
    def outside_m3(self) -> float:
        """Volume outside that is swept, up to the datum."""
        return self.outside_m2.integral()

    @cached_property
    def below_shoe_m3(self) -> float:
        """What is swept below the shoe, in m3: fronts outside come that much sooner where mud stays there."""
        return self.outside_m2.integral(self.shoe_md_m, self.outside_m2.bottom_m)

    @cached_property
    def to_plug_m3(self) -> float | None:
        """Volume from the cement head to the plug; None where there is none."""
        return None if self.plug_md_m is None else self.down_to_m3(self.plug_md_m)

    @property
    def total_m3(self) -> float:
        """All that is pumped, up to the bump."""
        return self.batches[-1].to_m3

    def down_to_m3(self, md_m: float) -> float:
        """Volume inside, from the cement head down to a depth."""
        return self.inside_m2.integral(self.inside_m2.top_m, md_m)

    def up_to_m3(self, md_m: float) -> float:
        """Volume of the whole way, from the cement head down and outside up to a depth."""
        return self.inside_m3 + self.outside_m2.integral(md_m, self.outside_m2.bottom_m)

    def seconds(self, pumped_m3: float) -> float | None:
        """Time from the first stroke until a volume is pumped, with the pauses; None where a rate is missing.

        A pause follows its line, so that the dart goes after that of the last slurry. Beyond the bump pumping
        goes on at the last rate.
        """
        total = 0.0
        for batch in self.batches:
            if pumped_m3 <= batch.from_m3:
                break
            if batch.rate_m3_per_s is None:
                return None
            last = batch is self.batches[-1]
            to = pumped_m3 if last else min(batch.to_m3, pumped_m3)
            total += (to - batch.from_m3) / batch.rate_m3_per_s
            if pumped_m3 >= batch.to_m3 and not last:
                total += batch.pause_s or 0.0
        return total

    def at(self, pumped_m3: float) -> Place:
        """Where all fluids, dart and plug stand after a volume pumped.

        Raises
        ------
        ValueError
            For a volume below nought or beyond the bump.
        """
        if not 0.0 <= pumped_m3 <= self.total_m3 * (1.0 + 1e-12):
            raise ValueError(f"{pumped_m3} m3 is not between nought and the bump at {self.total_m3} m3")
        within, end = self.inside_m3, self.inside_m3 + self.outside_m3
        inside: list[Layer] = []
        outside: list[Layer] = []
        volumes: tuple[dict[str, float], ...] = ({}, {}, {})
        for fluid, density, back, front in self._lie(pumped_m3):
            for held, low, high in zip(
                volumes,
                (back, max(back, within), max(back, end)),
                (min(front, within), min(front, end), front),
                strict=True,
            ):
                if high > low:
                    held[fluid] = held.get(fluid, 0.0) + high - low
            if back < within:
                top, bottom = self._inside_at(back), self._inside_at(min(front, within))
                _put(inside, Layer(fluid, max(top, 0.0), bottom, density))
            if front > within and back < end:
                top, bottom = self._outside_at(min(front, end)), self._outside_at(max(back, within))
                _put(outside, Layer(fluid, top, bottom, density))
        outside.reverse()
        if self.first.bottom_md_m > self.outside_m2.bottom_m:
            _put(outside, self.first._replace(top_md_m=self.outside_m2.bottom_m))
        dart, plug = self._dart_md_m(pumped_m3), self.plug_md_m
        if plug is not None and dart is not None:
            plug = max(plug, dart)
        landed = plug is not None and plug >= self.collar_md_m
        return Place(pumped_m3, tuple(inside), tuple(outside), dart, plug, landed, *volumes)

    def _lie(self, pumped_m3: float) -> list[tuple[str, float, float, float]]:
        """Fluid, density and the stretch of the way on which it lies, from the last pumped to the first."""
        lie = [
            (
                batch.fluid,
                batch.density_kg_per_m3,
                pumped_m3 - min(batch.to_m3, pumped_m3),
                pumped_m3 - batch.from_m3,
            )
            for batch in reversed(self.batches)
            if batch.from_m3 < pumped_m3
        ]
        end = self.inside_m3 + self.outside_m3 + pumped_m3
        return [*lie, (self.first.fluid, self.first.density_kg_per_m3, pumped_m3, end)]

    def _inside_at(self, m3: float) -> float:
        """Where a volume from the cement head down ends, inside."""
        if m3 >= self.inside_m3:
            return self.shoe_md_m
        return self.inside_m2.reach_down(m3, self.inside_m2.top_m)

    def _outside_at(self, m3: float) -> float:
        """Where a volume from the cement head down and up again ends, outside."""
        left = m3 - self.inside_m3
        if left >= self.outside_m3 * (1.0 - 1e-12):
            return self.outside_m2.top_m
        return self.outside_m2.reach_up(max(left, 0.0), self.outside_m2.bottom_m)

    def _dart_md_m(self, pumped_m3: float) -> float | None:
        """Where the dart is: behind the last slurry; without a plug it comes no further than the foot."""
        if pumped_m3 < self.dart_from_m3:
            return None
        if pumped_m3 >= self.total_m3 * (1.0 - 1e-12) and self.plug_md_m is not None:
            return self.collar_md_m
        stop = self.foot_md_m if self.plug_md_m is None else self.collar_md_m
        return min(self._inside_at(pumped_m3 - self.dart_from_m3), stop)


def _put(layers: list[Layer], layer: Layer) -> None:
    """Puts a layer to those that it follows, downward or upward; two of the same fluid become one."""
    if not layer.bottom_md_m > layer.top_md_m:
        return
    last = layers[-1] if layers else None
    if last is not None and last.fluid == layer.fluid:
        top, bottom = min(last.top_md_m, layer.top_md_m), max(last.bottom_md_m, layer.bottom_md_m)
        layers[-1] = last._replace(top_md_m=top, bottom_md_m=bottom)
    else:
        layers.append(layer)


def train(plan: Plan, volumes: JobVolumes, cement: Cement, displacement: Displacement) -> Train:
    """The train of a plan: its schedule, or the order that the plan gives.

    Raises
    ------
    MissingInput
        When mud, running string, collar, a bore, an annulus or a volume is not given.
    """
    depth = plan.depth
    running, liner = depth.running, depth.liner
    mud, collar = plan.fluid("mud"), liner.shoe_track_top_md_m
    if mud is None:
        raise MissingInput("a fluid of kind mud")
    if running is None or collar is None:
        raise MissingInput("running string" if running is None else "landing collar")
    if not volumes.above_m2.depths_m or not volumes.beside_m2.depths_m:
        raise MissingInput(*(volumes.needs or ("running string",)))
    string = running_tube(running)
    bore = liner_tube(liner).inside_m2(liner.parts[0].top_md_m, liner.shoe_md_m)
    inside = _joined(string.inside_m2(string.top_m, running.foot_md_m), bore)
    outside = _joined(volumes.above_m2, volumes.beside_m2)
    bottom = max(depth.td_md_m, liner.shoe_md_m)
    if any(section.name == RATHOLE for section in cement.sections):
        outside = _joined(outside, Nest(depth, State.STRING_IN).open_bore_m2(liner.shoe_md_m, bottom))
    pumped = batches(plan, cement, displacement.to_bump_m3)
    return Train(
        pumped,
        inside,
        outside,
        Layer(mud.name, 0.0, bottom, mud.density_kg_per_m3),
        liner.shoe_md_m,
        running.foot_md_m,
        running.plug_md_m,
        collar,
        next(batch.from_m3 for batch in pumped if batch.behind_dart),
    )


def _joined(upper: ByDepth, lower: ByDepth) -> ByDepth:
    """Two profiles end to end; the lower begins where the upper ends, as far as a tally may leave it open."""
    rest = lower.clip(upper.bottom_m, lower.bottom_m)
    return ByDepth((*upper.depths_m, *rest.depths_m[1:]), (*upper.values, *rest.values))
