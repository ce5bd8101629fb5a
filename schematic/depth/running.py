"""The running string at depth: added up from the liner top to the rotary, hung from the liner top down."""

from __future__ import annotations

from schematic.depth.plan import JOINTED, RunningPart, RunningString
from schematic.depth.workings import Workings
from schematic.units import show, size
from schematic.wellfile import model
from schematic.wellfile.read import Loc

# Parts that hang inside the liner, below the tool that carries it.
_HANGING = ("wiper plug", "inner string", "slick joint")


def running_string(
    written: model.RunningString | None, liner_top_md_m: float, workings: Workings
) -> RunningString | None:
    """The running string with the liner on depth; None when the file has none."""
    if written is None:
        return None
    lengths = _lengths(written, liner_top_md_m, workings)
    if workings.problems:
        return None
    first = next(i for i, part in enumerate(written.assembly) if part.part not in _HANGING)
    parts: list[RunningPart] = []
    bottom = liner_top_md_m
    for index in range(first, len(written.assembly)):
        parts.append(_part(written.assembly[index], index, bottom - lengths[index], bottom, workings))
        bottom -= lengths[index]
    parts.reverse()
    top = liner_top_md_m
    plug = None
    for index in range(first - 1, -1, -1):
        parts.append(_part(written.assembly[index], index, top, top + lengths[index], workings))
        top += lengths[index]
        if written.assembly[index].part == "wiper plug":
            plug = top
    foot = top
    above = sum(lengths[first:])
    if written.stick_up is not None:
        stick_up = written.stick_up.si
    else:
        stick_up = max(0.0, above - liner_top_md_m)
        workings.derive(
            "running string.stick up",
            stick_up,
            "sum of the parts above the liner top - liner top",
            ("sum of the parts", above, "tally"),
            ("liner.top", liner_top_md_m, "tally"),
        )
    closes_by = (
        "the length of a line"
        if any(part.length is None and part.part not in _HANGING for part in written.assembly)
        else "the stick-up"
        if written.stick_up is None and above >= liner_top_md_m
        else ""
    )
    return RunningString(
        tuple(parts),
        stick_up,
        above,
        foot,
        plug,
        written.ball.si if written.ball else None,
        closes_by,
        written.dart.core.si if written.dart else None,
        written.dart.fins.si if written.dart else None,
        written.stand_length.si if written.stand_length else None,
    )


def _lengths(written: model.RunningString, liner_top_md_m: float, workings: Workings) -> list[float]:
    """Length of each line; one line of pipe may be left to fill up to the rotary and the stick-up."""
    lengths: list[float] = []
    open_lines: list[int] = []
    hangs = [part.part in _HANGING for part in written.assembly]
    if hangs != sorted(hangs, reverse=True) or all(hangs):
        workings.problem(
            ("running string", "assembly"),
            "a part that hangs in the liner above those that carry it, or none that carries it",
            f"from the bottom up: {', '.join(_HANGING)}, then the parts above the liner top",
            "put the lines in order",
        )
    for index, part in enumerate(written.assembly):
        if part.length is not None:
            lengths.append(part.length.si)
        elif part.part == "wiper plug":
            lengths.append(0.0)
        else:
            lengths.append(0.0)
            open_lines.append(index)
    if not open_lines:
        return lengths
    loc: Loc = ("running string", "assembly", open_lines[0])
    part = written.assembly[open_lines[0]]
    if len(open_lines) > 1 or written.stick_up is None or part.part in _HANGING:
        workings.problem(
            loc,
            f"a {part.part} without a length",
            "'length' of every line; one line of pipe may be left open when 'stick up' is given",
            "write its length",
        )
        return lengths
    known = sum(
        length for length, line in zip(lengths, written.assembly, strict=True) if line.part not in _HANGING
    )
    rest = liner_top_md_m + written.stick_up.si - known
    if rest <= 0.0:
        workings.problem(
            loc,
            "no room left for this line",
            "parts that end below the rotary",
            "shorten the others",
        )
        return lengths
    lengths[open_lines[0]] = workings.derive(
        f"running string.assembly.{open_lines[0]}.length",
        rest,
        "liner top + stick up - the other parts",
        ("liner.top", liner_top_md_m, "tally"),
        ("stick up", written.stick_up.si, "tally"),
        ("the other parts", known, "tally"),
    )
    return lengths


def _part(
    written: model.RunningPart, index: int, top: float, bottom: float, workings: Workings
) -> RunningPart:
    loc: Loc = ("running string", "assembly", index)
    row = written.pipe.choice.row if written.pipe else None
    od = written.od.si if written.od else row.od_m if row else None
    bore = written.id.si if written.id else row.id_m if row else None
    if od is not None and bore is not None and bore >= od:
        workings.problem(
            (*loc, "id"),
            "a bore not smaller than the OD",
            "an id smaller than the od",
            "exchange them, or check the digits",
        )
    joint, joint_length = written.tool_joint, written.joint_length
    joint_od = joint.od.si if joint else row.tool_joint_od_m if row else None
    joint_id = joint.id.si if joint else row.tool_joint_id_m if row else None
    share = 0.0
    if joint and joint_length and joint.length.si < joint_length.si:
        share = joint.length.si / joint_length.si
        if joint.id.si >= joint.od.si:
            workings.problem(
                (*loc, "tool joint", "id"),
                joint.id.text,
                "an id smaller than the tool joint's od",
                "exchange them, or check the digits",
            )
    elif joint:
        workings.problem(
            (*loc, "tool joint"),
            "a tool joint without a joint length longer than it",
            "'joint length', the made-up length of one joint",
            "write e.g. 'joint length: 31.5 ft'",
        )
    elif joint_od is not None or written.part in JOINTED:
        lacks = "no length given" if joint_od is not None else "not given"
        workings.assumptions.append(
            f"tool joints of {written.name or written.part} not counted in volumes: {lacks}"
        )
    weight = written.weight.si if written.weight else row.adjusted_weight_kg_per_m if row else None
    if weight is None and written.mass and bottom > top:
        weight = written.mass.si / (bottom - top)
    label = row.name if row else written.part
    if row is None and od is not None:
        system = "field" if workings.document.content.well.show == "field" else "metric"
        name = size(od, system)  # type: ignore[arg-type]
        label = f"{name} {show(weight, 'weight', system)}" if weight else name  # type: ignore[arg-type]
    return RunningPart(
        f"running string.assembly.{index}",
        written.part,
        written.name or written.part,
        label,
        top,
        bottom,
        od,
        bore,
        joint_od,
        joint_id,
        share,
        weight,
        (written.pipe.choice.grade or "") if written.pipe else "",
        joint_length.si if joint_length else None,
        written.travel.si if written.travel else None,
        written.load_rating.si if written.load_rating else None,
        written.pressure_rating.si if written.pressure_rating else None,
        written.core.si if written.core else None,
        written.fins.si if written.fins else None,
    )
