"""Where the liner is: its depths from any sufficient set, its parts stacked from the shoe up.

Three relations bind the depths: top = host shoe - lap; shoe = hole depth - off bottom; shoe - top = length.
What the file fixes twice is held against itself; a misfit is kept and told, never smoothed.
"""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING, NamedTuple

from schematic.depth import data_files
from schematic.depth.plan import (
    CasingString,
    Datum,
    EnteredTvd,
    Later,
    Liner,
    LinerPart,
    ListedJoint,
    Misfit,
    Rack,
)
from schematic.depth.surroundings import Tube, counts_from_sea
from schematic.depth.survey import SurveyPath
from schematic.depth.workings import Workings
from schematic.outcome import meets
from schematic.units import FOOT_M, Written
from schematic.wellfile import model
from schematic.wellfile.model_well import HANGER_TYPES
from schematic.wellfile.read import Loc

if TYPE_CHECKING:
    from schematic.wellfile.tally_file import Tally

_AGREE_M = 0.1 * FOOT_M  # two ways to a depth that differ by less agree; common practice for tallies
_ASSUMED_JOINT_M = 40.0 * FOOT_M  # a usual range 3 joint; API 5CT range 3 is 34 to 48 ft, from memory


class Site(NamedTuple):
    """What the liner is placed in."""

    datum: Datum
    path: SurveyPath
    td_md_m: float
    td_path: str  # where the file writes it
    host: CasingString


class _Ways:
    """The ways to one depth, in the order in which they are trusted."""

    def __init__(self, path: str, name: str) -> None:
        self.path, self.name = path, name
        self.ways: list[tuple[str, float, tuple[tuple[str, float, str], ...]]] = []

    def add(self, how: str, md_m: float, *inputs: tuple[str, float, str]) -> None:
        self.ways.append((how, md_m, inputs))

    def settle(self, workings: Workings) -> float | None:
        """The first way; every other that disagrees with it becomes a misfit."""
        if not self.ways:
            return None
        how, md_m, inputs = self.ways[0]
        if inputs:
            workings.derive(self.path, md_m, how, *inputs)
        for other_how, other_md_m, _inputs in self.ways[1:]:
            if not meets(abs(other_md_m - md_m), _AGREE_M, at_least=False):
                workings.misfits.append(Misfit(self.path, self.name, how, md_m, other_how, other_md_m))
        return md_m


def typical_assembly() -> list[model.LinerPart]:
    """A plain assembly for a file that gives none: kinds and lengths only, no OD, bore or rating."""
    lines: list[dict[str, str]] = [
        {"part": "float shoe", "length": "2 ft"},
        {"part": "joint", "count": "2"},
        {"part": "float collar", "length": "2 ft"},
        {"part": "joint", "count": "1"},
        {"part": "landing collar", "length": "2 ft"},
        {"part": "joint", "fill": "yes"},
        {"part": "liner hanger", "length": "10 ft"},
        {"part": "liner top packer", "length": "8 ft"},
        {"part": "tie-back receptacle", "length": "10 ft"},
    ]
    return [model.LinerPart.model_validate(line) for line in lines]


class _Line(NamedTuple):
    part: model.LinerPart
    length_m: float | None  # None: fill
    assumed: bool
    listed: tuple[ListedJoint, ...] = ()  # by the tally


def _from_tally(
    assembly: list[model.LinerPart], tally: Tally | None, workings: Workings
) -> dict[int, tuple[ListedJoint, ...]]:
    """The joints that the tally gives the lines that have no length, from the bottom up."""
    if tally is None:
        return {}
    open_lines = [
        index
        for index, part in enumerate(assembly)
        if part.part == "joint" and part.length is None and part.each is None
    ]
    counts = {i: 1 if assembly[i].count is None else int(assembly[i].count or 0) for i in open_lines}
    filled = [index for index in open_lines if assembly[index].fill]
    counted = sum(count for index, count in counts.items() if index not in filled)
    held = len(tally.joints)
    if not open_lines or counted + len(filled) > held:
        workings.problem(
            ("liner", "tally"),
            f"{held} joints in the tally, {counted} counted in the assembly" if open_lines else "a tally",
            "'joint' lines without a length that the tally's joints fill",
            "mend the counts, or take 'length' and 'each' out of the joint lines",
        )
        return {}
    if len(filled) == 1:
        counts[filled[0]] = held - counted
    elif not filled and counted < held:
        workings.assumptions.append(
            f"tally: the last {held - counted} of its {held} joints are not in the assembly"
        )
    listed = (ListedJoint(joint.number, joint.length_m) for joint in tally.joints)
    return {index: tuple(islice(listed, counts[index])) for index in open_lines}


