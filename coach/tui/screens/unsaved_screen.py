"""The question before leaving a piece with counts that could not be stored."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import ClassVar, Final

from rich.text import Text
from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import Input

from coach.piece import PieceError, Sitting
from coach.session import unsaved_counts
from coach.tui.layout.styled_text import Inks, paragraph
from coach.tui.screens.base_screen import keyed
from coach.tui.screens.page_screen import TextScreen
from coach.tui.widgets.text_line import TextLine

_MANY: Final = 99
_MOST_PATH: Final = 1000


class TroubleScreen(TextScreen[bool]):
    """Offers to try again, to save the piece elsewhere, to leave or to go on.

    Its result is True to leave, False to go on with the work.
    """

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("t", "try_again", "try again", "Try once more to save all counts."),
        keyed("w", "ask_where", "write to another place", "Write the piece to another file."),
        keyed("l", "leave", "leave without them", "Leave; what is not saved is lost."),
        keyed("enter", "write", "write it there", "Write the piece to this file."),
        keyed("escape", "back", "go on knotting", "Go back to the piece."),
    ]

    def __init__(self, sitting: Sitting, inks: Inks) -> None:
        super().__init__(inks)
        self._sitting = sitting
        self._told = unsaved_counts.leave_question(sitting)
        self._written = False

    def below(self) -> Iterable[Widget]:
        """Return the line for the path, which is shown when it is asked for."""
        line = TextLine(_MOST_PATH)
        line.display = False
        return (line,)

    def page(self, width: int) -> Sequence[Text]:
        """Return what is wrong."""
        return paragraph(self._told, width, _MANY, self.inks.style("warning", bold=True))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Return whether an action does something: while typing, only enter and escape."""
        del parameters
        if action in ("try_again", "ask_where", "leave"):
            return not self._writing
        return self._writing if action == "write" else True

    def named(self, binding: Binding) -> str:
        """Return the current name of a key."""
        if binding.action == "leave" and self._written:
            return "leave"
        return "back" if binding.action == "back" and self._writing else binding.description

    def action_leave(self) -> None:
        """Leave, losing what could not be saved."""
        self.dismiss(result=True)

    def action_back(self) -> None:
        """Hide the line for the path, or else go on knotting."""
        if self._writing:
            self._show_line(shown=False)
        else:
            self.dismiss(result=False)

    def action_try_again(self) -> None:
        """Try once more to save."""
        if self._sitting.keep_before_leaving():
            self.dismiss(result=True)
        else:
            self._told = unsaved_counts.leave_question(self._sitting)
            self.show()

    def action_ask_where(self) -> None:
        """Ask for the path to save to."""
        line = self.query_one(Input)
        line.value = next((str(path) for path in unsaved_counts.rescue_paths(self._sitting)), "")
        line.cursor_position = len(line.value)
        self._show_line(shown=True)

    async def action_write(self) -> None:
        """Save the piece to the path on the line."""
        await self.query_one(Input).action_submit()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Save the piece there and show the result."""
        event.stop()
        try:
            path = unsaved_counts.write_to(self._sitting, Path(event.value.strip()).expanduser())
        except (PieceError, RuntimeError) as error:
            self._told = str(error)
        else:
            self._told, self._written = unsaved_counts.written_message(path), True
        self._show_line(shown=False)

    @property
    def _writing(self) -> bool:
        return self.is_mounted and bool(self.query_one(Input).display)

    def _show_line(self, *, shown: bool) -> None:
        line = self.query_one(Input)
        line.display = shown
        self.set_focus(line if shown else None)
        self.show()
