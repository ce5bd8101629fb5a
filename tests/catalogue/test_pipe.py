"""Pipes are found by what people write, or refused with the nearest choices."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schematic.catalogue.grades import minimum_yield_pa
from schematic.catalogue.pipe import LookUpError, casing, drill_pipe
from schematic.catalogue.rows import (
    BUTTRESS,
    ROUND_THREAD,
    SPECIAL_CLEARANCE,
    casing_rows,
    drill_pipe_rows,
)
from schematic.units import PSI_PA, parse


@pytest.mark.parametrize(
    ("written", "name", "grade", "connection", "rest"),
    [
        ("9 5/8 in 47 lb/ft L-80", "9 5/8 in 47 lb/ft", "L-80", None, ""),
        ('9-5/8" 47# L80 BTC', "9 5/8 in 47 lb/ft", "L-80", BUTTRESS, ""),
        ("9.625in 47ppf", "9 5/8 in 47 lb/ft", None, None, ""),
        ("9\N{VULGAR FRACTION FIVE EIGHTHS} in 47 lb/ft", "9 5/8 in 47 lb/ft", None, None, ""),
        ("9 5\N{FRACTION SLASH}8\N{DOUBLE PRIME} 47#", "9 5/8 in 47 lb/ft", None, None, ""),
        ("9\N{EN DASH}5/8 in 47 lb/ft N 80", "9 5/8 in 47 lb/ft", "N-80", None, ""),
        ("9 5/8'' 53.5 lbs/ft", "9 5/8 in 53.5 lb/ft", None, None, ""),
        ("9,625 in 47 lb/ft", "9 5/8 in 47 lb/ft", None, None, ""),
        ("244.5 mm 70 kg/m", "9 5/8 in 47 lb/ft", None, None, ""),
        ("244.5 mm 69.94 kg/m L80", "9 5/8 in 47 lb/ft", "L-80", None, ""),
        ("244,5 mm 70 kg/m n80q ltc", "9 5/8 in 47 lb/ft", "N-80 Q", ROUND_THREAD, ""),
        ("245 mm x 11.99", "9 5/8 in 47 lb/ft", None, None, ""),
        ("178 mm x 10.36", "7 in 29 lb/ft", None, None, ""),
        ("178 mm \N{MULTIPLICATION SIGN} 10.36 mm", "7 in 29 lb/ft", None, None, ""),
        ("177.8mmx10.36mm L80", "7 in 29 lb/ft", "L-80", None, ""),
        ("9 5/8 in 70 kg/m", "9 5/8 in 47 lb/ft", None, None, ""),
        ("7in 29 P110", "7 in 29 lb/ft", "P-110", None, ""),
        ("7 IN 29 PPF", "7 in 29 lb/ft", None, None, ""),
        ("7 in 29#L80", "7 in 29 lb/ft", "L-80", None, ""),
        ("7 in 29 lb/ft L-80 13Cr", "7 in 29 lb/ft", "L-80 13Cr", None, ""),
        ("7 in 29 lb/ft 13Cr", "7 in 29 lb/ft", "13Cr", None, ""),
        ("7 in x 0.408 in 29 lb/ft", "7 in 29 lb/ft", None, None, ""),
        ("20 in 7/16 in wall", "20 in 94 lb/ft", None, None, ""),
        ("30 in wall 1 in X-52", "30 in wall 1 in", "X-52", None, ""),
        ("30 in x 1 in", "30 in wall 1 in", None, None, ""),
        ("30 in 309.72 lb/ft", "30 in wall 1 in", None, None, ""),
        ("7 in 32# special clearance", "7 in 32 lb/ft", None, SPECIAL_CLEARANCE, ""),
        ("7 in, 29 lb/ft, L-80, flush joint", "7 in 29 lb/ft", "L-80", None, "flush joint"),
    ],
)
def test_casing_is_found_by_what_people_write(written, name, grade, connection, rest):
    choice = casing(written)

    found = (choice.row.name, choice.grade, choice.connection, choice.rest)
    assert found == (name, grade, connection, rest)


@pytest.mark.parametrize("row", casing_rows(), ids=lambda row: row.name)
def test_every_casing_is_found_by_its_name_and_by_its_metric_sizes(row):
    od_mm, wall_mm = f"{row.od_m * 1000:.1f}", f"{row.wall_m * 1000:.2f}"

    assert casing(row.name).row is row
    assert casing(f"{od_mm} mm {row.nominal_weight_kg_per_m:.2f} kg/m").row is row
    assert casing(f"{od_mm} mm x {wall_mm}").row is row


@pytest.mark.parametrize("row", drill_pipe_rows(), ids=lambda row: row.name)
def test_every_drill_pipe_is_found_by_its_name(row):
    assert drill_pipe(row.name).row is row


@pytest.mark.parametrize(
    ("written", "mend"),
    [
        ("9.58 in 47 lb/ft", "9.58 in is none of them: did you mean 9 5/8 in?"),
        ("9.6 in 47 lb/ft", "9.6 in is none of them: did you mean 9 5/8 in?"),
        ("9.63 in 47 lb/ft", "9.63 in is none of them: did you mean 9 5/8 in?"),
        ("5.12 in 17 lb/ft", "5.12 in is none of them: did you mean 5 1/2 in?"),
        (
            "24 in 200 lb/ft",
            "24 in is none of them: the nearest is 20 in; give the dimensions by hand",
        ),
        (
            "9 5/8 in 48 lb/ft",
            "48 lb/ft is not listed for 9 5/8 in: did you mean 9 5/8 in 47 lb/ft?",
        ),
        (
            "9 5/8 in 53 lb/ft",
            "53 lb/ft is not listed for 9 5/8 in: did you mean 9 5/8 in 53.5 lb/ft?",
        ),
        ("7 in 0 lb/ft", "0 lb/ft is not listed for 7 in: did you mean 7 in 17 lb/ft?"),
        ("178 mm x 10.9", "10.9 mm is not listed for 177.8 mm: did you mean 177.8 mm x 10.36 mm?"),
        (
            "244.5 mm 75 kg/m",
            "75 kg/m is not listed for 244.5 mm: did you mean 244.5 mm 79.62 kg/m?",
        ),
        ("7 in x 0.5 in", "0.5 in is not listed for 7 in: did you mean 7 in x 0.498 in?"),
        (
            "7 in 29 lb/ft x 0.362 in",
            "29 lb/ft and a wall of 0.362 in are two different pipes: leave one out",
        ),
        ("7 in 29 lb/ft 32 lb/ft", "'32 lb/ft' is one figure too many: leave it out"),
        ("7 in L-80", "write the nominal weight (lb/ft, kg/m) or the wall as well"),
        ("7 in 29", "29 has no unit: write '29 lb/ft' (in a well file ' #' begins a remark)"),
        (
            "244.5 mm 70 L80",
            "70 has no unit: write '70 kg/m' (in a well file ' #' begins a remark)",
        ),
        ("9 5/8 47 lb/ft", "the size has no unit: write '9 5/8 in' or mm"),
        ("9 5/0 in 47 lb/ft", "a fraction of nought is no size"),
        ("intermediate", "begin with the outside diameter"),
        ("-7 in 29 lb/ft", "begin with the outside diameter"),
        ("", "begin with the outside diameter"),
        ("7 in " + "9" * 300, "it is longer than 200 characters"),
    ],
)  # fmt: skip
def test_a_pipe_that_is_not_listed_is_answered_with_the_nearest(written, mend):
    with pytest.raises(LookUpError) as refused:
        casing(written)

    assert refused.value.mend.startswith(mend)


def test_a_weight_that_is_not_listed_is_answered_with_the_weights_of_its_size():
    with pytest.raises(LookUpError) as refused:
        casing("13 3/8 in 70 lb/ft")

    assert refused.value.accepted == (
        "one of 13 3/8 in 48 lb/ft, 13 3/8 in 54.5 lb/ft, 13 3/8 in 61 lb/ft, "
        "13 3/8 in 68 lb/ft, 13 3/8 in 72 lb/ft"
    )


def test_a_wall_too_coarse_to_tell_two_pipes_apart_is_refused():
    with pytest.raises(LookUpError) as refused:
        casing("244.5 mm x 15 mm")  # 15.11 and 15.47 mm both round to 15

    assert refused.value.accepted == "one of 244.5 mm x 15.11 mm, 244.5 mm x 15.47 mm"


@pytest.mark.parametrize(
    ("written", "name", "grade", "tool_joint"),
    [
        ("5 in 19.5 lb/ft S-135 NC50", "5 in 19.5 lb/ft S-135 NC50", "S-135", "NC50"),
        ('5" 19.5# E75 NC-50', "5 in 19.5 lb/ft E-75 NC50", "E-75", "NC50"),
        ("127 mm 29.02 kg/m S-135", "5 in 19.5 lb/ft S-135 NC50", "S-135", "NC50"),
        ("5 in HWDP 49.3 lb/ft", "5 in HWDP 49.3 lb/ft NC50", None, "NC50"),
        ('5" 49.3# HWDP NC50', "5 in HWDP 49.3 lb/ft NC50", None, "NC50"),
        ("heavy-weight drill pipe 5 in 49.3 lb/ft", "5 in HWDP 49.3 lb/ft NC50", None, "NC50"),
        ('5 1/2" 21.9# G-105 5-1/2" FH', "5 1/2 in 21.9 lb/ft 5 1/2 FH", "G-105", "5 1/2 FH"),
        ("5 7/8 in 23.4 lb/ft S-135", "5 7/8 in 23.4 lb/ft", "S-135", None),
        ("5 in drill pipe 25.6 lb/ft", "5 in 25.6 lb/ft NC50", None, "NC50"),
    ],
)
def test_drill_pipe_is_found_by_what_people_write(written, name, grade, tool_joint):
    choice = drill_pipe(written)

    assert (choice.row.name, choice.grade, choice.tool_joint) == (name, grade, tool_joint)


@pytest.mark.parametrize("written", ["5 in 19.5 lb/ft", "5 in 19.5 lb/ft NC50"])
def test_drill_pipe_without_its_grade_is_refused_with_the_choices(written):
    with pytest.raises(LookUpError) as refused:
        drill_pipe(written)

    assert refused.value.accepted == "one of 5 in 19.5 lb/ft E-75 NC50, 5 in 19.5 lb/ft S-135 NC50"
    assert refused.value.mend == "say which of them it is; add the grade and the tool joint"


@pytest.mark.parametrize(
    ("written", "mend"),
    [
        (
            "5 in 19.5 lb/ft G-105 NC50",
            "G-105 NC50 is not listed for this pipe: give its dimensions by hand",
        ),
        ("4 in 14 lb/ft NC46", "NC46 is not listed for this pipe: give its dimensions by hand"),
        (
            "5 in HWDP 19.5 lb/ft",
            "19.5 lb/ft is not listed for 5 in: did you mean 5 in HWDP 49.3 lb/ft NC50?",
        ),
    ],
)  # fmt: skip
def test_a_drill_pipe_that_is_not_listed_is_not_swapped_for_another(written, mend):
    with pytest.raises(LookUpError) as refused:
        drill_pipe(written)

    assert refused.value.mend.startswith(mend)


def test_the_two_kinds_of_5_in_19_5_differ_in_the_bore_of_their_tool_joints():
    light, heavy = (drill_pipe(f"5 in 19.5 lb/ft {grade}").row for grade in ("E-75", "S-135"))

    assert light.id_m == heavy.id_m
    assert light.tool_joint_id_m > heavy.tool_joint_id_m
    assert light.adjusted_weight_kg_per_m < heavy.adjusted_weight_kg_per_m


def test_conductor_has_no_drift_and_no_coupling():
    row = casing("30 in x 1 in").row

    assert row.drift_m is None
    assert set(row.coupling_od_m.values()) == {None}


@pytest.mark.parametrize(
    ("grade", "ksi"),
    [
        # Source: API Bulletin 5C3, collapse factors by grade (read in a public reproduction), 13Cr
        # and drill pipe grades API 5CT, 5DP from memory
        ("H-40", 40), ("J-55", 55), ("K-55", 55), ("C-75", 75), ("L-80", 80), ("N-80", 80),
        ("C-95", 95), ("P-110", 110), ("Q-125", 125), ("L-80 13Cr", 80), ("E-75", 75),
        ("S-135", 135),
    ],
)  # fmt: skip
def test_minimum_yield_of_a_grade(grade, ksi):
    assert minimum_yield_pa(grade) == pytest.approx(parse(f"{ksi} ksi", "pressure").si)


@pytest.mark.parametrize("grade", ["X-52", "13Cr", "13Cr-110", "P-110 13Cr", "C-100", None])
def test_the_yield_of_an_unknown_grade_is_not_guessed(grade):
    assert minimum_yield_pa(grade) is None


def test_a_choice_knows_its_yield():
    assert casing("7 in 29 lb/ft P110").yield_pa == pytest.approx(110_000 * PSI_PA)
    assert casing("30 in x 1 in X-52").yield_pa is None


def answer(look_up, text):
    """Tell what a person reads: the name of the pipe, or how to mend the text."""
    try:
        return look_up(text).row.name
    except LookUpError as refused:
        return refused.mend


@given(st.text(max_size=60))
def test_any_text_is_found_or_refused(text):
    assert answer(casing, text)
    assert answer(drill_pipe, text)


WORDS = """9 5/8|7|5|in|"|mm|x|47|19.5|#|lb/ft|kg/m|0.408|wall|L-80|13Cr|BTC|NC50|HWDP|5 1/2 FH|/|-|,"""


