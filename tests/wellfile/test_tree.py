"""The reader: every scalar a text, every node at its place, nothing expanded, everything bounded."""

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from schematic.wellfile import tree
from schematic.wellfile.problem import InputError
from schematic.wellfile.tree import Mapping, Node, Scalar, Sequence, normalised, parse, plain
from tests.wellfile.yaml_texts import PAGES, yaml_texts


def _problems(text):
    with pytest.raises(InputError) as caught:
        parse(text, "a.yaml")
    return caught.value.problems


def _base(value):
    """What the YAML library's own text-only loader gives, with keys compared as ours are."""
    if isinstance(value, dict):
        return {normalised(key): _base(inner) for key, inner in value.items()}
    return [_base(inner) for inner in value] if isinstance(value, list) else value


def _with_empty_text(value):
    if isinstance(value, dict):
        return {key: _with_empty_text(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_with_empty_text(inner) for inner in value]
    return "" if value is None else value


def _nodes(node: Node):
    yield node
    inner = ()
    if isinstance(node, Mapping):
        inner = [each for entry in node.entries for each in (entry.key, entry.value)]
    elif isinstance(node, Sequence):
        inner = node.items
    for each in inner:
        yield from _nodes(each)


@settings(PAGES)
@given(yaml_texts())
def test_the_tree_is_what_the_yaml_library_reads_as_text(text):
    assert _with_empty_text(plain(parse(text, "a.yaml"))) == _base(yaml.load(text, Loader=yaml.BaseLoader))


@settings(PAGES)
@given(yaml_texts())
def test_both_parsers_of_the_yaml_library_give_the_same_tree(text):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tree, "_LOADER", yaml.SafeLoader)
        in_python = parse(text, "a.yaml")
    assert in_python == parse(text, "a.yaml")


@settings(PAGES)
@given(yaml_texts())
def test_every_node_stands_where_it_says(text):
    for node in _nodes(parse(text, "a.yaml")):
        line, column = text.count("\n", 0, node.start) + 1, node.start - text.rfind("\n", 0, node.start)
        assert (line, column) == (node.line, node.column)
        written = text[node.start : node.end]
        if isinstance(node, Scalar):
            if node.value is None:
                assert written == ""
                assert text[node.start - 1] in ":-"
            elif node.style is None:
                assert "".join(written.split()) == "".join(node.value.split())
            elif node.style in "'\"":
                assert written[0] == written[-1] == node.style
            else:
                assert written[0] == node.style
                assert "+" in written[:2] or not written.endswith("\n")
        elif node.flow and written[0] in "[{":
            assert written[-1] in "]}"


@given(st.text(max_size=40) | st.binary(max_size=40) | st.text("a1:-,#[]{}'\"|> \n\t&*!?", max_size=30))
def test_any_text_is_read_or_refused_with_problems(text):
    problems = ()
    try:
        root = parse(text, "a.yaml")
    except InputError as error:
        root, problems = None, error.problems

    assert isinstance(root, Mapping) or problems
    assert all(each.mend and each.line >= 1 and each.column >= 1 for each in problems)


def test_nothing_is_typed():
    text = "a: yes\nb: 12:30\nc: 010\nd: off\ne: null\nf: ~\ng: ''\nh:\ni: 1e3\nj: 2026-11-20\n"

    assert plain(parse(text, "a.yaml")) == {
        "a": "yes", "b": "12:30", "c": "010", "d": "off", "e": "null", "f": "~", "g": "", "h": None,
        "i": "1e3", "j": "2026-11-20",
    }  # fmt: skip


def test_keys_are_compared_without_regard_to_space_hyphen_and_underscore():
    root = parse("off-bottom: 2 m\nfluids: {Light_mud: {}}\n", "a.yaml")

    assert plain(root) == {"off bottom": "2 m", "fluids": {"Light mud": {}}}
    assert root.entries[0].key.value == "off-bottom"


def test_bytes_and_text_give_the_same_tree():
    text = "näme: 😀 9 5/8″\nnext: x\n"

    assert parse(text.encode(), "a.yaml") == parse(text, "a.yaml")


def test_all_problems_are_told_in_the_order_of_the_file_with_named_paths():
    text = """\
strings:
  - name: intermediate casing
    pipe: 9 5/8 in 47 # L-80
    cement: &c {top: 1900 m}
    shoe: 2840 m
    shoe: 2850 m
liner: {rho: 12,2 ppg, cement: *c}
"""
    found = [(each.line, each.path) for each in _problems(text)]

    assert found == [
        (3, "strings.intermediate casing.pipe"),
        (4, "strings.intermediate casing.cement"),
        (6, "strings.intermediate casing.shoe"),
        (7, "liner.2 ppg"),
        (7, "liner.cement"),
    ]


def test_a_key_that_is_there_twice_names_both_lines():
    (problem,) = _problems("off-bottom: 1 m\nx: 1\noff_bottom: 2 m\n")

    assert problem.line == 3
    assert "line 1" in problem.found
    assert "lines 1 and 3" in problem.mend


@pytest.mark.parametrize(
    "line",
    [
        "pipe: 7 in 29 lb/ft P-110  # L-80 was out of stock",  # the value has its grade
        "shoe: 2840 m # 9 5/8 in casing",  # a value that is complete
        "lap: 120 m # note",
        "part: joint # as many as the length needs",
        "host: intermediate casing   # 9 5/8 in",  # set apart, as remarks are
        "count: 2 # joints",
        "name: '7 in 29' # P-110",  # quoted: whoever wrote it ended it there
        "inc: 90 deg # MD 95 m",
    ],
)
def test_a_remark_behind_a_value_is_legal(line):
    assert isinstance(parse(line + "\n", "a.yaml"), Mapping)


