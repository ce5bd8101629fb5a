"""The figures of each step: what now, what next, what never, the gauge, the weights, the count.

Every figure comes from the engineering; where an input is missing the box says what it needs, and no other
figure stands in its place. Pressures are at surface, at rest; hook loads have the block in them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from functools import partial
from typing import NamedTuple

from schematic.engineering.at_rest import FRESH_WATER_KG_PER_M3, difference_pa, weak_points
from schematic.engineering.columns import emw_kg_per_m3
from schematic.engineering.drag import Motion
from schematic.engineering.strength import casing_strength, liner_strength
from schematic.engineering.train import Place
from schematic.engineering.weights import liner_weight
from schematic.job.bounds import Bound, begins_pa, going_round, least, never, rock_bound
from schematic.job.card import Box, Countdown, Gauge, GaugeBand, Say, Weight
from schematic.job.events import BALL, BUMP, DART, DART_AWAY, LIMIT, Event
from schematic.job.facts import Teller, pump_band_known, worst_lift
from schematic.job.hook_loads import HookLoad, hook_load
from schematic.job.installation import Installation
from schematic.job.overpull import overpull, overpull_limit
from schematic.job.proof import host_limit_kg_per_m3
from schematic.job.set_down import Buckled, buckled, set_down
from schematic.job.setting import BALL_BRANCH, DART_BRANCH, EITHER, HANGER, PLUG, SEAT, TOOL
from schematic.job.setting import BUMP as BUMP_BAND
from schematic.job.step_scene import place_at, shoe_md_m
from schematic.job.under_test import exposed_strings, surface_bound
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
_STATES = 20  # of the columns, looked at over a step that is pumped


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
        counts = tuple(_count(event, dart) for event in found if event.name in names)
        if pump_band_known(self.plan):
            return counts
        # compression alone is no band of the count
        behind = {event.name for event in found if event.since == "dart"}
        return tuple(
            one._replace(least_m3=one.m3, most_m3=one.m3) if one.event in behind else one for one in counts
        )

    def overpull(self, *, hung: bool = False) -> Box:
        """What may be pulled at most, block included; what bears the liner no longer counts once it hangs."""

        def bound() -> Bound:
            overpull_limit(self.plan)  # raises where nothing is known of a pipe on which all hangs
            found = overpull(self.plan)
            bears = [one for one in found.bearings if not (hung and one.path == "liner")]
            lowest = min(bears, key=lambda one: one.hook_n)
            new = ", new pipe" if lowest.bears == "body yield" else ""
            unknown = tuple(one.name for one in found.unknown if not (hung and one.path == "liner"))
            return Bound(lowest.hook_n + self.block_n, f"{lowest.bears} of {lowest.name}{new}", unknown)

        return self.bound("pull no more", bound, "force")

    def circulating(self) -> Bound:
        """The pressure below which nothing sets while circulating."""
        its, bounds = self.job.setting, []
        given = self.plan.job.circulate_up_to_pa
        if given is not None:
            bounds.append(Bound(given, "circulating limit of the programme"))
        share = self.plan.limits["greatest circulating share"].si
        bounds += [
            Bound(share * band.low_pa, f"{band.name} above it, a share kept")
            for band in its.bands
            if band.branch in (BALL_BRANCH, EITHER)
        ]
        if not bounds:
            raise MissingInput("installation.circulate up to")
        return least(bounds, [one.what for one in its.missing if one.what in its.order])

    def annulus(self) -> Bound:
        """Pressure at surface on the annulus: what the host shoe bears should the liner top leak, cement at
        its highest, and what the strings above the liner top, the packer and the surface equipment bear.
        """
        plan, depth = self.plan, self.plan.depth
        share, limit = plan.limits["greatest share of rating"].si, plan.job.surface_pressure_limit_pa
        mud, packer = plan.fluid("mud"), depth.liner.find("liner top packer")
        if mud is None:
            raise MissingInput("a fluid of kind mud")
        bounds, unknown = [], []
        if depth.liner.shoe_md_m > depth.host.shoe_md_m:
            bounds.append(self._host_shoe(mud.density_kg_per_m3))
        over = max(mud.density_kg_per_m3 - FRESH_WATER_KG_PER_M3, 0.0) * STANDARD_GRAVITY_M_PER_S2
        for string, md in exposed_strings(plan):
            try:
                bears = share * casing_strength(string).burst_pa - over * depth.path.tvd_m(md)
                bounds.append(Bound(max(bears, 0.0), f"a share of the burst of the {string.name}"))
            except MissingInput:
                unknown.append(string.name)
        if packer is not None and packer.pressure_rating_pa is not None:
            bounds.append(Bound(share * packer.pressure_rating_pa, f"a share of the rating of {packer.name}"))
        elif packer is not None:
            unknown.append(packer.name)
        if limit is not None:
            bounds.append(Bound(limit, "limit of the surface equipment"))
        else:
            unknown.append("surface equipment")
        if not bounds:
            raise MissingInput(*(f"rating of {name}" for name in unknown))
        return least(bounds, unknown)

    def _host_shoe(self, mud_kg_per_m3: float) -> Bound:
        depth, limit = self.plan.depth, host_limit_kg_per_m3(self.plan)
        if limit is None:
            raise MissingInput("formation.leak off at the host shoe")
        shoe, stands = depth.host.shoe_md_m, mud_kg_per_m3
        if self.plan.cement.slurries:
            pumped = self.job.train
            end = pumped.at(pumped.total_m3)
            stands = emw_kg_per_m3(end.outside, depth.path, shoe) or mud_kg_per_m3
        room = (limit - stands) * STANDARD_GRAVITY_M_PER_S2 * depth.path.tvd_m(shoe)
        return Bound(max(room, 0.0), "the host shoe takes no more, at rest; friction not computed")

    def sets_from(self) -> Box:
        """From which pressure the hanger may set; none where it is not set by pressure."""
        if HANGER not in self.job.setting.order:
            return NOTHING
        return self.box("hanger may set from", lambda: _band(self, HANGER).low, "Circulate well below.")

    def still(self, places: Sequence[Place | None]) -> Box:
        """What must not be exceeded with the pump running, and what the rock takes if nothing comes back."""
        made = self.bound("at surface", lambda: going_round(self.plan, self.job.setting, places))
        if made.figure is None:
            return made
        return made._replace(lines=(made.lines[0], *self._no_returns(places), *made.lines[1:]))

    def _no_returns(self, places: Sequence[Place | None]) -> tuple[Say, ...]:
        """What the rock takes at rest: while fluid comes back, friction inside does not reach it."""
        if not weak_points(self.plan):
            return ()
        try:
            least_, first, last = (
                _pa(least([rock_bound(self.plan, place) for place in its], ()).pressure_pa)
                for its in (places, places[:1], places[-1:])
            )
        except MissingInput as error:
            return (Say("If returns stop: not known, needs {needs}.", {"needs": ", ".join(error.missing)}),)
        held = {"least": least_, "first": first, "last": last}
        if len(places) == 1:
            return (Say("If returns stop: {least} at most, or the rock breaks.", held),)
        between = ", {least} between" if least_.si < 0.99 * min(first.si, last.si) else ""
        ends = "at most {first} at the start, {last} at the end"
        return (Say(f"If returns stop: {ends}{between}, or the rock breaks.", held),)

    def going_round(self, begun_m3: float, ended_m3: float) -> Box:
        """What must not be exceeded from one volume pumped to another."""
        try:
            pumped = self.job.train
        except MissingInput as error:  # cement inside leaves less than mud does: no figure without it
            return self.box("at surface", partial(_lacking, error))
        fronts = {one.from_m3 + more for one in pumped.batches for more in (0.0, pumped.inside_m3)}
        steps = {begun_m3 + (ended_m3 - begun_m3) * n / _STATES for n in range(_STATES + 1)}
        at = sorted({*steps, *(front for front in fronts if begun_m3 < front < ended_m3)})
        return self.still([pumped.at(volume) for volume in at])

    def gauge(self, name: str, target_pa: float | None, limit: Box) -> Gauge | None:
        """The gauge of a step with a band of its own."""
        bands, place = self.job.setting.bands, self.job.setting.places.get(name)
        branch = DART_BRANCH if name in (PLUG, BUMP_BAND) else BALL_BRANCH
        if any(band.name == PLUG and band.columns_pa is None and branch == DART_BRANCH for band in bands):
            return None
        shown = []
        for band in bands:
            if band.branch in (branch, EITHER):
                low = begins_pa(self.plan, band, place)
                high = low + band.high_pa - band.low_pa
                shown.append(GaugeBand(band.name.split()[0], low, high, band.name == name))
        if not shown:
            return None
        why = limit.lines[0].figures.get("why", "") if limit.lines else ""
        top = limit.figure.si if limit.figure and limit.figure.kind == "pressure" else None
        return Gauge(tuple(shown), target_pa, top, str(why))


def _lacking(error: MissingInput) -> Figure:
    raise error


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
    by_pressure = target is not None and target.kind == "pressure"
    unbounded = by_pressure and (limit is None or limit.kind != "pressure")
    return made._replace(released=not (beyond or unbounded))


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
    return _weighed(make, shoe, make.overpull(), make.sets_from())


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
    shoe = shoe_md_m(make.job, make.code) or 0.0
    return Figures(now, make.sets_from(), limit, None, _both_ways(make, shoe), (), True)


def _ball(make: _Maker) -> Figures:
    now = make.box("pump", lambda: _figure(make, "ball_pumped"), "Then the pressure rises by itself.")
    first = next((band.name for band in make.job.setting.bands if band.branch == "ball"), HANGER)
    after = make.box(f"{first} from", lambda: _band(make, first).low)
    limit = make.bound("not before it is seated", make.circulating)
    gauge = make.gauge(first, None, limit)
    return Figures(now, after, limit, gauge, None, make.count(BALL), True)


def _pressured(make: _Maker, name: str, *lines: str, weight: Weight | None = None) -> Figures:
    """A step whose pressure passes a band; without a seat nothing holds it, and no target is told."""
    known = any(band.name == name for band in make.job.setting.bands)
    if make.plan.job.seat is None and (name == SEAT or (known and name in (HANGER, TOOL))):
        boxes = (make.box(what, lambda: _no_seat()) for what in ("raise to", "in this step"))
        return Figures(next(boxes), NOTHING, next(boxes), None, weight, (), True)
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


def _no_seat() -> Figure:
    raise MissingInput("installation.seat")


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
    after = make.bound("turn no more", lambda: _torque(make), "torque")
    return Figures(now, after, make.overpull(), None, _taken(make), (), True)


def _hanger_otherwise(make: _Maker) -> Figures:
    """An expandable hanger, by its pressure; one of which the file does not say how it is set."""
    if _figure_text(make, "hanger_type") == "expandable":
        return _pressured(make, HANGER, "As its maker says, before or after the cement.", weight=_taken(make))

    def unknown() -> Figure:
        raise MissingInput("liner hanger.type")

    boxes = (make.box(what, unknown) for what in ("set it by", "in this step"))
    return Figures(next(boxes), NOTHING, next(boxes), None, _taken(make), (), True)


def _figure_text(make: _Maker, name: str) -> str:
    found = make.teller.figure(name)
    return found if isinstance(found, str) else ""


def _on_bottom(make: _Maker) -> Figures:
    now = make.box("liner on the bottom", lambda: Figure(make.job.hook_loads.liner_n, "force"))
    limit = make.bound("slack off no more", lambda: _slack_limit(make), "force")
    return Figures(now, NOTHING, limit, None, _taken(make), (), True)


def _torque(make: _Maker) -> Bound:
    limit = make.plan.job.torque_limit_nm
    if limit is None:
        raise MissingInput("installation.torque limit")
    return Bound(limit, "torque limit of the programme; the tool may bear less")


def _tool(make: _Maker) -> Figures:
    return _pressured(
        make, TOOL, "Raise slowly, hold, bleed off.", "It lets go at {tool_low} to {tool_high}."
    )


def _tool_turned(make: _Maker) -> Figures:
    never_box = make.bound("turn no more", lambda: _torque(make), "torque")
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
            says += _bends(buckled(make.plan, force_n))
        else:
            found = set_down(make.plan, force_n)
            after = found.hook_n + make.block_n
            slack = {"slack": Figure(found.slack_off_n, "force")}
            says = [Say("slack off {slack} at surface", slack)]
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


def _slack_limit(make: _Maker) -> Bound:
    limit = make.plan.job.slack_off_limit_n
    if limit is None:
        raise MissingInput("installation.slack off limit")
    return Bound(limit, "slack-off limit of the programme")


def _weight_on_tool(make: _Maker) -> Figures:
    now = make.box("on the liner top", lambda: _figure(make, "tool_set_down"))
    after = _lift(make)
    limit = make.bound("slack off no more", lambda: _slack_limit(make), "force")
    weight = _slacked(make, make.plan.job.set_down_on_tool_n, "installation.set down on tool")
    return Figures(now, after, limit, None, weight, (), True)


def _lift(make: _Maker) -> Box:
    """The most that lifts the tool in what is to come."""
    if worst_lift(make.job) == (None, ()):
        return NOTHING
    made = make.box("most pump-out", lambda: _figure(make, "pump_out"), "The weight must hold it.")
    if made.figure is None:
        return made
    worst, lacks = worst_lift(make.job)
    lines = [Say("{band}: the weight must hold it.", {"band": worst.name.capitalize() if worst else ""})]
    if lacks:
        lines.append(Say("Not known, may be more: {parts}.", {"parts": ", ".join(one.what for one in lacks)}))
    return made._replace(lines=tuple(lines))


def _seat(make: _Maker) -> Figures:
    lines = "Raise steadily; stop the pump when it opens.", "It opens at {seat_low} to {seat_high}."
    made = _pressured(make, SEAT, *lines)
    weight = _slacked(make, make.plan.job.set_down_on_tool_n, "installation.set down on tool")
    held = None
    if weight is not None and weight.after_n is not None:
        # pressure shortens nothing that is held at both ends: part of what it lifts at the head is taken off
        # the hook; how much depends on drag and on what gives way, so no figure is told
        reads = {"reads": Figure(weight.after_n, "force")}
        says = (
            Say("{reads} at first; falls evenly with the pressure and comes back; a jump is the sign", reads),
        )
        held = Weight(weight.after_n, None, "at rest", says)
    return made._replace(weight=held)


def _hung(make: _Maker) -> Figures:
    now = make.box("one annulus", lambda: _figure(make, "bottoms_up"), "Friction is not computed.")
    return Figures(now, NOTHING, make.still((None,)), None, None, (), True)


def _pumped(make: _Maker) -> Figures:
    def volume() -> Figure:
        event = next((one for one in make.job.events if one.name == DART_AWAY), None)
        if event is None:
            raise MissingInput("cement")
        return Figure(event.m3, "volume")

    now = make.box("pump in all", volume, "Spacer {spacer_volume}, then cement {cement_volume}.")
    after = NOTHING
    if _plugged(make):
        after = make.box("dart to the plug", lambda: _figure(make, "dart_volume"), "Counted from the dart.")
    limit = make.going_round(0.0, _volume(make, lambda: make.job.train.dart_from_m3))
    names = [DART_AWAY] if _plugged(make) else []
    with suppress(MissingInput):
        names += [one.name for one in make.job.events if one.name.endswith("at shoe")]
    return Figures(now, after, limit, None, None, make.count(*names), True)


def _plugged(make: _Maker) -> bool:
    running = make.plan.depth.running
    return running is not None and running.plug_md_m is not None


def _dart(make: _Maker) -> Figures:
    now = make.box("from the dart", lambda: _figure(make, "dart_volume"), "Slow down before.")
    after = make.box(
        "plug releases at, at surface",
        lambda: _at_surface(make).nominal,
        "{plug_from} to {plug_to} at rest; friction comes on top.",
        "At the plug {plug_low} to {plug_high}.",
    )

    def most() -> Bound:
        if make.job.setting.band(PLUG).columns_pa is None:
            _ = make.job.train  # says what it needs
        return never(make.plan, make.job.setting, PLUG)

    limit = make.bound("at surface", most)
    place = place_at(make.job, make.code)
    if place is not None and after.figure is not None:
        depth = make.plan.depth
        lift = difference_pa(place, depth.path, depth.liner.shoe_md_m)
        words = "Columns at rest add {lift} to it" if lift >= 0.0 else "Columns at rest take {lift} off it"
        after = after._replace(lines=(*after.lines, Say(f"{words}.", {"lift": _pa(abs(lift))})))
    gauge = make.gauge(PLUG, None, limit)
    return Figures(now, after, limit, gauge, None, make.count(DART, BUMP, dart=True), True)


def _at_surface(make: _Maker) -> _BandFigures:
    """The plug's band as the gauge shows it at rest; raises MissingInput where the columns are not known."""
    band = make.job.setting.band(PLUG)
    if band.columns_pa is None:
        _ = make.job.train  # says what it needs
    its = band.surface
    values = its.low_pa, its.high_pa, its.nominal_pa, its.counts_to_pa
    return _BandFigures(*(_pa(value) for value in values))


