"""The figures of the steps that pump: round, cement, dart, displacement, bump."""

from __future__ import annotations

from collections.abc import Callable

from schematic.engineering.at_rest import difference_pa
from schematic.engineering.train import Place
from schematic.job.bounds import Bound, going_round, least, never, never_at_bump
from schematic.job.box_maker import NOTHING, BandFigures, BoxMaker, Figures, pressure, with_limit
from schematic.job.card import Box, Say
from schematic.job.events import BUMP, DART, DART_AWAY, LIMIT
from schematic.job.facts import bumped, showed, staged
from schematic.job.setting import BUMP as BUMP_BAND
from schematic.job.setting import HANGER, PLUG
from schematic.job.slack_off import held
from schematic.job.step_scene import place_at
from schematic.job.step_setting import pressured
from schematic.outcome import Figure, MissingInput


def circulate_hung(make: BoxMaker) -> Figures:
    """One annulus around with the liner hung."""
    now = make.box("bottoms up", lambda: make.figure("bottoms_up_counted"), "Friction is not computed.")
    limit, before = make.still((None,)), make.plan.job.circulate_up_to_pa
    others = bool(staged(make.plan))  # moved by pressure too
    if limit.figure is not None and before is not None and HANGER in make.job.setting.order and not others:
        gone = Say("The {before} before the hanger was set no longer count.", {"before": pressure(before)})
        limit = limit._replace(lines=(*limit.lines, gone))
    return Figures(now, NOTHING, limit, None, held(make), (), True)


def pump_spacer_and_cement(make: BoxMaker) -> Figures:
    """All that goes in before the dart."""

    def volume() -> Figure:
        event = next((one for one in make.job.events if one.name == DART_AWAY), None)
        if event is None:
            raise MissingInput("cement")
        return Figure(event.m3, "volume")

    several = len(make.plan.cement.slurries) > 1
    now = make.box(
        "pump in all",
        volume,
        *(() if several else ("Spacer {spacer_volume}, then cement {cement_volume}.",)),
        "Pressure at the pump: not computed, as friction of flow is not.",
    )
    if several and now.figure is not None:
        now = now._replace(lines=(_batches(make), *now.lines))
    after = NOTHING
    if _plugged(make):
        after = make.box("dart to the plug", lambda: make.figure("dart_volume"), "Counted from the dart.")
    limit = make.going_round(0.0, _volume(make, lambda: make.job.train.dart_from_m3))
    names = [DART_AWAY] if _plugged(make) else []
    names += _at_shoe(make, behind_dart=False)
    away = _volume(make, lambda: make.job.train.dart_from_m3)
    return Figures(
        now,
        after,
        limit,
        None,
        held(make, _columns(make, 0.0, away)),
        make.count(*names),
        True,
        _rates(make, 0.0, away),
    )


def _batches(make: BoxMaker) -> Say:
    """What goes in before the dart, each with its volume, the slurries with their density too."""
    told, figures = [], dict[str, Figure | str]()
    for n, batch in enumerate(one for one in make.job.train.batches if not one.behind_dart):
        figures |= {
            f"name_{n}": batch.fluid,
            f"volume_{n}": Figure(batch.volume_m3, "volume"),
            f"density_{n}": Figure(batch.density_kg_per_m3, "density"),
        }
        told.append(f"{{name_{n}}} {{volume_{n}}}" + (f" of {{density_{n}}}" if batch.slurry else ""))
    return Say(f"{', then '.join(told)}.", figures)


def _at_shoe(make: BoxMaker, *, behind_dart: bool) -> list[str]:
    """The fronts that come to the shoe before the dart is away, or behind it."""
    try:
        fronts = [one for one in make.job.events if one.name.endswith("at liner shoe")]
    except MissingInput:
        return []
    return [one.name for one in fronts if (one.dart is not None and one.dart.m3 > 0.0) is behind_dart]


def _plugged(make: BoxMaker) -> bool:
    running = make.plan.depth.running
    return running is not None and running.plug_md_m is not None


