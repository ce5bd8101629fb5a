"""Learn: the liner taken apart, the job watched, and practice rounds whose faults the rules themselves find."""

from __future__ import annotations

import json
import re
from datetime import date
from functools import cache
from random import Random

import pytest

pytest.importorskip("streamlit")
from streamlit.testing.v1 import AppTest

from app import apart, faults, learn, practice
from app.faults import FAULTS, Well
from app.told import _OTHERWISE, TOLD, told
from schematic import verbs
from schematic.catalogue import glossary
from schematic.checks.evaluate import topic
from schematic.drawing.scene import Text
from schematic.job.card import Card
from schematic.job.step_texts import step_texts
from schematic.outcome import Figure, Found, Passed
from schematic.wellfile import edit
from tests.app.told import handed as data

BRINDLEWICK = "brindlewick-4.yaml"
WELLS = {name: Well(text, name) for name, text in verbs.demos().items()}
ROUNDS = (1, 2, 3, 417)
HOSTILE = "<img src=x onerror=alert(1)>"
MARKED = "**bold** [x](javascript:alert(1)) $\\href{x}{y}$"

# which faults each well has the inputs for; what is not listed cannot be planted in it alone
PLANTED = {
    BRINDLEWICK: {"ball-sticks", "seat-does-not-hold", "slips-near-coupling", "bands-too-close",
                  "plug-release-like-another", "circulating-sets-the-hanger", "running-string-does-not-pass",
                  "cement-below-liner-top", "densities-out-of-order", "rathole-unusual", "hanger-overloaded",
                  "parts-out-of-order", "bit-larger-than-drift"},
    "corrick-5.yaml": {"running-string-does-not-pass", "densities-out-of-order", "rathole-unusual",
                       "hanger-overloaded", "next-bit-does-not-pass", "parts-out-of-order", "bit-larger-than-drift"},
    "fallow-6.yaml": {"cement-below-liner-top", "hanger-overloaded", "parts-out-of-order", "bit-larger-than-drift"},
    "haldry-2.yaml": {"ball-sticks", "seat-does-not-hold", "slips-near-coupling", "bands-too-close",
                      "plug-release-like-another", "circulating-sets-the-hanger", "running-string-does-not-pass",
                      "cement-below-liner-top", "rathole-unusual", "hanger-overloaded", "parts-out-of-order",
                      "bit-larger-than-drift"},
    "ossmere-9.yaml": {"slips-near-coupling", "running-string-does-not-pass", "cement-below-liner-top",
                       "rathole-unusual", "hanger-overloaded", "next-bit-does-not-pass", "parts-out-of-order",
                       "bit-larger-than-drift"},
    "sketch.yaml": {"rathole-unusual", "lap-outside-limits", "bit-larger-than-drift"},
    "sollivane-a7.yaml": {"ball-sticks", "seat-does-not-hold", "bands-too-close", "plug-release-like-another",
                          "circulating-sets-the-hanger", "running-string-does-not-pass", "cement-below-liner-top",
                          "densities-out-of-order", "rathole-unusual", "parts-out-of-order"},
    "tarnvale-h3.yaml": {"ball-sticks", "seat-does-not-hold", "running-string-does-not-pass",
                         "densities-out-of-order", "rathole-unusual", "hanger-overloaded", "parts-out-of-order",
                         "bit-larger-than-drift"},
}  # fmt: skip


@cache
def round_of(name: str, number: int) -> tuple[practice.Task, ...]:
    """A round of a well, made once for all tests that look at it."""
    return practice.round_of(WELLS[name], number)


def rules_found(well: Well) -> set[str]:
    """The codes of the rules that find something in a text, read anew."""
    evaluation = verbs.check(verbs.load_text(well.text, well.file))
    return {outcome.rule for outcome in evaluation.outcomes if isinstance(outcome.answer, Found)}


def fault_of(task: practice.Task, choice: str) -> faults.Fault:
    """The fault that a choice names."""
    (fault,) = [fault for fault in FAULTS if fault.choice == choice]
    return fault


# ---------------------------------------------------------------- rounds


@pytest.mark.parametrize("name", WELLS)
def test_a_round_is_the_same_again_and_another_number_gives_another(name):
    first = {number: round_of(name, number) for number in ROUNDS}
    practice.round_of.cache_clear()
    faults.evaluated.cache_clear()

    assert {number: practice.round_of(WELLS[name], number) for number in ROUNDS} == first
    assert len(set(first.values())) == len(ROUNDS)


@pytest.mark.parametrize("name", WELLS)
@pytest.mark.parametrize("number", ROUNDS)
def test_a_round_has_six_mixed_tasks(name, number):
    kinds = [task.kind for task in round_of(name, number)]

    assert sorted(kinds) == sorted(
        [practice.NAME, practice.ORDER, practice.FAULT, practice.FAULT, practice.SIGN, practice.WHAT_NOW]
    )


@pytest.mark.parametrize("name", WELLS)
@pytest.mark.parametrize("number", ROUNDS)
def test_the_right_answer_is_among_the_choices_once_and_each_wrong_one_has_its_reason(name, number):
    for task in round_of(name, number):
        assert len(set(task.choices)) == len(task.choices) > 2
        assert all(
            "[not computed" not in text for text in (task.question, *task.choices, *task.reason, task.hint)
        )
        assert task.reason
        assert task.hint
        if task.kind == practice.ORDER:
            titles = [card.title for card in verbs.steps(faults.evaluated(WELLS[name]))]
            ordered = [titles.index(task.choices[at]) for at in task.answer]
            assert ordered == sorted(ordered)
            assert sorted(task.answer) == list(range(len(task.choices)))
            assert task.answer != tuple(range(len(task.choices)))  # it is shuffled
        else:
            (right,) = task.answer
            assert [bool(why) for why in task.why_not] == [at != right for at in range(len(task.choices))]


