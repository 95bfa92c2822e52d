"""The notes of a piece: words for the current count, or for a marked spot."""

from collections.abc import Iterable
from typing import ClassVar, Final

from rich.text import Text
from textual.binding import BindingType
from textual.widgets import Input

from coach.piece import Note
from coach.plan.wording.place_words import place_in_piece
from coach.session.annotations import marked_spots
from coach.session.controller import BenchController
from coach.tui.layout.styled_text import Inks, ellipsized, exact_width
from coach.tui.screens.base_screen import keyed
from coach.tui.screens.choosing_screen import ChoosingScreen

_WIDE: Final = 56
MOST_WORDS: Final = 400  # characters of one note


class NotesScreen(ChoosingScreen[None]):
    """Lists the marked spots above a line to write on; enter stores the words and closes."""

    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("up", "mark(-1)", "another spot", "Write on another spot.", sign="up down"),
    ]

    def __init__(self, work: BenchController, inks: Inks) -> None:
        self._work = work
        self._spots: tuple[Note | None, ...] = (None, *marked_spots(work.asides.notes))
        super().__init__(inks, f"Notes, {len(self._spots) - 1} kept", MOST_WORDS)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Store the words; empty ones delete a note."""
        event.stop()
        words, spot = event.value.strip(), self._spots[self.at]
        if words or (spot and spot.words):
            work = self._work
            work.keep(lambda: work.asides.note(work.done, words, spot))
        self.dismiss(None)

    def marked(self, number: int) -> None:
        """Put the words of the spot on the line."""
        spot = self._spots[number]
        self.line.value = spot.words if spot else ""
        self.line.cursor_position = len(self.line.value)

    def action_back(self) -> None:
        """Close, and keep nothing."""
        self.dismiss(None)

    def rows(self, width: int) -> Iterable[Text]:
        """Return each spot on a line: where it is, and its words."""
        return (self._row(spot, width) for spot in self._spots)

    def _row(self, spot: Note | None, width: int) -> Text:
        place = self._place(spot.tie if spot else self._work.done, width)
        words = spot.words or "no words yet" if spot else "new note, here"
        room = width - len(place)
        told = Text(ellipsized(words, room - 3), self.inks.style("text"))
        return exact_width(told, room) + Text(place, self.inks.style("quiet"))

    def _place(self, tie: int, width: int) -> str:
        """Return where a spot is in the piece; beyond the plan's end it is the end."""
        plan = self._work.plan
        if width < _WIDE:
            return f"at {tie + 1}"
        if tie >= plan.total:
            return "the end"
        step = plan.step_of(tie)
        levels = [f"{tie - step.first + 1} of {step.counts}", *reversed(place_in_piece(plan, tie))]
        return ellipsized(" · ".join(levels), width // 2)