def dart_meets_plug(make: BoxMaker) -> Figures:
    """The volume to the plug and the pressure at which it goes."""
    now = make.box("from the dart", lambda: make.figure("dart_volume"), "Slow down before it.")
    after = make.box(
        "plug lets go, at surface",
        lambda: _at_surface(make).nominal,
        "{plug_from} to {plug_to} at rest; friction comes on top.",
        "At the plug {plug_low} to {plug_high}.",
    )

    def most() -> Bound:
        if make.job.setting.band(PLUG).columns_pa is None:
            _ = make.job.train  # says what it needs
        landed = never(make.plan, make.job.setting, PLUG)
        states = make.states(make.job.train, *_to_plug(make))  # on the way the string still holds the cement
        return least([landed, going_round(make.plan, make.job.setting, states)], landed.unknown)

    limit = make.bound("at surface", most)
    if limit.figure is not None:
        limit = make.with_rock(limit, make.states(make.job.train, *_to_plug(make)), "before the dart lands")
        sits = make.teller.say("Dart on the plug: {plug_to} at rest.")
        limit = limit._replace(lines=(*limit.lines[:1], sits, *limit.lines[1:])) if limit.strong else limit
    place = place_at(make.job, make.code)
    if place is not None and after.figure is not None:
        depth = make.plan.depth
        lift = difference_pa(place, depth.path, depth.liner.shoe_md_m)
        how = "shows that much more" if lift >= 0.0 else "shows that much less"
        words = f"Columns at rest: {{lift}} between gauge and plug, the gauge {how}"
        after = after._replace(lines=(*after.lines, Say(f"{words}.", {"lift": pressure(abs(lift))})))
    gauge = make.gauge(PLUG, None, limit)
    return Figures(
        now,
        after,
        limit,
        gauge,
        held(make, _columns(make, *_to_plug(make))),
        make.count(DART, *_at_shoe(make, behind_dart=True), BUMP, dart=True),
        True,
        _rates(make, *_to_plug(make)),
    )


def _to_plug(make: BoxMaker) -> tuple[float, float]:
    """From where to where the job's volume runs while the dart goes to the plug; nought: not computed."""
    try:
        train = make.job.train
    except MissingInput:
        return 0.0, 0.0
    return train.dart_from_m3, min(train.dart_from_m3 + (train.to_plug_m3 or 0.0), train.total_m3)


def _at_surface(make: BoxMaker) -> BandFigures:
    """The plug's band as the gauge shows it at rest; raises MissingInput where the columns are not known."""
    band = make.job.setting.band(PLUG)
    if band.columns_pa is None:
        _ = make.job.train  # says what it needs
    its = band.surface
    values = its.low_pa, its.high_pa, its.nominal_pa, its.counts_to_pa
    return BandFigures(*(pressure(value) for value in values))


def _rates(make: BoxMaker, from_m3: float, to_m3: float) -> tuple[Say, ...]:
    """What the schedule pumps between two volumes of the job, each at its rate, as the counter will say it;
    nothing where the train cannot be computed: the card says so elsewhere.
    """
    try:
        batches = make.job.train.batches
    except MissingInput:
        return ()
    told, figures, fluid = [], dict[str, Figure | str](), ""
    for n, one in enumerate(batches):
        volume = min(one.to_m3, to_m3) - max(one.from_m3, from_m3)
        if volume < 0.001 * (to_m3 - from_m3):
            continue  # what the lines miss the bores by
        counts = showed(make.job) if one.behind_dart else 1.0  # the rest is measured by the tanks
        figures |= {f"fluid_{n}": one.fluid, f"volume_{n}": Figure(volume * counts, "volume")}
        told.append(f"{{volume_{n}}}" + ("" if one.fluid == fluid else f" of {{fluid_{n}}}"))
        fluid = one.fluid
        if one.rate_m3_per_s is None:
            make.teller.needs["rate"] = (f"{one.path}, its rate",)
            told[-1] += ", rate not given"
        else:
            figures[f"rate_{n}"] = Figure(one.rate_m3_per_s, "rate")
            told[-1] += f" at {{rate_{n}}}"
        if one.pause_s and one.to_m3 <= to_m3 + 1e-6:
            figures[f"pause_{n}"] = Figure(one.pause_s, "minutes")
            told[-1] += f", {{pause_{n}}} standing"
    return (Say(f"{', then '.join(told)}.", figures),) if told else ()


def _columns(make: BoxMaker, from_m3: float, to_m3: float) -> list[Place]:
    """How all stands between two volumes of the job; nothing where the train cannot be computed."""
    try:
        return make.states(make.job.train, from_m3, to_m3)
    except MissingInput:
        return []


