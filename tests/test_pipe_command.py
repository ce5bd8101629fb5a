"""The command that tells what is known of a pipe. Expected numbers name their source."""

from __future__ import annotations

import csv
import io
import json
from contextlib import redirect_stderr, redirect_stdout

import pytest
from hypothesis import given
from hypothesis import strategies as st

import schematic
from schematic.catalogue.pipe import LookUpError
from schematic.catalogue.rows import casing_rows, drill_pipe_rows
from schematic.cli import commands
from schematic.units import PSI_PA


def pipe(*arguments):
    """What the command answers: exit status, standard output, standard error."""
    out, err = io.StringIO(), io.StringIO()
    status = 0
    with redirect_stdout(out), redirect_stderr(err):
        try:
            commands(["pipe", *arguments], standalone_mode=False)
        except SystemExit as left:
            status = left.code
    return status, out.getvalue(), err.getvalue()


def line(text, what):
    """The words of one line of the table."""
    found = [row.split() for row in text.splitlines() if row.strip().startswith(what)]
    assert len(found) == 1, (what, text)
    return found[0][len(what.split()) :]


def facts(text, *arguments):
    """The facts of the JSON answer, by what they are."""
    status, out, _err = pipe(text, "--format", "json", *arguments)
    assert status == 0
    return {fact["what"]: fact for fact in json.loads(out)["facts"]}


def test_casing_with_its_grade():
    """7 in 29 lb/ft L-80. Dimensions: API Spec 5CT; ratings: API TR 5C3 tables (7020 or 7030, 8160 psi, 676 klbf); capacity 0.0371 bbl/ft: handbooks; all from memory."""
    status, out, err = pipe("7 in 29 lb/ft L-80 BTC")

    assert (status, err) == (0, "")
    assert out.startswith("7 in 29 lb/ft, casing\n")
    assert line(out, "OD") == ["7.000", "in"]
    assert line(out, "wall") == ["0.408", "in"]
    assert line(out, "ID") == ["6.184", "in"]
    assert line(out, "drift") == ["6.059", "in"]
    assert line(out, "coupling OD, buttress") == ["7.656", "in", "as", "written"]
    assert line(out, "coupling OD, special clearance buttress")[:2] == ["7.375", "in"]
    assert line(out, "nominal weight") == ["29", "lb/ft"]
    assert line(out, "minimum yield") == ["80000", "psi", "L-80"]
    assert line(out, "burst")[:2] == ["8160", "psi"]
    assert 7020 <= float(line(out, "collapse")[0]) <= 7030
    assert line(out, "collapse")[2:4] == ["plastic", "regime,"]
    assert line(out, "body yield")[:2] == ["676.0", "klbf"]
    assert float(line(out, "capacity")[0]) == pytest.approx(0.0371, abs=1e-4)
    assert "strength not known here" in out
    assert "from memory; look at the page before use" in out


def test_figures_in_json_carry_si_and_unit():
    """9 5/8 in 47 lb/ft: plain-end 46.18 lb/ft, API Spec 5CT / 5L; 0.0732 bbl/ft, handbooks; from memory."""
    known = facts("9 5/8 in 47 lb/ft N-80")

    assert known["plain-end weight"]["value"] == pytest.approx(46.18, abs=0.02)
    assert known["capacity"]["value"] == pytest.approx(0.0732, abs=5e-5)
    assert known["capacity"]["unit"] == "bbl/ft"
    assert known["capacity"]["si"] == pytest.approx(0.0732 * 0.158987 / 0.3048, rel=1e-3)
    assert known["closed-end displacement"]["si"] == pytest.approx(
        3.14159 / 4 * (9.625 * 0.0254) ** 2, rel=1e-5
    )
    assert known["burst"]["si"] / PSI_PA == pytest.approx(6870, abs=5)  # API TR 5C3 tables, from memory
    assert known["collapse"]["si"] / PSI_PA == pytest.approx(4750, abs=5)  # the same
    assert "plastic" in known["collapse"]["remark"]


