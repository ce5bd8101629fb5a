"""The cards of an installation: each step that this plan has, in order, with its figures."""

from __future__ import annotations

from collections.abc import Iterable

from schematic.job.box_maker import Figures
from schematic.job.card import Card, IfNot, Say
from schematic.job.events import BALL
from schematic.job.facts import Teller
from schematic.job.installation import Installation
from schematic.job.step_boxes import figures
from schematic.job.step_scene import after, scene, state
from schematic.job.step_texts import Line, StepText, holds, step_texts
from schematic.job.step_words import words_of
from schematic.outcome import Figure, MissingInput

_SEAL_IN = "prove-the-release"  # from here on the seal can be picked out


_ON_HOLD = Say("planned, on hold:")

_TESTS = ("test-the-packer", "test-the-lap", "inflow-test")
# the cards that count by a pump
_COUNT = (
    *("ball-on-seat", "pump-spacer-and-cement", "dart-meets-plug", "displace-the-liner"),
    *("displace-by-volume", "bump-the-plug", "pull-out-and-reverse"),
)


def cards(job: Installation) -> tuple[Card, ...]:
    """All steps of the plan, numbered from 1."""
    words = words_of(job)
    texts = [text for text in step_texts() if holds(text.when, words)]
    return _waiting(tuple(_card(job, number, text, words) for number, text in enumerate(texts, 1)))


def _why_held(its: Figures) -> Say:
    """What is to be settled before a step is done."""
    then = "Nothing below is done before the supervisor has settled it."
    now, never = its.now.figure, its.never.figure
    if now is not None and never is not None and now.kind == never.kind and now.si > never.si:
        both = {"now": now, "never": never}
        return Say(f"On hold: {{now}} is planned, {{never}} must not be exceeded. {then}", both)
    if its.now.word == "not computed" or its.never.word == "not computed":
        return Say(f"On hold: a figure of this step is not computed. {then}")
    return Say(f"On hold: figures of this step contradict each other. {then}")


def _waiting(its: tuple[Card, ...]) -> tuple[Card, ...]:
    """A card behind one on hold says that it waits for that; a test on hold holds up no other."""
    made: list[Card] = []
    held: Card | None = None
    for card in its:
        if held is not None and card.released:
            first = Say(f"On hold with step {held.number}, {held.title}.")
            card = card._replace(do=(first, *card.do), waits_for=held.number)
        if not card.released and held is None and card.code not in _TESTS:
            held = card
        made.append(card)
    return tuple(made)


def _card(job: Installation, number: int, text: StepText, words: frozenset[str]) -> Card:
    teller = Teller(job)

    def lines(given: tuple[Line, ...]) -> tuple[str, ...]:
        return tuple(line.text for line in given if holds(line.when, words))

    def planned(given: Iterable[Say]) -> tuple[Say, ...]:
        says = tuple(given)
        figured = not its.released and any(say.figures for say in says)
        return (_ON_HOLD, *says) if figured else says

    its, weight = figures(job, text.code, teller)
    words = words | {"released"} if its.released else words
    shown = scene(job, text.code)
    if not its.released:  # nothing is under pressure yet
        shown = shown._replace(pressure_from_md_m=None, pressure_to_md_m=None, annulus_to_md_m=None)
    limit = None
    sealed = after(text.code, _SEAL_IN) and not after(text.code, "bump-the-plug")
    if sealed and "cement" in words:
        limit = teller.say("Pick up no more than {travel}: the seal must stay in.")
    return Card(
        number=number,
        code=text.code,
        title=text.title,
        sub=teller.say(next(iter(lines(text.sub)), "")),
        do=(
            *(() if its.released else (_why_held(its),)),
            *_doubts(job, text.code),
            *(teller.say(line) for line in lines(text.do)),
        ),
        now=its.now,
        next=its.next,
        never=its.never,
        gauge=its.gauge,
        pressure=planned(teller.say(line) for line in lines(text.pressure)),
        volume=planned((*its.pumps, *(teller.say(line) for line in lines(text.volume)))),
        weight=weight,
        counts=its.counts,
        state=state(job, text.code),
        look_for=tuple(teller.say(line) for line in lines(text.look_for)),
        if_not=tuple(
            IfNot(teller.say(remedy.question), teller.say(remedy.action))
            for remedy in text.if_not
            if holds(remedy.when, words)
        ),
        pick_up_limit=limit,
        as_read=text.as_read,
        caution=tuple(teller.say(line) for line in lines(text.caution)),
        scene=shown,
        released=its.released,
        needs=teller.uncomputed(),
    )


def _doubts(job: Installation, code: str) -> tuple[Say, ...]:
    """Readings that a card would have counted on, were they not wrong by all that is known."""
    if code not in _COUNT or not job.plan.record:
        return ()
    try:
        found = job.events
    except MissingInput:
        return ()  # the card says elsewhere what its counts need
    says = []
    for event in found:
        doubt = event.doubted
        if doubt is None or (code == "ball-on-seat" and event.name != BALL):
            continue
        figures: dict[str, Figure | str] = {
            "event": event.name[:1].upper() + event.name[1:],
            "seen": Figure(doubt.seen_m3, "volume"),
        }
        if doubt.not_after is None:
            text = "{event} seen at {seen}: too far from {expected} to be counted on; look again."
            figures["expected"] = Figure(doubt.expected_m3, "volume")
        else:
            text = "{event} seen at {seen}, before {other}, seen at {at}: not counted on; look again."
            figures["other"], figures["at"] = doubt.not_after[0], Figure(doubt.not_after[1], "volume")
        says.append(Say(text, figures))
    return tuple(says)
