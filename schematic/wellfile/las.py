"""Log ASCII Standard (LAS) files as they are met: curves, header values, one curve beside its depth.

Read are 1.2, 2.0 and the log part of 3.0, wrapped or not, parted by spaces, tabs or commas whatever the
version.
Source: Canadian Well Logging Society, LAS 2.0 (update of January 2014) and LAS 3.0 file structure.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from typing import NamedTuple

from schematic.wellfile.grid import refuse, text_of

MOST_RECORDS = 500_000
MOST_CURVES = 2_000

_HEADER = re.compile(r"\s*([^.\s:]+)\s*\.([^\s:]*)(?:\s+(.*?))?\s*:([^:]*)$")
_NO_COLON = re.compile(r"\s*([^.\s:]+)\s*\.(\S*)\s*(.*)$")
_PLAIN = re.compile(r"[+-]?\d+(?:[.,]\d*)?(?:[eE][+-]?\d+)?", re.ASCII)
_RUN_ON = re.compile(r"(?<=\d)-(?=\d)")  # 12.345-999.250: the sign took the space


class Curve(NamedTuple):
    """A curve as the header names it."""

    name: str
    unit: str
    description: str
    line: int


class Entry(NamedTuple):
    """A header value as it stands, with its unit."""

    text: str
    unit: str


class Las(NamedTuple):
    """A log: its curves, its header, and the lines of its data with their numbers."""

    file: str
    curves: tuple[Curve, ...]
    header: dict[str, Entry]
    data: tuple[tuple[int, str], ...]

    def number(self, name: str) -> float | None:
        """A header value that is a plain number, else None."""
        entry = self.header.get(name)
        try:
            return float(entry.text) if entry else None
        except ValueError:
            return None

    def beside_depth(self, curve: int) -> Iterator[tuple[int, str, str]]:
        """Line, depth and one curve's value of each record, as texts.

        Raises
        ------
        InputError
            Where a record does not hold a value for each curve.
        """
        count = len(self.curves)
        for line, tokens in self._records(count):
            yield line, tokens[0], tokens[curve]

    def _records(self, count: int) -> Iterator[tuple[int, list[str]]]:
        delimiter = self._delimiter(count)
        first = _tokens(self.data[0][1], delimiter)
        if len(first) < count:
            first = _tokens(_RUN_ON.sub(" -", self.data[0][1]), delimiter)
        wrapped = len(first) < count  # whatever the header says
        gathered: list[str] = []
        begun = self.data[0][0]
        for line, text in self.data:
            tokens = _tokens(text, delimiter)
            if not wrapped and len(tokens) < count:
                tokens = _tokens(_RUN_ON.sub(" -", text), delimiter)
            if not wrapped and len(tokens) != count:
                raise self._ragged(line, len(tokens), count)
            if not gathered:
                begun = line
            gathered += tokens
            if len(gathered) > count:
                raise self._ragged(line, len(gathered), count)
            if len(gathered) == count:
                yield begun, gathered
                gathered = []
        if gathered:
            raise self._ragged(begun, len(gathered), count)

    def _ragged(self, line: int, found: int, count: int) -> Exception:
        return refuse(
            self.file,
            line,
            0,
            "",
            f"{found} values for {count} curves",
            "a value for each curve at each depth",
            "export the log again, unwrapped; or take the record out",
        )

    def _delimiter(self, count: int) -> str | None:
        """What parts the values: the header's word, else what gives the first record its number of values."""
        said = self.header.get("DLM")
        if said and said.text:
            return {"COMMA": ",", "TAB": "\t"}.get(said.text.upper())
        text = self.data[0][1]
        for mark in (None, ",", ";"):
            tokens = _tokens(text, mark)
            if len(tokens) == count and _PLAIN.fullmatch(tokens[0]):
                return mark
        return "," if "," in text else None


def _tokens(text: str, delimiter: str | None) -> list[str]:
    if delimiter is None:
        return text.split()
    if '"' in text:
        return [
            token.strip() for token in next(csv.reader([text], delimiter=delimiter, skipinitialspace=True))
        ]
    tokens = [token.strip() for token in text.split(delimiter)]
    return tokens[:-1] if len(tokens) > 1 and not tokens[-1] else tokens


def _section(title: str, version: float) -> str:
    """One letter for what a section holds; "" for one that is not read."""
    word = title[1:].split("|")[0].strip().split(" ")[0].upper()
    if word.startswith("LOG_"):
        kind = word.removeprefix("LOG_").split("[")[0]
        return {"DEFINITION": "C", "DATA": "A", "PARAMETER": "P", "PARAMETERS": "P"}.get(kind, "")
    if version >= 3.0 and "_" in word:
        return ""  # tops, cores, tests: sets of their own
    return word[:1]


def read_las(data: bytes, file: str) -> Las:
    """Read a log's header and find its data.

    Raises
    ------
    InputError
        When it is no log, has no curves or no data, or is too large.
    """
    section = ""
    curves: list[Curve] = []
    header: dict[str, Entry] = {}
    rows: list[tuple[int, str]] = []
    for line, text in enumerate(text_of(data, file).splitlines(), start=1):
        plain = text.strip()
        if plain.startswith("~"):
            if rows:
                break
            version = header.get("VERS", Entry("", "")).text[:1]
            section = _section(plain, float(version) if version.isdigit() else 0.0)
        elif not plain or plain.startswith("#"):
            continue
        elif section == "A":
            rows.append((line, plain))
            if len(rows) > MOST_RECORDS:
                most = f"at most {MOST_RECORDS}"
                raise refuse(
                    file, line, 0, "", f"more than {MOST_RECORDS} lines of data", most, "cut the log"
                )
        elif section in ("V", "W", "P", "C"):
            match = _HEADER.match(text) or _NO_COLON.match(text)
            if match is None:
                continue  # a stray line of a header says nothing about the caliper
            name, unit, value = match[1].upper(), match[2], (match[3] or "").strip()
            if section == "C":
                curves.append(Curve(match[1], unit, match[4].strip() if match.re is _HEADER else "", line))
            else:
                header.setdefault(name, Entry(value, unit))
    if not curves or len(curves) > MOST_CURVES or not rows:
        found = "no curves" if not curves else "no data" if not rows else f"{len(curves)} curves"
        accepted = "a log in LAS 1.2, 2.0 or 3.0: ~Curve with the curves, ~A with the data"
        raise refuse(file, 0, 0, "", found, accepted, "export the log again as LAS 2.0")
    return Las(file, tuple(curves), header, tuple(rows))
