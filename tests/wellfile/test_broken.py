"""Broken little files: each is refused at its line, with the remedy that mends it.

A row is added by putting a file into tests/broken and naming it here.
"""

from pathlib import Path

import pytest

from schematic.wellfile.problem import InputError
from schematic.wellfile.tree import parse

BROKEN = Path(__file__).parents[1] / "broken"

# file, line, a phrase of the remedy
NOT_A_TREE = [
    ("alias-bomb.yaml", 4, "take out '&a'"),
    ("alias.yaml", 6, "write the value again"),
    ("at-sign.yaml", 4, "quote the text"),
    ("backslash.yaml", 4, "use single quotes"),
    ("bracket-open.yaml", 6, "close the '{' of line 6"),
    ("bracket-stray.yaml", 6, "take out the stray bracket"),
    ("code-page.yaml", 6, "save the file as 'UTF-8'"),
    ("colon-in-text.yaml", 3, "quote the text if the colon belongs to it"),
    ("comma-missing.yaml", 9, "write a comma before this"),
    ("dash-beside-key.yaml", 4, "on a line of its own below the key"),
    ("decimal-comma.yaml", 5, "'12.2 ppg'"),
    ("directive.yaml", 1, "lines that start with %"),
    ("empty.yaml", 1, "write 'lapline: 1' first"),
    ("hash-for-pounds.yaml", 6, 'quote the text: "7 in 29 # P-110"'),
    ("hash-in-braces.yaml", 6, "a ' #' starts a comment"),
    ("inch-mark.yaml", 6, "put the whole value in single quotes"),
    ("indentation.yaml", 6, "the indentation of its neighbours"),
    ("key-in-list.yaml", 6, "start the item with '- '"),
    ("key-of-many.yaml", 4, "with a plain word as the key"),
    ("key-twice.yaml", 8, "take out one of the two (lines 6 and 8)"),
    ("list.yaml", 1, "start each line with a key"),
    ("merge-key.yaml", 6, "write the keys out"),
    ("nul.yaml", 6, "take it out"),
    ("quote-open.yaml", 6, "close the quote"),
    ("space-missing-below.yaml", 5, "put a space behind the colon: 'lap: 120 m'"),
    ("space-missing-in-braces.yaml", 5, "put a space behind the colon: 'md: 0 m'"),
    ("space-missing.yaml", 6, "put a space behind the colon: 'lap: 120 m'"),
    ("tab.yaml", 6, "replace the tab"),
    ("tag-object.yaml", 6, "take out the word that starts with '!'"),
    ("thousands-comma.yaml", 6, "'1200 m' if the comma parts thousands"),
    ("two-documents.yaml", 4, "take out the '---'"),
    ("utf-16.yaml", 1, "save the file as 'UTF-8'"),
]


def read_tree(file):
    return parse(file.read_bytes(), file.name)


CASES = [(read_tree, *row) for row in NOT_A_TREE]


@pytest.mark.parametrize(("read", "file", "line", "phrase"), CASES, ids=[case[1] for case in CASES])
def test_a_broken_file_is_refused_at_its_line_with_a_remedy(read, file, line, phrase):
    with pytest.raises(InputError) as caught:
        read(BROKEN / file)

    at_line = [problem for problem in caught.value.problems if problem.line == line]
    assert any(phrase in problem.mend for problem in at_line), str(caught.value)
    assert caught.value.problems[0].line == line  # nothing before it is blamed
    assert all(problem.file == file for problem in caught.value.problems)


def test_every_broken_file_is_in_the_table():
    assert {file.name for file in BROKEN.iterdir()} == {file for _, file, _, _ in CASES}


def test_ten_thousand_open_brackets_are_refused():
    with pytest.raises(InputError, match="at most 24 levels"):
        parse("liner: " + "[" * 10_000, "deep.yaml")
