"""The two demo wells as texts, changed by replacing a text that stands in them once."""

from pathlib import Path

from schematic.checks.evaluate import evaluate
from schematic.depth.resolve import resolve
from schematic.wellfile.read import read_text

WELLS = Path(__file__).parents[2] / "wells"
BRINDLEWICK = (WELLS / "brindlewick-4.yaml").read_text(encoding="utf-8")
SOLLIVANE = (WELLS / "sollivane-a7.yaml").read_text(encoding="utf-8")
TEXTS = {"brindlewick": BRINDLEWICK, "sollivane": SOLLIVANE}


def edited(text, *changes):
    """The text with each (old, new) replaced; an old text that does not stand there once is a mistake."""
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} stands there {text.count(old)} times"
        text = text.replace(old, new)
    return text


def without(text, key):
    """The text without a top-level section."""
    lines, kept, inside = text.splitlines(keepends=True), [], False
    for line in lines:
        if line[0] not in " \n#":
            inside = line.startswith(f"{key}:")
        if not inside:
            kept.append(line)
    assert len(kept) < len(lines), f"no section {key!r}"
    return "".join(kept)


def planned(text, *changes):
    """The plan of a text after changes."""
    return resolve(read_text(edited(text, *changes)))


def evaluated(text, *changes):
    """The evaluation of a text after changes."""
    return evaluate(planned(text, *changes))
