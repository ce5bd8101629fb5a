"""Rules about what hangs on the hook: pulling, slacking off, turning, and the sign that the hanger holds."""

from __future__ import annotations

from schematic.checks.case import Case, Rule, whole_liner
from schematic.engineering.drag import Motion
from schematic.job.hook_loads import torque_needs
from schematic.job.overpull import RIG, Bearing, carrying
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


def _running(case: Case) -> tuple[Subject, ...]:
    return (Subject("running string", "running string"),) if case.plan.depth.running else ()


def _carrying(case: Case) -> tuple[Subject, ...]:
    """Every part of the running string that carries, the liner's own pipe, and the rig."""
    parts = carrying(case.plan)
    if not parts:
        return ()
    liner = Subject("liner", case.plan.depth.liner.name)
    return (*(Subject(part.path, part.name) for part in parts), liner, Subject(RIG, "the rig"))


def _pipes(case: Case) -> tuple[Subject, ...]:
    """The same without the rig."""
    return tuple(subject for subject in _carrying(case) if subject.path != RIG)


def _bearings(case: Case, subject: Subject) -> list[Bearing]:
    """What a part bears; raises MissingInput where it is not known."""
    found = case.job.overpull
    for one in found.unknown:
        if one.path == subject.path:
            raise MissingInput(*one.needs)
    return [one for one in found.bearings if one.path == subject.path]


