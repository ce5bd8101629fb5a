"""What the pipes of a plan bear by the API formulas: burst, collapse and tension of pipe body.

Of nominal size and the least yield strength of the grade. Not in it: connections, bending, heat. Drill pipe
is taken as new, for the file does not say its class: used pipe has less wall. Of wear only the wall left that
the file gives for a string in place. A grade that is not known makes the strength unknown.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.catalogue.grades import minimum_yield_pa
from schematic.catalogue.ratings import LEAST_YIELD_PA, ratings, reduced_yield_pa
from schematic.catalogue.ratings import collapse as collapse_of
from schematic.depth.nest import circle_m2
from schematic.depth.plan import CasingString, Liner, Plan, RunningPart
from schematic.engineering.at_rest import difference_pa
from schematic.engineering.columns import Layer
from schematic.engineering.hanging import liner_pieces
from schematic.engineering.train import Place
from schematic.engineering.wall import around, spans
from schematic.outcome import MissingInput


class Strength(NamedTuple):
    """What a pipe body bears: burst and collapse without axial load in Pa, body yield in N."""

    name: str
    od_m: float
    wall_m: float
    yield_pa: float
    burst_pa: float
    collapse_pa: float
    body_yield_n: float

    @property
    def steel_m2(self) -> float:
        """Steel area of the body."""
        return circle_m2(self.od_m) - circle_m2(self.od_m - 2.0 * self.wall_m)

    def collapse_under_pa(self, tension_n: float) -> float:
        """Collapse pressure under an axial tension in N; compression counts as none (API TR 5C3).

        Nought where so little yield strength is left that the formulas no longer hold (20 ksi).
        """
        stress = max(tension_n, 0.0) / self.steel_m2
        if stress >= self.yield_pa or reduced_yield_pa(self.yield_pa, stress) < LEAST_YIELD_PA:
            return 0.0
        return collapse_of(self.od_m, self.wall_m, self.yield_pa, stress).pressure_pa


def liner_strength(liner: Liner) -> Strength:
    """The liner's pipe; raises MissingInput without a known grade.

    Joints of another pipe have a grade that the plan does not carry: see `other_pipe`.
    """
    return _strength(liner.name, liner.od_m, liner.id_m, liner.grade, "liner.pipe, its grade")


def other_pipe(liner: Liner) -> tuple[str, ...]:
    """The joints of a liner that are of another size than its pipe: what they bear is not known."""
    own = (liner.od_m, liner.id_m)
    return tuple(
        dict.fromkeys(
            f"{part.name} of another pipe"
            for part in liner.parts
            if part.kind in ("joint", "pup joint")
            and any(
                size is not None and not math.isclose(size, pipe, rel_tol=1e-6)
                for size, pipe in zip((part.od_m, part.id_m), own, strict=True)
            )
        )
    )


def casing_strength(string: CasingString) -> Strength:
    """A string that is in the well, with the wall that the file says is left; raises MissingInput."""
    left = string.wall_left if string.wall_left is not None else 1.0
    bore = string.od_m - left * (string.od_m - string.id_m)
    return _strength(string.name, string.od_m, bore, string.grade, f"{string.path}.pipe, its grade")


def pipe_strength(part: RunningPart) -> Strength:
    """A pipe of the running string, as if new; raises MissingInput."""
    if part.od_m is None or part.id_m is None:
        raise MissingInput(f"OD and bore of {part.name}")
    return _strength(part.name, part.od_m, part.id_m, part.grade, f"{part.path}.pipe, its grade")


def _strength(name: str, od_m: float, id_m: float, grade: str, needs: str) -> Strength:
    strong = minimum_yield_pa(grade or None)
    wall = 0.5 * (od_m - id_m)
    if strong is None or wall <= 0.0:
        raise MissingInput(needs)
    rated = ratings(od_m, wall, strong)
    return Strength(name, od_m, wall, strong, rated.burst_pa, rated.collapse.pressure_pa, rated.body_yield_n)


class Squeezed(NamedTuple):
    """Where the liner is nearest to collapse: by how much more stands outside, and what it bears there."""

    md_m: float
    outside_over_inside_pa: float
    tension_n: float
    collapse_pa: float

    @property
    def factor(self) -> float:
        """Collapse over load; without limit where nothing squeezes."""
        if self.outside_over_inside_pa <= 0.0:
            return math.inf
        return self.collapse_pa / self.outside_over_inside_pa


def squeezed(plan: Plan, inside: tuple[Layer, ...], outside: tuple[Layer, ...]) -> Squeezed:
    """Where the hung liner is nearest to collapse with these fluids at rest and no pressure at surface.

    The tension is the weight of the liner below in the fluids (pressure-area form): what pressure on its ends
    takes off the true tension is not credited. No layer inside is an empty liner.

    Raises
    ------
    MissingInput
        When grade, weight of the liner or a bore is not known, or when it has joints of another pipe.
    """
    depth = plan.depth
    strength = liner_strength(depth.liner)
    if other := other_pipe(depth.liner):
        raise MissingInput(*(f"grade of {name}" for name in other))
    place = Place(0.0, inside, outside, None, None, False, {}, {}, {})
    found: list[Squeezed] = []
    tension = 0.0

    def at(md_m: float) -> None:
        over = difference_pa(place, depth.path, md_m)
        found.append(Squeezed(md_m, over, tension, strength.collapse_under_pa(tension)))

    for span in reversed(spans(liner_pieces(plan), around(plan, inside, outside))):
        at(span.bottom_md_m)
        top, bottom = (depth.path.tvd_m(md) for md in (span.top_md_m, span.bottom_md_m))
        tension += span.weight_n_per_m * (bottom - top)
        at(span.top_md_m)
    return min(found, key=lambda one: (one.factor, -one.outside_over_inside_pa))
