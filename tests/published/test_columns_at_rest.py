"""Columns at rest when displacement ends, against two worked wells, and against sums by hand.

Source: the two complete worked wells of the trade reference from which the demo wells were made, each with its
static EMW at both shoes and its U-tube pressure, for the planned and for the highest top of cement. Stated to
0.01 ppg and 1 psi, 0.001 sg and 0.1 bar; the tolerance is half of that.

The reference fills the annulus above the liner past plain pipe of 5 in; here the tool joints count, so that spacer
and cement stand higher. `by_hand` works the reference's way and meets each of its figures. Ours that then print
differently: 561 psi reads 562 here, 12.96 ppg 12.97, 621 psi 622; 21.8 bar reads 21.9, 23.8 bar 23.9.
"""

from __future__ import annotations

import math
import re
from functools import cache
from pathlib import Path

import pytest
from scipy.integrate import quad

from schematic import check
from schematic.checks.evaluate import Evaluation
from schematic.engineering.columns import Layer, annulus_at_end, emw_kg_per_m3, hydrostatic_pa, u_tube_pa
from schematic.export.tables import static_table
from schematic.outcome import MissingInput
from schematic.units import PPG_KG_PER_M3, PSI_PA
from schematic.verbs import load_text
from tests.drawing.torture import BRINDLEWICK, changed

FT, IN, BBL, G = 0.3048, 0.0254, 0.158987, 9.80665
PPG, PSI, BAR = 119.826427, 6894.757, 1e5

# measured depth and inclination in degrees, typed from the worked wells; straight below the last station
SURVEYS = {
    "brindlewick-4": [(0.0, 0.0), (4120 * FT, 0.5), (9850 * FT, 1.0), (12600 * FT, 1.5)],
    "sollivane-a7": [(0.0, 0.0), (600.0, 0.0), (1260.0, 55.0), (3985.0, 55.0)],
}
PIPE_M = 5.0 * IN  # drill pipe and HWDP, without tool joints
BORES_M = {"brindlewick-4": 8.681 * IN, "sollivane-a7": 0.2168}
SHOES_M = {"brindlewick-4": (12590 * FT, 9850 * FT), "sollivane-a7": (3982.0, 3180.0)}
COLLARS_M = {"brindlewick-4": 12464.3 * FT, "sollivane-a7": 3944.42}
SPACERS_M3 = {"brindlewick-4": 30 * BBL, "sollivane-a7": 10.0}


@cache
def well(name: str) -> Evaluation:
    return check(f"wells/{name}.yaml")


def tvd_by_hand(name: str, md_m: float) -> float:
    """The integral of the cosine of an inclination that runs linearly from station to station."""
    stations = SURVEYS[name]

    def cosine(md: float) -> float:
        for (above, first), (below, second) in zip(stations, stations[1:], strict=False):
            if md <= below:
                return math.cos(math.radians(first + (second - first) * (md - above) / (below - above)))
        return math.cos(math.radians(stations[-1][1]))

    ends = [0.0, *(md for md, _ in stations[1:] if md < md_m), md_m]
    return sum(quad(cosine, a, b)[0] for a, b in zip(ends, ends[1:], strict=False))


def by_hand(name: str, cement_top_m: float, slurries: list[tuple[float, float]], md_m: float) -> float:
    """Pressure at a depth: mud, spacer past plain pipe, then slurries, each from a depth down."""
    mud, spacer = (12.6 * PPG, 13.6 * PPG) if name == "brindlewick-4" else (1380.0, 1500.0)
    area = math.pi / 4 * (BORES_M[name] ** 2 - PIPE_M**2)
    tops = [
        (0.0, mud),
        (cement_top_m - SPACERS_M3[name] / area, spacer),
        (cement_top_m, slurries[0][1]),
        *slurries[1:],
    ]
    ends = [*(top for top, _ in tops[1:]), math.inf]
    return sum(
        density * G * (tvd_by_hand(name, min(end, md_m)) - tvd_by_hand(name, top))
        for (top, density), end in zip(tops, ends, strict=True)
        if top < md_m
    )


