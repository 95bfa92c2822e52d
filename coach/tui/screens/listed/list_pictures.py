"""Pictures of the list's entries, drawn once each on a thread."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any, Final, TypeAlias

from rich.text import Text
from textual.app import App

from coach.piece import PieceError
from coach.plan.plan_model import Plan
from coach.session.ports import CannotOpen, Standing
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import BLANK, Cell, Glyphs, board_glyphs
from coach.tui.drawing.shrunk_picture import least_width, shrink_picture
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.styled_text import Inks

Drawn: TypeAlias = tuple[Plan, Sequence[Sequence[Cell]]]
Wanted: TypeAlias = tuple[object, int, int, bool]
Room: TypeAlias = tuple[int, int]
Standings: TypeAlias = Callable[[], Standing | None]

LEAST: Final = 6
"""Lines in which a picture can be known; where there are fewer it is left out."""
_MOST_COUNTS: Final = 30_000  # of a plan; more would keep the maker waiting who leaves meanwhile


class ListPictures:
    """Draws entries of the list in the background, and caches them."""

    def __init__(
        self, app: App[Any], inks: Inks, glyphs: Glyphs, then: Callable[[], None]
    ) -> None:  # fmt: skip
        """Set up the drawing.

        Args:
            app: Runs the thread.
            inks: The styles.
            glyphs: The characters.
            then: Called when a picture that was asked for is ready.
        """
        self._app = app
        self.inks = inks
        self._glyphs = glyphs
        self._then = then
        self._drawn: dict[Wanted, Drawn | None] = {}

    def forget(self) -> None:
        """Drop all pictures, because entries may have changed."""
        self._drawn = {}

    def below(
        self, lines: Sequence[Text], entry: object, standing: Standings, room: Room
    ) -> Sequence[Text]:  # fmt: skip
        """Return lines with the picture of an entry below them, once it is drawn.

        Args:
            lines: The description of the entry.
            entry: The key of the entry.
            standing: Read what there is to draw; called on the thread.
            room: The columns and lines that there are for both.
        """
        width, height = room[0], room[1] - len(lines) - 1
        if height < LEAST:
            return lines
        wanted = entry, width, height, self.inks.shaded
        if wanted not in self._drawn:
            self._drawn[wanted] = None
            work = partial(self._draw, self._drawn, wanted, standing)
            self._app.run_worker(work, thread=True, group="pictures", exit_on_error=False)
        drawn = self._drawn[wanted]
        return [*lines, Text(), *painted(drawn[1], self.inks.of(drawn[0]))] if drawn else lines

    def _draw(
        self, kept: dict[Wanted, Drawn | None], wanted: Wanted, standing: Standings
    ) -> None:  # fmt: skip
        _, width, height, shaded = wanted
        try:
            stands = standing()
        except (CannotOpen, PieceError):  # its words tell of it
            return
        if stands is None or stands.plan.total > _MOST_COUNTS:
            return
        plan = stands.plan
        drawing = BoardDrawing(plan, board_glyphs(self._glyphs, shaded=shaded))
        kept[wanted] = plan, _rows(drawing, stands, width, height)
        self._app.call_from_thread(self._then)


def _rows(
    drawing: BoardDrawing, stands: Standing, width: int, height: int
) -> Sequence[Sequence[Cell]]:
    """Return the board as it hangs; of a finished piece the whole, centred."""
    if stands.done < stands.plan.total:
        return drawing.picture(stands.done, width, height).rows[:height]
    small = shrink_picture(drawing.whole(max(width, least_width(stands.plan))), width, height)
    margin = max(0, width - len(small[0])) // 2 if small else 0
    return [[BLANK] * margin + row for row in small]
