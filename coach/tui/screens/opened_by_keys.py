"""The screens and pages that keys open over the work."""

from functools import partial
from typing import Final

from coach.session.controller import Work
from coach.tui import screens
from coach.tui.drawing.cells import Glyphs
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.base_screen import LinesScreen
from coach.tui.screens.page_screen import PageScreen

PAGES: Final = ("help", "cords", "plan", "legend")
"""The actions that open a page of text."""

SCREENS: Final = ("before", "note", "how", "piece", "ahead", "unpick", "goto", "freehand")
"""The actions that open a screen with keys of its own."""


def page_for(action: str, work: Work, inks: Inks, glyphs: Glyphs) -> PageScreen:
    """Return the page of text that an action opens."""
    if action == "help":
        return screens.keys_page(work, inks)
    if action == "cords":
        return screens.cords_page(work, inks)
    if action == "plan":
        return screens.plan_page(work, inks)
    return screens.legend_page(work, inks, glyphs)


def screen_for(
    action: str, work: Work, inks: Inks, glyphs: Glyphs
) -> LinesScreen[None] | PageScreen:
    """Return the screen with keys of its own that an action opens."""
    if action == "before":
        return screens.BeforeScreen(work, inks)
    if action == "note":
        return screens.NotesScreen(work, inks)
    if action == "how":
        return screens.HowScreen(work.plan, work.done, inks, glyphs, work.keys)
    if action == "piece":
        save = work.aids.save_colours
        keep = partial(save, work.sitting.state.source) if save else None
        return screens.PieceScreen(work.plan, inks, glyphs, keep)
    if action == "freehand":
        return screens.LeavePatternScreen(inks)
    return screens.LookScreen(work, inks, glyphs, action)
