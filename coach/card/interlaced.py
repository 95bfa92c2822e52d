"""A knot's diagram as cords: whole cords first, then at each crossing the one that lies over."""

from collections.abc import Callable, Iterator, Sequence

from coach.card.cord_paths import GAP, OUTLINE, Run, Yarn
from coach.card.svg import Point
from coach.knots.diagram import Diagram

Place = Callable[[float, float], Point]
Strands = Sequence[tuple[Yarn, float]]  # the strands of one cord: how each looks, how far aside


def interlaced(
    diagram: Diagram, place: Place, cords: Sequence[Strands], layer: int = 2
) -> Iterator[Run]:
    """Draw a diagram; `place` puts a grid point, `cords` are the strands of each of its cords."""
    for path, strands in zip(diagram.cords, cords, strict=True):
        for yarn, aside in strands:
            points = [place(*corner) for corner in path.corners]
            yield Run(yarn, tuple((x + aside, y + aside) for x, y in points), layer)
    for number, met in enumerate(diagram.meetings()):
        for meeting in met:
            if meeting.over:
                level = meeting.at in diagram.level_over
                yield from _patches(
                    place(*meeting.at), cords[number], cords[meeting.other], level, layer + 1
                )


def _patches(at: Point, over: Strands, under: Strands, level: bool, layer: int) -> Iterator[Run]:
    """Draw again what lies over, just long enough to leave a gap in what lies under."""
    for yarn, aside in over:
        for below, below_aside in under:
            long = (below.width + OUTLINE) / 2 + GAP
            if level:
                x, y = at[0] + below_aside, at[1] + aside
                points = ((x - long, y), (x + long, y))
            else:
                x, y = at[0] + aside, at[1] + below_aside
                points = ((x, y - long), (x, y + long))
            yield Run(yarn, points, layer, patch=True)
