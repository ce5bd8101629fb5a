"""What no step may exceed, against hand calculations in the two worked wells of the trade reference, section 5.

Hydrostatic by hand is 0.0519481 psi/ft per ppg, 0.0980665 bar/m per sg. Limits of the reference: 300 psi (20 bar)
between bands, 0.8 of a band while circulating, 10 klbf over what lifts the tool, 0.9 of a rating.
"""

from __future__ import annotations

import pytest

from schematic.job.bounds import going_round, never
from schematic.job.setting import HANGER, TOOL
from schematic.job.steps import cards
from schematic.job.under_test import ABOVE, surface_bound, under_test
from schematic.outcome import Found, sentence
from schematic.units import PSI_PA
from schematic.verbs import demos, load_text, steps
from schematic.wellfile import edit
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated

BAR, KLBF, PER_PPG, PER_SG = 1e5, 4448.2216152605, 0.0519481, 0.0980665
HALDRY, CORRICK = demos()["haldry-2.yaml"], demos()["corrick-5.yaml"]
SEAT = ", ball seat: {ball: 1 3/4 in, seat: 1.50 in, shears at: 3400 psi +/- 10 %}"
PLAIN = edit.remove(BRINDLEWICK, "options")
NO_SEAT = (SEAT, ""), ("  seat: landing collar\n", "")
PUP = "    - {part: pup joint, length: 12.0 ft}\n"
COLLAR = PUP, PUP + "    - {part: stage collar, length: 2 ft, od: 8.2 in, opens at: 2000 psi +/- 5 %}\n"
MUD_PSI = 3.2 * PER_PPG * 9849.5  # 15.8 ppg at the host shoe, 12.6 ppg of mud: 1 637 psi


def card(text, code, *changes):
    found = cards(evaluated(text, *changes).job)
    return next(one for one in found if one.code == code)


def demo(text, code):
    return next(one for one in steps(load_text(text)) if one.code == code)


def psi(box):
    return box.figure.si / PSI_PA


def bar(box):
    return box.figure.si / BAR


def words(one, system="field"):
    says = [one.sub, *one.do, *one.look_for, *one.caution]
    says += [line for box in (one.now, one.next, one.never) for line in box.lines]
    says += [say for remedy in one.if_not for say in remedy]
    return " ".join(sentence(*say, system) for say in says)


@pytest.mark.parametrize("code", ["release-the-tool", "shear-the-seat", "bump-the-plug"])
def test_a_target_without_a_limit_is_not_released(code):
    """The file does not say what is set down on the tool: nobody knows what lifts it."""
    one = demo(HALDRY, code)

    assert one.now.figure is not None
    assert one.never.figure is None
    assert not one.released


def held(box, name="least"):
    """What a box says that the rock takes when nothing comes back, in Pa."""
    return next(say.figures[name].si for say in box.lines if name in say.figures)


def test_circulating_hung_tells_what_the_rock_takes():
    """50 klbf less 10 on 9.62 in2 lift the tool: 4 158 psi with returns; without them the leak-off test."""
    hung, other = card(BRINDLEWICK, "circulate-hung"), card(SOLLIVANE, "circulate-hung")

    assert psi(hung.never) == pytest.approx(4158, abs=1)
    assert held(hung.never) / PSI_PA == pytest.approx(MUD_PSI, abs=1)
    assert held(other.never) / 1e5 == pytest.approx(66.6, abs=0.05)
    assert "If returns stop: 1637 psi at most" in words(hung)


def test_heavy_cement_inside_leaves_the_rock_less():
    """130.3 bbl of cement in 0.01718 bbl/ft of drill pipe stand down to 7 577 ft, 1 260 psi over mud; 29.4 bbl of
    spacer to the plug and 0.6 below it, to 9 514 ft, are 101 psi.
    """
    pumped = card(BRINDLEWICK, "pump-spacer-and-cement")

    assert held(pumped.never) / PSI_PA == pytest.approx(MUD_PSI - 1260 - 101, abs=5)
    assert held(pumped.never, "first") / PSI_PA == pytest.approx(MUD_PSI, abs=1)
    assert "at most 1637 psi at the start, 278 psi at the end, or the rock breaks" in words(pumped)


