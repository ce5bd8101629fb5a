"""The program of a well: its sections in the order in which they are read."""

from __future__ import annotations

from collections.abc import Iterator

from schematic.checks.evaluate import Evaluation
from schematic.drawing.scene import Sheet
from schematic.export import CAUTION, passage
from schematic.export.around import liner_stands
from schematic.export.explanation import explain
from schematic.export.installation import installation_tables
from schematic.export.package import day_of
from schematic.export.report import assumed_texts, readable, status
from schematic.export.tables import (
    Table,
    cement_table,
    displacement_table,
    laps_table,
    running_string_table,
    slurry_table,
    spaces_table,
    static_table,
    tops_table,
    u_tube_table,
    volumes_table,
)
from schematic.export.tally import tally_table
from schematic.program import job_tables, open_tables, well_tables
from schematic.program.content import (
    Block,
    Heading,
    NumberedPicture,
    NumberedTable,
    Paragraph,
    Program,
    Workings,
    all_blank,
    clean,
    numbered,
)
from schematic.program.weight_table import liner_weight_table
from schematic.program.well_tables import NOT_GIVEN
from schematic.units import System, sentence_case, size
from schematic.wellfile import path as paths
from schematic.wellfile import tree
from schematic.wellfile.read import Document

_Raw = Heading | Paragraph | Workings | Table


def program(document: Document, evaluation: Evaluation, pages: Sheet, system: System) -> Program:
    """The liner section of the drilling program of a well.

    *pages* are those of its schematic; every figure comes from the evaluation.
    """
    identity = evaluation.plan.identity
    depth = evaluation.plan.depth
    name = clean(identity.name)
    purpose = clean(identity.purpose) or "liner"
    revision = identity.revision
    issue = f"revision {revision.issue}" if revision else "no revision"
    head = clean(f"{name}, {issue}, {identity.standing.upper()}, file {identity.file_hash}")
    subtitle = clean(f"{size(depth.liner.od_m, system)} {purpose} {liner_stands(evaluation, system)}")
    blocks = list(numbered(_before(evaluation, system)))
    blocks += _schematic(evaluation, pages)
    blocks += _numbered_on(_well(evaluation, system), blocks)
    blocks += _numbered_on(_job(document, evaluation, system), blocks)
    blocks += _numbered_on(_open(evaluation, system), blocks)
    blocks += _numbered_on(_asked(evaluation, blocks), blocks)
    blocks += _numbered_on(_sources(document, evaluation, system), blocks)
    return Program(
        f"{name}: liner section of the drilling program",
        subtitle,
        f"{subtitle}; {issue}, {identity.standing}, file {identity.file_hash}",
        clean(revision.by) if revision and revision.by else "author not given",
        head,
        CAUTION,
        system,
        day_of(evaluation.plan),
        tuple(blocks),
    )


def _numbered_on(more: Iterator[_Raw], before: list[Block]) -> list[Block]:
    """Further blocks, their tables numbered on from those before."""
    count = sum(isinstance(block, NumberedTable) for block in before)
    return [
        NumberedTable(block.number + count, block.table) if isinstance(block, NumberedTable) else block
        for block in numbered(more)
    ]


def _before(evaluation: Evaluation, system: System) -> Iterator[_Raw]:
    state = evaluation.plan.identity.standing.upper()
    yield Paragraph(f"{state}. {sentence_case(status(evaluation))}.", "strong")
    yield well_tables.identity_table(evaluation, system)
    yield from _given(well_tables.revisions_table(evaluation))


def _schematic(evaluation: Evaluation, pages: Sheet) -> list[Block]:
    name = clean(evaluation.plan.identity.name)
    many = len(pages.scenes)
    last = f" to {many}" if many > 1 else ""
    words = ("Figures", "pages") if many > 1 else ("Figure", "page")
    told = f"{words[0]} 1{last} on the next {words[1]}, at the scales stated there."
    made: list[Block] = [Heading("Schematic and details"), Paragraph(told)]
    for number, scene in enumerate(pages.scenes, 1):
        of = f", sheet {number} of {many}" if many > 1 else ""
        made.append(
            NumberedPicture(
                number,
                scene,
                f"Depth plan of {name}{of}, at the scales stated on it",
                clean(f"Scaled schematic{of}. {scene.description} Its figures stand in the tables."),
            )
        )
    return made


def _given(table: Table) -> Iterator[_Raw]:
    """A table, or in one sentence that there is nothing in it."""
    if all_blank(table):
        yield Paragraph(f"{table.title}: not given.")
    else:
        yield table


def _well(evaluation: Evaluation, system: System) -> Iterator[_Raw]:
    yield Heading("Strings and hole")
    yield well_tables.strings_table(evaluation, system)
    yield well_tables.bores_table(evaluation, system)
    yield well_tables.features_table(evaluation)
    yield well_tables.hole_table(evaluation)
    yield well_tables.path_table(evaluation)
    yield Heading("Liner")
    yield tally_table(evaluation)
    yield laps_table(evaluation)
    yield well_tables.passage_table(evaluation)
    yield liner_weight_table(evaluation)
    yield Heading("Running string", 2)
    running = running_string_table(evaluation)
    yield running if running is not None else Paragraph("Running string: not given.")
    yield Heading("What has to pass what", 2)
    yield passage.restrictions_table(evaluation, system)
    yield passage.run_in_table(evaluation, system)
    yield passage.through_table(evaluation)


