"""The command that plans a well anew: what it writes, prints and refuses."""

from __future__ import annotations

import csv
import io
import json
import shutil
import sys
from pathlib import Path

import pytest

from schematic import cli, verbs
from schematic.units import UnitError
from schematic.wellfile.problem import InputError
from tests.test_cli import WELLS, Done

NEW = "brindlewick-4-shoe-12090-ft.yaml"


@pytest.fixture
def lapline(monkeypatch, capsys):
    """The command as a function of its arguments."""

    def run(*arguments: object) -> Done:
        monkeypatch.setattr(sys, "argv", ["lapline", *map(str, arguments)])
        try:
            cli.main()
            status = 0
        except SystemExit as end:
            status = int(end.code or 0)
        captured = capsys.readouterr()
        return Done(status, captured.out, captured.err)

    return run


@pytest.fixture
def well(tmp_path):
    """A demo well in a folder of its own."""
    return Path(shutil.copy(WELLS / "brindlewick-4.yaml", tmp_path))


def names(folder):
    return sorted(path.name for path in folder.iterdir())


@pytest.mark.parametrize(
    "depth",
    [
        ("WELL", "--shoe", "12090 ft"),
        ("WELL", "--shoe", "12090", "ft"),
        ("--shoe", "12090", "ft", "WELL"),
        ("--shoe=12090 ft", "WELL"),
    ],
)
def test_the_new_file_lies_beside_the_old_one_and_checks(lapline, well, depth):
    before = well.read_bytes()
    done = lapline("replan", *(well if word == "WELL" else word for word in depth))

    new = well.with_name(NEW)
    assert done.status == 0
    assert done.err == f"written: {new}\n"
    assert well.read_bytes() == before
    assert names(well.parent) == [NEW, well.name]
    assert lapline("check", new).status == 1  # warnings, as the old one has
    assert lapline("diff", well, new).status == 1
    assert verbs.check(new).plan.depth.liner.top_md_m == pytest.approx(8980 * 0.3048, abs=1e-6)


def test_what_is_printed_first_says_where_the_liner_is(lapline, well):
    done = lapline("replan", well, "--top", "8980 ft")

    said = done.out.splitlines()
    assert said[0].startswith("before: Brindlewick 4")
    assert said[1].startswith("now:    Brindlewick 4")
    assert said[5].strip().startswith("Liner 500.0 ft up")
    for title in (
        "In words",
        "Findings, what got worse first",
        "To settle by hand",
        "What is written otherwise",
    ):
        assert title in said
    assert names(well.parent) == ["brindlewick-4-top-8980-ft.yaml", well.name]


@pytest.mark.parametrize("units", ["field", "metric"])
@pytest.mark.parametrize("form", ["text", "json", "csv"])
def test_it_speaks_every_unit_in_every_form(lapline, well, units, form):
    done = lapline("replan", well, "--shoe", "3700 m", "--units", units, "--format", form)

    told = f"Liner {'450.9 ft' if units == 'field' else '137.43 m'} up"
    if form == "json":
        data = json.loads(done.out)
        assert data["units"] == units
        assert data["file"] == str(well.with_name("brindlewick-4-shoe-3700-m.yaml"))
        assert data["old"]["file"] == str(well)
        assert data["tables"][0]["rows"][0]["what"].startswith(told)
        moved = next(table for table in data["tables"] if table["title"] == "What is computed otherwise")
        top = next(row for row in moved["rows"] if row["what"] == "liner top")
        assert top["now"]["si"] == pytest.approx(3700 - 3110 * 0.3048, abs=1e-6)
    elif form == "csv":
        assert any(row and row[0].startswith(told) for row in csv.reader(io.StringIO(done.out)))
    else:
        assert told in done.out


