"""The state of a tab: the texts of its wells, each with its earlier states, and the last edit's answer.

The state is text alone; every change, however it was made, is one more text, so that undo is one step back.
"""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from app import answers
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.wellfile import edit
from schematic.wellfile.path import PathError
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import Document

state = st.session_state


def begin() -> None:
    """Fill the state of a new tab with the demo wells."""
    if "texts" not in state:
        state.texts = {name: [text] for name, text in verbs.demos().items()}  # each with its earlier states
        state.problem = []
    state.setdefault("demo", next(iter(state.texts)))
    state.setdefault("scale", "Fitted")


def forget_problem() -> None:
    """Another well begins without the message about the last one's value."""
    state.problem = []


def texts() -> list[str]:
    """The states of the well on screen, the latest last."""
    found: list[str] = state.texts[state.demo]
    return found


def document() -> Document:
    """The well on screen, read."""
    return verbs.load_text(texts()[-1], state.demo)


def evaluation() -> Evaluation:
    """The well on screen, evaluated."""
    return verbs.check(document())


def change(made: Callable[[str], str]) -> bool:
    """Put an edit of the text in the place of the text; what does not read is told, and the text stays."""
    its = texts()
    try:
        text = made(its[-1])
        verbs.check(verbs.load_text(text, state.demo))
    except InputError as error:
        state.problem = answers.refused(error.problems)
        return False
    except (edit.EditError, PathError) as error:
        state.problem = answers.refused(str(error))
        return False
    state.problem = []
    if text != its[-1]:
        its.append(text)
    return True


def undo() -> None:
    """Take the last change back."""
    if len(texts()) > 1:
        texts().pop()
    state.problem = []
