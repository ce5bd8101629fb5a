"""Benchmarks, apart from the tests: prints times and ratios of one run. ``python -m tests.benchmark``.

Nothing here fails: a timing is never a test.
"""

from __future__ import annotations

import contextlib
import math
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

from schematic import evaluate, load, resolve
from schematic.batch import cores, draw_many
from schematic.checks.evaluate import Evaluation
from schematic.drawing.side_by_side import options_sheet
from schematic.drawing.step_card import cards_sheet
from schematic.job.steps import cards
from schematic.units import parse
from schematic.verbs import demos, load_text, options, render, sheet
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import Document, read_text

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


def medians_s(times: int, *runs: Callable[[], object]) -> list[float]:
    """The medians of runs that take turns, so that a slow moment of the machine meets all of them."""
    spent: list[list[float]] = [[] for _ in runs]
    for turn in range(times + 1):
        for run, its in zip(runs, spent, strict=True):
            start = time.perf_counter()
            run()
            if turn:  # the first does not count
                its.append(time.perf_counter() - start)
    return [statistics.median(its) for its in spent]


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
        f"ratio to goal of 50 ms {drawn / 50e-3:.2f}"
    )
    against_bare_library(evaluation)
    installation(evaluation)
    bound_program()
    twenty_options()
    batch_of_wells()
    million_steps()
    growth()
    broken_files()


def against_bare_library(evaluation: Evaluation) -> None:
    """Writing the sheet as SVG against svgwrite writing the same elements, their values ready-made texts."""
    import svgwrite

    pages = sheet(evaluation)
    roots = [ElementTree.fromstring(page) for page in render(pages, ".svg")]
    elements = [
        (element.tag.rpartition("}")[2], dict(element.attrib), element.text or "")
        for root in roots
        for element in root.iter()
    ]
    kinds = {
        "text": lambda text, of: svgwrite.text.Text(
            text, x=[of.pop("x")], y=[of.pop("y")], debug=False, **of
        ),
        "path": lambda _text, of: svgwrite.path.Path(debug=False, **of),
        "rect": lambda _text, of: svgwrite.shapes.Rect(debug=False, **of),
        "g": lambda _text, of: svgwrite.container.Group(debug=False, **of),
        "title": lambda text, _of: svgwrite.base.Title(text),
        "desc": lambda text, _of: svgwrite.base.Desc(text),
    }

    def bare() -> list[str]:
        drawing = svgwrite.Drawing(debug=False)
        for tag, attributes, text in elements:
            if tag in kinds:
                drawing.add(kinds[tag](text, dict(attributes)))
        return [drawing.tostring()]

    written, library, whole = medians_s(
        40, lambda: render(pages, ".svg"), bare, lambda: render(sheet(evaluation), ".svg")
    )
    print(
        f"SVG of {len(elements)} elements: {written * 1e3:.1f} ms / bare svgwrite {library * 1e3:.1f} ms = "
        f"{written / library:.2f}; with layout {whole * 1e3:.1f} ms = {whole / library:.2f} (goal 2)"
    )


def installation(evaluation: Evaluation) -> None:
    """All step cards with 500 states of pumping, and the cards as PDF."""

    def worked_out() -> None:
        job = replace(evaluation.job)  # without what it remembers
        cards(job)
        its = job.train
        for n in range(500):
            its.at(its.total_m3 * n / 499)

    spent = median_s(worked_out, 10)
    print(
        f"all steps and 500 states of pumping, warm: {spent * 1e3:.0f} ms, ratio to goal of 1 s {spent:.2f}"
    )
    made = cards(evaluation.job)
    written = median_s(lambda: render(cards_sheet(evaluation, made, "field"), ".pdf"), 3)
    print(f"{len(made)} cards as PDF: {written:.2f} s, ratio to goal of 10 s {written / 10:.2f}")


def bound_program() -> None:
    """The program section of Brindlewick 4 as PDF, by the command from a cold start."""
    with tempfile.TemporaryDirectory() as folder:
        spent = best_s(cold("-c", COMMAND, "program", str(WELL), "-o", str(Path(folder) / "b.pdf")), 3)
    print(f"bound PDF of Brindlewick 4, cold: {spent:.2f} s, ratio to goal of 3 s {spent / 3:.2f}")


def twenty_options() -> None:
    """Twenty options of one well, read, checked and drawn side by side as SVG."""
    text = demos()["brindlewick-4.yaml"]
    text = text[: text.index("\noptions:")] + "\noptions:\n"
    text += "".join(
        f"  - {{name: lap {300 + 5 * n} ft, change: {{liner.lap: {300 + 5 * n} ft}}}}\n" for n in range(20)
    )
    start = time.perf_counter()
    alternatives = options(load_text(text))
    pages = render(options_sheet(alternatives, "field"), ".svg")
    spent = time.perf_counter() - start
    print(
        f"{len(alternatives) - 1} options side by side, {len(pages)} pages: {spent:.2f} s, "
        f"ratio to goal of 2 s {spent / 2:.2f}"
    )


