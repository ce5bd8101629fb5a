"""The step cards as pages: legible, complete, true to the cards, the same in grey."""

from __future__ import annotations

import re
from functools import cache

import pytest

from schematic.drawing import overlap
from schematic.drawing.captions import THIN
from schematic.drawing.grid import PAPERS
from schematic.drawing.scene import Dots, Path, Text
from schematic.drawing.step_card import cards_sheet
from schematic.drawing.styles import in_grey
from schematic.drawing.text import box_mm
from schematic.export.steps import needs_in_words
from schematic.job.card import GaugeBand
from schematic.job.steps import cards
from schematic.outcome import sentence
from schematic.units import number
from schematic.verbs import check, demos, load_text, render
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated
from tests.drawing.step_cards import BUMP_METRIC, CARDS, PSI, SET_THE_HANGER
from tests.drawing.torture import WELLS
from tests.test_hostile_names import hostile

DEMOS = [name for name in demos() if name != "sketch.yaml"]
SYSTEMS = ("field", "metric")
WHITE, BLACK = "#ffffff", "#000000"


class Set:
    """The cards of a well, and their pages, drawn once in each system."""

    def __init__(self, name):
        self.evaluation = check(load_text(demos()[name]))
        self.cards = cards(self.evaluation.job)
        self.pages = cache(lambda system: cards_sheet(self.evaluation, self.cards, system))

    def of(self, card, system="field"):
        """The pages of one card."""
        head = f"card {card.number} of {len(self.cards)}"
        found = [scene for scene in self.pages(system).scenes if re.search(rf"\b{head}\b", scene.title)]
        assert found, head
        return found


@pytest.fixture(scope="module", params=DEMOS)
def well(request):
    return Set(request.param)


@pytest.fixture(scope="module")
def brindlewick():
    return evaluated(BRINDLEWICK)


def texts(*scenes):
    return [
        shape
        for scene in scenes
        for group in scene.groups
        for shape in group.shapes
        if isinstance(shape, Text)
    ]


def words(scenes):
    return re.sub(r"\s+", "", "".join(text.text for text in texts(*scenes)))


def squashed(say, system):
    told = sentence(say.text, say.figures, system)
    return re.sub(r"\s+", "", told.replace(" m3", " m\u00b3"))[1:]  # the first letter may be made a capital


def all_says(card):
    remedies = [say for one in card.if_not for say in one]
    boxes = [line for box in (card.now, card.next, card.never) for line in box.lines]
    limit = [card.pick_up_limit] if card.pick_up_limit else []
    weight = (
        []
        if card.weight is None
        else [s for s in card.weight.says if s.text.endswith(".") or "{" not in s.text]
    )
    told = [*card.do, *card.pressure, *card.volume, *card.look_for, *card.caution]
    return [card.sub, *told, *remedies, *boxes, *limit, *weight]


def drawn(evaluation, card, system="field", paper="a4"):
    return cards_sheet(evaluation, [card], system, PAPERS[paper]).scenes


def of(scene, title):
    return [shape for group in scene.groups if group.title == title for shape in group.shapes]


# legible


@pytest.mark.parametrize("system", SYSTEMS)
def test_nothing_on_a_card_is_hard_to_read(well, system):
    for scene in well.pages(system).scenes:
        assert overlap.problems(scene) == [], scene.title


@pytest.mark.parametrize("paper", ["a4", "letter", "a3"])
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", sorted(CARDS))
def test_nothing_is_hard_to_read_on_cards_of_any_kind(brindlewick, name, system, paper):
    sheet = cards_sheet(brindlewick, [CARDS[name]], system, PAPERS[paper])
    for scene in (*sheet.scenes, *in_grey(sheet).scenes):
        assert overlap.problems(scene) == [], scene.title


@pytest.mark.parametrize("system", SYSTEMS)
def test_nothing_is_hard_to_read_on_a_card_of_a_deviated_well(system):
    for scene in drawn(evaluated(SOLLIVANE), BUMP_METRIC, system):
        assert overlap.problems(scene) == []


