"""What changed between two issues of a well file: where things are, what is computed, found and written.

A change is the difference of unrounded figures, printed at the resolution of its kind.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation, evaluate
from schematic.comparison.compare import absent, findings_between
from schematic.comparison.figures import figures
from schematic.comparison.words import difference, follows, moved, signed
from schematic.depth.plan import LinerPart
from schematic.depth.resolve import resolve
from schematic.export.tables import Cell, Column, Table, part_name
from schematic.outcome import Figure
from schematic.units import System, sentence_case, show, unit_of
from schematic.wellfile.nodes import Mapping as Keys
from schematic.wellfile.nodes import Node, Scalar, Sequence, key_text, normalised
from schematic.wellfile.path import spell
from schematic.wellfile.read import Document

_LISTED = (
    "name",
    "part",
    "rule",
    "md",
    "to",
    "at",
    "what",
    "step",
    "tvd",
    "number",
)  # what tells items apart


class Written(NamedTuple):
    """A value that is written otherwise: its path, what stood there and what stands there; "" for nothing."""

    path: str
    old: str
    new: str


class Differences(NamedTuple):
    """Two issues of a well and what is written otherwise in them; all else follows from the evaluations."""

    old: Evaluation
    new: Evaluation
    written: tuple[Written, ...]

    @property
    def other_well(self) -> bool:
        """Whether the two files are of wells of different names."""
        return self.old.plan.identity.name != self.new.plan.identity.name

    @property
    def any(self) -> bool:
        """Whether anything is written, computed or found otherwise."""
        system = self.new.plan.identity.system
        return bool(self.written or computed(self, system).rows or found(self, system).rows)


def differences(old: Document, new: Document) -> Differences:
    """Both files evaluated, and what is written otherwise.

    Raises
    ------
    InputError
        With all problems of the file that has them; the old one is looked at first.
    """
    return Differences(evaluate(resolve(old)), evaluate(resolve(new)), written(old.root, new.root))


def written(old: Node, new: Node) -> tuple[Written, ...]:
    """What is written otherwise, path by path in the order of the new file, what is gone behind it.

    Items of a list are told apart by name, part, rule or depth, so that one more item is one change.
    """
    before = dict(_values(old, old, (), ()))
    after = dict(_values(new, new, (), ()))
    made = [
        Written(path, before.get(key, ("", ""))[1], text)
        for key, (path, text) in after.items()
        if key not in before or before[key][1] != text
    ]
    made += [Written(path, text, "") for key, (path, text) in before.items() if key not in after]
    return tuple(made)


_Key = tuple[str, ...]


def _values(
    root: Node, node: Node, loc: tuple[str | int, ...], key: _Key
) -> Iterator[tuple[_Key, tuple[str, str]]]:
    """Every text of a tree: what it is known by in another file, its path, the text."""
    if isinstance(node, Scalar):
        yield key, (spell(root, loc), _tidy(node.value))
    elif isinstance(node, Keys):
        for entry in node.entries:
            name = key_text(entry)
            yield from _values(root, entry.value, (*loc, name), (*key, name))
    else:
        seen: dict[str, int] = {}
        for index, item in enumerate(node.items):
            label = _label(item)
            seen[label] = seen.get(label, 0) + 1
            yield from _values(root, item, (*loc, index), (*key, f"[{label}] {seen[label]}"))


def _tidy(text: str | None) -> str:
    return " ".join((text or "").split())


def _label(item: Node) -> str:
    """What tells an item of a list from its neighbours; nothing for bare values and lists."""
    if isinstance(item, Keys):
        for word in _LISTED:
            for entry in item.entries:
                if key_text(entry) == word and isinstance(entry.value, Scalar) and entry.value.value:
                    return f"{word} {normalised(entry.value.value)}"
    return "" if not isinstance(item, Sequence) else "list"


def computed(both: Differences, system: System) -> Table:
    """The figures that changed: before, now, and by how much."""
    before, after = figures(both.old), figures(both.new)
    rows: list[tuple[Cell, ...]] = []
    for name in dict.fromkeys((*after, *before)):
        old, new = before.get(name), after.get(name)
        one = new or old
        assert one is not None
        was = absent(both.old, name, system) if old is None else ""
        now = absent(both.new, name, system) if new is None else ""
        if old is None or new is None:
            change = "" if "not computed" in (was, now) else "new" if old is None else "gone"
        else:
            change = signed(old, new, system)
        if change or was or now:
            unit = unit_of(one.kind, system)
            rows.append(
                (
                    name,
                    unit,
                    old or was,
                    new or now,
                    change.removesuffix(f" {unit}") if unit else change,
                )
            )
    heads = ("what", "unit", "before", "now", "change")
    return Table("What is computed otherwise", tuple(Column(head) for head in heads), tuple(rows))


class MovedPart(NamedTuple):
    """A part of the liner in both issues; None where it is not in one of them."""

    name: str
    old: LinerPart | None
    new: LinerPart | None


def parts(both: Differences, system: System) -> tuple[MovedPart, ...]:
    """The liner's parts of both, matched by kind, name and count from the shoe up; from the top down."""

    def keyed(evaluation: Evaluation) -> Mapping[tuple[str, str, int], LinerPart]:
        made: dict[tuple[str, str, int], LinerPart] = {}
        for part in reversed(evaluation.plan.depth.liner.parts):  # counted from the shoe up, as it is made up
            count = sum(key[:2] == (part.kind, part.name) for key in made)
            made[part.kind, part.name, count] = part
        return made

    old, new = keyed(both.old), keyed(both.new)
    made = [
        MovedPart(_part_name(new.get(key) or old[key], system), old.get(key), new.get(key))
        for key in dict.fromkeys((*new, *old))
    ]
    return tuple(sorted(made, key=_top_md_m))


