"""The well at a step: true diameters, nothing lost between the cuts, every state as it is, words that follow it."""

from __future__ import annotations

import math
import re
from itertools import pairwise

import pytest

from schematic.drawing.captions import THIN
from schematic.drawing.fills import Rect
from schematic.drawing.overlap import problems
from schematic.drawing.scene import Dots, Path, Scene, Text
from schematic.drawing.step_stands import bores, stands, surrounds
from schematic.drawing.step_string import tool_levels
from schematic.drawing.step_view import view
from schematic.drawing.step_well import well_at_step
from schematic.engineering.columns import Layer
from schematic.job import step_scene
from schematic.job.steps import cards
from schematic.units import FOOT_M, in_system
from schematic.verbs import check, demos, load_text
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated
from tests.drawing.step_cards import BUMP_METRIC, FT, SCENE, SET_THE_HANGER
from tests.drawing.torture import WELLS

BOX = Rect(8.0, 8.0, 104.0, 190.0)
BLUE, GREEN, GREY_STEEL, TINT, BLACK = "#0072b2", "#009e73", "#8c8c8c", "#dfe3e6", "#000000"
INCH_MM = 25.4


@pytest.fixture(scope="module")
def brindlewick():
    return evaluated(BRINDLEWICK)


@pytest.fixture(scope="module")
def sollivane():
    return evaluated(SOLLIVANE)


def drawn(evaluation, scene, system="field", before=None):
    return well_at_step(evaluation, scene, BOX, system, before)


def seen(evaluation, scene, system="field"):
    its = stands(evaluation, scene)
    return its, view(evaluation, scene, its, BOX, system)


def named(made):
    return {shape.text: shape for group in made.groups for shape in group.shapes if isinstance(shape, Text)}


def words(made):
    return " ".join(shape.text for group in made.groups for shape in group.shapes if isinstance(shape, Text))


def shapes(made, title):
    return [s for group in made.groups if group.title.startswith(title) for s in group.shapes]


def widest_mm(made, part, fill, evaluation, scene, system="field"):
    """The greatest real diameter of the filled shapes of a part, outlines counted."""
    axis = seen(evaluation, scene, system)[1].frame.axis_mm
    found = [
        abs(x - axis) + (0.5 * s.style.width_mm if s.style.stroke else 0.0)
        for group in made.groups
        if group.part == part
        for s in group.shapes
        if isinstance(s, Path) and s.style.fill == fill
        for run in s.runs
        for x, _y in run
    ]
    return 2.0 * max(found) * made.ratio


# diameters


@pytest.mark.parametrize(
    ("part", "fill", "inches"),
    [
        ("liner.assembly.0", BLUE, 7.656),  # float shoe
        ("liner.assembly.4", BLUE, 7.656),  # landing collar
        ("liner.assembly.5", BLUE, 7.375),  # joints: special clearance couplings
        ("liner.assembly.7", BLUE, 8.312),  # hanger
        ("liner.assembly.8", BLUE, 8.312),  # packer
        ("liner.assembly.9", BLUE, 8.250),  # receptacle
        ("running string.assembly.2", GREY_STEEL, 5.0),  # tool
        ("running string.assembly.1", GREY_STEEL, 3.5),  # inner string
    ],
)
def test_parts_are_as_wide_as_the_file_says(brindlewick, part, fill, inches):
    """Diameters of the well file, in inches there, read back through the ratio; 0.1 mm on paper."""
    scene = SCENE
    made = drawn(brindlewick, scene)
    found = widest_mm(made, part, fill, brindlewick, scene)
    assert found == pytest.approx(inches * INCH_MM, abs=0.2 * made.ratio)  # 0.1 mm on either side


