"""What the section of a deviated well names: every event once, with its measured depth."""

from __future__ import annotations

from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.section import Bend, bends_over, end_of_build_md_m, greatest_bend, kick_off_md_m
from schematic.drawing.captions import THIN
from schematic.units import System, inch_name, number, show

_SAME_MD_M = 0.005
_MOST_BENDS = 3  # over the limit and named: the sharpest


class Event(NamedTuple):
    """Something of the path that has a name and a depth; *wanted*: a drawing without it is not whole."""

    part: str
    words: tuple[str, ...]  # a line each
    md_m: float
    bold: bool
    wanted: bool


def events(evaluation: Evaluation, system: System) -> list[Event]:
    """What is named, from the top down."""
    plan = evaluation.plan
    depth, liner, host = plan.depth, plan.depth.liner, plan.depth.host
    bottom = max(depth.td_md_m, liner.shoe_md_m)

    def event(part: str, words: str, md: float, *, bold: bool = False, wanted: bool = True) -> Event:
        return Event(part, (f"{words} {number(md, 'depth', system, THIN)}",), md, bold, wanted)

    planned = plan.cement.planned_top_md_m
    at_top = planned is not None and abs(planned - liner.top_md_m) < _SAME_MD_M
    found = [
        event("liner", "liner top, top of cement" if at_top else "liner top", liner.top_md_m, bold=True),
        event("liner.shoe", "liner shoe", liner.shoe_md_m, bold=True),
        event(host.path, "host shoe", host.shoe_md_m),
        *_of_the_path(evaluation, bottom, system),
    ]
    if depth.td_md_m > liner.shoe_md_m + _SAME_MD_M:
        found.append(event("hole", "bottom", depth.td_md_m))
    if planned is not None and not at_top:
        found.append(event("cement.planned top", "top of cement", planned))
    for string in depth.strings:
        inches = inch_name(string.od_m)
        size = f"{inches} in" if inches else show(string.od_m, "diameter", system)
        if string != host:
            found.append(event(string.path, f"{size} shoe", string.shoe_md_m, wanted=False))
        top = string.cement_top_md_m
        if top is not None and top > max(string.top_md_m, plan.identity.datum.ground_md_m or 0.0) + 1.0:
            found.append(event(f"{string.path}.cement.top", f"{size} cement top", top, wanted=False))
    found += [
        event("formation", top.name, top.md_m, wanted=False)
        for top in plan.formation.tops
        if top.md_m < bottom
    ]
    return sorted(found, key=lambda one: one.md_m)


def _of_the_path(evaluation: Evaluation, bottom_md_m: float, system: System) -> list[Event]:
    """Kick-off, end of build, the sharpest bend; bends over the limit that the file gives."""
    path, limit = evaluation.plan.depth.path, evaluation.plan.job.dogleg_limit_rad_per_m
    found: list[Event] = []
    kick, held = kick_off_md_m(path), end_of_build_md_m(path)
    sharpest = greatest_bend(path, bottom_md_m)
    from_kick_off = sharpest is not None and kick is not None and sharpest.top_md_m == kick
    if kick is not None and kick < bottom_md_m:
        words = [f"kick-off {number(kick, 'depth', system, THIN)}"]
        if sharpest is not None and from_kick_off:
            words.append(f"greatest dogleg {_dogleg(sharpest, system)}")
        found.append(Event("survey", tuple(words), kick, False, True))
    if held is not None and held < bottom_md_m:
        lean = number(path.inclination_rad(held), "inclination", system)
        held_words = f"{lean}\u00b0 from {number(held, 'depth', system, THIN)}"
        found.append(Event("survey", (held_words,), held, False, True))
    if sharpest is not None and not from_kick_off:
        found.append(_bend("greatest dogleg", sharpest, system, wanted=True))
    over = bends_over(path, bottom_md_m, limit) if limit is not None else ()
    others = [bend for bend in over if sharpest is None or bend.top_md_m != sharpest.top_md_m]
    others.sort(key=lambda bend: -bend.dogleg_rad_per_m)
    found += [_bend("dogleg over limit", bend, system, wanted=True) for bend in others[:_MOST_BENDS]]
    return found


def _dogleg(bend: Bend, system: System) -> str:
    return show(bend.dogleg_rad_per_m, "dogleg", system).replace(" deg/", "\u00b0/")


def _bend(name: str, bend: Bend, system: System, *, wanted: bool) -> Event:
    """A bend, named in its middle with the depths between which it is."""
    ends = " to ".join(number(md, "depth", system, THIN) for md in (bend.top_md_m, bend.bottom_md_m))
    middle = 0.5 * (bend.top_md_m + bend.bottom_md_m)
    return Event("survey", (f"{name} {_dogleg(bend, system)}", ends), middle, False, wanted)
