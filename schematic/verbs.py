"""The verbs of the tool, spoken the same by the command, the app and Python.

Each takes a well file: its path, or a :class:`Document` that was read before.
"""

from __future__ import annotations

import errno
import inspect
import json
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from schematic.checks.evaluate import RULES, Evaluation, evaluate
from schematic.depth.resolve import resolve
from schematic.export import explanation
from schematic.export.tables import Table, as_csv, tables
from schematic.units import System
from schematic.wellfile.files import write_atomically
from schematic.wellfile.read import Document, read, read_text

if TYPE_CHECKING:
    from schematic.comparison.compare import Alternative
    from schematic.comparison.differences import Differences
    from schematic.comparison.replan import Place, Replanned
    from schematic.drawing.scene import Sheet
    from schematic.drawing.screen import View
    from schematic.drawing.styles import Inks
    from schematic.export.pipe_tables import Pipe
    from schematic.job.card import Card

Source = str | Path | Document
Scale = Literal["fitted", "true"]
PaperName = Literal["a4", "a3", "letter", "tabloid"]

DRAWING_SUFFIXES = (".svg", ".png", ".pdf")
OPTIONS_SUFFIXES = (*DRAWING_SUFFIXES, ".xlsx", ".json")
STEPS_SUFFIXES = (*DRAWING_SUFFIXES, ".xlsx", ".csv", ".json")

__all__ = [
    "RulePage",
    "check",
    "demos",
    "diff",
    "draw",
    "draw_diff",
    "draw_options",
    "draw_recorded",
    "draw_running_sheet",
    "draw_steps",
    "explain",
    "explainable",
    "load",
    "load_text",
    "new",
    "options",
    "parts",
    "pipe",
    "program",
    "render",
    "replan",
    "rules",
    "schema",
    "sheet",
    "steps",
    "tabulate",
    "view",
    "volumes",
]


def load(source: Source) -> Document:
    """Read a well file; one that was read already comes back as it is.

    Raises
    ------
    InputError
        With all problems of the file.
    """
    return source if isinstance(source, Document) else read(source)


def check(source: Source) -> Evaluation:
    """Resolve and evaluate a well file: its quantities and the outcome of every rule."""
    return evaluate(resolve(load(source)))


def volumes(source: Source) -> tuple[Table, ...]:
    """The tables of a well file: liner, laps, volumes, displacement, cement, every space."""
    return tables(check(source))


def options(source: Source) -> tuple[Alternative, ...]:
    """The well as written and each of its options, evaluated; an option that cannot be keeps its problems."""
    from schematic.comparison.compare import alternatives

    return alternatives(load(source))


def sheet(
    source: Source | Evaluation,
    scale: Scale = "fitted",
    system: System | None = None,
    paper: PaperName = "a4",
    landscape: bool = False,
    details: Sequence[str] = (),
    style: Inks = "colour",
) -> Sheet:
    """The pages of a well's sheet, in colour or in greys: the same drawing in other inks.

    There is one page more for each depth range of *details*, such as "9400 ft to 9560 ft".

    Raises
    ------
    RangeError
        When a range cannot be drawn.
    """
    from schematic.drawing.depth_range import depth_range
    from schematic.drawing.grid import PAPERS, turned
    from schematic.drawing.sheet import well_sheet
    from schematic.drawing.styles import in_grey

    evaluation = source if isinstance(source, Evaluation) else check(source)
    lies = turned(PAPERS[paper]) if landscape else PAPERS[paper]
    pages = well_sheet(
        evaluation,
        scale=scale,
        system=system or evaluation.plan.identity.system,
        paper=lies,
        ranges=tuple(depth_range(text, evaluation) for text in details),
    )
    return in_grey(pages) if style == "grey" else pages


def view(evaluation: Evaluation, shows: View) -> Sheet:
    """One view of a well for a screen: the whole well, or an end of the liner."""
    from schematic.drawing.scene import Sheet
    from schematic.drawing.screen import screen

    return Sheet((screen(evaluation, shows, evaluation.plan.identity.system),))


