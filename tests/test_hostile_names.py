"""Whatever stands in a text of a well file stays text in every output, or is refused at the door.

The texts are found by walking the models, so that a new one is tried as well. Each hostile text is put before
the text that stood there, everywhere at once, so that what refers to another thing still does.
"""

from __future__ import annotations

import csv
import io
import json
import re
import subprocess
import typing
import unicodedata
import zipfile
from collections.abc import Callable, Iterator
from typing import Any
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner
from pydantic import BaseModel

from schematic import cli, verbs
from schematic.checks.evaluate import Evaluation
from schematic.comparison import compare
from schematic.drawing import overlap, png, side_by_side, two_positions
from schematic.drawing.scene import Sheet, Text
from schematic.export import explanation, report, tables
from schematic.wellfile import fields
from schematic.wellfile.model import WellFile
from schematic.wellfile.nodes import plain
from schematic.wellfile.problem import InputError
from schematic.wellfile.tree import parse
from tests.program.programs import coarse_pictures

KEPT = [
    "=1+1", "+cmd", "-1", "@x", "|calc", "$\\href{x}$", "$x^2$", "\\alpha", "<b>", "&amp;", "&lt;", '"', "'", "`", "]]>",
    "--", "-->", "<script>alert(1)</script>", "{0}", "%s%n", "${PATH}", "[x](javascript:x)", "#REF!", "a;b,c", "M" * 120,
]  # fmt: skip
STRIPPED = ["\t=1+1", "\r=1+1", " =1+1"]  # spaces at the ends of a text count for nothing
REFUSED = [
    "a\nb",
    "a\tb",
    "\x07",
    "\x1b[31m",
    "\x00",
    "\u202e",
    "\u2066",
    "\u200b",
    "\ufeff",
    "\u2028",
    "\x85",
    "x" * 5000,
]
PATHS = {("Option", "without")}  # of what an option takes out: refused where it leads nowhere
FILES = {("TableFile", "file"), ("TableFile", "sheet"), ("CaliperFile", "file"), ("CaliperFile", "curve")}
# sums, sums and differences of two, references, sums of one side
OUR_FORMULAS = (
    r"=(SUM\([A-Z]\$?\d+:[A-Z]\$?\d+\)|[A-Z]\d+([-+][A-Z]\d+)?|SUMIF\(B2:B\d+,\"(in|out)side\",E2:E\d+\))"
)
IN_DOCUMENTS = [
    "=1+1",
    "$\\href{x}$",
    "<b>",
    "&amp;",
    "]]>",
    "{0}",
    "M" * 120,
]  # a document takes some seconds
UNSEEN = {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}
SVG_TAGS = {"svg", "defs", "title", "desc", "rect", "g", "path", "text"}

MORE: dict[str, Any] = {  # what the demo well does not say
    "well": {"field": "a field", "rig": "a rig"},
    "waived": [
        {"rule": "gap-in-hole-small", "subject": "landing collar", "by": "A. Planner", "reason": "a reason"}
    ],
    "limits": {"set by": "the operator", "least lap": "60 m"},
}


def whole() -> dict[str, Any]:
    """A well that has every text of the models, but those that name a file."""
    tree: Any = plain(parse(verbs.demos()["brindlewick-4.yaml"], "demo"))
    for key, value in MORE.items():
        tree[key] = {**tree[key], **value} if key in tree and isinstance(value, dict) else value
    tree["well"]["revision"] |= {"number": "issue 2", "checked by": "C. Hecker", "approved by": "A. Pprover"}
    tree["well"]["earlier revisions"][0]["content"] = "1a2b3c4d"  # in the latest it would take the names away
    casing = tree["strings"][2]
    casing["special drift"] = {"diameter": "8.525 in", "certificate": "a certificate"}
    casing["features"] = [{"what": "a window", "from": "5000 ft", "to": "5010 ft"}]
    liner = tree["liner"]
    liner["name"] = "production liner"
    liner["assembly"][0]["remark"] = liner["assembly"][0]["name"] = "a shoe"
    liner["assembly"][1] |= {"connection": "buttress"}
    tree["running string"]["assembly"][1]["name"] = "an inner string"
    tree["running string"]["assembly"][1]["remark"] = "an inner string"
    tree["fluids"]["mud"]["remark"] = "a mud"
    formation = tree["formation"]
    formation |= {"hydrogen sulphide": "none expected", "carbon dioxide": "2 %"}
    cement = tree["cement"]
    cement["schedule"] = [{"fluid": "spacer", "volume": "30 bbl", "remark": "first"}]
    tree["installation"]["tests"][0] |= {
        "at": "intermediate casing",
        "remark": "a test",
        "fluid": "mud",
        "light fluid": "mud",
    }
    tree["record"][0]["remark"] = "a record"
    return tree


