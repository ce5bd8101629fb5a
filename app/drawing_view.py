"""The drawing on the page: pages of SVG on white paper, whose parts are chosen by click and by keyboard.

The SVG is parsed, stripped to an allow-list of elements and attributes, and inserted: nothing of it is
executed and nothing is fetched. One part at a time is a tab stop; arrow keys walk the parts.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, cast

import streamlit as st

from app.more import MORE_CSS

# The component drops the style that the file itself carries: its texts were measured without kerning.
# Lengths inside the drawing are millimetres of its paper.
_CSS = (
    MORE_CSS
    + """
:host { display: block }
.paper { background: #fff; color: #000; border: 1px solid var(--st-border-color); overflow: auto;
  height: var(--paper-high, calc(100vh - 178px)); min-height: 420px }
.paper svg { width: 100%; max-height: max(100%, var(--least)); display: block }
.band:not(:empty) + svg { max-height: max(100% - 29px, var(--least)) }
.band { position: sticky; top: 0; left: 0; padding: 5px 10px; background: #161d1f; color: #fff;
  font: 650 14px/1.3 var(--st-font) } .band:empty { display: none }
.paper.whole svg { max-height: none } .paper.whole svg + svg { border-top: 9px solid var(--st-border-color) }
.paper.low { height: calc(100vh - 236px); padding: 5px; box-sizing: border-box }
.paper.low svg { height: 100%; max-height: none }
.paper svg text { font-kerning: none; font-variant-ligatures: none }
[data-part] { cursor: pointer }
[data-part]:focus { outline: none }
[data-part]:focus-visible { outline: .7px solid #0b5c8a; outline-offset: .3px }
[data-part]:hover path { filter: drop-shadow(0 0 .5px #0b5c8a) }
.tint { fill: #fff0a6; pointer-events: none } .over { mix-blend-mode: multiply }
.bracket { fill: none; stroke: #000; stroke-width: .55; pointer-events: none }
.tip { position: fixed; z-index: 1000; pointer-events: none; display: none; max-width: 24rem;
  padding: 3px 7px; background: #fff; color: #000; border: 1px solid #555; font: 13px var(--st-font) }
.tip.on { display: block }
.more { margin: -5px 0 4px }
.more:not(:empty) + .paper { height: calc(var(--paper-high, 100vh - 178px) - 16px) }
"""
)

JS = r"""
const KEPT = new Set(['svg', 'g', 'rect', 'path', 'text']);
const BARE = new RegExp('^(id|d|x|y|width|height|viewBox|transform|text-?\\w+|lengthAdjust|fill[\\w-]*|'
  + 'stroke[\\w-]*|font-\\w+|aria-label|data-part)$');
const NS = 'http://www.w3.org/2000/svg';
function clean(root) {
  for (const el of [root, ...root.querySelectorAll('*')]) {
    if (!KEPT.has(el.localName) || el.namespaceURI !== NS) { el.remove(); continue; }
    for (const a of [...el.attributes]) {
      const told = a.name === 'aria-label' || a.name === 'data-part';   // texts, not references
      if (!BARE.test(a.name) || (!told && /url\(|\\/i.test(a.value))) el.removeAttribute(a.name);
    }
  }
  return root;
}
const VOLUMES = 'g[data-part^="volumes."], g:not([data-part])[aria-label="volumes"]';
function page(text, narrow) {
  const doc = new DOMParser().parseFromString(text, 'image/svg+xml');
  if (doc.documentElement.localName !== 'svg' || doc.querySelector('parsererror'))
    return document.createTextNode('The drawing is not well-formed.');
  const svg = document.importNode(clean(doc.documentElement), true);
  if (narrow) svg.querySelectorAll(VOLUMES).forEach(g => g.remove());
  trim(svg); unstretched(svg);
  svg.setAttribute('role', 'group');                    // an image would hide its parts from a reader
  svg.setAttribute('aria-label', 'Drawing of the well; arrow keys walk its parts, Enter chooses');
  for (const g of svg.querySelectorAll('g[data-part]')) { g.setAttribute('role', 'button'); g.tabIndex = -1; }
  return svg;
}
const ruler = document.createElement('canvas').getContext('2d');
function unstretched(svg) {                              // where the font they were measured in is at hand
  const texts = [...svg.querySelectorAll('text[textLength]')], family = svg.getAttribute('font-family');
  const fits = text => {
    const length = +text.getAttribute('textLength');
    ruler.font = `${text.getAttribute('font-weight') ?? ''} 100px ${family}`;
    ruler.fontKerning = 'none';
    const width = ruler.measureText(text.textContent).width / 100 * +text.getAttribute('font-size');
    return Math.abs(width - length) < .003 * length;
  };
  const long = texts.filter(text => text.textContent.length > 9);
  const bold = text => text.getAttribute('font-weight') === 'bold';
  const some = [...long.filter(bold).slice(0, 5), ...long.filter(text => !bold(text)).slice(0, 5)];
  if (some.length && some.every(fits)) texts.forEach(text => text.removeAttribute('textLength'));
}
function union(boxes, margin) {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y, width, height } of boxes) {
    left = Math.min(left, x); right = Math.max(right, x + width);
    top = Math.min(top, y); bottom = Math.max(bottom, y + height);
  }
  const width = right - left + 2 * margin, height = bottom - top + 2 * margin;
  return { x: left - margin, y: top - margin, width, height };
}
function extent(el) {                                    // read: asking would lay all texts out once more
  const n = name => +(el.getAttribute(name) ?? 0);
  if (el.localName === 'path') {
    const at = [...(el.getAttribute('d') ?? '').matchAll(/[ML](-?[.\d]+) (-?[.\d]+)/g)];
    return at.map(([, x, y]) => ({ x: +x, y: +y, width: 0, height: 0 }));
  }
  if (el.localName === 'rect') return [{ x: n('x'), y: n('y'), width: n('width'), height: n('height') }];
  const size = n('font-size'), length = n('textLength') || size;
  const upward = el.hasAttribute('transform'), [width, height] = upward ? [size, length] : [length, size];
  return [{ x: n('x') - (upward ? size : 0), y: n('y') - height, width, height }];
}
function trim(svg) {                                     // margins are for the printer
  const all = union([...svg.querySelectorAll(':scope > g :is(path, rect, text)')].flatMap(extent), .5);
  if (!isFinite(all.x)) return;
  svg.setAttribute('viewBox', `${all.x} ${all.y} ${all.width} ${all.height}`);
  svg.removeAttribute('width'); svg.removeAttribute('height');
}
function shape(name, attributes) {
  const made = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}
const wordless = g => !g.querySelector('text');
const title = g => g.getAttribute('aria-label') ?? '';
function upright(text) {                                 // of a text that reads upward, the box on the page
  const b = text.getBBox(), turned = text.getAttribute('transform') ?? '';
  const at = /^rotate\(-90 ([-.\d]+) ([-.\d]+)\)$/.exec(turned);
  if (!at) return b;
  const x = +at[1], y = +at[2];
  return { x: x + b.y - y, y: y - (b.x + b.width - x), width: b.height, height: b.width };
}
function mark(groups, chosen) {                          // tint and brackets, so that it shows in grey too
  const told = g => !chosen.only?.length || wordless(g) || chosen.only.includes(title(g));
  const its = groups.filter(g => g.dataset.part === chosen.part && told(g)), bodies = its.filter(wordless);
  const clicked = its.find(g => title(g) === chosen.title);
  const body = clicked && wordless(clicked) ? clicked
    : bodies.find(g => title(g) === chosen.title) ?? bodies[0] ?? clicked ?? its[0];
  for (const g of its) {
    g.setAttribute('aria-pressed', 'true');
    const texts = [...g.querySelectorAll('text')].map(upright);
    const boxes = texts.length ? texts : g === body ? [g.getBBox()] : [];
    if (!boxes.length) continue;
    const box = union(boxes, .3);
    if (texts.length) g.prepend(shape('rect', { class: 'tint', ...box }));   // behind the words
    else g.ownerSVGElement.append(shape('rect', { class: 'tint over', ...box }));
    if (g !== body) continue;
    const [l, r, t, b] = [box.x - .5, box.x + box.width + .5, box.y - .3, box.y + box.height + .3];
    const d = `M${l + 1.4} ${t}H${l}V${b}H${l + 1.4}M${r - 1.4} ${t}H${r}V${b}H${r - 1.4}`;
    g.ownerSVGElement.append(shape('path', { class: 'bracket', d }));
  }
}
export default function ({ data: [data], parentElement, setStateValue }) {
  const paper = parentElement.querySelector('.paper'), tip = parentElement.querySelector('.tip');
  paper.classList.toggle('low', !!data.low); paper.classList.toggle('whole', !!data.whole);
  let groups = [], stops = [];
  const stop = g => { groups.forEach(one => { one.tabIndex = -1; }); if (g) g.tabIndex = 0; };
  const at = () => stops.indexOf(paper.getRootNode().activeElement);
  function dress() {                                     // what is chosen, and what the arrow keys walk
    paper.querySelector('.band').textContent = data.band ?? '';
    groups = [...paper.querySelectorAll('g[data-part]')];
    paper.querySelectorAll('.tint, .bracket').forEach(e => e.remove());
    groups.forEach(g => g.setAttribute('aria-pressed', 'false'));
    if (data.chosen) mark(groups, data.chosen);
    const sought = data.chosen ? `${data.chosen.part} ${data.chosen.title}` : '';
    const marked = paper.querySelector('.bracket, .tint');
    if (marked && paper.__sought !== sought)             // chosen elsewhere: bring it into view
      marked.scrollIntoView({ block: 'nearest', inline: 'nearest' });
    if (marked || !sought) paper.__sought = sought;
    const bodies = new Set(groups.filter(wordless).map(g => g.dataset.part));
    stops = groups.filter(g => wordless(g) || !bodies.has(g.dataset.part));   // a label of a body is no stop
    stop(stops[at()] ?? stops.find(g => g.dataset.part === data.chosen?.part) ?? stops[0]);
  }
  const pages = data.pages;
  function draw() {
    const narrow = !data.low && !data.whole && paper.clientWidth < 640;
    const source = `${narrow}\n${pages.join('\n')}`, made = text => page(text, narrow);
    if (paper.__source === source) return;
    const held = paper.getRootNode().activeElement?.dataset?.part;
    const band = document.createElement('div');
    band.className = 'band';
    const first = paper.scrollTop > 0 ? pages.length : 1;      // what is seen comes first, then the rest
    paper.replaceChildren(band, ...pages.slice(0, first).map(made));
    paper.__source = source;
    paper.__less = narrow && pages.some(one => one.includes('data-part="volumes.'));
    const high = paper.querySelector('svg')?.viewBox.baseVal.height ?? 0;
    paper.style.setProperty('--least', `${4.15 * high}px`);      // its letters are 9.5 px high
    const rest = () => {
      if (paper.__source !== source || first === pages.length) return;
      paper.append(...pages.slice(first).map(made));
      paper.__dress();
    };
    requestAnimationFrame(() => setTimeout(rest));
    if (held) paper.querySelector(`g[data-part="${CSS.escape(held)}"]`)?.focus();
  }
  draw();
  paper.__dress = dress;
  dress();
  const tell = () => {                                   // that there is more than is seen
    const tall = paper.scrollHeight > paper.clientHeight + 1;
    const more = pages.length > 1 ? `${pages.length} pages` : tall ? 'more below' : '';
    const elsewhere = paper.__less && 'volumes stand on Sheet, or a wider screen';
    const words = [more && `\u25be ${more}, scroll`, elsewhere];
    const text = words.some(Boolean) ? `Drawing: ${words.filter(Boolean).join('; ')}` : '';
    const sign = parentElement.querySelector('.more');
    if (sign.textContent !== text) sign.textContent = text;
  };
  paper.__sized ??= new ResizeObserver(() => paper.__fit());
  paper.__fit = () => {
    const before = paper.__source;
    draw();
    if (paper.__source !== before) dress();
    tell();
  };
  paper.__sized.observe(paper);
  tell();
  const hit = e => e.target.closest?.('g[data-part]');
  const choose = g => {                                  // the time tells a click from the same one before
    const at = String(Date.now());
    setStateValue('chosen', g ? { part: g.dataset.part, title: title(g), at } : null);
    if (!g) setStateValue('cleared', at);
  };
  paper.onclick = e => choose(hit(e));
  paper.onkeydown = e => {
    const step = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[e.key];
    if (step && stops.length && hit(e)) {
      e.preventDefault();
      const next = stops[(at() + step + stops.length) % stops.length];
      stop(next); next.focus(); next.scrollIntoView({ block: 'nearest', inline: 'nearest' });
    } else if ((e.key === 'Enter' || e.key === ' ') && hit(e)) {
      e.preventDefault(); choose(hit(e));
    } else if (e.key === 'Escape') { choose(null); }
  };
  paper.onpointermove = e => {
    const g = hit(e); tip.classList.toggle('on', !!g); if (!g) return;
    tip.textContent = title(g);
    tip.style.left = (e.clientX + 14) + 'px'; tip.style.top = (e.clientY + 14) + 'px';
  };
  paper.onpointerleave = () => tip.classList.remove('on');
}
"""

HTML = '<p class="more"></p><div class="paper"></div><div class="tip" role="tooltip"></div>'

_view = st.components.v2.component("well_drawing", css=_CSS, js=JS, html=HTML)


def drawing(
    pages: tuple[bytes, ...],
    chosen: dict[str, Any] | None,
    on_chosen: Callable[[], None],
    key: str = "drawing",
    low: bool = False,
    whole: bool = False,
    band: str = "",
) -> None:
    """Show the pages of a sheet. The chosen thing, ``{"part": path, "title": words}`` or None, is marked, of
    its words those whose titles are in its ``"only"``, if any. What is chosen there comes into
    ``st.session_state[key]["chosen"]``, and when the ground was clicked last into ``["cleared"]``. Where
    there is no room for its volumes, they are left out, so that its letters stay large enough. A *low*
    drawing is seen from top to bottom, a *whole* one from side to side, however small. A *band* across it
    says what it is the drawing of.
    """
    data = {
        "pages": [page.decode() for page in pages],
        "chosen": chosen,
        "low": low,
        "whole": whole,
        "band": band,
    }
    # in a list: of a mapping the library would find out whether it holds tables, and load pandas for it
    _view(
        key=key,
        data=[data],
        default={"chosen": None, "cleared": ""},
        on_chosen_change=on_chosen,
        on_cleared_change=on_chosen,
    )


def chosen() -> dict[str, str] | None:
    """What is chosen in the drawing."""
    return cast("dict[str, str] | None", (st.session_state.get("drawing") or {}).get("chosen"))
