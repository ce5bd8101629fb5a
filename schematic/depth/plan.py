"""The plan: every depth, diameter and material of the well in SI floats, frozen, nothing left to work out.

Depths are measured depths from the datum, positive downward, unless the name says TVD. ``None`` means that
the file does not say; nothing is guessed. Parts and strings are ordered from the top down.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from schematic.depth.by_depth import ByDepth
from schematic.depth.survey import SurveyPath
from schematic.outcome import Limit
from schematic.units import System


class Datum(NamedTuple):
    """Where depths are counted from."""

    name: str  # "rotary table"
    above: str  # "mean sea level"
    height_m: float | None
    ground_md_m: float | None  # ground or seabed below the datum
    water_depth_m: float | None


CHANGED = "CHANGED since"


class Revision(NamedTuple):
    """Which issue of the plan this is."""

    number: str
    date: str
    by: str
    note: str
    checked_by: str  # nobody where the well was changed since
    approved_by: str
    changed: bool | None = None  # since it was issued; None where the file does not say what was issued

    @property
    def issue(self) -> str:
        """Number and date; after a change the number and that the well is another one since."""
        return f"{self.number} of {self.date}" if self.date and not self.changed else self.named

    @property
    def named(self) -> str:
        """The number, and whether the well is another one since."""
        return f"{self.number}, {CHANGED}" if self.changed else self.number


class Identity(NamedTuple):
    """What the sheet's head and title block say."""

    name: str
    purpose: str
    field: str
    rig: str
    system: System
    state: str  # "planned", "replanned" or "as run"
    datum: Datum
    revision: Revision | None
    earlier: tuple[Revision, ...]  # revisions before this one, the latest first
    file: str
    file_hash: str  # of the text and of the files beside it: eight hexadecimal digits
    content_hash: str  # of what a revision issues, however it is written; see Workings.content_hash

    @property
    def standing(self) -> str:
        """The state, and of a plan with its liner elsewhere that nobody approved it."""
        approved = self.revision is not None and self.revision.approved_by
        return f"{self.state}, not approved" if self.state == "replanned" and not approved else self.state


_ONE_PLACE_M = 0.01  # depths of a shoe that differ by less are one: a hundredth of a foot and rounding
_NO_HOLE_M = 0.01  # float arithmetic on depths: common practice


class HoleSection(NamedTuple):
    """Hole drilled by one bit."""

    path: str
    bit_m: float
    size_m: float  # the bit, or what it was under-reamed to
    top_md_m: float
    bottom_md_m: float
    basis: str  # "gauge", "washout" or "caliper"
    logged_to_md_m: float | None
    washout: str = ""  # as the file states it: "2 % washout on diameter"


class Hole(NamedTuple):
    """All drilled hole: as bit or reamer left it, and as wide as it is taken to be."""

    sections: tuple[HoleSection, ...]
    diameter_m: ByDepth
    least_m: ByDepth
    greatest_m: ByDepth
    gauge_m: ByDepth
    proven_m: ByDepth  # what is proven to pass: the bit size, or less where a caliper found less
    gaps_md_m: tuple[tuple[float, float], ...]  # where a caliper says nothing and the bit size stands in

    def passes_m(self, top_md_m: float, bottom_md_m: float) -> float | None:
        """What is proven to pass between two depths; None where there is no hole.

        An average washout proves nothing. Less than a centimetre of hole at an end is a depth written in
        another unit, not hole.
        """
        low, high = top_md_m + _NO_HOLE_M, bottom_md_m - _NO_HOLE_M
        inside = (value for top, bottom, value in self.proven_m.steps() if top < high and bottom > low)
        return min(inside, default=None)


class Feature(NamedTuple):
    """A stretch of a string where nothing may grip or seal."""

    what: str
    top_md_m: float
    bottom_md_m: float


