"""Many wells drawn at once: all cores, whole files only, no error stops the others, an interrupt ends it cleanly."""

from __future__ import annotations

import csv
import io
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from xml.etree import ElementTree

import pytest

from schematic import batch, verbs
from tests.test_command import REPO, WELLS, lapline

DEMOS = sorted(WELLS.glob("*.yaml"))
COMMAND = "from schematic.cli import main; main()"


def copies(folder: Path, count: int) -> list[Path]:
    """Copies of one well under different names."""
    text = (WELLS / "sketch.yaml").read_text(encoding="utf-8")
    files = [folder / f"well {n}.yaml" for n in range(count)]
    for file in files:
        file.write_text(text, encoding="utf-8")
    return files


def pages(file: Path) -> set[str]:
    """The names of the files that the pages of a well become."""
    count = len(verbs.sheet(file).scenes)
    return {f"{file.stem}.svg", *(f"{file.stem}-{n}.svg" for n in range(2, count + 1))}


def test_every_well_becomes_the_file_that_it_becomes_alone(tmp_path):
    done = lapline("draw", *DEMOS, "-o", f"{tmp_path / 'sheets'}{os.sep}")

    assert done.returncode == 0, done.stderr
    assert {file.stem for file in DEMOS} <= {file.stem for file in (tmp_path / "sheets").iterdir()}
    for file in DEMOS:
        alone = verbs.render(verbs.sheet(file), ".svg")
        assert (tmp_path / "sheets" / f"{file.stem}.svg").read_bytes() == alone[0]


def test_progress_counts_on_standard_error_and_results_stand_on_standard_output(tmp_path):
    done = lapline("draw", *DEMOS[:3], "-o", tmp_path, "--format", "csv")

    assert [line.split("  ")[0] for line in done.stderr.splitlines()] == ["1 of 3", "2 of 3", "3 of 3"]
    rows = list(csv.reader(io.StringIO(done.stdout)))
    assert rows[1] == ["file", "well", "errors", "warnings", "advice"]
    assert [row[0] for row in rows[2:]] == [str(file) for file in DEMOS[:3]]
    for row, file in zip(rows[2:], DEMOS, strict=False):
        plan = verbs.check(file)
        assert row[1] == plan.plan.identity.name
        assert sum(map(int, row[2:])) == len(plan.findings)


@pytest.mark.parametrize(("form", "begins"), [("png", b"\x89PNG"), ("pdf", b"%PDF")])
def test_the_format_in_a_folder_is_chosen(form, begins, tmp_path):
    files = copies(tmp_path, 2)
    done = lapline("draw", *files, "-o", tmp_path, "--as", form, "--format", "json", "--style", "grey")

    assert done.returncode == 0, done.stderr
    assert [row["well"] for row in json.loads(done.stdout)["tables"][0]["rows"]]
    for file in files:
        assert (tmp_path / f"{file.stem}.{form}").read_bytes().startswith(begins)


def test_the_manner_of_drawing_holds_for_all(tmp_path):
    lapline("draw", *DEMOS[:2], "-o", tmp_path, "--style", "grey", "--scale", "true", "--units", "metric")

    for file in DEMOS[:2]:
        alone = verbs.render(verbs.sheet(file, "true", "metric", style="grey"), ".svg")
        assert (tmp_path / f"{file.stem}.svg").read_bytes() == alone[0]


def test_one_well_into_a_folder_that_is_there(tmp_path):
    done = lapline("draw", DEMOS[0], "-o", tmp_path)

    assert done.returncode == 0
    assert (tmp_path / f"{DEMOS[0].stem}.svg").exists()


def test_errors_of_one_file_do_not_stop_the_others_and_are_told_at_the_end(tmp_path):
    broken = REPO / "tests" / "broken" / "excess-stretches-overlap.yaml"
    done = lapline("draw", broken, DEMOS[0], tmp_path / "none.yaml", "-o", tmp_path / "sheets")

    assert done.returncode == 2
    assert {file.name for file in (tmp_path / "sheets").iterdir()} == pages(DEMOS[0])
    assert DEMOS[0].name in done.stdout
    assert broken.name not in done.stdout
    end = done.stderr.split("3 of 3")[1]
    assert f"{broken}:24" in end
    assert "put them in order" in end
    assert "none.yaml" in end
    assert end.endswith("2 of 3 wells could not be drawn.\n")
    assert "Traceback" not in done.stderr


def test_a_sheet_that_cannot_be_written_is_told_and_leaves_nothing(tmp_path):
    (tmp_path / f"{DEMOS[0].stem}.svg").mkdir()
    done = lapline("draw", *DEMOS[:2], "-o", tmp_path)

    assert done.returncode == 2
    assert "1 of 2 wells could not be drawn" in done.stderr
    assert {file.name for file in tmp_path.iterdir()} == {f"{DEMOS[0].stem}.svg"} | pages(DEMOS[1])


