"""The app of the bench, started with a list of pieces or with one piece."""

import asyncio
import os
import signal
import sys
from contextlib import suppress
from typing import Any, ClassVar, Final

from textual import events
from textual.binding import Binding, BindingType

from coach.piece import Clock, SystemClock
from coach.session import unsaved_counts
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import Aids, OnBench, Shelf
from coach.session.quick_settings import Toggles
from coach.tui import screens
from coach.tui.drawing.cells import ASCII, Glyphs, glyphs_for
from coach.tui.layout.styled_text import Inks
from coach.tui.messages import AskedOfPiece, ChosenPiece, ChosenProject
from coach.tui.piece_handlers import ExitSummary, PieceHandlers
from coach.tui.piece_opener import PieceOpener
from coach.tui.screens.base_screen import BenchScreen
from coach.tui.screens.work_screen import WorkScreen
from coach.tui.shelf_desk import ShelfDesk
from coach.tui.theme.colour_depth import depth_of
from coach.tui.theme.palette import DARK, Palette, palette_for

_SIGNALS: Final = tuple(
    getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)
)
_FOLLOW_S: Final = 0.5  # so that two screens on one piece are together within a second


class BenchApp(PieceHandlers):
    """Shows the list of a shelf, or one piece; its result is an exit status."""

    AUTO_FOCUS = "*"
    TITLE = "coach"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+l", "theme", show=False)]

    def __init__(
        self,
        *,
        shelf: Shelf | None = None,
        on_bench: OnBench | None = None,
        clock: Clock | None = None,
        keys: Keys | None = None,
        palette: Palette = DARK,
        glyphs: Glyphs | None = None,
        aids: Aids | None = None,
    ) -> None:
        """Set what to show first, and how.

        Args:
            shelf: Pieces and projects to list; None shows no list.
            on_bench: A piece to show at once.
            clock: Tells the time; the system's by default.
            keys: The keys as they are set.
            palette: The colours.
            glyphs: The characters; by default those that the terminal can show.
            aids: Settings, speech and the like.
        """
        super().__init__(palette, keys)
        self._on_bench = on_bench
        self._clock = clock or SystemClock()
        self._aids = aids or Aids()
        glyphs = glyphs or glyphs_for(getattr(sys.__stderr__, "encoding", None))
        self._inks = Inks(palette, plain=glyphs is ASCII)
        self._opener = PieceOpener(
            self, self._offer, clock=self._clock, keys=self.keys, aids=self._aids,
            inks=self._inks, glyphs=glyphs,
        )  # fmt: skip
        self._listed: ShelfDesk | None = None
        if shelf:
            self._listed = ShelfDesk(
                self, shelf, self._inks, self._aids, self._opener, glyphs=glyphs
            )
        self._before: tuple[str, int] | None = None  # the last key, and when it was read, in ms
        self.parting = ExitSummary()

    @property
    def work(self) -> BenchController | None:
        """The piece on the bench."""
        return self._opener.work

    def _fatal_error(self) -> None:
        """Close the screen after an error, which `outcome` raises for its caller to report."""
        self._close_messages_no_wait()

    def outcome(self) -> int:
        """Run until the maker leaves, and return the exit status.

        Raises:
            Exception: An error in a screen. The piece is put aside safely before.
        """
        status = self.run()
        # Before the traceback is reported: the counts in memory come first.
        if self._exception is not None:
            self.parting.put_aside(self.work)
        self.parting.say(self.work, self._opener.freehand)
        if self._exception is not None:
            raise self._exception
        return status or 0

    def has_turn(self, event: events.Event) -> None:
        """Tell the bounce guard which key came before."""
        if isinstance(event, events.Key):
            before, self._before = self._before, (event.key, self._clock.tick_at(event.time))
            if before and self.work:
                self.work.presses.came_before(*before, event.key)

    async def on_mount(self) -> None:
        """Open the first screen, and begin to follow other terminals."""
        # SQLite cannot notify, so other terminals' changes are polled; a stamp makes that cheap.
        self.set_interval(_FOLLOW_S, self._follow)
        # Windows has no signal handlers in event loops.
        with suppress(NotImplementedError):
            for number in _SIGNALS:
                asyncio.get_running_loop().add_signal_handler(number, self.action_end)
        self.show_images(self._aids.kept.now.picture)
        if self._listed:
            await self.push_screen(self._listed.list_screen(), lambda _: None)
            self._offer(self._aids.told)  # before any key can meet an empty list
        if self._on_bench:
            on_bench = self._on_bench
            self._opener.open(lambda: on_bench)

    async def on_unmount(self) -> None:
        """Restore the signal handlers."""
        with suppress(NotImplementedError):
            for number in _SIGNALS:
                asyncio.get_running_loop().remove_signal_handler(number)

    def action_leave(self) -> None:
        """End the sitting and the app; ask first if counts could not be stored."""
        if self.work:
            self.work.leave()
            if unsaved_counts.must_ask_before_leaving(self.work.sitting):
                self._ask(self.work)
                return
        self._end()

    def action_end(self) -> None:
        """End without asking, as on a signal; what is not stored is written elsewhere."""
        self.parting.put_aside(self.work)
        self._end()

    def _ask(self, work: BenchController) -> None:
        def answered(leaving: bool | None) -> None:
            if leaving:
                self._end()

        # A second key, or a signal, must not stack the same question twice.
        if not isinstance(self.screen, screens.TroubleScreen):
            inks = self._inks.of(work.plan)
            self.push_screen(screens.TroubleScreen(work.sitting, inks), answered)

    def _end(self) -> None:
        if self._aids.voice:
            self._aids.voice.close()
        self.exit(0)

    async def action_quit(self) -> None:
        """Leave on ctrl+q, Textual's own key."""
        self.action_leave()

    def action_help_quit(self) -> None:
        """Leave on ctrl+c, on which Textual would only show a hint."""
        self.action_leave()

    def action_theme(self) -> None:
        """Change the colours on every screen that has no message line of its own."""
        Toggles(self._aids.kept).theme()
        self.on_theme_changed()

    def on_mouse_switched(self) -> None:
        """Release the mouse to the terminal, for copying, or capture it again."""
        if isinstance(self.screen, WorkScreen):
            self.screen.tell(self.switch_mouse())

    def on_theme_changed(self) -> None:
        """Show everything in the colours that are set now, as far as this terminal has them."""
        palette = palette_for(self._aids.kept.now.theme, depth_of(os.environ))
        self.wear(palette)
        self._inks = Inks(palette, plain=self._inks.plain)
        self._opener.wear(self._inks)
        if self._listed:
            self._listed.wear(self._inks)

    def on_chosen_piece(self, message: ChosenPiece) -> None:
        """Open a piece of the list on the bench."""
        if self._listed:
            self._listed.open_piece(message.piece_id)

    def on_asked_of_piece(self, message: AskedOfPiece) -> None:
        """Ask what to do with a piece on the list."""
        if self._listed:
            self._listed.ask_of(message.piece_id)

    def on_chosen_project(self, message: ChosenProject) -> None:
        """Show the plan of a project from the list."""
        if self._listed:
            self._listed.show_plan(message.key)

    def _follow(self) -> None:
        """Show changes made in another terminal."""
        benches = [screen for screen in self.screen_stack if isinstance(screen, WorkScreen)]
        if not benches or not benches[-1].work.refresh():
            return
        top = self.screen
        if isinstance(top, BenchScreen) and top.OF_A_PLAN and benches[-1].work.stale:
            top.dismiss(None)  # it was opened on a plan that is no more
        elif isinstance(top, BenchScreen):
            top.show()

    def _offer(self, told: str = "") -> None:
        """Fill the list, if there is one, with the current shelf, below a message."""
        if self._listed:
            self._listed.offer(told)


def run_list(shelf: Shelf, **looks: Any) -> int:
    """Open the list of pieces and projects, and return the exit status; see BenchApp for looks."""
    return BenchApp(shelf=shelf, **looks).outcome()


def run_bench(on_bench: OnBench, **looks: Any) -> int:
    """Open a piece for work, and return the exit status; see BenchApp for looks."""
    return BenchApp(on_bench=on_bench, **looks).outcome()
