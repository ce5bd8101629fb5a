"""Broken little files: each is refused at its line, with the remedy that mends it, and the command says so.

A row is added by putting a file into tests/broken and naming it here.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from schematic import check, cli, resolve
from schematic.verbs import load, load_text
from schematic.wellfile.problem import InputError
from schematic.wellfile.tree import parse

BROKEN = Path(__file__).parents[1] / "broken"

# file, line, a phrase of the remedy
NOT_A_TREE = [
    ("alias-bomb.yaml", 4, "take out '&a'"),
    ("alias.yaml", 6, "write the value again"),
    ("at-sign.yaml", 4, "quote the text"),
    ("backslash.yaml", 4, "use single quotes"),
    ("bracket-open.yaml", 6, "close the '{' of line 6"),
    ("bracket-stray.yaml", 6, "take out the stray bracket"),
    ("code-page.yaml", 6, "save the file as 'UTF-8'"),
    ("colon-in-text.yaml", 3, "quote the text if the colon belongs to it"),
    ("comma-missing.yaml", 9, "write a comma before this"),
    ("dash-beside-key.yaml", 4, "on a line of its own below the key"),
    ("decimal-comma.yaml", 5, "'12.2 ppg'"),
    ("directive.yaml", 1, "lines that start with %"),
    ("empty.yaml", 1, "write 'lapline: 1' first"),
    ("hash-for-pounds.yaml", 6, 'quote the text: "7 in 29 # P-110"'),
    ("hash-in-braces.yaml", 6, "a ' #' starts a comment"),
    ("inch-mark.yaml", 6, "put the whole value in single quotes"),
    ("indentation.yaml", 6, "the indentation of its neighbours"),
    ("key-in-list.yaml", 6, "start the item with '- '"),
    ("key-of-many.yaml", 4, "with a plain word as the key"),
    ("key-twice.yaml", 8, "take out one of the two (lines 6 and 8)"),
    ("list.yaml", 1, "start each line with a key"),
    ("merge-key.yaml", 6, "write the keys out"),
    ("nul.yaml", 6, "take it out"),
    ("quote-open.yaml", 6, "close the quote"),
    ("space-missing-below.yaml", 5, "put a space behind the colon: 'lap: 120 m'"),
    ("space-missing-in-braces.yaml", 5, "put a space behind the colon: 'md: 0 m'"),
    ("space-missing.yaml", 6, "put a space behind the colon: 'lap: 120 m'"),
    ("tab.yaml", 6, "replace the tab"),
    ("tag-object.yaml", 6, "take out the word that starts with '!'"),
    ("thousands-comma.yaml", 6, "'1200 m' if the comma parts thousands"),
    ("two-documents.yaml", 4, "take out the '---'"),
    ("utf-16.yaml", 1, "save the file as 'UTF-8'"),
]

# a tree, but no well: file, line, a phrase of the remedy, what is broken in it, how it is mended
NOT_A_WELL = [
    ("azimuth-for-inclination.yaml", 6, "is this the azimuth?", "inc: 230 deg, azi: 40 deg",
     "inc: 40 deg, azi: 230 deg"),
    ("azimuth-left-out.yaml", 6, "add 'azi: ...'", "inc: 40 deg}", "inc: 40 deg, azi: 30 deg}"),
    ("band-falling.yaml", 20, "exchange them", "{low: 30 %, likely: 20 %, high: 40 %}",
     "{low: 10 %, likely: 20 %, high: 40 %}"),
    ("bell-in-a-name.yaml", 12, "without control or unseen characters", '"cas\\aing"', "casing"),
    ("below-absolute-nought.yaml", 16, "check the sign", "-300 degC", "104 degC"),
    ("boolean-as-length.yaml", 13, "it does not begin with a number", "lap: off", "lap: 120 m"),
    ("boolean-maybe.yaml", 8, "write 'yes' or 'no'", "driven: y}", "driven: no}"),
    ("bore-over-od.yaml", 12, "exchange them", "od: 157.1 mm\n  id: 177.8 mm",
     "od: 177.8 mm\n  id: 157.1 mm"),
    ("caliper-below-its-section.yaml", 6, "inside their hole section", "3984 m", "3964 m"),
    ("clock-as-length.yaml", 13, "':30' is not a unit", "lap: 12:30", "lap: 120 m"),
    ("comma-and-point.yaml", 9, "',5 m' is not a unit", '"2.840,5 m"', "2840.5 m"),
    ("count-with-unit.yaml", 17, "write digits only", "2 joints", "2"),
    ("date-day-first.yaml", 3, "write year-month-day", "20/11/2026", "2026-11-20"),
    ("date-of-no-calendar.yaml", 3, "write year-month-day", "2026-11-31", "2026-11-30"),
    ("datum-without-level.yaml", 2, "add 'above: ...'", "from: rotary table, height",
     "from: rotary table, above: mean sea level, height"),
    ("dogleg-without-length.yaml", 16, "write it like '2.5 deg/30 m'", "3 deg\n", "3 deg/30 m\n"),
    ("each-and-length.yaml", 17, "take one of them out", ", each: 12 m}\n    - {part: landing",
     "}\n    - {part: landing"),
    ("endless-number.yaml", 13, "too large to mean anything", "1e99 m", "120 m"),
    ("excess-stretches-overlap.yaml", 24, "put them in order", "from: 3050 m", "from: 3100 m"),
    ("fill-twice.yaml", 15, "give the other a count or a length", "{part: joint, fill: true}",
     "{part: joint, count: 2, length: 24 m}"),
    ("fluid-kind-unknown.yaml", 16, "choose one of them", "kind: drilling fluid", "kind: mud"),
    ("fraction-of-nought.yaml", 6, "a fraction of nought", "8 1/0 in", "8 1/2 in"),
    ("grade-with-a-letter-o.yaml", 11, "did you mean P-110", "P-11O", "P-110"),
    ("hole-from-the-bottom-up.yaml", 6, "list the sections from the top down", "to: 2800 m", "to: 3964 m"),
    ("hole-turns-back.yaml", 3, "check the directions", "inc: 60 deg, azi: 210", "inc: 120 deg, azi: 40"),
    ("host-not-there.yaml", 12, "name the string in which the liner hangs", "host: 9 5/8 in casing",
     "host: casing"),
    ("infinite.yaml", 13, "it does not begin with a number", ".inf m", "120 m"),
    ("lap-longer-than-the-well.yaml", 10, "shorten the lap or the liner", "lap: 3000 m", "lap: 300 m"),
    ("lap-negative.yaml", 13, "check the sign", "-120 m", "120 m"),
    ("lap-nought.yaml", 13, "check the sign and the digits", "lap: 0 m", "lap: 120 m"),
    ("leak-off-at-no-string.yaml", 16, "name the string at whose shoe it was made", "at: production casing",
     "at: casing"),
    ("length-left-out.yaml", 18, "write its make-up length", "{part: landing collar}",
     "{part: landing collar, length: 0.4 m}"),
    ("letter-for-digit.yaml", 13, "it does not begin with a number", "l20 m", "120 m"),
    ("limit-misspelt.yaml", 16, "did you mean 'least lap'?", "leest lap", "least lap"),
    ("list-for-a-value.yaml", 13, "write one value", "[120 m]", "120 m"),
    ("millimetres-for-metres.yaml", 6, "list the sections from the top down", "3964 mm", "3964 m"),
    ("name-of-many-lines.yaml", 12, "write it on one line", '"cas\\ning"', "casing"),
    ("negative-density.yaml", 16, "check the sign", "-1.3 sg", "1.3 sg"),
    ("no-liner.yaml", 1, "add 'liner: ...'", "tubing:", "liner:"),
    ("no-pipe.yaml", 10, "or both 'od' and 'id'", "connection: buttress", "pipe: 7 in 29 lb/ft P-110"),
    ("nothing-behind-a-key.yaml", 13, "take the key out", "lap:\n", "lap: 120 m\n"),
    ("number-without-unit.yaml", 13, "write the unit, like '2500 m'", "lap: 120\n", "lap: 120 m\n"),
    ("octal-count.yaml", 17, "write digits only", "0o2", "2"),
    ("of-botom.yaml", 14, "did you mean 'off bottom'?", "off botom", "off bottom"),
    ("off-bottom-more-than-the-hole.yaml", 10, "check lap, top, shoe and off bottom", "off bottom: 4000 m",
     "off bottom: 2 m"),
    ("opened-to-less-than-the-bit.yaml", 6, "'under reamed to' the opened hole", "under reamed to: 8 in",
     "under reamed to: 9 in"),
    ("option-to-no-string.yaml", 17, "name keys and list items as they stand in the file", "strings.production casing",
     "strings.casing"),
    ("option-to-nowhere.yaml", 17, "name keys and list items as they stand in the file", "liner.overlap",
     "liner.lap"),
    ("part-misspelt.yaml", 20, "did you mean 'liner hanger'?", "liner hangar", "liner hanger"),
    ("percent-below-nought.yaml", 20, "check the sign", "-20 %", "20 %"),
    ("percent-sign-left-out.yaml", 20, "write the unit, like '20 %'", "open hole: 20}", "open hole: 20 %}"),
    ("ppg-for-psi.yaml", 16, "'ppg' measures something else", "9.5 ppg", "950 psi"),
    ("pressure-at-two-depths.yaml", 17, "write 'tvd' or 'md'", ", tvd: 3000 m", ""),
    ("profile-unknown.yaml", 16, "did you mean 'common practice'?", "our practice", "common practice"),
    ("psi-for-ppg.yaml", 16, "'psi' measures something else", "12.6 psi", "12.6 ppg"),
    ("test-twice.yaml", 15, "name one of the two anew", "{name: lap, kind: inflow}", "{name: inflow, kind: inflow}"),
    ("revision-twice.yaml", 2, "number it anew", "revisions: [{number: 2}]", "revisions: [{number: 1}]"),
    ("revisions-without-the-latest.yaml", 2, "move the latest under 'revision:",
     "earlier revisions: [{number: 1, date: 2026-11-06}]", "revision: {number: 1, date: 2026-11-06}"),
    ("running-part-unknown.yaml", 18, "did you mean 'drill pipe'?", "part: drill pipes", "part: drill pipe"),
    ("show-off.yaml", 2, "choose one of them", "show: off", "show: field"),
    ("size-not-listed.yaml", 9, "did you mean 9 5/8 in?", "9 7/8 in 62.8 lb/ft", "9 5/8 in 47 lb/ft"),
    ("slips-on-a-collar.yaml", 18, "take 'slips' out", ", slips: {from bottom: 0 m, length: 0.2 m}", ""),
    ("slurries-out-of-order.yaml", 21, "put them in order", "{fluid: lead, below: 3500 m}, {fluid: tail}",
     "{fluid: lead}, {fluid: tail, below: 3500 m}"),
    ("slurry-unknown.yaml", 21, "add it under 'fluids'", "fluid: cement", "fluid: tail"),
    ("station-above-the-last.yaml", 6, "sort the stations", "md: 1280 m", "md: 2800 m"),
    ("station-twice.yaml", 6, "take double ones out", "md: 1500 m, inc: 40", "md: 1950 m, inc: 40"),
    ("string-named-hole.yaml", 8, "rename one of them", "name: hole", "name: surface casing"),
    ("survey-not-beside.yaml", 3, "check its name and folder", "survey: {file: nowhere.csv}\n", ""),
    ("temperature-in-coulombs.yaml", 16, "'C' is not a unit known here", "104 C}", "104 degC}"),
    ("test-at-no-place.yaml", 18, "check the spelling", "at: top of liner", "at: liner top"),
    ("test-with-no-fluid.yaml", 19, "check the spelling", "light fluid: base oil", "light fluid: brine"),
    ("tolerance-unread.yaml", 20, "the tolerance cannot be read", "+/- a bit", "+/- 5 %"),
    ("too-little.yaml", 10, "add one of them", "name: 7 in liner", "off bottom: 2 m"),
    ("top-below-the-shoe.yaml", 10, "check lap, top, shoe and off bottom", "top: 3990 m", "top: 2720 m"),
    ("top-of-cement-below-the-shoe.yaml", 19, "check the depth", "3990 m", "2700 m"),
    ("tvd-never-reached.yaml", 21, "check it", "inc: 92 deg", "inc: 40 deg"),
    ("two-strings-of-one-name.yaml", 9, "rename one of them", "name: Surface-casing", "name: casing"),
    ("two-options-of-one-name.yaml", 18, "rename one of them", "name: Longer-lap", "name: shorter lap"),
    ("unit-unknown.yaml", 13, "'fathom' is not a unit known here", "65 fathom", "120 m"),
    ("value-for-a-list.yaml", 16, "begin each entry on its own line", "tops: shale",
     "tops: [{name: shale, md: 1000 m}]"),
    ("version-of-the-future.yaml", 1, "choose one of them", "lapline: 2", "lapline: 1"),
    ("waiver-without-name.yaml", 16, "add 'by: ...'", "rathole-unusual, reason",
     "rathole-unusual, by: R. Planner, reason"),
    ("washout-and-caliper.yaml", 6, "take one of them out", ", washout: {volume: 5 %}", ""),
    ("washout-twice.yaml", 6, "write one of the two", ", diameter: 2 %", ""),
    ("weight-not-listed.yaml", 9, "did you mean 9 5/8 in 47 lb/ft?", "48 lb/ft", "47 lb/ft"),
]  # fmt: skip


def read_tree(file):
    return parse(file.read_bytes(), file.name)


def read_well(file):
    return resolve(load(file))


CASES = [(read_tree, *row) for row in NOT_A_TREE] + [(read_well, *row[:3]) for row in NOT_A_WELL]


@pytest.mark.parametrize(("read", "file", "line", "phrase"), CASES, ids=[case[1] for case in CASES])
def test_a_broken_file_is_refused_at_its_line_with_a_remedy(read, file, line, phrase):
    with pytest.raises(InputError) as caught:
        read(BROKEN / file)

    at_line = [problem for problem in caught.value.problems if problem.line == line]
    assert any(phrase in problem.mend for problem in at_line), str(caught.value)
    assert caught.value.problems[0].line == line  # nothing before it is blamed
    assert all(Path(problem.file).name == file for problem in caught.value.problems)


@pytest.mark.parametrize(("_read", "file", "line", "phrase"), CASES, ids=[case[1] for case in CASES])
def test_the_command_says_so_on_standard_error(_read, file, line, phrase, monkeypatch, capsys):
    monkeypatch.chdir(BROKEN)
    monkeypatch.setattr("sys.argv", ["lapline", "check", file])
    with pytest.raises(SystemExit) as ended:
        cli.main()

    said = capsys.readouterr()
    assert ended.value.code == 2
    assert said.out == ""
    assert f"{file}:{line}" in said.err
    assert phrase in said.err
    assert "Traceback" not in said.err


@pytest.mark.parametrize(
    ("file", "broken", "mended"),
    [(row[0], *row[3:]) for row in NOT_A_WELL],
    ids=[row[0] for row in NOT_A_WELL],
)
def test_the_mended_twin_of_a_broken_well_is_evaluated_without_an_error(file, broken, mended):
    text = (BROKEN / file).read_text(encoding="utf-8")
    assert text.count(broken) == 1

    evaluation = check(load_text(text.replace(broken, mended), file))

    assert [outcome.rule for outcome in evaluation.findings if outcome.answer.severity.value == "error"] == []


def test_every_broken_file_is_in_the_table():
    assert {file.name for file in BROKEN.iterdir()} == {file for _, file, _, _ in CASES}


def test_ten_thousand_open_brackets_are_refused():
    with pytest.raises(InputError, match="at most 24 levels"):
        parse("liner: " + "[" * 10_000, "deep.yaml")


SMALL = """\
lapline: 1
well: {name: Small 1, datum: {from: rotary table, above: mean sea level, height: 31 m}, show: metric}
hole:
  - {bit: 17 1/2 in, to: 805 m}
  - {bit: 12 1/4 in, to: 2852 m}
  - {bit: 8 1/2 in, to: 3964 m}
