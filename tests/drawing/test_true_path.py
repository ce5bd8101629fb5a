"""The section of a well: read back from its own axes, every event told once, strings that do not cross."""

from __future__ import annotations

import math
import re
from functools import cache
from itertools import combinations, pairwise

import pytest

from schematic import check
from schematic.depth.section import section_plane
from schematic.drawing.captions import DOT_MM
from schematic.drawing.fills import Rect
from schematic.drawing.labels import cross
from schematic.drawing.overlap import problems
from schematic.drawing.path_events import events
from schematic.drawing.scene import Dots, Path, Scene, Sheet, Text
from schematic.drawing.section_view import section_view
from schematic.drawing.styles import in_grey
from schematic.units import FOOT_M
from schematic.verbs import load_text
from tests.drawing.generated import text_of
from tests.drawing.torture import SOLLIVANE, WELLS, changed

HELD = "  - {md: 3985 m, inc: 55 deg, azi: 115 deg}\n"
TURNS = changed(
    SOLLIVANE,
    (
        HELD,
        "  - {md: 2200 m, inc: 55 deg, azi: 115 deg}\n  - {md: 2600 m, inc: 55 deg, azi: 160 deg}\n"
        "  - {md: 3985 m, inc: 55 deg, azi: 175 deg}\n",
    ),
)
LONG = changed(
    SOLLIVANE,
    ("name: Hallinquor shale", "name: Hallinquor-Corvane-Merrowick interbedded silty shale & <b>marl</b>"),
)
FIELD = changed(SOLLIVANE, ("  show: metric", "  show: field"))
TIGHT = changed(
    SOLLIVANE,
    (
        "  - {md: 1260 m, inc: 55 deg, azi: 115 deg}\n" + HELD,
        "  - {md: 1260 m, inc: 55 deg, azi: 115 deg}\n  - {md: 2400 m, inc: 55 deg, azi: 115 deg}\n"
        "  - {md: 2460 m, inc: 92 deg, azi: 115 deg}\n  - {md: 3985 m, inc: 92 deg, azi: 115 deg}\n",
    ),
)
MADE = {"turns": TURNS, "long name": LONG, "field": FIELD, "tight": TIGHT}
NAMED = ["sollivane", "tarnvale-h3.yaml", "ossmere-9.yaml", "ninety degrees", *MADE]
SIZES = [(62.0, 52.0), (60.0, 100.0), (95.0, 95.0), (125.0, 64.0), (180.0, 70.0), (140.0, 200.0)]


@cache
def evaluated(name):
    text = MADE.get(name) or (WELLS[name] if isinstance(name, str) else text_of(name))
    return check(load_text(text, str(name)))


def drawn(name, size):
    evaluation = evaluated(name)
    system = evaluation.plan.identity.system
    return section_view(evaluation, Rect(10.0, 10.0, 10.0 + size[0], 10.0 + size[1]), system, "C")


def texts(groups):
    return [shape for group in groups for shape in group.shapes if isinstance(shape, Text)]


def figure(text):
    return float(text.replace("\u2009", ""))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", [*MADE, *range(1, 200, 12)])
def test_nothing_overlaps_and_all_stays_in_the_rectangle(name, size):
    groups = drawn(name, size)

    assert problems(Scene(20.0 + size[0], 20.0 + size[1], "", "", tuple(groups))) == []
    for shape in (shape for group in groups for shape in group.shapes if isinstance(shape, Path)):
        for x, y in (point for run in shape.runs for point in run):
            assert 9.9 <= x <= 10.1 + size[0]
            assert 9.9 <= y <= 10.1 + size[1]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", NAMED)