def _top_md_m(one: MovedPart) -> float:
    part = one.new or one.old
    return part.top_md_m if part else 0.0


def _part_name(part: LinerPart, system: System) -> str:
    return part_name(part.kind, part.name, part.joints, part.rest_m, system)


def _facts(part: LinerPart, system: System) -> dict[str, str]:
    """What of a part is compared beside its place."""
    facts = {"joints": str(part.joints)} if part.kind == "joint" else {}
    facts["length"] = show(part.length_m, "tally", system)
    for word, value in (
        ("OD", part.od_m),
        ("ID", part.id_m),
        ("seat", part.seat_m),
        ("bore", part.seal_bore_m),
    ):
        facts[word] = "not given" if value is None else show(value, "diameter", system)
    return facts


def parts_changed(both: Differences, system: System) -> Table:
    """Parts that are new, gone or of other measures; what only moved is told by the depths."""
    rows: list[tuple[Cell, ...]] = []
    for one in parts(both, system):
        if one.old is None or one.new is None:
            part = one.new or one.old
            assert part is not None
            words = f"{show(part.length_m, 'tally', system)}, top {show(part.top_md_m, 'tally', system)}"
            rows.append((one.name, "gone" if one.new is None else "new", words))
            continue
        before, after = _facts(one.old, system), _facts(one.new, system)
        changes = [
            f"{word} {after[word]} (was {before[word]})" for word in after if before.get(word) != after[word]
        ]
        if changes:
            rows.append((one.name, "changed", ", ".join(changes)))
    return Table("Parts of the liner", (Column("part"), Column("how"), Column("what")), tuple(rows))


def found(both: Differences, system: System) -> Table:
    """Findings that are new, gone, or of another severity or size; waivers that came or went."""
    rows: list[tuple[Cell, ...]] = [*findings_between(both.old, both.new, system)]
    old, new = ({(w.rule, w.subject): w for w in one.plan.waived} for one in (both.old, both.new))
    rows += [
        ("waived", "", rule, f"by {w.by}: {w.reason}") for (rule, s), w in new.items() if (rule, s) not in old
    ]
    rows += [
        ("no longer waived", "", rule, f"by {w.by}: {w.reason}")
        for (rule, s), w in old.items()
        if (rule, s) not in new
    ]
    heads = ("finding", "severity", "rule", "what")
    return Table("Findings", tuple(Column(head) for head in heads), tuple(rows))


