"""What stands around the drawing: head, findings, tables, legend, title block, caution."""

from __future__ import annotations

import string
from collections.abc import Sequence
from importlib.metadata import PackageNotFoundError, version

from schematic.checks.evaluate import Evaluation
from schematic.drawing import glyphs_liner, glyphs_well
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN, wrap
from schematic.drawing.column import JOB_DOT_MM, OLD_CEMENT, RING_MM
from schematic.drawing.fills import Rect, dots, hatch, straight_band
from schematic.drawing.frame import Frame, scale_words
from schematic.drawing.palette import (
    BLACK,
    FINE_MM,
    GREEN,
    GREY,
    HEAVY_MM,
    LIGHT_GREY,
    OUTLINE_MM,
    VERMILION,
    WHITE,
)
from schematic.drawing.scene import Dots, Group, Path, Shape, Style, Text
from schematic.drawing.section import Place
from schematic.drawing.text import width_mm
from schematic.drawing.tracks import unit_text
from schematic.export.report import counts, missing_inputs
from schematic.export.tables import (
    Cell,
    Table,
    cement_table,
    displacement_table,
    laps_table,
    slurry_table,
    tops_table,
)
from schematic.outcome import Figure, Found, Outcome, Severity, sentence
from schematic.units import System, in_system, number, sentence_case, show, size, unit_of

LEFT_MM, RIGHT_MM = 8.0, 202.0
MEDIUM_PT, LARGE_PT = 9.0, 16.0
FLAG_MM = 1.55
FINDINGS_MM = 110.2
FINDING_PITCH_MM = 3.9
MOST_FINDINGS = 10

CAUTION = "Planning aid. Competent, where required licensed, people verify every figure; local rules, operator procedures and maker ratings govern."  # noqa: E501
NOT_A_BASIS = "Not a basis for well-control, pressure-testing or lifting decisions."


def rule(
    y_mm: float, width_mm_: float, left: float = LEFT_MM, right: float = RIGHT_MM, colour: str = BLACK
) -> Path:
    """A level rule."""
    return Path((((left, y_mm), (right, y_mm)),), Style(stroke=colour, width_mm=width_mm_))


def fit(text: str, room_mm: float, size_pt: float = SMALL_PT, bold: bool = False) -> str:
    """A text, cut with an ellipsis where it does not fit; the whole of it stands elsewhere on the page."""
    if width_mm(text, size_pt, bold) <= room_mm:
        return text
    while text and width_mm(text + "\u2026", size_pt, bold) > room_mm:
        text = text[:-1]
    return text.rstrip() + "\u2026"


def head(evaluation: Evaluation, system: System) -> Group:
    """Name, subject, state; four key depths, figure above its word."""
    plan = evaluation.plan
    identity, depth = plan.identity, plan.depth
    host = depth.host
    name = size(host.od_m, system).removesuffix(" in")
    keys = (
        (number(depth.liner.top_md_m, "depth", system, THIN), "liner top"),
        (number(evaluation.laps.liner_top_m, "depth", system, THIN), "liner top to host shoe"),
        (number(host.shoe_md_m, "depth", system, THIN), f"host shoe, {name}"),
        (number(depth.liner.shoe_md_m, "depth", system, THIN), "liner shoe"),
    )
    shapes: list[Shape] = []
    right = RIGHT_MM
    for figure, word in reversed(keys):
        shapes.append(Text(right, 14.2, figure, LARGE_PT, bold=True, anchor="end"))
        shapes.append(Text(right, 19.3, word, anchor="end"))
        right -= max(width_mm(figure, LARGE_PT, True), width_mm(word, SMALL_PT)) + 6.0
    room = right - LEFT_MM
    shapes += _name(identity.name, room)
    liner_size = size(depth.liner.od_m, system)
    path = depth.path
    steepest = max(row[1] for row in path.stations)
    lean = (
        f" at {number(path.inclination_rad(depth.liner.top_md_m), 'angle', system)}\u00b0"
        if steepest > 0.09
        else ""
    )
    subject = f"{liner_size} {identity.purpose or 'liner'}{lean}: depth plan"
    if width_mm(subject, MEDIUM_PT) <= room:
        shapes.append(Text(LEFT_MM, 19.3, subject, MEDIUM_PT))
    else:
        lines = wrap(subject, room)[:2]
        shapes += [
            Text(LEFT_MM, 20.4 - PITCH_MM * (len(lines) - 1 - row), line) for row, line in enumerate(lines)
        ]
    state = identity.state.upper() + "."
    shapes.append(Text(LEFT_MM, 23.7, state, bold=True))
    drawn = "Drawn after the job" + (", excess reversed out" if evaluation.cement else "")
    if lean:
        drawn += ", straight along hole"
    shapes.append(Text(LEFT_MM + width_mm(state, SMALL_PT, True) + 1.2, 23.7, drawn + "."))
    datum = identity.datum
    where = (
        f"All depths: {unit_of('depth', system)} MD below {datum.name}, "
        f"{show(datum.height_m, 'depth', system, THIN)} above {datum.above}"
    )
    shapes.append(Text(RIGHT_MM, 23.7, fit(where, 110.0), anchor="end"))
    shapes.append(rule(25.3, HEAVY_MM))
    return Group("well", identity.name, tuple(shapes))


