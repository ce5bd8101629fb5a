"""How a value came about: written where, or derived from what, down to what somebody wrote."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.depth.nest import RUNNING_STRING
from schematic.engineering.volumes import ABOVE, LAP, OPEN_HOLE
from schematic.outcome import Figure
from schematic.units import System, show
from schematic.wellfile import path as paths
from schematic.wellfile import tree
from schematic.wellfile.read import Document

_DEEPEST = 8


def explain(document: Document, evaluation: Evaluation, path: str, system: System) -> str | None:
    """The explanation of a path such as "liner.top" or "volumes.open hole"; None when it is unknown."""
    wanted = _spell(path)
    if wanted.startswith("volumes."):
        return _volume(evaluation, wanted.removeprefix("volumes."), system)
    lines = _lines(document, evaluation, wanted, system, 0)
    return "\n".join(lines) if lines else None


def known(evaluation: Evaluation) -> tuple[str, ...]:
    """Paths that can be explained beside those that stand in the file."""
    names = dict.fromkeys(f"volumes.{space.name}" for space in evaluation.volumes.spaces)
    return (*(derivation.path for derivation in evaluation.plan.derivations), *names)


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


def _volume(evaluation: Evaluation, name: str, system: System) -> str | None:
    spaces = [space for space in evaluation.volumes.spaces if space.name == name]
    if not spaces:
        return None
    total = Figure(sum(space.m3 for space in spaces), "volume")
    lines = [f"volumes.{name} = {show(total.si, total.kind, system)}"]
    liner = evaluation.plan.depth.liner.name
    inner = {ABOVE: RUNNING_STRING, LAP: liner, OPEN_HOLE: liner}.get(name, "")
    areas = [one for one in evaluation.nest.spaces() if one.inner == inner]
    lines.append("  integral of the area over measured depth: bore pi/4 d2, annulus pi/4 (D2 - d2)")
    for space in spaces:
        lines.append(
            f"  {show(space.top_md_m, 'tally', system)} to {show(space.bottom_md_m, 'tally', system)}: "
            f"{show(space.m3, 'volume', system)}"
        )
        for one in areas:
            piece = one.area_m2.clip(space.top_md_m, space.bottom_md_m)
            where = f"outside {one.inner}, in {one.outer}" if one.inner else f"bore of {one.outer}"
            lines += [
                f"    {where}: {show(area, 'area', system)} over {show(bottom - top, 'tally', system)}"
                for top, bottom, area in piece.steps()
            ]
    lines += [f"  {note}" for note in evaluation.volumes.notes]
    return "\n".join(lines)
