"""The questions about the start of a piece without a pattern, one by one."""

from collections.abc import Iterable, Sequence
from typing import ClassVar, Final

from rich.text import Text
from textual.binding import BindingType
from textual.widget import Widget
from textual.widgets import Input

from coach.recording.record import Recording
from coach.session.by_sentence.freehand_questions import FreehandQuestion, ask_start
from coach.tui.layout.styled_text import Inks, ellipsized, paragraph
from coach.tui.screens.base_screen import LinesScreen, keyed
from coach.tui.widgets.text_line import TextLine

_MOST: Final = 120


class HangingScreen(LinesScreen[Recording]):
    """Asks what hangs. Its result is the record that begins with it; None if left."""

    AUTO_FOCUS = "Input"
    OF_A_PLAN = False
    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("enter", "answer", "answer", "Answer with what is written."),
        keyed("escape", "close", "back", "Close this; nothing is begun."),
    ]

    def __init__(self, inks: Inks, called: str = "") -> None:
        """Set the styles, and the default title of the piece."""
        super().__init__(inks)
        self._asking = ask_start(called)
        self._asked: FreehandQuestion = next(self._asking)
        self._answers: list[tuple[str, str]] = []

    def below(self) -> Iterable[Widget]:
        """Return the line to answer on."""
        return (TextLine(_MOST),)

    def on_mount(self) -> None:
        """Show the default answer."""
        self.query_one(Input).placeholder = self._asked.default

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take an answer, and ask the next question; close after the last."""
        event.stop()
        answer, asked = event.value.strip(), self._asked
        try:
            self._asked = self._asking.send(answer)
        except StopIteration as over:
            self.dismiss(over.value)
            return
        if not self._asked.trouble:
            self._answers.append((asked.asks, answer or asked.default))
        line = self.query_one(Input)
        line.value, line.placeholder = "", self._asked.default
        self.show()

    async def action_answer(self) -> None:
        """Answer with what is typed."""
        await self.query_one(Input).action_submit()

    def action_close(self) -> None:
        """Close; nothing is begun."""
        self.dismiss(None)

    def lines(self, width: int, height: int) -> Sequence[Text]:
        """Return the answers so far, and the current question just above the line."""
        inks = self.inks
        head = Text(ellipsized("Start without a pattern", width), inks.style("text", bold=True))
        trouble = paragraph(self._asked.trouble, width, 3, inks.style("warning", bold=True))
        asked = paragraph(self._asked.asks, width, 4, inks.style("figure", bold=True))
        asked = [*(trouble if self._asked.trouble else []), *asked]
        room = max(0, height - 1 - len(asked))
        told: list[Text] = []
        for asks, answer in self._answers:
            told += paragraph(asks, width, 2, inks.style("quiet"))
            told.append(Text(ellipsized(answer, width), inks.style("text")))
        told = told[max(0, len(told) - room) :]
        return [head, *told, *[Text()] * (room - len(told)), *asked]
