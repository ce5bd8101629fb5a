"""What the lines of a step may tell: the words that hold for a plan, and the figures that fill the blanks."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from schematic.depth.nest import circle_m2, liner_tube, running_tube
from schematic.depth.plan import Depths, LinerPart, Plan, RunningPart
from schematic.engineering.at_rest import difference_pa
from schematic.engineering.ball import ball_trip
from schematic.engineering.drag import Motion
from schematic.engineering.volumes import RUNNING, RUNNING_TO_TOP
from schematic.job.card import Say
from schematic.job.events import BUMP as BUMPS
from schematic.job.events import DART, LIMIT
from schematic.job.installation import Installation
from schematic.job.overpull import overpull_limit
from schematic.job.set_down import set_down
from schematic.job.setting import HANGER, PLUG, SEAT, TOOL, pump_out_n
from schematic.outcome import Figure, MissingInput, Uncomputed
from schematic.units import FOOT_M, PSI_PA

Fact = Callable[[Installation], Figure | str]

# Common practice: how far a hanger is moved for another try, how much more pressure it is given.
_REPOSITION_M = 3.0 * FOOT_M, 5.0 * FOOT_M
_RETRY_PA = 200.0 * PSI_PA, 300.0 * PSI_PA


def words_of(job: Installation) -> frozenset[str]:
    """The words that hold for a plan; `steps.yaml` asks for them."""
    plan = job.plan
    depth, liner = plan.depth, plan.depth.liner
    hanger = liner.find("liner hanger")
    words = {
        "open hole": liner.shoe_md_m > depth.host.shoe_md_m,
        "floats": any(part.valves for part in liner.parts) or liner.find("float collar") is not None,
        "hanger": hanger is not None,
        "mechanical": hanger is not None and hanger.hanger_type == "mechanical",
        "hydraulic": hanger is not None and hanger.hanger_type == "hydraulic",
        "packer": liner.find("liner top packer") is not None,
        "receptacle": liner.find("tie-back receptacle") is not None,
        "ball": plan.job.seat is not None,
        "seat in collar": plan.job.seat == "landing collar",
        "seat in tool": plan.job.seat == "running tool",
        "seat pressure": plan.job.seat_shears_pa is not None,
        "tool by pressure": not plan.job.tool_turned,
        "tool by turning": plan.job.tool_turned,
        "cement": bool(plan.cement.slurries),
        "plug": depth.running is not None and depth.running.plug_md_m is not None,
        "friction": plan.job.friction is not None,
        "positive test": any(test.kind == "positive" for test in plan.job.tests),
        "inflow test": any(test.kind == "inflow" for test in plan.job.tests),
    }
    if words["ball"]:
        falls = _ball_falls(job)
        words |= {"ball falls": falls is True, "ball does not fall": falls is False}
    return frozenset(word for word, holds in words.items() if holds)


def _ball_falls(job: Installation) -> bool | None:
    try:
        return ball_trip(job.plan, job.volumes).fall_s is not None
    except MissingInput:
        return None


class Teller:
    """Fills the blanks of one card's lines and keeps what they need."""

    def __init__(self, job: Installation) -> None:
        self.job = job
        self.needs: dict[str, tuple[str, ...]] = {}

    def say(self, text: str) -> Say:
        """A line with its figures; one that is missing says so in its place."""
        names = (part.partition("}")[0] for part in text.split("{")[1:])
        return Say(text, {name: self.figure(name) for name in names})

    def figure(self, name: str) -> Figure | str:
        """A figure by its name, or what it needs, in brackets."""
        try:
            return FACTS[name](self.job)
        except MissingInput as error:
            self.needs[name] = error.missing
            return f"[not computed: needs {', '.join(error.missing)}]"

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


def _event(name: str, field: str = "m3") -> Fact:
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


def _joints(job: Installation) -> Figure:
    return Figure(
        float(sum(part.joints for part in job.plan.depth.liner.parts if part.kind == "joint")), "count"
    )


