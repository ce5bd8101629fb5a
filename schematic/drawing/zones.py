"""How a page is shared: the well, details beside or below it, the job, tables; the fullest way first."""

from __future__ import annotations

from typing import Literal, NamedTuple

from schematic.drawing.fills import Rect
from schematic.drawing.grid import MARGIN_MM, WELL_TOP_MM, Paper

_PANEL = 0.30  # of the width of landscape paper: details beside the well
_PANEL_FROM_MM = 270.0  # of height: lower landscape paper holds the well alone
_DETAILS_MM = 53.8  # height of the zone of details on A4
_GAP_MM = 4.0
_JOB_MM = 38.2  # from the rule above the job to the title block
_TABLES_MM = 54.0
_TABLES_FROM_MM = 400.0  # of height: lower paper shows its tables with the notes
_CLEAR_MM = 1.6  # from the last words of a detail to the rule below them
_FOOT_MM = 3.6  # from the well zone to the rule below it


Track = Literal["strip", "findings", "volumes", "pressure", "path", "caliper", "rock"]
TRACKS: frozenset[Track] = frozenset(("strip", "findings", "volumes", "pressure", "path", "caliper", "rock"))


class Zones(NamedTuple):
    """What a page holds beside the well, and where."""

    right_mm: float  # of the well's block
    bottom_mm: float  # of the well zone
    details: tuple[Rect, ...]
    tables_mm: float | None  # where each zone begins; None: not on this page
    job_mm: float | None
    tracks: frozenset[Track] = TRACKS  # as far as the well has them and the paper room

    @property
    def most_findings(self) -> int:
        """How many findings the list beside the well holds."""
        return 10 if self.bottom_mm > 140.0 else 5


def ways(paper: Paper, details: int) -> tuple[Zones, ...]:
    """Ways to share the first page: with the details, without them, the well alone."""
    job = paper.title_mm - _JOB_MM
    alone = Zones(paper.right_mm, paper.title_mm - _FOOT_MM, (), None, None)
    with_job = Zones(paper.right_mm, job - _FOOT_MM, (), None, job)
    if paper.landscape:
        if paper.height_mm < _PANEL_FROM_MM:
            return with_job, alone
        left = paper.right_mm - _PANEL * paper.width_mm
        panel = stacked(Rect(left, WELL_TOP_MM - 2.0, paper.right_mm, job - 2.0), details)
        return Zones(left - 6.0, job - _FOOT_MM, panel, None, job), with_job, alone
    tall = paper.height_mm >= _TABLES_FROM_MM
    height = _DETAILS_MM * (paper.height_mm / 297.0 if tall else 1.0)
    top = job - height - (_TABLES_MM if tall else 0.0)
    below = abreast(Rect(MARGIN_MM, top, paper.right_mm, top + height - _CLEAR_MM), details)
    full = Zones(paper.right_mm, top - _FOOT_MM, below, top + height if tall else None, job)
    return full, with_job, alone


def abreast(rect: Rect, count: int) -> tuple[Rect, ...]:
    """So many equal places side by side."""
    width = (rect.right_mm - rect.left_mm - _GAP_MM * (count - 1)) / count
    lefts = [rect.left_mm + (width + _GAP_MM) * n for n in range(count)]
    return tuple(Rect(left, rect.top_mm, left + width, rect.bottom_mm) for left in lefts)


def stacked(rect: Rect, count: int) -> tuple[Rect, ...]:
    """So many equal places one below the other."""
    height = (rect.bottom_mm - rect.top_mm - _GAP_MM * (count - 1)) / count
    tops = [rect.top_mm + (height + _GAP_MM) * n for n in range(count)]
    return tuple(Rect(rect.left_mm, top, rect.right_mm, top + height) for top in tops)
