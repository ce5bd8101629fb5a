"""What one step of the installation tells the hand who runs it: plain data, before any unit or paper.

Sentences are templates with figures, made into text at the way out (`outcome.sentence`). A figure that
cannot be computed is None and *needs* says for want of what; nothing is assumed in its place.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from schematic.engineering.columns import Layer
from schematic.outcome import Figure, Uncomputed


class Say(NamedTuple):
    """A sentence: ``{name}`` in *text* is filled from *figures*."""

    text: str
    figures: Mapping[str, Figure | str] = {}


class Box(NamedTuple):
    """One of the three boxes of a card: a figure in large type, or a word where there is none, and why."""

    figure: Figure | None
    word: str  # in place of the figure: "none", "not computed"; beside it: what kind of figure it is
    lines: tuple[Say, ...]
    strong: bool = False  # the first line is a limit that counts as much as the figure


class GaugeBand(NamedTuple):
    """Pressures at surface between which something happens."""

    name: str  # "hanger"
    low_pa: float
    high_pa: float
    mine: bool  # of this step; the others are to be kept clear of


class Gauge(NamedTuple):
    """The pressure gauge: linear from nought, bands of events, where to go and where to stop."""

    bands: tuple[GaugeBand, ...]
    target_pa: float | None
    limit_pa: float | None
    why: str  # what the limit is: "160 below the tool band"


class Weight(NamedTuple):
    """Hook load with the block before and after, in this step's motion; None: as *says* tells."""

    before_n: float | None
    after_n: float | None
    motion: str  # "slacking off", "picking up", "rotating", "at rest"
    says: tuple[Say, ...]


class Countdown(NamedTuple):
    """Volume from the start of a counter to an event, likely, least and most, strokes and time."""

    event: str
    m3: float
    least_m3: float
    most_m3: float
    strokes: float | None
    seconds: float | None
    at_rest_pa: float | None  # at surface then, friction of flow apart; None: not told
    since: str  # what the counter began with: "the ball", "the first fluid", "the dart"


class IfNot(NamedTuple):
    """A sign that does not show, and what to do then."""

    question: Say
    action: Say


class Scene(NamedTuple):
    """The well at a step: what stands where and in which state; the drawing shows nothing else."""

    shoe_md_m: float | None  # of the liner; None: it is not in the well
    inside: tuple[Layer, ...]  # fluids in string and liner, from the top down
    outside: tuple[Layer, ...]  # fluids outside, from the top down
    ball_md_m: float | None
    dart_md_m: float | None
    plug_md_m: float | None
    plug_latched: bool  # landed on the collar
    raised_m: float  # how far the running string was picked up from where it carried the liner
    raised_known: bool  # False: it is drawn higher, by how much the file does not say
    tool_released: bool
    string_out: bool
    slips_set: bool
    packer_set: bool
    dogs_out: bool
    ports: str  # "" or which way the fluid goes: "down the string", "reverse"
    pressure_from_md_m: float | None  # what is under pressure inside: from here
    pressure_to_md_m: float | None  # to here
    by_tool: bool = False  # it sets the hanger from the seat in the tool, by ports that no file places
    annulus_to_md_m: float | None = None  # outside the string is under pressure too, down to here
    raised_below_m: float | None = None  # raised until the weight shows, by less; drawn by half of it
    left_known: bool = True  # False: what stays above the liner top is not drawn, nobody knows how much


class Card(NamedTuple):
    """One step."""

    number: int
    code: str  # "set-the-hanger"
    title: str
    sub: Say  # one line under the title
    do: tuple[Say, ...]
    now: Box
    next: Box
    never: Box
    gauge: Gauge | None
    pressure: tuple[Say, ...]  # at the gauge in this step, or why there is none; never empty
    volume: tuple[Say, ...]  # to the next event, or why nothing is pumped; never empty
    weight: Weight
    counts: tuple[Countdown, ...]  # the next events by volume
    state: tuple[tuple[str, str], ...]  # string, tool, ball, dart, plug, seals, packer, fluids: in words
    look_for: tuple[Say, ...]
    if_not: tuple[IfNot, ...]
    pick_up_limit: Say | None
    as_read: tuple[str, ...]  # heads of the boxes to write in
    caution: tuple[Say, ...]
    scene: Scene
    released: bool  # False: what is to be done now is beyond what must never be exceeded
    needs: tuple[Uncomputed, ...]
    waits_for: int | None = None  # the number of the step on hold that holds this one up

    @property
    def on_hold(self) -> bool:
        """Whether nothing of it is done yet, for what it says itself or for a step before it."""
        return not self.released or self.waits_for is not None

    @property
    def now_head(self) -> str:
        """What stands over the figure of now: on hold, it is not now that it is done."""
        if not self.released:
            return "Planned, on hold"
        return "Now" if self.waits_for is None else f"On hold with {self.waits_for}"
