"""What a card gives for the readings that go into its boxes: a figure, or a band of figures.

Boxes that are not here hold what no card gives a figure for. Pressures and hook loads are those at surface,
block included.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from schematic.job.card import Say
from schematic.job.events import DART_AWAY
from schematic.job.facts import FACTS, Teller
from schematic.job.installation import Installation
from schematic.job.picks import has_float
from schematic.job.setting import PLUG
from schematic.job.step_boxes import figures
from schematic.outcome import Figure, MissingInput


class Given(NamedTuple):
    """What a card gives for a box. Without *planned* no more than *most* is wanted; without *most* what is
    above *least* is left open.

    *others* are what the reading may be instead, as *note* says; beyond *stop* nothing may be pumped.
    """

    planned: Figure | None
    least: Figure | None = None
    most: Figure | None = None
    others: tuple[Figure, ...] = ()
    note: Say | None = None
    stop: Figure | None = None


_Maker = Callable[[Installation, Figure | None], Given | None]


def given(job: Installation, code: str, box: str, read: Figure | None) -> Given | None:
    """What the card of a step gives for a box, None where it gives nothing; *read* is what was read.

    Raises
    ------
    MissingInput
        When its figure is not computed.
    """
    make = _hook_load(code) if box == "hook load" else _BOXES.get((code, box))
    return make(job, read) if make else None


def _fact(name: str, note: str = "") -> _Maker:
    """A figure that the card tells."""

    def make(job: Installation, _read: Figure | None) -> Given | None:
        found = FACTS[name](job)
        return Given(found, note=Say(note) if note else None) if isinstance(found, Figure) else None

    return make


def _at_most(name: str) -> _Maker:
    """A figure that the card tells as the most."""

    def make(job: Installation, _read: Figure | None) -> Given | None:
        found = FACTS[name](job)
        return Given(None, found._replace(si=0.0), found) if isinstance(found, Figure) else None

    return make


def _nought(kind: str) -> _Maker:
    """Nought, where the card says that there is to be none."""
    return lambda _job, _read: Given(Figure(0.0, kind))


def _where(holds: Callable[[Installation], bool], make: _Maker, otherwise: _Maker | None = None) -> _Maker:
    """What is given where something holds of the plan, and otherwise."""

    def chosen(job: Installation, read: Figure | None) -> Given | None:
        its = make if holds(job) else otherwise
        return its(job, read) if its else None

    return chosen


def _has_ball(job: Installation) -> bool:
    running = job.plan.depth.running
    return (job.plan.job.ball_m or (running.ball_m if running else None)) is not None


def _gain(job: Installation, _read: Figure | None) -> Given | None:
    """What the trip tank gains of the liner, filled from the pits or from the tank."""
    net = FACTS["gain_net"](job)
    if not isinstance(net, Figure) or not any(has_float(part) for part in job.plan.depth.liner.parts):
        return Given(net) if isinstance(net, Figure) else None
    whole = FACTS["gain_liner"](job)
    assert isinstance(whole, Figure)
    words = "the nearer of {whole} where it is filled from the pits, {net} where the fill comes from the tank"
    return Given(whole, others=(net,), note=Say(words, {"whole": whole, "net": net}))


def _joints_left(job: Installation, _read: Figure | None) -> Given | None:
    rack = job.plan.depth.liner.rack
    left = Figure(float(rack.left), "count") if rack else None
    return Given(left, left, left) if left else None


def _hook_load(code: str) -> _Maker:
    """The hook load when the step is done, of what the card tells of the indicator."""

    def make(job: Installation, _read: Figure | None) -> Given | None:
        teller = Teller(job)
        its, weight = figures(job, code, teller)
        load = weight.before_n if weight.after_n is None else weight.after_n
        if load is not None:
            return Given(Figure(load, "force"), note=Say(weight.motion) if weight.motion else None)
        if its.now.word == "hook load" and its.now.figure is not None:
            return Given(its.now.figure, note=Say("slacking off"))
        if "hook load" in teller.needs:
            raise MissingInput(*teller.needs["hook load"])
        return None

    return make


def _density(job: Installation, read: Figure | None) -> Given | None:
    """The density of the fluid that is nearest to what was read, of those that go in before the dart."""
    names = {slurry.fluid for slurry in job.plan.cement.slurries}
    lines = [line.fluid for line in job.plan.cement.schedule] or [job.plan.cement.spacer, *names]
    names.update(lines[: max((n for n, name in enumerate(lines) if name in names), default=-1) + 1])
    fluids = [fluid for fluid in job.plan.fluids if fluid.name in names]
    if not fluids:
        return None
    its = min(fluids, key=lambda one: abs(one.density_kg_per_m3 - read.si) if read else 0.0)
    return Given(
        Figure(its.density_kg_per_m3, "density"), note=Say("planned is that of {fluid}", {"fluid": its.name})
    )


def _rate(job: Installation, read: Figure | None) -> Given | None:
    """The rate behind the plug that is nearest to what was read."""
    train = job.train
    begun = train.dart_from_m3 + (train.to_plug_m3 or 0.0)
    behind = [batch for batch in train.batches if batch.to_m3 > begun]
    rates = [batch.rate_m3_per_s for batch in behind if batch.rate_m3_per_s is not None]
    if not rates:
        raise MissingInput(*dict.fromkeys(f"{batch.path}, its rate" for batch in behind))
    return _nearest(rates, "rate", read)


def _nearest(values: list[float], kind: str, read: Figure | None) -> Given | None:
    if not values:
        return None
    return Given(Figure(min(values, key=lambda si: abs(si - read.si) if read else 0.0), kind))


def _pumped_in(job: Installation, _read: Figure | None) -> Given | None:
    """All that goes in before the dart, or one fluid of it."""
    away = next((event for event in job.events if event.name == DART_AWAY), None)
    if away is None:
        return None
    each = [batch for batch in job.train.batches if not batch.behind_dart]
    told = ", ".join(f"{{name_{n}}} {{volume_{n}}}" for n in range(len(each)))
    whole = Figure(away.m3, "volume")
    its: dict[str, Figure | str] = {"whole": whole}
    for n, batch in enumerate(each):
        its |= {f"name_{n}": batch.fluid, f"volume_{n}": Figure(batch.volume_m3, "volume")}
    slurry = Figure(job.cement.total_m3, "volume")
    others = (slurry, *(Figure(batch.volume_m3, "volume") for batch in each))
    return Given(whole, others=others, note=Say(f"the nearest of {{whole}} in all, {told}", its))


def _plug_goes(job: Installation, _read: Figure | None) -> Given | None:
    band = job.setting.band(PLUG)
    if band.columns_pa is None:
        _ = job.train  # says what it needs
    planned, least = (Figure(pa, "pressure") for pa in (band.surface.nominal_pa, band.surface.low_pa))
    return Given(planned, least, note=Say("at rest, friction comes on top"))


def _displaced(kind: str) -> _Maker:
    """What is pumped behind the cement where no plug lands, by the tanks or by strokes."""

    def make(job: Installation, _read: Figure | None) -> Given | None:
        per = 1.0 if kind == "volume" else job.plan.cement.stroke_m3
        if not per:
            raise MissingInput("cement.pump")
        planned, stop = (FACTS[name](job) for name in ("displace_volume", "displace_stop"))
        assert isinstance(planned, Figure)
        assert isinstance(stop, Figure)
        return Given(Figure(planned.si / per, kind), stop=Figure(stop.si / per, kind))

    return make


def _drop(job: Installation, _read: Figure | None) -> Given | None:
    """What the pressure of the lap's test may fall by."""
    test = FACTS["test_pressure"](job)
    assert isinstance(test, Figure)
    most = test._replace(si=test.si * job.plan.limits["greatest pressure drop"].si)
    return Given(None, test._replace(si=0.0), most)


