"""From bytes to text small enough to read and free of characters that nobody can see."""

from __future__ import annotations

import codecs
import re
from itertools import islice

from schematic.wellfile.mends import Trouble, position

MOST_BYTES = 4 * 1024 * 1024

_UNREADABLE = re.compile(
    r"[^\t\n\r\x20-\x7e\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]"  # not printable in YAML 1.1
    r"|\r(?!\n)"  # alone it is no line end
    r"|[\u2028\u2029\ufeff]"  # unseen line ends and byte order marks
    r"|[\u202a-\u202e\u2066-\u2069]"  # would show the text in another order than it is read
)
_MOST_TOLD = 20
_SAVE = "save the file as 'UTF-8' (not UTF-16, 'Unicode', ANSI or a code page) in your editor"


def decoded(text: str | bytes) -> tuple[str, list[Trouble]]:
    """The text of a file, and what makes it unreadable (nothing, or the text is not to be used)."""
    size = len(text) if isinstance(text, bytes) else len(text.encode("utf-8", "surrogatepass"))
    if size > MOST_BYTES:
        found, accepted = f"{size} bytes", f"at most {MOST_BYTES} bytes (4 MiB)"
        mend = "check that this is a well file; keep logs in files of their own"
        return "", [Trouble(1, 1, found, accepted, mend)]
    if isinstance(text, bytes):
        if text.startswith((b"\xff\xfe", b"\xfe\xff")):
            return "", [Trouble(1, 1, "UTF-16 text", "UTF-8 text", _SAVE)]
        text = text.removeprefix(codecs.BOM_UTF8)  # some editors put it there; it says nothing
        try:
            characters = text.decode()
        except UnicodeDecodeError as error:
            before = text[: error.start].decode()
            found = f"the byte 0x{text[error.start]:02x}, which is not UTF-8"
            return "", [Trouble(*position(before, len(before)), found, "UTF-8 text", _SAVE)]
    else:
        characters = text
    first: dict[str, int] = {}  # where each of them stands first: once told is enough
    for match in _UNREADABLE.finditer(characters):
        first.setdefault(match[0], match.start())
    return characters, [
        Trouble(*position(characters, offset), *_unreadable(char))
        for char, offset in islice(first.items(), _MOST_TOLD)
    ]


def _unreadable(char: str) -> tuple[str, str, str]:
    """What was found, what is accepted, the mend."""
    accepted = "visible characters, spaces and line ends"
    if char == "\0":
        return "a NUL character", accepted, f"take it out; if there are many, {_SAVE}"
    if char == "\r":
        return "a carriage return alone", accepted, "end lines with LF or CR LF"
    return f"the unseen character U+{ord(char):04X}", accepted, "take it out"
