"""What is otherwise around a liner and of its pipe, in words: pipes, strings, hole, fluids, survey."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.comparison.words import difference
from schematic.depth.plan import CasingString, Depths, Liner
from schematic.outcome import Figure
from schematic.units import System


def _pipes(old: Evaluation, new: Evaluation) -> list[str]:
    """Pipe and connection of liner and strings that are otherwise: grade alone where only the grade is."""

    def tubes(depth: Depths) -> dict[str, Liner | CasingString]:
        return {**{string.name: string for string in depth.strings}, "liner": depth.liner}

    before, said = tubes(old.plan.depth), []
    for name, tube in tubes(new.plan.depth).items():
        if name not in before:
            continue
        bodies = [one.label.removesuffix(f" {one.grade}") for one in (before[name], tube)]
        if before[name].label != tube.label and bodies[0] == bodies[1] and before[name].grade and tube.grade:
            said.append(f"{name} pipe {tube.grade} instead of {before[name].grade}")
        elif before[name].label != tube.label:
            said.append(f"{name} pipe {tube.label} instead of {before[name].label}")
        if before[name].connection != tube.connection:
            pair = [one.connection or "no connection given" for one in (tube, before[name])]
            said.append(f"{name} {pair[0]} instead of {pair[1]}")
    return said


def around(old: Evaluation, new: Evaluation, system: System) -> tuple[str, ...]:
    """Pipes, strings, hole, fluids and survey that came, went, moved or are otherwise."""
    was, now = old.plan.depth, new.plan.depth
    said = _pipes(old, new)
    before, after = ({s.name: s for s in depth.strings} for depth in (was, now))
    said += [f"{name} is new" for name in after if name not in before]
    said += [f"{name} is gone" for name in before if name not in after]
    for name, string in after.items():
        if name in before:
            by = difference(
                Figure(before[name].shoe_md_m, "tally"), Figure(string.shoe_md_m, "tally"), system
            )
            if by:
                way = "deeper" if string.shoe_md_m > before[name].shoe_md_m else "higher"
                said.append(f"shoe of the {name} {by} {way}")
    by = difference(Figure(was.td_md_m, "tally"), Figure(now.td_md_m, "tally"), system)
    if by:
        said.append(f"bottom of the hole {by} {'deeper' if now.td_md_m > was.td_md_m else 'higher'}")
    said += _fluids(old, new, system)
    if was.path.stations != now.path.stations:
        tvd = [one.path.tvd_m(one.liner.shoe_md_m) for one in (was, now)]
        by = difference(Figure(tvd[0], "tvd"), Figure(tvd[1], "tvd"), system)
        said.append(
            _survey(was.path.stations, now.path.stations)
            + (f": the shoe is {by} {'deeper' if tvd[1] > tvd[0] else 'higher'} in TVD" if by else "")
        )
    return tuple(said)


def _survey(was: Sequence[object], now: Sequence[object]) -> str:
    """By how many stations two surveys differ."""
    kept = len(set(was) & set(now))
    if kept == 0:
        return f"another survey ({len(was)} and {len(now)} stations)"
    others = len(now) - kept, len(was) - kept
    told = [
        f"{count} {how}" for count, how in zip(others, ("new or moved", "taken out"), strict=True) if count
    ]
    if len(was) == len(now):
        told = [f"{others[0]} moved"]
    return f"survey with {len(now)} stations, {' and '.join(told)}"


def _fluids(old: Evaluation, new: Evaluation, system: System) -> list[str]:
    before, after = ({f.name: f for f in one.plan.fluids} for one in (old, new))
    said = []
    for name, fluid in after.items():
        if name not in before:
            said.append(f"fluid {name} is new")
            continue
        was = Figure(before[name].density_kg_per_m3, "density")
        now = Figure(fluid.density_kg_per_m3, "density")
        if by := difference(was, now, system):
            said.append(f"{name} {'heavier' if now.si > was.si else 'lighter'} by {by}")
    said += [f"fluid {name} is gone" for name in before if name not in after]
    return said
