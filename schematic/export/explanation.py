"""How a value came about: written where, or derived from what, down to what somebody wrote."""

from __future__ import annotations

import re
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.nest import RUNNING_STRING
from schematic.engineering.columns import annulus_at_end, emw_kg_per_m3, hydrostatic_pa
from schematic.engineering.volumes import (
    ABOVE,
    LAP,
    LINER,
    LINER_FROM_TOP,
    OPEN_HOLE,
    RATHOLE,
    RUNNING,
    RUNNING_TO_TOP,
    SHOE_TRACK,
    Volume,
)
from schematic.outcome import Figure, MissingInput
from schematic.units import System, UnitError, parse, show
from schematic.wellfile import path as paths
from schematic.wellfile import tree
from schematic.wellfile.read import Document

_DEEPEST = 8
_SAME_DEPTH_M = 1e-6  # one depth in two units differs by less


def explain(document: Document, evaluation: Evaluation, path: str, system: System) -> str | None:
    """The explanation of a path such as "liner.top" or "volumes.open hole"; None when it is unknown."""
    wanted = _spell(path)
    if wanted.startswith("volumes."):
        return _volume(evaluation, wanted.removeprefix("volumes."), system)
    if wanted.startswith(_AT):
        return _path_at(evaluation, wanted.removeprefix(_AT), system)
    if wanted.startswith(_STATIC):
        return _static_emw_at(evaluation, wanted.removeprefix(_STATIC), system)
    if wanted in _COMPUTED:
        return _COMPUTED[wanted](evaluation, system)
    lines = _lines(document, evaluation, wanted, system, 0)
    return "\n".join(lines) if lines else None


def why_not(evaluation: Evaluation, path: str, system: System) -> str | None:
    """Why a value at a depth cannot be told, and what to write; None for a path that asks at no depth."""
    wanted = _spell(path)
    asked = re.fullmatch(r"(?P<what>tvd|(?:static )?emw)(?: at)?(?: (?P<depth>\S*[0-9].*))?", wanted)
    if asked is None:
        return None
    what, depth = "tvd at" if asked["what"] == "tvd" else "static emw at", asked["depth"]
    bottom = evaluation.plan.depth.td_md_m
    example = f"write it like '{what} {show(bottom, 'depth', system)}'"
    if depth is None:
        return f"it asks at no depth: {example}"
    try:
        md_m = parse(depth, "length").si
    except UnitError as error:
        return f"{error.found!r} is not {error.accepted}; {error.mend}"
    if md_m > bottom + _SAME_DEPTH_M:
        where = "is below the bottom of the hole"
    elif md_m < 0.0:
        where = "is above the datum"
    elif md_m == 0.0 and what != "tvd at":
        where = "has no column above it"
    else:
        return f"write '{what} {depth}'"
    return f"{depth} {where}: write a measured depth from 0 to {show(bottom, 'depth', system)}"


def known(evaluation: Evaluation) -> tuple[str, ...]:
    """Paths that can be explained beside those that stand in the file."""
    names = dict.fromkeys(f"volumes.{space.name}" for space in evaluation.volumes.spaces)
    computed = [path for path, say in _COMPUTED.items() if say(evaluation, evaluation.plan.identity.system)]
    return (*(derivation.path for derivation in evaluation.plan.derivations), *names, *computed)


def _spell(path: str) -> str:
    return " ".join(path.replace("_", " ").split()).strip()


def _lines(document: Document, evaluation: Evaluation, path: str, system: System, depth: int) -> list[str]:
    indent = "  " * depth
    written = _written(document, path)
    if written is not None:
        return [f"{indent}{path} = {written}"]
    derived = next((d for d in evaluation.plan.derivations if d.path == path), None)
    if derived is None:
        return []
    lines = [f"{indent}{path} = {show(derived.si, derived.kind, system)}", f"{indent}  {derived.how}"]
    for name, si, kind in derived.inputs:
        below = _lines(document, evaluation, name, system, depth + 2) if depth < _DEEPEST else []
        lines += below or [f"{indent}    {name} = {show(si, kind, system)}"]
    return lines


def _written(document: Document, path: str) -> str | None:
    try:
        node = paths.find(document.root, path)
    except paths.PathError:
        return None
    if isinstance(node, tree.Scalar):
        return f"{node.value}, written in line {node.line}"
    return f"written from line {node.line} on"


