"""The cut list of a whole order: what comes out of stock, and what to buy."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from coach.orders.material_names import Wanted, find_by_name, likeness
from coach.orders.prices import CordPrice, Prices
from coach.orders.stock import NEAR_MM, Item, Stock
from coach.plan.cord.hank_packing import Packing, ShortHank, pack_hanks
from coach.quantities import CordAmount, show_cut, show_mass


@dataclass(frozen=True, slots=True)
class ToBuy:
    """An amount to buy in the units it is sold in; `money` is its cost, None if unknown.

    `loose` is how much is cut or weighed off, None for whole hanks.
    """

    what: str
    count: int
    money: Decimal | None
    loose: CordAmount | None = None


@dataclass(frozen=True, slots=True)
class CordOrder:
    """One cord in one colour: the cuts, what is in stock, what to buy.

    `cuts` are (mm, pieces), the longest first. `stock` names the item that it is cut from, ""
    where there is none. `owed_mm` is what was taken beyond what was there: `in_stock_mm` is that
    much less, and may be below zero.
    """

    wanted: Wanted
    label: str
    cuts: tuple[tuple[float, int], ...]
    stock: str
    in_stock_mm: float
    packing: Packing | None
    to_buy: tuple[ToBuy, ...]
    per_mm: Decimal | None
    price_known: bool
    owed_mm: float = 0.0

    @property
    def total_mm(self) -> float:
        """The length of all cuts."""
        return sum(mm * pieces for mm, pieces in self.cuts)

    @property
    def short_mm(self) -> tuple[float, ...]:
        """The pieces that the stock is too short for."""
        if self.packing is None:
            return tuple(mm for mm, pieces in self.cuts for _ in range(pieces))
        return self.packing.to_buy_mm


@dataclass(frozen=True, slots=True)
class FindingOrder:
    """One finding: how many an order needs, how many are in stock, the price of one."""

    what: str
    count: int
    in_stock: int
    each: Decimal | None

    @property
    def to_buy(self) -> int:
        """How many to buy."""
        return max(0, self.count - max(0, self.in_stock))


def cord_order(
    wanted: Wanted, label: str, cuts: Counter[float], stock: Stock, prices: Prices
) -> CordOrder:
    """Return how a cord is cut from stock, and what to buy for the rest.

    Args:
        wanted: The cord of the project, in one colour.
        label: Its label, the name in the price list.
        cuts: How many pieces of each length in mm.
        stock: The stock.
        prices: The price list, for what is not in stock.
    """
    cord = wanted.cord
    item = stock_for(wanted, stock)
    tex = cord.fineness_tex or (item.fineness_tex if item else None)
    lengths = item.lengths(cord.fineness_tex) if item else ()
    pieces = [mm for mm, number in cuts.items() for _ in range(number)]
    packing = _packed(pieces, lengths)
    short = packing.to_buy_mm if packing else tuple(pieces)
    price = price_of(item, label, wanted, prices)
    return CordOrder(
        wanted=wanted,
        label=item.what if item else label,
        cuts=tuple(sorted(cuts.items(), reverse=True)),
        stock=item.what if item else "",
        in_stock_mm=sum(lengths) - (item.owed_mm if item and (lengths or item.is_short) else 0.0),
        packing=packing,
        to_buy=cord_to_buy(item.what if item else label, short, price, tex),
        per_mm=price.per_mm(tex) if price else None,
        price_known=price is not None,
        owed_mm=item.owed_mm if item and item.is_short else 0.0,
    )


def stock_for(wanted: Wanted, stock: Stock) -> Item | None:
    """Return the stock item that a cord is cut from, None where there is none."""
    items = [item for item in stock.items.values() if not item.by_number]
    best = max(items, key=lambda item: likeness(item.what, wanted), default=None)
    return best if best and likeness(best.what, wanted) else None


def price_of(item: Item | None, label: str, wanted: Wanted, prices: Prices) -> CordPrice | None:
    """Return the price of a cord: of its last purchase, or from the price list.

    Args:
        item: The cord in stock, None where there is none.
        label: Its name in the list, where it is not in stock.
        wanted: The cord of the project.
        prices: The maker's prices.

    Returns:
        The price for a length or a weight, None where it is not known.
    """
    if item and item.price:
        return item.price
    by_label = prices.cords.get((item.what if item else label).casefold())
    cord = wanted.cord
    return by_label or prices.of_cord(cord.id, cord.fibre, cord.diameter_mm)


def _packed(pieces: Sequence[float], lengths: Sequence[float]) -> Packing | None:
    try:
        return pack_hanks(pieces, lengths) if lengths else None
    except ShortHank:
        return None


def cord_to_buy(
    label: str, pieces_mm: Sequence[float], price: CordPrice | None, tex: float | None
) -> tuple[ToBuy, ...]:
    """Return what to buy so that these pieces can be cut from it.

    Hanks that hold the longest piece are bought whole, as many as packing the pieces takes;
    anything else is cut or weighed off, in whole amounts. Without a price, or if a weight cannot
    be turned into a length, only the length is given.

    Args:
        label: The name of the cord on its label.
        pieces_mm: The pieces to cut.
        price: Its price and the amount it is sold in, None if unknown.
        tex: Its fineness, None if unknown.
    """
    if not pieces_mm:
        return ()
    total, size_mm = sum(pieces_mm), price.amount.length_mm(tex) if price else None
    if price is None or size_mm is None:
        length = CordAmount(ceil(total / 10 - NEAR_MM) * 10.0, by_weight=False)
        return (ToBuy(f"{label}, {amount_words(length)}", 1, None, length),)
    what = f"{label}, {amount_words(price.amount)}"
    if price.in_hanks and size_mm >= max(pieces_mm) - NEAR_MM:
        count = hanks_needed(pieces_mm, size_mm)
        return (ToBuy(what, count, count * price.money),)
    count = ceil(total / size_mm - NEAR_MM)
    loose = CordAmount(count * price.amount.size, price.amount.by_weight)
    return (ToBuy(what, count, count * price.money, loose),)


def hanks_needed(pieces_mm: Sequence[float], hank_mm: float) -> int:
    """Return how many hanks of one size the pieces are cut from; none is longer than a hank.

    No way of cutting needs fewer than all of them laid end to end, and first-fit-decreasing never
    needs more than twice that, so twice as many hanks are enough to pack them in.
    """
    least = ceil(sum(pieces_mm) / hank_mm - NEAR_MM)
    return pack_hanks(pieces_mm, [hank_mm] * min(2 * least, len(pieces_mm))).used


def amount_words(amount: CordAmount) -> str:
    """Return an amount of cord as it is sold: `50 m`, `500 g`."""
    return show_mass(amount.size) if amount.by_weight else show_cut(amount.size)


def finding_orders(
    needed: Mapping[str, int], stock: Stock, prices: Prices
) -> tuple[FindingOrder, ...]:
    """Return what an order needs of each finding.

    Args:
        needed: How many of each finding, by its name as the project writes it.
        stock: The stock, whose prices come before those of the list.
        prices: The price list.
    """
    counts = {i.what: i for i in stock.items.values() if i.by_number}
    found = []
    for what, number in needed.items():
        item = find_by_name(what, counts)
        each = Decimal(item.price_each) if item and item.price_each else None
        listed = find_by_name(what, prices.findings)
        price = each if each is not None else listed
        found.append(FindingOrder(what, number, item.count if item else 0, price))
    return tuple(found)
