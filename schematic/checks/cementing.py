"""Rules about cement and the hole it fills."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, whole_liner
from schematic.engineering.volumes import LAP, OPEN_HOLE
from schematic.outcome import Answer, Figure, Fix, Found, MissingInput, Passed, Severity, Subject, meets


def cement_sections_do_not_close(case: Case, subject: Subject) -> Answer:
    """The sections that cement fills outside the liner do not add up to the liner, or a caliper has a gap.

    What it checks
        Lap and open hole sections, end to end, against shoe less liner top; and that a caliper covers the
        hole it is given for.
    Why it matters
        Volumes taken over a stale or broken geometry are wrong without looking wrong.
    Limit
        0.01 m, and no gap.
    Source
        Arithmetic.
    Example
        wrong: hole.2.caliper.1.to = 12500 ft
        right: as it stands
        not checked: liner.od = 9.8 in; liner.id = 6.184 in
        at the limit: without liner.assembly.5; liner.assembly +
            {part: joint, count: 73, length: 897.44312 m} before pup joint
    """
    depth = case.plan.depth
    liner = depth.liner
    for top, bottom in depth.hole.gaps_md_m:
        if bottom > depth.host.shoe_md_m:
            return Found(
                Severity.WARNING,
                "caliper says nothing from {top} to {bottom}",
                "The caliper ends at {top}, the hole at {bottom}: between them the bit size was taken.",
                "Add caliper steps down to the bottom of the section, or state a washout instead.",
                {"top": Figure(top, "depth"), "bottom": Figure(bottom, "depth")},
                (top, bottom),
            )
    if not case.volumes.beside_m2.depths_m:
        raise MissingInput(*case.volumes.needs)
    sections = [s for s in case.volumes.spaces if s.name in (LAP, OPEN_HOLE)]
    covered = sum(s.bottom_md_m - s.top_md_m for s in sections)
    hole_end = min(liner.shoe_md_m, depth.hole.diameter_m.bottom_m)
    covered -= max(0.0, liner.shoe_md_m - hole_end)
    wanted = liner.shoe_md_m - liner.top_md_m
    if meets(abs(covered - wanted), 0.01, at_least=False):
        return Passed(Figure(abs(covered - wanted), "length"))
    return Found(
        Severity.ERROR,
        "cement sections cover {covered} of {wanted}",
        "Lap and open hole cover {covered} of the {name}'s {wanted}: {difference} of it has no geometry.",
        "Mend the tally, the liner depths or the hole first.",
        {
            "covered": Figure(covered, "tally"),
            "wanted": Figure(wanted, "tally"),
            "name": subject.name,
            "difference": Figure(abs(covered - wanted), "length"),
        },
        (liner.top_md_m,),
    )


def cement_below_liner_top(case: Case, subject: Subject) -> Answer:
    """The planned top of cement leaves part of the lap, or all of it, without cement.

    What it checks
        The planned top of cement against the liner top and the host shoe.
    Why it matters
        The lap then seals by the packer alone; a top below the host shoe leaves bare hole behind the liner.
    Limit
        At the liner top or above it: common practice. A lower top is to be declared and accepted by name.
    Source
        Common practice.
    Example
        wrong: cement.planned top = 9480.1 ft
        at the limit: cement.planned top = 9480 ft
        right: as it stands
        not checked: without cement.planned top
    """
    depth, planned = case.plan.depth, case.plan.cement.planned_top_md_m
    if planned is None:
        raise MissingInput("cement.planned top")
    if meets(planned, depth.liner.top_md_m, at_least=False):
        return Passed(Figure(depth.liner.top_md_m - planned, "length"))
    bare = planned - max(depth.liner.top_md_m, depth.host.shoe_md_m)
    what = (
        "The planned top of cement, {planned}, is {below} below the liner top, {top}: that much of the lap "
        "has no cement."
    )
    if bare > 0.0:
        what = (
            "The planned top of cement, {planned}, is below the shoe of the {host}, {shoe}: the lap has no "
            "cement, and {bare} of open hole is bare behind the {name}."
        )
    return Found(
        Severity.WARNING,
        "planned top of cement {planned} is below liner top {top}",
        what,
        "Plan cement to the liner top, or waive this by name with the reason.",
        {
            "planned": Figure(planned, "depth"),
            "top": Figure(depth.liner.top_md_m, "depth"),
            "below": Figure(planned - depth.liner.top_md_m, "length"),
            "bare": Figure(max(bare, 0.0), "length"),
            "host": depth.host.name,
            "shoe": Figure(depth.host.shoe_md_m, "depth"),
            "name": subject.name,
        },
        (planned,),
        fix=(Fix("cement.planned top", depth.liner.top_md_m, -1),),
    )


def _on_gauge_beside_caliper(case: Case) -> bool:
    """Whether the excess is counted on gauge hole though all that is open below the host has a caliper."""
    depth = case.plan.depth
    below = [s for s in depth.hole.sections if s.bottom_md_m > depth.host.shoe_md_m]
    return case.plan.cement.excess_basis == "gauge" and all(s.basis == "caliper" for s in below)


def cement_falls_short(case: Case, subject: Subject) -> Answer:
    """The cement that is pumped does not reach the planned top, in the hole as the file gives it.

    What it checks
        Where the computed slurry stands when nothing is lost, running string in, against the planned top.
    Why it matters
        The plan then says two things: a top and a volume that does not get there. It happens where excess on
        gauge hole is less than the washout that a caliper found.
    Limit
        The planned top; 0.01 m for arithmetic.
    Source
        Mass balance.
    Example
        wrong: cement.excess.basis = gauge
        at the limit: cement.excess.open hole = 0 %
        right: as it stands
        not checked: without cement.excess
    """
    quantities, planned = case.cement, case.plan.cement.planned_top_md_m
    if quantities is None or planned is None:
        raise MissingInput(*(case.needs("cement") or ("cement.planned top",)))
    top = quantities.top_string_in_md_m
    if top is None:
        raise MissingInput("running string")
    if meets(top, planned + 0.01, at_least=False):
        return Passed(Figure(planned - top, "length"))
    return Found(
        Severity.ERROR,
        "cement reaches {top}, planned {planned}",
        "{volume} of cement reaches {top} when nothing is lost, {short} below the planned top, {planned}.",
        "Take the excess on the caliper, or more of it; or plan a deeper top.",
        {
            "volume": Figure(quantities.total_m3, "volume"),
            "top": Figure(top, "depth"),
            "planned": Figure(planned, "depth"),
            "short": Figure(top - planned, "length"),
            "name": subject.name,
        },
        (top, planned),
        fix=(Fix("cement.excess.basis", "caliper"),) if _on_gauge_beside_caliper(case) else (),
    )


RULES = (
    Rule("cement-falls-short", "reach of the cement", whole_liner, cement_falls_short, "no liner"),
    Rule(
        "cement-sections-do-not-close",
        "sum of the cement's sections",
        whole_liner,
        cement_sections_do_not_close,
        "no liner",
    ),
    Rule(
        "cement-below-liner-top",
        "planned top of cement against the liner top",
        whole_liner,
        cement_below_liner_top,
        "no liner",
    ),
)
