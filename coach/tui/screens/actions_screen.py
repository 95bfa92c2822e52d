"""The searchable list of all actions of the bench."""

from collections.abc import Iterable
from typing import ClassVar, Final

from rich.text import Text
from textual.binding import BindingType
from textual.widgets import Input

from coach.session.keymap import Action, Keys
from coach.tui.layout.styled_text import Inks, ellipsized
from coach.tui.screens.base_screen import keyed
from coach.tui.screens.choosing_screen import ChoosingScreen

_MOST_TEXT: Final = 40
_NAME: Final = 18  # columns of an action's name
_KEY: Final = 10  # columns of its key
_ROOMY: Final = 55  # columns from which what it does stands beside it


class ActionsScreen(ChoosingScreen[str]):
    """Lists actions with their keys, filtered by what is typed.

    Its result is the id of the chosen one; "" when it was left. Textual's own command palette
    searches while keys go on coming, so that enter may meet the row before; here every letter has
    been applied before the next key.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("enter", "take", "do it", "Do what the marked row says."),
        keyed("ctrl+p", "back"),
    ]

    def __init__(self, inks: Inks, keys: Keys) -> None:
        """Set the styles, and the keys as they are set."""
        super().__init__(inks, "What do you want to do?", _MOST_TEXT)
        self._keys = keys
        self._found = self._those("")

    def on_mount(self) -> None:
        """Show what may be typed."""
        self.line.placeholder = "a word, such as: measure"

    def on_input_changed(self, event: Input.Changed) -> None:
        """Filter the actions by what is typed."""
        event.stop()
        self._found = self._those(event.value)
        self.say(self._found[0].help if self._found else "Nothing here is called that.")
        self.fill()

    def marked(self, number: int) -> None:
        """Show the full explanation of the marked row."""
        self.say(self._found[number].help if number < len(self._found) else "")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Close with the marked action; stay if none is left."""
        event.stop()
        self.chosen()

    def chosen(self) -> None:
        """Close with the marked action."""
        if self._found:
            self.dismiss(self._found[self.at].id)

    def action_back(self) -> None:
        """Close, and do nothing."""
        self.dismiss("")

    def rows(self, width: int) -> Iterable[Text]:
        """Return the actions that were found, each with its key."""
        return (self._row(action, width) for action in self._found)

    def _those(self, typed: str) -> tuple[Action, ...]:
        return tuple(one for one in self._keys.found(typed) if one.id != "actions")

    def _row(self, action: Action, width: int) -> Text:
        key = ellipsized(self._keys.shown(action.id), _KEY - 1)
        line = Text(f"{key:<{_KEY}}", self.inks.style("figure", bold=True), no_wrap=True)
        line += Text(f"{action.short:<{_NAME}}", self.inks.style("text"))
        if width >= _ROOMY:
            line += Text(ellipsized(action.help, width - line.cell_len), self.inks.style("quiet"))
        return line
