"""What has to pass what: every moving thing of the job against every bore on its way, in order.

One source for the rules about passage and for the tables and the drawing. The cement head is not in the well
file.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from schematic.depth.plan import JOINTED, Depths, Plan, RunningPart
from schematic.job.meeting import Bore, Meeting, Thing, Verdict, Way, inside_of, way_of
from schematic.job.run_in import PIPE, liner_bore, outside, running_of, running_ways
from schematic.outcome import MissingInput, Uncomputed

DRILLED_OUT = ("float shoe", "reamer shoe", "guide shoe", "float collar", "landing collar")
CORE_CLEAR_M = 0.003  # of a dart's or plug's core in the narrowest bore; common practice
SEAL_FILLS_M = 0.00635  # 1/4 in: a smaller seal belongs to another bore; common practice
_SAME_M = 1e-6  # depths that are the end of one part and the beginning of the next


class Passage(NamedTuple):
    """All ways: of the liner and of the running string into the well, and of what goes through them."""

    liner: tuple[Way, ...]
    running: tuple[Way, ...]
    through: tuple[Way, ...]
    missing: tuple[Uncomputed, ...]

    @property
    def ways(self) -> tuple[Way, ...]:
        """All of them, in the order of the job."""
        return (*self.liner, *self.running, *self.through)

    def verdict(self, thing: str, bore: str) -> Verdict:
        """What becomes of a thing in a bore, both by their names."""
        met = (m for way in self.ways if way.thing.name == thing for m in way.meetings)
        return next((m.verdict for m in met if m.bore.name == bore), Verdict.APART)


def _string_bores(parts: Sequence[RunningPart]) -> list[Bore]:
    """The bores of parts of the running string, tool joints as bores of their own."""
    bores = []
    for part in parts:
        ends = part.top_md_m, part.bottom_md_m
        needs = f"bore of {part.name}" if part.id_m is None else ""
        bores.append(Bore(part.name, "bore", part.path, *ends, part.id_m, needs))
        if part.tool_joint_id_m is not None or part.kind in JOINTED:
            name = f"tool joint of {part.name}"
            needs = f"bore of {name}" if part.tool_joint_id_m is None else ""
            bores.append(Bore(name, "bore", part.path, *ends, part.tool_joint_id_m, needs))
    return bores


def ball_way(plan: Plan) -> Way | None:
    """The ball down to its seat: pipe, tool joints, tools, other seats, and for a seat in the landing collar
    the wiper plug and the liner. None: no ball is dropped.

    Raises
    ------
    MissingInput
        When the file has no running string, or does not say where the seat is.
    """
    depth, job = plan.depth, plan.job
    if job.seat is None and job.hanger_sets_pa is None:
        return None
    running = running_of(depth)
    if job.seat is None:
        raise MissingInput("installation.seat")
    wants = plan.limits["least ball clearance"].si
    ball = Thing("ball", running.ball_m, "" if running.ball_m is not None else "running string.ball", wants)
    tool = next((part for part in running.parts if part.kind == "running tool"), None)
    collar = depth.liner.find("landing collar")
    in_tool = job.seat == "running tool"
    above = running.parts
    if in_tool and tool is not None:
        above = tuple(part for part in above if part.top_md_m <= tool.top_md_m)
    bores = _string_bores(above)
    if not in_tool and tool is not None and job.tool_seat_m is not None:
        at = next(n for n, bore in enumerate(bores) if bore.path == tool.path)
        seat = Bore(
            f"seat in {tool.name}", "bore", tool.path, tool.top_md_m, tool.bottom_md_m, job.tool_seat_m
        )
        bores.insert(at + 1, seat)
    if not in_tool and collar is not None:
        bores += _liner_bores(depth, running.foot_md_m, collar.top_md_m)
    at_part = tool if in_tool else collar
    name = at_part.name if at_part else job.seat
    ends = (at_part.top_md_m, at_part.bottom_md_m) if at_part else (0.0, 0.0)
    needs = "" if job.seat_m is not None else "ball seat"
    bores.append(Bore(name, "seat", at_part.path if at_part else "", *ends, job.seat_m, needs, stops=True))
    return way_of(ball, bores)


def _liner_bores(depth: Depths, below_md_m: float, to_md_m: float) -> list[Bore]:
    """The bores of the liner's parts that end between two depths; at the first ends what hangs in it."""
    return [
        liner_bore(part, by_drift=False)
        for part in depth.liner.parts
        if part.length_m > 0.0 and part.bottom_md_m > below_md_m and part.bottom_md_m <= to_md_m + _SAME_M
    ]


