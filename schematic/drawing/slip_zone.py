"""Where the slips grip: the host's couplings around them, what is clear, and how sure both depths are.

The slips come deeper than their tally says by the stretch of the running string, the host's couplings by the
stretch of the host; depths that were corrected for stretch have none of it.
"""

from __future__ import annotations

from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import LinerPart
from schematic.engineering.stretch import stretch
from schematic.outcome import MissingInput
from schematic.units import System, number


class Coupling(NamedTuple):
    """A coupling of the host beside the slips, and its distance to them."""

    md_m: float
    clear_m: float


class SlipZone(NamedTuple):
    """What is known of the place of the slips. None: not given, or there is none."""

    hanger: LinerPart | None
    slips_md_m: tuple[float, float] | None
    above: Coupling | None
    below: Coupling | None
    slips_deeper_m: float
    couplings_deeper_m: float
    words: tuple[str, ...]  # what is not known, or how sure it is


def slip_zone(evaluation: Evaluation, system: System) -> SlipZone:
    """The slips of the hanger between the couplings of the host."""
    plan = evaluation.plan
    host, hanger = plan.depth.host, plan.depth.liner.find("liner hanger")
    words: list[str] = []
    slips = hanger.slips_md_m if hanger else None
    if hanger is None:
        words.append("no hanger: no slips")
    elif slips is None:
        words.append("slip zone not given")
    if not host.couplings_md_m:
        words.append("couplings of host not given")
    if slips is None or not host.couplings_md_m:
        return SlipZone(hanger, slips, None, None, 0.0, 0.0, tuple(words))
    top, bottom = slips
    above = max((md for md in host.couplings_md_m if md <= bottom), default=None)
    below = min((md for md in host.couplings_md_m if md > bottom), default=None)
    if above is None:
        words.append("coupling above the slips not given")
    if below is None:
        words.append("coupling below the slips not given")
    slips_deeper, couplings_deeper, sure = _sure(evaluation, system)
    return SlipZone(
        hanger,
        slips,
        Coupling(above, max(top - above, 0.0)) if above is not None else None,
        Coupling(below, below - bottom) if below is not None else None,
        slips_deeper,
        couplings_deeper,
        (*words, *sure),
    )


def _sure(evaluation: Evaluation, system: System) -> tuple[float, float, tuple[str, ...]]:
    """How much deeper slips and couplings may be, and the words for it."""
    host = evaluation.plan.depth.host
    by = host.couplings_located_by
    located = f"couplings by {by}" if by else "how couplings were located: not given"
    if host.couplings_corrected:
        return 0.0, 0.0, (f"{located}, corrected for stretch",)
    try:
        found = stretch(evaluation.plan)
    except MissingInput as error:
        return 0.0, 0.0, (located, f"stretch not worked out: {', '.join(error.missing)} not given")
    string, own = (number(value, "length", system) for value in found)
    words = f"dashed: stretch, slips up to {string} deeper, couplings {own}"
    return found.string_m, found.host_m, (located, words)
