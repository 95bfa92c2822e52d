"""The pages of text that open over the work: keys, cord left, plan, signs, what a measure tells."""

from collections.abc import Sequence

from coach.plan.wording.tension_text import known_lines
from coach.report.plan_report import report_of
from coach.session.controller import Work
from coach.tui.drawing.cells import Glyphs
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.legend import legend_lines
from coach.tui.pages.measure_page import measure_lines
from coach.tui.pages.plan_pages import cord_lines, hint_lines, key_lines, plan_lines
from coach.tui.screens.page_screen import Lines, PageScreen
from coach.tui.widgets.keys_line import Hint


def hints_page(inks: Inks, hints: Sequence[Hint]) -> PageScreen:
    """Return the page that tells in sentences what the keys of a screen do."""
    told = [(hint.key, hint.tip or hint.what) for hint in hints]
    return _page(inks, lambda ink, width: hint_lines(told, ink, width))


def keys_page(work: Work, inks: Inks) -> PageScreen:
    """Return the page of all keys as they are set."""
    return _page(inks, lambda ink, width: key_lines(work.keys, ink, width))


def cords_page(work: Work, inks: Inks) -> PageScreen:
    """Return the page of the cord that is left on every strand now."""
    cords, order, units = work.cords(), work.order(), work.settings.units
    return _page(
        inks, lambda ink, width: cord_lines(work.plan, ink, cords, order, width, units=units)
    )


def plan_page(work: Work, inks: Inks) -> PageScreen:
    """Return the page of the plan that the piece follows."""
    report, known = report_of(work.plan, unit=work.settings.units), known_lines(work.plan)
    return _page(inks, lambda ink, width: plan_lines(report, ink, width, known))


def legend_page(work: Work, inks: Inks, glyphs: Glyphs) -> PageScreen:
    """Return the page that says what the drawing of the board is made of."""
    return _page(inks, lambda ink, width: legend_lines(work.plan, ink, glyphs, width))


def measured_page(work: Work, inks: Inks, said: str) -> PageScreen:
    """Return the page that follows a measure: what was `said` of it, and what is expected now."""
    told, units = work.otherwise(), work.settings.units
    return _page(inks, lambda ink, width: measure_lines(told, ink, width, said, units))


def _page(inks: Inks, lines: Lines) -> PageScreen:
    return PageScreen(inks, lines)
