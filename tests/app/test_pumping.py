"""Pump through: every state between the first cement and the bump, with what comes next."""

from __future__ import annotations

import re

import pytest

pytest.importorskip("streamlit")

from app import pumping
from schematic import verbs
from schematic.wellfile import edit

DEMOS = verbs.demos()
BRINDLEWICK = "brindlewick-4.yaml"
BARREL_M3 = 0.158987294928


@pytest.fixture(scope="module")
def well():
    """Brindlewick 4, and its card of the displacement."""
    evaluation = verbs.check(verbs.load_text(DEMOS[BRINDLEWICK]))
    return evaluation, next(card for card in verbs.steps(evaluation) if card.code == "displace-the-liner")


def test_the_volumes_go_from_nothing_to_the_bump_through_every_event(well):
    evaluation, _card = well
    its = pumping.volumes(evaluation)

    assert its[0] == 0.0
    assert its[-1] == pytest.approx(evaluation.job.train.total_m3)
    assert list(its) == sorted(set(its))
    # by hand: 30 bbl of spacer and 130.3 of cement before the dart, 269.8 behind it
    assert its[-1] / BARREL_M3 == pytest.approx(30 + 130.3 + 269.8, abs=0.3)


def test_what_comes_next_is_named_with_what_is_left(well):
    evaluation, card = well
    told = [pumping.frame(evaluation, card, m3)["next"] for m3 in pumping.volumes(evaluation)]

    names = [re.sub(r" in .*", "", one) for one in told]
    order = list(dict.fromkeys(names))
    assert order.index("Dart away") < order.index("Dart meets plug") < order.index("Bump")
    assert all("strokes" in one for one in told if " in " in one)


def test_at_the_end_the_columns_are_those_of_the_plan(well):
    """The trade reference balances 621 psi at the bump; its top of cement is 3 ft deeper than ours: 622 psi."""
    evaluation, card = well
    rest = pumping.frame(evaluation, card, evaluation.job.train.total_m3)["rest"]

    assert 620 <= float(re.search(r"(\d+) psi", rest)[1]) <= 623
    assert rest.startswith("Surface pressure")


def test_cement_in_the_string_is_the_heavier_column(well):
    """Cement of 15.8 ppg inside against mud of 12.6 outside: the string falls by itself."""
    evaluation, card = well

    assert pumping.frame(evaluation, card, evaluation.job.train.dart_from_m3)["rest"].startswith(
        "The string is heavier by"
    )


def test_a_volume_is_told_from_both_origins(well):
    """30 bbl of spacer and 130.3 of cement go before the dart: 200.3 bbl in all are 40 from the dart."""
    evaluation, card = well
    dart = evaluation.job.train.dart_from_m3
    told = pumping.frame(evaluation, card, dart + 40 * BARREL_M3)["looking"]

    in_all, dart_on = re.fullmatch(r"Looking at (.+) bbl in all, (.+) bbl from the dart", told).groups()
    assert float(in_all) == pytest.approx(200.3, abs=0.11)
    assert float(dart_on) == 40.0
    assert pumping.frame(evaluation, card, 0.5 * dart)["looking"].endswith("bbl in all, before the dart")


@pytest.mark.parametrize(("step", "value"), [("dart meets plug", "180 bbl"), ("dart away", "150 bbl")])
def test_readings_do_not_move_the_scrubber_and_it_says_so(well, step, value):
    evaluation, card = well
    line = {"step": step, "what": "volume pumped", "value": value}
    read = verbs.check(verbs.load_text(edit.insert(DEMOS[BRINDLEWICK], "record", line)))

    assert read.job.events != evaluation.job.events
    assert pumping.volumes(read) == pumping.volumes(evaluation)
    assert pumping.frame(read, card, 20.0)["next"] == pumping.frame(evaluation, card, 20.0)["next"]
    assert "As planned: readings do not move it." in pumping._HTML


@pytest.mark.parametrize(
    ("code", "barrels", "drawn"),
    [
        ("pump-spacer-and-cement", 0.0, "Wiper plug, hanging on the tool"),
        ("dart-meets-plug", 30 + 130.3, "Dart, just dropped"),
        ("displace-the-liner", 30 + 130.3 + 159.7, "Dart in the plug"),  # 159.7 bbl of bore above the plug
        ("bump-the-plug", 30 + 130.3 + 269.8, "landed"),
    ],
)
def test_the_scrubber_begins_where_the_step_begins(well, code, barrels, drawn):
    evaluation, _card = well
    card = next(one for one in verbs.steps(evaluation) if one.code == code)
    begun = pumping.begins(evaluation, card)

    assert begun / BARREL_M3 == pytest.approx(barrels, abs=0.3)
    assert drawn in pumping.frame(evaluation, card, begun)["svg"]


@pytest.mark.parametrize(
    ("typed", "since", "barrels"),
    [
        ("200.3", "job", 200.3),
        ("40", "dart", 40 + 160.3),  # 30 of spacer and 130.3 of cement go before the dart
        ("0", "job", 0.0),
        ("27.5 m3", "job", 27.5 / BARREL_M3),
        ("269.8", "dart", 430.1),  # the bump as it is printed
    ],
)
def test_any_volume_is_looked_at(well, typed, since, barrels):
    assert pumping.pumped(well[0], typed, since) / BARREL_M3 == pytest.approx(barrels, abs=0.3)


def test_the_bump_as_it_is_printed_is_the_bump(well):
    total = well[0].job.train.total_m3
    frame = pumping.frame(*well, total)

    assert [pumping.pumped(well[0], frame[since], since) for since in ("job", "dart")] == [total, total]


@pytest.mark.parametrize(
    ("typed", "since", "told"),
    [
        ("431", "job", "431.0 bbl from the first fluid is beyond the bump, at 430.1 bbl"),
        ("270.5", "dart", "270.5 bbl from the dart is beyond the bump, at 269.8 bbl"),
        ("-1", "job", "-1.00 bbl from the first fluid is before it"),
        ("soon", "job", "a volume such as"),
        ("9 psi", "job", "a volume such as"),
    ],
)
def test_a_volume_outside_of_the_job_is_told(well, typed, since, told):
    found = pumping.pumped(well[0], typed, since)

    assert isinstance(found, str)
    assert told in found.replace("\u2212", "-")


def test_the_box_says_what_the_scrubber_looks_at(well):
    evaluation, _card = well
    dart = evaluation.job.train.dart_from_m3
    frames = [pumping.frame(*well, m3) for m3 in (0.5 * dart, dart + 40 * BARREL_M3)]

    assert [one["dart"] for one in frames] == ["", "40.0"]
    for one in frames:
        assert one["looking"].startswith(f"Looking at {one['job']} bbl in all")


def test_every_front_of_the_displacement_is_named(well):
    """Once spacer and cement are outside, both are drawn, however low the paper is."""
    evaluation, card = well
    total = evaluation.job.train.total_m3

    for share in (0.6, 0.7, 0.8, 0.9, 1.0):
        svg = pumping.frame(evaluation, card, share * total)["svg"]
        assert "Spacer" in svg
        assert "Cement 1" in svg