class CasingString(NamedTuple):
    """A string that is already in the well."""

    path: str
    name: str
    label: str  # "9 5/8 in 47 lb/ft L-80"
    connection: str
    grade: str
    od_m: float
    id_m: float
    drift_m: float | None
    special_drift_m: float | None
    special_drift_certificate: str
    coupling_od_m: float | None
    weight_kg_per_m: float | None
    top_md_m: float
    shoe_md_m: float
    driven: bool
    cement_top_md_m: float | None
    cement_known_by: str
    couplings_md_m: tuple[float, ...]
    couplings_located_by: str
    couplings_corrected: bool
    features: tuple[Feature, ...] | None
    wall_left: float | None
    tested_pa: float | None = None  # to what its last pressure test was taken, at surface

    @property
    def passes_m(self) -> float | None:
        """The diameter that is known to pass: the table's drift, or a larger one that has a certificate."""
        if self.special_drift_m is not None and self.special_drift_certificate:
            return self.special_drift_m
        return self.drift_m


class ListedJoint(NamedTuple):
    """One joint as a tally lists it: its number, "" where it has none, and its length."""

    number: str
    length_m: float


class LinerPart(NamedTuple):
    """One line of the liner's tally. *id_m* is the least bore that the file gives for it."""

    path: str
    kind: str
    name: str
    top_md_m: float
    bottom_md_m: float
    od_m: float | None
    id_m: float | None
    coupling_od_m: float | None
    drift_m: float | None
    weight_kg_per_m: float | None
    joints: int  # how many, in this line
    rest_m: float  # what a filled line needs beside whole joints
    length_assumed: bool
    valves: int
    hold_down: bool
    seal_bore_m: float | None
    ball_m: float | None
    seat_m: float | None
    slips_md_m: tuple[float, float] | None
    rigid: bool
    drillable: bool | None
    hanger_type: str  # "hydraulic", "mechanical", "expandable"; "" where the file does not say
    rotating: bool
    pressure_rating_pa: float | None
    bore_rating_pa: float | None
    back_pressure_rating_pa: float | None
    bump_rating_pa: float | None
    listed: tuple[
        ListedJoint, ...
    ] = ()  # its joints from the bottom up, where a tally beside the file lists them

    @property
    def length_m(self) -> float:
        """Length along hole."""
        return self.bottom_md_m - self.top_md_m


class Rack(NamedTuple):
    """Joints that were on the rack, are left, were rejected."""

    joints: int
    left: int
    rejected: int


class Later(NamedTuple):
    """What comes to the liner after it: bit, tie-back seal, tail pipe. None: the file does not say."""

    next_bit_m: float | None
    seal_od_m: float | None
    seal_travel_m: float | None
    tail_pipe_md_m: float | None
    tail_pipe_stabbed: bool


class Liner(NamedTuple):
    """The liner in its place. *top_md_m* and *shoe_md_m* are what the plan says; the parts are stacked from
    the shoe up, so that a tally which does not close shows itself.
    """

    name: str
    label: str
    connection: str
    grade: str
    host: str
    od_m: float
    id_m: float
    drift_m: float | None
    coupling_od_m: float | None
    weight_kg_per_m: float | None
    top_md_m: float
    shoe_md_m: float
    parts: tuple[LinerPart, ...]
    assembly_assumed: bool
    closes_by: str  # the line that fills the length; "" where every length is written
    permitted_shoe_tvd_m: float | None
    rack: Rack | None
    lengths: str  # "made up", "overall" or "" where the file does not say
    pups_m: tuple[float, ...] | None
    later: Later

    def find(self, kind: str) -> LinerPart | None:
        """The lowest part of a kind."""
        return next((part for part in reversed(self.parts) if part.kind == kind), None)

    @property
    def shoe_track_top_md_m(self) -> float | None:
        """Where the wiper plug stops: the top of the landing collar, else of the float collar."""
        part = self.find("landing collar") or self.find("float collar")
        return part.top_md_m if part else None


JOINTED = ("drill pipe", "heavy-weight drill pipe")  # pipe that is never without tool joints


class RunningPart(NamedTuple):
    """One line of the running string with the liner at depth; *tool_joint_share* of its length is thick."""

    path: str
    kind: str
    name: str
    label: str
    top_md_m: float
    bottom_md_m: float
    od_m: float | None
    id_m: float | None
    tool_joint_od_m: float | None
    tool_joint_id_m: float | None
    tool_joint_share: float
    weight_kg_per_m: float | None
    grade: str
    joint_length_m: float | None
    travel_m: float | None
    load_rating_n: float | None
    pressure_rating_pa: float | None
    core_m: float | None  # of a wiper plug: what is rigid, its fins
    fins_m: float | None

    @property
    def length_m(self) -> float:
        """Length along hole."""
        return self.bottom_md_m - self.top_md_m


