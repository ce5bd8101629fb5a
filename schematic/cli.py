"""The command ``lapline``: results on standard output, talk on standard error, exit status 0, 1 or 2."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path
from typing import Any, NoReturn

import click

from schematic.export import CAUTION

_FILE = click.argument("file", type=click.Path())
_UNITS = click.option(
    "--units", type=click.Choice(["field", "metric"]), help="Units of the output; as in the file if left out."
)
_PIPE_UNITS = click.option(
    "--units", type=click.Choice(["field", "metric"]), help="Units of the output; as written if left out."
)
_FORMAT = click.option(
    "--format", "form", type=click.Choice(["text", "json", "csv"]), default="text", show_default=True
)
_STYLE = click.option(
    "--style",
    type=click.Choice(["colour", "grey"]),
    default="colour",
    show_default=True,
    help="Inks: the same drawing in colour or in greys.",
)
_PAPER = click.option(
    "--paper", type=click.Choice(["a4", "a3", "letter", "tabloid"]), default="a4", show_default=True
)
_COLOURS = {"error": "red", "warning": "yellow", "advice": "cyan"}


def _talk(text: str) -> None:
    click.echo(text, err=True)


def _stop(text: str) -> NoReturn:
    """Say why nothing could be done, and leave with status 2."""
    _talk(text)
    sys.exit(2)


@click.group(
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog=f"{CAUTION} Exit status: 0 nothing found, 1 findings of warning or error, 2 could not run.",
)
@click.version_option(package_name="lapline")
def commands() -> None:
    """Draw and check the depth plan of a well that gets a liner."""


def main() -> None:
    """Run the command. A broken pipe or an interrupt ends it without a traceback."""
    # plug-ins that other packages bring for pydantic have no business here and cost a tenth of the start
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    from schematic.wellfile.problem import InputError

    try:
        commands(standalone_mode=False)
    except InputError as error:
        count = len(error.problems)
        _stop(f"{error}\n{count} problem{'' if count == 1 else 's'} in the file; nothing was computed.")
    except click.exceptions.NoArgsIsHelpError as error:
        _stop(error.format_message())
    except click.ClickException as error:
        error.show()
        sys.exit(2)
    except (click.Abort, KeyboardInterrupt):
        _stop("interrupted")
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(2)
    except OSError as error:
        _stop(f"{error.filename or 'file'}: {error.strerror or error}")


def _heading(evaluation: Any, system: str) -> str:  # noqa: ANN401
    identity = evaluation.plan.identity
    revision = f", revision {identity.revision.named}" if identity.revision else ""
    datum = identity.datum
    return (
        f"{identity.name}{revision}, {identity.standing}; MD below {datum.name}, {system} units, "
        f"file {identity.file_hash}"
    )


def _as_json(evaluation: Any, system: Any, **parts: object) -> None:  # noqa: ANN401
    identity = evaluation.plan.identity
    head = {"well": identity.name, "file": identity.file, "file hash": identity.file_hash, "units": system}
    click.echo(json.dumps({**head, **parts, "caution": CAUTION}, indent=2, ensure_ascii=False))


def _coloured(report: str) -> str:
    lines = []
    for line in report.splitlines():
        first = line.split(" ", 1)[0]
        lines.append(click.style(line, fg=_COLOURS[first], bold=True) if first in _COLOURS else line)
    return "\n".join(lines)


def _print(evaluation: Any, units: Any, form: str, *, findings: bool, quantities: bool) -> None:  # noqa: ANN401
    """What was found and what was computed, in the wanted units and form."""
    from schematic.export import report, tables

    system = units or evaluation.plan.identity.system
    made = tables.tables(evaluation) if quantities else ()
    if form == "json":
        parts: dict[str, object] = {"assumed or not given": list(report.assumed_texts(evaluation))}
        if findings:
            parts["outcomes"] = report.as_data(evaluation, system)
        if quantities:
            parts["tables"] = [tables.as_data(table, system) for table in made]
        parts["not computed"] = [one._asdict() for one in evaluation.missing]
        _as_json(evaluation, system, **parts)
    elif form == "csv":
        first = (tables.findings_table(evaluation, system),) if findings else ()
        click.echo(tables.as_csv((*first, *made, *report.open_points(evaluation)), system), nl=False)
    else:
        click.echo(_heading(evaluation, system))
        if findings:
            click.echo(_coloured(report.as_text(evaluation, system)))
        for table in made:
            click.echo(f"\n{tables.as_text(table, system)}")
        if not findings and (lacking := report.not_computed(evaluation)):
            click.echo("\nnot computed:\n" + "\n".join(f"  {text}" for text in lacking))


@commands.command()
@_FILE
@_UNITS
@_FORMAT
def check(file: str, units: Any, form: str) -> None:  # noqa: ANN401
    """Check a well FILE: what was found, what is missing, what passed."""
    from schematic import verbs
    from schematic.outcome import Severity

    evaluation = verbs.check(file)
    _print(evaluation, units, form, findings=True, quantities=False)
    bad = evaluation.count(Severity.ERROR) + evaluation.count(Severity.WARNING)
    sys.exit(1 if bad else 0)


@commands.command()
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=click.Path())
@click.option(
    "-o", "--out", required=True, type=click.Path(), help="Where to: .svg, .png or .pdf, or a folder."
)
@click.option("--as", "suffix", type=click.Choice(["svg", "png", "pdf"]), help="Format in a folder: svg.")
@click.option(
    "--scale",
    type=click.Choice(["fitted", "true"]),
    default="fitted",
    show_default=True,
    help="Depth scale of the main column.",
)
@_PAPER
@click.option("--landscape", is_flag=True, help="Turn the paper.")
@click.option(
    "--detail",
    "details",
    multiple=True,
    metavar="RANGE",
    help='Add a page with a depth range at true scale: "9400 ft to 9560 ft"; may be given again.',
)
@_STYLE
@_UNITS
@_FORMAT
def draw(
    files: tuple[str, ...],
    out: str,
    suffix: str | None,
    scale: Any,  # noqa: ANN401
    paper: Any,  # noqa: ANN401
    landscape: bool,
    details: tuple[str, ...],
    style: Any,  # noqa: ANN401
    units: Any,  # noqa: ANN401
    form: str,
) -> None:
    """Draw the sheet of a well FILE, print findings and volumes; many wells into a folder, on all cores."""
    from schematic import verbs
    from schematic.drawing.depth_range import RangeError

    if not out.strip():
        raise click.BadParameter("it is empty: name a file or a folder", param_hint="-o")
    drawing = Path(out).suffix.lower() in verbs.DRAWING_SUFFIXES
    if not drawing and (len(files) > 1 or out.endswith(("/", os.sep)) or Path(out).is_dir()):
        if details:
            raise click.BadParameter("a detail is drawn of one well", param_hint="--detail")
        manner = {"scale": scale, "system": units, "paper": paper, "landscape": landscape, "style": style}
        _draw_many(files, out, suffix or "svg", form, **manner)
        return
    if len(files) > 1:
        raise click.BadParameter(f"{len(files)} files need a folder, {out!r} is one file", param_hint="-o")
    if suffix is not None:
        raise click.BadParameter(
            "it is for a folder; of one file the name tells the format", param_hint="--as"
        )
    file = files[0]
    _known_suffix(out, verbs.DRAWING_SUFFIXES)
    evaluation = verbs.check(file)
    try:  # before printing: a reader that goes away loses nothing
        pages = verbs.draw(evaluation, out, scale, units, paper, landscape, details, style)
    except RangeError as error:
        raise click.BadParameter(str(error), param_hint="--detail") from None
    _print(evaluation, units, form, findings=True, quantities=True)
    for page in pages:
        _talk(f"drawn: {page}")


def _draw_many(files: tuple[str, ...], folder: str, suffix: str, form: str, **manner: Any) -> None:  # noqa: ANN401
    """Draw wells into a folder and print one line a well; what could not be drawn is told at the end."""
    from schematic import batch
    from schematic.export import tables
    from schematic.outcome import Figure, Severity

    def progress(one: batch.Drawn, count: int) -> None:
        what = ", ".join(map(str, one.pages)) if one.pages else "not drawn"
        _talk(f"{count} of {total}  {one.file}: {what}")

    total = len(set(files))
    try:
        done = batch.draw_many(files, folder, suffix, told=progress, **manner)
    except batch.BatchError as error:
        _stop(f"{error}; nothing was drawn")
    heads = ("file", "well", *(f"{severity.value}s".replace("advices", "advice") for severity in Severity))
    rows: tuple[tuple[tables.Cell, ...], ...] = tuple(
        (str(one.file), one.well, *(Figure(count, "count") for count in one.found))
        for one in done
        if one.pages
    )
    table = tables.Table("Wells drawn", tuple(map(tables.Column, heads)), rows)
    if form == "json":
        data = {"tables": [tables.as_data(table, "metric")], "caution": CAUTION}
        click.echo(json.dumps(data, indent=2, ensure_ascii=False))
    elif form == "csv":
        click.echo(tables.as_csv((table,), "metric"), nl=False)
    elif rows:
        click.echo(tables.as_text(table, "metric"))
    failed = [one for one in done if not one.pages]
    if failed:
        told = "\n".join(one.problem for one in failed)
        _stop(f"\n{told}\n{len(failed)} of {len(done)} wells could not be drawn.")


@commands.command()
@_FILE
@click.option("-o", "--out", type=click.Path(), help="Write all tables to a workbook instead: .xlsx.")
@_UNITS
@_FORMAT
def volumes(file: str, out: str | None, units: Any, form: str) -> None:  # noqa: ANN401
    """Print the tables of a well FILE: liner, laps, volumes, displacement, cement."""
    from schematic import verbs

    if out is None:
        _print(verbs.check(file), units, form, findings=False, quantities=True)
        return
    from schematic.export.workbook import NoLibrary

    if Path(out).suffix.lower() != ".xlsx":
        raise click.BadParameter(f"{out!r} does not end with .xlsx", param_hint="-o")
    try:
        verbs.tabulate(file, out, units)
    except NoLibrary as error:
        _stop(str(error))
    _talk(f"written: {out}")


@commands.command()
@_FILE
@click.option(
    "-o", "--out", required=True, type=click.Path(), help="Where to: .pdf, .docx, .xlsx, .csv or .json."
)
@_PAPER
@_UNITS
def program(file: str, out: str, paper: Any, units: Any) -> None:  # noqa: ANN401
    """Write the liner section of a drilling program: schematic, tables, findings, sources."""
    from schematic import verbs
    from schematic.export.workbook import NoLibrary
    from schematic.program.write import SUFFIXES

    if Path(out).suffix.lower() not in SUFFIXES:
        raise click.BadParameter(f"{out!r} ends with none of {', '.join(SUFFIXES)}", param_hint="-o")
    try:
        verbs.program(file, out, units, paper)
    except NoLibrary as error:
        _stop(str(error))
    _talk(f"written: {out}")


@commands.command()
@_FILE
@click.option(
    "-o",
    "--out",
    type=click.Path(),
    help="Where to, instead of the screen: cards as .pdf, .svg, .png, tables as .xlsx, .csv, .json.",
)
@_PAPER
@_STYLE
@_UNITS
@_FORMAT
def steps(file: str, out: str | None, paper: Any, style: Any, units: Any, form: str) -> None:  # noqa: ANN401
    """Tell the installation of FILE step by step: what to do, what next, what never, what to see."""
    from schematic import verbs
    from schematic.export import steps as told
    from schematic.export.installation import installation_tables
    from schematic.export.recorded import record_tables
    from schematic.export.tables import as_csv, as_data, as_text
    from schematic.export.workbook import NoLibrary

    if out is not None:
        _known_suffix(out, verbs.STEPS_SUFFIXES)
        try:
            pages = verbs.draw_steps(file, out, units, paper, style, progress=_card_progress)
        except NoLibrary as error:
            _stop(str(error))
        for page in pages:
            _talk(f"written: {page}")
        return
    evaluation = verbs.check(file)
    system = units or evaluation.plan.identity.system
    cards = verbs.steps(evaluation)
    made = (*installation_tables(evaluation), *record_tables(evaluation, system))
    if form == "json":
        _as_json(
            evaluation,
            system,
            steps=[told.as_data(card, system) for card in cards],
            tables=[as_data(table, system) for table in made],
        )
    elif form == "csv":
        click.echo(as_csv((told.steps_table(cards, system), *made), system), nl=False)
    else:
        click.echo(_heading(evaluation, system))
        click.echo(f"\n{told.as_text(cards, system)}")
        for table in made:
            click.echo(f"\n{as_text(table, system)}")
        click.echo(f"\n{CAUTION}")


def _card_progress(done: int, count: int) -> None:
    if sys.stderr.isatty():
        click.echo(f"\r{done} of {count} cards", err=True, nl=done == count)


@commands.command()
@_FILE
@click.argument("number", type=int)
@click.option("-o", "--out", required=True, type=click.Path(), help="Where to: .svg, .png or .pdf.")
@_PAPER
@_STYLE
@_UNITS
def step(file: str, number: int, out: str, paper: Any, style: Any, units: Any) -> None:  # noqa: ANN401
    """Draw step NUMBER of the installation of FILE: the well at that step, gauge and weight."""
    from schematic import verbs

    _known_suffix(out, verbs.DRAWING_SUFFIXES)
    evaluation = verbs.check(file)
    count = len(verbs.steps(evaluation))
    if not 1 <= number <= count:
        raise click.BadParameter(f"no step {number}: this plan has steps 1 to {count}", param_hint="NUMBER")
    for page in verbs.draw_steps(evaluation, out, units, paper, style, only=number):
        _talk(f"drawn: {page}")


@commands.command("running-sheet")
@_FILE
@click.option(
    "-o", "--out", type=click.Path(), help="Where to, instead of the screen: .pdf, .xlsx, .csv, .json, .svg."
)
@_PAPER
@_STYLE
@_UNITS
@_FORMAT
def running_sheet(file: str, out: str | None, paper: Any, style: Any, units: Any, form: str) -> None:  # noqa: ANN401
    """Tell joint by joint and stand by stand how the liner of FILE goes in: volumes, weights, remarks."""
    from schematic import verbs
    from schematic.export.running_sheet import running_sheet_tables
    from schematic.export.tables import as_csv, as_data, as_text
    from schematic.export.workbook import NoLibrary

    if out is not None:
        _known_suffix(out, verbs.STEPS_SUFFIXES)
        try:
            pages = verbs.draw_running_sheet(file, out, units, paper, style)
        except NoLibrary as error:
            _stop(str(error))
        for page in pages:
            _talk(f"written: {page}")
        return
    evaluation = verbs.check(file)
    system = units or evaluation.plan.identity.system
    made = running_sheet_tables(evaluation, system)
    if form == "json":
        _as_json(evaluation, system, tables=[as_data(table, system) for table in made])
    elif form == "csv":
        click.echo(as_csv(made, system), nl=False)
    else:
        click.echo(_heading(evaluation, system))
        for table in made:
            click.echo(f"\n{as_text(table, system)}")


@commands.command()
@_FILE
@click.argument("path", required=False)
@_UNITS
@_FORMAT
def explain(file: str, path: str | None, units: Any, form: str) -> None:  # noqa: ANN401
    """Tell how a value of FILE came about: PATH is such as liner.top or "volumes.open hole"."""
    import difflib

    from schematic import verbs
    from schematic.export import explanation, tables

    names = verbs.explainable(file)
    text = "\n".join(names) if path is None else verbs.explain(file, path, units)
    if text is None:
        evaluation = verbs.check(file)
        why = explanation.why_not(evaluation, path or "", units or evaluation.plan.identity.system)
        if why is not None:
            _stop(f"{path!r} cannot be told: {why}")
        near = difflib.get_close_matches(path or "", names, 3, 0.5)
        hint = f"did you mean {', '.join(near)}?" if near else "without PATH, all derived values are listed"
        _stop(f"{path!r} is no value of this file: {hint}")
    if form == "json":
        click.echo(json.dumps({"path": path, "lines": text.splitlines()}, indent=2, ensure_ascii=False))
    elif form == "csv":
        rows = tuple((line,) for line in text.splitlines())
        table = tables.Table(path or "values", (tables.Column("line"),), rows)
        click.echo(tables.as_csv((table,), "metric"), nl=False)
    else:
        click.echo(text)


@commands.command()
@_FILE
@click.option(
    "-o", "--out", type=click.Path(), help="Where to, instead of the screen: .svg, .png, .pdf, .xlsx, .json."
)
@_STYLE
@_UNITS
@_FORMAT
def options(file: str, out: str | None, style: Any, units: Any, form: str) -> None:  # noqa: ANN401
    """Compare the options of a well FILE: what differs, in words, and which findings appear or go."""
    from schematic import verbs
    from schematic.comparison import compare
    from schematic.export import tables
    from schematic.export.workbook import NoLibrary

    _known_suffix(out, verbs.OPTIONS_SUFFIXES)
    compared = verbs.options(file)
    base = compared[0].evaluation
    assert base is not None
    if len(compared) == 1:
        _stop(f"{file} has no options: add 'options: [{{name: ..., change: {{liner.lap: 150 m}}}}]'")
    system = units or base.plan.identity.system
    if out is not None:
        try:
            for page in verbs.draw_options(compared, out, system, style):
                _talk(f"written: {page}")
        except NoLibrary as error:
            _stop(str(error))
    elif form == "json":
        click.echo(json.dumps(compare.as_data(compared, system), indent=2, ensure_ascii=False))
    elif form == "csv":
        click.echo(tables.as_csv(compare.tables_of(compared, system), system), nl=False)
    else:
        click.echo(_heading(base, system))
        _echo_tables(compare.tables_of(compared, system), system)
    for one in compared:
        if one.problems:
            _talk(f"\noption {one.name} cannot be:\n" + "\n".join(str(problem) for problem in one.problems))
    sys.exit(1 if any(one.problems for one in compared) else 0)


def _known_suffix(out: str | None, suffixes: tuple[str, ...], hint: str = "-o") -> None:
    if out is not None and Path(out).suffix.lower() not in suffixes:
        raise click.BadParameter(f"{out!r} ends with none of {', '.join(suffixes)}", param_hint=hint)


def _echo_tables(made: Any, system: Any) -> None:  # noqa: ANN401
    """Tables for a terminal; one without rows says that there is nothing."""
    from schematic.export import tables

    for table in made:
        click.echo(f"\n{tables.as_text(table, system) if table.rows else table.title + ': none'}")


@commands.command()
@click.argument("old", type=click.Path())
@click.argument("new", type=click.Path())
@click.option("-o", "--out", type=click.Path(), help="Draw both positions as well: .svg, .png, .pdf.")
@_STYLE
@_UNITS
@_FORMAT
def diff(
    old: str,
    new: str,
    out: str | None,
    style: Any,  # noqa: ANN401
    units: Any,  # noqa: ANN401
    form: str,
) -> None:
    """Tell what changed from the well file OLD to NEW. Status 0: nothing, 1: something did."""
    from schematic import verbs
    from schematic.comparison import differences
    from schematic.export import tables

    _known_suffix(out, verbs.DRAWING_SUFFIXES)
    both = verbs.diff(old, new)
    system = units or both.new.plan.identity.system
    drawn = verbs.draw_diff(both, out, system, style=style) if out is not None else ()
    made = differences.tables_of(both, system)
    if both.other_well:
        names = both.old.plan.identity.name, both.new.plan.identity.name
        _talk(f"These are two wells: {names[0]} and {names[1]}.")
    if form == "json":
        before = both.old.plan.identity
        _as_json(
            both.new,
            system,
            old={"well": before.name, "file": before.file, "file hash": before.file_hash},
            changed=both.any,
            tables=[tables.as_data(table, system) for table in made],
        )
    elif form == "csv":
        click.echo(tables.as_csv(made, system), nl=False)
    else:
        click.echo(f"before: {_heading(both.old, system)}\nnow:    {_heading(both.new, system)}")
        _echo_tables(made, system)
    for page in drawn:
        _talk(f"drawn: {page}")
    sys.exit(1 if both.any else 0)


@commands.command()
@_FILE
@click.argument("unit", required=False)
@click.option("--shoe", metavar="DEPTH", help="Where the shoe is: 3700 m, or '150 ft off bottom'.")
@click.option("--top", metavar="DEPTH", help="Where the liner top is, or is to be: 9300 ft.")
@click.option("-o", "--out", type=click.Path(), help="The new well file; beside the old one if left out.")
@click.option("--drawing", type=click.Path(), help="Draw both positions as well: .svg, .png, .pdf.")
@_STYLE
@_UNITS
@_FORMAT
def replan(
    file: str,
    unit: str | None,
    shoe: str | None,
    top: str | None,
    out: str | None,
    drawing: str | None,
    style: Any,  # noqa: ANN401
    units: Any,  # noqa: ANN401
    form: str,
) -> None:
    """Plan FILE anew with its made-up liner elsewhere: stopped off bottom, or to be hung elsewhere.

    Writes a new well file and tells what changed, what got worse, what is left to settle. UNIT is that of the
    depth, where it stands behind it without quotes. No file is overwritten.
    """
    from schematic import verbs
    from schematic.comparison import replan_report
    from schematic.comparison.replan import Place, file_name
    from schematic.export import tables
    from schematic.units import UnitError
    from schematic.wellfile.problem import InputError

    if (shoe is None) == (top is None):
        raise click.UsageError("give --shoe or --top, one of the two")
    _known_suffix(drawing, verbs.DRAWING_SUFFIXES, "--drawing")
    if out is not None and not out.strip():
        raise click.BadParameter("it is empty: name a file", param_hint="-o")
    if out is not None and Path(out).suffix.lower() in verbs.DRAWING_SUFFIXES:
        raise click.BadParameter(f"{out!r} is a drawing: write it with --drawing", param_hint="-o")
    if unit is not None and Path(unit).is_file() and not Path(file).exists():
        file, unit = unit, file  # --shoe 3700 m FILE
    place: Place = "top" if shoe is None else "shoe"
    depth = f"{top if shoe is None else shoe} {unit or ''}".strip()
    target = Path(out) if out is not None else Path(file).with_name(file_name(file, place, depth))
    try:
        made = verbs.replan(file, **{place: depth}, out=target)
    except UnitError as error:
        hint = f"--{place}"
        raise click.BadParameter(
            f"{error.found!r}: {error.accepted}; {error.mend}", param_hint=hint
        ) from None
    except InputError as error:
        _stop(f"{error}\nNo new file was written.")
    both = made.both
    _talk(f"written: {target}" if made.down_m else "nothing changes; no new file was written")
    system = units or both.new.plan.identity.system
    drawn = verbs.draw_diff(both, drawing, system, style=style) if drawing is not None else ()
    lists = replan_report.tables_of(made, system)
    if form == "json":
        was = both.old.plan.identity
        _as_json(
            both.new,
            system,
            old={"well": was.name, "file": was.file, "file hash": was.file_hash},
            tables=[tables.as_data(table, system) for table in lists],
        )
    elif form == "csv":
        click.echo(tables.as_csv(lists, system), nl=False)
    else:
        click.echo(f"before: {_heading(both.old, system)}\nnow:    {_heading(both.new, system)}")
        _echo_tables(lists, system)
    for page in drawn:
        _talk(f"drawn: {page}")


@commands.command()
@click.argument("file", type=click.Path(), required=False)
def new(file: str | None) -> None:
    """Write a first well FILE, or print it."""
    from schematic import verbs
    from schematic.wellfile.files import write_atomically

    if file is None:
        click.echo(verbs.new(), nl=False)
        return
    if Path(file).exists():
        _stop(f"{file} is there already; nothing was written. Choose another name.")
    write_atomically(Path(file), verbs.new())
    _talk(f"written: {file}; look at it with 'lapline check {file}'")


@commands.command()
@click.argument("name", required=False)
@_FORMAT
def rules(name: str | None, form: str) -> None:
    """List the rules, or print the page of the rule NAME."""
    import difflib

    from schematic import verbs
    from schematic.export import tables

    pages = verbs.rules()
    if name is not None:
        chosen = [page for page in pages if page.code == name.strip().lower().replace(" ", "-")]
        if not chosen:
            near = difflib.get_close_matches(name, [page.code for page in pages], 3, 0.4)
            _stop(f"no rule {name!r}" + (f"; did you mean {', '.join(near)}?" if near else ""))
        pages = tuple(chosen)
    if form == "json":
        click.echo(json.dumps([page._asdict() for page in pages], indent=2))
    elif form == "csv":
        columns = (tables.Column("rule"), tables.Column("what is wrong"))
        rows = tuple((page.code, page.line) for page in pages)
        click.echo(tables.as_csv((tables.Table("Rules", columns, rows),), "metric"), nl=False)
    elif name is not None:
        what = "each an edit of the demo well brindlewick-4, or of the well that is named"
        page = pages[0].page.replace("\nExample\n", f"\nExample\n    ({what})\n")
        click.echo(f"{pages[0].code}\n\n{page}")
    else:
        width = max(len(page.code) for page in pages)
        click.echo("\n".join(f"{page.code.ljust(width)}  {page.line}" for page in pages))


@commands.command()
@click.option("-o", "--out", required=True, type=click.Path(), help="Where to: .svg, .png or .pdf.")
@_PAPER
@_STYLE
def parts(out: str, paper: Any, style: Any) -> None:  # noqa: ANN401
    """Draw every part as the sheets draw it, with what it does."""
    from schematic import verbs

    if Path(out).suffix.lower() not in verbs.DRAWING_SUFFIXES:
        raise click.BadParameter(
            f"{out!r} ends with none of {', '.join(verbs.DRAWING_SUFFIXES)}", param_hint="-o"
        )
    for page in verbs.parts(out, paper, style):
        _talk(f"drawn: {page}")


@commands.command()
@click.argument("text", nargs=-1, required=True)
@_PIPE_UNITS
@_FORMAT
def pipe(text: tuple[str, ...], units: Any, form: str) -> None:  # noqa: ANN401
    """Print what is known of a pipe; TEXT names it: "7 in 29 lb/ft L-80", "5 in 19.5 lb/ft S-135"."""
    from schematic import verbs
    from schematic.catalogue.pipe import LookUpError
    from schematic.export import pipe_tables, tables

    try:
        found = verbs.pipe(" ".join(text))
    except LookUpError as error:
        _stop(str(error))
    system = units or found.system
    made = pipe_tables.tables_of(found, system)
    if form == "json":
        data = {**pipe_tables.as_data(found, system), "caution": CAUTION}
        click.echo(json.dumps(data, indent=2, ensure_ascii=False))
    elif form == "csv":
        click.echo(tables.as_csv(made, system), nl=False)
    else:
        click.echo("\n\n".join(tables.as_text(table, system) for table in made))


@commands.command()
def schema() -> None:
    """Print the JSON schema of a well file."""
    from schematic import verbs

    click.echo(json.dumps(verbs.schema(), indent=2))


@commands.command()
@click.argument("file", type=click.Path(), required=False)
@click.option("--port", type=click.IntRange(1, 65535), default=8501, show_default=True)
def app(file: str | None, port: int) -> None:
    """Open the app in the browser, with FILE if one is given; it listens on this machine only.

    What is changed in the app is kept in a draft beside FILE until it is saved.
    """
    import importlib.util
    import runpy
    import signal

    if importlib.util.find_spec("streamlit") is None:
        _stop("the app needs streamlit: pip install 'lapline[app]'")
    spec = importlib.util.find_spec("app")
    if spec is None or not spec.submodule_search_locations:
        _stop("the app is not installed beside the command")
    page = Path(spec.submodule_search_locations[0]) / "serve.py"
    os.environ.pop("LAPLINE_FILE", None)
    if file is not None:
        Path(file).open("rb").close()  # or it is said at once why it cannot be opened
        os.environ["LAPLINE_FILE"] = str(Path(file).absolute())
    # in this process, so that nothing is left behind when it is ended, and nothing in the working directory
    # is imported; the two safety switches stand in the app's config.toml as well
    sys.argv = ["streamlit", "run", str(page), f"--server.port={port}"]
    sys.argv += ["--server.address=127.0.0.1", "--browser.gatherUsageStats=false"]
    for sign in (signal.SIGINT, signal.SIGTERM):  # the server closes down, then hands the signal on
        signal.signal(sign, lambda *_: sys.exit(0))
    runpy.run_module("streamlit", run_name="__main__")