def _measure(assembly: list[model.LinerPart], tally: Tally | None, workings: Workings) -> list[_Line]:
    """The length of each line, from the bottom up; joints without one get a usual length, marked."""
    lines: list[_Line] = []
    by_tally = _from_tally(assembly, tally, workings)
    for index, part in enumerate(assembly):
        loc: Loc = ("liner", "assembly", index)
        count = part.count if part.count is not None else 1
        if index in by_tally:
            listed = by_tally[index]
            lines.append(_Line(part, sum(joint.length_m for joint in listed), False, listed))
        elif part.fill:
            lines.append(_Line(part, None, part.each is None))
        elif part.length is not None:
            lines.append(_Line(part, part.length.si, False))
        elif part.each is not None:
            lines.append(_Line(part, part.each.si * count, False))
        elif part.part == "joint":
            lines.append(_Line(part, _ASSUMED_JOINT_M * count, True))
        elif part.part == "centralizer":
            lines.append(_Line(part, 0.0, False))
        else:
            workings.problem(
                loc,
                f"a {part.part} without a length",
                "'length' of every part but joints",
                "write its make-up length, such as 'length: 1.6 ft'",
            )
    if not any(line.length_m is None or line.length_m > 0.0 for line in lines):
        workings.problem(
            ("liner", "assembly"),
            "no part that has a length",
            "the parts of the liner, from the bottom up",
            "list shoe, joints and collars",
        )
    if sum(line.length_m is None for line in lines) > 1:
        workings.problem(
            ("liner", "assembly"),
            "more than one line with 'fill'",
            "one line that fills the length",
            "give the other a count or a length",
        )
    return lines


def _from_tvds(
    written: model.Liner, which: str, site: Site, workings: Workings
) -> list[tuple[str, str, float, float]]:
    """Stated TVDs of the top or the shoe: path, name, TVD below the datum, what was added for that."""
    found: list[tuple[str, str, float, float]] = []
    tvd: Written | None = getattr(written, f"{which}_tvd")
    subsea: Written | None = getattr(written, f"{which}_below_sea_level")
    name = "liner top" if which == "top" else "liner shoe"
    if tvd is not None:
        found.append((f"liner.{which} tvd", name, tvd.si, 0.0))
    if subsea is not None:
        if not counts_from_sea(site.datum.above):
            workings.problem(
                ("liner", f"{which} below sea level"),
                subsea.text,
                f"depths below {site.datum.above}, the level of this datum",
                f"write '{which} tvd'",
            )
        height = site.datum.height_m
        if height is None:
            workings.problem(
                ("well", "datum"),
                "no 'height', but a depth below sea level",
                "the height of the datum above sea level",
                "add 'height: 31 m' with its figure",
            )
            return found
        found.append((f"liner.{which} below sea level", name, subsea.si + height, height))
    return found


def place(
    written: model.Liner, site: Site, workings: Workings
) -> tuple[Liner, tuple[EnteredTvd, ...]] | None:
    """The liner in its place, or None after noting what is missing."""
    pipe = Tube(written, workings)
    if not pipe.complete(("liner",), workings):
        return None
    assert pipe.od_m is not None
    assumed = not written.assembly
    if assumed:
        workings.assumptions.append(
            "no liner assembly given: a typical one is drawn; its lengths are assumed, the rest is unknown"
        )
    tally = data_files.joints(written.tally, workings)
    lines = _measure(written.assembly or typical_assembly(), tally, workings)
    if workings.problems:
        return None
    fixed_m = sum(line.length_m or 0.0 for line in lines)
    fills = any(line.length_m is None for line in lines)
    depths = _settle(written, site, None if fills else fixed_m, workings)
    if depths is None:
        return None
    top, shoe, tvds, by_parts = depths
    fill_m = (shoe - top) - fixed_m
    if fills and fill_m <= 0.0:
        workings.problem(
            ("liner",),
            f"a liner of {workings.text(shoe - top)} with {workings.text(fixed_m)} beside the filled line",
            "depths that leave room for the filled line",
            "lengthen the liner, or shorten its parts",
        )
        return None
    parts = _stack(lines, shoe, fill_m, pipe, workings)
    if any(line.assumed for line in lines) and not assumed:
        workings.assumptions.append("joints without a length are taken as 40 ft each")
    liner = Liner(
        written.name,
        pipe.label,
        pipe.connection,
        pipe.grade,
        site.host.name,
        pipe.od_m,
        pipe.id_m or 0.0,
        pipe.drift_m,
        pipe.coupling_od_m,
        pipe.weight_kg_per_m,
        top,
        shoe,
        parts,
        assumed,
        "the line with 'fill'" if fills else by_parts,
        written.permitted_shoe_tvd.si if written.permitted_shoe_tvd else None,
        Rack(written.rack.joints, written.rack.left, written.rack.rejected) if written.rack else None,
        written.lengths or "",
        None if written.pups is None else tuple(pup.si for pup in written.pups),
        _later(written),
    )
    entered = tuple(
        EnteredTvd(path, name, top if name == "liner top" else shoe, tvd, offset)
        for path, name, tvd, offset in tvds
    )
    return liner, entered


