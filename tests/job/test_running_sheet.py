"""The running sheet: handbook displacements, the two worked wells, tallies added up by hand, and its laws.

Sources: capacity of 5 in drill pipe, displacement of 9 5/8 in casing and of heavy-weight pipe by its weight
from public training sheets on drilling formulae; metal displacement of 5 in 19.5 lb/ft drill pipe from API RP
7G, from memory; volumes and hook loads of the two worked wells of the trade reference that are in `wells/`,
tolerance of volumes 0.5 %, of weights 2 %, its own. Tallies and space-outs are arithmetic.
"""

from __future__ import annotations

import pytest

from schematic import check
from schematic.depth.nest import RUNNING_STRING, circle_m2, running_tube
from schematic.depth.plan import RunningPart, RunningString
from schematic.depth.resolve import resolve
from schematic.job.picks import picks, running_picks
from schematic.job.running_remarks import bends
from schematic.job.running_sheet import running_sheet
from schematic.outcome import sentence
from schematic.verbs import demos, load, load_text
from schematic.wellfile import edit
from tests.checks.wells import BRINDLEWICK, changed

FT, IN, BBL, KLBF, KN = 0.3048, 0.0254, 0.158987294928, 4448.2216152605, 1000.0
BBL_FT = BBL / FT
SOLLIVANE, HALDRY, TARNVALE = (
    demos()[f"{name}.yaml"] for name in ("sollivane-a7", "haldry-2", "tarnvale-h3")
)


RUNNING = check(load_text(BRINDLEWICK)).plan.depth.running


def sheet(text: str):
    return running_sheet(check(load_text(text)).plan)


def said(run, system="field") -> str:
    return "; ".join(sentence(one.text, one.figures, system) for one in run.remarks)


def part(kind: str, length_ft: float, od_in: float, id_in: float, joint=(None, None, 0.0)) -> RunningPart:
    """A line of a running string with its foot at 8 700 ft; *joint* is OD, ID and share of its tool joints."""
    return RUNNING.parts[0]._replace(
        path=f"running string.assembly.{kind}",
        kind=kind,
        name=kind,
        top_md_m=(8_700.0 - length_ft) * FT,
        bottom_md_m=8_700.0 * FT,
        od_m=od_in * IN,
        id_m=id_in * IN,
        tool_joint_od_m=joint[0] and joint[0] * IN,
        tool_joint_id_m=joint[1] and joint[1] * IN,
        tool_joint_share=joint[2],
        joint_length_m=None,
    )


def string(parts: tuple[RunningPart, ...], stand_ft: float | None, stick_up_ft: float = 0.0) -> RunningString:
    stand = None if stand_ft is None else stand_ft * FT
    return RUNNING._replace(parts=parts, stick_up_m=stick_up_ft * FT, foot_md_m=8_700.0 * FT, stand_m=stand)


def steel_and_bore(pipe: RunningPart) -> tuple[float, float]:
    """Steel and bore of a pipe, in bbl/ft, tool joints counted by their share."""
    (one,) = running_tube(string((pipe,), None)).stretches
    return (one.outside_m2 - one.inside_m2) / BBL_FT, one.inside_m2 / BBL_FT


def test_metal_displacement_of_5_in_drill_pipe_counts_its_tool_joints():
    """0.0076 bbl/ft: approximate weight of 20.89 lb/ft over 2 747 (API RP 7G, from memory), for NC50 of 6 3/8 by
    3 3/4 in; 21 in of tool joint in 31.5 ft. The body alone would be 0.0065.
    """
    body = part("drill pipe", 31.5, 5.0, 4.276)
    whole = part("drill pipe", 31.5, 5.0, 4.276, joint=(6.375, 3.75, 21.0 / 12.0 / 31.5))

    assert steel_and_bore(whole)[0] == pytest.approx(0.0076, abs=0.00005)
    assert steel_and_bore(body)[0] == pytest.approx(0.0065, abs=0.00005)


