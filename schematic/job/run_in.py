"""What is run into the well on what it has to pass: the strings, the liner, the running string."""

from __future__ import annotations

from schematic.depth.plan import JOINTED, CasingString, Depths, LinerPart, RunningPart, RunningString
from schematic.job.meeting import HOLE, Bore, Thing, Way, inside_of, way_of
from schematic.outcome import MissingInput

PIPE = ("joint", "pup joint")


def through(depth: Depths, string: CasingString | None) -> tuple[CasingString, ...]:
    """The strings through which one is run, or the liner: the file lists them in the order of running."""
    if string is None:
        return tuple(other for other in depth.strings if other.top_md_m < depth.liner.shoe_md_m)
    rank = depth.strings.index(string)
    return tuple(
        other
        for index, other in enumerate(depth.strings)
        if other.top_md_m < string.shoe_md_m
        # a larger one was there before; of the others, those set shallower that the file lists before
        and (other.od_m > string.od_m or (index < rank and other.shoe_md_m < string.shoe_md_m))
    )


def open_from_m(depth: Depths, string: CasingString | None) -> float:
    """Where the hole begins in which a string stands: below all strings that it is run through."""
    shoes = (other.shoe_md_m for other in through(depth, string))
    return max(shoes, default=depth.hole.diameter_m.top_m)


def widest_places(depth: Depths, string: CasingString | None) -> tuple[Thing, ...]:
    """The widest places of a string or of each part of the liner: pipe has couplings, parts have an OD."""

    def thing(name: str, od_m: float | None, path: str, to_md_m: float, fills: bool = False) -> Thing:
        return Thing(name, od_m, path if od_m is None else "", to_md_m=to_md_m, fills=fills)

    if string is not None:
        return (
            thing("pipe", string.od_m, f"{string.path}.od", string.shoe_md_m),
            thing("coupling", string.coupling_od_m, f"{string.path}.coupling od", string.shoe_md_m),
        )
    liner = depth.liner
    pipe = thing("pipe", liner.od_m, "liner.od", liner.shoe_md_m)
    made: dict[tuple[str, float | None], Thing] = {("pipe", liner.od_m): pipe}
    for part in liner.parts:
        name, end, coupling = part.name, part.bottom_md_m, part.coupling_od_m
        if part.kind in PIPE:
            # of couplings of one size the deepest stands for all
            made["coupling", coupling] = thing("coupling", coupling, "liner.coupling od", end)
            continue
        if part.length_m > 0.0 or part.rigid:
            path = "liner.assembly" if liner.assembly_assumed else f"{part.path}.od"
            fills = part.kind in ("centralizer", "external packer")
            made[part.path, part.od_m] = thing(name, part.od_m, path, end, fills)
        if coupling is not None:
            made[f"{part.path}.coupling od", coupling] = thing(f"coupling of the {name}", coupling, "", end)
    return tuple(made.values())


def outside(depth: Depths, string: CasingString | None) -> tuple[Way, ...]:
    """The widest places of a string, or of the liner (None), with the strings and the hole on their way.

    Of the hole that counts which is proven: the bit, or less where a caliper found less.
    """
    others, begins = through(depth, string), open_from_m(depth, string)
    ways = []
    for thing in widest_places(depth, string):
        bores = [inside_of(other, thing.to_md_m) for other in others if other.top_md_m < thing.to_md_m]
        driven = string is not None and string.driven
        if begins < thing.to_md_m and not driven:
            hole = depth.hole.passes_m(begins, thing.to_md_m)
            if hole is not None:
                bores.append(Bore(HOLE, "bit or caliper", HOLE, begins, thing.to_md_m, hole))
        ways.append(way_of(thing, bores))
    return tuple(ways)


def liner_bore(part: LinerPart, *, by_drift: bool) -> Bore:
    """A part of the liner as something to pass: its drift where there is one and it counts, else its bore."""
    by, passes = ("drift", part.drift_m) if by_drift and part.drift_m is not None else ("bore", part.id_m)
    needs = f"bore of {part.name}" if passes is None else ""
    return Bore(part.name, by, part.path, part.top_md_m, part.bottom_md_m, passes, needs)


def running_od(part: RunningPart) -> Thing:
    """The widest of a part of the running string; drill pipe has tool joints, whether the file says so or
    not.
    """
    ods = [od for od in (part.od_m, part.tool_joint_od_m) if od is not None]
    lacks = part.kind in JOINTED and part.tool_joint_od_m is None
    needs = f"OD of {part.name}" if part.od_m is None else f"tool joint of {part.name}" if lacks else ""
    size = max(ods) if part.od_m is not None else None
    widest = "tool joint" if size is not None and size == part.tool_joint_od_m else ""
    return Thing(part.name, size, needs, to_md_m=part.bottom_md_m, widest=widest)


def running_ways(depth: Depths) -> tuple[Way, ...]:
    """Each part of the running string on its way down to where it stands with the liner on depth.

    Raises
    ------
    MissingInput
        When the file has no running string.
    """
    ways = []
    for part in reversed(running_of(depth).parts):
        if part.length_m <= 0.0:
            continue
        end = part.bottom_md_m
        bores = [inside_of(string, end) for string in depth.strings if string.top_md_m < end]
        bores += [
            liner_bore(inside, by_drift=True)
            for inside in depth.liner.parts
            if inside.length_m > 0.0 and inside.top_md_m < end - 1e-9
        ]
        ways.append(way_of(running_od(part), bores))
    return tuple(ways)


def running_of(depth: Depths) -> RunningString:
    """The running string; raises MissingInput where the file has none."""
    if depth.running is None:
        raise MissingInput("running string")
    return depth.running