def test_the_ball_is_as_large_as_the_file_says(brindlewick, sollivane):
    made = drawn(brindlewick, SET_THE_HANGER.scene)
    [ball] = [s for g in made.groups if g.title == "Ball" for s in g.shapes if isinstance(s, Dots)]
    assert 2.0 * ball.radius_mm * made.ratio == pytest.approx(1.75 * INCH_MM, abs=0.1 * made.ratio)
    in_tool = SCENE._replace(shoe_md_m=3982.0, plug_md_m=3061.0, ball_md_m=3055.0)
    made = drawn(sollivane, in_tool, "metric")
    [ball] = [s for g in made.groups if g.title == "Ball" for s in g.shapes if isinstance(s, Dots)]
    assert 2.0 * ball.radius_mm * made.ratio == pytest.approx(1.625 * INCH_MM, abs=0.1 * made.ratio)


@pytest.mark.parametrize("name", sorted(demos()))
def test_the_host_is_as_wide_as_the_plan_says(name):
    evaluation = check(load_text(demos()[name]))
    host = evaluation.plan.depth.host
    for card in cards(evaluation.job)[::5]:
        made = drawn(evaluation, card.scene)
        axis = seen(evaluation, card.scene)[1].frame.axis_mm
        faces = [
            abs(x - axis) + 0.5 * s.style.width_mm
            for group in made.groups
            if group.part == host.path
            for s in group.shapes
            if isinstance(s, Path) and s.style.fill is None and s.style.width_mm == 0.35
            for run in s.runs
            if len(run) == 2 and run[0][0] == run[1][0]
            for x, _y in run
        ]
        assert min(abs(2.0 * face * made.ratio - host.od_m * 1000.0) for face in faces) < 0.2 * made.ratio


def test_the_ratio_is_the_same_on_all_cards_of_a_well(brindlewick, sollivane):
    for evaluation in (brindlewick, sollivane):
        assert len({drawn(evaluation, card.scene).ratio for card in cards(evaluation.job)}) == 1


# nothing is lost


@pytest.mark.parametrize("system", ["field", "metric"])
@pytest.mark.parametrize("name", sorted(demos()))
def test_what_is_drawn_and_what_is_said_to_be_missing_make_the_whole_well(name, system):
    evaluation = check(load_text(demos()[name]))
    depth = evaluation.plan.depth
    whole = in_system(max(depth.td_md_m, depth.liner.shoe_md_m), "depth", system)
    for card in cards(evaluation.job):
        made = drawn(evaluation, card.scene, system)
        windows = seen(evaluation, card.scene, system)[1].windows
        shown = sum(in_system(w.bottom_md_m - w.top_md_m, "depth", system) for w in windows)
        cut = [
            float(found[1].replace(THIN, ""))
            for text in named(made)
            if (found := re.match(rf"([\d.{THIN}]+) (?:ft|m) (?:above |below )?not drawn$", text))
        ]
        assert shown + sum(cut) == pytest.approx(whole, abs=0.5 * len(cut) + 1e-6), card.code
        assert all(
            upper.bottom_mm < lower.top_mm - 2.4 for upper, lower in zip(windows, windows[1:], strict=False)
        )


@pytest.mark.parametrize("name", sorted(WELLS))
def test_nothing_reaches_into_a_gap_but_its_words(name):
    evaluation = check(load_text(WELLS[name]))
    for card in cards(evaluation.job)[::4]:
        made = drawn(evaluation, card.scene)
        windows = seen(evaluation, card.scene)[1].windows
        gaps = [(a.bottom_mm + 0.8, b.top_mm - 0.8) for a, b in zip(windows, windows[1:], strict=False)]
        for group in made.groups:
            leaders = any(
                isinstance(s, Dots) and len(s.centres) == 1 and s.radius_mm == 0.38 for s in group.shapes
            )
            if group.title == "lengths not drawn" or leaders:
                continue
            for shape in group.shapes:
                if isinstance(shape, Path):
                    ys = [y for run in shape.runs for _x, y in run]
                    assert not any(low < y < high for y in ys for low, high in gaps), (card.code, group.title)


