"""What a liner elsewhere means, in words: where it is now, what is laid down, what is pumped, what got worse.

The sentences stand in the order in which the rig floor asks. Figures are those of the two evaluations.
"""

from __future__ import annotations

import math

from schematic.checks.evaluate import Evaluation
from schematic.comparison.compare import findings_between
from schematic.comparison.figures import figures
from schematic.comparison.replan import Replanned
from schematic.comparison.words import follows
from schematic.depth.plan import RunningPart
from schematic.engineering.cement import Cement
from schematic.engineering.volumes import RATHOLE
from schematic.export.report import in_words as inputs_in_words
from schematic.export.tables import Cell, Column, Table
from schematic.outcome import Answer, Found, MissingInput, NotChecked, Passed, sentence
from schematic.units import System, number, sentence_case, show

_PRINTS_M = 0.005  # half the last digit of a tally in metres
_HOW = {"appears": "new", "not checked": "not checked now", "changes": "changed", "goes": "gone"}


class Told:
    """Both evaluations and the units in which they are told."""

    def __init__(self, made: Replanned, system: System) -> None:
        self.made, self.system = made, system
        self.old, self.new = made.both.old, made.both.new
        self.up = made.down_m < 0.0
        self.far = self.show(abs(made.down_m), "length")

    def show(self, si: float, kind: str) -> str:
        """A figure with its unit."""
        return show(si, kind, self.system)

    def now(self, old: float, new: float, kind: str) -> str:
        """A figure now and before; once where it prints the same."""
        told, was = self.show(new, kind), self.show(old, kind)
        return told if told == was else f"{told} (was {was})"


def in_words(made: Replanned, system: System) -> tuple[str, ...]:
    """What the new place means: where everything is, what is laid down, what is pumped."""
    if not made.down_m:
        return (f"The {made.place} of the liner is there already: nothing changes",)
    told = Told(made, system)
    said = [*_place(told), *_left_open(told), *_pipe(told), *_slips(told), *_cement(told)]
    said += [*_displacement(told), *_weight(told)]
    said += follows(told.new, figures(told.old), figures(told.new), system)
    return tuple(sentence_case(text) for text in [*said, *_counts(told)])


def _place(told: Told) -> list[str]:
    old, new = told.old, told.new
    before, after = old.plan.depth, new.plan.depth
    length = told.show(after.liner.shoe_md_m - after.liner.top_md_m, "length")
    said = [
        f"liner {told.far} {'up' if told.up else 'down'}, as long as before ({length}): "
        f"shoe {told.now(before.liner.shoe_md_m, after.liner.shoe_md_m, 'depth')}, "
        f"top {told.now(before.liner.top_md_m, after.liner.top_md_m, 'depth')}"
    ]
    if after.liner.shoe_md_m >= after.host.shoe_md_m:
        said.append(
            f"lap {told.now(old.laps.liner_top_m, new.laps.liner_top_m, 'length')}, hole below the shoe "
            + told.now(
                before.td_md_m - before.liner.shoe_md_m, after.td_md_m - after.liner.shoe_md_m, "length"
            )
        )
    return said


def _left_open(told: Told) -> list[str]:
    """Hole that comes or goes behind the liner, with the rock in it that the file names."""
    before, after = told.old.plan.depth, told.new.plan.depth
    host = after.host.shoe_md_m
    ends = sorted((before.liner.shoe_md_m, after.liner.shoe_md_m))
    top, bottom = max(ends[0], host), max(ends[1], host)
    said = []
    if bottom > top:
        tops = told.new.plan.formation.tops
        below = [*(rock.md_m for rock in tops[1:]), math.inf]
        named = [
            rock.name
            for rock, next_md_m in zip(tops, below, strict=False)
            if rock.md_m < bottom and (next_md_m if rock.base_md_m is None else rock.base_md_m) > top
        ]
        rocks = f": {', '.join(named)}" if named else ""
        how = "is no longer covered by the liner" if told.up else "comes behind the liner"
        depths = f"{number(top, 'depth', told.system)} to {told.show(bottom, 'depth')}"
        said.append(f"hole from {depths} {how}{rocks}")
    if after.liner.shoe_md_m < host <= before.liner.shoe_md_m:
        said.append(f"the shoe stands in the {after.host.name}: no open hole is behind the liner")
    return said


