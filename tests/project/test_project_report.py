"""Problems as they are shown, and the list of their codes."""

import ast
from pathlib import Path

import coach.project
import coach.yaml_reader
from coach.yaml_reader.codes import CODES
from coach.yaml_reader.diagnostics import Problem, Span
from coach.yaml_reader.render import as_json, as_lines


def shown(line: str, column: int, length: int = 1) -> list[str]:
    """Return the two lines that show a place."""
    problem = Problem("KNOT", Span(1, column, length), "No.")
    return as_lines("x.yaml", line, [problem])[1:]


def test_a_problem_is_shown_with_its_line() -> None:
    """Path, place, code, message, the line, a mark of the right length, and the hint."""
    problem = Problem("KNOT", Span(2, 8, 10), "Unknown knot ‘clov hitch’.", "Did you mean it?")
    assert as_lines("reed.yaml", "a: b\n- row: clov hitch # x\n", [problem]) == [
        "reed.yaml:2:8: error[KNOT]: Unknown knot ‘clov hitch’.",
        "  - row: clov hitch # x",
        "         ^~~~~~~~~~",
        "  try: Did you mean it?",
    ]


def test_marks_stand_under_wide_and_combining_characters() -> None:
    """A wide character takes two columns, a combining one none, a tab one space."""
    assert shown("潮x", 2) == ["  潮x", "    ^"]
    assert shown("e\u0301x", 3) == ["  e\u0301x", "   ^"]
    assert shown("\tx", 2) == ["   x", "   ^"]
    assert shown("潮潮", 1, 2)[1] == "  ^~~~"


def test_long_lines_are_clipped_about_the_place() -> None:
    """What is shown holds the place, and the mark stands under it."""
    line, marks = shown("a" * 500 + "X" + "b" * 500, 501)
    assert len(line) <= 104
    assert line[marks.index("^")] == "X"
    assert line.strip().startswith("…")
    assert line.endswith("…")


def test_nothing_shown_acts_on_the_terminal() -> None:
    """Path, line and words are cleaned, and columns still agree."""
    problem = Problem("KNOT", Span(1, 3), "a\x1bb", "c\u202ed")
    lines = as_lines("p\x1b[2J\n", "\x1b\u202eX", [problem])
    assert lines == ["p[2J:1:3: error[KNOT]: ab", "  X", "  ^", "  try: cd"]


def test_a_place_beyond_the_text_shows_no_line() -> None:
    """A file that could not be read, or ends before the place, has no line to show."""
    assert shown("", 1) == []
    assert as_lines("x", "a\n", [Problem("KNOT", Span(9, 1), "No.")])[1:] == []


def test_problems_for_other_programs() -> None:
    """The object has the keys that were agreed."""
    problem = Problem("HASH", Span(3, 7, 2), "Lost.", "Quote it.", "warning")
    assert as_json("reed.yaml", [problem]) == {
        "path": "reed.yaml",
        "problems": [
            {"code": "HASH", "severity": "warning", "line": 3, "column": 7,
             "message": "Lost.", "hint": "Quote it."}
        ],
    }  # fmt: skip


def codes_used() -> set[str]:
    """Return every word in capitals that the reader's modules hand to a problem."""
    used: set[str] = set()
    folders = [Path(room.__file__).parent for room in (coach.project, coach.yaml_reader)]
    for path in (path for folder in folders for path in folder.rglob("*.py")):
        if path.name == "codes.py":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                text = node.value
                if text.isupper() and len(text) > 2 and text.replace("-", "").isalpha():
                    used.add(text)
    return used


def test_every_code_is_listed_and_every_listed_one_is_used() -> None:
    """The list of codes is neither short nor long."""
    assert codes_used() == set(CODES)
    assert all(meaning for meaning in CODES.values())
