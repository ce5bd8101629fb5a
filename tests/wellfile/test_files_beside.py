"""Files beside the well file: none is read from elsewhere, and what is read is what the plan stands on."""

import os
import sys

import pytest

from schematic import check
from schematic.depth.resolve import resolve
from schematic.verbs import demos, load, load_text
from schematic.wellfile import beside
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import read_text

FT = 0.3048
WELL = """
lapline: 1
well: {name: Files 1, datum: {from: rotary table, above: ground level, height: 10 ft}}
SURVEY
hole:
  - {bit: 12 1/4 in, to: 5000 ft}
  - {bit: 8 1/2 in, to: 7000 ft CALIPER}
strings:
  - {name: casing, pipe: 9 5/8 in 47 lb/ft L-80, shoe: 5000 ft}
liner: {pipe: 7 in 29 lb/ft P-110, host: casing, LINER}
"""
DEPTHS = "lap: 300 ft, off bottom: 5 ft"
LOG = """~Version
 VERS. 2.0 :
 WRAP. NO :
~Well
 NULL. -999.25 :
~Curve
 DEPT.F :
 CALI.IN :
~ASCII
"""


def well(survey="", caliper="", liner=DEPTHS):
    return WELL.replace("SURVEY", survey).replace("CALIPER", caliper).replace("LINER", liner)


def plan(folder, text):
    (folder / "well.yaml").write_text(text)
    return resolve(load(folder / "well.yaml"))


def problem(folder, text):
    with pytest.raises(InputError) as caught:
        plan(folder, text)
    return caught.value.problems[0]


def test_a_survey_beside_is_the_survey_written_out(tmp_path):
    rows = [(0, 0, 0), (3000, 0, 0), (4000, 20.5, 45), (7000, 20.5, 50)]
    (tmp_path / "logs").mkdir()
    (tmp_path / "logs" / "plan.csv").write_text(
        "MD,Inc,Azi\n" + "".join(f"{m},{i},{a}\n" for m, i, a in rows)
    )
    listed = "survey:\n" + "".join(f"  - {{md: {m} ft, inc: {i} deg, azi: {a} deg}}\n" for m, i, a in rows)

    by_file = plan(tmp_path, well("survey: {file: logs/plan.csv, unit: ft}"))
    by_hand = plan(tmp_path, well(listed))

    assert by_file.depth.path.stations == by_hand.depth.path.stations
    assert by_file.depth.liner == by_hand.depth.liner
    assert "survey from plan.csv: angles without a unit read as degrees" in by_file.assumptions


def test_stated_tvds_of_a_file_are_held_against_the_path(tmp_path):
    (tmp_path / "plan.csv").write_text("MD (ft),Inc,Azi,TVD (ft)\n0,0,0,0\n7000,0,0,6990\n")
    entered = plan(tmp_path, well("survey: {file: plan.csv}")).depth.entered_tvds
    assert [(each.path, each.entered_tvd_m / FT) for each in entered][-1] == (
        "survey.1.tvd",
        pytest.approx(6990),
    )


def test_a_defect_of_a_file_names_that_file_and_those_of_the_well_file_stand_beside_it(tmp_path):
    (tmp_path / "plan.csv").write_text("MD (ft),Inc,Azi\n0,0,0\n7000,0,x\n")
    (tmp_path / "well.yaml").write_text(
        well("survey: {file: plan.csv}").replace("host: casing", "host: case")
    )
    with pytest.raises(InputError) as caught:
        resolve(load(tmp_path / "well.yaml"))
    assert [(p.file.rpartition("/")[2], p.line, p.path) for p in caught.value.problems] == [
        ("plan.csv", 3, "Azi"),
        ("well.yaml", 10, "liner.host"),
    ]


@pytest.mark.parametrize(
    "name",
    [
        "/etc/hostname",
        "../plan.csv",
        "logs/../../plan.csv",
        "~/plan.csv",
        "C:/plan.csv",
        "logs\\plan.csv",
        ".",
        "logs",
        "link.csv",
        "linked/plan.csv",
        "absent.csv",
        "pipe",
    ],
)
def test_nothing_is_read_from_elsewhere(tmp_path, name):
    folder = tmp_path / "inside"
    (folder / "logs").mkdir(parents=True)
    (tmp_path / "plan.csv").write_text("MD (ft),Inc,Azi\n0,0,0\n")
    (folder / "link.csv").symlink_to(tmp_path / "plan.csv")
    (folder / "linked").symlink_to(tmp_path)
    if hasattr(os, "mkfifo"):
        os.mkfifo(folder / "pipe")
    found = problem(folder, well(f"survey: {{file: '{name}'}}"))
    assert found.file.endswith("well.yaml")
    assert (found.line, found.path) == (4, "survey.file")
    assert name in found.found


