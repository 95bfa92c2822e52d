"""The screen beside the board: takes the keys and shows what has become of them."""

from collections.abc import Callable
from typing import Final

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Static

from coach.bench.cells import Glyphs
from coach.bench.face import Face
from coach.bench.page_screen import PageScreen
from coach.bench.pages import cord_lines, foot, key_lines, plan_lines
from coach.bench.paint import Inks
from coach.bench.work import Work

_SECOND_RING_S: Final = 0.25


class WorkScreen(Screen[None]):
    """One piece on the bench. Nothing here takes the focus, so every key comes to the screen."""

    AUTO_FOCUS = ""
    DEFAULT_CSS = """
    WorkScreen { overflow: hidden hidden; }
    WorkScreen > #face { width: 100%; height: 100%; }
    """

    def __init__(self, work: Work, inks: Inks, glyphs: Glyphs) -> None:
        super().__init__()
        self._work = work
        self._face = Face(work.plan, inks.of(work.plan), work.keys, glyphs)

    def compose(self) -> ComposeResult:
        """Give the one widget that shows everything."""
        yield Static(id="face", markup=False)

    def on_mount(self) -> None:
        """Begin to show the time."""
        self.set_interval(1, self.show)

    def on_resize(self) -> None:
        """Follow the terminal's size."""
        self.show()

    def on_screen_resume(self) -> None:
        """Show again what another screen has covered."""
        self.show()

    def on_key(self, event: events.Key) -> None:
        """Do what the key asks; a count is stored before it is shown."""
        action = self._work.keys.action(event.key)
        if action is None:
            return
        event.stop()
        event.prevent_default()
        if action == "leave":
            self._leave()
        elif action in ("cords", "plan", "help"):
            self._turn_to(action)
        else:
            self._ring(self._work.act(action))
            self.show()

    def show(self) -> None:
        """Draw everything anew for the size that there is."""
        width, height = self.size
        lines = self._face.lines(self._work.view(), width, height)
        text = Text("\n", no_wrap=True, overflow="crop", end="").join(lines)
        self.query_one("#face", Static).update(text)

    def _leave(self) -> None:
        self._work.leave()
        if len(self.app.screen_stack) > 2:  # noqa: PLR2004 - the app's own, and this one
            self.dismiss(None)
        else:
            self.app.exit(0)

    def _turn_to(self, page: str) -> None:
        work, inks = self._work, self._face.inks
        cords = work.view().cords
        pages: dict[str, Callable[[int], list[Text]]] = {
            "help": lambda width: key_lines(work.keys, inks, width),
            "cords": lambda width: cord_lines(work.plan, inks, cords, width),
            "plan": lambda width: plan_lines(work.plan, inks, width),
        }
        self.app.push_screen(PageScreen(inks, pages[page], foot(inks, ("escape", "back"))))

    def _ring(self, ring: str) -> None:
        """Sound the bell once at the end of a step and twice at the end of a repeat."""
        if ring:
            self.app.bell()
        if ring == "repeat":
            self.set_timer(_SECOND_RING_S, self.app.bell)
