"""The labels below the cords of a picture: position numbers, initials, and who does what."""

from collections import Counter
from collections.abc import Container, Iterable, Sequence
from typing import Final

from coach.plan.plan_model import Count, Plan, PlannedStep, once
from coach.tui.drawing.board_frame import ColumnGrid
from coach.tui.drawing.cells import Cell, Line, Part

_SPARE: Final = "123456789abcdefghijklmnopqrstuvwxyz"
_PAIR: Final = 2
_CLOSE: Final = 6  # columns within which two words would stand on each other


def label_lines(
    plan: Plan, done: int, frame: ColumnGrid, order: Sequence[int], *, words: bool
) -> list[Line]:
    """Return the lines below the board: position numbers, initials, and words if wanted.

    Args:
        plan: The plan.
        done: How many counts are made; the strands of the next one are highlighted.
        frame: The columns of the strands.
        order: The strands as they hang, from the left.
        words: Whether a line says who knots and who holds.
    """
    count = plan.counts[done] if done < plan.total else None
    at = frame.columns(order)
    lines = [_numbers(order, at, count), _initials(plan, order, at)]
    if words:
        lines.append(_words(count, at, plan.step_of(done)) if count else {})
    return lines


def short_marked(labels: Sequence[Sequence[Cell]], short: Container[int]) -> list[list[Cell]]:
    """Return the labels with a sign instead of the initial for each strand short of cord."""
    return [
        [
            Cell("!", "short", cell.strand)
            if cell.part == "initial" and cell.strand in short
            else cell
            for cell in line
        ]
        for line in labels
    ]


def initials(cords: Iterable[str]) -> dict[str, str]:
    """Return a letter for each cord: its first that is free, else another of it, else any.

    Where there are more cords than letters and figures, each stands for about as many.
    """
    given: dict[str, str] = {}
    times: Counter[str] = Counter()
    for cord in cords:
        letters = [letter for letter in cord.lower() if letter.isascii() and letter.isalnum()]
        given[cord] = min((*letters, *_SPARE), key=times.__getitem__)
        times[given[cord]] += 1
    return given


def _at_hand(order: Sequence[int], count: Count | None) -> tuple[int, ...]:
    """Return the strands of the next count; none if a step without a knot takes them all."""
    strands = (*count.knotters, *count.fillers) if count else ()
    return strands if count and (count.knot or len(strands) < len(order)) else ()


def _numbers(order: Sequence[int], at: dict[int, int], count: Count | None) -> Line:
    """Return the position numbers; if they are too close, current ones and fives take priority."""
    hand = _at_hand(order, count)
    line: Line = {}

    def rank(place: int) -> int:
        if order[place] in hand:
            return 0
        return 1 if place in (0, len(order) - 1) else 2 if (place + 1) % 5 == 0 else 3

    for place in sorted(range(len(order)), key=rank):
        strand = order[place]
        part: Part = "here" if strand in hand else "number"
        _put(line, at[strand], str(place + 1), part, strand)
    return line


def _initials(plan: Plan, order: Sequence[int], at: dict[int, int]) -> Line:
    letters = _letters(plan)
    return {
        at[strand]: Cell(letters[plan.strands[strand].cord], "initial", strand) for strand in order
    }


@once
def _letters(plan: Plan) -> dict[str, str]:
    return initials(plan.project.cords)


def _words(count: Count, at: dict[int, int], step: PlannedStep) -> Line:
    """Return under the current strands who knots and who is knotted onto."""
    if not count.knot:
        return {}
    holder = step.role in ("row", "weave") and count.fillers[:1] == (step.mover,)
    said = _said([at[s] for s in count.knotters if s in at], "knots", "bundle")
    one = "holds" if holder else "filler"
    said += _said([at[s] for s in count.fillers if s in at], one, "fillers")
    line: Line = {}
    said.sort()
    for place, (x, word) in enumerate(said):
        near = [abs(other - x) for other, _ in said if other != x]
        start = x - len(word) // 2
        if near and min(near) <= _CLOSE and place in (0, len(said) - 1):
            # The outer words stand away from each other, so that all find room.
            start = x if place else x - len(word) + 1
        _say(line, max(0, start), word)
    return line


def _said(xs: list[int], one: str, many: str) -> list[tuple[int, str]]:
    """Return a word for each of one or two knotting columns, or one for all between them."""
    if not xs:
        return []
    if len(xs) == 1 or (one == "knots" and len(xs) == _PAIR):
        return [(x, one) for x in xs]
    return [((min(xs) + max(xs)) // 2, many)]


def _say(line: Line, start: int, word: str) -> None:
    if _free(line, start, len(word)):
        line.update({start + i: Cell(char, "word") for i, char in enumerate(word)})


def _put(line: Line, x: int, text: str, part: Part, strand: int) -> None:
    start = x - len(text) // 2
    if _free(line, start, len(text)):
        line.update({start + i: Cell(char, part, strand) for i, char in enumerate(text)})


def _free(line: Line, start: int, length: int) -> bool:
    """Return whether there is room with a gap at both sides."""
    return not any(x in line for x in range(start - 1, start + length + 1))