@pytest.mark.parametrize("name", WELLS)
def test_a_round_over_many_numbers_asks_for_different_things(name):
    tasks = [task for number in range(1, 13) for task in round_of(name, number)]

    assert len({task.question for task in tasks if task.kind == practice.NAME}) > 4
    assert len({task.answer for task in tasks if task.kind == practice.NAME}) > 2
    assert len({task.question for task in tasks if task.kind == practice.SIGN}) > 2
    assert {task.rule for task in tasks if task.rule} <= PLANTED[name]
    assert len({task.rule for task in tasks if task.rule}) >= min(len(PLANTED[name]), 3)


# ---------------------------------------------------------------- faults


@pytest.mark.parametrize("name", WELLS)
def test_each_fault_is_found_in_the_copy_by_its_rule_alone_and_not_in_the_plan(name):
    before = rules_found(WELLS[name])
    made = set()
    for fault in FAULTS:
        copy = faults.planted(WELLS[name], fault, Random(5))
        if copy is None:
            continue
        made.add(fault.rule)
        assert rules_found(copy.well) - before == {fault.rule}
        assert fault.rule not in before
        assert copy.outcome.rule == fault.rule
        assert copy.well.text != WELLS[name].text
    assert made == PLANTED[name]


@pytest.mark.parametrize("name", WELLS)
@pytest.mark.parametrize("number", ROUNDS)
def test_no_wrong_choice_is_found_in_the_copy_and_the_figures_of_the_right_one_are_on_the_sheet(name, number):
    for task in round_of(name, number):
        if task.kind != practice.FAULT:
            assert task.well == WELLS[name]
            continue
        found = rules_found(task.well)
        (right,) = task.answer
        assert [fault_of(task, choice).rule in found for choice in task.choices] == [
            at == right for at in range(len(task.choices))
        ]
        assert fault_of(task, task.choices[right]).rule == task.rule
        rows = fault_of(task, task.choices[right]).sheet(faults.evaluated(task.well))
        assert set(rows) <= set(task.sheet)
        assert rows


# the figures of the file and what 9507.9 - 0.9 - 8.0 / 2 and 1.04 x 1.75 come to
@pytest.mark.parametrize(
    ("rule", "figures"),
    [
        ("slips-near-coupling", ("in the plan 9520.4 ft, in the copy 9503.0 ft", "inside the slip zone")),
        ("seat-does-not-hold", ("in the plan 1.500 in, in the copy 1.820 in", "The ball is 1.750 in, its seat 1.820 in")),
        ("circulating-sets-the-hanger", ("in the plan 1000 psi, in the copy 1425 psi",)),
        ("bands-too-close", ("in the plan 1700 psi", "they overlap")),
        ("cement-below-liner-top", ("in the plan 9280.0 ft, in the copy 9591.0 ft",)),
        ("rathole-unusual", ("in the plan 10.0 ft, in the copy 0.0 ft",)),
    ],
)  # fmt: skip
def test_the_reason_has_the_figures_of_both_sides(rule, figures):
    (fault,) = [fault for fault in FAULTS if fault.rule == rule]
    copy = faults.planted(WELLS[BRINDLEWICK], fault, Random(1))
    assert copy is not None

    task = practice._fault_task(WELLS[BRINDLEWICK], Random(1), copy)

    reason = " ".join(task.reason)
    assert all(figure in reason for figure in figures)
    assert f"What the rule on {topic(rule)} finds: " in reason
    assert rule not in reason


@pytest.mark.parametrize(
    ("limit", "si", "kind", "told"),
    [
        ("least density step", 119.826, "emw", ": 1.00 ppg, at least {} wanted, "),  # 1 lb/gal, 119.826 kg/m3
        ("least hanger factor", 500e3, "force", ""),  # a force is not held against a share
        ("greatest circulating share", 0.7, "share", ": 70%, at most {} allowed, "),
        ("greatest gelled shortfall", -119.826, "emw", ""),  # nothing short is no figure to compare
        (None, 119.826, "emw", ""),
    ],
)
def test_what_passed_stands_beside_its_limit_only_where_the_two_compare(limit, si, kind, told):
    evaluation = faults.evaluated(WELLS[BRINDLEWICK])
    its = evaluation.plan.limits[limit] if limit else None

    said = practice._beside_limit(evaluation, Passed(Figure(si, kind), its))

    assert said == (told.format(its.text) + its.owner if told and its else "")


def test_a_share_that_passed_says_of_what_it_is_one():
    """1 000 psi of circulating over 1 425 psi, the least of 1 500 +/- 5 %: 70.2 %."""
    (fault,) = [fault for fault in FAULTS if fault.rule == "circulating-sets-the-hanger"]
    well = WELLS[BRINDLEWICK]
    said = practice._why_passed(well, faults.evaluated(well), fault)

    assert "No: that passes: 70.2% of the least pressure that sets the hanger, at most 80 % allowed" in said


