"""The drawing on the page: an SVG on white paper whose parts can be chosen by click and by keyboard.

The SVG is parsed, stripped to an allow-list of elements and attributes, and inserted; nothing of it is
executed and nothing is fetched. The one tab stop is the drawing; arrow keys walk its parts.
"""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

_CSS = """
:host { display: block }
.paper { position: relative; background: #fff; color: #000; border: 1px solid var(--st-border-color) }
.host svg { width: 100%; height: auto; display: block }
.host svg text { font-kerning: none; font-variant-ligatures: none }
.host:focus-visible { outline: 2px solid var(--st-primary-color); outline-offset: 2px }
[data-part] { cursor: pointer }
[data-part]:hover path, .at path { stroke: #d55e00 }
.chosen path { stroke: #d55e00; stroke-width: 0.5 }
.tip { position: fixed; z-index: 1000; pointer-events: none; display: none; padding: .3rem .5rem;
  background: var(--st-secondary-background-color); color: var(--st-text-color);
  border: 1px solid var(--st-border-color); font-size: .85rem }
.tip.on { display: block }
"""

_JS = r"""
const KEPT = new Set(['svg', 'g', 'title', 'desc', 'rect', 'path', 'circle', 'text', 'tspan', 'defs']);
function clean(root) {
  for (const el of [root, ...root.querySelectorAll('*')]) {
    if (!KEPT.has(el.localName) || el.localName === 'title') { if (el !== root) el.remove(); continue; }
    for (const a of [...el.attributes]) {
      const n = a.name.toLowerCase();
      const outside = /href$/.test(n) || /url\(|\\/i.test(a.value);
      if (n.startsWith('on') || n === 'style' || outside) el.removeAttribute(a.name);
    }
  }
  return root;
}
export default function ({ data, parentElement, setStateValue }) {
  const host = parentElement.querySelector('.host'), tip = parentElement.querySelector('.tip');
  if (host.__source !== data.svg) {
    const doc = new DOMParser().parseFromString(data.svg, 'image/svg+xml');
    if (doc.querySelector('parsererror')) { host.textContent = 'The drawing is not well-formed.'; return; }
    host.replaceChildren(document.importNode(clean(doc.documentElement), true));
    host.__source = data.svg;
    host.__at = -1;
  }
  const groups = [...host.querySelectorAll('g[data-part]')].filter(g => g.dataset.part);
  for (const g of groups) g.classList.toggle('chosen', g.dataset.part === data.chosen);
  const hit = e => { const g = e.target.closest?.('g[data-part]'); return g && g.dataset.part ? g : null; };
  const say = g => ({ part: g.dataset.part, name: g.getAttribute('aria-label') ?? '' });
  host.onclick = e => { const g = hit(e); setStateValue('chosen', g ? say(g) : null); };
  host.onkeydown = e => {
    const step = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[e.key];
    if (step && groups.length) {
      e.preventDefault();
      groups[host.__at]?.classList.remove('at');
      host.__at = (host.__at + step + groups.length) % groups.length;
      groups[host.__at].classList.add('at');
      host.setAttribute('aria-label', 'Drawing, at ' + say(groups[host.__at]).name);
    } else if ((e.key === 'Enter' || e.key === ' ') && groups[host.__at]) {
      e.preventDefault(); setStateValue('chosen', say(groups[host.__at]));
    } else if (e.key === 'Escape') { setStateValue('chosen', null); }
  };
  host.onpointermove = e => {
    const g = hit(e); tip.classList.toggle('on', !!g); if (!g) return;
    tip.textContent = g.getAttribute('aria-label') ?? '';
    tip.style.left = (e.clientX + 12) + 'px'; tip.style.top = (e.clientY + 12) + 'px';
  };
  host.onpointerleave = () => tip.classList.remove('on');
  return () => { host.onclick = host.onkeydown = host.onpointermove = host.onpointerleave = null; };
}
"""

_HTML = (
    '<div class="paper"><div class="host" tabindex="0" role="application" aria-label="Drawing of the well; '
    'arrow keys walk its parts, Enter chooses one"></div><div class="tip" role="tooltip"></div></div>'
)

_view = st.components.v2.component("well_drawing", css=_CSS, js=_JS, html=_HTML)


def drawing(svg: str, chosen: str | None, on_chosen: Callable[[], None]) -> dict[str, str] | None:
    """Show a drawing; the part and the name of what was chosen in it, or None."""
    data = {"svg": svg, "chosen": chosen}
    result = _view(key="drawing", data=data, default={"chosen": None}, on_chosen_change=on_chosen)
    return result.chosen  # type: ignore[no-any-return]
