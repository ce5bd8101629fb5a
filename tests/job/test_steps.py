"""The step cards: which steps a plan has, what they say, and that nothing is told that is not known."""

from __future__ import annotations

import re

import pytest

from schematic.export.installation import events_table
from schematic.job.card import Box, Say
from schematic.job.facts import FACTS
from schematic.job.picks import without_assembly
from schematic.job.step_texts import step_texts
from schematic.job.step_words import words_of
from schematic.job.steps import cards
from schematic.outcome import Figure, sentence
from schematic.units import BARREL_M3, PSI_PA
from schematic.verbs import check, demos, load_text, steps
from schematic.wellfile import edit
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated

DEMOS = list(demos())
HYDRAULIC = "      sets at: 1500 psi +/- 5 %\n      held at: 1700 psi\n"


def made(text, *changes):
    return cards(evaluated(text, *changes).job)


def codes(its):
    return [card.code for card in its]


def by_code(its, code):
    return next(card for card in its if card.code == code)


def _lines(text):
    return *text.sub, *text.do, *text.pressure, *text.volume, *text.look_for, *text.caution


def all_texts():
    for text in step_texts():
        yield from (line.text for line in _lines(text))
        for remedy in text.if_not:
            yield from (remedy.question, remedy.action)


def test_every_blank_of_the_texts_has_its_figure_and_every_figure_its_blank():
    blanks = {name for text in all_texts() for name in re.findall(r"{(\w+)}", text)}
    elsewhere = {"travel", "tool_set_down", "pump_out", "test_pressure", "u_tube", "dogs_travel"}
    elsewhere |= {"final", "inflow_needed", "bottoms_up_counted"}

    assert blanks <= set(FACTS)
    assert set(FACTS) - blanks <= elsewhere


def test_every_condition_of_the_texts_can_hold():
    """Each word that a line asks for holds for a demo well or a change of one."""
    asked = {
        word.removeprefix("no ")
        for text in step_texts()
        for when in (
            text.when,
            *(line.when for line in _lines(text)),
            *(r.when for r in text.if_not),
        )
        for word in when
    }
    turned = evaluated(
        BRINDLEWICK,
        ("      name: hydraulic hanger\n", "      type: mechanical\n"),
        (HYDRAULIC, ""),
        ("  tool releases at: 2400 psi +/- 10 %\n", "  tool releases by: turning\n"),
    )
    expandable = evaluated(BRINDLEWICK, ("      name: hydraulic hanger\n", "      type: expandable\n"))
    anywhere = evaluated(BRINDLEWICK, ("      located by: host tally\n", ""))
    strong = evaluated(SOLLIVANE, ("fluid: brine, light", "fluid: mud, light"))
    line = {"step": "dart meets plug", "what": "volume pumped", "value": "163 bbl"}
    late = check(load_text(edit.insert(BRINDLEWICK, "record", line)))
    bump = line | {"step": "bump", "value": "272.5 bbl"}
    both = check(load_text(edit.insert(edit.insert(BRINDLEWICK, "record", line), "record", bump)))
    wells = [late, both, *(check(load_text(text)) for text in demos().values())]
    known = set().union(*(words_of(well.job) for well in (*wells, turned, expandable, anywhere, strong)))

    assert asked <= known | {"released"}  # a word of the card: see the test of one that is not


def test_the_steps_of_the_vertical_well_come_in_order():
    its = made(BRINDLEWICK)

    assert [card.number for card in its] == list(range(1, 28))
    wanted = ["ball-on-seat", "set-the-hanger", "release-the-tool", "prove-the-release", "set-weight-on-the-tool",
              "shear-the-seat", "pump-spacer-and-cement", "dart-meets-plug", "displace-the-liner", "bump-the-plug",
              "set-the-packer", "pull-out-and-reverse", "pull-out-of-hole", "test-the-lap", "inflow-test"]  # fmt: skip
    assert [code for code in codes(its) if code in wanted] == wanted


def test_a_mechanical_hanger_is_set_by_turning():
    its = codes(
        made(BRINDLEWICK, ("      name: hydraulic hanger\n", "      type: mechanical\n"), (HYDRAULIC, ""))
    )

    assert "set-the-hanger-by-turning" in its
    assert "set-the-hanger" not in its


def test_a_tool_that_is_turned_off_has_no_pressure():
    its = made(BRINDLEWICK, ("  tool releases at: 2400 psi +/- 10 %\n", "  tool releases by: turning\n"))

    assert "release-the-tool-by-turning" in codes(its)
    assert "release-the-tool" not in codes(its)
    assert by_code(its, "set-the-hanger").next.figure.si / PSI_PA == pytest.approx(3060, abs=0.5)


def test_a_tool_of_which_nothing_is_said_stops_the_pressure_before_it():
    """Its pressure may be the next: no limit is told for the hanger, and none for the tool."""
    its = made(BRINDLEWICK, ("  tool releases at: 2400 psi +/- 10 %\n", ""))

    for code in ("set-the-hanger", "release-the-tool"):
        card = by_code(its, code)
        assert card.never.word == "not computed"
        assert any("installation.tool releases at" in one.needs for one in card.needs)


def test_without_a_packer_none_is_set():
    packer = "    - {part: liner top packer, length: 7.9 ft, od: 8.312 in, id: 6.200 in, set down: 45 klbf}\n"
    its = codes(made(BRINDLEWICK, (packer, "")))

    assert not {"set-the-packer", "test-the-packer"} & set(its)


def test_without_cement_nothing_is_pumped_behind_a_dart():
    text = edit.remove(edit.remove(BRINDLEWICK, "options"), "cement")
    its = codes(steps(load_text(edit.remove(text, "fluids.cement"))))

    cementing = {
        "pump-spacer-and-cement",
        "dart-meets-plug",
        "bump-the-plug",
        "wait-on-cement",
        "pull-out-and-reverse",
    }
    assert not cementing & set(its)
    assert "pull-clear" in its


def test_the_ball_is_pumped_where_the_hole_leans_and_falls_where_it_does_not():
    vertical, deviated = (by_code(made(text), "ball-on-seat") for text in (BRINDLEWICK, SOLLIVANE))

    # 12 464 ft at 250 and at 150 ft/min (TRADE, D1)
    assert any("falls 50 min to 83 min" in sentence(*say, "field") for say in vertical.do)
    assert any("leans too much" in sentence(*say, "metric") for say in deviated.do)