def test_displacing_begins_with_the_least_room():
    """At the plug the columns add 514 less 141 psi; at the end 12.96 ppg stand at the host shoe, and 622 psi of lift
    hold the pressure back: 2 075 psi.
    """
    displaced = card(BRINDLEWICK, "displace-the-liner")

    assert held(displaced.never) / PSI_PA == pytest.approx(MUD_PSI - 514 + 141, abs=3)
    assert held(displaced.never, "last") / PSI_PA == pytest.approx(
        (15.8 - 12.96) * PER_PPG * 9849.5 + 622, abs=6
    )


@pytest.mark.parametrize("path", ["fluids.spacer.volume", "cement.excess"])
def test_without_the_train_no_limit_stands_in_its_place(path):
    text = edit.remove(PLAIN, path)

    for code in ("pump-spacer-and-cement", "displace-the-liner"):
        box = demo(text, code).never
        assert box.figure is None
        assert box.word == "not computed"


def test_without_fracture_pressures_the_rock_is_named():
    box = demo(edit.remove(PLAIN, "formation"), "circulate-hung").never

    assert psi(box) == pytest.approx(4158, abs=1)
    assert any("If returns stop: not known, needs formation" in sentence(*say, "field") for say in box.lines)


def test_a_collar_of_the_liner_bounds_what_goes_round():
    """1 900 less 300 psi, under the 1 637 of the rock."""
    box = card(BRINDLEWICK, "circulate-hung", COLLAR).never

    assert psi(box) == pytest.approx(1600, abs=0.5)


def test_a_seat_nobody_knows_may_be_below_the_collar():
    its = evaluated(PLAIN, COLLAR, *NO_SEAT, ("  ball: 1 3/4 in\n", ""))
    bound = never(its.plan, its.job.setting, HANGER)

    assert its.job.setting.liner_sees_ball is None
    assert bound.pressure_pa / PSI_PA == pytest.approx(1600, abs=0.5)
    assert "where the ball stops" in bound.unknown


def test_while_the_ball_lands_no_more_than_while_circulating():
    """1 000 psi of the program; without it 0.8 of 1 425; 65 bar."""
    given, bare = (
        card(BRINDLEWICK, "ball-on-seat", *change)
        for change in ((), (("  circulate up to: 1000 psi\n", ""),))
    )

    assert psi(given.never) == pytest.approx(1000, abs=0.5)
    assert psi(bare.never) == pytest.approx(0.8 * 1425, abs=0.5)
    assert bar(card(SOLLIVANE, "ball-on-seat").never) == pytest.approx(65, abs=0.05)


def test_a_collar_that_opens_first_bounds_circulating():
    """Opens from 0.95 x 1 000: 0.8 of it is 760 psi."""
    low = COLLAR[1].replace("2000 psi", "1000 psi")

    assert psi(card(BRINDLEWICK, "circulate-on-depth", (PUP, low)).never) == pytest.approx(760, abs=0.5)


def lap_tested(text, *changes):
    test = "  tests:\n    - {name: lap, kind: positive, surface pressure: 350 bar, hold: 30 min}\n"
    rating = "      sets at: 110 bar +/- 5 %\n"
    changes = (("  block weight: 320 kN\n", "  block weight: 320 kN\n" + test), *changes)
    return evaluated(text, *changes, (rating, rating + "      load rating: 3000 kN\n"))


def test_the_string_above_a_host_that_is_a_liner_bears_the_test_too():
    """9 5/8 in 47 lb/ft L-80, burst 6 870 psi (API TR 5C3 tables, from memory), 473.4 bar unrounded, open down to
    2 700 m: 0.9 of it less 0.44 sg over 2 700 m is 309.5 bar. The 7 in host, P-110, bears more.
    """
    its = lap_tested(HALDRY)
    test = its.job.proofs.positive[0]
    above = next(row for row in under_test(its.plan, test) if row.part.endswith(ABOVE))
    codes = [one.rule for one in its.outcomes if isinstance(one.answer, Found)]

    by_hand = 0.9 * 473.4 - 0.44 * PER_SG * 2700
    assert above.most_surface_pa / BAR == pytest.approx(by_hand, abs=0.5)
    assert surface_bound(its.plan, test).pressure_pa / BAR == pytest.approx(by_hand, abs=0.5)
    assert "test-bursts-host" in codes


