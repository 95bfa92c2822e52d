"""The picture of the board as finished lines: the one cache of the work screen."""

from textual.strip import Strip

from coach.plan.plan_model import Plan
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import Cell, Glyphs
from coach.tui.layout.styled_text import Inks


class BoardLines:
    """Draws the board of one plan, and keeps its lines from key to key.

    A key changes few of some thirty rows, and turning all of them into lines takes longer than
    drawing them.
    """

    def __init__(self, plan: Plan, inks: Inks, glyphs: Glyphs) -> None:
        self._drawing = BoardDrawing(plan, glyphs)
        self._inks = inks
        self._rows: tuple[tuple[Cell, ...], ...] = ()
        self._lines: list[Strip] = []

    def lines(self, done: int, width: int, height: int) -> list[Strip]:
        """Return the board after `done` counts on `height` lines of `width` columns."""
        before, kept = self._rows, self._lines
        self._rows = self._drawing.picture(done, width, height).rows
        self._lines = [
            kept[y] if before[y : y + 1] == (row,) else self._inks.row(row)
            for y, row in enumerate(self._rows)
        ]
        return self._lines
