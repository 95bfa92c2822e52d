"""Hours, money and days of a quote in words."""

from datetime import date
from decimal import Decimal

from coach.orders.quote_model import ReadyDates
from coach.pace.estimate import Range
from coach.quantities import show_time


def hours_words(hours: Range) -> str:
    """Say how long work takes, and from the least to the most."""
    span = f"{show_time(hours.low_s)} to {show_time(hours.high_s)}"
    return f"about {show_time(hours.likely_s)} ({span}, four times in five)"


def money_words(amount: Decimal, currency: str) -> str:
    """Say an amount of money in the maker's currency, to the cent."""
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
    """Say a day: `Thursday 3 December 2026`."""
    return f"{day:%A} {day.day} {day:%B %Y}"
