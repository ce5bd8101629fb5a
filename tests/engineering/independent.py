"""A second, independent working of a demo well: diameters as functions of depth, volumes by quadrature.

It reads the well file by itself and shares no code with the tool: numbers, depths, what stands in what and
every integral are worked here anew, in SI. Diameters of catalogue pipe are typed from handbook tables of
API 5CT and 5DP pipe (from memory; held against other tables in tests/published).
"""

import math
import re
from fractions import Fraction
from itertools import pairwise

import yaml
from scipy.integrate import quad
from scipy.optimize import brentq

IN, FT = 0.0254, 0.3048
BORES_IN = {  # size and weight as the demo wells name them: OD and bore, in inches
    "20 in 94": (20.0, 19.124),
    "13 3/8 in 68": (13.375, 12.415),
    "13 3/8 in 72": (13.375, 12.347),
    "9 5/8 in 47": (9.625, 8.681),
    "9 5/8 in 53.5": (9.625, 8.535),
    "7 in 29": (7.0, 6.184),
    "30 in wall": (30.0, 28.0),  # wall 1 in
    "5 in 19.5": (5.0, 4.276),
    "5 in 49.3": (
        5.0,
        3.0,
    ),  # heavy-weight; its tool joints have no written length and count for passage alone
}
UNITS = {"ft": FT, "in": IN, "m": 1.0, "mm": 0.001, "%": 0.01, "": 1.0}


def si(text):
    """A length or a share in SI; whole numbers, decimals and fractions."""
    number, unit = re.fullmatch(r"([\d ./]+?)\s*([a-z%]*)", str(text).strip()).groups()
    return float(sum(Fraction(piece) for piece in number.split())) * UNITS[unit]


def pipe(text):
    """OD and bore of pipe of the catalogue, in m."""
    od, bore = next(sizes for name, sizes in BORES_IN.items() if text.startswith(name))
    return od * IN, bore * IN


class Tube:
    """Stretches of (top, bottom, outside area, inside area)."""

    def __init__(self, name, stretches):
        self.name = name
        self.stretches = [row for row in stretches if row[1] > row[0]]
        self.top = min(row[0] for row in self.stretches)
        self.bottom = max(row[1] for row in self.stretches)

    def _at(self, z, column):
        return next(row[column] for row in self.stretches if row[0] <= z < row[1])

    def outside(self, z):
        """Area of the outer circle at a depth."""
        return self._at(z, 2)

    def inside(self, z):
        """Area of the bore at a depth."""
        return self._at(z, 3)


def circle(diameter):
    return math.pi * (diameter / 2.0) ** 2


