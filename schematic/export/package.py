"""Office files are zip archives that carry the hour of their making and the name of another maker; both go.

The same tables then give the same bytes, and a changed file is a changed plan.
"""

from __future__ import annotations

import io
import re
import zipfile

_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest that a zip archive can say
_MAKER = re.compile(rb"(<Application>)[^<]*(<)")
_STAMP = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*(<)")


def steady(content: bytes) -> bytes:
    """The archive with the same parts in the same order, and neither hour nor maker in it."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.infolist():
            data = old.read(part)
            if part.filename == "docProps/core.xml":
                data = _STAMP.sub(rb"\g<1>1980-01-01T00:00:00Z\g<2>", data)
            elif part.filename == "docProps/app.xml":
                data = _MAKER.sub(rb"\g<1>lapline\g<2>", data)
            new.writestr(zipfile.ZipInfo(part.filename, _FIRST_DAY), data, zipfile.ZIP_DEFLATED)
    return out.getvalue()
