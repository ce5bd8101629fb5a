"""Programs of the invented wells in every format, and a well whose every text tries to be something else."""

from __future__ import annotations

import csv
import io
import re
from functools import cache
from unittest.mock import patch

from docx import Document
from openpyxl import load_workbook
from pypdf import PdfReader

from schematic import verbs
from schematic.program import assemble, docx, write
from schematic.program.content import Program

THIN = "\u2009"
HOSTILE = ("=1+1", "+cmd", "@x", "-2+3", r"$\href{x}$", "<b>bold</b>", "a & b &amp; &D", '"]]>', "{PAGE}")


def text_of(name: str) -> str:
    """The text of an invented well."""
    return verbs.demos()[f"{name}.yaml"]


PLACES = (
    "name: Brindlewick 4",
    "purpose: drilling liner",
    "by: R. Planner",
    "name: hydraulic hanger",
    "known by: bond log",
    "name: Ostrel shale",
    "name: liner and lap",
    "remark: to the next mud of 9.8 ppg",
    "connection: special clearance buttress",
)


def hostile_text(*names: str) -> str:
    """Brindlewick 4 with these texts, by turns, in places that take a free text, and in a waiver."""
    text = text_of("brindlewick-4")
    quoted = ["'" + name.replace("'", "''") + "'" for name in names]
    for number, old in enumerate(PLACES):
        assert old in text
        text = text.replace(old, f"{old.partition(':')[0]}: {quoted[number % len(quoted)]}")
    waiver = f"{{rule: caliper-far-over-gauge, by: {quoted[0]}, reason: {quoted[-1]}}}"
    return f"{text}\nwaived:\n  - {waiver}\n"


@cache
def program_of(text: str, system: str | None = None) -> Program:
    """The program of a well file's text."""
    return _made(text, system)[0]


@cache
def content_of(text: str, suffix: str, system: str | None = None) -> bytes:
    """The program of a well file's text as the content of a file."""
    made, evaluation = _made(text, system)
    content = write.content(made, evaluation, suffix)
    return content.encode() if isinstance(content, str) else content


@cache
def _made(text: str, system: str | None):
    document = verbs.load_text(text, "well.yaml")
    evaluation = verbs.check(document)
    shown = system or evaluation.plan.identity.system
    sheet = verbs.sheet(evaluation, system=shown)
    return assemble.program(document, evaluation, sheet, shown), evaluation


@cache
def pdf_of(text: str) -> PdfReader:
    """The PDF, opened."""
    return PdfReader(io.BytesIO(content_of(text, ".pdf")))


@cache
def pdf_words(text: str) -> str:
    """All text of the PDF, white space made single, thin spaces within figures taken out."""
    return plain(" ".join(page.extract_text() for page in pdf_of(text).pages))


@cache
def coarse_docx(text: str) -> bytes:
    """The DOCX for who reads its words: its pictures, of which most of its time goes, are drawn coarsely."""
    with coarse_pictures():
        return write.content(*_made(text, None), ".docx")


def coarse_pictures():
    """In the block the pictures of a DOCX have few pixels, and their own size all the same."""
    return patch.object(docx, "_DPI", 36.0)


def docx_of(text: str):
    """The DOCX, opened; its pictures are coarse."""
    return Document(io.BytesIO(coarse_docx(text)))


def xlsx_of(text: str):
    """The workbook, opened."""
    return load_workbook(io.BytesIO(content_of(text, ".xlsx")))


def csv_rows(text: str) -> list[list[str]]:
    """The rows of the CSV."""
    return list(csv.reader(io.StringIO(content_of(text, ".csv").decode())))


def plain(text: str) -> str:
    """A text with single spaces, and figures without thin spaces."""
    return re.sub(r"\s+", " ", text.replace(THIN, "")).strip()