@pytest.mark.parametrize(
    "line",
    ["pipe: 7 in 29 # P-110", "pipe: 7 in 29 #P110", "pipe: 7 in 29  # L-80 x", "- 7 in # Q125",
     "name: casing # 9 5/8", "{pipe: 7 in 29 # P-110\n }"],
)  # fmt: skip
def test_a_hash_that_swallows_a_grade_or_a_size_is_told(line):
    problems = _problems(f"a:\n  {line}\n")

    assert len(problems) == 1
    assert "' #' starts a comment" in problems[0].found
    assert "quote the text" in problems[0].mend


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("m: {rho: 12,2 ppg}", "'12.2 ppg'"),
        ("m: {md: 1,200 m}", "'1200 m'"),
        ("m: [2691,2 m, 2703 m]", "'2691.2 m'"),
        ("m: {rho:12}", "'rho: 12'"),
        ("m: {rho}", "'rho: value'"),
        ("m: {rho: ?}", "starts with ?"),
        ("m: {rho: 1 sg yield: 2}", "a comma before this"),
    ],
)
def test_a_comma_or_colon_in_brackets_gets_a_hint(text, mend):
    (problem,) = _problems(text)

    assert mend in problem.mend


@pytest.mark.parametrize(
    "text", ["? a\n: b\n", "a: 1\n? b # c\n: d\n", "{? a : b}\n", "[a]: 1\n", "{a: 1}: 2\n"]
)
def test_a_key_is_one_text_before_a_colon(text):
    assert any("key" in problem.found for problem in _problems(text))


def test_a_question_mark_in_a_text_or_comment_is_nothing_special():
    text = "a: why?\n# ? x\nb?: 1 # ?\n?c: {d?: e?}\n"

    assert plain(parse(text, "a.yaml")) == {
        "a": "why?", "b?": "1", "?c": {"d?": "e?"},
    }  # fmt: skip


def test_numbers_parted_by_commas_without_spaces_stay_a_list():
    assert plain(parse("m: [1,2,3]\nn: [1,2 , 3]", "a.yaml")) == {"m": ["1", "2", "3"], "n": ["1", "2", "3"]}


@pytest.mark.parametrize("loader", [yaml.SafeLoader, yaml.CSafeLoader])
@pytest.mark.parametrize(
    "text",
    ["[" * 1_000_000, "{" * 1_000_000, "- " * 500_000, "[a," * 300_000, "? " * 500_000,
     "\n".join(" " * level + "a:" for level in range(1000)), "a: [" + "[" * 24],
)  # fmt: skip
def test_deep_nesting_is_refused(text, loader, monkeypatch):
    monkeypatch.setattr(tree, "_LOADER", loader)

    assert "24 levels" in _problems(text)[-1].accepted


def test_24_levels_are_read():
    assert isinstance(parse("a: " + "[" * 23 + "]" * 23, "a.yaml"), Mapping)


@pytest.mark.parametrize(
    ("text", "accepted"),
    [
        ("a: 1\n" + "#" * (4 * 1024 * 1024), "4 MiB"),
        ("é" * (2 * 1024 * 1024 + 1), "4 MiB"),
        ("a: " + "x" * 100_001, "100000"),
        ("a:\n" + "- x\n" * 200_000, "200000"),
    ],
)
def test_the_bounds_say_what_they_are(text, accepted):
    assert accepted in _problems(text)[-1].accepted


def test_what_just_fits_the_bounds_is_read():
    assert isinstance(parse("a: " + "x" * 100_000, "a.yaml"), Mapping)
    assert isinstance(parse("a: 1\n" + "#" * (4 * 1024 * 1024 - 5), "a.yaml"), Mapping)
    # 200 000 nodes: the root, the key, the list and its items
    assert isinstance(parse("a:\n" + "- x\n" * 199_997, "a.yaml"), Mapping)


def test_reading_stops_after_a_hundred_problems():
    problems = _problems("a: 1\n" * 5000)

    assert len(problems) == 101
    assert "reading stopped" in problems[-1].found


@pytest.mark.parametrize(
    ("data", "line", "found"),
    [
        ("a: 1\nb: x\0y\n", 2, "NUL"),
        ("a: 1\n".encode("utf-16"), 1, "UTF-16"),
        ("a: 1\n".encode("utf-16-le"), 1, "NUL"),
        (b"\xef\xbb\xbfa: 1\n\xef\xbb\xbf", 2, "U+FEFF"),
        ("a: 1\nb: 5 °\n".encode("latin-1"), 2, "0xb0"),
        ("a: 1\nb: \x1b[31m\n", 2, "U+001B"),
        ("a: \ud800\n", 1, "U+D800"),
        ("a: 1\rb: 2\n", 1, "carriage return"),
        ("a: 1\u2028b: 2\n", 1, "U+2028"),
        ("a: 1\nb: \u202e2\n", 2, "U+202E"),
    ],
)
def test_characters_nobody_sees_are_told(data, line, found):
    (problem,) = _problems(data)

    assert problem.line == line
    assert found in problem.found
    assert problem.column >= 1


@pytest.mark.parametrize("text", ["", " \n\n", "# only a comment\n", "---\n", "- a\n", "words\n", "''\n"])
def test_a_file_without_keys_is_a_problem(text):
    (problem,) = _problems(text)

    assert "lapline: 1" in problem.mend
