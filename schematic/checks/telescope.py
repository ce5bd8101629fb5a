"""Rules about strings and hole standing one in another."""

from __future__ import annotations

from typing import NamedTuple

from schematic.checks.case import Case, Rule, drift_m, each_section, section_of, whole_liner
from schematic.depth.plan import CasingString
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


class _Body(NamedTuple):
    """What has to pass: its name, its OD or None, the path that would give it, how deep it goes."""

    name: str
    od_m: float | None
    path: str
    to_md_m: float
    fills: bool = False  # made to come near the wall: rigid centralizer, external packer


def _bodies(case: Case, subject: Subject) -> tuple[_Body, ...]:
    """The widest places of a string or of each part of the liner: pipe has couplings, parts have an OD."""
    if subject.path != "liner":
        string = _string(case, subject)
        return (
            _Body("pipe", string.od_m, f"{string.path}.od", string.shoe_md_m),
            _Body("coupling", string.coupling_od_m, f"{string.path}.coupling od", string.shoe_md_m),
        )
    liner = case.plan.depth.liner
    made = [_Body("pipe", liner.od_m, "liner.od", liner.shoe_md_m)]
    for part in liner.parts:
        is_pipe = part.kind in ("joint", "pup joint")
        if not is_pipe and (part.length_m > 0.0 or part.rigid):
            path = "liner.assembly" if liner.assembly_assumed else f"{part.path}.od"
            fills = part.kind in ("centralizer", "external packer")
            made.append(_Body(part.name, part.od_m, path, part.bottom_md_m, fills))
        if is_pipe:
            made.append(_Body("coupling", part.coupling_od_m, "liner.coupling od", part.bottom_md_m))
        elif part.coupling_od_m is not None:
            made.append(_Body(f"coupling of the {part.name}", part.coupling_od_m, "", part.bottom_md_m))
    return tuple(made)


def _through(case: Case, subject: Subject) -> tuple[CasingString, ...]:
    """The strings through which one is run: the file lists strings in the order in which they were run."""
    depth = case.plan.depth
    if subject.path == "liner":
        return tuple(other for other in depth.strings if other.top_md_m < depth.liner.shoe_md_m)
    string = _string(case, subject)
    rank = depth.strings.index(string)
    return tuple(
        other
        for index, other in enumerate(depth.strings)
        if other.top_md_m < string.shoe_md_m
        # a larger one was there before; of the others, those set shallower that the file lists before
        and (other.od_m > string.od_m or (index < rank and other.shoe_md_m < string.shoe_md_m))
    )