def test_the_figures_of_setting_the_hanger_are_those_of_the_trade_reference():
    """Section 5.1: 1 700 held, tool from 2 160; hook load 299.8 to 226.6 klbf within 2 %."""
    card = by_code(made(BRINDLEWICK), "set-the-hanger")

    assert card.now.figure.si / PSI_PA == pytest.approx(1700, abs=0.5)
    assert card.next.figure.si / PSI_PA == pytest.approx(2160, abs=0.5)
    assert card.weight.before_n / 4448.222 == pytest.approx(299.8, rel=0.02)
    assert card.weight.after_n / 4448.222 == pytest.approx(226.6, rel=0.02)


def test_the_small_sign_of_the_deviated_well_is_said():
    """Section 5.2: 572 to 484 kN slacking off, about 89 of the liner's 329: prove by pressure and travel."""
    card = by_code(made(SOLLIVANE), "set-the-hanger")

    assert (card.weight.before_n - card.weight.after_n) / 1000 == pytest.approx(89, rel=0.02)
    assert any("prove it by pressure and by travel" in say.text for say in card.weight.says)


def test_a_step_beyond_its_limit_is_not_released():
    """The lap test of the vertical well loads the hanger with 228 klbf; 184 are allowed."""
    card = by_code(made(BRINDLEWICK), "test-the-lap")

    assert not card.released
    assert card.now.figure.si > card.never.figure.si


@pytest.mark.parametrize("file", DEMOS)
@pytest.mark.parametrize("system", ["field", "metric"])
def test_every_card_of_every_well_can_be_read(file, system):
    its = steps(load_text(demos()[file]))

    assert len(its) >= 15
    for card in its:
        says = [card.sub, *card.do, *card.look_for, *card.caution, *card.now.lines, *card.never.lines]
        says += [say for one in card.if_not for say in one]
        for say in (*says, *card.pressure, *card.volume):
            assert isinstance(say, Say)
            assert "{" not in sentence(say.text, say.figures, system)
        assert card.pressure
        assert card.volume
        assert card.look_for
        assert card.if_not
        assert card.as_read


@pytest.mark.parametrize("file", DEMOS)
def test_what_is_not_computed_shows_no_figure_and_says_what_it_needs(file):
    for card in steps(load_text(demos()[file])):
        for box in (card.now, card.next, card.never):
            if box.word == "not computed":
                assert box.figure is None
                assert any("needs" in line.text for line in box.lines)
        known = {name for one in card.needs for name in one.needs}
        missing = [
            v for say in card.do for v in say.figures.values() if isinstance(v, str) and v.startswith("[not")
        ]
        assert all(any(name in text for name in known) for text in missing)


REMOVED = [
    "fluids.mud.plastic viscosity",
    "formation",
    "liner.assembly.liner hanger.load rating",
    "liner.assembly.liner hanger.sets at",
    "installation.tool releases at",
    "installation.set down on tool",
    "installation.block weight",
    "installation.tests",
    "running string",
    "cement.excess",
    "fluids.spacer.volume",
    "cement.schedule",
    "cement.clock",
]


@pytest.mark.parametrize("path", REMOVED)
def test_a_missing_input_leaves_the_rest_and_no_figure_of_its_own(path):
    """All cards still come; no figure of a box is other than with the input, or it is gone and says so."""
    text = edit.remove(BRINDLEWICK, "options")
    whole = {card.code: card for card in steps(load_text(text))}
    left = steps(load_text(edit.remove(text, path)))

    assert len(left) >= 20
    for card in left:
        before = whole.get(card.code)
        if before is None:
            continue
        for now, then in zip(
            (card.now, card.next, card.never), (before.now, before.next, before.never), strict=True
        ):
            assert _same_or_gone(now, then, path), (card.code, path)


def _same_or_gone(now: Box, then: Box, path: str) -> bool:
    if now.figure is None:
        return True
    if then.figure is not None and now.figure == then.figure:
        return True
    # a bound that is gone leaves the next one; a figure in another unit is another thing to tell
    return isinstance(now.figure, Figure) and (
        then.figure is None or path.startswith(("installation", "liner", "cement", "running", "formation"))
    )


def said(card):
    """All that a card says, in field units."""
    says = [card.sub, *card.do, *card.look_for, *card.caution, *(one for it in card.if_not for one in it)]
    says += [line for box in (card.now, card.next, card.never) for line in box.lines]
    return "\n".join(sentence(*say, "field") for say in says)


UNTYPED = ("      name: hydraulic hanger\n", ""), (HYDRAULIC, "")


@pytest.mark.parametrize(
    "change", [UNTYPED, (("      name: hydraulic hanger\n", "      type: expandable\n"),)]
)
def test_every_hanger_is_set_before_the_tool_lets_go(change):
    """TRADE 1.6: 11 before 12, whatever the hanger."""
    its = made(BRINDLEWICK, *change)
    at = codes(its).index("set-the-hanger-as-its-maker-says")

    assert codes(its)[at + 1] == "release-the-tool"
    assert dict(its[at - 1].state)["liner"] == "hangs on the tool"
    assert dict(its[at].state)["liner"] == "hangs on its hanger"
    assert not its[at - 1].scene.slips_set
    assert its[at].scene.slips_set


def test_how_an_untyped_hanger_is_set_is_asked_and_no_pressure_told():
    card = by_code(made(BRINDLEWICK, *UNTYPED), "set-the-hanger-as-its-maker-says")

    assert card.now.figure is None
    assert card.never.figure is None
    assert any("liner hanger.type" in one.needs for one in card.needs)


def test_a_scab_liner_runs_to_its_own_shoe_in_one_step():
    """Fallow 6: host shoe 2 400 m, the liner stands in it down to 1 620 m."""
    its = steps(load_text(demos()["fallow-6.yaml"]))
    card = by_code(its, "run-to-depth")

    assert not {"run-in-on-pipe", "circulate-at-the-host-shoe"} & set(codes(its))
    assert sentence(*card.sub, "metric").startswith("Shoe from the rotary to 1620 m MD")
    assert dict(its[-1].state)["liner"] == "hangs on its hanger"


def seatless(text):
    text = edit.remove(edit.remove(text, "options"), "installation.seat")
    return edit.remove(edit.remove(text, "liner.assembly.landing collar.ball seat"), "running string.ball")


