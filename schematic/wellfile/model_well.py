"""The well as it is written: identity, survey, hole, strings in place, and the liner with its parts."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Discriminator, Tag, model_validator

from schematic.wellfile.fields import (
    Angle,
    CasingPipe,
    Count,
    Day,
    Depth,
    Distance,
    Extra,
    Force,
    Height,
    Length,
    Pressure,
    Share,
    Text,
    YesNo,
    refuse,
    word,
)
from schematic.wellfile.section import PipeSizes, Section


class Datum(Section):
    """Where depths are counted from: a height above a level, and the ground or the water below it."""

    from_: Text
    above: Text
    height: Height | None = None  # left out: depths below that level are not known
    ground_height: Height | None = None  # of the ground above the same level, on land
    water_depth: Distance | None = None  # offshore


class Revision(Section):
    """Which issue of the plan this is."""

    number: Text
    date: Day | None = None
    by: Text | None = None
    note: Text | None = None
    checked_by: Text | None = None
    approved_by: Text | None = None
    content: Text | None = None  # hash of the well as it was issued: another content is changed since


class Well(Section):
    """Identity, datum, units of the output, revision."""

    name: Text
    datum: Datum
    purpose: Text | None = None
    field: Text | None = None
    rig: Text | None = None
    show: word("field", "metric") = "field"  # type: ignore[valid-type]
    state: word("planned", "replanned", "as run") = "planned"  # type: ignore[valid-type]
    revision: Revision | None = None
    earlier_revisions: list[Revision] | None = None  # in any order; the table of revisions sorts them

    @model_validator(mode="after")
    def _revised(self) -> Well:
        earlier = self.earlier_revisions or []
        if earlier and self.revision is None:
            raise refuse(
                "'earlier revisions' without 'revision'",
                "the revision that this file is, and those before it",
                "move the latest under 'revision: {number: ..., date: ...}'",
            )
        numbers = [one.number for one in (*([self.revision] if self.revision else []), *earlier)]
        twice = next((number for n, number in enumerate(numbers) if number in numbers[:n]), None)
        if twice is not None:
            raise refuse(
                f"revision {twice} twice", "each revision once", "take one of the two out, or number it anew"
            )
        return self


class TableFile(Section):
    """A table in a file beside the well file; *unit* is that of lengths whose column names none."""

    file: Text
    sheet: Text | None = None
    unit: word("m", "ft", "US ft") | None = None  # type: ignore[valid-type]
    decimal: word("point", "comma") | None = None  # type: ignore[valid-type]


class CaliperFile(Section):
    """A caliper log in a file beside the well file; units are of what the log names none for."""

    file: Text
    curve: Text | None = None
    from_: Depth | None = None
    to: Depth | None = None
    closed_below: Depth | None = None  # the tool was closed there; what it reads is no hole
    leave_out_under: Length | None = None  # a diameter: readings under it are taken for spikes
    unit: word("in", "mm", "cm", "m", "ft") | None = None  # type: ignore[valid-type]
    depth_unit: word("m", "ft", "US ft") | None = None  # type: ignore[valid-type]


def _not_a_name(value: object) -> object:
    if isinstance(value, str):
        raise refuse(value, "a list, or a file beside the well file", f"write {{file: {value}}} for a file")
    return value


def _list_or_file(value: object) -> str:
    return "[file]" if isinstance(value, dict) else "[list]"


class Station(Section):
    """One survey station; *tvd* as somebody computed it, held against minimum curvature."""

    md: Depth
    inc: Angle
    azi: Angle
    tvd: Height | None = None


class Washout(Section):
    """How much wider than the bit the hole is: on the diameter or on the volume."""

    diameter: Extra | None = None
    volume: Extra | None = None

    @model_validator(mode="after")
    def _one(self) -> Washout:
        if (self.diameter is None) == (self.volume is None):
            raise refuse("both or neither", "'diameter' or 'volume'", "write one of the two")
        return self


class CaliperStep(Section):
    """A stretch of hole of one measured diameter, from the end of the step above it."""

    to: Depth
    diameter: Length


Survey = Annotated[
    Annotated[list[Station], Tag("[list]")] | Annotated[TableFile, Tag("[file]")],
    Discriminator(_list_or_file),
    BeforeValidator(_not_a_name),
]
Caliper = Annotated[
    Annotated[list[CaliperStep], Tag("[list]")] | Annotated[CaliperFile, Tag("[file]")],
    Discriminator(_list_or_file),
    BeforeValidator(_not_a_name),
]


class HoleSection(Section):
    """Hole drilled by one bit, from the end of the section above it."""

    bit: Length
    to: Depth
    from_: Depth | None = None
    logged_to: Depth | None = None  # the same bottom by the logger's depth
    under_reamed_to: Length | None = None  # opened below the string that the bit passed
    washout: Washout | None = None
    caliper: Caliper | None = None

    @model_validator(mode="after")
    def _one_size(self) -> HoleSection:
        if self.washout is not None and self.caliper is not None:
            raise refuse("both 'washout' and 'caliper'", "one of the two", "take one of them out")
        if self.under_reamed_to is not None and not self.under_reamed_to.si > self.bit.si:
            raise refuse(
                f"{self.under_reamed_to.text} with a bit of {self.bit.text}",
                "a diameter larger than the bit",
                "'bit' is what passed the string above, 'under reamed to' the opened hole",
            )
        return self


class SpecialDrift(Section):
    """A drift larger than the table's, ordered with the pipe; proven by a certificate."""

    diameter: Length
    certificate: Text | None = None


