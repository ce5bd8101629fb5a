"""The events of pumping: what comes where after how much, with bands, strokes and time.

Each event is counted from where the hand counts it: the ball from when it is dropped, the fronts of fluids
from the start of the job, what the dart does from when it is dropped. A band holds the pump's efficiency
where the file gives one, for events outside the liner the size of the hole where it has a band, and behind
the dart what the fluid is compressed by the final pressure. At rest: no losses, no free fall.
"""

from __future__ import annotations

from typing import NamedTuple

from schematic.depth.nest import circle_m2
from schematic.depth.plan import Plan
from schematic.engineering.ball import ball_trip
from schematic.engineering.cement import Displacement, compressed_share, counted_over_pumped
from schematic.engineering.schedule import Batch
from schematic.engineering.train import Train
from schematic.engineering.volumes import JobVolumes
from schematic.outcome import MissingInput
from schematic.units import parse

BALL = "ball on seat"
DART_AWAY = "dart away"
DART = "dart meets plug"
PLUG_AWAY = "plug away"
BUMP = "bump"
LIMIT = "maximum over-displacement"
PUMPED = "volume pumped"  # what a line of the record measured when an event was seen
# Common practice, from memory: a counter beyond these shares of plan is rather a wrong reading than the pump.
_PLAUSIBLE = 0.85, 1.15

Likely = tuple[float, float, float]  # likely, least, most


class Count(NamedTuple):
    """A volume on a counter: likely, least and most."""

    m3: float
    least_m3: float
    most_m3: float


class Doubted(NamedTuple):
    """A reading that cannot be right: no count follows it. *not_after* is an event that comes before it, and
    the later count at which that was seen; None: it is too far from *expected_m3*.
    """

    seen_m3: float
    expected_m3: float
    not_after: tuple[str, float] | None


class Event(NamedTuple):
    """One event. *volume_m3* is what has to be pumped since its count began; *pump* what the strokes then
    count over that; *squeezed_m3* what the fluid may shrink by on top. *job* and *dart* are the same event
    on the counters that began with the job and with the dart, None where it is not on them.
    """

    name: str
    since: str  # "ball", "job" or "dart"
    volume_m3: Likely
    pump: Likely
    squeezed_m3: float
    hole_m3: float  # of open hole that it passes: its size counts
    stroke_m3: float | None
    seconds: float | None  # since the count began; None: a rate is not given
    rate_m3_per_s: float | None
    observed: bool = False
    job: Count | None = None
    dart: Count | None = None
    doubted: Doubted | None = None  # a reading that was not counted on

    @property
    def m3(self) -> float:
        """What the counter says when it happens."""
        return self.volume_m3[0] * self.pump[0]

    @property
    def least_m3(self) -> float:
        """The least that it may say."""
        return self.volume_m3[1] * self.pump[1]

    @property
    def most_m3(self) -> float:
        """The most that it may say."""
        return self.volume_m3[2] * self.pump[2] + self.squeezed_m3

    @property
    def counted(self) -> Count:
        """The three of them."""
        return Count(self.m3, self.least_m3, self.most_m3)

    @property
    def strokes(self) -> float | None:
        """Strokes of the likely volume; None where the pump is not known."""
        return self.m3 / self.stroke_m3 if self.stroke_m3 else None


