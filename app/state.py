"""The state of a tab: the texts of its wells, each with its earlier and later states, and what is kept.

The state is text alone; every change, however it was made, is one more text, so that undo is one step back.
A text that does not read waits in a place of its own until it is mended; nothing is drawn from it.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from datetime import datetime
from functools import lru_cache
from pathlib import Path

import streamlit as st

from app import answers
from app.draft import Draft, Kept, found, text_of
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.comparison.written import Written, written
from schematic.export.report import plural
from schematic.wellfile import edit, tree
from schematic.wellfile.files import write_atomically
from schematic.wellfile.path import PathError
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import Document, read_text

FILE = "LAPLINE_FILE"  # in the environment: the well file that was given on the command line

BOX = "read-"  # with that begins the name of a box for a reading
INPUT = "input-"  # and of a field of a part

_LONGEST_CHANGE = 70
_TELLING = ("name", "part", "what", "md", "tvd")  # the key that a row of a list has if it is there at all

state = st.session_state


def begin() -> None:
    """Fill the state of a new tab with the demo wells and the file of the command line."""
    if "texts" not in state:
        state.texts = {}  # each with its earlier states, the latest last
        state.later = {}  # what was undone, the next to come back last
        state.saved = {}  # the text that lies outside of this tab: on disk, uploaded or downloaded
        state.broken = {}  # of texts that do not read, likewise
        state.broke = {}  # when the text of a well that was drawn ceased to read
        state.origin = {}  # demo, file, uploaded or sketched
        state.problem = []
        state.in_percent = []  # of what was refused: the place of a share without its unit, and it in percent
        state.unkept = ""
        state.draft = None  # of the file that was given on the command line
        state.offered = []
        state.boxes = {}  # what was typed and not kept, by the name of its box
        state.steps = {}  # the step of the job that each well is at
        state.turned_to = None  # the well that step and choice are of
        state.boxed = {}  # what the boxes of other pages chose, by their keys
        state.there = {}  # the number of the run that a box was last in, by its key
        state.runs = state.ended = 0  # the numbers of this run and of the last one that came to its end
        state.view, state.view_from = "", 0  # the page on screen, and the run with which it came
        for name, text in verbs.demos().items():
            add(name, text, "demo")
        state.demo = next(iter(state.texts), None)
        if os.environ.get(FILE):
            _open(Path(os.environ[FILE]))
        state.turned_to = state.demo
    _keep_up()
    # what was typed outlives its box
    state.boxes |= {key: text for key, text in state.items() if str(key).startswith((BOX, INPUT))}
    state.runs += 1
    _turn()


def _turn() -> None:
    """Each well keeps its step; one that comes on screen begins with the first, and with nothing chosen."""
    if state.turned_to == state.demo:
        state.steps[state.demo] = state.get("step", state.steps.get(state.demo, 1))
        return
    state.step = state.steps.get(state.demo, 1)
    state.chosen = state.finding = state.left = None
    state.turned_to = state.demo  # last: what was stopped before is done anew


def turned(view: str) -> None:
    """Another page comes on screen: none of its boxes is there yet, even if the last run was stopped."""
    if state.view != view:
        state.view_from = state.runs
        state.view = view  # last: what was stopped before is done anew


def ended() -> None:
    """The run came to its end: all boxes of the page were in it."""
    state.ended = state.runs


def box(key: str, value: object) -> None:
    """Say what the box of a key is to show, before it is made.

    A box that is on the page and shows it is left alone: what is said is sent to the page, and would come
    there after the next press and over it.
    """
    there = key in state and state.there.get(key, -1) >= max(state.ended, state.view_from)
    if not there or state[key] != value:
        state[key] = value
    state.there[key] = state.runs


def outlives(key: str, first: str) -> str:
    """What a box chose, which its page forgets with the box; *first* where it chose nothing yet."""
    state.boxed[key] = state.get(key, state.boxed.get(key, first))
    value: str = state.boxed[key]
    box(key, value)
    return value


def typed(key: str) -> str:
    """What was typed into a box that may not be on the page, and was not kept."""
    text: str = state.boxes.get(key, "")
    return text


def _open(file: Path) -> None:
    """Show the file of the command line, and offer what was kept beside it."""
    text = text_of(Path(os.path.realpath(file)))
    if text is None:
        state.unkept = f"{file.name} cannot be read"
        return
    text = text.removeprefix("\ufeff")
    state.draft = Draft(file)
    _make_room(file.name)
    state.demo = state.draft_of = _free(file.name)
    add(state.draft_of, text, "file")
    state.offered = [kept for kept in found(file) if kept.text != text]


def _free(name: str) -> str:
    """A name that no other well of this tab has."""
    path, number = Path(name), 1
    while name in state.origin:
        number += 1
        name = f"{path.stem} ({number}){path.suffix}"
    return name


def _make_room(name: str) -> None:
    """A demo well gives up its name to a well of the user's."""
    if state.origin.get(name) != "demo":
        return
    path = Path(name)
    new = _free(f"{path.stem} (demo){path.suffix}")
    its = (state.texts, state.later, state.saved, state.broken, state.broke, state.origin, state.steps)
    for held in its:
        if name in held:
            held[new] = held.pop(name)
    if state.turned_to == name:
        state.turned_to = new
    if state.demo == name:
        state.demo = new


