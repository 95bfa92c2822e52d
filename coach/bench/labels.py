"""What stands below the cords of a picture: position numbers, initials and who does what."""

from collections.abc import Iterable, Sequence

from coach.bench.blocks import Frame
from coach.bench.cells import Cell, Line, Part
from coach.plan.model import Count, Plan


def label_lines(
    plan: Plan, done: int, frame: Frame, order: Sequence[int], *, words: bool
) -> list[Line]:
    """Give the lines of position numbers and initials, and one of words if wanted."""
    count = plan.counts[done] if done < plan.total else None
    at = frame.columns(order)
    lines = [_numbers(order, at, count), _initials(plan, order, at)]
    if words:
        lines.append(_words(count, at, plan) if count else {})
    return lines


def initials(cords: Iterable[str]) -> dict[str, str]:
    """Give each cord a letter of its own: its first, else another of it, else any."""
    given: dict[str, str] = {}
    for cord in cords:
        letters = [letter for letter in cord.lower() if letter.isascii() and letter.isalnum()]
        spare = "123456789abcdefghijklmnopqrstuvwxyz"
        given[cord] = next(
            (c for c in (*letters, *spare) if c not in given.values()),
            letters[0] if letters else "?",
        )
    return given


def _at_hand(count: Count | None) -> tuple[int, ...]:
    return (*count.knotters, *count.fillers) if count and count.knot else ()


def _numbers(order: Sequence[int], at: dict[int, int], count: Count | None) -> Line:
    """Number the positions; where they stand too close, those at hand and the fives go first."""
    hand = _at_hand(count)
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
    letters = initials(plan.project.cords)
    return {
        at[strand]: Cell(letters[plan.strands[strand].cord], "initial", strand) for strand in order
    }


def _words(count: Count, at: dict[int, int], plan: Plan) -> Line:
    """Say under the strands at hand who knots and who is knotted onto."""
    line: Line = {}
    if not count.knot:
        return line
    step = plan.steps[count.step]
    holder = step.role in ("row", "weave") and count.fillers[:1] == (step.mover,)
    for strand in count.knotters:
        if strand in at:
            _say(line, at[strand], "knots", strand)
    inner = [strand for strand in count.fillers if strand in at]
    if holder:
        _say(line, at[inner[0]], "holds", inner[0])
    elif len(inner) == 1:
        _say(line, at[inner[0]], "filler", inner[0])
    elif inner:
        middle = (min(at[s] for s in inner) + max(at[s] for s in inner)) // 2
        _say(line, middle, "fillers", None)
    return line


def _say(line: Line, x: int, word: str, strand: int | None) -> None:
    """Put a word under a column, or beside it where another stands."""
    for start in (x - len(word) // 2, x - len(word) + 1, x):
        if start >= 0 and _free(line, start, len(word)):
            line.update({start + i: Cell(char, "word", strand) for i, char in enumerate(word)})
            return


def _put(line: Line, x: int, text: str, part: Part, strand: int) -> None:
    start = x - len(text) // 2
    if _free(line, start, len(text)):
        line.update({start + i: Cell(char, part, strand) for i, char in enumerate(text)})


def _free(line: Line, start: int, length: int) -> bool:
    """Whether there is room with a gap at both sides."""
    return not any(x in line for x in range(start - 1, start + length + 1))