# the tail of the deviated well with no loss: 8.09 m3, of it 0.73 in the shoe track and 0.12 in the rathole, in an
# open-hole annulus of 11.69 m3 from 3 180 to 3 982 m; all as stated
TAIL_TOP_M = 3982.0 - (8.09 - 0.73 - 0.12) / (11.69 / (3982.0 - 3180.0))
CASES = [
    # well, top of cement, slurries from a depth down, no loss?; EMW at liner shoe and host shoe, U-tube; as stated
    ("brindlewick-4", 9280 * FT, [(9280 * FT, 15.8 * PPG)], False, 13.49, 12.85, 561.0),
    ("brindlewick-4", 8918 * FT, [(8918 * FT, 15.8 * PPG)], True, 13.58, 12.96, 621.0),
    ("sollivane-a7", 2995.0, [(2995.0, 1620.0), (3550.0, 1900.0)], False, 1.466, 1.404, 21.8),
    ("sollivane-a7", 2923.0, [(2923.0, 1620.0), (TAIL_TOP_M, 1900.0)], True, 1.473, 1.408, 23.8),
]
# units of density and pressure; half of what is stated, and the half foot or metre of the stated highest top
SCALES = {
    "brindlewick-4": (PPG, PSI, 0.005 + 0.5 * (15.8 - 13.6) / 9850.0, 0.5 + 0.5 * 0.051948 * (15.8 - 13.6)),
    "sollivane-a7": (1000.0, BAR, 0.0005 + 0.5 * 0.57 * 0.12 / 2264.5, 0.05 + 0.5 * 0.57 * 0.0981 * 0.12),
}


@pytest.mark.parametrize(("name", "top", "slurries", "no_loss", "liner", "host", "u_tube"), CASES)
def test_the_reference_is_met_when_worked_as_the_reference_does(
    name, top, slurries, no_loss, liner, host, u_tube
):
    density, pressure, half_emw, half_pressure = SCALES[name]
    mud = 12.6 * PPG if name == "brindlewick-4" else 1380.0
    shoes, collar = SHOES_M[name], COLLARS_M[name]
    outside = [by_hand(name, top, slurries, md) for md in shoes]
    emw = [p / (G * tvd_by_hand(name, md) * density) for p, md in zip(outside, shoes, strict=True)]
    difference = by_hand(name, top, slurries, collar) - mud * G * tvd_by_hand(name, collar)

    assert emw == pytest.approx([liner, host], abs=half_emw)
    assert difference / pressure == pytest.approx(u_tube, abs=half_pressure)


@pytest.mark.parametrize(("name", "top", "slurries", "no_loss", "liner", "host", "u_tube"), CASES)
def test_ours_meets_the_reference_less_what_the_tool_joints_lift(
    name, top, slurries, no_loss, liner, host, u_tube
):
    """The lift by hand: so much more height of spacer over mud, and of slurry over spacer."""
    density, pressure, half_emw, half_pressure = SCALES[name]
    e = well(name)
    layers = annulus_at_end(e.plan, e.volumes, e.cement, nothing_lost=no_loss)
    path, depth = e.plan.depth.path, e.plan.depth
    lean = 1.0 if name == "brindlewick-4" else math.cos(math.radians(55.0))
    mud, spacer, slurry = (layer.density_kg_per_m3 for layer in layers[:3])
    plain = top - SPACERS_M3[name] / (math.pi / 4 * (BORES_M[name] ** 2 - PIPE_M**2))
    lift = (spacer - mud) * (plain - layers[1].top_md_m) + (slurry - spacer) * (top - layers[2].top_md_m)
    lift_pa = G * lean * lift

    for md, stated in ((depth.liner.shoe_md_m, liner), (depth.host.shoe_md_m, host)):
        lifted = lift_pa / (G * path.tvd_m(md))
        assert (emw_kg_per_m3(layers, path, md) - lifted) / density == pytest.approx(stated, abs=half_emw)
    assert (u_tube_pa(e.plan, layers) - lift_pa) / pressure == pytest.approx(u_tube, abs=half_pressure)
    assert 0.0 <= lift_pa < (1.5 * PSI if name == "brindlewick-4" else 0.12 * BAR)


@pytest.mark.parametrize("name", ["brindlewick-4", "sollivane-a7"])
@pytest.mark.parametrize("no_loss", [False, True])
def test_the_pressure_at_any_depth_is_the_integral_of_density_over_true_depth(name, no_loss):
    e = well(name)
    layers = annulus_at_end(e.plan, e.volumes, e.cement, nothing_lost=no_loss)
    for md in (500.0, 2800.0, 3000.0, 3300.0, SHOES_M[name][0]):
        wanted = sum(
            layer.density_kg_per_m3
            * G
            * (tvd_by_hand(name, min(layer.bottom_md_m, md)) - tvd_by_hand(name, layer.top_md_m))
            for layer in layers
            if layer.top_md_m < md
        )

        # the azimuth of the vertical well turns by 10 degrees, which the sum by hand leaves out: 0.1 m at most
        assert hydrostatic_pa(layers, e.plan.depth.path, md) == pytest.approx(wanted, rel=1e-5)


