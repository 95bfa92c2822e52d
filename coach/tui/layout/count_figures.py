"""The count in large digits, or the sign of a step without anything to count."""

from collections.abc import Sequence
from typing import Final

from rich.segment import Segment
from rich.text import Text
from textual.strip import Strip

from coach.session.view_model import View
from coach.tui.layout.large_print import HEIGHTS, fitting_sign, large, large_width, large_word
from coach.tui.layout.styled_text import Inks, Row, ellipsized

_LEAST: Final = 8  # a step of fewer ties takes as many columns, so that short steps look alike
_BETWEEN: Final = 4  # columns of " of "


def count_lines(view: View, inks: Inks, width: int, rows: int) -> Sequence[Row]:
    """Return the count in the tallest digits that fit, the step's number beside it.

    Args:
        view: The view; a step of one count has a sign instead of digits.
        inks: The styles.
        width: The columns that there are.
        rows: The lines that there are.
    """
    if view.of == 1:
        drawn = fitting_sign(view.sign, rows, width, plain=inks.plain)
        return [Text(line, inks.style("figure", bold=True)) for line in drawn]
    for tall in (size for size in HEIGHTS if size <= rows):
        small = _smaller(tall)
        if large_width(view.of, tall) + large_width(view.of, small) + _BETWEEN <= width:
            return _figures(view, inks, tall, small)
        if large_width(view.of, tall) + len(f" of {view.of}") <= width:
            return _figures(view, inks, tall, 0)
    told = ellipsized(f"{view.number} of {view.of}", width)
    return [Text(told, inks.style("figure", bold=True))]


def count_width(view: View, rows: int, width: int) -> int:
    """Return the columns to reserve for the count during its step, so that nothing moves.

    Args:
        view: The view.
        rows: The height of the digits, in lines.
        width: The most columns.
    """
    if view.sign:
        return min(width, len(large_word(view.sign, rows)[0]))
    widest = large_width(max(view.of, _LEAST), rows)
    return min(width, widest + _BETWEEN + large_width(view.of, _smaller(rows)))


def _smaller(rows: int) -> int:
    """Return the next height down that figures come in; the lowest stays."""
    return HEIGHTS[min(HEIGHTS.index(rows) + 1, len(HEIGHTS) - 1)]


def _figures(view: View, inks: Inks, tall: int, small: int) -> list[Row]:
    """Return both numbers; that of the step in plain type if `small` is 0."""
    left = large(view.number, tall, plain=inks.plain)
    right = large(view.of, small, plain=inks.plain) if small else [str(view.of)]
    right = [" " * len(right[0])] * (tall - len(right)) + right
    styles = inks.style("figure", bold=True), inks.style("text"), inks.style("quiet")
    middle = [*[" " * _BETWEEN] * (tall - 1), " of "]
    return [Strip(map(Segment, row, styles)) for row in zip(left, middle, right, strict=True)]
