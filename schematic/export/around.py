"""What a shoe stands in, in words: open hole of a size, or a string."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.depth.nest import HOLE
from schematic.depth.plan import CasingString
from schematic.units import System, size

_STEP_M = 0.01


def liner_stands(evaluation: Evaluation, system: System, *, short: bool = False) -> str:
    """What the liner ends in: "in 8 1/2 in hole", or "inside 9 5/8 in casing" where it ends in its host.

    Hole of that bit that was opened, all of it or a part, is told with its size; with *short* as the trade
    writes it, "in 8 1/2 x 9 7/8 in hole".
    """
    depth = evaluation.plan.depth
    if depth.liner.shoe_md_m < depth.host.shoe_md_m:
        return f"inside {size(depth.host.od_m, system)} {_kind(depth.host)}"
    last, shoe = depth.hole.sections[-1], depth.host.shoe_md_m
    beside = [s for s in depth.hole.sections if s.bit_m == last.bit_m and s.bottom_md_m > shoe]
    opened = {s.size_m for s in beside if s.size_m != s.bit_m}
    hole = f"in {size(last.bit_m, system)} hole"
    if not opened:
        return hole
    if short:
        return f"in {size(last.bit_m, system).removesuffix(' in')} x {size(max(opened), system)} hole"
    part = "" if all(s.size_m != s.bit_m for s in beside) else "part "
    return f"{hole}, {part}opened to {size(max(opened), system)}"


def around_shoe(evaluation: Evaluation, name: str, shoe_md_m: float, system: System) -> str | None:
    """What a string or the liner ends in: "12 1/4 in hole", or the string, "9 5/8 in production casing".

    None where the file names no hole at that depth.
    """
    depth = evaluation.plan.depth
    found = evaluation.nest.surrounds(name, shoe_md_m - _STEP_M, shoe_md_m)
    around = found[-1][0] if found else HOLE
    if around != HOLE:
        return f"{size(depth.string(around).od_m, system)} {around}"
    for section in depth.hole.sections:
        if section.top_md_m < shoe_md_m <= section.bottom_md_m + 1e-6:
            return f"{size(section.size_m, system)} hole"
    return None


def _kind(host: CasingString) -> str:
    return "liner" if "liner" in host.name.lower() else "casing"
