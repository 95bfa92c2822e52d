"""The layouts of the work screen: wide, usual, narrow and tiny, and the finished piece."""

from collections.abc import Sequence
from functools import partial
from typing import Final, Protocol, TypeAlias

from rich.text import Text
from textual.strip import Strip

from coach.plan.plan_model import Plan
from coach.session.keymap import Keys
from coach.session.view_model import View, warning
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import UNICODE, Glyphs, board_glyphs
from coach.tui.layout.cord_summary import cord_columns
from coach.tui.layout.finish_layout import finished_lines
from coach.tui.layout.finished_lines import Abreast, with_margin
from coach.tui.layout.large_print import HEIGHTS
from coach.tui.layout.styled_text import Inks, Row, ellipsized, paragraph
from coach.tui.layout.work_parts import BoardSpot, Parts, shortly
from coach.tui.layout.wrapping import wrapped

_WIDE: Final = (100, 29)  # columns, and rows above the keys
_USUAL: Final = (80, 23)
_NARROW: Final = (40, 11)
_TALL: Final = 27  # rows from which on the usual screen has room for the largest figures
_HUGE: Final = ((200, 44, 11), (160, 35, 9))  # columns and rows from which the figures grow
_SIDE: Final = 36  # the right column of the wide screen
_ROOMY: Final = 15  # rows from which on the narrow screen has room for notes
_MOST_SAID: Final = 3  # lines of a sentence below the figures
_MOST_BELOW: Final = 2  # lines below the count of what is said besides
_LONG: Final = 19  # rows from which it has room for who does what in large figures
_LEAST_WORDS: Final = 30  # columns that a sentence needs beside the count


class WorkLayout:
    """Lays out the work screen of one piece, for any view of it and any size.

    It is painted as one widget of finished lines. A count changes digits, sentence and board at
    once, the room of each depends on the length of the others, and all must be on the screen within
    the time of one key (see `tests/bench/keys.py`): separate widgets would be measured and laid out
    again with each tie.
    """

    def __init__(self, plan: Plan, inks: Inks, keys: Keys, glyphs: Glyphs = UNICODE) -> None:
        """Set up for a piece.

        Args:
            plan: The piece's plan.
            inks: The styles, with the colours of its strands.
            keys: The keys as they are set, for hints.
            glyphs: The characters that the terminal can show.
        """
        self.inks = inks
        self._parts = Parts(
            plan, inks, keys, glyphs, BoardDrawing(plan, board_glyphs(glyphs, shaded=inks.shaded))
        )

    @property
    def spot(self) -> BoardSpot:
        """Where the board was in the lines made last."""
        return self._parts.spot

    def draw_ahead(self, done: int) -> None:
        """Draw the board after `done` counts in advance."""
        self._parts.draw_ahead(done)

    def lines(self, view: View, width: int, height: int) -> list[Strip]:
        """Return the screen above its key hints: `height` lines of `width` columns."""
        if width < 1 or height < 1:
            return []
        inner = width - 2 if width > _NARROW[0] // 2 else width
        layout, ground = _layout(width, height, finished=view.finished), self.inks.style("text")
        rows = layout(self._parts, view, inner, height)[:height]
        ready = [row if isinstance(row, Abreast) else self.inks.finished(row) for row in rows]
        margin, kept = int(inner < width), self._parts.cache.kept
        lines = [
            kept(y, (row, width), partial(with_margin, row, margin, width, ground))
            for y, row in enumerate(ready)
        ]
        return lines + [Strip.blank(width, ground)] * (height - len(lines))


_Laid: TypeAlias = Row | Abreast
"""What takes one line of the screen."""


class _Layout(Protocol):
    """Makes the lines of a screen from its parts; those beyond `height` are cut off."""

    def __call__(self, parts: Parts, view: View, width: int, height: int) -> Sequence[_Laid]: ...


def _layout(width: int, height: int, *, finished: bool) -> _Layout:
    """Return the layout for a terminal of this size."""
    for (least_width, least_height), layout in (
        (_WIDE, _wide), (_USUAL, _usual), (_NARROW, _narrow),
    ):  # fmt: skip
        if width >= least_width and height >= least_height:
            return finished_lines if finished else layout
    return _tiny


def _wide(parts: Parts, view: View, width: int, height: int) -> list[_Laid]:
    top = _above(parts, view, width, height)
    room = height - len(top) - 1
    left = width - _SIDE - 2
    side = parts.side(view, _SIDE)[:room]
    board = parts.abreast(parts.board(view, left, room, 1), side, left + 2)
    return [*top, *board]


