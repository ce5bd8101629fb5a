"""What changed between two issues: every change is told, by as much as the two evaluations differ, no more."""

from __future__ import annotations

import csv
import io
import json
import sys

import pytest

from schematic import check, cli, diff
from schematic.comparison.differences import computed, found, in_sentences, parts_changed, tables_of, written
from schematic.comparison.figures import figures
from schematic.comparison.words import difference
from schematic.outcome import Figure
from schematic.units import FOOT_M, KINDS, in_system
from schematic.verbs import demos, draw_diff, load_text
from schematic.wellfile import edit
from schematic.wellfile.tree import parse

BRINDLEWICK = demos()["brindlewick-4.yaml"]


def changed(*values: tuple[str, str], well: str = BRINDLEWICK):
    text = well
    for path, value in values:
        text = edit.set(text, path, value)
    return text


UP = changed(("liner.lap", "376.1 ft"), ("running string.assembly.drill pipe.length", "9069.9 ft"))


def both(new: str, old: str = BRINDLEWICK):
    return diff(load_text(old), load_text(new))


def test_a_liner_moved_up_is_told_in_the_words_of_the_trade():
    """The reference's own example: hanger up 6.1 ft, lap longer by the same, displacement 0.1 bbl more.

    By hand: 6.1 ft of drill pipe less, 0.01776 bbl/ft of body and 0.00735 of tool joint at 1 in 18, so
    0.01718; 6.1 ft of liner more, 0.03715 bbl/ft: 0.2266 - 0.1048 = 0.12 bbl.
    """
    said = in_sentences(both(UP), "field")

    assert said[0].startswith("Hanger up 6.1 ft; liner longer by the same; lap longer by the same")
    assert "displacement 0.1 bbl more" in said[0]
    rows = {row[0]: row for row in computed(both(UP), "field").rows}
    moved = rows["displacement, plug bumps"][3].si - rows["displacement, plug bumps"][2].si
    assert moved / 0.158987294928 == pytest.approx(0.12, abs=0.005)
    assert rows["hanger, base"][4] == "-6.1"


def test_the_same_file_has_not_changed_and_says_so():
    same = both(BRINDLEWICK)

    assert not same.any
    assert in_sentences(same, "field") == (
        "Nothing that is computed has changed",
        "No finding has changed",
        "Nothing is written otherwise",
    )
    assert not [row for table in tables_of(same, "field")[1:] for row in table.rows]


def test_remarks_and_the_order_of_keys_are_no_change():
    text = "# another remark\n" + BRINDLEWICK.replace(
        "{length: 9.6 ft, od: 8.312 in}", "{od: 8.312 in, length: 9.6 ft}"
    )

    assert not both(text).any


@pytest.mark.parametrize("system", ["field", "metric"])
@pytest.mark.parametrize(
    "new",
    [
        UP,
        changed(("fluids.mud.density", "13.1 ppg")),
        changed(("hole.3.bit", "8 5/8 in"))
        if "hole.3" in BRINDLEWICK
        else changed(("hole.2.to", "12610 ft")),
        changed(("cement.planned top", "9300 ft"), ("cement.excess.open hole", "25 %")),
    ],
)
def test_each_change_is_the_difference_of_the_two_evaluations(new, system):
    """Every figure that prints otherwise has a row, and the row says by how much: unrounded figures
    subtracted, then printed.
    """
    two = both(new)
    before, after = figures(check(load_text(BRINDLEWICK))), figures(check(load_text(new)))
    rows = {row[0]: row for row in computed(two, system).rows}

    for name in before.keys() & after.keys():
        by = in_system(after[name].si, after[name].kind, system) - in_system(
            before[name].si, before[name].kind, system
        )
        _dimension, field, metric = KINDS[after[name].kind]
        decimals = (field if system == "field" else metric).decimals
        if abs(by) > 10.0**-decimals:
            change = rows[name][4]
            assert float(change) == pytest.approx(by, abs=0.51 * 10.0**-decimals), name
        elif by == 0.0:
            assert name not in rows


def test_a_change_below_the_resolution_is_said_as_such():
    """9480.04 and 9480.06 ft print as 9480.0 and 9480.1: they differ by less than 0.1 ft, not by 0.1."""
    old, new = Figure(9480.04 * FOOT_M, "tally"), Figure(9480.06 * FOOT_M, "tally")

    assert difference(old, new, "field") == "under 0.1 ft"
    assert difference(old, Figure(9480.041 * FOOT_M, "tally"), "field") is None


def test_written_values_are_told_by_path_old_and_new():
    told = {row.path: (row.old, row.new) for row in both(UP).written}

    assert told == {
        "liner.lap": ("370 ft", "376.1 ft"),
        "running string.assembly.drill pipe.length": ("9076 ft", "9069.9 ft"),
    }


