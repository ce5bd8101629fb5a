"""What Learn shows that moves or is answered: the steps played one by one, and the choices of a task.

Nodes are made one by one and filled by ``textContent``; a picture is an image, in which nothing runs.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import streamlit as st

from app.more import MORE_CSS, MORE_JS

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
h3 { font-size: 15px; margin: 14px 0 4px; font-weight: 650 } ul { margin: 0; padding-left: 1.2em }
input { width: 100%; accent-color: var(--st-primary-color); height: 30px }
@media (prefers-reduced-motion: reduce) { .play { display: none }
  .next { background: var(--st-primary-color); border-color: var(--st-primary-color); color: #fff } }
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
    <h3>As drawn</h3><ul class="state"></ul>
    <h3 class="of-words">Words</h3><ul class="words"></ul>
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
    part('.of-words').hidden = !frame.words.length;
    for (const list of ['state', 'words']) part(`.${list}`).replaceChildren(...frame[list].map(text => {
      const item = document.createElement('li');
      item.textContent = text;
      return item;
    }));
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

_TASK_CSS = (
    _CSS
    + MORE_CSS
    + """
.kind { opacity: .8; margin: 0 }
h2 { font-size: 19px; line-height: 1.3; margin: 0 0 8px; font-weight: 650; overflow-wrap: anywhere }
dl { display: grid; grid-template-columns: repeat(auto-fill, minmax(136px, 1fr)); margin: 0 0 8px;
  border: 1px solid var(--st-dataframe-border-color); border-width: 1px 0 0 1px; font-size: 14px;
  line-height: 1.3 }
dl div { border: 1px solid var(--st-dataframe-border-color); border-width: 0 1px 1px 0; padding: 3px 7px }
dl .long { grid-column: 1 / -1 } dt { opacity: .78 } dd { margin: 0; font-weight: 650 }
dt, dd { overflow-wrap: anywhere }
fieldset { border: 0; padding: 0; margin: 0 0 4px; min-width: 0 }
legend { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%) }
label, li { display: flex; gap: 10px; align-items: baseline; padding: 5px 10px; margin-bottom: 4px;
  background: var(--st-secondary-background-color); border: 1px solid var(--st-border-color);
  border-radius: 3px; overflow-wrap: anywhere }
