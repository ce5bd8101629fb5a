"""When it goes differently: the liner stopped off bottom or is hung elsewhere, and the plan for that.

The liner is made up: its length stays, so that shoe and top move together, and the hole stays as it is. The
new plan is the text of the old one with the depths moved that fix the two, the running string as much shorter
or longer, and a planned top of cement that keeps its height above the liner top. Every depth that is written
moves by the same, so that what disagreed before still does. All else follows from evaluating that text.
"""

from __future__ import annotations

import re
from pathlib import PurePath
from typing import Literal, NamedTuple

from schematic.comparison.differences import Differences, differences
from schematic.depth.plan import Plan, RunningPart
from schematic.depth.resolve import resolve
from schematic.job.recorded import before_depth
from schematic.units import UnitError, Written, number, parse, show, to_unit, with_unit
from schematic.wellfile import edit
from schematic.wellfile import path as paths
from schematic.wellfile.nodes import Mapping, Scalar, entry_of, key_text
from schematic.wellfile.path import Loc
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import Document, read_text
from schematic.wellfile.tree import parse as parse_tree

Place = Literal["shoe", "top"]

_SAME_M = 1e-5  # depths that differ by less, a hundredth of a millimetre, are one
_EXACT = 2e-6  # of a unit: no depth is rounded by more
_FEW = 4  # decimals that are still read easily
_DIGITS = "+-\u2212 0123456789.,/½¼¾⅛⅜⅝⅞\u00a0\u2009\u202f"  # what stands in front of a unit
_DRILL_PIPE = ("drill pipe", "heavy-weight drill pipe")
_BAND = re.compile(r"\s*(?:\+/-|±|\+-)")


class Replanned(NamedTuple):
    """A plan with its liner elsewhere.

    *down_m* is how far it moved, below nought: up. *pipe* is the line of the old running string that becomes
    shorter or longer, None where no line does. *options* are those of the file that write over a depth which
    moved: the name of each with the paths of these depths.
    """

    text: str
    place: Place
    down_m: float
    both: Differences
    pipe: RunningPart | None
    options: tuple[tuple[str, tuple[str, ...]], ...]


def place_of(plan: Plan, place: Place, words: str, unit: str = "") -> Written:
    """The measured depth that somebody says of shoe or top: `12090 ft`, `150 ft off bottom`, `150 ft high`.

    Off bottom is always the shoe; high and deep count from the planned place. A length without a word is a
    measured depth. *unit* is that of a number alone. A word in front that names shoe or top has to name the
    one that is asked for.

    Raises
    ------
    UnitError
        When it is not one depth, or names the other place.
    """
    said = re.sub(r"\s+MD$", "", " ".join(words.split()), flags=re.IGNORECASE)
    lead = _LEADS.match(said)
    named = _PLACE.findall(lead[0].casefold()) if lead else []
    said = _LEADS.sub("", said)
    other = "top" if place == "shoe" else "shoe"
    if other in named:
        mend = f"give it as the {other}, or leave the word out where the {place} is meant"
        raise UnitError(words, f"where the liner {place} is, not its {other}", mend)
    if "top" in named and _OFF_BOTTOM.fullmatch(said):
        raise UnitError(
            words, "the depth of the liner top", "off bottom is the shoe: leave out 'top' where it is meant"
        )
    liner = plan.depth.liner
    planned = liner.shoe_md_m if place == "shoe" else liner.top_md_m
    for pattern, from_m, sign in (
        (_OFF_BOTTOM, plan.depth.td_md_m + planned - liner.shoe_md_m, -1.0),
        (_HIGH, planned, -1.0),
        (_DEEP, planned, 1.0),
    ):
        found = pattern.fullmatch(said)
        if found:
            length = _one(found["length"] or found["behind"], unit)
            if length.si < 0.0:
                raise UnitError(words, "an amount that is not below 0", "say high or deep, without a minus")
            return Written(length.text, from_m + sign * length.si)
    return _one(said, unit)


def _one(text: str, unit: str) -> Written:
    """One length, a number alone with the unit."""
    written = parse(with_unit(text, unit, "length"), "length")
    if written.low is not None:
        raise UnitError(written.text, "one depth, without a tolerance", "leave the tolerance out")
    return written


def _said_as(*words: str) -> re.Pattern[str]:
    """A length with one of some words behind it, or before it."""
    its = "|".join(words)
    return re.compile(
        rf"(?:(?P<length>.*?\S)\s*\b(?:{its})|(?:{its})\b(?: by)?\s*(?P<behind>.*\S))", re.IGNORECASE
    )


