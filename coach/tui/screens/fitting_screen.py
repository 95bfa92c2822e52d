"""The plan of a project before it is begun, where it can be fitted."""

from collections.abc import Sequence
from functools import partial
from typing import ClassVar, Final

from rich.text import Text
from textual.binding import BindingType

from coach.plan.plan_model import Plan
from coach.plan.wording.tension_text import known_lines
from coach.report.plan_report import report_of
from coach.session.adjusting.fitting import FittingController
from coach.settings.settings import Units
from coach.tui import screens
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import UNICODE, Glyphs, board_glyphs
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.styled_text import Inks, in_columns, paragraph
from coach.tui.pages.plan_pages import plan_lines
from coach.tui.screens.base_screen import keyed
from coach.tui.screens.form_screen import AskScreen, FormField
from coach.tui.screens.page_screen import PageScreen
from coach.tui.screens.piece_screen import KeepColours

_MOST_TOLD: Final = 4
_WIDE: Final = 100  # columns from which on the piece is shown beside its plan
_PICTURE: Final = 38
_GAP: Final = 3


class WishScreen(PageScreen):
    """Shows the plan as wished so far; the cut list follows every wish.

    Its result is whether to begin a piece; `wishing` has the wish.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("enter", "begin", "begin this piece", "Take a piece like this to the bench."),
        keyed("space", "begin"),
        keyed("plus,equals_sign", "more(1)", "repeats", "Make one more repeat.", sign="+ -"),
        keyed("minus", "more(-1)"),
        keyed("f", "fit", "fit", "Fit it to a length, a wrist, or your cord."),
        keyed("p", "picture", "picture", "See the whole piece, and try it in other colours."),
        keyed("u,i", "units", "cm, in", "Show lengths in centimetres or in inches."),
    ]

    def __init__(
        self, wishing: FittingController, inks: Inks, units: Units = "cm", glyphs: Glyphs = UNICODE,
        keep: KeepColours | None = None,
    ) -> None:  # fmt: skip
        """Set up for a plan.

        Args:
            wishing: What fits the plan.
            inks: The styles.
            units: The units of lengths.
            glyphs: The characters.
            keep: Save a colourway in the project's file.
        """
        super().__init__(inks, lambda _, width: self._page(width))
        self._glyphs = glyphs
        self._keep = keep
        self._drawn: tuple[Plan, list[Text]] | None = None
        self.wishing = wishing
        self._units: Units = units

    def wear(self, inks: Inks) -> None:
        """Show plan and piece in other colours."""
        self._drawn = None
        super().wear(inks.of(self.wishing.plan))

    def action_begin(self) -> None:
        """Close, and begin a piece as wished."""
        self.dismiss(result=True)

    def action_more(self, repeats: int) -> None:
        """Wish for more repeats, or fewer."""
        self.wishing.more(repeats)
        self.show()

    def action_fit(self) -> None:
        """Ask what the piece is to be fitted to."""
        self.app.push_screen(AskScreen(self.inks, "Fit", self._choices()), self._fitted)

    def action_picture(self) -> None:
        """Show the whole piece, in its colours or others."""
        plan = self.wishing.plan
        self.app.push_screen(screens.PieceScreen(plan, self.inks, self._glyphs, self._keep))

    def action_units(self) -> None:
        """Show lengths in the other units."""
        self._units = "in" if self._units == "cm" else "cm"
        self.show()

    def _picture(self) -> list[Text]:
        """Draw the piece as wished so far, cached until the plan changes."""
        plan = self.wishing.plan
        if self._drawn is None or self._drawn[0] is not plan:
            drawing = BoardDrawing(plan, board_glyphs(self._glyphs, shaded=self.inks.shaded))
            self._drawn = plan, painted(drawing.whole(_PICTURE), self.inks.of(plan))
        return self._drawn[1]

    def _fitted(self, said: str | None) -> None:
        del said  # it stands on the page
        self.show()

    def _choices(self) -> list[FormField]:
        wishing = self.wishing
        choices = [FormField("a finished length of", "18 cm", wishing.length)]
        choices += [
            FormField(f"to fit this {body.name}", "16 cm", partial(wishing.girth, body))
            for body in wishing.girths
        ]
        choices += [
            FormField(f"{cord} as thick as", "1.5 mm", partial(wishing.cord, cord))
            for cord in wishing.plan.project.cords
        ]
        return choices

    def _page(self, width: int) -> Sequence[Text]:
        wishing = self.wishing
        report = report_of(wishing.plan, unit=self._units, time=wishing.time, savings=True)
        room = width - _PICTURE - _GAP if width >= _WIDE else width
        lines = plan_lines(report, self.inks, room, known_lines(wishing.plan))
        if room < width:
            lines = in_columns(lines, self._picture()[: len(lines)], room + _GAP)
        if not wishing.told:
            return lines
        told = paragraph(wishing.told, width, _MOST_TOLD, self.inks.style("warning", bold=True))
        return [*told, Text(), *lines]
