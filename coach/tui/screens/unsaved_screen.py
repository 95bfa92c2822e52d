"""The question before leaving a piece with counts that could not be stored."""

from pathlib import Path
from typing import Final

from rich.text import Text
from textual.app import ComposeResult
from textual.widgets import Input

from coach.piece import PieceError, Sitting
from coach.session import unsaved
from coach.tui.layout.styled_text import Inks, paragraph
from coach.tui.layout.text_line import TextLine
from coach.tui.screens.base_screen import LinesScreen, keys_at_foot

_MANY: Final = 99
_MOST_PATH: Final = 1000


class TroubleScreen(LinesScreen[bool]):
    """Offers to try again, to write the piece to another place, to leave or to go on.

    Gives True to leave, False to go on with the work.
    """

    AUTO_FOCUS = ""

    def __init__(self, sitting: Sitting, inks: Inks) -> None:
        super().__init__(inks)
        self._sitting = sitting
        self._told = unsaved.question(sitting)
        self._written = False

    def compose(self) -> ComposeResult:
        """Yield the question, and a line for the place that shows when it is asked for."""
        yield from super().compose()
        line = TextLine(_MOST_PATH)
        line.display = False
        yield line

    def lines(self, width: int, height: int) -> list[Text]:
        """Return what is the matter and the keys."""
        told = paragraph(self._told, width, _MANY, self.inks.style("warning", bold=True))
        foot = keys_at_foot(self.inks, width, 3, self._keys())
        return [*told[: max(1, height - len(foot) - 1)], Text(), *foot]

    def pressed(self, key: str) -> bool:
        """Take the answer; while a place is written only escape is taken here."""
        if self._writing():
            if key == "escape":
                self._show_line(shown=False)
            return key == "escape"
        if key == "t":
            self._try_again()
        elif key == "w":
            self._ask_where()
        elif key == "l":
            self.dismiss(result=True)
        elif key == "escape":
            self.dismiss(result=False)
        else:
            return False
        return True

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Write the piece there and tell what came of it."""
        event.stop()
        try:
            path = unsaved.write_to(self._sitting, Path(event.value.strip()).expanduser())
        except (PieceError, RuntimeError) as error:
            self._told = str(error)
        else:
            self._told, self._written = unsaved.written(path), True
        self._show_line(shown=False)

    def _keys(self) -> list[tuple[str, str]]:
        leave = "leave" if self._written else "leave without them"
        if self._writing():
            return [("enter", "write it there"), ("escape", "back")]
        return [
            ("t", "try again"), ("w", "write to another place"), ("l", leave),
            ("escape", "go on knotting"),
        ]  # fmt: skip

    def _writing(self) -> bool:
        return bool(self.query_one(Input).display)

    def _try_again(self) -> None:
        if self._sitting.keep_before_leaving():
            self.dismiss(result=True)
        else:
            self._told = unsaved.question(self._sitting)

    def _ask_where(self) -> None:
        line = self.query_one(Input)
        line.value = next((str(path) for path in unsaved.places(self._sitting)), "")
        line.cursor_position = len(line.value)
        self._show_line(shown=True)

    def _show_line(self, *, shown: bool) -> None:
        line = self.query_one(Input)
        line.display = shown
        self.set_focus(line if shown else None)
        self.show()