def test_every_depth_named_is_at_its_level(brindlewick):
    scene = SET_THE_HANGER.scene
    made = drawn(brindlewick, scene)
    _its, its_view = seen(brindlewick, scene)
    for words_, md in (("Host shoe", 9850.0), ("Hole", 12600.0), ("Host coupling", 9520.4)):
        [group] = [
            g
            for g in made.groups
            for s in g.shapes
            if isinstance(s, Text) and s.text == f"{words_} {md:,.10g}".replace(",", THIN)
        ]
        [dot] = [s for s in group.shapes if isinstance(s, Dots)]
        assert dot.centres[0][1] == pytest.approx(its_view.frame.y(md * FOOT_M), abs=0.05)


# states


def test_slips_bite_the_host_only_when_set(brindlewick):
    axis = seen(brindlewick, SCENE)[1].frame.axis_mm
    host = brindlewick.plan.depth.host.id_m * 500.0

    def reach(scene, fill):
        made = drawn(brindlewick, scene)
        slips = [s for s in shapes(made, "Hydraulic hanger") if isinstance(s, Path) and s.style.fill == fill]
        return (
            max((abs(x - axis) for s in slips for run in s.runs for x, _y in run), default=0.0) * made.ratio
        )

    assert reach(SCENE._replace(slips_set=True), BLACK) > host
    assert reach(SCENE, BLACK) == 0.0
    assert 0.0 < reach(SCENE, "#ffffff") < host - 1.0
    assert "slips folded" in words(drawn(brindlewick, SCENE))
    assert f"Slips biting, 9{THIN}499 to 9{THIN}507" in words(
        drawn(brindlewick, SCENE._replace(slips_set=True))
    )


def test_the_packer_touches_the_host_only_when_set(brindlewick):
    axis = seen(brindlewick, SCENE)[1].frame.axis_mm
    host = brindlewick.plan.depth.host.id_m * 500.0

    def reach(scene):
        made = drawn(brindlewick, scene)
        soft = [
            s for s in shapes(made, "Liner top packer") if isinstance(s, Path) and s.style.fill == "#ffffff"
        ]
        return max(abs(x - axis) + 0.09 for s in soft for run in s.runs for x, _y in run) * made.ratio

    assert reach(SCENE._replace(packer_set=True)) == pytest.approx(host, abs=1.0)
    assert reach(SCENE) < host - 2.0


def test_dogs_stand_on_the_liner_top_when_out(brindlewick):
    out = SCENE._replace(dogs_out=True, raised_m=10.4 * FT, tool_released=True)
    its, its_view = seen(brindlewick, out)
    levels = tool_levels(out, its, its_view)
    assert levels.dogs[1] == pytest.approx(its_view.frame.y(its.top_md_m))
    made = drawn(brindlewick, out)
    dogs = [
        s
        for s in shapes(made, "Running tool")
        if isinstance(s, Path) and s.style.fill == "#ffffff"
    ]  # fmt: skip
    reach = max(abs(x - its_view.frame.axis_mm) for s in dogs for run in s.runs for x, _y in run)
    receptacle = brindlewick.plan.depth.liner.parts[0]
    assert its_view.frame.r(receptacle.id_m) < reach
    assert "Dogs out, on the liner top" in named(made)
    folded = drawn(brindlewick, SCENE)
    assert "Dogs folded" in named(folded)


def test_a_string_that_is_raised_stands_higher_and_one_that_is_out_is_gone(brindlewick):
    down, up = SCENE, SCENE._replace(raised_m=7.0 * FT, tool_released=True)
    foot = {
        scene.raised_m: stands(brindlewick, scene).foot_md_m for scene in (down, up)
    }  # fmt: skip
    assert foot[0.0] - foot[up.raised_m] == pytest.approx(7.0 * FT)
    assert "raised 7.0 ft" in words(drawn(brindlewick, up))
    gone = drawn(brindlewick, SCENE._replace(string_out=True, tool_released=True))
    fills = {s.style.fill for g in gone.groups for s in g.shapes if isinstance(s, Path)}
    assert GREY_STEEL not in fills
    assert not any(group.part.startswith("running string") for group in gone.groups)


