"""The parts of the work screen as lines, each for a given room."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import partial
from itertools import zip_longest
from typing import TypeVar

from rich.style import Style
from rich.text import Text
from textual.cache import LRUCache
from textual.strip import Strip

from coach.plan.plan_model import Plan
from coach.plan.wording.tension_text import known_lines
from coach.session.keymap import Keys
from coach.session.view_model import CORDS, View, warning
from coach.text import with_full_stop
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import Glyphs
from coach.tui.drawing.kept_lines import KeptLines, LineCache
from coach.tui.drawing.labels import short_marked
from coach.tui.drawing.picture_window import Picture
from coach.tui.layout.cord_summary import cord_names, cord_rows
from coach.tui.layout.count_figures import count_lines, count_width
from coach.tui.layout.finished_lines import Abreast
from coach.tui.layout.painted_cells import bar
from coach.tui.layout.styled_text import Inks, Row, ellipsized, ends, paragraph
from coach.tui.layout.who_lines import who_lines
from coach.tui.layout.wrapping import wrapped

T = TypeVar("T")
_NOTHING = Strip.blank(0)
_LABEL = 10
_SLIM = 30  # columns below which what is told takes a line more
_MOST_NEXT = 6  # lines of the next step
_MOST_ASIDE = 3  # lines of what is said besides


@dataclass(slots=True)
class BoardSpot:
    """The last board shown, and its place: its lines are `below` above the last one."""

    picture: Picture | None = None
    columns: int = 0
    below: int = 0


def shortly(place: str) -> str:
    """Return one level of a place for a few columns: `wave 2 of 6` for `wave, repeat 2 of 6`."""
    return place.replace(", repeat ", " ")


@dataclass(frozen=True, slots=True)
class Parts:
    """Makes the parts of one piece's screen for a view."""

    plan: Plan
    inks: Inks
    keys: Keys
    glyphs: Glyphs
    drawing: BoardDrawing
    cache: LineCache = field(default_factory=LineCache)
    lines: KeptLines = field(default_factory=KeptLines)
    boards: LRUCache[tuple[int, int, int], tuple[Picture, list[Strip]]] = field(
        default_factory=partial(LRUCache, 2)
    )
    spot: BoardSpot = field(default_factory=BoardSpot)

    def ink(self, name: str, *, bold: bool = False) -> Style:
        """Return one of the palette's styles."""
        return self.inks.style(name, bold=bold)

    def finished(self, rows: Iterable[Row]) -> list[Strip]:
        """Return lines as the terminal gets them."""
        return list(map(self.inks.finished, rows))

    def abreast(self, left: Sequence[Row], right: Sequence[Row], at: int) -> list[Abreast]:
        """Return lines side by side, the right ones beginning at column `at`."""
        rows = zip_longest(self.finished(left), self.finished(right), fillvalue=_NOTHING)
        return [Abreast(*row, at) for row in rows]

    def labelled(self, label: str, text: str, width: int) -> Text:
        """Return one line that begins with a label."""
        first = Text(f"{label:<{_LABEL}}", self.ink("quiet"))
        return first + Text(ellipsized(text, width - _LABEL), self.ink("text"))

    def head(self, view: View, width: int) -> list[Row]:
        """Return the title with the place in the piece, and the progress bar."""
        of = view.title, view.where, width
        title = self.cache.kept("title", of, lambda: self._title(view, width))
        return [title, bar(self.inks, self.glyphs, view.done, view.total, width)]

    def _title(self, view: View, width: int) -> Strip:
        room, places = 2 * width // 3, " · ".join(view.where)
        places = places if len(places) <= room else " · ".join(map(shortly, view.where))
        place = Text(ellipsized(places, room), self.ink("quiet"))
        title = Text(
            ellipsized(view.title, width - place.cell_len - 2), self.ink("text", bold=True)
        )
        return self.inks.finished(ends(title, place, width))

    def count(self, view: View, width: int, rows: int) -> Sequence[Row]:
        """Return the count in large digits, on at most `rows` lines."""
        return count_lines(view, self.inks, width, rows)

    def call(self, view: View, width: int, rows: int) -> list[Text]:
        """Return who does what in large digits, lower than the count's, over the sentence.

        That is `rows` lines and at most one more. Empty if the sentence leaves no room for digits.
        """
        said = self.said(view, width, rows)
        who = self.who(view, width, min(rows - 2, rows + 1 - len(said)))
        roomy = len(who) + len(said) < rows
        return [*who, *([Text()] if roomy else []), *said] if len(who) > 1 else []

    def who(self, view: View, width: int, rows: int) -> list[Text]:
        """Return who does what on at most `rows` lines, in large digits if they fit."""
        return who_lines(view.who, self.inks, width, rows)

    def count_width(self, view: View, rows: int, width: int) -> int:
        """Return the columns to reserve for the count during its step."""
        return count_width(view, rows, width)

    def board(self, view: View, width: int, height: int, below: int = 0) -> list[Strip]:
        """Return the picture of the board; nothing where there is no room for one.

        Args:
            view: What is shown.
            width: Its columns.
            height: The lines that there are.
            below: The lines of the screen below it, for those who lay an image over it.
        """
        self.spot.picture = None
        if height < 2 or width < 8:  # noqa: PLR2004 - too little to show a strand and its number
            return []
        picture, strips = self._drawn(view.done, width, height)
        self.spot.picture, self.spot.columns, self.spot.below = picture, width, below
        short = {left.strand for left in view.short}
        if not short or not picture.labels:
            return strips
        labels = short_marked(picture.rows[-picture.labels :], short)
        return [*strips[: -picture.labels], *map(self.inks.row, labels)]

    def draw_ahead(self, done: int) -> None:
        """Draw the board after `done` counts in advance, in the room of the last one."""
        if self.spot.picture and done <= self.plan.total:
            self._drawn(done, self.spot.columns, len(self.spot.picture.rows))

    def _drawn(self, done: int, width: int, height: int) -> tuple[Picture, list[Strip]]:
        """Return the picture after a count and its lines, from the cache if there."""
        drawn = self.boards.get((done, width, height))
        if drawn is None:
            picture = self.drawing.picture(done, width, height)
            kept, draw = self.lines.kept, self.inks.row
            drawn = picture, [kept(row, width, partial(draw, row)) for row in picture.rows]
            self.lines.turn()
            self.boards.set((done, width, height), drawn)
        return drawn

    def words(self, view: View, width: int, most: int) -> list[Text]:
        """Return the sentence, and messages below it."""
        said = self.said(view, width, most)
        aside = self.aside(view, width, max(0, min(_MOST_ASIDE, most - len(said) - 1)))
        return [*said, Text(), *aside] if aside else said

    def said(self, view: View, width: int, most: int) -> list[Text]:
        """Return the sentence, after the number of the next pass where passes are counted."""
        number, of = view.passing
        lines = [Text(f"Pass {number} of {of}", self.ink("figure", bold=True))] if of else []
        told = paragraph(view.sentence, width, most - len(lines), self.ink("text", bold=True))
        return [*lines, *told]

    def aside(self, view: View, width: int, most: int) -> list[Text]:
        """Return other messages, the most pressing first: message or warning, then notes."""
        pressing = self._pressing(view, width, most)
        room = most - len(pressing)
        notes = tuple(map(with_full_stop, view.notes))
        told = " ".join((*view.noted, *filter(None, [view.offer]), *notes))
        if len(wrapped(told, width)) > room:  # help gives way to what the maker has written
            told = " ".join((*view.noted, *notes)) or told
        return [*pressing, *(paragraph(told, width, room, self.ink("quiet")) if told else [])]

    def _pressing(self, view: View, width: int, most: int) -> list[Text]:
        if view.message:
            return paragraph(view.message, width, most, self.ink("figure"))
        if view.paused:
            going = f"Clock stopped. {self.keys.shown('pause')} starts it again."
            return paragraph(going, width, most, self.ink("figure"))
        short = warning(self.plan, view)
        return paragraph(short, width, most, self.ink("warning", bold=True)) if short else []

    def learnt(self, width: int, most: int) -> list[Text]:
        """Return what measures have shown of the maker's cords and knots; empty for nothing."""
        told = [
            t for one in known_lines(self.plan) for t in paragraph(one, width, 2, self.ink("text"))
        ]
        heading = Text(ellipsized("what your measures have shown", width), self.ink("quiet"))
        return [heading, *told[: most - 1]] if told and most > 1 else []

    def unspoken(self, view: View, width: int) -> list[Text]:
        """Return why speech fails, below all other messages."""
        return paragraph(view.unspoken, width, 2 + (width < _SLIM), self.ink("quiet"))

    def side(self, view: View, width: int) -> list[Strip]:
        """Return the right column of the wide screen: the next step, cord left, the time."""
        kept, time = self.cache.kept, view.time
        cords = view.cords, view.order, view.units
        return [
            *kept("side next", (view.next, width), lambda: self._side_next(view, width)),
            *kept("side cord", (cords, width), lambda: self._side_cord(view, width)),
            *kept("side time", (time, width), lambda: self._under("time", time, width)),
        ]

    def _side_next(self, view: View, width: int) -> list[Strip]:
        lines = paragraph(view.next, width, _MOST_NEXT, self.ink("text"))
        return self.finished([Text("next", self.ink("quiet")), *lines, Text()])

    def _side_cord(self, view: View, width: int) -> list[Strip]:
        names = cord_names(self.plan, view)[:CORDS]
        if not names:
            return []
        heading = Text("cord left: now, and at the end", self.ink("quiet"))
        rows = cord_rows(names, self.inks, view.cords[:CORDS], width, units=view.units)
        return self.finished([heading, *rows, Text()])

    def _under(self, heading: str, said: Sequence[str], width: int) -> list[Strip]:
        lines = [Text(ellipsized(part, width), self.ink("text")) for part in said]
        return self.finished([Text(heading, self.ink("quiet")), *lines])
