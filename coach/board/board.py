"""The board: the order of the strands, seen whole or through a window.

Strands are whole numbers. A step works in a window: a group of strands, or the same strands seen
in a mirror. Every change is made in all open windows at once, so closing one needs no undoing.
"""

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from typing import TypeAlias

from coach.board.board_errors import NotNeighbours, OffBoard, Twice

Order: TypeAlias = tuple[int, ...]
Change: TypeAlias = Callable[["Board"], Order]


class Board:
    """An immutable board, or a window opened on the board `outer`.

    `here` are the strands of the window, position 1 first, and `whole` all strands from the left; a
    `mirrored` window counts from the right. `closed` work is in the round, so that the last strand
    is beside the first. `aside` are the strands laid aside.
    """

    # No dataclass: what is known of repeated work is found by its board, so the hash is kept.
    __slots__ = ("_hash", "aside", "closed", "here", "mirrored", "outer", "whole")

    def __init__(
        self,
        here: Order,
        outer: "Board | None" = None,
        *,
        mirrored: bool = False,
        closed: bool = False,
        aside: frozenset[int] = frozenset(),
    ) -> None:
        """Make a board or a window of these strands.

        Args:
            here: The strands, position 1 first.
            outer: The board that this is a window on; None for the whole work.
            mirrored: Whether positions count from the right.
            closed: Whether the work is in the round.
            aside: The strands that are laid aside.
        """
        self.here = here
        self.outer = outer
        self.whole: Order = outer.whole if outer else here
        self.mirrored = mirrored
        self.closed = closed
        self.aside = aside
        self._hash = hash((here, outer, mirrored, aside))

    def __hash__(self) -> int:
        return self._hash

    def __eq__(self, other: object) -> bool:
        if self is other:
            return True
        return isinstance(other, Board) and self._hash == other._hash and self._all == other._all

    @property
    def _all(self) -> tuple[object, ...]:
        return self.here, self.mirrored, self.closed, self.aside, self.outer

    @classmethod
    def hung(cls, order: Iterable[int], *, closed: bool = False) -> "Board":
        """Return a board on which these strands hang from the left."""
        return cls(tuple(order), closed=closed)

    @property
    def wraps(self) -> bool:
        """Whether position n + 1 is position 1 again: work in the round, seen whole."""
        return self.closed and len(self.here) == len(self.whole)

    def places(self, positions: Sequence[int]) -> list[int]:
        """Return the 0-based places of positions. Raises OffBoard."""
        count = len(self.here)
        last = 2 * count if self.wraps else count
        if positions and not (min(positions) >= 1 and max(positions) <= last):
            raise OffBoard(next(p for p in positions if not 1 <= p <= last), count)
        return [(position - 1) % count for position in positions]

    def place(self, position: int) -> int:
        """Return the 0-based place of a position. Raises OffBoard."""
        return self.places((position,))[0]

    def strands(self, positions: Sequence[int] | None) -> Order:
        """Return the strands at these positions; None stands for all. Raises OffBoard, Twice."""
        if positions is None:
            return self.here
        places = self.places(positions)
        if len(set(places)) < len(places):
            raise Twice(next(p for p, at in zip(positions, places, strict=True)
                             if places.count(at) > 1))  # fmt: skip
        return tuple([self.here[place] for place in places])

    def from_left(self, strands: Order) -> Order:
        """Return strands of this window in their order from the maker's left."""
        return strands[::-1] if self.mirrored else strands

    def enter(self, strands: Order, *, mirrored: bool = False) -> "Board":
        """Open a window on these strands; a mirrored one counts them from the other side."""
        order = strands[::-1] if mirrored else strands
        return self._as(order, self, self.aside, mirrored=self.mirrored != mirrored)

    def leave(self) -> "Board":
        """Close the window opened last."""
        return self.outer or self

    def refill(self, old: Order, new: Order) -> "Board":
        """Put the strands `new` where the strands `old` stood, place by place."""
        if old == new:
            return self
        return self.each_window(lambda window: _refilled(window.here, old, new))

    def insert(self, at: int, strands: Order) -> "Board":
        """Put strands in so that the first of them is at position `at` of the window.

        Raises:
            OffBoard: `at` is more than one beyond the last position.
        """
        here = self.here
        if not 1 <= at <= len(here) + 1:
            raise OffBoard(at, len(here) + 1)
        return self.each_window(lambda window: self._grown(window, at - 1, strands))

    def _grown(self, window: "Board", at: int, strands: Order) -> Order:
        """Return a window's order with strands put in beside the strand at `at` of this one."""
        same_way = window.mirrored == self.mirrored
        block = strands if same_way else strands[::-1]
        here, order = self.here, window.here
        if not here:
            return (*order, *block)
        after = at >= len(here)
        beside = order.index(here[-1] if after else here[at])
        cut = beside + (after == same_way)
        return (*order[:cut], *block, *order[cut:])

    def remove(self, strands: Order) -> "Board":
        """Lay strands aside: take them off the board and close the gap."""
        gone = frozenset(strands)
        return self.each_window(
            lambda window: tuple(s for s in window.here if s not in gone), self.aside | gone
        )

    def take_up(self, at: int, strands: Order) -> "Board":
        """Bring back strands that were laid aside, the first at position `at`. Raises OffBoard."""
        board = self.insert(at, strands)
        return board.each_window(lambda window: window.here, self.aside - frozenset(strands))

    def flip(self) -> "Board":
        """Turn the whole work over."""
        return self.each_window(lambda window: window.here[::-1])

    def each_window(self, change: Change, aside: frozenset[int] | None = None) -> "Board":
        """Apply a change to the orders of this window and of every board it was opened on.

        Args:
            change: Return the new order of one window.
            aside: The strands laid aside afterwards; None where they stay the same.
        """
        outer = self.outer.each_window(change, aside) if self.outer else None
        aside = self.aside if aside is None else aside
        return self._as(change(self), outer, aside, mirrored=self.mirrored)

    def _as(
        self, here: Order, outer: "Board | None", aside: frozenset[int], *, mirrored: bool
    ) -> "Board":
        return Board(here, outer, mirrored=mirrored, closed=self.closed, aside=aside)

    def run_of(self, strands: Order) -> None:
        """Check that strands are neighbours in the order given. Raises NotNeighbours."""
        count = len(self.here)
        at = {strand: place for place, strand in enumerate(self.here)}
        for before, after in pairwise([at[strand] for strand in strands]):
            step = after - before
            if step != 1 and not (self.wraps and step % count == 1):
                raise NotNeighbours(before + 1, after + 1)


def find_run(order: Order, strands: Order) -> tuple[int, bool] | None:
    """Return where strands stand next to each other, or None if they do not.

    Returns:
        The 0-based place of the leftmost one, and whether they run from right to left.
    """
    at = order.index(strands[0])
    if order[at : at + len(strands)] == strands:
        return at, False
    first = at + 1 - len(strands)
    if first >= 0 and order[first : at + 1] == strands[::-1]:
        return first, True
    return None


def _refilled(order: Order, old: Order, new: Order) -> Order:
    """Return an order with each old strand's place taken by the new strand."""
    run = find_run(order, old)
    if run is None:
        return tuple(map(dict(zip(old, new, strict=True)).get, order, order))
    first, backward = run
    return order[:first] + (new[::-1] if backward else new) + order[first + len(old) :]