def test_the_pack_off_stays_in_the_liner_until_the_travel_is_used_up(brindlewick):
    assert "Pack-off seals on 3.500 in" in named(drawn(brindlewick, SCENE._replace(raised_m=7.0 * FT)))
    assert "Pack-off lifted, on 3.500 in" in named(drawn(brindlewick, SCENE._replace(raised_m=10.4 * FT)))
    clear = named(drawn(brindlewick, SCENE._replace(raised_m=189.0 * FT)))
    assert any(text.startswith("Pack-off out of the liner") for text in clear)


def test_the_ball_rests_in_its_seat_or_is_on_its_way(brindlewick, sollivane):
    on_seat = drawn(brindlewick, SET_THE_HANGER.scene)
    assert "Ball 1 3/4 in on seat 1.500 in" in named(on_seat)
    falling = SCENE._replace(ball_md_m=6000 * FT)
    made = drawn(brindlewick, falling)
    [ball] = [s for g in made.groups if g.title == "Ball" for s in g.shapes if isinstance(s, Dots)]
    assert ball.centres[0][1] == pytest.approx(seen(brindlewick, falling)[1].frame.y(6000 * FT))
    assert f"Ball 1 3/4 in on its way at 6{THIN}000" in words(made)
    in_tool = drawn(sollivane, SCENE._replace(shoe_md_m=3982.0, plug_md_m=3061.0, ball_md_m=3055.0), "metric")
    assert "Ball 1 5/8 in on seat in the tool" in words(in_tool)


def test_the_plug_hangs_moves_and_lands(brindlewick):
    hanging = named(drawn(brindlewick, SCENE))
    moving = SCENE._replace(plug_md_m=11000 * FT, dart_md_m=11000 * FT, tool_released=True)
    landed = moving._replace(plug_md_m=12464.3 * FT, dart_md_m=12464.3 * FT, plug_latched=True)
    assert "Wiper plug, hanging on the tool" in hanging
    assert f"Dart in the plug at 11{THIN}000, on its way" in words(drawn(brindlewick, moving))
    assert "Dart and plug landed" in named(drawn(brindlewick, landed))
    for scene, md in ((moving, 11000 * FT), (landed, 12464.3 * FT)):
        made, its_view = drawn(brindlewick, scene), seen(brindlewick, scene)[1]
        stem = next(s for s in shapes(made, "Wiper plug") if isinstance(s, Path) and s.style.fill == BLACK)
        assert max(y for run in stem.runs for _x, y in run) == pytest.approx(its_view.frame.y(md), abs=0.01)


def test_a_dart_on_its_way_fills_the_bore_that_it_is_in(brindlewick):
    scene = SCENE._replace(dart_md_m=5000 * FT, tool_released=True)
    made, (its, its_view) = drawn(brindlewick, scene), seen(brindlewick, scene)
    fins = next(s for s in shapes(made, "Dart") if isinstance(s, Path) and not s.closed)
    reach = max(abs(x - its_view.frame.axis_mm) for run in fins.runs for x, _y in run)
    bore = min(r for top, bottom, r in bores(brindlewick, its, its_view.frame) if top <= 5000 * FT <= bottom)
    assert reach == pytest.approx(bore, abs=0.01)