@pytest.mark.parametrize(
    "name", ["crowded liner top", "forty parts", "long names", "no running string", "long lap"]
)
def test_nothing_is_hard_to_read_where_a_well_is_unusual(name):
    evaluation = check(load_text(WELLS[name]))
    for scene in cards_sheet(evaluation, cards(evaluation.job), evaluation.plan.identity.system).scenes:
        assert overlap.problems(scene) == [], scene.title


@pytest.mark.parametrize("name", sorted(CARDS))
def test_what_is_done_is_printed_no_smaller_than_eight_points(brindlewick, name):
    heads = ("Do", "Do, continued", "If not", "Look for, tick when seen", "Caution", "Now", "Never exceed")
    for scene in drawn(brindlewick, CARDS[name]):
        for group in scene.groups:
            if group.title in heads:
                assert min(shape.size_pt for shape in group.shapes if isinstance(shape, Text)) >= 8.0


# complete


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_sentence_is_on_its_card(well, system):
    for card in well.cards:
        printed = words(well.of(card, system)).replace(THIN, "")
        told = needs_in_words(well.evaluation, card)
        for say in all_says(told):
            assert squashed(say, system) in printed, (card.code, say)
        for one in told.needs:
            assert re.sub(r"\s+", "", f"{one.what}: needs {', '.join(one.needs)}")[1:] in printed


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", sorted(CARDS))
def test_every_word_of_any_card_is_on_its_pages(brindlewick, name, system):
    card = CARDS[name]
    printed = words(drawn(brindlewick, card, system)).replace(THIN, "")
    for say in all_says(card):
        assert squashed(say, system) in printed, say
    for thing, how in card.state:
        assert f"{thing}{how}".replace(" ", "")[1:] in printed
    for head in (card.title, *card.as_read):
        assert head.replace(" ", "") in printed
    if card.gauge is not None:
        for band in card.gauge.bands:
            assert band.name.replace(" ", "")[1:] in printed
        said = (words([scene]) for scene in drawn(brindlewick, card, system))
        assert any(card.gauge.why.replace(" ", "") in one for one in said)
    for one in card.counts:
        if one.at_rest_pa is not None:
            assert number(one.at_rest_pa, "pressure", system).replace(",", "") in printed
        for figure in (one.m3, one.least_m3, one.most_m3):
            assert number(figure, "volume", system).replace(",", "") in printed


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_card_of_the_wells_that_come_with_it_has_room_on_one_page(well, system):
    scenes = well.pages(system).scenes
    assert len(scenes) == len(well.cards)
    assert not any("not named" in text.text for text in texts(*scenes))


def test_a_card_that_says_much_goes_on_with_pages_that_say_so(brindlewick):
    scenes = drawn(brindlewick, CARDS["many sentences"])

    assert len(scenes) >= 3
    for count, scene in enumerate(scenes, 1):
        said = [text.text for text in texts(scene)]
        assert f"card 11 of 1, page {count} of {len(scenes)}" in said
        assert "11" in said
        assert any("verify every figure" in text for text in said)
        if count > 1:
            assert "Set the hanger, continued" in said
            assert any(text.endswith(", continued") and text != "Set the hanger, continued" for text in said)
    assert not any("page 2" in text.text for text in texts(*drawn(brindlewick, SET_THE_HANGER)))


def test_the_foot_tells_issue_state_and_file(brindlewick):
    identity = brindlewick.plan.identity
    [scene] = drawn(brindlewick, SET_THE_HANGER)
    foot = " ".join(s.text for s in of(scene, "Caution and issue") if isinstance(s, Text))
    assert "PLANNED, revision 2 of 2026-11-20" in foot
    assert f"file {identity.file_hash}" in foot
    assert "verify every figure" in foot