def test_without_a_seat_no_pressure_is_told_and_the_ball_is_asked_for():
    its = steps(load_text(seatless(BRINDLEWICK)))

    for code in ("set-the-hanger", "release-the-tool", "shear-the-seat"):
        card = by_code(its, code)
        assert card.now.figure is None
        assert card.never.figure is None
        assert card.gauge is None
        assert any("installation.seat" in one.needs for one in card.needs)
        assert "Raise" not in said(card)
    assert dict(by_code(its, "set-the-hanger").state)["ball"] == "where it stops is not known"
    assert by_code(its, "ball-on-seat").now.figure is None


COUPLINGS = "[9396.5 ft, 9437.7 ft, 9479.0 ft, 9520.4 ft, 9561.7 ft]"


@pytest.mark.parametrize(
    "left", ["[9396.5 ft, 9437.7 ft, 9479.0 ft]", "[9520.4 ft]", "[9396.5 ft, 9561.7 ft]"]
)
def test_the_clearance_of_the_slips_needs_a_coupling_on_both_sides(left):
    """Listed on one side, or more than a joint apart, the next coupling may be anywhere."""
    card = by_code(made(BRINDLEWICK, (COUPLINGS, left)), "set-the-hanger")

    assert any("couplings" in need for one in card.needs if one.what == "coupling gap" for need in one.needs)


def test_a_clearance_that_stretch_may_eat_up_is_not_called_proved():
    """TRADE 5.1: 13 ft by the tallies, about 10 ft of string and 4.5 ft of host: 13.4 less 9.9 ft may be left."""
    proved = (
        "      located by: host tally\n",
        "      located by: host tally\n      corrected for stretch: yes\n",
    )
    tallies, corrected = (said(by_code(made(BRINDLEWICK, *c), "set-the-hanger")) for c in ((), (proved,)))

    assert (
        "to the one below 13.4 ft, less the 9.9 ft that the string stretches. As little as 3.5 ft may be left"
        in tallies
    )
    assert "By the tallies" not in corrected


def test_the_travel_when_the_hanger_takes_the_liner_is_the_stretch_that_is_lost():
    """72.8 klbf off 9 070 ft of 5.275 in2 and 380 ft of 12.57 in2, E 30 million psi: 4.17 and 0.07 ft."""
    card = by_code(made(BRINDLEWICK), "set-the-hanger")

    lost = next(say.figures["stretch_lost"] for say in card.do if "stretch_lost" in say.figures)
    assert lost.si / 0.3048 == pytest.approx(72.8e3 / 30e6 * (9070 / 5.275 + 380 / 12.566), rel=0.01)


def test_reversing_is_clean_after_string_cement_and_spacer():
    """159.7 bbl of string, 27.5 of cement, 30 of spacer (TRADE 5.1). One stand of 94.5 ft brings the end of the
    inner string from 20 ft in the liner to 74.5 ft above it; below it stay 0.07321 bbl/ft (9 5/8 in 47 lb/ft,
    8.681 in): 5.45 bbl. Metric 26.91 + 3.21 + 10 m3, less 22.8 m of 216.8 mm: 0.842 m3.
    """
    vertical, deviated = (by_code(made(text), "pull-out-and-reverse") for text in (BRINDLEWICK, SOLLIVANE))

    assert vertical.next.figure.si / 0.158987294928 == pytest.approx(159.7 + 27.5 + 30.0 - 5.45, abs=0.1)
    assert deviated.next.figure.si == pytest.approx(26.91 + 3.21 + 10.0 - 0.842, abs=0.02)
    assert "Reverse out 52.0 bbl" in said(vertical)
    assert "Cement below the raised tool stays, 5.45 bbl: expect 22.0 bbl back" in said(vertical)


def test_reversing_lifts_the_cement_in_the_pipe():
    """TRADE I3. 30 bbl of spacer at the foot: 430 ft of 3.00 in hold 3.76 bbl, the rest 1 527 ft of pipe that
    holds 0.01718 bbl/ft (159.7 less 3.76 bbl in 9 076 ft); 27.5 less 5.45 bbl of cement 1 283 ft above it.
    """
    card = by_code(made(BRINDLEWICK), "pull-out-and-reverse")
    lift = next(say.figures["reverse_u_tube"] for say in card.do if "reverse_u_tube" in say.figures)

    by_hand = 0.051948 * ((430 + 1527) * (13.6 - 12.6) + 1283 * (15.8 - 12.6))
    assert lift.si / PSI_PA == pytest.approx(by_hand, rel=0.01)


def test_without_a_plug_the_cement_is_displaced_by_volume_and_nothing_bumps():
    its = made(BRINDLEWICK, ("    - {part: wiper plug}\n", ""))
    card = by_code(its, "displace-by-volume")

    assert not {"dart-meets-plug", "displace-the-liner", "bump-the-plug"} & set(codes(its))
    assert card.now.figure.si / 0.158987294928 == pytest.approx(269.8, rel=0.005)
    assert not any("dart" in said(one) for one in its)
    assert not any("dart" in dict(one.state) or "plug" in dict(one.state) for one in its)


def test_strokes_alone_do_not_end_the_job_where_the_pump_has_no_band():
    """F36: 1 % of 269.8 bbl is 2.7 bbl, half the shoe track 2.33."""
    band = (
        "efficiency: 96 %, efficiency counted",
        "efficiency: {low: 95 %, likely: 96 %, high: 97 %}, efficiency counted",
    )
    without, given = (by_code(made(BRINDLEWICK, *changes), "bump-the-plug") for changes in ((), (band,)))

    assert "Strokes alone must not end the job. How far the count may be off: ____ [not computed]" in said(
        without
    )
    assert all(one.least_m3 == one.m3 == one.most_m3 for one in without.counts)
    doubt = next(say.figures["bump_doubt"] for say in given.do if "bump_doubt" in say.figures)
    assert doubt.si / 0.158987294928 == pytest.approx(269.8 / 95 * 96 - 269.8 + 0.6, abs=0.1)
    assert given.counts[0].least_m3 < given.counts[0].m3 < given.counts[0].most_m3


def test_a_staged_well_says_that_its_stages_are_not_covered():
    its = steps(load_text(demos()["ossmere-9.yaml"]))

    assert "stage collar, external packer" in said(by_code(its, "stages-not-covered"))
    assert "stages-not-covered" not in codes(made(BRINDLEWICK))


