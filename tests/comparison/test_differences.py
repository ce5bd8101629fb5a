"""What changed between two issues: every change is told, by as much as the two evaluations differ, no more."""

from __future__ import annotations

import csv
import io
import json
import sys
from decimal import Decimal

import pytest

from schematic import check, cli, diff
from schematic.comparison.differences import computed, found, in_sentences, parts_changed, tables_of, written
from schematic.comparison.figures import figures
from schematic.comparison.words import difference
from schematic.outcome import Figure
from schematic.units import FOOT_M, POUND_FORCE_N, in_system, number
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

    Of the displacement by hand: 6.1 ft of drill pipe less, 0.01776 bbl/ft of body and 0.00735 of tool joint at 1 in 18, so
    0.01718; 6.1 ft of liner more, 0.03715 bbl/ft: 0.2266 - 0.1048 = 0.12 bbl.
    """
    said = in_sentences(both(UP), "field")

    assert said[0].startswith("Hanger up 6.1 ft; liner longer by the same; lap longer by the same")
    assert "displacement 0.1 bbl more" in said[0]
    rows = {row[0]: row for row in computed(both(UP), "field").rows}
    moved = rows["displacement, plug bumps"][3].si - rows["displacement, plug bumps"][2].si
    assert moved / 0.158987294928 == pytest.approx(0.12, abs=0.005)
    assert rows["hanger, base"][4] == "-6.1"


def test_what_follows_another_figure_does_not_move_by_the_same():
    """The liner's top 3 ft up and its shoe 6.1 ft down: the lap is longer by 3 ft, the liner by 9.1 ft."""
    text = changed(("liner.lap", "373 ft"), ("liner.off bottom", "3.9 ft"))
    said = in_sentences(both(text), "field")[0]

    assert "Hanger up 3.0 ft; shoe deeper by 6.1 ft; liner longer by 9.1 ft" in said
    assert "lap longer by 3.0 ft" in said
    assert "the same" not in said


def test_another_pipe_says_what_it_bears():
    """API TR 5C3, from memory, 4 1/2 in P-110: 13.5 lb/ft 12 410 and 10 680 psi, 422 klbf; 15.1 lb/ft 14 420, 14 350, 485."""
    text = demos()["corrick-5.yaml"]
    two = both(edit.set(text, "liner.pipe", "4 1/2 in 15.1 lb/ft P-110"), text)
    rows = {row[0]: row[2:4] for row in computed(two, "field").rows}

    psi = 6894.757293168
    for name, unit, table, near in (
        ("liner pipe, burst", psi, (12410, 14420), 10),
        ("liner pipe, collapse without load", psi, (10680, 14350), 10),
        ("liner pipe, body yield", 1000.0 * POUND_FORCE_N, (422, 485), 0.6),
    ):
        assert [one.si / unit for one in rows[name]] == pytest.approx(table, abs=near)
    assert "burst of the liner's pipe 20" in in_sentences(two, "field")[0]


def test_the_excess_is_told_by_how_much():
    """20 % to 30 % of 88.4 bbl of open hole: 8.84 bbl more."""
    said = " ".join(in_sentences(both(changed(("cement.excess.open hole", "30 %"))), "field"))

    assert "excess 8.8 bbl more" in said


def test_a_survey_says_how_many_stations_are_others():
    text = demos()["tarnvale-h3.yaml"]
    moved = text.replace("md: 1460 m, inc: 12 deg", "md: 1460 m, inc: 12.1 deg")
    gone = text.replace("  - {md: 1460 m, inc: 12 deg, azi: 75 deg}\n", "")

    told = [
        [one for one in in_sentences(both(new, text), "metric") if "urvey" in one] for new in (moved, gone)
    ]
    stations = sum(line.lstrip().startswith("- {md:") and "inc:" in line for line in text.splitlines())
    assert [one.split(":")[0] for [one] in told] == [
        f"Survey with {stations} stations, 1 moved",
        f"Survey with {stations - 1} stations, 1 taken out",
    ]


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
def test_each_change_is_the_difference_rounded_once(new, system):
    """Every figure that prints otherwise has a row, and the row says by how much its two figures differ."""
    two = both(new)
    before, after = figures(check(load_text(BRINDLEWICK))), figures(check(load_text(new)))
    rows = {row[0]: row for row in computed(two, system).rows}

    for name in before.keys() & after.keys():
        was, now = (Decimal(number(way[name].si, way[name].kind, system)) for way in (before, after))
        if was == now:
            assert name not in rows
        elif not str(rows[name][4]).startswith("under"):
            change = str(rows[name][4])
            half = 0.5 * 10.0 ** -len(change.partition(".")[2])
            ends = [in_system(way[name].si, way[name].kind, system) for way in (before, after)]
            assert abs(float(change) - (ends[1] - ends[0])) <= half + 1e-9, name