strings:
  - {name: surface casing, pipe: 13 3/8 in 68 lb/ft K-55, shoe: 800 m}
  - {name: casing, pipe: 9 5/8 in 47 lb/ft L-80, shoe: 2840 m}
liner:
  pipe: 7 in 29 lb/ft P-110
  host: casing
  lap: 120 m
  off bottom: 2 m
"""


@pytest.mark.parametrize(
    ("old", "new", "rule", "subject"),
    [
        ("pipe: 7 in 29 lb/ft P-110", "od: 177.8 m\n  id: 157.1 mm", "string-does-not-pass", "liner"),
        ("bit: 8 1/2 in", "bit: 215.9 m", "bit-larger-than-drift", "hole.2"),
        ("lap: 120 m", "lap: 120 in", "lap-outside-limits", "liner"),
    ],
)
def test_a_slip_of_units_that_still_is_a_length_is_found_by_a_rule(old, new, rule, subject):
    assert SMALL.count(old) == 1

    found = {
        (outcome.rule, outcome.subject.path) for outcome in check(load_text(SMALL.replace(old, new))).findings
    }

    assert (rule, subject) in found
    assert rule not in {outcome.rule for outcome in check(load_text(SMALL)).findings}


# what YAML 1.1 would take for a truth, a number of base 8 or 60, a date, nothing
AS_WRITTEN = [
    "off",
    "no",
    "y",
    "010",
    "0x1F",
    "12:30",
    "1_000",
    "2026-11-20",
    ".inf",
    "null",
    "~",
    "1e3",
    "-",
]


@pytest.mark.parametrize("text", AS_WRITTEN)
def test_a_text_is_what_was_written_and_nothing_that_yaml_makes_of_it(text):
    plan = resolve(load_text(SMALL.replace("name: Small 1", f"name: {text}")))

    assert plan.identity.name == text


def test_a_count_with_a_nought_before_it_is_decimal():
    parts = (
        "  assembly:\n    - {part: float shoe, length: 0.6 m}\n"
        "    - {part: joint, count: 010, length: 120 m}\n    - {part: joint, fill: true, each: 12 m}\n"
    )

    plan = resolve(load_text(SMALL + parts))

    assert [part.joints for part in plan.depth.liner.parts if part.length_m == 120.0] == [10]


@pytest.mark.parametrize(("written", "means"), [("on", True), ("off", False), ("Yes", True), ("NO", False)])
def test_yes_and_no_are_read_in_any_of_their_words(written, means):
    plan = resolve(load_text(SMALL.replace("shoe: 800 m", f"shoe: 800 m, driven: {written}")))

    assert plan.depth.strings[0].driven is means


def stations(count: int) -> str:
    rows = (
        f"  - {{md: {3900 * n / (count - 1):.4f} m, inc: {n % 3 / 2} deg, azi: 40 deg}}\n"
        for n in range(count)
    )
    return SMALL.replace("hole:\n", "survey:\n" + "".join(rows) + "hole:\n")


def joints(count: int) -> str:
    rows = "".join("    - {part: joint, count: 1, length: 0.6 m}\n" for _ in range(count))
    return (
        SMALL.replace("  lap: 120 m\n", "") + "  assembly:\n    - {part: float shoe, length: 0.6 m}\n" + rows
    )


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        (stations(10_000), None),
        (joints(2000), 2001),
        (SMALL + "# " + "x" * 3_000_000 + "\n", None),
        (SMALL + "# no more\n" * 300_000, None),
    ],
    ids=["ten thousand stations", "two thousand joints", "3 MB in one remark", "3 MB of remarks"],
)
def test_a_giant_that_is_sound_is_evaluated(text, parts):
    plan = check(load_text(text)).plan

    assert plan.depth.host.name == "casing"
    assert parts is None or len(plan.depth.liner.parts) == parts


@pytest.mark.parametrize(
    ("text", "line", "phrase"),
    [
        (SMALL + "options: " + "[" * 1_000_000, 15, "24 levels"),
        (SMALL + "options: " + "{a: " * 250_000, 15, "24 levels"),
        (SMALL + "options: [" + "[], " * 250_000 + "]\n", 15, "at most 200000"),
        (SMALL + "# " + "x" * 5_000_000, 1, "at most 4194304 bytes"),
        (SMALL + "".join(f"a{n}: &a{n} [{f'*a{n - 1}, ' * 9}]\n" for n in range(1, 99)), 15, "no anchors"),
        (stations(10_000).replace("md: 1950.1950 m", "md: 950.1950 m"), 5004, "rise from station to station"),
        (SMALL + "\n" * 100_000 + "riq: jack-up\n", 100_015, "use one of these keys"),
    ],
    ids=["brackets", "braces", "values", "too many bytes", "aliases", "one wrong station", "far below"],
)
def test_a_giant_that_is_broken_is_refused(text, line, phrase):
    with pytest.raises(InputError) as caught:
        check(load_text(text, "giant.yaml"))

    first = caught.value.problems[0]
    assert first.line == line
    assert phrase in first.accepted + first.mend
    assert len(str(caught.value)) < 100_000  # nor does the answer become a giant


@pytest.mark.parametrize(
    ("system", "length", "density"), [("metric", "2500 m", "1.38 sg"), ("field", "8200 ft", "12.6 ppg")]
)
def test_an_example_is_in_the_units_of_the_file(system, length, density):
    text = (BROKEN / "number-without-unit.yaml").read_text().replace("show: metric", f"show: {system}")
    with pytest.raises(InputError) as caught:
        load_text(f"{text}fluids: {{mud: {{kind: mud, density: 1.5}}}}\n")
    assert [one.mend for one in caught.value.problems] == [
        f"a number without a unit: write the unit, like '{example}'" for example in (length, density)
    ]
