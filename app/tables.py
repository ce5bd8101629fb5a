"""The tables of the file: rows to pick, which choose a part, and the same rows to type in.

The grid begins from a text and remembers what was typed since. At every change the text is made anew from
that beginning and all that was typed, in place, so that no edit is lost; what does not read stays in the grid
and is told beside it, the rest goes in.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import streamlit as st

from app import answers, inspector, shell, state
from app.answers_view import answers as show
from app.inspector import Choice, Field
from app.more import more_of_grid
from app.rows_view import pick_rows
from schematic.checks.evaluate import Evaluation
from schematic.export.tally import closure_table
from schematic.wellfile import edit, nodes, path, tree
from schematic.wellfile.path import Loc, PathError
from schematic.wellfile.problem import InputError, Problem
from schematic.wellfile.read import Document


class Rows(NamedTuple):
    """A table of a panel: its place in the file, its title, the columns that it always has, its order."""

    loc: Loc
    title: str
    columns: tuple[str, ...]
    order: str = ""


_UP = "From the bottom up, as it is made up: a row added at the end is the uppermost."
_SEEN_FIRST = ("part", "length", "OD", "ID", "top")
_DOWN = "From the top down: a row added at the end is the lowest."

_ROW_PX = 29

PANELS: dict[str, tuple[Rows | Choice, ...]] = {
    "Liner": (
        Rows(("liner", "assembly"), "Liner", ("part", "name", "count", "length", "od", "id"), _UP),
        Choice("liner", ("liner",), "Depths and pipe of the liner"),
    ),
    "Strings": (
        Rows(
            ("strings",),
            "Strings",
            ("name", "pipe", "connection", "shoe", "cement, top"),
            "As they were run.",
        ),
    ),
    "Hole": (
        Rows(("hole",), "Hole", ("bit", "to", "under reamed to", "washout, diameter"), _DOWN),
        Rows(("survey",), "Survey", ("md", "inc", "azi"), _DOWN),
        Rows(("formation", "tops"), "Rock tops", ("name", "md", "base md", "rock", "fluid"), _DOWN),
        Rows(("formation", "pressures"), "Pore and fracture pressure", ("tvd", "pore", "fracture"), _DOWN),
        Rows(("formation", "leak off"), "Leak-off tests", ("at", "emw", "surface pressure", "mud"), ""),
        Choice("formation", ("formation",), "Temperatures, contacts"),
    ),
    "Tools": (
        Rows(("running string", "assembly"), "Running string", ("part", "pipe", "length", "od", "id"), _UP),
        Choice("running string", ("running string",), "Stick-up, ball, dart"),
        Choice("installation", ("installation",), "Installation: pressures and weights"),
        Rows(("installation", "tests"), "Tests", ("name", "kind", "surface pressure", "emw", "hold"), ""),
        Choice("limits", ("limits",), "Limits of the checks"),
    ),
    "Fluids": (
        Rows(("fluids",), "Fluids", ("name", "kind", "density", "plastic viscosity", "yield point"), ""),
        Rows(("cement", "slurries"), "Slurries", ("fluid", "below"), "From the top down."),
        Rows(("cement", "schedule"), "Pumping schedule", ("fluid", "volume", "rate", "pause"), "As pumped."),
        Choice("cement", ("cement",), "Cement: tops, excess, pump, clock"),
    ),
}


class Cell(NamedTuple):
    """A typed value that was not taken: its row as counted on the screen, its column, what is wrong."""

    row: int
    column: str
    problem: Problem | str


class _Unit(NamedTuple):
    """One change of the grid: where it is told, and what it does to the text."""

    row: int
    column: str
    make: Callable[[str], str]


def records(document: Document, rows: Rows) -> list[dict[str, str]]:
    """The rows as the file has them: the text of each value behind the name of its column."""
    return [
        {
            **({"name": str(step)} if isinstance(step, str) else {}),
            **{
                field.label: field.text
                for field in inspector.fields(document, (*rows.loc, step))
                if field.text
            },
        }
        for step in _steps(document.root, rows.loc)
    ]


def _steps(root: nodes.Node, loc: Loc) -> list[str | int]:
    """What leads to the items of a list or of a map of names; none where a file beside stands for it."""
    held = _at(root, loc)
    if isinstance(held, dict):
        return [] if loc == ("survey",) else list(held)
    return list(range(len(held))) if isinstance(held, list) else []


def _at(root: nodes.Node, loc: Loc) -> nodes.Plain:
    """What stands at a place; nothing where it is not there."""
    held = nodes.plain(root)
    for step in loc:
        held = held.get(str(step)) if isinstance(held, dict) else None
    return held


def columns(rows: Rows, held: Sequence[Mapping[str, str]]) -> list[str]:
    """The columns: those that the table always has, then all others that a row uses.

    Where the rows say their depth by MD, the column of it stands in the place of that of TVD.
    """
    used = dict.fromkeys(name for record in held for name in record)
    along = "md" in used and "tvd" not in used
    always = ("md" if name == "tvd" and along else name for name in rows.columns)
    return list(dict.fromkeys([*always, *used]))


def applied(
    document: Document, rows: Rows, changed: Mapping[str, Any], refuses: Callable[[str], Sequence[Problem]]
) -> tuple[str, list[Cell]]:
    """The text with all that was typed into the grid since it showed the document, and what was not taken."""
    typed, taken_out = _units(document, rows, changed)
    try:
        whole = document.text
        for unit in (*typed, *taken_out):
            whole = unit.make(whole)
        if not refuses(whole):
            return whole, []
    except (edit.EditError, PathError, InputError):
        pass  # one of them: they go in one by one
    text, told = document.text, list[Cell]()
    while typed:
        text, told, left = _one_by_one(text, typed, refuses)
        if len(left) == len(typed):
            break
        typed = left  # what needed another value first may go in now
    text, still, _left = _one_by_one(text, taken_out, refuses)  # last, so that the rows keep their numbers
    return text, told + still


def _one_by_one(
    text: str, units: Sequence[_Unit], refuses: Callable[[str], Sequence[Problem]]
) -> tuple[str, list[Cell], list[_Unit]]:
    """The text with each change that it takes; what was not taken, told and as it is."""
    told, left = list[Cell](), list[_Unit]()
    for unit in units:
        problems: Sequence[Problem | str]
        try:
            candidate = unit.make(text)
            problems = refuses(candidate)
        except (edit.EditError, PathError, InputError) as error:
            candidate, problems = text, [str(error)]
        if problems:
            left.append(unit)
            told.append(Cell(unit.row, unit.column, problems[0]))
        else:
            text = candidate
    return text, told, left


def _units(document: Document, rows: Rows, changed: Mapping[str, Any]) -> tuple[list[_Unit], list[_Unit]]:
    """The changes of a grid: cells and new rows; rows taken out, from the last one up."""
    steps = _steps(document.root, rows.loc)
    gone = {int(row) for row in changed.get("deleted_rows", ())}
    typed: list[_Unit] = []
    for row, cells in sorted((int(row), cells) for row, cells in changed.get("edited_rows", {}).items()):
        if row not in gone:
            in_order = sorted(cells.items(), key=lambda cell: cell[0] == "name")  # a new name moves the row
            typed += [_cell(document, rows, steps[row], row, name, text) for name, text in in_order]
    for number, cells in enumerate(changed.get("added_rows", ())):
        filled = {name: str(text).strip() for name, text in cells.items() if str(text or "").strip()}
        if filled:
            typed.append(_new(rows, len(steps) + number, filled))
    return typed, [_taken_out(rows, steps[row], row) for row in sorted(gone, reverse=True)]


def _cell(document: Document, rows: Rows, step: str | int, row: int, column: str, text: object) -> _Unit:
    """A cell typed into: its field gets the text; a fluid's name is the key of its row."""
    loc, typed = (*rows.loc, step), str(text or "").strip()
    if isinstance(step, str) and column == "name":

        def renamed(text: str) -> str:
            held = written(nodes.plain(path.at(tree.parse(text, "the text"), loc)[0]))
            text = edit.put(text, _spelled(rows.loc, typed), held)
            return edit.remove(text, _spelled(rows.loc, step))

        return _Unit(row, column, renamed)
    known = {field.label: field for field in inspector.fields(document, loc)}
    field = known.get(column, Field((*loc, *_loc_of(column)), column, ""))
    return _Unit(row, column, lambda text: inspector.with_value(text, field, typed))


