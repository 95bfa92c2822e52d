"""Collecting problems while reading: near misses, safe quoting, and a limit on how many."""

from collections.abc import Iterable
from typing import Final

from coach.text import one_line
from coach.yaml_reader.diagnostics import Problem, Problems, Span

MOST_PROBLEMS: Final = 200
MOST_POSITIONS: Final = 500_000  # in one file
_LONGEST_QUOTE: Final = 40


def quoted(text: str) -> str:
    """Return text from a file as it is quoted in a message: harmless, on one line and short."""
    short = one_line(text[: 4 * _LONGEST_QUOTE])
    return f"‘{short if len(short) <= _LONGEST_QUOTE else short[: _LONGEST_QUOTE - 1] + '…'}’"


class Found(Problems):
    """Problems that also know the near misses of what was written, and what the file names."""

    def __init__(self) -> None:
        super().__init__()
        self.cords: tuple[str, ...] = ()  # their names, once they are read
        self.parts: tuple[str, ...] = ()  # likewise
        self._positions_left = MOST_POSITIONS

    @property
    def cord(self) -> str:
        """A cord of the file, for an example in a hint."""
        return self.cords[0] if self.cords else "reed"

    @property
    def pieces(self) -> str:
        """A list of pieces of the file's cords, likewise: `[reed, 2 clay]`."""
        return f"[{', '.join([self.cord, *(f'2 {name}' for name in self.cords[1:2])])}]"

    def room_for(self, positions: int, span: Span) -> bool:
        """Tell whether that many more positions can be listed; report the first that cannot."""
        self._positions_left -= positions
        if self._positions_left < 0 <= self._positions_left + positions:
            message = "The positions listed in this file are too many to be meant."
            self.error("TOO-LARGE", span, message, "Put what is repeated into a part.")
        return self._positions_left >= 0

    def near(self, word: str, known: Iterable[str]) -> str:
        """Return the known word nearest to `word` in spelling, or "".

        Looking is dear, so it ends once there are more problems than will be shown.
        """
        if len(word) > _LONGEST_QUOTE or len(self._found) > MOST_PROBLEMS:
            return ""
        from difflib import get_close_matches  # noqa: PLC0415 - only for a misspelt word

        found = get_close_matches(word.lower(), list(known)[:300], n=1, cutoff=0.6)
        return found[0] if found else ""

    def suggest(self, word: str, known: Iterable[str], otherwise: str = "") -> str:
        """Return a hint that names the near miss, or `otherwise` when there is none."""
        near = self.near(word, known)
        return f"Did you mean {quoted(near)}?" if near else otherwise


def limited(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Return sorted problems with those beyond MOST_PROBLEMS told as one."""
    rest = problems[MOST_PROBLEMS:]
    if not rest:
        return problems
    harsh = any(problem.severity == "error" for problem in rest)
    message = f"{len(rest)} more problems follow."
    hint = "Put these right first, then check again."
    last = Problem("MANY", rest[0].span, message, hint, "error" if harsh else "warning")
    return (*problems[:MOST_PROBLEMS], last)
