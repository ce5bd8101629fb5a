"""Pump through: the well after any volume pumped, scrubbed and played in the browser without a round trip."""

from __future__ import annotations

from bisect import bisect
from typing import Any

import streamlit as st

from app.apart import at_step, svg
from schematic.checks.evaluate import Evaluation
from schematic.engineering.at_rest import AT_REST, difference_pa
from schematic.job.card import Card
from schematic.job.events import Event
from schematic.job.recorded import as_planned
from schematic.outcome import Figure, sentence
from schematic.units import UnitError, like_in, number, parse, sentence_case, show, unit_of, with_unit

CODES = ("pump-spacer-and-cement", "dart-meets-plug", "displace-the-liner", "bump-the-plug")
_EVEN = 24  # states between which the scrubber goes, beside those of the events
_THIN = "\u202f"
_PAPER_MM = (94.0, 116.0)  # low, as scrubber and words stand below it; lower ones leave out fronts

_CSS = """
:host { display: block }
.all { font-family: var(--st-font); color: var(--st-text-color); font-variant-numeric: tabular-nums }
.paper { background: #fff; border: 1px solid var(--st-border-color); position: relative;
  height: calc(100vh - 405px); min-height: 350px }
.paper img { position: absolute; inset: 0; width: 100%; height: 100%; object-fit: contain }
.volume { display: flex; flex-wrap: wrap; gap: 4px 6px; align-items: center; font-size: 15px }
.volume label { display: flex; gap: 6px; align-items: center }
:is(.box, .since) { font: inherit; min-height: 44px; padding: 2px 6px; color: inherit; box-sizing: border-box;
  background: var(--st-secondary-background-color); border: 1px solid var(--st-border-color);
  border-radius: 3px }
.box { width: 5.2em } .since { max-width: 9.5em }
.wrong { font-weight: 650 } .wrong:empty { display: none }
.looking { font-size: 17px; font-weight: 650; margin: 2px 0 }
p { margin: 0 0 2px; font-size: 14.5px; line-height: 1.3 }
.row { display: flex; gap: 10px; align-items: center; min-height: 44px }
button { font: inherit; min-height: 44px; min-width: 44px; padding: 4px 14px; background: transparent;
  border: 1px solid var(--st-border-color); border-radius: 3px; color: inherit; cursor: pointer }
[type=range] { flex: 1; accent-color: var(--st-primary-color); height: 44px; min-width: 0 }
:is(button, input, select):focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
@media (prefers-reduced-motion: reduce) { .play { display: none } }
"""

_HTML = """
<div class="all">
  <div class="paper"></div>
  <div class="row"><button class="play">Play</button>
    <input type="range" min="0" step="1" aria-label="Volume pumped"></div>
  <div class="volume">
    <label><span class="unit"></span><input class="box" type="text" autocomplete="off"></label>
    <select class="since" aria-label="Counted from">
      <option value="job">from first fluid</option><option value="dart">from the dart</option>
    </select></div>
  <div class="told" role="status"><p class="wrong"></p>
    <p class="looking"></p><p class="next"></p><p class="rest"></p></div>
  <p class="planned">As planned: readings do not move it.</p>
</div>
"""