def _volume(make: _Maker, of: Callable[[], float]) -> float:
    """A volume of the job, nought where the train cannot be computed: the box then says so."""
    try:
        return of()
    except MissingInput:
        return 0.0


def _displace(make: _Maker) -> Figures:
    now = make.box("from the dart", lambda: _figure(make, "bump_volume"), "Then the plug lands.")
    after = make.box("at rest before the bump", lambda: _figure(make, "u_tube"), "Friction comes on top.")
    begun = _volume(make, lambda: make.job.train.dart_from_m3 + (make.job.train.to_plug_m3 or 0.0))
    ended = _volume(make, lambda: make.job.train.total_m3)
    limit = make.going_round(min(begun, ended), ended)
    try:
        names = [one.name for one in make.job.events if one.name.endswith(("host shoe", "liner top"))]
    except MissingInput:
        names = []
    return Figures(now, after, limit, None, None, make.count(BUMP, LIMIT, *names, dart=True), True)


def _by_volume(make: _Maker) -> Figures:
    """The cement displaced where no plug lands."""
    now = make.box("behind the cement", lambda: _figure(make, "displace_volume"), "Volume alone ends it.")
    after = make.box("at rest at the end", lambda: _figure(make, "u_tube"), "Friction comes on top.")
    begun = _volume(make, lambda: make.job.train.dart_from_m3)
    ended = _volume(make, lambda: make.job.train.total_m3)
    return Figures(now, after, make.going_round(begun, ended), None, None, (), True)


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
    return Figures(now, NOTHING, make.bound("on the annulus", make.annulus), None, None, (), True)