_BOXES: dict[tuple[str, str], _Maker] = {
    ("check-the-parts", "ball, in"): _where(_has_ball, _fact("ball")),
    ("check-the-parts", "seat"): _where(lambda job: job.plan.job.seat_m is not None, _fact("seat_bore")),
    ("condition-the-hole", "fill"): _nought("length"),
    ("run-the-liner", "gain"): _gain,
    ("run-the-liner", "joints left"): _joints_left,
    ("pick-up-the-hanger", "liner weight"): _fact("liner_alone"),
    ("run-to-depth", "shoe depth"): _fact("shoe"),
    ("run-to-depth", "stick-up"): _fact("stick_up"),
    ("ball-on-seat", "volume"): _fact("ball_pumped"),
    ("set-the-hanger", "held at"): _fact("hanger_held"),
    ("set-the-hanger", "travel"): _at_most("stretch_lost"),
    ("set-the-hanger-by-turning", "travel"): _at_most("stretch_lost"),
    ("set-on-bottom", "shoe depth"): _where(
        lambda job: job.plan.depth.liner.shoe_md_m > job.plan.depth.host.shoe_md_m, _fact("td")
    ),
    ("release-the-tool", "held at"): _fact("tool_high"),
    ("release-the-tool", "bled to"): _nought("pressure"),
    ("prove-the-release", "picked up"): _at_most("travel"),
    ("prove-the-release", "pick up"): _fact("alone_up"),
    ("prove-the-release", "slack off"): _fact("alone_down"),
    ("set-weight-on-the-tool", "set down"): _fact("tool_set_down"),
    ("pump-spacer-and-cement", "density"): _density,
    ("pump-spacer-and-cement", "volume"): _pumped_in,
    ("dart-meets-plug", "pressure"): _plug_goes,
    ("displace-the-liner", "rate"): _rate,
    ("displace-by-volume", "tanks"): _displaced("volume"),
    ("displace-by-volume", "strokes"): _displaced("count"),
    ("bump-the-plug", "pressure"): _fact("bump_to"),
    ("set-the-packer", "picked up"): _where(
        lambda job: job.plan.depth.liner.find("tie-back receptacle") is not None, _fact("dogs_travel")
    ),
    ("set-the-packer", "slacked off"): _where(
        lambda job: job.plan.job.friction is None,
        _fact("packer_set_down", "on the packer, drag to be added"),
        _fact("packer_slack_off"),
    ),
    ("test-the-packer", "drop"): _nought("pressure"),
    ("pull-out-and-reverse", "volume"): _fact("reverse_clean", "until it comes clean"),
    ("pull-out-and-reverse", "pull"): _fact("alone_up"),
    ("pull-clear", "pull"): _fact("alone_up"),
    ("test-the-lap", "pressure"): _fact("test_pressure"),
    ("test-the-lap", "drop"): _drop,
    ("test-the-lap", "bled back"): _fact("volume_for_test"),
    ("inflow-test", "differential"): _fact("inflow_test"),
    ("inflow-test", "built"): _nought("pressure"),
}
