"""The counts of the checks and one list below them: what was found, or what is not checked and what it
needs. Eight rows are seen, the rest scrolls inside, and a line below says so. The list is one stop of the
keyboard: arrows walk, Enter chooses.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import streamlit as st

from app.answers_view import SIGN_CSS, SIGN_JS
from app.more import MORE_CSS, MORE_JS

_CSS = (
    SIGN_CSS
    + MORE_CSS
    + """
:host { display: block; container-type: inline-size }
@container (max-width: 440px) { .counts { gap: 4px 10px } }
.found { font: 14px/1.35 var(--st-font); color: var(--st-text-color); font-variant-numeric: tabular-nums }
.counts { display: flex; flex-wrap: wrap; gap: 4px 14px; margin-bottom: 6px; font-weight: 650;
  align-items: center }
.counts > * { display: inline-flex; align-items: center } .counts .sign { flex: none }
.counts button { font: inherit; color: inherit; background: none; padding: 2px 7px; cursor: pointer;
  border: 1px solid var(--st-border-color); border-radius: 3px }
.counts button[aria-pressed="true"] { background: var(--st-secondary-background-color);
  border-color: currentColor }
.rows { list-style: none; margin: 0; padding: 0; max-height: 240px; overflow-y: auto;
  border: 1px solid var(--st-border-color); background: var(--st-secondary-background-color) }
.row { display: flex; align-items: center; gap: 2px; min-height: 30px; padding: 3px 8px;
  box-sizing: border-box; border-bottom: 1px solid var(--st-dataframe-border-color); cursor: pointer }
.row:last-child { border-bottom: 0 }
.row .text, .row .figure { overflow-wrap: anywhere }
.row .text { flex: 1 1 auto }
.row .figure { flex: 0 1 auto; max-width: 55%; text-align: right; padding-left: 10px; opacity: .85 }
.row.at, .row:hover { outline: 2px solid var(--st-primary-color); outline-offset: -2px }
.rows:not(:focus) .row.at:not(:hover) { outline: 0 }
.rows:focus-visible, button:focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
.empty { margin: 0; opacity: .82 }
"""
)

_JS = (
    SIGN_JS
    + MORE_JS
    + r"""
