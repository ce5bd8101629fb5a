"""The clock of the cement job, by hand, and what it asks for."""

from __future__ import annotations

import pytest

from schematic.job.clock import reverse_out_m3
from schematic.units import BARREL_M3
from schematic.verbs import demos
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, evaluated

CLOCK = "  clock: {mix before pumping: 20 min, set packer: 20 min, pull clear: 15 min, reverse out at: 6 bbl/min, stoppage: 60 min}\n"


def minutes(clock):
    return {stage.name: None if stage.seconds is None else stage.seconds / 60.0 for stage in clock.stages}


def test_the_stages_of_the_vertical_well_by_hand():
    """Printed in the source of the well: 130.3 bbl of cement, 159.7 and 110.1 bbl of displacement, 27.5 bbl above the
    liner to be reversed out, all to 0.5 %. 20 min mixing; at 5 bbl/min, 5 min for the dart; 149.7 and 89.1 bbl at 6,
    the rest at 2; 20 and 15 min; 27.5 bbl and the string at 6; an hour of stoppage.
    """
    evaluation = evaluated(BRINDLEWICK)
    clock = evaluation.job.clock
    wanted = {
        "mixing before pumping": 20.0,
        "pumping cement": 130.3 / 5.0,
        "dropping the dart": 5.0,
        "displacing": (149.7 + 89.1) / 6.0 + (269.8 - 149.7 - 89.1) / 2.0,
        "setting the packer": 20.0,
        "pulling clear": 15.0,
        "reversing out": (27.5 + 159.7) / 6.0,
        "one stoppage": 60.0,
    }

    assert minutes(clock) == pytest.approx(wanted, rel=0.01)
    assert list(minutes(clock)) == list(wanted)
    assert clock.whole_s == clock.least_s == pytest.approx(60.0 * sum(wanted.values()), rel=0.005)
    assert clock.needs == ()
    (slurry,) = clock.slurries
    assert slurry.seconds == clock.whole_s
    assert slurry.undisturbed_s == pytest.approx(clock.whole_s - 3600.0)
    assert slurry.thickening_s == 6.0 * 3600.0


def test_each_slurry_has_its_own_time_in_water():
    """The tail is mixed when the lead has gone in: as much later as the lead takes, 9.07 m3 at 1.2 m3/min."""
    clock = evaluated(SOLLIVANE).job.clock
    lead, tail = clock.slurries

    assert [lead.slurry, tail.slurry] == ["lead", "tail"]
    assert lead.seconds == clock.whole_s
    assert lead.seconds - tail.seconds == pytest.approx(9.07 / 1.2 * 60.0, rel=0.005)
    assert lead.thickening_s is None
    assert lead.needs == ("fluids.lead.thickening time",)


def test_what_is_not_given_is_asked_for_and_the_rest_is_at_least():
    clock = evaluated(BRINDLEWICK, (CLOCK, CLOCK.replace("20 min, pull clear: 15 min", "20 min"))).job.clock

    assert clock.needs == ("cement.clock.pull clear",)
    assert clock.whole_s is None
    assert minutes(clock)["pulling clear"] is None
    assert clock.least_s == pytest.approx(evaluated(BRINDLEWICK).job.clock.least_s - 15.0 * 60.0)
    (slurry,) = clock.slurries
    assert (slurry.seconds, slurry.undisturbed_s) == (None, None)
    assert slurry.at_least_s == clock.least_s


def test_a_rate_or_the_pause_for_the_dart_that_is_missing_is_named_by_its_line():
    text = BRINDLEWICK.replace("rate: 5 bbl/min, pause: 5 min, remark", "remark")
    text = text.replace("{fluid: mud, volume: 89.1 bbl, rate: 6 bbl/min}", "{fluid: mud, volume: 89.1 bbl}")

    assert evaluated(text).job.clock.needs == (
        "cement.schedule.1.rate",
        "cement.schedule.1.pause",
        "cement.schedule.4.rate",
    )


def test_without_schedule_and_clock_nothing_is_known():
    clock = evaluated(demos()["haldry-2.yaml"]).job.clock

    assert clock.whole_s is None
    assert clock.least_s == 0.0
    assert "cement.schedule.rate" in clock.needs
    assert "cement.clock.stoppage" in clock.needs


def test_without_a_packer_none_is_set_and_without_cement_above_nothing_is_reversed():
    packer = BRINDLEWICK[
        BRINDLEWICK.index("    - {part: liner top packer") : BRINDLEWICK.index("    - {part: tie-back")
    ]
    low = evaluated(
        BRINDLEWICK,
        (packer, ""),
        ("planned top: 9280 ft", "planned top: 9600 ft"),
        ("open hole: 20 %", "open hole: 0 %"),
    )

    assert "setting the packer" not in minutes(low.job.clock)
    assert "reversing out" not in minutes(low.job.clock)
    assert reverse_out_m3(low.cement, low.job.train) == 0.0


def test_cement_is_reversed_up_the_string():
    """27.5 bbl above the liner top and the 159.7 bbl of the string down to its foot, printed; to 0.5 %."""
    evaluation = evaluated(BRINDLEWICK)

    assert reverse_out_m3(evaluation.cement, evaluation.job.train) / BARREL_M3 == pytest.approx(
        187.2, rel=0.005
    )