def written(held: nodes.Plain) -> edit.Value:
    """What stands somewhere in the file as it can be written elsewhere."""
    if isinstance(held, dict):
        return {key: written(value) for key, value in held.items()}
    return [written(value) for value in held] if isinstance(held, list) else held or ""


def _new(rows: Rows, row: int, filled: Mapping[str, str]) -> _Unit:
    """A row added: an item of the list, or a name with its values."""

    def make(text: str) -> str:
        root = tree.parse(text, "the text")
        steps = _steps(root, rows.loc)
        named = rows.loc == ("fluids",)
        step: str | int = filled.get("name", "") if named else len(steps)
        if named and (not step or step in steps):
            raise PathError("a fluid needs a name that no other has")
        for column, typed in filled.items():
            if not (named and column == "name"):
                field = Field((*rows.loc, step, *_loc_of(column)), column, "")
                text = inspector.with_value(text, field, typed)
        return text

    return _Unit(row, "", make)


def _loc_of(column: str) -> Loc:
    """The steps that a column's name stands for: ``ball seat, ball``, ``caliper 2, to``."""
    steps: list[str | int] = []
    for word in column.split(", "):
        head, _, number = word.rpartition(" ")
        steps += [head, int(number) - 1] if number.isdigit() else [word]
    return tuple(steps)