def _later(written: model.Liner) -> Later:
    tie_back, tail = written.tie_back, written.tail_pipe
    return Later(
        written.next_bit.si if written.next_bit else None,
        tie_back.seal_od.si if tie_back else None,
        tie_back.travel.si if tie_back and tie_back.travel else None,
        tail.end.si if tail else None,
        bool(tail and tail.stabbed),
    )


def _settle(
    written: model.Liner, site: Site, parts_m: float | None, workings: Workings
) -> tuple[float, float, list[tuple[str, str, float, float]], str] | None:
    """Liner top and shoe from whatever is given, the stated TVDs for the check, and which of top and shoe
    is the sum of the parts ("" if neither).
    """
    host_shoe, td = site.host.shoe_md_m, site.td_md_m
    tvds = {which: _from_tvds(written, which, site, workings) for which in ("top", "shoe")}
    shoe, top = _Ways("liner.shoe", "liner shoe"), _Ways("liner.top", "liner top")
    if written.shoe:
        shoe.add("as written", written.shoe.si)
    if written.off_bottom:
        shoe.add(
            "hole depth - off bottom",
            td - written.off_bottom.si,
            (site.td_path, td, "tally"),
            ("liner.off bottom", written.off_bottom.si, "tally"),
        )
    if written.top:
        top.add("as written", written.top.si)
    if written.lap:
        top.add(
            "host shoe - lap",
            host_shoe - written.lap.si,
            (f"{site.host.path}.shoe", host_shoe, "tally"),
            ("liner.lap", written.lap.si, "tally"),
        )
    for which, ways in (("shoe", shoe), ("top", top)):
        if not ways.ways and tvds[which]:
            path, _name, tvd, _offset = tvds[which].pop(0)
            try:
                ways.add(
                    "measured depth at the stated TVD",
                    site.path.md_at_tvd_m(tvd),
                    (path, tvd, "tvd"),
                )
            except ValueError as error:
                workings.problem(
                    tuple(path.split(".")), str(error), "a depth that the well reaches", "check it"
                )
                return None
    by_parts = ""
    length = written.length.si if written.length else parts_m
    length_how = "liner.length" if written.length else "sum of the parts"
    if length is not None:
        if shoe.ways and (written.length or not top.ways):
            by_parts = "" if written.length else "the liner top"
            top.add(
                f"shoe - {length_how}",
                shoe.ways[0][1] - length,
                ("liner.shoe", shoe.ways[0][1], "tally"),
                (length_how, length, "tally"),
            )
        elif top.ways and not shoe.ways:
            by_parts = "" if written.length else "the liner shoe"
            shoe.add(
                f"top + {length_how}",
                top.ways[0][1] + length,
                ("liner.top", top.ways[0][1], "tally"),
                (length_how, length, "tally"),
            )
    if not (top.ways and shoe.ways):
        missing = "the liner top" if shoe.ways else "the liner shoe" if top.ways else "any of its depths"
        enough = {
            "the liner top": "'lap', 'top', 'length', or an assembly with all lengths",
            "the liner shoe": "'off bottom', 'shoe', 'length', or an assembly with all lengths",
            "any of its depths": "'lap' or 'top', and 'off bottom' or 'shoe'; or one of them and 'length'",
        }[missing]
        workings.problem(("liner",), f"too little to find {missing}", f"any of: {enough}", "add one of them")
        return None
    top_md, shoe_md = top.settle(workings), shoe.settle(workings)
    assert top_md is not None
    assert shoe_md is not None
    if not top_md < shoe_md:
        workings.problem(
            ("liner",),
            f"a liner top at {workings.text(top_md)} and a shoe at {workings.text(shoe_md)}",
            "a top above the shoe",
            "check lap, top, shoe and off bottom",
        )
        return None
    if top_md < 0.0:
        workings.problem(
            ("liner",),
            f"a liner top {workings.text(-top_md)} above the datum",
            "a top below the datum",
            "shorten the lap or the liner",
        )
        return None
    if written.length is None:
        workings.derive(
            "liner.length",
            shoe_md - top_md,
            "shoe - top",
            ("liner.shoe", shoe_md, "tally"),
            ("liner.top", top_md, "tally"),
        )
    if written.lap is None:
        workings.derive(
            "liner.lap",
            host_shoe - top_md,
            "host shoe - liner top",
            (f"{site.host.path}.shoe", host_shoe, "tally"),
            ("liner.top", top_md, "tally"),
        )
    return top_md, shoe_md, [*tvds["top"], *tvds["shoe"]], by_parts


