"""Prices, and the rule by which a piece is priced, in decimals from end to end."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from typing import Final

from coach.orders.working_week import Week
from coach.quantities import CordAmount

CENT: Final = Decimal("0.01")
BETWEEN_S: Final = 300.0
"""Taking a finished piece off and setting the next one up; common practice, no source."""


@dataclass(frozen=True, slots=True)
class CordPrice:
    """The price of an amount of cord; `in_hanks` if only that amount is sold.

    `14 per kg` is weighed out for the customer, `7 per 500 g` is a ball of 500 g.
    """

    money: Decimal
    amount: CordAmount
    in_hanks: bool = False

    def per_mm(self, fineness_tex: float | None) -> Decimal | None:
        """Return the price of a mm; None for a price by weight of cord of unknown fineness."""
        length_mm = self.amount.length_mm(fineness_tex)
        return None if length_mm is None else self.money / Decimal(repr(length_mm))


@dataclass(frozen=True, slots=True)
class Overhead:
    """The overhead of a piece: a share of its material and work, or an amount of money."""

    share: Decimal = Decimal(0)
    each: Decimal = Decimal(0)

    def of(self, cost: Decimal, copies: int = 1) -> Decimal:
        """Return the overhead of a number of copies, given their cost together."""
        return self.share * cost + self.each * copies


@dataclass(frozen=True, slots=True)
class Rounding:
    """Rounding of prices to multiples of `step`: to the nearest one, or always `up`."""

    step: Decimal = CENT
    up: bool = False

    def rounded(self, price: Decimal) -> Decimal:
        """Return a price rounded; half a step goes up."""
        steps = price / self.step
        if self.up:  # what is over by less than a thousandth of a cent came from dividing
            steps = steps.quantize(Decimal("1.00000"))
        whole = steps.quantize(Decimal(1), ROUND_CEILING if self.up else ROUND_HALF_UP)
        return whole * self.step


@dataclass(frozen=True, slots=True)
class Prices:
    """The maker's prices in one currency, her pricing rule, and her hours a week.

    A cord is named as in its project (`reed`) or by fibre and diameter (`cotton 2 mm`); findings
    and extras by name, a piece each. `margin` is a share added to what a piece costs her.
    """

    currency: str = ""
    hour: Decimal | None = None
    cords: Mapping[str, CordPrice] = field(default_factory=dict)
    findings: Mapping[str, Decimal] = field(default_factory=dict)
    extras: Mapping[str, Decimal] = field(default_factory=dict)
    overhead: Overhead = Overhead()
    margin: Decimal = Decimal(0)
    rounding: Rounding = Rounding()
    between_s: float = BETWEEN_S
    week: Week | None = None

    def of_cord(self, name: str, fibre: str, diameter_mm: float) -> CordPrice | None:
        """Return the price of a cord, by its name or else by its kind; None if unknown.

        Args:
            name: The cord's name in the project.
            fibre: Its fibre, "" where that is not known.
            diameter_mm: Its thickness.
        """
        kind = f"{fibre} {diameter_mm:g} mm".lstrip()
        return self.cords.get(name.casefold(), self.cords.get(kind.casefold()))