def overpull_small(case: Case, subject: Subject) -> Answer:
    """There is little to pull beyond the pick-up load, or the pick-up load itself is too much.

    What it checks
        The hook load picking up on depth, with the friction of the file, and the least overpull against what
        each part bears: body yield of new pipe, load ratings, the liner's pipe, the rig's hook load limit
        (block included). Used pipe and connections bear less and are not known here.
    Why it matters
        A liner that sticks on depth can only be pulled with what is left.
    Limit
        50 klbf ('least overpull') with pipe at 90 % of its yield ('greatest share of rating'): common
        practice. A pick-up load beyond that is an error.
    Source
        Body yield: API TR 5C3. Drag: SPE 11380.
    Example
        wrong: installation.friction = {cased: 0.1, open hole: 0.1}; installation.hook load limit = 340 klbf
        wrong: installation.friction = {cased: 0.1, open hole: 0.1}; installation.hook load limit = 300 klbf
        right: installation.friction = {cased: 0.1, open hole: 0.1}; installation.hook load limit = 500 klbf
        not checked: as it stands
    """
    least = min(_bearings(case, subject), key=lambda one: one.hook_n)
    up = case.job.hook_loads.on_depth.of(Motion.PICKING_UP)
    limit = case.plan.limits["least overpull"]
    left = least.hook_n - up
    if meets(left, limit.si, at_least=True):
        return Passed(Figure(left, "force"), limit)
    too_much = left < 0.0
    return Found(
        Severity.ERROR if too_much else Severity.WARNING,
        "{name}: pick-up load over its limit" if too_much else "{name}: {left} of overpull",
        "Picking up on depth takes {up} at the hook without the block; the {bears} of {name} allows {most}: "
        + ("too little by itself." if too_much else "{left} are left, {limit} are wanted ({owner})."),
        "Use stronger pipe, or have less friction: another mud, rotation.",
        {
            "name": subject.name,
            "bears": least.bears,
            "up": Figure(up, "force"),
            "most": Figure(least.hook_n, "force"),
            "left": Figure(left, "force"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (),
        limit,
    )


def tension_factor_small(case: Case, subject: Subject) -> Answer:
    """A pipe hangs with less reserve at rest than is wanted.

    What it checks
        Body yield of each new pipe of the string, or its load rating where that is less, over what hangs on
        it in mud with the liner on depth.
    Why it matters
        Shocks, drag, bending and wear are not in the load at rest; the factor is for them.
    Limit
        160 %: common practice ('least tension factor').
    Source
        Body yield: API TR 5C3.
    Example
        wrong: running string.assembly.running tool.load rating = 100 klbf
        right: running string.assembly.running tool.load rating = 400 klbf
        not checked: as it stands
    """
    least = min(_bearings(case, subject), key=lambda one: one.full_n)
    limit = case.plan.limits["least tension factor"]
    if least.static_n <= 0.0:
        return Passed()
    factor = least.full_n / least.static_n
    if meets(factor, limit.si, at_least=True):
        return Passed(Figure(factor, "percent"), limit)
    return Found(
        Severity.WARNING,
        "{name} hangs at {factor} of its load",
        "On the {name} hang {load} at rest; its {bears} is {bears_n}, {factor} of that, {limit} is wanted "
        "({owner}).",
        "Use stronger pipe or a stronger tool.",
        {
            "name": subject.name,
            "load": Figure(least.static_n, "force"),
            "bears": least.bears,
            "bears_n": Figure(least.full_n, "force"),
            "factor": Figure(factor, "percent"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (),
        limit,
    )


def slack_off_weight_small(case: Case, subject: Subject) -> Answer:
    """Little or no weight is left on the hook when the liner slacks off on depth: it may not get there.

    What it checks
        The hook load slacking off with the liner on depth, without the block, with the friction of the file
        and the contact of pipe that winds.
    Why it matters
        A string whose weight drag takes up does not go further in by itself.
    Limit
        10 klbf, in metric wells 50 kN: common practice ('least slack-off weight'). Nothing left is an error.
    Source
        Drag: SPE 11380; common practice for the limit.
    Example
        wrong, in tarnvale-h3: installation.friction.cased = 0.27; installation.friction.open hole = 0.34
        wrong, in tarnvale-h3: installation.friction.cased = 0.30; installation.friction.open hole = 0.40
        right, in tarnvale-h3: as it stands
        not checked: as it stands
    """
    load = case.job.hook_loads.on_depth
    down = load.of(Motion.SLACKING_OFF)
    limit = case.plan.limits["least slack-off weight"]
    if meets(down, limit.si, at_least=True):
        return Passed(Figure(down, "force"), limit)
    stuck = down <= 0.0
    return Found(
        Severity.ERROR if stuck else Severity.WARNING,
        "slacking off does not take the {name} down" if stuck else "{down} left slacking off on depth",
        "With the {name} on depth drag takes up "
        + ("all of the string's weight: it does not go down by itself." if stuck else "all but {down} of the "
           "string's weight; {limit} should stay on the hook beside the block ({owner})."),
        "Have less friction, heavier pipe where the hole is steep, or rotate in.",
        {
            "name": subject.name,
            "down": Figure(max(down, 0.0), "force"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (load.shoe_md_m,),
        limit,
    )  # fmt: skip


def torque_over_limit(case: Case, subject: Subject) -> Answer:
    """Turning the string off bottom with the liner on it takes more torque than the limit allows.

    What it checks
        Torque at surface turning off bottom on depth, from the side force on tool joints and couplings and
        the friction of the file, against a share of 'torque limit' of 'installation', the least make-up
        torque of liner, tool and string. Further down it is less; circulating and centralizers are not in it.
    Why it matters
        Connections make up further or break, the tool may turn off.
    Limit
        80 % of the torque limit: common practice ('greatest share of torque').
    Source
        Torque: SPE 11380; common practice for the share.
    Example
        wrong, in sollivane-a7: installation.torque limit = 25 kN*m
        right, in sollivane-a7: installation.torque limit = 35 kN*m
        not checked: as it stands
    """
    rated = case.plan.job.torque_limit_nm
    torque = case.job.hook_loads.on_depth.torque_nm
    if torque is None:
        raise MissingInput(*torque_needs(case.plan))
    if rated is None:
        raise MissingInput("installation.torque limit")
    limit = case.plan.limits["greatest share of torque"]
    if meets(torque, limit.si * rated, at_least=False):
        return Passed(Figure(torque, "torque"), limit)
    return Found(
        Severity.WARNING,
        "torque {torque} turning, limit {rated}",
        "Turning the {name} off bottom on depth takes {torque} at surface; the torque limit is {rated}, of "
        "which {limit} may be used ({owner}).",
        "Do not turn, or use connections and a tool with more torque.",
        {
            "name": subject.name,
            "torque": Figure(torque, "torque"),
            "rated": Figure(rated, "torque"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (),
        limit,
    )


def weight_signal_small(case: Case, subject: Subject) -> Answer:
    """The hook load hardly falls when the hanger takes the liner: the indicator alone does not prove it.

    What it checks
        What the hook load loses slacking off when the liner hangs, as a share of the hook load before, block
        included: only what of its weight pulls along the hole, less its drag. Without friction in the file
        the share at rest, which is the greatest that it can be, can fail; it cannot pass.
    Why it matters
        A liner that did not hang is released and drops.
    Limit
        10 %: common practice ('least weight signal').
    Source
        Drag: SPE 11380; common practice for the limit.
    Example
        wrong, in sollivane-a7: as it stands
        wrong: installation.block weight = 600 klbf
        right: installation.friction = {cased: 0.1, open hole: 0.1}
        does not apply: without liner.assembly.liner hanger
        not checked: as it stands
    """
    plan = case.plan
    hanger = plan.depth.liner.find("liner hanger")
    if hanger is None:
        return DoesNotApply("the liner has no hanger")
    loads = case.job.hook_loads
    limit = plan.limits["least weight signal"]
    moving = plan.job.friction is not None
    motion = Motion.SLACKING_OFF if moving else Motion.ROTATING
    share = loads.signal_share(motion)
    if meets(share, limit.si, at_least=True):
        if not moving:
            raise MissingInput("installation.friction")
        return Passed(Figure(share, "share"), limit)
    return Found(
        Severity.WARNING,
        "hook load falls by only {signal} at setting, {share} of it",
        "When the hanger takes the {name} the hook load " + ("slacking off" if moving else "at rest")
        + " falls by {signal}, {share} of it (block included): the liner weighs {whole} in mud, of which "
        "{along} pull along the hole. {limit} or more is a clear sign ({owner}).",
        "Prove the hanger by pressure and by travel too.",
        {
            "name": subject.name,
            "signal": Figure(loads.signal_n(motion), "force"),
            "share": Figure(share, "share"),
            "whole": Figure(loads.liner_whole_n, "force"),
            "along": Figure(loads.liner_n, "force"),
            "limit": limit.text,
            "owner": limit.owner,
        },
        (hanger.top_md_m,),
        limit,
    )  # fmt: skip


RULES = (
    Rule("overpull-small", "overpull", _carrying, overpull_small, "no running string"),
    Rule("tension-factor-small", "tension factor", _pipes, tension_factor_small, "no running string"),
    Rule(
        "slack-off-weight-small",
        "hook load left slacking off",
        whole_liner,
        slack_off_weight_small,
        "no liner",
    ),
    Rule("torque-over-limit", "torque off bottom", _running, torque_over_limit, "no running string"),
    Rule(
        "weight-signal-small",
        "sign of the hanger in the hook load",
        whole_liner,
        weight_signal_small,
        "no liner",
    ),
)
