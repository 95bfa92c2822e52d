"""Drawings of knots as plain data: cords on a grid, and which lies over which.

A cord is a line of corners joined by level and upright runs. Where a level run meets an upright
one they cross; a diagram lists the crossings at which the level run lies over, and at all others
the upright one does. Rendering, in characters or as lines, is done elsewhere.
"""

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal, TypeAlias

Point: TypeAlias = tuple[int, int]  # column to the right, row downward
CordRole = Literal["knotter", "second knotter", "filler"]
_CROSSING = 2  # cords that meet at one point


class NoDiagram(ValueError):
    """Cords overlap along a run, or a crossing is named where there is none."""


@dataclass(frozen=True, slots=True)
class CordPath:
    """One cord by its corners, from where it comes in to its end.

    A holder has the role of a filler.
    """

    role: CordRole
    corners: tuple[Point, ...]

    def points(self) -> tuple[Point, ...]:
        """Return every grid point that the cord lies on, in its order."""
        found = [self.corners[0]]
        for (x, y), (to_x, to_y) in pairwise(self.corners):
            step = (_sign(to_x - x), _sign(to_y - y))
            for _ in range(abs(to_x - x) + abs(to_y - y)):
                found.append((found[-1][0] + step[0], found[-1][1] + step[1]))
        return tuple(found)

    def ways(self) -> tuple[tuple[Point, Point, Point], ...]:
        """Return each point with the step into it and the step out of it; (0, 0) at the ends."""
        points = self.points()
        steps = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points)]
        return tuple(zip(points, ((0, 0), *steps), (*steps, (0, 0)), strict=True))


@dataclass(frozen=True, slots=True)
class FinishedKnot:
    """A knot tied earlier, drawn as a lump from corner to corner.

    The cords pass behind it, except for upright runs in the columns `over`.
    """

    top_left: Point
    bottom_right: Point
    over: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Meeting:
    """What a cord does at a crossing: which cord it meets, and whether it lies over.

    `sign` is that of the crossing: +1 for a right-handed one, -1 for a left-handed one.
    """

    at: Point
    other: int
    over: bool
    sign: int


@dataclass(frozen=True, slots=True)
class Diagram:
    """Cords on a grid; `level_over` are the crossings at which the level run lies over."""

    cords: tuple[CordPath, ...]
    level_over: frozenset[Point] = frozenset()
    made: tuple[FinishedKnot, ...] = ()

    def meetings(self) -> tuple[tuple[Meeting, ...], ...]:
        """Return, for each cord, its crossings in order from where it comes in.

        Raises:
            NoDiagram: The cords overlap, or a named crossing does not exist.
        """
        visits: dict[Point, list[tuple[int, Point]]] = defaultdict(list)
        for number, cord in enumerate(self.cords):
            for at, into, out in cord.ways():
                visits[at].append((number, into if into == out else (0, 0)))
        crossings = {at: both for at, both in visits.items() if len(both) > 1}
        for at, both in crossings.items():
            _check(at, [way for _, way in both])
        if not self.level_over <= crossings.keys():
            raise NoDiagram(f"nothing crosses at {sorted(self.level_over - crossings.keys())}")
        return tuple(
            tuple(
                self._meeting(at, number, into, crossings[at])
                for at, into, _ in cord.ways() if at in crossings
            )
            for number, cord in enumerate(self.cords)
        )  # fmt: skip

    def _meeting(self, at: Point, cord: int, way: Point, both: list[tuple[int, Point]]) -> Meeting:
        other, across = both[1] if both[0] == (cord, way) else both[0]
        over = (way[1] == 0) == (at in self.level_over)
        above, below = (way, across) if over else (across, way)
        # Rows run downward, so the turn from one way to the other is seen the other way round.
        return Meeting(at, other, over, above[1] * below[0] - above[0] * below[1])

    def _crossings(self) -> frozenset[Point]:
        return frozenset(meeting.at for met in self.meetings() for meeting in met)

    def mirrored(self) -> "Diagram":
        """Return the diagram with left and right swapped; what lies over stays over."""
        width = max(x for cord in self.cords for x, _ in cord.points())
        return _moved(self, lambda point: (width - point[0], point[1]))

    def seen_from_behind(self) -> "Diagram":
        """Return the diagram with over and under swapped at every crossing."""
        return replace(self, level_over=frozenset(self._crossings() - self.level_over))

    def turned(self) -> "Diagram":
        """Return the diagram with rows and columns swapped: what hung lies across."""
        return _moved(self.seen_from_behind(), lambda point: (point[1], point[0]))


def _moved(diagram: Diagram, move: Callable[[Point], Point]) -> Diagram:
    cords = tuple(replace(cord, corners=tuple(map(move, cord.corners))) for cord in diagram.cords)
    return Diagram(cords, frozenset(map(move, diagram.level_over)), _made(diagram.made, move))


def _made(
    lumps: tuple[FinishedKnot, ...], move: Callable[[Point], Point]
) -> tuple[FinishedKnot, ...]:
    moved = []
    for lump in lumps:
        (x0, y0), (x1, y1) = sorted((move(lump.top_left), move(lump.bottom_right)))
        over = tuple(move((x, 0))[0] for x in lump.over)
        moved.append(FinishedKnot((x0, min(y0, y1)), (x1, max(y0, y1)), over))
    return tuple(moved)


def _check(at: Point, ways: list[Point]) -> None:
    """Raise NoDiagram unless one level and one upright run go straight through."""
    straight = (0, 0) not in ways and len(ways) == _CROSSING
    if not straight or (ways[0][0] == 0) == (ways[1][0] == 0):
        raise NoDiagram(f"cords lie on each other at {at}")


def _sign(number: int) -> int:
    return (number > 0) - (number < 0)