def render(pages: Sheet, suffix: str) -> tuple[bytes, ...]:
    """Pages as file contents: one for PDF, one a page for SVG and PNG."""
    if suffix == ".pdf":
        from schematic.drawing import pdf

        return (pdf.render(pages),)
    if suffix == ".svg":
        from schematic.drawing import svg

        return tuple(svg.render(scene) for scene in pages.scenes)
    if suffix == ".png":
        from schematic.drawing import png

        return tuple(png.render(scene, dpi=300.0) for scene in pages.scenes)
    raise ValueError(f"{suffix!r} is none of {', '.join(DRAWING_SUFFIXES)}")


def draw(
    source: Source | Evaluation,
    out: str | Path,
    scale: Scale = "fitted",
    system: System | None = None,
    paper: PaperName = "a4",
    landscape: bool = False,
    details: Sequence[str] = (),
    style: Inks = "colour",
) -> tuple[Path, ...]:
    """Draw a well's sheet into a file; its suffix names the format. Further pages get a number.

    *details* are depth ranges such as "9400 ft to 9560 ft": a page each, after the sheet.

    Raises
    ------
    InputError
        With all problems of the well file.
    RangeError
        When a range of *details* cannot be drawn.
    ValueError
        When the suffix is not known.
    OSError
        When the file cannot be written; nothing is then left half written.
    """
    evaluation = source if isinstance(source, Evaluation) else check(source)
    return _write_pages(sheet(evaluation, scale, system, paper, landscape, details, style), Path(out))


def _write_pages(pages: Sheet, target: Path) -> tuple[Path, ...]:
    """Pages into files: one for PDF, else one a page, the further ones with a number."""
    written: list[Path] = []
    for index, content in enumerate(render(pages, target.suffix.lower())):
        page = target if index == 0 else target.with_stem(f"{target.stem}-{index + 1}")
        write_atomically(page, content)
        written.append(page)
    return tuple(written)


def _inked(pages: Sheet, style: Inks) -> Sheet:
    from schematic.drawing.styles import in_grey

    return in_grey(pages) if style == "grey" else pages


def draw_options(
    source: Source | tuple[Alternative, ...],
    out: str | Path,
    system: System | None = None,
    style: Inks = "colour",
) -> tuple[Path, ...]:
    """Put the options of a well side by side into a file: drawn, as a workbook (.xlsx), or as data (.json).

    Raises
    ------
    InputError
        With all problems of the well as written.
    NoLibrary
        When a workbook is wanted and openpyxl is not installed.
    ValueError
        When the suffix is not known.
    OSError
        When the file cannot be written; nothing is then left half written.
    """
    from schematic.comparison.compare import as_data, tables_of

    compared = source if isinstance(source, tuple) else options(source)
    base = compared[0].evaluation
    assert base is not None  # or the options would not have been compared
    target, shown = Path(out), system or base.plan.identity.system
    suffix = target.suffix.lower()
    if suffix in DRAWING_SUFFIXES:
        from schematic.drawing.side_by_side import options_sheet

        return _write_pages(_inked(options_sheet(compared, shown), style), target)
    if suffix == ".xlsx":
        from schematic.export.workbook import cover, workbook

        made = (cover(base, shown), *tables_of(compared, shown))
        write_atomically(target, workbook(base, made, shown))
    elif suffix == ".json":
        text = json.dumps(as_data(compared, shown), indent=2, ensure_ascii=False)
        write_atomically(target, f"{text}\n".encode())
    else:
        raise ValueError(f"{suffix!r} is none of {', '.join(OPTIONS_SUFFIXES)}")
    return (target,)


def diff(old: Source, new: Source) -> Differences:
    """What changed between two issues of a well: both evaluated, and what is written otherwise."""
    from schematic.comparison.differences import differences

    return differences(load(old), load(new))