def test_what_is_under_pressure_is_tinted_and_nothing_else(brindlewick):
    made = drawn(brindlewick, SET_THE_HANGER.scene)
    _its, its_view = seen(brindlewick, SET_THE_HANGER.scene)
    tint = [s for g in made.groups for s in g.shapes if isinstance(s, Path) and s.style.fill == TINT]
    collar = brindlewick.plan.depth.liner.find("landing collar")
    lowest = max(y for s in tint for run in s.runs for _x, y in run)
    assert made.pressure
    assert its_view.frame.y(collar.top_md_m) <= lowest < its_view.frame.y(collar.bottom_md_m)
    bore = max(abs(x - its_view.frame.axis_mm) for s in tint for run in s.runs for x, _y in run)
    assert bore <= its_view.frame.r(brindlewick.plan.depth.liner.parts[0].id_m) + 1e-6
    still = drawn(brindlewick, SCENE)
    assert not still.pressure
    assert not any(s.style.fill == TINT for g in still.groups for s in g.shapes if isinstance(s, Path))


def test_ports_show_only_under_pressure(brindlewick):
    assert "Ports, pressure in" in named(drawn(brindlewick, SET_THE_HANGER.scene))
    assert "Ports, pressure in" not in named(drawn(brindlewick, SCENE))


def tints(made):
    return [s for g in made.groups for s in g.shapes if isinstance(s, Path) and s.style.fill == TINT]


def test_a_seat_in_the_tool_presses_the_hanger_below_it_by_a_way_that_is_not_drawn(sollivane):
    """The ball is at 3 055 m, the hanger from 3 062 to 3 065.05 m (TRADE 5.2): nothing is tinted between."""
    its = cards(sollivane.job)
    for code in ("ball-on-seat", "set-the-hanger", "release-the-tool"):
        scene = next(card.scene for card in its if card.code == code)
        made, (_its, its_view) = drawn(sollivane, scene, "metric"), seen(sollivane, scene, "metric")
        y = its_view.frame.y
        edges = [(run[0][1], run[2][1]) for s in tints(made) for run in s.runs]
        assert any(y(3062.0) < top < bottom <= y(3065.05) for top, bottom in edges)
        assert not any(top < y(3061.5) < bottom for top, bottom in edges)
        assert {"Piston, under pressure", "Tool's ports: place not given"} <= set(named(made))
        assert "Ports, pressure in" not in named(made)
        assert any("from tool to hanger" in what for what in made.left_out)
    proved = next(card.scene for card in its if card.code == "prove-the-release")
    assert "Piston, under pressure" not in named(drawn(sollivane, proved, "metric"))
    assert not drawn(sollivane, proved, "metric").pressure


@pytest.mark.parametrize("code", ["test-the-packer", "test-the-lap"])
def test_a_test_from_above_presses_on_packer_and_plug(brindlewick, code):
    """Packer top 9 490.4 ft, plug on the collar at 12 464.3 ft; the host is the wider of the two bores."""
    scene = step_scene.scene(brindlewick.job, code)
    made, (_its, its_view) = drawn(brindlewick, scene), seen(brindlewick, scene)
    frame, depth = its_view.frame, brindlewick.plan.depth
    spans = [
        (max(x - frame.axis_mm for x, _y in run), max(y for _x, y in run))
        for s in tints(made)
        for run in s.runs
    ]
    around = [y for wide, y in spans if wide == pytest.approx(frame.r(depth.host.id_m))]
    assert max(around) == pytest.approx(frame.y(9490.4 * FT), abs=0.01)
    assert max(y for _wide, y in spans) == pytest.approx(frame.y(12464.3 * FT), abs=0.01)


def test_a_test_that_is_on_hold_is_drawn_without_pressure(brindlewick):
    """The lap test of Brindlewick 4 would load the hanger beyond its rating."""
    shown = {
        card.code: (card.released, drawn(brindlewick, card.scene).pressure) for card in cards(brindlewick.job)
    }
    assert shown["test-the-packer"] == (True, True)
    assert shown["test-the-lap"] == (False, False)


def test_a_tool_that_is_picked_up_stands_in_the_receptacle_at_the_rotary(brindlewick):
    scene = next(card.scene for card in cards(brindlewick.job) if card.code == "pick-up-the-hanger")
    made = drawn(brindlewick, scene)
    assert "Running tool, made up" in named(made)
    assert any(s.style.fill == GREY_STEEL for s in shapes(made, "Running tool") if isinstance(s, Path))