class Piece(NamedTuple):
    """A stretch of a space of one cross-section: where it is, its ends, its area."""

    where: str
    top_md_m: float
    bottom_md_m: float
    area_m2: float


VOLUME_FORMULA = "integral of the area over measured depth: bore pi/4 d^2, annulus pi/4 (D^2 - d^2)"


def pieces(evaluation: Evaluation, space: Volume) -> tuple[Piece, ...]:
    """The stretches that a space is the sum of, from the inside out and from the top down."""
    liner = evaluation.plan.depth.liner.name
    inner = {ABOVE: RUNNING_STRING, LAP: liner, OPEN_HOLE: liner}.get(space.name, "")
    return tuple(
        Piece(
            f"outside {one.inner}, in {one.outer}" if one.inner else f"bore of {one.outer}", top, bottom, area
        )
        for one in evaluation.nest.spaces()
        if one.inner == inner
        for top, bottom, area in one.area_m2.clip(space.top_md_m, space.bottom_md_m).steps()
    )


def _volume(evaluation: Evaluation, name: str, system: System) -> str | None:
    spaces = [space for space in evaluation.volumes.spaces if space.name == name]
    if not spaces:
        return None
    total = Figure(sum(space.m3 for space in spaces), "volume")
    lines = [f"volumes.{name} = {show(total.si, total.kind, system)}", f"  {VOLUME_FORMULA}"]
    for space in spaces:
        lines.append(
            f"  {show(space.top_md_m, 'tally', system)} to {show(space.bottom_md_m, 'tally', system)}: "
            f"{show(space.m3, 'volume', system)}"
        )
        lines += [
            f"    {one.where}: {show(one.area_m2, 'area', system)} over "
            f"{show(one.bottom_md_m - one.top_md_m, 'tally', system)}"
            for one in pieces(evaluation, space)
        ]
    lines += [f"  {note}" for note in evaluation.volumes.notes]
    return "\n".join(lines)


_AT, _STATIC = "tvd at ", "static emw at "


def _depth_of(evaluation: Evaluation, depth: str) -> float | None:
    """A measured depth as it was asked for; None for a text that is no depth of this well."""
    try:
        md_m = parse(depth, "length").si
    except UnitError:
        return None
    return md_m if 0.0 <= md_m <= evaluation.plan.depth.td_md_m + _SAME_DEPTH_M else None


def _static_emw_at(evaluation: Evaluation, depth: str, system: System) -> str | None:
    """What stands above a depth outside the string when displacement ends, and what it weighs there."""
    md_m = _depth_of(evaluation, depth)
    if not md_m:
        return None
    plan = evaluation.plan
    if evaluation.cement is None:
        needs = next((one.needs for one in evaluation.missing if one.what == "cement"), ())
        return f"static emw at {depth}: not computed, needs {', '.join(needs)}"
    try:
        layers = annulus_at_end(plan, evaluation.volumes, evaluation.cement)
    except MissingInput as error:
        return f"static emw at {depth}: not computed, needs {', '.join(error.missing)}"
    path = plan.depth.path
    tvd, total = path.tvd_m(md_m), hydrostatic_pa(layers, path, md_m)
    emw = emw_kg_per_m3(layers, path, md_m)
    assert emw is not None
    lines = [
        f"static emw at {depth} = {show(emw, 'emw', system)}",
        "  outside the string when displacement ends, cement as planned, at rest, no pressure at surface",
        f"  {show(total, 'pressure', system)} over {show(tvd, 'tally', system)} of true vertical depth",
    ]
    for layer in layers:
        bottom = min(layer.bottom_md_m, md_m)
        if layer.top_md_m < bottom:
            height = path.tvd_m(bottom) - path.tvd_m(layer.top_md_m)
            weight = hydrostatic_pa(layers, path, bottom) - hydrostatic_pa(layers, path, layer.top_md_m)
            lines.append(
                f"    {layer.fluid}, {show(layer.density_kg_per_m3, 'density', system)}, "
                f"{show(layer.top_md_m, 'tally', system)} to {show(bottom, 'tally', system)}: "
                f"{show(height, 'tally', system)} high, {show(weight, 'pressure', system)}"
            )
    return "\n".join(lines)


