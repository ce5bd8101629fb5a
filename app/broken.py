"""A file with problems: its text to be mended, a note for each, and a button where the mend is one value.

Nothing is drawn from a text that does not read; a drawing from before it broke stays, and says so.
"""

from __future__ import annotations

import re
from collections import Counter
from typing import Literal

import streamlit as st

from app import state
from app.answers import place_called
from app.answers_view import answers as show
from app.drawing_view import drawing
from app.shell import download, escaped, questions
from app.text_view import editor
from schematic import verbs
from schematic.export.report import plural
from schematic.wellfile.problem import InputError, Problem

_MOST = 20  # notes on the page
_DEPTHS = ("top", "shoe", "to", "from", "lap", "length", "off bottom", "planned top", "md", "at")
_LONGEST_LABEL = 40
_NO_ENTRY = ", which is not a key here"


def rewritten(text: str, problem: Problem) -> tuple[str, str] | None:
    """What of a problem's line is written how instead; None where that is for a person to say."""
    quoted = re.match(r"'([^']+)'", problem.found)
    near = re.search(r"did you mean '([^']+)'\?", problem.mend)
    if near:
        key = quoted and "not a key" in problem.found
        return (quoted[1] if quoted and key else problem.found), near[1]
    plain = re.match(r"write '([^']+)'(;|$)", problem.mend)
    if plain and quoted:
        return quoted[1], plain[1]
    comment = re.match(r'quote the text: ("([^"]+)")', problem.mend)
    if comment:
        return comment[2], comment[1]
    unit = _usual_unit(text, problem) if problem.mend.startswith("a number without a unit") else None
    return (problem.found, f"{problem.found} {unit}") if unit else None


def _usual_unit(text: str, problem: Problem) -> str | None:
    """The unit that the file writes most with the key of a problem, else with its depths."""
    key = problem.path.rpartition(".")[2]
    for keys in ((key,), _DEPTHS if key in _DEPTHS else ()):
        words = "|".join(map(re.escape, keys))
        units = re.findall(rf"\b(?:{words}): +[\d./ ]*\d *([A-Za-z%][\w/%]*)", text) if words else []
        if units:
            return str(Counter(units).most_common(1)[0][0])
    return None


def mended(text: str, problem: Problem, name: str) -> tuple[str, str] | None:
    """The text with one problem mended, and what is written for that; None where there is no such text."""
    change = rewritten(text, problem)
    lines = text.split("\n")
    if change is None or not 0 < problem.line <= len(lines):
        return None
    line = lines[problem.line - 1]
    places = [at.start() for at in re.finditer(rf"(?<!\w){re.escape(change[0])}(?!\w)", line)]
    if not places:
        return None
    at = min(places, key=lambda place: abs(place - (problem.column - 1)))
    lines[problem.line - 1] = line[:at] + change[1] + line[at + len(change[0]) :]
    made = "\n".join(lines)
    left = state.problems(made, name)
    still = [one for one in left.problems if one.path == problem.path] if left else []
    return None if still else (made, change[1])


def mend_all(text: str, name: str) -> str:
    """The text with every problem mended that can be by writing one value."""
    error = state.problems(text, name)
    while error:
        made = next(filter(None, (mended(text, one, name) for one in error.problems[:_MOST])), None)
        if made is None:
            break
        text = made[0]
        error = state.problems(text, name)
    return text


def _typed() -> None:
    """Take in what was typed, once: before any button that was pressed right after it does its work.

    The next click can stop this wherever it touches the state of the page, so the turn is noted last.
    """
    typed = (st.session_state.get("text") or {}).get("typed")
    if typed and typed["turn"] != st.session_state.get("turn"):
        text = _line_ends(typed["text"], state.current())
        (state.take if typed.get("left") else state.put_off)(text)
        st.session_state.turn = typed["turn"]


def _line_ends(typed: str, before: str) -> str:
    """A browser's text with the line ends that the file had."""
    return typed.replace("\n", "\r\n") if "\r\n" in before else typed


def _mend(problem: Problem) -> None:
    """Write what mends a problem, unless the text is by now another."""
    _typed()
    made = mended(state.current(), problem, st.session_state.demo)
    if made is not None:
        state.take(made[0])


def _mend_all() -> None:
    """Write all that can be mended by writing one value."""
    _typed()
    state.take(mend_all(state.current(), st.session_state.demo))


def _read_again() -> None:
    """Read the text as it stands; when it reads, its drawing comes by itself."""
    _typed()
    state.take(state.current())