def add(name: str, text: str, origin: str) -> str:
    """Take a well into the tab, under its name or the next free one; gives the name it has now."""
    if origin != "demo":
        _make_room(name)
    name = _free(name)
    state.origin[name], state.saved[name], state.later[name] = origin, text, []
    if origin == "demo" or not problems(text, name):
        state.texts[name] = [text]
    else:
        state.broken[name] = [text]
    return name


def show(name: str) -> None:
    """Put another well on screen."""
    state.demo = name
    state.problem = []


def forget_problem() -> None:
    """Another well begins without the message about the last one's value."""
    state.problem = []


def texts() -> list[str]:
    """The states of the well on screen, the latest last."""
    found: list[str] = state.texts[state.demo]
    return found


def later() -> list[str]:
    """What was undone of the well on screen, the next to come back last."""
    found: list[str] = state.later.setdefault(state.demo, [])
    return found


def read(text: str, name: str) -> Document:
    """A text as the well of that name: files beside it are found for the file of the command line alone.

    Raises
    ------
    InputError
        With all problems of the text.
    """
    draft = state.get("draft")
    folder = draft.file.parent if draft and name == state.draft_of else None
    return read_text(text, name, folder)


def checked(text: str, name: str) -> tuple[Document, Evaluation]:
    """A text read and evaluated; the last one is kept, as a change asks for it before the page does.

    Raises
    ------
    InputError
        With all problems of the text.
    """
    key, document, evaluation = state.get("checked", (None, None, None))
    if key != (text, name):
        document = read(text, name)
        evaluation = verbs.check(document)
        if document.folder is None:  # else a file beside it may be another by now
            state.checked = ((text, name), document, evaluation)
    return document, evaluation


def problems(text: str, name: str) -> InputError | None:
    """What is wrong with a text; None when it can be drawn."""
    try:
        checked(text, name)
    except InputError as error:
        return error
    return None


def document() -> Document:
    """The well on screen, read."""
    return checked(texts()[-1], state.demo)[0]


def evaluation() -> Evaluation:
    """The well on screen, evaluated."""
    return checked(texts()[-1], state.demo)[1]


def change(made: Callable[[str], str]) -> bool:
    """Put an edit of the text in the place of the text; what does not read is told, and the text stays."""
    its, state.in_percent = texts(), []
    try:
        text = made(its[-1])
        checked(text, state.demo)
    except InputError as error:
        state.problem = answers.refused(error.problems)
        state.in_percent = [(one.path, text) for one in error.problems if (text := answers.in_percent(one))]
        return False
    except (edit.EditError, PathError) as error:
        state.problem = answers.refused(str(error))
        return False
    state.problem = []
    if text != its[-1]:
        _put(its, text, later())
        keep()
    return True


def _put(its: list[str], text: str, to_come: list[str]) -> None:
    """One more text, and nothing to redo; at once, as the next click can stop a callback."""
    its.append(text)
    to_come.clear()


def undo() -> None:
    """Take the last change back."""
    if len(texts()) > 1:
        _part_with(texts()[-1])
        later().append(texts().pop())
        keep()
    state.problem = []


def redo() -> None:
    """Make the change again that was taken back last."""
    if later():
        _part_with(later()[-1])
        texts().append(later().pop())
        keep()
    state.problem = []


def told(which: str) -> str:
    """What undo or redo would do, in words; which of the two is the first of them."""
    its, to_come = texts(), later()
    if which == "Undo":
        return f"Undo: {in_words(its[-1], its[-2])}" if len(its) > 1 else "Nothing to undo"
    return f"Redo: {in_words(its[-1], to_come[-1])}" if to_come else "Nothing to redo"


@lru_cache(maxsize=64)
def _between(old: str, new: str) -> tuple[Written, ...]:
    return written(tree.parse(old, ""), tree.parse(new, ""))


def since_opened() -> tuple[Written, ...]:
    """What is written otherwise than in the file as it was opened, or saved last."""
    its = texts()
    saved = state.saved.get(state.demo, its[0])
    return _between(saved if saved in its or state.demo not in state.broke else its[0], its[-1])


