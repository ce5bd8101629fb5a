"""A depth range as it is asked for: "9400 ft to 9560 ft"."""

from __future__ import annotations

import re

from schematic.checks.evaluate import Evaluation
from schematic.units import UnitError, parse, show

FORM = '"9400 ft to 9560 ft"'
LEAST_M = 0.3
_LONGEST = 60  # characters


class RangeError(ValueError):
    """A depth range that cannot be drawn; the message says what would be."""


def depth_range(text: str, evaluation: Evaluation) -> tuple[float, float]:
    """The two measured depths of a range such as "9400 ft to 9560 ft".

    Raises
    ------
    RangeError
        When it is none, upside down, too short, or not in the well.
    """
    shown = text if len(text) <= _LONGEST else text[:_LONGEST] + "\u2026"
    ends = re.split(r"\s+to\s+", text.strip()[: 3 * _LONGEST])
    if len(ends) != 2:
        raise RangeError(f"{shown!r} is no depth range; write it as {FORM}")
    try:
        top, bottom = (_depth_m(end) for end in ends)
    except UnitError as error:
        raise RangeError(f"{shown!r}: {error}; write a depth range as {FORM}") from None
    depth = evaluation.plan.depth
    deepest = max(depth.td_md_m, depth.liner.shoe_md_m)
    system = evaluation.plan.identity.system
    if not 0.0 <= top < bottom <= deepest + 0.005:
        well = f"0 to {show(deepest, 'depth', system)}"
        raise RangeError(f"{shown!r} does not lie in the well, {well} from the top down; write it as {FORM}")
    if bottom - top < LEAST_M:
        raise RangeError(f"{shown!r} is shorter than {show(LEAST_M, 'length', system)}; write it as {FORM}")
    return top, min(bottom, deepest)


def _depth_m(text: str) -> float:
    written = parse(text, "length")
    if written.low is not None:
        raise UnitError(text, "one depth", "leave out the tolerance")
    return written.si
