"""Diagrams of knots in characters: a line weight for each cord, gaps where it passes under."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from coach.knots.diagram import CordPath, CordRole, Diagram, FinishedKnot, Point
from coach.tui.drawing.cells import ASCII, Glyphs

_ACROSS: Final = 3  # columns a grid step


@dataclass(frozen=True, slots=True)
class Drawn:
    """One character of a drawing; `fresh` if its cord was not there one stage before."""

    char: str = " "
    role: CordRole | None = None
    fresh: bool = False


@dataclass(frozen=True, slots=True)
class Strokes:
    """The characters of one cord. Corners: down-right, down-left, up-right, up-left."""

    level: str
    upright: str
    corners: tuple[str, str, str, str]


_LINES: Final[dict[CordRole, Strokes]] = {
    "knotter": Strokes("━", "┃", ("┏", "┓", "┗", "┛")),
    "second knotter": Strokes("─", "│", ("╭", "╮", "╰", "╯")),
    "filler": Strokes("═", "║", ("╔", "╗", "╚", "╝")),
}
_PLAIN_LINES: Final[dict[CordRole, Strokes]] = {
    "knotter": Strokes("#", "#", ("#", "#", "#", "#")),
    "second knotter": Strokes("-", "|", ("+", "+", "+", "+")),
    "filler": Strokes("=", "!", ("*", "*", "*", "*")),
}
_CORNERS: Final = {
    frozenset({(1, 0), (0, 1)}): 0, frozenset({(-1, 0), (0, 1)}): 1,
    frozenset({(1, 0), (0, -1)}): 2, frozenset({(-1, 0), (0, -1)}): 3,
}  # fmt: skip


def upright_strokes(glyphs: Glyphs) -> dict[CordRole, str]:
    """Return the character of an upright run of each kind of cord."""
    lines = _PLAIN_LINES if glyphs is ASCII else _LINES
    return {role: strokes.upright for role, strokes in lines.items()}


def draw_stage(
    diagram: Diagram, glyphs: Glyphs, before: Diagram | None = None
) -> list[list[Drawn]]:
    """Draw a diagram, a line for each row of its grid and three columns for each of its columns.

    Each cord keeps a gap from what it passes under. What is not in the diagram `before` is fresh.
    """
    lines = _PLAIN_LINES if glyphs is ASCII else _LINES
    points = [point for cord in diagram.cords for point in cord.points()]
    right, bottom = max(x for x, _ in points), max(y for _, y in points)
    rows = [[Drawn()] * (right * _ACROSS + 1) for _ in range(bottom + 1)]
    crossings = {meeting.at for met in diagram.meetings() for meeting in met}
    for number, cord in enumerate(diagram.cords):
        known = set(before.cords[number].points()) if before else set(cord.points())
        hidden = _hidden(cord, crossings, diagram.level_over)
        for x, y, char in _cells(cord, lines[cord.role], hidden):
            near = ((x + 1) // _ACROSS, y)
            rows[y][x] = Drawn(char, cord.role, near not in known)
    for lump in diagram.made:
        _lump(rows, lump, glyphs)
    return rows


def _hidden(cord: CordPath, crossings: set[Point], level_over: frozenset[Point]) -> set[int]:
    """Return the places along a cord at which it passes under another."""
    return {
        place
        for place, (at, _, out) in enumerate(cord.ways())
        if at in crossings and (out[1] == 0) != (at in level_over)
    }


def _cells(cord: CordPath, strokes: Strokes, hidden: set[int]) -> Iterator[tuple[int, int, str]]:
    """Yield the characters of a cord with their column and line."""
    for place, ((x, y), into, out) in enumerate(cord.ways()):
        if place not in hidden:
            yield x * _ACROSS, y, _stroke(strokes, into, out)
        if out[0]:
            gaps = {place, place + 1} & hidden
            for far in range(1, _ACROSS):
                end = place if far == 1 else place + 1
                if end not in gaps or len(gaps) > 1:
                    yield x * _ACROSS + far * out[0], y, strokes.level


def _stroke(strokes: Strokes, into: Point, out: Point) -> str:
    if into == (0, 0) or out in ((0, 0), into):
        level = (into if into != (0, 0) else out)[1] == 0
        return strokes.level if level else strokes.upright
    return strokes.corners[_CORNERS[frozenset({(-into[0], -into[1]), out})]]


def _lump(rows: list[list[Drawn]], lump: FinishedKnot, glyphs: Glyphs) -> None:
    """Shade the area of an earlier knot, except for cords in front of it."""
    (x0, y0), (x1, y1) = lump.top_left, lump.bottom_right
    kept = {x * _ACROSS for x in lump.over}
    for y in range(y0, y1 + 1):
        for x in range(x0 * _ACROSS - 1, x1 * _ACROSS + 2):
            if x not in kept and 0 <= x < len(rows[y]):
                rows[y][x] = Drawn(glyphs.pending, "knotter")
