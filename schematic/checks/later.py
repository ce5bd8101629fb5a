"""Rules about what comes to the liner after it: the next bit, a tie-back, the completion."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, whole_liner
from schematic.job.meeting import Verdict
from schematic.job.passage import next_bit_way, seal_way
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


def next_bit_does_not_pass(case: Case, subject: Subject) -> Answer:
    """The next bit or tool does not pass the liner.

    What it checks
        'next bit' against drift, else bore, of every part of the liner above the shoe track.
    Why it matters
        The next section cannot be drilled, or the log not run.
    Limit
        A gap of nought or more to the drift: geometry.
    Source
        Drift: API 5CT / ISO 11960.
    Example
        wrong: liner.next bit = 6 1/8 in
        right: liner.next bit = 6 in
        at the limit: liner.next bit = 6.059 in
        does not apply: as it stands
        not checked: liner.next bit = 6 in; without liner.assembly.liner hanger.id
    """
    liner = case.plan.depth.liner
    bit = liner.later.next_bit_m
    if bit is None:
        return DoesNotApply("the file names nothing that passes later")
    way = next_bit_way(case.plan)
    assert way is not None  # the file names the bit
    inside = way._replace(meetings=tuple(m for m in way.meetings if m.bore.path.startswith("liner")))
    least = inside.smallest
    if least is not None and least.verdict is Verdict.BLOCKED:
        return Found(
            Severity.ERROR,
            "next bit {bit} in {part} {bore}",
            "The next bit, {bit}, does not pass the {part} of the {name}: {bore}.",
            "Choose a smaller bit, or pipe and parts of a larger drift.",
            {
                "name": subject.name,
                "bit": Figure(bit, "diameter"),
                "part": least.bore.name,
                "bore": Figure(least.bore.passes_m or 0.0, "diameter"),
            },
            (least.bore.top_md_m,),
        )
    if inside.needs:
        raise MissingInput(*inside.needs)
    return Passed(None if least is None else Figure(least.clear_m or 0.0, "gap"))


_MORE_THAN_TRAVEL_M = 2.0  # of seal bore beyond the travel of the seals: common practice


def tie_back_does_not_seal(case: Case, subject: Subject) -> Answer:
    """The seal of a later tie-back does not belong to the receptacle, or runs out of it.

    What it checks
        Seal OD up to the receptacle's bore and within 1/4 in of it, and its length against the travel and 2
        m.
    Why it matters
        A tie-back that does not seal is a second job; one that moves out of the bore leaks when the well
        heats.
    Limit
        Geometry; 2 m (7 ft) beyond the travel: common practice.
    Source
        Common practice; the maker's sheet rules.
    Example
        wrong: liner.tie back = {seal od: 7.4 in, travel: 1 ft}
        right: liner.tie back = {seal od: 7.370 in, travel: 3 ft}
        does not apply: as it stands
        not checked: liner.tie back = {seal od: 7.370 in}
        at the limit: liner.tie back = {seal od: 7.375 in, travel: 1.16992 m}
    """
    liner = case.plan.depth.liner
    way = seal_way(case.plan)
    if way is None:
        return DoesNotApply("the file plans no tie-back")
    met, receptacle = way.meetings[-1], liner.find("tie-back receptacle")
    if receptacle is None or met.clear_m is None:
        raise MissingInput(*met.needs)
    seal, bore = met.thing.size_m or 0.0, met.bore.passes_m or 0.0
    fits = met.verdict is Verdict.STOPS
    if fits and liner.later.seal_travel_m is None:
        raise MissingInput("liner.tie back.travel")
    wanted = (liner.later.seal_travel_m or 0.0) + _MORE_THAN_TRAVEL_M
    if fits and meets(receptacle.length_m, wanted, at_least=True):
        return Passed(Figure(bore - seal, "gap"))
    return Found(
        Severity.WARNING,
        "tie-back seal {seal} for a bore of {bore}"
        if not fits
        else "receptacle {length}, travel asks for {wanted}",
        "The seal of the tie-back is {seal}, the receptacle of the {name} has a bore of {bore} over "
        "{length}; " + ("it does not seal there." if not fits else "its travel and 2 m ask for {wanted}."),
        "Choose seals for this bore, or a longer receptacle.",
        {
            "name": subject.name,
            "seal": Figure(seal, "diameter"),
            "bore": Figure(bore, "diameter"),
            "length": Figure(receptacle.length_m, "length"),
            "wanted": Figure(wanted, "length"),
        },
        (liner.top_md_m,),
    )


_TAIL_CLEAR_M = 3.0  # common practice


def tail_pipe_clashes(case: Case, subject: Subject) -> Answer:
    """The completion's tail pipe ends so close to the liner top that the two may meet.

    What it checks
        Its end against the liner top, where it is not stabbed into it.
    Why it matters
        It lands on the liner top, or wireline tools do not find the way in.
    Limit
        3 m (10 ft): common practice.
    Source
        Common practice.
    Example
        wrong: liner.tail pipe = {end: 9471 ft}
        right: liner.tail pipe = {end: 9470 ft}
        right: liner.tail pipe = {end: 9490 ft, stabbed: yes}
        does not apply: as it stands
        at the limit: liner.tail pipe = {end: 2886.504 m}
    """
    liner = case.plan.depth.liner
    end = liner.later.tail_pipe_md_m
    if end is None:
        return DoesNotApply("the file has no tail pipe")
    clear = abs(liner.top_md_m - end)
    if liner.later.tail_pipe_stabbed or meets(clear, _TAIL_CLEAR_M, at_least=True):
        return Passed(Figure(clear, "length"))
    return Found(
        Severity.WARNING,
        "tail pipe ends {clear} from {name} top",
        "The tail pipe ends at {end}, {clear} from the {name} top at {top}, and is not stabbed into it.",
        "Keep 3 m (10 ft) between them, or stab it.",
        {
            "name": subject.name,
            "end": Figure(end, "depth"),
            "clear": Figure(clear, "length"),
            "top": Figure(liner.top_md_m, "depth"),
        },
        (end,),
    )


RULES = (
    Rule(
        "next-bit-does-not-pass", "passage of the next bit", whole_liner, next_bit_does_not_pass, "no liner"
    ),
    Rule(
        "tie-back-does-not-seal",
        "fit of the tie-back's seal",
        whole_liner,
        tie_back_does_not_seal,
        "no liner",
    ),
    Rule(
        "tail-pipe-clashes",
        "distance of the tail pipe from the liner top",
        whole_liner,
        tail_pipe_clashes,
        "no liner",
    ),
)