def text_fields(model: type[BaseModel], seen: set[type] | None = None) -> Iterator[tuple[str, str]]:
    """Every text of a model and of the models within it, by model and attribute."""
    seen = set() if seen is None else seen
    if model in seen:
        return
    seen.add(model)
    for name, field in model.model_fields.items():
        found = [field.annotation, *field.metadata]
        while found:
            part = found.pop()
            if isinstance(part, fields.Reader) and part.read is fields._text:
                yield model.__name__, name
            elif isinstance(part, type) and issubclass(part, BaseModel):
                yield from text_fields(part, seen)
            else:
                found += [*typing.get_args(part), *getattr(part, "__metadata__", ())]


def changed(value: Any, model: Any, change: Callable[[str], str], reached: set[tuple[str, str]]) -> Any:
    """A value of a well file with all its texts changed; *reached* hears which."""
    parts = _parts(model)
    models = [part for part in parts if isinstance(part, type) and issubclass(part, BaseModel)]
    if isinstance(value, list):
        return [changed(item, model, change, reached) for item in value]
    if not isinstance(value, dict):
        return value
    if models and typing.get_origin(model) is not dict and dict not in {typing.get_origin(p) for p in parts}:
        [kind] = [
            m for m in models if set(value) <= {n.rstrip("_").replace("_", " ") for n in m.model_fields}
        ][:1]
        made = {}
        for key, item in value.items():
            name = next(n for n in kind.model_fields if n.rstrip("_").replace("_", " ") == key)
            field = kind.model_fields[name]
            if _is_text(field) and isinstance(item, str):
                reached.add((kind.__name__, name))
                made[key] = change(item)
            else:
                made[key] = changed(item, field.annotation, change, reached)
        return made
    if models:  # names of the user as keys
        return {change(key): changed(item, models[0], change, reached) for key, item in value.items()}
    return value


def _parts(annotation: Any) -> list[Any]:
    found, left = [], [annotation]
    while left:
        part = left.pop()
        found.append(part)
        left += [*typing.get_args(part)]
    return found


def _is_text(field: Any) -> bool:
    left = [field.annotation, *field.metadata]
    while left:
        part = left.pop()
        if isinstance(part, fields.Reader) and part.read is fields._text:
            return True
        if not (isinstance(part, type) and issubclass(part, BaseModel)) and typing.get_origin(part) in (
            None,
            typing.Union,
            type(int | None),
            typing.Annotated,
        ):
            left += [*typing.get_args(part), *getattr(part, "__metadata__", ())]
    return False


def hostile(payload: str) -> str:
    """The text of a well with the payload before each of its texts."""
    return json.dumps(changed(whole(), WellFile, lambda text: payload + text, set()), ensure_ascii=False)


def test_the_well_has_every_text_of_the_models():
    reached: set[tuple[str, str]] = set()
    changed(whole(), WellFile, str, reached)

    assert set(text_fields(WellFile)) - FILES - PATHS - {("WellFile", "fluids")} == reached
    assert len(reached) > 45
    verbs.check(verbs.load_text(json.dumps(whole()), "whole"))


@pytest.mark.parametrize("payload", REFUSED, ids=lambda text: repr(text[:8]))
def test_what_is_no_line_of_text_is_refused_at_every_text(payload):
    tree = whole()
    reached: set[tuple[str, str]] = set()
    changed(tree, WellFile, str, reached)
    for wanted in sorted(reached):
        count = iter(range(10**6))
        text = json.dumps(_one(tree, wanted, payload, count), ensure_ascii=True)
        with pytest.raises(InputError) as caught:
            verbs.load_text(text, "hostile")
        told = str(caught.value)
        assert not {unicodedata.category(char) for char in told.replace("\n", "")} & UNSEEN, wanted
        assert len(told) < 4000


def _one(tree: dict[str, Any], wanted: tuple[str, str], payload: str, count: Iterator[int]) -> Any:
    """The well with the payload in the first text of one kind."""
    reached: set[tuple[str, str]] = set()

    def change(text: str) -> str:
        first = wanted in reached and next(count) == 0
        return text[:1] + payload + text[1:] if first else text

    return changed(tree, WellFile, change, reached)


@pytest.fixture(scope="module", params=[*KEPT, *STRIPPED], ids=lambda text: repr(text[:8]))
def payload(request) -> str:
    return request.param


@pytest.fixture(scope="module")
def evaluation(payload) -> Evaluation:
    return verbs.check(verbs.load_text(hostile(payload), "hostile"))