def _volume(make: BoxMaker, of: Callable[[], float]) -> float:
    """A volume of the job, nought where the train cannot be computed: the box then says so."""
    try:
        return of()
    except MissingInput:
        return 0.0


def displace_the_liner(make: BoxMaker) -> Figures:
    """The volume to the bump and the pressure that stands then."""
    now = make.box("from the dart", lambda: make.figure("bump_volume"), "Then the plug lands.")
    after = make.box("at rest before the bump", lambda: make.figure("u_tube"), "Friction comes on top.")
    _away, begun = _to_plug(make)
    ended = _volume(make, lambda: make.job.train.total_m3)
    limit = make.going_round(begun, ended)
    try:
        names = [one.name for one in make.job.events if one.name.endswith(("host shoe", "liner top"))]
    except MissingInput:
        names = []
    counts = make.count(*_last(make), *names, dart=True)
    return Figures(
        now,
        after,
        limit,
        None,
        held(make, _columns(make, begun, ended)),
        counts,
        True,
        _rates(make, begun, ended),
    )


def displace_by_volume(make: BoxMaker) -> Figures:
    """The cement displaced where no plug lands."""
    now = make.box("behind the cement", lambda: make.figure("displace_volume"), "Volume alone ends it.")
    after = make.box("at rest at the end", lambda: make.figure("u_tube"), "Friction comes on top.")
    begun = _volume(make, lambda: make.job.train.dart_from_m3)
    ended = _volume(make, lambda: make.job.train.total_m3)
    limit = make.going_round(begun, ended)
    return Figures(
        now,
        after,
        limit,
        None,
        held(make, _columns(make, begun, ended)),
        (),
        True,
        _rates(make, begun, ended),
    )


def bump_the_plug(make: BoxMaker) -> Figures:
    """Over the final pressure, and where to stop without a bump."""
    lines = (
        "Final pressure {final} as planned, {u_tube} of it at rest, and {bump_over} over it.",
        "As read, if it differs.",
    )
    made = pressured(make, BUMP_BAND, *lines)
    if made.now.figure is None and make.plan.job.bump_over_final_pa is not None:  # read on the day
        words = "Then {bump_over} over it.", "At rest it is {u_tube}; friction comes on top."
        now = make.text("read the final pressure", *words)
        limit = make.bound("at surface", lambda: never_at_bump(make.plan, make.job.setting))
        made = made._replace(now=now, never=limit, gauge=None, released=True)
        if limit.figure is not None:
            del make.teller.needs["never exceed"]
    after = _due(make)
    if made.never.figure is not None:
        early = make.teller.say("If it steps up early: {rock_at_bump} at most, or the rock breaks.")
        rock = early.figures.get("rock_at_bump")
        if not isinstance(rock, Figure) or rock.si < made.never.figure.si:
            made = made._replace(never=with_limit(made.never, early))
    ended = _volume(make, lambda: make.job.train.total_m3)
    weight = held(make, _columns(make, ended, ended))
    try:  # a final pressure under what stands at rest cannot be
        rest = make.job.train.at(make.job.train.total_m3)
        under = difference_pa(rest, make.plan.depth.path, make.plan.depth.liner.shoe_md_m)
        final = make.plan.job.final_pressure_pa
        made = made._replace(released=made.released and (final is None or final >= under))
    except MissingInput:
        pass  # the card says elsewhere what the columns need
    return made._replace(next=after, weight=weight, counts=make.count(*_last(make), dart=True))


def _last(make: BoxMaker) -> tuple[str, ...]:
    """The bump, and until it is seen where to stop without one."""
    return (BUMP,) if bumped(make.job) else (BUMP, LIMIT)


def _due(make: BoxMaker) -> Box:
    """Where to stop without a bump, and in strong words when it is due; once seen, where it was."""
    counted = Say("Counted from the dart.")
    if bumped(make.job):
        return make.box("bump seen at", lambda: make.figure("bump_volume"))._replace(lines=(counted,))
    made = make.box("no bump: stop at", lambda: make.figure("bump_stop"))
    if made.figure is None:
        return made
    due = make.teller.say("Bump due at {bump_volume}.")
    bump = next(one for one in make.job.events if one.name == BUMP)
    if bump.strokes is not None:
        due = Say(
            "Bump due at {volume}, {strokes} strokes.",
            {"volume": due.figures["bump_volume"], "strokes": Figure(bump.strokes, "count")},
        )
    return made._replace(lines=(due, counted), strong=True)
