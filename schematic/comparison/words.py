"""What one way to do a well is against another, in the words of the trade, from the same figures.

First what moves and by how much, then what follows from it. A difference is that of the figures as they are
printed, so that words and tables agree; figures that print the same do not differ.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.comparison import figures as told
from schematic.comparison.figures import Figures
from schematic.engineering.ball import FALL_M_PER_S
from schematic.outcome import Figure, meets
from schematic.units import System, in_system, number, show, size, unit_of


class Phrase(NamedTuple):
    """How a difference in one figure is said when it is more and when it is less; {d} is by how much."""

    more: str
    less: str


_MOST_OF_IT = 0.95  # of the liner's weight: where the hook carries as much, the hole stands nearly upright

# in the order in which they are said
PHRASES = {
    told.HANGER: Phrase("hanger down {d}", "hanger up {d}"),
    told.LINER_TOP: Phrase("liner top down {d}", "liner top up {d}"),
    told.SHOE: Phrase("shoe deeper by {d}", "shoe higher by {d}"),
    told.LENGTH: Phrase("liner longer by {d}", "liner shorter by {d}"),
    told.JOINTS: Phrase("{d} joints more", "{d} joints fewer"),
    told.LAP: Phrase("lap longer by {d}", "lap shorter by {d}"),
    told.INCLINATION: Phrase(
        "{d} more inclination at the liner top", "{d} less inclination at the liner top"
    ),
    told.BIT: Phrase("bit larger by {d}", "bit smaller by {d}"),
    told.DRIFT: Phrase("proven drift of the host larger by {d}", "proven drift of the host smaller by {d}"),
    told.HOLE_GAP: Phrase("gap in hole larger by {d}", "gap in hole smaller by {d}"),
    told.LINER_GAP: Phrase("gap to drift larger by {d}", "gap to drift smaller by {d}"),
    told.LOST: Phrase("{d} more of the host's bore lost", "{d} less of the host's bore lost"),
    told.LINER_DRIFT: Phrase("drift of the liner larger by {d}", "drift of the liner smaller by {d}"),
    told.BURST: Phrase("burst of the liner's pipe {d} more", "burst of the liner's pipe {d} less"),
    told.COLLAPSE: Phrase("its collapse without load {d} more", "its collapse without load {d} less"),
    told.YIELD: Phrase("its body yield {d} more", "its body yield {d} less"),
    told.CEMENT: Phrase("cement {d} more", "cement {d} less"),
    told.IN_LAP: Phrase("cement in the lap {d} more", "cement in the lap {d} less"),
    told.IN_HOLE: Phrase("cement in open hole {d} more", "cement in open hole {d} less"),
    told.ABOVE_TOP: Phrase(
        "cement above the liner top as planned {d} more", "cement above the liner top as planned {d} less"
    ),
    told.EXCESS: Phrase("excess {d} more", "excess {d} less"),
    told.REVERSED: Phrase(
        "{d} more cement above the liner top with no loss", "{d} less cement above the liner top with no loss"
    ),
    told.BUMP: Phrase("displacement {d} more", "displacement {d} less"),
    told.IN_MUD: Phrase("liner heavier by {d} in mud", "liner lighter by {d} in mud"),
}


def difference(before: Figure, after: Figure, system: System, *, fine: bool = False) -> str | None:
    """By how much two figures differ, rounded once, without sign; None when they print the same.

    What differs by 0.12 reads 0.1 beside 269.8 and 270.0, whose own rounding would make it 0.2.

    Where less than half of the last digit is between them, it is "under" that digit. Volumes have the
    decimals of their kind; with *fine* one more where both figures are small enough to print it.
    """
    ends = [number(one.si, one.kind, system) for one in (before, after)]
    if ends[0] == ends[1]:
        return None
    decimals = max(map(_decimals, ends))
    if after.kind == "volume":  # a small one prints with one more
        decimals = min(map(_decimals, ends if fine else [*ends, number(100.0, after.kind, system)]))
    last = Decimal(1).scaleb(-decimals)
    between = in_system(after.si, after.kind, system) - in_system(before.si, before.kind, system)
    by = abs(Decimal(repr(round(between, 9)))).quantize(last, ROUND_HALF_UP)
    under = not by
    unit = unit_of(after.kind, system)
    space = "" if unit == "%" else " "
    return f"{'under ' if under else ''}{by or last:f}{space}{unit}".rstrip()


def _decimals(printed: str) -> int:
    return len(printed.split(" ")[0].partition(".")[2])


def signed(before: Figure, after: Figure, system: System) -> str:
    """The difference with its sign, as a table prints it."""
    text = difference(before, after, system, fine=True)
    if text is None:
        return ""
    if text.startswith("under"):
        return text
    return ("+" if after.si > before.si else "-") + text


def moved(before: Figures, after: Figures, system: System) -> tuple[str, ...]:
    """What is different and by how much, one phrase each.

    What moves as far as the first says so, as long as no other figure stands between them.
    """
    said: list[str] = []
    first, first_si, alone = "", 0.0, True
    for name, phrase in PHRASES.items():
        if name not in before or name not in after:
            continue
        by, by_si = difference(before[name], after[name], system), abs(after[name].si - before[name].si)
        if by is None:
            continue
        # what moves along prints another last digit at times
        same = by == first or (by.split(" ")[-1] == first.split(" ")[-1] and abs(by_si - first_si) < 1e-6)
        if name == told.LINER_TOP and same:
            continue
        alone = alone and (same or not first or name == told.JOINTS)  # a count is no length
        text = phrase.more if after[name].si > before[name].si else phrase.less
        if name == told.JOINTS and by == "1":
            text = text.replace("joints", "joint")
        said.append(text.format(d="the same" if same and alone and "by {d}" in text else by))
        first, first_si = (first, first_si) if first else (by, by_si)
    return tuple(said)


class _Two(NamedTuple):
    """The figures of both ways, and how they are printed."""

    old: Figures
    new: Figures
    system: System

    def both(self, name: str) -> bool:
        """Whether both ways have the figure."""
        return name in self.old and name in self.new

    def differs(self, name: str) -> bool:
        if name not in self.new:
            return False
        return name not in self.old or difference(self.old[name], self.new[name], self.system) is not None

    def now(self, name: str) -> str:
        return show(self.new[name].si, self.new[name].kind, self.system)

    def was(self, name: str, before: str, behind: str = "") -> str:
        """The old figure between two texts; nothing where there was none."""
        if name not in self.old:
            return ""
        return f"{before}{show(self.old[name].si, self.old[name].kind, self.system)}{behind}"


def follows(after: Evaluation, old: Figures, new: Figures, system: System) -> tuple[str, ...]:
    """What follows from the differences, as far as depths, volumes and weights decide it, and the tests."""
    two = _Two(old, new, system)
    return (*_lap(after, two), *_passes(after, two), *_columns(two), *_push(two), *_ball(two), *_tests(two))


def _lap(after: Evaluation, two: _Two) -> list[str]:
    said = []
    host, liner = after.plan.depth.host, after.plan.depth.liner
    if two.differs(told.HANGER_LAP):
        words = f"hanger base {two.now(told.HANGER_LAP)} above the host shoe"
        words += two.was(told.HANGER_LAP, " (was ", ")")
        if told.HANGER_LAP in two.old and two.new[told.HANGER_LAP].si < two.old[told.HANGER_LAP].si:
            words += ": nearer the joints of the host that drilling turned in most"
        said.append(words)
    by = difference(two.old[told.LAP], two.new[told.LAP], two.system) if two.both(told.LAP) else None
    if by and host.id_m > liner.id_m:
        bores = f"{number(host.id_m, 'diameter', two.system)} to {show(liner.id_m, 'diameter', two.system)}"
        word = "more" if two.new[told.LAP].si > two.old[told.LAP].si else "less"
        said.append(f"{by} {word} of the host narrowed from a bore of {bores}")
    return said


def _passes(after: Evaluation, two: _Two) -> list[str]:
    said = []
    if two.differs(told.HOLE_GAP):
        said.append(
            f"gap in hole {two.now(told.HOLE_GAP)}{two.was(told.HOLE_GAP, ' (was ', ')')}: what friction of "
            "flow, and with it the ECD, makes of it is not computed"
        )
    return said + _bit(after, two)


def _bit(after: Evaluation, two: _Two) -> list[str]:
    if not (two.differs(told.DRIFT_GAP) and told.BIT in two.new and told.DRIFT in two.new):
        return []
    host = after.plan.depth.host
    bit = size(two.new[told.BIT].si, two.system)
    if meets(two.new[told.DRIFT_GAP].si, 0.0, at_least=True):
        proof = ""
        if host.special_drift_m == two.new[told.DRIFT].si and host.special_drift_certificate:
            proof = f" (special drift, certificate: {host.special_drift_certificate})"
        return [f"the {bit} bit passes the host's drift of {two.now(told.DRIFT)}{proof}"]
    words = (
        f"the {bit} bit, {two.now(told.BIT)}, does not pass the host's proven drift of {two.now(told.DRIFT)}"
    )
    if host.special_drift_m is not None and not host.special_drift_certificate:
        words += f": a certificate for {show(host.special_drift_m, 'diameter', two.system)} is wanted"
    return [words]


def _columns(two: _Two) -> list[str]:
    """What stands at the shoes and what pushes back when displacement ends, cement as planned."""
    names = {
        told.HOST_EMW: "static EMW at the host shoe",
        told.SHOE_EMW: "static EMW at the liner shoe",
        told.U_TUBE: "U-tube",
    }
    phrases = [
        f"{words} {two.now(name)}{two.was(name, ' (was ', ')')}"
        for name, words in names.items()
        if two.differs(name)
    ]
    return [f"{', '.join(phrases)}: cement as planned"] if phrases else []


def _push(two: _Two) -> list[str]:
    said = []
    short = any(told.SPARE in way and way[told.SPARE].si < 0.0 for way in (two.old, two.new))
    if two.differs(told.SPARE) and short:
        spare = two.new[told.SPARE].si
        word = "more" if spare >= 0.0 else "less"
        words = (
            f"the string above the liner weighs {two.now(told.STRING)} in mud along the hole, "
            f"{show(abs(spare), 'force', two.system)} {word} than the {two.now(told.SET_DOWN)} that set the "
            "packer"
        )
        if told.PUMP_OUT in two.new:
            words += f"; {two.now(told.PUMP_OUT)} push the tool up as the seat shears"
        said.append(words)
    known = all(name in way for way in two[:2] for name in (told.ON_HOOK, told.IN_MUD))
    leans = known and any(way[told.ON_HOOK].si < _MOST_OF_IT * way[told.IN_MUD].si for way in two[:2])
    if two.differs(told.ON_HOOK) and leans:
        said.append(
            f"{two.now(told.ON_HOOK)} of the liner's {two.now(told.IN_MUD)} in mud hang on the hook"
            f"{two.was(told.ON_HOOK, ' (was ', ')')}: "
            "what the weight shows as the hanger sets, without drag"
        )
    return said


def _ball(two: _Two) -> list[str]:
    said = []
    if two.differs(told.SEAT):
        words = f"the ball has its seat at {two.now(told.SEAT)}"
        if told.FALL in two.new:
            words += f": it falls {two.now(told.FALL)}{two.was(told.FALL, ' (was ', ')')}"
            words += f" at {show(FALL_M_PER_S, 'speed', two.system)}"
            words += f", or {two.now(told.PUMPED)} are pumped" if told.PUMPED in two.new else ""
        elif told.PUMPED in two.new:
            words += f": {two.now(told.PUMPED)} have to be pumped, the hole leans too much for it to fall"
        said.append(words + (two.was(told.PUMPED, " (was ", ")") if told.PUMPED in two.new else ""))
    ends = [way[told.UNDER_PRESSURE].si for way in (two.old, two.new) if told.UNDER_PRESSURE in way]
    if two.differs(told.UNDER_PRESSURE) and 0.0 in ends:
        if two.new[told.UNDER_PRESSURE].si > 0.0:
            said.append(f"the setting pressure loads and tests {two.now(told.UNDER_PRESSURE)} of the liner")
        else:
            said.append("the setting pressure neither loads the liner nor tests it")
    if two.differs(told.LEAST_BORE):
        words = f"the least bore of the running string is {two.now(told.LEAST_BORE)}"
        words += two.was(told.LEAST_BORE, " (was ", ")")
        if told.LEAST_BORE in two.old and two.new[told.LEAST_BORE].si < two.old[told.LEAST_BORE].si:
            words += ", sooner bridged by debris"
        said.append(words)
    return said


def _tests(two: _Two) -> list[str]:
    """To what lap and liner are tested, test by test."""
    said: dict[str, list[str]] = {}
    for name in two.new:
        test, _comma, what = name.rpartition(", ")
        if name.startswith(told.TEST) and two.differs(name):
            said.setdefault(test, []).append(f"{what} {two.now(name)}{two.was(name, ' (was ', ')')}")
    gone = dict.fromkeys(
        name.rpartition(", ")[0] for name in two.old if name.startswith(told.TEST) and name not in two.new
    )
    return [
        *(f"{test}: {', '.join(phrases)}" for test, phrases in said.items()),
        *(f"{test}: not planned, or not computed" for test in gone if test not in said),
    ]
