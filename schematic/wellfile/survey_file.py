"""Survey stations from a table beside the well file."""

from __future__ import annotations

import math
from pathlib import PurePath
from typing import NamedTuple

from schematic.units import Written
from schematic.wellfile.columns import Cell, Column, Options, table
from schematic.wellfile.model_well import Station
from schematic.wellfile.problem import InputError

_STEEPEST_RAD = math.radians(130.0)  # as for stations in the well file itself; beyond it the column is wrong

_COLUMNS = (
    Column(
        "md",
        frozenset({"md", "measureddepth", "depthmd", "mdepth", "mdrkb", "mdrt", "depth"}),
        "length",
        True,
    ),
    Column(
        "inclination",
        frozenset({"inc", "incl", "inclination", "incline", "dev", "devi", "deviation", "angle", "drift"}),
        "angle",
        True,
    ),
    Column(
        "azimuth",
        frozenset(
            {"azi", "azim", "azimuth", "az", "hazi", "azigrid", "azimuthgrid", "azitrue", "azimuthtrue"}
        ),
        "angle",
        True,
    ),
    Column(
        "tvd", frozenset({"tvd", "trueverticaldepth", "verticaldepth", "tvdrkb", "tvdrt"}), "length", False
    ),
)


class Survey(NamedTuple):
    """Stations in the order of the file, and what was assumed in reading them."""

    stations: tuple[Station, ...]
    said: tuple[str, ...]


def _written(cell: Cell) -> Written:
    return Written(cell.text, cell.si)


def survey(data: bytes, file: str, options: Options = Options()) -> Survey:  # noqa: B008
    """Read the stations of a survey or a directional plan.

    Raises
    ------
    InputError
        With each defect's row and column.
    """
    read = table(data, file, _COLUMNS, options)
    problems = []
    for above, row in zip((None, *read.rows), read.rows, strict=False):
        md, inclination, azimuth = (row.cells[key] for key in ("md", "inclination", "azimuth"))
        if md.si < 0.0:
            problems.append(
                read.problem(row.line, "md", md.text, "a depth of nought or more", "check the sign")
            )
        elif above and not md.si > above.cells["md"].si:
            problems.append(
                read.problem(
                    row.line,
                    "md",
                    f"{md.text} after {above.cells['md'].text}",
                    "measured depths that rise from row to row",
                    "sort the rows, take double ones out",
                )
            )
        if not 0.0 <= inclination.si <= _STEEPEST_RAD:
            problems.append(
                read.problem(
                    row.line,
                    "inclination",
                    inclination.text,
                    "an inclination of 0 to 130 deg",
                    "check the column: is this the azimuth?",
                )
            )
        if not 0.0 <= azimuth.si <= math.tau * (1.0 + 1e-9):
            problems.append(
                read.problem(
                    row.line,
                    "azimuth",
                    azimuth.text,
                    "an azimuth of 0 to 360 deg",
                    "check the cell and its column",
                )
            )
    if problems:
        raise InputError(problems[:20])
    stations = tuple(
        Station.model_construct(
            md=_written(row.cells["md"]),
            inc=_written(row.cells["inclination"]),
            azi=_written(row.cells["azimuth"]),
            tvd=_written(row.cells["tvd"]) if "tvd" in row.cells else None,
        )
        for row in read.rows
    )
    return Survey(stations, tuple(f"survey from {PurePath(file).name}: {text}" for text in read.said))