def _name(name: str, room_mm: float) -> list[Shape]:
    """The well's name as large as it fits: in one line, in two smaller ones, in three small ones."""
    if width_mm(name, LARGE_PT, True) <= room_mm:
        return [Text(LEFT_MM, 14.2, name, LARGE_PT, bold=True)]
    for size_pt, pitch, most in ((MEDIUM_PT, 3.9, 2), (SMALL_PT, PITCH_MM, 3)):
        lines = wrap(name, room_mm, bold=True, size_pt=size_pt)
        if len(lines) <= most:
            break
    lines = (*lines[:2], fit(" ".join(lines[2:]), room_mm, SMALL_PT, True)) if len(lines) > most else lines
    first = 15.0 - pitch * (len(lines) - 1)
    return [Text(LEFT_MM, first + pitch * row, line, size_pt, bold=True) for row, line in enumerate(lines)]


def column_heads(evaluation: Evaluation, frame: Frame, system: System) -> Group:
    """One line of heads over the well zone."""
    unit = unit_of("depth", system)
    y = 29.2
    shapes: list[Shape] = [
        Text(LEFT_MM, y, f"Depth, {unit}", bold=True),
        Text(26.8, y, "MD", bold=True, anchor="end"),
        Text(31.9, y, "TVD", bold=True),
        Text(41.8, y, "Strings, hole, cement", bold=True),
        Text(frame.axis_mm, y, "Well", bold=True, anchor="middle"),
        Text(
            FINDINGS_MM,
            y,
            fit(f"Findings: {counts(evaluation)}", RIGHT_MM - FINDINGS_MM, SMALL_PT, True),
            bold=True,
        ),
        rule(30.9, FINE_MM),
    ]
    return Group("", "column heads", tuple(shapes))


def letters(evaluation: Evaluation) -> list[tuple[str, Outcome]]:
    """Findings with their letters, in the order of the list."""
    names = [
        *string.ascii_lowercase,
        *(a + b for a in string.ascii_lowercase for b in string.ascii_lowercase),
    ]
    return list(zip(names, evaluation.findings, strict=False))


def flag(x_mm: float, y_mm: float, letter: str, found: Found) -> list[Shape]:
    """A letter in a ring: error filled with a black ring, warning a strong ring, advice a thin one."""
    if found.severity is Severity.ERROR:
        style = Style(stroke=BLACK, width_mm=OUTLINE_MM, fill=VERMILION)
    elif found.severity is Severity.WARNING:
        style = Style(stroke=VERMILION, width_mm=OUTLINE_MM, fill=WHITE)
    else:
        style = Style(stroke=VERMILION, width_mm=FINE_MM, fill=WHITE)
    bold = found.severity is not Severity.ADVICE
    return [
        Dots(((x_mm, y_mm),), FLAG_MM, style),
        Text(x_mm, y_mm + 0.78, letter, bold=bold, anchor="middle"),
    ]