def _taken_out(rows: Rows, step: str | int, row: int) -> _Unit:
    return _Unit(row, "", lambda text: edit.remove(text, _spelled(rows.loc, step)))


def _spelled(loc: Loc, step: str | int) -> str:
    return path.spell(tree.Mapping((), 0, 0, 1, 1, flow=False), (*loc, step))


class Left(NamedTuple):
    """What was typed into a grid and not taken, by the rows of the text that came of it: cells, then rows
    behind those of the file, and what is told of them.
    """

    text: str
    cells: Mapping[int, Mapping[str, str]]
    added: tuple[Mapping[str, str], ...]
    told: tuple[Cell, ...]


def left_over(
    document: Document, rows: Rows, changed: Mapping[str, Any], told: Sequence[Cell], text: str
) -> Left:
    """What of all that was typed since the grid showed the document did not go into the text."""
    before, now = _steps(document.root, rows.loc), _steps(tree.parse(text, "the text"), rows.loc)
    stays = {cell.row for cell in told if not cell.column}
    gone = {int(row) for row in changed.get("deleted_rows", ())} - stays
    cells: dict[int, dict[str, str]] = {}
    added: list[Mapping[str, str]] = []
    said: list[Cell] = []
    for cell in told:
        if cell.row >= len(before):
            said.append(cell._replace(row=len(now) + len(added)))
            added.append(changed["added_rows"][cell.row - len(before)])
            continue
        step = before[cell.row]
        if not cell.column or (isinstance(step, str) and step not in now):
            continue
        row = now.index(step) if isinstance(step, str) else cell.row - sum(one < cell.row for one in gone)
        cells.setdefault(row, {})[cell.column] = str(changed["edited_rows"][cell.row][cell.column] or "")
        said.append(cell._replace(row=row))
    return Left(text, cells, tuple(added), tuple(said))


def with_left(left: Left | None, changed: Mapping[str, Any], count: int) -> dict[str, Any]:
    """What was typed into a grid of so many rows of the file that began with what had been left over."""
    cells = {row: dict(its) for row, its in left.cells.items()} if left else {}
    added = [dict(row) for row in left.added] if left else []
    for row, its in changed.get("edited_rows", {}).items():
        if int(row) < count:
            cells.setdefault(int(row), {}).update(its)
        else:
            added[int(row) - count].update(its)
    gone = {int(row) for row in changed.get("deleted_rows", ())}
    kept = [row for number, row in enumerate(added) if count + number not in gone]
    return {
        "edited_rows": cells,
        "deleted_rows": [row for row in gone if row < count],
        "added_rows": [*kept, *changed.get("added_rows", ())],
    }


@dataclass
class _Grid:
    """What the grid stands on, the text that has come of it, what was not taken, which grid it is; the rows
    that it began with.

    A callback can be stopped by the next edit wherever it touches the state of the page: *coming* is the text
    that it was about to put in, so that the grid still knows its own. *began* is what had been left over of
    the grid before it, *left* what is now.
    """

    loc: Loc
    document: Document
    text: str
    told: tuple[Cell, ...]
    number: int
    held: list[dict[str, str]]
    began: Left | None = None
    left: Left | None = None
    coming: str = ""


def columns_to_type_in(rows: Rows, shown: list[dict[str, str]]) -> list[str]:
    """The columns of the grid: part and length first, where they are seen uncut."""
    return sorted(columns(rows, shown), key=lambda head: head not in ("part", "length"))