def test_surface_equipment_and_earlier_tests_bound_the_lap_test():
    """1 500 psi at surface, 1 700 psi to which the host was tested: under the 1 879 of the hanger."""
    limit = "  seat: landing collar\n", "  seat: landing collar\n  surface pressure limit: 1500 psi\n"
    host = "    shoe: 9850 ft\n", "    shoe: 9850 ft\n    tested to: 1700 psi\n"

    for change, wanted in ((limit, 1500), (host, 1700)):
        assert psi(card(BRINDLEWICK, "test-the-lap", change).never) == pytest.approx(wanted, abs=0.5)


def test_what_lifts_the_tool_when_it_lets_go():
    """2 640 psi on 9.62 in2 of a 3.50 in slick joint is 25.4 klbf; 10 more are to be set down."""
    said = words(card(BRINDLEWICK, "release-the-tool"))

    assert "once it is free 2640 psi lifts it with 25.4 klbf" in said
    assert "35.4 klbf at least" in said


def test_the_tool_is_not_released_under_too_little_weight():
    """30 less 10 klbf on 9.62 in2: 2 079 psi, and it lets go at up to 2 640."""
    its = evaluated(BRINDLEWICK, ("set down on tool: 50 klbf", "set down on tool: 30 klbf"))
    bound = never(its.plan, its.job.setting, TOOL)

    assert bound.pressure_pa / PSI_PA == pytest.approx(20_000 / 9.6211, abs=1)
    assert bound.why.endswith("too low for this step")


def test_the_rule_counts_the_tool_where_nothing_lifts_more():
    """No seat; plug 1 540, bump 1 750, tool 2 640 psi: 25.4 klbf and 10 more are more than 30."""
    its = evaluated(PLAIN, *NO_SEAT, ("set down on tool: 50 klbf", "set down on tool: 30 klbf"))
    answer = next(one.answer for one in its.outcomes if one.rule == "tool-pumped-out")

    assert isinstance(answer, Found)
    assert answer.figures["pressure"].si / PSI_PA == pytest.approx(2640, abs=0.5)
    assert answer.figures["force"].si / KLBF == pytest.approx(25.4, abs=0.05)


def test_without_a_ball_nothing_is_said_of_a_seat():
    one = demo(CORRICK, "set-weight-on-the-tool")

    assert "seat" not in words(one)
    assert not any("seat" in need for lack in one.needs for need in lack.needs)
    assert "through the plug and the bump" in words(one)


def test_the_weight_holds_the_most_that_is_to_come():
    """The bump taken to 750 + 4 000 psi on 9.62 in2 lifts 45.7 klbf, more than the 36.0 of the seat."""
    seat = card(BRINDLEWICK, "set-weight-on-the-tool")
    bump = card(
        BRINDLEWICK, "set-weight-on-the-tool", ("bump over final: 1000 psi", "bump over final: 4000 psi")
    )

    assert seat.next.figure.si / KLBF == pytest.approx(36.0, abs=0.05)
    assert bump.next.figure.si / KLBF == pytest.approx(4.75 * 9.6211, abs=0.05)
    assert "Bump" in words(bump)
    assert "bump" in words(card(SOLLIVANE, "set-weight-on-the-tool"), "metric")  # not known, may be more


@pytest.mark.parametrize(
    ("text", "system", "wanted"),
    [
        (BRINDLEWICK, "field", "up to 1860 psi and no more"),  # 2 160 less 300
        (SOLLIVANE, "metric", "up to 119.5 bar and no more"),  # 139.5 less 20
        (HALDRY, "metric", "up to 128.5 bar and no more"),  # 148.5 less 20
    ],
)
def test_another_try_stays_under_the_limit(text, system, wanted):
    assert wanted in words(demo(text, "set-the-hanger"), system)


