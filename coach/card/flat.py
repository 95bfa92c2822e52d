"""Flat knots, plaits and bundles, drawn."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from coach.card.cord_paths import Run, Yarn
from coach.card.svg import Point

HALF: Final = 38.0  # height of a half knot
_OUT: Final = 8.0  # how far a knotter stands out at the side
CROSSING: Final = 22.0


def half_knot(
    first: Yarn, second: Yarn, sides: tuple[float, float], top: float, back: float
) -> Iterator[Run]:
    """Draw one half knot: `first` goes over from `sides[0]`, `second` under from the other side.

    It goes over the fillers and under the second; that goes under the fillers, up behind the
    first and out over its lead. `back` is where the second comes up, beside the outer filler.
    """
    near, far = sides
    way = 1 if far > near else -1
    rim, over, under, end = top + 7, top + 15, top + 24, top + HALF
    yield Run(first, ((near, top), (near, over), (far + way * _OUT, over),
                      (far + way * _OUT, end - 5), (far, end)), 4)  # fmt: skip
    yield Run(second, ((far, under - 4), (far, under), (back, under), (back, rim)), 1)
    yield Run(second, ((far, top), (far, under - 2)), 5)
    yield Run(second, ((back, rim), (near - way * _OUT, rim), (near - way * _OUT, end - 5),
                       (near, end)), 5)  # fmt: skip


def plait(
    slots: Sequence[Sequence[Sequence[float]]],
    bundles: Sequence[Sequence[Yarn]],
    top: float,
    *,
    mirrored: bool,
) -> Iterator[Run]:
    """Draw a plait; `slots[c][b]` is where the strands of bundle b stand after c crossings.

    The bundle that goes over is the right one and the left in turn, `mirrored` the left first.
    """
    for crossing, (before, after) in enumerate(pairwise(slots)):
        y = top + crossing * CROSSING
        rightmost = (crossing % 2 == 0) != mirrored
        outer = (max if rightmost else min)(range(len(before)), key=lambda b: before[b][0])
        for bundle, yarns in enumerate(bundles):
            for yarn, x0, x1 in zip(yarns, before[bundle], after[bundle], strict=True):
                points = ((x0, y), (x0, y + 3), (x1, y + CROSSING - 3), (x1, y + CROSSING))
                yield Run(yarn, points, 10 + 2 * crossing + (bundle == outer))


def wrapped(yarn: Yarn, xs: Sequence[float], top: float, turns: int) -> Iterator[Run]:
    """Draw turns laid side by side round a bundle."""
    low, high = min(xs) - 9, max(xs) + 9
    for turn in range(turns):
        y = top + turn * (yarn.width + 2.6)
        yield Run(yarn, ((low, y + 2), (high, y)), 6)


def gathered(
    yarns: Sequence[Yarn], ways: Sequence[tuple[Point, Point]], middle: Point, high: float
) -> Iterator[Run]:
    """Draw strands that are drawn together for `high` below a middle point, and spread again."""
    close = 3.4
    half = (len(yarns) - 1) / 2
    for number, (yarn, (start, end)) in enumerate(zip(yarns, ways, strict=True)):
        x = middle[0] + (number - half) * close
        y = middle[1]
        yield Run(yarn, (start, (start[0], y - 22), (x, y - 6), (x, y + high + 6),
                         (end[0], y + high + 22), end), 2)  # fmt: skip
