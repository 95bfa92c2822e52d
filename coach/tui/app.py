"""The app that holds the screens, and the two ways into it."""

import asyncio
import gc
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from textual import events
from textual.app import App
from textual.driver import Driver
from textual.filter import Monochrome, NoColor
from textual.theme import Theme

from coach.piece import Clock, PieceError, SystemClock
from coach.session import unsaved
from coach.session.keymap import Keys
from coach.session.ports import CannotOpen, Edited, OnBench, Opening, Shelf
from coach.session.services import Aids
from coach.text import one_line
from coach.tui.drawing.cells import ASCII, Glyphs, glyphs_for
from coach.tui.input.typed import Typed
from coach.tui.layout.styled_text import Inks
from coach.tui.theme.palette import DARK, Palette

if TYPE_CHECKING:
    from coach.session.controller import Work
    from coach.tui.screens.home_screen import ListScreen
    from coach.tui.screens.project_changed_screen import Answer
    from coach.tui.screens.work_screen import WorkScreen

_SIGNALS: Final = tuple(
    getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)
)
_FOLLOW_S: Final = 0.5  # so that two screens on one piece are together within a second


class BenchApp(App[int]):
    """Opens on a piece, or on the list of a shelf."""

    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = "*"
    TITLE = "coach"

    def __init__(
        self,
        *,
        shelf: Shelf | None = None,
        on_bench: OnBench | Opening | None = None,
        clock: Clock | None = None,
        keys: Keys | None = None,
        palette: Palette = DARK,
        glyphs: Glyphs | None = None,
        aids: Aids | None = None,
    ) -> None:
        """Take what to open: the list of a shelf, or a piece, opened already or about to be."""
        super().__init__()
        self._shelf = shelf
        self._on_bench = on_bench
        self._clock = clock or SystemClock()
        self._keys = keys or Keys()
        self._aids = aids or Aids()
        self._glyphs = glyphs or glyphs_for(getattr(sys.__stderr__, "encoding", None))
        self._inks = Inks(palette, plain=self._glyphs is ASCII)
        self._work: Work | None = None
        self._typed = Typed(self)
        self._before: tuple[str, int] | None = None  # the last key, and when it was read, in ms
        self._typist: asyncio.Task[None] | None = None
        self._refused: Exception | None = None  # why a piece could not be opened
        self._parting = ""  # what is said when the screen is gone
        self._filters = [one for one in self._filters if not isinstance(one, Monochrome)]
        if palette.depth == "none":  # the library would give shades of grey
            self._filters.append(NoColor())
        self.register_theme(_theme(palette))
        self.theme = palette.name

    def get_driver_class(self) -> type[Driver]:
        """Return the driver for this system, made steady where it is the one for terminals."""
        driver = super().get_driver_class()
        if driver.__name__ != "LinuxDriver":
            return driver
        from coach.tui.input.terminal_driver import SteadyDriver

        return SteadyDriver

    def _fatal_error(self) -> None:
        """Close the screen after a fault; whoever ran the app tells of it."""
        self._close_messages_no_wait()

    def outcome(self) -> int:
        """Run and give the exit status. Raises what went wrong in a screen, if something did."""
        status = self.run()
        if self._refused:
            raise self._refused
        if self._exception is not None:
            self._put_aside()
        if self._parting:
            with suppress(OSError):  # the terminal may be gone
                sys.stderr.write(f"coach: {one_line(self._parting)}\n")
        if self._exception is not None:
            raise self._exception
        return status or 0

    async def on_event(self, event: events.Event) -> None:
        """Let what is typed wait for its turn; when the screens are gone, it is for nobody."""
        closed = isinstance(event, events.InputEvent | events.Paste) and not self.screen_stack
        if closed or self._typed.waits(event):
            return
        if isinstance(event, events.Key) and not event.is_forwarded:
            before, self._before = self._before, (event.key, self._clock.tick_at(event.time))
            if before and self._work:
                self._work.came_before(*before, event.key)
        await super().on_event(event)

    def on_mount(self) -> None:
        """Open the first screen; a signal to end leaves as the key does."""
        self._typist = asyncio.create_task(self._typed.hand_on())
        self.set_interval(_FOLLOW_S, self._follow)
        with suppress(NotImplementedError):
            for number in _SIGNALS:
                asyncio.get_running_loop().add_signal_handler(number, self.action_end)
        if self._shelf:
            from coach.tui.screens.home_screen import ListScreen

            self.push_screen(ListScreen(self._inks), lambda _: None)
            self.call_after_refresh(self._offer, self._aids.told)
        if isinstance(self._on_bench, Opening):
            from coach.tui.screens.opening_screen import OpeningScreen

            self.push_screen(
                OpeningScreen(
                    self._on_bench.piece, self._inks, self._glyphs,
                    # not in the name of a screen that is gone when its callbacks are called
                    lambda: self.call_later(self._go_on),
                )
            )  # fmt: skip
        elif self._on_bench:
            on_bench = self._on_bench
            self._open(lambda: on_bench)

    def _go_on(self) -> None:
        """Open the piece whose name is seen already; one that cannot be opened ends the app."""
        if not isinstance(self._on_bench, Opening):
            return
        try:
            on_bench = self._on_bench.open()
        except (CannotOpen, PieceError) as error:
            self._refused = error
            self._end()
            return
        self.screen.dismiss()
        self._open(lambda: on_bench)

    def on_unmount(self) -> None:
        """Take no more keys, and give the signals back."""
        if self._typist:
            self._typist.cancel()
        with suppress(NotImplementedError):
            for number in _SIGNALS:
                asyncio.get_running_loop().remove_signal_handler(number)

    def action_leave(self) -> None:
        """End the sitting and the app; what could not be stored is asked about first."""
        if self._work:
            self._work.leave()
            if unsaved.must_ask(self._work.sitting):
                self._ask(self._work)
                return
        self._end()

    def action_end(self) -> None:
        """End without asking, when nobody is there to answer; what is not stored is put aside."""
        self._put_aside()
        self._end()

    def _put_aside(self) -> None:
        """End the sitting; what could not be stored is written to a place that takes it."""
        if self._work:
            self._work.leave()
            if unsaved.must_ask(self._work.sitting):
                path = unsaved.rescue(self._work.sitting)
                self._parting = unsaved.written(path) if path else ""

    def _ask(self, work: "Work") -> None:
        from coach.tui.screens.unsaved_screen import TroubleScreen

        def answered(leaving: bool | None) -> None:
            if leaving:
                self._end()

        if not isinstance(self.screen, TroubleScreen):
            self.push_screen(TroubleScreen(work.sitting, self._inks.of(work.plan)), answered)

    def _end(self) -> None:
        if self._aids.voice:
            self._aids.voice.close()
        self.exit(0)

    async def action_quit(self) -> None:
        """Leave on the library's own key too."""
        self.action_leave()

    def action_help_quit(self) -> None:
        """Leave where another program would be interrupted."""
        self.action_leave()

    def on_list_screen_chosen_piece(self, message: "ListScreen.ChosenPiece") -> None:
        """Take a piece to the bench."""
        shelf = self._shelf
        self._open(lambda: shelf.open(message.piece_id) if shelf else None)

    def on_list_screen_chosen_project(self, message: "ListScreen.ChosenProject") -> None:
        """Show a project's plan; from there enter begins a piece."""
        from coach.pace.estimate import beginning
        from coach.session.fitting import Wishing
        from coach.tui.screens.fitting_screen import WishScreen

        shelf = self._shelf
        if shelf is None:
            return
        try:
            plan = shelf.plan(message.key)
        except (CannotOpen, PieceError) as error:
            self._offer(str(error))
            return
        wishing = Wishing(plan, beginning(self._aids.kept.now.skill))

        def begin(wanted: bool | None) -> None:
            if wanted:
                self._open(lambda: shelf.begin(message.key, wishing.wish, plan=wishing.plan))

        units = self._aids.kept.now.units
        self.push_screen(WishScreen(wishing, self._inks.of(plan), units), begin)

    def _open(self, opening: Callable[[], OnBench | None]) -> None:
        try:
            opened = opening()
        except (CannotOpen, PieceError) as error:
            self._offer(str(error))
            return
        if opened and opened.edited:
            self._ask_edited(opened, opened.edited)
        elif opened:
            from coach.session.controller import Work
            from coach.tui.screens.work_screen import WorkScreen

            self._let_go()
            self._work = Work.on(opened, self._clock, self._keys, self._aids)
            gc.freeze()  # a plan has a million parts that stay: no key waits for a look at them
            screen = WorkScreen(self._work, self._inks, self._glyphs)
            self.push_screen(screen, lambda _: self._offer())
            if opened.left_ms is not None and not opened.sitting.state.finished:
                self._come_back(screen, self._work, opened.left_ms)

    def _let_go(self) -> None:
        """Give back what the piece before took, which is kept from being looked at; see `_open`."""
        if self._work:
            self._work = None
            gc.unfreeze()
            gc.collect()

    def _ask_edited(self, opened: OnBench, edited: Edited) -> None:
        """Tell what was edited in the project's file since, and do what is wanted."""
        from coach.tui.screens.project_changed_screen import ChangedScreen

        def answered(answer: "Answer | None") -> None:
            if answer == "take":
                self._open(edited.take)
                return
            if answer == "stay":
                edited.stay()
            self._open(lambda: replace(opened, edited=None))

        inks = self._inks.of(opened.plan)
        self.push_screen(ChangedScreen(edited.change, opened.sitting.state.done, inks), answered)

    def _come_back(self, screen: "WorkScreen", work: "Work", left_ms: int) -> None:
        """Show first where the piece was left; whoever leaves there leaves the piece."""
        from coach.tui.screens.resume_screen import ResumeScreen

        def answered(sound: bool | None) -> None:
            if sound is False:
                screen.leave()

        inks = self._inks.of(work.plan)
        self.push_screen(ResumeScreen(work, inks, self._glyphs, left_ms), answered)

    def _follow(self) -> None:
        """Show what was done to the piece on another screen."""
        if not self._work:
            return
        from coach.tui.screens.base_screen import LinesScreen
        from coach.tui.screens.work_screen import WorkScreen

        benches = [screen for screen in self.screen_stack if isinstance(screen, WorkScreen)]
        if not benches or not benches[-1].work.refresh():
            return
        if isinstance(self.screen, LinesScreen) and benches[-1].work.stale:
            self.screen.dismiss(None)  # it was opened on a plan that is no more
        elif isinstance(self.screen, WorkScreen | LinesScreen):
            self.screen.show()

    def _offer(self, told: str = "") -> None:
        """Show the shelf as it is now on the list, if there is one."""
        if self._shelf is None:
            return
        from coach.tui.screens.home_screen import ListScreen

        for screen in self.screen_stack:
            if isinstance(screen, ListScreen):
                try:
                    screen.offer(self._shelf.pieces(), self._shelf.projects(), told)
                except PieceError as error:
                    screen.offer((), (), str(error))


