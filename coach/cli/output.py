"""The edge to whoever reads the output: its encoding, JSON, pages, and output that is not taken.

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
from collections.abc import Callable, Sequence
from contextlib import suppress
from io import TextIOWrapper
from typing import Final

from coach.text import one_line

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
    """What was printed is not taken; the text says why, in a sentence."""


class _Output(TextIOWrapper):
    """Text for whoever reads the output. Raises OutputLost where it is not taken, and keeps it."""

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
        """Let go of what the system refuses, or the program's end would fail on it again."""
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


def heard(call: Callable[[], int]) -> int:
    """Run a call whose output is read in any encoding, or not at all; return its exit status."""
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
    """Run a call; the parser ends one that is wrong, or asks for help, by leaving the program."""
    try:
        return call()
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else 0


def print_notice(sentence: str) -> None:
    """Tell a sentence beside the output, if anybody hears it."""
    with suppress(OutputLost):
        sys.stderr.write(f"coach: {sentence}\n")
        sys.stderr.flush()


def _set_up() -> None:
    """Let every letter be printed, and take every one that is typed."""
    codecs.register_error(_FALLBACK, _fallen_back)
    for name in ("stdin", "stdout", "stderr"):
        setattr(sys, name, _taking_all(getattr(sys, name)))


def _taking_all(stream: TextIOWrapper | None) -> TextIOWrapper:
    """Return a standard stream that takes every letter; for one that is closed, one unread."""
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
    """Return what stands in for characters that an encoding has not, and where to go on."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    missing = error.object[error.start : error.end]
    return "".join(_encodable(character, error.encoding) for character in missing), error.end


def _encodable(character: str, encoding: str) -> str:
    text = unmarked(character)
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return "?"
    return text


def unmarked(character: str) -> str:
    """Return a letter without its marks, a sign as it is typed: `o` for `ó`, `"` for a quote."""
    parts = unicodedata.normalize("NFKD", character)
    return "".join(_UNMARKED.get(part, part) for part in parts if not unicodedata.combining(part))


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
    """Return rows as CSV under a head; short ones are filled up."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    for row in rows:
        cells = [_harmless(cell) for cell in row]
        writer.writerow(cells + [""] * (len(head) - len(cells)))
    return out.getvalue()


def _harmless(cell: object) -> object:
    """Keep a text from being taken for a formula by a spreadsheet."""
    if not isinstance(cell, str):
        return cell
    text = one_line(cell)
    return f"'{text}" if text.startswith(_FORMULA) else text
