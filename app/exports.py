"""The files that a plan gives: what they are called, what writes them, what they hold, all of them packed."""

from __future__ import annotations

import io
import re
import tempfile
import zipfile
from collections.abc import Callable
from importlib.util import find_spec
from pathlib import Path
from typing import NamedTuple

from app import answers
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.export.report import plural
from schematic.program import assemble
from schematic.wellfile.read import Document

PAPERS: dict[str, verbs.PaperName] = {"A4": "a4", "A3": "a3", "Letter": "letter", "Tabloid": "tabloid"}
ON_PAPER = ("sheet", "program")  # what is set on a paper that is chosen
BY_PAGE = ("svg", "png")  # a file for each page: they go into one archive
DRAWN = ("pdf", *BY_PAGE)
AS_TEXT = ("csv", "json", "yaml")
_LIBRARIES = {"xlsx": "openpyxl", "docx": "docx"}


class Paper(NamedTuple):
    """The paper of the sheet and the program: its name, and whether the sheet is in landscape."""

    name: verbs.PaperName = "a4"
    landscape: bool = False


A4 = Paper()
_RECORDED = "Planned and recorded"


class Export(NamedTuple):
    """A file that is offered: what it is called, the word in its name, its forms."""

    title: str
    word: str
    forms: tuple[str, ...]


def offered(evaluation: Evaluation, options: bool) -> tuple[Export, ...]:
    """What this plan gives; what it has nothing for is left out."""
    return (
        Export("Sheet", "sheet", ("pdf", "svg", "png")),
        Export("Program section", "program", ("pdf", "docx", "xlsx", "csv", "json")),
        Export("Step cards", "steps", ("pdf", "xlsx", "csv", "json")),
        Export("Running sheet", "running-sheet", ("pdf", "xlsx", "csv", "json")),
        Export("Tables", "tables", ("xlsx",)),
        *([Export("Options side by side", "options", ("pdf", "xlsx", "json"))] if options else []),
        *(
            [Export("Planned and recorded", "recorded", ("pdf", "xlsx", "csv"))]
            if evaluation.plan.record
            else []
        ),
        Export("Well file, what all comes from", "well", ("yaml",)),
    )


def lacking(form: str) -> str:
    """Why a form cannot be made here; "" when it can."""
    library = _LIBRARIES.get(form)
    if library is None or find_spec(library) is not None:
        return ""
    return f"{form} needs {library}: pip install 'lapline[documents]'"


def file_name(evaluation: Evaluation, word: str, form: str, changed: bool) -> str:
    """A name that carries well, revision and date, of letters that every system takes.

    *changed* says that the well is another one than its revision issued.
    """
    identity = evaluation.plan.identity
    parts = [identity.name, word]
    if identity.revision:
        parts += [f"rev {identity.revision.number}", "changed" * changed, identity.revision.date]
    return f"{plain(' '.join(parts)) or word}.{form}"


def plain(text: str) -> str:
    """A text in letters that every system takes in the name of a file; "" where it has none of them."""
    return re.sub(r"[^A-Za-z0-9]+", "-", text).strip("-").lower()


def pages(document: Document, word: str, form: str, paper: Paper = A4) -> tuple[bytes, ...]:
    """The file of a plan, the same that the command writes; of SVG and PNG one for each page.

    Raises
    ------
    NoLibrary
        When the library for the format is not installed.
    """
    evaluation = verbs.check(document)
    if word == "well":
        return (document.text.encode(),)
    writers: dict[str, Callable[[Path], object]] = {
        "sheet": lambda out: verbs.draw(evaluation, out, paper=paper.name, landscape=paper.landscape),
        "program": lambda out: verbs.program(document, out, paper=paper.name),
        "steps": lambda out: verbs.draw_steps(evaluation, out),
        "running-sheet": lambda out: verbs.draw_running_sheet(evaluation, out),
        "tables": lambda out: verbs.tabulate(evaluation, out),
        "recorded": lambda out: verbs.draw_recorded(evaluation, out),
        "options": lambda out: verbs.draw_options(verbs.options(document), out),
    }
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / f"{word}.{form}"
        writers[word](target)
        made = [target]
        while (following := target.with_stem(f"{word}-{len(made) + 1}")).exists():
            made.append(following)
        return tuple(each.read_bytes() for each in made)


def named(document: Document, word: str, form: str, name: str, paper: Paper = A4) -> dict[str, bytes]:
    """The file of a plan under its name; further pages of SVG and PNG get a number."""
    target = Path(name)
    return {
        (target.with_stem(f"{target.stem}-{number}") if number > 1 else target).name: page
        for number, page in enumerate(pages(document, word, form, paper), 1)
    }


def packed(files: dict[str, bytes]) -> bytes:
    """Files in one archive."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return out.getvalue()


def content(document: Document, word: str, form: str, name: str, paper: Paper = A4) -> bytes:
    """The file of a plan as it is downloaded: SVG and PNG as an archive of their pages.

    Raises
    ------
    NoLibrary
        When the library for the format is not installed.
    """
    made = named(document, word, form, name, paper)
    return packed(made) if form in BY_PAGE else next(iter(made.values()))


def program_pages(document: Document, paper: Paper = A4) -> tuple[bytes, ...]:
    """The pages of the program section as its PDF sets them, each as SVG."""
    from schematic.drawing.grid import PAPERS as SIZES
    from schematic.program import pages as set_pages
    from schematic.program.write import text_mm

    evaluation = verbs.check(document)
    system = evaluation.plan.identity.system
    made = assemble.program(document, evaluation, verbs.sheet(evaluation, paper=paper.name), system)
    return verbs.render(set_pages.pages(made, text_mm(SIZES[paper.name])), ".svg")


def sheets(data: bytes) -> answers.Block:
    """What a workbook holds, sheet by sheet, read from the workbook itself."""
    from openpyxl import load_workbook

    book = load_workbook(io.BytesIO(data), read_only=True)
    rows = [[sheet.title, str(sheet.max_row), str(sheet.max_column)] for sheet in book.worksheets]
    heads = ["sheet", "rows with head", "columns"]
    title = f"{plural(len(rows), 'sheet')} of the workbook"
    return {
        "kind": "table",
        "title": title,
        "heads": heads,
        "figures": [False, True, True],
        "rows": rows,
        "note": "",
    }
