"""A slider whose track shows what the checks say: solid where they pass, striped where they warn, hatched
where they find an error or the value is refused. The limits are found by evaluating the plan at other values
of the one input.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import NamedTuple

import streamlit as st

from schematic.checks.evaluate import Evaluation
from schematic.comparison.sweep import string_along
from schematic.outcome import Found, Severity, sentence
from schematic.units import sentence_case
from schematic.wellfile import edit
from schematic.wellfile.path import PathError
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import Document

_MOST_MARKS = 2  # of one finding that have words of their own
_COARSE = 12  # stretches of the scale that are looked at first
_NUMBER = re.compile(r"\s*(\d+(?:\.\d+)?)\s*([^\d+]*?)\s*")
_STATES = ("passes", "warns", "error", "refused")
_FINER = 10.0  # a mark of its own is looked for within a step of the scale, in as many parts


class Input(NamedTuple):
    """An input on a slider: its path, its number and unit as written, its scale."""

    path: str
    value: float
    unit: str
    low: float
    high: float
    step: float

    @property
    def steps(self) -> int:
        """Steps from end to end of the scale."""
        return round((self.high - self.low) / self.step)

    def text(self, value: float) -> str:
        """A value of the scale, or between two of its steps, as it is written into the file."""
        return f"{self.number(value)} {self.unit}".strip()

    def number(self, value: float) -> str:
        """The same without its unit: with more digits than the steps have where it stands between two."""
        digits = max(0, -math.floor(math.log10(self.step)))
        finer = max(0, -math.floor(math.log10(self.step / _FINER)))
        between = abs(value / self.step - round(value / self.step)) > 1e-6
        return f"{value:.{finer if between else digits}f}"


class Sample(NamedTuple):
    """What the checks say at one value: the findings by rule and subject, each with its severity."""

    value: float
    found: dict[tuple[str, str], Severity]
    heads: dict[tuple[str, str], str]


class Edge(NamedTuple):
    """Where something begins to be found: the last value that is free of it, what it is, and whether it is
    found under that value or over it.
    """

    value: float
    text: str
    side: str


class Limits(NamedTuple):
    """The track of a slider: stretches with their state, edges, and what any other value brings as well."""

    bands: tuple[tuple[float, float, str], ...]
    edges: tuple[Edge, ...]
    along: str


def input_at(path: str, written: str, high: float, low: float = 0.0) -> Input | None:
    """An input as a slider shows it; None where it is written as more than one number and a unit.

    *high* and *low* are the ends of the scale as shares of the value that is written.
    """
    match = _NUMBER.fullmatch(written)
    if match is None or not float(match[1]) > 0.0:
        return None
    value = float(match[1])
    step = _round_step(value * (high - low) / 120.0)
    return Input(path, value, match[2], _down(value * low, step), _down(value * high, step), step)


def _round_step(wanted: float) -> float:
    """The nearest step of 1, 2 or 5 that is not smaller."""
    ten = 10.0 ** math.floor(math.log10(wanted))
    return next(ten * one for one in (1.0, 2.0, 5.0, 10.0) if ten * one >= wanted * (1.0 - 1e-9))


def _down(value: float, step: float) -> float:
    return round(math.floor(value / step + 1e-9) * step, 9)


def with_value(document: Document, its: Input, value: float) -> str:
    """The text with an input at another value; the running string goes along with the liner top."""
    return string_along(document, edit.set(document.text, its.path, its.text(value)), its.text(value))


def sample(document: Document, its: Input, value: float, check: Callable[[str], Evaluation]) -> Sample:
    """The findings of the plan with another value."""
    try:
        evaluation = check(with_value(document, its, value))
    except InputError as error:
        key = ("", error.problems[0].path)
        return Sample(value, {key: Severity.ERROR}, {key: f"refused, needs {error.problems[0].accepted}"})
    except (edit.EditError, PathError) as error:
        key = ("", its.path)
        return Sample(value, {key: Severity.ERROR}, {key: str(error)})
    return as_evaluated(value, evaluation)


def as_evaluated(value: float, evaluation: Evaluation) -> Sample:
    """What the checks say of a plan that is evaluated already; advice and what was accepted set no limit."""
    found: dict[tuple[str, str], Severity] = {}
    heads: dict[tuple[str, str], str] = {}
    for outcome in evaluation.findings:
        answer = outcome.answer
        if isinstance(answer, Found) and answer.severity is not Severity.ADVICE and not outcome.waived:
            key = (outcome.rule, outcome.subject.path)
            found[key] = answer.severity
            heads[key] = sentence(answer.headline, answer.figures, evaluation.plan.identity.system)
    return Sample(value, found, heads)


def samples(document: Document, its: Input, check: Callable[[str], Evaluation]) -> Iterator[list[Sample]]:
    """The scale looked at, coarse first, then finer where something changes, then at every step: slips on a
    coupling are found and gone within a few feet. Last, what has a mark of its own is looked for between two
    steps. Ever more of it.
    """
    count = its.steps
    marks = {its.low + its.step * round(count * n / _COARSE) for n in range(_COARSE + 1)}
    done = {value: sample(document, its, value, check) for value in [its.value]}
    for value in sorted(marks - set(done)):
        done[value] = sample(document, its, value, check)
        yield [done[at] for at in sorted(done)]
    while True:
        row = [done[at] for at in sorted(done)]
        between = [
            its.low + its.step * round(((a.value + b.value) / 2.0 - its.low) / its.step)
            for a, b in pairwise(row)
            if a.found != b.found and b.value - a.value > 1.5 * its.step
        ]
        fresh = [value for value in between if value not in done]
        if not fresh:
            break
        for value in fresh:
            done[value] = sample(document, its, value, check)
        yield [done[at] for at in sorted(done)]
    for value in (its.low + its.step * n for n in range(count + 1)):
        if value not in done:
            done[value] = sample(document, its, value, check)
            yield [done[at] for at in sorted(done)]
    part = its.step / _FINER
    while True:
        row = [done[at] for at in sorted(done)]
        everywhere = _everywhere(its, row)
        pairs = [(a, b, _edges(a, b, everywhere)) for a, b in pairwise(row)]
        often = Counter(edge.text for *_, edges in pairs for edge in edges)
        fresh = [
            round(part * round((a.value + b.value) / 2.0 / part), 9)
            for a, b, edges in pairs
            if b.value - a.value > 1.5 * part and any(often[edge.text] <= _MOST_MARKS for edge in edges)
        ]
        if not fresh:
            break
        for value in fresh:
            done[value] = sample(document, its, value, check)
        yield [done[at] for at in sorted(done)]


def _everywhere(its: Input, row: list[Sample]) -> set[tuple[str, str]]:
    """What is found at every other value than the present one."""
    others = [set(one.found) for one in row if one.value != its.value and not _impossible(one)]
    return set.intersection(*others) if others else set()


def limits(its: Input, row: list[Sample]) -> Limits:
    """What the track shows. What is found at every value is no limit; nor is what is found at every other
    value than the present one, which wants something else changed as well: it is told apart.
    """
    everywhere = _everywhere(its, row)
    now = next(one for one in row if one.value == its.value)
    states = [_state(one, everywhere) for one in row]
    bands: list[tuple[float, float, str]] = []
    start = row[0].value
    for (a, state_a), (b, state_b) in pairwise(zip(row, states, strict=True)):
        if state_a != state_b:
            at = a.value if _STATES.index(state_a) < _STATES.index(state_b) else b.value
            bands.append((start, at, state_a))
            start = at
    bands.append((start, row[-1].value, states[-1]))
    edges = [edge for a, b in pairwise(row) for edge in _edges(a, b, everywhere)]
    along = sorted(_called(key, one) for one in row for key in (everywhere - set(now.found)) & set(one.found))
    return Limits(tuple(bands), tuple(edges), ", ".join(dict.fromkeys(along)))


def ranges(edges: tuple[Edge, ...], called: Callable[[float], str]) -> dict[str, str]:
    """What comes and goes more than once along a scale, such as slips on a coupling: where it is found."""
    told: dict[str, str] = {}
    for text, count in Counter(edge.text for edge in edges).items():
        if count <= _MOST_MARKS:
            continue
        words, since = list[str](), ""
        for edge in (one for one in edges if one.text == text):
            at = called(edge.value)
            if edge.side == "under":
                words.append(f"{since} to {at}" if since else f"under {at}")
            since = at if edge.side == "over" else ""
        told[text] = ", ".join([*words, *([f"over {since}"] if since else [])])
    return told


def _edges(a: Sample, b: Sample, everywhere: set[tuple[str, str]]) -> list[Edge]:
    """What begins, or gets worse, from the one value to the next, and what the other way round. A plan that
    cannot be is not checked: nothing else is said to end there.
    """
    made = []
    for free, there, side in ((a, b, "over"), (b, a, "under")):
        if _impossible(free):
            continue
        worse = [key for key in sorted(set(there.found) - everywhere) if _worse(key, there, free)]
        texts = dict.fromkeys(_called(key, there) for key in worse)
        made += [Edge(free.value, text, side) for text in texts]
    return made


def _worse(key: tuple[str, str], there: Sample, free: Sample) -> bool:
    before = free.found.get(key)
    return before is None or (before is not there.found[key] and there.found[key] is Severity.ERROR)


def _impossible(one: Sample) -> bool:
    return any(not rule for rule, _subject in one.found)


def _called(key: tuple[str, str], one: Sample) -> str:
    return key[0].replace("-", " ") or one.heads[key]


def _state(one: Sample, everywhere: set[tuple[str, str]]) -> str:
    """The worst of what is found here and not everywhere."""
    severities = {severity for key, severity in one.found.items() if key not in everywhere}
    if _impossible(one):
        return "refused"
    return "error" if Severity.ERROR in severities else "warns" if severities else "passes"


_CSS = """
:host { display: block }
.slider { font: 14px/1.3 var(--st-font); color: var(--st-text-color); font-variant-numeric: tabular-nums }
.head { display: flex; gap: 10px; align-items: baseline; margin-bottom: 2px }
.head .name { font-weight: 650; flex: 1 } .state { opacity: .78 }
.head .value { font-weight: 650; font-size: 16px }
.track { position: relative; height: 22px }
.band { position: absolute; top: 9px; height: 4px; background: #0b5c8a; box-sizing: border-box }
.band.warns { background: repeating-linear-gradient(90deg, #b84700 0 4px, #fff 4px 7px);
  top: 8px; height: 6px; outline: 1px solid #b84700 }
.band:is(.error, .refused) { top: 3px; height: 16px; border: 1px solid currentColor;
  background: repeating-linear-gradient(135deg, #fff 0 3px, #333 3px 4.5px) }
.track.unknown::before { content: ''; position: absolute; left: 0; right: 0; top: 10px;
  border-top: 3px dashed var(--st-text-color); opacity: .6 }
.tick { position: absolute; top: 2px; height: 18px; border-left: 2px solid currentColor }
input { position: absolute; left: -8px; width: calc(100% + 16px); top: 0; height: 22px; margin: 0;
  appearance: none; background: none; cursor: pointer; outline-offset: 1px }
input:focus-visible { outline: 3px solid var(--st-primary-color) }
input::-webkit-slider-thumb { appearance: none; width: 12px; height: 22px; background: var(--st-text-color);
  border: 1px solid var(--st-background-color); margin: 0 2px }
input::-moz-range-thumb { width: 12px; height: 22px; border-radius: 0; background: var(--st-text-color);
  border: 1px solid var(--st-background-color) }
.words { position: relative; font-size: 12.5px; opacity: .85 }
.words span { position: absolute; white-space: nowrap }
.along { font-size: 12.5px; margin: 2px 0 0; opacity: .85 }
.along button { font: inherit; color: inherit; background: none; border: 0; padding: 0; cursor: pointer;
  text-decoration: underline }
.along button:focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
"""

_JS = r"""
function node(tag, cls, text) {
  const made = document.createElement(tag);
  made.className = cls; made.textContent = text ?? '';
  return made;
}
export default function ({ data, parentElement, setStateValue }) {
  const host = parentElement.querySelector('.slider');
  const share = value => Math.min(1, Math.max(0, (value - data.low) / (data.high - data.low)));
  const percent = value => `${100 * share(value)}%`;
  const word = value => {
    const there = data.bands.filter(([a, b]) => value >= a && value <= b).map(band => band[2]);
    const its = ['passes', 'warns', 'error', 'refused'];
    return its.find(kind => there.includes(kind)) ?? '';   // a mark is free of it
  };
  const head = node('div', 'head'), state = node('span', 'state'), value = node('span', 'value');
  head.append(node('span', 'name', data.label), state, value);
  const track = node('div', data.bands.length ? 'track' : 'track unknown');
  for (const [a, b, kind] of data.bands) {
    const made = node('div', `band ${kind}`);
    made.style.left = percent(a); made.style.width = `${100 * (share(b) - share(a))}%`;
    track.append(made);
  }
  const input = document.createElement('input');
  Object.assign(input, { type: 'range', min: data.low, max: data.high, step: 'any' });
  input.value = data.value;
  const snapped = () => data.low + data.step * Math.round((+input.value - data.low) / data.step);
  const show = number => {
    const text = `${number.toFixed(data.digits)} ${data.unit}`.trim();
    state.textContent = word(number); value.textContent = text;
    input.setAttribute('aria-valuetext', [text, word(number)].filter(Boolean).join(', '));
  };
  input.setAttribute('aria-label', `${data.label}, slider`);
  show(+data.value);
  state.textContent = word(+data.value); value.textContent = data.written;
  input.oninput = () => show(snapped());
  input.onchange = () => setStateValue('value', { value: snapped(), from: data.value });
  const let_go = () => { clearTimeout(input.__wait); input.__wait = 0; input.onchange(); };
  input.onkeydown = e => {
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[e.key];
    if (!by) return;
    e.preventDefault();
    input.value = snapped() + by * data.step;
    show(snapped());
    clearTimeout(input.__wait);
    input.__wait = setTimeout(let_go, 500);
  };
  const words = node('div', 'words');
  const ticks = new Map();
  const mark = at => {
    const tick = node('div', 'tick'); tick.style.left = percent(at); track.append(tick);
  };
  for (const { value, at, side, text, said } of data.edges) {  // each side of a mark is told by itself
    mark(value);
    if (!said) continue;
    const key = `${side} ${at}`, its = ticks.get(key) ?? { value, texts: [] };
    its.texts.push(text); ticks.set(key, its);
  }
  for (const [key, { value: at, texts }] of ticks) {
    const more = texts.length > 1 ? `, and ${texts.length - 1} more` : '';
    const span = node('span', '', `${key} ${texts[0]}${more}`);
    span.title = `${key}: ${texts.join('; ')}`; span.__at = share(at); words.append(span);
  }
  track.append(input);
  const ask = node('p', 'along');
  if (!data.bands.length) {
    const way = node('button', '', 'Show the limits');
    way.setAttribute('aria-label', `Show the limits, ${data.label}`);
    way.onclick = () => setStateValue('asked', String(Date.now()));
    ask.append('Not worked out yet: ', way);
  }
  const held = host.getRootNode().activeElement?.type === 'range';
  host.replaceChildren(head, track, words, ...(data.bands.length ? [] : [ask]),
    ...[...data.often, ...(data.along ? [data.along] : [])].map(text => node('p', 'along', text)));
  if (held) input.focus();
  const place = () => {                                   // words under their tick, in the rows they need
    const ends = [], wide = host.clientWidth;
    for (const span of words.children) {
      const width = span.offsetWidth;
      const left = Math.max(0, Math.min(wide - width, span.__at * wide - width / 2));
      let row = ends.findIndex(end => end + 8 < left);
      if (row < 0) row = ends.push(0) - 1;
      ends[row] = left + width;
      span.style.left = `${left}px`; span.style.top = `${row * 17}px`;
    }
    words.style.height = `${ends.length * 17}px`;
  };
  place();
  const watch = new ResizeObserver(place);
  watch.observe(host);
  return () => { watch.disconnect(); if (input.__wait) let_go(); };   // the page is drawn anew: not lost
}
"""

_view = st.components.v2.component("limits_slider", css=_CSS, js=_JS, html='<div class="slider"></div>')


def slider(
    label: str,
    its: Input,
    written: str,
    shown: Limits | None,
    on_change: Callable[[], None],
    on_asked: Callable[[], None],
    key: str,
) -> None:
    """Show an input on its scale; the value let go comes into ``st.session_state[key]["value"]``. Without
    limits it says what they need, and *on_asked* is called when they are asked for there.
    """
    digits = max(0, -math.floor(math.log10(its.step)))
    often = ranges(shown.edges, its.number) if shown else {}
    _view(
        key=key,
        data={
            "label": label,
            "value": its.value,
            "written": written,
            "unit": its.unit,
            "low": its.low,
            "high": its.high,
            "step": its.step,
            "digits": digits,
            "bands": list(shown.bands) if shown else [],
            "edges": [
                {**edge._asdict(), "at": its.number(edge.value), "said": edge.text not in often}
                for edge in (shown.edges if shown else ())
            ],
            "often": [f"{sentence_case(text)}: {where} {its.unit}".strip() for text, where in often.items()],
            "along": f"Any other value also brings: {shown.along}." if shown and shown.along else "",
        },
        default={"value": None, "asked": ""},
        on_value_change=on_change,
        on_asked_change=on_asked,
    )