def test_the_spacer_stands_as_high_as_its_volume_reaches_past_the_tool_joints():
    """Vertical well: 21 in of 6 5/8 in in each 31.5 ft of 5 in drill pipe, HWDP of 5 in below 9 100 ft, casing of
    8.681 in; 30 bbl of spacer over cement at 9 280 ft.
    """
    e = well("brindlewick-4")
    spacer = annulus_at_end(e.plan, e.volumes, e.cement)[1]
    share = 21 / 12 / 31.5
    joints = math.pi / 4 * IN**2 * (8.681**2 - (share * 6.625**2 + (1 - share) * 25.0))
    plain = math.pi / 4 * IN**2 * (8.681**2 - 25.0)
    below = e.plan.depth.running.parts[-1]  # pipe above the liner top, from the top down

    assert below.kind != "drill pipe"
    hwdp_top = (9480 - 30 - 380) * FT  # running tool 30 ft, HWDP 380 ft above the liner top
    wanted = hwdp_top - (30 * BBL - plain * (9280 * FT - hwdp_top)) / joints
    assert spacer.top_md_m == pytest.approx(wanted, abs=0.01)


def test_the_layers_follow_one_another_from_the_datum_to_the_bottom():
    for name in ("brindlewick-4", "sollivane-a7"):
        e = well(name)
        for nothing_lost in (False, True):
            layers = annulus_at_end(e.plan, e.volumes, e.cement, nothing_lost=nothing_lost)
            assert layers[0].top_md_m == 0.0
            assert layers[-1].bottom_md_m == e.plan.depth.td_md_m
            assert all(a.bottom_md_m == b.top_md_m for a, b in zip(layers, layers[1:], strict=False))


RUNNING = """running string:
  stick up: 1.5 m
  assembly:
    - {part: running tool, length: 3 m, od: 120 mm, id: 60 mm}
    - {part: drill pipe, pipe: 5 in 19.5 lb/ft E-75 NC50}

fluids:"""


def test_below_a_liner_that_ends_inside_its_host_stands_mud():
    """By hand, vertical well: brine of 1.10 sg, cement of 1.90 sg from 1 360 m to the liner shoe at 1 620 m, brine
    again down to the host shoe at 2 400 m.
    """
    text = Path("wells/fallow-6.yaml").read_text(encoding="utf-8")
    e = check(load_text(changed(text, ("fluids:", RUNNING))))
    layers = annulus_at_end(e.plan, e.volumes, e.cement)
    path = e.plan.depth.path

    at_liner = (1.10 * 1360 + 1.90 * 260) / 1620
    at_host = (1.10 * (1360 + 780) + 1.90 * 260) / 2400
    assert emw_kg_per_m3(layers, path, 1620.0) == pytest.approx(at_liner * 1000.0)
    assert emw_kg_per_m3(layers, path, 2400.0) == pytest.approx(at_host * 1000.0)
    assert [layer.bottom_md_m for layer in layers] == [1360.0, 1620.0, 2950.0]
    rows = {row[0]: row[1].si for row in static_table(e).rows}
    assert list(rows.items()) == [("liner shoe", 1620.0), ("host shoe", 2400.0)]  # from the top down


def test_without_pressures_of_the_rock_the_host_shoe_shows_its_own_test():
    """Leak-off of 15.8 ppg stated for the shoe of the host; it says nothing about the liner shoe."""
    text = re.sub(r"(?m)^  pressures:.*\n(    - .*\n)+", "", BRINDLEWICK)
    assert text != BRINDLEWICK
    table = static_table(check(load_text(text)))
    rows = {row[0]: row for row in table.rows}

    assert [column.head for column in table.columns][-2:] == ["pore", "fracture"]
    assert rows["host shoe"][-1].si == pytest.approx(15.8 * PPG)
    assert rows["host shoe"][-2] is None
    assert rows["liner shoe"][-1] is None


def test_a_column_of_one_fluid_has_the_emw_of_that_fluid():
    path = well("sollivane-a7").plan.depth.path
    for md in (10.0, 900.0, 3982.0):
        assert emw_kg_per_m3((Layer("mud", 0.0, 3985.0, 1380.0),), path, md) == pytest.approx(1380.0)
    assert emw_kg_per_m3((Layer("mud", 0.0, 3985.0, 1380.0),), path, 0.0) is None


@pytest.mark.parametrize(
    ("old", "new", "missing"),
    [
        ("volume: 30 bbl}", "plastic viscosity: 24 cP}", "fluids.spacer.volume"),
        ("mud: {kind: mud,", "mud: {kind: completion brine,", "a fluid of kind mud"),
    ],
)
def test_what_is_not_known_is_asked_for(old, new, missing):
    e = check(load_text(changed(BRINDLEWICK, (old, new))))
    with pytest.raises(MissingInput) as raised:
        annulus_at_end(e.plan, e.volumes, e.cement)

    assert missing in raised.value.missing


def test_the_constants_are_those_of_the_tool():
    assert pytest.approx((PPG_KG_PER_M3, PSI_PA), rel=1e-6) == (PPG, PSI)
