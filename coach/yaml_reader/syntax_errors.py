"""Faults of the text itself, said so that a maker can put them right."""

import re
from typing import Any, Final

from coach.yaml_reader.collector import Found
from coach.yaml_reader.diagnostics import Span

_TOO_DEEP: Final = "nesting depth"
_SAYINGS: Final = (  # a piece of the parser's words; ours; what to do
    (_TOO_DEEP, "Lists and mappings go too deep here.", "Use a part for the inside."),
    ("mapping values are not allowed", "A `:` stands where no key can begin.",
     "Quote text that has `: ` in it, and let the keys of one mapping begin below each other."),
    ("that cannot start any token", "This character cannot begin a word.",
     "Indent with spaces, not tabs, and quote text that begins with @, ` or %."),
    ("a tab character", "A tab is used to indent.", "Indent with spaces."),
    ("unexpected end of stream", "A quote is opened and never closed.",
     "Put the closing quote at the end of the text."),
    ("unexpected document indicator", "A quote is opened and never closed.",
     "Put the closing quote at the end of the text."),
    ("unknown escape character", "A backslash in double quotes begins something unknown.",
     "Use single quotes, or write the backslash twice."),
    ("',' or ']'", "A list in [ ] is not closed or misses a comma.",
     "Put a comma between its items and ] at its end."),
    ("',' or '}'", "A mapping in { } is not closed or misses a comma.",
     "Put a comma between its keys and } at its end."),
    ("expected key", "This line does not fit those above it.",
     "Let the keys of one mapping begin below each other; quote the whole of a text with quotes."),
    ("'-' indicator", "This line does not fit the list above it.",
     "Let the dashes of one list stand below each other."),
    ("expected ':'", "A key without its `:` stands here.", "Write `key: value`."),
    ("block sequence entries", "A list cannot begin here.", "Put its first dash on a new line."),
)  # fmt: skip
_UNQUOTED = re.compile(r"(?:^|[\s\[{,:])#(?=[^\s#])")
_AFTER_WORD = re.compile(r"[ \t]+(#[^\s#]\S*)")
_AFTER_KEY = re.compile(r"[ \t]*:?[ \t]+(#[^\s#]\S*)")
_FARTHEST: Final = 500


def report(fault: Any, lines: list[str], found: Found) -> None:
    """Report a fault that the YAML parser met."""
    mark = getattr(fault, "problem_mark", None) or getattr(fault, "context_mark", None)
    said = f"{getattr(fault, 'problem', '')} {getattr(fault, 'context', '')}"
    message, hint = next(
        ((ours, remedy) for part, ours, remedy in _SAYINGS if part in said),
        ("The text cannot be read from here on.", "Compare it with the lines before it."),
    )
    line, column = (mark.line, mark.column) if mark else (0, 0)
    context = getattr(fault, "context_mark", None)
    begun = context.line if context else line
    if any(_UNQUOTED.search(text[:_FARTHEST]) for text in lines[begun : line + 1][:20]):
        hint = f'Quote a colour or other text with #, as in "#5b7f3a". {hint}'
    line = min(line, len(lines) - 1)
    column = min(column, len(lines[line]))
    code = "NESTING" if _TOO_DEEP in said else "SYNTAX"
    found.error(code, Span(line + 1, column + 1), message, hint)


def hidden_comment(lines: list[str], line: int, column: int) -> Span | None:
    """Return the place of a `#word` after a plain word that ends at `line`, `column` (from 0)."""
    return _place(_AFTER_WORD, lines, line, column)


def hidden_value(lines: list[str], before: Span) -> Span | None:
    """Return the place of a `#word` that stands where the value of a key or dash should."""
    start = before.column - 1
    return _place(_AFTER_KEY, lines, before.line - 1, start + before.length) or _place(
        _AFTER_WORD, lines, before.line - 1, start
    )


def _place(pattern: re.Pattern[str], lines: list[str], line: int, column: int) -> Span | None:
    if line >= len(lines):
        return None
    match = pattern.match(lines[line], column)
    return match and Span(line + 1, match.start(1) + 1, len(match[1]))
