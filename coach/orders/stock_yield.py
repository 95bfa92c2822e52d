"""From stock to pieces: how many copies, or how long a piece, the stock is enough for.

Figures come in pairs: as cut, with the project's spare cord, which is sure; and by the bare need,
which is the most that a lucky hand gets out of it.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from coach.orders.batch import MOST_COPIES
from coach.orders.cutting import stock_for
from coach.orders.material_names import Wanted, find_by_name, label_of, tally, wanted_in
from coach.orders.stock import NEAR_MM, Item, Stock
from coach.plan.cord.cut_list import cut_list
from coach.plan.cord.hank_packing import ShortHank, pack_hanks
from coach.plan.pieces import pieces_of
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit, as_wished, recompiled
from coach.plan.resize.size_request import Wish
from coach.plan.resize.varying import calls

_MOST_REPEATS: Final = 2000


@dataclass(frozen=True, slots=True)
class CopiesFromItem:
    """How many copies one item is enough for: as cut, and by the bare need.

    `in_stock` says whether the item is kept in stock at all; a finding that is not does not limit
    what can be made. `is_short` says that more was taken than was there.
    """

    what: str
    sure: int
    most: int
    in_stock: bool
    is_cord: bool
    is_short: bool = False


@dataclass(frozen=True, slots=True)
class Longest:
    """The longest piece that the stock is enough for: its repeats, and its length."""

    part: str
    times: int
    length_mm: float


@dataclass(frozen=True, slots=True)
class StockYield:
    """What the stock is enough for, by item, the scarcest first."""

    gives: tuple[CopiesFromItem, ...]
    longest: Longest | None

    @property
    def bounding(self) -> tuple[CopiesFromItem, ...]:
        """The items that limit the number of copies: every cord, and findings in stock."""
        return tuple(one for one in self.gives if one.is_cord or one.in_stock)

    @property
    def sure(self) -> int:
        """How many copies can be cut."""
        return min((one.sure for one in self.bounding), default=0)

    @property
    def most(self) -> int:
        """How many copies the bare needs would allow."""
        return min((one.most for one in self.bounding), default=0)


def stock_yield(plan: Plan, stock: Stock, colourway: str = "") -> StockYield:
    """Return how many copies of a project the stock is enough for.

    Args:
        plan: The plan of one copy.
        stock: The stock.
        colourway: The name of a colourway of the project, "" for its own colours.
    """
    gives = [*_cords(plan, stock, colourway), *_findings(plan, stock)]
    gives.sort(key=lambda one: (one.sure, one.most))
    found = StockYield(tuple(gives), None)
    return replace(found, longest=_longest(plan, stock, colourway) if found.sure else None)


def _cords(plan: Plan, stock: Stock, colourway: str) -> list[CopiesFromItem]:
    cut, bare = _lengths(plan), _bare(plan)
    found = []
    for cord, lengths in cut.items():
        wanted = wanted_in(plan.project, cord, colourway)
        item = stock_for(wanted, stock)
        there = _there(item, wanted)
        found.append(
            CopiesFromItem(
                item.what if item else label_of(wanted),
                _copies(lengths, there),
                _copies(bare[cord], there),
                item is not None,
                is_cord=True,
                is_short=item is not None and item.is_short,
            )
        )
    return found


def _comes_out(plan: Plan, stock: Stock, colourway: str) -> bool:
    """Return whether the stock is enough for one copy."""
    for cord, lengths in _lengths(plan).items():
        wanted = wanted_in(plan.project, cord, colourway)
        if not _fits(lengths, _there(stock_for(wanted, stock), wanted)):
            return False
    return True


def _there(item: Item | None, wanted: Wanted) -> tuple[float, ...]:
    return item.lengths(wanted.cord.fineness_tex) if item else ()


def _lengths(plan: Plan) -> dict[str, list[float]]:
    """Return the pieces of each cord as they are cut."""
    return {
        c.cord: [cut.cut_mm for cut in c.cuts for _ in range(cut.pieces)] for c in cut_list(plan)
    }


def _bare(plan: Plan) -> dict[str, list[float]]:
    """Return what each piece of each cord needs, without anything to spare."""
    found: dict[str, list[float]] = {}
    for piece in pieces_of(plan):
        found.setdefault(piece.cord, []).append(piece.need_mm)
    return found


def _copies(pieces: list[float], there: tuple[float, ...]) -> int:
    """Return how many copies' pieces can be cut from some hanks."""
    bound = int((sum(there) + NEAR_MM) // (sum(pieces) or 1))
    return _last(lambda number: _fits(pieces * number, there), min(bound, MOST_COPIES))


def _fits(pieces: list[float], there: tuple[float, ...]) -> bool:
    if sum(pieces) > sum(there) + NEAR_MM:
        return False
    try:
        return not pack_hanks(pieces, there).to_buy_mm
    except ShortHank:
        return False


def _last(fits: Callable[[int], bool], most: int) -> int:
    """Return the last number up to `most` that fits; `fits` is true up to some number."""
    low, high = 0, most
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if fits(middle) else (low, middle - 1)
    return low


def _findings(plan: Plan, stock: Stock) -> list[CopiesFromItem]:
    items = {item.what: item for item in stock.items.values() if item.by_number}
    found = []
    for what, number in tally(plan.project.findings, 1).items():
        item = find_by_name(what, items)
        copies = max(0, item.count) // number if item else 0
        short = item is not None and item.is_short
        found.append(
            CopiesFromItem(what, copies, copies, item is not None, is_cord=False, is_short=short)
        )
    return found


def _longest(plan: Plan, stock: Stock, colourway: str) -> Longest | None:
    """Return the longest single piece, by repeats of the part that the project varies."""
    size = plan.project.size
    part = size.vary if size else ""
    now = next((call.times for call in calls(plan.project, part)), 0) if part else 0
    if not now or part not in plan.project.parts:
        return None
    step = size.step if size else 1

    def plan_with(steps: int) -> Plan | None:
        try:
            wish = Wish(repeats={part: now + steps * step})
            return recompiled(as_wished(plan.project, wish), plan.hands)
        except CannotRefit:
            return None

    def fits(steps: int) -> bool:
        longer = plan_with(steps)
        return longer is not None and _comes_out(longer, stock, colourway)

    most = _reach(fits)
    longest = plan_with(most)
    return Longest(part, now + most * step, longest.length_mm) if longest else None


def _reach(fits: Callable[[int], bool]) -> int:
    """Return the last number of steps that fits, found by doubling."""
    high = 1
    while high < _MOST_REPEATS and fits(high):
        high *= 2
    return high // 2 + _last(lambda more: fits(high // 2 + more), high - high // 2 - 1)
