"""What is wrong, open or accepted, and on whose word: findings, waivers, limits, sources."""

from __future__ import annotations

from schematic.catalogue.limits import DATED
from schematic.checks.evaluate import Evaluation, topic
from schematic.drawing.findings import letters
from schematic.export.report import UNPLANNED, readable, unplanned
from schematic.export.tables import Cell, Column, Table
from schematic.export.tally import TALLY
from schematic.outcome import Found, NotChecked, sentence
from schematic.program.well_tables import NOT_GIVEN
from schematic.units import System

ASKED = "Asked for, and where it stands"  # by rules on casing diagrams, and of a drilling program


def findings_table(evaluation: Evaluation, system: System) -> Table:
    """What was found, with the letters of the drawing, what would mend it and whose the limit is."""
    rows: list[tuple[Cell, ...]] = []
    for letter, outcome in letters(evaluation):
        found = outcome.answer
        assert isinstance(found, Found)
        severity = found.severity.value
        rows.append(
            (
                letter,
                f"{severity}, waived" if outcome.waived else severity,
                sentence(found.what, found.figures, system),
                sentence(found.mend, found.figures, system),
                f"{found.limit.text}, {found.limit.owner}" if found.limit else "none",
            )
        )
    columns = (
        Column("letter"),
        Column("severity"),
        Column("what was found"),
        Column("what would mend it"),
        Column("limit and its owner"),
    )
    return Table("Findings", columns, tuple(rows), "letters as on the schematic")


def waivers_table(evaluation: Evaluation) -> Table:
    """Warnings that a named person accepted, and what each waiver accepts."""
    named = letters(evaluation)
    rows = tuple(
        (
            waiver.rule,
            waiver.subject or "all",
            waiver.by,
            waiver.reason,
            ", ".join(
                letter
                for letter, outcome in named
                if outcome.rule == waiver.rule
                and outcome.waived
                and waiver.subject in ("", outcome.subject.path, outcome.subject.name)
            )
            or "none found",
        )
        for waiver in evaluation.plan.waived
    )
    columns = (
        Column("rule"),
        Column("subject"),
        Column("accepted by"),
        Column("reason"),
        Column("findings"),
    )
    return Table("Waivers", columns, rows, "an error cannot be waived")


def unchecked_table(evaluation: Evaluation) -> Table:
    """What could not be checked, and the inputs that it needs."""
    rows = tuple(
        (
            topic(outcome.rule),
            outcome.subject.name,
            ", ".join(readable(evaluation, name) for name in outcome.answer.missing),
        )
        for outcome in evaluation.outcomes
        if isinstance(outcome.answer, NotChecked)
    )
    return Table("Not checked", (Column("what"), Column("subject"), Column("needs")), rows)


def uncomputed_table(evaluation: Evaluation) -> Table:
    """What could not be computed, and the inputs that it needs."""
    rows = tuple(
        (one.what, ", ".join(readable(evaluation, name) for name in one.needs)) for one in evaluation.missing
    )
    never = tuple((what, UNPLANNED) for what in unplanned(evaluation))
    return Table("Not computed", (Column("quantity"), Column("needs")), (*rows, *never))


def limits_table(evaluation: Evaluation, profile: str) -> Table:
    """Every limit that the checks compare with: its figure as its owner writes it, and where it stands."""
    rows = tuple(
        (name, limit.text, limit.owner, limit.source) for name, limit in evaluation.plan.limits.items()
    )
    columns = (Column("limit"), Column("figure"), Column("owner"), Column("where it stands, or why"))
    return Table(
        "Limits", columns, rows, f"profile {profile}, dated {DATED}; local rules go before all of them"
    )


