"""The notes of a piece: words for the count at hand, or for a spot that was marked."""

from typing import Final

from rich.text import Text
from textual.app import ComposeResult
from textual.widgets import Input

from coach.piece import Note
from coach.plan.wording.step_phrases import where
from coach.session.annotations import spots
from coach.session.controller import Work
from coach.tui.layout.styled_text import Inks, fitted, sized
from coach.tui.layout.text_line import TextLine
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, in_view, keys_at_foot

_WIDE: Final = 60
_LOW: Final = 6  # rows below which only the spots and the line are shown
MOST_WORDS: Final = 400  # characters of one note


class NotesScreen(LinesScreen[None]):
    """Lists the marked spots above a line to write on; enter stores the words and closes."""

    AUTO_FOCUS = "Input"

    def __init__(self, work: Work, inks: Inks) -> None:
        super().__init__(inks)
        self._work = work
        self._chosen: Note | None = None
        self._sorted: tuple[Note, ...] | None = None
        self._every: tuple[Note | None, ...] = ()

    def compose(self) -> ComposeResult:
        """Yield the spots, and the line below them."""
        yield from super().compose()
        yield TextLine(MOST_WORDS)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Store the words; none for a worded note delete it."""
        event.stop()
        words = event.value.strip()
        if words or (self._chosen and self._chosen.words):
            work, spot = self._work, self._chosen
            work.keep(lambda: work.asides.note(work.done, words, spot))
        self.dismiss(None)

    def pressed(self, key: str) -> bool:
        """Choose the spot before or after, or leave; all other keys are for the line."""
        if key == "escape":
            self.dismiss(None)
            return True
        if key not in ("up", "down"):
            return False
        every = self._spots()
        at = every.index(self._chosen) if self._chosen in every else 0
        self._chosen = every[(at + (1 if key == "down" else -1)) % len(every)]
        line = self.query_one(Input)
        line.value = self._chosen.words if self._chosen else ""
        line.cursor_position = len(line.value)
        return True

    def _spots(self) -> tuple[Note | None, ...]:
        """Return what can be written on: the count at hand, as None, then the marked spots."""
        notes = self._work.asides.notes
        if notes is not self._sorted:
            self._sorted, self._every = notes, (None, *spots(notes))
        return self._every

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the spots round the one chosen, and the keys."""
        every, inks = self._spots(), self.inks
        title = Text("Notes", inks.style("text", bold=True))
        known = Text(f"{len(every) - 1} kept", inks.style("quiet"))
        keys = [("enter", "keep"), ("up down", "another spot"), ("escape", "back")]
        foot = keys_at_foot(inks, width, 1, keys) if height >= _LOW else []
        most = max(1, height - 1 - len(foot))
        at = every.index(self._chosen) if self._chosen in every else 0
        shown = [self._row(every[i], i == at, width) for i in in_view(at, len(every), most)]
        blank = [Text()] * (most - len(shown))
        return [at_both_ends(title, known, width), *shown, *blank, *foot]

    def _row(self, spot: Note | None, here: bool, width: int) -> Text:
        """Return one spot on a line: where it is, and its words."""
        tie = spot.tie if spot else self._work.done
        place = self._place(tie, width)
        words = spot.words or "no words yet" if spot else "new note, here"
        ink = self.inks.style("text", bold=here)
        room = width - len(place) - 3
        told = Text("> " if here else "  ", ink) + Text(fitted(words, room - 2), ink)
        return sized(told, width - len(place)) + Text(place, self.inks.style("quiet"))

    def _place(self, tie: int, width: int) -> str:
        """Return where a spot is in the piece; beyond the plan's end it is the end."""
        plan = self._work.plan
        if width < _WIDE:
            return f"at {tie + 1}"
        if tie >= plan.total:
            return "the end"
        step = plan.step_of(tie)
        levels = [f"{tie - step.first + 1} of {step.counts}", *reversed(where(plan, tie))]
        return fitted(" · ".join(levels), width // 2)
