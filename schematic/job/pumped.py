"""What the steps fill, pump and compress: volumes of bores, and what a pump puts in to raise a pressure."""

from __future__ import annotations

from schematic.depth.nest import liner_tube, running_tube
from schematic.depth.plan import Fluid, Plan
from schematic.engineering.ball import ball_trip
from schematic.engineering.cement import compressibility_per_pa
from schematic.engineering.volumes import SHOE_TRACK, bored_m3
from schematic.job.installation import Installation
from schematic.job.proof import fluid_of
from schematic.outcome import MissingInput


def squeezed_m3(fluid: Fluid, volume_m3: float, pressure_pa: float) -> float:
    """What goes into a closed volume of a fluid to raise its pressure, in m3, for the fluid alone: the pipe
    that widens takes more.

    Raises
    ------
    MissingInput
        When neither the fluid's compressibility nor its base is given.
    """
    share = compressibility_per_pa(fluid)
    if share is None:
        raise MissingInput(f"fluids.{fluid.name}.base")
    return volume_m3 * share * pressure_pa


def into_the_string_m3(job: Installation, pressure_pa: float) -> float:
    """What goes in to bring the string, closed by the ball on its seat, to a pressure at surface."""
    mud = job.plan.fluid("mud")
    if mud is None:
        raise MissingInput("a fluid of kind mud")
    inside = ball_trip(job.plan, job.volumes).pumped_m3
    if inside is None:
        raise MissingInput("bores of the running string")
    return squeezed_m3(mud, inside, pressure_pa)


def into_the_bump_m3(job: Installation) -> float:
    """What goes in behind the landed plug to raise the pressure over the final one."""
    behind, over = job.plan.fluid("displacement") or job.plan.fluid("mud"), job.plan.job.bump_over_final_pa
    if behind is None or over is None:
        raise MissingInput("a fluid of kind mud" if behind is None else "installation.bump over final")
    return squeezed_m3(behind, job.displacement.to_bump_m3, over)


def into_the_well_m3(job: Installation) -> float:
    """What goes in for the first test from above, from the landing collar up, no string in the well."""
    positive = job.proofs.positive
    if not positive:
        raise MissingInput(*next((one.needs for one in job.proofs.missing), ("installation.tests",)))
    its = next(test for test in job.plan.job.tests if test.name == positive[0].name)
    return squeezed_m3(fluid_of(job.plan, its), well_m3(job.plan), positive[0].surface_pa)


def well_m3(plan: Plan) -> float:
    """The well from surface down to the landing collar, no string in it, in m3.

    Raises
    ------
    MissingInput
        When there is no landing collar.
    """
    collar = plan.depth.liner.shoe_track_top_md_m
    if collar is None:
        raise MissingInput("landing collar")
    return down_to_m3(plan, collar)


def down_to_m3(plan: Plan, md_m: float) -> float:
    """The bores from surface down to a depth, the landing collar at most, no string in the well, in m3."""
    liner = plan.depth.liner
    md_m = min(md_m, liner.shoe_track_top_md_m or liner.shoe_md_m)
    above = bored_m3(plan.depth, 0.0, min(liner.top_md_m, md_m))
    if md_m <= liner.top_md_m:
        return above
    return above + liner_tube(liner).inside_m2(liner.top_md_m, md_m).integral()


def shoe_track_m3(job: Installation) -> float:
    """The bore from the landing collar to the shoe."""
    found = job.volumes.total_m3(SHOE_TRACK)
    if found is None:
        raise MissingInput("landing collar")
    return found


def pipe_bore_m3(plan: Plan, *, to_host_shoe: bool) -> float:
    """The bore of the pipe that goes in while the liner's shoe comes down to the host shoe; else of what goes
    in from there on, or from surface where there is no open hole. Stick-up is not counted.

    Raises
    ------
    MissingInput
        When the running string or a bore of it is not given.
    """
    depth = plan.depth
    if depth.running is None:
        raise MissingInput("running string")
    whole = running_tube(depth.running)
    below = max(depth.liner.shoe_md_m - depth.host.shoe_md_m, 0.0)  # how much pipe that is from surface
    below = min(below, depth.running.foot_md_m)
    if to_host_shoe:
        return whole.inside_m2(below, depth.running.foot_md_m).integral()
    return whole.inside_m2(0.0, below or depth.running.foot_md_m).integral()


def pipe_steel_m3(plan: Plan) -> float:
    """The steel of the running string, stick-up not counted: what the hole takes as it comes out dry."""
    if plan.depth.running is None:
        raise MissingInput("running string")
    tube, foot = running_tube(plan.depth.running), plan.depth.running.foot_md_m
    return tube.outside_m2(0.0, foot).integral() - tube.inside_m2(0.0, foot).integral()
