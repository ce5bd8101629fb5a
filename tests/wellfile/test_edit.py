"""Edits in place: what was asked happens, and nothing else on the page moves."""

import json
import re

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from schematic.wellfile import edit
from schematic.wellfile.edit import EditError
from schematic.wellfile.nodes import Mapping, Scalar, Sequence, normalised
from schematic.wellfile.path import PathError, at, spell
from schematic.wellfile.problem import InputError
from schematic.wellfile.tree import parse, plain
from tests.wellfile.yaml_texts import PAGES, TEXTS, yaml_texts

WRITABLE = TEXTS.filter(lambda text: not re.search(r"[\ud800-\udfff]", text))


def _places(node, loc=()):
    """Every node below *node* with its place."""
    inner = []
    if isinstance(node, Mapping):
        inner = [(normalised(entry.key.value), entry.value) for entry in node.entries]
    elif isinstance(node, Sequence):
        inner = list(enumerate(node.items))
    for step, value in inner:
        yield (*loc, step), value
        yield from _places(value, (*loc, step))


def _holder(tree, loc):
    for step in loc:
        tree = tree[step]
    return tree


def _same(one, other):
    return json.dumps(one) == json.dumps(other)  # minds the order of keys


def _draw(data, root, kind):
    """A random node of one kind with its place, or none on this page."""
    places = [((), root)] if kind is Mapping else []
    places += [(loc, node) for loc, node in _places(root) if isinstance(node, kind)]
    return data.draw(st.sampled_from(places)) if places else (None, None)


def _last_block_ends_the_file(text, root):
    """A block text that runs to the last character: a line below it would lengthen its value."""
    return any(
        isinstance(node, Scalar) and node.style in ("|", ">") and node.end == len(text)
        for _, node in _places(root)
    ) and not text.endswith("\n")


@settings(PAGES)
@given(yaml_texts(), st.data())
def test_setting_a_value_changes_that_value_and_not_a_character_outside_it(text, data):
    root = parse(text, "a.yaml")
    loc, node = _draw(data, root, Scalar)
    assume(loc is not None)
    value = data.draw(WRITABLE)

    result = edit.set(text, spell(root, loc), value)

    expected = plain(root)
    _holder(expected, loc[:-1])[loc[-1]] = value
    assert _same(plain(parse(result, "b.yaml")), expected)
    assert result.startswith(text[: node.start])
    assert result[node.start :].endswith(text[node.end :])


@settings(PAGES)
@given(yaml_texts(), st.data())
def test_setting_a_missing_key_adds_it_behind_the_others(text, data):
    root = parse(text, "a.yaml")
    loc, _ = _draw(data, root, Mapping)
    value = data.draw(WRITABLE)
    key = data.draw(st.sampled_from(["new", "off bottom", "näme", "a.b", "x: y", "[q]", "# no"]))
    path = ".".join([*([spell(root, loc)] if loc else []), f'"{key}"'])
    assume(not _last_block_ends_the_file(text, root))

    result = edit.set(text, path, value)

    expected = plain(root)
    _holder(expected, loc)[normalised(key)] = value
    assert _same(plain(parse(result, "b.yaml")), expected)
    _assert_only_added(text, result)


@settings(PAGES)
@given(yaml_texts(), st.data())
def test_inserting_an_item_adds_it_where_asked(text, data):
    root = parse(text, "a.yaml")
    loc, node = _draw(data, root, Sequence)
    assume(loc is not None and not _last_block_ends_the_file(text, root))
    inner = st.recursive(
        WRITABLE,
        lambda deeper: (
            st.lists(deeper, max_size=3)
            | st.dictionaries(st.sampled_from(["name", "md", "x-y", "é: #"]), deeper, max_size=3)
        ),
        max_leaves=6,
    )
    value = data.draw(inner)
    number = data.draw(st.none() | st.integers(0, len(node.items) - 1) if node.items else st.none())

    result = edit.insert(text, spell(root, loc), value, before=number)

    expected = plain(root)
    normal = json.loads(json.dumps(value).replace("x-y", "x y"))
    _holder(expected, loc).insert(len(node.items) if number is None else number, normal)
    assert _same(plain(parse(result, "b.yaml")), expected)
    _assert_only_added(text, result)