class CementBehind(Section):
    """Cement behind a string that is already in the well."""

    top: Depth
    known_by: Text | None = None


class Couplings(Section):
    """Where the couplings of a string are, and how that is known."""

    near_hanger: list[Depth]
    located_by: Text | None = None
    corrected_for_stretch: YesNo = False  # these and the slip depth, so that both share one reference


class Feature(Section):
    """A stretch of a string where nothing may grip or seal: perforations, window, packer marks, wear."""

    what: Text
    from_: Depth
    to: Depth

    @model_validator(mode="after")
    def _downward(self) -> Feature:
        if not self.from_.si < self.to.si:
            raise refuse(f"{self.from_.text} to {self.to.text}", "'from' above 'to'", "exchange them")
        return self


class CasingString(PipeSizes):
    """A string that is already in the well."""

    name: Text
    pipe: CasingPipe | None = None
    connection: Text | None = None
    top: Depth | None = None
    shoe: Depth
    shoe_tvd: Height | None = None
    shoe_below_sea_level: Height | None = None
    driven: YesNo = False
    special_drift: SpecialDrift | None = None
    cement: CementBehind | None = None
    couplings: Couplings | None = None
    datum_height: Height | None = None  # of the rig that its depths were counted from
    features: list[Feature] | None = None  # an empty list says that there are none
    wall_left: Share | None = None
    tested_to: Pressure | None = None


class BallSeat(Section):
    """Where a ball stops: its size, the bore of the seat, the pressure at which the seat lets go."""

    ball: Length
    seat: Length
    shears_at: Pressure | None = None


class Slips(Section):
    """Where the slips of a hanger grip, counted from the foot of the part."""

    from_bottom: Distance
    length: Length


HANGER_TYPES = ("hydraulic", "mechanical", "expandable")
PART_KEYS = {
    # what may be said of each kind of liner part, beside name, length, od, id, weight and remark
    "float shoe": {"valves", "back pressure rating"},
    "reamer shoe": {"valves", "back pressure rating"},
    "guide shoe": set[str](),
    "joint": {"count", "each", "fill", "pipe", "connection", "coupling od"},
    "pup joint": {"pipe", "connection", "coupling od"},
    "float collar": {"valves", "back pressure rating"},
    "landing collar": {"ball seat", "bump rating"},
    "centralizer": {"count", "rigid"},
    "crossover": set[str](),
    "swivel": {"load rating"},
    "stage collar": {"opens at"},
    "external packer": {"sets at"},
    "liner hanger": {"type", "sets at", "held at", "slips", "load rating", "bore rating", "rotating"},
    "liner top packer": {"set down", "hold down", "pressure rating"},
    "setting sleeve": set[str](),
    "tie-back receptacle": {"bore"},
    "debris barrier": set[str](),
}
_EVERY_PART = {"part", "name", "length", "od", "id", "weight", "remark", "drillable"}


