"""A swept value as an option: it takes the place of what says it otherwise, and the string still ends there."""

from __future__ import annotations

import pytest

from schematic import verbs
from schematic.comparison.sweep import option_at, option_made, text_at
from schematic.wellfile import edit
from schematic.wellfile.problem import InputError

DEMOS = verbs.demos()
SKETCH, BRINDLEWICK = DEMOS["sketch.yaml"], DEMOS["brindlewick-4.yaml"]


@pytest.mark.parametrize(("what", "twin"), [("liner top", "liner.lap"), ("shoe", "liner.off bottom")])
def test_a_swept_value_takes_the_place_of_what_says_it_otherwise(what, twin):
    document = verbs.load_text(SKETCH)
    liner = verbs.check(document).plan.depth.liner
    wanted = (liner.top_md_m if what == "liner top" else liner.shoe_md_m) - 5.0
    made = option_at(document, what, f"{wanted:.2f} m")

    assert made["without"] == [twin]
    there = verbs.check(verbs.load_text(text_at(document, what, f"{wanted:.2f} m"))).plan.depth.liner
    assert (there.top_md_m if what == "liner top" else there.shoe_md_m) == pytest.approx(wanted)


def test_an_adopted_option_is_the_text_that_was_swept():
    made = option_at(verbs.load_text(BRINDLEWICK), "liner top", "9440 ft")
    listed = edit.insert(edit.remove(BRINDLEWICK, "options"), "options", made)
    option = verbs.options(verbs.load_text(listed))[1].evaluation
    text = text_at(verbs.load_text(BRINDLEWICK), "liner top", "9440 ft")
    swept = verbs.check(verbs.load_text(edit.remove(text, "options")))

    assert option.plan.depth.liner == swept.plan.depth.liner
    assert option.plan.depth.running == swept.plan.depth.running
    assert option.outcomes == swept.outcomes


@pytest.mark.parametrize(("lap", "pipe"), [("400 ft", "9046 ft"), ("150 ft", "9296 ft"), ("370 ft", None)])
def test_the_running_string_follows_the_liner_top_by_its_uppermost_drill_pipe(lap, pipe):
    # 9076 ft of pipe with a lap of 370 ft; the demo's own option writes 9296 ft for 150 ft
    change = option_at(verbs.load_text(BRINDLEWICK), "lap", lap)["change"]

    expected = {"running string.assembly.drill pipe.length": pipe} if pipe else {}
    assert change == {"liner.lap": lap, **expected}


def test_the_shoe_alone_leaves_the_running_string():
    assert option_at(verbs.load_text(BRINDLEWICK), "shoe", "12580 ft")["change"] == {"liner.shoe": "12580 ft"}


def test_more_pipe_to_lay_down_than_there_is_is_refused():
    with pytest.raises(InputError, match="pipe to lay down"):
        option_at(verbs.load_text(BRINDLEWICK), "lap", "9500 ft")


def test_an_option_that_moves_the_liner_top_takes_the_running_string_along():
    text = option_made(verbs.load_text(BRINDLEWICK), "long lap", "liner.lap", "500 ft", None)
    (made,) = [one for one in verbs.load_text(text).content.options if one.name == "long lap"]

    # 130 ft more lap: the liner top is 130 ft higher, and so is what ends there
    assert made.change == {"liner.lap": "500 ft", "running string.assembly.drill pipe.length": "8946 ft"}


def test_an_option_of_another_value_changes_that_alone():
    text = option_made(verbs.load_text(BRINDLEWICK), "denser", "fluids.mud.density", "12.8 ppg", None)
    (made,) = [one for one in verbs.load_text(text).content.options if one.name == "denser"]

    assert made.change == {"fluids.mud.density": "12.8 ppg"}