def test_fill_of_5_in_drill_pipe_is_its_capacity():
    """0.01776 bbl/ft for 4.276 in, with a divisor of 1 029; with 1 029.4 it is 0.01776 too."""
    assert steel_and_bore(part("drill pipe", 31.5, 5.0, 4.276))[1] == pytest.approx(0.01776, abs=0.000005)


def test_displacement_of_plain_pipe():
    """9 5/8 in 40 lb/ft, 8.835 in bore: 0.01417 bbl/ft."""
    assert steel_and_bore(part("drill pipe", 40.0, 9.625, 8.835))[0] == pytest.approx(0.01417, abs=0.000005)


def test_heavy_weight_pipe_displaces_less_by_its_body_than_by_its_weight():
    """49.3 lb/ft over 65.4 x 42 is 0.01795 bbl/ft with tool joints and upsets; 5 by 3 in of body is 0.01554: the
    well files give no length of these tool joints, so that the body alone is counted, and the plan says so.
    """
    body = part("heavy-weight drill pipe", 30.0, 5.0, 3.0)

    assert steel_and_bore(body)[0] == pytest.approx(0.01554, abs=0.000005)
    assert steel_and_bore(body)[0] < 49.3 / (65.4 * 42.0) == pytest.approx(0.01795, abs=0.000005)
    assert any(
        "tool joints of heavy-weight drill pipe not counted" in text
        for text in check(load_text(BRINDLEWICK)).plan.assumptions
    )


def test_a_space_out_in_stands_adds_up():
    """Shoe 12 000, liner 3 300.0: top 8 700. Tool 12.4: 8 687.6 ft of drill pipe to the rotary, 92 stands of 93.5 are
    8 602.0; with 5 ft of stick-up singles and pups make 90.6. They come below the last stand.
    """
    pipe = part("drill pipe", 8_687.6 + 5.0, 5.0, 4.276)
    pipe = pipe._replace(bottom_md_m=(8_700.0 - 12.4) * FT, top_md_m=-5.0 * FT)
    tool = part("running tool", 12.4, 6.0, 3.0)

    made = running_picks(string((pipe, tool), 93.5, 5.0), 8_700.0 * FT)
    stands = [pick for pick in made if "stand " in pick.what]

    assert [pick.what for pick in made[:2]] == ["running tool", "drill pipe stand 1"]
    assert len(stands) == 92
    assert sum(pick.length_m for pick in stands) / FT == pytest.approx(8_602.0, abs=0.05)
    assert [pick.what for pick in made[-2:]] == ["drill pipe, less than a stand", "drill pipe stand 92"]
    assert made[-2].length_m / FT == pytest.approx(90.6, abs=0.05)


TALLY = """
lapline: 1
well: {name: Files 1, datum: {from: rotary table, above: ground level, height: 10 ft}}
hole:
  - {bit: 12 1/4 in, to: 150 ft}
  - {bit: 8 1/2 in, to: 300 ft}
strings:
  - {name: casing, pipe: 9 5/8 in 47 lb/ft L-80, shoe: 150 ft}
liner:
  pipe: 7 in 29 lb/ft P-110
  host: casing
  off bottom: 5 ft
  tally: {file: tally.csv}
  assembly:
    - {part: float shoe, length: 1.85 ft, od: 7.656 in, valves: 1}
    - {part: joint, count: 1}
    - {part: float collar, length: 1.60 ft, od: 7.656 in}
    - {part: joint, fill: true}
"""


def test_the_joints_of_a_tally_count_with_their_own_lengths(tmp_path):
    """40.12, 39.87, 41.03, 38.95, 40.44 with shoe 1.85 and collar 1.60: 203.86 ft; with 3.26 standing above the rotary
    the shoe is at 200.60.
    """
    joints = [40.12, 39.87, 41.03, 38.95, 40.44]
    rows = "".join(f"{n},{length}\n" for n, length in enumerate(joints, 11))
    (tmp_path / "tally.csv").write_text(f"No,Length ft\n{rows}")
    (tmp_path / "well.yaml").write_text(TALLY)

    plan = resolve(load(tmp_path / "well.yaml"))
    runs = running_sheet(plan).runs

    assert [run.pick.what for run in runs] == [
        "float shoe",
        "joint 11",
        "float collar",
        "joint 12",
        "joint 13",
        "joint 14",
        "joint 15",
    ]
    assert [run.pick.length_m / FT for run in runs] == pytest.approx(
        [1.85, 40.12, 1.60, 39.87, 41.03, 38.95, 40.44], abs=0.005
    )
    assert runs[-1].so_far_m / FT == pytest.approx(203.86, abs=0.005)
    assert runs[-1].so_far_m / FT - 3.26 == pytest.approx(200.60, abs=0.005)
    assert not any(run.pick.average for run in runs)