_JS = r"""
const PACE = 350;                                         // for each state
export default function ({ data, parentElement, setStateValue }) {
  const host = parentElement.querySelector('.all'), paper = host.querySelector('.paper');
  const part = name => host.querySelector(name), range = part('[type=range]'), play = part('.play');
  const box = part('.box'), since = part('.since'), wrong = part('.wrong');
  const frames = data.frames, source = frames.map(f => f.svg).join('');
  function show(number) {
    const to = Math.min(Math.max(number, 0), frames.length - 1), frame = frames[to];
    range.value = to;
    range.setAttribute('aria-valuetext', frame.looking);
    [...paper.children].forEach((img, i) => { img.style.visibility = i === to ? 'visible' : 'hidden'; });
    box.value = frame[since.value]; wrong.textContent = '';
    part('.looking').textContent = frame.looking;
    part('.next').textContent = frame.next; part('.rest').textContent = frame.rest;
  }
  const at = () => Number(range.value), last = frames.length - 1;
  function stop() { clearInterval(host.__timer); host.__timer = 0; play.textContent = 'Play'; }
  function start() {
    if (at() === last) show(0);
    play.textContent = 'Pause';
    host.__timer = setInterval(() => { show(at() + 1); if (at() === last) stop(); }, PACE);
  }
  if (host.__source !== source) {
    stop();
    range.max = last;
    paper.replaceChildren(...frames.map(f => {
      const img = document.createElement('img');
      img.alt = f.looking;
      img.src = 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(f.svg);
      return img;
    }));
    host.__source = source;
    if (host.__begun !== data.begun) { since.value = data.since; host.__begun = data.begun; }
    show(data.start);
  }
  part('.unit').textContent = `Pumped, ${data.unit}`;
  if (data.asked && host.__asked !== data.asked.count) {       // what was asked last is answered once
    host.__asked = data.asked.count;
    if (data.wrong) { box.value = data.asked.text; wrong.textContent = data.wrong; } else show(data.start);
  }
  function ask() {
    stop();
    if (box.value.trim() === frames[at()][since.value]) return;
    host.__count = Math.max(host.__count ?? 0, data.asked?.count ?? 0) + 1;
    setStateValue('asked', { text: box.value, since: since.value, count: host.__count });
  }
  box.onchange = ask;
  since.onchange = () => show(at());
  range.oninput = () => { stop(); show(at()); };
  play.onclick = () => host.__timer ? stop() : start();
  return () => stop();
}
"""

_view = st.components.v2.component("pumping", css=_CSS, js=_JS, html=_HTML)


def volumes(evaluation: Evaluation) -> tuple[float, ...]:
    """The volumes pumped that are looked at, in m3: even ones, and where something happens."""
    total = evaluation.job.train.total_m3
    at = {total * n / _EVEN for n in range(_EVEN + 1)}
    at |= {m3 for m3, _event in _coming(evaluation) if m3 <= total}
    return tuple(sorted(at))


def _coming(evaluation: Evaluation) -> list[tuple[float, Event]]:
    """The events as planned in their order, and what is pumped when they come."""
    begun = {"job": 0.0, "dart": evaluation.job.train.dart_from_m3}
    its = [
        (begun[one.since] + one.volume_m3[0], one)
        for one in as_planned(evaluation.job).events
        if one.since in begun
    ]
    return sorted(its, key=lambda found: found[0])


def frame(evaluation: Evaluation, card: Card, pumped_m3: float) -> dict[str, Any]:
    """The well after a volume pumped, and in words what comes next."""
    job, system = evaluation.job, evaluation.plan.identity.system
    begun = job.train.dart_from_m3
    place = job.train.at(pumped_m3)
    scene = card.scene._replace(
        inside=place.inside,
        outside=place.outside,
        dart_md_m=place.dart_md_m,
        plug_md_m=place.plug_md_m,
        plug_latched=place.landed,
        pressure_from_md_m=None,
        pressure_to_md_m=None,
    )
    page = at_step(evaluation, card._replace(scene=scene), None, _PAPER_MM)
    path, shoe = evaluation.plan.depth.path, evaluation.plan.depth.liner.shoe_md_m
    over = difference_pa(place, path, shoe)
    rest = (
        "Surface pressure {p} to balance the columns, " if over >= 0.0 else "The string is heavier by {p}, "
    )
    return {
        "svg": svg(page).decode(),
        "job": number(pumped_m3, "volume", system),
        "dart": "" if pumped_m3 < begun else number(pumped_m3 - begun, "volume", system),
        "looking": f"Looking at {_counted(evaluation, pumped_m3)}",
        "next": _next(evaluation, pumped_m3),
        "rest": sentence(rest, {"p": Figure(abs(over), "pressure")}, system) + AT_REST + ".",
    }


def _counted(evaluation: Evaluation, pumped_m3: float) -> str:
    """A volume pumped since the first fluid, and since the dart, from which the card counts."""
    system, dart_m3 = evaluation.plan.identity.system, evaluation.job.train.dart_from_m3
    told = f"{show(pumped_m3, 'volume', system, _THIN)} in all"
    if pumped_m3 < dart_m3:
        return f"{told}, before the dart"
    return f"{told}, {show(pumped_m3 - dart_m3, 'volume', system, _THIN)} from the dart"


