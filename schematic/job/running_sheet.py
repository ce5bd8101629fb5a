"""The running sheet: for each joint and stand what goes in, where the shoe is then, what the trip tank gains,
what it takes to fill, and what the weight indicator shows.

With a float that holds, what goes in pushes out all that its outside takes up, and the bore has to be filled
from above: closed end is steel and fill together. With an open end the steel alone pushes mud out. Couplings
of liner joints and centralizers are not counted. After each pick its top stands at the rotary; on depth the
stick-up stands above it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import accumulate
from typing import NamedTuple

from schematic.depth.plan import Plan
from schematic.engineering.volumes import not_given
from schematic.engineering.wall import around
from schematic.job.card import Say
from schematic.job.hook_loads import HookLoad, hook_load
from schematic.job.picks import Pick, Slice, has_float, picks
from schematic.job.running_remarks import Move, remarks
from schematic.outcome import MissingInput, Uncomputed

Areas = Callable[[Slice], float | None]


class Run(NamedTuple):
    """One line of the sheet: a pick, and how things stand when it is in the well. None: see the needs."""

    number: int
    pick: Pick
    so_far_m: float  # of string
    shoe_md_m: float
    closed_m3: float | None  # pushed out by this pick, end closed
    closed_so_far_m3: float | None
    steel_m3: float | None
    steel_so_far_m3: float | None
    fill_m3: float | None  # to fill this pick's bore
    fill_so_far_m3: float | None
    hook: HookLoad | None  # without the block; slacking off nought where it does not go in by itself
    speed_m_per_s: float | None  # at most; None: not given
    remarks: tuple[Say, ...]


class RunningSheet(NamedTuple):
    """The lines in the order of running, what is not computed, and what a reader has to know."""

    runs: tuple[Run, ...]
    closed_end: bool  # the liner has floats
    block_n: float | None
    missing: tuple[Uncomputed, ...]
    notes: tuple[str, ...]


def running_sheet(plan: Plan) -> RunningSheet:
    """The running sheet of a plan. What an input is missing for is left out and named."""
    depth = plan.depth
    made = picks(depth)
    needs: dict[str, list[str]] = {}
    stick_up = depth.running.stick_up_m if depth.running else 0.0
    total = sum(pick.length_m for pick in made)
    so_far = list(accumulate(pick.length_m for pick in made))
    shoes = [min(length, max(total - stick_up, 0.0)) for length in so_far]
    closed = _below_rotary(made, shoes, lambda one: one.outside_m2, inner=False)
    steel = _below_rotary(made, shoes, _steel_m2, inner=True)
    hook_at = _hooks(plan, needs)
    runs: list[Run] = []
    before: tuple[float | None, ...] = (0.0, 0.0, 0.0)
    for n, pick in enumerate(made):
        last = n == len(made) - 1
        move = Move(pick, shoes[n - 1] if n else 0.0, shoes[n], None if last else shoes[n + 1], n == 0)
        inside = _less(closed[n], steel[n])
        now = closed[n], steel[n], inside
        each = [_less(value, was) for value, was in zip(now, before, strict=True)]
        runs.append(
            Run(
                n + 1,
                pick,
                so_far[n],
                shoes[n],
                each[0],
                closed[n],
                each[1],
                steel[n],
                each[2],
                inside,
                hook_at(shoes[n]),
                plan.job.running_speed_m_per_s[shoes[n] > depth.host.shoe_md_m],
                remarks(plan, move),
            )
        )
        before = now
    return RunningSheet(
        tuple(runs),
        any(has_float(part) for part in depth.liner.parts),
        plan.job.block_weight_n,
        _missing(plan, made, needs),
        (*not_given(depth), *_notes(plan, made, total - stick_up)),
    )


def _steel_m2(one: Slice) -> float | None:
    return _less(one.outside_m2, one.inside_m2)


def _less(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one - other


def _below_rotary(
    made: Iterable[Pick], shoes_m: list[float], area_of: Areas, *, inner: bool
) -> list[float | None]:
    """Volume in the well after each pick, in m3; None from the first slice on whose area is not known."""
    found: list[float | None] = []
    volume: float | None = 0.0
    run_m = 0.0
    for pick, shoe in zip(made, shoes_m, strict=True):
        for one in (*pick.slices, *(pick.inner if inner else ())):
            area = area_of(one)
            volume = None if volume is None or area is None else volume + area * one.length_m
        run_m += pick.length_m
        out_m, above = max(run_m - shoe, 0.0), 0.0  # what of the last slices stands above the rotary
        for one in reversed(pick.slices):
            length = min(out_m, one.length_m)
            above += length * (area_of(one) or 0.0)
            out_m -= length
        found.append(None if volume is None else volume - above)
    return found


def _hooks(plan: Plan, needs: dict[str, list[str]]) -> Callable[[float], HookLoad | None]:
    """The hook load with the shoe at a depth, or None, what it lacks being added to *needs*."""
    lacks = needs.setdefault("hook loads", [])
    try:
        surroundings = around(plan)
    except MissingInput as error:
        lacks.extend(error.missing)
        return lambda _shoe_md_m: None

    def at(shoe_md_m: float) -> HookLoad | None:
        try:
            return hook_load(plan, shoe_md_m, surroundings=surroundings)
        except MissingInput as error:
            lacks.extend(error.missing)
            return None

    return at


def _missing(plan: Plan, made: Iterable[Pick], needs: dict[str, list[str]]) -> tuple[Uncomputed, ...]:
    if plan.depth.running is None:
        needs["running string"] = ["running string"]
    if plan.job.friction is None and not needs["hook loads"]:
        needs["hook loads moving"] = ["installation.friction"]
    if plan.job.block_weight_n is None:
        needs["weight of the block in hook loads"] = ["installation.block weight"]
    for pick in made:
        if pick.needs:
            needs.setdefault("single stands", []).append(pick.needs)
        lacks = [name for one in (*pick.slices, *pick.inner) for name in one.lacks]
        if lacks:
            needs.setdefault("displacement and fill", []).extend(lacks)
    if plan.job.running_speed_m_per_s == (None, None):
        needs["speed limit"] = ["installation.running speed"]
    return tuple(Uncomputed(what, tuple(dict.fromkeys(names))) for what, names in needs.items() if names)


def _notes(plan: Plan, made: Iterable[Pick], end_md_m: float) -> tuple[str, ...]:
    notes = ["the assembly of the liner is assumed"] if plan.depth.liner.assembly_assumed else []
    if any(pick.average for pick in made):
        notes.append("joints are as long as the average of their line: the tally on the rack rules")
    if plan.depth.running is not None and abs(end_md_m - plan.depth.liner.shoe_md_m) > 0.01:
        notes.append("the parts do not add up to the shoe: see the findings about the tally")
    return tuple(notes)
