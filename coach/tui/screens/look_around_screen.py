"""Looking through the work without moving the count, and going to a place found there."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import ClassVar, Final

from rich.text import Text
from textual.binding import BindingType

from coach.plan.plan_model import PlannedStep
from coach.project.tried_colours import TriedColours
from coach.session.controller import BenchController
from coach.session.navigation import append_digit, place_figures, ties_between, with_figure
from coach.text import counted
from coach.tui import screens
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import Glyphs, board_glyphs
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.styled_text import Inks, ellipsized, paragraph
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, keyed, set_key

_LOW: Final = 9  # rows below which there is no room for a picture
_USUAL: Final = 18


class LookScreen(LinesScreen[None]):
    """Shows any place in the work, found by steps, ties or figures.

    The count stays where it is; pressed twice, the go-to key sets it to that place.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        set_key("count", "on", "on", "Look at the next step."),
        set_key("goto", "here", "I am here", "Set the count to this place."),
        set_key("leave", "close", "close", "Close; the count stays where it is."),
        set_key("take_back", "back", "back", "Look at the step before."),
        *(keyed(str(digit), f"digit({digit})") for digit in range(1, 10)),
        keyed("0", "digit(0)", "set the figure", "Find the place by its figures.", sign="0-9"),
        keyed("tab", "field(1)", "another figure", "Let digits change another figure."),
        keyed("shift+tab", "field(-1)"),
        keyed("plus,equals_sign", "by_ties(1)", "a tie", "Look a tie further on.", sign="+ -"),
        keyed("minus", "by_ties(-1)"),
        keyed("home", "ends", "to the hands", "Look where the hands are."),
        keyed("end", "ends(True)"),
        set_key("piece", "piece"),
        set_key("colourway", "colours", tip="See the work in the next colourway of its file."),
        keyed("escape", "close"),
        set_key("ahead", "on", show=False),
        set_key("unpick", "back", show=False),
    ]

    def __init__(
        self, work: BenchController, inks: Inks, glyphs: Glyphs, action: str = "goto"
    ) -> None:
        """Begin to look through the work.

        Args:
            work: The piece.
            inks: The styles.
            glyphs: The characters that the terminal can show.
            action: `goto` begins at the count, `ahead` a step further on, `unpick` one back.
        """
        super().__init__(inks)
        self._work = work
        self._plan = work.plan
        self._drawing = BoardDrawing(work.plan, board_glyphs(glyphs, shaded=inks.shaded))
        self._at = work.done
        self._field = 0
        self._typed = 0
        self._asked = False
        self._glyphs = glyphs
        self._tried = TriedColours(work.plan.project)
        if action == "ahead":
            self._on()
        elif action == "unpick":
            self._back()

    def action_on(self) -> None:
        """Look at the next step."""
        self._look(self._on)

    def action_back(self) -> None:
        """Look at the previous step."""
        self._look(self._back)

    def action_by_ties(self, ties: int) -> None:
        """Look so many ties further on, or back."""
        self._look(lambda: self._to(self._at + ties))

    def action_ends(self, end: bool = False) -> None:
        """Look at the current count, or at the end of the piece."""
        self._look(lambda: self._to(self._plan.total if end else self._work.done))

    def action_field(self, step: int) -> None:
        """Select another figure for digits to change."""
        self._field += step
        self._look(lambda: None)

    def action_digit(self, digit: int) -> None:
        """Type a digit of the selected figure."""
        before = self._typed
        self._look(lambda: self._type(before, digit))

    def action_here(self) -> None:
        """Set the count to the place; only when asked twice."""
        asked = self._asked
        self._look(lambda: self._go(asked=asked))

    def action_colours(self) -> None:
        """Show the work in the next colourway of its file."""
        self._look(self._turn_colours)

    def action_piece(self) -> None:
        """Show the whole piece, and try it in other colours."""
        work = self._work
        save, source = work.aids.save_colours, work.sitting.state.source
        keep = partial(save, source) if save else None
        self.app.push_screen(screens.PieceScreen(self._plan, self.inks, self._glyphs, keep))

    def action_close(self) -> None:
        """Close, and leave the count where it is."""
        self.dismiss(None)

    def _look(self, moved: Callable[[], None]) -> None:
        """Move, and clear what was typed, asked or said before."""
        self._asked, self._typed, self._tried.told = False, 0, ""
        moved()
        self.show()

    def on_mouse_scroll_down(self) -> None:
        """Look at the step after."""
        self.action_on()

    def on_mouse_scroll_up(self) -> None:
        """Look at the step before."""
        self.action_back()

    def _turn_colours(self) -> None:
        self._tried.turn()
        self.inks = self.inks.of(replace(self._plan, project=self._tried.project()))

    def _to(self, at: int) -> None:
        self._at = max(0, min(at, self._plan.total))

    def _on(self) -> None:
        """Look at the next step."""
        step = self._plan.step_at(self._at)
        self._at = step.end if step else self._at

    def _back(self) -> None:
        """Look at the start of the last step before the place."""
        if self._at:
            self._at = self._plan.step_of(self._at - 1).first

    def _type(self, before: int, digit: int) -> None:
        """Set the selected figure, and go to the place that has it."""
        step = self._step()
        field = place_figures(step)[self._field % len(place_figures(step))]
        value = append_digit(field, before, digit)
        found = with_figure(self._plan, step, field, value) if value else None
        if found:
            self._typed = value
            self._at = found.first

    def _step(self) -> PlannedStep:
        """Return the step of the place; the last one at the end of the piece."""
        return self._plan.step_of(min(self._at, self._plan.total - 1))

    def _go(self, *, asked: bool) -> None:
        if self._at == self._work.done:
            self.dismiss(None)
        elif asked:
            self._work.go_to(self._at)
            self.dismiss(None)
        else:
            self._asked = True

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the place in figures and words, its distance from the count, its picture."""
        inks = self.inks
        roomy = height >= _USUAL
        blank = [Text()] if roomy else []
        words = self._work.words.sentence(self._at)
        top = [
            *self._head(width),
            *blank,
            *paragraph(self._told(roomy=roomy), width, 2 + roomy, inks.style("figure")),
            *paragraph(words, width, 3, inks.style("text", bold=True)),
            *blank,
        ]
        if height < _LOW:
            return top
        drawn = self._drawing.picture(self._at, width, height - len(top))
        return [*top, *painted(drawn.rows, inks)]

    def _head(self, width: int) -> list[Text]:
        inks, work = self.inks, self._work
        hands = Text(f"hands at {work.done} of {self._plan.total}", inks.style("quiet"))
        way = "Looking ahead" if self._at > work.done else "Looking back"
        way = "Find your place" if self._at == work.done else way
        title = Text(way, inks.style("text", bold=True))
        return [at_both_ends(title, hands, width), self._place(width)]

    def _place(self, width: int) -> Text:
        """Return the place with its figures, the selected one in brackets."""
        if self._at >= self._plan.total:
            return Text(ellipsized("the end of the piece", width), self.inks.style("quiet"))
        step = self._step()
        every = place_figures(step)
        chosen = every[self._field % len(every)]
        line = Text()
        for field in every:
            line += Text(" · " if line else "", self.inks.style("quiet"))
            line += Text(f"{field.label} ", self.inks.style("quiet"))
            value = f"[{field.value}]" if field == chosen else str(field.value)
            ink = "figure" if field == chosen else "text"
            line += Text(value, self.inks.style(ink, bold=True))
            line += Text(f" of {field.most}", self.inks.style("quiet"))
        mirrored = any(visit.mirrored for visit in step.trail)
        made = self._at - step.first
        line += Text(f" · {made} of {step.counts} made" if made else "", self.inks.style("quiet"))
        line += Text(" · mirrored" if mirrored else "", self.inks.style("quiet"))
        line.truncate(width, overflow="ellipsis")
        return line

    def _told(self, *, roomy: bool) -> str:
        """Return how far the place is from the count, and what going there means."""
        if self._tried.told:
            return self._tried.told
        done, at, key = self._work.done, self._at, self._work.keys.shown("goto")
        if at == done:
            return "You are here."
        if at > done:
            ties = ties_between(self._plan, done, at)
            told = f"{counted(ties, 'tie')} further on"
            question = f"All made? {key} again."
        else:
            told = self._work.unpicking(at)
            question = f"Unpicked, or never made? {key} again."
        if self._asked:
            return f"{question} {told.capitalize()}."
        return f"{told}. The count stays where it is." if roomy else f"{told}."
