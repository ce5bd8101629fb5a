"""Benchmarks, apart from the tests: prints times and ratios of one run. ``python -m tests.benchmark``.

Nothing here fails: a timing is never a test.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from schematic import evaluate, load, resolve
from schematic.units import parse
from schematic.verbs import render, sheet
from schematic.wellfile.read import Document

WELL = Path(__file__).parent.parent / "wells" / "brindlewick-4.yaml"
COMMAND = "from schematic.cli import main; main()"


def best_s(run: Callable[[], object], times: int) -> float:
    """The quickest of some runs: what the machine can do when nothing else wants it."""
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        spent.append(time.perf_counter() - start)
    return min(spent)


def median_s(run: Callable[[], object], times: int) -> float:
    """The median of some runs after one that does not count."""
    run()
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        spent.append(time.perf_counter() - start)
    return statistics.median(spent)


def cold(*arguments: str) -> Callable[[], object]:
    """A run of a fresh interpreter."""
    return lambda: subprocess.run([sys.executable, *arguments], check=False, capture_output=True)


def with_lap(document: Document, lap: str) -> Document:
    """The same well with another lap, without reading the file again."""
    liner = document.content.liner.model_copy(update={"lap": parse(lap, "length")})
    return replace(document, content=document.content.model_copy(update={"liner": liner}))


def main() -> None:
    """Print all ratios."""
    bare = best_s(cold("-c", "import pydantic, yaml, click"), 15)
    check = best_s(cold("-c", COMMAND, "check", str(WELL)), 15)
    print(
        f"cold check {check * 1e3:.0f} ms / bare interpreter with pydantic, yaml, click {bare * 1e3:.0f} ms"
        f" = {check / bare:.2f} (goal 2)"
    )
    document = load(WELL)
    once = median_s(lambda: evaluate(resolve(document)), 300)
    print(f"resolve + evaluate, warm: {once * 1e3:.2f} ms, ratio to goal of 1 ms {once / 1e-3:.2f}")
    laps = [with_lap(document, f"{300 + index * 0.5} ft") for index in range(300)]
    start = time.perf_counter()
    for variant in laps:
        evaluate(resolve(variant))
    rate = len(laps) / (time.perf_counter() - start)
    print(
        f"options of which only the lap varies: {rate:.0f} a second, ratio to goal of 2000 {rate / 2000:.2f}"
    )
    evaluation = evaluate(resolve(document))
    drawn = median_s(lambda: render(sheet(evaluation), ".svg"), 20)
    layout = median_s(lambda: sheet(evaluation), 20)
    print(
        f"SVG of the sheet, warm: {drawn * 1e3:.1f} ms, of it layout {layout * 1e3:.1f} ms, "
        f"ratio to goal of 30 ms {drawn / 30e-3:.2f}"
    )


if __name__ == "__main__":
    main()
