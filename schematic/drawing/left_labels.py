"""The left labels: strings, hole, path, tops of cement, leak-off, from the hole wall outward.

No label is ever dropped: a column that is too full makes the page taller.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import combinations, pairwise

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import CasingString, Depths, HoleSection
from schematic.drawing.captions import (
    GAP_MM,
    PITCH_MM,
    SMALL_PT,
    THIN,
    X_HEIGHT_MM,
    Label,
    with_leaders,
    wrap,
)
from schematic.drawing.column import basis_of, half_width, left_md_m, outer_radii
from schematic.drawing.frame import Frame
from schematic.drawing.grid import Span
from schematic.drawing.labels import Wanted, cross, place
from schematic.drawing.scene import Group, Path, Point, Shape, Text
from schematic.drawing.text import width_mm
from schematic.units import System, inch_name, number, sentence_case, show, size

_SAME_DEPTH_M = 0.3
_POCKET_M = 15.0  # of hole below a shoe: nearer than this they are told together
_HOLE_AS = {"caliper": "hole as calipered", "washout": "washout as stated", "gauge": "hole at bit size"}
_MOST_STEPS = 4  # of a caliper log; more of them are one label
Add = Callable[[str, str, tuple[str, ...], float, float, float], None]


def _depth(md_m: float, system: System) -> str:
    return number(md_m, "depth", system, THIN)


def _tvd(evaluation: Evaluation, md_m: float, system: System) -> str:
    return number(evaluation.plan.depth.path.tvd_m(md_m), "tvd", system, THIN).removesuffix(".0")


def _plain(diameter_m: float, system: System) -> str:
    """A measured diameter: two decimals of an inch, or millimetres without a nought."""
    if system == "field":
        return (
            f"{number(diameter_m, 'diameter', system)[:-1]} in"
            if _even(diameter_m)
            else show(diameter_m, "diameter", system)
        )
    return f"{number(diameter_m, 'diameter', system).removesuffix('.0')} mm"


def _even(diameter_m: float) -> bool:
    return number(diameter_m, "diameter", "field").endswith("0")


def _passed(depth: Depths) -> set[str]:
    """The strings through which the liner goes to its place: the innermost of each depth above the shoe of
    the host.
    """
    low = depth.host.shoe_md_m
    edges = sorted(
        {0.0, low, *(md for s in depth.strings for md in (s.top_md_m, s.shoe_md_m) if 0.0 < md < low)}
    )
    there = (
        [s for s in depth.strings if s.top_md_m <= top and bottom <= s.shoe_md_m]
        for top, bottom in pairwise(edges)
        if bottom - top > _SAME_DEPTH_M
    )
    return {min(strings, key=lambda s: s.id_m).name for strings in there if strings}


def left_labels(evaluation: Evaluation, frame: Frame, room_mm: float, system: System) -> list[Label]:
    """All labels of the left column, in order of depth, wrapped to its room."""
    plan = evaluation.plan
    depth = plan.depth
    axis = frame.axis_mm
    found: list[Label] = []
    room = room_mm - 0.6

    def add(part: str, head: str, lines: tuple[str, ...], low: float, high: float, end: float) -> None:
        heads = wrap(head, room, bold=True)
        rest = [piece for line in lines for piece in wrap(line, room)]
        found.append(Label(part, (*heads, *rest), len(heads), low, high, end))

    labels = [string.label for string in depth.strings]
    sizes = [string.od_m for string in depth.strings]
    passed = _passed(depth)
    for string in depth.strings:
        lines = [string.name] if labels.count(string.label) > 1 else []
        top, basis = string.cement_top_md_m, basis_of(string.cement_known_by)
        to_top = top is not None and string.top_md_m > 0.0 and abs(top - string.top_md_m) <= _SAME_DEPTH_M
        if string.top_md_m > 0.0:
            lines.append(f"top {_depth(string.top_md_m, system)}")
        if to_top:
            lines.append(f"cement to top, {basis}")
        shoe = f"shoe {_depth(string.shoe_md_m, system)}"
        lines.append(
            f"driven, {shoe}"
            if string.driven
            else f"{shoe}, TVD {_tvd(evaluation, string.shoe_md_m, system)}"
        )
        ground = plan.identity.datum.ground_md_m or 0.0
        if top is not None and top <= ground + 1.0:
            lines.append(
                "cement to seabed" if plan.identity.datum.water_depth_m is not None else "cement to surface"
            )
        proven = string.passes_m
        if string.name in passed and proven is not None:
            special = proven != string.drift_m and string.drift_m is not None
            lines.append(f"{'special drift' if special else 'drift'} {show(proven, 'diameter', system)}")
        name = string.label
        connection = _short_connection(string.connection)
        if connection and width_mm(f"{name} {connection}", SMALL_PT, bold=True) <= room:
            name = f"{name} {connection}"
        elif connection:
            _join(lines, connection, room)
        drilled = _drilled_for(depth, string)
        if drilled is not None:
            same = abs(drilled.bottom_md_m - string.shoe_md_m) <= _SAME_DEPTH_M
            to = "" if same else f" to {_depth(drilled.bottom_md_m, system)}"
            _join(lines, f"{_bit(drilled, system)} hole{to}", room)
        for test in plan.formation.leak_off:
            if test.string == string.name:
                lines += _leak_off(
                    test.emw_kg_per_m3, test.surface_pressure_pa, test.mud_kg_per_m3, test.kind, system
                )
        foot = string.shoe_md_m
        add(
            string.path,
            name,
            tuple(line for line in lines if line),
            foot,
            foot,
            axis - frame.r(string.od_m) - 0.3,
        )
        if top is not None and top > ground + 1.0 and not to_top:
            size_name = inch_name(string.od_m)
            of = f"{size_name} in" if size_name else string.name
            if size_name and sizes.count(string.od_m) > 1:
                of += f" {string.name}"
            around = outer_radii(evaluation, frame, string.name, top, top + 0.1)
            edge = around[0][2] if around else frame.r(string.od_m)  # no hole is given there
            add(
                string.path,
                f"Top of cement {_depth(top, system)}",
                (f"{of}, {basis}",),
                top,
                top,
                axis - edge,
            )
        _feature_labels(string, frame, system, add)
    _hole_labels(evaluation, frame, system, add)
    _cement_labels(evaluation, frame, system, add)
    _path_labels(evaluation, frame, system, add)
    found.sort(key=lambda label: frame.y(label.low_md_m) + frame.y(label.high_md_m))
    return found


def _feature_labels(string: CasingString, frame: Frame, system: System, add: Add) -> None:
    """Wear, perforations and the like of a string, each with its ends."""
    size_name = inch_name(string.od_m)
    of = f"of {size_name} in {string.name}" if size_name else f"of {string.name}"
    for one in string.features or ():
        worn = string.wall_left is not None and one.what.lower().startswith(("wear", "worn"))
        left = f"{show(string.wall_left or 0.0, 'share', system)} of the wall left"
        add(
            string.path,
            f"{sentence_case(one.what)} {_depth(one.top_md_m, system)} to {_depth(one.bottom_md_m, system)}",
            (of, left) if worn else (of,),
            one.top_md_m,
            one.bottom_md_m,
            frame.axis_mm - frame.r(string.od_m) - 0.1,
        )


def _drilled_for(depth: Depths, string: CasingString) -> HoleSection | None:
    """The hole that ends where a string does: told with the string, it needs no label of its own."""
    if string.driven:
        return None
    most = min(string.shoe_md_m + _POCKET_M, depth.host.shoe_md_m + 1.0)
    near = (s for s in depth.hole.sections if string.shoe_md_m - _SAME_DEPTH_M <= s.bottom_md_m <= most)
    return next(near, None)


def _bit(section: HoleSection, system: System) -> str:
    """The bit of a section, and to what the hole was opened behind it."""
    bit = size(section.bit_m, system)
    return bit if section.size_m == section.bit_m else f"{bit}, opened to {size(section.size_m, system)}"


def _join(lines: list[str], word: str, room_mm: float) -> None:
    """Put a word behind the first line that has room for it, else on a line of its own."""
    for index, line in enumerate(lines):
        if line and width_mm(f"{line}, {word}", SMALL_PT) <= room_mm:
            lines[index] = f"{line}, {word}"
            return
    lines.append(word)


def _short_connection(connection: str) -> str:
    return {"buttress": "BTC", "special clearance buttress": "special clearance"}.get(connection, connection)


def _leak_off(
    emw: float | None, pressure: float | None, mud: float | None, kind: str, system: System
) -> list[str]:
    words = {"leak-off": "Leak-off", "integrity": "Integrity test", "extended": "Extended leak-off"}[kind]
    if emw is not None:
        words += f" {show(emw, 'density', system)}"
    if pressure is None:
        return [words]
    on = f" on {show(mud, 'density', system)} mud" if mud is not None else ""
    return [words, f"{show(pressure, 'pressure', system, THIN)}{on}"]


def _hole_labels(evaluation: Evaluation, frame: Frame, system: System, add: Add) -> None:
    depth = evaluation.plan.depth
    axis = frame.axis_mm
    host_shoe = depth.host.shoe_md_m
    told = [_drilled_for(depth, string) for string in depth.strings]
    for section in depth.hole.sections:
        bit = _bit(section, system)
        if section in told:
            continue
        above = section.bottom_md_m <= host_shoe + 1.0
        if above or (section.basis == "gauge" and section is not depth.hole.sections[-1]):
            add(
                section.path,
                f"{bit} hole to {_depth(section.bottom_md_m, system)}",
                (),
                section.top_md_m + 0.75 * (section.bottom_md_m - section.top_md_m),  # near where it ends
                section.bottom_md_m,
                axis - frame.r(section.bit_m),
            )
            continue
        if section.basis != "gauge":
            clipped = depth.hole.diameter_m.clip(max(section.top_md_m, host_shoe), section.bottom_md_m)
            word = "caliper" if section.basis == "caliper" else "with washout"
            if len(clipped.values) > _MOST_STEPS:
                least, most = min(clipped.values), max(clipped.values)
                add(
                    section.path,
                    f"Hole {_plain(least, system)} to {_plain(most, system)}, {word}",
                    (f"to {_depth(section.bottom_md_m, system)}; bit {bit}",),
                    clipped.top_m,
                    clipped.bottom_m,
                    axis - frame.r(least),
                )
                continue
            for top, bottom, diameter in clipped.steps():
                middle = 0.5 * (top + bottom)
                least, most = depth.hole.least_m.at(middle), depth.hole.greatest_m.at(middle)
                band = f"{_plain(least, system)} to {_plain(most, system)}"
                add(
                    section.path,
                    f"Hole {_plain(diameter, system)}, {word}",
                    (
                        f"to {_depth(bottom, system)}; bit {bit}",
                        *((f"may be {band}",) if least < most else ()),
                    ),
                    top,
                    bottom,
                    axis - frame.r(diameter),
                )
    last = depth.hole.sections[-1]
    rathole = depth.td_md_m - depth.liner.shoe_md_m
    lines = [f"TVD {_tvd(evaluation, depth.td_md_m, system)}"]
    if rathole > 0.0:
        below = show(rathole, "depth", system)
        inside = depth.liner.shoe_md_m < depth.host.shoe_md_m
        lines[0] += f"; {below} below the liner" if inside else f"; rathole {below}"
    add(
        last.path,
        f"{size(last.bit_m, system)} hole to {_depth(depth.td_md_m, system)}",
        tuple(lines),
        depth.td_md_m,
        depth.td_md_m,
        axis - frame.r(depth.hole.diameter_m.values[-1]),
    )


def _cement_labels(evaluation: Evaluation, frame: Frame, system: System, add: Add) -> None:
    plan, cement = evaluation.plan, evaluation.cement
    planned = plan.cement.planned_top_md_m
    liner_top = plan.depth.liner.top_md_m

    def end(md_m: float) -> float:
        around = (
            plan.depth.host.id_m if md_m <= plan.depth.host.shoe_md_m else plan.depth.hole.diameter_m.at(md_m)
        )
        return frame.axis_mm - frame.r(around)

    if planned is not None:
        lines = ["planned, then reversed" if planned < liner_top else "planned"]
        left = left_md_m(evaluation)
        if left is not None and planned < left:
            lines.append(f"out, down to {_depth(left, system)}")
        add(
            "cement.planned top",
            f"Top of cement {_depth(planned, system)}",
            tuple(lines),
            planned,
            planned,
            end(planned),
        )
    if (
        cement
        and cement.top_string_in_md_m is not None
        and (planned is None or cement.top_string_in_md_m < planned)
    ):
        top = cement.top_string_in_md_m
        add(
            "cement",
            f"No-loss top {number(top, 'tvd', system, THIN).removesuffix('.0')}",
            (_HOLE_AS[plan.depth.hole.sections[-1].basis],),
            top,
            top,
            end(top),
        )
    slurries = plan.cement.slurries
    for upper, lower in zip(slurries, slurries[1:], strict=False):
        if lower.top_md_m is None:
            continue
        density = {fluid.name: fluid.density_kg_per_m3 for fluid in plan.fluids}
        at = lower.top_md_m
        add(
            "cement",
            f"{sentence_case(lower.fluid)} below {_depth(at, system)}",
            (
                f"{show(density[lower.fluid], 'density', system)} under {upper.fluid} "
                f"{show(density[upper.fluid], 'density', system)}",
            ),
            at,
            at,
            frame.axis_mm - half_width(evaluation, frame, at),
        )


def _path_labels(evaluation: Evaluation, frame: Frame, system: System, add: Add) -> None:
    """Kick-off and end of build, for a well that leaves the vertical by more than 5 degrees."""
    path = evaluation.plan.depth.path
    rows = path.stations
    steepest = max(row[1] for row in rows)
    if steepest < math.radians(5.0):
        return
    kick = max(
        (
            row[0]
            for index, row in enumerate(rows[:-1])
            if row[1] < math.radians(0.5) and rows[index + 1][1] >= math.radians(0.5)
        ),
        default=None,
    )
    if kick is not None:
        dogleg = show(path.dogleg_rad_per_m(kick), "dogleg", system).replace(" deg/", "\u00b0/")
        add(
            "survey",
            f"Kick-off {_depth(kick, system)}",
            (f"build {dogleg}",),
            kick,
            kick,
            frame.axis_mm - half_width(evaluation, frame, kick),
        )
    held = next(
        (
            row
            for index, row in enumerate(rows[:-1])
            if row[1] > math.radians(5.0) and abs(rows[index + 1][1] - row[1]) < math.radians(0.05)
        ),
        None,
    )
    if held is not None:
        angle = f"{number(held[1], 'angle', system)}\u00b0"
        last = max(row[0] for row in rows if abs(row[1] - held[1]) < math.radians(0.05))
        add(
            "survey",
            f"End of build {_depth(held[0], system)}",
            (f"TVD {_tvd(evaluation, held[0], system)}", f"{angle} held to {_depth(last, system)}"),
            held[0],
            held[0],
            frame.axis_mm - half_width(evaluation, frame, held[0]),
        )


def left_height(labels: list[Label]) -> float:
    """Height that the left column needs."""
    return sum(len(label.lines) * PITCH_MM for label in labels) + GAP_MM * (len(labels) - 1)


def left_column(
    labels: list[Label], frame: Frame, column_mm: Span, top_mm: float, bottom_mm: float
) -> list[Group]:
    """The left labels in their places: what sticks out beyond the knee first, then by depth.

    Neighbours of one depth, or of which only one sticks out, change places where their leaders would cross.
    """
    order = sorted(labels, key=lambda label: label.end_mm >= column_mm[1])
    best = _placed(order, frame, column_mm, top_mm, bottom_mm)
    tangles = _tangles(best)
    for n in range(len(order) - 1):
        above, below = order[n], order[n + 1]
        alike = (above.end_mm >= column_mm[1]) == (below.end_mm >= column_mm[1])
        if not tangles or (alike and abs(above.low_md_m - below.low_md_m) > _SAME_DEPTH_M):
            continue
        other = [*order[:n], order[n + 1], order[n], *order[n + 2 :]]
        made = _placed(other, frame, column_mm, top_mm, bottom_mm)
        if _tangles(made) < tangles:
            order, best, tangles = other, made, _tangles(made)
    return best


def _tangles(groups: list[Group]) -> int:
    """How many pairs of leaders cross."""
    lines = [shape.runs[0] for group in groups for shape in group.shapes if isinstance(shape, Path)]
    return sum(cross(one, other) for one, other in combinations(lines, 2))


def _placed(
    labels: list[Label], frame: Frame, column_mm: Span, top_mm: float, bottom_mm: float
) -> list[Group]:
    """The labels in this order in their places, with leaders.

    The labels of what sticks out beyond the knee come first: their leaders go straight to it, and those of
    all others start from the knee, below and to the right of them.
    """
    left_mm, knee_mm = column_mm
    heights = [len(label.lines) * PITCH_MM for label in labels]
    targets: list[float | Wanted] = [
        Wanted(frame.y(label.low_md_m) - 0.5 * PITCH_MM, frame.y(label.high_md_m) - 0.5 * PITCH_MM)
        for label in labels
    ]
    tops = place(targets, heights, top_mm, bottom_mm, GAP_MM)
    starts: list[Point] = []
    ends: list[Point] = []
    texts: list[list[Shape]] = []
    reached = 0.0
    near = [label for label in labels if label.end_mm >= knee_mm]
    # a leader that may end anywhere on its stretch ends above all that must end at one depth further down
    floors = [min(frame.y(later.high_md_m) for later in near[n:]) for n in range(len(near))]
    for label, top in zip(labels, tops, strict=True):
        lines = [
            Text(left_mm, top + 2.1 + PITCH_MM * row, line, bold=row < label.bold)
            for row, line in enumerate(label.lines)
        ]
        start_y = lines[0].y_mm - X_HEIGHT_MM
        starts.append((min(left_mm + width_mm(lines[0].text, SMALL_PT, bold=True) + 0.6, knee_mm), start_y))
        low, high = frame.y(label.low_md_m), frame.y(label.high_md_m)
        aim = min(max(start_y, low + 0.15 * (high - low)), high - 0.15 * (high - low)) if high > low else low
        if label.end_mm >= knee_mm:
            aim = reached = max(min(aim, floors.pop(0)), reached)
        ends.append((label.end_mm, aim))
        texts.append(list(lines))
    return with_leaders(labels, starts, ends, texts, knee_mm)
