"""Details across the well at one depth, true both ways: the liner in its hole, the hanger in its host.

Only what the file gives is drawn. Where it gives no centralizers, couplings lie on the low side.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.nest import circle_m2
from schematic.depth.plan import HoleSection, LinerPart
from schematic.depth.section import LEANS_RAD
from schematic.drawing.across_layout import Callout, Stage, callouts, stage
from schematic.drawing.captions import THIN
from schematic.drawing.circles import circle, dots_between
from schematic.drawing.circles import rock as rock_ring
from schematic.drawing.column import JOB_DOT_MM, SLURRY_PITCH_MM
from schematic.drawing.fills import Rect
from schematic.drawing.frame import block_m
from schematic.drawing.palette import BLACK, BLUE, ESTIMATED_DASH_MM, FINE_MM, GREEN, OUTLINE_MM, WHITE
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Style
from schematic.units import System, number, show, unit_of

_ROCK_MM = 2.3
_HIGH_MM = 3.2  # half of the arrow to the high side
_NAMES = {"caliper": "by caliper", "washout": "washed out", "gauge": "as drilled"}
_HOLE_TITLES = ("Across the hole", "Across")
_HANGER_TITLES = ("Across the hanger", "Hanger across", "Hanger")


class Lying(NamedTuple):
    """Pipe in a leaning hole: where it is cut and how it lies there."""

    md_m: float
    hole: HoleSection
    hole_m: float
    between_m: tuple[float, float]  # least and greatest diameter of the hole there
    od_m: float
    id_m: float
    coupling_m: float | None

    @property
    def below_m(self) -> float:
        """From the pipe to the low side: half of what the coupling is wider; nought where it is not known."""
        return 0.5 * ((self.coupling_m or self.od_m) - self.od_m)

    @property
    def above_m(self) -> float:
        """From the pipe to the high side."""
        return self.hole_m - self.od_m - self.below_m


def lying(evaluation: Evaluation, system: System) -> Lying | None:
    """The cut in the middle of the open hole, at a round depth; None where the hole does not lean there.

    None as well where the liner stands in no open hole, or is wider than its hole.
    """
    depth = evaluation.plan.depth
    liner = depth.liner
    top, bottom = max(depth.host.shoe_md_m, liner.top_md_m), min(liner.shoe_md_m, depth.td_md_m)
    if bottom <= top:
        return None
    middle = 0.5 * (top + bottom)
    step = block_m(system, bottom)
    while step > 0.2 * (bottom - top):
        step /= 10.0
    md = round(middle / step) * step
    section = next((s for s in depth.hole.sections if s.top_md_m <= md <= s.bottom_md_m), None)
    if section is None or depth.path.inclination_rad(md) <= LEANS_RAD:
        return None
    joint = next((p for p in liner.parts if p.top_md_m <= md <= p.bottom_md_m and p.kind == "joint"), None)
    od, bore = (joint.od_m if joint else None) or liner.od_m, (joint.id_m if joint else None) or liner.id_m
    coupling = (joint.coupling_od_m if joint else None) or liner.coupling_od_m
    hole = depth.hole
    between = (hole.least_m.at(md), hole.greatest_m.at(md))
    found = Lying(md, section, hole.diameter_m.at(md), between, od, bore, coupling)
    return found if found.above_m > 0.0 else None


def across_hole(evaluation: Evaluation, rect: Rect, system: System, letter: str) -> list[Group]:
    """The liner in its leaning hole, high side up; nothing for a hole that stands upright there."""
    cut = lying(evaluation, system)
    if cut is None:
        return []
    depth = evaluation.plan.depth
    given = any(part.kind == "centralizer" for part in depth.liner.parts)
    if given:
        words = "Centralizers are given, their stand-off is not: drawn without, on the low side"
    elif cut.coupling_m is None:
        words = "No centralizers given, nor the coupling OD: pipe on low side"
    else:
        words = "No centralizers given: couplings on low side"
    lean = number(depth.path.inclination_rad(cut.md_m), "inclination", system)
    slurry = _slurry(evaluation, cut.md_m)
    if cut.hole.washout:
        words += f". {cut.hole.washout}, as stated in the file"
    words += f". Inclination {lean}\u00b0, high side up" + (
        f"; cement as planned: {slurry}." if slurry else "."
    )
    names = _hole_names(cut, system)
    where = number(cut.md_m, "depth", system, THIN)
    place = stage(rect, letter, _HOLE_TITLES, where, cut.hole_m, _ROCK_MM, names, words, system)
    if place is None:
        return []
    foot = place.centre[1] + 0.5 * place.mm(cut.hole_m)
    pipe = (place.centre[0], foot - place.mm(cut.below_m) - 0.5 * place.mm(cut.od_m))
    hole = [
        rock_ring(place.centre, 0.5 * place.mm(cut.hole_m), _ROCK_MM),
        Path(
            (circle(place.centre, 0.5 * place.mm(cut.hole_m), wavy=cut.hole.basis != "gauge"),),
            Style(stroke=BLACK, width_mm=OUTLINE_MM, join="round"),
            closed=True,
        ),
    ]
    groups = [place.heading, Group("hole", "Hole across", tuple(hole))]
    if slurry:
        wall, body = (place.centre, 0.5 * place.mm(cut.hole_m)), (pipe, 0.5 * place.mm(cut.od_m))
        spots = dots_between(wall, body, _pitch(evaluation, slurry), JOB_DOT_MM, 0.2)
        groups.append(Group("cement", f"Cement: {slurry}", (Dots(spots, JOB_DOT_MM, Style(fill=GREEN)),)))
    steel: list[Shape] = [_steel(pipe, place, cut.od_m, cut.id_m)]
    if cut.coupling_m is not None:
        dashed = Style(stroke=BLACK, width_mm=FINE_MM, dash=ESTIMATED_DASH_MM)
        steel.append(Path((circle(pipe, 0.5 * place.mm(cut.coupling_m)),), dashed, closed=True))
    steel.append(_high_side(pipe, 0.5 * place.mm(cut.id_m)))
    groups.append(Group("liner", "Liner across", tuple(steel)))
    x, radius = place.centre[0], 0.5 * place.mm(cut.od_m)
    top = place.centre[1] - 0.5 * place.mm(cut.hole_m)
    groups.append(_gap(x, top, pipe[1] - radius))
    if cut.below_m > 0.0:
        groups.append(_gap(x, pipe[1] + radius, foot))
    reach = 0.5 * place.mm(cut.coupling_m or cut.od_m)
    ends = {
        "hole": _at(place.centre, 0.5 * place.mm(cut.hole_m), -50.0),
        "above": (x, 0.5 * (top + pipe[1] - radius)),
        "pipe": _at(pipe, radius, -12.0),
        "coupling": _at(pipe, reach, 25.0),
        "below": (x, 0.5 * (pipe[1] + radius + foot)),
    }
    return [*groups, *callouts(place, names, ends)]


def _hole_names(cut: Lying, system: System) -> list[Callout]:
    """What the cut through the hole says, from the top down."""

    def told(value: float) -> str:
        return number(value, "diameter", system)

    hole = cut.hole
    how = f"{_NAMES[hole.basis]}, bit {told(hole.bit_m)}" if hole.basis != "gauge" else _NAMES[hole.basis]
    if hole.size_m != hole.bit_m:
        how = f"bit {told(hole.bit_m)}, opened {told(hole.size_m)}"
    low, high = cut.between_m
    if told(low) != told(high):
        how = f"{_NAMES[hole.basis]}, {told(low)} to {told(high)}"
    names = [
        Callout("hole", "hole", f"hole {told(cut.hole_m)}", how),
        Callout("above", "hole", f"gap above {number(cut.above_m, 'gap', system)}", "", bold=True),
        Callout("pipe", "liner", f"pipe {told(cut.od_m)}", f"bore {told(cut.id_m)}", bold=True, blue=True),
    ]
    if cut.coupling_m is not None:
        names.append(Callout("coupling", "liner", f"coupling {told(cut.coupling_m)}", ""))
    if cut.below_m > 0.0:
        names.append(
            Callout("below", "hole", f"gap below {number(cut.below_m, 'gap', system)}", "", bold=True)
        )
    return names


def across_hanger(evaluation: Evaluation, rect: Rect, system: System, letter: str) -> list[Group]:
    """The hanger centred in its host and what is open past it; nothing where its OD is not given."""
    depth = evaluation.plan.depth
    host, hanger = depth.host, depth.liner.find("liner hanger")
    if hanger is None or hanger.od_m is None or hanger.od_m >= host.id_m:
        return []
    names = _hanger_names(evaluation, hanger, system)
    words = "Drawn centred in the host"
    if hanger.slips_md_m is not None:
        low, high = (number(md, "tally", system, THIN) for md in hanger.slips_md_m)
        words += f"; slips from {low} to {high}: how much of the ring they fill is not given."
    else:
        words += "; slips not given."
    if depth.path.inclination_rad(hanger.top_md_m) > LEANS_RAD:
        lean = number(depth.path.inclination_rad(hanger.top_md_m), "inclination", system)
        words += f" Inclination {lean}\u00b0, high side up."
    where = number(hanger.top_md_m, "tally", system, THIN)
    place = stage(
        rect,
        letter,
        _HANGER_TITLES,
        where,
        host.od_m,
        0.4,
        names,
        words,
        system,
    )
    if place is None:
        return []
    outer, bore = 0.5 * place.mm(host.od_m), 0.5 * place.mm(host.id_m)
    old: list[Shape] = [
        Path((circle(place.centre, outer),), Style(stroke=BLACK, width_mm=OUTLINE_MM), closed=True),
        Path((circle(place.centre, bore),), Style(stroke=BLACK, width_mm=FINE_MM), closed=True),
    ]
    body: list[Shape] = [_steel(place.centre, place, hanger.od_m, hanger.id_m)]
    if depth.path.inclination_rad(hanger.top_md_m) > LEANS_RAD:
        body.append(_high_side(place.centre, 0.5 * place.mm(hanger.id_m or 0.0)))
    edge = 0.5 * place.mm(hanger.od_m)
    ends = {
        "host": _at(place.centre, bore, -50.0),
        "hanger": _at(place.centre, edge, -15.0),
        "gap": _at(place.centre, 0.5 * (bore + edge), 15.0),
        "past": _at(place.centre, 0.5 * (bore + edge), 50.0),
    }
    return [
        place.heading,
        Group(host.path, f"{host.name} across", tuple(old)),
        Group("liner.hanger", "Hanger across", tuple(body)),
        *callouts(place, names, ends),
    ]


def _hanger_names(evaluation: Evaluation, hanger: LinerPart, system: System) -> list[Callout]:
    """What the cut through the hanger says, from the top down."""
    depth = evaluation.plan.depth
    host, liner = depth.host, depth.liner
    assert hanger.od_m is not None

    def told(value: float) -> str:
        return number(value, "diameter", system)

    open_m2 = circle_m2(host.id_m) - circle_m2(hanger.od_m)
    beside_m2 = circle_m2(host.id_m) - circle_m2(liner.od_m)
    share = f"{show(open_m2 / beside_m2, 'percent', system)} of that beside the pipe" if beside_m2 > 0 else ""
    unit = unit_of("area", system).replace("2", "\u00b2")
    passes = host.passes_m
    drift = f"drift {told(passes)}" if passes is not None else "drift not given"
    if passes != host.drift_m:
        drift = f"special {drift}"
    bore = f"bore {told(hanger.id_m)}" if hanger.id_m is not None else "bore not given"
    return [
        Callout("host", host.path, f"host bore {told(host.id_m)}", drift),
        Callout("hanger", "liner.hanger", f"hanger {told(hanger.od_m)}", bore, bold=True, blue=True),
        Callout(
            "gap",
            "liner.hanger",
            f"gap {number(0.5 * (host.id_m - hanger.od_m), 'gap', system)} a side",
            "to the bore",
        ),
        Callout("past", host.path, f"by-pass {number(open_m2, 'area', system)} {unit}", share, bold=True),
    ]


def _steel(centre: Point, place: Stage, od_m: float, id_m: float | None) -> Path:
    """Steel of the liner across: solid; of a part whose bore is not given only the outside."""
    outside = circle(centre, 0.5 * place.mm(od_m))
    if id_m is None:
        return Path((outside,), Style(stroke=BLUE, width_mm=OUTLINE_MM), closed=True)
    return Path((outside, circle(centre, 0.5 * place.mm(id_m))), Style(fill=BLUE), closed=True)


def _high_side(centre: Point, bore_mm: float) -> Path:
    """An arrow to the high side in the bore."""
    half = min(_HIGH_MM, 0.7 * bore_mm)
    x, y = centre
    head = ((x - 0.7, y - half + 1.5), (x, y - half), (x + 0.7, y - half + 1.5))
    return Path((((x, y + half), (x, y - half)), head), Style(stroke=BLACK, width_mm=FINE_MM))


def _gap(x: float, top: float, bottom: float) -> Group:
    """A gap as a line between two short ticks, on white so that dots do not touch it."""
    ticks = tuple(((x - 0.7, y), (x + 0.7, y)) for y in (top, bottom))
    return Group(
        "hole",
        "Gap",
        (
            Path((((x, top + 0.2), (x, bottom - 0.2)),), Style(stroke=WHITE, width_mm=1.0)),
            Path((((x, top), (x, bottom)), *ticks), Style(stroke=BLACK, width_mm=FINE_MM)),
        ),
    )


def _at(centre: Point, radius_mm: float, degrees: float) -> Point:
    """A point of a circle, clockwise from the right."""
    angle = math.radians(degrees)
    return centre[0] + radius_mm * math.cos(angle), centre[1] + radius_mm * math.sin(angle)


def _slurry(evaluation: Evaluation, md_m: float) -> str:
    """The slurry that is to stand outside the liner at a depth; empty where none is."""
    sections = evaluation.cement.sections if evaluation.cement else ()
    return next(
        (s.slurry for s in sections if s.name == "open hole" and s.top_md_m <= md_m <= s.bottom_md_m), ""
    )


def _pitch(evaluation: Evaluation, slurry: str) -> float:
    names = [one.fluid for one in evaluation.plan.cement.slurries]
    pitches = SLURRY_PITCH_MM.get(len(names), SLURRY_PITCH_MM[3])
    return pitches[min(names.index(slurry), len(pitches) - 1)]
