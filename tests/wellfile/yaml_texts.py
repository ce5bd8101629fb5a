"""Random well-formed YAML as people type it: blocks and brackets mixed, comments everywhere."""

from __future__ import annotations

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

# A page is long even at its smallest, and machines differ: neither says anything about the reader.
PAGES = settings(
    max_examples=150,
    suppress_health_check=[HealthCheck.large_base_example, HealthCheck.too_slow],
)

# Letters, digits and marks a person types; beyond ASCII, beyond 16 bits, and a combining one.
_LETTERS = "abcxyzABC0189 éЖ深𝄞😀\u0301.,:;'\"#/()[]{}+-*&!%@`?|>=<~\\°″½_"
_WORDS = st.text("abcdeé深😀 019/.+-_%°", min_size=1, max_size=12).map(lambda text: "w" + text.strip() + "w")
TEXTS = st.one_of(
    _WORDS,
    st.text(_LETTERS, max_size=14),
    st.text(st.characters(exclude_categories=("Cs",)), max_size=8),
    st.sampled_from(
        ["", " ", "~", "null", "yes", "010", "12:30", "7 in 29 # P-110", "a: b", "- x", "? x", "#",
         "12,2 ppg", "9 5/8\"", "it's", "two\nlines", "\ttab", "@x", "%x", "---", "...", "<<", "&a",
         "{a: b}", "[x]", "trailing ", " leading", "end:", "\\n", "!t", "*a", "|", ">", "`x`"]
    ),
)  # fmt: skip


class _Page:
    """Draws what stands on the page; keys are never the same twice, comments are numbered."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw
        self.count = 0

    def number(self) -> int:
        self.count += 1
        return self.count

    def chance(self, percent: int) -> bool:
        return self.draw(st.integers(0, 99)) < percent

    def step(self) -> int:
        return self.draw(st.integers(1, 4))

    def key(self) -> str:
        key = f"key{self.draw(st.sampled_from(['', ' ', '_', '-']))}{self.number()}"
        return self.draw(st.sampled_from([key, key, key, f"'{key}'", f'"{key}"', f"é{key}"]))

    def aside(self) -> str:
        """What may follow on the line of a value."""
        spaces = " " * self.draw(st.integers(0, 2))
        return f"{spaces} # c{self.number()}, {{x}}" if self.chance(20) else spaces

    def between(self, column: int) -> list[str]:
        """Lines of comments and blank lines in front of an entry."""
        lines = []
        while self.chance(20):
            deep = self.draw(st.sampled_from([column, column, column, 0, column + 3]))
            lines.append(self.draw(st.sampled_from(["", " " * deep + f"# c{self.number()}: - x"])))
        return lines

    def scalar(self, *, flow: bool) -> str:
        kind = self.draw(st.sampled_from(["plain", "plain", "single", "double", "empty"]))
        word = self.draw(_WORDS)
        if kind == "plain":
            extra = "" if flow else self.draw(st.sampled_from(["", ", x", " [x]", "#1", ":y"]))
            return word + extra
        if kind == "single":
            text = self.draw(st.text(_LETTERS.replace("'", ""), max_size=8))
            return "'" + text + self.draw(st.sampled_from(["", "''", "''s"])) + "'"
        if kind == "double":
            text = self.draw(st.text(_LETTERS.replace('"', "").replace("\\", ""), max_size=8))
            return '"' + text + self.draw(st.sampled_from(["", '\\"', "\\n", "\\\\", "\\u00e9"])) + '"'
        return "''" if flow else ""

    def flow(self, depth: int, column: int) -> str:
        """A value in brackets, over one line or several."""
        lines = self.chance(25)
        comma, gap = self.draw(st.sampled_from([(", ", ""), (",  ", " "), (" , ", "")]))
        inner = []
        mapping = self.chance(50)
        for _ in range(self.draw(st.integers(0, 3))):
            deep = depth > 0 and self.chance(30)
            value = self.flow(depth - 1, column + 2) if deep else self.scalar(flow=True)
            pair = mapping or self.chance(10)
            inner.append(f"{self.key()}: {value}" if pair else value)
        opened, closed = "{}" if mapping else "[]"
        if not lines or not inner:
            end = self.draw(st.sampled_from(["", ""] + ([","] if inner else [])))
            return opened + gap + comma.join(inner) + end + gap + closed
        page = [opened + self.aside()]
        for number, one in enumerate(inner):
            page += self.between(column)
            last = number == len(inner) - 1
            page.append(" " * column + one + ("," if not last or self.chance(50) else "") + self.aside())
        return "\n".join([*page, " " * column + closed])

    def block_text(self, column: int) -> list[str]:
        """A block text: its mark, then its lines."""
        mark = self.draw(st.sampled_from(["|", ">", "|-", ">-", "|+", ">+"]))
        lines = [mark + (f" # c{self.number()}" if self.chance(20) else "")]
        for _ in range(self.draw(st.integers(1, 3))):
            lines.append(" " * column + self.draw(_WORDS) + self.draw(st.sampled_from(["", " # no", "  "])))
            lines += [""] * self.chance(15)
        return lines

    def value(self, depth: int, column: int, *, beside: str) -> list[str]:
        """A value behind *beside* (key and colon, or dash): its first line goes on there."""
        kinds = ["scalar"] * 4 + ["flow", "block text", "folded"]
        kinds += ["mapping", "sequence"] * 2 if depth > 0 else []
        kind = self.draw(st.sampled_from(kinds))
        inner = column + self.step()
        if kind == "scalar":
            text = self.scalar(flow=False)
            return [f"{beside}{' ' if text else ''}{text}{self.aside()}"]
        if kind == "folded":
            return [f"{beside} {self.draw(_WORDS)}", " " * inner + self.draw(_WORDS) + self.aside()]
        if kind == "flow":
            lines = self.flow(2, inner).split("\n")
            return [f"{beside} {lines[0]}", *lines[1:-1], lines[-1] + self.aside()] if len(lines) > 1 else [
                f"{beside} {lines[0]}{self.aside()}"
            ]  # fmt: skip
        if kind == "block text":
            first, *rest = self.block_text(inner)
            return [f"{beside} {first}", *rest]
        if beside.endswith("-") and self.chance(70):  # compact: - key: value, - - item
            gap = " " * self.draw(st.integers(1, 3))
            inner = column + 1 + len(gap)
            lines = self.block(kind, depth - 1, inner, first_bare=True)
            return [beside + gap + lines[0].lstrip(" "), *lines[1:]]
        if kind == "sequence" and beside.endswith(":") and self.chance(40):
            inner = column
        return [beside + self.aside(), *self.block(kind, depth - 1, inner)]

    def block(self, kind: str, depth: int, column: int, *, first_bare: bool = False) -> list[str]:
        lines: list[str] = []
        for number in range(self.draw(st.integers(1, 3))):
            if number or not first_bare:
                lines += self.between(column)
            head = f"{self.key()}:" if kind == "mapping" else "-"
            lines += self.value(depth, column, beside=" " * column + head)
        return lines


@st.composite
def yaml_texts(draw: st.DrawFn) -> str:
    """The text of a file whose top is a mapping."""
    page = _Page(draw)
    lines = [*page.between(0), *(["---"] if page.chance(10) else [])]
    lines += page.block("mapping", 3, 0) + page.between(0)
    text = "\n".join(lines) + draw(st.sampled_from(["\n", "\n", "\n", "", "\n\n"]))
    return text.replace("\n", "\r\n") if page.chance(30) else text