def findings(evaluation: Evaluation, system: System, left_mm: float) -> tuple[list[Group], float, bool]:
    """The list of findings from the top of the well zone; where it ends; whether it goes on elsewhere."""
    found = letters(evaluation)
    shown = found if len(found) <= MOST_FINDINGS else found[: MOST_FINDINGS - 1]
    room = RIGHT_MM - left_mm - 5.0
    y = 34.6
    groups: list[Group] = []
    for letter, outcome in shown:
        answer = outcome.answer
        assert isinstance(answer, Found)
        text = sentence(answer.headline, answer.figures, system)
        if outcome.waived:
            text = f"{text}; waived by {outcome.waived.partition(':')[0]}"
        lines = wrap(sentence_case(text), room)
        shapes = [*flag(left_mm + FLAG_MM, y, letter, answer)]
        shapes += [Text(left_mm + 4.6, y + 0.8 + PITCH_MM * row, line) for row, line in enumerate(lines)]
        groups.append(Group(outcome.subject.path, text, tuple(shapes)))
        y += FINDING_PITCH_MM + PITCH_MM * (len(lines) - 1)
    notes: list[str] = []
    if len(shown) < len(found):
        notes.append(f"and {len(found) - len(shown)} more on sheet 2")
    if not found:
        passed = sum(type(outcome.answer).__name__ == "Passed" for outcome in evaluation.outcomes)
        notes.append(f"Nothing found; {passed} checks passed.")
    missing = missing_inputs(evaluation)
    if missing:
        names = ", ".join(readable(evaluation, name) for name, _count in missing[:4])
        more = f" and {len(missing) - 4} more" if len(missing) > 4 else ""
        notes.append(f"Not checked, input missing: {names}{more}.")
    if evaluation.missing:
        notes.append(
            "Not computed, input missing: "
            + ", ".join(name.replace(".", ", ") for name in evaluation.missing[:4])
            + "."
        )
    shapes = []
    for note in notes:
        for line in wrap(note, room):
            shapes.append(Text(left_mm + 4.6, y + 0.8, line, colour=GREY))
            y += PITCH_MM + 0.25
    groups.append(Group("", "not checked", tuple(shapes)))
    return groups, y, len(shown) < len(found)


def readable(evaluation: Evaluation, path: str) -> str:
    """A missing input by the name of its part, where a path would only give a number."""
    for part in evaluation.plan.depth.liner.parts:
        if path.startswith(part.path + "."):
            return f"{path.removeprefix(part.path + '.')} of {part.name}"
    return path.removeprefix("strings.").replace(".", ", ")


def table_block(
    table: Table,
    system: System,
    x_mm: float,
    y_mm: float,
    width_mm_: float,
    columns: Sequence[int],
    most_rows: int,
) -> list[Shape]:
    """A small table without frames: title bold, heads grey, figures right-set."""
    units = dict.fromkeys(unit_text(table.columns[i].kind, system) for i in columns if table.columns[i].kind)
    shapes: list[Shape] = [Text(x_mm, y_mm, ", ".join([table.title, *units]), bold=True)]
    rows = table.rows[:most_rows]
    figures = [i for i in columns if any(isinstance(row[i], Figure) for row in table.rows)]
    words = [i for i in columns if any(isinstance(row[i], str) for row in table.rows)]

    def heading(i: int) -> str:
        return table.columns[i].head.replace(" MD", "").replace("sacks, 94 lb", "sacks")

    def printed(i: int, row: tuple[Cell, ...]) -> str:
        cell = row[i]
        return number(cell.si, cell.kind, system, THIN) if isinstance(cell, Figure) else cell or ""

    edges: dict[int, float] = {}
    edge = x_mm + width_mm_
    for i in reversed(figures):
        edges[i] = edge
        widest = max(width_mm(text, SMALL_PT) for text in (heading(i), *(printed(i, row) for row in rows)))
        edge -= widest + 2.6
    slot = (edge - x_mm) / max(len(words), 1)
    y = y_mm + PITCH_MM + 0.5
    for i, right in edges.items():
        shapes.append(Text(right, y, heading(i), colour=GREY, anchor="end"))
    for row in rows:
        y += PITCH_MM + 0.1
        for n, i in enumerate(words):
            free = slot
            if len(words) == 1:  # a name may run on under empty columns
                first = next((j for j in figures if row[j] is not None), None)
                if first is not None:
                    free = edges[first] - width_mm(printed(first, row), SMALL_PT) - 1.2 - x_mm
            shapes.append(Text(x_mm + slot * n, y, fit(printed(i, row), free)))
        for i in figures:
            if row[i] is not None:
                shapes.append(Text(edges[i], y, printed(i, row), anchor="end"))
    if len(table.rows) > most_rows:
        y += PITCH_MM + 0.1
        shapes.append(
            Text(x_mm, y, f"and {len(table.rows) - most_rows} more in 'lapline volumes'", colour=GREY)
        )
    return shapes


