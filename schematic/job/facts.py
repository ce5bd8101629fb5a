"""What the lines of a step may tell: the words that hold for a plan, and the figures that fill the blanks."""

from __future__ import annotations

from collections.abc import Callable

from schematic.depth.nest import liner_tube, running_tube
from schematic.depth.plan import LinerPart, Plan, RunningPart, TestPlan
from schematic.engineering.anchored import hook_falls_n
from schematic.engineering.at_rest import difference_pa
from schematic.engineering.ball import FALL_BAND_M_PER_S, ball_trip
from schematic.engineering.cement import compressed_share
from schematic.engineering.drag import Motion
from schematic.engineering.stretch import LinerStretch, shortens_m, stretch
from schematic.engineering.train import Place
from schematic.engineering.volumes import RATHOLE, RUNNING, RUNNING_TO_TOP, bored_m3
from schematic.job.bounds import LIFTS, never, rock_bound
from schematic.job.card import Say
from schematic.job.clock import DISPLACING, Reversed, reversed_out
from schematic.job.events import BUMP as BUMPS
from schematic.job.events import DART, DART_AWAY, LIMIT, PUMPED, pump_showed
from schematic.job.hook_loads import hook_load
from schematic.job.installation import Installation
from schematic.job.overpull import overpull_limit
from schematic.job.picks import Slice, without_assembly
from schematic.job.proof import Inflow
from schematic.job.pumped import (
    down_to_m3,
    into_the_bump_m3,
    into_the_string_m3,
    into_the_well_m3,
    pipe_bore_m3,
    pipe_steel_m3,
    shoe_track_m3,
    well_m3,
)
from schematic.job.set_down import set_down
from schematic.job.setting import HANGER, PLUG, SEAT, TOOL, Band, pump_out_n
from schematic.job.step_bounds import circulating
from schematic.job.step_scene import dogs_travel_m, raised_m
from schematic.job.under_test import LEAK, Sees, under_test
from schematic.outcome import Figure, MissingInput, Uncomputed, meets
from schematic.units import BARREL_M3, FOOT_M, PSI_PA

Fact = Callable[[Installation], Figure | str]

# Common practice: how far a hanger is moved for another try, how much more pressure it is given.
_REPOSITION_M = 3.0 * FOOT_M, 5.0 * FOOT_M
_RETRY_PA = 300.0 * PSI_PA
_SPIKE_LATE = 1.02  # the count of a spike over that planned, in an example
_LAST_DIGIT_M3 = {"field": 0.1 * BARREL_M3, "metric": 0.01}  # of a volume on the cards
_SCRAPE_M = 50.0 * FOOT_M  # above and below what sets
BLANK = "____ [not computed]"  # in place of a figure: room for a pen


def pump_band_known(plan: Plan) -> bool:
    """Whether the file says how far the pump's efficiency may be off."""
    efficiency = plan.cement.pump_efficiency
    return efficiency is not None and efficiency[1] < efficiency[2]


def staged(plan: Plan) -> list[str]:
    """The parts of the liner that need a stage of their own."""
    return [part.name for part in plan.depth.liner.parts if part.kind in ("external packer", "stage collar")]


def rathole_m3(job: Installation) -> float:
    """Cement that is counted below the shoe; nought where it cannot be computed."""
    try:
        sections = job.cement.sections
    except MissingInput:
        return 0.0
    return sum(section.volume_m3 + section.excess_m3 for section in sections if section.name == RATHOLE)


def bumped(job: Installation) -> bool:
    """Whether the record has seen the plug bump: where to stop without a bump is past then."""
    try:
        return any(event.observed and event.name == BUMPS for event in job.events)
    except MissingInput:
        return False


def below_shoe_m3(job: Installation) -> float:
    """What the fronts outside are counted to sweep below the shoe, in m3; nought where that is not told: less
    than the last digit of a volume, or not computed.
    """
    try:
        swept = job.train.below_shoe_m3
    except MissingInput:
        return 0.0
    return swept if swept > _LAST_DIGIT_M3[job.plan.identity.system] else 0.0


class Teller:
    """Fills the gaps of one card's lines and keeps what they need."""

    def __init__(self, job: Installation) -> None:
        self.job = job
        self.needs: dict[str, tuple[str, ...]] = {}

    def say(self, text: str) -> Say:
        """A line with its figures; one that is missing leaves a blank."""
        names = (part.partition("}")[0] for part in text.split("{")[1:])
        return Say(text, {name: self.figure(name) for name in names})

    def figure(self, name: str) -> Figure | str:
        """A figure by its name, or a blank to write in; the card says elsewhere what it needs."""
        try:
            return FACTS[name](self.job)
        except MissingInput as error:
            self.needs[name] = error.missing
            return BLANK

    def uncomputed(self) -> tuple[Uncomputed, ...]:
        """What the lines lacked so far."""
        return tuple(Uncomputed(name.replace("_", " "), needs) for name, needs in self.needs.items())


