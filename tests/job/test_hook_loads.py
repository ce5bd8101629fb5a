"""Hook loads, set-down and overpull of the two worked wells of the trade reference, its section 5, and their laws.

Tolerance of weights 2 %: the source's own. Where a figure leaves the source, both numbers and the cause stand here.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schematic import resolve
from schematic.depth.plan import Plan
from schematic.engineering.drag import Motion
from schematic.engineering.hanging import pieces, running_pieces
from schematic.engineering.stretch import stretch
from schematic.engineering.wall import around
from schematic.engineering.weights import weigh, weights
from schematic.job.hook_loads import elongation, hook_load, hook_loads, torque_needs
from schematic.job.load_chart import frictions, load_chart, stand_m, stands
from schematic.job.measured_loads import friction_of_all, friction_says, readings
from schematic.job.overpull import overpull, overpull_limit
from schematic.job.set_down import available_n, buckled, buckled_running_in, set_down, transfers
from schematic.outcome import MissingInput
from schematic.units import FOOT_M, POUND_FORCE_N
from schematic.verbs import demos, load_text
from schematic.wellfile import edit
from schematic.wellfile.problem import InputError

KLBF, KN = 1000.0 * POUND_FORCE_N, 1000.0
UP, DOWN, TURN = Motion.PICKING_UP, Motion.SLACKING_OFF, Motion.ROTATING


def plan_of(well: str, *steps: tuple[str, str]) -> Plan:
    """A demo well after values set in place; a value of None takes the path out."""
    text = demos()[f"{well}.yaml"]
    for path, value in steps:
        if value is None:
            text = edit.remove(text, path)
        else:  # a value in braces goes in as keys of its own
            text = edit.set(text, path, "here" if value.startswith("{") else value).replace("here", value)
    return resolve(load_text(text))


BRINDLEWICK, SOLLIVANE = plan_of("brindlewick-4"), plan_of("sollivane-a7")
HELD = """record:
  - {step: run in, what: hook load picking up, at: 3982 m, value: 1472 kN}
  - {step: run in, what: hook load slacking off, at: 3982 m, value: 922 kN}
  - {step: run in, what: hook load rotating, at: 3982 m, value: 1152 kN}
