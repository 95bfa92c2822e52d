"""Standard output: its encoding, JSON, pages, and readers that go away.

What is printed can hold any letter, for titles and names are the maker's own; an encoding may have
few of them. This is the one place that knows of it. Files that the coach writes are in UTF-8.
"""

import codecs
import csv
import io
import json
import os
import sys
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from io import TextIOWrapper
from typing import Final

from coach.text import one_line

WIDTH: Final = 78
"""Columns of a printed page, so that it can be quoted in a message."""

CANNOT_WRITE = 2  # as for a file that cannot be written
_FALLBACK = "coach-fallback"
_UNMARKED = {
    **dict.fromkeys("‘’‚‛′", "'"), **dict.fromkeys("‘’„‟″", '"'),  # noqa: RUF001 - what is replaced
    **dict.fromkeys("‐‑‒–—−", "-"), "·": "-", "…": "...", "×": "x", "→": "->", "←": "<-",  # noqa: RUF001 - the same
    "⁄": "/", "ł": "l", "Ł": "L", "ø": "o", "Ø": "O", "đ": "d", "Đ": "D", "ð": "d", "Ð": "D",  # noqa: RUF001 - the same
    "ı": "i", "ß": "ss", "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "þ": "th", "Þ": "Th",  # noqa: RUF001 - the same
}  # fmt: skip
"""What is written for characters that are more than a letter with marks."""


class OutputLost(OSError):
    """Standard output cannot be written; the text says why, in a sentence."""


class _Output(TextIOWrapper):
    """A text stream that raises OutputLost if writing fails, and remembers it."""

    lost: OutputLost | None = None

    def write(self, text: str) -> int:
        try:
            return super().write(text)
        except OSError as refused:
            raise self._let_go(refused) from refused

    def flush(self) -> None:
        try:
            super().flush()
        except OSError as refused:
            raise self._let_go(refused) from refused

    def _let_go(self, refused: OSError) -> OutputLost:
        """Discard what the system refuses, or the interpreter would fail on it again at exit."""
        # Python flushes standard output once more at exit and would print a traceback then.
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, self.fileno())
        os.close(nowhere)
        self.lost = OutputLost(_why(refused))
        return self.lost


def _why(refused: OSError) -> str:
    if isinstance(refused, BrokenPipeError):
        return "What reads the output has stopped; the rest was not written."
    said = (refused.strerror or str(refused)).lower()
    return f"The output cannot be written: {said}. Send it somewhere else."


def run_with_output(call: Callable[[], int]) -> int:
    """Run a call with output that any encoding can take; return its exit status."""
    _set_up()
    status = CANNOT_WRITE
    with suppress(OutputLost):
        status = _exit_status(call)
        sys.stdout.flush()
        sys.stderr.flush()
    lost = _lost()  # asked, for the parser goes on where its help is not taken
    if lost:
        print_notice(str(lost))
        return CANNOT_WRITE
    return status


def _lost() -> OutputLost | None:
    told = (getattr(stream, "lost", None) for stream in (sys.stdout, sys.stderr))
    return next(filter(None, told), None)


def _exit_status(call: Callable[[], int]) -> int:
    """Run a call; argparse ends a wrong one, or one for help, by SystemExit."""
    try:
        return call()
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else 0


def print_notice(sentence: str) -> None:
    """Print a sentence on standard error, if anybody reads it."""
    with suppress(OutputLost):
        sys.stderr.write(f"coach: {sentence}\n")
        sys.stderr.flush()


def _set_up() -> None:
    """Let every character be printed, and every input be read."""
    codecs.register_error(_FALLBACK, _fallen_back)
    for name in ("stdin", "stdout", "stderr"):
        setattr(sys, name, _taking_all(getattr(sys, name)))


def _taking_all(stream: TextIOWrapper | None) -> TextIOWrapper:
    """Return a standard stream that takes every character; for a closed one, a null device."""
    if stream is None:
        # Its number would go to the next file that is opened, such as the maker's pieces.
        return open(os.devnull, "r+")  # noqa: PTH123 - for the whole run
    if stream.readable():
        stream.reconfigure(errors="replace")
        return stream
    return _Output(
        stream.buffer,
        stream.encoding,
        _FALLBACK,
        line_buffering=stream.line_buffering,
        write_through=stream.write_through,
    )


def _fallen_back(error: UnicodeError) -> tuple[str, int]:
    """Return the replacement for characters that an encoding lacks, and where to go on."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    missing = error.object[error.start : error.end]
    return "".join(_encodable(character, error.encoding) for character in missing), error.end


def _encodable(character: str, encoding: str) -> str:
    text = ascii_letter(character)
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return "?"
    return text


def ascii_letter(character: str) -> str:
    """Return a letter without its marks, a sign as it is typed: `o` for `ó`, `"` for a quote."""
    parts = unicodedata.normalize("NFKD", character)
    return "".join(_UNMARKED.get(part, part) for part in parts if not unicodedata.combining(part))


def in_sections(sections: Iterable[Iterable[str]]) -> list[str]:
    """Return the lines of a page, an empty one between its sections; without empty sections."""
    lines: list[str] = []
    for section in sections:
        found = list(section)
        if found:
            lines += [*found, ""]
    return lines[:-1]


def print_json(data: object) -> None:
    """Print data as JSON; it is read as UTF-8, so in any other encoding letters are escaped."""
    print(json.dumps(data, indent=2, ensure_ascii=not _is_utf_8()))


def print_page(page: str) -> None:
    """Print HTML or SVG, which says it is UTF-8; in any other encoding letters are references."""
    print(page if _is_utf_8() else page.encode("ascii", "xmlcharrefreplace").decode(), end="")


def encoding_printed() -> str:
    """Return the encoding of what is printed."""
    return sys.stdout.encoding or "ascii"


def _is_utf_8() -> bool:
    return codecs.lookup(encoding_printed()).name == "utf-8"


_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")


def csv_table(head: Sequence[str], rows: Sequence[Sequence[object]]) -> str:
    """Return rows as CSV under a header; short rows are padded."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    for row in rows:
        cells = [_harmless(cell) for cell in row]
        writer.writerow(cells + [""] * (len(head) - len(cells)))
    return out.getvalue()


def _harmless(cell: object) -> object:
    """Return a cell that a spreadsheet will not take for a formula."""
    if not isinstance(cell, str):
        return cell
    text = one_line(cell)
    return f"'{text}" if text.startswith(_FORMULA) else text