def test_steps_before_and_after_stand_in_one_line_with_this_one_bold(brindlewick):
    its = cards(brindlewick.job)
    scene = cards_sheet(brindlewick, its, "field", only=11).scenes[0]
    line = {f"{card.number} {card.title}": card.number for card in its[9:12]}
    found = [text for text in texts(scene) if text.text in line]
    assert [line[text.text] for text in found] == [10, 11, 12]
    assert len({text.y_mm for text in found}) == 1
    assert [text.bold for text in found] == [False, True, False]


# the boxes


def test_never_alone_is_white_on_black(well):
    for card in well.cards:
        first = well.of(card)[0]
        [never] = [group for group in first.groups if group.title == "Never exceed"]
        [ground] = [s for s in never.shapes if isinstance(s, Path) and s.style.fill == BLACK]
        xs, ys = zip(*ground.runs[0], strict=True)
        inside = [text for text in never.shapes if isinstance(text, Text)]
        assert inside[0].text == "Never exceed"
        for text in inside:
            left, top, right, bottom = box_mm(text)
            assert text.colour == WHITE
            assert min(xs) < left < right < max(xs)
            assert min(ys) < top < bottom < max(ys)
        white = [text for text in texts(first) if text.colour == WHITE]
        assert {text.text for text in white} - {text.text for text in inside} == {str(card.number)}


def test_now_has_the_heavier_frame(brindlewick):
    [scene] = drawn(brindlewick, SET_THE_HANGER)
    [now] = [s for s in of(scene, "Now") if isinstance(s, Path)]
    [coming] = [s for s in of(scene, "Next event") if isinstance(s, Path)]
    assert now.style.width_mm > coming.style.width_mm
    assert now.style.fill is coming.style.fill is None


def test_figures_of_the_boxes_are_the_largest_print_of_the_page(brindlewick):
    [scene] = drawn(brindlewick, SET_THE_HANGER)
    figures = {
        title: [t for t in of(scene, title) if isinstance(t, Text)]
        for title in ("Now", "Next event", "Never exceed")
    }
    largest = {title: max(found, key=lambda text: text.size_pt) for title, found in figures.items()}
    assert [text.text for text in largest.values()] == [f"1{THIN}700", f"2{THIN}160", f"2{THIN}000"]
    others = [t for t in texts(scene) if t not in largest.values() and t.text != "11"]
    assert min(text.size_pt for text in largest.values()) > max(text.size_pt for text in others)


@pytest.mark.parametrize("system", SYSTEMS)
def test_not_computed_shows_no_figure(brindlewick, system):
    [scene] = drawn(brindlewick, CARDS["not computed"], system)
    for title in ("Now", "Next event", "Never exceed"):
        found = [text.text for text in of(scene, title) if isinstance(text, Text)]
        assert "not computed" in found
        assert not any(re.search(r"\d", text) for text in found)
        assert "Needs installation.tool releases at" in " ".join(found)


def test_no_box_of_a_plan_that_is_not_computed_shows_a_figure(well):
    for card in well.cards:
        first = well.of(card)[0]
        heads = (card.now_head, "Next event", "Never exceed")
        for head, box in zip(heads, (card.now, card.next, card.never), strict=True):
            large = [t.text for t in of(first, head) if isinstance(t, Text) and t.size_pt > 12.5]
            if box.figure is None:
                assert " ".join(large) == box.word
            elif head == "Planned, on hold":
                assert large == ["not yet"]
            else:
                assert re.search(r"\d", large[0])


def test_what_is_not_released_says_so_and_is_barred(brindlewick):
    [scene] = drawn(brindlewick, CARDS["not released"])
    found = of(scene, "Planned, on hold")
    assert any(isinstance(s, Path) and len(s.runs) > 10 for s in found)
    assert "more than must never be exceeded" in " ".join(s.text for s in found if isinstance(s, Text))
    assert not of(scene, "Now")


