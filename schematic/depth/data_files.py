"""What files beside the well file give: survey stations, a caliper log, a tally; their problems are noted.

The readers are loaded when a well file names such a file: few do, and each start of the command would pay.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from schematic.depth.workings import Workings
from schematic.wellfile import model
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import Loc

if TYPE_CHECKING:
    from schematic.wellfile.caliper_log import CaliperLog
    from schematic.wellfile.columns import Options
    from schematic.wellfile.tally_file import Tally


def _options(written: model.TableFile) -> Options:
    from schematic.wellfile.columns import Options

    return Options("ftUS" if written.unit == "US ft" else written.unit, written.decimal, written.sheet)


def stations(
    written: list[model.Station] | model.TableFile | None, workings: Workings
) -> list[model.Station]:
    """The survey's stations, from the well file or from a file beside it."""
    if not isinstance(written, model.TableFile):
        return written or []
    from schematic.wellfile.survey_file import survey

    try:
        read = survey(*workings.beside(("survey", "file"), written.file), _options(written))
    except InputError as error:
        workings.problems.extend(error.problems)
        return []
    workings.assumptions.extend(read.said)
    return list(read.stations)


def joints(written: model.TableFile | None, workings: Workings) -> Tally | None:
    """The liner's tally, where the well file names one."""
    if written is None:
        return None
    from schematic.wellfile.tally_file import tally

    try:
        read = tally(*workings.beside(("liner", "tally", "file"), written.file), _options(written))
    except InputError as error:
        workings.problems.extend(error.problems)
        return None
    workings.assumptions.extend(read.said)
    return read


def caliper(
    written: model.CaliperFile,
    loc: Loc,
    section_m: tuple[float, float],
    bit_m: float,
    workings: Workings,
) -> CaliperLog | None:
    """The caliper of a hole section between two depths; None after its problems were noted."""
    from schematic.wellfile.caliper_log import Wanted, caliper_log

    top, bottom = section_m
    top = max(top, written.from_.si) if written.from_ else top
    bottom = min(bottom, written.to.si) if written.to else bottom
    if not top < bottom:
        workings.problem(
            loc,
            f"{workings.text(top, 'depth')} to {workings.text(bottom, 'depth')}, no hole of this section",
            "'from' and 'to' inside their hole section",
            "mend 'from' and 'to', or leave them out",
        )
        return None
    wanted = Wanted(
        bit_m,
        top,
        bottom,
        written.curve,
        written.unit,
        written.depth_unit,
        written.closed_below.si if written.closed_below else None,
        written.leave_out_under.si if written.leave_out_under else None,
    )
    try:
        data, name = workings.beside((*loc, "file"), written.file)
        log = caliper_log(data, name, wanted, workings.document.content.well.show)
    except InputError as error:
        workings.problems.extend(error.problems)
        return None
    workings.assumptions.extend(log.said)
    return log
