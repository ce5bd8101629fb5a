"""The command: results on standard output, talk on standard error, exit status 0, 1 or 2."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from schematic import verbs
from tests.checks.wells import CLEAN, changed

REPO = Path(__file__).parents[1]
WELLS = REPO / "wells"
BRINDLEWICK, SOLLIVANE = WELLS / "brindlewick-4.yaml", WELLS / "sollivane-a7.yaml"


def lapline(*arguments: object, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run the command in a fresh interpreter, as a shell would."""
    return subprocess.run(
        [sys.executable, "-c", "from schematic.cli import main; main()", *map(str, arguments)],
        capture_output=True, text=True, cwd=cwd or REPO, env={**os.environ, "PYTHONPATH": str(REPO)}, check=False,
    )  # fmt: skip


def test_a_clean_well_ends_with_nought(tmp_path):
    (tmp_path / "clean.yaml").write_text(CLEAN)

    done = lapline("check", tmp_path / "clean.yaml")

    assert done.returncode == 0
    assert "nothing found" in done.stdout
    assert done.stderr == ""
    assert "\x1b" not in done.stdout  # colour only on a terminal


def test_a_finding_ends_with_one_and_says_what_where_whose_and_how_to_mend():
    done = lapline("check", SOLLIVANE)

    assert done.returncode == 1
    assert "error  bit-larger-than-drift" in done.stdout
    assert "215.9 mm, is larger than the drift of the production casing, 212.8 mm" in done.stdout
    assert "Name the certificate" in done.stdout
    assert "slips" in done.stdout.partition("not checked for want of")[2]


def test_advice_alone_ends_with_nought(tmp_path):
    text = changed(
        CLEAN,
        ("lap: 370 ft", "lap: 1200 ft"),
        ("length: 9076 ft", "length: 8246 ft"),
        ("slips: {from bottom: 0.9 ft, length: 8.0 ft}\n      ", ""),
        ("planned top: 9280 ft", "planned top: 8600 ft"),
        ("volume: 149.7 bbl", "volume: 135.4 bbl"),  # 14.3 bbl less of pipe in front of the dart
    )
    (tmp_path / "long.yaml").write_text(text)

    done = lapline("check", tmp_path / "long.yaml")

    assert "1 advice" in done.stdout
    assert done.returncode == 0


@pytest.mark.parametrize(
    "arguments", [("check", "nowhere.yaml"), ("volumes", "."), ("draw", "nowhere.yaml", "-o", "x.svg")]
)
def test_a_file_that_cannot_be_read_ends_with_two_and_no_traceback(arguments, tmp_path):
    done = lapline(*arguments, cwd=tmp_path)

    assert done.returncode == 2
    assert done.stdout == ""
    assert "mend" in done.stderr
    assert "Traceback" not in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_broken_file_tells_all_its_problems_on_standard_error(tmp_path):
    text = BRINDLEWICK.read_text().replace("off bottom", "of bottom").replace("12.6 ppg, base", "12.6, base")
    (tmp_path / "broken.yaml").write_text(text)

    done = lapline("check", "broken.yaml", cwd=tmp_path)

    assert done.returncode == 2
    assert done.stdout == ""
    assert "broken.yaml:53  liner.of bottom" in done.stderr
    assert "2 problems in the file" in done.stderr


@pytest.mark.parametrize("units", ["field", "metric"])
def test_check_as_json(units):
    data = json.loads(lapline("check", SOLLIVANE, "--format", "json", "--units", units).stdout)

    found = next(
        row
        for row in data["outcomes"]
        if row["outcome"] == "found" and row["rule"] == "bit-larger-than-drift"
    )
    assert found["figures"]["drift"]["unit"] == {"field": "in", "metric": "mm"}[units]
    assert found["figures"]["drift"]["si"] == pytest.approx(0.2128, abs=1e-4)
    assert {row["outcome"] for row in data["outcomes"]} == {
        "found",
        "passed",
        "not checked",
        "does not apply",
    }
    assert "planning aid" in data["caution"]


def test_volumes_as_json_carry_si_and_unit():
    data = json.loads(lapline("volumes", BRINDLEWICK, "--format", "json").stdout)

    volumes = next(table for table in data["tables"] if table["title"] == "Volumes")
    track = next(row for row in volumes["rows"] if row["space"] == "shoe track")
    assert track["volume"]["printed"] == "4.67 bbl"
    assert track["volume"]["si"] == pytest.approx(4.67 * 0.158987, rel=0.005)


def test_volumes_as_csv_is_a_table_of_figures():
    rows = list(csv.reader(io.StringIO(lapline("volumes", BRINDLEWICK, "--format", "csv").stdout)))

    assert ["Volumes"] in rows
    assert ["shoe track", "inside", "12464.3", "12590.0", "4.67", "", ""] in rows


def test_the_other_units():
    done = lapline("volumes", BRINDLEWICK, "--units", "metric")

    assert "volume, m3" in done.stdout
    assert "2889.50" in done.stdout  # 9 480 ft


