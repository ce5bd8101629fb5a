"""Rules about the place where the hanger grips and the packer seals, and the way there."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, top_moved, whole_liner
from schematic.depth.plan import Depths, LinerPart
from schematic.engineering.stretch import STEEL_PA, LinerStretch, stretch
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


def _gripping(depth: Depths) -> list[LinerPart]:
    """Hanger and packer."""
    parts = (depth.liner.find(kind) for kind in ("liner hanger", "liner top packer"))
    return [part for part in parts if part is not None]


def _nearest_moves(case: Case, *downs_m: float) -> tuple[Fix, ...]:
    """The liner top moved by each of some lengths, the shortest way first."""
    return tuple(fix for down_m in sorted(downs_m, key=abs) for fix in top_moved(case, down_m))


def slips_near_coupling(case: Case, subject: Subject) -> Answer:
    """The hanger's slips would grip on or near a coupling of the host.

    What it checks
        Distance from the slip zone to the nearest host couplings above and below, both in the plan's depths.
        Stretch, temperature and reference of the two tallies are not in it. The couplings listed around the
        slips must be no further apart than a joint is long, or one of them is missing.
    Why it matters
        Slips need plain pipe body: half on a coupling they slide or cut.
    Limit
        5 ft: common practice ('least coupling distance').
    Source
        Common practice.
    Example
        wrong: liner.lap = 352.3 ft
        at the limit: strings.intermediate casing.couplings.near hanger.3 = 9512.0 ft
        right: as it stands
        does not apply: without liner.assembly.liner hanger
        not checked: without liner.assembly.liner hanger.slips
    """
    liner, host = case.plan.depth.liner, case.plan.depth.host
    hanger = liner.find("liner hanger")
    if hanger is None:
        return DoesNotApply("the liner has no hanger")
    if hanger.slips_md_m is None:
        raise MissingInput("liner.assembly" if liner.assembly_assumed else f"{hanger.path}.slips")
    if not host.couplings_md_m:
        raise MissingInput(f"{host.path}.couplings")
    top, bottom = hanger.slips_md_m
    limit = case.plan.limits["least coupling distance"]
    nearest = min(host.couplings_md_m, key=lambda c: max(top - c, c - bottom, 0.0))
    clear = max(top - nearest, nearest - bottom, 0.0)
    if not meets(clear, limit.si, at_least=True):
        where = "inside" if top <= nearest <= bottom else "{clear} from"
        return Found(
            Severity.WARNING,
            f"host coupling {{coupling}} {where} slips {{top}} to {{bottom}}",
            f"The host coupling at {{coupling}} is {where} the slip zone, {{top}} to {{bottom}}; it should "
            "be {limit} clear ({owner}).",
            "Move the hanger up {up} or down {down}, by pups.",
            {
                "coupling": Figure(nearest, "tally"),
                "top": Figure(top, "tally"),
                "bottom": Figure(bottom, "tally"),
                "clear": Figure(clear, "length"),
                "limit": limit.text,
                "owner": limit.owner,
                "name": subject.name,
                "up": Figure(bottom - nearest + limit.si, "length"),
                "down": Figure(nearest + limit.si - top, "length"),
            },
            (top, bottom, nearest),
            limit,
            _nearest_moves(case, nearest - limit.si - bottom, nearest + limit.si - top),
        )
    above = max((c for c in host.couplings_md_m if c <= top), default=None)
    below = min((c for c in host.couplings_md_m if c >= bottom), default=None)
    if above is None or below is None:
        raise MissingInput(f"{host.path}.couplings on both sides of the slips")
    longest = case.plan.limits["longest average joint"].si
    if not meets(below - above, longest, at_least=False):
        raise MissingInput(f"{host.path}.couplings between those around the slips, a joint apart")
    return Passed(Figure(clear, "length"), limit)


def slip_depth_not_proved(case: Case, subject: Subject) -> Answer:
    """The slips clear the couplings on paper only: stretch and reference could bring them together.

    What it checks
        The distance from the slips to the couplings above and below, less what the running string stretches
        (the slips come deeper than its tally says) and what the host stretched when it was run (its couplings
        stand deeper than its tally says). With 'corrected for stretch' both are taken off already. How the
        couplings were located has to be known.
    Why it matters
        The two tallies add up pipe lying on the rack; in the well it hangs. The figures differ by metres.
    Limit
        5 ft, in metric wells 1.5 m ('least coupling distance'): common practice.
    Source
        Elastic stretch of a hanging string under its buoyed weight, E 30 million psi; growth with heat,
        6.9e-6 per degF, where surface and static temperature are given.
    Example
        wrong: as it stands
        right: strings.intermediate casing.couplings.corrected for stretch = yes
        wrong: without strings.intermediate casing.couplings.located by
        does not apply: without liner.assembly.liner hanger
        not checked: without cement.schedule; without fluids.mud
    """
    plan = case.plan
    liner, host = plan.depth.liner, plan.depth.host
    hanger = liner.find("liner hanger")
    if hanger is None:
        return DoesNotApply("the liner has no hanger")
    if hanger.slips_md_m is None:
        raise MissingInput("liner.assembly" if liner.assembly_assumed else f"{hanger.path}.slips")
    if not host.couplings_md_m:
        raise MissingInput(f"{host.path}.couplings")
    if not host.couplings_located_by:
        return Found(
            Severity.WARNING,
            "slip depth not proved: how were couplings located?",
            "The file does not say how the couplings of the {host} were located: their distance from the "
            "slips of the {name} is not proved.",
            "Write 'located by' (tally, collar log), and whether both depths are 'corrected for stretch'.",
            {"host": host.name, "name": subject.name},
            hanger.slips_md_m,
        )
    if host.couplings_corrected:
        return Passed()
    found: LinerStretch = stretch(plan)
    limit = plan.limits["least coupling distance"]
    top, bottom = hanger.slips_md_m
    above = max((c for c in host.couplings_md_m if c <= top), default=None)
    below = min((c for c in host.couplings_md_m if c >= bottom), default=None)
    if any(top < coupling < bottom for coupling in host.couplings_md_m):
        return DoesNotApply("the slips are not clear of couplings by the tallies")
    if above is None or below is None:
        raise MissingInput(f"{host.path}.couplings on both sides of the slips")
    upper, lower = top - above - found.host_m, below - bottom - found.string_m
    if meets(upper, limit.si, at_least=True) and meets(lower, limit.si, at_least=True):
        return Passed(Figure(min(upper, lower), "length"), limit)
    return Found(
        Severity.WARNING,
        "slips {least} from a coupling, not proved: pipe stretches {string}",
        "The slips are {clear_above} below one coupling of the {host} and {clear_below} above the next by "
        "the tallies; the running string stretches about {string} with the {name} on it, the {host} about "
        "{host_stretch} when it was run: {limit} of plain pipe is not proved.",
        "Bring both to one reference: couplings by a log through the running string, or both tallies "
        "corrected; then write 'corrected for stretch: yes'.",
        {
            "name": subject.name,
            "host": host.name,
            "clear_above": Figure(top - above, "length"),
            "clear_below": Figure(below - bottom, "length"),
            "least": Figure(min(top - above, below - bottom), "length"),
            "string": Figure(found.string_m, "length"),
            "host_stretch": Figure(found.host_m, "length"),
            "limit": limit.text,
        },
        (top, bottom),
        limit,
    )


def _surveyed(case: Case, md_m: float) -> None:
    """Raises MissingInput where the survey does not reach down to a depth, a usual projection granted."""
    depth = case.plan.depth
    reach = depth.path.last_md_m + case.plan.limits["greatest projection"].si
    if not depth.survey_given or not meets(md_m, reach, at_least=False):
        raise MissingInput("survey" if not depth.survey_given else "survey down to hanger and shoe")


def _sharpest(depth: Depths, top_md_m: float, bottom_md_m: float) -> tuple[float, float]:
    """The greatest dogleg between two depths and where it begins."""
    path = depth.path
    places = [top_md_m, *(row[0] for row in path.stations if top_md_m < row[0] < bottom_md_m)]
    at = max(places, key=lambda md: (round(path.dogleg_rad_per_m(md), 12), -md))  # of equals, the first
    return path.dogleg_rad_per_m(at), at


def dogleg_at_hanger(case: Case, subject: Subject) -> Answer:
    """The hole bends where the hanger is to grip or the packer to seal.

    What it checks
        The greatest dogleg severity between the liner top and the base of hanger and packer.
    Why it matters
        Slips load unevenly, the packer's element stands off centre.
    Limit
        Warning over 3 deg/100 ft, in metric wells 3 deg/30 m ('greatest dogleg at hanger'), common practice;
        error over the tool's own 'dogleg limit'.
    Source
        Common practice; the maker's sheet.
    Example
        wrong: without liner.lap; liner.top = 4120 ft; survey.1.inc = 0 deg; survey + {md: 4220 ft, inc: 3.6
            deg,
            azi: 110 deg} before 2
        right: as it stands
        does not apply: without liner.assembly.liner hanger; without liner.assembly.liner top packer
        not checked: without survey
        at the limit, in sollivane-a7: without liner.lap; liner.top = 1000 m;
            limits.greatest dogleg at hanger = 2.5 deg/30 m
    """
    plan = case.plan
    depth = plan.depth
    gripping = _gripping(depth)
    if not gripping:
        return DoesNotApply("the liner has neither hanger nor packer")
    _surveyed(case, max(part.bottom_md_m for part in gripping))
    dogleg, at = _sharpest(depth, depth.liner.top_md_m, max(part.bottom_md_m for part in gripping))
    limit, tool = plan.limits["greatest dogleg at hanger"], plan.job.dogleg_limit_rad_per_m
    over_tool = tool is not None and not meets(dogleg, tool, at_least=False)
    if meets(dogleg, limit.si, at_least=False) and not over_tool:
        return Passed(Figure(dogleg, "dogleg"), limit)
    return Found(
        Severity.ERROR if over_tool else Severity.WARNING,
        "dogleg {dogleg} at the hanger, " + ("the tool's limit {tool}" if over_tool else "{limit} wanted"),
        "At {at}, where the {name} is to hang, the hole bends by {dogleg}; "
        + ("the tool's limit is {tool}." if over_tool else "up to {limit} is wanted ({owner})."),
        "Hang the liner where the hole is straighter.",
        {
            "name": subject.name,
            "at": Figure(at, "depth"),
            "dogleg": Figure(dogleg, "dogleg"),
            "tool": Figure(tool or 0.0, "dogleg"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (max(at, depth.liner.top_md_m),),
        None if over_tool else limit,
    )


def dogleg_over_limit(case: Case, subject: Subject) -> Answer:
    """The hole bends, somewhere on the way, more than pipe or tools are rated for.

    What it checks
        The greatest dogleg severity from the top to the liner shoe against 'dogleg limit' of 'installation'.
    Why it matters
        Hanger assembly, connections and centralizers are bent on the way in and fail there or later.
    Limit
        The file's own: the least of the ratings of pipe body, connection and tools.
    Source
        The makers' sheets; connection tests after API RP 5C5, from memory.
    Example
        wrong: installation.dogleg limit = 0.008 deg/100 ft
        right: installation.dogleg limit = 6 deg/100 ft
        not checked: as it stands
        at the limit, in sollivane-a7: installation.dogleg limit = 2.5 deg/30 m
    """
    plan = case.plan
    _surveyed(case, plan.depth.liner.shoe_md_m)
    rated = plan.job.dogleg_limit_rad_per_m
    if rated is None:
        raise MissingInput("installation.dogleg limit")
    dogleg, at = _sharpest(plan.depth, 0.0, plan.depth.liner.shoe_md_m)
    if meets(dogleg, rated, at_least=False):
        return Passed(Figure(dogleg, "dogleg"))
    return Found(
        Severity.ERROR,
        "dogleg {dogleg} at {at}, rated {rated}",
        "At {at} the hole bends by {dogleg}; pipe and tools of the {name} are rated for {rated}.",
        "Ream the dogleg, or choose pipe and tools rated for it.",
        {
            "name": subject.name,
            "at": Figure(at, "depth"),
            "dogleg": Figure(dogleg, "dogleg"),
            "rated": Figure(rated, "dogleg"),
        },
        (at,),
    )


def assembly_must_flex(case: Case, subject: Subject) -> Answer:
    """The stiff assembly of hanger, packer and receptacle is too long for the bends it is run through.

    What it checks
        The rise of the arc over its length, L2 DLS / 8, at the greatest dogleg from the top to the hanger,
        against the gap between its largest OD and the host's drift.
    Why it matters
        What does not fit straight has to bend: the stress goes into mandrels and threads.
    Limit
        The gap: geometry. The bending stress is given for the maker to judge.
    Source
        Rise of an arc over its chord; bending stress E OD/2 curvature, E 30 million psi.
    Example
        wrong, in sollivane-a7: as it stands
        right: as it stands
        does not apply: without liner.assembly.liner hanger; without liner.assembly.liner top packer
        not checked: without survey
    """
    depth = case.plan.depth
    gripping = _gripping(depth)
    if not gripping:
        return DoesNotApply("the liner has neither hanger nor packer")
    base = max(part.bottom_md_m for part in gripping)
    _surveyed(case, base)
    parts = [part for part in depth.liner.parts if part.bottom_md_m <= base + 1e-6 and part.length_m > 0.0]
    unknown = [f"{part.path}.od" for part in parts if part.od_m is None]
    drift = depth.host.passes_m
    if unknown or drift is None or depth.liner.assembly_assumed:
        raise MissingInput(*(unknown or [f"{depth.host.path}.drift"]))
    largest = max(part.od_m for part in parts if part.od_m is not None)
    length = base - parts[0].top_md_m
    dogleg, at = _sharpest(depth, 0.0, base)
    rise = length * length * dogleg / 8.0
    gap = drift - largest
    if meets(rise, max(gap, 0.0), at_least=False):
        return Passed(Figure(rise, "gap"))
    return Found(
        Severity.WARNING,
        "stiff {length} assembly: {rise} of rise, {gap} of gap",
        "The assembly from the {name} top to the hanger's base is {length} long; the bend of {dogleg} below "
        "{at} asks for {rise}, the gap of its {od} to the drift of the {host} is {gap}. It has to flex: "
        "about {stress} of bending stress.",
        "Hold the stress against the makers' limits; choose a shorter or slimmer assembly.",
        {
            "name": subject.name,
            "length": Figure(length, "length"),
            "rise": Figure(rise, "gap"),
            "gap": Figure(gap, "gap"),
            "dogleg": Figure(dogleg, "dogleg"),
            "at": Figure(at, "depth"),
            "od": Figure(largest, "diameter"),
            "host": depth.host.name,
            "stress": Figure(STEEL_PA * 0.5 * largest * dogleg, "stress"),
        },
        (depth.liner.top_md_m,),
    )


def host_unsound_at_hanger(case: Case, subject: Subject) -> Answer:
    """Hanger or packer stands opposite a place of the host where nothing grips or seals.

    What it checks
        Hanger and packer against the 'features' of the host: perforations, window, stage collar, marks of an
        earlier packer, greatest wear. An empty list says that there are none.
    Why it matters
        No grip, or a leak that no test repairs.
    Limit
        No overlap: geometry.
    Source
        Common practice.
    Example
        wrong: strings.intermediate casing.features + {what: perforations, from: 9490 ft, to: 9499 ft}
        right: strings.intermediate casing.features + {what: stage collar, from: 6000 ft, to: 6003 ft}
        does not apply: without liner.assembly.liner hanger; without liner.assembly.liner top packer
        not checked: as it stands
    """
    depth = case.plan.depth
    gripping = _gripping(depth)
    if not gripping:
        return DoesNotApply("the liner has neither hanger nor packer")
    if depth.host.features is None:
        raise MissingInput(f"{depth.host.path}.features")
    for part in gripping:
        for feature in depth.host.features:
            if part.top_md_m < feature.bottom_md_m and feature.top_md_m < part.bottom_md_m:
                return Found(
                    Severity.ERROR,
                    "{part} opposite {what} of {host}",
                    "The {part} of the {name}, {top} to {bottom}, stands opposite {what} of the {host}, "
                    "{above} to {below}.",
                    "Move the liner top until both stand opposite sound pipe.",
                    {
                        "name": subject.name,
                        "part": part.name,
                        "top": Figure(part.top_md_m, "tally"),
                        "bottom": Figure(part.bottom_md_m, "tally"),
                        "what": feature.what,
                        "host": depth.host.name,
                        "above": Figure(feature.top_md_m, "depth"),
                        "below": Figure(feature.bottom_md_m, "depth"),
                    },
                    (part.top_md_m, part.bottom_md_m),
                    fix=_nearest_moves(
                        case, feature.top_md_m - part.bottom_md_m, feature.bottom_md_m - part.top_md_m
                    ),
                )
    return Passed()


def host_not_cemented(case: Case, subject: Subject) -> Answer:
    """The host is not cemented where the hanger is to grip.

    What it checks
        Top of cement behind the host against the top of the hanger, else of the liner.
    Why it matters
        Slips push the host outward and pressure tests load it: cement behind it takes part of that.
    Limit
        At the hanger or above: common practice.
    Source
        Common practice.
    Example
        wrong: strings.intermediate casing.cement.top = 9498.4 ft
        at the limit: strings.intermediate casing.cement.top = 9498.3 ft
        right: as it stands
        not checked: without strings.intermediate casing.cement
    """
    depth = case.plan.depth
    top = depth.host.cement_top_md_m
    if top is None:
        raise MissingInput(f"{depth.host.path}.cement")
    hanger = depth.liner.find("liner hanger")
    grip = hanger.top_md_m if hanger else depth.liner.top_md_m
    if meets(top, grip, at_least=False):
        return Passed(Figure(grip - top, "length"))
    return Found(
        Severity.WARNING,
        "{host} has no cement at the hanger",
        "Cement behind the {host} stands up to {cement} ({known}); the hanger of the {name} is at {top}, "
        "above it.",
        "Hang the liner deeper, or have the host's ratings checked without support.",
        {
            "name": subject.name,
            "host": depth.host.name,
            "cement": Figure(top, "depth"),
            "known": depth.host.cement_known_by or "basis not stated",
            "top": Figure(grip, "tally"),
        },
        (grip,),
        fix=top_moved(case, top - grip),
    )


def host_worn(case: Case, subject: Subject) -> Answer:
    """Too little of the host's wall is left for slips and tests.

    What it checks
        'wall left' of the host, the least share of its nominal wall after wear.
    Why it matters
        Burst falls with the wall; slips bite into what is left.
    Limit
        87.5 % ('least wall left'): common practice.
    Source
        Common practice; API Spec 5CT allows 12.5 % under nominal wall on new pipe, from memory.
    Example
        wrong: strings.intermediate casing.wall left = 87 %
        at the limit: strings.intermediate casing.wall left = 87.5 %
        right: strings.intermediate casing.wall left = 95 %
        not checked: as it stands
    """
    host = case.plan.depth.host
    if host.wall_left is None:
        raise MissingInput(f"{host.path}.wall left")
    limit = case.plan.limits["least wall left"]
    if meets(host.wall_left, limit.si, at_least=True):
        return Passed(Figure(host.wall_left, "share"), limit)
    return Found(
        Severity.WARNING,
        "{host}: {left} of its wall left",
        "Of the wall of the {host} {left} is left; {limit} or more is wanted for the {name} ({owner}).",
        "Choose another depth by the wear log, or have slips and tests rated for the wall that is there.",
        {
            "name": subject.name,
            "host": host.name,
            "left": Figure(host.wall_left, "share"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (case.plan.depth.liner.top_md_m,),
        limit,
    )


RULES = (
    Rule(
        "slips-near-coupling",
        "distance of the slips from couplings",
        whole_liner,
        slips_near_coupling,
        "the file has no liner",
    ),
    Rule(
        "slip-depth-not-proved", "proof of the slips' depth", whole_liner, slip_depth_not_proved, "no liner"
    ),
    Rule("dogleg-at-hanger", "dogleg at hanger and packer", whole_liner, dogleg_at_hanger, "no liner"),
    Rule("dogleg-over-limit", "doglegs on the way", whole_liner, dogleg_over_limit, "no liner"),
    Rule("assembly-must-flex", "stiff assembly in the bends", whole_liner, assembly_must_flex, "no liner"),
    Rule(
        "host-unsound-at-hanger",
        "state of the host at the hanger",
        whole_liner,
        host_unsound_at_hanger,
        "no liner",
    ),
    Rule(
        "host-not-cemented",
        "cement behind the host at the hanger",
        whole_liner,
        host_not_cemented,
        "no liner",
    ),
    Rule("host-worn", "wall left of the host", whole_liner, host_worn, "no liner"),
)
