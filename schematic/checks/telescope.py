"""Rules about strings and hole standing one in another."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, drift_m, whole_liner
from schematic.depth.plan import CasingString, HoleSection
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
_SHOE_RATHOLE_M = 30.0  # a shoe this little below the top of a section was set before it was drilled


def _strings(case: Case) -> tuple[Subject, ...]:
    return tuple(Subject(string.path, string.name) for string in case.plan.depth.strings)


def _string(case: Case, subject: Subject) -> CasingString:
    return case.plan.depth.string(subject.name)


def _sections(case: Case) -> tuple[Subject, ...]:
    return tuple(Subject(section.path, "hole section") for section in case.plan.depth.hole.sections)


def _section(case: Case, subject: Subject) -> HoleSection:
    return next(s for s in case.plan.depth.hole.sections if s.path == subject.path)


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
        'top: 9850 ft' with 'shoe: 0 ft' is wrong; exchanged it is right.
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


def string_does_not_pass(case: Case, subject: Subject) -> Answer:
    """A string's largest outside diameter does not pass a string or the hole that it goes through.

    What it checks
        Coupling OD of each string, and for the liner every part, against the drift of each string that it
        runs through and the narrowest hole that it stands in. Drift, not inside diameter, is what pipe is
        proven to pass.
    Why it matters
        It cannot be run.
    Limit
        A gap of nought or more to the drift and to the hole.
    Source
        Drift: API 5CT / ISO 11960. A larger drift counts when the file names its certificate.
    Example
        A hanger of 8.400 in through 9 5/8 in 53.5 lb/ft (drift 8.379 in) is wrong; 8.312 in is right.
    """
    depth = case.plan.depth
    if subject.path == "liner":
        end = depth.liner.shoe_md_m
        through = [other for other in depth.strings if other.top_md_m < end]
    else:
        string = _string(case, subject)
        end, rank = string.shoe_md_m, depth.strings.index(string)
        through = [
            other
            for index, other in enumerate(depth.strings)
            if other.top_md_m < end
            # a larger one was there before; of the others, those set shallower that the file lists before
            and (other.od_m > string.od_m or (index < rank and other.shoe_md_m < end))
        ]
    if not through:
        return DoesNotApply("it runs through no larger string")
    largest, part, unknown = _largest_od(case, subject)
    known = [(drift, other) for other in through if (drift := drift_m(other)) is not None]
    unknown += [f"{other.path}.drift" for other in through if drift_m(other) is None]
    drift, other = min(known, key=lambda pair: pair[0], default=(largest, through[0]))
    if not meets(largest, drift, at_least=False):
        return Found(
            Severity.ERROR,
            "{part} {od} over drift {drift} of {other}",
            "The {part} of the {name} is {od}; the {other} passes {drift} (its drift): it cannot be run.",
            "Choose a smaller connection or part; a larger drift of the {other} counts with its certificate.",
            {
                "part": part,
                "name": subject.name,
                "od": Figure(largest, "diameter"),
                "drift": Figure(drift, "diameter"),
                "other": other.name,
            },
            (other.shoe_md_m,),
        )
    cased = max((other.shoe_md_m for other in through if other.shoe_md_m < end), default=0.0)
    hole = min(depth.hole.diameter_m.clip(cased + _SAME_DEPTH_M, end).values, default=largest)
    if not meets(largest, hole, at_least=False):
        return Found(
            Severity.ERROR,
            "{part} {od} over {hole} hole",
            "The {part} of the {name} is {od}, the hole that it stands in {hole}: it cannot be run.",
            "Choose a smaller pipe or part, or a larger bit; check the caliper.",
            {
                "part": part,
                "name": subject.name,
                "od": Figure(largest, "diameter"),
                "hole": Figure(hole, "diameter"),
            },
            (end,),
        )
    if unknown:
        raise MissingInput(*unknown)
    return Passed(Figure(drift - largest, "gap"))


def _largest_od(case: Case, subject: Subject) -> tuple[float, str, list[str]]:
    """The largest diameter that is known, whose it is, and which are not known: pipe has couplings."""
    if subject.path != "liner":
        string = _string(case, subject)
        if string.coupling_od_m is None:
            return string.od_m, "pipe", [f"{string.path}.coupling od"]
        return string.coupling_od_m, "coupling", []
    liner = case.plan.depth.liner
    found: list[tuple[float, str]] = [(liner.od_m, "pipe")]
    unknown: list[str] = []
    for part in liner.parts:
        is_pipe = part.kind in ("joint", "pup joint")
        if part.od_m is not None:
            found.append((part.od_m, "pipe" if is_pipe else part.name))
        elif not is_pipe:
            unknown.append("liner.assembly" if liner.assembly_assumed else f"{part.path}.od")
        if part.coupling_od_m is not None:
            found.append((part.coupling_od_m, "coupling"))
        elif is_pipe:
            unknown.append("liner.coupling od")
    return *max(found), list(dict.fromkeys(unknown))


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
        8 1/2 in bit through 9 5/8 in 53.5 lb/ft (drift 8.379 in) is wrong; with 'special drift: {diameter:
        8.500 in, certificate: ...}' it is right.
    """
    section = _section(case, subject)
    above = [
        s
        for s in case.plan.depth.strings
        if s.shoe_md_m <= section.top_md_m + _SHOE_RATHOLE_M and s.shoe_md_m < section.bottom_md_m
    ]
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
        Each section begins where the one above ends; its bit is not larger, unless it is marked as
        under-reamed.
    Why it matters
        Volumes are integrals over the hole: a gap loses volume, an overlap counts it twice.
    Limit
        0.01 m; geometry.
    Source
        Geometry.
    Example
        12 1/4 in hole to 9850 ft, then 'from: 9900 ft' is wrong; without 'from' it is right.
    """
    sections = case.plan.depth.hole.sections
    section = _section(case, subject)
    index = sections.index(section)
    if index == 0:
        return DoesNotApply("the first section has none above it")
    above = sections[index - 1]
    figures: dict[str, Figure | str] = {
        "bit": Figure(section.bit_m, "size"),
        "top": Figure(section.top_md_m, "depth"),
        "above": Figure(above.bottom_md_m, "depth"),
        "above_bit": Figure(above.bit_m, "size"),
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
    if not section.under_reamed and not meets(section.bit_m, above.bit_m, at_least=False):
        return Found(
            Severity.ERROR,
            "{bit} hole below {above_bit} hole, not under-reamed",
            "The hole widens from {above_bit} to {bit} at {top}: a bit of that size does not get there.",
            "Mark the section 'under reamed: yes', or check the sizes.",
            figures,
            (section.top_md_m,),
        )
    return Passed()


RULES = (
    Rule("string-upside-down", _strings, string_upside_down, "the file has no strings"),
    Rule("string-does-not-pass", _passing, string_does_not_pass, "the file has no strings"),
    Rule("bit-larger-than-drift", _sections, bit_larger_than_drift, "the file has no hole"),
    Rule("hole-not-contiguous", _sections, hole_not_contiguous, "the file has no hole"),
)
