"""Rules about depths and the path of the well."""

from __future__ import annotations

import math

from schematic.checks.case import Case, Rule
from schematic.depth.plan import EnteredTvd
from schematic.outcome import Answer, Figure, Found, MissingInput, Passed, Severity, Subject, meets

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
        Shoe at 9850 ft MD with 'shoe tvd: 9950 ft' is wrong; 'shoe tvd: 9849 ft' is right.
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
        Liner top at 9480 ft, rotary 1240 ft above sea level: 'top below sea level: 8266 ft' is 26 ft off,
        the height of rotary above ground; '8239 ft' is right.
    """
    depth, entry = case.plan.depth, _entry(case, subject)
    if not depth.survey_given:
        raise MissingInput("survey")
    computed = depth.path.tvd_m(entry.md_m)
    difference = entry.entered_tvd_m - computed
    limit = case.plan.limits["tvd agreement"]
    allowed = max(limit.si, 0.001 * abs(computed))
    if meets(abs(difference), allowed, at_least=False):
        return Passed(Figure(abs(difference), "length"), limit)
    datum = case.plan.identity.datum
    mend = "Check the method (it must be minimum curvature), the datum and the survey."
    if datum.ground_md_m is not None and abs(abs(difference) - datum.ground_md_m) <= 0.5:
        mend = "The difference is the height of the {datum} above {ground}: was it counted from there?"
    elif abs(abs(difference) - datum.height_m) <= 0.5:
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


RULES = (
    Rule("tvd-exceeds-md", _entered, tvd_exceeds_md, _NO_TVD),
    Rule("tvd-disagrees", _entered, tvd_disagrees, _NO_TVD),
)
