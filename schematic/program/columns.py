"""How wide the columns of a printed table are, and which of them are printed at all."""

from __future__ import annotations

import re
from typing import NamedTuple

from schematic.drawing.captions import THIN
from schematic.drawing.text import width_mm
from schematic.export.tables import Table, heads, printed
from schematic.outcome import Figure
from schematic.units import System

_SHORT_HEAD_MM = 15.0
_LONGEST_WORD_MM = 34.0  # what is longer is broken


class Printed(NamedTuple):
    """A table as print needs it: heads, rows of texts, which columns hold figures, widths in mm."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    figures: tuple[bool, ...]
    widths_mm: tuple[float, ...]


def lay_out(table: Table, system: System, room_mm: float, size_pt: float, pad_mm: float) -> Printed:
    """The columns of a table that hold anything, as wide as their texts or as the room allows.

    *pad_mm* is what a cell keeps clear on both sides together. Figures are never broken; where the room is
    short, columns of words give way, each as far as its longest word.
    """
    names = [_raised(head) for head in heads(table, system)]
    body = [[printed(cell, table.blank, system, THIN) for cell in row] for row in table.rows]
    kept = [i for i in range(len(names)) if any(row[i] for row in body)] or [0]
    figures = tuple(any(isinstance(row[i], Figure) for row in table.rows) for i in kept)
    least, most, narrow = [], [], []
    for i in kept:
        texts = list(dict.fromkeys(row[i] for row in body))
        words = {word for text in texts for word in text.split(" ")}
        longest = max((width_mm(word, size_pt) for word in words), default=0.0)
        head = _in_two_lines(names[i], size_pt)
        widest = max((width_mm(text, size_pt) for text in texts), default=0.0)
        known = [
            width_mm(row[i], size_pt)
            for row, cells in zip(body, table.rows, strict=True)
            if isinstance(cells[i], Figure)
        ]
        held = max([min(longest, _LONGEST_WORD_MM), *known])
        least.append(max(held, head) + pad_mm)
        most.append(max(widest, head) + pad_mm)
        narrow.append(max([held, *(width_mm(word, size_pt, True) for word in names[i].split())]) + pad_mm)
    if sum(least) > room_mm:  # heads take as many lines as they have words, and words have what that leaves
        names = [" ".join(name.split()) for name in names]
        least = narrow
        most = [low if counts else high for low, high, counts in zip(narrow, most, figures, strict=True)]
    return Printed(
        tuple(names[i] for i in kept),
        tuple(tuple(row[i] for i in kept) for row in body),
        figures,
        _share(least, most, room_mm),
    )


def _raised(head: str) -> str:
    """A head whose unit stays with its word and has its power raised, as print writes it."""
    head = ",\u00a0".join(head.rsplit(", ", 1))
    return re.sub(r"(?<=m|n|t)([23])$", lambda power: {"2": "\u00b2", "3": "\u00b3"}[power[1]], head)


def _in_two_lines(head: str, size_pt: float) -> float:
    """The width of a short head, else the least in which it takes two lines; in bold."""
    whole = width_mm(head, size_pt, True)
    if whole <= _SHORT_HEAD_MM:
        return whole
    words = head.split(" ")
    cuts = range(1, len(words)) if len(words) > 1 else (1,)
    return min(
        max(width_mm(" ".join(part), size_pt, True) for part in (words[:cut], words[cut:])) for cut in cuts
    )


def _share(least: list[float], most: list[float], room: float) -> tuple[float, ...]:
    """Widths between least and most that fill the room or less of it; narrower than least if they must be."""
    if sum(most) <= room:
        return tuple(most)
    spare = room - sum(least)
    if spare <= 0.0:
        return tuple(width * room / sum(least) for width in least)
    wanted = [high - low for low, high in zip(least, most, strict=True)]
    # by the root of what each wants, so that one long text does not starve the others; none gets more
    open_ = {i for i, want in enumerate(wanted) if want > 0.0}
    shares = [0.0] * len(wanted)
    while open_:
        roots = sum(wanted[i] ** 0.5 for i in open_)
        given = {i: spare * wanted[i] ** 0.5 / roots for i in open_}
        full = {i for i in open_ if wanted[i] <= given[i]}
        for i in full or open_:
            shares[i] = wanted[i] if full else given[i]
        spare -= sum(wanted[i] for i in full)
        open_ = open_ - full if full else set()
    return tuple(low + share for low, share in zip(least, shares, strict=True))
