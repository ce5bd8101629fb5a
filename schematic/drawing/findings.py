"""The findings on the sheet: their letters, list and flags, and what could not be checked."""

from __future__ import annotations

import string
from itertools import chain

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, THIN, wrap
from schematic.drawing.palette import BLACK, FINE_MM, GREY, OUTLINE_MM, VERMILION, WHITE
from schematic.drawing.scene import Dots, Group, Shape, Style, Text
from schematic.export.report import in_words, missing_inputs, not_computed
from schematic.outcome import Found, Outcome, Severity, sentence
from schematic.units import System, sentence_case

FLAG_MM = 1.55
SETTING = "installation"  # the subject of findings about the setting pressures
FINDING_PITCH_MM = 3.9


def letters(evaluation: Evaluation) -> list[tuple[str, Outcome]]:
    """Findings with their letters, in the order of the list."""
    alphabet = string.ascii_lowercase
    names = chain(alphabet, (first + second for first in alphabet for second in alphabet))
    return list(zip(names, evaluation.findings, strict=False))


def at_md_m(evaluation: Evaluation, outcome: Outcome) -> float | None:
    """Where a finding is flagged in the well: at its own depth, or in the middle of its slurry."""
    found = outcome.answer
    if isinstance(found, Found) and found.at_md_m:
        return found.at_md_m[0]
    sections = evaluation.cement.sections if evaluation.cement else ()
    own = [one for one in sections if f"fluids.{one.slurry}" == outcome.subject.path]
    longest = max(own, key=lambda one: one.bottom_md_m - one.top_md_m, default=None)
    return 0.5 * (longest.top_md_m + longest.bottom_md_m) if longest else None


def place_words(evaluation: Evaluation, outcome: Outcome) -> str:
    """Where the letter of a finding stands that has no depth of its own; nothing for one that has."""
    if isinstance(outcome.answer, Found) and outcome.answer.at_md_m:
        return ""
    if outcome.subject.path.startswith("fluids."):
        well = "" if at_md_m(evaluation, outcome) is None else f"beside the {outcome.subject.name} and "
        return f"flagged {well}in the table of fluids"
    if outcome.subject.path == SETTING and evaluation.job.setting.bands:
        return "flagged at the setting pressures"
    return "not flagged: it has no depth"


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


def findings(
    evaluation: Evaluation, system: System, left_mm: float, right_mm: float, most: int
) -> tuple[list[Group], float]:
    """The list of findings from the top of the well zone, the worst first, and where it ends."""
    found = letters(evaluation)
    shown = found if len(found) <= most else found[: most - 1]
    room = right_mm - left_mm - 5.0
    y = 34.6
    groups: list[Group] = []
    for letter, outcome in shown:
        answer = outcome.answer
        assert isinstance(answer, Found)
        text = sentence(answer.headline, answer.figures, system, THIN)
        if outcome.waived:
            text = f"{text}; waived by {outcome.waived_by}"
        if place := place_words(evaluation, outcome):
            text = f"{text}; {place}"
        lines = wrap(sentence_case(text), room)
        shapes = [*flag(left_mm + FLAG_MM, y, letter, answer)]
        shapes += [Text(left_mm + 4.6, y + 0.8 + PITCH_MM * row, line) for row, line in enumerate(lines)]
        groups.append(Group(outcome.subject.path, text, tuple(shapes)))
        y += FINDING_PITCH_MM + PITCH_MM * (len(lines) - 1)
    notes: list[str] = []
    if len(shown) < len(found):
        notes.append(f"and {len(found) - len(shown)} more in the notes")
    if not found:
        passed = sum(type(outcome.answer).__name__ == "Passed" for outcome in evaluation.outcomes)
        notes.append(f"Nothing found; {passed} checks passed.")
    missing = missing_inputs(evaluation)
    if missing:
        names = in_words(evaluation, [name for name, _count in missing[:4]])
        more = f" and {len(missing) - 4} more" if len(missing) > 4 else ""
        notes.append(f"Not checked, input missing: {names}{more}.")
    if lacking := not_computed(evaluation):
        notes.append(f"Not computed: {'; '.join(lacking[:3])}.")
    shapes = []
    for note in notes:
        for line in wrap(note, room):
            shapes.append(Text(left_mm + 4.6, y + 0.8, line, colour=GREY))
            y += PITCH_MM + 0.25
    groups.append(Group("", "not checked", tuple(shapes)))
    return groups, y