def job_tables(evaluation: Evaluation, system: System, top_mm: float) -> list[Group]:
    """Zone of details: laps and tops, cement by section, slurries and displacement."""
    y = top_mm + 3.6
    groups = [
        Group(
            "liner.lap",
            "Laps",
            tuple(table_block(laps_table(evaluation), system, LEFT_MM, y, 56.0, (0, 1), 3)),
        )
    ]
    tops = tops_table(evaluation)
    if tops:
        shapes = table_block(tops, system, LEFT_MM, y + 18.5, 56.0, (0, 1, 2), 3)
        groups.append(Group("cement.planned top", "Top of cement", tuple(shapes)))
    sections = cement_table(evaluation)
    if sections:
        groups.append(
            Group(
                "cement",
                "Cement by section",
                tuple(table_block(sections, system, 71.0, y, 66.0, (0, 2, 3, 4, 5), 13)),
            )
        )
    else:
        groups.append(
            Group(
                "cement",
                "Cement",
                (
                    Text(71.0, y, "Cement by section", bold=True),
                    *(
                        Text(71.0, y + PITCH_MM * (row + 1) + 0.5, line, colour=GREY)
                        for row, line in enumerate(
                            wrap(
                                "not computed, input missing: "
                                + ", ".join(name.replace(".", ", ") for name in evaluation.missing),
                                64.0,
                            )
                        )
                    ),
                ),
            )
        )
    slurries = slurry_table(evaluation)
    if slurries:
        groups.append(
            Group("cement", "Slurries", tuple(table_block(slurries, system, 144.0, y, 58.0, (0, 1, 2, 3), 7)))
        )
    displaced = displacement_table(evaluation)
    if displaced:
        groups.append(
            Group(
                "cement",
                "Displacement",
                tuple(table_block(displaced, system, 144.0, y + 30.0, 58.0, (0, 1, 2), 4)),
            )
        )
    uprights = tuple(((x, top_mm + 1.0), (x, top_mm + 51.0)) for x in (67.5, 140.5))
    groups.append(Group("", "details", (Path(uprights, Style(stroke=LIGHT_GREY, width_mm=FINE_MM)),)))
    return groups


def remarks(evaluation: Evaluation, top_mm: float, left_mm: float, width: float, most: int) -> Group:
    """What was assumed, and what counts as something else: the sheet's honesty in words."""
    texts = [*evaluation.plan.assumptions, *evaluation.volumes.notes]
    liner = evaluation.plan.depth.liner
    if liner.assembly_assumed or any(part.length_assumed for part in liner.parts):
        texts.append("a length after \u2248 is assumed")
    shapes: list[Shape] = [Text(left_mm, top_mm, "Assumed or not given", bold=True)]
    lines: list[str] = []
    for text in texts or ["nothing"]:
        lines += wrap(sentence_case(text) + ".", width)
    if len(lines) > most:
        lines = [*lines[: most - 1], "more in 'lapline check'"]
    shapes += [Text(left_mm, top_mm + 0.4 + PITCH_MM * (row + 1), line) for row, line in enumerate(lines)]
    return Group("", "assumed", tuple(shapes))


