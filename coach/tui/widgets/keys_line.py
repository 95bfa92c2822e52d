"""The line of keys at the foot of a screen: hints that can also be tapped."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from rich.style import Style
from rich.text import Text
from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

_GAP: Final = 2
_TALL: Final = 12  # rows of the screen from which there is room for more lines than one
_WHICH: Final = "hint"  # what a cell says of the entry that it belongs to


@dataclass(frozen=True, slots=True)
class Hint:
    """One entry of the line.

    Attributes:
        key: The name of the key.
        what: What it does, in a word or two.
        action: Its action, as a binding names it.
        tip: What it does, in a sentence.
        rank: The priority where there is little room, the lowest first.
    """

    key: str
    what: str
    action: str
    tip: str = ""
    rank: int = 0

    @property
    def width(self) -> int:
        """The columns that it takes."""
        return len(self.key) + 1 + len(self.what)


class KeysLine(Widget):
    """Shows as many hints as fit on a number of lines; a tap on one asks for its action.

    Textual's own footer has one line, which runs over the edge, and a widget for each key; here the
    last hints are dropped instead, and a screen has a widget less for every key.
    """

    ALLOW_SELECT = False
    COMPONENT_CLASSES = {"keys-line--key", "keys-line--what"}  # noqa: RUF012 - as the library has it

    class Tapped(Message):
        """A hint was tapped, with its action."""

        def __init__(self, action: str) -> None:
            super().__init__()
            self.action = action

    def __init__(self, hints: Callable[[], Sequence[Hint]], most: int = 1) -> None:
        """Set the function that returns the current hints, and the most lines."""
        super().__init__(id="keys")
        self._hints = hints
        self._may_have = most
        self._shown: tuple[Hint, ...] = ()

    def on_mount(self) -> None:
        """Follow changes of the screen's bindings."""
        self.screen.bindings_updated_signal.subscribe(self, self._follow)

    def _follow(self, _: object) -> None:
        self.refresh(layout=self._may_have > 1)

    @property
    def _most(self) -> int:
        """The most lines that there is room for."""
        return self._may_have if self.screen.size.height >= _TALL else 1

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Return how many lines the hints need."""
        del container, viewport
        return max(1, len(in_lines(self._hints(), width, self._most)))

    def render(self) -> Text:
        """Return the hints that there is room for."""
        key = self.get_component_rich_style("keys-line--key", partial=True)
        what = self.get_component_rich_style("keys-line--what", partial=True)
        lines = in_lines(self._hints(), self.size.width, self._most)
        self._shown = tuple(hint for line in lines for hint in line)
        text, number = Text(no_wrap=True, end=""), 0
        for line in lines:
            text.append("\n" if text else "")
            for at, hint in enumerate(line):
                meta = Style.from_meta({_WHICH: number})
                text.append(" " * _GAP if at else "")
                text.append(hint.key, key + meta)
                text.append(f" {hint.what}", what + meta)
                number += 1
        return text

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Show the tip of the hint under the mouse."""
        hint = self._at(event)
        self.tooltip = hint.tip if hint and hint.tip else None

    def on_click(self, event: events.Click) -> None:
        """Ask for the tapped action; between two of them there is none."""
        event.stop()
        hint = self._at(event)
        if hint and event.button == 1:
            self.post_message(self.Tapped(hint.action))

    def _at(self, event: events.MouseEvent) -> Hint | None:
        number = event.style.meta.get(_WHICH, len(self._shown))
        return self._shown[number] if number < len(self._shown) else None


def in_lines(hints: Sequence[Hint], width: int, most: int) -> list[list[Hint]]:
    """Return the hints that fit, in order; if not all do, those of the lowest rank.

    Args:
        hints: All of them.
        width: The columns of a line.
        most: The most lines.
    """
    chosen: list[Hint] = []
    for hint in sorted(hints, key=lambda hint: hint.rank):
        more = [one for one in hints if one in chosen or one is hint]
        if len(_broken(more, width)) <= most and (hint.width <= width or not chosen):
            chosen = more
    return _broken(chosen, width)


def _broken(hints: Sequence[Hint], width: int) -> list[list[Hint]]:
    lines: list[list[Hint]] = []
    room = 0
    for hint in hints:
        if not lines or hint.width > room:
            lines.append([])
            room = width
        lines[-1].append(hint)
        room -= hint.width + _GAP
    return lines
