"""What a liner elsewhere leaves to settle by hand, and all that it changes, as tables."""

from __future__ import annotations

import math

from schematic.comparison.differences import computed, written_table
from schematic.comparison.installation import installation_differs
from schematic.comparison.replan import Replanned
from schematic.comparison.replan_words import Told, findings_table, in_words
from schematic.engineering.volumes import RATHOLE, SHOE_TRACK
from schematic.export.tables import Column, Table
from schematic.units import System, sentence_case


def tables_of(made: Replanned, system: System) -> tuple[Table, ...]:
    """All that a liner elsewhere changes, in words first; tables without rows are there too."""
    return (
        Table("In words", (Column("what"),), tuple((text,) for text in in_words(made, system))),
        findings_table(made, system),
        Table("To settle by hand", (Column("what"),), tuple((text,) for text in by_hand(made, system))),
        computed(made.both, system),
        installation_differs(made.both, system),
        written_table(made.both),
    )


def by_hand(made: Replanned, system: System) -> tuple[str, ...]:
    """What was written by hand for the old place and does not follow, or has to be decided anew."""
    if not made.down_m:
        return ()
    told = Told(made, system)
    said = [*_pipe(told), *_more_cement(told), *_schedule(told), *_slurries(told), *_tests(told)]
    said += [
        f"option {name!r} writes over depths that moved ({', '.join(over)}): mend it or take it out"
        for name, over in made.options
    ]
    said += [
        f"{row.path} is {row.new} now, as the survey goes (was {row.old}): check it"
        for row in made.both.written
        if row.old and row.path.startswith("liner.") and row.path.endswith(("tvd", "below sea level"))
    ]
    said += [*_readings(told), *_waived(told), *_revision(told)]
    return tuple(sentence_case(text) for text in said)


def _pipe(told: Told) -> list[str]:
    if told.new.plan.depth.running is None:
        return ["the file has no running string: what of it is laid down is not told"]
    if told.made.pipe is None:
        way = "shorter" if told.up else "longer"
        return [f"the running string has no drill pipe in the file: make it {told.far} {way}"]
    return []


def _more_cement(told: Told) -> list[str]:
    old, new = told.old.cement, told.new.cement
    if old is None or new is None or new.total_m3 < old.total_m3:
        return []
    more = told.show(new.total_m3 - old.total_m3, "volume")
    if told.show(old.total_m3, "volume") == told.show(new.total_m3, "volume"):
        return []
    return [f"the job takes {more} of slurry more than the old plan: count the cement on location"]


def _schedule(told: Told) -> list[str]:
    """Volumes of the pumping schedule that were written for the old place."""
    lines = told.new.plan.cement.schedule
    was, cement = told.old.cement, told.new.cement
    if was is None or cement is None:
        return []
    said = []
    before = {slurry.name: slurry.volume_m3 for slurry in was.slurries}
    for slurry in cement.slurries:
        its = [line.volume_m3 for line in lines if line.fluid == slurry.name]
        pumped = [volume for volume in its if volume is not None]
        asked = told.now(before.get(slurry.name, 0.0), slurry.volume_m3, "volume")
        if its and len(pumped) == len(its) and "was" in asked:
            all_of_it = told.show(math.fsum(pumped), "volume")
            said.append(
                f"the schedule pumps {all_of_it} of {slurry.name}, as written; the plan asks for {asked}"
            )
    return said + _displacing(told, set(before))


def _displacing(told: Told, slurries: set[str]) -> list[str]:
    """The first volume behind the dart, which would keep all that follow it where they were."""
    old, new = told.old.displacement, told.new.displacement
    lines = told.new.plan.cement.schedule
    if old is None or new is None:
        return []
    last = max((i for i, line in enumerate(lines) if line.fluid in slurries), default=len(lines))
    behind = [(i, line.volume_m3) for i, line in enumerate(lines[:-1]) if i > last]
    written = [(i, volume) for i, volume in behind if volume is not None]
    bump = told.now(old.to_bump_m3, new.to_bump_m3, "volume")
    if not written or "was" not in bump:
        return []
    index, first = written[0]
    fits = first + new.to_bump_m3 - old.to_bump_m3
    total = math.fsum(volume for _i, volume in written)
    if total > new.to_bump_m3:
        left = f"it and the lines behind it pump {told.show(total - new.to_bump_m3, 'volume')} too much"
    else:
        left = (
            f"{told.now(old.to_bump_m3 - total, new.to_bump_m3 - total, 'volume')} are left for the last line"
        )
    keeps = f"{told.show(fits, 'volume')} keeps all that follows as it was" if fits > 0.0 else "write it anew"
    return [
        f"line {index + 1} of the schedule, {told.show(first, 'volume')}, was written for the old "
        f"displacement: {keeps}; as it is, {left}"
    ]


def _slurries(told: Told) -> list[str]:
    """Slurries that have no length left outside the liner, since they change over at a fixed depth."""
    old, new = told.old.cement, told.new.cement
    if old is None or new is None:
        return []
    before, after = (
        {s.slurry for s in cement.sections if s.name not in (SHOE_TRACK, RATHOLE)} for cement in (old, new)
    )
    return [
        f"no {name} is left outside the liner: the slurries change over at a fixed depth, 'below'"
        for name in sorted(before - after)
    ]


def _tests(told: Told) -> list[str]:
    """Tests whose light fluid would now reach below the liner top."""
    top, was = (one.plan.depth.liner.top_md_m for one in (told.new, told.old))
    return [
        f"test {test.name}: light fluid to {told.show(to, 'depth')} would stand in the liner, "
        f"whose top is at {told.show(top, 'depth')}: write its depth anew"
        for test in told.new.plan.job.tests
        if (to := test.light_fluid_to_md_m) is not None and top < to <= was
    ]


def _waived(told: Told) -> list[str]:
    """What was accepted of the old plan, and is taken out of the new one."""
    return [
        f"{w.rule}{f' of {w.subject}' if w.subject else ''} was accepted by {w.by} for the old place "
        f"({w.reason}): no longer waived, ask again"
        for w in told.old.plan.waived
    ]


def _revision(told: Told) -> list[str]:
    revision = told.new.plan.identity.revision
    said = [f"the new file still says revision {revision.number}: give it its own"] if revision else []
    return [*said, "the new plan is checked and approved by nobody"]


def _readings(told: Told) -> list[str]:
    """Readings of the old place, which stay in the record."""
    its = [
        f"{line.step}, {line.what} {line.value}"
        for line in told.new.plan.record
        if told.new.plan.was_elsewhere(line)
    ]
    if not its:
        return []
    return [
        f"read before, for the old place: they stay in the record and are not compared ({'; '.join(its)})"
    ]