def type_in(document: Document, rows: Rows) -> None:
    """The rows of the file to type in; what was not taken stays in them and is told below."""
    grid: _Grid | None = state.state.get("grid")
    lefts: dict[tuple[str, Loc], Left | None] = state.state.setdefault("left-rows", {})
    if grid is not None:
        lefts[grid.document.file, grid.loc] = grid.left
    mine = grid is not None and grid.loc == rows.loc and grid.document.file == document.file
    changed = grid is not None and document.text not in (grid.text, grid.coming)  # elsewhere
    away = (
        grid is not None and f"grid-{grid.number}" not in state.state
    )  # what was typed is in the file by now
    if grid is None or not mine or changed or away:
        left = _still(lefts.get((document.file, rows.loc)), document.text, rows.loc)
        told = left.told if left else ()
        number = grid.number + 1 if grid else 1
        held = records(document, rows)
        grid = _Grid(rows.loc, document, document.text, told, number, held, left, left)
        state.state.grid = grid
    grid.text, held = document.text, grid.held
    shown = [
        {**record, **(grid.began.cells.get(n, {}) if grid.began else {})} for n, record in enumerate(held)
    ]
    shown += [dict(row) for row in grid.began.added] if grid.began else []
    heads = columns_to_type_in(rows, shown)
    key = f"grid-{grid.number}"
    more_of_grid(key)
    import pandas as pd

    st.data_editor(
        pd.DataFrame(
            [[record.get(head, "") for head in heads] for record in shown],
            columns=heads,
            index=pd.RangeIndex(1, len(shown) + 1),
            dtype=str,
        ),
        key=key,
        num_rows="dynamic",
        hide_index=False,
        row_height=_ROW_PX,
        height=min(420, _ROW_PX * (len(shown) + 4) + 8),  # the head, a line to add a row, and two more
        column_config={
            head: st.column_config.TextColumn(
                inspector.in_capitals(head), width=_width(head), help=_example(head, held)
            )
            for head in heads
        },
        on_change=_typed,
        args=(rows, key),
        alt=f"{rows.title}, to type in",
    )
    if grid.told:  # below, so that the grid stays where the hand is
        show("not-taken", [_slip(held, cell) for cell in grid.told])
        for cell in grid.told:
            percent = "" if isinstance(cell.problem, str) else answers.in_percent(cell.problem)
            if percent and cell.column:
                words = shell.escaped(f"Row {cell.row + 1}, {cell.column}: write {percent}")
                st.button(words, on_click=_write, args=(rows, key, cell, percent))
    such = "9 m" if grid.document.content.well.show == "metric" else "30 ft"
    st.text(f"{rows.order} Every value with its unit, such as {such}; rows may be pasted in.".strip())


def _still(left: Left | None, text: str, loc: Loc) -> Left | None:
    """What was left over: its cells while the table has the same rows, its new rows behind all others."""
    if left is None or left.text == text:
        return left
    before, now = (_steps(tree.parse(one, "the text"), loc) for one in (left.text, text))
    cells = left.cells if before == now else {}
    said = [cell for cell in left.told if cell.row in cells]
    new = [cell for cell in left.told if cell.row >= len(before)]
    return Left(
        text,
        cells,
        left.added,
        (*said, *(cell._replace(row=cell.row - len(before) + len(now)) for cell in new)),
    )


def _example(head: str, held: Sequence[Mapping[str, str]]) -> str | None:
    """What a head says of its values: how the file writes one of them, with its unit."""
    written_ = next((record[head] for record in held if re.match(r"[-\d]", record.get(head, ""))), None)
    if written_ is None:
        return None
    if re.search(r"[^\d.,\s+-]", written_):
        return shell.escaped(f"Typed with its unit, as {written_} in this file")
    return shell.escaped(f"A number alone, as {written_} in this file")


def _place_of(head: str) -> int:
    """Where a column of the liner stands: those first that a narrow page has room for."""
    return next((n for n, word in enumerate(_SEEN_FIRST) if head.startswith(word)), len(_SEEN_FIRST))


def _width(head: str) -> int:
    words = 118 if head in ("part", "name", "pipe", "fluid", "connection") else 62
    return max(words, 40 + 7 * len(head))  # of the head itself with its mark