@settings(PAGES)
@given(yaml_texts(), st.data())
def test_removing_takes_one_thing_and_leaves_the_comments_of_its_neighbours(text, data):
    root = parse(text, "a.yaml")
    loc, node = data.draw(st.sampled_from(list(_places(root))))
    _, key = at(root, loc)

    result = edit.remove(text, spell(root, loc))

    expected = plain(root)
    del _holder(expected, loc[:-1])[loc[-1]]
    assert _same(plain(parse(result, "b.yaml")), expected)
    # What may go along: comment lines right above it, and set deeper than it right below it; behind
    # a block text also those below a blank line, which would become part of that text.
    start = key.start if key else _dash(text, at(root, loc[:-1])[0], node)
    start = text.rfind("\n", 0, start) + 1
    column = len(text[start:]) - len(text[start:].lstrip(" "))
    blank = r"(?:[ \t]*\r?\n)*" if any(mark in text for mark in (" |", " >")) else ""
    above = re.search(r"(?:^[ \t]*#[^\n]*\n)*\Z", text[:start], re.MULTILINE)
    deeper = re.compile(rf"[^\n]*\n?(?:{blank}[ ]{{{column + 1},}}#[^\n]*\n?)*")
    below = deeper.match(text, node.end - (text[node.end - 1] == "\n"))
    outside = text[: above.start()] + text[below.end() :]
    for comment in re.findall(r"# c[0-9]+:?", outside):
        assert comment in result
    assert set(result.splitlines(keepends=True)) <= _pieces(text, result)


def _dash(text, holder, item):
    if holder.flow:
        return item.start
    head = re.compile(rf"^[ -]{{{holder.column - 1}}}-(?=\s|\Z)", re.MULTILINE)
    return max(match.end() - 1 for match in head.finditer(text) if match.end() <= item.start)


def _pieces(text, result):
    """Lines of the text, and the lines on which the cut was made."""
    before = set(text.splitlines(keepends=True))
    cut = [line for line in result.splitlines(keepends=True) if line not in before]
    assert len(cut) <= 2
    return before | set(cut)


def _assert_only_added(text, result):
    """The result is the text with something put in at one place, or at two on neighbouring lines."""
    same = len(result) - len(text)
    assert same > 0
    rest = iter(result)
    assert all(char in rest for char in text)  # the text's characters are all there, in order
    old, new = text.splitlines(keepends=True), result.splitlines(keepends=True)
    changed = [line for line in old if line not in new]
    assert len(changed) <= 2


PAGE = """\
# A well.
lapline: 1
strings:                # from the outside in
  # The intermediate casing.
  - name: intermediate casing
    pipe: '9 5/8 in 47 lb/ft L-80'   # as run
    shoe: 2840 m
  # The conductor.
  - name: conductor
    shoe: 90 m

# What hangs in it.
liner:
  lap: 120 m            # any sufficient set
  # Two metres of rat hole.
  off-bottom: 2 m
  assembly:
    - {part: float shoe, length: 0.7 m}
    - {part: joint, count: 2}
    - {part: joint, count: 1}   # above the collar
record:
"""


def _changed(result, page=PAGE):
    old, new = page.splitlines(), result.splitlines()
    return [line for line in old if line not in new], [line for line in new if line not in old]