def test_what_fills_the_string_of_the_vertical_worked_well():
    """Running string to the plug 159.7 bbl, liner from there to the collar 110.1, shoe track 4.67: 274.5. The 6 ft of
    stick-up are not in the well, 0.1; beside the 20 ft of inner string the liner holds 0.7 more: 275.1.
    """
    (*_others, last) = sheet(BRINDLEWICK).runs
    stick_up = 6.0 * ((1.0 - 21.0 / 12.0 / 31.5) * 4.276**2 + 21.0 / 12.0 / 31.5 * 2.75**2) / 1029.4
    beside = (10.4 * 7.375**2 + 7.9 * 6.200**2 + 1.7 * 6.160**2 - 20.0 * 3.5**2) / 1029.4

    assert last.fill_so_far_m3 / BBL == pytest.approx(159.7 + 110.1 + 4.67 - stick_up + beside, rel=0.005)


def test_what_the_vertical_worked_well_pushes_out_by_the_fields_formula():
    """OD squared over 1 029.4, part by part as the trade reference lists them, to the rotary."""
    joint = 21.0 / 12.0 / 31.5
    pipe = (1.0 - joint) * 5.0**2 + joint * 6.625**2
    parts = [
        *(
            (1.8, 7.656**2),
            (80.6, 49.0),
            (1.6, 7.656**2),
            (40.2, 49.0),
            (1.5, 7.656**2),
            (2_944.4, 49.0),
            (12.0, 49.0),
        ),
        *((9.6, 8.312**2), (7.9, 8.312**2), (10.4, 8.250**2), (30.0, 25.0), (380.0, 25.0), (9_070.0, pipe)),
    ]

    last = sheet(BRINDLEWICK).runs[-1]

    assert sum(length for length, _square in parts) == pytest.approx(12_590.0)
    assert last.closed_so_far_m3 / BBL == pytest.approx(
        sum(one * square for one, square in parts) / 1029.4, rel=0.0001
    )


def test_hook_loads_on_depth_of_the_worked_wells():
    """Vertical: 299.8 klbf with the block of 45. Deviated, with 350 kN of block: 922 slacking off, 1 152 rotating,
    1 472 picking up.
    """
    vertical, deviated = sheet(BRINDLEWICK), sheet(SOLLIVANE)
    last = deviated.runs[-1].hook

    assert (vertical.runs[-1].hook.rotating_n + vertical.block_n) / KLBF == pytest.approx(299.8, rel=0.02)
    assert [
        (load + deviated.block_n) / KN for load in (last.down_n, last.rotating_n, last.up_n)
    ] == pytest.approx([922.0, 1_152.0, 1_472.0], rel=0.02)


def test_the_liner_alone_weighs_what_the_worked_well_says():
    """73.2 klbf in mud when the hanger assembly hangs at the rotary."""
    run = next(run for run in sheet(BRINDLEWICK).runs if run.pick.section == "hanger assembly")

    assert run.hook.rotating_n / KLBF == pytest.approx(73.2, rel=0.02)
    assert run.shoe_md_m / FT == pytest.approx(3_110.0)


