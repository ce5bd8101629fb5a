"""Plan: the drawing live, findings, and below them what was chosen and what can be changed."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Any, Literal

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from app import answers, inspector, limits_slider, needs, state, tables
from app.accept import accept
from app.answers_view import answers as show
from app.drawing_view import chosen as clicked
from app.drawing_view import drawing
from app.findings_view import findings_list, leaves_by_escape, rows_list
from app.inspector import Choice, Field
from app.limits_slider import Input, Limits, Sample
from app.shell import bar, escaped
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.checks.remedies import Remedy, remedies
from schematic.comparison import options
from schematic.comparison.sweep import string_along
from schematic.comparison.written import Written
from schematic.drawing.findings import letters
from schematic.drawing.scene import Sheet
from schematic.drawing.screen import View
from schematic.export import CAUTION
from schematic.export.report import plural
from schematic.outcome import Found, NotChecked, Outcome, Severity
from schematic.units import sentence_case
from schematic.wellfile import edit, nodes
from schematic.wellfile.read import Document

_PANELS = ("Depths", "Part", *tables.PANELS)
# what a slider moves: its box, then the paths that may hold it, each with its words and the ends of the scale
# as shares of the value
_DEPTHS: tuple[tuple[str, tuple[tuple[str, str, float, float], ...]], ...] = (
    (
        "lap",
        (
            ("liner.lap", "Lap, liner top to host shoe", 0.0, 2.5),
            ("liner.top", "Liner top", 0.9, 1.05),
        ),
    ),
    (
        "shoe",
        (
            ("liner.off bottom", "Off bottom, liner shoe to hole bottom", 0.0, 5.0),
            ("liner.shoe", "Liner shoe", 0.95, 1.02),
        ),
    ),
    ("excess", (("cement.excess.open hole", "Excess on open hole", 0.0, 3.0),)),
)
_VIEWS: dict[str, View] = {
    "Fitted depths": "fitted",
    "True scale": "true",
    "Liner top": "liner top",
    "Shoe track": "shoe track",
}
_SHEET = "Sheet"  # as it is printed
_MOST_TRACKS = 12  # kept in a tab
_MOST_MENDED = 40
_MOST_NAMED = 2  # values in the name of an option
_NO_PART = ("well.", "options", "record", "waived")  # of the plan: no option is about it


def page() -> None:
    """The page."""
    document, evaluation = state.checked(state.texts()[-1], state.state.demo)
    shows = state.outlives("plan-view", "Fitted depths")
    sheet = verbs.sheet(evaluation) if shows == _SHEET else verbs.view(evaluation, _VIEWS[shows])
    pages = verbs.render(sheet, ".svg")
    these = inspector.choices(document, evaluation.plan)
    follow(these)
    settle(evaluation)
    top = st.container()
    left, right = st.columns([0.58, 0.42])
    with left, st.container(key="paper"):
        above = st.container(horizontal=True, vertical_alignment="center", key="next")
        marked = drawn(sheet, st.session_state.chosen, told_there(evaluation, sheet))
        drawing(pages, marked, lambda: None, whole=shows == _SHEET)
    with above:  # after the drawing, which is waited for
        st.segmented_control(
            "View",
            [*_VIEWS, _SHEET],
            key="plan-view",
            required=True,
            label_visibility="collapsed",
        )
        st.space("stretch")
        next_action(document, evaluation, these)
    with top:
        bar(evaluation)
    with right:
        findings(document, evaluation, these)
        st.segmented_control(
            "Panel",
            _PANELS,
            key="panel",
            required=True,
            label_visibility="collapsed",
            width="stretch",
            wrap=True,
        )
        with st.container():
            if st.session_state.problem:
                show("told", st.session_state.problem)
        with st.container(key="ahead-refused"):
            if st.session_state.problem:
                way_on_refused()
        panel = st.session_state.panel
        if panel == "Depths":
            depths(document, evaluation, these)
            wanted(document, evaluation, these)
            show("below", answers.figures(evaluation))
        elif panel == "Part":
            part(document, evaluation, sheet, these)
        else:
            tables.table_panel(document, evaluation, panel, these)
        st.text(CAUTION)


def next_action(document: Document, evaluation: Evaluation, these: list[Choice]) -> None:
    """What to do next, while no finding is open and nothing was moved that could be kept."""
    session = st.session_state
    pages = session.get("pages", {})
    if session.finding:
        return
    its = letters(evaluation)
    # for what was refused, or what is to be kept first
    waits = bool(session.problem) or (session.panel == "Depths" and any(map(_is_depth, moved()[0])))
    kind: Literal["primary", "secondary"] = "secondary" if waits else "primary"
    open_list = session.get("unchecked") or not its
    first_input = needs.first(document, evaluation, these) if open_list else None
    if first_input:
        words = f"Fill in: {escaped(first_input.words)}"
        st.button(words, on_click=needs.go, args=(first_input,), help=escaped(first_input.told), type=kind)
    elif its:
        letter, first = its[0]
        names = answers.name_of(first), first.subject.path
        st.button(f"Look at finding {letter}", on_click=choose_finding, args=names, type=kind)
    elif "Run" in pages and st.button("Go to Run", type=kind):
        st.switch_page(pages["Run"])


def way_on_refused() -> None:
    """The way on without a value that was not taken; a box where it was typed keeps it till then."""
    kind: Literal["primary", "secondary"] = "secondary" if st.session_state.finding else "primary"
    before = [
        held[2]
        for box, _paths in _DEPTHS
        if (held := st.session_state.get(f"shown-{box}")) and st.session_state.get(box, held[2]) != held[2]
    ]
    words = escaped(f"Keep {before[0]}") if len(before) == 1 and before[0] else "Go on with the value before"
    with st.container(horizontal=True):
        for path, text in st.session_state.in_percent:
            st.button(escaped(f"Write {text}"), on_click=_write, args=(path, text), key=f"percent-{path}")
        st.button(words, on_click=leave_refused, type=kind, help="Or mend it in its box")


def _write(path: str, text: str) -> None:
    """Put a share that lacked its unit into the text."""
    leave_refused()
    state.change(lambda before: edit.set(before, path, text))


def leave_refused() -> None:
    """Show the boxes as the file has them, and say no more of what was not taken."""
    for box, _paths in _DEPTHS:
        st.session_state.pop(f"shown-{box}", None)  # else it would be taken for a value still to come
    state.forget_problem()


def follow(these: list[Choice]) -> None:
    """Take up what was clicked in the drawing since the last run, and show where it can be read."""
    session = st.session_state
    session.setdefault("chosen", None)
    panel = state.outlives("panel", "Depths")
    held, cleared = clicked(), (session.get("drawing") or {}).get("cleared", "")
    if (held, cleared) == session.get("clicked", (None, "")):
        state.box("panel", panel)
        return
    if held is not None:
        session.chosen = {"part": held["part"], "title": held["title"]}
        panel = tables.panel_of(inspector.chosen_among(these, held["part"]), panel)
    elif cleared and cleared != session.get("clicked", (None, ""))[1]:  # not what it begins with
        choose_finding(None)
    session.clicked = (held, cleared)
    state.box("panel", panel)


def settle(evaluation: Evaluation) -> None:
    """A finding that is open and gone closes; where a remedy cleared it the next one that is left opens."""
    session = st.session_state
    found = {answers.name_of(outcome): outcome for _letter, outcome in letters(evaluation)}
    name = session.get("finding")
    if name in found:
        return
    gone, left = session.get("then", (None, None))
    if name is not None and name == gone:
        choose_finding(left, found[left].subject.path) if left in found else choose_finding(None)
    else:
        session.finding = None


def told_there(evaluation: Evaluation, sheet: Sheet) -> list[str]:
    """What of the drawing tells the finding that is open: its flag and its row; nothing when none is."""
    name = st.session_state.get("finding")
    its = next(((at, one) for at, one in letters(evaluation) if answers.name_of(one) == name), None)
    if its is None or (st.session_state.chosen or {}).get("part") != its[1].subject.path:
        return []

    def bare(text: str) -> str:
        return "".join(text.split()).casefold()

    flag, row = bare(f"Finding {its[0]}"), bare(answers.headline(its[1], evaluation.plan.identity.system))
    titles = {group.title for scene in sheet.scenes for group in scene.groups}
    return sorted(title for title in titles if bare(title) == flag or bare(title).startswith(row))


def drawn(sheet: Sheet, chosen: dict[str, str] | None, only: list[str]) -> dict[str, Any] | None:
    """What the drawing marks: the chosen thing, or what it is drawn as a part of; of its words some alone."""
    if chosen is None:
        return None
    there = {group.part for scene in sheet.scenes for group in scene.groups}
    path = chosen["part"]
    while path and path not in there:
        path = path.rpartition(".")[0]
    return {"part": path, "title": chosen["title"], "only": only} if path else None


def findings(document: Document, evaluation: Evaluation, these: list[Choice]) -> None:
    """Counts and the list of findings, or the one that is chosen."""
    session = st.session_state
    found = {answers.name_of(outcome): outcome for _letter, outcome in letters(evaluation)}
    with st.container():  # there or not, so that what comes and goes in it moves nothing to another place
        last_change(document, evaluation)
    way_on = st.container(horizontal=True, vertical_alignment="center", key="ahead-finding")
    if session.finding:
        session.left = session.finding
        with st.container(key="one-finding"):
            one_finding(document, evaluation, found, these, way_on)
        return
    session.unchecked = session.get("unchecked", False)
    said = partial(needs.told, document, evaluation.plan, these)
    if session.unchecked:
        first = needs.waiting(document, evaluation, these)
        rows = answers.unchecked_rows(evaluation, said)
        rows.sort(key=lambda row: row["id"] not in first)  # those of the next action on top
    else:
        rows = answers.found_rows(evaluation)
    findings_list(
        answers.counts(evaluation),
        rows,
        session.unchecked,
        session.get("left"),
        partial(_row_chosen, document, evaluation, these),
        lambda: session.update(unchecked=session.findings["opened"]["unchecked"]),
    )


def _row_chosen(document: Document, evaluation: Evaluation, these: list[Choice]) -> None:
    """A finding opens; of what is not checked the first input that it needs."""
    name = st.session_state.findings["chosen"]["id"]
    outcome = next(one for one in evaluation.outcomes if answers.name_of(one) == name)
    if not isinstance(outcome.answer, NotChecked):
        choose_finding(name, outcome.subject.path)
        return
    needs.go(needs.ways(document, evaluation.plan, these, outcome.answer.missing[0])[0])


def choose_finding(name: str | None, subject: str = "") -> None:
    """A finding that is chosen marks the part it is about; none shows the list again."""
    st.session_state.finding = name
    st.session_state.chosen = {"part": subject, "title": ""} if name else None


def _left_by_escape() -> None:
    if st.session_state["open-finding"]["left"]:  # else it only came back to what it begins with
        choose_finding(None)


def one_finding(
    document: Document,
    evaluation: Evaluation,
    found: dict[str, Outcome],
    these: list[Choice],
    way_on: DeltaGenerator,
) -> None:
    """The chosen finding in full, the way to its fields, the values that would mend it; in *way_on*, which
    stays in sight, the way to the others and the next action.
    """
    name = st.session_state.finding
    outcome = found[name]
    assert isinstance(outcome.answer, Found)
    show("finding-note", answers.found_note(evaluation, name))
    mends = _remedies(document, evaluation, outcome)
    one_value = (
        len(mends) == 1 and not mends[0].brings
    )  # that is the next action, else it is the next finding
    with way_on:
        to_others(name, found, filled=not one_value)
    called = {answers.name_of(one): letter for letter, one in letters(evaluation)}
    for number, one in enumerate(mends):
        (way_on if one_value else st).button(
            escaped(answers.remedy_called(one)),
            type="primary" if one_value else "secondary",
            on_click=mend,
            args=(one, found),
        )
        told = answers.remedy_told(one, called, _mended(document.file), evaluation.plan.identity.system)
        show(f"remedy-{number}", [{"kind": "note", "text": told}])
    its_fields = needs.of_finding(document, evaluation, these, outcome)
    with st.container(horizontal=True, vertical_alignment="center"):
        if outcome.answer.severity is not Severity.ERROR and not outcome.waived:
            words = answers.headline(outcome, evaluation.plan.identity.system)
            if st.button("Accept ...", help="By name and reason; it stays on the sheet with both"):
                accept(outcome, words)
        if its_fields:
            st.text("Look at")
        for way in its_fields:
            st.button(
                escaped(way.told), on_click=needs.go, args=(way,), help="Puts the cursor into the field"
            )
        leaves_by_escape(answers.headline(outcome, evaluation.plan.identity.system), _left_by_escape)


def to_others(name: str, found: dict[str, Outcome], filled: bool) -> None:
    """Buttons to all findings, the one before, the next one; the way on is *filled*."""
    names = list(found)
    at = names.index(name)
    last = at + 1 == len(names)
    kind: Literal["primary", "secondary"] = "primary" if filled and last else "secondary"
    st.button("All findings", on_click=choose_finding, args=(None,), help="Escape does it too", type=kind)
    st.text(f"{_severity(found[name]).value}, {at + 1} of {plural(len(names), 'finding')}")
    for label, to in (("Previous", at - 1), ("Next", at + 1)) if len(names) > 1 else ():
        there = 0 <= to < len(names)
        other = (names[to], found[names[to]].subject.path) if there else ()
        kind = "primary" if filled and there and label == "Next" else "secondary"
        st.button(label, disabled=not there, on_click=choose_finding, args=other, type=kind)


def _severity(outcome: Outcome) -> Severity:
    assert isinstance(outcome.answer, Found)
    return outcome.answer.severity


def _remedies(document: Document, evaluation: Evaluation, outcome: Outcome) -> tuple[Remedy, ...]:
    """The remedies of a finding, worked out once for a text."""
    key = (document.file, document.text, answers.name_of(outcome))
    along = partial(string_along, document)
    if st.session_state.get("remedies", ((), ()))[0] != key:
        st.session_state.remedies = (key, remedies(document, evaluation, outcome, along))
    its: tuple[Remedy, ...] = st.session_state.remedies[1]
    return its


def mend(remedy: Remedy, found: dict[str, Outcome]) -> None:
    """Make the change of a remedy; the next finding that is left comes by itself."""
    gone = [answers.name_of(one) for one in remedy.clears]
    names = list(found)
    at = names.index(st.session_state.finding)
    left = next((name for name in names[at:] + names[:at] if name not in gone), None)
    # first, as the next click can stop a callback: both count for what the change leads to alone
    before = _mended(state.state.demo)
    st.session_state.mended = (state.state.demo, remedy.text, [*gone, *before][:_MOST_MENDED])
    st.session_state.then = (names[at], left)
    state.change(lambda _text: remedy.text)


def _mended(file: str) -> list[str]:
    """The findings of a well that remedies have cleared, the last one first."""
    its: tuple[str, str, list[str]] = st.session_state.get("mended", ("", "", []))
    return its[2] if its[0] == file else []


def last_change(document: Document, evaluation: Evaluation) -> None:
    """What the last change of the text did to the findings; it stays until the next one."""
    session = st.session_state
    file, text, before, told = session.get("followed", ("", "", evaluation, []))
    if file != document.file:
        told = []
    elif text != document.text:
        told = answers.followed(state.in_words(text, document.text), before, evaluation)
    session.followed = (document.file, document.text, evaluation, told)
    if told:
        with st.container(horizontal=True, vertical_alignment="center"):
            show("followed", told)
            if session.get("mended", ("", "", []))[:2] == (document.file, document.text):
                st.button("Undo it", on_click=state.undo, type="tertiary")


def wanted(document: Document, evaluation: Evaluation, these: list[Choice]) -> None:
    """The inputs that checks wait for, each a way to its field; what is not computed for want of one, or
    assumed.
    """
    its = needs.wanted(document, evaluation, these)
    if its:
        st.text("Checks that wait for an input; a row opens its field")
        rows = answers.wanted_rows((way.told, count) for way, count in its)
        rows_list("wanted", "Inputs that checks wait for", rows, partial(_wanted_chosen, its))
    said = partial(needs.told, document, evaluation.plan, these)
    show("open", answers.not_computed(evaluation, said) + answers.assumed(evaluation))


def _wanted_chosen(its: list[tuple[needs.Way, str]]) -> None:
    needs.go(its[int(st.session_state.wanted["chosen"]["id"])][0])


def depths(document: Document, evaluation: Evaluation, these: list[Choice]) -> None:
    """Lap, shoe and excess on sliders with the limits that the checks give, each number beside it; above them
    what was tried is kept or put back, below them stands what follows.
    """
    unknown: list[Input] = []
    worked_out = False
    kept = st.container(key="ahead-kept")  # above the sliders: key figures may reach below a small window
    for box, paths in _DEPTHS:
        written = {path: _written(document, path) for path, *_ in paths}
        path, label, low, high = next((one for one in paths if written[one[0]]), paths[0])
        its = _scaled(document, path, written[path], low, high)
        left, right = st.columns([0.76, 0.24], vertical_alignment="top")
        with left:
            if its is None:
                st.text(
                    f"{label}: {'no slider for ' + written[path] if written[path] else 'not in the file'},"
                    f" so no limits; {'write one number' if written[path] else 'type it'} beside"
                )
            else:
                limits, key = track(document, its, evaluation), f"slide-{path}"
                unknown += [its] if limits is None else []
                worked_out |= limits is not None
                limits_slider.slider(
                    label, its, written[path], limits, partial(slid, key, its), ask_for_limits, key
                )
        with right:
            if not st.session_state.problem:
                again(document, path, box, written[path])
                state.box(box, written[path])
                st.session_state[f"shown-{box}"] = (document.file, path, written[path])
            st.text_input(label, key=box, on_change=partial(change, path, box), label_visibility="collapsed")
    if worked_out:
        set_no_limit(document, evaluation, these)
    said = partial(needs.told, document, evaluation.plan, these)
    show("key-figures", answers.key_figures(evaluation, said))
    with kept:
        asked = tried(limits=bool(unknown))
    if asked or st.session_state.pop("limits-asked", False):
        look(document, unknown)
        st.rerun()


def set_no_limit(document: Document, evaluation: Evaluation, these: list[Choice]) -> None:
    """What the limits leave out for want of an input, and the way to the one that is asked for most."""
    way = needs.first(document, evaluation, these)
    if way:
        count = sum(isinstance(one.answer, NotChecked) for one in evaluation.outcomes)
        with st.container(horizontal=True, vertical_alignment="center"):
            st.text(f"What is not checked sets no limit: {plural(count, 'check')}. Asked for most:")
            st.button(escaped(way.told), on_click=needs.go, args=(way,), type="tertiary", key="no-limit")


def ask_for_limits() -> None:
    """Have the limits worked out once the page is shown."""
    st.session_state["limits-asked"] = True


def again(document: Document, path: str, box: str, written: str) -> None:
    """Take up what was typed where the next click stopped its callback: the box is neither as it was shown
    last, which may be a run ago, nor as it is written.
    """
    typed, shown = st.session_state.get(box), st.session_state.get(f"shown-{box}")
    if typed is None or shown is None or shown[:2] != (document.file, path) or typed in (written, shown[2]):
        return
    change(path, box)
    if state.texts()[-1] != document.text:  # else it is the same value, or it was refused
        st.rerun()


def moved() -> tuple[list[Written], list[Written]]:
    """The values that an option may change and that are not as the file was opened, depths first; what was
    changed along with these in the running string.
    """
    since = [one for one in state.since_opened() if one.old and one.new and not one.path.startswith(_NO_PART)]
    able = options.changeable(state.document()) if since else ()
    depths_ = [one for one in since if _is_depth(one)]
    along = [one for one in since if depths_ and one.path.startswith("running string.")]
    rest = [one for one in since if one.path in able and one not in (*depths_, *along)]
    return [*depths_, *rest], along


def _is_depth(one: Written) -> bool:
    """Whether a value is one of those on the sliders."""
    return any(one.path == path for _box, its in _DEPTHS for path, *_ in its)


def tried(limits: bool) -> bool:
    """Buttons for what was moved: kept as an option beside the plan as it was opened, or put back; and, where
    some are not worked out, for the limits: whether they are asked for.
    """
    session = st.session_state
    its, along = moved()
    busy = session.finding or session.problem
    values = ", ".join(one.old for one in its) if len(its) <= _MOST_NAMED else f"{len(its)} values"
    with st.container(horizontal=True, vertical_alignment="center"):
        st.button(
            "Keep as an option",
            type="primary" if any(map(_is_depth, its)) and not busy else "secondary",
            disabled=not its,
            on_click=keep_as_option,
            args=(its, along),
            help="What was changed becomes an option in the file, and the plan is as it was opened"
            if its
            else "Change a value first: what was changed becomes an option in the file",
        )
        if its:
            st.button(escaped(f"Put back {values}"), type="tertiary", on_click=put_back, args=(its, along))
        asked = limits and st.button("Show the limits")
    text, words = session.get("option-kept", ("", ""))
    if text == state.texts()[-1]:
        with st.container(horizontal=True, vertical_alignment="center"):
            st.text(words)
            if "Compare" in session.get("pages", {}):
                st.page_link(session.pages["Compare"], label="Compare it")
    return asked


def put_back(its: list[Written], along: list[Written]) -> None:
    """Write the values that were moved as they were."""
    state.change(lambda text: _as_opened(text, [*its, *along]))


def _as_opened(text: str, its: list[Written]) -> str:
    for one in its:
        text = edit.set(text, one.path, one.old)
    return text


def keep_as_option(its: list[Written], along: list[Written]) -> None:
    """An option of the values that were moved; the plan itself is as it was opened."""
    name = _name_of(its)

    def made(text: str) -> str:
        text = _as_opened(text, [*its, *along])
        for one in (*its, *along):
            text = options.made(text, name, one.path, one.new)
        return text

    if state.change(made):
        st.session_state["option"] = len(state.document().content.options or ())  # chosen on Compare
        stays = any(not one.path.startswith(_NO_PART) for one in state.since_opened())
        plan = "what was added or taken out stays in the plan" if stays else "the plan is as it was opened"
        words = f"Kept as the option '{name}'; {plan}."
        st.session_state["option-kept"] = (state.texts()[-1], words)


def _name_of(its: list[Written]) -> str:
    """What an option of these values is called, as no other: ``lap 420 ft``, ``lap 420 ft and 4 more``."""
    first = its if len(its) <= _MOST_NAMED else its[:1]
    name = ", ".join(f"{one.path.rpartition('.')[2]} {one.new}" for one in first)
    if first == its:
        return name
    name, number = f"{name} and {len(its) - 1} more", 1
    there = {one.name for one in state.document().content.options or ()}
    while (called := name if number == 1 else f"{name} ({number})") in there:
        number += 1
    return called


def _written(document: Document, path: str) -> str:
    """What the file has at a path; nothing where it has nothing, or no single text."""
    held = nodes.plain(document.root)
    for step in path.split("."):
        held = held.get(step) if isinstance(held, dict) else None
    return held if isinstance(held, str) else ""


def _scaled(document: Document, path: str, written: str, low: float, high: float) -> Input | None:
    """An input on its scale, which stays as it was while the value stays on it."""
    its = limits_slider.input_at(path, written, high, low)
    if its is None:
        return None
    scales: dict[tuple[str, str, str], Input] = st.session_state.setdefault("scales", {})
    before = scales.setdefault((document.file, path, its.unit), its)
    if before.low <= its.value <= before.high:
        return before._replace(value=its.value)
    scales[document.file, path, its.unit] = its
    return its


def change(path: str, box: str) -> None:
    """Put the typed value into the text."""
    typed = st.session_state[box].strip()
    field = Field(tuple(path.split(".")), "", "")

    def made(text: str) -> str:
        if not typed:
            return edit.set(text, path, typed)
        return string_along(state.document(), inspector.with_value(text, field, typed), typed)

    state.change(made)


def slid(key: str, its: Input) -> None:
    """Put the value that a slider was let go at into the text."""
    let_go: Mapping[str, Any] | None = st.session_state[key]["value"]
    if let_go:
        state.change(lambda _text: limits_slider.with_value(state.document(), its, let_go["value"]))


def _tracks() -> dict[tuple[Input, str], list[Sample]]:
    tracks: dict[tuple[Input, str], list[Sample]] = st.session_state.setdefault("tracks", {})
    return tracks


def _rest(document: Document, its: Input) -> tuple[Input, str]:
    """All that a track depends on: the scale, and the text without the value."""
    return its._replace(value=0.0), limits_slider.with_value(document, its, its.high)


def track(document: Document, its: Input, evaluation: Evaluation) -> Limits | None:
    """The limits of an input; None where they were not worked out for the rest of the file as it is."""
    tracks = _tracks()
    row = tracks.get(_rest(document, its)) if tracks else None
    if row is None:
        return None
    now = limits_slider.as_evaluated(its.value, evaluation)
    others = [one for one in row if one.value != its.value]
    return limits_slider.limits(its, sorted([*others, now], key=lambda one: one.value))


def look(document: Document, these: list[Input]) -> None:
    """Work out the limits of the sliders, and say how far it is."""
    tracks = _tracks()

    def check(text: str) -> Evaluation:
        return verbs.check(state.read(text, document.file))

    said = st.progress(0.0, "Looking at other values")
    for number, its in enumerate(these):
        row: list[Sample] = []
        for row in limits_slider.samples(document, its, check):
            share = (number + min(1.0, len(row) / its.steps)) / len(these)
            said.progress(
                share, f"{sentence_case(answers.value_called(its.path))}: {len(row)} plans looked at"
            )
        tracks[_rest(document, its)] = row
    while len(tracks) > _MOST_TRACKS:
        del tracks[next(iter(tracks))]


def part(document: Document, evaluation: Evaluation, sheet: Sheet, these: list[Choice]) -> None:
    """The chosen part: its name, what it does, its figures, its inputs."""
    chosen = st.session_state.chosen
    its = inspector.chosen_among(these, chosen["part"]) if chosen else None
    by_path = {choice.path: choice for choice in these}
    state.box("part-chosen", its.path if its else None)
    st.selectbox(
        "Part",
        list(by_path),
        key="part-chosen",
        index=None,
        placeholder="Choose a part",
        format_func=lambda path: by_path[path].name,
        on_change=choose_part,
        label_visibility="collapsed",
    )
    show("part", answers.part(evaluation, sheet, chosen, its.name if its else None))
    if its:
        inspector.form(document, its)


def choose_part() -> None:
    """Choose the part that was picked by its name."""
    path = st.session_state["part-chosen"]
    st.session_state.chosen = {"part": path, "title": ""} if path else None
