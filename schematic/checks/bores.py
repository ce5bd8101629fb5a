"""Rules about the running string and what is dropped or pumped through it, against every bore on the way."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, whole_liner
from schematic.job.meeting import Meeting, Way
from schematic.job.passage import ball_way, dart_way
from schematic.job.run_in import running_od, running_ways
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


def _figures(met: Meeting) -> dict[str, Figure | str]:
    """What a finding says of a thing in a bore."""
    return {
        "part": met.bore.name,
        "od": Figure(met.thing.size_m or 0.0, "diameter"),
        "bore": Figure(met.bore.passes_m or 0.0, "diameter"),
        "clear": Figure(met.clear_m or 0.0, "gap"),
    }


def running_string_does_not_pass(case: Case, subject: Subject) -> Answer:
    """A part of the running string is wider than a bore on its way, down to where it stands at depth.

    What it checks
        OD and tool joint OD of each part of the running string against the drift of every string that it is
        run into, and of what hangs inside the liner against the bores of the liner's parts that it passes.
    Why it matters
        A 6 5/8 in tool joint does not enter a 7 in liner; the string stops with the liner hanging on it.
    Limit
        A gap of nought or more to the drift, or to the bore where a part has no drift.
    Source
        Geometry; drift: API 5CT / ISO 11960.
    Example
        wrong: running string.assembly.drill pipe.tool joint.od = 8.526 in
        at the limit: running string.assembly.drill pipe.tool joint.od = 8.525 in
        right: as it stands
        not checked: without running string.assembly.running tool.od
    """
    ways = running_ways(case.plan.depth)
    for way in ways:
        stuck = way.blocked
        if stuck is not None:
            return Found(
                Severity.ERROR,
                "{part} {od} over {bore}, {name}",
                "The {part} of the running string is {od}; the {name} is {bore}: it does not get to "
                "{depth} with the {liner}.",
                "Choose pipe or tools that pass, or a tapered string.",
                {
                    **_figures(stuck),
                    "part": way.thing.name,
                    "name": stuck.bore.told,
                    "depth": Figure(way.thing.to_md_m, "depth"),
                    "liner": subject.name,
                },
                (way.thing.to_md_m,),
            )
    unknown = [name for way in ways for name in way.needs]
    if unknown:
        raise MissingInput(*dict.fromkeys(unknown))
    return Passed(_least(ways))


def _least(ways: tuple[Way, ...]) -> Figure | None:
    """The least that is clear on any of these ways."""
    clear = [way.least_clear_m for way in ways if way.least_clear_m is not None]
    return Figure(min(clear), "gap") if clear else None


def ball_sticks(case: Case, subject: Subject) -> Answer:
    """The ball does not pass a bore on its way to the seat.

    What it checks
        The ball against every bore above its seat: pipe, tool joints, tools, and for a seat in the landing
        collar the seat of the running tool where it has one, the wiper plug and the liner.
    Why it matters
        A ball stuck above its seat can neither set the hanger nor be pumped past.
    Limit
        1/8 in, in metric wells 3 mm on diameter ('least ball clearance'): common practice.
    Source
        Common practice.
    Example
        wrong: running string.assembly.drill pipe.tool joint.id = 1.75 in
        at the limit, in sollivane-a7: running string.assembly.drill pipe.tool joint.id = 44.275 mm
        wrong: installation.running tool seat = {ball: 1 7/8 in, seat: 1.80 in}
        right, in sollivane-a7: as it stands
        does not apply, in corrick-5: as it stands
        not checked: without running string.ball
    """
    way = ball_way(case.plan)
    if way is None:
        return DoesNotApply("no ball is dropped: the file has neither a seat nor a hanger set by pressure")
    limit = case.plan.limits["least ball clearance"]
    stuck = way.blocked
    if stuck is not None:
        return Found(
            Severity.ERROR,
            "ball {od} in {part} {bore}",
            "The ball is {od}, the bore of the {part} {bore}: {clear} of clearance, {limit} is wanted "
            "({owner}).",
            "Choose a smaller ball and seat, or pipe and tools of a larger bore.",
            {**_figures(stuck), "name": subject.name, "limit": limit.text, "owner": limit.owner},
            (max(stuck.bore.top_md_m, 0.0),),
            limit,
        )
    seat = way.meetings[-1].bore
    unknown = [name for name in way.needs if name != seat.needs]  # the seat has a rule of its own
    if unknown:
        raise MissingInput(*unknown)
    return Passed(_least((way,)), limit)


_SAME_BALL_M = 0.0003  # sizes written in inches and in millimetres may differ by their rounding


def seat_does_not_hold(case: Case, subject: Subject) -> Answer:
    """The seat is too large to hold its ball, or so small that the ball wedges in it.

    What it checks
        Ball less seat bore, and the ratio of seat bore to ball.
    Why it matters
        The ball is pressed through, or sticks and does not come off.
    Limit
        1/8 in, in metric wells 3 mm ('least seat overlap'); ratio 80 to 95 %: common practice.
    Source
        Common practice; the maker's sheet rules.
    Example
        wrong: liner.assembly.landing collar.ball seat.seat = 1.63 in
        wrong: running string.ball = 1 1/2 in
        at the limit: liner.assembly.landing collar.ball seat.seat = 1.625 in
        right: as it stands
        does not apply, in fallow-6: as it stands
        not checked: without liner.assembly.landing collar.ball seat
    """
    plan = case.plan
    ball, seat = plan.job.ball_m, plan.job.seat_m
    if ball is None or seat is None:
        if plan.job.hanger_sets_pa is not None or plan.job.seat is not None:
            raise MissingInput("ball seat")
        return DoesNotApply("no ball is dropped: the file has neither a seat nor a hanger set by pressure")
    limits = plan.limits
    loaded = plan.depth.running.ball_m if plan.depth.running else None
    if loaded is not None and abs(loaded - ball) > _SAME_BALL_M:
        return Found(
            Severity.ERROR,
            "ball {loaded} loaded, seat is for {ball}",
            "The running string's ball is {loaded}; the seat of the {name} is for a ball of {ball}.",
            "Load the ball that belongs to the seat, and check the sheet of both.",
            {
                "name": subject.name,
                "loaded": Figure(loaded, "diameter"),
                "ball": Figure(ball, "diameter"),
            },
        )
    overlap, ratio = ball - seat, seat / ball
    least = limits["least seat overlap"]
    fits = meets(overlap, least.si, at_least=True)
    low, high = limits["least seat ratio"], limits["greatest seat ratio"]
    wide = meets(ratio, low.si, at_least=True) and meets(ratio, high.si, at_least=False)
    if fits and wide:
        return Passed(Figure(overlap, "gap"), least)
    limit = least if not fits else low if ratio < low.si else high
    return Found(
        Severity.ERROR,
        "seat {seat} under ball {ball}",
        "The ball is {ball}, its seat {seat}: {overlap} of overlap, {ratio} of its size; wanted are {least} "
        "and {low} to {high} ({owner}).",
        "Pair ball and seat by the maker's sheet.",
        {
            "name": subject.name,
            "ball": Figure(ball, "diameter"),
            "seat": Figure(seat, "diameter"),
            "overlap": Figure(overlap, "gap"),
            "ratio": Figure(ratio, "share"),
            "least": least.text,
            "low": low.text,
            "high": high.text,
            "owner": limit.owner,
        },
        (),
        limit,
    )


_FINS_SHARE = 1.05  # of the widest bore: common practice


def dart_does_not_wipe(case: Case, subject: Subject) -> Answer:
    """The dart does not cover the widest bore of the running string, or its core does not pass the narrowest.

    What it checks
        Fins against the widest bore and core against the narrowest, tool joints counted.
    Why it matters
        In a tapered string a dart that wipes the pipe may stick in the tool joints, and one that passes them
        leaves cement behind.
    Limit
        Fins at least 1.05 of the widest bore; core at least 3 mm (1/8 in) under the narrowest: common
        practice.
    Source
        Common practice; the maker's sheet rules.
    Example
        wrong: running string.dart = {core: 2.7 in, fins: 4.6 in}
        right: running string.dart = {core: 2.0 in, fins: 4.6 in}
        at the limit: running string.dart = {core: 2.0 in, fins: 4.4898 in}
        not checked: as it stands
    """
    way, running = dart_way(case.plan), case.plan.depth.running
    assert running is not None  # or there would be no way
    if way is None or running.dart_core_m is None or running.dart_fins_m is None:
        raise MissingInput("running string.dart")
    met = [one for one in way.meetings if not one.bore.stops]
    bores = [one.bore.passes_m for one in met if one.bore.passes_m is not None]
    widest, stuck = max(bores, default=0.0), way.blocked
    covers = meets(running.dart_fins_m, _FINS_SHARE * widest, at_least=True)
    if covers and stuck is None:
        unknown = [name for one in met for name in one.needs]
        if unknown:
            raise MissingInput(*unknown)
        return Passed(_least((way,)))
    return Found(
        Severity.ERROR,
        "dart: core {core} in {narrowest}" if stuck else "dart: fins {fins} in {widest}",
        "The dart has fins of {fins} and a core of {core}; the bores of the string are {narrowest} to "
        "{widest}: " + ("it does not pass." if stuck else "it does not wipe."),
        "Choose a dart for this string, or the string for the dart.",
        {
            "name": subject.name,
            "core": Figure(running.dart_core_m, "diameter"),
            "fins": Figure(running.dart_fins_m, "diameter"),
            "widest": Figure(widest, "diameter"),
            "narrowest": Figure(min(bores, default=0.0), "diameter"),
        },
    )


def string_lands_on_upper_liner(case: Case, subject: Subject) -> Answer:
    """Pipe of the running string that does not pass an earlier liner ends too close above its top.

    What it checks
        For each earlier liner on the way: the lowest part above it whose OD does not pass its drift, against
        its top.
    Why it matters
        Stretch and pick-up bring the crossover down onto the upper liner top before the liner is on depth.
    Limit
        50 ft, in metric wells 15 m ('least crossover distance'): common practice.
    Source
        Geometry; the distance is common practice.
    Example
        does not apply: as it stands
        wrong, in haldry-2: running string.assembly.3.length = 1089.9 m;
            running string.assembly.5.length = 2686.1 m
        at the limit, in haldry-2: running string.assembly.3.length = 1090 m;
            running string.assembly.5.length = 2686 m
        right, in haldry-2: as it stands
        not checked, in haldry-2: strings.drilling liner.id = 157 mm
    """
    depth = case.plan.depth
    uppers = [s for s in depth.strings if s.top_md_m > 0.0 and s.top_md_m < depth.liner.top_md_m]
    if not uppers:
        return DoesNotApply("no earlier liner stands above this one")
    if depth.running is None:
        raise MissingInput("running string")
    limit = case.plan.limits["least crossover distance"]
    nearest: tuple[float, str, str, float] | None = None
    unknown: list[str] = []
    for upper in uppers:
        if upper.passes_m is None:
            unknown.append(f"{upper.path}.drift")
            continue
        for part in depth.running.parts:
            thing = running_od(part)
            if thing.needs and part.length_m > 0.0:
                unknown.append(thing.needs)
            if thing.size_m is None or thing.size_m <= upper.passes_m or part.bottom_md_m > upper.top_md_m:
                continue
            clear = upper.top_md_m - part.bottom_md_m
            if nearest is None or clear < nearest[0]:
                nearest = (clear, part.name, upper.name, upper.top_md_m)
    if nearest is not None and not meets(nearest[0], limit.si, at_least=True):
        clear, part_name, upper_name, top = nearest
        return Found(
            Severity.ERROR,
            "{part} ends {clear} above {upper} top",
            "The {part} does not pass the {upper} and ends {clear} above its top, {top}, with the {name} on "
            "depth; {limit} is wanted ({owner}).",
            "Put more of the slimmer pipe below it.",
            {
                "name": subject.name,
                "part": part_name,
                "clear": Figure(clear, "length"),
                "upper": upper_name,
                "top": Figure(top, "depth"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (top,),
            limit,
        )
    if unknown:
        raise MissingInput(*dict.fromkeys(unknown))
    return Passed(None if nearest is None else Figure(nearest[0], "length"), limit)


def string_reaches_collar(case: Case, subject: Subject) -> Answer:
    """The inner string reaches down to the landing collar.

    What it checks
        The foot of what hangs in the liner against the top of the landing collar, else of the float collar.
    Why it matters
        The plug lands before it is released, or the stinger stands on the collar with the liner's weight.
    Limit
        Geometry.
    Source
        Geometry.
    Example
        wrong: running string.assembly.inner string.length = 2984.3 ft
        right: as it stands
        does not apply: without running string.assembly.inner string; without running string.assembly.wiper
            plug
        not checked: without liner.assembly.float collar; without liner.assembly.landing collar
    """
    depth = case.plan.depth
    if depth.running is None:
        raise MissingInput("running string")
    if depth.running.foot_md_m <= depth.liner.top_md_m:
        return DoesNotApply("nothing hangs below the liner top")
    stop = depth.liner.shoe_track_top_md_m
    if stop is None:
        raise MissingInput("landing collar or float collar")
    clear = stop - depth.running.foot_md_m
    if clear > 0.0:
        return Passed(Figure(clear, "length"))
    return Found(
        Severity.ERROR,
        "inner string ends at {foot}, collar at {stop}",
        "What hangs in the {name} ends at {foot}; the collar is at {stop}.",
        "Shorten the inner string.",
        {
            "name": subject.name,
            "foot": Figure(depth.running.foot_md_m, "tally"),
            "stop": Figure(stop, "tally"),
        },
        (stop,),
    )


RULES = (
    Rule(
        "running-string-does-not-pass",
        "passage of the running string",
        whole_liner,
        running_string_does_not_pass,
        "no liner",
    ),
    Rule(
        "string-lands-on-upper-liner",
        "distance of the running string from an earlier liner",
        whole_liner,
        string_lands_on_upper_liner,
        "no liner",
    ),
    Rule(
        "string-reaches-collar",
        "distance of the inner string from the landing collar",
        whole_liner,
        string_reaches_collar,
        "no liner",
    ),
    Rule("ball-sticks", "passage of the ball", whole_liner, ball_sticks, "no liner"),
    Rule("seat-does-not-hold", "fit of ball and seat", whole_liner, seat_does_not_hold, "no liner"),
    Rule("dart-does-not-wipe", "fit of dart and running string", whole_liner, dart_does_not_wipe, "no liner"),
)