def hangerless(text):
    text = edit.remove(edit.remove(text, "options"), "liner.assembly.liner hanger")
    return steps(load_text(edit.remove(text, "liner.assembly.liner top packer")))


def test_a_liner_without_a_hanger_stands_on_bottom():
    its = hangerless(BRINDLEWICK)
    at = codes(its).index("set-on-bottom")

    assert dict(its[at - 1].state)["liner"] == "hangs on the tool"
    assert all(dict(card.state)["liner"] == "stands on bottom" for card in its[at:])
    assert not any("slips to bite" in said(card) or "on the slips" in said(card) for card in its)
    assert not any("liner hanger" in need for card in its for one in card.needs for need in one.needs)
    assert "liner weight is on the bottom" in said(by_code(its, "release-the-tool"))
    assert "10.0 ft off bottom" in said(its[at])


@pytest.mark.parametrize("changes", [(), (("  tool releases at: 2400 psi +/- 10 %\n", ""),)])
def test_no_question_is_answered_twice(changes):
    for card in made(BRINDLEWICK, *changes):
        questions = [one.question.text for one in card.if_not]
        assert len(questions) == len(set(questions))


def test_the_hook_load_of_the_seat_is_not_said_to_stay():
    """Held at hook and foot, dH = -P Ai (1 - 2 nu), 3 740 psi on 14.36 in2: about 21 klbf less, no pump-out."""
    card = by_code(made(BRINDLEWICK), "shear-the-seat")

    assert card.weight.after_n is None
    assert any("falls evenly with the pressure" in say.text for say in card.weight.says)
    assert "stays" not in said(card)
    assert dict(card.state)["ball"] == "through its seat, where it lies is not known"
    assert card.scene.ball_md_m is None


def test_the_packer_is_set_from_the_reading_on_the_way_down():
    """TRADE 5.2, Sollivane: the string alone slacking off with its block, then the slack-off below it."""
    card = by_code(made(SOLLIVANE), "set-the-packer")
    down = next(say.figures["alone_down"] for say in card.do if "alone_down" in say.figures)

    assert down.si == pytest.approx(card.weight.before_n)


def test_every_card_that_moves_weight_or_waits_has_a_caution():
    its = made(BRINDLEWICK)

    for code in ("prove-the-release", "set-weight-on-the-tool", "wait-on-cement"):
        assert by_code(its, code).caution


@pytest.mark.parametrize("code", ["ball-on-seat", "set-the-hanger"])
def test_slips_of_unknown_depth_are_asked_for_once(code):
    card = by_code(made(SOLLIVANE), code)

    assert said(card).count("[not computed]") == 1
    assert [one.needs for one in card.needs if "slips" in one.what] == [("liner hanger.slips",)]


def test_the_inflow_test_has_the_fluid_inside_that_makes_its_differential():
    """To the next mud all the way at Brindlewick; base oil to 3 040 m at Sollivane, which is told, not drawn."""
    card = by_code(made(BRINDLEWICK), "inflow-test")
    oil = by_code(made(SOLLIVANE), "inflow-test")

    assert card.scene.inside[0].fluid == "next mud"
    assert card.scene.inside[0].bottom_md_m == pytest.approx(card.scene.plug_md_m)
    assert ("fluid inside", "next mud") in card.state
    assert "mud" not in {layer.fluid for layer in (*card.scene.inside, *card.scene.outside)}
    assert ("fluid inside", "base oil, as the test says") in oil.state
    assert not {"mud", "base oil"} & {layer.fluid for layer in oil.scene.inside}


def test_the_liner_is_weighed_where_it_hangs_upright():
    """Sollivane: 323 kN in mud by length, 185 of it along the hole on depth; at the rotary almost all of it.

    By hand: the joints and the assembly reach 927 m, vertical to the kick-off at 900 m.
    """
    card = by_code(made(SOLLIVANE), "pick-up-the-hanger")
    weight = next(say.figures["liner_alone"] for say in card.look_for if "liner_alone" in say.figures)

    assert 315e3 < weight.si < 323.5e3


def test_the_trip_tank_counts_the_joints_that_hang_in_the_rotary():
    """Brindlewick: all of the liner that is not its top assembly; the net is what steel takes up."""
    card = by_code(made(BRINDLEWICK), "run-the-liner")
    figures = next(say.figures for say in card.do if "gain_liner" in say.figures)
    joints_ft = sum(pick.length_m for pick in without_assembly(evaluated(BRINDLEWICK).plan.depth)) / 0.3048
    closed, inside = 7.0**2 / 1029.4 * joints_ft, 6.184**2 / 1029.4 * joints_ft

    assert joints_ft < 3110.0
    assert figures["gain_liner"].si / BARREL_M3 == pytest.approx(closed, rel=0.01)  # collars are wider
    assert figures["gain_net"].si / BARREL_M3 == pytest.approx(closed - inside, rel=0.03)
    assert figures["gain_net"].si == pytest.approx(figures["gain_liner"].si - figures["fill_liner"].si)


def test_a_bump_whose_final_pressure_is_read_on_the_day_keeps_its_limits():
    """150 klbf down less the margin over the sealed area lifts at 250.5 bar, as when the seat opens (TRADE 5.2)."""
    card = by_code(made(SOLLIVANE), "bump-the-plug")

    assert card.now.figure is None
    assert "Then 1015 psi over it" in said(card)
    assert card.never.figure.si == pytest.approx(by_code(made(SOLLIVANE), "shear-the-seat").never.figure.si)
    assert card.gauge is None  # of a band that is behind it
    assert ("installation.final pressure",) in [lack.needs for lack in card.needs]


def test_a_spike_that_moves_the_count_shows_how_the_bump_moves():
    """44.03 m3 from the dart to the bump, 26.91 to the plug: a spike at 27.45 puts the bump at 44.91."""
    card = by_code(made(SOLLIVANE), "dart-meets-plug")
    figures = next(one.action.figures for one in card.if_not if "bump_late" in one.action.figures)

    assert figures["spike_late"].si == pytest.approx(27.45, abs=0.011)
    assert figures["bump_late"].si == pytest.approx(27.45 * 44.03 / 26.91, abs=0.02)


