"""Well files that can be parsed but not meant: each problem with its line and its remedy, all at once.

Each case is the sound demo well with one thing wrong; the sound one is its unbroken twin.
"""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from schematic import evaluate, load_text, resolve
from schematic.outcome import Outcome, Severity
from schematic.verbs import demos, new
from schematic.wellfile.problem import InputError, Problem
from schematic.wellfile.read import read_text

SOUND = demos()["brindlewick-4.yaml"]

# what is replaced, by what, the text whose line must be named, a phrase of found, accepted or mend
CASES = [
    ("off bottom: 10 ft", "of bottom: 10 ft", "of bottom", "did you mean 'off bottom'?"),
    ("lap: 370 ft", "lap: 370", "lap: 370", "a number without a unit"),
    ("density: 12.6 ppg", "density: 12.6 psi", "12.6 psi", "measures something else"),
    ("lap: 370 ft", "lap: 370 fathom", "370 fathom", "is not a unit known here"),
    ("lap: 370 ft", "lap: 1,370 ft", "1,370 ft", "thousands"),
    ("name: surface casing", "name: conductor", "name: conductor\n    pipe: 13", "a name of its own"),
    ("host: intermediate casing", "host: 7 in liner", "host: 7 in liner", "conductor, surface casing"),
    ("{md: 9850 ft, inc: 1.0", "{md: 3850 ft, inc: 1.0", "3850 ft, inc", "rise from station to station"),
    ("{bit: 12 1/4 in, to: 9850 ft}", "{bit: 12 1/4 in, to: 4000 ft}", "to: 4000 ft", "from the top down"),
    ("{to: 11300 ft, diameter: 9.30 in}", "{to: 9300 ft, diameter: 9.30 in}", "to: 9300 ft", "between"),
    ("{part: joint, count: 2, length: 80.6 ft}", "{part: joint, fill: true}", "assembly:", "more than one line with 'fill'"),
    ("{part: float collar, length", "{part: float collar, slips: {from bottom: 1 ft, length: 2 ft}, length", "float collar,",
     "'slips' of a float collar"),
    ("stick up: 6 ft", "stick up: -6 ft", "-6 ft", "nought or more"),
    ("  lap: 370 ft\n", "", "liner:\n", "too little to find the liner top"),
    ("- {fluid: cement}", "- {fluid: concrete}", "concrete", "mud, spacer, cement"),
    ("show: field", "show: imperial", "imperial", "one of: field, metric"),
    ("  name: Brindlewick 4\n", "", "well:\n", "no 'name'"),
    ("9 5/8 in 47 lb/ft L-80", "9 5/8 in 48 lb/ft L-80", "48 lb/ft", "did you mean 9 5/8 in 47 lb/ft"),
    ("5 in 19.5 lb/ft S-135 NC50", "5 in 19.5 lb/ft", "19.5 lb/ft\n", "E-75"),
    ("lapline: 1\n", "lapline: 2\n", "lapline: 2", "one of: 1"),
    ("date: 2026-11-20", "date: 20.11.2026", "20.11.2026", "year-month-day"),
    ("driven: yes", "driven: maybe", "maybe", "yes or no"),
    ("valves: 2", "valves: two", "valves: two", "digits only"),
    ("name: Brindlewick 4", "name: " + "x" * 400, "xxx", "at most 300 characters"),
    ("at: intermediate casing", "at: production casing", "at: production casing", "the name of a string"),
    ("liner.lap: 150 ft", "liner.lop: 150 ft", "liner.lop", "did you mean 'liner.lap'"),
    ("tool joint: {od: 6 5/8 in, id: 2 3/4", "tool joint: {od: 6 5/8 in, id: 7", "tool joint: {", "id smaller than"),
    ("{part: wiper plug}", "{part: wiper plug, pipe: 5 in 19.5 lb/ft S-135 NC50, colour: red}", "colour", "not a key here"),
    ("    - {part: float shoe, length: 1.8 ft, od: 7.656 in, valves: 2}\n", "    - {part: float shoe, od: 7.656 in}\n",
     "{part: float shoe", "'length' of every part"),
    ("    - {part: joint, count: 1, length: 40.2 ft}", "    - {part: joint, count: 1, length: 40.2 ft, each: 40.2 ft}",
     "count: 1", "both 'length' and 'each'"),
    ("{part: joint, fill: true, each: 40.334 ft}", "{part: joint, fill: true, length: 40 ft}", "fill: true", "'fill' with a count"),
    ("id: 6.160 in", "id: 8.400 in", "part: liner hanger", "a bore smaller than the od"),
    ("name: Brindlewick 4", 'name: "Brindlewick\\a4"', "name: \"Brin", "control or unseen characters"),
    ("name: Brindlewick 4", 'name: "Brindlewick\\u202E4"', "name: \"Brin", "control or unseen characters"),
    ("  mud: {kind", '  "mu\\ad": {kind', '"mu', "control or unseen characters"),
    ("purpose: drilling liner", "purpose: ''", "purpose", "an empty text"),
    ("purpose: drilling liner", "purpose:", "purpose", "take the key out"),
    ("purpose: drilling liner", "purpose: [drilling, liner]", "purpose", "write one value"),
    ("temperature: {static: 246 degF, circulating: 205 degF}", "temperature: [246 degF]", "temperature", "keys with values"),
    ("temperature: {static: 246 degF, circulating: 205 degF}", "temperature: 246 degF", "temperature", "keys with values"),
    ("near hanger: [9396.5 ft, 9437.7 ft, 9479.0 ft, 9520.4 ft, 9561.7 ft]", "near hanger: 9396.5 ft", "near hanger", "a list"),
    ("open hole: 20 %", "open hole: 20", "open hole: 20", "without a unit"),
    ("open hole: 20 %", "open hole: {low: 30 %, likely: 20 %}", "open hole", "rising order"),
    ("open hole: 20 %", "open hole: {low: 10 %}", "open hole", "'likely'"),
    ("sets at: 1500 psi +/- 5 %", "sets at: {likely: 1500 psi +/- 5 %, high: 1600 psi}", "sets at", "write one of the two"),
    ("planned top: 9280 ft", "planned top: 9280 ft\n  above liner top: 200 ft", "cement:\n  planned", "take one of them out"),
    ("planned top: 9280 ft", "planned top: 12590 ft", "planned top", "between the datum and the liner shoe"),
    ("{bit: 12 1/4 in, to: 9850 ft}", "{bit: 12 1/4 in, to: 9850 ft, washout: {}}", "washout: {}", "write one of the two"),
    ("    to: 12600 ft\n", "    to: 12600 ft\n    washout: {diameter: 3 %}\n", "  - bit: 8 1/2", "take one of them out"),
    ("name: surface casing", "name: hole", "name: hole", "a name of its own"),
    ("    - {part: wiper plug}\n", "    - {part: pup joint, length: 5 ft}\n    - {part: wiper plug}\n", "assembly:\n    - {part: pup",
     "put the lines in order"),
    ("lap: 370 ft", "lap: 9900 ft", "liner:\n", "a top below the datum"),
    ("{tvd: 10300 ft, pore", "{pore", "{pore: 11.4", "write 'tvd' or 'md'"),
    ("cement: {top: 6800 ft, known by: bond log}", "wall left: 112 %", "wall left", "at most 100 %"),
    ("thickening time: 6.0 h", "silica: 350 %", "silica", "at most 100 %"),
    ("open hole: 20 %", "open hole: 2000 %", "open hole", "at most 500 %"),
    ("{part: joint, count: 1, length: 40.2 ft}", "{part: joint, count: 0, length: 40.2 ft}", "count: 0", "a count of one or more"),
    ("slips: {from bottom: 0.9 ft, length: 8.0 ft}", "slips: {from bottom: 2.9 ft, length: 8.0 ft}", "part: liner hanger",
     "slips inside their part"),
    ("cement: {top: 6800 ft, known by: bond log}", "features: [{what: wear, from: 9000 ft, to: 8000 ft}]", "features", "exchange them"),
    ("md: 11860 ft, base md: 11895 ft", "md: 11860 ft, base md: 11795 ft", "{name: gas sand", "a base below 11860 ft"),
    ("cement: {top: 6800 ft, known", "cement: {top: 9900 ft, known", "9900 ft", "above the shoe"),
    ("date: 2026-11-20", "date: 20261120", "20261120", "year-month-day"),
    ("    shoe: 9850 ft\n", "    shoe: 12601 ft\n", "12601 ft", "add the hole section"),
    ("  profile: common practice\n", "  least lap: 200 m\n  greatest lap: 100 m\n", "least lap", "a lower limit under the upper one"),
    ("inc: 1.0 deg, azi: 115 deg", "inc: 1.0 deg, azi: 435 deg", "435 deg", "0 to 360 deg"),
    ("inc: 1.0 deg, azi: 115 deg", "inc: 131 deg, azi: 115 deg", "131 deg", "0 to 130 deg"),
    ("{part: float collar, length", "{part: float collar, bore: 2 in, length", "float collar,", "write it as 'id'"),
    ("bit: 8 1/2 in\n", "bit: 8 1/2 in\n    under reamed to: 8 in\n", "  - bit: 8 1/2", "a diameter larger than the bit"),
    ("basis: caliper}", "basis: caliper, intervals: [{from: 11000 ft, to: 10000 ft, share: 50 %}]}", "{from: 11000", "do not overlap"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new_text", "marked", "phrase"), CASES)
def test_a_problem_is_told_at_its_line_with_its_remedy(old, new_text, marked, phrase):
    assert SOUND.count(old) == 1
    broken = SOUND.replace(old, new_text)
    line = broken[: broken.index(marked)].count("\n") + 1

    with pytest.raises(InputError) as caught:
        resolve(load_text(broken, "well.yaml"))

    said = [problem for problem in caught.value.problems if phrase in str(problem)]
    assert said, str(caught.value)
    assert said[0].line == line, str(caught.value)
    assert str(said[0]).startswith(f"well.yaml:{line}  ")


def test_the_unbroken_twin_reads():
    assert evaluate(resolve(load_text(SOUND))).count(Severity.ERROR) == 0


def test_the_first_file_reads_and_says_what_it_assumes():
    evaluation = evaluate(resolve(load_text(new())))

    assert evaluation.findings == ()
    assert any("typical" in text for text in evaluation.plan.assumptions)
    assert all(part.length_assumed or part.length_m > 0 for part in evaluation.plan.depth.liner.parts)
    tools = [part for part in evaluation.plan.depth.liner.parts if part.kind not in ("joint", "pup joint")]
    assert all(part.od_m is None and part.id_m is None for part in tools)


def test_all_problems_come_at_once_in_the_order_of_the_file():
    broken = (
        SOUND.replace("off bottom", "of bottom")
        .replace("12.6 ppg, base", "12.6, base")
        .replace("47 lb/ft", "48 lb/ft")
    )

    with pytest.raises(InputError) as caught:
        load_text(broken)

    lines = [problem.line for problem in caught.value.problems]
    assert len(lines) == 3
    assert lines == sorted(lines)


def test_two_keys_missing_in_one_section_are_two_problems():
    with pytest.raises(InputError) as caught:
        load_text(SOUND.replace("  - {md: 0 ft, inc: 0 deg, azi: 0 deg}", "  - {md: 0 ft}"))

    assert [problem.found for problem in caught.value.problems] == ["no 'inc'", "no 'azi'"]


def test_a_key_with_nothing_behind_it_is_one_problem_at_its_key():
    with pytest.raises(InputError) as caught:
        load_text(SOUND.replace("lap: 370 ft", "lap:").replace("host: intermediate casing", "host:"))

    assert [problem.path for problem in caught.value.problems] == ["liner.host", "liner.lap"]
    assert all("take the key out" in problem.mend for problem in caught.value.problems)


@pytest.mark.parametrize("spelling", ["off bottom", "off-bottom", "off_bottom"])
def test_space_hyphen_and_underscore_are_equal(spelling):
    assert evaluate(resolve(load_text(SOUND.replace("off bottom", spelling)))).count(Severity.ERROR) == 0


def test_field_and_metric_units_mix_freely():
    mixed = SOUND.replace("lap: 370 ft", "lap: 112.776 m").replace("od: 8.312 in\n", "od: 211.1248 mm\n")

    ours, theirs = (evaluate(resolve(load_text(text))) for text in (mixed, SOUND))

    assert ours.plan.depth.liner.top_md_m == pytest.approx(theirs.plan.depth.liner.top_md_m, abs=1e-9)
    assert ours.cement.total_m3 == pytest.approx(theirs.cement.total_m3, rel=1e-12)


def test_names_with_markup_and_formulas_stay_text():
    hostile = SOUND.replace("name: Brindlewick 4", "name: '=cmd|<script>alert(1)</script>'")

    assert resolve(load_text(hostile)).identity.name == "=cmd|<script>alert(1)</script>"


SUFFICIENT = [
    "lap: 370 ft\n  off bottom: 10 ft",
    "top: 9480 ft\n  off bottom: 10 ft",
    "lap: 370 ft\n  shoe: 12590 ft",
    "top: 9480 ft\n  shoe: 12590 ft",
    "lap: 370 ft\n  length: 3110 ft",
    "top: 9480 ft\n  length: 3110 ft",
    "length: 3110 ft\n  shoe: 12590 ft",
    "length: 3110 ft\n  off bottom: 10 ft",
    "lap: 370 ft\n  off bottom: 10 ft\n  length: 3110 ft\n  top: 9480 ft\n  shoe: 12590 ft",
    "top tvd: 9479.4957 ft\n  off bottom: 10 ft",
    "top below sea level: 8239.4957 ft\n  off bottom: 10 ft",
]


@pytest.mark.parametrize("depths", SUFFICIENT)
def test_any_sufficient_set_of_depths_gives_the_same_plan(depths):
    plan = resolve(load_text(SOUND.replace("lap: 370 ft\n  off bottom: 10 ft", depths)))

    assert plan.depth.liner.top_md_m / 0.3048 == pytest.approx(9480.0, abs=0.01)
    assert plan.depth.liner.shoe_md_m / 0.3048 == pytest.approx(12590.0, abs=1e-6)
    assert plan.misfits == ()


def test_the_parts_alone_fix_the_length():
    counted = SOUND.replace("fill: true, each: 40.334 ft", "count: 73, length: 2944.4 ft").replace(
        "  lap: 370 ft\n", ""
    )

    assert resolve(load_text(counted)).depth.liner.top_md_m / 0.3048 == pytest.approx(9480.0, abs=1e-6)


@st.composite
def damaged(draw):
    """A demo well with a few lines or scalars damaged."""
    lines = draw(st.sampled_from(sorted(demos().values()))).splitlines()
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, len(lines) - 1))
        how = draw(st.sampled_from(["drop", "twice", "swap", "number", "word", "empty"]))
        if how == "drop":
            del lines[at]
        elif how == "twice":
            lines.insert(at, lines[at])
        elif how == "swap":
            other = draw(st.integers(0, len(lines) - 1))
            lines[at], lines[other] = lines[other], lines[at]
        elif how == "number":
            value = draw(st.sampled_from(["0", "-1", "1e9", "0.0001", "99999", "12 1/2"]))
            lines[at] = re.sub(r"\d+(\.\d+)?", value, lines[at], count=1)
        elif how == "word":
            lines[at] = lines[at].replace(":", ": x", 1)
        else:
            lines[at] = lines[at].partition(":")[0] + ":"
        if not lines:
            lines = ["lapline: 1"]
    return "\n".join(lines) + "\n"


