"""Rules about the survey and about depths that two people measured."""

from __future__ import annotations

import math

from schematic.checks.case import Case, Rule, section_of
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

_CURVED_RAD_PER_M = math.radians(0.5) / 30.0  # a leg that bends less is taken as a tangent


def _survey(_case: Case) -> tuple[Subject, ...]:
    return (Subject("survey", "survey"),)


def survey_ends_above_bottom(case: Case, subject: Subject) -> Answer:
    """The hole below the last survey station is a longer projection than is usual.

    What it checks
        Depth of the last station against the bottom of the hole; below it the path is taken as straight.
    Why it matters
        The survey tool is behind the bit; what is projected is not known, and TVD and doglegs with it.
    Limit
        100 ft, in metric wells 30 m: common practice ('greatest projection').
    Source
        Common practice.
    Example
        wrong: survey.3.md = 12499.9 ft
        at the limit: survey.3.md = 12500 ft
        right: as it stands
        not checked: without survey
    """
    depth = case.plan.depth
    if not depth.survey_given:
        raise MissingInput("survey")
    limit = case.plan.limits["greatest projection"]
    beyond = depth.td_md_m - depth.path.last_md_m
    if meets(beyond, limit.si, at_least=False):
        return Passed(Figure(max(beyond, 0.0), "length"), limit)
    return Found(
        Severity.WARNING,
        "survey ends at {last}, {beyond} above hole bottom",
        "The {name} ends at {last}, {beyond} above the bottom of the hole at {td}; up to {limit} is usual "
        "({owner}). The path below is straight on paper only.",
        "Add the stations down to the bottom, or a projection that somebody stands for.",
        {
            "name": subject.name,
            "last": Figure(depth.path.last_md_m, "depth"),
            "td": Figure(depth.td_md_m, "depth"),
            "beyond": Figure(beyond, "length"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (depth.path.last_md_m,),
        limit,
    )


def stations_far_apart(case: Case, subject: Subject) -> Answer:
    """Survey stations are too far apart to show doglegs.

    What it checks
        The distance between stations where the hole bends by 0.5 degrees per 30 m or more; in a well that is
        as run, also in tangents.
    Why it matters
        Between two stations the path is one arc on paper; what it does in the rock stays hidden.
    Limit
        100 ft in curves ('station spacing in curves') and 300 ft in tangents ('station spacing in tangents');
        in metric wells 30 and 90 m: common practice.
    Source
        Common practice.
    Example
        wrong, in sollivane-a7: as it stands
        right: as it stands
        not checked: without survey
        at the limit, in sollivane-a7: limits.station spacing in curves = 90 m
        does not apply: without survey.3; without survey.2; without survey.1
    """
    plan = case.plan
    if not plan.depth.survey_given:
        raise MissingInput("survey")
    rows = plan.depth.path.stations
    if len(rows) < 2:
        return DoesNotApply("there is one station alone")
    worst: tuple[float, float, float, str] | None = None
    for above, below in zip(rows, rows[1:], strict=False):
        curved = plan.depth.path.dogleg_rad_per_m(above[0]) >= _CURVED_RAD_PER_M
        if not curved and plan.identity.state != "as run":
            continue
        name = "station spacing in curves" if curved else "station spacing in tangents"
        over = (below[0] - above[0]) / plan.limits[name].si
        if worst is None or over > worst[0] * (1.0 + 1e-9):  # of equals, the first
            worst = (over, above[0], below[0], name)
    if worst is None:
        return Passed()
    _over, top, bottom, name = worst
    limit = plan.limits[name]
    if meets(bottom - top, limit.si, at_least=False):
        return Passed(Figure(bottom - top, "length"), limit)
    return Found(
        Severity.ADVICE,
        "survey stations {apart} apart below {top}, {limit} is usual",
        f"Two stations of the {{name}}, at {{top}} and {{bottom}}, are {{apart}} apart in a "
        f"{'curve' if name.endswith('curves') else 'tangent'}; {{limit}} or less is usual ({{owner}}).",
        "Add the stations between them.",
        {
            "name": subject.name,
            "top": Figure(top, "depth"),
            "bottom": Figure(bottom, "depth"),
            "apart": Figure(bottom - top, "length"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (top, bottom),
        limit,
    )


def bend_not_plausible(case: Case, subject: Subject) -> Answer:
    """Two survey stations ask for a bend that no hole has.

    What it checks
        The dogleg severity between each two stations.
    Why it matters
        An azimuth turned round, or two exchanged columns, bends the path and spoils TVD and all below it.
    Limit
        20 deg/30 m ('greatest bend'): common practice.
    Source
        Common practice.
    Example
        wrong, in sollivane-a7: survey.5.azi = 295 deg
        at the limit, in sollivane-a7: limits.greatest bend = 2.5 deg/30 m
        right: as it stands
        not checked: without survey
    """
    plan = case.plan
    if not plan.depth.survey_given:
        raise MissingInput("survey")
    limit = plan.limits["greatest bend"]
    path = plan.depth.path
    at = max((row[0] for row in path.stations), key=lambda md: (round(path.dogleg_rad_per_m(md), 12), -md))
    bend = path.dogleg_rad_per_m(at)
    if meets(bend, limit.si, at_least=False):
        return Passed(Figure(bend, "dogleg"), limit)
    return Found(
        Severity.ERROR,
        "survey bends {bend} below {at}",
        "Below {at} the {name} asks for a bend of {bend}; no hole bends more than {limit} ({owner}).",
        "Check inclination, azimuth and depth of the two stations there.",
        {
            "name": subject.name,
            "bend": Figure(bend, "dogleg"),
            "at": Figure(at, "depth"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (at,),
        limit,
    )


def _logged(case: Case) -> tuple[Subject, ...]:
    sections = case.plan.depth.hole.sections
    return tuple(Subject(s.path, "hole section") for s in sections if s.logged_to_md_m is not None)


def logger_disagrees(case: Case, subject: Subject) -> Answer:
    """The logger's depth of a hole bottom differs from the driller's by more than stretch explains.

    What it checks
        'logged to' of a hole section against its 'to'.
    Why it matters
        Couplings and reservoir tops come by the logger's depth, pipe is run by the driller's: slips end up on
        a coupling, cement below a sand.
    Limit
        1 in 1000 of the depth: common practice.
    Source
        Common practice.
    Example
        wrong: hole.2.logged to = 12587 ft
        at the limit: hole.2.logged to = 12587.4 ft
        right: hole.2.logged to = 12595 ft
        does not apply: as it stands
    """
    section = section_of(case, subject)
    assert section.logged_to_md_m is not None
    apart = abs(section.logged_to_md_m - section.bottom_md_m)
    if meets(apart, 0.001 * section.bottom_md_m, at_least=False):
        return Passed(Figure(apart, "length"))
    return Found(
        Severity.WARNING,
        "hole bottom {driller} by driller, {logger} by logger",
        "The {name} ends at {driller} by the driller and at {logger} by the logger: {apart} apart, more than "
        "1 in 1000.",
        "Say which depth rules, and correct what was measured by the other (couplings, tops, caliper).",
        {
            "name": subject.name,
            "driller": Figure(section.bottom_md_m, "tally"),
            "logger": Figure(section.logged_to_md_m, "tally"),
            "apart": Figure(apart, "length"),
        },
        (section.bottom_md_m,),
    )


RULES = (
    Rule("survey-ends-above-bottom", "reach of the survey", _survey, survey_ends_above_bottom, "no survey"),
    Rule("stations-far-apart", "spacing of survey stations", _survey, stations_far_apart, "no survey"),
    Rule("bend-not-plausible", "bends of the survey", _survey, bend_not_plausible, "no survey"),
    Rule(
        "logger-disagrees",
        "logger's depth against driller's",
        _logged,
        logger_disagrees,
        "the file states no logger's depth of a hole bottom",
    ),
)
