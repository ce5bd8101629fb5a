"""Pressures at rest in any state of the train: at any depth, inside and outside, against the rock.

Hydrostatic alone. Every function takes the columns as they stand in a state, so that the friction of flow can
be added to them where it is known; none of this is a circulating pressure. A pressure at surface is one at
the level of the datum: the head of fluid above it is not counted.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import NamedTuple

from schematic.depth.plan import LinerPart, Plan
from schematic.depth.survey import SurveyPath
from schematic.engineering.cement import Cement
from schematic.engineering.columns import Layer, annulus_at_end, between, emw_kg_per_m3, hydrostatic_pa
from schematic.engineering.train import Place, Train
from schematic.engineering.volumes import JobVolumes
from schematic.outcome import MissingInput

AT_REST = "at rest: friction of flow is not computed"
FREE_FALL = (
    "free fall: the column inside is the heavier, the string may go on vacuum and run ahead of the count; "
    "not computed, needs friction of flow"
)
FRESH_WATER_KG_PER_M3 = 1000.0
_STATES = 120  # of a curve over the job
_CHANGES = 64  # of an annulus that are looked at one by one; a caliper log has ten thousand
_SAME_M = 1.0  # one depth as TVD and as MD


def pressure_pa(layers: tuple[Layer, ...], path: SurveyPath, md_m: float, surface_pa: float = 0.0) -> float:
    """Pressure of a column at a measured depth, with a pressure held at surface, in Pa."""
    return surface_pa + hydrostatic_pa(layers, path, md_m)


def difference_pa(place: Place, path: SurveyPath, md_m: float) -> float:
    """By how much the column outside outweighs that inside at a measured depth, in Pa (U-tube)."""
    return hydrostatic_pa(place.outside, path, md_m) - hydrostatic_pa(place.inside, path, md_m)


class Lift(NamedTuple):
    """The pressure at surface that balances the columns at rest after a volume pumped, in Pa."""

    pumped_m3: float
    pressure_pa: float

    @property
    def free_fall(self) -> bool:
        """Whether the column inside is the heavier: see FREE_FALL."""
        return self.pressure_pa < 0.0


def lift_curve(plan: Plan, the_train: Train) -> tuple[Lift, ...]:
    """The lift pressure over the whole job, with every volume at which a fluid goes in or leaves the shoe."""
    shoe, path, total = plan.depth.liner.shoe_md_m, plan.depth.path, the_train.total_m3
    begins = [batch.from_m3 for batch in the_train.batches]
    at = {total * n / _STATES for n in range(_STATES + 1)} | {
        *begins,
        *(begin + the_train.inside_m3 for begin in begins),
    }
    return tuple(
        Lift(pumped, difference_pa(the_train.at(pumped), path, shoe))
        for pumped in sorted(at)
        if pumped <= total
    )


class WeakPoint(NamedTuple):
    """A depth in open hole with its limits as equivalent mud weight; None: not given."""

    name: str
    md_m: float
    pore_kg_per_m3: float | None
    fracture_kg_per_m3: float | None


def weak_points(plan: Plan) -> tuple[WeakPoint, ...]:
    """Host and liner shoe, bottom, every depth of the table of pressures, every top with a pore pressure.

    In the open hole alone, from the top down. Between the depths of the table its values are taken as linear
    over TVD; of two values of a fracture the lower counts, as of a table and the test of the host shoe.
    """
    depth, rock = plan.depth, plan.formation
    host, bottom = depth.host.shoe_md_m, depth.td_md_m
    if host >= bottom:
        return ()
    pore = [(p.tvd_m, p.pore_kg_per_m3) for p in rock.pressures if p.pore_kg_per_m3 is not None]
    fracture = [(p.tvd_m, p.fracture_kg_per_m3) for p in rock.pressures if p.fracture_kg_per_m3 is not None]
    tests = [t.emw_kg_per_m3 for t in rock.leak_off if t.string == depth.liner.host]
    places: dict[float, str] = {host: "host shoe", bottom: "total depth"}
    places |= {depth.liner.shoe_md_m: "liner shoe"} if host < depth.liner.shoe_md_m else {}
    for point in rock.pressures:
        if all(abs(point.md_m - md) > _SAME_M for md in places):
            places[point.md_m] = "open hole"
    own = {top.md_m: top for top in rock.tops if top.pore_kg_per_m3 is not None}
    places |= {md: top.name for md, top in own.items()}
    made = []
    for md, name in sorted(places.items()):
        if host <= md <= bottom:
            limits = [between(depth.path, md, fracture), *(tests if md == host else ())]
            known = [limit for limit in limits if limit is not None]
            pores = own[md].pore_kg_per_m3 if md in own else between(depth.path, md, pore)
            made.append(WeakPoint(name, md, pores, min(known, default=None)))
    return tuple(made)


class Window(NamedTuple):
    """The static EMW at a weak point over the job, at least and at most, and after which volume pumped."""

    point: WeakPoint
    least_kg_per_m3: float
    least_at_m3: float
    most_kg_per_m3: float
    most_at_m3: float

    @property
    def over_pore_kg_per_m3(self) -> float | None:
        """By how much the least stays over the pore pressure."""
        pore = self.point.pore_kg_per_m3
        return None if pore is None else self.least_kg_per_m3 - pore

    @property
    def under_fracture_kg_per_m3(self) -> float | None:
        """By how much the most stays under the fracture pressure."""
        fracture = self.point.fracture_kg_per_m3
        return None if fracture is None else fracture - self.most_kg_per_m3


def windows(plan: Plan, volumes: JobVolumes, cement: Cement, the_train: Train) -> tuple[Window, ...]:
    """Least and most static EMW at each weak point over the job.

    The most is that of the train, in which nothing is lost and the cement stands highest, and of the end with
    the cement that is counted below the shoe outside the liner too, should mud stay there; the least is also
    that of the end with the cement at its planned top, which it may not exceed.

    Raises
    ------
    MissingInput
        When the rock has neither pore nor fracture pressures.
    """
    points = weak_points(plan)
    if all(p.pore_kg_per_m3 is None and p.fracture_kg_per_m3 is None for p in points):
        raise MissingInput("formation.pressures in the open hole")
    path = plan.depth.path
    at = stages(plan, the_train, [point.md_m for point in points])
    columns = [(pumped, the_train.at(pumped).outside) for pumped in at]
    planned, total = annulus_at_end(plan, volumes, cement), the_train.total_m3
    swept = the_train.outside_m2.clip(the_train.outside_m2.top_m, the_train.shoe_md_m)
    unfilled = replace(the_train, outside_m2=swept).at(total).outside
    made = []
    for point in points:
        found = [
            (emw, pumped)
            for pumped, outside in columns
            if (emw := emw_kg_per_m3(outside, path, point.md_m)) is not None
        ]
        low = emw_kg_per_m3(planned, path, point.md_m)
        if low is not None:
            high = emw_kg_per_m3(unfilled, path, point.md_m) or low
            made.append(Window(point, *min([*found, (low, total)]), *max([*found, (high, total)])))
    return tuple(made)


def stages(plan: Plan, the_train: Train, depths_md_m: list[float]) -> tuple[float, ...]:
    """The volumes pumped at which the pressure outside at some depths can be at its least or its most.

    Where each fluid is at least as heavy as the one ahead and the hole never rises, it only grows: then start
    and end are all. Else it turns where a front passes one of the depths or a change of the annulus.
    """
    ahead = [batch for batch in the_train.batches if not batch.behind_dart]
    densities = [the_train.first.density_kg_per_m3, *(batch.density_kg_per_m3 for batch in ahead)]
    level = math.pi / 2.0
    if densities == sorted(densities) and all(row[1] <= level for row in plan.depth.path.stations):
        return 0.0, the_train.total_m3
    changes = the_train.outside_m2.depths_m
    depths = {*depths_md_m, *changes[:: max(1, len(changes) // _CHANGES)]}
    turns = {batch.from_m3 + the_train.up_to_m3(md) for batch in ahead for md in depths}
    return tuple(sorted({0.0, the_train.total_m3} | {at for at in turns if at < the_train.total_m3}))


def gelled(plan: Plan, layers: tuple[Layer, ...]) -> tuple[Layer, ...]:
    """The columns when the slurries have gelled and weigh no more than their mix water.

    The file does not say what the mix water weighs: it is taken as fresh water, 1000 kg/m3, the lightest that
    it is in practice. Source: common practice; textbooks on well cementing describe the fall of a gelling
    slurry to the gradient of its water.
    """
    slurries = {slurry.fluid for slurry in plan.cement.slurries}
    slurries |= {fluid.name for fluid in plan.fluids if fluid.kind == "slurry"}
    return tuple(
        layer._replace(density_kg_per_m3=FRESH_WATER_KG_PER_M3) if layer.fluid in slurries else layer
        for layer in layers
    )


class Held(NamedTuple):
    """What a float or the plug holds back when the pressure is bled off after the bump, in Pa: with the
    cement at its planned top, and where it stands when nothing is lost.
    """

    part: LinerPart
    planned_pa: float
    highest_pa: float


def held_at_bump(plan: Plan, volumes: JobVolumes, cement: Cement, the_train: Train) -> tuple[Held, ...]:
    """What landing collar, float collar and float shoe hold back, from the top down.

    Raises
    ------
    MissingInput
        As `columns.annulus_at_end`.
    """
    highest = the_train.at(the_train.total_m3)
    planned = highest._replace(outside=annulus_at_end(plan, volumes, cement))
    path = plan.depth.path
    return tuple(
        Held(part, difference_pa(planned, path, part.top_md_m), difference_pa(highest, path, part.top_md_m))
        for part in plan.depth.liner.parts
        if part.valves or part.kind in ("landing collar", "float collar", "float shoe")
    )