def _path_at(evaluation: Evaluation, depth: str, system: System) -> str | None:
    """Where the well is at a measured depth; None for a text that is no depth of this well."""
    md_m = _depth_of(evaluation, depth)
    if md_m is None:
        return None
    path = evaluation.plan.depth.path
    datum = evaluation.plan.identity.datum
    tvd = path.tvd_m(md_m)
    levels = []
    if datum.height_m is not None:
        levels.append(f"{show(tvd - datum.height_m, 'tally', system)} below {datum.above}")
    if datum.ground_md_m is not None:
        ground = "seabed" if datum.water_depth_m is not None else "ground"
        levels.append(f"{show(tvd - datum.ground_md_m, 'tally', system)} below {ground}")
    below = "" if md_m <= path.last_md_m else "; below the last station the path is straight"
    return "\n".join(
        (
            f"tvd at {depth} = {show(tvd, 'tally', system)}",
            f"  minimum curvature through the survey{below}",
            *([f"    {', '.join(levels)}"] if levels else []),
            f"    inclination {show(path.inclination_rad(md_m), 'angle', system)}, "
            f"azimuth {show(path.azimuth_rad(md_m), 'angle', system)}, "
            f"dogleg {show(path.dogleg_rad_per_m(md_m), 'dogleg', system)}",
        )
    )


def _cement_total(evaluation: Evaluation, system: System) -> str | None:
    cement = evaluation.cement
    if cement is None:
        return None
    lines = [
        f"cement.total = {show(cement.total_m3, 'volume', system)}",
        "  sum of the sections, each with its excess",
    ]
    for section in cement.sections:
        with_excess = f" + {show(section.excess_m3, 'volume', system)} of excess" if section.excess_m3 else ""
        lines.append(
            f"    {section.name}, {section.slurry}, {show(section.top_md_m, 'tally', system)} to "
            f"{show(section.bottom_md_m, 'tally', system)}: {show(section.volume_m3, 'volume', system)}"
            + with_excess
        )
    for slurry in cement.slurries:
        fluid = next(fluid for fluid in evaluation.plan.fluids if fluid.name == slurry.name)
        if fluid.yield_m3_per_kg is None or slurry.cement_kg is None or slurry.sacks is None:
            lines.append(
                f"  {slurry.name}: {show(slurry.volume_m3, 'volume', system)}; no yield given, no sacks"
            )
            continue
        amount = (
            f"{slurry.sacks:.0f} sacks of 94 lb" if system == "field" else f"{slurry.cement_kg / 1000:.1f} t"
        )
        water = (
            ""
            if slurry.mix_water_m3 is None
            else f", mix water {show(slurry.mix_water_m3, 'volume', system)}"
        )
        lines.append(
            f"  {slurry.name}: {show(slurry.volume_m3, 'volume', system)} over "
            f"{show(fluid.yield_m3_per_kg, 'yield', system)} = {amount}{water}"
        )
    return "\n".join(lines)


def _highest_top(evaluation: Evaluation, system: System) -> str | None:
    cement = evaluation.cement
    if cement is None or cement.top_string_in_md_m is None:
        return None
    within = [s for s in cement.sections if s.name in (SHOE_TRACK, RATHOLE)]
    below, inside = dict.fromkeys(s.name for s in within), sum(s.volume_m3 for s in within)
    return "\n".join(
        (
            f"cement.highest top = {show(cement.top_string_in_md_m, 'tally', system)}",
            "  where the cement stands when the hole is as given and nothing is lost, running string in",
            f"    cement.total {show(cement.total_m3, 'volume', system)} less {' and '.join(below)} "
            f"{show(inside, 'volume', system)}, filled from the liner shoe upward",
            f"    of which above the liner top: {show(cement.above_liner_top_m3, 'volume', system)}",
        )
    )


def _bump(evaluation: Evaluation, system: System) -> str | None:
    displaced, volumes = evaluation.displacement, evaluation.volumes
    if displaced is None:
        return None
    lines = [f"displacement.bump = {show(displaced.to_bump_m3, 'volume', system)}"]
    for name in (RUNNING, RUNNING_TO_TOP, LINER, LINER_FROM_TOP):
        volume = volumes.total_m3(name)
        if volume is not None:
            lines.append(f"    volumes.{name} = {show(volume, 'volume', system)}")
    stroke = evaluation.plan.cement.stroke_m3
    if stroke is not None and displaced.to_bump_strokes is not None:
        lines.append(f"  {displaced.to_bump_strokes:.0f} strokes, each of {show(stroke, 'stroke', system)}")
    return "\n".join(lines)


_COMPUTED = {"cement.total": _cement_total, "cement.highest top": _highest_top, "displacement.bump": _bump}