class RunningString(NamedTuple):
    """The string that carries the liner, at depth. The part above the rotary has negative depths."""

    parts: tuple[RunningPart, ...]
    stick_up_m: float
    above_liner_top_m: float  # sum of the parts above the liner top
    foot_md_m: float  # the lowest end: of the plug, of the inner string, or the liner top
    plug_md_m: float | None
    ball_m: float | None
    closes_by: str  # what was derived so that it meets the liner top; "" where both are written
    dart_core_m: float | None
    dart_fins_m: float | None
    stand_m: float | None


class Fluid(NamedTuple):
    """A fluid of the job."""

    name: str
    kind: str
    density_kg_per_m3: float
    plastic_viscosity_pa_s: float | None
    yield_point_pa: float | None
    volume_m3: float | None
    yield_m3_per_kg: float | None
    mix_water_m3_per_kg: float | None
    thickening_time_s: float | None
    base: str
    compressibility_per_pa: float | None
    silica: float | None  # by weight of cement, as the next
    additives: float | None
    largest_solids_m: float | None


class PressurePoint(NamedTuple):
    """Pore and fracture pressure at a depth, as equivalent mud weight."""

    md_m: float
    tvd_m: float
    pore_kg_per_m3: float | None
    fracture_kg_per_m3: float | None


class LeakOff(NamedTuple):
    """A leak-off or integrity test at the shoe of a string."""

    string: str
    kind: str
    md_m: float
    emw_kg_per_m3: float | None
    surface_pressure_pa: float | None
    mud_kg_per_m3: float | None


class Top(NamedTuple):
    """The top of a rock unit."""

    name: str
    md_m: float
    base_md_m: float | None
    rock: str
    fluid: str
    pore_kg_per_m3: float | None
    cover: bool
    gradient_pa_per_m: tuple[float, float, float] | None  # of the fluid in it: likely, low, high


class Formation(NamedTuple):
    """The rock outside."""

    pressures: tuple[PressurePoint, ...]
    leak_off: tuple[LeakOff, ...]
    tops: tuple[Top, ...]
    static_temperature_k: float | None
    circulating_temperature_k: float | None
    surface_temperature_k: float | None


class Slurry(NamedTuple):
    """A slurry and the measured depths between which it is to stand outside the liner."""

    fluid: str
    top_md_m: float | None  # None: up to the top of cement
    bottom_md_m: float | None  # None: down to the bottom of the hole


class PumpingStep(NamedTuple):
    """One line of the pumping schedule. *volume_m3* None: what the plan makes of it."""

    fluid: str
    volume_m3: float | None
    rate_m3_per_s: float | None
    pause_s: float | None  # after it
    remark: str


class JobClock(NamedTuple):
    """What takes time beside pumping."""

    mix_s: float | None
    set_packer_s: float | None
    pull_clear_s: float | None
    reverse_m3_per_s: float | None
    stoppage_s: float | None


class CementPlan(NamedTuple):
    """How much cement, of what, to where."""

    planned_top_md_m: float | None
    open_hole_excess: float | None
    lap_excess: float
    own_excess: tuple[tuple[float, float, float], ...]  # top, bottom and share of stretches of their own
    excess_basis: str
    slurries: tuple[Slurry, ...]
    spacer: str
    stroke_m3: float | None  # delivered by one stroke, efficiency counted
    pump_efficiency: tuple[float, float, float] | None  # likely, low, high
    over_displacement_m3: float | None
    schedule: tuple[PumpingStep, ...]
    clock: JobClock


class TestPlan(NamedTuple):
    """A planned pressure test."""

    name: str
    kind: str  # "positive", "inflow" or ""
    surface_pressure_pa: float | None
    emw_kg_per_m3: float | None
    above_fracture_pa: float | None
    light_fluid: str
    light_fluid_to_md_m: float | None
    at: str
    fluid: str
    hold_s: float | None
    remark: str
    differential_pa: float | None = None  # of an inflow test: to be put across the lap


