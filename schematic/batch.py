"""Many wells drawn at once, a process per core: each file whole or not at all, no error stops the others.

An interrupt lets the drawings at hand finish and leaves the rest; no process outlives the one that began it.
"""

from __future__ import annotations

import contextlib
import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from multiprocessing import get_context, parent_process
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any, NamedTuple

from schematic import verbs
from schematic.outcome import Severity
from schematic.wellfile.problem import InputError

_MOST_PROCESSES = 61  # that Windows can wait for


class Drawn(NamedTuple):
    """A well of a batch: its pages, and how many errors, warnings and advices; or why it was not drawn."""

    file: Path
    well: str = ""
    pages: tuple[Path, ...] = ()
    found: tuple[int, ...] = ()
    problem: str = ""


class BatchError(Exception):
    """The batch cannot begin: two files would become one, or a drawing would replace a well file."""


def targets(files: Sequence[str | Path], folder: str | Path, form: str) -> dict[Path, Path]:
    """Where each well file is drawn to: its own name in the folder, with the suffix of the form.

    Raises
    ------
    BatchError
        When two drawings would have one name, or a drawing that of a well file.
    """
    planned = {Path(file): Path(folder) / f"{Path(file).stem}.{form}" for file in files}
    sources = {file.resolve() for file in planned}
    taken: dict[str, Path] = {}
    for file, target in planned.items():
        name = target.name.casefold()
        if name in taken:
            raise BatchError(f"{taken[name]} and {file} would both become {target}; rename one of them")
        if target.resolve() in sources:
            raise BatchError(f"{target} would replace a well file; choose another folder")
        taken[name] = file
    for file, target in planned.items():
        second = target.with_stem(
            f"{target.stem}-2"
        ).name.casefold()  # the second page, where a page is a file
        if form != "pdf" and second in taken:
            raise BatchError(f"page 2 of {file} would become the drawing of {taken[second]}; rename one")
    return planned


def draw_many(
    files: Sequence[str | Path],
    folder: str | Path,
    form: str = "svg",
    *,
    told: Callable[[Drawn, int], object] = lambda drawn, count: None,
    processes: int | None = None,
    **manner: Any,  # noqa: ANN401
) -> tuple[Drawn, ...]:
    """Draw many well files into a folder, on all cores; *manner* is what ``draw`` takes beside those two.

    *told* hears of each well when it is done, and how many are done then. The answer is in the order of
    *files*.

    Raises
    ------
    BatchError
        When two drawings would have one name.
    OSError
        When the folder cannot be made.
    """
    planned = targets(files, folder, form)
    Path(folder).mkdir(exist_ok=True)
    count = min(processes or cores(), len(planned), _MOST_PROCESSES)
    done: dict[Path, Drawn] = {}
    # spawned, not forked: alike on every system, and safe beside threads
    pool = ProcessPoolExecutor(max(count, 1), get_context("spawn"), _begin)
    try:
        with _interrupts_kept():
            waiting = {pool.submit(_draw, file, target, manner): file for file, target in planned.items()}
        for future in as_completed(waiting):
            file = waiting[future]
            done[file] = _answer(file, future)
            told(done[file], len(done))
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
    return tuple(done[file] for file in planned)


def cores() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _draw(file: Path, target: Path, manner: dict[str, Any]) -> Drawn:
    """Draw one well, in a process of its own."""
    try:
        evaluation = verbs.check(file)
        pages = verbs.draw(evaluation, target, **manner)
    except InputError as error:
        return Drawn(file, problem=str(error))
    except OSError as error:
        return Drawn(file, problem=f"{error.filename or file}: {error.strerror or error}")
    counts = tuple(evaluation.count(severity) for severity in Severity)
    return Drawn(file, evaluation.plan.identity.name, pages, counts)


def _answer(file: Path, future: Future[Drawn]) -> Drawn:
    """What became of a well; a fault of the program is told as such and stops no other well."""
    fault = future.exception()
    return (
        future.result() if fault is None else Drawn(file, problem=f"{file}: fault of the program: {fault!r}")
    )


@contextlib.contextmanager
def _interrupts_kept() -> Iterator[None]:
    """Hold an interrupt back until the processes have begun; they inherit that it is held back."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _begin() -> None:
    """Begin a process: an interrupt is the business of the one that began it, whose end is its own end."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent,), daemon=True).start()


def _end_with(parent: BaseProcess) -> None:
    parent.join()
    os._exit(1)
