"""Details at true scale: whatever well and rectangle, what is read from the paper is what the plan says."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations

import pytest

from schematic import check
from schematic.checks.evaluate import Evaluation
from schematic.drawing import detail, dimension, overlap
from schematic.drawing.captions import DOT_MM
from schematic.drawing.depth_range import RangeError, depth_range
from schematic.drawing.fills import Rect
from schematic.drawing.grid import PAPERS
from schematic.drawing.labels import cross
from schematic.drawing.liner_top_detail import liner_top_detail
from schematic.drawing.palette import ESTIMATED_DASH_MM, GREY, OUTLINE_MM
from schematic.drawing.range_detail import range_detail
from schematic.drawing.scene import Dots, Group, Path, Scene, Text
from schematic.drawing.shoe_track_detail import shoe_track_detail
from schematic.drawing.text import box_mm
from schematic.engineering.stretch import stretch
from schematic.export.tables import laps_table
from schematic.units import FOOT_M, number
from schematic.verbs import demos, draw, load_text, sheet
from tests.drawing.generated import text_of
from tests.drawing.torture import BRINDLEWICK, SOLLIVANE, WELLS, changed

SIZES = ((60.0, 52.0), (95.0, 55.0), (62.0, 80.0), (190.0, 250.0))
TEXTS = {**demos(), **WELLS, **{f"seed {seed}": text_of(seed) for seed in range(0, 200, 17)}}
THIN = "\u2009"
DEEP = r"(?:host coupling|coupling|liner shoe|bottom of hole|shoe of .*) ([\d.]+)$"
CLOSE_MM = 0.011  # a hundredth, where two of them are subtracted


@cache
def evaluated(text: str) -> Evaluation:
    return check(load_text(text, "well"))


def rect(width: float, height: float) -> Rect:
    return Rect(3.0, 3.0, 3.0 + width, 3.0 + height)


def drawn(evaluation: Evaluation, kind: str, size: tuple[float, float], system: str) -> detail.Detail:
    place, depth = rect(*size), evaluation.plan.depth
    if kind == "liner top":
        return liner_top_detail(evaluation, place, system)
    if kind == "shoe track":
        return shoe_track_detail(evaluation, place, system)
    shoe, deepest = depth.host.shoe_md_m, max(depth.td_md_m, depth.liner.shoe_md_m)
    ends = (shoe - 40.0, shoe + 25.0) if kind == "host shoe" else (0.0, deepest)
    return range_detail(evaluation, *ends, place, system)


def points(group: Group) -> list[tuple[float, float]]:
    found = []
    for shape in group.shapes:
        if isinstance(shape, Text):
            left, top, right, bottom = box_mm(shape)
            found += [(left, top), (right, bottom)]
        elif isinstance(shape, Dots):
            found += list(shape.centres)
        else:
            found += [point for run in shape.runs for point in run]
    return found


def leaders(groups: tuple[Group, ...]) -> list[tuple[tuple[float, float], ...]]:
    """Runs of the groups whose dot ends a grey leader."""
    return [
        group.shapes[0].runs[0]
        for group in groups
        if len(group.shapes) > 2 and isinstance(group.shapes[1], Dots) and group.shapes[1].radius_mm == DOT_MM
        if isinstance(group.shapes[0], Path) and group.shapes[0].style.stroke == GREY
    ]


def texts(made: detail.Detail) -> list[str]:
    return [shape.text for group in made.groups for shape in group.shapes if isinstance(shape, Text)]


def words(made: detail.Detail) -> str:
    return " ".join(texts(made)).replace(THIN, "")


def ratios(made: detail.Detail) -> tuple[int, int]:
    """Both scales as a reader finds them in the title."""
    found = re.search(r"depth 1:([\d\u2009]+), (?:diameters|dia\.) 1:(\d+)", " ".join(texts(made)))
    return int(found[1].replace(THIN, "")), int(found[2])


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", TEXTS)
def test_a_detail_fits_its_rectangle_and_nothing_stands_on_anything(name, size):
    evaluation = evaluated(TEXTS[name])
    place = rect(*size)
    for n, kind in enumerate(("liner top", "shoe track", "host shoe", "all of it")):
        made = drawn(evaluation, kind, size, ("field", "metric")[(n + len(name)) % 2])
        scene = Scene(size[0] + 6.0, size[1] + 6.0, name, kind, made.groups)
        assert overlap.problems(scene) == []
        for group in made.groups:
            for x, y in points(group):
                assert place.left_mm - 0.01 <= x <= place.right_mm + 0.01, (kind, group.title)
                assert place.top_mm - 0.01 <= y <= place.bottom_mm + 0.01, (kind, group.title)
        lines = leaders(made.groups)
        assert not any(cross(one, other) for one, other in combinations(lines, 2))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", demos())
def test_depths_are_read_back_from_the_paper(name, size):
    """Each row that ends in a depth points to it, by the scale in the title, from the upper cut down."""
    evaluation = evaluated(demos()[name])
    for system in ("field", "metric"):
        unit, step = (FOOT_M, 0.1) if system == "field" else (1.0, 0.01)
        read = 0
        for kind in ("liner top", "shoe track", "host shoe"):
            made = drawn(evaluation, kind, size, system)
            per_m = 1000.0 / ratios(made)[0]
            found = []
            for group in made.groups:
                told = re.match(DEEP, row(group).replace(THIN, ""))
                if told and leaders((group,)):
                    found.append((float(told[1]) * unit, leaders((group,))[0][-1][1]))
            for md, y in found:
                assert y - made.frame.y(made.top_md_m) == pytest.approx(
                    (md - made.top_md_m) * per_m, abs=0.5 * step * unit * per_m + CLOSE_MM
                )
                read += 1
        assert read


def row(group: Group) -> str:
    """The words of a row in one line."""
    return " ".join(shape.text for shape in group.shapes if isinstance(shape, Text))


def test_the_ruler_of_a_range_stands_at_the_depths_it_tells():
    made = range_detail(evaluated(BRINDLEWICK), 9400 * FOOT_M, 9560 * FOOT_M, rect(190, 250), "field")
    ruler = next(group for group in made.groups if group.title == "Ruler of measured depth")
    figures = [shape for shape in ruler.shapes if isinstance(shape, Text)]
    ticks = [run[0][1] for shape in ruler.shapes[2:3] for run in shape.runs]
    per_ft = 304.8 / ratios(made)[0]  # 1 ft = 304.8 mm: international foot of 1959

    depths = [float(text.text.replace(THIN, "")) for text in figures]

    assert depths[0] == 9400.0
    assert depths[-1] == 9560.0
    for md, y in zip(depths, ticks, strict=True):
        assert y - ticks[0] == pytest.approx((md - 9400.0) * per_ft, abs=CLOSE_MM)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", demos())
def test_diameters_are_drawn_to_the_one_ratio(name, size):
    evaluation = evaluated(demos()[name])
    depth = evaluation.plan.depth
    for kind in ("liner top", "shoe track"):
        made = drawn(evaluation, kind, size, "metric")
        ratio = ratios(made)[1]
        for path, title, od_m in [
            *((p.path, p.name, p.od_m) for p in depth.liner.parts if p.kind in ("tie-back receptacle", "float collar")),
            *((s.path, s.label, s.od_m) for s in depth.strings if s.name == depth.liner.host),
        ]:  # fmt: skip
            group = next(
                (g for g in made.groups if g.part == path and title.lower() in g.title.lower()), None
            )
            if group is None or od_m is None or not isinstance(group.shapes[0], Path):
                continue
            line = OUTLINE_MM if title == depth.host.label else 0.0
            faces = [
                s for s in group.shapes if isinstance(s, Path) and (s.style.width_mm == line or not line)
            ]
            xs = [x for shape in faces[:1] for run in shape.runs for x, _y in run]
            assert max(xs) - min(xs) + line == pytest.approx(od_m * 1000.0 / ratio, abs=0.1), (kind, title)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", demos())
def test_the_three_laps_are_those_of_the_tables(name, size):
    evaluation = evaluated(demos()[name])
    for system in ("field", "metric"):
        told = words(liner_top_detail(evaluation, rect(*size), system))
        for _name, figure in laps_table(evaluation).rows:
            assert number(figure.si, "tally", system) in re.findall(r"[\d.]+\d", told)


def test_laps_and_clear_distances_of_brindlewick_are_those_worked_by_hand():
    """From the file: lap 370; receptacle 10.4, packer 7.9, hanger 9.6; slips 8.0 long, 0.9 above its base.

    Packer base 370 - 18.3 = 351.7, hanger base 351.7 - 9.6 = 342.1. Liner top 9 850 - 370 = 9 480, hanger base
    9 507.9, slips 9 499.0 to 9 507.0; couplings at 9 479.0 and 9 520.4: 20.0 and 13.4 clear.
    """
    for size in SIZES:
        told = words(liner_top_detail(evaluated(BRINDLEWICK), rect(*size), "field"))
        for figure in ("370.0", "351.7", "342.1", "20.0", "13.4", "9479.0", "9520.4", "9850.0"):
            assert figure in told, size
        assert "slips 9499.0 to 9507.0" in told.replace("to ", "to ")


def brackets(made: detail.Detail) -> list[float]:
    """Heights of the dashed brackets on the left of the well."""
    dashed = [
        run
        for group in made.groups
        for shape in group.shapes
        if isinstance(shape, Path) and shape.style.dash == ESTIMATED_DASH_MM and len(shape.runs) == 1
        for run in shape.runs
    ]
    return [run[1][1] - run[0][1] for run in dashed if run[0][0] == run[1][0]]


@pytest.mark.parametrize("size", SIZES)
def test_what_stretch_leaves_open_is_drawn_to_scale(size):
    """The slips' bracket is their 8.0 ft and the stretch of the running string, those of couplings the host's."""
    evaluation = evaluated(BRINDLEWICK)
    made = liner_top_detail(evaluation, rect(*size), "field")
    per_m, found = 1000.0 / ratios(made)[0], stretch(evaluation.plan)

    heights = sorted(brackets(made))

    wanted = sorted([found.host_m, found.host_m, 8.0 * FOOT_M + found.string_m])
    assert heights == pytest.approx([length * per_m for length in wanted], abs=CLOSE_MM)


def test_depths_corrected_for_stretch_leave_nothing_open():
    made = liner_top_detail(evaluated(demos()["ossmere-9.yaml"]), rect(95, 55), "metric")

    assert brackets(made) == []
    assert "corrected for stretch" in words(made)


SLIPS = "      slips: {from bottom: 0.9 ft, length: 8.0 ft}\n"
PACKER = "    - {part: liner top packer, length: 7.9 ft, od: 8.312 in, id: 6.200 in, set down: 45 klbf}\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (changed(BRINDLEWICK, (SLIPS, "")), "Slip zone not given"),
        (SOLLIVANE, "couplings of host not given"),
        (changed(BRINDLEWICK, ("located by: host tally", "corrected for stretch: no")), "were located: not given"),
        (WELLS["below host shoe"], "No lap: liner top 120.00 below host shoe 3180.00"),
        (changed(BRINDLEWICK, (", 9520.4 ft, 9561.7 ft", "")), "coupling below the slips not given"),
        (demos()["corrick-5.yaml"], "Tie-back later: seal 120.5 mm, travel 1.22 m"),
        (WELLS["sketch"], "? not given"),
    ],
)  # fmt: skip
def test_what_is_not_known_is_said(text, said):
    made = liner_top_detail(evaluated(text), rect(95, 55), "metric")

    assert said.lower() in words(made).lower()


def test_a_liner_without_packer_has_two_laps():
    made = liner_top_detail(evaluated(changed(BRINDLEWICK, (PACKER, ""))), rect(95, 55), "field")

    assert "Laps to host shoe 9850.0: liner top, hanger base" in words(made)
    assert sum("Lap, " in group.title for group in made.groups) == 2


def test_a_liner_of_joints_alone_has_one_lap():
    text = (
        BRINDLEWICK[: BRINDLEWICK.index("  assembly:")]
        + "  assembly:\n    - {part: joint, fill: true, each: 40 ft}\n"
    )
    made = liner_top_detail(evaluated(text + "\n"), rect(95, 55), "field")

    assert sum("Lap, " in group.title for group in made.groups) == 1
    assert "no hanger: no slips" in words(made).lower()


def test_the_end_of_a_scab_liner_is_its_own_shoe():
    evaluation = evaluated(demos()["fallow-6.yaml"])

    assert "Laps to liner shoe 1620.00" in words(liner_top_detail(evaluation, rect(95, 55), "metric"))
    assert "Shoe inside production casing 9 5/8 in" in words(
        shoe_track_detail(evaluation, rect(95, 55), "metric")
    )


def test_the_shoe_track_of_brindlewick_is_that_worked_by_hand():
    """From the file: 1.8 + 80.6 + 1.6 + 40.2 + 1.5 = 125.7 ft of shoe track, 10 ft of rathole."""
    for size in SIZES:
        told = words(shoe_track_detail(evaluated(BRINDLEWICK), rect(*size), "field"))
        for figure in (
            "125.7",
            "80.6",
            "40.2",
            "10.0",
            "12464.3",
            "12506.0",
            "12588.2",
            "12590.0",
            "12600.0",
        ):
            assert figure in told, (size, figure)
        assert "8.800 in by caliper, bit 8 1/2 in" in told
        assert "wiper plug, landed" in told


def test_a_liner_without_collars_says_that_its_shoe_track_is_not_known():
    text = (
        BRINDLEWICK[: BRINDLEWICK.index("  assembly:")]
        + "  assembly:\n    - {part: joint, fill: true, each: 40 ft}\n"
    )

    assert "shoe track not known" in words(shoe_track_detail(evaluated(text), rect(60, 52), "field"))


def test_a_crowded_top_names_fewer_parts_in_a_small_rectangle_and_says_how_many():
    evaluation = evaluated(WELLS["crowded liner top"])
    small, large = (liner_top_detail(evaluation, rect(*size), "field") for size in (SIZES[0], SIZES[3]))

    left_out = int(re.search(r"(\d+) more without a name here", words(small))[1])
    assert "more without a name" not in words(large)
    parts = evaluation.plan.depth.liner.parts
    seen = [p for p in parts if p.top_md_m < small.bottom_md_m and p.bottom_md_m > small.top_md_m]
    assert len(leaders(small.groups)) + left_out == len(seen) + 3  # two couplings and the slips


def test_only_what_goes_on_is_cut():
    evaluation = evaluated(BRINDLEWICK)
    deepest = evaluation.plan.depth.td_md_m
    cases = (((0.0, 100.0), 1), ((50.0, 100.0), 2), ((deepest - 50.0, deepest), 1), ((0.0, deepest), 0))
    for ends, count in cases:
        made = range_detail(evaluation, *ends, rect(95, 80), "metric")
        found = [s for group in made.groups if group.title == "cut ends" for s in group.shapes]
        assert sum(len(shape.runs) for shape in found) == count, ends


def test_couplings_of_long_runs_stay_where_they_are():
    """73 joints in 897.45 m from 2 901.67 m: the 13th coupling is 12 joints down, whatever the detail shows."""
    evaluation = evaluated(BRINDLEWICK)
    run = max(evaluation.plan.depth.liner.parts, key=lambda part: part.length_m)
    md = run.top_md_m + 12.0 * run.length_m / 73.0
    made = range_detail(evaluation, md - 5.0, md + 5.0, rect(190, 250), "metric")
    body = next(
        g for g in made.groups if g.part == run.path and not any(isinstance(s, Text) for s in g.shapes)
    )
    per_m = 1000.0 / ratios(made)[0]

    widest = max(x for x, _y in points(body))
    levels = [y for x, y in points(body) if x > widest - 0.01]

    assert 0.5 * (min(levels) + max(levels)) == pytest.approx(
        made.frame.y(md - 5.0) + 5.0 * per_m, abs=CLOSE_MM
    )


@pytest.mark.parametrize(
    ("length_m", "height_mm", "n"),
    [(16.0, 40.0, 400), (16.1, 40.0, 410), (0.05, 100.0, 1), (100.0, 100.0, 1000), (100.1, 100.0, 1100)],
)
def test_depth_scales_have_two_figures_and_never_draw_longer_than_the_paper(length_m, height_mm, n):
    """By hand: 16 m in 40 mm is 1:400; 402.5 is rounded up to 410; no detail is larger than life."""
    assert detail.depth_ratio(length_m, height_mm) == n


def test_a_dimension_tells_the_longest_text_that_has_room():
    _shapes, told = dimension.between(10.0, 0.0, 12.0, ("20.0 clear of it all", "20.0", "x"), 20.0)
    _shapes, none = dimension.between(10.0, 0.0, 3.0, ("20.0 clear", "20.0"), 20.0)

    assert told == "20.0"
    assert none is None


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", demos())
def test_every_dimension_of_a_detail_carries_its_figure(name, size):
    evaluation = evaluated(demos()[name])
    for made in (
        liner_top_detail(evaluation, rect(*size), "metric"),
        shoe_track_detail(evaluation, rect(*size), "metric"),
    ):
        for group in made.groups:
            if group.title.startswith(("Lap,", "Length:")):
                [figure] = [shape.text for shape in group.shapes if isinstance(shape, Text)]
                assert re.search(r"\d", figure)


def test_a_dimension_that_runs_off_has_its_figure_above_its_head_where_there_is_no_room_along_it():
    """Along it are 24 - 5 + 1 - 17 = 3 mm, above it 16 mm; the text is some 9 mm, with 0.8 clear at both ends."""
    shapes, told = dimension.running_off(10.0, 17.0, 24.0, ("118.00",), 20.0, 1.0)
    nothing = dimension.running_off(10.0, 17.0, 24.0, ("118.00",), 20.0, 8.0)

    [text] = [shape for shape in shapes if isinstance(shape, Text)]
    _left, top, _right, bottom = box_mm(text)
    assert told == "118.00"
    assert top >= 1.0 + 0.8 - 1e-9
    assert bottom <= 17.0 - 0.8 + 1e-9
    assert nothing == ((), None)


def test_a_detail_asked_for_is_a_page_of_the_sheet_tied_to_its_range():
    for name in ("a4", "a3", "letter"):
        pages = sheet(evaluated(BRINDLEWICK), paper=name, details=("9400 ft to 9560 ft",)).scenes
        (page,) = [scene for scene in pages if ", detail, file" in scene.description]
        assert (page.width_mm, page.height_mm) == (PAPERS[name].width_mm, PAPERS[name].height_mm)
        assert overlap.problems(page) == []
        assert [group.title for group in pages[0].groups if group.title == "Detail F"] == ["Detail F"]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("9400 to 9560", "without a unit"),
        ("9400 ft", "is no depth range"),
        ("", "is no depth range"),
        ("9560 ft to 9400 ft", "does not lie in the well, 0 to 12600 ft"),
        ("9400 ft to 12601 ft", "does not lie in the well"),
        ("-5 ft to 20 ft", "does not lie in the well"),
        ("9400 ft to 9400.5 ft", "is shorter than 1.0 ft"),
        ("9400 ft to 9500 ppg", "measures something else"),
        ("9400 ft +/- 5 % to 9500 ft", "tolerance"),
        ("x" * 5000, "is no depth range"),
    ],
)
def test_a_bad_range_is_refused_with_the_form_that_is_accepted(text, why):
    with pytest.raises(RangeError, match=re.escape(why)) as refused:
        depth_range(text, evaluated(BRINDLEWICK))

    assert '"9400 ft to 9560 ft"' in str(refused.value)
    assert len(str(refused.value)) < 400


def test_a_range_may_mix_units():
    top, bottom = depth_range(" 2900 m  to 9560 ft ", evaluated(BRINDLEWICK))

    assert (top, bottom) == pytest.approx((2900.0, 9560.0 * 0.3048))


def test_draw_adds_a_page_for_each_range(tmp_path):
    pages = draw(
        evaluated(BRINDLEWICK), tmp_path / "b.svg", details=("9400 ft to 9560 ft", "9800 ft to 9900 ft")
    )

    assert [page.name for page in pages] == [
        "b.svg",
        "b-2.svg",
        "b-3.svg",
        "b-4.svg",
        "b-5.svg",
    ]  # well, two details, two of notes
    assert "9\u2009400 to 9\u2009560 ft MD" in pages[1].read_text(encoding="utf-8")
