"""Hook load before and after weight is set down at the liner top, and what buckles then."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.engineering.anchored import fluids_add_n
from schematic.engineering.drag import Motion
from schematic.engineering.train import Place
from schematic.job.box_maker import BoxMaker
from schematic.job.card import Say, Weight
from schematic.job.set_down import Buckled, buckled, set_down
from schematic.outcome import Figure, MissingInput

_LEAST_TOLD_N = 500.0  # of what fluids weigh: less is not seen on an indicator


def slacked(make: BoxMaker, force_n: float | None, needs: str) -> Weight | None:
    """Hook load before and after a weight is set down at the liner top."""
    try:
        if force_n is None:
            raise MissingInput(needs)
        before, motion = make.moving(make.job.hook_loads.alone, Motion.SLACKING_OFF)
        if make.plan.job.friction is None:
            after, says = (
                before - force_n,
                [Say("drag not computed: needs {needs}", {"needs": "installation.friction"})],
            )
            says += _bends(buckled(make.plan, force_n))
        else:
            found = set_down(make.plan, force_n)
            after = found.hook_n + make.block_n
            slack = {"slack": Figure(found.slack_off_n, "force")}
            says = [Say("slack off {slack} at surface", slack)]
            if found.slack_off_n < found.at_top_n:
                says.append(Say("more arrives than is slacked off: drag eases as the pull falls"))
            says += _bends(found.buckled)
    except MissingInput as error:
        make.teller.needs["hook load"] = error.missing
        return None
    return Weight(before, after, motion, tuple(says))


def _bends(pipes: Sequence[Buckled]) -> list[Say]:
    return [
        Say("{name} buckles, {state}", {"name": pipe.name, "state": pipe.state})
        for pipe in pipes
        if pipe.state != "straight"
    ]


def held(make: BoxMaker, states: Sequence[Place] = ()) -> Weight | None:
    """Hook load with the weight kept on the tool, pump off and mud inside, and what the columns of the step
    change of it.
    """
    weight = slacked(make, make.plan.job.set_down_on_tool_n, "installation.set down on tool")
    if weight is None or weight.after_n is None:
        return None
    keep = make.teller.say("keep {tool_set_down} on the tool: hold the pipe mark, not the indicator")
    return Weight(weight.after_n, None, standing(make), (keep, _inside(make, states)))


def _inside(make: BoxMaker, states: Sequence[Place]) -> Say:
    """What the fluids of a step do to a hook load with the pump off and mud inside."""
    off = "pump off, mud inside; pressure takes off"
    try:
        adds = [fluids_add_n(make.plan, place) for place in states]
    except MissingInput:
        return Say(off)
    both = {"add": max(adds, default=0.0), "take off": -min(adds, default=0.0)}
    told = {verb: Figure(most, "force") for verb, most in both.items() if most > _LEAST_TOLD_N}
    words = ", ".join(f"{verb} up to {{{verb.replace(' ', '_')}}}" for verb in told)
    figures = {verb.replace(" ", "_"): figure for verb, figure in told.items()}
    return Say(f"{off}, fluids {words}" if words else off, figures)


def standing(make: BoxMaker) -> str:
    """What a hook load is that stays after weight was set down."""
    return "at rest, no drag" if make.plan.job.friction is None else "slacked off and held"
