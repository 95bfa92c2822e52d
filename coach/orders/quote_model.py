"""A quote as values: what is made, what it costs, what it brings, and when it is ready."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import reduce

from coach.orders.cord_names import Wanted, wanted_in
from coach.orders.cutting import CordOrder, FindingOrder
from coach.pace.estimate import Range
from coach.pace.stretch import WorkAmount
from coach.plan.plan_model import Plan


@dataclass(frozen=True, slots=True)
class Group:
    """Copies that are alike: their colourway ("" for the file's own), their plan and their work."""

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
        """Return a cord in the colour that these copies have it in."""
        return wanted_in(self.plan.project, cord, self.colourway)


@dataclass(frozen=True, slots=True)
class MoneyRange:
    """An amount of money: likely, and over the range of the hours."""

    low: Decimal
    likely: Decimal
    high: Decimal

    def times(self, number: int) -> "MoneyRange":
        """Return so many of it."""
        return MoneyRange(self.low * number, self.likely * number, self.high * number)


@dataclass(frozen=True, slots=True)
class OrderCost:
    """What an order costs its maker, in parts; None where a price is missing for one.

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
    """When an order is ready: early, likely and late by the range of the hours."""

    early: date | None
    likely: date | None
    late: date | None


@dataclass(frozen=True, slots=True)
class Quote:
    """All that is told of an order before the first cut; `each` are the prices by group."""

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
        """What all of them cost the customer."""
        if self.each is None:
            return None
        pairs = zip(self.each, self.groups, strict=True)
        return reduce(_added, (each.times(group.copies) for each, group in pairs))


def _added(one: MoneyRange, other: MoneyRange) -> MoneyRange:
    return MoneyRange(one.low + other.low, one.likely + other.likely, one.high + other.high)