def test_a_link_within_the_folder(tmp_path):
    (tmp_path / "plan-3.csv").write_text("MD (ft),Inc,Azi\n0,0,0\n7000,1,0\n")
    (tmp_path / "plan.csv").symlink_to(tmp_path / "plan-3.csv")
    assert plan(tmp_path, well("survey: {file: plan.csv}")).depth.path.last_md_m == pytest.approx(7000 * FT)


def test_a_huge_file(tmp_path, monkeypatch):
    monkeypatch.setattr(beside, "MOST_BYTES", 2**20)
    (tmp_path / "plan.csv").write_bytes(b"x" * (2**20 + 1))
    assert "of more than 1 MiB" in problem(tmp_path, well("survey: {file: plan.csv}")).found


def test_a_text_without_a_folder():
    with pytest.raises(InputError) as caught:
        resolve(load_text(well("survey: {file: plan.csv}")))
    (found,) = caught.value.problems
    assert (found.line, found.path) == (4, "survey.file")
    assert "lies in no folder" in found.found


def test_a_text_with_a_folder(tmp_path):
    (tmp_path / "plan.csv").write_text("MD (ft),Inc,Azi\n0,0,0\n7000,1,0\n")
    document = read_text(well("survey: {file: plan.csv}"), "any", tmp_path)
    assert len(resolve(document).depth.path.stations) == 2


@pytest.mark.parametrize(
    ("text", "path", "found", "mend"),
    [
        ("survey: plan.csv", "survey", "plan.csv", "{file: plan.csv}"),
        ("survey: {unit: ft}", "survey", "no 'file'", "add 'file"),
        (
            "survey: {file: plan.csv, sheets: A}",
            "survey.sheets",
            "'sheets', which is not a key here",
            "'sheet'",
        ),
        ("survey: {file: plan.csv, unit: feet}", "survey.unit", "feet", "ft"),
        (
            "survey: [{md: 0 ft, incl: 0 deg, azi: 0 deg}]",
            "survey[0].incl",
            "'incl', which is not a key here",
            "'inc'",
        ),
        ("survey: [{md: 0 ft, inc: 0 deg}]", "survey[0]", "no 'azi'", "add 'azi"),
    ],
)
def test_slips_in_naming_a_file(text, path, found, mend):
    with pytest.raises(InputError) as caught:
        load_text(well(text))
    first = next(p for p in caught.value.problems if p.path == path)
    assert first.found == found
    assert mend in first.mend or mend in first.accepted


def test_a_caliper_log_and_its_gaps(tmp_path):
    """8.0 and 9.0 in by turns; silent above 5010 ft, from 6000 to 6100 ft, and below 6900 ft."""
    rows = [(5010 + 2 * i, 8.5 + 0.5 * (-1) ** i) for i in range(946)]
    (tmp_path / "log.las").write_text(
        LOG + "".join(f"{d} {s if not 6000 < d < 6100 else -999.25}\n" for d, s in rows)
    )
    hole = plan(tmp_path, well(caliper=", caliper: {file: log.las}")).depth.hole

    assert [tuple(round(d / FT, 6) for d in gap) for gap in hole.gaps_md_m] == [
        (5000, 5010),
        (6000, 6100),
        (6900, 7000),
    ]
    assert hole.diameter_m.at(5500 * FT) / 0.0254 == pytest.approx(((8**2 + 9**2) / 2) ** 0.5)
    assert hole.diameter_m.at(6050 * FT) / 0.0254 == pytest.approx(8.5)
    assert hole.passes_m(5200 * FT, 5300 * FT) / 0.0254 == pytest.approx(8.0)
    assert hole.passes_m(6950 * FT, 7000 * FT) / 0.0254 == pytest.approx(8.5)
    assert hole.least_m == hole.greatest_m == hole.diameter_m
    assert hole.sections[1].basis == "caliper"


