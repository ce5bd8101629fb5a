"""The step cards as pages: legible, complete, true to the cards, the same in grey."""

from __future__ import annotations

import re

import pytest

from schematic.drawing import overlap
from schematic.drawing.scene import Path, Text
from schematic.drawing.step_card import cards_sheet
from schematic.drawing.styles import in_grey
from schematic.job.steps import cards
from schematic.outcome import sentence
from schematic.verbs import check, demos, load_text
from tests.depth.wells import BRINDLEWICK, evaluated
from tests.test_hostile_names import hostile

DEMOS = [name for name in demos() if name != "sketch.yaml"]
THIN = "\u2009"


@pytest.fixture(scope="module", params=DEMOS)
def well(request):
    evaluation = check(load_text(demos()[request.param]))
    return evaluation, cards(evaluation.job)


def texts(scene):
    return [shape for group in scene.groups for shape in group.shapes if isinstance(shape, Text)]


def words(scenes):
    return re.sub(r"\s+", "", "".join(text.text for scene in scenes for text in texts(scene)))


@pytest.mark.parametrize("system", ["field", "metric"])
def test_nothing_on_a_card_is_hard_to_read(well, system):
    evaluation, its = well
    for scene in cards_sheet(evaluation, its, system).scenes:
        assert overlap.problems(scene) == [], scene.title


def test_every_sentence_is_on_its_card(well):
    evaluation, its = well
    for card in its:
        printed = words(cards_sheet(evaluation, its, "field", only=card.number).scenes)
        says = [*card.do, *card.look_for, *card.caution, *(say for one in card.if_not for say in one)]
        for say in says:
            told = re.sub(r"\s+", "", sentence(say.text, say.figures, "field"))
            assert told[1:] in printed.replace(THIN, ""), (card.code, told)


def test_the_three_boxes_are_on_the_first_page_and_never_alone_is_reversed(well):
    evaluation, its = well
    for card in its:
        first = cards_sheet(evaluation, its, "field", only=card.number).scenes[0]
        white = [text for text in texts(first) if text.colour == "#ffffff"]
        assert any(text.text == "Never exceed" for text in white)
        assert not any(text.text in ("Now", "Next", "Planned, not released") for text in white)


def test_not_computed_shows_no_figure(well):
    evaluation, its = well
    for card in its:
        if card.never.word != "not computed":
            continue
        first = cards_sheet(evaluation, its, "field", only=card.number).scenes[0]
        large = [text.text for text in texts(first) if text.colour == "#ffffff" and text.size_pt > 11.5]
        assert str(card.number) in large
        assert [text for text in large if text != str(card.number)] == ["not computed"]


def test_grey_is_the_same_card_in_other_inks(well):
    evaluation, its = well
    pages = cards_sheet(evaluation, its[:12], "field")

    for colour, grey in zip(pages.scenes, in_grey(pages).scenes, strict=True):
        for one, other in zip(colour.groups, grey.groups, strict=True):
            for shape, inked in zip(one.shapes, other.shapes, strict=True):
                if isinstance(shape, Path):
                    assert shape.runs == inked.runs


def test_diameters_are_true_to_one_another():
    """Hanger and liner in a card of Brindlewick 4: 8.312 in over its body, couplings of 7.375 in."""
    evaluation = evaluated(BRINDLEWICK)
    its = cards(evaluation.job)
    number = next(card.number for card in its if card.code == "set-the-hanger")
    [scene] = cards_sheet(evaluation, its, "field", only=number).scenes
    stated = next(text.text for text in texts(scene) if "diameters 1:" in text.text)
    ratio = int(re.search(r"diameters 1:(\d+)", stated)[1])

    def width(title):
        group = next(g for g in scene.groups if g.title.startswith(title) and g.part)
        body = max((s for s in group.shapes if isinstance(s, Path)), key=lambda s: len(s.runs))
        xs = [x for run in body.runs for x, _y in run]
        return max(xs) - min(xs)

    assert width("Joint") == pytest.approx(7.375 * 25.4 / ratio, abs=0.1)
    assert width("Hydraulic hanger") == pytest.approx(8.312 * 25.4 / ratio, abs=0.1)


def test_hostile_names_stay_text_on_a_card():
    document = load_text(hostile("<script>alert(1)</script>"))
    evaluation = check(document)
    pages = cards_sheet(evaluation, cards(evaluation.job), "field")

    for scene in pages.scenes:
        assert overlap.problems(scene) == []
    assert "<script>alert(1)</script>" in words(pages.scenes)


def test_progress_is_told_card_by_card():
    evaluation = evaluated(BRINDLEWICK)
    its = cards(evaluation.job)
    heard = []

    cards_sheet(evaluation, its, "field", progress=lambda done, count: heard.append((done, count)))

    assert heard == [(n, len(its)) for n in range(1, len(its) + 1)]
