"""The figures of each step: what now, what next, what never, the gauge, the weights, the count.

Every figure comes from the engineering; where an input is missing the box says what it needs, and no other
figure stands in its place. Pressures are at surface, at rest; hook loads have the block in them.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import NamedTuple

from schematic.engineering.at_rest import difference_pa
from schematic.engineering.columns import emw_kg_per_m3
from schematic.engineering.drag import Motion
from schematic.engineering.strength import liner_strength
from schematic.job.bounds import Bound, exposed, least, never, pump_out_bound
from schematic.job.card import Box, Countdown, Gauge, GaugeBand, Say, Weight
from schematic.job.events import BALL, BUMP, DART, DART_AWAY, LIMIT, Event
from schematic.job.facts import Teller
from schematic.job.hook_loads import HookLoad, hook_load
from schematic.job.installation import Installation
from schematic.job.overpull import overpull_limit
from schematic.job.proof import host_limit_kg_per_m3
from schematic.job.set_down import set_down
from schematic.job.setting import BUMP as BUMP_BAND
from schematic.job.setting import HANGER, PLUG, SEAT, TOOL
from schematic.job.step_scene import place_at, shoe_md_m
from schematic.job.under_test import surface_bound
from schematic.outcome import Figure, MissingInput
from schematic.units import STANDARD_GRAVITY_M_PER_S2


class Figures(NamedTuple):
    """All figures of a step."""

    now: Box
    next: Box
    never: Box
    gauge: Gauge | None
    weight: Weight | None
    counts: tuple[Countdown, ...]
    released: bool


NOTHING = Box(None, "none", ())


class _Maker:
    """Makes boxes of one step and keeps what they lack in the step's teller."""

    def __init__(self, job: Installation, teller: Teller, code: str) -> None:
        self.job, self.plan, self.teller, self.code = job, job.plan, teller, code

    def box(self, what: str, figure: Callable[[], Figure], *lines: str) -> Box:
        """A box with a figure, or one that says what it needs."""
        try:
            found = figure()
        except MissingInput as error:
            self.teller.needs[what] = error.missing
            return Box(None, "not computed", (Say("needs {needs}", {"needs": ", ".join(error.missing)}),))
        return Box(found, what, tuple(self.teller.say(line) for line in lines))

    def bound(self, what: str, bound: Callable[[], Bound], kind: str = "pressure") -> Box:
        """A box of what must not be exceeded, with its reason."""
        try:
            found = bound()
        except MissingInput as error:
            self.teller.needs["never exceed"] = error.missing
            return Box(None, "not computed", (Say("needs {needs}", {"needs": ", ".join(error.missing)}),))
        lines = [Say("{why}", {"why": found.why[:1].upper() + found.why[1:] + "."})]
        if found.unknown:
            lines.append(Say("Not known, may be less: {parts}.", {"parts": ", ".join(found.unknown)}))
        return Box(Figure(found.pressure_pa, kind), what, tuple(lines))

    def text(self, word: str, *lines: str) -> Box:
        """A box without a figure."""
        return Box(None, word, tuple(self.teller.say(line) for line in lines))

    @property
    def block_n(self) -> float:
        """Weight of the block; raises MissingInput."""
        block = self.plan.job.block_weight_n
        if block is None:
            raise MissingInput("installation.block weight")
        return block

    def hook(self, load: HookLoad, motion: Motion) -> float:
        """A hook load with the block; raises MissingInput where friction is not given."""
        value = {
            Motion.PICKING_UP: load.up_n,
            Motion.SLACKING_OFF: load.down_n,
            Motion.ROTATING: load.rotating_n,
        }[motion]
        if value is None:
            raise MissingInput("installation.friction")
        return value + self.block_n

    def moving(self, load: HookLoad, motion: Motion) -> tuple[float, str]:
        """The hook load of a motion, or without friction that at rest, and which of the two it is."""
        try:
            return self.hook(load, motion), motion.name.lower().replace("_", " ")
        except MissingInput:
            return self.hook(load, Motion.ROTATING), "at rest, no drag"

    def count(self, *names: str, dart: bool = False) -> tuple[Countdown, ...]:
        """The events of these names, on the dart's counter where asked; none where not computed."""
        try:
            found = self.job.events
        except MissingInput as error:
            self.teller.needs["count of volume"] = error.missing
            return ()
        return tuple(_count(event, dart) for event in found if event.name in names)

    def overpull(self) -> Box:
        """What may be pulled at most, block included."""
        return self.bound(
            "pull no more",
            lambda: Bound(overpull_limit(self.plan)[0] + self.block_n, overpull_limit(self.plan)[1]),
            "force",
        )

    def circulating(self) -> Bound:
        """The pressure below which nothing sets while circulating."""
        bounds = []
        given = self.plan.job.circulate_up_to_pa
        if given is not None:
            bounds.append(Bound(given, "circulating limit of the programme"))
        sets = self.plan.job.hanger_sets_pa
        if sets is not None:
            share = self.plan.limits["greatest circulating share"].si
            bounds.append(Bound(share * sets[1], "the hanger sets above it, a share kept"))
        if not bounds:
            raise MissingInput("installation.circulate up to")
        return min(bounds, key=lambda bound: bound.pressure_pa)

    def lowest(self) -> Bound:
        """What is under pressure while the liner hangs: ratings at their share, and the tool on its seal."""
        share = self.plan.limits["greatest share of rating"].si
        ratings, unknown = exposed(self.plan, liner=True, share=share)
        return least((*ratings, pump_out_bound(self.plan)), unknown)

    def host_shoe(self) -> Bound:
        """Pressure at surface on the annulus that the host shoe bears, cement standing at its highest."""
        limit = host_limit_kg_per_m3(self.plan)
        if limit is None:
            raise MissingInput("formation.leak off at the host shoe")
        place = place_at(self.job, "bump-the-plug")
        if place is None:
            raise MissingInput("cement")
        depth = self.plan.depth
        shoe = depth.host.shoe_md_m
        stands = emw_kg_per_m3(place.outside, depth.path, shoe) or 0.0
        room = (limit - stands) * STANDARD_GRAVITY_M_PER_S2 * depth.path.tvd_m(shoe)
        return Bound(max(room, 0.0), "the host shoe takes no more, at rest; friction not computed")

    def gauge(self, name: str, target_pa: float | None, limit: Box) -> Gauge | None:
        """The gauge of a step with a band of its own."""
        bands = self.job.setting.bands
        mine = next((band for band in bands if band.name == name), None)
        branch = mine.branch if mine else "dart" if name in (PLUG, BUMP_BAND) else "ball"
        shown = tuple(
            GaugeBand(band.name.split()[0], band.low_pa, band.high_pa, band.name == name)
            for band in bands
            if band.branch in (branch, "")
        )
        if not shown:
            return None
        why = limit.lines[0].figures.get("why", "") if limit.lines else ""
        top = limit.figure.si if limit.figure and limit.figure.kind == "pressure" else None
        return Gauge(shown, target_pa, top, str(why))