def test_what_waits_for_a_step_on_hold_is_barred_and_says_for_which(brindlewick):
    [scene] = drawn(brindlewick, SET_THE_HANGER._replace(waits_for=13))
    found = of(scene, "On hold with 13")
    assert any(isinstance(s, Path) and len(s.runs) > 10 for s in found)
    assert not of(scene, "Now")


def test_boxes_that_say_more_than_they_hold_go_on_below(brindlewick):
    card = SET_THE_HANGER._replace(never=CARDS["many sentences"].never)
    scenes = drawn(brindlewick, card)
    more = [group.title for scene in scenes for group in scene.groups]
    assert "Never exceed, more" in more


# the gauge


def gauge_of(evaluation, name):
    return of(drawn(evaluation, CARDS[name])[0], "Gauge, psi at surface")


def bar_of(shapes):
    [frame] = [s for s in shapes if isinstance(s, Path) and s.closed and s.style.fill is None]
    xs, ys = zip(*frame.runs[0], strict=True)
    return min(xs), max(xs), min(ys), max(ys)


def test_the_gauge_is_linear_from_nought(brindlewick):
    """Band, target and limit against the figures on the axis, read back from the drawing."""
    shapes = gauge_of(brindlewick, "full")
    left, _right, top, bottom = bar_of(shapes)
    axis = [t for t in shapes if isinstance(t, Text) and t.anchor == "middle"]
    per_psi = (axis[2].x_mm - axis[1].x_mm) / 1000.0
    assert axis[1].text == f"1{THIN}000"
    assert axis[1].x_mm - 1000.0 * per_psi == pytest.approx(left, abs=0.02)
    [band] = [s for s in shapes if isinstance(s, Path) and s.style.fill == "#0072b2"]
    xs = [x for x, _y in band.runs[0]]
    assert (min(xs) - left) / per_psi == pytest.approx(1425.0, abs=5.0)
    assert (max(xs) - left) / per_psi == pytest.approx(1575.0, abs=5.0)
    [limit] = [s for s in shapes if isinstance(s, Path) and s.style.width_mm == 1.2]
    assert (limit.runs[0][0][0] - left) / per_psi == pytest.approx(2000.0, abs=5.0)
    [target] = [s for s in shapes if isinstance(s, Path) and s.style.fill == BLACK and len(s.runs[0]) == 3]
    assert (target.runs[0][2][0] - left) / per_psi == pytest.approx(1700.0, abs=5.0)
    assert target.runs[0][2][1] < top < bottom


def test_only_what_is_beyond_the_limit_is_hatched(brindlewick):
    shapes = gauge_of(brindlewick, "full")
    [limit] = [s for s in shapes if isinstance(s, Path) and s.style.width_mm == 1.2]
    [hatch] = [s for s in shapes if isinstance(s, Path) and s.style.stroke == "#d55e00"]
    assert min(x for run in hatch.runs for x, _y in run) >= limit.runs[0][0][0] - 1e-6
    without = gauge_of(brindlewick, "gauge without limit")
    assert not [s for s in without if isinstance(s, Path) and s.style.stroke == "#d55e00"]
    assert not any("never" in s.text for s in without if isinstance(s, Text))


def test_the_band_of_this_step_differs_from_the_others_in_grey_too(brindlewick):
    shapes = gauge_of(brindlewick, "full")
    lined = [s for s in shapes if isinstance(s, Path) and s.style.fill == WHITE]
    solid = [s for s in shapes if isinstance(s, Path) and s.style.fill == "#0072b2"]
    assert (len(solid), len(lined)) == (1, 2)


def test_a_band_without_width_is_told_as_one_figure(brindlewick):
    gauge = GaugeBand("bump", 1750 * PSI, 1750 * PSI, True)
    card = SET_THE_HANGER._replace(gauge=SET_THE_HANGER.gauge._replace(bands=(gauge,)))
    said = [text.text for text in texts(*drawn(brindlewick, card))]
    assert f"Bump 1{THIN}750" in said


