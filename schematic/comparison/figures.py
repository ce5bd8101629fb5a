"""The figures by which two ways to do a well are told apart, each with its name, in the order of the trade.

Where it hangs, what it laps, what passes, what is pumped, what it weighs, how the ball goes, to what it is
tested. What needs drag or friction of flow is not among them: see :func:`not_computed`.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import HoleSection
from schematic.engineering.ball import ball_trip
from schematic.engineering.drag import Motion
from schematic.engineering.strength import liner_strength
from schematic.engineering.volumes import ABOVE, SHOE_TRACK
from schematic.engineering.weights import liner_weight, string_weight
from schematic.export.passage import smallest
from schematic.export.tables import (
    Cell,
    displacement_table,
    laps_table,
    slurry_table,
    static_table,
    tops_table,
    u_tube_table,
)
from schematic.job.set_down import available_n
from schematic.job.setting import pump_out_n
from schematic.outcome import Figure, Found, MissingInput, NotChecked, Passed, Severity, Uncomputed
from schematic.units import System

Figures = dict[str, Figure]

_VOLUME_OF = "volume of "
LINER_TOP = "liner top"
HANGER = "hanger, base"
SHOE = "liner shoe"
LENGTH = "liner length"
JOINTS = "joints of liner"
INCLINATION = "inclination at the liner top"
LAP = "lap, liner top to host shoe"
HANGER_LAP = "lap, hanger base to host shoe"
BIT = "bit below the host"
DRIFT = "host drift, proven"
DRIFT_GAP = "host drift over bit"
HOLE_GAP = "gap in hole, widest part"
LINER_GAP = "gap to drift, widest part"
SLIPS = "slips to nearest coupling"
LOST = "host bore lost, on diameter"
LINER_DRIFT = "smallest drift once the shoe track is drilled out"
BURST = "liner pipe, burst"
COLLAPSE = "liner pipe, collapse without load"
YIELD = "liner pipe, body yield"
BUMP = "displacement, plug bumps"
REVERSED = "cement, above liner, no loss"
EXCESS = "cement, of which excess"
CEMENT = "cement, total"
IN_LAP = "cement in lap"
IN_HOLE = "cement in open hole"
ABOVE_TOP = "cement above liner top"
HOST_EMW = "static EMW, host shoe, planned"
SHOE_EMW = "static EMW, liner shoe, planned"
U_TUBE = "U-tube, as planned"
STRING = "string above the liner, in mud"
SET_DOWN = "set-down for the packer"
PUMP_OUT = "pump-out at seat shear"
SPARE = "string weight over set-down"
SIGNAL = "weight signal slacking off as the hanger sets"
ARRIVES = "set-down that can reach the liner top"
ON_HOOK = "liner on the hook, no drag"
IN_MUD = "liner, in mud"
SEAT = "ball seat"
FALL = "ball falls in still mud"
PUMPED = "ball pumped, volume to seat"
UNDER_PRESSURE = "liner under setting pressure"
LEAST_BORE = "least bore of the running string"
TEST = "test "  # and its name, comma, what of it
OF_RULES = {  # figures that a rule compared: the rule, and what it calls them
    HOLE_GAP: ("gap-in-hole-small", "gap"),
    LINER_GAP: ("gap-to-drift-small", "gap"),
    SLIPS: ("slips-near-coupling", "clear"),
}
_JUDGED_BY = {  # the rule that judges a figure
    **{name: rule for name, (rule, _figure) in OF_RULES.items()},
    LAP: "lap-outside-limits",
    DRIFT_GAP: "bit-larger-than-drift",
    ARRIVES: "set-down-short",
}


def figures(evaluation: Evaluation) -> Figures:
    """All figures that this plan allows."""
    return {name: figure for its in by_subject(evaluation).values() for name, figure in its.items()}


def together(*evaluations: Evaluation) -> list[Figures]:
    """The figures of several plans. A volume that one of them tells by its cement or displacement alone is
    told of none by itself: that one would look as if it had no such space.
    """
    made = [figures(one) for one in evaluations]
    spaces = [{f"{_VOLUME_OF}{space.name}" for space in one.volumes.spaces} for one in evaluations]
    twice = {name for its, found in zip(spaces, made, strict=True) for name in its if name not in found}
    return [{name: one for name, one in found.items() if name not in twice} for found in made]


def by_subject(evaluation: Evaluation) -> dict[str, Figures]:
    """The figures under what they are about, in the order of the trade."""
    made: dict[str, Figures] = {}
    for subject, part in _SUBJECTS.items():
        made[subject] = {}
        part(evaluation, made[subject])
    return made


def judged(evaluation: Evaluation, name: str) -> Severity | None:
    """The worst that is found of a figure by its own rule; None where it finds nothing, or there is none."""
    rule = _JUDGED_BY.get(name)
    below = _below(evaluation) if name == DRIFT_GAP else None
    found = [
        one.answer.severity
        for one in evaluation.findings
        if one.rule == rule
        and isinstance(one.answer, Found)
        and (below is None or one.subject.path == below.path)
    ]
    return min(found, key=list(Severity).index, default=None)


def _below(evaluation: Evaluation) -> HoleSection | None:
    """The hole that was drilled through the host: of a pocket below it no bit went through."""
    depth = evaluation.plan.depth
    return next((s for s in depth.hole.sections if s.top_md_m > depth.host.shoe_md_m - 0.01), None)


def _add(found: Figures, name: str, cell: Cell) -> None:
    if isinstance(cell, Figure):
        found[name] = cell


def _place(evaluation: Evaluation, found: Figures) -> None:
    depth = evaluation.plan.depth
    liner = depth.liner
    hanger = liner.find("liner hanger")
    found[LINER_TOP] = Figure(liner.top_md_m, "tally")
    if hanger is not None:
        found[HANGER] = Figure(hanger.bottom_md_m, "tally")
    found[INCLINATION] = Figure(depth.path.inclination_rad(liner.top_md_m), "inclination")
    found[SHOE] = Figure(liner.shoe_md_m, "tally")
    found[LENGTH] = Figure(liner.shoe_md_m - liner.top_md_m, "tally")
    found[JOINTS] = Figure(float(sum(p.joints for p in liner.parts if p.kind == "joint")), "count")
    for row in laps_table(evaluation).rows:
        _add(found, f"lap, {row[0]}", row[1])


def _passage(evaluation: Evaluation, found: Figures) -> None:
    """What has to pass and what passes; gaps are those that the rules compare."""
    depth = evaluation.plan.depth
    host, liner = depth.host, depth.liner
    drift = host.passes_m
    below = _below(evaluation)
    if below:
        found[BIT] = Figure(below.bit_m, "diameter")
    if drift is not None:
        found[DRIFT] = Figure(drift, "diameter")
    if below and drift is not None:
        found[DRIFT_GAP] = Figure(drift - below.bit_m, "gap")
    for name, (rule, figure) in OF_RULES.items():
        _add(found, name, _checked(evaluation, rule, figure))
    found[LOST] = Figure(host.id_m - liner.id_m, "gap")
    least = smallest(evaluation)
    if least is not None and not least.unknown:
        found[LINER_DRIFT] = Figure(least.m, "diameter")


def _checked(evaluation: Evaluation, rule: str, name: str) -> Cell:
    """The value that a rule compared for the liner, whether it passed or not."""
    for outcome in evaluation.outcomes:
        if outcome.rule == rule and outcome.subject.path == "liner":
            if isinstance(outcome.answer, Found):
                return outcome.answer.figures.get(name)
            if isinstance(outcome.answer, Passed):
                return outcome.answer.value
    return None


def _volumes(evaluation: Evaluation, found: Figures) -> None:
    pumped, cement = displacement_table(evaluation), evaluation.cement
    for space in evaluation.volumes.spaces:
        # what the sections of the cement and the displacement tell already is not told twice
        if (pumped if space.side == "inside" and space.name != SHOE_TRACK else cement) is None:
            name = f"{_VOLUME_OF}{space.name}"
            already = found.get(name)
            found[name] = Figure(space.m3 + (already.si if already else 0.0), "volume")
    for row in pumped.rows if pumped else ():
        _add(found, f"displacement, {row[0]}", row[2])
        _add(found, f"strokes, {row[0]}", row[3])
    for section in cement.sections if cement else ():
        name = f"cement in {section.name}" if section.name != ABOVE else ABOVE_TOP
        already = found.get(name)
        found[name] = Figure(section.volume_m3 + (already.si if already else 0.0), "volume")
    slurries = slurry_table(evaluation)
    totals = ("total", "of which excess", "above liner, no loss")
    for row in slurries.rows if slurries else ():
        assert slurries is not None
        if row[0] in totals:
            _add(found, f"cement, {row[0]}", row[1])
            continue
        _add(found, f"slurry {row[0]}", row[1])
        _add(found, f"slurry {row[0]}, {slurries.columns[2].head}", row[2])
        _add(found, f"slurry {row[0]}, mix water", row[3])
    if cement and len(cement.slurries) == 1:
        found.pop(f"slurry {cement.slurries[0].name}", None)  # it is the total
    tops = tops_table(evaluation)
    for row in tops.rows if tops else ():
        _add(found, f"cement top, {row[0]}", row[1])


def _columns(evaluation: Evaluation, found: Figures) -> None:
    static, u_tube = static_table(evaluation), u_tube_table(evaluation)
    for row in static.rows if static else ():
        if row[0] in ("host shoe", "liner shoe") and len(row) > 3:
            _add(found, f"static EMW, {row[0]}, planned", row[2])
            _add(found, f"static EMW, {row[0]}, no loss", row[3])
    for row in u_tube.rows if u_tube else ():
        _add(found, f"U-tube, {row[0]}", row[1])


def _weights(evaluation: Evaluation, found: Figures) -> None:
    plan = evaluation.plan
    with suppress(MissingInput):
        pipe = liner_strength(plan.depth.liner)
        found[BURST] = Figure(pipe.burst_pa, "pressure")
        found[COLLAPSE] = Figure(pipe.collapse_pa, "pressure")
        found[YIELD] = Figure(pipe.body_yield_n, "force")
    with suppress(MissingInput):
        liner = liner_weight(plan)
        found["liner, in air"] = Figure(liner.air_n, "force")
        found[IN_MUD] = Figure(liner.buoyed_n, "force")
        found[ON_HOOK] = Figure(liner.along_n, "force")
    if plan.depth.running is None:
        return
    with suppress(MissingInput):
        string = string_weight(plan)
        found[STRING] = Figure(string.along_n, "force")
        needed = plan.job.packer_set_down_n
        if needed is not None:
            found[SET_DOWN] = Figure(needed, "force")
            found[SPARE] = Figure(string.along_n - needed, "force")
    with suppress(MissingInput):
        found[SIGNAL] = Figure(evaluation.job.hook_loads.signal_n(Motion.SLACKING_OFF), "force")
    with suppress(MissingInput):
        found[ARRIVES] = Figure(available_n(plan), "force")
    if plan.job.seat_shears_pa is not None:
        with suppress(MissingInput):
            found[PUMP_OUT] = Figure(pump_out_n(plan, plan.job.seat_shears_pa[2]), "force")


def _ball(evaluation: Evaluation, found: Figures) -> None:
    plan = evaluation.plan
    if plan.job.seat is None and plan.job.hanger_sets_pa is None:
        return
    try:
        trip = ball_trip(plan, evaluation.volumes)
    except MissingInput:
        return
    found[SEAT] = Figure(trip.seat_md_m, "tally")
    if trip.fall_s is not None:
        found[FALL] = Figure(trip.fall_s, "minutes")
    if trip.pumped_m3 is not None:
        found[PUMPED] = Figure(trip.pumped_m3, "volume")
    found[UNDER_PRESSURE] = Figure(trip.under_pressure_m, "tally")
    running = plan.depth.running
    if running is not None:
        bores = [
            bore
            for part in running.parts
            if part.kind != "wiper plug"
            for bore in (part.id_m, part.tool_joint_id_m)
            if bore is not None
        ]
        if plan.job.seat == "running tool" and trip.seat_bore_m is not None:
            bores.append(trip.seat_bore_m)
        if bores:
            found[LEAST_BORE] = Figure(min(bores), "diameter")


def _tests(evaluation: Evaluation, found: Figures) -> None:
    """The planned tests of lap and liner top: what is held at surface, what is pushed from behind."""
    proofs = evaluation.job.proofs
    for test in proofs.positive:
        found[f"{TEST}{test.name}, at surface"] = Figure(test.surface_pa, "pressure")
        found[f"{TEST}{test.name}, EMW at the liner shoe"] = Figure(test.shoe_emw_kg_per_m3, "emw")
    for inflow in proofs.inflow:  # of an inflow test what it has to reach: the light fluid decides the rest
        needed = Figure(max(inflow.needed_pa[1], 0.0), "pressure")
        found[f"{TEST}{inflow.name}, to reach across the lap"] = needed


_SUBJECTS: dict[str, Callable[[Evaluation, Figures], None]] = {
    "Placement": _place,
    "What passes": _passage,
    "Pipe and cement": _volumes,
    "Columns at rest": _columns,
    "Loads": _weights,
    "Ball and seat": _ball,
    "Tests": _tests,
}


def not_computed(evaluation: Evaluation, system: System) -> tuple[Uncomputed, ...]:
    """What also tells ways to do a well apart and is not computed here, and what it would need."""
    plan = evaluation.plan
    made = list(evaluation.missing)
    try:
        string_weight(plan)
    except MissingInput as error:
        made.append(Uncomputed(STRING, error.missing))
    try:
        liner_weight(plan)
    except MissingInput as error:
        made.append(Uncomputed(IN_MUD, error.missing))
    if plan.job.seat is not None or plan.job.hanger_sets_pa is not None:
        try:
            trip = ball_trip(plan, evaluation.volumes)
            if trip.fall_s is None:
                made.append(
                    Uncomputed(FALL, ("a hole of at most 40 deg down to the seat: the ball is pumped",))
                )
        except MissingInput as error:
            made.append(Uncomputed(SEAT, error.missing))
    made.append(Uncomputed("ECD", ("friction of flow in the annulus at the rate of the job",)))
    try:
        evaluation.job.hook_loads.signal_n(Motion.SLACKING_OFF)
    except MissingInput as error:
        made.append(Uncomputed(SIGNAL, error.missing))
    try:
        available_n(plan)
    except MissingInput as error:
        made.append(Uncomputed(ARRIVES, error.missing))
    made += evaluation.job.proofs.missing
    return tuple(made)


def key_figures(evaluation: Evaluation) -> tuple[tuple[str, Figure | tuple[str, ...]], ...]:
    """Eight figures that follow from where the liner is, or what one that is not known needs."""
    liner, missing = evaluation.plan.depth.liner, {one.what: one.needs for one in evaluation.missing}
    no_cement, no_running = missing.get("cement", ("cement.excess",)), ("running string",)
    cement, pumped = evaluation.cement, evaluation.displacement
    top = cement.top_string_in_md_m if cement else None
    weight: Figure | tuple[str, ...]
    try:
        weight = Figure(liner_weight(evaluation.plan).buoyed_n, "force")
    except MissingInput as error:
        weight = error.missing
    gap = _checked(evaluation, *OF_RULES[LINER_GAP])
    no_gap = next(
        (
            one.answer.missing
            for one in evaluation.outcomes
            if isinstance(one.answer, NotChecked)
            and (one.rule, one.subject.path) == (OF_RULES[LINER_GAP][0], "liner")
        ),
        ("a liner that passes",),
    )
    return (
        ("liner top", Figure(liner.top_md_m, "tally")),
        ("lap", Figure(evaluation.laps.liner_top_m, "length")),
        ("liner shoe", Figure(liner.shoe_md_m, "tally")),
        ("cement", Figure(cement.total_m3, "volume") if cement else no_cement),
        ("top, no loss", _known(top, "depth") or (no_running if cement else no_cement)),
        (
            "to bump",
            Figure(pumped.to_bump_m3, "volume") if pumped else missing.get("displacement", no_running),
        ),
        ("liner in mud", weight),
        ("least gap, drift", gap if isinstance(gap, Figure) else no_gap),
    )


def _known(si: float | None, kind: str) -> Figure | None:
    return None if si is None else Figure(si, kind)