def _count(event: Event, dart: bool) -> Countdown:
    counted = event.counted
    if dart and event.since == "job" and event.dart is not None:
        strokes = event.dart.m3 / event.stroke_m3 if event.stroke_m3 else None
        return Countdown(event.name, *event.dart, strokes, None)
    return Countdown(event.name, *counted, event.strokes, event.seconds)


def figures(job: Installation, code: str, teller: Teller) -> Figures:
    """The figures of a step."""
    made = _MAKERS.get(code, _plain)(_Maker(job, teller, code))
    limit, target = made.never.figure, made.now.figure
    beyond = limit is not None and target is not None and limit.kind == target.kind and target.si > limit.si
    return made._replace(released=not beyond)


def _plain(make: _Maker) -> Figures:
    """A step without pressure, weight or volume."""
    return Figures(make.text("no figure"), NOTHING, NOTHING, None, None, (), True)


def _weighed(make: _Maker, shoe: float, never_box: Box, next_box: Box) -> Figures:
    """A step on the way in: the hook load with the shoe at a depth."""
    words = ""

    def hook() -> Figure:
        nonlocal words
        value, words = make.moving(hook_load(make.plan, shoe), Motion.SLACKING_OFF)
        return Figure(value, "force")

    now = make.box("hook load", hook)
    if now.figure is not None:
        now = now._replace(lines=(Say("{words}, block included", {"words": words}),))
    return Figures(now, next_box, never_box, None, _both_ways(make, shoe), (), True)