@pytest.mark.parametrize("name", sorted(demos()))
def test_laws_of_the_sheet(name):
    """On every demo well: each line adds up; fill and steel are the closed end; the end is where the plan says."""
    evaluation = check(load_text(demos()[name]))
    runs, plan = evaluation.job.running_sheet.runs, evaluation.plan
    depth = plan.depth

    assert [run.number for run in runs] == list(range(1, len(runs) + 1))
    for before, run in zip((None, *runs), runs, strict=False):
        so_far, closed = (before.so_far_m, before.closed_so_far_m3) if before else (0.0, 0.0)
        assert run.so_far_m == pytest.approx(so_far + run.pick.length_m)
        assert run.closed_so_far_m3 == pytest.approx(closed + run.closed_m3)
        assert run.steel_m3 + run.fill_m3 == pytest.approx(run.closed_m3)
        assert run.steel_so_far_m3 + run.fill_so_far_m3 == pytest.approx(run.closed_so_far_m3)
        assert run.shoe_md_m >= (before.shoe_md_m if before else 0.0)
    if depth.running is None:
        assert runs[-1].so_far_m == pytest.approx(depth.liner.shoe_md_m - depth.liner.top_md_m)
        return
    assert runs[-1].shoe_md_m == pytest.approx(depth.liner.shoe_md_m)
    liner = evaluation.nest.tube(depth.liner.name)
    above = evaluation.nest.tube(RUNNING_STRING)
    outside = liner.outside_m2(liner.top_m, liner.bottom_m).integral()
    outside += above.outside_m2(0.0, depth.liner.top_md_m).integral()
    assert runs[-1].closed_so_far_m3 == pytest.approx(outside, rel=1e-12)


def test_the_places_that_a_hand_has_to_know_in_the_vertical_worked_well():
    runs = sheet(BRINDLEWICK).runs
    host = next(run for run in runs if "host shoe" in said(run))
    gas = next(run for run in runs if "gas sand" in said(run))
    beyond = runs[host.number]
    weak = next(run for run in runs if "weakest rock" in said(run))

    assert "fill joint by joint from here" in said(runs[0])
    assert [run.pick.what for run in runs if "through the float" in said(run)] == [
        "float shoe",
        "float collar",
    ]
    assert host.shoe_md_m <= 9_850.0 * FT < beyond.shoe_md_m  # told while the shoe is still in casing
    left_ft = (9_850.0 * FT - host.shoe_md_m) / FT
    assert f"last in casing, {left_ft:.1f} ft above the host shoe at 9850 ft" in said(host)
    assert "weakest rock known, 15.80 ppg" in said(weak)
    assert weak == beyond
    assert runs[gas.number - 2].shoe_md_m < 11_860.0 * FT <= gas.shoe_md_m
    assert "pore 12.00 ppg" in said(gas)
    assert "wash down" in said(runs[-1])
    assert "12590 ft, 10.0 ft off bottom, 6.0 ft above the rotary" in said(runs[-1])
    assert not any("Ruddavine" in said(run) for run in runs)  # below the shoe


def test_shoe_and_hanger_enter_the_upper_liner_each_at_its_time():
    """Haldry 2: upper liner from 2 700 m, shoe 4 597 m, hanger from 3 785.1 to 3 787.7 m on depth: its foot is at 2 700 m
    when the shoe is at 3 509.3 m.
    """
    runs = sheet(HALDRY).runs
    shoe = next(run for run in runs if "shoe enters the drilling liner top" in said(run))
    hanger = next(run for run in runs if "hydraulic hanger enters the drilling liner top" in said(run))

    assert runs[shoe.number - 2].shoe_md_m < 2_700.0 <= shoe.shoe_md_m
    assert runs[hanger.number - 2].shoe_md_m < 3_509.3 <= hanger.shoe_md_m


def test_bends_over_the_limit_are_told_once_from_end_to_end():
    """Tarnvale H-3 builds 6 deg/30 m from 1 400 to 1 842.5 m; its tools bear 8, others 3."""
    plan = check(load_text(TARNVALE)).plan
    without = check(load_text(edit.remove(TARNVALE, "installation.dogleg limit"))).plan
    ((top, bottom, dogleg),) = bends(without)

    assert bends(plan) == ()
    assert (top, bottom) == pytest.approx((1_400.0, 1_842.5))
    assert dogleg * 30.0 / 0.017453292519943295 == pytest.approx(6.0, abs=0.001)
    runs = running_sheet(without).runs
    assert [
        run
        for run in runs
        if "shoe enters a bend of up to 6 deg/30 m, 1400 m to 1842.5 m" in said(run, "metric")
    ]


