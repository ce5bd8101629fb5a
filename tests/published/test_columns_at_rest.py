"""Columns at rest when displacement ends, against two worked wells, and against a sum by hand.

Source: the two complete worked wells of the trade reference from which the demo wells were made, each with its
static EMW at both shoes and its U-tube pressure, for the planned and for the highest top of cement. Stated to
0.01 ppg and 1 psi, 0.001 sg and 0.1 bar. Its highest tops are 8 918 ft and 2 923 m, ours 8 915.4 ft and 2 922.3 m
(tool joints count in the annulus): with that, 12.96 ppg reads 12.97 here, 621 psi 622, and 23.8 bar 23.9.
"""

from __future__ import annotations

from functools import cache

import pytest

from schematic import check
from schematic.checks.evaluate import Evaluation
from schematic.engineering.columns import annulus_at_end, emw_kg_per_m3, u_tube_pa
from schematic.units import PPG_KG_PER_M3, PSI_PA


@cache
def well(name: str) -> Evaluation:
    return check(f"wells/{name}.yaml")


def at(name, nothing_lost):
    e = well(name)
    layers = annulus_at_end(e.plan, e.volumes, e.cement, nothing_lost=nothing_lost)
    depth = e.plan.depth
    emw = [emw_kg_per_m3(layers, depth.path, md) for md in (depth.liner.shoe_md_m, depth.host.shoe_md_m)]
    return emw, u_tube_pa(e.plan, layers)


@pytest.mark.parametrize(
    ("nothing_lost", "liner_shoe", "host_shoe", "u_tube", "near_psi"),
    [(False, 13.49, 12.85, 561.0, 1.0), (True, 13.58, 12.96, 621.0, 2.0)],
)
def test_the_vertical_well(nothing_lost, liner_shoe, host_shoe, u_tube, near_psi):
    emw, difference = at("brindlewick-4", nothing_lost)

    assert [value / PPG_KG_PER_M3 for value in emw] == pytest.approx([liner_shoe, host_shoe], abs=0.0101)
    assert difference / PSI_PA == pytest.approx(u_tube, abs=near_psi)


@pytest.mark.parametrize(
    ("nothing_lost", "liner_shoe", "host_shoe", "u_tube"),
    [(False, 1.466, 1.404, 21.8), (True, 1.473, 1.408, 23.8)],
)
def test_the_deviated_well(nothing_lost, liner_shoe, host_shoe, u_tube):
    emw, difference = at("sollivane-a7", nothing_lost)

    assert [value / 1000.0 for value in emw] == pytest.approx([liner_shoe, host_shoe], abs=0.0006)
    assert difference / 1e5 == pytest.approx(u_tube, abs=0.1)


def test_the_layers_follow_one_another_from_the_datum_to_the_bottom():
    for name in ("brindlewick-4", "sollivane-a7"):
        e = well(name)
        for nothing_lost in (False, True):
            layers = annulus_at_end(e.plan, e.volumes, e.cement, nothing_lost=nothing_lost)
            assert layers[0].top_md_m == 0.0
            assert layers[-1].bottom_md_m == e.plan.depth.td_md_m
            assert all(a.bottom_md_m == b.top_md_m for a, b in zip(layers, layers[1:], strict=False))


def test_the_pressure_at_a_depth_is_the_sum_of_the_layers_above_it():
    """By hand for the vertical well: 13.6 ppg of spacer and 15.8 ppg of cement over 100 ft below its top."""
    e = well("brindlewick-4")
    layers = annulus_at_end(e.plan, e.volumes, e.cement)
    path, top = e.plan.depth.path, 9280 * 0.3048
    g = 9.80665
    upper, lower = (emw_kg_per_m3(layers, path, md) * path.tvd_m(md) * g for md in (top, top + 30.48))

    by_hand = 15.8 * 119.826427 * g * (path.tvd_m(top + 30.48) - path.tvd_m(top))
    assert lower - upper == pytest.approx(by_hand, rel=1e-6)