@pytest.fixture(scope="module")
def pages(evaluation) -> Sheet:
    return verbs.sheet(evaluation)


def test_the_names_are_read_as_they_are_written(payload, evaluation):
    plan = evaluation.plan

    assert plan.identity.name == f"{payload}Brindlewick 4".strip()
    assert plan.depth.liner.host == f"{payload}intermediate casing".strip()


def test_svg_holds_them_as_text(payload, pages):
    texts = []
    for page in verbs.render(pages, ".svg"):
        elements = list(ElementTree.fromstring(page).iter())
        names = [name.lower() for element in elements for name in element.attrib]
        assert {element.tag.rpartition("}")[2] for element in elements} <= SVG_TAGS
        assert [name for name in names if name.startswith("on") or "href" in name] == []
        texts += [element.text or "" for element in elements]

    assert payload.strip()[:20] in "\n".join(texts)


def test_png_is_drawn_letter_by_letter(pages, monkeypatch):
    """No part of a name is taken for a formula: the parser of formulas is never asked."""
    from matplotlib import mathtext

    def asked(*_arguments: object, **_named: object) -> None:
        raise AssertionError("a name was taken for a formula")

    monkeypatch.setattr(mathtext.MathTextParser, "parse", asked)
    for scene in pages.scenes:
        assert png.render(scene, dpi=40.0).startswith(b"\x89PNG")


def test_pdf_holds_them_as_text(payload, pages, program, tmp_path):
    file = tmp_path / "sheet.pdf"
    file.write_bytes(verbs.render(pages, ".pdf")[0])
    read = subprocess.run(
        [program("pdftotext"), str(file), "-"], check=True, capture_output=True
    ).stdout.decode()

    assert payload.strip()[:20] in read
    assert_no_action(file.read_bytes())


def assert_no_action(pdf: bytes) -> None:
    """Outside its streams a PDF file names nothing that a reader would run or open."""
    objects = re.sub(rb"stream\r?\n.*?endstream", b"", pdf, flags=re.DOTALL)
    assert not re.search(rb"/(JavaScript|JS|URI|Launch|OpenAction|AA)\b", objects)


def test_every_page_stays_readable(pages):
    for scene in pages.scenes:
        assert overlap.problems(scene) == []
        assert all("\n" not in s.text for g in scene.groups for s in g.shapes if isinstance(s, Text))


@pytest.mark.parametrize("system", ["field", "metric"])
def test_csv_has_no_cell_that_computes(payload, evaluation, system):
    made = (
        tables.findings_table(evaluation, system),
        *tables.tables(evaluation),
        *report.open_points(evaluation),
    )
    text = tables.as_csv(made, system)
    cells = [cell for row in csv.reader(io.StringIO(text)) for cell in row]

    for cell in cells:
        assert cell[:1] not in ("=", "+", "-", "@", "\t", "\r") or _is_number(cell), cell
    if payload.strip()[:1] in ("=", "+", "-", "@"):
        assert any(cell.startswith(f"'{payload.strip()[0]}") for cell in cells)
    assert any(payload.strip() in cell for cell in cells)


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def test_workbook_holds_them_as_typed_strings(payload, evaluation, tmp_path):
    from openpyxl import load_workbook

    book = load_workbook(verbs.tabulate(evaluation, tmp_path / "tables.xlsx", "field"))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None]

    formulas = [cell.value for cell in cells if cell.data_type == "f"]
    assert formulas
    assert [value for value in formulas if not re.fullmatch(OUR_FORMULAS, value)] == []
    assert not any(cell.hyperlink for cell in cells)
    assert [c for c in cells if c.data_type == "s" and str(c.value) == f"{payload}Brindlewick 4".strip()]


def test_terminal_and_json_hold_them_as_text(payload, evaluation):
    text = report.as_text(evaluation, "field") + "".join(
        tables.as_text(table, "field") for table in tables.tables(evaluation)
    )
    assert payload.strip() in text
    assert not {unicodedata.category(char) for char in text.replace("\n", "")} & UNSEEN

    data = json.dumps([tables.as_data(table, "field") for table in tables.tables(evaluation)])
    assert any(payload.strip() in text for text in _texts(json.loads(data)))


def _texts(data: Any) -> Iterator[str]:
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict | list):
        for each in [*data, *data.values()] if isinstance(data, dict) else data:
            yield from _texts(each)


