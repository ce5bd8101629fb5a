"""All that is worked out about an installation, each quantity when it is first asked for.

A quantity that lacks an input raises MissingInput, every time it is asked for. Pure but for that memory: the
same plan gives the same figures.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from schematic.depth.nest import Nest
from schematic.depth.plan import Plan
from schematic.engineering.cement import Cement, Displacement
from schematic.engineering.train import Train, train
from schematic.engineering.volumes import JobVolumes
from schematic.engineering.weights import HeldDown, Weights, held_down, weights
from schematic.job.clock import Clock, clock
from schematic.job.events import Event, events
from schematic.job.hanger_load import HangerLoad, hanger_loads
from schematic.job.hook_loads import HookLoads, hook_loads
from schematic.job.overpull import Overpull, overpull
from schematic.job.passage import Passage, passage
from schematic.job.proof import Proofs, proofs
from schematic.job.running_sheet import RunningSheet, running_sheet
from schematic.job.setting import Setting, setting
from schematic.outcome import MissingInput, Uncomputed


@dataclass(frozen=True)
class Installation:
    """A plan with its volumes and cement, and what the installation makes of them."""

    plan: Plan
    nest: Nest
    volumes: JobVolumes
    cement_or_none: Cement | None
    displacement_or_none: Displacement | None
    missing: tuple[Uncomputed, ...]

    @property
    def cement(self) -> Cement:
        """The cement job; raises MissingInput."""
        if self.cement_or_none is None:
            raise MissingInput(*self._needs("cement"))
        return self.cement_or_none

    @property
    def displacement(self) -> Displacement:
        """Volume to the bump; raises MissingInput."""
        if self.displacement_or_none is None:
            raise MissingInput(*self._needs("displacement"))
        return self.displacement_or_none

    @cached_property
    def passage(self) -> Passage:
        """What has to pass what."""
        return passage(self.plan)

    @cached_property
    def running_sheet(self) -> RunningSheet:
        """Joint by joint and stand by stand on the way in."""
        return running_sheet(self.plan)

    @cached_property
    def train(self) -> Train:
        """Where every fluid stands after any volume pumped."""
        return train(self.plan, self.volumes, self.cement, self.displacement)

    @cached_property
    def events(self) -> tuple[Event, ...]:
        """What comes where after how much, based anew on what the record has seen."""
        return events(self.plan, self.volumes, self.displacement, self.train)

    @cached_property
    def clock(self) -> Clock:
        """How long the job takes from the first slurry mixed, against thickening times."""
        return clock(self.plan, self.cement, self.train)

    @cached_property
    def hook_loads(self) -> HookLoads:
        """What the weight indicator shows; raises MissingInput."""
        return hook_loads(self.plan)

    @cached_property
    def weights(self) -> Weights:
        """What liner and running string weigh on depth in mud; raises MissingInput."""
        return weights(self.plan)

    @cached_property
    def overpull(self) -> Overpull:
        """What each part that carries bears; raises MissingInput."""
        return overpull(self.plan)

    @cached_property
    def held_down(self) -> HeldDown:
        """What holds the liner down when the cement is in place; raises MissingInput."""
        return held_down(self.plan, self.volumes, self.cement)

    @cached_property
    def setting(self) -> Setting:
        """The bands of the setting pressures."""
        return setting(self.plan, self._train_or_none)

    @cached_property
    def proofs(self) -> Proofs:
        """The planned tests of lap and liner top."""
        return proofs(self.plan)

    @cached_property
    def hanger_loads(self) -> tuple[tuple[HangerLoad, ...], tuple[Uncomputed, ...]]:
        """What the hanger carries, and what is not computed of it; raises MissingInput."""
        return hanger_loads(self.plan, self.setting, lambda: self.train, self.proofs.positive)

    @cached_property
    def _train_or_none(self) -> Train | None:
        try:
            return self.train
        except MissingInput:
            return None

    def _needs(self, what: str) -> tuple[str, ...]:
        return next((one.needs for one in self.missing if one.what == what), (what,))
