"""The hook load on a step card: before and after with an arrow, or the load of each motion."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import THIN, wrap
from schematic.drawing.palette import BLACK, OUTLINE_MM
from schematic.drawing.scene import POINT_MM, Path, Shape, Style, Text
from schematic.drawing.step_items import LEAD, Block, Item, Print, paragraph, pieces, text_of
from schematic.drawing.text import width_mm
from schematic.job.card import Weight
from schematic.units import System, number, sentence_case, unit_of

_SIZES_PT = (30.0, 26.0, 22.0, 18.0, 14.0)
_MOTION_PTS = (18.0, 16.0, 14.0, 12.0, 10.0)
_WORD_PT = 8.0
_ARROW_MM = 13.0
_BESIDE_MM = 24.0  # kept for the words beside the figures
_MOST_BESIDE = 3  # lines


def force_words(force_n: float, system: System) -> str:
    """A hook load as a weight indicator shows it."""
    return number(force_n, "force", system, THIN).removesuffix(".0")


def weight_block(evaluation: Evaluation, weight: Weight, style: Print) -> Block:
    """Hook load before and after and the difference in words; or the load of each motion."""
    block_n = evaluation.plan.job.block_weight_n
    of_block = f", block {force_words(block_n, style.system)} included" if block_n is not None else ""
    title = f"Hook load, {unit_of('force', style.system)}{of_block}"
    said = [text_of(say, style.system) for say in weight.says]
    motion = [sentence_case(weight.motion)] if weight.motion else []
    items: list[Item] = []
    if weight.before_n is not None and weight.after_n is not None:
        beside = [*said[:1], *motion]
        made, used = _before_after(weight.before_n, weight.after_n, beside, style)
        items.append(made)
        said = beside[used:] + said[1:]
    elif weight.before_n is not None:
        word = weight.motion or "before"
        items.append(_motions([(word, force_words(weight.before_n, style.system))], style))
    elif weight.after_n is not None:
        items.append(_motions([("after", force_words(weight.after_n, style.system))], style))
        said = motion + said
    else:
        motions, said = _by_motion(weight, style.system)
        items += [_motions(motions, style)] if motions else []
        said = said if motions else motion + said
    for text in said:
        for lines in pieces(text, style.width_mm, style):
            items.append(paragraph([(line, False) for line in lines], style, after_mm=0.2))
    return Block(title, tuple(items))


def _by_motion(weight: Weight, system: System) -> tuple[list[tuple[str, str]], list[str]]:
    """Sentences that are a motion and its load, as words and figure; the others as they are."""
    motions, others = [], []
    for say in weight.says:
        figures = [one for one in say.figures.values() if not isinstance(one, str)]
        words, brace, rest = say.text.partition("{")
        plain = bool(brace) and rest.endswith("}") and "{" not in rest and words.strip()
        if plain and len(figures) == len(say.figures) == 1 and figures[0].kind == "force":
            motions.append((words.strip(), force_words(figures[0].si, system)))
        else:
            others.append(text_of(say, system))
    return motions, others


def _motions(motions: Sequence[tuple[str, str]], style: Print) -> Item:
    """Loads in large figures side by side, each over its motion; one alone beside it."""
    if len(motions) == 1:
        return _motion(*motions[0], style)
    each = style.width_mm / max(len(motions), 3)
    points = next(
        (p for p in _MOTION_PTS if all(width_mm(f, p, True) <= each - 2.0 for _w, f in motions)),
        _MOTION_PTS[-1],
    )
    words = [wrap(sentence_case(word), each - 2.0, size_pt=_WORD_PT) for word, _figure in motions]
    pitch, tall = _WORD_PT * POINT_MM * LEAD, points * POINT_MM

    def draw(left: float, top: float) -> list[Shape]:
        shapes: list[Shape] = []
        for n, ((_word, figure), lines) in enumerate(zip(motions, words, strict=True)):
            x = left + each * n
            shapes.append(Text(x, top + 0.8 * tall, figure, points, bold=True))
            for row, line in enumerate(lines):
                shapes.append(Text(x, top + tall + pitch * (row + 0.85), line, _WORD_PT))
        return shapes

    return Item(tall + pitch * max(len(lines) for lines in words) + 1.0, draw)


def _motion(word: str, figure: str, style: Print) -> Item:
    """A load in large figures, its motion beside it."""
    points = _MOTION_PTS[0]
    beside = width_mm(figure, points, True) + 3.0
    lines = wrap(sentence_case(word), style.width_mm - beside, size_pt=style.points)
    tall, pitch = points * POINT_MM, style.pitch_mm

    def draw(left: float, top: float) -> list[Shape]:
        base = top + 0.8 * tall
        return [
            Text(left, base, figure, points, bold=True),
            *(Text(left + beside, base + pitch * row, line, style.points) for row, line in enumerate(lines)),
        ]

    return Item(tall + pitch * (len(lines) - 1) + 1.0, draw)


def _before_after(before_n: float, after_n: float, beside: Sequence[str], style: Print) -> tuple[Item, int]:
    """The two loads with an arrow, and as many texts beside them as have room there; how many those are."""
    first, second = (force_words(value, style.system) for value in (before_n, after_n))

    def wide(points: float) -> float:
        return width_mm(first, points, True) + _ARROW_MM + width_mm(second, points, True)

    points = next((p for p in _SIZES_PT if wide(p) <= style.width_mm - _BESIDE_MM), _SIZES_PT[-1])
    tall, pitch = points * POINT_MM, style.pitch_mm
    start = width_mm(first, points, True) + 2.5
    end = start + 8.5
    edge = wide(points) + 4.0
    lines: list[tuple[str, bool]] = []
    used = 0
    for n, text in enumerate(beside):
        more = wrap(text, style.width_mm - edge, bold=n == 0, size_pt=style.points)
        if style.width_mm - edge < 18.0 or len(lines) + len(more) > _MOST_BESIDE:
            break
        lines += [(line, n == 0) for line in more]
        used += 1

    def draw(left: float, top: float) -> list[Shape]:
        base = top + 0.78 * tall
        level, x = base - 0.28 * tall, left + end
        tip = ((x, level), (x - 2.8, level - 1.0), (x - 2.8, level + 1.0))
        shaft = ((left + start, level), (x - 2.0, level))
        shapes: list[Shape] = [
            Text(left, base, first, points, bold=True),
            Path((shaft,), Style(stroke=BLACK, width_mm=OUTLINE_MM)),
            Path((tip,), Style(fill=BLACK), closed=True),
            Text(x + 2.0, base, second, points, bold=True),
        ]
        for row, (line, bold) in enumerate(lines):
            shapes.append(Text(left + edge, top + pitch * (row + 0.8), line, style.points, bold=bold))
        return shapes

    return Item(max(1.03 * tall, pitch * len(lines)) + 1.0, draw), used