def test_a_ball_that_sticks_is_as_large_as_the_bore_in_which_it_sticks():
    (fault,) = [fault for fault in FAULTS if fault.rule == "ball-sticks"]
    places = set()
    for seed in range(8):
        copy = faults.planted(WELLS[BRINDLEWICK], fault, Random(seed))
        assert copy is not None
        places.add(copy.planting.where)
        assert copy.planting.becomes == "1.750 in"  # the file's ball is 1 3/4 in
    assert len(places) > 1


@pytest.mark.parametrize("name", [name for name, rules in PLANTED.items() if "parts-out-of-order" in rules])
def test_parts_that_changed_places_go_back_by_the_remedy_that_is_named(name):
    (fault,) = [fault for fault in FAULTS if fault.rule == "parts-out-of-order"]
    copy = faults.planted(WELLS[name], fault, Random(1))
    assert copy is not None
    parts = faults.evaluated(copy.well).plan.depth.liner.parts
    found = copy.outcome.answer
    assert isinstance(found, Found)
    assert found.mend.startswith("Exchange the lines of the {upper} and the {lower};")
    upper, lower = (
        next(part.path for part in parts if part.name == found.figures[end]) for end in ("upper", "lower")
    )

    assert edit.exchange(copy.well.text, upper, lower) == WELLS[name].text


@pytest.mark.parametrize(
    ("rule", "told_why"),
    [
        # 4 1/2 in 13.5 lb/ft: 3.920 in less 1/8 in is a drift of 3.795 (API 5CT); less a bit of 3.750: 0.045
        ("next-bit-does-not-pass", "next bit 3.750 in; narrowest on its way, drift of pup joint 3.795 in, 0.045 in clear on diameter."),
        ("parts-out-of-order", "No: that passes; from the shoe up float shoe, float collar, landing collar, "
                               "mechanical hanger, liner top packer, tie-back receptacle."),
    ],
)  # fmt: skip
def test_what_passed_says_by_what_figure_or_order(rule, told_why):
    (fault,) = [fault for fault in FAULTS if fault.rule == rule]
    well = WELLS["corrick-5.yaml"]

    assert practice._why_passed(well, faults.evaluated(well), fault).endswith(told_why)


def test_a_drift_is_called_so_on_the_sheet():
    (fault,) = [fault for fault in FAULTS if fault.rule == "next-bit-does-not-pass"]
    bores = dict(fault.sheet(faults.evaluated(WELLS["corrick-5.yaml"])))["on the way of the next bit"]

    assert "drift of pup joint 3.795 in" in bores
    assert "bore of mechanical hanger 3.875 in" in bores


def test_a_fault_that_the_plan_has_already_is_not_planted():
    text = WELLS[BRINDLEWICK].text.replace("seat: 1.50 in", "seat: 1.80 in", 1)
    (fault,) = [fault for fault in FAULTS if fault.rule == "seat-does-not-hold"]

    assert faults.planted(Well(text, "x"), fault, Random(1)) is None
    tasks = [task for number in range(1, 9) for task in practice.round_of(Well(text, "x"), number)]
    assert all(fault.choice not in task.choices for task in tasks)  # true of the copy, so no wrong answer


def test_files_beside_the_well_file_are_read_for_the_copy_too(tmp_path):
    (tmp_path / "survey.csv").write_text("MD (ft),Inc (deg),Azi (deg)\n0,0,0\n12600,1.5,120\n")
    text = re.sub(r"survey:\n(  - .*\n)+", "survey: {file: survey.csv}\n", WELLS[BRINDLEWICK].text)

    tasks = practice.round_of(Well(text, "x", tmp_path), 1)

    assert sum(task.kind == practice.FAULT for task in tasks) == 2


# ---------------------------------------------------------------- tasks


def test_a_wrong_order_is_told_by_its_first_step_that_is_wrong():
    (task,) = [task for task in practice.round_of(WELLS[BRINDLEWICK], 1) if task.kind == practice.ORDER]
    swapped = (task.answer[1], task.answer[0], *task.answer[2:])

    assert practice.first_wrong(task, task.answer) == ""
    first, second = (task.choices[at] for at in task.answer[:2])
    assert practice.first_wrong(task, swapped) == f"{first} comes before {second}."


@pytest.mark.parametrize("name", WELLS)
def test_a_sign_belongs_to_one_step_of_the_well(name):
    evaluation = faults.evaluated(WELLS[name])
    cards = verbs.steps(evaluation)
    signs = practice._signs(evaluation, cards)

    assert len(signs) >= 4
    for card, sign in signs:
        showing = [
            other.title
            for other in cards
            for line in (practice.said(evaluation, say) for say in other.look_for)
            if line.startswith(sign)
        ]
        assert showing == [card.title]


@pytest.mark.parametrize("code", practice.SIGNS)
def test_a_sign_stands_in_its_step(code):
    (step,) = [step for step in step_texts() if step.code == code]

    assert any(line.text.startswith(practice.SIGNS[code]) for line in step.look_for)


@pytest.mark.parametrize("name", WELLS)
def test_what_now_answers_the_question_that_the_step_asks(name):
    evaluation = faults.evaluated(WELLS[name])
    asked = {
        (card.number, practice.said(evaluation, one.action)): practice.said(evaluation, one.question)
        for card in verbs.steps(evaluation)
        for one in card.if_not
    }
    for number in range(1, 9):
        for task in round_of(name, number):
            if task.kind == practice.WHAT_NOW:
                question = asked[task.step, task.choices[task.answer[0]]]
                assert task.question.endswith(f"{question} What do you do?")
                assert not re.search(r"\. And ", task.question)  # without what it goes on from