def legend(evaluation: Evaluation, top_mm: float, left_mm: float) -> Group:
    """Samples of what this page uses and no label names."""
    plan = evaluation.plan
    shapes: list[Shape] = [Text(left_mm, top_mm, "Legend", bold=True)]
    entries: list[tuple[str, list[Shape]]] = []
    w, h = 5.6, 3.4

    def sample(words: str, made: list[Shape]) -> None:
        entries.append((words, made))

    def at(index: int) -> tuple[float, float]:
        return left_mm + 32.0 * (index % 2), top_mm + 2.2 + 4.9 * (index // 2)

    def box() -> Rect:
        x, y = at(len(entries))
        return Rect(x, y, x + w, y + h)

    r = box()
    middle = 0.5 * (r.left_mm + r.right_mm)
    sample(
        "casing in place, shoe",
        [
            *glyphs_well.casing(Place(middle, r.top_mm, r.bottom_mm), 1.4, 0.8),
            *glyphs_well.casing_shoe(middle, r.bottom_mm, 1.4, 1.6, 3.0),
        ],
    )
    r = box()
    middle = 0.5 * (r.left_mm + r.right_mm)
    sample(
        "liner of this plan",
        list(glyphs_liner.joints(Place(middle, r.top_mm, r.bottom_mm), 1.4, 0.85, 1.7, (r.top_mm + 1.7,))),
    )
    if any(s.cement_top_md_m is not None for s in plan.depth.strings):
        r = box()
        sample(
            "cement in place", [Dots(dots(straight_band(r), *OLD_CEMENT), OLD_CEMENT[1], Style(fill=BLACK))]
        )
    if evaluation.cement:
        r = box()
        words = "lead above, tail below" if len(plan.cement.slurries) == 2 else "cement of this job"
        sample(words, [Dots(dots(straight_band(r), 0.66, JOB_DOT_MM), JOB_DOT_MM, Style(fill=GREEN))])
        planned = plan.cement.planned_top_md_m
        if planned is not None and planned < plan.depth.liner.top_md_m:
            r = box()
            ring = Style(stroke=GREEN, width_mm=FINE_MM)
            sample(
                "cement, reversed out",
                [Dots(dots(straight_band(r), 1.0, RING_MM, clear_mm=0.0), RING_MM, ring)],
            )
    if any(
        abs(a - b) > 1e-6
        for a, b in zip(plan.depth.hole.diameter_m.values, plan.depth.hole.gauge_m.values, strict=True)
    ):
        r = box()
        wall = glyphs_well.hole_wall(
            r.left_mm + 2.2, (glyphs_well.HoleStep(r.top_mm, r.bottom_mm, 0.0, True),), 1
        )
        outline = (*wall, (r.left_mm + 4.6, r.bottom_mm), (r.left_mm + 4.6, r.top_mm))
        sample(
            "hole wider than bit",
            [
                Path(hatch(outline, 1.15, rising=True), Style(stroke=GREY, width_mm=FINE_MM)),
                Path((wall,), Style(stroke=BLACK, width_mm=OUTLINE_MM)),
            ],
        )
    if evaluation.findings:
        r = box()
        answer = evaluation.findings[0].answer
        assert isinstance(answer, Found)
        sample(f"{answer.severity.value}, listed above", flag(r.left_mm + 2.8, r.top_mm + 1.7, "a", answer))
    if plan.cement.planned_top_md_m is not None:
        r = box()
        dash = Style(stroke=GREEN, width_mm=OUTLINE_MM, dash=(1.2, 0.6))
        sample("planned top", [Path((((r.left_mm, r.top_mm + 1.7), (r.right_mm, r.top_mm + 1.7)),), dash)])
    for index, (words, made) in enumerate(entries):
        x, y = at(index)
        shapes += made
        shapes.append(Text(x + w + 1.4, y + 2.5, words))
    return Group("", "legend", tuple(shapes))


def job_numbers(
    evaluation: Evaluation, system: System, top_mm: float, left_mm: float, right_mm: float
) -> Group:
    """Job numbers that the plan states or that were computed, figure to the right."""
    plan, cement, displaced = evaluation.plan, evaluation.cement, evaluation.displacement
    rows: list[tuple[str, str]] = []

    def row(name: str, si: float | None, kind: str) -> None:
        if si is not None:
            rows.append((name, show(si, kind, system, THIN).replace("m3", "m\u00b3")))

    if displaced:
        row("displacement to bump", displaced.to_bump_m3, "volume")
    if cement:
        sacks = sum(s.sacks for s in cement.slurries if s.sacks is not None)
        row(
            f"cement, {sacks:.0f} sacks" if sacks and system == "field" else "cement",
            cement.total_m3,
            "volume",
        )
        excess = plan.cement.open_hole_excess
        row(
            f"of it excess, {show(excess or 0.0, 'percent', system)} of open hole", cement.excess_m3, "volume"
        )
        water = [s.mix_water_m3 for s in cement.slurries]
        if water and all(w is not None for w in water):
            row("mix water", sum(w for w in water if w is not None), "volume")
        row("to reverse out, no loss", cement.above_liner_top_m3, "volume")
    row("packer set down", plan.job.packer_set_down_n, "force")
    row("hanger rating", plan.job.hanger_rating_n, "force")
    for test in plan.job.tests:
        row(f"test: {test.name}", test.surface_pressure_pa, "pressure")
    shapes: list[Shape] = [Text(left_mm, top_mm, "Job", bold=True)]
    for index, (name, figure) in enumerate(rows[:9]):
        y = top_mm + 0.4 + PITCH_MM * (index + 1)
        shapes.append(
            Text(left_mm, y, fit(name, right_mm - left_mm - width_mm(figure, SMALL_PT, True) - 1.5))
        )
        shapes.append(Text(right_mm, y, figure, bold=True, anchor="end"))
    return Group("", "job", tuple(shapes))


def _version() -> str:
    try:
        return version("lapline")
    except PackageNotFoundError:
        return "not installed"


def _in_lines(words: Sequence[str], room_mm: float) -> tuple[str, ...]:
    """Phrases joined into as few lines as their room allows."""
    lines: list[str] = []
    for word in words:
        if lines and width_mm(f"{lines[-1]} {word}", SMALL_PT) <= room_mm:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return tuple(lines)


def title_block(evaluation: Evaluation, frame: Frame, system: System, top_mm: float, page: str) -> Group:
    """Four columns of four lines, then the caution."""
    identity, depth = evaluation.plan.identity, evaluation.plan.depth
    datum, revision = identity.datum, identity.revision
    last = size(depth.hole.sections[-1].bit_m, system)
    ground = "Seabed" if datum.water_depth_m is not None else "Ground"
    below = (
        show(datum.ground_md_m, "depth", system, THIN) + " below datum"
        if datum.ground_md_m is not None
        else "not given"
    )
    units = ", ".join(
        dict.fromkeys(
            unit_text(k, system) for k in ("depth", "diameter", "volume", "pressure", "density", "force")
        )
    )
    block = show(100 * 0.3048, "depth", "field") if system == "field" else "100 m"
    depth_lines = _in_lines([*scale_words(frame), f"blocks {block}"], 38.0)
    issue = (
        f"{revision.number} of {revision.date}"
        if revision and revision.date
        else revision.number
        if revision
        else "none"
    )
    columns = (
        (
            8.0,
            20.5,
            57.5,
            (
                ("Well", identity.name),
                ("Section", f"{size(depth.liner.od_m, system)} in {last} hole"),
                ("Status", f"{identity.state.upper()}, {counts(evaluation).removesuffix(', 0 advice')}"),
                ("Revision", issue),
            ),
        ),
        (
            59.5,
            70.5,
            109.5,
            (
                ("Depths", f"{unit_of('depth', system)}, MD and TVD"),
                ("Datum", f"{show(datum.height_m, 'depth', system, THIN)} above {datum.above}"),
                (ground, below),
                ("Units", units),
            ),
        ),
        (
            112.0,
            126.0,
            164.0,
            (
                ("Diameters", f"1:{frame.ratio} everywhere"),
                *(("Depth" if index == 0 else "", line) for index, line in enumerate(depth_lines[:3])),
            ),
        ),
        (
            167.0,
            180.5,
            RIGHT_MM,
            (
                ("Prepared", revision.by if revision else ""),
                ("Checked", revision.checked_by if revision else ""),
                ("Approved", revision.approved_by if revision else ""),
                ("File", f"{identity.file_hash}, v{_version()}"),
            ),
        ),
    )
    shapes: list[Shape] = [rule(top_mm, HEAVY_MM)]
    for left, at, right, rows in columns:
        for index, (word, value) in enumerate(rows):
            y = top_mm + 3.4 + 2.9 * index
            shapes.append(Text(left, y, word, colour=GREY))
            if value:
                bold = word == "Well"
                shapes.append(Text(at, y, fit(value, right - at, SMALL_PT, bold), bold=bold))
            elif word in ("Prepared", "Checked", "Approved"):
                shapes.append(rule(y + 0.5, FINE_MM, at, right, LIGHT_GREY))
    shapes.append(rule(top_mm + 13.6, FINE_MM))
    shapes.append(Text(LEFT_MM, top_mm + 16.6, fit(CAUTION, 194.0, SMALL_PT, True), bold=True))
    notes = [NOT_A_BASIS]
    if frame.kind == "fitted":
        notes.append("Short parts are drawn taller than they are.")
    tubes = [(depth.liner.od_m, depth.liner.id_m), *((s.od_m, s.id_m) for s in depth.strings)]
    if any(frame.r(od) - frame.r(bore) < OUTLINE_MM for od, bore in tubes):
        notes.append("Walls under 0.35 mm are drawn 0.35 mm.")
    shapes.append(Text(LEFT_MM, top_mm + 19.4, " ".join(notes)))
    shapes.append(Text(RIGHT_MM, top_mm + 19.4, page, anchor="end"))
    return Group("", "title block", tuple(shapes))
