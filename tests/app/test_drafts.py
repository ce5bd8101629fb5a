"""Drafts beside a well file: what a tab keeps, what it finds again, and what it never writes over."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

pytest.importorskip("streamlit")
from streamlit.testing.v1 import AppTest

from app import draft
from app.draft import Draft, found
from schematic import verbs
from tests.app.told import handed

TEXT = verbs.demos()["sketch.yaml"]
MINE = TEXT.replace("lap: 120 m", "lap: 130 m")
THEIRS = TEXT.replace("lap: 120 m", "lap: 140 m")


@pytest.fixture
def file(tmp_path, monkeypatch) -> Path:
    """A well file that is given on the command line."""
    path = tmp_path / "mine.yaml"
    path.write_text(TEXT)
    monkeypatch.setenv("LAPLINE_FILE", str(path))
    return path


def names(file: Path) -> list[str]:
    """What lies in the folder of a file."""
    return sorted(path.name for path in file.parent.iterdir())


def _page() -> None:
    import streamlit as st

    from app import broken, shell, state
    from schematic.wellfile import edit

    state.begin()

    def change() -> None:
        state.change(lambda text: edit.set(text, "liner.lap", st.session_state.lap))

    if st.session_state.demo in st.session_state.broken:
        broken.page()
    else:
        shell.bar(state.evaluation())
        st.text_input("Lap", key="lap", on_change=change)


def tab() -> AppTest:
    """A new tab of the app."""
    return AppTest.from_function(_page, default_timeout=60).run()


def lap(page: AppTest, value: str) -> None:
    page.text_input(key="lap").set_value(value).run()


def press(page: AppTest, label: str, number: int = 0) -> None:
    [one for one in page.button if one.label == label][number].click().run()


def labels(page: AppTest) -> list[str]:
    return [one.label for one in page.button if not one.disabled]


def kept(page: AppTest) -> str:
    """The words of the save state."""
    blocks = [block for each in handed(page, "answers") for block in each["blocks"]]
    return next(block["kept"] for block in blocks if block["kind"] == "bar")


def text(page: AppTest) -> str:
    return page.session_state["texts"]["mine.yaml"][-1]


def test_a_draft_is_kept_and_dropped_and_a_foreign_one_is_never_written_over(tmp_path):
    file = tmp_path / "w.yaml"
    one, other = Draft(file), Draft(file)
    one.keep("a: 1\n")
    other.keep("b: 2\r\n")
    one.keep("a: 3\n")
    assert {kept.text for kept in found(file)} == {"a: 3\n", "b: 2\r\n"}

    (tmp_path / ".w.yaml.draft").write_text("from elsewhere")
    one.keep("a: 4\n")
    one.drop()
    assert [kept.text for kept in found(file)] == ["from elsewhere", "b: 2\r\n"]


def test_a_link_in_the_place_of_a_draft_is_neither_followed_nor_offered(tmp_path):
    target = tmp_path / "elsewhere"
    target.write_text("not mine")
    (tmp_path / ".w.yaml.draft").symlink_to(target)

    Draft(tmp_path / "w.yaml").keep("a: 1\n")

    assert target.read_text() == "not mine"
    assert [kept.place.name for kept in found(tmp_path / "w.yaml")] == [".w.yaml.draft-2"]


def test_a_draft_that_fails_half_way_leaves_the_one_before_whole(tmp_path, monkeypatch):
    mine = Draft(tmp_path / "w.yaml")
    mine.keep("a: 1\n")
    monkeypatch.setattr("os.fsync", lambda handle: (_ for _ in ()).throw(OSError(errno.ENOSPC, "disk full")))

    with pytest.raises(OSError, match="disk full"):
        mine.keep("a: 2\n")

    assert [kept.text for kept in found(tmp_path / "w.yaml")] == ["a: 1\n"]
    assert names(tmp_path / "w.yaml") == [".w.yaml.draft"]


def test_a_change_is_kept_beside_the_file_and_saving_writes_the_file(file):
    page = tab()
    assert kept(page) == "Saved"
    lap(page, "130 m")
    assert kept(page) == "1 change, draft kept"
    assert file.read_text() == TEXT
    assert (file.parent / ".mine.yaml.draft").read_text() == MINE

    press(page, "Save")

    assert (file.read_text(), names(file), kept(page)) == (MINE, ["mine.yaml"], "Saved")
    press(page, "Undo")
    assert kept(page) == "1 change, draft kept"  # saved is what comes back by Redo


def test_undo_back_to_the_file_drops_the_draft_and_redo_keeps_it_again(file):
    page = tab()
    lap(page, "130 m")
    press(page, "Undo")
    assert names(file) == ["mine.yaml"]
    assert "Redo" in labels(page)
    press(page, "Redo")
    assert text(page) == MINE
    assert (file.parent / ".mine.yaml.draft").read_text() == MINE
    lap(page, "131 m")
    assert "Redo" not in labels(page)


def test_after_a_reload_the_draft_is_offered_and_gone_on_with(file):
    lap(tab(), "130 m")
    page = tab()  # what a reload and a restart are for the state: a new tab
    assert text(page) == TEXT

    press(page, "Go on with it")

    assert text(page) == MINE
    assert kept(page) == "1 change, draft kept"
    assert "Go on with it" not in labels(page)
    press(page, "Undo")
    assert text(page) == TEXT


def drafts(file: Path) -> set[str]:
    """The texts of the drafts beside a file."""
    return {kept.text for kept in found(file)}


def told(page: AppTest) -> list[str]:
    """What the page says of the drafts that it found."""
    return [one.value for one in page.text if one.value.startswith("Draft")]


def test_what_was_changed_since_the_reload_outlives_going_on_with_the_draft(file):
    lap(tab(), "130 m")
    page = tab()
    assert "stays" not in told(page)[0]
    lap(page, "140 m")
    assert told(page)[0].endswith("What is on screen then stays as a draft of its own.")

    press(page, "Go on with it")

    assert text(page) == MINE
    assert drafts(file) == {MINE, THEIRS}
    assert "1 change: lap 120 m to 140 m." in told(page)[0]
    press(page, "Go on with it")  # and back again: neither is ever lost
    assert (text(page), drafts(file)) == (THEIRS, {MINE, THEIRS})
    assert "1 change: lap 120 m to 130 m." in told(page)[0]
    press(tab(), "Go on with it", 1)
    assert drafts(file) == {MINE, THEIRS}


def test_dropping_the_draft_keeps_what_was_changed_since_the_reload(file):
    lap(tab(), "130 m")
    page = tab()
    lap(page, "140 m")
    press(page, "Drop it")
    press(page, "Drop it")

    assert (text(page), drafts(file), told(page)) == (THEIRS, {THEIRS}, [])


def test_undo_and_redo_of_going_on_lose_neither_of_the_two(file):
    lap(tab(), "130 m")
    page = tab()
    press(page, "Go on with it")
    press(page, "Undo")
    assert (text(page), drafts(file)) == (TEXT, {MINE})  # offered again, here and after a reload
    assert len(told(page)) == len(told(tab())) == 1

    press(page, "Redo")
    assert (text(page), told(page)) == (MINE, [])
    press(page, "Undo")
    lap(page, "140 m")
    press(page, "Go on with it")
    press(page, "Undo")
    assert (text(page), drafts(file)) == (THEIRS, {MINE, THEIRS})
    press(page, "Redo")
    assert (text(page), drafts(file)) == (MINE, {MINE, THEIRS})
    press(page, "Save")
    assert (file.read_text(), drafts(file)) == (MINE, {THEIRS})


def test_a_draft_that_does_not_read_stays_when_it_is_left_for_the_text_that_reads(file):
    file.with_name(".mine.yaml.draft").write_text("liner: {")
    page = tab()
    assert told(page)[0].endswith("it does not read.")
    press(page, "Go on with it")
    press(page, "Back to the text that reads")
    assert (text(page), drafts(file)) == (TEXT, {"liner: {"})
    assert "Go on with it" in labels(page)


def test_no_draft_is_gone_on_with_while_the_text_on_screen_cannot_be_kept(file, monkeypatch):
    lap(tab(), "130 m")
    page = tab()

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(draft, "write_atomically", full)
    lap(page, "140 m")
    press(page, "Go on with it")
    assert (text(page), kept(page)) == (THEIRS, "Not kept: No space left on device")
    assert "Go on with it" in labels(page)


def test_two_drafts_do_not_stand_as_the_same_words(file):
    lap(tab(), "130 m")
    lap(tab(), "140 m")
    page = tab()
    clocks = [f"{one.at:%H:%M}" for one in found(file)]
    heads, holds = zip(*(one.split(" (") for one in told(page)), strict=True)
    assert list(heads) == [f"Draft {n} of mine.yaml, {at}" for n, at in enumerate(clocks, 1)]
    assert [one.split("), ")[1] for one in holds] == [
        "1 change: lap 120 m to 130 m.",
        "1 change: lap 120 m to 140 m.",
    ]


def test_a_draft_that_is_not_wanted_is_dropped_once_that_is_asked(file):
    lap(tab(), "130 m")
    page = tab()
    press(page, "Drop it")
    assert "Drop the draft of 1 change? It cannot be brought back." in [one.value for one in page.text]
    assert names(file) == [".mine.yaml.draft", "mine.yaml"]
    press(page, "Keep it")
    assert names(file) == [".mine.yaml.draft", "mine.yaml"]
    assert "Go on with it" in labels(page)

    press(page, "Drop it")
    press(page, "Drop it")
    assert names(file) == ["mine.yaml"]
    assert "Drop it" not in labels(page)


@pytest.mark.parametrize(
    ("found_text", "told"),
    [
        (MINE.replace("off bottom: 2 m", "off bottom: 4 m"), "2 changes"),
        (f"{TEXT}# a remark\n", "1 change"),
        ("liner: {", "mine.yaml"),
    ],
)
def test_the_question_before_a_draft_is_dropped_says_how_much_it_holds(file, found_text, told):
    file.with_name(".mine.yaml.draft").write_text(found_text)
    page = tab()
    press(page, "Drop it")

    assert not page.exception
    assert f"Drop the draft of {told}? It cannot be brought back." in [one.value for one in page.text]


def test_two_tabs_keep_a_draft_each_and_do_not_see_each_others_text(file):
    one, other = tab(), tab()
    lap(one, "135 m")
    lap(other, "140 m")
    lap(one, "130 m")
    assert (text(one), text(other)) == (MINE, THEIRS)
    assert {draft.text for draft in found(file)} == {MINE, THEIRS}

    page = tab()
    assert labels(page).count("Go on with it") == 2
    press(page, "Go on with it", 1)
    assert text(page) == THEIRS


def test_a_file_that_changed_on_disk_is_read_and_mine_is_one_step_back(file):
    page = tab()
    lap(page, "130 m")
    file.write_text(THEIRS)
    press(page, "Save")
    assert file.read_text() == THEIRS  # nothing is written over what was not seen
    assert {"Read it", "Keep mine"} <= set(labels(page))

    press(page, "Read it")

    assert (text(page), names(file)) == (THEIRS, ["mine.yaml"])
    press(page, "Undo")
    assert text(page) == MINE


def test_mine_stays_where_it_is_wanted_and_saving_then_writes_it(file):
    page = tab()
    lap(page, "130 m")
    file.write_text(THEIRS)
    page.run()
    press(page, "Keep mine")
    assert "Read it" not in labels(page)
    press(page, "Save")
    assert file.read_text() == MINE


def test_a_draft_that_cannot_be_written_is_told_and_the_text_goes_on(file, monkeypatch):
    page = tab()

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(draft, "write_atomically", full)
    lap(page, "130 m")
    assert kept(page) == "Not kept: No space left on device"
    assert text(page) == MINE

    monkeypatch.undo()
    lap(page, "140 m")
    assert kept(page) == "2 changes, draft kept"


def test_a_file_that_broke_on_disk_shows_its_problems_and_the_text_that_reads_stays(file):
    page = tab()
    lap(page, "130 m")
    file.write_text(TEXT.replace("lap: 120 m", "lap: 120"))
    page.run()
    press(page, "Read it")
    assert "Read again" in labels(page)
    assert page.session_state["broken"]["mine.yaml"] == [TEXT.replace("lap: 120 m", "lap: 120")]

    press(page, "Back to the text that reads")
    assert text(page) == MINE


def test_line_ends_stay_in_file_and_draft(file):
    file.write_bytes(TEXT.replace("\n", "\r\n").encode())
    page = tab()
    lap(page, "130 m")
    press(page, "Save")
    assert file.read_bytes() == MINE.replace("\n", "\r\n").encode()


def test_undo_and_redo_say_what_they_would_do(file):
    page = tab()
    lap(page, "130 m")
    tips = {one.label: one.help for one in page.button}
    assert tips["Undo"] == "Undo\\: lap 130 m to 120 m"
    press(page, "Undo")
    tips = {one.label: one.help for one in page.button}
    assert tips["Redo"] == "Redo\\: lap 120 m to 130 m"
