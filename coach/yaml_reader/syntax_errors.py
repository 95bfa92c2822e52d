"""YAML syntax errors in words that a maker can act on."""

from typing import Any, Final

from coach.yaml_reader.collector import quoted
from coach.yaml_reader.diagnostics import Problem, Span
from coach.yaml_reader.slips import find_slip, misplaced_tab, open_quote

_TOO_DEEP: Final = "nesting depth"
_BAD_START: Final = "that cannot start any token"
_OPEN_QUOTE: Final = ("unexpected end of stream", "unexpected document indicator")
_SAYINGS: Final = (  # a piece of the parser's words; ours; what to do
    ("mapping values are not allowed", "A key cannot begin here.",
     "Put text with ‘: ’ in it in quotes, and line up the keys of a mapping."),
    ("unknown escape character", "A backslash in double quotes begins something unknown.",
     "Use single quotes, or write the backslash twice."),
    ("',' or ']'", "A list in [ ] is not closed, or misses a comma.",
     "Put commas between its items and ] at its end."),
    ("',' or '}'", "A mapping in { } is not closed, or misses a comma.",
     "Put commas between its keys and } at its end."),
    ("expected key", "This line does not fit those above it.",
     "Line up the keys of a mapping; put the whole of a text with quotes in it in quotes."),
    ("'-' indicator", "This line does not fit the list above it.", "Line up the dashes of a list."),
    ("expected ':'", "This key has no ‘:’ after it.", "Write ‘key: value’."),
    ("block sequence entries", "A list cannot begin here.", "Put its first dash on a new line."),
    ("", "The text cannot be read from here on.", "Compare it with the lines before it."),
)  # fmt: skip


def syntax_problem(fault: Any, lines: list[str], reached: int) -> Problem:
    """Return the problem behind an exception of the YAML parser.

    A parser stops where it can make no sense of a text, often below the mistake: the usual mistakes
    are looked for first, in the lines just read.

    Args:
        fault: The parser's exception.
        lines: The text.
        reached: The line, from 0, up to which the text made sense.
    """
    said = f"{getattr(fault, 'problem', '')} {getattr(fault, 'context', '')}"
    context = getattr(fault, "context_mark", None)
    place = _place(getattr(fault, "problem_mark", None) or context, lines)
    if _TOO_DEEP in said:
        message = "Lists and mappings are nested too deeply here."
        return Problem("NESTING", place, message, "Use a part for the inside.")
    bracket = _place(context, lines) if context and "flow " in said else None
    slip = find_slip(lines, reached, place.line - 1)
    return slip or _of_text(said, place, bracket, lines) or _of_shape(said, place, bracket, lines)


def _place(mark: Any, lines: list[str]) -> Span:
    """Return a parser's mark as a span; one beyond the text is at its end."""
    line = min(mark.line, len(lines) - 1) if mark else 0
    return Span(line + 1, min(mark.column, len(lines[line])) + 1 if mark else 1)


def _of_text(said: str, place: Span, bracket: Span | None, lines: list[str]) -> Problem | None:
    """Return the problem of a single scalar or character, or None if it is not one."""
    line = lines[place.line - 1]
    before, sign = line[: place.column - 1], line[place.column - 1 :][:1]
    if "a tab" in said or sign == "\t":
        return misplaced_tab(place)
    if any(part in said for part in _OPEN_QUOTE):
        return open_quote(place)
    if _BAD_START in said:
        message = f"A text cannot begin with {quoted(sign)}."
        return Problem("SYNTAX", place, message, "Put the text in quotes.")
    if before.rstrip().endswith(("'", '"')) and sign not in ("", ":"):
        rest = "put a comma after it" if bracket else "leave the quotes out"
        hint = f"Look where the quotes open and close, or {rest}."
        return Problem("SYNTAX", place, "There is text after the closing quote.", hint)
    return None


def _of_shape(said: str, place: Span, bracket: Span | None, lines: list[str]) -> Problem:
    """Return the problem of how lines, lists and mappings fit together.

    A bracket is taken to be unclosed if the text is indented no further than its line.
    """
    message, hint = next((ours, remedy) for part, ours, remedy in _SAYINGS if part in said)
    if bracket and place.line > bracket.line:
        inner, outer = lines[place.line - 1], lines[bracket.line - 1]
        place = bracket if _indent(inner) <= _indent(outer) else place
    return Problem("SYNTAX", place, message, hint)


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())