def _next(evaluation: Evaluation, pumped_m3: float) -> str:
    """Which event comes next, and after how much."""
    system = evaluation.plan.identity.system
    coming = [found for found in _coming(evaluation) if found[0] > pumped_m3 + 1e-9]
    if not coming:
        return "Nothing more is to come."
    at_m3, event = coming[0]
    left = at_m3 - pumped_m3
    told = show(left, "volume", system, _THIN)
    if event.stroke_m3:
        told += f", {show(left * event.pump[0] / event.stroke_m3, 'count', system, _THIN)} strokes"
    return f"{sentence_case(event.name)} in {told}."


def pumped(evaluation: Evaluation, typed: str, since: str) -> float | str:
    """A volume typed, from the first fluid or from the dart, as one pumped in all; or why it is none."""
    system, its = evaluation.plan.identity.system, evaluation.job.train
    try:
        m3 = parse(with_unit(typed, unit_of("volume", system), "volume"), "volume").si
    except UnitError as error:
        return f"Not drawn: {error.found}. Accepted: {error.accepted}. Mend: {like_in(error.mend, system)}."
    begun = its.dart_from_m3 if since == "dart" else 0.0
    ends = its.total_m3 - begun
    if number(m3, "volume", system) == number(ends, "volume", system):
        return its.total_m3  # as it is printed
    if 0.0 <= m3 <= ends:
        return begun + m3
    told, origin = show(m3, "volume", system, _THIN), "the dart" if since == "dart" else "the first fluid"
    if m3 < 0.0:
        return f"Not drawn: {told} from {origin} is before it. Write a volume from nought on."
    return f"Not drawn: {told} from {origin} is beyond the bump, at {show(ends, 'volume', system, _THIN)}."


def begins(evaluation: Evaluation, card: Card) -> float:
    """What is pumped in all when a step begins, in m3; raises MissingInput when the train is not computed."""
    its = evaluation.job.train
    begun = {
        "pump-spacer-and-cement": 0.0,
        "displace-the-liner": min(its.dart_from_m3 + (its.to_plug_m3 or 0.0), its.total_m3),
        "bump-the-plug": its.total_m3,
    }
    return begun.get(card.code, its.dart_from_m3)


def pump_through(evaluation: Evaluation, card: Card) -> None:
    """The scrubber, begun where the step stands; raises MissingInput when the train is not computed."""
    key = f"pumping-{st.session_state.demo}-{card.code}"
    its, frames = _frames(evaluation, card)
    start = begins(evaluation, card)
    asked, wrong = (st.session_state.get(key) or {}).get("asked"), ""
    looked = st.session_state.setdefault("looked", {})  # at what volume was looked last, by the box
    if asked:
        found = pumped(evaluation, str(asked["text"]), str(asked["since"]))
        if isinstance(found, str):
            wrong = found
        else:
            looked[key] = found
    if key in looked:
        start = min(looked[key], its[-1])
        if start not in its:
            place = bisect(its, start)
            its = (*its[:place], start, *its[place:])
            frames = [*frames[:place], frame(evaluation, card, start), *frames[place:]]
    _view(
        key=key,
        data={
            "frames": frames,
            "start": min(range(len(its)), key=lambda n: abs(its[n] - start)),
            "since": "job" if card.code == "pump-spacer-and-cement" else "dart",
            "begun": key,
            "unit": unit_of("volume", evaluation.plan.identity.system).replace("m3", "m\u00b3"),
            "asked": asked,
            "wrong": wrong,
        },
        default={"asked": None},
        on_asked_change=lambda: None,
    )


def _frames(evaluation: Evaluation, card: Card) -> tuple[tuple[float, ...], list[dict[str, Any]]]:
    """All states; those made last are kept, as every click on the page asks for them."""
    kept = st.session_state.get("pumped")
    if kept is None or kept[0] is not evaluation or kept[1] != card.code:
        its = volumes(evaluation)
        kept = evaluation, card.code, its, [frame(evaluation, card, m3) for m3 in its]
        st.session_state.pumped = kept
    return kept[2], kept[3]
