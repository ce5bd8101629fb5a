"""Variants of the demo wells by replacing text, and what a check says of them."""

from __future__ import annotations

from schematic import evaluate, resolve
from schematic.checks.evaluate import Evaluation
from schematic.outcome import Found, sentence
from schematic.verbs import demos, load_text
from schematic.wellfile import edit

BRINDLEWICK = demos()["brindlewick-4.yaml"]
SOLLIVANE = demos()["sollivane-a7.yaml"]

Change = tuple[str, str]


def changed(text: str, *changes: Change) -> str:
    """A text after replacements, each of which must apply exactly once."""
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return text


# Brindlewick 4 without what the trade reference expects the checks to find in it, and without options, whose
# paths a fault may take away
CLEAN = changed(
    edit.remove(BRINDLEWICK, "options").replace("od: 7.656 in", "od: 7.450 in"),
    ("thickening time: 6.0 h", "thickening time: 6.0 h\n    silica: 35 %"),
    ("yield: 1.15 ft3/sk", "yield: 1.52 ft3/sk"),
    ("mix water: 5.0 gal/sk", "mix water: 6.3 gal/sk"),
    ("located by: host tally", "located by: host tally\n      corrected for stretch: yes"),
    ("surface pressure: 2619 psi, emw: 16.6 ppg", "surface pressure: 300 psi"),
    ("load rating: 230 klbf", "load rating: 900 klbf"),
    ("set down on tool: 50 klbf", "set down on tool: 150 klbf"),
    (
        "  profile: common practice\n",
        "  profile: common practice\n  greatest caliper over gauge: 50 %\n  routine inflow: 20000 psi\n"
        "  greatest cement above liner top: 200 m\n  greatest gelled shortfall: 1 ppg\n"
        "  greatest share of sinusoidal load: 10000 %\n  greatest share of helical load: 10000 %\n",
    ),
)


def variant(text: str, *changes: Change) -> Evaluation:
    """The evaluation of a well text after replacements, each of which must apply exactly once."""
    return evaluate(resolve(load_text(changed(text, *changes))))


def answers(evaluation: Evaluation, rule: str) -> list[str]:
    """The kinds of answer of one rule, for all its subjects."""
    return [type(outcome.answer).__name__ for outcome in evaluation.outcomes if outcome.rule == rule]


def found(evaluation: Evaluation) -> list[tuple[str, str]]:
    """Rule and sentence of every finding, in the units of the well."""
    system = evaluation.plan.identity.system
    said = []
    for outcome in evaluation.findings:
        answer = outcome.answer
        assert isinstance(answer, Found)
        for template in (answer.headline, answer.mend):
            sentence(template, answer.figures, system)
        said.append((outcome.rule, sentence(answer.what, answer.figures, system)))
    return said
