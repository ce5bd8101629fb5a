"""Where everything stands in the well at each step: pipe, ball, dart, plug, seals, fluids, and in words."""

from __future__ import annotations

from contextlib import suppress

from schematic.depth.plan import Depths, Fluid
from schematic.engineering.ball import ball_trip
from schematic.engineering.columns import Layer
from schematic.engineering.train import Place
from schematic.job.card import Scene
from schematic.job.installation import Installation
from schematic.job.picks import without_assembly
from schematic.job.setting import ball_expected
from schematic.outcome import MissingInput

# the order in which the state of the well changes; a step knows what has happened by where it stands
_PHASES = (
    "check-the-parts",
    "condition-the-hole",
    "make-up-the-shoe-track",
    "run-the-liner",
    "pick-up-the-hanger",
    "run-in-on-pipe",
    "circulate-at-the-host-shoe",
    "run-to-depth",
    "circulate-on-depth",
    "ball-on-seat",
    "set-the-hanger",
    "set-the-hanger-by-turning",
    "set-the-hanger-as-its-maker-says",
    "set-on-bottom",
    "release-the-tool",
    "release-the-tool-by-turning",
    "prove-the-release",
    "set-weight-on-the-tool",
    "shear-the-seat",
    "circulate-hung",
    "pump-spacer-and-cement",
    "dart-meets-plug",
    "displace-the-liner",
    "displace-by-volume",
    "bump-the-plug",
    "stages-not-covered",
    "set-the-packer",
    "test-the-packer",
    "pull-out-and-reverse",
    "pull-clear",
    "pull-out-of-hole",
    "wait-on-cement",
    "test-the-lap",
    "inflow-test",
)
_DOGS = ("set-the-packer", "test-the-packer")
_PULLED = ("pull-out-and-reverse", "pull-clear")  # by one stand, which leaves the least behind
_STAND_M = 27.0  # drawn so, not told, where the file does not say how long a stand is
_NO_LINER = ("check-the-parts", "condition-the-hole")
_NO_STRING = ("make-up-the-shoe-track", "run-the-liner")
_AT_HOST = ("run-in-on-pipe", "circulate-at-the-host-shoe")
_PRESSURE = {
    "ball-on-seat", "set-the-hanger", "release-the-tool", "dart-meets-plug",
    "bump-the-plug",
}  # fmt: skip
_TRIED = ("test-the-packer", "test-the-lap")  # by pressure from above, around the string and inside
_RELEASES = ("release-the-tool", "release-the-tool-by-turning")
_FLOW = {
    "circulate-at-the-host-shoe", "circulate-on-depth", "circulate-hung", "pump-spacer-and-cement",
    "displace-the-liner", "displace-by-volume",
}  # fmt: skip


def after(code: str, other: str) -> bool:
    """Whether a step comes behind another."""
    return _PHASES.index(code) > _PHASES.index(other)


def at_or_after(code: str, other: str) -> bool:
    """Whether a step is another, or comes behind it."""
    return _PHASES.index(code) >= _PHASES.index(other)


def shoe_md_m(job: Installation, code: str) -> float | None:
    """Where the liner's shoe is in a step; None: not in the well."""
    depth = job.plan.depth
    liner = depth.liner
    if code in _NO_LINER:
        return None
    if code == "make-up-the-shoe-track":
        track = liner.shoe_track_top_md_m
        return liner.shoe_md_m - (track if track is not None else liner.top_md_m)
    if code == "run-the-liner":
        return sum(pick.length_m for pick in without_assembly(depth))
    if code == "pick-up-the-hanger":
        return liner.shoe_md_m - liner.top_md_m
    if code in _AT_HOST:
        return min(depth.host.shoe_md_m, liner.shoe_md_m)
    return liner.shoe_md_m


def place_at(job: Installation, code: str) -> Place | None:
    """Where the fluids of the job stand in a step; None: mud everywhere, or it cannot be computed."""
    if not at_or_after(code, "pump-spacer-and-cement"):
        return None
    try:
        train = job.train
    except MissingInput:
        return None
    if code == "pump-spacer-and-cement":
        return train.at(train.dart_from_m3)
    if code == "dart-meets-plug":
        return train.at(min(train.dart_from_m3 + (train.to_plug_m3 or 0.0), train.total_m3))
    if code == "displace-the-liner":
        begun = min(train.dart_from_m3 + (train.to_plug_m3 or 0.0), train.total_m3)
        return train.at(0.5 * (begun + train.total_m3))
    return train.at(train.total_m3)


