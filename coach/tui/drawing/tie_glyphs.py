"""Single ties on the board: a few lines of characters each."""

from collections.abc import Iterable, Sequence
from typing import Final

from coach.knots import names
from coach.plan.plan_model import Count
from coach.tui.drawing.bundle_glyphs import draw_bar_hitch, draw_bundle
from coach.tui.drawing.cells import Cell, Columns, Glyphs, Line
from coach.tui.drawing.solid import solid_cords, solid_lumps, solid_ties

_BUNDLED: Final = (*names.BUNDLE_KNOTS, names.BARREL, names.GATHERING)
_TWO_TURNS: Final = (
    names.CLOVE, names.REVERSE_CLOVE, names.LARKS_HEAD, names.REVERSE_LARKS_HEAD
)  # fmt: skip
_LEAST_TWO: Final = 2
_HALF_TURN: Final = 4  # half knots in half a turn: worked out by tightening, 40 to 55 degrees each


def draw_across(line: Line, glyphs: Glyphs, strand: int, xs: Sequence[int]) -> None:
    """Draw a cord from above at xs[0] across to xs[-1], over all between."""
    if glyphs.wide:
        solid_cords.draw_solid_across(line, glyphs, strand, xs)
        return
    first, last = xs[0], xs[-1]
    if first == last:
        line[first] = Cell(glyphs.cord, "cord", strand)
        return
    right_in, left_in, right_out, left_out = glyphs.turns
    rightward = last > first
    _level(line, glyphs, strand, (min(first, last) + 1, max(first, last) - 1))
    line[first] = Cell(right_in if rightward else left_in, "across", strand)
    line[last] = Cell(right_out if rightward else left_out, "across", strand)


def _level(line: Line, glyphs: Glyphs, strand: int, span: tuple[int, int]) -> None:
    for x in range(span[0], span[1] + 1):
        line[x] = Cell(glyphs.across, "across", strand)


def draw_on_row(
    line: Line, glyphs: Glyphs, count: Count, span: tuple[int, int], mover: int
) -> None:
    """Draw one tie of a row between two columns, `span`, in the direction of the row.

    Onto the holder: its turns in the knotter's colour, side by side. Of the travelling strand:
    in its own colour, over the strand that hangs.
    """
    if glyphs.wide:
        solid_ties.draw_solid_on_row(line, glyphs, count, span, mover)
        return
    knotter = count.knotters[0]
    low, high = min(span) + 1, max(span) - 1
    chars = (
        _travelling(glyphs, count.knot, high - low + 1)
        if knotter == mover
        else _on_holder(glyphs, count.knot, high - low + 1, leftward=span[1] < span[0])
    )
    for x, char in enumerate(chars, start=low):
        if char != glyphs.across:
            line[x] = Cell(char, "knot", knotter)


def _on_holder(glyphs: Glyphs, knot: str, room: int, *, leftward: bool) -> str:
    """Return so many characters of holder with the turns on it."""
    if room < _LEAST_TWO:
        return glyphs.small
    heads = {names.LARKS_HEAD: glyphs.head[0], names.REVERSE_LARKS_HEAD: glyphs.head[1]}
    turn = glyphs.hitch[leftward]
    tie = heads.get(knot) or turn * (2 if knot in _TWO_TURNS else 1)
    before = (room - len(tie)) // 2
    after = room - len(tie) - before
    if leftward:
        before, after = after, before
    return glyphs.across * before + tie + glyphs.across * after


def _travelling(glyphs: Glyphs, knot: str, room: int) -> str:
    left, inside, right = {
        names.HALF_HITCH: glyphs.upright_hitch, names.REVERSE_LARKS_HEAD: glyphs.upright_head
    }.get(knot, glyphs.upright)  # fmt: skip
    return left + inside * (room - 2) + right if room >= _LEAST_TWO else inside


