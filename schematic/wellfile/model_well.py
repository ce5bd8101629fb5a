"""The well as it is written: identity, survey, hole, strings in place, and the liner with its parts."""

from __future__ import annotations

from pydantic import model_validator

from schematic.wellfile.fields import (
    Angle,
    CasingPipe,
    Count,
    Day,
    Depth,
    Distance,
    Force,
    Height,
    Length,
    Pressure,
    Ratio,
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


class Well(Section):
    """Identity, datum, units of the output, revision."""

    name: Text
    datum: Datum
    purpose: Text | None = None
    field: Text | None = None
    rig: Text | None = None
    show: word("field", "metric") = "field"  # type: ignore[valid-type]
    state: word("planned", "as run") = "planned"  # type: ignore[valid-type]
    revision: Revision | None = None


class Station(Section):
    """One survey station; *tvd* as somebody computed it, held against minimum curvature."""

    md: Depth
    inc: Angle
    azi: Angle
    tvd: Height | None = None


class Washout(Section):
    """How much wider than the bit the hole is: on the diameter or on the volume."""

    diameter: Ratio | None = None
    volume: Ratio | None = None

    @model_validator(mode="after")
    def _one(self) -> Washout:
        if (self.diameter is None) == (self.volume is None):
            raise refuse("both or neither", "'diameter' or 'volume'", "write one of the two")
        return self


class CaliperStep(Section):
    """A stretch of hole of one measured diameter, from the end of the step above it."""

    to: Depth
    diameter: Length


class HoleSection(Section):
    """Hole drilled by one bit, from the end of the section above it."""

    bit: Length
    to: Depth
    from_: Depth | None = None
    under_reamed_to: Length | None = None  # opened below the string that the bit passed
    washout: Washout | None = None
    caliper: list[CaliperStep] | None = None

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
    wall_left: Ratio | None = None
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


PART_KEYS = {
    # what may be said of each kind of liner part, beside name, length, od, id, weight and remark
    "float shoe": {"valves", "back pressure rating"},
    "reamer shoe": {"valves", "back pressure rating"},
    "guide shoe": set[str](),
    "joint": {"count", "each", "fill", "pipe", "connection", "coupling od"},
    "pup joint": {"pipe", "connection", "coupling od"},
    "float collar": {"valves", "back pressure rating"},
    "landing collar": {"ball seat", "bump rating"},
    "centralizer": {"count"},
    "crossover": set[str](),
    "swivel": {"load rating"},
    "stage collar": {"opens at"},
    "external packer": {"sets at"},
    "liner hanger": {"sets at", "held at", "slips", "load rating", "bore rating", "rotating"},
    "liner top packer": {"set down", "hold down", "pressure rating"},
    "setting sleeve": set[str](),
    "tie-back receptacle": {"bore"},
    "debris barrier": set[str](),
}
_EVERY_PART = {"part", "name", "length", "od", "id", "weight", "remark"}


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
    rotating: YesNo = False
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
                raise refuse(f"'{key}' of a {self.part}", ", ".join(sorted(allowed)), f"take '{key}' out")
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
    assembly: list[LinerPart] | None = None
