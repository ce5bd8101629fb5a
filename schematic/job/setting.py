"""The setting pressures at surface: bands in the order of each branch, and the force with which they lift.

The ball's branch comes before the cement (hanger, tool, seat), the dart's behind it (plug, bump). A pressure
at surface is at rest the pressure difference at the tool where the same mud stands inside and outside, as in
the ball's branch; behind the dart the columns differ, and a band tells by how much. What the pins of the plug
bear is a difference at the plug, and the gauge at surface shows it less what the columns add; the bump is
written as the gauge shows it. Nothing is put in place of a pressure that the file does not give.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from schematic.depth.nest import circle_m2
from schematic.depth.plan import Plan
from schematic.depth.survey import SurveyPath
from schematic.engineering.at_rest import difference_pa
from schematic.engineering.train import Place, Train
from schematic.outcome import MissingInput, Uncomputed

HANGER, TOOL, SEAT, PLUG, BUMP = "hanger sets", "tool releases", "seat opens", "plug releases", "bump"
BALL_BRANCH, DART_BRANCH, EITHER = "ball", "dart", ""
_NEEDS = {
    HANGER: "liner hanger.sets at",
    TOOL: "installation.tool releases at",
    SEAT: "ball seat.shears at",
    PLUG: "installation.plug releases at",
    BUMP: "installation.bump over final",
}


class Band(NamedTuple):
    """Pressures between which something happens; *counts_to_pa* is as far as it is taken.

    *columns_pa* is what the columns at rest add to a pressure at surface where it works: nought with one mud
    inside and outside, None where the columns are not known. See `surface` for what the gauge shows.
    """

    name: str
    branch: str  # BALL_BRANCH, DART_BRANCH, or EITHER for a part of the liner that moves in both
    nominal_pa: float
    low_pa: float
    high_pa: float
    counts_to_pa: float
    columns_pa: float | None = 0.0

    @property
    def surface(self) -> Band:
        """The same as the gauge at surface shows it at rest: the plug's less what the columns add to it.

        Where they are not known it stays as it is.
        """
        if self.name != PLUG or not self.columns_pa:
            return self
        down = -self.columns_pa
        return self._replace(
            nominal_pa=self.nominal_pa + down,
            low_pa=self.low_pa + down,
            high_pa=self.high_pa + down,
            counts_to_pa=self.counts_to_pa + down,
        )


class Setting(NamedTuple):
    """All bands of the plan in order, the circulating limit, and what is not known."""

    circulate_pa: float | None
    bands: tuple[Band, ...]
    missing: tuple[Uncomputed, ...]
    order: tuple[str, ...] = ()  # the events of the ball's branch that the plan has, known or not
    liner_sees_ball: bool | None = True  # the ball stops below the liner's parts; None: not known
    places: Mapping[str, Place] = {}  # how the columns stand when the dart's branch comes to a band

    def band(self, name: str) -> Band:
        """A band by its name; raises MissingInput with what it needs."""
        found = next((band for band in self.bands if band.name == name), None)
        if found is None:
            needs = next((one.needs for one in self.missing if one.what == name), None)
            raise MissingInput(*(needs or (_NEEDS.get(name, name),)))
        return found

    def to_come(self, name: str) -> tuple[Band, ...]:
        """What has not happened yet when a band is passed, and what must not: later bands of its branch, and
        the parts of the liner that it reaches or may reach and that it does not leave behind below it.
        """
        mine = self.band(name)
        at = self.bands.index(mine)
        own = [
            band
            for band in self.bands[at + 1 :]
            if mine.branch and band.branch == mine.branch and band.name != BUMP  # nothing lets go at the bump
        ]
        free = [
            band
            for band in self.bands
            if band.branch == EITHER and band != mine and band.high_pa > mine.low_pa and self.may_reach(mine)
        ]
        return (*own, *free)

    def after(self, name: str) -> Band | None:
        """The next of them; None: nothing is to come."""
        return min(self.to_come(name), key=lambda band: band.low_pa, default=None)

    def unknown_after(self, name: str) -> tuple[str, ...]:
        """What the next event of the ball's branch needs where it is not given: who knows how near it is."""
        if name not in self.order or name == self.order[-1]:
            return ()
        following = self.order[self.order.index(name) + 1]
        if any(band.name == following for band in self.bands):
            return ()
        return next((one.needs for one in self.missing if one.what == following), (_NEEDS[following],))

    def neighbours(self) -> tuple[tuple[Band, Band], ...]:
        """Bands that have to stay apart, in the order in which they are to come: each of the ball's branch
        and the one after it, and each that reaches the liner, or may, with the parts of it that move by
        pressure.
        """
        ball = [band for band in self.bands if band.branch == BALL_BRANCH]
        pairs = list(zip(ball, ball[1:], strict=False))
        free = [band for band in self.bands if band.branch == EITHER]
        for index, part in enumerate(free):
            others = [band for band in self.bands if band.branch and self.may_reach(band)]
            pairs += [(low, high) for low, high in (_rising(part, o) for o in (*others, *free[index + 1 :]))]
        return tuple(pairs)

    def may_reach(self, band: Band) -> bool:
        """Whether a pressure comes to the parts of the liner; where nobody knows, it is taken to come."""
        return band.branch != BALL_BRANCH or self.liner_sees_ball is not False


