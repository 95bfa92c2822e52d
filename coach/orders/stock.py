"""The stock of cord, beads and rings, as it follows from the desk's events."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import inf
from types import MappingProxyType
from typing import Final

from coach.orders.prices import CordPrice
from coach.plan.cord.hank_packing import ShortHank, pack_hanks
from coach.quantities import length_of_mm, mass_of_g
from coach.text import name_key

NEAR_MM: Final = 1e-6
_CRUMB_MM: Final = 1.0  # less than this is no remnant


@dataclass(frozen=True, slots=True)
class Item:
    """One item in stock, by the name on its label.

    Cord is in `lengths_mm`, each a hank or a remnant, and in `grams` while its fineness is
    unknown; beads and rings are in `count`. `owed_mm` and a `count` below zero are what was taken
    beyond what was there: somebody has miscounted.
    """

    what: str
    lengths_mm: tuple[float, ...] = ()
    grams: float = 0.0
    count: int = 0
    owed_mm: float = 0.0
    fineness_tex: float | None = None
    price: CordPrice | None = None
    price_said: str = ""
    price_each: str = ""
    by_number: bool = False

    @property
    def mm(self) -> float:
        """The length of all its cord; below zero where more was cut than was there."""
        return sum(self.lengths_mm) - self.owed_mm

    @property
    def is_short(self) -> bool:
        """Whether more was taken than was there; for cord by weight that is never known."""
        return (self.owed_mm > NEAR_MM and self.grams <= 0) or self.count < 0 or self.grams < 0

    def lengths(self, fineness_tex: float | None) -> tuple[float, ...]:
        """Return its hanks and remnants in mm, weighed cord converted where fineness is known."""
        tex = self.fineness_tex or fineness_tex
        weighed = (length_of_mm(self.grams, tex),) if self.grams and tex else ()
        return (*self.lengths_mm, *weighed)

    def mass_g(self) -> float | None:
        """Return the weight of its cord, None where that is not known."""
        if not self.fineness_tex:
            return self.grams or None
        return self.grams + mass_of_g(self.mm, self.fineness_tex)

    def put(self, lengths_mm: tuple[float, ...], grams: float = 0.0, count: int = 0) -> "Item":
        """Return it with an amount added.

        Args:
            lengths_mm: Hanks or remnants that come in.
            grams: Cord by weight; it becomes a length where its fineness is known.
            count: Things by number.
        """
        tex = self.fineness_tex
        if grams and tex:
            lengths_mm, grams = (*lengths_mm, length_of_mm(grams, tex)), 0.0
        return replace(
            self,
            lengths_mm=tuple(sorted((*self.lengths_mm, *lengths_mm))),
            grams=self.grams + grams,
            count=self.count + count,
        )

    def taken(self, length_mm: float, grams: float, count: int) -> "Item":
        """Return it with an amount removed: the shortest remnants first, the missing part owed.

        Args:
            length_mm: Cord by length.
            grams: Cord by weight; what is missing is taken by length where its fineness is known.
            count: Things by number.
        """
        lengths, left = list(self.lengths_mm), length_mm
        while lengths and left > NEAR_MM:
            first = lengths.pop(0)
            if first > left + _CRUMB_MM:
                lengths.insert(0, first - left)
            left = max(0.0, left - first)
        tex = self.fineness_tex
        weighed = self.grams - grams
        if weighed < 0 and tex:
            return replace(self, grams=0.0).taken(length_mm + length_of_mm(-weighed, tex), 0, count)
        return replace(
            self,
            lengths_mm=tuple(lengths),
            owed_mm=self.owed_mm + left,
            grams=weighed,
            count=self.count - count,
        )

    def cut(self, piece_mm: float, from_mm: float) -> "Item":
        """Return it with a piece cut from the remnant of that length, or owed if there is none."""
        lengths = list(self.lengths_mm)
        place = next((n for n, mm in enumerate(lengths) if abs(mm - from_mm) < _CRUMB_MM), None)
        if place is None or from_mm <= 0:
            return replace(self, owed_mm=self.owed_mm + piece_mm)
        rest = lengths.pop(place) - piece_mm
        lengths += [rest] if rest >= _CRUMB_MM else []
        return replace(self, lengths_mm=tuple(sorted(lengths)))

    def put_back(self, piece_mm: float, from_mm: float) -> "Item":
        """Return it with a cut undone: the remnant is whole again.

        Where that remnant was cut into since, the piece becomes a remnant; what was owed shrinks.
        """
        if from_mm <= 0:
            return replace(self, owed_mm=max(0.0, self.owed_mm - piece_mm))
        lengths, rest = list(self.lengths_mm), from_mm - piece_mm
        place = next((n for n, mm in enumerate(lengths) if abs(mm - rest) < _CRUMB_MM), None)
        if rest >= _CRUMB_MM and place is None:
            return self.put((piece_mm,))
        if rest >= _CRUMB_MM and place is not None:
            lengths.pop(place)
        return replace(self, lengths_mm=tuple(sorted((*lengths, from_mm))))


@dataclass(frozen=True, slots=True)
class Stock:
    """All items, by their normalized labels."""

    items: Mapping[str, Item] = field(default_factory=lambda: MappingProxyType({}))

    def find(self, what: str) -> Item | None:
        """Return the item of a name, without regard to case and spacing."""
        return self.items.get(name_key(what))

    def with_item(self, item: Item) -> "Stock":
        """Return the stock with an item added or replaced."""
        return Stock(MappingProxyType({**self.items, name_key(item.what): item}))


def best_remnant(
    piece_mm: float, others_mm: tuple[float, ...], lengths_mm: tuple[float, ...]
) -> float:
    """Return which remnant a piece is cut from, by its length; 0 where none is long enough.

    The shortest one that is long enough, so that remnants are used up first; but a longer one
    where that lets more of the pieces to come be cut, as the packing of them says.

    Args:
        piece_mm: The piece.
        others_mm: The pieces that are to be cut of this cord after it.
        lengths_mm: The remnants that there are.
    """
    fitting = sorted({mm for mm in lengths_mm if mm >= piece_mm - NEAR_MM})
    best, least = 0.0, inf
    for mm in fitting:
        rests = list(lengths_mm)
        rests.remove(mm)
        missing = _missing_mm(others_mm, (*rests, mm - piece_mm))
        if missing < least - NEAR_MM:
            best, least = mm, missing
        if missing <= NEAR_MM:
            break
    return best


def _missing_mm(pieces_mm: tuple[float, ...], lengths_mm: tuple[float, ...]) -> float:
    """Return the length of pieces that cannot be cut from what is there."""
    try:
        return sum(pack_hanks(pieces_mm, lengths_mm).to_buy_mm) if pieces_mm else 0.0
    except ShortHank:
        return sum(pieces_mm)
