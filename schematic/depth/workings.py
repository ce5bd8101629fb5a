"""What a resolution gathers on its way: problems of the file, derivations, misfits, assumptions."""

from __future__ import annotations

import hashlib
import json

from schematic.depth.plan import Derivation, Misfit
from schematic.units import show
from schematic.wellfile.problem import InputError, Problem
from schematic.wellfile.read import Document, Loc
from schematic.wellfile.tree import plain


class Workings:
    """The notebook of one resolution; the plan that comes out of it is frozen."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.problems: list[Problem] = []
        self.derivations: list[Derivation] = []
        self.misfits: list[Misfit] = []
        self.assumptions: list[str] = []
        self.read: list[bytes] = []  # files beside the well file, in the order of reading

    def beside(self, loc: Loc, name: str) -> tuple[bytes, str]:
        """The content of a file beside the well file; what was read goes into the hash on the sheet."""
        data, called = self.document.beside(loc, name)
        self.read.append(data)
        return data, called

    def hash(self) -> str:
        """Eight hexadecimal digits of the SHA-256 of the well file and of all files that it was read with."""
        if not self.read:
            return self.document.hash
        parts = [self.document.text.encode(), *self.read]
        return hashlib.sha256(b"".join(hashlib.sha256(part).digest() for part in parts)).hexdigest()[:8]

    def content_hash(self) -> str:
        """Eight hexadecimal digits that stand for what a revision issues: the well and the files beside it.

        Which revision it is, the units of the output, readings and options do not count; nor do comments,
        line breaks, quotes or the order of keys. It is taken of what is written, not of the models, so
        that a key that is new to a later release changes no well that was issued.
        """
        tree = plain(self.document.root)
        assert isinstance(tree, dict)
        kept = {key: value for key, value in tree.items() if key not in ("record", "options")}
        own = ("revision", "earlier revisions", "show")
        kept["well"] = {key: value for key, value in tree["well"].items() if key not in own}  # type: ignore[union-attr]
        parts = [json.dumps(kept, sort_keys=True).encode(), *self.read]
        return hashlib.sha256(b"".join(hashlib.sha256(part).digest() for part in parts)).hexdigest()[:8]

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