def draw_pending(line: Line, glyphs: Glyphs, span: tuple[int, int], strand: int | None) -> None:
    """Shade the place of the next tie."""
    if glyphs.wide:
        line.update(solid_cords.next_tie_cells(range(min(span) + glyphs.wide, max(span)), strand))
        return
    for x in range(min(span) + 1, max(span)):
        line[x] = Cell(glyphs.pending, "pending", strand)


def draw_tie(
    glyphs: Glyphs, count: Count, at: Columns, *, roomy: bool, place: int = 0
) -> list[Line]:
    """Draw one tie of a group; strands that are not on the board have no column.

    A square knot, a lark's head and two hitches round a filler are two lines high where there is
    room, as they are twice a half knot. `place` is how many ties of the run are above: half knots
    turn with it.
    """
    if not count.fillers and count.knot in names.AROUND_KNOTS:  # onto something rigid
        return [draw_bar_hitch(glyphs, count.knotters[0], at[count.knotters[0]])]
    if glyphs.wide:
        return _solid(glyphs, count, at, place, roomy=roomy)
    if count.knot in _BUNDLED or count.knot not in names.KNOTS:
        return draw_bundle(glyphs, count, at, roomy=roomy)
    if count.knot == names.BERRY:
        return _ball(glyphs, count, at)
    if count.knot == names.JOSEPHINE:
        return _woven(glyphs, count.knotters, at, 3 if roomy else 1)
    if count.knot in names.FLAT_KNOTS:
        return _flat(glyphs, count, at, place, roomy=roomy)
    return _around(glyphs, count, at, roomy=roomy)


def _solid(glyphs: Glyphs, count: Count, at: Columns, place: int, *, roomy: bool) -> list[Line]:
    """Draw one tie of a group solid and shaded."""
    if count.knot in _BUNDLED or count.knot not in names.KNOTS:
        return solid_lumps.draw_solid_bundle(glyphs, count, at, roomy=roomy)
    if count.knot == names.BERRY:
        return solid_lumps.draw_solid_ball(glyphs, count, at)
    if count.knot == names.JOSEPHINE:
        return solid_lumps.draw_solid_woven(glyphs, count.knotters, at, 3 if roomy else 1)
    if count.knot in names.FLAT_KNOTS:
        return solid_ties.draw_solid_flat(glyphs, count, at, place, roomy=roomy)
    return solid_ties.draw_solid_around(glyphs, count, at, roomy=roomy)


def span_of(strands: Iterable[int], at: Columns) -> tuple[int, int]:
    """Return the first and the last column of strands; those off the board are left out."""
    xs = [at[strand] for strand in strands if strand in at]
    return (min(xs), max(xs)) if xs else (0, 0)


def _flat(glyphs: Glyphs, count: Count, at: Columns, place: int, *, roomy: bool) -> list[Line]:
    """Draw a flat knot: bars of the strand that goes over, held at the sides by the other one."""
    low, high = span_of((*count.knotters, *count.fillers), at)
    if not set(count.knotters) <= set(at):  # tied with a cord of its own, round all
        low, high = low - 1, high + 1
    left, right = count.knotters[0], count.knotters[-1]
    if count.knot in (names.HALF_KNOT, names.REVERSE_HALF_KNOT):
        turned = (place % _HALF_TURN + 1) / (_HALF_TURN + 1)
        leftward = count.knot == names.REVERSE_HALF_KNOT
        return [_half(glyphs, (left, right), (low, high), turned, leftward=leftward)]
    over, under, bump = left, right, low
    if count.knot == names.REVERSE_SQUARE:
        over, under, bump = right, left, high
    bight = low + high - bump
    if not roomy:
        begin, bars, end = glyphs.two_bars
        line = {x: Cell(bars, "knot", over) for x in range(low, high + 1)}
        line[bight] = Cell(end if bight == high else begin, "knot", over)
        line[bump] = Cell(glyphs.one_bump, "knot", under)
        return [line]
    lines = []
    for half, corners in enumerate(((glyphs.turns[3], glyphs.turns[2]), glyphs.turns[:2])):
        line = {x: Cell(glyphs.across, "knot", over) for x in range(low, high + 1)}
        line[bight] = Cell(corners[bight == high], "knot", over)
        line[bump] = Cell(_bump(glyphs, half, right_side=bump == high), "knot", under)
        lines.append(line)
    return lines


