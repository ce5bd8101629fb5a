"""The cards of an installation: each step that this plan has, in order, with its figures."""

from __future__ import annotations

from schematic.job.card import Card, IfNot, Say
from schematic.job.facts import Teller
from schematic.job.installation import Installation
from schematic.job.step_boxes import figures
from schematic.job.step_scene import after, scene, state
from schematic.job.step_texts import Line, StepText, holds, step_texts
from schematic.job.step_words import words_of

_SEAL_IN = "prove-the-release"  # from here on the seal can be picked out


_NOT_RELEASED = Say(
    "Not as planned: figures contradict each other, or a limit is missing. The supervisor settles it first."
)


def cards(job: Installation) -> tuple[Card, ...]:
    """All steps of the plan, numbered from 1."""
    words = words_of(job)
    texts = [text for text in step_texts() if holds(text.when, words)]
    return tuple(_card(job, number, text, words) for number, text in enumerate(texts, 1))


def _card(job: Installation, number: int, text: StepText, words: frozenset[str]) -> Card:
    teller = Teller(job)

    def lines(given: tuple[Line, ...]) -> tuple[str, ...]:
        return tuple(line.text for line in given if holds(line.when, words))

    its = figures(job, text.code, teller)
    words = words | {"released"} if its.released else words
    limit = None
    sealed = after(text.code, _SEAL_IN) and not after(text.code, "bump-the-plug")
    if sealed and "cement" in words:
        limit = teller.say("Pick up no more than {travel}: the seal must stay in.")
    return Card(
        number=number,
        code=text.code,
        title=text.title,
        sub=teller.say(next(iter(lines(text.sub)), "")),
        do=(*(() if its.released else (_NOT_RELEASED,)), *(teller.say(line) for line in lines(text.do))),
        now=its.now,
        next=its.next,
        never=its.never,
        gauge=its.gauge,
        weight=its.weight,
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
        scene=scene(job, text.code),
        released=its.released,
        needs=teller.uncomputed(),
    )
