"""Hand over: every file that the plan gives, made when asked for, named after well, revision and date."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable
from pathlib import Path

import streamlit as st

from app import answers, state
from app.answers_view import answers as show
from app.drawing_view import drawing
from app.shell import bar
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.export.workbook import NoLibrary

_FILES = (
    # what it is called, the word in its name, its forms
    ("Sheet", "sheet", ("pdf", "svg", "png")),
    ("Program section", "program", ("pdf", "docx", "xlsx")),
    ("Step cards", "steps", ("pdf", "xlsx", "json")),
    ("Running sheet", "running-sheet", ("pdf", "xlsx", "csv")),
    ("Tables", "tables", ("xlsx",)),
)


def file_name(evaluation: Evaluation, word: str, form: str) -> str:
    """A name that carries well, revision and date, of letters that every system takes."""
    identity = evaluation.plan.identity
    parts = [identity.name, word]
    if identity.revision:
        parts += [f"rev {identity.revision.number}", identity.revision.date]
    plain = re.sub(r"[^A-Za-z0-9]+", "-", " ".join(parts)).strip("-").lower()
    return f"{plain or word}.{form}"


def content(text: str, name: str, word: str, form: str) -> bytes:
    """The file of a plan: the same that the command writes.

    Raises
    ------
    NoLibrary
        When the library for the format is not installed.
    """
    document = verbs.load_text(text, name)
    evaluation = verbs.check(document)
    writers: dict[str, Callable[[Path], object]] = {
        "sheet": lambda out: verbs.draw(evaluation, out),
        "program": lambda out: verbs.program(document, out),
        "steps": lambda out: verbs.draw_steps(evaluation, out),
        "running-sheet": lambda out: verbs.draw_running_sheet(evaluation, out),
        "tables": lambda out: verbs.tabulate(evaluation, out),
    }
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / f"file.{form}"
        writers[word](target)
        return target.read_bytes()


def _made(text: str, name: str, word: str, form: str) -> Callable[[], bytes]:
    """What a download button calls: on another thread, so that it takes the text with it."""

    def make() -> bytes:
        try:
            return content(text, name, word, form)
        except NoLibrary as error:
            return str(error).encode()

    return make


def page() -> None:
    """The page."""
    evaluation = state.evaluation()
    bar(evaluation)
    text, name = state.texts()[-1], st.session_state.demo
    left, right = st.columns([0.46, 0.54])
    with left:
        show("settle", answers.to_settle(evaluation))
        for title, word, forms in _FILES:
            with st.container(horizontal=True, vertical_alignment="center"):
                st.text(title)
                for form in forms:
                    st.download_button(
                        form.upper(),
                        _made(text, name, word, form),
                        file_name(evaluation, word, form),
                        on_click="ignore",
                        key=f"{word}-{form}",
                        type="primary" if (word, form) == ("program", "pdf") else "secondary",
                    )
    with right, st.container(key="paper"):
        drawing(verbs.render(verbs.sheet(evaluation), ".svg"), None, lambda: None, key="preview")
