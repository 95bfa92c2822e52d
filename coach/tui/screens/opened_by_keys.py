"""The screens and pages that keys open over the work screen."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any, Final, Protocol

from textual.app import App

from coach.session.adjusting.choosing import NOTHING_OPEN, Choosing
from coach.session.controller import BenchController
from coach.tui import screens
from coach.tui.drawing.cells import Glyphs
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.base_screen import BenchScreen

_QUIET: Final = ("before", "note", "how", "piece", "ahead", "unpick", "goto", "freehand")
"""The actions with whose screens what came of the last key is done with."""


class Below(Protocol):
    """The work screen below them."""

    @property
    def app(self) -> App[Any]:
        """The app that holds all screens."""

    @property
    def work(self) -> BenchController:
        """The controller of the piece."""

    @property
    def inks(self) -> Inks:
        """What is written with."""

    @property
    def glyphs(self) -> Glyphs:
        """What is drawn with."""

    def tell(self, said: str) -> None:
        """Show a message."""

    def ask_for(self, action: str) -> None:
        """Carry out an action by its id."""


class OverWork:
    """Opens the screen of an action, and reports its result to the work screen."""

    def __init__(self, below: Below) -> None:
        """Set the work screen."""
        self._below = below
        self._own: dict[str, Callable[[], None]] = {
            "actions": self._find, "measure": self._measure, "otherwise": self._differ,
            "choose": self._choose,
        }  # fmt: skip

    def open(self, action: str) -> bool:
        """Open the screen of an action; return False for one that has none."""
        own = self._own.get(action)
        if own:
            own()
            return True
        shown = self._screens().get(action)
        if shown is None:
            return False
        if action in _QUIET:
            self._below.work.message = self._below.work.unspoken = ""
        self._below.app.push_screen(shown())
        return True

    def _screens(self) -> dict[str, Callable[[], BenchScreen[Any]]]:
        """Return what makes the screen of each action, for the current piece."""
        work, inks, glyphs = self._below.work, self._below.inks, self._below.glyphs

        def look(way: str) -> BenchScreen[Any]:
            return screens.LookScreen(work, inks, glyphs, way)

        return {
            "help": lambda: screens.keys_page(work, inks),
            "cords": lambda: screens.cords_page(work, inks),
            "plan": lambda: screens.plan_page(work, inks),
            "legend": lambda: screens.legend_page(work, inks, glyphs),
            "before": self._to_ready,
            "note": lambda: screens.NotesScreen(work, inks),
            "how": lambda: screens.HowScreen(work.plan, work.done, inks, glyphs),
            "piece": lambda: screens.PieceScreen(work.plan, inks, glyphs, self._keep()),
            "freehand": lambda: screens.LeavePatternScreen(inks),
            "ahead": lambda: look("ahead"),
            "unpick": lambda: look("unpick"),
            "goto": lambda: look("goto"),
        }

    def _to_ready(self) -> BenchScreen[Any]:
        """Return the cutting list: for a piece of an order, that of all its pieces."""
        work, inks = self._below.work, self._below.inks
        if work.batch:
            return screens.OrderBeforeScreen(work, work.batch, inks)
        return screens.BeforeScreen(work, inks)

    def _keep(self) -> Callable[[str, Mapping[str, str]], str] | None:
        """Return the function that saves colours in the piece's file, if there is one."""
        save = self._below.work.aids.save_colours
        return partial(save, self._below.work.sitting.state.source) if save else None

    def _find(self) -> None:
        """Let the maker search an action, and carry it out."""

        def chosen(action: str | None) -> None:
            if action:
                self._below.ask_for(action)

        asked = screens.ActionsScreen(self._below.inks, self._below.work.keys)
        self._below.app.push_screen(asked, chosen)

    def _differ(self) -> None:
        """Ask for deviations from the plan."""
        asked = screens.otherwise_screen(self._below.work.otherwise(), self._below.inks)
        self._below.app.push_screen(asked, self._answered)

    def _choose(self) -> None:
        """Ask for open choices."""
        below = self._below
        asked = screens.choose_screen(Choosing(below.work.otherwise()), below.inks)
        if asked is None:
            below.tell(NOTHING_OPEN)
        else:
            below.app.push_screen(asked, self._answered)

    def _measure(self) -> None:
        """Ask for a measurement, and show what follows from it."""

        def answered(said: str | None) -> None:
            self._answered(said)
            if said:
                page = screens.measured_page(self._below.work, self._below.inks, said)
                self._below.app.push_screen(page)

        work = self._below.work
        asked = screens.measure_screen(work.otherwise(), self._below.inks, work.settings.units)
        self._below.app.push_screen(asked, answered)

    def _answered(self, said: str | None) -> None:
        if said:
            self._below.tell(said)
