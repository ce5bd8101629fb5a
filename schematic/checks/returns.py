"""Rules about the room that is left for returns past the liner top."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, each_fluid, whole_liner
from schematic.depth.nest import circle_m2
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


def bypass_small(case: Case, subject: Subject) -> Answer:
    """Little room is left for returns past the hanger, compared with the room beside the liner.

    What it checks
        Area between the host and the largest part of the liner top, over the area beside the pipe body.
    Why it matters
        Cuttings bridge there; flow past it costs pressure while running and cementing.
    Limit
        20 % ('least bypass'): common practice. Advice; the maker's set and unset bypass rule.
    Source
        Areas of circles.
    Example
        wrong: liner.assembly.liner hanger.od = 8.40 in
        right: as it stands
        does not apply: without liner.assembly.liner hanger; without liner.assembly.liner top packer
        not checked: without liner.assembly.liner hanger.od
        at the limit: liner.assembly.liner hanger.od = 8.3718462002118 in
    """
    depth = case.plan.depth
    kinds = ("liner hanger", "liner top packer", "tie-back receptacle")
    parts = [part for part in depth.liner.parts if part.kind in kinds]
    if not any(part.kind != "tie-back receptacle" for part in parts):
        return DoesNotApply("the liner has neither hanger nor packer")
    unknown = [f"{part.path}.od" for part in parts if part.od_m is None]
    if unknown:
        raise MissingInput(*(["liner.assembly"] if depth.liner.assembly_assumed else unknown))
    largest = max((part for part in parts if part.od_m is not None), key=lambda part: part.od_m or 0.0)
    assert largest.od_m is not None
    bore = circle_m2(depth.host.id_m)
    beside = bore - circle_m2(depth.liner.od_m)
    if beside <= 0.0:
        return DoesNotApply("the liner does not fit in its host")
    share = (bore - circle_m2(largest.od_m)) / beside
    limit = case.plan.limits["least bypass"]
    if meets(share, limit.si, at_least=True):
        return Passed(Figure(share, "share"), limit)
    return Found(
        Severity.ADVICE,
        "bypass past {part}: {share} of that beside the pipe",
        "Past the {part} of the {name} {area} is open, {share} of the {beside} beside the pipe; {limit} or "
        "more is wanted ({owner}).",
        "Choose a slimmer hanger or packer, or run and pump slowly.",
        {
            "name": subject.name,
            "part": largest.name,
            "area": Figure(bore - circle_m2(largest.od_m), "area"),
            "beside": Figure(beside, "area"),
            "share": Figure(share, "share"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (largest.top_md_m,),
        limit,
    )


def solids_bridge(case: Case, subject: Subject) -> Answer:
    """Solids in a fluid are large for the narrowest gap that they are pumped through.

    What it checks
        'largest solids' of each fluid against a third of the narrowest radial gap, in the host and in the
        hole.
    Why it matters
        Three grains abreast bridge a gap.
    Limit
        A third of the gap: common practice.
    Source
        Common practice.
    Example
        wrong: fluids.mud.largest solids = 0.07 in
        right: fluids.mud.largest solids = 0.05 in
        does not apply: as it stands
        at the limit: fluids.mud.largest solids = 0.0615 in
        not checked: fluids.mud.largest solids = 0.05 in; without liner.assembly.liner hanger.od
    """
    depth = case.plan.depth
    fluid = next(fluid for fluid in case.plan.fluids if fluid.name == subject.name)
    if fluid.largest_solids_m is None:
        return DoesNotApply("the file states no solids of this fluid")
    unknown = [
        "liner.assembly" if depth.liner.assembly_assumed else f"{part.path}.od"
        for part in depth.liner.parts
        if part.od_m is None and part.length_m > 0.0
    ]
    gaps = [
        0.5 * (around - part.od_m)
        for part in depth.liner.parts
        if part.od_m is not None
        and (
            around := depth.host.id_m
            if part.bottom_md_m <= depth.host.shoe_md_m
            else depth.hole.passes_m(depth.host.shoe_md_m, part.bottom_md_m)
        )
    ]
    gap = min(gaps, default=0.5 * (depth.host.id_m - depth.liner.od_m))
    if meets(fluid.largest_solids_m, gap / 3.0, at_least=False):
        if unknown:
            raise MissingInput(*dict.fromkeys(unknown))
        return Passed(Figure(gap, "gap"))
    return Found(
        Severity.WARNING,
        "{name}: solids {solids}, gap {gap}",
        "The solids of {name} are up to {solids}; the narrowest gap outside the liner is {gap} on each side: "
        "three of them bridge it.",
        "Take them out before running past there, or choose smaller ones.",
        {
            "name": subject.name,
            "solids": Figure(fluid.largest_solids_m, "gap"),
            "gap": Figure(gap, "gap"),
        },
        (depth.liner.top_md_m,),
    )


RULES = (
    Rule("bypass-small", "room for returns past the hanger", whole_liner, bypass_small, "no liner"),
    Rule("solids-bridge", "solids in the narrowest gap", each_fluid, solids_bridge, "the file has no fluids"),
)