@pytest.mark.parametrize(
    "code",
    ["circulate-hung", "pump-spacer-and-cement", "dart-meets-plug", "displace-the-liner", "bump-the-plug"],
)
def test_the_weight_on_the_tool_stands_on_every_card_on_which_it_must_stay(code):
    its = made(SOLLIVANE)
    down = by_code(its, "set-weight-on-the-tool").weight.after_n

    assert by_code(its, code).weight.before_n == pytest.approx(down)
    assert "keep 200 kN on the tool" in sentence(*by_code(its, code).weight.says[0], "metric")


def test_a_test_that_is_not_released_says_so_before_anything_is_done():
    card = by_code(made(SOLLIVANE), "test-the-lap")

    assert not card.released
    assert card.do[0].text.startswith("On hold")
    assert "it bears 1.680 sg, 66.6 bar at surface" in sentence(*card.do[1], "metric")
    assert not any("test_pressure" in say.figures for say in card.do)


def test_the_time_that_is_gone_at_the_bump_counts_against_thickening():
    """Mixing 20, cement 26.1, dart 5, displacing (149.7 + 89.1) / 6 + 31.0 / 2 = 55.3 min: 106 of 360; with 20 and
    15, the string and 27.5 bbl reversed out at 6, 31.2, and 60 in all 232.6 min.
    """
    its = made(BRINDLEWICK)

    assert "Thickening 360 min counts from the first slurry mixed, 106 min of it are gone" in said(
        by_code(its, "bump-the-plug")
    )
    assert "233 min to the end of the job, one stoppage counted; thickening 360 min" in said(
        by_code(its, "pump-spacer-and-cement")
    )
    unknown = by_code(made(SOLLIVANE), "pump-spacer-and-cement")
    assert "Do not mix before the thickening time is known: the job takes 231 min" in said(unknown)


def test_a_release_is_not_proved_without_the_travel_of_the_seal():
    assert not by_code(made(SOLLIVANE), "prove-the-release").released
    assert by_code(made(BRINDLEWICK), "prove-the-release").released
    told = said(by_code(made(BRINDLEWICK), "prove-the-release"))  # without friction factors
    assert "must stop rising at 226.6 klbf, the string alone, and its drag, which needs" in told
    assert "must stop rising at 1150 kN, the string alone. Above it stop" in " ".join(
        sentence(*say, "metric") for say in by_code(made(SOLLIVANE), "prove-the-release").do
    )


def test_the_string_is_closed_before_its_seal_comes_out():
    """562 ft of cement 3.2 ppg heavier than mud and 626 ft of spacer 1.0 ppg: 93 and 33 psi."""
    card = by_code(made(BRINDLEWICK), "set-the-packer")
    figures = next(say.figures for say in card.do if "seal_out" in say.figures)

    assert figures["seal_out"].si / PSI_PA == pytest.approx(93 + 33, abs=2)


def test_pressure_on_the_set_packer_hangs_on_the_hanger():
    """184 klbf allowed less 53.5 of liner and 45 of set-down, on 59.19 in2 of bore: 1 444 psi (host shoe 1 449)."""
    card = by_code(made(BRINDLEWICK), "test-the-packer")

    assert card.never.figure.si / PSI_PA == pytest.approx((184.0 - 53.5 - 45.0) * 1000 / 59.19, rel=0.002)
    assert "hanger" in said(card)


def test_cement_that_nobody_can_compute_is_taken_to_stand_round_the_string():
    """Without the hole's excess nothing says where the cement ends: no word of holding until it is set."""
    its = made(BRINDLEWICK, ("  excess: {open hole: 20 %, basis: caliper}\n", ""))

    told = said(by_code(its, "set-the-packer"))
    assert "until the cement is set" not in told
    assert "the string must be clear of the cement" in told


def test_without_the_length_of_a_stand_no_depth_of_what_stays_is_drawn():
    stand = ("  stand length: 94.5 ft              # three joints\n", "")
    card = by_code(made(BRINDLEWICK, stand), "pull-out-and-reverse")
    top = evaluated(BRINDLEWICK).plan.depth.liner.top_md_m

    assert all(layer.top_md_m >= top - 1e-9 for layer in card.scene.outside)
    assert not card.scene.left_known
    assert by_code(made(BRINDLEWICK), "pull-out-and-reverse").scene.left_known
    assert ("what stays above the liner top", "not known: needs the length of a stand") in card.state
    assert "Pull clear of the liner top, ____ [not computed]" in said(card)
    assert (
        min(one.top_md_m for one in by_code(made(BRINDLEWICK), "pull-out-and-reverse").scene.outside) == 0.0
    )


def test_a_next_fluid_that_is_the_stronger_makes_no_inflow_test():
    heavy = (
        "{kind: next mud, density: 9.8 ppg}",
        "{kind: next mud, density: 15.0 ppg}",
    )  # 9.8 + 2 329 / (0.051948 x 9 480) = 14.5 ppg
    card = by_code(made(BRINDLEWICK, heavy), "inflow-test")

    assert (card.now.figure, card.now.word) == (None, "no inflow")


def test_the_spacer_above_the_liner_top_needs_no_stand():
    stand = ("  stand length: 94.5 ft              # three joints\n", "")
    card = by_code(made(BRINDLEWICK, stand), "pull-out-and-reverse")

    assert "30.0 bbl of spacer stand above the liner top" in said(card)


def seen(*lines, text=BRINDLEWICK):
    """The cards of a well with volumes read when events were seen."""
    for step, value in lines:
        text = edit.insert(text, "record", {"step": step, "what": "volume pumped", "value": value})
    return made(text)