def _undo() -> None:
    """Take the last mend back, or what was typed last."""
    _typed()
    state.undo_mend()


def _go_to(line: int) -> None:
    """Put the cursor into a line."""
    st.session_state.goto = (line, (st.session_state.get("goto") or (0, 0))[1] + 1)


def _note(number: int, problem: Problem) -> dict[str, object]:
    """A problem as a slip: line, what was found, where, what is accepted, the mend."""
    place = f"Line {problem.line}: " if problem.line else ""
    unknown = problem.found.endswith(_NO_ENTRY)
    found = f"no such entry here: {problem.found.removesuffix(_NO_ENTRY)}" if unknown else problem.found
    return {
        "kind": "slip",
        "sign": "warning",
        "letter": str(number),
        "head": f"{place}{found}",
        "lines": [
            *([f"Field: {place_called(problem.path)}"] if problem.path else []),
            *([] if unknown and "did you mean" in problem.mend else [f"Accepted: {problem.accepted}"]),
            f"Mend: {problem.mend}",
        ],
        "quiet": [f"In the file: {problem.path}"] * bool(problem.path),
    }


def _bar(text: str, error: InputError | None, mendable: bool) -> None:
    """The name, how many problems, and what can be done with the whole text: where nothing is *mendable* by
    a button, it is read again.
    """
    count = len(error.problems) if error else 0
    name = st.session_state.demo
    drawn = "the drawing is older" if name in st.session_state.texts else "nothing drawn"
    told = f"{plural(count, 'problem')}: {drawn}, text kept" if count else "No problem left: read it again"
    with st.container(horizontal=True, vertical_alignment="center", wrap=False, key="ahead-of-all"):
        block = {"kind": "bar", "name": name, "state": "", "kept": st.session_state.unkept or told}
        show("broken-bar", [{**block, "changed": True}])
        back = "Back to the text that reads" if name in st.session_state.texts else "Other file"
        st.button("Undo", on_click=_undo, disabled=not state.can_undo_mend(), shortcut="Alt+Z")
        st.button(back, on_click=state.go_back)
        download(label="Download as it is")
        kind: Literal["primary", "secondary"] = "secondary" if mendable else "primary"
        st.button("Read again", on_click=_read_again, type=kind, shortcut="Ctrl+Enter")
    questions()


def _last_drawing() -> None:
    """The drawing of the last text that did read, and when that was."""
    at = st.session_state.broke[st.session_state.demo]
    told = f"Drawing of the text as it was at {at:%H:%M}"
    pages = verbs.render(verbs.view(state.evaluation(), "fitted"), ".svg")
    drawing(pages, None, lambda: None, key="last-drawing", band=told)


def page() -> None:
    """The page, in place of any other while the well on screen does not read."""
    name, text = st.session_state.demo, state.current()
    error = state.problems(text, name)
    listed = error.problems if error else ()
    mends = [mended(text, one, name) for one in listed[:_MOST]]
    mendable = sum(made is not None for made in mends)
    _bar(text, error, mendable > 0)
    if name in st.session_state.texts:
        before, left, right = st.columns([0.36, 0.36, 0.28])
        with before:
            _last_drawing()
    else:
        left, right = st.columns([0.55, 0.45])
    marks: dict[int, str] = {}
    for number, one in enumerate(listed, 1):
        marks.setdefault(one.line, str(number))
    with left, st.container(key="paper"):
        goto = st.session_state.get("goto")
        editor(text.replace("\r\n", "\n"), marks, _typed, goto, key="text")
    with right:
        if mendable > 1:
            label = f"Mend all {mendable}" if mendable == len(listed) else f"Mend these {mendable}"
            with st.container(key="ahead-mend"):
                st.button(label, on_click=_mend_all, type="primary")
        for number, (one, made) in enumerate(zip(listed, mends, strict=False), 1):
            show(f"problem-{number}", [_note(number, one)])
            with st.container(horizontal=True, vertical_alignment="center"):
                if made is not None:
                    label = escaped(f"Write {made[1][:_LONGEST_LABEL]}")
                    only: Literal["primary", "secondary"] = "primary" if mendable == 1 else "secondary"
                    st.button(label, on_click=_mend, args=(one,), key=f"mend-{number}", type=only)
                if one.line:
                    label = f"Go to line {one.line}"
                    st.button(label, on_click=_go_to, args=(one.line,), key=f"go-{number}")
        if len(listed) > _MOST:
            st.text(f"And {len(listed) - _MOST} more: they come when these are mended.")
        st.text("Download it first if you want it as it is. After the last mend the drawing comes by itself.")
