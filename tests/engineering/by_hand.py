"""The demo wells read without the product: plain YAML, plain numbers, diameters as functions of depth.

Nothing of ``schematic`` is imported here: what is integrated from this module is independent of the engine.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import yaml

WELLS = Path(__file__).parents[2] / "wells"
UNITS = {"ft": 0.3048, "in": 0.0254, "m": 1.0, "mm": 0.001}

# ID and OD of the pipes that the two wells name, in inches: API 5CT and API 5DP tables.
PIPES = {
    "20 in 94 lb/ft": (20.0, 19.124),
    "13 3/8 in 68 lb/ft": (13.375, 12.415),
    "13 3/8 in 72 lb/ft": (13.375, 12.347),
    "9 5/8 in 47 lb/ft": (9.625, 8.681),
    "9 5/8 in 53.5 lb/ft": (9.625, 8.535),
    "7 in 29 lb/ft": (7.0, 6.184),
    "30 in wall 1 in": (30.0, 28.0),
    "5 in 19.5 lb/ft": (5.0, 4.276),
}


def si(text: str) -> float:
    """A length in metres from 'number unit' with trade fractions."""
    match = re.fullmatch(r"(?:(\d+) )?(\d+/\d+|\d+(?:\.\d+)?) (ft|in|mm|m)", text)
    assert match, text
    return (int(match[1] or 0) + float(Fraction(match[2]))) * UNITS[match[3]]


def pipe(text: str) -> tuple[float, float]:
    """OD and ID of a pipe by the beginning of its name, in metres."""
    od, bore = next(sizes for name, sizes in PIPES.items() if text.startswith(name))
    return od * 0.0254, bore * 0.0254


def area(diameter_m: float) -> float:
    """Area of a circle."""
    return math.pi / 4.0 * diameter_m**2


class ByHand:
    """One demo well: depths and areas as plain numbers and functions."""

    def __init__(self, name: str) -> None:
        data: dict[str, Any] = yaml.load((WELLS / name).read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
        self.data = data
        liner, strings = data["liner"], data["strings"]
        self.td = si(data["hole"][-1]["to"])
        host = next(s for s in strings if s["name"] == liner["host"])
        self.host_shoe = si(host["shoe"])
        self.host_id = pipe(host["pipe"])[1]
        self.top = self.host_shoe - si(liner["lap"])
        self.shoe = self.td - si(liner["off bottom"])
        self.liner_od, self.liner_id = pipe(liner["pipe"])
        self.planned_top = si(data["cement"]["planned top"])
        self.excess = float(data["cement"]["excess"]["open hole"].removesuffix(" %")) / 100.0
        self.parts = self._liner_parts(liner["assembly"])
        self.collar_top = next(p[0] for p in self.parts if p[4] == "landing collar")
        self.running = self._running(data["running string"]["assembly"])
        self.plug = self.running[0][1]

    def _liner_parts(self, lines: list[dict[str, str]]) -> list[tuple[float, float, float, float, str]]:
        known = sum(si(line["length"]) for line in lines if "fill" not in line)
        bottom, parts = self.shoe, []
        for line in lines:
            length = self.shoe - self.top - known if "fill" in line else si(line["length"])
            od = si(line["od"]) if "od" in line else self.liner_od
            bore = si(line["id"]) if "id" in line else si(line["bore"]) if "bore" in line else self.liner_id
            parts.append((bottom - length, bottom, od, bore, line["part"]))
            bottom -= length
        assert abs(bottom - self.top) < 1e-6
        return parts

    def _running(self, lines: list[dict[str, Any]]) -> list[tuple[float, float, float, float, float, float]]:
        """Top, bottom, inside area, outside area of each line; hanging ones below the liner top."""
        made, bottom = [], self.top + sum(si(li["length"]) for li in lines if li["part"] == "inner string")
        for line in lines:
            if "length" not in line:
                continue
            od, bore = (si(line["od"]), si(line["id"])) if "od" in line else pipe(line["pipe"])
            inside, outside = area(bore), area(od)
            if "tool joint" in line:
                share = si(line["tool joint"]["length"]) / si(line["joint length"])
                inside = (1 - share) * inside + share * area(si(line["tool joint"]["id"]))
                outside = (1 - share) * outside + share * area(si(line["tool joint"]["od"]))
            length = si(line["length"])
            made.append((bottom - length, bottom, inside, outside, bore, od))
            bottom -= length
        return made

    def hole(self, md: float) -> float:
        """Diameter of the open hole at a depth."""
        last = self.data["hole"][-1]
        for step in last["caliper"]:
            if md <= si(step["to"]):
                return si(step["diameter"])
        raise AssertionError(md)

    def liner_outside(self, md: float) -> float:
        """Area of the liner's outer circle at a depth."""
        return next(area(od) for top, bottom, od, _bore, _kind in self.parts if top <= md <= bottom)

    def liner_inside(self, md: float) -> float:
        """Area of the liner's bore at a depth."""
        return next(area(bore) for top, bottom, _od, bore, _kind in self.parts if top <= md <= bottom)

    def running_outside(self, md: float) -> float:
        """Area of the running string's outer circle at a depth, tool joints by their share."""
        return next(line[3] for line in self.running if line[0] <= md <= line[1])

    def running_inside(self, md: float) -> float:
        """Area of the running string's bore at a depth."""
        return next(line[2] for line in self.running if line[0] <= md <= line[1])

    def edges(self, low: float, high: float) -> list[float]:
        """All depths between two others where an area may jump."""
        jumps = [e for part in (*self.parts, *self.running) for e in part[:2]]
        jumps += [si(step["to"]) for step in self.data["hole"][-1]["caliper"]] + [self.host_shoe]
        return [low, *sorted({e for e in jumps if low + 1e-9 < e < high - 1e-9}), high]


Area = Callable[[float], float]