def _part(plan: Plan, kind: str) -> LinerPart:
    part = plan.depth.liner.find(kind)
    if part is None:
        raise MissingInput(f"liner.assembly.{kind}")
    return part


def _slick(plan: Plan) -> RunningPart:
    parts = plan.depth.running.parts if plan.depth.running else ()
    for part in parts:
        if part.kind in ("slick joint", "inner string") and part.travel_m is not None:
            return part
    raise MissingInput("running string.assembly.slick joint.travel")


def _given(value: float | None, what: str) -> float:
    if value is None:
        raise MissingInput(what)
    return value


def _event(name: str, field: str = "m3") -> Callable[[Installation], Figure]:
    def fact(job: Installation) -> Figure:
        found = next((event for event in job.events if event.name == name), None)
        if found is None:
            raise MissingInput("wiper plug" if name == DART else "cement")
        return Figure(getattr(found, field), "volume")

    return fact


def _band(name: str, field: str) -> Fact:
    def fact(job: Installation) -> Figure:
        band = job.setting.band(name)
        return Figure(getattr(band, field), "pressure")

    return fact


def _spike_late(name: str) -> Fact:
    """The count of an event should the spike of the plug come late: the example of the card."""
    return lambda job: Figure(_SPIKE_LATE * _event(name)(job).si, "volume")


def _leak(job: Installation) -> Sees:
    """The host shoe in the lap's test, should the lap leak."""
    if not job.proofs.positive:
        raise MissingInput("installation.tests")
    found = next((row for row in under_test(job.plan, job.proofs.positive[0]) if row.part == LEAK), None)
    if found is None:
        raise MissingInput("open hole below the host shoe")
    return found


def _joints(job: Installation) -> Figure:
    return Figure(
        float(sum(part.joints for part in job.plan.depth.liner.parts if part.kind == "joint")), "count"
    )


def _joints_m3(job: Installation, area_of: Callable[[Slice], float | None]) -> float:
    """A volume of the liner up to its last joint."""
    total = 0.0
    for one in (one for pick in without_assembly(job.plan.depth) for one in pick.slices):
        total += _given(area_of(one), ", ".join(one.lacks)) * one.length_m
    return total


def _gain(job: Installation) -> Figure:
    return Figure(_joints_m3(job, lambda one: one.outside_m2), "volume")


def _fill(job: Installation) -> Figure:
    return Figure(_joints_m3(job, lambda one: one.inside_m2), "volume")


def _net_gain(job: Installation) -> Figure:
    return Figure(_gain(job).si - _fill(job).si, "volume")


def _liner_alone(job: Installation) -> Figure:
    """Weight of the whole liner hanging from the rotary, before any pipe is on it."""
    liner = job.plan.depth.liner
    load = hook_load(job.plan, liner.shoe_md_m - liner.top_md_m)
    return Figure(_given(load.rotating_n, "weight of the liner"), "force")


def _bottoms_up(job: Installation) -> Figure:
    volumes = job.volumes
    if not volumes.above_m2.depths_m or not volumes.beside_m2.depths_m:
        raise MissingInput(*(volumes.needs or ("running string",)))
    return Figure(volumes.above_m2.integral() + volumes.beside_m2.integral(), "volume")


def _bottoms_up_host(job: Installation) -> Figure:
    """Annulus with the liner's shoe at the host shoe: the bores less what stands in them."""
    depth = job.plan.depth
    host, liner, running = depth.host.shoe_md_m, depth.liner, depth.running
    if running is None:
        raise MissingInput("running string")
    bore = bored_m3(depth, 0.0, host)
    its = liner_tube(liner).outside_m2(liner.parts[0].top_md_m, liner.shoe_md_m).integral()
    up = liner.shoe_md_m - host
    pipe = running_tube(running).outside_m2(max(up, 0.0), liner.top_md_m).integral()
    return Figure(bore - its - pipe, "volume")


def _around_slips(plan: Plan) -> tuple[float, float]:
    """How far the slips stand below one coupling of the host and above the next, by the plan's depths.

    Raises
    ------
    MissingInput
        When the slips or the couplings on both sides of them, a joint apart, are not given.
    """
    slips, host = _part(plan, "liner hanger").slips_md_m, plan.depth.host
    if slips is None:
        raise MissingInput("liner hanger.slips")
    if not host.couplings_md_m:
        raise MissingInput(f"{host.path}.couplings.near hanger")
    top, bottom = slips
    if any(top < md < bottom for md in host.couplings_md_m):
        return 0.0, 0.0
    above = max((md for md in host.couplings_md_m if md <= top), default=None)
    below = min((md for md in host.couplings_md_m if md >= bottom), default=None)
    if above is None or below is None:
        raise MissingInput(f"{host.path}.couplings on both sides of the slips")
    if not meets(below - above, plan.limits["longest average joint"].si, at_least=False):
        raise MissingInput(f"{host.path}.couplings between those around the slips, a joint apart")
    return top - above, below - bottom