def test_a_release_is_told_as_let_go_then_proved_short_of_the_travel_then_set_down(brindlewick, sollivane):
    """The slick joint travels 7.0 ft (TRADE 5.1); Sollivane's file does not say how far."""
    scenes = {card.code: card.scene for card in cards(brindlewick.job)}
    steps = "set-the-hanger", "release-the-tool", "prove-the-release", "set-weight-on-the-tool"
    told = [words(drawn(brindlewick, scenes[b], before=scenes[a])) for a, b in pairwise(steps)]
    assert "let go, not yet proved" in told[0]
    assert "raised well short of 7.0 ft" in told[1]
    assert 0.0 < scenes["prove-the-release"].raised_m < 7.0 * FT
    assert "set down again" in told[2]
    states = {card.code: dict(card.state) for card in cards(sollivane.job)}
    assert states["prove-the-release"]["string"] == "raised, not drawn: travel not given"
    assert states["release-the-tool"]["tool"] == "let go, not yet proved"


def test_fluids_are_named_in_the_bore_and_not_on_the_steel_of_shoe_or_collar(brindlewick):
    scene = next(card.scene for card in cards(brindlewick.job) if card.code == "bump-the-plug")
    made, (its, its_view) = drawn(brindlewick, scene), seen(brindlewick, scene)
    dots = [s.centres[0] for g in made.groups if g.part == "fluids.cement" for s in g.shapes
            if isinstance(s, Dots) and len(s.centres) == 1]  # fmt: skip
    assert dots
    solid = [p for p in its.liner if p.kind in ("float shoe", "float collar", "landing collar")]
    y = its_view.frame.y
    for _x, level in dots:
        assert not any(y(part.top_md_m) < level < y(part.bottom_md_m) for part in solid)


def test_arrows_follow_the_flow(brindlewick):
    """Down in the string and up outside, or the other way round."""

    def tips(scene):
        made = drawn(brindlewick, scene)
        axis = seen(brindlewick, scene)[1].frame.axis_mm
        [heads] = [s for s in shapes(made, "Flow") if isinstance(s, Path) and s.closed]
        return {("in" if abs(run[2][0] - axis) < 0.1 else "out", run[2][1] > run[0][1]) for run in heads.runs}

    assert tips(SCENE._replace(ports="down the string")) == {("in", True), ("out", False)}
    clear = SCENE._replace(ports="reverse", raised_m=189 * FT, tool_released=True)
    assert tips(clear) == {("in", False), ("out", True)}
    assert drawn(brindlewick, SCENE).flow == ""


# fluids


def test_cement_stands_where_the_scene_says(sollivane):
    """Dots of cement outside lie between liner and wall, inside in the bore, each within its depths."""
    scene = BUMP_METRIC.scene
    made, (its, its_view) = drawn(sollivane, scene, "metric"), seen(sollivane, scene, "metric")
    axis, frame = its_view.frame.axis_mm, its_view.frame
    found = 0
    for fluid, side, top, bottom in (
        ("Lead", "outside", 2995.0, 3550.0),
        ("Tail", "outside", 3550.0, 3985.0),
        ("Tail", "inside", 3944.42, 3982.0),
    ):
        for shape in shapes(made, f"{fluid}, {side}"):
            if not isinstance(shape, Dots):
                continue
            assert shape.style.fill == GREEN
            for x, y in shape.centres:
                found += 1
                assert frame.y(top) <= y <= frame.y(bottom)
                md = frame.scale.md_m(y)
                wall = max(r for _a, _b, r in surrounds(sollivane, frame, md - 0.01, md + 0.01))
                assert abs(x - axis) + shape.radius_mm <= wall
                if side == "inside":
                    assert abs(x - axis) + shape.radius_mm <= frame.r(sollivane.plan.depth.liner.id_m)
                elif 3060.0 < md < its.shoe_md_m:
                    assert abs(x - axis) - shape.radius_mm >= frame.r(sollivane.plan.depth.liner.od_m) - 0.01
    assert found > 200


