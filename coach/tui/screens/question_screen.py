"""A measure that surprises: what may have happened, and one key to correct it or to keep it."""

from collections.abc import Sequence
from typing import ClassVar, Final

from rich.style import Style
from rich.text import Text
from textual import events
from textual.binding import BindingType

from coach.session.measure_questions import Answer, Asked
from coach.tui.layout.styled_text import Inks, paragraph
from coach.tui.screens.base_screen import keyed
from coach.tui.screens.page_screen import TextScreen

_MANY: Final = 99


class QuestionScreen(TextScreen[str]):
    """Asks about a measure. Its result is what came of the answer; "" to measure again.

    What is asked brings its answers and their keys along; each can be tapped.
    """

    OF_A_PLAN = True
    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("escape", "answer('')", "measure again", "Leave this measure out, and measure again.")
    ]

    def __init__(self, asked: Asked, inks: Inks) -> None:
        super().__init__(inks)
        self._asked = asked

    def on_key(self, event: events.Key) -> None:
        """Take the answer whose key it is."""
        if self._asked.answer(event.key):
            event.stop()
            event.prevent_default()
            self.action_answer(event.key)

    def action_answer(self, key: str) -> None:
        """Do what an answer says; without one, leave the measure out."""
        answer = self._asked.answer(key)
        self.dismiss(answer.take() if answer else "")

    def page(self, width: int) -> Sequence[Text]:
        """Return what surprises, and the answers with their keys."""
        head = paragraph(self._asked.said, width, _MANY, self.inks.style("warning", bold=True))
        answers = [line for one in self._asked.answers for line in self._lines_of(one, width)]
        return [*head, Text(), *answers]

    def _lines_of(self, answer: Answer, width: int) -> list[Text]:
        """Return an answer behind its key, for taps on any of its lines."""
        tapped = Style.from_meta({"@click": f"screen.answer({answer.key!r})"})
        key, text = self.inks.style("figure", bold=True), self.inks.style("text")
        told = paragraph(answer.label, width - 2, 4, text + tapped)
        first = Text(f"{answer.key} ", key + tapped)
        return [(Text("  ") if at else first) + line for at, line in enumerate(told)]
