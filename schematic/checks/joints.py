"""Rules about counting and choosing joints: rack, lengths, pups, shoe track."""

from __future__ import annotations

from itertools import combinations

from schematic.checks.case import Case, Rule, whole_liner
from schematic.depth.plan import LinerPart
from schematic.job.passage import DRILLED_OUT
from schematic.outcome import (
    Answer,
    DoesNotApply,
    Figure,
    Found,
    MissingInput,
    Passed,
    Severity,
    Subject,
    meets,
)


def _joints(case: Case) -> tuple[LinerPart, ...]:
    return tuple(part for part in case.plan.depth.liner.parts if part.kind == "joint")


def joints_do_not_count(case: Case, subject: Subject) -> Answer:
    """Joints run, left and rejected do not add up to those that were on the rack.

    What it checks
        The joints of the assembly plus 'left' and 'rejected' of 'rack', against 'joints' on it.
    Why it matters
        The classic lost joint: about 12 m of liner that is not there, or too much of it.
    Limit
        Exact.
    Source
        Arithmetic; counting before and after the job is common practice (API RP 5C1, from memory).
    Example
        wrong: liner.rack = {joints: 80, left: 3}
        right: liner.rack = {joints: 80, left: 4}
        not checked: as it stands
    """
    rack = case.plan.depth.liner.rack
    if rack is None:
        raise MissingInput("liner.rack")
    run = sum(part.joints for part in _joints(case))
    total = run + rack.left + rack.rejected
    if total == rack.joints:
        return Passed(Figure(float(run), "count"))
    return Found(
        Severity.ERROR,
        "{total} joints counted, {racked} were on the rack",
        "{run} joints of the {name} are in the assembly, {left} left and {rejected} rejected: {total}, but "
        "{racked} were on the rack.",
        "Count again, by number; look for a joint entered twice or left out.",
        {
            "name": subject.name,
            "run": Figure(float(run), "count"),
            "left": Figure(float(rack.left), "count"),
            "rejected": Figure(float(rack.rejected), "count"),
            "total": Figure(float(total), "count"),
            "racked": Figure(float(rack.joints), "count"),
        },
    )


def _lines(case: Case) -> tuple[Subject, ...]:
    return tuple(Subject(part.path, "joints") for part in _joints(case))


def joint_length_unusual(case: Case, subject: Subject) -> Answer:
    """The average joint of a line of the tally is outside range 3.

    What it checks
        Length of each line of joints, less pups in a filled line, over its count.
    Why it matters
        14.02 typed for 12.04, or 41.02 for 40.12: the tally closes on paper and the liner lands elsewhere.
    Limit
        36 to 48 ft, in metric wells 11 to 14.6 m ('shortest average joint', 'longest average joint').
    Source
        API Spec 5CT range 3, from memory.
    Example
        wrong: liner.assembly.1.length = 96.2 ft
        at the limit: liner.assembly.1.length = 96 ft
        right: as it stands
        not checked: without liner.assembly.1.length
        does not apply: liner.assembly.5.each = 3000 ft
    """
    part = next(part for part in _joints(case) if part.path == subject.path)
    if part.length_assumed:
        raise MissingInput(f"{part.path}.length")
    if part.joints == 0:
        return DoesNotApply("the line is too short for a joint")
    average = (part.length_m - part.rest_m) / part.joints
    least, most = case.plan.limits["shortest average joint"], case.plan.limits["longest average joint"]
    low, high = meets(average, least.si, at_least=True), meets(average, most.si, at_least=False)
    if low and high:
        return Passed(Figure(average, "tally"), most)
    limit = most if low else least
    return Found(
        Severity.WARNING,
        "{count} joints of {average} each",
        "The line of {count} joints at {top} gives {average} for each; range 3 is {least} to {most} "
        "({owner}).",
        "Check the length and the count of that line; short joints are pups.",
        {
            "name": subject.name,
            "count": Figure(float(part.joints), "count"),
            "average": Figure(average, "tally"),
            "top": Figure(part.top_md_m, "depth"),
            "least": least.text,
            "most": most.text,
            "owner": limit.owner,
        },
        (part.top_md_m,),
        limit,
    )


