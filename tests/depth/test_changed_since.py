"""A well that is another one than its revision issued says so, however either is written."""

import pytest

from schematic import resolve
from schematic.verbs import load_text
from schematic.wellfile import edit, read
from tests.depth.wells import BRINDLEWICK, edited, without

ISSUED = "well.revision.content"
SIGNED = edit.set(
    edit.set(BRINDLEWICK, "well.revision.checked by", "C. Checker"),
    "well.revision.approved by",
    "A. Approver",
)


def identity(text):
    return resolve(load_text(text)).identity


def issued(text=SIGNED):
    """The text with the key that its revision would have been given."""
    return edit.set(text, ISSUED, identity(text).content_hash)


def flow_lap(text):
    return edited(text, ("  lap: 370 ft\n", '  # as agreed\n  lap:   "370 ft"\n'))


@pytest.mark.parametrize(
    "change",
    [
        lambda text: "# a comment\n\n" + text.replace("\n", "   # so\n", 1),
        flow_lap,
        lambda text: edited(
            text, ("  lap: 370 ft\n  off bottom: 10 ft\n", "  off bottom: 10 ft\n  lap: 370 ft\n")
        ),
        lambda text: edit.put(text, "well.show", "metric"),
        lambda text: edit.set(text, "well.revision.note", "in other words"),
        lambda text: edit.remove(text, "well.earlier revisions"),
        lambda text: without(text, "options"),
        lambda text: (
            without(text, "record") + "\nrecord: [{step: set the hanger, what: pressure, value: 1500 psi}]\n"
        ),
    ],
    ids=["comments", "quotes", "order", "show", "note", "earlier", "options", "record"],
)
def test_what_a_revision_does_not_issue_changes_nothing(change):
    text = issued()
    after = change(text)

    assert after != text
    its = identity(after).revision
    assert (its.changed, its.checked_by, its.approved_by) == (False, "C. Checker", "A. Approver")


@pytest.mark.parametrize(
    ("path", "value"),
    [("liner.lap", "375 ft"), ("well.name", "Brindlewick 5"), ("well.state", "as run")],
)
def test_another_well_is_changed_since_and_nobody_has_checked_it(path, value):
    its = identity(edit.set(issued(), path, value)).revision

    assert its.changed is True
    assert its.issue == "2, CHANGED since"
    assert (its.by, its.checked_by, its.approved_by) == ("R. Planner", "", "")
    assert identity(edit.set(issued(), path, value)).earlier == identity(BRINDLEWICK).earlier


def test_a_file_that_does_not_say_what_was_issued_prints_its_revision_as_before():
    its = identity(edit.set(SIGNED, "liner.lap", "375 ft")).revision

    assert its.changed is None
    assert (its.issue, its.checked_by) == ("2 of 2026-11-20", "C. Checker")


def test_another_file_beside_the_well_is_a_change(tmp_path):
    text = edited(without(BRINDLEWICK, "survey"), ("liner:\n", "survey: {file: s.csv}\n\nliner:\n"))
    well, survey = tmp_path / "w.yaml", tmp_path / "s.csv"
    well.write_text(text, encoding="utf-8")
    hashes = []
    for azimuth in (110, 110, 111):
        survey.write_text(
            f"md ft,inc deg,azi deg\n0,0,0\n4120,0.5,{azimuth}\n12600,1,115\n", encoding="utf-8"
        )
        hashes.append(resolve(read.read(well)).identity.content_hash)

    assert hashes[0] == hashes[1] != hashes[2]


@pytest.mark.parametrize("value", ["12345678", "00000123", "1e234567"])
def test_a_hash_that_looks_like_a_number_stays_as_it_is_written(value):
    assert load_text(edit.set(SIGNED, ISSUED, value)).content.well.revision.content == value
