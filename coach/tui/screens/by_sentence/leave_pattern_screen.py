"""The question before a piece goes on without its pattern."""

from collections.abc import Sequence
from typing import ClassVar, Final

from rich.text import Text
from textual.binding import BindingType

from coach.tui.layout.styled_text import paragraph
from coach.tui.messages import LeavesPattern
from coach.tui.screens.base_screen import keyed
from coach.tui.screens.page_screen import TextScreen

_ASKED: Final = "Go on without the pattern from here?"
_TOLD: Final = (
    "The pattern ends with what is made. What you knot from now on you say in short sentences, "
    "and w writes the whole piece out as a pattern of its own. The project’s file stays as it is."
)
_MANY: Final = 99


class LeavePatternScreen(TextScreen[None]):
    """Asks whether the pattern is to be left, and tells the app if so."""

    OF_A_PLAN = True
    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("enter", "go_on", "go on without the pattern", "Say what you knot from here on."),
        keyed("escape", "close", "back", "Stay with the pattern."),
    ]

    def action_go_on(self) -> None:
        """Close, and tell the app."""
        self.dismiss(None)
        self.app.post_message(LeavesPattern())

    def action_close(self) -> None:
        """Close, and stay with the pattern."""
        self.dismiss(None)

    def page(self, width: int) -> Sequence[Text]:
        """Return the question."""
        lines = paragraph(_ASKED, width, 2, self.inks.style("text", bold=True))
        return [*lines, Text(), *paragraph(_TOLD, width, _MANY, self.inks.style("text"))]
