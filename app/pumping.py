"""Pump through: the well after any volume pumped, scrubbed and played in the browser without a round trip."""

from __future__ import annotations

from typing import Any

import streamlit as st

from app.apart import TALL_MM, at_step, svg
from schematic.checks.evaluate import Evaluation
from schematic.engineering.at_rest import AT_REST, difference_pa
from schematic.job.card import Card
from schematic.job.events import Event
from schematic.job.recorded import as_planned
from schematic.outcome import Figure, sentence
from schematic.units import sentence_case, show

CODES = ("pump-spacer-and-cement", "dart-meets-plug", "displace-the-liner", "bump-the-plug")
_EVEN = 24  # states between which the scrubber goes, beside those of the events
_THIN = "\u202f"

_CSS = """
:host { display: block }
.all { font-family: var(--st-font); color: var(--st-text-color); font-variant-numeric: tabular-nums }
.paper { background: #fff; border: 1px solid var(--st-border-color); position: relative;
  height: calc(100vh - 330px); min-height: 380px }
.paper img { position: absolute; inset: 0; width: 100%; height: 100%; object-fit: contain }
.looking { font-size: 22px; font-weight: 650; margin: 6px 0 2px } p { margin: 0 0 3px; font-size: 15px }
.row { display: flex; gap: 10px; align-items: center; min-height: 44px }
button { font: inherit; min-height: 44px; min-width: 44px; padding: 4px 14px; background: transparent;
  border: 1px solid var(--st-border-color); border-radius: 3px; color: inherit; cursor: pointer }
input { flex: 1; accent-color: var(--st-primary-color); height: 44px; min-width: 0 }
:is(button, input):focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
@media (prefers-reduced-motion: reduce) { .play { display: none } }
"""

_HTML = """
<div class="all">
  <div class="paper"></div>
  <div class="row"><button class="play">Play</button>
    <input type="range" min="0" step="1" aria-label="Volume pumped"></div>
  <div class="told" role="status"><p class="looking"></p><p class="next"></p><p class="rest"></p></div>
  <p class="planned">As planned: readings do not move it. 'In all' counts from the first fluid.</p>
</div>
"""

_JS = r"""
const PACE = 350;                                         // for each state
export default function ({ data, parentElement }) {
  const host = parentElement.querySelector('.all'), paper = host.querySelector('.paper');
  const part = name => host.querySelector(name), range = part('input'), play = part('.play');
  const frames = data.frames, source = frames.map(f => f.svg).join('');
  function show(number) {
    const to = Math.min(Math.max(number, 0), frames.length - 1), frame = frames[to];
    range.value = to;
    range.setAttribute('aria-valuetext', frame.looking);
    [...paper.children].forEach((img, i) => { img.style.visibility = i === to ? 'visible' : 'hidden'; });
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
    show(data.start);
  }
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
    page = at_step(evaluation, card._replace(scene=scene), None, TALL_MM)
    path, shoe = evaluation.plan.depth.path, evaluation.plan.depth.liner.shoe_md_m
    over = difference_pa(place, path, shoe)
    rest = (
        "Surface pressure {p} to balance the columns, " if over >= 0.0 else "The string is heavier by {p}, "
    )
    return {
        "svg": svg(page).decode(),
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


def pump_through(evaluation: Evaluation, card: Card) -> None:
    """The scrubber, begun where the step stands; raises MissingInput when the train is not computed."""
    its = volumes(evaluation)
    frames = [frame(evaluation, card, m3) for m3 in its]
    begun = {"pump-spacer-and-cement": 0.0, "bump-the-plug": its[-1]}
    start = begun.get(card.code, evaluation.job.train.dart_from_m3)
    number = min(range(len(its)), key=lambda n: abs(its[n] - start))
    _view(key="pumping", data={"frames": frames, "start": number})
