"""The app that holds the screens, and the two ways into it."""

import asyncio
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from typing import Final

from textual.app import App
from textual.driver import Driver
from textual.theme import Theme

from coach.bench.cells import ASCII, Glyphs, glyphs_for
from coach.bench.keys import Keys
from coach.bench.list_screen import ListScreen
from coach.bench.page_screen import PageScreen
from coach.bench.pages import foot, plan_lines
from coach.bench.paint import Inks
from coach.bench.shelf import CannotOpen, OnBench, Shelf
from coach.bench.theme import DARK, LIGHT, Palette
from coach.bench.work import Work
from coach.bench.work_screen import WorkScreen
from coach.piece import Clock, PieceError, SystemClock
from coach.piece.forecast import Forecast

_SIGNALS: Final = tuple(
    getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)
)


class BenchApp(App[int]):
    """Opens on a piece, or on the list of a shelf."""

    ENABLE_COMMAND_PALETTE = False
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
    ) -> None:
        """Take what to open: the list of a shelf, or a piece, or a piece before the list."""
        super().__init__()
        self._shelf = shelf
        self._on_bench = on_bench
        self._clock = clock or SystemClock()
        self._keys = keys or Keys()
        self._glyphs = glyphs or glyphs_for(getattr(sys.__stderr__, "encoding", None))
        self._inks = Inks(palette, plain=self._glyphs is ASCII)
        self._work: Work | None = None
        for known in (DARK, LIGHT):
            self.register_theme(_theme(known))
        self.theme = palette.name

    def get_driver_class(self) -> type[Driver]:
        """Give the driver for this system, made steady where it is the one for terminals."""
        driver = super().get_driver_class()
        if driver.__name__ != "LinuxDriver":
            return driver
        from coach.bench.driver import SteadyDriver  # noqa: PLC0415 - not on every system

        return SteadyDriver

    def _fatal_error(self) -> None:
        """Close the screen after a fault; whoever ran the app tells of it."""
        self._close_messages_no_wait()

    def outcome(self) -> int:
        """Run and give the exit status. Raises what went wrong in a screen, if something did."""
        status = self.run()
        if self._exception is not None:
            raise self._exception
        return status or 0

    def on_mount(self) -> None:
        """Open the first screen; a signal to end leaves as the key does."""
        with suppress(NotImplementedError):
            for number in _SIGNALS:
                asyncio.get_running_loop().add_signal_handler(number, self.action_leave)
        if self._shelf:
            self.push_screen(ListScreen(self._inks), lambda _: None)
            self.call_after_refresh(self._offer)
        if self._on_bench:
            self._open(lambda: self._on_bench)

    def on_unmount(self) -> None:
        """Give the signals back."""
        with suppress(NotImplementedError):
            for number in _SIGNALS:
                asyncio.get_running_loop().remove_signal_handler(number)

    def action_leave(self) -> None:
        """End the sitting and the app."""
        if self._work:
            self._work.leave()
        self.exit(0)

    async def action_quit(self) -> None:
        """Leave on the library's own key too."""
        self.action_leave()

    def action_help_quit(self) -> None:
        """Leave where another program would be interrupted."""
        self.action_leave()

    def on_list_screen_chosen_piece(self, message: ListScreen.ChosenPiece) -> None:
        """Take a piece to the bench."""
        shelf = self._shelf
        self._open(lambda: shelf.open(message.piece_id) if shelf else None)

    def on_list_screen_chosen_project(self, message: ListScreen.ChosenProject) -> None:
        """Show a project's plan; from there enter begins a piece."""
        shelf = self._shelf
        if shelf is None:
            return
        try:
            plan = shelf.plan(message.key)
        except (CannotOpen, PieceError) as error:
            self._offer(str(error))
            return
        inks = self._inks.of(plan)
        forecast = Forecast(plan)
        time = forecast.left(forecast.prior(), 0)

        def begin(wanted: bool | None) -> None:
            if wanted:
                self._open(lambda: shelf.begin(message.key))

        keys = foot(inks, ("enter", "begin this piece"), ("escape", "back"))
        page = PageScreen(inks, lambda width: plan_lines(plan, inks, width, time), keys, enter=True)
        self.push_screen(page, begin)

    def _open(self, opening: Callable[[], OnBench | None]) -> None:
        try:
            opened = opening()
        except (CannotOpen, PieceError) as error:
            self._offer(str(error))
            return
        if opened:
            self._work = Work(opened.plan, opened.sitting, self._clock, self._keys, opened.left_ms)
            self.push_screen(
                WorkScreen(self._work, self._inks, self._glyphs), lambda _: self._offer()
            )

    def _offer(self, told: str = "") -> None:
        """Show the shelf as it is now on the list, if there is one."""
        if self._shelf is None:
            return
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
    )  # fmt: skip


def run_list(
    shelf: Shelf, *, keys: Keys | None = None, palette: Palette = DARK, glyphs: Glyphs | None = None
) -> int:
    """Open the list of pieces and projects and give the exit status."""
    return BenchApp(shelf=shelf, keys=keys, palette=palette, glyphs=glyphs).outcome()


def run_bench(
    on_bench: OnBench,
    *,
    keys: Keys | None = None,
    palette: Palette = DARK,
    glyphs: Glyphs | None = None,
) -> int:
    """Open a piece for work and give the exit status."""
    return BenchApp(on_bench=on_bench, keys=keys, palette=palette, glyphs=glyphs).outcome()
