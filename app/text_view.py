"""A text with its line numbers, to be edited; lines with a problem are tinted, barred and numbered."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import streamlit as st

from app.more import MORE_CSS

_CSS = (
    MORE_CSS
    + """
:host { display: block }
.sheet { position: relative; display: flex; height: calc(100vh - 172px); min-height: 360px; overflow: hidden;
  border: 1px solid var(--st-border-color); background: var(--st-secondary-background-color);
  color: var(--st-text-color); font: 14px/22px var(--st-code-font, monospace) }
.sheet:focus-within { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
.gutter { flex: none; padding: 6px 10px 6px 6px; text-align: right; user-select: none; white-space: pre;
  position: relative; z-index: 1 }
.gutter div { height: 22px; opacity: .72 }
.gutter .bad { opacity: 1; font-weight: 700 }
.gutter .bad::before { content: attr(data-mark); float: left; margin: 2px 10px 0 2px; min-width: 14px;
  padding: 0 2px; border: 2px solid #b84700; border-radius: 10px; background: #fff; color: #b84700;
  font: 700 11px/14px var(--st-font); text-align: center }
.bands { position: absolute; inset: 0; pointer-events: none }
.bands div { position: absolute; left: 0; right: 0; height: 22px; border-left: 5px solid #b84700;
  background: rgba(184, 71, 0, .16); box-sizing: border-box }
textarea { flex: 1; min-width: 0; margin: 0; padding: 6px 8px; border: 0; outline: 0; resize: none;
  position: relative; background: transparent; color: inherit; font: inherit; white-space: pre;
  overflow: auto; tab-size: 4 }
"""
)

_JS = r"""
const LINE = 22, PADDING = 6;
export default function ({ data, parentElement, setStateValue }) {
  const area = parentElement.querySelector('textarea'), gutter = parentElement.querySelector('.gutter');
  const bands = parentElement.querySelector('.bands');
  const move = () => {
    gutter.style.transform = `translateY(${-area.scrollTop}px)`;
    bands.style.transform = `translateY(${-area.scrollTop}px)`;
    const count = gutter.children.length, whole = area.clientHeight - PADDING;
    const seen = Math.min(count, Math.floor(whole / LINE)), told = [];
    if (seen < count) told.push(`\u25be ${seen} of ${count} lines seen`);
    if (area.scrollWidth > area.clientWidth) told.push('\u25b8 longer lines');
    const text = told.length ? `${told.join(', ')}: scroll for the rest` : '';
    parentElement.querySelector('.more').textContent = text;
  };
  const number = () => {
    const count = area.value.split('\n').length;
    gutter.replaceChildren(...Array.from({ length: count }, (_, i) => {
      const line = document.createElement('div'), mark = data.marks[i + 1];
      line.textContent = i + 1;
      if (mark) { line.className = 'bad'; line.dataset.mark = mark; }
      return line;
    }));
    bands.replaceChildren(...Object.keys(data.marks).map(at => {
      const band = document.createElement('div');
      band.style.top = (PADDING + (at - 1) * LINE) + 'px';
      return band;
    }));
    move();
  };
  if (area.__given !== data.text) { area.value = area.__given = area.__sent = data.text; }
  area.setAttribute('aria-label', data.label);
  number();
  const first = Math.min(...Object.keys(data.marks));
  if (!area.__begun && first < Infinity) area.scrollTop = Math.max(0, (first - 6) * LINE);
  area.__begun = true;
  move();
  // these stay on between two runs of this function, so that what is typed then is sent before the next click
  const send = left => {
    clearTimeout(area.__wait);
    if (area.value === area.__sent) return;
    area.__sent = area.__given = area.value;               // what comes back of it is not written over
    area.__turn_sent = (area.__turn_sent ?? Date.now()) + 1;   // the same text again is news too
    setStateValue('typed', { text: area.value, turn: area.__turn_sent, left });
  };
  const soon = () => { clearTimeout(area.__wait); area.__wait = setTimeout(() => send(false), 800); };
  area.oninput = () => { number(); soon(); };
  if (area.value !== area.__sent) soon();                  // typed while the page was drawn anew
  area.onchange = () => send(true);                        // what was left is read: whatever is pressed next
  area.onkeydown = e => { if (e.key === 'Enter' && (e.ctrlKey || e.metaKey)) send(true); };
  area.onscroll = move;
  if (data.goto && data.goto.turn !== area.__turn) {
    area.__turn = data.goto.turn;
    const lines = area.value.split('\n').slice(0, data.goto.line - 1);
    const begins = lines.reduce((sum, line) => sum + line.length + 1, 0);
    const from = begins + /^[ -]*/.exec(area.value.slice(begins))[0].length;   // not its indent
    const end = area.value.indexOf('\n', begins);
    area.focus();
    area.setSelectionRange(from, end < 0 ? area.value.length : end);
    area.scrollTop = Math.max(0, (data.goto.line - 6) * LINE);
    move();
  }
}
"""

_HTML = (
    '<p class="more"></p><div class="sheet"><div class="bands"></div>'
    '<div class="gutter" aria-hidden="true"></div>'
    '<textarea wrap="off" spellcheck="false" autocapitalize="off" autocomplete="off"></textarea></div>'
)

_view = st.components.v2.component("well_text", css=_CSS, js=_JS, html=_HTML)


def editor(
    text: str,
    marks: Mapping[int, str],
    on_typed: Callable[[], None],
    goto: tuple[int, int] | None = None,
    key: str = "text",
) -> None:
    """Show a text to be edited; what was typed comes into ``st.session_state[key]["typed"]``, with its turn
    and whether the box was left with it.

    *marks* are the numbers of the problems by line. *goto* is a line and how often it was asked for.
    """
    data = {
        "text": text,
        "marks": {str(line): mark for line, mark in marks.items()},
        "goto": {"line": goto[0], "turn": goto[1]} if goto else None,
        "label": "Text of the well file",
    }
    _view(key=key, data=data, default={"typed": None}, on_typed_change=on_typed)