def _coupling_gap(job: Installation) -> Figure:
    return Figure(min(_around_slips(job.plan)), "length")


def _coupling_left_m(plan: Plan) -> float:
    """What stretch may leave of the distance between slips and coupling; never below nought."""
    (above, below), longer = _around_slips(plan), stretch(plan)
    return max(min(above - longer.host_m, below - longer.string_m), 0.0)


def _scrape(end: int) -> Fact:
    """The host where hanger and packer will set, and some above and below: stretch, another try."""

    def fact(job: Installation) -> Figure:
        parts = [_part(job.plan, "liner hanger"), job.plan.depth.liner.find("liner top packer")]
        if end:
            return Figure(max(part.bottom_md_m for part in parts if part) + _SCRAPE_M, "depth")
        return Figure(min(part.top_md_m for part in parts if part) - _SCRAPE_M, "depth")

    return fact


def _hanger_end(end: int) -> Fact:
    def fact(job: Installation) -> Figure:
        hanger = _part(job.plan, "liner hanger")
        return Figure((hanger.top_md_m, hanger.bottom_md_m)[end], "depth")

    return fact


def _gone(job: Installation) -> Figure:
    """Time from the first slurry mixed to the bump."""
    stages = job.clock.stages
    last = next(n for n, stage in enumerate(stages) if stage.name == DISPLACING)
    lacks = dict.fromkeys(name for stage in stages[: last + 1] for name in stage.needs)
    if lacks:
        raise MissingInput(*lacks)
    return Figure(sum(stage.seconds or 0.0 for stage in stages[: last + 1]), "minutes")


def _at_bump(job: Installation) -> Place:
    return job.train.at(job.train.total_m3)


def _alone(motion: Motion) -> Fact:
    """Hook load of the string alone in a motion, block included."""

    def fact(job: Installation) -> Figure:
        its = job.hook_loads.alone
        pull = {Motion.PICKING_UP: its.up_n, Motion.SLACKING_OFF: its.down_n, Motion.ROTATING: its.rotating_n}
        block = _given(job.plan.job.block_weight_n, "installation.block weight")
        return Figure(_given(pull[motion], "installation.friction") + block, "force")

    return fact


def slips_proof(plan: Plan) -> str:
    """Whether the slips clear the couplings in the well too: "proved", "by the tallies" where stretch may eat
    it up or is not known, "not located"; "" where the distance itself is not known.
    """
    try:
        _around_slips(plan)
    except MissingInput:
        return ""
    if not plan.depth.host.couplings_located_by:
        return "not located"
    if plan.depth.host.couplings_corrected:
        return "proved"
    try:
        left, limit = _coupling_left_m(plan), plan.limits["least coupling distance"].si
    except MissingInput:
        return "by the tallies"
    return "proved" if meets(left, limit, at_least=True) else "by the tallies"


def _stretch(of: Callable[[LinerStretch], float]) -> Fact:
    return lambda job: Figure(of(stretch(job.plan)), "length")


def _slips(end: int) -> Fact:
    def fact(job: Installation) -> Figure:
        slips = _part(job.plan, "liner hanger").slips_md_m
        if slips is None:
            raise MissingInput("liner hanger.slips")
        return Figure(slips[end], "depth")

    return fact


def _ball_fall(speed_m_per_s: float) -> Fact:
    def fact(job: Installation) -> Figure:
        trip = ball_trip(job.plan, job.volumes)
        _given(trip.fall_s, "a hole in which the ball falls")
        return Figure(trip.seat_md_m / speed_m_per_s, "minutes")

    return fact


def _seat_place(job: Installation) -> str:
    if job.plan.job.seat is None:
        raise MissingInput("installation.seat")
    return job.plan.job.seat


def _hanger_type(job: Installation) -> str:
    kind = _part(job.plan, "liner hanger").hanger_type
    if not kind:
        raise MissingInput("liner hanger.type")
    return kind


def _rests(job: Installation) -> str:
    """On what the liner stands once it is set."""
    plan = job.plan
    hanger = plan.depth.liner.find("liner hanger")
    if hanger is not None:
        return "the slips" if hanger.hanger_type in ("hydraulic", "mechanical") else "the hanger"
    return "the bottom" if plan.depth.liner.shoe_md_m > plan.depth.host.shoe_md_m else "what is below it"


def _pump_band(job: Installation) -> str:
    if not pump_band_known(job.plan):
        given = job.plan.cement.pump_efficiency is not None
        raise MissingInput("cement.pump.efficiency" + (", low and high" if given else ""))
    return "known"


def _bump_doubt(job: Installation) -> Figure:
    """How far the bump may come from its count; once dart or ball were seen, the pump's band is out of it."""
    _pump_band(job)
    return Figure(doubt_m3(job), "volume")


