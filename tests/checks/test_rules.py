"""Each rule on a well that is wrong, right, exactly at the limit, and not applicable; no other rule speaks."""

from __future__ import annotations

import ast
import inspect
import re
import sys

import pytest

from schematic.checks import cementing, path, tally, telescope
from schematic.checks import evaluate as evaluating
from schematic.checks.evaluate import RULES
from schematic.outcome import Found, sentence
from tests.checks.wells import BRINDLEWICK, SOLLIVANE, answers, found, variant

LAP = "lap: 370 ft"
DRILL_PIPE = "length: 9076 ft"
FILL = "fill: true, each: 40.334 ft"
PACKER = "    - {part: liner top packer, length: 7.9 ft, od: 8.312 in, id: 6.200 in, set down: 45 klbf}\n"
FLOAT_COLLAR = "    - {part: float collar, length: 1.6 ft, od: 7.656 in}\n"
LANDING_COLLAR = BRINDLEWICK[
    BRINDLEWICK.index("    - {part: landing collar") : BRINDLEWICK.index("    - {part: joint, fill")
]
RECEPTACLE = "    - {part: tie-back receptacle, length: 10.4 ft, od: 8.250 in, bore: 7.375 in}\n"
HANGER = BRINDLEWICK[
    BRINDLEWICK.index("    - part: liner hanger") : BRINDLEWICK.index("    - {part: liner top packer")
]


def lap(feet: float) -> tuple[tuple[str, str], ...]:
    """Another lap, with the drill pipe that still meets the liner top."""
    return (LAP, f"lap: {feet} ft"), (DRILL_PIPE, f"length: {9076 + 370 - feet} ft")


