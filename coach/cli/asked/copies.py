"""How many of a piece are made, where all of them are alike."""

import argparse

from coach.orders.makes import MOST_COPIES
from coach.plan.resize.refit import CannotRefit


def add_copies(parser: argparse._ActionsContainer) -> None:
    """Add how many are made."""
    parser.add_argument("--copies", metavar="NUMBER", default="", help="for this many of the piece")


def copies_of(options: argparse.Namespace) -> int:
    """Return how many are made, one where nothing is said. Raises CannotRefit."""
    text: str = options.copies
    number = int(text) if text.isdecimal() and len(text) <= len(str(MOST_COPIES)) else 0
    if text and not 1 <= number <= MOST_COPIES:
        raise CannotRefit(
            f"--copies: Write a number from 1 to {MOST_COPIES:,}; for several lengths, use coach "
            "quote."
        )
    return number or 1
