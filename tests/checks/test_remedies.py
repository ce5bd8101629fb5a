"""Every remedy that is offered makes its finding go, and says what it brings instead."""

from __future__ import annotations

import pytest

from schematic import check
from schematic.checks.remedies import remedies
from schematic.verbs import demos, load_text
from schematic.wellfile import edit
from tests.checks.pages import Example, all_examples, text_of

CASES = [(name, name, "") for name in demos()]
CASES += [(one.well, "; ".join(one.steps), one.rule) for one in all_examples() if one.outcome == "wrong"]


def keys(evaluation) -> set[tuple[str, str]]:
    """Rule and subject of what is found."""
    return {(one.rule, one.subject.path) for one in evaluation.findings}


def well(name: str, steps: str) -> str:
    """A demo as it stands, or after the steps of an example."""
    return demos()[name] if name == steps else text_of(Example("", "wrong", name, tuple(steps.split("; "))))


@pytest.mark.parametrize(("name", "steps", "rule"), CASES)
def test_a_remedy_edits_one_value_and_clears_its_finding(name, steps, rule):
    """Of a demo's findings, or of the one that an example of a manual page is about."""
    document = load_text(well(name, steps))
    evaluation = check(document)
    for outcome in evaluation.findings:
        for one in remedies(document, evaluation, outcome) if rule in ("", outcome.rule) else ():
            assert edit.set(document.text, one.path, one.after) == one.text
            before, after = keys(evaluation), keys(check(load_text(one.text)))
            assert (outcome.rule, outcome.subject.path) in before - after
            assert {(each.rule, each.subject.path) for each in one.clears} == before - after
            assert {(each.rule, each.subject.path) for each in one.brings} >= after - before


MENDED = [
    ("lap-outside-limits", "liner.lap = 99.9 ft", [("liner.lap", "99.9 ft", "100 ft")]),
    ("lap-outside-limits", "liner.lap = 30 m", [("liner.lap", "30 m", "31 m")]),
    ("lap-outside-limits", "without liner.lap; liner.top = 9751 ft", [("liner.top", "9751 ft", "9750 ft")]),
    ("lap-outside-limits", "liner.lap = 400 m", [("liner.lap", "400 m", "300 m")]),
    # slips 9470 to 9478 ft, coupling at 9479 ft, 5 ft asked for: 4 ft up or 14 ft down
    (
        "slips-near-coupling",
        "liner.lap = 399 ft",
        [("liner.lap", "399 ft", "403 ft"), ("liner.lap", "399 ft", "385 ft")],
    ),
    ("rathole-unusual", "liner.off bottom = 0 ft", [("liner.off bottom", "0 ft", "3 ft")]),
    ("rathole-unusual", "liner.off bottom = 0 m", [("liner.off bottom", "0 m", "1 m")]),
    ("rathole-unusual", "liner.off bottom = 40 ft", [("liner.off bottom", "40 ft", "33 ft")]),
    (
        "liner-below-hole",
        "without liner.off bottom; liner.shoe = 12610 ft",
        [("liner.shoe", "12610 ft", "12597 ft")],
    ),
    (
        "running-string-misses-liner-top",
        "running string.assembly.drill pipe.length = 9080 ft",
        [("running string.assembly.drill pipe.length", "9080 ft", "9076 ft")],
    ),
    (
        "tally-does-not-close",
        "without liner.assembly.5; liner.assembly + {part: joint, count: 75, each: 40.334 ft} before pup joint",
        [("liner.assembly.joint 3.count", "75", "73")],
    ),
    (
        "stated-depths-disagree",
        "liner.top = 9481 ft",
        [("liner.top", "9481 ft", "9480 ft"), ("liner.lap", "370 ft", "369 ft")],
    ),
    ("hole-not-contiguous", "hole.2.from = 9900 ft", [("hole[2].from", "9900 ft", "9850 ft")]),
    (
        "schedule-does-not-add-up",
        "cement.schedule.5.volume = 30 bbl",
        [("cement.schedule[5].volume", "30 bbl", "20 bbl")],
    ),
    # the dart meets the plug after 159.7 bbl, 160.07 with what the mud is compressed; it is slow from 149.7 bbl on
    (
        "dart-meets-plug-fast",
        "cement.schedule.3.volume = 10 bbl",
        [("cement.schedule[3].volume", "10 bbl", "11 bbl")],
    ),
    (
        "dart-meets-plug-fast",
        "cement.schedule.3.rate = 4 bbl/min",
        [("cement.schedule[3].rate", "4 bbl/min", "3 bbl/min")],
    ),
    # 269.8 bbl to the bump less 10 and less the 160.7 before the line
    (
        "plug-bumps-fast",
        "cement.schedule.4.volume = 99.2 bbl",
        [("cement.schedule[4].volume", "99.2 bbl", "99.1 bbl")],
    ),
    (
        "plug-bumps-fast",
        "cement.schedule.5.rate = 6 bbl/min",
        [],
    ),  # slow for all of a line: none of ours to say
    (
        "circulating-sets-the-hanger",
        "installation.circulate up to = 80 bar",
        [("installation.circulate up to", "80 bar", "78 bar")],
    ),
    (
        "tool-pumped-out",
        "installation.set down on tool = 40 klbf",
        [("installation.set down on tool", "40 klbf", "46 klbf")],
    ),
    (
        "test-held-too-short",
        "installation.tests.liner and lap.hold = 0.25 h",
        [("installation.tests.liner and lap.hold", "0.25 h", "0.5 h")],
    ),
    ("excess-without-basis", "cement.excess.open hole = 45 %", [("cement.excess.open hole", "45 %", "30 %")]),
    # 12.0 ppg of pore and 0.2 ppg over it
    ("mud-outside-window", "fluids.mud.density = 12.1 ppg", [("fluids.mud.density", "12.1 ppg", "12.2 ppg")]),
    # nothing is made of a rating, of a value that is not in the file, of one with a tolerance
    ("size-not-listed", "liner.assembly.liner hanger.load rating = 20 klbf", []),
    ("excess-without-basis", "without cement.excess.basis", []),
    ("next-bit-does-not-pass", "liner.lap = 99.9 ft", []),
]


@pytest.mark.parametrize(("rule", "steps", "wanted"), MENDED)
def test_what_a_remedy_writes(rule, steps, wanted):
    """In the unit of the file, rounded to the side that mends."""
    document = load_text(well("brindlewick-4", steps))
    evaluation = check(document)
    its = [
        one
        for each in evaluation.findings
        if each.rule == rule
        for one in remedies(document, evaluation, each)
    ]
    assert sorted((one.path, one.before, one.after) for one in its) == sorted(wanted)
