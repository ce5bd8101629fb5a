"""What is picked up and run, one after another from the shoe up: liner parts and joints, then stands.

Joints of a line without a tally beside the file are as long as the line's average; pups of a filled line come
above its joints. What whole stands leave of a line of pipe comes below its last stand, so that the last stand
can be washed down whole.
"""

from __future__ import annotations

from typing import NamedTuple

from schematic.depth.nest import Stretch, liner_tube, running_tube
from schematic.depth.plan import Depths, LinerPart, RunningPart, RunningString

PIPE = ("drill pipe", "heavy-weight drill pipe")
TOP_KINDS = ("liner hanger", "liner top packer", "setting sleeve", "tie-back receptacle", "debris barrier")
_NOTHING_M = 1e-6  # float arithmetic on lengths


class Slice(NamedTuple):
    """A length of one cross-section; an area that the file does not give is None, and *lacks* says which."""

    length_m: float
    outside_m2: float | None
    inside_m2: float | None
    lacks: tuple[str, ...]


class Pick(NamedTuple):
    """What is picked up and run as one; *inner* hangs in the liner below it and adds no length."""

    what: str
    section: str  # "shoe track", "liner", "hanger assembly", "running string"
    paths: tuple[str, ...]  # of its parts in the well file
    slices: tuple[Slice, ...]  # from the bottom up
    inner: tuple[Slice, ...] = ()
    needs: str = ""  # what would let it be told stand by stand
    average: bool = False  # its length is an average

    @property
    def length_m(self) -> float:
        """Length along hole that it adds."""
        return sum(one.length_m for one in self.slices)


def has_float(part: LinerPart) -> bool:
    """Whether a part of the liner holds a float: by its valves, else by what it is called."""
    return part.valves > 0 or part.kind in ("float shoe", "float collar")


def without_assembly(depth: Depths) -> tuple[Pick, ...]:
    """The picks of the liner up to its last joint: what hangs before the hanger is picked up."""
    return tuple(pick for pick in liner_picks(depth) if pick.section != "hanger assembly")


def picks(depth: Depths) -> tuple[Pick, ...]:
    """All picks in the order of running; without a running string they end with the liner."""
    made = liner_picks(depth)
    if depth.running is not None:
        made += running_picks(depth.running, depth.liner.top_md_m)
    return tuple(made)


def _slice(stretch: Stretch, length_m: float) -> Slice:
    lacks = [f"OD of {stretch.name}"] if stretch.outside_m2 is None else []
    lacks += [f"bore of {stretch.name}"] if stretch.inside_m2 is None else []
    return Slice(length_m, stretch.outside_m2, stretch.inside_m2, tuple(lacks))


def liner_picks(depth: Depths) -> list[Pick]:
    """The liner from its shoe up: parts, joints one by one, and what stands at its top as one assembly."""
    liner = depth.liner
    parts = [part for part in liner.parts if part.length_m > _NOTHING_M]
    stretches = dict(zip((part.path for part in parts), liner_tube(liner).stretches, strict=True))
    parts.reverse()
    first = next((n for n, part in enumerate(parts) if part.kind in TOP_KINDS), len(parts))
    track = liner.shoe_track_top_md_m
    made: list[Pick] = []
    joints = 0
    for part in parts[:first]:
        section = "shoe track" if track is not None and part.bottom_md_m > track + _NOTHING_M else "liner"
        stretch = stretches[part.path]
        if part.kind != "joint" or part.joints == 0:
            made.append(Pick(part.name, section, (part.path,), (_slice(stretch, part.length_m),)))
            continue
        for number, length in _joints(part):
            joints += 1
            name = f"joint {number or joints}"
            own = (_slice(stretch, length),)
            made.append(Pick(name, section, (part.path,), own, average=not part.listed and part.joints > 1))
        if part.rest_m > _NOTHING_M:
            made.append(Pick("pup joints", section, (part.path,), (_slice(stretch, part.rest_m),)))
    if first < len(parts):
        top = parts[first:]
        names = ", ".join(part.name for part in top)
        slices = tuple(_slice(stretches[part.path], part.length_m) for part in top)
        made.append(Pick(names, "hanger assembly", tuple(part.path for part in top), slices))
    return made


def _joints(part: LinerPart) -> list[tuple[str, float]]:
    """Number and length of each joint of a line, from the bottom up."""
    if part.listed:
        return [(joint.number, joint.length_m) for joint in part.listed]
    return [("", (part.length_m - part.rest_m) / part.joints)] * part.joints


def running_picks(running: RunningString, liner_top_md_m: float) -> list[Pick]:
    """The running string from the liner top up: tools one by one, pipe in stands, else in joints."""
    parts = [part for part in running.parts if part.length_m > _NOTHING_M]
    stretches = dict(zip((part.path for part in parts), running_tube(running).stretches, strict=True))
    hangs = [part for part in parts if part.bottom_md_m > liner_top_md_m + _NOTHING_M]
    made: list[Pick] = []
    for part in reversed(parts):
        if part in hangs:
            continue
        stretch = stretches[part.path]
        for what, length, needs in _lengths(part, running.stand_m):
            own = (_slice(stretch, length),)
            made.append(Pick(what, "running string", (part.path,), own, needs=needs))
    if made and hangs:
        inner = tuple(_slice(stretches[part.path], part.length_m) for part in hangs)
        names = " and ".join(part.name for part in hangs)
        made[0] = made[0]._replace(what=f"{made[0].what}, {names} in the liner", inner=inner)
    return made


def _lengths(part: RunningPart, stand_m: float | None) -> list[tuple[str, float, str]]:
    """What a part of the running string is run in: words, length, and what would divide it further."""
    if part.kind not in PIPE:
        return [(part.name, part.length_m, "")]
    each, word = (stand_m, "stand") if stand_m is not None else (part.joint_length_m, "joint")
    if each is None:
        needs = f"running string.stand length, or joint length of {part.name}"
        return [(part.name, part.length_m, needs)]
    count = int((part.length_m + _NOTHING_M) / each)
    rest = part.length_m - count * each
    made = [(f"{part.name} {word} {n}", each, "") for n in range(1, count + 1)]
    if rest > _NOTHING_M:
        made.insert(max(count - 1, 0), (f"{part.name}, less than a {word}", rest, ""))
    return made
