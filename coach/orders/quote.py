"""The quote of an order: cord, findings, hours, cost, price, and the day it is ready.

Each figure that depends on hours has its range; an unknown figure is None, never a guess. How much
quicker a piece of a batch is than a single one follows from the paces themselves: practice goes
with the work made of each knot (see `coach.pace.estimate`, which names its sources), and a batch
is one long stretch of the same work. The time between two pieces is added separately.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import reduce

from coach.orders.cutting import CordOrder, FindingOrder, cord_order, finding_orders
from coach.orders.material_names import Wanted, label_of, tally
from coach.orders.prices import Prices
from coach.orders.quote_model import Group, MoneyRange, OrderCost, Quote, ReadyDates
from coach.orders.stock import Stock
from coach.orders.working_week import ready_on
from coach.pace.estimate import Range
from coach.pace.work_amount import WorkAmount
from coach.plan.cord.cut_list import CordCut, cut_list


def quote_of(
    groups: Sequence[Group],
    stock: Stock,
    prices: Prices | None,
    time_for: Callable[[WorkAmount], Range],
    today: date,
    *,
    unit: str = "cm",
) -> Quote:
    """Return the quote of an order.

    Args:
        groups: The pieces, like ones together; at least one.
        stock: The stock.
        prices: Prices, rule and hours; None where there are none.
        time_for: Return how long work takes the maker.
        today: The first day on which it may be worked on, by her own calendar.
        unit: "cm" or "in": the unit in which lengths to cut are rounded up.
    """
    project, known = groups[0].plan.project, prices or Prices()
    cuts = [cut_list(group.plan, unit, group.copies) for group in groups]
    cords = tuple(_cords(groups, cuts, stock, known))
    findings = finding_orders(
        tally(project.findings, sum(group.copies for group in groups)), stock, known
    )
    copies = sum(group.copies for group in groups)
    work = reduce(WorkAmount.and_also, (_times(g.work, g.copies) for g in groups))
    hours = _with_handling(time_for(work), known.between_s * (copies - 1))
    cost = _cost(cords, findings, hours, known, copies) if prices else None
    return Quote(
        title=project.title,
        groups=tuple(groups),
        cords=cords,
        findings=findings,
        hours=hours,
        alone=time_for(groups[0].work),
        cost=cost,
        each=_each(groups, cuts, cords, cost, known),
        missing=tuple(_missing(cords, findings, known)) if prices else (),
        currency=known.currency,
        ready=_ready(known, hours, today),
    )


def _times(work: WorkAmount, copies: int) -> WorkAmount:
    """Return the work of so many copies, one after the other."""
    many = {kind: seconds * copies for kind, seconds in work.standard_s.items()}
    return WorkAmount(many, work.squares * copies)


def _with_handling(time: Range, handling_s: float) -> Range:
    return Range(time.low_s + handling_s, time.likely_s + handling_s, time.high_s + handling_s)


def _cords(
    groups: Sequence[Group], cuts: Sequence[tuple[CordCut, ...]], stock: Stock, prices: Prices
) -> Iterable[CordOrder]:
    """Yield the cuts of each cord in each colour, cords in the file's order.

    Two cords that come out of the same hanks are cut one after the other.
    """
    lengths: dict[tuple[str, str], Counter[float]] = {}
    wanted: dict[tuple[str, str], Wanted] = {}
    for cord in groups[0].plan.project.cords:
        for group, of_group in zip(groups, cuts, strict=True):
            one = group.wanted(cord)
            for cut in (c for cords in of_group if cords.cord == cord for c in cords.cuts):
                wanted.setdefault(one.key, one)
                lengths.setdefault(one.key, Counter())[cut.cut_mm] += cut.pieces
    for key, counted in lengths.items():
        label = label_of(wanted[key])
        found = cord_order(wanted[key], label, counted, stock, prices)
        stock = _without(stock, found)
        yield found


def _without(stock: Stock, order: CordOrder) -> Stock:
    """Return the stock after a cord was cut from it."""
    item = stock.find(order.stock) if order.stock and order.packing else None
    if item is None or order.packing is None:
        return stock
    rests = tuple(sorted(hank.rest_mm for hank in order.packing.hanks if hank.rest_mm > 0))
    return stock.with_item(replace(item, lengths_mm=rests, grams=0.0))


def _cost(
    cords: Sequence[CordOrder],
    findings: Sequence[FindingOrder],
    hours: Range,
    prices: Prices,
    copies: int,
) -> OrderCost:
    paid = [None if c.per_mm is None else c.per_mm * _decimal(c.total_mm) for c in cords]
    of_cords = None if None in paid else sum((p for p in paid if p is not None), Decimal(0))
    each = [None if f.each is None else f.each * f.count for f in findings]
    of_findings = None if None in each else sum((p for p in each if p is not None), Decimal(0))
    extras = sum(prices.extras.values(), Decimal(0)) * copies
    work = _work(prices.hour, hours)
    cost = OrderCost(of_cords, of_findings, extras, work, None)
    material = cost.material
    if material is None or work is None:
        return cost
    over = [prices.overhead.of(material + part, copies) for part in _parts(work)]
    return replace(cost, overhead=MoneyRange(*over))


def _work(hour: Decimal | None, hours: Range) -> MoneyRange | None:
    if hour is None:
        return None
    seconds = (hours.low_s, hours.likely_s, hours.high_s)
    return MoneyRange(*(hour * _decimal(s) / 3600 for s in seconds))


def _each(
    groups: Sequence[Group],
    cuts: Sequence[tuple[CordCut, ...]],
    cords: Sequence[CordOrder],
    cost: OrderCost | None,
    prices: Prices,
) -> tuple[MoneyRange, ...] | None:
    """Return the price of one piece of each group, by the maker's rule.

    Costs are divided: hours by the work of a piece, findings by number.
    """
    if cost is None or cost.work is None or cost.overhead is None or cost.findings is None:
        return None
    per_mm = {order.wanted.key: order.per_mm or Decimal(0) for order in cords}
    copies = sum(group.copies for group in groups)
    beside = (cost.findings + cost.extras) / copies
    whole_s = sum(_seconds(group) * group.copies for group in groups)
    found = []
    for group, of_group in zip(groups, cuts, strict=True):
        of_cords = sum(
            (per_mm[group.wanted(c.cord).key] * _decimal(c.total_mm) for c in of_group), Decimal(0)
        )
        material = of_cords / group.copies + beside
        share = _decimal(_seconds(group) / whole_s if whole_s else 1 / copies)
        found.append(
            MoneyRange(*(_priced(material, part * share, prices) for part in _parts(cost.work)))
        )
    return tuple(found)


def _priced(material: Decimal, work: Decimal, prices: Prices) -> Decimal:
    """Return the price of one piece: cost and overhead, the margin on both, rounded."""
    cost = material + work
    return prices.rounding.rounded((cost + prices.overhead.of(cost)) * (1 + prices.margin))


def _seconds(group: Group) -> float:
    return sum(group.work.standard_s.values())


def _missing(
    cords: Sequence[CordOrder], findings: Sequence[FindingOrder], prices: Prices
) -> Iterable[str]:
    """Yield what has no price, in the words of `prices.yaml`."""
    for cord in cords:
        if not cord.price_known:
            yield cord.label
        elif cord.per_mm is None:
            yield f"{cord.label} (priced by weight; say what it weighs, as in ‘weight: 4 g/m’)"
    yield from (finding.what for finding in findings if finding.each is None)
    if prices.hour is None:
        yield "an hour"


def _ready(prices: Prices, hours: Range, today: date) -> ReadyDates | None:
    if prices.week is None:
        return None
    seconds = (hours.low_s, hours.likely_s, hours.high_s)
    return ReadyDates(*(ready_on(prices.week, today, s) for s in seconds))


def _parts(span: MoneyRange) -> tuple[Decimal, Decimal, Decimal]:
    return span.low, span.likely, span.high


def _decimal(value: float) -> Decimal:
    return Decimal(repr(value))