def test_letters_go_on_after_z():
    assert [practice.letter(number) for number in (0, 25, 26, 52)] == ["A", "Z", "A1", "A2"]


def test_words_of_the_glossary_are_found_whole_and_the_longest_first():
    assert practice.words_in(
        "The liner hanger bites; overlaps of slips and the tie-back receptacle's cones."
    ) == (
        "liner hanger",
        "slips",
        "tie-back receptacle",
        "cone",
    )


# ---------------------------------------------------------------- pictures and texts


@pytest.mark.parametrize("name", WELLS)
def test_the_lettered_paper_tells_no_name_and_says_that_it_is_a_copy(name):
    evaluation = faults.evaluated(WELLS[name])
    parts = evaluation.plan.depth.liner.parts
    scene = apart.apart(evaluation, lettered=True)
    told = [group.title for group in scene.groups]
    told += [shape.text for group in scene.groups for shape in group.shapes if isinstance(shape, Text)]

    words = " ".join(told).lower()
    assert not [part.name for part in parts if re.search(rf"\b{re.escape(part.name.lower())}\b", words)]
    assert apart.NOT_THE_PLAN in told
    assert [
        group.part for group in scene.groups if group.title.startswith("Part ") and "words" not in group.title
    ] == [part.path for part in parts]
    plain = apart.apart(evaluation)
    assert apart.NOT_THE_PLAN not in [group.title for group in plain.groups]
    assert all(part.name.lower() in " ".join(group.title.lower() for group in plain.groups) for part in parts)


@pytest.mark.parametrize("name", WELLS)
def test_no_two_texts_of_the_parts_overlap(name):
    from schematic.drawing.text import box_mm

    for lettered in (False, True):
        scene = apart.apart(faults.evaluated(WELLS[name]), lettered)
        boxes = [box_mm(shape) for group in scene.groups for shape in group.shapes if isinstance(shape, Text)]
        for at, (left, top, right, bottom) in enumerate(boxes):
            assert left >= 0.0
            assert right <= scene.width_mm
            for other in boxes[at + 1 :]:
                assert right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top


def test_each_step_has_one_sentence_without_figures():
    assert {step.code for step in step_texts()} <= set(TOLD)
    for sentence in TOLD.values():
        assert re.fullmatch(r"[A-Z][^.0-9{}]+\.", sentence)
    for code, lines in _OTHERWISE.items():
        assert code in TOLD
        for line in lines:
            assert line.when
            assert re.fullmatch(r"[A-Z][^.0-9{}]+\.( [A-Z][^.0-9{}]+\.)?", line.text)


def sentences(text: str) -> dict[str, tuple[Card, str]]:
    """By the code of each step its card, and what Learn says of it."""
    well = Well(text, "x")
    says = [frame["say"] for frame in learn.frames(well)]
    return {
        card.code: (card, say) for card, say in zip(verbs.steps(faults.evaluated(well)), says, strict=True)
    }


# what the files say: hydraulic hangers with their seats; Corrick's is mechanical, with no word of a seat nor of
# how the tool lets go; Ossmere has no seat; Fallow and the sketch do not say how the hanger is set
_SET, _LET_GO = "Pressure behind the ball shears pins;", "More pressure than set the hanger lets"
_NOT_SAID, _TURNED = "Whether by pressure or by turning the file does not say.", "Turning frees the slips"


@pytest.mark.parametrize(
    ("name", "phrases"),
    [
        (BRINDLEWICK, {"set-the-hanger": _SET, "release-the-tool": _LET_GO, "run-to-depth": "open hole without"}),
        ("corrick-5.yaml", {"set-the-hanger-by-turning": _TURNED, "release-the-tool": _NOT_SAID}),
        ("fallow-6.yaml", {"set-the-hanger-as-its-maker-says": "How it is set the file does not say.",
                           "release-the-tool": _NOT_SAID, "run-to-depth": "meets no open hole",
                           "pump-spacer-and-cement": "there is no plug"}),
        ("haldry-2.yaml", {"set-the-hanger": _SET, "release-the-tool": _LET_GO}),
        ("ossmere-9.yaml", {"ball-on-seat": "until that is known none is dropped", "release-the-tool": _NOT_SAID,
                            "set-the-hanger": "What closes the string for it the file does not say.",
                            "shear-the-seat": "Where that seat is the file does not say."}),
        ("sketch.yaml", {"set-the-hanger-as-its-maker-says": "How it is set the file does not say.",
                         "release-the-tool": _NOT_SAID}),
        ("sollivane-a7.yaml", {"set-the-hanger": _SET, "release-the-tool": _LET_GO}),
        ("tarnvale-h3.yaml", {"set-the-hanger": _SET, "release-the-tool": _LET_GO}),
    ],
)  # fmt: skip
def test_the_words_of_a_step_follow_how_this_hanger_is_set_and_this_tool_released(name, phrases):
    told_here = sentences(WELLS[name].text)

    for code, phrase in phrases.items():
        assert phrase in told_here[code][1]


@pytest.mark.parametrize("name", WELLS)
def test_no_sentence_has_pressure_act_where_the_card_has_none(name):
    acting = re.compile(r"\bpressure (behind|lets|opens|than|from above shows)", re.IGNORECASE)
    none = [
        (card, say)
        for card, say in sentences(WELLS[name].text).values()
        if card.pressure[-1].text.startswith(("None", "Zero"))
    ]

    assert len(none) > 3
    assert not [(card.title, say) for card, say in none if acting.search(say)]


