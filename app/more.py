"""What says beside a list or a table how much of it is seen, so that nothing is hidden without a sign."""

from __future__ import annotations

import streamlit as st

MORE_CSS = """
.more { margin: 3px 0; font: 650 12.5px/1.3 var(--st-font); color: var(--st-text-color) }
.more:empty { display: none }
"""

# Counts what is seen whole; told anew when the box is scrolled or gets another size.
MORE_JS = r"""
function seen(items, from, to, low, high) {               // of these what lies whole between two edges
  return items.filter(one => {
    const its = one.getBoundingClientRect();
    return its[from] >= low - 1.5 && its[to] <= high + 1.5;
  }).length;
}
function howMuch(box, { rows, columns, labelled }) {
  const at = box.getBoundingClientRect(), told = [];
  const left = at.left + box.clientLeft, top = at.top + box.clientTop;
  if (rows && box.scrollHeight > box.clientHeight + 1) {
    const head = box.querySelector('thead')?.offsetHeight ?? 0;
    const count = seen(rows(), 'top', 'bottom', top + head, top + box.clientHeight);
    told.push(`\u25be ${count} of ${rows().length} rows seen`);
  }
  if (columns && box.scrollWidth > box.clientWidth + 1) {
    const [first, ...rest] = columns(), edge = first.getBoundingClientRect().right;   // the first one stays
    const own = labelled ? 0 : 1;                          // where it only says what the others hold
    const count = own + seen(rest, 'left', 'right', edge, left + box.clientWidth);
    told.push(`\u25b8 ${count} of ${rest.length + own} columns seen`);
  }
  return told.length ? `${told.join(', ')}: scroll for the rest` : '';
}
function whole(box, columns) {                            // what is cut at the edge reads as another figure
  const heads = columns(), table = heads[0]?.closest('table'), edge = box.getBoundingClientRect();
  if (!table) return;
  const right = edge.left + box.clientLeft + box.clientWidth + 1.5;
  const ends = heads.map(head => head.getBoundingClientRect().right);
  const last = Math.max(...ends.filter(end => end <= right)), cut = Math.max(...ends) - last;
  table.style.clipPath = cut > 1 && last > ends[0] ? `inset(0 ${cut}px 0 0)` : '';
}
function more(box, its) {
  const told = box.__more ??= document.createElement('p');
  told.className = 'more';
  if (its.columns) box.before(told); else box.after(told);   // a table may end below the window
  const tell = () => {
    const text = howMuch(box, its);
    if (told.textContent !== text) told.textContent = text;
    if (its.columns) whole(box, its.columns);
  };
  box.onscroll = tell;
  box.__sized?.disconnect();
  box.__sized = new ResizeObserver(tell);
  box.__sized.observe(box);
  tell();
}
"""

# The grid to type in is painted: its page knows how wide it is, not where its columns are.
_GRID_JS = r"""
export default function ({ data, parentElement }) {
  const told = parentElement.querySelector('.more');
  let tries = 0;
  const find = () => {
    const box = document.querySelector(`.st-key-${data.grid} .dvn-scroller`);
    if (!box) { if (++tries < 60) setTimeout(find, 100); return; }
    const tell = () => {
      const right = box.scrollWidth - box.scrollLeft > box.clientWidth + 1;
      const below = box.scrollHeight - box.scrollTop > box.clientHeight + 1;
      const where = [below && '\u25be rows below', right && '\u25b8 columns to the right'].filter(Boolean);
      told.textContent = where.length ? `More ${where.join(', ')}: scroll for the rest` : '';
    };
    if (told.__box !== box) {
      told.__box = box;
      box.addEventListener('scroll', tell, { passive: true });
      new ResizeObserver(tell).observe(box);
    }
    tell();
  };
  find();
}
"""

_grid = st.components.v2.component(
    "more_of_grid", css=":host { display: block }" + MORE_CSS, js=_GRID_JS, html='<p class="more"></p>'
)


def more_of_grid(grid: str) -> None:
    """Say whether the grid of that key goes on below or to the right of what is seen."""
    _grid(key="more-of-grid", data={"grid": grid})