def _reverse(make: _Maker) -> Figures:
    now = make.box(
        "above the liner top", lambda: _figure(make, "reverse_volume"), "Cement, if nothing was lost."
    )
    after = make.box(
        "reversed, clean after",
        lambda: _figure(make, "reverse_clean"),
        "Cement from {string_volume} on, up the pipe.",
    )
    return Figures(now, after, make.bound("on the annulus", make.annulus), None, None, (), True)


def _pull(make: _Maker) -> Figures:
    def hook() -> Figure:
        value, _words = make.moving(make.job.hook_loads.alone, Motion.PICKING_UP)
        return Figure(value, "force")

    now = make.box("hook load", hook, "String alone, block included.")
    return Figures(now, NOTHING, make.overpull(hung=True), None, None, (), True)


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
    lines = "At least, from outside: it must hold {inflow_needed}.", "Hold {inflow_hold}."
    now = make.box("across the lap", lambda: _figure(make, "inflow_test"), *lines)
    after = NOTHING
    test = make.job.proofs.inflow[0] if make.job.proofs.inflow else None
    if test is not None and test.light_drop_pa is not None and test.reached_pa is not None:
        after = Box(
            _pa(test.light_drop_pa),
            "drop of hydrostatic",
            (
                Say("by the light fluid; not yet the difference across the lap"),
                Say("Bled off whole it leaves {most} across it.", {"most": _pa(test.reached_pa[1])}),
            ),
        )
    limit = make.bound("across the lap", lambda: _from_outside(make))
    return Figures(now, after, limit, None, None, (), True)