export default function ({ data, parentElement, setStateValue }) {
  const host = parentElement.querySelector('.found');
  if (same(host, data)) return;
  const counts = node('div', 'counts', ...data.counts.map(([kind, text]) => {
    if (kind !== 'unchecked') return node('span', kind, sign(kind), text);
    const made = node('button', '', sign(kind), text);
    made.setAttribute('aria-pressed', String(data.unchecked));
    made.onclick = () => setStateValue('opened', { unchecked: !data.unchecked, at: String(Date.now()) });
    return made;
  }));
  counts.setAttribute('role', 'status');
  const held = host.getRootNode().activeElement?.className === 'rows', back = !host.firstChild && data.left;
  const list = node('ul', 'rows');
  list.tabIndex = 0;
  list.setAttribute('role', 'listbox');
  list.setAttribute('aria-label', data.label);
  let at = 0;
  const rows = data.rows.map((row, n) => {
    const made = node('li', 'row', sign(row.sign, row.letter), node('span', 'text', row.text),
      ...(row.figure ? [node('span', 'figure', row.figure)] : []));
    made.id = `row-${n}`; made.title = row.figure ? `${row.text}: ${row.figure}` : row.text;
    made.setAttribute('role', 'option');
    made.setAttribute('aria-label', row.spoken ? `${row.spoken}, ${made.title}` : made.title);
    made.setAttribute('aria-selected', 'false');
    made.onclick = () => choose(n);
    list.append(made);
    return made;
  });
  const choose = n => setStateValue('chosen', { id: data.rows[n].id, at: String(Date.now()) });
  const go = n => {
    at = Math.min(rows.length - 1, Math.max(0, n));
    rows.forEach((row, i) => row.classList.toggle('at', i === at));
    if (!rows.length) return;
    list.setAttribute('aria-activedescendant', rows[at].id);
    const top = rows[at].offsetTop - list.offsetTop;
    if (top < list.scrollTop) list.scrollTop = top;
    const foot = top + rows[at].offsetHeight;
    if (foot > list.scrollTop + list.clientHeight) list.scrollTop = foot - list.clientHeight;
  };
  go(data.rows.findIndex(row => row.id === data.left));
  list.onkeydown = e => {
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: rows.length - 1 }[e.key];
    if (to !== undefined) { e.preventDefault(); go(to); }
    else if ((e.key === 'Enter' || e.key === ' ') && rows.length) { e.preventDefault(); choose(at); }
    else if (e.key === 'Escape' && data.unchecked)
      setStateValue('opened', { unchecked: false, at: String(Date.now()) });
    else {
      const n = data.rows.findIndex(row => row.letter === e.key);
      if (n >= 0 && !e.ctrlKey && !e.altKey && !e.metaKey) go(n);
    }
  };
  host.replaceChildren(...(data.counts.length ? [counts] : []),
    rows.length ? list : node('p', 'empty', data.empty));
  if (rows.length) more(list, { rows: () => rows });
  if (held) list.focus();
  if (back) setTimeout(() => {                             // when what had the keyboard has gone
    if (document.activeElement === document.body) host.querySelector('.rows')?.focus();
  }, 150);
}
"""
)

_view = st.components.v2.component("findings_list", css=_CSS, js=_JS, html='<div class="found"></div>')
_rows = st.components.v2.component("rows_list", css=_CSS, js=_JS, html='<div class="found alone"></div>')


# An open finding: what had the keyboard may be gone with the list; Escape anywhere in it leaves it.
_OPEN_JS = r"""
export default function ({ data, parentElement, setStateValue }) {
  const box = parentElement.querySelector('.leave').getRootNode().host.closest('.st-key-one-finding');
  box.tabIndex = -1;
  box.setAttribute('role', 'group'); box.setAttribute('aria-label', data.label);
  let tries = 0;
  const hold = () => {                                     // what had the keyboard goes soon, or has gone
    if (document.activeElement === document.body) box.focus({ preventScroll: true });
    else if (++tries < 12 && box.isConnected) setTimeout(hold, 150);
  };
  setTimeout(hold, 150);
  const leave = e => {
    const its = [box, document.querySelector('.st-key-ahead-finding')];
    const here = e.target === document.body || its.some(one => one?.contains(e.target));
    if (e.key === 'Escape' && here && !document.querySelector('[role="dialog"]'))
      setStateValue('left', String(Date.now()));
  };
  document.addEventListener('keydown', leave);
  return () => document.removeEventListener('keydown', leave);
}
"""

_open = st.components.v2.component("open_finding", js=_OPEN_JS, html='<span class="leave"></span>')


def leaves_by_escape(label: str, on_left: Callable[[], None]) -> None:
    """Let Escape leave the open finding that the container ``one-finding`` holds,
    and the row ``ahead-finding`` above it.
    """
    _open(
        key="open-finding",
        data={"label": label},
        default={"left": ""},
        on_left_change=on_left,
        width="content",
    )


def findings_list(
    counts: Sequence[tuple[str, str]],
    rows: Sequence[dict[str, Any]],
    unchecked: bool,
    left: str | None,
    on_chosen: Callable[[], None],
    on_opened: Callable[[], None],
) -> None:
    """Show the counts and the list, which begins at the row that was *left*. The row chosen comes into
    ``st.session_state["findings"]["chosen"]``, and which list is wanted into ``["opened"]``.
    """
    _view(
        key="findings",
        data={
            "counts": list(counts),
            "rows": list(rows),
            "unchecked": unchecked,
            "left": left,
            "label": "Not checked" if unchecked else "Findings",
            "empty": "All is checked." if unchecked else "Nothing found by the checks that ran.",
        },
        default={"chosen": None, "opened": None},
        on_chosen_change=on_chosen,
        on_opened_change=on_opened,
    )


def rows_list(key: str, label: str, rows: Sequence[dict[str, Any]], on_chosen: Callable[[], None]) -> None:
    """Show a list alone, as that of the findings. The row chosen comes into
    ``st.session_state[key]["chosen"]``.
    """
    _rows(
        key=key,
        data={
            "counts": [],
            "rows": list(rows),
            "unchecked": False,
            "left": None,
            "label": label,
            "empty": "",
        },
        default={"chosen": None, "opened": None},
        on_chosen_change=on_chosen,
        on_opened_change=lambda: None,
    )
