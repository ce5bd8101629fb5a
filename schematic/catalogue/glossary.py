"""What the words of the trade mean and what each part of a liner does.

Spelling is forgiving: case does not count, and space, ``-`` and ``_`` are equal.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

TYPICAL_OF_M = 0.1778, 0.2445  # 7 in, 9 5/8 in: ODs of the liner and the casing of typical sizes


@dataclass(frozen=True, slots=True)
class Part:
    """A kind of part: what it does and, where one can be told, its typical size as text."""

    kind: str
    does: str
    typical: str | None


def meaning(term: str) -> str | None:
    """Meaning of a term, or what a part of that name does; None for a word that is not listed.

    >>> meaning("Shoe_Track").split(";")[0]
    'Liner from the landing collar to the shoe'
    """
    word = plain(term)
    listed = _book()
    if word in listed.terms:
        return listed.terms[word][1]
    found = listed.parts.get(word)
    return found.does if found else None


def part(kind: str) -> Part | None:
    """Facts of a kind of part, or None for one that is not listed."""
    return _book().parts.get(plain(kind))


def terms() -> Mapping[str, str]:
    """All terms as they are spelled, parts included, with their meaning, in alphabetical order."""
    listed = _book()
    spelled = {found.kind: found.does for found in listed.parts.values()}
    spelled |= dict(listed.terms.values())
    return MappingProxyType(dict(sorted(spelled.items(), key=lambda pair: pair[0].casefold())))


def parts() -> tuple[Part, ...]:
    """All kinds of parts, in the order of the glossary file: the liner from the bottom up first."""
    return tuple(_book().parts.values())


@dataclass(frozen=True, slots=True)
class _Book:
    terms: Mapping[str, tuple[str, str]]  # by plain spelling: spelling, meaning
    parts: Mapping[str, Part]


@cache
def _book() -> _Book:
    import yaml

    text = Path(__file__).with_name("glossary.yaml").read_text(encoding="utf-8")
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # ten times faster where it is built
    content = yaml.load(text, Loader=loader)
    return _Book(
        terms={plain(term): (term, meaning) for term, meaning in content["terms"].items()},
        parts={
            plain(kind): Part(kind, facts["does"], facts.get("typical"))
            for kind, facts in content["parts"].items()
        },
    )


def plain(word: str) -> str:
    """A word as it is looked up: small letters, a space for ``-`` and ``_``."""
    return " ".join(word.casefold().replace("-", " ").replace("_", " ").split())