def _both_ways(make: _Maker, shoe: float) -> Weight | None:
    try:
        load = hook_load(make.plan, shoe)
        up = make.hook(load, Motion.PICKING_UP)
        down = make.hook(load, Motion.SLACKING_OFF)
        rest = make.hook(load, Motion.ROTATING)
    except MissingInput as error:
        make.teller.needs["weight picking up and slacking off"] = error.missing
        return None
    says = (
        Say("picking up {up}", {"up": Figure(up, "force")}),
        Say("slacking off {down}", {"down": Figure(down, "force")}),
        Say("rotating off bottom {rest}", {"rest": Figure(rest, "force")}),
    )
    return Weight(None, None, "on the way", says)


def _run_liner(make: _Maker) -> Figures:
    shoe = shoe_md_m(make.job, make.code) or 0.0
    after = make.box("trip tank gains", lambda: _figure(make, "gain_liner"))
    return _weighed(make, shoe, make.bound("pull no more", lambda: _rig(make), "force"), after)


def _rig(make: _Maker) -> Bound:
    if make.plan.job.hook_load_limit_n is None:
        raise MissingInput("installation.hook load limit")
    return Bound(make.plan.job.hook_load_limit_n, "hook load limit; elevators and slips may bear less")


def _figure(make: _Maker, name: str) -> Figure:
    found = make.teller.figure(name)
    if isinstance(found, str):
        raise MissingInput(*make.teller.needs[name])
    return found


def _run_in(make: _Maker) -> Figures:
    shoe = shoe_md_m(make.job, make.code) or 0.0
    after = make.box("hanger may set from", lambda: _band(make, HANGER).low, "Circulate well below.")
    return _weighed(make, shoe, make.overpull(), after if make.plan.job.hanger_sets_pa else NOTHING)


class _BandFigures(NamedTuple):
    low: Figure
    high: Figure
    nominal: Figure
    counts_to: Figure


def _band(make: _Maker, name: str) -> _BandFigures:
    band = make.job.setting.band(name)
    values = band.low_pa, band.high_pa, band.nominal_pa, band.counts_to_pa
    return _BandFigures(*(Figure(value, "pressure") for value in values))


def _circulate(make: _Maker) -> Figures:
    name = "bottoms_up_host" if make.code == "circulate-at-the-host-shoe" else "bottoms_up"
    now = make.box("one annulus", lambda: _figure(make, name), "At least; until it comes back clean.")
    limit = make.bound("circulate no higher", make.circulating)
    after = NOTHING
    if make.plan.job.hanger_sets_pa:
        after = make.box("hanger may set from", lambda: _band(make, HANGER).low)
    shoe = shoe_md_m(make.job, make.code) or 0.0
    return Figures(now, after, limit, None, _both_ways(make, shoe), (), True)


def _ball(make: _Maker) -> Figures:
    now = make.box("pump", lambda: _figure(make, "ball_pumped"), "Then the pressure rises by itself.")
    first = next((band.name for band in make.job.setting.bands if band.branch == "ball"), HANGER)
    after = make.box(f"{first} from", lambda: _band(make, first).low)
    limit = make.bound("not before it is seated", lambda: _first_band(make, first))
    gauge = make.gauge(first, None, limit)
    return Figures(now, after, limit, gauge, None, make.count(BALL), True)


def _first_band(make: _Maker, first: str) -> Bound:
    return Bound(make.job.setting.band(first).low_pa, f"{first} from there on: position first")


def _pressured(make: _Maker, name: str, *lines: str, weight: Weight | None = None) -> Figures:
    """A step whose pressure passes a band."""
    now = make.box("raise to", lambda: _band(make, name).counts_to, *lines)
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
            (Say("From here up to {high}.", {"high": _pa(coming.high_pa)}),),
        )
    limit = make.bound("in this step", lambda: never(make.plan, make.job.setting, name))
    target = now.figure.si if now.figure else None
    return Figures(now, after, limit, make.gauge(name, target, limit), weight, (), True)


