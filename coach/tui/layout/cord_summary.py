"""Cord left as styled lines."""

from collections.abc import Sequence
from typing import Final

from rich.cells import cell_len, set_cell_size
from rich.style import Style
from rich.text import Text

from coach.plan.cord.cord_left import StrandLeft
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import strand_short
from coach.session.time_format import length_span
from coach.session.view_model import CORDS, View
from coach.settings.settings import Units
from coach.tui.layout.styled_text import Inks, ellipsized, exact_width, written

_LABEL: Final = 10
_COLUMN: Final = 22
_NAME: Final = 10
_LENGTH: Final = 13


def cord_columns(plan: Plan, inks: Inks, view: View, width: int) -> list[Text]:
    """Return the first strands side by side on two lines: cord left now, and at the end."""
    shown = view.cords[: min(CORDS, max(0, width - _LABEL) // _COLUMN)]
    if not shown:
        return []
    column = (width - _LABEL) // len(shown)
    column = max(_COLUMN, min(column, _LENGTH + max(map(cell_len, cord_names(plan, view)))))
    now = Text(f"{'cord left':<{_LABEL}}", inks.style("quiet"))
    end = Text(f"{'at the end':<{_LABEL}}", inks.style("quiet"))
    for name, left in zip(cord_names(plan, view), shown, strict=False):
        named = Text(ellipsized(name, column - _LENGTH) + " ", inks.style("text", bold=True))
        now += exact_width(named + Text(*_length(inks, left, view.units, end=False)), column)
        below = Text(" " * named.cell_len) + Text(*_length(inks, left, view.units, end=True))
        end += exact_width(below, column)
    return [now, end]


def cord_names(plan: Plan, view: View) -> tuple[str, ...]:
    """Return the short names of the strands in `view.cords`, as on the board."""
    return tuple(strand_short(plan, left.strand, view.order) for left in view.cords)


def cord_rows(
    names: Sequence[str],
    inks: Inks,
    cords: Sequence[StrandLeft],
    width: int,
    *,
    end_only: bool = False,
    units: Units = "cm",
) -> list[Text]:
    """Return a line for each strand: its name, the cord left now, and at the end.

    Args:
        names: What the strands are called.
        inks: What is written with.
        cords: The cord left of each strand.
        width: The columns that there are.
        end_only: Whether to leave out the cord left now.
        units: The units of lengths.
    """
    room, lines = name_room(names, width), []
    for name, left in zip(names, cords, strict=True):
        parts = [(set_cell_size(ellipsized(name, room), room + 1), inks.style("text", bold=True))]
        if not end_only:
            now, ink = _length(inks, left, units, end=False)
            parts.append((set_cell_size(now, _LENGTH), ink))
        lines.append(exact_width(written(*parts, _length(inks, left, units, end=True)), width))
    return lines


def name_room(names: Sequence[str], width: int) -> int:
    """Return the columns for the names in `cord_rows`, so that two lengths fit beside."""
    return max(_NAME, min(max(map(cell_len, names), default=0), width - 2 * _LENGTH))


def _length(inks: Inks, left: StrandLeft, units: Units, *, end: bool) -> tuple[str, Style]:
    low, high = (left.end_low_mm, left.end_high_mm) if end else (left.now_low_mm, left.now_high_mm)
    ink = inks.style("warning", bold=True) if left.short else inks.style("text")
    sign = "! " if left.short and end else ""
    return sign + length_span(low, high, units), ink
