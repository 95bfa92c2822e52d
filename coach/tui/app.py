"""The app of the bench, and the two ways into it: a list of pieces, or one piece."""

import asyncio
import signal
import sys
from contextlib import suppress
from typing import Final

from textual import events

from coach.piece import Clock, PieceError, SystemClock
from coach.session import unsaved
from coach.session.controller import Work
from coach.session.keymap import Keys
from coach.session.ports import Aids, CannotOpen, OnBench, Shelf
from coach.text import one_line
from coach.tui import screens
from coach.tui.base_app import PaletteApp
from coach.tui.drawing.cells import ASCII, Glyphs, glyphs_for
from coach.tui.input.typed import Typed
from coach.tui.layout.styled_text import Inks
from coach.tui.messages import ChosenPiece, ChosenProject
from coach.tui.piece_opener import PieceOpener
from coach.tui.screens.base_screen import LinesScreen
from coach.tui.screens.work_screen import WorkScreen
from coach.tui.theme.palette import DARK, Palette

_SIGNALS: Final = tuple(
    getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)
)
_FOLLOW_S: Final = 0.5  # so that two screens on one piece are together within a second


class BenchApp(PaletteApp):
    """Shows the list of a shelf, or one piece; its result is an exit status."""

    AUTO_FOCUS = "*"
    TITLE = "coach"

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
        """Take what to show first, and what it is shown with.

        Args:
            shelf: Pieces and projects to list; None shows no list.
            on_bench: A piece to show at once.
            clock: Tells the time; the system's by default.
            keys: The keys as they are set.
            palette: The colours.
            glyphs: The characters; by default those that the terminal can show.
            aids: Settings, speech and the like.
        """
        super().__init__(palette)
        self._shelf = shelf
        self._on_bench = on_bench
        self._clock = clock or SystemClock()
        self._aids = aids or Aids()
        glyphs = glyphs or glyphs_for(getattr(sys.__stderr__, "encoding", None))
        self._inks = Inks(palette, plain=glyphs is ASCII)
        self._opener = PieceOpener(
            self, self._offer, clock=self._clock, keys=keys or Keys(), aids=self._aids,
            inks=self._inks, glyphs=glyphs,
        )  # fmt: skip
        self._typed = Typed(self)
        self._before: tuple[str, int] | None = None  # the last key, and when it was read, in ms
        self._typist: asyncio.Task[None] | None = None
        self._parting = ""  # what is said when the screen is gone

    @property
    def work(self) -> Work | None:
        """The piece on the bench."""
        return self._opener.work

    def _fatal_error(self) -> None:
        """Close the screen after a fault, which `outcome` raises for its caller to report."""
        self._close_messages_no_wait()

    def outcome(self) -> int:
        """Run until the maker leaves, and return the exit status.

        Raises:
            Exception: What went wrong in a screen. The piece is put aside safely before.
        """
        status = self.run()
        if self._exception is not None:
            self._put_aside()
        self.say_parting()
        if self._exception is not None:
            raise self._exception
        return status or 0

    def say_parting(self) -> None:
        """Say, once the screen is gone, that all is saved, or where it was written instead."""
        if self.work and not self._parting and not self.work.sitting.trouble:
            self._parting = unsaved.saved(self.work.sitting)
        if self._parting:
            with suppress(OSError):  # the terminal may be gone
                sys.stderr.write(f"coach: {one_line(self._parting)}\n")

    async def on_event(self, event: events.Event) -> None:
        """Queue what is typed until its turn; drop it once the screens are gone."""
        closed = isinstance(event, events.InputEvent | events.Paste) and not self.screen_stack
        if closed or self._typed.waits(event):
            return
        if isinstance(event, events.Key) and not event.is_forwarded:
            before, self._before = self._before, (event.key, self._clock.tick_at(event.time))
            if before and self.work:
                self.work.presses.came_before(*before, event.key)
        await super().on_event(event)

    def on_mount(self) -> None:
        """Open the first screen, and begin to hand on keys and to follow other terminals."""
        self._typist = asyncio.create_task(self._typed.hand_on())
        self.set_interval(_FOLLOW_S, self._follow)
        with suppress(NotImplementedError):
            for number in _SIGNALS:
                asyncio.get_running_loop().add_signal_handler(number, self.action_end)
        if self._shelf:
            self.push_screen(screens.ListScreen(self._inks), lambda _: None)
            self.call_after_refresh(self._offer, self._aids.told)
        if self._on_bench:
            on_bench = self._on_bench
            self._opener.open(lambda: on_bench)

    def on_unmount(self) -> None:
        """Stop handing on keys, and give the signals back."""
        if self._typist:
            self._typist.cancel()
        with suppress(NotImplementedError):
            for number in _SIGNALS:
                asyncio.get_running_loop().remove_signal_handler(number)

    def action_leave(self) -> None:
        """End the sitting and the app; ask first if counts could not be stored."""
        if self.work:
            self.work.leave()
            if unsaved.must_ask(self.work.sitting):
                self._ask(self.work)
                return
        self._end()

    def action_end(self) -> None:
        """End without asking, as on a signal: whatever is not stored is written elsewhere."""
        self._put_aside()
        self._end()

    def _put_aside(self) -> None:
        """End the sitting, and write what could not be stored to the first place that takes it."""
        if self.work:
            self.work.leave()
            if unsaved.must_ask(self.work.sitting):
                path = unsaved.rescue(self.work.sitting)
                self._parting = unsaved.written(path) if path else ""

    def _ask(self, work: Work) -> None:
        def answered(leaving: bool | None) -> None:
            if leaving:
                self._end()

        if not isinstance(self.screen, screens.TroubleScreen):
            inks = self._inks.of(work.plan)
            self.push_screen(screens.TroubleScreen(work.sitting, inks), answered)

    def _end(self) -> None:
        if self._aids.voice:
            self._aids.voice.close()
        self.exit(0)

    async def action_quit(self) -> None:
        """Leave on ctrl+q, the library's own key."""
        self.action_leave()

    def action_help_quit(self) -> None:
        """Leave on ctrl+c, where the library would only tell of its key."""
        self.action_leave()

    def on_chosen_piece(self, message: ChosenPiece) -> None:
        """Take a piece to the bench, from the list or after another one of its order."""
        self._opener.open(lambda: message.opening(self._shelf))

    def on_chosen_project(self, message: ChosenProject) -> None:
        """Show a project's plan, on which enter begins a piece."""
        shelf = self._shelf
        if shelf is None:
            return
        try:
            wishing = shelf.fitting(message.key)
        except (CannotOpen, PieceError) as error:
            self._offer(str(error))
            return
        self._opener.fit(
            message.key, wishing, lambda wish, plan: shelf.begin(message.key, wish, plan=plan)
        )

    def _follow(self) -> None:
        """Show what was done to the piece in another terminal."""
        benches = [screen for screen in self.screen_stack if isinstance(screen, WorkScreen)]
        if not benches or not benches[-1].work.refresh():
            return
        if isinstance(self.screen, LinesScreen) and benches[-1].work.stale:
            self.screen.dismiss(None)  # it was opened on a plan that is no more
        elif isinstance(self.screen, WorkScreen | LinesScreen):
            self.screen.show()

    def _offer(self, told: str = "") -> None:
        """Fill the list, if there is one, with the shelf as it is now, below a message."""
        if self._shelf is None:
            return
        for screen in self.screen_stack:
            if isinstance(screen, screens.ListScreen):
                try:
                    shelf = self._shelf
                    screen.offer(shelf.pieces(), shelf.projects(), told, shelf.orders())
                except PieceError as error:
                    screen.offer((), (), str(error))


def run_list(
    shelf: Shelf,
    *,
    keys: Keys | None = None,
    palette: Palette = DARK,
    glyphs: Glyphs | None = None,
    aids: Aids | None = None,
) -> int:
    """Open the list of pieces and projects, and return the exit status."""
    app = BenchApp(shelf=shelf, keys=keys, palette=palette, glyphs=glyphs, aids=aids)
    return app.outcome()


def run_bench(
    on_bench: OnBench,
    *,
    keys: Keys | None = None,
    palette: Palette = DARK,
    glyphs: Glyphs | None = None,
    aids: Aids | None = None,
) -> int:
    """Open a piece for work, and return the exit status."""
    app = BenchApp(on_bench=on_bench, keys=keys, palette=palette, glyphs=glyphs, aids=aids)
    return app.outcome()
