"""Rules about the setting pressures: their bands, what they load, what holds the tool, the hanger's load."""

from __future__ import annotations

from collections.abc import Iterable

from schematic.checks.case import Case, Rule, whole_liner
from schematic.engineering.columns import Layer
from schematic.engineering.strength import squeezed
from schematic.job.bounds import COLUMNS, LIFTS, ratings_at
from schematic.job.hanger_load import allowed_n
from schematic.job.setting import BALL_BRANCH, BUMP, EITHER, HANGER, PLUG, SEAT, TOOL, Band, pump_out_n
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


def _pressures(_case: Case) -> tuple[Subject, ...]:
    return (Subject("installation", "setting pressures"),)


def _lacks(case: Case, *names: str) -> tuple[str, ...]:
    """What is needed for those of some bands that the plan has and the file does not give."""
    return tuple(need for one in case.job.setting.missing if one.what in names for need in one.needs)


def _all_known(needs: Iterable[str]) -> None:
    """Raises MissingInput unless nothing is needed: unknown is never passed."""
    if lacks := tuple(dict.fromkeys(needs)):
        raise MissingInput(*lacks)


def bands_too_close(case: Case, subject: Subject) -> Answer:
    """Two setting pressures overlap, or lie closer than a gauge can keep apart.

    What it checks
        Hanger, running tool and ball seat in their order: from the highest pressure that one is taken to, its
        band and the pressure at which it is held, to the lowest of the next. And the packers and collars of
        the liner that move by pressure against each other and against all that reaches them.
    Why it matters
        Where bands overlap the wrong thing happens first: the tool lets go before the hanger holds.
    Limit
        300 psi, 20 bar: common practice ('least gap of bands'). An overlap is an error, a warning where
        nobody says whether the one pressure comes to where the other works.
    Source
        Common practice.
    Example
        wrong: installation.tool releases at = 1700 psi +/- 10 %
        wrong: installation.tool releases at = 2200 psi +/- 10 %
        wrong: liner.assembly + {part: stage collar, length: 2 ft, od: 8.2 in, opens at: 1800 psi}
            before pup joint
        right: as it stands
        right: liner.assembly + {part: stage collar, length: 2 ft, od: 8.2 in, opens at: 5000 psi}
            before pup joint
        at the limit: liner.assembly.liner hanger.held at = 1860 psi
        not checked: without installation.tool releases at
        not checked: liner.assembly + {part: stage collar, length: 2 ft, od: 8.2 in, opens at: 5000 psi}
            before pup joint; without installation.seat; without liner.assembly.landing collar.ball seat;
            without running string.ball
        not checked: without installation.seat; without liner.assembly.landing collar.ball seat;
            without running string.ball
        does not apply: without liner.assembly.liner hanger; without installation.tool releases at;
            installation.tool releases by = turning; without installation.seat;
            without liner.assembly.landing collar.ball seat; without running string.ball
    """
    its = case.job.setting
    lacks = _lacks(case, HANGER, TOOL, SEAT)
    free, ball = ([band for band in its.bands if band.branch == branch] for branch in (EITHER, BALL_BRANCH))
    if free and ball and its.liner_sees_ball is None:
        lacks = (*lacks, "installation.seat")
    limit = case.plan.limits["least gap of bands"]
    pairs = its.neighbours()
    if not pairs:
        _all_known(lacks)
        return DoesNotApply("no two pressures that can be taken for each other")

    def unsure(pair: tuple[Band, Band]) -> bool:
        return its.liner_sees_ball is None and {one.branch for one in pair} == {EITHER, BALL_BRANCH}

    def nearness(pair: tuple[Band, Band]) -> tuple[bool, float]:
        apart = pair[1].low_pa - pair[0].counts_to_pa
        return apart >= 0.0 or unsure(pair), apart  # an error goes before what may be none

    first, second = nearest = min(pairs, key=nearness)
    gap = second.low_pa - first.counts_to_pa
    if not meets(gap, limit.si, at_least=True):
        overlap, may = gap < 0.0, unsure(nearest)
        what = "they overlap." if overlap else "{gap} between them, under {limit} ({owner})."
        doubt = " Whether they meet is not known: where the ball's seat is, is not given." if may else ""
        return Found(
            Severity.ERROR if overlap and not may else Severity.WARNING,
            "{first} up to {high}, {second} from {low}",
            f"{{first}} at up to {{high}}, {{second}} from {{low}}: {what}{doubt}",
            ("Say where the ball's seat is. " if may else "") + "Fit other pins, or hold the first at less.",
            {
                "name": subject.name,
                "first": first.name,
                "second": second.name,
                "high": Figure(first.counts_to_pa, "pressure"),
                "low": Figure(second.low_pa, "pressure"),
                "gap": Figure(gap, "pressure"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (),
            limit,
        )
    _all_known(lacks)
    return Passed(Figure(gap, "pressure"), limit)


def plug_release_like_another(case: Case, subject: Subject) -> Answer:
    """The wiper plug is released at a pressure close to one at which something else lets go.

    What it checks
        The highest pressure of the plug's band against the lowest at which tool and ball seat let go. The
        pressure of the dart's arrival itself is friction, which is not computed.
    Why it matters
        The blip at the calculated volume proves the plug away only when nothing else can make it.
    Limit
        300 psi, 20 bar under them: common practice ('least gap of bands').
    Source
        Common practice.
    Example
        wrong: installation.plug releases at = 1700 psi +/- 10 %
        right: as it stands
        at the limit: installation.plug releases at = {low: 1600 psi, likely: 1700 psi, high: 1860 psi}
        does not apply: without installation.plug releases at; without running string.assembly.wiper plug
        not checked: without installation.plug releases at
    """
    its = case.job.setting
    others = [band for band in its.bands if band.name in (TOOL, SEAT)]
    plug = next((band for band in its.bands if band.name == PLUG), None)
    if plug is None or not others:
        _all_known(_lacks(case, *((PLUG,) if plug is None else (TOOL, SEAT))))
        return DoesNotApply("no plug is released, or nothing else lets go by pressure")
    other = min(others, key=lambda band: band.low_pa)
    limit = case.plan.limits["least gap of bands"]
    gap = other.low_pa - plug.counts_to_pa
    if not meets(gap, limit.si, at_least=True):
        return Found(
            Severity.WARNING,
            "plug releases up to {high}, {other} from {low}",
            "The plug releases at up to {high} and {other} from {low}: a blip may be either; {limit} between "
            "them tell them apart ({owner}).",
            "Fit weaker pins in the plug.",
            {
                "name": subject.name,
                "other": other.name,
                "high": Figure(plug.counts_to_pa, "pressure"),
                "low": Figure(other.low_pa, "pressure"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (),
            limit,
        )
    _all_known(_lacks(case, TOOL, SEAT))
    return Passed(Figure(gap, "pressure"), limit)


def circulating_sets_the_hanger(case: Case, subject: Subject) -> Answer:
    """The circulating limit is close to the pressure that sets the hanger.

    What it checks
        'circulate up to' against a share of the least pressure of the hanger's band.
    Why it matters
        While washing down, friction below the piston adds to the gauge: the hanger sets off depth.
    Limit
        80 %: common practice ('greatest circulating share').
    Source
        Common practice.
    Example
        wrong: installation.circulate up to = 1141 psi
        at the limit: installation.circulate up to = 1140 psi
        right: as it stands
        does not apply: without liner.assembly.liner hanger
        not checked: without installation.circulate up to
        not checked: without liner.assembly.liner hanger.sets at
    """
    hanger = case.plan.depth.liner.find("liner hanger")
    if hanger is None or hanger.hanger_type == "mechanical":
        return DoesNotApply("no hanger is set by pressure")
    sets, circulate = case.plan.job.hanger_sets_pa, case.plan.job.circulate_up_to_pa
    if sets is None:
        raise MissingInput("liner hanger.sets at")
    if circulate is None:
        raise MissingInput("installation.circulate up to")
    limit = case.plan.limits["greatest circulating share"]
    if not meets(circulate, limit.si * sets[1], at_least=False):
        return Found(
            Severity.ERROR,
            "circulate to {circulate}, hanger sets from {low}",
            "Circulation may go to {circulate}, and the hanger sets from {low}: more than {limit} of it "
            "({owner}).",
            "Circulate no higher than {most}, or fit stronger pins.",
            {
                "name": subject.name,
                "circulate": Figure(circulate, "pressure"),
                "low": Figure(sets[1], "pressure"),
                "most": Figure(limit.si * sets[1], "pressure"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (),
            limit,
            (Fix("installation.circulate up to", limit.si * sets[1], -1, "pressure"),),
        )
    return Passed(Figure(circulate / sets[1], "share"), limit)


def pressure_over_rating(case: Case, subject: Subject) -> Answer:
    """A setting pressure is beyond what something that it reaches bears.

    What it checks
        The highest pressure of each band against the limit of the surface equipment, burst of the running
        pipe and of the liner (new pipe body, API formulas), and the ratings that the file gives of tool,
        hanger, packer and landing collar; behind the dart with what the heavier column inside adds at rest.
        The host is not under this pressure. Where all that is known holds, but some is not known, it is not
        checked.
    Why it matters
        What bursts first is not the pin that was meant to shear.
    Limit
        90 % of a rating, 80 % at the bump: common practice ('greatest share of rating', 'greatest share at
        bump'). The limit of the surface equipment counts whole.
    Source
        API TR 5C3, historical formulas; common practice for the shares.
    Example
        wrong: installation.surface pressure limit = 3000 psi
        wrong: liner.assembly.landing collar.bump rating = 1700 psi
        not checked: as it stands
        right: installation.surface pressure limit = 5000 psi;
            running string.assembly.inner string.pressure rating = 9000 psi;
            running string.assembly.running tool.pressure rating = 9000 psi;
            running string.assembly.heavy-weight drill pipe.pressure rating = 9000 psi;
            liner.assembly.liner hanger.bore rating = 9000 psi;
            liner.assembly.liner top packer.pressure rating = 9000 psi;
            liner.assembly.landing collar.bump rating = 5000 psi
        at the limit: installation.surface pressure limit = 3740 psi;
            running string.assembly.inner string.pressure rating = 9000 psi;
            running string.assembly.running tool.pressure rating = 9000 psi;
            running string.assembly.heavy-weight drill pipe.pressure rating = 9000 psi;
            liner.assembly.liner hanger.bore rating = 9000 psi;
            liner.assembly.liner top packer.pressure rating = 9000 psi;
            liner.assembly.landing collar.bump rating = 2187.5 psi
        does not apply: without installation; without liner.assembly.liner hanger; without running string;
            without liner.assembly.landing collar.ball seat
        not checked, in sketch: as it stands
    """
    its = case.job.setting
    lacks = [need for one in its.missing for need in one.needs]
    if not its.bands:
        _all_known(lacks)
        return DoesNotApply("nothing is done by pressure")
    unknown: list[str] = []
    nearest = 0.0
    for band in its.bands:
        limit = case.plan.limits[
            "greatest share at bump" if band.name == BUMP else "greatest share of rating"
        ]
        bounds, without = ratings_at(case.plan, its, band.name)
        unknown += without
        for bound in bounds:
            taken = band.surface.counts_to_pa
            nearest = max(nearest, taken / bound.pressure_pa if bound.pressure_pa > 0.0 else 0.0)
            if not meets(taken, bound.pressure_pa, at_least=False):
                return Found(
                    Severity.ERROR,
                    "{band} to {pressure}, {what} {bound}",
                    "'{band}' goes to {pressure}, more than {bound}: {what} ({limit} of a rating, {owner}).",
                    "Less pressure, or equipment that bears it.",
                    {
                        "name": subject.name,
                        "band": band.name,
                        "pressure": Figure(taken, "pressure"),
                        "bound": Figure(bound.pressure_pa, "pressure"),
                        "what": bound.why,
                        "limit": limit.text,
                        "owner": limit.owner,
                    },
                    (),
                    limit,
                )
    parts = list(dict.fromkeys(name for name in unknown if name != COLUMNS))
    ratings = [f"ratings of {', '.join(parts)}"] if parts else []
    _all_known([*lacks, *ratings, *(COLUMNS for name in unknown if name == COLUMNS)])
    return Passed(Figure(nearest, "share"))


def tool_pumped_out(case: Case, subject: Subject) -> Answer:
    """The weight set down on the tool does not hold it against the pressure under its seal.

    What it checks
        The highest pressure of tool, seat, plug release and bump times the area around which the pack-off
        seals, or the liner's bore where no inner string is there to seal on, against the weight set down,
        which has to be more by a margin.
    Why it matters
        The tool is pumped out of its seal; cement goes where it should not.
    Limit
        10 klbf over the force: common practice ('least set-down margin').
    Source
        Force is pressure times area; common practice for the margin.
    Example
        wrong: installation.set down on tool = 45.9 klbf
        right: as it stands
        right: installation.set down on tool = 46.0 klbf
        at the limit: limits.least set-down margin = 14.016983143945 klbf
        does not apply, in sketch: as it stands
        not checked: without installation.set down on tool
    """
    lacks = _lacks(case, *LIFTS)
    bands = [band for band in case.job.setting.bands if band.name in LIFTS]
    if not bands:
        _all_known(lacks)
        return DoesNotApply("no pressure lifts the tool")
    worst = max(bands, key=lambda band: band.counts_to_pa)
    force = pump_out_n(case.plan, worst.counts_to_pa)
    down = case.plan.job.set_down_on_tool_n
    if down is None:
        raise MissingInput("installation.set down on tool")
    limit = case.plan.limits["least set-down margin"]
    if not meets(down - force, limit.si, at_least=True):
        return Found(
            Severity.ERROR,
            "set-down {down}, pump-out {force}",
            "At {pressure} ('{band}') {force} lifts the tool; {down} set down is not {limit} more ({owner}).",
            "Set down at least {least}.",
            {
                "name": subject.name,
                "down": Figure(down, "force"),
                "force": Figure(force, "force"),
                "pressure": Figure(worst.counts_to_pa, "pressure"),
                "band": worst.name,
                "least": Figure(force + limit.si, "force"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (),
            limit,
            (Fix("installation.set down on tool", force + limit.si, 1, "force"),),
        )
    _all_known(lacks)
    return Passed(Figure(down - force, "force"), limit)


def hanger_overloaded(case: Case, subject: Subject) -> Answer:
    """The hanger carries more in the job than its rating allows.

    What it checks
        Liner in mud with the larger of set-down and pressure on the slick joint, when the seat opens and the
        plug bumps, and with the packer's set-down in cement; against the rating over a factor. Tests are
        looked at by a rule of their own.
    Why it matters
        Slips slide or cut the host.
    Limit
        Rating over 1.25: common practice ('least hanger factor').
    Source
        Common practice; the maker's rating in the actual host rules.
    Example
        wrong: liner.assembly.liner hanger.load rating = 150 klbf
        right: as it stands
        at the limit: liner.assembly.liner hanger.load rating = 153.533484597 klbf
        does not apply: without liner.assembly.liner hanger
        not checked: without liner.assembly.liner hanger.load rating
        not checked: without installation.set down on tool
    """
    if case.plan.depth.liner.find("liner hanger") is None:
        return DoesNotApply("the liner has no hanger")
    allowed = allowed_n(case.plan)
    loads, missing = case.job.hanger_loads
    limit = case.plan.limits["least hanger factor"]
    its = [load for load in loads if not load.name.startswith("in the test")]
    worst = max(its, key=lambda load: load.total_n)
    if not meets(worst.total_n, allowed, at_least=False):
        return Found(
            Severity.ERROR,
            "hanger carries {load}, {words}",
            "The hanger carries {load} {words}; its rating, {rating}, over {limit} ({owner}) is {allowed}.",
            "Less set-down, or a stronger hanger.",
            {
                "name": subject.name,
                "load": Figure(worst.total_n, "force"),
                "words": worst.name,
                "rating": Figure(case.plan.job.hanger_rating_n or 0.0, "force"),
                "allowed": Figure(allowed, "force"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (),
            limit,
        )
    _all_known(name for one in missing for name in one.needs)
    return Passed(Figure(worst.total_n, "force"), limit)


def liner_collapses_at_end(case: Case, subject: Subject) -> Answer:
    """When displacement ends the column outside may collapse the liner.

    What it checks
        By how much the column outside, cement standing highest, outweighs that inside at each depth of the
        liner, no pressure held, against the collapse pressure of its pipe under the weight that hangs there.
    Why it matters
        Heavy cement outside, light fluid inside, and the pressure bled off.
    Limit
        Collapse over 1.1: common practice ('least collapse factor').
    Source
        API TR 5C3, historical formulas, yield strength reduced by the tension.
    Example
        wrong: limits.least collapse factor = 1400 %
        right: as it stands
        at the limit: limits.least collapse factor = 1369.7380844467 %
        does not apply: without cement
        not checked: liner.pipe = 7 in 29 lb/ft
    """
    if not case.plan.cement.slurries:
        return DoesNotApply("nothing is cemented")
    end = case.job.train.at(case.job.train.total_m3)
    worst = squeezed(case.plan, end.inside, end.outside)
    limit = case.plan.limits["least collapse factor"]
    if not meets(worst.factor, limit.si, at_least=True):
        return Found(
            Severity.ERROR,
            "{worst} from outside, liner collapses at {collapse}",
            "At the end of displacement the column outside outweighs that inside by {worst} at {depth}; the "
            "liner collapses at {collapse}, over {limit} ({owner}).",
            "Hold pressure inside, or displace with heavier fluid.",
            {
                "name": subject.name,
                "worst": Figure(worst.outside_over_inside_pa, "pressure"),
                "depth": Figure(worst.md_m, "depth"),
                "collapse": Figure(worst.collapse_pa, "pressure"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (worst.md_m,),
            limit,
        )
    return Passed(Figure(worst.factor, "share"), limit)


def liner_collapses_empty(case: Case, subject: Subject) -> Answer:
    """Empty inside, with the mud in which it was run outside, the liner collapses.

    What it checks
        The column of today's mud outside at each depth of the liner against the collapse pressure of its
        pipe, nothing inside. Whether it will ever be empty the file does not say.
    Why it matters
        Lost circulation below, a gas blow or a dry completion empties it long after the job.
    Limit
        Collapse over 1.0: common practice ('least empty collapse factor').
    Source
        API TR 5C3, historical formulas, yield strength reduced by the tension.
    Example
        wrong: fluids.mud.density = 13.1 ppg
        wrong: liner.pipe = 7 in 29 lb/ft L-80
        right: as it stands
        at the limit: limits.least empty collapse factor = 103.540154742 %
        not checked: liner.pipe = 7 in 29 lb/ft
        not checked: without cement.schedule; without fluids.mud
    """
    mud = case.plan.fluid("mud")
    if mud is None:
        raise MissingInput("a fluid of kind mud")
    liner = case.plan.depth.liner
    bottom = max(case.plan.depth.td_md_m, liner.shoe_md_m)
    outside = (Layer(mud.name, 0.0, bottom, mud.density_kg_per_m3),)
    worst = squeezed(case.plan, (), outside)
    limit = case.plan.limits["least empty collapse factor"]
    if not meets(worst.factor, limit.si, at_least=True):
        return Found(
            Severity.WARNING,
            "empty, the liner sees {worst}, collapses at {collapse}",
            "Empty inside, the {name} sees {worst} of {mud} outside at {depth}; it collapses at {collapse}, "
            "over {limit} ({owner}).",
            "Heavier pipe, or a program that never lets it run empty.",
            {
                "name": subject.name,
                "worst": Figure(worst.outside_over_inside_pa, "pressure"),
                "mud": mud.name,
                "depth": Figure(worst.md_m, "depth"),
                "collapse": Figure(worst.collapse_pa, "pressure"),
                "limit": limit.text,
                "owner": limit.owner,
            },
            (worst.md_m,),
            limit,
        )
    return Passed(Figure(worst.factor, "share"), limit)


RULES: tuple[Rule, ...] = (
    Rule("bands-too-close", "distance between setting pressures", _pressures, bands_too_close, ""),
    Rule(
        "plug-release-like-another",
        "plug release against the other pressures",
        _pressures,
        plug_release_like_another,
        "",
    ),
    Rule(
        "circulating-sets-the-hanger",
        "circulating limit against the hanger's pressure",
        _pressures,
        circulating_sets_the_hanger,
        "",
    ),
    Rule("pressure-over-rating", "setting pressures against ratings", _pressures, pressure_over_rating, ""),
    Rule("tool-pumped-out", "weight on the tool against pump-out force", _pressures, tool_pumped_out, ""),
    Rule("hanger-overloaded", "load on the hanger", whole_liner, hanger_overloaded, ""),
    Rule(
        "liner-collapses-at-end",
        "collapse of the liner when displacement ends",
        whole_liner,
        liner_collapses_at_end,
        "",
    ),
    Rule("liner-collapses-empty", "collapse of the empty liner", whole_liner, liner_collapses_empty, ""),
)
