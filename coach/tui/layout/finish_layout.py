"""The screen of a finished piece: what it took on the left, its picture on the right."""

from typing import Final

from rich.text import Text

from coach.plan.wording.sentences import ADMIRE
from coach.session.view_model import CORDS_OVER, View
from coach.tui.drawing.cells import BLANK
from coach.tui.drawing.shrunk_picture import least_width, shrink_picture
from coach.tui.layout.cord_summary import cord_names, cord_rows
from coach.tui.layout.finished_lines import Abreast
from coach.tui.layout.large_print import HEIGHTS, fitting_sign
from coach.tui.layout.styled_text import Row, ellipsized, paragraph
from coach.tui.layout.work_parts import Parts

_LEAST_TOLD: Final = 25  # columns of what is told
_GAP: Final = 2
_OVER: Final = "cord over, tails and all"
_ROOMY: Final = 18  # rows from which there are blank lines and a large word
_LARGE: Final = ((44, 11), (35, 9), (27, 7), (_ROOMY, 5))
"""Rows of the screen from which the word has so many lines."""
_MOST_LEARNT: Final = 5  # lines of what was learnt


def finished_lines(parts: Parts, view: View, width: int, height: int) -> list[Row | Abreast]:
    """Return what was made, how long it took and what cord is left, beside the picture."""
    head = parts.head(view, width)
    room, left = height - len(head), max(_LEAST_TOLD, width // 2 - _GAP)
    told = _told(parts, view, left, room)
    return [
        *head,
        *parts.abreast(told, _whole(parts, width - left - _GAP, room), left + _GAP),
    ]


def _told(parts: Parts, view: View, width: int, height: int) -> list[Text]:
    """Return the words, the most welcome first, as many as fit."""
    blank = [Text()] if height >= _ROOMY else []
    shown = view.cords[: min(CORDS_OVER, max(1, height // 3 - 2))]
    names = cord_names(parts.plan, view)[: len(shown)]
    over = cord_rows(names, parts.inks, shown, width, end_only=True, units=view.units)
    said = view.message or ADMIRE
    lines = [
        *blank, *_large(parts, width, height), *blank,
        Text(
            ellipsized(f"Finished: all {view.total} made.", width), parts.ink("figure", bold=True)
        ),
        *paragraph(said, width, 3, parts.ink("text", bold=True)),
        *parts.unspoken(view, width), *blank,
        Text(ellipsized(f"worked {', '.join(view.time)}", width), parts.ink("text")), *blank,
        *([Text(ellipsized(_OVER, width), parts.ink("quiet"))] if over else []),
        *over, *blank,
    ]  # fmt: skip
    return [*lines, *parts.learnt(width, min(_MOST_LEARNT, height - len(lines)))][:height]


def _large(parts: Parts, width: int, height: int) -> list[Text]:
    rows = next((rows for least, rows in _LARGE if height >= least), 0)
    if rows not in HEIGHTS:
        return []
    drawn = fitting_sign("DONE", rows, width, plain=parts.inks.plain)
    return [Text(line, parts.ink("figure", bold=True)) for line in drawn]


def _whole(parts: Parts, width: int, height: int) -> list[Row]:
    """Return the picture of the whole piece, small enough to fit from top to bottom."""
    parts.spot.picture = None
    of = (width, height)
    return parts.cache.kept("whole", of, lambda: _drawn(parts, width, height))


def _drawn(parts: Parts, width: int, height: int) -> list[Row]:
    rows = parts.drawing.whole(max(width, least_width(parts.plan)))
    small = shrink_picture(rows, width, height)
    margin = max(0, width - len(small[0])) // 2 if small else 0
    return [parts.inks.row([BLANK] * margin + row) for row in small]
