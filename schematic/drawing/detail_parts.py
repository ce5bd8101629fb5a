"""The liner's parts as a detail names them: in their own bore on white where that is wide, else in rows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal, NamedTuple, get_args

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import Liner, LinerPart
from schematic.drawing.captions import ASSUMED, NO_BREAK, PITCH_MM, SMALL_PT, THIN
from schematic.drawing.column import landed_plug
from schematic.drawing.detail import Cut, Detail
from schematic.drawing.detail_rows import Row
from schematic.drawing.palette import BLUE
from schematic.drawing.scene import Group, Text
from schematic.drawing.text import width_mm
from schematic.export.tables import part_name
from schematic.units import System, number, sentence_case, unit_of

Field = Literal["top", "length", "OD", "ID"]
_VALVED = ("float shoe", "reamer shoe", "float collar")
_CLEAR_BORE = (
    "joint", "pup joint", "tie-back receptacle", "liner top packer", "liner hanger", "crossover", "swivel",
    "setting sleeve", "external packer", "stage collar",
)  # fmt: skip
_RANKS = {
    "liner hanger": 0,
    "liner top packer": 1,
    "tie-back receptacle": 1,
    "float shoe": 1,
    "landing collar": 1,
}
_OTHER_RANK = 4
_WALL_MM = 1.2  # from a text in the bore to the steel
_LEAST_BORE_MM = 14.0


class PartWords(NamedTuple):
    """What a detail may say of a part, wherever and however large it is drawn."""

    part: LinerPart
    full: str  # as the tally calls it, with what it can do
    short: str  # what it is, in the fewest words
    figures: dict[Field, str]  # as printed: an assumed length with a sign, "?" where one is not given


class Named(NamedTuple):
    """The parts that a detail shows: those written in their bores, and rows for the others."""

    in_bore: tuple[Group, ...]
    rows: tuple[Row, ...]


class Manner(NamedTuple):
    """How much is told of each part.

    *fields* stand right-set under heads; without them *behind* stands behind the name. *short* names are
    the kind of part alone; *sizes* puts OD and bore on a line below. With *fewer*, rows that find no room
    are left out.
    """

    fields: tuple[Field, ...] = ()
    short: bool = True
    behind: Field = "length"
    sizes: bool = False
    fewer: bool = False

    @property
    def words(self) -> tuple[str, ...]:
        """What a remark has to say: figures without heads, and those that stand elsewhere."""
        below = ", below it OD / ID" if self.sizes else ""
        behind = () if self.fields else (f"{self.behind} behind each name{below}",)
        told = (self.behind, "OD", "ID") if self.sizes else self.fields or (self.behind,)
        names = {"length": "lengths", "OD": "ODs", "ID": "bores"}
        rest = [name for field, name in names.items() if field not in told]
        return (*behind, f"{', '.join(rest)}: see main column") if rest else behind


def first_that_fits(
    manners: Sequence[Sequence[Manner]],
    ratios: Sequence[int],
    draw: Callable[[int, Manner], Detail | None],
    complaint: str,
) -> Detail:
    """Of each group of manners the first that fits, at the largest drawing at which one does.

    Raises
    ------
    ValueError
        When none fits, with the complaint.
    """
    for group in manners:
        for ratio in ratios:
            for manner in group:
                made = draw(ratio, manner)
                if made is not None:
                    return made
    raise ValueError(complaint)


def part_words(evaluation: Evaluation, system: System) -> tuple[PartWords, ...]:
    """The words of all parts of the liner, from the top down."""
    liner = evaluation.plan.depth.liner
    return tuple(
        PartWords(
            part,
            _full_name(liner, part, system),
            short_kind(part),
            {field: _figure(liner, part, field, system) for field in get_args(Field)},
        )
        for part in liner.parts
    )


def name_parts(
    evaluation: Evaluation, words: Sequence[PartWords], cut: Cut, system: System, manner: Manner
) -> Named:
    """Names and figures of all parts between the cuts."""
    groups: list[Group] = []
    rows: list[Row] = []
    for its in words:
        part = its.part
        top, bottom = max(part.top_md_m, cut.top_md_m), min(part.bottom_md_m, cut.bottom_md_m)
        if top >= bottom:
            continue
        written = (
            None
            if manner.short
            else _in_bore(evaluation, its, cut, system, top, bottom, top_told="top" in manner.fields)
        )
        if written is not None:
            groups.append(Group(part.path, sentence_case(part.name), written))
            continue
        rows.append(_row(evaluation.plan.depth.liner, its, cut, manner, top, bottom))
    return Named(tuple(groups), tuple(rows))


def signs(words: Sequence[PartWords], top_md_m: float, bottom_md_m: float, manner: Manner) -> list[str]:
    """What the signs beside figures between two depths stand for."""
    fields: tuple[Field, ...] = ("OD", "ID") if manner.sizes else manner.fields
    found = [
        its.figures[field]
        for its in words
        if its.part.top_md_m < bottom_md_m and its.part.bottom_md_m > top_md_m
        for field in {*fields, "length"}
    ]
    told = [f"?{NO_BREAK}not{NO_BREAK}given"] if "?" in found else []
    return told + ([f"{ASSUMED}{NO_BREAK}assumed"] if any(text[0] == ASSUMED for text in found) else [])


def heads_of(fields: tuple[Field, ...], system: System) -> tuple[str, ...]:
    """Heads of the figures; the first of each kind carries the unit."""
    length, diameter = unit_of("tally", system), unit_of("diameter", system)
    units = {"top": length, "length": "" if "top" in fields else length, "OD": "", "ID": diameter}
    return tuple(f"{field}, {units[field]}" if units[field] else field for field in fields)


def _figure(liner: Liner, part: LinerPart, field: Field, system: System) -> str:
    if field == "top":
        return number(part.top_md_m, "tally", system, THIN)
    if field == "length":
        return length_words(liner, part, system)
    if field == "OD":
        return number(part.od_m, "diameter", system) if part.od_m is not None else "?"
    bore = next((b for b in (part.seal_bore_m, part.id_m, part.seat_m) if b is not None), None)
    if bore is None:
        return "valve" if part.kind in _VALVED else "?"
    return number(bore, "diameter", system)


def _full_name(liner: Liner, part: LinerPart, system: System) -> str:
    name = part_name(part.kind, part.name, part.joints, part.rest_m, system)
    if part.kind == "joint" and part is max(liner.parts, key=lambda one: one.length_m):
        name += f" {liner.label}"
    extras = (
        ("double valve", part.valves == 2),
        ("ball seat", part.seat_m is not None),
        ("hold-down", part.hold_down),
    )
    return ", ".join([name, *(word for word, has in extras if has)])


def length_words(liner: Liner, part: LinerPart, system: System) -> str:
    """The length of a part; an assumed one with the sign for that."""
    assumed = part.length_assumed or liner.assembly_assumed
    return f"{ASSUMED if assumed else ''}{number(part.length_m, 'tally', system, THIN)}"


def short_kind(part: LinerPart) -> str:
    """What a part is, in the fewest words."""
    if part.kind == "joint":
        return "1 joint" if part.joints == 1 else f"{part.joints} joints"
    return sentence_case(
        part.kind.removeprefix("tie-back ").removeprefix("liner top ").removeprefix("liner ")
    )


def _row(liner: Liner, its: PartWords, cut: Cut, manner: Manner, top: float, bottom: float) -> Row:
    paper, part = cut.frame, its.part
    y0, y1 = paper.y(top), paper.y(bottom)
    inset = 0.25 * (y1 - y0)
    high = y1 - inset
    if part.slips_md_m is not None:  # the slips have a name of their own, below
        high = y0 + inset
    outer = paper.r(part.od_m if part.od_m is not None else liner.od_m)
    name = its.short if manner.short else its.full
    words: tuple[str, ...] = ()
    if not manner.fields and top == part.top_md_m and bottom == part.bottom_md_m:
        name += f" {its.figures[manner.behind]}"
    if manner.sizes:
        words = (f"{its.figures['OD']} / {its.figures['ID']}",)
    return Row(
        part.path,
        y0 + 0.5 * inset,
        high,
        paper.axis_mm + outer,
        name,
        tuple(its.figures[field] for field in manner.fields),
        words,
        bold=True,
        colour=BLUE,
        rank=_RANKS.get(part.kind, _OTHER_RANK),
    )


def _in_bore(
    evaluation: Evaluation,
    its: PartWords,
    cut: Cut,
    system: System,
    top: float,
    bottom: float,
    *,
    top_told: bool,
) -> tuple[Text, ...] | None:
    """The name and figures of a part as lines in its bore; None where they do not fit."""
    paper, part, name = cut.frame, its.part, its.full
    bore = part.id_m if part.id_m is not None else part.seal_bore_m
    width = 2.0 * paper.r(bore) if bore is not None else 0.0
    if part.kind not in _CLEAR_BORE or width < _LEAST_BORE_MM:
        return None
    y0, y1 = paper.y(top), paper.y(bottom)
    plug = landed_plug(evaluation.plan.depth, paper)
    if plug is not None and y0 < plug.bottom_mm <= y1 + 0.1:
        y1 = plug.top_mm
    wide, tall = width - 2.0 * _WALL_MM, y1 - y0 - 1.0
    if tall < 2 * PITCH_MM or width_mm(name, SMALL_PT, bold=True) > wide:
        return None
    lengths, diameters = unit_of("tally", system), unit_of("diameter", system)
    length, od = f"{its.figures['length']} {lengths}", f"OD {its.figures['OD']}"
    bore_words = f"{'ID' if part.seal_bore_m is None else 'bore'} {its.figures['ID']}"
    both = f"{od}, {bore_words} {diameters}"
    at = (f"top {its.figures['top']}",) if top_told else ()
    for lines in (
        (name, ", ".join((*at, f"{length} long", both))),
        (name, ", ".join((*at, f"{length} long")), both),
        (name, *at, f"{length} long", od, bore_words),
    ):
        height = PITCH_MM * len(lines)
        if height <= tall and all(width_mm(line, SMALL_PT) <= wide for line in lines[1:]):
            first = 0.5 * (y0 + y1 - height) + 2.1
            return tuple(
                Text(
                    paper.axis_mm,
                    first + PITCH_MM * n,
                    line,
                    bold=n == 0,
                    colour=BLUE if n == 0 else "#000000",
                    anchor="middle",
                    backed=True,
                )
                for n, line in enumerate(lines)
            )
    return None