@given(st.lists(st.sampled_from(WORDS.split("|")), max_size=12), st.sampled_from(["", " "]))
def test_any_heap_of_pipe_words_is_found_or_refused(words, gap):
    assert answer(casing, gap.join(words))
    assert answer(drill_pipe, gap.join(words))


@pytest.mark.parametrize(
    ("find", "written", "mend"),
    [
        (casing, "7 in 29 lb/ft P-11O", "'P-11O' is no grade: did you mean P-110? "),
        (casing, "7 in 29 lb/ft L-8O BTC", "'L-8O' is no grade: did you mean L-80? "),
        (casing, "7 in 29 lb/ft PP-110", "did you mean P-110"),
        (drill_pipe, "5 in 19.5 lb/ft S-I35 NC50", "'S-I35' is no grade: did you mean S-135? "),
    ],
)
def test_a_slip_of_a_grade_is_answered_with_the_nearest(find, written, mend):
    with pytest.raises(LookUpError) as caught:
        find(written)

    assert mend in caught.value.mend


@pytest.mark.parametrize("words", ["P-110HC", "R3", "seamless", "tight", "L-80 premium"])
def test_words_that_are_no_slip_of_a_grade_are_left_over(words):
    assert casing(f"7 in 29 lb/ft {words}").row.name == "7 in 29 lb/ft"
