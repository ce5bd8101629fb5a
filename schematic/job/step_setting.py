"""The figures of the steps that set and release: ball, hanger, tool, weight on the tool, seat."""

from __future__ import annotations

from schematic.engineering.drag import Motion
from schematic.job import step_bounds
from schematic.job.bounds import never
from schematic.job.box_maker import NOTHING, BoxMaker, Figures, pressure
from schematic.job.card import Box, Say, Weight
from schematic.job.events import BALL
from schematic.job.facts import worst_lift
from schematic.job.setting import HANGER, SEAT, TOOL
from schematic.job.slack_off import slacked, standing
from schematic.outcome import Figure, MissingInput


def land_the_ball(make: BoxMaker) -> Figures:
    """The volume behind the ball, below what sets the hanger."""
    now = make.box("pump", lambda: make.figure("ball_pumped"), "Then the pressure rises by itself.")
    first = next((band.name for band in make.job.setting.bands if band.branch == "ball"), HANGER)
    after = make.box(f"{first} from", lambda: make.band(first).low)
    limit = make.bound("until the ball is seated", lambda: step_bounds.circulating(make.job))
    gauge = make.gauge(first, None, limit)
    return Figures(now, after, limit, gauge, None, make.count(BALL), True)


def pressured(make: BoxMaker, name: str, *lines: str, weight: Weight | None = None) -> Figures:
    """A step whose pressure passes a band; without a seat nothing holds it, and no target is told."""
    known = any(band.name == name for band in make.job.setting.bands)
    if make.plan.job.seat is None and (name == SEAT or (known and name in (HANGER, TOOL))):
        boxes = (make.box(what, lambda: _no_seat()) for what in ("raise to", "in this step"))
        return Figures(next(boxes), NOTHING, next(boxes), None, weight, (), False)
    now = make.box("raise to", lambda: make.band(name).counts_to, *lines)
    coming = make.job.setting.after(name) if any(b.name == name for b in make.job.setting.bands) else None
    after = NOTHING
    unknown = make.job.setting.unknown_after(name)
    if unknown:
        make.teller.needs["next event"] = unknown
        after = Box(None, "not computed", (Say("needs {needs}", {"needs": ", ".join(unknown)}),))
    elif coming is not None:
        after = Box(
            Figure(coming.low_pa, "pressure"),
            coming.name,
            (Say("From here up to {high}.", {"high": pressure(coming.high_pa)}),),
        )
    limit = make.bound("in this step", lambda: never(make.plan, make.job.setting, name))
    target = now.figure.si if now.figure else None
    return Figures(now, after, limit, make.gauge(name, target, limit), weight, (), now.figure is not None)


def _no_seat() -> Figure:
    raise MissingInput("installation.seat")


def _taken(make: BoxMaker) -> Weight | None:
    """Hook load before and after the hanger takes the liner."""
    try:
        loads = make.job.hook_loads
        before, motion = make.moving(loads.on_depth, Motion.SLACKING_OFF)
        after, _motion = make.moving(loads.alone, Motion.SLACKING_OFF)
    except MissingInput as error:
        make.teller.needs["hook load"] = error.missing
        return None
    if before <= after:
        pushed = Say(
            "no fall by the liner's weight: it was pushed down; {after} with the tool released",
            {"after": Figure(after, "force")},
        )
        return Weight(before, None, motion, (pushed, Say("prove it by pressure and by travel")))
    whole, along = Figure(loads.liner_whole_n, "force"), Figure(loads.liner_n, "force")
    says = [Say("falls as the slips take the liner, in mud")]
    share = (before - after) / before if before > 0.0 else 0.0
    if loads.liner_n < 0.9 * loads.liner_whole_n:
        says.append(
            Say("the liner weighs {whole}, {along} of it along the hole", {"whole": whole, "along": along})
        )
    if share < 0.1:
        says.append(Say("a small sign: prove it by pressure and by travel too"))
    return Weight(before, after, motion, tuple(says))


def set_the_hanger(make: BoxMaker) -> Figures:
    """Through the hanger's band, and the weight that goes."""
    return pressured(
        make, HANGER, "Raise slowly, hold.", "Pins let go at {hanger_low} to {hanger_high}.",
        weight=_taken(make),
    )  # fmt: skip


def set_the_hanger_by_turning(make: BoxMaker) -> Figures:
    """The weight on the slips of a mechanical hanger."""
    now = make.box("liner on the slips", lambda: Figure(make.job.hook_loads.liner_n, "force"))
    after = make.bound("turn no more", lambda: step_bounds.torque(make.job), "torque")
    return Figures(now, after, make.overpull(), None, _taken(make), (), True)


