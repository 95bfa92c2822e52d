"""A measure that surprises: what may have happened, and one key to correct it or to keep it."""

from typing import Final

from rich.text import Text

from coach.session.measure_questions import Asked
from coach.tui.layout.styled_text import Inks, paragraph
from coach.tui.screens.base_screen import LinesScreen, keys_at_foot

_MANY: Final = 99


class QuestionScreen(LinesScreen[str]):
    """Asks about a measure. Its result is what came of the answer; "" to measure again."""

    def __init__(self, asked: Asked, inks: Inks) -> None:
        super().__init__(inks)
        self._asked = asked

    def pressed(self, key: str) -> bool:
        """Take the answer, or leave the measure out."""
        if key == "escape":
            self.dismiss("")
            return True
        answer = self._asked.answer(key)
        if answer is None:
            return False
        self.dismiss(answer.take())
        return True

    def lines(self, width: int, height: int) -> list[Text]:
        """Return what surprises, and the answers with their keys."""
        inks = self.inks
        head = paragraph(self._asked.said, width, _MANY, inks.style("warning", bold=True))
        answers = [
            Text(f"{line_key} ", inks.style("figure", bold=True)) + line
            for answer in self._asked.answers
            for line_key, line in zip(
                (answer.key, " ", " ", " "),
                paragraph(answer.label, width - 2, 4, inks.style("text")),
                strict=False,
            )
        ]
        foot = keys_at_foot(inks, width, 1, [("escape", "measure again")])
        room = max(0, height - len(head) - len(foot) - 2)
        return [*head, Text(), *answers[:room], Text(), *foot]