# rule, what is changed in Brindlewick 4, the answer wanted of its (one) subject concerned, a phrase of the sentence
CASES = [
    # a stated TVD deeper than its MD; the same at its MD exactly is the limit; none stated: nothing to look at
    ("tvd-exceeds-md", [("shoe: 4120 ft", "shoe: 4120 ft\n    shoe tvd: 4121 ft")], "Found", "no hole does that"),
    ("tvd-exceeds-md", [("shoe: 4120 ft", "shoe: 4120 ft\n    shoe tvd: 4120 ft")], "Passed", ""),
    ("tvd-exceeds-md", [("shoe: 4120 ft", "shoe: 4120 ft\n    shoe tvd: 4119.8 ft")], "Passed", ""),
    ("tvd-exceeds-md", [], "DoesNotApply", ""),
    ("tvd-disagrees", [("shoe: 9850 ft\n    cem", "shoe: 9850 ft\n    shoe tvd: 9830 ft\n    cem")], "Found", "apart"),
    ("tvd-disagrees", [("shoe: 9850 ft\n    cem", "shoe: 9850 ft\n    shoe tvd: 9849 ft\n    cem")], "Passed", ""),
    ("tvd-exceeds-md", [("{md: 9850 ft,", "{md: 9850 ft, tvd: 9849 ft,"), ("azi: 120 deg}", "azi: 120 deg, tvd: 9800 ft}")],
     "Found", "never rises"),
    ("tvd-disagrees", [], "DoesNotApply", ""),
    # 9 849.47 ft computed; 0.1 % of it is 9.85 ft: under and over
    ("tvd-disagrees", [("shoe: 9850 ft\n    cem", "shoe: 9850 ft\n    shoe tvd: 9839.7 ft\n    cem")], "Passed", ""),
    ("tvd-disagrees", [("shoe: 9850 ft\n    cem", "shoe: 9850 ft\n    shoe tvd: 9839.5 ft\n    cem")], "Found", "apart"),
    ("tvd-disagrees", [("shoe: 9850 ft\n    cem", "shoe: 9850 ft\n    shoe below sea level: 9849.5 ft\n    cem")],
     "Found", "more than"),
    ("string-upside-down", [("shoe: 4120 ft", "top: 4130 ft\n    shoe: 4120 ft")], "Found", "must be deeper"),
    ("string-upside-down", [("shoe: 4120 ft", "top: 4120 ft\n    shoe: 4120 ft")], "Found", "must be deeper"),
    ("string-upside-down", [("shoe: 4120 ft", "top: 4119 ft\n    shoe: 4120 ft")], "Passed", ""),
    # the hanger against the 8.525 in drift of the host: over, at, under
    ("string-does-not-pass", [("od: 8.312 in\n", "od: 8.526 in\n")], "Found", "it cannot be run"),
    ("string-does-not-pass", [("od: 8.312 in\n", "od: 8.525 in\n")], "Passed", ""),
    ("string-does-not-pass", [], "Passed", ""),
    ("string-does-not-pass", [("pipe: 7 in 29 lb/ft P-110", "pipe: 9 5/8 in 47 lb/ft P-110")], "Found", "passes 8.525 in"),
    ("string-does-not-pass", [("pipe: 7 in 29 lb/ft P-110", "pipe: 10 3/4 in 45.5 lb/ft P-110")], "Found", "it cannot be run"),
    ("string-does-not-pass", [("pipe: 9 5/8 in 47 lb/ft L-80", "pipe: 13 3/8 in 68 lb/ft L-80")], "Found", "of the intermediate casing"),
    # the 8.312 in packer against the caliper of 8.80 in: at and over
    ("string-does-not-pass", [("diameter: 8.80 in", "diameter: 8.312 in")], "Passed", ""),
    ("string-does-not-pass", [("diameter: 8.80 in", "diameter: 8.311 in")], "Found", "the hole that it stands in"),
    # what is not known does not hide what is known to be too large
    ("string-does-not-pass", [("length: 9.6 ft\n      od: 8.312 in\n", "length: 9.6 ft\n")], "NotChecked", ""),
    ("string-does-not-pass", [("length: 9.6 ft\n      od: 8.312 in\n", "length: 9.6 ft\n"), ("od: 8.250 in", "od: 8.6 in")],
     "Found", "tie-back receptacle"),
    ("bit-larger-than-drift", [("bit: 8 1/2 in", "bit: 8.526 in")], "Found", "larger than the drift"),
    ("bit-larger-than-drift", [("bit: 8 1/2 in", "bit: 8.525 in")], "Passed", ""),
    ("bit-larger-than-drift", [("    shoe: 90 ft\n    driven: yes\n", "    shoe: 3000 ft\n")], "DoesNotApply", ""),
    ("hole-not-contiguous", [("bit: 12 1/4 in, to", "bit: 12 1/4 in, from: 4130 ft, to")], "Found", "a gap of"),
    ("hole-not-contiguous", [("bit: 12 1/4 in, to", "bit: 12 1/4 in, from: 4120 ft, to")], "Passed", ""),
    ("hole-not-contiguous", [("bit: 12 1/4 in, to", "bit: 12 1/4 in, from: 4110 ft, to")], "Found", "an overlap of"),
    ("hole-not-contiguous", [("bit: 17 1/2 in", "bit: 12 in")], "Found", "a bit of that size does not get there"),
    ("hole-not-contiguous", [("bit: 17 1/2 in", "bit: 12 in"), ("bit: 12 1/4 in, to", "bit: 12 1/4 in, under reamed: yes, to")],
     "Passed", ""),
    ("liner-below-hole", [("off bottom: 10 ft", "shoe: 12600.1 ft")], "Found", "below the bottom of the hole"),
    ("liner-below-hole", [("off bottom: 10 ft", "shoe: 12600 ft")], "Passed", ""),
    ("liner-top-outside-host", [(LAP, "top: 9860 ft"), (DRILL_PIPE, "length: 9456 ft")], "Found", "is not inside"),
    ("liner-top-outside-host", [(LAP, "top: 9850 ft"), (DRILL_PIPE, "length: 9446 ft")], "Found", "is not inside"),
    ("liner-top-outside-host", [], "Passed", ""),
    ("host-not-innermost", [("host: intermediate casing", "host: surface casing"), (LAP, "top: 4000 ft"),
                            (DRILL_PIPE, "length: 3596 ft")], "Found", "the innermost string is the intermediate"),
    ("host-not-innermost", [], "Passed", ""),
    ("host-not-innermost", [(LAP, "top: 9860 ft"), (DRILL_PIPE, "length: 9456 ft")], "DoesNotApply", ""),
    ("lap-outside-limits", [*lap(99.9)], "Found", "the least is 100 ft"),
    ("lap-outside-limits", [*lap(100)], "Passed", ""),
    ("lap-outside-limits", [(LAP, "lap: 30.48 m"), (DRILL_PIPE, "length: 9346 ft")], "Passed", ""),
    ("lap-outside-limits", [(LAP, "lap: 300 m"), (DRILL_PIPE, "length: 8461.75 ft")], "Passed", ""),
    ("lap-outside-limits", [(LAP, "lap: 300.1 m"), (DRILL_PIPE, "length: 8461.42 ft")], "Found", "longer than the usual"),
    ("lap-outside-limits", [(LAP, "top: 9860 ft"), (DRILL_PIPE, "length: 9456 ft")], "DoesNotApply", ""),
    ("stated-depths-disagree", [(LAP, "lap: 370 ft\n  top: 9481 ft"), (DRILL_PIPE, "length: 9077 ft")], "Found", "1.0 ft apart"),
    ("stated-depths-disagree", [(LAP, "lap: 370 ft\n  top: 9480.1 ft")], "Passed", ""),
    ("stated-depths-disagree", [], "Passed", ""),
    # 73 joints fill 2944.4 ft; the limit is 0.1 ft
    ("tally-does-not-close", [(FILL, "count: 74, length: 2984.734 ft")], "Found", "40.3 ft too long"),
    ("tally-does-not-close", [(FILL, "count: 73, length: 2944.6 ft")], "Found", "0.2 ft too long"),
    ("tally-does-not-close", [(FILL, "count: 73, length: 2944.5 ft")], "Passed", ""),
    ("tally-does-not-close", [(FILL, "count: 73, length: 2944.4 ft")], "Passed", ""),
    ("tally-does-not-close", [], "DoesNotApply", ""),
    ("running-string-misses-liner-top", [(DRILL_PIPE, "length: 9077.1 ft")], "Found", "1.1 ft too long"),
    ("running-string-misses-liner-top", [(DRILL_PIPE, "length: 9077 ft")], "Passed", ""),
    ("running-string-misses-liner-top", [], "Passed", ""),
    ("running-string-misses-liner-top", [("  stick up: 6 ft\n", "")], "DoesNotApply", ""),
    ("running-string-misses-liner-top", [("  stick up: 6 ft\n", ""), (DRILL_PIPE, "length: 9000 ft")],
     "Found", "70.0 ft too short"),
    ("parts-out-of-order", [(FLOAT_COLLAR, ""), (LANDING_COLLAR, LANDING_COLLAR + FLOAT_COLLAR)], "Found", "stands above"),
    ("parts-out-of-order", [(HANGER, ""), (PACKER, PACKER + HANGER)], "Found", "stands above"),
    ("parts-out-of-order", [], "Passed", ""),
    # a warning about packer and hanger does not hide an error above it
    ("parts-out-of-order", [(HANGER, RECEPTACLE), (PACKER, PACKER + HANGER), (RECEPTACLE + "\n", "")],
     "Found", "liner top packer stands above the tie-back receptacle"),
    ("slips-near-coupling", [*lap(352.3)], "Found", "inside the slip zone"),
    # the slip zone ends at 9 507.0: a coupling 5.0 ft below is at the limit, 4.9 ft below is too near
    ("slips-near-coupling", [("9520.4 ft", "9512.0 ft")], "Passed", ""),
    ("slips-near-coupling", [("9520.4 ft", "9511.9 ft")], "Found", "from the slip zone"),
    ("slips-near-coupling", [("slips: {from bottom: 0.9 ft, length: 8.0 ft}\n      ", "")], "NotChecked", ""),
    ("slips-near-coupling", [("9479.0 ft, ", ""), ("9396.5 ft, 9437.7 ft, ", "")], "NotChecked", ""),
    ("slips-near-coupling", [(HANGER, "")], "DoesNotApply", ""),
    ("cement-sections-do-not-close", [("      - {to: 12600 ft, diameter: 8.80 in}\n", "")], "Found", "the bit size was taken"),
    ("cement-sections-do-not-close", [], "Passed", ""),
    ("cement-sections-do-not-close", [(FILL, "count: 72, length: 2904.066 ft")], "Found", "has no geometry"),
    ("waiver-names-no-rule", [("limits:\n", "waived:\n  - {rule: lap-too-short, by: A, reason: b}\n\nlimits:\n")],
     "Found", "does not exist"),
    ("waiver-names-no-rule", [("limits:\n", "waived:\n  - {rule: lap-outside-limits, by: A, reason: b}\n\nlimits:\n")],
     "Passed", ""),
    ("waiver-names-no-rule", [], "DoesNotApply", ""),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "changes", "wanted", "phrase"), CASES)