def batch_of_wells() -> None:
    """A hundred wells drawn into a folder by one process and by one a core."""
    with tempfile.TemporaryDirectory() as folder:
        files = [Path(folder) / f"well {n}.yaml" for n in range(100)]
        for file in files:
            shutil.copyfile(WELL, file)
        spent = []
        for processes in (1, None):
            start = time.perf_counter()
            draw_many(files, Path(folder) / "sheets", processes=processes)
            spent.append(time.perf_counter() - start)
    print(
        f"batch of {len(files)} wells: {len(files) / spent[1]:.1f} a second on {cores()} cores, "
        f"{spent[0] / spent[1]:.2f} times one process"
    )


def million_steps() -> None:
    """A caliper profile of a million steps: building it, and integrals over it."""
    import numpy as np

    from schematic.depth.by_depth import by_depth

    count = 1_000_000
    depths = [0.0015 * n for n in range(count + 1)]
    values = [0.035 + 0.01 * math.sin(n / 977.0) for n in range(count)]

    def plain() -> object:
        return np.cumsum(np.asarray(values) * np.diff(np.asarray(depths)))

    def ours() -> object:
        return by_depth(depths, values).integral()

    numpy_s, our_s = best_s(plain, 3), best_s(ours, 3)
    profile = by_depth(depths, values)
    profile.integral()
    ends = [(0.0007 * n, 0.0007 * n + 500.0) for n in range(1, 1000)]
    start = time.perf_counter()
    for top, bottom in ends:
        profile.integral(top, bottom)
    each = (time.perf_counter() - start) / len(ends)
    print(
        f"million steps: build {our_s * 1e3:.0f} ms / numpy from the same lists {numpy_s * 1e3:.0f} ms = "
        f"{our_s / numpy_s:.1f} (goal 10); a later integral {each * 1e6:.1f} us, ratio to goal of 20 us "
        f"{each / 20e-6:.2f}"
    )


def growth() -> None:
    """Cost against the number of parts and of stations: linear growth has a ratio of 1."""
    text = WELL.read_text(encoding="utf-8")
    pup = "    - {part: pup joint, length: 12.0 ft}\n"
    station = "  - {md: 4120 ft, inc: 0.5 deg, azi: 110 deg}\n"

    def parts(count: int) -> str:
        return text.replace(
            pup, pup + "".join(f"    - {{part: pup joint, length: {1 + n % 4} ft}}\n" for n in range(count))
        )

    def stations(count: int) -> str:
        rows = "".join(
            f"  - {{md: {1 + n * 4000 / count} ft, inc: {n % 5 / 10} deg, azi: 110 deg}}\n"
            for n in range(count)
        )
        return text.replace(station, rows + station)

    for name, made, few, many in (("parts", parts, 50, 400), ("stations", stations, 100, 1000)):
        spent = []
        for count in (few, many):
            document = load_text(made(count))
            spent.append(median_s(lambda d=document: evaluate(resolve(d)), 20))  # type: ignore[misc]
        print(
            f"{many} against {few} {name}: {spent[1] * 1e3:.2f} against {spent[0] * 1e3:.2f} ms, "
            f"{spent[1] / spent[0]:.1f} times for {many / few:.0f} times as many"
        )
    wells = {name: load_text(each) for name, each in demos().items()}
    slowest = max(
        ((median_s(lambda d=d: evaluate(resolve(d)), 30), name) for name, d in wells.items()),  # type: ignore[misc]
    )
    print(
        f"heaviest demo well, {slowest[1]}: {slowest[0] * 1e3:.2f} ms, ratio to goal of 10 ms {slowest[0] / 10e-3:.2f}"
    )


def broken_files() -> None:
    """How long the slowest of the broken and giant files takes to be answered."""
    spent = []
    folder = Path(__file__).parent / "broken"
    texts = {file.name: file.read_bytes() for file in folder.iterdir()}
    texts["a megabyte of brackets"] = b"lapline: 1\nwell: " + b"[" * 1_000_000
    texts["3 MB of remark"] = b"lapline: 1  # " + b"x" * 3_000_000
    for name, data in texts.items():
        start = time.perf_counter()
        with contextlib.suppress(InputError):
            read_text(data, name)
        spent.append((time.perf_counter() - start, name))
    slowest = max(spent)
    print(
        f"{len(spent)} broken files, slowest {slowest[1]}: {slowest[0] * 1e3:.0f} ms, "
        f"ratio to goal of 2 s {slowest[0] / 2:.3f}"
    )


if __name__ == "__main__":
    main()
