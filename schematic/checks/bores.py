"""Rules about the running string and what is dropped or pumped through it, against every bore on the way."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, drift_m, whole_liner
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

_JOINTED = ("drill pipe", "heavy-weight drill pipe")  # pipe that is never without tool joints


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
    depth = case.plan.depth
    if depth.running is None:
        raise MissingInput("running string")
    unknown: list[str] = []
    gaps: list[float] = []
    for part in depth.running.parts:
        if part.length_m <= 0.0:
            continue
        od = max((d for d in (part.od_m, part.tool_joint_od_m) if d is not None), default=None)
        if part.od_m is None or od is None:
            unknown.append(f"OD of {part.name}")
            continue
        if part.kind in _JOINTED and part.tool_joint_od_m is None:
            unknown.append(f"tool joint of {part.name}")
        bores = [
            (drift, f"drift of {string.name}")
            for string in depth.strings
            if string.top_md_m < part.bottom_md_m and (drift := drift_m(string)) is not None
        ]
        unknown += [
            f"{string.path}.drift"
            for string in depth.strings
            if string.top_md_m < part.bottom_md_m and drift_m(string) is None
        ]
        for inside in depth.liner.parts:
            if inside.length_m <= 0.0 or inside.top_md_m >= part.bottom_md_m - 1e-9:
                continue
            bore = inside.id_m if inside.drift_m is None else inside.drift_m
            if bore is None:
                unknown.append(f"bore of {inside.name}")
            else:
                bores.append((bore, f"bore of {inside.name}"))
        for bore, name in bores:
            gaps.append(bore - od)
            if not meets(od, bore, at_least=False):
                return Found(
                    Severity.ERROR,
                    "{part} {od} over {bore}, {name}",
                    "The {part} of the running string is {od}; the {name} is {bore}: it does not get to "
                    "{depth} with the {liner}.",
                    "Choose pipe or tools that pass, or a tapered string.",
                    {
                        "part": part.name,
                        "od": Figure(od, "diameter"),
                        "bore": Figure(bore, "diameter"),
                        "name": name,
                        "depth": Figure(part.bottom_md_m, "depth"),
                        "liner": subject.name,
                    },
                    (part.bottom_md_m,),
                )
    if unknown:
        raise MissingInput(*dict.fromkeys(unknown))
    return Passed(Figure(min(gaps), "gap") if gaps else None)


def _above_the_seat(case: Case) -> tuple[list[tuple[str, float | None]], float | None]:
    """Bores that the ball passes, by name, and the depth of its seat."""
    plan = case.plan
    running, liner = plan.depth.running, plan.depth.liner
    if running is None:
        raise MissingInput("running string")
    if plan.job.seat is None:
        raise MissingInput("installation.seat, or a ball seat")
    bores: list[tuple[str, float | None]] = []
    hangs = [part for part in running.parts if part.bottom_md_m > liner.top_md_m + 1e-6]
    tool = next((part for part in running.parts if part.kind == "running tool"), None)
    for part in running.parts:
        if plan.job.seat == "running tool" and tool is not None and part.top_md_m > tool.top_md_m:
            continue  # below the seat
        if part.kind == "wiper plug":
            bores.append((part.name, part.id_m))
            continue
        bores.append((part.name, part.id_m))
        if part.tool_joint_id_m is not None or part.kind in _JOINTED:
            bores.append((f"tool joint of {part.name}", part.tool_joint_id_m))
    seat_md = tool.bottom_md_m if tool else None
    if plan.job.seat == "landing collar":
        collar = liner.find("landing collar")
        seat_md = collar.top_md_m if collar else None
        foot = max((part.bottom_md_m for part in hangs), default=liner.top_md_m)
        for inside in liner.parts:
            if seat_md is not None and inside.bottom_md_m > foot and inside.bottom_md_m <= seat_md + 1e-6:
                bores.append((inside.name, inside.id_m))
    return bores, seat_md


def ball_sticks(case: Case, subject: Subject) -> Answer:
    """The ball does not pass a bore on its way to the seat.

    What it checks
        The ball against every bore above its seat: pipe, tool joints, tools, and for a seat in the landing
        collar the wiper plug and the liner.
    Why it matters
        A ball stuck above its seat can neither set the hanger nor be pumped past.
    Limit
        1/8 in, in metric wells 3 mm on diameter ('least ball clearance'): common practice.
    Source
        Common practice.
    Example
        wrong: running string.assembly.drill pipe.tool joint.id = 1.75 in
        at the limit, in sollivane-a7: running string.assembly.drill pipe.tool joint.id = 44.275 mm
        right, in sollivane-a7: as it stands
        does not apply, in corrick-5: as it stands
        not checked: without running string.ball
    """
    plan = case.plan
    running = plan.depth.running
    if plan.job.seat is None and plan.job.hanger_sets_pa is None:
        return DoesNotApply("no ball is dropped: the file has neither a seat nor a hanger set by pressure")
    if running is None:
        raise MissingInput("running string")
    if running.ball_m is None:
        raise MissingInput("running string.ball")
    bores, seat_md = _above_the_seat(case)
    limit = plan.limits["least ball clearance"]
    known = [(bore - running.ball_m, name, bore) for name, bore in bores if bore is not None]
    unknown = [f"bore of {name}" for name, bore in bores if bore is None]
    if known:
        clear, name, bore = min(known, key=lambda entry: entry[0])
        if not meets(clear, limit.si, at_least=True):
            return Found(
                Severity.ERROR,
                "ball {ball} in {part} {bore}",
                "The ball is {ball}, the bore of the {part} {bore}: {clear} of clearance, {limit} is wanted "
                "({owner}).",
                "Choose a smaller ball and seat, or pipe and tools of a larger bore.",
                {
                    "name": subject.name,
                    "ball": Figure(running.ball_m, "diameter"),
                    "part": name,
                    "bore": Figure(bore, "diameter"),
                    "clear": Figure(clear, "gap"),
                    "limit": limit.text,
                    "owner": limit.owner,
                },
                () if seat_md is None else (seat_md,),
                limit,
            )
    if unknown:
        raise MissingInput(*unknown)
    return Passed(Figure(clear, "gap"), limit)


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


_FINS_SHARE, _CORE_CLEAR_M = 1.05, 0.003  # of the widest bore; to the narrowest: common practice


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
    running = case.plan.depth.running
    if running is None:
        raise MissingInput("running string")
    if running.dart_core_m is None or running.dart_fins_m is None:
        raise MissingInput("running string.dart")
    parts = [part for part in running.parts if part.length_m > 0.0]
    unknown = [f"bore of {part.name}" for part in parts if part.id_m is None]
    unknown += [
        f"tool joint of {part.name}"
        for part in parts
        if part.kind in _JOINTED and part.tool_joint_id_m is None
    ]
    bores = [part.id_m for part in parts if part.id_m is not None]
    bores += [part.tool_joint_id_m for part in parts if part.tool_joint_id_m is not None]
    widest, narrowest = max(bores, default=0.0), min(bores, default=0.0)
    covers = meets(running.dart_fins_m, _FINS_SHARE * widest, at_least=True)
    passes = meets(running.dart_core_m, narrowest - _CORE_CLEAR_M, at_least=False)
    if covers and passes:
        if unknown:
            raise MissingInput(*unknown)
        return Passed(Figure(narrowest - running.dart_core_m, "gap"))
    return Found(
        Severity.ERROR,
        "dart: core {core} in {narrowest}" if not passes else "dart: fins {fins} in {widest}",
        "The dart has fins of {fins} and a core of {core}; the bores of the string are {narrowest} to "
        "{widest}: " + ("it does not pass." if not passes else "it does not wipe."),
        "Choose a dart for this string, or the string for the dart.",
        {
            "name": subject.name,
            "core": Figure(running.dart_core_m, "diameter"),
            "fins": Figure(running.dart_fins_m, "diameter"),
            "widest": Figure(widest, "diameter"),
            "narrowest": Figure(narrowest, "diameter"),
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
        drift = drift_m(upper)
        if drift is None:
            unknown.append(f"{upper.path}.drift")
            continue
        for part in depth.running.parts:
            od = max((d for d in (part.od_m, part.tool_joint_od_m) if d is not None), default=None)
            if od is None and part.length_m > 0.0:
                unknown.append(f"OD of {part.name}")
            elif part.kind in _JOINTED and part.tool_joint_od_m is None:
                unknown.append(f"tool joint of {part.name}")
            if od is None or od <= drift or part.bottom_md_m > upper.top_md_m:
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
    Rule("running-string-does-not-pass", whole_liner, running_string_does_not_pass, "no liner"),
    Rule("string-lands-on-upper-liner", whole_liner, string_lands_on_upper_liner, "no liner"),
    Rule("string-reaches-collar", whole_liner, string_reaches_collar, "no liner"),
    Rule("ball-sticks", whole_liner, ball_sticks, "no liner"),
    Rule("seat-does-not-hold", whole_liner, seat_does_not_hold, "no liner"),
    Rule("dart-does-not-wipe", whole_liner, dart_does_not_wipe, "no liner"),
)
