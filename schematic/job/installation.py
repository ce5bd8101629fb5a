"""All that is worked out about an installation, each quantity when it is first asked for.

A quantity that lacks an input raises MissingInput, every time it is asked for. Pure but for that memory: the
same plan gives the same figures.
"""

from __future__ import annotations

from dataclasses import dataclass

from schematic.depth.nest import Nest
from schematic.depth.plan import Plan
from schematic.engineering.cement import Cement, Displacement
from schematic.engineering.volumes import JobVolumes
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

    def _needs(self, what: str) -> tuple[str, ...]:
        return next((one.needs for one in self.missing if one.what == what), (what,))
