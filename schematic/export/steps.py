"""The step cards as text, as tables and as data."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.export.report import in_words
from schematic.export.tables import Cell, Column, Table, figure_data
from schematic.job.card import Box, Card, Say, Weight
from schematic.outcome import Figure, Uncomputed, sentence
from schematic.units import System, sentence_case, show, size


def _said(say: Say, system: System) -> str:
    return sentence_case(sentence(say.text, say.figures, system))


def _figure(figure: Figure, system: System) -> str:
    return size(figure.si, system) if figure.kind == "size" else show(figure.si, figure.kind, system)


def _box(box: Box, system: System) -> str:
    lines = " ".join(_said(line, system) for line in box.lines)
    head = f"{_figure(box.figure, system)}, {box.word}" if box.figure is not None else box.word
    return f"{head}. {lines}".strip() if lines else f"{head}."


def needs_in_words(evaluation: Evaluation, card: Card) -> Card:
    """The same card, what it lacks told by its name, not by its place in the file."""

    def say(one: Say) -> Say:
        lacks = one.figures.get("needs")
        if not isinstance(lacks, str):
            return one
        return one._replace(figures={**one.figures, "needs": in_words(evaluation, [lacks])})

    def box(one: Box) -> Box:
        return one._replace(lines=tuple(say(line) for line in one.lines))

    by_needs: dict[str, list[str]] = {}
    for lack in card.needs:
        by_needs.setdefault(in_words(evaluation, lack.needs), []).append(lack.what)
    return card._replace(
        now=box(card.now),
        next=box(card.next),
        never=box(card.never),
        weight=card.weight._replace(says=tuple(say(one) for one in card.weight.says)),
        needs=tuple(Uncomputed(", ".join(what), (lacks,)) for lacks, what in by_needs.items()),
    )


def as_text(cards: Sequence[Card], system: System) -> str:
    """All cards for a terminal, one under another."""
    return "\n\n".join("\n".join(_lines(card, len(cards), system)) for card in cards)


def _lines(card: Card, count: int, system: System) -> list[str]:
    lines = [f"{card.number} of {count}  {card.title}", f"  {_said(card.sub, system)}"]
    lines += [
        f"  {card.now_head[:1].lower()}{card.now_head[1:]}: {_box(card.now, system)}",
        f"  next: {_box(card.next, system)}",
        f"  never exceed: {_box(card.never, system)}",
    ]
    lines += [f"  do: {_said(say, system)}" for say in card.do]
    lines.append(f"  pressure: {_joined(card.pressure, system)}")
    lines.append(f"  volume: {_joined(card.volume, system)}")
    lines.append(f"  hook load, block included: {_hook_load(card.weight, system)}")
    for one in card.counts:
        told = [show(one.m3, "volume", system)]
        if one.least_m3 < one.most_m3:
            band = show(one.least_m3, "volume", system), show(one.most_m3, "volume", system)
            told.append(f"{band[0]} to {band[1]}")
        if one.strokes is not None:
            told.append(f"{show(one.strokes, 'count', system)} strokes")
        if one.seconds is not None:
            told.append(show(one.seconds, "minutes", system))
        if one.at_rest_pa is not None:
            told.append(f"at rest {show(one.at_rest_pa, 'pressure', system)}")
        lines.append(f"  count, {one.event}: {', '.join(told)}")
    lines.append("  state: " + "; ".join(f"{thing} {how}" for thing, how in card.state))
    lines += [f"  [ ] {_said(say, system)}" for say in card.look_for]
    lines += [f"  if not: {_said(one.question, system)} {_said(one.action, system)}" for one in card.if_not]
    if card.pick_up_limit is not None:
        lines.append(f"  pick-up: {_said(card.pick_up_limit, system)}")
    lines += [f"  caution: {_said(say, system)}" for say in card.caution]
    lines += [f"  not computed: {one.what}, needs {', '.join(one.needs)}" for one in card.needs]
    return lines


def _joined(says: Sequence[Say], system: System) -> str:
    return " ".join(_said(say, system) for say in says)


def _hook_load(weight: Weight, system: System) -> str:
    """The hook load of a step in one line: before and after, or of each motion, or why there is none."""
    loads = [show(one, "force", system) for one in (weight.before_n, weight.after_n) if one is not None]
    told = [f"{' to '.join(loads)}, {weight.motion}"] if loads else []
    return "; ".join([*told, *(_said(say, system) for say in weight.says)])


def steps_table(cards: Sequence[Card], system: System) -> Table:
    """One line a step: the figures to obey, what is done, what is seen, what if not."""
    rows: list[tuple[Cell, ...]] = []
    for card in cards:
        rows.append(
            (
                Figure(float(card.number), "count"),
                card.title,
                _box(card.now, system),
                _box(card.next, system),
                _box(card.never, system),
                _joined(card.pressure, system),
                _joined(card.volume, system),
                _hook_load(card.weight, system),
                _joined(card.do, system),
                _joined(card.look_for, system),
                " ".join(f"{_said(one.question, system)} {_said(one.action, system)}" for one in card.if_not),
                "; ".join(f"{one.what} needs {', '.join(one.needs)}" for one in card.needs),
            )
        )
    heads = (
        *("what", "now", "next", "never exceed", "pressure", "volume", "hook load, block included"),
        *("do", "look for", "if not", "not computed"),
    )
    columns = (Column("step", "count"), *(Column(head) for head in heads))
    return Table("Steps", columns, tuple(rows))


def as_data(card: Card, system: System) -> dict[str, object]:
    """A card for JSON."""

    def box(one: Box) -> dict[str, object]:
        return {
            "figure": None if one.figure is None else figure_data(one.figure, system),
            "what": one.word,
            "lines": [_said(line, system) for line in one.lines],
        }

    weight = card.weight
    return {
        "step": card.number,
        "code": card.code,
        "title": card.title,
        "sub": _said(card.sub, system),
        "released": card.released,
        "now": box(card.now),
        "next": box(card.next),
        "never exceed": box(card.never),
        "do": [_said(say, system) for say in card.do],
        "pressure": [_said(say, system) for say in card.pressure],
        "volume": [_said(say, system) for say in card.volume],
        "hook load": {
            "before": None
            if weight.before_n is None
            else figure_data(Figure(weight.before_n, "force"), system),
            "after": None if weight.after_n is None else figure_data(Figure(weight.after_n, "force"), system),
            "motion": weight.motion,
            "says": [_said(say, system) for say in weight.says],
        },
        "counts": [
            {
                "event": one.event,
                "volume": figure_data(Figure(one.m3, "volume"), system),
                "least": figure_data(Figure(one.least_m3, "volume"), system),
                "most": figure_data(Figure(one.most_m3, "volume"), system),
                "strokes": one.strokes,
                "seconds": one.seconds,
                "at rest": None
                if one.at_rest_pa is None
                else figure_data(Figure(one.at_rest_pa, "pressure"), system),
            }
            for one in card.counts
        ],
        "state": dict(card.state),
        "look for": [_said(say, system) for say in card.look_for],
        "if not": [
            {"question": _said(one.question, system), "action": _said(one.action, system)}
            for one in card.if_not
        ],
        "pick-up limit": None if card.pick_up_limit is None else _said(card.pick_up_limit, system),
        "caution": [_said(say, system) for say in card.caution],
        "not computed": [one._asdict() for one in card.needs],
    }
