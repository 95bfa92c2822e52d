"""All that the coach does on the bench, found by a word of it."""

from rich.text import Text
from textual.app import ComposeResult
from textual.widgets import Input

from coach.session.keymap import Action, Keys
from coach.tui.layout.styled_text import Inks, fitted
from coach.tui.layout.text_line import TextLine
from coach.tui.screens.base_screen import LinesScreen, in_view, keys_at_foot

_LOW = 6
_MOST_TEXT = 40
_NAME = 16  # columns of an action's name
_KEY = 10  # columns of its key
_ROOMY = 60  # columns from which what it does stands beside it


class ActionsScreen(LinesScreen[str]):
    """Lists actions with their keys, fewer with each word typed.

    Its result is the id of the one that was chosen; "" when it was left.
    """

    AUTO_FOCUS = "Input"

    def __init__(self, inks: Inks, keys: Keys) -> None:
        """Take what is written with, and the keys as they are set."""
        super().__init__(inks)
        self._keys = keys
        self._found = self._those("")
        self._at = 0

    def compose(self) -> ComposeResult:
        """Yield the rows, and the line that is typed on."""
        yield from super().compose()
        yield TextLine(_MOST_TEXT)

    def on_mount(self) -> None:
        """Show what may be typed."""
        self.query_one(Input).placeholder = "a word, such as: measure"

    def on_input_changed(self, event: Input.Changed) -> None:
        """Keep to the actions that have what is typed."""
        event.stop()
        self._found, self._at = self._those(event.value), 0
        self.show()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Close with the action that is marked; where none is left, stay."""
        event.stop()
        if self._found:
            self.dismiss(self._found[self._at].id)

    def pressed(self, key: str) -> bool:
        """Mark the row before or after, or leave; all other keys are for the line."""
        if key in ("escape", "ctrl+p"):
            self.dismiss("")
        elif key in ("up", "down") and self._found:
            self._at = (self._at + (1 if key == "down" else -1)) % len(self._found)
        else:
            return False
        return True

    def _those(self, typed: str) -> tuple[Action, ...]:
        return tuple(one for one in self._keys.found(typed) if one.id != "actions")

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the actions round the one marked, and the keys."""
        inks = self.inks
        keys = [("enter", "do it"), ("up down", "another"), ("escape", "back")]
        foot = keys_at_foot(inks, width, 1, keys) if height >= _LOW else []
        head = [Text(fitted("What do you want to do?", width), inks.style("text", bold=True))]
        most = max(1, height - len(head) - len(foot))
        rows = [self._row(i, width) for i in in_view(self._at, len(self._found), most)]
        if not rows:
            rows = [Text(fitted("Nothing here is called that.", width), inks.style("warning"))]
        return [*head, *rows, *[Text()] * (most - len(rows)), *foot]

    def _row(self, number: int, width: int) -> Text:
        here, action = number == self._at, self._found[number]
        key = fitted(self._keys.shown(action.id), _KEY - 1)
        line = Text("> " if here else "  ", self.inks.style("text", bold=here))
        line += Text(f"{key:<{_KEY}}", self.inks.style("figure", bold=True))
        line += Text(f"{action.short:<{_NAME}}", self.inks.style("text", bold=here))
        if width >= _ROOMY:
            line += Text(fitted(action.help, width - line.cell_len), self.inks.style("quiet"))
        return line
