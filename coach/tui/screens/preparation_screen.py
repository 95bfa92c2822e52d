"""The list for cutting and hanging: each piece of cord, ticked as it is made ready."""

from collections.abc import Sequence
from typing import Final

from rich.style import Style
from rich.text import Text

from coach.quantities import show_length
from coach.session.controller import Work
from coach.session.preparation import (
    MARKS,
    Ready,
    Tick,
    in_order,
    next_open,
    pieces_to_ready,
    rest_of,
)
from coach.tui.layout.styled_text import Inks, fitted, sized
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, in_view, keys_at_foot

_LENGTH: Final = 9
_BOX: Final = 9
_NARROW_BOX: Final = 6
_WIDE: Final = 60
_NARROW: Final = 36  # columns below which a box is one character
_MOST_LABEL: Final = 16
_ROOMY: Final = 20
_LOW: Final = 6  # rows below which only the list and its heading are shown


class BeforeScreen(LinesScreen[None]):
    """Lists every piece with its length and boxes to tick. Each tick is stored at once."""

    def __init__(self, work: Work, inks: Inks) -> None:
        super().__init__(inks)
        self._work = work
        self._asides = work.asides
        self._ready = pieces_to_ready(work.plan, work.settings.units)
        self._order = in_order(self._ready)
        self._places = {tick: place for place, tick in enumerate(self._order)}
        self._rows = {ready.label: row for row, ready in enumerate(self._ready)}
        self._longest = max(5, *(len(ready.label) for ready in self._ready))
        self._at = next_open(self._order, self._asides.ticks, None)

    def pressed(self, key: str) -> bool:
        """Tick, take a tick back, move, or leave."""
        action = self._work.keys.action(key)
        if key in ("tab", "j", "shift+tab", "k"):
            self._move(1 if key in ("tab", "j") else -1)
        elif action == "count":
            self._tick((self._at,) if self._at else ())
        elif action == "rest":
            self._tick(rest_of(self._ready, self._asides.ticks, self._at) if self._at else ())
        elif action == "take_back":
            self._untick()
        elif key == "escape" or action in ("leave", "before"):
            self.dismiss(None)
        else:
            return False
        return True

    def _tick(self, ticks: Sequence[Tick]) -> None:
        self._work.keep(lambda: self._asides.tick(ticks))
        if ticks:
            self._at = next_open(self._order, self._asides.ticks, ticks[-1])

    def _untick(self) -> None:
        """Take back the tick at the cursor, else the one before it in the order of the work."""
        start = self._places[self._at] if self._at else len(self._order)
        back = (*self._order[start::-1], *self._order[:start:-1])
        ticked = next((tick for tick in back if tick in self._asides.ticks), None)
        if ticked:
            self._work.keep(lambda: self._asides.untick(ticked))
            self._at = ticked

    def _move(self, by: int) -> None:
        """Go to the next box of the order, ticked or not; from the end on to the beginning."""
        place = self._places[self._at] if self._at else -1 if by > 0 else 0
        self._at = self._order[(place + by) % len(self._order)]

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the heading, the pieces round the one at hand, and the keys."""
        ticked = len(self._asides.ticks & self._places.keys())
        told = Text(f"{ticked} of {len(self._order)}", self.inks.style("quiet"))
        title = Text(f"Cut and hang: {self._work.sitting.name}", self.inks.style("text", bold=True))
        blank = [Text()] if height >= _ROOMY else []
        head = [at_both_ends(title, told, width), *blank, self._heading(width)]
        foot = self._foot(width) if height > _LOW else []
        most = max(1, height - len(head) - len(foot))
        at = self._rows[self._at[0]] if self._at else 0
        shown = [self._row(self._ready[i], width) for i in in_view(at, len(self._ready), most)]
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
        return sized(Text(text, self.inks.style("quiet")), width)

    def _row(self, ready: Ready, width: int) -> Text:
        here = self._at is not None and self._at[0] == ready.label
        ink = self.inks.style("text", bold=here)
        line = Text((">" if here else " ") + " " * (width >= _NARROW), ink)
        line += Text(fitted(ready.label, _MOST_LABEL), self._in_its_colour(ready, bold=here))
        line = sized(line, self._label_width(width))
        line += sized(Text(show_length(ready.length_mm, self._work.settings.units), ink), _LENGTH)
        for mark in MARKS:
            line += self._box(ready, mark, self._box_width(width))
        if width >= _WIDE:
            line += Text(f"  {ready.hangs}{self._ends(ready)}", self.inks.style("quiet"))
        return line

    def _ends(self, ready: Ready) -> str:
        """Say how far each strand hangs from a fold that is off the middle: `: 3.7 m and 1.4 m`."""
        units = self._work.settings.units
        ends = [show_length(round(mm / 10) * 10, units) for mm in ready.ends_mm]
        return f": {' and '.join(ends)}" if ends else ""

    def _in_its_colour(self, ready: Ready, *, bold: bool) -> Style:
        return self.inks.named(ready.strand, bold=bold)

    def _box(self, ready: Ready, mark: str, width: int) -> Text:
        """Return one box: ticked, open, at hand, or none where that is not done before."""
        if mark not in ready.marks:
            return Text(" " * width)
        sign = "x" if (ready.label, mark) in self._asides.ticks else "·"
        at_hand = self._at == (ready.label, mark)
        ink = self.inks.style("figure" if at_hand else "text", bold=sign == "x" or at_hand)
        if at_hand:
            sign = f"[{sign}]" if width > 1 else "?"
        return Text(f"{sign:^{width}}", ink)

    def _foot(self, width: int) -> list[Text]:
        keys = self._work.keys
        if self._work.message:
            return [Text(fitted(self._work.message, width), self.inks.style("warning", bold=True))]
        if self._at is None:
            done = Text("All is ready.", self.inks.style("figure", bold=True))
            return [done, *keys_at_foot(self.inks, width, 1, self._keys_out())]
        what = self._at[1]
        return keys_at_foot(
            self.inks, width, 2,
            [(keys.shown("count"), what), (keys.shown("take_back"), "not yet"),
             (keys.shown("rest"), "all of this cord"), *self._keys_out(), ("tab", "next")],
        )  # fmt: skip

    def _keys_out(self) -> list[tuple[str, str]]:
        return [(self._work.keys.shown("before"), "back to the knots")]
