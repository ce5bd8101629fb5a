"""What a page of the app must show of a text: what the verbs make of that text."""

from __future__ import annotations

import json
from xml.etree import ElementTree

from app import answers
from schematic import verbs
from schematic.comparison.sweep import string_along
from schematic.wellfile import edit

BRINDLEWICK = "brindlewick-4.yaml"
TEXT = verbs.demos()[BRINDLEWICK]

_LINES = "found => found.map(one => one.textContent)"


def handed(page, name: str) -> list[dict]:
    """What was handed to the components of a name, on a page that runs without a browser."""
    components = [each.proto for each in page.get("bidi_component")]
    its = [json.loads(each.json) for each in components if each.component_name == name]
    return [one[0] if isinstance(one, list) else one for one in its]


def with_lap(lap: str) -> str:
    """The text with another lap, as the field of Depths writes it: the running string goes along."""
    return string_along(verbs.load_text(TEXT, BRINDLEWICK), edit.set(TEXT, "liner.lap", lap), lap)


def told_by_verbs(text: str) -> dict[str, list[str]]:
    """The texts of the drawing, the counts, the findings, and the figures of a text."""
    evaluation = verbs.check(verbs.load_text(text, BRINDLEWICK))
    pages = verbs.render(verbs.view(evaluation, "fitted"), ".svg")
    tables = [block for block in answers.figures(evaluation) if block["kind"] == "table"]
    return {
        "drawing": [
            one.text or ""
            for page in pages
            for one in ElementTree.fromstring(page).iter("{http://www.w3.org/2000/svg}text")
        ],
        "counts": [told for _sign, told in answers.counts(evaluation)],
        "findings": [row["text"] for row in answers.found_rows(evaluation)],
        "figures": [cell for table in tables for row in table["rows"] for cell in row],
    }


def told_on_plan(page) -> dict[str, list[str]]:
    """The same as the page has it, all at one moment; figures where their panel is shown."""
    return page.evaluate(
        """() => {
        const roots = [...document.querySelectorAll('[data-testid="stBidiComponentRegular"], *')]
          .map(one => one.shadowRoot).filter(Boolean);
        const lines = (selector, of) => roots.flatMap(root => [...root.querySelectorAll(selector)]).map(of);
        return {
          drawing: lines('.paper text', one => one.textContent),
          counts: lines('.found:not(.alone) .counts > *', one => one.lastChild.textContent),
          findings: lines('.found:not(.alone) .row .text', one => one.textContent),
          figures: lines('.table tbody td', one => one.textContent),
        }; }"""
    )
