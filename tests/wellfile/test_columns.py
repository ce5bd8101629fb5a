"""Tables beside the well file: what parts the cells, what heads and units are known, what each defect is called."""

import io
import math
import sys
from pathlib import Path

import openpyxl
import pytest

from schematic.wellfile.columns import Options
from schematic.wellfile.problem import InputError
from schematic.wellfile.survey_file import survey
from schematic.wellfile.tally_file import tally

DATA = Path(__file__).parent.parent / "data"
FT = 0.3048
PLAIN = "MD (ft),Inc (deg),Azi (deg)\n0,0,0\n100,1.5,90\n1250.5,30,359.9\n"


def read(text, name="plan.csv", **options):
    return survey(text if isinstance(text, bytes) else text.encode(), name, Options(**options))


def stations(text, **options):
    return [(s.md.si, math.degrees(s.inc.si), math.degrees(s.azi.si)) for s in read(text, **options).stations]


def near(rows):
    return [pytest.approx(row) for row in rows]


def problems(text, reader=read, **options):
    with pytest.raises(InputError) as caught:
        reader(text, **options)
    return caught.value.problems


def lengths(text, **options):
    found = tally(text.encode(), "tally.csv", Options(**options))
    return [joint.length_m for joint in found.joints], found.said


EXPECTED = [(0.0, 0.0, 0.0), (100 * FT, 1.5, 90.0), (1250.5 * FT, 30.0, 359.9)]


@pytest.mark.parametrize(
    "text",
    [
        PLAIN,
        PLAIN.replace(",", "\t"),
        PLAIN.replace(",", ";"),
        PLAIN.replace(",", ";").replace(".", ","),
        PLAIN.replace(",", "\t").replace(".", ","),
        PLAIN.replace(",", ";").replace("1250.5", "1 250,5").replace(".", ","),
        PLAIN.replace("1250.5", '"1,250.5"'),
        "\ufeff" + PLAIN,
        PLAIN.replace("\n", "\r\n"),
        "# a plan\n" + PLAIN.replace("\n100,", "\n# kick-off\n\n100,"),
        'Survey of an invented well\n"Depths, from rotary table"\n' + PLAIN,
        PLAIN.replace("MD (ft),Inc (deg),Azi (deg)", "Measured Depth [FEET],Incl. (°),Azimuth [Degrees]"),
        PLAIN.replace("MD (ft),Inc (deg),Azi (deg)", "md_ft,inc_deg,azi_deg"),
        PLAIN.replace("MD (ft),Inc (deg),Azi (deg)", "MD,Inclination,Azim\nft,deg,deg"),
        PLAIN.replace("MD (ft),Inc (deg),Azi (deg)", "MD,Inclination,Azim\n(ft),(deg),(deg)"),
        PLAIN.replace("MD (ft),Inc (deg),Azi (deg)", "# MD (ft),Inc (deg),Azi (deg)"),
        PLAIN.replace("100,1.5,90", "100 ft,1.5 deg,90 deg"),
        PLAIN.replace("100,1.5,90", f"{100 * FT} m,1.5,90"),
        PLAIN.replace("Azi (deg)\n", "Azi (deg),,\n").replace("90\n", "90,,\n"),
    ],
)
def test_the_same_stations_however_they_are_written(text):
    for found, expected in zip(stations(text), EXPECTED, strict=True):
        assert found == pytest.approx(expected)


def test_other_encodings():
    assert stations(PLAIN.replace("Inc (deg)", "Inc (°)").encode("latin-1")) == near(EXPECTED)
    assert stations(PLAIN.replace(",", "\t").encode("utf-16")) == near(EXPECTED)


def test_us_survey_feet():
    """1200/3937 m: exact, by the definition that the United States kept until 2022."""
    text = PLAIN.replace("MD (ft)", "MD (usft)")
    assert stations(text)[2][0] == pytest.approx(1250.5 * 1200 / 3937, rel=1e-12)