def set_the_hanger_otherwise(make: BoxMaker) -> Figures:
    """An expandable hanger, by its pressure; one of which the file does not say how it is set."""
    if make.word("hanger_type") == "expandable":
        return pressured(make, HANGER, "As its maker says, before or after the cement.", weight=_taken(make))

    def unknown() -> Figure:
        raise MissingInput("liner hanger.type")

    boxes = (make.box(what, unknown) for what in ("set it by", "in this step"))
    return Figures(next(boxes), NOTHING, next(boxes), None, _taken(make), (), True)


def set_on_bottom(make: BoxMaker) -> Figures:
    """The weight of a liner without a hanger on what is below it."""
    now = make.box("liner on the bottom", lambda: Figure(make.job.hook_loads.liner_n, "force"))
    limit = make.bound("slack off no more", lambda: step_bounds.slack_off(make.job), "force")
    return Figures(now, NOTHING, limit, None, _taken(make), (), True)


def release_the_tool(make: BoxMaker) -> Figures:
    """Through the band in which the tool lets go."""
    lines = "Raise slowly, hold, bleed off.", "It lets go at {tool_low} to {tool_high}."
    weight = slacked(make, _least_down(make), "installation.tool releases at")
    return pressured(make, TOOL, *lines, weight=weight)


def _least_down(make: BoxMaker) -> float | None:
    found = make.teller.figure("tool_least_down")
    return None if isinstance(found, str) else found.si


def release_the_tool_by_turning(make: BoxMaker) -> Figures:
    """Turns and torque, which the file does not have."""
    never_box = make.bound("turn no more", lambda: step_bounds.torque(make.job), "torque")
    return Figures(
        make.text("turn", "Turns and torque of the maker's sheet."), NOTHING, never_box, None, None, (), True
    )


def prove_the_release(make: BoxMaker) -> Figures:
    """The string alone on the hook."""
    line = "block included; no liner comes with it."
    now = make.hooked("hook load, string alone", lambda: make.job.hook_loads.alone, Motion.PICKING_UP, line)
    limit = make.box("pick up no more", lambda: make.figure("travel"), "The seal comes out beyond it.")
    after = make.box("set down next", lambda: make.figure("tool_set_down"))
    weight = None
    try:
        loads = make.job.hook_loads
        before, motion = make.moving(loads.on_depth, Motion.PICKING_UP)
        alone, _motion = make.moving(loads.alone, Motion.PICKING_UP)
        drag = make.plan.job.friction is None  # is on top of it
        over = "over that by more than the drag" if drag else "more than that"
        says = (
            Say("string alone {alone}", {"alone": Figure(alone, "force")}),
            Say("{motion}", {"motion": motion}),
            Say(f"{over}: stop; at {{all}} all of the liner hangs on it", {"all": Figure(before, "force")}),
        )
        weight = Weight(None, None, motion, says)
    except MissingInput as error:
        make.teller.needs["hook load"] = error.missing
    # without its travel nobody knows when the seal comes out
    return Figures(now, after, limit, None, weight, (), limit.figure is not None)


def set_weight_on_the_tool(make: BoxMaker) -> Figures:
    """The weight that holds the tool against what lifts it."""
    now = make.box("on the liner top", lambda: make.figure("tool_set_down"))
    after = _lift(make)
    limit = make.bound("slack off no more", lambda: step_bounds.slack_off(make.job), "force")
    weight = slacked(make, make.plan.job.set_down_on_tool_n, "installation.set down on tool")
    return Figures(now, after, limit, None, weight, (), now.figure is not None)


def _lift(make: BoxMaker) -> Box:
    """The most that lifts the tool in what is to come."""
    if worst_lift(make.job) == (None, ()):
        return NOTHING
    made = make.box("most pump-out", lambda: make.figure("pump_out"), "The weight must hold it.")
    if made.figure is None:
        return made
    worst, lacks = worst_lift(make.job)
    lines = [Say("{band}: the weight must hold it.", {"band": worst.name.capitalize() if worst else ""})]
    if lacks:
        lines.append(Say("Not known, may be more: {parts}.", {"parts": ", ".join(one.what for one in lacks)}))
    return made._replace(lines=tuple(lines))


def shear_the_seat(make: BoxMaker) -> Figures:
    """Through the seat's band with the tool held down."""
    lines = "Raise steadily; stop the pump when it opens.", "It opens at {seat_low} to {seat_high}."
    made = pressured(make, SEAT, *lines)
    weight = slacked(make, make.plan.job.set_down_on_tool_n, "installation.set down on tool")
    held = None
    if weight is not None and weight.after_n is not None:
        jump = "a jump means that it was pumped out of its seal"
        much = "{fall_of_hook_load_seat} at the highest, drag and buckling not counted"
        if make.plan.depth.liner.find("liner hanger") is None:
            much = "how much is not worked out for a liner that stands on its foot"
        falls = make.teller.say(
            f"at first; falls evenly with the pressure, by {much}, and comes back; {jump}"
        )
        held = Weight(weight.after_n, None, standing(make), (falls,))
    return made._replace(weight=held)