class PartPressure(NamedTuple):
    """The pressure at which a part of the liner, other than its hanger, moves: nominal, low, high."""

    name: str
    does: str  # "sets" or "opens"
    pressure_pa: tuple[float, float, float]


class JobPlan(NamedTuple):
    """Pressures and weights of the installation, each as nominal, low, high where given."""

    seat: str | None  # "landing collar" or "running tool": where the ball stops
    ball_m: float | None
    seat_m: float | None
    circulate_up_to_pa: float | None
    hanger_sets_pa: tuple[float, float, float] | None
    hanger_held_pa: float | None
    parts: tuple[PartPressure, ...]  # external packers and stage collars, from the bottom up
    tool_releases_pa: tuple[float, float, float] | None
    tool_turned: bool  # released by turning, not by pressure
    seat_shears_pa: tuple[float, float, float] | None
    plug_releases_pa: tuple[float, float, float] | None
    final_pressure_pa: float | None
    bump_over_final_pa: float | None
    packer_set_down_n: float | None
    set_down_on_tool_n: float | None
    block_weight_n: float | None
    hanger_rating_n: float | None
    dogleg_limit_rad_per_m: float | None
    tests: tuple[TestPlan, ...]
    slack_off_limit_n: float | None
    hook_load_limit_n: float | None
    surface_pressure_limit_pa: float | None
    torque_limit_nm: float | None
    friction: tuple[float, float] | None  # in casing, in open hole
    tool_seat_m: float | None  # seat of the running tool, also where the ball stops in the landing collar
    running_speed_m_per_s: tuple[float | None, float | None]  # at most: shoe in casing, shoe in open hole


class EnteredTvd(NamedTuple):
    """A TVD that the file states beside a measured depth; *offset_m* is what was added to come from sea
    level to the datum.
    """

    path: str
    name: str
    md_m: float
    entered_tvd_m: float
    offset_m: float


class Derivation(NamedTuple):
    """How a value came about: a formula in words and the paths of what went in."""

    path: str
    si: float
    kind: str
    how: str
    inputs: tuple[tuple[str, float, str], ...]  # path or name, SI value, kind


class Misfit(NamedTuple):
    """A depth that the file fixes twice with different results."""

    path: str
    name: str
    first_how: str
    first_md_m: float
    second_how: str
    second_md_m: float


class Measured(NamedTuple):
    """One line of the record, as it was written."""

    step: str
    what: str
    at_md_m: float | None
    value: str
    by: str
    date: str
    remark: str
    planned_shoe_md_m: float | None = None  # of the plan that it was read for, where the liner was replanned


class Waiver(NamedTuple):
    """A warning accepted by a named person."""

    rule: str
    subject: str
    by: str
    reason: str


@dataclass(frozen=True, slots=True)
class Depths:
    """Where everything is."""

    path: SurveyPath
    survey_given: bool
    td_md_m: float
    hole: Hole
    strings: tuple[CasingString, ...]
    liner: Liner
    running: RunningString | None
    entered_tvds: tuple[EnteredTvd, ...]

    @property
    def host(self) -> CasingString:
        """The string in which the liner hangs."""
        return self.string(self.liner.host)

    def string(self, name: str) -> CasingString:
        """A string by its name."""
        return next(string for string in self.strings if string.name == name)


@dataclass(frozen=True, slots=True)
class Plan:
    """One well, worked out. All else is a pure function of it."""

    identity: Identity
    depth: Depths
    fluids: tuple[Fluid, ...]
    formation: Formation
    cement: CementPlan
    job: JobPlan
    limits: dict[str, Limit]
    waived: tuple[Waiver, ...]
    derivations: tuple[Derivation, ...]
    misfits: tuple[Misfit, ...]
    record: tuple[Measured, ...]
    assumptions: tuple[str, ...]

    def fluid(self, kind: str) -> Fluid | None:
        """The first fluid of a kind."""
        return next((fluid for fluid in self.fluids if fluid.kind == kind), None)

    def was_elsewhere(self, line: Measured) -> bool:
        """Whether a reading is that of a plan with the liner at another depth."""
        shoe = line.planned_shoe_md_m
        return shoe is not None and abs(shoe - self.depth.liner.shoe_md_m) > _ONE_PLACE_M