def scene(job: Installation, code: str) -> Scene:
    """The well at a step, when what it is about has just been done."""
    plan, depth = job.plan, job.plan.depth
    shoe = shoe_md_m(job, code)
    place = place_at(job, code)
    mud = plan.fluid("mud")
    bottom = max(depth.td_md_m, depth.liner.shoe_md_m)
    every = (Layer(mud.name, 0.0, bottom, mud.density_kg_per_m3),) if mud else ()
    inside, outside = (place.inside, place.outside) if place else (every, every)
    left_known = True
    if place and at_or_after(code, "pull-out-and-reverse"):  # what stood above the end of the string is out
        bored = at_or_after(code, "wait-on-cement")  # and then what it did not reach
        into = max(depth.running.foot_md_m - depth.liner.top_md_m, 0.0) if depth.running else 0.0
        left = max(raised_m(depth, "pull-out-and-reverse") - into, 0.0)
        if bored or _raised_known(depth, "pull-out-and-reverse"):
            outside = _cleaned(job, outside, 0.0 if bored else left)
        else:
            outside, left_known = _below(outside, depth.liner.top_md_m), False
    if code == "inflow-test":
        inside, outside = _under_inflow(job, inside, outside, place.plug_md_m if place else None)
    ball = seat = None
    with suppress(MissingInput):
        seat = ball_trip(plan, job.volumes).seat_md_m
    if seat is not None and at_or_after(code, "ball-on-seat") and not at_or_after(code, "shear-the-seat"):
        ball = seat
    running = depth.running
    plug = place.plug_md_m if place else running.plug_md_m if running else None
    out = code in (*_NO_LINER, *_NO_STRING) or at_or_after(code, "pull-out-of-hole")
    under = code in _PRESSURE and place is None and seat is not None
    closed = code in _PRESSURE or (code in _TRIED and place is not None and place.landed)
    to = seat if under else place.plug_md_m if place and closed else None
    hydraulic = any(part.hanger_type == "hydraulic" for part in depth.liner.parts)
    packer = depth.liner.find("liner top packer")
    annulus = packer.top_md_m if packer is not None else depth.liner.top_md_m
    return Scene(
        shoe_md_m=shoe,
        inside=inside,
        outside=outside,
        ball_md_m=ball,
        dart_md_m=place.dart_md_m if place and plug is not None else None,  # nothing else stops a dart
        plug_md_m=plug,
        plug_latched=place.landed if place else False,
        raised_m=raised_m(job.plan.depth, code),
        raised_known=_raised_known(depth, code),
        tool_released=at_or_after(code, "release-the-tool"),
        string_out=out,
        slips_set=at_or_after(code, "set-the-hanger") and depth.liner.find("liner hanger") is not None,
        packer_set=at_or_after(code, "set-the-packer") and depth.liner.find("liner top packer") is not None,
        dogs_out=code in _DOGS,
        ports="reverse" if code == "pull-out-and-reverse" else "down the string" if code in _FLOW else "",
        pressure_from_md_m=0.0 if to is not None else None,
        pressure_to_md_m=to,
        by_tool=under and plan.job.seat == "running tool" and hydraulic,
        annulus_to_md_m=annulus if code in _TRIED and to is not None else None,
        raised_below_m=travel_m(depth) if code == "prove-the-release" else None,
        left_known=left_known,
    )


def _cleaned(job: Installation, layers: tuple[Layer, ...], left_m: float) -> tuple[Layer, ...]:
    """The fluids outside after what stood higher above the liner top was circulated out: mud there."""
    mud = job.plan.fluid("mud")
    top = max(job.plan.depth.liner.top_md_m - left_m, 0.0)
    kept = _below(layers, top)
    return (Layer(mud.name, 0.0, top, mud.density_kg_per_m3), *kept) if mud else kept


def _below(layers: tuple[Layer, ...], md_m: float) -> tuple[Layer, ...]:
    """The layers below a depth, the one across it cut there."""
    return tuple(one._replace(top_md_m=max(one.top_md_m, md_m)) for one in layers if one.bottom_md_m > md_m)


def travel_m(depth: Depths) -> float | None:
    """How far the slick joint slides in its seal; None: not given."""
    travels = [part.travel_m for part in depth.running.parts] if depth.running else []
    return next((one for one in travels if one is not None), None)


def dogs_travel_m(depth: Depths) -> float | None:
    """How far the string is raised to bring the dogs out of the receptacle: its length and the travel."""
    receptacle, travel = depth.liner.find("tie-back receptacle"), travel_m(depth)
    return None if travel is None else travel + (receptacle.length_m if receptacle else 0.0)


def raised_m(depth: Depths, code: str) -> float:
    """How far the running string is picked up from where it carried the liner, as it is drawn."""
    if code == "prove-the-release":  # until the weight shows: well short of the travel
        return 0.5 * (travel_m(depth) or 0.0)
    if code in _DOGS:
        receptacle = depth.liner.find("tie-back receptacle")
        return dogs_travel_m(depth) or (receptacle.length_m if receptacle else 0.0)
    if code in _PULLED:
        pulled = (depth.running.stand_m or _STAND_M) if depth.running else 0.0
        return min(pulled, depth.liner.top_md_m)
    return 0.0


def _raised_known(depth: Depths, code: str) -> bool:
    if code in _PULLED:
        return depth.running is not None and depth.running.stand_m is not None
    if code == "prove-the-release":
        return False
    return code not in _DOGS or dogs_travel_m(depth) is not None


