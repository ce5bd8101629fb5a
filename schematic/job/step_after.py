"""The figures of the steps behind the bump: packer, reversing, pulling, tests."""

from __future__ import annotations

from schematic.engineering.drag import Motion
from schematic.job import step_bounds
from schematic.job.box_maker import NOTHING, BoxMaker, Figures, pressure, with_limit
from schematic.job.card import Box, Say
from schematic.job.facts import proves_nothing
from schematic.job.slack_off import slacked


def set_the_packer(make: BoxMaker) -> Figures:
    """The weight that sets the liner top packer."""
    if make.plan.depth.liner.find("tie-back receptacle") is None:
        now = make.text("as its maker says", "Dogs out first.")
    else:
        rises = "From where the weight stops rising, the string alone.", "Dogs out of the receptacle."
        now = make.box("pick up first", lambda: make.figure("dogs_travel"), *rises)
    weight = slacked(make, make.plan.job.packer_set_down_n, "liner top packer.set down")
    if weight is not None and make.plan.job.friction is not None:
        up = make.teller.say("pick up first, to {alone_up} on the way")
        weight = weight._replace(says=(up, *weight.says))
    after = make.box("then on the packer", lambda: make.figure("packer_set_down"))
    limit = make.bound("slack off no more", lambda: step_bounds.slack_off(make.job), "force")
    # without its travel nobody knows when the dogs are out
    return Figures(now, after, limit, None, weight, (), now.word != "not computed")


def test_the_packer(make: BoxMaker) -> Figures:
    """What the annulus bears in a first test of the packer."""
    now = make.text("as the program says", "A pressure for this try is not in the file.")
    return Figures(
        now,
        NOTHING,
        _annulus(make),
        None,
        None,
        (),
        True,
    )


def pull_out_and_reverse(make: BoxMaker) -> Figures:
    """The cement above the liner top, and when it is out."""
    now = make.box("pull clear, pressures equalized first", lambda: make.figure("pulled"))
    after = make.box(
        "reversed, clean after",
        lambda: make.figure("reverse_clean"),
        "Cement from {reverse_seen} on, up the pipe.",
    )
    return Figures(now, after, _annulus(make), None, None, (), True)


def pull_the_string(make: BoxMaker) -> Figures:
    """The string alone on the way out."""
    line = "string alone at the start, block included."
    now = make.hooked("hook load", lambda: make.job.hook_loads.alone, Motion.PICKING_UP, line)
    return Figures(now, NOTHING, make.overpull(hung=True), None, None, (), True)


def test_the_lap(make: BoxMaker) -> Figures:
    """The surface pressure, and what the host shoe sees should the lap leak."""
    now = make.box("raise to", lambda: make.figure("test_pressure"), "In steps; hold {test_hold}.")
    limit = make.bound("until cement is credited", lambda: step_bounds.lap_test(make.job))
    if make.plan.depth.liner.shoe_md_m > make.plan.depth.host.shoe_md_m:
        leak = make.teller.say("Above {leak_from} a lap that leaks breaks the host shoe.")
        if limit.figure is not None:
            limit = with_limit(limit, leak)
        elif not isinstance(make.teller.figure("leak_from"), str):
            limit = limit._replace(lines=(leak, *limit.lines), strong=True)
    return Figures(now, NOTHING, limit, None, None, (), now.figure is not None)


def inflow_test(make: BoxMaker) -> Figures:
    """The difference across the lap from outside."""
    test = make.job.proofs.inflow[0] if make.job.proofs.inflow else None
    if test is not None and test.reached_pa is None:
        lines = ["At most, with the next fluid inside all the way."]
    else:
        lines = ["At least, from outside: it must hold {inflow_needed}."]
    if test is not None:
        known = not isinstance(make.teller.figure("inflow_hold"), str)  # else the card says what it needs
        lines.append("Hold {inflow_hold}." if known else "How long is not in the file.")
    if proves_nothing(make.job):
        now = make.text("no inflow", "The next fluid inside is the stronger: a test proves nothing.")
    else:
        now = make.box("across the lap", lambda: make.figure("inflow_test"), *lines)
    after = NOTHING
    released = now.word != "not computed"
    if test is not None and test.light_drop_pa is not None and test.bled_off_pa is not None:
        released &= now.figure is None or now.figure.si <= test.bled_off_pa[1] + 1.0
        drop = {"drop": pressure(test.light_drop_pa)}
        after = Box(
            pressure(test.bled_off_pa[1]),
            "across the lap if bled off whole",
            (Say("The light fluid lowers the hydrostatic by {drop}: that is not the difference yet.", drop),),
        )
        its = next(one for one in make.plan.job.tests if one.name == test.name)
        if its.light_fluid_to_md_m is None:
            taken = Say("Its foot is not in the file: taken at the liner top.")
            after = after._replace(lines=(*after.lines, taken))
    limit = make.bound("across the lap", lambda: step_bounds.from_outside(make.job))
    return Figures(now, after, limit, None, None, (), released)


def _annulus(make: BoxMaker) -> Box:
    return make.bound("on the annulus", lambda: step_bounds.annulus(make.job))
