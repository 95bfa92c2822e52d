"""Clove hitches, half hitches and lark's heads on a holder: alone, and in whole fabrics of rows.

The holder runs along the first axis, rigid; the knotters hang along the third.
In a fabric every strand has the same pull, the holder included, which draws the ties together.
"""

from math import cos, pi, sin

from curves import repeating, through
from tubes import Arrangement, Bar, Strand

Way = list[tuple[float, float, float]]
FAR = 6.0


def _on_holder(way: list[tuple[float, float, float]]) -> Way:
    """Turn (turns, radius, place along the holder) into coordinates; turns from the back, up."""
    return [(x, r * cos(2 * pi * t), r * sin(2 * pi * t)) for t, r, x in way]


def _clove(core: float) -> Way:
    """Two turns the same way, both ends under the bar that leads from one to the other."""
    near, far = core + 0.8, core + 2.1
    left = [
        (-0.05, near, -0.8), (-0.25, near, -1.1), (-0.5, near, -1.4), (-0.75, near, -1.5),
        (-0.88, far - 0.2, -1.2),
    ]  # fmt: skip
    right = [(-2 - t, r, -x) for t, r, x in reversed(left)]
    lead = [(-0.7, near, 2.5), (-0.7, near, 1.2)]
    tail = [(0.7, near, -1.2), (0.7, near, -2.5)]
    return lead + _on_holder([*left, (-1.0, far, 0.0), *right]) + tail


def _half_hitch(core: float) -> Way:
    """One turn, coming down again under its own lead."""
    near, far = core + 0.8, core + 2.1
    lead = [(0.7, far, 2.4), (0.4, far, 1.0), (-0.3, far, -0.3)]
    turn = [
        (-0.2, near + 0.3, -0.7), (-0.35, near, -0.8), (-0.5, near, -0.8), (-0.65, near, -0.8),
        (-0.8, near, -0.7), (-0.92, near, -0.4),
    ]  # fmt: skip
    tail = [(0.3, near, -0.3), (0.6, near, -1.2), (0.7, near + 0.4, -2.4)]
    return lead + _on_holder(turn) + tail


def _larks_head(core: float) -> Way:
    """Two turns that face each other under one bight; the tail goes on over the holder and down."""
    near, far = core + 0.8, core + 2.1
    left = [
        (-0.05, near, -0.6), (-0.25, near, -1.0), (-0.5, near, -1.3), (-0.75, near, -1.5),
        (-0.88, far - 0.2, -1.5), (-1.0, far, -0.9),
    ]  # fmt: skip
    right = [(t, r, -x) for t, r, x in reversed(left)]
    over = [(0.12, near, 0.4), (0.25, near, 0.3), (0.4, near, 0.2)]
    lead = [(-0.6, near, 2.5), (-0.6, near, 1.2)]
    tail = [(0.1, -near, -0.6), (0.0, -near, -2.2)]
    return lead + _on_holder([*left, (-1.02, far, 0.0), *right, *over]) + tail


def _pulled(way: Way) -> Strand:
    lead, tail = (way[0][0], way[0][1], FAR), (way[-1][0], way[-1][1], -FAR)
    return Strand(through([lead, *way, tail]))


def clove_alone(holder: float = 1.0) -> Arrangement:
    """One clove hitch, its ends pulled apart square to the holder."""
    return Arrangement((_pulled(_clove(holder / 2)),), (Bar(0, (0, 0, 0), holder),))


def _fabric(way: Way, p: float, q: float, holder: float) -> Arrangement:
    strand = Strand(repeating(way, (0, 0, -q)), onward=(0, -1))
    return Arrangement((strand,), (Bar(0, (0, 0, 0), holder),), (p, q), (0, 2), (1.0, 0.0))


def clove_row(holder: float = 1.0) -> Arrangement:
    """A fabric of clove hitches, one to a cell."""
    return _fabric(_clove(holder / 2), 5.0, 6.5 + holder, holder)


def half_hitch_row(holder: float = 1.0) -> Arrangement:
    """A fabric of half hitches, one to a cell."""
    return _fabric(_half_hitch(holder / 2), 4.0, 6.5 + holder, holder)


def larks_head_row(holder: float = 1.0) -> Arrangement:
    """A fabric of lark's heads, one to a cell."""
    return _fabric(_larks_head(holder / 2), 5.0, 7.0 + holder, holder)


def mounted_alone(bar: float) -> Arrangement:
    """One lark's head on a bar."""
    return Arrangement((_drops(bar),), (Bar(0, (0, 0, 0), bar),))


def _drops(bar: float) -> Strand:
    near, far = bar / 2 + 0.8, bar / 2 + 2.1
    low = -FAR - bar / 2
    half = [
        (-0.6, near, low), (-0.6, near, -0.9),
        *_on_holder([
            (0.02, near, -0.6), (0.25, near, -1.0), (0.5, near, -1.5), (0.72, near, -1.6),
            (0.88, far - 0.4, -1.4),
        ]),
    ]  # fmt: skip
    bight = [(-0.7, far, 0.2 - bar * 0.1), (0.7, far, 0.2 - bar * 0.1)]
    return Strand(through([*half, *bight, *((-x, y, z) for x, y, z in reversed(half))]))


def drop_level(bar: float) -> float:
    """Return how far below the bar's middle the drops of a mounted piece end."""
    return FAR + bar / 2