def _pa(value: float) -> Figure:
    return Figure(value, "pressure")


def _taken(make: _Maker) -> Weight | None:
    """Hook load before and after the hanger takes the liner."""
    try:
        loads = make.job.hook_loads
        before, motion = make.moving(loads.on_depth, Motion.SLACKING_OFF)
        after, _motion = make.moving(loads.alone, Motion.SLACKING_OFF)
    except MissingInput as error:
        make.teller.needs["hook load"] = error.missing
        return None
    whole, along = Figure(loads.liner_whole_n, "force"), Figure(loads.liner_n, "force")
    says = [Say("falls {fall}: the liner in mud", {"fall": Figure(before - after, "force")})]
    share = (before - after) / before if before > 0.0 else 0.0
    if loads.liner_n < 0.9 * loads.liner_whole_n:
        says.append(
            Say("the liner weighs {whole}, {along} of it along the hole", {"whole": whole, "along": along})
        )
    if share < 0.1:
        says.append(Say("a small sign: prove it by pressure and by travel too"))
    return Weight(before, after, motion, tuple(says))


def _hanger(make: _Maker) -> Figures:
    return _pressured(
        make, HANGER, "Raise slowly, hold.", "Pins let go at {hanger_low} to {hanger_high}.",
        weight=_taken(make),
    )  # fmt: skip


def _hanger_turned(make: _Maker) -> Figures:
    now = make.box("liner on the slips", lambda: Figure(make.job.hook_loads.liner_n, "force"))
    return Figures(now, NOTHING, make.overpull(), None, _taken(make), (), True)


def _tool(make: _Maker) -> Figures:
    return _pressured(
        make, TOOL, "Raise slowly, hold, bleed off.", "It lets go at {tool_low} to {tool_high}."
    )


def _tool_turned(make: _Maker) -> Figures:
    limit = make.plan.job.torque_limit_nm
    never_box = make.text("torque", "no more than the weakest connection and the tool bear")
    if limit is None:
        make.teller.needs["torque limit"] = ("installation.torque limit",)
    return Figures(
        make.text("turn", "Turns and torque of the maker's sheet."), NOTHING, never_box, None, None, (), True
    )


def _proven(make: _Maker) -> Figures:
    def hook() -> Figure:
        value, _words = make.moving(make.job.hook_loads.alone, Motion.PICKING_UP)
        return Figure(value, "force")

    now = make.box("hook load, string alone", hook, "Block included; no liner comes with it.")
    limit = make.box("pick up no more", lambda: _figure(make, "travel"), "The seal comes out beyond it.")
    after = make.box("set down next", lambda: _figure(make, "tool_set_down"))
    weight = None
    try:
        loads = make.job.hook_loads
        before, motion = make.moving(loads.on_depth, Motion.PICKING_UP)
        alone, _motion = make.moving(loads.alone, Motion.PICKING_UP)
        fall = Figure(before - alone, "force")
        weight = Weight(before, alone, motion, (Say("{fall} less than with the liner", {"fall": fall}),))
    except MissingInput as error:
        make.teller.needs["hook load"] = error.missing
    return Figures(now, after, limit, None, weight, (), True)


def _slacked(make: _Maker, force_n: float | None, needs: str) -> Weight | None:
    """Hook load before and after a weight is set down at the liner top."""
    try:
        if force_n is None:
            raise MissingInput(needs)
        before, motion = make.moving(make.job.hook_loads.alone, Motion.SLACKING_OFF)
        if make.plan.job.friction is None:
            after, says = before - force_n, [Say("drag not computed: needs installation.friction")]
        else:
            found = set_down(make.plan, force_n)
            after = found.hook_n + make.block_n
            slack = {"slack": Figure(found.slack_off_n, "force")}
            says = [Say("slack off {slack} at surface", slack)]
            bent = [pipe for pipe in found.buckled if pipe.state != "straight"]
            says += [
                Say("{name} buckles, {state}", {"name": pipe.name, "state": pipe.state}) for pipe in bent
            ]
    except MissingInput as error:
        make.teller.needs["hook load"] = error.missing
        return None
    return Weight(before, after, motion, tuple(says))


