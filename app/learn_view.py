"""What Learn shows that moves or is answered: the steps played one by one, and the choices of a task.

Nodes are made one by one and filled by ``textContent``; a picture is an image, in which nothing runs.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import streamlit as st

_CSS = """
:host { display: block; container-type: inline-size }
.all { font-family: var(--st-font); color: var(--st-text-color); font-size: 15px; line-height: 1.4;
  font-variant-numeric: tabular-nums }
button { font: inherit; min-height: 36px; padding: 4px 14px; border: 1px solid var(--st-border-color);
  border-radius: 3px; background: transparent; color: inherit; cursor: pointer }
button:disabled { opacity: .45; cursor: default }
button.first { background: var(--st-primary-color); border-color: var(--st-primary-color); color: #fff }
:is(button, input, li):focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
"""

_PLAYER_CSS = (
    _CSS
    + """
.all { display: grid; grid-template-columns: 55fr 45fr; gap: 16px }
.paper { background: #fff; border: 1px solid var(--st-border-color); position: relative; min-height: 420px;
  height: calc(100vh - 186px) }
.paper img { position: absolute; inset: 0; width: 100%; height: 100%; object-fit: contain }
h2 { font-size: 24px; margin: 0 0 6px; font-weight: 650; overflow-wrap: anywhere }
.say { font-size: 18px; margin: 0 0 14px; min-height: 4.2em }
.count { opacity: .8; margin: 0 0 2px }
.row { display: flex; flex-wrap: wrap; gap: 10px; margin-bottom: 12px }
input { width: 100%; accent-color: var(--st-primary-color); height: 30px }
@media (prefers-reduced-motion: reduce) { .play { display: none } }
@container (max-width: 640px) { .all { grid-template-columns: 1fr } .paper { height: 60vh } }
"""
)

_PLAYER_HTML = """
<div class="all">
  <div class="paper"></div>
  <section aria-label="Watch it work">
    <p class="count"></p>
    <div class="told" aria-live="polite"><h2></h2><p class="say"></p></div>
    <div class="row"><button class="back">Back</button><button class="play first">Play</button>
      <button class="next">Next step</button></div>
    <input type="range" min="0" step="1" aria-label="Step of the job">
  </section>
</div>
"""

_PLAYER_JS = r"""
const PACE = 4000;                                        // for each step, to read its sentence
export default function ({ data, parentElement }) {
  const host = parentElement.querySelector('.all'), paper = host.querySelector('.paper');
  const part = name => host.querySelector(name), range = part('input'), play = part('.play');
  const frames = data.frames, source = frames.map(f => f.svg).join('');
  const at = () => Number(range.value);
  function show(number) {
    const to = Math.min(Math.max(number, 0), frames.length - 1), frame = frames[to];
    range.value = to;
    range.setAttribute('aria-valuetext', `step ${to + 1} of ${frames.length}, ${frame.title}`);
    [...paper.children].forEach((img, i) => { img.style.visibility = i === to ? 'visible' : 'hidden'; });
    part('.count').textContent = `Step ${to + 1} of ${frames.length}`;
    part('h2').textContent = frame.title; part('.say').textContent = frame.say;
    part('.back').disabled = to === 0; part('.next').disabled = to === frames.length - 1;
  }
  function stop() { clearInterval(host.__timer); host.__timer = 0; play.textContent = 'Play'; }
  function start() {
    if (at() === frames.length - 1) show(0);
    play.textContent = 'Pause';
    host.__timer = setInterval(() => { show(at() + 1); if (at() === frames.length - 1) stop(); }, PACE);
  }
  if (host.__source !== source) {
    stop();
    range.max = frames.length - 1;
    paper.replaceChildren(...frames.map(f => {
      const img = document.createElement('img');
      img.alt = `The well at the step: ${f.title}`;
      img.src = 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(f.svg);
      return img;
    }));
    host.__source = source; host.__start = undefined;
  }
  if (host.__start !== data.start) { stop(); show(data.start); host.__start = data.start; }
  part('.back').onclick = () => { stop(); show(at() - 1); };
  part('.next').onclick = () => { stop(); show(at() + 1); };
  range.oninput = () => { stop(); show(at()); };
  play.onclick = () => host.__timer ? stop() : start();
  return () => stop();
}
"""

_CHOICES_CSS = (
    _CSS
    + """
fieldset { border: 0; padding: 0; margin: 0 0 4px; min-width: 0 }
legend { padding: 0; font-weight: 650; margin-bottom: 4px }
label, li { display: flex; gap: 10px; align-items: baseline; padding: 7px 10px; margin-bottom: 5px;
  background: var(--st-secondary-background-color); border: 1px solid var(--st-border-color);
  border-radius: 3px; overflow-wrap: anywhere }
label { cursor: pointer } label:has(:checked) { border-color: var(--st-text-color); font-weight: 650 }
label:has(:focus-visible) { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
.short { display: flex; flex-wrap: wrap; gap: 5px } .short label { margin: 0 }
input { accent-color: var(--st-primary-color); flex: none; outline: none }
ol { list-style: none; margin: 0; padding: 0 } li { align-items: center } li span { flex: 1 }
li button { min-width: 44px; padding: 2px 8px }
"""
)

_CHOICES_JS = r"""
let count = 0;                                            // so that the same answer again is told again
function node(tag, text) {
  const made = document.createElement(tag);
  if (text !== undefined) made.textContent = text;
  return made;
}
export default function ({ data, parentElement, setStateValue }) {
  const host = parentElement.querySelector('.all'), root = host.getRootNode();
  const tell = numbers => setStateValue('given', { numbers, count: ++count });
  const fields = node('fieldset');
  fields.append(node('legend', data.legend));
  fields.disabled = data.locked;
  const held = root.activeElement?.dataset?.place;
  if (data.ordered) {
    const list = node('ol'), numbers = [...data.given];
    numbers.forEach((number, place) => {
      const item = node('li');
      item.append(node('span', `${place + 1}  ${data.choices[number]}`));
      for (const [words, step] of [['Up', -1], ['Down', 1]]) {
        const button = node('button', words), to = place + step;
        button.type = 'button';
        button.disabled = to < 0 || to >= numbers.length;
        button.setAttribute('aria-label', `${words}: ${data.choices[number]}`);
        button.dataset.place = number + words;
        button.onclick = () => {
          [numbers[place], numbers[to]] = [numbers[to], numbers[place]];
          tell(numbers);
        };
        item.append(button);
      }
      list.append(item);
    });
    fields.append(list);
  } else {
    const box = node('div');
    box.className = data.choices.every(text => text.length < 4) ? 'short' : '';
    data.choices.forEach((text, number) => {
      const label = node('label'), input = node('input');
      input.type = 'radio'; input.name = 'choice'; input.checked = data.given[0] === number;
      input.dataset.place = String(number);
      input.onchange = () => tell([number]);
      label.append(input, node('span', text));
      box.append(label);
    });
    fields.append(box);
  }
  host.replaceChildren(fields);
  if (held) {
    const again = host.querySelector(`[data-place="${CSS.escape(held)}"]`);
    (again?.disabled ? again.parentElement.querySelector('button:enabled') : again)?.focus();
  }
}
"""

_player = st.components.v2.component("player", css=_PLAYER_CSS, js=_PLAYER_JS, html=_PLAYER_HTML)
_choices = st.components.v2.component(
    "choices", css=_CHOICES_CSS, js=_CHOICES_JS, html='<div class="all"></div>'
)


def player(frames: Sequence[dict[str, str]], start: int) -> None:
    """The steps as pictures with a title and a sentence each, sent once; *start* is shown first."""
    _player(key="player", data={"frames": list(frames), "start": start})


def choices(
    key: str,
    legend: str,
    texts: Sequence[str],
    given: Sequence[int],
    ordered: bool,
    locked: bool,
    on_given: Callable[[], None],
) -> None:
    """The choices of a task, one to be picked or all to be put in order; what is given comes into
    ``st.session_state[key]["given"]["numbers"]``.
    """
    data: dict[str, Any] = {
        "legend": legend,
        "choices": list(texts),
        "given": list(given),
        "ordered": ordered,
        "locked": locked,
    }
    _choices(key=key, data=data, default={"given": None}, on_given_change=on_given)
