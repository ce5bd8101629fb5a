"""The notes of a sheet: tables, findings with what mends them, what is open, what was assumed.

They run in columns, page after page, so that nothing is cut.
"""

from __future__ import annotations

from itertools import accumulate
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation, topic
from schematic.drawing.captions import PITCH_MM, THIN, wrap
from schematic.drawing.details_zone import more_cuts
from schematic.drawing.fills import Rect
from schematic.drawing.findings import flag, letters, place_words
from schematic.drawing.grid import Paper
from schematic.drawing.job_zone import assumptions
from schematic.drawing.page import LEFT_MM
from schematic.drawing.palette import BLACK, GREY
from schematic.drawing.revision_table import revision_table
from schematic.drawing.scene import Group, Shape, Text
from schematic.drawing.tables_zone import fluids_and_string, job_tables, more_tables
from schematic.export.passage import CLEAR, in_short
from schematic.export.report import in_words, missing_inputs, not_computed, plural, readable
from schematic.outcome import Found, NotChecked, sentence
from schematic.units import System, sentence_case

_TOP_MM = 32.0
_COLUMN_MM = 88.0  # least width of a column of text
_GAP_MM = 7.0
_INDENT_MM = 5.6
_PASSING = "passage"  # the part of the blocks about what has to pass


class _Block(NamedTuple):
    """Lines that stay together: each bold or not, some grey; a finding has its flag."""

    part: str
    title: str
    lines: tuple[tuple[str, bool, bool], ...]  # text, bold, grey
    finding: tuple[str, Found] | None = None
    heads: bool = False  # a heading, a blank line above it
    again: bool = False  # a heading that a column or page repeats

    @property
    def height_mm(self) -> float:
        return PITCH_MM * len(self.lines) + (1.6 if self.finding else 0.5)


def notes(
    evaluation: Evaluation, system: System, paper: Paper, *, with_tables: bool, details: int | None
) -> list[list[Group]]:
    """The groups of each page; *details* is how many stand beside the well, None when all are drawn."""
    room = paper.right_mm - LEFT_MM
    count = max(int((room + _GAP_MM) / (_COLUMN_MM + _GAP_MM)), 1)
    width = (room - _GAP_MM * (count - 1)) / count
    pages: list[list[Group]] = [[]]
    top = _TOP_MM
    if with_tables:
        tables = job_tables(evaluation, system, paper, _TOP_MM - 4.0)
        pages[0] += tables
        top = max(s.y_mm for group in tables for s in group.shapes if isinstance(s, Text)) + 4.0
    more, bottom = more_tables(evaluation, system, paper, top)
    pages[0] += more
    short, bottom = fluids_and_string(evaluation, system, paper, bottom + 3.0)
    pages[0] += short
    top = bottom + 3.0
    blocks = _blocks(evaluation, system, width - _INDENT_MM)
    revisions = len(evaluation.plan.identity.earlier) + 1
    table = Rect(LEFT_MM, top, paper.right_mm, top + 11.5 + PITCH_MM * min(revisions, 5))
    pages[0] += revision_table(evaluation, table)
    top = table.bottom_mm + 3.0
    if details is not None:
        cuts, bottom, free = more_cuts(evaluation, system, paper, details, top)
        pages[0] += cuts
        top = bottom + 3.0 if cuts else top
        if free is not None:
            passing = _passing(evaluation, system, free.right_mm - free.left_mm)
            if sum(block.height_mm for block in passing) <= free.bottom_mm - free.top_mm:
                pages[0] += _below_each_other(passing, free.left_mm, free.top_mm)
                blocks = [block for block in blocks if block.part != _PASSING]
    foot = paper.title_mm - 4.0
    title = ""
    while blocks:  # on the page that holds the last of them the columns are of one length
        share = sum(block.height_mm for block in blocks) / count - PITCH_MM  # headings at a top lose a line
        least, most = max(int(share / PITCH_MM), 4), int((foot - top) / PITCH_MM)
        lowest = (top + PITCH_MM * n for n in range(least, most))
        even = next((one for one in lowest if len(_in_columns(blocks, top, one, title)) <= count), foot)
        columns = _in_columns(blocks, top, even, title)[:count]
        for column, stands in enumerate(columns):
            left = LEFT_MM + column * (width + _GAP_MM)
            pages[-1] += [_drawn(block, left, y) for block, y in stands]
        blocks = blocks[sum(not block.again for stands in columns for block, _ in stands) :]
        title = next(
            (b.title for stands in reversed(columns) for b, _ in reversed(stands) if b.heads and not b.again),
            title,
        )
        if blocks:
            pages.append([])
            top = _TOP_MM
    return pages


