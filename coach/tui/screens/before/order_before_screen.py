"""The cutting and hanging list of an order, with like lengths of all pieces on one line."""

from collections.abc import Iterator, Sequence
from typing import ClassVar, Final

from rich.text import Text
from textual import events
from textual.binding import Binding, BindingType

from coach.desk.batch_lines import CUT, MARKS, BatchLine, BatchList, Cord
from coach.piece import PieceError
from coach.quantities import show_length
from coach.session.controller import BenchController
from coach.session.current_order.boxes import Box, boxes_in_order, far, last_ticked, open_after
from coach.session.ports import Batch
from coach.tui import screens
from coach.tui.layout.styled_text import Inks, ellipsized, exact_width, paragraph
from coach.tui.screens.base_screen import LinesScreen, at_both_ends, in_view, keyed, set_key

_LENGTH: Final = 9
_BESIDE: Final = 3  # columns beside a name
_WIDE: Final = 70  # columns from which a cord is told as on its label, and boxes say `3 of 12`
_BOX: Final = 11
_NARROW_BOX: Final = 6
_TINY: Final = 30  # columns below which only the box at hand is shown
_LOW: Final = 5
_MOST_SAID: Final = 3
_UNSAVED: Final = "Counts are not stored yet; tick once they are."


class OrderBeforeScreen(LinesScreen[None]):
    """Lists the lengths of all pieces of an order; each tick is stored at once."""

    BINDINGS: ClassVar[list[BindingType]] = [
        set_key("count", "tick", "tick one", "Tick one more length in the box at hand."),
        set_key("take_back", "untick", "one back", "Take one tick back."),
        set_key("rest", "tick_rest", "all of this line", "Tick all lengths of this line."),
        keyed("x", "again", "cut again", "The last one that was cut is spoilt: cut it once more."),
        keyed("o", "own", "this piece", "See the list of the piece on the bench alone."),
        set_key("before", "close", "back to the knots", "Close this list."),
        keyed("tab,j", "move(1)", "next", "Go to the next box, ticked or not."),
        keyed("shift+tab,k", "move(-1)"),
        keyed("escape", "close"),
        set_key("leave", "close", show=False),
    ]

    def __init__(self, work: BenchController, batch: Batch, inks: Inks) -> None:
        """Set up for the order of the current piece.

        Args:
            work: The piece, for keys and units.
            batch: The order.
            inks: The styles.
        """
        super().__init__(inks)
        self._work, self._batch = work, batch
        self._ready = BatchList((), {})
        self._at: Box | None = None
        self._first_row = self._top = 0
        self._far_told = self._failed = ""

    def on_mount(self) -> None:
        """Read what is to be prepared, and go to the first open box."""
        self._read()
        self._at = open_after(self._ready.lines, None)

    def on_screen_resume(self) -> None:
        """Refresh the list, which may have been ticked piece by piece."""
        self._read()
        super().on_screen_resume()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Return whether an action does something: not ticking once all is ticked."""
        del parameters
        return self._at is not None or action not in ("tick", "tick_rest")

    def named(self, binding: Binding) -> str:
        """Return the name of a key; for ticking, what it ticks."""
        return (
            f"one {self._at[1]}" if self._at and binding.action == "tick" else binding.description
        )

    def action_tick(self) -> None:
        """Tick one length in the current box."""
        self._tick_some(1)

    def action_tick_rest(self) -> None:
        """Tick all lengths in the current box."""
        self._tick_some(None)

    def action_untick(self) -> None:
        """Take back a tick of the current box, or of the last one before it with any."""
        last = last_ticked(self._ready.lines, self._at)
        if last:
            self._at, cord, mark = last
            self._keep([cord], mark, back=True)
        self.show()

    def action_again(self) -> None:
        """Tick that the last length cut of the current line is cut again."""
        place = self._at[0] if self._at else len(self._ready.lines) - 1
        tick = self._ready.lines[place].next_again() if self._ready.lines else None
        self._work.message = "Nothing of this line is cut yet."
        if tick:
            self._keep([tick[0]], tick[1])
            line = self._ready.lines[place]
            self._work.message = self._work.message or f"{line.what}, {line.label}: cut once more."
        self.show()

    def action_move(self, step: int) -> None:
        """Go to another box, ticked or not."""
        order = boxes_in_order(self._ready.lines)
        if order:
            place = order.index(self._at) if self._at else -1 if step > 0 else 0
            self._at = order[(place + step) % len(order)]
        self.show()

    def action_own(self) -> None:
        """Show the list of the current piece alone."""
        self._work.message = ""
        self.app.push_screen(screens.BeforeScreen(self._work, self.inks))

    def action_close(self) -> None:
        """Go back to the knots."""
        self.dismiss(None)

    def on_click(self, event: events.Click) -> None:
        """Go to the tapped line; on the current one, tick one."""
        row = self._top + event.y - self._first_row
        if event.y < self._first_row or row >= len(self._ready.lines):
            return
        if self._at and self._at[0] == row:
            self.action_tick()
            return
        own = [(row, mark) for mark in self._ready.lines[row].marks]
        self._at = next((box for box in own if self._line(box).open(box[1])), own[0])
        self.show()

    def _tick_some(self, most: int | None) -> None:
        if self._at:
            box = self._at
            self._keep(self._line(box).open(box[1])[:most], box[1])
            if not self._line(box).open(box[1]):
                self._at = open_after(self._ready.lines, box)
        self.show()

    def _keep(self, cords: Sequence[Cord], mark: str, *, back: bool = False) -> None:
        """Store ticks in their pieces, and show them if that worked."""
        sitting, unit = self._work.sitting, self._work.settings.units
        self._work.message = _UNSAVED
        if sitting.waiting or sitting.trouble:
            return
        try:
            self._work.message = self._batch.tick(cords, mark, unit, back=back)
        except PieceError as error:
            self._work.message = f"Not saved: {error}"
            return
        self._ready = self._ready.with_ticks(cords, mark, back=back)
        self._work.refresh()

    def _read(self) -> None:
        try:
            self._far_told = self._batch.told()
            self._ready, self._failed = self._batch.to_ready(self._work.settings.units), ""
        except PieceError as error:
            self._failed = str(error)

    def _line(self, box: Box) -> BatchLine:
        return self._ready.lines[box[0]]

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the heading, the lines around the current one, and the last message."""
        done, of = far(self._ready.lines)
        told = Text(f"{done:,} of {of:,}", self.inks.style("quiet"))
        title = Text(f"Cut and hang {self._far_told}", self.inks.style("text", bold=True))
        head = [at_both_ends(title, told, width), self._heading(width)]
        foot = list(self._foot(width)) if height > _LOW else []
        most = max(1, height - len(head) - len(foot))
        seen = in_view(self._at[0] if self._at else 0, len(self._ready.lines), most)
        self._first_row, self._top = len(head), seen.start
        shown = [self._row(n, width) for n in seen]
        return [*head, *shown, *[Text()] * (most - len(shown)), *foot]

    def _heading(self, width: int) -> Text:
        box = _box_width(width)
        names = "".join(f"{mark[: box - 1]:^{box}}" for mark in MARKS) if width >= _TINY else ""
        text = f"  {'cord':<{self._name_width(width) - 2}}{'each':<{_LENGTH}}{names}"
        return exact_width(Text(text, self.inks.style("quiet")), width)

    def _name_width(self, width: int) -> int:
        boxes = len(MARKS) * _box_width(width) if width >= _TINY else 0
        return max(8, width - _LENGTH - boxes)

    def _longest(self) -> int:
        return max((len(_called(line)) for line in self._ready.lines), default=0)

    def _row(self, place: int, width: int) -> Text:
        line, here = self._ready.lines[place], self._at is not None and self._at[0] == place
        ink = self.inks.style("text", bold=here)
        room = self._name_width(width)
        whole = width >= _WIDE or self._longest() <= room - _BESIDE
        name = _called(line) if whole else line.label
        row = Text(">" if here else " ", ink) + Text(f" {ellipsized(name, room - _BESIDE)}", ink)
        unit = self._work.settings.units
        row = exact_width(row, room) + exact_width(
            Text(show_length(line.length_mm, unit), ink), _LENGTH
        )
        boxes = [self._box((place, mark), width) for mark in MARKS if width >= _TINY]
        return exact_width(Text().join([row, *boxes]), width)

    def _box(self, box: Box, width: int) -> Text:
        """Return one box: how many lengths are ticked, `all`, or nothing to be done."""
        line, room = self._line(box), _box_width(width)
        if box[1] not in line.marks:
            return Text(" " * room)
        done, of = line.ticked(box[1]), len(line.pieces)
        told = f"{done} of {of}" if width >= _WIDE else f"{done}/{of}"
        here = self._at == box
        told = "all" if done == of else told
        told += f" +{len(line.again)}" if box[1] == CUT and line.again else ""
        told = f"[{told}]" if here else told
        ink = self.inks.style("figure" if here else "text", bold=here or done == of)
        return Text(f"{told:^{room}}", ink)

    def _foot(self, width: int) -> Iterator[Text]:
        """Yield the last message, that all is ready, or the findings to lay out."""
        said = self._failed or self._work.message
        if said:
            yield from paragraph(said, width, _MOST_SAID, self.inks.style("warning", bold=True))
        elif self._at is None:
            yield Text("All is ready.", self.inks.style("figure", bold=True))
        elif width < _WIDE and self._at:
            line = self._line(self._at)
            yield Text(ellipsized(_called(line), width), self.inks.style("quiet"))
        elif self._ready.findings:
            laid = ", ".join(f"{n:,} × {what}" for what, n in self._ready.findings.items())  # noqa: RUF001 - the sign is meant
            yield Text(ellipsized(f"Lay out: {laid}", width), self.inks.style("quiet"))


def _called(line: BatchLine) -> str:
    """Return the cord's name on a shop label, and what is written on the length."""
    return f"{line.what}, {line.label}"


def _box_width(width: int) -> int:
    return _BOX if width >= _WIDE else _NARROW_BOX
