"""What is in the ground before the liner comes: datum, path, hole, strings."""

from __future__ import annotations

import math
import re

from schematic.catalogue.grades import take_connection
from schematic.depth.by_depth import by_depth
from schematic.depth.data_files import caliper
from schematic.depth.plan import CasingString, Datum, Feature, Hole, HoleSection
from schematic.depth.survey import SurveyPath
from schematic.depth.workings import Workings
from schematic.units import INCH_M, inch_name
from schematic.wellfile import model
from schematic.wellfile.nodes import normalised
from schematic.wellfile.read import Loc

_FLOOR = ("ground", "seabed", "sea bed", "mudline", "mud line")
_SAME_DEPTH_M = 1e-6  # one depth in two units differs by less


def datum(written: model.Datum) -> Datum:
    """The datum with the depth of ground or seabed below it."""
    ground = None
    height = written.height.si if written.height else None
    water = written.water_depth.si if written.water_depth else None
    if height is None:
        pass
    elif counts_from_ground(written.above):  # the height itself is how far it lies below
        ground = height
    elif written.ground_height is not None:
        ground = height - written.ground_height.si
    elif water is not None:
        ground = height + water
    return Datum(written.from_, written.above, height, ground, water)


def counts_from_ground(above: str) -> bool:
    """Whether the level above which the datum stands is ground or seabed itself."""
    return any(word in above.lower() for word in _FLOOR)


def counts_from_sea(above: str) -> bool:
    """Whether the level above which the datum stands is that of the sea: "mean sea level", "MSL", "LAT"."""
    return bool(re.search(r"\bsea[ -]?level\b|\b(?:msl|lat)\b|astronomical tide", above, re.IGNORECASE))


def survey_path(stations: list[model.Station], workings: Workings) -> SurveyPath:
    """The well's path; none written: vertical."""
    if not stations:
        workings.assumptions.append("no survey given: the well is taken as vertical")
        return SurveyPath()
    for index, station in enumerate(stations):
        above = stations[index - 1] if index else None
        if above and not station.md.si > above.md.si:
            workings.problem(
                ("survey", index, "md"),
                f"{station.md.text} after {above.md.text}",
                "measured depths that rise from station to station",
                "check both depths; sort the stations, take double ones out",
            )
        if station.inc.si > math.radians(130.0):
            workings.problem(
                ("survey", index, "inc"),
                station.inc.text,
                "an inclination of 0 to 130 deg",
                "check the column: is this the azimuth?",
            )
        if station.azi.si > math.radians(360.0) + 1e-9:
            workings.problem(
                ("survey", index, "azi"),
                station.azi.text,
                "an azimuth of 0 to 360 deg",
                "check the column and the digits",
            )
    if workings.problems:
        return SurveyPath()  # stands in until all problems are told
    try:
        return SurveyPath((s.md.si, s.inc.si, s.azi.si) for s in stations)
    except ValueError as error:
        workings.problem(("survey",), str(error), "stations that an arc can join", "check the directions")
        return SurveyPath()