def test_a_tool_that_is_turned_out_and_a_hanger_that_is_expanded_are_told_so():
    text = WELLS["corrick-5.yaml"].text
    turned = sentences(f"{text}\ninstallation: {{tool releases by: turning}}\n")
    assert "turned out of the liner" in turned["release-the-tool-by-turning"][1]
    assert "release-the-tool" not in turned

    expanded = sentences(
        text.replace("part: liner hanger, name: mechanical", "part: liner hanger, type: expandable, name: x")
    )
    assert "as its maker says" in expanded["set-the-hanger-as-its-maker-says"][1]


def test_a_test_that_is_on_hold_or_proves_nothing_is_not_told_as_done():
    its = sentences(WELLS[BRINDLEWICK].text)
    card, say = its["test-the-lap"]
    assert not card.released
    assert say.endswith("but not as planned.")
    assert told("inflow-test", frozenset({"proves nothing"})).endswith("nothing is proved.")


def test_a_pick_up_that_is_not_drawn_says_why():
    """Corrick gives no travel of its inner string."""
    (frame,) = [one for one in learn.frames(WELLS["corrick-5.yaml"]) if one["title"] == "Prove the release"]

    assert "String: raised, not drawn: travel not given" in frame["state"]
    assert frame["state"][-1].startswith("The card of this step is on hold")


def test_readings_do_not_move_what_is_learned():
    """Counted at 86 and 121 bbl; planned are 82.7 and 113.8, of 96 % of 0.0820 bbl a stroke."""
    text = WELLS["corrick-5.yaml"].text
    kept = text + (
        "record:\n"
        "  - {step: dart meets plug, what: volume pumped, value: 86 bbl}\n"
        "  - {step: bump, what: volume pumped, value: 121 bbl}\n"
    )
    events = faults.evaluated(Well(kept, "x")).job.events

    assert events == faults.evaluated(Well(text, "x")).job.events
    assert events != verbs.check(verbs.load_text(kept)).job.events
    assert learn.frames(Well(kept, "x")) == learn.frames(Well(text, "x"))


def test_a_step_is_one_of_a_part_where_it_speaks_of_it():
    evaluation = faults.evaluated(WELLS[BRINDLEWICK])
    liner = evaluation.plan.depth.liner
    titles = {
        kind: [title for _number, title in learn.uses(evaluation, liner.find(kind))]
        for kind in ("liner hanger", "liner top packer", "landing collar")
    }

    assert "Set the hanger" in titles["liner hanger"]
    assert (
        "Run in on pipe to the host shoe" not in titles["liner hanger"]
    )  # its slips are those of the rotary
    assert {"Set the liner top packer", "Try the packer from above"} <= set(titles["liner top packer"])
    assert {"Land the ball", "Open the ball seat", "Bump the plug"} <= set(titles["landing collar"])
    assert learn.acts(evaluation, liner.find("liner hanger")) == 11  # as in the list of its steps


def test_what_passes_a_part_is_told_with_what_is_clear():
    evaluation = faults.evaluated(WELLS[BRINDLEWICK])
    liner = evaluation.plan.depth.liner

    through = learn.passes(evaluation, liner.find("liner hanger"))

    assert "Ball 1.750 in: passes, 4.410 in clear on diameter" in through  # 6.160 less 1.750
    assert any(line.startswith("Wiper plug: not checked, needs") for line in through)
    collar = learn.passes(evaluation, liner.find("landing collar"))
    assert "Ball 1.750 in: lands there, as it should" in collar
    assert any(line.startswith("Wiper plug: is to land there, not checked, needs core") for line in collar)
    assert (
        collar[-1]
        == "Mud, spacer and cement: pass until the plug lands, and not while the ball holds its seat"
    )


def test_what_seals_and_what_goes_one_way_is_told():
    """Corrick's seal of 4.745 in in a bore of 4.75 in."""
    evaluation = faults.evaluated(WELLS["corrick-5.yaml"])
    liner = evaluation.plan.depth.liner

    receptacle = learn.passes(evaluation, liner.find("tie-back receptacle"))
    assert "Tie-back seal 4.745 in: seals there, as it should" in receptacle
    assert any(line.startswith("Next bit 3.750 in: passes, 1.000 in clear") for line in receptacle)
    assert receptacle[-1] == "Mud, spacer and cement: pass"
    assert learn.passes(evaluation, liner.find("landing collar"))[-1] == (
        "Mud, spacer and cement: pass until the plug lands"
    )
    assert learn.passes(evaluation, liner.find("float collar"))[-1] == (
        "Mud, spacer and cement: downward through its valve, not back"
    )
    assert learn.passes(evaluation, liner.find("liner top packer"))[-1] == (
        "Mud, spacer and cement: pass, and outside it too until it is set"
    )


def test_a_typical_size_says_of_which_liner_it_is_and_that_this_is_another():
    corrick, brindlewick = (faults.evaluated(WELLS[name]) for name in ("corrick-5.yaml", BRINDLEWICK))

    assert practice.typical(corrick, "tie-back receptacle").endswith(
        "; common practice of a 7 in liner in 9 5/8 in casing, and here it is a 4 1/2 in liner in 7 in casing"
    )
    assert practice.typical(brindlewick, "tie-back receptacle").endswith(
        "; common practice of a 7 in liner in 9 5/8 in casing"
    )
    assert practice.typical(corrick, "running tool") == ""


