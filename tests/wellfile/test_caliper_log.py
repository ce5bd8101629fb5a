"""Caliper logs as they are met: each trap that the real files of tests/data showed, and those told of others."""

import math
from pathlib import Path

import pytest

from schematic.wellfile.caliper_log import Wanted, caliper_log
from schematic.wellfile.problem import InputError

DATA = Path(__file__).parent.parent / "data"
BIT = 0.2


def log(data, *, curves="DEPT.M :\n CALI.IN :\n", wrap="NO", null="-999.25", more="", **wanted):
    text = f"""~Version
 VERS. 2.0 : CWLS LOG ASCII STANDARD
 WRAP. {wrap} : wrapped or not
~Well
 NULL. {null} : NULL VALUE
{more}~Curve
 {curves}~ASCII
{data}
"""
    asked = {"bit_m": BIT, "top_m": 0.0, "bottom_m": 1000.0} | wanted
    return caliper_log(text.encode(), "log.las", Wanted(**asked))


def real(file, **wanted):
    return caliper_log((DATA / file).read_bytes(), file, Wanted(**wanted))


def rows(*readings, top=100.0, step=0.5):
    return "\n".join(f"{top + step * index:.4f} {reading}" for index, reading in enumerate(readings))


def refused(*args, **kwargs):
    with pytest.raises(InputError) as caught:
        log(*args, **kwargs)
    return caught.value.problems[0]


def said(found):
    return " | ".join(found.said)


def test_units_are_those_of_each_curve():
    """Depth in metres, caliper in inches, bit in millimetres: all in one file."""
    first = real("kennetcook2_p129_caliper.las", bit_m=0.2, top_m=285.0, bottom_m=1905.0).stretches[1]
    assert first.top_md_m == 285.1404
    assert first.least_m == pytest.approx(8.4 * 0.0254, abs=0.2 * 0.0254)


@pytest.mark.parametrize(
    ("depth", "size", "depth_m", "size_m"),
    [
        ("M", "MM", 1.0, 0.001),
        ("m", "mm", 1.0, 0.001),
        ("F", "IN", 0.3048, 0.0254),
        ("FT", "INCH", 0.3048, 0.0254),
        ("FEET", "Inches", 0.3048, 0.0254),
        ("ft", "cm", 0.3048, 0.01),
    ],
)
def test_spellings_of_units(depth, size, depth_m, size_m):
    reading = 0.21 / size_m
    found = log(rows(*[reading] * 4), curves=f"DEPT.{depth} :\n CALI.{size} :\n").stretches
    assert found[0].top_md_m == pytest.approx(100.0 * depth_m)
    assert found[0].diameter_m == pytest.approx(0.21)


def test_area_between_two_readings_is_the_mean_of_their_areas():
    found = log(rows(8, 10)).stretches
    assert found[0].diameter_m == pytest.approx(math.sqrt((8**2 + 10**2) / 2) * 0.0254)
    assert found[0].least_m == pytest.approx(8 * 0.0254)


def test_closed_tool_at_the_bottom_is_no_hole():
    """The log's own remarks tell of a closed tool; it reads 2.42 in below 1918.5 m."""
    found = real("kennetcook2_p129_caliper.las", bit_m=0.2, top_m=1890.0, bottom_m=1935.0)
    assert "closed below 1918.56 m" in said(found)
    assert found.stretches[-1].bottom_md_m == pytest.approx(1918.56, abs=0.2)


def test_closed_tool_where_the_well_file_says_so():
    found = log(rows(*[8.4] * 40), closed_below_m=110.0)
    assert said(found) == "caliper log log.las: closed below 110 m"
    assert found.stretches[-1].bottom_md_m == 110.0


def test_closed_tool_in_the_middle():
    found = log(rows(*[8.4] * 10, *[2.42] * 10, *[8.4] * 10))
    assert "closed from 105 m to 109.5 m" in said(found)
    tops = {(s.top_md_m, s.bottom_md_m) for s in found.stretches}
    assert not any(top < 109.0 and bottom > 105.0 for top, bottom in tops)


def test_a_tight_hole_is_kept_and_said():
    """Readings that vary are no closed tool, however small: what may be a tight hole is never left out unasked."""
    found = log(rows(8.4, 8.4, 5.1, 4.2, 5.6, 3.9, 5.5, *[8.4] * 9))
    assert "5 readings under three quarters of the bit size kept, the least 99.1 mm at 102.5 m" in said(found)
    assert min(s.least_m for s in found.stretches) == pytest.approx(3.9 * 0.0254)


def test_a_spike_is_left_out_where_the_well_file_says_so():
    found = log(rows(8.4, 8.4, 3.0, 8.4), leave_out_under_m=0.1)
    assert "1 under the size to leave out readings left out" in said(found)
    assert min(s.least_m for s in found.stretches) == pytest.approx(8.4 * 0.0254)