def _open_from_m(case: Case, subject: Subject) -> float:
    """Where the hole begins in which a string stands: below all strings that it is run through."""
    shoes = (other.shoe_md_m for other in _through(case, subject))
    return max(shoes, default=case.plan.depth.hole.diameter_m.top_m)


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
    depth = case.plan.depth
    through = _through(case, subject)
    open_from = _open_from_m(case, subject)
    driven = subject.path != "liner" and _string(case, subject).driven
    if not through and driven:
        return DoesNotApply("it was driven and runs through no string")
    unknown: list[str] = []
    gaps: list[float] = []
    for body in _bodies(case, subject):
        if body.od_m is None:
            unknown.append(body.path)
            continue
        figures: dict[str, Figure | str] = {
            "part": body.name,
            "name": subject.name,
            "od": Figure(body.od_m, "diameter"),
        }
        for other in through:
            drift = drift_m(other)
            if other.top_md_m >= body.to_md_m:
                continue
            if drift is None:
                unknown.append(f"{other.path}.drift")
                continue
            gaps.append(drift - body.od_m)
            if not meets(body.od_m, drift, at_least=False):
                return Found(
                    Severity.ERROR,
                    "{part} {od} over drift {drift} of {other}",
                    "The {part} of the {name} is {od}; the {other} passes {drift} (its drift): it cannot be "
                    "run.",
                    "Choose a smaller connection or part; a larger drift of the {other} counts with its "
                    "certificate.",
                    {**figures, "drift": Figure(drift, "diameter"), "other": other.name},
                    (other.shoe_md_m,),
                )
        hole = None if driven else depth.hole.passes_m(open_from, body.to_md_m)
        if hole is None:
            continue
        gaps.append(hole - body.od_m)
        if not meets(body.od_m, hole, at_least=False):
            return Found(
                Severity.ERROR,
                "{part} {od} over {hole} hole",
                "The {part} of the {name} is {od}, the hole that it goes through {hole} (bit size, or "
                "less by caliper): it cannot be run.",
                "Choose a smaller pipe or part, or a larger bit; check the caliper.",
                {**figures, "hole": Figure(hole, "diameter")},
                (body.to_md_m,),
            )
    if unknown:
        raise MissingInput(*dict.fromkeys(unknown))
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
    through = _through(case, subject)
    if not through:
        return DoesNotApply("it runs through no string")
    limit = case.plan.limits["least gap to drift"]
    unknown = [f"{other.path}.drift" for other in through if drift_m(other) is None]
    gaps: list[tuple[float, str, CasingString]] = []
    for body in _bodies(case, subject):
        if body.od_m is None:
            unknown.append(body.path)
            continue
        gaps += [
            (drift - body.od_m, body.name, other)
            for other in through
            if other.top_md_m < body.to_md_m and (drift := drift_m(other)) is not None
        ]
    if gaps:
        gap, part, other = min(gaps, key=lambda entry: entry[0])
        if gap < 0.0 and not meets(gap, 0.0, at_least=True):
            return DoesNotApply("it does not pass at all")
        if not meets(gap, limit.si, at_least=True):
            return Found(
                Severity.WARNING,
                "{part} to drift of {other}: gap {gap}",
                "The {part} of the {name} has a gap of {gap} on diameter to the drift of the {other}; "
                "{limit} or more is wanted ({owner}).",
                "Choose a smaller connection or part, or prove the way with a drift run of that size.",
                {
                    "part": part,
                    "name": subject.name,
                    "gap": Figure(gap, "gap"),
                    "other": other.name,
                    "limit": limit.text,
                    "owner": limit.owner,
                },
                (other.shoe_md_m,),
                limit,
            )
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
    gaps: list[tuple[float, str, float]] = []
    unknown: list[str] = []
    for body in _bodies(case, subject):
        hole = depth.hole.passes_m(_open_from_m(case, subject), body.to_md_m)
        if hole is None or body.fills:
            continue
        if body.od_m is None:
            unknown.append(body.path)
        else:
            gaps.append((hole - body.od_m, body.name, hole))
    if gaps:
        gap, part, hole = min(gaps, key=lambda entry: entry[0])
        if gap < 0.0 and not meets(gap, 0.0, at_least=True):
            return DoesNotApply("it does not pass at all")
        severe = not meets(gap, least.si, at_least=True)
        limit = least if severe else wanted
        if not meets(gap, limit.si, at_least=True):
            return Found(
                Severity.ERROR if severe else Severity.WARNING,
                "{part} in {hole} hole: gap {gap}",
                "The {part} of the {name} has a gap of {gap} on diameter in the {hole} hole; {limit} or "
                "more is wanted ({owner}).",
                "Choose a smaller connection or a larger bit, or treat it as a special job: rate, fluids, "
                "centralizers.",
                {
                    "part": part,
                    "name": subject.name,
                    "gap": Figure(gap, "gap"),
                    "hole": Figure(hole, "diameter"),
                    "limit": limit.text,
                    "owner": limit.owner,
                },
                (depth.liner.shoe_md_m,),
                limit,
            )
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
        drift = drift_m(string)
        if drift is None:
            unknown.append(f"{string.path}.drift")
            continue
        if meets(section.bit_m, drift, at_least=False):
            gaps.append(drift - section.bit_m)
            continue
        claimed = string.special_drift_m is not None and meets(
            section.bit_m, string.special_drift_m, at_least=False
        )
        headline = "{bit} bit, {bit_od}, over drift {drift} of {name}"
        what = "The {bit} bit, {bit_od}, is larger than the drift of the {name}, {drift}."
        mend = "Use a smaller bit, or pipe of a larger drift ordered and certified ('special drift')."
        if claimed:
            headline += "; no certificate"
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
    Rule("strings-out-of-order", _strings, strings_out_of_order, "the file has no strings"),
    Rule("string-upside-down", _strings, string_upside_down, "the file has no strings"),
    Rule("string-does-not-pass", _passing, string_does_not_pass, "the file has no strings"),
    Rule("gap-to-drift-small", _passing, gap_to_drift_small, "the file has no strings"),
    Rule("gap-in-hole-small", whole_liner, gap_in_hole_small, "no liner"),
    Rule("bit-larger-than-drift", each_section, bit_larger_than_drift, "the file has no hole"),
    Rule("hole-not-contiguous", each_section, hole_not_contiguous, "the file has no hole"),
)
