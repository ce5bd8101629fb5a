"""Planned and recorded: every reading of the record, and beside it what the plan says of it where it does.

The plan's figure is that of the plan alone: what the record has seen does not move it. What was pumped until
an event is held against the count that the events seen before it led to: least and most are of that.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from schematic.depth.plan import Measured, Plan
from schematic.engineering.drag import Motion
from schematic.job import events as happenings
from schematic.job.box_figures import given
from schematic.job.card import Box, Say
from schematic.job.facts import Teller
from schematic.job.hook_loads import hook_load
from schematic.job.installation import Installation
from schematic.job.measured_loads import MOTIONS
from schematic.job.setting import HANGER, SEAT, TOOL
from schematic.job.step_boxes import figures
from schematic.job.step_texts import step_texts
from schematic.outcome import Figure, MissingInput, meets
from schematic.units import DIMENSIONS, KINDS, System, UnitError, half_digit, parse, unit_of, with_unit

# the step and the head under which a hand writes a setting pressure, and the band that it should lie in
_PRESSURES = {
    ("set-the-hanger", "pins at"): HANGER,
    ("release-the-tool", "tool let go at"): TOOL,
    ("shear-the-seat", "opened at"): SEAT,
}

# the boxes of the cards that hold a figure, by its kind; in all others words are written
_BOXES = {
    "count": ("joints counted", "joints run", "joints left", "strokes", "turns"),
    "diameter": ("ball, in", "seat"),
    "force": (
        *("pick up", "slack off", "rotating", "hook load", "liner weight", "weight at tool", "set down"),
        *("slacked off", "pull"),
    ),
    "pressure": (
        *("pressure", "pins at", "held at", "tool let go at", "bled to", "opened at", "circulates at"),
        *("pressure at slow-down", "differential", "drop", "built"),
    ),
    "volume": (happenings.PUMPED, "volume", "spike at", "bumped at", "tanks", "gain", "lost", "bled back"),
    "depth": ("shoe depth", "tagged at"),
    "length": ("stick-up", "travel", "picked up", "fill"),
    "rate": ("rate",),
    "density": ("density",),
    "torque": ("torque",),
    "minutes": ("held for",),
    "time": ("waited",),
}
# the card on which an event is read
_CARD_OF = {
    happenings.BALL: "ball-on-seat",
    happenings.DART_AWAY: "pump-spacer-and-cement",
    happenings.DART: "dart-meets-plug",
    happenings.PLUG_AWAY: "dart-meets-plug",
    happenings.BUMP: "bump-the-plug",
}
_KIND_OF = {box: kind for kind, boxes in _BOXES.items() for box in boxes}
# what a card's "never exceed" is about: an amount that is slacked off, or what the indicator shows
_SLACKED = ("set down", "slacked off")
_HOOK_LOADS = ("hook load", "pick up", "slack off", "rotating", "pull", *MOTIONS)
_CHANGES = ("drop", "built")  # of a pressure: no limit of a pressure is about them
_FAR = (0.5, 1.5)  # of what is planned: a reading beyond is rather a slip of the pen


def box_unit(box: str, system: System) -> str:
    """The unit of a number in a box of a card; empty for a count, and where words are written."""
    if box.endswith(", in"):
        return "in"
    return unit_of(_KIND_OF[box], system) if box in _KIND_OF else ""


def as_written(box: str, typed: str, system: System) -> str:
    """What was typed into a box as the record has it: a number alone gets the unit of the box.

    Raises
    ------
    UnitError
        When a figure goes there and none was typed, or one below nought, or of something else.
    """
    kind = _KIND_OF.get(box)
    if kind is None:
        return typed.strip()
    if kind == "count":
        found = "".join(typed.split())
        if not (found.isascii() and found.replace(".", "", 1).isdigit()):
            raise UnitError(typed, "a number alone such as '76'", "write how many there were")
        return found
    unit, dimension = box_unit(box, system), KINDS[kind][0]
    written = with_unit(typed, unit, dimension)
    si = parse(written, dimension).si
    if si < 0.0 or (si == 0.0 and box == happenings.PUMPED):
        raise UnitError(typed, DIMENSIONS[dimension][1], "write a figure above nought")
    return written


class Compared(NamedTuple):
    """A reading beside the plan; without *planned* and *most* the plan says nothing of it, or *needs* what is
    missing.

    *least* and *most* are those of the plan where it has a band; *inside* is None where it has none. Of what
    was pumped they are those that the events seen before it led to, and so is *expected*; where a card gives
    several figures *planned* is the nearest. A figure of a card is rounded as the *system* prints it: half
    its last digit is granted.
    """

    line: Measured
    read: Figure | None  # None: a word, or a figure of something that the plan does not know
    planned: Figure | None = None
    least: Figure | None = None
    most: Figure | None = None
    needs: tuple[str, ...] = ()
    expected: Figure | None = None  # None: what was planned
    elsewhere: bool = False  # it was read for another place of the liner: not compared
    limit: Figure | None = None  # what must never be exceeded in its step, where it was
    system: System = "field"
    note: Say | None = None  # what the plan's figure is of

    @property
    def over(self) -> Figure | None:
        """What was read over what was planned."""
        if self.read is None or self.planned is None:
            return None
        return Figure(self.read.si - self.planned.si, self.read.kind)

    @property
    def inside(self) -> bool | None:
        """Whether the reading lies in the band of the plan, which may have no end above."""
        if self.read is None or self.least is None:
            return None
        under = self.most is None or not _above(self.read, self.most, self.system)
        return under and not _below(self.read, self.least, self.system)

    @property
    def far(self) -> bool:
        """Whether the reading is so far from what was expected that it may be a slip of the pen. Where only
        the least is known, below that, or above what must never be exceeded.
        """
        if self.least is not None and self.most is None:
            return self.inside is False or self.limit is not None
        expected = self.expected or self.planned or self.most
        if self.read is None or expected is None or expected.si <= 0.0 or self.inside:
            return False
        return not _FAR[0] <= self.read.si / expected.si <= _FAR[1]


def recorded(job: Installation) -> tuple[Compared, ...]:
    """All lines of the record in their order."""
    alone = as_planned(job)
    return tuple(_compared(alone, line, job.plan.record) for line in job.plan.record)


def by_step(compared: tuple[Compared, ...]) -> tuple[Compared, ...]:
    """Lines of the record in the order of the job's steps, those of one step as they were written; what names
    no step stands last.
    """
    codes = [one.code for one in step_texts()]

    def place(one: Compared) -> int:
        code = _code_of(one.line)
        return codes.index(code) if code else len(codes)

    return tuple(sorted(compared, key=place))


def step_of(line: Measured) -> str:
    """The step of a line as it is told: an event that has a card of its own as that card."""
    own = _word(line.step) in (happenings.BALL, happenings.DART, happenings.BUMP)
    return next(one.title for one in step_texts() if one.code == _code_of(line)) if own else line.step


def _code_of(line: Measured) -> str:
    """The card of a step, or of an event; nothing where there is none."""
    step = _word(line.step)
    return _CARD_OF.get(step) or next((one.code for one in step_texts() if _word(one.title) == step), "")


_LINER = ("joints counted", "joints run", "joints left")  # of the liner as it is made up, wherever it stands


def before_depth(line: Measured) -> bool:
    """Whether a reading is of the liner itself or of the way in, wherever the liner is set then."""
    codes, code = [one.code for one in step_texts()], _code_of(line)
    on_the_way = bool(code) and codes.index(code) < codes.index("run-to-depth")
    return on_the_way or _word(line.what) in _LINER


def as_planned(job: Installation) -> Installation:
    """The installation as if nothing had been recorded."""
    return replace(job, plan=replace(job.plan, record=()))


def beside_plan(job: Installation, line: Measured) -> Compared:
    """One line beside the plan, be it in the record or not."""
    return _compared(as_planned(job), line, job.plan.record)


def _compared(job: Installation, line: Measured, record: tuple[Measured, ...]) -> Compared:
    """One line of the record, which the installation has not seen."""
    step, what = _word(line.step), _word(line.what)
    if job.plan.was_elsewhere(line):
        return Compared(line, _read(what, line.value), elsewhere=True)
    code = "" if step in _CARD_OF else _code_of(line)
    made = _beside(job, line, code, step, what, record)._replace(system=job.plan.identity.system)
    return made if made.limit else made._replace(limit=_exceeded(job, code, what, made.read))


def _exceeded(job: Installation, code: str, what: str, read: Figure | None) -> Figure | None:
    """What the card of a step says must never be exceeded, where a reading that it is about was above it."""
    if read is None or not code:
        return None
    never = figures(job, code, Teller(job))[0].never
    if never.figure is None or not _is_about(never, what, read):
        return None
    return never.figure if _above(read, never.figure, job.plan.identity.system) else None


def _is_about(never: Box, what: str, read: Figure) -> bool:
    """Whether what must never be exceeded in a step is of what was read, and not only of the same kind."""
    if never.figure is None or never.figure.kind != read.kind:
        return False
    if read.kind == "force":
        return what in (_SLACKED if never.word.startswith("slack off") else _HOOK_LOADS)
    return what not in _CHANGES


def _above(read: Figure, most: Figure, system: System) -> bool:
    """Whether a reading is above a figure of a card by more than its rounding."""
    return not meets(read.si, most.si + half_digit(most.kind, system, most.si), at_least=False)


def _below(read: Figure, least: Figure, system: System) -> bool:
    """Whether a reading is below a figure of a card by more than its rounding."""
    return not meets(read.si, least.si - half_digit(least.kind, system, least.si), at_least=True)


def _beside(
    job: Installation, line: Measured, code: str, step: str, what: str, record: tuple[Measured, ...]
) -> Compared:
    if what in MOTIONS and line.at_md_m is not None:
        return _load(job.plan, line, MOTIONS[what], line.at_md_m)
    if (code, what) in _PRESSURES:
        return _pressure(job, line, _PRESSURES[code, what])
    if what == happenings.PUMPED:
        return _volume(job, line, step, record)
    if (code, what) == ("dart-meets-plug", "strokes"):
        return _strokes(job, line, record)
    if what in ("joints counted", "joints run"):
        return _joints(job.plan, line)
    return _told(job, line, code, what)


def _read(what: str, value: str) -> Figure | None:
    """The figure of a box, or of a hook load; none of a count or of words."""
    kind = "force" if what in MOTIONS else _KIND_OF.get(what)
    return None if kind in (None, "count") else _figure(value, kind)


def _load(plan: Plan, line: Measured, motion: Motion, shoe_md_m: float) -> Compared:
    """A hook load, block included as the indicator shows it; one friction factor gives no band."""
    read = _figure(line.value, "force")
    try:
        if plan.job.block_weight_n is None:
            raise MissingInput("installation.block weight")
        load = hook_load(plan, shoe_md_m).of(motion) + plan.job.block_weight_n
    except MissingInput as lacking:
        return Compared(line, read, needs=lacking.missing)
    return Compared(line, read, Figure(load, "force"))


def _pressure(job: Installation, line: Measured, name: str) -> Compared:
    """A pressure at surface at which something let go."""
    read = _figure(line.value, "pressure")
    try:
        band = job.setting.band(name).surface
    except MissingInput as lacking:
        return Compared(line, read, needs=lacking.missing)
    nominal, least, most = (Figure(pa, "pressure") for pa in (band.nominal_pa, band.low_pa, band.high_pa))
    return Compared(line, read, nominal, least, most)


def _told(job: Installation, line: Measured, code: str, what: str) -> Compared:
    """A reading of what its card gives by itself."""
    read = _number(line.value) if _KIND_OF.get(what) == "count" else _read(what, line.value)
    try:
        its = given(job, code, what, read)
    except MissingInput as lacking:
        return Compared(line, read, needs=lacking.missing)
    if its is None:
        return Compared(line, read)
    planned = its.planned
    if read and planned and its.others:
        planned = min((planned, *its.others), key=lambda one: abs(one.si - read.si))
    beyond = its.stop is not None and read is not None and _above(read, its.stop, job.plan.identity.system)
    limit = its.stop if beyond else None
    return Compared(line, read, planned, its.least, its.most, limit=limit, note=its.note)


def _volume(job: Installation, line: Measured, name: str, record: tuple[Measured, ...]) -> Compared:
    """The volume on the counter when an event was seen, beside what the events before it led to expect.

    A bump that comes later than where to stop without one is beyond that.
    """
    read = _figure(line.value, "volume")
    try:
        both = _counts(job, name, record)
    except MissingInput as lacking:
        return Compared(line, read, needs=lacking.missing)
    if both is None:  # a ball whose volume is not computed is no event: its card says what it needs
        return _told(job, line, "ball-on-seat" if name == happenings.BALL else "", "volume")
    planned, then = both
    counted = next(one for one in then if one.name == planned.name)
    its = (Figure(m3, "volume") for m3 in (planned.m3, counted.least_m3, counted.most_m3, counted.m3))
    likely, least, most, expected = its
    limit = None
    if planned.name == happenings.BUMP and read is not None:
        stop = next(Figure(one.m3, "volume") for one in then if one.name == happenings.LIMIT)
        limit = stop if _above(read, stop, job.plan.identity.system) else None
    return Compared(line, read, likely, least, most, expected=expected, limit=limit)


def _strokes(job: Installation, line: Measured, record: tuple[Measured, ...]) -> Compared:
    """The strokes when the dart met the plug, beside those of what the events before it led to expect."""
    read = _number(line.value)
    try:
        both = _counts(job, happenings.DART, record)
    except MissingInput as lacking:
        return Compared(line, read, needs=lacking.missing)
    if both is None:
        return Compared(line, read)
    planned, then = both
    counted = next(one for one in then if one.name == planned.name)
    if planned.strokes is None or counted.strokes is None:
        return Compared(line, read, needs=("cement.pump",))
    return Compared(line, read, Figure(planned.strokes, "count"), expected=Figure(counted.strokes, "count"))


def _counts(
    job: Installation, name: str, record: tuple[Measured, ...]
) -> tuple[happenings.Event, tuple[happenings.Event, ...]] | None:
    """An event as planned, and all as those before it were seen; None where there is no such event."""
    names = [_word(one.name) for one in job.events]
    if name not in names:
        return None
    place = names.index(name)
    before = tuple(one for one in record if _word(one.step) in names[:place] and _pumped(one))
    then = replace(job, plan=replace(job.plan, record=before)).events if before else job.events
    return job.events[place], then


def _pumped(line: Measured) -> bool:
    """Whether a line tells a volume that can be counted on from."""
    read = _figure(line.value, "volume")
    return _word(line.what) == happenings.PUMPED and read is not None and read.si > 0.0


def _joints(plan: Plan, line: Measured) -> Compared:
    """The joints that were run against those of the plan: as many, not about as many."""
    planned = Figure(
        float(sum(part.joints for part in plan.depth.liner.parts if part.kind == "joint")), "count"
    )
    read = _number(line.value)
    return Compared(line, read, planned, planned, planned) if read else Compared(line, None, planned)


def _number(text: str) -> Figure | None:
    """A count, None where none was written."""
    try:
        return Figure(float(text), "count")
    except ValueError:
        return None


def _figure(text: str, kind: str) -> Figure | None:
    try:
        return Figure(parse(text, KINDS[kind][0]).si, kind)
    except UnitError:
        return None


def _word(text: str) -> str:
    return " ".join(text.casefold().split())
