"""Looking through the work without moving the count, and going to a place found there."""

from typing import Final

from rich.text import Text

from coach.plan.plan_model import PlannedStep
from coach.session.controller import Work
from coach.session.navigation import fields, ties_between, typed, with_figure
from coach.text import counted
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import Glyphs, board_glyphs
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.styled_text import Inks, fitted, paragraph
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, keys_at_foot

_LOW: Final = 10  # rows below which there is no room for a picture
_USUAL: Final = 20


class LookScreen(LinesScreen[None]):
    """Shows any place in the work, found by steps, ties or figures; the count stays where it is.

    Pressed twice, the go-to key sets the count to that place.
    """

    def __init__(self, work: Work, inks: Inks, glyphs: Glyphs, action: str = "goto") -> None:
        """Begin at the count for `goto`, a step further on for `ahead`, one back for `unpick`."""
        super().__init__(inks)
        self._work = work
        self._plan = work.plan
        self._drawing = BoardDrawing(work.plan, board_glyphs(glyphs, shaded=inks.shaded))
        self._at = work.done
        self._field = 0
        self._typed = 0
        self._asked = False
        if action == "ahead":
            self._on()
        elif action == "unpick":
            self._back()

    def pressed(self, key: str) -> bool:
        """Move to another place, go there, or leave."""
        action = self._work.keys.action(key)
        asked, self._asked = self._asked, False
        before, self._typed = self._typed, 0
        if key.isdigit():
            self._type(before, int(key))
        elif key in ("tab", "shift+tab"):
            self._field += 1 if key == "tab" else -1
        elif key in ("plus", "equals_sign", "minus"):
            self._to(self._at + (-1 if key == "minus" else 1))
        elif key in ("home", "end"):
            self._to(self._work.done if key == "home" else self._plan.total)
        elif action in ("count", "ahead"):
            self._on()
        elif action in ("take_back", "unpick"):
            self._back()
        elif action == "goto":
            self._go(asked=asked)
        elif key == "escape" or action == "leave":
            self.dismiss(None)
        else:
            return False
        return True

    def on_mouse_scroll_down(self) -> None:
        """Look at the step after."""
        self._on()
        self.show()

    def on_mouse_scroll_up(self) -> None:
        """Look at the step before."""
        self._back()
        self.show()

    def _to(self, at: int) -> None:
        self._at = max(0, min(at, self._plan.total))

    def _on(self) -> None:
        """Look at the step after the one looked at."""
        step = self._plan.step_at(self._at)
        self._at = step.end if step else self._at

    def _back(self) -> None:
        """Look at the start of the step that was made last before the place looked at."""
        if self._at:
            self._at = self._plan.step_of(self._at - 1).first

    def _type(self, before: int, digit: int) -> None:
        """Set the figure that is chosen, and go to the place that has it."""
        step = self._step()
        field = fields(step)[self._field % len(fields(step))]
        value = typed(field, before, digit)
        found = with_figure(self._plan, step, field, value) if value else None
        if found:
            self._typed = value
            self._at = found.first

    def _step(self) -> PlannedStep:
        """Return the step that is looked at; the last one at the end of the piece."""
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
        """Return the place in figures and words, its distance from the count, and its picture."""
        inks = self.inks
        roomy = height >= _USUAL
        blank = [Text()] if roomy else []
        keys = [] if height < _LOW else keys_at_foot(inks, width, 1 + roomy, self._keys())
        words = self._work.words.sentence(self._at)
        top = [
            *self._head(width),
            *blank,
            *paragraph(self._told(roomy=roomy), width, 2 + roomy, inks.style("figure")),
            *paragraph(words, width, 2 + roomy, inks.style("text", bold=True)),
            *blank,
        ]
        if height < _LOW:
            return top
        drawn = self._drawing.picture(self._at, width, height - len(top) - len(keys))
        return [*top, *painted(drawn.rows, inks), *keys]

    def _head(self, width: int) -> list[Text]:
        inks, work = self.inks, self._work
        hands = Text(f"hands at {work.done} of {self._plan.total}", inks.style("quiet"))
        way = "ahead" if self._at > work.done else "back" if self._at < work.done else "on"
        title = Text(f"Looking {way}", inks.style("text", bold=True))
        return [at_both_ends(title, hands, width), self._place(width)]

    def _place(self, width: int) -> Text:
        """Return the place with its figures, the one that digits change in brackets."""
        if self._at >= self._plan.total:
            return Text(fitted("the end of the piece", width), self.inks.style("quiet"))
        step = self._step()
        every = fields(step)
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
        """Say how far the place is from the count, and what going there means."""
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

    def _keys(self) -> list[tuple[str, str]]:
        keys = self._work.keys
        return [
            (keys.shown("count"), "on"), (keys.shown("goto"), "I am here"),
            (keys.shown("leave"), "close"), (keys.shown("take_back"), "back"),
            ("0-9", "set the figure"), ("tab", "another figure"), ("+ -", "a tie"),
            ("home", "to the hands"),
        ]  # fmt: skip
