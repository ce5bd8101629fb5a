"""Everything that follows from a plan: quantities and the outcome of every rule.

The one engine: command, app and sweep all call :func:`evaluate`.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches

from schematic.checks import (
    bores,
    cementing,
    hanger,
    joints,
    later,
    passage,
    path,
    position,
    proof,
    pumping,
    returns,
    rock,
    set_down,
    setting,
    sizes,
    slurries,
    survey,
    tally,
    telescope,
    weights,
)
from schematic.checks.case import Case, Rule
from schematic.depth.nest import Nest, State
from schematic.depth.plan import Plan
from schematic.engineering.cement import Cement, Displacement, cement, displacement
from schematic.engineering.volumes import JobVolumes, Laps, job_volumes, laps
from schematic.job.installation import Installation
from schematic.outcome import (
    Answer,
    DoesNotApply,
    Found,
    MissingInput,
    NotChecked,
    Outcome,
    Passed,
    Severity,
    Subject,
    Uncomputed,
)


def _waivers(case: Case) -> tuple[Subject, ...]:
    return tuple(Subject(f"waived.{n}", waiver.rule) for n, waiver in enumerate(case.plan.waived))


def waiver_names_no_rule(_case: Case, subject: Subject) -> Answer:
    """A waiver names a rule that does not exist.

    What it checks
        The 'rule' of each entry under 'waived' against the codes of all rules.
    Why it matters
        A misspelt waiver accepts nothing, and nobody would notice.
    Limit
        None.
    Source
        The list of 'lapline rules'.
    Example
        wrong: waived + {rule: lap-too-short, by: A. Planner, reason: agreed}
        right: waived + {rule: lap-outside-limits, by: A. Planner, reason: agreed}
        does not apply: as it stands
    """
    codes = [rule.code for rule in RULES]
    if subject.name in codes:
        return Passed()
    near = get_close_matches(subject.name, codes, 1, 0.4)
    return Found(
        Severity.WARNING,
        "waiver of {name}: no such rule",
        "A waiver names the rule {name}, which does not exist: it accepts nothing.",
        "Did you mean {near}?" if near else "See 'lapline rules' for the codes.",
        {"name": subject.name, "near": near[0] if near else ""},
    )


RULES: tuple[Rule, ...] = (
    *path.RULES,
    *survey.RULES,
    *sizes.RULES,
    *telescope.RULES,
    *position.RULES,
    *tally.RULES,
    *joints.RULES,
    *hanger.RULES,
    *bores.RULES,
    *passage.RULES,
    *returns.RULES,
    *later.RULES,
    *cementing.RULES,
    *slurries.RULES,
    *pumping.RULES,
    *rock.RULES,
    *setting.RULES,
    *weights.RULES,
    *set_down.RULES,
    *proof.RULES,
    Rule(
        "waiver-names-no-rule", "rules that waivers name", _waivers, waiver_names_no_rule, "nothing is waived"
    ),
)

_TOPICS = {rule.code: rule.topic for rule in RULES}
_WHOLE = Subject("", "the plan")


def topic(code: str) -> str:
    """What a rule looks at, in words that say nothing of what it finds: ``passage of the ball``."""
    return _TOPICS[code]


@dataclass(frozen=True, slots=True)
class Evaluation:
    """A plan, its quantities and the outcomes of all rules; of these *findings* is what was found, worst
    first, then in the order of depth. What could not be computed is None; *missing* says for want of what.
    """

    plan: Plan
    nest: Nest
    laps: Laps
    volumes: JobVolumes
    cement: Cement | None
    displacement: Displacement | None
    missing: tuple[Uncomputed, ...]
    job: Installation
    outcomes: tuple[Outcome, ...]
    findings: tuple[Outcome, ...]

    def count(self, severity: Severity) -> int:
        """How many findings of a severity are not waived."""
        return sum(
            isinstance(o.answer, Found) and o.answer.severity is severity and not o.waived
            for o in self.findings
        )


def _worst_first(outcomes: tuple[Outcome, ...]) -> tuple[Outcome, ...]:
    """From the top down, but for an input that cannot be: others may be found because of it."""
    order = list(Severity)

    def rank(outcome: Outcome) -> tuple[int, bool, float]:
        assert isinstance(outcome.answer, Found)
        severity = order.index(outcome.answer.severity)
        return (
            severity,
            not outcome.rule.endswith("-not-plausible"),
            min(outcome.answer.at_md_m, default=0.0),
        )

    return tuple(sorted((one for one in outcomes if isinstance(one.answer, Found)), key=rank))


def _waived(plan: Plan, rule: str, subject: Subject, answer: object) -> tuple[str, str]:
    """Who accepted this warning and why, and who alone; errors cannot be waived."""
    if not isinstance(answer, Found) or answer.severity is Severity.ERROR:
        return "", ""
    for waiver in plan.waived:
        if waiver.rule == rule and waiver.subject in ("", subject.path, subject.name):
            return f"{waiver.by}: {waiver.reason}", waiver.by
    return "", ""


def run(rules: tuple[Rule, ...], case: Case) -> tuple[Outcome, ...]:
    """The outcome of each rule for each of its subjects; a missing input is "not checked", never passed."""
    outcomes: list[Outcome] = []
    for rule in rules:
        subjects = rule.subjects(case)
        if not subjects:
            outcomes.append(Outcome(rule.code, _WHOLE, DoesNotApply(rule.nothing)))
        for subject in subjects:
            try:
                answer = rule.check(case, subject)
            except MissingInput as error:
                answer = NotChecked(error.missing)
            outcomes.append(
                Outcome(rule.code, subject, answer, *_waived(case.plan, rule.code, subject, answer))
            )
    return tuple(outcomes)


def evaluate(plan: Plan) -> Evaluation:
    """Quantities and outcomes of a plan. Pure: the same plan gives the same evaluation."""
    nest = Nest(plan.depth, State.STRING_IN)
    volumes = job_volumes(plan, nest)
    missing = list(volumes.missing)
    quantities: Cement | None = None
    displaced: Displacement | None = None
    try:
        quantities = cement(plan, volumes)
        unknown = [f"fluids.{s.name}.yield" for s in quantities.slurries if s.cement_kg is None]
        if unknown:
            missing.append(Uncomputed("sacks and mix water", tuple(unknown)))
    except MissingInput as error:
        missing.append(Uncomputed("cement", error.missing))
    try:
        displaced = displacement(plan, volumes)
    except MissingInput as error:
        missing.append(Uncomputed("displacement", error.missing))
    job = Installation(plan, nest, volumes, quantities, displaced, tuple(missing))
    case = Case(plan, nest, laps(plan), volumes, quantities, displaced, job.missing, job)
    outcomes = run(RULES, case)
    return Evaluation(
        plan,
        nest,
        case.laps,
        volumes,
        quantities,
        displaced,
        job.missing,
        job,
        outcomes,
        _worst_first(outcomes),
    )
