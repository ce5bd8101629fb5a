"""What changed between two issues of a well file: where things are, what is computed, found and written.

A change is the difference of the figures before they are rounded for print, rounded once itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation, evaluate
from schematic.comparison.around import around
from schematic.comparison.compare import NOT_COMPUTED, NOT_KNOWN, absent, findings_between
from schematic.comparison.figures import together
from schematic.comparison.installation import installation_otherwise
from schematic.comparison.words import follows, moved, signed
from schematic.comparison.written import Written, written
from schematic.depth.plan import LinerPart
from schematic.depth.resolve import resolve
from schematic.export.report import plural
from schematic.export.tables import Cell, Column, Table, part_name
from schematic.units import System, sentence_case, show, unit_of
from schematic.wellfile.read import Document


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


def computed(both: Differences, system: System) -> Table:
    """The figures that changed: before, now, and by how much."""
    before, after = together(both.old, both.new)
    rows: list[tuple[Cell, ...]] = []
    for name in dict.fromkeys((*after, *before)):
        old, new = before.get(name), after.get(name)
        one = new or old
        assert one is not None
        was = absent(both.old, name, system) if old is None else ""
        now = absent(both.new, name, system) if new is None else ""
        if old is None or new is None:
            change = "" if {NOT_COMPUTED, NOT_KNOWN} & {was, now} else "new" if old is None else "gone"
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
    note = "a change is rounded once: its last digit may be another than that of the two figures"
    return Table("What is computed otherwise", tuple(Column(head) for head in heads), tuple(rows), note)


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
    before, after = together(both.old, both.new)
    shifts = moved(before, after, system)
    if shifts:
        said.append("; ".join(shifts))
    said += follows(both.new, before, after, system)
    said += around(both.old, both.new, system)
    listed = found(both, system).rows
    words = {
        "appears": "new",
        "goes": "gone",
        "changes": "changed",
        "not checked": "no longer made, input missing",
    }
    counted = [(sum(row[0] == how for row in listed), word) for how, word in words.items()]
    told = [
        f"{plural(count, 'check' if word.endswith('missing') else 'finding')} {word}"
        for count, word in counted
        if count
    ]
    if told:
        said.append(", ".join(told))
    if not computed(both, system).rows:
        others = installation_otherwise(both.old, both.new, system)
        told_of = f"no other figure has changed than of {'; '.join(others)}" if others else ""
        said.append(told_of or "nothing that is computed has changed")
    if not listed:
        said.append("no finding has changed")
    if not both.written:
        said.append("nothing is written otherwise")
    return tuple(sentence_case(text) for text in said)


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