def test_a_caliper_log_is_said(tmp_path):
    (tmp_path / "log.las").write_text(LOG + "5000 8.6\n5010 -5\n5020 8.6\n5030 8.6\n6000 8.6\n")
    assumptions = plan(tmp_path, well(caliper=", caliper: {file: log.las}")).assumptions
    assert "caliper log log.las: 1 negative readings left out" in assumptions
    assert "caliper log silent at 5030 ft to 7000 ft: bit size taken there" in assumptions


def test_a_caliper_beside_a_washout(tmp_path):
    assert (
        "both" in problem(tmp_path, well(caliper=", washout: {volume: 5 %}, caliper: {file: log.las}")).found
    )


def test_an_interval_outside_the_section(tmp_path):
    found = problem(tmp_path, well(caliper=", caliper: {file: log.las, to: 4000 ft}"))
    assert found.path == "hole[1].caliper"


TALLY = "No,Length (ft)\n" + "".join(f"{i},{40 + i / 100:.2f}\n" for i in range(1, 59))
ASSEMBLY = """
  assembly:
    - {part: float shoe, length: 2 ft}
    - {part: joint, count: 2}
    - {part: landing collar, length: 2 ft}
    - {part: joint, fill: yes}
    - {part: liner hanger, length: 10 ft}
"""


def with_tally(assembly=ASSEMBLY, depths="off bottom: 5 ft"):
    block = f"liner:\n  pipe: 7 in 29 lb/ft P-110\n  host: casing\n  tally: {{file: tally.csv}}\n  {depths}{assembly}"
    return well().replace(f"liner: {{pipe: 7 in 29 lb/ft P-110, host: casing, {DEPTHS}}}\n", block)


def test_joints_take_their_lengths_from_the_tally(tmp_path):
    """Joints 1 and 2 of 40.01 and 40.02 ft lie lowest; 58 joints of 40 + n/100 ft are 2337.11 ft."""
    (tmp_path / "tally.csv").write_text(TALLY)
    found = plan(tmp_path, with_tally())
    joints = [part for part in found.depth.liner.parts if part.kind == "joint"]

    assert [part.joints for part in joints] == [56, 2]
    assert joints[1].length_m / FT == pytest.approx(80.03)
    assert joints[0].length_m / FT == pytest.approx(2337.11 - 80.03)
    assert found.depth.liner.top_md_m / FT == pytest.approx(6995 - 2337.11 - 14)
    assert not any(part.length_assumed for part in joints)
    assert "joints without a length are taken as 40 ft each" not in found.assumptions


def test_a_tally_that_does_not_fit_the_assembly(tmp_path):
    (tmp_path / "tally.csv").write_text("No,Length (ft)\n1,40\n2,40\n")
    assert problem(tmp_path, with_tally()).path == "liner.tally"

    counted = ASSEMBLY.replace("fill: yes", "count: 40")
    (tmp_path / "tally.csv").write_text(TALLY)
    assert (
        "tally: the last 16 of its 58 joints are not in the assembly"
        in plan(tmp_path, with_tally(counted)).assumptions
    )


def test_no_reader_of_tables_is_loaded_before_it_is_used():
    import subprocess

    code = (
        "import sys, schematic.verbs; sys.exit(any(m in sys.modules for m in ('openpyxl', 'lasio', 'numpy')))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_the_demos_need_no_file_beside_them():
    for text in demos().values():
        resolve(load_text(text))


def test_the_hash_on_the_sheet_is_that_of_the_files_beside_as_well(tmp_path):
    """A sheet made from a changed survey must not bear the name of the one before."""
    text = demos()["brindlewick-4.yaml"]
    rows = text[text.index("survey:\n") : text.index("hole:  ")]
    (tmp_path / "well.yaml").write_text(text.replace(rows, "survey: {file: plan.csv}\n\n"))
    hashes = set()
    for inclination in ("0.5", "0.6"):
        (tmp_path / "plan.csv").write_text(f"MD (ft),Inc [deg],Azi [deg]\n0,0,0\n12600,{inclination},110\n")
        hashes.add(check(tmp_path / "well.yaml").plan.identity.file_hash)

    assert len(hashes) == 2
