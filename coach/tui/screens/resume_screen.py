"""The screen on coming back to a piece: its last state, to be compared with the work."""

from typing import ClassVar, Final

from rich.text import Text
from textual.binding import BindingType
from textual.timer import Timer

from coach.plan.wording.place_words import place_in_piece
from coach.session.controller import BenchController
from coach.session.resume_summary import latest_steps, strands_by_role
from coach.session.time_format import local_time, moment_words, short_moment
from coach.tui import screens
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import Glyphs, board_glyphs
from coach.tui.layout.painted_cells import bar, painted
from coach.tui.layout.styled_text import Inks, ellipsized, paragraph
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, keyed, set_key

_LABEL: Final = 8
_ROOMY: Final = 18  # rows from which on there is room for three steps
_LOW: Final = 9  # rows below which there is no room for a picture
_LOOKED_AT_S: Final = 0.1
_QUESTION: Final = "Does the work hang like this?"


class ResumeScreen(LinesScreen[bool]):
    """Asks whether the work hangs as shown. Its result is False if the maker leaves."""

    BINDINGS: ClassVar[list[BindingType]] = [
        set_key("count", "right", "yes", "The work hangs like this: go on."),
        set_key("take_back", "put('take_back')", "one fewer"),
        keyed("plus,equals_sign", "one_more", "one more", "One more was made than counted.",
              sign="+"),
        set_key("goto", "find", "go to"),
        set_key("leave", "leave"),
        set_key("rest", "put('rest')", "rest of step made"),
        set_key("restart", "put('restart')", "step not started"),
        keyed("escape", "right"),
    ]  # fmt: skip

    def __init__(self, work: BenchController, inks: Inks, glyphs: Glyphs, left_ms: int) -> None:
        """Set up for a piece that was left before.

        Args:
            work: The piece.
            inks: The styles.
            glyphs: The characters that the terminal can show.
            left_ms: When it was left, in UTC epoch milliseconds.
        """
        super().__init__(inks)
        self._work = work
        self._glyphs = glyphs
        self._drawing = BoardDrawing(work.plan, board_glyphs(glyphs, shaded=inks.shaded))
        self._left = f"Last worked on {moment_words(local_time(left_ms))}"
        self._left_short = f"last {short_moment(local_time(left_ms))}"
        self._looked_at: Timer | None = None

    def action_right(self) -> None:
        """Close: the work hangs as shown."""
        self._work.message = ""  # the key that says so is no count
        self.dismiss(result=True)

    def action_leave(self) -> None:
        """Close, and leave the piece."""
        self.dismiss(result=False)

    def action_put(self, name: str) -> None:
        """Correct the count by an action of the bench."""
        self._work.act(name)
        self.show()

    def action_one_more(self) -> None:
        """Count a tie that was made and not counted."""
        self._work.go_to(self._work.done + 1)
        self.show()

    def action_find(self) -> None:
        """Find the place of the work."""
        self.app.push_screen(screens.LookScreen(self._work, self.inks, self._glyphs))

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the state of the piece in words, the question, the picture and the keys."""
        work, inks = self._work, self.inks
        if not self._looked_at:  # what the bench is to show takes long to find out: do it meanwhile
            self._looked_at = self.set_timer(_LOOKED_AT_S, work.view)
        if height < _LOW:
            return self._short(width, height)
        head = self._head(width, roomy=height >= _ROOMY)
        told = [Text(ellipsized(work.message, width), inks.style("figure"))] if work.message else []
        question = Text(ellipsized(_QUESTION, width), inks.style("figure", bold=True))
        top = [*head, *(told or [question])]
        drawn = self._drawing.picture(work.done, width, height - len(top))
        return [*top, *painted(drawn.rows, inks)]

    def _head(self, width: int, *, roomy: bool) -> list[Text]:
        work, inks = self._work, self.inks
        title = Text(work.sitting.name, inks.style("text", bold=True))
        roomy_head = title.cell_len + len(self._left) + 2 <= width
        left = Text(self._left if roomy_head else self._left_short, inks.style("quiet"))
        lines = [at_both_ends(title, left, width)]
        if roomy:
            lines += [bar(inks, self._glyphs, work.done, work.plan.total, width), Text()]
            lines.append(
                Text(
                    ellipsized(" · ".join(place_in_piece(work.plan, work.done)), width),
                    inks.style("quiet"),
                )
            )
        made = latest_steps(work.plan, work.done, 3 if roomy else 1)
        lines += [self._labelled("made" if not i else "before", m, width)
                  for i, m in enumerate(made)]  # fmt: skip
        hands = " · ".join(f"{part} {who}" for part, who in strands_by_role(work.plan, work.done))
        if roomy:
            return [*lines, *([self._labelled("now", hands, width)] if hands else []), Text()]
        return [*lines, Text(ellipsized(hands, width), inks.style("text"))] if hands else lines

    def _labelled(self, label: str, text: str, width: int) -> Text:
        first = Text(f"{label:<{_LABEL}}", self.inks.style("quiet"))
        return first + Text(ellipsized(text, width - _LABEL), self.inks.style("text"))

    def _short(self, width: int, height: int) -> list[Text]:
        """Return the state of the piece in a few lines."""
        work = self._work
        last = next(iter(latest_steps(work.plan, work.done, 1)), "")
        said = f"{work.message or self._left}. {work.done} of {work.plan.total} made: {last}."
        return paragraph(said, width, height, self.inks.style("text", bold=True))
