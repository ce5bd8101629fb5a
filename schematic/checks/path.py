"""Rules about depths and the path of the well."""

from __future__ import annotations

import math

from schematic.catalogue.limits import PRACTICE
from schematic.checks.case import Case, Rule
from schematic.depth.plan import EnteredTvd
from schematic.outcome import (
    Answer,
    Figure,
    Found,
    MissingInput,
    Passed,
    Severity,
    Subject,
    meets,
)

_NO_TVD = "the file states no TVD beside a measured depth"


def _entered(case: Case) -> tuple[Subject, ...]:
    return tuple(Subject(entry.path, entry.name) for entry in case.plan.depth.entered_tvds)


def _entry(case: Case, subject: Subject) -> EnteredTvd:
    return next(entry for entry in case.plan.depth.entered_tvds if entry.path == subject.path)


def tvd_exceeds_md(case: Case, subject: Subject) -> Answer:
    """A stated true vertical depth is deeper than its measured depth, or shallower than one above it.

    What it checks
        Each TVD that the file states: it cannot exceed the measured depth, and it cannot be less than a
        stated TVD higher up the hole unless the hole between them goes past 90 degrees.
    Why it matters
        A measured depth typed into a TVD column moves every pressure of the plan.
    Limit
        None granted: geometry.
    Source
        Geometry of a path.
    Example
        wrong: strings.surface casing.shoe tvd = 4121 ft
        at the limit: strings.surface casing.shoe tvd = 4120 ft
        right: strings.surface casing.shoe tvd = 4119.8 ft
        does not apply: as it stands
    """
    entry = _entry(case, subject)
    figures: dict[str, Figure | str] = {
        "name": entry.name,
        "tvd": Figure(entry.entered_tvd_m, "tvd"),
        "md": Figure(entry.md_m, "depth"),
    }
    if not meets(entry.entered_tvd_m, entry.md_m, at_least=False):
        return Found(
            Severity.ERROR,
            "TVD {tvd} of {name} is over its MD {md}",
            "The TVD stated for the {name}, {tvd}, is more than its measured depth, {md}: no hole does that.",
            "Check whether a measured depth, or a depth from another datum, was typed as TVD.",
            figures,
            (entry.md_m,),
        )
    path = case.plan.depth.path
    for other in case.plan.depth.entered_tvds:
        falls = other.md_m < entry.md_m and not meets(entry.entered_tvd_m, other.entered_tvd_m, at_least=True)
        if not falls:
            continue
        edges = [row for row in path.stations if other.md_m <= row[0] <= entry.md_m]
        steep = [row[1] for row in edges] + [path.inclination_rad(d) for d in (other.md_m, entry.md_m)]
        if max(steep) <= math.radians(90.0) + 1e-9:
            return Found(
                Severity.ERROR,
                "TVD {tvd} of {name} is less than {above} higher up",
                "The TVD stated for the {name}, {tvd} at {md}, is less than {above} stated at {above_md}, "
                "and the hole between them never rises.",
                "Check both depths, their datum and their order.",
                {
                    **figures,
                    "above": Figure(other.entered_tvd_m, "tvd"),
                    "above_md": Figure(other.md_m, "depth"),
                },
                (entry.md_m, other.md_m),
            )
    return Passed(Figure(entry.entered_tvd_m, "tvd"))


