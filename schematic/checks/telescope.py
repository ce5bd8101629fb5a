"""Rules about strings and hole standing one in another."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, each_section, section_of, whole_liner
from schematic.depth.plan import CasingString
from schematic.job.meeting import HOLE, Meeting, Way
from schematic.job.run_in import outside, through
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
from schematic.units import inch_name

_SAME_DEPTH_M = 0.01  # float arithmetic on depths; common practice
_AGREE_M = 0.3048  # depths from two tallies that are meant to be one; 1 ft, common practice


def _strings(case: Case) -> tuple[Subject, ...]:
    return tuple(Subject(string.path, string.name) for string in case.plan.depth.strings)


def _string(case: Case, subject: Subject) -> CasingString:
    return case.plan.depth.string(subject.name)


def string_upside_down(case: Case, subject: Subject) -> Answer:
    """A string's top is not above its shoe.

    What it checks
        Top and shoe of each string that is in the well.
    Why it matters
        Nothing that is computed from such a string means anything.
    Limit
        Geometry.
    Source
        Geometry.
    Example
        wrong: strings.surface casing.top = 4120 ft
        right: strings.surface casing.top = 4119 ft
    """
    string = _string(case, subject)
    figures: dict[str, Figure | str] = {
        "name": string.name,
        "top": Figure(string.top_md_m, "depth"),
        "shoe": Figure(string.shoe_md_m, "depth"),
    }
    if string.top_md_m < string.shoe_md_m:
        return Passed()
    return Found(
        Severity.ERROR,
        "{name}: top {top} is not above shoe {shoe}",
        "The {name} has its top at {top} and its shoe at {shoe}: the shoe must be deeper.",
        "Exchange them, or check the digits.",
        figures,
        (string.shoe_md_m,),
    )


def _passing(case: Case) -> tuple[Subject, ...]:
    return (*_strings(case), *whole_liner(case))


def _ways(case: Case, subject: Subject) -> tuple[Way, ...]:
    """The widest places of a string, or of each part of the liner, with what they go through."""
    if subject.path == "liner":
        return case.job.passage.liner
    return outside(case.plan.depth, _string(case, subject))


def _through(case: Case, subject: Subject) -> tuple[CasingString, ...]:
    return through(case.plan.depth, None if subject.path == "liner" else _string(case, subject))


def _known(ways: tuple[Way, ...]) -> list[tuple[float, Meeting]]:
    """What is clear in each bore, where it is known."""
    return [(m.clear_m, m) for way in ways for m in way.meetings if m.clear_m is not None]


def string_does_not_pass(case: Case, subject: Subject) -> Answer:
    """A string's outside diameter does not pass a string or the hole that it goes through.

    What it checks
        Coupling OD of each string, and every part of the liner, against the drift of each string on its way
        and, for what goes into open hole, against the hole: bit size, or less where a caliper found less. An
        average washout proves no passage. Drift, not inside diameter, is what pipe is proven to pass.
    Why it matters
        It cannot be run.
    Limit
        A gap of nought or more to the drift and to the hole.
    Source
        Drift: API 5CT / ISO 11960. A larger drift counts when the file names its certificate.
    Example
        wrong: liner.assembly.liner hanger.od = 8.526 in
        at the limit: liner.assembly.liner hanger.od = 8.525 in
        right: as it stands
        does not apply: strings.conductor.driven = yes
        not checked: without liner.assembly.liner hanger.od
    """
    driven = subject.path != "liner" and _string(case, subject).driven
    if not _through(case, subject) and driven:
        return DoesNotApply("it was driven and runs through no string")
    ways = _ways(case, subject)
    for way in ways:
        stuck = way.blocked
        if stuck is None:
            continue
        thing, bore = stuck.thing, stuck.bore
        figures: dict[str, Figure | str] = {
            "part": thing.name,
            "name": subject.name,
            "od": Figure(thing.size_m or 0.0, "diameter"),
            "bore": Figure(bore.passes_m or 0.0, "diameter"),
            "other": bore.name,
        }
        if bore.path == HOLE:
            return Found(
                Severity.ERROR,
                "{part} {od} over {bore} hole",
                "The {part} of the {name} is {od}, the hole that it goes through {bore} (bit size, or "
                "less by caliper): it cannot be run.",
                "Choose a smaller pipe or part, or a larger bit; check the caliper.",
                figures,
                (thing.to_md_m,),
            )
        return Found(
            Severity.ERROR,
            "{part} {od} over drift {bore} of {other}",
            "The {part} of the {name} is {od}; the {other} passes {bore} (its drift): it cannot be run.",
            "Choose a smaller connection or part; a larger drift of the {other} counts with its certificate.",
            figures,
            (case.plan.depth.string(bore.name).shoe_md_m,),
        )
    unknown = [name for way in ways for name in way.needs]
    if unknown:
        raise MissingInput(*dict.fromkeys(unknown))
    gaps = [clear for clear, _meeting in _known(ways)]
    if not gaps:
        return DoesNotApply("there is nothing that it runs through")
    return Passed(Figure(min(gaps), "gap"))


def gap_to_drift_small(case: Case, subject: Subject) -> Answer:
    """A string or part passes the drift of a string on its way, but with little to spare.

    What it checks
        Drift less the largest OD that has to pass it, for each string and for the liner.
    Why it matters
        Debris, ovality and wear take a small gap away; swab and surge grow in it.
    Limit
        1/8 in, in metric wells 3 mm: common practice ('least gap to drift').
    Source
        Common practice.
    Example
        wrong: liner.assembly.liner hanger.od = 8.401 in
        at the limit: liner.assembly.liner hanger.od = 8.4 in
        right: as it stands
        does not apply: strings.conductor.driven = yes
        not checked: without liner.assembly.liner hanger.od
    """
    if not _through(case, subject):
        return DoesNotApply("it runs through no string")
    limit = case.plan.limits["least gap to drift"]
    ways = _ways(case, subject)
    gaps = [(clear, met) for clear, met in _known(ways) if met.bore.path != HOLE]
    if gaps:
        gap, met = min(gaps, key=lambda entry: entry[0])
        if gap < 0.0 and not meets(gap, 0.0, at_least=True):
            return DoesNotApply("it does not pass at all")
        if not meets(gap, limit.si, at_least=True):
            return Found(
                Severity.WARNING,
                "{part} to drift of {other}: gap {gap}, {limit} wanted",
                "The {part} of the {name} has a gap of {gap} on diameter to the drift of the {other}; "
                "{limit} or more is wanted ({owner}).",
                "Choose a smaller connection or part, or prove the way with a drift run of that size.",
                {
                    "part": met.thing.name,
                    "name": subject.name,
                    "gap": Figure(gap, "gap"),
                    "other": met.bore.name,
                    "limit": limit.text,
                    "owner": limit.owner,
                },
                (met.bore.bottom_md_m,),
                limit,
            )
    unknown = [name for way in ways for name in way.needs]
    if unknown:
        raise MissingInput(*dict.fromkeys(unknown))
    if not gaps:
        return DoesNotApply("there is nothing that it runs through")
    return Passed(Figure(gap, "gap"), limit)


def gap_in_hole_small(case: Case, subject: Subject) -> Answer:
    """The hole leaves little room around the liner's couplings and parts for mud and cement.

    What it checks
        The narrowest hole below the host (bit size, or less by caliper) less the largest OD of what goes into
        it, on diameter.
    Why it matters
        A narrow annulus turns the pump rate into pressure: losses while cementing, poor mud removal.
    Limit
        Warning under 1.0 in ('least gap in hole'), error under 0.5 in ('least gap in hole at all'): common
        practice.
    Source
        Common practice; Barker, SPE/IADC 37615 (1997), abstract: why old clearance rules were not critical
        when the margin between pore and fracture pressure was wide, and now are.
    Example
        wrong: as it stands
        at the limit: hole.2.bit = 8.656 in
        right: hole.2.bit = 8.75 in
        does not apply: liner.lap = 370 ft; without liner.off bottom; liner.shoe = 9840 ft
        not checked: hole.2.bit = 8.75 in; without liner.assembly.float shoe.od
    """
    depth = case.plan.depth
    if depth.liner.shoe_md_m <= depth.host.shoe_md_m + _SAME_DEPTH_M:
        return DoesNotApply("the liner does not go into open hole")
    wanted, least = case.plan.limits["least gap in hole"], case.plan.limits["least gap in hole at all"]
    met = [
        m for way in _ways(case, subject) for m in way.meetings if m.bore.path == HOLE and not m.thing.fills
    ]
    gaps = [(m.clear_m, m) for m in met if m.clear_m is not None]
    if gaps:
        gap, tightest = min(gaps, key=lambda entry: entry[0])
        if gap < 0.0 and not meets(gap, 0.0, at_least=True):
            return DoesNotApply("it does not pass at all")
        severe = not meets(gap, least.si, at_least=True)
        limit = least if severe else wanted
        if not meets(gap, limit.si, at_least=True):
            return Found(
                Severity.ERROR if severe else Severity.WARNING,
                "{part} in {hole} hole: gap {gap}, {limit} wanted",
                "The {part} of the {name} has a gap of {gap} on diameter in the {hole} hole; {limit} or "
                "more is wanted ({owner}).",
                "Choose a smaller connection or a larger bit, or treat it as a special job: rate, fluids, "
                "centralizers.",
                {
                    "part": tightest.thing.name,
                    "name": subject.name,
                    "gap": Figure(gap, "gap"),
                    "hole": Figure(tightest.bore.passes_m or 0.0, "diameter"),
                    "limit": limit.text,
                    "owner": limit.owner,
                },
                (tightest.thing.to_md_m,),
                limit,
            )
    unknown = [name for m in met for name in m.needs]
    if unknown:
        raise MissingInput(*dict.fromkeys(unknown))
    if not gaps:
        return DoesNotApply("the liner stands inside casing all the way")
    return Passed(Figure(gap, "gap"), wanted)


def bit_larger_than_drift(case: Case, subject: Subject) -> Answer:
    """A bit is larger than the drift of a string it is run through.

    What it checks
        The bit of each hole section against every string set before it was drilled.
    Why it matters
        The hole cannot be drilled with that bit; inside diameter proves nothing, drift does.
    Limit
        Bit size at most the drift; a special drift counts when the file names its certificate.
    Source
        Drift: API 5CT / ISO 11960; alternative drift must be ordered and proven.
    Example
        wrong: hole.2.bit = 8.526 in
        at the limit: hole.2.bit = 8.525 in
        right: as it stands
        does not apply: without strings.conductor.driven; strings.conductor.shoe = 3000 ft
        wrong, in sollivane-a7: as it stands
        right, in sollivane-a7: strings.production casing.special drift.certificate = DC-118
        not checked, in sollivane-a7: strings.production casing.special drift.certificate = DC-118;
            without strings.conductor.drift
    """
    section = section_of(case, subject)
    above: list[CasingString] = []
    for string in case.plan.depth.strings:  # in the order in which they were run
        if string.shoe_md_m > section.top_md_m + _AGREE_M:
            break  # this one stands in the section or below it: it and all later ones were run after it
        above.append(string)
    if not above:
        return DoesNotApply("no string was set before this section was drilled")
    gaps: list[float] = []
    unknown: list[str] = []
    for string in above:
        drift = string.passes_m
        if drift is None:
            unknown.append(f"{string.path}.drift")
            continue
        if meets(section.bit_m, drift, at_least=False):
            gaps.append(drift - section.bit_m)
            continue
        claimed = string.special_drift_m is not None and meets(
            section.bit_m, string.special_drift_m, at_least=False
        )
        its = ", {bit_od}," if inch_name(section.bit_m) else ""  # else its size is that figure
        headline = f"{{bit}} bit{its} over drift {{drift}} of {{name}}"
        what = f"The {{bit}} bit{its} is larger than the drift of the {{name}}, {{drift}}."
        mend = "Use a smaller bit, or pipe of a larger drift ordered and certified ('special drift')."
        if claimed:
            what += " A special drift of {special} is stated, but no certificate for it."
            mend = "Name the certificate under 'special drift', or use a smaller bit."
        return Found(
            Severity.ERROR,
            headline,
            what,
            mend,
            {
                "bit": Figure(section.bit_m, "size"),
                "bit_od": Figure(section.bit_m, "diameter"),
                "drift": Figure(drift, "diameter"),
                "name": string.name,
                "special": Figure(string.special_drift_m or 0.0, "diameter"),
            },
            (string.shoe_md_m,),
        )
    if unknown:
        raise MissingInput(*unknown)
    return Passed(Figure(min(gaps), "gap"))


def hole_not_contiguous(case: Case, subject: Subject) -> Answer:
    """A hole section leaves a gap or an overlap, or widens downward without being under-reamed.

    What it checks
        Each section begins where the one above ends, and its bit passes the hole above it. Hole may be wider
        below only by under-reaming ('under reamed to').
    Why it matters
        Volumes are integrals over the hole: a gap loses volume, an overlap counts it twice.
    Limit
        0.01 m; geometry.
    Source
        Geometry.
    Example
        wrong: hole.2.from = 9900 ft
        at the limit: hole.2.from = 9850.03 ft
        right: as it stands
        does not apply: as it stands
    """
    sections = case.plan.depth.hole.sections
    section = section_of(case, subject)
    index = sections.index(section)
    if index == 0:
        return DoesNotApply("the first section has none above it")
    above = sections[index - 1]
    figures: dict[str, Figure | str] = {
        "bit": Figure(section.bit_m, "size"),
        "top": Figure(section.top_md_m, "depth"),
        "above": Figure(above.bottom_md_m, "depth"),
        "above_bit": Figure(above.size_m, "size"),
        "difference": Figure(abs(section.top_md_m - above.bottom_md_m), "length"),
    }
    if not meets(abs(section.top_md_m - above.bottom_md_m), _SAME_DEPTH_M, at_least=False):
        gap = "a gap" if section.top_md_m > above.bottom_md_m else "an overlap"
        return Found(
            Severity.ERROR,
            f"{{bit}} hole: {gap} of {{difference}} at {{above}}",
            f"The {{bit}} hole begins at {{top}}, the {{above_bit}} hole ends at {{above}}: {gap} of "
            "{difference}.",
            "Leave 'from' out: a section begins where the one above ends.",
            figures,
            (above.bottom_md_m, section.top_md_m),
            fix=(Fix(f"{section.path}.from", above.bottom_md_m),),
        )
    if not meets(section.bit_m, above.size_m, at_least=False):
        return Found(
            Severity.ERROR,
            "{bit} bit below {above_bit} hole",
            "The hole widens from {above_bit} to {bit} at {top}: a bit of that size does not get there.",
            "Give the bit that passed, and 'under reamed to' for the opened hole; or check the sizes.",
            figures,
            (section.top_md_m,),
        )
    return Passed()


def strings_out_of_order(case: Case, subject: Subject) -> Answer:
    """A string is listed after a smaller one beside which it would have to be run.

    What it checks
        Strings are listed in the order in which they were run: none may be larger than one that already
        stands at some of its depths.
    Why it matters
        The order says what each bit and each string has to pass.
    Limit
        Geometry.
    Source
        Geometry.
    Example
        wrong: strings + {name: late casing, pipe: 13 3/8 in 68 lb/ft K-55, shoe: 3000 ft}
        right: as it stands
    """
    strings = case.plan.depth.strings
    string = _string(case, subject)
    for earlier in strings[: strings.index(string)]:
        beside = string.top_md_m < earlier.shoe_md_m and earlier.top_md_m < string.shoe_md_m
        if beside and string.od_m > earlier.od_m:
            return Found(
                Severity.ERROR,
                "{name} listed after the smaller {earlier}",
                "The {name}, {od}, is listed after the {earlier}, {smaller}, which stands where it would be "
                "run.",
                "List the strings in the order in which they were run.",
                {
                    "name": string.name,
                    "od": Figure(string.od_m, "size"),
                    "earlier": earlier.name,
                    "smaller": Figure(earlier.od_m, "size"),
                },
                (string.shoe_md_m,),
            )
    return Passed()


RULES = (
    Rule(
        "strings-out-of-order", "order of strings", _strings, strings_out_of_order, "the file has no strings"
    ),
    Rule(
        "string-upside-down",
        "top and shoe of strings",
        _strings,
        string_upside_down,
        "the file has no strings",
    ),
    Rule(
        "string-does-not-pass",
        "passage of strings",
        _passing,
        string_does_not_pass,
        "the file has no strings",
    ),
    Rule("gap-to-drift-small", "gap to the drift", _passing, gap_to_drift_small, "the file has no strings"),
    Rule("gap-in-hole-small", "gap of the liner in the hole", whole_liner, gap_in_hole_small, "no liner"),
    Rule(
        "bit-larger-than-drift",
        "passage of bits",
        each_section,
        bit_larger_than_drift,
        "the file has no hole",
    ),
    Rule(
        "hole-not-contiguous",
        "continuity of the hole",
        each_section,
        hole_not_contiguous,
        "the file has no hole",
    ),
)