_MAKE_UP_LOSS_M = (3 * 0.0254, 5 * 0.0254)  # per connection; common practice


def lengths_are_overall(case: Case, subject: Subject) -> Answer:
    """The tally adds up overall lengths: what the threads swallow is still in it.

    What it checks
        'lengths' of the liner: 'made up', or 'overall'.
    Why it matters
        75 joints times 4 in are 25 ft of liner that is not there.
    Limit
        None granted; a connection swallows 3 to 5 in: common practice.
    Source
        Common practice.
    Example
        wrong: liner.lengths = overall
        right: liner.lengths = made up
        not checked: as it stands
    """
    liner = case.plan.depth.liner
    if not liner.lengths:
        raise MissingInput("liner.lengths")
    if liner.lengths == "made up":
        return Passed()
    count = sum(part.joints for part in _joints(case))
    return Found(
        Severity.WARNING,
        "lengths are overall: {least} to {most} too long",
        "The lengths of the {name} are overall lengths; made up, its {count} joints are {least} to {most} "
        "shorter.",
        "Take the make-up loss of each connection off, and write 'lengths: made up'.",
        {
            "name": subject.name,
            "count": Figure(float(count), "count"),
            "least": Figure(count * _MAKE_UP_LOSS_M[0], "length"),
            "most": Figure(count * _MAKE_UP_LOSS_M[1], "length"),
        },
        (liner.top_md_m,),
    )


def pups_do_not_fit(case: Case, subject: Subject) -> Answer:
    """The pups on location do not make up what the filled line needs beside whole joints.

    What it checks
        Every sum of the 'pups' listed, against the rest of the line with 'fill'.
    Why it matters
        Without them the liner cannot land where it is planned.
    Limit
        1 ft, in metric wells 0.3 m ('depth agreement'): common practice.
    Source
        Common practice.
    Example
        wrong: liner.lap = 375 ft; liner.pups + 2 ft
        at the limit: liner.lap = 375 ft; liner.pups + 4.1 ft
        right: liner.lap = 375 ft; liner.pups + 5 ft
        does not apply: as it stands
        not checked: liner.lap = 375 ft
    """
    liner = case.plan.depth.liner
    rest = next((part.rest_m for part in _joints(case) if part.rest_m > 0.0), 0.0)
    if rest == 0.0:
        return DoesNotApply("whole joints make up the length")
    if liner.pups_m is None:
        raise MissingInput("liner.pups")
    limit = case.plan.limits["depth agreement"]
    pups = liner.pups_m[:16]  # more of them than anybody has
    sums = [sum(chosen) for count in range(len(pups) + 1) for chosen in combinations(pups, count)]
    nearest = min(sums, key=lambda total: abs(total - rest))
    if meets(abs(nearest - rest), limit.si, at_least=False):
        return Passed(Figure(abs(nearest - rest), "length"), limit)
    return Found(
        Severity.WARNING,
        "space-out needs {rest} of pups; nearest {nearest}",
        "The {name} needs {rest} of pups beside whole joints; the pups on location come to {nearest} at the "
        "nearest, {off} off.",
        "Order the pup, or move the liner top within its limits.",
        {
            "name": subject.name,
            "rest": Figure(rest, "length"),
            "nearest": Figure(nearest, "length"),
            "off": Figure(abs(nearest - rest), "length"),
        },
        (liner.top_md_m,),
        limit,
    )