_LEADS = re.compile(
    r"^(?:(?:about|at|is|it|the|of|liner|shoe|top|stands?|stopped|stuck|hangs?|hung up)\b[\s:]*)+",
    re.IGNORECASE,
)
_PLACE = re.compile(r"\b(?:shoe|top)\b")
_BOTTOM = r"(?:the )?(?:bottom|td|hole bottom|bottom of (?:the )?hole)"
_OFF_BOTTOM = _said_as(rf"(?:off|above|from|short of|over) {_BOTTOM}", "off")
_PLAN = r"(?: (?:than|of|from|the) ?(?:the )?(?:plan|planned|planned depth|depth))?"
_HIGH = _said_as(rf"(?:too )?(?:high(?:er)?|up|shallow(?:er)?|short|above){_PLAN}")
_DEEP = _said_as(rf"(?:too )?(?:deep(?:er)?|down|low(?:er)?|below){_PLAN}")


def replan(document: Document, place: Place, wanted: Written, file: str | None = None) -> Replanned:
    """The plan with the shoe, or the top, of its liner at another measured depth; *file* is to be its name.

    Raises
    ------
    InputError
        When the liner cannot be there, or the file does not read.
    """
    plan = resolve(document)
    liner = plan.depth.liner
    down = wanted.si - (liner.shoe_md_m if place == "shoe" else liner.top_md_m)
    if abs(down) < _SAME_M:
        down = 0.0
    _must_fit(document, plan, place, down)
    _cement_must_fit(document, plan, down)
    index = _pipe(document, plan, down)
    work = _Work(document, wanted.text)
    if down:
        _liner(work, plan, down)
        if index is not None:
            work.move(("running string", "assembly", index, "length"), down)
        _cement(work, plan, down)
        _record(work, plan, down)
        if plan.waived:  # accepted of the plan as it was, as an approval is
            work.text = edit.remove(work.text, "waived")
        _issue(work, document, plan)
    new = read_text(work.text, file or document.file, document.folder)
    both = differences(document, new)
    path = f"running string.assembly.{index}"
    running = plan.depth.running
    pipe = next((part for part in running.parts if part.path == path), None) if running else None
    return Replanned(work.text, place, down, both, pipe, _options(document, work.moved))


def lengthened(document: Document, plan: Plan, down_m: float, wanted: str) -> dict[str, str]:
    """What is written otherwise of the running string, by path, when the liner top goes down by *down_m*.

    Nothing where no line of it changes. *wanted* has the unit for what would take many digits.

    Raises
    ------
    InputError
        When its uppermost drill pipe is shorter than what is to be laid down.
    """
    work = _lengthened(document, plan, down_m, wanted)
    root = parse_tree(work.text, document.file)
    written = {}
    for loc in work.moved:
        node, _key = paths.at(root, loc)
        assert isinstance(node, Scalar)  # it was just written
        written[paths.spell(document.root, loc)] = node.value or ""
    return written


def with_longer_string(document: Document, plan: Plan, down_m: float, wanted: str) -> str:
    """The text of a document with the same change of its running string; raises as `lengthened`.

    *plan* is that of the running string as it stands in the document.
    """
    return _lengthened(document, plan, down_m, wanted).text


def _lengthened(document: Document, plan: Plan, down_m: float, wanted: str) -> _Work:
    work = _Work(document, wanted)
    index = None if abs(down_m) < _SAME_M else _pipe(document, plan, down_m)
    if index is not None:
        work.move(("running string", "assembly", index, "length"), down_m)
    return work


def file_name(file: str, place: Place, depth: str) -> str:
    """The name of a new file beside the old one.

    >>> file_name("brindlewick-4.yaml", "shoe", "12090 ft")
    'brindlewick-4-shoe-12090-ft.yaml'
    """
    old = PurePath(file)
    at = re.sub(r"[^0-9A-Za-z.]+", "-", depth).strip("-.")
    return f"{old.stem}-{place}-{at}{old.suffix}"


