"""A table to choose a row in: one stop of the keyboard, arrows walk, Enter chooses; a click does, too.

Its cells are made one by one and filled by ``textContent``: a text of a file cannot become markup.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import streamlit as st

from app.answers_view import SIGN_JS
from app.more import MORE_CSS, MORE_JS

_CSS = (
    MORE_CSS
    + """
:host { display: block }
.rows { max-height: 330px; overflow: auto; border: 1px solid var(--st-border-color);
  background: var(--st-secondary-background-color) }
.rows:focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
table { border-collapse: collapse; width: 100%; font: 14px/1.35 var(--st-font); color: var(--st-text-color);
  font-variant-numeric: tabular-nums }
th, td { text-align: left; padding: 4px 6px; white-space: nowrap; font-weight: 400;
  border-bottom: 1px solid var(--st-dataframe-border-color) }
th { position: sticky; top: 0; background: var(--st-background-color) }
:is(th, td):first-child { position: sticky; left: 0; z-index: 1 } th:first-child { z-index: 2 }
td:first-child { background: var(--st-secondary-background-color) }
tbody tr { cursor: pointer } tbody td:first-child { border-left: 4px solid transparent }
tr[aria-selected="true"] td { font-weight: 650; background: color-mix(in srgb, var(--st-primary-color) 16%,
  var(--st-secondary-background-color)) }
tr[aria-selected="true"] td:first-child { border-left-color: currentColor }
tbody tr:hover, .rows:focus tr.at { outline: 2px solid var(--st-primary-color); outline-offset: -2px }
"""
)

_JS = (
    SIGN_JS
    + MORE_JS
    + r"""
export default function ({ data, parentElement, setStateValue }) {
  const box = parentElement.querySelector('.rows');
  if (same(box, data)) return;
  const line = (tag, texts) => {
    const row = document.createElement('tr');
    for (const text of texts) {
      const cell = document.createElement(tag);
      cell.textContent = text;
      row.append(cell);
    }
    return row;
  };
  const head = line('th', data.heads);
  const rows = data.rows.map(texts => line('td', texts));
  const choose = n => setStateValue('chosen', { row: n === data.chosen ? null : n, at: String(Date.now()) });
  let at = data.chosen ?? Math.min(box.__at ?? 0, rows.length - 1);
  const go = n => {
    at = box.__at = Math.min(rows.length - 1, Math.max(0, n));
    rows.forEach((row, i) => row.classList.toggle('at', i === at));
    box.setAttribute('aria-activedescendant', rows[at].id);
    const top = rows[at].offsetTop - head.offsetHeight;
    if (top < box.scrollTop) box.scrollTop = top;
    const foot = rows[at].offsetTop + rows[at].offsetHeight;
    if (foot > box.scrollTop + box.clientHeight) box.scrollTop = foot - box.clientHeight;
  };
  rows.forEach((row, n) => {
    row.id = `row-${n}`;
    row.setAttribute('aria-selected', String(n === data.chosen));
    row.onclick = () => choose(n);
  });
  const table = document.createElement('table');
  table.append(document.createElement('thead'), document.createElement('tbody'));
  table.tHead.append(head);
  table.tBodies[0].append(...rows);
  box.setAttribute('aria-label', data.label);
  box.replaceChildren(table);
  more(box, { rows: () => rows, columns: () => [...head.children] });
  go(at);
  box.onkeydown = e => {
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: rows.length - 1 }[e.key];
    if (to !== undefined) { e.preventDefault(); go(to); }
    else if (e.key === 'Enter' || e.key === ' ') { e.preventDefault(); choose(at); }
  };
}
"""
)

_view = st.components.v2.component(
    "pick_rows", css=_CSS, js=_JS, html='<div class="rows" role="grid" tabindex="0"></div>'
)


def pick_rows(
    key: str,
    label: str,
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    chosen: int | None,
    on_chosen: Callable[[], None],
) -> None:
    """Show the rows. The number of the one chosen, or None, comes into
    ``st.session_state[key]["chosen"]["row"]``.
    """
    _view(
        key=key,
        data={
            "label": label,
            "heads": list(heads),
            "rows": [list(row) for row in rows],
            "chosen": chosen,
        },
        default={"chosen": None},
        on_chosen_change=on_chosen,
    )
