"""What a rule looks at: the plan and what the engineering made of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from schematic.depth.nest import Nest
from schematic.depth.plan import HoleSection, Plan
from schematic.engineering.cement import Cement, Displacement
from schematic.engineering.volumes import JobVolumes, Laps
from schematic.job.installation import Installation
from schematic.outcome import Answer, Fix, Subject, Uncomputed


@dataclass(frozen=True, slots=True)
class Case:
    """A plan with its quantities, before any judgement."""

    plan: Plan
    nest: Nest
    laps: Laps
    volumes: JobVolumes
    cement: Cement | None
    displacement: Displacement | None
    missing: tuple[Uncomputed, ...]
    job: Installation

    def needs(self, what: str) -> tuple[str, ...]:
        """The inputs for want of which a quantity is not computed."""
        return next((one.needs for one in self.missing if one.what == what), ())


class Rule(NamedTuple):
    """One rule: *code* of plain words that say what is wrong, its subjects in a case, its check.

    *topic* names what is looked at where nothing is found, or not known. The check's docstring is the rule's
    manual page. *nothing* says why there may be no subject at all.
    """

    code: str
    topic: str
    subjects: Callable[[Case], tuple[Subject, ...]]
    check: Callable[[Case, Subject], Answer]
    nothing: str


def whole_liner(case: Case) -> tuple[Subject, ...]:
    """The liner as the one subject of a rule."""
    return (Subject("liner", case.plan.depth.liner.name),)


def each_fluid(case: Case) -> tuple[Subject, ...]:
    """Every fluid of the file as a subject."""
    return tuple(Subject(f"fluids.{fluid.name}", fluid.name) for fluid in case.plan.fluids)


def each_section(case: Case) -> tuple[Subject, ...]:
    """Every hole section as a subject."""
    return tuple(Subject(section.path, "hole section") for section in case.plan.depth.hole.sections)


def section_of(case: Case, subject: Subject) -> HoleSection:
    """The hole section that a subject names."""
    return next(section for section in case.plan.depth.hole.sections if section.path == subject.path)


def compression_needs(case: Case) -> tuple[str, ...]:
    """What is missing to know by how much the fluid behind the dart is compressed."""
    if case.plan.job.final_pressure_pa is None:
        return ("installation.final pressure",)
    if case.displacement is not None and not case.displacement.compressed:
        return ("base or compressibility of the fluid behind the dart",)
    return ()


def top_moved(case: Case, down_m: float, way: int | None = None) -> tuple[Fix, ...]:
    """The liner top at least that much deeper or, below nought, shallower, as the file may write it.

    With a *way* of 0 just that much.
    """
    if way is None:
        way = 1 if down_m > 0.0 else -1
    return (
        Fix("liner.lap", case.laps.liner_top_m - down_m, -way),
        Fix("liner.top", case.plan.depth.liner.top_md_m + down_m, way),
    )


def shoe_off_bottom(case: Case, off_m: float, way: int) -> tuple[Fix, ...]:
    """The liner shoe that much off bottom, as the file may write it."""
    return Fix("liner.off bottom", off_m, way), Fix("liner.shoe", case.plan.depth.td_md_m - off_m, -way)
