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
        Hole to 12600 ft with 'shoe: 12610 ft' is wrong; 'off bottom: 10 ft' is right.
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
        Host shoe at 9850 ft with 'top: 9900 ft' is wrong; 'lap: 370 ft' is right.
    """
    depth = case.plan.depth
    host, top = depth.host, depth.liner.top_md_m
    if host.top_md_m < top < host.shoe_md_m:
        return Passed(Figure(host.shoe_md_m - top, "length"))
    return Found(
        Severity.ERROR,
        "{name} top {top} is outside {host}, {host_top} to {host_shoe}",
        "The {name} top at {top} is not inside the {host}, which stands from {host_top} to {host_shoe}.",
        "Lengthen the lap, or name the string that is there as 'host'.",
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
        Of all strings that are there at the liner top, the host is the smallest.
    Why it matters
        The hanger meets the innermost string, whatever the plan calls its host.
    Limit
        Geometry.
    Source
        Geometry.
    Example
        'host: intermediate casing' where a 7 in liner already stands inside it is wrong; naming that liner as
        host is right.
    """
    depth = case.plan.depth
    top = depth.liner.top_md_m
    there = [s for s in depth.strings if s.top_md_m <= top < s.shoe_md_m]
    if not there:
        return DoesNotApply("no string stands at the liner top")
    inner = min(reversed(there), key=lambda string: string.od_m)
    if inner.name == depth.liner.host:
        return Passed()
    return Found(
        Severity.ERROR,
        "host {host}: {inner} stands inside it at {top}",
        "At the {name} top, {top}, the innermost string is the {inner}, not the {host} named as host.",
        "Name the {inner} as 'host', or move the liner top.",
        {
            "name": subject.name,
            "host": depth.liner.host,
            "inner": inner.name,
            "top": Figure(top, "depth"),
        },
        (top,),
    )


def lap_outside_limits(case: Case, subject: Subject) -> Answer:
    """The lap, from liner top to host shoe, is shorter or longer than the limits.

    What it checks
        Measured depth of the host shoe less that of the liner top.
    Why it matters
        A short lap leaves little cement to seal and no second try; a long one costs pipe and friction.
    Limit
        Least: 100 ft, California 14 CCR 1722.3(d), as an example of a rule ('least lap'). Greatest: 300 m,
        common practice ('greatest lap'). The local rule governs.
    Source
        14 CCR 1722.3(d): at least 100 ft of overlap. Usual laps are 60 to 150 m: common practice.
    Example
        'lap: 80 ft' is wrong; 'lap: 100 ft' is right.
    """
    lap = case.laps.liner_top_m
    written_as_lap = any(  # else a lap put beside a top would contradict it
        one.path == "liner.top" and one.how == "host shoe - lap" for one in case.plan.derivations
    )
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
    if not meets(lap, least.si, at_least=True):
        return Found(
            Severity.ERROR,
            "lap {lap}, least {least}",
            "The lap from liner top to host shoe is {lap}; the least is {least} ({owner}).",
            "Set the liner top at {top} or shallower, or state another limit under 'limits: least lap'.",
            figures,
            (top, shoe),
            least,
            ("liner.lap", least.text) if written_as_lap else None,
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
        )
    return Passed(Figure(lap, "length"), least)


RULES = (
    Rule("string-upside-down", _strings, string_upside_down, "the file has no strings"),
    Rule("string-does-not-pass", _passing, string_does_not_pass, "the file has no strings"),
    Rule("bit-larger-than-drift", _sections, bit_larger_than_drift, "the file has no hole"),
    Rule("hole-not-contiguous", _sections, hole_not_contiguous, "the file has no hole"),
    Rule("liner-below-hole", whole_liner, liner_below_hole, "the file has no liner"),
    Rule("liner-top-outside-host", whole_liner, liner_top_outside_host, "the file has no liner"),
    Rule("host-not-innermost", whole_liner, host_not_innermost, "the file has no liner"),
    Rule("lap-outside-limits", whole_liner, lap_outside_limits, "the file has no liner"),
)