def test_words_are_found_by_a_part_of_them_and_one_that_is_not_there_is_told():
    (hits,) = learn.found_words(" SLIP ")
    assert hits["lines"][0] == f"Slip zone: {glossary.meaning('slip zone')}"
    assert {line.partition(":")[0] for line in hits["lines"]} == {"Slip zone", "Slips", "Hold-down slips"}
    for asked in ("closed-end", "CLOSED END"):
        (closed,) = learn.found_words(asked)
        assert closed["lines"] == [f"Closed end: {glossary.meaning('closed end')}"]

    for asked in ("polished bore receptacle", "Receptacle, POLISHED".replace(",", ""), "bore-polished"):
        (both,) = learn.found_words(asked)
        assert {"PBR", "Tie-back receptacle"} <= {line.partition(":")[0] for line in both["lines"]}

    many, rest = learn.found_words("a")
    assert len(many["lines"]) == 8
    assert "more" in rest["text"]
    (none,) = learn.found_words(HOSTILE)
    assert HOSTILE in none["text"]


# ---------------------------------------------------------------- the page


def _page() -> None:
    from app import learn, state

    state.begin()
    learn.page()


@pytest.fixture
def page():
    """The page with the first demo well."""
    return AppTest.from_function(_page, default_timeout=60).run()


def task_on(page: AppTest) -> dict:
    (shown,) = data(page, "task")
    return shown


def verdict_on(page: AppTest) -> dict:
    (shown,) = data(page, "verdict")
    return shown


def press(page: AppTest, label: str) -> None:
    (button,) = [one for one in page.button if one.label.startswith(label)]
    assert not button.disabled
    button.click().run()
    assert not page.exception


def filled(page: AppTest) -> list[str]:
    return [one.label for one in page.button if one.proto.type == "primary"]


def practising(page: AppTest, number: int = 1) -> tuple[practice.Task, ...]:
    """Open a practice round; its tasks."""
    page.session_state.learn_way = learn.PRACTISE
    page.session_state.round = number
    page.run()
    return practice.round_of(WELLS[BRINDLEWICK]._replace(mark=page.session_state.practice["of"][3]), number)


def give(page: AppTest, numbers: tuple[int, ...]) -> None:
    page.session_state.practice["given"] = list(numbers)
    page.run()


def wrong(task: practice.Task) -> tuple[int, ...]:
    if task.kind == practice.ORDER:
        return tuple(reversed(task.answer))
    return next((at,) for at in range(len(task.choices)) if (at,) != task.answer)


@pytest.mark.parametrize("name", WELLS)
def test_every_part_of_every_well_is_told(page, name):
    page.selectbox(key="well-on-screen").select(name).run()
    parts = faults.evaluated(WELLS[name]).plan.depth.liner.parts
    for part in parts:
        page.selectbox(key="learn_part").select(part.path).run()
        assert not page.exception
        (drawn,) = data(page, "well_drawing")
        assert drawn["chosen"]["part"] == part.path
        assert filled(page) == [f"Watch it at step {learn.acts(faults.evaluated(WELLS[name]), part)}"]
        told = json.dumps(data(page, "answers"))
        assert glossary.meaning(part.kind) in told
        assert "Typical size" in told


def test_words_that_were_looked_up_can_be_closed(page):
    page.text_input(key="wanted").set_value("polished bore").run()
    assert "Tie-back receptacle" in json.dumps(data(page, "answers"))

    press(page, "Close")

    assert page.text_input(key="wanted").value == ""
    assert not [one for one in page.button if one.label == "Close"]


def test_the_next_part_down_is_shown_until_the_shoe(page):
    paths = [part.path for part in faults.evaluated(WELLS[BRINDLEWICK]).plan.depth.liner.parts]
    page.selectbox(key="learn_part").select(paths[0]).run()
    for path in paths[1:]:
        press(page, "Next part down")
        assert page.selectbox(key="learn_part").value == path
    (last,) = [one for one in page.button if one.label == "Next part down"]
    assert last.disabled


@pytest.mark.parametrize("name", WELLS)
def test_the_job_is_sent_as_pictures_with_a_sentence_each(page, name):
    page.selectbox(key="well-on-screen").select(name).run()
    chosen = page.selectbox(key="learn_part").value
    press(page, "Watch it at step")

    (shown,) = data(page, "player")
    cards = verbs.steps(faults.evaluated(WELLS[name]))
    assert [frame["title"] for frame in shown["frames"]] == [card.title for card in cards]
    assert [frame["say"] for frame in shown["frames"]] == [
        frame["say"] for frame in learn.frames(WELLS[name])
    ]
    assert all(frame["state"] for frame in shown["frames"])
    assert all(frame["svg"].startswith("<?xml") for frame in shown["frames"])
    parts = faults.evaluated(WELLS[name]).plan.depth.liner.parts
    (part,) = [part for part in parts if part.path == chosen]
    assert shown["start"] == learn.acts(faults.evaluated(WELLS[name]), part) - 1


