"""Rules about where the liner is: in its hole, in its host, with how long a lap."""

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

_LEAST_OFF_BOTTOM_M = 3 * 0.3048  # off bottom is 3 to 15 ft: common practice


def liner_below_hole(case: Case, subject: Subject) -> Answer:
    """The liner shoe is deeper than the hole.

    What it checks
        Measured depth of the liner shoe against the bottom of the deepest hole section.
    Why it matters
        The liner is longer than the hole.
    Limit
        Geometry.
    Source
        Geometry.
    Example
        wrong: without liner.off bottom; liner.shoe = 12600.1 ft
        at the limit: without liner.off bottom; liner.shoe = 12600 ft
        right: as it stands
    """
    depth = case.plan.depth
    if meets(depth.liner.shoe_md_m, depth.td_md_m, at_least=False):
        return Passed(Figure(depth.td_md_m - depth.liner.shoe_md_m, "length"))
    return Found(
        Severity.ERROR,
        "{name} shoe {shoe} below hole bottom {td}",
        "The {name} shoe at {shoe} is {excess} below the bottom of the hole at {td}.",
        "Shorten the liner, lift it, or drill deeper.",
        {
            "name": subject.name,
            "shoe": Figure(depth.liner.shoe_md_m, "depth"),
            "td": Figure(depth.td_md_m, "depth"),
            "excess": Figure(depth.liner.shoe_md_m - depth.td_md_m, "length"),
        },
        (depth.liner.shoe_md_m,),
        fix=shoe_off_bottom(case, _LEAST_OFF_BOTTOM_M, 1),
    )


def liner_top_outside_host(case: Case, subject: Subject) -> Answer:
    """The liner top is not inside the string in which it is to hang.

    What it checks
        Host top above liner top, liner top above host shoe.
    Why it matters
        A hanger cannot grip where there is no casing.
    Limit
        Geometry.
    Source
        Geometry.
    Example
        wrong: without liner.lap; liner.top = 9850 ft
        wrong: without liner.lap; liner.top = 9822.2 ft
        at the limit: without liner.lap; liner.top = 9822.1 ft
        right: as it stands
    """
    depth = case.plan.depth
    host, top = depth.host, depth.liner.top_md_m
    gripping = [depth.liner.find(kind) for kind in ("liner hanger", "liner top packer")]
    below = [part for part in gripping if part and part.bottom_md_m > host.shoe_md_m]
    if host.top_md_m < top < host.shoe_md_m and below:
        return Found(
            Severity.ERROR,
            "{part} ends at {bottom}, below {host} shoe {host_shoe}",
            "The {part} of the {name} ends at {bottom}, below the shoe of the {host} at {host_shoe}: it has "
            "no casing to grip or seal in.",
            "Lengthen the lap until packer and hanger stand wholly inside the host.",
            {
                "name": subject.name,
                "part": below[0].name,
                "bottom": Figure(below[0].bottom_md_m, "tally"),
                "host": host.name,
                "host_shoe": Figure(host.shoe_md_m, "depth"),
            },
            (below[0].bottom_md_m,),
            fix=top_moved(case, host.shoe_md_m - below[0].bottom_md_m),
        )
    if host.top_md_m < top < host.shoe_md_m:
        return Passed(Figure(host.shoe_md_m - top, "length"))
    return Found(
        Severity.ERROR,
        "{name} top {top} is outside {host}, {host_top} to {host_shoe}",
        "The {name} top at {top} is not inside the {host}, which stands from {host_top} to {host_shoe}.",
        "Put the liner top above the shoe of the host, or name the string that is there as 'host'.",
        {
            "name": subject.name,
            "top": Figure(top, "depth"),
            "host": host.name,
            "host_top": Figure(host.top_md_m, "depth"),
            "host_shoe": Figure(host.shoe_md_m, "depth"),
        },
        (top,),
    )


def host_not_innermost(case: Case, subject: Subject) -> Answer:
    """Another string stands inside the host where the liner is to hang.

    What it checks
        Of all strings that are there at the liner top, the packer's and the hanger's base, the host is the
        smallest.
    Why it matters
        The hanger meets the innermost string, whatever the plan calls its host.
    Limit
        Geometry.
    Source
        Geometry.
    Example
        wrong: liner.host = surface casing; without liner.lap; liner.top = 4000 ft
        right: as it stands
        does not apply: without liner.lap; liner.top = 9860 ft
    """
    depth = case.plan.depth
    gripping = [depth.liner.find(kind) for kind in ("liner top packer", "liner hanger")]
    places = [depth.liner.top_md_m, *(part.bottom_md_m for part in gripping if part)]
    inner = None
    for top in places:
        there = [s for s in depth.strings if s.top_md_m <= top < s.shoe_md_m]
        inner = min(reversed(there), key=lambda string: string.od_m) if there else None
        if inner is None or inner.name != depth.liner.host:
            break
    if inner is None:
        return DoesNotApply("no string stands where the liner is to hang")
    if inner.name == depth.liner.host:
        return Passed()
    return Found(
        Severity.ERROR,
        "host {host}: {inner} stands inside it at {top}",
        "At {top}, where the {name} is to hang, the innermost string is the {inner}, not the {host} named as "
        "host.",
        "Name the {inner} as 'host', or move the liner top.",
        {
            "name": subject.name,
            "host": depth.liner.host,
            "inner": inner.name,
            "top": Figure(top, "depth"),
        },
        (top,),
        fix=(Fix("liner.host", inner.name),),
    )