def written_table(both: Differences) -> Table:
    """What is written otherwise."""
    rows = tuple((one.path, one.old or "not written", one.new or "not written") for one in both.written)
    return Table("What is written otherwise", (Column("path"), Column("before"), Column("now")), rows)


def in_sentences(both: Differences, system: System) -> tuple[str, ...]:
    """The differences in the words of the trade, the most telling first."""
    said: list[str] = []
    if both.other_well:
        names = both.old.plan.identity.name, both.new.plan.identity.name
        said.append(f"these are two wells: {names[0]} and {names[1]}")
    before, after = figures(both.old), figures(both.new)
    shifts = moved(before, after, system)
    if shifts:
        said.append("; ".join(shifts))
    said += follows(both.new, before, after, system)
    said += _strings(both, system)
    listed = found(both, system).rows
    words = {"appears": "new", "goes": "gone", "changes": "changed", "not checked": "no longer checked"}
    counted = [(sum(row[0] == how for row in listed), word) for how, word in words.items()]
    told = [f"{count} {'finding' if count == 1 else 'findings'} {word}" for count, word in counted if count]
    if told:
        said.append(", ".join(told))
    if not computed(both, system).rows:
        said.append("nothing that is computed has changed")
    if not listed:
        said.append("no finding has changed")
    if not both.written:
        said.append("nothing is written otherwise")
    return tuple(sentence_case(text) for text in said)


def _strings(both: Differences, system: System) -> list[str]:
    """Strings and hole that came, went or moved."""
    old, new = both.old.plan.depth, both.new.plan.depth
    said = []
    before, after = ({s.name: s for s in depth.strings} for depth in (old, new))
    said += [f"{name} is new" for name in after if name not in before]
    said += [f"{name} is gone" for name in before if name not in after]
    for name, string in after.items():
        if name in before:
            by = difference(
                Figure(before[name].shoe_md_m, "tally"), Figure(string.shoe_md_m, "tally"), system
            )
            if by:
                way = "deeper" if string.shoe_md_m > before[name].shoe_md_m else "higher"
                said.append(f"shoe of the {name} {by} {way}")
    by = difference(Figure(old.td_md_m, "tally"), Figure(new.td_md_m, "tally"), system)
    if by:
        said.append(f"bottom of the hole {by} {'deeper' if new.td_md_m > old.td_md_m else 'higher'}")
    fluids_before, fluids_after = ({f.name: f for f in one.plan.fluids} for one in (both.old, both.new))
    for name, fluid in fluids_after.items():
        if name not in fluids_before:
            said.append(f"fluid {name} is new")
        elif by := difference(
            Figure(fluids_before[name].density_kg_per_m3, "density"),
            Figure(fluid.density_kg_per_m3, "density"),
            system,
        ):
            heavier = fluid.density_kg_per_m3 > fluids_before[name].density_kg_per_m3
            said.append(f"{name} {'heavier' if heavier else 'lighter'} by {by}")
    said += [f"fluid {name} is gone" for name in fluids_before if name not in fluids_after]
    if old.path.stations != new.path.stations:
        tvd = [one.path.tvd_m(one.liner.shoe_md_m) for one in (old, new)]
        by = difference(Figure(tvd[0], "tvd"), Figure(tvd[1], "tvd"), system)
        count = f"{len(old.path.stations)} and {len(new.path.stations)} stations"
        said.append(
            f"another survey ({count})"
            + (f": the shoe is {by} {'deeper' if tvd[1] > tvd[0] else 'higher'} in TVD" if by else "")
        )
    return said


def tables_of(both: Differences, system: System) -> tuple[Table, ...]:
    """All tables of a comparison, in words first; those without rows are there too."""
    words = Table("In words", (Column("what"),), tuple((text,) for text in in_sentences(both, system)))
    return (
        words,
        computed(both, system),
        parts_changed(both, system),
        found(both, system),
        written_table(both),
    )