def hole(written: list[model.HoleSection], start_md_m: float, workings: Workings) -> Hole:
    """All drilled hole; where a caliper leaves a gap, the bit size is taken and said."""
    sections: list[HoleSection] = []
    depths: list[float] = []
    likely: list[float] = []
    least: list[float] = []
    greatest: list[float] = []
    gauge: list[float] = []
    gaps: list[tuple[float, float]] = []
    above = start_md_m

    proven: list[float] = []

    def stretch(
        to: float, diameters: tuple[float, float, float], bit: float, narrowest: float | None = None
    ) -> None:
        if not depths:
            depths.append(above)
        if to > depths[-1]:
            depths.append(to)
            for column, value in zip((least, likely, greatest), diameters, strict=True):
                column.append(value)
            gauge.append(bit)
            proven.append(min(bit, diameters[0] if narrowest is None else narrowest))

    for index, section in enumerate(written):
        loc: Loc = ("hole", index)
        top = section.from_.si if section.from_ else above
        bottom, bit = section.to.si, section.bit.si
        logged = section.logged_to.si if section.logged_to else None
        opened = section.under_reamed_to.si if section.under_reamed_to else bit
        if bottom <= max(top, above):
            workings.problem(
                (*loc, "to"),
                section.to.text,
                f"a depth below {workings.text(max(top, above), 'depth')}",
                "list the sections from the top down; the first begins at ground, seabed or driven pipe",
            )
            continue
        if not sections and section.from_:
            above = top
        basis = "caliper" if section.caliper else "washout" if section.washout else "gauge"
        stated = ""
        if its := section.washout:
            stated = f"{its.diameter.text} washout on diameter" if its.diameter else ""
            stated = stated or (f"{its.volume.text} washout on volume" if its.volume else "")
        sections.append(HoleSection(f"hole.{index}", bit, opened, top, bottom, basis, logged, stated))
        if isinstance(section.caliper, model.CaliperFile):
            begin = max(top, depths[-1] if depths else above)
            log = caliper(section.caliper, (*loc, "caliper"), (begin, bottom), bit, workings)
            silent: list[tuple[float, float]] = []
            at = begin
            for piece in log.stretches if log else ():
                if piece.top_md_m > at + _SAME_DEPTH_M:
                    silent.append((at, piece.top_md_m))
                    stretch(piece.top_md_m, (opened, opened, opened), opened)
                size = piece.diameter_m
                stretch(piece.bottom_md_m, (size, size, size), opened, piece.least_m)
                at = piece.bottom_md_m
            if at < bottom - _SAME_DEPTH_M:
                silent.append((at, bottom))
            gaps += silent
            if silent:
                told = ", ".join(
                    f"{workings.text(high, 'depth')} to {workings.text(low, 'depth')}"
                    for high, low in silent[:5]
                )
                more = f" and {len(silent) - 5} more" if len(silent) > 5 else ""
                workings.assumptions.append(f"caliper log silent at {told}{more}: bit size taken there")
        elif section.caliper:
            for number, step in enumerate(section.caliper):
                floor = depths[-1] if depths else above
                if step.to.si <= floor or step.to.si > bottom + 1e-9:
                    workings.problem(
                        (*loc, "caliper", number, "to"),
                        step.to.text,
                        f"a depth between {workings.text(floor, 'depth')} and {section.to.text}",
                        "list the steps from the top down, inside their hole section",
                    )
                    continue
                low, high = step.diameter.band
                stretch(step.to.si, (low, step.diameter.si, high), opened)
            if depths and depths[-1] < bottom - _SAME_DEPTH_M:
                gaps.append((depths[-1], bottom))
                workings.assumptions.append(
                    f"caliper ends at {workings.text(depths[-1], 'depth')}: bit size taken below it"
                )
        elif section.washout:
            ratio = section.washout.diameter or section.washout.volume
            assert ratio is not None
            power = 1.0 if section.washout.diameter else 0.5
            low, high = ratio.band
            factors = (1.0 + low) ** power, (1.0 + ratio.si) ** power, (1.0 + high) ** power
            low, middle, high = (opened * factor for factor in factors)
            stretch(bottom, (low, middle, high), opened)
        stretch(bottom, (opened, opened, opened), opened)
        above = bottom
    return Hole(
        tuple(sections),
        by_depth(depths, likely),
        by_depth(depths, least),
        by_depth(depths, greatest),
        by_depth(depths, gauge),
        by_depth(depths, proven),
        tuple(gaps),
    )


class Tube:
    """Dimensions of a casing or liner pipe: those given by hand win over the catalogue's."""

    def __init__(
        self, written: model.CasingString | model.Liner | model.LinerPart, workings: Workings
    ) -> None:
        choice = written.pipe.choice if written.pipe else None
        row = choice.row if choice else None
        by_hand = written.connection
        connection = (take_connection(by_hand)[0] if by_hand else None) or (
            choice.connection if choice else None
        )
        self.label = ""
        if choice and choice.rest:
            workings.assumptions.append(
                f"'{choice.rest}' of pipe '{choice.row.name}' is not understood: left out"
            )
        if choice:
            grade = f" {choice.grade}" if choice.grade else ""
            self.label = f"{choice.row.name}{grade}"
        self.grade = (choice.grade if choice else None) or ""
        self.connection = by_hand or connection or ""
        self.od_m = written.od.si if written.od else row.od_m if row else None
        self.id_m = written.id.si if written.id else row.id_m if row else None
        self.drift_m = written.drift.si if written.drift else None
        if self.drift_m is None and row and not written.id:
            self.drift_m = row.drift_m
        self.coupling_od_m = written.coupling_od.si if written.coupling_od else None
        if self.coupling_od_m is None and row and connection:
            self.coupling_od_m = row.coupling_od_m.get(connection)
        self.weight_kg_per_m = (
            written.weight.si if written.weight else row.nominal_weight_kg_per_m if row else None
        )
        for word, given, listed in (
            ("OD", written.od, row and row.od_m),
            ("ID", written.id, row and row.id_m),
        ):
            if given and listed and abs(given.si - listed) > 0.0005 * INCH_M:
                workings.assumptions.append(
                    f"{self.label}: {word} {given.text} by hand, {listed / INCH_M:.3f} in in the table"
                )
        if written.pipe is None and self.od_m and not self.label:
            name = inch_name(self.od_m)
            self.label = f"{name} in" if name else f"{self.od_m * 1000:.1f} mm"

    def complete(self, loc: Loc, workings: Workings) -> bool:
        """Whether OD and bore are known and one fits in the other; a problem where not."""
        if self.od_m is None or self.id_m is None:
            workings.problem(
                loc,
                "no pipe and no dimensions",
                "'pipe' from the catalogue, or 'od' and 'id'",
                "write e.g. 'pipe: 9 5/8 in 47 lb/ft L-80', or both 'od' and 'id'",
            )
            return False
        if self.id_m >= self.od_m:
            bore, outer = (workings.text(size_m, "diameter") for size_m in (self.id_m, self.od_m))
            workings.problem(
                (*loc, "id"),
                f"a bore of {bore} in a pipe of {outer}",
                "an id smaller than the od",
                "exchange them, or check the digits",
            )
            return False
        return True