@pytest.mark.parametrize(
    ("path", "value", "line"),
    [
        ("liner.lap", "180 m", "  lap: 180 m            # any sufficient set"),
        ("liner.off_bottom", "3 m", "  off-bottom: 3 m"),
        ("Strings.Intermediate Casing.pipe", "7 in", "    pipe: '7 in'   # as run"),
        ("strings[0].pipe", "driller's", "    pipe: 'driller''s'   # as run"),
        ("liner.assembly.joint 2.count", "3", "    - {part: joint, count: 3}   # above the collar"),
        ("liner.assembly.float shoe.part", "a, b", "    - {part: 'a, b', length: 0.7 m}"),
        ("liner.lap", "7 in 29 # P-110", "  lap: '7 in 29 # P-110'            # any sufficient set"),
        ("liner.lap", "", "  lap: ''            # any sufficient set"),
        ("liner.lap", "a\tb: \n", '  lap: "a\\tb: \\n"            # any sufficient set'),
        ("record", "none yet", "record: none yet"),
        ("liner.shoe", "3962 m", "  shoe: 3962 m"),
        ("strings.conductor.pipe", "20 in", "    pipe: 20 in"),
        ("liner.assembly.joint 1.fill", "true", "    - {part: joint, count: 2, fill: true}"),
        ("record.bump", "1", "record: {bump: 1}"),
        ("limits", "own", "limits: own"),
    ],
)
def test_a_value_is_set_in_the_style_of_its_place(path, value, line):
    _, new = _changed(edit.set(PAGE, path, value))

    assert new == [line]


def test_a_new_key_stands_before_the_comments_of_the_next_section():
    lines = edit.set(PAGE, "strings.conductor.cement", "to surface").splitlines()
    place = lines.index("    cement: to surface")

    assert lines[place - 1 : place + 3] == [
        "    shoe: 90 m", "    cement: to surface", "", "# What hangs in it.",
    ]  # fmt: skip


def test_the_value_of_a_block_text_is_replaced_and_the_comment_beside_its_mark_stays():
    text = "note: |  # why\n  one\n  two\nnext: x\n"

    assert edit.set(text, "note", "short") == "note: short  # why\nnext: x\n"


def test_line_ends_stay():
    text = PAGE.replace("\n", "\r\n")
    result = edit.insert(edit.set(text, "liner.shoe", "3 m"), "strings", {"name": "x", "shoe": "1 m"})

    assert result.count("\n") == result.count("\r\n") == text.count("\n") + 3


def test_an_item_is_written_like_its_neighbours():
    result = edit.insert(PAGE, "strings", {"name": "liner", "cement": {"top": "1 m", "by": "a, b"}})

    assert _changed(result) == ([], ["  - name: liner", "    cement: {top: 1 m, by: 'a, b'}"])
    assert "    shoe: 90 m\n  - name: liner\n" in result


def test_an_item_is_put_before_another_and_before_the_comment_above_that():
    result = edit.insert(PAGE, "strings", {"name": "liner"}, before="conductor")
    in_braces = edit.insert(PAGE, "liner.assembly", {"part": "float collar"}, before="joint 1")

    assert "    shoe: 2840 m\n  - name: liner\n  # The conductor.\n  - name: cond" in result
    assert "0.7 m}\n    - {part: float collar}\n    - {part: joint, count: 2}\n" in in_braces


def test_items_change_places_and_change_back_while_comments_stay():
    for one, other in (("liner.assembly.0", "liner.assembly.2"), ("strings.1", "strings.0")):
        result = edit.exchange(PAGE, one, other)
        assert result != PAGE
        assert edit.exchange(result, other, one) == PAGE
    assert edit.exchange(PAGE, "liner.assembly.2", "liner.assembly.0").endswith(
        "    - {part: joint, count: 1}\n    - {part: joint, count: 2}\n"
        "    - {part: float shoe, length: 0.7 m}   # above the collar\nrecord:\n"
    )
    with pytest.raises(EditError, match="not two items of one list"):
        edit.exchange(PAGE, "strings.0", "liner.assembly.0")
    with pytest.raises(EditError, match="not two items of one list"):
        edit.exchange(PAGE, "liner.lap", "liner.off bottom")


