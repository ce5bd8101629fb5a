"""The job as it is written: running string, fluids, rock, cement, installation, limits, options, record."""

from __future__ import annotations

from typing import Any

from pydantic import Field, create_model, model_validator

from schematic.catalogue.limits import DIMENSIONS, PROFILES
from schematic.units import UnitError, Written, parse
from schematic.wellfile.fields import (
    Compressibility,
    Day,
    Density,
    Depth,
    Distance,
    Dogleg,
    DrillPipe,
    Duration,
    Extra,
    Flow,
    Force,
    Length,
    Mass,
    MassVolume,
    Pressure,
    PressureGradient,
    Ratio,
    Share,
    Speed,
    Stress,
    StrokeVolume,
    Temperature,
    Text,
    Torque,
    Viscosity,
    Volume,
    YesNo,
    limit_type,
    refuse,
    word,
)
from schematic.wellfile.model_well import BallSeat
from schematic.wellfile.section import PipeSizes, Section

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


class ToolJoint(Section):
    """The thick ends of drill pipe: diameters and how much of each joint they are."""

    od: Length
    id: Length
    length: Length


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
    pressure_rating: Pressure | None = None
    core: Length | None = None  # of a wiper plug: what is rigid
    fins: Length | None = None  # of a wiper plug: its widest fins
    remark: Text | None = None


class Dart(Section):
    """The dart: its core and the largest diameter of its fins."""

    core: Length
    fins: Length


class RunningString(Section):
    """The string that carries the liner: everything below the rotary, and the stick-up above it."""

    assembly: list[RunningPart] = Field(min_length=1)
    stick_up: Distance | None = None
    ball: Length | None = None
    dart: Dart | None = None
    stand_length: Length | None = None


class Fluid(Section):
    """A fluid of the job."""

    kind: word("mud", "spacer", "wash", "slurry", "displacement", "next mud", "completion brine", "base oil")  # type: ignore[valid-type]
    density: Density
    base: word("water", "oil", "synthetic") | None = None  # type: ignore[valid-type]
    plastic_viscosity: Viscosity | None = None
    yield_point: Stress | None = None
    volume: Volume | None = None
    yield_: MassVolume | None = None
    mix_water: MassVolume | None = None
    thickening_time: Duration | None = None
    compressibility: Compressibility | None = None
    silica: Share | None = None
    additives: Extra | None = None  # all others, by weight of cement
    largest_solids: Length | None = None
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
    fluid: word("gas", "oil", "water", "fresh water", "none") | None = None  # type: ignore[valid-type]
    pore: Density | None = None
    cover: YesNo = False  # the liner is there to cover it
    gradient: PressureGradient | None = None  # of the fluid in it; a band where it is not sure
    remark: Text | None = None

    @model_validator(mode="after")
    def _downward(self) -> Top:
        if self.md is not None and self.base_md is not None and not self.md.si < self.base_md.si:
            raise refuse(f"a base at {self.base_md.text}", f"a base below {self.md.text}", "check both")
        return self


class Temperatures(Section):
    """At the bottom of the hole: static and circulating."""

    static: Temperature | None = None
    circulating: Temperature | None = None
    surface: Temperature | None = None


class Formation(Section):
    """The rock outside: pressures, tests, tops, temperatures."""

    pressures: list[PressurePoint] | None = None
    leak_off: list[LeakOff] | None = None
    tops: list[Top] | None = None
    temperature: Temperatures | None = None
    oil_water_contact: Depth | None = None
    hydrogen_sulphide: Text | None = None
    carbon_dioxide: Text | None = None


class ExcessInterval(Section):
    """A stretch of open hole with an excess of its own: a washout, a loss zone."""

    from_: Depth
    to: Depth
    share: Extra


class Excess(Section):
    """Slurry beyond the computed volume, on open hole only unless another interval is named."""

    open_hole: Extra | None = None
    lap: Extra | None = None
    intervals: list[ExcessInterval] | None = None
    basis: word("caliper", "stated hole", "gauge") | None = None  # type: ignore[valid-type]


class SlurryPlace(Section):
    """One slurry of the job, from the top down; *below* is where it begins, the first has none."""

    fluid: Text
    below: Depth | None = None


class PumpingStep(Section):
    """One line of the pumping schedule."""

    fluid: Text
    volume: Volume | None = None
    rate: Flow | None = None
    pause: Duration | None = None  # after it
    remark: Text | None = None


class Pump(Section):
    """What a stroke of the pump delivers."""

    output: StrokeVolume
    efficiency: Share | None = None
    efficiency_counted: YesNo = False  # already in the output


