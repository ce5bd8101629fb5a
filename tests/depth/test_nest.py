"""What stands in what: the tubes at a depth, what surrounds them, and spaces that fill the hole."""

import math
from itertools import pairwise

import pytest

from schematic.depth.nest import HOLE, RUNNING_STRING, Nest, State, circle_m2
from schematic.outcome import MissingInput
from tests.depth.wells import BRINDLEWICK, SOLLIVANE, TEXTS, planned

FT = 0.3048

# Another liner, 7 in, hangs in the 9 5/8 in casing; the well's own liner of 4 1/2 in hangs in that.
LINER_IN_LINER = (
    (
        "\nliner:\n  pipe: 7 in 29 lb/ft P-110\n  connection: special clearance buttress\n"
        "  host: intermediate casing\n  lap: 370 ft\n",
        "  - {name: drilling liner, pipe: 7 in 29 lb/ft P-110, top: 9480 ft, shoe: 11300 ft}\n"
        "\nliner:\n  pipe: 4 1/2 in 11.6 lb/ft P-110\n  host: drilling liner\n  top: 11000 ft\n",
    ),
    ("      - {to: 12600 ft, diameter: 8.80 in}\n", "  - {bit: 6 in, to: 12600 ft}\n"),
    ("  - bit: 8 1/2 in\n    to: 12600 ft\n", "  - bit: 8 1/2 in\n    to: 11300 ft\n"),
    ("length: 9076 ft", "length: 10596 ft"),
    ("od: 8.312 in\n      id: 6.160 in", "od: 5.7 in\n      id: 4 in"),
    ("od: 8.312 in, id: 6.200 in", "od: 5.7 in, id: 4 in"),
    ("od: 8.250 in, bore: 7.375 in", "od: 5.7 in, bore: 5 in"),
    ("{part: float shoe, length: 1.8 ft, od: 7.656 in", "{part: float shoe, length: 1.8 ft, od: 5 in"),
    ("{part: float collar, length: 1.6 ft, od: 7.656 in}", "{part: float collar, length: 1.6 ft, od: 5 in}"),
    ("length: 1.5 ft, od: 7.656 in, ball", "length: 1.5 ft, od: 5 in, ball"),
    ("planned top: 9280 ft", "planned top: 10900 ft"),
)  # fmt: skip

WELLS = {
    "brindlewick": planned(BRINDLEWICK),
    "sollivane": planned(SOLLIVANE),
    "liner in liner": planned(BRINDLEWICK, *LINER_IN_LINER),
}


def names_at(nest, md_m):
    return [tube.name for tube in nest.at(md_m)]


@pytest.mark.parametrize("state", State)
@pytest.mark.parametrize("well", WELLS)
def test_bores_steel_and_annuli_fill_the_hole_at_every_depth(well, state):
    depth = WELLS[well].depth
    nest = Nest(depth, state)
    spaces = nest.spaces()
    edges = sorted(
        {d for space in spaces for d in space.area_m2.depths_m}
        | {s.top_m for tube in nest.tubes for s in tube.stretches}
        | {s.bottom_m for tube in nest.tubes for s in tube.stretches}
    )

    for top, bottom in pairwise(edges):
        if bottom - top < 1e-6 or top < 0.0:
            continue  # above the rotary there is the running string alone
        md = (top + bottom) / 2
        fluid = sum(s.area_m2.at(md) for s in spaces if s.area_m2.top_m <= md <= s.area_m2.bottom_m)
        tubes = nest.at(md)
        steel = sum(t.outside_m2(top, bottom).at(md) - t.inside_m2(top, bottom).at(md) for t in tubes)
        in_hole = depth.hole.diameter_m.depths_m[0] <= md and not (tubes and tubes[-1].name in nest.driven)
        whole = (
            circle_m2(depth.hole.diameter_m.at(md)) if in_hole else tubes[-1].outside_m2(top, bottom).at(md)
        )
        assert fluid + steel == pytest.approx(whole, rel=1e-12), f"at {md} m"


@pytest.mark.parametrize("state", State)
@pytest.mark.parametrize("well", WELLS)
def test_volumes_of_all_spaces_and_steel_add_up_to_the_hole(well, state):
    """The same law integrated: below the driven pipe and the ground there is hole around everything."""
    depth = WELLS[well].depth
    nest = Nest(depth, state)
    top, bottom = depth.hole.diameter_m.top_m, depth.td_md_m

    fluid = math.fsum(space.area_m2.integral(top, bottom) for space in nest.spaces())
    steel = math.fsum(
        t.outside_m2(top, bottom).integral() - t.inside_m2(top, bottom).integral()
        for t in nest.tubes
        if t.name not in nest.driven
    )

    assert fluid + steel == pytest.approx(nest.hole_m2.integral(), rel=1e-12)


