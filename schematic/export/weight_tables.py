"""Weights and forces of the installation as tables: what hangs, may be pulled, buckles, and arrives."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.engineering.weights import Hanging, weights
from schematic.export.report import readable
from schematic.export.tables import Cell, Column, Table
from schematic.job.load_chart import frictions
from schematic.job.set_down import buckled, transfers
from schematic.outcome import Figure, MissingInput

WEIGHTS = "Weights on depth"
PULL = "What may be pulled, liner on depth"
BUCKLING = "Pipe in compression under set-down"
ARRIVES = "Slack-off at surface against force at the liner top"
_STEPS = 10


def _force(value: float) -> Figure:
    return Figure(value, "force")


def weights_table(evaluation: Evaluation) -> Table:
    """Liner and running string in air, in mud, along the hole, and with the cement in place."""
    its = evaluation.job.weights

    def row(name: str, hung: Hanging) -> tuple[Cell, ...]:
        return name, _force(hung.air_n), _force(hung.buoyed_n), _force(hung.along_n)

    rows = [row("liner, in mud", its.liner), row("running string, in mud", its.running)]
    try:
        train = evaluation.job.train
        end = train.at(train.total_m3)
        rows.append(row("liner, cement in place", weights(evaluation.plan, end.inside, end.outside).liner))
    except MissingInput:
        pass
    note = f"taken to weigh what the liner's pipe weighs: {', '.join(its.as_pipe)}" if its.as_pipe else ""
    columns = Column("string"), Column("in air", "force"), Column("in its fluids", "force")
    return Table(WEIGHTS, (*columns, Column("along the hole", "force")), tuple(rows), note)


def pull_table(evaluation: Evaluation) -> Table:
    """What each part bears, what hangs on it, and how far the hook may go for it."""
    found = evaluation.job.overpull
    rows: list[tuple[Cell, ...]] = [
        (one.name, one.bears, _force(one.full_n), _force(one.static_n), _force(one.hook_n))
        for one in found.bearings
    ]
    for part in found.unknown:
        needs = ", ".join(readable(evaluation, need) for need in part.needs)
        rows.append((part.name, f"not known, needs {needs}", None, None, None))
    columns = (
        Column("part"),
        Column("by"),
        Column("bears", "force"),
        Column("hangs on it at rest", "force"),
        Column("hook load allowed, without block", "force"),
    )
    share = evaluation.plan.limits["greatest share of rating"].text
    note = f"new pipe at {share} of its body yield; connections and the class of used pipe are not in it"
    return Table(PULL, columns, tuple(rows), note, "-")


def buckling_table(evaluation: Evaluation) -> Table:
    """Each pipe in compression under the weights that are set down, and the loads at which it buckles."""
    plan = evaluation.plan
    rows: list[tuple[Cell, ...]] = []
    wanted = ("tool", plan.job.set_down_on_tool_n), ("packer", plan.job.packer_set_down_n)
    for where, force in wanted:
        for pipe in buckled(plan, force) if force is not None else ():
            bears = pipe.critical
            rows.append(
                (
                    where,
                    pipe.name,
                    Figure(pipe.md_m, "depth"),
                    _force(pipe.compression_n),
                    _force(bears.sinusoidal_n),
                    _force(bears.helical_n),
                    _force(bears.helical_most_n),
                    pipe.state,
                    Figure(pipe.bending_pa, "stress") if pipe.bending_pa else None,
                )
            )
    columns = (
        Column("set down on"),
        Column("pipe"),
        Column("at", "depth"),
        Column("compression", "force"),
        Column("sinusoidal from", "force"),
        Column("helical from", "force"),
        Column("or from", "force"),
        Column("buckling"),
        Column("bending", "stress"),
    )
    note = "" if plan.job.friction else "without drag, which adds to it: needs installation.friction"
    return Table(BUCKLING, columns, tuple(rows), note, "-")


def arrives_table(evaluation: Evaluation) -> Table:
    """What arrives at the liner top of what is slacked off: less friction, the file's own, and more."""
    plan = evaluation.plan
    if plan.job.friction is None:
        raise MissingInput("installation.friction")
    pairs = frictions(plan)
    least, own, most = transfers(plan, (pairs[0], plan.job.friction, pairs[-1]), _STEPS)
    rows: list[tuple[Cell, ...]] = []
    for slack, force in own.points:
        rows.append((_force(slack), _force(least.at(slack)), _force(force), _force(most.at(slack))))
    columns = (
        Column("slacked off", "force"),
        *(
            Column(f"at {cased:.2f} in casing, {rock:.2f} in rock", "force")
            for cased, rock in (least.friction, own.friction, most.friction)
        ),
    )
    return Table(ARRIVES, columns, tuple(rows), "helical buckling from the least load that is published")
