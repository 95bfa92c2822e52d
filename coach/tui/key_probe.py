"""The app of `coach keys`, which names the keys that are pressed, for setting up a pedal."""

from collections import deque
from typing import Final

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.widgets import Static

from coach.session.keymap import Keys
from coach.settings.key_names import key_label
from coach.tui.base_app import PaletteApp
from coach.tui.drawing.cells import ASCII, Glyphs
from coach.tui.layout.styled_text import Inks, ellipsized, paragraph
from coach.tui.theme.palette import Palette

_ENDING: Final = "q"
_SHOWN: Final = 200
_NAME: Final = 16


class KeysApp(PaletteApp):
    """Shows the keys pressed, the newest last; `q` twice in a row ends it."""

    def __init__(self, keys: Keys, inks: Inks, problems: tuple[str, ...] = ()) -> None:
        """Set up with the keys as they are set.

        Args:
            keys: The keys.
            inks: The styles.
            problems: Errors in the maker's settings, in lines.
        """
        super().__init__(inks.palette)
        self._keys = keys
        self._inks = inks
        self._problems = problems
        self._pressed: deque[str] = deque(maxlen=_SHOWN)

    def compose(self) -> ComposeResult:
        """Yield the one widget that shows everything."""
        yield Static(id="pressed", markup=False)

    def on_resize(self) -> None:
        """Write the lines anew for the size."""
        self.show()

    def on_key(self, event: events.Key) -> None:
        """Show a key; end on the second `q` in a row."""
        event.stop()
        event.prevent_default()
        if event.key == _ENDING and self._pressed and self._pressed[-1] == _ENDING:
            self.exit(0)
        self._pressed.append(event.key)
        self.show()

    def show(self) -> None:
        """Write the newest keys that there is room for."""
        width, height = max(1, self.size.width - 2), self.size.height
        head = self._head(width)
        room = max(1, height - len(head))
        lines = [*head, *(self._line(key, width) for key in list(self._pressed)[-room:])]
        text = Text("\n", no_wrap=True, overflow="crop", end="")
        drawn = text.join(self._inks.shown(line) for line in lines[:height])
        self.query_one("#pressed", Static).update(drawn)

    def _head(self, width: int) -> list[Text]:
        inks = self._inks
        told = "Press a key or a pedal to see what the settings file calls it, and what "
        told += "it does now. q twice ends."
        wrong = [
            part
            for line in self._problems
            if not line.startswith(" ")
            for part in paragraph(line, width, 3, inks.style("warning", bold=True))
        ]
        return [*paragraph(told, width, 4, inks.style("text", bold=True)), *wrong, Text()]

    def _line(self, key: str, width: int) -> Text:
        action = next((a for a in self._keys.actions if key in a.keys), None)
        name = ellipsized(key_label(key), _NAME)
        does = f"{action.id.replace('_', ' ')}: {action.help}" if action else "nothing"
        first = Text(f"{name:<{_NAME}}  ", self._inks.style("figure", bold=True))
        return first + Text(ellipsized(does, width - _NAME - 2), self._inks.style("text"))


def run_keys(keys: Keys, palette: Palette, glyphs: Glyphs, problems: tuple[str, ...]) -> int:
    """Show what pressed keys are called until the maker leaves, and return the exit status.

    Args:
        keys: The keys as they are set.
        palette: The colours.
        glyphs: The characters that the terminal can show.
        problems: What is wrong with the maker's settings, in lines.
    """
    return KeysApp(keys, Inks(palette, plain=glyphs is ASCII), problems).run() or 0