def doubt_m3(job: Installation) -> float:
    """The same, whether or not the file gives a band of the pump."""
    its = next((event.counted for event in job.events if event.name == BUMPS), None)
    if its is not None:
        return max(its.m3 - its.least_m3, its.most_m3 - its.m3)
    whole = job.displacement  # no plug: by volume alone
    if any(event.observed and event.name != DART_AWAY and event.hole_m3 == 0.0 for event in job.events):
        return whole.to_bump_m3 * (compressed_share(job.plan) or 0.0)
    return max(whole.to_bump_m3 - whole.least_m3, whole.most_m3 - whole.to_bump_m3)


def _stage_parts(job: Installation) -> str:
    return ", ".join(dict.fromkeys(staged(job.plan)))


def _ball_pumped(job: Installation) -> Figure:
    return Figure(_given(ball_trip(job.plan, job.volumes).pumped_m3, "bores of the running string"), "volume")


def _mud(job: Installation) -> Figure:
    mud = job.plan.fluid("mud")
    if mud is None:
        raise MissingInput("a fluid of kind mud")
    return Figure(mud.density_kg_per_m3, "density")


def _pipe(job: Installation) -> str:
    parts = job.plan.depth.running.parts if job.plan.depth.running else ()
    pipe = [part for part in parts if "drill pipe" in part.kind]
    if not pipe:
        raise MissingInput("running string")
    return ", ".join(dict.fromkeys(part.label for part in pipe))


def _dogs_travel(job: Installation) -> Figure:
    _part(job.plan, "tie-back receptacle")
    _slick(job.plan)
    return Figure(_given(dogs_travel_m(job.plan.depth), "slick joint.travel"), "length")


def _packer_slack_off(job: Installation) -> Figure:
    down = _given(job.plan.job.packer_set_down_n, "liner top packer.set down")
    return Figure(set_down(job.plan, down).slack_off_n, "force")


def _string_volume(job: Installation) -> Figure:
    found = job.volumes.total_m3(RUNNING)
    found = job.volumes.total_m3(RUNNING_TO_TOP) if found is None else found
    if found is None:
        raise MissingInput(*(job.volumes.needs or ("running string",)))
    return Figure(found, "volume")


def showed(job: Installation) -> float:
    """What the pump's counter says over what it delivers, as the record has seen it; one where it has not."""
    return pump_showed(job.events) if _seen(job) else 1.0


def string_showed(job: Installation) -> float:
    """The same for the running string alone: the dart measured it, whatever was seen after it."""
    dart = next((one for one in job.events if one.name == DART), None) if _seen(job) else None
    return showed(job) if dart is None else dart.pump[0]


def _seen(job: Installation) -> bool:
    return any(line.what.strip().casefold() == PUMPED for line in job.plan.record)


def _by_counter(of: Fact) -> Fact:
    """A volume as the pump's counter says it, which follows the events that were seen."""

    def fact(job: Installation) -> Figure:
        found = of(job)
        assert isinstance(found, Figure)
        return found._replace(si=found.si * showed(job))

    return fact


def _reverse_seen(job: Installation) -> Figure:
    return Figure(_string_volume(job).si * string_showed(job), "volume")


def _reverse_clean(job: Installation) -> Figure:
    """The string as the dart measured it, what comes behind by all that was seen."""
    out = reversed_out(job.plan, job.train, pulled_m(job))
    rest = out.cement_m3 + out.other_m3
    return Figure(out.string_m3 * string_showed(job) + rest * showed(job), "volume")


def _reverse(job: Installation) -> Figure:
    return Figure(job.cement.above_liner_top_m3, "volume")


def pulled_m(job: Installation) -> float:
    """How far the string is pulled before it is reversed out; raises MissingInput."""
    running = job.plan.depth.running
    _given(running.stand_m if running else None, "running string.stand length")
    return raised_m(job.plan.depth, "pull-out-and-reverse")


def top_left_md_m(job: Installation) -> float | None:
    """Top of the cement that reversing out leaves; None where none stands above the liner to be reversed.

    The raised end of the string, as nothing below it is reached; the liner top where the string ends in the
    liner. Never above where the cement stood with nothing lost.

    Raises
    ------
    MissingInput
        When it is not given how far the string is raised.
    """
    if job.cement_or_none is None or job.cement.above_liner_top_m3 <= 0.0:
        return None
    running, top = job.plan.depth.running, job.plan.depth.liner.top_md_m
    if running is None:
        raise MissingInput("running string")
    end = min(running.foot_md_m - pulled_m(job), top)
    return max(end, job.cement.top_string_out_md_m or 0.0)


def _reversed(of: Callable[[Reversed], float], kind: str = "volume") -> Fact:
    return lambda job: Figure(of(reversed_out(job.plan, job.train, pulled_m(job))), kind)


