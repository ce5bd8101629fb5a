"""The command within one process: every verb in every form and unit, and what its edges do."""

from __future__ import annotations

import csv
import io
import json
import sys
from pathlib import Path
from typing import NamedTuple

import pytest
from click.testing import CliRunner

from schematic import cli, verbs

WELLS = Path(__file__).parents[1] / "wells"
BRINDLEWICK, SOLLIVANE = WELLS / "brindlewick-4.yaml", WELLS / "sollivane-a7.yaml"
OF_A_WELL = (("check",), ("volumes",), ("draw",), ("explain", "liner.top"))
EVERY = [
    (well, verb, units, form)
    for well in (BRINDLEWICK, SOLLIVANE)
    for verb in OF_A_WELL
    for units in ("field", "metric")
    for form in ("text", "json", "csv")
]


class Done(NamedTuple):
    """How a run of the command ended."""

    status: int
    out: str
    err: str


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


def options(verb: tuple[str, ...], folder: Path) -> tuple[str, ...]:
    """What a verb needs beside its file."""
    return ("-o", str(folder / "sheet.svg")) if verb[0] == "draw" else ()


@pytest.mark.parametrize(("well", "verb", "units", "form"), EVERY)
def test_every_verb_speaks_every_unit_in_every_form(lapline, tmp_path, well, verb, units, form):
    done = lapline(verb[0], well, *verb[1:], *options(verb, tmp_path), "--units", units, "--format", form)

    assert done.status == (1 if verb[0] == "check" else 0)
    drawn = (
        sorted(tmp_path.iterdir(), key=lambda path: (len(path.name), path.name)) if verb[0] == "draw" else []
    )
    assert done.err == "".join(f"drawn: {path}\n" for path in drawn)
    assert bool(drawn) == (verb[0] == "draw")
    if form == "json":
        assert json.loads(done.out)
    elif form == "csv":
        assert len(list(csv.reader(io.StringIO(done.out)))) >= 2  # a title and heads at least
    if verb[0] != "check":  # a check that found nothing prints no figure
        words = set(done.out.replace(",", " ").replace('"', " ").split())
        assert words & ({"ft", "bbl"} if units == "field" else {"m", "m3"})
    if verb[0] == "volumes" and form == "csv":  # elsewhere the file's own texts keep the file's units
        assert not words & ({"m", "m3", "mm"} if units == "field" else {"ft", "bbl"})


@pytest.mark.parametrize("well", [BRINDLEWICK, SOLLIVANE])
def test_the_units_of_the_output_change_no_quantity(lapline, well):
    def quantities(units: str) -> list[tuple[str, float]]:
        tables = json.loads(lapline("volumes", well, "--format", "json", "--units", units).out)["tables"]
        return [
            (f"{table['title']} {head}", cell["si"])
            for table in tables
            for row in table["rows"]
            for head, cell in row.items()
            if isinstance(cell, dict) and head not in ("sacks, 94 lb", "cement, t")  # each system its own
        ]

    assert quantities("field") == quantities("metric")
    assert len(quantities("field")) > 50


@pytest.mark.parametrize("form", ["json", "csv", "text"])
def test_rules_speak_every_form_and_name_the_same_rules(lapline, form):
    done = lapline("rules", "--format", form)

    codes = [page.code for page in verbs.rules()]
    if form == "json":
        told = [row["code"] for row in json.loads(done.out)]
    elif form == "csv":
        told = [row[0] for row in csv.reader(io.StringIO(done.out))][2:]
    else:
        told = [line.split()[0] for line in done.out.splitlines()]
    assert told == codes


def test_the_page_of_every_rule_has_its_headings(lapline):
    for page in verbs.rules():
        done = lapline("rules", page.code.replace("-", " "))  # spelled as people write it
        assert done.status == 0
        for heading in ("What it checks", "Why it matters", "Limit", "Source", "Example"):
            assert f"\n{heading}\n" in done.out, page.code


@pytest.mark.parametrize("well", [BRINDLEWICK, SOLLIVANE])
def test_all_that_can_be_explained_is_explained(lapline, well):
    names = lapline("explain", well).out.splitlines()

    assert "liner.top" in names
    assert "volumes.lap" in names
    for name in names:
        done = lapline("explain", well, name)
        assert done.status == 0
        assert done.out.startswith(f"{name} = ")
        assert len(done.out.splitlines()) >= 2


