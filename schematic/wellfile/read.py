"""From the text of a well file to its checked content, with a place in the text for every problem."""

from __future__ import annotations

import difflib
import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path, PurePath
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from schematic.units import System, like_in
from schematic.wellfile import path as paths
from schematic.wellfile import tree
from schematic.wellfile.beside import Refused, read_beside
from schematic.wellfile.fields import Reader
from schematic.wellfile.model import Section, WellFile
from schematic.wellfile.problem import InputError, Problem

Loc = tuple[str | int, ...]

AS_WRITTEN = "as written"  # the well itself beside its options


@dataclass(frozen=True, slots=True)
class Document:
    """A well file that could be read: its name, its text, the places in it, its content, its folder."""

    file: str
    text: str
    root: tree.Mapping
    content: WellFile
    folder: Path | None = None  # of files beside it; None: the text did not come from disk

    @property
    def hash(self) -> str:
        """The first eight hexadecimal digits of the text's SHA-256: which text a sheet was made from."""
        return hashlib.sha256(self.text.encode()).hexdigest()[:8]

    def problem(self, loc: Loc, found: str, accepted: str, mend: str) -> Problem:
        """A problem at a place of this file."""
        return _problem(self.file, self.root, loc, found, accepted, mend)

    def beside(self, loc: Loc, name: str) -> tuple[bytes, str]:
        """The content of a file beside this one, and what to call it; *loc* is where its name stands.

        Raises
        ------
        InputError
            When it lies outside the folder, cannot be read or is too large.
        """
        try:
            return read_beside(self.folder, name), str(PurePath(self.file).parent / name)
        except Refused as error:
            raise InputError((self.problem(loc, error.found, error.accepted, error.mend),)) from None


def _problem(file: str, root: tree.Mapping, loc: Loc, found: str, accepted: str, mend: str) -> Problem:
    node, key = paths.at(root, loc)
    mark = key if key is not None and not isinstance(node, tree.Scalar) else node
    return Problem(
        file=file,
        line=mark.line,
        column=mark.column,
        path=paths.spell(root, loc),
        found=found,
        accepted=accepted,
        mend=like_in(mend, _shown_in(root)),
    )


def _shown_in(root: tree.Mapping) -> System:
    """The units of the file, as far as it says: whatever else is wrong with it, its examples are in those."""
    its = tree.plain(root)
    well = its.get("well") if isinstance(its, dict) else None
    return "metric" if isinstance(well, dict) and well.get("show") == "metric" else "field"


def _model_at(loc: Loc) -> type[Section] | None:
    """The model whose keys stand at a place, to suggest the nearest known key."""
    current: Any = WellFile
    for step, behind in zip(loc, (*loc[1:], None), strict=False):
        if isinstance(step, int):
            continue
        if not (isinstance(current, type) and issubclass(current, Section)):
            return None
        fields = {field.alias: field for field in current.model_fields.values()}
        if step not in fields:
            return current if step == loc[-1] else _value_model(current, step)
        current = _inner_model(fields[step].annotation, isinstance(behind, int))
    return current if isinstance(current, type) and issubclass(current, Section) else None


def _inner_model(annotation: Any, numbered: bool = False) -> type[Section] | None:  # noqa: ANN401
    """The model in an annotation; where a list or a single one may stand, the one that is meant."""
    if isinstance(annotation, type) and issubclass(annotation, Section):
        return annotation
    parts = getattr(annotation, "__args__", ())
    inner = [(part, _inner_model(part, numbered)) for part in parts]
    found = [(getattr(_bare(part), "__origin__", None) is list, model) for part, model in inner if model]
    return next((model for is_list, model in found if is_list == numbered), found[0][1] if found else None)


def _bare(annotation: Any) -> Any:  # noqa: ANN401
    return (
        getattr(annotation, "__origin__", annotation) if hasattr(annotation, "__metadata__") else annotation
    )


def _value_model(model: type[Section], _step: str) -> type[Section]:
    return model  # keys of a mapping of names, such as the fluids: the names are free


_INNER = ("[key]", "[list]", "[file]")  # pydantic's steps for a key's own error, and for what a value may be

_SHAPES = {
    # a shape that pydantic refuses: what is accepted, how to mend it
    "model_type": ("keys with values", "write 'key: value' lines below it, further in, or {key: value, ...}"),
    "dict_type": ("names with values", "write 'name: value' lines below it, further in"),
    "list_type": ("a list", "begin each entry on its own line with '- ', or write [a, b]"),
    "too_short": ("at least one entry", "add one, or take the key out if it may be left out"),
}


def _from_error(file: str, root: tree.Mapping, error: ErrorDetails) -> Problem:
    loc: Loc = tuple(step for step in error["loc"] if step not in _INNER)
    kind, context = error["type"], error.get("ctx", {})
    if kind == "field":
        found, accepted, mend = context["found"], context["accepted"], context["mend"]
    elif kind == "extra_forbidden":
        model = _model_at(loc[:-1])
        known = [f.alias or "" for f in model.model_fields.values()] if model else []
        near = difflib.get_close_matches(str(loc[-1]), known, 1, 0.5)
        found = f"'{loc[-1]}', which is not a key here"
        accepted = ", ".join(known)
        mend = f"did you mean '{near[0]}'?" if near else "take it out, or use one of these keys"
    elif kind == "missing":
        found = f"no '{loc[-1]}'"
        accepted = _accepted(_model_at(loc[:-1]), str(loc[-1]))
        mend = f"add '{loc[-1]}: ...'"
        loc = loc[:-1]
    elif kind in _SHAPES:
        found = _short(error.get("input"))
        accepted, mend = _SHAPES[kind]
    else:
        found = _short(error.get("input"))
        accepted = error["msg"].removeprefix("Input should be ")
        mend = "see 'lapline schema' for what stands here"
    return _problem(file, root, loc, str(found), str(accepted), str(mend))