def _catch_up(grid: _Grid, document: Document) -> None:
    """Stand on a text that was changed elsewhere a moment ago, so that an edit does not take that back; where
    the rows are as the grid knows them, and none of them was put in or taken out since it began.
    """
    now, deleted = tree.parse(grid.text, "the text"), state.state[f"grid-{grid.number}"].get("deleted_rows")
    same = _at(now, grid.loc) == _at(document.root, grid.loc)
    if same and not deleted and _steps(grid.document.root, grid.loc) == _steps(now, grid.loc):
        grid.document, grid.text = document, document.text


def _typed(rows: Rows, key: str) -> None:
    """Take up what the grid holds now."""
    grid: _Grid = state.state.grid
    document = state.document()
    if key == f"grid-{grid.number}" and document.text not in (grid.text, grid.coming):
        _catch_up(grid, document)
    text, told = _taken(grid, rows, _held(grid, rows, key))
    grid.coming = text
    if state.change(lambda _text: text):
        grid.text, grid.told = text, tuple(told)


def _write(rows: Rows, key: str, cell: Cell, typed: str) -> None:
    """Type a cell otherwise; the text is not the grid's then: a new one begins, with what is left."""
    grid: _Grid = state.state.grid
    changed = _held(grid, rows, key)
    changed["edited_rows"].setdefault(cell.row, {})[cell.column] = typed
    text, _told = _taken(grid, rows, changed)
    state.change(lambda _text: text)


def _held(grid: _Grid, rows: Rows, key: str) -> dict[str, Any]:
    """All that was typed into the grid since it showed its document."""
    return with_left(grid.began, state.state[key], len(_steps(grid.document.root, rows.loc)))


def _taken(grid: _Grid, rows: Rows, changed: Mapping[str, Any]) -> tuple[str, list[Cell]]:
    """The text with it, and what was not taken; that is left for the next grid."""

    def refuses(text: str) -> Sequence[Problem]:
        error = state.problems(text, grid.document.file)
        return error.problems if error else ()

    text, told = applied(grid.document, rows, changed, refuses)
    grid.left = left_over(grid.document, rows, changed, told, text)
    return text, told


def _slip(held: Sequence[Mapping[str, str]], cell: Cell) -> answers.Block:
    """What was not taken: its row and column, what was found, what would do."""
    named = held[cell.row] if cell.row < len(held) else {}
    who = named.get("name") or named.get("part") or ""
    place = ", ".join(filter(None, (f"Row {cell.row + 1}", who, cell.column)))
    if isinstance(cell.problem, str):
        lines = [cell.problem]
    else:
        one = cell.problem
        lines = [f"Found: {one.found}", f"Accepted: {one.accepted}", f"Mend: {one.mend}"]
    keeps = "the file keeps what it had" if cell.row < len(held) else "this row is not in the file"
    head = f"{place}: not taken, {keeps}"
    return {"kind": "slip", "sign": "error", "letter": "!", "head": head, "lines": lines, "quiet": []}


def pick(document: Document, evaluation: Evaluation, rows: Rows, these: Sequence[Choice]) -> None:
    """The rows to choose a part by; what acts on the chosen row stands below them."""
    by_loc = {choice.loc: choice for choice in these}
    note = ""
    if rows.loc == ("liner", "assembly"):
        table = answers.table_block(answers.marked_liner(evaluation), evaluation.plan.identity.system)
        order = sorted(range(len(table["heads"])), key=lambda at: _place_of(table["heads"][at]))
        heads = [table["heads"][at] for at in order]
        cells = [[row[at] for at in order] for row in table["rows"]]
        paths = [part.path for part in evaluation.plan.depth.liner.parts]
        note = table["note"]
    else:
        held = records(document, rows)
        keys = columns(rows, held)
        cells = [[record.get(key, "") for key in keys] for record in held]
        heads = [inspector.in_capitals(key) for key in keys]
        its = [by_loc.get((*rows.loc, step)) for step in _steps(document.root, rows.loc)]
        paths = [choice.path if choice else "" for choice in its]
    if not cells:
        st.text(f"{rows.title}: none in the file yet. 'Type in rows' takes them, typed or pasted.")
        return
    key = f"pick-{'.'.join(map(str, rows.loc))}"
    wanted = (state.state.get("chosen") or {}).get("part", "")
    at = paths.index(wanted) if wanted and wanted in paths else None
    pick_rows(key, f"{rows.title}, to pick from", heads, cells, at, lambda: choose_row(key, paths))
    chosen = next((choice for choice in these if choice.path == wanted and wanted in paths), None)
    if chosen and chosen.loc[:-1] == rows.loc and inspector.stands(document, chosen.loc):
        _row_tools(document, rows, chosen)
    else:
        st.text(rows.order)
    if note:
        st.text(note)