@pytest.mark.parametrize("form", ["csv", "text", "json"])
def test_a_name_that_looks_like_a_formula_never_becomes_one(lapline, tmp_path, form):
    text = BRINDLEWICK.read_text().replace("name: hydraulic hanger", "name: '=cmd()'")
    (tmp_path / "formula.yaml").write_text(text)

    done = lapline("draw", tmp_path / "formula.yaml", "-o", tmp_path / "sheet.svg", "--format", form)

    assert "=cmd()" in done.out
    if form == "csv":
        cells = [cell for row in csv.reader(io.StringIO(done.out)) for cell in row]
        assert not [cell for cell in cells if cell.startswith(("=", "+", "@"))]
        assert "'=cmd()" in cells


def test_colour_is_for_a_terminal_alone():
    runner = CliRunner()

    plain = runner.invoke(cli.commands, ["check", str(SOLLIVANE)])
    coloured = runner.invoke(cli.commands, ["check", str(SOLLIVANE)], color=True)

    assert "\x1b[" not in plain.output
    assert "\x1b[31m" in coloured.output
    assert plain.exit_code == coloured.exit_code == 1


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "Usage:"),
        (("drill",), "No such command 'drill'"),
        (("check",), "Missing argument 'FILE'"),
        (("check", "a.yaml", "b.yaml"), "unexpected extra argument"),
        (("check", "--units", "cubits", "a.yaml"), "'cubits' is not one of"),
        (("volumes", "--format", "xml", "a.yaml"), "'xml' is not one of"),
        (("draw", "a.yaml"), "Missing option '-o'"),
        (("draw", "a.yaml", "-o", "a.gif"), "ends with none of .svg, .png, .pdf"),
        (("rules", "no-such-rule-at-all"), "no rule 'no-such-rule-at-all'"),
        (("rules", "lap-outside-limit"), "did you mean lap-outside-limits"),
        (("explain", BRINDLEWICK, "zzz"), "without PATH, all derived values are listed"),
        (("explain", BRINDLEWICK, "volumes.laps"), "did you mean volumes.lap"),
        (("app", "--port", "0"), "0 is not in the range"),
        (("app", "--colour"), "No such option"),
    ],
)
def test_what_cannot_run_ends_with_two_and_says_why(lapline, arguments, told):
    done = lapline(*arguments)

    assert done.status == 2
    assert done.out == ""
    assert told in done.err


@pytest.mark.parametrize(
    ("path", "told"),
    [
        (
            "tvd at 99999 ft",
            "99999 ft is below the bottom of the hole: write a measured depth from 0 to 12600 ft",
        ),
        ("static emw at 99999 ft", "is below the bottom of the hole"),
        ("tvd at 11000", "write the unit, like '2500 m'"),
        ("tvd at -5 m", "-5 m is above the datum: write a measured depth from 0 to 12600 ft"),
        ("tvd at 12 fathom", "'fathom' is not a unit known here"),
        ("emw at 12590 ft", "write 'static emw at 12590 ft'"),
        ("tvd 9000 ft", "write 'tvd at 9000 ft'"),
        ("tvd", "it asks at no depth: write it like 'tvd at 12600 ft'"),
        ("static emw at 0 ft", "0 ft has no column above it"),
    ],
)
def test_a_depth_that_cannot_be_explained_is_told_why_and_what_to_write(lapline, path, told):
    done = lapline("explain", BRINDLEWICK, path)

    assert (done.status, done.out) == (2, "")
    assert told in done.err
    assert "no value of this file" not in done.err


@pytest.mark.parametrize("out", ["", "  "])
@pytest.mark.parametrize("verb", [("draw", BRINDLEWICK), ("replan", BRINDLEWICK, "--top", "9470 ft")])
def test_an_output_without_a_name_is_refused_and_nothing_is_written(
    lapline, tmp_path, monkeypatch, verb, out
):
    monkeypatch.chdir(tmp_path)

    done = lapline(*verb, "-o", out)

    assert done.status == 2
    assert "it is empty" in done.err
    assert not list(tmp_path.iterdir())


