"""Options of a well: each is what the edited file is, and the tables tell what differs and nothing else."""

from __future__ import annotations

import json
import sys

import pytest

from schematic import check, cli, options
from schematic.options.compare import AS_WRITTEN, figures, findings_that_differ, what_differs
from schematic.units import FOOT_M
from schematic.verbs import demos, load_text
from schematic.wellfile import edit

BRINDLEWICK = demos()["brindlewick-4.yaml"]


def with_options(text: str, *written: str) -> str:
    """The well with these options alone."""
    start, end = text.index("options:\n"), text.index("record:\n")
    return text[:start] + "options:\n" + "".join(f"  - {each}\n" for each in written) + "\n" + text[end:]


def test_an_option_is_the_file_with_its_values_put_in():
    base, short, _seat = options(load_text(BRINDLEWICK))
    by_hand = edit.set(BRINDLEWICK, "liner.lap", "150 ft")
    by_hand = edit.set(by_hand, "running string.assembly.drill pipe.length", "9296 ft")
    twin = check(load_text(by_hand))

    assert base.name == AS_WRITTEN
    assert short.evaluation.outcomes == twin.outcomes
    assert short.evaluation.volumes == twin.volumes


def test_only_what_differs_is_told_with_its_unit():
    compared = options(load_text(BRINDLEWICK))

    rows = {row[0]: row[1:] for row in what_differs(compared, "field").rows}

    assert rows["liner top"] == ("9480.0 ft", "9700.0 ft", "9480.0 ft")  # 9850 less 370, and less 150
    assert "liner shoe" not in rows  # the same in all
    assert all(len(set(cells)) > 1 for cells in rows.values())
    lap = figures(compared[1].evaluation)["lap, liner top to host shoe"]
    assert lap.si == pytest.approx(150 * FOOT_M)


def test_findings_that_appear_and_go_are_told_in_words():
    text = with_options(
        BRINDLEWICK,
        "{name: too short, change: {liner.lap: 80 ft, running string.assembly.drill pipe.length: 9366 ft}}",
        "{name: silica, change: {fluids.cement.silica: 35 %}}",
    )

    rows = findings_that_differ(options(load_text(text)), "field").rows

    said = {(row[0], row[1], row[3]) for row in rows}
    assert ("too short", "appears", "lap-outside-limits") in said
    assert ("silica", "goes", "slurry-wants-silica") in said
    assert not [row for row in rows if row[0] == "silica" and row[1] == "appears"]


def test_a_finding_that_goes_for_want_of_an_input_has_not_gone():
    """With a lap of 150 ft the slips stand below the couplings that the file lists."""
    rows = findings_that_differ(options(load_text(BRINDLEWICK)), "field").rows

    assert ("short lap", "not checked", "slip-depth-not-proved") in {(row[0], row[1], row[3]) for row in rows}


@pytest.mark.parametrize(
    ("change", "found"),
    [
        ("{liner.lap: 160}", "a number without a unit"),
        ("{liner.lap: 9900 ft}", "above the datum"),
        ("{liner.host: none}", "conductor, surface casing"),
        ("{liner.lap: {a: b}}", "change them one by one"),
    ],
)
def test_an_option_that_cannot_be_keeps_its_problem_and_the_others_are_compared(change, found):
    text = with_options(
        BRINDLEWICK, f"{{name: odd, change: {change}}}", "{name: good, change: {liner.lap: 372 ft}}"
    )

    base, odd, good = options(load_text(text))

    assert odd.evaluation is None
    assert found in str(odd.problems[0])
    assert good.evaluation is not None
    assert "good" in [column.head for column in what_differs((base, odd, good), "field").columns]


def run(monkeypatch, capsys, *arguments: str):
    monkeypatch.setattr(sys, "argv", ["lapline", "options", *arguments])
    with pytest.raises(SystemExit) as ended:
        cli.main()
    said = capsys.readouterr()
    return ended.value.code, said.out, said.err


def test_the_command_tells_options_in_every_form(tmp_path, monkeypatch, capsys):
    file = tmp_path / "well.yaml"
    file.write_text(BRINDLEWICK)

    status, out, _err = run(monkeypatch, capsys, str(file))
    assert status == 0
    assert "What differs" in out
    status, out, _err = run(monkeypatch, capsys, str(file), "--format", "json", "--units", "metric")
    assert {table["title"] for table in json.loads(out)["tables"]} == {"What differs", "Findings that differ"}
    status, out, _err = run(monkeypatch, capsys, str(file), "--format", "csv")
    assert "short lap" in out


def test_a_file_without_options_says_how_to_write_one(tmp_path, monkeypatch, capsys):
    file = tmp_path / "well.yaml"
    file.write_text(demos()["fallow-6.yaml"])

    status, _out, err = run(monkeypatch, capsys, str(file))

    assert status == 2
    assert "options: [{name: ..., change:" in err