class _Work:
    """The text of a well file while depths in it move, and where these stand."""

    def __init__(self, document: Document, wanted: str) -> None:
        self.root, self.text, self.unit = document.root, document.text, _unit(wanted)
        self.moved: list[Loc] = []

    def move(self, loc: Loc, by_m: float, decimals: int | None = None) -> None:
        """Add to the length at a place, if one is written there; with *decimals* it is rounded.

        A tolerance behind it stays; of low, likely and high each moves.
        """
        holder, _key = paths.at(self.root, loc[:-1])
        entry = entry_of(holder, str(loc[-1])) if isinstance(holder, Mapping) else None
        if entry is None:
            return
        if isinstance(entry.value, Mapping):
            for inner in entry.value.entries:
                self.move((*loc, key_text(inner)), by_m, decimals)
            return
        assert isinstance(entry.value, Scalar)  # it was read as a length
        stood = entry.value.value or ""
        nominal = _BAND.split(stood, maxsplit=1)[0]
        unit, moved = _unit(nominal), parse(nominal, "length").si + by_m
        text = self._written(moved, unit) if decimals is None else _text(moved, unit, decimals)
        self.text = edit.set(self.text, paths.spell(self.root, loc), text + stood[len(nominal) :])
        self.moved.append(loc)

    def add(self, loc: Loc, md_m: float) -> None:
        """A depth where none was written, in the unit of the wanted one."""
        self.text = edit.set(self.text, paths.spell(self.root, loc), self._written(md_m, self.unit))

    def _written(self, value_m: float, unit: str) -> str:
        """A length in a unit or, where that takes many digits, in the unit of the wanted depth."""
        for its in (unit, self.unit):
            value = to_unit(value_m, its, "length")
            for decimals in range(_FEW + 1):
                if abs(round(value, decimals) - value) < _EXACT:
                    return _text(value_m, its, decimals)
        return _text(value_m, unit, 6)


def _unit(text: str) -> str:
    """The unit behind a length as somebody wrote it; metres where it is not simply behind digits."""
    unit = text.strip().lstrip(_DIGITS)
    try:
        to_unit(0.0, unit, "length")
    except ValueError:
        return "m"
    return unit


def _text(value_m: float, unit: str, decimals: int) -> str:
    value = round(to_unit(value_m, unit, "length"), decimals) + 0.0  # no minus nought
    digits = f"{value:.{decimals}f}"
    return f"{digits.rstrip('0').rstrip('.') if decimals else digits} {unit}"


def _must_fit(document: Document, plan: Plan, place: Place, down_m: float) -> None:
    """Raises where the hole ends above the shoe, or the top is not in its host."""
    depth, system = plan.depth, plan.identity.system
    liner, host = depth.liner, depth.host
    top, shoe = liner.top_md_m + down_m, liner.shoe_md_m + down_m
    highest, length = max(host.top_md_m, 0.0), liner.shoe_md_m - liner.top_md_m
    lowest = min(host.shoe_md_m, depth.td_md_m - length)

    def tell(md_m: float) -> str:
        return show(md_m, "depth", system)

    if shoe > depth.td_md_m + _SAME_M:
        found, accepted = (
            f"a liner shoe at {tell(shoe)}",
            f"a shoe in the hole, which ends at {tell(depth.td_md_m)}",
        )
    elif top < highest - _SAME_M:
        begins = f"begins at {tell(host.top_md_m)}" if host.top_md_m > 0.0 else "begins at the surface"
        found, accepted = f"a liner top at {tell(top)}", f"a top in its host, {host.name}, which {begins}"
    elif top > host.shoe_md_m - _SAME_M:
        found = f"a liner top at {tell(top)}"
        accepted = f"a top above the shoe of its host, {host.name}, at {tell(host.shoe_md_m)}"
    else:
        return
    shift = length if place == "shoe" else 0.0
    reach = f"{number(highest + shift, 'depth', system)} and {tell(lowest + shift)}"
    mend = f"the made-up liner is {show(length, 'length', system)} long: give a {place} between {reach}"
    raise InputError((document.problem(("liner",), found, accepted, mend),))


def _pipe(document: Document, plan: Plan, down_m: float) -> int | None:
    """The line of the running string that gives or takes: its uppermost drill pipe, what was run last.

    Raises where that line is not long enough for what is to be laid down.
    """
    running, written = plan.depth.running, document.content.running_string
    if running is None or written is None:
        return None
    lines = [i for i, line in enumerate(written.assembly) if line.part in _DRILL_PIPE]
    if not lines:
        return None
    index = lines[-1]
    line = next(part for part in running.parts if part.path == f"running string.assembly.{index}")
    if line.length_m + down_m > _SAME_M:
        return index
    system = plan.identity.system
    found = f"{show(-down_m, 'length', system)} of pipe to lay down"
    accepted = f"less than its uppermost drill pipe is long, {show(line.length_m, 'length', system)}"
    mend = "take lines out of the running string first, so that the rest still reaches the liner top"
    raise InputError((document.problem(("running string", "assembly", index), found, accepted, mend),))


