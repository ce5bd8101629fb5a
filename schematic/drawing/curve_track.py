"""What tracks of curves share: an axis of round figures, light lines, and the depths that are shown."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from schematic.drawing.captions import PITCH_MM, SMALL_PT
from schematic.drawing.frame import Frame
from schematic.drawing.grid import Span
from schematic.drawing.palette import FINE_MM, GREY, LIGHT_GREY
from schematic.drawing.scene import Path, Point, Shape, Style, Text
from schematic.drawing.text import width_mm

_INSET_MM = (2.0, 2.8)  # half of the first and the last figure
_CLEAR_MM = 0.6  # from the first and the last figure to the columns beside it
_STEPS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 50.0, 100.0, 200.0, 500.0)
_ANGLES, _OVER = (5.0, 10.0, 15.0, 30.0, 45.0, 90.0), 1.04


class Axis(NamedTuple):
    """A scale across a track: values in the unit that is printed."""

    low: float
    high: float
    left_mm: float
    right_mm: float
    head_mm: float
    top_mm: float
    bottom_mm: float
    step: float

    def x(self, value: float) -> float:
        """Where a value stands; what is beyond the axis stands at its end."""
        share = (min(max(value, self.low), self.high) - self.low) / (self.high - self.low)
        return self.left_mm + share * (self.right_mm - self.left_mm)


def axis(
    values: Sequence[float], frame: Frame, column_mm: Span, head_mm: float, *, from_nought: bool
) -> Axis:
    """An axis over all values whose figures do not touch."""
    least, most = (0.0 if from_nought else min(values)), max(values)
    for step in _STEPS:
        low, high = least // step * step, (most // step + (1 if most % step > 1e-9 else 0)) * step
        high = high if high > low else low + step
        widest = max(
            width_mm(_figure(low + n * step), SMALL_PT) for n in range(round((high - low) / step) + 1)
        )
        beside = 0.5 * widest + _CLEAR_MM
        left, right = column_mm[0] + max(_INSET_MM[0], beside), column_mm[1] - max(_INSET_MM[1], beside)
        if (right - left) * step / (high - low) >= widest + 0.9:
            break
    top = head_mm + PITCH_MM + 1.4
    return Axis(low, high, left, right, head_mm, top, frame.scale.levels_mm[-1], step)


def angle_axis(most: float, frame: Frame, column_mm: Span, head_mm: float) -> Axis:
    """An axis of degrees from nought to a little over the most: its figures are parts of a right angle."""
    left, right = column_mm[0] + _INSET_MM[0], column_mm[1] - _INSET_MM[1]
    high = _OVER * most
    for step in _ANGLES:
        if (right - left) * step / high >= width_mm("90", SMALL_PT) + 0.9:
            break
    return Axis(0.0, high, left, right, head_mm, head_mm + PITCH_MM + 1.4, frame.scale.levels_mm[-1], step)


def drawn_axis(made: Axis, title: str, *, lines: bool = True) -> list[Shape]:
    """Title, figures and light upright lines, where the curve needs them."""
    shapes: list[Shape] = [Text(made.left_mm - 1.2, made.head_mm, title, bold=True)]
    runs: list[tuple[Point, ...]] = []
    for n in range(int((made.high - made.low) / made.step + 1e-6) + 1):
        value = made.low + n * made.step
        at = made.x(value)
        runs.append(((at, made.top_mm), (at, made.bottom_mm)))
        shapes.append(Text(at, made.head_mm + PITCH_MM, _figure(value), colour=GREY, anchor="middle"))
    return [Path(tuple(runs), Style(stroke=LIGHT_GREY, width_mm=FINE_MM)), *shapes] if lines else shapes


def _figure(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def shown_md_m(frame: Frame, made: Axis) -> tuple[float, float]:
    """Measured depths between which a track has room: below its head, above the end of the scale."""
    levels = frame.scale.levels_mm
    return frame.scale.md_m(min(max(made.top_mm, levels[0]), levels[-1])), frame.scale.bottom_md_m
