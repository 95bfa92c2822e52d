"""The boxes of an order's cutting and hanging list, in the order of the work."""

from collections.abc import Sequence
from typing import TypeAlias

from coach.desk.batch_lines import CUT, MARKS, BatchLine, Cord

Box: TypeAlias = tuple[int, str]
"""A line of the list by its place, and one of `MARKS`."""


def boxes_in_order(lines: Sequence[BatchLine]) -> list[Box]:
    """Return all boxes in working order: each line cut and labelled, then all hung."""
    made = [(n, m) for n, line in enumerate(lines) for m in line.marks if m != MARKS[-1]]
    return [*made, *((n, MARKS[-1]) for n, line in enumerate(lines) if line.hung)]


def open_after(lines: Sequence[BatchLine], after: Box | None) -> Box | None:
    """Return the next box that is not full, wrapping round; None if all are."""
    order = boxes_in_order(lines)
    start = order.index(after) + 1 if after in order else 0
    turn = (*order[start:], *order[:start])
    return next((box for box in turn if lines[box[0]].open(box[1])), None)


def last_ticked(lines: Sequence[BatchLine], at: Box | None) -> tuple[Box, Cord, str] | None:
    """Return the last tick in the current box, or in the nearest one before it with any.

    It comes with its box and its mark, which is another one where a length was cut again.
    """
    order = boxes_in_order(lines)
    start = order.index(at) if at else len(order) - 1
    for box in (*order[start::-1], *order[:start:-1]):
        line, mark = lines[box[0]], box[1]
        ticked = [(one, mark) for one in line.pieces if one not in line.open(mark)]
        if ticked:
            return (box, *(*ticked, *(line.again if mark == CUT else ()))[-1])
    return None


def far(lines: Sequence[BatchLine]) -> tuple[int, int]:
    """Return how many ticks are set, and of how many."""
    order = boxes_in_order(lines)
    done = sum(lines[place].ticked(mark) for place, mark in order)
    return done, sum(len(lines[place].pieces) for place, _ in order)
