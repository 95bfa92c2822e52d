"""A form: rows to choose from, and a line to write on; both hands are off the cords here."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from rich.text import Text
from textual.app import ComposeResult
from textual.widgets import Input

from coach.session.measure_questions import Asked
from coach.tui.layout.styled_text import Inks, fitted, paragraph
from coach.tui.layout.text_line import TextLine
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, in_view, keys_at_foot
from coach.tui.screens.question_screen import QuestionScreen

_LOW: Final = 6
_MOST_TEXT: Final = 60
_SAID: Final = 4  # lines at most for what was said


@dataclass(frozen=True, slots=True)
class Choice:
    """One row of a form.

    Attributes:
        label: What it is about.
        example: An example of what to write.
        deed: Takes what was written, and returns the sentence that says what came of it, or what
            is to be asked about it.
    """

    label: str
    example: str
    deed: Callable[[str], str | Asked]


class AskScreen(LinesScreen[str]):
    """Asks for one of some choices. Its result is what came of it; "" when it was left."""

    AUTO_FOCUS = "Input"

    def __init__(self, inks: Inks, title: str, choices: Sequence[Choice], at: int = 0) -> None:
        """Take the title and the rows; `at` is the index of the one chosen first."""
        super().__init__(inks)
        self._title = title
        self._choices = choices
        self._at = at
        self._said = ""

    def compose(self) -> ComposeResult:
        """Yield the rows, and the line below them."""
        yield from super().compose()
        yield TextLine(_MOST_TEXT)

    def on_mount(self) -> None:
        """Show what the first row wants."""
        self._hint()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Hand what was written to the row's deed; what is refused stays to be mended."""
        event.stop()
        said = self._choices[self._at].deed(event.value.strip())
        if isinstance(said, Asked):
            self.app.push_screen(QuestionScreen(said, self.inks), self._settled)
        elif said.startswith("Nothing is changed"):
            self._said = said
            self.show()
        else:
            self.dismiss(said)

    def _settled(self, said: str | None) -> None:
        """Leave with what came of a question; without an answer, stay to be written anew."""
        if said:
            self.dismiss(said)

    def pressed(self, key: str) -> bool:
        """Choose the row before or after, or leave; all other keys are for the line."""
        if key == "escape":
            self.dismiss("")
            return True
        if key not in ("up", "down"):
            return False
        self._at = (self._at + (1 if key == "down" else -1)) % len(self._choices)
        self._said = ""
        self._hint()
        return True

    def _hint(self) -> None:
        self.query_one(Input).placeholder = self._choices[self._at].example

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the rows round the one chosen, what was said, and the keys."""
        inks = self.inks
        head = at_both_ends(Text(self._title, inks.style("text", bold=True)), Text(), width)
        keys = [("enter", "keep"), ("up down", "another"), ("escape", "back")]
        foot = keys_at_foot(inks, width, 1, keys) if height >= _LOW else []
        said = paragraph(self._said, width, _SAID, inks.style("warning", bold=True))
        told = said if self._said else []
        most = max(1, height - 1 - len(foot) - len(told))
        rows = [self._row(i, width) for i in in_view(self._at, len(self._choices), most)]
        blank = [Text()] * (most - len(rows))
        return [head, *rows, *blank, *told, *foot]

    def _row(self, number: int, width: int) -> Text:
        here, choice = number == self._at, self._choices[number]
        ink = self.inks.style("text", bold=here)
        return Text("> " if here else "  ", ink) + Text(fitted(choice.label, width - 2), ink)
