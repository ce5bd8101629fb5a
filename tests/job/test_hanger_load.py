"""What the hanger carries, against the worked wells of the trade reference, section 5: weights to its 2 %.

Its liner of the vertical well weighs 90.6 klbf in air and 73.2 in mud, ours 90.2 and 72.8: it weighs hanger,
packer and receptacle by themselves and does not give their weights; ours weigh what the liner's pipe weighs.
"""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from schematic.engineering.weights import liner_weight
from schematic.job.hanger_load import allowed_n, hanger_loads
from schematic.outcome import MissingInput
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated

KLBF, KN = 4448.2216152605, 1000.0
DOWN = "  set down on tool: 50 klbf\n"
SEAT, BUMP, PACKER, TEST = (
    "when the seat opens",
    "when the plug bumps",
    "when the packer sets",
    "in the test liner and lap",
)


@pytest.fixture(scope="module")
def vertical():
    return evaluated(BRINDLEWICK)


@pytest.fixture(scope="module")
def deviated():
    return evaluated(SOLLIVANE)


def load(evaluation, name):
    return next(one for one in evaluation.job.hanger_loads[0] if one.name == name)


def test_the_liner_weighs_half_a_percent_less_than_in_the_reference(vertical):
    found = liner_weight(vertical.plan)

    assert found.air_n / KLBF == pytest.approx(90.2, abs=0.05)
    assert found.air_n / KLBF == pytest.approx(90.6, rel=0.02)
    assert found.along_n / KLBF == pytest.approx(72.8, abs=0.05)
    assert found.along_n / KLBF == pytest.approx(73.2, rel=0.02)


@pytest.mark.parametrize(
    ("when", "liner", "added"), [(SEAT, 73, 50), (BUMP, 73, 50), (PACKER, 53, 45), (TEST, 73, 155)]
)
def test_the_hanger_of_the_vertical_well(vertical, when, liner, added):
    found = load(vertical, when)

    assert found.liner_n / KLBF == pytest.approx(liner, rel=0.02)
    assert found.added_n / KLBF == pytest.approx(added, rel=0.02)
    assert found.total_n / KLBF == pytest.approx(liner + added, rel=0.02)


def test_the_lap_test_is_more_than_the_hanger_may_carry(vertical):
    """228 klbf against 230 over 1.25, 184; the pressure works on the bore of the host, 59.2 in2."""
    assert load(vertical, TEST).total_n / KLBF == pytest.approx(228, abs=0.5)
    assert allowed_n(vertical.plan) / KLBF == pytest.approx(184, abs=0.5)
    assert load(vertical, TEST).added_n / KLBF == pytest.approx(2.619 * 59.2, abs=0.1)


def test_the_deviated_liner_hangs_by_what_pulls_along_the_hole(deviated):
    """188.5 kN of 328.6 at 55 degrees; 200 kN set down is more than the 154 that lift the tool."""
    assert load(deviated, "hung in mud").total_n / KN == pytest.approx(188.5, rel=0.02)
    assert load(deviated, SEAT).added_n / KN == pytest.approx(200, abs=0.5)
    assert load(deviated, SEAT).added_by == "set-down on the tool"


def test_what_lifts_the_tool_counts_where_it_is_more_than_the_set_down():
    """20 klbf set down: 36.0 of 3 740 psi on 9.62 in2 come onto the hanger, not both."""
    little = evaluated(BRINDLEWICK, (DOWN, "  set down on tool: 20 klbf\n"))

    assert load(little, SEAT).added_n / KLBF == pytest.approx(36.0, abs=0.05)
    assert load(little, SEAT).added_by == "pressure on the slick joint"
    assert load(little, BUMP).added_n / KLBF == pytest.approx(20.0)


def test_cement_outside_makes_the_liner_lighter(vertical):
    """By hand, in pressure-area form for cement of 15.8 ppg from 8 918 ft: 12.6 inside to 12 464 ft, 15.8 below.

    Weight in air, and the fluid in the bore of 30.035 in2, less what is pushed away: by the bore and the steel, which
    at 65.49 ppg is 8.523 in2 for 29 lb/ft.
    """
    per_ppg = 0.0519481  # psi/ft
    bore = pi / 4 * 6.184**2
    steel = 29.0 / (65.4936 * per_ppg)  # lb/ft over lb/gal of steel, in2
    inside = bore * per_ppg * (12.6 * 2984.3 + 15.8 * 125.7)
    outside = (bore + steel) * per_ppg * 15.8 * 3110.0
    weight = 29.0 * 3110.0 + inside - outside

    assert load(vertical, PACKER).liner_n / KLBF == pytest.approx(weight / 1000, rel=0.002)


@pytest.mark.parametrize(
    ("changes", "what", "needs"),
    [
        ([(DOWN, "")], SEAT, "installation.set down on tool"),
        ([(DOWN, "")], BUMP, "installation.set down on tool"),
        ([("  final pressure: 750 psi\n", "")], BUMP, "installation.final pressure"),
        ([(", set down: 45 klbf", "")], PACKER, "liner top packer.set down"),
        ([("  planned top: 9280 ft\n", "")], PACKER, "cement.planned top"),
    ],
)
def test_a_load_that_lacks_an_input_says_so_and_leaves_the_others(changes, what, needs):
    found, missing = evaluated(BRINDLEWICK, *changes).job.hanger_loads

    assert (f"hanger load {what}", (needs,)) in [tuple(one) for one in missing]
    assert what not in [one.name for one in found]
    assert TEST in [one.name for one in found]


def test_a_rating_that_is_not_given_allows_nothing(deviated):
    with pytest.raises(MissingInput, match=r"liner hanger\.load rating"):
        allowed_n(deviated.plan)


def test_without_a_weight_of_its_pipe_nothing_hangs(vertical):
    pipe = "pipe: 7 in 29 lb/ft P-110\n"
    bare = evaluated(BRINDLEWICK, (pipe, "od: 7 in\n  id: 6.184 in\n"))

    with pytest.raises(MissingInput, match=r"liner\.weight"):
        _ = bare.job.hanger_loads
    assert vertical.job.hanger_loads[1] == ()


def test_a_liner_without_a_hanger_loads_none(vertical):
    liner = vertical.plan.depth.liner
    parts = tuple(part for part in liner.parts if part.kind != "liner hanger")
    depth = replace(vertical.plan.depth, liner=liner._replace(parts=parts))
    plan = replace(vertical.plan, depth=depth)

    assert hanger_loads(plan, vertical.job.setting, lambda: vertical.job.train, ()) == ((), ())
