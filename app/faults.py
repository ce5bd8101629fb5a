"""Faults that practice plants in a copy of a well file, and the figures that decide each of them.

Pure functions. That a copy has a fault, and only that one, is what the rules say of it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from random import Random
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation, evaluate
from schematic.depth.resolve import resolve
from schematic.job.meeting import Way
from schematic.job.run_in import PIPE
from schematic.job.setting import HANGER, PLUG, SEAT, TOOL
from schematic.outcome import Found, MissingInput, Outcome
from schematic.units import show
from schematic.wellfile import edit
from schematic.wellfile.edit import EditError
from schematic.wellfile.path import PathError
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import read_text

Rows = list[tuple[str, str]]


class Well(NamedTuple):
    """A well file: its text, its name, the folder of the files beside it, and a mark of what they hold."""

    text: str
    file: str
    folder: Path | None = None
    mark: str = ""


class Planting(NamedTuple):
    """A way to plant a fault: the edit, and where, what was, what is."""

    make: Callable[[str], str]
    where: str
    was: str
    becomes: str


class Fault(NamedTuple):
    """A fault that can be planted: the rule that has to find it, what a choice says, what decides it."""

    rule: str
    choice: str
    hint: str
    sheet: Callable[[Evaluation], Rows]
    plantings: Callable[[Evaluation], list[Planting]]
    share_of: str = ""  # of what the figure of its rule is a share
    why: Callable[[Evaluation], Rows] | None = None  # what shows that it is none, where the sheet is too long


@lru_cache(maxsize=32)
def evaluated(well: Well) -> Evaluation:
    """A well file, read and evaluated as planned: what its record has seen does not move a figure."""
    plan = resolve(read_text(well.text, well.file, well.folder))
    return evaluate(replace(plan, record=()))


def told(evaluation: Evaluation, si: float, kind: str) -> str:
    """A figure in the units of the well, as it is also written into the copy."""
    return show(si, kind, evaluation.plan.identity.system)


def _put(
    evaluation: Evaluation, path: str, where: str, was: float | None, becomes: str, kind: str
) -> Planting:
    """A planting that sets one value."""
    before = "not given" if was is None else told(evaluation, was, kind)
    return Planting(lambda text: edit.set(text, path, becomes), where, before, becomes)


def _way(evaluation: Evaluation, thing: str) -> Way | None:
    return next((way for way in evaluation.job.passage.through if way.thing.name == thing), None)


def _limit(evaluation: Evaluation, name: str) -> str:
    limit = evaluation.plan.limits[name]
    return f"{limit.text}, {limit.owner}"


def _bores(evaluation: Evaluation, thing: str) -> Rows:
    """A thing that moves, and the bores on its way."""
    way = _way(evaluation, thing)
    if way is None or way.thing.size_m is None:
        return []
    bores = [
        f"{met.bore.told} {told(evaluation, met.bore.passes_m, 'diameter')}"
        for met in way.meetings
        if met.bore.passes_m is not None and not met.bore.stops
    ]
    return [
        (thing, told(evaluation, way.thing.size_m, "diameter")),
        (f"on the way of the {thing}", "; ".join(dict.fromkeys(bores))),
    ]


def _narrowest(evaluation: Evaluation, thing: str) -> Rows:
    """A thing that moves, the narrowest place on its way, and what is clear there."""
    way = _way(evaluation, thing)
    least = way.smallest if way else None
    if least is None or least.thing.size_m is None or least.clear_m is None or least.bore.passes_m is None:
        return []
    return [
        (thing, told(evaluation, least.thing.size_m, "diameter")),
        (
            f"narrowest on its way, {least.bore.told}",
            f"{told(evaluation, least.bore.passes_m, 'diameter')}, "
            f"{told(evaluation, least.clear_m, 'gap')} clear on diameter",
        ),
    ]


def _ball_why(evaluation: Evaluation) -> Rows:
    return _narrowest(evaluation, "ball")


def _ball_sheet(evaluation: Evaluation) -> Rows:
    rows = _bores(evaluation, "ball")
    return (
        [*rows, ("clear around the ball, at least", _limit(evaluation, "least ball clearance"))]
        if rows
        else []
    )


def _narrow(evaluation: Evaluation) -> list[Planting]:
    """A bore above the seat, made as small as the ball."""
    running = evaluation.plan.depth.running
    if running is None or running.ball_m is None:
        return []
    made = []
    for part in running.parts:
        for where, bore, key in (
            (f"bore of the tool joint of {part.name}", part.tool_joint_id_m, "tool joint.id"),
            (f"bore of {part.name}", part.id_m if part.length_m > 0.0 else None, "id"),
        ):
            if bore is not None:
                small = told(evaluation, running.ball_m, "diameter")
                made.append(_put(evaluation, f"{part.path}.{key}", where, bore, small, "diameter"))
    return made


def _seat_sheet(evaluation: Evaluation) -> Rows:
    job = evaluation.plan.job
    if job.ball_m is None or job.seat_m is None:
        return []
    return [
        ("ball", told(evaluation, job.ball_m, "diameter")),
        ("seat of the ball", told(evaluation, job.seat_m, "diameter")),
    ]


def _wide_seat(evaluation: Evaluation) -> list[Planting]:
    """A seat that is larger than its ball."""
    job, collar = evaluation.plan.job, evaluation.plan.depth.liner.find("landing collar")
    if job.ball_m is None or job.seat_m is None:
        return []
    in_collar = job.seat == "landing collar" and collar is not None
    path = f"{collar.path}.ball seat" if in_collar and collar else "installation.running tool seat"
    wide = told(evaluation, 1.04 * job.ball_m, "diameter")
    return [_put(evaluation, f"{path}.seat", "seat of the ball", job.seat_m, wide, "diameter")]


def _slips_sheet(evaluation: Evaluation) -> Rows:
    liner, host = evaluation.plan.depth.liner, evaluation.plan.depth.host
    hanger = liner.find("liner hanger")
    if hanger is None or hanger.slips_md_m is None or not host.couplings_md_m:
        return []
    top, bottom = (told(evaluation, md, "tally") for md in hanger.slips_md_m)
    near = ", ".join(told(evaluation, md, "tally") for md in host.couplings_md_m)
    return [("slips bite", f"{top} to {bottom} MD"), ("couplings of the host at", near)]


def _coupling_at_slips(evaluation: Evaluation) -> list[Planting]:
    """The host coupling nearest to the slips, put between them."""
    host, hanger = evaluation.plan.depth.host, evaluation.plan.depth.liner.find("liner hanger")
    if hanger is None or hanger.slips_md_m is None or not host.couplings_md_m:
        return []
    middle = 0.5 * sum(hanger.slips_md_m)
    number, nearest = min(enumerate(host.couplings_md_m), key=lambda each: abs(each[1] - middle))
    path = f"{host.path}.couplings.near hanger.{number}"
    at = told(evaluation, middle, "tally")
    return [_put(evaluation, path, "a coupling of the host", nearest, at, "tally")]


def _bands_sheet(evaluation: Evaluation) -> Rows:
    rows = []
    for band in evaluation.job.setting.bands:
        if band.name in (HANGER, TOOL, SEAT, PLUG):
            low, high = (told(evaluation, pa, "pressure") for pa in (band.low_pa, band.counts_to_pa))
            rows.append((band.name, f"{low} to {high}"))
    return rows


def _bands(evaluation: Evaluation) -> dict[str, float]:
    """The lowest pressure of each band."""
    return {band.name: band.low_pa for band in evaluation.job.setting.bands}


def _overlapping(evaluation: Evaluation) -> list[Planting]:
    """The hanger held, or set, at what releases the tool."""
    hanger, low = evaluation.plan.depth.liner.find("liner hanger"), _bands(evaluation)
    if hanger is None or HANGER not in low or TOOL not in low:
        return []
    held = evaluation.plan.job.hanger_held_pa
    to = told(evaluation, 1.03 * low[TOOL], "pressure")
    return [_put(evaluation, f"{hanger.path}.held at", "pressure held on the hanger", held, to, "pressure")]


def _plug_like_tool(evaluation: Evaluation) -> list[Planting]:
    """A plug that is released where the tool lets go."""
    low = _bands(evaluation)
    if PLUG not in low or TOOL not in low:
        return []
    to = f"{told(evaluation, low[TOOL], 'pressure')} +/- 10 %"
    return [
        _put(
            evaluation,
            "installation.plug releases at",
            "release of the plug, lowest",
            low[PLUG],
            to,
            "pressure",
        )
    ]


def _circulating_sheet(evaluation: Evaluation) -> Rows:
    circulate, low = evaluation.job.setting.circulate_pa, _bands(evaluation)
    if circulate is None or HANGER not in low:
        return []
    return [
        ("circulate at no more than", told(evaluation, circulate, "pressure")),
        ("hanger sets, from", told(evaluation, low[HANGER], "pressure")),
    ]


def _circulating_high(evaluation: Evaluation) -> list[Planting]:
    """Circulation up to what sets the hanger."""
    circulate, low = evaluation.job.setting.circulate_pa, _bands(evaluation)
    if circulate is None or HANGER not in low:
        return []
    to = told(evaluation, low[HANGER], "pressure")
    return [
        _put(evaluation, "installation.circulate up to", "limit of circulation", circulate, to, "pressure")
    ]


def _tool_joints_sheet(evaluation: Evaluation) -> Rows:
    depth = evaluation.plan.depth
    joints = [part for part in (depth.running.parts if depth.running else ()) if part.tool_joint_od_m]
    if not joints or depth.host.passes_m is None:
        return []
    sizes = (f"{part.name} {told(evaluation, part.tool_joint_od_m or 0.0, 'diameter')}" for part in joints)
    return [
        ("tool joints, OD", "; ".join(sizes)),
        ("drift of the host", told(evaluation, depth.host.passes_m, "diameter")),
    ]


def _wide_tool_joint(evaluation: Evaluation) -> list[Planting]:
    """A tool joint that is larger than the drift of the host."""
    depth = evaluation.plan.depth
    if depth.running is None or depth.host.passes_m is None:
        return []
    wide = told(evaluation, depth.host.passes_m + 0.002, "diameter")
    return [
        _put(
            evaluation,
            f"{part.path}.tool joint.od",
            f"OD of the tool joint of {part.name}",
            part.tool_joint_od_m,
            wide,
            "diameter",
        )
        for part in depth.running.parts
        if part.tool_joint_od_m is not None
    ]


def _cement_sheet(evaluation: Evaluation) -> Rows:
    planned, liner = evaluation.plan.cement.planned_top_md_m, evaluation.plan.depth.liner
    if planned is None:
        return []
    return [
        ("planned top of cement", f"{told(evaluation, planned, 'tally')} MD"),
        ("liner top", f"{told(evaluation, liner.top_md_m, 'tally')} MD"),
    ]


def _low_cement(evaluation: Evaluation) -> list[Planting]:
    """Cement that is planned to end below the liner top."""
    planned, depth = evaluation.plan.cement.planned_top_md_m, evaluation.plan.depth
    if planned is None:
        return []
    end = min(depth.host.shoe_md_m, depth.liner.shoe_md_m)
    to = told(evaluation, 0.7 * depth.liner.top_md_m + 0.3 * end, "tally")
    return [_put(evaluation, "cement.planned top", "planned top of cement", planned, to, "tally")]


def _densities_sheet(evaluation: Evaluation) -> Rows:
    mud, spacer = evaluation.plan.fluid("mud"), evaluation.plan.fluid("spacer")
    if mud is None or spacer is None:
        return []
    return [
        ("mud", told(evaluation, mud.density_kg_per_m3, "density")),
        ("spacer", told(evaluation, spacer.density_kg_per_m3, "density")),
    ]


def _light_spacer(evaluation: Evaluation) -> list[Planting]:
    """A spacer that is lighter than the mud in front of it."""
    mud, spacer = evaluation.plan.fluid("mud"), evaluation.plan.fluid("spacer")
    if mud is None or spacer is None:
        return []
    to = told(evaluation, 0.985 * mud.density_kg_per_m3, "density")
    path = f"fluids.{spacer.name}.density"
    return [_put(evaluation, path, "density of the spacer", spacer.density_kg_per_m3, to, "density")]


def _rathole_sheet(evaluation: Evaluation) -> Rows:
    depth = evaluation.plan.depth
    return [
        ("hole drilled to", f"{told(evaluation, depth.td_md_m, 'tally')} MD"),
        ("liner shoe", f"{told(evaluation, depth.liner.shoe_md_m, 'tally')} MD"),
    ]


def _on_bottom(evaluation: Evaluation) -> list[Planting]:
    """A shoe that stands on the bottom of the hole."""
    depth = evaluation.plan.depth
    gap = depth.td_md_m - depth.liner.shoe_md_m
    to = told(evaluation, 0.0, "length")
    return [_put(evaluation, "liner.off bottom", "shoe off bottom", gap, to, "length")]


def _lap_sheet(evaluation: Evaluation) -> Rows:
    depth = evaluation.plan.depth
    return [
        ("liner top", f"{told(evaluation, depth.liner.top_md_m, 'tally')} MD"),
        ("host shoe", f"{told(evaluation, depth.host.shoe_md_m, 'tally')} MD"),
        ("lap, at least", _limit(evaluation, "least lap")),
    ]


def _short_lap(evaluation: Evaluation) -> list[Planting]:
    """A lap under its limit."""
    depth = evaluation.plan.depth
    to = told(evaluation, 0.6 * evaluation.plan.limits["least lap"].si, "length")
    return [_put(evaluation, "liner.lap", "lap", depth.host.shoe_md_m - depth.liner.top_md_m, to, "length")]


def _hanger_sheet(evaluation: Evaluation) -> Rows:
    rating, hung = evaluation.plan.job.hanger_rating_n, _hung_n(evaluation)
    if rating is None or hung is None:
        return []
    return [
        ("hanger rated for", told(evaluation, rating, "force")),
        ("liner in mud weighs", told(evaluation, hung, "force")),
    ]


def _hung_n(evaluation: Evaluation) -> float | None:
    """What hangs on the hanger; None where it cannot be told."""
    try:
        loads, _missing = evaluation.job.hanger_loads
    except MissingInput:
        return None
    return loads[0].total_n if loads else None


def _weak_hanger(evaluation: Evaluation) -> list[Planting]:
    """A hanger that is rated for less than the liner weighs."""
    hanger, hung = evaluation.plan.depth.liner.find("liner hanger"), _hung_n(evaluation)
    if hanger is None or hung is None:
        return []
    to, was = told(evaluation, 0.8 * hung, "force"), evaluation.plan.job.hanger_rating_n
    return [_put(evaluation, f"{hanger.path}.load rating", "rating of the hanger", was, to, "force")]


def _next_bit_sheet(evaluation: Evaluation) -> Rows:
    return _bores(evaluation, "next bit")


def _next_bit_why(evaluation: Evaluation) -> Rows:
    return _narrowest(evaluation, "next bit")


def _large_bit(evaluation: Evaluation) -> list[Planting]:
    """A next bit that is larger than the liner."""
    liner = evaluation.plan.depth.liner
    if liner.later.next_bit_m is None:
        return []
    to = told(evaluation, liner.id_m + 0.002, "diameter")
    return [_put(evaluation, "liner.next bit", "next bit", liner.later.next_bit_m, to, "diameter")]


def _order_sheet(_evaluation: Evaluation) -> Rows:
    return [("order of the parts", "as drawn")]


def _order_why(evaluation: Evaluation) -> Rows:
    """The parts that are not pipe, as they stand."""
    parts = reversed(evaluation.plan.depth.liner.parts)
    return [("from the shoe up", ", ".join(part.name for part in parts if part.kind not in PIPE))]


def _exchanged(evaluation: Evaluation, kind: str, above: str) -> list[Planting]:
    """The lines of two parts, each in the place of the other."""
    liner = evaluation.plan.depth.liner
    part, other = liner.find(kind), liner.find(above)
    if part is None or other is None or liner.assembly_assumed:
        return []

    def make(text: str) -> str:
        return edit.exchange(text, part.path, other.path)

    return [Planting(make, part.name, f"below the {other.name}", f"above the {other.name}")]


def _parts_mixed(evaluation: Evaluation) -> list[Planting]:
    """Parts that have changed places."""
    return [
        *_exchanged(evaluation, "float collar", "landing collar"),
        *_exchanged(evaluation, "liner hanger", "liner top packer"),
    ]


def _bit_sheet(evaluation: Evaluation) -> Rows:
    depth = evaluation.plan.depth
    if not depth.hole.sections or depth.host.passes_m is None:
        return []
    return [
        ("bit of the lowest hole", told(evaluation, depth.hole.sections[-1].bit_m, "diameter")),
        ("drift of the host", told(evaluation, depth.host.passes_m, "diameter")),
    ]


def _bit_over_drift(evaluation: Evaluation) -> list[Planting]:
    """A bit that does not pass the host."""
    depth = evaluation.plan.depth
    if not depth.hole.sections or depth.host.passes_m is None:
        return []
    section = depth.hole.sections[-1]
    to = told(evaluation, depth.host.passes_m + 0.002, "diameter")
    return [_put(evaluation, f"{section.path}.bit", "bit of the lowest hole", section.bit_m, to, "diameter")]


# the hints: how to look, not where, so that faults that are looked for alike are told apart by the figures
_SIZES = (
    "It is a size. Hold each thing that goes down the well against the narrowest place on its way, and each "
    "thing that lands against what has to catch it."
)
_PLACES = (
    "It is a place. Go through the well from the bottom up: what has to be above what, how far from it, and "
    "clear of what?"
)
_FORCES = (
    "It is a pressure, a weight or a density. Ask of each which other one it has to stay under or over, and "
    "how much is left between them."
)

FAULTS: tuple[Fault, ...] = (
    Fault(
        "ball-sticks",
        "The ball does not pass a bore above its seat.",
        _SIZES,
        _ball_sheet,
        _narrow,
        why=_ball_why,
    ),
    Fault(
        "seat-does-not-hold",
        "The ball does not belong to its seat.",
        _SIZES,
        _seat_sheet,
        _wide_seat,
    ),
    Fault(
        "slips-near-coupling",
        "The slips bite on a coupling of the host, or next to one.",
        _PLACES,
        _slips_sheet,
        _coupling_at_slips,
    ),
    Fault(
        "bands-too-close",
        "Two setting pressures overlap, or nearly so.",
        _FORCES,
        _bands_sheet,
        _overlapping,
    ),
    Fault(
        "plug-release-like-another",
        "The plug is released at a pressure at which something else lets go.",
        _FORCES,
        _bands_sheet,
        _plug_like_tool,
    ),
    Fault(
        "circulating-sets-the-hanger",
        "Circulating on the way in may set the hanger.",
        _FORCES,
        _circulating_sheet,
        _circulating_high,
        "the least pressure that sets the hanger",
    ),
    Fault(
        "running-string-does-not-pass",
        "A part of the running string does not pass a bore on its way.",
        _SIZES,
        _tool_joints_sheet,
        _wide_tool_joint,
    ),
    Fault(
        "cement-below-liner-top",
        "The cement is planned to end below the liner top.",
        _PLACES,
        _cement_sheet,
        _low_cement,
    ),
    Fault(
        "densities-out-of-order",
        "A fluid is pushed by one that is not clearly heavier.",
        _FORCES,
        _densities_sheet,
        _light_spacer,
    ),
    Fault(
        "rathole-unusual",
        "There is no rathole below the shoe, or far too much.",
        _PLACES,
        _rathole_sheet,
        _on_bottom,
    ),
    Fault(
        "lap-outside-limits",
        "The lap is shorter or longer than its limits.",
        _PLACES,
        _lap_sheet,
        _short_lap,
    ),
    Fault(
        "hanger-overloaded",
        "The hanger carries more than its rating allows.",
        _FORCES,
        _hanger_sheet,
        _weak_hanger,
    ),
    Fault(
        "next-bit-does-not-pass",
        "The next bit does not pass the liner.",
        _SIZES,
        _next_bit_sheet,
        _large_bit,
        why=_next_bit_why,
    ),
    Fault(
        "parts-out-of-order",
        "Two parts of the liner have changed places.",
        _PLACES,
        _order_sheet,
        _parts_mixed,
        why=_order_why,
    ),
    Fault(
        "bit-larger-than-drift",
        "A bit is larger than the drift of the pipe it goes through.",
        _SIZES,
        _bit_sheet,
        _bit_over_drift,
    ),
)


def found(evaluation: Evaluation) -> frozenset[tuple[str, str]]:
    """Rule and subject of all that was found."""
    return frozenset(
        (outcome.rule, outcome.subject.path)
        for outcome in evaluation.outcomes
        if isinstance(outcome.answer, Found)
    )


class Planted(NamedTuple):
    """A copy with a fault: the well, how it was made, and the outcome that tells it."""

    fault: Fault
    planting: Planting
    well: Well
    outcome: Outcome


def planted(well: Well, fault: Fault, random: Random) -> Planted | None:
    """A copy in which exactly the rule of a fault finds something that it did not find before, or None."""
    before = evaluated(well)
    already = found(before)
    if any(rule == fault.rule for rule, _subject in already):
        return None
    ways = fault.plantings(before)
    random.shuffle(ways)
    for way in ways:
        try:
            copy = well._replace(text=way.make(well.text))
            after = evaluated(copy)
        except (EditError, PathError, InputError):
            continue  # this file is written in a way that the edit does not suit
        new = found(after) - already
        if {rule for rule, _subject in new} == {fault.rule}:
            outcomes = (o for o in after.outcomes if (o.rule, o.subject.path) in new)
            return Planted(fault, way, copy, next(outcomes))
    return None