def test_negative_reading():
    """One sample of -56.275 mm at the very bottom of the file."""
    found = real("scorpio_e1_6038187.las", bit_m=0.1, top_m=10.0, bottom_m=137.0)
    assert "1 negative readings left out" in said(found)
    assert all(s.least_m > 0 for s in found.stretches)


@pytest.mark.parametrize("filler", ["-999.25", "-9999", "-9999.00", "-99999", "-999", "NaN", "99999"])
def test_fillers_that_the_header_does_not_name(filler):
    found = log(rows(8.4, 8.5, filler, 8.4), null="-9999.5")
    assert said(found) == "caliper log log.las: 1 null readings left out"
    assert len(found.stretches) == 2


def test_null_of_the_header():
    assert "2 null" in said(log(rows(8.4, -7.5, -7.5, 8.4), null="-7.5"))


def test_a_long_silence_is_a_gap_and_a_short_one_is_bridged():
    nulls = ["-999.25"] * 2
    short = log(rows(8.4, *nulls, 8.4)).stretches
    assert [(s.top_md_m, s.bottom_md_m) for s in short] == [(100.0, 101.5)]

    found = log(rows(8.4, 8.4, *nulls * 5, 8.4, 8.4)).stretches
    assert [(s.top_md_m, s.bottom_md_m) for s in found] == [(100.0, 100.5), (106.0, 106.5)]


def test_depth_that_stands_still():
    """Five rows at 5247.5 ft at the tail, and the last fifty calipers null."""
    found = real(
        "wellington_kgs_1_32_caliper.las", bit_m=7.875 * 0.0254, top_m=615 * 0.3048, bottom_m=5252 * 0.3048
    )
    assert "45 null, 5 at a depth not below the one before readings left out" in said(found)


def test_depth_out_of_order_altogether():
    data = "\n".join(f"{depth} 8.4" for depth in (100, 300, 200, 400, 150, 500, 120) * 20)
    assert "depths not in order" in refused(data).found


def test_log_recorded_upward():
    down, up = (8.4, 8.6, 9.0, 8.5), (8.5, 9.0, 8.6, 8.4)
    assert log(rows(*up, top=101.5, step=-0.5)).stretches == log(rows(*down)).stretches


def test_the_standards_own_sample_of_3_0_is_recorded_upward_and_has_no_caliper():
    """LAS 3.0, comma-separated, STEP -0.125: the curves are found and named; none is a caliper."""
    with pytest.raises(InputError) as caught:
        real("las30_spec_sample.las", bit_m=0.2, top_m=0.0, bottom_m=2000.0)
    assert caught.value.problems[0].accepted.startswith("one of: DT (US/M), RHOB (K/M3), NPHI (V/V)")


def test_las_3_0_by_sections_and_delimiter():
    text = """~Version
 VERS. 3.0 : version
 WRAP. NO : no
 DLM. COMMA : delimiter
~Well
 NULL. -999.25 : null
~Tops_Definition
 TOPN. : name {S}
~Tops_Data | Tops_Definition
 "Sandstone, lower"
~Log_Definition
 DEPT.M : depth {F}
 NOTE. : remark {S}
 CALI.IN : caliper {F}
~Log_Data | Log_Definition
100.5,"washed, wide",9.0
100.0,none,8.0
"""
    found = caliper_log(text.encode(), "log.las", Wanted(BIT, 0.0, 1000.0)).stretches
    assert [(s.top_md_m, s.bottom_md_m) for s in found] == [(100.0, 100.5)]


@pytest.mark.parametrize("mark", [",", ", ", "\t", "   "])
def test_whatever_parts_the_values(mark):
    """A file of the standard's version 2.0 parted by commas makes other readers fail, or give empty columns."""
    data = "\n".join(mark.join((f"{100 + i / 2}", "8.4", "40.1")) for i in range(4))
    found = log(data, curves="DEPT.M :\n CALI.IN :\n GR.GAPI :\n")
    assert len(found.stretches) == 3
    assert found.stretches[0].diameter_m == pytest.approx(8.4 * 0.0254)


@pytest.mark.parametrize("wrap", ["YES", "NO"])
def test_wrapped_data_whatever_the_header_says(wrap):
    data = "\n".join(f"{100 + i / 2}\n 8.{i} 40.1\n 2.45" for i in range(4))
    found = log(data, wrap=wrap, curves="DEPT.M :\n CALI.IN :\n GR.GAPI :\n RHOB.G/C3 :\n")
    assert [s.least_m / 0.0254 for s in found.stretches] == pytest.approx([8.0, 8.1, 8.2])


