"""Collecting problems while reading, with near misses and a limit on their number."""

from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from typing import Final

from coach.text import normalized_name, one_line
from coach.yaml_reader.diagnostics import Problem, Problems, Span

MOST_PROBLEMS: Final = 200
MOST_POSITIONS: Final = 500_000  # in one file
_LONGEST_QUOTE: Final = 40


def quoted(text: str) -> str:
    """Return text from a file as it is quoted in a message: harmless, on one line, shortened."""
    short = one_line(text[: 4 * _LONGEST_QUOTE])
    return f"‘{short if len(short) <= _LONGEST_QUOTE else short[: _LONGEST_QUOTE - 1] + '…'}’"


class Names:
    """The maker's own names of one kind, found in any spelling that compares equal."""

    def __init__(self, written: Iterable[str]) -> None:
        self.written = tuple(written)
        self.plain = {normalized_name(name): name for name in self.written}

    def find(self, text: str) -> str | None:
        """Return the name that a text means, as it was first written, or None."""
        return self.plain.get(normalized_name(text))


class ReadingProblems(Problems):
    """The problems of a file, with the names that it defines for suggestions.

    Attributes:
        cords: The names of the cords; None before they are read, and if they cannot be.
        pieces: How many pieces of each cord there are, None where the file leaves that open.
        parts: The names of the parts, as for the cords.
        varied: The names of all that may be varied, as for the cords.
        apart: The names of the parts made apart, as for the cords.
        own_knots: How many strands each of the maker's own knots ties, by its plain name.
        in_group: Whether the steps of a group are being read.
    """

    def __init__(self) -> None:
        super().__init__()
        self.cords: Names | None = None
        self.pieces: Mapping[str, int | None] = {}
        self.parts: Names | None = None
        self.varied: Names | None = None
        self.apart: Names | None = Names(())
        self.own_knots: Mapping[str, int] = {}
        self.in_group = False
        self._positions_left = MOST_POSITIONS

    @property
    def a_cord(self) -> str:
        """A cord of the file, for an example in a hint."""
        return self.cords.written[0] if self.cords else "reed"

    @property
    def some_pieces(self) -> str:
        """A list of pieces of the file's cords, for an example: `[reed, 2 clay]`."""
        others = self.cords.written[1:2] if self.cords else ()
        return f"[{', '.join([self.a_cord, *(f'2 {name}' for name in others)])}]"

    @property
    def a_part(self) -> str:
        """A part of the file, for an example in a hint."""
        return self.parts.written[0] if self.parts and self.parts.written else "motif"

    def room_for(self, positions: int, span: Span) -> bool:
        """Return whether that many more positions may be listed; report the first that may not."""
        self._positions_left -= positions
        if self._positions_left < 0 <= self._positions_left + positions:
            message = "The positions listed in this file are too many to be meant."
            self.error("TOO-LARGE", span, message, "Put what is repeated into a part.")
        return self._positions_left >= 0

    def near(self, word: str, known: Iterable[str]) -> str:
        """Return the known word nearest to `word` in spelling, or "".

        The search is slow, so it stops once there are more problems than will be shown.
        """
        if len(word) > _LONGEST_QUOTE or len(self._found) > MOST_PROBLEMS:
            return ""
        found = get_close_matches(word.lower(), list(known)[:300], n=1, cutoff=0.6)
        return found[0] if found else ""

    def suggest(self, word: str, known: Iterable[str], otherwise: str = "") -> str:
        """Return a hint that names the nearest known word, or `otherwise`.

        Args:
            word: The unknown word.
            known: The known ones.
            otherwise: The hint where none of them is near.
        """
        near = self.near(word, known)
        return f"Did you mean {quoted(near)}?" if near else otherwise


def limited(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Return sorted problems, those beyond MOST_PROBLEMS summed up as one."""
    rest = problems[MOST_PROBLEMS:]
    if not rest:
        return problems
    harsh = any(problem.severity == "error" for problem in rest)
    message = f"{len(rest)} more problems follow."
    hint = "Put these right first, then check again."
    last = Problem("MANY", rest[0].span, message, hint, "error" if harsh else "warning")
    return (*problems[:MOST_PROBLEMS], last)
