"""Opening a piece on the bench, with the questions and screens before it."""

import gc
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from typing import Any, Final

from textual.app import App

from coach.piece import Clock, PieceError
from coach.plan.plan_model import Plan
from coach.plan.resize.size_request import Wish
from coach.session.adjusting.fitting import FittingController
from coach.session.by_sentence.freehand import Freehand, return_message
from coach.session.controller import BenchController
from coach.session.current_order.piece_switching import CameOver
from coach.session.keymap import Keys
from coach.session.ports import (
    Aids,
    Batch,
    CannotOpen,
    Edited,
    FinishedPieceActions,
    OnBench,
    Standing,
)
from coach.tui import screens
from coach.tui.drawing.cells import Glyphs
from coach.tui.layout.styled_text import Inks
from coach.tui.order_actions import OrderActions
from coach.tui.screens.base_screen import BenchScreen
from coach.tui.screens.resume_screen import ResumeScreen
from coach.tui.screens.work_screen import WorkScreen

RUBBISH: Final = 100_000
"""Objects that are made until rubbish is looked for, once all is loaded and a piece is open."""


class PieceOpener(OrderActions):
    """Opens pieces on the screens of an app, one at a time; `work` is the current one."""

    def __init__(
        self,
        app: App[Any],
        tell: Callable[[str], None],
        *,
        clock: Clock,
        keys: Keys,
        aids: Aids,
        inks: Inks,
        glyphs: Glyphs,
    ) -> None:
        """Set what all pieces share.

        Args:
            app: Holds the screens.
            tell: Show why a piece cannot be opened, or "" when one was left.
            clock: Tells the time.
            keys: The keys as they are set.
            aids: Settings, speech and the like.
            inks: The styles.
            glyphs: The characters.
        """
        self._app = app
        self._tell = tell
        self._clock = clock
        self._keys = keys
        self._aids = aids
        self.inks = inks
        self._glyphs = glyphs
        self.work: BenchController | None = None
        self.freehand: Freehand | None = None  # the piece without a pattern, in its place
        self._ending: FinishedPieceActions | None = None
        self._batch: Batch | None = None
        self._without: Callable[[], OnBench] | None = None

    def wear(self, inks: Inks) -> None:
        """Use other colours on all screens from here on, and on that of the piece."""
        self.inks = inks
        for screen in self._app.screen_stack:
            if isinstance(screen, BenchScreen):
                screen.wear(inks.of(self.work.plan) if self.work else inks)

    def open(self, opening: Callable[[], OnBench | None]) -> None:
        """Open what `opening` returns; it may raise CannotOpen or PieceError."""
        try:
            opened = opening()
        except (CannotOpen, PieceError) as error:
            self._tell(str(error))
            return
        if opened and opened.edited:
            self._ask_edited(opened, opened.edited)
        elif opened:
            self._begin(opened)

    def fit(
        self, key: str, wishing: FittingController, begin: Callable[[Wish, Plan], OnBench]
    ) -> None:
        """Show a plan that can be fitted to wishes, and open what `begin` returns.

        Args:
            key: The key of the project on the shelf.
            wishing: What fits the plan.
            begin: Begin a piece of it.
        """
        settings, keep = self._aids.kept.now, self._keep(key)

        def answered(wanted: bool | None) -> None:
            if wanted:
                self.open(lambda: begin(wishing.wish, wishing.plan))

        self._app.push_screen(
            screens.WishScreen(
                wishing, self.inks.of(wishing.plan), settings.units, self._glyphs, keep
            ),
            answered,
        )

    def show_piece(self, found: Standing) -> None:
        """Show the picture of a project or piece, where other colours can be tried."""
        keep = self._keep(found.source)
        screen = screens.PieceScreen(found.plan, self.inks.of(found.plan), self._glyphs, keep)
        self._app.push_screen(screen)

    def _keep(self, source: str) -> Callable[[str, Mapping[str, str]], str] | None:
        """Return the function that saves colours in the file of a project, if there is one."""
        save = self._aids.save_colours
        return partial(save, source) if save else None

    def _begin(self, opened: OnBench, came: CameOver | None = None) -> None:
        """Show the work, and over it where it was left, if it was worked on before.

        `came` describes an automatic change to it.
        """
        self._let_go()
        self._ending, self._batch = opened.ending, opened.batch
        self._without = opened.without_pattern
        if opened.freehand:
            self._begin_freehand(opened)
            return
        work = self.work = BenchController.on(opened, self._clock, self._keys, self._aids)
        gc.freeze()  # a plan has a million parts that stay: no key waits for a look at them
        gc.set_threshold(RUBBISH)
        if came:
            work.message = came.told(opened.sitting.name, self._keys.shown("take_back"))
        screen = WorkScreen(work, self.inks, self._glyphs, came)
        self._app.push_screen(screen, lambda _: self._tell(""))
        if opened.left_ms is not None and not opened.sitting.state.finished:
            self._come_back(screen, work, opened.left_ms)

    def _begin_freehand(self, opened: OnBench) -> None:
        """Show a piece that goes on by sentences."""
        try:
            freehand = self.freehand = Freehand(opened)
        except PieceError as error:
            self._tell(str(error))
            return
        screen = screens.FreehandScreen(
            freehand, self.inks, self._glyphs, aids=self._aids, target=opened.target,
            told=return_message(opened.left_ms, freehand),
        )  # fmt: skip
        self._app.push_screen(screen, lambda _: self._tell(""))

    def without_pattern(self) -> None:
        """Replace the current piece by itself without its pattern."""
        screen, without = self._app.screen, self._without
        if not isinstance(screen, WorkScreen):
            return
        if without is None:
            screen.tell("A piece of an order keeps its pattern.")
            return
        screen.work.leave()
        try:
            opened = without()
        except (CannotOpen, PieceError) as error:
            screen.tell(str(error))
            return
        screen.dismiss(None)
        # Once the screen is gone, which `dismiss` only asks for.
        self._app.call_later(self._begin, opened)

    def another(self) -> None:
        """Replace the current piece by another one of its project."""
        screen, ending = self._app.screen, self._ending
        if not (isinstance(screen, WorkScreen) and ending):
            return
        try:
            opened = ending.again()
        except (CannotOpen, PieceError) as error:
            screen.tell(str(error))
            return
        screen.work.leave()
        screen.dismiss(None)
        self._app.call_later(self._begin, opened)

    def put_away(self) -> None:
        """Put the current piece away, and leave it."""
        screen, ending = self._app.screen, self._ending
        if not (isinstance(screen, WorkScreen) and ending):
            return
        try:
            ending.put_away()
        except PieceError as error:
            screen.tell(str(error))
            return
        screen.leave()

    def _let_go(self) -> None:
        """Free the memory of the piece before, which `_begin` hid from the collector."""
        if self.work:
            self.work = None
            gc.unfreeze()
            gc.collect()

    def _ask_edited(self, opened: OnBench, edited: Edited) -> None:
        """Ask which project the piece is to follow after its file was edited."""

        def answered(answer: str | None) -> None:
            if answer == "take":
                self.open(edited.take)
                return
            if answer == "stay":
                edited.stay()
            self.open(lambda: replace(opened, edited=None))

        inks, done = self.inks.of(opened.plan), opened.sitting.state.done
        self._app.push_screen(screens.ChangedScreen(edited.change, done, inks), answered)

    def _come_back(self, screen: WorkScreen, work: BenchController, left_ms: int) -> None:
        """Ask whether the work hangs as it was left; leaving there leaves the piece."""

        def answered(sound: bool | None) -> None:
            if sound is False:
                screen.leave()

        inks = self.inks.of(work.plan)
        self._app.push_screen(ResumeScreen(work, inks, self._glyphs, left_ms), answered)