def in_words(old: str, new: str, most: int = 2) -> str:
    """What is written otherwise in a text than in another: the first changes, and how many more."""
    its = _changes(old, new)
    if not its:
        return "remarks or layout"
    first = [one if len(one) <= _LONGEST_CHANGE else f"{one[: _LONGEST_CHANGE - 1]}…" for one in its[:most]]
    more = len(its) - most
    return "; ".join([*first, *([f"and {more} more"] if more > 0 else [])])


@lru_cache(maxsize=64)
def _changes(old: str, new: str) -> tuple[str, ...]:
    """What is written otherwise: ``lap 120 m to 130 m``, ``take out option short lap``. A row that is new or
    gone as a whole is one change.
    """
    between = _between(old, new)
    rows = {  # where each stands, and whether it is new
        (f"{place}.", bool(one.new))
        for one in between
        if not (one.old and one.new)
        for place, _, key in [one.path.rpartition(".")]
        if key in _TELLING
    }
    told: dict[tuple[str, bool], str] = {}
    for one in between:
        called, is_new = answers.value_called(one.path), bool(one.new)
        does = "add" if is_new else "take out"
        row = next((row for row, side in rows if side is is_new and one.path.startswith(row)), "")
        if one.old and one.new:
            told[one.path, is_new] = f"{called} {one.old} to {one.new}"
        elif row:
            its = {it.path.removeprefix(row): it.new or it.old for it in between if it.path.startswith(row)}
            told[row, is_new] = f"{does} {_row_called(row, its)}"
        else:
            told[one.path, is_new] = f"{does} {called} {one.new or one.old}"
    return tuple(told.values())


def _row_called(row: str, its: Mapping[str, str]) -> str:
    """A row by its values: a reading, an option, any other by its place."""
    if row.startswith("record"):
        at = f" at {its['at']}" if "at" in its else ""
        return f"reading {its.get('what', '')} {its.get('value', '')}{at}"
    return f"option {its['name']}" if row.startswith("options.") else answers.value_called(row.rstrip("."))


def changes() -> int:
    """How many steps lie between the text on screen and the one that is saved."""
    its, saved = texts(), state.saved.get(state.demo, texts()[0])
    if its[-1] == saved:
        return 0
    for states in (its[::-1], [its[-1], *later()[::-1]]):
        if saved in states:
            return states.index(saved)
    return max(1, len(its) - 1)


def kept() -> tuple[str, bool]:
    """The save state in words, and whether something would be lost with this tab."""
    count, origin = changes(), state.origin.get(state.demo, "demo")
    if origin == "file" and state.unkept:
        return state.unkept, True
    if count == 0:
        return {
            "file": "Saved",
            "uploaded": "As uploaded",
            "downloaded": "As downloaded",
            "sketched": "Sketch, only in this tab",
        }.get(origin, "Demo well: change it freely"), origin == "sketched"
    place = "draft kept" if origin == "file" else "only in this tab"
    return f"{plural(count, 'change')}, {place}", True


def downloaded() -> None:
    """The text on screen now lies outside of this tab."""
    if state.origin[state.demo] != "file":
        state.origin[state.demo] = "downloaded"
        state.saved[state.demo] = current()


def current() -> str:
    """The text of the well on screen, be it one that does not read."""
    text: str = state.broken[state.demo][-1] if state.demo in state.broken else texts()[-1]
    return text


def newest() -> Callable[[], str]:
    """The same when it is called, by whatever thread: a button comes behind the drawing, and may be pressed
    when it is that of the text before.
    """
    its: list[str] = state.broken[state.demo] if state.demo in state.broken else texts()
    return lambda: its[-1]


def keep() -> None:
    """Keep the text of the command line's file as a draft, or drop the draft of what is saved."""
    if state.origin.get(state.demo) != "file":
        return
    text = current()
    state.unkept = ""
    try:
        if text == state.saved[state.demo]:
            state.draft.drop()
        else:
            for found_before in [one for one in state.offered if one.text == text]:
                state.draft.take_over(found_before)
            state.draft.keep(text)
    except OSError as error:
        state.unkept = f"Not kept: {error.strerror or error}"
    state.offered = [one for one in state.offered if one.text != text]  # it is on screen


def _part_with(text: str) -> None:
    """Leave what is kept of the screen as a draft of its own, where *text* is a draft that was gone on with:
    it goes from the screen or comes back there by one step, and neither of the two is lost.
    """
    if state.draft and state.demo == state.draft_of and text in state.draft.gone_on:
        _let_be()


def _let_be() -> None:
    """Offer what is kept of the screen as a draft that was found."""
    mine = state.draft.mine()
    if mine:
        state.offered = [*state.offered, mine]
    state.draft.let_be()