def test_a_plan_of_a_real_well():
    """Last row of the file: 15993.823 ft; angles without a unit are taken as degrees there, which is said."""
    found = read((DATA / "horsetail_08d_1701_plan.csv").read_bytes())
    assert len(found.stations) == 175
    assert found.stations[-1].md.si == pytest.approx(15993.823 * FT)
    assert found.stations[-1].tvd.si == pytest.approx(5721.0 * FT, abs=0.0005 * FT)
    assert found.said == ()

    deviated = read((DATA / "well_1515_directional.csv").read_bytes(), unit="ft")
    assert len(deviated.stations) == 83
    assert deviated.said == ("survey from plan.csv: angles without a unit read as degrees",)


def test_a_missing_unit_is_refused_with_the_mend():
    (problem,) = problems(PLAIN.replace("MD (ft)", "MD"))
    assert (problem.file, problem.line, problem.column, problem.path) == ("plan.csv", 1, 1, "MD")
    assert "unit: ft" in problem.mend
    assert stations(PLAIN.replace("MD (ft)", "MD"), unit="ft") == near(EXPECTED)


def test_units_that_contradict():
    assert "'unit: m' in the well file" in problems(PLAIN, unit="m")[0].found
    assert problems(PLAIN.replace("\n0,", "\nm,deg,deg\n0,", 1))[0].found == "'m' below 'MD (ft)'"


@pytest.mark.parametrize(
    ("old", "new", "line", "column", "found"),
    [
        ("100,1.5,90", "100,,90", 3, 2, "an empty cell"),
        ("100,1.5,90", "100", 3, 2, "an empty cell"),
        ("100,1.5,90", "100,steep,90", 3, 2, "'steep'"),
        ("100,1.5,90", "100,1.5 ft,90", 3, 2, "'1.5 ft'"),
        ("100,1.5,90", "100,1.5,90,7", 3, 0, "4 cells under 3 heads"),
        ("100,1.5,90", "0,1.5,90", 3, 1, "0 ft after 0 ft"),
        ("100,1.5,90", "2000,1.5,90", 4, 1, "1250.5 ft after 2000 ft"),
        ("100,1.5,90", "-100,1.5,90", 3, 1, "-100 ft"),
        ("100,1.5,90", "100,181,90", 3, 2, "181 deg"),
        ("100,1.5,90", "100,-1,90", 3, 2, "-1 deg"),
        ("100,1.5,90", "100,1.5,361", 3, 3, "361 deg"),
        ("100,1.5,90", "1e99,1.5,90", 3, 1, "'1e99'"),
        ("100,1.5,90", "nan,1.5,90", 3, 1, "'nan'"),
        ("100,1.5,90", '"100,1.5,90', 3, 1, "unexpected end of data"),
        ("Azi (deg)", "Tool face", 1, 0, "no azimuth in: MD (ft) | Inc (deg) | Tool face"),
        ("Azi (deg)", "MD (m)", 1, 0, "no azimuth in: MD (ft) | Inc (deg) | MD (m)"),
        (PLAIN, "", 0, 0, "an empty file"),
        (PLAIN, "a,b\n1,2\n", 1, 0, "a | b"),
        (PLAIN, "MD (ft),Inc,Azi\n", 1, 0, "no rows below the head"),
        (PLAIN, "MD (ft),\0\n", 1, 0, "a NUL character"),
    ],
)
def test_a_defect_is_named_by_row_and_column(old, new, line, column, found):
    first = problems(PLAIN.replace(old, new))[0]
    assert (first.line, first.column, first.found) == (line, column, found)


def test_all_defects_at_once_up_to_twenty():
    assert [p.line for p in problems(PLAIN.replace("0,0,0", "0,x,0").replace("30,", "y,"))] == [2, 4]
    many = problems("MD (ft),Inc,Azi\n" + "x,y,z\n" * 100)
    assert len(many) < 30


def test_two_columns_of_one_kind():
    assert problems(PLAIN.replace("\n", ",Depth (m)\n", 1))[0].found == "'Depth (m)' beside 'MD (ft)'"


