"""What a person writes in a well file: one model per section, every physical value with its own text.

Keys in the file are the trade's words with spaces (``off bottom``); the attribute is the same word with
underscores. Nothing after ``resolve`` reads these models.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field, model_validator

from schematic.units import Written
from schematic.wellfile.fields import (
    Angle,
    CasingPipe,
    Compressibility,
    Count,
    Day,
    Density,
    Depth,
    Distance,
    Dogleg,
    DrillPipe,
    Duration,
    Flow,
    Force,
    Height,
    Length,
    LinearWeight,
    Mass,
    MassVolume,
    Pressure,
    PressureGradient,
    Ratio,
    Stress,
    StrokeVolume,
    Temperature,
    Text,
    Torque,
    Viscosity,
    Volume,
    YesNo,
    refuse,
    word,
)


class Section(BaseModel):
    """A part of the file: unknown keys are errors, nothing changes after reading."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        populate_by_name=False,
        defer_build=True,
        alias_generator=lambda name: name.rstrip("_").replace("_", " "),
    )


class Datum(Section):
    """Where depths are counted from: a height above a level, and the ground or the water below it."""

    from_: Text
    above: Text
    height: Height
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
    under_reamed: YesNo = False
    washout: Washout | None = None
    caliper: list[CaliperStep] | None = None

    @model_validator(mode="after")
    def _one_size(self) -> HoleSection:
        if self.washout is not None and self.caliper is not None:
            raise refuse("both 'washout' and 'caliper'", "one of the two", "take one of them out")
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


class PipeSizes(Section):
    """Dimensions given by hand; they win over the catalogue."""

    od: Length | None = None
    id: Length | None = None
    drift: Length | None = None
    coupling_od: Length | None = None
    weight: LinearWeight | None = None


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


class ToolJoint(Section):
    """The thick ends of drill pipe: diameters and how much of each joint they are."""

    od: Length
    id: Length
    length: Length


RUNNING_PARTS = (
    "wiper plug",
    "inner string",
    "slick joint",
    "running tool",
    "crossover",
    "pup joint",
    "heavy-weight drill pipe",
    "drill pipe",
)


class RunningPart(PipeSizes):
    """One line of the running string, from the bottom up."""

    part: word(*RUNNING_PARTS)  # type: ignore[valid-type]
    name: Text | None = None
    pipe: DrillPipe | None = None
    length: Length | None = None
    joint_length: Length | None = None
    tool_joint: ToolJoint | None = None
    mass: Mass | None = None
    travel: Length | None = None
    load_rating: Force | None = None
    remark: Text | None = None


class RunningString(Section):
    """The string that carries the liner: everything below the rotary, and the stick-up above it."""

    assembly: list[RunningPart] = Field(min_length=1)
    stick_up: Distance | None = None
    ball: Length | None = None


class Fluid(Section):
    """A fluid of the job."""

    kind: word("mud", "spacer", "wash", "slurry", "displacement", "completion brine", "base oil")  # type: ignore[valid-type]
    density: Density
    base: word("water", "oil", "synthetic") | None = None  # type: ignore[valid-type]
    plastic_viscosity: Viscosity | None = None
    yield_point: Stress | None = None
    volume: Volume | None = None
    yield_: MassVolume | None = None
    mix_water: MassVolume | None = None
    thickening_time: Duration | None = None
    compressibility: Compressibility | None = None
    silica: Ratio | None = None
    remark: Text | None = None


class PressurePoint(Section):
    """Pore and fracture pressure at one depth, as equivalent mud weight."""

    tvd: Depth | None = None
    md: Depth | None = None
    pore: Density | None = None
    fracture: Density | None = None

    @model_validator(mode="after")
    def _one_depth(self) -> PressurePoint:
        if (self.tvd is None) == (self.md is None):
            raise refuse("both or neither of 'tvd', 'md'", "one depth", "write 'tvd' or 'md'")
        return self


class LeakOff(Section):
    """A leak-off or integrity test at a shoe."""

    at: Text
    emw: Density | None = None
    surface_pressure: Pressure | None = None
    mud: Density | None = None
    kind: word("leak-off", "integrity", "extended") = "leak-off"  # type: ignore[valid-type]
    date: Day | None = None


class Top(Section):
    """The top of a rock unit."""

    name: Text
    md: Depth | None = None
    tvd: Depth | None = None
    base_md: Depth | None = None
    rock: word("shale", "marl", "sand", "limestone", "dolomite", "salt", "coal", "other") = "other"  # type: ignore[valid-type]
    fluid: word("gas", "oil", "water", "none") | None = None  # type: ignore[valid-type]
    pore: Density | None = None
    gas_gradient: list[PressureGradient] | None = None
    remark: Text | None = None


class Temperatures(Section):
    """At the bottom of the hole: static and circulating."""

    static: Temperature | None = None
    circulating: Temperature | None = None