def _in_water(job: Installation) -> Figure:
    """The longest that a slurry is in water."""
    whole = job.clock.whole_s
    return Figure(_given(whole, ", ".join(job.clock.needs) or "cement.clock"), "minutes")


def _thickening(job: Installation) -> Figure:
    """The shortest thickening time of the slurries."""
    slurries = job.clock.slurries
    lacks = [f"fluids.{one.slurry}.thickening time" for one in slurries if one.thickening_s is None]
    if lacks or not slurries:
        raise MissingInput(*(lacks or ("cement",)))
    return Figure(min(one.thickening_s or 0.0 for one in slurries), "minutes")


def _stand_m3(job: Installation, *, bore: bool) -> Figure:
    """What one stand of the longest pipe takes up in the well, steel alone or with what is in it."""
    running = job.plan.depth.running
    if running is None:
        raise MissingInput("running string")
    pipes = [part for part in running.parts if part.kind == "drill pipe"]
    if not pipes:
        raise MissingInput("running string.assembly.drill pipe")
    pipe = max(pipes, key=lambda one: one.length_m)
    stand = _given(running.stand_m, "running string.stand length")
    own = next(one for one in running_tube(running).stretches if one.name == pipe.name)
    outside = _given(own.outside_m2, f"OD of {pipe.name}")
    inside = 0.0 if bore else _given(own.inside_m2, f"bore of {pipe.name}")
    return Figure((outside - inside) * stand, "volume")


def _spacer(job: Installation) -> Figure:
    name = job.plan.cement.spacer
    fluid = next((fluid for fluid in job.plan.fluids if fluid.name == name), None)
    if fluid is None:
        raise MissingInput("cement.spacer")
    return Figure(_given(fluid.volume_m3, f"fluids.{name}.volume"), "volume")


def _u_tube(job: Installation) -> Figure:
    end = job.train.at(job.train.total_m3)
    depth = job.plan.depth
    return Figure(max(difference_pa(end, depth.path, depth.liner.shoe_md_m), 0.0), "pressure")


def _positive(field: str, kind: str) -> Fact:
    def fact(job: Installation) -> Figure | str:
        if not job.proofs.positive:
            missing = next((one.needs for one in job.proofs.missing), ("installation.tests",))
            raise MissingInput(*missing)
        value = getattr(job.proofs.positive[0], field)
        if value is None:
            raise MissingInput(f"installation.tests.{job.proofs.positive[0].name}.hold")
        return str(value) if kind == "text" else Figure(value, kind)

    return fact


def _inflow(job: Installation) -> Inflow:
    if not job.proofs.inflow:
        missing = next((one.needs for one in job.proofs.missing), ("installation.tests",))
        raise MissingInput(*missing)
    return job.proofs.inflow[0]


def _inflow_needed(job: Installation) -> Figure:
    return Figure(_inflow(job).needed_pa[1], "pressure")


def _inflow_test(job: Installation) -> Figure:
    """What the test goes to: what proves the lap, as a gauge is read, or what the file plans if more; with
    the next fluid alone what that leaves, at most.
    """
    test = _inflow(job)
    if test.needed_pa[1] <= 0.0 and test.unknown:  # it may be the zone that is not known which flows
        raise MissingInput(*test.unknown)
    if test.reached_pa is None:
        return Figure(max(test.needed_pa[1], 0.0), "pressure")
    return Figure(max(test.proves_pa, test.differential_pa or 0.0), "pressure")


def _inflow_next(job: Installation) -> str:
    return _inflow(job).next_fluid


def _inflow_least(job: Installation) -> Figure:
    return Figure(max(_inflow(job).needed_pa[0], 0.0), "pressure")


def proves_nothing(job: Installation) -> bool:
    """Whether the next fluid inside is the stronger against all zones; not where one of them is not known."""
    test = job.proofs.inflow[0] if job.proofs.inflow else None
    return test is not None and test.needed_pa[1] <= 0.0 and not test.unknown


def held_back_pa(job: Installation) -> float:
    """What has to be held at surface, so that the light fluid leaves the difference of the inflow test and no
    more; nought where nothing has.
    """
    test = job.proofs.inflow[0] if job.proofs.inflow else None
    if test is None or test.bled_off_pa is None or test.needed_pa[1] <= 0.0:
        return 0.0
    return max(test.bled_off_pa[1] - max(test.proves_pa, test.differential_pa or 0.0), 0.0)


def _inflow_hold(job: Installation) -> Figure:
    test = _inflow(job)
    return Figure(_given(test.hold_s, f"installation.tests.{test.name}.hold"), "minutes")


def worst_lift(job: Installation) -> tuple[Band | None, tuple[Uncomputed, ...]]:
    """The highest of the pressures that lift the free tool, if there is one, and what is not known."""
    known = [band for band in job.setting.bands if band.name in LIFTS]
    lacks = tuple(one for one in job.setting.missing if one.what in LIFTS)
    return max(known, key=lambda band: band.counts_to_pa, default=None), lacks


