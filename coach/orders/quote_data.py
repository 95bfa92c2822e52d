"""Quotes as data: JSON for other programs, and rows for bookkeeping."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any, Final

from coach.orders.cutting import CordOrder, FindingOrder
from coach.orders.quote_model import MoneyRange, Quote, ReadyDates

COLUMNS: Final = ("what", "name", "count", "mm", "hours", "money", "currency", "date")


def quote_json(quote: Quote) -> dict[str, Any]:
    """Return the object that `coach quote --json` prints; keys are added, never renamed.

    Lengths are in mm, hours in hours, money in the maker's currency; a price is that of the
    whole line, `each` that of one. What is not known is None.
    """
    hours = {"low": quote.hours.low_s, "likely": quote.hours.likely_s, "high": quote.hours.high_s}
    return {
        "title": quote.title,
        "copies": quote.copies,
        "pieces": list(_pieces(quote)),
        "cords": [_cord(cord) for cord in quote.cords],
        "findings": [_finding(finding) for finding in quote.findings],
        "hours": {name: round(seconds / 3600, 2) for name, seconds in hours.items()},
        "cost": _cost(quote),
        "price": _price(quote),
        "ready": ready_object(quote.ready),
        "missing": list(quote.missing),
    }


def ready_object(ready: ReadyDates | None) -> dict[str, str | None] | None:
    """Return the days on which an order is ready, in ISO 8601."""
    if ready is None:
        return None
    days = {"early": ready.early, "likely": ready.likely, "late": ready.late}
    return {name: day.isoformat() if day else None for name, day in days.items()}


def money(amount: Decimal | None) -> float | None:
    """Return money as a JSON number, to the cent; None stays None."""
    return None if amount is None else float(round(amount, 2))


def _pieces(quote: Quote) -> Iterator[dict[str, Any]]:
    prices = quote.each or (None,) * len(quote.groups)
    for group, each in zip(quote.groups, prices, strict=True):
        yield {
            "colourway": group.colourway,
            "copies": group.copies,
            "length_mm": round(group.plan.length_mm, 1),
            "each": money(each.likely) if each else None,
        }


def _cord(cord: CordOrder) -> dict[str, Any]:
    return {
        "id": cord.wanted.cord.id,
        "colour": cord.wanted.colour,
        "what": cord.label,
        "cut": [{"mm": mm, "pieces": pieces} for mm, pieces in cord.cuts],
        "total_mm": round(cord.total_mm, 1),
        "in_stock_mm": round(cord.in_stock_mm, 1),
        "to_buy": [
            {"what": one.what, "count": one.count, "price": money(one.money)}
            for one in cord.to_buy
        ],
    }  # fmt: skip


def _finding(finding: FindingOrder) -> dict[str, Any]:
    each = finding.each
    return {
        "what": finding.what,
        "count": finding.count,
        "price": None if each is None else money(each * finding.count),
        "each": money(each),
        "in_stock": finding.in_stock,
        "to_buy": finding.to_buy,
    }


def _cost(quote: Quote) -> dict[str, Any] | None:
    cost = quote.cost
    if cost is None:
        return None
    return {
        "material": money(cost.material),
        "work": _likely(cost.work),
        "overhead": _likely(cost.overhead),
        "cords": money(cost.cords),
        "findings": money(cost.findings),
        "extras": money(cost.extras),
        "work_range": _range(cost.work),
    }


def _price(quote: Quote) -> dict[str, Any] | None:
    total = quote.total
    if total is None or quote.each is None:
        return None
    same = len({each.likely for each in quote.each}) == 1
    each = quote.each[0].likely if same else total.likely / quote.copies
    return {
        "each": money(each),
        "total": money(total.likely),
        "currency": quote.currency,
        "total_range": _range(total),
    }


def _likely(span: MoneyRange | None) -> float | None:
    return money(span.likely) if span else None


def _range(span: MoneyRange | None) -> dict[str, float | None] | None:
    return {"low": money(span.low), "high": money(span.high)} if span else None


def quote_rows(quote: Quote) -> list[tuple[object, ...]]:
    """Return a quote as rows under `COLUMNS`."""
    told, found = quote_json(quote), list[tuple[object, ...]]()
    for piece in told["pieces"]:
        found.append(("piece", piece["colourway"], piece["copies"], piece["length_mm"], "",
                      piece["each"], quote.currency))  # fmt: skip
    for cord in told["cords"]:
        found += [("cut", cord["what"], c["pieces"], c["mm"]) for c in cord["cut"]]
        found.append(("in stock", cord["what"], "", cord["in_stock_mm"]))
        found += [("buy", b["what"], b["count"], "", "", b["price"], quote.currency)
                  for b in cord["to_buy"]]  # fmt: skip
    found += [("finding", f["what"], f["count"], "", "", f["price"], quote.currency)
              for f in told["findings"]]  # fmt: skip
    found += [("hours", name, "", "", hours) for name, hours in told["hours"].items()]
    for part in ("material", "work", "overhead"):
        paid = (told["cost"] or {}).get(part)
        found.append(("cost", part, "", "", "", paid, quote.currency))
    for part in ("each", "total"):
        found.append(("price", part, "", "", "", (told["price"] or {}).get(part), quote.currency))
    ready = told["ready"] or {}
    found += [("ready", name, "", "", "", "", "", day) for name, day in ready.items()]
    return [tuple("" if cell is None else cell for cell in row) for row in found]