def test_the_gauge_shows_the_plug_less_what_the_columns_add():
    """1 260 to 1 540 psi at the plug, 373 of them columns: 887 to 1 167; 85.5 to 104.5 bar less 14.5."""
    one, other = card(BRINDLEWICK, "dart-meets-plug"), card(SOLLIVANE, "dart-meets-plug")
    plug = next(band for band in one.gauge.bands if band.mine)

    assert [plug.low_pa / PSI_PA, plug.high_pa / PSI_PA] == pytest.approx([887, 1167], abs=3)
    assert psi(one.next) == pytest.approx(1400 - 373, abs=3)
    assert "At the plug 1260 psi to 1540 psi" in words(one)
    assert "71.0 bar to 90.0 bar" in words(other, "metric")


def test_less_inside_squeezes_liner_host_and_packer():
    """Collapse of 9 5/8 in 47 lb/ft L-80 is 4 750 psi, of 7 in 29 lb/ft L-80 7 030 psi (API TR 5C3 tables, from
    memory); 185 kN along the hole on 54.5 cm2 of the liner, 34 MPa of 552, take 3 % off it.
    """
    one, other = card(BRINDLEWICK, "inflow-test"), card(SOLLIVANE, "inflow-test")

    assert psi(one.never) == pytest.approx(0.9 * 4750, abs=0.9 * 10)
    assert bar(other.never) == pytest.approx(0.9 * 7030 * PSI_PA / BAR * 0.97, rel=0.01)
    assert all("liner top packer" in words(each) for each in (one, other))


def test_the_inflow_card_goes_to_what_proves_the_lap():
    """The next mud leaves 2 330 psi at most and no more can be asked of it; 71 bar need 75; 60 min; oil in one."""
    one, other = card(BRINDLEWICK, "inflow-test"), card(SOLLIVANE, "inflow-test")

    assert psi(one.now) == pytest.approx(2330, abs=2)  # TRADE 5.1
    assert bar(other.now) == pytest.approx(75, abs=0.05)
    assert "Hold 60 min" in words(other, "metric")
    assert "Light oil" in words(other, "metric")
    assert "Light oil" not in words(one)
    assert "How long it is held is not in the file" in words(one)
    assert "[not computed]" not in words(one)
    assert ("installation.tests.inflow.hold",) in [lack.needs for lack in one.needs]
    assert "Bleed off to 44.6 bar at surface" in words(other, "metric")  # 119.6 bled off whole, less 75
    assert "Bleed off to" not in words(one)
    assert "Displace the inside to next mud" in words(one)


def test_an_uncemented_liner_is_tried_over_mud():
    text = edit.remove(PLAIN, "cement")
    text = edit.remove(text, "fluids.cement")

    assert psi(demo(text, "test-the-packer").never) == pytest.approx(MUD_PSI, abs=1)


def test_trying_the_packer_names_what_is_not_known_of_it():
    """6 000 psi of rating bound nothing: 0.9 of it is more than the host shoe takes, 1 453 psi; 1 000 do."""
    packer = "od: 8.312 in, id: 6.200 in, set down: 45 klbf"
    weak = card(BRINDLEWICK, "test-the-packer", (packer, packer + ", pressure rating: 1000 psi"))

    assert "liner top packer" in words(card(BRINDLEWICK, "test-the-packer"))
    assert psi(weak.never) == pytest.approx(900, abs=0.5)


def test_a_mechanical_hanger_does_not_set_by_pressure():
    for code in ("run-in-on-pipe", "run-to-depth", "circulate-on-depth"):
        one = demo(CORRICK, code)
        assert one.next.figure is None
        assert one.next.word == "none"
        assert not any("sets at" in need for lack in one.needs for need in lack.needs)


def test_turning_has_a_limit_of_its_own():
    bare = demo(CORRICK, "set-the-hanger-by-turning")
    assert "installation.torque limit" in words(bare)

    hanger = "      name: hydraulic hanger\n", "      type: mechanical\n"
    pins = "      sets at: 1500 psi +/- 5 %\n      held at: 1700 psi\n", ""
    limit = "  seat: landing collar\n", "  seat: landing collar\n  torque limit: 9000 ft*lbf\n"
    turned = card(BRINDLEWICK, "set-the-hanger-by-turning", hanger, pins, limit)
    assert turned.next.figure.si == pytest.approx(9000 * 1.3558179, rel=1e-6)


