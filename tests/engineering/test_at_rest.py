"""Pressures at rest along the train against quadrature, and what they say of rock, floats and gelled cement."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest
from scipy.integrate import quad

from schematic.depth.survey import SurveyPath
from schematic.engineering import at_rest
from schematic.engineering.at_rest import (
    FRESH_WATER_KG_PER_M3,
    difference_pa,
    gelled,
    held_at_bump,
    lift_curve,
    pressure_pa,
    stages,
    weak_points,
    windows,
)
from schematic.engineering.columns import Layer, annulus_at_end, emw_kg_per_m3, hydrostatic_pa
from schematic.outcome import MissingInput
from schematic.units import BARREL_M3, FOOT_M, PPG_KG_PER_M3, PSI_PA
from schematic.verbs import demos
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated

G, BAR_PA = 9.80665, 1e5
WELLS = {"brindlewick": BRINDLEWICK, "sollivane": SOLLIVANE, "tarnvale": demos()["tarnvale-h3.yaml"]}


@cache
def well(name):
    return evaluated(WELLS[name])


def cosine(stations, md):
    """Vertical part of the direction at a depth: the tangent turns evenly in the plane of two stations' directions."""
    directions = [
        (math.sin(inc) * math.cos(azi), math.sin(inc) * math.sin(azi), math.cos(inc))
        for _md, inc, azi in stations
    ]
    for n in range(len(stations) - 1):
        if md <= stations[n + 1][0]:
            one, other = directions[n], directions[n + 1]
            bend = math.acos(min(1.0, sum(a * b for a, b in zip(one, other, strict=True))))
            share = (md - stations[n][0]) / (stations[n + 1][0] - stations[n][0])
            if bend < 1e-9:
                return one[2]
            return (math.sin((1.0 - share) * bend) * one[2] + math.sin(share * bend) * other[2]) / math.sin(
                bend
            )
    return directions[-1][2]


@pytest.mark.parametrize("name", sorted(WELLS))
@pytest.mark.parametrize("share", [0.0, 0.31, 0.62, 0.9, 1.0])
def test_layered_hydrostatics_are_the_quadrature_of_weight_along_the_hole(name, share):
    """Vertical, 55 degrees and past level; density times g times the cosine of the inclination, over depth."""
    evaluation = well(name)
    path, train = evaluation.plan.depth.path, evaluation.job.train
    place = train.at(share * train.total_m3)
    knots = sorted({md for md, _inc, _azi in path.stations})

    def by_quadrature(layers, md):
        total = []
        for layer in layers:
            low, high = layer.top_md_m, min(layer.bottom_md_m, md)
            edges = [low, *(knot for knot in knots if low < knot < high), high]
            if low < high:
                for a, b in zip(edges, edges[1:], strict=False):
                    part = quad(lambda z: cosine(path.stations, z), a, b, epsabs=1e-12, epsrel=1e-13)[0]
                    total.append(layer.density_kg_per_m3 * G * part)
        return math.fsum(total)

    depth = evaluation.plan.depth
    for md in (300.0, 1_200.0, depth.liner.top_md_m, depth.host.shoe_md_m, depth.liner.shoe_md_m):
        for layers in (place.inside, place.outside):
            assert pressure_pa(layers, path, md) == pytest.approx(by_quadrature(layers, md), rel=1e-9)
            assert pressure_pa(layers, path, md, 5e6) == pytest.approx(
                by_quadrature(layers, md) + 5e6, rel=1e-9
            )


@pytest.mark.parametrize("name", sorted(WELLS))
def test_the_lift_curve_begins_level_falls_into_free_fall_and_ends_at_the_u_tube(name):
    evaluation = well(name)
    curve = lift_curve(evaluation.plan, evaluation.job.train)
    shoe = evaluation.plan.depth.liner.shoe_md_m
    end = evaluation.job.train.at(evaluation.job.train.total_m3)

    assert curve[0] == (0.0, pytest.approx(0.0, abs=1e-3))
    assert curve[-1].pressure_pa == difference_pa(end, evaluation.plan.depth.path, shoe)
    assert curve[-1].pressure_pa > 0.0
    falls = [one.pumped_m3 for one in curve if one.free_fall]
    assert falls[0] < evaluation.job.train.dart_from_m3 < falls[-1]
    assert [one.pumped_m3 for one in curve] == sorted(one.pumped_m3 for one in curve)