def test_a_name_that_looks_like_a_formula_stays_text_in_csv(tmp_path):
    text = (
        BRINDLEWICK.read_text()
        .replace("  cement:\n    kind", "  '=1+1':\n    kind")
        .replace("{fluid: cement", "{fluid: '=1+1'")
    )
    (tmp_path / "formula.yaml").write_text(text)

    done = lapline("volumes", tmp_path / "formula.yaml", "--format", "csv")

    cells = [cell for row in csv.reader(io.StringIO(done.stdout)) for cell in row]
    assert "'=1+1" in cells
    assert not [cell for cell in cells if cell.startswith(("=", "+", "@"))]


@pytest.mark.parametrize(("suffix", "begins"), [(".svg", b"<?xml"), (".png", b"\x89PNG"), (".pdf", b"%PDF")])
def test_draw_writes_the_file_and_prints_findings_and_volumes(suffix, begins, tmp_path):
    done = lapline("draw", BRINDLEWICK, "-o", tmp_path / f"sheet{suffix}")

    assert done.returncode == 0
    assert (tmp_path / f"sheet{suffix}").read_bytes().startswith(begins)
    assert "inputs missing" in done.stdout
    assert "shoe track" in done.stdout
    assert f"drawn: {tmp_path}" in done.stderr
    names = sorted(path.name for path in tmp_path.iterdir())
    pages = [f"sheet-2{suffix}", f"sheet-3{suffix}", f"sheet{suffix}"]
    assert names == (pages if suffix != ".pdf" else ["sheet.pdf"])


def test_draw_ends_with_nought_when_it_drew_whatever_it_found(tmp_path):
    done = lapline("draw", SOLLIVANE, "-o", tmp_path / "sheet.svg", "--scale", "true")

    assert done.returncode == 0
    assert "bit-larger-than-drift" in done.stdout


@pytest.mark.parametrize("out", ["sheet.gif", "sheet", "no/such/folder/sheet.svg"])
def test_draw_to_where_it_cannot_ends_with_two_and_leaves_nothing(out, tmp_path):
    done = lapline("draw", BRINDLEWICK, "-o", out, cwd=tmp_path)

    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_new_writes_a_file_that_checks_and_never_over_another(tmp_path):
    first = lapline("new", "well.yaml", cwd=tmp_path)
    again = lapline("new", "well.yaml", cwd=tmp_path)

    assert first.returncode == 0
    assert again.returncode == 2
    assert "nothing was written" in again.stderr
    assert lapline("check", "well.yaml", cwd=tmp_path).returncode == 0
    assert lapline("new").stdout == (tmp_path / "well.yaml").read_text()


def test_explain_leads_down_to_the_lines_somebody_wrote():
    done = lapline("explain", BRINDLEWICK, "liner.top")

    assert done.returncode == 0
    assert "liner.top = 9480.0 ft" in done.stdout
    assert "liner.lap = 370 ft, written in line 52" in done.stdout


def test_explain_of_a_volume_shows_its_areas():
    done = lapline("explain", BRINDLEWICK, "volumes.lap")

    assert "volumes.lap = 8.94 bbl" in done.stdout
    assert done.stdout.count("in2 over") == 5


def test_explain_of_nothing_offers_the_nearest():
    done = lapline("explain", BRINDLEWICK, "liner.tops")

    assert done.returncode == 2
    assert "liner.top" in done.stderr


def test_rules_lists_all_and_prints_the_page_of_one():
    listed, page, wrong = (
        lapline("rules"),
        lapline("rules", "slips-near-coupling"),
        lapline("rules", "slips-near"),
    )

    assert len(listed.stdout.splitlines()) == len(verbs.rules())
    for heading in ("What it checks", "Why it matters", "Limit", "Source", "Example"):
        assert heading in page.stdout
    assert wrong.returncode == 2
    assert "slips-near-coupling" in wrong.stderr


def test_schema_is_a_json_schema_of_the_file():
    schema = json.loads(lapline("schema").stdout)

    assert {"well", "liner", "strings", "running string"} <= set(schema["properties"])
    assert schema["additionalProperties"] is False
    assert "content" in schema["$defs"]["Revision"]["properties"]


def test_a_reader_that_goes_away_ends_without_a_traceback():
    command = f"{sys.executable} -c 'from schematic.cli import main; main()' volumes {BRINDLEWICK} | head -1"
    done = subprocess.run(
        ["bash", "-c", command],
        capture_output=True,
        text=True,
        cwd=REPO,
        env={**os.environ, "PYTHONPATH": str(REPO)},
        check=False,
    )

    assert "Traceback" not in done.stderr


def test_no_command_shows_the_verbs():
    done = lapline("--help")

    for verb in ("check", "draw", "volumes", "explain", "new", "rules", "schema", "app"):
        assert verb in done.stdout
    assert "planning aid" in done.stdout.replace("\n", " ")


def test_draw_and_explain_speak_json_and_csv_too(tmp_path):
    drawn = json.loads(lapline("draw", BRINDLEWICK, "-o", tmp_path / "x.svg", "--format", "json").stdout)
    explained = json.loads(lapline("explain", BRINDLEWICK, "liner.top", "--format", "json").stdout)
    listed = lapline("explain", BRINDLEWICK, "--format", "csv").stdout

    assert {"outcomes", "tables", "assumed or not given", "not computed"} <= set(drawn)
    assert explained["lines"][0] == "liner.top = 9480.0 ft"
    assert "volumes.lap" in listed.splitlines()