def test_a_comma_that_can_be_read_two_ways():
    text = "MD (ft);Inc;Azi\n1,000;0;0\n2,000;1;2\n"
    assert "decimal: comma" in problems(text)[0].mend
    assert [md / FT for md, _inc, _azi in stations(text, decimal="comma")] == pytest.approx([1.0, 2.0])
    assert [md / FT for md, _inc, _azi in stations(text, decimal="point")] == pytest.approx([1000.0, 2000.0])


def test_too_many_rows():
    text = "MD (ft),Inc,Azi\n" + "".join(f"{i},0,0\n" for i in range(20_001))
    assert problems(text)[0].found == "more than 20000 rows"


def workbook(rows, title="Survey"):
    book = openpyxl.Workbook()
    book.active.title = title
    for row in rows:
        book.active.append(row)
    book.create_sheet("Other").append(["nothing"])
    data = io.BytesIO()
    book.save(data)
    return data.getvalue()


ROWS = [
    ["A survey"],
    [],
    ["MD", "Inc", "Azi"],
    ["ft", "deg", "deg"],
    [0, 0, 0],
    [100, 1.5, 90],
    [1250.5, 30, 359.9],
]


def test_a_spreadsheet():
    assert stations(workbook(ROWS)) == near(EXPECTED)
    assert stations(workbook(ROWS), sheet="Survey") == near(EXPECTED)
    assert problems(workbook(ROWS), sheet="Plan")[0].found == "no sheet 'Plan'"
    assert problems(workbook(ROWS), sheet="Other")[0].found == "nothing"


def test_a_defect_in_a_spreadsheet():
    (first,) = problems(workbook([*ROWS, [2000, "=A1+1", 0]]))  # never computed, so no value was saved
    assert (first.line, first.column, first.found) == (8, 2, "an empty cell")
    assert problems(b"PK\x03\x04 no zip")[0].found.startswith("a spreadsheet that cannot be read")
    assert "XLSX" in problems(b"\xd0\xcf\x11\xe0 old")[0].accepted


def test_a_spreadsheet_that_unpacks_to_too_much(monkeypatch):
    monkeypatch.setattr("schematic.wellfile.grid._MOST_UNPACKED", 1000)
    assert "bytes once unpacked" in problems(workbook(ROWS))[0].found


def test_a_spreadsheet_without_the_package(monkeypatch):
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    assert "pip install 'lapline[documents]'" in problems(workbook(ROWS))[0].mend


def test_a_tally_by_number_by_total_and_as_listed():
    assert lengths("No,Length (ft)\n2,40.1\n1,39.9\n3,41\n") == (
        pytest.approx([39.9 * FT, 40.1 * FT, 41 * FT]),
        ("tally from tally.csv: joints taken from the bottom up by their numbers",),
    )
    assert lengths("Length (ft);Cum\n40,1;80,0\n39,9;39,9\n", unit="ft")[0] == pytest.approx(
        [39.9 * FT, 40.1 * FT]
    )
    assert lengths("Length [m]\n12.1\n12.3\n")[0] == [12.1, 12.3]
    assert "numbers not in it: 2" in lengths("#,Length (m)\n1,12\n3,12\n")[1][1]


@pytest.mark.parametrize(
    ("text", "line", "found"),
    [
        ("No,Length (m)\n1,12\n1,12\n", 3, "joint 1 again: it stands in row 2 already"),
        ("No,Length (m)\n1,12\n2,-12\n", 3, "-12 m"),
        ("No,Length (m)\n1,40\n", 2, "40 m"),
        ("No,Length (m)\n1,12\nTotal,24\n", 3, "24 m"),
        (
            "No,Length (m),Cum (m)\n1,12.00,12.00\n2,12.00,24.50\n",
            3,
            "12.00 m, then 24.50 m: a joint of 12.00 m",
        ),
        ("No,Length\n1,12\n", 1, "'Length', which names no unit"),
    ],
)
def test_a_defect_of_a_tally(text, line, found):
    first = problems(text, reader=lambda t: tally(t.encode(), "tally.csv", Options()))[0]
    assert (first.line, first.found) == (line, found)