def lap_outside_limits(case: Case, subject: Subject) -> Answer:
    """The lap, from liner top to host shoe, is shorter or longer than the limits.

    What it checks
        Measured depth of the host shoe less that of the liner top.
    Why it matters
        A short lap leaves little cement to seal and no second try; a long one costs pipe and friction.
    Limit
        Least: 100 ft, in metric wells 30 m ('least lap'). Greatest: 300 m ('greatest lap'). Common practice;
        the local rule governs.
    Source
        Several rules ask for 100 ft, among them California 14 CCR 1722.3(d). Usual laps are 60 to 150 m:
        common practice.
    Example
        wrong: liner.lap = 99.9 ft
        at the limit: liner.lap = 100 ft
        right: as it stands
        does not apply: without liner.lap; liner.top = 9860 ft
    """
    lap = case.laps.liner_top_m
    least, greatest = case.plan.limits["least lap"], case.plan.limits["greatest lap"]
    shoe, top = case.plan.depth.host.shoe_md_m, case.plan.depth.liner.top_md_m
    figures: dict[str, Figure | str] = {
        "lap": Figure(lap, "length"),
        "least": least.text,
        "greatest": greatest.text,
        "owner": least.owner,
        "top": Figure(shoe - least.si, "depth"),
    }
    if lap <= 0.0:
        return DoesNotApply("the liner top is not above the host shoe: there is no lap")
    if case.plan.depth.liner.shoe_md_m <= shoe:
        return DoesNotApply("the liner ends inside its host: all of it is lap")
    if not meets(lap, least.si, at_least=True):
        return Found(
            Severity.ERROR,
            "lap {lap}, least {least}",
            "The lap from liner top to host shoe is {lap}; the least is {least} ({owner}).",
            "Set the liner top at {top} or shallower, or state another limit under 'limits: least lap'.",
            figures,
            (top, shoe),
            least,
            top_moved(case, lap - least.si),
        )
    if not meets(lap, greatest.si, at_least=False):
        return Found(
            Severity.ADVICE,
            "lap {lap}, usual up to {greatest}",
            "The lap from liner top to host shoe is {lap}, longer than the usual {greatest}.",
            "Say why in the program, or shorten it.",
            figures,
            (top, shoe),
            greatest,
            top_moved(case, lap - greatest.si),
        )
    return Passed(Figure(lap, "length"), least)


def rathole_unusual(case: Case, subject: Subject) -> Answer:
    """The hole below the liner shoe is long, or there is none.

    What it checks
        Bottom of the hole less liner shoe.
    Why it matters
        Cement and mud change places in a long rathole; a liner that stands on bottom buckles.
    Limit
        33 ft, in metric wells 10 m ('greatest rathole'): common practice. On bottom: advice.
    Source
        Common practice; 1 to 5 m is usual.
    Example
        wrong: liner.off bottom = 33.1 ft
        wrong: liner.off bottom = 0 ft
        at the limit: liner.off bottom = 33 ft
        right: as it stands
        does not apply: without liner.off bottom; liner.shoe = 12601 ft
    """
    depth = case.plan.depth
    rathole = depth.td_md_m - depth.liner.shoe_md_m
    figures: dict[str, Figure | str] = {
        "name": subject.name,
        "rathole": Figure(rathole, "length"),
        "shoe": Figure(depth.liner.shoe_md_m, "depth"),
        "limit": case.plan.limits["greatest rathole"].text,
        "owner": case.plan.limits["greatest rathole"].owner,
    }
    if depth.liner.shoe_md_m < depth.host.shoe_md_m:
        return DoesNotApply("the liner ends inside its host")
    if rathole < 0.0 and not meets(rathole, 0.0, at_least=True):
        return DoesNotApply("the liner shoe is below the hole")
    if meets(rathole, 0.0, at_least=False):
        return Found(
            Severity.ADVICE,
            "{name} stands on bottom",
            "The shoe of the {name}, {shoe}, is the bottom of the hole: its own weight buckles the liner.",
            "Hang it 3 to 15 ft (1 to 5 m) off bottom.",
            figures,
            (depth.liner.shoe_md_m,),
            fix=shoe_off_bottom(case, _LEAST_OFF_BOTTOM_M, 1),
        )
    limit = case.plan.limits["greatest rathole"]
    if meets(rathole, limit.si, at_least=False):
        return Passed(Figure(rathole, "length"), limit)
    return Found(
        Severity.WARNING,
        "rathole {rathole}, usual up to {limit}",
        "Below the shoe of the {name} stand {rathole} of hole; up to {limit} is usual ({owner}).",
        "Run the shoe deeper, or fill the rathole with heavy mud before cementing.",
        figures,
        (depth.liner.shoe_md_m, depth.td_md_m),
        limit,
        shoe_off_bottom(case, limit.si, -1),
    )