"""


def measured(record: str = HELD, text: str = "") -> Plan:
    return resolve(
        load_text((text or demos()["sollivane-a7.yaml"]).replace("\nlimits:\n", f"\n{record}\nlimits:\n"))
    )


def test_weights_of_the_vertical_scenario():
    """Liner 90.6 in air, 73.2 in mud; string 224.9 and 181.6; hook 299.8 before and 226.6 after it hangs (klbf).

    Ours: liner 90.19 and 72.84. 3 110 ft of 29 lb/ft are 90.19; the file gives no weight for hanger, packer and receptacle
    (27.9 ft), which here weigh as pipe does. The source's 0.41 klbf more are 44 lb/ft for them, less than the 65 lb/ft
    that steel of their ODs and bores would weigh. The string is weighed from the rotary down, without stick-up.
    """
    found, loads = weights(BRINDLEWICK), hook_loads(BRINDLEWICK)
    block = loads.block_n

    assert found.liner.air_n / KLBF == pytest.approx(90.6, rel=0.02)
    assert found.liner.air_n / KLBF == pytest.approx(3110 * 29 / 1000, abs=0.005)
    assert found.liner.buoyed_n / KLBF == pytest.approx(73.2, rel=0.02)
    assert found.running.air_n / KLBF == pytest.approx(224.9, abs=0.05)
    # 224.9 printed times 0.8076 is 181.63: half a digit of the former is 0.04 here
    assert found.running.buoyed_n / KLBF == pytest.approx(181.6, abs=0.1)
    assert (loads.on_depth.rotating_n + block) / KLBF == pytest.approx(299.8, rel=0.02)
    assert (loads.alone.rotating_n + block) / KLBF == pytest.approx(226.6, rel=0.02)
    assert loads.liner_whole_n / KLBF == pytest.approx(73.2, rel=0.02)
    assert {"hydraulic hanger", "liner top packer", "tie-back receptacle"} <= set(loads.as_pipe)


@pytest.mark.parametrize(("motion", "printed"), [(UP, 1122), (TURN, 802), (DOWN, 572)])
def test_hook_loads_of_the_deviated_scenario(motion, printed):
    """Without the block; friction 0.22 and 0.30. Ours 1 123.9, 802.4 and 572.6: the source took steps of 5 m."""
    loads = hook_loads(SOLLIVANE)

    assert loads.on_depth.of(motion) / KN == pytest.approx(printed, rel=0.005)
    assert loads.block_n == 350 * KN


def test_the_weight_signal_of_the_deviated_scenario():
    """572 to 484 kN slacking off: 89 kN, not the liner's 328.6, nor 188.5 along the hole. Ours 323.4 and 185.5: 27.9 ft of
    hanger, packer and receptacle as pipe; 927 m x 43.2 kg/m x 0.8242 x 9.80665 are 323.7, 1.5 % under the source.
    """
    loads = hook_loads(SOLLIVANE)

    assert loads.alone.of(DOWN) / KN == pytest.approx(484, rel=0.02)
    assert loads.signal_n(DOWN) / KN == pytest.approx(89, rel=0.02)
    assert loads.liner_whole_n / KN == pytest.approx(328.6, rel=0.02)
    assert loads.liner_n / KN == pytest.approx(188.5, rel=0.02)
    assert loads.signal_n(TURN) == pytest.approx(loads.liner_n)
    assert loads.signal_n(UP) > loads.liner_n
    assert loads.signal_share(DOWN) == pytest.approx(89 / 922, rel=0.02)


def test_set_down_of_the_deviated_scenario():
    """220 kN on the packer wants 285 kN on the hook, 350 of block beside."""
    found = set_down(SOLLIVANE, 220 * KN)

    assert found.hook_n / KN == pytest.approx(285, rel=0.02)
    assert found.short_n == 0.0
    assert found.slack_off_n == pytest.approx(hook_loads(SOLLIVANE).alone.of(DOWN) - found.hook_n)


def test_no_more_gets_through_than_a_wound_pipe_lets():
    """All of the string slacked off brings 255 kN: from 220 kN on its foot the drill pipe winds along 1 700 m of tangent.

    Of 100 kN slacked off between 240 and 255 kN almost nothing arrives. Without winding it would be 459 kN. The source's
    "limit about 350 kN" is the reading of the block alone, below which the hook load cannot go.
    """
    most = available_n(SOLLIVANE)
    wanted = set_down(SOLLIVANE, 300 * KN)

    assert 240 * KN < most < 300 * KN
    assert wanted.at_top_n == pytest.approx(most)
    assert wanted.short_n == pytest.approx(300 * KN - most)
    assert wanted.hook_n == pytest.approx(0.0, abs=1.0)
    assert {pipe.name: pipe.state for pipe in wanted.buckled}["drill pipe"] == "helical"


def test_the_slack_off_limit_bounds_what_gets_there():
    limited = plan_of("sollivane-a7", ("installation.slack off limit", "150 kN"))

    found = set_down(limited, 220 * KN)

    assert found.slack_off_n == pytest.approx(150 * KN)
    assert found.at_top_n < 220 * KN
    assert available_n(limited) == pytest.approx(found.at_top_n, rel=1e-6)


def test_more_friction_brings_less_to_the_liner_top():
    low, own, high = transfers(SOLLIVANE, ((0.12, 0.20), (0.22, 0.30), (0.32, 0.40)))

    for one in (low, own, high):
        # up the hole and down again, by steps: within 0.1 % of the most, where pipe begins to wind
        grace = 1e-3 * one.points[-1][1]
        assert one.points[0] == (0.0, pytest.approx(0.0, abs=grace))
        forces = [force for _slack, force in one.points]
        assert all(b >= a - grace for a, b in zip(forces, forces[1:], strict=False))
    assert low.points[-1][1] > own.points[-1][1] > high.points[-1][1]


def test_without_friction_only_what_rests_is_told():
    loads = hook_loads(BRINDLEWICK)

    assert (loads.on_depth.up_n, loads.on_depth.down_n, loads.on_depth.torque_nm) == (None, None, None)
    for ask in (
        lambda: loads.signal_n(DOWN),
        lambda: set_down(BRINDLEWICK, 1.0),
        lambda: available_n(BRINDLEWICK),
        lambda: elongation(BRINDLEWICK),
        lambda: buckled_running_in(BRINDLEWICK),
    ):
        with pytest.raises(MissingInput) as needs:
            ask()
        assert needs.value.missing == ("installation.friction",)
    assert loads.signal_n(TURN) == pytest.approx(loads.liner_n)
    assert torque_needs(BRINDLEWICK) == ("installation.friction",)


def test_without_friction_buckling_is_told_at_its_least():
    with_drag = plan_of("brindlewick-4", ("installation.friction", "{cased: 0.25, open hole: 0.3}"))

    least = {pipe.name: pipe.compression_n for pipe in buckled(BRINDLEWICK, 50 * KLBF)}
    dragged = {pipe.name: pipe.compression_n for pipe in buckled(with_drag, 50 * KLBF)}

    assert all(dragged[name] >= push - 1.0 for name, push in least.items())


def test_the_weight_of_a_part_is_asked_for_by_name_and_only_where_it_hangs():
    plan = plan_of("sollivane-a7", ("running string.assembly.heavy-weight drill pipe.weight", None),
                   ("running string.assembly.heavy-weight drill pipe.pipe", None),
                   ("running string.assembly.heavy-weight drill pipe.od", "127 mm"))  # fmt: skip

    with pytest.raises(MissingInput) as needs:
        hook_loads(plan)
    assert needs.value.missing == ("weight of heavy-weight drill pipe",)
    assert hook_load(plan, 900.0).rotating_n > 0.0  # the liner alone, not yet on its string


def test_torque_asks_for_the_tool_joint():
    plan = plan_of("sollivane-a7", ("running string.assembly.drill pipe.tool joint", None))

    assert hook_loads(plan).on_depth.torque_nm is None
    assert torque_needs(plan) == ("tool joint of drill pipe",)


def test_torque_is_friction_of_the_side_force_on_tool_joints():
    """By hand in the tangent, where the side force is weight times sin 55: 0.22 x w sin 55 x 84.15 mm, pipe of 33.6 kg/m."""
    plan = SOLLIVANE
    more, less = (hook_load(plan, md).torque_nm for md in (3000.0, 2900.0))  # the shoe in casing

    w = 33.6 * (1.0 - 1380 / 7850) * 9.80665
    assert more - less > 0.22 * w * 0.8191 * 0.08415 * 100.0  # and the liner's pull on the build


def test_overpull_of_the_vertical_scenario():
    """5 in 19.5 lb/ft S-135, new: 135 000 psi x 5.2746 in2 = 712.1 klbf of body yield, at 90 %; the load at the rotary."""
    found = overpull(BRINDLEWICK)

    limit, why = overpull_limit(BRINDLEWICK)
    assert limit / KLBF == pytest.approx(0.9 * 712.1, rel=0.0005)
    assert why == "body yield of drill pipe; 3 others not known"
    assert {one.name: one.needs for one in found.unknown} == {
        "heavy-weight drill pipe": ("running string.assembly.3.pipe, its grade",),
        "running tool": ("running string.assembly.2.load rating",),
        "the rig": ("installation.hook load limit",),
    }
    pipe = next(one for one in found.bearings if one.name == "drill pipe")
    assert pipe.static_n == pytest.approx(hook_loads(BRINDLEWICK).on_depth.rotating_n)


def test_overpull_takes_the_rig_and_the_tool():
    limited = plan_of("brindlewick-4", ("installation.hook load limit", "500 klbf"))
    weak = plan_of("brindlewick-4", ("running string.assembly.running tool.load rating", "200 klbf"))

    assert overpull_limit(limited).limit_n / KLBF == pytest.approx(500 - 45)
    below = overpull_limit(weak)
    assert below.why.startswith("load rating of running tool")
    # on the tool hangs what is below it: the hook shows what hangs above beside
    above = [piece for piece in running_pieces(weak) if piece.name != "running tool"]
    assert below.limit_n == pytest.approx(200 * KLBF + weigh(weak, above, around(weak)).along_n)


def test_overpull_is_not_told_without_the_grade_of_the_pipe():
    """All hangs on the drill pipe: what the liner's own pipe bears must not be taken for the limit."""
    assert [one.path for one in overpull(SOLLIVANE).bearings] == ["liner"]
    with pytest.raises(MissingInput) as needs:
        overpull_limit(SOLLIVANE)
    assert needs.value.missing == ("running string.assembly.4.pipe, its grade",)
    rated = plan_of("sollivane-a7", ("running string.assembly.drill pipe.load rating", "1800 kN"))
    assert overpull_limit(rated) == (1800 * KN, "load rating of drill pipe; 3 others not known")


