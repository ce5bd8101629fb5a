"""What must not be exceeded where no band says it: circulating, annulus, tests, turns, pull, slack-off."""

from __future__ import annotations

from schematic.depth.nest import circle_m2
from schematic.depth.plan import LinerPart
from schematic.engineering.at_rest import FRESH_WATER_KG_PER_M3
from schematic.engineering.columns import emw_kg_per_m3
from schematic.engineering.strength import casing_strength, liner_strength
from schematic.engineering.weights import liner_weight
from schematic.job.bounds import Bound, least, of_its
from schematic.job.hanger_load import PACKER_SETS, allowed_n
from schematic.job.installation import Installation
from schematic.job.proof import host_limit_kg_per_m3
from schematic.job.setting import BALL_BRANCH, EITHER
from schematic.job.under_test import exposed_strings, surface_bound
from schematic.outcome import MissingInput
from schematic.units import STANDARD_GRAVITY_M_PER_S2


def circulating(job: Installation) -> Bound:
    """The pressure below which nothing sets while circulating."""
    its, bounds = job.setting, []
    given = job.plan.job.circulate_up_to_pa
    if given is not None:
        bounds.append(Bound(given, "circulating limit of the program"))
    share = job.plan.limits["greatest circulating share"].si
    bounds += [
        Bound(share * band.low_pa, f"{band.name} above it, a share kept")
        for band in its.bands
        if band.branch in (BALL_BRANCH, EITHER)
    ]
    if not bounds:
        raise MissingInput("installation.circulate up to")
    return least(bounds, [one.what for one in its.missing if one.what in its.order])


def annulus(job: Installation) -> Bound:
    """Pressure at surface on the annulus: what the host shoe bears should the liner top leak, cement at
    its highest, and what the strings above the liner top, the packer and the surface equipment bear.
    """
    plan, depth = job.plan, job.plan.depth
    share, limit = plan.limits["greatest share of rating"].si, plan.job.surface_pressure_limit_pa
    mud, packer = plan.fluid("mud"), depth.liner.find("liner top packer")
    if mud is None:
        raise MissingInput("a fluid of kind mud")
    bounds: list[Bound] = []
    unknown: list[str] = []
    if depth.liner.shoe_md_m > depth.host.shoe_md_m:
        bounds.append(_host_shoe(job, mud.density_kg_per_m3))
    over = max(mud.density_kg_per_m3 - FRESH_WATER_KG_PER_M3, 0.0) * STANDARD_GRAVITY_M_PER_S2
    for string, md in exposed_strings(plan):
        try:
            bears = share * casing_strength(string).burst_pa - over * depth.path.tvd_m(md)
            bounds.append(Bound(max(bears, 0.0), f"{of_its(share)} the burst of the {string.name}"))
        except MissingInput:
            unknown.append(string.name)
    if packer is not None:
        _rated(packer, share, bounds, unknown)
    if limit is not None:
        bounds.append(Bound(limit, "limit of the surface equipment"))
    else:
        unknown.append("surface equipment")
    hanger = depth.liner.find("liner hanger")
    if packer is not None and hanger is not None:  # what presses on the packer hangs on the hanger
        try:
            bounds.append(_on_hanger(job))
        except MissingInput:
            unknown.append(hanger.name)
    if not bounds:
        raise MissingInput(*(f"rating of {name}" for name in unknown))
    return least(bounds, unknown)


def _on_hanger(job: Installation) -> Bound:
    """The pressure on the host's bore above the set packer that loads the hanger as far as it may be."""
    loads, missing = job.hanger_loads
    load = next((one for one in loads if one.name == PACKER_SETS), None)
    if load is None:
        raise MissingInput(*(need for one in missing for need in one.needs))
    room = max(allowed_n(job.plan) - load.total_n, 0.0) / circle_m2(job.plan.depth.host.id_m)
    return Bound(room, "the hanger carries no more besides the weight on the packer, no cement credited")


def _host_shoe(job: Installation, mud_kg_per_m3: float) -> Bound:
    depth, limit = job.plan.depth, host_limit_kg_per_m3(job.plan)
    if limit is None:
        raise MissingInput("formation.leak off at the host shoe")
    shoe, stands = depth.host.shoe_md_m, mud_kg_per_m3
    if job.plan.cement.slurries:
        pumped = job.train
        end = pumped.at(pumped.total_m3)
        stands = emw_kg_per_m3(end.outside, depth.path, shoe) or mud_kg_per_m3
    room = (limit - stands) * STANDARD_GRAVITY_M_PER_S2 * depth.path.tvd_m(shoe)
    return Bound(max(room, 0.0), "the host shoe takes no more, at rest; friction not computed")


def rig(job: Installation) -> Bound:
    """Hook load; raises MissingInput where the program has no limit."""
    if job.plan.job.hook_load_limit_n is None:
        raise MissingInput("installation.hook load limit")
    return Bound(job.plan.job.hook_load_limit_n, "hook load limit; elevators and slips may bear less")


def torque(job: Installation) -> Bound:
    """Torque on the string; raises MissingInput where the program has no limit."""
    limit = job.plan.job.torque_limit_nm
    if limit is None:
        raise MissingInput("installation.torque limit")
    return Bound(limit, "torque limit of the program; the tool may bear less")


def slack_off(job: Installation) -> Bound:
    """Slack-off at surface; raises MissingInput where the program has no limit."""
    limit = job.plan.job.slack_off_limit_n
    if limit is None:
        raise MissingInput("installation.slack off limit")
    return Bound(limit, "slack-off limit of the program")


def lap_test(job: Installation) -> Bound:
    """The weakest of what a test from above loads."""
    if not job.proofs.positive:
        raise MissingInput("installation.tests")
    return surface_bound(job.plan, job.proofs.positive[0])


def from_outside(job: Installation) -> Bound:
    """What less pressure inside may leave across the lap: collapse of the liner under its own weight and of
    the strings that stand open above it, and the packer, all under the same difference.
    """
    plan, liner = job.plan, job.plan.depth.liner
    share, packer = plan.limits["greatest share of rating"].si, liner.find("liner top packer")
    bounds: list[Bound] = []
    unknown: list[str] = []
    try:
        bears = liner_strength(liner).collapse_under_pa(liner_weight(plan).along_n)
        bounds.append(Bound(share * bears, f"{of_its(share)} the collapse of the liner as it hangs"))
    except MissingInput:
        unknown.append("liner pipe")
    for string, _md in exposed_strings(plan):
        try:
            bears = casing_strength(string).collapse_pa
            words = f"{of_its(share)} the collapse of the {string.name}, its tension not counted"
            bounds.append(Bound(share * bears, words))
        except MissingInput:
            unknown.append(string.name)
    if packer is not None:
        _rated(packer, share, bounds, unknown)
    if not bounds:
        raise MissingInput(*(f"rating of {name}" for name in unknown))
    return least(bounds, unknown)


def _rated(packer: LinerPart, share: float, bounds: list[Bound], unknown: list[str]) -> None:
    """The share of a packer's rating among the bounds, or its name among what is not known."""
    if packer.pressure_rating_pa is None:
        unknown.append(packer.name)
    else:
        bounds.append(
            Bound(share * packer.pressure_rating_pa, f"{of_its(share)} the rating of {packer.name}")
        )