def test_both_positions_are_drawn_where_that_is_asked_for(lapline, well):
    drawing = well.with_name("both.svg")
    done = lapline(
        "replan", well, "--shoe", "12090 ft", "--drawing", drawing, "-o", well.with_name("new.yaml")
    )

    assert done.status == 0
    assert f"drawn: {drawing}" in done.err
    assert "up 500" in drawing.read_text(encoding="utf-8")
    assert "new.yaml" in names(well.parent)


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "--shoe or --top"),
        (("--shoe", "12090 ft", "--top", "9000 ft"), "--shoe or --top"),
        (("--shoe", "12090"), "without a unit"),
        (("--top", "9 ppg"), "measures something else"),
        (("--shoe", "12090 ft +/- 2 ft"), "without a tolerance"),
        (("--shoe", "liner top at 9340 ft"), "give it as the top"),
        (("--shoe", "-5 ft deeper"), "not below 0"),
        (("--shoe", "12700 ft"), "a shoe in the hole, which ends at 12600 ft"),
        (("--shoe", "100 ft"), "give a shoe between 3110 and 12600 ft"),
        (("--shoe", "12090 ft", "-o", "both.svg"), "write it with --drawing"),
        (("--shoe", "12090 ft", "--drawing", "both.txt"), "--drawing"),
        (("--shoe", "12090 ft", "-o", "nowhere/new.yaml"), "no such folder"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(lapline, well, monkeypatch, arguments, told):
    monkeypatch.chdir(well.parent)
    done = lapline("replan", well, *arguments)

    assert done.status == 2
    assert done.out == ""
    assert told in done.err
    assert "Traceback" not in done.err
    assert names(well.parent) == [well.name]


def test_no_file_is_overwritten(lapline, well):
    other = well.with_name(NEW)
    other.write_text("something of mine")
    before = well.read_bytes()

    for arguments in (("--shoe", "12090 ft"), ("--shoe", "12090 ft", "-o", well)):
        done = lapline("replan", well, *arguments)
        assert done.status == 2
        assert "is there already" in done.err
    assert other.read_text() == "something of mine"
    assert well.read_bytes() == before


def test_where_the_liner_is_already_no_file_is_written(lapline, well):
    done = lapline("replan", well, "--shoe", "12590 ft")

    assert done.status == 0
    assert "nothing changes" in done.err
    assert names(well.parent) == [well.name]


def test_a_file_that_does_not_read_is_told_as_by_any_other_verb(lapline, well):
    well.write_text(well.read_text().replace("off bottom", "of bottom"))
    done = lapline("replan", well, "--shoe", "12090 ft")

    assert done.status == 2
    assert "did you mean 'off bottom'?" in done.err
    assert names(well.parent) == [well.name]


def test_a_plan_that_is_read_with_files_beside_it_stays_in_their_folder(lapline, well, tmp_path):
    survey = "md,inc,azi\n0,0,0\n4120,0.5,110\n9850,1.0,115\n12600,1.5,120\n"
    (well.parent / "survey.csv").write_text(survey)
    text = well.read_text()
    start, end = text.index("survey:\n"), text.index("hole:")
    well.write_text(f"{text[:start]}survey: {{file: survey.csv, unit: ft}}\n\n{text[end:]}")
    (tmp_path / "elsewhere").mkdir()

    done = lapline("replan", well, "--shoe", "12090 ft", "-o", tmp_path / "elsewhere" / "new.yaml")
    assert done.status == 2
    assert f"lie in {well.parent}: write it there" in done.err
    assert names(tmp_path / "elsewhere") == []
    assert lapline("replan", well, "--shoe", "12090 ft").status == 0
    assert (well.parent / NEW).exists()


def test_the_verb_writes_only_where_it_is_asked_to(well):
    made = verbs.replan(well, top="8980 ft")
    assert names(well.parent) == [well.name]

    verbs.replan(well, top="8980 ft", out=well.with_name("new.yaml"))
    assert (well.parent / "new.yaml").read_text(encoding="utf-8") == made.text
    with pytest.raises(ValueError, match="one of the two"):
        verbs.replan(well)
    with pytest.raises(UnitError):
        verbs.replan(well, shoe="12090")
    with pytest.raises(InputError):
        verbs.replan(well, shoe="13000 ft")


def test_the_place_is_said_as_the_rig_says_it_and_the_head_says_replanned(lapline, well):
    """The hole ends at 12 600 ft: 150 ft off bottom is 12 450 ft."""
    done = lapline("replan", well, "--shoe", "150 ft off bottom")

    assert done.status == 0
    assert done.err.endswith("brindlewick-4-shoe-150-ft-off-bottom.yaml\n")
    assert "shoe 12450 ft (was 12590 ft)" in done.out
    before, now = done.out.splitlines()[:2]
    assert "revision 2, planned;" in before
    assert "revision 2, CHANGED since, replanned, not approved;" in now
