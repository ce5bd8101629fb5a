"""Hand over: every file that the plan gives, shown and made; what was recorded; what changed since."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

import streamlit as st

from app import answers, exports, inspector, needs, revision, since, state
from app.answers_view import answers as show
from app.drawing_view import drawing
from app.exports import Export, Paper
from app.shell import bar, escaped
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.drawing.job_charts import hook_loads_sheet
from schematic.export.recorded import recorded_table
from schematic.export.report import plural
from schematic.export.tables import Table
from schematic.job.measured_loads import readings
from schematic.job.recorded import Compared, by_step, recorded
from schematic.outcome import MissingInput, NotChecked, Severity
from schematic.wellfile.read import Document

_FILES, _RECORDED = "Files", "Planned and recorded"
_PORTRAIT, _LANDSCAPE = "Portrait", "Landscape"
_MOST_LINES = 400


def _maker(document: Document, word: str, form: str, name: str, paper: Paper) -> Callable[[], bytes]:
    """What a download button calls: on another thread, so that it takes the well with it."""
    return lambda: exports.content(document, word, form, name, paper)


def _paper(word: str) -> None:
    """Boxes for the paper of the sheet and the program; a sheet may be in landscape."""
    with st.container(horizontal=True, vertical_alignment="bottom"):
        st.selectbox("Paper", list(exports.PAPERS), key="paper-size", width=140)
        if word == "sheet":
            st.segmented_control(
                "Orientation",
                [_PORTRAIT, _LANDSCAPE],
                key="paper-way",
                required=True,
                label_visibility="collapsed",
            )


def opens(evaluation: Evaluation, settled: list[answers.Block]) -> str:
    """Where what is to be settled first is settled: on Plan, in the next revision, or nothing is."""
    if settled[0]["sign"] == "passed":
        return ""
    severe = evaluation.count(Severity.ERROR) + evaluation.count(Severity.WARNING)
    waits = any(isinstance(one.answer, NotChecked) for one in evaluation.outcomes)
    return "Plan" if severe or waits else "revision"


def settle(evaluation: Evaluation, settled: list[answers.Block], filled: str) -> None:
    """What is to be settled first, the way to the warnings, and the next revision."""
    show("settle", settled)
    if st.session_state.problem:
        show("refused", st.session_state.problem)
    with st.container(horizontal=True):
        kind: Literal["primary", "secondary"] = "primary" if filled == "Plan" else "secondary"
        if st.button("Look at the findings", key="to-findings", type=kind):
            st.switch_page(st.session_state.pages["Plan"])
        both = verbs.diff(
            state.read(next(iter(since.older().values())), st.session_state.demo), state.document()
        )
        revision.form(evaluation, revision.in_short(both), filled == "revision")
    since.keep_earlier()


def files(evaluation: Evaluation) -> None:
    """What is to be settled first, and every file with its forms; beside them the chosen one."""
    document, changed = state.document(), revision.changed(evaluation)
    paper = Paper(
        exports.PAPERS[state.outlives("paper-size", "A4")],
        state.outlives("paper-way", _PORTRAIT) == _LANDSCAPE,
    )
    packed, settled = _packed(document, paper), answers.to_settle(evaluation, changed)
    first = "" if packed else opens(evaluation, settled)
    listed = exports.offered(evaluation, bool(document.content.options))
    left, right = st.columns([0.38, 0.62])
    with left:
        settle(evaluation, settled, first)
        titles = {each.title: each for each in listed}
        if st.session_state.get("file") not in titles:
            st.session_state.file = listed[0].title
        its = titles[st.radio("File", list(titles), key="file", label_visibility="collapsed")]
        form = st.segmented_control(
            "Form",
            its.forms,
            default=its.forms[0],
            key=f"form-{its.word}",
            required=True,
            label_visibility="collapsed",
        )
        if its.word in exports.ON_PAPER and form in (*exports.DRAWN, "docx"):
            _paper(its.word)
        name = exports.file_name(evaluation, its.word, form, changed)
        shown = exports.file_name(evaluation, its.word, "zip" if form in exports.BY_PAGE else form, changed)
        reason = exports.lacking(form)
        st.code(shown, language=None, wrap_lines=True)
        if reason:
            st.text(f"Not made here: {reason}.")
        room = st.container(horizontal=True, vertical_alignment="center")
        working = st.container()
    with room:
        st.download_button(
            "Download this",
            _maker(document, its.word, form, name, paper),
            shown,
            on_click="ignore",
            key=f"download-{its.word}-{form}",
            type="secondary" if packed or first else "primary",
            disabled=bool(reason),
        )
        _all(evaluation, listed, packed, changed, paper)
    with right, st.container(key="paper"):
        preview(document, its, form, paper)
    with working:
        _make_all(evaluation, document, listed, changed)


def preview(document: Document, its: Export, form: str, paper: Paper) -> None:
    """The chosen file: drawings and texts as they are, of others what they hold."""
    if exports.lacking(form):
        show("no-preview", [{"kind": "note", "text": f"No preview: {exports.lacking(form)}."}])
    elif its.word == "program" and form in ("pdf", "docx"):
        pages = _kept(document, its.word, "svg", paper, exports.program_pages)
        text = f"{plural(len(pages), 'page')}, one after another."
        if form == "docx":
            text += " These are those of the PDF: a word processor may break them elsewhere."
        show("pages", [{"kind": "note", "text": text}])
        drawing(pages, None, lambda: None, key="preview", whole=True)
    elif form in exports.DRAWN:
        pages = _kept(
            document, its.word, "svg", paper, lambda one, on: exports.pages(one, its.word, "svg", on)
        )
        number = 1
        if len(pages) > 1:
            number = st.number_input(
                f"Page, 1 to {len(pages)}", 1, len(pages), key=f"page-{its.word}-{len(pages)}", width=140
            )
        drawing(pages[number - 1 : number], None, lambda: None, key="preview", whole=True)
    elif form in exports.AS_TEXT:
        data = _kept(
            document, its.word, form, paper, lambda one, on: exports.pages(one, its.word, form, on)[0]
        )
        lines = data.decode().splitlines()
        if len(lines) > _MOST_LINES:
            st.text(f"The first {_MOST_LINES} of {len(lines)} lines.")
        st.code("\n".join(lines[:_MOST_LINES]), language=None, height=640)
    else:
        data = _kept(
            document, its.word, form, paper, lambda one, on: exports.pages(one, its.word, form, on)[0]
        )
        show("sheets", [exports.sheets(data)])


def _kept(
    document: Document, word: str, form: str, paper: Paper, make: Callable[[Document, Paper], Any]
) -> Any:  # noqa: ANN401
    """What was made for the preview last, as long as it is of this text and paper."""
    key = (document.text, word, form, paper)
    if st.session_state.get("previewed", (None,))[0] != key:
        with st.spinner("Making the preview"):
            st.session_state.previewed = (key, make(document, paper))
    return st.session_state.previewed[1]


# all files as one archive: made when asked for, one by one, and offered only when it is whole


def _wanted(listed: tuple[Export, ...]) -> list[tuple[str, str]]:
    """Word and form of every file that can be made here."""
    return [(each.word, form) for each in listed for form in each.forms if not exports.lacking(form)]


def _begin(text: str, paper: Paper) -> None:
    st.session_state.archive = {"text": text, "paper": paper, "made": {}, "packed": None, "error": ""}


def _stop() -> None:
    st.session_state.archive = None


def _packed(document: Document, paper: Paper) -> bytes | None:
    """The archive, once it is whole; what was made of another text, or on another paper, is dropped."""
    archive = st.session_state.get("archive")
    if archive and (archive["text"] != document.text or archive["paper"] != paper):
        archive = st.session_state.archive = None
    return archive["packed"] if archive else None


def _all(
    evaluation: Evaluation, listed: tuple[Export, ...], packed: bytes | None, changed: bool, paper: Paper
) -> None:
    """The button that makes all files, or the archive that was made."""
    count = len(_wanted(listed))
    if packed is None:
        st.button(
            f"All {count} as one zip",
            on_click=_begin,
            args=(state.texts()[-1], paper),
            disabled=bool(st.session_state.get("archive")) and not st.session_state.archive["error"],
        )
    else:
        st.download_button(
            f"Download all {count}, {len(packed) / 1e6:.1f} MB",
            packed,
            exports.file_name(evaluation, "files", "zip", changed),
            "application/zip",
            on_click="ignore",
            type="primary",
        )


def _make_all(evaluation: Evaluation, document: Document, listed: tuple[Export, ...], changed: bool) -> None:
    """Make what is still to be made, telling how far it is; what is pressed meanwhile only interrupts it."""
    archive, wanted = st.session_state.get("archive"), _wanted(listed)
    left_out = [f"{each.title}, {exports.lacking(form)}" for each in listed for form in each.forms
                if exports.lacking(form)]  # fmt: skip
    if archive is None:
        return
    if left_out:
        st.text(f"Left out: {'; '.join(left_out)}.")
    if archive["error"]:
        st.error(archive["error"])
    if archive["error"] or archive["packed"] is not None:
        return
    status = st.status(f"{len(archive['made'])} of {len(wanted)} files made")
    st.button("Stop", on_click=_stop, key="stop-archive")
    for word, form in wanted[len(archive["made"]) :]:
        status.update(label=f"{len(archive['made'])} of {len(wanted)} files made; now {word}, {form}")
        name = exports.file_name(evaluation, word, form, changed)
        try:
            archive["made"][word, form] = exports.named(document, word, form, name, archive["paper"])
        except Exception as error:  # whatever kept it from being made: the archive is whole or not at all
            archive["error"] = f"Nothing was packed: {word}, {form} could not be made ({error})."
            break
    else:
        every = {name: data for made in archive["made"].values() for name, data in made.items()}
        archive["packed"] = exports.packed(every)
    st.rerun()


def compared_with_record(evaluation: Evaluation) -> None:
    """What was read on the job beside the plan."""
    system = evaluation.plan.identity.system
    made = by_step(recorded(evaluation.job))
    if not made:
        text = (
            "Nothing is recorded yet: readings that are kept on Run, or written under 'record', stand here."
        )
        show("nothing-recorded", [{"kind": "note", "text": text}])
        if st.button("Go to Run", type="primary"):
            st.switch_page(st.session_state.pages["Run"])
        return
    table = recorded_table(made, system)
    loads = readings(evaluation.plan)
    left, right = st.columns([0.6, 0.4]) if loads else (st.container(), None)
    with left:
        show("recorded", [in_short(made, table), answers.table_block(table, system)])
        its = next(one for one in exports.offered(evaluation, options=False) if one.word == "recorded")
        with st.container(horizontal=True):
            for n, form in enumerate(form for form in its.forms if not exports.lacking(form)):
                name = exports.file_name(evaluation, "recorded", form, revision.changed(evaluation))
                st.download_button(
                    f"{its.title}, {form.upper()}",
                    _maker(state.document(), "recorded", form, name, exports.A4),
                    name,
                    on_click="ignore",
                    type="secondary" if n else "primary",
                )
    if right is not None:
        with right, st.container(key="paper"):
            curve(evaluation)


def in_short(made: tuple[Compared, ...], table: Table) -> answers.Block:
    """How many readings there are, how many beyond the band of the plan, and which."""
    above = [row for one, row in zip(made, table.rows, strict=True) if one.limit]
    out = [row for one, row in zip(made, table.rows, strict=True) if one.inside is False and not one.limit]
    inside = sum(one.inside is True and not one.limit for one in made)
    head = f"{plural(len(made), 'reading')}: {len(out)} outside the band of the plan, {inside} inside"
    open_ = len(made) - len(above) - len(out) - inside
    head += f", {open_} without a band" * bool(open_)
    head += f", {len(above)} above what must never be exceeded" * bool(above)
    lines = [
        f"{row[0]}, {row[1]}{f' at {row[2]}' if row[2] else ''}: read {row[3]}, {row[8]}." for row in above
    ]
    lines += [
        f"{row[0]}, {row[1]}{f' at {row[2]}' if row[2] else ''}: read {row[3]}, "
        + (f"band {row[5]} to {row[6]}." if row[6] else f"at least {row[5]}.")
        for row in out
    ]
    passed = inside > 0 and not open_  # what has no band was not checked
    sign = "error" if above else "warning" if out else "passed" if passed else "advice"
    letter = {"passed": "\u2713", "advice": "i"}.get(sign, "!")
    return {"kind": "slip", "sign": sign, "letter": letter, "head": f"{head}.", "lines": lines, "quiet": []}


def curve(evaluation: Evaluation) -> None:
    """Hook load against depth with the measured points, or what it needs."""
    try:
        sheet = hook_loads_sheet(evaluation, evaluation.plan.identity.system)
    except MissingInput as error:
        document = state.document()
        these = inspector.choices(document, evaluation.plan)
        lacks = needs.told(document, evaluation.plan, these, error.missing)
        show("no-curve", [{"kind": "note", "text": f"The curve of hook load is not drawn: needs {lacks}."}])
        return
    drawing(verbs.render(sheet, ".svg"), None, lambda: None, key="curve", low=True)


def page() -> None:
    """The page."""
    evaluation = state.evaluation()
    bar(evaluation)
    named = since.title()  # with the number of a revision: the choice stays when that changes
    chosen = st.session_state.get("hand-over") or _FILES
    state.box("hand-over", chosen if chosen in (_FILES, _RECORDED) else named)
    what = st.segmented_control(
        "What",
        [_FILES, _RECORDED, named],
        key="hand-over",
        required=True,
        format_func=escaped,  # a revision is called as somebody wrote it
        label_visibility="collapsed",
    )
    if what == _RECORDED:
        compared_with_record(evaluation)
    elif what == named:
        if st.session_state.problem:
            show("refused", st.session_state.problem)
        since.page(evaluation)
    else:
        files(evaluation)
