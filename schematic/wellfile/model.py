"""What a person writes in a well file: one model per section, every physical value with its own text.

Keys in the file are the trade's words with spaces (``off bottom``); the attribute is the same word with
underscores. Nothing after ``resolve`` reads these models.
"""

from __future__ import annotations

from pydantic import Field

from schematic.wellfile.fields import Text, word
from schematic.wellfile.model_job import (
    CementJob,
    Excess,
    ExcessInterval,
    Fluid,
    Formation,
    Friction,
    Installation,
    JobClock,
    LeakOff,
    Limits,
    Measurement,
    Option,
    PressurePoint,
    PressureTest,
    Pump,
    PumpingStep,
    RunningPart,
    RunningSpeed,
    RunningString,
    SlurryPlace,
    Temperatures,
    ToolJoint,
    Top,
    Waiver,
)
from schematic.wellfile.model_well import (
    BallSeat,
    CaliperFile,
    CaliperStep,
    CasingString,
    CementBehind,
    Couplings,
    Datum,
    HoleSection,
    Liner,
    LinerPart,
    Revision,
    Slips,
    SpecialDrift,
    Station,
    Survey,
    TableFile,
    Washout,
    Well,
)
from schematic.wellfile.section import PipeSizes, Section

__all__ = [
    "BallSeat",
    "CaliperFile",
    "CaliperStep",
    "CasingString",
    "CementBehind",
    "CementJob",
    "Couplings",
    "Datum",
    "Excess",
    "ExcessInterval",
    "Fluid",
    "Formation",
    "Friction",
    "HoleSection",
    "Installation",
    "JobClock",
    "LeakOff",
    "Limits",
    "Liner",
    "LinerPart",
    "Measurement",
    "Option",
    "PipeSizes",
    "PressurePoint",
    "PressureTest",
    "Pump",
    "PumpingStep",
    "Revision",
    "RunningPart",
    "RunningSpeed",
    "RunningString",
    "Section",
    "Slips",
    "SlurryPlace",
    "SpecialDrift",
    "Station",
    "Survey",
    "TableFile",
    "Temperatures",
    "ToolJoint",
    "Top",
    "Waiver",
    "Washout",
    "Well",
    "WellFile",
]


class WellFile(Section):
    """A whole well file."""

    lapline: word("1")  # type: ignore[valid-type]
    well: Well
    survey: Survey | None = None
    hole: list[HoleSection] = Field(min_length=1)
    strings: list[CasingString] = Field(min_length=1)
    liner: Liner
    running_string: RunningString | None = None
    fluids: dict[Text, Fluid] | None = None
    formation: Formation | None = None
    cement: CementJob | None = None
    installation: Installation | None = None
    limits: Limits | None = None  # type: ignore[valid-type]
    waived: list[Waiver] | None = None
    options: list[Option] | None = None
    record: list[Measurement] | None = None