def events(
    plan: Plan, volumes: JobVolumes, displacement: Displacement, the_train: Train
) -> tuple[Event, ...]:
    """All events of the job, in the order in which they come, based anew on those that the record has seen.

    A front that does not come to a place before the bump is left out, and the ball where there is none.

    Raises
    ------
    MissingInput
        When the record says of an event that a volume was pumped, and gives none.
    """
    make = _Maker(plan, displacement, the_train)
    found = [event for batch in _fronts(the_train) for event in make.front(batch)]
    found.append(make.event(DART_AWAY, "job", the_train.dart_from_m3))
    bump = the_train.total_m3 - the_train.dart_from_m3
    if the_train.to_plug_m3 is not None:
        found += [make.event(name, "dart", the_train.to_plug_m3) for name in (DART, PLUG_AWAY)]
        found += [
            make.event(BUMP, "dart", bump),
            make.event(LIMIT, "dart", bump + displacement.over_displacement_limit_m3),
        ]
    made = _in_order([*_ball(plan, volumes, make), *found])
    names = {event.name.casefold(): place for place, event in enumerate(made)}
    lines = [(names.get(" ".join(line.step.casefold().split())), line) for line in plan.record]
    seen = [
        (place, index, line.value)
        for index, (place, line) in enumerate(lines)
        if place is not None and line.what.strip().casefold() == PUMPED and not plan.was_elsewhere(line)
    ]
    planned = made
    for place, index, value in sorted(seen):  # as they come, in whatever order they were written
        name = planned[place].name
        try:
            observed = parse(value, "volume").si
            doubt = _doubt(made, name, observed, [event.name for event in planned[:place]])
            made = made if doubt else re_based(made, name, observed)
        except ValueError:
            raise MissingInput(f"record.{index}.value as a volume") from None
        made = tuple(one._replace(doubted=doubt) if one.name == name else one for one in made)
    return made


def _doubt(found: tuple[Event, ...], name: str, observed_m3: float, before: list[str]) -> Doubted | None:
    """Why a reading is not counted on; None where it is. No pump is judged by the hole, nor by when the dart
    was dropped.
    """
    event = next(one for one in found if one.name == name)
    likely = event.volume_m3[0]
    if not observed_m3 > 0.0:
        return None  # no reading at all: said elsewhere
    earlier = [
        one
        for one in found
        if one.observed
        and one.name in before
        and one.since == event.since
        and (event.hole_m3 > 0.0 or one.hole_m3 == 0.0)
    ]
    last = max(earlier, key=lambda one: one.m3, default=None)
    if last is not None and observed_m3 < last.m3:
        return Doubted(observed_m3, likely, (last.name, last.m3))
    if name == DART_AWAY or _by_hole(event, observed_m3):
        return None
    low, high = _PLAUSIBLE
    return None if low <= observed_m3 / likely <= high else Doubted(observed_m3, likely, None)


def _by_hole(event: Event, observed_m3: float) -> bool:
    """Whether the size of the hole outside can be why an event was seen elsewhere."""
    late = observed_m3 / event.pump[0] - event.volume_m3[0]
    return event.hole_m3 > 0.0 and event.hole_m3 + late > 0.0


def pump_showed(found: tuple[Event, ...]) -> float:
    """What the pump's counter says over what it delivers, as the last event inside that was seen showed it.

    One where none was. All that is counted after the job is counted in this proportion too.
    """
    return next((event for event in found if event.name == BUMP), found[-1]).pump[0]


def _fronts(the_train: Train) -> list[Batch]:
    """The first batch of each fluid that is pumped before the dart, but mud."""
    first: dict[str, Batch] = {}
    for batch in the_train.batches:
        if not batch.behind_dart and batch.fluid != the_train.first.fluid:
            first.setdefault(batch.fluid, batch)
    return list(first.values())


def _ball(plan: Plan, volumes: JobVolumes, make: _Maker) -> list[Event]:
    try:
        pumped = ball_trip(plan, volumes).pumped_m3
    except MissingInput:
        return []
    return [] if pumped is None else [make.event(BALL, "ball", pumped)]