def test_a_rule_speaks_and_is_silent(rule, changes, wanted, phrase):
    evaluation = variant(BRINDLEWICK, *changes)

    kinds = answers(evaluation, rule)

    if wanted in ("Found", "NotChecked"):
        assert kinds.count(wanted) == 1
    else:
        assert "Found" not in kinds
        assert wanted in kinds
    if wanted == "Found":
        assert phrase in next(text for code, text in found(evaluation) if code == rule)


ALLOWED_BESIDE = {
    # the top outside its host leaves lap and slips nothing to stand in; the host is named wrongly on purpose
    "liner-top-outside-host": {"slips-near-coupling"},
    "host-not-innermost": {"lap-outside-limits", "string-does-not-pass", "slips-near-coupling"},
    # a liner deeper than its hole has no hole to fill there
    "liner-below-hole": {"cement-sections-do-not-close"},
    # a tally too short leaves the lap without a liner; a hole too narrow for a bit is so for the casing, too
    "cement-sections-do-not-close": {"tally-does-not-close"},
    "hole-not-contiguous": {"string-does-not-pass"},
    # a depth that cannot be disagrees with the survey, too
    "tvd-exceeds-md": {"tvd-disagrees"},
    "tvd-disagrees": {"tvd-exceeds-md"},
    # a longer or shorter lap moves the slips onto or off other couplings
    "lap-outside-limits": {"slips-near-coupling"},
    "parts-out-of-order": {"slips-near-coupling"},
}