def test_every_named_point_is_read_back_from_the_axes(name, size):
    """Departure and TVD by the figures of both axes, within 0.1 mm of paper: equal scale both ways."""
    evaluation, groups = evaluated(name), drawn(name, size)
    unit = FOOT_M if evaluation.plan.identity.system == "field" else 1.0
    axes = next(group for group in groups if group.title.startswith("Axes"))
    tvds = [(t.y_mm - 0.8, figure(t.text)) for t in texts([axes]) if t.anchor == "end"]
    outs = [(t.x_mm, figure(t.text)) for t in texts([axes]) if t.anchor == "middle"]
    assert len(tvds) >= 2
    assert len(outs) >= 1
    ratio = figure(re.search(r"1:([\d\u2009]+)", " ".join(t.text for t in texts(groups))).group(1))
    for (y0, tvd0), (y1, tvd1) in pairwise(tvds):
        assert (tvd1 - tvd0) * unit * 1000.0 / ratio == pytest.approx(y1 - y0, abs=0.01)
    for (x0, out0), (x1, out1) in pairwise(outs):
        assert (out1 - out0) * unit * 1000.0 / ratio == pytest.approx(x1 - x0, abs=0.01)

    path = evaluation.plan.depth.path
    bottom = max(evaluation.plan.depth.td_md_m, evaluation.plan.depth.liner.shoe_md_m)
    azimuth = section_plane(path, bottom).azimuth_rad
    told = {event.words[0]: event.md_m for event in events(evaluation, evaluation.plan.identity.system)}
    read = 0
    for group in groups:
        spots = [s.centres[0] for s in group.shapes if isinstance(s, Dots) and s.radius_mm == DOT_MM]
        if not spots:
            continue
        ((x, y),) = spots
        north, east, tvd = path.position_m(told[group.title])
        out = north * math.cos(azimuth) + east * math.sin(azimuth)
        assert x == pytest.approx(outs[0][0] + (out - outs[0][1] * unit) * 1000.0 / ratio, abs=0.1)
        assert y == pytest.approx(tvds[0][0] + (tvd - tvds[0][1] * unit) * 1000.0 / ratio, abs=0.1)
        read += 1
    assert read >= 3


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", [*NAMED, *range(3, 200, 16)])
def test_every_wanted_event_is_told_once(name, size):
    """On the drawing, or in the words below it where there is no room."""
    groups = drawn(name, size)
    if not groups:
        return
    lines = [text.text for text in texts(groups) if text.colour != "#595959"]
    below = " ".join(text.text for text in texts(groups) if text.colour == "#595959")
    evaluation = evaluated(name)
    for event in events(evaluation, evaluation.plan.identity.system):
        if event.wanted:
            assert lines.count(event.words[0]) + below.count(event.words[0]) == 1, event.words


@pytest.mark.parametrize("name", ["sollivane", "tarnvale-h3.yaml", "tight", *range(0, 40)])
def test_strings_do_not_cross_themselves(name):
    """Drawn off the path along its normal; in a tight bend that is squeezed."""
    evaluation = evaluated(name)
    for group in drawn(name, (62.0, 52.0)):
        if group.part.startswith("strings") and group.title in {
            s.name for s in evaluation.plan.depth.strings
        }:
            lines = next(shape for shape in group.shapes if isinstance(shape, Path) and not shape.closed)
            for run in lines.runs:
                legs = list(pairwise(run))
                assert not any(cross(one, other) for one, other in combinations(legs, 2)), group.title


def test_the_same_place_in_grey():
    groups = tuple(drawn("sollivane", (95.0, 95.0)))
    scene = Scene(115.0, 115.0, "", "", groups)

    (inked,) = in_grey(Sheet((scene,))).scenes

    assert [s.runs for g in inked.groups for s in g.shapes if isinstance(s, Path)] == [
        s.runs for g in groups for s in g.shapes if isinstance(s, Path)
    ]


def test_a_well_that_turns_is_seen_from_above_too():
    """End of the path east and north of the wellhead, by the path itself, at the ratio of the section."""
    groups = drawn("turns", (95.0, 95.0))
    words = " ".join(text.text for text in texts(groups))
    ratio = figure(re.search(r"1:([\d\u2009]+)", words).group(1))
    above = next(group for group in groups if group.title == "The path seen from above")
    wellhead = next(s.centres[0] for s in above.shapes if isinstance(s, Dots))
    whole = max((s.runs[0] for s in above.shapes if isinstance(s, Path)), key=len)
    depth = evaluated("turns").plan.depth
    north, east, _tvd = depth.path.position_m(depth.td_md_m)

    assert whole[0] == wellhead
    assert whole[-1][0] - wellhead[0] == pytest.approx(east * 1000.0 / ratio, abs=0.01)
    assert wellhead[1] - whole[-1][1] == pytest.approx(north * 1000.0 / ratio, abs=0.01)
    assert "a projection" in words
    assert not [g for g in drawn("sollivane", (95.0, 95.0)) if g.title == "The path seen from above"]


def test_what_is_said_to_lie_aside_is_what_does():
    """Worked apart: the greatest distance of the path, in steps of a metre, from the line wellhead to bottom."""
    depth = evaluated("turns").plan.depth
    north, east, _tvd = depth.path.position_m(depth.td_md_m)
    span = math.hypot(north, east)
    aside = max(
        abs(n * east - e * north) / span
        for n, e, _t in (depth.path.position_m(float(md)) for md in range(0, 3985))
    )

    said = " ".join(text.text for text in texts(drawn("turns", (180.0, 70.0))))

    assert figure(re.search(r"up to ([\d\u2009]+) m aside", said).group(1)) == pytest.approx(aside, abs=1.0)