def place_of(loc: Loc) -> tuple[str, str]:
    """The panel of a table of the file, and its title there."""
    return next(
        (panel, rows.title)
        for panel, places in PANELS.items()
        for rows in places
        if isinstance(rows, Rows) and rows.loc == loc
    )


def panel_of(choice: Choice | None, panel: str) -> str:
    """The panel to read a chosen part in: the table on screen where it is a row of it, else its own."""
    titles = [
        place.title
        for place in PANELS.get(panel, ())
        if isinstance(place, Rows) and choice is not None and choice.loc[:-1] == place.loc
    ]
    if not titles:
        return "Part"
    state.state[f"table-{panel}"] = titles[0]
    return panel


def choose_row(key: str, paths: Sequence[str]) -> None:
    """Choose the part of the row that was picked."""
    row = state.state[key]["chosen"]["row"]
    state.state.chosen = None if row is None else {"part": paths[row], "title": ""}


def _row_tools(document: Document, rows: Rows, chosen: Choice) -> None:
    """What acts on the chosen row: its pipe, its place in the list, taking it out."""
    pipe = next((f for f in inspector.fields(document, chosen.loc) if f.loc == (*chosen.loc, "pipe")), None)
    if pipe is not None:
        key = f"row-{document.file}-{chosen.path}-pipe"
        inspector.show_text(key, pipe.text)
        label = f"Pipe of {chosen.name}, typed or picked from the catalogue"
        inspector.pipe_box(shell.escaped(label), key, pipe, lambda: _change_field(pipe, key))
    number = chosen.loc[-1]
    with st.container(horizontal=True, vertical_alignment="center"):
        if isinstance(number, int):
            count, up = len(_steps(document.root, rows.loc)), 1 if rows.order == _UP else -1
            for label, to in (("Move up", number + up), ("Move down", number - up)):
                st.button(label, disabled=not 0 <= to < count, on_click=_move, args=(rows, chosen, to))
        st.button("Take out", on_click=_take_out, args=(chosen,))


def _change_field(field: Field, key: str) -> None:
    state.change(lambda text: inspector.with_value(text, field, str(state.state[key] or "")))


def _take_out(chosen: Choice) -> None:
    state.change(lambda text: edit.remove(text, _spelled(chosen.loc[:-1], chosen.loc[-1])))


def moved(text: str, loc: Loc, number: int, to: int) -> str:
    """The text with an item of a list at another number."""
    held = written(nodes.plain(path.at(tree.parse(text, "the text"), (*loc, number))[0]))
    text = edit.remove(text, _spelled(loc, number))
    left = len(_steps(tree.parse(text, "the text"), loc))
    return edit.insert(text, _spelled(loc[:-1], loc[-1]), held, to if to < left else None)


def _move(rows: Rows, chosen: Choice, to: int) -> None:
    """Move the chosen row; it stays chosen."""
    number = chosen.loc[-1]
    if isinstance(number, int) and state.change(lambda text: moved(text, rows.loc, number, to)):
        state.state.chosen = {"part": f"{chosen.path.rpartition('.')[0]}.{to}", "title": ""}


def table_panel(document: Document, evaluation: Evaluation, panel: str, these: Sequence[Choice]) -> None:
    """What stands under a switch: which table, and its rows to pick or to type in, or a form."""
    places = PANELS[panel]
    names = [place.title if isinstance(place, Rows) else place.name for place in places]
    with st.container(horizontal=True, vertical_alignment="center"):
        if len(places) > 1:
            key = f"table-{panel}"
            state.outlives(key, names[0])
            name = st.selectbox("Table", names, key=key, label_visibility="collapsed", width=196)
        else:
            name = names[0]
        place = places[names.index(name)]
        typing = False
        if isinstance(place, Rows):
            state.outlives("rows-mode", "Pick rows")
            mode = st.segmented_control(
                "Rows", ["Pick rows", "Type in rows"], key="rows-mode", required=True,
                label_visibility="collapsed",
            )  # fmt: skip
            typing = mode == "Type in rows"
    if isinstance(place, Choice):
        inspector.form(document, place)
        return
    if typing:
        type_in(document, place)
    else:
        pick(document, evaluation, place, these)
    if place.loc in (("liner", "assembly"), ("running string", "assembly")):
        show("closure", [answers.table_block(closure_table(evaluation), evaluation.plan.identity.system)])