class LinerPart(PipeSizes):
    """One line of the liner's tally, from the bottom up; *length* is that of the whole line."""

    part: word(*PART_KEYS)  # type: ignore[valid-type]
    name: Text | None = None
    length: Length | None = None
    each: Length | None = None
    count: Count | None = None
    fill: YesNo = False
    pipe: CasingPipe | None = None
    connection: Text | None = None
    bore: Length | None = None
    valves: Count | None = None
    ball_seat: BallSeat | None = None
    slips: Slips | None = None
    sets_at: Pressure | None = None
    held_at: Pressure | None = None
    opens_at: Pressure | None = None
    set_down: Force | None = None
    hold_down: YesNo = False
    type: word(*HANGER_TYPES) | None = None  # type: ignore[valid-type]
    rotating: YesNo = False
    rigid: YesNo = False
    drillable: YesNo | None = None
    load_rating: Force | None = None
    pressure_rating: Pressure | None = None
    bore_rating: Pressure | None = None
    back_pressure_rating: Pressure | None = None
    bump_rating: Pressure | None = None
    remark: Text | None = None

    @model_validator(mode="after")
    def _only_its_own(self) -> LinerPart:
        allowed = _EVERY_PART | PART_KEYS[self.part]
        for field in self.model_fields_set:
            key = field.replace("_", " ")
            if key not in allowed:
                mend = "write it as 'id'" if key == "bore" else f"take '{key}' out"
                raise refuse(f"'{key}' of a {self.part}", ", ".join(sorted(allowed)), mend)
        if self.count == 0 and not self.fill:
            raise refuse("a count of 0", "a count of one or more", "take the line out")
        if (
            self.slips is not None
            and self.length is not None
            and self.slips.from_bottom.si + self.slips.length.si > self.length.si * (1.0 + 1e-9)
        ):
            raise refuse(
                f"slips up to {self.slips.from_bottom.text} + {self.slips.length.text} in {self.length.text}",
                "slips inside their part",
                "check 'from bottom' and 'length' of the slips",
            )
        if self.each is not None and self.length is not None:
            raise refuse(
                "both 'length' and 'each'",
                "the length of the line, or of each joint",
                "take one of them out",
            )
        if self.fill and {"count", "length"} & self.model_fields_set:
            raise refuse(
                "'fill' with a count or length",
                "'fill: true' alone, or with 'each'",
                "take 'fill' out, or the other",
            )
        return self


class Rack(Section):
    """The count of joints that were on the rack, are left, and were rejected."""

    joints: Count
    left: Count
    rejected: Count = 0


class TieBack(Section):
    """The seal that will be stabbed into the receptacle later, and how far it has to move there."""

    seal_od: Length
    travel: Distance | None = None


class TailPipe(Section):
    """The lower end of the completion: where it ends, and whether it is stabbed into the liner."""

    end: Depth
    stabbed: YesNo = False


class Liner(PipeSizes):
    """The liner: what it is made of and any sufficient set of its depths."""

    name: Text = "liner"
    pipe: CasingPipe | None = None
    connection: Text | None = None
    host: Text
    top: Depth | None = None
    top_tvd: Height | None = None
    top_below_sea_level: Height | None = None
    lap: Length | None = None
    shoe: Depth | None = None
    shoe_tvd: Height | None = None
    shoe_below_sea_level: Height | None = None
    length: Length | None = None
    off_bottom: Distance | None = None
    permitted_shoe_tvd: Height | None = None
    next_bit: Length | None = None  # the widest thing that has to pass the liner later
    rack: Rack | None = None
    lengths: word("made up", "overall") | None = None  # type: ignore[valid-type]
    pups: list[Length] | None = None  # that are on location for the space-out
    tie_back: TieBack | None = None
    tail_pipe: TailPipe | None = None
    tally: TableFile | None = None  # lengths of the joints, from the bottom up
    assembly: list[LinerPart] | None = None