class JobClock(Section):
    """What takes time beside pumping, from the first slurry mixed to the string clear of the cement."""

    mix_before_pumping: Duration | None = None  # batch mixed: how long it is in water before it is pumped
    set_packer: Duration | None = None
    pull_clear: Duration | None = None
    reverse_out_at: Flow | None = None
    stoppage: Duration | None = None  # one, allowed for


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
    clock: JobClock | None = None

    @model_validator(mode="after")
    def _one_top(self) -> CementJob:
        if self.planned_top is not None and self.above_liner_top is not None:
            raise refuse("both 'planned top' and 'above liner top'", "one of the two", "take one of them out")
        return self


class PressureTest(Section):
    """A planned pressure test."""

    name: Text
    kind: word("positive", "inflow") | None = None  # type: ignore[valid-type]
    surface_pressure: Pressure | None = None
    emw: Density | None = None
    above_fracture: Pressure | None = None
    differential: Pressure | None = None  # of an inflow test: across the lap, not the drop in hydrostatic
    light_fluid: Text | None = None
    light_fluid_to: Depth | None = None
    at: Text | None = None
    fluid: Text | None = None
    hold: Duration | None = None
    remark: Text | None = None


class Friction(Section):
    """Friction factors of the string against casing and rock."""

    cased: Ratio | None = None
    open_hole: Ratio | None = None


class RunningSpeed(Section):
    """How fast the liner may be run at most: shoe in casing, shoe in open hole."""

    cased: Speed | None = None
    open_hole: Speed | None = None


class Installation(Section):
    """Pressures, weights and tests of the job."""

    seat: word("landing collar", "running tool") | None = None  # type: ignore[valid-type]
    running_tool_seat: BallSeat | None = None
    circulate_up_to: Pressure | None = None
    tool_releases_at: Pressure | None = None
    tool_releases_by: word("pressure", "turning") | None = None  # type: ignore[valid-type]
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
    running_speed: RunningSpeed | None = None
    tests: list[PressureTest] | None = None

    @model_validator(mode="after")
    def _named_apart(self) -> Installation:
        names = [test.name for test in self.tests or []]
        twice = next((name for n, name in enumerate(names) if name in names[:n]), None)
        if twice is not None:
            raise refuse(f"test '{twice}' twice", "each by a name of its own", "name one of the two anew")
        return self


class LimitsHead(Section):
    """Whose limits the checks use, and single limits changed here."""

    profile: word(*PROFILES) = "common practice"  # type: ignore[valid-type]
    set_by: Text | None = None

    def changed(self) -> dict[str, Written]:
        """The single limits that this file changes, by their name."""
        spelled = {name.replace("-", " "): name for name in DIMENSIONS}
        return {
            spelled[name.replace("_", " ")]: value
            for name in self.model_fields_set
            if isinstance(value := getattr(self, name), Written)
        }


# one key for each limit of any profile
Limits: type[LimitsHead] = create_model(  # type: ignore[call-overload]
    "Limits",
    __base__=LimitsHead,
    **{
        name.replace(" ", "_").replace("-", "_"): (limit_type(dimension) | None, None)
        for name, dimension in DIMENSIONS.items()
    },
)


class Waiver(Section):
    """A warning accepted by a named person, for a reason."""

    rule: Text
    subject: Text | None = None
    by: Text
    reason: Text
    date: Day | None = None


class Option(Section):
    """An alternative: a name, what it takes out, and what it changes, path by path."""

    name: Text
    without: list[Text] | None = None
    change: dict[str, Any] | None = None

    @model_validator(mode="after")
    def _something(self) -> Option:
        if not self.without and not self.change:
            raise refuse(
                "nothing that differs", "'change', 'without' or both", "write e.g. change: {liner.lap: 150 m}"
            )
        return self


MEASURED_LOADS = ("hook load picking up", "hook load slacking off", "hook load rotating")


class Measurement(Section):
    """What was measured on the job; a hook load, block included, reads as a force at a depth of the shoe."""

    step: Text
    what: Text
    at: Depth | None = None
    value: Text
    by: Text | None = None
    date: Day | None = None
    remark: Text | None = None
    planned_shoe: Depth | None = None  # of the plan that it was read for, where the liner was replanned since

    @model_validator(mode="after")
    def _hook_load(self) -> Measurement:
        if self.what.strip().lower() not in MEASURED_LOADS:
            return self
        try:
            parse(self.value, "force")
        except UnitError as error:
            raise refuse(f"value: {error.found}", error.accepted, error.mend) from None
        if self.at is None:
            raise refuse("a hook load without its depth", "'at', the depth of the shoe", "write 'at'")
        return self