def state(job: Installation, code: str) -> tuple[tuple[str, str], ...]:
    """The same in words: thing and state."""
    its = scene(job, code)
    liner = job.plan.depth.liner
    rows: list[tuple[str, str]] = []
    if code in _NO_LINER:
        return (("liner", "not in the well"),)
    if code in ("make-up-the-shoe-track", "run-the-liner"):
        return (("liner", "hangs in the rotary"),)
    if its.slips_set:
        slips = any(part.hanger_type in ("hydraulic", "mechanical") for part in liner.parts)
        rows.append(("liner", "hangs on its slips" if slips else "hangs on its hanger"))
    elif liner.find("liner hanger") is None and at_or_after(code, "set-on-bottom"):
        open_hole = liner.shoe_md_m > job.plan.depth.host.shoe_md_m
        rows.append(("liner", "stands on bottom" if open_hole else "stands on what is below it"))
    else:
        rows.append(("liner", "hangs on the tool"))
    if job.plan.depth.running is not None and not its.string_out:
        told = "let go, not yet proved" if code in _RELEASES else "released"
        rows.append(("tool", told if its.tool_released else "made up to the liner"))
        if code == "prove-the-release":
            short, lacks = " until its weight shows, short of its travel", ", not drawn: travel not given"
            rows.append(("string", f"raised{short if its.raised_m > 0.0 else lacks}"))
        elif its.raised_m > 0.0:
            rows.append(("string", "raised"))
    elif its.string_out:
        rows.append(("string", "out of the well"))
    if ball_expected(job.plan) and not its.string_out:
        place = "on seat" if its.ball_md_m is not None else "in the head"
        if at_or_after(code, "shear-the-seat"):
            place = "through its seat, where it lies is not known"
        if job.plan.job.seat is None and at_or_after(code, "ball-on-seat"):
            place = "where it stops is not known"
        rows.append(("ball", place))
    if job.plan.cement.slurries and job.plan.depth.running is not None and its.plug_md_m is not None:
        if its.dart_md_m is None:
            dart = "in the head" if not its.string_out else "not in the well"
        elif its.plug_latched:
            dart = "in the plug, on the collar"
        elif its.plug_md_m is not None and its.dart_md_m >= its.plug_md_m - 1e-6:
            dart = "in the plug"
        else:
            dart = "on its way"
        rows.append(("dart", dart))
        if its.plug_md_m is not None:
            hangs = job.plan.depth.running.plug_md_m if job.plan.depth.running else None
            moved = hangs is not None and its.plug_md_m > hangs + 1e-6
            plug = "landed" if its.plug_latched else "on its way" if moved else "hangs on the tool"
            rows.append(("plug", plug))
    if liner.find("liner top packer") is not None:
        rows.append(("packer", "set" if its.packer_set else "not set"))
    if its.pressure_to_md_m is not None:
        rows.append(("pressure", _under(its)))
    if code == "displace-the-liner" and its.plug_md_m is not None:
        rows.append(("plug drawn", "half way in volume"))
    cleaned = at_or_after(code, "pull-out-and-reverse") and not at_or_after(code, "wait-on-cement")
    if cleaned and job.plan.cement.slurries and not _raised_known(job.plan.depth, "pull-out-and-reverse"):
        rows.append(("what stays above the liner top", "not known: needs the length of a stand"))
    if code == "inflow-test":
        rows.append(("fluid inside", _lighter(job)))
    return tuple(rows)


def _under(its: Scene) -> str:
    """What is under pressure."""
    if its.annulus_to_md_m is not None:
        return f"on {'packer' if its.packer_set else 'liner top'} and plug from above"
    if its.by_tool:
        return "down to the ball, and by the tool on the hanger"
    return f"down to the {'ball' if its.ball_md_m is not None else 'plug'}"


def _lighter(job: Installation) -> str:
    """What is pumped in to make the differential of an inflow test."""
    test = next((test for test in job.plan.job.tests if test.kind == "inflow"), None)
    if test is not None and test.light_fluid:
        return f"{test.light_fluid}, as the test says"
    fluid = _next_fluid(job)
    return fluid.name if fluid else "not known: needs a fluid of kind next mud or completion brine"


def _next_fluid(job: Installation) -> Fluid | None:
    """The fluid that an inflow test goes to, where it goes to one fluid all the way."""
    test = job.proofs.inflow[0] if job.proofs.inflow else None
    if test is None or test.light_pa is not None:
        return None
    return next((fluid for fluid in job.plan.fluids if fluid.name == test.next_fluid), None)


def _under_inflow(
    job: Installation, inside: tuple[Layer, ...], outside: tuple[Layer, ...], landed_md_m: float | None
) -> tuple[tuple[Layer, ...], tuple[Layer, ...]]:
    """The fluids in an inflow test: the next one in the open bore; where a light one stands is not drawn."""
    top, fluid = job.plan.depth.liner.top_md_m, _next_fluid(job)
    below = tuple(layer for layer in inside if landed_md_m is not None and layer.top_md_m >= landed_md_m)
    behind = _below(outside, top)
    if fluid is None:
        return below, behind
    foot = landed_md_m if landed_md_m is not None else job.plan.depth.liner.shoe_md_m
    new = Layer(fluid.name, 0.0, foot, fluid.density_kg_per_m3)
    return (new, *below), (new._replace(bottom_md_m=top), *behind)
