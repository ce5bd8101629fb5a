"""The table of revisions, newest first: number, date, who prepared, checked, approved, and what changed."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, SMALL_PT, wrap
from schematic.drawing.fills import Rect
from schematic.drawing.page import fit
from schematic.drawing.palette import GREY
from schematic.drawing.scene import Group, Shape, Text

_HEADS = ("no.", "date", "prepared", "checked", "approved", "what changed")
_NOTE_LINES = 2
_SHARES = (0.0, 0.08, 0.24, 0.40, 0.56, 0.72)  # of the width: the left edges of the columns


def revision_table(evaluation: Evaluation, rect: Rect) -> list[Group]:
    """The revisions as far down as the rectangle reaches, and how many more there are; none: it says so."""
    identity = evaluation.plan.identity
    revisions = [*([identity.revision] if identity.revision else []), *identity.earlier]
    shapes: list[Shape] = [Text(rect.left_mm, rect.top_mm + 2.4, "Revisions", bold=True)]
    y = rect.top_mm + 2.4 + PITCH_MM + 0.5
    if not revisions:
        shapes.append(Text(rect.left_mm, y, "no revision given", colour=GREY))
        return [Group("well", "Revisions", tuple(shapes))]
    width = rect.right_mm - rect.left_mm
    edges = [rect.left_mm + share * width for share in _SHARES]
    shapes += [Text(x, y, word, colour=GREY) for x, word in zip(edges, _HEADS, strict=True)]
    for index, one in enumerate(revisions):
        bold, room = index == 0, rect.right_mm - edges[-1]
        notes = wrap(one.note, room, bold=bold)[:_NOTE_LINES]
        if notes[-1:] and not one.note.endswith(notes[-1]):
            notes = (*notes[:-1], fit(f"{notes[-1]} and more words", room, SMALL_PT, bold))
        left = len(revisions) - index
        if y + (PITCH_MM + 0.2) * (len(notes) + (left > 1)) > rect.bottom_mm and index:
            shapes.append(Text(rect.left_mm, y + PITCH_MM + 0.2, f"and {left} earlier", colour=GREY))
            break
        y += PITCH_MM + 0.2
        dated = ", ".join(filter(None, (one.date, "CHANGED" if one.changed else "")))
        cells = (one.number, dated, one.by, one.checked_by, one.approved_by)
        for x, following, cell in zip(edges, edges[1:], cells, strict=False):
            shapes.append(Text(x, y, fit(cell, following - x - 1.0, SMALL_PT, bold), bold=bold))
        shapes += [Text(edges[-1], y + PITCH_MM * row, line, bold=bold) for row, line in enumerate(notes)]
        y += PITCH_MM * (len(notes) - 1)
    return [Group("well", "Revisions", tuple(shapes))]