def test_numbers_run_together():
    data = "100.0 8.4-999.2500\n100.5 8.5-999.2500\n101.0 8.4 12.0"
    assert len(log(data, curves="DEPT.M :\n CALI.IN :\n GR.GAPI :\n").stretches) == 2


def test_units_inside_values():
    found = log("100.0,216 mm\n100.5,216 mm\n", curves="DEPT.M :\n CALI.IN :\n")
    assert found.stretches[0].diameter_m == pytest.approx(0.216)


@pytest.mark.parametrize(
    ("header", "told"),
    [("BS. 216 mm : BS", "216.0 mm"), ("BS.IN 8 5/8 : bit", "219.1 mm"), ("BS.MM 215.9 : bit", "215.9 mm")],
)
def test_bit_size_of_the_header_that_is_another(header, told):
    found = log(rows(8.4, 8.4, 8.4), more=f"~Parameter\n {header}\n")
    assert f"its header names a bit of {told}, the hole section one of 200.0 mm" in said(found)


def test_bit_size_of_the_header_that_agrees_or_cannot_be_read():
    for header in ("BS.MM 200.0 : bit", "BS. : bit", "BS. unknown : bit", "CSGL. 0 m - 135 m : casing"):
        assert log(rows(8.4, 8.4, 8.4), more=f"~Parameter\n {header}\n").said == ()


def test_several_calipers_are_the_writers_choice():
    curves = "DEPT.M :\n C1.IN :\n C2.IN :\n"
    data = "100 8.4 9.0\n100.5 8.4 9.0"
    problem = refused(data, curves=curves)
    assert problem.found == "the calipers C1 and C2"
    assert "curve" in problem.mend
    assert log(data, curves=curves, curve="c2").stretches[0].diameter_m == pytest.approx(9.0 * 0.0254)
    assert refused(data, curves=curves, curve="C3").found == "no curve 'C3'"


def test_a_differential_caliper_is_none():
    curves = "DEPT.M :\n DCAL.IN : differential caliper\n HD.IN : caliper diameter\n"
    assert log("100 0.4 9.0\n100.5 0.4 9.0", curves=curves).stretches[0].diameter_m == pytest.approx(
        9.0 * 0.0254
    )


@pytest.mark.parametrize(
    ("curves", "kwargs", "found"),
    [
        ("DEPT.M :\n CALI. :\n", {}, "no unit"),
        ("DEPT. :\n CALI.IN :\n", {}, "no unit"),
        ("DEPT.S :\n CALI.IN :\n", {}, "the unit 'S'"),
        ("DEPT.M :\n CALI.IN :\n", {"unit": "mm"}, "'IN', but 'unit: mm' in the well file"),
    ],
)
def test_a_unit_that_is_not_certain(curves, kwargs, found):
    assert refused(rows(8.4, 8.4), curves=curves, **kwargs).found == found


def test_a_unit_that_the_well_file_gives():
    assert log(rows(210, 210), curves="DEPT. :\n CALI. :\n", unit="mm", depth_unit="m").stretches[
        0
    ].diameter_m == pytest.approx(0.21)


def test_a_unit_that_cannot_be_right():
    """Millimetres under a head of inches: 5.4 m of hole."""
    problem = refused(rows(*[213.0] * 10))
    assert (problem.line, problem.path) == (8, "CALI")
    assert "with a bit of 200.0 mm" in problem.found


@pytest.mark.parametrize(
    ("data", "line", "found"),
    [
        ("100.0 8.4\n100.5 eight\n101.0 8.4", 11, "'eight'"),
        ("100.0 8.4\n100.5 8.4 9.9\n101.0 8.4", 11, "3 values for 2 curves"),
        ("100.0 8.4\n100.5\n101.0 8.4", 11, "1 values for 2 curves"),
    ],
)
def test_a_broken_record_is_named_by_its_line(data, line, found):
    problem = refused(data)
    assert (problem.file, problem.line, problem.found) == ("log.las", line, found)


def test_readings_outside_the_interval_count_for_nothing():
    found = log(rows("-999.25", 8.4, 8.5, 8.6, "-999.25"), top_m=100.5, bottom_m=101.5)
    assert found.said == ()
    assert found.stretches[0].top_md_m == 100.5
    assert found.stretches[-1].bottom_md_m == 101.5


def test_no_reading_in_the_interval():
    problem = refused(rows(8.4, 8.4), top_m=500.0)
    assert problem.found.startswith("no readings left of CALI from 500 m to 1000 m")


@pytest.mark.parametrize("text", ["", "hello", "~A\n1 2\n", "~Curve\n DEPT.M :\n CALI.IN :\n", "\0\0\0"])
def test_no_log_at_all(text):
    with pytest.raises(InputError):
        caliper_log(text.encode(), "log.las", Wanted(BIT, 0.0, 1000.0))
