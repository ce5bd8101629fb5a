"""The inputs of one part of a well file as text fields: those that are written, and those that may be.

A field is a place in the file and the text that stands there; what else may stand there the models say.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial
from typing import Any, NamedTuple

import streamlit as st

from app import state
from app.answers import in_percent
from app.shell import escaped
from schematic.catalogue.rows import casing_rows, drill_pipe_rows
from schematic.depth.plan import Plan
from schematic.units import sentence_case, show
from schematic.wellfile import edit, nodes, path, tree
from schematic.wellfile.fields import Reader
from schematic.wellfile.model import WellFile
from schematic.wellfile.model_well import PART_KEYS
from schematic.wellfile.path import Loc
from schematic.wellfile.problem import Problem
from schematic.wellfile.read import Document
from schematic.wellfile.section import Section

_EVERY_LINER_PART = ("part", "name", "length", "od", "id", "weight", "remark", "drillable")
# lists and maps whose items are parts of their own, with what an item is called where it has no name
ITEMS: dict[Loc, str] = {
    ("liner", "assembly"): "part",
    ("running string", "assembly"): "part",
    ("strings",): "string",
    ("hole",): "hole",
    ("fluids",): "fluid",
    ("formation", "pressures"): "pressure point",
    ("formation", "leak off"): "leak-off",
    ("formation", "tops"): "rock top",
    ("cement", "slurries"): "slurry",
    ("cement", "schedule"): "pumping step",
    ("installation", "tests"): "test",
    ("survey",): "station",
}
_FIRST = ("part", "name")  # of the fields of a part
_SHORT = re.compile(r"\b(od|id|md|tvd|emw)\b")
SECTIONS = ("liner", "running string", "cement", "installation", "formation", "limits", "well")


class Choice(NamedTuple):
    """A part that can be chosen: its path in the plan, its place in the file, what a reader calls it."""

    path: str
    loc: Loc
    name: str


class Field(NamedTuple):
    """One input: its place, what it is called, what stands there (empty: nothing), which words it takes."""

    loc: Loc
    label: str
    text: str
    many: bool = False  # a list of values in one line
    words: tuple[str, ...] = ()


def choices(document: Document, plan: Plan) -> list[Choice]:
    """All parts in the order of the eye: the liner from the top down, what is around it, the job."""
    depth = plan.depth
    found = [
        Choice(
            part.path,
            ("liner", "assembly", int(part.path.rpartition(".")[2])),
            f"{sentence_case(part.name)}, from {show(part.top_md_m, 'tally', plan.identity.system)}",
        )
        for part in depth.liner.parts
    ]
    found += [
        Choice(string.path, ("strings", number), sentence_case(string.name))
        for number, string in enumerate(depth.strings)
    ]
    for place, word in ITEMS.items():
        if place in (("liner", "assembly"), ("strings",)):
            continue
        held = held_at(document.root, place)
        if isinstance(held, dict) and place == ("fluids",):
            found += [Choice(f"fluids.{key}", (*place, key), f"Fluid: {key}") for key in held]
        elif isinstance(held, list):
            found += [
                Choice(f"{'.'.join(map(str, place))}.{n}", (*place, n), _called(word, item, n))
                for n, item in enumerate(held)
            ]
    found += [
        Choice(name, (name,), "The well" if name == "well" else f"{sentence_case(name)} as a whole")
        for name in SECTIONS
    ]
    return _told_apart(found)


def _told_apart(found: Sequence[Choice]) -> list[Choice]:
    """Choices of which no two are called the same."""
    alike = Counter(one.name for one in found)
    nth = Counter[str]()
    made = []
    for one in found:
        nth[one.name] += 1
        of = f" ({nth[one.name]} of {alike[one.name]})" if alike[one.name] > 1 else ""
        made.append(one._replace(name=f"{one.name}{of}"))
    return made


def _called(word: str, item: nodes.Plain, number: int) -> str:
    """An item by its name, its kind, or its first value."""
    held = item if isinstance(item, dict) else {}
    own = held.get("name") or held.get("part") or next((v for v in held.values() if isinstance(v, str)), "")
    return sentence_case(str(own)) if word == "part" else f"{sentence_case(word)}: {own or number + 1}"


def held_at(root: nodes.Mapping, loc: Loc) -> nodes.Plain:
    """What stands at a place of a file; None where there is nothing."""
    return nodes.plain(path.at(root, loc)[0]) if _depth(root, loc) == len(loc) else None


def chosen_among(these: Sequence[Choice], wanted: str) -> Choice | None:
    """The part of a path, or the nearest one above it: a planned top of cement belongs to the cement."""
    by_path = {one.path: one for one in these}
    while wanted and wanted not in by_path:
        wanted = wanted.rpartition(".")[0]
    return by_path.get(wanted)


class _Shape(NamedTuple):
    """What may stand behind a key: one text, a list of texts, a section, a list of sections."""

    kind: str
    model: type[Section] | None = None
    words: tuple[str, ...] = ()


def _shape(annotation: Any, metadata: Iterable[Any] = ()) -> _Shape | None:  # noqa: ANN401 - a type, or a part of one
    """The shape that an annotation means; None where the keys are free, as those of options."""
    reader = next((one for one in metadata if isinstance(one, Reader)), None)
    if reader is not None:
        words = reader.schema.get("enum", ())
        return _Shape("one", None, tuple(words) if isinstance(words, list | tuple) else ())
    if isinstance(annotation, type) and issubclass(annotation, Section):
        return _Shape("section", annotation)
    parts: Sequence[Any] = getattr(annotation, "__args__", ())
    if hasattr(annotation, "__metadata__"):
        return _shape(annotation.__origin__, annotation.__metadata__)
    if getattr(annotation, "__origin__", None) is list:
        inner = _shape(parts[0])
        if inner is None:
            return None
        return _Shape("texts" if inner.kind == "one" else "sections", inner.model)
    if getattr(annotation, "__origin__", None) is dict:
        inner = _shape(parts[1])
        return _Shape("map", inner.model) if inner and inner.model else None
    return next((shape for part in parts if part is not type(None) and (shape := _shape(part))), None)


def model_at(loc: Loc) -> type[Section] | None:
    """The model of what stands at a place: a section, or an item of a list or map of sections."""
    model: type[Section] | None = WellFile
    shape: _Shape | None = None
    for step in loc:
        if shape is not None and shape.kind in ("sections", "map"):
            model, shape = shape.model, None
            continue
        field = None if model is None else {f.alias: f for f in model.model_fields.values()}.get(str(step))
        shape = _shape(field.annotation, field.metadata) if field else None
        model = shape.model if shape else None
    return model


def keys_of(loc: Loc, part: str = "") -> tuple[str, ...]:
    """The keys that may stand in a section; of a liner part those of its kind."""
    model = model_at(loc)
    known = [field.alias or "" for field in model.model_fields.values()] if model else []
    if loc[:2] == ("liner", "assembly") and part in PART_KEYS:
        return tuple(key for key in known if key in PART_KEYS[part] or key in _EVERY_LINER_PART)
    return tuple(known)


def fields(document: Document, loc: Loc) -> list[Field]:
    """The inputs of a part: all that its model knows, with what stands in the file."""
    held = held_at(document.root, loc)
    model = model_at(loc)
    if model is None:
        return []
    part = str(held.get("part", "")) if isinstance(held, dict) else ""
    found = list(_fields(loc, held, model, "", keys_of(loc, part)))
    return sorted(
        found, key=lambda field: _FIRST.index(field.label) if field.label in _FIRST else len(_FIRST)
    )


def _fields(
    loc: Loc, held: nodes.Plain, model: type[Section], before: str, keys: Sequence[str] | None = None
) -> Iterator[Field]:
    inside = held if isinstance(held, dict) else {}
    for field in model.model_fields.values():
        key = field.alias or ""
        if (keys is not None and key not in keys) or (*loc, key) in ITEMS or key == "lapline":
            continue
        shape = _shape(field.annotation, field.metadata)
        if shape is not None:
            yield from _of_key((*loc, key), inside.get(key), shape, f"{before}{key}")


def _of_key(loc: Loc, held: nodes.Plain, shape: _Shape, label: str) -> Iterator[Field]:
    """The inputs behind one key; a list of sections has one empty item more, to be filled."""
    if shape.kind == "texts":
        texts = [str(one) for one in held] if isinstance(held, list) else []
        yield Field(loc, label, ", ".join(texts), many=True)
    elif shape.kind == "section" and shape.model:
        yield from _fields(loc, held, shape.model, f"{label}, ")
    elif shape.kind == "sections" and shape.model:
        if isinstance(held, dict):  # a file beside stands for the list
            yield from (Field((*loc, key), f"{label}, {key}", str(text)) for key, text in held.items())
            return
        items = held if isinstance(held, list) else []
        for number, item in enumerate([*items, None]):
            named = f"{label} {number + 1}" if item is not None else f"{label}, one more"
            yield from _fields((*loc, number), item, shape.model, f"{named}, ")
    elif isinstance(held, dict):  # a quantity with its band
        for key, text in held.items():
            yield Field((*loc, key), f"{label}, {key}", str(text))
    elif shape.kind == "one":
        yield Field(loc, label, "" if held is None else str(held), words=shape.words)


def with_value(text: str, field: Field, typed: str) -> str:
    """The text with what was typed into a field; an empty one takes its entry out.

    Raises
    ------
    EditError, PathError
        When the change cannot be made in place.
    """
    root = tree.parse(text, "the text")
    typed = typed.strip()
    value: edit.Value = [one for one in re.split(r"[,;]\s+|;", typed) if one] if field.many else typed
    there = _depth(root, field.loc)
    if there == len(field.loc):
        place = path.spell(root, field.loc)
        if not typed:
            return _without_empty(edit.remove(text, place), field.loc[:-1])
        return edit.put(text, place, value) if field.many else edit.set(text, place, typed)
    if not typed:
        return text
    missing = field.loc[there]
    for step in reversed(field.loc[there + 1 :]):
        value = [value] if isinstance(step, int) else {step: value}
    if isinstance(missing, int):
        return edit.insert(text, path.spell(root, field.loc[:there]), value)
    return edit.put(text, path.spell(root, field.loc[: there + 1]), value)


def _depth(root: tree.Mapping, loc: Loc) -> int:
    """How many steps of a place the text holds."""
    node: nodes.Node = root
    for count, step in enumerate(loc):
        below = path.at(node, (step,))[0] if not isinstance(node, nodes.Scalar) else node
        if below is node:
            return count
        node = below
    return len(loc)


def stands(document: Document, loc: Loc) -> bool:
    """Whether the file holds something at a place; parts that were assumed it does not hold."""
    return _depth(document.root, loc) == len(loc)


def _without_empty(text: str, loc: Loc) -> str:
    """The text without a holder that the last entry has left, and without those that held only that."""
    while len(loc) > 1:
        root = tree.parse(text, "the text")
        node = path.at(root, loc)[0]
        holds = node.entries if isinstance(node, nodes.Mapping) else getattr(node, "items", (node,))
        if holds or loc in ITEMS or loc[:-1] in ITEMS:
            return text
        text, loc = edit.remove(text, path.spell(root, loc)), loc[:-1]
    return text


def with_values(text: str, typed: Sequence[tuple[Field, str]]) -> str:
    """The text with all that was typed; of the items of a list the last is taken out first."""
    gone = [(field, value) for field, value in typed if not value.strip()]
    for field, value in [(f, v) for f, v in typed if v.strip()] + gone[::-1]:
        text = with_value(text, field, value)
    return text


def belongs(problem: Problem, place: str) -> bool:
    """Whether a problem is that of a field: at its path, or of what is nested in it."""
    return problem.path == place or problem.path.startswith(f"{place}.")


def told(problem: Problem) -> str:
    """A problem in one line: what is wrong, what would do."""
    return f"{problem.found}: {problem.mend}. Accepted: {problem.accepted}."


def pipes(written: str, running: bool) -> list[str]:
    """The pipes of the catalogue with the grade of the one that is written, its own size first."""
    rows: Sequence[Any] = drill_pipe_rows() if running else casing_rows()
    own = written.partition(" in ")[0]
    grade = next((word for word in written.split() if re.fullmatch(r"[A-Z]{1,2}-?\d{2,3}", word)), "")
    names = [f"{row.name} {grade}".strip() for row in rows]
    return sorted(dict.fromkeys(names), key=lambda name: not name.startswith(f"{own} in"))


def form(document: Document, choice: Choice) -> None:
    """All inputs of a part; what is written comes first, the rest is folded away. What is typed waits for
    'Change', on whatever part or page the next click leads to.
    """
    if len(choice.loc) > 1 and not stands(document, choice.loc):
        st.text("Assumed, not in the file: type the assembly in rows under Liner.")
        return
    its = fields(document, choice.loc)
    mine = state.state.get("refused_of") == (choice.path, document.hash)
    refused: Mapping[Loc, tuple[str, str]] = state.state.refused if mine else {}
    for field in its:
        show_text(_key(document, field), field.text)
    typed = _typed(document, its)
    with_unit = partial(_with_unit, document, choice, its)
    _rows(document, [field for field in its if field.text], refused, with_unit)
    rest = [field for field in its if not field.text]
    if rest:
        asked = {*refused, wanted_field()[0], *(field.loc for field, _text in typed)}
        open_ = any(field.loc in asked for field in rest) or len(rest) == len(its)
        with st.expander(f"{len(rest)} more that may be given", expanded=open_):
            _rows(document, rest, refused, with_unit)
    with st.container(horizontal=True, vertical_alignment="center", key="ahead-change"):
        st.button(
            "Change",
            on_click=_change,
            args=(document, choice, its),
            type="primary" if typed else "secondary",
            key=f"change-{choice.path}",
        )
        if typed:
            st.button("Put back", on_click=_put_back, args=(document, its), type="tertiary")
        line = path.at(document.root, choice.loc)[0].line
        st.text(_waiting(typed) or f"In the file from line {line} on")
        _enter(key="enter-changes", width="content")
    loc, at = wanted_field()
    if any(field.loc == loc for field in its):
        _cursor(key="cursor", data={"box": _key(document, Field(loc, "", "")), "at": at})


def _typed(document: Document, its: Sequence[Field]) -> list[tuple[Field, str]]:
    """What stands in the fields of a part otherwise than in the file."""
    found = [(field, str(state.state.get(_key(document, field)) or "")) for field in its]
    return [(field, text) for field, text in found if text.strip() != field.text]


def _waiting(typed: Sequence[tuple[Field, str]]) -> str:
    """What was typed and not changed, each with what the file has."""
    said = [
        f"{labelled(field)} {text.strip() or 'emptied'}{f' (now {field.text})' if field.text else ''}"
        for field, text in typed
    ]
    return f"Typed, not changed yet: {', '.join(said)}" if said else ""


def _put_back(document: Document, its: Sequence[Field]) -> None:
    """Show in the fields of a part what the file has."""
    for field in its:
        state.state[_key(document, field)] = field.text
    state.state.refused_of = None


def wanted_field() -> tuple[Loc, str]:
    """The place of the field that was asked for last, and when."""
    its: tuple[Loc, str] = state.state.get("to-field", ((), ""))
    return its


# Puts the cursor into a field, once for each time that it was asked for; the field may come after this.
_CURSOR_JS = r"""
export default function ({ data }) {
  if (globalThis.laplineCursorAt === data.at) return;
  globalThis.laplineCursorAt = data.at;
  const name = 'st-key-' + data.box.trim().replace(/[^a-zA-Z0-9_-]/g, '-');
  let tries = 0;
  const put = () => {
    const box = document.getElementsByClassName(name)[0]?.querySelector('input, textarea');
    if (box?.checkVisibility()) { box.focus(); box.scrollIntoView({ block: 'center' }); }
    else if (++tries < 60) setTimeout(put, 50);
  };
  put();
}
"""

# Enter in a field of a part is 'Change'; the field has told what was typed by then.
_ENTER_JS = r"""
export default function () {
  const change = e => {
    const box = e.target.closest?.('[data-testid="stTextInput"]');
    if (e.key !== 'Enter' || !box?.closest('[class*="st-key-input-"]')) return;
    setTimeout(() => document.querySelector('[class*="st-key-change-"] button')?.click());
  };
  document.addEventListener('keydown', change);
  return () => document.removeEventListener('keydown', change);
}
"""

_enter = st.components.v2.component("enter_changes", js=_ENTER_JS, html="<span></span>")
_cursor = st.components.v2.component("cursor", js=_CURSOR_JS, html="<span></span>")


def _rows(
    document: Document,
    its: list[Field],
    refused: Mapping[Loc, tuple[str, str]],
    with_unit: Callable[[Field, str], None],
) -> None:
    """Fields three in a row, each with what was wrong with it below it, and a share in percent to write."""
    for at in range(0, len(its), 3):
        for column, field in zip(st.columns(3), its[at : at + 3], strict=False):
            key = _key(document, field)
            with column:
                if field.loc[-1] == "pipe":
                    pipe_box(f"{labelled(field)}, typed or picked", key, field)
                else:
                    words = ", ".join(field.words)
                    st.text_input(labelled(field), key=key, placeholder=words or None)
                if field.loc in refused:
                    said, percent = refused[field.loc]
                    st.text(said)
                    if percent:
                        words = escaped(f"Write {percent}")
                        st.button(words, on_click=with_unit, args=(field, percent), key=f"percent-{key}")


def labelled(field: Field) -> str:
    """What a field is called on the page."""
    return sentence_case(in_capitals(field.label))


def in_capitals(words: str) -> str:
    """A label or the head of a column with OD, ID, MD as they are written everywhere else."""
    return _SHORT.sub(lambda match: match[0].upper(), words)


def show_text(key: str, text: str) -> None:
    """Let an input show the text of the file when that has changed; else it has what was typed into it, also
    where it was off the page.
    """
    shown: dict[str, str] = state.state.setdefault("shown", {})
    if shown.get(key) != text:
        state.state[key] = shown[key] = text
    elif key not in state.state:
        state.state[key] = state.state.boxes.get(key, text)


def pipe_box(label: str, key: str, field: Field, on_change: Callable[[], None] | None = None) -> None:
    """A pipe as it is typed, or picked from the catalogue."""
    names = [state.state[key], *pipes(field.text, field.loc[0] == "running string")]
    st.selectbox(
        label, list(dict.fromkeys(names)), key=key, accept_new_options=True, on_change=on_change or "rerun"
    )


def _key(document: Document, field: Field) -> str:
    return f"{state.INPUT}{document.file}-{'.'.join(map(str, field.loc))}"


def _with_unit(document: Document, choice: Choice, its: Sequence[Field], field: Field, text: str) -> None:
    """Type a share with its unit, and change it with all else that was typed."""
    state.state[_key(document, field)] = text
    _change(document, choice, its)


def _change(document: Document, choice: Choice, its: Sequence[Field]) -> None:
    """Put what was typed into the text, all of it or nothing; what is refused stays in its field."""
    changed = _typed(document, its)
    problems: tuple[Problem, ...] = ()

    def made(text: str) -> str:
        nonlocal problems
        new = with_values(text, changed)
        error = state.problems(new, document.file)
        problems = error.problems if error else ()
        return new

    state.state.refused_of = None
    if state.change(made):
        return
    places = {field.loc: path.spell(document.root, field.loc) for field in its}
    below = {
        loc: (told(one), in_percent(one))
        for loc, place in places.items()
        for one in problems
        if belongs(one, place)
    }
    state.state.refused_of, state.state.refused = (choice.path, document.hash), below
    if problems and all(any(belongs(one, place) for place in places.values()) for one in problems):
        state.forget_problem()  # it is told under its field