def _liner(work: _Work, plan: Plan, down_m: float) -> None:
    """Moves all depths that are written of the liner.

    A TVD moves as the survey goes, to the nearest hundredth. Where it alone fixed shoe or top, the measured
    depth, which is what is known now, is written beside it.
    """
    path, liner = plan.depth.path, plan.depth.liner
    for key, by_m in (("top", down_m), ("shoe", down_m), ("lap", -down_m), ("off bottom", -down_m)):
        work.move(("liner", key), by_m)
    measured = {str(loc[1]) for loc in work.moved}
    ends = (("top", liner.top_md_m, "lap"), ("shoe", liner.shoe_md_m, "off bottom"))
    for end, md_m, other in ends:
        deeper = path.tvd_m(md_m + down_m) - path.tvd_m(md_m)
        before = len(work.moved)
        for key in (f"{end} tvd", f"{end} below sea level"):
            work.move(("liner", key), deeper, 2)
        if len(work.moved) > before and not {end, other} & measured:
            work.add(("liner", end), md_m + down_m)


def _cement(work: _Work, plan: Plan, down_m: float) -> None:
    """Moves a planned top that is at or above the liner top with it, up to the datum at most."""
    planned, top = plan.cement.planned_top_md_m, plan.depth.liner.top_md_m
    if planned is not None and planned < top + _SAME_M:
        work.move(("cement", "planned top"), max(down_m, -planned))


def _record(work: _Work, plan: Plan, down_m: float) -> None:
    """Marks the readings that are those of the old place, so that they are not compared with the new plan.

    What was read on the way in is as good as before, as far as the shoe still comes there.
    """
    shoe = plan.depth.liner.shoe_md_m
    for index, line in enumerate(plan.record):
        on_the_way = line.at_md_m is not None and line.at_md_m <= shoe + down_m + _SAME_M
        if line.planned_shoe_md_m is None and not on_the_way and not before_depth(line):
            work.add(("record", index, "planned shoe"), shoe)


def _issue(work: _Work, document: Document, plan: Plan) -> None:
    """Says that the plan is another than its revision issued, which nobody has checked or approved.

    Back where the revision had it, it is what was issued again.
    """
    its, revision = plan.identity, document.content.well.revision
    if revision is not None and revision.content is None:
        work.text = edit.set(work.text, "well.revision.content", its.content_hash)
    if its.state != "replanned":
        work.text = edit.set(work.text, "well.state", "replanned")
    elif revision is not None and revision.content is not None:
        again = edit.remove(work.text, "well.state")
        found = resolve(read_text(again, document.file, document.folder)).identity.content_hash
        if found == revision.content.lower():
            work.text = again


def _cement_must_fit(document: Document, plan: Plan, down_m: float) -> None:
    """Raises where a top of cement that stays where it is would be below the shoe, or one that keeps its
    height above the liner top would be above the datum.
    """
    planned, liner, written = plan.cement.planned_top_md_m, plan.depth.liner, document.content.cement
    if planned is None or written is None:
        return
    system, shoe = plan.identity.system, liner.shoe_md_m + down_m
    if written.above_liner_top is not None and planned + down_m < 0.0:
        top = show(liner.top_md_m + down_m, "depth", system)
        key = "above liner top"
        found = f"cement {written.above_liner_top.text} above a liner top at {top}"
        accepted, mend = "a top of cement below the datum", "write less, or a 'planned top'"
    elif planned > liner.top_md_m + _SAME_M and planned > shoe - _SAME_M:
        key = "planned top"
        found = f"a planned top of cement at {show(planned, 'depth', system)}"
        accepted = f"a top above the new liner shoe, {show(shoe, 'depth', system)}"
        mend = "write a higher 'planned top' first"
    else:
        return
    raise InputError((document.problem(("cement", key), found, accepted, mend),))


def _options(document: Document, moved: list[Loc]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The options that write over a depth which moved."""
    made = []
    for option in document.content.options or ():
        over = []
        for path in option.change or ():
            loc = paths.locate(document.root, paths.split(path)[:-1])
            loc = (*loc, paths.next_step(document.root, loc, paths.split(path)[-1]) or "")
            if any(loc == one[: len(loc)] for one in moved):
                over.append(path)
        if over:
            made.append((option.name, tuple(over)))
    return tuple(made)
