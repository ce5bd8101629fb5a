"""Rules about the liner's parts and the two ways of measuring its top."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, shoe_off_bottom, top_moved, whole_liner
from schematic.outcome import (
    Answer,
    DoesNotApply,
    Figure,
    Fix,
    Found,
    MissingInput,
    Passed,
    Severity,
    Subject,
    meets,
)


def stated_depths_disagree(case: Case, subject: Subject) -> Answer:
    """The file fixes a depth of the liner twice, with different results.

    What it checks
        Liner top and shoe from every way the file gives: as written, lap, off bottom, length.
    Why it matters
        One of the figures is stale; which one, only its writer knows.
    Limit
        0.1 ft: common practice for tallies.
    Source
        top = host shoe - lap; shoe = hole depth - off bottom; shoe - top = length.
    Example
        wrong: liner.top = 9481 ft
        at the limit: liner.top = 9480.1 ft
        right: as it stands
    """
    misfit = next((m for m in case.plan.misfits if m.path == subject.path), None)
    if misfit is None:
        return Passed()
    return Found(
        Severity.ERROR,
        "{name}: {first} against {second}",
        "The {name} is at {first} ({first_how}) and at {second} ({second_how}): {difference} apart.",
        "Take one of the two out, or correct it.",
        {
            "name": misfit.name,
            "first": Figure(misfit.first_md_m, "tally"),
            "first_how": misfit.first_how,
            "second": Figure(misfit.second_md_m, "tally"),
            "second_how": misfit.second_how,
            "difference": Figure(abs(misfit.first_md_m - misfit.second_md_m), "length"),
        },
        (misfit.first_md_m,),
        fix=tuple(
            fix
            for md_m in (misfit.first_md_m, misfit.second_md_m)
            for fix in (
                top_moved(case, md_m - case.plan.depth.liner.top_md_m, 0)
                if subject.path == "liner.top"
                else shoe_off_bottom(case, case.plan.depth.td_md_m - md_m, 0)
            )
        ),
    )


def _ends(_case: Case) -> tuple[Subject, ...]:
    return Subject("liner.top", "liner top"), Subject("liner.shoe", "liner shoe")


def tally_does_not_close(case: Case, subject: Subject) -> Answer:
    """The sum of the liner's parts is not shoe less liner top.

    What it checks
        Lengths of all parts, added up from the shoe, against the length that the depths ask for.
    Why it matters
        A joint too many or too few is about 12 m: slips on a coupling, shoe on bottom, volumes wrong.
    Limit
        0.1 ft: common practice ('tally closure').
    Source
        Arithmetic: the closure from the bottom.
    Example
        wrong: without liner.assembly.5; liner.assembly +
            {part: joint, count: 74, length: 2984.734 ft} before pup joint
        at the limit: without liner.assembly.5; liner.assembly +
            {part: joint, count: 73, length: 2944.5 ft} before pup joint
        does not apply: as it stands
        not checked: without liner.assembly.5; liner.assembly + {part: joint, count: 73} before pup joint
    """
    liner = case.plan.depth.liner
    if liner.closes_by.startswith("the line"):
        return DoesNotApply(f"{liner.closes_by} takes up whatever length is left")
    if liner.closes_by:
        return DoesNotApply(f"{liner.closes_by} was derived from the sum of the parts")
    if any(part.length_assumed for part in liner.parts):
        raise MissingInput("length of joints")
    total = sum(part.length_m for part in liner.parts)
    wanted = liner.shoe_md_m - liner.top_md_m
    limit = case.plan.limits["tally closure"]
    difference = total - wanted
    if meets(abs(difference), limit.si, at_least=False):
        return Passed(Figure(abs(difference), "length"), limit)
    word = "too long" if difference > 0 else "too short"
    return Found(
        Severity.ERROR,
        f"tally {{total}}, depths ask for {{wanted}}: {{difference}} {word}",
        f"The parts add up to {{total}}; shoe less top is {{wanted}}: the tally is {{difference}} {word}.",
        "Recount the joints and pups; check lap and off bottom.",
        {
            "total": Figure(total, "tally"),
            "wanted": Figure(wanted, "tally"),
            "difference": Figure(abs(difference), "length"),
            "name": subject.name,
        },
        (liner.top_md_m,),
        limit,
        _other_counts(case, difference, limit.si),
    )


def _other_counts(case: Case, long_m: float, agree_m: float) -> tuple[Fix, ...]:
    """Lines of joints with another count, where whole joints are what the tally is too long by."""
    fixes = []
    for part in case.plan.depth.liner.parts:
        if part.kind == "joint" and part.joints:
            more = round(-long_m * part.joints / part.length_m)
            if part.joints + more > 0 and abs(long_m + more * part.length_m / part.joints) <= agree_m:
                fixes.append(Fix(f"{part.path}.count", str(part.joints + more)))
    return tuple(fixes)


def running_string_misses_liner_top(case: Case, subject: Subject) -> Answer:
    """The running string, measured from the rotary down, does not end at the liner top.

    What it checks
        Parts above the liner top less the stick-up, against the liner top from the liner's own depths.
    Why it matters
        The liner is measured twice, in opposite directions; where the two do not meet, one tally is wrong.
        It proves arithmetic, not position: stretch, temperature and reference are not in it.
    Limit
        1 ft: common practice ('running string closure').
    Source
        Arithmetic: the closure from the top.
    Example
        wrong: running string.assembly.drill pipe.length = 9077.1 ft
        at the limit: running string.assembly.drill pipe.length = 9077 ft
        right: as it stands
        does not apply: without running string.stick up
        not checked, in fallow-6: as it stands
    """
    running, liner = case.plan.depth.running, case.plan.depth.liner
    if running is None:
        raise MissingInput("running string")
    if running.closes_by:
        return DoesNotApply(f"{running.closes_by} was derived from the liner top")
    ends = running.above_liner_top_m - running.stick_up_m
    limit = case.plan.limits["running string closure"]
    difference = ends - liner.top_md_m
    longest = max(running.parts, key=lambda part: part.bottom_md_m - part.top_md_m)
    if meets(abs(difference), limit.si, at_least=False):
        return Passed(Figure(abs(difference), "length"), limit)
    word = "too long" if difference > 0 else "too short"
    return Found(
        Severity.ERROR,
        f"running string ends at {{ends}}, liner top {{top}}: {{difference}} {word}",
        "The running string less its stick-up ends at {ends}, the {name} top is at {top}: the string is "
        f"{{difference}} {word}.",
        "Correct the running string by that length, or the stick-up.",
        {
            "ends": Figure(ends, "tally"),
            "top": Figure(liner.top_md_m, "tally"),
            "difference": Figure(abs(difference), "length"),
            "name": subject.name,
        },
        (liner.top_md_m,),
        limit,
        (Fix(f"{longest.path}.length", longest.bottom_md_m - longest.top_md_m - difference),),
    )


# Rank from the bottom up; parts that are not here may stand anywhere.
_RANK = {
    "float shoe": 0,
    "reamer shoe": 0,
    "guide shoe": 0,
    "float collar": 1,
    "landing collar": 2,
    "liner hanger": 3,
    "liner top packer": 4,
    "setting sleeve": 5,
    "tie-back receptacle": 6,
    "debris barrier": 7,
}


def parts_out_of_order(case: Case, subject: Subject) -> Answer:
    """The liner's parts are not in the order in which they must stand.

    What it checks
        From the bottom: shoe, float collar, landing collar, hanger, packer, setting sleeve, receptacle.
    Why it matters
        A landing collar below the float collar stops the plug in the wrong place; a hanger above the packer
        is unusual and wants a word.
    Limit
        The order; a packer below the hanger is a warning, since some designs are built so.
    Source
        Common practice.
    Example
        wrong: liner.assembly + {part: landing collar, length: 1.5 ft} before float collar
        right: as it stands
        does not apply: without liner.assembly.float shoe; without liner.assembly.float collar;
            without liner.assembly.landing collar; without liner.assembly.liner hanger;
            without liner.assembly.liner top packer
        not checked, in sketch: as it stands
    """
    liner = case.plan.depth.liner
    if liner.assembly_assumed:
        raise MissingInput("liner.assembly")
    ranked = [part for part in reversed(liner.parts) if part.kind in _RANK]
    if len(ranked) < 2:
        return DoesNotApply("fewer than two parts have a fixed order")
    swaps = [
        (lower, upper, {lower.kind, upper.kind} == {"liner top packer", "liner hanger"})
        for lower, upper in zip(ranked, ranked[1:], strict=False)
        if _RANK[upper.kind] < _RANK[lower.kind]
    ]
    for lower, upper, swapped in sorted(swaps, key=lambda swap: swap[2])[:1]:  # an error before a warning
        return Found(
            Severity.WARNING if swapped else Severity.ERROR,
            "{upper} above {lower}, at {depth}",
            "In the {name} the {upper} stands above the {lower}, which is at {depth}; it belongs below it.",
            "Exchange the lines of the {upper} and the {lower}; the assembly is listed from the bottom up.",
            {
                "upper": upper.name,
                "lower": lower.name,
                "depth": Figure(upper.bottom_md_m, "tally"),
                "name": subject.name,
            },
            (upper.bottom_md_m,),
        )
    return Passed()


RULES = (
    Rule(
        "stated-depths-disagree",
        "depths that are given twice",
        _ends,
        stated_depths_disagree,
        "the file has no liner",
    ),
    Rule(
        "tally-does-not-close", "sum of the tally", whole_liner, tally_does_not_close, "the file has no liner"
    ),
    Rule(
        "running-string-misses-liner-top",
        "length of the running string",
        whole_liner,
        running_string_misses_liner_top,
        "no liner",
    ),
    Rule(
        "parts-out-of-order",
        "order of the liner's parts",
        whole_liner,
        parts_out_of_order,
        "the file has no liner",
    ),
)
