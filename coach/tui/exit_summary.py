"""Leaving a piece when the screen closes: saving it, and the message about that."""

import sys
from contextlib import suppress

from coach.session import unsaved_counts
from coach.session.by_sentence.freehand import Freehand
from coach.session.controller import BenchController
from coach.text import one_line


class ExitSummary:
    """Puts the current piece aside when the app ends, and reports the result."""

    def __init__(self) -> None:
        self._said = ""

    def put_aside(self, work: BenchController | None) -> None:
        """End the sitting, and write what could not be stored to the first place that works."""
        if work:
            work.leave()
            if unsaved_counts.must_ask_before_leaving(work.sitting):
                path = unsaved_counts.rescue(work.sitting)
                self._said = unsaved_counts.written_message(path) if path else ""

    def say(self, work: BenchController | None, freehand: Freehand | None = None) -> None:
        """Report on standard error what became of the piece, if there was one.

        Args:
            work: The current piece.
            freehand: One that goes on without a pattern instead.
        """
        if work and not self._said and not work.sitting.trouble:
            self._said = unsaved_counts.saved_message(work.sitting)
        elif freehand and not self._said and not freehand.sitting.trouble:
            self._said = f"{freehand.name}: {freehand.made} made. Everything is saved."
        if self._said:
            with suppress(OSError):  # the terminal may be gone
                sys.stderr.write(f"coach: {one_line(self._said)}\n")
