"""What a hand has to know at a line of the running sheet: places that the shoe and the hanger come to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from schematic.depth.plan import Plan
from schematic.job.card import Say
from schematic.job.picks import Pick, has_float
from schematic.outcome import Figure

_TOLD = ("gas", "oil", "fresh water")  # fluids of the rock that are told when the shoe comes to them


class Move(NamedTuple):
    """A pick on its way in: from and to which depth it brings the shoe, and to which the next one does."""

    pick: Pick
    from_md_m: float
    to_md_m: float
    next_md_m: float | None  # None: it is the last
    first: bool


def remarks(plan: Plan, move: Move) -> tuple[Say, ...]:
    """The remarks of one line, in the order in which the places come."""
    return (*_made_up(plan, move), *_reached(plan, move), *_landed(plan, move))


def _made_up(plan: Plan, move: Move) -> Iterator[Say]:
    """What is done when it is picked up."""
    liner = plan.depth.liner
    mine = [part for part in liner.parts if part.path in move.pick.paths]
    floats = [part.path for part in reversed(liner.parts) if has_float(part)]
    if any(part.path in floats for part in mine):
        fill = "; fill joint by joint from here" if mine[0].path == floats[0] else ""
        yield Say(f"pump through the float and see that it holds{fill}")
    elif move.first and not floats:
        yield Say("no float: it fills by itself")
    if move.pick.section == "hanger assembly":
        yield Say("note the weight of the liner alone before picking up; no rotation in the slips")
    if move.pick.inner:
        yield Say("see that the tool is made up and the receptacle filled")


def _crosses(move: Move, md_m: float, ahead_m: float = 0.0) -> bool:
    """Whether a place comes to be passed by what stands so far above the shoe."""
    return move.from_md_m - ahead_m < md_m <= move.to_md_m - ahead_m


def _reached(plan: Plan, move: Move) -> Iterator[Say]:
    """Places that the shoe or the hanger assembly comes to."""
    depth = plan.depth
    top = [p for p in depth.liner.parts if p.kind in ("liner hanger", "liner top packer")]
    hanger = max(top, key=lambda part: part.bottom_md_m, default=None)
    ahead = depth.liner.shoe_md_m - hanger.bottom_md_m if hanger else 0.0
    for string in depth.strings:
        if string.top_md_m <= 0.0 or string.top_md_m >= depth.liner.shoe_md_m:
            continue
        figures: dict[str, Figure | str] = {"name": string.name, "at": Figure(string.top_md_m, "depth")}
        if _crosses(move, string.top_md_m):
            yield Say("shoe enters the {name} top at {at}: slow", figures)
        if hanger is not None and _crosses(move, string.top_md_m, ahead):
            yield Say("{part} enters the {name} top at {at}: slow", {**figures, "part": hanger.name})
    for top_md, bottom_md, dogleg in bends(plan):
        bend: dict[str, Figure | str] = {
            "bend": Figure(dogleg, "dogleg"),
            "from": Figure(top_md, "depth"),
            "to": Figure(bottom_md, "depth"),
        }
        if _crosses(move, top_md):
            yield Say("shoe enters a bend of up to {bend}, {from} to {to}", bend)
        if hanger is not None and _crosses(move, top_md, ahead):
            yield Say("{part} enters the bend at {from}: slow", {**bend, "part": hanger.name})
    yield from _open_hole(plan, move)


def bends(plan: Plan) -> tuple[tuple[float, float, float], ...]:
    """Where the hole bends more than the tool's limit, else than is wanted at a hanger: ends, greatest."""
    path, limit = plan.depth.path, plan.job.dogleg_limit_rad_per_m
    limit = plan.limits["greatest dogleg at hanger"].si if limit is None else limit
    found: list[tuple[float, float, float]] = []
    ends = zip(path.stations, path.stations[1:], strict=False)
    for (top, _inc, _azi), (bottom, _inc2, _azi2) in ends:
        dogleg = path.dogleg_rad_per_m(top)
        if dogleg <= limit * (1.0 + 1e-9):
            continue
        if found and found[-1][1] == top:
            found[-1] = found[-1][0], bottom, max(found[-1][2], dogleg)
        else:
            found.append((top, bottom, dogleg))
    return tuple(found)


def _open_hole(plan: Plan, move: Move) -> Iterator[Say]:
    depth = plan.depth
    host, shoe = depth.host.shoe_md_m, depth.liner.shoe_md_m
    if move.next_md_m is not None and move.to_md_m <= host < move.next_md_m:
        yield Say(
            "last in casing, {left} above the host shoe at {at}: circulate bottoms up, note hook loads and "
            "pressure; below it open hole",
            {"left": Figure(host - move.to_md_m, "length"), "at": Figure(host, "depth")},
        )
    below = [p for p in plan.formation.pressures if p.fracture_kg_per_m3 and host - 1.0 <= p.md_m <= shoe]
    weakest = min(below, key=lambda point: point.fracture_kg_per_m3 or 0.0, default=None)
    if weakest is not None and _crosses(move, weakest.md_m):
        emw = Figure(weakest.fracture_kg_per_m3 or 0.0, "emw")
        yield Say("weakest rock known, {emw} at {at}", {"emw": emw, "at": Figure(weakest.md_m, "depth")})
    for top in plan.formation.tops:
        if not (host < top.md_m <= shoe and _crosses(move, top.md_m)):
            continue
        figures: dict[str, Figure | str] = {"name": top.name, "at": Figure(top.md_m, "depth")}
        fluid = f", {top.fluid}" if top.fluid in _TOLD and top.fluid not in top.name else ""
        if top.pore_kg_per_m3 is not None:
            pore = Figure(top.pore_kg_per_m3, "emw")
            yield Say(
                "shoe at {name}{fluid}, pore {pore}, from {at}", {**figures, "fluid": fluid, "pore": pore}
            )
        elif top.fluid in _TOLD:
            yield Say("shoe at {name}{fluid}, from {at}", {**figures, "fluid": fluid})


def _landed(plan: Plan, move: Move) -> Iterator[Say]:
    """What is done with the last pick."""
    depth = plan.depth
    if move.next_md_m is not None or depth.running is None:
        return
    rathole = depth.td_md_m - depth.liner.shoe_md_m
    figures: dict[str, Figure | str] = {
        "shoe": Figure(depth.liner.shoe_md_m, "depth"),
        "off": Figure(rathole, "length"),
        "up": Figure(depth.running.stick_up_m, "length"),
    }
    yield Say("wash down; on depth with the shoe at {shoe}, {off} off bottom, {up} above the rotary", figures)