def _rising(one: Band, other: Band) -> tuple[Band, Band]:
    return (one, other) if one.low_pa <= other.low_pa else (other, one)


def ball_expected(plan: Plan) -> bool:
    """Whether something is set by pressure before the cement, so that a ball has to close the string, or the
    file has a seat for one.
    """
    hanger, job = plan.depth.liner.find("liner hanger"), plan.job
    by_pressure = hanger is not None and hanger.hanger_type == "hydraulic"
    given = job.seat is not None or job.hanger_sets_pa is not None or job.tool_releases_pa is not None
    return by_pressure or given


def setting(plan: Plan, the_train: Train | None = None) -> Setting:
    """The bands of a plan. Without the fluid train the columns behind the dart are not known."""
    job, depth = plan.job, plan.depth
    hanger = depth.liner.find("liner hanger")
    running = depth.running.parts if depth.running else ()
    bands: list[Band] = []
    missing: list[Uncomputed] = []
    places = _places(the_train) if the_train is not None else {}

    def band(
        name: str,
        branch: str,
        given: tuple[float, float, float] | None,
        held_pa: float | None = None,
        *,
        expected: bool = False,
    ) -> None:
        if given is None:
            if expected:
                missing.append(Uncomputed(name, (_NEEDS[name],)))
            return
        nominal, low, high = given
        columns: float | None = 0.0
        if branch == DART_BRANCH:
            place = places.get(name)
            columns = None if place is None else -difference_pa(place, depth.path, depth.liner.shoe_md_m)
        bands.append(Band(name, branch, nominal, low, high, max(high, held_pa or 0.0), columns))

    by_pressure = hanger is not None and hanger.hanger_type != "mechanical"
    has_tool = any(part.kind == "running tool" for part in running)
    has_plug = any(part.kind == "wiper plug" for part in running)
    band(HANGER, BALL_BRANCH, job.hanger_sets_pa, job.hanger_held_pa, expected=by_pressure)
    band(TOOL, BALL_BRANCH, job.tool_releases_pa, expected=has_tool and not job.tool_turned)
    ball = ball_expected(plan)
    if ball and job.seat is None:
        missing.append(Uncomputed(SEAT, ("installation.seat",)))
    else:
        band(SEAT, BALL_BRANCH, job.seat_shears_pa, expected=ball)
    for part in job.parts:
        band(f"{part.name} {part.does}", EITHER, part.pressure_pa)
    band(PLUG, DART_BRANCH, job.plug_releases_pa, expected=has_plug)
    final, over = job.final_pressure_pa, job.bump_over_final_pa
    if final is not None and over is not None:
        band(BUMP, DART_BRANCH, (final + over,) * 3)
    elif has_plug or final is not None or over is not None:
        lacks = ("installation.final pressure", final), ("installation.bump over final", over)
        missing.append(Uncomputed(BUMP, tuple(name for name, value in lacks if value is None)))
    order = [HANGER] if by_pressure else []
    order += [TOOL] if not job.tool_turned or job.tool_releases_pa is not None else []
    order += [SEAT] if ball else []
    sees = None if job.seat is None else job.seat == "landing collar"
    return Setting(job.circulate_up_to_pa, tuple(bands), tuple(missing), tuple(order), sees, places)


def _places(the_train: Train) -> dict[str, Place]:
    """How all stands when the dart meets the plug, and when the plug comes to its collar."""
    places = {BUMP: the_train.at(the_train.total_m3)}
    if the_train.to_plug_m3 is not None:
        places[PLUG] = the_train.at(the_train.dart_from_m3 + the_train.to_plug_m3)
    return places


def at_tool_pa(place: Place, path: SurveyPath, md_m: float, surface_pa: float) -> float:
    """The pressure inside over that outside at a depth under a pressure at surface, at rest.

    P_surface + (rho_in - rho_out) g TVD, layer by layer. Source: hydrostatics.
    """
    return surface_pa - difference_pa(place, path, md_m)


class Sealed(NamedTuple):
    """The area on which pressure lifts the tool, and what it is the area of."""

    area_m2: float
    of: str


def sealed(plan: Plan) -> Sealed:
    """The slick joint around which the pack-off seals; the liner's bore where nothing seals inside it, as
    with swab cups.

    Raises
    ------
    MissingInput
        When there is no running string, or the OD of its slick joint is not given.
    """
    running = plan.depth.running
    if running is None:
        raise MissingInput("running string")
    slick = [part for part in running.parts if part.kind in ("slick joint", "inner string")]
    if not slick:
        return Sealed(circle_m2(plan.depth.liner.id_m), "the liner's bore")
    od = min((part.od_m for part in slick if part.od_m is not None), default=None)
    if od is None:
        raise MissingInput("od of the inner string")
    return Sealed(circle_m2(od), "the slick joint")


def pump_out_n(plan: Plan, pressure_pa: float) -> float:
    """Force that lifts the tool under a pressure inside, in N: pressure times the sealed area."""
    return pressure_pa * sealed(plan).area_m2
