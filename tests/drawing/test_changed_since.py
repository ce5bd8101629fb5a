"""Every sheet of a well that was changed after its revision says so, and prints nobody's name as its checker."""

import pytest

from schematic import verbs
from schematic.cli import _heading
from schematic.drawing.overlap import problems
from schematic.drawing.running_sheet import running_sheet_pages
from schematic.drawing.scene import Text
from schematic.drawing.side_by_side import options_sheet
from schematic.drawing.step_card import cards_sheet
from schematic.drawing.two_positions import difference_sheet
from schematic.export.workbook import cover
from schematic.job.steps import cards
from schematic.program import assemble
from schematic.wellfile import edit

NAMES = {"C. Checker", "A. Approver"}
WIDE = "2 of the operator's own count, issued for the second time"


def issued(name="brindlewick-4.yaml", number="2"):
    """A well as it was issued: checked, approved, with the hash of its content."""
    text = verbs.demos()[name]
    signed = {
        "number": number,
        "date": "2026-11-20",
        "checked by": "C. Checker",
        "approved by": "A. Approver",
    }
    for key, value in signed.items():
        text = edit.set(text, f"well.revision.{key}", value)
    hashed = verbs.check(verbs.load_text(text)).plan.identity.content_hash
    return edit.set(text, "well.revision.content", hashed)


def changed(text):
    return edit.set(text, "limits.greatest lap", "410 ft")


def pages(text):
    """Every page that a well gives, by what it is of."""
    document = verbs.load_text(text)
    evaluation = verbs.check(document)
    system = evaluation.plan.identity.system
    return {
        "sheet": verbs.sheet(evaluation).scenes,
        "cards": cards_sheet(evaluation, cards(evaluation.job), system).scenes,
        "running sheet": running_sheet_pages(evaluation, system).scenes,
        "options": options_sheet(verbs.options(document), system).scenes,
    }


def said(scene):
    return [shape.text for group in scene.groups for shape in group.shapes if isinstance(shape, Text)]


@pytest.mark.parametrize("number", ["2", WIDE], ids=["a number", "a wide one"])
@pytest.mark.parametrize("name", ["brindlewick-4.yaml", "sollivane-a7.yaml"])
def test_every_page_says_changed_names_no_checker_and_overlaps_nothing(name, number):
    for what, scenes in pages(changed(issued(name, number))).items():
        assert scenes
        for scene in scenes:
            words = said(scene)
            assert "CHANGED since" in " ".join(words), what
            assert not NAMES & {*words}, what
            assert problems(scene) == [], what


def test_as_issued_every_sheet_prints_revision_date_and_names():
    for scene in pages(issued())["sheet"]:
        assert {"2 of 2026-11-20", *NAMES} <= {*said(scene)}
        assert "CHANGED" not in " ".join(said(scene))


def test_where_a_name_was_stands_a_line_to_sign_on():
    def rules(text):
        [group] = [
            one for one in verbs.sheet(verbs.load_text(text)).scenes[0].groups if one.title == "title block"
        ]
        return sum(not isinstance(shape, Text) for shape in group.shapes)

    assert rules(changed(issued())) == rules(issued()) + 2


def test_the_table_of_revisions_marks_the_changed_one_alone():
    scenes = verbs.sheet(verbs.load_text(changed(issued()))).scenes
    [words] = [said(scene) for scene in scenes if "Revisions" in said(scene)]

    assert "2026-11-20, CHANGED" in words
    assert "2026-11-06" in words


def test_two_issues_side_by_side_tell_which_of_them_was_changed():
    old, new = verbs.load_text(issued()), verbs.load_text(edit.set(issued(), "liner.lap", "340 ft"))
    both = verbs.diff(old, new)
    scene = difference_sheet(both, "field").scenes[0]

    hashes = [one.plan.identity.file_hash for one in (both.old, both.new)]
    assert {f"revision 2, file {hashes[0]}", f"2, CHANGED since, {hashes[1]}"} <= {*said(scene)}
    assert problems(scene) == []


def test_program_workbook_and_command_say_it_too():
    document = verbs.load_text(changed(issued()))
    evaluation = verbs.check(document)
    made = assemble.program(document, evaluation, verbs.sheet(evaluation), "field")
    tables = {one.title: one.rows for one in made.tables}

    assert "revision 2, CHANGED since" in made.running
    assert ("revision", "2, CHANGED since") in tables["Well"]
    latest = tables["Revisions"][0]
    assert latest[0] == "2, CHANGED since"
    assert latest[3:5] == (None, None)
    assert ("revision", "2, CHANGED since, lap lengthened") in cover(evaluation, "field").rows
    assert "revision 2, CHANGED since, planned" in _heading(evaluation, "field")