def _pump_out(job: Installation) -> Figure | str:
    worst, lacks = worst_lift(job)
    if worst is None and lacks:
        raise MissingInput(*dict.fromkeys(need for one in lacks for need in one.needs))
    return "none" if worst is None else Figure(pump_out_n(job.plan, worst.counts_to_pa), "force")


def _lift(name: str) -> Fact:
    return lambda job: Figure(pump_out_n(job.plan, job.setting.band(name).counts_to_pa), "force")


def _least_down(job: Installation) -> Figure:
    force = pump_out_n(job.plan, job.setting.band(TOOL).counts_to_pa)
    return Figure(force + job.plan.limits["least set-down margin"].si, "force")


def _plug_surface(field: str) -> Fact:
    def fact(job: Installation) -> Figure:
        band = job.setting.band(PLUG)
        if band.columns_pa is None:
            _ = job.train  # says what it needs
        return Figure(getattr(band.surface, field), "pressure")

    return fact


def _retry(job: Installation) -> Figure:
    """How far the hanger's pressure is taken in another try: some more, never above the limit of its step."""
    held = job.setting.band(HANGER).counts_to_pa
    return Figure(min(held + _RETRY_PA, never(job.plan, job.setting, HANGER).pressure_pa), "pressure")


def _falls(name: str) -> Fact:
    """What the pressure of a step takes off the hook at its highest, the liner on its hanger."""

    def fact(job: Installation) -> Figure:
        _part(job.plan, "liner hanger")
        return Figure(hook_falls_n(job.plan, job.setting.band(name).counts_to_pa), "force")

    return fact


def _squeezed(name: str) -> Fact:
    """What goes in to bring the closed string to the highest pressure of a step."""
    return lambda job: Figure(into_the_string_m3(job, job.setting.band(name).counts_to_pa), "volume")


def at_dart_pa(job: Installation) -> float:
    """By how much the column outside outweighs that inside, at the shoe, as the dart goes; below nought the
    cement runs ahead.
    """
    place, depth = job.train.at(job.train.dart_from_m3), job.plan.depth
    return difference_pa(place, depth.path, depth.liner.shoe_md_m)


def light_test(job: Installation) -> TestPlan | None:
    """The inflow test of the card, where it is made with a light fluid."""
    name = job.proofs.inflow[0].name if job.proofs.inflow else None
    its = (test for test in job.plan.job.tests if test.kind == "inflow" and name in (None, test.name))
    found = next(its, None)
    return found if found is not None and found.light_fluid else None


def _light(job: Installation) -> TestPlan:
    found = light_test(job)
    if found is None:
        raise MissingInput("installation.tests, light fluid")
    return found


def _light_to_m(job: Installation) -> float:
    path = f"installation.tests.{_light(job).name}.light fluid to"
    foot, collar = _given(_light(job).light_fluid_to_md_m, path), job.plan.depth.liner.shoe_track_top_md_m
    if collar is not None and foot > collar:
        raise MissingInput(f"{path}, above the landing collar")
    return foot


def _signal_down(job: Installation) -> Figure:
    return Figure(job.hook_loads.signal_n(Motion.SLACKING_OFF), "force")


def _limit(name: str, kind: str) -> Fact:
    return lambda job: Figure(job.plan.limits[name].si, kind)


def _depth(of: Callable[[Installation], float]) -> Fact:
    return lambda job: Figure(of(job), "depth")


def _seat(job: Installation) -> str | Figure:
    return Figure(_given(job.plan.job.seat_m, "ball seat.seat"), "diameter")


def _ball(job: Installation) -> Figure:
    running = job.plan.depth.running
    ball = job.plan.job.ball_m or (running.ball_m if running else None)
    return Figure(_given(ball, "running string.ball"), "size")


