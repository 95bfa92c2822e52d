"""Motifs of a new file: the steps of each favourite knot for a number of strands.

Every motif leaves the strands in the order it found them, so that repeats never move the colours.
"""

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from types import MappingProxyType
from typing import Final

_PAIR: Final = 2
_THREE: Final = 3
_FOUR: Final = 4


def _groups(strands: int) -> str:
    """Return the groups of a knot of four strands, or all strands where there are fewer."""
    if strands < 2 * _FOUR:
        return f"strands: 1-{min(_FOUR, strands)}"
    return f"groups: 1-{strands // _FOUR * _FOUR} by 4"


def _square(n: int) -> Sequence[str]:
    return [f"{{knot: square knot, {_groups(n)}, times: 2}}"]


def _half(n: int) -> Sequence[str]:
    return [f"{{knot: half knot, {_groups(n)}, times: 6}}  # it turns as it grows; let it"]


def _rows(n: int) -> Sequence[str]:
    there = f"2-{n}" if n > _PAIR else "2"
    back = f"{n - 1}-1" if n > _PAIR else "1"
    return [
        f"{{row: clove hitch, holder: 1, across: {there}, lie: level}}  # those crossed tie onto 1",
        f"{{row: clove hitch, holder: {n}, across: {back}, lie: level}}  # and back",
    ]


def _net(n: int) -> Sequence[str]:
    if n < 2 * _FOUR:
        return _square(n)
    return [f"{{net: 1-{n // _FOUR * _FOUR} by 4, of: square knot, rows: 2, gap: 1 cm}}"]


def _plait(n: int) -> Sequence[str]:
    if n < _THREE:
        return _square(n)
    cuts = [n * part // _THREE for part in range(_THREE + 1)]
    bundles = [f"{a + 1}-{b}" if b - a > 1 else f"{b}" for a, b in pairwise(cuts)]
    return [f"{{braid: [{', '.join(bundles)}], length: 4 cm}}"]


def _josephine(n: int) -> Sequence[str]:
    if n < _PAIR:
        return _square(n)
    if n < 2 * _FOUR:
        return [f"{{knot: josephine knot, strands: 1-{n // 2 * 2}}}"]
    return [f"{{knot: josephine knot, {_groups(n)}}}"]


def _berry(n: int) -> Sequence[str]:
    if n < _THREE:
        return _square(n)
    return [
        f"{{knot: berry knot, {_groups(n)}, of: 3}}",
        f"{{knot: square knot, {_groups(n)}}}  # it keeps the berries apart",
    ]


def _larks_heads(n: int) -> Sequence[str]:
    inside = f"2-{n - 1}" if n > _THREE else "2"
    if n < _THREE:
        return _square(n)
    return [
        f"{{knot: lark's head, knotter: 1, around: {inside}, times: 3}}",
        f"{{knot: reverse lark's head, knotter: {n}, around: {inside}, times: 3}}",
    ]


MOTIFS: Final[Mapping[str, Callable[[int], Sequence[str]]]] = MappingProxyType({
    "square knot": _square, "half knot": _half, "clove hitch": _rows, "net": _net,
    "plait": _plait, "josephine knot": _josephine, "berry knot": _berry,
    "lark's head": _larks_heads,
})  # fmt: skip
"""The favourites that may be named, each with its steps for a number of strands."""


def motif(knots: Sequence[str], strands: int) -> list[str]:
    """Return the steps of a motif of these knots, one after the other."""
    return [step for knot in knots for step in MOTIFS[knot](strands)]