def _uncomputed(evaluation: Evaluation, what: str) -> Iterator[_Raw]:
    """What a quantity lacks, where it is not computed."""
    for one in evaluation.missing:
        if what == one.what:
            needs = ", ".join(readable(evaluation, name) for name in one.needs)
            yield Paragraph(f"{sentence_case(one.what)}: not computed, needs {needs}.")


def _workings(document: Document, evaluation: Evaluation, path: str, system: System) -> Iterator[_Raw]:
    text = explain(document, evaluation, path, system)
    if text is not None:
        yield Workings(tuple(text.splitlines()))


def _job(document: Document, evaluation: Evaluation, system: System) -> Iterator[_Raw]:
    yield Heading("Volumes")
    computed = volumes_table(evaluation)
    if computed.rows:
        yield computed
        yield job_tables.summed_table(evaluation)
    for one in evaluation.volumes.missing:
        yield from _uncomputed(evaluation, one.what)
    yield spaces_table(evaluation)
    yield Heading("Cement")
    yield from _given(job_tables.cement_plan_table(evaluation, system))
    made = (cement_table(evaluation), slurry_table(evaluation), tops_table(evaluation))
    yield from (table for table in made if table is not None)
    yield from _uncomputed(evaluation, "cement")
    yield from _uncomputed(evaluation, "sacks and mix water")
    if evaluation.cement is not None:
        yield Heading("How the cement is computed", 2)
    yield from _workings(document, evaluation, "cement.total", system)
    yield from _workings(document, evaluation, "cement.highest top", system)
    yield Heading("Displacement")
    displaced = displacement_table(evaluation)
    if displaced is not None:
        yield displaced
    yield from _uncomputed(evaluation, "displacement")
    if displaced is not None:
        yield Heading("How the displacement is computed", 2)
    yield from _workings(document, evaluation, "displacement.bump", system)
    yield Heading("Fluids and rock")
    yield from _given(job_tables.fluids_table(evaluation))
    yield from _given(job_tables.rock_table(evaluation))
    yield from _given(job_tables.window_table(evaluation))
    yield from _given(job_tables.leak_off_table(evaluation))
    yield from _given(job_tables.temperatures_table(evaluation))
    yield Heading("Pressures, weights and tests")
    resting = (static_table(evaluation), u_tube_table(evaluation))
    yield from (one._replace(blank=NOT_GIVEN) for one in resting if one is not None and one.rows)
    yield from _given(job_tables.pressures_table(evaluation))
    yield from _given(job_tables.weights_table(evaluation))
    yield from _given(job_tables.tests_table(evaluation))
    yield Heading("Installation")
    yield from installation_tables(evaluation)


def _open(evaluation: Evaluation, system: System) -> Iterator[_Raw]:
    yield Heading("Findings and waivers")
    if evaluation.findings:
        yield open_tables.findings_table(evaluation, system)
    else:
        yield Paragraph("Nothing was found by the checks that could run.")
    if evaluation.plan.waived:
        yield open_tables.waivers_table(evaluation)
    else:
        yield Paragraph("Nothing is waived.")
    yield Heading("What is not checked or not given")
    unchecked = open_tables.unchecked_table(evaluation)
    yield unchecked if unchecked.rows else Paragraph("Every check that applies could run.")
    uncomputed = open_tables.uncomputed_table(evaluation)
    if uncomputed.rows:
        yield uncomputed


def _asked(evaluation: Evaluation, before: list[Block]) -> Iterator[_Raw]:
    numbers = {block.table.title: block.number for block in before if isinstance(block, NumberedTable)}
    yield open_tables.asked_table(evaluation, numbers)


def _sources(document: Document, evaluation: Evaluation, system: System) -> Iterator[_Raw]:
    yield Heading("Assumptions")
    assumed = assumed_texts(evaluation)
    for text in assumed or ("nothing is assumed",):
        yield Paragraph(f"{sentence_case(text)}.")
    yield Heading("Sources")
    yield open_tables.formulas_table()
    if evaluation.plan.derivations:
        yield Heading("How the depths came about", 2)
    for derivation in evaluation.plan.derivations:
        yield from _workings(document, evaluation, derivation.path, system)
    yield open_tables.limits_table(evaluation, _profile(document))
    yield Heading("Caution")
    yield Paragraph(CAUTION, "strong")


def _profile(document: Document) -> str:
    """The profile of limits that the file names."""
    try:
        node = paths.find(document.root, "limits.profile")
    except paths.PathError:
        return "common practice"
    return node.value or "" if isinstance(node, tree.Scalar) else ""
