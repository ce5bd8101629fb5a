"""What the liner section of a drilling program says, in order, before it is set as a document.

A program is a list of headings, paragraphs, workings, numbered tables and numbered pictures. All text in it
is clean: one line, without control characters, whatever the well file holds. Writers lay it out and know
nothing of wells.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal, NamedTuple

from schematic.drawing.scene import Scene
from schematic.drawing.text import UNPRINTABLE
from schematic.export.tables import Column, Table
from schematic.outcome import Figure
from schematic.units import System


class Heading(NamedTuple):
    """A heading; level 1 is a section, 2 a part of one."""

    text: str
    level: int = 1


class Paragraph(NamedTuple):
    """A paragraph of plain text."""

    text: str
    weight: Literal["plain", "strong"] = "plain"


class Workings(NamedTuple):
    """How a value came about, line by line; leading spaces say what belongs under what."""

    lines: tuple[str, ...]


class NumberedTable(NamedTuple):
    """A table with its number in the document."""

    number: int
    table: Table


class NumberedPicture(NamedTuple):
    """A page of the schematic with its number, its caption and its description for who cannot see it."""

    number: int
    scene: Scene
    caption: str
    description: str


Block = Heading | Paragraph | Workings | NumberedTable | NumberedPicture


@dataclass(frozen=True, slots=True)
class Program:
    """A document before it is set: what stands on its first page, around every page, and its blocks."""

    title: str
    subtitle: str
    subject: str
    author: str
    running: str  # at the head of every page
    caution: str  # at the foot of every page
    system: System
    day: date | None  # of the revision
    blocks: tuple[Block, ...]

    @property
    def tables(self) -> tuple[Table, ...]:
        """All tables in their order."""
        return tuple(block.table for block in self.blocks if isinstance(block, NumberedTable))

    @property
    def pictures(self) -> tuple[NumberedPicture, ...]:
        """All pictures in their order."""
        return tuple(block for block in self.blocks if isinstance(block, NumberedPicture))


def clean(text: str) -> str:
    """A text on one line, without control characters and marks that turn the reading direction."""
    return UNPRINTABLE.sub("", " ".join(text.split()))


def clean_table(table: Table) -> Table:
    """A table with all its texts clean."""
    return Table(
        clean(table.title),
        tuple(Column(clean(column.head), column.kind) for column in table.columns),
        tuple(tuple(clean(cell) if isinstance(cell, str) else cell for cell in row) for row in table.rows),
        clean(table.note),
        table.blank,
    )


def all_blank(table: Table) -> bool:
    """Whether a table holds no value: every cell beside the first of its row is unknown or empty."""
    return not any(isinstance(cell, Figure) or cell for row in table.rows for cell in row[1:])


def numbered(blocks: Iterator[Heading | Paragraph | Workings | Table]) -> Iterator[Block]:
    """Blocks with their texts clean and their tables numbered from 1."""
    number = 0
    for block in blocks:
        if isinstance(block, Table):
            number += 1
            yield NumberedTable(number, clean_table(block))
        elif isinstance(block, Heading):
            yield Heading(clean(block.text), block.level)
        elif isinstance(block, Paragraph):
            yield Paragraph(clean(block.text), block.weight)
        else:
            yield Workings(tuple(_indented(line) for line in block.lines))


def _indented(line: str) -> str:
    return " " * (len(line) - len(line.lstrip(" "))) + clean(line)
