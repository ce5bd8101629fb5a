"""The hook load to expect where a step neither hangs, sets down nor lifts by itself, or why there is none."""

from __future__ import annotations

from collections.abc import Callable

from schematic.engineering.drag import Motion
from schematic.job.box_maker import BoxMaker
from schematic.job.card import Say, Weight
from schematic.job.hook_loads import HookLoad, hook_load
from schematic.job.slack_off import slacked
from schematic.job.step_scene import shoe_md_m
from schematic.outcome import Figure, MissingInput

_NONE = {
    "check-the-parts": "none: nothing of this plan hangs on the hook yet",
    "condition-the-hole": "that of the drilling string, which is not in this plan: write down what it shows",
    "stages-not-covered": "not computed: stages are not covered",
    "wait-on-cement": "none of this plan: the string that cleans out is not in the file",
    "test-the-lap": "none: no string of this plan is in the well",
    "inflow-test": "none of this plan: the string of the test is not in the file",
}


def expected(make: BoxMaker) -> Weight:
    """What the weight indicator shows in a step, or in words why no figure stands here."""
    if make.code in _NONE:
        return _words(Say(_NONE[make.code]))
    lacks = make.teller.needs.get("hook load")
    if lacks is None:
        try:
            return _MAKERS[make.code](make)
        except MissingInput as error:
            lacks = make.teller.needs["hook load"] = error.missing
    return _words(Say("not computed, needs {needs}", {"needs": ", ".join(lacks)}))


def by_motion(make: BoxMaker, load: HookLoad, *says: Say, turns: bool = True) -> Weight:
    """A hook load for each motion that is made, at rest where friction is not given; raises MissingInput."""
    rest = make.hook(load, Motion.ROTATING)
    try:
        up, down = make.hook(load, Motion.PICKING_UP), make.hook(load, Motion.SLACKING_OFF)
    except MissingInput as error:
        make.teller.needs["weight picking up and slacking off"] = error.missing
        return Weight(rest, None, "at rest, no drag", says)
    motions = (
        Say("picking up {up}", {"up": Figure(up, "force")}),
        Say("slacking off {down}", {"down": Figure(down, "force")}),
        Say("rotating off bottom {rest}", {"rest": Figure(rest, "force")}),
    )
    return Weight(None, None, "on the way", (*(motions if turns else motions[:2]), *says))


def _words(say: Say) -> Weight:
    return Weight(None, None, "", (say,))


def _on_the_way(make: BoxMaker) -> Weight:
    """With the shoe where it is in the step; while the liner is made up nothing is turned off bottom."""
    turns = make.code not in ("make-up-the-shoe-track", "run-the-liner", "pick-up-the-hanger")
    return by_motion(make, hook_load(make.plan, shoe_md_m(make.job, make.code) or 0.0), turns=turns)


def _neutral(make: BoxMaker) -> Weight:
    """The running string alone: what neutral weight at the tool shows at surface."""
    return by_motion(make, make.job.hook_loads.alone, Say("neutral at the tool: the string alone"))


def _on_the_packer(make: BoxMaker) -> Weight:
    """The string that may stand on the packer or hang above it while the annulus is under pressure."""
    presses = Say("pressure in the annulus changes it: not computed")
    down = make.plan.job.packer_set_down_n
    weight = None if down is None else slacked(make, down, "liner top packer.set down")
    if weight is None or weight.before_n is None or weight.after_n is None:
        unknown = Say("hanging free; how much stands on the packer is not known")
        return by_motion(make, make.job.hook_loads.alone, unknown, presses)
    says = (
        Say("hanging {hung}", {"hung": Figure(weight.before_n, "force")}),
        Say("standing on the packer {down}", {"down": Figure(weight.after_n, "force")}),
        Say("{motion}", {"motion": weight.motion}),
        presses,
    )
    return Weight(None, None, weight.motion, says)


def _alone(make: BoxMaker) -> Weight:
    return by_motion(make, make.job.hook_loads.alone)


def _in_cement(make: BoxMaker) -> Weight:
    lifts = Say("cement and spacer round the string lift it a little, which is not counted")
    return by_motion(make, make.job.hook_loads.alone, lifts)


_MAKERS: dict[str, Callable[[BoxMaker], Weight]] = {
    "make-up-the-shoe-track": _on_the_way,
    "run-the-liner": _on_the_way,
    "pick-up-the-hanger": _on_the_way,
    "run-in-on-pipe": _on_the_way,
    "circulate-at-the-host-shoe": _on_the_way,
    "run-to-depth": _on_the_way,
    "circulate-on-depth": _on_the_way,
    "ball-on-seat": _on_the_way,
    "release-the-tool-by-turning": _neutral,
    "test-the-packer": _on_the_packer,
    "pull-out-and-reverse": _in_cement,
    "pull-clear": _alone,
    "pull-out-of-hole": _alone,
}
