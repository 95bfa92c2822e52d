"""The work screen beside the board: keys go to the controller, its view is shown."""

from collections.abc import Callable
from typing import ClassVar, Final

from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message

from coach.session import unsaved_counts
from coach.session.controller import BenchController
from coach.session.current_order.piece_switching import (
    COUNTED,
    TOO_SOON,
    CameOver,
    next_piece_hint,
    step_made,
)
from coach.session.keymap import ACTIONS
from coach.settings.key_names import key_label
from coach.text import capital
from coach.tui import messages, screens
from coach.tui.drawing.cells import Glyphs
from coach.tui.layout.key_footer import action_name
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.board_screen import BoardScreen
from coach.tui.screens.opened_by_keys import OverWork
from coach.tui.sounds import Sounds

_MADE: Final = ("count", "rest")
"""What there is nothing for once all is made."""
_AT_END: Final = ("another", "away")
"""What there is only then."""
_OF_THE_APP: Final[dict[str, Callable[[], Message]]] = {
    "mouse": messages.MouseSwitched,
    "next_piece": lambda: messages.AskedOfOrder("next"),
    "batch": lambda: messages.AskedOfOrder("turn"),
    "desk": lambda: messages.AskedOfOrder("desk"),
    "another": messages.WantsAnother,
    "away": messages.PutAway,
}
"""What the app does, by the messages that ask it to."""


class WorkScreen(BoardScreen):
    """Shows one piece at work; without focus on it, every key comes to the screen."""

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(",".join(one.keys), action_name(one), one.short, id=one.id, tooltip=one.help)
        for one in ACTIONS
    ]

    def __init__(
        self, work: BenchController, inks: Inks, glyphs: Glyphs, came: CameOver | None = None
    ) -> None:
        """Set the piece, and the automatic change that led to it, if any."""
        super().__init__(work, inks, glyphs)
        self.came = came
        self._over = OverWork(self)
        self._sounds = Sounds(self, work)
        self._unknown: set[str] = set()  # keys of which it was told that they do nothing
        self._deeds: dict[str, Callable[[], None]] = {
            "leave": self.leave,
            "more": lambda: self.tell(self._work.otherwise().repeats(1)),
            "fewer": lambda: self.tell(self._work.otherwise().repeats(-1)),
            "say": self._say_again,
            "colourway": self._turn_colours,
        }

    def on_mount(self) -> None:
        """Keep the display on, and speak the step."""
        if self._work.aids.awake:
            self._work.aids.awake.begin()
        name = self._work.sitting.name if self.came else ""
        if self._sounds.speaks:  # a first look takes long, and a question may be asked before it
            self._sounds.speak(self._seen(), first=name)

    def on_unmount(self) -> None:
        """Let the display go off again."""
        if self._work.aids.awake:
            self._work.aids.awake.end()

    def on_key(self, event: events.Key) -> None:
        """Leave a key to its binding, unless any key counts, or it does nothing now."""
        action = self._work.action(event.key)
        if action is None:
            self._tell_unknown(event.key)
            return
        # A binding whose action is disabled swallows its key in silence; here it is explained.
        if self._why_not(action) or self._work.settings.any_key:
            event.stop()
            event.prevent_default()
            self.ask_for(action)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Return whether an action does something at this count."""
        return action != "bench" or not self._why_not(str(parameters[0]))

    def _why_not(self, action: str) -> str:
        """Return why an action does nothing now; "" if it does something."""
        finished = self._work.done >= self._work.plan.total
        if action in _MADE and finished:
            return "Nothing is left to count."
        return "This piece is not finished yet." if action in _AT_END and not finished else ""

    def action_bench(self, action: str) -> None:
        """Carry out an action of the bench by its id; a count is stored before it is shown."""
        if action in _OF_THE_APP:
            self.app.post_message(_OF_THE_APP[action]())
        elif action in self._deeds:
            self._deeds[action]()
        # Only before the first count here: after it, taking back is about this piece.
        elif self.came and action == "take_back" and self.came.leads_back(self._work.done):
            self.app.post_message(messages.AskedOfOrder("back"))
        elif not self._over.open(action):
            self._do(action, getattr(self.app, "read_s", None))  # a click bears its handling's time
            if action == "theme":
                self.post_message(messages.ThemeChanged())
            if not getattr(self.app, "more_typed", False):  # the next one is shown in a moment
                self.show()
                self._sounds.speak(self._seen())

    def _do(self, action: str, read_s: float | None) -> None:
        """Carry out an action of the controller; a finished step may lead to another piece."""
        before, counting = self._work.done, action in COUNTED
        # The key was pressed for the piece before, which the hands still held.
        if counting and self.came and self.came.too_soon(self._work.presses.tick_ms(read_s)):
            self._work.message = TOO_SOON
            return
        self._sounds.ring(self._work.act(action, read_s))
        if counting and self._work.batch and step_made(self._work.plan, before, self._work.done):
            if self._work.done >= self._work.plan.total and not self._work.message:
                self._work.message = next_piece_hint(self._work.keys.shown("next_piece"))
            self.app.post_message(messages.AskedOfOrder("step"))

    def ask_for(self, action: str) -> None:
        """Carry out an action by its id, or say why it does nothing now."""
        why = self._why_not(action)
        if why:
            self.tell(why)
        else:
            self.action_bench(action)

    def _tell_unknown(self, key: str) -> None:
        """Say that a key does nothing, the first time that it is pressed."""
        if key in self._unknown:
            self.show()  # the key before it may have left that to this one
            return
        self._unknown.add(key)
        keys, told = self._work.keys, f"{key_label(key)} does nothing here."
        if key == "escape":
            told = f"Escape closes pages; {keys.shown('leave')} leaves."
        self.tell(capital(f"{told} {keys.shown('help')} shows all keys."))

    def on_click(self, event: events.Click) -> None:
        """Count a tap on digits or board like a key."""
        # Other buttons belong to the terminal's own menu and paste.
        if event.button == 1 and not self._why_not("count"):
            self.action_bench("count")

    def on_mouse_scroll_down(self) -> None:
        """Look ahead, on a screen on which the wheel goes on."""
        self.action_bench("ahead")

    def on_mouse_scroll_up(self) -> None:
        """Look back, on a screen on which the wheel goes on."""
        self.action_bench("unpick")

    def leave(self) -> None:
        """Leave the piece for the list, or the program where there is none."""
        self._work.leave()
        if unsaved_counts.must_ask_before_leaving(self._work.sitting):
            asked = screens.TroubleScreen(self._work.sitting, self.inks)
            self.app.push_screen(asked, self._left)
        else:
            self._left(leaving=True)

    def _left(self, leaving: bool | None) -> None:
        if leaving:
            self.left()

    def _take_up(self, work: BenchController) -> None:
        """Go on with a controller whose plan follows the last happening."""
        super()._take_up(work)
        self._sounds = Sounds(self, work)

    def tell(self, said: str) -> None:
        """Show a message in place of that of the last key."""
        self._work.message, self._work.unspoken = said, ""
        self.show()

    def _say_again(self) -> None:
        self._sounds.say_again(self._seen())
        self.show()

    def _turn_colours(self) -> None:
        """Show the piece in its next colourway."""
        ways, piece = self._work.aids.colourways, self._work.sitting.piece_id
        told = ways.turn(piece, self._work.plan.project)
        self._take_up(self._work.anew())
        self.tell(told)
