"""The options of a well in a row of small drawings, and below each the column of its figures.

A drawing, or any cell below it, chooses its option. Pictures are images, in which nothing runs; all else is
made node by node and filled by ``textContent``.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import streamlit as st

from app.answers_view import SIGN_CSS, SIGN_JS
from app.more import MORE_CSS, MORE_JS

_CSS = (
    SIGN_CSS
    + MORE_CSS
    + """
:host { display: block }
.all { font: 14px/1.35 var(--st-font); color: var(--st-text-color); font-variant-numeric: tabular-nums }
.all.wide { overflow-x: auto }
table { border-collapse: separate; border-spacing: 0; width: 100%; table-layout: fixed }
th, td { text-align: left; vertical-align: top; font-weight: 400; padding: 3px 8px; overflow-wrap: anywhere }
:is(th, td):first-child { position: sticky; left: 0; background: var(--st-background-color); width: 27% }
.wide :is(th, td):first-child { width: 236px; z-index: 1 }
tbody :is(th, td) { border-bottom: 1px solid var(--st-dataframe-border-color) }
tbody td { text-align: right; cursor: pointer } tbody td.words { text-align: left }
.group th { font-weight: 650; padding-top: 9px }
.names th { position: sticky; top: 6.9rem; z-index: 2; background: var(--st-background-color);
  font-weight: 650; border-bottom: 2px solid currentColor; text-align: right }
.wide .names th:not(:first-child) { position: static }
.names th:first-child { z-index: 3; text-align: left } td.rest { cursor: auto }
.differs { font-weight: 650 } .unit { opacity: .78 }
.chosen, .names th.chosen {
  background: color-mix(in srgb, var(--st-primary-color) 11%, var(--st-background-color)) }
.cards td { height: 1px; padding: 0 0 8px 10px } .cards td:first-child { padding: 0 10px 8px 0 }
.card { display: flex; flex-direction: column; width: 100%; height: 100%; padding: 6px 8px;
  box-sizing: border-box; font: inherit; text-align: left; background: #fff; color: #000;
  border: 1px solid var(--st-border-color); border-radius: 3px; cursor: pointer }
.card[aria-pressed="true"] { outline: 3px solid var(--st-primary-color); outline-offset: -1px }
.card:focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 2px }
.card :is(strong, span) { display: block; overflow-wrap: anywhere } .card strong { font-weight: 650 }
.card span { font-size: 12.5px; color: #333 }
.card img { display: block; width: 100%; max-height: 34vh; object-fit: contain; margin-top: auto;
  padding-top: 4px }
.told { background: var(--st-secondary-background-color); border: 1px solid var(--st-border-color);
  border-left: 4px solid var(--st-primary-color); padding: 8px 10px }
h2 { font-size: 14.5px; margin: 0 0 3px; font-weight: 650 } p { margin: 0 0 5px } p:last-child { margin: 0 }
.quiet { opacity: .78; font-size: 12.5px; margin-top: 6px }
"""
)

_JS = (
    SIGN_JS
    + MORE_JS
    + r"""
export default function ({ data, parentElement, setStateValue }) {
  const host = parentElement.querySelector('.all'), root = host.getRootNode();
  if (same(host, data)) return;
  const held = root.activeElement?.dataset?.option;
  host.classList.toggle('wide', data.heads.length > 4);
  const choose = n => setStateValue('chosen', { number: n, at: String(Date.now()) });
  const own = (cell, n) => {
    if (n === data.chosen) cell.classList.add('chosen');
    cell.onclick = () => choose(n);
    return cell;
  };
  const card = (head, n) => {
    const made = node('button', 'card', node('strong', '', head.name),
      ...head.lines.map(text => node('span', '', text)));
    made.type = 'button';
    made.title = [head.name, ...head.lines].join(': ');
    made.dataset.option = String(n);
    made.setAttribute('aria-pressed', String(n === data.chosen));
    if (head.svg) {
      const img = document.createElement('img');
      img.alt = head.alt;
      img.src = 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(head.svg);
      made.append(img);
    }
    made.onclick = () => choose(n);
    return node('td', '', made);
  };
  const told = node('div', 'told', node('h2', '', data.told.title),
    ...data.told.lines.map(text => node('p', '', text)));
  const first = node('td', '', told, node('p', 'quiet', data.note));
  const names = node('tr', 'names', ...[data.units, ...data.heads.map(head => head.name)].map((text, n) => {
    const made = node('th', '', text);
    made.scope = 'col';
    return n ? own(made, n - 1) : made;
  }));
  const body = node('tbody', '');
  for (const group of data.groups) {
    const title = node('th', '', group.title);
    title.scope = 'rowgroup';
    const rest = node('td', 'rest');
    rest.colSpan = data.heads.length;
    body.append(node('tr', 'group', title, rest));
    for (const row of group.rows) {
      const what = node('th', '', row.what, ...(row.unit ? [node('span', 'unit', `, ${row.unit}`)] : []));
      what.scope = 'row';
      body.append(node('tr', '', what, ...row.cells.map((cell, n) => own(node('td',
        (cell.differs ? 'differs' : '') + (row.words ? ' words' : ''),
        ...(cell.sign ? [sign(cell.sign)] : []), cell.text), n))));
    }
  }
  const head = node('thead', '', node('tr', 'cards', first, ...data.heads.map(card)), names);
  const table = node('table', '', head, body);
  host.replaceChildren(table);
  const fit = () => {                                      // all drawings as wide: one scale
    const each = Math.min(240, Math.max(184, Math.floor((host.clientWidth - 236) / data.heads.length)));
    if (data.heads.length > 4) table.style.width = `${236 + each * data.heads.length}px`;
  };
  fit();
  host.__fits?.disconnect();
  host.__fits = new ResizeObserver(fit);
  host.__fits.observe(host);
  if (host.classList.contains('wide')) host.tabIndex = 0;  // so that the keyboard can scroll it
  else host.removeAttribute('tabindex');
  more(host, { columns: () => [...names.children], labelled: true });
  if (held) host.querySelector(`[data-option="${CSS.escape(held)}"]`)?.focus();
}
"""
)

_view = st.components.v2.component("compared", css=_CSS, js=_JS, html='<div class="all"></div>')


def compared(data: dict[str, Any], on_chosen: Callable[[], None]) -> None:
    """Show the options; the number of the chosen one, 0 the well as written, comes into
    ``st.session_state["compared"]["chosen"]["number"]``.
    """
    _view(key="compared", data=data, default={"chosen": None}, on_chosen_change=on_chosen)