@pytest.mark.parametrize(
    ("names", "form", "told"),
    [
        (("a/well.yaml", "b/well.yaml"), "svg", "would both become"),
        (("a/Well.yaml", "b/well.yml"), "pdf", "would both become"),  # some systems know no capitals
        (("well.yaml", "well-2.yaml"), "svg", "page 2 of"),
        (("well.svg", "other.yaml"), "svg", "would replace a well file"),
    ],
)
def test_two_that_would_become_one_are_refused_before_anything_is_drawn(names, form, told, tmp_path):
    files = [tmp_path / name for name in names]
    for file in files:
        file.parent.mkdir(exist_ok=True)
        file.write_bytes(DEMOS[0].read_bytes())
    before = sorted(tmp_path.rglob("*"))

    done = lapline("draw", *files, "-o", tmp_path, "--as", form)

    assert done.returncode == 2
    assert told in done.stderr
    assert "nothing was drawn" in done.stderr
    assert sorted(tmp_path.rglob("*")) == before


def test_pages_of_a_pdf_are_one_file_and_cannot_clash():
    planned = batch.targets(["well.yaml", "well-2.yaml"], "out", "pdf")

    assert [target.name for target in planned.values()] == ["well.pdf", "well-2.pdf"]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((*DEMOS[:2], "-o", "sheet.svg"), "2 files need a folder"),
        ((DEMOS[0], "-o", "sheet.svg", "--as", "png"), "it is for a folder"),
        ((*DEMOS[:2], "-o", "no/such/place"), "no/such/place"),
        ((*DEMOS[:2], "-o", "file"), "file"),
        (("-o", "folder/"), "Missing argument"),
    ],
)
def test_what_cannot_begin_ends_with_two_and_leaves_nothing(arguments, told, tmp_path):
    (tmp_path / "file").write_text("no folder")
    done = lapline("draw", *arguments, cwd=tmp_path)

    assert done.returncode == 2
    assert told in done.stderr
    assert "Traceback" not in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_a_fault_of_the_program_is_told_and_stops_no_other_well(tmp_path):
    """A way to draw that does not exist stands for a fault: each well answers for itself."""
    done = batch.draw_many(DEMOS[:2], tmp_path, processes=1, colour="none")

    assert len(done) == 2
    assert all("fault of the program: TypeError" in one.problem for one in done)


def whole(folder: Path) -> bool:
    """Whether there are only whole drawings in a folder."""
    names = [file.name for file in folder.iterdir()]
    for file in folder.iterdir():
        ElementTree.fromstring(file.read_bytes())
    return all(name.endswith(".svg") and not name.startswith(".") for name in names)


def gone(group: int) -> bool:
    """Whether no process of a group is left; they may take a moment to go."""
    for _ in range(200):
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.1)
    return False


@pytest.mark.skipif(not hasattr(os, "killpg"), reason="no process groups on this system")
@pytest.mark.parametrize("to", ["the command", "all its processes", "at once"])
def test_an_interrupt_leaves_whole_files_no_traceback_and_no_process(to, tmp_path):
    """A terminal tells all processes; another program may tell the command alone; it may come very early."""
    files = copies(tmp_path, 80)
    running = subprocess.Popen(
        [sys.executable, "-c", COMMAND, "draw", *map(str, files), "-o", f"{tmp_path / 'sheets'}{os.sep}"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=REPO,
        env={**os.environ, "PYTHONPATH": str(REPO)}, start_new_session=True,
    )  # fmt: skip
    assert running.stderr is not None
    if to == "at once":
        while not (tmp_path / "sheets").exists():
            time.sleep(0.01)
        first = ""
        os.killpg(running.pid, signal.SIGINT)
    else:
        first = running.stderr.readline()
        (os.killpg if to == "all its processes" else os.kill)(running.pid, signal.SIGINT)
    out, told = running.communicate(timeout=120)

    assert running.returncode == 2
    assert told.splitlines()[-1] == "interrupted"
    assert "Traceback" not in first + told
    assert out == ""
    assert whole(tmp_path / "sheets")
    assert gone(running.pid)


@pytest.mark.skipif(not hasattr(os, "killpg"), reason="no process groups on this system")
def test_no_process_outlives_a_command_that_was_killed(tmp_path):
    files = copies(tmp_path, 80)
    running = subprocess.Popen(
        [sys.executable, "-c", COMMAND, "draw", *map(str, files), "-o", f"{tmp_path / 'sheets'}{os.sep}"],
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, cwd=REPO,
        env={**os.environ, "PYTHONPATH": str(REPO)}, start_new_session=True,
    )  # fmt: skip
    assert running.stderr is not None
    running.stderr.readline()
    running.kill()
    running.communicate(timeout=120)

    assert gone(running.pid)