def test_the_other_units():
    known = facts("7 in 29 lb/ft L-80", "--units", "metric")

    assert known["OD"]["printed"] == "177.8 mm"
    assert known["wall"]["printed"] == "10.36 mm"  # API Spec 5CT, from memory
    assert known["capacity"]["unit"] == "L/m"
    assert known["capacity"]["value"] == pytest.approx(19.38, abs=0.005)  # pi/4 x 157.07 mm squared
    assert known["burst"]["unit"] == "bar"


def test_units_follow_what_was_written():
    assert line(pipe("177.8 mm 43.2 kg/m P-110")[1], "OD") == ["177.8", "mm"]
    assert line(pipe("177.8 mm 43.2 kg/m P-110", "--units", "field")[1], "OD") == ["7.000", "in"]


def test_csv_holds_the_facts_and_whose_they_are():
    rows = list(csv.reader(io.StringIO(pipe("7 in 29 lb/ft L-80", "--format", "csv")[1])))

    assert ["ID", "6.184", "in", ""] in rows
    assert ["body yield", "676.0", "klbf", "tension of the pipe body"] in rows
    assert any(row[:1] == ["source"] for row in rows)


@pytest.mark.parametrize(
    ("written", "name", "note"),
    [
        ("7 in 29", "7 in 29 lb/ft", "29 is read as 29 lb/ft"),
        ("7in 29 P110", "7 in 29 lb/ft", "29 is read as 29 lb/ft"),
        ("7 in P-110 29", "7 in 29 lb/ft", "29 is read as 29 lb/ft"),
        ("7 in casing 29, L-80", "7 in 29 lb/ft", "29 is read as 29 lb/ft"),
        ("9 5/8 in 53,5", "9 5/8 in 53.5 lb/ft", "53.5 is read as 53.5 lb/ft"),
        ("5 in HWDP 49.3", "5 in HWDP 49.3 lb/ft NC50", "49.3 is read as 49.3 lb/ft"),
        ("5 1/2 in 21.9 5 1/2 FH", "5 1/2 in 21.9 lb/ft 5 1/2 FH", "21.9 is read as 21.9 lb/ft"),
        ("5 in 19.5 S-135", "5 in 19.5 lb/ft S-135 NC50", "19.5 is read as 19.5 lb/ft"),
        ("7 in 29 lb/ft", "7 in 29 lb/ft", None),
        ("7 in 29#", "7 in 29 lb/ft", None),
    ],
)
def test_a_bare_weight_after_inches_is_pounds_per_foot_and_it_says_so(written, name, note):
    found = schematic.pipe(written)

    assert found.name == name
    assert dict(found.notes).get("weight") == note


def test_words_need_no_quotes():
    assert pipe("7", "in", "29", "L-80") == pipe("7 in 29 L-80")


@pytest.mark.parametrize(
    ("written", "remark"),
    [
        ("7 in 29 lb/ft", "grade not written: no ratings"),
        ("30 in x 1 in X-52", "X-52 is not in the table of grades: no ratings"),
    ],
)
def test_without_a_known_grade_there_are_no_ratings(written, remark):
    known = facts(written)

    assert known["minimum yield"]["si"] is None
    assert known["minimum yield"]["remark"] == remark
    assert not {"burst", "collapse", "body yield"} & set(known)


def test_what_no_table_lists_is_not_known():
    known = facts("30 in x 1 in")

    assert known["drift"] == {"what": "drift", "printed": None, "value": None, "unit": None, "si": None, "remark": "not known: no standard gives one"}  # fmt: skip
    assert known["coupling OD, buttress"]["remark"] == "not known: none listed"
    assert facts("5 7/8 in 23.4 lb/ft S-135")["adjusted weight"]["si"] is None


def test_alternative_drift_is_said_to_be_to_order():
    """9 5/8 in 53.5 lb/ft, 8.500 in: API Spec 5CT, from memory."""
    known = facts("9 5/8 in 53.5 lb/ft")

    assert known["alternative drift"]["printed"] == "8.500 in"
    assert known["alternative drift"]["remark"] == "only if ordered and drifted so"