def datum_shift_m(string: model.CasingString, datum: Datum) -> float:
    """What is added to the depths of a string that was run from another rig's datum."""
    if string.datum_height is None or datum.height_m is None:
        return 0.0
    return float(datum.height_m - string.datum_height.si)


def _shift(index: int, string: model.CasingString, datum: Datum, workings: Workings) -> float:
    shift = datum_shift_m(string, datum)
    if string.datum_height is not None and datum.height_m is None:
        workings.problem(
            ("well", "datum"),
            "no 'height', but a string with a 'datum height'",
            "the height of the datum of this plan above the same level",
            "add 'height: 31 m' with its figure",
        )
    elif string.datum_height is not None:
        assert datum.height_m is not None
        workings.derive(
            f"strings.{string.name}.shoe below this datum",
            string.shoe.si + shift,
            "shoe as written + height of this datum - height of the datum it was run from",
            (f"strings.{index}.shoe", string.shoe.si, "tally"),
            ("well.datum.height", datum.height_m, "tally"),
            (f"strings.{index}.datum height", string.datum_height.si, "tally"),
        )
    return shift


def strings(
    written: list[model.CasingString], liner_name: str, datum: Datum, workings: Workings
) -> tuple[CasingString, ...]:
    """The strings in the well, in the order of the file; each needs a name that nothing else bears."""
    made: list[CasingString] = []
    taken = {"hole", "running string"}  # what stands around or within the strings
    if liner_name.casefold() in taken:
        workings.problem(("liner", "name"), liner_name, "a name of its own for the liner", "rename it")
    taken.add(normalised(liner_name).casefold())
    for index, string in enumerate(written):
        loc: Loc = ("strings", index)
        known = len(taken)
        taken.add(normalised(string.name).casefold())
        if len(taken) == known:
            workings.problem(
                (*loc, "name"),
                string.name,
                "a name of its own for each string; the liner, 'hole' and 'running string' have theirs",
                "rename one of them",
            )
        pipe = Tube(string, workings)
        if not pipe.complete(loc, workings):
            continue
        assert pipe.od_m is not None
        assert pipe.id_m is not None
        shift = _shift(index, string, datum, workings)
        if string.cement and string.cement.top.si > string.shoe.si:
            workings.problem(
                (*loc, "cement", "top"),
                string.cement.top.text,
                f"a top of cement above the shoe, {string.shoe.text}",
                "check the depth",
            )
        couplings = string.couplings
        made.append(
            CasingString(
                path=f"strings.{string.name}",
                name=string.name,
                label=pipe.label,
                connection=pipe.connection,
                grade=pipe.grade,
                od_m=pipe.od_m,
                id_m=pipe.id_m,
                drift_m=pipe.drift_m,
                special_drift_m=string.special_drift.diameter.si if string.special_drift else None,
                special_drift_certificate=(string.special_drift.certificate or "")
                if string.special_drift
                else "",
                coupling_od_m=pipe.coupling_od_m,
                weight_kg_per_m=pipe.weight_kg_per_m,
                top_md_m=string.top.si + shift if string.top else 0.0,
                shoe_md_m=string.shoe.si + shift,
                driven=string.driven,
                cement_top_md_m=string.cement.top.si + shift if string.cement else None,
                cement_known_by=(string.cement.known_by or "") if string.cement else "",
                couplings_md_m=tuple(sorted(c.si + shift for c in couplings.near_hanger))
                if couplings
                else (),
                couplings_located_by=(couplings.located_by or "") if couplings else "",
                couplings_corrected=bool(couplings and couplings.corrected_for_stretch),
                features=None
                if string.features is None
                else tuple(Feature(f.what, f.from_.si + shift, f.to.si + shift) for f in string.features),
                wall_left=string.wall_left.si if string.wall_left else None,
                tested_pa=string.tested_to.si if string.tested_to else None,
            )
        )
    return tuple(made)
