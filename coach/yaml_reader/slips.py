"""Mistakes that YAML itself does not notice: an open quote, a bare `#` colour, a tab."""

import re
from typing import Final

from coach.yaml_reader.collector import quoted
from coach.yaml_reader.diagnostics import Problem, Span

_HEX: Final = "#(?:[0-9a-fA-F]{6}|[0-9a-fA-F]{3})"
_AFTER_WORD = re.compile(r"[ \t]+(#[^\s#]\S*)")
_AFTER_KEY = re.compile(r"[ \t]*:?[ \t]+(#[^\s#]\S*)")
_BARE_KEY = re.compile(r"[ \t]*:?[ \t]*$")
_ALONE = re.compile(rf"[ \t]*({_HEX})[ \t]*$")
_QUOTED = re.compile(r'"(?:[^"\\]|\\.)*"|\'(?:[^\']|\'\')*\'')
_LOST = re.compile(
    rf"(?:(?:^|[\[{{,])[ \t]*(?={_HEX}(?![^\s,\]}}]))|:[ \t]+)(#[^\s#,\]}}][^\s,\]}}]*)"
)
_COMMENT_OR_QUOTE = re.compile(r"""(?:^|[ \t])(#)|(?:^[ \t]*|[\[{,][ \t]*|[:?-][ \t]+)(["'])""")
_BEFORE_KEY = re.compile(r"[ \t]*(?:-[ \t]+)*")
_NEXT_KEY = re.compile(r"([ \t]*)(?:-(?:[ \t]|$)|[^\s#\"'\[{-][^:#\"'{]*:(?:\s|$))")
_TAB_INDENT = re.compile(r" *(\t)")
_FARTHEST: Final = 500  # characters of a line, and
_MOST_LINES: Final = 200  # lines looked at for what broke the text


def find_slip(lines: list[str], first: int, last: int) -> Problem | None:
    """Return the first of the usual mistakes between two lines, or None.

    Args:
        lines: All lines of the text.
        first: The last line, from 0, at which the parser was sure.
        last: The line, from 0, at which it was lost.
    """
    for at in range(first, min(last + 1, first + _MOST_LINES)):
        line = lines[at][:_FARTHEST]
        tab = _TAB_INDENT.match(line)
        if tab:
            return misplaced_tab(Span(at + 1, tab.start(1) + 1))
        opened = _opened(line)
        if opened is not None and swallows(lines, at, opened):
            return open_quote(Span(at + 1, opened + 1))
        lost = _LOST.search(_QUOTED.sub(lambda text: "x" * len(text[0]), line))
        if lost:
            return bare_hash(Span(at + 1, lost.start(1) + 1, len(lost[1])), lost[1])
    return None


def open_quote(span: Span) -> Problem:
    """Return the problem of a quote that is not closed, at its opening."""
    hint = "Put a closing quote where its text ends."
    return Problem("SYNTAX", span, "This quote is never closed.", hint)


def bare_hash(span: Span, written: str) -> Problem:
    """Return the problem of an unquoted value that begins with `#`."""
    message = "Without quotes, # begins a comment: the rest of this line is not read."
    bare = quoted(written.rstrip(",}]"))[1:-1]
    return Problem("HASH", span, message, f'Quote it: ‘"{bare}"’.')


def misplaced_tab(span: Span) -> Problem:
    """Return the problem of a tab where YAML wants spaces."""
    return Problem("SYNTAX", span, "Tabs are not allowed here.", "Use spaces instead of the tab.")


def swallows(lines: list[str], opening: int, column: int) -> bool:
    """Return whether a quote runs on over the next key or dash.

    A quoted text may span several lines, but those are indented further than its own key.

    Args:
        lines: All lines of the text.
        opening: The line, from 0, on which the quote opens.
        column: The column, from 0, at which it opens.
    """
    before = _BEFORE_KEY.match(lines[opening])
    indent = before.end() if before else 0
    last = opening + 1 + _MOST_LINES
    for line in lines[opening + 1 : last]:
        key = _NEXT_KEY.match(line[:_FARTHEST])
        if key and len(key[1]) <= indent:
            return True
        if lines[opening][column] in line:
            return False
    return last >= len(lines)


def hidden_comment(lines: list[str], line: int, column: int) -> Span | None:
    """Return the place of a `#word` after a plain scalar, which YAML takes for a comment.

    Args:
        lines: All lines of the text.
        line: The line, from 0, at which the scalar ends.
        column: The column, from 0, at which it ends.
    """
    return _place(_AFTER_WORD, lines, line, column)


def hidden_value(lines: list[str], before: Span) -> Span | None:
    """Return the place of a `#word` where the value of a key or dash should be.

    That is after it, or alone on the line below.
    """
    line, start = before.line - 1, before.column - 1
    behind = _place(_AFTER_KEY, lines, line, start + before.length)
    behind = behind or _place(_AFTER_WORD, lines, line, start)
    if behind or line >= len(lines) or not _BARE_KEY.match(lines[line], start + before.length):
        return behind
    return _place(_ALONE, lines, line + 1, 0)


def _opened(line: str) -> int | None:
    """Return the column, from 0, at which a quote opens that its line does not close."""
    at = 0
    while match := _COMMENT_OR_QUOTE.search(line, at):
        if match[1]:
            return None
        closed = _QUOTED.match(line, match.start(2))
        if not closed:
            return match.start(2)
        at = closed.end()
    return None


def _place(pattern: re.Pattern[str], lines: list[str], line: int, column: int) -> Span | None:
    if line >= len(lines):
        return None
    match = pattern.match(lines[line], column)
    return match and Span(line + 1, match.start(1) + 1, len(match[1]))
