"""Rows, weaves and hitches round others, drawn: turns over a holder or round fillers."""

from collections.abc import Iterator, Sequence

from coach.card.cord_paths import Run, Yarn
from coach.card.svg import Point
from coach.knots import names

TURN = 4.4  # from the middle of a tie to each of its two turns
REACH = 11.0  # how far a turn shows beyond what it goes round


def onto_holder(
    knot: str, yarn: Yarn, way: tuple[Point, Point, Point], right: bool
) -> Iterator[Run]:
    """Draw a knotter that comes down, ties onto a holder at the middle point and goes on.

    `way` is where it comes from, the tie and where it leaves; the first turn is the one further
    from where the row goes on (`right`).
    """
    start, (x, y), end = way
    side = 1 if right else -1
    first, second = x - side * TURN, x + side * TURN
    if knot == names.HALF_HITCH:
        yield Run(yarn, (start, (start[0], y - REACH - 6), (x, y - REACH), (x, y + REACH), end), 4)
        return
    yield Run(yarn, ((first, y + REACH), (second, y - REACH)), 1)
    lead = (start, (start[0], y - REACH - 8), (first, y - REACH), (first, y + REACH))
    yield Run(yarn, lead, 4)
    yield Run(yarn, ((second, y - REACH), (second, y + REACH), (end[0], y + REACH + 10), end), 4)
    if knot in (names.LARKS_HEAD, names.REVERSE_LARKS_HEAD):
        bar = y + REACH - 2
        yield Run(yarn, ((first - side * 2, bar), (second + side * 2, bar)), 5)


def round_filler(yarn: Yarn, at: Point, right: bool, half: bool, reach: float = REACH) -> tuple[
    Point, Point, list[Run]
]:  # fmt: skip
    """Draw a travelling knotter's turns round one filler; give where it comes in and goes out."""
    x, y = at
    side = 1 if right else -1
    near, far = x - side * reach, x + side * reach
    if half:
        return (near, y), (far, y), [Run(yarn, ((near, y), (far, y)), 4)]
    upper, lower = y - TURN, y + TURN
    return (
        (near, upper),
        (far, lower),
        [
            Run(yarn, ((far, upper), (near, lower)), 1),
            Run(yarn, ((near, upper), (far, upper)), 4),
            Run(yarn, ((near, lower), (far, lower)), 4),
        ],
    )


def turns_round(
    yarn: Yarn, xs: Sequence[float], ys: Sequence[float], knotter_x: float, bar: bool
) -> Iterator[Run]:
    """Draw turns of a knotter that stands beside what it goes round, one at each height.

    `bar`: the two turns of each pair face each other, and a bar lies across them.
    """
    low, high = min(xs) - REACH, max(xs) + REACH
    left = knotter_x < low
    near, far = (low, high) if left else (high, low)
    for number, y in enumerate(ys):
        yield Run(yarn, ((near, y), (far, y)), 4)
        if number + 1 < len(ys):
            yield Run(yarn, ((far, y), (near, ys[number + 1])), 1)
    if bar:
        for upper, lower in zip(ys[::2], ys[1::2], strict=False):
            yield Run(yarn, ((near, upper - 2), (near, lower + 2)), 5)
