"""Makes the boxes, gauge and counts of one step; what they lack is kept and said.

Every figure comes from the engineering; where an input is missing the box says what it needs, and no other
figure stands in its place. Pressures are at surface, at rest; hook loads have the block in them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import partial
from typing import NamedTuple

from schematic.engineering.at_rest import difference_pa, weak_points
from schematic.engineering.drag import Motion
from schematic.engineering.train import Place, Train
from schematic.job.bounds import Bound, begins_pa, going_round, least, rock_bound
from schematic.job.card import Box, Countdown, Gauge, GaugeBand, Say, Weight
from schematic.job.events import Event
from schematic.job.facts import Teller, pump_band_known
from schematic.job.hook_loads import HookLoad
from schematic.job.installation import Installation
from schematic.job.overpull import overpull, overpull_limit
from schematic.job.setting import BALL_BRANCH, DART_BRANCH, EITHER, HANGER, PLUG
from schematic.job.setting import BUMP as BUMP_BAND
from schematic.outcome import Figure, MissingInput

NOTHING = Box(None, "none", ())
MAY_BE_LESS = "Not known, may be less"
_COUNTERS = {"ball": "the ball", "job": "the first fluid", "dart": "the dart"}
_STATES = 20  # of the columns, looked at over a step that is pumped


class Figures(NamedTuple):
    """All figures of a step."""

    now: Box
    next: Box
    never: Box
    gauge: Gauge | None
    weight: Weight | None  # None: what is to be expected all the same is told by `step_weights`
    counts: tuple[Countdown, ...]
    released: bool
    pumps: tuple[Say, ...] = ()  # what goes in at which rate, by the schedule


class BandFigures(NamedTuple):
    """The band of a setting pressure as figures: its ends, its middle, and up to where it counts."""

    low: Figure
    high: Figure
    nominal: Figure
    counts_to: Figure


class BoxMaker:
    """Makes boxes of one step and keeps what they lack in the step's teller."""

    def __init__(self, job: Installation, teller: Teller, code: str) -> None:
        self.job, self.plan, self.teller, self.code = job, job.plan, teller, code

    def box(self, what: str, figure: Callable[[], Figure], *lines: str) -> Box:
        """A box with a figure, or one that says what it needs."""
        try:
            found = figure()
        except MissingInput as error:
            self.teller.needs[what] = error.missing
            return Box(None, "not computed", (Say("needs {needs}", {"needs": ", ".join(error.missing)}),))
        return Box(found, what, tuple(self.teller.say(line) for line in lines))

    def bound(self, what: str, bound: Callable[[], Bound], kind: str = "pressure") -> Box:
        """A box of what must not be exceeded, with its reason."""
        try:
            found = bound()
        except MissingInput as error:
            self.teller.needs["never exceed"] = error.missing
            return Box(None, "not computed", (Say("needs {needs}", {"needs": ", ".join(error.missing)}),))
        lines = [Say("{why}", {"why": found.why[:1].upper() + found.why[1:] + "."})]
        if found.unknown:
            lines.append(Say(f"{MAY_BE_LESS}: {{parts}}.", {"parts": ", ".join(found.unknown)}))
        return Box(Figure(found.pressure_pa, kind), what, tuple(lines))

    def text(self, word: str, *lines: str) -> Box:
        """A box without a figure."""
        return Box(None, word, tuple(self.teller.say(line) for line in lines))

    @property
    def block_n(self) -> float:
        """Weight of the block; raises MissingInput."""
        block = self.plan.job.block_weight_n
        if block is None:
            raise MissingInput("installation.block weight")
        return block

    def hook(self, load: HookLoad, motion: Motion) -> float:
        """A hook load with the block; raises MissingInput where friction is not given."""
        value = {
            Motion.PICKING_UP: load.up_n,
            Motion.SLACKING_OFF: load.down_n,
            Motion.ROTATING: load.rotating_n,
        }[motion]
        if value is None:
            raise MissingInput("installation.friction")
        return value + self.block_n

    def moving(self, load: HookLoad, motion: Motion) -> tuple[float, str]:
        """The hook load of a motion, or without friction that at rest, and which of the two it is."""
        try:
            return self.hook(load, motion), motion.name.lower().replace("_", " ")
        except MissingInput:
            return self.hook(load, Motion.ROTATING), "at rest, no drag"

    def hooked(self, what: str, load: Callable[[], HookLoad], motion: Motion, line: str) -> Box:
        """A box with the hook load of a motion, block included, and which motion it is, or at rest."""
        words = ""

        def value() -> Figure:
            nonlocal words
            hook_n, words = self.moving(load(), motion)
            return Figure(hook_n, "force")

        made = self.box(what, value)
        return (
            made
            if made.figure is None
            else made._replace(lines=(Say(f"{{words}}, {line}", {"words": words}),))
        )

    def count(self, *names: str, dart: bool = False) -> tuple[Countdown, ...]:
        """The events of these names, on the dart's counter where asked; none where not computed."""
        try:
            found = self.job.events
        except MissingInput as error:
            self.teller.needs["count of volume"] = error.missing
            return ()
        counts = tuple(self._count(event, dart) for event in found if event.name in names)
        if any(one.strokes is None for one in counts):
            self.teller.needs["strokes"] = ("cement.pump",)
        if pump_band_known(self.plan):
            return counts
        # compression alone is no band of the count
        behind = {event.name for event in found if event.since == "dart"}
        return tuple(
            one._replace(least_m3=one.m3, most_m3=one.m3) if one.event in behind else one for one in counts
        )

    def _count(self, event: Event, dart: bool) -> Countdown:
        rest = self._at_rest_pa(event)
        if dart and event.since == "job" and event.dart is not None:
            strokes = event.dart.m3 / event.stroke_m3 if event.stroke_m3 else None
            return Countdown(event.name, *event.dart, strokes, None, rest, _COUNTERS["dart"])
        return Countdown(
            event.name, *event.counted, event.strokes, event.seconds, rest, _COUNTERS[event.since]
        )

    def _at_rest_pa(self, event: Event) -> float | None:
        """The gauge at rest as an event comes: nought where the column inside is the heavier. None once the
        hole was seen to hold more or less than planned: the columns would stand otherwise.
        """
        train, depth = self.job.train, self.plan.depth
        if any(one.observed and one.hole_m3 > 0.0 for one in self.job.events):
            return None
        pumped = event.volume_m3[0] + (train.dart_from_m3 if event.since == "dart" else 0.0)
        if event.since == "ball" or pumped > train.total_m3 * (1.0 + 1e-9):
            return None
        place = train.at(min(pumped, train.total_m3))
        return max(difference_pa(place, depth.path, depth.liner.shoe_md_m), 0.0)

    def overpull(self, *, hung: bool = False) -> Box:
        """What may be pulled at most, block included; what bears the liner no longer counts once it hangs."""

        def bound() -> Bound:
            overpull_limit(self.plan)  # raises where nothing is known of a pipe on which all hangs
            found = overpull(self.plan)
            bears = [one for one in found.bearings if not (hung and one.path == "liner")]
            lowest = min(bears, key=lambda one: one.hook_n)
            by_yield = lowest.bears == "body yield"
            share = self.plan.limits["greatest share of rating"].text
            part = f"{share} of the body yield" if by_yield else lowest.bears
            new = ", new pipe" if by_yield else ""
            unknown = tuple(one.name for one in found.unknown if not (hung and one.path == "liner"))
            return Bound(lowest.hook_n + self.block_n, f"{part} of {lowest.name}{new}", unknown)

        return self.bound("pull no more, block included", bound, "force")

    def sets_from(self) -> Box:
        """From which pressure the hanger may set; none where it is not set by pressure."""
        if HANGER not in self.job.setting.order:
            return NOTHING
        return self.box("hanger may set from", lambda: self.band(HANGER).low, "Circulate well below.")

    def still(self, places: Sequence[Place | None]) -> Box:
        """What must not be exceeded with the pump running, and what the rock takes if nothing comes back."""
        made = self.bound("at surface", lambda: going_round(self.plan, self.job.setting, places))
        if made.figure is None:
            return made
        return self.with_rock(made, places)

    def with_rock(self, made: Box, places: Sequence[Place | None], until: str = "") -> Box:
        """A limit with what the rock takes besides if nothing comes back, while it sees the pressure."""
        most = made.figure.si if made.figure else math.inf
        rock = self._no_returns(places, f"If returns stop {until}".rstrip(), most)
        return with_limit(made, *rock)

    def _no_returns(self, places: Sequence[Place | None], head: str, most_pa: float) -> tuple[Say, ...]:
        """What the rock takes at rest: while fluid comes back, friction inside does not reach it."""
        if not weak_points(self.plan):
            return ()
        try:
            least_, first, last = (
                min(least([rock_bound(self.plan, place) for place in its], ()).pressure_pa, most_pa)
                for its in (places, places[:1], places[-1:])
            )
        except MissingInput as error:
            return (Say(f"{head}: not known, needs {{needs}}.", {"needs": ", ".join(error.missing)}),)
        if least_ >= most_pa:
            return ()  # the rock takes all that the card allows
        held = {
            name: pressure(value) for name, value in (("least", least_), ("first", first), ("last", last))
        }
        alone, slow = "the columns alone break the rock", "lowest rate"
        if last <= 0.0 and first <= 0.0:
            return (Say(f"{head}: {alone}; {slow}."),)
        if len(places) == 1:
            return (Say(f"{head}: {{least}} at most, or the rock breaks.", held),)
        if last <= 0.0:
            return (
                Say(
                    f"{head}: at most {{first}} at the start; at the end {alone}; {slow}.",
                    held,
                ),
            )
        if first <= 0.0:
            return (
                Say(
                    f"{head}: at the start {alone}; at most {{last}} at the end; {slow}.",
                    held,
                ),
            )
        between = ", {least} between" if least_ < 0.99 * min(first, last) else ""
        between = ", nothing between" if least_ <= 0.0 else between
        ends = "at most {first} at the start, {last} at the end"
        return (Say(f"{head}: {ends}{between}, or the rock breaks.", held),)

    def going_round(self, begun_m3: float, ended_m3: float) -> Box:
        """What must not be exceeded from one volume pumped to another."""
        try:
            pumped = self.job.train
        except MissingInput as error:  # cement inside leaves less than mud does: no figure without it
            return self.box("at surface", partial(_lacking, error))
        return self.still(self.states(pumped, begun_m3, ended_m3))

    @staticmethod
    def states(pumped: Train, begun_m3: float, ended_m3: float) -> list[Place]:
        """How all stands from one volume pumped to another, evenly and at every front."""
        fronts = {one.from_m3 + more for one in pumped.batches for more in (0.0, pumped.inside_m3)}
        steps = {begun_m3 + (ended_m3 - begun_m3) * n / _STATES for n in range(_STATES + 1)}
        at = sorted({*steps, *(front for front in fronts if begun_m3 < front < ended_m3)})
        return [pumped.at(volume) for volume in at]

    def gauge(self, name: str, target_pa: float | None, limit: Box) -> Gauge | None:
        """The gauge of a step with a band of its own."""
        bands, place = self.job.setting.bands, self.job.setting.places.get(name)
        branch = DART_BRANCH if name in (PLUG, BUMP_BAND) else BALL_BRANCH
        if any(band.name == PLUG and band.columns_pa is None and branch == DART_BRANCH for band in bands):
            return None
        shown = []
        for band in bands:
            if band.branch in (branch, EITHER):
                low = begins_pa(self.plan, band, place)
                high = low + band.high_pa - band.low_pa
                shown.append(GaugeBand(band.name.split()[0], low, high, band.name == name))
        if not any(one.mine for one in shown):
            return None
        why = next((line.figures["why"] for line in limit.lines if "why" in line.figures), "")
        top = limit.figure.si if limit.figure and limit.figure.kind == "pressure" else None
        return Gauge(tuple(shown), target_pa, top, str(why))

    def figure(self, name: str) -> Figure:
        """A figure of the texts by its name; raises MissingInput."""
        found = self.teller.figure(name)
        if isinstance(found, str):
            raise MissingInput(*self.teller.needs[name])
        return found

    def word(self, name: str) -> str:
        """A fact of the texts that is a word, or nothing."""
        found = self.teller.figure(name)
        return found if isinstance(found, str) else ""

    def band(self, name: str) -> BandFigures:
        """The band of a setting pressure; raises MissingInput."""
        band = self.job.setting.band(name)
        return BandFigures(
            *(pressure(one) for one in (band.low_pa, band.high_pa, band.nominal_pa, band.counts_to_pa))
        )


def with_limit(made: Box, *says: Say) -> Box:
    """A limit with others that count as much; its own reason then says of which figure it is."""
    if not says or made.figure is None:
        return made
    why, *rest = made.lines
    figures = dict(why.figures)
    if isinstance(reason := figures.get("why"), str):
        figures["why"] = reason[:1].lower() + reason[1:]
    own = Say(f"{{figure}}: {why.text}", {"figure": made.figure, **figures})
    return made._replace(lines=(*says, own, *rest), strong=True)


def pressure(value_pa: float) -> Figure:
    """A pressure as a figure."""
    return Figure(value_pa, "pressure")


def _lacking(error: MissingInput) -> Figure:
    raise error