def test_a_change_below_the_resolution_is_said_as_such():
    """9480.04 and 9480.06 ft print as 9480.0 and 9480.1: they differ by less than 0.1 ft, not by 0.1."""
    old, new = Figure(9480.04 * FOOT_M, "tally"), Figure(9480.06 * FOOT_M, "tally")

    assert difference(old, new, "field") == "under 0.1 ft"
    assert difference(old, Figure(9480.041 * FOOT_M, "tally"), "field") is None


@pytest.mark.parametrize(
    ("before", "after", "kind", "said"),
    [
        (72.84, 67.66, "force", "5.2 klbf"),  # 5.18, though 72.8 and 67.7 are printed
        (9479.96, 9480.04, "tally", None),  # both 9480.0
        (1.0, 2.0, "count", "1"),
    ],
)
def test_a_difference_is_rounded_once(before, after, kind, said):
    si = {"force": 1000 * POUND_FORCE_N, "tally": FOOT_M, "count": 1.0}[kind]

    assert difference(Figure(before * si, kind), Figure(after * si, kind), "field") == said


def test_a_deeper_hole_is_one_change_and_one_joint_is_one():
    two = both(BRINDLEWICK.replace("    to: 12600 ft\n", "    to: 12650 ft\n", 1))

    assert [tuple(one) for one in two.written] == [("hole[2].to", "12600 ft", "12650 ft")]
    assert "; 1 joint more;" in in_sentences(two, "field")[0]


def test_one_section_more_is_no_change_of_those_around_it():
    one_more = BRINDLEWICK.replace(
        "  - {bit: 12 1/4 in, to: 9850 ft}\n",
        "  - {bit: 14 3/4 in, to: 6000 ft}\n  - {bit: 12 1/4 in, to: 9850 ft}\n",
    )

    told = [tuple(one) for one in written(parse(BRINDLEWICK, "old"), parse(one_more, "new"))]
    back = [tuple(one) for one in written(parse(one_more, "old"), parse(BRINDLEWICK, "new"))]
    assert told == [("hole[1].bit", "", "14 3/4 in"), ("hole[1].to", "", "6000 ft")]
    assert back == [(path, new, "") for path, _old, new in told]


def test_another_station_is_one_change_of_its_depth():
    new = BRINDLEWICK.replace("md: 4120 ft, inc: 0.5 deg", "md: 4130 ft, inc: 0.6 deg")

    told = {one.path: (one.old, one.new) for one in both(new).written}
    assert told == {"survey[1].md": ("4120 ft", "4130 ft"), "survey[1].inc": ("0.5 deg", "0.6 deg")}


def test_another_grade_is_told_with_what_it_bears_on():
    said = in_sentences(both(changed(("liner.pipe", "7 in 29 lb/ft L-80"))), "field")

    # 7 in 29 lb/ft: 11 220 and 8 160 psi (API TR 5C3, from memory)
    assert said[0].startswith("Burst of the liner's pipe 3060 psi less; its collapse without load ")
    assert "Liner pipe L-80 instead of P-110" in said
    assert "Nothing that is computed has changed" not in said
    assert any("its body yield 253" in text for text in said)  # 929 and 676 klbf


def test_the_hook_of_an_upright_well_is_no_news():
    """75.5 of 75.6 klbf on the hook tells nothing; 759 of 1197 kN in a leaning well does."""
    upright = " ".join(in_sentences(both(UP), "field"))
    leaning = edit.set(demos()["sollivane-a7.yaml"], "liner.lap", "2630 m")
    leaning = edit.set(leaning, "running string.assembly.drill pipe.length", "436 m")

    assert "hang on the hook" not in upright
    assert "hang on the hook" in " ".join(in_sentences(both(leaning, demos()["sollivane-a7.yaml"]), "metric"))


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
    silica = ("silica", "35 %"), ("yield", "1.52 ft3/sk"), ("mix water", "6.3 gal/sk")
    new = changed(*((f"fluids.cement.{name}", value) for name, value in silica))
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
    assert "Survey with 4 stations, 1 moved" in said


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


def test_volumes_that_cement_told_before_are_not_new_once_it_is_not_computed():
    """A tally that no longer ends at the liner top stops cement and displacement; no space of the well is new."""
    text = demos()["brindlewick-4.yaml"]
    moved = diff(load_text(text), load_text(text.replace("lap: 370 ft", "lap: 376 ft")))
    rows = {str(row[0]): row for row in computed(moved, "field").rows}

    assert not [name for name in rows if name.startswith("volume of")]
    assert "not computed" in rows["cement, total"]


def test_a_plan_that_lost_its_mud_is_compared_all_the_same():
    text = demos()["corrick-5.yaml"]
    text = edit.remove(text, "cement.schedule") if "\n  schedule:" in text else text
    bare = edit.remove(text, "fluids.mud")

    assert in_sentences(diff(load_text(text), load_text(bare)), "metric")