def test_a_round_is_walked_with_answers_hints_and_shown_ones_and_ends_with_words_to_read(page):
    before = {name: list(texts) for name, texts in page.session_state.texts.items()}
    tasks = practising(page)
    for at, task in enumerate(tasks):
        assert task_on(page)["question"] == task.question
        assert f"{at + 1} of 6" in task_on(page)["kind"]
        assert filled(page) == ["Answer"]
        assert verdict_on(page)["head"] == ""
        (drawn,) = data(page, "well_drawing")
        assert apart.NOT_THE_PLAN in "".join(drawn["pages"])
        if at == 0:  # hint, wrong, right
            press(page, "Hint")
            assert any(task.hint in json.dumps(each, ensure_ascii=False) for each in data(page, "answers"))
            give(page, wrong(task))
            press(page, "Answer")
            assert verdict_on(page)["right"] is False
            assert verdict_on(page)["lines"] == [practice.first_wrong(task, wrong(task))]
            assert task_on(page)["tried"]  # its figures fold where there is little room
        if at == 1:  # wrong, then shown
            give(page, wrong(task))
            press(page, "Answer")
            press(page, "Show the answer")
            assert verdict_on(page)["head"].startswith("The answer: ")
        else:
            give(page, task.answer)
            press(page, "Answer")
            assert verdict_on(page)["head"].startswith(
                "Right at try 2" if at == 0 else "Right at the first try"
            )
            assert verdict_on(page)["lines"] == list(task.reason)
        assert task_on(page)["others"] == [why for why in task.why_not if why]
        assert task_on(page)["given"] == list(task.answer)
        on = "Next task" if at < 5 else "See the round"
        assert filled(page) == [on]
        press(page, on)
    told = json.dumps(data(page, "answers"))
    assert "4 of 6 at the first try" in told
    assert "Read these words again" in told
    assert {name: list(texts) for name, texts in page.session_state.texts.items()} == before
    assert filled(page) == ["Another round"]
    its = page.session_state.practice
    kept = learn.result(WELLS[BRINDLEWICK], 1, tasks, its, "2026-11-26").split("\n")
    assert kept[0] == "Practice round 1 on Brindlewick 4"
    assert kept[1].startswith("Brindlewick 4: revision 2 of 2026-11-20, file ")
    assert kept[1].endswith(". Kept on 2026-11-26.")
    assert kept[2] == "4 of 6 at the first try."
    assert kept[4:9] == [
        f"1 {tasks[0].kind}: 2 tries, with a hint",
        f"   Asked: {tasks[0].question}",
        f"   Given: {learn.in_words(tasks[0], its['tries'][0][0])}",
        f"   Given: {learn.in_words(tasks[0], tasks[0].answer)}",
        f"   Right: {learn.in_words(tasks[0], tasks[0].answer)}",
    ]
    assert kept[10] == f"2 {tasks[1].kind}: 1 try, answer shown"
    order = next(task for task in tasks if task.kind == practice.ORDER)
    assert learn.in_words(order, order.answer).startswith(f"1 {order.choices[order.answer[0]]}; 2 ")
    assert "Read again:" in kept

    press(page, "Same round again")
    assert task_on(page)["question"] == tasks[0].question
    assert page.session_state.practice["tries"] == [[] for _ in tasks]


def test_the_other_round_has_the_next_number_and_other_tasks(page):
    first = practising(page, 999)
    page.session_state.practice["at"] = len(first)
    page.run()

    press(page, "Another round")

    assert page.number_input(key="round").value == 1
    second = practice.round_of(WELLS[BRINDLEWICK]._replace(mark=page.session_state.practice["of"][3]), 1)
    assert second != first
    assert task_on(page)["question"] == second[0].question


def test_an_answer_counts_only_after_a_choice_and_the_order_can_be_given_as_it_lies(page):
    for at, task in enumerate(practising(page)):
        page.session_state.practice["at"], page.session_state.practice["given"] = at, []
        page.run()
        said = [one.value for one in page.text if one.value.startswith("First pick an answer")]
        assert bool(said) == (task.kind != practice.ORDER)
        press(page, "Answer")
        assert len(page.session_state.practice["tries"][at]) == (task.kind == practice.ORDER)


def test_a_changed_well_or_another_number_begins_the_round_anew(page):
    practising(page)
    press_at = page.session_state.practice
    press_at["at"] = 3
    page.number_input(key="round").set_value(2).run()
    assert page.session_state.practice["at"] == 0

    page.session_state.practice["at"] = 3
    page.session_state.texts[BRINDLEWICK].append(
        WELLS[BRINDLEWICK].text.replace("lap: 370 ft", "lap: 371 ft", 1)
    )
    page.run()
    assert not page.exception
    assert page.session_state.practice["at"] == 0


def test_the_choice_is_kept_while_another_well_is_looked_at_and_left_where_it_has_no_such_part(page):
    page.selectbox(key="learn_part").select("liner.assembly.9").run()
    page.selectbox(key="well-on-screen").select("sketch.yaml").run()

    assert not page.exception
    assert page.selectbox(key="learn_part").value == "liner.assembly.6"  # its hanger


def test_names_from_a_file_are_data_in_every_way_to_learn(page):
    mine = WELLS[BRINDLEWICK].text
    for held, named in (
        ("name: Brindlewick 4", f"name: '{HOSTILE}'"),
        ("name: hydraulic hanger", f"name: '{HOSTILE}'"),
        ("part: running tool,", f"part: running tool, name: '{MARKED}',"),
    ):
        assert held in mine
        mine = mine.replace(held, named)
    page.session_state.texts[BRINDLEWICK] = [mine]
    for way in (learn.APART, learn.WATCH, learn.PRACTISE):
        page.session_state.learn_way = way
        page.run()
        assert not page.exception
        assert not page.markdown  # nothing of the page goes through markup
        assert all(HOSTILE not in one.label and MARKED not in one.label for one in page.button)
        drawn = [svg for each in data(page, "well_drawing") for svg in each["pages"]]
        drawn += [frame["svg"] for each in data(page, "player") for frame in each["frames"]]
        assert drawn
        assert not [svg for svg in drawn if "<img" in svg]
    assert HOSTILE in [part.name for part in faults.evaluated(Well(mine, "x")).plan.depth.liner.parts]


