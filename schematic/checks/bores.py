"""Rules about what has to pass through what: running string, balls, bits and tools against every bore."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, drift_m, whole_liner
from schematic.outcome import Answer, Figure, Found, MissingInput, Passed, Severity, Subject, meets


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


RULES = (Rule("running-string-does-not-pass", whole_liner, running_string_does_not_pass, "no liner"),)