@pytest.mark.parametrize(
    ("rule", "changes", "wanted", "phrase"), [case for case in CASES if case[2] == "Found"]
)
def test_no_unrelated_rule_cries(rule, changes, wanted, phrase):
    del wanted, phrase

    said = {code for code, _text in found(variant(BRINDLEWICK, *changes))}

    assert said - {rule} <= ALLOWED_BESIDE.get(rule, set())


def test_the_demo_wells_have_no_finding_but_the_missing_certificate():
    assert found(variant(BRINDLEWICK)) == []
    ((rule, text),) = found(variant(SOLLIVANE))
    assert rule == "bit-larger-than-drift"
    assert "no certificate" in text


def test_the_certificate_settles_the_bit_of_the_deviated_well():
    certified = (
        "special drift: {diameter: 215.9 mm}",
        "special drift: {diameter: 215.9 mm, certificate: DC-118}",
    )

    assert found(variant(SOLLIVANE, certified)) == []


# The faults that the trade reference seeds, and the rule that must see each.
SEEDED = [
    ("hanger moved to 9 516.0", [*lap(352.3)], {"slips-near-coupling"}, "9520.4 ft is inside the slip zone, 9516.7 ft"),
    ("a joint too many", [(FILL, "count: 74, length: 2984.734 ft")],
     {"tally-does-not-close"}, "40.3 ft too long"),
    ("liner top below sea level counted from ground", [(LAP, "lap: 370 ft\n  top below sea level: 8213 ft")],
     {"tvd-disagrees"}, "apart"),
]  # fmt: skip