def test_elongation_at_rest_is_the_stretch():
    """The same Hooke's law: by true depth of each arc there, along the tension of the hanging string here."""
    found = elongation(SOLLIVANE)

    assert found.rotating_m == pytest.approx(stretch(SOLLIVANE).string_m, rel=1e-4)
    assert found.up_m > found.rotating_m > found.down_m
    assert found.between_m == pytest.approx(found.up_m - found.down_m)
    assert elongation(SOLLIVANE, liner=False).up_m < found.up_m


def test_the_stands():
    assert stand_m(BRINDLEWICK) / FOOT_M == pytest.approx(94.5)
    single = plan_of("brindlewick-4", ("running string.stand length", None))
    assert stand_m(single) / FOOT_M == pytest.approx(31.5)  # three joints are not taken for granted
    unknown = plan_of("brindlewick-4", ("running string.stand length", None),
                      ("running string.assembly.drill pipe.tool joint", None),
                      ("running string.assembly.drill pipe.joint length", None))  # fmt: skip
    with pytest.raises(MissingInput) as needs:
        stand_m(unknown)
    assert needs.value.missing == ("running string.stand length",)
    at = stands(BRINDLEWICK)
    assert at[0] / FOOT_M == pytest.approx(3110.0)  # all of the liner is in
    assert at[-1] == BRINDLEWICK.depth.liner.shoe_md_m
    assert BRINDLEWICK.depth.host.shoe_md_m in at
    assert list(at) == sorted(set(at))