@pytest.mark.parametrize(
    ("well", "md_ft", "state", "names"),
    [
        ("brindlewick", 50, State.STRING_OUT, ["intermediate casing", "surface casing", "conductor"]),
        ("brindlewick", 5000, State.STRING_OUT, ["intermediate casing"]),
        ("brindlewick", 5000, State.STRING_IN, [RUNNING_STRING, "intermediate casing"]),
        ("brindlewick", 9490, State.STRING_IN, [RUNNING_STRING, "liner", "intermediate casing"]),
        ("brindlewick", 9490, State.STRING_OUT, ["liner", "intermediate casing"]),
        ("brindlewick", 9600, State.STRING_IN, ["liner", "intermediate casing"]),  # below the plug
        ("brindlewick", 9480, State.STRING_OUT, ["liner", "intermediate casing"]),  # an end: what is below
        ("brindlewick", 12000, State.STRING_IN, ["liner"]),
        ("brindlewick", 12595, State.STRING_IN, []),
        ("liner in liner", 11100, State.STRING_OUT, ["liner", "drilling liner"]),
        ("liner in liner", 9600, State.STRING_IN, [RUNNING_STRING, "drilling liner", "intermediate casing"]),
    ],
)
def test_the_tubes_at_a_depth_from_the_axis_outward(well, md_ft, state, names):
    assert names_at(Nest(WELLS[well].depth, state), md_ft * FT) == names


@pytest.mark.parametrize(
    ("well", "name", "faces"),
    [
        ("brindlewick", "liner", [("intermediate casing", 9480, 9850), (HOLE, 9850, 12590)]),
        ("brindlewick", "intermediate casing", [("surface casing", 0, 4120), (HOLE, 4120, 9850)]),
        ("brindlewick", "surface casing", [("conductor", 0, 90), (HOLE, 90, 4120)]),
        ("brindlewick", RUNNING_STRING, [("intermediate casing", 0, 9480), ("liner", 9480, 9500)]),
        ("liner in liner", "liner", [("drilling liner", 11000, 11300), (HOLE, 11300, 12590)]),
        (
            "liner in liner",
            RUNNING_STRING,
            [("intermediate casing", 0, 9480), ("drilling liner", 9480, 11000), ("liner", 11000, 11020)],
        ),
    ],
)
def test_what_a_string_faces(well, name, faces):
    nest = Nest(WELLS[well].depth, State.STRING_IN)
    top, bottom = faces[0][1] * FT, faces[-1][2] * FT

    found = nest.surrounds(name, top, bottom)

    assert [face[0] for face in found] == [face[0] for face in faces]
    for (_name, above, below), (_same, above_ft, below_ft) in zip(found, faces, strict=True):
        assert (above, below) == pytest.approx((above_ft * FT, below_ft * FT), abs=1e-9)


def test_drill_pipe_counts_its_tool_joints_by_their_share_of_the_length():
    """21 in of 6 5/8 in OD, 2 3/4 in bore in each 31.5 ft of 5 in pipe, 4.276 in bore: areas by hand."""
    tube = Nest(WELLS["brindlewick"].depth, State.STRING_IN).tube(RUNNING_STRING)
    share = 21 / (31.5 * 12)
    inch = 0.0254

    bore = tube.inside_m2(1000.0, 1001.0).at(1000.5)
    body = tube.outside_m2(1000.0, 1001.0).at(1000.5)

    assert bore == pytest.approx(
        math.pi / 4 * inch**2 * ((1 - share) * 4.276**2 + share * 2.75**2), rel=1e-12
    )
    assert body == pytest.approx(math.pi / 4 * inch**2 * ((1 - share) * 5.0**2 + share * 6.625**2), rel=1e-12)


@pytest.mark.parametrize("well", WELLS)
def test_the_open_bore_is_that_of_the_innermost_tube(well):
    depth = WELLS[well].depth
    nest = Nest(depth, State.STRING_OUT)

    bore = nest.open_bore_m2(0.0, depth.td_md_m)

    for top, bottom, area in bore.steps():
        md = (top + bottom) / 2
        inner = nest.at(md)
        expected = (
            inner[0].inside_m2(top, bottom).at(md) if inner else circle_m2(depth.hole.diameter_m.at(md))
        )
        assert area == expected
    assert (bore.top_m, bore.bottom_m) == (0.0, depth.td_md_m)


def test_a_running_part_without_an_od_leaves_out_its_annulus_and_names_it():
    plan = planned(BRINDLEWICK, ("length: 30 ft, od: 5 in, id: 3.00 in", "length: 30 ft"))
    nest = Nest(plan.depth, State.STRING_IN)

    with pytest.raises(MissingInput, match="OD of running tool"):
        nest.annulus_m2(RUNNING_STRING, 0.0, plan.depth.liner.top_md_m)
    facing = [(space.inner, space.outer) for space in nest.spaces()]
    assert (RUNNING_STRING, "intermediate casing") not in facing
    assert ("liner", HOLE) in facing


def test_a_part_of_the_liner_without_an_od_counts_as_pipe_body():
    plan = planned(BRINDLEWICK, ("od: 8.312 in, id: 6.200 in", "id: 6.200 in"))

    tube = Nest(plan.depth, State.STRING_IN).tube("liner")

    assert tube.outside_m2(9491 * FT, 9492 * FT).at(9491.5 * FT) == circle_m2(7 * 0.0254)


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_of_two_strings_of_one_size_the_later_is_the_inner(text):
    plan = planned(text)
    host = plan.depth.host
    twin = host._replace(name="patch", top_md_m=100.0, shoe_md_m=200.0)
    depth = plan.depth.__class__(
        **{name: getattr(plan.depth, name) for name in plan.depth.__dataclass_fields__ if name != "strings"},
        strings=(*plan.depth.strings, twin),
    )

    assert names_at(Nest(depth, State.STRING_OUT), 150.0)[:2] == ["patch", host.name]
