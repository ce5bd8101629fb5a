"""Problems as people read them."""

from schematic.wellfile.problem import InputError, Problem


def _problem(**changed):
    facts = {
        "file": "north-7.yaml", "line": 41, "column": 5, "path": "strings.liner.top",
        "found": "8900", "accepted": "a depth with its unit: m, ft", "mend": "write '8900 ft'",
    }  # fmt: skip
    return Problem(**{**facts, **changed})


def test_a_problem_reads_as_a_place_and_three_lines():
    assert str(_problem()) == (
        "north-7.yaml:41  strings.liner.top\n"
        "  found     8900\n"
        "  accepted  a depth with its unit: m, ft\n"
        "  mend      write '8900 ft'"
    )


def test_a_problem_of_the_whole_file_names_neither_line_nor_path():
    assert str(_problem(line=0, path="")).splitlines()[0] == "north-7.yaml"


def test_unseen_characters_are_spelled_out_in_every_field():
    problem = _problem(found="7\x1b[31m in\u202e", path="strings.a\nb", mend="\0", file="a\rb")

    assert problem.found == "7\\x1b[31m in\\u202e"
    assert problem.path == "strings.a\\nb"
    assert problem.mend == "\\x00"
    assert problem.file == "a\\rb"


def test_found_is_cut_to_80_characters():
    assert _problem(found="x" * 80).found == "x" * 80
    assert _problem(found="x" * 81).found == "x" * 79 + "…"
    assert len(_problem(found="\0" * 80).found) == 80


def test_an_error_holds_its_problems_in_the_order_of_the_file():
    late, early = _problem(line=9), _problem(line=2, column=7)
    first = _problem(line=2, column=1)

    error = InputError([late, early, first])

    assert error.problems == (first, early, late)
    assert str(error) == "\n".join(str(each) for each in (first, early, late))