def test_the_pull_names_what_is_not_known():
    said = words(card(BRINDLEWICK, "pull-out-of-hole"))

    assert "heavy-weight drill pipe, running tool, the rig" in said
    assert "new pipe" in said


def test_pipe_that_winds_is_told_without_friction_too():
    """50 klbf on the tool puts the drill pipe above the HWDP into helical buckling: section 5.1."""
    one = card(BRINDLEWICK, "set-weight-on-the-tool")

    said = [sentence(*say, "field") for say in one.weight.says]
    assert "drill pipe buckles, helical" in said


def test_going_round_takes_the_least_of_its_states():
    its = evaluated(BRINDLEWICK)
    train = its.job.train
    places = [train.at(train.total_m3 * n / 10) for n in range(11)]
    each = [going_round(its.plan, its.job.setting, (place,)).pressure_pa for place in places]

    assert going_round(its.plan, its.job.setting, places).pressure_pa == min(each)


def test_what_the_light_fluid_leaves_is_told_beside_a_planned_differential():
    """119.6 bar bled off whole, 75 planned: 44.6 are held, as without the plan."""
    planned = card(SOLLIVANE, "inflow-test", ("hold: 60 min}", "differential: 75 bar, hold: 60 min}"))

    assert bar(planned.now) == pytest.approx(75, abs=0.05)
    assert planned.next.word == "across the lap if bled off whole"
    assert bar(planned.next) == pytest.approx(119.6, abs=0.1)
    assert "Bleed off to 44.6 bar at surface" in words(planned, "metric")


def test_an_inflow_test_that_proves_nothing_is_not_ordered():
    """With mud inside the lap bears nothing from outside; with oil to 1 000 m the 75 bar are not reached."""
    none = card(SOLLIVANE, "inflow-test", ("fluid: brine, light", "fluid: mud, light"))
    short = card(SOLLIVANE, "inflow-test", ("light fluid to: 3040 m", "light fluid to: 1000 m"))

    assert none.now.word == "no inflow"
    assert "nothing would be proved" in words(none, "metric")
    assert "Bring the differential" not in words(none, "metric")
    assert "Bleed off to" not in words(none, "metric")
    assert not short.released
    assert card(SOLLIVANE, "inflow-test").released


def test_of_a_zone_that_is_not_known_nobody_says_that_a_test_proves_nothing():
    """A card whose zone lacks its gradient, or that may have a stronger one, says what it needs, and is on hold."""
    gradient = ", gradient: 0.07355 bar/m", ""
    gas = (
        "name: Merrowick marl, md: 3420 m, rock: marl",
        "name: Merrowick marl, md: 3420 m, rock: marl, fluid: gas",
    )
    mud = "fluid: brine, light", "fluid: mud, light"
    for changes in ((gradient,), (gradient, mud), (gas, mud)):
        one = card(SOLLIVANE, "inflow-test", *changes)
        assert one.now.word == "not computed"
        assert any("gradient" in need for lack in one.needs for need in lack.needs)
        assert not one.released
        assert "nothing would be proved" not in words(one, "metric")
    assert card(SOLLIVANE, "inflow-test", gas).released


def test_a_lap_test_without_its_pressure_is_on_hold():
    one = card(BRINDLEWICK, "test-the-lap", ("surface pressure: 2619 psi, emw: 16.6 ppg, ", ""))

    assert one.now.figure is None
    assert not one.released


def test_where_the_column_inside_is_the_heavier_no_climb_to_nought_is_told():
    """Cement of 11.0 ppg outside under mud of 12.6 inside: no U-tube pushes back at the bump."""
    light = card(BRINDLEWICK, "displace-the-liner", ("density: 15.8 ppg", "density: 11.0 ppg"))

    assert "it climbs to" not in words(light)
    assert "the column inside stays the heavier" in words(light)
    assert "it climbs to 622 psi" in words(card(BRINDLEWICK, "displace-the-liner"))


def test_a_light_fluid_below_the_landing_collar_leaves_its_volume_open():
    """The collar stands at 3 944.42 m: nothing goes below it before it is drilled."""
    deep = card(SOLLIVANE, "inflow-test", ("light fluid to: 3040 m", "light fluid to: 3960 m"))

    assert any("above the landing collar" in need for one in deep.needs for need in one.needs)