def _slack_limit(make: _Maker) -> Bound:
    limit = make.plan.job.slack_off_limit_n
    if limit is None:
        raise MissingInput("installation.slack off limit")
    return Bound(limit, "slack-off limit of the programme")


def _weight_on_tool(make: _Maker) -> Figures:
    now = make.box("on the liner top", lambda: _figure(make, "tool_set_down"))
    after = make.box("pump-out at the seat", lambda: _figure(make, "pump_out"), "The weight must hold it.")
    limit = make.bound("slack off no more", lambda: _slack_limit(make), "force")
    weight = _slacked(make, make.plan.job.set_down_on_tool_n, "installation.set down on tool")
    return Figures(now, after, limit, None, weight, (), True)


def _seat(make: _Maker) -> Figures:
    lines = "Raise steadily; stop the pump when it opens.", "It opens at {seat_low} to {seat_high}."
    made = _pressured(make, SEAT, *lines)
    weight = _slacked(make, make.plan.job.set_down_on_tool_n, "installation.set down on tool")
    held = None
    if weight is not None and weight.after_n is not None:
        says = (Say("stays: the tool is held down"),)
        held = Weight(weight.after_n, weight.after_n, "at rest", says)
    return made._replace(weight=held)


def _hung(make: _Maker) -> Figures:
    now = make.box("one annulus", lambda: _figure(make, "bottoms_up"), "Friction is not computed.")
    limit = make.bound("at surface", make.lowest)
    return Figures(now, NOTHING, limit, None, None, (), True)


def _pumped(make: _Maker) -> Figures:
    def volume() -> Figure:
        event = next((one for one in make.job.events if one.name == DART_AWAY), None)
        if event is None:
            raise MissingInput("cement")
        return Figure(event.m3, "volume")

    now = make.box("pump in all", volume, "Spacer {spacer_volume}, then cement {cement_volume}.")
    after = make.box("dart to the plug", lambda: _figure(make, "dart_volume"), "Counted from the dart.")
    limit = make.bound("at surface", make.lowest)
    names = [DART_AWAY]
    with suppress(MissingInput):
        names += [one.name for one in make.job.events if one.name.endswith("at shoe")]
    return Figures(now, after, limit, None, None, make.count(*names), True)


def _dart(make: _Maker) -> Figures:
    now = make.box("from the dart", lambda: _figure(make, "dart_volume"), "Slow down before.")
    after = make.box("plug releases at", lambda: _band(make, PLUG).nominal, "{plug_low} to {plug_high}.")
    limit = make.bound("at surface", lambda: never(make.plan, make.job.setting, PLUG))
    place = place_at(make.job, make.code)
    if place is not None and after.figure is not None:
        depth = make.plan.depth
        lift = difference_pa(place, depth.path, depth.liner.shoe_md_m)
        words = "columns at rest add {lift} to it" if lift >= 0.0 else "columns at rest take {lift} off it"
        after = after._replace(lines=(*after.lines, Say(words, {"lift": _pa(abs(lift))})))
    gauge = make.gauge(PLUG, None, limit)
    return Figures(now, after, limit, gauge, None, make.count(DART, BUMP, dart=True), True)


def _displace(make: _Maker) -> Figures:
    now = make.box("from the dart", lambda: _figure(make, "bump_volume"), "Then the plug lands.")
    after = make.box("at rest before the bump", lambda: _figure(make, "u_tube"), "Friction comes on top.")
    limit = make.bound("at surface", lambda: never(make.plan, make.job.setting, BUMP_BAND))
    try:
        names = [one.name for one in make.job.events if one.name.endswith(("host shoe", "liner top"))]
    except MissingInput:
        names = []
    return Figures(now, after, limit, None, None, make.count(BUMP, LIMIT, *names, dart=True), True)


def _bump(make: _Maker) -> Figures:
    lines = "Final pressure and {bump_over} over it.", "Lowest rate before it lands."
    made = _pressured(make, BUMP_BAND, *lines)
    after = make.box("no bump: stop at", lambda: _figure(make, "bump_stop"), "Counted from the dart.")
    return made._replace(next=after, counts=make.count(BUMP, LIMIT, dart=True))


