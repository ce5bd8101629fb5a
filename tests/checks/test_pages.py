"""The manual page of every rule is true: each of its examples gets the answer that the page says."""

from __future__ import annotations

import pytest

from schematic import check
from schematic.verbs import load_text, rules
from tests.checks.pages import OUTCOMES, Example, all_examples, examples, text_of
from tests.checks.wells import answers

EXAMPLES = all_examples()


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
    for heading in ("What it checks", "Why it matters", "Limit", "Source", "Example"):
        assert f"\n{heading}\n" in page.page
