"""Scenes of a knot's stages, from the catalogue's diagrams."""

from collections.abc import Iterator
from typing import Final

from coach.knots.diagram import CordPath, CordRole, Diagram, FinishedKnot, Point
from coach.picture.scene import Run, Scene, Segment, Shape, Tie
from coach.picture.shapes.curves import Vertex, box_of, course, shape

ROLES: Final[tuple[CordRole, ...]] = ("knotter", "second knotter", "filler")
_GRID_MM: Final = 2.0
_WIDE: Final = 0.62  # of a grid step
_OVER_ALL: Final = 5
_LUMP: Final = 3
_TURN: Final = 0.8  # of a grid step, from turn to turn of a lump
_NO_RUNS: Final[tuple[Run, ...]] = ()


def stage_scene(diagram: Diagram) -> Scene:
    """Build the scene of one stage, each cord as a strand of its role."""
    own = [
        stretch
        for number, (cord, meetings) in enumerate(
            zip(diagram.cords, diagram.meetings(), strict=True)
        )
        for stretch in _cord(number, cord, {m.at: m.over for m in meetings}, diagram)
    ]
    first = next((n for n, c in enumerate(diagram.cords) if c.role == "knotter"), 0)
    own += [stretch for made in diagram.made for stretch in _lump(first, made)]
    laid: Shape = shape(own, (), (), ("stage",), box=box_of(own))
    tie = Tie(0, "", laid, 0.0, 0.0, tuple(range(len(diagram.cords))), 1)
    left, top, right, low = laid.box
    return Scene(
        cords=tuple([cord.role for cord in diagram.cords]), ties=(tie,), runs=_NO_RUNS, mounts=(),
        fittings=(), length_mm=low - top, half_mm=(right - left) / 2, box=laid.box, finish=(),
    )  # fmt: skip


def _cord(
    number: int, cord: CordPath, meetings: dict[Point, bool], diagram: Diagram
) -> Iterator[Segment]:
    """Yield the stretches of one cord along its grid points, over or under by the diagram."""
    found: list[Vertex] = []
    ways = cord.ways()
    for (x, y), into, out in ways:
        layer = 0
        if (x, y) in meetings:
            level = (into if into != (0, 0) else out)[1] == 0
            over = level == ((x, y) in diagram.level_over)
            layer = 1 if over else -1
        if any(_inside(made, (x, y)) for made in diagram.made):
            layer = _OVER_ALL if any(x in made.over for made in diagram.made) else -1
        found.append((x * _GRID_MM, y * _GRID_MM, layer))
    yield from course(number, _finer(found), _GRID_MM * _WIDE)


def _finer(line: list[Vertex]) -> list[Vertex]:
    """Return a line with its first and last point doubled, so that its ends stay straight."""
    return [line[0], *line, line[-1]]


def _inside(made: FinishedKnot, point: Point) -> bool:
    (x0, y0), (x1, y1) = made.top_left, made.bottom_right
    return x0 <= point[0] <= x1 and y0 <= point[1] <= y1


def _lump(strand: int, made: FinishedKnot) -> Iterator[Segment]:
    """Yield an earlier knot as turns side by side."""
    (x0, y0), (x1, y1) = made.top_left, made.bottom_right
    turns = max(2, round((y1 - y0) / _TURN))
    for turn in range(turns + 1):
        y = (y0 + (y1 - y0) * turn / turns) * _GRID_MM
        line = [(x0 * _GRID_MM, y - 0.3, _LUMP), (x1 * _GRID_MM, y + 0.3, _LUMP)]
        yield from course(strand, line, _GRID_MM * _WIDE, (_LUMP,))
