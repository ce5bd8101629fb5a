"""Hand over: every file that the plan gives, made when asked for, named after well, revision and date."""

from __future__ import annotations

import io
import re
import tempfile
import zipfile
from collections.abc import Callable
from pathlib import Path

import streamlit as st

from app import answers, state
from app.answers_view import answers as show
from app.drawing_view import drawing
from app.shell import bar
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.export.recorded import recorded_table
from schematic.export.report import plural
from schematic.export.tables import as_csv
from schematic.export.workbook import NoLibrary
from schematic.job.recorded import recorded
from schematic.wellfile.read import Document

_FILES = (
    # what it is called, the word in its name, its forms
    ("Sheet", "sheet", ("pdf", "svg", "png")),
    ("Program section", "program", ("pdf", "docx", "xlsx")),
    ("Step cards", "steps", ("pdf", "xlsx", "json")),
    ("Running sheet", "running-sheet", ("pdf", "xlsx", "csv")),
    ("Tables", "tables", ("xlsx",)),
)

_BY_PAGE = ("svg", "png")  # a file for each page: they go into one archive
_ALL, _RECORDED = "Files", "Planned and recorded"


def file_name(evaluation: Evaluation, word: str, form: str) -> str:
    """A name that carries well, revision and date, of letters that every system takes."""
    identity = evaluation.plan.identity
    parts = [identity.name, word]
    if identity.revision:
        parts += [f"rev {identity.revision.number}", identity.revision.date]
    plain = re.sub(r"[^A-Za-z0-9]+", "-", " ".join(parts)).strip("-").lower()
    return f"{plain or word}.{form}"


def content(document: Document, word: str, form: str) -> bytes:
    """The file of a plan: the same that the command writes.

    Raises
    ------
    NoLibrary
        When the library for the format is not installed.
    """
    evaluation = verbs.check(document)
    writers: dict[str, Callable[[Path], object]] = {
        "sheet": lambda out: verbs.draw(evaluation, out),
        "program": lambda out: verbs.program(document, out),
        "steps": lambda out: verbs.draw_steps(evaluation, out),
        "running-sheet": lambda out: verbs.draw_running_sheet(evaluation, out),
        "tables": lambda out: verbs.tabulate(evaluation, out),
    }
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / f"{word}.{form}"
        writers[word](target)
        if form not in _BY_PAGE:
            return target.read_bytes()
        packed = io.BytesIO()
        with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
            for page_ in sorted(Path(folder).iterdir()):
                archive.write(page_, page_.name)
        return packed.getvalue()


def _made(document: Document, word: str, form: str) -> Callable[[], bytes]:
    """What a download button calls: on another thread, so that it takes the well with it."""

    def make() -> bytes:
        try:
            return content(document, word, form)
        except NoLibrary as error:
            return str(error).encode()

    return make


def files(evaluation: Evaluation) -> None:
    """What is to be settled first, and every file with its forms; beside them the sheet as it will be."""
    document = state.document()
    left, right = st.columns([0.46, 0.54])
    with left:
        show("settle", answers.to_settle(evaluation))
        for title, word, forms in _FILES:
            with st.container(horizontal=True, vertical_alignment="center"):
                st.text(title)
                for form in forms:
                    st.download_button(
                        form.upper(),
                        _made(document, word, form),
                        file_name(evaluation, word, "zip" if form in _BY_PAGE else form),
                        on_click="ignore",
                        key=f"{word}-{form}",
                        type="primary" if (word, form) == ("program", "pdf") else "secondary",
                    )
    with right, st.container(key="paper"):
        drawing(verbs.render(verbs.sheet(evaluation), ".svg"), None, lambda: None, key="preview")


def compared_with_record(evaluation: Evaluation) -> None:
    """What was read on the job beside the plan."""
    system = evaluation.plan.identity.system
    made = recorded(evaluation.job)
    if not made:
        text = (
            "Nothing is recorded yet: readings that are kept on Run, or written under 'record', stand here."
        )
        show("nothing-recorded", [{"kind": "note", "text": text}])
        return
    out = sum(one.inside is False for one in made)
    told = f"{plural(len(made), 'reading')}, {out} outside the band of the plan."
    table = recorded_table(made, system)
    show("recorded", [{"kind": "note", "text": told}, answers.table_block(table, system)])
    st.download_button(
        "Planned and recorded, CSV",
        as_csv((table,), system),
        file_name(evaluation, "recorded", "csv"),
        "text/csv",
        on_click="ignore",
        type="primary",
    )


def page() -> None:
    """The page."""
    evaluation = state.evaluation()
    bar(evaluation)
    what = st.segmented_control(
        "What", [_ALL, _RECORDED], key="hand-over", default=_ALL, required=True, label_visibility="collapsed"
    )
    if what == _RECORDED:
        compared_with_record(evaluation)
    else:
        files(evaluation)