def _keep_up() -> None:
    """Keep what a callback put in that was stopped before it kept it."""
    kept = (state.saved[state.demo], state.draft.written) if state.origin.get(state.demo) == "file" else None
    if kept and current() not in kept:
        keep()


def on_disk() -> str | None:
    """What the command line's file holds, when that is not what was read from it or saved to it last."""
    if state.origin.get(state.demo) != "file":
        return None
    text = text_of(Path(os.path.realpath(state.draft.file)))
    if text is None:
        return None
    text = text.removeprefix("\ufeff")
    return None if text == state.saved[state.demo] else text


def save() -> None:
    """Write the text on screen into the command line's file and drop its draft; never over a newer text."""
    if on_disk() not in (None, texts()[-1]):
        return  # the bar asks which of the two is to stay
    try:
        write_atomically(state.draft.file, texts()[-1])
    except OSError as error:
        state.unkept = f"Not saved: {error.strerror or error}"
        return
    state.saved[state.demo] = texts()[-1]
    keep()


def read_disk() -> None:
    """Take what the file holds now as one more change, so that undo brings mine back."""
    text = on_disk()
    if text is not None:
        state.saved[state.demo] = text
        take(text)


def keep_mine() -> None:
    """Stay with the text on screen: saving writes it over what the file holds now."""
    text = on_disk()
    if text is not None:
        state.saved[state.demo] = text
        keep()


def take(text: str) -> bool:
    """Put a whole text in the place of the text; one that does not read waits to be mended."""
    reads = problems(text, state.demo) is None
    if reads:
        its = state.texts.setdefault(state.demo, [])
        if not its or its[-1] != text:
            _put(its, text, later())
        state.broken.pop(state.demo, None)  # after that, as this can be stopped between the two
        keep()
    else:
        put_off(text)
    state.problem = []
    return reads


def put_off(text: str) -> None:
    """A text that is not to be read yet waits to be mended."""
    its = state.broken.setdefault(state.demo, [])
    if not its:
        state.broke[state.demo] = datetime.now().astimezone()
    if not its or its[-1] != text:
        its.append(text)
    keep()


def can_undo_mend() -> bool:
    """Whether the text that waits to be mended was another before."""
    return len(state.broken.get(state.demo, ())) > 1


def undo_mend() -> None:
    """Take back the last change of a text that waits to be mended."""
    if can_undo_mend():
        state.broken[state.demo].pop()
        keep()


def go_back() -> None:
    """Leave a text that does not read for the last one that did, or for another well."""
    if state.demo in state.texts:
        _part_with(state.broken[state.demo][0])
        state.broken.pop(state.demo, None)
        keep()
    else:
        show(next(iter(state.texts)))


def go_on(kept: Kept) -> None:
    """Go on with a draft that was found, as it lies there now; what is on screen becomes one."""
    text = text_of(kept.place)
    if text is None:
        state.offered = [one for one in state.offered if one != kept]
        state.unkept = "Not kept: the draft is gone"
        return
    show(state.draft_of)
    keep()
    if state.unkept:
        return  # what is on screen lies nowhere else
    state.draft.gone_on.add(text)
    _let_be()
    state.offered = [kept._replace(text=text) if one == kept else one for one in state.offered]
    take(text)


def differs(kept: Kept) -> str:
    """How many changes a draft that was found holds; whose draft it is, where they cannot be counted."""
    try:
        return plural(max(1, len(_changes(state.saved[state.draft_of], kept.text))), "change")
    except InputError:
        return str(state.draft_of)


def draft_told(number: int) -> str:
    """Which of the drafts that were found one is: when it was kept, what it holds."""
    kept, of = state.offered[number], state.draft_of
    try:
        holds = f"{differs(kept)}: {in_words(state.saved[of], kept.text, 1)}"
    except InputError:
        holds = "it does not read"
    one = f"Draft {number + 1}" if len(state.offered) > 1 else "Draft"
    stays = " What is on screen then stays as a draft of its own." if state.draft.place else ""
    return f"{one} of {of}, {kept.at:%H:%M} ({age(kept.at)}), {holds}.{stays}"


def ask_to_drop(place: Path | None) -> None:
    """Ask whether the draft at a place is to be dropped; None asks about none."""
    state.dropping = place


def drop(kept: Kept) -> None:
    """Drop a draft that was found; there is no way back."""
    Draft(state.draft.file, kept.place, kept.text).drop()
    state.offered = [one for one in state.offered if one != kept]


def age(at: datetime) -> str:
    """How long ago something was."""
    minutes = int((datetime.now().astimezone() - at).total_seconds() // 60)
    if minutes < 60:
        return f"{max(minutes, 0)} min ago"
    return f"{minutes // 60} h ago" if minutes < 48 * 60 else f"{at:%d %b %Y}"
