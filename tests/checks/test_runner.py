"""The runner, waivers and changed limits; the one comparison is in tests/test_outcome.py."""

from __future__ import annotations

import pytest

from schematic.checks.case import Rule, whole_liner
from schematic.checks.evaluate import RULES, run, topic
from schematic.outcome import (
    Found,
    MissingInput,
    NotChecked,
    Severity,
)
from tests.checks.wells import CLEAN, SOLLIVANE, variant


def test_a_missing_input_is_not_checked_and_names_what_is_missing():
    def look(_case, _subject):
        raise MissingInput("liner.weight", "fluids.mud")

    (outcome,) = run((Rule("needs-more", "needs", whole_liner, look, ""),), variant(CLEAN))

    assert outcome.answer == NotChecked(("liner.weight", "fluids.mud"))


def test_a_rule_without_subjects_says_why():
    (outcome,) = run(
        (Rule("nothing-here", "nothing", lambda _case: (), whole_liner, "no such part"),), variant(CLEAN)
    )

    assert outcome.answer.reason == "no such part"


def test_what_a_rule_looks_at_tells_it_from_all_others_and_nothing_of_what_it_finds():
    topics = [rule.topic for rule in RULES]

    assert len(set(topics)) == len(topics)
    assert not [rule.code for rule in RULES if rule.topic == rule.code.replace("-", " ")]
    assert topic("ball-sticks") == "passage of the ball"


def waived(rule, subject=""):
    where = f", subject: {subject}" if subject else ""
    return (
        "limits:\n",
        f"waived:\n  - {{rule: {rule}{where}, by: A. Driller, reason: seen on the log}}\n\nlimits:\n",
    )


NEAR = (("9520.4 ft", "9511.9 ft"),)


def test_a_waived_warning_stays_visible_with_name_and_reason_and_is_not_counted():
    evaluation = variant(CLEAN, *NEAR, waived("slips-near-coupling"))

    (outcome,) = evaluation.findings

    assert outcome.waived == "A. Driller: seen on the log"
    assert evaluation.count(Severity.WARNING) == 0


def test_a_waiver_holds_for_its_subject_alone():
    evaluation = variant(CLEAN, *NEAR, waived("slips-near-coupling", "another liner"))

    assert evaluation.count(Severity.WARNING) == 1


def test_an_error_cannot_be_waived():
    limits = ("limits:\n  profile", waived("bit-larger-than-drift")[1] + "  profile")

    evaluation = variant(SOLLIVANE, limits)

    assert evaluation.count(Severity.ERROR) == 1
    assert not evaluation.findings[0].waived


def test_findings_come_worst_first():
    evaluation = variant(CLEAN, ("9520.4 ft", "9511.9 ft"), ("length: 9076 ft", "length: 9000 ft"))

    severities = [outcome.answer.severity for outcome in evaluation.findings]

    assert severities == [Severity.ERROR, Severity.WARNING]


def test_a_limit_changed_in_the_file_is_the_files():
    evaluation = variant(
        CLEAN, ("  profile: common practice\n", "  least lap: 400 ft\n  set by: the operator\n")
    )

    (outcome,) = evaluation.findings

    assert isinstance(outcome.answer, Found)
    assert outcome.answer.limit.owner == "the operator"
    assert outcome.answer.limit.text == "400 ft"


@pytest.mark.parametrize("text", [CLEAN, SOLLIVANE])
def test_the_same_plan_gives_the_same_evaluation(text):
    first, second = variant(text), variant(text)

    assert first.outcomes == second.outcomes
    assert first.volumes == second.volumes
    assert first.cement == second.cement
