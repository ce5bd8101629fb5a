"""What no step of the installation may exceed, and what each setting pressure keeps to what stands around it.

At surface, at rest. A bound that rests on a rating counts a share of it that the limits give; what has no
known rating is named beside it and bounds nothing. What breaks the rock counts while fluid goes round: a
ball, a dart or a plug that closes the string keeps the pressure from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from schematic.depth.plan import LinerPart, Plan, RunningPart
from schematic.depth.survey import SurveyPath
from schematic.engineering.at_rest import difference_pa, weak_points
from schematic.engineering.columns import emw_kg_per_m3
from schematic.engineering.strength import liner_strength, other_pipe, pipe_strength
from schematic.engineering.train import Place
from schematic.job.setting import BALL_BRANCH, BUMP, EITHER, HANGER, PLUG, SEAT, TOOL, Band, Setting, sealed
from schematic.outcome import MissingInput, Uncomputed, meets
from schematic.units import STANDARD_GRAVITY_M_PER_S2

LIFTS = TOOL, SEAT, PLUG, BUMP  # once the tool is free their pressure lifts it
COLUMNS = "columns at rest"  # among what is not known: what they add to a pressure at surface


class Bound(NamedTuple):
    """A pressure that must not be passed, why, and which ratings are not known: they may be less."""

    pressure_pa: float
    why: str
    unknown: tuple[str, ...] = ()


def of_its(share: float) -> str:
    """A share of a rating in words: ``90 % of``."""
    return f"{100.0 * share:.3g} % of"


def pump_out_bound(plan: Plan) -> Bound:
    """The pressure at which the tool is lifted off its seal, less the margin that the limits keep.

    Raises
    ------
    MissingInput
        When the set-down on the tool or the sealed area is not given.
    """
    down = plan.job.set_down_on_tool_n
    if down is None:
        raise MissingInput("installation.set down on tool")
    margin = plan.limits["least set-down margin"].si
    return Bound(
        max(down - margin, 0.0) / sealed(plan).area_m2,
        "the weight set down on the tool holds no more, a margin kept",
    )


def exposed(
    plan: Plan, *, liner: bool, share: float, place: Place | None = None
) -> tuple[tuple[Bound, ...], tuple[str, ...]]:
    """What is under pressure inside, as bounds at surface, and what of it has no rating that is known.

    Each rating counts at a *share* of it, less what the columns of *place* add inside at the worst depth of
    the part; without a place the same mud stands inside and outside. The limit of the surface equipment
    counts whole: it is the setting of somebody who knows it.
    """
    job, depth = plan.job, plan.depth
    found: list[Bound] = []
    unknown: list[str] = []

    def add(rating_pa: float, why: str, top_md_m: float, bottom_md_m: float) -> None:
        excess = _excess_pa(place, depth.path, top_md_m, bottom_md_m)
        found.append(Bound(max(share * rating_pa - excess, 0.0), why))

    if job.surface_pressure_limit_pa is not None:
        found.append(Bound(job.surface_pressure_limit_pa, "limit of the surface equipment"))
    else:
        unknown.append("surface equipment")
    for part in depth.running.parts if depth.running else ():
        if part.length_m <= 0.0:
            continue
        rating, why = _pipe_rating(part, share)
        if rating is None:
            unknown.append(part.name)
        else:
            add(rating, why, max(part.top_md_m, 0.0), max(part.bottom_md_m, 0.0))
    if liner:
        whole = depth.liner.top_md_m, depth.liner.shoe_md_m
        try:
            add(liner_strength(depth.liner).burst_pa, f"{of_its(share)} the burst of the liner", *whole)
        except MissingInput:
            unknown.append("liner pipe")
        unknown += other_pipe(depth.liner)
        for piece in depth.liner.parts:
            rating = _part_rating(piece)
            if rating is not None:
                add(rating, f"{of_its(share)} the rating of {piece.name}", piece.top_md_m, piece.bottom_md_m)
            elif piece.kind in ("liner hanger", "liner top packer", "external packer", "stage collar"):
                unknown.append(piece.name)
    return tuple(found), tuple(dict.fromkeys(unknown))


def _pipe_rating(part: RunningPart, share: float) -> tuple[float | None, str]:
    if part.pressure_rating_pa is not None:
        return part.pressure_rating_pa, f"{of_its(share)} the rating of {part.name}"
    try:
        return pipe_strength(part).burst_pa, f"{of_its(share)} the burst of {part.name}, new pipe"
    except MissingInput:
        return None, ""


def _part_rating(part: LinerPart) -> float | None:
    """The least of the ratings that the file gives for pressure in the bore."""
    given = (part.bore_rating_pa, part.pressure_rating_pa)
    return min((rating for rating in given if rating is not None), default=None)


def _excess_pa(place: Place | None, path: SurveyPath, top_md_m: float, bottom_md_m: float) -> float:
    """By how much the column inside at most outweighs that outside between two depths; never below nought."""
    if place is None:
        return 0.0
    ends = {layer.bottom_md_m for layer in (*place.inside, *place.outside)}
    depths = [top_md_m, bottom_md_m, *(md for md in ends if top_md_m < md < bottom_md_m)]
    return max(0.0, *(-difference_pa(place, path, md) for md in depths))


def least(bounds: Sequence[Bound], unknown: Sequence[str]) -> Bound:
    """The lowest of some bounds, with what is not known beside it."""
    return min(bounds, key=lambda bound: bound.pressure_pa)._replace(unknown=tuple(unknown))


def ratings_at(plan: Plan, the_setting: Setting, name: str) -> tuple[tuple[Bound, ...], tuple[str, ...]]:
    """The ratings of all that is under pressure when a band is passed, at their shares, and what has none."""
    share = plan.limits["greatest share at bump" if name == BUMP else "greatest share of rating"].si
    place = the_setting.places.get(name)
    band = None if name == BUMP else the_setting.band(name)  # what a bump loads is known without its pressure
    liner = band is None or the_setting.may_reach(band)
    bounds, unknown = exposed(plan, liner=liner, share=share, place=place)
    hanger = plan.depth.liner.find("liner hanger")
    if not liner and hanger is not None and HANGER in the_setting.order:  # its piston sees all of them
        rating = _part_rating(hanger)
        if rating is None:
            unknown = (*unknown, hanger.name)
        else:
            bounds = (*bounds, Bound(share * rating, f"{of_its(share)} the rating of {hanger.name}"))
    if place is None if band is None else band.columns_pa is None:
        unknown = (*unknown, COLUMNS)
    if name == BUMP:
        collar = plan.depth.liner.find("landing collar")
        if collar is not None and collar.bump_rating_pa is not None:
            bounds = (
                *bounds,
                Bound(
                    share * collar.bump_rating_pa, f"{of_its(share)} the bump rating of the landing collar"
                ),
            )
        else:
            unknown = (*unknown, "landing collar")
    return bounds, unknown


def never_at_bump(plan: Plan, the_setting: Setting) -> Bound:
    """What must not be exceeded at the bump, whatever its pressure: ratings, what lifts the tool, and the
    parts of the liner that move by pressure.

    Raises
    ------
    MissingInput
        As `pump_out_bound`.
    """
    bounds, unknown = ratings_at(plan, the_setting, BUMP)
    place = the_setting.places.get(BUMP)
    free = [_short_of(plan, band, place) for band in the_setting.bands if band.branch == EITHER]
    return least((*bounds, *free, pump_out_bound(plan)), unknown)


def never(plan: Plan, the_setting: Setting, name: str) -> Bound:
    """What must not be exceeded while a band is passed: the next band less the gap that the limits keep
    between bands, the ratings of what is under pressure, and what lifts the tool once it is free.

    Raises
    ------
    MissingInput
        When nothing is known that would bound it, or the next band of the branch is not given, or of the plug
        what the columns add.
    """
    band = the_setting.band(name)
    bounds, unknown = ratings_at(plan, the_setting, name)
    if lacks := the_setting.unknown_after(name):
        raise MissingInput(*lacks)
    if name == HANGER and the_setting.unknown_after(TOOL):
        unknown = (*unknown, "ball seat")
    if name == PLUG and band.columns_pa is None:
        raise MissingInput(COLUMNS)
    place = the_setting.places.get(name)
    bounds = (*bounds, *(_short_of(plan, one, place) for one in the_setting.to_come(name)))
    if band.branch == BALL_BRANCH and the_setting.liner_sees_ball is None:
        unknown = (*unknown, "where the ball stops")
    if name in LIFTS:
        lifts = pump_out_bound(plan)
        more = band.columns_pa or 0.0 if name == PLUG else 0.0  # the bump is written as the gauge shows it
        bounds = (*bounds, lifts._replace(pressure_pa=max(lifts.pressure_pa - max(more, 0.0), 0.0)))
    if not bounds:
        raise MissingInput("installation.surface pressure limit")
    lowest = least(bounds, unknown)
    if not meets(lowest.pressure_pa, band.surface.counts_to_pa, at_least=True):
        return lowest._replace(why=f"{lowest.why}; too low for this step")
    return lowest


def begins_pa(plan: Plan, band: Band, place: Place | None) -> float:
    """The least pressure at surface at which a band begins: less what the columns add inside at its part."""
    if band.branch != EITHER:
        return band.surface.low_pa
    depths = [part.top_md_m for part in plan.depth.liner.parts if band.name.startswith(part.name)]
    if not depths:
        depths = [plan.depth.liner.top_md_m, plan.depth.liner.shoe_md_m]
    return max(band.low_pa - _excess_pa(place, plan.depth.path, min(depths), max(depths)), 0.0)


def _short_of(plan: Plan, band: Band, place: Place | None) -> Bound:
    """A band that is not to be reached, less the gap that the limits keep."""
    why = f"{band.name} a margin above it"
    return Bound(max(begins_pa(plan, band, place) - plan.limits["least gap of bands"].si, 0.0), why)


def going_round(plan: Plan, the_setting: Setting, places: Sequence[Place | None]) -> Bound:
    """What must not be exceeded while fluid goes down the hung liner and up behind it, in any state of the
    columns; None is mud everywhere. Ratings, what lifts the tool, and the parts of the liner that move by
    pressure: the friction inside takes from what reaches them. Not the rock, which feels the pressure at
    surface only when nothing comes back: see `rock_bound`.

    Raises
    ------
    MissingInput
        As `pump_out_bound`.
    """
    share, depth = plan.limits["greatest share of rating"].si, plan.depth
    found: list[Bound] = []
    lacks: list[str] = []
    lifts, free = pump_out_bound(plan), [band for band in the_setting.bands if band.branch == EITHER]
    for place in places:
        ratings, unknown = exposed(plan, liner=True, share=share, place=place)
        more = _excess_pa(place, depth.path, depth.liner.top_md_m, depth.liner.top_md_m)
        found += [*ratings, lifts._replace(pressure_pa=max(lifts.pressure_pa - more, 0.0))]
        found += [_short_of(plan, band, place) for band in free]
        lacks += unknown
    return least(found, tuple(dict.fromkeys(lacks)))


def rock_bound(plan: Plan, place: Place | None = None) -> Bound:
    """The pressure at surface, inside, that the weakest rock takes should what is pumped not come back, the
    annulus shut or bridged. At rest, the columns as in *place*, else mud: the pressure goes down inside and
    comes up behind the liner. What the column inside is heavier comes off it, what that outside is, on top.

    Raises
    ------
    MissingInput
        When no fracture pressure is known in the open hole, or no mud.
    """
    mud = plan.fluid("mud")
    if mud is None:
        raise MissingInput("a fluid of kind mud")
    path = plan.depth.path
    lift = 0.0 if place is None else difference_pa(place, path, plan.depth.liner.shoe_md_m)
    bounds = []
    for point in weak_points(plan):
        if point.fracture_kg_per_m3 is None:
            continue
        stands = mud.density_kg_per_m3
        if place is not None:
            stands = emw_kg_per_m3(place.outside, path, point.md_m) or stands
        room = (point.fracture_kg_per_m3 - stands) * STANDARD_GRAVITY_M_PER_S2 * path.tvd_m(point.md_m)
        why = f"the rock at the {point.name} breaks, should nothing come back"
        bounds.append(Bound(max(room + lift, 0.0), why))
    if not bounds:
        raise MissingInput("formation.pressures in the open hole")
    return least(bounds, ())


class Margins(NamedTuple):
    """What a band keeps to what stands around it, in Pa; None: there is none, or it is not known."""

    below: str  # the band before it
    down_pa: float | None
    above: str  # the next that is to come
    up_pa: float | None
    circulating_pa: float | None  # from the circulating limit up to its lowest
    rating: Bound | None  # the lowest of what is under pressure
    rating_pa: float | None  # from the highest to which it is taken up to that
    rock: Bound | None


def margins(plan: Plan, the_setting: Setting, name: str) -> Margins:
    """The margins of a band; raises MissingInput where the band itself is not given."""
    band = the_setting.band(name)
    pairs = the_setting.neighbours()
    under = [low for low, high in pairs if high == band]
    before = max(under, key=lambda low: low.counts_to_pa, default=None)
    place, taken = the_setting.places.get(name), band.surface.counts_to_pa
    coming = [(begins_pa(plan, one, place), one.name) for one in the_setting.to_come(name)]
    above_pa, above = min(coming, default=(None, ""))
    bounds, unknown = ratings_at(plan, the_setting, name)
    rating = least(bounds, unknown) if bounds else None
    try:
        rock = rock_bound(plan, place)
    except MissingInput:
        rock = None
    circulate = the_setting.circulate_pa
    return Margins(
        before.name if before else "",
        band.low_pa - before.counts_to_pa if before else None,
        above,
        above_pa - taken if above_pa is not None else None,
        band.low_pa - circulate if circulate is not None and band.branch == BALL_BRANCH else None,
        rating,
        rating.pressure_pa - taken if rating else None,
        rock,
    )


class Row(NamedTuple):
    """One row of the chart: a band, how far it is taken, what must not be passed; None: not known."""

    band: Band
    never: Bound | None
    margins: Margins


class PressureChart(NamedTuple):
    """Bands, targets and limits on one axis: pressure at surface from nought to *most_pa*."""

    circulate_pa: float | None
    rows: tuple[Row, ...]
    limits: tuple[Bound, ...]  # of what stays the same through the job, from the lowest up
    missing: tuple[Uncomputed, ...]
    most_pa: float  # the axis ends there: all bands, and the limits next to them


_AXIS_SHARE = 1.5  # of the highest band: a limit beyond it is told, not drawn


def pressure_chart(plan: Plan, the_setting: Setting) -> PressureChart:
    """The data of a chart of all setting pressures of a plan."""
    rows = []
    for band in the_setting.bands:
        try:
            limit: Bound | None = never(plan, the_setting, band.name)
        except MissingInput:
            limit = None
        rows.append(Row(band, limit, margins(plan, the_setting, band.name)))
    share = plan.limits["greatest share of rating"].si
    bounds, _unknown = exposed(plan, liner=True, share=share)
    limits = list(bounds)
    for more in (pump_out_bound, rock_bound):
        try:
            limits.append(more(plan))
        except MissingInput:
            continue
    limits.sort(key=lambda bound: bound.pressure_pa)
    top = max([*(band.counts_to_pa for band in the_setting.bands), the_setting.circulate_pa or 0.0])
    told = [*limits, *(row.never for row in rows if row.never)]
    near = [bound.pressure_pa for bound in told if bound.pressure_pa <= _AXIS_SHARE * top]
    return PressureChart(
        the_setting.circulate_pa, tuple(rows), tuple(limits), the_setting.missing, max([top, *near])
    )