def test_the_chart_ends_at_the_loads_on_depth():
    at = (1500.0, 3180.0, 3982.0)
    chart = load_chart(SOLLIVANE, at)
    own = next(curve for curve in chart.curves if curve.of_file)
    loads = hook_loads(SOLLIVANE)

    assert own.up_n[-1] == pytest.approx(loads.on_depth.of(UP) + 350 * KN)
    assert own.down_n[1] == pytest.approx(loads.at_host_shoe.of(DOWN) + 350 * KN)
    assert chart.rotating_n[-1] == pytest.approx(loads.on_depth.rotating_n + 350 * KN)
    assert [curve.friction for curve in chart.curves] == [
        (0.12, 0.20), (0.17, 0.25), (0.22, 0.30), (0.27, 0.35), (0.32, 0.40),
    ]  # fmt: skip
    for lesser, greater in zip(chart.curves, chart.curves[1:], strict=False):
        assert all(a <= b for a, b in zip(lesser.up_n, greater.up_n, strict=True))
        assert all(a >= b for a, b in zip(lesser.down_n, greater.down_n, strict=True))


def test_without_factors_the_chart_spans_what_is_published():
    """0.25 to 0.40 in water-base mud: a summary of SPE 11380. No curve is then the file's own."""
    spanned = [pair[0] for pair in frictions(BRINDLEWICK)]
    chart = load_chart(BRINDLEWICK, (3000.0,))

    assert min(spanned) <= 0.25 < 0.40 <= max(spanned)
    assert not any(curve.of_file for curve in chart.curves)