def cemented_lap_short(case: Case, subject: Subject) -> Answer:
    """Less of the lap is to be cemented than seals.

    What it checks
        From the base of the hanger, or the planned top of cement if that is deeper, to the host shoe.
    Why it matters
        Of the three lengths called lap it is the one that seals.
    Limit
        100 ft, in metric wells 30 m ('least cemented lap'): common practice.
    Source
        Common practice.
    Example
        wrong: liner.lap = 127.8 ft
        at the limit: liner.lap = 127.9 ft
        right: as it stands
        does not apply: without liner.assembly.liner hanger
        not checked: without cement.planned top
    """
    if case.laps.hanger_base_m is None:
        return DoesNotApply("the liner has no hanger")
    if case.laps.cemented_m is None:
        raise MissingInput("cement.planned top")
    limit = case.plan.limits["least cemented lap"]
    cemented = case.laps.cemented_m
    if meets(cemented, limit.si, at_least=True):
        return Passed(Figure(cemented, "length"), limit)
    return Found(
        Severity.WARNING,
        "cemented lap {cemented}, least {limit}",
        "Of the lap of the {name} {cemented} is to be cemented, from the hanger's base or the top of cement "
        "to the host shoe; {limit} or more is wanted ({owner}).",
        "Lengthen the lap, or plan cement higher.",
        {
            "name": subject.name,
            "cemented": Figure(cemented, "length"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (case.plan.depth.host.shoe_md_m,),
        limit,
        (
            *top_moved(case, cemented - limit.si),
            Fix("cement.planned top", case.plan.depth.host.shoe_md_m - limit.si, -1),
        ),
    )


def shoe_deeper_than_permit(case: Case, subject: Subject) -> Answer:
    """The liner shoe is deeper than the permit allows without asking again.

    What it checks
        TVD of the liner shoe against 'permitted shoe tvd'.
    Why it matters
        A regulator may ask for a new approval before the casing depth is changed.
    Limit
        100 ft TVD ('greatest depth over permit'); the local rule governs.
    Source
        30 CFR 250.428(b), older edition: more than 100 ft TVD deeper asks for approval; read 2026.
    Example
        wrong: liner.permitted shoe tvd = 12480 ft
        right: liner.permitted shoe tvd = 12500 ft
        does not apply: as it stands
        at the limit: without survey; liner.permitted shoe tvd = 12490 ft
    """
    liner = case.plan.depth.liner
    if liner.permitted_shoe_tvd_m is None:
        return DoesNotApply("the file states no permitted depth")
    tvd = case.plan.depth.path.tvd_m(liner.shoe_md_m)
    limit = case.plan.limits["greatest depth over permit"]
    over = tvd - liner.permitted_shoe_tvd_m
    if meets(over, limit.si, at_least=False):
        return Passed(Figure(max(over, 0.0), "length"), limit)
    return Found(
        Severity.WARNING,
        "{name} shoe {over} TVD below the permit",
        "The shoe of the {name} is at {tvd} TVD, {over} deeper than permitted ({permitted}); {limit} is the "
        "most ({owner}).",
        "Ask for approval, or change the shoe.",
        {
            "name": subject.name,
            "tvd": Figure(tvd, "tvd"),
            "permitted": Figure(liner.permitted_shoe_tvd_m, "tvd"),
            "over": Figure(over, "length"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (liner.shoe_md_m,),
        limit,
    )


RULES = (
    Rule("rathole-unusual", "length of the rathole", whole_liner, rathole_unusual, "no liner"),
    Rule("cemented-lap-short", "cemented length of the lap", whole_liner, cemented_lap_short, "no liner"),
    Rule(
        "shoe-deeper-than-permit", "shoe against the permit", whole_liner, shoe_deeper_than_permit, "no liner"
    ),
    Rule(
        "liner-below-hole",
        "liner shoe against the hole's depth",
        whole_liner,
        liner_below_hole,
        "the file has no liner",
    ),
    Rule(
        "liner-top-outside-host",
        "place of the liner top in its host",
        whole_liner,
        liner_top_outside_host,
        "the file has no liner",
    ),
    Rule(
        "host-not-innermost",
        "innermost string at the liner top",
        whole_liner,
        host_not_innermost,
        "the file has no liner",
    ),
    Rule("lap-outside-limits", "length of the lap", whole_liner, lap_outside_limits, "the file has no liner"),
)
