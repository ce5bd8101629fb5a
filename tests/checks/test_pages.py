"""The manual page of every rule is true: each of its examples gets the answer that the page says."""

from __future__ import annotations

import inspect

import pytest

from schematic import check
from schematic.checks.evaluate import RULES
from schematic.verbs import load_text, rules
from tests.checks.pages import OUTCOMES, Example, all_examples, examples, text_of
from tests.checks.wells import answers

EXAMPLES = all_examples()
# their value is an integral, a weight of steel or an arc: no figure that a person types is exactly at the limit
WITHOUT_LIMIT = {
    "weight-disagrees",
    "slip-depth-not-proved",
    "assembly-must-flex",
    "caliper-far-over-gauge",
    "over-displacement-large",
    "strokes-alone-miss-the-bump",
    "columns-break-the-rock",
    "gelled-cement-under-pore",
    "float-overloaded-at-bump",
    "thickening-time-short",
    "schedule-does-not-add-up",
    "density-not-by-recipe",
    # drag, an integral over the path, or a weight of steel
    "overpull-small",
    "tension-factor-small",
    "slack-off-weight-small",
    "torque-over-limit",
    "weight-signal-small",
    "pipe-buckles",
    "set-down-short",
}


@pytest.mark.parametrize(
    "example", EXAMPLES, ids=[f"{e.rule}-{e.outcome}-{n}" for n, e in enumerate(EXAMPLES)]
)
def test_an_example_gets_the_answer_that_its_page_says(example: Example):
    kinds = answers(check(load_text(text_of(example))), example.rule)

    wanted = OUTCOMES[example.outcome]
    assert wanted in kinds
    if wanted != "Found":
        assert "Found" not in kinds


@pytest.mark.parametrize("page", rules(), ids=[page.code for page in rules()])
def test_a_page_shows_its_rule_wrong_and_right(page):
    shown = {example.outcome for example in examples(page.code, page.page)}

    assert "wrong" in shown
    assert shown & {"right", "at the limit"}
    (rule,) = [rule for rule in RULES if rule.code == page.code]
    body = inspect.getsource(rule.check).split('"""', 2)[2]
    assert "DoesNotApply(" not in body or "does not apply" in shown
    assert "MissingInput(" not in body or "not checked" in shown
    if page.code not in WITHOUT_LIMIT:
        assert "meets(" not in body or "at the limit" in shown
    for heading in ("What it checks", "Why it matters", "Limit", "Source", "Example"):
        assert f"\n{heading}\n" in page.page
