"""The whole piece from top to bottom, where other colours can be tried."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import ClassVar, Final, TypeAlias

from rich.text import Text
from textual.binding import BindingType

from coach.plan.plan_model import Plan
from coach.project.tried_colours import TriedColours, WrongColour
from coach.session.adjusting.fitting import NOTHING
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import Cell, Glyphs, board_glyphs
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.styled_text import Inks, ellipsized
from coach.tui.screens.base_screen import keyed
from coach.tui.screens.form_screen import AskScreen, FormField
from coach.tui.screens.page_screen import PageScreen

KeepColours: TypeAlias = Callable[[str, Mapping[str, str]], str]
"""Writes colours into the project's file by a name; says so. Raises WrongColour."""
_EXAMPLE: Final = "plum"


class PieceScreen(PageScreen):
    """Shows the finished piece, scrolling. Colours can be tried: the picture follows at once."""

    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("tab", "turn", "colourways", "See it in the next colourway of its file."),
        keyed("t", "try_colour", "try a colour", "See a cord in another colour."),
        keyed("w", "write", "write to the file", "Write these colours into the project's file."),
    ]

    def __init__(
        self, plan: Plan, inks: Inks, glyphs: Glyphs, keep: KeepColours | None = None
    ) -> None:
        """Set up for a plan.

        Args:
            plan: The plan.
            inks: The styles.
            glyphs: The characters that the terminal can show.
            keep: Save colours in the project's file; None where there is no such file.
        """
        super().__init__(inks, lambda _, width: self._page(width))
        self._plan = plan
        self._keep = keep
        self._drawing = BoardDrawing(plan, board_glyphs(glyphs, shaded=inks.shaded))
        self._rows: tuple[int, Sequence[Sequence[Cell]]] | None = None
        self.tried = TriedColours(plan.project)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Return whether an action does something: saving colours needs a file."""
        del parameters
        return action != "write" or self._keep is not None

    def action_turn(self) -> None:
        """Show the next colourway."""
        self.tried.turn()
        self.show()

    def action_try_colour(self) -> None:
        """Ask for a cord's colour."""
        self._ask("Try a colour", [self._choice(cord) for cord in self._plan.project.cords])

    def action_write(self) -> None:
        """Ask for the name under which to save these colours."""
        self._ask("Write these colours", [FormField("as the colourway", "dusk", self._written)])

    def _ask(self, title: str, choices: Sequence[FormField]) -> None:
        def answered(said: str | None) -> None:
            del said  # it stands on the page
            self.show()

        self.app.push_screen(AskScreen(self.inks, title, choices), answered)

    def _choice(self, cord: str) -> FormField:
        def tried(colour: str) -> str:
            try:
                return self.tried.give(cord, colour)
            except WrongColour as error:
                return f"{NOTHING}{error}"

        return FormField(f"{cord} in", _EXAMPLE, tried)

    def _written(self, name: str) -> str:
        assert self._keep  # noqa: S101 - the key is only there with it
        try:
            self.tried.told = self._keep(name, self.tried.changed)
        except WrongColour as error:
            return f"{NOTHING}{error}"
        return self.tried.told

    def _page(self, width: int) -> Sequence[Text]:
        plan = replace(self._plan, project=self.tried.project())
        if self._rows is None or self._rows[0] != width:  # colours change nothing of the drawing
            self._rows = width, self._drawing.whole(width)
        rows = painted(self._rows[1], self.inks.of(plan))
        told = self.tried.told or plan.project.title
        return [Text(ellipsized(told, width), self.inks.style("text", bold=True)), Text(), *rows]
