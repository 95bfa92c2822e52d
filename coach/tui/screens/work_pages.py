"""The text pages over the work: keys, cord left, plan, legend, result of a measurement."""

from collections.abc import Sequence
from typing import ClassVar

from rich.text import Text
from textual.binding import BindingType

from coach.knots.explanation import Side, explain_knot
from coach.plan.plan_model import Count, Plan
from coach.plan.wording.tension_text import known_lines
from coach.report.plan_report import report_of
from coach.session.controller import BenchController
from coach.tui.drawing.cells import Glyphs, board_glyphs
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.knot_page import Pens, cord_colours, how_lines, how_near, tie_near
from coach.tui.pages.legend import legend_lines
from coach.tui.pages.measure_page import measure_lines
from coach.tui.pages.plan_pages import cord_lines, hint_lines, key_lines, plan_lines
from coach.tui.screens.base_screen import set_key
from coach.tui.screens.page_screen import Lines, PageScreen
from coach.tui.widgets.keys_line import Hint


def hints_page(inks: Inks, hints: Sequence[Hint]) -> PageScreen:
    """Return the page that explains the keys of a screen."""
    told = [(hint.key, hint.tip or hint.what) for hint in hints]
    return _page(inks, lambda ink, width: hint_lines(told, ink, width))


def keys_page(work: BenchController, inks: Inks) -> PageScreen:
    """Return the page of all keys as they are set."""
    return _page(inks, lambda ink, width: key_lines(work.keys, ink, width))


def cords_page(work: BenchController, inks: Inks) -> PageScreen:
    """Return the page of the cord left on every strand."""
    cords, order, units = work.cords(), work.order(), work.settings.units
    return _page(
        inks, lambda ink, width: cord_lines(work.plan, ink, cords, order, width, units=units)
    )


def plan_page(work: BenchController, inks: Inks) -> PageScreen:
    """Return the page of the plan that the piece follows."""
    report, known = report_of(work.plan, unit=work.settings.units), known_lines(work.plan)
    return _page(inks, lambda ink, width: plan_lines(report, ink, width, known))


def legend_page(work: BenchController, inks: Inks, glyphs: Glyphs) -> PageScreen:
    """Return the page that explains the drawing of the board."""
    return _page(inks, lambda ink, width: legend_lines(work.plan, ink, glyphs, width))


def measured_page(work: BenchController, inks: Inks, said: str) -> PageScreen:
    """Return the page after a measurement: its result, and what is expected now."""
    told, units = work.otherwise(), work.settings.units
    return _page(inks, lambda ink, width: measure_lines(told, ink, width, said, units))


def _page(inks: Inks, lines: Lines) -> PageScreen:
    return PageScreen(inks, lines)


class HowScreen(PageScreen):
    """Shows one knot in words and stages, begun first on the side that the work needs."""

    BINDINGS: ClassVar[list[BindingType]] = [
        set_key("how", "turn", "the other side", "See it begun on the other side.")
    ]

    def __init__(self, plan: Plan, done: int, inks: Inks, glyphs: Glyphs) -> None:
        """Set which knot is shown; the key that opened this changes sides.

        Args:
            plan: The plan.
            done: The count of the knot.
            inks: The styles.
            glyphs: The characters that the terminal can show.
        """
        self._at_hand = tie_near(plan, done)
        self._side: Side = self._at_hand[1] if self._at_hand else "left"
        super().__init__(inks, self._page(glyphs, plan, done))

    def _page(self, glyphs: Glyphs, plan: Plan, done: int) -> Lines:
        def lines(inks: Inks, width: int) -> Sequence[Text]:
            if self._at_hand is None:
                return [Text("This piece has no knots.", inks.style("text"))]
            told = how_near(plan, done, self._side) or explain_knot(
                self._at_hand[0].knot, self._side
            )
            drawn_with = board_glyphs(glyphs, shaded=inks.shaded)
            pens = Pens(inks, drawn_with, cord_colours(inks, told, self._at_hand[0]))
            return how_lines(told, pens, width)

        return lines

    @property
    def shown(self) -> tuple[Count, Side] | None:
        """The explained tie, and the side that it is shown begun on; None for no knot."""
        return (self._at_hand[0], self._side) if self._at_hand else None

    def action_turn(self) -> None:
        """Change sides."""
        self._side = "left" if self._side == "right" else "right"
        self.show()