_FORMULAS = (
    (
        "true depth, lean, bend",
        "minimum curvature between survey stations, straight below the last",
        "Taylor and Mason, SPE 3362 (1972)",
    ),
    (
        "volumes",
        "area over length along hole; bore pi/4 d^2, annulus pi/4 (D^2 - d^2); tool joints by their "
        "share of length",
        "geometry; couplings of the liner and centralizers are not counted",
    ),
    (
        "cement",
        "each section's volume and its excess; cement is volume over yield, a US sack is 94 lb",
        "geometry; yield and mix water as the file gives them",
    ),
    (
        "highest top of cement",
        "volume outside the liner filled from the shoe upward, hole as given, nothing lost",
        "geometry",
    ),
    (
        "displacement",
        "bore of running string and liner down to where the plug stops; strokes by the pump's output",
        "geometry",
    ),
    (
        "band of the displacement",
        "pump efficiency as given; volume times compressibility times final pressure",
        "as the file gives it, else common practice: 3e-6 per psi for water, 5e-6 for oil and synthetic "
        "fluids",
    ),
    (
        "columns at rest, U-tube",
        "density times height by true depth; nothing flows, no friction",
        "hydrostatics",
    ),
    (
        "pipe dimensions",
        "looked up by size, weight and grade; dimensions given in the file go before",
        "API 5CT and ISO 11960 dimension tables",
    ),
)


def formulas_table() -> Table:
    """How the figures are computed, and by whose formula."""
    columns = (Column("figure"), Column("formula"), Column("source"))
    return Table("Formulas", columns, _FORMULAS)


# item, the tables that hold it, and what is said where none of them is there
_ITEMS: tuple[tuple[str, tuple[str, ...], str], ...] = (
    ("operator, lease, well number of the authority", (), "not given: a well file has no place for them"),
    ("spud date", (), "not given: a well file has no place for it"),
    ("ground elevation and reference elevation", ("Well",), NOT_GIVEN),
    ("trajectory: kick-off, greatest inclination, dogleg at the hanger", ("Path",), NOT_GIVEN),
    ("sizes, weights, grades and connections of strings; shoes and liner top", ("Strings",), NOT_GIVEN),
    ("diameter and depth of hole for every drilled interval", ("Hole",), NOT_GIVEN),
    (
        "cement behind pipe, top and bottom, and how it is known",
        ("Bores, and cement behind pipe",),
        NOT_GIVEN,
    ),
    ("perforations, cement ports, damage, junk", ("Perforations, wear, junk",), NOT_GIVEN),
    ("equipment in the well; parts of the liner with length, OD and ID", (TALLY,), NOT_GIVEN),
    ("lap from liner top, packer and hanger", ("Laps",), NOT_GIVEN),
    ("smallest drift, greatest OD", ("Smallest bores and greatest OD",), NOT_GIVEN),
    ("cement plugs, top and bottom; fluid between them", (), "not given: a well file has no place for them"),
    ("names and depths of formations", ("Rock",), NOT_GIVEN),
    ("base of fresh water and of usable ground water", (), ""),
    ("pore and fracture pressure", ("Pore and fracture pressure",), NOT_GIVEN),
    ("leak-off or integrity test", ("Leak-off and integrity tests",), NOT_GIVEN),
    ("densities of mud, spacer and slurry", ("Fluids",), NOT_GIVEN),
    ("volumes of every space, excess", ("Volumes", "Cement by section"), ""),
    ("pressure ladder of the installation", ("Pressures of the installation",), NOT_GIVEN),
    ("planned tests", ("Planned tests",), NOT_GIVEN),
    ("warnings accepted", ("Waivers",), "none"),
    ("log of revisions", ("Revisions",), NOT_GIVEN),
)


def asked_table(evaluation: Evaluation, numbers: dict[str, int]) -> Table:
    """What regulators and programs ask for, and in which table it stands; *numbers* is table by title."""
    rows: list[tuple[Cell, ...]] = []
    fresh = [top.name for top in evaluation.plan.formation.tops if top.fluid == "fresh water"]
    needs = {one.what: one.needs for one in evaluation.missing}
    for item, titles, otherwise in _ITEMS:
        held = [numbers[title] for title in titles if title in numbers]
        where = f"table {' and '.join(map(str, held))}" if held else otherwise
        if item.startswith("base of fresh"):
            where = f"rock {', '.join(fresh)} in table {numbers['Rock']}" if fresh else NOT_GIVEN
        elif titles and not held and not otherwise:
            missing = [name for names in needs.values() for name in names]
            lacking = ", ".join(dict.fromkeys(readable(evaluation, name) for name in missing))
            where = f"not computed, needs {lacking}"
        rows.append((item, where))
    return Table(ASKED, (Column("asked for"), Column("where it stands")), tuple(rows))