def _in_columns(
    blocks: list[_Block], top_mm: float, foot_mm: float, title: str
) -> list[list[tuple[_Block, float]]]:
    """Blocks with their levels, column by column; a heading stands above what it heads, and again above what
    of it the next column holds; *title* is that of the page before.
    """
    columns: list[list[tuple[_Block, float]]] = [[]]
    y = top_mm
    for block, after in zip(blocks, [*blocks[1:], None], strict=True):
        needs = block.height_mm + (after.height_mm if block.heads and after else 0.0)
        if y + needs > foot_mm and columns[-1]:
            columns.append([])
            y = top_mm
        if title and not block.heads and not columns[-1]:
            again = _heading(f"{title.partition(':')[0]}, continued")._replace(again=True)
            columns[-1].append((again, y - PITCH_MM))
            y += again.height_mm - PITCH_MM
        if block.heads:
            title = block.title
            y -= 0.0 if columns[-1] else PITCH_MM  # no blank line at the top
        columns[-1].append((block, y))
        y += block.height_mm
    return columns


def _drawn(block: _Block, left_mm: float, top_mm: float) -> Group:
    shapes: list[Shape] = []
    indent = 0.0
    if block.finding:
        letter, found = block.finding
        shapes += flag(left_mm + 1.7, top_mm + 1.4, letter, found)
        indent = _INDENT_MM
    shapes += [
        Text(
            left_mm + indent,
            top_mm + 2.2 + PITCH_MM * row,
            text,
            bold=bold,
            colour=GREY if grey else BLACK,
        )
        for row, (text, bold, grey) in enumerate(block.lines)
    ]
    return Group(block.part, block.title, tuple(shapes))


def _blocks(evaluation: Evaluation, system: System, width_mm: float) -> list[_Block]:
    blocks = [_heading("Findings and remedies")]
    for letter, outcome in letters(evaluation):
        found = outcome.answer
        assert isinstance(found, Found)
        lines = [(line, True, False) for line in wrap(_said(found.what, found, system), width_mm, bold=True)]
        lines += [(line, False, False) for line in wrap(_said(found.mend, found, system), width_mm)]
        if place := place_words(evaluation, outcome):
            lines += [(line, False, False) for line in wrap(f"{sentence_case(place)}.", width_mm)]
        if outcome.waived:
            lines += [(line, False, False) for line in wrap(f"Waived by {outcome.waived}.", width_mm)]
        if found.limit:
            owner = f"Limit {found.limit.text}, {found.limit.owner}: {found.limit.source}"
            lines += [(line, False, True) for line in wrap(owner, width_mm)]
        blocks.append(_Block(outcome.subject.path, f"Finding {letter}", tuple(lines), (letter, found)))
    if not evaluation.findings:
        blocks.append(_plain("Nothing found.", width_mm))
    blocks += _passing(evaluation, system, width_mm)
    blocks.append(_heading("Assumed or not given"))
    blocks += [_plain(text, width_mm) for text in assumptions(evaluation)]
    missing: dict[str, list[str]] = {}  # of inputs that the same checks want, one line
    topics = _topics(evaluation)
    wanted = missing_inputs(evaluation)
    for name, _count in wanted:
        missing.setdefault(", ".join(topics[name]), []).append(in_words(evaluation, [name]))
    count = f": {plural(len(wanted), 'input')} missing, and the checks that want them" if wanted else ""
    blocks.append(_heading(f"Not checked{count}"))
    blocks += [
        _plain(f"{', '.join(dict.fromkeys(names))}: {checks}", width_mm) for checks, names in missing.items()
    ]
    if not missing:
        blocks.append(_plain("nothing", width_mm))
    if lacking := not_computed(evaluation):
        blocks.append(_heading("Not computed"))
        blocks += [_plain(sentence_case(text) + ".", width_mm) for text in lacking]
    return blocks


def _passing(evaluation: Evaluation, system: System, width_mm: float) -> list[_Block]:
    """The first restriction of what has to pass."""
    told = [_plain(f"{sentence_case(text)}.", width_mm) for text in in_short(evaluation, system, THIN)]
    meant = _plain(f"{sentence_case(CLEAR)}.", width_mm, grey=True)
    named = [_heading("What has to pass: its tightest place"), *told, meant] if told else []
    return [block._replace(part=_PASSING) for block in named]


def _below_each_other(blocks: list[_Block], left_mm: float, top_mm: float) -> list[Group]:
    tops = accumulate((block.height_mm for block in blocks), initial=top_mm)
    return [_drawn(block, left_mm, top) for block, top in zip(blocks, tops, strict=False)]


def _topics(evaluation: Evaluation) -> dict[str, dict[str, None]]:
    """What each missing input keeps from being checked, in the order of the checks."""
    found: dict[str, dict[str, None]] = {}
    for outcome in evaluation.outcomes:
        if isinstance(outcome.answer, NotChecked):
            for name in outcome.answer.missing:
                found.setdefault(readable(evaluation, name), {})[topic(outcome.rule)] = None
    return found


def _said(text: str, found: Found, system: System) -> str:
    return sentence_case(sentence(text, found.figures, system, THIN))


def _heading(text: str) -> _Block:
    return _Block("", text, (("", False, False), (text, True, False)), heads=True)


def _plain(text: str, width_mm: float, *, grey: bool = False) -> _Block:
    return _Block("", text, tuple((line, False, grey) for line in wrap(text, width_mm)))