def _packer(make: _Maker) -> Figures:
    now = make.box("on the packer", lambda: _figure(make, "packer_set_down"))
    weight = _slacked(make, make.plan.job.packer_set_down_n, "liner top packer.set down")
    after = make.box("pick up first", lambda: _figure(make, "dogs_travel"), "Dogs out of the receptacle.")
    limit = make.bound("slack off no more", lambda: _slack_limit(make), "force")
    return Figures(now, after, limit, None, weight, (), True)


def _packer_test(make: _Maker) -> Figures:
    now = make.text("as the programme says", "A pressure for this try is not in the file.")
    return Figures(now, NOTHING, make.bound("on the annulus", make.host_shoe), None, None, (), True)


def _reverse(make: _Maker) -> Figures:
    now = make.box(
        "above the liner top", lambda: _figure(make, "reverse_volume"), "Cement, if nothing was lost."
    )
    after = make.box("clean after", lambda: _figure(make, "string_volume"), "One string, up the pipe.")
    return Figures(now, after, make.bound("on the annulus", make.host_shoe), None, None, (), True)


def _pull(make: _Maker) -> Figures:
    def hook() -> Figure:
        value, _words = make.moving(make.job.hook_loads.alone, Motion.PICKING_UP)
        return Figure(value, "force")

    now = make.box("hook load", hook, "String alone, block included.")
    return Figures(now, NOTHING, make.overpull(), None, None, (), True)


def _lap_test(make: _Maker) -> Figures:
    now = make.box("raise to", lambda: _figure(make, "test_pressure"), "In steps; hold {test_hold}.")
    limit = make.bound("until cement is credited", lambda: _lap_limit(make))
    after = make.box("host shoe, should it leak", lambda: _leak(make), "EMW there, if the lap leaks.")
    return Figures(now, after, limit, None, None, (), True)


def _leak(make: _Maker) -> Figure:
    if not make.job.proofs.positive:
        raise MissingInput("installation.tests")
    return Figure(make.job.proofs.positive[0].host_emw_kg_per_m3, "emw")


def _lap_limit(make: _Maker) -> Bound:
    """The weakest of what a test from above loads."""
    if not make.job.proofs.positive:
        raise MissingInput("installation.tests")
    return surface_bound(make.plan, make.job.proofs.positive[0])


def _inflow(make: _Maker) -> Figures:
    now = make.box("across the lap", lambda: _figure(make, "inflow_needed"), "At least, from outside.")

    def collapse() -> Bound:
        strength = liner_strength(make.plan.depth.liner)
        share = make.plan.limits["greatest share of rating"].si
        return Bound(share * strength.collapse_pa, "collapse of the liner, not pulled")

    after = NOTHING
    if make.job.proofs.inflow and make.job.proofs.inflow[0].light_drop_pa is not None:
        after = Box(
            _pa(make.job.proofs.inflow[0].light_drop_pa),
            "drop of hydrostatic",
            (Say("by the light fluid; not yet the difference across the lap"),),
        )
    return Figures(now, after, make.bound("across the lap", collapse), None, None, (), True)


_MAKERS: dict[str, Callable[[_Maker], Figures]] = {
    "run-the-liner": _run_liner,
    "pick-up-the-hanger": _run_liner,
    "run-in-on-pipe": _run_in,
    "circulate-at-the-host-shoe": _circulate,
    "run-to-depth": _run_in,
    "circulate-on-depth": _circulate,
    "ball-on-seat": _ball,
    "set-the-hanger": _hanger,
    "set-the-hanger-by-turning": _hanger_turned,
    "release-the-tool": _tool,
    "release-the-tool-by-turning": _tool_turned,
    "prove-the-release": _proven,
    "set-weight-on-the-tool": _weight_on_tool,
    "shear-the-seat": _seat,
    "circulate-hung": _hung,
    "pump-spacer-and-cement": _pumped,
    "dart-meets-plug": _dart,
    "displace-the-liner": _displace,
    "bump-the-plug": _bump,
    "set-the-packer": _packer,
    "test-the-packer": _packer_test,
    "pull-out-and-reverse": _reverse,
    "pull-clear": _pull,
    "pull-out-of-hole": _pull,
    "test-the-lap": _lap_test,
    "inflow-test": _inflow,
}
