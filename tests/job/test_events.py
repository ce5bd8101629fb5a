"""Events of pumping: where the fronts are when they are said to be, in the order that can be, and based anew."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from schematic.job.events import (
    BALL,
    BUMP,
    DART,
    DART_AWAY,
    LIMIT,
    PLUG_AWAY,
    pump_showed,
    re_based,
)
from schematic.outcome import MissingInput
from schematic.units import BARREL_M3, FOOT_M
from schematic.verbs import demos
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated
from tests.engineering.test_train import SEEDS, generated

BANDS = ("efficiency: 96 %, efficiency", "efficiency: {low: 94 %, likely: 96 %, high: 98 %}, efficiency")
WASHED = BRINDLEWICK[BRINDLEWICK.index("    caliper:\n") : BRINDLEWICK.index("\nstrings:")]
WASHOUT = "    washout: {diameter: {low: 1 %, likely: 3 %, high: 6 %}}\n"
TARNVALE = demos()["tarnvale-h3.yaml"]


def events(text, *changes):
    """The events of a text by name."""
    return {event.name: event for event in evaluated(text, *changes).job.events}


def test_the_events_of_the_vertical_well_in_their_order():
    assert list(events(BRINDLEWICK)) == [
        BALL,
        DART_AWAY,
        "spacer at liner shoe",
        "cement at liner shoe",
        DART,
        PLUG_AWAY,
        "spacer at host shoe",
        "spacer at liner top",
        "cement at host shoe",
        "cement at liner top",
        BUMP,
        LIMIT,
    ]


def test_the_volumes_of_the_worked_wells():
    """Printed: 159.7 bbl to the plug, 269.8 to the bump, half of a shoe track of 4.67 beyond; ball to the collar as the
    displacement. 26.91 and 44.04 m3. Tolerance 0.5 %, the source's own.
    """
    vertical, deviated = events(BRINDLEWICK), events(SOLLIVANE)

    assert vertical[DART].m3 / BARREL_M3 == pytest.approx(159.7, rel=0.005)
    assert vertical[BUMP].m3 / BARREL_M3 == pytest.approx(269.8, rel=0.005)
    assert vertical[BALL].m3 / BARREL_M3 == pytest.approx(269.8, rel=0.005)
    assert (vertical[LIMIT].m3 - vertical[BUMP].m3) / BARREL_M3 == pytest.approx(4.67 / 2, rel=0.005)
    assert vertical[BUMP].strokes == pytest.approx(269.8 / 0.1010, rel=0.005)
    assert deviated[DART].m3 == pytest.approx(26.91, rel=0.005)
    assert deviated[BUMP].m3 == pytest.approx(44.04, rel=0.005)
    assert deviated[BUMP].strokes is None


def test_both_counters_of_an_event():
    found = events(BRINDLEWICK, BANDS)
    away = found[DART_AWAY]

    assert found[BALL].job is found[BALL].dart is None
    assert away.job == away.counted
    assert away.dart is None
    assert found["cement at host shoe"].job == found["cement at host shoe"].counted
    assert found["cement at host shoe"].dart.m3 == pytest.approx(found["cement at host shoe"].m3 - away.m3)
    assert found[BUMP].dart == found[BUMP].counted
    for mine, whole, before in zip(found[BUMP].dart, found[BUMP].job, away.counted, strict=True):
        assert whole == pytest.approx(mine + before)


def test_bands_of_the_pump_and_of_the_fluid_that_is_compressed():
    """Strokes count 96/98 to 96/94 of what is pumped; water-base mud behind the dart gives 3e-6 a psi under 750 psi:
    what the displacement says. Fronts ahead of the dart are not compressed.
    """
    evaluation = evaluated(BRINDLEWICK, BANDS)
    found = {event.name: event for event in evaluation.job.events}
    bump, shoe = found[BUMP], found["spacer at liner shoe"]

    assert bump.counted[1:] == pytest.approx(
        (evaluation.displacement.least_m3, evaluation.displacement.most_m3)
    )
    assert bump.most_m3 == pytest.approx(bump.m3 * (96 / 94 + 3e-6 * 750.0))
    assert shoe.counted[1:] == pytest.approx((shoe.m3 * 96 / 98, shoe.m3 * 96 / 94))
    assert found[DART].least_m3 < found[DART].m3 < found[DART].most_m3


def test_the_hole_has_a_band_outside_the_liner_alone():
    """From the host shoe down, 8 1/2 in hole taken 3 % wider, 1 % at least and 6 at most: 2 740 ft to the shoe, 10 ft
    of rathole below.
    """
    found = events(BRINDLEWICK, (WASHED, WASHOUT))
    bit = 8.5 * 0.0254
    area = [0.7853981633974483 * (bit * factor) ** 2 * 2750.0 * FOOT_M for factor in (1.03, 1.01, 1.06)]

    for name in ("spacer at host shoe", "spacer at liner top", "cement at host shoe"):
        event = found[name]
        assert event.m3 - event.least_m3 == pytest.approx(area[0] - area[1])
        assert event.most_m3 - event.m3 == pytest.approx(area[2] - area[0])
    for name in (DART_AWAY, "spacer at liner shoe"):
        assert found[name].least_m3 == found[name].m3 == found[name].most_m3


def test_time_by_rates_and_pauses():
    """Spacer 30 bbl at 6: 5 min; the dart needs 149.7 bbl at 6 and what is left at 2."""
    evaluation = evaluated(BRINDLEWICK)
    found = {event.name: event for event in evaluation.job.events}
    cement = evaluation.cement.total_m3 / BARREL_M3
    to_plug = evaluation.displacement.to_plug_m3 / BARREL_M3

    assert found[BALL].seconds is None
    assert found[DART_AWAY].seconds / 60.0 == pytest.approx(5.0 + cement / 5.0 + 5.0)
    assert found[DART].seconds / 60.0 == pytest.approx(149.7 / 6.0 + (to_plug - 149.7) / 2.0)
    half = events(
        BRINDLEWICK, ("{fluid: mud, rate: 2 bbl/min, remark: the last", "{fluid: mud, remark: the last")
    )
    assert half[DART].seconds == pytest.approx(found[DART].seconds)
    assert half[BUMP].seconds is None


@settings(max_examples=150)
@given(st.sampled_from(SEEDS))
def test_at_its_volume_each_front_is_where_its_event_says(seed):
    made = generated(seed)
    assume(made is not None)
    evaluation, train = made
    depth = evaluation.plan.depth
    places = {
        "shoe": depth.liner.shoe_md_m,
        "host shoe": depth.host.shoe_md_m,
        "liner top": depth.liner.top_md_m,
    }

    for event in evaluation.job.events:
        fluid, _at, where = event.name.partition(" at ")
        if where not in places or event.volume_m3[0] > train.total_m3:
            continue
        place = train.at(event.volume_m3[0])
        if where == "shoe":
            front = max(layer.bottom_md_m for layer in place.inside if layer.fluid == fluid)
        else:
            front = min(layer.top_md_m for layer in place.outside if layer.fluid == fluid)
        assert front == pytest.approx(places[where], abs=1e-6)


def in_the_only_possible_order(found):
    order = {event.name: index for index, event in enumerate(found)}
    at = {event.name: event.job.m3 for event in found if event.job is not None}
    assert list(at.values()) == sorted(at.values())
    stops = [] if any(event.name == BUMP and event.observed for event in found) else [LIMIT]
    chains = [[DART_AWAY, DART, PLUG_AWAY, BUMP, *stops]]  # a bump may be read beyond where to stop
    chains += [
        [f"{fluid} at {place}" for place in ("shoe", "host shoe", "liner top")]
        for fluid in ("spacer", "lead", "tail", "cement")
    ]
    chains += [
        [f"{fluid} at {place}" for fluid in ("spacer", "lead", "tail")]
        for place in ("shoe", "host shoe", "liner top")
    ]
    for chain in chains:
        there = [order[name] for name in chain if name in order]
        assert there == sorted(there)


@settings(max_examples=150)
@given(st.sampled_from(SEEDS), st.data())
def test_events_come_in_the_only_order_they_can_also_when_one_was_seen_elsewhere(seed, data):
    made = generated(seed)
    assume(made is not None)
    found = made[0].job.events

    in_the_only_possible_order(found)
    seen = data.draw(st.sampled_from([event for event in found if event.name != LIMIT]))
    in_the_only_possible_order(re_based(found, seen.name, data.draw(st.floats(0.97, 1.03)) * seen.m3))


def test_a_dart_that_comes_late_shows_a_pump_that_delivers_less():
    """159.7 bbl expected, 163 counted: the bump comes as much later in proportion, and the band of efficiency goes."""
    before = evaluated(BRINDLEWICK, BANDS).job.events
    planned = {event.name: event for event in before}
    seen = {event.name: event for event in re_based(before, DART, 163.0 * BARREL_M3)}
    factor = 163.0 * BARREL_M3 / planned[DART].m3

    assert seen[DART].observed
    assert seen[DART].counted == (pytest.approx(163.0 * BARREL_M3),) * 3
    for name in (BUMP, LIMIT):
        assert seen[name].m3 == pytest.approx(planned[name].m3 * factor)
        assert seen[name].least_m3 == pytest.approx(seen[name].m3)
        assert seen[name].most_m3 - seen[name].m3 == pytest.approx(planned[name].squeezed_m3)
        assert seen[name].seconds == pytest.approx(planned[name].seconds * factor)
        assert seen[name].job.m3 == pytest.approx(planned[DART_AWAY].m3 + seen[name].m3)
    assert seen[PLUG_AWAY].m3 == pytest.approx(163.0 * BARREL_M3)
    for name in (BALL, DART_AWAY, "spacer at liner shoe", "cement at liner shoe"):  # came before it
        assert seen[name] == planned[name]
    front = seen[
        "cement at host shoe"
    ]  # comes after it: the pump has counted in this way since the dart went
    beyond = planned[front.name].volume_m3[0] - planned[DART_AWAY].volume_m3[0]
    assert (front.since, front.m3) == ("dart", pytest.approx(beyond * factor))
    assert front.job.m3 == pytest.approx(planned[DART_AWAY].m3 + beyond * factor)
    assert front.seconds == pytest.approx((planned[front.name].seconds - planned[DART_AWAY].seconds) * factor)


def test_a_ball_that_comes_late_shows_it_for_the_whole_job():
    before = evaluated(BRINDLEWICK).job.events
    planned = {event.name: event for event in before}
    seen = {event.name: event for event in re_based(before, BALL, 1.02 * before[0].m3)}

    for name in (DART_AWAY, "cement at liner shoe", "cement at host shoe", DART, BUMP):
        assert seen[name].m3 == pytest.approx(1.02 * planned[name].m3)
        assert seen[name].job.m3 == pytest.approx(1.02 * planned[name].job.m3)
    assert not seen[DART].observed


def test_a_front_that_comes_late_outside_shows_a_wider_hole():
    """What comes later outside is as much later; the dart and the plug know nothing of it."""
    before = evaluated(BRINDLEWICK, (WASHED, WASHOUT)).job.events
    planned = {event.name: event for event in before}
    late = 2.0 * BARREL_M3
    seen = {
        event.name: event
        for event in re_based(before, "spacer at host shoe", planned["spacer at host shoe"].m3 + late)
    }

    assert seen["spacer at host shoe"].observed
    for name in ("spacer at liner top", "cement at host shoe", "cement at liner top"):
        assert seen[name].m3 == pytest.approx(planned[name].m3 + late)
        assert seen[name].least_m3 == pytest.approx(
            seen[name].m3
        )  # all of the hole's band lies below the host shoe
        assert seen[name].most_m3 == pytest.approx(seen[name].m3)
        wait = late / planned[name].rate_m3_per_s
        assert seen[name].seconds == pytest.approx(planned[name].seconds + wait)
    for name in (DART_AWAY, DART, PLUG_AWAY, BUMP, LIMIT, "spacer at liner shoe", "cement at liner shoe"):
        assert seen[name] == planned[name]


def test_a_front_outside_that_no_hole_explains_shows_the_pump():
    """Below the shoe there is 89 bbl of hole: a spacer at the host shoe 100 bbl early has been counted too low."""
    before = evaluated(BRINDLEWICK).job.events
    planned = {event.name: event for event in before}
    early = planned["spacer at host shoe"].m3 - 100.0 * BARREL_M3
    seen = {event.name: event for event in re_based(before, "spacer at host shoe", early)}

    ratio = early / planned["spacer at host shoe"].m3
    for name in ("cement at liner top", "cement at liner shoe", BUMP):
        assert seen[name].m3 == pytest.approx(ratio * planned[name].m3)


def test_what_was_seen_stays_when_another_is_seen():
    before = evaluated(BRINDLEWICK).job.events
    twice = re_based(re_based(before, BALL, 1.02 * before[0].m3), DART, 161.0 * BARREL_M3)
    found = {event.name: event for event in twice}

    assert found[BALL].m3 == pytest.approx(1.02 * before[0].m3)
    assert found[DART].m3 == pytest.approx(161.0 * BARREL_M3)
    planned = {event.name: event for event in before}
    assert found[BUMP].m3 == pytest.approx(planned[BUMP].m3 * found[DART].m3 / planned[DART].m3)
    assert found["cement at liner shoe"].m3 == pytest.approx(1.02 * planned["cement at liner shoe"].m3)


def test_a_dart_that_goes_later_moves_on_the_counter_of_the_job_alone():
    before = evaluated(BRINDLEWICK).job.events
    planned = {event.name: event for event in before}
    late = 3.0 * BARREL_M3
    seen = {event.name: event for event in re_based(before, DART_AWAY, planned[DART_AWAY].m3 + late)}

    for name in (DART, BUMP, LIMIT):
        assert seen[name].counted == planned[name].counted
        assert seen[name].job.m3 == pytest.approx(planned[name].job.m3 + late)
    front = seen["cement at host shoe"]
    assert front.job == planned[front.name].job
    assert front.dart.m3 == pytest.approx(planned[front.name].dart.m3 - late)


@pytest.mark.parametrize(("name", "volume"), [("nothing of the kind", 1.0), (DART, 0.0), (DART, -1.0)])
def test_only_an_event_can_be_seen_and_only_after_something_was_pumped(name, volume):
    with pytest.raises(ValueError, match="no event"):
        re_based(evaluated(BRINDLEWICK).job.events, name, volume)


RECORD = "  - {step: liner made up, what: joints run"


def seen(value, step=" Dart  meets plug", what="Volume pumped"):
    """The well with a line of the record."""
    return (RECORD, f"  - {{step: '{step}', what: {what}, value: {value}}}\n{RECORD}")


def test_what_the_record_has_seen_is_applied():
    found = events(BRINDLEWICK, seen("163 bbl"))
    by_hand = {
        event.name: event for event in re_based(evaluated(BRINDLEWICK).job.events, DART, 163.0 * BARREL_M3)
    }

    assert found == by_hand
    assert found[DART].observed


def test_a_record_of_something_else_changes_nothing():
    planned = events(BRINDLEWICK)

    assert events(BRINDLEWICK, seen("163 bbl", what="pressure")) == planned
    assert events(BRINDLEWICK, seen("163 bbl", step="liner landed")) == planned


@pytest.mark.parametrize("value", ["about 160", "-3 bbl", "160 psi"])
def test_a_volume_that_cannot_be_read_is_asked_for(value):
    with pytest.raises(MissingInput, match=r"record\.0\.value as a volume"):
        events(BRINDLEWICK, seen(value))


def test_without_a_plug_there_is_no_bump_to_wait_for():
    found = events(BRINDLEWICK, ("    - {part: wiper plug}\n", ""))

    assert DART_AWAY in found
    assert not {DART, PLUG_AWAY, BUMP, LIMIT} & set(found)


def test_a_well_without_a_ball_has_no_ball_to_seat():
    assert BALL not in events(demos()["corrick-5.yaml"])
    assert BALL in events(TARNVALE)


def recorded(*lines, text=BRINDLEWICK):
    """The events of a well in whose record events were seen, in bbl."""
    rows = "".join(
        f"  - {{step: {step}, what: volume pumped, value: {value} bbl}}\n" for step, value in lines
    )
    return events(text, (RECORD, rows + RECORD))


@pytest.mark.parametrize(
    ("bump", "believed"),
    [
        # planned 269.83 bbl: 0.85 of it is 229.4, 1.15 is 310.3
        (168.0, False),
        (109.5, False),
        (229.0, False),
        (230.0, True),
        (310.0, True),
        (311.0, False),
        (272.5, True),
    ],
)
def test_a_bump_that_no_pump_explains_moves_nothing(bump, believed):
    dart, both = (recorded(*lines) for lines in ([(DART, 163.0)], [(DART, 163.0), (BUMP, bump)]))

    assert both[BUMP].observed is believed
    if believed:
        assert both[BUMP].doubted is None
        assert both[BUMP].m3 / BARREL_M3 == pytest.approx(bump)
        return
    assert (both[BUMP].doubted.not_after is None) is (bump > 163.0)  # 109.5 is counted from the spike
    assert both[BUMP].doubted.seen_m3 / BARREL_M3 == pytest.approx(bump)
    assert both[BUMP].doubted.expected_m3 / BARREL_M3 == pytest.approx(269.83, abs=0.01)
    assert {name: event._replace(doubted=None) for name, event in both.items()} == dart


@pytest.mark.parametrize("name", [BALL, DART])
def test_neither_is_a_ball_nor_a_dart_believed_that_no_pump_explains(name):
    planned = events(BRINDLEWICK)
    seen_ = recorded((name, 80.0))

    assert seen_[name].doubted.seen_m3 / BARREL_M3 == pytest.approx(80.0)
    assert {key: event._replace(doubted=None) for key, event in seen_.items()} == planned


def test_a_reading_that_does_not_come_after_one_before_it_is_not_believed():
    """Cement at the shoe after 304.5 bbl, spacer after 274.5: both in range of the pump, not in this order."""
    found = recorded(("spacer at liner shoe", 290.0), ("cement at liner shoe", 285.0))

    assert found["spacer at liner shoe"].observed
    assert not found["cement at liner shoe"].observed
    name, at = found["cement at liner shoe"].doubted.not_after
    assert (name, at / BARREL_M3) == ("spacer at liner shoe", pytest.approx(290.0))
    # 304.5 bbl times 290.0 over 274.5
    assert found["cement at liner shoe"].m3 / BARREL_M3 == pytest.approx(321.7, abs=0.05)


def test_a_reading_that_is_written_again_and_can_be_right_is_believed():
    found = recorded((BUMP, 168.0), (BUMP, 272.5))

    assert found[BUMP].doubted is None
    assert found[BUMP].m3 / BARREL_M3 == pytest.approx(272.5)


def test_a_front_that_a_wide_hole_holds_back_is_believed_and_the_bump_behind_it_too():
    """89 bbl of hole below the host shoe: the front may be far off without a word on the pump."""
    found = recorded(("cement at host shoe", 460.0), (BUMP, 272.5))

    assert found["cement at host shoe"].observed
    assert found[BUMP].observed


def test_what_an_earlier_event_settled_stays_and_a_later_one_settles_what_comes_after():
    """The plug goes when the dart meets it: 163.0. The cement at the host shoe, 393.65 on the job's count less
    160.23: 233.42 from the dart; 163.0 + (233.42 - 159.71) x (272.5 - 163.0) / (269.83 - 159.71) = 236.3. The
    stop is by the dart alone: 272.17 x 163.0 / 159.71 = 277.8.
    """
    for lines in ([(DART, 163.0), (BUMP, 272.5)], [(BUMP, 272.5), (DART, 163.0)]):
        found = recorded(*lines)
        for name, bbl in (
            (DART, 163.0),
            (PLUG_AWAY, 163.0),
            ("cement at host shoe", 236.3),
            (BUMP, 272.5),
            (LIMIT, 277.8),
        ):
            assert found[name].m3 / BARREL_M3 == pytest.approx(bbl, abs=0.05), name


@pytest.mark.parametrize(
    ("lines", "stop"),
    [
        # planned: bump at 269.83 and half the shoe track, 2.34, beyond it: 272.17
        ([(BUMP, 275.0)], 272.17),
        ([(BUMP, 269.0)], 272.17),
        # the dart at 163.0 where 159.71 were planned: 272.17 x 163.0 / 159.71
        ([(DART, 163.0), (BUMP, 280.0)], 277.78),
    ],
)
def test_no_bump_that_was_read_moves_where_to_stop(lines, stop):
    found = recorded(*lines)

    assert found[LIMIT].m3 / BARREL_M3 == pytest.approx(stop, abs=0.02)
    assert not found[LIMIT].observed
    assert found[BUMP].observed


def test_the_pump_is_that_of_the_bump_also_when_a_front_comes_after_the_stop():
    """The front at 280.0 from the dart comes behind the stop, 277.8; the bump says 272.5 / 269.83 = 1.0099."""
    found = recorded((DART, 163.0), ("cement at liner top", 280.0), (BUMP, 272.5))

    assert list(found)[-1] == "cement at liner top"
    assert pump_showed(tuple(found.values())) == pytest.approx(1.0099, abs=1e-4)
