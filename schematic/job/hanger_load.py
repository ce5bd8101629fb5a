"""What the hanger carries through the job and in the tests.

The piston force under the tool comes out of the weight set down on it, it is not added to it: the hanger
carries the liner and the larger of the two. In the lap test the pressure on the host's bore pushes on hanger
and packer until set cement is credited. The liner weighs what its parts weigh in their fluids along the hole;
a part without a weight of its own weighs what the liner's pipe weighs.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from schematic.depth.nest import circle_m2
from schematic.depth.plan import Plan
from schematic.engineering.hanging import liner_pieces
from schematic.engineering.train import Train
from schematic.engineering.wall import around
from schematic.engineering.weights import liner_weight, weigh
from schematic.job.proof import Positive
from schematic.job.setting import BUMP, SEAT, Setting, sealed
from schematic.outcome import MissingInput, Uncomputed

PACKER_SETS = "when the packer sets"


class HangerLoad(NamedTuple):
    """Load on the hanger at a moment of the job: weight of the liner, what is added, and their sum in N."""

    name: str
    liner_n: float
    added_n: float
    added_by: str

    @property
    def total_n(self) -> float:
        """All that the hanger carries."""
        return self.liner_n + self.added_n


def hanger_loads(
    plan: Plan, the_setting: Setting, the_train: Callable[[], Train], tests: tuple[Positive, ...]
) -> tuple[tuple[HangerLoad, ...], tuple[Uncomputed, ...]]:
    """The loads that can be computed, in the order of the job, and what the others need.

    Both are empty for a liner without a hanger. *the_train* may raise MissingInput when it is asked for.

    Raises
    ------
    MissingInput
        When mud or weight of the liner are not given.
    """
    if plan.depth.liner.find("liner hanger") is None:
        return (), ()
    hung = liner_weight(plan).along_n
    found = [HangerLoad("hung in mud", hung, 0.0, "")]
    missing: list[Uncomputed] = []
    awaited = [band.name for band in the_setting.bands] + [one.what for one in the_setting.missing]
    for name, words in ((SEAT, "when the seat opens"), (BUMP, "when the plug bumps")):
        if name not in awaited:
            continue
        try:
            found.append(_held_down(plan, the_setting, name, words, hung))
        except MissingInput as error:
            missing.append(Uncomputed(f"hanger load {words}", error.missing))
    if plan.depth.liner.find("liner top packer") is not None:
        try:
            found.append(_packer(plan, the_train))
        except MissingInput as error:
            missing.append(Uncomputed(f"hanger load {PACKER_SETS}", error.missing))
    bore = circle_m2(plan.depth.host.id_m)
    for test in tests:
        force = test.surface_pa * bore
        found.append(HangerLoad(in_test(test.name), hung, force, "pressure on the host's bore"))
    return tuple(found), tuple(missing)


def _held_down(plan: Plan, the_setting: Setting, name: str, words: str, hung_n: float) -> HangerLoad:
    band, down, area = the_setting.band(name), plan.job.set_down_on_tool_n, sealed(plan)
    if down is None:
        raise MissingInput("installation.set down on tool")
    force = band.counts_to_pa * area.area_m2
    by = "set-down on the tool" if down >= force else f"pressure on {area.of}"
    return HangerLoad(words, hung_n, max(down, force), by)


def _packer(plan: Plan, the_train: Callable[[], Train]) -> HangerLoad:
    """Cement outside, what displaced it inside: the liner weighs less than in mud."""
    down = plan.job.packer_set_down_n
    if down is None:
        raise MissingInput("liner top packer.set down")
    pumped = the_train()
    end = pumped.at(pumped.total_m3)
    weight = weigh(plan, liner_pieces(plan), around(plan, end.inside, end.outside)).along_n
    return HangerLoad(PACKER_SETS, weight, down, "set-down of the packer")


def in_test(name: str) -> str:
    """How the load in a test is called."""
    return f"in the test {name}"


def allowed_n(plan: Plan) -> float:
    """What the hanger may carry: its rating over the least factor of the limits; raises MissingInput."""
    if plan.job.hanger_rating_n is None:
        raise MissingInput("liner hanger.load rating")
    factor = plan.limits["least hanger factor"].si
    return plan.job.hanger_rating_n / factor if factor > 0.0 else math.inf