FACTS: dict[str, Fact] = {
    "alone_down": _alone(Motion.SLACKING_OFF),
    "alone_rest": _alone(Motion.ROTATING),
    "alone_up": _alone(Motion.PICKING_UP),
    "ball": _ball,
    "ball_fall_least": _ball_fall(FALL_BAND_M_PER_S[1]),
    "ball_fall_most": _ball_fall(FALL_BAND_M_PER_S[0]),
    "ball_late_from": lambda job: Figure(1.1 * _ball_pumped(job).si, "volume"),
    "ball_late_to": lambda job: Figure(1.2 * _ball_pumped(job).si, "volume"),
    "ball_pumped": _ball_pumped,
    "below_shoe": lambda job: Figure(below_shoe_m3(job), "volume"),
    "bottoms_up": _bottoms_up,
    "bottoms_up_counted": _by_counter(_bottoms_up),
    "bottoms_up_host": _bottoms_up_host,
    "bump_doubt": _bump_doubt,
    "bump_over": lambda job: Figure(
        _given(job.plan.job.bump_over_final_pa, "installation.bump over final"), "pressure"
    ),
    "bump_stop": _event(LIMIT),
    "bump_to": lambda job: Figure(
        _given(job.plan.job.final_pressure_pa, "installation.final pressure")
        + _given(job.plan.job.bump_over_final_pa, "installation.bump over final"),
        "pressure",
    ),
    "bump_late": _spike_late(BUMPS),
    "bump_volume": _event(BUMPS),
    "cement_volume": lambda job: Figure(job.cement.total_m3, "volume"),
    "circulate": lambda job: Figure(circulating(job).pressure_pa, "pressure"),
    "collar_depth": _depth(lambda job: _given(job.plan.depth.liner.shoe_track_top_md_m, "landing collar")),
    "coupling_gap": _coupling_gap,
    "gap_above": lambda job: Figure(_around_slips(job.plan)[0], "length"),
    "gap_below": lambda job: Figure(_around_slips(job.plan)[1], "length"),
    "coupling_left": lambda job: Figure(_coupling_left_m(job.plan), "length"),
    "dart_volume": _event(DART),
    "displace_stop": _by_counter(
        lambda job: Figure(
            job.displacement.to_bump_m3 + job.displacement.over_displacement_limit_m3, "volume"
        )
    ),
    "displace_volume": _by_counter(lambda job: Figure(job.displacement.to_bump_m3, "volume")),
    "dogs_travel": _dogs_travel,
    "drift": lambda job: Figure(_given(job.plan.depth.liner.drift_m, "liner.drift"), "diameter"),
    "fall_of_hook_load_seat": _falls(SEAT),
    "fall_of_hook_load_tool": _falls(TOOL),
    "fill_liner": _fill,
    "final": lambda job: Figure(
        _given(job.plan.job.final_pressure_pa, "installation.final pressure"), "pressure"
    ),
    "gain_liner": _gain,
    "gain_net": _net_gain,
    "gone": _gone,
    "hanger_bottom": _hanger_end(1),
    "hanger_top": _hanger_end(0),
    "hanger_held": _band(HANGER, "counts_to_pa"),
    "hanger_high": _band(HANGER, "high_pa"),
    "hanger_low": _band(HANGER, "low_pa"),
    "hanger_type": _hanger_type,
    "heavier_inside": lambda job: Figure(max(-at_dart_pa(job), 0.0), "pressure"),
    "heavier_outside": lambda job: Figure(max(at_dart_pa(job), 0.0), "pressure"),
    "host_shoe": _depth(lambda job: job.plan.depth.host.shoe_md_m),
    "host_stretch": _stretch(lambda longer: longer.host_m),
    "inflow_held_back": lambda job: Figure(held_back_pa(job), "pressure"),
    "inflow_hold": _inflow_hold,
    "inflow_least": _inflow_least,
    "inflow_needed": _inflow_needed,
    "inflow_next": _inflow_next,
    "inflow_test": _inflow_test,
    "in_water": _in_water,
    "joints": _joints,
    "leak_bears": lambda job: Figure(_given(_leak(job).bears, "formation.leak off at the host shoe"), "emw"),
    "leak_from": lambda job: Figure(
        _given(_leak(job).most_surface_pa, "formation.leak off at the host shoe"), "pressure"
    ),
    "leak_sees": lambda job: Figure(_given(_leak(job).sees, "installation.tests"), "emw"),
    "length": lambda job: Figure(job.plan.depth.liner.shoe_md_m - job.plan.depth.liner.top_md_m, "length"),
    "light_fluid": lambda job: _light(job).light_fluid,
    "light_inside": lambda job: Figure(down_to_m3(job.plan, _light_to_m(job)), "volume"),
    "light_to": _depth(lambda job: _light_to_m(job)),
    "liner_alone": _liner_alone,
    "liner_length": _depth(lambda job: job.plan.depth.liner.shoe_md_m - job.plan.depth.liner.top_md_m),
    "liner_top": _depth(lambda job: job.plan.depth.liner.top_md_m),
    "liner_weight": lambda job: Figure(job.hook_loads.liner_n, "force"),
    "mud": _mud,
    "off_bottom": lambda job: Figure(job.plan.depth.td_md_m - job.plan.depth.liner.shoe_md_m, "length"),
    "over_limit": lambda job: Figure(job.displacement.over_displacement_limit_m3, "volume"),
    "overpull_limit": lambda job: Figure(
        overpull_limit(job.plan)[0] + _given(job.plan.job.block_weight_n, "installation.block weight"),
        "force",
    ),
    "packer_set_down": lambda job: Figure(
        _given(job.plan.job.packer_set_down_n, "liner top packer.set down"), "force"
    ),
    "packer_slack_off": _packer_slack_off,
    "pipe": _pipe,
    "pipe_steel": lambda job: Figure(pipe_steel_m3(job.plan), "volume"),
    "pipe_to_depth": lambda job: Figure(pipe_bore_m3(job.plan, to_host_shoe=False), "volume"),
    "pipe_to_host": lambda job: Figure(pipe_bore_m3(job.plan, to_host_shoe=True), "volume"),
    "plug_high": _band(PLUG, "high_pa"),
    "plug_low": _band(PLUG, "low_pa"),
    "plug_from": _plug_surface("low_pa"),
    "plug_to": _plug_surface("high_pa"),
    "pump_band": _pump_band,
    "pump_showed": lambda job: Figure(showed(job), "share"),
    "pump_out": _pump_out,
    "reposition_high": lambda job: Figure(_REPOSITION_M[1], "length"),
    "reposition_low": lambda job: Figure(_REPOSITION_M[0], "length"),
    "rests": _rests,
    "retry": _retry,
    "pulled": lambda job: Figure(pulled_m(job), "length"),
    "reverse_all": _reversed(lambda out: out.cement_m3 + out.other_m3),
    "reverse_clean": _reverse_clean,
    "reverse_seen": _reverse_seen,
    "reverse_back": _reversed(lambda out: out.cement_m3),
    "reverse_left": _reversed(lambda out: out.left_m3),
    "reverse_rathole": lambda job: Figure(rathole_m3(job), "volume"),
    "reverse_spacer": lambda job: Figure(reversed_out(job.plan, job.train, 0.0).other_m3, "volume"),
    "reverse_u_tube": _reversed(lambda out: max(out.u_tube_pa, 0.0), "pressure"),
    "reverse_volume": _reverse,
    "rock_at_bump": lambda job: Figure(rock_bound(job.plan, _at_bump(job)).pressure_pa, "pressure"),
    "scrape_bottom": _scrape(1),
    "scrape_top": _scrape(0),
    "seal_out": lambda job: Figure(
        max(difference_pa(_at_bump(job), job.plan.depth.path, job.plan.depth.liner.top_md_m), 0.0), "pressure"
    ),
    "seat_bore": _seat,
    "seat_depth": _depth(lambda job: ball_trip(job.plan, job.volumes).seat_md_m),
    "seat_high": _band(SEAT, "high_pa"),
    "seat_place": _seat_place,
    "seat_lift": _lift(SEAT),
    "seat_low": _band(SEAT, "low_pa"),
    "shoe": _depth(lambda job: job.plan.depth.liner.shoe_md_m),
    "signal_down": _signal_down,
    "slips_bottom": _slips(1),
    "slips_top": _slips(0),
    "spacer_volume": _spacer,
    "volume_for_bump": lambda job: Figure(into_the_bump_m3(job), "volume"),
    "volume_for_hanger": _squeezed(HANGER),
    "volume_for_seat": _squeezed(SEAT),
    "volume_for_tool": _squeezed(TOOL),
    "stage_parts": _stage_parts,
    "stand_steel": lambda job: _stand_m3(job, bore=False),
    "stand_wet": lambda job: _stand_m3(job, bore=True),
    "stick_up": lambda job: Figure(
        _given(job.plan.depth.running.stick_up_m if job.plan.depth.running else None, "running string"),
        "length",
    ),
    "stretch_lost": lambda job: Figure(shortens_m(job.plan, job.hook_loads.liner_n), "length"),
    "spike_late": _spike_late(DART),
    "stop_late": _spike_late(LIMIT),
    "string_stretch": _stretch(lambda longer: longer.string_m),
    "td": _depth(lambda job: job.plan.depth.td_md_m),
    "test_drop": _limit("greatest pressure drop", "percent"),
    "test_fluid": _positive("fluid", "text"),
    "test_hold": _positive("hold_s", "minutes"),
    "test_pressure": _positive("surface_pa", "pressure"),
    "volume_for_test": lambda job: Figure(into_the_well_m3(job), "volume"),
    "thickening": _thickening,
    "tool_high": _band(TOOL, "high_pa"),
    "tool_least_down": _least_down,
    "tool_lift": _lift(TOOL),
    "tool_low": _band(TOOL, "low_pa"),
    "tool_set_down": lambda job: Figure(
        _given(job.plan.job.set_down_on_tool_n, "installation.set down on tool"), "force"
    ),
    "track_bore": lambda job: Figure(shoe_track_m3(job), "volume"),
    "track_length": lambda job: Figure(
        job.plan.depth.liner.shoe_md_m - _given(job.plan.depth.liner.shoe_track_top_md_m, "landing collar"),
        "length",
    ),
    "travel": lambda job: Figure(_given(_slick(job.plan).travel_m, "slick joint.travel"), "length"),
    "u_tube": _u_tube,
    "well_inside": lambda job: Figure(well_m3(job.plan), "volume"),
}
