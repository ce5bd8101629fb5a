"""What the pipe tables hold: one frozen row per casing or drill pipe, in SI, read once from CSV.

The CSV files keep the inches and pounds per foot of their sources. A row's *status* is ``read``
where the dimensions were seen in the source, ``memory`` where they were recalled and wait for a
look at the page.
"""

import csv
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from math import pi
from pathlib import Path
from types import MappingProxyType
from typing import Literal

from schematic.units import FOOT_M, INCH_M, POUND_KG, inch_name

POUND_PER_FOOT_KG_PER_M = POUND_KG / FOOT_M
STEEL_KG_PER_M3 = 7850.0  # API 5CT / ISO 11960 mass formula: 0.0246615 (D - t) t kg/m in mm; from memory

BUTTRESS = "buttress"
ROUND_THREAD = "short or long round thread"
SPECIAL_CLEARANCE = "special clearance buttress"

Kind = Literal["drill pipe", "heavy-weight drill pipe"]


@dataclass(frozen=True, slots=True)
class CasingRow:
    """One size and weight of casing, or a conductor by its wall.

    *nominal_weight_kg_per_m* is the weight the pipe is called by, threads and couplings averaged
    in. *drift_m* is None where no standard gives one. *alternative_drift_m* is the larger drift to
    which the same pipe can be ordered. *coupling_od_m* is keyed by connection; None where none is
    listed.
    """

    name: str
    od_m: float
    nominal_weight_kg_per_m: float
    wall_m: float
    id_m: float
    drift_m: float | None
    alternative_drift_m: float | None
    coupling_od_m: Mapping[str, float | None] = field(hash=False)
    status: str
    source: str
    note: str

    @property
    def plain_end_weight_kg_per_m(self) -> float:
        """Weight of the pipe body alone.

        Source: API Spec 5CT / 5L mass formula, in field units 10.69 (D - t) t; from memory.
        """
        return pi * (self.od_m - self.wall_m) * self.wall_m * STEEL_KG_PER_M3


@dataclass(frozen=True, slots=True)
class DrillPipeRow:
    """One size and weight of drill pipe with its usual tool joint.

    *adjusted_weight_kg_per_m* has the tool joints averaged in. *grade* is None where the row holds
    for every grade; tool-joint fields are None where no standard tool joint is usual.
    """

    kind: Kind
    name: str
    od_m: float
    nominal_weight_kg_per_m: float
    wall_m: float
    id_m: float
    adjusted_weight_kg_per_m: float | None
    grade: str | None
    tool_joint: str | None
    tool_joint_od_m: float | None
    tool_joint_id_m: float | None
    status: str
    source: str
    note: str

    @property
    def metal_displacement_m3_per_m(self) -> float | None:
        """Mud that the steel pushes aside, tool joints averaged in; None without their weight."""
        if self.adjusted_weight_kg_per_m is None:
            return None
        return self.adjusted_weight_kg_per_m / STEEL_KG_PER_M3


def size_name(od_m: float) -> str:
    """Size as the trade says it: ``9 5/8 in``."""
    return f"{inch_name(od_m) or format(od_m / INCH_M, 'g')} in"


@cache
def casing_rows() -> tuple[CasingRow, ...]:
    """All casing, from the smallest OD and lightest weight up."""
    return tuple(_casing_row(record) for record in _records("casing.csv"))


@cache
def drill_pipe_rows() -> tuple[DrillPipeRow, ...]:
    """All drill pipe, then all heavy-weight drill pipe, each from the smallest up."""
    return tuple(_drill_pipe_row(record) for record in _records("drillpipe.csv"))


def _records(file_name: str) -> list[dict[str, str]]:
    with Path(__file__).with_name(file_name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def _m(inches: str) -> float | None:
    return float(inches) * INCH_M if inches else None


def _casing_row(record: Mapping[str, str]) -> CasingRow:
    od_m = float(record["od_in"]) * INCH_M
    wall_in = float(record["wall_in"])
    weight_lb_per_ft = float(record["nominal_weight_lb_per_ft"])
    # without a drift it is no 5CT casing: plain pipe goes by its wall, its weight is no name
    called = f"{weight_lb_per_ft:g} lb/ft" if record["drift_in"] else f"wall {wall_in:g} in"
    return CasingRow(
        name=f"{size_name(od_m)} {called}",
        od_m=od_m,
        nominal_weight_kg_per_m=weight_lb_per_ft * POUND_PER_FOOT_KG_PER_M,
        wall_m=wall_in * INCH_M,
        id_m=float(record["id_in"]) * INCH_M,
        drift_m=_m(record["drift_in"]),
        alternative_drift_m=_m(record["alternative_drift_in"]),
        coupling_od_m=MappingProxyType({
            BUTTRESS: _m(record["buttress_coupling_od_in"]),
            ROUND_THREAD: _m(record["round_thread_coupling_od_in"]),
            SPECIAL_CLEARANCE: _m(record["special_clearance_coupling_od_in"]),
        }),
        status=record["status"],
        source=record["source"],
        note=record["note"],
    )  # fmt: skip


def _drill_pipe_row(record: Mapping[str, str]) -> DrillPipeRow:
    od_m = float(record["od_in"]) * INCH_M
    weight_lb_per_ft = float(record["nominal_weight_lb_per_ft"])
    adjusted = record["adjusted_weight_lb_per_ft"]
    heavy = record["kind"] == "heavy-weight drill pipe"
    parts = [
        size_name(od_m),
        "HWDP" if heavy else "",
        f"{weight_lb_per_ft:g} lb/ft",
        record["grade"],
        record["tool_joint"],
    ]
    return DrillPipeRow(
        kind="heavy-weight drill pipe" if heavy else "drill pipe",
        name=" ".join(part for part in parts if part),
        od_m=od_m,
        nominal_weight_kg_per_m=weight_lb_per_ft * POUND_PER_FOOT_KG_PER_M,
        wall_m=float(record["wall_in"]) * INCH_M,
        id_m=float(record["id_in"]) * INCH_M,
        adjusted_weight_kg_per_m=float(adjusted) * POUND_PER_FOOT_KG_PER_M if adjusted else None,
        grade=record["grade"] or None,
        tool_joint=record["tool_joint"] or None,
        tool_joint_od_m=_m(record["tool_joint_od_in"]),
        tool_joint_id_m=_m(record["tool_joint_id_in"]),
        status=record["status"],
        source=record["source"],
        note=record["note"],
    )