def _accepted(model: type[Section] | None, key: str) -> str:
    """What may stand behind a key, in words."""
    field = next((f for f in model.model_fields.values() if f.alias == key), None) if model else None
    if field is None:
        return f"a value for '{key}'"
    reader = next((part for part in field.metadata if isinstance(part, Reader)), None)
    if reader is None:
        inner = _inner_model(field.annotation)
        keys = [f.alias or "" for f in inner.model_fields.values() if f.is_required()] if inner else []
        return f"'{key}' with at least {', '.join(keys)}" if keys else f"a value for '{key}'"
    words = reader.schema.get("enum")
    if isinstance(words, list):
        return f"'{key}', one of: {', '.join(map(str, words))}"
    return f"'{key}', {reader.schema.get('description') or 'a text'}"


def _short(value: object) -> str:
    if isinstance(value, dict):
        return "several keys"
    if isinstance(value, list):
        return "a list" if value else "an empty list"
    return "nothing" if value is None else f"{value!r}"


def _empty(file: str, root: tree.Mapping, node: tree.Node, loc: Loc) -> Iterator[Problem]:
    """Keys and list items with nothing behind them: a slip, never the same as left out."""
    if isinstance(node, tree.Mapping):
        for entry in node.entries:
            yield from _empty(file, root, entry.value, (*loc, tree.normalised(entry.key.value or "")))
    elif isinstance(node, tree.Sequence):
        for index, item in enumerate(node.items):
            yield from _empty(file, root, item, (*loc, index))
    elif node.value is None:
        yield _problem(file, root, loc, "nothing", "a value", "write a value, or take the key out")


def _option_names(file: str, root: tree.Mapping, content: WellFile) -> Iterator[Problem]:
    """Options that bear the name of another, or that by which the well itself is told from them."""
    taken = {AS_WRITTEN}
    for index, option in enumerate(content.options or ()):
        name = tree.normalised(option.name).casefold()
        if name in taken:
            accepted = f"a name of its own for each option; '{AS_WRITTEN}' is the well without any"
            yield _problem(
                file, root, ("options", index, "name"), option.name, accepted, "rename one of them"
            )
        taken.add(name)


def _unknown_paths(file: str, root: tree.Mapping, content: WellFile) -> tuple[Problem, ...]:
    """Options whose paths lead nowhere: neither to a value of the file nor to a key that may be added."""
    problems: list[Problem] = []
    for index, option in enumerate(content.options or ()):
        places: list[tuple[Loc, str]] = [
            (("without", n), path) for n, path in enumerate(option.without or ())
        ]
        places += [(("change", path), path) for path in option.change or ()]
        for place, path in places:
            try:
                steps = paths.split(path)
                loc = paths.locate(root, steps[:-1])
                model = _model_at(loc) if place[0] == "change" else None
                known = [field.alias or "" for field in model.model_fields.values()] if model else []
                if tree.normalised(steps[-1]) not in known:
                    paths.find(root, path)
            except ValueError as error:
                problems.append(
                    _problem(
                        file,
                        root,
                        ("options", index, *place),
                        str(error),
                        "a path to a value of this file, such as 'liner.lap'",
                        "name keys and list items as they stand in the file",
                    )
                )
    return tuple(problems)


def read_text(text: str | bytes, file: str = "well file", folder: Path | None = None) -> Document:
    """Read a well file from its text; files beside it are looked for in *folder* alone.

    Raises
    ------
    InputError
        With all problems of the file at once, in the order of its lines.
    """
    root = tree.parse(text, file)
    problems = {(problem.path, problem.found): problem for problem in _empty(file, root, root, ())}
    content = None
    try:
        content = WellFile.model_validate(tree.plain(root))
    except ValidationError as error:
        for one in error.errors(include_url=False):
            problem = _from_error(file, root, one)
            problems.setdefault((problem.path, problem.found), problem)
    if content is None or problems:
        raise InputError(problems.values())
    unusable = (*_option_names(file, root, content), *_unknown_paths(file, root, content))
    if unusable:
        raise InputError(unusable)
    decoded = text if isinstance(text, str) else text.decode("utf-8-sig")
    return Document(file, decoded, root, content, folder)


def read(file: str | Path) -> Document:
    """Read a well file from disk; a file that cannot be opened is a problem like any other."""
    try:
        data = Path(file).read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(
            (
                Problem(
                    file=str(file),
                    line=0,
                    column=0,
                    path="",
                    found=reason,
                    accepted="a well file that can be read",
                    mend="check the name and the folder; 'lapline new FILE' writes a first one",
                ),
            )
        ) from None
    return read_text(data, str(file), Path(file).parent)
