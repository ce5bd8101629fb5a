"""What stands beside the drawing: bar, counts, slips, figures of a part, tables, built from texts alone.

Nodes are made one by one and filled by ``textContent``: a name from a file cannot become markup.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

import streamlit as st

from app.more import MORE_CSS, MORE_JS

SIGN_CSS = """
.sign { display: inline-flex; width: 17px; height: 17px; margin-right: 6px; align-items: center; flex: none;
  justify-content: center; vertical-align: 1px; font-size: 12px; line-height: 1; background: #fff;
  box-sizing: border-box; font-weight: 650; color: #000 }
.sign.error { border: 2px solid #b84700; transform: rotate(45deg) scale(.88); color: #b84700 }
.sign.error > * { transform: rotate(-45deg) scale(1.15) }
.sign.warning { border: 2px solid #b84700; border-radius: 50%; color: #b84700 }
.sign.advice { border: 1px solid #555; border-radius: 50%; color: #000 }
.sign.accepted { border: 1px solid #555; border-radius: 50% }
.sign.unchecked { border: 2px dashed #555; box-shadow: 0 0 0 2px #fff }
.sign.passed { border: 1px solid #555 }
"""
_CSS = (
    SIGN_CSS
    + MORE_CSS
    + """
:host { display: block }
.blocks { font-family: var(--st-font); color: var(--st-text-color); font-variant-numeric: tabular-nums;
  font-size: 14px; line-height: 1.35 }
h1 { font-size: 22px; margin: 0; display: inline; font-weight: 650; overflow-wrap: anywhere }
h1.long { font-size: 15.5px; line-height: 1.2 }
h2 { font-size: 14.5px; margin: 0 0 2px; font-weight: 650; overflow-wrap: anywhere }
p { margin: 0 0 3px; overflow-wrap: anywhere } .quiet, .label { opacity: .78 }
p.strong { font-weight: 700; font-size: 1.15em }
.boxes { list-style: none; display: grid; grid-template-columns: repeat(3, 1fr); gap: 10px; margin: 0 0 10px;
  padding: 0; container-type: inline-size }
.boxes:has(.limit) { grid-template-columns: 1fr 1fr }
.limit.box { grid-column: 1 / -1; display: grid; grid-template-columns: 2fr 3fr; column-gap: 22px }
.box { padding: 8px 12px; border: 2px solid currentColor; min-width: 0 }
.box .digits { font-size: clamp(24px, 7.4cqw, 92px); font-weight: 700; line-height: 1.1 }
.box .digits:not(.unknown) { white-space: nowrap; font-size: clamp(24px, 7cqw, 92px) }
.box p.strong .digits:not(.unknown) { font-size: clamp(20px, 3.4cqw, 44px) }
.box .unit { font-size: .45em } .box p.strong .unit { font-size: .8em }
.box .digits.unknown { font-size: clamp(18px, 3cqw, 34px) }
.box .what { font-weight: 400 }
.box.now:not(.held) { background: var(--st-text-color); color: var(--st-background-color) }
.box.held { border-style: dashed }
.lead { font: inherit; color: inherit; background: none; border: 0; padding: 0; text-align: left;
  text-decoration: underline; cursor: pointer }
.lead:focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
.box.never { border: 11px solid transparent; background:
  linear-gradient(var(--st-background-color), var(--st-background-color)) padding-box,
  repeating-linear-gradient(45deg, var(--st-text-color) 0 8px, var(--st-background-color) 8px 16px)
    border-box }
.pair { display: grid; grid-template-columns: repeat(auto-fit, minmax(240px, 1fr)); gap: 0 22px }
.list ul { margin: 0 0 8px; padding-left: 1.2em } .list li { margin-bottom: 3px; font-size: 16px }
.bar { display: flex; flex-wrap: wrap; gap: 2px 14px; align-items: baseline }
.dot { display: inline-block;
  width: 8px; height: 8px; margin-right: 6px; border: 2px solid; border-radius: 50% }
.changed .dot { background: currentColor }
.counts { display: flex; flex-wrap: wrap; gap: 4px 16px; margin-bottom: 8px; font-weight: 650 }
.counts span { display: inline-flex; align-items: center }
.slip { display: flex; gap: 4px; background: var(--st-secondary-background-color); padding: 8px 10px;
  border: 1px solid var(--st-border-color); border-left: 4px solid #b84700; margin-bottom: 8px }
.slip.advice, .slip.passed { border-left-color: var(--st-border-color) }
.slips { max-height: 40vh; overflow: auto }
.slips:focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
.note { margin: 0 0 8px; opacity: .82 }
.followed { font-size: 13px; border-left: 3px solid var(--st-border-color); padding-left: 8px }
.followed p { margin-bottom: 1px } .followed .label { opacity: .82 }
.cells { display: flex; flex-wrap: wrap; margin: 4px 0 10px;
  border: 1px solid var(--st-dataframe-border-color); border-width: 1px 0 0 1px }
.cells.four { display: grid; grid-template-columns: repeat(4, 1fr); margin: 0 }
.cell { flex: 1 1 104px; box-sizing: border-box; min-width: 0; padding: 3px 7px;
  border: 1px solid var(--st-dataframe-border-color); border-width: 0 1px 1px 0 }
.cell.long { flex-basis: 100% }
.value { font-weight: 650; overflow-wrap: anywhere }
.needs { background: repeating-linear-gradient(135deg, transparent 0 7px, var(--st-border-color) 7px 8px) }
.needs > * { background: var(--st-background-color); width: fit-content; padding: 0 3px; margin-left: -3px }
.four .needs .value { font-size: 12.5px; font-weight: 500; line-height: 1.25; display: -webkit-box;
  -webkit-box-orient: vertical; -webkit-line-clamp: 2; overflow: hidden }
.table { overflow-x: auto; margin-bottom: 12px }
.table:focus-visible { outline: 3px solid var(--st-primary-color); outline-offset: 1px }
th:first-child, td:first-child { position: sticky; left: 0; background: var(--st-background-color) }
th:first-child { min-width: 96px } td.differs { font-weight: 650 }
.charts { display: grid; grid-template-columns: repeat(auto-fill, minmax(136px, 1fr)); gap: 10px 16px;
  margin-bottom: 12px }
.chart svg { width: 100%; display: block; border-bottom: 1px solid currentColor }
.chart polyline { fill: none; stroke: currentColor; stroke-width: 1.5 } .chart circle { fill: currentColor }
.chart .ends { display: flex; justify-content: space-between; font-size: 12.5px }
table { border-collapse: collapse; width: 100%; margin-bottom: 2px }
caption { text-align: left; font-weight: 650; padding: 2px 0 }
th, td { text-align: left; padding: 2px 8px 2px 0; border-bottom: 1px solid var(--st-dataframe-border-color);
  font-weight: 400; vertical-align: top }
th { vertical-align: bottom; color: color-mix(in srgb, var(--st-text-color) 78%, transparent) }
.figure + :not(.figure) { padding-left: 12px }
.figure { text-align: right; padding: 2px 0 2px 8px; white-space: nowrap } th.figure { white-space: normal }
"""
)

SIGN_JS = r"""
const SIGNS = { error: '!', warning: '!', advice: 'i', accepted: '✓', unchecked: '?', passed: '✓' };
function node(tag, cls, ...inside) {
  const made = document.createElement(tag);
  if (cls) made.className = cls;
  for (const one of inside) made.append(one);   // a string becomes a text node, never markup
  return made;
}
// Whether a view is already drawn from this: a press that falls between two drawings of a row would be lost.
const same = (host, data) => {
  const told = JSON.stringify(data), was = host.__told === told;
  host.__told = told;
  return was;
};
const sign = (kind, letter) => {
  const made = node('span', 'sign ' + kind, node('span', '', letter ?? SIGNS[kind]));
  made.setAttribute('aria-hidden', 'true');
  return made;
};
"""
_JS = (
    SIGN_JS
    + MORE_JS
    + r"""
let leads, lead;                                           // words that lead to an input, and how they do
const said = text => !leads ? [text] : text.split(leads).map((its, i) => {
  if (i % 2 === 0) return its;                             // what is split at stands between
  const made = node('button', 'lead', its);
  made.onclick = () => lead(its);
  return made;
});
const lines = (texts, cls) => texts.map(text => node('p', cls, ...said(text)));
function digits({ known, figure }) {                      // the unit is smaller than its number
  const cut = known ? figure.lastIndexOf('\u00a0') : -1;
  return cut < 0 ? [figure] : [figure.slice(0, cut + 1), node('span', 'unit', figure.slice(cut + 1))];
}
const limit = pieces => node('p', 'strong', ...pieces.map(({ text, large }) =>
  large ? node('span', 'digits', ...digits({ known: true, figure: text })) : text));
const MAKE = {
  bar: b => node('div', b.changed ? 'bar changed' : 'bar',
    node('h1', b.name.length > 40 ? 'long' : '', b.name), node('span', '', b.state),
    node('strong', '', node('span', 'dot'), b.kept)),
  counts: b => {
    const made = node('div', 'counts', ...b.signs.map(([kind, text]) => node('span', '', sign(kind), text)));
    made.setAttribute('role', 'status');
    return made;
  },
  slip: b => {
    const body = node('div', '', node('h2', '', b.head), ...lines(b.lines), ...lines(b.quiet, 'quiet'));
    const made = node('section', 'slip ' + b.sign, sign(b.sign, b.letter), body);
    made.setAttribute('aria-label', b.sign + ' ' + b.letter);
    return made;
  },
  slips: b => {
    const made = node('div', 'slips', ...b.slips.map(MAKE.slip));
    made.tabIndex = 0;                                    // so that the keyboard can scroll it
    made.setAttribute('aria-label', 'Findings');
    made.setAttribute('role', 'group');
    return made;
  },
  note: b => node('p', 'note', ...said(b.text)),
  followed: b => {
    const made = node('section', 'followed', node('p', 'label', b.head), ...lines(b.lines));
    made.setAttribute('role', 'status');
    return made;
  },
  list: b => node('section', 'list', node('h2', '', b.title),
    node('ul', '', ...b.lines.map(text => node('li', '', ...said(text))))),
  pair: b => node('div', 'pair', ...b.blocks.map(one => MAKE[one.kind](one))),
  boxes: b => {
    const kind = ['now', 'next', 'never'];
    const cls = (box, i) => `box ${kind[i]}${box.held ? ' held' : ''}${box.limit.length ? ' limit' : ''}`;
    const made = node('ol', 'boxes', ...b.boxes.map((box, i) => node('li', cls(box, i),
      node('div', '', node('h2', '', box.head, box.what ? node('span', 'what', ' ' + box.what) : ''),
        node('p', box.known ? 'digits' : 'digits unknown', ...digits(box))),
      node('div', '',
        ...(box.limit.length ? [limit(box.limit)] : lines(box.lines.slice(0, +box.strong), 'strong')),
        ...lines(box.lines.slice(+box.strong))))));
    made.setAttribute('aria-label', 'Now, next, never exceed');
    return made;
  },
  cell: ({ label, value, needs }) => {
    const text = value ?? 'needs ' + (needs ?? label);
    const kind = value === null ? 'cell needs' : text.length > 40 ? 'cell long' : 'cell';
    const made = node('div', kind, node('div', 'label', label),
      node('div', 'value', ...said(text)));
    if (value === null) made.title = text;                // it may be cut where there is little room
    return made;
  },
  part: b => node('section', '', node('h2', '', b.name), ...lines(b.lines),
    node('div', b.cells.length ? (b.four ? 'cells four' : 'cells') : '', ...b.cells.map(MAKE.cell))),
  chart: b => node('div', 'charts', ...b.series.map(one => {
    const NS = 'http://www.w3.org/2000/svg';
    const known = one.ys.filter(y => y !== null), low = Math.min(...known), high = Math.max(...known);
    const wide = 192 / Math.max(1, one.ys.length - 1), tall = 48 / (high - low || 1);
    const at = (y, i) => [4 + wide * i, 56 - tall * (y - low)];
    const svg = document.createElementNS(NS, 'svg');
    svg.setAttribute('viewBox', '0 0 200 62');
    svg.setAttribute('role', 'img');
    svg.setAttribute('aria-label', `${one.name}: ${low} to ${high}; the figures stand in the table`);
    const runs = [[]];                                     // what is not known leaves a gap
    one.ys.forEach((y, i) => { if (y === null) runs.push([]); else runs.at(-1).push(at(y, i)); });
    for (const run of runs) {
      const line = document.createElementNS(NS, 'polyline');
      line.setAttribute('points', run.map(p => p.join(',')).join(' '));
      svg.append(line);
      for (const [x, y] of run) {
        const dot = document.createElementNS(NS, 'circle');
        for (const [key, value] of Object.entries({ cx: x, cy: y, r: 2 })) dot.setAttribute(key, value);
        svg.append(dot);
      }
    }
    const ends = node('div', 'ends', node('span', '', b.xs[0]), node('span', '', b.xs.at(-1)));
    const range = node('div', 'label', low === high ? `${low}` : `least ${low}, most ${high}`);
    return node('div', 'chart', node('div', 'value', one.name), range, svg, ends);
  })),
  table: b => {
    const row = (tag, texts, bold = []) => node('tr', '', ...texts.map((text, i) =>
      node(tag, (b.figures[i] ? 'figure' : '') + (bold[i] ? ' differs' : ''), text)));
    const table = node('table', '', node('caption', '', b.title), node('thead', '', row('th', b.heads)),
      node('tbody', '', ...b.rows.map((texts, i) => row('td', texts, b.bold?.[i]))));
    return node('div', 'table', table, ...(b.note ? lines([b.note], 'quiet') : []));
  },
};
export default function ({ data: [data], parentElement, setTriggerValue }) {
  const host = parentElement.querySelector('.blocks');
  if (same(host, data)) return;
  if (host.__of !== undefined && host.__of !== data.of) {   // about something else: it is read from its top
    document.querySelector('[data-testid="stMain"]').scrollTop = 0;
  }
  host.__of = data.of;
  lead = words => setTriggerValue('led', words);
  const longest = data.leads.toSorted((a, b) => b.length - a.length);
  const plain = longest.map(words => words.replace(/[^\w\s]/g, '\\$&'));
  leads = plain.length ? new RegExp(`(${plain.join('|')})`) : null;
  host.replaceChildren(...data.blocks.map(block => MAKE[block.kind](block)));
  for (const table of host.querySelectorAll('.table')) {
    if (table.scrollWidth > table.clientWidth) table.tabIndex = 0;   // so that the keyboard can scroll it
    more(table, { columns: () => [...table.querySelectorAll('thead th')] });
  }
}
"""
)

_view = st.components.v2.component("answers", css=_CSS, js=_JS, html='<div class="blocks"></div>')


def answers(key: str, blocks: list[dict[str, Any]], of: int = 0, leads: Collection[str] = ()) -> str | None:
    """Show blocks of :mod:`app.answers` in their order; the page goes to its top where *of* is another.

    Wherever a text says words that are one of *leads*, they can be pressed; gives those that were.
    """
    data = [{"blocks": blocks, "of": of, "leads": list(leads)}]  # as a list: see `drawing`
    if not leads:  # nothing comes back, so that the key is no entry of the session
        _view(key=key, data=data)
        return None
    led: str | None = _view(key=key, data=data, on_led_change=lambda: None).led
    return led