def test_drill_pipe():
    """5 in 19.5 lb/ft S-135 NC50, 6 5/8 x 2 3/4 in, 22.6 lb/ft: API RP 7G, from memory."""
    status, out, _err = pipe("5 in 19.5 lb/ft S-135")

    assert status == 0
    assert out.startswith("5 in 19.5 lb/ft S-135 NC50, drill pipe\n")
    assert line(out, "tool joint OD") == ["6.625", "in", "NC50"]
    assert line(out, "tool joint ID") == ["2.750", "in", "NC50"]
    assert line(out, "adjusted weight") == ["22.6", "lb/ft", "approximate,", "tool", "joints", "in"]
    assert line(out, "minimum yield") == ["135000", "psi", "S-135"]
    assert "drill pipe is not rated here" in out
    assert "burst" not in out


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("7 in 30", "7 in 29 lb/ft, 7 in 32 lb/ft"),
        ("7 in 30", "did you mean 7 in 29 lb/ft?"),
        ("7 in", "write the nominal weight (lb/ft, kg/m) or the wall as well"),
        ("7 29", "the size has no unit: write '7 in' or mm"),
        ("177.8 mm 43.2", "43.2 has no unit: write '43.2 kg/m'"),
        ("9.58 in 47", "did you mean 9 5/8 in?"),
        ("24 in 100", "the nearest is 20 in"),
        ("5 in 19.5", "one of 5 in 19.5 lb/ft E-75 NC50, 5 in 19.5 lb/ft S-135 NC50"),
        ("5 in 19.5 G-105", "G-105 is not listed for this pipe"),
        ("4 1/2 in x 0.337 in", "casing, 4 1/2 in 15.1 lb/ft; or drill pipe, 4 1/2 in 16.6 lb/ft NC46"),
        ("5 in x 0.362 in", "casing, 5 in 18 lb/ft; or drill pipe, one of 5 in x 0.362 in E-75 NC50"),
        ("4 1/2 in 14", "as drill pipe: 14 lb/ft is not listed for 4 1/2 in: did you mean 4 1/2 in 13.75"),
        ("5 1/2 in 23 lb/ft S-135", "one of 5 1/2 in 21.9 lb/ft"),
        ("a pipe", "begin with the outside diameter"),
        ("", "begin with the outside diameter"),
    ],
)
def test_what_is_not_listed_or_not_one_ends_with_two_and_the_choices(written, said):
    status, out, err = pipe(written)

    assert (status, out) == (2, "")
    assert said in err
    assert "by hand" not in err
    assert "well file" not in err
    assert "Traceback" not in err


def test_a_word_decides_between_casing_and_drill_pipe():
    assert schematic.pipe("4 1/2 in x 0.337 in casing").kind == "casing"
    assert schematic.pipe("4 1/2 in x 0.337 in drill pipe").kind == "drill pipe"
    assert schematic.pipe("4 1/2 in x 0.337 in L-80").kind == "casing"
    assert schematic.pipe("4 1/2 in x 0.337 in NC46").kind == "drill pipe"


def test_words_left_over_are_told():
    assert (
        dict(schematic.pipe("7 in 29 lb/ft L-80 flush joint").notes)["not used"]
        == "flush joint: not understood"
    )


@pytest.mark.parametrize("row", [*casing_rows(), *drill_pipe_rows()], ids=lambda row: row.name)
def test_every_row_is_found_by_its_name_with_source_and_status(row):
    found = schematic.pipe(row.name)

    assert (found.name, found.source, found.status) == (row.name, row.source, row.status)


WORDS = '9 5/8|7|5|in|"|mm|x|47|19.5|#|lb/ft|kg/m|0.408|L-80|BTC|NC50|HWDP|casing|5 1/2 FH|/|-|,'


@given(st.one_of(st.text(max_size=40), st.lists(st.sampled_from(WORDS.split("|")), max_size=8).map(" ".join)))
def test_any_text_is_answered_or_refused(text):
    try:
        answer = schematic.pipe(text).name
    except LookUpError as refused:
        answer = refused.mend

    assert answer