@pytest.mark.parametrize(("fault", "changes", "rules", "phrase"), SEEDED)
def test_seeded_faults_are_found_by_the_right_rule(fault, changes, rules, phrase):
    del fault

    said = found(variant(BRINDLEWICK, *changes))

    assert {code for code, _text in said} == rules
    assert any(phrase in text for _code, text in said)


def test_a_depth_counted_from_ground_is_told_so():
    evaluation = variant(BRINDLEWICK, (LAP, "lap: 370 ft\n  top below sea level: 8213 ft"))

    (outcome,) = evaluation.findings

    assert "was it counted from there" in outcome.answer.mend
    assert outcome.answer.figures["ground"] == "ground"


def test_an_unknown_drift_is_not_checked_and_never_passed():
    evaluation = variant(SOLLIVANE, ("    drift: 700 mm\n", ""))

    kinds = answers(evaluation, "bit-larger-than-drift")

    assert kinds == ["DoesNotApply", "NotChecked", "NotChecked", "Found"]


def test_without_a_running_string_its_closure_is_not_checked():
    start, end = BRINDLEWICK.index("running string:  "), BRINDLEWICK.index("fluids:\n")
    options = BRINDLEWICK.index("options:\n")

    evaluation = variant(BRINDLEWICK[:start] + BRINDLEWICK[end:options])

    assert answers(evaluation, "running-string-misses-liner-top") == ["NotChecked"]
    assert evaluation.displacement is None
    assert ("displacement", ("running string",)) in evaluation.missing


def places_of_findings():
    """Where the rules make a finding: module and lines of each call."""
    for module in (path, telescope, tally, cementing, evaluating):
        for node in ast.walk(ast.parse(inspect.getsource(module))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Found":
                yield module.__name__, node.lineno, node.end_lineno


def test_every_finding_that_a_rule_can_make_is_made_and_can_be_said_in_both_units(monkeypatch):
    made = set()

    class Recorded(Found):
        def __new__(cls, *values):
            caller = sys._getframe(1)
            made.add((caller.f_globals["__name__"], caller.f_lineno))
            finding = super().__new__(cls, *values)
            for system in ("field", "metric"):
                for text in (finding.headline, finding.what, finding.mend):
                    assert "{" not in sentence(text, finding.figures, system)
            return finding

    for module in (path, telescope, tally, cementing, evaluating):
        monkeypatch.setattr(module, "Found", Recorded)
    for _rule, changes, wanted, _phrase in CASES:
        if wanted == "Found":
            variant(BRINDLEWICK, *changes)

    for name, first, last in places_of_findings():
        assert any(module == name and first <= line <= last for module, line in made), (name, first)


HEADINGS = ("What it checks", "Why it matters", "Limit", "Source", "Example")


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.code)
def test_every_rule_has_its_page(rule):
    page = rule.check.__doc__
    places = [page.index(f"    {heading}\n") for heading in HEADINGS]

    assert places == sorted(places)
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", rule.code)


def test_codes_are_unique():
    codes = [rule.code for rule in RULES]

    assert len(codes) == len(set(codes)) == 17


def test_a_hanger_below_the_host_shoe_is_an_error_whatever_the_least_lap():
    limits = ("  profile: common practice\n", "  least lap: 10 ft\n")

    said = found(variant(BRINDLEWICK, (LAP, "lap: 20 ft"), (DRILL_PIPE, "length: 9426 ft"), limits))

    assert any(rule == "liner-top-outside-host" and "no casing to grip" in text for rule, text in said)
