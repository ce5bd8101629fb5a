"""Options of a well: each is what the edited file is, and the tables tell what differs and nothing else."""

from __future__ import annotations

import json
import sys

import pytest

from schematic import check, cli, options
from schematic.comparison.compare import changes, findings_that_differ, in_words, what_differs
from schematic.comparison.figures import figures
from schematic.outcome import Figure, NotChecked
from schematic.units import FOOT_M, show
from schematic.verbs import demos, draw_options, load_text
from schematic.wellfile import edit
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import AS_WRITTEN

BRINDLEWICK = demos()["brindlewick-4.yaml"]


def with_options(text: str, *written: str) -> str:
    """The well with these options alone."""
    start, end = text.index("options:\n"), text.index("record:\n")
    return text[:start] + "options:\n" + "".join(f"  - {each}\n" for each in written) + "\n" + text[end:]


def test_an_option_is_the_file_with_its_values_put_in():
    base, short, _seat = options(load_text(BRINDLEWICK))
    by_hand = edit.set(BRINDLEWICK, "liner.lap", "150 ft")
    by_hand = edit.set(by_hand, "cement.planned top", "9500 ft")
    by_hand = edit.set(by_hand, "running string.assembly.drill pipe.length", "9296 ft")
    twin = check(load_text(by_hand))

    assert base.name == AS_WRITTEN
    assert short.evaluation.outcomes == twin.outcomes
    assert short.evaluation.volumes == twin.volumes


def test_only_what_differs_is_told_with_its_unit():
    compared = options(load_text(BRINDLEWICK))

    rows = {row[0]: row[1:] for row in what_differs(compared, "field").rows}

    unit, *tops = rows["liner top"]
    assert unit == "ft"
    # 9850 less 370, and less 150
    assert [show(top.si, top.kind, "field") for top in tops] == ["9480.0 ft", "9700.0 ft", "9480.0 ft"]
    assert "liner shoe" not in rows  # the same in all
    printed = [
        [show(c.si, c.kind, "field") if isinstance(c, Figure) else c for c in row[1:]]
        for row in rows.values()
    ]
    assert all(len(set(cells)) > 1 for cells in printed)
    lap = figures(compared[1].evaluation)["lap, liner top to host shoe"]
    assert lap.si == pytest.approx(150 * FOOT_M)


def test_another_pressure_of_the_lap_test_is_a_figure_and_is_told_in_words():
    text = with_options(
        BRINDLEWICK, "{name: harder, change: {installation.tests.liner and lap.surface pressure: 2900 psi}}"
    )
    compared = options(load_text(text))

    rows = {row[0]: row[2:] for row in what_differs(compared, "field").rows}
    at_surface = rows["test liner and lap, at surface"]
    assert [show(one.si, one.kind, "field") for one in at_surface] == ["2619 psi", "2900 psi"]
    # the file writes 2619 psi for 16.6 ppg at the liner shoe
    told = [row[1] for row in in_words(compared, "field").rows]
    assert told == [
        "Test liner and lap: at surface 2900 psi (was 2619 psi), "
        f"EMW at the liner shoe {show(rows['test liner and lap, EMW at the liner shoe'][1].si, 'emw', 'field')} "
        "(was 16.60 ppg)"
    ]


def test_a_test_that_cannot_be_computed_is_told_with_what_it_needs():
    text = with_options(
        BRINDLEWICK,
        "{name: open, without: [installation.tests.liner and lap.surface pressure, "
        "installation.tests.liner and lap.emw]}",
    )
    compared = options(load_text(text))

    rows = {row[0]: row[2:] for row in what_differs(compared, "field").rows}
    assert rows["test liner and lap, at surface"][1] == "not computed"
    assert ("open", "Test liner and lap: not planned, or not computed") in in_words(compared, "field").rows


def test_findings_that_appear_and_go_are_told_in_words():
    text = with_options(
        BRINDLEWICK,
        "{name: too short, change: {liner.lap: 80 ft, running string.assembly.drill pipe.length: 9366 ft}}",
        "{name: silica, change: {fluids.cement.silica: 35 %, fluids.cement.yield: 1.52 ft3/sk, "
        "fluids.cement.mix water: 6.3 gal/sk}}",
    )

    rows = findings_that_differ(options(load_text(text)), "field").rows

    said = {(row[0], row[1], row[3]) for row in rows}
    assert ("too short", "appears", "lap-outside-limits") in said
    assert ("silica", "goes", "slurry-wants-silica") in said
    assert not [row for row in rows if row[0] == "silica" and row[1] == "appears"]


def test_a_finding_that_goes_for_want_of_an_input_has_not_gone():
    """With a lap of 150 ft the slips stand below the couplings that the file lists."""
    rows = findings_that_differ(options(load_text(BRINDLEWICK)), "field").rows

    assert ("lap of 150 ft", "not checked", "slip-depth-not-proved") in {
        (row[0], row[1], row[3]) for row in rows
    }


