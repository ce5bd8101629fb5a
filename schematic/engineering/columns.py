"""The fluids that stand outside the string when displacement ends, and the pressure of their weight.

At rest: no friction, no gelled slurry, no pressure held at surface. Nothing is reversed out, the running
string is in. Hydrostatic: sum of density times g times true vertical height, g 9.80665 m/s2.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.depth.by_depth import DepthError
from schematic.depth.plan import Fluid, Plan
from schematic.depth.survey import SurveyPath
from schematic.engineering.cement import Cement
from schematic.engineering.volumes import RATHOLE, SHOE_TRACK, JobVolumes
from schematic.outcome import MissingInput
from schematic.units import STANDARD_GRAVITY_M_PER_S2


class Layer(NamedTuple):
    """One fluid between two measured depths."""

    fluid: str
    top_md_m: float
    bottom_md_m: float
    density_kg_per_m3: float


def annulus_at_end(
    plan: Plan, volumes: JobVolumes, cement: Cement, *, nothing_lost: bool = False
) -> tuple[Layer, ...]:
    """The fluids outside the string at the end of displacement, from the datum to the bottom of the hole.

    Mud above, the spacer over the cement as high as its volume reaches, then the slurries: between the depths
    of the plan, or, when *nothing_lost*, each as high as all of its volume stands, excess included. Below a
    liner whose rathole takes no cement, as one that ends inside its host, stands mud.

    Raises
    ------
    MissingInput
        When there is no mud, a spacer is named without its volume, the annulus is not known, or the planned
        top of cement is not above the shoe.
    """
    mud = plan.fluid("mud")
    if mud is None:
        raise MissingInput("a fluid of kind mud")
    if not volumes.above_m2.depths_m or not volumes.beside_m2.depths_m:
        raise MissingInput(*(volumes.needs or ("running string",)))
    assert plan.cement.planned_top_md_m is not None
    bottom = max(plan.depth.td_md_m, plan.depth.liner.shoe_md_m)
    rathole = any(section.name == RATHOLE for section in cement.sections)
    foot = bottom if rathole else plan.depth.liner.shoe_md_m
    slurries = _standing(plan, volumes, cement, foot) if nothing_lost else _planned(plan, foot)
    if not slurries:
        raise MissingInput("a planned top of cement above the liner shoe")
    top = slurries[0].top_md_m
    layers = list(slurries)
    if plan.cement.spacer:
        spacer = _fluid(plan, plan.cement.spacer)
        if spacer.volume_m3 is None:
            raise MissingInput(f"fluids.{spacer.name}.volume")
        over = _up(plan, volumes, spacer.volume_m3, top)
        layers.insert(0, Layer(spacer.name, over, top, spacer.density_kg_per_m3))
        top = over
    layers.insert(0, Layer(mud.name, 0.0, top, mud.density_kg_per_m3))
    layers.append(Layer(mud.name, foot, bottom, mud.density_kg_per_m3))
    return tuple(layer for layer in layers if layer.bottom_md_m > layer.top_md_m)


def _planned(plan: Plan, bottom_md_m: float) -> list[Layer]:
    """The slurries between the depths that the plan gives them; none where that is too low."""
    assert plan.cement.planned_top_md_m is not None
    layers = []
    reached = plan.cement.planned_top_md_m
    for slurry in plan.cement.slurries:
        end = bottom_md_m if slurry.bottom_md_m is None else min(slurry.bottom_md_m, bottom_md_m)
        if end > reached:
            layers.append(Layer(slurry.fluid, reached, end, _fluid(plan, slurry.fluid).density_kg_per_m3))
            reached = end
    return layers


def _standing(plan: Plan, volumes: JobVolumes, cement: Cement, bottom_md_m: float) -> list[Layer]:
    """The slurries one above the other from the shoe up, as high as all that is mixed stands."""
    layers: list[Layer] = []
    foot = plan.depth.liner.shoe_md_m
    for slurry in reversed(cement.slurries):
        inside = math.fsum(
            s.volume_m3
            for s in cement.sections
            if s.slurry == slurry.name and s.name in (SHOE_TRACK, RATHOLE)
        )
        top = _up(plan, volumes, slurry.volume_m3 - inside, foot)
        end = bottom_md_m if not layers else foot
        layers.insert(0, Layer(slurry.name, top, end, _fluid(plan, slurry.name).density_kg_per_m3))
        foot = top
    return layers


def _fluid(plan: Plan, name: str) -> Fluid:
    return next(fluid for fluid in plan.fluids if fluid.name == name)


def _up(plan: Plan, volumes: JobVolumes, volume_m3: float, from_md_m: float) -> float:
    """Up to where a volume stands outside liner and running string; nought where it reaches the surface."""
    liner_top = plan.depth.liner.top_md_m
    if from_md_m > liner_top:
        beside = volumes.beside_m2.integral(liner_top, from_md_m)
        if beside >= volume_m3:
            return volumes.beside_m2.reach_up(volume_m3, from_md_m)
        volume_m3, from_md_m = volume_m3 - beside, liner_top
    try:
        return volumes.above_m2.reach_up(volume_m3, from_md_m)
    except DepthError:
        return 0.0


def inside_at_end(plan: Plan) -> tuple[Layer, ...]:
    """The fluids inside the string when the plug has landed: what displaced the cement, down to the collar.

    Raises
    ------
    MissingInput
        When neither mud nor a fluid of displacement, or no collar is given.
    """
    behind = plan.fluid("displacement") or plan.fluid("mud")
    stop = plan.depth.liner.shoe_track_top_md_m
    if behind is None or stop is None:
        raise MissingInput("a fluid of kind mud" if behind is None else "landing collar")
    return (Layer(behind.name, 0.0, stop, behind.density_kg_per_m3),)


def hydrostatic_pa(layers: tuple[Layer, ...], path: SurveyPath, md_m: float) -> float:
    """Pressure of the layers' weight at a measured depth, surface pressure not counted."""
    return math.fsum(
        layer.density_kg_per_m3
        * STANDARD_GRAVITY_M_PER_S2
        * (path.tvd_m(min(layer.bottom_md_m, md_m)) - path.tvd_m(layer.top_md_m))
        for layer in layers
        if layer.top_md_m < md_m
    )


