"""Rules about weight that is set down on the liner, the pipe that pushes it, and the liner that floats."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, whole_liner
from schematic.engineering.weights import string_weight
from schematic.job.set_down import SetDown, available_n, buckled, buckled_running_in, set_down
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

_SETTING_DOWN, _RUNNING_IN = "installation.set down on tool", "running string"


def _pushes(case: Case) -> tuple[Subject, ...]:
    if case.plan.depth.running is None:
        return ()
    return Subject(_SETTING_DOWN, "setting down"), Subject(_RUNNING_IN, "slacking off on depth")


def _wanted(case: Case) -> tuple[float, str]:
    """The greatest weight that is set down on the liner top, and on what; raises MissingInput."""
    job, packer = case.plan.job, case.plan.depth.liner.find("liner top packer")
    wanted = [(job.set_down_on_tool_n, "on the tool")]
    if packer is not None:
        wanted.append((job.packer_set_down_n, "on the packer"))
    known = [(force, where) for force, where in wanted if force is not None]
    if not known:
        raise MissingInput("installation.set down on tool")
    return max(known)


def pipe_buckles(case: Case, subject: Subject) -> Answer:
    """A pipe of the string is in so much compression that it snakes, winds, or locks up.

    What it checks
        The compression of each pipe against the loads at which it snakes (sinusoidal) and winds (helical, the
        least that is published), with the clearance of its body in the bore around it: under the greatest
        weight set down on the liner top, and slacking off with the liner on depth. Without friction in the
        file the former is taken without drag, which is the least that it can be. Short parts do not buckle.
    Why it matters
        Pipe in sinusoidal buckling still passes weight on; in helical buckling it is bent and passes on less;
        locked pipe passes on none.
    Limit
        Advice over the sinusoidal load, warning over the helical one ('greatest share of sinusoidal load',
        'greatest share of helical load'): common practice. Wound pipe that cannot bring the weight there is
        an error.
    Source
        Dawson and Paslay, JPT, October 1984; helical and vertical forms and the contact of the helix from
        memory, textbooks on drilling engineering.
    Example
        wrong: as it stands
        wrong, in sollivane-a7: as it stands
        wrong, in sollivane-a7: installation.set down on tool = 300 kN
        wrong, in tarnvale-h3: as it stands
        right: limits.greatest share of sinusoidal load = 5000 %;
            limits.greatest share of helical load = 5000 %
        not checked: without installation.set down on tool;
            without liner.assembly.liner top packer.set down
    """
    plan, down = case.plan, None
    force, where = 0.0, ""
    if subject.path == _RUNNING_IN:
        pipes = buckled_running_in(plan)
    else:
        force, where = _wanted(case)
        if plan.job.friction is not None:
            down = set_down(plan, force)
        pipes = down.buckled if down is not None else buckled(plan, force)
    snakes = plan.limits["greatest share of sinusoidal load"]
    winds = plan.limits["greatest share of helical load"]
    helical = [p for p in pipes if not meets(p.helical_share, winds.si, at_least=False)]
    sinusoidal = [p for p in pipes if not meets(p.share, snakes.si, at_least=False)]
    bent = helical or sinusoidal
    if not bent:
        return Passed(Figure(max((p.share for p in pipes), default=0.0), "percent"), snakes)
    locked = bool(helical) and down is not None and down.short_n > 0.0
    worst = max(bent, key=lambda p: p.share)
    return Found(
        Severity.ERROR if locked else Severity.WARNING if helical else Severity.ADVICE,
        "{where}: {pipes} locked up" if locked else "{where}: {does} buckling, {pipes}",
        _words(case, down, setting=bool(where), winds=bool(helical), locked=locked),
        "Set down less, turn while setting down, or put stiffer and heavier pipe above the tool.",
        {
            "name": subject.name,
            "where": f"{subject.name} {where}".rstrip(),
            "on": where,
            "pipes": ", ".join(pipe.name for pipe in bent),
            "does": "helical" if helical else "sinusoidal",
            "worst": worst.name,
            "force": Figure(force, "force"),
            "push": Figure(worst.compression_n, "force"),
            "bears": Figure(worst.critical.helical_n if helical else worst.critical.sinusoidal_n, "force"),
            "bending": Figure(max(pipe.bending_pa for pipe in bent), "stress"),
            "slack": Figure(down.slack_off_n if down else 0.0, "force"),
            "most": Figure(down.at_top_n if down else 0.0, "force"),
            "rest": Figure(abs(down.drag_less_n) if down else 0.0, "force"),
        },
        tuple(sorted({pipe.md_m for pipe in bent})),
        winds if helical else snakes,
    )


def _words(case: Case, down: SetDown | None, *, setting: bool, winds: bool, locked: bool) -> str:
    """The sentence of the finding: how far pipe is over its load, what it costs, what gets through."""
    said = "Setting down {force} {on}" if setting else "Slacking off with the liner on depth"
    said += " puts {pipes} into {does} buckling: the {worst} carries {push} of compression, it buckles from "
    said += "{bears}." + (" Bending adds {bending}; the wall takes part of the push." if winds else "")
    if locked:
        return said + " It locks up: all slacked off, {most} gets through."
    if down is not None:
        said += " {slack} less on the hook than when slacking off free is {force} at the liner top: "
        if down.drag_less_n > 0.0:
            return said + "with less pull in the bends, drag holds {rest} less of the string than before."
        return said + "drag takes {rest} of it on the way."
    return said + ("" if case.plan.job.friction else " Drag, which adds to it, is not computed.")


def set_down_short(case: Case, subject: Subject) -> Answer:
    """The string cannot bring the weight to the liner top that packer or tool want.

    What it checks
        What arrives at the liner top when all of the string is slacked off, or up to the slack-off limit,
        with the friction of the file and wound pipe, against the packer's set-down with a margin and the
        set-down on the tool. Without friction the weight of the string along the hole can fail; it cannot
        pass.
    Why it matters
        A packer that is not set does not seal, a tool that is not held is pumped out.
    Limit
        120 % of the packer's set-down: common practice ('least set-down factor'). Less than the set-down
        itself is an error.
    Source
        Drag: SPE 11380; common practice for the margin.
    Example
        wrong: liner.assembly.liner top packer.set down = 200 klbf
        wrong, in sollivane-a7: liner.assembly.liner top packer.set down = 240 kN
        right: installation.friction = {cased: 0.1, open hole: 0.1}; installation.set down on tool = 40 klbf
        does not apply: without installation.set down on tool;
            without liner.assembly.liner top packer.set down
        not checked: as it stands
    """
    plan = case.plan
    factor = plan.limits["least set-down factor"]
    tool, packer = plan.job.set_down_on_tool_n, plan.job.packer_set_down_n
    wanted = [(tool, tool, "on the tool")] if tool else []
    wanted += [(factor.si * packer, packer, "on the packer")] if packer else []
    if not wanted:
        return DoesNotApply("no weight is set down on the liner")
    with_margin, force, where = max(wanted)
    dragged = plan.job.friction is not None
    there = available_n(plan) if dragged else string_weight(plan).along_n
    if meets(there, with_margin, at_least=True):
        if not dragged:
            raise MissingInput("installation.friction")
        return Passed(Figure(there, "force"), factor)
    short = not meets(there, force, at_least=True)
    return Found(
        Severity.ERROR if short else Severity.WARNING,
        "at most {there} arrives {where}, " + ("" if short else "{limit} of ") + "{force} wanted",
        "Slacked off, the string brings {at_most}{there} to the top of the {name}; {force} are wanted {where}"
        + (", too much." if short else ", and {limit} of it should be there ({owner})."),
        "Put heavier or stiffer pipe into the string, turn while setting down, or hang the liner deeper.",
        {
            "name": subject.name,
            "at_most": "" if dragged else "no more than ",
            "there": Figure(there, "force"),
            "force": Figure(force, "force"),
            "where": where,
            "limit": factor.text,
            "owner": factor.owner,
        },
        (plan.depth.liner.top_md_m,),
        factor,
    )


def liner_lifted_by_cement(case: Case, subject: Subject) -> Answer:
    """The cement outside lifts the liner where nothing holds it down.

    What it checks
        Weight of the liner with what stands inside, at the end of displacement, less the push of the column
        outside, with the cement as high as it stands when nothing is lost. No pump pressure, no friction.
    Why it matters
        A light liner with light displacement in heavy cement floats; slips of a hanger hold downward only.
    Limit
        More than nought: statics.
    Source
        Pressure times area; a public page on casing that is pumped out of the hole.
    Example
        wrong, in sollivane-a7: liner.weight = 18 kg/m; fluids.lead.density = 2.2 sg;
            fluids.tail.density = 2.3 sg
        right: as it stands
        does not apply: without cement
        not checked: without cement.planned top
    """
    plan = case.plan
    if not plan.cement.slurries:
        return DoesNotApply("no cement is planned")
    held = case.job.held_down
    if held.net_n > 0.0:
        return Passed(Figure(held.net_n, "force"))
    return Found(
        Severity.WARNING,
        "cement lifts the {name} by {lift}",
        "When displacement ends the column outside pushes the {name} up by {lift} more than it weighs with "
        "what stands inside.",
        "Displace with a heavier fluid, use lighter cement or heavier pipe, or a hanger that holds down.",
        {"name": subject.name, "lift": Figure(-held.net_n, "force")},
        (plan.depth.liner.top_md_m, plan.depth.liner.shoe_md_m),
    )


RULES = (
    Rule("pipe-buckles", "buckling", _pushes, pipe_buckles, "no running string"),
    Rule("set-down-short", "weight that reaches the liner top", whole_liner, set_down_short, "no liner"),
    Rule(
        "liner-lifted-by-cement",
        "lift of the cement on the liner",
        whole_liner,
        liner_lifted_by_cement,
        "no liner",
    ),
)
