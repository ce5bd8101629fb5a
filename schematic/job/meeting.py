"""A thing on its way through bores: what becomes of it in each, and the first restriction.

Diameters alone are compared: no bend, no ovality, no debris.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from typing import NamedTuple

from schematic.depth.plan import CasingString
from schematic.outcome import meets

HOLE = "hole"


class Verdict(Enum):
    """What becomes of a thing in a bore."""

    PASSES = "passes"
    STOPS = "stops there"
    BLOCKED = "does not pass"
    RUNS_THROUGH = "does not stop there"
    NOT_CHECKED = "not checked"
    APART = "does not meet"


class Thing(NamedTuple):
    """What moves. *needs* names what the file lacks; *size_m* is then what it has at least, or None."""

    name: str
    size_m: float | None
    needs: str = ""
    wants_m: float = 0.0  # what has to be clear around it, on diameter
    to_md_m: float = 0.0  # how deep it goes
    fills: bool = False  # made to come near the wall: rigid centralizer, external packer
    most_play_m: float | None = None  # of a seal: more than that in the bore where it belongs, and it leaks
    widest: str = ""  # what of it has that size, where it is not the body: "tool joint"

    @property
    def stays(self) -> str:
        """What it does in the bore where it belongs: a seal seals, all else lands."""
        return "land" if self.most_play_m is None else "seal"


class Bore(NamedTuple):
    """What is on the way: the diameter that is known to pass, or None, and what the file then lacks."""

    name: str
    by: str  # "bore", "drift", "seat", or "bit or caliper" of the hole: what the diameter is
    path: str  # of the string or part in the well file
    top_md_m: float
    bottom_md_m: float
    passes_m: float | None
    needs: str = ""
    stops: bool = False  # the thing is meant to stop here

    @property
    def told(self) -> str:
        """What the diameter is of: "drift of surface casing"."""
        return f"{self.name}, {self.by}" if self.path == HOLE else f"{self.by} of {self.name}"


class Meeting(NamedTuple):
    """A thing in a bore: what becomes of it, and what is clear on diameter (negative: what is lacking)."""

    thing: Thing
    bore: Bore
    verdict: Verdict
    clear_m: float | None
    needs: tuple[str, ...]

    @property
    def told(self) -> str:
        """What becomes of it, by what the thing is there for."""
        if self.verdict is Verdict.STOPS:
            return f"{self.thing.stays}s there, as it should"
        if self.verdict is Verdict.RUNS_THROUGH:
            return f"should {self.thing.stays} there and does not"
        return str(self.verdict.value)


class Way(NamedTuple):
    """A thing with all that it meets, in that order."""

    thing: Thing
    meetings: tuple[Meeting, ...]

    @property
    def needs(self) -> tuple[str, ...]:
        """All that the file lacks for it, each once."""
        named = (name for meeting in self.meetings for name in meeting.needs)
        return tuple(dict.fromkeys([*([self.thing.needs] if self.thing.needs else []), *named]))

    @property
    def blocked(self) -> Meeting | None:
        """The first bore that it does not pass."""
        return next((one for one in self.meetings if one.verdict is Verdict.BLOCKED), None)

    @property
    def smallest(self) -> Meeting | None:
        """The smallest bore that it has to pass, of equal ones the first; None where none is known."""
        known = [m for m in self.meetings if m.bore.passes_m is not None and not m.bore.stops]
        return min(known, key=lambda m: m.bore.passes_m or 0.0, default=None)

    @property
    def restriction(self) -> Meeting | None:
        """The first restriction: the first bore that it does not pass, else the smallest that it passes.

        None where no diameter on its way is known; where some are not, *needs* says so.
        """
        return self.blocked or self.smallest

    @property
    def least_clear_m(self) -> float | None:
        """The least that is clear around it where it has to pass."""
        clear = [m.clear_m for m in self.meetings if m.clear_m is not None and not m.bore.stops]
        return min(clear, default=None)


def meet(thing: Thing, bore: Bore) -> Meeting:
    """What becomes of a thing in a bore. What is not known never passes; what is known may still stop."""
    needs = tuple(name for name in (thing.needs, bore.needs) if name)
    size, passes = thing.size_m, bore.passes_m
    if size is None or passes is None:
        return Meeting(thing, bore, Verdict.NOT_CHECKED, None, needs)
    clear = passes - size
    fits = meets(size + thing.wants_m, passes, at_least=False)
    if thing.most_play_m is not None and bore.stops:
        plays = not meets(clear, thing.most_play_m, at_least=False)
        verdict = Verdict.BLOCKED if not fits else Verdict.RUNS_THROUGH if plays else Verdict.STOPS
    elif bore.stops:
        verdict = Verdict.RUNS_THROUGH if meets(size, passes, at_least=False) else Verdict.STOPS
    else:
        verdict = Verdict.PASSES if fits else Verdict.BLOCKED
    if needs and verdict in (Verdict.PASSES, Verdict.RUNS_THROUGH):
        verdict = Verdict.NOT_CHECKED  # it may be larger than what is known of it
    return Meeting(thing, bore, verdict, clear, needs)


def way_of(thing: Thing, bores: Iterable[Bore]) -> Way:
    """A thing with all that it meets."""
    return Way(thing, tuple(meet(thing, bore) for bore in bores))


def inside_of(string: CasingString, to_md_m: float) -> Bore:
    """A string as something that is run into, by its drift."""
    needs = f"{string.path}.drift" if string.passes_m is None else ""
    end = min(string.shoe_md_m, to_md_m)
    return Bore(string.name, "drift", string.path, string.top_md_m, end, string.passes_m, needs)
