"""The words that hold for a plan: `steps.yaml` asks for them before a step or a line stands."""

from __future__ import annotations

from schematic.depth.plan import Plan
from schematic.engineering.ball import ball_trip
from schematic.engineering.drag import Motion
from schematic.job.clock import reversed_out
from schematic.job.facts import (
    FACTS,
    at_dart_pa,
    below_shoe_m3,
    bumped,
    doubt_m3,
    held_back_pa,
    light_test,
    proves_nothing,
    pulled_m,
    pump_band_known,
    rathole_m3,
    showed,
    slips_proof,
    staged,
    string_showed,
)
from schematic.job.installation import Installation
from schematic.job.overpull import overpull, overpull_limit
from schematic.job.setting import ball_expected
from schematic.outcome import Figure, MissingInput


def words_of(job: Installation) -> frozenset[str]:
    """The words that hold for a plan; `steps.yaml` asks for them."""
    plan = job.plan
    depth, liner = plan.depth, plan.depth.liner
    hanger = liner.find("liner hanger")
    words = {
        "open hole": liner.shoe_md_m > depth.host.shoe_md_m,
        "floats": any(part.valves for part in liner.parts) or liner.find("float collar") is not None,
        "hanger": hanger is not None,
        "slips": hanger is not None and hanger.slips_md_m is not None,
        "mechanical": hanger is not None and hanger.hanger_type == "mechanical",
        "hydraulic": hanger is not None and hanger.hanger_type == "hydraulic",
        "expandable": hanger is not None and hanger.hanger_type == "expandable",
        "off bottom": depth.td_md_m > max(liner.shoe_md_m, depth.host.shoe_md_m),
        "by the tallies": slips_proof(plan) == "by the tallies",
        "not by the tallies": slips_proof(plan) == "not located",
        "staged": bool(staged(plan)),
        "packer": liner.find("liner top packer") is not None,
        "receptacle": liner.find("tie-back receptacle") is not None,
        "ball": ball_expected(plan),
        "seat": plan.job.seat is not None,
        "seat in collar": plan.job.seat == "landing collar",
        "seat in tool": plan.job.seat == "running tool",
        "seat pressure": plan.job.seat_shears_pa is not None,
        "tool by pressure": not plan.job.tool_turned,
        "tool by turning": plan.job.tool_turned,
        "tool pressure": plan.job.tool_releases_pa is not None,
        "cement": bool(plan.cement.slurries),
        "string in cement": _string_in_cement(job),
        "cement comes back": _comes_back(job),
        "rathole cement": rathole_m3(job) > 0.0,
        "swept below the shoe": below_shoe_m3(job) > 0.0,
        "pump band": pump_band_known(plan),
        "count off": pump_band_known(plan) and _count_off(job),
        "pump showed": _pump_showed(job),
        "string by dart": _string_by_dart(job),
        "plug": depth.running is not None and depth.running.plug_md_m is not None,
        "counted": _counted(job),
        "bumped": bumped(job),
        "held": plan.job.hanger_held_pa is not None,
        "heavier outside": _told_above_nought(job, "u_tube"),
        "pressed from outside": _told_above_nought(job, "seal_out"),
        "final": plan.job.final_pressure_pa is not None,
        "thickening": _thickening_known(plan),
        "pull known by pipe alone": _others_unknown(plan),
        "cement runs ahead": _runs_ahead(job),
        "friction": plan.job.friction is not None,
        "positive test": any(test.kind == "positive" for test in plan.job.tests),
        "inflow test": any(test.kind == "inflow" for test in plan.job.tests),
        "light oil": _light_oil(plan),
        "several slurries": len(plan.cement.slurries) > 1,
        "host shoe on pipe": depth.host.shoe_md_m > liner.shoe_md_m - liner.top_md_m,
        "signal falls": _signal_falls(job),
        "proves nothing": proves_nothing(job),
        "inflow by the next fluid": bool(job.proofs.inflow) and job.proofs.inflow[0].reached_pa is None,
        "inflow held back": held_back_pa(job) > 0.0,
        "inflow hold": bool(job.proofs.inflow) and job.proofs.inflow[0].hold_s is not None,
        "inflow light": light_test(job) is not None,
    }
    if words["ball"]:
        falls = _ball_falls(job)
        words |= {"ball falls": falls is True, "ball does not fall": falls is False}
    return frozenset(word for word, holds in words.items() if holds)


def _string_in_cement(job: Installation) -> bool:
    """Whether cement stands round the string at the bump; where nobody knows, it is taken to stand there."""
    try:
        return job.cement.above_liner_top_m3 > 0.0
    except MissingInput:
        return bool(job.plan.cement.slurries)


def _comes_back(job: Installation) -> bool:
    """Whether cement is reversed out from above the raised string."""
    try:
        return reversed_out(job.plan, job.train, pulled_m(job)).cement_m3 > 0.0
    except MissingInput:
        return False


def _pump_showed(job: Installation) -> bool:
    """Whether an event that was seen showed the pump to count otherwise than it delivers."""
    try:
        return showed(job) != 1.0
    except MissingInput:
        return False


def _count_off(job: Installation) -> bool:
    """Whether the count of the bump may be off; what nobody can tell is said."""
    try:
        return doubt_m3(job) > 0.0
    except MissingInput:
        return True


def _string_by_dart(job: Installation) -> bool:
    """Whether the dart measured the string otherwise than what was seen after it."""
    try:
        return string_showed(job) != showed(job)
    except MissingInput:
        return False


def _signal_falls(job: Installation) -> bool:
    """Whether the hook load falls as the hanger takes the liner; not where the liner has to be pushed."""
    try:
        return job.hook_loads.signal_n(Motion.SLACKING_OFF) > 0.0
    except MissingInput:
        return True


def _light_oil(plan: Plan) -> bool:
    """Whether an inflow test is made with oil inside."""
    oils = {one.name for one in plan.fluids if one.kind == "base oil" or one.base == "oil"}
    return any(test.kind == "inflow" and test.light_fluid in oils for test in plan.job.tests)


def _others_unknown(plan: Plan) -> bool:
    """Whether a limit of the pull is told while it is not known of other parts what they bear."""
    try:
        overpull_limit(plan)
        return bool(overpull(plan).unknown)
    except MissingInput:
        return False


def _thickening_known(plan: Plan) -> bool:
    slurries = {one.fluid for one in plan.cement.slurries}
    return all(one.thickening_time_s is not None for one in plan.fluids if one.name in slurries)


def _told_above_nought(job: Installation, name: str) -> bool:
    """Whether a figure is above nought; one that cannot be computed is asked for all the same."""
    try:
        found = FACTS[name](job)
    except MissingInput:
        return True
    return isinstance(found, Figure) and found.si > 0.0


def _counted(job: Installation) -> bool:
    """Whether what is pumped can be counted to its events."""
    try:
        return bool(job.events)
    except MissingInput:
        return False


def _runs_ahead(job: Installation) -> bool:
    """Whether the column inside is the heavier as the dart goes."""
    try:
        return at_dart_pa(job) < 0.0
    except MissingInput:
        return False


def _ball_falls(job: Installation) -> bool | None:
    try:
        return ball_trip(job.plan, job.volumes).fall_s is not None
    except MissingInput:
        return None