def _usual(parts: Parts, view: View, width: int, height: int) -> list[_Laid]:
    top = _above(parts, view, width, height)
    below: list[_Laid] = [
        parts.labelled("next", view.next, width),
        *cord_columns(parts.plan, parts.inks, view, width),
        Text(_as_fits(view.time, width), parts.ink("text")),
    ]
    return [*top, *parts.board(view, width, height - len(top) - len(below), len(below)), *below]


def _narrow(parts: Parts, view: View, width: int, height: int) -> list[_Laid]:
    count = parts.count(view, width - 12, 3)
    place = [Text(ellipsized(part, 13), parts.ink("quiet")) for part in _place(view)]
    top: list[_Laid] = [*parts.abreast(count, place, width - 13)]
    pressing = view.message or view.paused or view.offer or view.noted or warning(parts.plan, view)
    spoken = parts.aside(view, width, 2) if pressing or height >= _ROOMY else []
    said = parts.said(view, width, 4)
    top += parts.who(view, width, HEIGHTS[-1]) if height >= _LONG else []
    top += said + spoken + parts.unspoken(view, width)
    return [*top, *parts.board(view, width, height - len(top))]


def _tiny(parts: Parts, view: View, width: int, height: int) -> Sequence[_Laid]:
    if view.finished:
        return paragraph(view.sentence, width, height, parts.ink("text", bold=True))
    said = parts.aside(view, width, 1) if view.message else []
    if not said and len(wrapped(view.sentence, width)) >= height:
        at = view.sign or f"{view.number} of {view.of}"
        return paragraph(f"{at}: {view.sentence}", width, height, parts.ink("text", bold=True))
    said += parts.said(view, width, max(1, height - 1))
    count = parts.count(view, width, HEIGHTS[-1] if len(said) + HEIGHTS[-1] <= height else 0)
    return [*count, *said, *parts.unspoken(view, width)]


def _above(parts: Parts, view: View, width: int, height: int) -> list[_Laid]:
    """Return what is above the board where there is room for large digits."""
    rows = _figure_rows(width, height)
    return [*parts.head(view, width), Text(), *_top(parts, view, width, rows)]


def _figure_rows(width: int, height: int) -> int:
    """Return how many lines the count may take."""
    for least_width, least_height, rows in _HUGE:
        if width + 2 >= least_width and height >= least_height:
            return rows
    return 7 if height >= _TALL else 5


def _top(parts: Parts, view: View, width: int, rows: int) -> list[_Laid]:
    """Return the count with who does what and the sentence beside it, and other messages.

    If there is no room for who does what, sentence and messages have all of it.
    """
    tall = next(r for r in HEIGHTS if r <= rows)
    beside_at = parts.count_width(view, tall, width) + 4
    while width - beside_at < _LEAST_WORDS and tall > HEIGHTS[-1]:
        tall = HEIGHTS[HEIGHTS.index(tall) + 1]
        beside_at = parts.count_width(view, tall, width) + 4
    count, room = parts.count(view, beside_at - 4, tall), width - beside_at
    words, aside = parts.call(view, room, rows), parts.aside(view, width, _MOST_BELOW)
    if not words:
        if len(parts.who(view, room, rows)) > 1:
            return _stacked(parts, view, width, (beside_at, rows))
        words = parts.words(view, room, rows)
        if words != parts.said(view, room, rows):
            aside = []  # there was room for it beside the count
    told = [*aside, *parts.unspoken(view, width)]
    told += [Text()] * (bool(aside) and rows > HEIGHTS[-2])
    drawn = parts.abreast(count, words, beside_at)
    return [*drawn, *[Text()] * (rows - len(drawn)), *(told or [Text()])]


def _stacked(parts: Parts, view: View, width: int, at: tuple[int, int]) -> list[_Laid]:
    """Return who does what beside the count, and a long sentence below both."""
    count, who = parts.count(view, at[0] - 4, at[1]), parts.who(view, width - at[0], at[1])
    drawn = parts.abreast(count, who, at[0])
    aside, told = parts.aside(view, width, _MOST_BELOW), parts.unspoken(view, width)
    return [*drawn, *parts.said(view, width, _MOST_SAID), *aside, *told]


def _place(view: View) -> tuple[str, ...]:
    """Return the place in the piece for a few columns."""
    return (f"{view.done} / {view.total}", *map(shortly, view.where[-2:]))


def _as_fits(parts: tuple[str, ...], width: int) -> str:
    """Join the parts if they fit; else without the time so far; else the first ones that fit."""
    shorter = (parts[0], *parts[2:])
    if len(" · ".join(parts)) > width >= len(" · ".join(shorter)):
        parts = shorter
    joined = parts[0]
    for part in parts[1:]:
        if len(joined) + len(part) + 3 > width:
            break
        joined += f" · {part}"
    return joined