def _from_outside(make: _Maker) -> Bound:
    """What less pressure inside may leave across the lap: collapse of the liner under its own weight and of
    the strings that stand open above it, and the packer, all under the same difference.
    """
    plan, liner = make.plan, make.plan.depth.liner
    share, packer = plan.limits["greatest share of rating"].si, liner.find("liner top packer")
    bounds, unknown = [], []
    try:
        bears = liner_strength(liner).collapse_under_pa(liner_weight(plan).along_n)
        bounds.append(Bound(share * bears, "a share of the collapse of the liner as it hangs"))
    except MissingInput:
        unknown.append("liner pipe")
    for string, _md in exposed_strings(plan):
        try:
            bears = casing_strength(string).collapse_pa
            words = f"a share of the collapse of the {string.name}, its tension not counted"
            bounds.append(Bound(share * bears, words))
        except MissingInput:
            unknown.append(string.name)
    if packer is not None and packer.pressure_rating_pa is not None:
        bounds.append(Bound(share * packer.pressure_rating_pa, f"a share of the rating of {packer.name}"))
    elif packer is not None:
        unknown.append(packer.name)
    if not bounds:
        raise MissingInput(*(f"rating of {name}" for name in unknown))
    return least(bounds, unknown)


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
    "set-the-hanger-as-its-maker-says": _hanger_otherwise,
    "set-on-bottom": _on_bottom,
    "release-the-tool": _tool,
    "release-the-tool-by-turning": _tool_turned,
    "prove-the-release": _proven,
    "set-weight-on-the-tool": _weight_on_tool,
    "shear-the-seat": _seat,
    "circulate-hung": _hung,
    "pump-spacer-and-cement": _pumped,
    "dart-meets-plug": _dart,
    "displace-the-liner": _displace,
    "displace-by-volume": _by_volume,
    "bump-the-plug": _bump,
    "set-the-packer": _packer,
    "test-the-packer": _packer_test,
    "pull-out-and-reverse": _reverse,
    "pull-clear": _pull,
    "pull-out-of-hole": _pull,
    "test-the-lap": _lap_test,
    "inflow-test": _inflow,
}
