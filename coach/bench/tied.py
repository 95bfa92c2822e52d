"""How single ties look in a picture of the board: each is one line of characters."""

from collections.abc import Iterable, Mapping

from coach.bench.cells import Cell, Glyphs, Line, Part
from coach.knots import names
from coach.plan.model import Count

_TWO_TURNS = (
    names.SQUARE, names.REVERSE_SQUARE, names.LARKS_HEAD, names.REVERSE_LARKS_HEAD,
    names.CLOVE, names.REVERSE_CLOVE,
)  # fmt: skip
_ROLLED = (names.BARREL, names.GATHERING)

Columns = Mapping[int, int]  # the column that each strand hangs in


def draw_across(line: Line, glyphs: Glyphs, strand: int, xs: list[int]) -> None:
    """Draw a cord that comes from above at xs[0] and goes down at xs[-1], over all between."""
    first, last = xs[0], xs[-1]
    if first == last:
        line[first] = Cell(glyphs.cord, "cord", strand)
        return
    right_in, left_in, right_out, left_out = glyphs.turns
    rightward = last > first
    for x in range(min(first, last) + 1, max(first, last)):
        line[x] = Cell(glyphs.across, "across", strand)
    line[first] = Cell(right_in if rightward else left_in, "across", strand)
    line[last] = Cell(right_out if rightward else left_out, "across", strand)


def draw_on_row(
    line: Line, glyphs: Glyphs, knotter: int, span: tuple[int, int], mover: int
) -> None:
    """Draw one tie of a row between two columns, upright where the travelling strand ties it."""
    left, inside, right = glyphs.upright if knotter == mover else glyphs.body
    low, high = min(span) + 1, max(span) - 1
    for x in range(low, high + 1):
        char = inside if low < x < high or low == high else left if x == low else right
        line[x] = Cell(char, "knot", knotter)


def draw_pending(line: Line, glyphs: Glyphs, span: tuple[int, int], strand: int | None) -> None:
    """Shade the room that the tie at hand will take."""
    for x in range(min(span) + 1, max(span)):
        line[x] = Cell(glyphs.pending, "pending", strand)


def draw_tie(line: Line, glyphs: Glyphs, count: Count, at: Columns, role: str) -> None:
    """Draw one tie of a group; strands that are not on the board have no column."""
    if role == "braid":
        draw_crossing(line, glyphs, count, at)
    elif count.knot in _ROLLED or not set(count.knotters) <= set(at):
        _solid(line, glyphs.body, count.knotters[0], _span((*count.knotters, *count.fillers), at))
    elif count.knot == names.BERRY:
        left, _, right = glyphs.body
        span = _span((*count.knotters, *count.fillers), at)
        _solid(line, (left, glyphs.roll, right), count.knotters[0], span)
    elif count.knot in (names.OVERHAND, names.DOUBLE_OVERHAND):
        _bundled(line, glyphs, count.knotters, at)
    elif count.knot == names.JOSEPHINE:
        _laced(line, glyphs, count.knotters, at)
    else:
        _barred(line, glyphs, count, at)


def draw_crossing(line: Line, glyphs: Glyphs, count: Count, at: Columns) -> None:
    """Draw one crossing of a plait: the bundle that goes over, from its side to the other."""
    if not count.fillers:
        _laced(line, glyphs, count.knotters, at)
        return
    xs = sorted(at[strand] for strand in (*count.knotters, *count.fillers))
    over = sorted(at[strand] for strand in count.knotters)
    rightward = over[0] == xs[0]
    ends = xs[-len(over) :] if rightward else xs[: len(over)]
    for strand in (*count.knotters, *count.fillers):
        line.pop(at[strand], None)
    pairs = [(s, at[s]) for s in count.knotters]
    for (strand, start), end in zip(sorted(pairs, key=lambda pair: pair[1]), ends, strict=True):
        draw_across(line, glyphs, strand, [start, end])


def _span(strands: Iterable[int], at: Columns) -> tuple[int, int]:
    xs = [at[strand] for strand in strands if strand in at]
    return (min(xs), max(xs)) if xs else (0, 0)


def _solid(line: Line, body: tuple[str, str, str], strand: int, span: tuple[int, int]) -> None:
    left, inside, right = body
    for x in range(span[0], span[1] + 1):
        line[x] = Cell(inside, "knot", strand)
    line[span[0] - 1] = Cell(left, "knot", strand)
    line[span[1] + 1] = Cell(right, "knot", strand)


def _nearest(x: int, strands: Iterable[int], at: Columns) -> int:
    return min(strands, key=lambda strand: abs(at[strand] - x))


def _bundled(line: Line, glyphs: Glyphs, strands: tuple[int, ...], at: Columns) -> None:
    """Draw all the strands coming together into one lump."""
    low, high = _span(strands, at)
    for x in range(low, high + 1):
        line[x] = Cell(glyphs.across, "across", _nearest(x, strands, at))
    if high > low:
        line[low] = Cell(glyphs.turns[0], "across", _nearest(low, strands, at))
        line[high] = Cell(glyphs.turns[1], "across", _nearest(high, strands, at))
    middle = (low + high) // 2
    for x, char in zip(range(middle - 1, middle + 2), glyphs.body, strict=True):
        line[x] = Cell(char, "knot", _nearest(x, strands, at))


def _laced(line: Line, glyphs: Glyphs, strands: tuple[int, ...], at: Columns) -> None:
    """Draw strands woven through each other."""
    low, high = _span(strands, at)
    for x in range(low, high + 1):
        part: Part = "knot"
        line[x] = Cell(glyphs.lace, part, _nearest(x, strands, at))


def _barred(line: Line, glyphs: Glyphs, count: Count, at: Columns) -> None:
    """Draw knotters over fillers: a bar that each filler runs through."""
    left, across, over, right = glyphs.double if count.knot in _TWO_TURNS else glyphs.single
    low, high = _span((*count.knotters, *count.fillers), at)
    inner = {at[strand] for strand in count.fillers if strand in at}
    for x in range(low, high + 1):
        if x not in inner:
            line[x] = Cell(across, "knot", _barring(count, at, x))
        elif left != across:
            line[x] = Cell(over, "knot", _barring(count, at, x))
    line[low] = Cell(left, "knot", _barring(count, at, low))
    line[high] = Cell(right, "knot", _barring(count, at, high))


def _barring(count: Count, at: Columns, x: int) -> int:
    """Give the knotter seen at a column: of a half knot the one that goes over the front."""
    if len(count.knotters) == 1:
        return count.knotters[0]
    first, second = count.knotters
    if count.knot in (names.HALF_KNOT, names.REVERSE_HALF_KNOT):
        over, under = (first, second) if count.knot == names.HALF_KNOT else (second, first)
        return under if x == at[under] else over
    return _nearest(x, count.knotters, at)