def _pipe(told: Told) -> list[str]:
    running, pipe = told.new.plan.depth.running, told.made.pipe
    if running is None or pipe is None:
        return []
    more = "less" if told.up else "more"
    return [
        f"{pipe.name} {told.far} {more}{_joints(told, pipe, running.stand_m)}; stick-up "
        f"{told.show(running.stick_up_m, 'length')} as before"
    ]


def _joints(told: Told, pipe: RunningPart, stand_m: float | None) -> str:
    """How many joints that is, and the pups that make up for whole joints."""
    joint, length = pipe.joint_length_m, abs(told.made.down_m)
    if not joint:
        return ""
    whole = length / joint
    count = math.ceil(whole - 1e-6) if told.up else math.floor(whole + 1e-6)
    pups = abs(length - count * joint)
    said = []
    if count:
        verb = "lay down" if told.up else "pick up"
        words = f"{verb} {_counted(count, 'joint')} of {told.show(joint, 'length')}"
        per_stand = round(stand_m / joint) if stand_m else 0
        if per_stand > 1 and count >= per_stand:
            stands, singles = divmod(count, per_stand)
            words += f" ({_counted(stands, 'stand')}"
            words += f" and {_counted(singles, 'joint')})" if singles else ")"
        said.append(words)
    if pups > _PRINTS_M:
        said.append(f"add {told.show(pups, 'length')} of pups")
    return f": {', '.join(said)}" if said else ""


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def _answer(evaluation: Evaluation, rule: str) -> Answer | None:
    return next((o.answer for o in evaluation.outcomes if o.rule == rule and o.subject.path == "liner"), None)


def _slips(told: Told) -> list[str]:
    """The slips against the couplings of the host."""
    depth = told.new.plan.depth
    hanger = depth.liner.find("liner hanger")
    if hanger is None or hanger.slips_md_m is None:
        return []
    top, bottom = hanger.slips_md_m
    slips = f"slips {number(top, 'tally', told.system)} to {told.show(bottom, 'tally')}"
    rule = "slips-near-coupling"
    was, answer = _answer(told.old, rule), _answer(told.new, rule)
    if isinstance(answer, Found):
        mend = answer.mend[:1].lower() + answer.mend[1:].rstrip(".")
        return [sentence(f"{answer.headline}: {mend}", answer.figures, told.system)]
    if isinstance(answer, Passed) and answer.value:
        before = ""
        if isinstance(was, Passed) and was.value:
            before = f" (was {told.show(was.value.si, was.value.kind)})"
        clear = told.show(answer.value.si, answer.value.kind)
        return [f"{slips}: {clear} clear of the nearest host coupling{before}"]
    if not depth.host.couplings_md_m:
        return [f"{slips}: the file has no couplings of the {depth.host.name}, look them up in its tally"]
    listed = depth.host.couplings_md_m
    ends = f"{number(listed[0], 'tally', told.system)} to {told.show(listed[-1], 'tally')}"
    return [f"{slips}: the file lists host couplings at {ends} only, look up those around the slips"]