def _bump(glyphs: Glyphs, half: int, *, right_side: bool) -> str:
    char = glyphs.bump[half]
    return {"(": ")"}.get(char, char) if right_side else char


def _half(
    glyphs: Glyphs,
    knotters: tuple[int, int],
    span: tuple[int, int],
    turned: float,
    *,
    leftward: bool,
) -> Line:
    """Draw a half knot: its bar slants down the way it goes, and is tucked under at both ends.

    Where the bar comes down moves from tie to tie, so that a run shows the ridge of its twist.
    """
    over, under = knotters[::-1] if leftward else knotters
    low, high = span
    first, second = glyphs.ramp[::-1] if leftward else glyphs.ramp
    step = low + 1 + round((high - low - 1) * (1 - turned if leftward else turned))
    line = {x: Cell(first if x < step else second, "knot", over) for x in range(low + 1, high)}
    line[low] = line[high] = Cell(glyphs.cord, "knot", under)
    return line


def _around(glyphs: Glyphs, count: Count, at: Columns, *, roomy: bool) -> list[Line]:
    """Draw a strand tied round others that keep their places: a turn a line."""
    knotter = count.knotters[0]
    start = at[knotter]
    far = max(
        (at[s] for s in count.fillers if s in at), key=lambda x: abs(x - start), default=start
    )
    rightward = far > start
    join, end = glyphs.around[:2] if rightward else glyphs.around[2:]
    lines: list[Line] = []
    for turn in range(2 if roomy and count.knot in _TWO_TURNS else 1):
        line: Line = {}
        _level(line, glyphs, knotter, (min(start, far), max(start, far)))
        line[far + (1 if rightward else -1)] = Cell(end, "knot", knotter)
        line[start] = Cell(_side(glyphs, count.knot, turn, join, rightward), "knot", knotter)
        lines.append({x: cell._replace(part="knot") for x, cell in line.items()})
    return lines


def _side(glyphs: Glyphs, knot: str, turn: int, join: str, rightward: bool) -> str:
    """Return what shows where a turn leaves its knotter: a lark's head has a bar across both."""
    if knot == names.LARKS_HEAD:
        return _bump(glyphs, turn, right_side=not rightward)
    if knot == names.REVERSE_LARKS_HEAD:
        upper, lower = (3, 0) if rightward else (2, 1)
        return glyphs.turns[lower if turn else upper]
    return join


def _ball(glyphs: Glyphs, count: Count, at: Columns) -> list[Line]:
    """Draw a sennit that is rolled up on itself."""
    low, high = span_of((*count.knotters, *count.fillers), at)
    *corners, inside = glyphs.ball
    strand = count.knotters[0]
    lines = []
    for left, right in (corners[:2], corners[2:]):
        line = {x: Cell(inside, "knot", strand) for x in range(low, high + 1)}
        line |= {low: Cell(left, "knot", strand), high: Cell(right, "knot", strand)}
        lines.append(line)
    return lines


def _woven(glyphs: Glyphs, strands: tuple[int, ...], at: Columns, rows: int) -> list[Line]:
    """Draw two halves woven through each other, over and under by turns."""
    low, high = span_of(strands, at)
    half = len(strands) // 2
    lines = []
    for row in range(rows):
        line: Line = {}
        for x in range(low, high + 1):
            crossing = (x - low + row) % 2 == 0
            pair = strands[half:] if (x - low + row) // 2 % 2 else strands[:half]
            nearest = min(pair, key=lambda strand: abs(at[strand] - x))
            line[x] = Cell(glyphs.lace if crossing else glyphs.across, "knot", nearest)
        lines.append(line)
    return lines
