"""The question before a piece goes on without its pattern."""

from typing import Final

from rich.text import Text

from coach.tui.layout.styled_text import Inks, paragraph
from coach.tui.messages import LeavesPattern
from coach.tui.screens.base_screen import LinesScreen, keys_at_foot

_ASKED: Final = "Go on without the pattern from here?"
_TOLD: Final = (
    "The pattern ends with what is made. What you knot from now on you say in short sentences, "
    "and w writes the whole piece out as a pattern of its own. The project’s file stays as it is."
)
_KEYS: Final = (("enter", "go on without the pattern"), ("escape", "back"))
_MANY: Final = 99


class LeavePatternScreen(LinesScreen[None]):
    """Asks whether the pattern is to be left, and tells the app if so."""

    def __init__(self, inks: Inks) -> None:
        """Take what is written with."""
        super().__init__(inks)

    def pressed(self, key: str) -> bool:
        """Take the answer."""
        if key not in ("enter", "escape"):
            return False
        self.dismiss(None)
        if key == "enter":
            self.app.post_message(LeavesPattern())
        return True

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the question, and the keys."""
        lines = paragraph(_ASKED, width, 2, self.inks.style("text", bold=True))
        lines += [Text(), *paragraph(_TOLD, width, _MANY, self.inks.style("text"))]
        foot = keys_at_foot(self.inks, width, 2, _KEYS)
        return [*lines[: height - len(foot)], *[Text()] * (height - len(lines) - len(foot)), *foot]