def test_what_was_measured_says_the_friction():
    """The source's own hook loads, 1 472 and 922 kN with the block, say its own 0.22 in casing and 0.30 in rock.

    Its 2 kN of rounding and step are 0.001 of friction. Turning says nothing of drag along the hole.
    """
    plan = measured()
    picked, slacked, turned = readings(plan)

    assert friction_says(plan, picked).cased == pytest.approx(0.22, abs=0.002)
    assert friction_says(plan, slacked).cased == pytest.approx(0.22, abs=0.002)
    assert friction_says(plan, slacked).open_hole == pytest.approx(0.30, abs=0.003)
    assert friction_says(plan, turned) is None
    both = friction_of_all(plan, readings(plan))
    assert both.cased == pytest.approx(0.22, abs=0.002)
    assert not both.same
    assert load_chart(plan, (3982.0,)).measured == (picked, slacked, turned)


def test_what_was_measured_speaks_without_factors_too():
    """At the host shoe all is in casing: one factor for both is the factor of casing."""
    load = hook_load(SOLLIVANE, 3180.0)
    record = f"record: [{{step: run in, what: Hook load picking up, at: 3180 m, value: {load.up_n / 1000 + 350:.3f} kN}}]"
    text = edit.remove(demos()["sollivane-a7.yaml"], "installation.friction")

    found = friction_says(plan := measured(record, text), readings(plan)[0])

    assert found.cased == pytest.approx(0.22, abs=1e-5)
    assert found.same


def test_a_reading_that_no_friction_gives_says_nothing():
    plan = measured("record: [{step: run in, what: hook load slacking off, at: 3982 m, value: 1300 kN}]")

    assert friction_says(plan, readings(plan)[0]) is None


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("what: hook load picking up, at: 3982 m, value: 1472", "write the unit"),
        ("what: hook load picking up, at: 3982 m, value: about 1500 kN", "begin with a number"),
        ("what: hook load slacking off, value: 922 kN", "write 'at'"),
    ],
)
def test_a_hook_load_that_does_not_read_is_a_problem_of_the_file(line, said):
    with pytest.raises(InputError) as refused:
        measured(f"record: [{{step: run in, {line}}}]")
    (problem,) = refused.value.problems
    assert said in problem.mend
    assert problem.line is not None


# --- laws ---------------------------------------------------------------------------------------------------


@settings(max_examples=25)
@given(
    st.floats(0.0, 0.5),
    st.floats(0.0, 0.5),
    st.floats(200.0, 3982.0),
    st.sampled_from([SOLLIVANE, BRINDLEWICK]),
)
def test_drag_never_helps_a_string(cased, rock, shoe_md_m, plan):
    shoe = min(shoe_md_m, plan.depth.liner.shoe_md_m)
    load = hook_load(plan, shoe, (cased, rock))

    assert load.of(UP) >= load.rotating_n - 1.0
    assert load.rotating_n >= load.of(DOWN) - 1.0


@pytest.mark.parametrize("well", ["brindlewick-4", "sollivane-a7", "tarnvale-h3"])
def test_without_friction_every_motion_weighs_what_hangs(well):
    plan = plan_of(well)
    for shoe in (500.0, 2000.0, plan.depth.liner.shoe_md_m):
        load = hook_load(plan, shoe, (0.0, 0.0))
        hangs = weigh(plan, pieces(plan, shoe), around(plan)).along_n
        assert load.rotating_n == pytest.approx(hangs)
        assert load.of(UP) == pytest.approx(hangs, rel=1e-6, abs=1.0)
        assert load.of(DOWN) == pytest.approx(hangs, rel=1e-6, abs=1.0)
        assert load.torque_nm in (None, 0.0)


def test_a_horizontal_liner_is_pushed_by_what_is_above():
    """Slacking off on depth the string above the horizontal is in compression: it snakes or winds, and says so."""
    plan = plan_of("tarnvale-h3")

    assert "horizontal liner" in {pipe.name for pipe in buckled_running_in(plan)}
    assert buckled_running_in(SOLLIVANE) == ()