def test_no_gauge_no_head_of_one(brindlewick):
    assert not any("Gauge" in text.text for text in texts(*drawn(brindlewick, CARDS["no gauge"])))


# weight, boxes to write in


def test_two_weights_stand_in_large_figures_with_the_difference_in_words(brindlewick):
    [scene] = drawn(brindlewick, SET_THE_HANGER)
    found = of(scene, "Hook load, klbf, block 45 included")
    large = [t.text for t in found if isinstance(t, Text) and t.size_pt >= 20.0]
    assert large == ["299.8", "226.6"]
    assert "Falls 73.2 klbf: the liner in mud." in " ".join(t.text for t in found if isinstance(t, Text))


def test_the_load_of_each_motion_stands_over_its_name(brindlewick):
    scenes = drawn(brindlewick, CARDS["each motion"], "metric")
    found = [t for t in of(scenes[0], "Hook load, kN, block 200 included") if isinstance(t, Text)]
    by_text = {text.text: text for text in found}
    for figure, motion in ((f"1{THIN}248", "Picking up"), ("868", "Slacking off")):
        assert by_text[figure].x_mm == by_text[motion].x_mm
        assert by_text[figure].y_mm < by_text[motion].y_mm
        assert by_text[figure].size_pt >= 14.0
    assert "The last stand was not weighed." in by_text


def test_boxes_to_write_in_are_nine_millimetres_high(brindlewick):
    for scene in drawn(brindlewick, SET_THE_HANGER):
        found = [s for s in of(scene, "As read") if isinstance(s, Path) and s.closed]
        assert len(found) == 4  # the time, and the three of the card
        for box in found:
            ys = [y for _x, y in box.runs[0]]
            assert max(ys) - min(ys) == pytest.approx(9.0)


# the same in other inks, safe, one after another


def test_grey_is_the_same_card_in_other_inks(well):
    pages = well.pages("field")

    for colour, grey in zip(pages.scenes, in_grey(pages).scenes, strict=True):
        for one, other in zip(colour.groups, grey.groups, strict=True):
            for shape, inked in zip(one.shapes, other.shapes, strict=True):
                if isinstance(shape, Text):
                    assert shape._replace(colour="") == inked._replace(colour="")
                elif isinstance(shape, Dots):
                    assert (shape.centres, shape.radius_mm) == (inked.centres, inked.radius_mm)
                else:
                    assert (shape.runs, shape.closed) == (inked.runs, inked.closed)
                    assert shape.style.width_mm == inked.style.width_mm


def test_hostile_names_stay_text_on_a_card():
    evaluation = check(load_text(hostile("<script>alert(1)</script>")))
    pages = cards_sheet(evaluation, cards(evaluation.job), "field")

    for scene in pages.scenes:
        assert overlap.problems(scene) == []
    assert "<script>alert(1)</script>" in words(pages.scenes)
    for page in render(pages, ".svg"):
        assert b"<script" not in page


def test_templates_in_a_file_are_not_filled():
    evaluation = evaluated(BRINDLEWICK, ("name: hydraulic hanger", "name: '{now} {0} hanger'"))
    its = cards(evaluation.job)
    printed = words(cards_sheet(evaluation, its, "field", only=10).scenes)
    assert "{now}{0}hanger" in printed


def test_progress_is_told_card_by_card(brindlewick):
    its = cards(brindlewick.job)
    heard = []

    cards_sheet(brindlewick, its, "field", progress=lambda done, count: heard.append((done, count)))

    assert heard == [(n, len(its)) for n in range(1, len(its) + 1)]


def test_one_card_alone_is_the_one_of_the_whole_set(brindlewick):
    its = cards(brindlewick.job)
    whole = cards_sheet(brindlewick, its, "field").scenes
    for number_ in (1, 11, len(its)):
        alone = cards_sheet(brindlewick, its, "field", only=number_).scenes
        assert set(alone) <= set(whole)
        assert all(f"card {number_} of {len(its)}" in scene.title for scene in alone)