def test_an_output_that_is_a_folder_is_named_as_it_was_typed(lapline, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "sheet.svg").mkdir()

    done = lapline("draw", BRINDLEWICK, "-o", "sheet.svg")

    assert done.status == 2
    assert done.err.startswith("sheet.svg: it is a folder: write the name of a file")


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\x00\x01\x02",
        b"\xff\xfe\x00a",
        b"lapline: 1\n",
        b"lapline: 99\nwell: {}\n",
        b"[" * 5000,
        b"a: &a [*a]\n",
    ],
    ids=["empty", "binary", "utf-16", "bare", "newer", "deep", "anchor"],
)
@pytest.mark.parametrize("verb", OF_A_WELL)
def test_a_file_that_is_no_well_is_told_by_every_verb(lapline, tmp_path, verb, content):
    (tmp_path / "bad.yaml").write_bytes(content)

    done = lapline(verb[0], tmp_path / "bad.yaml", *verb[1:], *options(verb, tmp_path))

    assert done.status == 2
    assert done.out == ""
    assert "found" in done.err
    assert "mend" in done.err
    assert "nothing was computed" in done.err
    assert [path.name for path in tmp_path.iterdir()] == ["bad.yaml"]


def test_draw_replaces_a_sheet_whole_or_not_at_all(lapline, tmp_path, monkeypatch):
    sheet = tmp_path / "sheet.svg"
    sheet.write_text("the last one")

    def full(*_arguments: object, **_named: object) -> None:
        raise OSError(28, "No space left on device", str(sheet))

    with monkeypatch.context() as broken:
        broken.setattr("os.replace", full)
        done = lapline("draw", BRINDLEWICK, "-o", sheet)
    assert done.status == 2
    assert "No space left on device" in done.err
    assert sheet.read_text() == "the last one"
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.svg"]

    assert lapline("draw", BRINDLEWICK, "-o", sheet).status == 0
    assert sheet.read_bytes().endswith(b"</svg>\n")


def test_draw_onto_a_directory_ends_with_two(lapline, tmp_path):
    (tmp_path / "sheet.svg").mkdir()

    done = lapline("draw", BRINDLEWICK, "-o", tmp_path / "sheet.svg")

    assert done.status == 2
    assert list((tmp_path / "sheet.svg").iterdir()) == []
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.svg"]


def test_draw_adds_a_page_for_a_depth_range(lapline, tmp_path):
    done = lapline(
        "draw", BRINDLEWICK, "-o", tmp_path / "sheet.svg", "--detail", "9400 ft to 9560 ft", "--detail", "0 m to 60 m"
    )  # fmt: skip

    assert done.status == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        *(f"sheet-{n}.svg" for n in (2, 3, 4, 5)),
        "sheet.svg",
    ]


def test_draw_of_a_depth_range_that_is_none_ends_with_two_and_draws_nothing(lapline, tmp_path):
    done = lapline("draw", BRINDLEWICK, "-o", tmp_path / "sheet.svg", "--detail", "9400 to 9560")

    assert done.status == 2
    assert '"9400 ft to 9560 ft"' in done.err
    assert "Traceback" not in done.err
    assert list(tmp_path.iterdir()) == []


def test_each_page_of_a_sheet_is_a_file(lapline, tmp_path):
    text = BRINDLEWICK.read_text()
    waivers = "".join(f"  - {{rule: none-{n}, by: R. Planner, reason: r}}\n" for n in range(12))
    (tmp_path / "many.yaml").write_text(f"{text}waived:\n{waivers}")  # each names no rule: 12 warnings

    done = lapline("draw", tmp_path / "many.yaml", "-o", tmp_path / "sheet.svg")

    told = [line.removeprefix("drawn: ") for line in done.err.splitlines()]
    assert told == [str(tmp_path / f"sheet{f'-{n}' if n > 1 else ''}.svg") for n in range(1, len(told) + 1)]
    assert len(told) >= 2
    assert (tmp_path / "sheet-2.svg").read_bytes().endswith(b"</svg>\n")