def test_one_part_more_is_one_change_and_not_a_change_of_all_below():
    new = edit.insert(BRINDLEWICK, "liner.assembly", {"part": "swivel", "length": "2 ft"}, before="pup joint")

    rows = parts_changed(both(new), "field").rows
    told = written(parse(BRINDLEWICK, "old"), parse(new, "new"))

    assert ("Swivel", "new") in {row[:2] for row in rows}
    assert {one.path.rpartition(".")[0] for one in told} == {"liner.assembly.swivel"}
    assert all(not one.old for one in told)


def test_a_part_of_another_bore_is_told_with_both():
    rows = parts_changed(both(changed(("liner.assembly.liner hanger.id", "6.100 in"))), "field").rows

    assert [row for row in rows if row[1] == "changed"] == [
        ("Hydraulic hanger", "changed", "ID 6.100 in (was 6.160 in)")
    ]


def test_findings_and_waivers_that_came_and_went():
    new = changed(("fluids.cement.silica", "35 %"))
    new = edit.put(new, "waived", [{"rule": "gap-in-hole-small", "by": "A. Planner", "reason": "agreed"}])

    rows = {(row[0], row[2]) for row in found(both(new), "field").rows}

    assert rows == {("goes", "slurry-wants-silica"), ("waived", "gap-in-hole-small")}
    back = {(row[0], row[2]) for row in found(both(BRINDLEWICK, new), "field").rows}
    assert back == {("appears", "slurry-wants-silica"), ("no longer waived", "gap-in-hole-small")}


def test_a_finding_of_another_severity_is_changed():
    """A gap of 0.844 in is under 1.0 in, a warning; of 0.344 in under 0.5 in, an error."""
    new = changed(("hole.2.bit", "8.0 in"))

    rows = [row for row in found(both(new), "field").rows if row[2] == "gap-in-hole-small"]

    assert rows[0][:2] == ("changes", "error")
    assert "warning" in rows[0][3]


def test_another_survey_and_other_fluids_are_told():
    said = " ".join(
        in_sentences(both(changed(("survey[3].inc", "5 deg"), ("fluids.mud.density", "13.1 ppg"))), "field")
    )

    assert "Mud heavier by 0.5 ppg" in said
    assert "nother survey (4 and 4 stations)" in said


def run(monkeypatch, capsys, *arguments: str):
    monkeypatch.setattr(sys, "argv", ["lapline", "diff", *arguments])
    with pytest.raises(SystemExit) as ended:
        cli.main()
    said = capsys.readouterr()
    return ended.value.code, said.out, said.err


@pytest.fixture
def files(tmp_path):
    (tmp_path / "old.yaml").write_text(BRINDLEWICK)
    (tmp_path / "new.yaml").write_text(UP)
    return str(tmp_path / "old.yaml"), str(tmp_path / "new.yaml")


def test_the_command_tells_by_its_status_whether_anything_changed(files, monkeypatch, capsys):
    old, new = files

    assert run(monkeypatch, capsys, old, old)[0] == 0
    status, out, _err = run(monkeypatch, capsys, old, new)
    assert status == 1
    assert "Hanger up 6.1 ft" in out
    status, _out, err = run(monkeypatch, capsys, old, "nowhere.yaml")
    assert status == 2
    assert "nowhere.yaml" in err


def test_the_command_speaks_json_and_csv(files, monkeypatch, capsys):
    _status, out, _err = run(monkeypatch, capsys, *files, "--format", "json")
    data = json.loads(out)
    assert data["changed"] is True
    assert data["old"]["well"] == "Brindlewick 4"
    _status, out, _err = run(monkeypatch, capsys, *files, "--format", "csv")
    rows = list(csv.reader(io.StringIO(out)))
    assert ["liner.lap", "370 ft", "376.1 ft"] in rows


def test_two_wells_are_said_to_be_two_and_compared_all_the_same(files, tmp_path, monkeypatch, capsys):
    (tmp_path / "other.yaml").write_text(demos()["sollivane-a7.yaml"])

    status, out, err = run(monkeypatch, capsys, files[0], str(tmp_path / "other.yaml"))

    assert status == 1
    assert "These are two wells: Brindlewick 4 and Sollivane A-7" in err
    assert "What is computed otherwise" in out


@pytest.mark.parametrize("suffix", [".svg", ".pdf", ".png"])
def test_the_command_draws_both_positions(suffix, files, tmp_path, monkeypatch, capsys):
    out = tmp_path / f"both{suffix}"

    status, _out, err = run(monkeypatch, capsys, *files, "-o", str(out))

    assert status == 1
    assert out.stat().st_size > 1000
    assert "drawn:" in err


def test_nothing_is_drawn_into_a_file_of_unknown_kind(tmp_path):
    with pytest.raises(ValueError, match="none of"):
        draw_diff(both(UP), tmp_path / "both.xyz")
    assert not list(tmp_path.iterdir())
