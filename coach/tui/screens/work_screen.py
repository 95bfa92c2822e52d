"""The work screen beside the board: keys go to the controller, its view is shown."""

from collections.abc import Callable

from textual import events
from textual.message import Message

from coach.session import unsaved
from coach.session.choosing import NOTHING_OPEN, Choosing
from coach.session.controller import Work
from coach.settings.key_names import shown
from coach.text import capital
from coach.tui import screens
from coach.tui.drawing.cells import Glyphs
from coach.tui.layout.styled_text import Inks
from coach.tui.messages import (
    AskedOfOrder,
    MouseSwitched,
    PutAway,
    ThemeChanged,
    WantsAnother,
)
from coach.tui.screens.board_screen import BoardScreen
from coach.tui.screens.opened_by_keys import PAGES, SCREENS, page_for, screen_for
from coach.tui.sounds import Sounds


class WorkScreen(BoardScreen):
    """Shows one piece at work. Nothing on it takes the focus, so every key comes to the screen."""

    AUTO_FOCUS = ""

    def __init__(self, work: Work, inks: Inks, glyphs: Glyphs) -> None:
        super().__init__(work, inks, glyphs)
        self._sounds = Sounds(self, work)
        self._unknown: set[str] = set()  # keys of which it was told that they do nothing
        self._deeds: dict[str, Callable[[], None]] = {
            "leave": self.leave,
            "actions": self._find,
            "measure": self._measure,
            "otherwise": self._differ,
            "choose": self._choose,
            "more": lambda: self._repeats(1),
            "fewer": lambda: self._repeats(-1),
            "say": self._say_again,
            "mouse": self._switch_mouse,
            "next_piece": lambda: self._hand_on(AskedOfOrder("next")),
            "batch": lambda: self._hand_on(AskedOfOrder("turn")),
            "desk": lambda: self._hand_on(AskedOfOrder("desk")),
            "another": lambda: self._end_with(WantsAnother()),
            "away": lambda: self._end_with(PutAway()),
        }

    def on_mount(self) -> None:
        """Keep the display on, and speak the step."""
        if self._work.aids.awake:
            self._work.aids.awake.begin()
        self._sounds.speak(self._seen())

    def on_unmount(self) -> None:
        """Let the display go off again."""
        if self._work.aids.awake:
            self._work.aids.awake.end()

    def on_key(self, event: events.Key) -> None:
        """Do what a key asks for; a count is stored before it is shown."""
        action = self._work.action(event.key)
        if action is None:
            self._tell_unknown(event.key)
            return
        event.stop()
        event.prevent_default()
        self._do(action, event.time)

    def _do(self, action: str, read_s: float | None = None) -> None:
        """Carry out an action; `read_s` is when its key was read, in monotonic seconds."""
        work, inks = self._work, self._face.inks
        if action in PAGES:
            self.app.push_screen(page_for(action, work, inks, self._glyphs))
        elif action in SCREENS:
            work.message = work.unspoken = ""  # of the last key, which is done with
            self.app.push_screen(screen_for(action, work, inks, self._glyphs))
        elif action in self._deeds:
            self._deeds[action]()
        else:
            self._sounds.ring(self._work.act(action, read_s))
            if action == "theme":
                self.post_message(ThemeChanged())
            if not getattr(self.app, "more_typed", False):  # the next one is shown in a moment
                self.show()
                self._sounds.speak(self._seen())

    def _hand_on(self, message: Message) -> None:
        self.app.post_message(message)

    def _tell_unknown(self, key: str) -> None:
        """Say that a key does nothing, the first time that it is pressed."""
        if key in self._unknown:
            self.show()  # the key before it may have left that to this one
            return
        self._unknown.add(key)
        keys, told = self._work.keys, f"{shown(key)} does nothing here."
        if key == "escape":
            told = f"Escape closes pages; {keys.shown('leave')} leaves."
        self.tell(capital(f"{told} {keys.shown('help')} shows all keys."))

    def on_click(self, event: events.Click) -> None:
        """Count a tap as a key is counted, or do what the footer says where it is tapped."""
        place = event.screen_x, event.screen_y
        action = self._face.action_at(self._seen(), *self.size, place)
        if action and event.button == 1:
            self._do(action, event.time)

    def on_mouse_scroll_down(self) -> None:
        """Look ahead, on a screen on which the wheel goes on."""
        self._do("ahead")

    def on_mouse_scroll_up(self) -> None:
        """Look back, on a screen on which the wheel goes on."""
        self._do("unpick")

    def leave(self) -> None:
        """Leave the piece for the list, or the program where there is none."""
        self._work.leave()
        if unsaved.must_ask(self._work.sitting):
            asked = screens.TroubleScreen(self._work.sitting, self._face.inks)
            self.app.push_screen(asked, self._left)
        else:
            self._left(leaving=True)

    def _left(self, leaving: bool | None) -> None:
        if not leaving:
            return
        if len(self.app.screen_stack) > 2:  # noqa: PLR2004 - the app's own, and this one
            self.dismiss(None)
        else:
            self.app.exit(0)

    def _take_up(self, work: Work) -> None:
        """Go on with a controller whose plan has followed what happened."""
        super()._take_up(work)
        self._sounds = Sounds(self, work)

    def tell(self, said: str) -> None:
        """Say something in the place of what came of the last key."""
        self._work.message, self._work.unspoken = said, ""
        self.show()

    def _say_again(self) -> None:
        self._sounds.say_again(self._seen())
        self.show()

    def _switch_mouse(self) -> None:
        self.post_message(MouseSwitched())

    def _end_with(self, message: Message) -> None:
        """Ask the app for what is done with a finished piece, and with no other."""
        if self._work.done >= self._work.plan.total:
            self.post_message(message)
        else:
            self.tell("This piece is not finished yet.")

    def _repeats(self, more: int) -> None:
        """Make so many repeats more from here on, or fewer."""
        self.tell(self._work.otherwise().repeats(more))

    def _find(self) -> None:
        """Let the maker find an action by a word of it, and carry it out."""

        def chosen(action: str | None) -> None:
            if action:
                self._do(action)

        self.app.push_screen(screens.ActionsScreen(self._face.inks, self._work.keys), chosen)

    def _differ(self) -> None:
        """Ask what went otherwise than planned."""
        asked = screens.otherwise_screen(self._work.otherwise(), self._face.inks)
        self.app.push_screen(asked, self._answered)

    def _choose(self) -> None:
        """Ask what is left to the maker here."""
        asked = screens.choose_screen(Choosing(self._work.otherwise()), self._face.inks)
        if asked is None:
            self.tell(NOTHING_OPEN)
        else:
            self.app.push_screen(asked, self._answered)

    def _measure(self) -> None:
        """Ask what was measured, and show what follows from it."""

        def answered(said: str | None) -> None:
            self._answered(said)
            if said:
                self.app.push_screen(screens.measured_page(self._work, self._face.inks, said))

        asked = screens.measure_screen(self._work.otherwise(), self._face.inks)
        self.app.push_screen(asked, answered)

    def _answered(self, said: str | None) -> None:
        if said:
            self.tell(said)
