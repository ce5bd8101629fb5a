"""Lapline: draws and checks the depth plan of a well that gets a liner.

The public names are the verbs of the command. They load what they need when they are called, so that
``import schematic`` is quick.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from schematic.batch import draw_many
    from schematic.checks.evaluate import Evaluation, evaluate
    from schematic.depth.resolve import resolve
    from schematic.verbs import (
        check,
        diff,
        draw,
        draw_diff,
        draw_options,
        explain,
        load,
        load_text,
        new,
        pipe,
        rules,
        schema,
        sheet,
        volumes,
    )
    from schematic.wellfile.problem import InputError
    from schematic.wellfile.read import Document

_HOMES = {
    "Document": "schematic.wellfile.read",
    "Evaluation": "schematic.checks.evaluate",
    "InputError": "schematic.wellfile.problem",
    "check": "schematic.verbs",
    "diff": "schematic.verbs",
    "draw": "schematic.verbs",
    "draw_diff": "schematic.verbs",
    "draw_many": "schematic.batch",
    "draw_options": "schematic.verbs",
    "evaluate": "schematic.checks.evaluate",
    "explain": "schematic.verbs",
    "load": "schematic.verbs",
    "load_text": "schematic.verbs",
    "new": "schematic.verbs",
    "options": "schematic.verbs",
    "pipe": "schematic.verbs",
    "resolve": "schematic.depth.resolve",
    "rules": "schematic.verbs",
    "schema": "schematic.verbs",
    "sheet": "schematic.verbs",
    "tabulate": "schematic.verbs",
    "volumes": "schematic.verbs",
}

__all__ = [
    "Document",
    "Evaluation",
    "InputError",
    "check",
    "diff",
    "draw",
    "draw_diff",
    "draw_many",
    "draw_options",
    "evaluate",
    "explain",
    "load",
    "load_text",
    "new",
    "options",
    "pipe",
    "resolve",
    "rules",
    "schema",
    "sheet",
    "tabulate",
    "volumes",
]


def __getattr__(name: str) -> object:
    """Load a public name from its home at its first use."""
    if name not in _HOMES:
        raise AttributeError(f"module 'schematic' has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
