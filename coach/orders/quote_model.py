"""The quote as values: pieces, cost, price, and the days it is ready; with their words."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import reduce

from coach.orders.cutting import CordOrder, FindingOrder
from coach.orders.material_names import Wanted, wanted_in
from coach.pace.estimate import Range
from coach.pace.work_amount import WorkAmount
from coach.plan.plan_model import Plan
from coach.quantities import show_time


@dataclass(frozen=True, slots=True)
class Group:
    """Copies that are alike: their colourway ("" for the file's own), plan and work."""

    colourway: str
    copies: int
    plan: Plan
    work: WorkAmount

    @property
    def colours(self) -> Mapping[str, str]:
        """The colour of each cord, `#rrggbb`."""
        project = self.plan.project
        own = {cord.id: cord.colour for cord in project.cords.values()}
        return own | dict(project.colourways.get(self.colourway, {}))

    def wanted(self, cord: str) -> Wanted:
        """Return a cord in the colour that it has in these copies."""
        return wanted_in(self.plan.project, cord, self.colourway)


@dataclass(frozen=True, slots=True)
class MoneyRange:
    """An amount of money as a range: likely, and over the range of the hours."""

    low: Decimal
    likely: Decimal
    high: Decimal

    def times(self, number: int) -> "MoneyRange":
        """Return the amount for a number of copies."""
        return MoneyRange(self.low * number, self.likely * number, self.high * number)


@dataclass(frozen=True, slots=True)
class OrderCost:
    """The cost of an order in parts; None for a part with a missing price.

    `material` is cord with what is cut beyond the need, findings and extras.
    """

    cords: Decimal | None
    findings: Decimal | None
    extras: Decimal
    work: MoneyRange | None
    overhead: MoneyRange | None

    @property
    def material(self) -> Decimal | None:
        """Cord, findings and extras together."""
        if self.cords is None or self.findings is None:
            return None
        return self.cords + self.findings + self.extras


@dataclass(frozen=True, slots=True)
class ReadyDates:
    """The day an order is ready: early, likely and late by the range of the hours."""

    early: date | None
    likely: date | None
    late: date | None


@dataclass(frozen=True, slots=True)
class Quote:
    """Everything in a quote; `each` are the prices by group."""

    title: str
    groups: tuple[Group, ...]
    cords: tuple[CordOrder, ...]
    findings: tuple[FindingOrder, ...]
    hours: Range
    alone: Range
    cost: OrderCost | None
    each: tuple[MoneyRange, ...] | None
    missing: tuple[str, ...]
    currency: str
    ready: ReadyDates | None

    @property
    def copies(self) -> int:
        """How many pieces are made."""
        return sum(group.copies for group in self.groups)

    @property
    def total(self) -> MoneyRange | None:
        """The price of all of them for the customer."""
        if self.each is None:
            return None
        pairs = zip(self.each, self.groups, strict=True)
        return reduce(_added, (each.times(group.copies) for each, group in pairs))


def _added(one: MoneyRange, other: MoneyRange) -> MoneyRange:
    return MoneyRange(one.low + other.low, one.likely + other.likely, one.high + other.high)


def hours_words(hours: Range) -> str:
    """Return how long work takes, and from the least to the most."""
    span = f"{show_time(hours.low_s)} to {show_time(hours.high_s)}"
    return f"about {show_time(hours.likely_s)} ({span}, four times in five)"


def money_words(amount: Decimal, currency: str) -> str:
    """Return an amount of money in the maker's currency, to the cent."""
    return f"{amount:,.2f} {currency}".rstrip()


def ready_words(ready: ReadyDates) -> str:
    """Say on which day an order is ready: the likely one, and the earliest and latest."""
    if ready.likely is None:
        return "not within twenty years of your hours."
    told = day_words(ready.likely)
    if ready.early and ready.early != ready.likely:
        told += f", {day_words(ready.early)} at the earliest"
    if ready.late is None:
        return f"{told}; how late it may be, nobody can say."
    if ready.late != ready.likely:
        told += f", {day_words(ready.late)} at the latest"
    return f"{told}."


def day_words(day: date) -> str:
    """Return a day: `Thursday 3 December 2026`."""
    return f"{day:%A} {day.day} {day:%B %Y}"