summary { cursor: pointer; padding: 3px 0 } details { margin-bottom: 4px } details li { display: block }
summary:focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
label { cursor: pointer } label:has(:checked) { border-color: var(--st-text-color); font-weight: 650 }
label:has(:focus-visible) { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
.short { display: flex; flex-wrap: wrap; gap: 5px } .short label { margin: 0 }
input { accent-color: var(--st-primary-color); flex: none; outline: none }
ol, ul { list-style: none; margin: 0; padding: 0 } li { align-items: center } li span { flex: 1 }
li button { min-width: 44px; padding: 2px 8px }
.more { position: sticky; bottom: var(--covered, 0px); padding: 4px 0; margin: 0;
  background: var(--st-background-color) }
"""
)

_TASK_JS = (
    MORE_JS
    + r"""
let count = 0;                                            // so that the same answer again is told again
function node(tag, text) {
  const made = document.createElement(tag);
  if (text !== undefined) made.textContent = text;
  return made;
}
function folded(words, inside) {
  const made = node('details');
  made.append(node('summary', words), inside);
  return made;
}
function hidden(host, choices) {                          // below the window, or behind its foot
  const told = host.parentNode.querySelector('.more');
  host.__tell = () => {
    const foot = document.querySelector('.st-key-answering')?.getBoundingClientRect().top ?? innerHeight;
    told.textContent = '';
    told.style.setProperty('--covered', `${Math.max(0, innerHeight - foot)}px`);
    const all = choices(), high = Math.min(foot, innerHeight);
    if (seen(all, 'top', 'bottom', -Infinity, high) === all.length) return;
    const count = seen(all, 'top', 'bottom', -Infinity, high - 24);   // its own line covers some, too
    told.textContent = `\u25be ${count} of ${all.length} seen: scroll for the rest`;
  };
  host.__tell();
  if (host.__watched) return;
  host.__watched = new ResizeObserver(() => host.__tell());
  host.__watched.observe(host.getRootNode().host.closest('[data-testid="stColumn"]'));
  const moved = () => host.isConnected ? host.__tell() : document.removeEventListener('scroll', moved, true);
  document.addEventListener('scroll', moved, true);
}
export default function ({ data, parentElement, setStateValue }) {
  const host = parentElement.querySelector('.all'), root = host.getRootNode();
  const tell = numbers => setStateValue('given', { numbers, count: ++count });
  const fields = node('fieldset');
  fields.append(node('legend', data.question));
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
  const kind = node('p', data.kind), sheet = node('dl');
  kind.className = 'kind';
  sheet.append(...data.sheet.map(([label, value]) => {
    const cell = node('div');
    cell.className = value.length > 40 ? 'long' : '';
    cell.append(node('dt', label), node('dd', value));
    return cell;
  }));
  const asked = [kind, node('h2', data.question)], rows = data.sheet.length;
  const fold = () => folded(`The ${rows} figures`, sheet);
  if (data.others) {                                      // answered: the room is for what is said of it
    const others = data.others.length;
    const list = node('ul');
    list.append(...data.others.map(text => node('li', text)));
    host.replaceChildren(...asked, ...(rows ? [fold()] : []),
      ...(others ? [folded(others > 1 ? `Why not the ${others} others` : 'Why not the other', list)] : []));
    hidden(host, () => []);
    return;
  }
  const low = data.tried && matchMedia('(max-width: 1100px), (max-height: 800px)').matches;
  const figures = low && rows ? fold() : sheet;           // a wrong try is told below: the choices stay seen
  if (figures !== sheet) {
    figures.open = !!host.__opened;
    figures.ontoggle = () => { host.__opened = figures.open; };
  }
  host.replaceChildren(...asked, ...(rows ? [figures] : []), fields);
  hidden(host, () => [...fields.querySelectorAll('label, li')]);
  if (held) {
    const again = host.querySelector(`[data-place="${CSS.escape(held)}"]`);
    (again?.disabled ? again.parentElement.querySelector('button:enabled') : again)?.focus();
  }
}
"""
)

_VERDICT_CSS = (
    _CSS
    + """
section { display: flex; gap: 10px; background: var(--st-secondary-background-color); padding: 9px 12px;
  border: 1px solid var(--st-border-color); border-left: 5px solid var(--st-primary-color) }
section.wrong { border-left-color: var(--st-border-color) }
.sign { flex: none; width: 19px; height: 19px; box-sizing: border-box; display: flex; align-items: center;
  justify-content: center; font-size: 13px; font-weight: 650; background: #fff; color: #000;
  border: 2px solid #000 }
.wrong .sign { border-radius: 50% }
h2 { font-size: 16px; margin: 0 0 3px; font-weight: 650 } p { margin: 0 0 3px } .quiet { opacity: .8 }
h2, p { overflow-wrap: anywhere }
"""
)

_VERDICT_JS = r"""
function node(tag, cls, ...inside) {
  const made = document.createElement(tag);
  if (cls) made.className = cls;
  made.append(...inside);                                 // a string becomes a text node, never markup
  return made;
}
export default function ({ data, parentElement }) {
  const host = parentElement.querySelector('.all');
  const sign = node('span', 'sign', data.right ? '\u2713' : '?');
  sign.setAttribute('aria-hidden', 'true');
  const body = node('div', '', node('h2', '', data.head), ...data.lines.map(text => node('p', '', text)),
    ...data.quiet.map(text => node('p', 'quiet', text)));
  const slip = node('section', data.right ? '' : 'wrong', sign, body);
  host.replaceChildren(...(data.head ? [slip] : []));
}
"""

_player = st.components.v2.component("player", css=_PLAYER_CSS, js=_PLAYER_JS, html=_PLAYER_HTML)
_TASK_HTML = '<div class="all"></div><p class="more"></p>'
_task = st.components.v2.component("task", css=_TASK_CSS, js=_TASK_JS, html=_TASK_HTML)
_verdict = st.components.v2.component(
    "verdict", css=_VERDICT_CSS, js=_VERDICT_JS, html='<div class="all" role="status"></div>'
)


def player(frames: Sequence[dict[str, Any]], start: int) -> None:
    """The steps as pictures with title, sentence and words each, sent once; *start* is shown first."""
    _player(key="player", data={"frames": list(frames), "start": start})


def task(key: str, data: dict[str, Any], on_given: Callable[[], None]) -> None:
    """A task: kind, question, sheet of figures, and choices, one to be picked or all to be put in order; once
    answered, why the *others* are not it in place of the choices. Where it was *tried* and there is little
    room, the figures fold.

    What is given comes into ``st.session_state[key]["given"]["numbers"]``.
    """
    _task(key=key, data=data, default={"given": None}, on_given_change=on_given)


def verdict(right: bool, head: str, lines: Sequence[str], quiet: Sequence[str]) -> None:
    """What is said of an answer; with no head, nothing."""
    data = {"right": right, "head": head, "lines": list(lines), "quiet": list(quiet)}
    _verdict(key="verdict", data=data)
