"""What every section of a well file is: frozen, without unknown keys, keys with spaces."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict

from schematic.wellfile.fields import (
    Length,
    LinearWeight,
)


class Section(BaseModel):
    """A part of the file: unknown keys are errors, nothing changes after reading."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        populate_by_name=False,
        defer_build=True,
        alias_generator=lambda name: name.rstrip("_").replace("_", " "),
    )


class PipeSizes(Section):
    """Dimensions given by hand; they win over the catalogue."""

    od: Length | None = None
    id: Length | None = None
    drift: Length | None = None
    coupling_od: Length | None = None
    weight: LinearWeight | None = None