@pytest.mark.parametrize(
    ("lines", "share", "string", "clean"),
    [
        # planned: the string holds 159.7 bbl, 22.0 of cement and 30.0 of spacer come back: 211.7
        ([], None, 159.7, 211.7),
        # the dart, 159.7 expected, at 163.0: 163.0 / 159.7 = 1.0207; 211.7 * 1.0207 = 216.1
        ([("dart meets plug", "163 bbl")], "102.1%", 163.0, 216.1),
        # the bump, 269.8 expected, at 272.5 from the dart: 1.0100 in all; 159.7 and 211.7 times that
        ([("bump", "272.5 bbl")], "101%", 161.3, 213.8),
        # the dart before it measured the string, 163.0; then 52.0 times 1.0100, 52.5
        ([("dart meets plug", "163 bbl"), ("bump", "272.5 bbl")], "101%", 163.0, 215.5),
        ([("bump", "272.5 bbl"), ("dart meets plug", "163 bbl")], "101%", 163.0, 215.5),
        # when the dart went is what was decided: it shows nothing of the pump
        ([("dart away", "163 bbl")], None, 159.7, 211.7),
    ],
)
def test_what_is_counted_while_reversing_follows_the_pump_as_it_was_seen(lines, share, string, clean):
    card = by_code(seen(*lines), "pull-out-and-reverse")
    says = [sentence(say.text, say.figures, "field") for say in (*card.do, *card.look_for, *card.next.lines)]

    assert card.next.figure.si / BARREL_M3 == pytest.approx(clean, abs=0.15)
    assert f"Reversed, clean mud after {clean:.1f} bbl, not before." in says
    assert f"Cement from {string:.1f} bbl on, up the pipe." in says
    assert [say for say in says if "The pump counted" in say] == (
        [f"The pump counted {share} of what it delivered, as was seen: what is counted below follows it."]
        if share
        else []
    )
    by_dart = "The string alone as the dart measured it: 163.0 bbl."
    assert (by_dart in says) is (len(lines) == 2)
    # what stands in the well does not follow the pump
    assert card.sub.figures["reverse_volume"].si / BARREL_M3 == pytest.approx(27.5, abs=0.05)


def test_once_the_dart_was_seen_the_count_of_the_bump_is_off_by_what_is_compressed_alone():
    """95 to 97 % about 96 are 269.8 times 1/95, and what fluid is compressed on top: gone with the dart."""
    text = BRINDLEWICK.replace("96 %, efficiency c", "{low: 95 %, likely: 96 %, high: 97 %}, efficiency c")
    doubts = [
        next(
            say.figures["bump_doubt"]
            for say in by_code(its, "bump-the-plug").do
            if "bump_doubt" in say.figures
        )
        for its in (made(text), seen(("dart meets plug", "163 bbl"), text=text))
    ]

    compressed = doubts[1].si / BARREL_M3
    assert 0.0 < compressed < 1.0
    assert doubts[0].si / BARREL_M3 == pytest.approx(269.8 * (96 / 95 - 1) + compressed, abs=0.02)


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (
            [("bump", "168 bbl")],
            "Bump seen at 168.0 bbl: too far from 269.8 bbl to be counted on; look again.",
        ),
        # counted from the spike
        (
            [("bump", "109.5 bbl")],
            "Bump seen at 109.5 bbl, before dart meets plug, seen at 163.0 bbl: not counted on; look again.",
        ),
        (
            [("spacer at liner shoe", "290 bbl"), ("cement at liner shoe", "285 bbl")],
            "Cement at liner shoe seen at 285.0 bbl, before spacer at liner shoe, seen at 290.0 bbl: not counted on; look again.",
        ),
    ],
)
def test_a_reading_that_cannot_be_right_is_said_where_it_would_have_counted(lines, told):
    its = seen(("dart meets plug", "163 bbl"), *lines)

    cards_ = [
        card.code for card in its if told in [sentence(say.text, say.figures, "field") for say in card.do]
    ]
    assert cards_ == [
        *("pump-spacer-and-cement", "dart-meets-plug", "displace-the-liner", "bump-the-plug"),
        "pull-out-and-reverse",
    ]


def test_a_bump_that_cannot_be_right_leaves_no_cement_in_the_pipe():
    """Bump at 168: the card counts on as the dart showed it. 159.7 and 211.7 times 163.0 / 159.7."""
    card = by_code(seen(("dart meets plug", "163 bbl"), ("bump", "168 bbl")), "pull-out-and-reverse")
    says = [sentence(say.text, say.figures, "field") for say in (*card.do, *card.look_for, *card.next.lines)]

    assert "Cement from 163.0 bbl on, up the pipe." in says
    assert card.next.figure.si / BARREL_M3 == pytest.approx(216.1, abs=0.15)


def test_a_ball_that_cannot_be_right_is_said_on_its_own_card_too():
    card = by_code(seen(("ball on seat", "80 bbl")), "ball-on-seat")

    assert "Ball on seat seen at 80.0 bbl: too far from 269.8 bbl to be counted on; look again." in said(card)


BAND = ("96 %, efficiency c", "{low: 95 %, likely: 96 %, high: 97 %}, efficiency c")
PLUG = ("    - {part: wiper plug}\n", "")


@pytest.mark.parametrize("band", [False, True])
def test_without_a_plug_the_displacement_follows_the_pump_that_the_ball_showed(band):
    """Ball seen at 283.3 where 269.83 were planned: 1.05. 269.83 and 272.16 times that are 283.3 and 285.8."""
    text = BRINDLEWICK.replace(*PLUG).replace(*BAND) if band else BRINDLEWICK.replace(*PLUG)
    planned = by_code(seen(text=text), "displace-by-volume")
    card = by_code(seen(("ball on seat", "283.3 bbl"), text=text), "displace-by-volume")

    assert planned.now.figure.si / BARREL_M3 == pytest.approx(269.8, abs=0.05)
    assert "Stop at 269.8 bbl; never beyond 272.2 bbl." in said(planned)
    assert card.now.figure.si / BARREL_M3 == pytest.approx(283.3, abs=0.05)
    assert "Stop after 283.3 bbl behind the cement" in said(card)
    assert "Stop at 283.3 bbl; never beyond 285.8 bbl." in said(card)
    assert "The pump counted 105% of what it delivered" in said(card)
    assert "The pump counted" not in said(planned)
    # 3e-6 a psi under 750 psi: 0.6 bbl, of the band of the pump nothing is left
    assert ("The count may be off by 0.61 bbl; half the shoe track is 2.33 bbl." in said(card)) is band


def test_a_count_that_is_not_off_is_not_said_to_be():
    """The bump was seen: its count is what was read."""
    text = BRINDLEWICK.replace(*BAND)
    before, after = (
        by_code(seen(*lines, text=text), "bump-the-plug")
        for lines in (
            [("dart meets plug", "163 bbl")],
            [("dart meets plug", "163 bbl"), ("bump", "272.5 bbl")],
        )
    )

    assert "The count may be off by 0.61 bbl" in said(before)
    assert "may be off" not in said(after)
    assert "Strokes alone must not end the job." in said(after)