def test_the_speed_limit_changes_where_the_shoe_leaves_the_casing():
    text = changed(
        BRINDLEWICK,
        (
            "  block weight: 45 klbf\n",
            "  block weight: 45 klbf\n  running speed: {cased: 90 ft/min, open hole: 60 ft/min}\n",
        ),
    )

    made = sheet(text)

    assert not any("speed" in one.what for one in made.missing)
    for run in made.runs:
        limit = 60.0 if run.shoe_md_m > 9_850.0 * FT else 90.0
        assert run.speed_m_per_s == pytest.approx(limit * FT / 60.0)


def test_what_is_not_given_is_left_out_and_named():
    bare = BRINDLEWICK
    for path in (
        "running string.stand length",
        "installation.block weight",
        "running string.assembly.running tool.od",
    ):
        bare = edit.remove(bare, path)

    made = sheet(bare)
    needs = {one.what: one.needs for one in made.missing}
    heavy = next(run for run in made.runs if "heavy-weight" in run.pick.what)
    tool = next(run for run in made.runs if run.pick.inner)

    assert needs["single stands"] == (
        "running string.stand length, or joint length of heavy-weight drill pipe",
    )
    assert needs["hook loads moving"] == ("installation.friction",)
    assert needs["weight of the block in hook loads"] == ("installation.block weight",)
    assert needs["displacement and fill"] == ("OD of running tool",)
    assert heavy.pick.length_m == pytest.approx(380.0 * FT)
    assert sum("drill pipe joint" in run.pick.what for run in made.runs) == 288  # 9 076 ft of 31.5
    assert made.runs[tool.number - 2].closed_so_far_m3 is not None
    assert {run.closed_so_far_m3 for run in made.runs[tool.number - 1 :]} == {None}


def test_without_a_running_string_the_liner_alone_is_told():
    made = sheet(demos()["fallow-6.yaml"])

    assert {run.pick.section for run in made.runs} <= {"shoe track", "liner", "hanger assembly"}
    assert ("running string", ("running string",)) in made.missing
    assert made.runs[-1].hook is not None


def test_an_open_end_fills_by_itself():
    start, end = (
        BRINDLEWICK.index("    - {part: float shoe"),
        BRINDLEWICK.index("    - {part: joint, count: 2"),
    )
    text = (
        BRINDLEWICK[:start] + "    - {part: guide shoe, length: 1.8 ft, od: 7.656 in}\n" + BRINDLEWICK[end:]
    )
    text = changed(text, ("    - {part: float collar, length: 1.6 ft, od: 7.656 in}\n", ""))

    made = sheet(text)

    assert not made.closed_end
    assert said(made.runs[0]) == "no float: it fills by itself"
    assert sheet(BRINDLEWICK).closed_end


def test_pups_and_joints_of_a_filled_line_make_up_its_length():
    """Corrick 5: 51 joints of 40.1 ft and 21.6 ft of pups in 2 066.7 ft."""
    made = picks(check(load_text(demos()["corrick-5.yaml"])).plan.depth)
    line = [pick for pick in made if pick.section == "liner" and pick.what != "pup joint"]

    assert len(line) == 52
    assert line[-1].what == "pup joints"
    assert line[-1].length_m / FT == pytest.approx(21.6, abs=0.05)
    assert sum(pick.length_m for pick in line) / FT == pytest.approx(2_066.7, abs=0.05)


def test_the_area_of_a_slice_is_that_of_the_nest():
    """An inner string adds steel and takes fill, and no length."""
    tool = next(pick for pick in picks(check(load_text(BRINDLEWICK)).plan.depth) if pick.inner)
    (inner,) = tool.inner

    assert tool.length_m / FT == pytest.approx(30.0)
    assert inner.length_m / FT == pytest.approx(20.0)
    assert inner.outside_m2 == circle_m2(3.5 * IN)
