"""The verbs as functions of ``schematic``."""

from __future__ import annotations

from pathlib import Path

import pytest

import schematic

WELL = Path(__file__).parents[1] / "wells" / "brindlewick-4.yaml"


def test_the_public_names_are_sorted_and_there():
    assert list(schematic.__all__) == sorted(schematic.__all__)
    for name in schematic.__all__:
        assert getattr(schematic, name) is not None


def test_an_unknown_name_is_an_attribute_error():
    with pytest.raises(AttributeError, match="no attribute 'drill'"):
        _ = schematic.drill


def test_the_verbs_speak_as_functions(tmp_path):
    evaluation = schematic.check(WELL)
    pages = schematic.draw(evaluation, tmp_path / "well.svg")

    assert "gap-in-hole-small" in {outcome.rule for outcome in evaluation.findings}
    assert pages == (tmp_path / "well.svg", tmp_path / "well-2.svg", tmp_path / "well-3.svg")
    assert [table.title for table in schematic.volumes(WELL)][1] == "Laps"
    assert "host shoe - lap" in (schematic.explain(WELL, "liner.top") or "")
    assert {page.code for page in schematic.rules()} >= {"slips-near-coupling"}
    assert schematic.new().startswith("# A first well file")
    assert schematic.schema()["title"] == "WellFile"