def replan(
    source: Source, *, shoe: str | None = None, top: str | None = None, out: str | Path | None = None
) -> Replanned:
    """The plan with its made-up liner elsewhere: its shoe, or its top, at another depth.

    The depth as a hand says it: "3700 m", "150 ft off bottom", "150 ft high"; see `replan.place_of`.

    With *out* the new plan is written into a file that must not be there yet; where the liner is there
    already, there is no new plan and no file.

    Raises
    ------
    UnitError
        When it is not one depth.
    ValueError
        When not exactly one of the two is given.
    InputError
        When the liner cannot be there, or the file does not read.
    OSError
        When the file is there already or cannot be written, or is in another folder than files that the
        plan is read with.
    """
    from schematic.comparison.replan import place_of
    from schematic.comparison.replan import replan as work_out

    if (shoe is None) == (top is None):
        raise ValueError("give the new depth of the shoe or of the top, one of the two")
    place: Place = "top" if shoe is None else "shoe"
    text = top if shoe is None else shoe
    document = load(source)
    wanted = place_of(resolve(document), place, text or "")
    made = work_out(document, place, wanted, None if out is None else str(out))
    if out is None or not made.down_m:
        return made
    target = Path(out)
    if target.exists():
        raise FileExistsError(errno.EEXIST, "is there already; nothing was overwritten", str(target))
    beside = made.both.new.plan.identity.file_hash != load_text(made.text).hash
    if beside and document.folder and target.parent.resolve() != document.folder.resolve():
        reason = f"the files that this plan is read with lie in {document.folder}: write it there"
        raise OSError(errno.EINVAL, reason, str(target))
    write_atomically(target, made.text)
    return made


def draw_diff(
    both: Differences,
    out: str | Path,
    system: System | None = None,
    paper: PaperName = "a4",
    style: Inks = "colour",
) -> tuple[Path, ...]:
    """Draw both positions and what changed into a file; its suffix names the format.

    Raises
    ------
    ValueError
        When the suffix is not known.
    OSError
        When the file cannot be written; nothing is then left half written.
    """
    from schematic.drawing.grid import PAPERS
    from schematic.drawing.two_positions import difference_sheet

    shown = system or both.new.plan.identity.system
    return _write_pages(_inked(difference_sheet(both, shown, PAPERS[paper]), style), Path(out))


def tabulate(source: Source | Evaluation, out: str | Path, system: System | None = None) -> Path:
    """Write all tables of a well, what was found and what is open into a workbook (.xlsx).

    Raises
    ------
    InputError
        With all problems of the well file.
    NoLibrary
        When openpyxl is not installed.
    OSError
        When the file cannot be written; nothing is then left half written.
    """
    from schematic.export.report import open_points
    from schematic.export.tables import findings_table
    from schematic.export.tally import tally_table
    from schematic.export.workbook import cover, workbook

    evaluation = source if isinstance(source, Evaluation) else check(source)
    shown = system or evaluation.plan.identity.system
    made = (
        cover(evaluation, shown),
        tally_table(evaluation),
        *tables(evaluation),
        findings_table(evaluation, shown),
        *open_points(evaluation),
    )
    target = Path(out)
    write_atomically(target, workbook(evaluation, made, shown))
    return target


def program(source: Source, out: str | Path, system: System | None = None, paper: PaperName = "a4") -> Path:
    """Write the liner section of a well's drilling program; the suffix of *out* names the format.

    *paper* is that of the schematic; text stands on A4 beside A3, on Letter beside Tabloid.

    Raises
    ------
    InputError
        With all problems of the well file.
    ValueError
        When the suffix is none of those in ``schematic.program.write.SUFFIXES``.
    NoLibrary
        When the library for the format is not installed.
    OSError
        When the file cannot be written; nothing is then left half written.
    """
    from schematic.drawing.grid import PAPERS
    from schematic.program import assemble, write

    document = load(source)
    evaluation = check(document)
    shown = system or evaluation.plan.identity.system
    target = Path(out)
    made = assemble.program(document, evaluation, sheet(evaluation, "fitted", shown, paper), shown)
    write_atomically(target, write.content(made, evaluation, target.suffix.lower(), PAPERS[paper]))
    return target


def steps(source: Source | Evaluation) -> tuple[Card, ...]:
    """The cards of the installation, step by step."""
    from schematic.job.steps import cards

    evaluation = source if isinstance(source, Evaluation) else check(source)
    return cards(evaluation.job)


