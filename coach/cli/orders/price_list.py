"""Reading the maker's file of prices for a command."""

import os
import sys
from pathlib import Path

from coach.orders.prices import Prices
from coach.orders.read_prices import FILE, read_prices
from coach.piece import folders
from coach.text import one_line
from coach.yaml_reader.file_loader import load
from coach.yaml_reader.render import as_lines


class BadPrices(Exception):
    """The file of prices has errors, which have been reported."""


def prices() -> Prices | None:
    """Return the maker's prices and hours, None where there is no such file.

    Raises:
        BadPrices: The file has errors; they went to standard error.
    """
    found, lines = price_list()
    if lines:
        sys.stderr.write("\n".join(lines) + "\n")
        raise BadPrices
    return found


def price_path() -> Path:
    """Return the path of the maker's file of prices, whether or not it exists."""
    return folders(os.environ).settings / FILE


def price_list() -> tuple[Prices | None, list[str]]:
    """Return the maker's prices and hours, if there are any, and the errors in lines."""
    path = price_path()
    loaded = load(path)
    if any(problem.code == "MISSING-FILE" for problem in loaded.problems):
        return None, []
    reading = read_prices(loaded.text or "")
    problems = (*loaded.problems, *reading.problems)
    lines = as_lines(one_line(str(path)), loaded.text or "", problems)
    return (None if lines else reading.prices), lines


def prices_if_sound() -> Prices | None:
    """Return the prices as `prices` does; None where the file has errors."""
    try:
        return prices()
    except BadPrices:
        sys.stderr.write("coach: Costs are left out until the prices are right.\n")
        return None
