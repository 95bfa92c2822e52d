"""A form: rows that may each take an input, and a line to type it on."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from rich.text import Text
from textual.binding import Binding
from textual.widgets import Input

from coach.session.adjusting.measure_questions import MeasureQuestion
from coach.tui.layout.styled_text import Inks, ellipsized
from coach.tui.screens.choosing_screen import ChoosingScreen
from coach.tui.screens.question_screen import QuestionScreen

_MOST_TEXT: Final = 60
_NOTHING_WANTED: Final = ("press enter", "enter, ")
"""How an example begins where nothing needs to be written."""


@dataclass(frozen=True, slots=True)
class FormField:
    """One row of a form.

    Attributes:
        label: What it is about.
        example: An example of what to type.
        deed: Carry out what was typed; return the sentence about the result, or a question.
    """

    label: str
    example: str
    deed: Callable[[str], str | MeasureQuestion]


class AskScreen(ChoosingScreen[str]):
    """Asks for one of some rows. Its result is the sentence about it; "" when it was left."""

    def __init__(self, inks: Inks, title: str, choices: Sequence[FormField]) -> None:
        """Set the title and the rows."""
        super().__init__(inks, title, _MOST_TEXT)
        self._choices = choices

    def rows(self, width: int) -> Iterable[Text]:
        """Return what can be chosen."""
        ink = self.inks.style("text")
        return (Text(ellipsized(choice.label, width), ink) for choice in self._choices)

    def marked(self, number: int) -> None:
        """Show what the row expects."""
        self.say("")
        self.line.placeholder = self._choices[number].example
        self.refresh_bindings()

    def named(self, binding: Binding) -> str:
        """Return the name of a key: for enter, the action of a row without input."""
        wants_nothing = self._choices[self.at].example.startswith(_NOTHING_WANTED)
        return "do it" if binding.action == "take" and wants_nothing else super().named(binding)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Carry out the row with what was typed; what is refused stays to be corrected."""
        event.stop()
        said = self._choices[self.at].deed(event.value.strip())
        if isinstance(said, MeasureQuestion):
            self.app.push_screen(QuestionScreen(said, self.inks), self._settled)
        elif said.startswith("Nothing is changed"):
            self.say(said)
        else:
            self.dismiss(said)

    def _settled(self, said: str | None) -> None:
        """Leave with the result of a question; without an answer, stay."""
        if said:
            self.dismiss(said)

    def action_back(self) -> None:
        """Close, and change nothing."""
        self.dismiss("")