def dart_way(plan: Plan) -> Way | None:
    """The dart's core through the running string, down to the wiper plug. None: there is neither.

    Raises
    ------
    MissingInput
        When the file has no running string.
    """
    running = running_of(plan.depth)
    plug = next((part for part in running.parts if part.kind == "wiper plug"), None)
    if plug is None and running.dart_core_m is None:
        return None
    needs = "" if running.dart_core_m is not None else "running string.dart"
    dart = Thing("dart", running.dart_core_m, needs, CORE_CLEAR_M)
    bores = _string_bores([part for part in running.parts if part.length_m > 0.0])
    string = way_of(dart, bores)
    if plug is None:
        return string
    latch = Bore(plug.name, "bore", plug.path, plug.top_md_m, plug.bottom_md_m, plug.id_m, stops=True)
    pair = Meeting(dart, latch, Verdict.NOT_CHECKED, None, ("the maker's sheet that pairs dart and plug",))
    return Way(dart, (*string.meetings, pair))  # a latch is a profile: diameters do not prove it


def plug_way(plan: Plan) -> Way | None:
    """The core of the wiper plug with the dart in it, through the liner to the landing collar. None: no plug.

    Raises
    ------
    MissingInput
        When the file has no running string, or neither landing collar nor float collar.
    """
    depth = plan.depth
    running = running_of(depth)
    part = next((part for part in running.parts if part.kind == "wiper plug"), None)
    if part is None:
        return None
    collar = depth.liner.find("landing collar") or depth.liner.find("float collar")
    if collar is None:
        raise MissingInput("landing collar or float collar")
    known = [core for core in (part.core_m, running.dart_core_m) if core is not None]
    needs = "" if part.core_m is not None else f"core and fins of {part.name}"
    plug = Thing("wiper plug", max(known, default=None), needs, CORE_CLEAR_M)
    bores = _liner_bores(depth, running.foot_md_m, collar.top_md_m)
    return way_of(plug, [*bores, liner_bore(collar, by_drift=False)._replace(stops=True)])


def _passed_later(depth: Depths) -> list[Bore]:
    """What is passed down the liner to its shoe track; of pipe, drift is proven and not the bore."""
    bores = []
    for part in depth.liner.parts:
        if part.kind in DRILLED_OUT or part.length_m <= 0.0:
            continue
        bore = liner_bore(part, by_drift=True)
        if part.kind in PIPE:
            needs = "liner.drift" if part.drift_m is None else ""
            bore = bore._replace(by="drift", passes_m=part.drift_m, needs=needs)
        elif bore.needs:
            bore = bore._replace(needs=f"{part.path}.id")
        if bore.needs and depth.liner.assembly_assumed:
            bore = bore._replace(needs="liner.assembly")
        bores.append(bore)
    return bores


def drift_way(plan: Plan) -> Way:
    """A drift of the size of the liner's pipe, through all parts above the shoe track."""
    liner = plan.depth.liner
    needs = "" if liner.drift_m is not None else "liner.drift"
    return way_of(Thing("drift of the liner", liner.drift_m, needs), _passed_later(plan.depth))


def next_bit_way(plan: Plan) -> Way | None:
    """The next bit or tool down to the shoe track. None: the file names none."""
    depth = plan.depth
    size, top = depth.liner.later.next_bit_m, depth.liner.top_md_m
    if size is None:
        return None
    above = [inside_of(string, top) for string in depth.strings if string.top_md_m < top]
    return way_of(Thing("next bit", size), [*above, *_passed_later(depth)])


def seal_way(plan: Plan) -> Way | None:
    """The seal of a later tie-back down to the receptacle. None: the file plans none."""
    depth = plan.depth
    size, top = depth.liner.later.seal_od_m, depth.liner.top_md_m
    if size is None:
        return None
    bores = [inside_of(string, top) for string in depth.strings if string.top_md_m < top]
    receptacle = depth.liner.find("tie-back receptacle")
    bore = receptacle.seal_bore_m if receptacle else None
    needs = "" if bore is not None else "liner.assembly.tie-back receptacle.bore"
    ends = (receptacle.top_md_m, receptacle.bottom_md_m) if receptacle else (top, top)
    name, path = (receptacle.name, receptacle.path) if receptacle else ("tie-back receptacle", "")
    bores.append(Bore(name, "bore", path, *ends, bore, needs, stops=True))
    return way_of(Thing("tie-back seal", size, most_play_m=SEAL_FILLS_M), bores)


_THROUGH: tuple[tuple[str, Callable[[Plan], Way | None]], ...] = (
    ("ball", ball_way),
    ("dart", dart_way),
    ("wiper plug", plug_way),
    ("drift of the liner", drift_way),
    ("next bit", next_bit_way),
    ("tie-back seal", seal_way),
)


def passage(plan: Plan) -> Passage:
    """Every moving thing against every bore on its way. Ways that cannot be told stand in *missing*."""
    missing: list[Uncomputed] = []
    running: tuple[Way, ...] = ()
    try:
        running = running_ways(plan.depth)
    except MissingInput as error:
        missing.append(Uncomputed("running string", error.missing))
    ways: list[Way] = []
    for name, tell in _THROUGH:
        try:
            found = tell(plan)
        except MissingInput as error:
            missing.append(Uncomputed(f"passage of the {name}", error.missing))
            continue
        if found is not None:
            ways.append(found)
    return Passage(outside(plan.depth, None), running, tuple(ways), tuple(missing))
