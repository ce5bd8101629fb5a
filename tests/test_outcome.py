"""The one comparison, the limits, and sentences made of data."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schematic.catalogue.limits import DIMENSIONS, PROFILES, profile
from schematic.outcome import (
    Figure,
    MissingInput,
    Severity,
    meets,
    sentence,
)
from schematic.units import parse
from schematic.wellfile.model import Limits


def test_a_hundred_feet_written_in_metres_meet_a_limit_of_a_hundred_feet():
    assert meets(parse("30.48 m", "length").si, parse("100 ft", "length").si, at_least=True)
    assert meets(parse("100 ft", "length").si, parse("30.48 m", "length").si, at_least=True)


@given(
    st.integers(1, 2_000_000),
    st.sampled_from([("ft", 0.3048), ("in", 0.0254), ("cm", 0.01), ("km", 1000.0)]),
    st.booleans(),
)
def test_no_edge_depends_on_the_unit_in_which_it_is_written(hundredths, unit, at_least):
    """The same length in two units meets itself as a limit, whichever way round."""
    name, metres = unit
    in_unit = parse(f"{hundredths / 100} {name}", "length").si
    in_metres = parse(f"{hundredths / 100 * metres!r} m", "length").si

    assert meets(in_unit, in_metres, at_least=at_least)
    assert meets(in_metres, in_unit, at_least=at_least)


@given(st.integers(3_000, 4_000_000), st.integers(100, 3_000))
def test_a_lap_taken_from_two_depths_in_feet_meets_the_limit_in_metres(shoe_tenth_ft, lap_tenth_ft):
    """Subtracting depths loses digits; the grace covers it."""
    lap = parse(f"{lap_tenth_ft / 10} ft", "length").si
    shoe = parse(f"{(shoe_tenth_ft + lap_tenth_ft) / 10} ft", "length").si
    top = shoe - lap

    assert meets(shoe - top, lap_tenth_ft * 0.03048, at_least=True)
    assert meets(shoe - top, lap_tenth_ft * 0.03048, at_least=False)


@given(st.floats(1e-3, 1e6), st.floats(1e-8, 1.0))
def test_what_is_truly_beyond_a_limit_does_not_meet_it(limit, share):
    beyond = limit * share

    assert not meets(limit - beyond, limit, at_least=True)
    assert not meets(limit + beyond, limit, at_least=False)
    assert meets(limit + beyond, limit, at_least=True)
    assert meets(limit - beyond, limit, at_least=False)


def test_nought_meets_nought():
    assert meets(0.0, 0.0, at_least=True)
    assert meets(0.0, 0.0, at_least=False)


def test_a_sentence_takes_figures_in_the_readers_units():
    figures = {"bit": Figure(0.2159, "size"), "lap": Figure(112.776, "length"), "name": "liner"}

    assert sentence("{name}: {bit}, lap {lap}", figures, "field") == "liner: 8 1/2 in, lap 370.0 ft"
    assert sentence("{name}: {bit}, lap {lap}", figures, "metric") == "liner: 8 1/2 in, lap 112.78 m"


@pytest.mark.parametrize("hostile", ["{lap}", "{0}", "{name.__class__}", "%s", "<b>", "{{", "}"])
def test_a_name_from_a_file_is_data_never_a_template(hostile):
    assert sentence("the {name} is long", {"name": hostile}, "field") == f"the {hostile} is long"


def test_severities_run_from_the_worst():
    assert [severity.value for severity in Severity] == ["error", "warning", "advice"]


@pytest.mark.parametrize("system", ["field", "metric"])
@pytest.mark.parametrize("name", PROFILES)
def test_a_limit_says_whose_it_is_and_is_its_own_text(name, system):
    """That of a rule in its owner's unit, with that of the sheet behind it where it is another."""
    for key, limit in profile(name, system).items():
        assert limit.owner
        assert limit.source
        text, _space, again = limit.text.partition(" (")
        assert parse(text, DIMENSIONS[key]).si == limit.si
        if again:
            figure, unit = again.removesuffix(")").split(" ")
            half = 0.5 * 10.0 ** -len(figure.partition(".")[2])  # of its last printed digit
            apart = abs(parse(f"{figure} {unit}", DIMENSIONS[key]).si - limit.si)
            assert apart <= parse(f"{half} {unit}", DIMENSIONS[key]).si


def test_each_limit_can_be_changed_in_a_well_file_and_none_else():
    keys = {field.alias for field in Limits.model_fields.values()} - {"profile", "set by"}

    assert keys == {name.replace("-", " ") for name in DIMENSIONS}


def test_the_least_lap_is_that_of_the_rule_it_cites():
    """California 14 CCR 1722.3(d): at least 100 ft of overlap; in feet for every well, as its owner wrote it."""
    for system in ("field", "metric"):
        limit = profile("california example", system)["least lap"]
        assert limit.text == {"field": "100 ft", "metric": "100 ft (30.48 m)"}[system]
        assert limit.si == pytest.approx(30.48, rel=1e-15)
    assert profile("common practice", "metric")["least lap"].si == 30.0


def test_a_missing_input_names_all_that_is_missing():
    error = MissingInput("survey", "liner.assembly")

    assert error.missing == ("survey", "liner.assembly")
    assert str(error) == "survey, liner.assembly"


def test_a_finding_cannot_be_changed():
    with pytest.raises((AttributeError, dataclasses.FrozenInstanceError)):
        Figure(1.0, "length").si = 2.0