def _cement(told: Told) -> list[str]:
    said = []
    plans = told.old.plan, told.new.plan
    before, after = (plan.cement.planned_top_md_m for plan in plans)
    if before is not None and after is not None:
        was, height = (p.depth.liner.top_md_m - t for p, t in zip(plans, (before, after), strict=True))
        place = told.now(before, after, "depth")
        if height > -_PRINTS_M:
            above = (
                f"{told.now(was, height, 'length')} above the liner top"
                if height > _PRINTS_M
                else "at the liner top"
            )
        else:
            above = f"{told.now(-was, -height, 'length')} below the liner top"
        kept = " as before" if abs(was - height) < _PRINTS_M else ""
        said.append(f"planned top of cement {place}, {above}{kept}")
    old, new = told.old.cement, told.new.cement
    if old is None or new is None:
        return said
    words = f"cement {told.now(old.total_m3, new.total_m3, 'volume')}"
    amounts = [_amount(cement, told.system) for cement in (old, new)]
    if amounts[0] is not None and amounts[1] is not None:
        words += f", {amounts[1]}" + (f" (was {amounts[0]})" if amounts[0] != amounts[1] else "")
    below = [sum(s.volume_m3 for s in cement.sections if s.name == RATHOLE) for cement in (old, new)]
    if below[1] > 0.0:
        words += f"; {told.now(below[0], below[1], 'volume')} of it is for the hole below the shoe, "
        words += "which counts as filled"
    return [*said, words]


def _amount(cement: Cement, system: System) -> str | None:
    """All cement of a job, in sacks or tonnes; None where a yield is not given."""
    kg = [slurry.cement_kg for slurry in cement.slurries]
    sacks = [slurry.sacks for slurry in cement.slurries]
    if system == "field":
        if None in sacks:
            return None
        return f"{number(math.fsum(s or 0.0 for s in sacks), 'count', system)} sacks"
    return None if None in kg else f"{number(math.fsum(k or 0.0 for k in kg) / 1000.0, 'tonnes', system)} t"


def _displacement(told: Told) -> list[str]:
    old, new = told.old.displacement, told.new.displacement
    if old is None or new is None:
        return []
    words = f"displacement to the bump {told.now(old.to_bump_m3, new.to_bump_m3, 'volume')}"
    if old.to_bump_strokes and new.to_bump_strokes:
        words += f", {told.now(old.to_bump_strokes, new.to_bump_strokes, 'count')} strokes"
    if old.to_plug_m3 and new.to_plug_m3:
        words += f"; the dart meets the plug after {told.now(old.to_plug_m3, new.to_plug_m3, 'volume')}"
    return [words]


def _weight(told: Told) -> list[str]:
    """What the weight indicator shows with the liner on depth, by motion where friction is given."""
    try:
        before, after = told.old.job.hook_loads, told.new.job.hook_loads
    except MissingInput:
        return []
    block = before.block_n if before.block_n == after.block_n else None
    said = []
    for word, name in (("picking up", "up_n"), ("at rest", "rotating_n"), ("slacking off", "down_n")):
        old, new = (getattr(one.on_depth, name) for one in (before, after))
        if old is not None and new is not None:
            said.append(f"{word} {told.now(old + (block or 0.0), new + (block or 0.0), 'force')}")
    counted = "without the block" if block is None else "block included"
    return [f"hook load on depth, {counted}: {', '.join(said)}"]


def _counts(told: Told) -> list[str]:
    listed = [row[0] for row in findings_table(told.made, told.system).rows]
    words = {"new": "new", "not checked now": "no longer checked", "changed": "changed", "gone": "gone"}
    said = [f"{listed.count(how)} {word}" for how, word in words.items() if how in listed]
    return [f"findings: {', '.join(said)}" if said else "no finding changes"]


def findings_table(made: Replanned, system: System) -> Table:
    """Findings that are new, lost, changed or gone, in this order: what got worse first.

    A check that passed and lacks an input at the new place is lost, too.
    """
    old, new = made.both.old, made.both.new
    needs = {
        o.rule: inputs_in_words(new, o.answer.missing)
        for o in new.outcomes
        if isinstance(o.answer, NotChecked)
    }
    rows: list[tuple[Cell, ...]] = []
    for how, severity, rule, what in findings_between(old, new, system):
        lost = f"needs {needs[rule]}; was: " if how == "not checked" and severity else ""
        rows.append((_HOW[how], severity, rule, lost + what))
    order = list(_HOW.values())
    rows.sort(key=lambda row: order.index(str(row[0])))
    heads = ("finding", "severity", "rule", "what")
    return Table("Findings, what got worse first", tuple(Column(head) for head in heads), tuple(rows))