def tvd_disagrees(case: Case, subject: Subject) -> Answer:
    """A stated true vertical depth differs from the one computed from the survey.

    What it checks
        Each TVD or depth below sea level that the file states, against minimum curvature and the datum.
    Why it matters
        Another method, another datum or another rig shifts every pressure and every formation top.
    Limit
        0.5 m or 0.1 % of the depth, whichever is more: common practice; changed by 'tvd agreement'.
    Source
        Minimum curvature: Taylor and Mason, SPE 3362 (1972).
    Example
        wrong: liner.top below sea level = 8265.6 ft
        right: liner.top below sea level = 8239.6 ft
        does not apply: as it stands
        not checked: liner.top tvd = 9479.6 ft; without survey
        at the limit, in sollivane-a7: strings.conductor.shoe tvd = 194.5 m
    """
    depth, entry = case.plan.depth, _entry(case, subject)
    if not depth.survey_given:
        raise MissingInput("survey")
    computed = depth.path.tvd_m(entry.md_m)
    difference = entry.entered_tvd_m - computed
    limit = case.plan.limits["tvd agreement"]
    allowed = limit.si  # who sets a limit of his own gets that limit
    if limit.owner == PRACTICE:
        allowed = max(limit.si, 0.001 * abs(computed))
    if meets(abs(difference), allowed, at_least=False):
        return Passed(Figure(abs(difference), "length"), limit)
    datum = case.plan.identity.datum
    mend = "Check the method (it must be minimum curvature), the datum and the survey."
    if datum.ground_md_m is not None and abs(abs(difference) - datum.ground_md_m) <= 0.5:
        mend = "The difference is the height of the {datum} above {ground}: was it counted from there?"
    elif datum.height_m is not None and abs(abs(difference) - datum.height_m) <= 0.5:
        mend = "The difference is the height of the {datum} above {above}: was it counted from there?"
    return Found(
        Severity.WARNING,
        "TVD of {name}: {entered} stated, {computed} computed",
        "The {name} at {md} is stated at {entered} TVD; the survey gives {computed}: {difference} apart, "
        "more than {allowed}.",
        mend,
        {
            "name": entry.name,
            "md": Figure(entry.md_m, "depth"),
            "entered": Figure(entry.entered_tvd_m, "tvd"),
            "computed": Figure(computed, "tvd"),
            "difference": Figure(abs(difference), "length"),
            "allowed": Figure(allowed, "length"),
            "datum": datum.name,
            "above": datum.above,
            "ground": "seabed" if datum.water_depth_m is not None else "ground",
        },
        (entry.md_m,),
        limit,
    )


def datum_below_ground(case: Case, subject: Subject) -> Answer:
    """Ground or seabed is not below the datum, or the water is deeper than the datum is above the seabed.

    What it checks
        Rotary above ground on land; rotary above sea level above seabed offshore.
    Why it matters
        A sign or a height typed wrongly shifts every depth below sea level and the top of the hole.
    Limit
        Order: 0.1 m for arithmetic.
    Source
        Geometry.
    Example
        wrong: well.datum.ground height = 1240.5 ft
        at the limit: well.datum.ground height = 1240 ft
        right: as it stands
        not checked: without well.datum.ground height
    """
    datum = case.plan.identity.datum
    if datum.height_m is None:
        raise MissingInput("well.datum.height")
    if datum.ground_md_m is None:
        raise MissingInput("well.datum.ground height or water depth")
    upside_down = not meets(datum.ground_md_m, 0.0, at_least=True)
    below_sea = datum.water_depth_m is not None and not meets(datum.height_m, 0.0, at_least=True)
    if not (upside_down or below_sea):
        return Passed(Figure(datum.ground_md_m, "length"))
    return Found(
        Severity.ERROR,
        "{ground} is above the {datum}",
        "The {datum} is {height} above {level}, which puts the {ground} {above} above it: depths would begin "
        "inside the ground."
        if upside_down
        else "The {datum} is {height} above {level}, that is below the sea.",
        "Check 'height', 'ground height' and 'water depth', and the level that they are counted from.",
        {
            "name": subject.name,
            "datum": datum.name,
            "level": datum.above,
            "height": Figure(datum.height_m, "length"),
            "ground": "seabed" if datum.water_depth_m is not None else "ground",
            "above": Figure(-datum.ground_md_m, "length"),
        },
        (0.0,),
    )


def _datum(_case: Case) -> tuple[Subject, ...]:
    return (Subject("well.datum", "datum"),)


RULES = (
    Rule("datum-below-ground", "datum against ground and seabed", _datum, datum_below_ground, "no datum"),
    Rule("tvd-exceeds-md", "true depths against measured depths", _entered, tvd_exceeds_md, _NO_TVD),
    Rule("tvd-disagrees", "true depths against the survey", _entered, tvd_disagrees, _NO_TVD),
)
