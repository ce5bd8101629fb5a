"""The title block: identity and state, depth and units, scales, signatures; then the caution."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.metadata import PackageNotFoundError, version

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import CHANGED, Datum, Revision
from schematic.drawing.captions import SMALL_PT, THIN, height_words
from schematic.drawing.frame import Frame, block_m, scale_words
from schematic.drawing.grid import Paper
from schematic.drawing.page import LEFT_MM, fit, fit_before, rule, unit_text
from schematic.drawing.palette import FINE_MM, GREY, HEAVY_MM, LIGHT_GREY, OUTLINE_MM
from schematic.drawing.scene import Group, Shape, Text
from schematic.drawing.text import width_mm
from schematic.export.around import liner_stands
from schematic.export.report import status
from schematic.units import System, show, size, unit_of

CAUTION = (
    "Planning aid. Competent, where required licensed, people verify every figure; local rules, operator "
    "procedures and maker ratings govern."
)
_FIRST_MM = 50.3  # for what the first column says
NOT_A_BASIS = "Not a basis for well-control, pressure-testing or lifting decisions."

try:
    _VERSION = version("lapline")
except PackageNotFoundError:
    _VERSION = "not installed"


def _status(evaluation: Evaluation, room_mm: float) -> str:
    """The state, how many findings of each severity there are and how many inputs are missing; where that is
    too long without the inputs, else how many findings in all.
    """
    state, told = evaluation.plan.identity.state.upper(), status(evaluation)
    ways = [f"{state}, {told}"]
    if evaluation.findings:
        ways += [f"{state}, {told.rpartition(', ')[0]}", f"{state}, {len(evaluation.findings)} findings"]
    return next((way for way in ways if width_mm(way, SMALL_PT) <= room_mm), ways[-1])


def _section(evaluation: Evaluation, system: System, room_mm: float) -> str:
    """The liner and what it stands in, in fewer words where the others have no room."""
    liner = f"{size(evaluation.plan.depth.liner.od_m, system)} liner"
    told = f"{liner} {liner_stands(evaluation, system)}"
    if width_mm(told, SMALL_PT) <= room_mm:
        return told
    return f"{liner} {liner_stands(evaluation, system, short=True)}"


def _height(datum: Datum, system: System, room_mm: float) -> str:
    """How high the datum is, in fewer words where the others have no room."""
    words = height_words(datum, system)
    return words if datum.height_m is not None or width_mm(words, SMALL_PT) <= room_mm else "height not given"


def _issue(revision: Revision | None, room_mm: float) -> str:
    """Which revision it is, and whether the well is another one since."""
    if revision is None:
        return "none"
    return fit_before(revision.number, f", {CHANGED}", room_mm) if revision.changed else revision.issue


def _in_lines(words: Sequence[str], room_mm: float) -> tuple[str, ...]:
    """Phrases joined into as few lines as their room allows."""
    lines: list[str] = []
    for word in words:
        if lines and width_mm(f"{lines[-1]} {word}", SMALL_PT) <= room_mm:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return tuple(lines)


def title_block(
    evaluation: Evaluation,
    frame: Frame | None,
    system: System,
    paper: Paper,
    page: str,
    *,
    scaled: bool = True,
) -> Group:
    """Four columns of four lines, then the caution; scales only where a well is drawn.

    With *scaled* a page without a well points to the first, which has one.
    """
    top_mm, right_mm = paper.title_mm, paper.right_mm
    wider = (right_mm - LEFT_MM) / 194.0
    identity, depth = evaluation.plan.identity, evaluation.plan.depth
    datum, revision = identity.datum, identity.revision
    ground = "Seabed" if datum.water_depth_m is not None else "Ground"
    below = (
        show(datum.ground_md_m, "depth", system, THIN) + " below datum"
        if datum.ground_md_m is not None
        else "not given"
    )
    path = "MD and TVD" if depth.survey_given else "no survey: TVD taken as MD"
    units = ", ".join(
        dict.fromkeys(
            unit_text(k, system) for k in ("depth", "diameter", "volume", "pressure", "density", "force")
        )
    )
    scales: tuple[tuple[str, str], ...] = (("Scales", "see sheet 1"),) if scaled else ()
    if frame is not None:
        block = show(block_m(system, frame.scale.bottom_md_m), "depth", system, THIN)
        lines = _in_lines([*scale_words(frame), f"blocks {block}"], 36.5 * wider)
        scales = (
            ("Diameters", f"1:{frame.ratio} in the column"),
            *(("Depth" if index == 0 else "", line) for index, line in enumerate(lines[:3])),
        )
    columns = (
        (
            8.0,
            18.7,
            18.7 + _FIRST_MM,
            (
                ("Well", identity.name),
                ("Section", _section(evaluation, system, _FIRST_MM * wider)),
                ("Status", _status(evaluation, _FIRST_MM * wider)),
                ("Revision", _issue(revision, _FIRST_MM * wider)),
            ),
        ),
        (
            70.0,
            79.6,
            116.4,
            (
                ("Depths", f"{unit_of('depth', system)}, {path}"),
                ("Datum", _height(datum, system, 36.5 * wider)),
                (ground, below),
                ("Units", units),
            ),
        ),
        (
            117.5,
            130.5,
            167.0,
            scales,
        ),
        (
            168.0,
            181.0,
            202.0,
            (
                ("Prepared", revision.by if revision else ""),
                ("Checked", revision.checked_by if revision else ""),
                ("Approved", revision.approved_by if revision else ""),
                ("File", f"{identity.file_hash}, v{_VERSION}"),
            ),
        ),
    )
    shapes: list[Shape] = [rule(top_mm, HEAVY_MM, right=right_mm)]
    for start, value_at, end, rows in columns:
        left = LEFT_MM + (start - LEFT_MM) * wider
        at, right = left + value_at - start, LEFT_MM + (end - LEFT_MM) * wider
        for index, (word, value) in enumerate(rows):
            y = top_mm + 3.4 + 2.9 * index
            if word:
                shapes.append(Text(left, y, word, colour=GREY))
            if value:
                bold = word == "Well"
                shapes.append(Text(at, y, fit(value, right - at, SMALL_PT, bold), bold=bold))
            elif word in ("Prepared", "Checked", "Approved"):
                shapes.append(rule(y + 0.5, FINE_MM, left=at, right=right, colour=LIGHT_GREY))
    shapes.append(rule(top_mm + 13.6, FINE_MM, right=right_mm))
    shapes.append(Text(LEFT_MM, top_mm + 16.6, fit(CAUTION, right_mm - LEFT_MM, SMALL_PT, True), bold=True))
    notes = [NOT_A_BASIS]
    if frame is not None and frame.kind == "fitted":
        notes.append("Short parts are drawn taller than they are.")
    tubes = [(depth.liner.od_m, depth.liner.id_m), *((s.od_m, s.id_m) for s in depth.strings)]
    if frame is not None and any(frame.r(od) - frame.r(bore) < OUTLINE_MM for od, bore in tubes):
        notes.append("Walls under 0.35 mm are drawn 0.35 mm.")
    shapes.append(Text(LEFT_MM, top_mm + 19.4, " ".join(notes)))
    shapes.append(Text(right_mm, top_mm + 19.4, page, anchor="end"))
    return Group("", "title block", tuple(shapes))