def test_what_is_pumped_stands_in_the_string_down_to_its_end(brindlewick):
    layers = (
        Layer("cement", 0.0, 9485 * FT, 1893.3),
        Layer("spacer", 9485 * FT, 9515 * FT, 1629.6),
        Layer("mud", 9515 * FT, 12590 * FT, 1509.8),
    )
    scene = SCENE._replace(inside=layers, tool_released=True)
    made, y = drawn(brindlewick, scene), seen(brindlewick, scene)[1].frame.y
    [cement] = [s for s in shapes(made, "Cement, inside") if isinstance(s, Dots)]
    assert y(9480 * FT) < max(centre for _x, centre in cement.centres) < y(9485 * FT)
    ends = [y_ for s in shapes(made, "Spacer, inside") for run in s.runs for _x, y_ in run]
    assert y(9485 * FT) - 1e-6 <= min(ends)
    assert max(ends) == pytest.approx(y(9515 * FT), abs=1e-6)
    assert f"Cement 15.8 ppg inside, down to 9{THIN}485" in words(made)
    assert f"Spacer 13.6 ppg inside, down to 9{THIN}515" in words(made)


def test_a_top_that_nobody_knows_is_not_printed(sollivane):
    scene = BUMP_METRIC.scene
    cut = scene._replace(outside=scene.outside[1:], left_known=False)  # without the mud above the spacer
    said = words(drawn(sollivane, cut, "metric"))

    assert "Spacer 1.50 sg, top not known" in said
    assert f"top 2{THIN}600" not in said
    assert f"Lead 1.62 sg, top 2{THIN}995" in said


def test_fluids_are_named_with_weight_and_where_they_end(sollivane):
    said = words(drawn(sollivane, BUMP_METRIC.scene, "metric"))
    for text in (
        f"Spacer 1.50 sg, top 2{THIN}600",
        f"Lead 1.62 sg, top 2{THIN}995",
        f"Tail 1.90 sg, top 3{THIN}550",
        "Tail 1.90 sg inside",
        "Mud 1.38 sg",
    ):
        assert text in said


def test_every_meeting_of_fluids_is_seen(sollivane):
    its_view = seen(sollivane, BUMP_METRIC.scene, "metric")[1]
    for md in (2600.0, 2995.0, 3550.0, 3944.42):
        assert its_view.shown(md - 1.0, md + 1.0)


def test_a_spacer_is_hatched_within_its_depths(sollivane):
    scene = BUMP_METRIC.scene
    made, its_view = drawn(sollivane, scene, "metric"), seen(sollivane, scene, "metric")[1]
    lines = [s for s in shapes(made, "Spacer, outside") if isinstance(s, Path)]
    ys = [y for s in lines for run in s.runs for _x, y in run]
    assert its_view.frame.y(2600.0) - 1e-6 <= min(ys)
    assert max(ys) <= its_view.frame.y(2995.0) + 1e-6


# what matters, what is missing


def test_what_changed_since_the_step_before_is_bold(brindlewick):
    before, now = SCENE, SCENE._replace(slips_set=True)
    strong = {text for text, shape in named(drawn(brindlewick, now, before=before)).items() if shape.bold}
    assert f"Slips biting, 9{THIN}499 to 9{THIN}507" in strong
    assert not any("packer" in text for text in strong)
    packed = now._replace(packer_set=True)
    strong = {text for text, shape in named(drawn(brindlewick, packed, before=now)).items() if shape.bold}
    assert "Liner top packer, set" in strong
    assert not any("Slips" in text for text in strong)


