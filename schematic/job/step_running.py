"""The figures of the steps on the way in: hook loads, trip tank, circulating."""

from __future__ import annotations

from schematic.engineering.drag import Motion
from schematic.job import step_bounds
from schematic.job.box_maker import NOTHING, BoxMaker, Figures
from schematic.job.card import Box
from schematic.job.hook_loads import hook_load
from schematic.job.picks import has_float
from schematic.job.step_scene import shoe_md_m

# why a step without figures has no limit either
_UNLIMITED = {
    "condition-the-hole": "Limits of the drilling string: not in this plan.",
    "make-up-the-shoe-track": "Make-up torque: the maker's sheet. Elevators bear the weight below.",
    "stages-not-covered": "Stages are not covered.",
    "wait-on-cement": "Limits of the string that cleans out: not in this plan.",
}


def plain(make: BoxMaker) -> Figures:
    """A step without pressure, weight or volume of this plan."""
    limit = make.text("no figure", _UNLIMITED.get(make.code, "Nothing of this plan is loaded in this step."))
    return Figures(make.text("no figure"), NOTHING, limit, None, None, (), True)


def _weighed(make: BoxMaker, shoe: float, never_box: Box, next_box: Box) -> Figures:
    """A step on the way in: the hook load with the shoe at a depth."""
    now = make.hooked(
        "hook load",
        lambda: hook_load(make.plan, shoe),
        Motion.SLACKING_OFF,
        "block included, at the end of this step.",
    )
    return Figures(now, next_box, never_box, None, None, (), True)


def run_the_liner(make: BoxMaker) -> Figures:
    """The liner alone on the way in: hook load, gain of the trip tank."""
    shoe = shoe_md_m(make.job, make.code) or 0.0
    after = NOTHING
    if make.code == "run-the-liner":
        name, line = "gain_liner", "{gain_net} if the fill comes from it."
        if not any(has_float(part) for part in make.plan.depth.liner.parts):
            name, line = "gain_net", "The steel alone: it fills by itself."
        after = make.box("trip tank gains", lambda: make.figure(name), line)
    return _weighed(make, shoe, make.bound("pull no more", lambda: step_bounds.rig(make.job), "force"), after)


def run_in(make: BoxMaker) -> Figures:
    """Liner and running string on the way in: hook load, overpull."""
    shoe = shoe_md_m(make.job, make.code) or 0.0
    return _weighed(make, shoe, make.overpull(), make.sets_from())


def circulate(make: BoxMaker) -> Figures:
    """One annulus around, below what sets the hanger."""
    name = "bottoms_up_host" if make.code == "circulate-at-the-host-shoe" else "bottoms_up"
    now = make.box("bottoms up", lambda: make.figure(name), "At least; until it comes back clean.")
    limit = make.bound("circulate no higher", lambda: step_bounds.circulating(make.job))
    return Figures(now, make.sets_from(), limit, None, None, (), True)
