"""Practice rounds: six tasks made of a well file and a round's number, the same again for the same two.

Pure functions. The file itself is never changed; a fault is planted in a copy of its text.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import cache, lru_cache
from random import Random
from typing import NamedTuple

from app import inspector, needs
from app.faults import FAULTS, Fault, Planted, Well, evaluated, found, planted, told
from schematic import verbs
from schematic.catalogue import glossary
from schematic.checks.evaluate import Evaluation, topic
from schematic.depth.plan import LinerPart
from schematic.job.card import Card, Say
from schematic.outcome import DoesNotApply, Found, NotChecked, Passed, sentence
from schematic.units import sentence_case, size
from schematic.wellfile.read import read_text

NAME, ORDER, FAULT, SIGN, WHAT_NOW = "name it", "put in order", "find the fault", "read the sign", "what now"
_KINDS = (NAME, ORDER, FAULT, FAULT, SIGN, WHAT_NOW)  # of a round, before they are mixed
_CHOICES = 5
_MANY = 26
_SAME_OD_M = 1e-3
_LACKS = "[not computed"  # a sentence with that in it teaches nothing


class Task(NamedTuple):
    """One task. *answer* are the numbers of the choices in the right order; of most tasks it is one."""

    kind: str
    question: str
    well: Well  # that is drawn: the plan, or a copy with a fault
    sheet: tuple[tuple[str, str], ...]  # figures to judge by
    choices: tuple[str, ...]
    answer: tuple[int, ...]
    hint: str
    reason: tuple[str, ...]
    why_not: tuple[str, ...]  # for each choice, the right one's is empty; none: see `first_wrong`
    words: tuple[str, ...]  # of the glossary, to read again
    part: str = ""  # the path of a part to point at
    parts: tuple[str, ...] = ()  # paths that the choices stand for, where a click on one is an answer
    step: int | None = None  # number of the step whose well is drawn, where it is not the assembly
    rule: str = ""  # the code of the rule that finds the fault


def letter(number: int) -> str:
    """The letter of the part of that number, from 0 at the top."""
    again, place = divmod(number, _MANY)
    return f"{chr(ord('A') + place)}{again or ''}"


@cache
def _spelled() -> re.Pattern[str]:
    longest = sorted(glossary.terms(), key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, longest))})(?=s?\b)", re.IGNORECASE)


def words_in(text: str) -> tuple[str, ...]:
    """The words of the glossary that stand in a text, in its order, each once as the glossary spells it."""
    as_listed = {term.casefold(): term for term in glossary.terms()}
    found = (as_listed[match.group().casefold()] for match in _spelled().finditer(text))
    return tuple(dict.fromkeys(found))


def _pick(
    random: Random, right: str, others: Iterable[str], most: int = _CHOICES
) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """Choices in any order, the right one among them once, and its number."""
    rest = [other for other in dict.fromkeys(others) if other != right]
    choices = [right, *random.sample(rest, min(most - 1, len(rest)))]
    random.shuffle(choices)
    return tuple(choices), (choices.index(right),)


_ALIKE = ({"joint", "pup joint"}, {"float shoe", "reamer shoe", "guide shoe"})  # in a drawing
_LINER_KINDS = (
    "float shoe", "reamer shoe", "guide shoe", "joint", "pup joint", "float collar", "landing collar",
    "crossover", "liner hanger", "liner top packer", "tie-back receptacle", "setting sleeve",
    "debris barrier", "stage collar", "external packer", "swivel",
)  # fmt: skip


def _does(kind: str) -> str:
    return glossary.meaning(kind) or ""


def _name_task(well: Well, random: Random, pool: list[LinerPart]) -> Task:
    """What is this part, or where is that one."""
    evaluation = evaluated(well)
    parts = evaluation.plan.depth.liner.parts
    part = pool.pop()
    usual = typical(evaluation, part.kind)
    mine = letter(parts.index(part))
    reason = (
        f"Part {mine} is the {part.name}. {_does(part.kind)}",
        f"Typical: {usual}." if usual else "",
        f"Here: {sizes(evaluation, part)}.",
    )
    alike = next((kinds for kinds in _ALIKE if part.kind in kinds), set())
    choices, answer = _pick(random, part.kind, (kind for kind in _LINER_KINDS if kind not in alike))
    task = Task(
        kind=NAME,
        question=f"What is part {mine}?",
        well=well,
        sheet=(),
        choices=choices,
        answer=answer,
        hint=f"It does this: {_does(part.kind)}",
        reason=tuple(line for line in reason if line),
        why_not=tuple("" if one == part.kind else f"The {one}: {_does(one)}" for one in choices),
        words=tuple(dict.fromkeys((part.kind, *words_in(_does(part.kind))))),
        part=part.path,
    )
    if random.random() < 0.5 or sum(other.kind == part.kind for other in parts) > 1:
        return task
    letters = tuple(letter(number) for number in range(len(parts)))
    return task._replace(
        question=f"Which part is the {part.kind}? Point at it in the drawing, or pick its letter.",
        choices=letters,
        answer=(parts.index(part),),
        why_not=tuple(
            "" if other == part else f"Part {letters[number]} is the {other.kind}. {_does(other.kind)}"
            for number, other in enumerate(parts)
        ),
        part="",
        parts=tuple(other.path for other in parts),
    )


def typical(evaluation: Evaluation, kind: str) -> str:
    """The typical size of a kind of part and for which liner and casing it holds; empty: none is listed."""
    known = glossary.part(kind)
    if known is None or known.typical is None:
        return ""
    depth, system = evaluation.plan.depth, evaluation.plan.identity.system
    ods = depth.liner.od_m, depth.host.od_m
    same = all(abs(od - of) < _SAME_OD_M for od, of in zip(ods, glossary.TYPICAL_OF_M, strict=True))
    of, here = (" liner in ".join(size(od, system) for od in two) for two in (glossary.TYPICAL_OF_M, ods))
    other = "" if same else f", and here it is a {here} casing"
    return f"{known.typical}; common practice of a {of} casing{other}"


def sizes(evaluation: Evaluation, part: LinerPart) -> str:
    """OD, bore or seat, and length of a part in one line; what is not given says so."""

    def one(name: str, size_m: float | None) -> str:
        return f"{name} {told(evaluation, size_m, 'diameter')}" if size_m is not None else f"{name} not given"

    liner = evaluation.plan.depth.liner
    plain = part.kind in ("joint", "pup joint")
    outer = one("OD", part.od_m or (liner.od_m if plain else None))
    if part.seat_m is not None:
        inner = one("seat", part.seat_m)
    else:
        inner = one("bore", part.id_m or (liner.id_m if plain else None))
    length = told(evaluation, part.length_m, "length")
    return f"{outer}, {inner}, {length} long"


def said(evaluation: Evaluation, say: Say) -> str:
    """A line of a step card in the units of the well, for somebody who does not have the card before him."""
    text = sentence_case(sentence(say.text, say.figures, evaluation.plan.identity.system))
    return text.replace("m3", "m\u00b3").replace("this card", "the card")


def _order_task(well: Well, random: Random) -> Task:
    """Steps of the job, shuffled."""
    evaluation = evaluated(well)
    cards = verbs.steps(evaluation)
    chosen = sorted(random.sample(range(len(cards)), min(_CHOICES, len(cards))))
    titles = [cards[number].title for number in chosen]
    shuffled = titles.copy()
    while shuffled == titles and len(titles) > 1:
        random.shuffle(shuffled)
    return Task(
        kind=ORDER,
        question="Put these steps in the order of the job, the first on top.",
        well=well,
        sheet=(),
        choices=tuple(shuffled),
        answer=tuple(shuffled.index(title) for title in titles),
        hint=f"The first of them is: {titles[0]}.",
        reason=tuple(_step_told(evaluation, cards[number]) for number in chosen),
        why_not=(),
        words=words_in(" ".join(titles)),
    )


def _step_told(evaluation: Evaluation, card: Card) -> str:
    """A step by number and title, and its sentence where that is known."""
    sub = said(evaluation, card.sub)
    return f"Step {card.number}, {card.title}{'.' if _LACKS in sub else f': {sub}'}"


def _why_passed(well: Well, evaluation: Evaluation, fault: Fault) -> str:
    """Why a choice is not the fault: what its own rule says of the copy."""
    answers = [outcome.answer for outcome in evaluation.outcomes if outcome.rule == fault.rule]
    for answer in answers:
        if isinstance(answer, NotChecked):
            document = read_text(well.text, well.file, well.folder)
            these = inspector.choices(document, evaluation.plan)
            lacks = needs.told(document, evaluation.plan, these, answer.missing)
            return f"{fault.choice} That cannot be told here: it needs {lacks}."
    for answer in answers:
        if isinstance(answer, Passed):
            its = [f"{label} {value}" for label, value in (fault.why or fault.sheet)(evaluation)]
            passed = f"that passes{_beside_limit(evaluation, answer, fault.share_of)}"
            return f"{fault.choice} No: {'; '.join([passed, *its])}."
    reasons = [answer.reason for answer in answers if isinstance(answer, DoesNotApply)]
    return f"{fault.choice} No: {reasons[0] if reasons else 'nothing of that was found'}."


def _beside_limit(evaluation: Evaluation, answer: Passed, share_of: str = "") -> str:
    """A figure that passed beside its limit; nothing where the two cannot be held against each other."""
    its, limit = answer.value, answer.limit
    name = next((name for name, one in evaluation.plan.limits.items() if one == limit), "")
    bound = {"least": "at least {} wanted", "greatest": "at most {} allowed"}.get(name.partition(" ")[0])
    if its is None or limit is None or bound is None or its.si < 0.0:
        return ""
    value = told(evaluation, its.si, its.kind)
    units = {re.sub(r"[-\d./\s]", "", text) for text in (value, limit.text)}
    if len(units) > 1:
        return ""
    value += f" of {share_of}" if share_of else ""
    return f": {value}, {bound.format(limit.text)}, {limit.owner}"


def _fault_task(well: Well, random: Random, copy: Planted) -> Task:
    """Find what was planted."""
    evaluation = evaluated(copy.well)
    answer_of = copy.outcome.answer
    assert isinstance(answer_of, Found)  # or the copy would not have been taken
    wrong = {rule for rule, _subject in found(evaluation)}
    open_ = {outcome.rule for outcome in evaluation.outcomes if isinstance(outcome.answer, NotChecked)}
    others = [fault for fault in FAULTS if fault.rule not in wrong]
    settled = [fault for fault in others if fault.rule not in open_ and fault.sheet(evaluation)]
    pool = settled if len(settled) >= _CHOICES - 1 else others
    alike = [fault for fault in pool if fault.hint == copy.fault.hint]  # or the hint would tell the answer
    near = random.sample(alike, min(2, len(alike)))
    rest = [fault for fault in pool if fault not in near]
    others = near + random.sample(rest, min(_CHOICES - 1 - len(near), len(rest)))
    choices, answer = _pick(random, copy.fault.choice, (fault.choice for fault in others))
    by_choice = {fault.choice: fault for fault in FAULTS}
    rows = [row for choice in choices for row in by_choice[choice].sheet(evaluation)]
    system = evaluation.plan.identity.system
    line = next(page.line for page in verbs.rules() if page.code == copy.fault.rule)
    what = sentence(answer_of.what, answer_of.figures, system)
    mend = sentence(answer_of.mend, answer_of.figures, system)
    limit = answer_of.limit
    return Task(
        kind=FAULT,
        question="One thing in this copy was made wrong. What is it?",
        well=copy.well,
        sheet=tuple(dict(rows).items()),
        choices=choices,
        answer=answer,
        hint=copy.fault.hint,
        reason=(
            sentence_case(what),
            f"{sentence_case(copy.planting.where)}: in the plan {copy.planting.was}, "
            f"in the copy {copy.planting.becomes}.",
            f"Mend: {mend}",
            f"What the rule on {topic(copy.fault.rule)} finds: {line}",
            *([f"Limit {limit.text}, {limit.owner}: {limit.source}"] if limit else []),
        ),
        why_not=tuple(
            "" if choice == copy.fault.choice else _why_passed(copy.well, evaluation, by_choice[choice])
            for choice in choices
        ),
        words=words_in(f"{copy.fault.choice} {what} {line}"),
        rule=copy.fault.rule,
    )


# the step and how the sign begins that no other step shows
SIGNS = {
    "ball-on-seat": "Pressure rises by itself",
    "set-the-hanger": "Hook load falls by the weight of the liner",
    "set-the-hanger-by-turning": "Hook load falls by the weight of the liner",
    "set-the-hanger-as-its-maker-says": "Hook load falls by the weight of the liner",
    "release-the-tool": "A small jump of the gauge",
    "release-the-tool-by-turning": "Torque falls off when the thread is out",
    "prove-the-release": "Weight picking up is that of the string alone",
    "shear-the-seat": "Sharp drop of pressure",
    "circulate-hung": "Pressure near what it was",
    "pump-spacer-and-cement": "Pressure may fall to zero",
    "dart-meets-plug": "Spike of pressure",
    "displace-the-liner": "Pressure rises with the volume",
    "bump-the-plug": "Pressure steps up at once",
    "set-the-packer": "Weight is taken at the depth of the receptacle",
    "pull-out-and-reverse": "Cement and spacer at the shakers",
}
# how a trainee is asked, who has no card at hand, where the line itself would tell the step or mean nothing
_ASKED = {
    "set-the-hanger": "Hook load falls by the weight of the liner, and stays",
    "set-the-hanger-by-turning": "Hook load falls by the weight of the liner, and stays",
    "set-the-hanger-as-its-maker-says": "Hook load falls by the weight of the liner, and stays",
    "release-the-tool": "A small jump of the gauge within the pressures that were told",
    "shear-the-seat": "Pressure drops sharply, and mud goes round again",
    "circulate-hung": "At the rates of before, pressure is near what it was",
    "pump-spacer-and-cement": "Pressure falls, even to zero, though the pump goes on",
    "displace-the-liner": "Pressure rises little by little with what is pumped",
    "bump-the-plug": "Pressure steps up at once, and stands",
}


def _signs(evaluation: Evaluation, cards: Sequence[Card]) -> list[tuple[Card, str]]:
    """The steps that show a sign of their own, and that sign."""
    made = []
    for card in cards:
        lines = (said(evaluation, say) for say in card.look_for)
        begin = SIGNS.get(card.code)
        sign = next((line for line in lines if begin and line.startswith(begin)), None)
        if sign is not None and _LACKS not in sign:
            made.append((card, sign.partition(":")[0].rstrip(".")))
    return made


def _sign_task(well: Well, random: Random) -> Task:
    """What shows at surface, and at which step."""
    evaluation = evaluated(well)
    cards = verbs.steps(evaluation)
    signs = _signs(evaluation, cards)
    card, sign = random.choice(signs)
    choices, answer = _pick(random, card.title, (other.title for other, _sign in signs))
    shows = {other.title: line for other, line in signs}
    before = cards[card.number - 2].title if card.number > 1 else "the beginning"
    looks = [said(evaluation, say) for say in card.look_for]
    return Task(
        kind=SIGN,
        question=f"At surface you see: {_ASKED.get(card.code, sign)}. Which step is it the sign of?",
        well=well,
        sheet=(),
        choices=choices,
        answer=answer,
        hint=f"It comes after: {before}.",
        reason=(
            f"Step {card.number}, {card.title}. What to look for there:",
            *(line for line in looks if _LACKS not in line),
        ),
        why_not=tuple("" if one == card.title else f"{one}: there you see: {shows[one]}." for one in choices),
        words=words_in(f"{sign} {card.title}"),
    )


def _what_now_task(well: Well, random: Random, used: set[str]) -> Task:
    """The sign did not come: what is done."""
    evaluation = evaluated(well)
    cards = verbs.steps(evaluation)
    remedies = [
        (card, question, action)
        for card in cards
        for question, action in questions(evaluation, card)
        if _LACKS not in action
    ]
    fresh = [remedy for remedy in remedies if remedy[1] not in used] or remedies
    card, question, action = random.choice(fresh)
    used.add(question)
    near = [one for one in remedies if one[0].code == card.code and one[1] != question]
    far = [one for one in remedies if one[0].code != card.code and one[1] != question]
    others = [one[2] for one in (*near, *random.sample(far, min(_CHOICES, len(far))))]
    choices, answer = _pick(random, action, others[:_CHOICES])
    whose: dict[str, list[str]] = {}
    for other, asked, done in remedies:
        whose.setdefault(done, []).append(f"'{asked}' in the step '{other.title}'")
    should = " ".join(line for line in _known(evaluation, card.look_for) if "this card" not in line)
    elsewhere = ", one to ".join([whose[one][0] for one in choices if one != action][:2])
    return Task(
        kind=WHAT_NOW,
        question=f"Step {card.number}, {card.title}. {question} What do you do?",
        well=well,
        sheet=(),
        choices=choices,
        answer=answer,
        hint=(f"What this step should show: {should} " if should else "")
        + f"Of the other answers one is to {elsewhere}.",
        reason=(f"{question} {action}", *(f"Caution: {line}" for line in _known(evaluation, card.caution))),
        why_not=tuple("" if one == action else f"That answers {whose[one][0]}." for one in choices),
        words=words_in(f"{question} {action} {card.title}"),
        step=card.number,
    )


def questions(evaluation: Evaluation, card: Card) -> list[tuple[str, str]]:
    """The questions of a card and what is done; one that goes on from the one before has that with it."""
    made: list[tuple[str, str]] = []
    for one in card.if_not:
        question = said(evaluation, one.question)
        if question.startswith("And ") and made:
            question = f"{made[-1][0]} {question}"
        made.append((question, said(evaluation, one.action)))
    return made


def _known(evaluation: Evaluation, lines: Iterable[Say]) -> list[str]:
    return [line for line in (said(evaluation, say) for say in lines) if _LACKS not in line]


@lru_cache(maxsize=16)
def round_of(well: Well, number: int) -> tuple[Task, ...]:
    """The six tasks of a round of that number on a well file."""
    random = Random(number)
    kinds = list(_KINDS)
    random.shuffle(kinds)
    parts = list(evaluated(well).plan.depth.liner.parts)
    random.shuffle(parts)
    parts.sort(key=lambda part: part.kind in ("joint", "pup joint"), reverse=True)  # pipe comes last
    copies = _copies(well, random)
    used: set[str] = set()
    tasks = []
    for kind in kinds:
        copy = next(copies, None) if kind == FAULT else None
        if copy is not None:
            tasks.append(_fault_task(well, random, copy))
        elif kind == ORDER:
            tasks.append(_order_task(well, random))
        elif kind == SIGN:
            tasks.append(_sign_task(well, random))
        elif kind == NAME and parts:
            tasks.append(_name_task(well, random, parts))
        else:
            tasks.append(_what_now_task(well, random, used))
    return tuple(tasks)


def _copies(well: Well, random: Random) -> Iterator[Planted]:
    """Copies with one fault each, each of another rule."""
    for fault in random.sample(FAULTS, len(FAULTS)):
        copy = planted(well, fault, random)
        if copy is not None:
            yield copy


def first_wrong(task: Task, given: Sequence[int]) -> str:
    """Why an answer is not the right one."""
    if task.why_not:
        return task.why_not[given[0]]
    for mine, right in zip(given, task.answer, strict=True):
        if mine != right:
            return f"{task.choices[right]} comes before {task.choices[mine]}."
    return ""