def test_an_interrupt_ends_with_two_and_no_traceback(lapline, monkeypatch):
    def interrupted(*_arguments: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(verbs, "check", interrupted)

    assert lapline("check", BRINDLEWICK) == Done(2, "", "\ninterrupted\n")  # on a line of its own, after ^C


def test_the_app_without_streamlit_says_in_one_sentence_what_to_install(lapline, monkeypatch):
    monkeypatch.setitem(sys.modules, "streamlit", None)  # what an import of a missing module finds

    assert lapline("app") == Done(2, "", "the app needs streamlit: pip install 'lapline[app]'\n")


def test_explain_adds_up_the_column_outside_at_any_depth(lapline):
    """12.85 ppg at the host shoe: the worked well of the trade reference. Each fluid by 0.051948 psi/ft/ppg:
    12.6 x 8 657.8 ft, 13.6 x 621.7 ft, 15.8 x 569.9 ft.
    """
    done = lapline("explain", BRINDLEWICK, "static emw at 9850 ft")
    unknown = lapline("explain", WELLS / "sketch.yaml", "static emw at 3000 m")
    beyond = lapline("explain", BRINDLEWICK, "static emw at 99999 ft")

    assert done.out.startswith("static emw at 9850 ft = 12.85 ppg")
    for height, psi in ((8657.8, 0.051948 * 12.6), (621.7, 0.051948 * 13.6), (569.9, 0.051948 * 15.8)):
        assert f"{height} ft high, {height * psi:.0f} psi" in done.out
    assert "not computed, needs cement" in unknown.out
    assert beyond.status == 2


def test_the_path_can_be_asked_at_any_depth(lapline):
    """Build of 6 deg/30 m from 1400 m to 88.5 deg: 1686.4 m TVD at 1842.5 m, the trade reference's test vector."""
    done = lapline("explain", WELLS / "tarnvale-h3.yaml", "tvd at 1842.5 m")
    beyond = lapline("explain", WELLS / "tarnvale-h3.yaml", "tvd at 9000 m")

    figure = float(done.out.splitlines()[0].split(" = ")[1].split()[0])
    assert figure == pytest.approx(1686.4, abs=0.05)
    assert beyond.status == 2


def test_what_cement_comes_to_can_be_explained(lapline):
    done = lapline("explain", BRINDLEWICK, "cement.total")

    assert "636 sacks of 94 lb" in done.out
    assert "17.7" not in done.out.splitlines()[0]
    assert done.out.count(" of excess") == 2


@pytest.mark.parametrize("well", [BRINDLEWICK, SOLLIVANE])
@pytest.mark.parametrize("form", ["text", "json", "csv"])
@pytest.mark.parametrize("verb", ["steps", "running-sheet"])
def test_the_installation_is_told_in_every_form(lapline, verb, well, form):
    done = lapline(verb, str(well), "--format", form)

    assert done.status == 0
    if form == "json":
        data = json.loads(done.out)
        assert data["tables"]
        assert verb != "steps" or len(data["steps"]) == 27
    else:
        assert ("Set the hanger" if verb == "steps" else "shoe MD") in done.out


@pytest.mark.parametrize("suffix", [".pdf", ".svg", ".xlsx", ".csv", ".json"])
@pytest.mark.parametrize("verb", ["steps", "running-sheet"])
def test_the_installation_is_written(lapline, verb, suffix, tmp_path):
    target = tmp_path / f"out{suffix}"

    done = lapline(verb, str(BRINDLEWICK), "-o", str(target))

    assert done.status == 0
    assert target.stat().st_size > 1000


def test_one_step_is_drawn(lapline, tmp_path):
    target = tmp_path / "step.svg"

    done = lapline("step", str(BRINDLEWICK), "11", "-o", str(target))

    assert done.status == 0
    assert "Set the hanger" in target.read_text(encoding="utf-8")


@pytest.mark.parametrize("number", ["0", "28", "-1"])
def test_a_step_that_is_not_there_is_refused(lapline, number, tmp_path):
    done = lapline("step", str(BRINDLEWICK), "-o", str(tmp_path / "step.svg"), "--", number)

    assert done.status == 2
    assert "steps 1 to 27" in done.err
    assert not list(tmp_path.iterdir())
