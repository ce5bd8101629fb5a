"""Files of a size or with texts that nobody expects: answered in full, or refused at their line."""

from __future__ import annotations

import csv
import io
import json
from xml.etree import ElementTree

import pytest

from schematic import check
from schematic.export import report, tables
from schematic.verbs import demos, load_text, render, sheet
from schematic.wellfile.problem import InputError
from schematic.wellfile.tree import parse

BRINDLEWICK = demos()["brindlewick-4.yaml"]
STATIONS = BRINDLEWICK[BRINDLEWICK.index("survey:\n") : BRINDLEWICK.index("hole:  ")]
FILL = "    - {part: joint, fill: true, each: 40.334 ft}\n"


def changed(*changes: tuple[str, str]) -> str:
    """The well's text after replacements, each of which must apply exactly once."""
    text = BRINDLEWICK
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def survey(count: int) -> str:
    """A survey of so many stations down to 12 600 ft."""
    rows = (
        f"  - {{md: {12600 * n / (count - 1):.4f} ft, inc: {n % 3 / 2} deg, azi: 110 deg}}\n"
        for n in range(count)
    )
    return "survey:\n" + "".join(rows) + "\n"


@pytest.mark.parametrize("opening", ["[", "{a: ", "- "])
def test_a_megabyte_of_nesting_is_refused_at_its_line(opening):
    text = "lapline: 1\nwell: " + opening * (1_000_000 // len(opening))

    with pytest.raises(InputError) as caught:
        parse(text, "deep.yaml")

    assert caught.value.problems[0].line == 2


def test_ten_thousand_stations_are_a_survey():
    plan = check(load_text(changed((STATIONS, survey(10_000))))).plan

    assert len(plan.depth.path.stations) == 10_000
    assert plan.depth.path.tvd_m(12600 * 0.3048) < 12600 * 0.3048


def test_one_wrong_station_of_ten_thousand_is_named_by_its_line():
    rows = survey(10_000).splitlines(keepends=True)
    rows[7001] = rows[7001].replace("md: ", "md: 1")
    text = changed((STATIONS, "".join(rows)))
    line = text[: text.index(rows[7002])].count("\n") + 1

    with pytest.raises(InputError) as caught:
        check(load_text(text))

    assert [problem.line for problem in caught.value.problems] == [line]
    assert "sort the stations" in caught.value.problems[0].mend


def test_two_thousand_joints_line_by_line_are_a_liner():
    rows = "".join(
        f"    - {{part: joint, count: 1, length: {1.4 + n % 7 / 100:.2f} ft}}\n" for n in range(2000)
    )
    text = changed((FILL, rows), ("  lap: 370 ft\n", ""), ("      length: 9076 ft\n", ""))

    evaluation = check(load_text(text))

    assert len(evaluation.plan.depth.liner.parts) > 2000
    total = sum(1.4 + n % 7 / 100 for n in range(2000))
    parts = evaluation.plan.depth.liner.parts
    assert sum(part.length_m for part in parts if part.kind == "joint") / 0.3048 == pytest.approx(
        total + 120.8, abs=1e-6
    )


HOSTILE = [
    "<script>alert(1)</script>",
    "=SUM(A1:A9)",
    "+1 and -1",
    "@here",
    "{name.__class__} {0} {",
    "]]> & \" '",
    "../../etc/passwd",
    "%s %n",
]


@pytest.mark.parametrize("name", HOSTILE)
def test_a_name_is_data_on_every_way_out(name):
    quoted = json.dumps(name)
    text = changed(
        ("name: Brindlewick 4", f"name: {quoted}"),
        ("name: Corvane shale", f"name: {quoted}"),
        ("      name: hydraulic hanger\n", f"      name: {quoted}\n"),
        (
            "od: 8.312 in\n      id: 6.160 in",
            "od: 8.6 in\n      id: 6.160 in",
        ),  # so that a finding names the part
    )
    evaluation = check(load_text(text))

    for page in render(sheet(evaluation), ".svg"):
        tree = ElementTree.fromstring(page)
        assert not list(tree.iter("{http://www.w3.org/2000/svg}script"))
        assert any(name in "".join(element.itertext()) for element in tree.iter())
    cells = [
        cell
        for row in csv.reader(io.StringIO(tables.as_csv(tables.tables(evaluation), "field")))
        for cell in row
    ]
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "@")]
    assert any(name in cell for cell in cells)
    said = json.loads(json.dumps(report.as_data(evaluation, "field")))
    assert any(name in row.get("what", "") for row in said)
    assert name in report.as_text(evaluation, "field")
