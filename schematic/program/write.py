"""The program as the content of a file, by the suffix of its name."""

from __future__ import annotations

import json

from schematic.checks.evaluate import Evaluation
from schematic.drawing.grid import A4, PAPERS, Paper
from schematic.export import CAUTION
from schematic.export.tables import as_csv, as_data
from schematic.program.content import NumberedTable, Program

SUFFIXES = (".pdf", ".docx", ".xlsx", ".csv", ".json")


def content(program: Program, evaluation: Evaluation, suffix: str, paper: Paper = A4) -> str | bytes:
    """What a file of this suffix holds; *paper* is that of the schematic.

    Text stands on paper that a binder holds: A4 beside A3, Letter beside Tabloid.

    Raises
    ------
    ValueError
        When the suffix is not known.
    NoLibrary
        When the library for it is not installed.
    """
    if suffix == ".pdf":
        from schematic.program import pdf

        return pdf.render(program, text_mm(paper))
    if suffix == ".docx":
        from schematic.program import docx

        return docx.render(program, text_mm(paper))
    if suffix == ".xlsx":
        from schematic.export.workbook import workbook

        first, *others = program.tables
        return workbook(evaluation, (first._replace(note=CAUTION), *others), program.system)
    if suffix == ".csv":
        return as_csv(program.tables, program.system)
    if suffix == ".json":
        return _as_json(program, evaluation)
    raise ValueError(f"{suffix!r} is none of {', '.join(SUFFIXES)}")


def text_mm(paper: Paper) -> tuple[float, float]:
    """Width and height of the pages of text."""
    text = PAPERS["letter" if paper.name in ("letter", "tabloid") else "a4"]
    return text.width_mm, text.height_mm


def _as_json(program: Program, evaluation: Evaluation) -> str:
    identity = evaluation.plan.identity
    data = {
        "title": program.title,
        "subject": program.subject,
        "well": identity.name,
        "file hash": identity.file_hash,
        "units": program.system,
        "tables": [
            {"number": block.number, **as_data(block.table, program.system)}
            for block in program.blocks
            if isinstance(block, NumberedTable)
        ],
        "caution": program.caution,
    }
    return json.dumps(data, indent=2, ensure_ascii=False) + "\n"