# ---------------------------------------------------------------- in a browser


def focused(page) -> str:
    """The name of what has the keyboard, also inside a component."""
    return page.evaluate(
        """() => { let at = document.activeElement;
        while (at.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
        return (at.getAttribute('aria-label') ?? at.labels?.[0]?.textContent ?? at.textContent).trim(); }"""
    )


def tab_to(page, *names: str) -> None:
    """Walk by the keyboard to what bears one of the names."""
    for _ in range(60):
        page.keyboard.press("Tab")
        if focused(page).startswith(names):
            return
    raise AssertionError(f"{names} are not reached by the keyboard; the last stop is {focused(page)!r}")


def pick_by_keys(page, task: practice.Task) -> None:
    """Pick the right one of several choices."""
    tab_to(page, task.choices[0])
    page.keyboard.press("Space")
    for number in range(task.answer[0] + 1):
        if number:
            page.keyboard.press("ArrowDown")
        page.wait_for_timeout(700)  # the pace of a person; the page redraws the choices
        assert focused(page) == task.choices[number]


def order_by_keys(page, task: practice.Task) -> None:
    """Move each choice up to its place."""
    lies = list(range(len(task.choices)))
    for place, wanted in enumerate(task.answer):
        while (now := lies.index(wanted)) > place:
            if focused(page) != f"Up: {task.choices[wanted]}":
                page.get_by_role("heading", name=task.question).click()  # back to the top of the task
                tab_to(page, f"Up: {task.choices[wanted]}")
            page.keyboard.press("Enter")
            lies[now - 1], lies[now] = lies[now], lies[now - 1]
            page.get_by_text(f"{now}  {task.choices[wanted]}", exact=True).wait_for(timeout=60_000)


@pytest.mark.browser
def test_a_round_is_walked_by_keyboard_alone_and_nothing_leaves_this_machine(address, browser_page):
    from playwright.sync_api import expect

    elsewhere, errors = [], []
    here = (address, address.replace("http", "ws"), "data:", "blob:")
    browser_page.on("request", lambda one: None if one.url.startswith(here) else elsewhere.append(one.url))
    browser_page.on("pageerror", lambda error: errors.append(str(error)))
    browser_page.set_viewport_size({"width": 1024, "height": 768})
    browser_page.goto(f"{address}/learn")
    browser_page.locator("g[data-part]").first.wait_for(timeout=60_000)
    tab_to(browser_page, "Take apart")
    browser_page.keyboard.press("ArrowRight")
    browser_page.keyboard.press("ArrowRight")
    browser_page.keyboard.press("Space")
    for task in practice.round_of(WELLS[BRINDLEWICK], 1):
        browser_page.get_by_role("heading", name=task.question).wait_for(timeout=60_000)
        if task.kind == practice.ORDER:
            order_by_keys(browser_page, task)
        else:
            pick_by_keys(browser_page, task)
        browser_page.get_by_text("First pick an answer").wait_for(state="detached", timeout=60_000)
        tab_to(browser_page, "Answer")
        browser_page.keyboard.press("Enter")
        right = browser_page.get_by_role("heading", name="Right at the first try")
        right.wait_for(timeout=60_000)
        expect(right).to_be_in_viewport(ratio=1)
        on = browser_page.locator(".st-key-practice-next button")
        expect(on).to_be_in_viewport(ratio=1)
        named = on.inner_text()
        if focused(browser_page) != named:
            browser_page.get_by_role("heading", name=task.question).click()
            tab_to(browser_page, named)
        browser_page.keyboard.press("Enter")
    browser_page.get_by_text("6 of 6 at the first try.").wait_for(timeout=60_000)
    with browser_page.expect_download(timeout=60_000) as kept:
        tab_to(browser_page, "Keep my result")
        browser_page.keyboard.press("Enter")
    name = f"brindlewick-4-practice-round-1-{date.today().isoformat()}.txt"
    assert kept.value.suggested_filename == name
    assert kept.value.path().read_text().count("   Right: ") == 6
    assert elsewhere == []
    assert errors == []


@pytest.mark.browser
def test_the_job_plays_and_stands_still_where_motion_is_not_wanted(address, browser_page):
    browser_page.emulate_media(reduced_motion="reduce")
    browser_page.goto(f"{address}/learn")
    browser_page.get_by_role("button", name="Watch it at step 11").click(timeout=60_000)
    slider = browser_page.get_by_role("slider", name="Step of the job")
    slider.wait_for(timeout=60_000)
    assert slider.get_attribute("aria-valuetext") == "step 11 of 27, Set the hanger"
    assert not browser_page.get_by_role("button", name="Play").is_visible()
    assert browser_page.locator('.paper img[style*="visible"]').count() == 1

    slider.focus()
    browser_page.keyboard.press("ArrowRight")
    assert slider.get_attribute("aria-valuetext").startswith("step 12 of 27")
    assert browser_page.get_by_text("More pressure than set the hanger lets the running tool go").is_visible()

    browser_page.emulate_media(reduced_motion="no-preference")
    browser_page.get_by_role("button", name="Play").click()
    browser_page.get_by_role("heading", name="Prove the release").wait_for(timeout=60_000)
    browser_page.get_by_role("button", name="Pause").click()
    assert browser_page.get_by_role("button", name="Play").is_visible()
