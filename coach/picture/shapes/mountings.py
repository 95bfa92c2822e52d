"""Shapes of mountings: lark's heads, folds looped through or pinned, and single ends."""

from functools import lru_cache
from typing import Final

from coach.picture.scene import Point, Segment, Shape
from coach.picture.shapes.curves import Vertex, course, shape

_BELOW: Final = 0.55  # of the lead, on which a strand goes to its place in the first knots


@lru_cache(maxsize=1024)
def larks_head(
    looks: tuple[Point, ...], bar_mm: float, thick_mm: float, lead_mm: float, *,
    front: bool, ring: bool = False,
) -> Shape:  # fmt: skip
    """Return the shape of folds hung round a bar as one lark's head, the outermost first.

    Its strands are end a of each piece and then end b of each; the origin is where the work's
    first knots begin.

    Args:
        looks: Contact diameter and drawn width of each piece in mm.
        bar_mm: Thickness of the bar, which has layer 0.
        thick_mm: The thickness of the pieces together.
        lead_mm: How far the strands hang below the knot.
        front: Whether the bight lies in front.
        ring: Whether the bar is a ring, which goes up on both sides.
    """
    pieces, each = len(looks), thick_mm / len(looks)
    low, out = -lead_mm - 1.1 * looks[0][0] - thick_mm, -_BELOW * lead_mm
    own: list[Segment] = []
    for place, look in enumerate(looks):
        inner = (pieces - place - 0.5) * each
        outer = inner + thick_mm
        over = low - bar_mm - 0.35 * look[0]
        way = _round_bar(look[0], (inner, outer), (low, low - bar_mm / 2, over), ring=ring)
        for who, end in ((place, -1), (pieces + place, 1)):
            sign = 1 if front else -1
            laid = [(end * x, y, sign * layer) for x, y, layer in way]
            lead = [(end * inner, out, sign), (end * inner, low, sign)]
            own += [*course(who, lead, look[1]), *course(who, laid, look[1])]
    xs = [(pieces - place - 0.5) * each for place in range(pieces)]
    ends = [(-x, out) for x in xs] + [(x, out) for x in xs]
    key = ("mount", looks, bar_mm, thick_mm, lead_mm, front, ring)
    return shape(own, ends, ends, key)


def _round_bar(
    d: float, xs: Point, heights: tuple[float, float, float], *, ring: bool
) -> list[Vertex]:
    """Return the path of one end from below the bar: up behind it, over, down in front, across.

    Over a straight bar it comes to the front where it goes down; on a ring, which goes up beside
    it, it does so on its way across.
    """
    (inner, outer), (low, middle, top) = xs, heights
    bight = low + 0.5 * d + inner
    down = [(outer, top, 3)] if ring else [(outer, top, -3), (outer, top + 0.3 * d, 3)]
    return [
        (inner, low, -3), (inner, middle, -3), (inner + 0.3 * (outer - inner), top, -3), *down,
        (outer, middle, 3), (outer, low, 3), (outer - 0.1 * d, bight, 4), (0.0, bight, 4),
    ]  # fmt: skip


@lru_cache(maxsize=1024)
def pinned_shape(look: Point, apart_mm: float, lead_mm: float) -> Shape:
    """Return the shape of one fold over a pin or the edge of a loop.

    Args:
        look: Contact diameter and drawn width of the piece in mm.
        apart_mm: The distance between its two ends.
        lead_mm: How far they hang before the first knot.
    """
    x, rise = apart_mm / 2, min(apart_mm / 2, 12.0) * 1.1
    own = course(0, [(-x, 0.0, 1), (-x, -lead_mm, 1), (-x, -lead_mm - rise, 1),
                     (0.0, -lead_mm - rise, 1)], look[1])  # fmt: skip
    own += course(1, [(x, 0.0, 1), (x, -lead_mm, 1), (x, -lead_mm - rise, 1),
                      (0.0, -lead_mm - rise, 1)], look[1])  # fmt: skip
    return shape(own, [(-x, 0.0), (x, 0.0)], [(-x, 0.0), (x, 0.0)],
                 ("pinned", look, apart_mm, lead_mm))  # fmt: skip


@lru_cache(maxsize=1024)
def single_strand_shape(look: Point, lead_mm: float) -> Shape:
    """Return the shape of an unfolded strand, its free end above the first knot."""
    own = course(0, [(0.0, -lead_mm, 1), (0.0, 0.0, 1)], look[1])
    return shape(own, [(0.0, 0.0)], [(0.0, 0.0)], ("single", look, lead_mm))


@lru_cache(maxsize=1024)
def onto_strand(look: Point, held: Point) -> Shape:
    """Return the shape of a new piece hung with a lark's head on a strand to its left."""
    d, reach = look[0], held[0] / 2 + 0.4 * look[0]
    own: list[Segment] = []
    for end, who in ((-1, 0), (1, 1)):
        y = end * 0.62 * d
        way = [
            (reach + (1.2 + 0.9 * who) * d, 1.6 * d, 1),
            (reach + (1.2 + 0.9 * who) * d, end * 0.2 * d, 1), (reach, end * 0.3 * d, 1),
            (-reach, end * 0.3 * d, -3), (-reach - 0.2 * d, y, -3), (-reach, end * 0.95 * d, 3),
            (reach, end * 0.95 * d, 3), (reach + 0.3 * d, end * 0.5 * d, 4),
            (reach + 0.3 * d, 0.0, 4),
        ]  # fmt: skip
        own += course(who, way, look[1])
    ends = [(reach + (1.2 + 0.9 * who) * d, 1.6 * d) for who in (0, 1)]
    return shape(own, ends, ends, ("onto", look, held))
