"""Diagrams of knots as solid, shaded cords, with gaps where they pass under.

A step of the grid is four columns and one line, so that a cord is two columns wide where it hangs
and one line high where it lies across. What is knotted onto comes in short lengths, the second
knotter rough: so the cords can be told apart without their colours too.
"""

from typing import Final

from coach.knots.diagram import CordRole, Diagram, FinishedKnot, Point
from coach.tui.drawing.cells import BLANK, Cell, Line
from coach.tui.drawing.solid.solid_cords import BODY, LIGHT, SHADE

ROLES: Final[tuple[CordRole, ...]] = ("knotter", "second knotter", "filler")
"""The strands of the cells, by their numbers."""

_SECOND: Final = 1
_FILLER: Final = 2
_ACROSS: Final = 4  # columns a step of the grid
_WIDE: Final = 2
_EARLIER: Final = 2  # how many steps ago what stood at the stage before was made
_OUTER: Final = {
    frozenset({(1, 0), (0, 1)}): (0, "▟"), frozenset({(-1, 0), (0, 1)}): (1, "▙"),
    frozenset({(1, 0), (0, -1)}): (0, "▜"), frozenset({(-1, 0), (0, -1)}): (1, "▛"),
}  # fmt: skip
"""Where a corner is rounded off, by the ways out of it: which column, and what is left of it."""


def sample(role: CordRole) -> list[Cell]:
    """Return a short length of one kind of cord, as it hangs."""
    return [_upright(ROLES.index(role), tone) for tone in (LIGHT, SHADE)]


def solid(diagram: Diagram, before: Diagram | None = None) -> list[tuple[Cell, ...]]:
    """Draw a diagram, a line for each row of its grid and four columns for each of its columns.

    What is in the diagram `before` already is paler.
    """
    points = [point for cord in diagram.cords for point in cord.points()]
    right, bottom = max(x for x, _ in points), max(y for _, y in points)
    rows: list[Line] = [{} for _ in range(bottom + 1)]
    crossings = {meeting.at for met in diagram.meetings() for meeting in met}
    turning = {at for cord in diagram.cords for at, *ways in cord.ways() if not _straight(*ways)}
    for over in (False, True):
        for number, cord in enumerate(diagram.cords):
            known = set(before.cords[number].points()) if before else set()
            for at, into, out in cord.ways():
                level = out[1] == 0
                above = at in crossings and level == (at in diagram.level_over)
                if above == over:
                    if over:
                        _give_way(rows, at, turning, level=level)
                    _lay(rows, ROLES.index(cord.role), (at, into, out), _EARLIER * (at in known))
    for made in diagram.made:
        _lump(rows, made)
    width = range(right * _ACROSS + _WIDE)
    return [tuple([row.get(x, BLANK) for x in width]) for row in rows]


def _straight(into: Point, out: Point) -> bool:
    return into == out or (0, 0) in (into, out)


def _lay(rows: list[Line], strand: int, way: tuple[Point, Point, Point], age: int) -> None:
    """Draw a cord at one point of the grid, and its way to the next one."""
    (x, y), into, out = way
    row, left = rows[y], x * _ACROSS
    if not _straight(into, out):
        column, rounded = _OUTER[frozenset({(-into[0], -into[1]), out})]
        row.update({left + n: _upright(strand, BODY, age) for n in range(_WIDE)})
        row[left + column] = Cell(rounded, "knot", strand, age, BODY)
    elif (into if into != (0, 0) else out)[1] == 0:
        row.update(_level(strand, left, age))
    else:
        row.update({left: _upright(strand, LIGHT, age), left + 1: _upright(strand, SHADE, age)})
    if out[0]:
        for column, cell in _level(strand, left + _WIDE * out[0], age).items():
            row.setdefault(column, cell)


def _upright(strand: int, tone: int, age: int = 0) -> Cell:
    """Return a cell of a cord that hangs: smooth, rough, or in short lengths."""
    if strand == _SECOND:
        return Cell("▒", "knot", strand, age, tone, (strand, SHADE if tone == BODY else BODY))
    return Cell("▀" if strand == _FILLER else "█", "knot", strand, age, tone)


def _level(strand: int, left: int, age: int) -> Line:
    """Return the cells of a cord that lies across: light above, shade below."""
    char = "▒" if strand == _SECOND else "▀"
    cell = Cell(char, "knot", strand, age, LIGHT, (strand, SHADE))
    columns = range(left, left + _WIDE)
    short = strand == _FILLER
    return {x: BLANK if short and x % _ACROSS == _ACROSS - 1 else cell for x in columns}


def _give_way(rows: list[Line], at: Point, turning: set[Point], *, level: bool) -> None:
    """Leave a gap beside a cord that lies over, except at corners."""
    x, y = at[0] * _ACROSS, at[1]
    if not level:
        rows[y] |= {x - 1: BLANK, x + _WIDE: BLANK}
        return
    for beside, char in ((y - 1, "▀"), (y + 1, "▄")):
        if (at[0], beside) in turning or not 0 <= beside < len(rows):
            continue
        for column in range(x, x + _WIDE):
            if column in rows[beside]:
                rows[beside][column] = rows[beside][column]._replace(char=char, under=None)


def _lump(rows: list[Line], made: FinishedKnot) -> None:
    """Draw an earlier knot as turns below each other, except for what lies in front of it."""
    (x0, y0), (x1, y1) = made.top_left, made.bottom_right
    kept = {x * _ACROSS + n for x in made.over for n in range(_WIDE)}
    for y in range(y0, y1 + 1):
        tone = (LIGHT, BODY, SHADE)[(y - y0) % 3]
        for x in range(x0 * _ACROSS, x1 * _ACROSS + _WIDE):
            if x not in kept:
                rows[y][x] = Cell("▇", "knot", 0, _EARLIER, tone)
