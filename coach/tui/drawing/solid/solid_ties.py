"""Solid pictures of single ties: a few lines of shaded cells each."""

from typing import Final

from coach.knots import names
from coach.plan.plan_model import Count
from coach.tui.drawing.cells import Cell, Columns, Glyphs, Line
from coach.tui.drawing.solid.solid_cords import (
    BODY,
    LIGHT,
    SHADE,
    across_cells,
    bars,
    block,
    cord,
    next_tie_cells,
    two_bars,
)

_HEADS: Final = (names.LARKS_HEAD, names.REVERSE_LARKS_HEAD)
_TWO_TURNS: Final = (names.CLOVE, names.REVERSE_CLOVE, *_HEADS)
_HALVES: Final = (names.HALF_KNOT, names.REVERSE_HALF_KNOT)
_HALF_TURN: Final = 4  # half knots in half a turn: worked out by tightening, 40 to 55 degrees each
_ROOMY_TURN: Final = 5  # cells from which on a turn is two of them wide
_EIGHTHS: Final = "▁▂▃▄▅▆▇"


def inner(glyphs: Glyphs, span: tuple[int, int]) -> range:
    """Return the columns between two cords."""
    return range(min(span) + glyphs.wide, max(span))


def draw_solid_on_row(
    line: Line, glyphs: Glyphs, count: Count, span: tuple[int, int], mover: int
) -> None:
    """Draw one tie of a row between two cords.

    Onto the holder: turns in the knotter's colour, the holder glimpsed between them. Of the
    travelling strand: in its own colour, over the strand that hangs.

    Args:
        line: The line, which is written to.
        glyphs: What is drawn with.
        count: The tie.
        span: The columns of the two cords, in the way in which the row goes.
        mover: The strand that travels; it holds where it is not the knotter.
    """
    knotter, xs = count.knotters[0], inner(glyphs, span)
    if knotter == mover:
        line.update(_travelling(count.knot, knotter, xs))
        return
    for x, cell in _on_holder(count.knot, knotter, xs, leftward=span[1] < span[0]).items():
        line[x] = cell