def test_what_is_circulated_after_the_ball_follows_the_pump_that_it_showed():
    """Ball seen at 283.3 where 269.83 were planned: 1.05. One annulus, 454.5 + 8.94 + 88.4 bbl,
    is counted as 579.5.
    """
    planned, card = (
        by_code(seen(*lines), "circulate-hung") for lines in ([], [("ball on seat", "283.3 bbl")])
    )

    assert planned.now.figure.si / BARREL_M3 == pytest.approx(551.9, abs=0.05)
    assert card.now.figure.si / BARREL_M3 == pytest.approx(579.5, abs=0.1)
    assert "The pump counted 105% of what it delivered" in said(card)
    assert "The pump counted" not in said(planned)


def test_without_a_bump_the_pump_is_stopped_at_its_count():
    """Dart seen at 163.0 where 159.71 were planned: 1.0206. 272.16 times that are 277.8, 2.33 of it delivered."""
    card = by_code(seen(("dart meets plug", "163.0 bbl")), "bump-the-plug")

    assert "No bump: stop at 277.8 bbl, 2.33 bbl delivered beyond the bump." in said(card)


def test_where_the_plug_is_due_stands_in_strong_words_at_where_to_stop():
    """269.83 bbl at 0.1010 bbl a stroke are 2672; half the shoe track beyond it, 2.33 bbl, is the stop."""
    due = by_code(seen(), "bump-the-plug").next
    after = by_code(seen(("bump", "271.0 bbl")), "bump-the-plug").next
    first, counted = (sentence(line.text, line.figures, "field") for line in due.lines)

    assert (due.word, due.strong) == ("no bump: stop at", True)
    assert due.figure.si / BARREL_M3 == pytest.approx(269.83 + 2.33, abs=0.05)
    assert re.fullmatch(r"Bump due at 269\.8 bbl, 267[12] strokes\.", first)
    assert counted == "Counted from the dart."
    assert (after.word, after.strong) == ("bump seen at", False)
    assert after.figure.si / BARREL_M3 == pytest.approx(271.0)


@pytest.mark.parametrize("dart", [[], [("dart meets plug", "162.9 bbl")]])
def test_once_the_bump_was_seen_no_card_says_where_to_stop_without_one(dart):
    """Bump read at 274.0 where 269.83 were planned. The stop stays at 272.17, which would be before it."""
    before, after = seen(*dart), seen(*dart, ("bump", "274.0 bbl"))

    for code, words in (
        ("dart-meets-plug", "Spike early or late?"),
        ("bump-the-plug", "No bump: stop at"),
        ("bump-the-plug", "No bump?"),
    ):
        assert words in said(by_code(before, code)), code
        assert words not in said(by_code(after, code)), code
    told = "\n".join(sentence(*say, "field") for say in by_code(after, "bump-the-plug").volume)
    assert "more goes in as it bumps, by compression." in told
    for code in ("displace-the-liner", "bump-the-plug"):
        names = [[one.event for one in by_code(its, code).counts] for its in (before, after)]
        assert ["maximum over-displacement" in one for one in names] == [True, False]
        assert "bump" in names[1]
    assert all("stop at" not in said(card) for card in after if card.code != "displace-by-volume")


@pytest.mark.parametrize(("off", "told"), [("130 ft", "5.12 bbl"), ("8 ft", "0.32 bbl"), ("2 ft", "")])
def test_fronts_that_sweep_the_hole_below_the_shoe_say_what_mud_left_there_takes_off(off, told):
    """6 1/8 in hole 4 % wider holds (6.125 x 1.04)^2 / 1029.4 = 0.03942 bbl/ft: 130 ft of it 5.124 bbl, 8 ft
    0.315, 2 ft 0.079, which is less than the last digit of a volume.
    """
    evaluation = evaluated(demos()["corrick-5.yaml"], ("off bottom: 8 ft", f"off bottom: {off}"))
    card = by_code(cards(evaluation.job), "displace-the-liner")
    note = events_table(evaluation).note

    swept = float(off.removesuffix(" ft")) * (6.125 * 1.04) ** 2 / 1029.4
    assert evaluation.job.train.below_shoe_m3 / BARREL_M3 == pytest.approx(swept, rel=0.001)
    for words in (" ".join(sentence(*say, "field") for say in card.volume), note):
        assert (f"to host shoe and liner top {told} sooner" in words) is bool(told)
        assert ("mud stays" in words) is bool(told)


@pytest.mark.parametrize("file", DEMOS)
def test_every_card_tells_a_hook_load_or_why_there_is_none(file):
    for card in steps(load_text(demos()[file])):
        given = card.weight.before_n, card.weight.after_n
        figures = [
            one for say in card.weight.says for one in say.figures.values() if not isinstance(one, str)
        ]
        words = " ".join(say.text for say in card.weight.says)
        assert any(given) or figures or re.search(r"none|needs|not computed|not in this plan", words), (
            card.code
        )


@pytest.mark.parametrize(
    "paths",
    [
        ["options", "running string"],
        ["options", "cement"],
        ["cement.schedule", "fluids.mud"],
        ["cement.spacer"],
        ["cement.schedule"],
    ],
)
@pytest.mark.parametrize("file", ["brindlewick-4.yaml", "sollivane-a7.yaml"])
def test_without_what_a_count_rests_on_every_card_tells_pressure_and_volume_all_the_same(file, paths):
    text = demos()[file]
    for path in paths:
        text = edit.remove(text, path)
    for card in steps(load_text(text)):
        assert card.pressure, card.code
        assert card.volume, card.code


def test_what_is_pumped_at_which_rate_adds_up_to_the_count():
    """The schedule of the file: 149.7 bbl at 6 bbl/min and 10 of 11 at 2 to the plug; the last of them, 89.1 at 6 and
    the rest of 269.8 at 2 to the bump.
    """
    its = steps(load_text(BRINDLEWICK))
    for code, lines, whole in (("dart-meets-plug", 2, 159.7), ("displace-the-liner", 3, 269.8 - 159.7)):
        figures = by_code(its, code).volume[0].figures.values()
        bbl = [one.si / BARREL_M3 for one in figures if isinstance(one, Figure) and one.kind == "volume"]
        assert len(bbl) == lines
        assert sum(bbl) == pytest.approx(whole, abs=0.1)