def test_a_first_item_is_put_below_the_comments_on_the_list():
    text = "hole:\n  # from the top down\n  - a\n"

    assert edit.insert(text, "hole", "b", before=0) == "hole:\n  # from the top down\n  - b\n  - a\n"


def test_a_missing_or_empty_list_is_begun():
    missing = edit.insert(PAGE, "waived", {"rule": "lap too short", "by": "A"})
    empty = edit.insert(PAGE, "record", "one")
    in_braces = edit.insert("a: {b: c}\n", "a.d", "e, f")

    assert missing.endswith("record:\nwaived:\n  - {rule: lap too short, by: A}\n")
    assert empty.endswith("record: [one]\n")
    assert in_braces == "a: {b: c, d: ['e, f']}\n"


@pytest.mark.parametrize(
    ("text", "path", "result"),
    [
        ("a: [\n  x,  # one\n  y   # two\n]\n", "a", "a: [\n  x,  # one\n  y,   # two\n  z\n]\n"),
        ("a: [\n  x,\n  y,  # two\n]\n", "a", "a: [\n  x,\n  y,  # two\n  z,\n]\n"),
        ("a: []\n", "a", "a: [z]\n"),
        ("a: [x,]\n", "a", "a: [x, z,]\n"),
        ("a: [b: c]\n", "a", "a: [b: c, z]\n"),
        ("a:\n- x\nb: 1\n", "a", "a:\n- x\n- z\nb: 1\n"),
        ("a:\n-   x: 1\n    y: 2", "a", "a:\n-   x: 1\n    y: 2\n- z"),
    ],
)
def test_an_item_is_added_in_the_style_of_its_list(text, path, result):
    assert edit.insert(text, path, "z") == result


def test_a_pair_without_braces_gets_them_when_a_second_one_comes():
    assert edit.set("a: [b: c]\n", "a[0].d", "e") == "a: [{b: c, d: e}]\n"


@pytest.mark.parametrize(
    ("path", "gone"),
    [
        ("liner.lap", ["  lap: 120 m            # any sufficient set"]),
        ("liner.off bottom", ["  # Two metres of rat hole.", "  off-bottom: 2 m"]),
        ("liner.assembly.joint 2", ["    - {part: joint, count: 1}   # above the collar"]),
        ("strings.conductor", ["  # The conductor.", "  - name: conductor", "    shoe: 90 m"]),
        ("strings[0].pipe", ["    pipe: '9 5/8 in 47 lb/ft L-80'   # as run"]),
        ("record", ["record:"]),
        ("lapline", ["lapline: 1"]),
    ],
)
def test_what_is_removed_takes_its_own_comments_along(path, gone):
    assert _changed(edit.remove(PAGE, path)) == (gone, [])


@pytest.mark.parametrize(
    ("text", "path", "result"),
    [
        ("- a\n", None, None),
        ("a: 1\n", "a", "{}\n"),
        ("a: 1  # c\n", "a", "{}  # c\n"),
        ("a:  # c\n  # d\n  b: 1\nc: 2\n", "a.b", "a: {}  # c\n  # d\nc: 2\n"),
        ("a:\n- b\nc: 2\n", "a[0]", "a: []\nc: 2\n"),
        ("a:\n- b: 1\nc: 2\n", "a[0].b", "a:\n- {}\nc: 2\n"),
        ("a:\n- b: 1\n  # of c\n  c: 2\n", "a[0].b", "a:\n- # of c\n  c: 2\n"),
        ("a:\n- - b\n  - c\n", "a[0][0]", "a:\n- - c\n"),
        ("a: {b: 1, c: 2, d: 3}\n", "a.c", "a: {b: 1, d: 3}\n"),
        ("a: {b: 1, c: 2, d: 3}\n", "a.b", "a: {c: 2, d: 3}\n"),
        ("a: {b: 1, c: 2, d: 3}\n", "a.d", "a: {b: 1, c: 2}\n"),
        ("a: { b: 1 }\n", "a.b", "a: {}\n"),
        ("a: [b: c]\n", "a[0].b", "a: [{}]\n"),
        ("a: [\n  x,  # one\n  # of y\n  y   # two\n]\n", "a[1]", "a: [\n  x,  # one\n]\n"),
        ("a: [\n  x,  # one\n  y   # two\n]\n", "a[0]", "a: [\n  y   # two\n]\n"),
        ("a: [\n  x,  # one\n  y]\n", "a[1]", "a: [\n  x,  # one\n  ]\n"),
        ("a: |+\n  x\n\nb: 1\n", "a", "b: 1\n"),
        ("a:\n  b: 1\n  # in a\nc: 1\n", "a", "c: 1\n"),
    ],
)
def test_removing_leaves_a_valid_page(text, path, result):
    if path is None:
        with pytest.raises(InputError):
            edit.remove(text, "0")
    else:
        assert edit.remove(text, path) == result


