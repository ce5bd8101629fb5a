"""Rules about what moves at the liner top and in the liner: wiper plug, slick joint, packer-setting dogs."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, whole_liner
from schematic.job.meeting import Verdict
from schematic.job.passage import plug_way
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


def plug_does_not_suit(case: Case, subject: Subject) -> Answer:
    """The wiper plug does not wipe the liner, does not pass it, or is not stopped by the landing collar.

    What it checks
        From where the plug hangs to the landing collar: its fins against the widest bore, its core (with the
        dart in it) against the narrowest, and the core against the bore of the collar, which has to stop it.
    Why it matters
        A plug that sticks bumps early with cement left in the liner; one that does not wipe leaves a film of
        cement, one that is not stopped wets the shoe.
    Limit
        Fins at least the widest bore, core larger than the bore of the collar: geometry. Core at least 3 mm
        (1/8 in) under the narrowest bore: common practice.
    Source
        Geometry and common practice; the range of pipe on the maker's sheet rules.
    Example
        wrong, in haldry-2: running string.assembly.wiper plug.core = 98 mm;
            running string.assembly.wiper plug.fins = 110 mm
        wrong, in haldry-2: running string.assembly.wiper plug.core = 80 mm;
            running string.assembly.wiper plug.fins = 95 mm
        wrong, in haldry-2: running string.assembly.wiper plug.core = 39 mm;
            running string.assembly.wiper plug.fins = 110 mm
        right, in haldry-2: running string.assembly.wiper plug.core = 80 mm;
            running string.assembly.wiper plug.fins = 110 mm
        at the limit, in haldry-2: running string.assembly.wiper plug.core = 95.4 mm;
            running string.assembly.wiper plug.fins = 110 mm
        does not apply: without running string.assembly.wiper plug
        not checked: as it stands
    """
    running = case.plan.depth.running
    way = plug_way(case.plan)
    if way is None:
        return DoesNotApply("the running string carries no wiper plug")
    assert running is not None  # or there would be no way
    plug = next(part for part in running.parts if part.kind == "wiper plug")
    wiped = [m.bore for m in way.meetings if m.bore.passes_m is not None and not m.bore.stops]
    widest = max(wiped, key=lambda bore: bore.passes_m or 0.0, default=None)
    stuck, collar = way.blocked, way.meetings[-1]
    figures: dict[str, Figure | str] = {
        "name": subject.name,
        "core": Figure(way.thing.size_m or 0.0, "diameter"),
    }
    if stuck is not None:
        return Found(
            Severity.ERROR,
            "plug core {core} in {part} {bore}",
            "The core of the wiper plug is {core}, the bore of the {part} of the {name} {bore}: it may not "
            "pass.",
            "Choose the plug for this liner, or parts of a larger bore.",
            {**figures, "part": stuck.bore.name, "bore": Figure(stuck.bore.passes_m or 0.0, "diameter")},
            (stuck.bore.top_md_m,),
        )
    if plug.fins_m is not None and widest is not None:
        bore = widest.passes_m or 0.0
        if not meets(plug.fins_m, bore, at_least=True):
            return Found(
                Severity.ERROR,
                "plug fins {fins} in {part} {bore}",
                "The fins of the wiper plug are {fins}, the bore of the {part} of the {name} {bore}: it does "
                "not wipe.",
                "Choose the plug for this liner.",
                {
                    **figures,
                    "fins": Figure(plug.fins_m, "diameter"),
                    "part": widest.name,
                    "bore": Figure(bore, "diameter"),
                },
                (widest.top_md_m,),
            )
    if collar.verdict is Verdict.RUNS_THROUGH:
        return Found(
            Severity.ERROR,
            "plug core {core} through {part} {bore}",
            "The core of the wiper plug is {core}, the bore of the {part} {bore}: nothing stops it.",
            "Pair plug and landing collar by the maker's sheet.",
            {**figures, "part": collar.bore.name, "bore": Figure(collar.bore.passes_m or 0.0, "diameter")},
            (collar.bore.top_md_m,),
        )
    fins = [f"fins of {plug.name}"] if plug.fins_m is None and plug.core_m is not None else []
    if way.needs or fins:
        raise MissingInput(*way.needs, *fins)
    return Passed(Figure(way.least_clear_m or 0.0, "gap"))


def slick_joint_short(case: Case, subject: Subject) -> Answer:
    """The slick joint leaves little travel to prove the release, or less than is written.

    What it checks
        'travel' of the inner string or slick joint: against its own length, which it cannot exceed, and
        against what proves the release at the tool.
    Why it matters
        Picked up further than the travel, the seal leaves the pack-off and pressure is lost before cementing.
    Limit
        Its own length: geometry. 4 ft, in metric wells 1.2 m ('least slick joint travel'): common practice.
    Source
        Common practice, 4 to 12 ft; the maker's sheet rules.
    Example
        wrong: running string.assembly.inner string.travel = 3.9 ft
        wrong: running string.assembly.inner string.travel = 20.1 ft
        at the limit: running string.assembly.inner string.travel = 4 ft
        at the limit: running string.assembly.inner string.travel = 20 ft
        right: as it stands
        does not apply: without running string.assembly.inner string
        not checked: without running string.assembly.inner string.travel
    """
    running = case.plan.depth.running
    if running is None:
        raise MissingInput("running string")
    parts = [part for part in running.parts if part.kind in ("slick joint", "inner string")]
    if not parts:
        return DoesNotApply("the running string has neither slick joint nor inner string")
    part = next((one for one in parts if one.travel_m is not None), None)
    if part is None or part.travel_m is None:
        raise MissingInput(f"travel of {parts[0].name}")
    limit = case.plan.limits["least slick joint travel"]
    figures: dict[str, Figure | str] = {
        "name": subject.name,
        "part": part.name,
        "travel": Figure(part.travel_m, "length"),
        "length": Figure(part.length_m, "length"),
        "limit": limit.text,
        "owner": limit.owner,
    }
    if not meets(part.travel_m, part.length_m, at_least=False):
        return Found(
            Severity.ERROR,
            "travel {travel}, {part} {length}",
            "The {part} is {length} long; a travel of {travel} takes it out of the pack-off.",
            "Check travel and length against the maker's sheet.",
            figures,
            (part.top_md_m,),
        )
    if meets(part.travel_m, limit.si, at_least=True):
        return Passed(Figure(part.travel_m, "length"), limit)
    return Found(
        Severity.WARNING,
        "travel {travel} to prove the release",
        "The {part} has a travel of {travel}; {limit} or more is wanted to prove at the tool that it let go "
        "of the {name} ({owner}).",
        "Choose a longer slick joint, or say in the program how the release is proved.",
        figures,
        (part.top_md_m,),
        limit,
    )


def dogs_reach_upper_liner(case: Case, subject: Subject) -> Answer:
    """The packer-setting dogs, lifted out of the receptacle, come up to the top of an earlier liner.

    What it checks
        Travel of the slick joint and length of the receptacle, about what is picked up to expose the dogs,
        against the distance from this liner's top to that of each earlier liner above it.
    Why it matters
        Dogs that spring out above the upper liner's top catch on it when weight is set down: the packer is
        not set.
    Limit
        Geometry.
    Source
        Geometry; the maker's sheet says how far the dogs are lifted.
    Example
        wrong, in haldry-2: running string.assembly.inner string.travel = 2 m; liner.lap = 1195.1 m
        at the limit, in haldry-2: running string.assembly.inner string.travel = 2 m; liner.lap = 1195 m
        right, in haldry-2: running string.assembly.inner string.travel = 2 m
        does not apply: as it stands
        does not apply, in haldry-2: without liner.assembly.liner top packer
        not checked, in haldry-2: as it stands
    """
    depth = case.plan.depth
    top = depth.liner.top_md_m
    above = [s for s in depth.strings if 0.0 < s.top_md_m < top < s.shoe_md_m]
    if not above or depth.liner.find("liner top packer") is None:
        return DoesNotApply("no earlier liner stands above this one, or it has no packer")
    if depth.running is None:
        raise MissingInput("running string")
    parts = [p for p in depth.running.parts if p.kind in ("slick joint", "inner string")]
    travel = next((p.travel_m for p in parts if p.travel_m is not None), None)
    receptacle = depth.liner.find("tie-back receptacle")
    if travel is None:
        raise MissingInput(f"travel of {parts[0].name}" if parts else "running string.assembly.slick joint")
    lift = travel + (receptacle.length_m if receptacle else 0.0)
    nearest = min(above, key=lambda s: top - s.top_md_m)
    clear = top - nearest.top_md_m
    if meets(lift, clear, at_least=False):
        return Passed(Figure(clear, "length"))
    return Found(
        Severity.WARNING,
        "dogs lifted {lift}, {upper} top {clear} above",
        "To expose the packer-setting dogs they are lifted about {lift}; the top of the {upper} is {clear} "
        "above the {name} top: they may catch there.",
        "Hang the liner lower, or shorten receptacle and travel.",
        {
            "name": subject.name,
            "lift": Figure(lift, "length"),
            "upper": nearest.name,
            "clear": Figure(clear, "length"),
        },
        (nearest.top_md_m,),
    )


RULES = (
    Rule("plug-does-not-suit", "fit of wiper plug and liner", whole_liner, plug_does_not_suit, "no liner"),
    Rule("slick-joint-short", "travel of the slick joint", whole_liner, slick_joint_short, "no liner"),
    Rule(
        "dogs-reach-upper-liner",
        "distance of the dogs from an earlier liner",
        whole_liner,
        dogs_reach_upper_liner,
        "no liner",
    ),
)
