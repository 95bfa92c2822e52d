"""Rendering of problems: as lines for people and as JSON for other programs."""

import unicodedata
from collections.abc import Iterable
from typing import Any, Final

from coach.text import clean, one_line
from coach.yaml_reader.diagnostics import Problem

WIDTH: Final = 100
_BEFORE: Final = 60  # how much of a long line is shown before the place


def as_lines(path: str, text: str, problems: Iterable[Problem]) -> list[str]:
    """Return each problem in a few lines: what, where, the line of the file, a hint.

    Columns count characters.

    Args:
        path: The name of the file, as shown.
        text: The file's text, "" if it could not be read.
        problems: The problems.
    """
    written = _split(text)
    return [line for problem in problems for line in _lines(path, written, problem)]


def as_json(path: str, problems: Iterable[Problem]) -> dict[str, Any]:
    """Return problems as `{"path", "problems": [{"code", "severity", "line", ...}]}`."""
    return {
        "path": one_line(path),
        "problems": [
            {
                "code": problem.code,
                "severity": problem.severity,
                "line": problem.span.line,
                "column": problem.span.column,
                "message": one_line(problem.message),
                "hint": one_line(problem.hint),
            }
            for problem in problems
        ],
    }


def _split(text: str) -> list[str]:
    plain_ends = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    return plain_ends.split("\n") if text else []


def _lines(path: str, written: list[str], problem: Problem) -> list[str]:
    span = problem.span
    place = f"{one_line(path)}:{span.line}:{span.column}"
    lines = [f"{place}: {problem.severity}[{problem.code}]: {one_line(problem.message)}"]
    if span.line <= len(written) and written[span.line - 1].strip():
        lines.extend(_shown(written[span.line - 1], span.column - 1, span.length))
    if problem.hint:
        lines.append(f"  try: {one_line(problem.hint)}")
    return lines


def _shown(line: str, start: int, length: int) -> list[str]:
    """Return a line clipped around a place, and marks under that place."""
    first = max(0, start - _BEFORE) if len(line) > WIDTH else 0
    cut = line[first : first + WIDTH]
    lead = "…" if first else ""
    tail = "…" if first + WIDTH < len(line) else ""
    before = _visible(cut[: start - first])
    marked = _visible(cut[start - first : start - first + length])
    marks = "^" + "~" * (max(1, _columns(marked)) - 1)
    return [f"  {lead}{_visible(cut)}{tail}", f"  {' ' * _columns(lead + before)}{marks}"]


def _visible(text: str) -> str:
    return clean(text.replace("\t", " "))


def _columns(text: str) -> int:
    """Return how many terminal columns a text takes, wide and combining characters considered."""
    return sum(_width(sign) for sign in text)


def _width(sign: str) -> int:
    if unicodedata.combining(sign) or unicodedata.category(sign) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in ("W", "F") else 1
