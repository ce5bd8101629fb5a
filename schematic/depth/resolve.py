"""From what a person wrote to the plan: every depth derived once, with the way it came about."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import TypeVar

from schematic.catalogue.limits import PAIRS, profile
from schematic.depth import data_files, surroundings
from schematic.depth import place as placing
from schematic.depth.plan import (
    CasingString,
    CementPlan,
    Datum,
    Depths,
    EnteredTvd,
    Fluid,
    Formation,
    Identity,
    JobClock,
    JobPlan,
    LeakOff,
    Liner,
    Measured,
    PartPressure,
    Plan,
    PressurePoint,
    PumpingStep,
    Revision,
    Slurry,
    TestPlan,
    Top,
    Waiver,
)
from schematic.depth.running import running_string
from schematic.depth.survey import SurveyPath
from schematic.depth.workings import Workings
from schematic.outcome import Limit
from schematic.units import System, Written
from schematic.wellfile import model
from schematic.wellfile.read import Document, Loc

T = TypeVar("T")


def resolve(document: Document) -> Plan:
    """Work out the plan of a well file.

    Raises
    ------
    InputError
        When the file does not fix the well: with each problem's line and what would do.
    """
    workings = Workings(document)
    content = document.content
    datum = surroundings.datum(content.well.datum)
    stations = data_files.stations(content.survey, workings)
    path = surroundings.survey_path(stations, workings)
    strings = surroundings.strings(content.strings, content.liner.name, datum, workings)
    driven = max((string.shoe_md_m for string in strings if string.driven), default=0.0)
    hole = surroundings.hole(content.hole, max(driven, datum.ground_md_m or 0.0), workings)
    wanted = _spelling(content.liner.host)
    host = next((string for string in strings if _spelling(string.name) == wanted), None)
    if host is None:
        workings.problem(
            ("liner", "host"),
            content.liner.host,
            "the name of a string: " + ", ".join(string.name for string in content.strings),
            "name the string in which the liner hangs",
        )
    workings.stop_if_any()
    assert host is not None
    if hole.sections[0].top_md_m > host.shoe_md_m:
        workings.problem(
            ("hole", 0, "from"),
            "a hole that begins below the host's shoe",
            "hole from the shoe of the host, or from above it",
            "add the section between, or mend 'from'",
        )
        workings.stop_if_any()
    td = hole.sections[-1].bottom_md_m
    for index, string in enumerate(strings):
        if not string.driven and string.shoe_md_m > td + 0.01:
            workings.problem(
                ("strings", index, "shoe"),
                workings.text(string.shoe_md_m, "depth"),
                f"a shoe in the hole, which ends at {workings.text(td, 'depth')}",
                "add the hole section, or check the shoe",
            )
    workings.stop_if_any()
    placed = placing.place(
        content.liner, placing.Site(datum, path, td, f"hole[{len(content.hole) - 1}].to", host), workings
    )
    workings.stop_if_any()
    assert placed is not None
    liner, entered = placed
    running = running_string(content.running_string, liner.top_md_m, workings)
    fluids = _fluids(content.fluids)
    formation = _formation(content.formation, path, strings, workings)
    cement = _cement(content.cement, fluids, liner, strings, workings)
    stated = _entered_tvds(content, stations, datum, workings)
    workings.stop_if_any()
    for section in hole.sections:
        if section.basis == "gauge" and section.bottom_md_m > host.shoe_md_m:
            bottom = workings.text(section.bottom_md_m, "depth")
            workings.assumptions.append(f"no caliper or washout given: hole to {bottom} taken at bit size")
    limits = _limits(content, workings)
    tests = _tests(content, fluids, strings, workings)
    workings.stop_if_any()
    depth = Depths(
        path,
        bool(content.survey),
        td,
        hole,
        strings,
        liner,
        running,
        (*entered, *stated),
    )
    return Plan(
        identity=_identity(document, datum, workings),
        depth=depth,
        fluids=fluids,
        formation=formation,
        cement=cement,
        job=_job(content, tests),
        limits=limits,
        waived=tuple(Waiver(w.rule, w.subject or "", w.by, w.reason) for w in content.waived or ()),
        derivations=tuple(workings.derivations),
        misfits=tuple(workings.misfits),
        record=tuple(
            Measured(
                line.step,
                line.what,
                _si(line.at),
                line.value,
                line.by or "",
                line.date.isoformat() if line.date else "",
                line.remark or "",
                _si(line.planned_shoe),
            )
            for line in content.record or ()
        ),
        assumptions=tuple(dict.fromkeys(workings.assumptions)),
    )


def _si(written: Written | None) -> float | None:
    return None if written is None else written.si


def _band(written: Written | None) -> tuple[float, float, float] | None:
    return None if written is None else (written.si, *written.band)


def _identity(document: Document, datum: Datum, workings: Workings) -> Identity:
    well = document.content.well
    system: System = "field" if well.show == "field" else "metric"
    content_hash = workings.content_hash()
    earlier = [_revision(written) for written in well.earlier_revisions or ()]
    return Identity(
        well.name,
        well.purpose or "",
        well.field or "",
        well.rig or "",
        system,
        well.state,
        datum,
        _issued(well.revision, content_hash) if well.revision else None,
        tuple(sorted(earlier, key=_newest_last(earlier), reverse=True)),
        document.file,
        workings.hash(),
        content_hash,
    )


def _newest_last(revisions: list[Revision]) -> Callable[[Revision], tuple[str, int, str]]:
    """The order of revisions: by date if all have one, then by number, in which 10 comes after 9."""
    dated = all(one.date for one in revisions)
    return lambda one: (one.date if dated else "", len(one.number), one.number)


def _issued(written: model.Revision, content_hash: str) -> Revision:
    """The revision that the file is; who checked or approved it has not seen what was changed since."""
    its = _revision(written)
    if written.content is None:
        return its
    if written.content.lower() == content_hash:
        return its._replace(changed=False)
    return its._replace(changed=True, checked_by="", approved_by="")


def _revision(written: model.Revision) -> Revision:
    return Revision(
        written.number,
        written.date.isoformat() if written.date else "",
        written.by or "",
        written.note or "",
        written.checked_by or "",
        written.approved_by or "",
    )


def _entered_tvds(
    content: model.WellFile, stations: list[model.Station], datum: Datum, workings: Workings
) -> list[EnteredTvd]:
    entered: list[EnteredTvd] = []
    height_m = datum.height_m
    for index, string in enumerate(content.strings):
        name, path = f"shoe of {string.name}", f"strings.{string.name}"
        shift = surroundings.datum_shift_m(string, datum)
        shoe = string.shoe.si + shift
        if string.shoe_tvd is not None:
            entered.append(EnteredTvd(f"{path}.shoe tvd", name, shoe, string.shoe_tvd.si + shift, shift))
        if string.shoe_below_sea_level is not None:
            if not surroundings.counts_from_sea(content.well.datum.above):
                workings.problem(
                    ("strings", index, "shoe below sea level"),
                    string.shoe_below_sea_level.text,
                    f"depths below {content.well.datum.above}, the level of this datum",
                    "write 'shoe tvd'",
                )
            if height_m is None:
                workings.problem(
                    ("well", "datum"),
                    "no 'height', but a depth below sea level",
                    "the height of the datum above sea level",
                    "add 'height: 31 m' with its figure",
                )
                continue
            tvd = string.shoe_below_sea_level.si + height_m
            entered.append(EnteredTvd(f"{path}.shoe below sea level", name, shoe, tvd, height_m))
    for index, station in enumerate(stations):
        if station.tvd is not None:
            entered.append(
                EnteredTvd(f"survey.{index}.tvd", "survey station", station.md.si, station.tvd.si, 0.0)
            )
    return entered


def _fluids(written: dict[str, model.Fluid] | None) -> tuple[Fluid, ...]:
    return tuple(
        Fluid(
            name,
            fluid.kind,
            fluid.density.si,
            _si(fluid.plastic_viscosity),
            _si(fluid.yield_point),
            _si(fluid.volume),
            _si(fluid.yield_),
            _si(fluid.mix_water),
            _si(fluid.thickening_time),
            fluid.base or "",
            _si(fluid.compressibility),
            _si(fluid.silica),
            _si(fluid.additives),
            _si(fluid.largest_solids),
        )
        for name, fluid in (written or {}).items()
    )


def _formation(
    written: model.Formation | None,
    path: SurveyPath,
    strings: tuple[CasingString, ...],
    workings: Workings,
) -> Formation:
    if written is None:
        return Formation((), (), (), None, None, None)
    names = [string.name for string in strings]

    def md(depth: model.PressurePoint | model.Top, loc: Loc) -> float:
        if depth.md is not None:
            return float(depth.md.si)
        if depth.tvd is None:
            workings.problem(loc, "no depth", "'md' or 'tvd'", "write one of them")
            return 0.0
        try:
            return path.md_at_tvd_m(depth.tvd.si)
        except ValueError as error:
            workings.problem((*loc, "tvd"), str(error), "a depth that the well reaches", "check it")
            return 0.0

    points = []
    for index, point in enumerate(written.pressures or ()):
        at = md(point, ("formation", "pressures", index))
        tvd = point.tvd.si if point.tvd else path.tvd_m(at)
        points.append(PressurePoint(at, tvd, _si(point.pore), _si(point.fracture)))
    tests = []
    for index, test in enumerate(written.leak_off or ()):
        if test.at not in names:
            workings.problem(
                ("formation", "leak off", index, "at"),
                test.at,
                "the name of a string: " + ", ".join(names),
                "name the string at whose shoe it was made",
            )
            continue
        shoe = next(string.shoe_md_m for string in strings if string.name == test.at)
        tests.append(
            LeakOff(test.at, test.kind, shoe, _si(test.emw), _si(test.surface_pressure), _si(test.mud))
        )
    tops = [
        Top(
            top.name,
            md(top, ("formation", "tops", index)),
            _si(top.base_md),
            top.rock,
            top.fluid or "",
            _si(top.pore),
            top.cover,
            _band(top.gradient),
        )
        for index, top in enumerate(written.tops or ())
    ]
    temperature = written.temperature
    return Formation(
        tuple(points),
        tuple(tests),
        tuple(sorted(tops, key=lambda top: top.md_m)),
        _si(temperature.static) if temperature else None,
        _si(temperature.circulating) if temperature else None,
        _si(temperature.surface) if temperature else None,
    )


def _spelling(name: str) -> str:
    return re.sub(r"[\s_-]+", " ", name).strip().lower()


def _cement(
    written: model.CementJob | None,
    fluids: tuple[Fluid, ...],
    liner: Liner,
    strings: tuple[CasingString, ...],
    workings: Workings,
) -> CementPlan:
    if written is None:
        return CementPlan(None, None, 0.0, (), "", (), "", None, None, None, (), _clock(None))
    names = {_spelling(fluid.name): fluid.name for fluid in fluids}

    def known(name: str, loc: Loc) -> str:
        if _spelling(name) not in names:
            workings.problem(
                loc,
                name,
                "the name of a fluid: " + ", ".join(names.values()),
                "add it under 'fluids'",
            )
        return names.get(_spelling(name), name)

    places = written.slurries or []
    slurries: list[Slurry] = []
    for index, slurry in enumerate(places):
        loc: Loc = ("cement", "slurries", index)
        below = places[index + 1].below if index + 1 < len(places) else None
        if (slurry.below is None) != (index == 0):
            workings.problem(
                loc,
                "'below' at the first or missing at a later slurry",
                "slurries from the top down, each but the first with 'below'",
                "put them in order",
            )
        if slurry.below and below and not slurry.below.si < below.si:
            workings.problem(
                loc,
                f"{slurry.below.text} above {below.text}",
                "depths that rise",
                "put them in order",
            )
        slurries.append(Slurry(known(slurry.fluid, (*loc, "fluid")), _si(slurry.below), _si(below)))
    if not places:
        only = [fluid.name for fluid in fluids if fluid.kind == "slurry"]
        if len(only) == 1:
            slurries.append(Slurry(only[0], None, None))
    top, text = _si(written.planned_top), written.planned_top.text if written.planned_top else ""
    if written.above_liner_top is not None:
        text = written.above_liner_top.text
        top = workings.derive(
            "cement.planned top",
            liner.top_md_m - written.above_liner_top.si,
            "liner top - above liner top",
            ("liner.top", liner.top_md_m, "tally"),
            ("cement.above liner top", written.above_liner_top.si, "tally"),
        )
    if top is not None and not 0.0 <= top < liner.shoe_md_m:
        workings.problem(
            ("cement", "above liner top" if written.above_liner_top else "planned top"),
            text,
            "a top of cement between the datum and the liner shoe",
            "check the depth",
        )
    stroke, efficiency = None, None
    if written.pump:
        efficiency = _band(written.pump.efficiency)
        stroke = written.pump.output.si
        if not written.pump.efficiency_counted:
            stroke = stroke * efficiency[0] if efficiency is not None else None
            if efficiency is None:
                workings.assumptions.append("pump efficiency not given: no strokes are computed")
    excess = written.excess
    if excess and excess.basis == "gauge":
        workings.assumptions.append("excess on gauge: cement for open hole is computed at bit size")
    if liner.shoe_md_m < next(s.shoe_md_m for s in strings if s.name == liner.host):
        workings.assumptions.append("the liner ends inside its host: no cement is counted below its shoe")
    return CementPlan(
        top,
        _si(excess.open_hole) if excess else None,
        (_si(excess.lap) or 0.0) if excess else 0.0,
        _own_excess(excess, workings),
        (excess.basis or "") if excess else "",
        tuple(slurries),
        known(written.spacer, ("cement", "spacer")) if written.spacer else "",
        stroke,
        efficiency,
        _si(written.over_displacement),
        tuple(
            PumpingStep(
                known(step.fluid, ("cement", "schedule", index, "fluid")),
                _si(step.volume),
                _si(step.rate),
                _si(step.pause),
                step.remark or "",
            )
            for index, step in enumerate(written.schedule or ())
        ),
        _clock(written.clock),
    )


def _clock(written: model.JobClock | None) -> JobClock:
    if written is None:
        return JobClock(None, None, None, None, None)
    return JobClock(
        _si(written.mix_before_pumping),
        _si(written.set_packer),
        _si(written.pull_clear),
        _si(written.reverse_out_at),
        _si(written.stoppage),
    )


def _own_excess(excess: model.Excess | None, workings: Workings) -> tuple[tuple[float, float, float], ...]:
    """The stretches with an excess of their own, in order and without overlap."""
    made: list[tuple[float, float, float]] = []
    for index, written in enumerate((excess.intervals if excess else None) or ()):
        top, bottom = written.from_.si, written.to.si
        if not top < bottom or (made and top < made[-1][1]):
            workings.problem(
                ("cement", "excess", "intervals", index),
                f"{written.from_.text} to {written.to.text}",
                "stretches from the top down that do not overlap",
                "put them in order",
            )
        made.append((top, bottom, written.share.si))
    return tuple(made)


PLACES = ("liner shoe", "liner top")  # where a test may ask for its EMW, beside the shoes of the strings


def _tests(
    content: model.WellFile,
    fluids: tuple[Fluid, ...],
    strings: tuple[CasingString, ...],
    workings: Workings,
) -> tuple[TestPlan, ...]:
    """The planned tests, each name in them that of a fluid or a place, as the file spells it there."""

    def named(name: str | None, known: Sequence[str], what: str, loc: Loc) -> str:
        if name is None:
            return ""
        found = next((one for one in known if _spelling(one) == _spelling(name)), None)
        if found is None:
            accepted = f"{what}: {', '.join(known)}" if known else what
            workings.problem(loc, name, accepted, "check the spelling, or name what is there")
        return found or ""

    pumped, places = [fluid.name for fluid in fluids], [*(string.name for string in strings), *PLACES]
    made = []
    for index, test in enumerate((content.installation and content.installation.tests) or ()):
        loc: Loc = ("installation", "tests", index)
        made.append(
            TestPlan(
                test.name,
                test.kind or "",
                _si(test.surface_pressure),
                _si(test.emw),
                _si(test.above_fracture),
                named(test.light_fluid, pumped, "the name of a fluid", (*loc, "light fluid")),
                _si(test.light_fluid_to),
                named(test.at, places, "the name of a string, or a place", (*loc, "at")),
                named(test.fluid, pumped, "the name of a fluid", (*loc, "fluid")),
                _si(test.hold),
                test.remark or "",
                _si(test.differential),
            )
        )
    return tuple(made)


def _job(content: model.WellFile, tests: tuple[TestPlan, ...]) -> JobPlan:
    parts = content.liner.assembly or []
    hanger = next((part for part in parts if part.part == "liner hanger"), None)
    packer = next((part for part in parts if part.part == "liner top packer"), None)
    collar = next((part.ball_seat for part in parts if part.ball_seat), None)
    job = content.installation
    at_tool = job.running_tool_seat if job else None
    speed = job.running_speed if job else None
    place = (
        job.seat if job and job.seat else "running tool" if at_tool else "landing collar" if collar else None
    )
    seat = collar if place == "landing collar" else at_tool
    return JobPlan(
        seat=place,
        ball_m=seat.ball.si if seat else None,
        seat_m=seat.seat.si if seat else None,
        circulate_up_to_pa=_si(job.circulate_up_to) if job else None,
        hanger_sets_pa=_band(hanger.sets_at) if hanger else None,
        hanger_held_pa=_si(hanger.held_at) if hanger else None,
        parts=tuple(
            PartPressure(part.name or part.part, does, band)
            for part in parts
            if part is not hanger
            for does, band in (("sets", _band(part.sets_at)), ("opens", _band(part.opens_at)))
            if band is not None
        ),
        tool_releases_pa=_band(job.tool_releases_at) if job else None,
        tool_turned=bool(job and job.tool_releases_by == "turning"),
        seat_shears_pa=_band(seat.shears_at) if seat else None,
        plug_releases_pa=_band(job.plug_releases_at) if job else None,
        final_pressure_pa=_si(job.final_pressure) if job else None,
        bump_over_final_pa=_si(job.bump_over_final) if job else None,
        packer_set_down_n=_si(packer.set_down) if packer else None,
        set_down_on_tool_n=_si(job.set_down_on_tool) if job else None,
        block_weight_n=_si(job.block_weight) if job else None,
        hanger_rating_n=_si(hanger.load_rating) if hanger else None,
        dogleg_limit_rad_per_m=_si(job.dogleg_limit) if job else None,
        tests=tests,
        slack_off_limit_n=_si(job.slack_off_limit) if job else None,
        hook_load_limit_n=_si(job.hook_load_limit) if job else None,
        surface_pressure_limit_pa=_si(job.surface_pressure_limit) if job else None,
        torque_limit_nm=_si(job.torque_limit) if job else None,
        friction=_friction(job.friction if job else None),
        tool_seat_m=at_tool.seat.si if at_tool else None,
        running_speed_m_per_s=(_si(speed.cased), _si(speed.open_hole)) if speed else (None, None),
    )


def _friction(written: model.Friction | None) -> tuple[float, float] | None:
    if written is None or written.cased is None or written.open_hole is None:
        return None
    return written.cased.si, written.open_hole.si


def _limits(content: model.WellFile, workings: Workings) -> dict[str, Limit]:
    written, system = content.limits, content.well.show
    limits = dict(profile(written.profile if written else "common practice", system))
    if written is not None:
        owner = written.set_by or "this well file"
        for name, value in written.changed().items():
            limits[name] = Limit(value.si, value.text, owner, "changed under 'limits'")
        for least, greatest in PAIRS:
            if limits[least].si > limits[greatest].si:
                workings.problem(
                    ("limits", least if least in written.changed() else greatest),
                    f"{least} {limits[least].text}, {greatest} {limits[greatest].text}",
                    "a lower limit under the upper one",
                    "change both, or check the unit",
                )
    return limits