class Well:
    """One demo well, worked from its text."""

    def __init__(self, text):
        self.file = yaml.safe_load(text)
        liner = self.file["liner"]
        self.td = si(self.file["hole"][-1]["to"])
        strings = self.file["strings"]
        self.host = next(s for s in strings if s["name"] == liner["host"])
        self.host_shoe = si(self.host["shoe"])
        self.top = self.host_shoe - si(liner["lap"])
        self.shoe = self.td - si(liner["off bottom"])
        self.casings = []
        for string in strings:
            od, bore = pipe(string["pipe"])
            self.casings.append(Tube(string["name"], [(0.0, si(string["shoe"]), circle(od), circle(bore))]))
        self.driven = {s["name"] for s in strings if s.get("driven")}
        self._drill_hole(self.file["hole"])
        self._make_up(liner)
        self._run(self.file["running string"])
        self.tubes = [self.string, self.liner, *sorted(self.casings, key=lambda t: t.outside(t.top))]

    def _drill_hole(self, sections):
        datum = self.file["well"]["datum"]
        ground = si(datum["height"]) - si(datum.get("ground height", "0 m"))
        if "water depth" in datum:
            ground = si(datum["height"]) + si(datum["water depth"])
        driven = [si(s["shoe"]) for s in self.file["strings"] if s.get("driven")]
        top = max([ground, *driven])
        self.hole_rows = []
        for section in sections:
            for step in section.get("caliper", [{"to": section["to"], "diameter": section["bit"]}]):
                self.hole_rows.append((top, si(step["to"]), circle(si(step["diameter"]))))
                top = si(step["to"])
        self.hole_top = self.hole_rows[0][0]

    def hole(self, z):
        """Area of the hole at a depth; None where there is none."""
        return next((row[2] for row in self.hole_rows if row[0] <= z < row[1]), None)

    def _make_up(self, liner):
        body_od, body_id = pipe(liner["pipe"])
        fixed = sum(si(p["length"]) for p in liner["assembly"] if "length" in p)
        rows, bottom, self.collar_top = [], self.shoe, None
        self.kinds = [part["part"] for part in liner["assembly"]]
        for part in liner["assembly"]:
            length = si(part["length"]) if "length" in part else self.shoe - self.top - fixed
            od = si(part.get("od", f"{body_od} m"))
            bore = si(part.get("id", part.get("bore", f"{body_id} m")))
            rows.append((bottom - length, bottom, circle(od), circle(bore)))
            bottom -= length
            if part["part"] == "landing collar":
                self.collar_top = bottom
        self.liner = Tube("liner", rows)

    def _run(self, running):
        rows = []
        up, down = self.top, self.top
        hanging = [p for p in running["assembly"] if p["part"] == "inner string"]
        carrying = [p for p in running["assembly"] if p["part"] not in ("inner string", "wiper plug")]
        for part in hanging:
            rows.append((down, down + si(part["length"]), circle(si(part["od"])), circle(si(part["id"]))))
            down += si(part["length"])
        self.plug = down
        for part in carrying:
            od, bore = pipe(part["pipe"]) if "pipe" in part else (si(part["od"]), si(part["id"]))
            outside, inside = circle(od), circle(bore)
            if "tool joint" in part:
                joint = part["tool joint"]
                share = si(joint["length"]) / si(part["joint length"])
                outside += share * (circle(si(joint["od"])) - outside)
                inside += share * (circle(si(joint["id"])) - inside)
            rows.append((up - si(part["length"]), up, outside, inside))
            up -= si(part["length"])
        self.string = Tube("running string", rows)

    def edges(self, top, bottom):
        """Every depth between two at which an area may change."""
        depths = {top, bottom}
        for tube in self.tubes:
            depths |= {row[k] for row in tube.stretches for k in (0, 1)}
        depths |= {row[k] for row in self.hole_rows for k in (0, 1)}
        return sorted(d for d in depths if top <= d <= bottom)

    def integral(self, function, top, bottom):
        """Quadrature between the depths at which areas change."""
        return math.fsum(quad(function, a, b, epsabs=1e-14)[0] for a, b in pairwise(self.edges(top, bottom)))

    def faces(self, z, string_in=True):
        """Pairs (inside, outside) of neighbours at a depth, with the area between them."""
        there = [t for t in self.tubes if t.top <= z < t.bottom and (string_in or t is not self.string)]
        pairs = []
        inner_name, inner_area = "", 0.0
        for tube in there:
            pairs.append((inner_name, tube.name, tube.inside(z) - inner_area))
            inner_name, inner_area = tube.name, tube.outside(z)
        rock = self.hole(z)
        if rock is not None and inner_name not in self.driven:
            pairs.append((inner_name, "hole", rock - inner_area))
        return pairs

    def between(self, inner, outer, top, bottom, string_in=True):
        """Volume of what lies between two neighbours, wherever they are neighbours."""

        def area(z):
            found = (a for one, other, a in self.faces(z, string_in) if (one, other) == (inner, outer))
            return next(found, 0.0)

        return self.integral(area, top, bottom)

    def outside_of(self, tube, top, bottom):
        """Volume around a tube, whatever it faces."""

        def area(z):
            return next(a for one, _other, a in self.faces(z) if one == tube.name)

        return self.integral(area, top, bottom)

    def bore_of(self, tube, top, bottom):
        """Volume of a tube's bore."""
        return self.integral(tube.inside, top, bottom)

    def rise(self, volume, foot, area):
        """The depth up to which *volume* fills above *foot*: the root of the quadrature."""
        return brentq(lambda top: self.integral(area, top, foot) - volume, 1.0, foot, xtol=1e-9)

    def slurries(self):
        """Slurries with the depths between which each stands, from the top down."""
        rows = self.file["cement"]["slurries"]
        tops = [si(self.file["cement"]["planned top"]), *(si(row["below"]) for row in rows[1:])]
        return [(row["fluid"], top) for row, top in zip(rows, tops, strict=True)]
