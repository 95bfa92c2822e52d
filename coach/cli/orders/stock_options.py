"""The options of the stock command: lengths, weights, numbers, prices."""

import argparse
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from coach.orders.read_prices import cord_price
from coach.orders.read_stock import LONGEST_NAME, MOST_NUMBER, price_each, weight_tex
from coach.quantities import QuantityError, cord_amount
from coach.text import one_line

_NONE: Final = re.compile(r"0+(?:\.0*)? *[a-z]*")


class WrongStock(Exception):
    """Options about stock that are impossible; the text says what would be possible."""


@dataclass(frozen=True, slots=True)
class Amounts:
    """An amount of an item: lengths in mm, grams, or a number; `none` for no cord left."""

    lengths_mm: tuple[float, ...] = ()
    grams: float = 0.0
    number: int | None = None
    none: bool = False

    def __bool__(self) -> bool:
        """Return whether any amount was given."""
        return bool(self.lengths_mm or self.grams or self.number is not None)


def add_amount_options(parser: argparse.ArgumentParser) -> None:
    """Add the options for an amount, and its price."""
    much = parser.add_argument_group("how much")
    much.add_argument(
        "--file", metavar="YAML", default="",
        help="add or count all that a list says; `coach stock --yaml` writes one",
    )  # fmt: skip
    much.add_argument(
        "--hank", metavar="AMOUNTS", action="append", default=[],
        help="balls or hanks, such as '100 m', '12 m, 4.5 m' or '500 g'",
    )  # fmt: skip
    much.add_argument("--number", metavar="NUMBER", help="of beads, rings and the like")
    much.add_argument(
        "--weighs", metavar="WEIGHT",
        help="what the cord weighs: '4 g/m', '1200 tex', '250 m per kg', or of one metre: '4.2 g'",
    )  # fmt: skip
    much.add_argument(
        "--price", metavar="PRICE", default="",
        help="what it cost: '14 per 500 g' or '9 per 50 m' for cord, '0.20' or '2 per 10' for each",
    )  # fmt: skip


def stock_name(name: str) -> str:
    """Return the name of a thing in stock. Raises WrongStock."""
    said = one_line(name)
    if not said:
        raise WrongStock("Say what it is, as on its label: 'clay cotton 2 mm'.")
    if len(said) > LONGEST_NAME:
        raise WrongStock(f"A label has at most {LONGEST_NAME} letters; this one has {len(said)}.")
    return said


def amounts(options: argparse.Namespace) -> Amounts:
    """Return the amount that the options give. Raises WrongStock."""
    hanks = [part for text in options.hank for part in text.split(",")]
    if hanks and options.number:
        raise WrongStock("Say --hank for cord, or --number for beads and rings, not both.")
    if options.number:
        return Amounts(number=number_of_things(options.number))
    if len(hanks) == 1 and _NONE.fullmatch(hanks[0].strip()):
        return Amounts(none=True)
    try:
        found = [cord_amount(hank.strip()) for hank in hanks]
    except QuantityError as error:
        raise WrongStock(f"--hank: {error.message} {error.hint}".strip()) from error
    return Amounts(
        tuple(one.size for one in found if not one.by_weight),
        sum(one.size for one in found if one.by_weight),
    )


def number_of_things(text: str) -> int:
    """Return a number of things. Raises WrongStock."""
    if not text.strip().isdecimal() or len(text) > len(str(MOST_NUMBER)):
        raise WrongStock(f"--number: Write a whole number up to {MOST_NUMBER:,}, such as 40.")
    return int(text)


def weighs_tex(text: str | None) -> float:
    """Return a cord's fineness in tex; a weight alone is per metre. Raises WrongStock."""
    if not text:
        return 0.0
    try:
        return weight_tex(text)
    except QuantityError as error:
        raise WrongStock(f"--weighs: {error.message} {error.hint}".strip()) from error


def price(text: str, *, by_number: bool) -> str:
    """Return a price as it is stored: for cord as written, for other things that of one.

    Raises:
        WrongStock: It is no price.
    """
    if not text:
        return ""
    if by_number:
        each = price_each(text)
        if each is None:
            raise WrongStock("--price: Write what one costs, as in '0.20', or '2 per 10'.")
        return each
    if cord_price(text.strip()) is None:
        raise WrongStock(
            "--price: A price for cord needs a length or a weight, as in '14 per 500 g' or "
            "'0.35 per m'."
        )
    return one_line(text)


def known_things(names: Sequence[str]) -> str:
    """Return what is in stock, for a message."""
    return f"There is {', '.join(names[:12])}." if names else "Nothing is in stock yet."
