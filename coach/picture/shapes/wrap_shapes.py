"""Shapes of turns wound round a bundle, of beads on it, and of strands that run through."""

from functools import lru_cache

from coach.picture.scene import Point, Segment, Shape
from coach.picture.shapes.curves import course, shape, spread

_SLOPE = 0.35  # how far a turn comes down on its way across, in turns


def _bundle(looks: tuple[Point, ...], across: float, down: float, first: int) -> list[Segment]:
    """Return strands side by side, as close as the bundle is wide."""
    own: list[Segment] = []
    for who, x in enumerate(_places(looks, across)):
        own += course(first + who, [(x, 0.0, 0), (x, down, 0)], looks[who][1])
    return own


def _places(looks: tuple[Point, ...], across: float) -> list[float]:
    wide = max(look[1] for look in looks)
    return spread(len(looks), max(0.0, across - wide) / max(1, len(looks) - 1))


@lru_cache(maxsize=1024)
def wrap_shape(
    wrap: Point, bundle: tuple[Point, ...], across_mm: float, down_mm: float, turns: int
) -> Shape:
    """Return the shape of a cord wound round a bundle, turn beside turn, from the top left.

    Args:
        wrap: Contact diameter and drawn width of the cord that is wound.
        bundle: The same of the strands inside, from the left.
        across_mm: The width of all.
        down_mm: The height of all turns.
        turns: How many there are.
    """
    d, each = wrap[0], down_mm / turns
    side, core = across_mm / 2 - d / 2, across_mm - 2 * d
    own = _bundle(bundle, core, down_mm, 1)
    for turn in range(turns):
        y, drop = (turn + 0.5) * each, _SLOPE * each / 2
        own += course(0, [(-side, y - drop, 3), (side, y + drop, 3)], wrap[1] * 0.96, (3,))
        own += course(0, [(side, y - drop, -3), (-side, y + drop, -3)], wrap[1] * 0.96, (-3,))
    ends = [(x, 0.0) for x in _places(bundle, core)], [(x, down_mm) for x in _places(bundle, core)]
    key = ("wound", wrap, bundle, across_mm, down_mm, turns)
    box = (-across_mm / 2, 0.0, across_mm / 2, down_mm)
    return shape(
        own, [(-side, 0.0), *ends[0]], [(-side, down_mm), *ends[1]], key, lean_deg=80.0, box=box
    )


@lru_cache(maxsize=1024)
def threaded_shape(looks: tuple[Point, ...], across_mm: float, down_mm: float) -> Shape:
    """Return the shape of strands that run straight down close together, as in a bead.

    Args:
        looks: Contact diameter and drawn width of each in mm, from the left.
        across_mm: The room that they have together.
        down_mm: How far they run.
    """
    own = _bundle(looks, across_mm, down_mm, 0)
    xs = _places(looks, across_mm)
    key = ("through", looks, across_mm, down_mm)
    return shape(own, [(x, 0.0) for x in xs], [(x, down_mm) for x in xs], key)


@lru_cache(maxsize=1024)
def picot_shape(look: Point, loop_mm: float) -> Shape:
    """Return the shape of a loop that stands out to the left of its strand."""
    out, wide = loop_mm * 0.42, max(look[1] * 1.1, loop_mm * 0.16)
    way = [
        (0.0, 0.0, 1), (-0.25 * out, -0.6 * wide, 1), (-0.8 * out, -wide, 1),
        (-1.12 * out, 0.0, 1), (-0.8 * out, wide, 1), (-0.25 * out, 0.6 * wide, 1), (0.0, 0.0, 1),
    ]  # fmt: skip
    own = course(0, way, look[1])
    return shape(own, [(0.0, 0.0)], [(0.0, 0.0)], ("picot", look, loop_mm))


@lru_cache(maxsize=1024)
def turn_shape(holder: Point, around: Point) -> Shape:
    """Return the shape of a holder that goes over its right neighbour and back under it."""
    d, x = holder[0], (holder[0] + around[0]) / 2
    reach = around[0] / 2 + 0.3 * d
    way = [
        (-x, 0.0, 1), (-x / 2, 0.2 * d, 3), (x / 2 + reach, 0.4 * d, 3), (x / 2 + reach, d, -3),
        (-x / 2, 1.2 * d, -3), (-x, 1.5 * d, 1),
    ]  # fmt: skip
    own = course(0, way, holder[1])
    own += course(1, [(x / 2, 0.0, 0), (x / 2, 1.5 * d, 0)], around[1])
    return shape(own, [(-x, 0.0), (x / 2, 0.0)], [(-x, 1.5 * d), (x / 2, 1.5 * d)],
                 ("turned round", holder, around))  # fmt: skip
