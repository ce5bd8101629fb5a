"""How much a hanging string is longer than its tally: running string with the liner, and the host when run.

Elastic stretch under buoyed weight and, where the file gives both temperatures, growth with the heat of the
well; drag and pressure are not in it. Steel has a modulus of 30 million psi, a density of 7850 kg/m3 and
grows by 6.9e-6 per degF; weight is taken along the hole by true vertical depth.
"""

from __future__ import annotations

from typing import NamedTuple

from schematic.depth.nest import circle_m2
from schematic.depth.plan import Plan
from schematic.depth.survey import SurveyPath
from schematic.outcome import MissingInput
from schematic.units import STANDARD_GRAVITY_M_PER_S2

STEEL_PA = 2.068e11
STEEL_KG_PER_M3 = 7850.0
STEEL_PER_K = 6.9e-6 * 1.8  # 6.9e-6 per degF


class LinerStretch(NamedTuple):
    """Stretch in metres: of the running string down to the liner top, of the host down to the same depth."""

    string_m: float
    host_m: float


def stretch(plan: Plan) -> LinerStretch:
    """Stretch of running string and host at the liner top, by Hooke's law, section by section.

    Raises
    ------
    MissingInput
        When mud density, running string, a weight, an OD or a bore is not given.
    """
    mud = plan.fluid("mud")
    if mud is None:
        raise MissingInput("fluids.mud")
    heat = _heat(plan)
    return LinerStretch(
        _string(plan, mud.density_kg_per_m3) + heat, _host(plan, mud.density_kg_per_m3) + heat
    )


def shortens_m(plan: Plan, force_n: float) -> float:
    """How much the running string above the liner shortens when a force is taken off its foot, without drag:
    F L / (E A), part by part.

    Raises
    ------
    MissingInput
        When there is no running string, or an OD or a bore of it is not given.
    """
    running = plan.depth.running
    if running is None:
        raise MissingInput("running string")
    total = 0.0
    for part in running.parts:
        if part.bottom_md_m > plan.depth.liner.top_md_m + 1e-6 or part.length_m <= 0.0:
            continue  # what hangs inside the liner does not carry it
        if part.od_m is None or part.id_m is None:
            raise MissingInput(f"OD and bore of {part.name}")
        long = part.bottom_md_m - max(part.top_md_m, 0.0)
        total += force_n * long / (STEEL_PA * (circle_m2(part.od_m) - circle_m2(part.id_m)))
    return total


def _heat(plan: Plan) -> float:
    """Growth of steel down to the liner top, warmer evenly with true depth; nought where not known."""
    depth, rock = plan.depth, plan.formation
    if rock.surface_temperature_k is None or rock.static_temperature_k is None:
        return 0.0
    top = depth.liner.top_md_m
    share = depth.path.tvd_m(top) / depth.path.tvd_m(depth.td_md_m)
    warmer = share * (rock.static_temperature_k - rock.surface_temperature_k)
    return STEEL_PER_K * top * 0.5 * warmer


def _string(plan: Plan, mud_kg_per_m3: float) -> float:
    depth = plan.depth
    if depth.running is None:
        raise MissingInput("running string")
    float_share = 1.0 - mud_kg_per_m3 / STEEL_KG_PER_M3
    liner = depth.liner
    load = 0.0  # buoyed weight along the hole that hangs below
    for part in liner.parts:
        weight = part.weight_kg_per_m if part.weight_kg_per_m is not None else liner.weight_kg_per_m
        if weight is None:
            raise MissingInput("liner.weight")
        fall = depth.path.tvd_m(part.bottom_md_m) - depth.path.tvd_m(part.top_md_m)
        load += weight * fall * float_share * STANDARD_GRAVITY_M_PER_S2
    total = 0.0
    for running in reversed(depth.running.parts):
        if running.bottom_md_m > liner.top_md_m + 1e-6 or running.length_m <= 0.0:
            continue  # what hangs inside the liner is short
        if running.weight_kg_per_m is None:
            raise MissingInput(f"weight of {running.name}")
        if running.od_m is None or running.id_m is None:
            raise MissingInput(f"OD and bore of {running.name}")
        own = running.weight_kg_per_m * float_share * STANDARD_GRAVITY_M_PER_S2
        steel = circle_m2(running.od_m) - circle_m2(running.id_m)
        top = max(running.top_md_m, 0.0)
        total += _longer_m(depth.path, load, own, top, running.bottom_md_m) / (STEEL_PA * steel)
        load += own * (depth.path.tvd_m(running.bottom_md_m) - depth.path.tvd_m(top))
    return total


def _longer_m(path: SurveyPath, load_n: float, per_m: float, top_md_m: float, bottom_md_m: float) -> float:
    """Integral of tension over a pipe with a weight per metre and a load at its foot, arc by arc, in N m."""
    total = 0.0
    for top, bottom, *_bend in reversed(path.arcs(top_md_m, bottom_md_m)):
        own = per_m * (path.tvd_m(bottom) - path.tvd_m(top))
        total += (load_n + 0.5 * own) * (bottom - top)
        load_n += own
    return total


def _host(plan: Plan, mud_kg_per_m3: float) -> float:
    depth = plan.depth
    host = depth.host
    if host.top_md_m > 0.0:  # it was run on pipe that the file does not know
        raise MissingInput(f"{host.path}.couplings, corrected for stretch")
    if host.weight_kg_per_m is None:
        raise MissingInput(f"{host.path}.weight")
    steel = circle_m2(host.od_m) - circle_m2(host.id_m)
    float_share = 1.0 - mud_kg_per_m3 / STEEL_KG_PER_M3
    top, place, shoe = host.top_md_m, min(depth.liner.top_md_m, host.shoe_md_m), host.shoe_md_m
    tvd = depth.path.tvd_m
    per_m = host.weight_kg_per_m * float_share * STANDARD_GRAVITY_M_PER_S2
    below = per_m * (tvd(shoe) - tvd(place))
    return _longer_m(depth.path, below, per_m, top, place) / (STEEL_PA * steel)
