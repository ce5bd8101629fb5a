"""Office files are zip archives that carry the hour of their making and the name of another maker; both go.
PDF that is to be the same each time carries a day that is none.

In the place of the hour stands the day of the plan's revision, or nothing. The same tables then give the same
bytes, and a changed file is a changed plan.
"""

from __future__ import annotations

import io
import re
import zipfile
from datetime import date

from schematic.depth.plan import Plan

_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest that a zip archive can say, and it has to say one
_LAST_YEAR = 2107  # and the latest
_MAKER = re.compile(rb"(<Application>)[^<]*(<)")
_PDF_DAY = re.compile(rb"/(CreationDate|ModDate) \(D:\d{14}([^)]*)\)")
_STAMP = re.compile(rb"(<(dcterms:(?:created|modified))[^>]*>)[^<]*(</\2>)")


def day_of(plan: Plan) -> date | None:
    """The day of the revision that a plan is; None where the file gives none, or was changed since."""
    its = plan.identity.revision
    return date.fromisoformat(its.date) if its and its.date and not its.changed else None


def steady(content: bytes, day: date | None) -> bytes:
    """The archive with the same parts in the same order, neither hour nor maker in it, made on that day."""
    stamp = rb"\g<1>%bT00:00:00Z\g<3>" % day.isoformat().encode() if day else b""
    known = day is not None and _FIRST_DAY[0] <= day.year <= _LAST_YEAR
    dated = (day.year, day.month, day.day, 0, 0, 0) if day and known else _FIRST_DAY
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.infolist():
            data = old.read(part)
            if part.filename == "docProps/core.xml":
                data = _STAMP.sub(stamp, data)
            elif part.filename == "docProps/app.xml":
                data = _MAKER.sub(rb"\g<1>lapline\g<2>", data)
            new.writestr(zipfile.ZipInfo(part.filename, dated), data, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def dated(pdf: bytes, day: date | None) -> bytes:
    """A PDF whose days of making are that day, or left out; nothing in it moves."""

    def made(found: re.Match[bytes]) -> bytes:
        if day is None:
            return b" " * len(found[0])
        return b"/%b (D:%b000000%b)" % (found[1], day.isoformat().replace("-", "").encode(), found[2])

    return _PDF_DAY.sub(made, pdf)