def turn_places(xs: range, turns: int) -> list[range]:
    """Return the cells of each turn between two cords, as even as possible."""
    wide = 2 if len(xs) >= _ROOMY_TURN else 1
    wide = min(wide if turns > 1 else wide + 1, max(1, len(xs) // turns))
    spare = len(xs) - turns * wide
    gap = min(1, max(0, spare // max(1, turns - 1))) if turns > 1 else 0
    start = xs.start + (len(xs) - turns * wide - gap * (turns - 1) + 1) // 2
    return [range(start + n * (wide + gap), start + n * (wide + gap) + wide) for n in range(turns)]


def _on_holder(knot: str, knotter: int, xs: range, *, leftward: bool) -> Line:
    turns = 2 if knot in _TWO_TURNS and len(xs) > 1 else 1
    places = turn_places(xs, turns)
    line: Line = {}
    for place in places:
        line.update(zip(place, across_cells(knotter, len(place), "knot"), strict=True))
    if leftward:  # as it is seen in the mirror
        line = {xs.start + xs.stop - 1 - x: cell for x, cell in line.items()}
        places = [range(xs.start + xs.stop - p.stop, xs.start + xs.stop - p.start) for p in places]
        line = {x: cell for p in places for x, cell in
                zip(p, across_cells(knotter, len(p), "knot"), strict=True)}  # fmt: skip
    if knot in _HEADS:
        low, high = min(line), max(line)
        bar = two_bars(knotter, range(low, high + 1), *((BODY, LIGHT) if knot == names.LARKS_HEAD
                                                   else (LIGHT, SHADE)))  # fmt: skip
        line |= {x: cell for x, cell in bar.items() if low < x < high or high - low < 2}  # noqa: PLR2004
    return line


def _travelling(knot: str, knotter: int, xs: range) -> Line:
    if knot == names.HALF_HITCH:
        return bars(knotter, xs, LIGHT)
    line = two_bars(knotter, xs, LIGHT, SHADE)
    if knot in _HEADS:
        for x in (xs.start, xs.stop - 1):
            line[x] = block("█", knotter, BODY)
    return line


def draw_solid_pending(
    line: Line, glyphs: Glyphs, span: tuple[int, int], strand: int | None, turns: int
) -> None:
    """Highlight the place of the next tie of a row.

    Args:
        line: The line, which is written to.
        glyphs: The characters.
        span: The columns of the two cords between which it will lie.
        strand: The strand that will tie, None for none.
        turns: How many turns the tie has.
    """
    for place in turn_places(inner(glyphs, span), turns):
        line.update(next_tie_cells(place, strand))


def draw_solid_flat(
    glyphs: Glyphs, count: Count, at: Columns, place: int, *, roomy: bool
) -> list[Line]:
    """Draw a flat knot: bars of the strand that goes over, held at the sides by the other one.

    Args:
        glyphs: What is drawn with.
        count: The tie.
        at: The column of each strand.
        place: Which tie of its sennit it is, from 0.
        roomy: Whether it may take as many lines as it likes.
    """
    own = [at[s] for s in (*count.knotters, *count.fillers) if s in at]
    low, high, wide = min(own), max(own), glyphs.wide
    if not set(count.knotters) <= set(at):  # tied with a cord of its own, round all
        low, high = low - wide, high + wide
    left, right = count.knotters[0], count.knotters[-1]
    leftward = count.knot in (names.REVERSE_HALF_KNOT, names.REVERSE_SQUARE)
    over, under = (right, left) if leftward else (left, right)
    xs = range(low + wide, high)
    if count.knot in _HALVES:
        return [_half(glyphs, (over, under), (low, high), place, leftward=leftward)]
    bump, bight = (high, low) if leftward else (low, high)
    sides = cord(glyphs, bump, under, "knot") | {
        x: block("▇", over, SHADE) for x in range(bight, bight + wide)
    }
    if not roomy:
        return [two_bars(over, xs, LIGHT, SHADE) | sides]
    return [bars(over, xs, LIGHT) | sides, bars(over, xs, BODY) | sides]


def _half(
    glyphs: Glyphs, knotters: tuple[int, int], span: tuple[int, int], place: int, *, leftward: bool
) -> Line:
    """Draw a half knot: its bar slants down the way it goes; in a run the slant's step turns."""
    over, under = knotters
    low, high = span
    xs = range(low + glyphs.wide, high)
    turned = (place % _HALF_TURN) / _HALF_TURN - 0.4
    line: Line = {}
    for x in xs:
        gone = (x - xs.start + 0.5) / len(xs)
        left = (gone if leftward else 1 - gone) + turned
        high_of = _EIGHTHS[round(min(1.0, max(0.0, left)) * (len(_EIGHTHS) - 1))]
        line[x] = Cell(high_of, "knot", over, 0, LIGHT, (over, SHADE))
    for x in (low, high):
        line |= cord(glyphs, x, under, "knot")
    return line


def draw_solid_around(glyphs: Glyphs, count: Count, at: Columns, *, roomy: bool) -> list[Line]:
    """Draw a strand tied round others that keep their places: a turn a line.

    Args:
        glyphs: What is drawn with.
        count: The tie.
        at: The column of each strand on the board.
        roomy: Whether a knot of two turns may take two lines.
    """
    knotter, wide = count.knotters[0], glyphs.wide
    start = at[knotter]
    held = [at[s] for s in count.fillers if s in at]
    far = max(held, key=lambda x: abs(x - start), default=start)
    rightward = far > start
    xs = range(start + wide, far + wide) if rightward else range(far, start)
    end = far + wide if rightward else far - 1
    lines: list[Line] = []
    turns = 2 if roomy and count.knot in _TWO_TURNS else 1
    for turn in range(turns):
        line = bars(knotter, xs, LIGHT if turn == 0 else BODY)
        line[end] = block("▌" if rightward else "▐", knotter, SHADE)
        if count.knot == names.LARKS_HEAD:
            line |= {x: block("█", knotter, LIGHT) for x in range(start, start + wide)}
        elif count.knot == names.REVERSE_LARKS_HEAD:
            line |= {x: block("█", knotter, SHADE) for x in range(start, start + wide)}
        else:
            line |= cord(glyphs, start, knotter, "knot")
        lines.append(line)
    return lines
