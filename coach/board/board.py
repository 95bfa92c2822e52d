"""The board: strands in order, seen whole and through the window that a step works in.

Strands are whole numbers. The first layer is the whole work; each further layer is what the
steps at hand may touch: a group of strands, or the same strands seen in a mirror. Every change is
made in all layers at once, so that leaving a window needs no putting back.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TypeAlias

from coach.board.errors import NotNeighbours, OffBoard, Twice

Order: TypeAlias = tuple[int, ...]
_Change: TypeAlias = Callable[["Layer"], tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class Layer:
    """One window: its strands in its own order; `mirrored` if that runs from the right."""

    order: Order
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class Board:
    """An immutable board; `closed` work is in the round, so the last strand meets the first."""

    layers: tuple[Layer, ...]
    closed: bool = False
    aside: frozenset[int] = frozenset()

    @classmethod
    def hung(cls, order: Iterable[int], *, closed: bool = False) -> "Board":
        """Give a board on which these strands hang from the left."""
        return cls((Layer(tuple(order)),), closed)

    @property
    def whole(self) -> Order:
        """All strands from the left."""
        return self.layers[0].order

    @property
    def here(self) -> Order:
        """The strands of the window at hand, position 1 first."""
        return self.layers[-1].order

    @property
    def mirrored(self) -> bool:
        """Whether the window at hand counts from the right."""
        return self.layers[-1].mirrored

    @property
    def wraps(self) -> bool:
        """Whether position n + 1 is position 1 again: round work, seen whole."""
        return self.closed and len(self.here) == len(self.whole)

    def place(self, position: int) -> int:
        """Give the 0-based place of a position. Raises OffBoard."""
        count = len(self.here)
        last = 2 * count if self.wraps else count
        if not 1 <= position <= last:
            raise OffBoard(position, count)
        return (position - 1) % count

    def strands(self, positions: Sequence[int] | None) -> Order:
        """Give the strands at these positions; None is all. Raises OffBoard, Twice."""
        if positions is None:
            return self.here
        places = [self.place(position) for position in positions]
        if len(set(places)) < len(places):
            raise Twice(next(p for p, at in zip(positions, places, strict=True)
                             if places.count(at) > 1))  # fmt: skip
        return tuple(self.here[place] for place in places)

    def from_left(self, strands: Order) -> Order:
        """Give strands of the window, written in its order, as they stand from the left."""
        return strands[::-1] if self.mirrored else strands

    def position(self, strand: int) -> int:
        """Give the position of a strand on the whole board, from 1 at the left."""
        return self.whole.index(strand) + 1

    def enter(self, strands: Order, *, mirrored: bool = False) -> "Board":
        """Open a window on these strands; a mirrored one counts them from the other side."""
        order = strands[::-1] if mirrored else strands
        layer = Layer(order, self.mirrored != mirrored)
        return Board((*self.layers, layer), self.closed, self.aside)

    def leave(self) -> "Board":
        """Close the window opened last."""
        return Board(self.layers[:-1], self.closed, self.aside)

    def refill(self, old: Order, new: Order) -> "Board":
        """Put the strands `new` where the strands `old` stood, place by place."""
        if old == new:
            return self
        return self._each_layer(lambda layer: _refilled(layer.order, old, new))

    def insert(self, at: int, strands: Order) -> "Board":
        """Put strands in so that the first stands at position `at` of the window.

        Raises OffBoard where `at` is beyond one after the last.
        """
        here = self.here
        if not 1 <= at <= len(here) + 1:
            raise OffBoard(at, len(here) + 1)
        return self._each_layer(lambda layer: self._grown(layer, at - 1, strands))

    def _grown(self, layer: Layer, at: int, strands: Order) -> Order:
        """Give a layer's order with strands put in beside the window's strand at `at`."""
        same_way = layer.mirrored == self.mirrored
        block = strands if same_way else strands[::-1]
        here = self.here
        if not here:
            return (*layer.order, *block)
        after = at >= len(here)
        beside = layer.order.index(here[-1] if after else here[at])
        cut = beside + (after == same_way)
        return (*layer.order[:cut], *block, *layer.order[cut:])

    def remove(self, strands: Order) -> "Board":
        """Take strands off the board and keep them aside; the others close up."""
        gone = frozenset(strands)
        board = self._each_layer(lambda layer: tuple(s for s in layer.order if s not in gone))
        return replace(board, aside=self.aside | gone)

    def take_up(self, at: int, strands: Order) -> "Board":
        """Bring strands back that were kept aside. Raises OffBoard."""
        return replace(self.insert(at, strands), aside=self.aside - frozenset(strands))

    def flip(self) -> "Board":
        """Turn the whole work over."""
        return self._each_layer(lambda layer: layer.order[::-1])

    def _each_layer(self, change: _Change) -> "Board":
        layers = tuple(Layer(change(layer), layer.mirrored) for layer in self.layers)
        return Board(layers, self.closed, self.aside)

    def run_of(self, strands: Order) -> None:
        """Check that strands are neighbours in the order given. Raises NotNeighbours."""
        count = len(self.here)
        places = [self.here.index(strand) for strand in strands]
        for before, after in pairwise(places):
            step = after - before
            if step != 1 and not (self.wraps and step % count == 1):
                raise NotNeighbours(before + 1, after + 1)


def _refilled(order: Order, old: Order, new: Order) -> Order:
    """Give an order with each old strand's place taken by the new strand."""
    places = [order.index(strand) for strand in old]
    changed = list(order)
    for place, strand in zip(places, new, strict=True):
        changed[place] = strand
    return tuple(changed)