def emw_kg_per_m3(layers: tuple[Layer, ...], path: SurveyPath, md_m: float) -> float | None:
    """The same as the density of one fluid from the datum down; None at the datum."""
    tvd = path.tvd_m(md_m)
    return hydrostatic_pa(layers, path, md_m) / (STANDARD_GRAVITY_M_PER_S2 * tvd) if tvd > 0.0 else None


def u_tube_pa(plan: Plan, annulus: tuple[Layer, ...]) -> float:
    """By how much the column outside outweighs that inside at the shoe, when displacement ends.

    Inside stands what displaced the cement, down to the collar, and the last slurry in the shoe track.

    Raises
    ------
    MissingInput
        As `inside_at_end`.
    """
    inside = inside_at_end(plan)
    path, shoe = plan.depth.path, plan.depth.liner.shoe_md_m
    track = _fluid(plan, plan.cement.slurries[-1].fluid)
    within = (*inside, Layer(track.name, inside[-1].bottom_md_m, shoe, track.density_kg_per_m3))
    return hydrostatic_pa(annulus, path, shoe) - hydrostatic_pa(within, path, shoe)


_SHORT_M = 5.0  # a table of pressures may end this short of shoe or bottom: its end value holds there


def between(path: SurveyPath, md_m: float, rows: list[tuple[float, float]]) -> float | None:
    """A pressure at a depth, linear between rows of TVD and value; None further than 5 m outside of them."""
    if not rows:
        return None
    tvd = path.tvd_m(md_m)
    if rows[0][0] - _SHORT_M <= tvd <= rows[0][0]:
        return rows[0][1]
    if rows[-1][0] <= tvd <= rows[-1][0] + _SHORT_M:
        return rows[-1][1]
    for (above, first), (below, second) in zip(rows, rows[1:], strict=False):
        if above - 0.01 <= tvd <= below + 0.01:
            return first + (second - first) * (tvd - above) / (below - above)
    return None