def test_without_a_liner_the_hole_shows_where_it_will_bite(brindlewick):
    made = drawn(brindlewick, SCENE._replace(shoe_md_m=None, string_out=True))
    assert BLUE not in {s.style.fill for g in made.groups for s in g.shapes if isinstance(s, Path)}
    assert f"Slips are to bite 9{THIN}499 to 9{THIN}507" in words(made)
    assert f"Liner top is to stand at 9{THIN}480" in words(made)


def test_a_string_that_the_file_does_not_give_is_said_not_drawn():
    evaluation = check(load_text(WELLS["no running string"]))
    made = drawn(evaluation, SCENE)
    assert made.left_out == ("running string (not given)",)
    assert GREY_STEEL not in {s.style.fill for g in made.groups for s in g.shapes if isinstance(s, Path)}


def test_a_part_without_od_or_bore_is_said_not_drawn():
    evaluation = evaluated(
        BRINDLEWICK,
        ("part: running tool, length: 30 ft, od: 5 in, id: 3.00 in, mass: 1200 lb", "part: running tool, length: 30 ft, id: 3.00 in"),
    )  # fmt: skip
    made = drawn(evaluation, SCENE)
    assert "OD or bore not given" in words(made)
    tool = [s for s in shapes(made, "Running tool") if isinstance(s, Path) and s.style.fill == GREY_STEEL]
    assert not tool
    assert problems(Scene(210.0, 297.0, "", "", tuple(made.groups))) == []


def test_strings_that_have_no_room_are_said_not_drawn(brindlewick):
    at_surface = SCENE._replace(shoe_md_m=3110 * FT, string_out=True)
    assert set(drawn(brindlewick, at_surface).left_out) == {"conductor", "surface casing"}
    assert "Rotary table 0" in named(drawn(brindlewick, at_surface))


@pytest.mark.parametrize("height", [80.0, 110.0, 240.0])
@pytest.mark.parametrize("name", ["crowded liner top", "forty parts", "liner in liner", "ninety degrees"])
def test_names_that_have_no_room_are_counted(name, height):
    evaluation = check(load_text(WELLS[name]))
    scene = next(card.scene for card in cards(evaluation.job) if card.code.startswith("displace-"))
    made = well_at_step(evaluation, scene, Rect(8.0, 8.0, 98.0, 8.0 + height), "field")
    assert problems(Scene(210.0, 297.0, "", "", tuple(made.groups))) == []


def test_a_fluid_that_is_not_drawn_is_said(brindlewick, sollivane):
    """Sollivane's inflow test puts base oil in (TRADE 5.2); where it stands the file leaves to the test."""
    scene = next(card.scene for card in cards(sollivane.job) if card.code == "inflow-test")
    assert "fluid above the plug" in drawn(sollivane, scene, "metric").left_out
    assert drawn(brindlewick, SCENE).left_out == ()


def test_a_layer_that_is_not_of_the_plan_is_drawn_as_mud(brindlewick):
    scene = SCENE._replace(inside=(Layer("water", 0.0, 12590 * FT, 1000.0),))
    made = drawn(brindlewick, scene)
    assert any(text.startswith("Water 8.3") for text in named(made))
    assert not shapes(made, "Water, inside")


def test_the_well_stays_within_its_rectangle(brindlewick, sollivane):
    for evaluation in (brindlewick, sollivane):
        for card in cards(evaluation.job):
            made = drawn(evaluation, card.scene)
            points = [
                point
                for g in made.groups
                for s in g.shapes
                if not isinstance(s, Text)
                for point in (s.centres if isinstance(s, Dots) else [p for run in s.runs for p in run])
            ]
            assert BOX.left_mm - 0.6 <= min(x for x, _y in points)
            assert max(x for x, _y in points) <= BOX.right_mm
            assert BOX.top_mm - 0.8 <= min(y for _x, y in points)
            assert max(y for _x, y in points) <= BOX.bottom_mm + 1e-6
            assert all(math.isfinite(x) and math.isfinite(y) for x, y in points)
