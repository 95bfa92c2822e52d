"""The cutting and hanging list of a piece, each piece of cord with boxes to tick."""

from collections.abc import Sequence
from typing import ClassVar, Final

from rich.style import Style
from rich.text import Text
from textual import events
from textual.binding import Binding, BindingType

from coach.desk.batch_lines import CUT, cut_again, last_again, times_again
from coach.quantities import show_length
from coach.session.controller import BenchController
from coach.session.preparation import (
    MARKS,
    PieceToReady,
    Tick,
    next_open,
    pieces_to_ready,
    rest_of,
    ticks_in_order,
)
from coach.tui.layout.styled_text import Inks, ellipsized, exact_width, paragraph
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, in_view, keyed, set_key

_LENGTH: Final = 9
_BOX: Final = 9
_NARROW_BOX: Final = 6
_WIDE: Final = 60
_NARROW: Final = 36  # columns below which a box is one character
_MOST_LABEL: Final = 16
_ROOMY: Final = 18
_MOST_SAID: Final = 3
_LOW: Final = 5  # rows below which only the list and its heading are shown


class BeforeScreen(LinesScreen[None]):
    """Lists every piece with its length and boxes to tick. Each tick is stored at once."""

    BINDINGS: ClassVar[list[BindingType]] = [
        set_key("count", "tick", "tick", "Tick the box at hand."),
        set_key("take_back", "untick", "not yet", "Take a tick back."),
        set_key("rest", "tick_rest", "all of this cord", "Tick it for all of this cord."),
        keyed("x", "again", "cut again", "The piece at hand is spoilt: cut it once more."),
        set_key("before", "close", "back to the knots", "Close this list."),
        keyed("tab,j", "move(1)", "next", "Go to the next box, ticked or not."),
        keyed("shift+tab,k", "move(-1)"),
        keyed("escape", "close"),
        set_key("leave", "close", show=False),
    ]

    def __init__(self, work: BenchController, inks: Inks) -> None:
        super().__init__(inks)
        self._work = work
        self._asides = work.asides
        self._ready = pieces_to_ready(work.plan, work.settings.units)
        self._order = ticks_in_order(self._ready)
        self._places = {tick: place for place, tick in enumerate(self._order)}
        self._rows = {ready.label: row for row, ready in enumerate(self._ready)}
        self._longest = max(5, *(len(ready.label) for ready in self._ready))
        self._at = next_open(self._order, self._asides.ticks, None)
        self._first_row = self._top = self._below = 0  # where rows are shown, and which

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Return whether an action does something: not ticking once all is ticked."""
        del parameters
        return self._at is not None or action not in ("tick", "tick_rest")

    def named(self, binding: Binding) -> str:
        """Return the name of a key; for ticking, what it ticks."""
        return self._at[1] if self._at and binding.action == "tick" else binding.description

    def action_tick(self) -> None:
        """Tick the current box."""
        self._tick((self._at,) if self._at else ())
        self.show()

    def action_tick_rest(self) -> None:
        """Tick all boxes of the current cord."""
        self._tick(rest_of(self._ready, self._asides.ticks, self._at) if self._at else ())
        self.show()

    def action_again(self) -> None:
        """Tick that the current piece, or the last one, is cut again."""
        label = self._at[0] if self._at else self._ready[-1].label
        if (label, CUT) in self._asides.ticks:
            tick = cut_again(label, self._asides.ticks)
            self._work.keep(lambda: self._asides.tick([tick]), f"{label} is cut once more.")
        else:
            self._work.message = f"{label} is not cut yet."
        self.show()

    def action_untick(self) -> None:
        """Take a tick back."""
        self._untick()
        self.show()

    def action_move(self, step: int) -> None:
        """Go to another box."""
        self._move(step)
        self.show()

    def action_close(self) -> None:
        """Go back to the knots."""
        self.dismiss(None)

    def on_click(self, event: events.Click) -> None:
        """Go to the tapped piece; on the current one, tick its box."""
        row = self._top + event.y - self._first_row
        if event.y < self._first_row or row >= min(len(self._ready), self._below):
            return
        ready = self._ready[row]
        if self._at and self._at[0] == ready.label:
            self.action_tick()
            return
        own = [(ready.label, mark) for mark in MARKS if mark in ready.marks]
        self._at = next((t for t in own if t not in self._asides.ticks), own[0])
        self.show()

    def _tick(self, ticks: Sequence[Tick]) -> None:
        self._work.keep(lambda: self._asides.tick(ticks))
        if ticks:
            self._at = next_open(self._order, self._asides.ticks, ticks[-1])

    def _untick(self) -> None:
        """Take back the tick at the cursor, else the one before it in working order."""
        start = self._places[self._at] if self._at else len(self._order)
        back = (*self._order[start::-1], *self._order[:start:-1])
        ticked = next((tick for tick in back if tick in self._asides.ticks), None)
        if ticked:
            last = last_again(ticked[0], self._asides.ticks) if ticked[1] == CUT else None
            self._work.keep(lambda: self._asides.untick(last or ticked))
            self._at = ticked

    def _move(self, by: int) -> None:
        """Go to the next box in order, ticked or not, wrapping round."""
        place = self._places[self._at] if self._at else -1 if by > 0 else 0
        self._at = self._order[(place + by) % len(self._order)]

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the heading, the pieces around the current one, and the keys."""
        ticked = len(self._asides.ticks & self._places.keys())
        told = Text(f"{ticked} of {len(self._order)}", self.inks.style("quiet"))
        title = Text(f"Cut and hang: {self._work.sitting.name}", self.inks.style("text", bold=True))
        blank = [Text()] if height >= _ROOMY else []
        head = [at_both_ends(title, told, width), *blank, self._heading(width)]
        foot = self._foot(width) if height > _LOW else []
        most = max(1, height - len(head) - len(foot))
        at = self._rows[self._at[0]] if self._at else 0
        seen = in_view(at, len(self._ready), most)
        self._first_row, self._top, self._below = len(head), seen.start, seen.stop
        shown = [self._row(self._ready[i], width) for i in seen]
        return [*head, *shown, *[Text()] * (most - len(shown)), *foot]

    def _label_width(self, width: int) -> int:
        return min(_MOST_LABEL, self._longest) + (3 if width >= _NARROW else 2)

    def _box_width(self, width: int) -> int:
        return _BOX if width >= _WIDE else _NARROW_BOX if width >= _NARROW else 1

    def _heading(self, width: int) -> Text:
        box = self._box_width(width)
        names = "".join(f"{m if box == _BOX else m[:5]:^{box}}" for m in MARKS)
        told = f"  {'hangs as' if width >= _WIDE else ''}"
        boxes = f"{names}{told}" if box > 1 else ""
        label = f"{'  ' if box > 1 else ''}{'piece':<{self._label_width(width)}}"
        text = f"{label[: self._label_width(width)]}{'length':<{_LENGTH}}{boxes}"
        return exact_width(Text(text, self.inks.style("quiet")), width)

    def _row(self, ready: PieceToReady, width: int) -> Text:
        here = self._at is not None and self._at[0] == ready.label
        ink = self.inks.style("text", bold=here)
        line = Text((">" if here else " ") + " " * (width >= _NARROW), ink)
        line += Text(ellipsized(ready.label, _MOST_LABEL), self._in_its_colour(ready, bold=here))
        line = exact_width(line, self._label_width(width))
        line += exact_width(
            Text(show_length(ready.length_mm, self._work.settings.units), ink), _LENGTH
        )
        for mark in MARKS:
            line += self._box(ready, mark, self._box_width(width))
        if width >= _WIDE:
            line += Text(f"  {ready.hangs}{self._ends(ready)}", self.inks.style("quiet"))
        return line

    def _ends(self, ready: PieceToReady) -> str:
        """Return how far each strand hangs from a fold off the middle: `: 3.7 m and 1.4 m`."""
        units = self._work.settings.units
        ends = [show_length(round(mm / 10) * 10, units) for mm in ready.ends_mm]
        return f": {' and '.join(ends)}" if ends else ""

    def _in_its_colour(self, ready: PieceToReady, *, bold: bool) -> Style:
        return self.inks.named(ready.strand, bold=bold)

    def _box(self, ready: PieceToReady, mark: str, width: int) -> Text:
        """Return one box: ticked, open, current, or none where that is not done before."""
        if mark not in ready.marks:
            return Text(" " * width)
        sign = "x" if (ready.label, mark) in self._asides.ticks else "·"
        again = times_again(ready.label, self._asides.ticks) if mark == CUT else 0
        sign += f"+{again}" if again and width > 1 else ""
        at_hand = self._at == (ready.label, mark)
        ink = self.inks.style("figure" if at_hand else "text", bold=sign[0] == "x" or at_hand)
        if at_hand:
            sign = f"[{sign}]" if width > 1 else "?"
        return Text(f"{sign:^{width}}", ink)

    def _foot(self, width: int) -> list[Text]:
        """Return the last message, or that nothing is left to tick."""
        if self._work.message:
            ink = self.inks.style("warning", bold=True)
            return paragraph(self._work.message, width, _MOST_SAID, ink)
        done = Text("All is ready.", self.inks.style("figure", bold=True))
        return [done] if self._at is None else []