class _Maker:
    """Makes events of volumes."""

    def __init__(self, plan: Plan, displacement: Displacement, the_train: Train) -> None:
        self.plan, self.train = plan, the_train
        self.pump = (1.0, *counted_over_pumped(plan))
        self.share = compressed_share(plan) or 0.0
        hole = plan.depth.hole
        likely, least, most = (d.map(circle_m2) for d in (hole.diameter_m, hole.least_m, hole.greatest_m))
        self.hole_m2 = likely, least, most

    def front(self, batch: Batch) -> list[Event]:
        """Where the front of a batch comes to before the bump."""
        liner, host = self.plan.depth.liner, self.plan.depth.host.shoe_md_m
        shoe = batch.from_m3 + self.train.inside_m3
        found = [self.event(f"{batch.fluid} at liner shoe", "job", shoe)]
        places = [("host shoe", host)] if host < liner.shoe_md_m else []
        for where, md in (*places, ("liner top", liner.top_md_m)):
            comes = batch.from_m3 + self.train.up_to_m3(md)
            found.append(self.event(f"{batch.fluid} at {where}", "job", comes, self._hole(md)))
        return [event for event in found if event.volume_m3[0] <= self.train.total_m3]

    def _hole(self, md_m: float) -> tuple[float, float, float]:
        """What the annulus in open hole holds up to a depth, and how much less or more it may."""
        top, foot = max(md_m, self.plan.depth.host.shoe_md_m), self.train.outside_m2.bottom_m
        if top >= foot:
            return 0.0, 0.0, 0.0
        likely, least, most = (area.integral(top, foot) for area in self.hole_m2)
        return self.train.outside_m2.integral(top, foot), min(least - likely, 0.0), max(most - likely, 0.0)

    def event(
        self, name: str, since: str, m3: float, hole: tuple[float, float, float] = (0.0, 0.0, 0.0)
    ) -> Event:
        """An event after a volume since its count began; outside the liner with the open hole below it."""
        begun = self.train.dart_from_m3 if since == "dart" else 0.0
        passed, low, high = hole
        start, end = self.train.seconds(begun), self.train.seconds(begun + m3)
        now = [batch for batch in self.train.batches if batch.from_m3 < begun + m3]
        timed = since != "ball" and start is not None and end is not None
        return Event(
            name,
            since,
            (m3, m3 + low, m3 + high),
            self.pump,
            m3 * self.share if since == "dart" else 0.0,
            passed,
            self.plan.cement.stroke_m3,
            (end or 0.0) - (start or 0.0) if timed else None,
            now[-1].rate_m3_per_s if now and since != "ball" else None,
        )


def _in_order(found: list[Event]) -> tuple[Event, ...]:
    """The ball, then all others by what the job's counter says, each with its place on both counters."""
    away = next(event for event in found if event.name == DART_AWAY).counted
    made = []
    for event in found:
        own = event.counted
        job: Count | None = own
        dart: Count | None = None
        if event.since == "ball":
            job = None
        elif event.since == "dart":
            job, dart = Count(*(a + b for a, b in zip(away, own, strict=True))), own
        elif own.m3 > away.m3:
            dart = Count(*(b - a for a, b in zip(away, own, strict=True)))
        made.append(event._replace(job=job, dart=dart))
    return tuple(sorted(made, key=lambda event: -1.0 if event.job is None else event.job.m3))