def _gain(job: Installation) -> Figure:
    liner = job.plan.depth.liner
    outside = liner_tube(liner).outside_m2(liner.parts[0].top_md_m, liner.shoe_md_m)
    return Figure(outside.integral(), "volume")


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
    bore = casing_bore_m2(depth, host)
    its = liner_tube(liner).outside_m2(liner.parts[0].top_md_m, liner.shoe_md_m).integral()
    up = liner.shoe_md_m - host
    pipe = running_tube(running).outside_m2(max(up, 0.0), liner.top_md_m).integral()
    return Figure(bore - its - pipe, "volume")


def casing_bore_m2(depth: Depths, bottom_md_m: float) -> float:
    """Volume of the innermost bores of the strings in place, from the datum down to a depth, in m3."""
    edges = sorted(
        {0.0, bottom_md_m}
        | {e for s in depth.strings for e in (s.top_md_m, s.shoe_md_m) if 0.0 < e < bottom_md_m}
    )
    total = 0.0
    for top, bottom in pairwise(edges):
        bores = [s.id_m for s in depth.strings if s.top_md_m <= top and bottom <= s.shoe_md_m]
        if not bores:
            raise MissingInput(f"a string at {top:.0f} m")
        total += circle_m2(min(bores)) * (bottom - top)
    return total


def _coupling_gap(job: Installation) -> Figure:
    slips = _part(job.plan, "liner hanger").slips_md_m
    if slips is None:
        raise MissingInput("liner hanger.slips")
    couplings = job.plan.depth.host.couplings_md_m
    if not couplings:
        raise MissingInput(f"{job.plan.depth.host.path}.couplings.near hanger")
    nearest = min(
        0.0 if slips[0] <= md <= slips[1] else min(abs(md - slips[0]), abs(md - slips[1])) for md in couplings
    )
    return Figure(nearest, "length")


def _slips(end: int) -> Fact:
    def fact(job: Installation) -> Figure:
        slips = _part(job.plan, "liner hanger").slips_md_m
        if slips is None:
            raise MissingInput("liner hanger.slips")
        return Figure(slips[end], "depth")

    return fact


def _ball_fall(job: Installation) -> Figure:
    seconds = ball_trip(job.plan, job.volumes).fall_s
    return Figure(_given(seconds, "a hole in which the ball falls"), "minutes")


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
    receptacle = _part(job.plan, "tie-back receptacle")
    travel = _given(_slick(job.plan).travel_m, "slick joint.travel")
    return Figure(receptacle.length_m + travel, "length")


def _packer_slack_off(job: Installation) -> Figure:
    down = _given(job.plan.job.packer_set_down_n, "liner top packer.set down")
    return Figure(set_down(job.plan, down).slack_off_n, "force")


def _string_volume(job: Installation) -> Figure:
    found = job.volumes.total_m3(RUNNING)
    found = job.volumes.total_m3(RUNNING_TO_TOP) if found is None else found
    if found is None:
        raise MissingInput(*(job.volumes.needs or ("running string",)))
    return Figure(found, "volume")


def _reverse(job: Installation) -> Figure:
    return Figure(job.cement.above_liner_top_m3, "volume")


def _spacer(job: Installation) -> Figure:
    name = job.plan.cement.spacer
    fluid = next((fluid for fluid in job.plan.fluids if fluid.name == name), None)
    if fluid is None:
        raise MissingInput("cement.spacer")
    return Figure(_given(fluid.volume_m3, f"fluids.{name}.volume"), "volume")


def _u_tube(job: Installation) -> Figure:
    end = job.train.at(job.train.total_m3)
    depth = job.plan.depth
    return Figure(difference_pa(end, depth.path, depth.liner.shoe_md_m), "pressure")


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