def test_the_lift_in_the_vertical_well_by_hand():
    """Brindlewick 4 when the last cement has just gone in: mud outside, and inside cement from the top, spacer and
    mud below, each as long as its volume in the bore; the well is within 3 ft of vertical.

    160.2 bbl pumped: bores of 159.7 bbl to the plug at 9 500 ft hold nearly all: 130.26 bbl of cement, 29.5 of
    spacer, the rest of it in the liner.
    """
    evaluation = well("brindlewick")
    train = evaluation.job.train
    pumped = train.dart_from_m3
    (lift,) = [one for one in lift_curve(evaluation.plan, train) if one.pumped_m3 == pumped]
    cement = evaluation.cement.total_m3 / BARREL_M3
    pipe = (4.276**2 - 21 / 12 / 31.5 * (4.276**2 - 2.75**2)) / 1029.414  # bbl/ft, tool joints counted

    head = (
        cement - 6.0 * pipe
    ) / pipe  # ft of cement below the datum; the spacer reaches the plug past 3 in bores
    spacer = 9_500.0 - head + (30.0 - (159.7 - cement)) / (6.184**2 / 1029.414)
    by_hand = -0.0519481 * ((15.8 - 12.6) * head + (13.6 - 12.6) * spacer)
    assert lift.pressure_pa / PSI_PA == pytest.approx(by_hand, abs=6.0)  # 159.7 bbl is printed to a tenth


def test_differential_at_the_bump_of_the_worked_wells():
    """Printed: U-tube at the landing collar 561 psi with the cement at its planned top, 621 psi at its highest; 21.8
    and 23.8 bar. Ours lift spacer and cement past tool joints, which the source leaves out (1 psi and 0.1 bar, see
    tests/published/test_columns_at_rest.py).
    """
    for name, unit, planned, highest, tool_joints in (
        ("brindlewick", PSI_PA, 561.0, 621.0, 1.5),
        ("sollivane", BAR_PA, 21.8, 23.8, 0.15),
    ):
        evaluation = well(name)
        held = held_at_bump(evaluation.plan, evaluation.volumes, evaluation.cement, evaluation.job.train)
        assert [one.part.kind for one in held][:2] == ["landing collar", "float collar"]
        for one in held:
            assert 0.0 <= one.planned_pa / unit - planned <= tool_joints
            assert 0.0 <= one.highest_pa / unit - highest <= tool_joints


def test_where_the_rock_is_weak():
    plan = well("brindlewick").plan
    points = {point.name: point for point in weak_points(plan)}

    assert list(points) == ["host shoe", "open hole", "gas sand", "liner shoe", "total depth"]
    assert points["host shoe"].fracture_kg_per_m3 / PPG_KG_PER_M3 == pytest.approx(15.8)
    assert points["gas sand"].pore_kg_per_m3 / PPG_KG_PER_M3 == pytest.approx(12.0)
    # 15.9 ppg at 10 300 ft and 16.3 at 11 900 ft TVD, the sand at 11 860 ft MD
    assert points["gas sand"].fracture_kg_per_m3 / PPG_KG_PER_M3 == pytest.approx(
        15.9 + 0.4 * 1559 / 1600, abs=1e-3
    )
    assert [point.md_m for point in weak_points(plan)] == sorted(point.md_m for point in weak_points(plan))


def test_of_the_table_and_the_test_of_the_host_shoe_the_lower_counts():
    for emw, wanted in (("15.5 ppg", 15.5), ("16.2 ppg", 15.8)):
        plan = evaluated(BRINDLEWICK, ("emw: 15.8 ppg, surface", f"emw: {emw}, surface")).plan
        assert weak_points(plan)[0].fracture_kg_per_m3 / PPG_KG_PER_M3 == pytest.approx(wanted)


LIGHT = ("density: 13.6 ppg, volume: 30 bbl", "density: 8.4 ppg, volume: 110 bbl")


@pytest.mark.parametrize("name", [*sorted(WELLS), "light spacer"])
def test_no_state_of_the_train_is_beyond_the_windows(name):
    """Least and most against four hundred states; the windows look at the volumes at which a pressure turns."""
    evaluation = evaluated(BRINDLEWICK, LIGHT) if name == "light spacer" else well(name)
    plan, train = evaluation.plan, evaluation.job.train
    found = windows(plan, evaluation.volumes, evaluation.cement, train)
    planned = annulus_at_end(plan, evaluation.volumes, evaluation.cement)
    states = [train.at(train.total_m3 * n / 400).outside for n in range(401)]
    swept = train.outside_m2.clip(train.outside_m2.top_m, train.shoe_md_m)
    unfilled = replace(train, outside_m2=swept).at(train.total_m3).outside

    assert len(found) == len(weak_points(plan))
    for window in found:
        md = window.point.md_m
        every = [emw_kg_per_m3(outside, plan.depth.path, md) for outside in states]
        grace = (
            1e-9 if name in ("brindlewick", "sollivane") else 0.02
        )  # between the turns a bend may add a trace
        assert window.least_kg_per_m3 <= min(*every, emw_kg_per_m3(planned, plan.depth.path, md)) + grace
        assert window.most_kg_per_m3 >= max(every) - grace
        at = [train.at(window.most_at_m3).outside, unfilled]
        assert any(
            emw_kg_per_m3(one, plan.depth.path, md) == pytest.approx(window.most_kg_per_m3, rel=1e-12)
            for one in at
        )