def re_based(found: tuple[Event, ...], name: str, observed_m3: float) -> tuple[Event, ...]:
    """The events after one was seen at another volume of its own count than was expected.

    Inside the string the volume is that of its bores, so that the difference is the pump's: what its counter
    and those that begin later count is counted in the same proportion, and the band of efficiency is gone.
    Seen behind the dart, fronts that come later are counted from the dart as well. Outside the liner the
    difference is the hole's, unless that would leave it no room: all fronts outside come as much later, and
    the band of the hole up to there is gone; nothing changes inside. When the dart goes is what was decided:
    what it does is counted from it as before, and moves on the job's counter alone. What was seen stays, and
    so does what lies before it on its counter: what is seen later settles only what comes after. No
    bump moves the limit of over-displacement, which is there for a bump that comes late.

    *observed_m3* is what the event's own counter said: since the ball, the start of the job, or the dart.

    Raises
    ------
    ValueError
        When there is no such event, or the volume is not above nought.
    """
    event = next((one for one in found if one.name == name), None)
    if event is None or not observed_m3 > 0.0:
        raise ValueError(f"no event {name!r} that could be seen at {observed_m3} m3")
    likely, low, high = event.volume_m3
    pump = event.pump[0]
    late = observed_m3 / pump - likely
    seen = event._replace(
        volume_m3=(likely + late,) * 3,
        pump=(pump,) * 3,
        squeezed_m3=0.0,
        seconds=_later(event, late),
        observed=True,
    )
    if name == DART_AWAY:
        made = [seen if one is event else one for one in found]
    elif _by_hole(event, observed_m3):
        made = [
            seen
            if one is event
            else one
            if one.observed or one.hole_m3 == 0.0
            else _moved(one, late, low - likely, high - likely)
            for one in found
        ]
    else:
        ratio = observed_m3 / likely
        seen = _counted(event, ratio)._replace(volume_m3=(likely,) * 3, squeezed_m3=0.0, observed=True)
        made = [seen if one is event else _by_pump(one, event, found, ratio) for one in found]
    return _in_order(made)


_COUNTERS = ("ball", "job", "dart")  # in the order in which they begin


def _by_pump(one: Event, seen: Event, found: tuple[Event, ...], pump: float) -> Event:
    """An event after another showed what the pump delivers: its count in the same proportion."""
    if one.observed or (one.name, seen.name) == (LIMIT, BUMP):
        return one
    if one.since == seen.since:
        return _between(one, seen, found, pump)
    if _COUNTERS.index(one.since) >= _COUNTERS.index(seen.since):
        return _counted(one, pump)
    if one.job is None or seen.job is None or one.job.m3 < seen.job.m3:
        return one
    # a front that comes after what the dart did is counted from the dart
    away = next(event for event in found if event.name == DART_AWAY)
    likely, low, high = (volume - away.volume_m3[0] for volume in one.volume_m3)
    seconds = None if one.seconds is None or away.seconds is None else one.seconds - away.seconds
    return _counted(one._replace(since="dart", volume_m3=(likely, low, high), seconds=seconds), pump)


def _between(one: Event, seen: Event, found: tuple[Event, ...], pump: float) -> Event:
    """An event on the counter of one that was seen: what lies before another that was seen earlier stays,
    what lies between the two is counted from the one to the other, what comes after by the later alone.
    """
    mine = [event for event in found if event.observed and event.since == seen.since and event.hole_m3 == 0.0]
    earlier = [event for event in mine if event.volume_m3[0] < seen.volume_m3[0]]
    if not earlier:
        return _counted(one, pump)
    last = max(earlier, key=lambda event: event.volume_m3[0])
    begun, end = last.volume_m3[0], seen.volume_m3[0]
    if one.volume_m3[0] <= begun:
        return one
    if one.volume_m3[0] >= end:
        return _counted(one, pump)
    share = (one.volume_m3[0] - begun) / (end - begun)
    return _counted(one, (last.m3 + share * (pump * end - last.m3)) / one.volume_m3[0])


def _moved(event: Event, late_m3: float, low_m3: float, high_m3: float) -> Event:
    """An event that comes so much later, without a part of the hole's band that is known by then."""
    likely, low, high = event.volume_m3
    comes = likely + late_m3
    band = (comes, min(low - low_m3 + late_m3, comes), max(high - high_m3 + late_m3, comes))
    return event._replace(volume_m3=band, seconds=_later(event, late_m3))


def _later(event: Event, late_m3: float) -> float | None:
    """When an event comes that comes so much later, at the rate of that time."""
    if event.seconds is None or not event.rate_m3_per_s:
        return None
    return event.seconds + late_m3 / event.rate_m3_per_s


def _counted(event: Event, pump: float) -> Event:
    """An event counted by a pump whose output is known by now."""
    seconds = None if event.seconds is None else event.seconds * pump / event.pump[0]
    return event._replace(pump=(pump, pump, pump), seconds=seconds)