def draw_steps(
    source: Source | Evaluation,
    out: str | Path,
    system: System | None = None,
    paper: PaperName = "a4",
    style: Inks = "colour",
    only: int | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> tuple[Path, ...]:
    """Write the step cards into a file: drawn, a page a step, as workbook (.xlsx) or data (.json, .csv).

    *only* draws the card of one step; all of them are followed by the tables that they rest on.

    Raises
    ------
    InputError
        With all problems of the well file.
    NoLibrary
        When a workbook is wanted and openpyxl is not installed.
    ValueError
        When the suffix is not known, or there is no such step.
    OSError
        When the file cannot be written; nothing is then left half written.
    """
    from schematic.drawing.grid import PAPERS
    from schematic.drawing.job_charts import charts_page
    from schematic.drawing.scene import Sheet as Pages
    from schematic.drawing.step_card import cards_sheet, tables_behind
    from schematic.export.installation import installation_tables
    from schematic.export.recorded import record_tables
    from schematic.export.steps import as_data as card_data
    from schematic.export.steps import steps_table
    from schematic.export.tables import as_data
    from schematic.program.open_tables import findings_table

    evaluation = source if isinstance(source, Evaluation) else check(source)
    target, shown = Path(out), system or evaluation.plan.identity.system
    cards, suffix = steps(evaluation), target.suffix.lower()
    quantities = (*installation_tables(evaluation), *record_tables(evaluation, shown))
    if only is not None and not 1 <= only <= len(cards):
        raise ValueError(f"no step {only}: this plan has steps 1 to {len(cards)}")
    if suffix in DRAWING_SUFFIXES:
        pages = cards_sheet(evaluation, cards, shown, PAPERS[paper], progress, only)
        if only is None:
            open_ = findings_table(evaluation, shown)
            behind = tables_behind(evaluation, (*quantities, open_), shown, PAPERS[paper])
            charts = charts_page(evaluation, shown, PAPERS[paper])
            pages = Pages((*pages.scenes, *behind.scenes, *charts.scenes))
        return _write_pages(_inked(pages, style), target)
    its = tuple(card for card in cards if only is None or card.number == only)
    made = (steps_table(its, shown), *(quantities if only is None else ()))
    if suffix in (".xlsx", ".csv"):
        content = _tabled(evaluation, made, shown, suffix)
    elif suffix == ".json":
        data = {
            "well": evaluation.plan.identity.name,
            "steps": [card_data(card, shown) for card in its],
            "tables": [as_data(table, shown) for table in made[1:]],
        }
        content = f"{json.dumps(data, indent=2, ensure_ascii=False)}\n".encode()
    else:
        raise ValueError(f"{suffix!r} is none of {', '.join(STEPS_SUFFIXES)}")
    write_atomically(target, content)
    return (target,)


def _tabled(evaluation: Evaluation, made: Sequence[Table], shown: System, suffix: str) -> bytes:
    """Tables as CSV, or as a workbook with its cover."""
    if suffix == ".csv":
        return as_csv(tuple(made), shown).encode()
    from schematic.export.workbook import cover, workbook

    return workbook(evaluation, (cover(evaluation, shown), *made), shown)


def draw_recorded(
    source: Source | Evaluation, out: str | Path, system: System | None = None
) -> tuple[Path, ...]:
    """Write the record beside the plan into a file; its suffix names the format.

    Raises
    ------
    As `draw_steps`.
    """
    from schematic.drawing.recorded_sheet import recorded_pages
    from schematic.export.recorded import record_tables

    evaluation = source if isinstance(source, Evaluation) else check(source)
    target, shown = Path(out), system or evaluation.plan.identity.system
    suffix = target.suffix.lower()
    if suffix in DRAWING_SUFFIXES:
        return _write_pages(recorded_pages(evaluation, shown), target)
    made = record_tables(evaluation, shown)
    if suffix in (".xlsx", ".csv"):
        content = _tabled(evaluation, made, shown, suffix)
    else:
        raise ValueError(f"{suffix!r} is none of {', '.join((*DRAWING_SUFFIXES, '.xlsx', '.csv'))}")
    write_atomically(target, content)
    return (target,)


def draw_running_sheet(
    source: Source | Evaluation,
    out: str | Path,
    system: System | None = None,
    paper: PaperName = "a4",
    style: Inks = "colour",
) -> tuple[Path, ...]:
    """Write the running sheet, joint by joint and stand by stand, into a file; its suffix names the format.

    Raises
    ------
    As `draw_steps`.
    """
    from schematic.drawing.grid import PAPERS
    from schematic.drawing.job_charts import charts_page
    from schematic.drawing.running_sheet import running_sheet_pages
    from schematic.drawing.scene import Sheet as Pages
    from schematic.export.running_sheet import running_sheet_tables
    from schematic.export.tables import as_data

    evaluation = source if isinstance(source, Evaluation) else check(source)
    target, shown = Path(out), system or evaluation.plan.identity.system
    suffix = target.suffix.lower()
    if suffix in DRAWING_SUFFIXES:
        pages = running_sheet_pages(evaluation, shown, PAPERS[paper])
        charts = charts_page(evaluation, shown, PAPERS[paper])
        return _write_pages(_inked(Pages((*pages.scenes, *charts.scenes)), style), target)
    made = running_sheet_tables(evaluation, shown)
    if suffix in (".xlsx", ".csv"):
        content = _tabled(evaluation, made, shown, suffix)
    elif suffix == ".json":
        text = json.dumps([as_data(table, shown) for table in made], indent=2, ensure_ascii=False)
        content = f"{text}\n".encode()
    else:
        raise ValueError(f"{suffix!r} is none of {', '.join(STEPS_SUFFIXES)}")
    write_atomically(target, content)
    return (target,)


def explain(source: Source, path: str, system: System | None = None) -> str | None:
    """How a value such as "liner.top" or "volumes.lap" came about; None when there is no such value."""
    document = load(source)
    evaluation = check(document)
    return explanation.explain(document, evaluation, path, system or evaluation.plan.identity.system)


def explainable(source: Source) -> tuple[str, ...]:
    """The derived values that can be explained; whatever stands in the file can be, too."""
    return explanation.known(check(source))


class RulePage(NamedTuple):
    """A rule's code, its one line, and its manual page."""

    code: str
    line: str
    page: str


def parts(out: str | Path, paper: PaperName = "a4", style: Inks = "colour") -> tuple[Path, ...]:
    """Draw the plate of all parts, each as a sheet draws it, with what it does.

    Raises
    ------
    ValueError
        When the suffix is not known.
    OSError
        When the file cannot be written; nothing is then left half written.
    """
    from schematic.drawing.grid import PAPERS
    from schematic.drawing.parts_plate import parts_plate

    return _write_pages(_inked(parts_plate(PAPERS[paper]), style), Path(out))


def rules() -> tuple[RulePage, ...]:
    """The manual pages of all rules, in the order in which they run."""
    pages = []
    for rule in RULES:
        page = inspect.cleandoc(rule.check.__doc__ or "")
        pages.append(RulePage(rule.code, page.partition("\n")[0], page))
    return tuple(pages)


def pipe(text: str) -> Pipe:
    """What is known of the casing or drill pipe that a text names, such as "7 in 29 lb/ft L-80".

    Raises
    ------
    LookUpError
        When no listed pipe fits, or more than one; with the choices.
    """
    from schematic.export import pipe_tables

    return pipe_tables.find(text)


def schema() -> dict[str, Any]:
    """The JSON schema of a well file."""
    from schematic.wellfile.model import WellFile

    return WellFile.model_json_schema()


def _wells() -> Path:
    """The folder of the invented wells."""
    import wells

    return Path(wells.__file__ or "").parent


def new() -> str:
    """The text of a first well file: short, complete, with a remark on each line that wants one."""
    return (_wells() / "new.yaml.txt").read_text(encoding="utf-8")


@cache
def demos() -> dict[str, str]:
    """The invented wells that come with the tool: file name to text."""
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(_wells().glob("*.yaml"))}


def load_text(text: str, file: str = "well file") -> Document:
    """Read a well file from its text."""
    return read_text(text, file)