def shoe_track_unusual(case: Case, subject: Subject) -> Answer:
    """The shoe track is shorter or longer than usual, or float collar and shoe have no joint between them.

    What it checks
        From the top of the landing collar (else of the float collar) to the shoe; the joints below the float
        collar.
    Why it matters
        The track keeps the film that the plug wipes off, and contaminated cement, away from the shoe; what is
        too much has to be drilled.
    Limit
        60 to 200 ft, in metric wells 18 to 60 m ('least shoe track', 'greatest shoe track'), and one joint:
        common practice.
    Source
        Common practice.
    Example
        wrong: liner.assembly.1.length = 14.4 ft; without liner.assembly.3
        at the limit: liner.assembly.1.length = 55.1 ft; without liner.assembly.3
        right: as it stands
        not checked: without liner.assembly.float collar; without liner.assembly.landing collar
    """
    liner = case.plan.depth.liner
    top = liner.shoe_track_top_md_m
    if liner.assembly_assumed or top is None:
        raise MissingInput("liner.assembly" if liner.assembly_assumed else "landing collar or float collar")
    track = liner.shoe_md_m - top
    least, most = case.plan.limits["least shoe track"], case.plan.limits["greatest shoe track"]
    collar = liner.find("float collar")
    below = sum(p.joints for p in _joints(case) if collar is None or p.top_md_m >= collar.bottom_md_m - 1e-6)
    long_enough, short_enough = (
        meets(track, least.si, at_least=True),
        meets(track, most.si, at_least=False),
    )
    if long_enough and short_enough and below >= 1:
        return Passed(Figure(track, "length"), least)
    limit = most if long_enough and not short_enough else least
    reason = "no joint between float collar and shoe" if below < 1 else "usual {least} to {most}"
    return Found(
        Severity.WARNING,
        f"shoe track {{track}}; {reason}",
        f"The shoe track of the {{name}} is {{track}}; {reason} ({{owner}}).",
        "Change the joints between shoe and collars, or say why.",
        {
            "name": subject.name,
            "track": Figure(track, "length"),
            "least": least.text,
            "most": most.text,
            "owner": limit.owner,
        },
        (top, liner.shoe_md_m),
        limit,
    )


def track_not_drillable(case: Case, subject: Subject) -> Answer:
    """A part of the shoe track cannot be drilled out, though a bit is to go through it.

    What it checks
        'drillable' of shoe and collars, where the file names the next bit.
    Why it matters
        The next hole begins with milling.
    Limit
        None granted.
    Source
        Common practice; the maker's sheet says it.
    Example
        wrong: liner.next bit = 6 in; liner.assembly.float shoe.drillable = no
        right: liner.next bit = 6 in; liner.assembly.float shoe.drillable = yes;
            liner.assembly.float collar.drillable = yes; liner.assembly.landing collar.drillable = yes
        does not apply: as it stands
        not checked: liner.next bit = 6 in
    """
    liner = case.plan.depth.liner
    if liner.later.next_bit_m is None:
        return DoesNotApply("the file names no bit that goes through later")
    track = [part for part in liner.parts if part.kind in DRILLED_OUT]
    hard = next((part for part in track if part.drillable is False), None)
    if hard is not None:
        return Found(
            Severity.WARNING,
            "{part} cannot be drilled out",
            "The {part} of the {name} cannot be drilled out, and a {bit} bit is to go through.",
            "Choose a drillable one.",
            {"name": subject.name, "part": hard.name, "bit": Figure(liner.later.next_bit_m, "size")},
            (hard.top_md_m,),
        )
    unknown = [f"{part.path}.drillable" for part in track if part.drillable is None]
    if unknown:
        raise MissingInput(*unknown)
    return Passed()


RULES = (
    Rule("joints-do-not-count", "count of joints", whole_liner, joints_do_not_count, "no liner"),
    Rule("joint-length-unusual", "length of joints", _lines, joint_length_unusual, "the liner has no joints"),
    Rule("lengths-are-overall", "make-up loss in the lengths", whole_liner, lengths_are_overall, "no liner"),
    Rule("pups-do-not-fit", "pups for the space-out", whole_liner, pups_do_not_fit, "no liner"),
    Rule("shoe-track-unusual", "length of the shoe track", whole_liner, shoe_track_unusual, "no liner"),
    Rule(
        "track-not-drillable", "drilling out of the shoe track", whole_liner, track_not_drillable, "no liner"
    ),
)
