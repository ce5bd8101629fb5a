"""Hole volumes from caliper logs of real wells, against a table worked out beside the files.

Sources, as named beside each value:
  table     trapezoid of pi/4 d^2 over depth, worked out with numpy before the reader was written; printed to
            0.001 ft3 and 0.001 %. Origin of the logs: tests/data/SOURCES.md
  lasio     lasio, an independent reader of the same format, on the same files, at run time
"""

import math
from pathlib import Path
from typing import NamedTuple

import lasio
import numpy as np
import pytest

from schematic.depth.by_depth import by_depth
from schematic.depth.nest import circle_m2
from schematic.depth.resolve import resolve
from schematic.wellfile.caliper_log import Wanted, caliper_log
from schematic.wellfile.read import read_text

DATA = Path(__file__).parent.parent / "data"
FT, IN, FT3 = 0.3048, 0.0254, 0.3048**3
BBL = 42 * 231 * IN**3


class Log(NamedTuple):
    """A row of the table."""

    file: str
    bit_m: float
    interval_m: tuple[float, float]
    first_to_last_m: tuple[float, float]
    volume_ft3: float
    volume_bbl: float
    per_ft_ft3: float
    equal_area_in: float
    washout: float
    mean_diameter_shortcut: float


LOGS = (
    # table: interval, first and last sample, volume, area, equal-area diameter, washout, error of the mean diameter
    Log(
        "kennetcook2_p129_caliper.las",
        0.200,
        (285.0, 1905.0),
        (285.1404, 1905.0),
        2390.082,
        425.692,
        0.449728,
        9.0805,
        0.32994,
        -0.0471,
    ),
    Log(
        "wellington_kgs_1_32_caliper.las",
        7.875 * IN,
        (615 * FT, 5200 * FT),
        (615 * FT, 5200 * FT),
        2040.287,
        363.391,
        0.444992,
        9.0326,
        0.31560,
        -0.0176,
    ),
)


@pytest.fixture(params=LOGS, ids=lambda log: log.file)
def log(request):
    return request.param


def stretches(log):
    return caliper_log((DATA / log.file).read_bytes(), log.file, Wanted(log.bit_m, *log.interval_m)).stretches


def areas_m2(log):
    found = stretches(log)
    return by_depth([found[0].top_md_m, *(s.bottom_md_m for s in found)], [s.diameter_m for s in found]).map(
        circle_m2
    )


def test_volume_by_the_trapezoid_of_area(log):
    """Source: table. Tolerance: half its last digit."""
    volume = areas_m2(log).integral(*log.first_to_last_m)
    length = log.first_to_last_m[1] - log.first_to_last_m[0]

    assert volume / FT3 == pytest.approx(log.volume_ft3, abs=0.0005)
    assert volume / BBL == pytest.approx(log.volume_bbl, abs=0.0005)
    assert volume / length / FT**2 == pytest.approx(log.per_ft_ft3, abs=0.5e-6)
    assert math.sqrt(volume / length / math.pi * 4) / IN == pytest.approx(log.equal_area_in, abs=0.00005)
    assert volume / (circle_m2(log.bit_m) * length) - 1 == pytest.approx(log.washout, abs=0.5e-5)


def test_the_mean_of_diameters_would_read_low(log):
    """Source: table, printed to 0.01 %: the shortcut that must not be taken."""
    found = lasio.read(DATA / log.file)
    depths, diameters = found.index, found["CALI"]
    unit = 1.0 if "p129" in log.file else FT
    inside = (depths * unit >= log.interval_m[0] - 1e-9) & (depths * unit <= log.interval_m[1] + 1e-9)
    length = log.first_to_last_m[1] - log.first_to_last_m[0]
    by_area = areas_m2(log).integral(*log.first_to_last_m) / length

    shortcut = circle_m2(float(np.mean(diameters[inside])) * IN)

    assert shortcut / by_area - 1 == pytest.approx(log.mean_diameter_shortcut, abs=0.00005)


def test_the_same_readings_as_an_independent_reader(log):
    """Source: lasio."""
    found = lasio.read(DATA / log.file)
    unit = 1.0 if "p129" in log.file else FT
    depths, sizes = found.index * unit, found["CALI"] * IN
    inside = (
        (depths >= log.first_to_last_m[0] - 1e-9) & (depths <= log.first_to_last_m[1] + 1e-9) & (sizes > 0)
    )
    theirs = np.trapezoid(np.pi / 4 * sizes[inside] ** 2, depths[inside])

    assert areas_m2(log).integral(*log.first_to_last_m) == pytest.approx(theirs, rel=1e-10)


@pytest.mark.parametrize(
    ("file", "bit_m", "interval_m", "median_m", "digit_m"),
    [
        ("kennetcook2_p129_caliper.las", 0.2, (270.0, 278.0), 8.988 * IN, 0.0005 * IN),
        ("scorpio_e1_6038187.las", 0.1, (10.0, 130.0), 0.101444, 0.0000005),
    ],
)
def test_median_inside_casing(file, bit_m, interval_m, median_m, digit_m):
    """Source: table. What is compared is the equal-area diameter of each two readings, not each reading: half the
    last digit, and 0.003 in for that.
    """
    found = caliper_log((DATA / file).read_bytes(), file, Wanted(bit_m, *interval_m)).stretches
    assert float(np.median([s.diameter_m for s in found])) == pytest.approx(
        median_m, abs=digit_m + 0.003 * IN
    )


def test_hole_of_the_plan_has_the_volume_of_the_table(log):
    """Source: table. From the well file to the plan's hole: within 0.01 %."""
    bottom = 1935.0 if "p129" in log.file else 5240 * FT
    shoe = 280.0 if "p129" in log.file else 607 * FT
    text = f"""
lapline: 1
well: {{name: Logged 1, datum: {{from: rotary table, above: ground level, height: 4 m}}}}
hole:
  - {{bit: 12 1/4 in, to: {shoe} m}}
  - {{bit: {log.bit_m} m, to: {bottom} m, caliper: {{file: {log.file}, from: {log.interval_m[0]} m, to: {log.interval_m[1]} m}}}}
strings:
  - {{name: casing, pipe: 9 5/8 in 36 lb/ft J-55, shoe: {shoe} m}}
liner: {{pipe: 5 1/2 in 17 lb/ft P-110, host: casing, lap: 90 m, off bottom: 2 m}}
"""
    hole = resolve(read_text(text, "logged.yaml", DATA)).depth.hole

    volume = hole.diameter_m.map(circle_m2).integral(*log.first_to_last_m)
    assert volume / FT3 == pytest.approx(log.volume_ft3, rel=1e-4)
    assert hole.gaps_md_m == (
        pytest.approx((shoe, log.interval_m[0])),
        pytest.approx((log.interval_m[1], bottom)),
    )
