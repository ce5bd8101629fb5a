"""Capacities of bores and annuli against handbook factors and worked examples.

Sources, as named beside each value:
  Lapeyrouse  Lapeyrouse's annular capacity formulas as republished at netwasgroup.us; read
  sheet       training sheet "Drilling Formulae", scribd.com/document/199663697; read
  handbook    casing capacity tables of the handbooks; from memory
  lesson      cement calculations lesson, topenergytraining.com; read
  metric      annular velocity multipliers, docsbay.net; read
  example     drillingformulas.com, cement volume example; read
"""

from math import pi

import pytest

from schematic.engineering.volumes import annulus_m3_per_m, capacity_m3_per_m
from schematic.units import BARREL_M3, FOOT_M, INCH_M, SACK_KG, US_GALLON_M3, parse

BBL_PER_FT = BARREL_M3 / FOOT_M
GAL_PER_FT = US_GALLON_M3 / FOOT_M
FT3_PER_FT = FOOT_M**2


def test_annulus_in_six_unit_forms():
    """12 1/4 in hole, 5 in pipe. Source: Lapeyrouse; tolerances as its rounded factors allow.

    Its divisor 183.35 for ft3/ft is a rounding of 576 / pi = 183.346: the figure is held to its six
    digits with the same divisor.
    """
    annulus = annulus_m3_per_m(12.25 * INCH_M, 5.0 * INCH_M)

    assert annulus / BBL_PER_FT == pytest.approx(0.12149, abs=1e-5)
    assert BBL_PER_FT / annulus == pytest.approx(8.23, abs=0.005)
    assert annulus / GAL_PER_FT == pytest.approx(5.1, abs=0.01)
    assert GAL_PER_FT / annulus == pytest.approx(0.19598, abs=1e-5)
    assert annulus / FT3_PER_FT * (576 / pi) / 183.35 == pytest.approx(0.682097, abs=5e-7)
    assert FT3_PER_FT / annulus == pytest.approx(1.466, abs=0.001)


def test_annulus_of_7_7_8_in_hole_and_5_1_2_in_pipe():
    annulus = annulus_m3_per_m(7.875 * INCH_M, 5.5 * INCH_M)

    assert annulus / FT3_PER_FT == pytest.approx(0.17325, abs=1e-5)  # lesson
    assert 1000 * annulus / FT3_PER_FT == pytest.approx(173, abs=0.5)  # lesson
    sacks = 1000 * FOOT_M * annulus / parse("1.18 ft3/sk", "volume per mass").si / SACK_KG
    assert sacks == pytest.approx(146.6, abs=0.3)  # lesson; it orders 147


def test_two_strings_side_by_side_in_one_casing():
    """10 in bore with a 5 in and a 3 in pipe: 0.064139942 bbl/ft.

    Source: sheet. Its divisor 1029 is a rounding of 9702 / (3 pi): the figure is held to its own
    digits with the same divisor.
    """
    room = annulus_m3_per_m(10 * INCH_M, 5 * INCH_M) - capacity_m3_per_m(3 * INCH_M)

    with_the_sheets_divisor = room / BBL_PER_FT * (9702 / (3 * pi)) / 1029

    assert with_the_sheets_divisor == pytest.approx(0.064139942, abs=5e-10)


def test_the_divisor_for_bbl_per_ft():
    """ID squared in inches over 1029.41. Source: 1 bbl = 42 gal = 9702 in3; from memory."""
    one_inch = capacity_m3_per_m(INCH_M) / BBL_PER_FT

    assert 1 / one_inch == pytest.approx(1029.41, abs=0.005)


def test_open_hole_of_8_6_in_and_7_in_casing():
    annulus = annulus_m3_per_m(8.6 * INCH_M, 7.0 * INCH_M)

    assert annulus / BBL_PER_FT == pytest.approx(0.02425, abs=1e-5)  # example


@pytest.mark.parametrize(
    ("hole_mm", "m3_per_100_m"),
    [(152, 1.81), (200, 3.14), (222, 3.87), (251, 4.94), (311, 7.6), (349, 9.57), (445, 15.6)],
)
def test_hole_capacity_per_100_m(hole_mm, m3_per_100_m):
    """Source: metric; tolerance 0.05 m3, as its hole sizes are rounded to whole millimetres."""
    assert 100 * capacity_m3_per_m(hole_mm / 1000) == pytest.approx(m3_per_100_m, abs=0.05)


@pytest.mark.parametrize(
    ("bore", "id_in", "bbl_per_ft"),
    [
        ("9 5/8 in 47 lb/ft casing", 8.681, 0.0732),
        ("7 in 29 lb/ft casing", 6.184, 0.0371),
        ("13 3/8 in 54.5 lb/ft casing", 12.615, 0.1546),
        ("8 1/2 in hole", 8.5, 0.0702),
        ("12 1/4 in hole", 12.25, 0.1458),
    ],
)
def test_common_capacities(bore, id_in, bbl_per_ft):
    """Source: handbook; 12 1/4 in read at scribd.com/doc/46256731.

    Tolerance: the last digit, as some handbooks cut where others round.
    """
    computed = capacity_m3_per_m(id_in * INCH_M) / BBL_PER_FT

    assert computed == pytest.approx(bbl_per_ft, abs=1e-4), bore


@pytest.mark.parametrize(
    ("id_in", "bbl_per_ft"),
    [
        (2.992, 0.008696),
        (2.764, 0.007421),
        (3.476, 0.01174),
        (3.34, 0.01084),
        (3.24, 0.0102),
        (3.826, 0.01422),
        (3.64, 0.01287),
        (4.408, 0.01887),
        (4.276, 0.01776),
        (4.214, 0.01725),
        (5.965, 0.0346),
    ],
)
def test_capacities_of_drill_pipe_bores(id_in, bbl_per_ft):
    """Source: sheet, divisor 1029; tolerance 0.0001 bbl/ft for its mixed rounding."""
    assert capacity_m3_per_m(id_in * INCH_M) / BBL_PER_FT == pytest.approx(bbl_per_ft, abs=1e-4)


@pytest.mark.parametrize("outer_in", [3.0, 6.184, 8.681, 12.615, 28.0])
@pytest.mark.parametrize("share", [0.01, 0.3, 0.9, 0.999])
def test_bore_is_filled_by_pipe_and_annulus(outer_in, share):
    """A law: what is inside the pipe's OD and what is outside of it make up the bore."""
    outer_m, inner_m = outer_in * INCH_M, share * outer_in * INCH_M

    total = annulus_m3_per_m(outer_m, inner_m) + capacity_m3_per_m(inner_m)

    assert total == pytest.approx(capacity_m3_per_m(outer_m), rel=1e-12)
