"""Rules about cement and the hole it fills."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, whole_liner
from schematic.engineering.volumes import LAP, OPEN_HOLE
from schematic.outcome import Answer, Figure, Found, MissingInput, Passed, Severity, Subject, meets


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
        Caliper steps that end at 11300 ft in a hole to 12600 ft are wrong; to 12600 ft they are right.
    """
    depth = case.plan.depth
    liner = depth.liner
    for top, bottom in depth.hole.gaps_md_m:
        if bottom > depth.host.shoe_md_m:
            return Found(
                Severity.ERROR,
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


RULES = (Rule("cement-sections-do-not-close", whole_liner, cement_sections_do_not_close, "no liner"),)
