"""The liner's parts as a detail names them: in their own bore on white where that is wide, else in rows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal, NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import LinerPart
from schematic.drawing.captions import NO_BREAK, PITCH_MM, SMALL_PT, THIN
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


def name_parts(evaluation: Evaluation, cut: Cut, system: System, manner: Manner) -> Named:
    """Names and figures of all parts between the cuts."""
    groups: list[Group] = []
    rows: list[Row] = []
    for part in evaluation.plan.depth.liner.parts:
        top, bottom = max(part.top_md_m, cut.top_md_m), min(part.bottom_md_m, cut.bottom_md_m)
        if top >= bottom:
            continue
        written = (
            None
            if manner.short
            else _in_bore(evaluation, part, cut, system, top, bottom, top_told="top" in manner.fields)
        )
        if written is not None:
            groups.append(Group(part.path, sentence_case(part.name), written))
            continue
        rows.append(_row(evaluation, part, cut, system, manner, top, bottom))
    return Named(tuple(groups), tuple(rows))


def signs(
    evaluation: Evaluation, top_md_m: float, bottom_md_m: float, manner: Manner, system: System
) -> list[str]:
    """What the signs beside figures between two depths stand for."""
    fields = ("OD", "ID") if manner.sizes else manner.fields
    found = [
        figure_of(evaluation, part, field, system)
        for part in evaluation.plan.depth.liner.parts
        if part.top_md_m < bottom_md_m and part.bottom_md_m > top_md_m
        for field in (*fields, *(() if "length" in fields else ("length",)))
    ]
    words = [f"?{NO_BREAK}not{NO_BREAK}given"] if "?" in found else []
    return words + ([f"\u2248{NO_BREAK}assumed"] if any(text.startswith("\u2248") for text in found) else [])


def heads_of(fields: tuple[Field, ...], system: System) -> tuple[str, ...]:
    """Heads of the figures; the first of each kind carries the unit."""
    length, diameter = unit_of("tally", system), unit_of("diameter", system)
    units = {"top": length, "length": "" if "top" in fields else length, "OD": "", "ID": diameter}
    return tuple(f"{field}, {units[field]}" if units[field] else field for field in fields)


def figure_of(evaluation: Evaluation, part: LinerPart, field: str, system: System) -> str:
    """A figure of a part as it is printed: assumed lengths with a sign, "?" where it is not given."""
    if field == "top":
        return number(part.top_md_m, "tally", system, THIN)
    if field == "length":
        assumed = part.length_assumed or evaluation.plan.depth.liner.assembly_assumed
        return f"{chr(0x2248) if assumed else ''}{number(part.length_m, 'tally', system, THIN)}"
    if field == "OD":
        return number(part.od_m, "diameter", system) if part.od_m is not None else "?"
    bore = next((b for b in (part.seal_bore_m, part.id_m, part.seat_m) if b is not None), None)
    if bore is None:
        return "valve" if part.kind in _VALVED else "?"
    return number(bore, "diameter", system)


def full_name(evaluation: Evaluation, part: LinerPart, system: System) -> str:
    """What the tally calls a part, with what it can do."""
    liner = evaluation.plan.depth.liner
    name = part_name(part.kind, part.name, part.joints, part.rest_m, system)
    if part.kind == "joint" and part is max(liner.parts, key=lambda one: one.length_m):
        name += f" {liner.label}"
    extras = (
        ("double valve", part.valves == 2),
        ("ball seat", part.seat_m is not None),
        ("hold-down", part.hold_down),
    )
    return ", ".join([name, *(word for word, has in extras if has)])


def short_kind(part: LinerPart) -> str:
    """What a part is, in the fewest words."""
    if part.kind == "joint":
        return "1 joint" if part.joints == 1 else f"{part.joints} joints"
    return sentence_case(
        part.kind.removeprefix("tie-back ").removeprefix("liner top ").removeprefix("liner ")
    )


def _row(
    evaluation: Evaluation,
    part: LinerPart,
    cut: Cut,
    system: System,
    manner: Manner,
    top: float,
    bottom: float,
) -> Row:
    paper, liner = cut.frame, evaluation.plan.depth.liner
    y0, y1 = paper.y(top), paper.y(bottom)
    inset = 0.25 * (y1 - y0)
    high = y1 - inset
    if part.slips_md_m is not None:  # the slips have a name of their own, below
        high = y0 + inset
    outer = paper.r(part.od_m if part.od_m is not None else liner.od_m)
    name = short_kind(part) if manner.short else full_name(evaluation, part, system)
    words: tuple[str, ...] = ()
    if not manner.fields and top == part.top_md_m and bottom == part.bottom_md_m:
        name += f" {figure_of(evaluation, part, manner.behind, system)}"
    if manner.sizes:
        words = (" / ".join(figure_of(evaluation, part, field, system) for field in ("OD", "ID")),)
    return Row(
        part.path,
        y0 + 0.5 * inset,
        high,
        paper.axis_mm + outer,
        name,
        tuple(figure_of(evaluation, part, field, system) for field in manner.fields),
        words,
        bold=True,
        colour=BLUE,
        rank=_RANKS.get(part.kind, _OTHER_RANK),
    )


def _in_bore(
    evaluation: Evaluation,
    part: LinerPart,
    cut: Cut,
    system: System,
    top: float,
    bottom: float,
    *,
    top_told: bool,
) -> tuple[Text, ...] | None:
    """The name and figures of a part as lines in its bore; None where they do not fit."""
    paper = cut.frame
    bore = part.id_m if part.id_m is not None else part.seal_bore_m
    width = 2.0 * paper.r(bore) if bore is not None else 0.0
    if part.kind not in _CLEAR_BORE or width < _LEAST_BORE_MM:
        return None
    name = full_name(evaluation, part, system)
    y0, y1 = paper.y(top), paper.y(bottom)
    plug = landed_plug(evaluation.plan.depth, paper)
    if plug is not None and y0 < plug.bottom_mm <= y1 + 0.1:
        y1 = plug.top_mm
    wide, tall = width - 2.0 * _WALL_MM, y1 - y0 - 1.0
    if tall < 2 * PITCH_MM or width_mm(name, SMALL_PT, bold=True) > wide:
        return None
    lengths, diameters = unit_of("tally", system), unit_of("diameter", system)
    length = f"{figure_of(evaluation, part, 'length', system)} {lengths}"
    od, bore_words = (f"{word} {figure_of(evaluation, part, word, system)}" for word in ("OD", "ID"))
    if part.seal_bore_m is not None:
        bore_words = bore_words.replace("ID", "bore")
    both = f"{od}, {bore_words} {diameters}"
    at = (f"top {figure_of(evaluation, part, 'top', system)}",) if top_told else ()
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