@pytest.mark.parametrize(
    "change",
    [
        "change: {liner.lap: 150 ft}",
        "without: [strings.intermediate casing.wall left]",
        "without: [formation.pressures, fluids.cement.thickening time]",
    ],
)
def test_every_check_that_an_option_takes_away_is_told(change):
    """Whatever is not checked under it and is in the well as written is in the list."""
    given = edit.put(BRINDLEWICK, "strings.intermediate casing.wall left", "95 %")
    compared = options(load_text(with_options(given, f"{{name: other, {change}}}")))
    old, new = (
        {(o.rule, o.subject.path) for o in one.evaluation.outcomes if isinstance(o.answer, NotChecked)}
        for one in compared
    )

    assert new - old
    rows = findings_that_differ(compared, "field").rows
    assert {rule for rule, _subject in new - old} == {row[3] for row in rows if row[1] == "not checked"}


@pytest.mark.parametrize(
    ("change", "found"),
    [
        ("{liner.lap: 160}", "a number without a unit"),
        ("{liner.lap: 9900 ft}", "above the datum"),
        ("{liner.host: none}", "conductor, surface casing"),
        ("{liner.lap: {a: b}}", "keys a"),
        ("{liner.assembly.liner hanger.length: [1, 2]}", "a list"),
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
    titles = {table["title"] for table in json.loads(out)["tables"]}
    assert titles >= {
        "What differs",
        "Findings that differ",
        "In words, against the well as written",
        "Not computed",
    }
    status, out, _err = run(monkeypatch, capsys, str(file), "--format", "csv")
    assert "lap of 150 ft" in out


def test_a_file_without_options_says_how_to_write_one(tmp_path, monkeypatch, capsys):
    file = tmp_path / "well.yaml"
    file.write_text(demos()["fallow-6.yaml"])

    status, _out, err = run(monkeypatch, capsys, str(file))

    assert status == 2
    assert "options: [{name: ..., change:" in err


def test_an_option_may_take_out_and_put_in_what_has_several_parts():
    seat = next(one for one in options(load_text(BRINDLEWICK)) if one.name == "seat in the running tool")
    by_hand = edit.remove(edit.remove(BRINDLEWICK, "options"), "liner.assembly.landing collar.ball seat")
    by_hand = edit.set(by_hand, "installation.seat", "running tool")
    by_hand = by_hand.replace(
        "  circulate up to:",
        "  running tool seat: {ball: 1 3/4 in, seat: 1.50 in, shears at: 3400 psi +/- 10 %}\n  circulate up to:",
    )

    assert seat.evaluation.outcomes == check(load_text(by_hand)).outcomes


@pytest.mark.parametrize("written", ["{name: x}", "{name: x, without: []}", "{name: x, change: {}}"])
def test_an_option_that_changes_nothing_is_refused(written):
    with pytest.raises(InputError, match="nothing that differs"):
        load_text(with_options(BRINDLEWICK, written))


def test_what_an_option_takes_out_has_to_be_there():
    with pytest.raises(InputError, match="ball seats"):
        load_text(with_options(BRINDLEWICK, "{name: x, without: [liner.assembly.landing collar.ball seats]}"))


def test_what_is_not_there_is_none_and_what_lacks_an_input_is_not_computed():
    text = with_options(
        BRINDLEWICK,
        "{name: low top, change: {cement.planned top: 9600 ft}}",
        "{name: no excess, without: [cement.excess]}",
    )

    rows = {row[0]: row[2:] for row in what_differs(options(load_text(text)), "field").rows}

    assert rows["cement above liner top"][1] == "none"  # planned to stand below the liner top
    assert rows["cement, total"][2] == "not computed"


def test_a_finding_of_other_measure_is_told_as_changed():
    rows = findings_that_differ(options(load_text(demos()["sollivane-a7.yaml"])), "metric").rows

    changed = {(row[0], row[3]): row[4] for row in rows if row[1] == "changes"}

    assert changed["8 3/8 in hole", "gap-in-hole-small"].endswith(
        "was: landing collar, plug latch in 215.9 mm hole: gap 21.4 mm, 1.0 in (25.4 mm) wanted"
    )


def words_of(*written: str, system: str = "field") -> dict[str, list[str]]:
    said: dict[str, list[str]] = {}
    for name, text in in_words(options(load_text(with_options(BRINDLEWICK, *written))), system).rows:
        said.setdefault(str(name), []).append(str(text))
    return said


def test_words_tell_another_fluid_and_what_follows_from_it():
    said = words_of(
        "{name: light cement, change: {fluids.cement.density: 15.0 ppg}}",
        "{name: heavy mud, change: {fluids.mud.density: 13.0 ppg}}",
    )

    assert said["light cement"] == [
        "Cement lighter by 0.8 ppg",
        "Static EMW at the host shoe 12.80 ppg (was 12.85 ppg), static EMW at the liner shoe 13.28 ppg "
        "(was 13.49 ppg), U-tube 429 psi (was 562 psi): cement as planned",
    ]
    assert said["heavy mud"][0] == "Mud heavier by 0.4 ppg"
    assert any("U-tube" in text and "liner shoe" in text for text in said["heavy mud"])


def test_nothing_differs_only_where_no_figure_does():
    said = words_of(
        "{name: purpose, change: {well.purpose: another}}",
        "{name: water, change: {fluids.cement.mix water: 6 gal/sk}}",
        "{name: block, change: {installation.block weight: 46 klbf}}",
    )

    assert said["purpose"] == ["Nothing that is computed differs"]
    assert said["water"] == ["What differs: slurry cement, mix water"]
    assert said["block"] == ["Of the installation alone differs: hook loads, block included"]


def test_another_pipe_is_named_and_every_change_is_listed_by_its_path():
    made = options(
        load_text(
            with_options(
                BRINDLEWICK,
                "{name: grade, change: {liner.pipe: 7 in 29 lb/ft L-80}}",
                "{name: weight, change: {liner.pipe: 7 in 32 lb/ft P-110}}",
                "{name: no seat, without: [liner.assembly.landing collar.ball seat.shears at], "
                "change: {cement.planned top: 9290 ft}}",
                "{name: odd, change: {liner.lap: 99999 ft}}",
            )
        )
    )

    words = [row for row in in_words(made, "field").rows if "instead of" in row[1]]
    assert words == [
        ("grade", "Liner pipe L-80 instead of P-110"),
        ("weight", "Liner pipe 7 in 32 lb/ft P-110 instead of 7 in 29 lb/ft P-110"),
    ]
    assert changes(made).rows == (
        ("grade", "liner.pipe", "7 in 29 lb/ft P-110", "7 in 29 lb/ft L-80"),
        ("weight", "liner.pipe", "7 in 29 lb/ft P-110", "7 in 32 lb/ft P-110"),
        ("no seat", "cement.planned top", "9280 ft", "9290 ft"),
        ("no seat", "liner.assembly.landing collar.ball seat.shears at", "3400 psi +/- 10 %", "not written"),
        ("odd", "liner.lap", "370 ft", "99999 ft"),
    )


def test_couplings_that_are_not_given_are_not_known_and_not_none():
    rows = {row[0]: row[2:] for row in what_differs(options(load_text(BRINDLEWICK)), "field").rows}

    assert rows["slips to nearest coupling"][1] == "not known"


def test_the_words_round_a_difference_once():
    """By hand 220 ft of 29 lb/ft in 12.6 ppg, 1 - 12.6/65.5 of it: 5.15 klbf, beside 72.8 and 67.7 in the table."""
    first = in_words(options(load_text(BRINDLEWICK)), "field").rows[0]
    rows = {row[0]: row[2:] for row in what_differs(options(load_text(BRINDLEWICK)), "field").rows}

    assert [show(c.si, c.kind, "field") for c in rows["liner, in mud"][:2]] == ["72.8 klbf", "67.7 klbf"]
    assert "liner lighter by 5.2 klbf in mud" in first[1]


@pytest.mark.parametrize("name", ["lap of 150 ft", "Lap_of 150 FT", "as written"])
def test_an_option_has_a_name_of_its_own(name):
    text = with_options(
        BRINDLEWICK,
        "{name: lap of 150 ft, change: {liner.lap: 150 ft}}",
        f"{{name: {name}, change: {{liner.lap: 160 ft}}}}",
    )

    with pytest.raises(InputError, match="a name of its own for each option"):
        load_text(text)


@pytest.mark.parametrize("suffix", [".svg", ".pdf", ".png", ".xlsx", ".json"])
def test_options_go_into_a_file_of_every_kind(suffix, tmp_path):
    written = draw_options(load_text(BRINDLEWICK), tmp_path / f"options{suffix}")

    assert written[0].stat().st_size > 1000
    assert all(path.exists() for path in written)


def test_the_workbook_holds_numbers_as_numbers(tmp_path):
    from openpyxl import load_workbook

    draw_options(load_text(BRINDLEWICK), tmp_path / "options.xlsx")
    sheet = load_workbook(tmp_path / "options.xlsx")["What differs"]

    rows = {row[0]: row[1:] for row in sheet.iter_rows(values_only=True)}
    assert rows["liner top"][0] == "ft"
    assert rows["liner top"][1:4] == pytest.approx((9480.0, 9700.0, 9480.0))


def test_a_file_that_has_a_wrong_end_is_refused_before_anything_is_read(tmp_path, monkeypatch, capsys):
    status, _out, err = run(monkeypatch, capsys, str(tmp_path / "none.yaml"), "-o", "options.doc")

    assert status == 2
    assert ".xlsx" in err


def test_the_verb_stays_a_verb_when_its_room_is_loaded():
    """A room named like the verb would take its place in the package at the first use."""
    import schematic

    assert (
        len(schematic.options(load_text(BRINDLEWICK))) == len(schematic.options(load_text(BRINDLEWICK))) == 3
    )
