"""The base classes of screens: actions declared in bindings, and closing only once."""

from collections.abc import Iterable, Iterator, Sequence
from typing import ClassVar, Final, TypeVar

from rich.text import Text
from textual.actions import parse
from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.binding import Binding
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget

from coach.session.keymap import ACTIONS, Keys
from coach.settings.key_names import key_label
from coach.tui.layout.styled_text import Inks, ellipsized, exact_width
from coach.tui.widgets.keys_line import Hint, KeysLine
from coach.tui.widgets.painted_lines import PaintedLines

T = TypeVar("T")
_MARGINS: Final = 2
_NARROW: Final = 20  # columns up to which no margin is left
_KNOWN: Final = {action.id: action for action in ACTIONS}


class BenchScreen(Screen[T]):
    """A screen that closes only once, from however many sides it is closed at a time.

    Its bindings declare all its actions: their names are on its line of keys, where they can be
    tapped, and a tip explains the one under the mouse.
    """

    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012 - as the library has it
        (0, "-slim"), (_NARROW + 1, "-narrow"), (40, "-usual"),
    ]  # fmt: skip
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012 - as the library has it
        (0, "-flat"), (6, "-low"), (12, "-high"),
    ]  # fmt: skip
    OF_A_PLAN: ClassVar[bool] = False
    """Whether it shows a plan as it was when it was opened, and must close when that changes."""

    def dismiss(self, result: T | None = None) -> AwaitComplete:
        """Close this screen if it is the current one; else it is closed or covered."""
        # Two keys in one write can both ask to close: the second would close the screen below.
        if not self.is_current:
            return AwaitComplete()
        return super().dismiss(result)

    def left(self) -> None:
        """Go back to the list, or leave the program where there is none."""
        # Textual's own blank screen is always at the bottom of the stack.
        if len(self.app.screen_stack) > 2:  # noqa: PLR2004 - the app's own, and this one
            self.dismiss(None)
        else:
            self.app.exit(0)

    async def on_keys_line_tapped(self, message: KeysLine.Tapped) -> None:
        """Carry out the action tapped on the line of keys."""
        message.stop()
        await self.run_action(message.action)

    def wear(self, inks: Inks) -> None:
        """Use other colours; most screens are written anew."""

    def below(self) -> Iterable[Widget]:
        """Return the widgets between content and keys, such as an input line."""
        return ()

    def show(self) -> None:
        """Show what has changed; most screens show nothing that changes by itself."""

    def hints(self) -> Sequence[Hint]:
        """Return the current hints of this screen's bindings, each with its first key.

        Textual would leave out those whose key the focused input takes as well.
        """
        return [
            Hint(self._key(one), self.named(one), one.action, one.tooltip)
            for one in self._declared()
            if one.show and self._does_something(one) and self.named(one)
        ]

    def _declared(self) -> Iterator[Binding]:
        """Yield the bindings of this class, then those of its bases that it does not override."""
        keys: set[str] = set()
        for base in type(self).__mro__[:-1]:
            for one in vars(base).get("BINDINGS", ()) if issubclass(base, BenchScreen) else ():
                first = one.key.split(",")[0]
                if first not in keys:
                    keys.add(first)
                    yield one

    def _does_something(self, binding: Binding) -> bool:
        _, name, parameters = parse(binding.action)
        return bool(self.check_action(name, parameters))

    def _key(self, binding: Binding) -> str:
        """Return the name of the first key of a binding, as it is set."""
        keys = getattr(self.app, "keys", None)
        if binding.id and isinstance(keys, Keys):
            return keys.shown(binding.id)
        return binding.key_display or key_label(binding.key.split(",")[0])

    def named(self, binding: Binding) -> str:
        """Return the current name of a binding; "" leaves it out of the line of keys."""
        return binding.description


def set_key(name: str, action: str, what: str = "", tip: str = "", *, show: bool = True) -> Binding:
    """Return the binding for an action of the bench, whose keys can be set.

    Args:
        name: The id of the action.
        action: What is done on the current screen.
        what: Its name there, by default as on the bench.
        tip: Its explanation in a sentence.
        show: Whether it is on the line of keys.
    """
    known = _KNOWN[name]
    return Binding(
        ",".join(known.keys), action, what or known.short, show=show, id=name,
        tooltip=tip or known.help,
    )  # fmt: skip


def keyed(key: str, action: str, what: str = "", tip: str = "", sign: str | None = None) -> Binding:
    """Return a binding for fixed keys; without a name it is on no line of keys.

    Args:
        key: The ids of the keys, with commas between.
        action: What is done on the current screen.
        what: Its name on the line of keys, "" to leave it out.
        tip: Its explanation in a sentence.
        sign: The name of the keys on the line, by default that of the first one.
    """
    return Binding(key, action, what, show=bool(what), tooltip=tip, key_display=sign)


class LinesScreen(BenchScreen[T]):
    """Paints what `lines` returns, above its keys; nothing on it takes the focus.

    Its lines are painted and are no widgets, because their content depends on the room: a picture
    of the board takes what words and digits leave, and a table shows the rows around the current
    one, so that a key costs the same in a long one as in a short one.
    """

    # Textual would give the focus to the first widget that takes it, and keys with it.
    AUTO_FOCUS = ""
    OF_A_PLAN = True
    MOST_KEYS: ClassVar[int] = 2  # lines of keys

    def __init__(self, inks: Inks) -> None:
        super().__init__()
        self.inks = inks
        self._sheet = PaintedLines(self._drawn, "lines")

    def lines(self, width: int, height: int) -> Sequence[Text]:
        """Return the lines for so many columns and rows."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        """Yield the one widget that shows the lines, what stands below it, and the keys."""
        yield self._sheet
        yield from self.below()
        yield KeysLine(self.hints, self.MOST_KEYS)

    def on_screen_resume(self) -> None:
        """Show again what another screen has covered."""
        self.show()

    def wear(self, inks: Inks) -> None:
        """Show the lines in other colours."""
        self.inks = inks
        self.show()

    def show(self) -> None:
        """Draw anew, and repaint what has changed, unless the screen is closed or covered."""
        if self.is_current:
            self._sheet.show()
            self.refresh_bindings()

    def _drawn(self, width: int, height: int) -> list[Strip]:
        inner = width - _MARGINS if width > _NARROW else width
        margin = " " * (inner < width)
        drawn = self.lines(inner, height)[:height]
        rows = [*drawn, *[Text()] * (height - len(drawn))]
        return [self.inks.finished(exact_width(Text(margin) + line, width)) for line in rows]


def in_view(at: int, count: int, most: int) -> range:
    """Return the visible entries of a list, `at` among them.

    Only these are to be written, for what a key costs must not grow with the list.

    Args:
        at: The current entry.
        count: How many entries there are.
        most: How many can be visible.
    """
    first = max(0, min(at - most // 2, count - most))
    return range(first, min(first + most, count))


def at_both_ends(left: Text, right: Text, width: int) -> Text:
    """Return one text at each end of a line; the left one is cut if there is little room.

    Args:
        left: The left one.
        right: The right one, which is left out where the left one would have no room.
        width: The columns of the line.
    """
    room = width - right.cell_len - 2
    if room < 8:  # noqa: PLR2004 - too little to tell anything
        return exact_width(left, width)
    short = Text(ellipsized(left.plain, room), left.style)
    return exact_width(short, width - right.cell_len) + right