class Formation(Section):
    """The rock outside: pressures, tests, tops, temperatures."""

    pressures: list[PressurePoint] | None = None
    leak_off: list[LeakOff] | None = None
    tops: list[Top] | None = None
    temperature: Temperatures | None = None
    oil_water_contact: Depth | None = None
    hydrogen_sulphide: Text | None = None
    carbon_dioxide: Text | None = None


class Excess(Section):
    """Slurry beyond the computed volume, on open hole only unless another interval is named."""

    open_hole: Ratio | None = None
    lap: Ratio | None = None
    basis: word("caliper", "gauge") | None = None  # type: ignore[valid-type]


class SlurryPlace(Section):
    """One slurry of the job, from the top down; *below* is where it begins, the first has none."""

    fluid: Text
    below: Depth | None = None


class PumpingStep(Section):
    """One line of the pumping schedule."""

    fluid: Text
    volume: Volume | None = None
    rate: Flow | None = None
    pause: Duration | None = None
    remark: Text | None = None


class Pump(Section):
    """What a stroke of the pump delivers."""

    output: StrokeVolume
    efficiency: Ratio | None = None
    efficiency_counted: YesNo = False  # already in the output


class CementJob(Section):
    """How much cement, of what, to where."""

    planned_top: Depth | None = None
    above_liner_top: Distance | None = None
    excess: Excess | None = None
    slurries: list[SlurryPlace] | None = None
    spacer: Text | None = None
    pump: Pump | None = None
    schedule: list[PumpingStep] | None = None
    over_displacement: Volume | None = None

    @model_validator(mode="after")
    def _one_top(self) -> CementJob:
        if self.planned_top is not None and self.above_liner_top is not None:
            raise refuse("both 'planned top' and 'above liner top'", "one of the two", "take one of them out")
        return self


class PressureTest(Section):
    """A planned pressure test."""

    name: Text
    surface_pressure: Pressure | None = None
    emw: Density | None = None
    at: Text | None = None
    fluid: Text | None = None
    hold: Duration | None = None
    remark: Text | None = None


class Friction(Section):
    """Friction factors of the string against casing and rock."""

    cased: Ratio | None = None
    open_hole: Ratio | None = None


class Installation(Section):
    """Pressures, weights and tests of the job."""

    seat: word("landing collar", "running tool") | None = None  # type: ignore[valid-type]
    running_tool_seat: BallSeat | None = None
    circulate_up_to: Pressure | None = None
    tool_releases_at: Pressure | None = None
    plug_releases_at: Pressure | None = None
    final_pressure: Pressure | None = None
    bump_over_final: Pressure | None = None
    set_down_on_tool: Force | None = None
    slack_off_limit: Force | None = None
    block_weight: Force | None = None
    hook_load_limit: Force | None = None
    surface_pressure_limit: Pressure | None = None
    torque_limit: Torque | None = None
    dogleg_limit: Dogleg | None = None
    friction: Friction | None = None
    tests: list[PressureTest] | None = None


class Limits(Section):
    """Whose limits the checks use, and single limits changed here."""

    profile: word("common practice") = "common practice"  # type: ignore[valid-type]
    least_lap: Distance | None = None
    greatest_lap: Distance | None = None
    least_coupling_distance: Distance | None = None
    tally_closure: Distance | None = None
    running_string_closure: Distance | None = None
    tvd_agreement: Distance | None = None
    set_by: Text | None = None

    def changed(self) -> dict[str, Written]:
        """The single limits that this file changes, by their name."""
        return {
            name.replace("_", " "): value
            for name in self.model_fields_set
            if isinstance(value := getattr(self, name), Written)
        }


class Waiver(Section):
    """A warning accepted by a named person, for a reason."""

    rule: Text
    subject: Text | None = None
    by: Text
    reason: Text
    date: Day | None = None


class Option(Section):
    """An alternative: a name and what it changes, path by path."""

    name: Text
    change: dict[str, Any] = Field(min_length=1)


class Measurement(Section):
    """What was measured on the job."""

    step: Text
    what: Text
    value: Text
    by: Text | None = None
    date: Day | None = None
    remark: Text | None = None


class WellFile(Section):
    """A whole well file."""

    lapline: word("1")  # type: ignore[valid-type]
    well: Well
    survey: list[Station] | None = None
    hole: list[HoleSection] = Field(min_length=1)
    strings: list[CasingString] = Field(min_length=1)
    liner: Liner
    running_string: RunningString | None = None
    fluids: dict[Text, Fluid] | None = None
    formation: Formation | None = None
    cement: CementJob | None = None
    installation: Installation | None = None
    limits: Limits | None = None
    waived: list[Waiver] | None = None
    options: list[Option] | None = None
    record: list[Measurement] | None = None
