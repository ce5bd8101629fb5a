"""Stretch of hanging strings against Hooke's law worked by hand and the trade reference's two figures."""

from __future__ import annotations

import pytest

from schematic import resolve
from schematic.engineering.stretch import STEEL_PA, stretch
from schematic.units import FOOT_M, INCH_M, POUND_FORCE_N, PSI_PA
from schematic.verbs import demos, load_text


def test_the_modulus_is_the_trades():
    """30 million psi."""
    assert pytest.approx(30e6, rel=0.001) == STEEL_PA / PSI_PA


def test_a_weightless_pipe_under_a_pull():
    """5 in by 4.276 in pipe, 10 000 ft, 50 000 lbf: 37.9 in. Source: Hooke's law, from memory; the pull here is a liner
    of that weight in air, below pipe that weighs next to nothing, in a fluid that bears next to nothing.
    """
    weight_lb_ft = 50_000 / 1000
    text = f"""
lapline: 1
well: {{name: Pull, datum: {{from: rotary table, above: mean sea level, height: 100 ft}}, show: field}}
hole:
  - {{bit: 12 1/4 in, to: 10100 ft}}
  - {{bit: 8 1/2 in, to: 11010 ft}}
strings:
  - {{name: casing, pipe: 9 5/8 in 47 lb/ft L-80, shoe: 10100 ft}}
liner:
  od: 7 in
  id: 6.184 in
  weight: {weight_lb_ft} lb/ft
  host: casing
  top: 10000 ft
  shoe: 11000 ft
  assembly: [{{part: joint, fill: true, each: 40 ft}}]
running string:
  stick up: 0 ft
  assembly: [{{part: drill pipe, length: 10000 ft, od: 5 in, id: 4.276 in, weight: 0.0001 lb/ft}}]
fluids:
  mud: {{kind: mud, density: 0.001 kg/m3}}
"""
    found = stretch(resolve(load_text(text)))

    assert found.string_m / INCH_M == pytest.approx(37.9, abs=0.1)
    assert pytest.approx(4.4482216, rel=1e-7) == POUND_FORCE_N


def test_the_stretch_of_the_vertical_scenario():
    """About 10 ft of string and 4.5 ft of host: the trade reference, section 5.1; its last digits are halves."""
    found = stretch(resolve(load_text(demos()["brindlewick-4.yaml"])))

    assert found.string_m / FOOT_M == pytest.approx(10.0, abs=0.5)
    assert found.host_m / FOOT_M == pytest.approx(4.5, abs=0.05)


def test_steel_grows_with_the_heat_of_the_well():
    """6.9e-6 per degF, the trade reference's figure: 9480 ft from 60 degF to 185.2 degF at that depth grow by 4.1 ft. The
    static 246 degF is at 12 600 ft; halfway down the mean is 62.6 degF above the surface.
    """
    text = demos()["brindlewick-4.yaml"].replace("static: 246 degF", "static: 246 degF, surface: 60 degF")
    cold, hot = (stretch(resolve(load_text(each))) for each in (demos()["brindlewick-4.yaml"], text))

    mean = 0.5 * (246 - 60) * 9480 / 12600
    wanted = 6.9e-6 * 9480 * mean
    assert (hot.string_m - cold.string_m) / FOOT_M == pytest.approx(wanted, rel=0.001)
    assert (hot.host_m - cold.host_m) / FOOT_M == pytest.approx(wanted, rel=0.001)