def test_explanations_and_options_hold_them_as_text(payload, tmp_path):
    document = verbs.load_text(hostile(payload), "hostile")
    evaluation = verbs.check(document)
    for path in ("liner.top", "liner.shoe"):
        told = explanation.explain(document, evaluation, path, "field") or ""
        assert not {unicodedata.category(char) for char in told.replace("\n", "")} & UNSEEN
    alternatives = verbs.options(document)
    made = (compare.what_differs(alternatives, "field"), compare.findings_that_differ(alternatives, "field"))
    cells = [cell for row in csv.reader(io.StringIO(tables.as_csv(made, "field"))) for cell in row]
    assert all(cell[:1] not in ("=", "+", "-", "@", "\t", "\r") or _is_number(cell) for cell in cells)
    assert any(payload.strip() in cell for cell in cells)


def test_drawings_of_options_and_differences_hold_them_as_text(payload):
    document = verbs.load_text(hostile(payload), "hostile")
    moved = verbs.load_text(hostile(payload).replace('"370 ft"', '"380 ft"'), "moved")
    drawn = {
        "options": side_by_side.options_sheet(verbs.options(document), "field"),
        "diff": two_positions.difference_sheet(verbs.diff(document, moved), "field"),
    }
    for what, pages in drawn.items():
        texts = []
        for scene, page in zip(pages.scenes, verbs.render(pages, ".svg"), strict=True):
            assert overlap.problems(scene) == [], what
            elements = list(ElementTree.fromstring(page).iter())
            assert {element.tag.rpartition("}")[2] for element in elements} <= SVG_TAGS
            texts += [element.text or "" for element in elements]
        assert payload.strip()[:20] in "\n".join(texts), what


@pytest.mark.parametrize("form", ["text", "csv", "json"])
def test_the_command_prints_them(payload, form, tmp_path):
    file = tmp_path / "well.yaml"
    file.write_text(hostile(payload), encoding="utf-8")

    done = CliRunner().invoke(cli.commands, ["volumes", str(file), "--format", form])

    assert done.exit_code == 0, done.output
    assert not {unicodedata.category(char) for char in done.stdout.replace("\n", "")} & UNSEEN
    if form == "json":
        assert payload.strip() in json.loads(done.stdout)["well"]
    assert [path.name for path in tmp_path.iterdir()] == ["well.yaml"]


@pytest.mark.parametrize("payload", IN_DOCUMENTS, ids=lambda text: repr(text[:8]))
def test_the_program_section_holds_them_as_text(payload, program, tmp_path):
    """In DOCX a name is the text of a run: no field, no link; in a workbook a string; in PDF no action."""
    from openpyxl import load_workbook

    document = verbs.load_text(hostile(payload), "hostile")
    with coarse_pictures():
        docx, xlsx, pdf = (
            verbs.program(document, tmp_path / f"program.{form}") for form in ("docx", "xlsx", "pdf")
        )

    body = ElementTree.fromstring(zipfile.ZipFile(docx).read("word/document.xml"))
    words = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
    assert not list(body.iter(f"{words}hyperlink"))
    assert payload.strip() in "".join(element.text or "" for element in body.iter(f"{words}t"))
    assert not any(payload.strip() in (element.text or "") for element in body.iter(f"{words}instrText"))

    cells = [cell for sheet in load_workbook(xlsx) for row in sheet.iter_rows() for cell in row]
    assert [c.value for c in cells if c.data_type == "f" and not re.fullmatch(OUR_FORMULAS, c.value)] == []
    assert any(payload.strip() in str(cell.value) for cell in cells if cell.data_type == "s")

    assert_no_action(pdf.read_bytes())
    read = subprocess.run(
        [program("pdftotext"), str(pdf), "-"], check=True, capture_output=True
    ).stdout.decode()
    assert payload.strip()[:20] in read


@pytest.mark.parametrize(
    "name",
    ["/etc/passwd", "../x.csv", "=1+1.csv", "<b>.csv", "a\nb.csv", "$(id).csv", "c:\\x.csv", "\u202ex.csv"],
)
@pytest.mark.parametrize("place", ["survey", "tally", "caliper"])
def test_the_name_of_a_file_leads_nowhere_else(name, place, tmp_path):
    tree = whole()
    if place == "survey":
        tree["survey"] = {"file": name}
    elif place == "tally":
        tree["liner"]["tally"] = {"file": name}
    else:
        tree["hole"][2]["caliper"] = {"file": name}
    file = tmp_path / "well.yaml"
    file.write_text(json.dumps(tree), encoding="utf-8")

    with pytest.raises(InputError) as caught:
        verbs.check(file)
    assert "root:" not in str(caught.value)
    assert not {unicodedata.category(char) for char in str(caught.value).replace("\n", "")} & UNSEEN
