"""A callback that the next click stops, wherever it touches the state of the page, loses nothing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

st = pytest.importorskip("streamlit")

from app import answers, broken, plan, state, tables  # noqa: E402
from app.draft import Draft  # noqa: E402
from schematic import verbs  # noqa: E402
from schematic.checks.remedies import remedies  # noqa: E402
from schematic.drawing.findings import letters  # noqa: E402
from schematic.wellfile import edit  # noqa: E402
from tests.app.told import BRINDLEWICK, TEXT  # noqa: E402

BROKEN = TEXT.replace("lap: 370 ft", "lapp: 370 ft")
MENDED = TEXT.replace("lap: 370 ft", "lap: 372 ft")
MOST = 60  # accesses; all callbacks below need fewer


class Stopped(Exception):
    """What the next click raises in a callback."""


class Watched(dict):
    """The state of a page: the access with the number in *stop* finds that the next click has come."""

    def _access(self) -> None:
        left = object.__getattribute__(self, "__dict__").get("left")
        if left is not None:
            object.__getattribute__(self, "__dict__")["left"] = left - 1
            if left == 0:
                raise Stopped

    def __getattr__(self, name: str):
        self._access()
        try:
            return dict.__getitem__(self, name)
        except KeyError:
            raise AttributeError(name) from None

    def __setattr__(self, name: str, value) -> None:
        self._access()
        dict.__setitem__(self, name, value)

    def __getitem__(self, name):
        self._access()
        return dict.__getitem__(self, name)

    def __setitem__(self, name, value) -> None:
        self._access()
        dict.__setitem__(self, name, value)

    def __contains__(self, name) -> bool:
        self._access()
        return dict.__contains__(self, name)

    def get(self, name, default=None):
        """What is held by a name."""
        self._access()
        return dict.get(self, name, default)


def tab(monkeypatch, draft: Path, text: str) -> Watched:
    """A tab with the file of the command line."""
    draft.write_text(TEXT)
    its = Watched(
        texts={BRINDLEWICK: [TEXT]}, later={BRINDLEWICK: [BROKEN]}, saved={BRINDLEWICK: TEXT}, broken={},
        broke={}, origin={BRINDLEWICK: "file"}, problem=[], unkept="", draft=Draft(draft), offered=[],
        demo=BRINDLEWICK, draft_of=BRINDLEWICK,
    )  # fmt: skip
    monkeypatch.setattr(state, "state", its)
    monkeypatch.setattr(st, "session_state", its)
    if text != TEXT:
        state.put_off(text)
    return its


def stopped_at(its: Watched, number: int, callback: Callable[[], object]) -> bool:
    """Run a callback that is stopped at an access; whether it was."""
    its.__dict__["left"] = number
    try:
        callback()
    except Stopped:
        return True
    finally:
        its.__dict__["left"] = None
    return False


def walked(monkeypatch, tmp_path, text: str, callback: Callable[[Watched], Callable[[], object]]):
    """The tab after a callback was stopped at its first access, at its second, and so on to its end."""
    for number in range(MOST):
        file = tmp_path / f"{number}" / BRINDLEWICK
        file.parent.mkdir()
        its = tab(monkeypatch, file, text)
        was_stopped = stopped_at(its, number, callback(its))
        yield its
        if not was_stopped:
            return
    pytest.fail(f"the callback touches the state more than {MOST} times")


def test_what_was_typed_before_read_again_was_clicked_is_read(monkeypatch, tmp_path):
    def typed(its: Watched) -> Callable[[], None]:
        dict.__setitem__(its, "text", {"typed": {"text": MENDED, "turn": 1}})
        return broken._typed

    count = 0
    for its in walked(monkeypatch, tmp_path, BROKEN, typed):
        broken._read_again()
        assert its.texts[BRINDLEWICK] == [TEXT, MENDED]
        assert its.broken == {}
        count += 1
    assert count > 5


def test_a_text_that_is_taken_is_nowhere_lost(monkeypatch, tmp_path):
    for its in walked(
        monkeypatch, tmp_path, MENDED.replace("lap:", "lapp:"), lambda _its: lambda: state.take(MENDED)
    ):
        held = its.broken.get(BRINDLEWICK, [""])[-1]
        assert its.texts[BRINDLEWICK][-1] == MENDED or held == MENDED.replace("lap:", "lapp:")
        assert its.texts[BRINDLEWICK] == [TEXT] or its.later[BRINDLEWICK] == []


def test_an_edit_is_whole_or_not_made_and_is_kept_beside_the_file_by_the_next_run(monkeypatch, tmp_path):
    made = set()
    for its in walked(monkeypatch, tmp_path, TEXT, lambda _its: lambda: state.change(lambda _text: MENDED)):
        its_texts, to_come = its.texts[BRINDLEWICK], its.later[BRINDLEWICK]
        assert (its_texts, to_come) in (([TEXT], [BROKEN]), ([TEXT, MENDED], []))
        state._keep_up()
        draft = its.draft.place.read_text() if its.draft.place else TEXT
        assert draft == its_texts[-1]
        made.add(len(its_texts))
    assert made == {1, 2}


def test_a_remedy_is_made_with_its_word_of_undo_and_the_next_finding_or_not_at_all(monkeypatch, tmp_path):
    short = edit.set(TEXT, "liner.lap", "80 ft")
    document, evaluation = state.read(short, BRINDLEWICK), verbs.check(verbs.load_text(short, BRINDLEWICK))
    found = {answers.name_of(outcome): outcome for _letter, outcome in letters(evaluation)}
    name = next(one for one in found if one.startswith("lap-outside-limits"))
    (remedy,) = remedies(document, evaluation, found[name])
    mended = verbs.check(verbs.load_text(remedy.text, BRINDLEWICK))
    left = set()

    def pressed(its: Watched) -> Callable[[], None]:
        dict.__setitem__(its, "texts", {BRINDLEWICK: [short]})
        dict.__setitem__(its, "finding", name)
        return lambda: plan.mend(remedy, found)

    for its in walked(monkeypatch, tmp_path, TEXT, pressed):
        made = its.texts[BRINDLEWICK] == [short, remedy.text]
        plan.settle(mended if made else evaluation)
        assert made or its.texts[BRINDLEWICK] == [short]
        assert (its.finding == name) is not made
        if made:
            assert its.mended[:2] == (BRINDLEWICK, remedy.text)
            left.add(its.finding)
    assert len(left) == 1
    assert left <= set(found)


def test_what_is_typed_while_the_run_of_the_last_value_is_stopped_is_taken_up(monkeypatch, tmp_path):
    """The run for 372 ft did not come to the box: that shows 370 ft still when 375 ft are typed into it."""
    file = tmp_path / BRINDLEWICK
    its = tab(monkeypatch, file, TEXT)
    its.texts[BRINDLEWICK] = [TEXT, MENDED]
    dict.update(its, {"lap": "375 ft", "shown-lap": (BRINDLEWICK, "liner.lap", "370 ft")})
    monkeypatch.setattr(st, "rerun", lambda: None)
    plan.again(state.read(MENDED, BRINDLEWICK), "liner.lap", "lap", "372 ft")
    assert verbs.load_text(its.texts[BRINDLEWICK][-1]).content.liner.lap.text == "375 ft"

    dict.update(its, {"lap": "370 ft"})  # not typed: the box has not been said anew
    plan.again(state.read(MENDED, BRINDLEWICK), "liner.lap", "lap", "372 ft")
    assert len(its.texts[BRINDLEWICK]) == 3


def test_an_edit_in_a_grid_keeps_what_was_changed_elsewhere_a_moment_before(monkeypatch, tmp_path):
    rows = next(one for one in tables.PANELS["Fluids"] if one.title == "Fluids")
    its = tab(monkeypatch, tmp_path / BRINDLEWICK, TEXT)
    document = state.document()
    held = tables.records(document, rows)
    dict.__setitem__(its, "grid", tables._Grid(rows.loc, document, TEXT, (), 1, held))
    its.texts[BRINDLEWICK].append(MENDED)  # the run that draws it is stopped by the edit
    edited = {0: {"density": "12.7 ppg"}}
    dict.__setitem__(its, "grid-1", {"edited_rows": edited, "deleted_rows": [], "added_rows": []})

    tables._typed(rows, "grid-1")

    name = held[0]["name"]
    assert state.texts()[-1] == edit.set(MENDED, f"fluids.{name}.density", "12.7 ppg")