@pytest.mark.parametrize(
    "spoiled",
    [
        "a: 3\nb: 3\n",  # another value changed too
        "a: 3\n",  # another entry is gone
        "b: 2\na: 3\n",  # another order
        "a: 1\nb: 2\n",  # nothing happened
        "a: 3\nb: [\n",  # no longer a page
    ],
)
def test_a_splice_that_went_wrong_is_never_given_back(monkeypatch, spoiled):
    monkeypatch.setattr(edit.splices, "replaced", lambda *_, **__: [spoiled])
    with pytest.raises(EditError, match="not made"):
        edit.set("a: 1\nb: 2\n", "a", "3")


def test_what_would_change_something_else_is_refused():
    with pytest.raises(EditError, match="not made"):  # the last line would end in a break then
        edit.set("a: |\n  x", "b", "1")


@pytest.mark.parametrize(
    ("verb", "arguments", "message"),
    [
        ("set", ("liner", "x"), "several values"),
        ("set", ("liner.lap.top", "x"), "not made of keys"),
        ("set", ("strings.new", "x"), "not made of keys"),
        ("set", ("liner.lap", "\ud800"), "cannot be written"),
        ("set", ("liner.lap", "x" * 100_001), "cannot be written"),
        ("set", ("liner.<<", "x"), None),
        ("insert", ("liner", "x"), "not a list"),
        ("insert", ("liner.lap", "x"), "not a list"),
        ("insert", ("new", "x", 0), "no items"),
        ("insert", ("liner.assembly", {"a b": "1", "a-b": "2"}), "not made"),
    ],
)
def test_what_cannot_be_is_refused(verb, arguments, message):
    if message is None:  # quoted, it is a key like any other
        assert "  '<<': x" in getattr(edit, verb)(PAGE, *arguments).splitlines()
        return
    with pytest.raises(EditError, match=message):
        getattr(edit, verb)(PAGE, *arguments)


@pytest.mark.parametrize(
    ("verb", "arguments", "message"),
    [
        ("set", ("linr.lap", "x"), "did you mean 'liner'"),
        ("set", ("liner.assembly.joint", "x"), "could be any of"),
        ("remove", ("liner.top",), "no 'top'"),
        ("insert", ("strings", "x", "tubing"), "no item 'tubing'"),
        ("insert", ("strings", "x", 2), "no item '2'"),
    ],
)
def test_a_path_that_leads_nowhere_says_what_is_near(verb, arguments, message):
    with pytest.raises(PathError, match=message):
        getattr(edit, verb)(PAGE, *arguments)


def test_a_page_with_problems_is_not_edited():
    with pytest.raises(InputError):
        edit.set("a: 1\na: 2\n", "a", "3")


def test_a_comma_in_a_comment_separates_nothing():
    """Found by the property test: the comma of the comment was taken for that of the braces."""
    text = "key: { # c3, {x}\n inner: word # c4, {x}\n } # c5, {x}\n"

    assert edit.remove(text, "key.inner") == "key: { # c3, {x}\n } # c5, {x}\n"