def test_the_gauge_at_rest_climbs_from_event_to_event_to_what_the_bump_finds():
    """Cement at the liner top, worked by hand on true depths of the vertical well: 15.8 ppg outside from 12 590
    to 9 480 ft, 30 bbl of spacer of 13.6 over it, 12.6 above. Inside 15.8 below the plug, which then is 27.4 bbl
    short of 12 464.3 ft, at 27.4 / 0.03715 = 738 ft above it: 3 110 x 3.2 + 626 x 1.0 - 864 x 3.2 = 7 814 ppg ft,
    0.05195 psi each: 406 psi. The spacer: 30 bbl / 0.0479 bbl/ft = 626 ft beside pipe of 5 in.
    """
    counts = {one.event: one for one in by_code(steps(load_text(BRINDLEWICK)), "displace-the-liner").counts}
    climbing = [one.at_rest_pa for one in counts.values() if one.at_rest_pa is not None]

    assert climbing == sorted(climbing)
    assert counts["cement at liner top"].at_rest_pa / PSI_PA == pytest.approx(406.0, abs=3.0)
    assert counts["bump"].at_rest_pa / PSI_PA == pytest.approx(
        622.0, abs=1.0
    )  # as the U-tube of the cement job
    assert counts["maximum over-displacement"].at_rest_pa is None


def test_once_the_hole_was_seen_to_hold_more_no_gauge_at_rest_is_told():
    """The spacer came to the host shoe 16 bbl late: all columns stand lower than the plan's."""
    card = by_code(seen(("spacer at host shoe", "380 bbl")), "displace-the-liner")

    assert {one.event for one in card.counts} >= {"cement at liner top", "bump"}
    assert not [one for one in card.counts if one.at_rest_pa is not None]


def test_what_waits_for_a_step_on_hold_says_so_and_a_test_on_hold_holds_up_none():
    its = made(SOLLIVANE)
    proof = by_code(its, "prove-the-release")
    waits = [card.code for card in its if "On hold with step 13, Prove the release." in said(card)]

    assert not proof.released
    assert waits[0] == "set-weight-on-the-tool"
    assert {"pump-spacer-and-cement", "bump-the-plug", "pull-out-of-hole"} <= set(waits)
    assert waits == [card.code for card in its[proof.number :] if card.released]
    assert not any("On hold with" in said(card) for card in made(BRINDLEWICK))


def test_a_card_on_hold_tells_figures_of_its_pressure_and_volume_as_planned():
    heads = set()
    for card in (*made(BRINDLEWICK), *made(SOLLIVANE)):
        for says in (card.pressure, card.volume):
            figured = any(say.figures for say in says)
            assert (says[0].text == "planned, on hold:") is (figured and not card.released)
            heads.add((card.released, figured))
    assert heads == {(True, True), (True, False), (False, True), (False, False)}


def test_without_a_seat_nothing_is_pressured_up():
    text = edit.remove(BRINDLEWICK, "installation.seat")
    text = edit.remove(edit.remove(text, "options"), "liner.assembly.landing collar.ball seat")
    its = steps(load_text(text))

    for code in ("ball-on-seat", "set-the-hanger", "release-the-tool", "shear-the-seat"):
        card = by_code(its, code)
        assert card.pressure[-1].text.startswith("None yet"), code
        assert not card.volume[-1].figures, code


def test_the_hook_load_of_the_shoe_track_is_its_weight_in_mud():
    """125.7 ft at 29 lb/ft, steel of 65.4 ppg in 12.6 ppg mud, and the block of 45 klbf."""
    [track] = [
        one for one in steps(load_text(demos()["brindlewick-4.yaml"])) if one.code == "make-up-the-shoe-track"
    ]
    klbf = track.weight.before_n / 4448.2216
    assert klbf == pytest.approx(45.0 + 125.7 * 29.0 * (1.0 - 12.6 / 65.4) / 1000.0, abs=0.1)


def test_a_liner_that_has_to_be_pushed_shows_no_fall_of_the_hook_load():
    """2 866 m of liner in a horizontal hole: its foot is pushed there, and no weight of it comes off the hook."""
    text = edit.set(demos()["tarnvale-h3.yaml"], "installation.block weight", "300 kN")
    card = by_code(steps(load_text(text)), "set-the-hanger")

    assert not [one for one in card.weight.says if "fall" in one.figures]
    assert card.weight.after_n is None
    told = said(card)
    assert "Prove it by pressure and travel" in told
    assert not re.search(r"-\d+ k", told)


def test_a_liner_longer_than_the_host_is_not_run_to_its_shoe_on_pipe():
    """Tarnvale's liner of 2 866 m is in open hole, below 1 870 m, before the string is made up to it."""
    its = steps(load_text(demos()["tarnvale-h3.yaml"]))

    assert "run-in-on-pipe" not in codes(its)
    assert "circulate-at-the-host-shoe" not in codes(its)
    assert "stop above it, circulate" in said(by_code(its, "run-the-liner"))
    assert "run-in-on-pipe" in codes(made(BRINDLEWICK))


def test_a_packer_without_a_receptacle_is_set_as_its_maker_says():
    receptacle = "    - {part: tie-back receptacle, length: 10.4 ft, od: 8.250 in, bore: 7.375 in}\n"
    card = by_code(made(BRINDLEWICK, (receptacle, "")), "set-the-packer")

    assert card.released
    assert card.now.word == "as its maker says"


def test_without_its_set_down_nobody_says_how_much_stands_on_the_packer():
    card = by_code(made(BRINDLEWICK, (", set down: 45 klbf", "")), "test-the-packer")

    assert "how much stands on the packer is not known" in " ".join(say.text for say in card.weight.says)
    assert card.weight.before_n == pytest.approx(226.6 * 4448.2216, rel=0.002)  # as on card 13
    assert "hook load" not in [one.what for one in card.needs]


def test_each_slurry_is_told_with_its_volume_and_density_in_the_order_of_pumping():
    box = by_code(made(SOLLIVANE), "pump-spacer-and-cement").now
    told = sentence(box.lines[0].text, box.lines[0].figures, "metric")

    assert re.fullmatch(
        r"\S+ 10\.00 m3, then lead [\d.]+ m3 of 1\.62 sg, then tail [\d.]+ m3 of 1\.90 sg\.", told
    )
    lead, tail = (float(one) for one in re.findall(r"(?:lead|tail) ([\d.]+) m3", told))
    assert lead + tail == pytest.approx(17.14, abs=0.011)