def _theme(palette: Palette) -> Theme:
    return Theme(
        name=palette.name, dark=palette.dark, primary=palette.figure, secondary=palette.bar,
        warning=palette.warning, error=palette.warning, accent=palette.figure,
        foreground=palette.text, background=palette.background, surface=palette.background,
        panel=palette.background,
        variables={
            **dict.fromkeys(("scrollbar", "scrollbar-hover", "scrollbar-active"), palette.bar),
            **dict.fromkeys(
                ("scrollbar-background", "scrollbar-background-hover",
                 "scrollbar-background-active", "scrollbar-corner-color"),
                palette.background,
            ),
        },
    )  # fmt: skip


def run_list(
    shelf: Shelf,
    *,
    keys: Keys | None = None,
    palette: Palette = DARK,
    glyphs: Glyphs | None = None,
    aids: Aids | None = None,
) -> int:
    """Open the list of pieces and projects and give the exit status."""
    app = BenchApp(shelf=shelf, keys=keys, palette=palette, glyphs=glyphs, aids=aids)
    return app.outcome()


def run_bench(
    on_bench: OnBench | Opening,
    *,
    keys: Keys | None = None,
    palette: Palette = DARK,
    glyphs: Glyphs | None = None,
    aids: Aids | None = None,
) -> int:
    """Open a piece for work and give the exit status."""
    app = BenchApp(on_bench=on_bench, keys=keys, palette=palette, glyphs=glyphs, aids=aids)
    return app.outcome()
