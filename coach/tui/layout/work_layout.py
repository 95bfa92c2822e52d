"""The work screen as lines of text, for any size of terminal."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest
from typing import TYPE_CHECKING, Any, Final, TypeAlias, TypeVar

from rich.segment import Segment
from rich.style import Style
from rich.text import Text
from textual.strip import Strip

from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import strand_short
from coach.session.cord_warning import warning
from coach.session.keymap import Keys
from coach.session.view_model import CORDS, CORDS_OVER, View
from coach.settings.settings import Units
from coach.tui.drawing.board_picture import picture
from coach.tui.drawing.cells import UNICODE, Glyphs
from coach.tui.layout.big_digits import HEIGHTS, large, large_width
from coach.tui.layout.big_words import fitting_sign, large_word
from coach.tui.layout.cord_summary import cord_columns, cord_rows
from coach.tui.layout.progress_bar import bar
from coach.tui.layout.styled_text import Inks, abreast, ends, fitted, paragraph, within

if TYPE_CHECKING:
    from coach.plan.cord.cord_left import StrandLeft

_WIDE: Final = (100, 30)
_USUAL: Final = (80, 24)
_NARROW: Final = (40, 12)
_TALL: Final = 28  # rows from which on the usual screen has room for the largest figures
_SIDE: Final = 36  # the right column of the wide screen
_ROOMY: Final = 16  # rows from which on the narrow screen has room for notes
_LEAST_WORDS: Final = 30  # columns that a sentence needs beside the count
_ROOM: Final = (  # which of them come first where there is little room
    "count", "take_back", "help", "leave", "rest", "before", "note", "cords", "plan", "pause",
    "restart",
)  # fmt: skip
Made = TypeVar("Made")
Row: TypeAlias = Text | Strip  # a line that is written, or one that is finished
_FOOTER: Final = (
    "count",
    "take_back",
    "rest",
    "restart",
    "pause",
    "before",
    "note",
    "cords",
    "plan",
    "help",
    "leave",
)


@dataclass(frozen=True, slots=True)
class Face:
    """What stays the same from frame to frame."""

    plan: Plan
    inks: Inks
    keys: Keys
    glyphs: Glyphs = UNICODE
    _made: dict[object, tuple[tuple[Any, ...], Any]] = field(default_factory=dict, compare=False)

    def lines(self, view: View, width: int, height: int) -> list[Strip]:
        """Return the whole screen: `height` lines of `width` columns."""
        if width < 1 or height < 1:
            return []
        layout = _layout(width, height, finished=view.finished)
        rows = self._laid_out(layout, view, width, height)
        return rows + [Strip.blank(width, self.ink("text"))] * (height - len(rows))

    def first(self, view: View, width: int, height: int) -> list[Strip]:
        """Return the first lines, with the count in them, where the rest takes longer to draw."""
        layout = _layout(width, height, finished=view.finished)
        return self._laid_out(_above, view, width, height) if layout in (_usual, _wide) else []

    def _laid_out(self, layout: "_Layout", view: View, width: int, height: int) -> list[Strip]:
        inner = width - 2 if width > _NARROW[0] // 2 else width
        rows = self.finished(layout(self, view, inner, height)[:height])
        size = int(inner < width), width, self.ink("text")
        return [self.kept(("row", y), within, row, *size) for y, row in enumerate(rows)]

    def kept(self, name: object, make: Callable[..., Made], *of: Any) -> Made:
        """Return a part of the screen; it is made anew only where it is made of other things."""
        made = self._made.get(name)
        if made is None or made[0] != of:
            made = self._made[name] = of, make(*of)
        return made[1]

    def finished(self, rows: Iterable[Row]) -> list[Strip]:
        """Return lines as the terminal gets them."""
        return [self.inks.finished(row) if isinstance(row, Text) else row for row in rows]

    def abreast(self, left: Sequence[Row], right: Sequence[Row], at: int) -> list[Strip]:
        """Put lines side by side, the right ones beginning at column `at`."""
        rows = zip_longest(self.finished(left), self.finished(right), fillvalue=Strip.blank(0))
        ground = self.ink("text")
        return [self.kept((at, y), abreast, *row, at, ground) for y, row in enumerate(rows)]

    def ink(self, name: str, *, bold: bool = False) -> Style:
        """Return one of the palette's styles."""
        return self.inks.style(name, bold=bold)

    def board(self, view: View, width: int, height: int) -> list[Strip]:
        """Return the picture of the board."""
        if height < 2 or width < 8:  # noqa: PLR2004 - too little to show a strand and its number
            return []
        drawn = picture(self.plan, view.done, width, height, self.glyphs)
        return [self.kept(y, self.inks.row, row) for y, row in enumerate(drawn.rows)]

    def count(self, view: View, width: int, rows: int) -> Sequence[Row]:
        """Return the count in the tallest figures that leave room, the step's number beside it."""
        if view.of == 1:
            return self._sign(view, width, rows)
        for tall in (size for size in HEIGHTS if size <= rows):
            small = HEIGHTS[HEIGHTS.index(tall) + 1] if tall > HEIGHTS[-1] else tall
            if large_width(view.of, tall) + large_width(view.of, small) + 4 <= width:
                return self._figures(view, tall, small)
            if large_width(view.of, tall) + len(f" of {view.of}") <= width:
                return self._figures(view, tall, 0)
        return [Text(fitted(f"{view.number} of {view.of}", width), self.ink("figure", bold=True))]

    def _figures(self, view: View, tall: int, small: int) -> list[Row]:
        plain = self.glyphs is not UNICODE
        left = large(view.number, tall, plain=plain)
        right = large(view.of, small, plain=plain) if small else [str(view.of)]
        right = [" " * len(right[0])] * (tall - len(right)) + right
        inks = self.ink("figure", bold=True), self.ink("text"), self.ink("quiet")
        middle = [*["    "] * (tall - 1), " of "]
        parts = zip(left, middle, right, strict=True)
        return [Strip(map(Segment, row, inks)) for row in parts]

    def _sign(self, view: View, width: int, rows: int) -> list[Text]:
        """Return one large word in the place of a count of one; a single tie is a large 1."""
        drawn = fitting_sign(view.sign, rows, width, plain=self.glyphs is not UNICODE)
        return [Text(line, self.ink("figure", bold=True)) for line in drawn]

    def count_width(self, view: View, rows: int, width: int) -> int:
        """Return how wide the count gets in this step, so that nothing beside it moves."""
        if view.sign:
            return min(width, len(large_word(view.sign, rows)[0]))
        widest = max(view.of, 8)
        small = HEIGHTS[min(HEIGHTS.index(rows) + 1, len(HEIGHTS) - 1)]
        return min(width, large_width(widest, rows) + 4 + large_width(view.of, small))

    def head(self, view: View, width: int) -> list[Row]:
        """Return the title with the place in the piece, and the bar for the whole."""
        title = self.kept("title", self._title, view.title, view.where, width)
        return [title, bar(self.inks, self.glyphs, view.done, view.total, width)]

    def _title(self, called: str, where: tuple[str, ...], width: int) -> Strip:
        place = Text(fitted(" · ".join(where), 2 * width // 3), self.ink("quiet"))
        title = Text(fitted(called, width - place.cell_len - 2), self.ink("text", bold=True))
        return self.inks.finished(ends(title, place, width))

    def words(self, view: View, width: int, most: int) -> list[Text]:
        """Return the sentence, and under it what the maker must know besides."""
        said = self.said(view, width, most)
        aside = self.aside(view, width, max(0, min(3, most - len(said) - 1)))
        return [*said, Text(), *aside] if aside else said

    def said(self, view: View, width: int, most: int) -> list[Text]:
        """Return the sentence, and before it which pass of the tie comes next, where they count."""
        number, of = view.passing
        lines = [Text(f"Pass {number} of {of}", self.ink("figure", bold=True))] if of else []
        return [
            *lines,
            *paragraph(view.sentence, width, most - len(lines), self.ink("text", bold=True)),
        ]

    def aside(self, view: View, width: int, most: int) -> list[Text]:
        """Return what is to be said besides, the most pressing first: a message, a note."""
        pressing = self._pressing(view, width, most)
        told = " ".join(filter(None, (*view.noted, view.offer, *view.notes)))
        room = most - len(pressing)
        return [*pressing, *(paragraph(told, width, room, self.ink("quiet")) if told else [])]

    def _pressing(self, view: View, width: int, most: int) -> list[Text]:
        if view.message:
            return paragraph(view.message, width, most, self.ink("figure"))
        if view.paused:
            going = f"The clock stands still. {self.keys.shown('pause')} lets it go on."
            return paragraph(going, width, most, self.ink("figure"))
        short = warning(self.plan, view)
        return paragraph(short, width, most, self.ink("warning", bold=True)) if short else []

    def unspoken(self, view: View, width: int) -> list[Text]:
        """Return what keeps the coach from speaking, below all else that is said."""
        return paragraph(view.unspoken, width, 2, self.ink("quiet"))

    def footer(self, width: int, view: View) -> Strip:
        """Return the keys that are set, as many as fit; help comes before the rest."""
        return self.kept("footer", self._footer, width, view.any_key)

    def _footer(self, width: int, any_key: bool) -> Strip:
        line, used = Text(), 0
        parts = {a.id: (self.keys.shown(a.id), a.short) for a in self.keys.actions if a.keys}
        if any_key:
            back = {"take_back": parts["take_back"]} if "take_back" in parts else {}
            parts = {"count": ("any key", "made"), **back, "leave": ("escape", "only set keys")}
        room = [name for name in _ROOM if name in parts]
        taken = set()
        for name in room:
            length = sum(map(len, parts[name])) + 3
            if used + length <= width + 2:
                taken.add(name)
                used += length
        for name in (name for name in _FOOTER if name in taken):
            key, what = parts[name]
            line += Text("  " if line else "") + Text(key, self.ink("figure", bold=True))
            line += Text(f" {what}", self.ink("quiet"))
        return self.inks.finished(line)

    def names(self, view: View) -> tuple[str, ...]:
        """Return the strands of which cord left is told, named as beside the board's numbers."""
        return tuple(strand_short(self.plan, left.strand, view.order) for left in view.cords)

    def labelled(self, label: str, text: str, width: int) -> Text:
        """Return one line that begins with what it is about."""
        first = Text(f"{label:<10}", self.ink("quiet"))
        return first + Text(fitted(text, width - 10), self.ink("text"))


_Layout = Callable[[Face, View, int, int], Sequence[Row]]


def _layout(width: int, height: int, *, finished: bool) -> _Layout:
    """Choose the layout for a terminal of this size."""
    for (least_width, least_height), layout in (
        (_WIDE, _wide), (_USUAL, _usual), (_NARROW, _narrow),
    ):  # fmt: skip
        if width >= least_width and height >= least_height:
            return _finished if finished else layout
    return _tiny


def _top(face: Face, view: View, width: int, rows: int) -> list[Row]:
    """Return the count with the sentence beside it, on `rows` + 1 lines."""
    tall = next(r for r in HEIGHTS if r <= rows)
    beside_at = face.count_width(view, tall, width) + 4
    while width - beside_at < _LEAST_WORDS and tall > HEIGHTS[-1]:
        tall = HEIGHTS[HEIGHTS.index(tall) + 1]
        beside_at = face.count_width(view, tall, width) + 4
    count = face.count(view, beside_at - 4, tall)
    drawn = face.abreast(count, face.words(view, width - beside_at, rows), beside_at)
    return [*drawn, *[Text()] * (rows - len(drawn))]


def _finished(face: Face, view: View, width: int, height: int) -> list[Row]:
    """Say what was made, how long it took and what cord is over, above the finished work."""
    shown = view.cords[: min(CORDS_OVER, max(1, height // 3 - 3))]
    names = face.names(view)
    over = cord_rows(names[: len(shown)], face.inks, shown, width, end_only=True, units=view.units)
    lines = [
        *face.head(view, width),
        *([Text()] if height >= _USUAL[1] else []),
        Text(fitted(f"Finished: all {view.total} made.", width), face.ink("figure", bold=True)),
        *paragraph(view.message or view.sentence, width, 2, face.ink("text", bold=True)),
        *face.unspoken(view, width),
        face.labelled("worked", _as_fits(view.time, width - 10), width),
        Text(fitted("cord over, tails and all", width), face.ink("quiet")),
        *over,
    ]
    return [*lines, *face.board(view, width, height - len(lines) - 1), face.footer(width, view)]


def _above(face: Face, view: View, width: int, height: int) -> list[Row]:
    """Return what stands above the board where there is room for large figures."""
    rows = 7 if height >= _TALL else 5
    told = face.unspoken(view, width) or [Text()]
    return [*face.head(view, width), Text(), *_top(face, view, width, rows), *told]


def _usual(face: Face, view: View, width: int, height: int) -> list[Row]:
    top = _above(face, view, width, height)
    below: list[Row] = [
        face.labelled("next", view.next, width),
        *cord_columns(face.plan, face.inks, view, width),
        Text(_as_fits(view.time, width), face.ink("text")),
        face.footer(width, view),
    ]
    return [*top, *face.board(view, width, height - len(top) - len(below)), *below]


def _as_fits(parts: tuple[str, ...], width: int) -> str:
    """Join the first parts that fit."""
    joined = parts[0]
    for part in parts[1:]:
        if len(joined) + len(part) + 3 > width:
            break
        joined += f" · {part}"
    return joined


def _wide(face: Face, view: View, width: int, height: int) -> list[Row]:
    top = _above(face, view, width, height)
    room = height - len(top) - 2
    left = width - _SIDE - 2
    told = (view.next, view.cords[:CORDS], face.names(view)[:CORDS], view.units, view.time)
    side = face.kept("side", _side, face, told, _SIDE, room)
    board = face.abreast(face.board(view, left, room), side, left + 2)
    return [*top, *board, Text(), face.footer(width, view)]


def _side(
    face: Face,
    told: tuple[str, tuple["StrandLeft", ...], tuple[str, ...], Units, tuple[str, ...]],
    width: int,
    most: int,
) -> list[Strip]:
    """Return the right column of the wide screen: the next step, cord left, the time."""
    heading, (step, cords, names, units, time) = face.ink("quiet"), told
    lines = [
        Text("next", heading),
        *paragraph(step, width, 3, face.ink("text")),
        Text(),
        Text("cord left: now, and at the end", heading),
        *cord_rows(names, face.inks, cords, width, units=units),
        Text(),
        Text("time", heading),
        *(Text(fitted(part, width), face.ink("text")) for part in time),
    ]
    return face.finished(lines[:most])


def _narrow(face: Face, view: View, width: int, height: int) -> list[Row]:
    count = face.count(view, width - 12, 3)
    place = [Text(fitted(part, 13), face.ink("quiet")) for part in _place(view)]
    top: list[Row] = [*face.abreast(count, place, width - 13)]
    pressing = view.message or view.paused or view.offer or view.noted or warning(face.plan, view)
    spoken = face.aside(view, width, 2) if pressing or height >= _ROOMY else []
    said = face.said(view, width, 4)
    top += said + spoken + face.unspoken(view, width)
    board = face.board(view, width, height - len(top) - 1)
    return [*top, *board, face.footer(width, view)]


def _place(view: View) -> tuple[str, ...]:
    """Return the place in the piece for a few columns."""
    return (f"{view.done} / {view.total}", *view.where[-2:])


def _tiny(face: Face, view: View, width: int, height: int) -> Sequence[Row]:
    if view.finished:
        return paragraph(view.sentence, width, height, face.ink("text", bold=True))
    said = face.aside(view, width, 1) if view.message else []
    said += face.said(view, width, max(1, height - 1))
    count = face.count(view, width, HEIGHTS[-1] if len(said) + HEIGHTS[-1] <= height else 0)
    return [*count, *said, *face.unspoken(view, width)][:height]
