"""Paths by name lead where people mean, or say what is near."""

import pytest
from hypothesis import given, settings

from schematic.wellfile.nodes import Mapping, Node, Sequence, normalised
from schematic.wellfile.path import PathError, at, find, locate, spell, split
from schematic.wellfile.tree import parse
from tests.wellfile.yaml_texts import PAGES, yaml_texts

ROOT = parse(
    """\
strings:
  - name: intermediate casing
    shoe: 2840 m
  - name: Tie-back
    shoe: 1 m
  - name: a.b "c" [d]
    shoe: 2 m
  - shoe: 3 m
liner:
  off-bottom: 2 m
  lap: 120 m
  assembly:
    - {part: float shoe}
    - {part: joint, count: 2}
    - {part: float collar}
    - {part: joint, count: 1}
    - {part: joint, name: marker joint}
fluids:
  Mud: {density: 1 sg}
  mud: {density: 2 sg}
  SPACER: {density: 3 sg}
twins: [{name: x}, {name: x}]
empty: {}
""",
    "a.yaml",
)


@pytest.mark.parametrize(
    ("path", "steps"),
    [
        ("liner.lap", ("liner", "lap")),
        ("strings[0].shoe", ("strings", "0", "shoe")),
        ("strings.0.shoe", ("strings", "0", "shoe")),
        ("strings [ 0 ] . shoe", ("strings", "0", "shoe")),
        ('strings."a.b".shoe', ("strings", "a.b", "shoe")),
        ('"say ""so"""', ('say "so"',)),
        ("strings.intermediate casing.shoe", ("strings", "intermediate casing", "shoe")),
        ("a[0][1]", ("a", "0", "1")),
    ],
)
def test_a_path_is_split_into_its_steps(path, steps):
    assert split(path) == steps


@pytest.mark.parametrize(
    "path", ["", ".", "a.", ".a", "a..b", "a[", "a[x]", 'a."b', 'a"b"', "a[0]b", "a]", " ", "a[-1]"]
)
def test_a_path_that_cannot_be_read_says_so(path):
    with pytest.raises(PathError):
        split(path)


@pytest.mark.parametrize(
    ("path", "loc"),
    [
        ("strings.intermediate casing.shoe", ("strings", 0, "shoe")),
        ("Strings.Intermediate_Casing.SHOE", ("strings", 0, "shoe")),
        ("strings.tie back", ("strings", 1)),
        ('strings."a.b ""c"" [d]"', ("strings", 2)),
        ("strings[3].shoe", ("strings", 3, "shoe")),
        ("strings.3", ("strings", 3)),
        ("liner.off bottom", ("liner", "off bottom")),
        ("liner.off_bottom", ("liner", "off bottom")),
        ("liner.assembly.float-shoe", ("liner", "assembly", 0)),
        ("liner.assembly.joint 1", ("liner", "assembly", 1)),
        ("liner.assembly.joint 2.count", ("liner", "assembly", 3, "count")),
        ("liner.assembly.joint 3", ("liner", "assembly", 4)),
        ("liner.assembly.marker joint", ("liner", "assembly", 4)),
        ("fluids.Mud", ("fluids", "Mud")),
        ("fluids.mud", ("fluids", "mud")),
        ("fluids.spacer", ("fluids", "SPACER")),
    ],
)
def test_a_path_forgives_spelling(path, loc):
    assert locate(ROOT, split(path)) == loc
    assert find(ROOT, path) is at(ROOT, loc)[0]


@pytest.mark.parametrize(
    ("path", "message", "choices"),
    [
        ("linr.lap", "did you mean 'liner'", ("liner",)),
        ("liner.lapp", "'liner' has no 'lapp'; did you mean 'liner.lap'", ("liner.lap",)),
        ("strings.intermediate casin.shoe", "did you mean 'strings.intermediate casing'", None),
        (
            "liner.assembly.joint",
            "could be any of",
            ("liner.assembly.joint 1", "liner.assembly.joint 2", "liner.assembly.marker joint"),
        ),
        ("fluids.MUD", "could be any of", ("fluids.Mud", "fluids.mud")),
        ("twins.x", "could be any of", ("twins[0]", "twins[1]")),
        ("strings[9]", "4 items, numbered from 0", None),
        ("liner.assembly.joint 4", "has no 'joint 4'", None),
        ("liner.lap.top", "holds no parts", ()),
        ("empty.x", "it is empty", ()),
        ("qqq", "it has 'strings', 'liner', 'fluids'", None),
    ],
)
def test_a_path_that_leads_nowhere_says_what_is_near(path, message, choices):
    with pytest.raises(PathError) as caught:
        find(ROOT, path)

    assert message in str(caught.value)
    assert choices is None or caught.value.choices == choices


@pytest.mark.parametrize(
    ("loc", "path"),
    [
        ((), ""),
        (("strings", 0, "shoe"), "strings.intermediate casing.shoe"),
        (("strings", 1), "strings.Tie back"),
        (("strings", 2, "shoe"), 'strings."a.b ""c"" [d]".shoe'),
        (("strings", 3, "shoe"), "strings[3].shoe"),
        (("liner", "assembly", 0), "liner.assembly.float shoe"),
        (("liner", "assembly", 3, "count"), "liner.assembly.joint 2.count"),
        (("liner", "assembly", 4), "liner.assembly.marker joint"),
        (("twins", 1), "twins[1]"),
        (("liner", "off_bottom"), "liner.off bottom"),
        (("liner", "missing", 3, "x"), "liner.missing[3].x"),
    ],
)
def test_a_place_is_spelled_by_name(loc, path):
    assert spell(ROOT, loc) == path


def _locs(node: Node, loc=()):
    inner = []
    if isinstance(node, Mapping):
        inner = [(normalised(entry.key.value), entry.value) for entry in node.entries]
    elif isinstance(node, Sequence):
        inner = list(enumerate(node.items))
    for step, value in inner:
        yield (*loc, step)
        yield from _locs(value, (*loc, step))


@settings(PAGES)
@given(yaml_texts())
def test_a_spelled_place_leads_back_to_itself(text):
    root = parse(text, "a.yaml")
    for loc in _locs(root):
        assert locate(root, split(spell(root, loc))) == loc


def test_a_spelled_place_leads_back_to_itself_whatever_the_names():
    names = ["0", "1", "joint 2", "joint", "Joint", "a.b", "-", "", " x ", "[0]", '"', "é", "null"]
    for part in ("name", "part"):
        root = parse("a:\n" + "".join(f"- {part}: '{name}'\n" for name in names * 2), "a.yaml")
        for number in range(2 * len(names)):
            assert locate(root, split(spell(root, ("a", number)))) == ("a", number)


def test_the_nearest_node_that_exists_is_given_with_its_key():
    node, key = at(ROOT, ("strings", 0, "od"))
    assert (node.line, key) == (2, None)

    node, key = at(ROOT, ("liner", "off_bottom"))
    assert (node.value, key.value, key.line) == ("2 m", "off-bottom", 10)

    node, key = at(ROOT, ("liner", "top", "x"))
    assert (key.value, node.line) == ("liner", 10)
    assert at(ROOT, ()) == (ROOT, None)