def _joints(part: model.LinerPart, length_m: float) -> tuple[int, float]:
    """How many joints a line holds, and what a filled line needs beside whole joints."""
    if not part.fill:
        return (part.count if part.count is not None else 1), 0.0
    each = part.each.si if part.each else _ASSUMED_JOINT_M
    count = round(length_m / each)
    # an average written to three decimals times many joints is off by their rounding, not by a pup
    digit = 0.0005 * (FOOT_M if part.each is not None and "ft" in part.each.text else 1.0)
    if count and abs(count * each - length_m) <= max(digit * count, 0.01):
        return count, 0.0
    whole = int(length_m // each)
    return whole, length_m - whole * each


def _stack(
    lines: list[_Line], shoe_md_m: float, fill_m: float, pipe: Tube, workings: Workings
) -> tuple[LinerPart, ...]:
    """The parts from the top down, stacked from the shoe up."""
    parts: list[LinerPart] = []
    bottom = shoe_md_m
    for index, line in enumerate(lines):
        part, length = line.part, fill_m if line.length_m is None else line.length_m
        is_pipe = part.part in ("joint", "pup joint")
        own = Tube(part, workings) if part.pipe else None
        body = own or pipe
        count, rest = (len(line.listed), 0.0) if line.listed else _joints(part, length)
        part_od = part.od.si if part.od else body.od_m if is_pipe else None
        part_id = part.id.si if part.id else part.bore.si if part.bore else body.id_m if is_pipe else None
        around = part_od if part_od is not None else pipe.od_m
        if part_id is not None and around is not None and part_id >= around:
            workings.problem(
                ("liner", "assembly", index),
                f"a bore of {part_id * 1000:.1f} mm in a {part.part} of {around * 1000:.1f} mm",
                "a bore smaller than the od",
                "exchange them, or check the digits",
            )
        slips = None
        if part.slips:
            low = bottom - part.slips.from_bottom.si
            slips = (low - part.slips.length.si, low)
        parts.append(
            LinerPart(
                path=f"liner.assembly.{index}",
                kind=part.part,
                name=part.name or part.part,
                top_md_m=bottom - length,
                bottom_md_m=bottom,
                od_m=part_od,
                id_m=part_id,
                coupling_od_m=part.coupling_od.si
                if part.coupling_od
                else body.coupling_od_m
                if is_pipe
                else None,
                drift_m=part.drift.si if part.drift else body.drift_m if is_pipe and not part.id else None,
                weight_kg_per_m=part.weight.si if part.weight else body.weight_kg_per_m if is_pipe else None,
                joints=count,
                rest_m=rest,
                length_assumed=line.assumed,
                valves=part.valves or 0,
                hold_down=part.hold_down,
                seal_bore_m=part.bore.si if part.bore else None,
                ball_m=part.ball_seat.ball.si if part.ball_seat else None,
                seat_m=part.ball_seat.seat.si if part.ball_seat else None,
                slips_md_m=slips,
                rigid=part.rigid,
                drillable=part.drillable,
                hanger_type=_hanger_type(part),
                rotating=part.rotating,
                pressure_rating_pa=part.pressure_rating.si if part.pressure_rating else None,
                bore_rating_pa=part.bore_rating.si if part.bore_rating else None,
                back_pressure_rating_pa=part.back_pressure_rating.si if part.back_pressure_rating else None,
                bump_rating_pa=part.bump_rating.si if part.bump_rating else None,
                listed=line.listed,
            )
        )
        bottom -= length
    return tuple(reversed(parts))


def _hanger_type(part: model.LinerPart) -> str:
    """How a hanger is set: as the file says, in a key or in its name, else by the pressure that sets it."""
    if part.part != "liner hanger":
        return ""
    named = (kind for kind in HANGER_TYPES if kind in (part.name or "").lower())
    return str(part.type or next(named, "hydraulic" if part.sets_at else ""))