def test_the_highest_top_takes_the_rathole_unfilled():
    """F34, highest top for fracture: shoe at 12 090 ft, 510 ft of 8.80 in hole below it hold 38.4 bbl.

    Outside 5 in pipe with 6 5/8 in joints, 21 in in each 31.5 ft, a foot of 8.681 in bore holds 0.0479 bbl:
    the columns stand 801 ft higher, of 15.8 ppg where 12.6 ppg was, 0.260 ppg more at 9 850 ft.
    """
    evaluation = evaluated(BRINDLEWICK, ("off bottom: 10 ft", "off bottom: 510 ft"))
    train, path = evaluation.job.train, evaluation.plan.depth.path
    found = windows(evaluation.plan, evaluation.volumes, evaluation.cement, train)
    window = found[0]
    filled = emw_kg_per_m3(train.at(train.total_m3).outside, path, window.point.md_m)

    assert window.point.name == "host shoe"
    assert (window.most_kg_per_m3 - filled) / PPG_KG_PER_M3 == pytest.approx(0.260, abs=0.005)


def test_a_light_spacer_is_lightest_when_all_of_it_stands_above_the_zone():
    """110 bbl of 8.4 ppg, its foot at the gas sand at 11 860 ft: that much lower than mud by the height it fills."""
    evaluation = evaluated(BRINDLEWICK, LIGHT)
    train = evaluation.job.train
    found = windows(evaluation.plan, evaluation.volumes, evaluation.cement, train)
    window = next(one for one in found if one.point.name == "gas sand")
    foot = 110.0 * BARREL_M3 + train.up_to_m3(11_860.0 * FOOT_M)

    assert window.least_at_m3 == pytest.approx(foot)
    spacer = next(layer for layer in train.at(foot).outside if layer.fluid == "spacer")
    assert spacer.bottom_md_m == pytest.approx(11_860.0 * FOOT_M)
    height = (spacer.bottom_md_m - spacer.top_md_m) / FOOT_M
    by_hand = 12.6 - (12.6 - 8.4) * height / 11_860.0
    assert window.least_kg_per_m3 / PPG_KG_PER_M3 == pytest.approx(by_hand, abs=1e-3)
    assert window.over_pore_kg_per_m3 < 0.0


def test_heavier_behind_lighter_only_grows_so_that_start_and_end_are_all():
    evaluation = well("brindlewick")
    train = evaluation.job.train

    assert stages(evaluation.plan, train, [3000.0]) == (0.0, train.total_m3)
    light = evaluated(BRINDLEWICK, LIGHT)
    assert len(stages(light.plan, light.job.train, [3000.0])) > 10


def test_gelled_slurry_weighs_its_water():
    """By hand: mud 12.6 ppg to 8 650 ft or so, spacer 13.6 to 9 280 ft, fresh water below."""
    evaluation = well("brindlewick")
    plan, path = evaluation.plan, evaluation.plan.depth.path
    columns = annulus_at_end(plan, evaluation.volumes, evaluation.cement)
    soft = gelled(plan, columns)

    assert [layer[:3] for layer in soft] == [layer[:3] for layer in columns]
    assert soft[-1].density_kg_per_m3 == FRESH_WATER_KG_PER_M3
    assert [layer.density_kg_per_m3 for layer in soft[:-1]] == [
        layer.density_kg_per_m3 for layer in columns[:-1]
    ]
    spacer = soft[1].top_md_m / FOOT_M
    by_hand = (12.6 * spacer + 13.6 * (9_280.0 - spacer) + 8.3454 * (11_860.0 - 9_280.0)) / 11_860.0
    ours = emw_kg_per_m3(soft, path, 11_860.0 * FOOT_M)
    assert ours / PPG_KG_PER_M3 == pytest.approx(by_hand, abs=2e-3)


def test_without_pressures_of_the_rock_there_is_no_window():
    evaluation = evaluated(no_rock(SOLLIVANE))

    with pytest.raises(MissingInput, match=r"formation\.pressures"):
        windows(evaluation.plan, evaluation.volumes, evaluation.cement, evaluation.job.train)


def no_rock(text):
    """The text without its formation."""
    start, end = text.index("formation:\n"), text.index("cement:\n  planned")
    return text[:start] + text[end:]


def test_a_pressure_at_surface_is_counted_at_the_level_of_the_datum():
    layers = (Layer("mud", 0.0, 3000.0, 1200.0),)

    assert pressure_pa(layers, SurveyPath(), 0.0, 7e6) == 7e6
    assert pressure_pa(layers, SurveyPath(), 1000.0, 7e6) == 7e6 + hydrostatic_pa(
        layers, SurveyPath(), 1000.0
    )


def test_what_is_not_computed_is_said():
    assert "not computed" in at_rest.AT_REST
    assert "needs friction of flow" in at_rest.FREE_FALL
