"""Cutting pieces from the balls or hanks in hand, and what is still to be bought.

A cutting-stock problem in one dimension. First-fit-decreasing is never more than 11/9 of the
fewest bins plus a constant (a result of the literature on bin packing, from memory); it is the
start here, and a bounded search looks for something better, so the answer is never worse.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

_NEAR_MM: Final = 1e-6
_MOST_TRIES: Final = 20_000  # bounds the search; an answer found by then is kept


@dataclass(frozen=True, slots=True)
class FromHank:
    """The pieces cut from one hank, longest first, in mm."""

    hank_mm: float
    pieces_mm: tuple[float, ...]

    @property
    def rest_mm(self) -> float:
        """What is left on the hank."""
        return self.hank_mm - sum(self.pieces_mm)


@dataclass(frozen=True, slots=True)
class Packing:
    """Hanks with the pieces cut from them, and the pieces left over, in mm.

    `fewest` is a lower bound on the hanks that any way of cutting needs for what was cut here.
    """

    hanks: tuple[FromHank, ...]
    to_buy_mm: tuple[float, ...]
    fewest: int

    @property
    def used(self) -> int:
        """How many hanks are cut into."""
        return sum(bool(hank.pieces_mm) for hank in self.hanks)


class ShortHank(Exception):
    """No hank in hand is long enough for any piece."""

    def __init__(self, piece_mm: float, longest_mm: float) -> None:
        super().__init__("A piece is longer than every hank in hand.")
        self.piece_mm = piece_mm
        self.longest_mm = longest_mm


def pack_hanks(pieces_mm: Sequence[float], hanks_mm: Sequence[float]) -> Packing:
    """Cut pieces from hanks: as little as possible left to buy, then as few hanks as possible.

    Args:
        pieces_mm: The lengths to cut, in mm, in any order.
        hanks_mm: The lengths of the hanks that there are, in mm.

    Returns:
        Which pieces are cut from which hank, and those for which there is none.

    Raises:
        ShortHank: Not one piece could be cut from any hank.
    """
    pieces = sorted(pieces_mm, reverse=True)
    hanks = sorted(hanks_mm, reverse=True)
    if pieces and (not hanks or pieces[-1] > hanks[0] + _NEAR_MM):
        raise ShortHank(pieces[-1], hanks[0] if hanks else 0.0)
    best = min((_first_fit(pieces, order) for order in (hanks, hanks[::-1])), key=_cost)
    if _cost(best)[0] > 0 or best.used > fewest_hanks(pieces, hanks):
        best = min(best, _Search(pieces, hanks, best).best, key=_cost)
    return best


def fewest_hanks(pieces_mm: Sequence[float], hanks_mm: Sequence[float]) -> int:
    """Return a lower bound on the hanks needed: by length, and by pieces over half the longest.

    Args:
        pieces_mm: The lengths to cut, in mm.
        hanks_mm: The lengths of the hanks that there are, in mm.
    """
    hanks = sorted(hanks_mm, reverse=True)
    whole, by_length = sum(pieces_mm), 0
    while by_length < len(hanks) and whole > _NEAR_MM:
        whole -= hanks[by_length]
        by_length += 1
    longest = hanks[0] if hanks else 0.0
    large = sum(piece > longest / 2 + _NEAR_MM for piece in pieces_mm)
    return max(by_length, min(large, len(hanks)))


def _cost(packing: Packing) -> tuple[float, int]:
    return (round(sum(packing.to_buy_mm), 3), packing.used)


def _first_fit(pieces: Sequence[float], hanks: Sequence[float]) -> Packing:
    """Put each piece, longest first, on the first hank with room for it."""
    rests = list(hanks)
    cut: list[list[float]] = [[] for _ in hanks]
    left = []
    for piece in pieces:
        place = next((i for i, rest in enumerate(rests) if piece <= rest + _NEAR_MM), None)
        if place is None:
            left.append(piece)
        else:
            rests[place] -= piece
            cut[place].append(piece)
    return _packing(hanks, cut, left)


def _packing(
    hanks: Sequence[float], cut: Sequence[Sequence[float]], left: Sequence[float]
) -> Packing:
    made = [piece for pieces in cut for piece in pieces]
    found = tuple(FromHank(hank, tuple(own)) for hank, own in zip(hanks, cut, strict=True))
    return Packing(found, tuple(left), fewest_hanks(made, hanks))


class _Search:
    """A bounded depth-first search for a better packing, longest piece first."""

    def __init__(self, pieces: Sequence[float], hanks: Sequence[float], best: Packing) -> None:
        self.best = best
        self._pieces = pieces
        self._hanks = hanks
        self._rests = list(hanks)
        self._cut: list[list[float]] = [[] for _ in hanks]
        self._left: list[float] = []
        self._tries = 0
        # Deep pieces would go deep into recursion; what first-fit did with them stands.
        if len(pieces) <= 200:  # noqa: PLR2004 - a limit of depth, stated here only
            self._place(0)

    def _place(self, number: int) -> None:
        self._tries += 1
        if self._tries > _MOST_TRIES or not self._may_be_better():
            return
        if number == len(self._pieces):
            found = _packing(self._hanks, self._cut, self._left)
            self.best = min(self.best, found, key=_cost)
            return
        piece = self._pieces[number]
        tried: set[tuple[float, bool]] = set()
        for place, rest in enumerate(self._rests):
            state = (round(rest, 3), bool(self._cut[place]))
            if piece > rest + _NEAR_MM or state in tried:
                continue
            tried.add(state)
            self._rests[place] -= piece
            self._cut[place].append(piece)
            self._place(number + 1)
            self._cut[place].pop()
            self._rests[place] += piece
        self._left.append(piece)
        self._place(number + 1)
        self._left.pop()

    def _may_be_better(self) -> bool:
        used = sum(bool(pieces) for pieces in self._cut)
        return (round(sum(self._left), 3), used) < _cost(self.best)
