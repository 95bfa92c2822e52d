"""The lines of the screen for knotting without a pattern, and of its help page."""

from collections.abc import Iterator, Sequence
from typing import Final

from rich.text import Text

from coach.plan.plan_model import Plan
from coach.recording.examples import BESIDE, FORMS
from coach.session.by_sentence.freehand import KEYS, TOLD, Freehand, SentenceLine
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import Glyphs, board_glyphs
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.styled_text import Inks, ellipsized, ends, paragraph

_MOST: Final = 9
_LOW, _TALL = 16, 24


class GrowingBoard:
    """Draws the board of a piece that grows by sentences."""

    def __init__(self, glyphs: Glyphs) -> None:
        """Set the characters."""
        self._glyphs = glyphs
        self._plan: Plan | None = None

    def rows(self, freehand: Freehand, inks: Inks, width: int, height: int) -> list[Text]:
        """Return the board as it hangs now."""
        if self._plan is not freehand.plan:
            self._plan = freehand.plan
            glyphs = board_glyphs(self._glyphs, shaded=inks.shaded)
            self._drawing = BoardDrawing(freehand.plan, glyphs)
        return painted(self._drawing.picture(freehand.made, width, height).rows, inks)


def freehand_head(freehand: Freehand, inks: Inks, width: int) -> Text:
    """Return the title of the piece, and how much of it is made."""
    told, short = freehand.so_far(), f"{freehand.made} made"
    told = told if len(freehand.name) + len(told) < width else short
    room = max(1, width - len(told) - 2)
    title = Text(ellipsized(freehand.name, room), inks.style("text", bold=True))
    return ends(title, Text(told, inks.style("quiet")), width)


def freehand_said(lines: Sequence[SentenceLine], inks: Inks, width: int, height: int) -> list[Text]:
    """Return the last sentences, with their numbers.

    Args:
        lines: All sentences, the first said first.
        inks: The styles.
        width: The columns of a line.
        height: The lines of the whole screen, of which they take few.
    """
    first, shown = len(lines) - _rows(height), []
    for number, line in enumerate(lines, start=1):
        if number > first:
            steps = f"  ({line.steps} steps)" if line.steps > 1 else ""
            text = ellipsized(f"{number}  {line.said}{steps}", width)
            shown.append(Text(text, inks.style("quiet")))
    return shown


class Offers:
    """The sentences offered below the work; one of them may be marked."""

    def __init__(self) -> None:
        """Begin with none."""
        self._all: Sequence[str] = ()
        self._at = -1
        self._shown = range(0)

    def fill(self, offers: Sequence[str]) -> None:
        """Offer these, none of them marked."""
        self._all, self._at = offers, -1

    def mark(self, step: int) -> None:
        """Mark another one; a step before the first marks none."""
        self._at = max(-1, min(self._at + step, len(self._all) - 1))

    @property
    def marked(self) -> str:
        """The marked one; "" for none."""
        return self._all[self._at] if self._at >= 0 else ""

    @property
    def nearest(self) -> str:
        """The marked one, else the first; "" where there is none."""
        return self.marked or next(iter(self._all), "")

    def lines(self, inks: Inks, width: int, height: int) -> list[Text]:
        """Return those around the marked one.

        Args:
            inks: The styles.
            width: The columns of a line.
            height: The lines of the whole screen, of which they take few.
        """
        most = _rows(height)
        first = max(0, min(max(0, self._at) - most // 2, len(self._all) - most))
        self._shown = range(first, min(first + most, len(self._all)))
        rows = [self._line(number, inks, width) for number in self._shown]
        return rows + [Text()] * (most - len(rows))

    def _line(self, number: int, inks: Inks, width: int) -> Text:
        here = number == self._at
        ink = inks.style("text", bold=True) if here else inks.style("quiet")
        return Text(("> " if here else "  ") + ellipsized(self._all[number], width - 2), ink)

    def tapped(self, row: int, height: int) -> str:
        """Return the sentence on a row of the screen, whose last rows they are; "" for none."""
        at = row - (height - _rows(height))
        return self._all[self._shown[at]] if 0 <= at < len(self._shown) else ""


def _rows(height: int) -> int:
    """Return how many lines of a kind a screen has room for."""
    return 1 if height < _LOW else 2 if height < _TALL else 4


def freehand_lines(inks: Inks, width: int) -> list[Text]:
    """Return the help page: the keys, and all forms of sentences."""
    lines = [Text("Knotting without a pattern", inks.style("text", bold=True))]
    for key, told in KEYS:
        lines += [Text(), *paragraph(key, width, 2, inks.style("figure", bold=True))]
        lines += paragraph(told, width, _MOST, inks.style("text"))
    for told in TOLD:
        lines += [Text(), *paragraph(told, width, _MOST, inks.style("quiet"))]
    lines += [*_examples("What you can say of a step", FORMS, inks, width)]
    lines += [*_examples("And beside it", BESIDE, inks, width)]
    return lines


def _examples(heading: str, forms: Sequence[str], inks: Inks, width: int) -> Iterator[Text]:
    yield from (Text(), Text(heading, inks.style("quiet")))
    for form in forms:
        yield from paragraph(form, width, _MOST, inks.style("text"))
