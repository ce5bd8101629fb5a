"""What a resolution gathers on its way: problems of the file, derivations, misfits, assumptions."""

from __future__ import annotations

from schematic.depth.plan import Derivation, Misfit
from schematic.units import show
from schematic.wellfile.problem import InputError, Problem
from schematic.wellfile.read import Document, Loc


class Workings:
    """The notebook of one resolution; the plan that comes out of it is frozen."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.problems: list[Problem] = []
        self.derivations: list[Derivation] = []
        self.misfits: list[Misfit] = []
        self.assumptions: list[str] = []

    def text(self, si: float, kind: str = "tally") -> str:
        """A figure in the units of the file, for a message."""
        return show(si, kind, "field" if self.document.content.well.show == "field" else "metric")

    def problem(self, loc: Loc, found: str, accepted: str, mend: str) -> None:
        """Note something that the file must mend before there is a plan."""
        self.problems.append(self.document.problem(loc, found, accepted, mend))

    def stop_if_any(self) -> None:
        """Raise all problems noted so far, in the order of the file."""
        if self.problems:
            raise InputError(tuple(sorted(self.problems, key=lambda p: (p.line, p.column))))

    def derive(
        self, path: str, si: float, how: str, *inputs: tuple[str, float, str], kind: str = "tally"
    ) -> float:
        """Note how a value came about, and return it."""
        self.derivations.append(Derivation(path, si, kind, how, inputs))
        return si