def _inflow_needed(job: Installation) -> Figure:
    if not job.proofs.inflow:
        missing = next((one.needs for one in job.proofs.missing), ("installation.tests",))
        raise MissingInput(*missing)
    return Figure(job.proofs.inflow[0].needed_pa[1], "pressure")


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
    "ball": _ball,
    "ball_fall": _ball_fall,
    "ball_pumped": _ball_pumped,
    "bottoms_up": _bottoms_up,
    "bottoms_up_host": _bottoms_up_host,
    "bump_over": lambda job: Figure(
        _given(job.plan.job.bump_over_final_pa, "installation.bump over final"), "pressure"
    ),
    "bump_stop": _event(LIMIT),
    "bump_volume": _event(BUMPS),
    "cement_volume": lambda job: Figure(job.cement.total_m3, "volume"),
    "circulate": lambda job: Figure(
        _given(job.plan.job.circulate_up_to_pa, "installation.circulate up to"), "pressure"
    ),
    "collar_depth": _depth(lambda job: _given(job.plan.depth.liner.shoe_track_top_md_m, "landing collar")),
    "coupling_gap": _coupling_gap,
    "dart_volume": _event(DART),
    "dogs_travel": _dogs_travel,
    "drift": lambda job: Figure(_given(job.plan.depth.liner.drift_m, "liner.drift"), "diameter"),
    "gain_liner": _gain,
    "hanger_held": _band(HANGER, "counts_to_pa"),
    "hanger_high": _band(HANGER, "high_pa"),
    "hanger_low": _band(HANGER, "low_pa"),
    "host_shoe": _depth(lambda job: job.plan.depth.host.shoe_md_m),
    "inflow_needed": _inflow_needed,
    "joints": _joints,
    "length": lambda job: Figure(job.plan.depth.liner.shoe_md_m - job.plan.depth.liner.top_md_m, "length"),
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
    "plug_high": _band(PLUG, "high_pa"),
    "plug_low": _band(PLUG, "low_pa"),
    "pump_out": lambda job: Figure(pump_out_n(job.plan, job.setting.band(SEAT).counts_to_pa), "force"),
    "reposition_high": lambda job: Figure(_REPOSITION_M[1], "length"),
    "reposition_low": lambda job: Figure(_REPOSITION_M[0], "length"),
    "retry_high": lambda job: Figure(_RETRY_PA[1], "pressure"),
    "retry_low": lambda job: Figure(_RETRY_PA[0], "pressure"),
    "reverse_volume": _reverse,
    "seat_bore": _seat,
    "seat_depth": _depth(lambda job: ball_trip(job.plan, job.volumes).seat_md_m),
    "seat_high": _band(SEAT, "high_pa"),
    "seat_low": _band(SEAT, "low_pa"),
    "shoe": _depth(lambda job: job.plan.depth.liner.shoe_md_m),
    "signal_down": _signal_down,
    "slips_bottom": _slips(1),
    "slips_top": _slips(0),
    "spacer_volume": _spacer,
    "stick_up": lambda job: Figure(
        _given(job.plan.depth.running.stick_up_m if job.plan.depth.running else None, "running string"),
        "length",
    ),
    "string_volume": _string_volume,
    "td": _depth(lambda job: job.plan.depth.td_md_m),
    "test_drop": _limit("greatest pressure drop", "percent"),
    "test_fluid": _positive("fluid", "text"),
    "test_hold": _positive("hold_s", "minutes"),
    "test_pressure": _positive("surface_pa", "pressure"),
    "tool_high": _band(TOOL, "high_pa"),
    "tool_low": _band(TOOL, "low_pa"),
    "tool_set_down": lambda job: Figure(
        _given(job.plan.job.set_down_on_tool_n, "installation.set down on tool"), "force"
    ),
    "track_length": lambda job: Figure(
        job.plan.depth.liner.shoe_md_m - _given(job.plan.depth.liner.shoe_track_top_md_m, "landing collar"),
        "length",
    ),
    "travel": lambda job: Figure(_given(_slick(job.plan).travel_m, "slick joint.travel"), "length"),
    "u_tube": _u_tube,
}
