"""Faults of the text itself: YAML that is none, what is refused of YAML, and hidden signs."""

import pytest
from project_texts import HEAD, first_step_at, problems_of, with_work

from coach.project.read import read_project
from coach.yaml_reader.diagnostics import Span


def places(text: str) -> list[tuple[str, int, int]]:
    """Return code, line and column of each problem."""
    return [(p.code, p.span.line, p.span.column) for p in problems_of(text)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("coach: 1\ntitle: [a\n", ("SYNTAX", 2, 8)),
        ("coach: 1\n\ttitle: a\n", ("SYNTAX", 2, 1)),
        ("coach: 1\ntitle: a: b\n", ("SYNTAX", 2, 9)),
        ("coach: 1\ntitle: é潮: b: c\n", ("SYNTAX", 2, 10)),
        ("coach: 1\ntitle: @a\n", ("SYNTAX", 2, 8)),
        ('coach: 1\ntitle: "a\n', ("SYNTAX", 2, 8)),
        ('coach: 1\ntitle: "\\q"\n', ("SYNTAX", 2, 9)),
        ('title: "5" b\n', ("SYNTAX", 1, 12)),
        ("a: 1\n---\nb: 2\n", ("DOCUMENTS", 2, 1)),
        ("[" * 33 + "]" * 33, ("NESTING", 1, 33)),
        ("[" * 3000, ("NESTING", 1, 1001)),
    ],
)
def test_faults_of_syntax_end_the_reading(text: str, expected: tuple[str, int, int]) -> None:
    """The place is that of the fault, counted in characters, and nothing follows from it."""
    assert places(text) == [expected]


def test_what_was_found_before_a_fault_is_told_too() -> None:
    """A fault of syntax does not hide what stands above it."""
    assert places("coach: &a 1\nkind: x\nkind: [\n") == [("ALIAS", 1, 8), ("SYNTAX", 4, 1)]


@pytest.mark.parametrize(
    ("step", "code", "column"),
    [
        ("do: &a x", "ALIAS", 9),
        ("do: !!str x", "TAG", 9),
        ("{do: x, do: y}", "DUPLICATE", 13),
        ("{do: x, Do: y}", "DUPLICATE", 13),
        ("{[a]: x, do: y}", "KEY", 6),
        ('do: "a\\e[2Jb"', "CONTROL", 9),
        ('do: "a\\u202eb"', "CONTROL", 9),
        ('do: "a\\0b"', "CONTROL", 9),
        ("do: a\x1bb", "CONTROL", 10),
        ("do: a\u202eb", "CONTROL", 10),
        ("do: a\x85b", "CONTROL", 10),
    ],
)
def test_what_is_refused_of_yaml_is_told_in_its_place(step: str, code: str, column: int) -> None:
    """Each is one problem at its own place, and the rest is read on."""
    assert places(with_work(step)) == [(code, first_step_at(), column)]


def test_an_alias_is_told_once() -> None:
    """Anchor and alias each have a place, and the missing value causes nothing more."""
    text = with_work("{do: x, note: &a hi}", "{do: *a}")
    first = first_step_at()
    assert places(text) == [("ALIAS", first, 19), ("ALIAS", first + 1, 10)]


def test_a_colour_without_quotes_is_told_as_such() -> None:
    """In a block mapping nothing is left of it; the hint shows it quoted."""
    text = with_work("do: x").replace(
        "  mud:", "  silt:\n    colour: #123456\n    diameter: 1 mm\n  mud:"
    )
    (problem,) = problems_of(text)
    line = HEAD[: HEAD.index("  mud:")].count("\n") + 2
    assert (problem.code, problem.severity) == ("HASH", "error")
    assert (problem.span.line, problem.span.column, problem.span.length) == (line, 13, 7)
    assert '"#123456"' in problem.hint


def test_a_colour_without_quotes_between_braces_is_told_as_such() -> None:
    """There it breaks the syntax, which the parser only meets a line below."""
    (problem,) = problems_of(with_work("do: x").replace('"#5b7f3a"', "#5b7f3a"))
    assert (problem.code, problem.span) == ("HASH", Span(4, 18, 7))
    assert '"#5b7f3a"' in problem.hint


def test_words_lost_behind_a_hash_are_warned_of() -> None:
    """A # with no space after it is probably no comment; one with a space is."""
    reading = read_project(with_work("do: Reed #2", "do: Reed # two"))
    (problem,) = reading.problems
    assert (problem.code, problem.severity) == ("HASH", "warning")
    assert (problem.span.line, problem.span.column, problem.span.length) == (first_step_at(), 14, 2)
    assert reading.project is not None


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_do_not_matter(end: str) -> None:
    """Places are the same whatever the machine that wrote the file."""
    text = with_work("do: x", "wait: 3").replace("\n", end)
    assert places(text) == [("QUANTITY", first_step_at() + 1, 11)]
    assert places("\ufeff" + text) == places(text)


def test_a_comma_between_braces_is_told_as_a_decimal_comma() -> None:
    """YAML takes `2,5 mm` apart there; it is put together again for the hint."""
    (problem,) = problems_of(with_work("{picot: 2,5 mm, strands: 1}"))
    assert (problem.code, problem.span.column, problem.span.length) == ("QUANTITY", 13, 6)
    assert problem.hint == "Did you mean ‘2.5 mm’?"


def test_columns_count_characters() -> None:
    """Wide and combining characters before a fault count as one each."""
    assert places(with_work("{note: é潮🌊, wait: 3}")) == [("QUANTITY", first_step_at(), 23)]
