"""Layout of the ends below the last knots: straight, or fanned out of a bundle."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from coach.picture.layout.scene_builder import SceneBuilder

_HANGS_MM: Final = 35.0  # of strands that are not cut yet
_STRAIGHT: Final = 1.27  # columns beside its own in which a strand still hangs straight down
_CLOSE: Final = 0.8  # of a strand's width, between two that hang from a bundle
_APART: Final = 0.16  # how far ends swing out to the side for each length they hang


def let_hang(loom: SceneBuilder, order: Sequence[int], made: int) -> None:
    """Let every strand hang down from its last tie, to where it is cut.

    Args:
        loom: The layout so far, which is changed.
        order: The strands from the left.
        made: How many counts are made.
    """
    loom.grid.stand(order)
    hanging = [strand for strand in order if strand in loom.at]
    crossing = _crossing(loom, hanging)
    for bundle in _bundles(loom, hanging):
        if _fans(loom, bundle) and not crossing.intersection(bundle):
            _fan(loom, bundle, made)
            continue
        for strand in bundle:
            x, _ = loom.at[strand]
            away = loom.grid.x_mm[strand] - x
            alone = len(bundle) == 1 and strand not in crossing
            if alone and abs(away) < _STRAIGHT * loom.grid.room_mm[strand]:
                away = 0.0
            most = _most(loom, strand, made)
            loom.reach(made, strand, x + min(max(away, -most), most), _cut(loom, strand, made))
    for strand, long in loom.aside.items():
        if strand in loom.at:
            x, y = loom.at[strand]
            loom.lift[strand] = -1
            loom.reach(made, strand, x, y + long)


def _cut(loom: SceneBuilder, strand: int, made: int) -> float:
    return loom.cut_mm.get(strand, loom.places.made_mm[made] + _HANGS_MM)


def _most(loom: SceneBuilder, strand: int, made: int) -> float:
    """Return how far to the side a strand may hang."""
    return _APART * max(0.0, _cut(loom, strand, made) - loom.at[strand][1])


def _apart(loom: SceneBuilder, one: int, other: int) -> float:
    """Return how far apart two neighbours come out, in their widths."""
    wide = (loom.loose_mm[one] + loom.loose_mm[other]) / 2
    return (loom.at[other][0] - loom.at[one][0]) / wide


def _crossing(loom: SceneBuilder, hanging: Sequence[int]) -> set[int]:
    """Return the strands that come out on the wrong side of a neighbour and cross below."""
    return {s for pair in pairwise(hanging) if _apart(loom, *pair) < 0 for s in pair}


def _bundles(loom: SceneBuilder, hanging: Sequence[int]) -> list[list[int]]:
    """Return the strands grouped into bundles of those that come out close together."""
    found = [[strand] for strand in hanging[:1]]
    for one, other in pairwise(hanging):
        room = abs(loom.grid.x_mm[other] - loom.grid.x_mm[one])
        close = loom.at[other][0] - loom.at[one][0] < _CLOSE * room
        if close and _apart(loom, one, other) < _CLOSE:
            found[-1].append(other)
        else:
            found.append([other])
    return found


def _fans(loom: SceneBuilder, bundle: Sequence[int]) -> bool:
    """Return whether a bundle comes out within the columns of its strands."""
    xs, (first, last) = loom.grid.x_mm, (bundle[0], bundle[-1])
    return len(bundle) > 1 and xs[first] <= loom.at[first][0] and loom.at[last][0] <= xs[last]


def _fan(loom: SceneBuilder, bundle: Sequence[int], made: int) -> None:
    """Fan a bundle out as far down as it hangs; what has no room side by side is behind."""
    widths = [loom.loose_mm[strand] for strand in bundle]
    first, last = bundle[0], bundle[-1]
    left = max(loom.at[first][0] - _most(loom, first, made), loom.grid.x_mm[first])
    right = min(loom.at[last][0] + _most(loom, last, made), loom.grid.x_mm[last])
    room = right - left + (widths[0] + widths[-1]) / 2
    deep = max(1, round(sum(widths) / room))
    share = (right - left) / (sum(widths) - (widths[0] + widths[-1]) / 2)
    x, middle = left, (len(bundle) - 1) / 2
    for place, strand in enumerate(bundle):
        if int(abs(place - middle)) % deep != (deep // 2 if middle % 1 else 0):
            loom.lift.setdefault(strand, -1)
        loom.reach(made, strand, x, _cut(loom, strand, made))
        if place + 1 < len(bundle):
            x += (widths[place] + widths[place + 1]) / 2 * share
