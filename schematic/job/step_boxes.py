"""Which figures each step has: what now, what next, what never, the gauge, the weights, the count."""

from __future__ import annotations

from collections.abc import Callable

from schematic.job import step_after, step_pumping, step_running, step_setting
from schematic.job.box_maker import BoxMaker, Figures
from schematic.job.card import Weight
from schematic.job.facts import Teller
from schematic.job.installation import Installation
from schematic.job.step_weights import expected


def figures(job: Installation, code: str, teller: Teller) -> tuple[Figures, Weight]:
    """The figures of a step, and the hook load to expect."""
    make = BoxMaker(job, teller, code)
    made = _MAKERS.get(code, step_running.plain)(make)
    limit, target = made.never.figure, made.now.figure
    beyond = limit is not None and target is not None and limit.kind == target.kind and target.si > limit.si
    by_pressure = target is not None and target.kind == "pressure"
    unbounded = by_pressure and (limit is None or limit.kind != "pressure")
    made = made._replace(released=made.released and not (beyond or unbounded))
    if by_pressure and not made.released:  # how it would be done is not told
        made = made._replace(now=made.now._replace(lines=()))
    return made, made.weight or expected(make)


_MAKERS: dict[str, Callable[[BoxMaker], Figures]] = {
    "run-the-liner": step_running.run_the_liner,
    "pick-up-the-hanger": step_running.run_the_liner,
    "run-in-on-pipe": step_running.run_in,
    "circulate-at-the-host-shoe": step_running.circulate,
    "run-to-depth": step_running.run_in,
    "circulate-on-depth": step_running.circulate,
    "ball-on-seat": step_setting.land_the_ball,
    "set-the-hanger": step_setting.set_the_hanger,
    "set-the-hanger-by-turning": step_setting.set_the_hanger_by_turning,
    "set-the-hanger-as-its-maker-says": step_setting.set_the_hanger_otherwise,
    "set-on-bottom": step_setting.set_on_bottom,
    "release-the-tool": step_setting.release_the_tool,
    "release-the-tool-by-turning": step_setting.release_the_tool_by_turning,
    "prove-the-release": step_setting.prove_the_release,
    "set-weight-on-the-tool": step_setting.set_weight_on_the_tool,
    "shear-the-seat": step_setting.shear_the_seat,
    "circulate-hung": step_pumping.circulate_hung,
    "pump-spacer-and-cement": step_pumping.pump_spacer_and_cement,
    "dart-meets-plug": step_pumping.dart_meets_plug,
    "displace-the-liner": step_pumping.displace_the_liner,
    "displace-by-volume": step_pumping.displace_by_volume,
    "bump-the-plug": step_pumping.bump_the_plug,
    "set-the-packer": step_after.set_the_packer,
    "test-the-packer": step_after.test_the_packer,
    "pull-out-and-reverse": step_after.pull_out_and_reverse,
    "pull-clear": step_after.pull_the_string,
    "pull-out-of-hole": step_after.pull_the_string,
    "test-the-lap": step_after.test_the_lap,
    "inflow-test": step_after.inflow_test,
}
