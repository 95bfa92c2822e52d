"""Lines of the screen for knotting without a pattern, and the page of its help."""

from collections.abc import Iterator, Sequence
from typing import Final

from rich.text import Text

from coach.plan.plan_model import Plan
from coach.recording.examples import BESIDE, FORMS
from coach.session.by_sentence.freehand import Freehand, Line
from coach.session.by_sentence.freehand_words import KEYS, TOLD
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import Glyphs, board_glyphs
from coach.tui.layout.painted_cells import painted
from coach.tui.layout.styled_text import Inks, ends, fitted, paragraph

_MOST: Final = 9
_LOW, _TALL = 16, 24


class GrowingBoard:
    """Draws the board of a piece that grows by sentences, each anew with its plan."""

    def __init__(self, glyphs: Glyphs) -> None:
        """Take what it is drawn with."""
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
    """Return the name of the piece, and how much of it is made."""
    told, short = freehand.so_far(), f"{freehand.made} made"
    told = told if len(freehand.name) + len(told) < width else short
    room = max(1, width - len(told) - 2)
    title = Text(fitted(freehand.name, room), inks.style("text", bold=True))
    return ends(title, Text(told, inks.style("quiet")), width)


def freehand_said(lines: Sequence[Line], inks: Inks, width: int, height: int) -> list[Text]:
    """Return the sentences said last, with their numbers.

    Args:
        lines: All sentences, the first said first.
        inks: What they are written with.
        width: The columns of a line.
        height: The lines of the whole screen, of which they take few.
    """
    first, shown = len(lines) - _rows(height), []
    for number, line in enumerate(lines, start=1):
        if number > first:
            steps = f"  ({line.steps} steps)" if line.steps > 1 else ""
            text = fitted(f"{number}  {line.said}{steps}", width)
            shown.append(Text(text, inks.style("quiet")))
    return shown


def offered(offers: Sequence[str], at: int, inks: Inks, width: int, height: int) -> list[Text]:
    """Return the sentences that are offered, round the one that is marked.

    Args:
        offers: All of them.
        at: The place of the marked one, from 0; -1 for none.
        inks: What they are written with.
        width: The columns of a line.
        height: The lines of the whole screen, of which they take few.
    """
    most = _rows(height)
    first = max(0, min(max(0, at) - most // 2, len(offers) - most))
    rows = []
    for number, offer in list(enumerate(offers))[first : first + most]:
        ink = inks.style("text", bold=True) if number == at else inks.style("quiet")
        rows.append(Text(("> " if number == at else "  ") + fitted(offer, width - 2), ink))
    return rows + [Text()] * (most - len(rows))


def _rows(height: int) -> int:
    """Return how many lines of a kind a screen has room for."""
    return 1 if height < _LOW else 2 if height < _TALL else 4


def freehand_lines(inks: Inks, width: int) -> list[Text]:
    """Return the keys, and all that can be said."""
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