@settings(max_examples=400, suppress_health_check=[HealthCheck.too_slow])
@given(damaged())
def test_a_damaged_file_is_evaluated_or_refused_and_nothing_else(text):

    problems: tuple[Problem, ...] = ()
    outcomes: tuple[Outcome, ...] = ()
    try:
        outcomes = evaluate(resolve(load_text(text))).outcomes
    except InputError as error:
        problems = error.problems

    assert bool(problems) != bool(outcomes)
    assert all(problem.found and problem.accepted and problem.mend for problem in problems)


def test_a_byte_order_mark_is_no_matter():
    document = read_text(b"\xef\xbb\xbf" + demos()["brindlewick-4.yaml"].encode())

    assert document.text == demos()["brindlewick-4.yaml"]


def test_a_host_is_found_however_it_is_spelled():
    plan = resolve(load_text(SOUND.replace("host: intermediate casing", "host: Intermediate-Casing")))

    assert plan.depth.host.name == "intermediate casing"


def test_words_of_a_pipe_that_nobody_understands_are_said_to_be_left_out():
    plan = resolve(load_text(SOUND.replace("7 in 29 lb/ft P-110", "7 in 29 lb/ft seamless")))

    assert plan.depth.liner.grade == ""
    assert any("'seamless' of pipe" in text for text in plan.assumptions)


def test_a_slip_of_a_grade_is_refused_with_its_line():
    """The letter O typed for a nought: left out, nothing would be known of strength."""
    with pytest.raises(InputError) as caught:
        load_text(SOUND.replace("7 in 29 lb/ft P-110", "7 in 29 lb/ft P-11O"))

    (problem,) = caught.value.problems
    assert problem.path == "liner.pipe"
    assert "did you mean P-110" in problem.mend
